//! Closed forms against sums over the years, break-even prices put back, and a loan worked by hand.

use proptest::prelude::*;

use super::*;
use crate::samples::ten_million;
use crate::{Item, J_PER_KWH, Quantities, Tax, TaxedParty, WriteOff, price};

const HEAT_J: f64 = 20e6 * J_PER_KWH;

fn valued(quantities: &Quantities, rates: &Rates, finance: &Finance) -> (Money, Worth) {
    let money = price(quantities, HEAT_J, rates, finance);
    let worth = worth(&money, rates, finance);
    (money, worth)
}

/// Worth of 25 equal years, added up year by year in the test.
#[test]
fn present_worth_and_payback_follow_the_years() {
    let (quantities, rates, finance) = ten_million();
    let (money, worth) = valued(&quantities, &rates, &finance);
    let gain = HEAT_J * money.gas_heat_per_j - money.yearly_cost;
    let (mut by_hand, mut discount) = (-10e6, 1.0);
    for _ in 0..25 {
        discount /= 1.06;
        by_hand += gain * discount;
    }
    assert!((worth.net_present_value - by_hand).abs() < 1e-2);
    assert!((worth.payback_years.unwrap() - 10e6 / gain).abs() < 1e-9);
    let nothing_saved = price(&quantities, 1.0, &rates, &finance);
    let no_worth = super::worth(&nothing_saved, &rates, &finance);
    assert_eq!(no_worth.payback_years, None);
}

/// Gas at its break-even price, or carbon at its own, leaves neither gain nor loss, with a seller's tax,
/// a user's and none.
#[test]
fn break_even_prices_put_back_leave_nothing() {
    for party in [TaxedParty::Seller, TaxedParty::User] {
        for rate in [0.0, 0.3] {
            let (quantities, rates, mut finance) = ten_million();
            finance.tax = Tax {
                rate,
                party,
                ..Tax::NONE
            };
            finance.yearly_decline = 0.005;
            finance.carbon_price_per_kg = 0.040;
            let (_, before) = valued(&quantities, &rates, &finance);
            let mut dear = finance;
            dear.gas.energy_price_per_j = before.break_even_gas_per_j;
            let (_, after) = valued(&quantities, &rates, &dear);
            assert!(after.net_present_value.abs() < 1e-2, "{after:?}");
            assert!((after.internal_rate.unwrap() - finance.real_rate).abs() < 1e-9);
            let mut taxed_air = finance;
            taxed_air.carbon_price_per_kg = before.break_even_carbon_per_kg;
            let (_, after) = valued(&quantities, &rates, &taxed_air);
            assert!(after.net_present_value.abs() < 1e-2, "{after:?}");
        }
    }
}

/// 60 % of 10 million over 15 years at 7 % are 6 million × 0.109795 = 658,768 a year; 92 % of 20 GWh at
/// 49.06 USD/MWh of gas heat less 200,000 cover them 1.0667 times.
#[test]
fn the_loan_is_covered_as_worked_by_hand() {
    let (quantities, rates, mut finance) = ten_million();
    let (_, worth) = valued(&quantities, &rates, &finance);
    let sold = 0.92 * 20e3 * (40.0 / 0.85 + 2.0);
    let by_hand = (sold - 200e3) / (6e6 * 0.109_794_6);
    assert!((worth.debt_cover_p90.unwrap() / by_hand - 1.0).abs() < 1e-6);
    finance.debt.share = 0.0;
    assert_eq!(valued(&quantities, &rates, &finance).1.debt_cover_p90, None);
}

/// 60 t embodied against 20 GWh a year at 0.2022 ÷ 0.85 kg/kWh: 0.0126 years.
#[test]
fn carbon_is_paid_back_by_the_gas_saved() {
    let (quantities, rates, finance) = ten_million();
    let (money, worth) = valued(&quantities, &rates, &finance);
    assert_eq!(money.embodied_carbon_kg, 60e3);
    let by_hand = 60e3 / (20e6 * 0.2022 / 0.85);
    assert!((worth.carbon_payback_years.unwrap() / by_hand - 1.0).abs() < 1e-9);
}

proptest! {
    /// The closed form of the present worth is the sum over the years, with renewals, residual, both
    /// write-offs and either party's tax.
    #[test]
    fn the_closed_form_is_the_sum_of_the_years(
        life in 5_u32..40,
        lasts in 3_u32..45,
        real_rate in 0.0..0.15_f64,
        inflation in 0.0..0.08_f64,
        residual in 0.0..0.3_f64,
        grant in 0.0..0.6_f64,
        rate in 0.0..0.4_f64,
        is_fast in any::<bool>(),
    ) {
        let (quantities, mut rates, finance) = ten_million();
        let mut room = rates.get(Item::ControlRoom).clone();
        room.life_years = Some(f64::from(lasts));
        rates.replace(Item::ControlRoom, room);
        let write_off = if is_fast { WriteOff::FiveYearAccelerated } else { WriteOff::StraightLine };
        // Written off within the shortest life.
        let tax = Tax { rate, write_off, write_off_years: 5.0, party: TaxedParty::User };
        let finance = Finance {
            life_years: f64::from(life),
            real_rate,
            inflation,
            residual,
            grant,
            tax,
            yearly_decline: 0.004,
            ..finance
        };
        prop_assume!(!is_fast || life >= 6);
        let (money, worth) = valued(&quantities, &rates, &finance);
        let left: Vec<f64> = worth.years.iter().map(CashYear::left).collect();
        let summed = crate::annuity::present_worth(real_rate, &left) - money.capital.total * (1.0 - grant);
        prop_assert!((worth.net_present_value - summed).abs() < 1e-6 * money.capital.total,
            "{} {}", worth.net_present_value, summed);
    }
}
