//! What a few mirrors say of a field: places compared, strings sampled.

use field::{Plan, Stance};
use geometry::{LANES, LaneVec3};
use optics::{LightSums, STEPS};
use sky::{NODES, SunTable};

use super::{Chain, Field, NodeLight, NodeSuns, add_each};

/// Whole strings looked at by the sampled pass, at least so many and at least with so many mirrors:
/// in a field of radial strings on steep rails, blocking varies from string to string.
const SAMPLE_STRINGS: usize = 40;
const SAMPLE_MIRRORS: usize = 900;

/// When only some strings are looked at, neighbours that could shade only under suns lower than this
/// are left out: it changes a year's light by less than 0.01 % and halves the time [rad].
const LOWEST_SHADING_SUN_RAD: f64 = 12.0 * std::f64::consts::PI / 180.0;

/// Where, in half-lengths from the middle, the mirrors stand that speak for a string when places are
/// compared: the root mean square of an even spread, so that the residual is seen.
const SPOKESMAN_SHARE: f64 = 0.577;

/// Golden ratio less 1: its multiples fall into step with nothing.
const GOLDEN: f64 = 0.618_033_988_749_895;

/// From so many strings on one mirror speaks for each, on either side by turns; two in smaller fields.
const MANY_STRINGS: usize = 600;

