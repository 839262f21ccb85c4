//! The fast model beside rays.

use model::{LOSSES, Losses, Pair};
use report::text::{Align, TextTable};
use report::{Section, figures};

use super::page;
use crate::inputs::Inputs;
use crate::judge::Judged;

/// Everything that was judged.
pub fn judged(of: &Judged, inputs: &Inputs) -> String {
    let mut sections = vec![head(of, inputs)];
    for (instant, judgement) in &of.instants {
        let heading = format!(
            "Sun at {} deg, {} deg high, {} W/m2",
            instant.sun_azimuth_deg, instant.sun_elevation_deg, instant.dni_w_m2
        );
        let mut table = table(&judgement.losses);
        amount(
            &mut table,
            "power on the aperture",
            &judgement.power_w,
            figures::power,
        );
        let flux = |flux_w_m2: f64| format!("{:.1} kW/m2", flux_w_m2 / 1e3);
        amount(&mut table, "peak flux", &judgement.peak_flux_w_m2, flux);
        sections.push(Section::new(&heading, table));
    }
    if let Some(year) = &of.year {
        let mut table = table(&year.losses);
        amount(
            &mut table,
            "light on the aperture",
            &year.aperture_j,
            figures::energy,
        );
        sections.push(Section::new("The year", table));
    }
    page(&sections)
}

fn head(of: &Judged, inputs: &Inputs) -> Section {
    let subject = of.plan.as_ref().map_or_else(
        || "The scenario's start design".to_owned(),
        |path| format!("The plan {}", path.display()),
    );
    let text = format!(
        "{}. {subject}: {} in {}; {} rays under each sun, seed {}. Losses tell what is left of the \
         light before; differences are the fast model's figure less that of rays.",
        inputs.scenario.title,
        figures::counted(of.mirrors, "mirror"),
        figures::counted(of.strings, "string"),
        figures::grouped((of.care.rounds * of.mirrors as u64) as f64, 0),
        of.care.seed
    );
    Section::opening(text)
}

fn table(losses: &Losses) -> TextTable {
    let mut table = TextTable::new(&[
        ("left by", Align::Left),
        ("fast model", Align::Right),
        ("rays", Align::Right),
        ("difference", Align::Right),
        ("std. error", Align::Right),
    ]);
    for (name, pair) in LOSSES.iter().zip(losses) {
        table.row([
            (*name).to_owned(),
            figures::percent(pair.fast, 2),
            figures::percent(pair.rays.value, 2),
            format!("{:+.3} points", 100.0 * pair.difference()),
            format!("{:.3} points", 100.0 * pair.rays.standard_error),
        ]);
    }
    table
}

/// An amount; difference and error as shares of what rays say.
fn amount(table: &mut TextTable, name: &str, pair: &Pair, shown: impl Fn(f64) -> String) {
    let share = |part: f64| {
        if pair.rays.value > 0.0 {
            100.0 * part / pair.rays.value
        } else {
            0.0
        }
    };
    table.row([
        name.to_owned(),
        shown(pair.fast),
        shown(pair.rays.value),
        format!("{:+.3} %", share(pair.difference())),
        format!("{:.3} %", share(pair.rays.standard_error)),
    ]);
}
