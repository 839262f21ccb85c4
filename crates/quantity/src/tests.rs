//! Units against their published definitions, and laws of reading and writing.

use proptest::prelude::*;

use crate::{
    Decimal, Dimension, QuantityError, Unit, accepted_units, format, parse, read, read_like,
};

use Dimension::*;

/// Definitions from BIPM, The International System of Units (9th ed., 2019), and NIST Special
/// Publication 811 (2008), Appendix B: exact by definition; from memory.
#[test]
fn published_definitions() {
    for (text, dimension, si) in [
        ("1 in", Length, 0.0254),
        ("25.4 mm", Length, 0.0254),
        ("1 ft", Length, 0.3048),
        ("1 yd", Length, 0.9144),
        ("1 ha", Area, 10_000.0),
        ("1 l", Volume, 0.001),
        ("1 min", Time, 60.0),
        ("1 d", Time, 86_400.0),
        ("1 lb", Mass, 0.453_592_37),
        ("1 t", Mass, 1000.0),
        ("1 bar", Pressure, 1e5),
        ("1 atm", Pressure, 101_325.0),
        ("1 kWh", Energy, 3.6e6),
        ("1 mph", Speed, 0.447_04),
        ("36 km/h", Speed, 10.0),
        ("1 kn", Speed, 1852.0 / 3600.0),
        ("0 degC", Temperature, 273.15),
        ("180 degC", Temperature, 453.15),
        ("32 degF", Temperature, 273.15),
        ("212 degF", Temperature, 373.15),
    ] {
        assert_eq!(parse(text, dimension), Ok(si), "{text}");
    }
}

/// NIST SP 811, Appendix B: 1 psi = 6.894757 kPa, 1 arc second = 4.848137 µrad (seven digits, from
/// memory).
#[test]
fn published_roundings() {
    let psi_pa = parse("1 psi", Pressure).unwrap();
    assert!((psi_pa / 6894.757 - 1.0).abs() < 1e-7, "{psi_pa}");
    let arcsec_rad = parse("1 arcsec", Angle).unwrap();
    assert!(
        (arcsec_rad / 4.848_137e-6 - 1.0).abs() < 1e-7,
        "{arcsec_rad}"
    );
}

#[test]
fn the_ways_people_write() {
    for (text, dimension, si) in [
        ("30 in", Length, 0.762),
        ("24in", Length, 0.6096),
        ("24 inch", Length, 0.6096),
        ("5 ft 6 in", Length, 1.6764),
        ("5 mm", Length, 0.005),
        ("0.95 m", Length, 0.95),
        ("1e3 m", Length, 1000.0),
        ("1.5 mrad", Angle, 0.0015),
        ("90 deg", Angle, std::f64::consts::FRAC_PI_2),
        ("180°", Angle, std::f64::consts::PI),
        ("85 kWh/m2", EnergyPerArea, 306e6),
        ("85 kWh/m²", EnergyPerArea, 306e6),
        ("85 kWh/m^2", EnergyPerArea, 306e6),
        ("6 %", Fraction, 0.06),
        ("0.06", Fraction, 0.06),
        ("10 h", Time, 36_000.0),
        ("3.6 t/h", MassFlow, 1.0),
        ("4.5 bar", Pressure, 450_000.0),
        ("600 kW/m2", PowerPerArea, 600_000.0),
        ("4 1/m", PerLength, 4.0),
        ("4 /m", PerLength, 4.0),
        ("360 %/h", PerTime, 0.001),
        ("235 N/mm2", Stress, 235e6),
        ("0.2 m2.K/kW", ThermalResistance, 0.0002),
        ("0.2 m2 K/kW", ThermalResistance, 0.0002),
        ("5 W/m2 K", HeatTransfer, 5.0),
        ("-12.5 degC", Temperature, 260.65),
        ("12 USD/m2", MoneyPerArea, 12.0),
        ("36 USD/MWh", MoneyPerEnergy, 1e-8),
        ("80 EUR/t", MoneyPerMass, 0.08),
        ("7.5 USD/each", MoneyPerEach, 7.5),
        ("20 USD/h", MoneyPerTime, 20.0 / 3600.0),
    ] {
        let read = parse(text, dimension).unwrap_or_else(|error| panic!("{text}: {error}"));
        assert_eq!(read, si, "{text}");
    }
}

#[test]
fn the_currency_is_told() {
    assert_eq!(
        read("80 EUR/t", MoneyPerMass).unwrap().unit.currency(),
        Some("EUR")
    );
    assert_eq!(read("80 m", Length).unwrap().unit.currency(), None);
}

#[test]
fn a_bare_number_names_the_units() {
    let error = parse("0.95", Length).unwrap_err();
    assert_eq!(
        error.to_string(),
        "0.95 has no unit; write one of m, mm, cm, km, in, ft"
    );
}

#[test]
fn an_unknown_unit_names_the_nearest() {
    for (text, dimension, unit, near) in [
        ("3 KW", Power, "KW", Some("kW")),
        ("3 mtr", Length, "mtr", Some("metre")),
        ("3 kWhr/m2", EnergyPerArea, "kWhr", Some("kWh")),
        ("3 q", Length, "q", None),
    ] {
        match parse(text, dimension) {
            Err(QuantityError::UnknownUnit {
                unit: found,
                nearest,
                ..
            }) => {
                assert_eq!((found.as_str(), nearest.as_deref()), (unit, near), "{text}");
            }
            other => panic!("{text}: {other:?}"),
        }
    }
}

