//! The bill's rates, and one currency for every price.

use std::collections::BTreeMap;

use ledger::Item;
use quantity::{Decimal, Unit};

use crate::key::Role;
use crate::problem::{Place, ProblemKind, Problems};
use crate::raw::{Raw, Spot};
use crate::scenario::{Origin, Resolved, ResolvedEntry, Scenario};
use crate::table::{self, RATES};

/// The currency of the ledger's own rates and money terms.
const BUILT_IN_CURRENCY: &str = "USD";

/// Sets the given rates, adds all of them to what is told, and sees that every price is in the
/// scenario's currency.
pub(crate) fn settle(
    values: &BTreeMap<String, Spot>,
    scenario: &mut Scenario,
    section: &Place,
    problems: &mut Problems,
) {
    let prefix = format!("{RATES}.");
    for (path, spot) in values.iter().filter(|(path, _)| path.starts_with(&prefix)) {
        if Item::from_key(&path[prefix.len()..]).is_none() {
            let nearest = table::nearest(path);
            problems.add(&spot.place, path, ProblemKind::UnknownKey { nearest });
        }
    }
    for &item in Item::ALL {
        let path = format!("{prefix}{}", item.key());
        let given = values.get(&path);
        if let Some(spot) = given {
            set_rate(item, &path, spot, scenario, problems);
        }
        tell_rate(item, path, given, scenario);
    }
    if !problems.touch(&["currency"]) {
        check_currency(values, scenario, section, problems);
    }
}

/// The unit a rate is printed in.
fn rate_unit(item: Item, currency: &str) -> String {
    format!("{currency}/{}", item.unit())
}

fn set_rate(item: Item, path: &str, spot: &Spot, scenario: &mut Scenario, problems: &mut Problems) {
    let Raw::Text(text) = &spot.raw else {
        let found = spot.raw.type_name().to_owned();
        let wanted = format!(
            "text such as \"2.5 {}\"",
            rate_unit(item, &scenario.currency)
        );
        return problems.add(&spot.place, path, ProblemKind::WrongType { found, wanted });
    };
    match quantity::read_like(text, &rate_unit(item, &scenario.currency)) {
        Err(flaw) => problems.add(&spot.place, path, flaw),
        Ok(number) if number.is_negative() => {
            let (value, allowed) = (text.clone(), "0 and above".to_owned());
            problems.add(
                &spot.place,
                path,
                ProblemKind::OutOfRange {
                    value,
                    allowed,
                    fits: None,
                },
            );
        }
        Ok(number) => {
            if let Err(flaw) = scenario.rates.set(item.key(), number.to_f64()) {
                problems.add(&spot.place, path, ProblemKind::Clash(flaw.to_string()));
            }
        }
    }
}

fn tell_rate(item: Item, path: String, given: Option<&Spot>, scenario: &mut Scenario) {
    let value = scenario.rates.get(item).value;
    let currency = if given.is_some() {
        &scenario.currency
    } else {
        BUILT_IN_CURRENCY
    };
    let unit = rate_unit(item, currency);
    let number = Decimal::parse(&value.to_string()).unwrap_or_default();
    let origin = given.map_or(Origin::Default, |spot| Origin::of(&spot.place));
    let shown = Resolved {
        key: path,
        text: format!("{number} {unit}"),
        unit,
        origin,
    };
    let canonical = format!("{value:?}");
    scenario.entries.push(ResolvedEntry {
        shown,
        canonical,
        role: Role::Price,
    });
}

/// Tells each given price in another currency, and prices left at the built-in ones.
fn check_currency(
    values: &BTreeMap<String, Spot>,
    scenario: &Scenario,
    section: &Place,
    problems: &mut Problems,
) {
    let mut left = vec![];
    for entry in &scenario.entries {
        let Resolved {
            key, unit, origin, ..
        } = &entry.shown;
        let found = values
            .get(key)
            .and_then(|spot| currency_in(&spot.raw))
            .or_else(|| currency_of(unit));
        match (found, origin) {
            (Some(found), _) if found == scenario.currency => {}
            (Some(_), Origin::Default) => left.push(key.as_str()),
            (Some(found), _) => {
                let place = values.get(key).map_or(section, |spot| &spot.place);
                let wanted = scenario.currency.clone();
                problems.add(place, key, ProblemKind::Currency { found, wanted });
            }
            (None, _) => {}
        }
    }
    if !left.is_empty() {
        let fault = format!(
            "built-in prices are in {BUILT_IN_CURRENCY}; give in {}: {}",
            scenario.currency,
            left.join(", ")
        );
        let place = values.get("currency").map_or(section, |spot| &spot.place);
        problems.add(place, "currency", ProblemKind::Clash(fault));
    }
}

fn currency_in(raw: &Raw) -> Option<String> {
    let Raw::Text(text) = raw else { return None };
    currency_of(text.trim_start_matches(|letter: char| !letter.is_alphabetic()))
}

/// The currency that a unit such as "USD/kg" begins with.
fn currency_of(unit: &str) -> Option<String> {
    let top = unit.split('/').next()?.trim();
    let money = quantity::Dimension::Money;
    Unit::parse(top, money)
        .ok()
        .and_then(|unit| unit.currency().map(str::to_owned))
}
