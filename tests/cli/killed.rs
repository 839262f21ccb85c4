//! Killed anywhere and run again, a search leaves the very bytes of one that was left alone.

use std::fs;
use std::path::Path;
use std::time::{Duration, Instant};

use crate::support::{assert_same_results, folder, ran, reference, search};

const CRASH_AT: &str = "TAUTFIELD_CRASH_AT";

const POINTS: [&str; 6] = [
    "before_append",
    "mid_append",
    "before_sync",
    "after_sync",
    "before_rename",
    "after_rename",
];

fn resume(run: &Path, what: &str) {
    let done = ran(&mut search(run));
    assert_eq!(done.code, Some(0), "{what}: {}", done.err);
    assert_same_results(run, what);
}

#[test]
fn aborted_at_any_point_of_a_write_it_resumes_to_the_same_bytes() {
    for (point, passing) in POINTS
        .into_iter()
        .flat_map(|point| [(point, 1), (point, 3)])
    {
        let run = folder();
        let at = format!("{point}:{passing}");
        let killed = ran(search(run.path()).env(CRASH_AT, &at));
        assert_eq!(killed.code, None, "{at} was not reached: {}", killed.err);
        resume(run.path(), &at);
    }
}

/// Numbers that look random, the same each time (SplitMix64; from memory).
fn shares(seed: u64) -> impl Iterator<Item = f64> {
    (1_u64..).map(move |place| {
        let mut bits = seed.wrapping_add(place.wrapping_mul(0x9E37_79B9_7F4A_7C15));
        bits = (bits ^ (bits >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        bits = (bits ^ (bits >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        (bits ^ (bits >> 31)) as f64 / u64::MAX as f64
    })
}

#[test]
fn killed_at_any_time_it_resumes_to_the_same_bytes() {
    const SEED: u64 = 20_261_125;
    reference();
    let whole = Instant::now();
    ran(&mut search(folder().path()));
    let whole = whole.elapsed();
    for share in shares(SEED).take(10) {
        let run = folder();
        let mut child = search(run.path())
            .stdout(std::process::Stdio::null())
            .stderr(std::process::Stdio::null())
            .spawn()
            .unwrap();
        std::thread::sleep(Duration::from_secs_f64(share * whole.as_secs_f64()));
        child.kill().unwrap();
        child.wait().unwrap();
        resume(
            run.path(),
            &format!("killed after {share:.3} of {whole:?}, seed {SEED}"),
        );
    }
}

/// Start of the last record: each begins with the length of its payload and a checksum.
fn last_record(journal: &[u8]) -> usize {
    let mut start = 0;
    loop {
        let length = journal[start..start + 4].try_into().unwrap();
        let end = start + 8 + u32::from_le_bytes(length) as usize;
        if end == journal.len() {
            return start;
        }
        start = end;
    }
}

fn run_folder_with(journal: &[u8]) -> tempfile::TempDir {
    let run = folder();
    fs::write(run.path().join("journal"), journal).unwrap();
    run
}

/// Wherever the last record is cut, just its evaluation is made again. Every byte of its head and
/// of the design in it is tried, then every 16th; the process ends itself as soon as the record is
/// whole again, since tables follow from the journal. (`store` tries every byte of its records.)
#[test]
fn a_torn_journal_is_mended_to_the_same_bytes() {
    let journal = &reference().journal;
    let start = last_record(journal);
    let dense = start..(start + 96).min(journal.len());
    let sparse = (dense.end..journal.len()).step_by(16);
    for cut in dense.chain(sparse) {
        let run = run_folder_with(&journal[..cut]);
        ran(search(run.path()).env(CRASH_AT, "after_sync:1"));
        let mended = fs::read(run.path().join("journal")).unwrap();
        assert!(mended == *journal, "cut at {cut} of {}", journal.len());
    }
}

#[test]
fn a_torn_journal_resumes_to_the_same_tables_and_charts() {
    let journal = &reference().journal;
    let start = last_record(journal);
    for cut in [0, 3, start, start + 1, start + 9, journal.len() - 1] {
        let run = run_folder_with(&journal[..cut]);
        resume(
            run.path(),
            &format!("journal cut at {cut} of {}", journal.len()),
        );
    }
}
