//! Off-axis images, blur and shift against closed forms and published tables.

use field::{FirstAxis, Linkage, Plan, Stance, StringRow};
use geometry::{LANES, Vec3, lane};

use super::*;
use crate::coarse::coarse_vectors;
use crate::mirrors::{Attenuation, Facets, Reflectance};

/// A mirror at the origin, the aim point north of it, the sun turned from it by twice the
/// incidence angle in the level plane; so tangential is right, sagittal is up.
struct Bench {
    plan: Plan,
    sun: Vec3,
    mirrors: Mirrors,
}

impl Bench {
    fn new(side_m: f64, range_m: f64, focal_length_m: f64, incidence_deg: f64) -> Self {
        let (sine, cosine) = libm::sincos((2.0 * incidence_deg).to_radians());
        let plan = Plan {
            x_m: vec![0.0],
            y_m: vec![0.0],
            z_m: vec![0.0],
            width_m: vec![side_m],
            height_m: vec![side_m],
            focal_length_m: vec![focal_length_m],
            strings: vec![StringRow {
                first_mirror: 0,
                mirror_count: 1,
                bearing_rad: 0.0,
                first_axis: FirstAxis::Vertical,
                linkage: Linkage::EqualAngle,
                row: 0,
            }],
            aim_m: range_m * Vec3::Y,
            aim_shift_m: Vec::new(),
        };
        let reflectance = Reflectance {
            silver: 1.0,
            glass_thickness_m: 0.0,
            extinction_per_m: 0.0,
            cleanliness: 1.0,
        };
        let mirrors = Mirrors {
            facets: Facets::ONE_BENT,
            reflectance,
            slope_error_rad: 0.0,
            scatter_rad: 0.0,
            bending_residual: 0.0,
            gravity_slope_rad: 0.0,
            sun: bell(0.0),
            attenuation: Attenuation::ClearAir,
        };
        Self {
            plan,
            sun: Vec3::new(sine, cosine, 0.0),
            mirrors,
        }
    }

    /// Image on a plane square to the beam, the normal turned by `turn_rad` about `about`.
    fn image(&self, turn_rad: f64, about: Vec3, stance: &Stance) -> Image {
        self.image_through(&Opening::WHOLE, turn_rad, about, stance)
    }

    /// The same of what is open of the mirror.
    fn image_through(
        &self,
        opening: &Opening,
        turn_rad: f64,
        about: Vec3,
        stance: &Stance,
    ) -> Image {
        let aperture = Aperture::facing(std::f64::consts::PI, 0.0, self.plan.aim_m, 1.0, 1.0);
        let right_normal = (self.sun + Vec3::Y).normalize();
        let normal = right_normal + turn_rad * about.cross(right_normal);
        let suns = alike(self.sun);
        let level_edge = alike(Vec3::Z.cross(right_normal));
        let panel = Panel::new(&alike(normal.normalize()), &level_edge, &suns);
        let optic = Optic::new(&self.plan, 0, &self.mirrors, &aperture);
        Image::new(&optic, &panel, opening, &suns, stance, 0)
    }

    fn still(&self) -> Image {
        self.image(0.0, Vec3::Z, &steady())
    }
}

/// A sun that spreads like a bell curve, or not at all.
fn bell(rms_rad: f64) -> SunBlur {
    SunBlur {
        core_rad2: (rms_rad * rms_rad) as f32,
        core_excess: 0.0,
        ..SunBlur::EVEN_DISC
    }
}

/// The same vector in all lanes.
fn alike(vector: Vec3) -> CoarseVec3 {
    coarse_vectors(&lane::columns(&[vector; LANES]))
}

fn steady() -> Stance {
    let mut stance = Stance::default();
    stance.resize(1);
    stance
}

fn near(value: impl Into<f64>, expected: f64, allowed: f64) {
    let value = value.into();
    assert!((value - expected).abs() <= allowed, "{value} {expected}");
}

