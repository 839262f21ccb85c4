//! Disks that are full, folders that may not be written to, a second process and damaged bytes:
//! told clearly, with exit code 4, and nothing that was computed is lost.

use std::fs;
use std::path::Path;
use std::process::Command;
use std::time::{Duration, Instant};

use tautfield_tests::outside;

use crate::support::{
    Ran, SMALL, assert_same_results, folder, ran, reference, results, search, tautfield, top,
};

/// Runs a shell script that may mount file systems for itself alone, with the program as `$0`, the small
/// scenario as `$1` and a folder to leave things in as `$2`. None where the system does not let it.
fn with_mounts(script: &str, left: &Path) -> Option<Ran> {
    let own_mounts = || {
        let mut command = Command::new("unshare");
        command.args(["--map-root-user", "--mount", "sh", "-c"]);
        command
    };
    let probe = own_mounts().arg("mount -t tmpfs none /mnt").output();
    if !probe.is_ok_and(|done| done.status.success()) {
        return outside::skipped(
            "this user may not mount file systems, not even in a space of its own",
        );
    }
    let mut command = own_mounts();
    command.arg(format!("set -u; {script}"));
    command.arg(env!("CARGO_BIN_EXE_tautfield")).arg(SMALL);
    command.arg(left).current_dir(top());
    Some(ran(&mut command))
}

fn assert_storage_told(done: &Ran, told: &[&str]) {
    assert_eq!(done.code, Some(4), "{done:?}");
    assert!(done.out.is_empty(), "{}", done.out);
    for text in told {
        assert!(done.err.contains(text), "{text} in\n{}", done.err);
    }
}

/// A disk that fills up before the first record, among the records, and among the tables. With more room
/// the same command ends with the same bytes and a journal that begins with what was kept.
#[test]
fn a_full_disk_is_told_and_more_room_mends_it() {
    for (kilobytes, at) in [
        (8, "write /mnt/run/.manifest.json.part"),
        (100, "append to /mnt/run/journal"),
        (600, "write /mnt/run/.hours.parquet.part"),
    ] {
        let left = folder();
        let script = format!(
            "mount -t tmpfs -o size={kilobytes}k none /mnt || exit 99
             \"$0\" search \"$1\" --out /mnt/run
             echo $? > \"$2\"/code; cp /mnt/run/journal \"$2\"/kept 2> \"$2\"/cp
             mount -o remount,size=64m /mnt || exit 98
             \"$0\" search \"$1\" --out /mnt/run > \"$2\"/out || exit 97
             cp -r /mnt/run \"$2\"/run"
        );
        let Some(done) = with_mounts(&script, left.path()) else {
            return;
        };
        assert_eq!(done.code, Some(0), "{kilobytes} kB: {done:?}");
        let first = Ran {
            code: fs::read_to_string(left.path().join("code"))
                .ok()
                .and_then(|code| code.trim().parse().ok()),
            ..done
        };
        let told = format!(
            "error: cannot {at}: No space left on device (os error 28)\n\
             hint: make room, or make the folder one that you may write to, and run the same command again; \
             what it has evaluated is kept\n"
        );
        assert_storage_told(&first, &[&told]);
        let run = left.path().join("run");
        assert_same_results(&run, &format!("{kilobytes} kB"));
        let kept = fs::read(left.path().join("kept")).unwrap_or_default();
        assert!(reference().journal.starts_with(&kept), "{kilobytes} kB");
        assert_eq!(fs::read(run.join("journal")).unwrap(), reference().journal);
    }
}

/// A finished run on a disk that may only be read: a search is refused, prices can still be asked for.
#[test]
fn a_read_only_folder_is_told_and_can_be_read() {
    let left = folder();
    let run = left.path().join("run");
    assert_eq!(ran(&mut search(&run)).code, Some(0));
    let script =
        "mount -t tmpfs none /mnt && cp -r \"$2\"/run /mnt && mount -o remount,ro /mnt || exit 99
        \"$0\" price --design /mnt/run#0 > \"$2\"/priced || exit 98
        \"$0\" search \"$1\" --out /mnt/run";
    let Some(done) = with_mounts(script, left.path()) else {
        return;
    };
    assert_storage_told(
        &done,
        &["/mnt/run", "Read-only file system", "may write to"],
    );
    let priced = fs::read_to_string(left.path().join("priced")).unwrap();
    assert!(priced.contains("Cost of heat"), "{priced}");
}

