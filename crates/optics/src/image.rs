//! The image of one mirror on the aperture plane: where it falls, how large the mirror's own
//! patch is, how far the beam's blur spreads it.

use field::{Plan, Stance};
use geometry::{LANES, Lane, LaneVec3};

use crate::aperture::Aperture;
use crate::mirrors::Mirrors;
use crate::panel::{Panel, array, dot};

/// A ray must meet the aperture at more than asin of this to count: 0.6°.
const LEAST_FACING: f64 = 0.01;

/// The image along the aperture's right and up, which is an even patch blurred by a bell curve.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Image {
    /// Centre, from the aperture's centre: right, up.
    pub offset_m: [Lane; 2],
    /// Width of the even patch: right, up.
    pub patch_m: [Lane; 2],
    /// Variance of what blurs the patch: right, up.
    pub blur_m2: [Lane; 2],
    /// Covariance of right and up, patch and blur together.
    pub shared_m2: Lane,
    /// The sun's own part of the image: root of the determinant of its covariance.
    pub sun_m2: Lane,
    /// 1 where the beam comes to the aperture's open side, else 0.
    pub open: Lane,
}

/// What one mirror brings, the same under every sun.
struct Optic {
    /// From the mirror to the aperture's centre: right, up, normal.
    to_centre_m: [f64; 3],
    /// 1 ÷ focal length.
    power_per_m: f64,
    size_m: [f64; 2],
    /// Variance of the normal for each axis, without gravity.
    slope_rad2: f64,
    /// Variance of the normal for each axis that gravity adds to a panel lying flat.
    gravity_rad2: f64,
}

impl Optic {
    fn new(plan: &Plan, mirror: usize, mirrors: &Mirrors, aperture: &Aperture) -> Self {
        let to_centre = aperture.centre_m - plan.centre_m(mirror);
        let power_per_m = 1.0 / plan.focal_length_m[mirror];
        let size_m = [plan.width_m[mirror], plan.height_m[mirror]];
        // A paraboloid's slope is r ÷ (2f): over a rectangle its mean square is
        // (width² + height²) ÷ (48 f²) for both axes together, half of it for each.
        let ideal_rad2 =
            (size_m[0] * size_m[0] + size_m[1] * size_m[1]) * power_per_m * power_per_m / 48.0;
        let bending_rad2 = mirrors.bending_residual * mirrors.bending_residual * ideal_rad2 / 2.0;
        Self {
            to_centre_m: [
                to_centre.dot(aperture.right),
                to_centre.dot(aperture.up),
                to_centre.dot(aperture.normal),
            ],
            power_per_m,
            size_m,
            slope_rad2: mirrors.slope_error_rad * mirrors.slope_error_rad + bending_rad2,
            gravity_rad2: mirrors.gravity_slope_rad * mirrors.gravity_slope_rad / 2.0,
        }
    }
}

