//! The fast model of light against rays, on fields of every kind and suns high and low.

// Not only the tests themselves may stop and print here.
#![allow(clippy::expect_used, clippy::print_stdout)]

mod compare;
mod cosines;
mod facets;
mod fast;
mod fields;
mod instants;
mod peaks;
mod slow;

use book::Check;
use field::Plan;
use rayon::prelude::*;

use crate::compare::{Difference, Sun, compare, compare_plan, mean_points};
use crate::fields::Trial;
use crate::instants::INSTANTS;

/// Rays from each mirror.
const ROUNDS: u64 = 400;

/// How far the fast model may be from rays [percentage points].
struct Allowed {
    instant: f64,
    mean: f64,
}

/// What the fast model is held to.
const TARGET: Allowed = Allowed {
    instant: 1.0,
    mean: 0.3,
};

/// What it keeps to under suns without aureole, and with a usual one.
const USUAL: Allowed = Allowed {
    instant: 0.3,
    mean: 0.1,
};

/// Its flux around the peak keeps to this, relative.
const FLUX_WITHIN: f64 = 0.05;

/// The peak that watched spots tell keeps to that of a map of 45 × 45 spots, relative.
const WATCHED_WITHIN: f64 = 0.05;

fn check(trial: &Trial, sun: &Sun, allowed: &Allowed) {
    check_by(ROUNDS, trial, sun, allowed);
}

/// The same with so many rays from each mirror.
fn check_by(rounds: u64, trial: &Trial, sun: &Sun, allowed: &Allowed) {
    let differences = compare(trial, sun, rounds);
    check_light(&differences, allowed);
    check_flux(&differences);
}

fn check_flux(differences: &[Difference]) {
    for (instant, difference) in INSTANTS.iter().zip(differences) {
        let peak_flux = difference.peak_flux;
        assert!(
            (peak_flux - 1.0).abs() < FLUX_WITHIN,
            "{}: × {peak_flux}",
            instant.name
        );
        let watched = difference.watched;
        assert!(
            (watched - 1.0).abs() < WATCHED_WITHIN,
            "{}: watched × {watched}",
            instant.name
        );
    }
}

fn check_light(differences: &[Difference], allowed: &Allowed) {
    let mean_points = mean_points(differences);
    println!("mean over all suns {mean_points:+.3}");
    for (instant, difference) in INSTANTS.iter().zip(differences) {
        println!("{:<15} {difference}", instant.name);
        let points = difference.product_points();
        assert!(
            points.abs() < allowed.instant,
            "{}: {points:+.2}",
            instant.name
        );
        assert!(difference.error_points < 0.1, "too few rays");
    }
    assert!(mean_points.abs() < allowed.mean, "{mean_points:+.3}");
}

/// Fields near and far, dense and sparse, radial, across and fanned, south of the tower, of singles and of
/// pedestals.
const VARIED: [fn() -> Trial; 8] = [
    fields::near_and_dense,
    fields::across_the_line_of_sight,
    fields::far,
    fields::radial_on_rails,
    fields::sparse_before_a_small_aperture,
    fields::south_of_the_tower,
    fields::singles,
    fields::pedestals,
];

#[test]
fn varied_fields() {
    let found: Vec<Vec<Difference>> = { VARIED.par_iter() }
        .map(|trial| compare(&trial(), &Sun::limb_darkened(), ROUNDS))
        .collect();
    for differences in &found {
        check_light(differences, &USUAL);
        check_flux(differences);
    }
    let percent = |product: f64, points: f64| (100.0 * product, 100.0 * product + points);
    let year = |field: &Vec<Difference>| percent(compare::mean_product(field), mean_points(field));
    let instant = |one: &Difference| percent(one.product, one.product_points());
    Check {
        id: "optics.year_against_rays",
        model: "Light of the year through an aperture",
        equation: "cosine × lit × unblocked × reflectance × transmittance × share inside, the image two bell curves with their fourth cumulants",
        source: "sums of variances, and cumulants of even discs and patches",
        validity: "darkened discs, strings, singles and pedestals, suns down to 10°",
        against: "400 rays from every mirror of eight fields under eight suns, weighted with DNI, as shares of the light on the glass",
        unit: "%",
    }
    .within(USUAL.mean, found.iter().map(year));
    Check {
        id: "optics.instant_against_rays",
        model: "Light of an instant through an aperture",
        equation: "as that of the year",
        source: "as that of the year",
        validity: "as that of the year",
        against: "400 rays from every mirror of eight fields under eight suns, as shares of the light on the glass",
        unit: "%",
    }
    .within(USUAL.instant, found.iter().flatten().map(instant));
    Check {
        id: "optics.peak_against_rays",
        model: "Flux around its peak",
        equation: "density of every image, summed over mirrors, over nine parts of a map of 15 × 15",
        source: "as light of the year",
        validity: "as light of the year",
        against: "rays that fall there, in eight fields under eight suns, over their number",
        unit: "",
    }
    .within_share(FLUX_WITHIN, found.iter().flatten().map(|one| (1.0, one.peak_flux)));
}

