//! How far an hour seen from its instants is from the hour minute by minute, and why two instants are enough.

use super::interpolation::{LATITUDES_DEG, MIN_ELEVATION_DEG, Mirror, broken_weather, mirrors};
use super::*;

/// Parts of an hour in the reference.
const MINUTES: usize = 60;
/// Every so many hours are looked at: all times of day occur.
const STEP: usize = 7;
/// Of the clear sky that shapes the beam.
const TURBIDITY: f64 = 3.5;

/// Suns of an hour, each with the share of the hour's beam for which it stands.
type Seen = Vec<(Vec3, f64)>;

/// Middles of so many equal parts of an hour, each with the share of a clear sky's beam that comes around it, if
/// the sun is high enough there.
fn middles(site: &Site, hour: usize, parts: usize) -> Seen {
    let suns: Vec<(Vec3, f64)> = (0..parts)
        .map(|part| {
            let after_h = (part as f64 + 0.5) / parts as f64;
            let sun = exact_sun(site, hour as f64 + after_h);
            let elevation_rad = libm::asin(sun.z);
            let beam = clear_sky_dni_w_m2(site.altitude_m, elevation_rad, TURBIDITY, 1.0);
            (sun, beam)
        })
        .collect();
    let whole: f64 = suns.iter().map(|(_, beam)| beam).sum();
    let sin_lowest = libm::sin(MIN_ELEVATION_DEG.to_radians());
    let high = suns.into_iter().filter(|(sun, _)| sun.z >= sin_lowest);
    high.map(|(sun, beam)| (sun, beam / whole)).collect()
}

/// The suns that an hour leans on.
fn of_hourly(table: &SunTable, hour: usize) -> Seen {
    let terms = table.hourly.hours[hour].iter().flat_map(Lean::terms);
    terms
        .map(|(sun, weight)| (table.hourly.suns[sun], weight))
        .collect()
}

/// What a mirror sends in an hour over its beam.
fn light(mirror: &Mirror, seen: &Seen) -> f64 {
    let terms = seen.iter().map(|(sun, share)| share * mirror.value(*sun));
    terms.sum()
}

/// Errors of one rule.
#[derive(Debug, Default, Clone, Copy)]
struct Errors {
    /// Of the year of a mirror, relative: largest, and sum of squares.
    year_max: f64,
    year_squares: f64,
    mirrors: f64,
    /// Of the mean of all mirrors of a place in single hours, over the beam: largest, and sum of squares times DNI.
    hour_max: f64,
    hour_squares: f64,
    dni: f64,
}

impl Errors {
    fn add(&mut self, dni_w_m2: &[f64], exact: &[Vec<f64>], found: &[Vec<f64>]) {
        let mirrors = exact[0].len();
        let year = |light: &[Vec<f64>], mirror: usize| {
            let hours = light.iter().zip(dni_w_m2);
            hours.map(|(light, dni)| dni * light[mirror]).sum::<f64>()
        };
        for mirror in 0..mirrors {
            let error = year(found, mirror) / year(exact, mirror) - 1.0;
            self.year_max = self.year_max.max(error.abs());
            self.year_squares += error * error;
            self.mirrors += 1.0;
        }
        for ((exact, found), dni) in exact.iter().zip(found).zip(dni_w_m2) {
            let off = found.iter().sum::<f64>() - exact.iter().sum::<f64>();
            let off = off / mirrors as f64;
            self.hour_max = self.hour_max.max(off.abs());
            self.hour_squares += dni * off * off;
            self.dni += dni;
        }
    }

    fn year_rms(&self) -> f64 {
        (self.year_squares / self.mirrors).sqrt()
    }

    fn hour_rms(&self) -> f64 {
        (self.hour_squares / self.dni).sqrt()
    }
}

