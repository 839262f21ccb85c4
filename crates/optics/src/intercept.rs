//! How much of an image falls inside the aperture.

use std::f32::consts::FRAC_1_SQRT_2;

use geometry::LANES;
use geometry::erf::erfs_and_slopes;

use crate::aureole;
use crate::coarse::{Coarse, greater, lesser};
use crate::image::{EVEN_STRETCH_EXCESS, EVEN_STRETCH_VARIANCE, Image, ImageAxis};
use crate::windows::{Window, Windows};

/// A patch narrower than this many standard deviations of the whole image counts as part of the
/// bell curve, with its fourth cumulant: the shares then differ by less than 1e-3.
const NARROW: f32 = 1.8;
/// The patch is kept at least this wide, in standard deviations of the image, so that
/// differences of nearly equal numbers stay exact.
const LEAST_PATCH: f32 = 0.3;
/// The bell curve's variance is kept at least this share of the image's.
const LEAST_BELL: f32 = 1e-6;
/// An edge this many standard deviations away takes nothing: less than 4e-6 of a bell curve, and
/// the tails of images are thinner.
const CLEAR: f32 = 4.5;

/// One axis of the image between two edges: its share there and that share's first moment about the
/// image's middle, the jumps of its density and of the density's slope from one edge to the other, and the
/// sum of its densities at both.
struct Across {
    share: Coarse,
    moment_m: Coarse,
    density_jump_per_m: Coarse,
    density_sum_per_m: Coarse,
    slope_jump_per_m2: Coarse,
}

/// Share of each image that falls inside the aperture's windows.
///
/// The two axes are first taken as independent bell curves, or patches blurred by one. Cumulants
/// beyond that come in by their series (Edgeworth; Kendall & Stuart, The Advanced Theory of
/// Statistics, vol. 1, ch. 6; from memory): the fourth of each axis, the covariance c to its second
/// term, and that of x² and y², for a round core a third of the fourth along an axis, for the patch what its
/// sides have. The result is
/// kept within the bounds that the two single shares allow (Fréchet). Against a bell curve in two
/// dimensions this errs by less than 1e-3 for a correlation up to 0.4, 4e-3 at 0.6.
#[inline(always)]
pub(crate) fn share_inside(image: &Image, windows: &Windows) -> Coarse {
    let mut shares = [0.0; LANES];
    for window in windows.as_slice() {
        add_share_of_core(image, window, &mut shares);
    }
    for lane in 0..LANES {
        shares[lane] *= image.open[lane];
    }
    if image.sun.has_aureole() {
        aureole::mix_in(image, &windows.broad, &mut shares);
    }
    shares
}

/// Adds what falls inside one window.
#[inline(always)]
fn add_share_of_core(image: &Image, window: &Window, shares: &mut Coarse) {
    let right = Across::new(&image.right, window.right_from(image));
    let up = if window.depth_m == 0.0 {
        Across::new(&image.up, window.up_m)
    } else {
        Across::new(&image.up_before(window.depth_m), window.up_m)
    };
    for lane in 0..LANES {
        let [x, y] = [right.share[lane], up.share[lane]];
        let (x, y) = (lesser(greater(x, 0.0), 1.0), lesser(greater(y, 0.0), 1.0));
        let shared_m2 = image.shared_m2[lane];
        let first = right.density_jump_per_m[lane] * up.density_jump_per_m[lane];
        let second = right.slope_jump_per_m2[lane] * up.slope_jump_per_m2[lane];
        let sun_m4 = image.right.sun_m2[lane] * image.up.sun_m2[lane];
        let mixed_m4 = (1.0 / 3.0) * image.sun.core_excess * sun_m4 + image.mixed_m4[lane];
        let joint =
            x * y + shared_m2 * first + (0.5 * shared_m2 * shared_m2 + 0.25 * mixed_m4) * second;
        let joint = greater(joint, greater(x + y - 1.0, 0.0));
        shares[lane] += lesser(joint, lesser(x, y));
    }
    if !window.is_straight() {
        add_bends(image, window, [&right, &up], shares);
    }
}

