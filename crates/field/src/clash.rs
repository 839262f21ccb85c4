//! How far apart panels must stand so that they never touch.
//!
//! Three rules, the first the caller's, the other two held by the layout:
//! - neighbours in a string turn alike, so only the pitch along the string matters;
//! - strings end to end in a row turn nearly alike and keep at least the pitch;
//! - everything else keeps a panel's diagonal between centres, whatever the turns.

/// Pitch ÷ side at which neighbours in a string never touch while they turn, in the plane of the
/// string and its normal, by any angle between lying flat and `max_turn_rad`.
///
/// Two panels turned by ρ in one plane clear each other when pitch ≥ side/max(|cosρ|, |sinρ|):
/// edge past edge below 45°, face past face above. At worst that is √2.
#[must_use]
pub fn clash_free_pitch_ratio(max_turn_rad: f64) -> f64 {
    if max_turn_rad.abs() >= std::f64::consts::FRAC_PI_4 {
        std::f64::consts::SQRT_2
    } else {
        1.0 / libm::cos(max_turn_rad)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_ratio_is_the_worst_on_the_way() {
        for max_turn_deg in [0, 10, 30, 44, 45, 60, 90] {
            let worst = (0..=max_turn_deg)
                .map(|turn_deg| f64::from(turn_deg).to_radians())
                .map(|turn_rad| 1.0 / libm::cos(turn_rad).abs().max(libm::sin(turn_rad).abs()))
                .fold(0.0, f64::max);
            let ratio = clash_free_pitch_ratio(f64::from(max_turn_deg).to_radians());
            assert!((ratio - worst).abs() < 1e-12, "{max_turn_deg}");
        }
    }
}
