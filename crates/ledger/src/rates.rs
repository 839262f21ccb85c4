//! What a unit of each item costs and emits, with the source of every figure.

use std::borrow::Cow;

use thiserror::Error;

use crate::default_rates;
use crate::{Index, Item, Quantities};

/// Price and carbon of one unit of an item.
#[derive(Clone, Debug, PartialEq)]
pub struct Rate {
    /// Price per unit, in the currency of the rates and, once settled, in money of their year.
    pub value: f64,
    /// Low end of the price to be expected.
    pub low: f64,
    /// High end of the price to be expected.
    pub high: f64,
    /// Year in whose money the price was quoted.
    pub price_year: u16,
    /// What settling has made of the quoted price: price ÷ price quoted.
    pub raised: f64,
    /// Where the price is from.
    pub source: Cow<'static, str>,
    /// Carbon embodied in one unit, kg of CO2 equivalent.
    pub carbon_kg_per_unit: f64,
    /// Where the carbon figure is from.
    pub carbon_source: Cow<'static, str>,
    /// Crude steel that goes into one unit, whose carbon depends on how it is made [kg].
    pub steel_kg_per_unit: f64,
    /// Years until it is bought again; `None` for what lasts as long as the plant and is worth
    /// nothing then.
    pub life_years: Option<f64>,
}

/// How crude steel is made. Carbon in kg of CO2 per kg of crude steel: world mean 1.91 in 2021
/// (worldsteel indicators); ore in blast furnace and converter 2.32, scrap in an arc furnace 0.68
/// (worldsteel, from memory).
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum SteelRoute {
    /// The world's mix, as the built-in rates have it.
    #[default]
    World,
    /// From ore, in blast furnace and converter.
    Primary,
    /// From scrap, in an arc furnace.
    Scrap,
}

impl SteelRoute {
    /// Carbon of crude steel [kg/kg].
    #[must_use]
    pub const fn carbon_kg_per_kg(self) -> f64 {
        match self {
            Self::World => 1.91,
            Self::Primary => 2.32,
            Self::Scrap => 0.68,
        }
    }
}

/// What all rates are brought to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RateTerms {
    /// The year in whose money everything is counted.
    pub price_year: u16,
    /// Output of the makers of what is made in series over the output at which its rates were quoted.
    pub output_ratio: f64,
    /// Price at twice the output over the price, of what is made in series.
    pub learning: f64,
    /// How the steel is made.
    pub steel: SteelRoute,
}

impl RateTerms {
    /// Money of 2024, the quoted output, and 92.4 % of the price at twice the output: mirrors with
    /// their drives at some 164 USD/m² for 5,000 and 126 for 50,000 a year (Kolb et al. 2007,
    /// SAND2007-3293, from memory) are (126 ÷ 164)^(1 ÷ log₂ 10).
    #[must_use]
    pub const fn starting_point() -> Self {
        Self {
            price_year: default_rates::PRICE_YEAR,
            output_ratio: 1.0,
            learning: 0.924,
            steel: SteelRoute::World,
        }
    }

    /// Price over price quoted by the output, for what is made in series: it falls by a fixed share
    /// with each doubling (Wright 1936, from memory).
    #[must_use]
    pub fn volume_factor(&self) -> f64 {
        libm::pow(self.learning, libm::log2(self.output_ratio))
    }
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
    /// The price index does not cover a year.
    #[error(
        "the price index covers {first} to {last}, not {year}; give prices of covered years, or an index of your own in [rates.index]"
    )]
    YearOffIndex {
        /// The year asked for.
        year: u16,
        /// First year covered.
        first: u16,
        /// Last year covered.
        last: u16,
    },
}

/// One rate for every item, in bill order, all in one currency.
#[derive(Clone, Debug, PartialEq)]
pub struct Rates {
    rate: [Rate; Item::COUNT],
    /// Whether an item that has a common rate was given one of its own.
    is_own: [bool; Item::COUNT],
}

impl Rates {
    /// The built-in rates: US dollars of 2024.
    #[must_use]
    pub fn default_usd() -> Self {
        Self {
            rate: default_rates::usd_2024(),
            is_own: [false; Item::COUNT],
        }
    }

    /// The rate of one item.
    #[must_use]
    pub const fn get(&self, item: Item) -> &Rate {
        &self.rate[item as usize]
    }

    /// The item by whose rate one goes: itself, or the common one of parts that were given none of
    /// their own.
    #[must_use]
    pub const fn goes_by(&self, item: Item) -> Item {
        match item.common() {
            Some(common) if !self.is_own[item as usize] => common,
            _ => item,
        }
    }

    /// Amount of all that goes by an item's rate, in the item's unit.
    #[must_use]
    pub fn amount_under(&self, item: Item, quantities: &Quantities) -> f64 {
        let under = Item::ALL.iter().filter(|one| self.goes_by(**one) == item);
        under.map(|one| quantities.get(*one)).sum()
    }

