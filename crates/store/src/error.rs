//! What can go wrong in a run folder, and what to do about it.

use std::io;
use std::path::{Path, PathBuf};

/// A failure of the run folder or of one of its files.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum StoreError {
    /// The operating system refused an action on a file.
    #[error("cannot {action} {}: {source}", path.display())]
    Io {
        /// What was tried, as a verb.
        action: &'static str,
        /// The file or folder it was tried on.
        path: PathBuf,
        /// The reason given by the operating system.
        source: io::Error,
    },
    /// Another process works in the folder.
    #[error(
        "{} is in use by {holder}; wait for it to end, or choose another folder",
        folder.display()
    )]
    Held {
        /// The folder.
        folder: PathBuf,
        /// Process and machine that hold it, as far as they can be read.
        holder: String,
    },
    /// The journal belongs to other inputs.
    #[error(
        "{} was written for other inputs (scenario {found}, now {wanted}); \
         choose another folder, or bring the old inputs back",
        path.display()
    )]
    OtherScenario {
        /// The journal.
        path: PathBuf,
        /// Hash in the journal, hexadecimal.
        found: String,
        /// Hash of the present inputs, hexadecimal.
        wanted: String,
    },
    /// The journal was written by a newer program.
    #[error(
        "{} has format {found}, this program reads up to {known}; use a newer program",
        path.display()
    )]
    NewerFormat {
        /// The journal.
        path: PathBuf,
        /// Format version in the file.
        found: u32,
        /// Newest format version this program reads.
        known: u32,
    },
    /// The file is not a journal, or its first record is damaged.
    #[error(
        "{} does not start like a journal; move it away if nothing in it is needed",
        path.display()
    )]
    NotAJournal {
        /// The file.
        path: PathBuf,
    },
    /// A record would not fit its 32-bit length field.
    #[error("a record of {bytes} bytes is too long for the journal (limit 4 GiB)")]
    TooLong {
        /// Length of the record in bytes.
        bytes: u64,
    },
}

impl StoreError {
    /// A closure for `map_err` that keeps the action and the path.
    pub(crate) fn io(action: &'static str, path: &Path) -> impl FnOnce(io::Error) -> Self {
        let path = path.to_path_buf();
        move |source| Self::Io {
            action,
            path,
            source,
        }
    }
}
