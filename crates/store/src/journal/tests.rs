//! The journal under truncation, damage, other inputs and failed writes.

use super::*;
use crate::crash::NoHooks;
use std::fs;
use std::sync::Mutex;

const HASH: Hash = [7; 32];

fn open(path: &Path) -> Result<(Journal, Opened), StoreError> {
    Journal::open(path, &HASH, Arc::new(NoHooks))
}

fn entry(number: u32) -> Entry {
    Entry {
        key: vec![number, 2 * number, u32::MAX - number],
        fidelity: (number % 3) as u8,
        payload: f64::from(number).to_bits().to_le_bytes().to_vec(),
    }
}

fn entries(count: u32) -> Vec<Entry> {
    (0..count).map(entry).collect()
}

/// A journal of `count` entries, and its bytes.
fn written(path: &Path, count: u32) -> Vec<u8> {
    let (mut journal, opened) = open(path).unwrap();
    assert_eq!(opened.entries, []);
    for batch in entries(count).chunks(2) {
        journal.append(batch).unwrap();
    }
    fs::read(path).unwrap()
}

fn put(path: &Path, bytes: &[u8]) {
    File::create(path).unwrap().write_all(bytes).unwrap();
}

#[test]
fn what_was_appended_is_found_again() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("journal");
    written(&path, 5);
    let (_journal, opened) = open(&path).unwrap();
    assert_eq!(opened.entries, entries(5));
    assert_eq!(opened.dropped_bytes, 0);
}

/// Guards the stored format: these bytes must be read by every later version.
#[test]
fn the_bytes_are_fixed() {
    let folder = tempfile::tempdir().unwrap();
    let bytes = written(&folder.path().join("journal"), 2);
    assert_eq!(bytes.len(), 52 + 2 * (8 + 4 + 12 + 1 + 8));
    assert_eq!(&bytes[..4], &[44, 0, 0, 0]);
    assert_eq!(&bytes[8..20], b"tautmemo\x01\0\0\0");
    assert_eq!(crc32fast::hash(&bytes), 698_205_354);
}

/// A kill may cut the file anywhere. Opening must keep every whole entry, lose
/// at most the torn one, and what is appended afterwards must be readable.
#[test]
fn any_truncation_loses_only_the_torn_record() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("journal");
    let bytes = written(&path, 3);
    let record = (bytes.len() - HEADER_BYTES) / 3;
    for cut in 0..=bytes.len() {
        put(&path, &bytes[..cut]);
        let whole = cut.saturating_sub(HEADER_BYTES) / record;
        let (mut journal, opened) = open(&path).unwrap();
        assert_eq!(opened.entries, entries(3)[..whole], "cut at {cut}");
        journal.append(&[entry(99)]).unwrap();
        let (_, again) = open(&path).unwrap();
        assert_eq!(again.entries.last(), Some(&entry(99)), "cut at {cut}");
        assert_eq!(again.entries.len(), whole + 1);
        assert_eq!(again.dropped_bytes, 0);
    }
}

/// A flipped bit costs the entry that it lies in and no other, or the file is refused.
#[test]
fn any_flipped_bit_costs_one_entry() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("journal");
    let bytes = written(&path, 3);
    let record = (bytes.len() - HEADER_BYTES) / 3;
    for bit in 0..8 * bytes.len() {
        let mut damaged = bytes.clone();
        damaged[bit / 8] ^= 1 << (bit % 8);
        match read_journal(&path, &damaged) {
            Ok(contents) => {
                let lost = (bit / 8 - HEADER_BYTES) / record;
                let mut left = entries(3);
                left.remove(lost);
                assert_eq!(contents.entries, left, "bit {bit}");
                let unread = (contents.damaged_bytes, contents.torn_bytes);
                let is_last = lost == 2;
                let wanted = if is_last {
                    (0, record as u64)
                } else {
                    (record as u64, 0)
                };
                assert_eq!(unread, wanted, "bit {bit}");
            }
            Err(error) => {
                assert!(bit < 8 * HEADER_BYTES, "bit {bit}");
                assert!(matches!(error, StoreError::NotAJournal { .. }));
            }
        }
    }
}

