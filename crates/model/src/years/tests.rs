//! The demo's field through years that are known.

use super::*;
use crate::evaluate::evaluate;
use crate::inputs::tests::{demo, design};

fn case() -> Case {
    demo(&[
        ("strings.count", "24"),
        ("heat.demand.serve_at_least", "0 %"),
    ])
}

fn dimmed(year: &WeatherYear, left: f64) -> WeatherYear {
    WeatherYear {
        dni_w_m2: year.dni_w_m2.iter().map(|dni| left * dni).collect(),
        ..year.clone()
    }
}

fn spread(case: &Case, years: &[WeatherYear]) -> YearsSpread {
    years_spread(case, &design(case), None, years, 0.06, Fidelity::Search).unwrap()
}

#[test]
fn the_same_year_again_delivers_the_same() {
    let case = case();
    let year = case.weather.clone();
    let found = spread(&case, &[year.clone(), year]);
    let own = evaluate(
        &case,
        &design(&case),
        Fidelity::Search,
        &mut Scratch::default(),
    );
    let own_j = own.unwrap().delivered_j;
    for lived in &found.each {
        assert!((lived.delivered_j / own_j - 1.0).abs() < 1e-12);
        let dni_j_m2 = 3600.0 * case.weather.dni_w_m2.iter().sum::<f64>();
        assert!((lived.dni_j_m2 / dni_j_m2 - 1.0).abs() < 1e-12);
    }
    assert!((found.p90_share - 1.0).abs() < 1e-9);
}

/// A tenth less beam delivers more than a tenth less heat: receiver and pipes lose as much as before.
#[test]
fn leaner_years_deliver_less_than_in_proportion() {
    let case = case();
    let years = [1.0, 0.9].map(|left| dimmed(&case.weather, left));
    let found = spread(&case, &years);
    let share = found.each[1].delivered_j / found.each[0].delivered_j;
    assert!((0.8..0.9).contains(&share), "{share}");
    assert_eq!(found.delivered_j.years, 2);
}

/// P90 of a stated 6 %: the beam is weaker by 1.2816 × 6 % = 7.69 %.
#[test]
fn a_single_year_takes_the_stated_deviation() {
    let case = case();
    let found = spread(&case, std::slice::from_ref(&case.weather));
    let dni = &found.dni_j_m2;
    assert!((dni.p90_normal / dni.mean - 0.923_107).abs() < 1e-6);
    assert!((dni.deviation / dni.mean - 0.06).abs() < 1e-12);
    assert!(
        (0.8..0.923).contains(&found.p90_share),
        "{}",
        found.p90_share
    );
    assert!(found.each.is_empty());
    let certain = years_spread(&case, &design(&case), None, &[], 0.0, Fidelity::Search).unwrap();
    assert!((certain.p90_share - 1.0).abs() < 1e-12);
}
