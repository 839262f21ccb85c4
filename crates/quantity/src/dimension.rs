//! The kinds of quantity a scenario speaks of, with the units each is usually written in.

use crate::shape::Shape;

struct Facts {
    name: &'static str,
    shape: Shape,
    units: &'static [&'static str],
}

macro_rules! dimensions {
    ($($variant:ident: $name:literal, $shape:expr, [$($unit:literal),+];)+) => {
        /// A kind of quantity.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
        pub enum Dimension {
            $(#[doc = concat!("Measures ", $name, ".")] $variant,)+
        }

        impl Dimension {
            /// Every dimension.
            pub const ALL: &'static [Self] = &[$(Self::$variant,)+];

            const fn facts(self) -> Facts {
                match self {
                    $(Self::$variant => Facts { name: $name, shape: $shape, units: &[$($unit),+] },)+
                }
            }
        }
    };
}

dimensions! {
    Number: "a plain number", Shape::NUMBER, ["1"];
    Fraction: "a share", Shape::NUMBER, ["%", "1"];
    Length: "length", Shape::LENGTH, ["m", "mm", "cm", "km", "in", "ft"];
    Area: "area", Shape::AREA, ["m2", "mm2", "cm2", "ha", "km2", "ft2"];
    Volume: "volume", Shape::VOLUME, ["m3", "l"];
    VolumePerArea: "volume per area", Shape::VOLUME.over(Shape::AREA), ["l/m2", "m3/m2"];
    PerLength: "a share per length", Shape::NUMBER.over(Shape::LENGTH), ["1/m", "1/mm", "%/km"];
    Angle: "angle", Shape::ANGLE, ["deg", "mrad", "rad", "arcmin", "arcsec"];
    Temperature: "temperature", Shape::TEMPERATURE, ["degC", "K", "degF"];
    TemperatureDifference: "a difference of temperature", Shape::TEMPERATURE, ["K"];
    Time: "time", Shape::TIME, ["h", "min", "s", "d", "yr"];
    PerTime: "a share per time", Shape::NUMBER.over(Shape::TIME), ["%/h", "%/d", "%/yr", "1/s"];
    Speed: "speed", Shape::SPEED, ["m/s", "km/h", "mph", "kn"];
    Mass: "mass", Shape::MASS, ["kg", "g", "t", "lb"];
    MassPerLength: "mass per length", Shape::MASS.over(Shape::LENGTH), ["kg/m"];
    MassPerArea: "mass per area", Shape::MASS.over(Shape::AREA), ["kg/m2"];
    MassPerEnergy: "mass per energy", Shape::MASS.over(Shape::ENERGY), ["kg/kWh", "kg/MWh", "kg/GJ"];
    MassFlow: "mass flow", Shape::MASS.over(Shape::TIME), ["t/h", "kg/s", "kg/h"];
    Density: "density", Shape::MASS.over(Shape::VOLUME), ["kg/m3"];
    Force: "force", Shape::FORCE, ["N", "kN", "MN"];
    Moment: "moment", Shape::ENERGY, ["N.m", "kN.m"];
    Pressure: "pressure", Shape::PRESSURE, ["bar", "Pa", "kPa", "MPa", "psi", "atm"];
    Stress: "stress", Shape::PRESSURE, ["MPa", "GPa", "N/mm2", "Pa"];
    Energy: "energy", Shape::ENERGY, ["MWh", "kWh", "GWh", "GJ", "MJ", "J"];
    Power: "power", Shape::POWER, ["kW", "MW", "W", "GW"];
    PowerPerLength: "power per length", Shape::POWER.over(Shape::LENGTH), ["W/m", "kW/m"];
    PowerPerArea: "flux", Shape::POWER.over(Shape::AREA), ["kW/m2", "W/m2", "MW/m2"];
    EnergyPerArea: "energy per area", Shape::ENERGY.over(Shape::AREA), ["kWh/m2", "MJ/m2", "J/m2"];
    HeatTransfer: "heat transfer", Shape::POWER.over(Shape::AREA).over(Shape::TEMPERATURE), ["W/m2/K"];
    Conductivity: "thermal conductivity", Shape::POWER.over(Shape::LENGTH).over(Shape::TEMPERATURE), ["W/m/K"];
    ThermalResistance: "thermal resistance", Shape::AREA.times(Shape::TEMPERATURE).over(Shape::POWER), ["m2.K/W", "m2.K/kW"];
    Money: "money", Shape::MONEY, ["USD"];
    MoneyPerEach: "money per piece", Shape::MONEY.over(Shape::COUNT), ["USD/each"];
    MoneyPerLength: "money per length", Shape::MONEY.over(Shape::LENGTH), ["USD/m"];
    MoneyPerArea: "money per area", Shape::MONEY.over(Shape::AREA), ["USD/m2", "USD/ha"];
    MoneyPerVolume: "money per volume", Shape::MONEY.over(Shape::VOLUME), ["USD/m3"];
    MoneyPerMass: "money per mass", Shape::MONEY.over(Shape::MASS), ["USD/kg", "USD/t"];
    MoneyPerMoment: "money per moment", Shape::MONEY.over(Shape::ENERGY), ["USD/N.m"];
    MoneyPerPower: "money per power", Shape::MONEY.over(Shape::POWER), ["USD/kW", "USD/MW"];
    MoneyPerEnergy: "money per energy", Shape::MONEY.over(Shape::ENERGY), ["USD/MWh", "USD/kWh", "USD/GJ"];
    MoneyPerTime: "money per time", Shape::MONEY.over(Shape::TIME), ["USD/h", "USD/yr"];
}

impl Dimension {
    /// What it measures, in words.
    #[must_use]
    pub const fn name(self) -> &'static str {
        self.facts().name
    }

    pub(crate) const fn shape(self) -> Shape {
        self.facts().shape
    }

    /// Whether a number alone is enough.
    #[must_use]
    pub const fn is_plain(self) -> bool {
        matches!(self, Self::Number | Self::Fraction)
    }
}

/// The units a quantity is usually written in, the commonest first. Others that measure the same
/// are read as well; in money units any three capital letters may stand for the currency.
#[must_use]
pub const fn accepted_units(dimension: Dimension) -> &'static [&'static str] {
    dimension.facts().units
}
