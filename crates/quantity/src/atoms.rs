//! The named units from which all others are made.
//!
//! Factors are exact by definition, except that of the year, which is the 8,760-hour year of the
//! weather data (common practice, no source). Inch, foot, pound, standard atmosphere, degree: BIPM,
//! The International System of Units (9th ed., 2019) and NIST SP 811 (2008), from memory.

use crate::scale::Scale;
use crate::shape::Shape;

/// A named unit.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Atom {
    /// Spellings, the first one preferred.
    pub names: &'static [&'static str],
    pub shape: Shape,
    pub scale: Scale,
    /// What is added to the number before scaling, in hundredths.
    pub zero_hundredths: i32,
}

const fn atom(names: &'static [&'static str], shape: Shape, scale: Scale) -> Atom {
    Atom {
        names,
        shape,
        scale,
        zero_hundredths: 0,
    }
}

const fn tens(exponent: i32) -> Scale {
    Scale::new(1, 1, exponent)
}

/// Every named unit but currencies.
pub(crate) const ATOMS: &[Atom] = &[
    atom(&["1"], Shape::NUMBER, tens(0)),
    atom(&["%"], Shape::NUMBER, tens(-2)),
    atom(
        &["m", "metre", "metres", "meter", "meters"],
        Shape::LENGTH,
        tens(0),
    ),
    atom(&["um", "µm"], Shape::LENGTH, tens(-6)),
    atom(&["mm"], Shape::LENGTH, tens(-3)),
    atom(&["cm"], Shape::LENGTH, tens(-2)),
    atom(&["km"], Shape::LENGTH, tens(3)),
    atom(
        &["in", "inch", "inches"],
        Shape::LENGTH,
        Scale::new(254, 1, -4),
    ),
    atom(
        &["ft", "foot", "feet"],
        Shape::LENGTH,
        Scale::new(3048, 1, -4),
    ),
    atom(&["yd"], Shape::LENGTH, Scale::new(9144, 1, -4)),
    atom(&["ha"], Shape::AREA, tens(4)),
    // 43,560 square feet.
    atom(
        &["acre", "acres"],
        Shape::AREA,
        Scale::new(43_560 * 3048 * 3048, 1, -8),
    ),
    atom(&["l", "L"], Shape::VOLUME, tens(-3)),
    atom(&["rad"], Shape::ANGLE, tens(0)),
    atom(&["mrad"], Shape::ANGLE, tens(-3)),
    atom(&["urad", "µrad"], Shape::ANGLE, tens(-6)),
    atom(&["deg", "°"], Shape::ANGLE, Scale::half_turns(180)),
    atom(&["arcmin"], Shape::ANGLE, Scale::half_turns(180 * 60)),
    atom(&["arcsec"], Shape::ANGLE, Scale::half_turns(180 * 3600)),
    atom(&["K"], Shape::TEMPERATURE, tens(0)),
    Atom {
        names: &["degC", "°C"],
        shape: Shape::TEMPERATURE,
        scale: tens(0),
        zero_hundredths: 27_315,
    },
    Atom {
        names: &["degF", "°F"],
        shape: Shape::TEMPERATURE,
        scale: Scale::new(5, 9, 0),
        zero_hundredths: 45_967,
    },
    atom(&["s"], Shape::TIME, tens(0)),
    atom(&["min"], Shape::TIME, Scale::new(60, 1, 0)),
    atom(&["h"], Shape::TIME, Scale::new(3600, 1, 0)),
    atom(&["d", "day", "days"], Shape::TIME, Scale::new(86_400, 1, 0)),
    atom(
        &["yr", "year", "years"],
        Shape::TIME,
        Scale::new(8760 * 3600, 1, 0),
    ),
    atom(&["mph"], Shape::SPEED, Scale::new(44_704, 1, -5)),
    atom(&["kn"], Shape::SPEED, Scale::new(1852, 3600, 0)),
    atom(&["g"], Shape::MASS, tens(-3)),
    atom(&["kg"], Shape::MASS, tens(0)),
    atom(&["t"], Shape::MASS, tens(3)),
    atom(&["lb"], Shape::MASS, Scale::new(45_359_237, 1, -8)),
    atom(&["N"], Shape::FORCE, tens(0)),
    atom(&["kN"], Shape::FORCE, tens(3)),
    atom(&["MN"], Shape::FORCE, tens(6)),
    // One pound under standard gravity, 9.80665 m/s².
    atom(
        &["lbf"],
        Shape::FORCE,
        Scale::new(45_359_237 * 980_665, 1, -13),
    ),
    atom(&["Pa"], Shape::PRESSURE, tens(0)),
    atom(&["kPa"], Shape::PRESSURE, tens(3)),
    atom(&["MPa"], Shape::PRESSURE, tens(6)),
    atom(&["GPa"], Shape::PRESSURE, tens(9)),
    atom(&["mbar"], Shape::PRESSURE, tens(2)),
    atom(&["bar"], Shape::PRESSURE, tens(5)),
    atom(&["atm"], Shape::PRESSURE, Scale::new(101_325, 1, 0)),
    // One pound-force, 0.45359237 kg × 9.80665 m/s², on a square inch.
    atom(
        &["psi"],
        Shape::PRESSURE,
        Scale::new(45_359_237 * 980_665, 254 * 254, -5),
    ),
    atom(&["J"], Shape::ENERGY, tens(0)),
    atom(&["kJ"], Shape::ENERGY, tens(3)),
    atom(&["MJ"], Shape::ENERGY, tens(6)),
    atom(&["GJ"], Shape::ENERGY, tens(9)),
    atom(&["TJ"], Shape::ENERGY, tens(12)),
    atom(&["Wh"], Shape::ENERGY, Scale::new(3600, 1, 0)),
    atom(&["kWh"], Shape::ENERGY, Scale::new(3600, 1, 3)),
    atom(&["MWh"], Shape::ENERGY, Scale::new(3600, 1, 6)),
    atom(&["GWh"], Shape::ENERGY, Scale::new(3600, 1, 9)),
    atom(&["W"], Shape::POWER, tens(0)),
    atom(&["kW"], Shape::POWER, tens(3)),
    atom(&["MW"], Shape::POWER, tens(6)),
    atom(&["GW"], Shape::POWER, tens(9)),
    atom(&["each", "piece", "person"], Shape::COUNT, tens(0)),
];

/// The named unit with this spelling.
pub(crate) fn find(name: &str) -> Option<&'static Atom> {
    ATOMS.iter().find(|atom| atom.names.contains(&name))
}

/// The spelling that looks most like `name`, if any does.
pub(crate) fn nearest(name: &str) -> Option<&'static str> {
    let spellings = || ATOMS.iter().flat_map(|atom| atom.names.iter().copied());
    let other_case = spellings().find(|known| known.eq_ignore_ascii_case(name));
    other_case.or_else(|| {
        spellings()
            .map(|known| (strsim::jaro_winkler(name, known), known))
            .filter(|(likeness, _)| *likeness > 0.75)
            .max_by(|left, right| left.0.total_cmp(&right.0))
            .map(|(_, known)| known)
    })
}