/// Adds what bent edges along up bring or take, to second order in how far they depart from straight
/// ones: their slope × the light's first moment along right about the middle of the window, and half
/// their variance × the second derivative of the share by the edges' place. In circles and on
/// cylinders this leaves less than 5e-4.
#[inline(always)]
fn add_bends(image: &Image, window: &Window, [right, up]: [&Across; 2], shares: &mut Coarse) {
    let [from_m, to_m] = window.right_from(image);
    let middle_m = 0.5 * (from_m + to_m);
    for lane in 0..LANES {
        let lean = image.lean[1][lane];
        let variance_m2 = window.edge.variance_m2 + lean * lean * window.depth.variance_m2;
        let bent = 0.5 * variance_m2 * up.slope_jump_per_m2[lane];
        let slope_per_m = window.edge.slope * up.density_sum_per_m[lane]
            - lean * window.depth.slope * up.density_jump_per_m[lane];
        let off_m = image.right.offset_m[lane] - middle_m;
        let moment_m = off_m * right.share[lane] + right.moment_m[lane];
        shares[lane] += bent * right.share[lane] + slope_per_m * moment_m;
    }
}

impl Across {
    #[inline(always)]
    fn new(axis: &ImageAxis, edges_m: [f32; 2]) -> Self {
        let mut across = Self {
            share: [1.0; LANES],
            moment_m: [0.0; LANES],
            density_jump_per_m: [0.0; LANES],
            density_sum_per_m: [0.0; LANES],
            slope_jump_per_m2: [0.0; LANES],
        };
        if is_clear(axis, edges_m) {
            return across;
        }
        if is_narrow(axis) {
            across.fill_bell(axis, edges_m);
        } else {
            across.fill_patch(axis, edges_m);
        }
        across
    }

    /// The image as a bell curve.
    #[inline(always)]
    fn fill_bell(&mut self, axis: &ImageAxis, [from_m, to_m]: [f32; 2]) {
        for lane in 0..LANES {
            let scale = FRAC_1_SQRT_2 / axis.variance_m2[lane].sqrt();
            let high = scale * (to_m - axis.offset_m[lane]);
            let low = scale * (axis.offset_m[lane] - from_m);
            let [(erf_high, slope_high), (erf_low, slope_low)] = erfs_and_slopes(high, low);
            let scale2 = scale * scale;
            let patch_m2 = axis.patch_m[lane] * axis.patch_m[lane];
            let excess_m4 = axis.excess_m4[lane] - EVEN_STRETCH_EXCESS * patch_m2 * patch_m2;
            let third_jump = high * (12.0 - 8.0 * high * high) * slope_high
                + low * (12.0 - 8.0 * low * low) * slope_low;
            let (high2, low2) = (high * high, low * low);
            let moment_jump = (1.0 + 4.0 * high2 * (1.0 - high2)) * slope_high
                - (1.0 + 4.0 * low2 * (1.0 - low2)) * slope_low;
            self.share[lane] = 0.5 * (erf_high + erf_low)
                + (1.0 / 48.0) * excess_m4 * scale2 * scale2 * third_jump;
            self.density_jump_per_m[lane] = 0.5 * scale * (slope_high - slope_low);
            self.moment_m[lane] = (1.0 / 24.0) * excess_m4 * scale2 * scale * moment_jump
                - axis.variance_m2[lane] * self.density_jump_per_m[lane];
            self.density_sum_per_m[lane] = 0.5 * scale * (slope_high + slope_low);
            self.slope_jump_per_m2[lane] = -scale2 * (high * slope_high + low * slope_low);
        }
    }

    /// The image as an even patch blurred by a bell curve, exactly: the share is the difference of
    /// the integrals of erf from where the patch's one end passes the edge to where the other does.
    #[inline(always)]
    fn fill_patch(&mut self, axis: &ImageAxis, [from_m, to_m]: [f32; 2]) {
        for lane in 0..LANES {
            let (patch_m, bell_m2) = parted(axis, lane);
            let scale = FRAC_1_SQRT_2 / bell_m2.sqrt();
            let reach = 0.5 * scale * patch_m;
            let high = Passing::new(scale * (to_m - axis.offset_m[lane]), reach);
            let low = Passing::new(scale * (axis.offset_m[lane] - from_m), reach);
            let even = 0.5 / patch_m;
            let third_jump = even * scale * scale * scale * (high.bend + low.bend);
            self.share[lane] = even / scale * (high.integral + low.integral)
                + (1.0 / 24.0) * axis.excess_m4[lane] * third_jump;
            self.density_jump_per_m[lane] = even * (high.erf - low.erf);
            self.moment_m[lane] = -axis.variance_m2[lane] * self.density_jump_per_m[lane];
            self.density_sum_per_m[lane] = even * (high.erf + low.erf);
            self.slope_jump_per_m2[lane] = even * scale * (high.slope + low.slope);
        }
    }
}

