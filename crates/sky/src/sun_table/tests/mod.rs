//! Sums, partition of unity and node placement of the sun table.

mod hours;
mod interpolation;

use std::f64::consts::FRAC_PI_2;

use super::*;
use crate::calendar::{HOUR_S, HOURS};
use crate::clear_sky::clear_sky_dni_w_m2;
use crate::sun::{Air, Moment, sun_direction};

fn weather(seed: u64) -> WeatherYear {
    // Uneven but repeatable beam: what matters is that every hour differs.
    let dni = |hour: usize| ((hour as u64 + seed) * 2_654_435_761 % 1000) as f64;
    WeatherYear {
        utc_offset_h: 0.0,
        year: 2023,
        dni_w_m2: (0..HOURS).map(dni).collect(),
        air_temperature_k: vec![290.0; HOURS],
        wind_speed_m_s: vec![2.0; HOURS],
        notes: Vec::new(),
    }
}

fn site(latitude_deg: f64) -> Site {
    Site {
        latitude_rad: latitude_deg.to_radians(),
        longitude_rad: 0.0,
        altitude_m: 200.0,
    }
}

pub(super) fn table(latitude_deg: f64, min_elevation_deg: f64) -> SunTable {
    SunTable::new(
        &site(latitude_deg),
        &weather(1),
        min_elevation_deg.to_radians(),
    )
}

/// The apparent sun in the air of [`weather`], so many hours after new year.
fn exact_sun(site: &Site, at_h: f64) -> Vec3 {
    let air = Air::at_altitude(site.altitude_m, 290.0);
    let moment = Moment::in_year(2023, at_h, 0.0).unwrap();
    sun_direction(site, &moment, &air).unwrap()
}

pub(super) fn node_directions_of(table: &SunTable) -> Vec<Vec3> {
    (0..NODES)
        .map(|node| {
            let block = &table.direction[node / LANES];
            Vec3::from_array(std::array::from_fn(|axis| block[axis][node % LANES]))
        })
        .collect()
}

#[test]
fn the_constant_one_gives_the_beam_in_operation() {
    for latitude_deg in [-45.0, -28.0, 0.0, 37.0, 65.0, 78.0] {
        let table = table(latitude_deg, 8.0);
        let sin_lowest = libm::sin(8f64.to_radians());
        let mut expected = 0.0;
        for (hour, instants) in table.instants.iter().enumerate() {
            let share: f64 = instants.iter().map(|instant| instant.share).sum();
            expected += share * weather(1).dni_w_m2[hour] * HOUR_S;
            let one = table.at_hour(hour, &[1.0; NODES]);
            assert!((one - share).abs() < 1e-12, "{latitude_deg} {hour}: {one}");
            let is_high = |at_h: f64| exact_sun(&site(latitude_deg), at_h).z >= sin_lowest;
            let is_right = match (is_high(hour as f64), is_high(hour as f64 + 1.0)) {
                (false, false) => share == 0.0,
                (true, true) => (share - 1.0).abs() < 1e-12,
                _ => share > 0.0 && share < 1.0,
            };
            assert!(is_right, "{latitude_deg} {hour}: {share}");
        }
        let dot: f64 = table.dni_j_m2.iter().sum();
        assert!(
            (dot / expected - 1.0).abs() < 1e-12,
            "{latitude_deg}: {dot} {expected}"
        );
        assert!((table.year_j_m2() / expected - 1.0).abs() < 1e-12);
    }
}

/// Clear days' beam, given hour by hour, comes back from the instants: what of it arrives above 10°
/// is what an integral over five minutes finds, in clearer and in hazier air than the table takes.
#[test]
fn instants_find_the_beam_above_an_elevation() {
    for turbidity in [3.0, 4.0] {
        let (clear, above_j_m2) = clear_days(turbidity);
        let found = SunTable::new(&CLEAR_SITE, &clear, 10f64.to_radians()).year_j_m2();
        let ratio = found / above_j_m2;
        assert!((ratio - 1.0).abs() < 2e-3, "{turbidity}: {ratio}");
    }
}

const CLEAR_SITE: Site = Site {
    latitude_rad: 0.65,
    longitude_rad: 0.0,
    altitude_m: 400.0,
};

/// A year with a clear day in each week, and the beam of those days from suns above 10°.
fn clear_days(turbidity: f64) -> (WeatherYear, f64) {
    let lowest_rad = 10f64.to_radians();
    let (mut hourly, mut above_j_m2) = (vec![0.0; HOURS], 0.0);
    for part in (0..HOURS * 12).filter(|part| part / 288 % 7 == 0) {
        let sun = exact_sun(&CLEAR_SITE, (part as f64 + 0.5) / 12.0);
        let elevation_rad = libm::asin(sun.z);
        let beam = clear_sky_dni_w_m2(CLEAR_SITE.altitude_m, elevation_rad, turbidity, 1361.0);
        hourly[part / 12] += beam / 12.0;
        if elevation_rad >= lowest_rad {
            above_j_m2 += beam * 300.0;
        }
    }
    let clear = WeatherYear {
        dni_w_m2: hourly,
        ..weather(1)
    };
    (clear, above_j_m2)
}

#[test]
fn the_yearly_sum_is_the_sum_of_its_hours() {
    let table = table(37.0, 10.0);
    let values: [f64; NODES] = std::array::from_fn(|node| 0.5 + 0.01 * node as f64);
    let dot: f64 = values
        .iter()
        .zip(table.dni_j_m2)
        .map(|(value, weight)| value * weight)
        .sum();
    let hours: f64 = (0..HOURS)
        .map(|hour| table.at_hour(hour, &values) * weather(1).dni_w_m2[hour] * HOUR_S)
        .sum();
    assert!((dot / hours - 1.0).abs() < 1e-12);
}

