//! How the year's figures differ from year to year.

use ledger::J_PER_KWH;
use model::{YearlySpread, YearsSpread};
use report::text::{Align, TextTable};
use report::{Section, figures};

/// DNI and what is delivered of an ordinary and of a lean year, and of every year there is.
pub fn years(of: &YearsSpread) -> Section {
    let mut table = TextTable::new(&[
        ("a year's", Align::Left),
        ("DNI", Align::Right),
        ("delivered", Align::Right),
    ]);
    let (dni, heat) = (&of.dni_j_m2, &of.delivered_j);
    let mut line = |name: &str, pick: &dyn Fn(&YearlySpread) -> Option<f64>| {
        let shown = |sum: Option<f64>, show: fn(f64) -> String| sum.map_or("-".to_owned(), show);
        table.row([
            name.to_owned(),
            shown(pick(dni), irradiation),
            shown(pick(heat), figures::energy),
        ]);
    };
    line("mean", &|sums| Some(sums.mean));
    line("standard deviation", &|sums| Some(sums.deviation));
    line("P90 by the normal fit", &|sums| Some(sums.p90_normal));
    if !of.each.is_empty() {
        line("P50 between the years", &|sums| Some(sums.p50_empirical));
        line("P90 between the years", &|sums| sums.p90_empirical);
    }
    for year in &of.each {
        table.row([
            year.year.to_string(),
            irradiation(year.dni_j_m2),
            figures::energy(year.delivered_j),
        ]);
    }
    Section::new("From year to year", table).and(basis(of))
}

fn irradiation(sum_j_m2: f64) -> String {
    format!("{} kWh/m2", figures::grouped(sum_j_m2 / J_PER_KWH, 0))
}

/// What the figures rest on.
fn basis(of: &YearsSpread) -> String {
    let share = figures::percent(of.p90_share, 1);
    if of.each.is_empty() {
        return format!(
            "One year of weather: its DNI is taken to spread by weather.yearly_spread, and P90 is the \
             same year with all its beam weaker by 1.28 of it. Nine years in ten deliver {share} of the \
             design's year or more."
        );
    }
    let few = if of.dni_j_m2.p90_empirical.is_none() {
        " Fewer than nine years reach no P90 between them."
    } else {
        ""
    };
    format!(
        "{} years, the same field and plant in each. By the normal fit nine years in ten deliver \
         {share} of the design's year or more.{few}",
        of.each.len()
    )
}
