//! The file of rates: printed, read back, replaced line by line, and told by line when wrong.

use ledger::{Index, Item, Rates};
use proptest::prelude::*;

use super::DEMO;
use crate::{Scenario, ScenarioErrors, load, rates_file};

/// The demo with a file of rates beside it, and values laid over both.
fn with_rates(rates: &str, overrides: &[(&str, &str)]) -> Result<Scenario, ScenarioErrors> {
    let text = format!("{DEMO}\n[rates]\nfile = \"../rates.toml\"\n");
    let read = |path: &str| match path {
        "sites/../rates.toml" => Ok(rates.to_owned()),
        other => Err(format!("{other} is not there")),
    };
    let overrides: Vec<_> = overrides
        .iter()
        .map(|(key, value)| ((*key).to_owned(), (*value).to_owned()))
        .collect();
    load("sites/demo.toml", &text, &read, &overrides)
}

fn loaded(rates: &str, overrides: &[(&str, &str)]) -> Scenario {
    with_rates(rates, overrides).unwrap_or_else(|errors| panic!("{errors}"))
}

#[track_caller]
fn refused(rates: &str, expected: &[&str]) {
    let told = with_rates(rates, &[]).expect_err(rates).to_string();
    assert_eq!(told, expected.join("\n"));
}

/// Every price, range, year, carbon, life and source survives being printed and read.
#[test]
fn the_printed_file_loads_and_changes_nothing() {
    let scenario = loaded(&rates_file(), &[]);
    assert_eq!(scenario.rates, Rates::default_usd());
    assert_eq!(
        scenario.index_source,
        Index::united_states_consumers().source
    );
}

#[test]
fn lines_replace_lines_and_the_scenario_lies_over_the_file() {
    let file = r#"
glass = "1.5 USD/kg"
[steel]
rate = "1800 USD/t"
low = "1.5 USD/kg"
year = 2015
source = "offer of 3 May 2015"
carbon = "0.7 kg/kg"
carbon_source = "the maker's declaration"
[controller]
life = "10 yr"
"#;
    let scenario = loaded(file, &[("rates.glass", "1.25 USD/kg")]);
    let rate = |item| scenario.rates.get(item).clone();
    let raised = 313.689 / 237.017;
    let steel = rate(Item::Steel);
    assert!((steel.value - 1.8 * raised).abs() < 1e-12);
    assert!((steel.low - 1.5 * raised).abs() < 1e-12);
    assert!((steel.high / steel.value - 3.8 / 2.6).abs() < 1e-12);
    assert_eq!((steel.price_year, steel.raised), (2015, raised));
    assert_eq!(steel.source, "offer of 3 May 2015");
    assert_eq!(steel.carbon_kg_per_unit, 0.7);
    assert_eq!(rate(Item::Glass).value, 1.25);
    assert_eq!(rate(Item::Glass).source, "given in the scenario");
    assert_eq!(rate(Item::Controller).life_years, Some(10.0));
    assert_eq!(rate(Item::Line), *Rates::default_usd().get(Item::Line));
    let told = scenario.resolved();
    let origin = |key: &str| {
        let one = told.iter().find(|one| one.key == key).unwrap();
        one.origin.to_string()
    };
    assert_eq!(origin("rates.steel"), "sites/../rates.toml:3");
    assert_eq!(origin("rates.glass"), "--set");
}

/// Parts of steel go by the one price of steel unless they have their own, wherever either stands.
#[test]
fn one_price_of_steel_serves_every_part_without_its_own() {
    let file = "post_steel = \"3.5 USD/kg\"\n[rail_steel]\ncarbon = \"1 kg/kg\"\ncarbon_source = \"the maker's word\"\n";
    let scenario = loaded(file, &[("rates.steel", "2 USD/kg")]);
    let rate = |item| scenario.rates.get(item);
    assert_eq!(rate(Item::StarSteel), rate(Item::Steel));
    assert_eq!(rate(Item::FrameSteel).value, 2.0);
    assert_eq!(rate(Item::PostSteel).value, 3.5);
    let rail = rate(Item::RailSteel);
    assert_eq!((rail.value, rail.carbon_kg_per_unit), (2.0, 1.0));
    let told = scenario.resolved();
    let origin = |key: &str| {
        let one = told.iter().find(|one| one.key == key).unwrap();
        one.origin.to_string()
    };
    assert_eq!(origin("rates.star_steel"), "--set");
    assert_eq!(origin("rates.post_steel"), "sites/../rates.toml:1");
}

