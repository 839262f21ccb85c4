//! The fast model of light against rays, on fields of every kind and suns high and low.

// Not only the tests themselves may stop and print here.
#![allow(clippy::expect_used, clippy::print_stdout)]

mod fast;
mod fields;
mod instants;
mod slow;

use std::fmt;

use optics::DISC_RAD;

use crate::fields::Trial;
use crate::instants::INSTANTS;

/// Parts of the flux maps each way.
const PARTS: usize = 15;

/// Names of what is compared.
const FACTORS: [&str; 7] = [
    "cosine",
    "shading",
    "blocking",
    "reflectance",
    "attenuation",
    "intercept",
    "product",
];

/// The losses of a field under one sun: each factor and their product.
type Losses = [f64; FACTORS.len()];

/// Fast model less rays, in percentage points, with the standard error of the product.
struct Difference {
    points: Losses,
    error_points: f64,
    product: f64,
    /// Fast flux around its own peak ÷ that of rays there.
    peak_flux: f64,
    /// Largest fast flux at the watched spots ÷ largest of the fast flux map.
    watched: f64,
}

impl Difference {
    fn new(fast: &fast::Computed, rays: &slow::Judged) -> Self {
        let peak = peak_part(&fast.flux_suns);
        Self {
            points: std::array::from_fn(|factor| {
                100.0 * (fast.losses[factor] - rays.losses[factor])
            }),
            error_points: 100.0 * rays.product_error,
            product: rays.losses[FACTORS.len() - 1],
            peak_flux: around(&fast.flux_suns, peak) / around(&rays.flux_suns, peak),
            watched: fast.watched_suns / fast.flux_suns[peak],
        }
    }

    fn product_points(&self) -> f64 {
        self.points[FACTORS.len() - 1]
    }
}

impl fmt::Display for Difference {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "{:6.2} % |", 100.0 * self.product)?;
        for (name, points) in FACTORS.iter().zip(&self.points) {
            write!(out, " {name} {points:+.2}")?;
        }
        write!(
            out,
            " ± {:.2} | flux at its peak × {:.3}, watched × {:.3}",
            self.error_points, self.peak_flux, self.watched
        )
    }
}

/// The brightest part of a flux map that has neighbours on all sides.
fn peak_part(flux_suns: &[f64]) -> usize {
    let inner = |part: &usize| {
        (1..PARTS - 1).contains(&(part % PARTS)) && (1..PARTS - 1).contains(&(part / PARTS))
    };
    (0..PARTS * PARTS)
        .filter(inner)
        .max_by(|&one, &other| flux_suns[one].total_cmp(&flux_suns[other]))
        .expect("the map has inner parts")
}

/// Mean flux of a part and its eight neighbours.
fn around(flux_suns: &[f64], part: usize) -> f64 {
    let rows = part / PARTS - 1..=part / PARTS + 1;
    let parts = rows.flat_map(|row| (part % PARTS - 1..=part % PARTS + 1).map(move |at| (row, at)));
    parts
        .map(|(row, at)| flux_suns[row * PARTS + at])
        .sum::<f64>()
        / 9.0
}

/// Differences of one field under all suns, printed as a table.
fn compare(trial: &Trial, sun: &Sun) -> Vec<Difference> {
    let blur = sun.fast.blur().expect("the sun's shape is sound");
    let (plan, mirrors, suns) = (trial.plan(), fields::mirrors(blur), instants::suns());
    let stands = fast::stands(trial, &plan, &suns);
    let fast = fast::losses(trial, &plan, &mirrors, &suns, &stands);
    INSTANTS
        .iter()
        .enumerate()
        .map(|(lane, instant)| {
            let rays = slow::losses(trial, &plan, &mirrors, sun.rays, suns[lane], &stands, lane);
            let difference = Difference::new(&fast[lane], &rays);
            println!("{:<15} {difference}", instant.name);
            difference
        })
        .collect()
}

