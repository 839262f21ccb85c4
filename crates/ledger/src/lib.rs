//! Bill of quantities times rates and finance: money and carbon.
//!
//! [`price`] is the whole of it: amounts per [`Item`], a [`Rate`] per item and a [`Finance`] give
//! [`Money`]. It is exactly linear in every rate, allocates nothing and is cheap enough to price a
//! kept bill again under other rates hundreds of thousands of times a second.
//!
//! Money is in the currency of the rates (the ones built in: US dollars of 2024). Energy is in
//! joules; [`J_PER_KWH`] turns a cost per joule into one per kilowatt-hour.

pub mod annuity;
mod bill;
mod default_rates;
mod drive_law;
mod finance;
mod group;
mod heat;
mod index;
mod item;
mod money;
mod quantities;
mod rates;
#[cfg(test)]
mod samples;
mod tax;
mod worth;

pub use bill::{BillLine, bill};
pub use drive_law::{counted_gears, torque_class_n_m};
pub use finance::{Debt, Finance, Multiplier, Replaces};
pub use group::{Chapter, Group};
pub use heat::Boiler;
pub use index::Index;
pub use item::{Item, ItemFacts};
pub use money::{Capital, J_PER_KWH, Money, price};
pub use quantities::Quantities;
pub use rates::{LedgerError, Rate, RateTerms, Rates, SteelRoute};
pub use tax::{Tax, TaxedParty, WriteOff};
pub use worth::{CashYear, Worth, worth};
