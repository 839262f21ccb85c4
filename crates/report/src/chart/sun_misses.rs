//! A value over all suns of the year, on the axes in which one sees the sun: azimuth and elevation.

use super::canvas::{BORDER, Canvas, Chart, Lettering, Place, SMALL, draw};
use super::palette::{INK, OCHRE, PAPER};
use super::scale::Scale;
use super::shade::Shade;
use crate::error::ReportError;
use crate::figures;

/// The sun at one hour of one day, and the value under it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SunMiss {
    /// Azimuth, degrees clockwise from north; below 0 or above 360 where that keeps a day unbroken.
    pub azimuth_deg: f64,
    /// Elevation, degrees.
    pub elevation_deg: f64,
    /// Beam error, root mean square over the mirrors looked at, milliradians.
    pub miss_mrad: f64,
}

/// Beam errors of shared drives over the suns of a year.
#[derive(Debug, Clone, PartialEq)]
pub struct SunMisses {
    /// Days from one solstice to the other, each with as many points as there are hours.
    pub days: Vec<Vec<SunMiss>>,
    /// Solar time of each point of a day, hours.
    pub hours: Vec<f64>,
    /// Days that are drawn as lines: place in `days` and name.
    pub named_days: Vec<(usize, String)>,
    /// Suns under which mirrors are set: azimuth and elevation, degrees.
    pub alignments_deg: Vec<[f64; 2]>,
    /// The field works while the sun stands higher, degrees.
    pub lowest_deg: f64,
    /// Beam error, root mean square over the year's sun, milliradians.
    pub yearly_mrad: f64,
    /// The same of the best common turn of a string's mirrors under every sun, milliradians.
    pub bound_mrad: f64,
    /// Sunny hours of the year in which mirrors stand at the stops of their mounts, all mirrors together.
    pub stopped_mirror_h: f64,
    /// Share of the year's direct sun that comes while they do.
    pub stopped_share: f64,
}

const WIDTH: f64 = 960.0;
const HEIGHT: f64 = 640.0;
const LEFT: f64 = BORDER + 44.0;
const RIGHT: f64 = WIDTH - BORDER - 150.0;
/// Patches wider than this lie around the north or the zenith.
const WIDEST_DEG: f64 = 90.0;
const SHOWN: &str = "Angle by which reflected beams miss their aim, root mean square over the mirrors, for every \
                     sun of the year";

/// The ways from angles to places on the sheet.
#[derive(Clone, Copy)]
struct Sky {
    azimuth: Scale,
    elevation: Scale,
}

impl Sky {
    fn at(&self, [azimuth_deg, elevation_deg]: [f64; 2]) -> Place {
        (
            self.azimuth.at(azimuth_deg),
            self.elevation.at(elevation_deg),
        )
    }
}

/// A patch of sky between two days and two hours, as far as it lies high enough.
struct Cell {
    /// Azimuth and elevation of its corners.
    corners_deg: Vec<[f64; 2]>,
    /// Mean value of its corners.
    miss_mrad: f64,
}

impl SunMiss {
    const fn at_deg(&self) -> [f64; 2] {
        [self.azimuth_deg, self.elevation_deg]
    }
}

impl SunMisses {
    /// Draws the chart.
    ///
    /// # Errors
    /// If the drawing library fails.
    pub fn draw(&self) -> Result<Chart, ReportError> {
        draw(WIDTH, HEIGHT, |canvas| self.paint(canvas))
    }