/// What is appended to a journal with damage inside is found behind it, and so is all the rest.
#[test]
fn a_damaged_journal_is_appended_to() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("journal");
    let mut bytes = written(&path, 3);
    let record = (bytes.len() - HEADER_BYTES) / 3;
    bytes[HEADER_BYTES + 1] ^= 0x40;
    put(&path, &bytes);
    let (mut journal, opened) = open(&path).unwrap();
    assert_eq!(opened.entries, entries(3)[1..]);
    assert_eq!(opened.damaged_bytes, record as u64);
    journal.append(&[entry(0)]).unwrap();
    let (_, again) = open(&path).unwrap();
    assert_eq!(again.entries, [entry(1), entry(2), entry(0)]);
    assert_eq!(
        (again.damaged_bytes, again.dropped_bytes),
        (record as u64, 0)
    );
}

/// A power cut may leave the file longer than what was written, with zeros.
#[test]
fn a_tail_of_zeros_is_cut() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("journal");
    let mut bytes = written(&path, 2);
    bytes.extend([0; 4096]);
    put(&path, &bytes);
    let (_journal, opened) = open(&path).unwrap();
    assert_eq!(opened.entries, entries(2));
    assert_eq!(opened.dropped_bytes, 4096);
    assert_eq!(
        fs::metadata(&path).unwrap().len(),
        bytes.len() as u64 - 4096
    );
}

#[test]
fn zeros_in_place_of_the_first_record_are_an_empty_journal() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("journal");
    put(&path, &[0; HEADER_BYTES]);
    let (mut journal, opened) = open(&path).unwrap();
    assert_eq!(opened.entries, []);
    journal.append(&[entry(1)]).unwrap();
    assert_eq!(open(&path).unwrap().1.entries, [entry(1)]);
}

#[test]
fn other_inputs_are_refused_and_nothing_is_changed() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("journal");
    let bytes = written(&path, 2);
    let refused = Journal::open(&path, &[8; 32], Arc::new(NoHooks))
        .err()
        .unwrap();
    assert!(matches!(refused, StoreError::OtherScenario { .. }));
    assert!(refused.to_string().contains("0707070707070707"));
    assert_eq!(fs::read(&path).unwrap(), bytes);
}

#[test]
fn a_newer_format_is_refused_and_nothing_is_changed() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("journal");
    let mut payload = MAGIC.to_vec();
    payload.extend((FORMAT_VERSION + 1).to_le_bytes());
    payload.extend(b"whatever a later format keeps here");
    let mut bytes = Vec::new();
    push_frame(&mut bytes, &payload).unwrap();
    put(&path, &bytes);
    let refused = open(&path).err().unwrap();
    assert!(matches!(refused, StoreError::NewerFormat { found: 2, .. }));
    assert_eq!(fs::read(&path).unwrap(), bytes);
}

#[test]
fn a_file_of_another_kind_is_refused_and_nothing_is_changed() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("journal");
    let text = "notes that somebody keeps under this name, long enough to matter";
    put(&path, text.as_bytes());
    assert!(matches!(
        open(&path).err(),
        Some(StoreError::NotAJournal { .. })
    ));
    assert_eq!(fs::read_to_string(&path).unwrap(), text);
}

/// Keeps the file's length at every point that is passed.
#[derive(Default)]
struct Watch {
    path: PathBuf,
    seen: Mutex<Vec<(Point, u64)>>,
}

impl Hooks for Watch {
    fn reached(&self, point: Point) {
        let length = fs::metadata(&self.path).unwrap().len();
        self.seen.lock().unwrap().push((point, length));
    }
}

#[test]
fn a_batch_is_synced_once_and_can_be_torn_in_the_middle() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("journal");
    let start = written(&path, 2).len() as u64;
    let watch = Arc::new(Watch {
        path: path.clone(),
        seen: Mutex::default(),
    });
    let (mut journal, _) = Journal::open(&path, &HASH, watch.clone()).unwrap();
    journal.append(&entries(4)).unwrap();
    let batch = 4 * 33;
    assert_eq!(
        *watch.seen.lock().unwrap(),
        [
            (Point::BeforeAppend, start),
            (Point::MidAppend, start + batch / 2),
            (Point::BeforeSync, start + batch),
            (Point::AfterSync, start + batch),
        ]
    );
}

/// A full disk in the middle of a batch: the error is told, and the journal
/// stays good. `/dev/full` refuses every write (Linux).
#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_is_an_error_that_names_the_file() {
    let mut journal = Journal {
        path: PathBuf::from("/dev/full"),
        file: OpenOptions::new().write(true).open("/dev/full").unwrap(),
        durable_bytes: 0,
        hooks: Arc::new(NoHooks),
    };
    let message = journal.append(&[entry(1)]).unwrap_err().to_string();
    assert!(message.contains("append to /dev/full"), "{message}");
    assert_eq!(journal.durable_bytes, 0);
}
