//! Rays against closed forms, published tables and one another.

use book::Check;
use geometry::{direction, lane::vector};

use super::*;
use crate::{Outline, Shape, Verdict};

const SEED: u64 = 11;

fn perfect(_: f64) -> f64 {
    1.0
}

const PERFECT: Surface<'static> = Surface {
    facets: [1, 1],
    shape: Shape::Flat,
    slope_error_rad: 0.0,
    scatter_rad: 0.0,
    reflectance: &perfect,
    transmittance: &perfect,
};

/// Square panels of side `side_m` at the given places.
fn plan(places_m: &[Vec3], side_m: f64, focal_length_m: f64) -> Plan {
    let count = places_m.len();
    Plan {
        x_m: places_m.iter().map(|place| place.x).collect(),
        y_m: places_m.iter().map(|place| place.y).collect(),
        z_m: places_m.iter().map(|place| place.z).collect(),
        width_m: vec![side_m; count],
        height_m: vec![side_m; count],
        focal_length_m: vec![focal_length_m; count],
        ..Plan::default()
    }
}

/// All mirrors lying flat under a sun whose rays meet them at `incidence_rad`, from the north.
fn lying(count: usize, incidence_rad: f64) -> Posture {
    Posture {
        sun: Vec3::new(0.0, libm::sin(incidence_rad), libm::cos(incidence_rad)),
        normals: vec![Vec3::Z; count],
        width_edges: vec![Vec3::X; count],
        blur_in_plane_rad2: vec![0.0; count],
        blur_across_rad2: vec![0.0; count],
    }
}

/// An aperture square to the beam of [`lying`] mirrors near the origin, `distance_m` away.
fn facing(incidence_rad: f64, distance_m: f64, side_m: f64) -> Aperture {
    let beam = Vec3::new(0.0, -libm::sin(incidence_rad), libm::cos(incidence_rad));
    Aperture {
        centre_m: distance_m * beam,
        normal: -beam,
        right: Vec3::X,
        up: beam.cross(Vec3::X),
        outline: Outline::Rectangle,
        width_m: side_m,
        height_m: side_m,
        columns: 1,
        rows: 1,
    }
}

/// Where the rays of the only mirror meet the aperture's plane, from its centre: across and in the
/// plane of incidence [m].
fn image_m(judge: &Judge, rounds: u64) -> Vec<[f64; 2]> {
    let (mirror, ways, draws) = (judge.mirror(0), judge.ways(0), Draws::new(SEED, 0));
    let aperture = judge.aperture;
    (0..rounds / LANES as u64)
        .flat_map(|bundle| {
            let first_round = bundle * LANES as u64;
            let shares = draws.points(first_round);
            let fates = judge.follow(&mirror, &ways, &shares, &draws, first_round);
            (0..LANES).map(move |lane| vector(&fates.meets_m, lane))
        })
        .filter(|off| off.is_finite())
        .map(|off| [off.dot(aperture.right), off.dot(aperture.up)])
        .collect()
}

fn deviation(values: impl Iterator<Item = f64> + Clone) -> f64 {
    let count = values.clone().count() as f64;
    let mean = values.clone().sum::<f64>() / count;
    (values
        .map(|value| (value - mean) * (value - mean))
        .sum::<f64>()
        / count)
        .sqrt()
}

/// The image of one tiny flat mirror at the origin under a point sun, 100 m away [m].
fn tiny_image_m(
    incidence_rad: f64,
    surface: Surface,
    posture: &Posture,
    sun: SunShape,
) -> Vec<[f64; 2]> {
    let plan = plan(&[Vec3::ZERO], 1e-6, f64::INFINITY);
    let judge = Judge::new(
        &plan,
        posture,
        surface,
        sun,
        facing(incidence_rad, 100.0, 10.0),
    )
    .unwrap();
    image_m(&judge, 60_000)
}

