//! A turbine set with its condenser: heat in, electricity out.

use crate::hour::SECONDS_PER_HOUR;

/// How a turbine set condenses its steam.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Cooling {
    /// By air.
    Dry,
    /// By evaporating water.
    Wet,
}

/// A turbine set whatever its size.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TurbineSet {
    /// Gross electricity ÷ heat at full load and rated condensing temperature.
    pub efficiency: f64,
    /// Heat that runs the set without any load ÷ heat at full load.
    pub no_load_share: f64,
    /// Least gross electricity at which it is run ÷ rated.
    pub min_load: f64,
    /// Own use of feed pumps and cooling ÷ gross electricity.
    pub own_share: f64,
    /// How its steam is condensed.
    pub cooling: Cooling,
    /// How much warmer than the air the steam condenses [K]; with wet cooling it may be cooler.
    pub condensing_above_air_k: f64,
    /// Condensing temperature for which it is rated [K].
    pub rated_condensing_k: f64,
    /// Mean temperature at which heat reaches the steam [K].
    pub heat_k: f64,
    /// Heat to warm it up for a start ÷ heat at full load [s].
    pub start_s: f64,
}

impl TurbineSet {
    /// Gross output from the same heat at an air temperature [K] ÷ at rated condensing temperature.
    ///
    /// Output follows the efficiency of an ideal engine between the mean temperature of heat supply and
    /// the condenser (common practice, no source): about 0.25 % for each kelvin.
    #[must_use]
    pub fn warmth_ratio(&self, air_k: f64) -> f64 {
        let ideal = |condensing_k: f64| 1.0 - condensing_k / self.heat_k;
        let condensing_k = air_k + self.condensing_above_air_k;
        (ideal(condensing_k) / ideal(self.rated_condensing_k)).max(0.0)
    }
}

/// A turbine set of some size.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Turbine {
    pub set: TurbineSet,
    /// Gross electricity at full load and rated condensing temperature; also the generator's limit [W].
    pub gross_w: f64,
}

/// What a turbine set is asked for in one hour.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Asked {
    /// Electricity wanted beyond the fence [W].
    pub net_w: f64,
    /// Own use of the plant beside the set's own [W].
    pub own_w: f64,
    /// Heat there is [W].
    pub heat_w: f64,
    pub air_k: f64,
    /// Whether it ran in the hour before.
    pub is_warm: bool,
}

/// What a turbine set makes in one hour.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct Made {
    /// Heat taken, for starting too [W].
    pub used_w: f64,
    /// Gross electricity [W].
    pub gross_w: f64,
}

impl Turbine {
    /// A set made for so much net electricity [W] at rated condensing temperature while the rest of the plant
    /// uses so much itself [W].
    pub fn for_demand(set: TurbineSet, net_w: f64, own_w: f64) -> Self {
        Self {
            set,
            gross_w: (net_w + own_w) / (1.0 - set.own_share),
        }
    }

    /// Heat at full load [W].
    pub fn full_heat_w(&self) -> f64 {
        self.gross_w / self.set.efficiency
    }

    /// Heat for so much gross electricity [W]: a straight line from no load to full load, as Willans
    /// found it for steam (textbook law, from memory).
    fn heat_for_w(&self, gross_w: f64, air_k: f64) -> f64 {
        let full_w = self.gross_w * self.set.warmth_ratio(air_k);
        let idle = self.set.no_load_share;
        self.full_heat_w() * (idle + (1.0 - idle) * gross_w / full_w)
    }

    /// Gross electricity from so much heat [W].
    fn gross_from_w(&self, heat_w: f64, air_k: f64) -> f64 {
        let full_w = self.gross_w * self.set.warmth_ratio(air_k);
        let idle = self.set.no_load_share;
        full_w * ((heat_w / self.full_heat_w() - idle) / (1.0 - idle)).max(0.0)
    }