/// While one process searches in a folder another is turned away, told by whom; when the first is gone,
/// the folder is free and what it had computed is used.
#[test]
fn a_second_process_in_the_folder_is_turned_away() {
    let run = folder();
    let mut first = search(run.path())
        .args(["--total", "1000000"])
        .stdout(std::process::Stdio::null())
        .stderr(std::process::Stdio::null())
        .spawn()
        .unwrap();
    let journal = run.path().join("journal");
    let began = Instant::now();
    while fs::metadata(&journal).map_or(0, |about| about.len()) < 10_000 {
        assert!(
            began.elapsed() < Duration::from_secs(300),
            "no journal grows"
        );
        std::thread::sleep(Duration::from_millis(20));
    }
    let second = ran(&mut search(run.path()));
    let holder = format!("process {}", first.id());
    first.kill().unwrap();
    first.wait().unwrap();
    assert_storage_told(&second, &["is in use by", &holder, "choose another folder"]);
    let kept = fs::read(&journal).unwrap();
    let third = ran(&mut search(run.path()));
    assert_eq!(third.code, Some(0), "{}", third.err);
    assert_same_results(run.path(), "after another process");
    let whole = kept.len().saturating_sub(4096);
    assert!(fs::read(&journal).unwrap().starts_with(&kept[..whole]));
}

fn run_with_journal(bytes: &[u8]) -> (tempfile::TempDir, Ran) {
    let run = folder();
    fs::write(run.path().join("journal"), bytes).unwrap();
    let done = ran(&mut search(run.path()));
    (run, done)
}

/// Bytes changed all along the journal: in its first record the file is refused and left alone, behind it
/// the damage is told, stepped over, and costs no other record. (`store` tries every bit.)
#[test]
fn a_journal_damaged_anywhere_loses_no_other_record() {
    const FIRST_RECORD: usize = 52;
    let sound = &reference().journal;
    for place in [0, 4, 8, FIRST_RECORD - 1] {
        let mut bytes = sound.clone();
        bytes[place] ^= 0x10;
        let (run, done) = run_with_journal(&bytes);
        assert_storage_told(&done, &["does not start like a journal", "move it away"]);
        assert_eq!(fs::read(run.path().join("journal")).unwrap(), bytes);
    }
    let step = (sound.len() - FIRST_RECORD) / 9;
    for place in (FIRST_RECORD..sound.len()).step_by(step) {
        let mut bytes = sound.clone();
        bytes[place] ^= 0x10;
        let (run, done) = run_with_journal(&bytes);
        assert_eq!(done.code, Some(0), "{place}: {}", done.err);
        assert!(done.err.contains("note: "), "{place}: {}", done.err);
        assert_same_results(run.path(), &format!("damaged at {place}"));
        let mended = fs::read(run.path().join("journal")).unwrap();
        let is_short = mended.len() <= sound.len() + sound.len() / 20;
        assert!(
            is_short,
            "{place}: one record is computed again, not the rest"
        );
    }
}

/// Tables follow from the journal: a damaged one is told when it is read, and made again by the search.
#[test]
fn a_damaged_table_is_told_and_made_again() {
    let run = folder();
    assert_eq!(ran(&mut search(run.path())).code, Some(0));
    let table = run.path().join("designs.parquet");
    let bytes = fs::read(&table).unwrap();
    fs::write(&table, &bytes[..bytes.len() / 2]).unwrap();
    let design = format!("{}#0", run.path().display());
    let done = ran(tautfield().args(["price", "--design", &design]));
    assert_storage_told(
        &done,
        &["designs.parquet", "run the search with this --out again"],
    );
    assert_eq!(ran(&mut search(run.path())).code, Some(0));
    assert_eq!(results(run.path())["designs.parquet"], bytes);
}
