//! How one panel lies under eight suns: its frame and the incidence angle.

use geometry::{LANES, Lane, LaneVec3, Vec3};

/// The frame of one panel under eight suns.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Panel {
    /// Unit normal.
    pub normal: LaneVec3,
    /// Unit vector along the width: the carried edge, laid into the panel's plane.
    pub across: LaneVec3,
    /// Unit vector along the height.
    pub along: LaneVec3,
    /// Cosine of the incidence angle; nothing if the sun is behind the panel.
    pub cosine: Lane,
    /// The sun's direction, along `across`.
    pub sun_across: Lane,
    /// The sun's direction, along `along`.
    pub sun_along: Lane,
}

impl Panel {
    pub fn new(normal: &LaneVec3, width_edge: &LaneVec3, suns: &LaneVec3) -> Self {
        let mut panel = Self {
            normal: *normal,
            across: [[0.0; LANES]; 3],
            along: [[0.0; LANES]; 3],
            cosine: [0.0; LANES],
            sun_across: [0.0; LANES],
            sun_along: [0.0; LANES],
        };
        for lane in 0..LANES {
            let n = [normal[0][lane], normal[1][lane], normal[2][lane]];
            let s = [suns[0][lane], suns[1][lane], suns[2][lane]];
            let edge = [
                width_edge[0][lane],
                width_edge[1][lane],
                width_edge[2][lane],
            ];
            let out = dot(edge, n);
            let flat = [
                edge[0] - out * n[0],
                edge[1] - out * n[1],
                edge[2] - out * n[2],
            ];
            let shrink = 1.0 / dot(flat, flat).sqrt();
            let u = [flat[0] * shrink, flat[1] * shrink, flat[2] * shrink];
            let v = cross(n, u);
            let cosine = dot(s, n);
            panel.cosine[lane] = if cosine > 0.0 { cosine } else { 0.0 };
            panel.sun_across[lane] = dot(s, u);
            panel.sun_along[lane] = dot(s, v);
            for axis in 0..3 {
                panel.across[axis][lane] = u[axis];
                panel.along[axis][lane] = v[axis];
            }
        }
        panel
    }
}

#[inline(always)]
pub(crate) fn dot(a: [f64; 3], b: [f64; 3]) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

#[inline(always)]
pub(crate) fn cross(a: [f64; 3], b: [f64; 3]) -> [f64; 3] {
    [
        a[1] * b[2] - a[2] * b[1],
        a[2] * b[0] - a[0] * b[2],
        a[0] * b[1] - a[1] * b[0],
    ]
}

/// `vector` as an array.
pub(crate) fn array(vector: Vec3) -> [f64; 3] {
    [vector.x, vector.y, vector.z]
}

/// The vector that column `lane` of `vectors` holds.
#[inline(always)]
pub(crate) fn column(vectors: &LaneVec3, lane: usize) -> [f64; 3] {
    [vectors[0][lane], vectors[1][lane], vectors[2][lane]]
}

// Plain comparisons: `f64::max` and `f64::min` also sort out NaN, which costs three times as much.

#[inline(always)]
pub(crate) fn greater(a: f64, b: f64) -> f64 {
    if a > b { a } else { b }
}

#[inline(always)]
pub(crate) fn lesser(a: f64, b: f64) -> f64 {
    if a < b { a } else { b }
}
