//! A commented scenario to start from.

use crate::key::{Key, Need};
use crate::load::as_toml;
use crate::table;

/// Keys that may be left out for others, but are given here.
const SHOWN: [&str; 4] = [
    "weather.monthly_dni",
    "weather.monthly_temperature",
    "heat.delivery_pressure",
    "heat.condensate_temperature",
];

/// A scenario file that loads, with every key, its help and its default, generated from the
/// declaration of the keys. Keys that may be left out are commented out.
#[must_use]
pub fn starter() -> String {
    let mut text = String::from(
        "# A scenario. Every value carries its unit; lines that begin with # show defaults.\n",
    );
    for (section, keys) in sections() {
        if !section.is_empty() {
            text += &format!("\n[{section}]\n");
        }
        for key in keys {
            text += &key_lines(key);
        }
    }
    text
}

/// The keys of each section together, sections in the order in which they first come.
fn sections() -> Vec<(&'static str, Vec<&'static Key>)> {
    let mut sections: Vec<(&str, Vec<&Key>)> = Vec::new();
    for key in table::keys() {
        match sections.iter_mut().find(|(name, _)| *name == key.section()) {
            Some((_, keys)) => keys.push(key),
            None => sections.push((key.section(), vec![key])),
        }
    }
    sections
}

fn key_lines(key: &Key) -> String {
    let range = key
        .range_text()
        .map_or_else(String::new, |range| format!(" {range}."));
    let is_shown = SHOWN.contains(&key.path);
    let (mark, value) = match key.need {
        Need::Required(example) => ("", example),
        Need::Optional(example) if is_shown => ("", example),
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