/// What changes while a patch passes an edge: differences, from its near to its far end, of the
/// integral of erf, of erf, of erf's slope, and of that slope's second derivative.
struct Passing {
    integral: f32,
    erf: f32,
    slope: f32,
    bend: f32,
}

impl Passing {
    #[inline(always)]
    fn new(middle: f32, reach: f32) -> Self {
        let (outer, inner) = (middle + reach, middle - reach);
        let [(erf_outer, slope_outer), (erf_inner, slope_inner)] = erfs_and_slopes(outer, inner);
        let slope = slope_outer - slope_inner;
        Self {
            integral: outer * erf_outer - inner * erf_inner + 0.5 * slope,
            erf: erf_outer - erf_inner,
            slope,
            bend: (4.0 * outer * outer - 2.0) * slope_outer
                - (4.0 * inner * inner - 2.0) * slope_inner,
        }
    }
}

/// Does the whole image lie between the edges under all suns?
#[inline(always)]
fn is_clear(axis: &ImageAxis, [from_m, to_m]: [f32; 2]) -> bool {
    let mut cut = 0;
    for lane in 0..LANES {
        let room_m = lesser(to_m - axis.offset_m[lane], axis.offset_m[lane] - from_m);
        let needed_m2 = CLEAR * CLEAR * axis.variance_m2[lane];
        cut |= u64::from(room_m < 0.0) | u64::from(room_m * room_m < needed_m2);
    }
    cut == 0
}

/// Is the patch narrow against the whole image under all suns?
#[inline(always)]
pub(crate) fn is_narrow(axis: &ImageAxis) -> bool {
    let mut wide = 0;
    for lane in 0..LANES {
        let patch_m2 = axis.patch_m[lane] * axis.patch_m[lane];
        wide |= u64::from(patch_m2 > NARROW * NARROW * axis.variance_m2[lane]);
    }
    wide == 0
}

/// The patch, not quite vanishing, and the variance of the bell curve that blurs it.
#[inline(always)]
pub(crate) fn parted(axis: &ImageAxis, lane: usize) -> (f32, f32) {
    let variance_m2 = axis.variance_m2[lane];
    let patch_m = greater(axis.patch_m[lane], LEAST_PATCH * variance_m2.sqrt());
    let bell_m2 = greater(
        variance_m2 - patch_m * patch_m * EVEN_STRETCH_VARIANCE,
        LEAST_BELL * variance_m2,
    );
    (patch_m, bell_m2)
}

#[cfg(test)]
mod tests {
    use std::f64::consts::PI;

    use geometry::Vec3;

    use super::*;
    use crate::aperture::Aperture;
    use crate::sun_shape::SunBlur;

    fn axis(offset_m: f64, patch_m: f64, bell_m2: f64) -> ImageAxis {
        let [offset_m, patch_m, bell_m2] = [offset_m, patch_m, bell_m2].map(|value| value as f32);
        ImageAxis {
            offset_m: [offset_m; LANES],
            patch_m: [patch_m; LANES],
            variance_m2: [bell_m2 + patch_m * patch_m / 12.0; LANES],
            sun_m2: [0.0; LANES],
            reach_m2: [0.0; LANES],
            excess_m4: [0.0; LANES],
        }
    }

    fn image(offset_m: [f64; 2], patch_m: f64, bell_m2: f64, shared_m2: f64) -> Image {
        Image {
            right: axis(offset_m[0], patch_m, bell_m2),
            up: axis(offset_m[1], patch_m, bell_m2),
            shared_m2: [shared_m2 as f32; LANES],
            mixed_m4: [0.0; LANES],
            lean: [[0.0; LANES]; 2],
            narrowing: 1.0,
            sun_m2: [0.0; LANES],
            sun: SunBlur::EVEN_DISC,
            open: [1.0; LANES],
        }
    }

