//! Ctrl-C and termination: what is in flight is finished and kept, the way to go on is told.
#![cfg(unix)]

use std::fs;
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use crate::support::{Ran, folder, ran, results, search};

/// Enough designs that the signal comes in the middle.
const TOTAL: &str = "700";

fn start(run: &Path) -> Child {
    started(search(run).args(["--total", TOTAL]))
}

fn started(command: &mut Command) -> Child {
    let command = command.stdout(Stdio::piped()).stderr(Stdio::piped());
    command.spawn().unwrap()
}

fn ended(child: Child) -> Ran {
    let done = child.wait_with_output().unwrap();
    Ran {
        code: done.status.code(),
        out: String::from_utf8(done.stdout).unwrap(),
        err: String::from_utf8(done.stderr).unwrap(),
    }
}

fn send(signal: &str, child: &Child) {
    let sent = Command::new("sh")
        .args(["-c", &format!("kill -{signal} {}", child.id())])
        .status();
    assert!(sent.unwrap().success());
}

fn journal_bytes(run: &Path) -> u64 {
    fs::metadata(run.join("journal")).map_or(0, |data| data.len())
}

/// Waits until the journal has grown by some evaluations.
fn wait_for_work(run: &Path, before: u64) {
    let begin = Instant::now();
    while journal_bytes(run) < before + 20_000 {
        assert!(
            begin.elapsed() < Duration::from_secs(120),
            "no work in {run:?}"
        );
        std::thread::sleep(Duration::from_millis(5));
    }
}

fn stop_with(signal: &str, run: &Path) -> Ran {
    let before = journal_bytes(run);
    let child = start(run);
    wait_for_work(run, before);
    send(signal, &child);
    ended(child)
}

fn manifest(run: &Path) -> serde_json::Value {
    serde_json::from_slice(&fs::read(run.join("manifest.json")).unwrap()).unwrap()
}

#[test]
fn a_stopped_search_says_how_to_go_on_and_does() {
    let run = folder();
    for (signal, code) in [("INT", 130), ("TERM", 143)] {
        let stopped = stop_with(signal, run.path());
        assert_eq!(stopped.code, Some(code), "{stopped:?}");
        assert!(stopped.out.is_empty());
        assert!(stopped.err.contains("to go on:\n"), "{}", stopped.err);
        assert!(
            stopped.err.contains(&format!("--total {TOTAL}")),
            "{}",
            stopped.err
        );
        assert_eq!(manifest(run.path())["run"]["stop_reason"], "interrupted");
    }
    let unfinished = ran(crate::support::tautfield().arg("draw").arg(run.path()));
    assert_eq!(unfinished.code, Some(4));
    assert!(
        unfinished.err.contains("has not ended"),
        "{}",
        unfinished.err
    );
    let alone = folder();
    for folder in [&run, &alone] {
        let done = ran(search(folder.path()).args(["--total", TOTAL]));
        assert_eq!(done.code, Some(0), "{}", done.err);
    }
    assert!(results(run.path()) == results(alone.path()), "bytes differ");
    assert_eq!(manifest(run.path())["run"]["stop_reason"], "budget_spent");
}

/// Designs about one that stands, on one core: their batches take seconds, for signals in the middle of one.
fn start_slow(run: &Path) -> Child {
    let mut command = crate::support::tautfield();
    command.args(["search", "scenarios/string-length.toml"]);
    for opened in [
        r#"tower.aim_height={ from = "40 m", to = "50 m", step = "0.5 m", start = "42 m" }"#,
        r#"receiver.aperture_width={ from = "3.5 m", to = "4.5 m", step = "10 mm", start = "4 m" }"#,
    ] {
        command.args(["--set", opened]);
    }
    command.args(["--threads", "1", "--out"]);
    started(command.arg(run))
}

/// Whoever cannot wait for what is in flight asks twice. What the journal holds is kept: the same command goes on
/// from it, and asked once ends in order.
#[test]
fn a_second_signal_ends_it_at_once() {
    for (signal, code) in [("INT", 130), ("TERM", 143)] {
        let run = folder();
        let child = start_slow(run.path());
        wait_for_work(run.path(), 0);
        // The next batch has begun by then.
        std::thread::sleep(Duration::from_millis(200));
        send(signal, &child);
        std::thread::sleep(Duration::from_millis(200));
        let kept = fs::read(run.path().join("journal")).unwrap();
        send(signal, &child);
        let done = ended(child);
        assert_eq!(done.code, Some(code), "{done:?}");
        assert!(!done.err.contains("to go on"), "{}", done.err);
        assert_eq!(manifest(run.path())["run"]["stop_reason"], "running");
        assert_eq!(fs::read(run.path().join("journal")).unwrap(), kept);

        let child = start_slow(run.path());
        wait_for_work(run.path(), kept.len() as u64);
        send(signal, &child);
        let done = ended(child);
        assert_eq!(done.code, Some(code), "{done:?}");
        assert!(done.err.contains("to go on"), "{}", done.err);
        let journal = fs::read(run.path().join("journal")).unwrap();
        assert!(journal.starts_with(&kept), "what was computed is lost");
    }
}

/// A second process in the folder is turned away while the first works.
#[test]
fn a_folder_in_use_is_refused() {
    let run = folder();
    let mut first = start(run.path());
    wait_for_work(run.path(), 0);
    let second = ran(&mut search(run.path()));
    first.kill().unwrap();
    first.wait().unwrap();
    assert_eq!(second.code, Some(4), "{second:?}");
    assert!(second.err.contains("in use by process"), "{}", second.err);
}
