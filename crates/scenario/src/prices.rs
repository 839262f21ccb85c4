//! The bill's rates, and one currency for every price.

use std::collections::BTreeMap;

use ledger::Item;
use quantity::{Dimension, Unit};

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
        let currency = match values.get(&path) {
            None => Some(BUILT_IN_CURRENCY.to_owned()),
            Some(spot) => set_rate(item, spot, scenario)
                .map_err(|kind| problems.add(&spot.place, &path, kind))
                .ok(),
        };
        if let Some(currency) = currency {
            let origin = values
                .get(&path)
                .map_or(Origin::Default, |spot| Origin::of(&spot.place));
            tell_rate(item, path, &currency, origin, scenario);
        }
    }
    if !problems.touch(&["currency"]) {
        let at_currency = values.get("currency").map_or(section, |spot| &spot.place);
        if let Err(fault) = check_currency(scenario, values, at_currency, problems) {
            problems.add(at_currency, "currency", ProblemKind::Clash(fault));
        }
    }
}

/// Sets a rate and gives the currency it is written in.
fn set_rate(item: Item, spot: &Spot, scenario: &mut Scenario) -> Result<String, ProblemKind> {
    let model = format!("{}/{}", scenario.currency, item.unit());
    let Raw::Text(text) = &spot.raw else {
        let found = spot.raw.type_name().to_owned();
        let wanted = format!("text such as \"2.5 {model}\"");
        return Err(ProblemKind::WrongType { found, wanted });
    };
    let read = quantity::read_like(text, &model)?;
    if read.number.is_negative() {
        let (value, allowed) = (text.clone(), "0 and above".to_owned());
        return Err(ProblemKind::OutOfRange {
            value,
            allowed,
            fits: None,
        });
    }
    let set = scenario.rates.set(item.key(), read.number.to_f64());
    set.map_err(|flaw| ProblemKind::Clash(flaw.to_string()))?;
    Ok(read.currency.unwrap_or_default())
}

fn tell_rate(item: Item, key: String, currency: &str, origin: Origin, scenario: &mut Scenario) {
    let value = scenario.rates.get(item).value;
    let unit = format!("{currency}/{}", item.unit());
    let shown = Resolved {
        key,
        text: format!("{value} {unit}"),
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

/// Tells each given price in another currency; the error names prices left at the built-in ones.
fn check_currency(
    scenario: &Scenario,
    values: &BTreeMap<String, Spot>,
    section: &Place,
    problems: &mut Problems,
) -> Result<(), String> {
    let wanted = &scenario.currency;
    if wanted.len() != 3 || !wanted.bytes().all(|byte| byte.is_ascii_uppercase()) {
        return Err(format!(
            "\"{wanted}\" is not three capital letters such as USD"
        ));
    }
    let mut left = vec![];
    for Resolved {
        key, unit, origin, ..
    } in scenario.entries.iter().map(|entry| &entry.shown)
    {
        match currency_of(unit) {
            Some(found) if found != *wanted && *origin == Origin::Default => {
                left.push(key.as_str());
            }
            Some(found) if found != *wanted => {
                let place = values.get(key).map_or(section, |spot| &spot.place);
                let wanted = wanted.clone();
                problems.add(place, key, ProblemKind::Currency { found, wanted });
            }
            _ => {}
        }
    }
    if left.is_empty() {
        return Ok(());
    }
    let missing = left.join(", ");
    Err(format!(
        "built-in prices are in {BUILT_IN_CURRENCY}; give in {wanted}: {missing}"
    ))
}

/// The currency that a unit such as "USD/kg" begins with.
fn currency_of(unit: &str) -> Option<String> {
    let top = unit.split('/').next()?;
    let unit = Unit::parse(top, Dimension::Money).ok()?;
    unit.currency().map(str::to_owned)
}