/// Mean of the product's differences, weighted by the DNI of each sun.
fn mean_points(differences: &[Difference]) -> f64 {
    let weights = instants::suns().map(instants::dni);
    let total: f64 = weights.iter().sum();
    let weighted: f64 = differences
        .iter()
        .zip(weights)
        .map(|(difference, weight)| weight * difference.product_points())
        .sum();
    weighted / total
}

/// One shape of the sun, as each of the two models has it.
struct Sun {
    fast: optics::SunShape,
    rays: rays::SunShape,
}

impl Sun {
    fn even_disc() -> Self {
        let radius_rad = DISC_RAD;
        Self {
            fast: optics::SunShape::Disc { radius_rad },
            rays: rays::SunShape::Disc { radius_rad },
        }
    }

    fn limb_darkened() -> Self {
        let radius_rad = DISC_RAD;
        Self {
            fast: optics::SunShape::LimbDarkened { radius_rad },
            rays: rays::SunShape::LimbDarkened { radius_rad },
        }
    }

    fn with_circumsolar_light(circumsolar_ratio: f64) -> Self {
        Self {
            fast: optics::SunShape::Buie { circumsolar_ratio },
            rays: rays::SunShape::with_circumsolar_ratio(circumsolar_ratio),
        }
    }
}

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

/// Its flux around the peak keeps to 5 %.
fn check(trial: &Trial, sun: &Sun, allowed: &Allowed) {
    let differences = compare(trial, sun);
    let mean_points = mean_points(&differences);
    println!("mean over all suns {mean_points:+.3}");
    for (instant, difference) in INSTANTS.iter().zip(&differences) {
        let points = difference.product_points();
        assert!(
            points.abs() < allowed.instant,
            "{}: {points:+.2}",
            instant.name
        );
        assert!(difference.error_points < 0.1, "too few rays");
        let peak_flux = difference.peak_flux;
        assert!(
            (peak_flux - 1.0).abs() < 0.05,
            "{}: × {peak_flux}",
            instant.name
        );
    }
    assert!(mean_points.abs() < allowed.mean, "{mean_points:+.3}");
}

#[test]
fn near_and_dense() {
    check(&fields::near_and_dense(), &Sun::even_disc(), &USUAL);
}

#[test]
fn across_the_line_of_sight() {
    check(
        &fields::across_the_line_of_sight(),
        &Sun::even_disc(),
        &USUAL,
    );
}

#[test]
fn far() {
    check(&fields::far(), &Sun::even_disc(), &USUAL);
}

#[test]
fn far_and_blocked() {
    check(&fields::far_and_blocked(), &Sun::even_disc(), &USUAL);
}

#[test]
fn radial_on_rails() {
    check(&fields::radial_on_rails(), &Sun::even_disc(), &USUAL);
}

#[test]
fn sparse_before_a_small_aperture() {
    check(
        &fields::sparse_before_a_small_aperture(),
        &Sun::even_disc(),
        &USUAL,
    );
}

#[test]
fn large_panels_on_a_slope() {
    check(
        &fields::large_panels_on_a_slope(),
        &Sun::even_disc(),
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

/// Limb darkening narrows the sun by 5 %.
#[test]
fn darkened_limb() {
    let sun = Sun::limb_darkened();
    check(&fields::sparse_before_a_small_aperture(), &sun, &USUAL);
}

/// With 5 % of the light in the aureole an aperture that takes all of an even disc loses 1.5 % of
/// the beam.
#[test]
fn circumsolar_light() {
    for (ratio, allowed) in [(0.02, &USUAL), (0.05, &USUAL), (0.2, &TARGET)] {
        let sun = Sun::with_circumsolar_light(ratio);
        check(&fields::across_the_line_of_sight(), &sun, allowed);
        check(&fields::sparse_before_a_small_aperture(), &sun, allowed);
    }
}
