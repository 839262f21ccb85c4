//! Peaks round cylinders that watched rings tell, against a map.

use crate::compare::Sun;
use crate::fields::{self, Trial};
use crate::instants::INSTANTS;
use crate::{WATCHED_WITHIN, fast, instants};

/// What is told keeps to this where aims of some hundred strings or mirrors are spread, which leaves single images apart.
const SPREAD_WITHIN: f64 = 0.08;

/// How a trial field is made.
type Field = fn() -> Trial;

/// What is told of the peak under every sun over that of a map.
fn told(trial: &Trial) -> [f64; INSTANTS.len()] {
    let sun = Sun::even_disc().fast.blur().expect("a disc is sound");
    let (plan, mirrors, suns) = (trial.plan(), trial.mirrors(sun), instants::suns());
    let stands = fast::stands(trial, &plan, &suns);
    fast::losses(trial, &plan, &mirrors, &suns, &stands)
        .map(|computed| computed.watched_suns / computed.peak_suns)
}

/// Strings round slim and broad cylinders and large mirrors in rings, with one aim and with aims spread over half of
/// the cylinder or all of it.
///
/// Not held: peaks of 260 large mirrors with aims all over a cylinder are told up to 15 % too high, and those on a
/// cylinder whose spots lie farther apart than images are wide (24 round one of 6 m, images of 0.3 m) up to 14 % too
/// low.
#[test]
fn watched_rings_tell_the_peak_round_a_cylinder() {
    let fields: [(Field, &[f64]); 3] = [
        (fields::around_a_cylinder, &[0.0, 0.5, 1.0]),
        (fields::around_a_broad_cylinder, &[0.0, 0.5, 1.0]),
        (fields::rings_around_a_cylinder, &[0.0, 0.5]),
    ];
    for (field, (trial, spreads)) in fields.iter().enumerate() {
        for &aim_spread in *spreads {
            let told = told(&Trial {
                aim_spread,
                ..trial()
            });
            let least = told.iter().copied().fold(f64::INFINITY, f64::min);
            let most = told.iter().copied().fold(0.0, f64::max);
            println!("{field}, aims spread over {aim_spread}: × {least:.3} … {most:.3}");
            let within = if aim_spread > 0.0 {
                SPREAD_WITHIN
            } else {
                WATCHED_WITHIN
            };
            assert!(
                1.0 - within < least && most < 1.0 + within,
                "{field} {aim_spread}: {told:?}"
            );
        }
    }
}