    /// Runs an hour: as much as is wanted, as the set can and as there is heat for; nothing below the
    /// least load.
    pub fn run(&self, asked: &Asked) -> Made {
        let able_w = self.gross_w * self.set.warmth_ratio(asked.air_k).min(1.0);
        let wanted_w = ((asked.net_w + asked.own_w) / (1.0 - self.set.own_share)).min(able_w);
        let least_w = self.set.min_load * self.gross_w;
        if asked.net_w <= 0.0 || wanted_w < least_w || able_w <= 0.0 {
            return Made::default();
        }
        let start_w = if asked.is_warm {
            0.0
        } else {
            self.full_heat_w() * self.set.start_s / SECONDS_PER_HOUR
        };
        let left_w = (asked.heat_w - start_w).max(0.0);
        let heat_w = self.heat_for_w(wanted_w, asked.air_k).min(left_w);
        let gross_w = self.gross_from_w(heat_w, asked.air_k);
        if gross_w < least_w {
            return Made::default();
        }
        Made {
            used_w: start_w + heat_w,
            gross_w,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::samples::turbine;

    fn ten_megawatts() -> Turbine {
        Turbine {
            set: turbine(),
            gross_w: 10e6,
        }
    }

    fn asked(net_w: f64, heat_w: f64) -> Asked {
        Asked {
            net_w,
            own_w: 0.0,
            heat_w,
            air_k: 298.15,
            is_warm: true,
        }
    }

    /// The 10 MW test plant of 1996–99: gross efficiency 34 % (Ortega et al. 2008, J. Sol. Energy Eng.),
    /// so that full load takes 29.4 MW of heat.
    #[test]
    fn full_load_has_the_rated_efficiency() {
        let made = ten_megawatts().run(&asked(10e6 * (1.0 - turbine().own_share), 60e6));
        assert!((made.gross_w - 10e6).abs() < 1e-3);
        assert!((made.gross_w / made.used_w - 0.34).abs() < 1e-12);
    }

    /// By hand: no load takes 8 %, so that half load takes 54 % of full heat; efficiency falls from 34
    /// to 31.5 %.
    #[test]
    fn half_load_is_less_efficient() {
        let made = ten_megawatts().run(&asked(5e6 * (1.0 - turbine().own_share), 60e6));
        assert!((made.gross_w / made.used_w - 0.34 * 0.5 / 0.54).abs() < 1e-12);
    }

    /// By hand: heat at 700 K, air of 25 °C and steam that condenses 20 K above it: 1 − 318.15/700 = 0.5455
    /// of an ideal engine; at 40 °C 0.5241, 3.9 % less.
    #[test]
    fn hot_air_costs_output_and_cold_air_is_capped() {
        let set = turbine();
        let ratio = set.warmth_ratio(313.15);
        assert!((ratio - (1.0 - 333.15 / 700.0) / (1.0 - 318.15 / 700.0)).abs() < 1e-12);
        let run = |air_k| {
            ten_megawatts().run(&Asked {
                air_k,
                ..asked(9e9, 60e6)
            })
        };
        assert!((run(313.15).gross_w / 10e6 - ratio).abs() < 1e-12);
        assert!((run(263.15).gross_w - 10e6).abs() < 1e-3);
        assert!(run(263.15).used_w < run(298.15).used_w);
    }

    #[test]
    fn a_start_takes_heat_and_too_little_heat_starts_nothing() {
        let set = ten_megawatts();
        let cold = Asked {
            is_warm: false,
            ..asked(5e6, 60e6)
        };
        let more_w = set.run(&cold).used_w - set.run(&asked(5e6, 60e6)).used_w;
        assert!((more_w * 3600.0 - set.full_heat_w() * turbine().start_s).abs() < 1e-3);
        assert_eq!(set.run(&asked(5e6, 4e6)), Made::default());
        assert_eq!(set.run(&asked(0.0, 60e6)), Made::default());
    }
}
