//! Where the beams of single mirrors fall on the target plane over the hours, against a tolerance.

use super::canvas::{BORDER, Canvas, Chart, Lettering, Place, SMALL, draw};
use super::palette::{BRICK, Colour, INK, LAKE, MIST, SLATE};
use super::scale::Scale;
use crate::error::ReportError;
use crate::figures;

/// One mirror's spots.
#[derive(Debug, Clone, PartialEq)]
pub struct SpotTrack {
    /// Name of the mirror.
    pub name: String,
    /// Runs of consecutive hours, each spot right and up of the aim point, millimetres.
    pub runs_mm: Vec<Vec<[f64; 2]>>,
}

impl SpotTrack {
    fn spots(&self) -> impl Iterator<Item = [f64; 2]> + '_ {
        let spots = self.runs_mm.iter().flatten().copied();
        spots.filter(|[right, up]| right.is_finite() && up.is_finite())
    }

    /// Greatest distance from the aim point.
    fn farthest_mm(&self) -> f64 {
        self.spots().map(off).fold(0.0, f64::max)
    }
}

/// Spots of surveyed mirrors on the target plane.
#[derive(Debug, Clone, PartialEq)]
pub struct SpotChart {
    /// The mirrors.
    pub tracks: Vec<SpotTrack>,
    /// Distance from the aim point that is allowed, millimetres.
    pub within_mm: Option<f64>,
    /// Which moments are shown, such as `hours of 03-21`.
    pub moments: String,
}

const WIDTH: f64 = 960.0;
const SIDE: f64 = 620.0;
const LEFT: f64 = BORDER + 52.0;
/// Mirrors drawn at most, those that stray farthest.
const MOST: usize = 120;
/// Mirrors named at most.
const NAMED: usize = 14;
const ROW: f64 = 19.0;

fn off([right, up]: [f64; 2]) -> f64 {
    libm::hypot(right, up)
}

impl SpotChart {
    /// Draws the chart.
    ///
    /// # Errors
    /// If the drawing library fails.
    pub fn draw(&self) -> Result<Chart, ReportError> {
        draw(WIDTH, 860.0, |canvas| self.paint(canvas))
    }

    fn paint(&self, canvas: &mut Canvas<'_>) {
        let shown = format!(
            "Where the middle of each mirror's beam meets the target plane, seen from the field; {}",
            self.moments
        );
        let mut tracks: Vec<&SpotTrack> = self.tracks.iter().collect();
        if tracks.iter().all(|track| track.spots().next().is_none()) {
            canvas.headline("No beam meets the target plane", &shown);
            canvas.empty("There is no spot to show.");
            return;
        }
        tracks.sort_by(|one, other| other.farthest_mm().total_cmp(&one.farthest_mm()));
        let drawn = &tracks[..tracks.len().min(MOST)];
        let top = canvas.headline(&self.finding(), &shown) + 36.0;
        let reach = tracks[0]
            .farthest_mm()
            .max(self.within_mm.unwrap_or(0.0))
            .max(1.0)
            * 1.04;
        let right = Scale::exact(-reach, reach, 6.0, (LEFT, LEFT + SIDE));
        let up = Scale::exact(-reach, reach, 6.0, (top + SIDE, top));
        up.draw_upright(canvas, LEFT, LEFT + SIDE, "up along the plane [mm]");
        right.draw_level(canvas, top, top + SIDE, "right [mm]");
        let axis =
            |canvas: &mut Canvas<'_>, from: Place, to: Place| canvas.line(&[from, to], SLATE, 1.0);
        axis(canvas, (LEFT, up.at(0.0)), (LEFT + SIDE, up.at(0.0)));
        axis(canvas, (right.at(0.0), top), (right.at(0.0), top + SIDE));
        if let Some(within_mm) = self.within_mm {
            let radius = right.at(within_mm) - right.at(0.0);
            canvas.ring((right.at(0.0), up.at(0.0)), radius, INK, 1.5);
        }
        for track in drawn.iter().rev() {
            self.draw_track(canvas, track, (right, up));
        }
        self.name_farthest(canvas, drawn, top);
    }

    fn colour(&self, track: &SpotTrack) -> Colour {
        match self.within_mm {
            Some(within_mm) if track.farthest_mm() > within_mm => BRICK,
            _ => LAKE,
        }
    }

    fn draw_track(&self, canvas: &mut Canvas<'_>, track: &SpotTrack, (right, up): (Scale, Scale)) {
        let colour = self.colour(track);
        for run in &track.runs_mm {
            let places: Vec<Place> = run
                .iter()
                .filter(|[x, y]| x.is_finite() && y.is_finite())
                .map(|[x, y]| (right.at(*x), up.at(*y)))
                .collect();
            canvas.line(&places, MIST, 1.0);
            for place in places {
                canvas.disc(place, 2.5, colour, 0.85);
            }
        }
    }

    /// The mirrors that stray farthest, by name.
    fn name_farthest(&self, canvas: &mut Canvas<'_>, tracks: &[&SpotTrack], top: f64) {
        let left = LEFT + SIDE + 36.0;
        let room = WIDTH - BORDER - left;
        let heading = Lettering::new(SMALL, SLATE);
        canvas.text((left, top + 6.0), "mirror, farthest off [mm]", heading);
        for (place, track) in tracks.iter().take(NAMED).enumerate() {
            let y = top + 30.0 + place as f64 * ROW;
            let lettering = Lettering::new(SMALL, INK);
            canvas.disc((left + 4.0, y), 4.0, self.colour(track), 1.0);
            let name = lettering.fitting(&track.name, room - 76.0);
            canvas.text((left + 14.0, y), &name, lettering);
            let off = figures::grouped(track.farthest_mm(), 0);
            canvas.text((left + room, y), &off, lettering.ending());
        }
        let more = self.tracks.len().saturating_sub(NAMED);
        if more > 0 {
            let y = top + 34.0 + NAMED as f64 * ROW;
            let words = format!("and {} more", figures::counted(more, "mirror"));
            canvas.text((left, y), &words, heading);
        }
    }

    fn finding(&self) -> String {
        let all = self.tracks.len();
        let farthest_mm = self
            .tracks
            .iter()
            .map(SpotTrack::farthest_mm)
            .fold(0.0, f64::max);
        let farthest = figures::grouped(farthest_mm, 0);
        match self.within_mm {
            Some(within_mm) => {
                let stays = |track: &&SpotTrack| track.farthest_mm() <= within_mm;
                let inside = self.tracks.iter().filter(stays).count();
                format!(
                    "{} of {} stay within {} mm of their aim points; the farthest strays {farthest} mm",
                    figures::grouped(inside as f64, 0),
                    figures::counted(all, "mirror"),
                    figures::grouped(within_mm, 0),
                )
            }
            None => format!(
                "The beams of {} stray up to {farthest} mm from their aim points",
                figures::counted(all, "mirror")
            ),
        }
    }
}
