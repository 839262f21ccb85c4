//! A field seen by some mirrors of every string, or of one among a few.

use std::ops::Range;

use field::{Plan, Stance};
use geometry::LANES;
use sky::{NODES, SunTable};

use super::{Field, Look, NodeLight, Turn, Watch, mirrors_of};

/// Mirrors of the whole field that are looked at under each sun at least, from the lowest block of suns to the highest:
/// low suns, under which neighbours are many, bring little of the year's light.
const SAMPLE_MIRRORS: [usize; SETS] = [250, 500, 500, 500];

/// When only some mirrors are looked at, neighbours that could shade only under suns lower than this
/// are left out: it changes a year's light by less than 0.01 % and halves the time [rad].
pub(super) const LOWEST_SHADING_SUN_RAD: f64 = 12.0 * std::f64::consts::PI / 180.0;

/// Golden ratio less 1: its multiples fall into step with nothing.
pub(super) const GOLDEN: f64 = 0.618_033_988_749_895;

/// Sets of mirrors that are looked at by turns, from the lowest block of suns to the highest: what blocks a mirror blocks
/// it under all suns, so that the year is the better known the more mirrors have their turn.
const SETS: usize = 4;
/// Blocks of suns in the morning, and as many in the afternoon.
const BLOCKS_OF_HALF_DAY: usize = NODES / LANES / 2;

/// Light of the field at the node suns from some mirrors of every string, each of which stands for its stretch of
/// it. Places go on from string to string by the golden ratio, so that in the field all are looked at alike. Where
/// strings are many, one by turns speaks for some that follow one another, with its image moved to the aim of each.
#[must_use]
pub fn sampled(field: &Field, table: &SunTable, stance: &mut Stance) -> NodeLight {
    let plan = field.plan;
    let around = field.surroundings(LOWEST_SHADING_SUN_RAD);
    let guests = field.guests(table);
    let blocks = table.direction_with(&guests);
    let turns = (0..SETS).map(|set| {
        let looks: Vec<Look> = looks(plan, set).collect();
        let in_turn = blocks
            .iter()
            .enumerate()
            .filter(|(block, _)| set_of(*block) == set);
        let suns = in_turn.map(|(_, suns)| suns);
        Turn {
            hood: around.of_mirrors_under(mirrors_of(&looks, plan), suns),
            looks,
            watch: Watch::ALL,
            is_quick: true,
        }
    });
    let turns: Vec<Turn> = turns.collect();
    let turn_of = |block| &turns[set_of(block)];
    let dark = NodeLight::watching(field.watched(), guests);
    NodeLight::of(field, dark, &blocks, turn_of, stance)
}

/// Sets have their turns from the lowest suns of the morning up, and again in the afternoon: so only for the first the
/// many neighbours are listed that shade under low suns.
const fn set_of(block: usize) -> usize {
    (block % BLOCKS_OF_HALF_DAY) * SETS / BLOCKS_OF_HALF_DAY
}

/// What is looked at in a set: so many mirrors at least.
fn looks(plan: &Plan, set: usize) -> impl Iterator<Item = Look> {
    let strings = plan.strings.len();
    let alike = (strings / SAMPLE_MIRRORS[set]).max(1);
    let firsts = (0..strings).step_by(alike);
    firsts.map(move |first| look(plan, first..(first + alike).min(strings), set))
}

/// Some mirrors of one of successive strings, which are taken as alike; both go on from set to set.
fn look(plan: &Plan, alike: Range<usize>, set: usize) -> Look {
    let string = alike.start + set % alike.len();
    let mirrors = plan.strings[string].mirror_count;
    let count = SAMPLE_MIRRORS[set]
        .div_ceil(plan.strings.len())
        .min(mirrors);
    let turn = (0.5 + GOLDEN * string as f64 + set as f64 / SETS as f64).fract();
    let stretch = mirrors as f64 / count as f64;
    let place = |index: usize| (((index as f64 + turn) * stretch) as usize).min(mirrors - 1);
    let places: Vec<usize> = (0..count).map(place).collect();
    let aim_m = |string: usize| plan.aim_of_m(plan.strings[string].reference_mirror());
    let others = alike.clone().filter(|other| *other != string);
    let first_mirror = plan.strings[string].first_mirror;
    let seen_m2 = glass_m2(plan, places.iter().map(|place| first_mirror + place));
    let all = alike
        .clone()
        .flat_map(|other| plan.strings[other].mirrors());
    Look {
        string,
        times: glass_m2(plan, all) / (seen_m2 * alike.len() as f64),
        places,
        others_m: others.map(|other| aim_m(other) - aim_m(string)).collect(),
    }
}

fn glass_m2(plan: &Plan, mirrors: impl Iterator<Item = usize>) -> f64 {
    mirrors.map(|mirror| plan.area_m2(mirror)).sum()
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

    /// Every place of the strings is looked at as often as any other, and every string in one of few sets.
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
                width_m: vec![2.0; 15],
                height_m: vec![1.0; 15],
                ..Plan::default()
            };
            let (mut times, mut of_string) = ([0.0; 15], vec![0.0; strings]);
            for look in (0..SETS).flat_map(|set| looks(&plan, set)) {
                assert!(look.places.windows(2).all(|pair| pair[0] < pair[1]));
                let each = look.times * (1 + look.others_m.len()) as f64;
                for place in &look.places {
                    times[*place] += each;
                    of_string[look.string] += each;
                }
            }
            let even = (SETS * strings) as f64;
            assert!(
                times.iter().all(|times| (times / even - 1.0).abs() < 0.1),
                "{strings}: {times:?}"
            );
            assert!(of_string.iter().all(|times| *times > 0.0), "{strings}");
        }
    }
}
