//! The design, and what is built of it.

use quantity::Measure;
use report::{Section, figures};
use scenario::Scenario;

use super::pairs;
use crate::evaluated::Evaluated;
use crate::units;

/// The design, lengths in metres and in feet and inches.
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
            units::in_both(year.mirror_area_m2, Measure::Area, 3),
        ),
        ("land", units::in_both(year.land_m2, Measure::Land, 3)),
        ("steel", units::measured(year.steel_kg, Measure::Mass, 3)),
        (
            "steel per mirror area",
            units::measured(year.steel_kg / year.mirror_area_m2, Measure::MassPerArea, 3),
        ),
        ("glass", units::measured(year.glass_kg, Measure::Mass, 3)),
        (
            "concrete",
            units::measured(year.concrete_m3, Measure::Volume, 3),
        ),
    ];
    Section::new("What is built", pairs(rows))
}
