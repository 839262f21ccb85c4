//! What is the same for all rays of one mirror.

use field::Plan;
use geometry::{LANES, Lane, LaneVec3, Vec3, lane::set_vector};

use crate::draw::MOST_BELL;
use crate::panel::Panel;
use crate::scene::{Posture, Surface};
use crate::shape::STEEPEST;

/// A mirror as it stands under the sun.
pub(crate) struct Mirror {
    pub panel: Panel,
    pub area_m2: f64,
    facets: [f64; 2],
    curvature_per_m: f64,
    half_facet_m: f64,
    /// Directions in the panel's plane, in and across the plane of incidence, each as long as the
    /// standard deviation of the normal that way [rad].
    errors: [Vec3; 2],
}

impl Mirror {
    pub fn new(
        plan: &Plan,
        posture: &Posture,
        surface: &Surface,
        panel: Panel,
        index: usize,
    ) -> Self {
        let cosine = posture.sun.dot(panel.normal).max(0.01);
        let aside = posture.sun - posture.sun.dot(panel.normal) * panel.normal;
        let in_plane = aside.try_normalize().unwrap_or(panel.across);
        let across = panel.normal.cross(in_plane);
        let slope_rad2 = surface.slope_error_rad * surface.slope_error_rad;
        let scatter_rad2 = surface.scatter_rad * surface.scatter_rad;
        // A turn of the normal moves the beam twice as far in the plane of incidence and
        // 2·cosine as far across it; of independent bell curves variances add.
        let in_plane_rad2 = slope_rad2 + (posture.blur_in_plane_rad2[index] + scatter_rad2) / 4.0;
        let across_rad2 =
            slope_rad2 + (posture.blur_across_rad2[index] + scatter_rad2) / (4.0 * cosine * cosine);
        let area_m2 = plan.area_m2(index);
        let [columns, rows] = surface.facets;
        let facet_m2 = area_m2 / (columns * rows) as f64;
        Self {
            panel,
            area_m2,
            facets: [columns as f64, rows as f64],
            curvature_per_m: 0.5 / plan.focal_length_m[index],
            half_facet_m: 0.5 * facet_m2.sqrt(),
            errors: [in_plane_rad2.sqrt() * in_plane, across_rad2.sqrt() * across],
        }
    }

    /// Slope of the surface at its steepest, canting and bending together.
    fn steepest(&self) -> f64 {
        STEEPEST * self.curvature_per_m * self.panel.half_diagonal_m()
    }

    /// How far from its plane the surface lies, at most [m].
    pub fn most_sag_m(&self) -> f64 {
        self.steepest() * self.panel.half_diagonal_m()
    }

    /// How far its normal comes from the panel's, at most [rad].
    pub fn most_turn_rad(&self) -> f64 {
        let most_error = self.errors[0].length().max(self.errors[1].length());
        self.steepest() + MOST_BELL * most_error
    }

    /// Spots of the panel's facets at `share` (−½ … ½) of its width and height, from the panel's centre, and
    /// their normals, so long that their product with a ray's direction is the light caught by each m² of the
    /// panel's plane.
    #[inline(always)]
    pub fn spots(&self, surface: &Surface, share: &[Lane; 2]) -> (LaneVec3, LaneVec3) {
        let mut at_m = [[0.0; LANES]; 2];
        let mut off_m = [[0.0; LANES]; 2];
        for axis in 0..2 {
            let (whole_m, facets) = (2.0 * self.panel.half_m[axis], self.facets[axis]);
            let facet = 1.0 / facets;
            for lane in 0..LANES {
                let share = share[axis][lane];
                let from_edge = ((share + 0.5) * facets).floor().min(facets - 1.0);
                let middle = (from_edge + 0.5) * facet - 0.5;
                at_m[axis][lane] = whole_m * share;
                off_m[axis][lane] = whole_m * (share - middle);
            }
        }
        let facet = surface
            .shape
            .bend(&off_m, self.curvature_per_m, self.half_facet_m);
        let panel = &self.panel;
        let mut spots = ([[0.0; LANES]; 3], [[0.0; LANES]; 3]);
        for lane in 0..LANES {
            let canted =
                [0, 1].map(|axis| self.curvature_per_m * (at_m[axis][lane] - off_m[axis][lane]));
            let height_m =
                facet.height_m[lane] + canted[0] * off_m[0][lane] + canted[1] * off_m[1][lane];
            let slope = [
                facet.slope[0][lane] + canted[0],
                facet.slope[1][lane] + canted[1],
            ];
            let spot_m = at_m[0][lane] * panel.across
                + at_m[1][lane] * panel.along
                + height_m * panel.normal;
            let leaning = panel.normal - slope[0] * panel.across - slope[1] * panel.along;
            set_vector(&mut spots.0, lane, spot_m);
            set_vector(&mut spots.1, lane, leaning);
        }
        spots
    }

    /// The normal where the surface leans so, turned by this much of its standard errors.
    #[inline(always)]
    pub fn turned(&self, leaning: Vec3, errors: [f64; 2]) -> Vec3 {
        (leaning + errors[0] * self.errors[0] + errors[1] * self.errors[1]).normalize()
    }
}
