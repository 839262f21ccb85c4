//! Yearly figures of single strings against an independent calculation, from memory of its set-up:
//! how much of a string its own mirrors leave open, how far its beams miss, and what of the light
//! of mirrors that stand alone comes through an aperture.
//!
//! Known of that calculation: aim height 32 m, strings at 1.0 to 2.5 aim heights from the tower and
//! at azimuths of 0, ±30 and ±55°, square panels of 0.9 m, slope error 1.5 mrad, no tolerances.
//! Not known: latitude, weights of the suns, the alignment sun, how places are spread between the
//! two distances, the aperture's tilt. Strings are spread evenly over the distance here, which
//! meets its beam errors to 4 %. Spread evenly over the area, radial strings would be open to 0.61
//! and 0.80 (its values: 0.61 and 0.79) and beams would miss by 5 % less than it says.

// Not only the tests themselves print here.
#![allow(clippy::print_stdout)]

mod figures;
mod string;
mod year;

use field::FirstAxis::{Across, Along, Vertical};

use crate::figures::Figures;
use crate::string::Bearing::{Fan, Radial};
use crate::string::Build;

/// What the independent calculation says of one way to build strings.
struct Known<const COUNTS: usize> {
    build: Build,
    /// Mirrors in a string, for the columns of figures.
    mirrors: [usize; COUNTS],
    /// Share neither shaded nor blocked, and the mirrors of the string that it is of.
    lit: (usize, f64),
    rms_mrad: [f64; COUNTS],
    /// Light against single mirrors, on an aperture of 2 m.
    on_2_m: [f64; COUNTS],
    /// The same on one of 3 m.
    on_3_m: [f64; COUNTS],
}

/// Differences allowed: what is not known of the set-up moves figures by about as much.
const SHARE_WITHIN: f64 = 0.04;
const RMS_WITHIN: f64 = 0.06;
/// The table's last digit [mrad].
const RMS_ROUNDED_MRAD: f64 = 0.05;

impl<const COUNTS: usize> Known<COUNTS> {
    fn check(&self) {
        let (mirrors, lit) = self.lit;
        check_share("lit", Figures::new(&self.build, mirrors, 2.0).lit, lit);
        for (column, &mirrors) in self.mirrors.iter().enumerate() {
            println!("{mirrors} mirrors");
            let on_2_m = Figures::new(&self.build, mirrors, 2.0);
            let on_3_m = Figures::new(&self.build, mirrors, 3.0);
            check_rms(1e3 * on_2_m.rms_rad, self.rms_mrad[column]);
            check_share("light on 2 m", on_2_m.against_one, self.on_2_m[column]);
            check_share("light on 3 m", on_3_m.against_one, self.on_3_m[column]);
        }
    }
}

fn check_rms(ours_mrad: f64, known_mrad: f64) {
    println!("  misses by {ours_mrad:.2} mrad against {known_mrad}");
    let allowed_mrad = RMS_WITHIN * known_mrad + RMS_ROUNDED_MRAD;
    assert!(
        (ours_mrad - known_mrad).abs() < allowed_mrad,
        "{ours_mrad} mrad against {known_mrad}"
    );
}

fn check_share(name: &str, ours: f64, known: f64) {
    println!("  {name} {ours:.3} against {known}");
    assert!(
        (ours - known).abs() < SHARE_WITHIN,
        "{name}: {ours} against {known}"
    );
}

const COUNTS: [usize; 4] = [5, 9, 15, 25];

#[test]
fn radial_and_close() {
    Known {
        build: Build {
            bearing: Radial,
            first_axis: Across,
            pitch_ratio: 1.17,
            rail_deg: 0.0,
        },
        mirrors: COUNTS,
        lit: (15, 0.61),
        rms_mrad: [2.0, 3.6, 6.0, 10.1],
        on_2_m: [0.66, 0.62, 0.59, 0.54],
        on_3_m: [0.66, 0.63, 0.61, 0.58],
    }
    .check();
}

#[test]
fn radial_and_wide() {
    Known {
        build: Build {
            bearing: Radial,
            first_axis: Across,
            pitch_ratio: 1.6,
            rail_deg: 0.0,
        },
        mirrors: COUNTS,
        lit: (15, 0.79),
        rms_mrad: [2.7, 4.9, 8.2, 13.9],
        on_2_m: [0.82, 0.79, 0.73, 0.64],
        on_3_m: [0.83, 0.80, 0.78, 0.72],
    }
    .check();
}

#[test]
fn radial_on_a_rail_that_rises() {
    Known {
        build: Build {
            bearing: Radial,
            first_axis: Across,
            pitch_ratio: 1.4,
            rail_deg: 15.0,
        },
        mirrors: [9],
        lit: (9, 0.96),
        rms_mrad: [6.2],
        on_2_m: [0.91],
        on_3_m: [0.95],
    }
    .check();
}

#[test]
fn across_the_line_of_sight_with_upright_first_axes() {
    Known {
        build: Build {
            bearing: Fan(1.0),
            first_axis: Vertical,
            pitch_ratio: 1.1,
            rail_deg: 0.0,
        },
        mirrors: COUNTS,
        lit: (15, 0.91),
        rms_mrad: [8.4, 15.0, 26.0, 42.0],
        on_2_m: [0.86, 0.72, 0.55, 0.40],
        on_3_m: [0.91, 0.84, 0.70, 0.53],
    }
    .check();
}

#[test]
fn across_the_line_of_sight_with_first_axes_along() {
    Known {
        build: Build {
            bearing: Fan(1.0),
            first_axis: Along,
            pitch_ratio: 1.1,
            rail_deg: 0.0,
        },
        mirrors: COUNTS,
        lit: (15, 0.91),
        rms_mrad: [2.2, 4.0, 6.8, 11.4],
        on_2_m: [0.92, 0.89, 0.85, 0.77],
        on_3_m: [0.92, 0.91, 0.89, 0.84],
    }
    .check();
}

#[test]
fn east_west() {
    Known {
        build: Build {
            bearing: Fan(0.0),
            first_axis: Along,
            pitch_ratio: 1.3,
            rail_deg: 0.0,
        },
        mirrors: COUNTS,
        lit: (15, 0.92),
        rms_mrad: [2.1, 3.8, 6.4, 10.5],
        on_2_m: [0.93, 0.91, 0.86, 0.76],
        on_3_m: [0.93, 0.92, 0.91, 0.86],
    }
    .check();
}

#[test]
fn fanned_by_a_third() {
    Known {
        build: Build {
            bearing: Fan(1.0 / 3.0),
            first_axis: Along,
            pitch_ratio: 1.3,
            rail_deg: 0.0,
        },
        mirrors: [15],
        lit: (15, 0.94),
        rms_mrad: [6.5],
        on_2_m: [0.89],
        on_3_m: [0.92],
    }
    .check();
}