    /// Puts a whole rate in place of one item's and of those that go by it.
    pub fn replace(&mut self, item: Item, rate: Rate) {
        self.is_own[item as usize] = item.common().is_some();
        for &one in Item::ALL.iter().filter(|one| one.common() == Some(item)) {
            if !self.is_own[one as usize] {
                self.rate[one as usize] = rate.clone();
            }
        }
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
        let mut rate = self.get(item).clone();
        let (low_ratio, high_ratio) = if rate.value > 0.0 {
            (rate.low / rate.value, rate.high / rate.value)
        } else {
            (1.0, 1.0)
        };
        rate.value = value;
        rate.low = value * low_ratio;
        rate.high = value * high_ratio;
        rate.source = Cow::Borrowed("given in the scenario");
        self.replace(item, rate);
        Ok(())
    }

    /// Brings quoted rates to one year's money, one output and one way of making steel.
    ///
    /// # Errors
    /// [`LedgerError::YearOffIndex`] for the first item whose year the index does not cover.
    pub fn settle(&mut self, terms: &RateTerms, index: &Index) -> Result<(), LedgerError> {
        let volume = terms.volume_factor();
        let cleaner = terms.steel.carbon_kg_per_kg() - SteelRoute::World.carbon_kg_per_kg();
        for (rate, item) in self.rate.iter_mut().zip(Item::ALL) {
            let made = if item.is_made_in_series() {
                volume
            } else {
                1.0
            };
            let raised = made * index.ratio(rate.price_year, terms.price_year)?;
            rate.value *= raised;
            rate.low *= raised;
            rate.high *= raised;
            rate.raised = raised;
            let carbon_kg = rate.carbon_kg_per_unit + rate.steel_kg_per_unit * cleaner;
            rate.carbon_kg_per_unit = carbon_kg.max(0.0);
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use book::Check;
    use proptest::prelude::*;

    use super::*;

    fn settled(terms: RateTerms) -> Rates {
        let mut rates = Rates::default_usd();
        rates
            .settle(&terms, &Index::united_states_consumers())
            .unwrap();
        rates
    }

    #[test]
    fn the_starting_point_leaves_the_built_in_rates_alone() {
        assert_eq!(settled(RateTerms::starting_point()), Rates::default_usd());
    }

    /// Money of 2010 against that of 2024 by the index: 218.056 ÷ 313.689 (U.S. Bureau of Labor
    /// Statistics, from memory).
    #[test]
    fn money_of_another_year_is_told_with_what_the_index_made_of_it() {
        let rates = settled(RateTerms {
            price_year: 2010,
            ..RateTerms::starting_point()
        });
        for &item in Item::ALL {
            let (rate, quoted) = (rates.get(item), Rates::default_usd());
            let ratio = 218.056 / 313.689;
            assert!((rate.raised - ratio).abs() < 1e-12);
            assert!((rate.value - ratio * quoted.get(item).value).abs() < 1e-9 * rate.value);
            assert_eq!(rate.price_year, 2024);
        }
    }

    /// To the third digit that the share is written with.
    #[test]
    fn ten_times_the_output_costs_what_was_published() {
        let terms = RateTerms {
            output_ratio: 10.0,
            ..RateTerms::starting_point()
        };
        Check {
            id: "ledger.learning",
            model: "Price of what is made in greater numbers",
            equation: "price × share^log₂(output ratio)",
            source: "Wright 1936 (from memory)",
            validity: "parts made in series",
            against: "164 USD/m² at 5,000 heliostats a year are 126 at 50,000 (Kolb et al. 2007, SAND2007-3293, from \
                      memory)",
            unit: "USD/m²",
        }
        .within(0.2, [(126.0, 164.0 * terms.volume_factor())]);
        let rates = settled(terms);
        let ratio = |item| rates.get(item).value / Rates::default_usd().get(item).value;
        assert!((ratio(Item::DriveGear) - terms.volume_factor()).abs() < 1e-12);
        assert_eq!(ratio(Item::Steel), 1.0);
    }

    /// Ore against scrap: a kilogram of tube from 1.1 kg of crude steel differs by 1.1 × 1.64 kg.
    #[test]
    fn scrap_steel_carries_less_carbon_than_steel_from_ore() {
        let of = |steel| {
            settled(RateTerms {
                steel,
                ..RateTerms::starting_point()
            })
        };
        let (ore, scrap) = (of(SteelRoute::Primary), of(SteelRoute::Scrap));
        let carbon = |rates: &Rates, item| rates.get(item).carbon_kg_per_unit;
        let apart = carbon(&ore, Item::Steel) - carbon(&scrap, Item::Steel);
        assert!((apart - 1.1 * 1.64).abs() < 1e-9, "{apart}");
        for &item in Item::ALL {
            assert!(carbon(&ore, item) >= carbon(&scrap, item));
            assert!(carbon(&scrap, item) >= 0.0);
        }
    }

    proptest! {
        /// A price brought to another year and back is the price, in any unit of money.
        #[test]
        fn escalation_goes_to_and_fro(from in 2000_u16..=2024, to in 2000_u16..=2024, price in 0.01..1e6_f64) {
            let index = Index::united_states_consumers();
            let there = price * index.ratio(from, to).unwrap();
            let back = there * index.ratio(to, from).unwrap();
            prop_assert!((back / price - 1.0).abs() < 1e-14);
        }
    }
}
