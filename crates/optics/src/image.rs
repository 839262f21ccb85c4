//! The image of one mirror on the aperture plane: where it falls, how large the mirror's own
//! patch is, how far the beam's blur spreads it.

use field::{Plan, Stance};
use geometry::{LANES, Lane, Vec3};

use crate::aperture::Aperture;
use crate::coarse::{Coarse, CoarseVec3, array, column, dot, greater, lesser};
use crate::cover::Opening;
use crate::mirrors::Mirrors;
use crate::panel::Panel;
use crate::sun_shape::{Glow, SunBlur};

/// A ray must meet the aperture at more than asin of this to count: 0.6°.
const LEAST_FACING: f32 = 0.01;
/// Below this sin² of the incidence angle there is no plane of incidence to speak of.
const LEAST_SINE2: f32 = 1e-8;

/// The image along one direction on the aperture: an even patch blurred by a bell curve.
#[derive(Clone, Copy, Debug)]
pub(crate) struct ImageAxis {
    /// Centre of the image, from the aperture's centre.
    pub offset_m: Coarse,
    /// Width of the even patch.
    pub patch_m: Coarse,
    /// Variance of the whole, patch and blur.
    pub variance_m2: Coarse,
    /// The part of the sun's core in it.
    pub sun_m2: Coarse,
    /// What each rad² of a round spread of the beam adds.
    pub reach_m2: Coarse,
    /// Fourth cumulant of what blurs the patch: an even sun and even sides of a patch have thinner
    /// tails than a bell curve.
    pub excess_m4: Coarse,
}

/// Variance of an even stretch of width w: w² × this.
pub(crate) const EVEN_STRETCH_VARIANCE: f32 = 1.0 / 12.0;
/// Fourth cumulant of an even stretch of width w: −w⁴ × this.
pub(crate) const EVEN_STRETCH_EXCESS: f32 = 1.0 / 120.0;

/// The image of one mirror on the aperture plane.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Image {
    pub right: ImageAxis,
    pub up: ImageAxis,
    /// Covariance of right and up.
    pub shared_m2: Coarse,
    /// What the patch adds to the fourth cumulant of the squares of both: its corners lie where neither axis alone
    /// tells, unless its sides run along the axes.
    pub mixed_m4: Coarse,
    /// The aperture's width, as cast by the mirror onto the plane of the image, ÷ that width.
    pub narrowing: f32,
    /// Steps of the beam right and up for each step along the plane's normal.
    pub lean: [Coarse; 2],
    /// The part of the sun's core in the image: root of the determinant of its covariance.
    pub sun_m2: Coarse,
    /// How the sun's light is spread.
    pub sun: SunBlur,
    /// 1 where the beam comes to the aperture's open side, else 0.
    pub open: Coarse,
}

impl Image {
    /// Image of what is open of the mirror that `optic` and `panel` describe, with the beam errors that
    /// `stance` has for it at `place`.
    #[inline(always)]
    pub fn new(
        optic: &Optic,
        panel: &Panel,
        opening: &Opening,
        suns: &CoarseVec3,
        stance: &Stance,
        place: usize,
    ) -> Self {
        let mut beam = Beam::new(optic, panel, suns);
        let errors = [
            &stance.blur_in_plane_rad2[place],
            &stance.blur_across_rad2[place],
        ];
        let blur = optic.blur(&beam, panel, errors);
        let [width, height] = beam.patch(optic, panel, optic.power_per_m, optic.bent_m);
        match optic.flat_m {
            None => {
                let sides = beam.open(opening, [width, height], optic.bent_share);
                Self::of(optic, &beam, &blur, sides)
            }
            Some(flat_m) => {
                let facet = beam.patch(optic, panel, 0.0, flat_m);
                let [width, height] = beam.open(opening, [width, height], optic.bent_share);
                let [facet_width, facet_height] = beam.open(opening, facet, optic.facet_share);
                let sides = [width, height, facet_width, facet_height];
                Self::of(optic, &beam, &blur, sides)
            }
        }
    }