    fn inside(image: &Image, half_m: [f64; 2]) -> f64 {
        let aperture = Aperture::facing(0.0, 0.0, Vec3::ZERO, 2.0 * half_m[0], 2.0 * half_m[1]);
        f64::from(share_inside(image, &Windows::new(&aperture))[0])
    }

    /// An even square of side 2 that stands on a corner, blurred by a bell curve, by midpoint sums over the square.
    #[test]
    fn a_patch_aslant_in_a_rectangle() {
        let blur_m = 0.9;
        let mut aslant = image([0.0; 2], 2f64.sqrt(), blur_m * blur_m + 1.0 / 6.0, 0.0);
        for axis in [&mut aslant.right, &mut aslant.up] {
            axis.excess_m4 = [-4.0 * EVEN_STRETCH_EXCESS; LANES];
        }
        aslant.mixed_m4 = [-8.0 * EVEN_STRETCH_EXCESS; LANES];
        for half_m in [[0.8, 0.8], [1.2, 0.9], [1.6, 1.6]] {
            let within = |at_m: f64, half_m: f64| {
                let scale = 1.0 / (2f64.sqrt() * blur_m);
                0.5 * (libm::erf(scale * (half_m - at_m)) + libm::erf(scale * (half_m + at_m)))
            };
            let mut share = 0.0;
            for (i, j) in (0..200).flat_map(|i| (0..200).map(move |j| (i, j))) {
                let [a, b] = [i, j].map(|step| (f64::from(step) + 0.5) / 100.0 - 1.0);
                let (x, y) = ((a + b) / 2f64.sqrt(), (a - b) / 2f64.sqrt());
                share += within(x, half_m[0]) * within(y, half_m[1]) / 40_000.0;
            }
            let found = inside(&aslant, half_m);
            let apart = Image {
                mixed_m4: [0.0; LANES],
                ..aslant
            };
            let (off, off_apart) = (found - share, inside(&apart, half_m) - share);
            assert!(
                off.abs() < 2e-3 && off.abs() < 0.5 * off_apart.abs(),
                "{half_m:?}: {off} {off_apart}"
            );
        }
    }

    /// Products of the error function, exact to the digits given (closed form).
    #[test]
    fn bell_in_a_rectangle() {
        let cases = [
            ([1.0, 1.0], [0.0, 0.0], 0.46606494),
            ([2.0, 1.0], [0.0, 0.0], 0.65162694),
            ([2.0, 2.0], [0.0, 0.0], 0.91106975),
            ([3.0, 2.0], [0.0, 0.0], 0.95192278),
            ([3.0, 3.0], [0.0, 0.0], 0.99460770),
            ([2.0, 2.0], [0.5, 1.0], 0.77866106),
        ];
        for (half_m, offset_m, share) in cases {
            let narrow = inside(&image(offset_m, 0.0, 1.0, 0.0), half_m);
            assert!((narrow - share).abs() < 1e-6, "{narrow} {share}");
        }
    }

    /// A bell curve of spread 1 off a circle's middle: the non-central χ² distribution with two
    /// degrees of freedom (values of `ncx2.cdf` in scipy 1.17, checked by quadrature).
    #[test]
    fn bell_in_a_circle() {
        for (radius_m, shares) in [
            (
                1.0,
                [0.384_102_53, 0.357_285_77, 0.267_120_20, 0.081_892_30],
            ),
            (
                2.0,
                [0.856_206_72, 0.830_859_36, 0.730_987_94, 0.396_499_04],
            ),
            (
                3.0,
                [0.987_298_32, 0.982_156_33, 0.956_284_03, 0.785_637_91],
            ),
        ] {
            let aperture = Aperture::round(0.0, 0.0, Vec3::ZERO, 2.0 * radius_m);
            for (off_m, share) in [0.25, 0.5, 1.0, 2.0].into_iter().zip(shares) {
                for offset_m in [[off_m, 0.0], [0.0, off_m]] {
                    let image = image(offset_m, 0.0, 1.0, 0.0);
                    let found = f64::from(share_inside(&image, &Windows::new(&aperture))[0]);
                    assert!(
                        (found - share).abs() < 5e-4,
                        "{radius_m} {offset_m:?}: {found} {share}"
                    );
                }
            }
        }
    }

