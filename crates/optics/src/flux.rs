//! How dense an image is at spots of the aperture.

use std::f32::consts::{FRAC_1_SQRT_2, PI};
use std::hint::black_box;

use geometry::LANES;
use geometry::erf::erf;

use crate::aperture::Spot;
use crate::coarse::{Coarse, exp, greater};
use crate::image::{EVEN_STRETCH_EXCESS, Image, ImageAxis, Optic};
use crate::intercept::{is_narrow, parted};
use crate::spots::Spots;
use crate::sun_shape::SunBlur;

/// 1 ÷ √(2π).
const BELL_MIDDLE: f32 = 0.398_942_3;
/// Columns of a grid that are looked at together.
const TOGETHER: usize = 16;

/// The flux ÷ DNI of one image, ready to be asked for at any spot.
///
/// A bell curve along each axis, times a series in the distance from its middle that keeps the
/// light's sum: covariance to its second term (Mehler's series, from memory), and what an even sun
/// and an even patch, flatter in the middle and fuller around it than the bell curve of their
/// variance, take from the middle. The sun's part is set so that the middle is exact; that of a
/// narrow patch follows from its fourth cumulants. Where the patch is wide, each axis is an even stretch
/// blurred by a bell curve, and the series tells only what ties the two.
pub(crate) struct Density<'a> {
    image: &'a Image,
    is_narrow: bool,
    /// Light that is core and comes to the open side [m²].
    core_m2: Coarse,
    /// Correlation of right and up.
    correlation: Coarse,
    /// Fourth cumulant of the squares of both that the patch adds ÷ 4 variances of each.
    mixed: Coarse,
    /// What the sun's core takes from the middle, as a share.
    dip: Coarse,
    right: Shape,
    up: Shape,
    /// What the aureole adds, taken as even over the aperture.
    aureole: Coarse,
}

/// One axis of a narrow image.
struct Shape {
    offset_m: Coarse,
    /// 1 ÷ standard deviation.
    per_spread: Coarse,
    /// Fourth cumulant of the mirror's own patch ÷ 24 variances².
    patch: Coarse,
}

/// One axis of an image at one place.
#[derive(Clone, Copy)]
struct Along {
    /// Density for each metre of this axis.
    per_m: Coarse,
    /// Distance from the middle in standard deviations.
    far: Coarse,
    /// What this axis alone adds to the series.
    series: Coarse,
}

/// An image at one height: its flux as a curve over the other axis.
struct Level {
    /// Light for each metre of this axis.
    core_m: Coarse,
    /// The series, but for what the other axis adds, by powers of the distance along that.
    series: [Coarse; 3],
}

impl Level {
    #[inline(always)]
    fn new(density: &Density, up: &Along) -> Self {
        let none = [0.0; LANES];
        let (mut core_m, mut series) = (none, [none; 3]);
        for lane in 0..LANES {
            let (tied, up2) = (density.correlation[lane], up.far[lane] * up.far[lane]);
            let both = (0.5 * tied * tied + density.mixed[lane]) * (up2 - 1.0);
            core_m[lane] = density.core_m2[lane] * up.per_m[lane];
            series[0][lane] = 1.0 + up.series[lane] - both;
            series[1][lane] = tied * up.far[lane];
            series[2][lane] = both - 0.25 * density.dip[lane] * up2;
        }
        Self { core_m, series }
    }

    #[inline(always)]
    fn added(&self, right: &Along, aureole: &Coarse, flux: &Coarse) -> Coarse {
        let mut sum = [0.0; LANES];
        for lane in 0..LANES {
            sum[lane] = flux[lane] + (self.at(right, lane) + aureole[lane]);
        }
        sum
    }

    #[inline(always)]
    fn at(&self, right: &Along, lane: usize) -> f32 {
        let far = right.far[lane];
        let [one, first, second] = &self.series;
        let series = one[lane] + right.series[lane] + far * (first[lane] + far * second[lane]);
        self.core_m[lane] * right.per_m[lane] * greater(series, 0.0)
    }
}

