//! A run folder: probed, locked, and the only way to write into it.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use crate::atomic::write_atomic;
use crate::crash::{Hooks, NoHooks};
use crate::error::StoreError;
use crate::journal::{Hash, Journal, Opened};
use crate::lock::Lock;

const JOURNAL_NAME: &str = "journal";
const PROBE_NAME: &str = "probe";

/// A folder held for writing by this process until the value is dropped.
pub struct RunFolder {
    path: PathBuf,
    hooks: Arc<dyn Hooks>,
    _lock: Lock,
}

impl RunFolder {
    /// Makes the folder if it is missing, takes its lock, and writes a probe
    /// file, so that a full or read-only disk is met before any work.
    ///
    /// # Errors
    /// When another process holds the folder, or it cannot be written.
    pub fn open(path: &Path, hooks: Arc<dyn Hooks>) -> Result<Self, StoreError> {
        std::fs::create_dir_all(path).map_err(StoreError::io("create", path))?;
        let folder = Self {
            path: path.to_path_buf(),
            hooks,
            _lock: Lock::take(path)?,
        };
        folder.probe()?;
        Ok(folder)
    }

    /// The folder's path.
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Writes the file `name` (it may hold sub-folders, `charts/map.svg`) whole
    /// or not at all.
    ///
    /// # Errors
    /// When the operating system refuses; an old file is then untouched.
    pub fn write(&self, name: &str, bytes: &[u8]) -> Result<(), StoreError> {
        let path = self.path.join(name);
        if let Some(parent) = path.parent() {
            std::fs::create_dir_all(parent).map_err(StoreError::io("create", parent))?;
        }
        write_atomic(&path, bytes, self.hooks.as_ref())
    }

    /// Opens or starts the folder's journal for inputs with this `hash`.
    ///
    /// # Errors
    /// When the journal belongs to other inputs, has a newer format, is no
    /// journal, or cannot be read or written.
    pub fn journal(&self, hash: &Hash) -> Result<(Journal, Opened), StoreError> {
        Journal::open(&self.path.join(JOURNAL_NAME), hash, self.hooks.clone())
    }

    fn probe(&self) -> Result<(), StoreError> {
        let path = self.path.join(PROBE_NAME);
        write_atomic(&path, b"probe", &NoHooks)?;
        std::fs::remove_file(&path).map_err(StoreError::io("remove", &path))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::crash::{CrashAt, Point};
    use crate::record::Entry;
    use std::process::Command;

    fn open(path: &Path) -> Result<RunFolder, StoreError> {
        RunFolder::open(path, Arc::new(NoHooks))
    }

    #[test]
    fn a_folder_is_made_and_left_without_the_probe() {
        let parent = tempfile::tempdir().unwrap();
        let path = parent.path().join("runs").join("first");
        let folder = open(&path).unwrap();
        folder.write("charts/map.svg", b"<svg/>").unwrap();
        assert_eq!(
            std::fs::read(path.join("charts/map.svg")).unwrap(),
            b"<svg/>"
        );
        assert!(!path.join(PROBE_NAME).exists());
    }

    #[test]
    fn a_second_opening_is_refused_while_the_first_lives() {
        let parent = tempfile::tempdir().unwrap();
        let first = open(parent.path()).unwrap();
        let second = open(parent.path());
        assert!(matches!(second, Err(StoreError::Held { .. })));
        drop(first);
        open(parent.path()).unwrap();
    }

    #[test]
    fn a_file_in_the_way_is_named_before_any_work() {
        let parent = tempfile::tempdir().unwrap();
        let path = parent.path().join("taken");
        std::fs::File::create(&path).unwrap();
        let message = open(&path).err().unwrap().to_string();
        assert!(message.contains("taken"), "{message}");
    }

    const KILLED_IN: &str = "STORE_TEST_KILLED_IN";
    const KILLED_AT: &str = "STORE_TEST_KILLED_AT";

    fn entry(number: u32) -> Entry {
        Entry {
            key: vec![number],
            fidelity: 0,
            payload: vec![number as u8; 40],
        }
    }

    /// The child of the test below: works in the folder until it is aborted.
    fn work_until_killed(path: &Path, at: &str) {
        let hooks = Arc::new(CrashAt::parse(at).unwrap());
        let folder = RunFolder::open(path, hooks).unwrap();
        let (mut journal, _) = folder.journal(&[1; 32]).unwrap();
        for number in 0..5 {
            journal
                .append(&[entry(2 * number), entry(2 * number + 1)])
                .unwrap();
            folder
                .write("page", format!("page {number}").as_bytes())
                .unwrap();
        }
    }

    /// Aborts a process at every point of its writes. What it leaves must be a
    /// whole beginning of its work, in a folder that is free again.
    #[test]
    fn a_killed_process_leaves_a_whole_beginning() {
        if let (Ok(path), Ok(at)) = (std::env::var(KILLED_IN), std::env::var(KILLED_AT)) {
            return work_until_killed(Path::new(&path), &at);
        }
        for (point, passing) in Point::ALL
            .into_iter()
            .flat_map(|point| [(point, 1), (point, 3)])
        {
            let parent = tempfile::tempdir().unwrap();
            let at = format!("{}:{passing}", point.name());
            let child = Command::new(std::env::current_exe().unwrap())
                .args([
                    "--exact",
                    "folder::tests::a_killed_process_leaves_a_whole_beginning",
                ])
                .env(KILLED_IN, parent.path())
                .env(KILLED_AT, &at)
                .output()
                .unwrap();
            assert!(!child.status.success(), "{at} was not reached");
            let folder = open(parent.path()).unwrap();
            let (mut journal, opened) = folder.journal(&[1; 32]).unwrap();
            let written: Vec<Entry> = (0..10).map(entry).collect();
            assert!(written.starts_with(&opened.entries), "{at}");
            let page = std::fs::read_to_string(parent.path().join("page"));
            assert!(
                page.is_err() || page.is_ok_and(|page| page.len() == 6),
                "{at}"
            );
            journal.append(&[entry(50)]).unwrap();
            let (_, again) = folder.journal(&[1; 32]).unwrap();
            assert_eq!(again.entries.last(), Some(&entry(50)), "{at}");
        }
    }
}
