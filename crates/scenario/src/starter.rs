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

/// Columns that a comment keeps to.
const COLUMNS: usize = 80;

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
        Need::Ledger(_) => return comment(&format!("{}{range}", key.help)),
    };
    let told = comment(&format!("{}{range}", key.help));
    format!("{told}{mark}{} = {}\n", key.name(), as_toml(key, value))
}

/// Words as lines of a comment; those after the first are set in.
fn comment(words: &str) -> String {
    let mut lines = vec!["#".to_owned()];
    for word in words.split_whitespace() {
        let last = lines.len() - 1;
        if lines[last].chars().count() + 1 + word.chars().count() > COLUMNS {
            lines.push(format!("#   {word}"));
        } else {
            lines[last] += &format!(" {word}");
        }
    }
    lines.join("\n") + "\n"
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Folded comments say the same words.
    #[test]
    fn comments_keep_to_the_width() {
        for key in table::keys() {
            let told = comment(key.help);
            assert!(
                told.lines().all(|line| line.chars().count() <= COLUMNS),
                "{told}"
            );
            let words = told.lines().flat_map(|line| line[1..].split_whitespace());
            assert!(words.eq(key.help.split_whitespace()), "{told}");
        }
    }
}
