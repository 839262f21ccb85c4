//! From amounts, rates and finance to money and carbon.

use crate::{Finance, Group, Item, Quantities, Rates};

/// Joules in a kilowatt-hour.
pub const J_PER_KWH: f64 = 3.6e6;

/// Capital, built up in the order it is reckoned; currency of the rates.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Capital {
    /// Sum of all groups that are bought once.
    pub direct: f64,
    /// Contingency, wider on unproven groups.
    pub contingency: f64,
    /// Engineering, procurement and supervision.
    pub engineering: f64,
    /// The owner's own cost.
    pub owner_cost: f64,
    /// Interest until start of service.
    pub construction_interest: f64,
    /// All of the above.
    pub total: f64,
}

/// What a design costs and emits. Money is in the currency of the rates, constant money of their
/// price year unless called nominal.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Money {
    /// Amount × rate per item; per year for yearly items.
    pub item_cost: [f64; Item::COUNT],
    /// Sum of the items of each group.
    pub group_cost: [f64; Group::COUNT],
    /// Capital.
    pub capital: Capital,
    /// Yearly cost: yearly items, insurance and upkeep.
    pub yearly_cost: f64,
    /// Levelised cost of a joule; infinite when nothing is delivered.
    pub levelised_per_j: f64,
    /// The same in the money of each year of payment.
    pub levelised_nominal_per_j: f64,
    /// Cost of a joule from the gas boiler, with the price of carbon.
    pub gas_heat_per_j: f64,
    /// Cost of a joule from the electric boiler, with the price of carbon.
    pub electric_heat_per_j: f64,
    /// Present worth at start of service of the gas heat saved less all costs, after tax.
    pub net_present_value: f64,
    /// Years, without interest and tax, until the gas heat saved has repaid the capital; `None`
    /// when it never does.
    pub payback_years: Option<f64>,
    /// Carbon embodied in the building and in all years of keeping it running, kg CO2 equivalent.
    pub carbon_kg: f64,
    /// The same per joule delivered over the whole life.
    pub carbon_kg_per_j: f64,
}

impl Money {
    /// Levelised cost of a kilowatt-hour.
    #[must_use]
    pub fn levelised_per_kwh(&self) -> f64 {
        self.levelised_per_j * J_PER_KWH
    }

    /// Direct cost of one group; per year for the yearly group.
    #[must_use]
    pub const fn group(&self, group: Group) -> f64 {
        self.group_cost[group as usize]
    }
}

/// Prices a design that delivers so many joules in its first year.
#[must_use]
pub fn price(
    quantities: &Quantities,
    delivered_j_per_year: f64,
    rates: &Rates,
    finance: &Finance,
) -> Money {
    let item_cost = item_costs(quantities, rates);
    let group_cost = group_costs(&item_cost);
    let capital = build_capital(&group_cost, finance);
    let yearly_cost = yearly_cost(&group_cost, finance);
    let owned = capital.total * (1.0 - finance.grant);
    let levelled_j = delivered_j_per_year * finance.levelised_yield();
    let due_each_year =
        finance.fixed_charge_rate() * owned + finance.running_charge() * yearly_cost;
    let levelised_per_j = due_each_year / levelled_j;
    let gas_heat_per_j = finance.gas.heat_cost_per_j(finance.carbon_price_per_kg);
    let carbon_kg = carbon_kg(quantities, rates, finance.life_years);
    Money {
        item_cost,
        group_cost,
        capital,
        yearly_cost,
        levelised_per_j,
        levelised_nominal_per_j: levelised_per_j * finance.nominal_ratio(),
        gas_heat_per_j,
        electric_heat_per_j: finance
            .electric
            .heat_cost_per_j(finance.carbon_price_per_kg),
        net_present_value: net_present_value(
            finance,
            owned,
            levelled_j * gas_heat_per_j - yearly_cost,
        ),
        payback_years: payback_years(owned, delivered_j_per_year * gas_heat_per_j - yearly_cost),
        carbon_kg,
        carbon_kg_per_j: carbon_kg / (delivered_j_per_year * finance.lifetime_yield()),
    }
}

fn item_costs(quantities: &Quantities, rates: &Rates) -> [f64; Item::COUNT] {
    std::array::from_fn(|i| quantities.amount[i] * rates.get(Item::ALL[i]).value)
}

fn group_costs(item_cost: &[f64; Item::COUNT]) -> [f64; Group::COUNT] {
    let mut group_cost = [0.0; Group::COUNT];
    for (item, cost) in Item::ALL.iter().zip(item_cost) {
        group_cost[item.group() as usize] += cost;
    }
    group_cost
}

fn build_capital(group_cost: &[f64; Group::COUNT], finance: &Finance) -> Capital {
    let (mut direct, mut contingency) = (0.0, 0.0);
    for (group, cost) in Group::ALL.into_iter().zip(group_cost) {
        if !group.is_yearly() {
            direct += cost;
            contingency += cost * finance.contingency_of(group);
        }
    }
    let engineering = (direct + contingency) * finance.engineering;
    let owner_cost = (direct + contingency + engineering) * finance.owner_cost;
    let overnight = direct + contingency + engineering + owner_cost;
    let construction_interest = overnight * (finance.construction_growth() - 1.0);
    let total = overnight + construction_interest;
    Capital {
        direct,
        contingency,
        engineering,
        owner_cost,
        construction_interest,
        total,
    }
}

fn yearly_cost(group_cost: &[f64; Group::COUNT], finance: &Finance) -> f64 {
    Group::ALL
        .into_iter()
        .zip(group_cost)
        .map(|(group, cost)| cost * finance.multiplier(group).yearly)
        .sum()
}

/// Present worth of a levelled yearly gain over the life, less the capital, after tax.
fn net_present_value(finance: &Finance, owned: f64, levelled_gain: f64) -> f64 {
    (finance.kept_share() * levelled_gain - finance.capital_charge() * owned)
        / finance.capital_recovery()
}

fn payback_years(owned: f64, gain_per_year: f64) -> Option<f64> {
    (gain_per_year > 0.0).then(|| owned / gain_per_year)
}

fn carbon_kg(quantities: &Quantities, rates: &Rates, life_years: f64) -> f64 {
    Item::ALL
        .iter()
        .map(|&item| {
            let times = if item.group().is_yearly() {
                life_years
            } else {
                1.0
            };
            times * quantities.get(item) * rates.get(item).carbon_kg_per_unit
        })
        .sum()
}

#[cfg(test)]
mod tests;
