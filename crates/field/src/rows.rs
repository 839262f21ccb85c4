//! Rows that follow the bearing, and the places of strings along them.
//!
//! With a the azimuth of a place from the centre line of a half-plane, strings bear a quarter turn
//! clockwise of that line plus k·a. The curves that run along these bearings are
//! r(a) = r₀·cos((1−k)·a)^(−1/(1−k)): straight lines for k = 0, circles for k = 1. They keep their
//! distance: where the row r₀ and the next one are Δ apart on the centre line they are
//! Δ·cos((1−k)·a)^(−k/(1−k)) apart elsewhere, never less.
//!
//! A surround field has two half-planes, front and back, each with its own rows; no string crosses
//! the seam.

use std::f64::consts::{FRAC_PI_2, PI};

use crate::layout::Spot;
use crate::site::wrapped_rad;
use crate::string_field::StringField;

/// What a row may bend in one step of following it [rad].
const BEND_PER_STEP_RAD: f64 = 0.4;

/// Closer to 1 than this a share makes circles.
const CIRCLE_WITHIN: f64 = 1e-9;

/// Rows on both sides of the seam through the tower that is square to `centre_rad`.
pub(crate) fn lay(field: &StringField, centre_rad: f64, share: f64, spots: &mut Vec<Spot>) {
    for centre_rad in [centre_rad, centre_rad + PI] {
        let half = HalfPlane {
            field,
            centre_rad,
            share,
        };
        if let Some(reach_rad) = half.reach_rad() {
            half.lay(reach_rad, spots);
        }
    }
}

/// The half-plane around one direction from the tower, with its family of rows.
struct HalfPlane<'a> {
    field: &'a StringField,
    centre_rad: f64,
    share: f64,
}

/// A point of a row, clockwise of the centre line and out along it from the tower.
#[derive(Clone, Copy)]
struct Point {
    sideways_m: f64,
    forwards_m: f64,
}

impl HalfPlane<'_> {
    /// Largest azimuth from the centre line, either way, that the sector reaches in this
    /// half-plane; none if the sector lies outside it.
    fn reach_rad(&self) -> Option<f64> {
        let half_rad = self.field.sector_half_rad;
        let off_rad = wrapped_rad(self.centre_rad - self.field.sector_centre_azimuth_rad);
        let seams = [-FRAC_PI_2, FRAC_PI_2];
        if seams
            .into_iter()
            .any(|seam_rad| wrapped_rad(off_rad + seam_rad).abs() <= half_rad)
        {
            return Some(FRAC_PI_2);
        }
        [half_rad, -half_rad]
            .map(|edge_rad| wrapped_rad(edge_rad - off_rad).abs())
            .into_iter()
            .filter(|edge_rad| *edge_rad <= FRAC_PI_2)
            .reduce(f64::max)
    }

    fn lay(&self, reach_rad: f64, spots: &mut Vec<Spot>) {
        let lowest_m = self.field.inner_radius_m / row_growth(self.share, reach_rad);
        let mut start_m = lowest_m.max(0.5 * self.field.row_spacing_m);
        let mut row = 0;
        let mut side = Vec::new();
        while start_m <= self.field.outer_radius_m {
            self.walk(start_m, row, reach_rad, &mut side);
            self.emit(row, &side, spots);
            start_m += self.gap_behind_m(start_m, row);
            row += 1;
        }
    }

    /// Distance on the centre line from the row at `start_m` to the next one: its clear spacing,
    /// what the ends of straight strings stand out from a bent row, and the lane if there is one.
    fn gap_behind_m(&self, start_m: f64, row: usize) -> f64 {
        let length_m = self.field.string_length_m();
        let bend_per_m = self.share / start_m.max(self.field.inner_radius_m);
        let stands_out_m = 0.125 * length_m * length_m * bend_per_m;
        self.field.spacing_m(start_m) + stands_out_m + self.field.site().lane_behind_m(row)
    }

    /// Middles of the strings at and clockwise of the centre line. Rows alternate between a string
    /// and a joint on it.
    fn walk(&self, start_m: f64, row: usize, reach_rad: f64, side: &mut Vec<Point>) {
        let stride_m =
            self.field.mirrors_per_string as f64 * self.field.pitch_m + self.field.end_gap_m;
        let mut point = Point {
            sideways_m: 0.0,
            forwards_m: start_m,
        };
        if !row.is_multiple_of(2) {
            point = self.follow(point, 0.5 * stride_m);
        }
        side.clear();
        while point.azimuth_rad() <= reach_rad && point.distance_m() <= self.field.outer_radius_m {
            side.push(point);
            point = self.follow(point, stride_m);
        }
    }

    /// The point `length_m` farther along the row, by the classical fourth-order rule in steps
    /// that bend little.
    fn follow(&self, from: Point, length_m: f64) -> Point {
        let bend_rad = self.share * length_m / from.distance_m();
        let steps = (bend_rad / BEND_PER_STEP_RAD).ceil().max(1.0);
        let step_m = length_m / steps;
        (0..steps as usize).fold(from, |point, _| {
            let one = self.heading(point);
            let two = self.heading(point.moved(one, 0.5 * step_m));
            let three = self.heading(point.moved(two, 0.5 * step_m));
            let four = self.heading(point.moved(three, step_m));
            point
                .moved(one, step_m / 6.0)
                .moved(two, step_m / 3.0)
                .moved(three, step_m / 3.0)
                .moved(four, step_m / 6.0)
        })
    }

    /// Metres sideways and forwards for each metre along the row.
    fn heading(&self, point: Point) -> [f64; 2] {
        let (sin, cos) = libm::sincos(self.share * point.azimuth_rad());
        [cos, -sin]
    }

    /// Adds the row's strings from its counter-clockwise to its clockwise end.
    fn emit(&self, row: usize, side: &[Point], spots: &mut Vec<Spot>) {
        let spot = |point: &Point, sign: f64| {
            let azimuth_rad = sign * point.azimuth_rad();
            Spot {
                azimuth_rad: self.centre_rad + azimuth_rad,
                distance_m: point.distance_m(),
                bearing_rad: self.centre_rad + FRAC_PI_2 + self.share * azimuth_rad,
                seam: Some(self.centre_rad),
                row,
            }
        };
        let off_centre = |point: &&Point| point.sideways_m > 0.0;
        spots.extend(
            side.iter()
                .rev()
                .filter(off_centre)
                .map(|point| spot(point, -1.0)),
        );
        spots.extend(side.iter().map(|point| spot(point, 1.0)));
    }
}

