//! The cost of a kilowatt-hour split into its parts, and what other heat costs.

use ledger::{Finance, Group, J_PER_KWH, Money};
use report::chart::OtherHeat;
use scenario::{Delivers, Scenario};

/// A part of the cost with the groups of the bill that it holds.
struct Part {
    name: &'static str,
    groups: &'static [Group],
}

const PARTS: [Part; 4] = [
    Part {
        name: "drives",
        groups: &[Group::Drives],
    },
    Part {
        name: "mirrors and their steel",
        groups: &[Group::Mirrors, Group::FieldSteel],
    },
    Part {
        name: "site, tower, plant",
        groups: &[
            Group::FieldGroundWorks,
            Group::TowerAndReceiver,
            Group::PlantToFence,
            Group::Site,
        ],
    },
    Part {
        name: "getting it built",
        groups: &[Group::GettingItBuilt],
    },
];

/// What is paid every year, insurance and upkeep included, and what is bought again.
const YEARLY: &str = "yearly cost";

/// Names of the parts.
pub fn names() -> Vec<String> {
    PARTS
        .iter()
        .map(|part| part.name)
        .chain([YEARLY])
        .map(str::to_owned)
        .collect()
}

/// Parts of the levelised cost [currency/kWh], in the order of [`names`]; they add up to it.
pub fn per_kwh(money: &Money, finance: &Finance) -> Vec<f64> {
    let levelled_kwh = money.delivered_j * finance.levelised_yield() / J_PER_KWH;
    let charge = (1.0 - finance.grant) * finance.fixed_charge_rate() / levelled_kwh;
    let capital = |group: &Group| money.group(*group) * finance.multiplier(*group).capital;
    PARTS
        .iter()
        .map(|part| part.groups.iter().map(capital).sum::<f64>() * charge)
        .chain([money.levelled_running() * finance.running_charge() / levelled_kwh])
        .collect()
}

/// What is bought again in later years, less what is left of it at the end.
const BOUGHT_AGAIN: &str = "bought again";

/// The levelised cost by group of the bill, each with its own insurance and upkeep, and what is bought
/// again [currency/kWh]; they add up to it.
pub fn by_group(money: &Money, finance: &Finance) -> Vec<(&'static str, f64)> {
    let levelled_kwh = money.delivered_j * finance.levelised_yield() / J_PER_KWH;
    let charge = (1.0 - finance.grant) * finance.fixed_charge_rate();
    let running = finance.running_charge();
    let of_group = |group: Group| {
        let each = finance.multiplier(group);
        let yearly = money.group(group) * (each.capital * charge + each.yearly * running);
        (group.title(), yearly / levelled_kwh)
    };
    let again = (money.renewals - money.residual) * running / levelled_kwh;
    let groups = Group::ALL.into_iter().map(of_group);
    groups.chain([(BOUGHT_AGAIN, again)]).collect()
}

/// Who else sells what is delivered, with the price of carbon, for lines on charts of cost.
pub fn other_heat(scenario: &Scenario) -> Vec<OtherHeat> {
    let finance = &scenario.finance;
    let other = |name: &str, per_j: f64| OtherHeat {
        name: name.to_owned(),
        cost_per_kwh: per_j * J_PER_KWH,
    };
    let replaced = |name: &str| other(name, finance.replaced_per_j());
    let electric_per_j = finance
        .electric
        .heat_cost_per_j(finance.carbon_price_per_kg);
    let electric = other("electric boiler", electric_per_j);
    match scenario.heat.delivers {
        Delivers::Electricity => vec![replaced("grid")],
        Delivers::HotAir => vec![replaced("gas burner"), electric],
        Delivers::Steam => vec![replaced("gas boiler"), electric],
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use ledger::{Item, Quantities, Rates};

    #[test]
    fn the_parts_add_up_to_the_cost_and_hold_every_group() {
        let mut bill = Quantities::default();
        for (place, &item) in Item::ALL.iter().enumerate() {
            bill.add(item, 3.0 + place as f64);
        }
        let finance = Finance {
            grant: 0.2,
            ..Finance::starting_point()
        };
        let delivered_j = 1e13;
        let money = ledger::price(&bill, delivered_j, &Rates::default_usd(), &finance);
        let parts = per_kwh(&money, &finance);
        let sum: f64 = parts.iter().sum();
        assert!((sum / money.levelised_per_kwh() - 1.0).abs() < 1e-12);
        assert_eq!(parts.len(), names().len());
        assert!(parts.iter().all(|part| *part > 0.0));
        let groups: f64 = by_group(&money, &finance)
            .iter()
            .map(|(_, part)| part)
            .sum();
        assert!((groups / money.levelised_per_kwh() - 1.0).abs() < 1e-12);
    }
}
