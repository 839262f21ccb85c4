//! A field seen by some mirrors of every string.

use field::{Plan, Stance};
use geometry::LANES;
use sky::{NODES, SunTable};

use super::{Field, Look, NodeLight, Turn, Watch, mirrors_of};

/// Mirrors of the whole field that are looked at under each sun at least.
const SAMPLE_MIRRORS: usize = 500;

/// When only some mirrors are looked at, neighbours that could shade only under suns lower than this
/// are left out: it changes a year's light by less than 0.01 % and halves the time [rad].
pub(super) const LOWEST_SHADING_SUN_RAD: f64 = 12.0 * std::f64::consts::PI / 180.0;

/// Golden ratio less 1: its multiples fall into step with nothing.
pub(super) const GOLDEN: f64 = 0.618_033_988_749_895;

/// Sets of mirrors that are looked at by turns, from the lowest block of suns to the highest: what blocks a mirror blocks
/// it under all suns, so that the year is the better known the more mirrors have their turn.
const MOST_SETS: usize = 4;
/// So many mirrors in all sets together are enough.
const ENOUGH_MIRRORS: usize = 2000;
/// Blocks of suns in the morning, and as many in the afternoon.
const BLOCKS_OF_HALF_DAY: usize = NODES / LANES / 2;

/// Light of the field at the node suns from some mirrors of every string, each of which stands for its stretch of
/// it. Places go on from string to string by the golden ratio, so that in the field all are looked at alike.
#[must_use]
pub fn sampled(field: &Field, table: &SunTable, stance: &mut Stance) -> NodeLight {
    let strings = field.plan.strings.len();
    let sets = (ENOUGH_MIRRORS / strings.max(SAMPLE_MIRRORS)).clamp(1, MOST_SETS);
    let around = field.surroundings(LOWEST_SHADING_SUN_RAD);
    let turns = (0..sets).map(|set| {
        let turn = set as f64 / sets as f64;
        let looks: Vec<Look> = (0..strings)
            .map(|string| sample(field.plan, string, turn))
            .collect();
        let blocks = table.direction.iter().enumerate();
        let in_turn = blocks.filter(|(block, _)| set_of(*block, sets) == set);
        let suns = in_turn.map(|(_, suns)| suns);
        let hood = around.of_mirrors_under(mirrors_of(&looks, field.plan), suns);
        Turn { looks, hood }
    });
    let turns: Vec<Turn> = turns.collect();
    NodeLight::of(
        field,
        table,
        |block| &turns[set_of(block, sets)],
        (true, Watch::ALL),
        stance,
    )
}

/// Sets have their turns from the lowest suns of the morning up, and again in the afternoon: so only for the first the
/// many neighbours are listed that shade under low suns.
const fn set_of(block: usize, sets: usize) -> usize {
    (block % BLOCKS_OF_HALF_DAY) * sets / BLOCKS_OF_HALF_DAY
}

/// The mirrors of a string that are looked at in a set whose places go on by this share of the way between two.
fn sample(plan: &Plan, string: usize, further: f64) -> Look {
    let mirrors = plan.strings[string].mirror_count;
    let count = SAMPLE_MIRRORS.div_ceil(plan.strings.len()).min(mirrors);
    let turn = (0.5 + GOLDEN * string as f64 + further).fract();
    let stretch = mirrors as f64 / count as f64;
    let place = |index: usize| (((index as f64 + turn) * stretch) as usize).min(mirrors - 1);
    Look {
        string,
        places: (0..count).map(place).collect(),
    }
}

/// Up to `wanted` of `strings` strings in rising order, one from each of as many equal stretches: at places in them
/// that never fall into step with rows or rings (multiples of the golden ratio).
#[must_use]
pub fn even_sample(strings: usize, wanted: usize) -> Vec<usize> {
    let wanted = wanted.min(strings);
    let stretch = strings as f64 / wanted as f64;
    let mut sample: Vec<usize> = (0..wanted)
        .map(|index| {
            let place = (0.5 + GOLDEN * index as f64).fract();
            (((index as f64 + place) * stretch) as usize).min(strings - 1)
        })
        .collect();
    sample.dedup();
    sample
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_sample_is_even_and_whole_when_small() {
        assert_eq!(even_sample(3, 40), vec![0, 1, 2]);
        let sample = even_sample(400, 40);
        assert_eq!(sample.len(), 40);
        assert!(
            even_sample(220, 180)
                .windows(2)
                .all(|pair| pair[0] < pair[1])
        );
        for (stretch, string) in sample.iter().enumerate() {
            assert!((10 * stretch..10 * stretch + 10).contains(string));
        }
    }

    /// Every place of the strings is looked at as often as any other.
    #[test]
    fn all_places_are_looked_at_alike() {
        let row = field::StringRow {
            first_mirror: 0,
            mirror_count: 15,
            bearing_rad: 0.0,
            first_axis: field::FirstAxis::Along,
            linkage: field::Linkage::EqualAngle,
            row: 0,
        };
        for strings in [30, 150, 450, 1500] {
            let plan = Plan {
                strings: vec![row.clone(); strings],
                ..Plan::default()
            };
            let mut times = [0.0; 15];
            for string in 0..strings {
                let look = sample(&plan, string, 0.25);
                assert!(look.places.windows(2).all(|pair| pair[0] < pair[1]));
                for place in &look.places {
                    times[*place] += look.each_stands_for(&plan);
                }
            }
            let even = strings as f64;
            assert!(
                times.iter().all(|times| (times / even - 1.0).abs() < 0.1),
                "{strings}: {times:?}"
            );
        }
    }
}
