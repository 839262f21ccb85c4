//! How far beams miss as strings grow longer, mechanism by mechanism, with what no mechanism can beat.

use super::canvas::{BORDER, Canvas, Chart, Lettering, Place, SMALL, TEXT, draw};
use super::palette::{INK, PARTS, SLATE};
use super::scale::Scale;
use super::sweep::spread;
use crate::error::ReportError;
use crate::figures;

/// One mechanism.
#[derive(Debug, Clone, PartialEq)]
pub struct LengthLine {
    /// Its name.
    pub name: String,
    /// Beam error at each length, root mean square over the year's sun, milliradians.
    pub miss_mrad: Vec<f64>,
}

/// Mechanisms that differ in one part.
#[derive(Debug, Clone, PartialEq)]
pub struct LengthGroup {
    /// What differs.
    pub title: String,
    /// The mechanisms.
    pub lines: Vec<LengthLine>,
}

/// Beam errors against the number of mirrors on a string.
#[derive(Debug, Clone, PartialEq)]
pub struct LengthChart {
    /// Mirrors per string, rising.
    pub mirrors: Vec<u32>,
    /// Mechanisms, group by group.
    pub groups: Vec<LengthGroup>,
    /// The least that any rotation common to a string's mirrors allows, milliradians.
    pub bound_mrad: Vec<f64>,
    /// The design's own number of mirrors.
    pub chosen: u32,
}

const WIDTH: f64 = 960.0;
const HEIGHT: f64 = 600.0;
const LEFT: f64 = BORDER + 44.0;
/// Room for names to the right of each group.
const NAMES: f64 = 138.0;
const GAP: f64 = 34.0;
const NAME_GAP: f64 = 17.0;
/// Lines that end so much above the next are cut off.
const OUTLIER: f64 = 1.8;
/// Smaller misses are none [mrad].
const EXACT_MRAD: f64 = 1e-6;
const SHOWN: &str = "Angle by which reflected beams miss their aim, root mean square over mirrors and the year's \
                     sun, against mirrors per string; strings in their places, at their pitch";

impl LengthChart {
    /// Draws the chart.
    ///
    /// # Errors
    /// If the drawing library fails.
    pub fn draw(&self) -> Result<Chart, ReportError> {
        draw(WIDTH, HEIGHT, |canvas| self.paint(canvas))
    }

    fn paint(&self, canvas: &mut Canvas<'_>) {
        let Some((&first, &last)) = self.mirrors.first().zip(self.mirrors.last()) else {
            canvas.headline("No string to lengthen", SHOWN);
            canvas.empty("There is no beam to show.");
            return;
        };
        let top = canvas.headline(&self.finding(), SHOWN) + 56.0;
        let bottom = HEIGHT - BORDER - 52.0;
        let miss = Scale::round(0.0, self.ceiling(), 6.0, (bottom, top));
        let groups = self.groups.len().max(1) as f64;
        let room = WIDTH - BORDER - LEFT - GAP * (groups - 1.0);
        let whole = room / groups;
        for (place, group) in self.groups.iter().enumerate() {
            let left = LEFT + place as f64 * (whole + GAP);
            let right = left + whole - NAMES;
            let across = Scale::exact(f64::from(first), f64::from(last), 5.0, (left, right));
            if place == 0 {
                miss.draw_upright(canvas, left, right, "beams miss by [mrad]");
            } else {
                miss.draw_grid(canvas, left, right);
            }
            across.draw_level(canvas, bottom, bottom, "mirrors per string [number]");
            let title = Lettering::new(TEXT, INK).bold();
            canvas.text((left, top - 42.0), &group.title, title);
            self.paint_group(canvas, group, (across, miss), right);
        }
    }

    fn paint_group(
        &self,
        canvas: &mut Canvas<'_>,
        group: &LengthGroup,
        axes: (Scale, Scale),
        right: f64,
    ) {
        let mut ends = Vec::new();
        for (place, line) in group.lines.iter().enumerate() {
            let colour = PARTS[place % PARTS.len()];
            let places = self.places(&line.miss_mrad, axes);
            canvas.line(&places, colour, 2.25);
            ends.push((self.end(&places, axes), self.name(line), colour));
        }
        let bound = self.places(&self.bound_mrad, axes);
        for pair in bound.windows(2) {
            dash(canvas, pair[0], pair[1]);
        }
        ends.push((self.end(&bound, axes), "any common turn".to_owned(), INK));
        ends.sort_by(|one, other| other.0.1.total_cmp(&one.0.1));
        let heights: Vec<f64> = ends.iter().map(|(end, ..)| end.1).collect();
        for ((end, name, colour), y) in ends.iter().zip(spread(&heights, NAME_GAP)) {
            canvas.line(&[*end, (right + 10.0, y)], *colour, 1.0);
            let lettering = Lettering::new(SMALL, SLATE);
            let text = lettering.fitting(name, NAMES - 14.0);
            canvas.text((right + 14.0, y), &text, lettering);
        }
    }

