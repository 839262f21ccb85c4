//! What a plant is worth to its owner and to its lender, beside what it replaces.

use crate::annuity::{capital_recovery, internal_rate};
use crate::money::{bought_once, times_bought};
use crate::{Finance, Money, Rates};

/// What a plant is worth. Money of today unless called nominal; heat is worth what it costs from the
/// gas boiler with its price of carbon, electricity what the grid's costs.
#[derive(Clone, Debug, PartialEq)]
pub struct Worth {
    /// Present worth at start of service of what is replaced less all costs, after tax.
    pub net_present_value: f64,
    /// Years, without interest, renewals and tax, until what is replaced has repaid the capital;
    /// `None` when it never does.
    pub payback_years: Option<f64>,
    /// Rate above inflation, per year and after tax, at which the owned capital is just repaid.
    pub internal_rate: Option<f64>,
    /// Price of gas, per joule, at which its heat costs as much; below zero when carbon alone makes gas
    /// dearer.
    pub break_even_gas_per_j: f64,
    /// Price of carbon, per kilogram, at which gas heat costs as much at the price of gas given.
    pub break_even_carbon_per_kg: f64,
    /// Heat sold in a year that nine of ten exceed, less the yearly cost, over interest and repayment of
    /// the loan, before tax; the least over the loan's years, in the money of each. `None` without a
    /// loan.
    pub debt_cover_p90: Option<f64>,
    /// Years until the carbon of what is replaced has made up for the carbon embodied; `None` when it
    /// never does.
    pub carbon_payback_years: Option<f64>,
    /// The sums of every year of service.
    pub years: Vec<CashYear>,
}

/// The sums of one year, at its end.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CashYear {
    /// The year of service, from 1.
    pub year: u32,
    /// What the same energy would have cost: heat from gas, electricity from the grid.
    pub gas_saved: f64,
    /// Yearly cost.
    pub yearly_cost: f64,
    /// What is bought again.
    pub renewals: f64,
    /// What the plant, and what was bought again, is worth at the end of its life.
    pub residual: f64,
    /// Income tax; below zero where writing off saves more than the year's gain costs.
    pub tax: f64,
}

impl CashYear {
    /// What is left.
    #[must_use]
    pub const fn left(&self) -> f64 {
        self.gas_saved - self.yearly_cost - self.renewals + self.residual - self.tax
    }
}

/// What a plant is worth whose cost and deliveries are known.
#[must_use]
pub fn worth(money: &Money, rates: &Rates, finance: &Finance) -> Worth {
    let owned = money.capital.total * (1.0 - finance.grant);
    let levelled_j = money.delivered_j * finance.levelised_yield();
    let gain = money.delivered_j * money.replaced_per_j - money.yearly_cost;
    let heat_per_j = break_even_heat_per_j(money, finance);
    let years = cash_years(money, rates, finance);
    let left: Vec<f64> = years.iter().map(CashYear::left).collect();
    let (gas, carbon_price) = (&finance.gas, finance.carbon_price_per_kg);
    let fed_per_j = (heat_per_j - gas.upkeep_per_j) * gas.efficiency;
    Worth {
        net_present_value: net_present_value(
            finance,
            owned,
            levelled_j * money.replaced_per_j - money.levelled_running(),
        ),
        payback_years: (gain > 0.0).then(|| owned / gain),
        internal_rate: internal_rate(owned, &left),
        break_even_gas_per_j: fed_per_j - carbon_price * gas.carbon_kg_per_j,
        break_even_carbon_per_kg: (fed_per_j - gas.energy_price_per_j) / gas.carbon_kg_per_j,
        debt_cover_p90: debt_cover(money, finance),
        carbon_payback_years: carbon_payback_years(money, finance),
        years,
    }
}

/// The cost of heat at which its owner neither gains nor loses, tax on both sides.
fn break_even_heat_per_j(money: &Money, finance: &Finance) -> f64 {
    money.levelised_per_j * finance.price_share() / finance.kept_share()
}

/// Present worth of a levelled yearly gain over the life, less the capital, after tax.
fn net_present_value(finance: &Finance, owned: f64, levelled_gain: f64) -> f64 {
    (finance.kept_share() * levelled_gain - finance.capital_charge() * owned)
        / finance.capital_recovery()
}

fn carbon_payback_years(money: &Money, finance: &Finance) -> Option<f64> {
    let saved_kg = money.delivered_j * finance.replaced_carbon_kg_per_j() - money.yearly_carbon_kg;
    (saved_kg > 0.0).then(|| money.embodied_carbon_kg / saved_kg)
}

/// Cover of the loan in its worst year: its first or its last, since heat declines evenly while prices
/// rise evenly.
fn debt_cover(money: &Money, finance: &Finance) -> Option<f64> {
    let debt = &finance.debt;
    let lent = debt.share * money.capital.total * (1.0 - finance.grant);
    if lent <= 0.0 {
        return None;
    }
    let due = lent * capital_recovery(debt.rate, debt.years);
    let sold = finance.p90_share * money.delivered_j * money.replaced_per_j;
    let cover = |year: f64| {
        let left = sold * libm::pow(1.0 - finance.yearly_decline, year - 1.0) - money.yearly_cost;
        left * libm::pow(1.0 + finance.inflation, year) / due
    };
    Some(cover(1.0).min(cover(debt.years)))
}

/// The sums of every whole year of service.
fn cash_years(money: &Money, rates: &Rates, finance: &Finance) -> Vec<CashYear> {
    let last = finance.life_years.round() as u32;
    (1..=last)
        .map(|year| cash_year(year, year == last, money, rates, finance))
        .collect()
}

fn cash_year(
    year: u32,
    is_last: bool,
    money: &Money,
    rates: &Rates,
    finance: &Finance,
) -> CashYear {
    let delivered_j =
        money.delivered_j * libm::pow(1.0 - finance.yearly_decline, f64::from(year) - 1.0);
    let gas_saved = delivered_j * money.replaced_per_j;
    let (renewals, worn) = renewals_of(year, is_last, money, rates, finance);
    let plant = if is_last {
        finance.residual * money.capital.overnight()
    } else {
        0.0
    };
    let residual = plant + worn;
    let owned = money.capital.total * (1.0 - finance.grant);
    let deflated = libm::pow(1.0 + finance.inflation, -f64::from(year));
    let written_off = owned * finance.tax.written_off(year) * deflated;
    let income = gas_saved - money.yearly_cost - renewals + residual - written_off;
    CashYear {
        year,
        gas_saved,
        yearly_cost: money.yearly_cost,
        renewals,
        residual,
        tax: finance.tax.rate * income,
    }
}

/// What is bought again within a year, and, in the last one, what the latest of all is still worth.
fn renewals_of(
    year: u32,
    is_last: bool,
    money: &Money,
    rates: &Rates,
    finance: &Finance,
) -> (f64, f64) {
    let (mut bought, mut left) = (0.0, 0.0);
    for item in bought_once() {
        let Some(lasts_years) = rates.get(item).life_years else {
            continue;
        };
        let cost = money.item_cost[item as usize];
        let in_life = times_bought(lasts_years, finance.life_years);
        let renewed = |year: u32| (f64::from(year) / lasts_years).floor().min(in_life - 1.0);
        bought += cost * (renewed(year) - renewed(year - 1));
        if is_last {
            left += cost * (in_life - finance.life_years / lasts_years);
        }
    }
    (bought, left)
}

#[cfg(test)]
mod tests;