impl Point {
    fn azimuth_rad(self) -> f64 {
        libm::atan2(self.sideways_m, self.forwards_m)
    }

    fn distance_m(self) -> f64 {
        (self.sideways_m * self.sideways_m + self.forwards_m * self.forwards_m).sqrt()
    }

    fn moved(self, heading: [f64; 2], length_m: f64) -> Self {
        Self {
            sideways_m: self.sideways_m + heading[0] * length_m,
            forwards_m: self.forwards_m + heading[1] * length_m,
        }
    }
}

/// Distance of a row from the tower at `azimuth_rad` from the centre line, over that on the line.
/// Infinite where the row never comes.
fn row_growth(share: f64, azimuth_rad: f64) -> f64 {
    let slowness = 1.0 - share;
    if slowness < CIRCLE_WITHIN {
        return 1.0;
    }
    libm::pow(libm::cos(slowness * azimuth_rad).max(0.0), -1.0 / slowness)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::layout::tests::steam_field;

    #[test]
    fn walked_rows_follow_the_closed_form() {
        let field = steam_field();
        for share in [0.0, 0.2, 1.0 / 3.0, 0.5, 0.8, 1.0] {
            let half = HalfPlane {
                field: &field,
                centre_rad: 0.3,
                share,
            };
            let mut side = Vec::new();
            half.walk(30.0, 1, 1.2, &mut side);
            assert!(side.len() > 1);
            for point in side {
                let closed_m = 30.0 * row_growth(share, point.azimuth_rad());
                assert!(
                    (point.distance_m() / closed_m - 1.0).abs() < 2e-4,
                    "{share}"
                );
            }
        }
    }

    #[test]
    fn straight_rows_space_strings_evenly() {
        let field = steam_field();
        let half = HalfPlane {
            field: &field,
            centre_rad: 0.0,
            share: 0.0,
        };
        let mut side = Vec::new();
        half.walk(40.0, 0, 1.2, &mut side);
        let stride_m = 15.0 * field.pitch_m + field.end_gap_m;
        for (index, point) in side.iter().enumerate() {
            assert!((point.sideways_m - index as f64 * stride_m).abs() < 1e-9);
            assert!((point.forwards_m - 40.0).abs() < 1e-9);
        }
    }

    #[test]
    fn the_reach_of_a_sector_is_seen_from_each_half_plane() {
        let mut field = steam_field();
        field.sector_centre_azimuth_rad = 0.0;
        field.sector_half_rad = 1.0;
        let reach = |centre_rad: f64| {
            HalfPlane {
                field: &field,
                centre_rad,
                share: 0.0,
            }
            .reach_rad()
        };
        assert_eq!(reach(0.0), Some(1.0));
        assert_eq!(reach(PI), None);
        assert_eq!(reach(FRAC_PI_2), Some(FRAC_PI_2));
        let edge_rad = reach(0.5).unwrap();
        assert!((edge_rad - 1.5).abs() < 1e-12);
    }
}