#[test]
fn far_and_blocked() {
    check(&fields::far_and_blocked(), &Sun::even_disc(), &USUAL);
}

#[test]
fn large_panels_on_a_slope() {
    check(
        &fields::large_panels_on_a_slope(),
        &Sun::even_disc(),
        &USUAL,
    );
}

/// Large mirrors, of which neighbours shade and block parts: few, so ten times the rays.
#[test]
fn rings_of_heliostats() {
    let sun = Sun::limb_darkened();
    check_by(10 * ROUNDS, &fields::rings_of_heliostats(), &sun, &USUAL);
}

#[test]
fn rings_with_one_aim() {
    let sun = Sun::even_disc();
    check_by(10 * ROUNDS, &fields::rings_with_one_aim(), &sun, &USUAL);
}

#[test]
fn rings_around_a_cylinder() {
    let sun = Sun::even_disc();
    check_by(
        10 * ROUNDS,
        &fields::rings_around_a_cylinder(),
        &sun,
        &USUAL,
    );
}

#[test]
fn with_spread_aims() {
    check(&fields::with_spread_aims(), &Sun::even_disc(), &USUAL);
}

#[test]
fn in_the_shadow_of_a_tower() {
    check(
        &fields::in_the_shadow_of_a_tower(),
        &Sun::even_disc(),
        &USUAL,
    );
}

#[test]
fn before_a_round_opening() {
    let sun = Sun::with_circumsolar_light(0.05);
    check(&fields::before_a_round_opening(), &sun, &USUAL);
}

#[test]
fn around_a_cylinder() {
    let sun = Sun::with_circumsolar_light(0.05);
    check(&fields::around_a_cylinder(), &sun, &USUAL);
}

#[test]
fn around_a_broad_cylinder() {
    check(
        &fields::around_a_broad_cylinder(),
        &Sun::even_disc(),
        &USUAL,
    );
}

/// Aims at the middle of a cylinder's axis send rays from below through its mantle low. Raised each as its own ray
/// climbs, mirrors of strings and large ones in rings bring more light onto it under every sun, as much more by rays
/// as by the fast model, whose strips tell light that an edge cuts less well than light in the middle.
#[test]
fn raised_aims_bring_more_light_onto_a_cylinder() {
    let sun = Sun::even_disc();
    for (trial, rounds) in [
        (fields::around_a_broad_cylinder(), ROUNDS),
        (fields::rings_around_a_cylinder(), 10 * ROUNDS),
    ] {
        let raised = trial.plan();
        let level = Plan {
            aim_shift_m: Vec::new(),
            ..raised.clone()
        };
        let [raised, level] = [raised, level].map(|plan| compare_plan(&trial, &plan, &sun, rounds));
        for (raised, level) in raised.iter().zip(&level) {
            let by_rays = 100.0 * (raised.product - level.product);
            let by_fast = by_rays + raised.product_points() - level.product_points();
            println!("more light by rays {by_rays:+.2}, by the fast model {by_fast:+.2}");
            assert!(by_rays > 1.0, "{by_rays}");
            assert!(
                (by_fast - by_rays).abs() < TARGET.instant,
                "{by_fast} {by_rays}"
            );
        }
    }
}

/// Limb darkening narrows the sun by 5 %.
#[test]
fn darkened_limb() {
    let sun = Sun::limb_darkened();
    check(&fields::sparse_before_a_small_aperture(), &sun, &USUAL);
}

/// A measured sun, whose edge no law softens.
#[test]
fn tabled_sun() {
    let sun = Sun::tabled();
    check(&fields::across_the_line_of_sight(), &sun, &USUAL);
    check(&fields::sparse_before_a_small_aperture(), &sun, &USUAL);
}

/// With 5 % of the light in the aureole an aperture that takes all of an even disc loses 1.5 % of
/// the beam.
#[test]
fn circumsolar_light() {
    let sun = Sun::with_circumsolar_light(0.05);
    check(&fields::across_the_line_of_sight(), &sun, &USUAL);
    let hazy = Sun::with_circumsolar_light(0.2);
    let small = fields::sparse_before_a_small_aperture();
    check(&small, &hazy, &TARGET);
}
