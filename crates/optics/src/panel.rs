//! How one panel lies under eight suns: its frame and the incidence angle.

use geometry::LANES;

use crate::coarse::{Coarse, CoarseVec3, cross, dot};

/// The frame of one panel under eight suns.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Panel {
    /// Unit normal.
    pub normal: CoarseVec3,
    /// Unit vector along the width: the carried edge, laid into the panel's plane.
    pub across: CoarseVec3,
    /// Unit vector along the height.
    pub along: CoarseVec3,
    /// Cosine of the incidence angle; nothing if the sun is behind the panel.
    pub cosine: Coarse,
    /// The sun's direction, along `across`.
    pub sun_across: Coarse,
    /// The sun's direction, along `along`.
    pub sun_along: Coarse,
}

impl Panel {
    #[inline(always)]
    pub fn new(normal: &CoarseVec3, width_edge: &CoarseVec3, suns: &CoarseVec3) -> Self {
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
