//! Lever lengths graded along a string so that its mirrors follow the year's suns best.

use field::{Plan, StringRow};
use geometry::Vec3;

use crate::frame::Turn;
use crate::mount::Mount;
use crate::reflection::normal_between;

/// Declinations and hour angles of the suns that levers are graded for [deg].
const DECLINATIONS_DEG: [f64; 3] = [-20.0, 0.0, 20.0];
const HOUR_ANGLES_DEG: [f64; 7] = [-75.0, -50.0, -25.0, 0.0, 25.0, 50.0, 75.0];
/// They stand higher than this: 10°.
const LEAST_SINE: f64 = 0.174;

/// Keeps a fit sound where an axis hardly turns all year.
const DAMPING: f64 = 1e-9;

/// Grades levers for the suns of a latitude.
#[derive(Clone, Debug)]
pub(crate) struct Gains {
    suns: Vec<Vec3>,
}

impl Gains {
    /// The suns of a year at a latitude, on a sphere.
    pub fn at_latitude(latitude_rad: f64) -> Self {
        let (sin_latitude, cos_latitude) = libm::sincos(latitude_rad);
        let sun = |declination_deg: f64, hour_angle_deg: f64| {
            let (sin_declination, cos_declination) = libm::sincos(declination_deg.to_radians());
            let (sin_hour, cos_hour) = libm::sincos(hour_angle_deg.to_radians());
            Vec3::new(
                -cos_declination * sin_hour,
                sin_declination * cos_latitude - cos_declination * cos_hour * sin_latitude,
                sin_declination * sin_latitude + cos_declination * cos_hour * cos_latitude,
            )
        };
        let suns = DECLINATIONS_DEG.into_iter().flat_map(|declination_deg| {
            HOUR_ANGLES_DEG.map(|hour_angle_deg| sun(declination_deg, hour_angle_deg))
        });
        Self {
            suns: suns.filter(|sun| sun.z > LEAST_SINE).collect(),
        }
    }

    /// Gains on the two axes for every mirror of a string. Those of its two end mirrors are fitted;
    /// between them and the reference mirror gains follow straight lines, as the needed turns do to
    /// first order in the distance.
    pub fn along<'a>(
        &self,
        plan: &'a Plan,
        row: &'a StringRow,
        mount: &Mount,
        alignment_sun: Vec3,
    ) -> impl Iterator<Item = [f64; 2]> + use<'a> {
        let reference = row.reference_mirror();
        let last = row.first_mirror + row.mirror_count - 1;
        let slope = |end: usize| {
            let places = (end as f64 - reference as f64).abs().max(1.0);
            let gain = self.fitted(mount, alignment_sun, plan.target(end));
            gain.map(|gain| (gain - 1.0) / places)
        };
        let (before, after) = (slope(row.first_mirror), slope(last));
        row.mirrors().map(move |mirror| {
            let places = mirror as f64 - reference as f64;
            let slope = if places < 0.0 { before } else { after };
            slope.map(|slope| 1.0 + slope * places.abs())
        })
    }

    /// Gains with which a mirror with this target comes nearest to what it should do, in the sense
    /// of least squares over the suns. A turn about the first axis moves the normal by the cosine
    /// of the second turn only.
    fn fitted(&self, mount: &Mount, alignment_sun: Vec3, target: Vec3) -> [f64; 2] {
        let turn = |target: Vec3, sun: Vec3| mount.base().turn_onto(normal_between(sun, target));
        let since = |target: Vec3, sun: Vec3| turn(target, sun).less(&turn(target, alignment_sun));
        let mut products = [0.0; 2];
        let mut squares = [DAMPING; 2];
        for &sun in &self.suns {
            let weights = [squared(turn(mount.target, sun).cos_second), 1.0];
            let led = sines(since(mount.target, sun));
            let wanted = sines(since(target, sun));
            for axis in 0..2 {
                products[axis] += weights[axis] * led[axis] * (wanted[axis] - led[axis]);
                squares[axis] += weights[axis] * led[axis] * led[axis];
            }
        }
        [0, 1].map(|axis| 1.0 + products[axis] / squares[axis])
    }
}

const fn sines(turn: Turn) -> [f64; 2] {
    [turn.sin_first, turn.sin_second]
}

const fn squared(value: f64) -> f64 {
    value * value
}
