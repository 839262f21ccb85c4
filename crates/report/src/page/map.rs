//! Designs as points of a chart, some of them as columns of a table, each telling of the other.

use maud::{Markup, html};

use crate::chart::Scale;
use crate::chart::palette::{Colour, GRID, INK, LAKE, MIST, OCHRE, SLATE};

/// Designs to be looked at one by one: the front as points, some of it as a table, all others as
/// background.
#[derive(Debug, Clone)]
pub struct DesignMap {
    /// Name of the level axis with its unit.
    pub level: String,
    /// Name of the upright axis with its unit.
    pub upright: String,
    /// Places of designs that are only background, values on both axes.
    pub background: Vec<(f64, f64)>,
    /// The chosen designs, the best first.
    pub points: Vec<MapPoint>,
    /// Names of what each chosen design tells.
    pub names: Vec<String>,
}

/// One chosen design.
#[derive(Debug, Clone)]
pub struct MapPoint {
    /// Its name, such as `design 17`.
    pub name: String,
    /// Values on both axes.
    pub place: (f64, f64),
    /// What it tells, one text per name.
    pub texts: Vec<String>,
    /// Whether it stands in the table.
    pub in_table: bool,
}

const WIDTH: f64 = 960.0;
const HEIGHT: f64 = 420.0;
const LEFT: f64 = 84.0;
const RIGHT: f64 = WIDTH - 44.0;
const TOP: f64 = 40.0;
const BOTTOM: f64 = HEIGHT - 64.0;

impl DesignMap {
    pub(super) fn html(&self) -> Markup {
        html! {
            figure.map {
                div.wide tabindex="0" { (self.drawing()) }
                figcaption {
                    "Point at a design, or step through them with the Tab key, to read it: "
                    output aria-live="polite" { (self.told(0)) }
                }
            }
            div.wide tabindex="0" { (self.table()) }
        }
    }

    /// What a chosen design tells in one line.
    fn told(&self, place: usize) -> String {
        let Some(point) = self.points.get(place) else {
            return "no design is feasible".to_owned();
        };
        let facts: Vec<String> = self
            .names
            .iter()
            .zip(&point.texts)
            .map(|(name, text)| format!("{name} {text}"))
            .collect();
        format!("{}: {}", point.name, facts.join(", "))
    }

    fn drawing(&self) -> Markup {
        let (level, upright) = self.scales();
        let at = |place: (f64, f64)| (level.at(place.0), upright.at(place.1));
        html! {
            svg viewBox=(format!("0 0 {WIDTH} {HEIGHT}")) width=(WIDTH) height=(HEIGHT) role="group" aria-label="Designs on the front" {
                (self.axes(&level, &upright))
                g fill=(hex(MIST)) aria-hidden="true" {
                    @for (x, y) in self.background.iter().map(|place| at(*place)) {
                        circle cx=(tenths(x)) cy=(tenths(y)) r="2.5" {}
                    }
                }
                @for (place, point) in self.points.iter().enumerate() {
                    (self.dot(place, at(point.place)))
                }
            }
        }
    }

    fn dot(&self, place: usize, (x, y): (f64, f64)) -> Markup {
        let told = self.told(place);
        let (radius, fill) = if place == 0 {
            ("8", OCHRE)
        } else {
            ("5", LAKE)
        };
        html! {
            circle.design tabindex="0" role="img" aria-label=(told) data-design=(place)
                cx=(tenths(x)) cy=(tenths(y)) r=(radius) fill=(hex(fill)) stroke=(hex(INK)) {
                title { (told) }
            }
        }
    }

    fn scales(&self) -> (Scale, Scale) {
        let places = || {
            self.points
                .iter()
                .map(|point| &point.place)
                .chain(&self.background)
        };
        let axis = |value: fn(&(f64, f64)) -> f64, ends: (f64, f64)| {
            let (low, high) = places()
                .map(value)
                .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| {
                    (low.min(value), high.max(value))
                });
            let (low, high) = if low <= high { (low, high) } else { (0.0, 1.0) };
            Scale::round(low, high, 7.0, ends)
        };
        (
            axis(|place| place.0, (LEFT, RIGHT)),
            axis(|place| place.1, (BOTTOM, TOP)),
        )
    }

    fn axes(&self, level: &Scale, upright: &Scale) -> Markup {
        let (grid, figures) = (hex(GRID), hex(SLATE));
        html! {
            g font-size="13" fill=(figures) aria-hidden="true" {
                @for (value, figure) in upright.marks() {
                    @let y = tenths(upright.at(value));
                    line x1=(LEFT) x2=(RIGHT) y1=(y) y2=(y) stroke=(grid) {}
                    text x=(LEFT - 8.0) y=(y) dy="0.35em" text-anchor="end" { (figure) }
                }
                @for (value, figure) in level.marks() {
                    @let x = tenths(level.at(value));
                    line x1=(x) x2=(x) y1=(TOP) y2=(BOTTOM) stroke=(grid) {}
                    text x=(x) y=(BOTTOM + 20.0) text-anchor="middle" { (figure) }
                }
                text x="0" y="16" fill=(hex(INK)) { (self.upright) }
                text x=((LEFT + RIGHT) / 2.0) y=(HEIGHT - 12.0) text-anchor="middle" fill=(hex(INK)) { (self.level) }
            }
        }
    }

    /// A column for each design of the table, a row for each thing it tells.
    fn table(&self) -> Markup {
        let chosen = || {
            self.points
                .iter()
                .enumerate()
                .filter(|(_, point)| point.in_table)
        };
        html! {
            table.designs {
                thead { tr {
                    th scope="col" { "of the front" }
                    @for (place, point) in chosen() {
                        th.number scope="col" data-design=(place) { (point.name) }
                    }
                } }
                tbody {
                    @for (row, name) in self.names.iter().enumerate() {
                        tr {
                            th scope="row" { (name) }
                            @for (place, point) in chosen() {
                                td.number data-design=(place) { (point.texts[row]) }
                            }
                        }
                    }
                }
            }
        }
    }
}

fn hex(colour: Colour) -> String {
    format!("#{:02X}{:02X}{:02X}", colour.0, colour.1, colour.2)
}

fn tenths(place: f64) -> String {
    format!("{place:.1}")
}
