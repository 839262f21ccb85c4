//! SI values as numbers in the units that people read.

use crate::unit::Unit;

/// The units that people read first.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Units {
    /// Metres, kilograms, newtons.
    #[default]
    Si,
    /// Feet, pounds, as in the United States.
    Us,
}

impl Units {
    /// The other ones.
    #[must_use]
    pub const fn other(self) -> Self {
        match self {
            Self::Si => Self::Us,
            Self::Us => Self::Si,
        }
    }
}

macro_rules! measures {
    ($($(#[doc = $doc:literal])+ $variant:ident: $si:literal, $us:literal;)+) => {
        /// What a number tells, which decides the unit that it stands in.
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        pub enum Measure {
            $($(#[doc = $doc])+ $variant,)+
        }

        impl Measure {
            /// Every one.
            pub const ALL: &'static [Self] = &[$(Self::$variant,)+];

            /// The unit it stands in.
            #[must_use]
            pub const fn unit(self, units: Units) -> &'static str {
                match (self, units) {
                    $((Self::$variant, Units::Si) => $si, (Self::$variant, Units::Us) => $us,)+
                }
            }
        }
    };
}

measures! {
    /// A length [m].
    Length: "m", "ft";
    /// A length of some millimetres [m].
    Thickness: "mm", "in";
    /// An area [m2].
    Area: "m2", "ft2";
    /// Ground [m2].
    Land: "m2", "acre";
    /// A volume [m3].
    Volume: "m3", "yd3";
    /// A heavy mass [kg].
    Mass: "t", "lb";
    /// A mass per area [kg/m2].
    MassPerArea: "kg/m2", "lb/ft2";
    /// A force [N].
    Force: "N", "lbf";
    /// A large force [N].
    Load: "kN", "lbf";
    /// A torque [N m].
    Torque: "N m", "ft lbf";
    /// A large moment [N m].
    Moment: "kN m", "ft lbf";
    /// A speed [m/s].
    Speed: "m/s", "mph";
}

impl Measure {
    /// The SI value `si` as a number in [`Measure::unit`].
    #[must_use]
    pub fn number(self, si: f64, units: Units) -> f64 {
        Unit::parse_any(self.unit(units)).map_or(f64::NAN, |unit| unit.number(si))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// NIST SP 811 (2008), Appendix B.8, factors with seven digits (from memory); those of foot and inch
    /// are exact.
    #[test]
    fn factors_are_those_published() {
        for (measure, si_of_one) in [
            (Measure::Length, 0.3048),
            (Measure::Thickness, 0.0254),
            (Measure::Area, 0.092_903_04),
            (Measure::Land, 4046.856),
            (Measure::Volume, 0.764_554_9),
            (Measure::Mass, 0.453_592_4),
            (Measure::MassPerArea, 4.882_428),
            (Measure::Force, 4.448_222),
            (Measure::Torque, 1.355_818),
            (Measure::Speed, 0.447_04),
        ] {
            let one = measure.number(si_of_one, Units::Us);
            assert!((one - 1.0).abs() < 2e-7, "{measure:?}: {one}");
        }
    }

    #[test]
    fn every_unit_is_known_and_measures_the_same_in_both() {
        for measure in Measure::ALL {
            let [si, us] = [Units::Si, Units::Us].map(|units| {
                let unit = Unit::parse_any(measure.unit(units)).ok().unwrap();
                measure.number(unit.to_si(crate::Decimal::parse("7").unwrap()), units)
            });
            assert!(
                (si - 7.0).abs() < 1e-12 && (us - 7.0).abs() < 1e-12,
                "{measure:?}"
            );
            let model = Unit::parse_any(measure.unit(Units::Si)).ok().unwrap();
            assert!(
                Unit::parse_like(measure.unit(Units::Us), &model).is_ok(),
                "{measure:?}"
            );
        }
    }
}
