//! What is traced: how the mirrors stand and what their glass does.

use field::{Plan, Stance};
use geometry::{Vec3, lane};

use crate::error::RaysError;
use crate::shape::Shape;

/// How far a vector's length may be from 1.
const UNIT_SLACK: f64 = 1e-6;
/// Least sine between a panel's edge and its normal.
const LEAST_EDGE: f64 = 1e-6;

/// How every mirror of a plan stands under one sun; columns in the plan's order.
#[derive(Clone, Debug, PartialEq)]
pub struct Posture {
    /// Unit vector to the middle of the sun.
    pub sun: Vec3,
    /// Unit normal of each mirror, towards its glass.
    pub normals: Vec<Vec3>,
    /// Unit vector along each panel's width; what of it runs along the normal is left out.
    pub width_edges: Vec<Vec3>,
    /// Variance of each mirror's random beam error in the plane of incidence [rad²]; drawn anew
    /// for every ray, as the mean over a year has it.
    pub blur_in_plane_rad2: Vec<f64>,
    /// The same across the plane of incidence [rad²].
    pub blur_across_rad2: Vec<f64>,
}

/// What all panels have in common.
#[derive(Clone, Copy)]
pub struct Surface<'a> {
    /// The facets of each panel: so many along its width, so many along its height. Each is canted
    /// about its middle as the paraboloid of the panel's focal length lies there.
    pub facets: [usize; 2],
    /// The surface that each facet is bent to.
    pub shape: Shape,
    /// Standard deviation of the slope about each axis, drawn for every ray [rad].
    pub slope_error_rad: f64,
    /// Standard deviation about each axis by which the layer spreads the beam [rad], drawn together with the
    /// beam's other errors, as one bell curve.
    pub scatter_rad: f64,
    /// Share of light reflected, for the cosine of a ray's own incidence angle.
    pub reflectance: &'a (dyn Fn(f64) -> f64 + Sync),
    /// Share of light left after a way through the air [m].
    pub transmittance: &'a (dyn Fn(f64) -> f64 + Sync),
}

impl Posture {
    /// No mirrors yet, under a sun.
    #[must_use]
    pub const fn under(sun: Vec3) -> Self {
        Self {
            sun,
            normals: Vec::new(),
            width_edges: Vec::new(),
            blur_in_plane_rad2: Vec::new(),
            blur_across_rad2: Vec::new(),
        }
    }

    /// The mirrors of the plan's next string, as they stand under one of a block's suns.
    pub fn add(&mut self, stance: &Stance, sun: usize) {
        let width_edge = lane::vector(&stance.width_edge, sun);
        for place in 0..stance.normals.len() {
            self.normals.push(lane::vector(&stance.normals[place], sun));
            self.width_edges.push(width_edge);
            self.blur_in_plane_rad2
                .push(stance.blur_in_plane_rad2[place][sun]);
            self.blur_across_rad2
                .push(stance.blur_across_rad2[place][sun]);
        }
    }

    pub(crate) fn check(&self, plan: &Plan) -> Result<(), RaysError> {
        let mirrors = plan.mirror_count();
        if mirrors == 0 {
            return Err(RaysError::NoMirrors);
        }
        for (column, length) in [
            ("normals", self.normals.len()),
            ("width edges", self.width_edges.len()),
            (
                "blur in the plane of incidence",
                self.blur_in_plane_rad2.len(),
            ),
            (
                "blur across the plane of incidence",
                self.blur_across_rad2.len(),
            ),
        ] {
            if length != mirrors {
                return Err(RaysError::ColumnLength {
                    column,
                    length,
                    mirrors,
                });
            }
        }
        check_unit("sun's direction", self.sun)?;
        if self.sun.z <= 0.0 {
            return Err(RaysError::SunDown { up: self.sun.z });
        }
        for (mirror, (&normal, &edge)) in self.normals.iter().zip(&self.width_edges).enumerate() {
            check_unit("normal of a mirror", normal)?;
            if edge.cross(normal).length() < LEAST_EDGE {
                return Err(RaysError::EdgeAlongNormal { mirror });
            }
        }
        Ok(())
    }
}

pub(crate) fn check_unit(what: &'static str, vector: Vec3) -> Result<(), RaysError> {
    let length = vector.length();
    if (length - 1.0).abs() <= UNIT_SLACK {
        Ok(())
    } else {
        Err(RaysError::NotUnit { what, length })
    }
}