/// Errors of the table's two instants, of the cubic through a sun an hour and of the middles of four quarters, of
/// light that is smooth and of light with the shadows of a row.
fn errors(kinked: bool) -> [Errors; 3] {
    let mut errors = [Errors::default(); 3];
    for latitude_deg in LATITUDES_DEG {
        let site = Site {
            latitude_rad: latitude_deg.to_radians(),
            longitude_rad: 0.05,
            altitude_m: 100.0,
        };
        let weather = WeatherYear {
            year: 2023,
            ..broken_weather()
        };
        let table = SunTable::new(&site, &weather, MIN_ELEVATION_DEG.to_radians());
        let (mut dni_w_m2, mut exact) = (Vec::new(), Vec::new());
        let mut found = [const { Vec::new() }; 3];
        let mirrors = mirrors(latitude_deg, kinked);
        for hour in (0..HOURS).step_by(STEP) {
            let minutes = middles(&site, hour, MINUTES);
            if minutes.is_empty() || weather.dni_w_m2[hour] <= 0.0 {
                continue;
            }
            let two = table.instants[hour].map(|instant| (instant.sun, instant.share));
            let lights = |seen: &Seen| mirrors.iter().map(|one| light(one, seen)).collect();
            dni_w_m2.push(weather.dni_w_m2[hour]);
            exact.push(lights(&minutes));
            found[0].push(lights(&two.to_vec()));
            found[1].push(lights(&of_hourly(&table, hour)));
            found[2].push(lights(&middles(&site, hour, 4)));
        }
        for (errors, found) in errors.iter_mut().zip(&found) {
            errors.add(&dni_w_m2, &exact, found);
        }
    }
    errors
}

/// Year and hours of smooth light, and of light with the shadows of a row: nowhere are two instants worse, nor a sun
/// an hour.
#[test]
fn neither_two_instants_nor_a_sun_an_hour_are_worse_than_four_quarters() {
    for kinked in [false, true] {
        let [two, one, four] = errors(kinked);
        let rules = [("two instants", &two), ("a sun an hour", &one)];
        for (name, rule) in rules.into_iter().chain([("four quarters", &four)]) {
            println!(
                "kinked {kinked}, {name}: year {:.1e} max {:.1e} rms, hours {:.1e} max {:.1e} rms",
                rule.year_max,
                rule.year_rms(),
                rule.hour_max,
                rule.hour_rms()
            );
        }
        for rule in [two, one] {
            assert!(rule.year_max < four.year_max && rule.year_rms() < four.year_rms());
            assert!(rule.hour_max < four.hour_max && rule.hour_rms() < four.hour_rms());
        }
    }
}

/// About a sun an hour, none too low; the weights of an hour are its share of the beam; and the sun itself is met, where
/// it sets every day and where it does not for months.
#[test]
fn hours_lean_on_a_sun_an_hour() {
    for latitude_deg in [-28.0_f64, 37.0, 70.0] {
        let site = Site {
            latitude_rad: latitude_deg.to_radians(),
            longitude_rad: 0.05,
            altitude_m: 100.0,
        };
        let weather = broken_weather();
        let table = SunTable::new(&site, &weather, MIN_ELEVATION_DEG.to_radians());
        let hourly = &table.hourly;
        let sunny = hourly.hours.iter().flatten().count();
        assert!((sunny..sunny + 400).contains(&(hourly.suns.len() + 200)));
        let lowest = libm::sin(MIN_ELEVATION_DEG.to_radians()) - 1e-4;
        assert!(hourly.suns.iter().all(|sun| sun.z >= lowest));
        for (lean, instants) in hourly.hours.iter().zip(&table.instants) {
            let terms = || lean.iter().flat_map(Lean::terms);
            let share: f64 = instants.iter().map(|instant| instant.share).sum();
            let weight: f64 = terms().map(|(_, weight)| weight).sum();
            assert!((share - weight).abs() < 1e-9, "{share} {weight}");
            let met: Vec3 = terms().map(|(sun, weight)| weight * hourly.suns[sun]).sum();
            let exact: Vec3 = instants.iter().map(|one| one.share * one.sun).sum();
            // Least close on days that last hardly an hour.
            assert!((met - exact).length() < 2e-3, "{met} {exact}");
        }
        assert_eq!(hourly.wanted(&weather.dni_w_m2).is_empty(), sunny == 0);
    }
}
