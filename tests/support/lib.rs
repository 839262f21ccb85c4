//! The demo scenario as a case and a design, and programs from outside: what cross-crate tests and
//! benches share.

#![allow(clippy::expect_used, clippy::print_stderr)]

pub mod outside;

use std::path::Path;

use model::{Case, Fidelity, Infeasible, Scratch, Summary};
use scenario::{Design, Scenario, StringsDesign, WeatherSource};
use sky::{MonthlyClimate, WeatherYear, synthetic_year};

/// A case with the design that its scenario starts from.
pub struct Works {
    /// All that no design changes.
    pub case: Case,
    /// The start of the scenario's space.
    pub design: Design,
}

impl Works {
    /// The demo scenario with other values for some keys, such as
    /// `("strings.bearing", "radial")`.
    ///
    /// # Panics
    /// When the scenario file is gone or refuses a value.
    #[must_use]
    pub fn new(settings: &[(&str, &str)]) -> Self {
        Self::of("process-steam", settings)
    }

    /// The same of another scenario of those that come with the program.
    ///
    /// # Panics
    /// As [`Works::new`].
    #[must_use]
    pub fn of(name: &str, settings: &[(&str, &str)]) -> Self {
        let scenario = scenario(name, settings);
        let weather = weather(&scenario);
        Self {
            case: Case::prepare(&scenario, weather).expect("the case can be prepared"),
            design: scenario.space.design(&scenario.space.start()),
        }
    }

    /// Evaluates the design with a fresh scratch.
    ///
    /// # Errors
    /// As [`model::evaluate`] has it.
    pub fn evaluate(&self, fidelity: Fidelity) -> Result<Summary, Infeasible> {
        model::evaluate(&self.case, &self.design, fidelity, &mut Scratch::default())
    }

    /// The design's strings.
    ///
    /// # Panics
    /// When it has none.
    #[must_use]
    pub const fn strings(&self) -> &StringsDesign {
        self.design.field.strings().expect("a field of strings")
    }
}

/// A scenario with other values for some keys, and no least share of the demand, so that small trial
/// fields pass.
///
/// # Panics
/// When the scenario file is gone or refuses a value.
#[must_use]
pub fn scenario(name: &str, settings: &[(&str, &str)]) -> Scenario {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../scenarios");
    let path = folder.join(name).with_extension("toml");
    let text = std::fs::read_to_string(&path).expect("the scenario can be read");
    let any_size = ("heat.demand.serve_at_least", "0 %");
    let overrides: Vec<(String, String)> = [any_size]
        .iter()
        .chain(settings)
        .map(|&(key, value)| (key.to_owned(), value.to_owned()))
        .collect();
    let no_base = |_: &str| Err("it has no base".to_owned());
    scenario::load(&path.to_string_lossy(), &text, &no_base, &overrides)
        .expect("the scenario loads")
}

/// The scenario's year made from its monthly sums.
fn weather(scenario: &Scenario) -> WeatherYear {
    let WeatherSource::Monthly(months) = &scenario.weather.source else {
        unreachable!("the scenario gives monthly sums");
    };
    let site = sky::Site {
        latitude_rad: scenario.site.latitude_rad,
        longitude_rad: scenario.site.longitude_rad,
        altitude_m: scenario.site.altitude_m,
    };
    let climate = MonthlyClimate {
        dni_j_m2: months.dni_j_m2,
        air_temperature_k: months.air_temperature_k,
        daily_temperature_swing_k: months.daily_swing_k,
        wind_speed_m_s: months.wind_speed_m_s,
    };
    synthetic_year(
        &site,
        scenario.site.utc_offset_h,
        &climate,
        scenario.weather.linke_turbidity,
        u64::from(months.seed),
    )
    .expect("the year can be made")
}
