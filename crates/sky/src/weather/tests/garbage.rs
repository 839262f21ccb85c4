//! Damaged files are refused or read, never worse and never silently wrong.
//!
//! A digit changed into another digit is the one damage that no reader can see; everything else
//! must lead to an error, a note, or the same sum as before.

use proptest::collection::vec;
use proptest::prelude::*;
use rand::{Rng, SeedableRng};
use rand_xoshiro::Xoshiro256PlusPlus;

use super::formats::{nsrdb_lines, pvgis_lines};
use super::*;
use crate::weather::*;

const FORMATS: usize = 5;

fn lines_of(format: usize) -> Vec<String> {
    [epw_lines, tmy3_lines, pvgis_lines, nsrdb_lines, plain_lines][format]()
}

fn read(bytes: &[u8], format: usize, gaps: Gaps) -> Result<WeatherYear, WeatherError> {
    let options = ReadOptions {
        gaps,
        label: None,
        ..options()
    };
    let (_, format) = WeatherFormat::NAMED[format];
    read_weather(bytes, Some(format), &options).map(|read| {
        let mut years = read.years;
        assert_eq!(years.len(), 1, "a damaged year is no second one");
        years.remove(0)
    })
}

fn read_as_all(bytes: &[u8]) {
    for gaps in [Gaps::Refuse, Gaps::Bridge { max_hours: 5.0 }] {
        for format in 0..FORMATS {
            check(read(bytes, format, gaps));
        }
    }
    if let Some(format) = WeatherFormat::recognise(bytes) {
        assert!(
            WeatherFormat::NAMED
                .iter()
                .any(|(_, known)| *known == format)
        );
    }
}

/// What is read is whole and possible; what is refused says why.
fn check(read: Result<WeatherYear, WeatherError>) {
    match read {
        Ok(year) => {
            for column in [
                &year.dni_w_m2,
                &year.air_temperature_k,
                &year.wind_speed_m_s,
            ] {
                assert_eq!(column.len(), HOURS);
                assert!(
                    column
                        .iter()
                        .all(|value| value.is_finite() && *value >= 0.0)
                );
            }
        }
        Err(error) => assert!(!error.to_string().is_empty()),
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, ..ProptestConfig::default() })]

    #[test]
    fn any_bytes_are_survived(bytes in vec(any::<u8>(), 0..400)) {
        read_as_all(&bytes);
    }

    /// Text made of what the formats are made of.
    #[test]
    fn any_text_of_the_right_words_is_survived(
        words in vec(prop::sample::select(&WORDS[..]), 0..200),
    ) {
        read_as_all(words.concat().as_bytes());
    }

    /// Damage to the head alone, where most of the structure is.
    #[test]
    fn mutated_heads_are_survived(
        format in 0_usize..FORMATS,
        mutations in vec((0_usize..200, any::<u8>()), 1..6),
    ) {
        let mut bytes = bytes(&lines_of(format));
        for (place, byte) in mutations {
            bytes[place] = byte;
        }
        check(read(&bytes, format, Gaps::Refuse));
    }
}

const WORDS: [&str; 24] = [
    "LOCATION",
    "DATA PERIODS",
    "Source",
    "NSRDB",
    "time(UTC)",
    "Gb(n)",
    "T2m",
    "WS10m",
    "Latitude (decimal degrees):",
    "dni_w_m2",
    "air_temperature_c",
    "wind_speed_m_s",
    "time",
    "Date (MM/DD/YYYY)",
    "2024-02-29 24:00",
    "20240229:2359",
    ",",
    ",",
    ",",
    "\n",
    "\n",
    "-9999",
    "1e308",
    "\"",
];

/// One kind of damage to the lines of a file.
type Damage = fn(&mut Vec<String>, &mut Xoshiro256PlusPlus);

/// A line after the head.
fn any_line(lines: &[String], random: &mut Xoshiro256PlusPlus) -> usize {
    random.random_range(10..lines.len() - 4)
}

