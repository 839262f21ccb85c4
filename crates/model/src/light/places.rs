//! Places compared: what one or two mirrors say of each.

use field::{Plan, Stance, StringRow};
use geometry::{LANES, LaneVec3};
use optics::{LightSums, STEPS, Speaking};
use sky::{FewSuns, SunTable};

use super::sample::{GOLDEN, LOWEST_SHADING_SUN_RAD};
use super::{Chain, Field, Look, mirrors_of};

/// Where, in half-lengths from the middle, the mirrors stand that speak for a string when places are
/// compared: the root mean square of an even spread, so that the residual is seen.
const SPOKESMAN_SHARE: f64 = 0.577;

/// From so many strings on one mirror speaks for each, on either side by turns; two in smaller fields.
const MANY_STRINGS: usize = 600;

/// What every string of a field could earn if it stood alone, by its middle mirror under eight suns
/// of the table: enough to leave hopeless places out.
#[must_use]
pub fn first_glance(field: &Field, table: &SunTable, stance: &mut Stance) -> Vec<Earning> {
    let around = field.surroundings(LOWEST_SHADING_SUN_RAD);
    let strings = field.plan.strings.iter();
    let alone = around.of_mirrors_alone(strings.clone().map(StringRow::reference_mirror));
    let (suns, weights) = eight_suns(table);
    let mut sunlit = field.scene(&alone).under(&suns);
    strings
        .enumerate()
        .map(|(string, row)| {
            let middle = row.reference_mirror() - row.first_mirror;
            let mut sums = LightSums::default();
            let drives = field.drives;
            drives.stand_some(field.plan, string, [middle], &suns, stance);
            sunlit.add_light(string, [middle], stance, &mut sums);
            Earning::of(sums.steps_m2.map(|step_m2| {
                let suns = step_m2.iter().zip(&weights);
                suns.map(|(area_m2, weight)| area_m2 * weight).sum()
            }))
        })
        .collect()
}

/// Light of a place that comes to the aperture, and what of it enters.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Earning {
    arriving: f64,
    /// Of a mirror in the mean over the year [J].
    pub inside: f64,
}

/// Strings on each side, in place order, whose intercept counts for a place.
const NEXT_PLACES: usize = 8;

impl Earning {
    fn of(chain: Chain) -> Self {
        Self {
            arriving: chain[STEPS - 2],
            inside: chain[STEPS - 1],
        }
    }

    /// What each place earns whatever aim point it happens to get: its own light on the way, times
    /// the intercept of the places around it. Otherwise places with an aim near the aperture's
    /// middle would be preferred, and the middle would be too bright.
    #[must_use]
    pub fn without_luck(earnings: &[Self]) -> Vec<f64> {
        (0..earnings.len())
            .map(|place| {
                let first = place.saturating_sub(NEXT_PLACES);
                let last = (place + NEXT_PLACES + 1).min(earnings.len());
                let around = &earnings[first..last];
                let arriving: f64 = around.iter().map(|earning| earning.arriving).sum();
                let inside: f64 = around.iter().map(|earning| earning.inside).sum();
                earnings[place].arriving * inside / arriving.max(f64::MIN_POSITIVE)
            })
            .collect()
    }
}

/// One sun of each block of the table, with the block's DNI.
fn eight_suns(table: &SunTable) -> (LaneVec3, [f64; LANES]) {
    let mut suns = [[0.0; LANES]; 3];
    let mut weights = [0.0; LANES];
    for (lane, block) in table.direction.iter().enumerate() {
        for (axis, values) in block.iter().enumerate() {
            suns[axis][lane] = values[LANES / 2];
        }
        weights[lane] = table.dni_j_m2[lane * LANES..(lane + 1) * LANES]
            .iter()
            .sum();
    }
    (suns, weights)
}

/// What each place earns for every mirror, as one or two mirrors of its string say under few suns: enough to compare
/// places.
#[must_use]
pub fn earnings(field: &Field, few: &FewSuns, stance: &mut Stance) -> Vec<Earning> {
    let around = field.surroundings(LOWEST_SHADING_SUN_RAD);
    let Field { plan, drives, .. } = field;
    let strings = 0..plan.strings.len();
    let looks: Vec<Look> = strings.map(|string| spokesmen(plan, string)).collect();
    let suns = few.blocks().map(|(suns, _)| suns);
    let hood = around.of_mirrors_under(mirrors_of(&looks, plan), suns);
    let mut chains_j = vec![Chain::default(); looks.len()];
    for (suns, weights) in few.blocks() {
        let mut sunlit = field.scene(&hood).under(suns).quickly();
        for (look, chain_j) in looks.iter().zip(&mut chains_j) {
            let (mut sums, places) = (LightSums::default(), || look.places.iter().copied());
            let speaking = Speaking {
                times: look.times,
                ..Speaking::FOR_ITSELF
            };
            drives.stand_some(plan, look.string, places(), suns, stance);
            sunlit.add_light_for(look.string, places(), &speaking, stance, &mut sums);
            for (sum_j, step_m2) in chain_j.iter_mut().zip(&sums.steps_m2) {
                for (area_m2, dni_j_m2) in step_m2.iter().zip(weights) {
                    *sum_j += area_m2 * dni_j_m2;
                }
            }
        }
    }
    chains_j.into_iter().map(Earning::of).collect()
}

/// The mirrors that speak for a string.
fn spokesmen(plan: &Plan, string: usize) -> Look {
    let half = 0.5 * (plan.strings[string].mirror_count as f64 - 1.0);
    let off = SPOKESMAN_SHARE * half;
    let both = [half - off, half + off].map(|place| place.round() as usize);
    // By turns that fall into step with no row, ring or sequence of aim points.
    let turn = (GOLDEN * string as f64).fract();
    let places = if plan.strings.len() >= MANY_STRINGS {
        vec![both[usize::from(turn < 0.5)]]
    } else if both[0] == both[1] {
        vec![both[0]]
    } else {
        both.to_vec()
    };
    Look {
        string,
        times: 1.0 / places.len() as f64,
        places,
        others_m: Vec::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_lucky_aim_earns_no_place() {
        let earning = |inside| Earning {
            arriving: 1.0,
            inside,
        };
        let mut earnings = vec![earning(0.9); 40];
        earnings[20] = earning(0.99);
        let earned = Earning::without_luck(&earnings);
        assert_eq!(earned[20], earned[19]);
        assert!((earned[0] - 0.9).abs() < 1e-12 && earned[20] > 0.9);
    }

    #[test]
    fn spokesmen_stand_at_the_root_mean_square() {
        let mut plan = Plan::default();
        let row = |mirror_count| StringRow {
            first_mirror: 0,
            mirror_count,
            bearing_rad: 0.0,
            first_axis: field::FirstAxis::Along,
            linkage: field::Linkage::EqualAngle,
            row: 0,
        };
        plan.strings = vec![row(1), row(2), row(15)];
        let places = |plan: &Plan| [0, 1, 2].map(|string| spokesmen(plan, string).places);
        assert_eq!(places(&plan), [vec![0], vec![0, 1], vec![3, 11]]);
        plan.strings = vec![row(15); MANY_STRINGS];
        assert_eq!(places(&plan), [[11], [3], [11]]);
    }
}
