//! What a unit of each item costs and emits, with the source of every figure.

use std::borrow::Cow;

use thiserror::Error;

use crate::Item;
use crate::default_rates;

/// Price and carbon of one unit of an item.
#[derive(Clone, Debug, PartialEq)]
pub struct Rate {
    /// Price per unit, in the currency of the rates.
    pub value: f64,
    /// Low end of the price to be expected.
    pub low: f64,
    /// High end of the price to be expected.
    pub high: f64,
    /// Year whose money the price is in.
    pub price_year: u16,
    /// Where the price is from.
    pub source: Cow<'static, str>,
    /// Carbon embodied in one unit, kg of CO2 equivalent.
    pub carbon_kg_per_unit: f64,
    /// Where the carbon figure is from.
    pub carbon_source: Cow<'static, str>,
}

/// A rate was named or valued in a way that cannot be used.
#[derive(Clone, Debug, Error, PartialEq)]
#[non_exhaustive]
pub enum LedgerError {
    /// No item has this key.
    #[error(
        "there is no rate \"{key}\"; the bill's items have keys such as \"steel\" or \"glass\""
    )]
    UnknownItem {
        /// The key given.
        key: String,
    },
    /// A price that is negative or not a number.
    #[error("the rate \"{key}\" is {value} per {unit}; give a price of zero or more")]
    ImpossibleRate {
        /// The item's key.
        key: &'static str,
        /// The price given.
        value: f64,
        /// The item's unit.
        unit: &'static str,
    },
}

/// One rate for every item, in bill order, all in one currency.
#[derive(Clone, Debug, PartialEq)]
pub struct Rates {
    rate: [Rate; Item::COUNT],
}

impl Rates {
    /// The built-in rates: US dollars of 2024.
    #[must_use]
    pub fn default_usd() -> Self {
        Self {
            rate: default_rates::usd_2024(),
        }
    }

    /// The rate of one item.
    #[must_use]
    pub const fn get(&self, item: Item) -> &Rate {
        &self.rate[item as usize]
    }

    /// Puts a whole rate in place of one item's.
    pub fn replace(&mut self, item: Item, rate: Rate) {
        self.rate[item as usize] = rate;
    }

    /// Sets the price per unit of the item with this key; its low and high ends keep their ratio
    /// to it (or close on it when the old price was zero), and its source says that it was given.
    ///
    /// # Errors
    /// [`LedgerError::UnknownItem`] and [`LedgerError::ImpossibleRate`].
    pub fn set(&mut self, key: &str, value: f64) -> Result<(), LedgerError> {
        let item = Item::from_key(key).ok_or_else(|| LedgerError::UnknownItem {
            key: key.to_owned(),
        })?;
        if !(value >= 0.0 && value.is_finite()) {
            let (key, unit) = (item.key(), item.unit());
            return Err(LedgerError::ImpossibleRate { key, value, unit });
        }
        let rate = &mut self.rate[item as usize];
        let (low_ratio, high_ratio) = if rate.value > 0.0 {
            (rate.low / rate.value, rate.high / rate.value)
        } else {
            (1.0, 1.0)
        };
        rate.value = value;
        rate.low = value * low_ratio;
        rate.high = value * high_ratio;
        rate.source = Cow::Borrowed("given in the scenario");
        Ok(())
    }
}
