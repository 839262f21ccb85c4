//! Light of the fast model against rays for mechanisms whose mirrors stand by other rules than a
//! common frame.

#![allow(clippy::expect_used)]

use drive::{Control, Drives, Line, Mechanism, OffsetPlace, Sensing, Tolerances, Travel};
use field::{BearingRule, FirstAxis, Linkage, Plan, Stance, StringField, candidates};
use geometry::{LANES, LaneVec3, Vec3, direction, lane};
use optics::{
    Aperture, Attenuation, CORNER_PULLED_SQUARE, DISC_RAD, Facets, LightSums, Mirrors, Reflectance,
    Scene, Surroundings,
};
use rays::{Judge, Outline, Posture, Shape, Surface};

/// Rays from each mirror.
const ROUNDS: u64 = 300;
/// Largest differences under any sun, in percentage points: fast model and noise of the rays.
const INTERCEPT_POINTS: f64 = 0.8;
const PRODUCT_POINTS: f64 = 0.6;
/// Small, so that residuals spill.
const APERTURE_M: f64 = 1.2;

/// Strings of 15 mirrors in a narrow sector before a tower of 36 m.
fn field(first_axis: FirstAxis, linkage: Linkage) -> StringField {
    StringField {
        mirrors_per_string: 15,
        side_m: 0.9,
        pitch_m: 1.2,
        bearing: BearingRule::Fan { share: 0.0 },
        first_axis,
        linkage,
        rail_slope_rad: 0.0,
        mount_height_m: 1.1,
        stagger_m: 0.0,
        row_spacing_m: 2.4,
        row_growth: 0.01,
        end_gap_m: 1.0,
        lane_every_rows: 8,
        lane_width_m: 3.0,
        inner_radius_m: 40.0,
        outer_radius_m: 62.0,
        sector_half_rad: 0.35,
        sector_centre_azimuth_rad: 0.4,
        ground_slope_east: 0.0,
        ground_slope_north: 0.0,
        aim_height_m: 36.0,
    }
}

fn mechanism(offset: OffsetPlace) -> Mechanism {
    Mechanism {
        latitude_rad: 0.61,
        alignment_sun: direction::from_azimuth_elevation(std::f64::consts::PI, 0.96),
        offset,
        control: Control::Reference,
        tolerances: Tolerances {
            post_tilt_rad: 1e-3,
            axis_squareness_rad: 7e-4,
            joint_play_rad: 5e-4,
            offset_setting_rad: 5e-4,
            lever_ratio: 2e-3,
            encoder_rad: 3e-4,
        },
        line: Line {
            wind_moment_rms_n_m: 4.0,
            pitch_m: 1.2,
            axial_stiffness_n: 4e6,
            lever_m: 0.35,
            driven_from_middle: true,
            warmth_rad_m: 0.0,
            coupling_play_m: 0.0,
        },
        travel: Travel::FREE,
        sensing: Sensing::OpenLoop,
    }
}

fn mirrors() -> Mirrors {
    let sun = optics::SunShape::Disc {
        radius_rad: DISC_RAD,
    };
    Mirrors {
        facets: Facets::ONE_BENT,
        reflectance: Reflectance {
            silver: 0.96,
            glass_thickness_m: 4e-3,
            extinction_per_m: 4.0,
            cleanliness: 0.95,
        },
        slope_error_rad: 1.2e-3,
        scatter_rad: 3e-4,
        bending_residual: CORNER_PULLED_SQUARE,
        gravity_slope_rad: 0.0,
        sun: sun.blur().expect("an even disc"),
        attenuation: Attenuation::ClearAir,
    }
}

fn aperture(plan: &Plan) -> Aperture {
    Aperture::facing(0.4, 0.35, plan.aim_m, APERTURE_M, APERTURE_M)
}

/// From winter morning to summer noon and back.
fn suns() -> LaneVec3 {
    let degrees = [
        (130.0, 15.0),
        (105.0, 25.0),
        (140.0, 45.0),
        (180.0, 31.0),
        (180.0, 76.0),
        (215.0, 50.0),
        (250.0, 30.0),
        (235.0, 14.0),
    ];
    lane::columns(&degrees.map(|(azimuth_deg, elevation_deg): (f64, f64)| {
        direction::from_azimuth_elevation(azimuth_deg.to_radians(), elevation_deg.to_radians())
    }))
}

