//! How dense an image is at spots of the aperture.

use std::f32::consts::{FRAC_1_SQRT_2, PI};
use std::f64::consts::TAU;
use std::hint::black_box;
use std::ops::Range;

use geometry::erf::erf;
use geometry::{LANES, Vec3};

use crate::aperture::{Aperture, Outline};
use crate::coarse::{Coarse, exp, greater, least};
use crate::flux_sums::NextImage;
use crate::image::{EVEN_STRETCH_EXCESS, Image, ImageAxis, Optic};
use crate::intercept::{is_narrow, parted};
use crate::spots::{Evenly, Spots};
use crate::sun_shape::SunBlur;

/// 1 ÷ √(2π).
const BELL_MIDDLE: f32 = 0.398_942_3;
/// An image reaches so many of its standard deviations from its middle along each axis: of many that lie evenly one
/// beside another 0.01 % of the light falls beyond.
const REACH_SPREADS: f32 = 3.0;

/// The flux ÷ DNI of one image, ready to be asked for at any spot.
///
/// A bell curve along each axis, times a series in the distance from its middle that keeps the
/// light's sum: covariance to its second term (Mehler's series, from memory), and what an even sun
/// and an even patch, flatter in the middle and fuller around it than the bell curve of their
/// variance, take from the middle. The sun's part is set so that the middle is exact; that of a
/// narrow patch follows from its fourth cumulants. Where the patch is wide, each axis is an even stretch
/// blurred by a bell curve, and the series tells only what ties the two.
#[derive(Clone, Copy)]
pub(crate) struct Density<'a> {
    image: &'a Image,
    /// Light that comes to the aperture's plane.
    sent_m2: &'a Coarse,
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

/// One axis of an image: where it is, and if it is narrow its form.
#[derive(Clone, Copy)]
struct Shape {
    offset_m: Coarse,
    /// 1 ÷ standard deviation.
    per_spread: Coarse,
    /// Fourth cumulant of the mirror's own patch ÷ 24 variances².
    patch: Coarse,
}

