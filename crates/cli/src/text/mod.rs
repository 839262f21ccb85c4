//! Results as text for a terminal.

pub mod bill;
pub mod design;
pub mod drives;
pub mod energy;
pub mod failures;
pub mod glossary;
pub mod heliostats;
pub mod judged;
pub mod limits;
pub mod method;
pub mod money;
pub mod search;
pub mod setout;
pub mod spot;
pub mod steel;
pub mod varied;
pub mod versus;
pub mod years;

use report::Section;
use report::text::{Align, TextTable};

use crate::cautions::CAUTIONS;

/// Sections as text, with an empty line between them.
pub fn page(sections: &[Section]) -> String {
    let texts: Vec<String> = sections.iter().map(Section::render).collect();
    texts.join("\n")
}

/// Names on the left, values on the right of them.
pub fn pairs<T: Into<String>>(rows: impl IntoIterator<Item = (T, String)>) -> TextTable {
    let mut table = TextTable::new(&[("", Align::Left), ("", Align::Left)]);
    for (name, value) in rows {
        table.row([name.into(), value]);
    }
    table
}

/// What every reader must be told.
pub fn cautions() -> Section {
    Section::new("Cautions", caution_points())
}

/// What every reader must be told, point by point.
pub fn caution_points() -> Vec<String> {
    CAUTIONS.map(str::to_owned).to_vec()
}

#[cfg(test)]
mod tests {
    use report::text::TERMINAL_WIDTH;

    use super::*;

    #[test]
    fn cautions_fit_the_terminal_and_name_each_danger() {
        let text = cautions().render();
        assert!(
            text.lines()
                .all(|line| line.chars().count() <= TERMINAL_WIDTH)
        );
        for danger in ["light", "Wind", "steam", "Electric", "codes", "estimate"] {
            assert!(text.contains(danger), "{danger}");
        }
    }
}
