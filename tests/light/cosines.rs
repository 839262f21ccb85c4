//! Cosines of a year, of the fast model under the true suns of one year.

use field::{FirstAxis, Linkage, Plan, Stance, StringRow};
use geometry::{LANES, Vec3, direction, lane};
use optics::{Aperture, Attenuation, Facets, Mirrors, Reflectance, Scene, SunBlur, Surroundings};
use sky::{Air, Moment, Site, sun_direction};

use crate::instants::dni;

const YEAR: i32 = 2023;
/// Quarter hours of the year.
const QUARTERS: u32 = 365 * 24 * 4;
/// Suns that stand lower are left out.
const LOWEST_DEG: f64 = 10.0;

/// Mirrors around a tower, 37.44° N 6.25° W: azimuth [°], distance [tower heights], and the mean cosine of the
/// year with and without weights of DNI.
const PLACES: [(f64, f64, f64, f64); 7] = [
    (0.0, 3.0, 0.875_15, 0.869_54),
    (0.0, 1.0, 0.917_49, 0.908_70),
    (90.0, 2.0, 0.775_46, 0.767_35),
    (270.0, 2.0, 0.775_21, 0.766_88),
    (45.0, 2.0, 0.857_24, 0.849_79),
    (180.0, 1.0, 0.758_78, 0.751_46),
    (180.0, 3.0, 0.636_84, 0.633_98),
];

/// Mirrors at the foot of a tower of 100 m, each a string of its own.
fn around_a_tower() -> Plan {
    let mut plan = Plan {
        aim_m: 100.0 * Vec3::Z,
        ..Plan::default()
    };
    for (index, (azimuth_deg, heights, ..)) in PLACES.into_iter().enumerate() {
        let place = 100.0 * heights * direction::along_bearing(azimuth_deg.to_radians());
        plan.x_m.push(place.x);
        plan.y_m.push(place.y);
        plan.z_m.push(0.0);
        plan.width_m.push(1.0);
        plan.height_m.push(1.0);
        plan.focal_length_m.push(place.distance(plan.aim_m));
        plan.strings.push(StringRow {
            first_mirror: index,
            mirror_count: 1,
            bearing_rad: 0.0,
            first_axis: FirstAxis::Vertical,
            linkage: Linkage::EqualAngle,
            row: 0,
        });
    }
    plan
}

/// Every quarter hour's sun above 10°.
fn suns() -> Vec<Vec3> {
    let site = Site {
        latitude_rad: 37.44_f64.to_radians(),
        longitude_rad: -6.25_f64.to_radians(),
        altitude_m: 0.0,
    };
    // So thin that it bends no light.
    let air = Air {
        pressure_pa: 100.0,
        temperature_k: 288.15,
    };
    (0..QUARTERS)
        .map(|quarter| {
            let moment = Moment::in_year(YEAR, 0.25 * f64::from(quarter), 0.0);
            sun_direction(&site, &moment.expect("a moment of the year"), &air).expect("a sun")
        })
        .filter(|sun| sun.z > libm::sin(LOWEST_DEG.to_radians()))
        .collect()
}

/// Mean cosines with and without weights against an independent sum over the same quarter hours: sun by
/// `solarposition.spa_python` of pvlib 0.16.1 without refraction, weights by [`dni`], n = unit(s + t).
#[test]
fn of_a_year() {
    let plan = around_a_tower();
    let mirrors = Mirrors {
        facets: Facets::ONE_BENT,
        reflectance: Reflectance {
            silver: 1.0,
            glass_thickness_m: 0.0,
            extinction_per_m: 0.0,
            cleanliness: 1.0,
        },
        slope_error_rad: 1e-3,
        scatter_rad: 0.0,
        bending_residual: 0.0,
        gravity_slope_rad: 0.0,
        sun: SunBlur::EVEN_DISC,
        attenuation: Attenuation::ClearAir,
    };
    let aperture = Aperture::facing(0.0, 0.0, plan.aim_m, 1.0, 1.0);
    let around = Surroundings::new(&plan, 0.1);
    let hood = around.of_all();
    let scene = Scene {
        plan: &plan,
        hood: &hood,
        mirrors: &mirrors,
        aperture: &aperture,
    };
    let (mut weighted, mut plain) = ([0.0; PLACES.len()], [0.0; PLACES.len()]);
    let (mut weights, mut count) = (0.0, 0.0);
    for block in suns().chunks(LANES) {
        let suns: [Vec3; LANES] = std::array::from_fn(|lane| block[lane.min(block.len() - 1)]);
        let mut sunlit = scene.under(&lane::columns(&suns));
        let weight = suns.map(dni);
        weights += weight[..block.len()].iter().sum::<f64>();
        count += block.len() as f64;
        for place in 0..PLACES.len() {
            let stance = on_target(&plan, place, &suns);
            sunlit.each_mirror(place, 0..1, &stance, |_, light| {
                for (lane, weight) in weight[..block.len()].iter().enumerate() {
                    weighted[place] += weight * light.cosine[lane];
                    plain[place] += light.cosine[lane];
                }
            });
        }
    }
    for (place, (azimuth_deg, heights, of_dni, of_time)) in PLACES.into_iter().enumerate() {
        let found = [weighted[place] / weights, plain[place] / count];
        println!("{azimuth_deg}°, {heights} heights: {found:.5?}");
        assert!(
            (found[0] - of_dni).abs() < 2e-5,
            "{azimuth_deg}° {heights}: {found:?}"
        );
        assert!(
            (found[1] - of_time).abs() < 2e-5,
            "{azimuth_deg}° {heights}: {found:?}"
        );
    }
}

fn on_target(plan: &Plan, mirror: usize, suns: &[Vec3; LANES]) -> Stance {
    let target = (plan.aim_m - plan.centre_m(mirror)).normalize();
    let mut stance = Stance::default();
    stance.resize(1);
    for (index, sun) in suns.iter().enumerate() {
        let normal = (*sun + target).normalize();
        lane::set_vector(&mut stance.normals[0], index, normal);
        let edge = Vec3::Z.cross(normal).normalize();
        lane::set_vector(&mut stance.width_edge, index, edge);
    }
    stance
}
