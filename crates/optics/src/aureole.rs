//! The share of the sun's aureole that falls inside the aperture.

use std::f32::consts::FRAC_1_SQRT_2;

use geometry::LANES;

use crate::coarse::{Coarse, lesser};
use crate::image::{Image, ImageAxis};
use crate::sun_shape::Glow;
use crate::windows::Window;

/// Turns shares of the core's image into shares of all light: the core keeps its part, and what the
/// aureole's bell curves bring inside the window is added. All that blurs or shifts the core's image
/// does so with the aureole's, whose own spread is so wide that right and up may be taken as
/// independent.
#[inline(always)]
pub(crate) fn mix_in(image: &Image, window: &Window, shares: &mut Coarse) {
    let sun = &image.sun;
    let right = Axis::new(&image.right, window.right_from(image));
    let up = Axis::new(&image.up, window.up_m);
    let mut inside = [0.0; LANES];
    for glow in &sun.aureole {
        let (right, up) = (right.share(glow), up.share(glow));
        for lane in 0..LANES {
            inside[lane] += glow.share * right[lane] * up[lane];
        }
    }
    for lane in 0..LANES {
        shares[lane] = sun.core_share * shares[lane] + image.open[lane] * inside[lane];
    }
}

/// One axis of the image without the sun, between two edges.
struct Axis {
    to_high_m: Coarse,
    to_low_m: Coarse,
    rest_m2: Coarse,
    reach_m2: Coarse,
}

impl Axis {
    #[inline(always)]
    fn new(axis: &ImageAxis, [from_m, to_m]: [f32; 2]) -> Self {
        let none = [0.0; LANES];
        let (mut to_high_m, mut to_low_m, mut rest_m2) = (none, none, none);
        for lane in 0..LANES {
            to_high_m[lane] = to_m - axis.offset_m[lane];
            to_low_m[lane] = axis.offset_m[lane] - from_m;
            rest_m2[lane] = axis.variance_m2[lane] - axis.sun_m2[lane];
        }
        Self {
            to_high_m,
            to_low_m,
            rest_m2,
            reach_m2: axis.reach_m2,
        }
    }

    /// Share of one bell curve of the aureole between the edges.
    #[inline(always)]
    fn share(&self, glow: &Glow) -> Coarse {
        let mut shares = [0.0; LANES];
        for lane in 0..LANES {
            let variance_m2 = self.rest_m2[lane] + glow.rad2 * self.reach_m2[lane];
            let scale = FRAC_1_SQRT_2 / variance_m2.sqrt();
            shares[lane] = mean_erf(scale * self.to_high_m[lane], scale * self.to_low_m[lane]);
        }
        shares
    }
}

/// Beyond this the error function is 1 for any purpose here.
const FAR: f32 = 4.0;

/// ½·(erf a + erf b), within 5e-4, with a single division (erf by Abramowitz & Stegun, Handbook
/// of Mathematical Functions, 1964, eq. 7.1.27).
#[inline(always)]
fn mean_erf(a: f32, b: f32) -> f32 {
    let (power_a, power_b) = (inverse_tail(a), inverse_tail(b));
    let (sign_a, sign_b) = (0.5_f32.copysign(a), 0.5_f32.copysign(b));
    sign_a + sign_b - (sign_a * power_b + sign_b * power_a) / (power_a * power_b)
}

/// 1 ÷ (1 − erf |x|).
#[inline(always)]
fn inverse_tail(x: f32) -> f32 {
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
            let exact = 0.5 * (libm::erf(f64::from(a)) + libm::erf(f64::from(b)));
            assert!((f64::from(mean_erf(a, b)) - exact).abs() < 5e-4, "{a} {b}");
        }
    }
}
