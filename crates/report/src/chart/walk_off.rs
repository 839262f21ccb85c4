//! What becomes of a field's light when the grid fails and nothing turns its mirrors away.

use super::canvas::{BORDER, Canvas, Chart, Lettering, Place, SMALL, TEXT, draw};
use super::palette::{BRICK, Colour, INK, OCHRE, SLATE};
use super::scale::Scale;
use crate::error::ReportError;
use crate::figures;

const WIDTH: f64 = 960.0;
const HEIGHT: f64 = 560.0;
const LEFT: f64 = BORDER + 50.0;
const RIGHT: f64 = WIDTH - BORDER - 20.0;
const KW: f64 = 1e-3;
const MINUTE_S: f64 = 60.0;
/// With less of its light left the field counts as gone.
const GONE: f64 = 0.01;

/// The light some time after the grid failed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WalkStep {
    /// Time since [s].
    pub time_s: f64,
    /// Light that still enters the aperture, as a share of what did at the start.
    pub entering: f64,
    /// Irradiance of the aperture's hottest spot [W/m²].
    pub hottest_w_m2: f64,
    /// Highest irradiance beside the aperture [W/m²].
    pub beside_w_m2: f64,
}

/// Irradiance of the aperture and beside it while the sun carries the light away.
#[derive(Debug, Clone, PartialEq)]
pub struct WalkOff {
    /// The light from the start on, in order of time.
    pub course: Vec<WalkStep>,
    /// When the grid fails, such as `21 March, 13:23`.
    pub moment: String,
    /// Until half of the light and nine tenths of it have left, seconds; infinite if longer than is looked at.
    pub left_s: [f64; 2],
    /// What has to be said of concentrated light.
    pub caution: String,
}

impl WalkOff {
    /// Draws the chart.
    ///
    /// # Errors
    /// If the drawing library fails.
    pub fn draw(&self) -> Result<Chart, ReportError> {
        draw(WIDTH, HEIGHT, |canvas| self.paint(canvas))
    }

    fn paint(&self, canvas: &mut Canvas<'_>) {
        let shown = self.shown();
        let Some(last) = shown.last().filter(|last| last.time_s > 0.0) else {
            canvas.headline("No field whose light could walk off", SHOWN);
            return canvas.empty("There is no light to follow.");
        };
        let below = format!("{SHOWN}: {}", self.moment);
        let top = canvas.headline(&self.finding(), &below) + 8.0;
        name_both(canvas, top);
        let (top, bottom) = (top + 48.0, canvas.foot(&self.caution) - 52.0);
        let both = shown
            .iter()
            .flat_map(|step| [step.hottest_w_m2, step.beside_w_m2]);
        let most = both.fold(0.0, f64::max) * KW;
        let height = Scale::round(0.0, most, 5.0, (bottom, top));
        let width = Scale::exact(0.0, last.time_s / MINUTE_S, 8.0, (LEFT, RIGHT));
        height.draw_upright(canvas, LEFT, RIGHT, "irradiance [kW/m²]");
        width.draw_level(canvas, top, bottom, "since the grid failed [min]");
        self.mark_left(canvas, &width, (top, bottom));
        let curve = |of: fn(&WalkStep) -> f64| -> Vec<Place> {
            let at = |step: &WalkStep| (width.at(step.time_s / MINUTE_S), height.at(of(step) * KW));
            shown.iter().map(at).collect()
        };
        for (line, colour) in [
            (curve(|step| step.hottest_w_m2), OCHRE),
            (curve(|step| step.beside_w_m2), BRICK),
        ] {
            canvas.line(&line, colour, 3.0);
            line.iter()
                .for_each(|at| canvas.disc(*at, 4.0, colour, 1.0));
        }
    }

    /// The course until the light has gone.
    fn shown(&self) -> &[WalkStep] {
        let gone = self.course.iter().position(|step| step.entering < GONE);
        let count = gone.map_or(self.course.len(), |at| at + 1);
        &self.course[..count]
    }

    fn finding(&self) -> String {
        let beside = self.course.iter().map(|step| step.beside_w_m2);
        let beside_kw = figures::significant(beside.fold(0.0, f64::max) * KW, 2);
        let gone = if self.left_s[1].is_finite() {
            let minutes = figures::significant(self.left_s[1] / MINUTE_S, 2);
            format!("nine tenths of the light have left after {minutes} minutes")
        } else {
            "the light stays longer than is looked at".to_owned()
        };
        format!("Without grid {gone}; up to {beside_kw} kW/m² fall beside the aperture")
    }

    /// Lines where half of the light and nine tenths of it have left, as far as they are shown.
    fn mark_left(&self, canvas: &mut Canvas<'_>, width: &Scale, (top, bottom): (f64, f64)) {
        let names = ["half of the light has left", "nine tenths have left"];
        for (row, (time_s, name)) in self.left_s.iter().zip(names).enumerate() {
            let minutes = time_s / MINUTE_S;
            if !minutes.is_finite() || !width.reaches(minutes) {
                continue;
            }
            let x = width.at(minutes);
            canvas.line(&[(x, top), (x, bottom)], SLATE, 1.25);
            let lettering = Lettering::new(SMALL, INK);
            let y = top + 12.0 + 20.0 * row as f64;
            let room = RIGHT - x - 8.0;
            if lettering.width(name) < room {
                canvas.label((x + 8.0, y), name, lettering);
            } else {
                canvas.label((x - 8.0, y), name, lettering.ending());
            }
        }
    }
}

const SHOWN: &str =
    "Irradiance at the tower while mirrors stand still after the brightest hour of the year";

/// Names of both lines, beside one another above the chart.
fn name_both(canvas: &mut Canvas<'_>, y: f64) {
    let names: [(&str, Colour); 2] = [
        ("hottest spot of the aperture, not cooled", OCHRE),
        ("hottest spot beside the aperture", BRICK),
    ];
    let mut x = LEFT;
    for (name, colour) in names {
        let lettering = Lettering::new(TEXT, INK);
        canvas.disc((x, y + 8.0), 5.0, colour, 1.0);
        let wide = lettering.width(name);
        canvas.text((x + 12.0, y + 8.0), name, lettering);
        x += wide + 44.0;
    }
}
