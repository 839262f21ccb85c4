//! The one price law for all concepts' drives: gears by torque class, the same for a string, a
//! pedestal or a single mirror.
//!
//! A gear is bought in the next torque class, and its price and mass go with the root of the class.
//! The root is laid through three prices from memory, all in money of 2024: small worm gearmotors of
//! some 50 N·m at 15–100 USD, slew drives for the sun's tracking of 0.5–2 kN·m at 150–500 USD, and the
//! axes of a 148 m² mirror of some 0.2 MN·m at about 3,100 USD (27 USD/m² of 2006 for two; Kolb et al.
//! 2007, SAND2007-3293). Motor, encoder and housing come on top and do not grow.

/// The torque that one counted gear holds [N·m].
pub const COUNTED_TORQUE_N_M: f64 = 1000.0;

/// Torque classes in each decade: the series R10 of preferred numbers (ISO 3).
const CLASSES_PER_DECADE: f64 = 10.0;

/// Room for rounding, so that a torque equal to a class takes that class.
const ROUNDING: f64 = 1e-9;

/// The smallest class that holds a torque, both in N·m; nothing holds nothing.
#[must_use]
pub fn torque_class_n_m(torque_n_m: f64) -> f64 {
    if torque_n_m <= 0.0 {
        return 0.0;
    }
    let step = (CLASSES_PER_DECADE * libm::log10(torque_n_m) - ROUNDING).ceil();
    libm::pow(10.0, step / CLASSES_PER_DECADE)
}

/// How many gears of 1 kN·m cost as much as one that holds this torque.
#[must_use]
pub fn counted_gears(torque_n_m: f64) -> f64 {
    (torque_class_n_m(torque_n_m) / COUNTED_TORQUE_N_M).sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Item, Rates};

    /// ISO 3, series R10 (from memory): 1.00, 1.25, 1.60, 2.00, 2.50, 3.15, 4.00, 5.00, 6.30, 8.00.
    #[test]
    fn classes_are_preferred_numbers() {
        for (torque_n_m, class_n_m) in [
            (100.0, 100.0),
            (101.0, 125.0),
            (1200.0, 1250.0),
            (1300.0, 1600.0),
            (3200.0, 4000.0),
        ] {
            let found = torque_class_n_m(torque_n_m);
            assert!((found / class_n_m - 1.0).abs() < 0.01, "{found}");
        }
        assert_eq!(torque_class_n_m(0.0), 0.0);
    }

    /// Prices of whole drives from memory, each within its band: see the head of this file.
    #[test]
    fn the_law_passes_through_drives_of_all_sizes() {
        let rates = Rates::default_usd();
        let drive = |torque_n_m| {
            rates.get(Item::DriveUnit).value
                + counted_gears(torque_n_m) * rates.get(Item::DriveGear).value
        };
        // A gearmotor of 15-100 USD with encoder and housing of some 60 USD.
        assert!((75.0..160.0).contains(&drive(50.0)), "{}", drive(50.0));
        assert!((210.0..560.0).contains(&drive(1000.0)));
        assert!((2500.0..4500.0).contains(&drive(2e5)), "{}", drive(2e5));
    }
}
