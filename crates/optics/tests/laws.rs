//! Laws that the light of any field obeys.

mod support;

use field::{Plan, Stance};
use geometry::{LANES, Vec3, direction, lane};
use optics::{
    Attenuation, Facets, FluxSums, LightSums, Mirrors, Reflectance, Scene, Spots, Surroundings,
    Watched,
};
use proptest::prelude::*;
use support::Layout;

/// Covered areas are joined in single precision: sums of a dozen of them agree to this share.
const AREAS_KEEP: f64 = 8.0 * f32::EPSILON as f64;

/// One string for each mirror, at random places, so that mirrors may be taken away or reordered.
fn scattered(places: &[(f64, f64, f64)]) -> Plan {
    let mut plan = Plan {
        aim_m: Vec3::new(0.0, 0.0, 25.0),
        ..Plan::default()
    };
    for (index, &(x_m, y_m, z_m)) in places.iter().enumerate() {
        support::push_mirror(&mut plan, Vec3::new(x_m, 30.0 + y_m, z_m), 0.9);
        plan.strings.push(field::StringRow {
            first_mirror: index,
            mirror_count: 1,
            bearing_rad: 1.5,
            first_axis: field::FirstAxis::Along,
            linkage: field::Linkage::EqualAngle,
            row: 0,
        });
    }
    plan
}

fn light(plan: &Plan, strings: impl Iterator<Item = usize>, sun: Vec3) -> LightSums {
    let around = Surroundings::new(plan, 0.1);
    let hood = around.of_all();
    let (mirrors, aperture) = (support::fair_mirrors(), support::aperture_of(plan, 1.5));
    let suns = lane::columns(&[sun; LANES]);
    let mut sums = LightSums::watching(Watched::new(plan, &mirrors, &aperture));
    let mut stance = Stance::default();
    for string in strings {
        support::ideal_stance(plan, string, &suns, &mut stance);
        Scene {
            plan,
            hood: &hood,
            mirrors: &mirrors,
            aperture: &aperture,
        }
        .under(&suns)
        .add_light(string, 0..1, &stance, &mut sums);
    }
    sums
}

fn suns() -> impl Strategy<Value = Vec3> {
    (0.0..std::f64::consts::TAU, 0.12..1.5_f64)
        .prop_map(|(azimuth, elevation)| direction::from_azimuth_elevation(azimuth, elevation))
}

fn places(count: usize) -> impl Strategy<Value = Vec<(f64, f64, f64)>> {
    prop::collection::vec((-4.0..4.0_f64, -4.0..4.0_f64, 0.8..1.6_f64), 2..count)
}

proptest! {
    #[test]
    fn every_step_only_loses(places in places(16), sun in suns()) {
        let plan = scattered(&places);
        let sums = light(&plan, 0..places.len(), sun);
        prop_assert!((sums.steps_m2[0][0] - plan.total_area_m2()).abs() < 1e-9);
        for step in sums.steps_m2.windows(2) {
            prop_assert!(step[1][0] >= 0.0 && step[1][0] <= step[0][0] * (1.0 + 1e-12));
        }
        prop_assert!(sums.flux_suns.lanes().all(|flux| flux[0] >= 0.0));
    }

    /// But for what single precision leaves of the covered areas, whose sums are then other ones.
    #[test]
    fn a_neighbour_taken_away_never_costs_light(places in places(12), sun in suns()) {
        let count = places.len();
        let with = light(&scattered(&places), 0..count - 1, sun);
        let without = light(&scattered(&places[..count - 1]), 0..count - 1, sun);
        for step in [2, 3, 6] {
            let least_m2 = with.steps_m2[step][0] * (1.0 - AREAS_KEEP);
            prop_assert!(without.steps_m2[step][0] >= least_m2);
        }
    }

    #[test]
    fn order_does_not_matter(places in places(12), sun in suns()) {
        let there = light(&scattered(&places), 0..places.len(), sun);
        let reversed: Vec<_> = places.iter().rev().copied().collect();
        let back = light(&scattered(&reversed), 0..places.len(), sun);
        for (a, b) in there.steps_m2.iter().zip(&back.steps_m2) {
            prop_assert!((a[0] - b[0]).abs() <= 1e-5 * a[0]);
        }
    }
}

