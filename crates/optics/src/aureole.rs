//! The share of the sun's aureole that falls inside the aperture.

use std::f64::consts::FRAC_1_SQRT_2;

use geometry::{LANES, Lane};

use crate::image::{Image, ImageAxis};
use crate::panel::lesser;
use crate::sun_shape::Glow;
use crate::windows::Window;

/// Turns shares of the core's image into shares of all light: the core keeps its part, and what the
/// aureole's bell curves bring inside the window is added. All that blurs or shifts the core's image
/// does so with the aureole's, whose own spread is so wide that right and up may be taken as
/// independent.
pub(crate) fn mix_in(image: &Image, window: &Window, shares: &mut Lane) {
    let sun = &image.sun;
    for share in shares.iter_mut() {
        *share *= sun.core_share;
    }
    for glow in &sun.aureole {
        let right = share_across(&image.right, glow, window.right_from(image));
        let up = share_across(&image.up, glow, window.up_m);
        for lane in 0..LANES {
            shares[lane] += image.open[lane] * glow.share * right[lane] * up[lane];
        }
    }
}

/// Share of one bell curve of the aureole between two edges.
#[inline(always)]
fn share_across(axis: &ImageAxis, glow: &Glow, [from_m, to_m]: [f64; 2]) -> Lane {
    let mut shares = [0.0; LANES];
    for lane in 0..LANES {
        let scale = FRAC_1_SQRT_2 / axis.glow_m2(glow, lane).sqrt();
        let high = scale * (to_m - axis.offset_m[lane]);
        let low = scale * (axis.offset_m[lane] - from_m);
        shares[lane] = mean_erf(high, low);
    }
    shares
}

/// Beyond this the error function is 1 for any purpose here.
const FAR: f64 = 6.0;

/// ½·(erf a + erf b), within 5e-4, with a single division (erf by Abramowitz & Stegun, Handbook
/// of Mathematical Functions, 1964, eq. 7.1.27).
#[inline(always)]
fn mean_erf(a: f64, b: f64) -> f64 {
    let (power_a, power_b) = (inverse_tail(a), inverse_tail(b));
    let (sign_a, sign_b) = (0.5_f64.copysign(a), 0.5_f64.copysign(b));
    sign_a + sign_b - (sign_a * power_b + sign_b * power_a) / (power_a * power_b)
}

/// 1 ÷ (1 − erf |x|).
#[inline(always)]
fn inverse_tail(x: f64) -> f64 {
    let size = lesser(x.abs(), FAR);
    let base =
        1.0 + size * (0.278_393 + size * (0.230_389 + size * (0.000_972 + size * 0.078_108)));
    let squared = base * base;
    squared * squared
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn error_functions_in_pairs() {
        for (a, b) in [
            (0.3, 1.7),
            (-0.4, 2.5),
            (-3.0, -1.0),
            (8.0, -8.0),
            (0.0, 0.9),
        ] {
            let exact = 0.5 * (libm::erf(a) + libm::erf(b));
            assert!((mean_erf(a, b) - exact).abs() < 5e-4, "{a} {b}");
        }
    }
}
