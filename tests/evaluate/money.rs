//! Prices move money as the ledger says and nothing else.

use ledger::{Finance, Item, Money, Rates, price};
use model::Fidelity::Search;
use model::Summary;
use tautfield_tests::Works;

use crate::{apart, bits, fields, summary};

fn priced(summary: &Summary, rates: &Rates, finance: &Finance) -> Money {
    price(&summary.quantities, summary.delivered_j, rates, finance)
}

/// Cost of a kilowatt-hour for each unit of an item's direct cost: what capital must earn in a year
/// and what the item costs each year, over the levelled heat.
fn per_kwh_for_each_unit(item: Item, summary: &Summary, finance: &Finance) -> f64 {
    let multiplier = finance.multiplier(item.group());
    let capital = finance.fixed_charge_rate() * (1.0 - finance.grant) * multiplier.capital;
    let yearly = finance.running_charge() * multiplier.yearly;
    (capital + yearly) / (summary.delivered_j * finance.levelised_yield()) * ledger::J_PER_KWH
}

#[test]
fn doubled_steel_and_glass_cost_their_amounts_more() {
    let works = Works::new(fields::DEMO);
    let (summary, scenario) = (summary(&works, Search), &works.case.scenario);
    let before = priced(&summary, &scenario.rates, &scenario.finance);
    for item in [Item::Steel, Item::PostSteel, Item::Glass, Item::TowerSteel] {
        let mut rates = scenario.rates.clone();
        let rate = rates.get(item).value;
        rates.set(item.key(), 2.0 * rate).expect("a sound rate");
        let after = priced(&summary, &rates, &scenario.finance);
        let direct = rates.amount_under(item, &summary.quantities) * rate;
        let wanted = direct * per_kwh_for_each_unit(item, &summary, &scenario.finance);
        let got = after.levelised_per_kwh() - before.levelised_per_kwh();
        println!("{}: {got:.6} per kWh", item.key());
        assert!(wanted > 1e-4 && (got - wanted).abs() < 1e-12);
    }
}

#[test]
fn prices_never_reach_the_light() {
    let plain = summary(&Works::new(fields::DEMO), Search);
    let dear = fields::with(
        fields::DEMO,
        &[
            ("rates.steel", "5 USD/kg"),
            ("rates.glass", "5 USD/kg"),
            ("finance.real_rate", "12 %"),
            ("finance.gas_price", "90 USD/MWh"),
        ],
    );
    assert_eq!(bits(&plain), bits(&summary(&dear, Search)));
    let scenario = &dear.case.scenario;
    let cheap = &Works::new(fields::DEMO).case.scenario;
    let dear_money = priced(&plain, &scenario.rates, &scenario.finance);
    let money = priced(&plain, &cheap.rates, &cheap.finance);
    assert!(dear_money.levelised_per_j > 1.3 * money.levelised_per_j);
    assert!(apart(dear_money.carbon_kg, money.carbon_kg) < 1e-12);
}