impl<'a> Density<'a> {
    /// Of an image to which `sent_m2` of the light come.
    #[inline(always)]
    pub fn new(image: &'a Image, sent_m2: &Coarse) -> Self {
        let none = [0.0; LANES];
        let mut density = Self {
            image,
            is_narrow: is_narrow(&image.right) && is_narrow(&image.up),
            core_m2: none,
            correlation: none,
            mixed: none,
            dip: none,
            right: Shape::new(&image.right, &image.sun),
            up: Shape::new(&image.up, &image.sun),
            aureole: none,
        };
        for lane in 0..LANES {
            density.core_m2[lane] = sent_m2[lane] * image.open[lane] * image.sun.core_share;
        }
        density.set_series();
        if image.sun.has_aureole() {
            density.add_aureole(sent_m2);
        }
        density
    }

    #[inline(always)]
    fn set_series(&mut self) {
        let (shared_m2, sun_m2) = (&self.image.shared_m2, &self.image.sun_m2);
        let excess = if self.is_narrow {
            self.image.sun.core_excess
        } else {
            0.0
        };
        for lane in 0..LANES {
            let per_spread_m2 = self.right.per_spread[lane] * self.up.per_spread[lane];
            self.correlation[lane] = shared_m2[lane] * per_spread_m2;
            self.mixed[lane] = 0.25 * self.image.mixed_m4[lane] * per_spread_m2 * per_spread_m2;
            self.dip[lane] = -excess * (1.0 - sun_flattening(sun_m2[lane] * per_spread_m2));
        }
    }

    /// The aureole at the aperture's middle.
    #[inline(always)]
    fn add_aureole(&mut self, sent_m2: &Coarse) {
        let (right, up) = (&self.image.right, &self.image.up);
        for glow in &self.image.sun.aureole {
            for lane in 0..LANES {
                let per_x = 1.0 / right.glow_m2(glow, lane);
                let per_y = 1.0 / up.glow_m2(glow, lane);
                let (x, y) = (self.right.offset_m[lane], self.up.offset_m[lane]);
                let bell = exp(-0.5 * (x * x * per_x + y * y * per_y)) * (per_x * per_y).sqrt();
                let glowing_m2 = sent_m2[lane] * self.image.open[lane] * glow.share;
                self.aureole[lane] += 0.5 / PI * glowing_m2 * bell;
            }
        }
    }

    /// Adds the flux at every spot of the plane of the image; `size_m` is the aperture's width and height.
    #[inline(always)]
    pub fn add_grid(&self, spots: &Spots, size_m: [f64; 2], sums: &mut [Coarse]) {
        let columns = spots.rights.len();
        for (chunk, shares) in spots.rights.chunks(TOGETHER).enumerate() {
            let mut rights = [Along::NONE; TOGETHER];
            for (right, share) in rights.iter_mut().zip(shares) {
                let at_m = [(share * size_m[0]) as f32; LANES];
                *right = self.along(&self.image.right, &self.right, &at_m);
            }
            for (index, share) in spots.ups.iter().enumerate() {
                let at_m = [(share * size_m[1]) as f32; LANES];
                let level = Level::new(self, &self.along(&self.image.up, &self.up, &at_m));
                let first = index * columns + chunk * TOGETHER;
                let row = &mut sums[first..first + shares.len()];
                for (right, flux) in rights.iter().zip(row) {
                    // Or the compiler takes eight columns abreast, gathered from afar, instead of eight suns.
                    let right = black_box(right);
                    *flux = level.added(right, &self.aureole, flux);
                }
            }
        }
    }

    /// Adds the flux on a surface at `spot`, which `optic` sees.
    #[inline(always)]
    pub fn add_spot(&self, spot: &Spot, optic: &Optic, flux: &mut Coarse) {
        let place_m = optic.place_m(spot.from_centre_m);
        let normal = optic.seen(spot.normal);
        let none = [0.0; LANES];
        let (mut right_m, mut up_m, mut facing) = (none, none, none);
        for lane in 0..LANES {
            let lean = [self.image.lean[0][lane], self.image.lean[1][lane]];
            right_m[lane] = place_m[0] - lean[0] * place_m[2];
            up_m[lane] = place_m[1] - lean[1] * place_m[2];
            facing[lane] = lean[0] * normal[0] + lean[1] * normal[1] + normal[2];
        }
        if facing.iter().all(|facing| *facing <= 0.0) {
            return;
        }
        let right = self.along(&self.image.right, &self.right, &right_m);
        let level = Level::new(self, &self.along(&self.image.up, &self.up, &up_m));
        for lane in 0..LANES {
            let density = level.at(&right, lane) + self.aureole[lane];
            flux[lane] += greater(facing[lane], 0.0) * density;
        }
    }

