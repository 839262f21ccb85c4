//! One design through several weather years: the same field and plant, only the hours differ.

use field::Plan;
use scenario::Design;
use sky::{SunTable, WeatherYear};

use crate::bill::DRIVES_PER_UNIT;
use crate::case::{Case, calm_hours_only};
use crate::evaluate::{Scratch, run};
use crate::fidelity::Fidelity;
use crate::infeasible::Infeasible;
use crate::inputs;
use crate::lay::lay;
use crate::margins::Margins;
use crate::spread::{P90_DEVIATIONS, YearlySpread, stated_spread, yearly_spread};
use crate::stand::stand;
use crate::year_light::{YearLight, shine};

const SECONDS_PER_HOUR: f64 = 3600.0;

/// What one weather year gives.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct YearYield {
    /// Year of the calendar.
    pub year: i32,
    /// Its DNI [J/m²].
    pub dni_j_m2: f64,
    /// Heat across the fence [J].
    pub delivered_j: f64,
}

/// How DNI and delivered heat differ from year to year.
#[derive(Clone, Debug, PartialEq)]
pub struct YearsSpread {
    /// Every year; none where a single one stands with a stated deviation.
    pub each: Vec<YearYield>,
    /// DNI [J/m²].
    pub dni_j_m2: YearlySpread,
    /// Heat across the fence [J].
    pub delivered_j: YearlySpread,
    /// What nine years in ten deliver, by the normal fit ÷ what the year delivers on which the design's
    /// own figures rest. A lender's debt cover may be reckoned with it.
    pub p90_share: f64,
}

/// Lives one design through several weather years.
///
/// Places, masses, receiver and pumps are those of the case's own year; in every other year only the
/// hours of sun, air, wind and demand differ. With a single year, DNI is taken to spread by
/// `stated_deviation` (a share of its sum), and P90 is the same year with all its beam made weaker by
/// as much. Light is that of fidelity `Every` where hours are asked for: other years have sun in other
/// hours.
///
/// # Errors
/// [`Infeasible`] as [`crate::evaluate`] has it.
pub fn years_spread(
    case: &Case,
    design: &Design,
    plan: Option<&Plan>,
    years: &[WeatherYear],
    stated_deviation: f64,
    fidelity: Fidelity,
) -> Result<YearsSpread, Infeasible> {
    let lived = Lived::prepare(case, design, plan, fidelity)?;
    let own_j = lived.delivered_j(case);
    let each: Vec<YearYield> = match years {
        [_, _, ..] => years.iter().map(|year| lived.through(year)).collect(),
        _ => Vec::new(),
    };
    let sums = |pick: fn(&YearYield) -> f64| each.iter().map(pick).collect::<Vec<f64>>();
    let found = yearly_spread(&sums(|year| year.dni_j_m2))
        .zip(yearly_spread(&sums(|year| year.delivered_j)));
    let (dni_j_m2, delivered_j) = found.unwrap_or_else(|| {
        let left = (1.0 - P90_DEVIATIONS * stated_deviation).max(0.0);
        (
            stated_spread(case.whole_dni_j_m2, left * case.whole_dni_j_m2),
            stated_spread(own_j, lived.delivered_j(&weaker(case, left))),
        )
    });
    Ok(YearsSpread {
        p90_share: if own_j > 0.0 {
            delivered_j.p90_normal / own_j
        } else {
            0.0
        },
        each,
        dni_j_m2,
        delivered_j,
    })
}

/// A design whose light is known, ready for any year.
struct Lived<'a> {
    case: &'a Case,
    design: &'a Design,
    light: YearLight,
    drives: f64,
    /// Light through the aperture in the brightest hour of the case's own year, W.
    brightest_w: f64,
}

impl<'a> Lived<'a> {
    fn prepare(
        case: &'a Case,
        design: &'a Design,
        plan: Option<&Plan>,
        fidelity: Fidelity,
    ) -> Result<Self, Infeasible> {
        let (mut margins, mut scratch) = (Margins::unknown(), Scratch::default());
        let site = match plan {
            Some(plan) => stand(case, design, plan.clone(), &mut margins, &mut scratch)?.site,
            None => lay(case, design, &mut margins, &mut scratch)?.site,
        };
        let fidelity = match fidelity {
            Fidelity::Hours => Fidelity::Every,
            other => other,
        };
        let light = shine(case, &site, fidelity, &mut scratch);
        Ok(Self {
            brightest_w: light.brightest_w(case),
            drives: DRIVES_PER_UNIT * site.plan.strings.len() as f64,
            case,
            design,
            light,
        })
    }

    fn through(&self, year: &WeatherYear) -> YearYield {
        YearYield {
            year: year.year,
            dni_j_m2: SECONDS_PER_HOUR * year.dni_w_m2.iter().sum::<f64>(),
            delivered_j: self.delivered_j(&in_year(self.case, year)),
        }
    }

    fn delivered_j(&self, case: &Case) -> f64 {
        let plant = inputs::plant_inputs(case, self.design, self.drives, self.brightest_w);
        run(case, &plant, &self.light, |_, _| ()).totals.delivered_j
    }
}

/// The case in another year; what parts are sized for stays.
fn in_year(case: &Case, year: &WeatherYear) -> Case {
    let scenario = &case.scenario;
    let weather = calm_hours_only(year.clone(), scenario.structure.operating_wind_m_s);
    let site = inputs::site(&scenario.site);
    Case {
        sun: SunTable::new(&site, &weather, scenario.weather.min_sun_elevation_rad),
        demand: inputs::demand(&scenario.heat, weather.year),
        weather,
        ..case.clone()
    }
}

/// The case with only a share of its beam left.
fn weaker(case: &Case, left: f64) -> Case {
    let mut weaker = case.clone();
    for dni_w_m2 in &mut weaker.weather.dni_w_m2 {
        *dni_w_m2 *= left;
    }
    weaker
}

#[cfg(test)]
mod tests;