#[test]
fn a_unit_of_something_else_is_refused() {
    for (text, dimension) in [
        ("5 kg", Length),
        ("5 m", Angle),
        ("5 kWh", Power),
        ("12 degC", TemperatureDifference),
        ("3 USD", MoneyPerArea),
        ("1 %", Length),
    ] {
        let error = parse(text, dimension);
        assert!(
            matches!(error, Err(QuantityError::WrongDimension { .. })),
            "{text}: {error:?}"
        );
    }
}

#[test]
fn a_scale_with_its_own_zero_stands_alone() {
    for (text, dimension) in [("5 W/m2/degC", HeatTransfer), ("1 degC 1 K", Temperature)] {
        let error = parse(text, dimension);
        assert!(
            matches!(error, Err(QuantityError::ScaleInside { .. })),
            "{text}: {error:?}"
        );
    }
}

#[test]
fn nothing_and_nonsense_are_refused() {
    assert!(matches!(
        parse("  ", Length),
        Err(QuantityError::Empty { .. })
    ));
    for text in [
        "m",
        "about 3 m",
        "1,5 m",
        "1.2.3 m",
        "e5 m",
        "é m",
        "− 3 m",
        "3 4 m",
    ] {
        assert!(
            matches!(parse(text, Length), Err(QuantityError::NotANumber { .. })),
            "{text}"
        );
    }
}

#[test]
fn every_accepted_unit_is_read_and_written() {
    for &dimension in Dimension::ALL {
        for unit in accepted_units(dimension) {
            let text = Unit::parse(unit, dimension)
                .unwrap()
                .show(Decimal::new(125, -1));
            let si = parse(&text, dimension).unwrap_or_else(|error| panic!("{text}: {error}"));
            let shown = format(si, dimension, unit).unwrap();
            assert_eq!(parse(&shown, dimension), Ok(si), "{text}");
            assert_eq!(shown, text);
        }
    }
}

#[test]
fn like_units_convert() {
    let model = Unit::parse("USD/kg", MoneyPerMass).unwrap();
    let other = Unit::parse_like("USD/t", &model).unwrap();
    assert_eq!(
        model
            .from_si(other.to_si(Decimal::new(2600, 0)))
            .to_string(),
        "2.6"
    );
    assert!(Unit::parse_like("USD/m", &model).is_err());
    let euros = read_like("2600 EUR/t", "USD/kg").unwrap();
    assert_eq!(
        (euros.number.to_string().as_str(), euros.currency.as_deref()),
        ("2.6", Some("EUR"))
    );
    let error = read_like("5 USD/m", "USD/kg").unwrap_err().to_string();
    assert_eq!(
        error,
        "\"USD/m\" does not measure what USD/kg does; write one of USD/kg"
    );
}

fn any_unit() -> impl Strategy<Value = (Dimension, &'static str)> {
    let units: Vec<_> = Dimension::ALL
        .iter()
        .flat_map(|&dimension| {
            accepted_units(dimension)
                .iter()
                .map(move |unit| (dimension, *unit))
        })
        .collect();
    proptest::sample::select(units)
}

proptest! {
    /// Fifteen digits fit a double, so what is written comes back letter for letter.
    #[test]
    fn text_to_si_and_back((dimension, unit) in any_unit(), digits in -999_999_999_i64..1_000_000_000, places in -6_i32..4) {
        let number = Decimal::new(i128::from(digits), places);
        let unit = Unit::parse(unit, dimension).unwrap();
        let text = unit.show(number);
        let si = parse(&text, dimension).unwrap();
        prop_assert_eq!(format(si, dimension, unit.text()).unwrap(), text);
    }

    /// Any double that is printed reads back to within the last place or two of a double.
    #[test]
    fn si_to_text_and_back((dimension, unit) in any_unit(), si in 1e-9_f64..1e12) {
        let text = format(si, dimension, unit).unwrap();
        let again = parse(&text, dimension).unwrap();
        let zero = if dimension == Temperature { 500.0 } else { 0.0 };
        prop_assert!((again - si).abs() <= 4.0 * f64::EPSILON * (si + zero), "{} {} {}", text, si, again);
    }

    /// Steps in decimal text land on the decimal sum, never beside it.
    #[test]
    fn steps_are_exact(from in 0_i64..100_000, step in 1_i64..1000, index in 0_i128..1000) {
        let metre = Unit::parse("m", Length).unwrap();
        let at = Decimal::new(i128::from(from), -3).plus(Decimal::new(i128::from(step), -3).times(index).unwrap()).unwrap();
        let millimetres = i128::from(from) + i128::from(step) * index;
        prop_assert_eq!(metre.to_si(at), parse(&std::format!("{millimetres} mm"), Length).unwrap());
    }

    #[test]
    fn no_text_makes_it_panic(text in ".{0,40}", (dimension, _) in any_unit()) {
        let _ = parse(&text, dimension);
    }
}
