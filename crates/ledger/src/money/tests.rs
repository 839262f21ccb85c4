//! Worked costs of heat, linearity in every rate, and bands of embodied carbon.

use book::Check;
use proptest::prelude::*;

use super::*;
use crate::bill;
use crate::samples::ten_million;

const J_PER_GWH: f64 = 1e6 * J_PER_KWH;
const PER_MWH: f64 = 1000.0 * J_PER_KWH;

fn heat_cost_per_mwh(change: impl FnOnce(&mut Finance), nominal: bool) -> f64 {
    let (quantities, rates, mut finance) = ten_million();
    change(&mut finance);
    let money = price(&quantities, 20.0 * J_PER_GWH, &rates, &finance);
    let per_j = if nominal {
        money.levelised_nominal_per_j
    } else {
        money.levelised_per_j
    };
    per_j * PER_MWH
}

fn check_heat_cost(change: impl FnOnce(&mut Finance), expected_per_mwh: f64) {
    let found = heat_cost_per_mwh(change, false);
    assert!((found - expected_per_mwh).abs() < 5e-5, "{found}");
}

/// 10 million, 2 % a year, 20 GWh a year, 6 % real, 25 years; output that declines, inflation, a user's
/// tax. The three forms agree to 1e-15.
#[test]
fn worked_costs_of_heat_come_out() {
    Check {
        id: "ledger.levelised_cost",
        model: "Levelised cost of heat",
        equation: "(capital × charge + yearly cost) ÷ yearly heat, both discounted",
        source: "Short, Packey & Holt 1995, NREL/TP-462-5173; Louvet et al. 2017, IEA SHC Task 54",
        validity: "in money of today, or of each year under steady inflation",
        against: "four works of 10 million and 20 GWh a year, computed in three independent forms",
        unit: "per MWh",
    }
    .within(
        5e-5,
        [
            (49.1134, heat_cost_per_mwh(|_| (), false)),
            (
                51.3682,
                heat_cost_per_mwh(|finance| finance.yearly_decline = 0.005, false),
            ),
            (
                62.1139,
                heat_cost_per_mwh(|finance| finance.inflation = 0.025, true),
            ),
            (
                41.0055,
                heat_cost_per_mwh(|finance| finance.tax.rate = 0.25, false),
            ),
        ],
    );
}

/// A 30 % grant with upkeep still on the whole plant: 37.3794 per MWh (computed as above).
#[test]
fn a_grant_lowers_capital_only() {
    check_heat_cost(|finance| finance.grant = 0.30, 37.3794);
}

/// 10 million, a fifth of them worth something after 25 years at 6 %: 0.2 × 10 million ÷ 1.06^25
/// off the capital, 49.1134 − 0.2 × 10e6 × 0.2329986 × 0.0782267 ÷ 20,000 MWh (Louvet et al. 2017,
/// IEA SHC Task 54, subtract the same term).
#[test]
fn what_is_worth_something_at_the_end_costs_less() {
    let saved = 0.2 * 10e6 * 0.232_998_6 * 0.078_226_7 / 20e3;
    check_heat_cost(|finance| finance.residual = 0.2, 49.1134 - saved);
}

/// What lasts fifteen years of 25 is bought once more, and a third is left of it.
#[test]
fn renewals_are_paid_in_their_years() {
    let (quantities, mut rates, finance) = ten_million();
    let mut rate = rates.get(Item::ControlRoom).clone();
    rate.life_years = Some(15.0);
    rates.replace(Item::ControlRoom, rate);
    let money = price(&quantities, 20.0 * J_PER_GWH, &rates, &finance);
    let worth = 10e6 * (libm::pow(1.06, -15.0) - libm::pow(1.06, -25.0) / 3.0);
    assert!((money.renewals / (worth * 0.078_226_7) - 1.0).abs() < 1e-6);
    let carbon = |money: &Money| money.embodied_carbon_kg;
    let once = price(&quantities, 1.0, &ten_million().1, &finance);
    assert!((carbon(&money) / carbon(&once) - 2.0).abs() < 1e-12);
}