/// The sums are exactly the products of the factors that `each_mirror` gives, mirror by mirror,
/// and part sums of a string add up to the whole.
#[test]
fn sums_are_products_of_the_factors() {
    let plan = Layout::dense(12).plan();
    let around = Surroundings::new(&plan, 0.1);
    let hood = around.of_all();
    let (mirrors, aperture) = (support::fair_mirrors(), support::aperture_of(&plan, 2.0));
    let suns = support::year_suns(0.65, 0.15)[3];
    let mut stance = Stance::default();
    support::ideal_stance(&plan, 8, &suns, &mut stance);
    let mut parts = LightSums::default();
    for which in [0..4, 4..15] {
        Scene {
            plan: &plan,
            hood: &hood,
            mirrors: &mirrors,
            aperture: &aperture,
        }
        .under(&suns)
        .add_light(8, which, &stance, &mut parts);
    }
    let mut last_m2 = 0.0;
    Scene {
        plan: &plan,
        hood: &hood,
        mirrors: &mirrors,
        aperture: &aperture,
    }
    .under(&suns)
    .each_mirror(8, 0..15, &stance, |place, light| {
        let area_m2 = plan.area_m2(plan.strings[8].first_mirror + place);
        let open = light.cosine[5] * light.lit[5] * light.unblocked[5];
        last_m2 += area_m2 * open * light.reflectance[5] * light.transmittance * light.intercept[5];
    });
    assert!((parts.steps_m2[6][5] - last_m2).abs() < 1e-12 * last_m2);
}

/// Incidence angles of worked examples, aim point (0, 0, 60) (closed form, n = unit(s + t)).
#[test]
fn incidence_of_worked_examples() {
    for (azimuth_deg, elevation_deg, centre, incidence_deg) in [
        (180.0_f64, 45.0_f64, [0.0, 100.0, 0.0], 7.018122_f64),
        (180.0, 75.0, [0.0, 100.0, 0.0], 22.018122),
        (120.0, 30.0, [50.0, 80.0, 2.0], 38.173199),
        (240.0, 30.0, [50.0, 80.0, 2.0], 12.017605),
        (90.0, 20.0, [-60.0, 30.0, 1.0], 15.509668),
        (0.0, 60.0, [0.0, -100.0, 0.0], 14.518122),
    ] {
        let mut plan = scattered(&[(0.0, 0.0, 0.0)]);
        [plan.x_m[0], plan.y_m[0], plan.z_m[0]] = centre;
        plan.aim_m = Vec3::new(0.0, 0.0, 60.0);
        let sun =
            direction::from_azimuth_elevation(azimuth_deg.to_radians(), elevation_deg.to_radians());
        let sums = light(&plan, 0..1, sun);
        let cosine = sums.steps_m2[1][0] / sums.steps_m2[0][0];
        assert!((cosine - libm::cos(incidence_deg.to_radians())).abs() < 1e-7);
    }
}

/// Peak of a small perfect mirror, C = ρ·A·cos θ/(π·(4.65 mrad·L)²) = 1.78662 for A = 1.5 m²,
/// L = 100 m, ρ = 0.93, cos θ = 0.87 (closed form); here with a panel so small that its own image
/// does not count, scaled up, and the air taken out.
#[test]
fn peak_of_a_small_perfect_mirror() {
    let mut plan = scattered(&[(0.0, 0.0, 0.0)]);
    [plan.x_m[0], plan.y_m[0], plan.z_m[0]] = [0.0, 0.0, 0.0];
    plan.aim_m = 100.0 * Vec3::Y;
    plan.focal_length_m = vec![100.0];
    (plan.width_m, plan.height_m) = (vec![1e-3], vec![1e-3]);
    let twice_rad = 2.0 * libm::acos(0.87);
    let suns = lane::columns(&[Vec3::new(libm::sin(twice_rad), libm::cos(twice_rad), 0.0); LANES]);
    let mirrors = Mirrors {
        facets: Facets::ONE_BENT,
        reflectance: Reflectance {
            silver: 0.93,
            glass_thickness_m: 0.0,
            extinction_per_m: 0.0,
            cleanliness: 1.0,
        },
        slope_error_rad: 0.0,
        scatter_rad: 0.0,
        gravity_slope_rad: 0.0,
        attenuation: Attenuation::ClearAir,
        ..support::fair_mirrors()
    };
    let aperture = optics::Aperture::facing(std::f64::consts::PI, 0.0, plan.aim_m, 1.0, 1.0);
    let around = Surroundings::new(&plan, 0.1);
    let hood = around.of_all();
    let spots = Spots::middles(11);
    let (mut flux_suns, mut stance) = (FluxSums::none(&spots), Stance::default());
    support::ideal_stance(&plan, 0, &suns, &mut stance);
    Scene {
        plan: &plan,
        hood: &hood,
        mirrors: &mirrors,
        aperture: &aperture,
    }
    .under(&suns)
    .add_flux(0, &stance, &spots, &mut flux_suns);
    let peak = flux_suns.at(60)[0] * 1.5e6 / mirrors.attenuation.transmittance(100.0);
    assert!((peak - 1.78662).abs() < 1e-4, "{peak}");
}
