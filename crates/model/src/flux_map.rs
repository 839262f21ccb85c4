//! Where on the aperture the light of a design falls, and what spreading its aim points costs.

use drive::{Drives, Mechanism};
use field::{Plan, Stance};
use geometry::{LANES, Lane, LaneVec3, Vec3, lane};
use optics::{Aperture, FluxSums, Outline, STEPS, Spots};
use rayon::prelude::*;

use crate::case::Case;
use crate::inputs;
use crate::light::{self, Field, Hoods};
use crate::year_light::YearLight;

/// Parts of the map, each way.
const PARTS: usize = 25;

/// Flux on the aperture of a design.
#[derive(Clone, Debug, PartialEq)]
pub struct FluxMap {
    /// Hour of the year with the highest flux.
    pub hour: usize,
    /// Width of what is mapped; of a cylinder its circumference [m].
    pub width_m: f64,
    /// Its height [m].
    pub height_m: f64,
    /// Parts along the width.
    pub columns: usize,
    /// Parts along the height.
    pub rows: usize,
    /// Flux in that hour in the middle of every part, row by row from the lower left as seen from
    /// the field [W/m²].
    pub flux_w_m2: Vec<f64>,
    /// Light of the year there [J/m²].
    pub year_j_m2: Vec<f64>,
    /// What spreading the aim points changes; nothing if they are not spread.
    pub spreading: Option<Spreading>,
}

/// A field whose aim points are spread over the aperture against the same one aimed at its middle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spreading {
    /// Share of the year's light through the aperture that spreading loses.
    pub lost_share: f64,
    /// Highest flux of the year if all aimed at the middle [W/m²].
    pub middle_flux_w_m2: f64,
}

impl FluxMap {
    /// The highest flux of the map [W/m²].
    #[must_use]
    pub fn peak_w_m2(&self) -> f64 {
        self.flux_w_m2.iter().copied().fold(0.0, f64::max)
    }

    /// Mean flux over the mapped area, of a round opening over the square around it [W/m²].
    #[must_use]
    pub fn mean_w_m2(&self) -> f64 {
        self.flux_w_m2.iter().sum::<f64>() / self.flux_w_m2.len() as f64
    }

    /// Middle of a part, right of and above the middle of the whole [m].
    #[must_use]
    pub fn place_m(&self, part: usize) -> [f64; 2] {
        let share = |place: usize, count: usize| (place as f64 + 0.5) / count as f64 - 0.5;
        [
            self.width_m * share(part % self.columns, self.columns),
            self.height_m * share(part / self.columns, self.rows),
        ]
    }

    /// Maps a field's flux; `light` is the year as the node suns give it.
    pub(crate) fn of(case: &Case, field: &Field, mechanism: &Mechanism, light: &YearLight) -> Self {
        let hour = brightest_hour(case, light);
        let (suns, weights) = suns_of_hour(case, hour);
        let around = field.surroundings(case.sun.min_elevation_rad);
        let hoods = Hoods::new(field, &around);
        let instant = map_under(field, &hoods, &suns);
        let dni_w_m2 = case.weather.dni_w_m2[hour];
        let of_hour = |flux_suns: &Lane| dni_w_m2 * weighted(flux_suns, &weights);
        Self {
            hour,
            width_m: mapped_width_m(field.aperture),
            height_m: field.aperture.height_m(),
            columns: PARTS,
            rows: PARTS,
            flux_w_m2: instant.iter().map(of_hour).collect(),
            year_j_m2: map_of_year(case, field, &hoods),
            spreading: Spreading::of(case, field, mechanism, light),
        }
    }
}

impl Spreading {
    fn of(case: &Case, field: &Field, mechanism: &Mechanism, light: &YearLight) -> Option<Self> {
        let plan = Plan {
            aim_shift_m: inputs::aim_spread(case, 0.0, field.aperture).shifts_m(field.plan),
            ..field.plan.clone()
        };
        let mut mirrors = 0..plan.mirror_count();
        if mirrors.all(|mirror| plan.aim_of_m(mirror) == field.plan.aim_of_m(mirror)) {
            return None;
        }
        let middle = Field {
            drives: &Drives::prepare(&plan, mechanism),
            plan: &plan,
            ..*field
        };
        let unspread = YearLight::at_nodes(light::every_string(&middle, &case.sun));
        let light_j = |light: &YearLight| light.chain_j(case)[STEPS - 1];
        Some(Self {
            lost_share: 1.0 - light_j(light) / light_j(&unspread),
            middle_flux_w_m2: peak_w_m2(case, &unspread, brightest_hour(case, &unspread)),
        })
    }
}

fn peak_w_m2(case: &Case, light: &YearLight, hour: usize) -> f64 {
    light.hour(case, hour).peak_flux_w_m2
}