    /// Places along a line, as far as the axis reaches.
    fn places(&self, miss_mrad: &[f64], (across, miss): (Scale, Scale)) -> Vec<Place> {
        let points: Vec<(f64, f64)> = self
            .mirrors
            .iter()
            .zip(miss_mrad)
            .map(|(mirrors, miss_mrad)| (f64::from(*mirrors), *miss_mrad))
            .filter(|(_, miss_mrad)| miss_mrad.is_finite())
            .collect();
        let ceiling = self.ceiling();
        let mut places: Vec<Place> = Vec::new();
        let mut before: Option<(f64, f64)> = None;
        for (x, y) in points {
            if y > ceiling {
                if let Some((x0, y0)) = before {
                    let share = (ceiling - y0) / (y - y0);
                    places.push((across.at(x0 + share * (x - x0)), miss.at(ceiling)));
                }
                break;
            }
            places.push((across.at(x), miss.at(y)));
            before = Some((x, y));
        }
        places
    }

    fn end(&self, places: &[Place], (across, miss): (Scale, Scale)) -> Place {
        let origin = (across.at(f64::from(self.mirrors[0])), miss.at(0.0));
        places.last().copied().unwrap_or(origin)
    }

    /// The name, with the last value if the line is cut off.
    fn name(&self, line: &LengthLine) -> String {
        let last = line.miss_mrad.last().copied().unwrap_or(0.0);
        if last > self.ceiling() {
            format!("{}, to {}", line.name, figures::significant(last, 2))
        } else {
            line.name.clone()
        }
    }

    /// Highest value that is shown: of the upper half of the lines, those that end far above the rest are
    /// cut off.
    fn ceiling(&self) -> f64 {
        let lines = self.groups.iter().flat_map(|group| &group.lines);
        let finite = |line: &LengthLine| {
            let values = line
                .miss_mrad
                .iter()
                .copied()
                .filter(|value| value.is_finite());
            values.fold(0.0, f64::max)
        };
        let mut highest: Vec<f64> = lines.map(finite).collect();
        highest.sort_by(|one, other| other.total_cmp(one));
        let is_gap =
            |place: &usize| highest[*place] > 0.0 && highest[place - 1] > OUTLIER * highest[*place];
        match (1..=highest.len() / 2).rev().find(is_gap) {
            Some(place) => 1.15 * highest[place],
            None => highest.first().copied().unwrap_or(1.0),
        }
    }

    /// The best mechanism at the design's own length, against the bound.
    fn finding(&self) -> String {
        let at = self.mirrors.iter().enumerate();
        let at = at.min_by_key(|(_, mirrors)| mirrors.abs_diff(self.chosen));
        let Some((place, mirrors)) = at else {
            return "No string to lengthen".to_owned();
        };
        let value = |line: &LengthLine| line.miss_mrad.get(place).copied().unwrap_or(f64::NAN);
        let lines = self.groups.iter().flat_map(|group| &group.lines);
        let inside = lines.filter(|line| value(line).is_finite());
        let (exact, missing): (Vec<&LengthLine>, Vec<&LengthLine>) =
            inside.partition(|line| value(line) <= EXACT_MRAD);
        let best = missing
            .into_iter()
            .min_by(|one, other| value(one).total_cmp(&value(other)));
        let bound = self.bound_mrad.get(place).copied().unwrap_or(0.0);
        let Some(best) = best else {
            return format!("{mirrors} mirrors on a string");
        };
        let nothing = exact.first().map_or_else(String::new, |line| {
            format!("by nothing ({}) or ", line.name)
        });
        format!(
            "{} on a string miss {nothing}by {} mrad at best ({}); any common turn misses by {} or more",
            figures::counted(*mirrors as usize, "mirror"),
            figures::significant(value(best), 2),
            best.name,
            figures::significant(bound, 2)
        )
    }
}

fn dash(canvas: &mut Canvas<'_>, from: Place, to: Place) {
    let (dx, dy) = (to.0 - from.0, to.1 - from.1);
    let length = (dx * dx + dy * dy).sqrt();
    let count = (length / 9.0).floor().max(1.0) as u32;
    for step in 0..count {
        let at = |share: f64| (from.0 + dx * share, from.1 + dy * share);
        let start = f64::from(step) / f64::from(count);
        canvas.line(&[at(start), at(start + 0.55 / f64::from(count))], INK, 1.75);
    }
}
