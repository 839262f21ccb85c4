//! Peaks that watched spots tell, against a fine map.

use optics::{Outline, Spots};

use crate::compare::Sun;
use crate::fields::{self, Trial};
use crate::instants::INSTANTS;
use crate::{WATCHED_WITHIN, fast, instants};

/// Parts of the map each way: a hundredth and less of an aperture, a tenth of the narrowest images and more.
const PARTS: usize = 135;

/// How a trial field is made.
type Field = fn() -> Trial;

/// What is told of the peak under every sun over the brightest spot of a map.
fn told(trial: &Trial) -> [f64; INSTANTS.len()] {
    let sun = Sun::even_disc().fast.blur().expect("a disc is sound");
    let (plan, mirrors, suns) = (trial.plan(), trial.mirrors(sun), instants::suns());
    let stands = fast::stands(trial, &plan, &suns);
    let spots = Spots::middles(PARTS);
    let (sums, flux_suns) = fast::summed(trial, &plan, &mirrors, &suns, &stands, &spots);
    let peaks_suns = sums.peak_suns();
    std::array::from_fn(|lane| {
        let flux_suns = flux_suns.iter().map(|flux| flux[lane]);
        peaks_suns[lane] / flux_suns.fold(0.0, f64::max)
    })
}

/// Holds what is told of a field, with one aim and with aims spread over half of the aperture or all of it.
fn check(name: &str, field: Field) {
    for aim_spread in [0.0, 0.5, 1.0] {
        let told = told(&Trial {
            aim_spread,
            ..field()
        });
        let least = told.iter().copied().fold(f64::INFINITY, f64::min);
        let most = told.iter().copied().fold(0.0, f64::max);
        println!("{name}, aims spread over {aim_spread}: × {least:.3} … {most:.3}");
        assert!(
            1.0 - WATCHED_WITHIN < least && most < 1.0 + WATCHED_WITHIN,
            "{name} {aim_spread}: {told:?}"
        );
    }
}

/// Strings round slim and broad cylinders, one so broad that images are a sixtieth of its turn wide, and large mirrors
/// on pedestals and in rings.
#[test]
fn watched_spots_tell_the_peak_round_a_cylinder() {
    check("slim", fields::around_a_cylinder);
    check("broad", fields::around_a_broad_cylinder);
    check("broadest", || Trial {
        outline: Outline::Cylinder {
            diameter_m: 6.0,
            height_m: 6.0,
        },
        ..fields::around_a_cylinder()
    });
    check("pedestals", fields::pedestals);
    check("rings", fields::rings_around_a_cylinder);
}

/// Few strings and few single mirrors before wide apertures, where every image lies alone.
#[test]
fn watched_spots_tell_the_peak_of_images_that_lie_alone() {
    check("four strings", || few(fields::near_and_dense, 4, 4.0));
    check("ten strings", || few(fields::near_and_dense, 10, 6.0));
    check("thirty strings", || few(fields::near_and_dense, 30, 8.0));
    check("thirty mirrors", || few(fields::singles, 30, 6.0));
    check("ninety mirrors", || few(fields::singles, 90, 8.0));
}

/// Fields whose images lie thick, or all on one another.
#[test]
fn watched_spots_tell_the_peak_of_images_that_lie_thick() {
    check("rails", fields::radial_on_rails);
    check("large panels", fields::large_panels_on_a_slope);
    check("single mirrors", fields::singles);
    check("rings", fields::rings_of_heliostats);
}

/// So many of a field's strings, before an aperture so wide and high.
fn few(field: Field, strings: usize, side_m: f64) -> Trial {
    Trial {
        strings,
        outline: Outline::Rectangle {
            width_m: side_m,
            height_m: side_m,
        },
        ..field()
    }
}
