//! Room between the panels of a string wherever it goes: under the sun, on the way to stow, and where
//! its stops hold it.
//!
//! Stops are set, string by string, at the travel that its own suns and its own way to stow ask for, and
//! no farther than its mechanism goes. A drive that runs away may stand at any end of that travel, with
//! both motions as far as they go, where no sun would ever have it. Stops of all strings as far as the
//! mechanism goes were tried: they refuse strings in line with the sun below 1.3 sides of pitch for
//! postures at which a limit switch has long ended the motion.

use drive::Drives;
use field::{Linkage, Plan, Stance, StringRow};
use geometry::{LANES, LaneVec3, Vec3};
use sky::SunTable;

use crate::motion::vector;

/// Depth of a panel with its star, as a share of its side: panels that pass each other with more
/// than this between their planes don't touch (common practice, no source).
const PANEL_DEPTH_SHARE: f64 = 0.08;

/// Where panels are looked at on the way from the sun to stow, as shares of the way.
const WAY_SHARES: [f64; 3] = [0.25, 0.5, 0.75];

/// Stowed panels lie level.
const STOWED: [Vec3; LANES] = [Vec3::Z; LANES];

/// Room between neighbouring panels of `strings` over what they need, less one: the least under all
/// node suns, on the way to stow from each of them, and at the ends of their travel.
pub(crate) fn clash_margin(
    plan: &Plan,
    drives: &Drives,
    table: &SunTable,
    strings: &[usize],
    stance: &mut Stance,
) -> f64 {
    let of_string = |string: &usize| {
        let moving = Moving {
            plan,
            drives,
            table,
            string: *string,
        };
        let tracking = moving.room_tracking(stance);
        let stowing = moving.room_stowing(stance);
        tracking.min(stowing).min(moving.room_stopped(stance))
    };
    strings.iter().map(of_string).fold(f64::INFINITY, f64::min)
}

/// One string as it moves.
struct Moving<'a> {
    plan: &'a Plan,
    drives: &'a Drives,
    table: &'a SunTable,
    string: usize,
}

impl Moving<'_> {
    fn room_tracking(&self, stance: &mut Stance) -> f64 {
        let facings = self.facings();
        self.least_room(facings, stance)
    }

    fn room_stowing(&self, stance: &mut Stance) -> f64 {
        let on_the_way = self.on_the_way();
        self.least_room(on_the_way, stance)
    }

    /// At the ends of the string's own travel. What sliding levers can reach is bounded by their length
    /// and by no stop.
    fn room_stopped(&self, stance: &mut Stance) -> f64 {
        if self.plan.strings[self.string].linkage == Linkage::SlidingLever {
            return f64::INFINITY;
        }
        let asked = self.facings().chain(self.on_the_way()).flatten();
        let ends = self.drives.ends_of_travel(self.string, asked);
        self.least_room([ends].into_iter(), stance)
    }

    /// Where each of the node suns has the reference mirror face.
    fn facings(&self) -> impl Iterator<Item = [Vec3; LANES]> {
        let suns = self.table.direction.iter();
        suns.map(|suns| self.drives.facings(self.plan, self.string, suns))
    }

    /// Facings on the straight way from where the sun had it to stow, and in stow.
    fn on_the_way(&self) -> impl Iterator<Item = [Vec3; LANES]> {
        let between = self.facings().flat_map(|facings| {
            WAY_SHARES.map(|share| facings.map(|facing| facing.lerp(Vec3::Z, share).normalize()))
        });
        between.chain([STOWED])
    }

    fn least_room(&self, facings: impl Iterator<Item = [Vec3; LANES]>, stance: &mut Stance) -> f64 {
        facings
            .map(|facings| room_facing(self.plan, self.drives, self.string, &facings, stance))
            .fold(f64::INFINITY, f64::min)
    }
}

/// Least room between the reference mirror and its neighbour in eight postures, the reference mirror facing these
/// directions.
fn room_facing(
    plan: &Plan,
    drives: &Drives,
    string: usize,
    facings: &[Vec3; LANES],
    stance: &mut Stance,
) -> f64 {
    let Some(mirror) = neighboured(&plan.strings[string]) else {
        return f64::INFINITY;
    };
    let place = mirror - plan.strings[string].first_mirror;
    drives.stand_facing(plan, string, [place], facings, stance);
    room(plan, mirror, &stance.normals[place], &stance.width_edge)
}

/// The reference mirror of a string, if there is one before it, or the next one.
fn neighboured(row: &StringRow) -> Option<usize> {
    (row.mirror_count > 1).then(|| row.reference_mirror().max(row.first_mirror + 1))
}

