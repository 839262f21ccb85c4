//! What the same heat costs from a boiler.

/// A boiler and the energy it is fed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Boiler {
    /// Price of the energy fed, per joule (net calorific value for gas).
    pub energy_price_per_j: f64,
    /// Heat delivered ÷ energy fed.
    pub efficiency: f64,
    /// Carbon of the energy fed, kg of CO2 equivalent per joule.
    pub carbon_kg_per_j: f64,
    /// Everything but energy, per joule of heat.
    pub upkeep_per_j: f64,
}

impl Boiler {
    /// Natural gas: 56.1 kg of CO2 per GJ net calorific value, with CH4 1 kg/TJ and N2O 0.1 kg/TJ
    /// 0.2022 kg of CO2 equivalent per kWh (IPCC 2006 Guidelines, volume 2, table 2.2; second-hand).
    pub const GAS_CARBON_KG_PER_J: f64 = 0.2022 / crate::J_PER_KWH;

    /// Cost of heat per joule, with carbon at a price per kilogram.
    #[must_use]
    pub fn heat_cost_per_j(&self, carbon_price_per_kg: f64) -> f64 {
        let fed_per_j = self.energy_price_per_j + carbon_price_per_kg * self.carbon_kg_per_j;
        fed_per_j / self.efficiency + self.upkeep_per_j
    }

    /// Carbon of heat, kg of CO2 equivalent per joule.
    #[must_use]
    pub fn heat_carbon_kg_per_j(&self) -> f64 {
        self.carbon_kg_per_j / self.efficiency
    }
}

#[cfg(test)]
mod tests {
    use book::Check;

    use super::*;
    use crate::J_PER_KWH;

    /// A bare gas boiler whose fuel emits CO2 only.
    fn gas(price_per_mwh: f64, efficiency: f64) -> Boiler {
        Boiler {
            energy_price_per_j: price_per_mwh / 1000.0 / J_PER_KWH,
            efficiency,
            carbon_kg_per_j: 56.1e-9,
            upkeep_per_j: 0.0,
        }
    }

    /// IPCC 2006 Guidelines, volume 2, table 2.2 (second-hand): 56.1 kg CO2/GJ, 1 kg CH4/TJ and
    /// 0.1 kg N2O/TJ; warming 28 and 265 times that of CO2 (IPCC AR5, from memory).
    #[test]
    fn gas_carbon_is_the_sum_of_its_three_gases() {
        let kg_per_gj = 56.1 + (1.0 * 28.0 + 0.1 * 265.0) / 1000.0;
        Check {
            id: "ledger.gas_carbon",
            model: "Carbon of burning natural gas",
            equation: "CO₂ + 28 CH₄ + 265 N₂O",
            source: "IPCC AR5, warming over a hundred years (from memory)",
            validity: "stationary boilers; leaks on the way not counted",
            against: "IPCC 2006 Guidelines, volume 2, table 2.2 (second-hand)",
            unit: "kg/GJ",
        }
        .within_share(5e-4, [(kg_per_gj, Boiler::GAS_CARBON_KG_PER_J * 1e9)]);
    }

    /// CO2 alone, 0.20196 kg/kWh of gas, at 90, 85 and 80 %: 0.2244, 0.2376, 0.2525 (computed).
    #[test]
    fn carbon_of_heat_rises_as_the_boiler_worsens() {
        for (efficiency, kg_per_kwh) in [(0.90, 0.2244), (0.85, 0.2376), (0.80, 0.2525)] {
            let carbon = gas(30.0, efficiency).heat_carbon_kg_per_j() * J_PER_KWH;
            assert!((carbon - kg_per_kwh).abs() < 6e-5, "{carbon}");
        }
    }

    /// Fuel 20/30/50/80 per MWh at 90 %, alone: 22.2/33.3/55.6/88.9 per MWh of heat; with 80 per
    /// tonne of CO2: 40.2/51.3/73.5/106.8 (computed).
    #[test]
    fn gas_heat_costs_what_arithmetic_says() {
        for (fuel, bare, with_carbon) in [
            (20.0, 22.2, 40.2),
            (30.0, 33.3, 51.3),
            (50.0, 55.6, 73.5),
            (80.0, 88.9, 106.8),
        ] {
            let boiler = gas(fuel, 0.90);
            let per_mwh = 1000.0 * J_PER_KWH;
            assert!((boiler.heat_cost_per_j(0.0) * per_mwh - bare).abs() < 0.06);
            assert!((boiler.heat_cost_per_j(0.080) * per_mwh - with_carbon).abs() < 0.06);
        }
    }
}