/// Slope errors of 1 mrad turn the beam by 2.00 mrad in the plane of incidence and by 2·cosθ
/// across it: 2.00, 1.73, 1.00 (Rabl 1985, from memory; values from an independent Monte Carlo).
#[test]
fn slope_errors_count_less_across_the_plane_of_incidence() {
    let known = [(0.0_f64, 2.00), (30.0, 1.73), (60.0, 1.00)];
    let found = known.map(|(degrees, across_mrad)| {
        let incidence_rad = degrees.to_radians();
        let surface = Surface {
            slope_error_rad: 1e-3,
            ..PERFECT
        };
        let image = tiny_image_m(
            incidence_rad,
            surface,
            &lying(1, incidence_rad),
            SunShape::Point,
        );
        let deviation_mrad = |axis: usize| 10.0 * deviation(image.iter().map(|at| at[axis]));
        [(across_mrad, deviation_mrad(0)), (2.0, deviation_mrad(1))]
    });
    Check {
        id: "rays.slope_errors",
        model: "Spread of a beam by errors of the mirror's slope",
        equation: "2 σ in the plane of incidence, 2 σ cos θ across it",
        source: "Rabl 1985, Active Solar Collectors (from memory)",
        validity: "small errors, any incidence",
        against: "an independent Monte Carlo at 0, 30 and 60°, errors of 1 mrad",
        unit: "mrad",
    }
    .within(0.02, found.concat());
}

/// Given variances of the beam come back as they were given, whatever the incidence; scatter adds
/// its own both ways.
#[test]
fn beam_variances_come_back() {
    let incidence_rad = 55f64.to_radians();
    let mut posture = lying(1, incidence_rad);
    posture.blur_in_plane_rad2 = vec![9e-6];
    posture.blur_across_rad2 = vec![4e-6];
    for scatter_rad in [0.0, 1e-3] {
        let surface = Surface {
            scatter_rad,
            ..PERFECT
        };
        let image = tiny_image_m(incidence_rad, surface, &posture, SunShape::Point);
        let expected = |rad2: f64| 100.0 * (rad2 + scatter_rad * scatter_rad).sqrt();
        let across_m = deviation(image.iter().map(|at| at[0]));
        let in_plane_m = deviation(image.iter().map(|at| at[1]));
        assert!((across_m / expected(4e-6) - 1.0).abs() < 0.01);
        assert!((in_plane_m / expected(9e-6) - 1.0).abs() < 0.01);
    }
}

/// Share of an even disc of 4.65 mrad blurred by a bell curve of 2.6 mrad for each axis within a
/// circle (quadrature of the convolution).
#[test]
fn disc_and_bell_together_hold_their_light() {
    let surface = Surface {
        slope_error_rad: 1.3e-3,
        ..PERFECT
    };
    let sun = SunShape::Disc {
        radius_rad: 4.65e-3,
    };
    let image = tiny_image_m(0.0, surface, &lying(1, 0.0), sun);
    for (radius_mrad, share) in [
        (3.0, 0.289_591_6),
        (5.0, 0.628_829_5),
        (7.0, 0.870_070_3),
        (9.0, 0.971_065_8),
        (12.0, 0.998_801_6),
    ] {
        let radius_m = 0.1 * radius_mrad;
        let inside = image
            .iter()
            .filter(|at| at[0] * at[0] + at[1] * at[1] < radius_m * radius_m)
            .count();
        let found = inside as f64 / image.len() as f64;
        let error = (share * (1.0 - share) / image.len() as f64).sqrt();
        assert!(
            (found - share).abs() < 3.5 * error,
            "{radius_mrad} mrad: {found}"
        );
    }
}

