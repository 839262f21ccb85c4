//! The design, and what is built of it.

use report::{Section, figures};
use scenario::Scenario;

use super::pairs;
use crate::evaluated::Evaluated;

const M2_PER_ACRE: f64 = 4_046.856_422_4;
const M2_PER_FT2: f64 = 0.3048 * 0.3048;
const KG_PER_T: f64 = 1000.0;

/// The design in SI, lengths also in feet and inches.
pub fn design(of: &Evaluated, scenario: &Scenario) -> Section {
    let facts = of.facts(scenario).into_iter();
    let facts = facts.map(|fact| (fact.name, fact.shown));
    Section::new("Design", pairs(facts))
}

/// What is built of it.
pub fn built(of: &Evaluated) -> Section {
    let year = &of.summary;
    let rows = [
        ("mirrors", figures::grouped(of.mirrors(), 0)),
        (
            "mirror area",
            format!(
                "{} m2 ({} ft2)",
                figures::grouped(year.mirror_area_m2, 0),
                figures::grouped(year.mirror_area_m2 / M2_PER_FT2, 0)
            ),
        ),
        (
            "land",
            format!(
                "{} m2 ({:.1} acres)",
                figures::grouped(year.land_m2, 0),
                year.land_m2 / M2_PER_ACRE
            ),
        ),
        ("steel", mass(year.steel_kg)),
        (
            "steel per mirror area",
            format!("{:.1} kg/m2", year.steel_kg / year.mirror_area_m2),
        ),
        ("glass", mass(year.glass_kg)),
        (
            "concrete",
            format!("{} m3", figures::significant(year.concrete_m3, 3)),
        ),
    ];
    Section::new("What is built", pairs(rows))
}

fn mass(mass_kg: f64) -> String {
    format!("{} t", figures::significant(mass_kg / KG_PER_T, 3))
}