    fn paint(&self, canvas: &mut Canvas<'_>) {
        let cells = self.cells();
        if cells.is_empty() {
            canvas.headline("No string to follow the sun with", SHOWN);
            canvas.empty("There is no beam to show.");
            return;
        }
        let top = canvas.headline(&self.finding(), SHOWN) + 36.0;
        let bottom = canvas.foot(&self.left_out()) - 52.0;
        let corners = || cells.iter().flat_map(|cell| &cell.corners_deg);
        let least = |axis: usize| corners().map(|at| at[axis]).fold(f64::INFINITY, f64::min);
        let most = |axis: usize| {
            corners()
                .map(|at| at[axis])
                .fold(f64::NEG_INFINITY, f64::max)
        };
        let (west, east, highest) = (least(0), most(0), most(1));
        let sky = Sky {
            azimuth: Scale::round(west, east, 8.0, (LEFT, RIGHT)),
            elevation: Scale::round(0.0, highest, 6.0, (bottom, top)),
        };
        let name = "sun's elevation [°]";
        sky.elevation.draw_upright(canvas, LEFT, RIGHT, name);
        let name = "sun's azimuth, clockwise from north [°]";
        sky.azimuth.draw_level(canvas, top, bottom, name);
        let shade = Shade::of(cells.iter().map(|cell| cell.miss_mrad));
        for cell in &cells {
            let mut outline: Vec<Place> = cell.corners_deg.iter().map(|at| sky.at(*at)).collect();
            let colour = shade.colour(cell.miss_mrad);
            canvas.fill(&outline, colour);
            // Its edge in the same colour: no seam shows.
            outline.extend(outline.first().copied());
            canvas.line(&outline, colour, 1.0);
        }
        self.draw_hours(canvas, sky);
        self.draw_days(canvas, sky);
        self.mark_alignments(canvas, sky);
        shade.draw_bar(
            canvas,
            (RIGHT + 40.0, top),
            200.0,
            ["beams miss by", "[mrad]"],
        );
    }

    fn is_up(&self, point: &SunMiss) -> bool {
        point.elevation_deg >= self.lowest_deg && point.miss_mrad.is_finite()
    }

    fn cells(&self) -> Vec<Cell> {
        let mut cells = Vec::new();
        for pair in self.days.windows(2) {
            for (early, late) in pair[0].windows(2).zip(pair[1].windows(2)) {
                cells.extend(self.cell([early[0], early[1], late[1], late[0]]));
            }
        }
        cells
    }

    /// The patch between four points; none if it lies too low, or around the north or the zenith.
    fn cell(&self, corners: [SunMiss; 4]) -> Option<Cell> {
        let is_known = corners.iter().all(|point| point.miss_mrad.is_finite());
        let width_deg = |point: &SunMiss| (point.azimuth_deg - corners[0].azimuth_deg).abs();
        if !is_known || corners.iter().any(|point| width_deg(point) > WIDEST_DEG) {
            return None;
        }
        let corners_deg = above(&corners.map(|point| point.at_deg()), self.lowest_deg);
        let sum: f64 = corners.iter().map(|point| point.miss_mrad).sum();
        (corners_deg.len() > 2).then(|| Cell {
            corners_deg,
            miss_mrad: sum / corners.len() as f64,
        })
    }

    /// The runs of a line that lie high enough and inside the sky drawn, ended where they cross the lowest
    /// elevation, parted where the line goes round the north or the zenith.
    fn runs_above(&self, points: &[[f64; 2]], sky: Sky) -> Vec<Vec<Place>> {
        let mut runs: Vec<Vec<[f64; 2]>> = Vec::new();
        for pair in points.windows(2) {
            let is_near = (pair[1][0] - pair[0][0]).abs() <= WIDEST_DEG;
            let is_drawn = is_near && pair.iter().all(|at| sky.azimuth.reaches(at[0]));
            let ends = clipped(pair[0], pair[1], self.lowest_deg).filter(|_| is_drawn);
            let Some([from, to]) = ends else {
                continue;
            };
            match runs.last_mut().filter(|run| run.last() == Some(&from)) {
                Some(run) => run.push(to),
                None => runs.push(vec![from, to]),
            }
        }
        let placed = |run: Vec<[f64; 2]>| run.into_iter().map(|at| sky.at(at)).collect();
        runs.into_iter().map(placed).collect()
    }

    /// What the chart leaves out.
    fn left_out(&self) -> String {
        if self.stopped_mirror_h <= 0.0 {
            return "No mirror comes to the stops of its mount.".to_owned();
        }
        format!(
            "Left out: mirrors at the stops of their mounts, about {} mirror-hours in the year, with {} of its direct \
             sun.",
            figures::grouped(self.stopped_mirror_h, 0),
            figures::percent(self.stopped_share, 2)
        )
    }

    fn finding(&self) -> String {
        let up = self.days.iter().flatten().filter(|point| self.is_up(point));
        let worst = up.map(|point| point.miss_mrad).fold(0.0, f64::max);
        format!(
            "Beams miss by {} mrad over the year, by {} mrad under the worst sun; by the best common turn there is they \
             would by {} over the year",
            figures::significant(self.yearly_mrad, 2),
            figures::significant(worst, 2),
            figures::significant(self.bound_mrad, 2)
        )
    }