/// Extent of the image of a round panel of 2 m, focus and target at 100 m, under a point sun, by
/// the rays from the ends of two diameters: in the plane of incidence and across it (an
/// independent ray trace; Igel and Hughes, Solar Energy 22 (1979) 283–295: both 2 m·(1 − cosθ)). That trace's own points leave 7 µm at 10°.
#[test]
fn off_axis_images_are_as_wide_as_traced_elsewhere() {
    let table = [
        (10.0_f64, Shape::Sphere, 0.030410, 0.030369),
        (20.0, Shape::Sphere, 0.120643, 0.120599),
        (30.0, Shape::Sphere, 0.267981, 0.267943),
        (45.0, Shape::Sphere, 0.585826, 0.585794),
        (60.0, Shape::Sphere, 1.000050, 1.000013),
        (10.0, Shape::Paraboloid, 0.030385, 0.030394),
        (20.0, Shape::Paraboloid, 0.120618, 0.120623),
        (30.0, Shape::Paraboloid, 0.267956, 0.267965),
        (45.0, Shape::Paraboloid, 0.585801, 0.585811),
        (60.0, Shape::Paraboloid, 1.000025, 1.000025),
    ];
    let found = table.map(|(degrees, shape, in_plane_m, across_m)| {
        let incidence_rad = degrees.to_radians();
        let plan = plan(&[Vec3::ZERO], 2.0, 100.0);
        let posture = lying(1, incidence_rad);
        let aperture = facing(incidence_rad, 100.0, 10.0);
        let surface = Surface { shape, ..PERFECT };
        let judge = Judge::new(&plan, &posture, surface, SunShape::Point, aperture).unwrap();
        let (mirror, ways, draws) = (judge.mirror(0), judge.ways(0), Draws::new(SEED, 0));
        let from = |share: [f64; 2]| {
            let shares = share.map(|share| [share; LANES]);
            vector(&judge.follow(&mirror, &ways, &shares, &draws, 0).meets_m, 0)
        };
        let across = from([0.5, 0.0]) - from([-0.5, 0.0]);
        let in_plane = from([0.0, 0.5]) - from([0.0, -0.5]);
        [
            (across_m, across.dot(aperture.right).abs()),
            (in_plane_m, in_plane.dot(aperture.up).abs()),
        ]
    });
    Check {
        id: "rays.off_axis_image",
        model: "Image of a mirror that is lit aslant",
        equation: "the law of reflection, ray by ray; width 2 r (1 − cos θ) both ways",
        source: "Igel & Hughes 1979, Solar Energy 22, 283–295",
        validity: "spheres and paraboloids at their focal distance, point sun",
        against: "an independent ray trace of a round panel of 2 m at 100 m, 10 to 60°",
        unit: "m",
    }
    .within(1e-5, found.concat());
}

/// Peak of the image of a small perfect mirror: ρ·A·cosθ/(π(4.65 mrad·L)²), 1.78662 suns for
/// 1.5 m², 100 m, reflectance 0.93 and cosine 0.87. Here 1/10⁴ of the area.
#[test]
fn small_mirror_peak() {
    let incidence_rad = libm::acos(0.87);
    let side_m = 1.5f64.sqrt() / 100.0;
    let plan = plan(&[Vec3::ZERO], side_m, f64::INFINITY);
    let posture = lying(1, incidence_rad);
    let surface = Surface {
        reflectance: &|_| 0.93,
        ..PERFECT
    };
    let sun = SunShape::Disc {
        radius_rad: 4.65e-3,
    };
    let judge = Judge::new(
        &plan,
        &posture,
        surface,
        sun,
        facing(incidence_rad, 100.0, 0.4),
    )
    .unwrap();
    let peak = judge.trace(0..100_000, SEED).peak_suns();
    assert!((1e4 * peak.value - 1.786_62).abs() < 4e4 * peak.standard_error);
    assert!(peak.standard_error < 0.01 * peak.value);
}

/// Two lying panels of side 1, the other 0.8 m nearer to the sun, 0.9 m higher, seen under 45°:
/// its shadow is shifted by 0.8 − 0.9 m along and 0.3 m across, and covers 0.9·0.7 of the panel;
/// the same panel on the other side blocks as much of the reflected light.
fn two_panels(other_m: Vec3, sun: SunShape) -> Verdict {
    let plan = plan(&[Vec3::ZERO, other_m], 1.0, f64::INFINITY);
    let incidence_rad = 45f64.to_radians();
    let posture = lying(2, incidence_rad);
    let judge = Judge::new(
        &plan,
        &posture,
        PERFECT,
        sun,
        facing(incidence_rad, 50.0, 30.0),
    )
    .unwrap();
    judge.trace_mirrors(0..1, 0..20_000, SEED).verdict()
}

#[test]
fn a_parallel_panel_shades_the_overlap() {
    let shaded = two_panels(Vec3::new(0.3, 0.8, 0.9), SunShape::Point);
    assert!(
        (shaded.shading.value - 0.37).abs() < 5e-4,
        "{:?}",
        shaded.shading
    );
    assert_eq!(shaded.blocking.value, 1.0);
    let blocked = two_panels(Vec3::new(0.3, -0.8, 0.9), SunShape::Point);
    assert_eq!(blocked.shading.value, 1.0);
    assert!(
        (blocked.blocking.value - 0.37).abs() < 5e-4,
        "{:?}",
        blocked.blocking
    );
    let free = two_panels(Vec3::new(0.3, 2.4, 0.5), SunShape::Point);
    assert_eq!((free.shading.value, free.blocking.value), (1.0, 1.0));
}