/// What every string of a field could earn if it stood alone, by its middle mirror under eight suns
/// of the table: enough to leave hopeless places out.
#[must_use]
pub fn first_glance(field: &Field, table: &SunTable, stance: &mut Stance) -> Vec<Earning> {
    let around = field.surroundings(LOWEST_SHADING_SUN_RAD);
    let alone = around.of_mirrors([]);
    let (suns, weights) = eight_suns(table);
    let mut sunlit = field.scene(&alone).under(&suns);
    let strings = field.plan.strings.iter().enumerate();
    strings
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
    inside: f64,
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

/// What one or two of its mirrors say of a string.
#[derive(Clone, Debug)]
pub struct Spoken {
    /// Year's energy after each step of the chain, for a mirror in the mean [J].
    pub chain_j: Chain,
    /// Effective area of its light through the aperture, of a mirror in the mean, at the node suns [m²].
    inside_m2: [f32; NODES],
    /// Flux of a mirror in the mean at the watched spots of the aperture per unit of DNI, at the node
    /// suns.
    flux_suns: Vec<[f32; NODES]>,
}

impl Spoken {
    fn new(light: &NodeLight, mirrors: usize, table: &SunTable) -> Self {
        let each = 1.0 / mirrors as f64;
        let of_one = |nodes: &[f64; NODES]| nodes.map(|value| (each * value) as f32);
        Self {
            chain_j: light.chain_j(table).map(|energy_j| each * energy_j),
            inside_m2: of_one(light.last_step_m2()),
            flux_suns: light.flux_suns.iter().map(of_one).collect(),
        }
    }

    /// What a mirror earns in the year.
    #[must_use]
    pub fn earning(&self) -> Earning {
        Earning::of(self.chain_j)
    }
}

/// Judges every string of a field by one or two of its mirrors, with all their neighbours.
#[must_use]
pub fn spokesmen(field: &Field, table: &SunTable, stance: &mut Stance) -> Vec<Spoken> {
    let places: Vec<Vec<usize>> = (0..field.plan.strings.len())
        .map(|string| spokesman_places(field.plan, string))
        .collect();
    let speaking = field.plan.strings.iter().zip(&places);
    let around = field.surroundings(LOWEST_SHADING_SUN_RAD);
    let hood = around.of_mirrors(speaking.flat_map(|(row, places)| {
        let places = places.iter();
        places.map(|place| row.first_mirror + place)
    }));
    let mut suns = NodeSuns::new(field, &hood, table).quickly();
    let empty = field.watching();
    let mut light = NodeLight::none(field.watched().spots().count());
    let strings = places.iter().enumerate();
    strings
        .map(|(string, places)| {
            light.clear();
            suns.add_light(string, places.iter().copied(), stance, &empty, &mut light);
            Spoken::new(&light, places.len(), table)
        })
        .collect()
}

/// Places of the mirrors that speak for a string.
fn spokesman_places(plan: &Plan, string: usize) -> Vec<usize> {
    let half = 0.5 * (plan.strings[string].mirror_count as f64 - 1.0);
    let off = SPOKESMAN_SHARE * half;
    let both = [half - off, half + off].map(|place| place.round() as usize);
    if plan.strings.len() < MANY_STRINGS {
        both.to_vec()
    } else {
        // By turns that fall into step with no row, ring or sequence of aim points.
        let turn = (GOLDEN * string as f64).fract();
        vec![both[usize::from(turn < 0.5)]]
    }
}

/// Light of the field at the node suns from some of its strings, spread evenly over the plan and
/// raised to the whole by what `spoken`, one for every string of the plan, says of all strings
/// against the sample. Where flux is highest all strings' spokesmen say: aims are spread string by string,
/// so a sample would not show how they add up; at each sun it is so much higher or lower as the whole
/// strings of the sample send more light inside than their spokesmen say.
#[must_use]
pub fn sampled(
    field: &Field,
    table: &SunTable,
    spoken: &[Spoken],
    stance: &mut Stance,
) -> NodeLight {
    let plan = field.plan;
    let mirrors = plan.strings.first().map_or(1, |row| row.mirror_count);
    let wanted = SAMPLE_STRINGS.max(SAMPLE_MIRRORS.div_ceil(mirrors));
    let sample = even_sample(plan.strings.len(), wanted);
    let seen = sample
        .iter()
        .flat_map(|&string| plan.strings[string].mirrors());
    let around = field.surroundings(LOWEST_SHADING_SUN_RAD);
    let hood = around.of_mirrors(seen);
    let mut suns = NodeSuns::new(field, &hood, table).quickly();
    let (mut light, empty) = (NodeLight::none(0), LightSums::default());
    let mut said_m2 = [0.0; NODES];
    for &string in &sample {
        let places = field.all_places(string);
        suns.add_light(string, places, stance, &empty, &mut light);
        let mirrors = plan.strings[string].mirror_count as f64;
        add_scaled(&mut said_m2, &spoken[string].inside_m2, mirrors);
    }
    light.flux_suns = levelled(flux_said(plan, spoken), light.last_step_m2(), &said_m2);
    let all = total(spoken);
    let part = total(sample.iter().map(|&string| &spoken[string]));
    light.scale(&std::array::from_fn(|step| {
        all[step] / part[step].max(f64::MIN_POSITIVE)
    }));
    light
}

/// Flux at the watched spots, at each sun so much higher or lower as the light that was `seen` to come inside
/// from some strings is than what was `said` of them.
fn levelled(
    mut flux_suns: Vec<[f64; NODES]>,
    seen_m2: &[f64; NODES],
    said_m2: &[f64; NODES],
) -> Vec<[f64; NODES]> {
    for node in 0..NODES {
        let level = seen_m2[node] / said_m2[node].max(f64::MIN_POSITIVE);
        flux_suns.iter_mut().for_each(|spot| spot[node] *= level);
    }
    flux_suns
}

/// Flux of the field at the watched spots as the spokesmen have it.
fn flux_said(plan: &Plan, spoken: &[Spoken]) -> Vec<[f64; NODES]> {
    let spots = spoken.first().map_or(0, |one| one.flux_suns.len());
    let mut flux_suns = vec![[0.0; NODES]; spots];
    for (one, row) in spoken.iter().zip(&plan.strings) {
        for (sums, spot) in flux_suns.iter_mut().zip(&one.flux_suns) {
            add_scaled(sums, spot, row.mirror_count as f64);
        }
    }
    flux_suns
}

fn add_scaled(sums: &mut [f64; NODES], values: &[f32; NODES], scale: f64) {
    for (sum, value) in sums.iter_mut().zip(values) {
        *sum += scale * f64::from(*value);
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

fn total<'a>(spoken: impl IntoIterator<Item = &'a Spoken>) -> Chain {
    spoken.into_iter().fold(Chain::default(), |mut sum, one| {
        add_each(&mut sum, &one.chain_j);
        sum
    })
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
        let row = |mirror_count| field::StringRow {
            first_mirror: 0,
            mirror_count,
            bearing_rad: 0.0,
            first_axis: field::FirstAxis::Along,
            linkage: field::Linkage::EqualAngle,
            row: 0,
        };
        plan.strings = vec![row(1), row(15)];
        assert_eq!(spokesman_places(&plan, 0), [0, 0]);
        assert_eq!(spokesman_places(&plan, 1), [3, 11]);
        plan.strings = vec![row(15); MANY_STRINGS];
        assert_eq!(spokesman_places(&plan, 0), [11]);
        assert_eq!(spokesman_places(&plan, 1), [3]);
    }
}