    /// The image whose patch has these sides (right, up), each an even stretch laid over all others.
    #[inline(always)]
    fn of<const SIDES: usize>(
        optic: &Optic,
        beam: &Beam,
        blur: &Blur,
        sides_m: [[Coarse; 2]; SIDES],
    ) -> Self {
        let (mut shared_m2, mut mixed_m4) = ([0.0; LANES], [0.0; LANES]);
        for lane in 0..LANES {
            let (mut sides_m2, mut sides_m4) = (0.0, 0.0);
            for [right_m, up_m] in &sides_m {
                let side_m2 = right_m[lane] * up_m[lane];
                sides_m2 += side_m2;
                sides_m4 += side_m2 * side_m2;
            }
            shared_m2[lane] = blur.shared_m2[lane] + sides_m2 * EVEN_STRETCH_VARIANCE;
            mixed_m4[lane] = -EVEN_STRETCH_EXCESS * sides_m4;
        }
        Self {
            right: ImageAxis::new(
                &beam.offset_m[0],
                sides_m.each_ref().map(|side_m| &side_m[0]),
                &blur.right_m2,
                &blur.reach_right_m2,
                &optic.sun,
            ),
            up: ImageAxis::new(
                &beam.offset_m[1],
                sides_m.each_ref().map(|side_m| &side_m[1]),
                &blur.up_m2,
                &blur.reach_up_m2,
                &optic.sun,
            ),
            shared_m2,
            mixed_m4,
            narrowing: optic.narrowing,
            lean: beam.lean,
            sun_m2: blur.sun_m2,
            sun: optic.sun,
            open: beam.open,
        }
    }
}

impl Image {
    /// The image of a like mirror that is set on an aim so far away.
    #[inline(always)]
    pub fn moved(&self, optic: &Optic, aim_m: Vec3) -> Self {
        let mut moved = *self;
        self.move_to(
            optic,
            aim_m,
            [&mut moved.right.offset_m, &mut moved.up.offset_m],
        );
        moved
    }

    /// Moves its middle so.
    #[inline(always)]
    pub fn move_to(&self, optic: &Optic, aim_m: Vec3, [right, up]: [&mut Coarse; 2]) {
        let [right_m, up_m, out_m] = optic.seen(aim_m);
        for lane in 0..LANES {
            right[lane] += right_m - self.lean[0][lane] * out_m;
            up[lane] += up_m - self.lean[1][lane] * out_m;
        }
    }

    /// The image along up on a plane that lies `depth_m` before its own, towards the mirror.
    #[inline(always)]
    pub fn up_before(&self, depth_m: f32) -> ImageAxis {
        let mut up = self.up;
        for lane in 0..LANES {
            up.offset_m[lane] += self.lean[1][lane] * depth_m;
        }
        up
    }
}

impl ImageAxis {
    /// Variance when the sun's core is one of the bell curves of its aureole instead.
    #[inline(always)]
    pub fn glow_m2(&self, glow: &Glow, lane: usize) -> f32 {
        self.variance_m2[lane] - self.sun_m2[lane] + glow.rad2 * self.reach_m2[lane]
    }

    /// Of the patch's sides the longest one is kept as an even patch; the others and the blur make
    /// the bell curve.
    #[inline(always)]
    fn new<const SIDES: usize>(
        offset_m: &Coarse,
        sides_m: [&Coarse; SIDES],
        blur_m2: &Coarse,
        reach_m2: &Coarse,
        sun: &SunBlur,
    ) -> Self {
        let none = [0.0; LANES];
        let (mut patch_m, mut variance_m2) = (none, none);
        let (mut sun_m2, mut excess_m4) = (none, none);
        for lane in 0..LANES {
            let (mut longest_m, mut sides_m2, mut rest_m4) = (0.0, 0.0, 0.0);
            for side_m in sides_m {
                let side_m = side_m[lane].abs();
                let rest_m = lesser(longest_m, side_m);
                let rest_m2 = rest_m * rest_m;
                longest_m = greater(longest_m, side_m);
                sides_m2 += side_m * side_m;
                rest_m4 += EVEN_STRETCH_EXCESS * rest_m2 * rest_m2;
            }
            patch_m[lane] = longest_m;
            variance_m2[lane] = blur_m2[lane] + sides_m2 * EVEN_STRETCH_VARIANCE;
            sun_m2[lane] = sun.core_rad2 * reach_m2[lane];
            excess_m4[lane] = sun.core_excess * sun_m2[lane] * sun_m2[lane] - rest_m4;
        }
        Self {
            offset_m: *offset_m,
            patch_m,
            variance_m2,
            sun_m2,
            reach_m2: *reach_m2,
            excess_m4,
        }
    }
}