/// D = 2 m, f = L = 100 m, point sun: own ray trace of a sphere and a paraboloid agrees with
/// D·(1 − cos θ) within 1e-3 (formula: Igel & Hughes, Solar Energy 22 (1979) 283–295).
#[test]
fn astigmatism_at_the_focus() {
    let traced = [
        (10.0, 0.030385, 0.030394),
        (20.0, 0.120618, 0.120623),
        (30.0, 0.267956, 0.267965),
        (45.0, 0.585801, 0.585811),
        (60.0, 1.000025, 1.000025),
    ];
    for (incidence_deg, tangential_m, sagittal_m) in traced {
        let image = Bench::new(2.0, 100.0, 100.0, incidence_deg).still();
        near(image.right.patch_m[0], tangential_m, 1e-3 * tangential_m);
        near(image.up.patch_m[0], sagittal_m, 1e-3 * sagittal_m);
    }
}

/// θ = 30°, f = 100 m, other ranges: h = D·|L/f − cos θ|, w = D·|L·cos θ/f − 1| (the same source).
#[test]
fn astigmatism_off_the_focus() {
    let cases = [
        (70.0, 0.332051, 0.787564),
        (86.6025, 0.0, 0.500001),
        (115.4701, 0.577351, 0.0),
        (150.0, 1.267949, 0.598076),
    ];
    for (range_m, tangential_m, sagittal_m) in cases {
        let image = Bench::new(2.0, range_m, 100.0, 30.0).still();
        near(image.right.patch_m[0], tangential_m, 2e-6);
        near(image.up.patch_m[0], sagittal_m, 2e-6);
    }
}

/// A flat facet: its own size, foreshortened, and the sun's: 1.79603 m tangential, 1.93000 m
/// sagittal at w = 1 m, L = 100 m, θ = 30° (closed form). The full width of an even disc is four
/// times its spread for one axis.
#[test]
fn flat_facet() {
    let mut bench = Bench::new(1.0, 100.0, f64::INFINITY, 30.0);
    bench.mirrors.sun = SunBlur::EVEN_DISC;
    let image = bench.still();
    let sun_m = |axis: &ImageAxis| {
        4.0 * (axis.variance_m2[0] - axis.patch_m[0] * axis.patch_m[0] / 12.0).sqrt()
    };
    near(image.right.patch_m[0] + sun_m(&image.right), 1.79603, 1e-5);
    near(image.up.patch_m[0] + sun_m(&image.up), 1.93, 1e-5);
}

/// Slope errors of 1 mrad blur by 2·σ in the plane of incidence and 2·σ·cos θ across it: 2.00/2.00,
/// 2.00/1.73, 2.00/1.00 mrad at 0, 30, 60° (Rabl, Active Solar Collectors, 1985; from memory).
#[test]
fn slope_errors_blur_more_in_the_plane_of_incidence() {
    for (incidence_deg, across_mrad) in [(0.0, 2.0), (30.0, 1.732_05), (60.0, 1.0)] {
        let mut bench = Bench::new(1e-6, 100.0, 100.0, incidence_deg);
        bench.mirrors.slope_error_rad = 1e-3;
        let image = bench.still();
        near(10.0 * image.right.variance_m2[0].sqrt(), 2.0, 1e-5);
        near(10.0 * image.up.variance_m2[0].sqrt(), across_mrad, 1e-5);
        near(image.shared_m2[0], 0.0, 1e-12);
    }
}

/// Independent spreads add as squares: slope 1.3 mrad, scatter 0.2, sun 2.73, pointing 0.63 (twice
/// in the beam) give 3.980013 mrad square to the mirror (closed form).
#[test]
fn spreads_add_as_squares() {
    let mut bench = Bench::new(1e-6, 100.0, 100.0, 0.0);
    bench.mirrors.slope_error_rad = 1.3e-3;
    bench.mirrors.scatter_rad = 0.2e-3;
    bench.mirrors.sun = bell(2.73e-3);
    let mut stance = steady();
    stance.blur_in_plane_rad2[0] = [1.26e-3 * 1.26e-3; LANES];
    stance.blur_across_rad2[0] = stance.blur_in_plane_rad2[0];
    let image = bench.image(0.0, Vec3::Z, &stance);
    for axis in [&image.right, &image.up] {
        near(10.0 * axis.variance_m2[0].sqrt(), 3.980013, 2e-6);
    }
}

