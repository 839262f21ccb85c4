//! Capital, yearly cost, cost of what is delivered, worth, carbon.

use ledger::{Chapter, Group, J_PER_KWH, Worth};
use report::text::{Align, TextTable};
use report::{Section, figures};
use scenario::Scenario;

use super::pairs;
use crate::cost_parts;
use crate::evaluated::Evaluated;
use crate::product::Product;

const G_PER_KG: f64 = 1000.0;
const KG_PER_T: f64 = 1000.0;
const J_PER_MWH: f64 = 1000.0 * J_PER_KWH;

/// How the capital builds up.
pub fn capital(of: &Evaluated, scenario: &Scenario) -> Section {
    let capital = &of.money.capital;
    let rows = [
        ("bill", capital.direct),
        ("contingency", capital.contingency),
        ("engineering and supervision", capital.engineering),
        ("the owner's own cost", capital.owner_cost),
        (
            "interest until start of service",
            capital.construction_interest,
        ),
        ("together", capital.total),
    ];
    let per_m2 = capital.total / of.summary.mirror_area_m2;
    let note = format!(
        "{} {} per square metre of mirror",
        figures::grouped(per_m2, 0),
        scenario.currency
    );
    Section::new("Capital", amounts("", &scenario.currency, &rows)).and(note)
}

/// What is paid every year.
pub fn yearly(of: &Evaluated, scenario: &Scenario) -> Section {
    let money = &of.money;
    let running = money.group(Group::KeepingItRunning);
    let rows = [
        ("staff, washing, power, replacements", running),
        (
            "insurance and upkeep of tower and plant",
            money.yearly_cost - running,
        ),
        ("together", money.yearly_cost),
    ];
    let renewed = format!(
        "What is bought again in its years, less what is left at the end, comes to {} {} a year.",
        figures::grouped(money.renewals - money.residual, 0),
        scenario.currency
    );
    Section::new("Paid every year", amounts("", &scenario.currency, &rows)).and(renewed)
}

fn amounts(heading: &str, currency: &str, rows: &[(&str, f64)]) -> TextTable {
    let mut table = TextTable::new(&[(heading, Align::Left), (currency, Align::Right)]);
    for (name, amount) in rows {
        table.row([(*name).to_owned(), figures::grouped(*amount, 0)]);
    }
    table
}

/// What a kilowatt-hour costs, beside what else could be bought.
pub fn cost_of_product(of: &Evaluated, scenario: &Scenario) -> Section {
    let (money, currency) = (&of.money, &scenario.currency);
    let per_kwh = |per_j: f64| format!("{} {currency}/kWh", cost(per_j * J_PER_KWH));
    let parts = cost_parts::per_kwh(money, &scenario.finance);
    let parts = cost_parts::names()
        .into_iter()
        .zip(parts)
        .map(|(name, part)| {
            (
                format!("  of it {name}"),
                format!("{} {currency}/kWh", cost(part)),
            )
        });
    let product = Product::of(scenario);
    let mut rows = vec![(
        format!("delivered {}, in money of today", product.name),
        per_kwh(money.levelised_per_j),
    )];
    rows.extend(parts);
    rows.push((
        format!("delivered {}, in money of each year", product.name),
        per_kwh(money.levelised_nominal_per_j),
    ));
    let others = product.others(money).into_iter();
    rows.extend(others.map(|(other, per_j)| (of_other(product, other), per_kwh(per_j))));
    let whole_per_kwh = money.whole_demand_per_j(of.summary.demand_j) * J_PER_KWH;
    rows.push((
        format!("whole demand, the rest from {}", product.auxiliary),
        format!("{} {currency}/kWh", cost(whole_per_kwh)),
    ));
    Section::new(&format!("Cost of {}", product.name), pairs(rows))
}