#[test]
fn capital_closes_and_nothing_delivered_costs_without_bound() {
    let quantities = Quantities {
        amount: [3.0; Item::COUNT],
    };
    let (rates, finance) = (Rates::default_usd(), Finance::starting_point());
    let money = price(&quantities, 0.0, &rates, &finance);
    assert_eq!(money.levelised_per_j, f64::INFINITY);
    let by_multiplier: f64 = Group::ALL
        .iter()
        .map(|&group| money.group(group) * finance.multiplier(group).capital)
        .sum();
    assert!((by_multiplier / money.capital.total - 1.0).abs() < 1e-14);
    let billed: f64 = bill(&quantities, &rates).map(|line| line.cost).sum();
    let grouped: f64 = money.group_cost.iter().sum();
    assert!((billed / grouped - 1.0).abs() < 1e-14);
    let in_chapters: f64 = Chapter::ALL
        .map(|chapter| money.chapter(chapter))
        .iter()
        .sum();
    assert!((in_chapters / grouped - 1.0).abs() < 1e-14);
}

#[test]
fn nothing_stands_in_a_bill_without_its_sources() {
    let quantities = Quantities {
        amount: [1.0; Item::COUNT],
    };
    let mut rates = Rates::default_usd();
    rates.set("steel", 3.0).unwrap();
    let lines: Vec<_> = bill(&quantities, &rates).collect();
    assert_eq!(lines.len(), Item::COUNT);
    for line in lines {
        assert!(
            line.rate.source.split_whitespace().count() >= 2,
            "{:?}",
            line.item
        );
        assert!(
            line.rate.carbon_source.split_whitespace().count() >= 2,
            "{:?}",
            line.item
        );
    }
    assert_eq!(rates.get(Item::Steel).source, "given in the scenario");
    assert_eq!(bill(&Quantities::default(), &rates).count(), 0);
}

#[test]
fn rates_that_cannot_be_are_refused() {
    let mut rates = Rates::default_usd();
    let unknown = rates.set("gold", 1.0).unwrap_err();
    assert!(unknown.to_string().contains("\"gold\""));
    assert!(
        rates
            .set("steel", -1.0)
            .unwrap_err()
            .to_string()
            .contains("-1 per kg")
    );
    assert!(rates.set("steel", f64::NAN).is_err());
    assert_eq!(rates, Rates::default_usd());
}

/// Every part of steel counts once under the common rate, or under its own and no longer under that.
#[test]
fn a_part_goes_by_the_common_rate_until_it_has_its_own() {
    let mut bill = Quantities::default();
    bill.add(Item::PostSteel, 3.0);
    bill.add(Item::RailSteel, 5.0);
    let mut rates = Rates::default_usd();
    assert_eq!(rates.amount_under(Item::Steel, &bill), 8.0);
    assert_eq!(rates.amount_under(Item::PostSteel, &bill), 0.0);
    rates.set("post_steel", 4.0).unwrap();
    rates.set("steel", 2.0).unwrap();
    assert_eq!(rates.amount_under(Item::Steel, &bill), 5.0);
    assert_eq!(rates.amount_under(Item::PostSteel, &bill), 3.0);
    let money = price(&bill, J_PER_KWH, &rates, &Finance::starting_point());
    assert_eq!(money.group(Group::FieldSteel), 3.0 * 4.0 + 5.0 * 2.0);
}

/// One square metre of mirror field: 25–40 kg of steel, 10 kg of glass and up to 15 kg of carbon in
/// its footing embody 60–140 kg of CO2 equivalent, which over 25 years at 700–1200 kWh of heat a
/// year is 2–8 g/kWh for the field alone (sum of parts computed; parts from memory).
#[test]
fn carbon_of_a_field_lies_in_its_band() {
    let (rates, finance) = (Rates::default_usd(), Finance::starting_point());
    for (steel_kg, concrete_m3, heat_kwh) in [
        (25.0, 0.0, 1200.0),
        (32.0, 0.02, 950.0),
        (35.0, 0.04, 700.0),
    ] {
        let mut field = Quantities::default();
        field.add(Item::Glass, 10.0);
        field.add(Item::Silvering, 1.0);
        field.add(Item::Steel, steel_kg);
        field.add(Item::Galvanising, steel_kg);
        field.add(Item::Concrete, concrete_m3);
        let money = price(&field, heat_kwh * J_PER_KWH, &rates, &finance);
        assert!(
            (60.0..140.0).contains(&money.carbon_kg),
            "{}",
            money.carbon_kg
        );
        let g_per_kwh = money.carbon_kg_per_j * J_PER_KWH * 1000.0;
        assert!((2.0..8.0).contains(&g_per_kwh), "{g_per_kwh}");
    }
}

