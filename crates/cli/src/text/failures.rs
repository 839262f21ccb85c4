//! What fails: how often, what goes dark at once, what mending takes, and where that is from.

use ledger::Item;
use report::text::{Align, TextTable};
use report::{Section, figures};
use scenario::{DrivenFrom, Scenario};

use crate::evaluated::Evaluated;

const MINUTE_S: f64 = 60.0;
const YEAR_S: f64 = 8760.0 * 3600.0;

/// A way to fail.
struct Failing {
    what: &'static str,
    /// How often in a year; nothing where no value tells.
    in_a_year: Option<f64>,
    dark: f64,
    mending_s: f64,
    /// Keys of the values that tell how often and how long.
    keys: &'static [&'static str],
}

/// Every way to fail that the scenario has values for.
pub fn failures(best: &Evaluated, scenario: &Scenario) -> Section {
    let mut table = TextTable::new(&[
        ("what fails", Align::Left),
        ("times a year", Align::Right),
        ("mirrors dark at once", Align::Right),
        ("work to mend", Align::Right),
        ("from", Align::Left),
    ]);
    for failing in all(best, scenario) {
        let often = failing.in_a_year;
        table.row([
            failing.what.to_owned(),
            often.map_or_else(
                || "not known".to_owned(),
                |times| figures::significant(times, 2),
            ),
            figures::grouped(failing.dark, 0),
            format!("{} min", figures::grouped(failing.mending_s / MINUTE_S, 0)),
            from(failing.keys, scenario),
        ]);
    }
    let note = "Work is that of a crew on the spot; mirrors stay dark until it comes, and a string that \
                has lost its drive has to be turned away by hand before its light walks.";
    Section::new("What fails", table).and(note.to_owned())
}

fn all(best: &Evaluated, scenario: &Scenario) -> Vec<Failing> {
    let (labour, upkeep) = (&scenario.labour, &scenario.upkeep);
    let drives = best.summary.quantities.get(Item::DriveUnit);
    let mut all = vec![
        Failing {
            what: "motor or gear",
            in_a_year: in_year(upkeep.drives_replaced_per_s, drives),
            dark: best.mirrors() / best.units(),
            mending_s: labour.driven_unit_s,
            keys: &["upkeep.drives_replaced", "labour.driven_unit"],
        },
        Failing {
            what: "glass of one mirror",
            in_a_year: in_year(upkeep.glass_replaced_per_s, best.mirrors()),
            dark: 1.0,
            mending_s: labour.panel_s + labour.alignment_s,
            keys: &["upkeep.glass_replaced", "labour.panel", "labour.alignment"],
        },
    ];
    all.extend(of_strings(best, scenario).into_iter().flatten());
    all
}

/// What only shared drives have; nothing of heliostats.
fn of_strings(best: &Evaluated, scenario: &Scenario) -> Option<[Failing; 2]> {
    let strings = best.design.field.strings()?;
    let together = best.mirrors() / best.units();
    let (labour, upkeep) = (&scenario.labour, &scenario.upkeep);
    let beyond_a_break = match strings.driven_from {
        DrivenFrom::Middle => (together / 2.0).ceil(),
        DrivenFrom::End => together,
    };
    Some([
        Failing {
            what: "line or rod, at the drive",
            in_a_year: in_year(upkeep.lines_replaced_per_s, best.units()),
            dark: beyond_a_break,
            mending_s: labour.driven_unit_s,
            keys: &["upkeep.lines_replaced", "labour.driven_unit"],
        },
        Failing {
            what: "joint or lever of one mirror",
            in_a_year: None,
            dark: 1.0,
            mending_s: labour.joint_s + labour.alignment_s,
            keys: &["labour.joint", "labour.alignment"],
        },
    ])
}

/// Times in a year that one of so many fails.
fn in_year(share_per_s: f64, of: f64) -> Option<f64> {
    Some(share_per_s * YEAR_S * of)
}

/// Keys with the values that they have.
fn from(keys: &[&str], scenario: &Scenario) -> String {
    let resolved = scenario.resolved();
    let told = keys.iter().filter_map(|key| {
        let value = resolved.iter().find(|value| value.key == *key)?;
        Some(format!("{key} {}", value.text))
    });
    told.collect::<Vec<_>>().join(", ")
}
