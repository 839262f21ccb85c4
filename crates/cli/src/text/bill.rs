//! The bill: groups, largest items, every line.

use ledger::{BillLine, Group, Money};
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
    let groups = groups(&of.money, currency);
    Section::new("Bill, before contingency and fees", groups).and(items)
}

fn groups(money: &Money, currency: &str) -> TextTable {
    let mut table = TextTable::new(&[
        ("groups", Align::Left),
        (currency, Align::Right),
        ("share", Align::Right),
    ]);
    for group in Group::ALL.into_iter().filter(|group| !group.is_yearly()) {
        table.row([
            group.title().to_lowercase(),
            figures::grouped(money.group(group), 0),
            figures::percent(money.group(group) / money.capital.direct, 1),
        ]);
    }
    table.row([
        "together".to_owned(),
        figures::grouped(money.capital.direct, 0),
        figures::percent(1.0, 1),
    ]);
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
    Section::new("Every line of the bill", Part::Lines(text))
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
        "{}. Rate {} to {}, money of {}: {}. Carbon {} kg/{}: {}.",
        line.item.facts().description,
        figures::significant(rate.low, 3),
        figures::significant(rate.high, 3),
        rate.price_year,
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
