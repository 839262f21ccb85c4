//! Programs from outside that some checks need. Where one is missing the check says that it is
//! skipped; with `TAUTFIELD_OUTSIDE=required`, as in CI, it fails instead.

use std::path::PathBuf;
use std::process::Command;

const REQUIRED: &str = "TAUTFIELD_OUTSIDE";

/// The program of this name on the search path.
///
/// # Panics
/// When it is missing but required.
#[must_use]
pub fn program(name: &str) -> Option<PathBuf> {
    let path = std::env::var_os("PATH").unwrap_or_default();
    let found = std::env::split_paths(&path)
        .map(|folder| folder.join(name))
        .find(|file| file.is_file());
    found.or_else(|| skipped(&format!("the program {name} is not installed")))
}

/// The Python on the search path, if it has these modules.
///
/// # Panics
/// When it is missing but required.
#[must_use]
pub fn python(modules: &[&str]) -> Option<PathBuf> {
    let python = program("python3")?;
    let imports = modules.iter().map(|module| format!("import {module}\n"));
    let script: String = imports.collect();
    let tried = Command::new(&python).args(["-c", &script]).output();
    match tried {
        Ok(output) if output.status.success() => Some(python),
        _ => skipped(&format!("Python has not all of {}", modules.join(", "))),
    }
}

/// Tells that a check is skipped, and why; gives nothing.
///
/// # Panics
/// When what is missing is required.
#[must_use]
pub fn skipped<T>(why: &str) -> Option<T> {
    let required = std::env::var_os(REQUIRED).is_some_and(|value| value == "required");
    assert!(!required, "{why}, and {REQUIRED} is set to required");
    eprintln!("skipped: {why}");
    None
}
