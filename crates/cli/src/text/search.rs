//! What a search found.

use std::collections::BTreeMap;

use model::Margins;
use report::text::{Align, TextTable};
use report::{Part, Section, figures};
use scenario::{Duty, Scenario, Space};
use study::{Findings, NearBest, Verdict};

use super::pairs;
use crate::evaluated::Evaluated;
use crate::problem::Prices;
use crate::product::Product;
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
            count(|verdict| matches!(verdict, Verdict::Short(..) | Verdict::Infeasible(_))),
        ),
        ("failed", count(|verdict| *verdict == Verdict::Failed)),
        (
            "on the front",
            figures::grouped(findings.front.len() as f64, 0),
        ),
    ];
    Section::new("Designs looked at", pairs(rows))
}

/// The knee of cost against capital, from where less capital costs much; nothing where the front has none.
pub fn knee(findings: &Findings, scenario: &Scenario) -> Option<Section> {
    let row = findings.knee?;
    let [cost_per_kwh, capital, _] = findings.rows.get(row)?.verdict.objectives()?;
    let currency = &scenario.currency;
    let told = format!(
        "Where less capital begins to cost much: design {row}, {} {currency}/kWh for {}.",
        cost(cost_per_kwh),
        figures::money(capital, currency)
    );
    Some(Section::new(
        "Knee of cost against capital",
        Part::Words(told),
    ))
}

/// What is told where no design is feasible.
pub const NO_DESIGN: &str = "No design keeps every limit; designs.parquet tells what each breaks.";

/// The answer in a few lines.
pub fn answer(best: &Evaluated, row: usize, scenario: &Scenario) -> Section {
    Section::opening(answer_words(best, row, scenario))
}

/// The answer in a few words.
pub fn answer_words(best: &Evaluated, row: usize, scenario: &Scenario) -> String {
    let (money, currency) = (&best.money, &scenario.currency);
    let product = Product::of(scenario);
    let costs: Vec<String> = product
        .others(money)
        .into_iter()
        .map(|(other, per_j)| {
            let per_kwh = cost(per_j * ledger::J_PER_KWH);
            format!("{other}'s {per_kwh} {currency}/kWh")
        })
        .collect();
    let prices = Prices::of(scenario);
    format!(
        "{} costs {} {currency}/kWh and {} of capital (design {row}). {}.",
        wanted(prices.duty, product),
        cost(prices.cost_per_kwh(&best.summary, money)),
        figures::money(money.capital.total, currency),
        sentence(&costs.join(", ")).replacen("'s ", "'s costs ", 1),
    )
}

/// What is to be had as cheaply as can be.
fn wanted(duty: Option<Duty>, product: &Product) -> String {
    let name = product.name;
    match duty {
        None => format!("The cheapest {name}"),
        Some(Duty::WholeDemand) => format!(
            "Serving the whole demand, the rest from {},",
            product.auxiliary
        ),
        Some(duty) => format!("The cheapest {name} that serves {}", duty_words(duty)),
    }
}

/// A duty in words.
pub fn duty_words(duty: Duty) -> String {
    match duty {
        Duty::Energy { year_j } => format!("{} a year", figures::energy(year_j)),
        Duty::Share { of_demand } => format!("{} of the demand", figures::percent(of_demand, 1)),
        Duty::WholeDemand => "the whole demand".to_owned(),
    }
}

/// Which limits bind, and the least that would have to give for one design.
pub fn nothing_feasible(findings: &Findings, scenario: &Scenario) -> Section {
    let prices = Prices::of(scenario);
    let mut told =
        "No design keeps every limit; designs.parquet tells what each breaks.".to_owned();
    let mut breaks: BTreeMap<&str, usize> = BTreeMap::new();
    let mut nearest: Option<(f64, usize, Margins)> = None;
    for (row, design) in findings.rows.iter().enumerate() {
        let margins = prices.margins(&design.search);
        if let Some((limit, _)) = margins.most_broken() {
            *breaks.entry(limit).or_default() += 1;
            let far = margins.violation();
            if nearest.as_ref().is_none_or(|(least, ..)| far < *least) {
                nearest = Some((far, row, margins));
            }
        }
    }
    let mut breaks: Vec<(&str, usize)> = breaks.into_iter().collect();
    breaks.sort_by_key(|(_, count)| std::cmp::Reverse(*count));
    let most = breaks.iter().take(MOST_LIMITS);
    let most: Vec<String> = most
        .map(|(limit, count)| format!("{} ({})", words(limit), figures::grouped(*count as f64, 0)))
        .collect();
    if let Some((_, row, margins)) = nearest {
        let broken = Margins::keys().into_iter().zip(margins.values());
        let broken: Vec<String> = broken
            .filter(|(_, margin)| *margin < 0.0)
            .map(|(limit, margin)| format!("{} by {}", words(limit), figures::percent(-margin, 1)))
            .collect();
        told += &format!(
            " Most often broken worst: {}. Design {row} comes nearest: it would be feasible if what \
             it breaks were relaxed, {}.",
            most.join(", "),
            broken.join(" and ")
        );
    }
    Section::opening(told)
}

/// Limits that are told as binding, at most.
const MOST_LIMITS: usize = 3;

fn words(limit: &str) -> String {
    limit.replace('_', " ")
}

/// The same with a capital first letter.
fn sentence(words: &str) -> String {
    let mut letters = words.chars();
    let first = letters.next().map(|letter| letter.to_ascii_uppercase());
    first.into_iter().chain(letters).collect()
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