/// What one mirror brings, the same under every sun.
pub(crate) struct Optic {
    /// From the mirror to the aperture's centre, on the plane of the image: right, up, normal.
    to_centre_m: [f32; 3],
    /// Right, up and normal of the plane of the image.
    axes: [[f32; 3]; 3],
    /// How far that plane lies before the aperture's centre.
    pub depth_m: f32,
    /// Distance to that plane ÷ distance to the aperture's centre, across the plane.
    narrowing: f32,
    /// 1 ÷ focal length.
    pub power_per_m: f32,
    /// Width and height of the even stretch that canting and bending draw together: the mirror's, or
    /// that of the middles of flat facets.
    bent_m: [f32; 2],
    /// The same as shares of the mirror's width and height.
    bent_share: [f32; 2],
    /// Width and height of a flat facet.
    flat_m: Option<[f32; 2]>,
    /// The same as shares of the mirror's.
    facet_share: [f32; 2],
    sun: SunBlur,
    /// Variance that the reflecting layer adds, for each axis.
    layer_rad2: f32,
    /// Variance of the normal for each axis, without gravity.
    slope_rad2: f32,
    /// Variance of the normal for each axis that gravity adds to a panel lying flat.
    gravity_rad2: f32,
}

impl Optic {
    #[inline(always)]
    pub fn new(plan: &Plan, mirror: usize, mirrors: &Mirrors, aperture: &Aperture) -> Self {
        let axes = aperture.axes_for(plan.centre_m(mirror));
        let to_centre = array(aperture.centre_m - plan.centre_m(mirror));
        let (out_m, depth_m) = (dot(to_centre, axes[2]), aperture.depth_m() as f32);
        let power_per_m = (1.0 / plan.focal_length_m[mirror]) as f32;
        let size_m = [plan.width_m[mirror] as f32, plan.height_m[mirror] as f32];
        let share = mirrors.facets.share();
        let facet_m = [size_m[0] * share[0], size_m[1] * share[1]];
        let is_flat = mirrors.facets.are_flat;
        // n middles a step apart spread as an even stretch of √(n² − 1) steps does.
        let bent_share = if is_flat {
            share.map(|share| (1.0 - share * share).sqrt())
        } else {
            [1.0; 2]
        };
        // A paraboloid's slope is r ÷ (2f): over a rectangle its mean square is
        // (width² + height²) ÷ (48 f²) for both axes together, half of it for each.
        let ideal_rad2 =
            (facet_m[0] * facet_m[0] + facet_m[1] * facet_m[1]) * power_per_m * power_per_m / 48.0;
        let bending_residual = if is_flat {
            0.0
        } else {
            mirrors.bending_residual as f32
        };
        let bending_rad2 = bending_residual * bending_residual * ideal_rad2 / 2.0;
        Self {
            to_centre_m: [
                dot(to_centre, axes[0]),
                dot(to_centre, axes[1]),
                out_m + depth_m,
            ],
            depth_m,
            narrowing: 1.0 + depth_m / out_m,
            axes,
            power_per_m,
            bent_m: [0, 1].map(|axis| size_m[axis] * bent_share[axis]),
            bent_share,
            flat_m: is_flat.then_some(facet_m),
            facet_share: share,
            sun: mirrors.sun,
            layer_rad2: (mirrors.scatter_rad * mirrors.scatter_rad) as f32,
            slope_rad2: (mirrors.slope_error_rad * mirrors.slope_error_rad) as f32 + bending_rad2,
            gravity_rad2: (mirrors.gravity_slope_rad * mirrors.gravity_slope_rad / 2.0) as f32,
        }
    }

