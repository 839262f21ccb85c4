//! The file of rates to start from: every built-in rate with its sources, and the price index.

use ledger::{Index, Item, Rate, Rates};

/// A file of rates that loads and changes nothing: every rate with its range, year, source, carbon and
/// life, to be replaced line by line. Parts that go by a common rate are only named beside it.
#[must_use]
pub fn rates_file() -> String {
    let mut text = String::from(
        "# Rates of the bill. A scenario takes this file by\n\
         #   [rates]\n\
         #   file = \"rates.toml\"\n\
         # What is left out keeps its built-in value. Prices of other years are brought to\n\
         # finance.price_year by the index at the end.\n",
    );
    let rates = Rates::default_usd();
    for &item in Item::ALL.iter().filter(|item| item.common().is_none()) {
        text += &rate_lines(item, rates.get(item));
    }
    text + &index_lines(&Index::united_states_consumers())
}

/// The items that go by the rate of another, as long as they have none of their own.
fn followers(item: Item) -> String {
    let followers = Item::ALL.iter().filter(|one| one.common() == Some(item));
    let keys: Vec<&str> = followers.map(|one| one.key()).collect();
    if keys.is_empty() {
        return String::new();
    }
    format!(
        "\n# Parts that may have rates of their own: {}.",
        keys.join(", ")
    )
}

fn rate_lines(item: Item, rate: &Rate) -> String {
    let (key, unit) = (item.key(), item.unit());
    let price = |value: f64| quoted(&format!("{value} USD/{unit}"));
    let mass = |kg: f64| quoted(&format!("{kg} kg/{unit}"));
    let mut lines = vec![
        format!("\n# {}.{}", item.facts().description, followers(item)),
        format!("[{key}]"),
        format!("rate = {}", price(rate.value)),
        format!("low = {}", price(rate.low)),
        format!("high = {}", price(rate.high)),
        format!("year = {}", rate.price_year),
        format!("source = {}", quoted(&rate.source)),
        format!("carbon = {}", mass(rate.carbon_kg_per_unit)),
        format!("carbon_source = {}", quoted(&rate.carbon_source)),
    ];
    if rate.steel_kg_per_unit > 0.0 {
        lines.push(format!("steel = {}", mass(rate.steel_kg_per_unit)));
    }
    if let Some(years) = rate.life_years {
        lines.push(format!("life = \"{years} yr\""));
    }
    lines.join("\n") + "\n"
}

fn index_lines(index: &Index) -> String {
    let head = format!(
        "\n# Levels of a price index; only their ratios matter.\n[index]\nsource = {}\n",
        quoted(&index.source)
    );
    let years = index.level.iter();
    years.fold(head, |text, (year, level)| {
        text + &format!("{year} = {level}\n")
    })
}

/// A TOML string.
fn quoted(text: &str) -> String {
    format!("\"{}\"", text.replace('\\', "\\\\").replace('"', "\\\""))
}
