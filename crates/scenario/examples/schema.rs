//! Prints the JSON schema: `cargo run -p scenario --example schema > scenarios/scenario.schema.json`.

use std::io::{self, Write};

fn main() -> io::Result<()> {
    writeln!(io::stdout(), "{:#}", scenario::schema())
}