#[test]
fn nodes_are_unit_vectors_no_lower_than_the_lowest_sun() {
    for latitude_deg in [-28.0, 10.0, 37.0, 55.0, 70.0] {
        for sun in node_directions_of(&table(latitude_deg, 10.0)) {
            assert!((sun.length() - 1.0).abs() < 1e-12);
            assert!(
                sun.z > libm::sin(10f64.to_radians()) - 1e-3,
                "{latitude_deg}: {sun}"
            );
        }
    }
}

#[test]
fn padding_carries_no_weight() {
    let table = table(37.0, 10.0);
    let suns = node_directions_of(&table);
    let half = NODES / 2;
    let used = DECLINATIONS * HOUR_ANGLES / 2;
    for first in [0, half] {
        for place in first + used..first + half {
            assert!(table.dni_j_m2[place] == 0.0);
            assert_eq!(suns[place], suns[first + used - 1]);
        }
    }
}

#[test]
fn suns_of_a_block_stand_close_together() {
    let suns = node_directions_of(&table(37.0, 10.0));
    let half = NODES / 2;
    assert!(suns[..half].iter().all(|sun| sun.x > 0.0), "morning");
    assert!(suns[half..].iter().all(|sun| sun.x < 0.0), "afternoon");
    for side in [&suns[..half], &suns[half..]] {
        assert!(side.windows(2).all(|pair| pair[0].z <= pair[1].z));
    }
}

/// The sun's own direction is smooth: it comes back to a milliradian at middle latitudes, to a few
/// where the winter sun barely rises above the lowest elevation.
#[test]
fn the_suns_direction_itself_is_met() {
    for (latitude_deg, tolerance_rad) in [(-28.0, 1e-3), (37.0, 1e-3), (52.0, 5e-3)] {
        let table = table(latitude_deg, 10.0);
        let suns = node_directions_of(&table);
        for (hour, instants) in table.instants.iter().enumerate() {
            let exact: Vec3 = instants
                .iter()
                .map(|instant| instant.sun * instant.share)
                .sum();
            let found = Vec3::from_array(std::array::from_fn(|axis| {
                table.at_hour(
                    hour,
                    &std::array::from_fn(|node| suns[node].to_array()[axis]),
                )
            }));
            let error = (found - exact).length();
            assert!(error < tolerance_rad, "{latitude_deg} {hour}: {error}");
        }
    }
}

#[test]
fn equatorial_angles_come_back() {
    for latitude_deg in [-70.0_f64, -28.0, 0.0, 37.0] {
        let horizon = Horizon::new(latitude_deg.to_radians(), 0.1);
        for (declination_rad, hour_angle_rad) in [(0.4, -1.2), (0.0, 0.3), (-0.3, 2.9)] {
            let sun = Equatorial {
                declination_rad,
                hour_angle_rad,
            };
            let back = horizon.equatorial(horizon.direction(sun));
            assert!((back.declination_rad - declination_rad).abs() < 1e-12);
            assert!((back.hour_angle_rad - hour_angle_rad).abs() < 1e-12);
        }
    }
}

/// Half day at the equinox on a level horizon is six hours at any latitude; at midsummer on the
/// polar circle it is twelve.
#[test]
fn half_days_are_those_of_the_sphere() {
    assert!((Horizon::new(0.7, 0.0).half_day_rad(0.0) - FRAC_PI_2).abs() < 1e-12);
    let polar_circle = Horizon::new(FRAC_PI_2 - 0.409, 0.0);
    assert!((polar_circle.half_day_rad(0.409) - std::f64::consts::PI).abs() < 1e-6);
    assert!(polar_circle.half_day_rad(-0.42) == 0.0);
}

#[test]
fn a_site_without_sun_stays_dark() {
    for dark in [table(37.0, 89.0), table(120.0, 10.0)] {
        assert!(dark.year_j_m2() == 0.0 && dark.dni_j_m2.iter().all(|&weight| weight == 0.0));
        let blocks = dark.direction.iter().flatten().flatten();
        assert!(blocks.into_iter().all(|value| value.is_finite()));
    }
}

/// A few suns tell the year of what is smooth: how far a tracking mirror looks aslant.
#[test]
fn few_suns_tell_the_year_of_a_cosine() {
    for latitude_deg in [-28.0, 37.0, 55.0] {
        let table = table(latitude_deg, 10.0);
        let cosine = |sun: Vec3| 0.5 * (Vec3::new(0.48, 0.6, 0.64) + sun).length();
        let nodes = node_directions_of(&table).into_iter().zip(table.dni_j_m2);
        let year: f64 = nodes.map(|(sun, dni_j_m2)| cosine(sun) * dni_j_m2).sum();
        for few in [&table.three_days, &table.two_days] {
            let suns = few.blocks().flat_map(|(suns, weights)| {
                let suns = (0..LANES).map(|place| geometry::lane::vector(suns, place));
                suns.zip(weights)
            });
            let year_of_few: f64 = suns.map(|(sun, dni_j_m2)| cosine(sun) * dni_j_m2).sum();
            let off = year_of_few / year - 1.0;
            println!("{latitude_deg}: {off:.6}");
            assert!(off.abs() < 1e-3, "{latitude_deg}: {off}");
            let beam: f64 = few.dni_j_m2.iter().sum();
            assert!((beam / table.year_j_m2() - 1.0).abs() < 1e-12);
        }
    }
}