impl Image {
    /// Image of mirror `mirror` of the plan, the `place`-th of its string.
    #[allow(clippy::too_many_arguments)]
    pub fn new(
        plan: &Plan,
        mirror: usize,
        mirrors: &Mirrors,
        aperture: &Aperture,
        suns: &LaneVec3,
        panel: &Panel,
        stance: &Stance,
        place: usize,
    ) -> Self {
        let optic = Optic::new(plan, mirror, mirrors, aperture);
        let axes = [
            array(aperture.right),
            array(aperture.up),
            array(aperture.normal),
        ];
        let sun_rad2 = mirrors.sun_shape_rad * mirrors.sun_shape_rad;
        let layer_rad2 = sun_rad2 + mirrors.scatter_rad * mirrors.scatter_rad;
        let in_plane_rad2 = &stance.blur_in_plane_rad2[place];
        let across_rad2 = &stance.blur_across_rad2[place];
        let mut image = Self::blank();
        for lane in 0..LANES {
            let n = [
                panel.normal[0][lane],
                panel.normal[1][lane],
                panel.normal[2][lane],
            ];
            let s = [suns[0][lane], suns[1][lane], suns[2][lane]];
            let cosine = panel.cosine[lane];
            // Everything from here on in the aperture's own frame: right, up, normal.
            let n_in = [dot(n, axes[0]), dot(n, axes[1]), dot(n, axes[2])];
            let s_in = [dot(s, axes[0]), dot(s, axes[1]), dot(s, axes[2])];
            let r = [
                2.0 * cosine * n_in[0] - s_in[0],
                2.0 * cosine * n_in[1] - s_in[1],
                2.0 * cosine * n_in[2] - s_in[2],
            ];
            let open = r[2] < -LEAST_FACING;
            let facing = if open { r[2] } else { -LEAST_FACING };
            let lean = [r[0] / facing, r[1] / facing];
            let range_m = optic.to_centre_m[2] / facing;
            image.open[lane] = if open { 1.0 } else { 0.0 };
            image.offset_m[0][lane] = range_m * r[0] - optic.to_centre_m[0];
            image.offset_m[1][lane] = range_m * r[1] - optic.to_centre_m[1];

            // Blur. Seen along the beam, a round spread becomes I + lean·leanᵀ on the aperture; a
            // spread in the plane of incidence lies along the normal's image, as n = r·cos + g·sin.
            let normal_on = [n_in[0] - lean[0] * n_in[2], n_in[1] - lean[1] * n_in[2]];
            let slope_rad2 = optic.slope_rad2 + optic.gravity_rad2 * n[2] * n[2];
            let sine2 = 1.0 - cosine * cosine;
            let sine2 = if sine2 > 1e-9 { sine2 } else { 1e-9 };
            let range2_m2 = range_m * range_m;
            let round_m2 =
                range2_m2 * (layer_rad2 + 4.0 * slope_rad2 * cosine * cosine + across_rad2[lane]);
            let plane_m2 =
                range2_m2 * (4.0 * slope_rad2 + (in_plane_rad2[lane] - across_rad2[lane]) / sine2);
            let blur_right =
                round_m2 * (1.0 + lean[0] * lean[0]) + plane_m2 * normal_on[0] * normal_on[0];
            let blur_up =
                round_m2 * (1.0 + lean[1] * lean[1]) + plane_m2 * normal_on[1] * normal_on[1];
            let blur_shared = round_m2 * lean[0] * lean[1] + plane_m2 * normal_on[0] * normal_on[1];
            let lean2 = lean[0] * lean[0] + lean[1] * lean[1];
            image.sun_m2[lane] = range2_m2 * sun_rad2 * (1.0 + lean2).sqrt();

            // Patch. A spot p of the panel turns the normal by −p/(2f) and so moves the ray on the
            // aperture by p·(1 − range·cos/f) − n·range·(s·p)/f, seen along the beam.
            let squeeze = 1.0 - range_m * cosine * optic.power_per_m;
            let shear = range_m * optic.power_per_m;
            let u = [
                panel.across[0][lane],
                panel.across[1][lane],
                panel.across[2][lane],
            ];
            let v = [
                panel.along[0][lane],
                panel.along[1][lane],
                panel.along[2][lane],
            ];
            let u_out = dot(u, axes[2]);
            let v_out = dot(v, axes[2]);
            let u_shear = shear * panel.sun_across[lane];
            let v_shear = shear * panel.sun_along[lane];
            let width = [
                optic.size_m[0]
                    * (squeeze * (dot(u, axes[0]) - lean[0] * u_out) - u_shear * normal_on[0]),
                optic.size_m[0]
                    * (squeeze * (dot(u, axes[1]) - lean[1] * u_out) - u_shear * normal_on[1]),
            ];
            let height = [
                optic.size_m[1]
                    * (squeeze * (dot(v, axes[0]) - lean[0] * v_out) - v_shear * normal_on[0]),
                optic.size_m[1]
                    * (squeeze * (dot(v, axes[1]) - lean[1] * v_out) - v_shear * normal_on[1]),
            ];
            let (patch_right, rest_right) = larger_first(width[0].abs(), height[0].abs());
            let (patch_up, rest_up) = larger_first(width[1].abs(), height[1].abs());
            image.patch_m[0][lane] = patch_right;
            image.patch_m[1][lane] = patch_up;
            image.blur_m2[0][lane] = blur_right + rest_right * rest_right / 12.0;
            image.blur_m2[1][lane] = blur_up + rest_up * rest_up / 12.0;
            image.shared_m2[lane] =
                blur_shared + (width[0] * width[1] + height[0] * height[1]) / 12.0;
        }
        image
    }

    fn blank() -> Self {
        let none = [0.0; LANES];
        Self {
            offset_m: [none; 2],
            patch_m: [none; 2],
            blur_m2: [none; 2],
            shared_m2: none,
            sun_m2: none,
            open: none,
        }
    }
}

#[inline(always)]
fn larger_first(a: f64, b: f64) -> (f64, f64) {
    if a > b { (a, b) } else { (b, a) }
}
