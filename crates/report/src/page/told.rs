//! Sections as they stand on the page.

use maud::{Markup, html};

use crate::section::{Part, Section};
use crate::text::{Align, TextTable};

/// A section in full.
pub(super) fn open(section: &Section) -> Markup {
    html! {
        section.told {
            @if let Some(heading) = &section.heading { h3 { (heading) } }
            @for part in &section.parts { (shown(part)) }
        }
    }
}

/// A section folded under its heading.
pub(super) fn folded(section: &Section) -> Markup {
    html! {
        details.told {
            summary { (section.heading.as_deref().unwrap_or("More")) }
            @for part in &section.parts { (shown(part)) }
        }
    }
}

fn shown(part: &Part) -> Markup {
    match part {
        Part::Table(table) => self::table(table),
        Part::Words(words) => html! { p { (typed(words)) } },
        Part::Points(points) => html! { ul { @for point in points { li { (typed(point)) } } } },
        Part::Lines(lines) => html! { pre { (lines) } },
    }
}

/// Words, with what is to be typed or is a name in code, between backticks, set apart.
pub(super) fn typed(words: &str) -> Markup {
    html! {
        @for (place, piece) in words.split('`').enumerate() {
            @if place % 2 == 0 { (piece) } @else { code { (piece) } }
        }
    }
}

/// Letters from which a cell holds a sentence, which wants room of its own.
const SENTENCE: usize = 60;

/// A table; its first column names the row.
fn table(table: &TextTable) -> Markup {
    let class = |align: Align| (align == Align::Right).then_some("number");
    let kind = |cell: &str, align: Align| {
        let is_sentence = cell.chars().count() > SENTENCE;
        class(align).or_else(|| is_sentence.then_some("sentence"))
    };
    html! {
        div.wide tabindex="0" {
            table {
                @if table.has_headings() {
                    thead { tr {
                        @for (heading, align) in table.headings() {
                            th scope="col" class=[class(*align)] { (heading) }
                        }
                    } }
                }
                tbody {
                    @for row in table.rows() {
                        tr {
                            @for (place, (cell, (_, align))) in row.iter().zip(table.headings()).enumerate() {
                                @if place == 0 { th scope="row" { (cell) } }
                                @else { td class=[kind(cell, *align)] { (typed(cell)) } }
                            }
                        }
                    }
                }
            }
        }
    }
}