    /// Spreads of 1 and 1.5 in a circle of radius 1, 2 and 3 (quadrature).
    #[test]
    fn oblong_bell_in_a_circle() {
        for (radius_m, share) in [(1.0, 0.280_193_2), (2.0, 0.717_574_8), (3.0, 0.932_103_2)] {
            let aperture = Aperture::round(0.0, 0.0, Vec3::ZERO, 2.0 * radius_m);
            let mut image = image([0.0; 2], 0.0, 1.0, 0.0);
            image.up.variance_m2 = [2.25; LANES];
            let found = f64::from(share_inside(&image, &Windows::new(&aperture))[0]);
            assert!((found - share).abs() < 5e-4, "{radius_m}: {found} {share}");
        }
    }

    /// Rays that climb by 0.5 for each metre reach the mantle of a cylinder lower than its axis: the
    /// nearest line of it, one radius before the axis, by half a metre.
    #[test]
    fn rays_meet_a_cylinder_before_its_axis() {
        let aperture = Aperture::cylinder(0.0, Vec3::ZERO, 2.0, 4.0);
        let windows = Windows::new(&aperture);
        // The plane of the image lies before the axis itself.
        let thin = |up_m: f64| {
            let before_m = up_m - 0.5 * aperture.depth_m();
            let mut image = image([0.0, before_m], 0.0, 1e-4, 0.0);
            image.lean[1] = [-0.5; LANES];
            f64::from(share_inside(&image, &windows)[0])
        };
        assert!(thin(-1.42) > 1.0 - 1e-3 && thin(2.42) > 1.0 - 1e-3);
        assert!(thin(-1.6) < 1e-3 && thin(2.6) < 1e-3);
    }

    /// Bell curves on a cylinder's visible side, by midpoint sums over lines of the mantle.
    #[test]
    fn bell_on_a_cylinder() {
        let (radius_m, half_m, lean) = (0.8, 0.9, -0.9);
        let aperture = Aperture::cylinder(0.0, Vec3::ZERO, 2.0 * radius_m, 2.0 * half_m);
        let lines = 4000;
        for (spread_m, offset_m) in [(0.2, [0.0, 0.0]), (0.3, [0.2, 0.3]), (0.6, [0.1, 0.5])] {
            let scale = std::f64::consts::FRAC_1_SQRT_2 / spread_m;
            let exact: f64 = (0..lines)
                .map(|line| {
                    let x_m = radius_m * (2.0 * (f64::from(line) + 0.5) / f64::from(lines) - 1.0);
                    let drop_m = lean * (radius_m * radius_m - x_m * x_m).sqrt();
                    let far = 2.0 * scale * scale * (x_m - offset_m[0]) * (x_m - offset_m[0]);
                    let high = libm::erf(scale * (half_m - offset_m[1] - drop_m));
                    let low = libm::erf(scale * (-half_m - offset_m[1] - drop_m));
                    libm::exp(-0.5 * far) * 0.5 * (high - low)
                })
                .sum::<f64>()
                * 2.0
                * radius_m
                / f64::from(lines)
                * scale
                / PI.sqrt();
            let before_m = [offset_m[0], offset_m[1] + lean * aperture.depth_m()];
            let mut image = image(before_m, 0.0, spread_m * spread_m, 0.0);
            image.lean[1] = [lean as f32; LANES];
            let found = f64::from(share_inside(&image, &Windows::new(&aperture))[0]);
            assert!((found - exact).abs() < 1e-3, "{spread_m}: {found} {exact}");
        }
    }

