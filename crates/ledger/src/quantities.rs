//! How much of each item: fixed width, no prices.

use crate::Item;

/// Amounts of every item, each in its item's unit; yearly items are amounts per year.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Quantities {
    /// Amounts in bill order.
    pub amount: [f64; Item::COUNT],
}

impl Default for Quantities {
    fn default() -> Self {
        Self {
            amount: [0.0; Item::COUNT],
        }
    }
}

impl Quantities {
    /// Amount of one item, in its unit.
    #[must_use]
    pub const fn get(&self, item: Item) -> f64 {
        self.amount[item as usize]
    }

    /// Mass of all that comes to the site by road [kg].
    #[must_use]
    pub fn mass_kg(&self) -> f64 {
        let masses = Item::ALL.iter().zip(self.amount);
        masses
            .map(|(item, amount)| amount * item.kg_per_unit())
            .sum()
    }

    /// Adds to the amount of one item, in its unit.
    pub const fn add(&mut self, item: Item, amount: f64) {
        self.amount[item as usize] += amount;
    }
}
