//! Labels beside the points they name, set where least is hidden.

use super::canvas::{Canvas, Lettering, Place, SMALL};
use super::palette::{INK, PAPER, SLATE};

const LINE: f64 = SMALL * 1.35;
const PADDING: f64 = 4.0;
/// How much worse a label is for each point of distance, in hidden faint marks.
const HARM_PER_POINT: f64 = 0.3;
/// Radius of the named mark, points.
const MARK: f64 = 7.5;

/// A box between its top left and bottom right corners.
#[derive(Debug, Clone, Copy)]
pub(super) struct Frame {
    pub from: Place,
    pub to: Place,
}

impl Frame {
    fn holds(&self, place: Place) -> bool {
        let (x, y) = place;
        x >= self.from.0 && x <= self.to.0 && y >= self.from.1 && y <= self.to.1
    }

    fn widened(&self, by: f64) -> Frame {
        Frame {
            from: (self.from.0 - by, self.from.1 - by),
            to: (self.to.0 + by, self.to.1 + by),
        }
    }

    fn encloses(&self, other: &Frame) -> bool {
        self.holds(other.from) && self.holds(other.to)
    }

    fn nearest(&self, place: Place) -> Place {
        (
            place.0.clamp(self.from.0, self.to.0),
            place.1.clamp(self.from.1, self.to.1),
        )
    }
}

/// Places that a label should not hide.
#[derive(Debug, Clone, Default)]
pub(super) struct Crowd {
    /// Places of background marks.
    pub faint: Vec<Place>,
    /// Places of lines, marks and labels that matter.
    pub bold: Vec<Place>,
}

impl Crowd {
    /// How much a label in `spot` would hide; one bold place weighs as much as 50 faint.
    fn hidden_by(&self, spot: Frame) -> usize {
        let spot = spot.widened(PADDING);
        let count = |places: &[Place]| places.iter().filter(|p| spot.holds(**p)).count();
        count(&self.faint) + 50 * count(&self.bold)
    }

    /// Adds places along a line.
    pub fn add_line(&mut self, line: &[Place]) {
        for pair in line.windows(2) {
            let along = |i: u32| {
                let share = f64::from(i) / 16.0;
                (
                    pair[0].0 + share * (pair[1].0 - pair[0].0),
                    pair[0].1 + share * (pair[1].1 - pair[0].1),
                )
            };
            self.bold.extend((0..=16).map(along));
        }
    }
}

/// Names the point `at` with lines of text inside `frame`, the first in bold, hiding as
/// little of the crowd as possible. The label joins the crowd, so that later labels
/// avoid it.
pub(super) fn name_point(
    canvas: &mut Canvas<'_>,
    at: Place,
    lines: &[String],
    frame: Frame,
    crowd: &mut Crowd,
) {
    let first = Lettering::new(SMALL, INK).bold();
    let rest = Lettering::new(SMALL, SLATE);
    let set = |row: usize| if row == 0 { first } else { rest };
    let widths = lines
        .iter()
        .enumerate()
        .map(|(row, text)| set(row).width(text));
    let width = widths.fold(0.0, f64::max) + 2.0 * PADDING;
    let height = lines.len() as f64 * LINE + 2.0 * PADDING;
    let label = best_spot(at, (width, height), frame, crowd);
    let leader = [on_rim(at, label.nearest(at)), label.nearest(at)];
    canvas.line(&leader, SLATE, 1.0);
    crowd.add_line(&leader);
    canvas.fill_box(label.from, label.to, PAPER);
    for (row, text) in lines.iter().enumerate() {
        let y = label.from.1 + PADDING + (row as f64 + 0.5) * LINE;
        canvas.text((label.from.0 + PADDING, y), text, set(row));
    }
    crowd.bold.extend(lattice(label));
}

fn best_spot(at: Place, size: (f64, f64), frame: Frame, crowd: &Crowd) -> Frame {
    const DIRECTIONS: [(f64, f64); 12] = [
        (1.0, -1.0),
        (1.0, 1.0),
        (-1.0, -1.0),
        (-1.0, 1.0),
        (1.0, 0.0),
        (0.0, -1.0),
        (0.0, 1.0),
        (-1.0, 0.0),
        (0.7, -1.0),
        (0.7, 1.0),
        (-0.7, -1.0),
        (-0.7, 1.0),
    ];
    let mut best: Option<(f64, Frame)> = None;
    for distance in [14.0, 28.0, 48.0, 80.0, 120.0] {
        for direction in DIRECTIONS {
            let spot = beside(at, size, direction, distance);
            let harm = crowd.hidden_by(spot) as f64 + HARM_PER_POINT * distance;
            let better = best.is_none_or(|(least, _)| harm < least);
            if better && frame.encloses(&spot) {
                best = Some((harm, spot));
            }
        }
    }
    best.map_or_else(|| beside(at, size, (1.0, -1.0), 14.0), |(_, spot)| spot)
}

/// The place on the rim of the mark at `at` towards `goal`.
fn on_rim(at: Place, goal: Place) -> Place {
    let (dx, dy) = (goal.0 - at.0, goal.1 - at.1);
    let share = MARK / (dx * dx + dy * dy).sqrt().max(MARK);
    (at.0 + share * dx, at.1 + share * dy)
}

fn beside(at: Place, size: (f64, f64), direction: (f64, f64), distance: f64) -> Frame {
    let centre_x = at.0 + direction.0 * (distance + size.0 / 2.0);
    let centre_y = at.1 + direction.1 * (distance + size.1 / 2.0);
    Frame {
        from: (centre_x - size.0 / 2.0, centre_y - size.1 / 2.0),
        to: (centre_x + size.0 / 2.0, centre_y + size.1 / 2.0),
    }
}

fn lattice(frame: Frame) -> Vec<Place> {
    let along = |a: f64, b: f64, share: usize| a + (b - a) * share as f64 / 8.0;
    (0..=8)
        .flat_map(|i| (0..=8).map(move |j| (i, j)))
        .map(|(i, j)| {
            (
                along(frame.from.0, frame.to.0, i),
                along(frame.from.1, frame.to.1, j),
            )
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    const FRAME: Frame = Frame {
        from: (0.0, 0.0),
        to: (400.0, 300.0),
    };

    #[test]
    fn labels_stay_inside_and_avoid_points() {
        let mut crowd = Crowd::default();
        crowd.add_line(&[(210.0, 100.0), (260.0, 100.0)]);
        let spot = best_spot((200.0, 120.0), (80.0, 30.0), FRAME, &crowd);
        assert!(FRAME.encloses(&spot));
        assert!(crowd.hidden_by(spot) == 0, "{spot:?}");
        let corner = best_spot((399.0, 1.0), (80.0, 30.0), FRAME, &Crowd::default());
        assert!(FRAME.encloses(&corner), "{corner:?}");
    }
}
