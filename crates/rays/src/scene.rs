//! What is traced: how the mirrors stand, what their glass does, where the light should go.

use field::Plan;
use geometry::Vec3;

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
    /// The surface they are bent to.
    pub shape: Shape,
    /// Standard deviation of the slope about each axis, drawn for every ray [rad].
    pub slope_error_rad: f64,
    /// Standard deviation about each axis by which the layer spreads the beam [rad].
    pub scatter_rad: f64,
    /// Share of light reflected, for the cosine of a ray's own incidence angle.
    pub reflectance: &'a (dyn Fn(f64) -> f64 + Sync),
    /// Share of light left after a way through the air [m].
    pub transmittance: &'a (dyn Fn(f64) -> f64 + Sync),
}

/// A flat rectangular opening with a flux map. `normal`, `right` and `up` are unit vectors,
/// square to one another; light counts that comes against `normal`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Aperture {
    /// Centre of the rectangle.
    pub centre_m: Vec3,
    /// Outward, towards the field.
    pub normal: Vec3,
    /// Along the width.
    pub right: Vec3,
    /// Along the height.
    pub up: Vec3,
    /// Extent along `right`.
    pub width_m: f64,
    /// Extent along `up`.
    pub height_m: f64,
    /// Parts of the flux map along `right`.
    pub columns: usize,
    /// Parts of the flux map along `up`.
    pub rows: usize,
}

impl Posture {
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

impl Aperture {
    pub(crate) fn check(&self) -> Result<(), RaysError> {
        let Self {
            width_m,
            height_m,
            columns,
            rows,
            ..
        } = *self;
        let has_area = width_m > 0.0 && height_m > 0.0;
        if !has_area || columns == 0 || rows == 0 {
            return Err(RaysError::EmptyAperture {
                width_m,
                height_m,
                columns,
                rows,
            });
        }
        check_unit("aperture's normal", self.normal)?;
        check_unit("aperture's right", self.right)?;
        check_unit("aperture's up", self.up)
    }

    /// Area of one part of the flux map [m²].
    pub(crate) fn part_m2(&self) -> f64 {
        self.width_m * self.height_m / (self.columns * self.rows) as f64
    }

    /// How far along a ray its plane lies, if the ray comes to the open side [m].
    #[inline]
    pub(crate) fn distance_m(&self, origin_m: Vec3, direction: Vec3) -> Option<f64> {
        let closing = -direction.dot(self.normal);
        let ahead_m = (origin_m - self.centre_m).dot(self.normal);
        (closing > 0.0 && ahead_m > 0.0).then(|| ahead_m / closing)
    }

    /// The part of the flux map in which a point of its plane lies.
    #[inline]
    pub(crate) fn part(&self, point_m: Vec3) -> Option<usize> {
        let off = point_m - self.centre_m;
        let right = off.dot(self.right) / self.width_m + 0.5;
        let up = off.dot(self.up) / self.height_m + 0.5;
        let inside = (0.0..1.0).contains(&right) && (0.0..1.0).contains(&up);
        inside.then(|| {
            let column = (right * self.columns as f64) as usize;
            let row = (up * self.rows as f64) as usize;
            row * self.columns + column
        })
    }
}

fn check_unit(what: &'static str, vector: Vec3) -> Result<(), RaysError> {
    let length = vector.length();
    if (length - 1.0).abs() <= UNIT_SLACK {
        Ok(())
    } else {
        Err(RaysError::NotUnit { what, length })
    }
}
