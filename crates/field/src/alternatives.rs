//! Several ways to lay strings over the same ground, and the best of them place by place.

use geometry::{Vec3, direction};

use crate::error::FieldError;
use crate::layout::{Places, candidates};
use crate::plan::{FirstAxis, Plan};
use crate::string_field::{BearingRule, StringField};

/// The ways strings may lie.
const RULES: [BearingRule; 5] = [
    BearingRule::Fan { share: 0.0 },
    BearingRule::Fan { share: 1.0 / 3.0 },
    BearingRule::Fan { share: 0.5 },
    BearingRule::Cross,
    BearingRule::Radial,
];

/// Overlaps smaller than this are none [m].
const SLACK_M: f64 = 1e-6;

/// Candidates that lie over one another: every way of lying with every first axis.
#[derive(Clone, Debug, PartialEq)]
pub struct Alternatives {
    /// Every way and axis as candidates of their own.
    pub laid: Vec<Places>,
    /// Every string of them, in order.
    strings: Vec<Alternative>,
}

/// One string of one way and axis.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Alternative {
    /// Which of the candidates laid, and which string of it; in one way, strings of the same number
    /// differ by their axis only.
    laid: usize,
    string: usize,
    way: usize,
    ground: Ground,
}

/// The rectangle of ground that a string needs for itself.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Ground {
    middle_m: Vec3,
    along: Vec3,
    half_length_m: f64,
    half_width_m: f64,
}

impl Alternatives {
    /// Lays strings of `field` in every way, each with every one of `axes`, whatever bearing and axis
    /// it asks for itself.
    ///
    /// # Errors
    /// A [`FieldError`] for sizes that can't be built.
    pub fn lay(field: &StringField, axes: &[FirstAxis]) -> Result<Self, FieldError> {
        let (mut all, mut strings) = (Vec::new(), Vec::new());
        for (way, bearing) in RULES.into_iter().enumerate() {
            for &first_axis in axes {
                let places = candidates(&StringField {
                    bearing,
                    first_axis,
                    ..*field
                })?;
                strings.extend((0..places.plan.strings.len()).map(|string| Alternative {
                    laid: all.len(),
                    string,
                    way,
                    ground: Ground::of(field, &places.plan, string),
                }));
                all.push(places);
            }
        }
        Ok(Self { laid: all, strings })
    }

    /// The strings that stand beside one another when the best is taken first and all that overlap it
    /// are dropped, until none is left. `scores` has one for each string of all that was laid, in
    /// order. Of equals the earlier string is taken; a score that is missing or not a number is the
    /// worst. Strings laid in one way never overlap unless they share a spot.
    #[must_use]
    pub fn best_apart(&self, scores: &[f64]) -> Places {
        let mut plan = Plan::with_room_for(0, 0);
        plan.aim_m = self
            .laid
            .first()
            .map_or(Vec3::ZERO, |places| places.plan.aim_m);
        for one in self.taken(scores) {
            plan.push_string_of(&self.laid[one.laid].plan, one.string);
        }
        Places { plan }
    }

    /// The strings taken, in the order laid.
    fn taken(&self, scores: &[f64]) -> Vec<&Alternative> {
        let mut order: Vec<usize> = (0..self.strings.len()).collect();
        let worth = |index: usize| {
            let score = scores.get(index).copied().unwrap_or(f64::NAN);
            if score.is_nan() {
                f64::NEG_INFINITY
            } else {
                score
            }
        };
        order.sort_by(|&one, &other| worth(other).total_cmp(&worth(one)).then(one.cmp(&other)));
        let mut taken: Vec<usize> = Vec::new();
        for string in order {
            let one = &self.strings[string];
            if taken
                .iter()
                .all(|&other| !one.overlaps(&self.strings[other]))
            {
                taken.push(string);
            }
        }
        taken.sort_unstable();
        taken
            .into_iter()
            .map(|string| &self.strings[string])
            .collect()
    }
}

impl Alternative {
    fn overlaps(&self, other: &Self) -> bool {
        if self.way == other.way {
            return self.string == other.string;
        }
        self.ground.overlaps(&other.ground)
    }
}