proptest! {
    /// The cost of a joule rises with each rate by exactly the amount bought × what is laid on it.
    #[test]
    fn cost_is_linear_in_every_rate(
        place in 0..Item::COUNT,
        amount in 0.0..1e4_f64,
        rise in 0.0..1e3_f64,
        real_rate in 0.0..0.15_f64,
        contingency_unproven in 0.0..0.4_f64,
    ) {
        let item = Item::ALL[place];
        let finance = Finance { real_rate, contingency_unproven, ..Finance::starting_point() };
        let mut quantities = Quantities { amount: [1.0; Item::COUNT] };
        quantities.amount[place] = amount;
        let mut rates = Rates::default_usd();
        let delivered_j = 5.0 * J_PER_GWH;
        let before = price(&quantities, delivered_j, &rates, &finance);
        rates.set(item.key(), rates.get(item).value).unwrap();
        let amount = rates.amount_under(item, &quantities);
        rates.set(item.key(), rates.get(item).value + rise).unwrap();
        let after = price(&quantities, delivered_j, &rates, &finance);
        let multiplier = finance.multiplier(item.group());
        let renewal = rates.get(item).life_years.map_or(0.0, |years| finance.renewal(years));
        let due = finance.fixed_charge_rate() * multiplier.capital
            + finance.running_charge() * (multiplier.yearly + renewal);
        let expected = rise * amount * due / (delivered_j * finance.levelised_yield());
        let found = after.levelised_per_j - before.levelised_per_j;
        prop_assert!((found - expected).abs() <= 1e-12 * after.levelised_per_j);
    }

    /// No rate makes heat cheaper.
    #[test]
    fn no_cost_falls_as_a_rate_rises(place in 0..Item::COUNT, share in 1.0..3.0_f64) {
        let quantities = Quantities { amount: [2.0; Item::COUNT] };
        let finance = Finance::starting_point();
        let mut rates = Rates::default_usd();
        let before = price(&quantities, J_PER_GWH, &rates, &finance).levelised_per_j;
        let item = Item::ALL[place];
        rates.set(item.key(), rates.get(item).value * share).unwrap();
        prop_assert!(price(&quantities, J_PER_GWH, &rates, &finance).levelised_per_j >= before);
    }
}

/// By hand: three quarters delivered at 0.06 and one quarter from a boiler at 0.04 are 0.055; all of it
/// delivered costs what is delivered.
#[test]
fn the_whole_demand_costs_the_mean_of_sun_and_boiler() {
    let mut money = price(
        &Quantities::default(),
        3e12,
        &Rates::default_usd(),
        &Finance::starting_point(),
    );
    (money.levelised_per_j, money.replaced_per_j) = (0.06, 0.04);
    assert!((money.whole_demand_per_j(4e12) - 0.055).abs() < 1e-12);
    assert!((money.whole_demand_per_j(3e12) - 0.06).abs() < 1e-12);
}

/// Electricity takes the place of the grid's, not of gas: 90 per MWh at the starting point, and with 50 per
/// tonne of carbon at 0.30 kg/kWh 105 (by hand).
#[test]
fn electricity_replaces_the_grid() {
    let finance = Finance {
        replaces: crate::Replaces::GridElectricity,
        carbon_price_per_kg: 0.05,
        ..Finance::starting_point()
    };
    let money = price(
        &Quantities::default(),
        1e12,
        &Rates::default_usd(),
        &finance,
    );
    assert!((money.replaced_per_j * J_PER_KWH - 0.105).abs() < 1e-12);
    assert!((finance.replaced_carbon_kg_per_j() * J_PER_KWH - 0.30).abs() < 1e-12);
}