/// What the plant is worth to its owner and its lender.
pub fn value(of: &Evaluated, scenario: &Scenario) -> Section {
    let (worth, currency) = (of.worth(scenario), &scenario.currency);
    let Worth {
        break_even_gas_per_j: gas_per_j,
        break_even_carbon_per_kg: carbon_per_kg,
        ..
    } = worth;
    let product = Product::of(scenario);
    let against = |what: &str| format!("{what} against {}", product.instead_of);
    let mut rows = vec![
        (
            against("net present value"),
            figures::money(worth.net_present_value, currency),
        ),
        (against("simple payback"), years(worth.payback_years)),
        (
            "return above inflation, after tax".to_owned(),
            worth
                .internal_rate
                .map_or_else(|| "none".to_owned(), |rate| figures::percent(rate, 1)),
        ),
    ];
    if product.replaces_gas() {
        rows.extend([
            (
                "gas price that breaks even".to_owned(),
                format!(
                    "{} {currency}/MWh",
                    figures::grouped(gas_per_j * J_PER_MWH, 1)
                ),
            ),
            (
                "carbon price that breaks even".to_owned(),
                format!(
                    "{} {currency}/t",
                    figures::grouped(carbon_per_kg * KG_PER_T, 0)
                ),
            ),
        ]);
    }
    rows.push((
        "cover of the loan in one year of ten".to_owned(),
        worth
            .debt_cover_p90
            .map_or_else(|| "no loan".to_owned(), |cover| format!("{cover:.2}")),
    ));
    Section::new(&against("Worth"), pairs(rows))
}

/// Carbon of the plant beside that of what else could be bought.
pub fn carbon(of: &Evaluated, scenario: &Scenario) -> Section {
    let grams = |kg_per_j: f64| {
        let g_kwh = kg_per_j * J_PER_KWH * G_PER_KG;
        format!("{} g/kWh", figures::significant(g_kwh, 3))
    };
    let product = Product::of(scenario);
    let life_j = of.money.delivered_j * scenario.finance.lifetime_yield();
    let field = field_carbon_kg(of, scenario) / life_j;
    let delivered = format!("delivered {}", product.name);
    let made_up = format!("made up by what {} would emit after", product.instead_of);
    let rows = vec![
        (
            "embodied in what is built",
            tonnes(of.money.embodied_carbon_kg),
        ),
        (
            "of every year of keeping it running",
            tonnes(of.money.yearly_carbon_kg),
        ),
        ("over the plant's life", tonnes(of.money.carbon_kg)),
        (delivered.as_str(), grams(of.money.carbon_kg_per_j)),
        ("of it mirrors with all that holds them", grams(field)),
        (
            made_up.as_str(),
            years(of.worth(scenario).carbon_payback_years),
        ),
    ];
    let mut rows: Vec<(String, String)> = rows
        .into_iter()
        .map(|(name, value)| (name.to_owned(), value))
        .collect();
    let others = product.others_carbon(scenario).into_iter();
    rows.extend(others.map(|(other, kg_per_j)| (of_other(product, other), grams(kg_per_j))));
    Section::new("Carbon", pairs(rows))
}

/// A cost per kWh with as many digits as an early estimate deserves, and one more to compare by.
pub fn cost(per_kwh: f64) -> String {
    figures::grouped(per_kwh, 4)
}

/// Such as "heat of a gas boiler".
fn of_other(product: &Product, other: &str) -> String {
    format!("{} of {other}", product.name)
}

fn years(years: Option<f64>) -> String {
    years.map_or_else(|| "never".to_owned(), |years| format!("{years:.1} years"))
}

fn tonnes(kg: f64) -> String {
    format!("{} t CO2e", figures::grouped(kg / KG_PER_T, 0))
}

/// Carbon embodied in mirrors with steel, drives and footings [kg].
pub fn field_carbon_kg(of: &Evaluated, scenario: &Scenario) -> f64 {
    ledger::bill(&of.summary.quantities, &scenario.rates)
        .filter(|line| line.item.group().chapter() == Chapter::Mirrors)
        .map(|line| line.carbon_kg)
        .sum()
}
