//! Capital, yearly cost, cost of heat, carbon.

use ledger::{Chapter, Group, J_PER_KWH, Worth};
use report::text::{Align, TextTable};
use report::{Section, figures};
use scenario::Scenario;

use super::pairs;
use crate::cost_parts;
use crate::evaluated::Evaluated;

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

/// What a kilowatt-hour costs, beside gas and electricity.
pub fn cost_of_heat(of: &Evaluated, scenario: &Scenario) -> Section {
    let (money, currency) = (&of.money, &scenario.currency);
    let per_kwh = |per_j: f64| format!("{} {currency}/kWh", cost(per_j * J_PER_KWH));
    let parts = cost_parts::per_kwh(money, &scenario.finance, of.summary.delivered_j);
    let parts = cost_parts::names()
        .into_iter()
        .zip(parts)
        .map(|(name, part)| {
            (
                format!("  of it {name}"),
                format!("{} {currency}/kWh", cost(part)),
            )
        });
    let mut rows = vec![(
        "delivered heat, in money of today".to_owned(),
        per_kwh(money.levelised_per_j),
    )];
    rows.extend(parts);
    rows.extend([
        (
            "delivered heat, in money of each year".to_owned(),
            per_kwh(money.levelised_nominal_per_j),
        ),
        (
            "heat of a gas boiler".to_owned(),
            per_kwh(money.gas_heat_per_j),
        ),
        (
            "heat of an electric boiler".to_owned(),
            per_kwh(money.electric_heat_per_j),
        ),
    ]);
    Section::new("Cost of heat", pairs(rows))
}

/// What the plant is worth to its owner and its lender.
pub fn value(of: &Evaluated, scenario: &Scenario) -> Section {
    let (worth, currency) = (of.worth(scenario), &scenario.currency);
    let Worth {
        break_even_gas_per_j: gas_per_j,
        break_even_carbon_per_kg: carbon_per_kg,
        ..
    } = worth;
    let rows = [
        (
            "net present value against gas",
            figures::money(worth.net_present_value, currency),
        ),
        ("simple payback against gas", years(worth.payback_years)),
        (
            "return above inflation, after tax",
            worth
                .internal_rate
                .map_or_else(|| "none".to_owned(), |rate| figures::percent(rate, 1)),
        ),
        (
            "gas price that breaks even",
            format!(
                "{} {currency}/MWh",
                figures::grouped(gas_per_j * J_PER_MWH, 1)
            ),
        ),
        (
            "carbon price that breaks even",
            format!(
                "{} {currency}/t",
                figures::grouped(carbon_per_kg * KG_PER_T, 0)
            ),
        ),
        (
            "cover of the loan in one year of ten",
            worth
                .debt_cover_p90
                .map_or_else(|| "no loan".to_owned(), |cover| format!("{cover:.2}")),
        ),
    ];
    Section::new("Worth against gas", pairs(rows))
}

/// Carbon of the plant beside that of gas.
pub fn carbon(of: &Evaluated, scenario: &Scenario) -> Section {
    let grams = |kg_per_j: f64| {
        let g_kwh = kg_per_j * J_PER_KWH * G_PER_KG;
        format!("{} g/kWh", figures::significant(g_kwh, 3))
    };
    let boilers = &scenario.finance;
    let life_j = of.summary.delivered_j * boilers.lifetime_yield();
    let field = field_carbon_kg(of, scenario) / life_j;
    let rows = [
        (
            "embodied in what is built",
            tonnes(of.money.embodied_carbon_kg),
        ),
        (
            "of every year of keeping it running",
            tonnes(of.money.yearly_carbon_kg),
        ),
        ("over the plant's life", tonnes(of.money.carbon_kg)),
        ("delivered heat", grams(of.money.carbon_kg_per_j)),
        ("of it mirrors with all that holds them", grams(field)),
        (
            "made up by the gas saved after",
            years(of.worth(scenario).carbon_payback_years),
        ),
        (
            "heat of a gas boiler",
            grams(boilers.gas.heat_carbon_kg_per_j()),
        ),
        (
            "heat of an electric boiler",
            grams(boilers.electric.heat_carbon_kg_per_j()),
        ),
    ];
    Section::new("Carbon", pairs(rows))
}

/// A cost per kWh with as many digits as an early estimate deserves, and one more to compare by.
pub fn cost(per_kwh: f64) -> String {
    figures::grouped(per_kwh, 4)
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