    /// A direction in the frame of the image's plane: right, up, normal.
    pub fn seen(&self, direction: Vec3) -> [f32; 3] {
        let direction = array(direction);
        self.axes.map(|axis| dot(direction, axis))
    }

    /// Spread of the image by all that blurs a beam, on the aperture.
    ///
    /// Seen along the beam, a round spread becomes I + lean·leanᵀ there. The direction g across
    /// the beam within the plane of incidence obeys n = r·cos θ + g·sin θ, so a spread along g
    /// lies along the normal's own image ÷ sin θ. A slope error σ of the normal moves the beam by
    /// 2σ in that plane and by 2σ·cos θ across it: a round part 4σ²cos²θ and 4σ²sin²θ more along g.
    #[inline(always)]
    fn blur(&self, beam: &Beam, panel: &Panel, [in_plane_rad2, across_rad2]: [&Lane; 2]) -> Blur {
        let mut blur = Blur::default();
        for lane in 0..LANES {
            let upward = panel.normal[2][lane];
            let slope_rad2 = 4.0 * (self.slope_rad2 + self.gravity_rad2 * upward * upward);
            let cosine2 = panel.cosine[lane] * panel.cosine[lane];
            let (sun_across, sun_along) = (panel.sun_across[lane], panel.sun_along[lane]);
            let sine2 = greater(sun_across * sun_across + sun_along * sun_along, LEAST_SINE2);
            let more_rad2 = (in_plane_rad2[lane] - across_rad2[lane]) as f32 / sine2;
            let range_m2 = beam.range_m[lane] * beam.range_m[lane];
            let round_rad2 = self.sun.core_rad2
                + self.layer_rad2
                + slope_rad2 * cosine2
                + across_rad2[lane] as f32;
            let round_m2 = range_m2 * round_rad2;
            let plane_m2 = range_m2 * (slope_rad2 + more_rad2);
            let (lean_x, lean_y) = (beam.lean[0][lane], beam.lean[1][lane]);
            let (normal_x, normal_y) = (beam.normal_on[0][lane], beam.normal_on[1][lane]);
            blur.right_m2[lane] =
                round_m2 * (1.0 + lean_x * lean_x) + plane_m2 * normal_x * normal_x;
            blur.up_m2[lane] = round_m2 * (1.0 + lean_y * lean_y) + plane_m2 * normal_y * normal_y;
            blur.shared_m2[lane] = round_m2 * lean_x * lean_y + plane_m2 * normal_x * normal_y;
            blur.reach_right_m2[lane] = range_m2 * (1.0 + lean_x * lean_x);
            blur.reach_up_m2[lane] = range_m2 * (1.0 + lean_y * lean_y);
            blur.sun_m2[lane] =
                self.sun.core_rad2 * range_m2 * (1.0 + lean_x * lean_x + lean_y * lean_y).sqrt();
        }
        blur
    }
}

/// Covariance of the blur on the aperture.
#[derive(Default)]
struct Blur {
    right_m2: Coarse,
    up_m2: Coarse,
    shared_m2: Coarse,
    reach_right_m2: Coarse,
    reach_up_m2: Coarse,
    sun_m2: Coarse,
}

/// The central reflected ray, in the aperture's own frame.
struct Beam {
    /// Steps right and up for each step along the aperture's normal.
    lean: [Coarse; 2],
    /// Length of the ray to the aperture plane.
    range_m: Coarse,
    /// The mirror's normal, seen along the beam on the aperture plane: right, up.
    normal_on: [Coarse; 2],
    /// Where the ray meets the plane, from the aperture's centre: right, up.
    offset_m: [Coarse; 2],
    /// Cosine of the incidence angle.
    cosine: Coarse,
    open: Coarse,
}

