//! The fast model of light against many rays, on all trial fields: a table for the record. An argument
//! leaves out all fields whose names do not contain it.

#![allow(clippy::expect_used, clippy::print_stdout)]

mod compare;
mod fast;
mod fields;
mod instants;
mod slow;

use crate::compare::{Difference, Sun, compare, mean_points};
use crate::fields::Trial;
use crate::instants::INSTANTS;

/// Rays from each mirror.
const ROUNDS: u64 = 4000;

fn main() {
    println!("| field | sun | year | instant | standard error | flux at its peak | watched |");
    println!("|---|---|---|---|---|---|---|");
    let wanted = std::env::args().nth(1).unwrap_or_default();
    let is_wanted = |(name, _): &Named| name.contains(&wanted);
    for (name, trial) in trials().into_iter().filter(is_wanted) {
        report(name, "even disc", &trial(), &Sun::even_disc());
    }
    for (name, trial) in [
        trials()[1],
        (
            "sparse before a small aperture",
            fields::sparse_before_a_small_aperture as fn() -> Trial,
        ),
    ]
    .into_iter()
    .filter(is_wanted)
    {
        report(name, "darker limb", &trial(), &Sun::limb_darkened());
        report(name, "tabled", &trial(), &Sun::tabled());
        for ratio in [0.02, 0.05, 0.1, 0.2] {
            let sun = Sun::with_circumsolar_light(ratio);
            report(
                name,
                &format!("{} % circumsolar", 100.0 * ratio),
                &trial(),
                &sun,
            );
        }
    }
}

/// A trial field by its name.
type Named = (&'static str, fn() -> Trial);

fn trials() -> [Named; 18] {
    [
        ("near and dense", fields::near_and_dense),
        ("across the line of sight", fields::across_the_line_of_sight),
        ("far", fields::far),
        ("far and blocked", fields::far_and_blocked),
        ("radial on rails", fields::radial_on_rails),
        (
            "sparse before a small aperture",
            fields::sparse_before_a_small_aperture,
        ),
        ("large panels on a slope", fields::large_panels_on_a_slope),
        ("south of the tower", fields::south_of_the_tower),
        ("singles", fields::singles),
        ("pedestals", fields::pedestals),
        ("rings of heliostats", fields::rings_of_heliostats),
        ("rings with one aim", fields::rings_with_one_aim),
        ("rings around a cylinder", fields::rings_around_a_cylinder),
        ("spread aims", fields::with_spread_aims),
        ("round opening", fields::before_a_round_opening),
        ("cylinder", fields::around_a_cylinder),
        ("broad cylinder", fields::around_a_broad_cylinder),
        ("shadow of a tower", fields::in_the_shadow_of_a_tower),
    ]
}

fn report(name: &str, sun_name: &str, trial: &Trial, sun: &Sun) {
    let differences = compare(trial, sun, ROUNDS);
    let (at, worst) = INSTANTS
        .iter()
        .zip(&differences)
        .map(|(instant, difference)| (instant.name, difference.product_points()))
        .max_by(|one, other| one.1.abs().total_cmp(&other.1.abs()))
        .expect("there are instants");
    let error_points = differences
        .iter()
        .map(|difference| difference.error_points)
        .fold(0.0, f64::max);
    println!(
        "| {name} | {sun_name} | {:+.3} | {worst:+.2} ({at}) | {error_points:.2} | {} | {} |",
        mean_points(&differences),
        range(&differences, |difference| difference.peak_flux),
        range(&differences, |difference| difference.watched),
    );
}

fn range(differences: &[Difference], ratio: impl Fn(&Difference) -> f64) -> String {
    let ratios = || differences.iter().map(&ratio);
    let (least, most) = (
        ratios().fold(f64::INFINITY, f64::min),
        ratios().fold(0.0, f64::max),
    );
    format!("× {least:.3} … {most:.3}")
}
