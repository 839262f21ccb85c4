//! The bill's rates: built in, laid over by a file of rates, by the scenario and by what is set, brought
//! to one year, and all in one currency.

use std::collections::BTreeMap;

use ledger::{Index, Item};
use quantity::{Dimension, Unit};

use crate::key::Role;
use crate::price_index;
use crate::problem::{Place, ProblemKind, Problems};
use crate::quoted::{self, Terms};
use crate::raw::{Entry, Spot};
use crate::scenario::{Origin, Resolved, ResolvedEntry, Scenario};
use crate::table::{self, RATES};

/// The currency of the ledger's own rates and money terms.
const BUILT_IN_CURRENCY: &str = "USD";

/// The name under which a price index may stand among the rates.
const INDEX: &str = "index";

/// What is written about rates.
pub(crate) struct Written<'a> {
    /// The lines of the file of rates.
    pub file: &'a [Entry],
    /// The scenario's values by key path.
    pub values: &'a BTreeMap<String, Spot>,
    /// The section of rates, for what concerns no line.
    pub section: &'a Place,
}

/// What is known of one rate beside the rate.
#[derive(Clone)]
struct Told {
    currency: String,
    origin: Origin,
}

impl Told {
    fn built_in() -> Self {
        Self {
            currency: BUILT_IN_CURRENCY.to_owned(),
            origin: Origin::Default,
        }
    }
}

/// Sets the given rates, brings all to one year, adds them to what is told, and sees that every price is
/// in the scenario's currency.
pub(crate) fn settle(written: &Written<'_>, scenario: &mut Scenario, problems: &mut Problems) {
    let mut told: BTreeMap<Item, Told> = BTreeMap::new();
    let mut index = Index::united_states_consumers();
    for line in written.lines() {
        lay(&line, (scenario, &mut index, &mut told), problems);
    }
    scenario.index_source = index.source.clone().into_owned();
    let terms = scenario.rate_terms;
    if let Err(flaw) = scenario.rates.settle(&terms, &index) {
        problems.add(written.section, RATES, ProblemKind::Clash(flaw.to_string()));
    }
    for &item in Item::ALL {
        let by = told.get(&scenario.rates.goes_by(item));
        tell_rate(item, by.cloned().unwrap_or_else(Told::built_in), scenario);
    }
    if !problems.touch(&["currency"]) {
        let at_currency = written
            .values
            .get("currency")
            .map_or(written.section, |spot| &spot.place);
        if let Err(fault) = check_currency(scenario, written, at_currency, problems) {
            problems.add(at_currency, "currency", ProblemKind::Clash(fault));
        }
    }
}

/// A line that lays a rate or the index.
struct Line<'a> {
    path: String,
    place: &'a Place,
    spot: &'a Spot,
    source: &'static str,
}

impl Line<'_> {
    fn name(&self) -> &str {
        let path = self.path.as_str();
        path.rsplit_once('.').map_or(path, |(_, name)| name)
    }
}

/// Lays one line over the rates or the index.
fn lay(
    line: &Line<'_>,
    (scenario, index, told): (&mut Scenario, &mut Index, &mut BTreeMap<Item, Told>),
    problems: &mut Problems,
) {
    let (path, name) = (line.path.as_str(), line.name());
    if name == INDEX {
        if let Some(given) = price_index::read(path, line.spot, problems) {
            *index = given;
        }
        return;
    }
    let Some(item) = Item::from_key(name) else {
        let nearest = table::nearest(path);
        return problems.add(line.place, path, ProblemKind::UnknownKey { nearest });
    };
    let terms = Terms {
        currency: &scenario.currency,
        year: scenario.rate_terms.price_year,
        source: line.source,
    };
    let mut rate = scenario.rates.get(item).clone();
    let written_in = quoted::lay(item, path, line.spot, &terms, &mut rate, problems);
    let origin = Origin::of(&line.spot.place);
    let before = scenario.rates.goes_by(item);
    let currency = written_in.unwrap_or_else(|| match told.get(&before) {
        Some(before) => before.currency.clone(),
        None => BUILT_IN_CURRENCY.to_owned(),
    });
    told.insert(item, Told { currency, origin });
    scenario.rates.replace(item, rate);
}

fn tell_rate(item: Item, told: Told, scenario: &mut Scenario) {
    let Told { currency, origin } = told;
    let rate = scenario.rates.get(item);
    let unit = format!("{currency}/{}", item.unit());
    let shown = Resolved {
        key: format!("{RATES}.{}", item.key()),
        text: format!("{} {unit}", rate.value),
        unit,
        origin,
    };
    let canonical = format!("{:?}", rate.value);
    scenario.entries.push(ResolvedEntry {
        shown,
        canonical,
        role: Role::Price,
    });
}

/// Tells each given price in another currency; the error names prices left at the built-in ones.
fn check_currency(
    scenario: &Scenario,
    written: &Written<'_>,
    at_currency: &Place,
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
                let place = written.place_of(key).unwrap_or(at_currency);
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

impl<'a> Written<'a> {
    /// All lines in the order they are laid: the file's, then the scenario's, and after them the lines of
    /// parts that otherwise go by a common rate.
    fn lines(&self) -> Vec<Line<'a>> {
        let in_file = self.file.iter().map(|entry| Line {
            path: format!("{RATES}.{}", entry.name),
            place: &entry.place,
            spot: &entry.value,
            source: "given in the file of rates",
        });
        let prefix = format!("{RATES}.");
        let values = self.values.iter();
        let given = values
            .filter(|(path, _)| path.starts_with(&prefix) && table::find(path).is_none())
            .map(|(path, spot)| Line {
                path: path.clone(),
                place: &spot.place,
                spot,
                source: "given in the scenario",
            });
        let mut lines: Vec<Line<'_>> = in_file.chain(given).collect();
        lines.sort_by_key(|line| Item::from_key(line.name()).and_then(Item::common).is_some());
        lines
    }

    /// Where a key stands: in the scenario, or as a line of the file of rates.
    fn place_of(&self, key: &str) -> Option<&Place> {
        let in_file = || {
            let name = key.strip_prefix(RATES)?.strip_prefix('.')?;
            self.file.iter().find(|entry| entry.name == name)
        };
        let given = self.values.get(key).map(|spot| &spot.place);
        given.or_else(|| in_file().map(|entry| &entry.place))
    }
}

/// The currency that a unit such as "USD/kg" begins with.
fn currency_of(unit: &str) -> Option<String> {
    let top = unit.split('/').next()?;
    let unit = Unit::parse(top, Dimension::Money).ok()?;
    unit.currency().map(str::to_owned)
}
