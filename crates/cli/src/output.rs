//! Data to stdout, everything else to stderr; the end of the process.

use std::io::{self, Write};

use crate::exit::Exit;
use crate::failure::Failure;

/// Writes data to stdout.
pub fn data(text: &str) -> Result<Exit, Failure> {
    let mut out = io::stdout().lock();
    out.write_all(text.as_bytes())
        .and_then(|()| out.flush())
        .map_err(Failure::Output)?;
    Ok(Exit::Done)
}

/// Says one thing on stderr. That nobody listens is no failure.
pub fn say(text: &str) {
    let _ = writeln!(io::stderr().lock(), "{text}");
}

/// Turns what came out into an exit, and tells a failure with what to do about it. A reader that
/// closes stdout early has what it wanted: that is a quiet end.
pub fn conclude(ended: Result<Exit, Failure>) -> Exit {
    match ended {
        Ok(exit) => exit,
        Err(Failure::Output(error)) if error.kind() == io::ErrorKind::BrokenPipe => Exit::Done,
        Err(failure) => {
            say(&format!("error: {failure}"));
            if let Some(hint) = failure.hint() {
                say(&format!("hint: {hint}"));
            }
            failure.exit()
        }
    }
}
