//! Values told by a word, some of them with numbers: how strings lie, their first axis, and what
//! every design must deliver.

use quantity::Dimension;

use crate::problem::ProblemKind;
use crate::raw::{Raw, Spot};
use crate::value::{Value, read_choice, wrong_type};
use crate::{BearingRule, Duty, FirstAxis};

/// The largest share of a fan; 1 would be `cross`.
const MOST_FAN: f64 = 0.95;

/// Steepest axis [rad].
const STEEPEST_RAD: f64 = std::f64::consts::FRAC_PI_2;

/// The first axes that a word names; any other is told by azimuth and elevation.
pub const FIRST_AXES: [(&str, FirstAxis); 5] = [
    ("across", FirstAxis::Across),
    ("along", FirstAxis::Along),
    ("vertical", FirstAxis::Vertical),
    ("polar", FirstAxis::Polar),
    ("roll-free", FirstAxis::RollFree),
];

/// Reads "radial", "cross", "best", "fan 0.33" or an azimuth such as "90 deg".
pub(crate) fn read_bearing(spot: &Spot) -> Result<Value, ProblemKind> {
    let Raw::Text(text) = &spot.raw else {
        return Err(wrong_type(&spot.raw, "text such as \"fan 0.33\""));
    };
    let text = text.trim();
    let rule = if let Some(share) = text.strip_prefix("fan") {
        let share = quantity::parse(share, Dimension::Fraction)?;
        if !(0.0..=MOST_FAN).contains(&share) {
            let (value, allowed) = (text.to_owned(), format!("fan 0 … fan {MOST_FAN}"));
            return Err(ProblemKind::OutOfRange {
                value,
                allowed,
                fits: None,
            });
        }
        BearingRule::Fan { share }
    } else if starts_a_number(text) {
        BearingRule::Fixed {
            azimuth_rad: quantity::parse(text, Dimension::Angle)?,
        }
    } else {
        match read_choice(&["radial", "cross", "fan", "best"], spot)? {
            Value::Choice(0, _) => BearingRule::Radial,
            Value::Choice(3, _) => BearingRule::Best,
            _ => BearingRule::Cross,
        }
    };
    Ok(Value::Bearing(rule, text.to_owned()))
}

/// The same text for the same rule.
pub(crate) fn canonical_bearing(rule: BearingRule) -> String {
    match rule {
        BearingRule::Radial => "radial".to_owned(),
        BearingRule::Cross => "cross".to_owned(),
        BearingRule::Best => "best".to_owned(),
        BearingRule::Fixed { azimuth_rad } => format!("{azimuth_rad:?}"),
        BearingRule::Fan { share } => format!("fan {share:?}"),
    }
}

/// Reads a word, or azimuth and elevation such as "axis 150 deg 30 deg".
pub(crate) fn read_first_axis(spot: &Spot) -> Result<Value, ProblemKind> {
    let Raw::Text(text) = &spot.raw else {
        return Err(wrong_type(&spot.raw, "text such as \"along\""));
    };
    let text = text.trim();
    let axis = match text.strip_prefix("axis") {
        Some(angles) => read_direction(text, angles)?,
        None => match read_choice(&FIRST_AXES.map(|(name, _)| name), spot)? {
            Value::Choice(index, _) => FIRST_AXES[index].1,
            _ => FirstAxis::default(),
        },
    };
    Ok(Value::FirstAxis(axis, text.to_owned()))
}

fn starts_a_number(text: &str) -> bool {
    text.starts_with(|letter: char| letter.is_ascii_digit() || letter == '-')
}

/// Reads azimuth and elevation, each with its unit.
fn read_direction(text: &str, angles: &str) -> Result<FirstAxis, ProblemKind> {
    let words: Vec<&str> = angles.split_whitespace().collect();
    let (azimuth, elevation) = match words[..] {
        [azimuth, elevation] if starts_a_number(elevation) => {
            (azimuth.to_owned(), elevation.to_owned())
        }
        [azimuth, unit, elevation, other] => {
            (format!("{azimuth} {unit}"), format!("{elevation} {other}"))
        }
        _ => {
            return Err(ProblemKind::WrongType {
                found: format!("\"{text}\""),
                wanted: "azimuth and elevation such as \"axis 150 deg 30 deg\"".to_owned(),
            });
        }
    };
    let azimuth_rad = quantity::parse(&azimuth, Dimension::Angle)?;
    let elevation_rad = quantity::parse(&elevation, Dimension::Angle)?;
    if elevation_rad.abs() > STEEPEST_RAD {
        return Err(ProblemKind::OutOfRange {
            value: elevation,
            allowed: "-90 deg … 90 deg".to_owned(),
            fits: None,
        });
    }
    Ok(FirstAxis::Fixed {
        azimuth_rad,
        elevation_rad,
    })
}

/// The same text for the same axis.
pub(crate) fn canonical_first_axis(axis: FirstAxis) -> String {
    if let FirstAxis::Fixed {
        azimuth_rad,
        elevation_rad,
    } = axis
    {
        return format!("axis {azimuth_rad:?} {elevation_rad:?}");
    }
    let named = FIRST_AXES.iter().find(|(_, known)| *known == axis);
    named.map_or("", |(name, _)| name).to_owned()
}

