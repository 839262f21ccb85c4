//! The bill: groups, largest items, every line.

use ledger::{BillLine, Chapter, Group, Money, Rate};
use report::text::{Align, TERMINAL_WIDTH, TextTable, wrap};
use report::{Part, Section, figures};
use scenario::Scenario;

use crate::evaluated::Evaluated;

/// Items named under the groups.
const LARGEST: usize = 10;

fn lines<'a>(of: &'a Evaluated, scenario: &'a Scenario) -> Vec<BillLine<'a>> {
    ledger::bill(&of.summary.quantities, &scenario.rates).collect()
}

/// What is bought once: groups, then the largest items.
pub fn bill(of: &Evaluated, scenario: &Scenario) -> Section {
    let bought = |line: &BillLine<'_>| !line.item.group().is_yearly();
    let mut largest: Vec<BillLine<'_>> = lines(of, scenario).into_iter().filter(bought).collect();
    largest.sort_by(|a, b| b.cost.total_cmp(&a.cost).then(a.item.cmp(&b.item)));
    largest.truncate(LARGEST);
    let direct = of.money.capital.direct;
    let currency = scenario.currency.as_str();
    let mut items = TextTable::new(&[
        ("largest items", Align::Left),
        ("quantity", Align::Right),
        ("rate", Align::Right),
        (currency, Align::Right),
        ("share", Align::Right),
    ]);
    for line in &largest {
        items.row([
            line.item.key().replace('_', " "),
            quantity(line),
            rate(line.rate.value, currency, line),
            figures::grouped(line.cost, 0),
            figures::percent(line.cost / direct, 1),
        ]);
    }
    let chapters = chapters(&of.money, currency);
    Section::new("Bill, before contingency and fees", chapters).and(items)
}

/// Chapters of what is bought once, with their groups.
fn chapters(money: &Money, currency: &str) -> TextTable {
    let mut table = TextTable::new(&[
        ("chapters", Align::Left),
        (currency, Align::Right),
        ("share", Align::Right),
    ]);
    let direct = money.capital.direct;
    let mut add = |name: String, cost: f64| {
        table.row([
            name,
            figures::grouped(cost, 0),
            figures::percent(cost / direct, 1),
        ]);
    };
    let bought_once = |chapter: &Chapter| *chapter != Chapter::KeepingItRunning;
    for chapter in Chapter::ALL.into_iter().filter(bought_once) {
        add(chapter.title().to_lowercase(), money.chapter(chapter));
        let groups = || {
            Group::ALL
                .into_iter()
                .filter(|group| group.chapter() == chapter)
        };
        for group in groups().filter(|_| groups().count() > 1) {
            add(
                format!("of it {}", group.title().to_lowercase()),
                money.group(group),
            );
        }
    }
    add("together".to_owned(), direct);
    table
}

/// Every line with its rate, range and source.
pub fn items(of: &Evaluated, scenario: &Scenario) -> Section {
    let currency = &scenario.currency;
    let mut text = String::new();
    let mut group = None;
    for line in lines(of, scenario) {
        if group != Some(line.item.group()) {
            group = Some(line.item.group());
            text += &format!("{}\n", line.item.group().title());
        }
        text += &item(&line, currency);
    }
    let terms = &scenario.rate_terms;
    let note = format!(
        "All in money of {}, brought there by {}.",
        terms.price_year, scenario.index_source
    );
    Section::new("Every line of the bill", Part::Lines(text)).and(note)
}

fn item(line: &BillLine<'_>, currency: &str) -> String {
    let rate = line.rate;
    let head = format!(
        "  {:<17} {:>16} x {:<22} = {:>11} {currency}\n",
        line.item.key(),
        quantity(line),
        self::rate(rate.value, currency, line),
        figures::grouped(line.cost, 0),
    );
    let facts = format!(
        "{}. {}Rate {} to {}{}: {}. Carbon {} kg/{}: {}.",
        line.item.facts().description,
        mass(line),
        figures::significant(rate.low, 3),
        figures::significant(rate.high, 3),
        quoted(rate),
        rate.source,
        figures::significant(rate.carbon_kg_per_unit, 3),
        line.item.unit(),
        rate.carbon_source,
    );
    let indent = "      ";
    let wrapped = wrap(&facts, TERMINAL_WIDTH - indent.len());
    wrapped
        .iter()
        .fold(head, |text, line| text + indent + line + "\n")
}

/// The mass, where the quantity is not one.
fn mass(line: &BillLine<'_>) -> String {
    if line.item.unit() == "kg" || line.mass_kg <= 0.0 {
        return String::new();
    }
    format!("{} kg. ", figures::grouped(line.mass_kg, 0))
}

/// In which year's money a rate was quoted, and what has been made of it.
fn quoted(rate: &Rate) -> String {
    let bought_again = rate.life_years.map_or_else(String::new, |years| {
        format!(", bought again after {years} years")
    });
    let quoted = format!(", quoted in money of {}", rate.price_year);
    if rate.raised == 1.0 {
        return quoted + &bought_again;
    }
    let raised = figures::significant(rate.raised, 4);
    format!("{quoted} and taken times {raised}{bought_again}")
}

fn quantity(line: &BillLine<'_>) -> String {
    let amount = if line.amount.fract() == 0.0 {
        figures::grouped(line.amount, 0)
    } else {
        figures::significant(line.amount, 4)
    };
    format!("{amount} {}", line.item.unit())
}

fn rate(value: f64, currency: &str, line: &BillLine<'_>) -> String {
    let value = figures::significant(value, 3);
    format!("{value} {currency}/{}", line.item.unit())
}
