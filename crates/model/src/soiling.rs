//! How clean mirrors are between two washes.
//!
//! Dust takes a constant share of what is left each day, so reflectance falls as exp(−s·t) from what a
//! wash restores. How fast depends on how the glass lies: horizontal glass lost 45 % of its cleanliness
//! in a month in Oujda, glass tilted by 45° 14 %, upright or face-down glass 3 % (abstract of a field
//! test there).

use std::f64::consts::FRAC_PI_2;

use scenario::{Mirror, NightPosture};

/// Tilt of mirrors by day, halfway between a sun 50° high and a tower top seen 30° high [rad]; our
/// estimate.
const DAY_TILT_RAD: f64 = 0.873;

/// Soiling of upright glass over that of level glass, and the power of the cosine of tilt by which the
/// rest fades: fitted to the three losses of Oujda.
const UPRIGHT_SHARE: f64 = 0.051;
const TILT_POWER: f64 = 4.5;

/// Mean reflectance over the year ÷ clean reflectance.
#[must_use]
pub fn cleanliness(mirror: &Mirror, wash_interval_s: f64) -> f64 {
    let from_washing = || mirror.washed * mean_left(soiling_per_s(mirror) * wash_interval_s);
    mirror.cleanliness.unwrap_or_else(from_washing)
}

/// Mean of exp(−x) while x grows evenly from 0 to `lost`.
fn mean_left(lost: f64) -> f64 {
    if lost > 0.0 {
        -libm::expm1(-lost) / lost
    } else {
        1.0
    }
}

/// The soiling of mirrors that lie level at night, for the posture that they have instead.
fn soiling_per_s(mirror: &Mirror) -> f64 {
    let night_rad = match mirror.night {
        NightPosture::Level => 0.0,
        NightPosture::Upright | NightPosture::FaceDown => FRAC_PI_2,
    };
    let day_and_night = |night_rad| tilt_share(DAY_TILT_RAD) + tilt_share(night_rad);
    mirror.soiling_per_s * day_and_night(night_rad) / day_and_night(0.0)
}

/// Soiling of tilted glass over that of level glass.
fn tilt_share(tilt_rad: f64) -> f64 {
    let cosine = libm::cos(tilt_rad).max(0.0);
    UPRIGHT_SHARE + (1.0 - UPRIGHT_SHARE) * libm::pow(cosine, TILT_POWER)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    const DAY_S: f64 = 86_400.0;

    fn mirror(night: NightPosture) -> Mirror {
        Mirror {
            soiling_per_s: 0.0045 / DAY_S,
            washed: 0.98,
            night,
            ..Mirror::default()
        }
    }

    /// A month on level, half-tilted and upright glass: 45, 14 and 3 % (abstract of a field test in
    /// Oujda), to a point.
    #[test]
    fn tilted_glass_soils_as_in_oujda() {
        let level_per_month = -libm::log(0.55);
        for (tilt_deg, lost) in [(0.0, 0.45), (45.0, 0.14), (90.0, 0.03)] {
            let share = tilt_share(f64::to_radians(tilt_deg));
            let found = 1.0 - libm::exp(-level_per_month * share);
            assert!((found - lost).abs() < 0.01, "{tilt_deg}: {found}");
        }
    }

    /// 0.45 % a day over 14 days from 98 %: the mean of the fourteen days, added up in the test.
    #[test]
    fn the_mean_is_that_of_its_days() {
        let steps = 14_000;
        let mean: f64 = (0..steps)
            .map(|step| {
                0.98 * libm::exp(-0.0045 * 14.0 * (f64::from(step) + 0.5) / f64::from(steps))
            })
            .sum::<f64>()
            / f64::from(steps);
        let found = cleanliness(&mirror(NightPosture::Level), 14.0 * DAY_S);
        assert!((found - mean).abs() < 1e-8, "{found} {mean}");
        assert!((found - 0.95).abs() < 5e-4);
    }

    #[test]
    fn what_is_given_stands() {
        let given = Mirror {
            cleanliness: Some(0.9),
            ..mirror(NightPosture::Level)
        };
        assert_eq!(cleanliness(&given, DAY_S), 0.9);
    }

    proptest! {
        #[test]
        fn mirrors_are_cleaner_washed_more_often_and_upright_at_night(days in 1.0..300.0_f64) {
            let level = mirror(NightPosture::Level);
            let found = cleanliness(&level, days * DAY_S);
            prop_assert!(found < cleanliness(&level, 0.9 * days * DAY_S));
            prop_assert!(found < cleanliness(&mirror(NightPosture::Upright), days * DAY_S));
            prop_assert!(found > 0.0 && found < level.washed);
        }
    }
}
