//! A commented scenario to start from.

use crate::key::{Key, Need};
use crate::load::as_toml;
use crate::table;

/// A scenario file that loads, with every key, its help and its default, generated from the
/// declaration of the keys. Keys that may be left out are commented out.
#[must_use]
pub fn starter() -> String {
    let mut text = String::from(
        "# A scenario. Every value carries its unit; lines that begin with # show defaults.\n",
    );
    let mut section = "";
    for key in table::keys() {
        if key.section() != section {
            section = key.section();
            text += &format!("\n[{section}]\n");
        }
        text += &key_lines(key);
    }
    text
}

fn key_lines(key: &Key) -> String {
    let range = key
        .range_text()
        .map_or_else(String::new, |range| format!(" {range}."));
    let is_weather = matches!(
        key.path,
        "weather.monthly_dni" | "weather.monthly_temperature"
    );
    let (mark, value) = match key.need {
        Need::Required(example) => ("", example),
        Need::Optional(example) if is_weather => ("", example),
        Need::Optional(text) | Need::Default(text) => ("# ", text),
        Need::ByHemisphere { north, .. } => ("# ", north),
        Need::Ledger(_) => return format!("# {}{range}\n", key.help),
    };
    format!(
        "# {}{range}\n{mark}{} = {}\n",
        key.help,
        key.name(),
        as_toml(key, value)
    )
}
