//! What passes an aperture, end to end, against values worked elsewhere.

mod support;

use book::Check;
use field::{FirstAxis, Linkage, Plan, Stance, StringRow};
use geometry::{LANES, Vec3, lane};
use optics::{Aperture, DISC_RAD, Mirrors, Scene, SunBlur, SunShape, Surroundings};

/// A panel so small that its own size does not count.
const TINY_M: f64 = 1e-4;
const RANGE_M: f64 = 100.0;

/// One mirror on its own, `from_aim_m` from where it aims.
fn lone(from_aim_m: Vec3) -> Plan {
    let mut plan = Plan {
        aim_m: -from_aim_m,
        strings: vec![StringRow {
            first_mirror: 0,
            mirror_count: 1,
            bearing_rad: 0.0,
            first_axis: FirstAxis::Vertical,
            linkage: Linkage::EqualAngle,
            row: 0,
        }],
        ..Plan::default()
    };
    support::push_mirror(&mut plan, Vec3::ZERO, TINY_M);
    plan
}

/// Smooth panels that the sun shines on so.
fn smooth(sun: SunBlur) -> Mirrors {
    Mirrors {
        slope_error_rad: 0.0,
        scatter_rad: 0.0,
        bending_residual: 0.0,
        gravity_slope_rad: 0.0,
        sun,
        ..support::fair_mirrors()
    }
}

/// Cosine and share inside of the lone mirror's light under one sun.
fn light(
    plan: &Plan,
    mirrors: &Mirrors,
    aperture: &Aperture,
    sun: Vec3,
    blur_rad: f64,
) -> [f64; 2] {
    let suns = lane::columns(&[sun; LANES]);
    let around = Surroundings::new(plan, 0.1);
    let hood = around.of_all();
    let scene = Scene {
        plan,
        hood: &hood,
        mirrors,
        aperture,
    };
    let mut stance = Stance::default();
    support::ideal_stance(plan, 0, &suns, &mut stance);
    stance.blur_in_plane_rad2[0] = [blur_rad * blur_rad; LANES];
    stance.blur_across_rad2[0] = [blur_rad * blur_rad; LANES];
    let mut found = [0.0; 2];
    scene
        .under(&suns)
        .each_mirror(0, 0..1, &stance, |_, light| {
            found = [light.cosine[0], light.intercept[0]];
        });
    found
}

/// Share inside an aperture of a mirror that sends the sun straight back, 100 m away.
fn share_inside(mirrors: &Mirrors, aperture: &Aperture, blur_rad: f64) -> f64 {
    let plan = lone(-RANGE_M * Vec3::Y);
    let sun = (Vec3::Y + 1e-3 * Vec3::X).normalize();
    light(&plan, mirrors, aperture, sun, blur_rad)[1]
}

/// Sun, slope, scatter and pointing (twice in the beam) of (2.73, 1.3, 0.2, 0.63), (2.325, 1, 0, 0.5)
/// and (2.51, 1.5, 0.25, 0.75) mrad add to 3.980013, 3.225775 and 4.196737 mrad for each axis (squares add; closed
/// form): a square that reaches so far from its middle each way holds erf(1/√2)² = 0.46606494 of a bell curve.
#[test]
fn errors_add_to_a_spread() {
    let found = [
        ([2.73, 1.3, 0.2, 0.63], 3.980_013),
        ([2.325, 1.0, 0.0, 0.5], 3.225_775),
        ([2.51, 1.5, 0.25, 0.75], 4.196_737),
    ]
    .map(|([sun, slope, scatter, pointing], total)| {
        let shape = SunShape::Gaussian {
            rms_rad: 1e-3 * sun,
        };
        let mirrors = Mirrors {
            slope_error_rad: 1e-3 * slope,
            scatter_rad: 1e-3 * scatter,
            ..smooth(shape.blur().unwrap())
        };
        let side_m = 2e-3 * total * RANGE_M;
        let aperture =
            Aperture::facing(std::f64::consts::PI, 0.0, RANGE_M * Vec3::Y, side_m, side_m);
        (
            0.466_064_94,
            share_inside(&mirrors, &aperture, 2e-3 * pointing),
        )
    });
    Check {
        id: "optics.errors_add",
        model: "Sun, slope, scatter and pointing together",
        equation: "σ² = σ_sun² + (2 σ_slope)² + σ_scatter² + (2 σ_pointing)²",
        source: "squares of independent spreads add",
        validity: "bell-shaped errors square to the mirror",
        against: "erf(1/√2)², the share of a bell curve within a square of its own spread, for three sets of errors",
        unit: "",
    }
    .within(1e-5, found);
}

/// Share of an even disc of 4.65 mrad blurred by a bell curve of 2.6 mrad for each axis within 3, 5, 7, 9
/// and 12 mrad of its middle (quadrature of the convolution); a bell curve of the same variance would be off
/// by 0.0196, 0.0133, −0.0035, −0.0069 and −0.0015. The series of cumulants ends with the fourth.
#[test]
fn disc_and_bell_together_in_a_circle() {
    let sun = SunShape::Disc {
        radius_rad: DISC_RAD,
    };
    let mirrors = Mirrors {
        slope_error_rad: 1.3e-3,
        ..smooth(sun.blur().unwrap())
    };
    for (radius_mrad, share, allowed) in [
        (3.0, 0.289_591_6, 6.5e-3),
        (5.0, 0.628_829_5, 1.5e-3),
        (7.0, 0.870_070_3, 4e-3),
        (9.0, 0.971_065_8, 2.5e-3),
        (12.0, 0.998_801_6, 1e-3),
    ] {
        let diameter_m = 2e-3 * radius_mrad * RANGE_M;
        let aperture = Aperture::round(std::f64::consts::PI, 0.0, RANGE_M * Vec3::Y, diameter_m);
        let found = share_inside(&mirrors, &aperture, 0.0);
        println!("{radius_mrad} mrad: {found:.5} of {share:.5}");
        assert!(
            (found - share).abs() < allowed,
            "{radius_mrad} mrad: {found}"
        );
    }
}

/// Share of a bell curve within circles of 0.5 to 3.5 times its spread, 1 − exp(−R²/2).
#[test]
fn bell_in_a_circle_about_its_middle() {
    let shape = SunShape::Gaussian { rms_rad: 3e-3 };
    let mirrors = smooth(shape.blur().unwrap());
    let pairs = [
        (0.5, 0.117_503_10),
        (1.0, 0.393_469_34),
        (1.5, 0.675_347_53),
        (2.0, 0.864_664_72),
        (2.5, 0.956_063_07),
        (3.0, 0.988_891_00),
        (3.5, 0.997_812_51),
    ]
    .map(|(radius, share)| {
        let diameter_m = 6e-3 * radius * RANGE_M;
        let aperture = Aperture::round(std::f64::consts::PI, 0.0, RANGE_M * Vec3::Y, diameter_m);
        (share, share_inside(&mirrors, &aperture, 0.0))
    });
    Check {
        id: "optics.bell_in_a_circle",
        model: "Share of an image within a round aperture",
        equation: "six strips of the circle, each a difference of error functions",
        source: "own, by error functions",
        validity: "images of a mirror, bell-shaped",
        against: "1 − exp(−R² ÷ 2) for circles of 0.5 to 3.5 times the spread",
        unit: "",
    }
    .within(5e-4, pairs);
}