    /// Lines at every second full hour, named beside the longest day.
    fn draw_hours(&self, canvas: &mut Canvas<'_>, sky: Sky) {
        for (place, hour) in self.hours.iter().enumerate() {
            if (hour / 2.0).fract().abs() > 1e-9 {
                continue;
            }
            let points: Vec<[f64; 2]> = self
                .days
                .iter()
                .filter_map(|day| day.get(place))
                .map(SunMiss::at_deg)
                .collect();
            let runs = self.runs_above(&points, sky);
            for run in &runs {
                canvas.line(run, PAPER, 1.0);
            }
            let high = runs.iter().flatten().min_by(|a, b| a.1.total_cmp(&b.1));
            if let Some((x, y)) = high {
                // Outwards of the curve: left before noon, right after it.
                let aside = (hour - 12.0).clamp(-3.0, 3.0) / 3.0 * 22.0;
                let lettering = Lettering::new(SMALL, INK).centred();
                canvas.label((x + aside, y - 11.0), &format!("{hour:.0} h"), lettering);
            }
        }
    }

    /// Lines of some days, named below the place where the field stops.
    fn draw_days(&self, canvas: &mut Canvas<'_>, sky: Sky) {
        for (day, name) in &self.named_days {
            let points = self.days.get(*day).map_or(&[][..], Vec::as_slice);
            let points: Vec<[f64; 2]> = points.iter().map(SunMiss::at_deg).collect();
            let runs = self.runs_above(&points, sky);
            for run in &runs {
                canvas.line(run, INK, 1.25);
            }
            if let Some((x, y)) = runs.last().and_then(|run| run.last()) {
                let lettering = Lettering::new(SMALL, INK).centred();
                canvas.text((*x, y + 14.0), name, lettering);
            }
        }
    }

    /// Suns under which mirrors are set, the one farthest west named.
    fn mark_alignments(&self, canvas: &mut Canvas<'_>, sky: Sky) {
        let is_shown = |at: &&[f64; 2]| sky.azimuth.reaches(at[0]) && sky.elevation.reaches(at[1]);
        let shown = self.alignments_deg.iter().filter(is_shown);
        let places: Vec<Place> = shown.map(|at| sky.at(*at)).collect();
        for &at in &places {
            canvas.disc(at, 6.0, OCHRE, 1.0);
            canvas.ring(at, 6.0, INK, 1.5);
        }
        if let Some(at) = places.iter().max_by(|one, other| one.0.total_cmp(&other.0)) {
            let lettering = Lettering::new(SMALL, INK).bold();
            canvas.label((at.0 + 14.0, at.1), "mirrors set", lettering);
        }
    }
}

/// What of a polygon lies at or above a height (Sutherland & Hodgman, Commun. ACM 17(1), 1974).
fn above(corners: &[[f64; 2]], lowest_deg: f64) -> Vec<[f64; 2]> {
    let mut left = Vec::with_capacity(corners.len() + 2);
    for (place, &from) in corners.iter().enumerate() {
        let to = corners[(place + 1) % corners.len()];
        if let Some([from, to]) = clipped(from, to, lowest_deg) {
            if left.last() != Some(&from) {
                left.push(from);
            }
            left.push(to);
        }
    }
    if left.len() > 1 && left.first() == left.last() {
        left.pop();
    }
    left
}

/// What of a line lies at or above a height.
fn clipped(from: [f64; 2], to: [f64; 2], lowest_deg: f64) -> Option<[[f64; 2]; 2]> {
    let crossing = || {
        let share = (lowest_deg - from[1]) / (to[1] - from[1]);
        [from[0] + share * (to[0] - from[0]), lowest_deg]
    };
    match (from[1] >= lowest_deg, to[1] >= lowest_deg) {
        (true, true) => Some([from, to]),
        (true, false) => Some([from, crossing()]),
        (false, true) => Some([crossing(), to]),
        (false, false) => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn patches_are_cut_at_the_lowest_sun() {
        let square = [[0.0, 0.0], [10.0, 0.0], [10.0, 10.0], [0.0, 10.0]];
        let cut = above(&square, 4.0);
        assert_eq!(cut, [[10.0, 4.0], [10.0, 10.0], [0.0, 10.0], [0.0, 4.0]]);
        assert_eq!(above(&square, -1.0).len(), 4);
        assert!(above(&square, 11.0).is_empty());
    }
}