    #[inline(always)]
    fn along(&self, axis: &ImageAxis, shape: &Shape, at_m: &Coarse) -> Along {
        let mut along = Along::NONE;
        if !self.is_narrow {
            for lane in 0..LANES {
                let off_m = at_m[lane] - axis.offset_m[lane];
                along.far[lane] = shape.per_spread[lane] * off_m;
                along.per_m[lane] = stretch(axis, off_m, lane);
            }
            return along;
        }
        for lane in 0..LANES {
            let per_spread = shape.per_spread[lane];
            let far = per_spread * (at_m[lane] - shape.offset_m[lane]);
            let far2 = far * far;
            let dip = 0.125 * self.dip[lane];
            along.far[lane] = far;
            along.per_m[lane] = BELL_MIDDLE * per_spread * exp(-0.5 * far2);
            along.series[lane] =
                shape.patch[lane] * (far2 * (far2 - 6.0) + 3.0) - dip * (far2 * (far2 - 8.0) + 4.0);
        }
        along
    }
}

impl Shape {
    #[inline(always)]
    fn new(axis: &ImageAxis, sun: &SunBlur) -> Self {
        let none = [0.0; LANES];
        let mut shape = Self {
            offset_m: axis.offset_m,
            per_spread: none,
            patch: none,
        };
        for lane in 0..LANES {
            let per_spread = 1.0 / axis.variance_m2[lane].sqrt();
            let patch_m2 = axis.patch_m[lane] * axis.patch_m[lane];
            let sun_m2 = axis.sun_m2[lane];
            let excess_m4 = axis.excess_m4[lane]
                - sun.core_excess * sun_m2 * sun_m2
                - EVEN_STRETCH_EXCESS * patch_m2 * patch_m2;
            let per_variance = per_spread * per_spread;
            shape.per_spread[lane] = per_spread;
            shape.patch[lane] = (1.0 / 24.0) * excess_m4 * per_variance * per_variance;
        }
        shape
    }
}

impl Along {
    const NONE: Self = Self {
        per_m: [0.0; LANES],
        far: [0.0; LANES],
        series: [0.0; LANES],
    };
}

/// Density of an even stretch blurred by a bell curve, `x_m` from its middle [1/m].
#[inline(always)]
fn stretch(axis: &ImageAxis, x_m: f32, lane: usize) -> f32 {
    let (patch_m, bell_m2) = parted(axis, lane);
    let scale = FRAC_1_SQRT_2 / bell_m2.sqrt();
    let (far, near) = (x_m + 0.5 * patch_m, x_m - 0.5 * patch_m);
    0.5 * (erf(scale * far) - erf(scale * near)) / patch_m
}

/// Middle of an even disc blurred by a round bell curve ÷ middle of the bell curve of the same
/// variance: (1 − e^−x)(1/x + ½) with x = R²/(2σ²) = 2·(sun's variance)/(rest of the variance).
/// `sun_share` is the sun's share of the variance. For small x, where digits cancel, its series.
#[inline(always)]
fn sun_flattening(sun_share: f32) -> f32 {
    let x = 2.0 * sun_share / greater(1.0 - sun_share, 1e-6);
    if x < 0.05 {
        1.0 - x * x * (1.0 / 12.0)
    } else {
        (1.0 - exp(-x)) * (1.0 / x + 0.5)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// An even disc without any blur has half the peak of the bell curve of its variance.
    #[test]
    fn even_sun_halves_the_bell() {
        assert!((sun_flattening(1.0) - 0.5).abs() < 1e-5);
        assert!((sun_flattening(0.0) - 1.0).abs() < 1e-8);
    }
}
