//! One mirror of many facets: its image by the fast model and by rays that meet every facet as it
//! stands.

use std::f64::consts::PI;

use field::{FirstAxis, Linkage, Plan, Stance, StringRow};
use geometry::{LANES, Vec3, lane};
use optics::{
    Aperture, Attenuation, CORNER_PULLED_SQUARE, DISC_RAD, Facets, Mirrors, Reflectance, Scene,
    SunShape, Surroundings,
};
use rays::{Judge, Posture, Shape, Surface};

const ROUNDS: u64 = 200_000;
const SEED: u64 = 7;
/// Half angles between sun and aim [deg], so that a block's eight suns hold each once.
const INCIDENCES_DEG: [f64; LANES] = [2.0, 10.0, 20.0, 30.0, 40.0, 50.0, 58.0, 65.0];

/// A mirror on the ground and an aperture straight north of it that looks at it.
struct Bench {
    plan: Plan,
    mirrors: Mirrors,
    shape: Shape,
    aperture_m: f64,
}

impl Bench {
    fn new(size_m: [f64; 2], range_m: f64, facets: Facets, aperture_m: f64) -> Self {
        let plan = Plan {
            x_m: vec![0.0],
            y_m: vec![0.0],
            z_m: vec![0.0],
            width_m: vec![size_m[0]],
            height_m: vec![size_m[1]],
            focal_length_m: vec![range_m],
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
        Self {
            plan,
            mirrors: mirrors(facets),
            shape: if facets.are_flat {
                Shape::Flat
            } else {
                Shape::Paraboloid
            },
            aperture_m,
        }
    }

    fn aperture(&self) -> Aperture {
        Aperture::facing(PI, 0.0, self.plan.aim_m, self.aperture_m, self.aperture_m)
    }

    /// Suns at these incidences, half of them aside of the line to the aim and half above it.
    fn suns() -> [Vec3; LANES] {
        std::array::from_fn(|index| {
            let (sine, cosine) = libm::sincos((2.0 * INCIDENCES_DEG[index]).to_radians());
            // A little height keeps the sun above the ground.
            let sideways = if index % 2 == 0 { Vec3::X } else { Vec3::Z };
            (sine * sideways + cosine * Vec3::Y + 1e-3 * Vec3::Z).normalize()
        })
    }

    fn fast(&self) -> [f64; LANES] {
        let suns = Self::suns();
        let mut stance = Stance::default();
        stance.resize(1);
        for (index, &sun) in suns.iter().enumerate() {
            let normal = self.normal(sun);
            lane::set_vector(&mut stance.normals[0], index, normal);
            lane::set_vector(&mut stance.width_edge, index, level_edge(normal));
        }
        let around = Surroundings::new(&self.plan, 1e-3);
        let (hood, aperture) = (around.of_all(), self.aperture());
        let scene = Scene {
            plan: &self.plan,
            hood: &hood,
            mirrors: &self.mirrors,
            aperture: &aperture,
        };
        let mut intercept = [0.0; LANES];
        let mut sunlit = scene.under(&lane::columns(&suns));
        sunlit.each_mirror(0, 0..1, &stance, |_, light| intercept = light.intercept);
        intercept
    }

    fn traced(&self) -> [f64; LANES] {
        Self::suns().map(|sun| {
            let normal = self.normal(sun);
            let posture = Posture {
                sun,
                normals: vec![normal],
                width_edges: vec![level_edge(normal)],
                blur_in_plane_rad2: vec![0.0],
                blur_across_rad2: vec![0.0],
            };
            let Facets { columns, rows, .. } = self.mirrors.facets;
            let surface = Surface {
                facets: [columns, rows],
                shape: self.shape,
                slope_error_rad: self.mirrors.slope_error_rad,
                scatter_rad: self.mirrors.scatter_rad,
                reflectance: &|_| 1.0,
                transmittance: &|_| 1.0,
            };
            let disc = rays::SunShape::Disc {
                radius_rad: DISC_RAD,
            };
            let judge = Judge::new(&self.plan, &posture, surface, disc, self.seen())
                .expect("one mirror can be traced");
            judge.trace(0..ROUNDS, SEED).verdict().intercept.value
        })
    }

    fn seen(&self) -> rays::Aperture {
        let aperture = self.aperture();
        rays::Aperture {
            centre_m: aperture.centre_m,
            normal: aperture.normal,
            right: aperture.right,
            up: aperture.up,
            outline: rays::Outline::Rectangle,
            width_m: self.aperture_m,
            height_m: self.aperture_m,
            columns: 1,
            rows: 1,
        }
    }

    fn normal(&self, sun: Vec3) -> Vec3 {
        (sun + self.plan.target(0)).normalize()
    }

    /// Largest and mean difference, in shares of the light that comes.
    fn difference(&self) -> (f64, f64) {
        let (fast, traced) = (self.fast(), self.traced());
        println!("fast {fast:.4?}\nrays {traced:.4?}");
        let off: Vec<f64> = fast.iter().zip(traced).map(|(a, b)| a - b).collect();
        let worst = off.iter().fold(0.0_f64, |worst, one| worst.max(one.abs()));
        (worst, off.iter().sum::<f64>() / LANES as f64)
    }
}

fn mirrors(facets: Facets) -> Mirrors {
    let sun = SunShape::Disc {
        radius_rad: DISC_RAD,
    };
    Mirrors {
        facets,
        reflectance: Reflectance {
            silver: 1.0,
            glass_thickness_m: 0.0,
            extinction_per_m: 0.0,
            cleanliness: 1.0,
        },
        slope_error_rad: 1e-3,
        scatter_rad: 2e-4,
        bending_residual: 0.0,
        gravity_slope_rad: 0.0,
        sun: sun.blur().expect("a disc is sound"),
        attenuation: Attenuation::ClearAir,
    }
}

fn level_edge(normal: Vec3) -> Vec3 {
    Vec3::Z.cross(normal).try_normalize().unwrap_or(Vec3::X)
}

/// A mirror of 120 m² in 4 × 7 facets, near and far, before apertures that spill little and much.
fn large(are_flat: bool, range_m: f64, aperture_m: f64) -> Bench {
    let facets = Facets {
        columns: 4,
        rows: 7,
        are_flat,
    };
    Bench::new([12.0, 10.0], range_m, facets, aperture_m)
}

fn check(bench: &Bench, worst_allowed: f64) {
    let (worst, mean) = bench.difference();
    println!("worst {worst:.4}, mean {mean:+.4}");
    assert!(worst < worst_allowed, "{worst}");
    assert!(mean.abs() < 0.4 * worst_allowed, "{mean}");
}

#[test]
fn canted_and_bent() {
    for (range_m, aperture_m) in [(100.0, 3.0), (250.0, 3.0), (250.0, 6.0), (600.0, 7.0)] {
        check(&large(false, range_m, aperture_m), 0.02);
    }
}

#[test]
fn canted_and_flat() {
    for (range_m, aperture_m) in [
        (60.0, 2.5),
        (100.0, 3.0),
        (250.0, 3.0),
        (250.0, 6.0),
        (600.0, 7.0),
    ] {
        check(&large(true, range_m, aperture_m), 0.02);
    }
}

#[test]
fn one_flat_pane() {
    let flat = Facets {
        are_flat: true,
        ..Facets::ONE_BENT
    };
    for (side_m, range_m, aperture_m) in [(1.5, 40.0, 1.5), (1.5, 150.0, 2.0), (3.0, 100.0, 3.5)] {
        check(&Bench::new([side_m; 2], range_m, flat, aperture_m), 0.02);
    }
}

/// What corner-pulled facets leave unbent grows with the facet and not with the mirror.
#[test]
fn corner_pulled_facets() {
    for (facets_each_way, aperture_m) in [(2, 1.6), (4, 1.6)] {
        let facets = Facets {
            columns: facets_each_way,
            rows: facets_each_way,
            are_flat: false,
        };
        let mut bench = Bench::new([8.0; 2], 60.0, facets, aperture_m);
        bench.mirrors.bending_residual = CORNER_PULLED_SQUARE;
        bench.shape = Shape::CornerPulled;
        check(&bench, 0.03);
    }
}

/// A flat mirror that isn't focused needs a target of its own size at least (common practice, no
/// source): with the sun at its back a smaller one misses what of the glass looks past it, however
/// near it is. Facets need no more than a facet's size.
#[test]
fn a_flat_mirror_needs_a_target_of_its_own_size() {
    let flat = |columns, rows| Facets {
        columns,
        rows,
        are_flat: true,
    };
    let intercept = |facets, aperture_m| Bench::new([4.0; 2], 30.0, facets, aperture_m).fast()[0];
    let one = flat(1, 1);
    assert!(intercept(one, 4.0) < 0.99);
    assert!(intercept(one, 3.0) < 0.6, "9 m² of 16");
    assert!(intercept(one, 4.0 + 30.0 * 10e-3) > 0.99);
    let many = flat(8, 8);
    assert!(intercept(many, 0.5 + 30.0 * 13e-3) > 0.99);
    assert!(intercept(many, 0.4) < 0.64, "0.4² of 0.5²");
}
