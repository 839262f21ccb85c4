//! Panels as they stand when each keeps its own orientation.

use field::Plan;
use geometry::Vec3;

use super::{carried_edge, ideal_normal};

/// A panel as it stands under one sun.
pub struct Standing {
    pub centre: Vec3,
    pub normal: Vec3,
    pub across: Vec3,
    pub along: Vec3,
    pub half_m: f64,
}

impl Standing {
    pub fn all(plan: &Plan, sun: Vec3) -> Vec<Self> {
        let mut panels = Vec::new();
        for (string, row) in plan.strings.iter().enumerate() {
            let edge = carried_edge(plan, string, sun);
            for mirror in row.mirrors() {
                let normal = ideal_normal(plan, mirror, sun);
                let across = (edge - edge.dot(normal) * normal).normalize();
                panels.push(Self {
                    centre: plan.centre_m(mirror),
                    normal,
                    across,
                    along: normal.cross(across),
                    half_m: 0.5 * plan.width_m[mirror],
                });
            }
        }
        panels
    }
}