const DAMAGES: [(&str, Damage); 12] = [
    ("line lost", |lines, random| {
        let line = any_line(lines, random);
        lines.remove(line);
    }),
    ("line twice", |lines, random| {
        let line = any_line(lines, random);
        lines.insert(line, lines[line].clone());
    }),
    ("lines swapped", |lines, random| {
        let (one, other) = (any_line(lines, random), any_line(lines, random));
        lines.swap(one, other);
    }),
    ("end lost", |lines, random| {
        let line = any_line(lines, random);
        lines.truncate(line);
    }),
    ("blank line", |lines, random| {
        let line = any_line(lines, random);
        lines.insert(line, String::new());
    }),
    ("letter in a line", |lines, random| {
        let line = any_line(lines, random);
        let place = random.random_range(0..lines[line].len());
        lines[line].insert(place, 'x');
    }),
    ("line cut", |lines, random| {
        let line = any_line(lines, random);
        let place = lines[line].rfind(',').unwrap_or(0);
        lines[line].truncate(place);
    }),
    ("field lost", |lines, random| {
        let line = any_line(lines, random);
        let mut fields: Vec<String> = lines[line].split(',').map(str::to_owned).collect();
        fields.remove(random.random_range(0..fields.len()));
        lines[line] = fields.join(",");
    }),
    ("the year begun anew", |lines, random| {
        let line = any_line(lines, random);
        let again = lines[10..10 + 24 * 40].to_vec();
        lines.splice(line..line, again);
    }),
    ("an hour later", |lines, _| {
        let last = lines.len() - 5;
        let first = 10;
        let moved = lines.remove(last);
        lines.insert(first, moved);
    }),
    ("column renamed", |lines, _| {
        for line in lines.iter_mut().take(10) {
            *line = line
                .replace("DNI", "GHI")
                .replace("Gb(n)", "Gb")
                .replace("dni_", "ghi_");
        }
    }),
    ("a day without values", |lines, random| {
        let first = any_line(lines, random);
        let last = (first + 48).min(lines.len() - 4);
        for line in &mut lines[first..last] {
            *line = line.replace(|letter: char| letter.is_ascii_digit(), "");
        }
    }),
];

/// 240 damaged files: each is refused, or keeps its sum, or says in its notes what was done.
#[test]
fn no_damaged_file_is_silently_wrong() {
    for format in 0..FORMATS {
        let sound_lines = lines_of(format);
        let sound = read(&bytes(&sound_lines), format, Gaps::Refuse).unwrap();
        for (kind, (name, damage)) in (0..).zip(DAMAGES) {
            for seed in 0..4 {
                let mut random = Xoshiro256PlusPlus::seed_from_u64(100 * kind + seed);
                let mut lines = sound_lines.clone();
                damage(&mut lines, &mut random);
                let gaps = match seed % 2 {
                    0 => Gaps::Refuse,
                    _ => Gaps::Bridge { max_hours: 3.0 },
                };
                let found = read(&bytes(&lines), format, gaps);
                assert!(
                    is_honest(&found, &sound),
                    "{} {name} {seed} {gaps:?}",
                    WeatherFormat::NAMED[format].0
                );
                check(found);
            }
        }
    }
}

fn is_honest(found: &Result<WeatherYear, WeatherError>, sound: &WeatherYear) -> bool {
    found.as_ref().map_or(true, |found| {
        let sum = |year: &WeatherYear| year.dni_w_m2.iter().sum::<f64>();
        (sum(found) / sum(sound) - 1.0).abs() < 1e-12 || found.notes != sound.notes
    })
}

/// Places and zones that are wrong by hours are refused or noted.
#[test]
fn wrong_places_are_refused_or_noted() {
    for format in 0..4 {
        let sound_lines = lines_of(format);
        for east_deg in [-170, -90, -30, -15, 15, 30, 90, 170] {
            let mut lines = sound_lines.clone();
            for line in lines.iter_mut().take(2) {
                *line = line
                    .replace("40.0,0.0", &format!("40.0,{east_deg}.0"))
                    .replace("40.000,0.000", &format!("40.000,{east_deg}.0"))
                    .replace("degrees): 0.000", &format!("degrees): {east_deg}.0"));
            }
            assert_ne!(lines, sound_lines);
            match read(&bytes(&lines), format, Gaps::Refuse) {
                Ok(year) => assert!(
                    year.notes
                        .iter()
                        .any(|note| note.contains("times may be shifted")),
                    "{format} {east_deg}: {:?}",
                    year.notes
                ),
                Err(error) => assert!(
                    matches!(error, WeatherError::OutOfStep { .. }),
                    "{format} {east_deg}: {error}"
                ),
            }
        }
    }
}