/// Intercept and product of all losses by the fast model.
fn fast(plan: &Plan, stands: &[Stance]) -> [[f64; 2]; LANES] {
    let around = Surroundings::new(plan, 0.1);
    let hood = around.of_all();
    let mut sums = LightSums::default();
    for (string, stance) in stands.iter().enumerate() {
        let all = 0..plan.strings[string].mirror_count;
        Scene {
            plan,
            hood: &hood,
            mirrors: &mirrors(),
            aperture: &aperture(plan),
        }
        .under(&suns())
        .add_light(string, all, stance, &mut sums);
    }
    std::array::from_fn(|sun| {
        let [whole, arriving, inside] = [0, 5, 6].map(|step| sums.steps_m2[step][sun]);
        [inside / arriving, inside / whole]
    })
}

/// The same by rays under one sun.
fn traced(plan: &Plan, stands: &[Stance], column: usize) -> [f64; 2] {
    let (mirrors, aperture) = (mirrors(), aperture(plan));
    let posture = posture(lane::vector(&suns(), column), stands, column);
    let surface = Surface {
        facets: [1, 1],
        shape: Shape::CornerPulled,
        slope_error_rad: mirrors.slope_error_rad,
        scatter_rad: mirrors.scatter_rad,
        reflectance: &|cosine| mirrors.reflectance.at(cosine),
        transmittance: &|way_m| mirrors.attenuation.transmittance(way_m),
    };
    let window = rays::Aperture {
        centre_m: aperture.centre_m,
        normal: aperture.normal,
        right: aperture.right,
        up: aperture.up,
        outline: Outline::Rectangle,
        width_m: APERTURE_M,
        height_m: APERTURE_M,
        columns: 1,
        rows: 1,
    };
    let disc = rays::SunShape::Disc {
        radius_rad: DISC_RAD,
    };
    let judge = Judge::new(plan, &posture, surface, disc, window).expect("a sound scene");
    let verdict = judge.trace(0..ROUNDS, 7).verdict();
    [verdict.intercept.value, verdict.product.value]
}

fn posture(sun: Vec3, stands: &[Stance], column: usize) -> Posture {
    let mut posture = Posture::under(sun);
    for stance in stands {
        posture.add(stance, column);
    }
    posture
}

#[test]
fn rays_find_the_light_of_every_mechanism() {
    for (first_axis, linkage, offset) in [
        (FirstAxis::RollFree, Linkage::EqualAngle, OffsetPlace::Shim),
        (FirstAxis::Along, Linkage::Graded, OffsetPlace::Lever),
        (FirstAxis::Along, Linkage::SlidingLever, OffsetPlace::Lever),
        (FirstAxis::Vertical, Linkage::EqualAngle, OffsetPlace::Post),
    ] {
        let plan = candidates(&field(first_axis, linkage)).unwrap().plan;
        let mechanism = mechanism(offset);
        assert_eq!(mechanism.check(first_axis, linkage), Ok(()));
        let drives = Drives::prepare(&plan, &mechanism);
        let stands: Vec<Stance> = (0..plan.strings.len())
            .map(|string| {
                let mut stance = Stance::default();
                drives.stand(&plan, string, &suns(), &mut stance);
                stance
            })
            .collect();
        for (column, [intercept, product]) in fast(&plan, &stands).into_iter().enumerate() {
            let [traced_intercept, traced_product] = traced(&plan, &stands, column);
            let points = |fast: f64, traced: f64| 100.0 * (fast - traced);
            let (off_intercept, off_product) = (
                points(intercept, traced_intercept),
                points(product, traced_product),
            );
            println!(
                "{first_axis:?} {linkage:?} sun {column}: intercept {intercept:.4} {off_intercept:+.2}, product {product:.4} {off_product:+.2}"
            );
            assert!(off_intercept.abs() < INTERCEPT_POINTS, "{off_intercept}");
            assert!(off_product.abs() < PRODUCT_POINTS, "{off_product}");
        }
    }
}