/// Twice the level means twice the price.
#[test]
fn an_index_of_ones_own_brings_prices_to_the_year_wanted() {
    let file = r#"
[index]
source = "invented index"
2020 = 50
2024 = 60
2030 = 120.0
"#;
    let scenario = loaded(file, &[("finance.price_year", "2030")]);
    assert_eq!(scenario.rates.get(Item::Glass).value, 2.2);
    assert_eq!(scenario.rates.get(Item::Glass).raised, 2.0);
    assert_eq!(scenario.index_source, "invented index");
}

#[test]
fn a_year_beyond_the_index_is_told() {
    let told = with_rates("", &[("finance.price_year", "2031")]).expect_err("no such year");
    assert!(
        told.to_string()
            .contains("the price index covers 2000 to 2024, not 2031"),
        "{told}"
    );
}

#[test]
fn wrong_lines_are_told_where_they_stand() {
    refused(
        "glass = \"1 USD/m\"\nstele = \"2 USD/kg\"\n[line]\nrate = \"5 USD/kg\"\nlow = \"6 USD/kg\"\n[piping]\nrat = \"1 USD/kg\"\nlife = \"3 h\"\n",
        &[
            "sites/../rates.toml:1:9: rates.glass: \"USD/m\" does not measure what USD/kg does; write one of USD/kg",
            "sites/../rates.toml:2:1: rates.stele: unknown key; did you mean rates.steel?",
            "sites/../rates.toml:3:1: rates.line.source: missing; write for example source = \"offer of 3 May 2026\"",
            "sites/../rates.toml:3:1: rates.line: the rate of 5 does not lie between low, 6, and high, 8.181818181818182",
            "sites/../rates.toml:7:1: rates.piping.rat: unknown key; did you mean rate?",
            "sites/../rates.toml:8:8: rates.piping.life: 3 h is outside 1 yr … 200 yr; did you mean 3 yr?",
        ],
    );
}

#[test]
fn a_wrong_index_is_told_where_it_stands() {
    refused(
        "[index]\n2020 = 0\n2021 = \"x\"\nlast = 3\n",
        &[
            "sites/../rates.toml:1:1: rates.index.source: missing; write for example source = \"consumer prices, national office of statistics\"",
            "sites/../rates.toml:2:8: rates.index.2020: 0 is outside above 0",
            "sites/../rates.toml:3:8: rates.index.2021: is text, but the index's level, a number is wanted",
            "sites/../rates.toml:4:8: rates.index.last: unknown key",
        ],
    );
    let gone = load(
        "demo.toml",
        &format!("{DEMO}\n[rates]\nfile = \"gone.toml\"\n"),
        &super::no_base,
        &[],
    );
    let told = gone.expect_err("no such file").to_string();
    assert!(
        told.contains("rates.file: cannot read gone.toml: gone.toml is not there"),
        "{told}"
    );
}

/// No number of the file shows that it is a product of binary fractions.
#[test]
fn numbers_are_printed_as_they_are_meant() {
    let file = rates_file();
    let told = file.lines().filter_map(|line| line.split_once(" = "));
    for (name, value) in told.filter(|(name, _)| !name.contains("source")) {
        let digits = value.chars().filter(char::is_ascii_digit).count();
        assert!(digits < 9, "{name} = {value}");
    }
}

#[test]
fn washing_is_not_opened_for_nothing() {
    let wash = ("upkeep.wash_interval", r#"{ from = "3 d", to = "60 d" }"#);
    assert!(with_rates("", &[wash]).is_ok());
    let told = with_rates("", &[wash, ("mirror.cleanliness", "95 %")]).expect_err("both");
    assert!(told.to_string().contains("washing is opened"), "{told}");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// A price goes through the file's unit and back: tonnes are a thousand kilograms.
    #[test]
    fn prices_are_the_same_in_any_unit(micros in 1_u32..1_000_000_000) {
        let per_kg = f64::from(micros) / 1e6;
        let per_t = format!("{}.{:03}", micros / 1000, micros % 1000);
        let scenario = loaded(&format!("steel = \"{per_t} USD/t\""), &[]);
        let found = scenario.rates.get(Item::Steel).value;
        prop_assert!((found / per_kg - 1.0).abs() < 1e-14);
    }

    /// No damage to a file of rates makes the program panic.
    #[test]
    fn damage_never_panics(at in 0_usize..9000, remove in 0_usize..40, insert in "[ -~]{0,8}") {
        let mut text = rates_file();
        let start = text.floor_char_boundary(at.min(text.len()));
        let end = text.floor_char_boundary((start + remove).min(text.len()));
        text.replace_range(start..end.max(start), &insert);
        let _ = with_rates(&text, &[]);
    }
}
