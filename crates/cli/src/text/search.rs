//! What a search found.

use report::text::{Align, TextTable};
use report::{Part, Section, figures};
use scenario::Space;
use study::{Findings, NearBest, Verdict};

use super::pairs;
use crate::evaluated::Evaluated;
use crate::run::Run;
use crate::text::money::cost;

/// How many designs were asked for and what became of them.
pub fn designs(findings: &Findings) -> Section {
    let count = |is: fn(&Verdict) -> bool| {
        let rows = findings.rows.iter().filter(|row| is(&row.verdict)).count();
        figures::grouped(rows as f64, 0)
    };
    let rows = [
        (
            "feasible",
            count(|verdict| matches!(verdict, Verdict::Feasible(_))),
        ),
        (
            "break a limit",
            count(|verdict| matches!(verdict, Verdict::Infeasible(_))),
        ),
        ("failed", count(|verdict| *verdict == Verdict::Failed)),
        (
            "on the front",
            figures::grouped(findings.front.len() as f64, 0),
        ),
    ];
    Section::new("Designs looked at", pairs(rows))
}

/// What is told where no design is feasible.
pub const NO_DESIGN: &str = "No design keeps every limit; designs.parquet tells what each breaks.";

/// The answer in a few lines.
pub fn answer(best: &Evaluated, row: usize, currency: &str) -> Section {
    Section::opening(answer_words(best, row, currency))
}

/// The answer in a few words.
pub fn answer_words(best: &Evaluated, row: usize, currency: &str) -> String {
    let money = &best.money;
    let per_kwh = |per_j: f64| cost(per_j * ledger::J_PER_KWH);
    format!(
        "The cheapest heat costs {} {currency}/kWh and {} of capital (design {row}). A gas \
         boiler's costs {} {currency}/kWh, an electric boiler's {} {currency}/kWh.",
        cost(money.levelised_per_kwh()),
        figures::money(money.capital.total, currency),
        per_kwh(money.gas_heat_per_j),
        per_kwh(money.electric_heat_per_j),
    )
}

/// The region of designs nearly as cheap as the best.
pub fn near_best(near: &NearBest, best: &[u32], space: &Space) -> Section {
    let mut table = TextTable::new(&[
        ("opened value", Align::Left),
        ("from", Align::Right),
        ("to", Align::Right),
        ("best", Align::Right),
    ]);
    for (at, variable) in space.variables().iter().enumerate() {
        let text = |index: u32| variable.text(index);
        let (low, high) = (near.low[at], near.high[at]);
        if variable.is_range() {
            table.row([
                variable.path().to_owned(),
                text(low),
                text(high),
                text(best[at]),
            ]);
        } else {
            let spread = if low == high { "only" } else { "several" };
            table.row([
                variable.path().to_owned(),
                String::new(),
                spread.to_owned(),
                text(best[at]),
            ]);
        }
    }
    let heading = format!(
        "{} cost at most {} more than the best",
        figures::counted(near.designs, "design"),
        figures::percent(near.tolerance, 0)
    );
    Section::new(&heading, table)
}

/// The files written.
pub fn files(run: &Run) -> Section {
    let folder = run.path().display();
    let lines: String = run
        .written()
        .iter()
        .map(|name| format!("{folder}/{name}\n"))
        .collect();
    Section::new("Files", Part::Lines(lines))
}
