//! The memo journal: append-only, checksummed, durable batch by batch.

use std::fmt::Write as _;
use std::fs::{File, OpenOptions};
use std::io::{Seek, SeekFrom, Write};
use std::path::{Path, PathBuf};
use std::sync::Arc;

use crate::atomic::sync_folder;
use crate::crash::{Hooks, Point};
use crate::error::StoreError;
use crate::record::{Entry, FRAME_HEAD_BYTES, push_frame, split_frame, split_u32};

/// Version of the journal's bytes; a newer one is refused.
pub const FORMAT_VERSION: u32 = 1;

const MAGIC: [u8; 8] = *b"tautmemo";

const HEADER_PAYLOAD_BYTES: usize = MAGIC.len() + size_of::<u32>() + size_of::<Hash>();
const HEADER_BYTES: usize = FRAME_HEAD_BYTES + HEADER_PAYLOAD_BYTES;

/// Hash of everything an outcome depends on.
pub type Hash = [u8; 32];

/// What a journal holds.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Contents {
    /// Hash of the inputs it was written for; nothing for an empty file or one
    /// whose first record was never finished.
    pub hash: Option<Hash>,
    /// The whole entries, in the order they were appended.
    pub entries: Vec<Entry>,
    /// Where the last whole entry ends.
    pub whole_bytes: u64,
    /// Length of what is damaged before that.
    pub damaged_bytes: u64,
    /// Length of the torn or damaged rest behind it.
    pub torn_bytes: u64,
}

/// What was found when a journal was opened.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Opened {
    /// The remembered evaluations.
    pub entries: Vec<Entry>,
    /// How many bytes of a torn tail were cut off.
    pub dropped_bytes: u64,
    /// How many damaged bytes between whole entries were stepped over; they are left in place.
    pub damaged_bytes: u64,
}

/// A journal open for appending.
pub struct Journal {
    path: PathBuf,
    file: File,
    durable_bytes: u64,
    hooks: Arc<dyn Hooks>,
}

impl Journal {
    /// Opens or starts the journal at `path` for inputs with this `hash`. A torn
    /// tail is cut off before anything is appended. The caller must hold the
    /// lock of the folder.
    pub(crate) fn open(
        path: &Path,
        hash: &Hash,
        hooks: Arc<dyn Hooks>,
    ) -> Result<(Self, Opened), StoreError> {
        let bytes = read_if_there(path)?;
        let contents = read_journal(path, &bytes)?;
        if let Some(found) = contents.hash.filter(|found| found != hash) {
            return Err(StoreError::OtherScenario {
                path: path.to_path_buf(),
                found: hexadecimal(&found),
                wanted: hexadecimal(hash),
            });
        }
        let file = OpenOptions::new()
            .write(true)
            .create(true)
            .truncate(false)
            .open(path)
            .map_err(StoreError::io("open", path))?;
        let mut journal = Self {
            path: path.to_path_buf(),
            file,
            durable_bytes: contents.whole_bytes,
            hooks,
        };
        journal.cut_tail()?;
        if contents.hash.is_none() {
            journal.write_durably(&header(hash)?)?;
            sync_folder(path)?;
        }
        let opened = Opened {
            entries: contents.entries,
            dropped_bytes: contents.torn_bytes,
            damaged_bytes: contents.damaged_bytes,
        };
        Ok((journal, opened))
    }

    /// Appends the entries and makes them durable, all with one sync.
    ///
    /// # Errors
    /// When the operating system refuses; what was appended before stays whole.
    pub fn append(&mut self, entries: &[Entry]) -> Result<(), StoreError> {
        if entries.is_empty() {
            return Ok(());
        }
        let mut bytes = Vec::new();
        for entry in entries {
            push_frame(&mut bytes, &entry.to_bytes()?)?;
        }
        self.write_durably(&bytes)
    }

    fn write_durably(&mut self, bytes: &[u8]) -> Result<(), StoreError> {
        let written = self.write_through(bytes);
        if let Err(source) = written {
            // Best effort: the next opening cuts the torn tail all the same.
            let _ = self.cut_tail();
            return Err(StoreError::io("append to", &self.path)(source));
        }
        self.durable_bytes += bytes.len() as u64;
        self.hooks.reached(Point::AfterSync);
        Ok(())
    }