impl Ground {
    /// A string's length with the gap behind it, and the clear distance of rows where it stands.
    fn of(field: &StringField, plan: &Plan, string: usize) -> Self {
        let row = &plan.strings[string];
        let last = row.first_mirror + row.mirror_count - 1;
        let middle_m = (plan.centre_m(row.first_mirror) + plan.centre_m(last)) * 0.5;
        let middle_m = Vec3::new(middle_m.x, middle_m.y, 0.0);
        let length_m = field.mirrors_per_string as f64 * field.pitch_m + field.end_gap_m;
        Self {
            middle_m,
            along: direction::along_bearing(row.bearing_rad),
            half_length_m: 0.5 * length_m,
            half_width_m: 0.5 * field.spacing_m(middle_m.length()),
        }
    }

    /// Two rectangles lie apart if a line along a side of one parts them.
    fn overlaps(&self, other: &Self) -> bool {
        let between_m = other.middle_m - self.middle_m;
        let reach_m =
            self.half_length_m + self.half_width_m + other.half_length_m + other.half_width_m;
        if between_m.length_squared() > reach_m * reach_m {
            return false;
        }
        let across = |ground: &Self| Vec3::Z.cross(ground.along);
        [self.along, across(self), other.along, across(other)]
            .into_iter()
            .all(|axis| {
                let half_m = self.half_along_m(axis) + other.half_along_m(axis);
                between_m.dot(axis).abs() < half_m - SLACK_M
            })
    }

    /// Half of what it takes up along a horizontal direction [m].
    fn half_along_m(&self, axis: Vec3) -> f64 {
        let across = Vec3::Z.cross(self.along);
        self.half_length_m * axis.dot(self.along).abs() + self.half_width_m * axis.dot(across).abs()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::layout::tests::steam_field;

    fn laid() -> (StringField, Alternatives) {
        let field = steam_field();
        let axes = [FirstAxis::Along, FirstAxis::Across];
        let alternatives = Alternatives::lay(&field, &axes).unwrap();
        (field, alternatives)
    }

    /// When one way and axis is the best everywhere, all of it is taken and nothing that overlaps it.
    #[test]
    fn one_way_that_is_best_everywhere_is_taken_as_it_is() {
        let (field, all) = laid();
        let wanted = candidates(&StringField {
            bearing: BearingRule::Cross,
            first_axis: FirstAxis::Across,
            ..field
        })
        .unwrap();
        let is_wanted = |one: &Alternative| one.laid == 2 * 3 + 1;
        let scores: Vec<f64> = all
            .strings
            .iter()
            .map(|one| if is_wanted(one) { 2.0 } else { f64::NAN })
            .collect();
        let taken = all.taken(&scores);
        let of_wanted = taken.iter().filter(|one| is_wanted(one)).count();
        assert_eq!(of_wanted, wanted.plan.strings.len());
    }

    /// West of the tower one way earns more, east of it another: both stand, nowhere over each other.
    #[test]
    fn each_place_gets_its_best_and_nothing_overlaps() {
        let (_, all) = laid();
        let score = |one: &Alternative| {
            let is_east = one.ground.middle_m.x > 0.0;
            let is_liked = if is_east { one.way == 0 } else { one.way == 4 };
            f64::from(u8::from(is_liked)) + 1e-3 * (one.string % 7) as f64
        };
        let scores: Vec<f64> = all.strings.iter().map(score).collect();
        let taken = all.taken(&scores);
        let ways: std::collections::BTreeSet<_> = taken.iter().map(|one| one.way).collect();
        assert!(ways.contains(&0) && ways.contains(&4));
        for (at, one) in taken.iter().enumerate() {
            assert!(taken[..at].iter().all(|other| !one.overlaps(other)));
        }
        let plan = all.best_apart(&scores).plan.checked().unwrap();
        assert_eq!(plan.strings.len(), taken.len());
    }

    #[test]
    fn rectangles_overlap_where_they_do() {
        let ground = |x_m: f64, bearing_rad: f64| Ground {
            middle_m: Vec3::new(x_m, 0.0, 0.0),
            along: direction::along_bearing(bearing_rad),
            half_length_m: 10.0,
            half_width_m: 1.0,
        };
        let north = ground(0.0, 0.0);
        assert!(north.overlaps(&ground(1.9, 0.0)));
        assert!(!north.overlaps(&ground(2.0, 0.0)));
        assert!(north.overlaps(&ground(10.9, std::f64::consts::FRAC_PI_2)));
        assert!(!north.overlaps(&ground(11.0, std::f64::consts::FRAC_PI_2)));
        // A square corner reaches (10 + 1)/√2 sideways.
        assert!(north.overlaps(&ground(8.7, std::f64::consts::FRAC_PI_4)));
    }
}