fn brightest_hour(case: &Case, light: &YearLight) -> usize {
    let hours = 0..case.weather.dni_w_m2.len();
    hours
        .map(|hour| (hour, peak_w_m2(case, light, hour)))
        .fold(
            (0, 0.0),
            |best, one| if one.1 > best.1 { one } else { best },
        )
        .0
}

/// The suns of an hour and each one's share of its light; lanes beyond count nothing.
fn suns_of_hour(case: &Case, hour: usize) -> (LaneVec3, Lane) {
    let instants = &case.sun.instants[hour];
    let suns = std::array::from_fn(|lane| {
        let instant = &instants[lane.min(instants.len() - 1)];
        // An hour without sun counts nothing, but wants a sun above the horizon.
        if instant.share > 0.0 {
            instant.sun
        } else {
            Vec3::Z
        }
    });
    let weights = std::array::from_fn(|lane| instants.get(lane).map_or(0.0, |one| one.share));
    (lane::columns(&suns), weights)
}

fn weighted(values: &Lane, weights: &Lane) -> f64 {
    values
        .iter()
        .zip(weights)
        .map(|(value, weight)| value * weight)
        .sum()
}

fn mapped_width_m(aperture: &Aperture) -> f64 {
    match aperture.outline {
        Outline::Cylinder { diameter_m, .. } => std::f64::consts::PI * diameter_m,
        _ => aperture.width_m(),
    }
}

/// Light of the year in the middle of every part [J/m²].
fn map_of_year(case: &Case, field: &Field, hoods: &Hoods) -> Vec<f64> {
    let mut year_j_m2 = vec![0.0; PARTS * PARTS];
    for (block, suns) in case.sun.direction.iter().enumerate() {
        let mut weights = [0.0; LANES];
        weights.copy_from_slice(&case.sun.dni_j_m2[block * LANES..(block + 1) * LANES]);
        for (sum, flux_suns) in year_j_m2.iter_mut().zip(&map_under(field, hoods, suns)) {
            *sum += weighted(flux_suns, &weights);
        }
    }
    year_j_m2
}

/// Flux ÷ DNI of the whole field in the middle of every part under eight suns.
fn map_under(field: &Field, hoods: &Hoods, suns: &LaneVec3) -> Vec<Lane> {
    let spots = Spots::middles(PARTS);
    let none = || FluxSums::none(&spots);
    let chunks: Vec<FluxSums> = field
        .chunks()
        .map(|strings| {
            let mut flux_suns = none();
            let mut stance = Stance::default();
            let mut sunlit = field.scene(hoods.of(strings.start)).under(suns);
            for string in strings {
                field.drives.stand(field.plan, string, suns, &mut stance);
                sunlit.add_flux(string, &stance, &spots, &mut flux_suns);
            }
            flux_suns
        })
        .collect();
    let mut whole = none();
    chunks.iter().for_each(|chunk| whole.add(chunk));
    whole.lanes().collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::detail;
    use crate::inputs::tests::{demo, design};

    fn mapped(aim_spread: &str) -> (Case, FluxMap) {
        let case = demo(&[
            ("strings.count", "60"),
            ("strings.aim_spread", aim_spread),
            ("heat.demand.serve_at_least", "0 %"),
        ]);
        let flux = detail(&case, &design(&case)).unwrap().flux;
        (case, flux)
    }

    /// What the map holds is the light through the aperture, and a few per cent more: the aureole is
    /// taken as even, as bright at the edges as in the middle, and 5 % of the demo's sun is aureole.
    #[test]
    fn the_map_holds_the_light_of_the_year() {
        let (case, flux) = mapped("80 %");
        let detail = detail(&case, &design(&case)).unwrap();
        let part_m2 = flux.width_m * flux.height_m / (flux.columns * flux.rows) as f64;
        let mapped_j = part_m2 * flux.year_j_m2.iter().sum::<f64>();
        let light_j: f64 = detail.mirrors.iter().map(|mirror| mirror.aperture_j).sum();
        let more = mapped_j / light_j - 1.0;
        assert!((0.0..0.06).contains(&more), "{mapped_j} {light_j}");
        let power_w = part_m2 * flux.flux_w_m2.iter().sum::<f64>();
        let hour_w = detail.hours[flux.hour].aperture_power_w;
        let more = power_w / hour_w - 1.0;
        assert!((0.0..0.06).contains(&more), "{power_w} {hour_w}");
        assert!(flux.peak_w_m2() > flux.mean_w_m2());
    }

    /// Spreading takes light and lowers the peak; without it there is nothing to tell.
    #[test]
    fn spreading_costs_light_and_lowers_the_peak() {
        let (_, spread) = mapped("80 %");
        let (_, middle) = mapped("0 %");
        let cost = spread.spreading.unwrap();
        assert!(cost.lost_share > 0.0 && cost.lost_share < 0.1, "{cost:?}");
        assert!(cost.middle_flux_w_m2 > 1.1 * spread.peak_w_m2(), "{cost:?}");
        assert_eq!(middle.spreading, None);
    }
}
