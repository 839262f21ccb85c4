//! From amounts, rates and finance to money and carbon.

use crate::{Chapter, Finance, Group, Item, Quantities, Rates};

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

impl Capital {
    /// Everything before construction interest.
    #[must_use]
    pub const fn overnight(&self) -> f64 {
        self.total - self.construction_interest
    }
}

/// What a design costs and emits. Money is in the currency of the rates, constant money of their
/// price year unless called nominal.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Money {
    /// What is delivered in the first year and pays for it [J].
    pub delivered_j: f64,
    /// Amount × rate per item; per year for yearly items.
    pub item_cost: [f64; Item::COUNT],
    /// Sum of the items of each group.
    pub group_cost: [f64; Group::COUNT],
    /// Capital.
    pub capital: Capital,
    /// Yearly cost: yearly items, insurance and upkeep.
    pub yearly_cost: f64,
    /// Equal yearly sum that is worth what is bought again in its years, less what that is worth at the
    /// end.
    pub renewals: f64,
    /// Equal yearly sum that is worth what the plant is worth at the end of its life.
    pub residual: f64,
    /// Levelised cost of a joule; infinite when nothing is delivered.
    pub levelised_per_j: f64,
    /// The same in the money of each year of payment.
    pub levelised_nominal_per_j: f64,
    /// Cost of a joule of what is replaced, gas heat or electricity, with the price of carbon.
    pub replaced_per_j: f64,
    /// Cost of a joule from the gas boiler, with the price of carbon.
    pub gas_heat_per_j: f64,
    /// Cost of a joule from the electric boiler, with the price of carbon.
    pub electric_heat_per_j: f64,
    /// Carbon embodied in what is bought once and in what renews it, kg CO2 equivalent.
    pub embodied_carbon_kg: f64,
    /// Carbon of a year of keeping it running, kg CO2 equivalent.
    pub yearly_carbon_kg: f64,
    /// Carbon of building and of all years, kg CO2 equivalent.
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

    /// What is due each year beside the capital, levelled: yearly cost and renewals, less the residual.
    #[must_use]
    pub const fn levelled_running(&self) -> f64 {
        self.yearly_cost + self.renewals - self.residual
    }

    /// Cost of a joule of the whole demand: what is delivered at its levelised cost, what is lacking at
    /// that of what is replaced (an auxiliary boiler's fuel, the grid).
    #[must_use]
    pub fn whole_demand_per_j(&self, demand_j: f64) -> f64 {
        let lacking_j = (demand_j - self.delivered_j).max(0.0);
        (self.levelised_per_j * self.delivered_j + self.replaced_per_j * lacking_j)
            / (self.delivered_j + lacking_j)
    }

    /// Direct cost of one chapter; per year for the yearly one.
    #[must_use]
    pub fn chapter(&self, chapter: Chapter) -> f64 {
        let groups = Group::ALL.into_iter().zip(self.group_cost);
        groups
            .filter(|(group, _)| group.chapter() == chapter)
            .map(|(_, cost)| cost)
            .sum()
    }

    /// Direct cost of mirrors that stand and are set on target: their chapter, assembled and aligned.
    #[must_use]
    pub fn mirrors_on_target(&self) -> f64 {
        let labour = [Item::Assembly, Item::Alignment].map(|item| self.item_cost[item as usize]);
        self.chapter(Chapter::Mirrors) + labour.iter().sum::<f64>()
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
    let renewals = renewals(&item_cost, rates, finance);
    let residual = finance.residual * capital.overnight() * finance.sinking_fund();
    let owned = capital.total * (1.0 - finance.grant);
    let levelled_j = delivered_j_per_year * finance.levelised_yield();
    let due_each_year = finance.fixed_charge_rate() * owned
        + finance.running_charge() * (yearly_cost + renewals - residual);
    let levelised_per_j = due_each_year / levelled_j;
    let (embodied_carbon_kg, yearly_carbon_kg) = carbon_kg(quantities, rates, finance.life_years);
    let carbon_kg = embodied_carbon_kg + finance.life_years * yearly_carbon_kg;
    Money {
        delivered_j: delivered_j_per_year,
        item_cost,
        group_cost,
        capital,
        yearly_cost,
        renewals,
        residual,
        levelised_per_j,
        levelised_nominal_per_j: levelised_per_j * finance.nominal_ratio(),
        replaced_per_j: finance.replaced_per_j(),
        gas_heat_per_j: finance.gas.heat_cost_per_j(finance.carbon_price_per_kg),
        electric_heat_per_j: finance
            .electric
            .heat_cost_per_j(finance.carbon_price_per_kg),
        embodied_carbon_kg,
        yearly_carbon_kg,
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

/// Renewals of all that does not last as long as the plant, as an equal yearly sum.
fn renewals(item_cost: &[f64; Item::COUNT], rates: &Rates, finance: &Finance) -> f64 {
    bought_once()
        .filter_map(|item| {
            let lasts_years = rates.get(item).life_years?;
            Some(item_cost[item as usize] * finance.renewal(lasts_years))
        })
        .sum()
}

/// Every item that is bought once, or once more when it is worn.
pub fn bought_once() -> impl Iterator<Item = Item> {
    Item::ALL
        .iter()
        .copied()
        .filter(|item| !item.group().is_yearly())
}

/// How often what lasts so many years is bought in a life.
pub fn times_bought(lasts_years: f64, life_years: f64) -> f64 {
    (life_years / lasts_years).ceil().max(1.0)
}

/// Carbon embodied in what is bought, and of each year.
fn carbon_kg(quantities: &Quantities, rates: &Rates, life_years: f64) -> (f64, f64) {
    let (mut embodied_kg, mut yearly_kg) = (0.0, 0.0);
    for &item in Item::ALL {
        let rate = rates.get(item);
        let carbon_kg = quantities.get(item) * rate.carbon_kg_per_unit;
        if item.group().is_yearly() {
            yearly_kg += carbon_kg;
        } else {
            let times = |lasts_years| times_bought(lasts_years, life_years);
            embodied_kg += rate.life_years.map_or(1.0, times) * carbon_kg;
        }
    }
    (embodied_kg, yearly_kg)
}

#[cfg(test)]
mod tests;