/// An even sun softens the shadow's edge evenly: the mean does not change while the whole
/// penumbra lies on the panel. Points that keep apart leave less error than stated.
#[test]
fn a_penumbra_keeps_the_mean_shadow() {
    let shaded = two_panels(
        Vec3::new(0.3, 0.8, 0.9),
        SunShape::Disc {
            radius_rad: 4.65e-3,
        },
    );
    assert!((shaded.shading.value - 0.37).abs() < 3.0 * shaded.shading.standard_error);
    let independent = (0.37_f64 * 0.63 / 20_000.0).sqrt();
    assert!((shaded.shading.standard_error / independent - 1.0).abs() < 0.05);
}

/// A small field of bent panels that shade and block one another.
fn crowd() -> (Plan, Posture) {
    let places: Vec<Vec3> = (0..60)
        .map(|index| {
            Vec3::new(
                f64::from(index % 10) * 1.3,
                30.0 + f64::from(index / 10) * 1.6,
                1.0,
            )
        })
        .collect();
    let aim_m = Vec3::new(6.0, 0.0, 12.0);
    let sun = direction::from_azimuth_elevation(2.6, 0.35);
    let normals: Vec<Vec3> = places
        .iter()
        .map(|&place| (sun + (aim_m - place).normalize()).normalize())
        .collect();
    let posture = Posture {
        sun,
        width_edges: vec![Vec3::X; places.len()],
        blur_in_plane_rad2: vec![1e-6; places.len()],
        blur_across_rad2: vec![2e-6; places.len()],
        normals,
    };
    (plan(&places, 1.0, 35.0), posture)
}

fn crowd_judge<'a>(plan: &'a Plan, posture: &'a Posture, side_m: f64, parts: usize) -> Judge<'a> {
    let surface = Surface {
        facets: [1, 1],
        shape: Shape::CornerPulled,
        slope_error_rad: 1e-3,
        scatter_rad: 5e-4,
        reflectance: &|cosine| 0.9 + 0.02 * cosine,
        transmittance: &|way_m| 1.0 - 1e-4 * way_m,
    };
    let sun = SunShape::with_circumsolar_ratio(0.05);
    let aperture = Aperture {
        centre_m: Vec3::new(6.0, 0.0, 12.0),
        normal: Vec3::Y,
        right: -Vec3::X,
        up: Vec3::Z,
        outline: Outline::Rectangle,
        width_m: side_m,
        height_m: side_m,
        columns: parts,
        rows: parts,
    };
    Judge::new(plan, posture, surface, sun, aperture).unwrap()
}

#[test]
fn light_is_kept_from_step_to_step() {
    let (plan, posture) = crowd();
    let tally = crowd_judge(&plan, &posture, 1.0, 5).trace(0..2000, SEED);
    let verdict = tally.verdict();
    let steps = verdict.steps_m2;
    assert!((steps[0].value - 60.0).abs() < 1e-6);
    for step in 1..STEPS {
        assert!(steps[step].value < steps[step - 1].value, "{step}");
    }
    let product = [
        verdict.cosine,
        verdict.shading,
        verdict.blocking,
        verdict.reflectance,
        verdict.attenuation,
        verdict.intercept,
    ]
    .iter()
    .map(|factor| factor.value)
    .product::<f64>();
    assert!((product - verdict.product.value).abs() < 1e-12);
    let through_parts: f64 = (0..5)
        .flat_map(|column| (0..5).map(move |row| (column, row)))
        .map(|(column, row)| tally.flux_suns(column, row).value / 25.0)
        .sum();
    assert!((through_parts - steps[6].value).abs() < 1e-6);
}

/// An aperture as large as the sky ahead takes all light that is left.
#[test]
fn nothing_is_lost_through_a_boundless_aperture() {
    let (plan, posture) = crowd();
    let verdict = crowd_judge(&plan, &posture, 2000.0, 1)
        .trace(0..200, SEED)
        .verdict();
    assert_eq!(verdict.intercept.value, 1.0);
}

/// The mean cosine is that of the panels' normals, bent or not.
#[test]
fn cosine_is_that_of_the_normals() {
    let (plan, posture) = crowd();
    let exact = posture
        .normals
        .iter()
        .map(|normal| normal.dot(posture.sun))
        .sum::<f64>()
        / 60.0;
    let found = crowd_judge(&plan, &posture, 1.0, 1)
        .trace(0..2000, SEED)
        .verdict()
        .cosine;
    assert!((found.value - exact).abs() < 3.0 * found.standard_error + 1e-6);
    assert!(found.standard_error < 1e-4);
}

