//! What is compared: the fast model's losses and flux with those of rays, field by field.

use std::fmt;

use field::Plan;
use model::LOSSES;
use optics::DISC_RAD;

use crate::fields::Trial;
use crate::instants::INSTANTS;
use crate::{fast, instants, slow};

/// Parts of the flux maps each way.
pub const PARTS: usize = 15;

/// The losses of a field under one sun: each factor and their product.
pub type Losses = [f64; LOSSES.len()];

/// Fast model less rays, in percentage points, with the standard error of the product.
pub struct Difference {
    pub points: Losses,
    pub error_points: f64,
    pub product: f64,
    /// Fast flux around its own peak ÷ that of rays there.
    pub peak_flux: f64,
    /// Largest fast flux that the watched spots tell ÷ largest fast flux anywhere.
    pub watched: f64,
}

impl Difference {
    fn new(fast: &fast::Computed, rays: &slow::Judged) -> Self {
        let peak = peak_part(&fast.flux_suns);
        Self {
            points: std::array::from_fn(|factor| {
                100.0 * (fast.losses[factor] - rays.losses[factor])
            }),
            error_points: 100.0 * rays.product_error,
            product: rays.losses[LOSSES.len() - 1],
            peak_flux: around(&fast.flux_suns, peak) / around(&rays.flux_suns, peak),
            watched: fast.watched_suns / fast.peak_suns,
        }
    }

    pub fn product_points(&self) -> f64 {
        self.points[LOSSES.len() - 1]
    }
}

impl fmt::Display for Difference {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "{:6.2} % |", 100.0 * self.product)?;
        for (name, points) in LOSSES.iter().zip(&self.points) {
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

/// Differences of one field under all suns, with so many rays from each mirror.
pub fn compare(trial: &Trial, sun: &Sun, rounds: u64) -> Vec<Difference> {
    compare_plan(trial, &trial.plan(), sun, rounds)
}

/// The same of a plan that stands in the trial's place.
pub fn compare_plan(trial: &Trial, plan: &Plan, sun: &Sun, rounds: u64) -> Vec<Difference> {
    let blur = sun.fast.blur().expect("the sun's shape is sound");
    let (mirrors, suns) = (trial.mirrors(blur), instants::suns());
    let stands = fast::stands(trial, plan, &suns);
    let fast = fast::losses(trial, plan, &mirrors, &suns, &stands);
    (0..INSTANTS.len())
        .map(|lane| {
            let rays = slow::losses(
                trial, plan, &mirrors, &sun.rays, suns[lane], &stands, lane, rounds,
            );
            Difference::new(&fast[lane], &rays)
        })
        .collect()
}

/// Mean of the product's differences, weighted by the DNI of each sun.
pub fn mean_points(differences: &[Difference]) -> f64 {
    weighted(differences, Difference::product_points)
}

/// The same of what rays say of the product.
#[allow(dead_code)]
pub fn mean_product(differences: &[Difference]) -> f64 {
    weighted(differences, |difference| difference.product)
}

fn weighted(differences: &[Difference], of: impl Fn(&Difference) -> f64) -> f64 {
    let weights = instants::suns().map(instants::dni);
    let total: f64 = weights.iter().sum();
    let terms = differences.iter().zip(weights);
    let sum: f64 = terms
        .map(|(difference, weight)| weight * of(difference))
        .sum();
    sum / total
}

/// One shape of the sun, as each of the two models has it.
pub struct Sun {
    pub fast: optics::SunShape,
    pub rays: rays::SunShape,
}

impl Sun {
    pub fn even_disc() -> Self {
        let radius_rad = DISC_RAD;
        Self {
            fast: optics::SunShape::Disc { radius_rad },
            rays: rays::SunShape::Disc { radius_rad },
        }
    }

    pub fn limb_darkened() -> Self {
        let radius_rad = DISC_RAD;
        Self {
            fast: optics::SunShape::LimbDarkened { radius_rad },
            rays: rays::SunShape::LimbDarkened { radius_rad },
        }
    }

    /// A disc with a soft edge in thin haze, as a camera might see it: invented.
    pub fn tabled() -> Self {
        let (angle_rad, brightness): (Vec<f64>, Vec<f64>) = [
            (0.0, 1.0),
            (2.0, 0.96),
            (3.5, 0.86),
            (4.2, 0.7),
            (4.6, 0.42),
            (4.8, 0.03),
            (6.0, 0.011),
            (10.0, 0.004),
            (20.0, 0.001),
            (40.0, 0.0002),
        ]
        .map(|(angle_mrad, brightness)| (1e-3 * angle_mrad, brightness))
        .into_iter()
        .unzip();
        Self {
            fast: optics::SunShape::Table {
                angle_rad: angle_rad.clone(),
                brightness: brightness.clone(),
            },
            rays: rays::SunShape::Table {
                angle_rad,
                brightness,
            },
        }
    }

    pub fn with_circumsolar_light(circumsolar_ratio: f64) -> Self {
        Self {
            fast: optics::SunShape::Buie { circumsolar_ratio },
            rays: rays::SunShape::with_circumsolar_ratio(circumsolar_ratio),
        }
    }
}
