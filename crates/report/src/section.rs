//! What is told of a result, part by part: once as lines for a terminal, once as a page.

use crate::text::{TERMINAL_WIDTH, TextTable, wrap};

/// A heading with what stands under it.
#[derive(Debug, Clone)]
pub struct Section {
    /// The heading; none for an opening.
    pub heading: Option<String>,
    /// What stands under it, from top to bottom.
    pub parts: Vec<Part>,
}

/// One thing told under a heading.
#[derive(Debug, Clone)]
pub enum Part {
    /// Rows in columns.
    Table(TextTable),
    /// A sentence or several, broken where the line ends.
    Words(String),
    /// Points of a list.
    Points(Vec<String>),
    /// Lines kept as they are.
    Lines(String),
}

impl Section {
    /// A heading with one part under it.
    pub fn new(heading: &str, part: impl Into<Part>) -> Self {
        Self {
            heading: Some(heading.to_owned()),
            parts: vec![part.into()],
        }
    }

    /// Words without a heading.
    pub fn opening(words: impl Into<String>) -> Self {
        Self {
            heading: None,
            parts: vec![Part::Words(words.into())],
        }
    }

    /// The same section with one more part.
    #[must_use]
    pub fn and(mut self, part: impl Into<Part>) -> Self {
        self.parts.push(part.into());
        self
    }

    /// Lines of at most [`TERMINAL_WIDTH`], each ended by a line feed; an empty line stands between
    /// parts.
    pub fn render(&self) -> String {
        let heading = self.heading.as_ref().map_or_else(String::new, |heading| {
            format!("{heading}\n{}\n", "=".repeat(heading.chars().count()))
        });
        let parts: Vec<String> = self.parts.iter().map(Part::render).collect();
        heading + &parts.join("\n")
    }
}

impl Part {
    fn render(&self) -> String {
        match self {
            Part::Table(table) => table.render(),
            Part::Words(words) => lines(wrap(words, TERMINAL_WIDTH)),
            Part::Points(points) => points.iter().map(|point| bullet(point)).collect(),
            Part::Lines(lines) => lines.clone(),
        }
    }
}

impl From<TextTable> for Part {
    fn from(table: TextTable) -> Self {
        Part::Table(table)
    }
}

/// Words.
impl From<String> for Part {
    fn from(words: String) -> Self {
        Part::Words(words)
    }
}

/// Points of a list.
impl From<Vec<String>> for Part {
    fn from(points: Vec<String>) -> Self {
        Part::Points(points)
    }
}

fn bullet(point: &str) -> String {
    let wrapped = wrap(point, TERMINAL_WIDTH - 2);
    let marked = wrapped.iter().enumerate().map(|(place, line)| {
        let mark = if place == 0 { "- " } else { "  " };
        format!("{mark}{line}")
    });
    lines(marked)
}

fn lines(texts: impl IntoIterator<Item = String>) -> String {
    texts.into_iter().map(|line| line + "\n").collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::text::Align;

    #[test]
    fn parts_stand_under_their_heading() {
        let mut table = TextTable::new(&[("", Align::Left), ("", Align::Right)]);
        table.row(["steel", "12"]);
        let section = Section::new("Masses", table).and("All in tonnes.".to_owned());
        let wanted = "Masses\n======\nsteel  12\n\nAll in tonnes.\n";
        assert_eq!(section.render(), wanted);
    }

    #[test]
    fn long_points_keep_within_the_terminal_and_hang() {
        let section = Section::new("Cautions", vec!["word ".repeat(40)]);
        let text = section.render();
        assert!(
            text.lines()
                .all(|line| line.chars().count() <= TERMINAL_WIDTH)
        );
        assert!(text.lines().nth(2).unwrap().starts_with("- word"));
        assert!(text.lines().nth(3).unwrap().starts_with("  word"));
    }
}