#[test]
fn any_split_gives_the_same_bytes() {
    let (plan, posture) = crowd();
    let judge = crowd_judge(&plan, &posture, 1.0, 4);
    let whole = judge.trace(0..100, SEED);
    let mut split = judge.trace(63..100, SEED);
    for rounds in [0..1, 17..63, 1..17] {
        split.add(&judge.trace(rounds, SEED));
    }
    assert_eq!(whole, split);
    assert_ne!(whole, judge.trace(0..100, SEED + 1));
}

/// Over many seeds results scatter by their standard errors or less.
#[test]
fn standard_errors_are_honest() {
    let (plan, posture) = crowd();
    let judge = crowd_judge(&plan, &posture, 1.0, 1);
    let verdicts: Vec<Verdict> = (0..40)
        .map(|seed| judge.trace(0..100, seed).verdict())
        .collect();
    let factors: [fn(&Verdict) -> crate::Estimate; 4] = [
        |v| v.shading,
        |v| v.blocking,
        |v| v.intercept,
        |v| v.product,
    ];
    for (which, factor) in factors.into_iter().enumerate() {
        let scatter = deviation(verdicts.iter().map(|verdict| factor(verdict).value));
        let stated = verdicts
            .iter()
            .map(|verdict| factor(verdict).standard_error)
            .sum::<f64>()
            / 40.0;
        assert!(
            stated > 0.0 && scatter < 1.3 * stated,
            "{which}: {scatter} {stated}"
        );
        let few = judge.trace(0..1, SEED).verdict();
        assert_eq!(factor(&few).standard_error, f64::INFINITY);
    }
}

/// A sun without light, darker than dark, not rising or of unequal columns.
#[test]
fn tables_that_give_no_sun_are_refused() {
    let plan = plan(&[Vec3::ZERO], 1.0, 100.0);
    let posture = lying(1, 0.0);
    let refused = |angle_rad: &[f64], brightness: &[f64]| {
        let sun = SunShape::Table {
            angle_rad: angle_rad.to_vec(),
            brightness: brightness.to_vec(),
        };
        Judge::new(&plan, &posture, PERFECT, sun, facing(0.0, 100.0, 1.0)).err()
    };
    assert_eq!(refused(&[0.0, 0.005], &[1.0, 0.4]), None);
    for (angle_rad, brightness) in [
        (&[0.0, 0.005][..], &[1.0][..]),
        (&[0.001, 0.005], &[1.0, 0.4]),
        (&[0.0, 0.005, 0.004], &[1.0, 0.4, 0.1]),
        (&[0.0, 0.005], &[1.0, -0.1]),
        (&[0.0, 0.005], &[0.0, 0.0]),
        (&[0.0], &[1.0]),
    ] {
        let (angles, values) = (angle_rad.len(), brightness.len());
        let expected = Some(RaysError::SunTable { angles, values });
        assert_eq!(refused(angle_rad, brightness), expected);
    }
}

#[test]
fn what_cannot_be_traced_is_refused() {
    let (plan, posture) = crowd();
    let refusal = |posture: &Posture, aperture: Aperture| {
        Judge::new(&plan, posture, PERFECT, SunShape::Point, aperture).err()
    };
    let aperture = facing(0.5, 50.0, 1.0);
    let short = Posture {
        normals: vec![Vec3::Z],
        ..posture.clone()
    };
    assert_eq!(
        refusal(&short, aperture),
        Some(RaysError::ColumnLength {
            column: "normals",
            length: 1,
            mirrors: 60
        })
    );
    let night = Posture {
        sun: -Vec3::Z,
        ..posture.clone()
    };
    assert_eq!(
        refusal(&night, aperture),
        Some(RaysError::SunDown { up: -1.0 })
    );
    let twisted = Posture {
        width_edges: posture.normals.clone(),
        ..posture.clone()
    };
    assert_eq!(
        refusal(&twisted, aperture),
        Some(RaysError::EdgeAlongNormal { mirror: 0 })
    );
    let long = Posture {
        sun: 2.0 * Vec3::Z,
        ..posture.clone()
    };
    assert!(matches!(
        refusal(&long, aperture),
        Some(RaysError::NotUnit { .. })
    ));
    let shut = Aperture {
        width_m: 0.0,
        ..aperture
    };
    assert!(matches!(
        refusal(&posture, shut),
        Some(RaysError::EmptyAperture { .. })
    ));
}
