//! A run as one page that needs nothing else: no network, no fonts, no other file.
//!
//! The page reads from top to bottom without its script, prints on A4 and Letter, and its script
//! only adds what a pointer or the keyboard asks for.

mod map;
mod told;

use maud::{DOCTYPE, Markup, PreEscaped, html};

pub use map::{DesignMap, MapPoint};

use crate::Section;
use crate::chart::Chart;

const STYLE: &str = include_str!("page.css");
const SCRIPT: &str = include_str!("page.js");

/// A whole page.
#[derive(Debug, Clone)]
pub struct Page {
    /// What the page is about.
    pub title: String,
    /// The answer, in a sentence or several.
    pub answer: String,
    /// The figures to remember.
    pub figures: Vec<KeyFigure>,
    /// All that stands behind the answer.
    pub chapters: Vec<Chapter>,
    /// Where the page comes from: program and model version, scenario hash, seed.
    pub origin: String,
}

/// A figure to remember.
#[derive(Debug, Clone)]
pub struct KeyFigure {
    /// What it is.
    pub name: String,
    /// The figure with its unit.
    pub value: String,
    /// What to hold it against.
    pub beside: String,
}

/// One matter, under its heading.
#[derive(Debug, Clone)]
pub struct Chapter {
    /// The heading.
    pub heading: String,
    /// What it is about, in a sentence or two; may be empty.
    pub lead: String,
    /// What stands under it.
    pub blocks: Vec<Block>,
}

/// A piece of a chapter.
#[derive(Debug, Clone)]
pub enum Block {
    /// What the terminal tells as well.
    Told(Section),
    /// What few will want to read at once, folded under its heading on a screen.
    Folded(Section),
    /// A chart.
    Chart(Chart),
    /// Designs to look at one by one.
    Map(DesignMap),
}

impl Page {
    /// The page as an HTML document.
    pub fn html(&self) -> String {
        let anchored = || self.chapters.iter().enumerate();
        let page = html! {
            (DOCTYPE)
            html lang="en" {
                head {
                    meta charset="utf-8";
                    meta name="viewport" content="width=device-width, initial-scale=1";
                    title { (self.title) }
                    style { (PreEscaped(STYLE)) }
                }
                body {
                    header {
                        p.kind { "A field of mirrors and what its kilowatt-hours cost" }
                        h1 { (self.title) }
                        p.answer { (self.answer) }
                        (self.key_figures())
                        nav aria-label="Chapters" {
                            @for (place, chapter) in anchored() {
                                a href={ "#" (anchor(place)) } { (chapter.heading) }
                            }
                        }
                    }
                    main {
                        @for (place, chapter) in anchored() { (chapter.html(place)) }
                    }
                    footer { p { (self.origin) } }
                    script { (PreEscaped(SCRIPT)) }
                }
            }
        };
        page.into_string()
    }

    fn key_figures(&self) -> Markup {
        html! {
            dl.figures {
                @for figure in &self.figures {
                    div {
                        dt { (figure.name) }
                        dd.value { (figure.value) }
                        dd.beside { (figure.beside) }
                    }
                }
            }
        }
    }
}

impl Chapter {
    fn html(&self, place: usize) -> Markup {
        html! {
            section.chapter id=(anchor(place)) {
                h2 { (self.heading) }
                @if !self.lead.is_empty() { p.lead { (told::typed(&self.lead)) } }
                @for block in &self.blocks { (block.html()) }
            }
        }
    }
}

impl Block {
    fn html(&self) -> Markup {
        match self {
            Block::Told(section) => told::open(section),
            Block::Folded(section) => told::folded(section),
            Block::Chart(chart) => figure(chart),
            Block::Map(map) => map.html(),
        }
    }
}

/// A chart, its texts readable to a screen reader as the texts of the drawing.
fn figure(chart: &Chart) -> Markup {
    html! { figure { div.wide tabindex="0" { (PreEscaped(&chart.svg)) } } }
}

fn anchor(place: usize) -> String {
    format!("chapter-{}", place + 1)
}

#[cfg(test)]
mod tests;