    /// Midpoint sums of the true density over the aperture: bell curve with covariance.
    fn summed_bell(
        half_m: [f64; 2],
        offset_m: [f64; 2],
        variance_m2: [f64; 2],
        shared_m2: f64,
    ) -> f64 {
        let steps = 400;
        let spread2 = variance_m2[0] * variance_m2[1] - shared_m2 * shared_m2;
        let mut sum = 0.0;
        for i in 0..steps {
            let x = half_m[0] * (2.0 * (f64::from(i) + 0.5) / f64::from(steps) - 1.0) - offset_m[0];
            for j in 0..steps {
                let y =
                    half_m[1] * (2.0 * (f64::from(j) + 0.5) / f64::from(steps) - 1.0) - offset_m[1];
                let far = (x * x * variance_m2[1] - 2.0 * x * y * shared_m2
                    + y * y * variance_m2[0])
                    / spread2;
                sum += libm::exp(-0.5 * far);
            }
        }
        let cell = 4.0 * half_m[0] * half_m[1] / f64::from(steps * steps);
        sum * cell / (2.0 * PI * spread2.sqrt())
    }

    #[test]
    fn covariance_of_right_and_up() {
        for (half_m, offset_m, correlation, allowed) in [
            ([1.6, 1.6], [0.0, 0.0], 0.4, 2e-4),
            ([1.6, 2.0], [0.3, -0.4], 0.4, 1e-3),
            ([1.6, 1.6], [0.5, 0.5], -0.4, 1e-3),
            ([1.2, 1.2], [0.0, 0.0], 0.6, 4e-3),
            ([1.6, 1.6], [0.3, 0.3], 0.6, 4e-3),
        ] {
            let series = inside(&image(offset_m, 0.0, 1.0, correlation), half_m);
            let exact = summed_bell(half_m, offset_m, [1.0; 2], correlation);
            let apart = inside(&image(offset_m, 0.0, 1.0, 0.0), half_m);
            println!(
                "{correlation} {offset_m:?}: series {series:.5} exact {exact:.5} apart {apart:.5}"
            );
            assert!((series - exact).abs() < allowed);
        }
    }

    /// An even patch blurred by a bell curve, against a midpoint sum over the patch.
    #[test]
    fn patch_blurred_by_a_bell() {
        for (patch_m, bell_m, offset_m) in [
            (2.0, 0.1, 0.0),
            (3.0, 0.4, 0.6),
            (1.5, 0.3, -0.9),
            (3.0, 1.0, 0.2),
        ] {
            let half_m = 1.0;
            let steps = 4000;
            let exact = (0..steps)
                .map(|step| {
                    let at_m =
                        offset_m + patch_m * ((f64::from(step) + 0.5) / f64::from(steps) - 0.5);
                    let scale = std::f64::consts::FRAC_1_SQRT_2 / bell_m;
                    0.5 * (libm::erf(scale * (half_m - at_m)) + libm::erf(scale * (half_m + at_m)))
                })
                .sum::<f64>()
                / f64::from(steps);
            let blurred = axis(offset_m, patch_m, bell_m * bell_m);
            let share = f64::from(Across::new(&blurred, [-half_m as f32, half_m as f32]).share[0]);
            assert!((share - exact).abs() < 4e-6, "{share} {exact}");
        }
    }

    /// A flat mirror far larger than its blur needs an aperture at least its own size: a target of
    /// half the width and height catches a quarter, the full size nearly all.
    #[test]
    fn flat_patch_needs_its_own_size() {
        let large = image([0.0; 2], 4.0, 0.01, 0.0);
        assert!((inside(&large, [1.0; 2]) - 0.25).abs() < 1e-6);
        assert!((inside(&large, [2.0; 2]) - 0.96).abs() < 0.01);
    }

    /// The two forms meet where the kernel changes from one to the other.
    #[test]
    fn narrow_and_wide_meet() {
        for half_m in [0.5, 1.0, 1.5, 2.0, 2.5_f32] {
            for offset_m in [0.0, 0.5, 1.5] {
                let patch_m = 1.0;
                let mut narrow = axis(
                    offset_m,
                    patch_m,
                    1.0 / f64::from(NARROW * NARROW) - 1.0 / 12.0 + 1e-5,
                );
                let narrow_share = Across::new(&narrow, [-half_m, half_m]).share[0];
                narrow.variance_m2 = narrow.variance_m2.map(|variance_m2| variance_m2 - 2e-5);
                let wide_share = Across::new(&narrow, [-half_m, half_m]).share[0];
                assert!(
                    (narrow_share - wide_share).abs() < 1e-3,
                    "{narrow_share} {wide_share}"
                );
            }
        }
    }
}
