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
    search(run)
        .args(["--total", TOTAL])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap()
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
    let done = child.wait_with_output().unwrap();
    Ran {
        code: done.status.code(),
        out: String::from_utf8(done.stdout).unwrap(),
        err: String::from_utf8(done.stderr).unwrap(),
    }
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
