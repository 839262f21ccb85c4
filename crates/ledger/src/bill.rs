//! The bill: one line for each item that is bought.

use crate::{Item, Quantities, Rate, Rates};

/// One line of a bill.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BillLine<'a> {
    /// What is bought.
    pub item: Item,
    /// How much, in the item's unit (per year for yearly items).
    pub amount: f64,
    /// Mass that comes to the site by road [kg].
    pub mass_kg: f64,
    /// Price and carbon per unit with their sources.
    pub rate: &'a Rate,
    /// Amount × price, in the currency of the rates.
    pub cost: f64,
    /// Amount × carbon, kg of CO2 equivalent.
    pub carbon_kg: f64,
}

/// The lines of all items with an amount, in bill order, before contingency and the like.
pub fn bill<'a>(
    quantities: &'a Quantities,
    rates: &'a Rates,
) -> impl Iterator<Item = BillLine<'a>> + 'a {
    Item::ALL.iter().filter_map(move |&item| {
        let (amount, rate) = (quantities.get(item), rates.get(item));
        (amount != 0.0).then_some(BillLine {
            item,
            amount,
            mass_kg: amount * item.kg_per_unit(),
            rate,
            cost: amount * rate.value,
            carbon_kg: amount * rate.carbon_kg_per_unit,
        })
    })
}
