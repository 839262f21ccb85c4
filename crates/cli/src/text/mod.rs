//! Results as text for a terminal.

pub mod bill;
pub mod design;
pub mod energy;
pub mod judged;
pub mod limits;
pub mod money;
pub mod search;

use report::text::{Align, TERMINAL_WIDTH, TextTable, wrap};

use crate::cautions::CAUTIONS;

/// Sections with an empty line between them.
pub fn page(sections: &[String]) -> String {
    sections.join("\n")
}

/// A heading with what stands under it.
pub fn section(heading: &str, body: &str) -> String {
    format!("{heading}\n{}\n{body}", "=".repeat(heading.chars().count()))
}

/// Names on the left, values on the right of them.
pub fn pairs<T: Into<String>>(rows: impl IntoIterator<Item = (T, String)>) -> String {
    let mut table = TextTable::new(&[("", Align::Left), ("", Align::Left)]);
    for (name, value) in rows {
        table.row([name.into(), value]);
    }
    table.render()
}

/// What every reader must be told.
pub fn cautions() -> String {
    section("Cautions", &bullets(&CAUTIONS))
}

fn bullets(points: &[&str]) -> String {
    let mut text = String::new();
    for point in points {
        for (place, line) in wrap(point, TERMINAL_WIDTH - 2).iter().enumerate() {
            text += if place == 0 { "- " } else { "  " };
            text += line;
            text.push('\n');
        }
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cautions_fit_the_terminal_and_name_each_danger() {
        let text = cautions();
        assert!(
            text.lines()
                .all(|line| line.chars().count() <= TERMINAL_WIDTH)
        );
        for danger in ["light", "Wind", "steam", "Electric", "codes", "estimate"] {
            assert!(text.contains(danger), "{danger}");
        }
    }
}