    fn write_through(&mut self, bytes: &[u8]) -> std::io::Result<()> {
        let (first, second) = bytes.split_at(bytes.len() / 2);
        self.file.seek(SeekFrom::Start(self.durable_bytes))?;
        self.hooks.reached(Point::BeforeAppend);
        self.file.write_all(first)?;
        self.hooks.reached(Point::MidAppend);
        self.file.write_all(second)?;
        self.hooks.reached(Point::BeforeSync);
        self.file.sync_data()
    }

    fn cut_tail(&mut self) -> Result<(), StoreError> {
        self.file
            .set_len(self.durable_bytes)
            .and_then(|()| self.file.sync_data())
            .map_err(StoreError::io("cut the torn end of", &self.path))
    }
}

/// Reads the bytes of the journal at `path` (the path serves messages only).
///
/// Damage is stepped over to the next whole record, so that no other entry is lost by it.
///
/// # Errors
/// When the file is no journal, or one of a newer format.
pub fn read_journal(path: &Path, bytes: &[u8]) -> Result<Contents, StoreError> {
    let (hash, mut rest) = match split_frame(bytes) {
        Some((head, rest)) => (Some(read_header(path, head)?), rest),
        None if is_unfinished_header(bytes) => (None, bytes),
        None => return Err(not_a_journal(path)),
    };
    let (mut entries, mut damaged_bytes) = (Vec::new(), 0);
    if hash.is_some() {
        while let Some((skipped, entry, after)) = next_entry(rest) {
            damaged_bytes += skipped as u64;
            entries.push(entry);
            rest = after;
        }
    }
    Ok(Contents {
        hash,
        entries,
        whole_bytes: (bytes.len() - rest.len()) as u64,
        damaged_bytes,
        torn_bytes: rest.len() as u64,
    })
}

/// The first whole entry, the length of what lies before it, and what follows it.
fn next_entry(bytes: &[u8]) -> Option<(usize, Entry, &[u8])> {
    (0..bytes.len()).find_map(|start| {
        let (entry, rest) = split_entry(&bytes[start..])?;
        Some((start, entry, rest))
    })
}

fn split_entry(bytes: &[u8]) -> Option<(Entry, &[u8])> {
    let (payload, rest) = split_frame(bytes)?;
    Some((Entry::from_bytes(payload)?, rest))
}

/// First frame: magic, format version, and from version 1 on the hash.
fn header(hash: &Hash) -> Result<Vec<u8>, StoreError> {
    let mut payload = MAGIC.to_vec();
    payload.extend(FORMAT_VERSION.to_le_bytes());
    payload.extend(hash);
    let mut bytes = Vec::new();
    push_frame(&mut bytes, &payload)?;
    Ok(bytes)
}

fn read_header(path: &Path, payload: &[u8]) -> Result<Hash, StoreError> {
    let versioned = payload.strip_prefix(&MAGIC).and_then(split_u32);
    let (found, rest) = versioned.ok_or_else(|| not_a_journal(path))?;
    if found > FORMAT_VERSION {
        return Err(StoreError::NewerFormat {
            path: path.to_path_buf(),
            found,
            known: FORMAT_VERSION,
        });
    }
    rest.try_into().map_err(|_| not_a_journal(path))
}

/// Whether the bytes are what a kill can leave of a first frame: a piece of it,
/// or zeros where it should be. Nothing was remembered then.
fn is_unfinished_header(bytes: &[u8]) -> bool {
    let is_zeros = bytes.iter().all(|byte| *byte == 0);
    let (length, after_length) = bytes.split_at(bytes.len().min(4));
    let magic = after_length.get(4..).unwrap_or_default();
    let is_piece = agree(&(HEADER_PAYLOAD_BYTES as u32).to_le_bytes(), length)
        && agree(&MAGIC, magic)
        && bytes.len() < HEADER_BYTES;
    is_piece || (is_zeros && bytes.len() <= HEADER_BYTES)
}

/// Whether two runs of bytes are alike as far as both go.
fn agree(a: &[u8], b: &[u8]) -> bool {
    a.iter().zip(b).all(|(a, b)| a == b)
}

fn not_a_journal(path: &Path) -> StoreError {
    StoreError::NotAJournal {
        path: path.to_path_buf(),
    }
}

fn read_if_there(path: &Path) -> Result<Vec<u8>, StoreError> {
    match std::fs::read(path) {
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => Ok(Vec::new()),
        other => other.map_err(StoreError::io("read", path)),
    }
}

fn hexadecimal(hash: &Hash) -> String {
    hash.iter().take(8).fold(String::new(), |mut text, byte| {
        // Writing to a string cannot fail.
        let _ = write!(text, "{byte:02x}");
        text
    })
}

#[cfg(test)]
mod tests;
