//! What crosses the fence, in words.

use ledger::Money;
use model::Summary;
use quantity::Measure;
use report::figures;
use scenario::{Delivers, Scenario};

use crate::inputs::Inputs;
use crate::units;

const ELECTRIC_BOILER: &str = "an electric boiler";

/// Words for what a plant delivers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Product {
    /// "heat" or "electricity".
    pub name: &'static str,
    /// The same, at the start of a heading.
    pub heading: &'static str,
    /// What it crosses the fence as.
    pub form: &'static str,
    /// What it takes the place of, in short.
    pub instead_of: &'static str,
    /// Where what is lacking comes from.
    pub auxiliary: &'static str,
    /// Name of the chart of its hours.
    pub chart: &'static str,
    is_electric: bool,
}

const STEAM: Product = Product {
    name: "heat",
    heading: "Heat",
    form: "steam",
    instead_of: "gas",
    auxiliary: "a gas boiler",
    chart: "delivered_heat",
    is_electric: false,
};

const HOT_AIR: Product = Product {
    form: "hot air",
    auxiliary: "a gas burner",
    ..STEAM
};

const ELECTRICITY: Product = Product {
    name: "electricity",
    heading: "Electricity",
    form: "electricity",
    instead_of: "the grid",
    auxiliary: "the grid",
    chart: "delivered_electricity",
    is_electric: true,
};

impl Product {
    /// What a scenario delivers.
    pub const fn of(scenario: &Scenario) -> &'static Self {
        match scenario.heat.delivers {
            Delivers::Steam => &STEAM,
            Delivers::HotAir => &HOT_AIR,
            Delivers::Electricity => &ELECTRICITY,
        }
    }

    /// Whether gas would be burnt in its place.
    pub const fn replaces_gas(self) -> bool {
        !self.is_electric
    }

    /// Who else sells it, and at what cost [currency/J].
    pub fn others(self, money: &Money) -> Vec<(&'static str, f64)> {
        if self.is_electric {
            vec![(self.auxiliary, money.replaced_per_j)]
        } else {
            vec![
                (self.auxiliary, money.gas_heat_per_j),
                (ELECTRIC_BOILER, money.electric_heat_per_j),
            ]
        }
    }

    /// The same with its carbon [kg/J].
    pub fn others_carbon(self, scenario: &Scenario) -> Vec<(&'static str, f64)> {
        let finance = &scenario.finance;
        if self.is_electric {
            vec![(self.auxiliary, finance.replaced_carbon_kg_per_j())]
        } else {
            vec![
                (self.auxiliary, finance.gas.heat_carbon_kg_per_j()),
                (ELECTRIC_BOILER, finance.electric.heat_carbon_kg_per_j()),
            ]
        }
    }

    /// What is bought to serve the rest of the demand.
    pub const fn auxiliary_energy(self) -> &'static str {
        if self.is_electric {
            "electricity of the grid"
        } else {
            "gas"
        }
    }

    /// Energy that must be bought to serve the rest of the demand [J]: fuel, or electricity.
    pub fn auxiliary_j(self, year: &Summary, scenario: &Scenario) -> f64 {
        let lacking_j = (year.demand_j - year.delivered_j).max(0.0);
        if self.is_electric {
            lacking_j
        } else {
            lacking_j / scenario.finance.gas.efficiency
        }
    }

    /// What is told of the year beside energy: tonnes of steam or air, or what a turbine set did.
    pub fn rows(self, year: &Summary, inputs: &Inputs) -> Vec<(&'static str, String)> {
        let tonnes = |kg: f64| units::measured(kg, Measure::Mass, 3);
        match inputs.scenario.heat.delivers {
            Delivers::Steam => vec![("steam", tonnes(year.steam_kg))],
            Delivers::HotAir => vec![("hot air", tonnes(hot_air_kg(year, inputs)))],
            Delivers::Electricity => {
                let gross_j = year.used_j - year.rejected_j;
                let efficiency = figures::percent(gross_j / year.used_j.max(1.0), 1);
                vec![
                    ("heat to the turbine set", figures::energy(year.used_j)),
                    (
                        "gross electricity",
                        format!("{}, {efficiency} of its heat", figures::energy(gross_j)),
                    ),
                ]
            }
        }
    }
}

/// Hot air delivered in a year [kg].
pub fn hot_air_kg(year: &Summary, inputs: &Inputs) -> f64 {
    match inputs.scenario.heat.delivers {
        Delivers::HotAir => year.delivered_j / inputs.case.process.carrier.gain_j_kg,
        Delivers::Steam | Delivers::Electricity => 0.0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_words_of_heat_in_electricity() {
        let words = [
            ELECTRICITY.name,
            ELECTRICITY.heading,
            ELECTRICITY.form,
            ELECTRICITY.instead_of,
            ELECTRICITY.auxiliary,
        ];
        for word in words {
            assert!(!word.to_lowercase().contains("heat"), "{word}");
        }
        assert_eq!(HOT_AIR.name, STEAM.name);
    }
}
