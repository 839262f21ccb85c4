//! The lock of a run folder: held by the operating system for a living process.

use std::fs::{File, OpenOptions, TryLockError};
use std::io::{Read, Write};
use std::path::Path;

use crate::error::StoreError;

const LOCK_NAME: &str = "lock";

/// A held lock. It ends with this value, or with the process, however it ends;
/// the file stays behind and means nothing by itself.
#[derive(Debug)]
pub(crate) struct Lock {
    _file: File,
}

impl Lock {
    /// Takes the lock of `folder`, or names its holder.
    pub(crate) fn take(folder: &Path) -> Result<Self, StoreError> {
        let path = folder.join(LOCK_NAME);
        let mut file = OpenOptions::new()
            .read(true)
            .write(true)
            .create(true)
            .truncate(false)
            .open(&path)
            .map_err(StoreError::io("open", &path))?;
        match file.try_lock() {
            Ok(()) => {}
            Err(TryLockError::WouldBlock) => {
                return Err(StoreError::Held {
                    folder: folder.to_path_buf(),
                    holder: holder_text(&mut file),
                });
            }
            Err(TryLockError::Error(source)) => {
                return Err(StoreError::io("lock", &path)(source));
            }
        }
        sign(&mut file).map_err(StoreError::io("write", &path))?;
        Ok(Self { _file: file })
    }
}

fn sign(file: &mut File) -> std::io::Result<()> {
    file.set_len(0)?;
    write!(file, "process {} on {}", std::process::id(), host_name())
}

fn holder_text(file: &mut File) -> String {
    let mut text = String::new();
    match file.read_to_string(&mut text) {
        Ok(length) if length > 0 => text,
        _ => "another process".to_owned(),
    }
}

/// The machine's name where the system tells it in a file.
fn host_name() -> String {
    std::fs::read_to_string("/proc/sys/kernel/hostname")
        .map(|name| name.trim().to_owned())
        .unwrap_or_else(|_| "an unnamed machine".to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_second_taker_learns_who_holds_it() {
        let folder = tempfile::tempdir().unwrap();
        let held = Lock::take(folder.path()).unwrap();
        let message = Lock::take(folder.path()).unwrap_err().to_string();
        let process = format!("process {} on ", std::process::id());
        assert!(message.contains(&process), "{message}");
        drop(held);
        Lock::take(folder.path()).unwrap();
    }

    #[test]
    fn a_file_left_by_a_dead_process_does_not_block() {
        let folder = tempfile::tempdir().unwrap();
        File::create(folder.path().join(LOCK_NAME))
            .unwrap()
            .write_all(b"process 1 on elsewhere, a long text left behind")
            .unwrap();
        let _held = Lock::take(folder.path()).unwrap();
        let text = std::fs::read_to_string(folder.path().join(LOCK_NAME)).unwrap();
        assert!(!text.contains("elsewhere"), "{text}");
    }
}
