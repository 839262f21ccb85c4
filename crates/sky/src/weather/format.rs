//! Which format a weather file has, and reading it whichever it is.

use super::columns::{field, fields, records};
use super::problem::WeatherError;
use super::{Gaps, HourLabel, WeatherYear, epw, nsrdb, plain, pvgis, tmy3};
use crate::site::Site;

/// Lines within which every format shows itself.
const HEAD: usize = 40;

/// A format of weather files.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WeatherFormat {
    /// EnergyPlus weather.
    Epw,
    /// Typical meteorological year of the United States, version 3.
    Tmy3,
    /// Comma-separated text of PVGIS.
    Pvgis,
    /// Comma-separated text of the NSRDB.
    Nsrdb,
    /// Columns of our own naming.
    Csv,
}

impl WeatherFormat {
    /// Every format with its name.
    pub const NAMED: [(&'static str, Self); 5] = [
        ("epw", Self::Epw),
        ("tmy3", Self::Tmy3),
        ("pvgis", Self::Pvgis),
        ("nsrdb", Self::Nsrdb),
        ("csv", Self::Csv),
    ];

    /// The format that the first lines of a file show; none if they show none.
    #[must_use]
    pub fn recognise(bytes: &[u8]) -> Option<Self> {
        let records = records(first_lines(bytes));
        let first = fields(&records, 0);
        let starts_with = |name: &str| first.first().is_some_and(|text| text == name);
        if starts_with(epw::FIRST) {
            Some(Self::Epw)
        } else if starts_with(nsrdb::FIRST) {
            Some(Self::Nsrdb)
        } else if fields(&records, 1).iter().any(|name| name == tmy3::DATE) {
            Some(Self::Tmy3)
        } else if first.iter().any(|name| name == "dni_w_m2") {
            Some(Self::Csv)
        } else {
            let is_pvgis = records.iter().any(|(_, record)| {
                pvgis::is_names(record)
                    && (1..record.len()).any(|index| field(record, index).starts_with("Gb("))
            });
            is_pvgis.then_some(Self::Pvgis)
        }
    }
}

/// What a file may leave open.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ReadOptions {
    /// Site of a file that names none.
    pub site: Site,
    /// Local standard time less universal time, hours, where the file does not say it.
    pub utc_offset_h: f64,
    /// Year of a file without dates.
    pub year: i32,
    /// What the times of plain columns mark; found by the sun if it is not said.
    pub label: Option<HourLabel>,
    /// What to do about missing and impossible values.
    pub gaps: Gaps,
}

/// A weather file that was read.
#[derive(Debug, Clone, PartialEq)]
pub struct WeatherRead {
    /// Its format.
    pub format: WeatherFormat,
    /// Its place; of plain columns that of the options.
    pub site: Site,
    /// Its years, the earliest first; never none.
    pub years: Vec<WeatherYear>,
}

/// Reads a weather file of a format, or of whichever format its first lines show, with every year
/// that it holds.
///
/// # Errors
/// [`WeatherError::UnknownFormat`] when they show none; otherwise what the format's reader reports.
pub fn read_weather(
    bytes: &[u8],
    format: Option<WeatherFormat>,
    options: &ReadOptions,
) -> Result<WeatherRead, WeatherError> {
    let unknown = || WeatherError::UnknownFormat {
        known: WeatherFormat::NAMED.map(|(name, _)| name).to_vec(),
    };
    let format = format
        .or_else(|| WeatherFormat::recognise(bytes))
        .ok_or_else(unknown)?;
    let parsed = match format {
        WeatherFormat::Epw => epw::parse(bytes, options.gaps)?,
        WeatherFormat::Tmy3 => tmy3::parse(bytes, options.gaps)?,
        WeatherFormat::Pvgis => pvgis::parse(bytes, options)?,
        WeatherFormat::Nsrdb => nsrdb::parse(bytes, options.gaps)?,
        WeatherFormat::Csv => plain::parse_csv(bytes, options)?,
    };
    Ok(WeatherRead {
        format,
        site: parsed.around.site,
        years: parsed.years()?,
    })
}

fn first_lines(bytes: &[u8]) -> &[u8] {
    let mut ends = (0..bytes.len()).filter(|index| bytes[*index] == b'\n');
    ends.nth(HEAD - 1).map_or(bytes, |end| &bytes[..end])
}
