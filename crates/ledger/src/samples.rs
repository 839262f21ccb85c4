//! A plant that tests of money share.
#![allow(clippy::unwrap_used)]

use crate::{Finance, Item, Quantities, Rates};

/// A plant bought for exactly 10 million whose upkeep is 2 % of that a year.
pub(crate) fn ten_million() -> (Quantities, Rates, Finance) {
    let mut quantities = Quantities::default();
    quantities.add(Item::ControlRoom, 1.0);
    let mut rates = Rates::default_usd();
    rates.set("control_room", 10e6).unwrap();
    let finance = Finance {
        inflation: 0.0,
        construction_years: 0.0,
        contingency: 0.0,
        contingency_unproven: 0.0,
        engineering: 0.0,
        owner_cost: 0.0,
        yearly_decline: 0.0,
        insurance: 0.0,
        plant_upkeep: 0.02,
        ..Finance::starting_point()
    };
    (quantities, rates, finance)
}