/// The duty that needs no number.
const WHOLE_DEMAND: &str = "whole demand";

/// Reads "whole demand", energy such as "9 GWh", or a share of the demand such as "55 %".
pub(crate) fn read_duty(spot: &Spot) -> Result<Value, ProblemKind> {
    let Raw::Text(text) = &spot.raw else {
        return Err(wrong_type(&spot.raw, "text such as \"9 GWh\""));
    };
    let text = text.trim();
    let duty = if !starts_a_number(text) {
        read_choice(&[WHOLE_DEMAND], spot)?;
        Duty::WholeDemand
    } else if let Ok(of_demand) = quantity::parse(text, Dimension::Fraction) {
        Duty::Share { of_demand }
    } else {
        let year_j = quantity::parse(text, Dimension::Energy)?;
        Duty::Energy { year_j }
    };
    let is_sound = match duty {
        Duty::Energy { year_j } => year_j > 0.0,
        Duty::Share { of_demand } => of_demand > 0.0 && of_demand <= 1.0,
        Duty::WholeDemand => true,
    };
    if is_sound {
        return Ok(Value::Duty(duty, text.to_owned()));
    }
    Err(ProblemKind::OutOfRange {
        value: text.to_owned(),
        allowed: "energy above 0, or above 0 % up to 100 %".to_owned(),
        fits: None,
    })
}

/// The same text for the same duty.
pub(crate) fn canonical_duty(duty: Duty) -> String {
    match duty {
        Duty::Energy { year_j } => format!("{year_j:?} J"),
        Duty::Share { of_demand } => format!("{of_demand:?} of the demand"),
        Duty::WholeDemand => WHOLE_DEMAND.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use crate::{Duty, FirstAxis, load};

    const DEMO: &str = include_str!("tests/steam.toml");

    /// The first axis of the demo with this text for it, and the text that the space gives back.
    fn read(text: &str) -> Result<(FirstAxis, String), String> {
        let set = [("strings.first_axis".to_owned(), text.to_owned())];
        let scenario = load("demo.toml", DEMO, &|_| Err("no file".to_owned()), &set)
            .map_err(|errors| errors.to_string())?;
        let design = scenario.space.design(&scenario.space.start());
        let strings = design.field.strings().unwrap();
        let told = scenario.resolved();
        let told = told.iter().find(|one| one.key == "strings.first_axis");
        Ok((strings.first_axis, told.unwrap().text.clone()))
    }

    #[test]
    fn a_first_axis_is_a_word_or_a_direction() {
        assert_eq!(read("polar").unwrap().0, FirstAxis::Polar);
        assert_eq!(read("roll-free").unwrap().0, FirstAxis::RollFree);
        for text in ["axis 150 deg 30 deg", "axis 150deg 30deg"] {
            let (axis, told) = read(text).unwrap();
            assert_eq!(
                axis,
                FirstAxis::Fixed {
                    azimuth_rad: 150f64.to_radians(),
                    elevation_rad: 30f64.to_radians(),
                }
            );
            assert_eq!(told, text);
        }
    }

    #[test]
    fn what_is_no_axis_is_refused_with_what_would_be() {
        assert!(
            read("axis 150 deg")
                .unwrap_err()
                .contains("axis 150 deg 30 deg")
        );
        assert!(read("axis 150 deg 95 deg").unwrap_err().contains("90 deg"));
        assert!(read("axis 150 m 30 deg").is_err());
        assert!(read("alon").unwrap_err().contains("along"));
    }

    /// The duty of the demo with this text for it, and its text in the hash of prices.
    fn duty(text: &str) -> Result<(Duty, String), String> {
        let set = [("search.duty".to_owned(), text.to_owned())];
        let scenario = load("demo.toml", DEMO, &|_| Err("no file".to_owned()), &set)
            .map_err(|errors| errors.to_string())?;
        Ok((scenario.search.duty.unwrap(), scenario.price_text()))
    }

    #[test]
    fn a_duty_is_energy_a_share_or_the_whole_demand() {
        let energy = duty("9 GWh").unwrap();
        assert_eq!(
            energy.0,
            Duty::Energy {
                year_j: 9e9 * 3600.0
            }
        );
        assert_eq!(duty("9000 MWh").unwrap(), energy);
        let share = duty("55 %").unwrap();
        assert_eq!(share.0, Duty::Share { of_demand: 0.55 });
        assert!(share.1.contains("0.55 of the demand"), "{}", share.1);
        assert_eq!(duty("whole demand").unwrap().0, Duty::WholeDemand);
    }

    #[test]
    fn no_duty_is_nothing_more_than_all_or_in_another_unit() {
        for (text, told) in [
            ("0 GWh", "energy above 0"),
            ("0 %", "above 0 %"),
            ("101 %", "up to 100 %"),
            ("3 MW", "MWh"),
            ("whole", "\"whole demand\""),
        ] {
            let problem = duty(text).unwrap_err();
            assert!(problem.contains(told), "{text}: {problem}");
        }
    }
}