impl Beam {
    #[inline(always)]
    fn new(optic: &Optic, panel: &Panel, suns: &CoarseVec3) -> Self {
        let [right, up, out] = optic.axes;
        let none = [0.0; LANES];
        let mut beam = Self {
            lean: [none; 2],
            range_m: none,
            normal_on: [none; 2],
            offset_m: [none; 2],
            cosine: panel.cosine,
            open: none,
        };
        for lane in 0..LANES {
            let (n, s) = (column(&panel.normal, lane), column(suns, lane));
            let twice = 2.0 * panel.cosine[lane];
            let (n_right, n_up, n_out) = (dot(n, right), dot(n, up), dot(n, out));
            let r_out = twice * n_out - dot(s, out);
            let open = r_out < -LEAST_FACING;
            let toward = if open { r_out } else { -LEAST_FACING };
            let inverse = 1.0 / toward;
            let lean_right = inverse * (twice * n_right - dot(s, right));
            let lean_up = inverse * (twice * n_up - dot(s, up));
            beam.open[lane] = if open { 1.0 } else { 0.0 };
            beam.lean[0][lane] = lean_right;
            beam.lean[1][lane] = lean_up;
            beam.range_m[lane] = inverse * optic.to_centre_m[2];
            beam.normal_on[0][lane] = n_right - lean_right * n_out;
            beam.normal_on[1][lane] = n_up - lean_up * n_out;
            beam.offset_m[0][lane] = optic.to_centre_m[2] * lean_right - optic.to_centre_m[0];
            beam.offset_m[1][lane] = optic.to_centre_m[2] * lean_up - optic.to_centre_m[1];
        }
        beam
    }

    /// Keeps of the images of sides, as long as these shares of the panel's, what light from the opening makes,
    /// and moves the image to where its middle then falls.
    #[inline(always)]
    fn open(
        &mut self,
        opening: &Opening,
        mut sides_m: [[Coarse; 2]; 2],
        share: [f32; 2],
    ) -> [[Coarse; 2]; 2] {
        for (side, ends_m) in sides_m.iter_mut().enumerate() {
            for (axis, end_m) in ends_m.iter_mut().enumerate() {
                for lane in 0..LANES {
                    self.offset_m[axis][lane] +=
                        share[side] * opening.middle[side][lane] * end_m[lane];
                    end_m[lane] *= opening.stretch[side][lane];
                }
            }
        }
        sides_m
    }

    /// Images of the width and the height of something in the panel's plane that is `size_m` wide and
    /// high and bent to a focal length of 1 ÷ `power_per_m`: each right, up.
    #[inline(always)]
    fn patch(
        &self,
        optic: &Optic,
        panel: &Panel,
        power_per_m: f32,
        size_m: [f32; 2],
    ) -> [[Coarse; 2]; 2] {
        let axes = &optic.axes;
        [
            self.patch_side(
                axes,
                &panel.across,
                &panel.sun_across,
                power_per_m,
                size_m[0],
            ),
            self.patch_side(axes, &panel.along, &panel.sun_along, power_per_m, size_m[1]),
        ]
    }

    /// Image of one side (unit vector `edge`, along which the sun stands at `sun_along`): right, up.
    ///
    /// A spot p of the panel has its normal turned by −p/(2f), which moves its ray's end by
    /// −range·(p·cos θ + n·(s·p))/f; its image is p and that, seen along the beam. In the plane of
    /// incidence this is D·|L/f − cos θ|, across it D·|L·cos θ/f − 1| (Igel & Hughes, Solar
    /// Energy 22 (1979) 283–295).
    #[inline(always)]
    fn patch_side(
        &self,
        &[right, up, out]: &[[f32; 3]; 3],
        edge: &CoarseVec3,
        sun_along: &Coarse,
        power_per_m: f32,
        length_m: f32,
    ) -> [Coarse; 2] {
        let mut side = [[0.0; LANES]; 2];
        for lane in 0..LANES {
            let edge = column(edge, lane);
            let bend = self.range_m[lane] * power_per_m;
            let kept = length_m * (1.0 - bend * self.cosine[lane]);
            let shear = length_m * bend * sun_along[lane];
            let edge_out = dot(edge, out);
            let on_right = dot(edge, right) - self.lean[0][lane] * edge_out;
            let on_up = dot(edge, up) - self.lean[1][lane] * edge_out;
            side[0][lane] = kept * on_right - shear * self.normal_on[0][lane];
            side[1][lane] = kept * on_up - shear * self.normal_on[1][lane];
        }
        side
    }
}

#[cfg(test)]
mod tests;
