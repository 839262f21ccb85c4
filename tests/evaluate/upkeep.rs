//! What a field costs to keep and to have made: washing between dust and wages, and carbon in the band of such
//! fields.

use ledger::{Chapter, Item, J_PER_KWH, bill, price};
use model::Fidelity::Search;
use model::Summary;
use optics::Reflectance;
use scenario::Scenario;
use tautfield_tests::Works;

use crate::{fields, summary};

/// Days between two washes.
const DAYS: [u32; 6] = [4, 7, 10, 14, 20, 40];

/// A quarter of the demo.
const SMALL: [(&str, &str); 3] = [
    ("strings.count", "60"),
    ("heat.demand.power", "700 kW"),
    ("heat.demand.serve_at_least", "0 %"),
];

fn cost_per_kwh(summary: &Summary, scenario: &Scenario) -> f64 {
    let Summary {
        quantities,
        delivered_j,
        ..
    } = summary;
    price(quantities, *delivered_j, &scenario.rates, &scenario.finance).levelised_per_kwh()
}

/// The field washed at each interval, with changes laid over it, and its scenario.
fn washed(changes: &[(&'static str, &str)]) -> (Vec<Summary>, Scenario) {
    let at = |days: u32| {
        let interval = format!("{days} d");
        let wash = [("upkeep.wash_interval", interval.as_str())];
        let works = fields::with(&SMALL, &[changes, &wash].concat());
        (summary(&works, Search), works.case.scenario)
    };
    let summaries = DAYS.into_iter().map(|days| at(days).0).collect();
    (summaries, at(DAYS[0]).1)
}

/// Where heat is cheapest.
fn best_days(washed: &[Summary], scenario: &Scenario) -> u32 {
    let cost = |place: &usize| cost_per_kwh(&washed[*place], scenario);
    let best = (0..DAYS.len()).min_by(|one, other| cost(one).total_cmp(&cost(other)));
    best.map_or(0, |place| DAYS[place])
}

/// Dust grows evenly, so that the best interval is near √(2·w/(s·v)) with w the cost of a wash and v the
/// worth of a day's heat, both for a square metre, and s the share lost each day (the law of the best
/// lot size, Harris 1913, from memory). The worth of heat is what it costs here, since no more is built
/// for it. What is dearer is washed less often.
#[test]
fn washing_has_a_best_interval_that_follows_the_law_of_lots() {
    let (washed, mut scenario) = washed(&[]);
    let found = best_days(&washed, &scenario);
    let middle = &washed[2];
    let heat_kwh_m2_d = middle.delivered_j / J_PER_KWH / middle.mirror_area_m2 / 365.0;
    let a_wash = 0.04 + 0.0006 * 3.0;
    let worth = 0.0045 * cost_per_kwh(middle, &scenario) * heat_kwh_m2_d;
    let by_law = (2.0 * a_wash / worth).sqrt();
    println!("best interval {found} days, by the law {by_law:.1}");
    assert!((0.6..1.7).contains(&(f64::from(found) / by_law)));
    for pair in washed.windows(2) {
        assert!(pair[0].delivered_j > pair[1].delivered_j);
    }
    let dear = 16.0 * scenario.rates.get(Item::Washing).value;
    scenario.rates.set("washing", dear).expect("a sound rate");
    assert!(best_days(&washed, &scenario) > found);
}

#[test]
fn mirrors_that_stand_upright_at_night_are_washed_less_often() {
    let best = |night| {
        let (washed, scenario) = washed(&[("mirror.night", night)]);
        best_days(&washed, &scenario)
    };
    assert!(best("upright") > best("level"));
}

/// Glass mirrors reflect more than acrylic ones (common practice, no source): those are backed with aluminium,
/// which reflects 85 % at most (NREL/TP-255-2091, 1983), and silvered glass of every thickness that is sold stays above
/// that. That glass is scratched less is no number of ours.
#[test]
fn glass_reflects_more_than_acrylic() {
    let mirror = tautfield_tests::scenario("process-steam", &[]).mirror;
    for thickness_m in [2e-3, 3e-3, 4e-3, 5e-3, 6e-3, 8e-3] {
        let clean = Reflectance {
            silver: mirror.reflectance,
            glass_thickness_m: thickness_m,
            extinction_per_m: mirror.extinction_per_m,
            cleanliness: 1.0,
        };
        let reflected = clean.at(1.0);
        assert!(reflected > 0.85, "{thickness_m}: {reflected}");
    }
}

/// The field alone embodies 2–8 g/kWh of heat, from 60–140 kg of CO2 equivalent for each square metre
/// of mirror (sum of parts computed; parts from memory); steel from scrap less than from ore.
#[test]
fn carbon_of_the_field_lies_in_its_band() {
    let summary = summary(&Works::new(fields::DEMO), Search);
    let of = |route: &str| {
        let scenario = fields::with(fields::DEMO, &[("carbon.steel", route)])
            .case
            .scenario;
        let field_kg: f64 = bill(&summary.quantities, &scenario.rates)
            .filter(|line| line.item.group().chapter() == Chapter::Mirrors)
            .map(|line| line.carbon_kg)
            .sum();
        let life_kwh = summary.delivered_j * scenario.finance.lifetime_yield() / J_PER_KWH;
        (field_kg / summary.mirror_area_m2, 1e3 * field_kg / life_kwh)
    };
    let [primary, world, scrap] = ["primary", "world", "scrap"].map(of);
    println!(
        "field carbon, kg/m2 and g/kWh: ore {primary:.2?}, world {world:.2?}, scrap {scrap:.2?}"
    );
    for (kg_m2, g_kwh) in [primary, world, scrap] {
        assert!((2.0..8.0).contains(&g_kwh), "{g_kwh}");
        assert!((40.0..160.0).contains(&kg_m2), "{kg_m2}");
    }
    assert!((60.0..140.0).contains(&world.0));
    assert!(scrap.1 < world.1 && world.1 < primary.1);
}
