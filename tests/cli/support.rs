//! Running the program, and looking into what it left.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::OnceLock;

use serde_json::Value;
use tempfile::TempDir;

/// How a process ended and what it said.
#[derive(Debug)]
pub struct Ran {
    pub code: Option<i32>,
    pub out: String,
    pub err: String,
}

/// The program, at the top of the project, away from whoever runs the tests.
pub fn tautfield() -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_tautfield"));
    command
        .current_dir(top())
        .env_remove("TAUTFIELD_CRASH_AT")
        .stdin(Stdio::null());
    command
}

/// Runs the program to its end.
pub fn run<A: AsRef<std::ffi::OsStr>>(arguments: &[A]) -> Ran {
    ran(tautfield().args(arguments))
}

/// Runs a prepared command to its end.
pub fn ran(command: &mut Command) -> Ran {
    let output = command.output().expect("the program starts");
    Ran {
        code: output.status.code(),
        out: String::from_utf8(output.stdout).expect("stdout is text"),
        err: String::from_utf8(output.stderr).expect("stderr is text"),
    }
}

/// The project's top folder.
pub fn top() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

/// A scenario of some dozen strings, searched in a second.
pub const SMALL: &str = "tests/cli/small.toml";

/// A folder that goes away with the value.
pub fn folder() -> TempDir {
    tempfile::tempdir_in(env!("CARGO_TARGET_TMPDIR")).expect("a temporary folder")
}

/// The command of a small search into a folder.
pub fn search(out: &Path) -> Command {
    let mut command = tautfield();
    command.args(["search", SMALL, "--out"]).arg(out);
    command
}

/// Tables, charts and page of a run folder by name.
pub fn results(run: &Path) -> BTreeMap<String, Vec<u8>> {
    let mut found = BTreeMap::new();
    for folder in [run.to_path_buf(), run.join("charts")] {
        for entry in fs::read_dir(&folder).into_iter().flatten() {
            let path = entry.expect("entry can be read").path();
            let kind = path.extension().and_then(|kind| kind.to_str());
            if matches!(kind, Some("parquet" | "svg" | "png" | "html")) {
                let name = path.strip_prefix(run).expect("inside the folder");
                let bytes = fs::read(&path).expect("file can be read");
                found.insert(name.display().to_string(), bytes);
            }
        }
    }
    found
}

/// What an uninterrupted small search leaves: its results and its journal.
pub struct Reference {
    pub results: BTreeMap<String, Vec<u8>>,
    pub journal: Vec<u8>,
}

/// The small search, run once for all tests.
pub fn reference() -> &'static Reference {
    static REFERENCE: OnceLock<Reference> = OnceLock::new();
    REFERENCE.get_or_init(|| {
        let folder = folder();
        let done = ran(&mut search(folder.path()));
        assert_eq!(done.code, Some(0), "{}", done.err);
        Reference {
            results: results(folder.path()),
            journal: fs::read(folder.path().join("journal")).expect("a journal"),
        }
    })
}

/// Asserts that a run folder holds the very bytes of the uninterrupted search.
pub fn assert_same_results(run: &Path, what: &str) {
    let (found, wanted) = (results(run), &reference().results);
    let names = |results: &BTreeMap<String, Vec<u8>>| results.keys().cloned().collect::<Vec<_>>();
    assert_eq!(names(&found), names(wanted), "{what}");
    for (name, bytes) in wanted {
        assert!(found[name] == *bytes, "{what}: {name} has other bytes");
    }
}

/// A JSON document printed on stdout.
pub fn json(done: &Ran) -> Value {
    serde_json::from_str(&done.out).unwrap_or_else(|error| panic!("{error}: {done:?}"))
}

/// A number inside a JSON document.
pub fn number(document: &Value, pointer: &str) -> f64 {
    let found = document.pointer(pointer).and_then(Value::as_f64);
    found.unwrap_or_else(|| panic!("{pointer} is no number"))
}

/// Writes a scenario that lies over the small one.
pub fn scenario_over_small(folder: &Path, text: &str) -> PathBuf {
    let base = top()
        .join(SMALL)
        .canonicalize()
        .expect("the small scenario");
    let path = folder.join("scenario.toml");
    let text = format!("base = {base:?}\n{text}");
    fs::write(&path, text).expect("scenario can be written");
    path
}
