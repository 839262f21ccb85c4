//! Files that appear whole or not at all, and stay after a power cut.

use std::ffi::OsString;
use std::fs::File;
use std::io::Write;
use std::path::{Path, PathBuf};

use crate::crash::{Hooks, Point};
use crate::error::StoreError;

/// Writes `bytes` to `path`: a temporary file in the same folder, made durable,
/// renamed, and the folder made durable. Readers see the old or the new file.
///
/// # Errors
/// When the operating system refuses a step; an old file is then untouched.
pub fn write_atomic(path: &Path, bytes: &[u8], hooks: &dyn Hooks) -> Result<(), StoreError> {
    let temporary = temporary_name(path);
    write_durably(&temporary, bytes)?;
    hooks.reached(Point::BeforeRename);
    rename(&temporary, path)?;
    hooks.reached(Point::AfterRename);
    sync_folder(path)
}

/// `name` → `.name.part`, so that a left-over is told from a result.
fn temporary_name(path: &Path) -> PathBuf {
    let mut name = OsString::from(".");
    name.push(path.file_name().unwrap_or_default());
    name.push(".part");
    path.with_file_name(name)
}

fn write_durably(path: &Path, bytes: &[u8]) -> Result<(), StoreError> {
    let mut file = File::create(path).map_err(StoreError::io("create", path))?;
    file.write_all(bytes)
        .and_then(|()| file.sync_all())
        .map_err(StoreError::io("write", path))
}

#[expect(
    clippy::disallowed_methods,
    reason = "the one place that may rename: the new file is durable by now"
)]
fn rename(from: &Path, to: &Path) -> Result<(), StoreError> {
    std::fs::rename(from, to).map_err(StoreError::io("rename to", to))
}

/// Makes the folder's own list of files durable.
#[cfg(unix)]
pub(crate) fn sync_folder(path_in_it: &Path) -> Result<(), StoreError> {
    let folder = match path_in_it.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    };
    File::open(folder)
        .and_then(|folder| folder.sync_all())
        .map_err(StoreError::io("make durable", folder))
}

/// Elsewhere a folder cannot be opened as a file; the rename has to do.
#[cfg(not(unix))]
pub(crate) fn sync_folder(_path_in_it: &Path) -> Result<(), StoreError> {
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::crash::NoHooks;
    use std::fs;
    use std::sync::Mutex;

    /// Looks at the file at every point that is passed.
    struct Watch {
        path: PathBuf,
        seen: Mutex<Vec<(Point, Vec<u8>)>>,
    }

    impl Hooks for Watch {
        fn reached(&self, point: Point) {
            let now = fs::read(&self.path).unwrap();
            self.seen.lock().unwrap().push((point, now));
        }
    }

    #[test]
    fn the_old_file_stands_until_the_new_one_is_whole() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("page.html");
        write_atomic(&path, b"old", &NoHooks).unwrap();
        let watch = Watch {
            path: path.clone(),
            seen: Mutex::default(),
        };
        write_atomic(&path, b"new and longer", &watch).unwrap();
        let seen = watch.seen.into_inner().unwrap();
        assert_eq!(
            seen,
            [
                (Point::BeforeRename, b"old".to_vec()),
                (Point::AfterRename, b"new and longer".to_vec())
            ]
        );
    }

    #[test]
    fn nothing_temporary_is_left() {
        let folder = tempfile::tempdir().unwrap();
        write_atomic(&folder.path().join("a"), b"1", &NoHooks).unwrap();
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
    }

    #[test]
    fn a_missing_folder_is_named() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("nowhere").join("a");
        let message = write_atomic(&path, b"1", &NoHooks).unwrap_err().to_string();
        assert!(message.contains("nowhere"), "{message}");
    }
}