/// Least room between a mirror and the one before it in eight postures: when they lie nearly in one plane, the
/// distance in it over what two squares turned alike need (side over the greater of cosine and sine of the turn
/// against the line between them), less one.
fn room(plan: &Plan, mirror: usize, normals: &LaneVec3, width_edges: &LaneVec3) -> f64 {
    let step_m = plan.centre_m(mirror) - plan.centre_m(mirror - 1);
    let side_m = plan.width_m[mirror];
    (0..LANES)
        .map(|lane| {
            let normal = vector(normals, lane);
            let off_plane_m = step_m.dot(normal);
            if off_plane_m.abs() > PANEL_DEPTH_SHARE * side_m {
                return f64::INFINITY;
            }
            let in_plane_m = step_m - off_plane_m * normal;
            let edge = vector(width_edges, lane);
            let across = normal.cross(edge);
            in_plane_m.dot(edge).abs().max(in_plane_m.dot(across).abs()) / side_m - 1.0
        })
        .fold(f64::INFINITY, f64::min)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::evaluate::Scratch;
    use crate::inputs::tests::{demo, design};
    use crate::margins::Margins;
    use crate::setout::set_out;
    use crate::stand::stand;
    use geometry::direction;

    /// Strings of azimuth mounts, whose panels turn level as they stand to the rail.
    fn azimuth_mounts(pitch_ratio: &str) -> crate::Case {
        demo(&[
            ("strings.first_axis", "vertical"),
            ("strings.pitch_ratio", pitch_ratio),
            ("strings.count", "30"),
            ("heat.demand.serve_at_least", "0 %"),
        ])
    }

    /// The same strings with their mirrors drawn towards the reference mirror.
    fn closer(plan: &Plan, share: f64) -> Plan {
        let mut closer = plan.clone();
        for row in &plan.strings {
            let middle_m = plan.centre_m(row.reference_mirror());
            for mirror in row.mirrors() {
                let centre_m = middle_m.lerp(plan.centre_m(mirror), share);
                closer.x_m[mirror] = centre_m.x;
                closer.y_m[mirror] = centre_m.y;
                closer.z_m[mirror] = centre_m.z;
            }
        }
        closer
    }

    #[test]
    fn strings_that_clear_every_sun_but_clash_on_the_way_are_refused() {
        let case = azimuth_mounts("2");
        let design = design(&case);
        let roomy = set_out(&case, &design).unwrap().plan;
        let mut margins = Margins::unknown();
        let stance = &mut Stance::default();
        let tight = closer(&roomy, 1.05 / 2.0);
        let site = stand(&case, &design, tight, &mut margins, &mut Scratch::default())
            .unwrap()
            .site;
        let moving = |string: usize| Moving {
            plan: &site.plan,
            drives: &site.drives,
            table: &case.sun,
            string,
        };
        let least = |room: &mut dyn FnMut(Moving<'_>) -> f64| {
            let each = (0..site.plan.strings.len()).map(|string| room(moving(string)));
            each.fold(f64::INFINITY, f64::min)
        };
        let tracking = least(&mut |string| string.room_tracking(stance));
        assert!(tracking > 0.0, "{tracking}");
        let stowing = least(&mut |string| string.room_stowing(stance));
        assert!(stowing < -0.05, "{stowing}");
        assert_eq!(margins.most_broken().unwrap().1, stowing);
        let tight = azimuth_mounts("1.05");
        let refused = set_out(&tight, &self::design(&tight)).err().unwrap();
        assert!(refused.reason.contains("panel"), "{}", refused.reason);
    }

    /// Radial strings tip their panels along their own line. Only where both motions run on, to 75° from
    /// where mirrors were set, do neighbours come into one plane with their edges turned: there they would
    /// clash. Under their suns, on the way to stow and at the ends of the travel that these ask for they
    /// clear each other at 1.1 sides.
    #[test]
    fn radial_strings_are_judged_by_their_own_travel() {
        let case = demo(&[
            ("strings.bearing", "radial"),
            ("strings.first_axis", "across"),
            ("strings.pitch_ratio", "1.1"),
            ("strings.rail_slope", "12 deg"),
            ("strings.row_spacing", "2.5"),
            ("field.outer_radius", "2"),
            ("strings.mirrors", "7"),
            ("strings.count", "230"),
            ("heat.demand.serve_at_least", "0 %"),
        ]);
        let laid = set_out(&case, &design(&case));
        let plan = laid
            .unwrap_or_else(|refused| panic!("{}", refused.reason))
            .plan;
        let mut margins = Margins::unknown();
        let site = stand(
            &case,
            &design(&case),
            plan,
            &mut margins,
            &mut Scratch::default(),
        )
        .unwrap()
        .site;
        let stance = &mut Stance::default();
        let to_the_horizon: [Vec3; LANES] = std::array::from_fn(|way| {
            let azimuth_rad = std::f64::consts::TAU * way as f64 / LANES as f64;
            direction::from_azimuth_elevation(azimuth_rad, 0.05)
        });
        let at_mechanical_stops = (0..site.plan.strings.len())
            .map(|string| {
                let (plan, drives) = (&site.plan, &site.drives);
                room_facing(plan, drives, string, &to_the_horizon, stance)
            })
            .fold(f64::INFINITY, f64::min);
        assert!(at_mechanical_stops < -0.1, "{at_mechanical_stops}");
        assert!(
            site.motion.clash_margin > 0.05,
            "{}",
            site.motion.clash_margin
        );
    }

    /// Level squares with edges 30° off the rail, 1.28 sides apart: 1.28·cos 30° − 1 of a side is left.
    #[test]
    fn level_panels_leave_what_a_drawing_shows() {
        let case = azimuth_mounts("1.28");
        let plan = set_out(&case, &design(&case)).unwrap().plan;
        let row = &plan.strings[0];
        let along =
            (plan.centre_m(row.first_mirror + 2) - plan.centre_m(row.first_mirror)).normalize();
        let (sine, cosine) = libm::sincos(30f64.to_radians());
        let edge = along * cosine + Vec3::Z.cross(along) * sine;
        let lanes = |of: Vec3| geometry::lane::columns(&[of; LANES]);
        let wanted = 1.28 * cosine - 1.0;
        let mirror = neighboured(row).unwrap();
        let left = room(&plan, mirror, &lanes(Vec3::Z), &lanes(edge));
        assert!((left - wanted).abs() < 1e-3, "{left} {wanted}");
    }
}