/// One axis of an image at one place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Along {
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
    fn added(&self, right: &Along, flux: &Coarse) -> Coarse {
        let mut sum = [0.0; LANES];
        for lane in 0..LANES {
            sum[lane] = flux[lane] + self.at(right, lane);
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

/// A cylinder as an image sees it, column by column.
struct Mantle {
    radius_m: f32,
    /// How far the image's plane lies before the axis.
    depth_m: f32,
    /// Right and outward, of the column's normal, in the frame of the image.
    normal: [f32; 2],
    /// Sine and cosine of the step from column to column.
    turn: [f32; 2],
}

/// A column of a cylinder as an image sees it.
struct Column {
    /// Where on the image's plane its light comes from, right.
    right_m: Coarse,
    /// How far that lies below where the light falls.
    below_m: Coarse,
    /// Area across the beam ÷ area on the mantle, 0 on the far side.
    facing: Coarse,
}

impl Mantle {
    fn new(aperture: &Aperture, optic: &Optic, radius_m: f64, columns: &Evenly) -> Self {
        let (sine, cosine) = libm::sincos(TAU * columns.step);
        let first = optic.seen(aperture.mantle_normal(columns.first));
        Self {
            radius_m: radius_m as f32,
            depth_m: optic.depth_m,
            normal: [first[0], first[2]],
            turn: [sine as f32, cosine as f32],
        }
    }

    /// The next column.
    #[inline(always)]
    fn next(&mut self, image: &Image) -> Column {
        let ([right, out], [sine, cosine]) = (self.normal, self.turn);
        self.normal = [cosine * right + sine * out, cosine * out - sine * right];
        let none = [0.0; LANES];
        let mut column = Column {
            right_m: none,
            below_m: none,
            facing: none,
        };
        let before_m = self.radius_m * out - self.depth_m;
        for lane in 0..LANES {
            let [lean_right, lean_up] = [image.lean[0][lane], image.lean[1][lane]];
            column.right_m[lane] = self.radius_m * right - lean_right * before_m;
            column.below_m[lane] = lean_up * before_m;
            column.facing[lane] = greater(lean_right * right + out, 0.0);
        }
        column
    }
}

impl<'a> Density<'a> {
    /// Of an image to which `sent_m2` of the light come.
    #[inline(always)]
    pub fn new(image: &'a Image, sent_m2: &'a Coarse) -> Self {
        let none = [0.0; LANES];
        let mut density = Self {
            image,
            sent_m2,
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
        density.set_aureole();
        density
    }

    /// That of a like mirror that is set on an aim so far away.
    #[inline(always)]
    pub fn moved(&self, optic: &Optic, aim_m: Vec3) -> Self {
        let mut moved = *self;
        let offsets_m = [&mut moved.right.offset_m, &mut moved.up.offset_m];
        self.image.move_to(optic, aim_m, offsets_m);
        moved.set_aureole();
        moved
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
    fn set_aureole(&mut self) {
        self.aureole = [0.0; LANES];
        let (right, up) = (&self.image.right, &self.image.up);
        for glow in &self.image.sun.aureole {
            for lane in 0..LANES {
                let per_x = 1.0 / right.glow_m2(glow, lane);
                let per_y = 1.0 / up.glow_m2(glow, lane);
                let (x, y) = (self.right.offset_m[lane], self.up.offset_m[lane]);
                let bell = exp(-0.5 * (x * x * per_x + y * y * per_y)) * (per_x * per_y).sqrt();
                let glowing_m2 = self.sent_m2[lane] * self.image.open[lane] * glow.share;
                self.aureole[lane] += 0.5 / PI * glowing_m2 * bell;
            }
        }
    }

    /// Adds the image to the flux at every spot of the aperture, which `optic` sees, and its aureole to the columns.
    #[inline(always)]
    pub fn add(&self, aperture: &Aperture, optic: &Optic, spots: &Spots, sums: NextImage) {
        let height_m = aperture.height_m();
        if let Outline::Cylinder { diameter_m, .. } = aperture.outline {
            let mantle = Mantle::new(aperture, optic, 0.5 * diameter_m, &spots.rights);
            self.add_mantle(mantle, height_m, spots, sums);
        } else {
            self.add_grid([aperture.width_m(), height_m], spots, sums);
        }
    }

    /// On a plane of this width and height.
    #[inline(always)]
    fn add_grid(&self, size_m: [f64; 2], spots: &Spots, sums: NextImage) {
        if self.image.sun.has_aureole() {
            for column in sums.columns {
                for lane in 0..LANES {
                    column[lane] += self.aureole[lane];
                }
            }
        }
        let rows = self.reached(
            (&self.image.up, &self.up),
            &spots.ups,
            size_m[1],
            &[0.0; LANES],
        );
        let columns = self.reached(
            (&self.image.right, &self.right),
            &spots.rights,
            size_m[0],
            &[0.0; LANES],
        );
        let rights = &mut sums.rights[columns.clone()];
        for (right, column) in rights.iter_mut().zip(columns.clone()) {
            let at_m = [(spots.rights.at(column) * size_m[0]) as f32; LANES];
            *right = self.along(&self.image.right, &self.right, &at_m);
        }
        for row in rows {
            let at_m = [(spots.ups.at(row) * size_m[1]) as f32; LANES];
            let level = Level::new(self, &self.along(&self.image.up, &self.up, &at_m));
            let first = row * spots.rights.count;
            let row = &mut sums.spots[first + columns.start..first + columns.end];
            for (right, flux) in rights.iter().zip(row) {
                // Or the compiler takes eight columns abreast, gathered from afar, instead of eight suns.
                let right = black_box(right);
                *flux = level.added(right, flux);
            }
        }
    }

    /// Round a cylinder, column by column: all spots of one lie alike to the image, but for their height.
    #[inline(always)]
    fn add_mantle(&self, mut mantle: Mantle, height_m: f64, spots: &Spots, sums: NextImage) {
        let columns = spots.rights.count;
        for (column, glow) in sums.columns.iter_mut().enumerate() {
            let seen = mantle.next(self.image);
            if seen.facing.iter().all(|facing| *facing <= 0.0) {
                continue;
            }
            for lane in 0..LANES {
                glow[lane] += seen.facing[lane] * self.aureole[lane];
            }
            let right = self.along(&self.image.right, &self.right, &seen.right_m);
            let reaches = |lane: usize| right.far[lane].abs() <= REACH_SPREADS;
            if !(0..LANES).any(reaches) {
                continue;
            }
            for row in self.reached(
                (&self.image.up, &self.up),
                &spots.ups,
                height_m,
                &seen.below_m,
            ) {
                let at_m = (spots.ups.at(row) * height_m) as f32;
                let at_m = seen.below_m.map(|below_m| at_m - below_m);
                let level = Level::new(self, &self.along(&self.image.up, &self.up, &at_m));
                let flux = &mut sums.spots[row * columns + column];
                for lane in 0..LANES {
                    flux[lane] += seen.facing[lane] * level.at(&right, lane);
                }
            }
        }
    }

    /// The places along a side, `side_m` long, that light of the image reaches, if it falls so far above where its own
    /// plane has it.
    #[inline(always)]
    fn reached(
        &self,
        (axis, shape): (&ImageAxis, &Shape),
        places: &Evenly,
        side_m: f64,
        above_m: &Coarse,
    ) -> Range<usize> {
        let (mut from_m, mut to_m) = ([f32::INFINITY; LANES], [f32::NEG_INFINITY; LANES]);
        for lane in 0..LANES {
            let reach_m = REACH_SPREADS * axis.variance_m2[lane].sqrt();
            let middle_m = shape.offset_m[lane] + above_m[lane];
            let is_seen = self.core_m2[lane] > 0.0;
            from_m[lane] = if is_seen {
                middle_m - reach_m
            } else {
                from_m[lane]
            };
            to_m[lane] = if is_seen {
                middle_m + reach_m
            } else {
                to_m[lane]
            };
        }
        let ends_m = [least(from_m), -least(to_m.map(|to_m| -to_m))];
        places.within(ends_m.map(|at_m| f64::from(at_m) / side_m))
    }

    #[inline(always)]
    fn along(&self, axis: &ImageAxis, shape: &Shape, at_m: &Coarse) -> Along {
        let mut along = Along::NONE;
        if !self.is_narrow {
            for lane in 0..LANES {
                let off_m = at_m[lane] - shape.offset_m[lane];
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
    pub const NONE: Self = Self {
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