/// A blur given in the plane of incidence stays in it.
#[test]
fn given_blur_keeps_its_plane() {
    let mut stance = steady();
    stance.blur_in_plane_rad2[0] = [9e-6; LANES];
    stance.blur_across_rad2[0] = [1e-6; LANES];
    let image = Bench::new(1e-6, 100.0, 100.0, 25.0).image(0.0, Vec3::Z, &stance);
    near(image.right.variance_m2[0], 9e-2, 1e-6);
    near(image.up.variance_m2[0], 1e-2, 1e-6);
}

/// A normal turned by 1 mrad moves the beam by 2 mrad in the plane of incidence and by 2·cos θ
/// mrad across it (law of reflection).
#[test]
fn turned_normals_shift_the_image() {
    let bench = Bench::new(1.0, 100.0, 100.0, 40.0);
    let in_plane = bench.image(1e-3, Vec3::Z, &steady());
    near(in_plane.right.offset_m[0].abs(), 0.2, 1e-3);
    near(in_plane.up.offset_m[0], 0.0, 1e-4);
    let in_panel = (bench.sun + Vec3::Y).normalize().cross(Vec3::Z);
    let across = bench.image(1e-3, in_panel, &steady());
    near(
        across.up.offset_m[0].abs(),
        0.2 * libm::cos(40f64.to_radians()),
        1e-3,
    );
    near(bench.still().right.offset_m[0], 0.0, 1e-4);
}

/// On an aperture turned by 50° about the upright the image is 1 ÷ cos 50° as wide.
#[test]
fn oblique_apertures_widen_the_image() {
    let mut bench = Bench::new(1e-6, 100.0, 100.0, 0.0);
    bench.mirrors.sun = bell(2e-3);
    let turn_rad = 50f64.to_radians();
    let aperture = Aperture::facing(
        std::f64::consts::PI + turn_rad,
        0.0,
        bench.plan.aim_m,
        1.0,
        1.0,
    );
    let suns = alike(bench.sun);
    let panel = Panel::new(&suns, &alike(Vec3::X), &suns);
    let optic = Optic::new(&bench.plan, 0, &bench.mirrors, &aperture);
    let image = Image::new(&optic, &panel, &Opening::WHOLE, &suns, &steady(), 0);
    near(
        image.right.variance_m2[0].sqrt(),
        0.2 / libm::cos(turn_rad),
        1e-6,
    );
    near(image.up.variance_m2[0].sqrt(), 0.2, 1e-6);
}

/// The open half of a flat mirror makes the image of one half as wide that stands there.
#[test]
fn half_a_mirror_is_a_mirror_of_half_the_width() {
    let mut bench = Bench::new(2.0, 100.0, f64::INFINITY, 40.0);
    let right_half = Opening {
        middle: [[0.25; LANES], [0.0; LANES]],
        stretch: [[0.5; LANES], [1.0; LANES]],
    };
    let half = bench.image_through(&right_half, 0.0, Vec3::Z, &steady());
    let edge = Vec3::Z.cross((bench.sun + Vec3::Y).normalize());
    bench.plan.width_m = vec![1.0];
    (bench.plan.x_m[0], bench.plan.y_m[0]) = (0.5 * edge.x, 0.5 * edge.y);
    let alone = bench.still();
    for (found, expected) in [(&half.right, &alone.right), (&half.up, &alone.up)] {
        near(found.offset_m[0], expected.offset_m[0].into(), 1e-4);
        near(found.patch_m[0], expected.patch_m[0].into(), 1e-4);
        near(found.variance_m2[0], expected.variance_m2[0].into(), 1e-4);
    }
}
