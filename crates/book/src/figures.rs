//! How figures stand in the book.

/// A number to this many significant digits, as short as it can be written.
pub(crate) fn shown(value: f64, digits: usize) -> String {
    let rounded = format!("{:.*e}", digits - 1, value);
    let rounded: f64 = rounded.parse().unwrap_or(value);
    if rounded == 0.0 || (1e-4..1e7).contains(&rounded.abs()) {
        rounded.to_string()
    } else {
        format!("{rounded:e}")
    }
}

/// A number with its unit, if it has one.
pub(crate) fn with_unit(value: f64, digits: usize, unit: &str) -> String {
    format!("{} {unit}", shown(value, digits))
        .trim_end()
        .to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_are_short_and_rounded() {
        assert_eq!(shown(39.888_378_4, 6), "39.8884");
        assert_eq!(shown(1_234_567.0, 3), "1230000");
        assert_eq!(shown(-2.449e-7, 2), "-2.4e-7");
        assert_eq!(shown(0.0, 2), "0");
        assert_eq!(with_unit(3e-5, 2, "deg"), "3e-5 deg");
        assert_eq!(with_unit(2.5, 2, ""), "2.5");
    }
}
