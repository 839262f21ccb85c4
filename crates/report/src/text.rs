//! Plain-text tables that fit a terminal of 80 columns.

/// Widest line that [`TextTable::render`] and [`wrap`] give by default.
pub const TERMINAL_WIDTH: usize = 80;

/// Fewest characters left for a text column before lines grow too long instead.
const NARROWEST: usize = 12;
const GAP: &str = "  ";

/// Side on which a column's texts line up.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Align {
    /// Words.
    Left,
    /// Figures.
    Right,
}

/// Rows of texts in aligned columns. The widest left-aligned column is wrapped so that
/// every line fits into [`TERMINAL_WIDTH`].
#[derive(Debug, Clone)]
pub struct TextTable {
    headings: Vec<(String, Align)>,
    rows: Vec<Vec<String>>,
}

impl TextTable {
    /// Table with these headings; empty headings throughout give no heading line.
    pub fn new(headings: &[(&str, Align)]) -> Self {
        let owned = |(text, align): &(&str, Align)| ((*text).to_owned(), *align);
        TextTable {
            headings: headings.iter().map(owned).collect(),
            rows: Vec::new(),
        }
    }

    /// Adds a row; missing cells are empty, surplus cells are dropped.
    pub fn row<T: Into<String>>(&mut self, cells: impl IntoIterator<Item = T>) {
        let mut row: Vec<String> = cells.into_iter().map(Into::into).collect();
        row.resize(self.headings.len(), String::new());
        self.rows.push(row);
    }

    /// Headings and the sides their columns line up on.
    pub(crate) fn headings(&self) -> &[(String, Align)] {
        &self.headings
    }

    /// Whether any column has a heading.
    pub(crate) fn has_headings(&self) -> bool {
        self.headings.iter().any(|(text, _)| !text.is_empty())
    }

    /// The rows, each with a cell per heading.
    pub(crate) fn rows(&self) -> &[Vec<String>] {
        &self.rows
    }

    /// The table as lines, each ended by a line feed, without trailing blanks.
    pub fn render(&self) -> String {
        let widths = self.widths();
        let mut out = String::new();
        let headings: Vec<String> = self.headings.iter().map(|(text, _)| text.clone()).collect();
        if self.has_headings() {
            self.render_row(&headings, &widths, &mut out);
            let rule: Vec<String> = widths.iter().map(|width| "-".repeat(*width)).collect();
            out.push_str(&rule.join(GAP));
            out.push('\n');
        }
        for row in &self.rows {
            self.render_row(row, &widths, &mut out);
        }
        out
    }

    fn widths(&self) -> Vec<usize> {
        let mut widths: Vec<usize> = (0..self.headings.len())
            .map(|place| self.natural_width(place))
            .collect();
        let gaps = GAP.len() * widths.len().saturating_sub(1);
        let total = widths.iter().sum::<usize>() + gaps;
        let excess = total.saturating_sub(TERMINAL_WIDTH);
        let widest = (0..widths.len())
            .filter(|place| self.headings[*place].1 == Align::Left)
            .max_by_key(|place| widths[*place]);
        if let (true, Some(place)) = (excess > 0, widest) {
            widths[place] = widths[place].saturating_sub(excess).max(NARROWEST);
        }
        widths
    }

    fn natural_width(&self, place: usize) -> usize {
        self.rows
            .iter()
            .map(|row| row[place].chars().count())
            .chain([self.headings[place].0.chars().count()])
            .max()
            .unwrap_or(0)
    }

    fn render_row(&self, cells: &[String], widths: &[usize], out: &mut String) {
        let wrapped: Vec<Vec<String>> = cells
            .iter()
            .zip(widths)
            .map(|(cell, width)| wrap(cell, *width))
            .collect();
        let height = wrapped.iter().map(Vec::len).max().unwrap_or(0).max(1);
        for line in 0..height {
            let parts: Vec<String> = (0..widths.len())
                .map(|place| {
                    let text = wrapped[place].get(line).map_or("", String::as_str);
                    padded(text, widths[place], self.headings[place].1)
                })
                .collect();
            out.push_str(parts.join(GAP).trim_end());
            out.push('\n');
        }
    }
}

/// Breaks `text` between words into lines of at most `width` characters. A longer word
/// is broken where the line ends.
pub fn wrap(text: &str, width: usize) -> Vec<String> {
    let width = width.max(1);
    let mut lines: Vec<String> = Vec::new();
    let mut line = String::new();
    for word in text.split_whitespace().flat_map(|word| pieces(word, width)) {
        let needed = line.chars().count() + word.chars().count() + 1;
        if !line.is_empty() && needed > width {
            lines.push(std::mem::take(&mut line));
        }
        if !line.is_empty() {
            line.push(' ');
        }
        line.push_str(&word);
    }
    if !line.is_empty() {
        lines.push(line);
    }
    lines
}

fn pieces(word: &str, width: usize) -> Vec<String> {
    let letters: Vec<char> = word.chars().collect();
    letters
        .chunks(width)
        .map(|piece| piece.iter().collect())
        .collect()
}

fn padded(text: &str, width: usize, align: Align) -> String {
    match align {
        Align::Left => format!("{text:<width$}"),
        Align::Right => format!("{text:>width$}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn figures_line_up_on_the_right() {
        let mut table = TextTable::new(&[("item", Align::Left), ("USD", Align::Right)]);
        table.row(["steel", "12,300"]);
        table.row(["glass", "950"]);
        let wanted = "item      USD\n-----  ------\nsteel  12,300\nglass     950\n";
        assert_eq!(table.render(), wanted);
    }

    #[test]
    fn a_long_text_is_wrapped_beside_its_figures() {
        let mut table = TextTable::new(&[("", Align::Left), ("", Align::Right)]);
        table.row([&"word ".repeat(30), "1.0"]);
        let text = table.render();
        assert_eq!(text.lines().count(), 2);
        assert!(text.lines().next().unwrap().ends_with("1.0"));
    }

    proptest! {
        #[test]
        fn no_line_is_longer_than_the_terminal(
            rows in proptest::collection::vec((".{0,200}", "[0-9]{0,9}"), 1..6)
        ) {
            let mut table = TextTable::new(&[("what", Align::Left), ("how much", Align::Right)]);
            for (text, figure) in &rows {
                table.row([text, figure]);
            }
            for line in table.render().lines() {
                prop_assert!(line.chars().count() <= TERMINAL_WIDTH, "{line}");
            }
        }

        #[test]
        fn wrapping_keeps_every_letter(text in "[a-z ]{0,120}", width in 1usize..30) {
            let kept: String = wrap(&text, width).concat().replace(' ', "");
            prop_assert_eq!(kept, text.replace(' ', ""));
        }
    }
}
