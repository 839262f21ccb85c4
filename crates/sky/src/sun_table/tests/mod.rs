//! Sums, partition of unity and node placement of the sun table.

mod interpolation;

use std::f64::consts::FRAC_PI_2;

use super::*;
use crate::calendar::HOUR_S;

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

fn table(latitude_deg: f64, min_elevation_deg: f64) -> SunTable {
    let site = Site {
        latitude_rad: latitude_deg.to_radians(),
        longitude_rad: 0.0,
        altitude_m: 200.0,
    };
    SunTable::new(&site, &weather(1), min_elevation_deg.to_radians())
}

fn node_directions_of(table: &SunTable) -> Vec<Vec3> {
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
        let expected: f64 = (table.sun_direction.iter().zip(&weather(1).dni_w_m2))
            .filter(|(sun, _)| sun.z >= sin_lowest)
            .map(|(_, dni)| dni * HOUR_S)
            .sum();
        let dot: f64 = table.dni_j_m2.iter().sum();
        assert!(
            (dot / expected - 1.0).abs() < 1e-12,
            "{latitude_deg}: {dot} {expected}"
        );
        assert!((table.year_j_m2() / expected - 1.0).abs() < 1e-12);
        for (hour, sun) in table.sun_direction.iter().enumerate() {
            let one = table.at_hour(hour, &[1.0; NODES]);
            let expected = if sun.z >= sin_lowest { 1.0 } else { 0.0 };
            assert!(
                (one - expected).abs() < 1e-12,
                "{latitude_deg} {hour}: {one}"
            );
        }
    }
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
        for hour in (0..HOURS).filter(|&hour| table.hours[hour] != HourStencil::DARK) {
            let found = Vec3::from_array(std::array::from_fn(|axis| {
                table.at_hour(
                    hour,
                    &std::array::from_fn(|node| suns[node].to_array()[axis]),
                )
            }));
            let error = (found - table.sun_direction[hour]).length();
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
