//! Panels sorted into square columns over the ground, and the panels that a bundle of rays may meet.

use geometry::Vec3;

use crate::panel::{Panel, square_to};

/// At most so many cells for each panel; larger fields get wider cells.
const CELLS_PER_PANEL: f64 = 8.0;
/// Least level part of an axis, for the length of a step along it.
const LEAST_LEVEL: f64 = 0.05;

/// Upright square cells; each knows the panels that stand over it, whole or in part.
#[derive(Clone, Debug)]
pub(crate) struct Grid {
    west_m: f64,
    south_m: f64,
    cells_per_m: f64,
    columns: i64,
    rows: i64,
    /// Where each cell's panels begin in `members`; one more than there are cells.
    first: Vec<u32>,
    members: Vec<u32>,
    /// Highest and lowest point of the panels over each cell.
    top_m: Vec<f64>,
    bottom_m: Vec<f64>,
    highest_m: f64,
    lowest_m: f64,
    /// From corner to corner of the box around all panels.
    diagonal_m: f64,
}

/// All rays that may leave a panel one way: up to so far from an axis.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Cone {
    /// Unit vector in its middle.
    pub axis: Vec3,
    /// Tangent of the angle between axis and mantle.
    pub spread: f64,
    /// How far from the panel's plane the rays begin, at most [m].
    pub sag_m: f64,
}

/// Extents of a panel's surroundings: in the way that a cone goes and to both sides of it.
struct Frame {
    axes: [Vec3; 3],
    half_m: [f64; 3],
}

impl Grid {
    pub fn new(panels: &[Panel]) -> Self {
        let mut low = Vec3::splat(f64::INFINITY);
        let mut high = Vec3::splat(f64::NEG_INFINITY);
        let mut widths_m = 0.0;
        for panel in panels {
            let half_m = panel.half_extent_m();
            low = low.min(panel.centre_m - half_m);
            high = high.max(panel.centre_m + half_m);
            widths_m += half_m.x + half_m.y;
        }
        let span_m = high - low;
        let count = panels.len() as f64;
        let cell_m =
            (widths_m / count).max((span_m.x * span_m.y / (CELLS_PER_PANEL * count)).sqrt());
        let columns = (span_m.x / cell_m) as i64 + 1;
        let rows = (span_m.y / cell_m) as i64 + 1;
        let cells = (columns * rows) as usize;
        let mut grid = Self {
            west_m: low.x,
            south_m: low.y,
            cells_per_m: 1.0 / cell_m,
            columns,
            rows,
            first: vec![0; cells + 1],
            members: Vec::new(),
            top_m: vec![f64::NEG_INFINITY; cells],
            bottom_m: vec![f64::INFINITY; cells],
            highest_m: high.z,
            lowest_m: low.z,
            diagonal_m: span_m.length(),
        };
        grid.fill(panels);
        grid
    }

    /// Counting sort: panels of one cell stay in index order.
    fn fill(&mut self, panels: &[Panel]) {
        for panel in panels {
            for cell in self.under(panel) {
                self.first[cell + 1] += 1;
            }
        }
        for cell in 1..self.first.len() {
            self.first[cell] += self.first[cell - 1];
        }
        let mut next = self.first.clone();
        self.members = vec![0; next.last().map_or(0, |&count| count as usize)];
        for (index, panel) in panels.iter().enumerate() {
            let half_m = panel.half_extent_m().z;
            for cell in self.under(panel) {
                self.members[next[cell] as usize] = index as u32;
                next[cell] += 1;
                self.top_m[cell] = self.top_m[cell].max(panel.centre_m.z + half_m);
                self.bottom_m[cell] = self.bottom_m[cell].min(panel.centre_m.z - half_m);
            }
        }
    }

    /// The cells that the panel's bounding box touches.
    fn under(&self, panel: &Panel) -> impl Iterator<Item = usize> + use<> {
        let half_m = panel.half_extent_m();
        let (low, high) = (panel.centre_m - half_m, panel.centre_m + half_m);
        let columns = self.column(low.x)..=self.column(high.x);
        let (south, north) = (self.row(low.y), self.row(high.y));
        let width = self.columns;
        columns
            .flat_map(move |column| (south..=north).map(move |row| (row * width + column) as usize))
    }

    fn column(&self, x_m: f64) -> i64 {
        (((x_m - self.west_m) * self.cells_per_m) as i64).clamp(0, self.columns - 1)
    }

    fn row(&self, y_m: f64) -> i64 {
        (((y_m - self.south_m) * self.cells_per_m) as i64).clamp(0, self.rows - 1)
    }

    /// All panels but `own` that rays from it within a cone may meet, in index order.
    pub fn in_the_way(&self, panels: &[Panel], own: usize, cone: &Cone, found: &mut Vec<u32>) {
        let panel = &panels[own];
        let frame = Frame::new(panel, cone);
        found.clear();
        self.each_cell_over(panel, cone, |members| {
            found.extend(members.iter().filter(|&&member| {
                let other = &panels[member as usize];
                member as usize != own
                    && frame.may_meet(other, other.centre_m - panel.centre_m, cone)
            }));
        });
        found.sort_unstable();
        found.dedup();
    }

    /// Hands over the panels of every cell over which rays of a cone pass no higher than its panels stand,
    /// nor lower; some more than once. The cone is gone through step by step, a cell's side each; what it covers in
    /// one step lies within a rectangle.
    fn each_cell_over(&self, panel: &Panel, cone: &Cone, mut visit: impl FnMut(&[u32])) {
        let half_m = panel.half_extent_m() + Vec3::splat(cone.sag_m);
        let step_m = 1.0 / (self.cells_per_m * cone.axis.truncate().length().max(LEAST_LEVEL));
        let mut from_m = 0.0;
        while from_m <= self.diagonal_m {
            let to_m = from_m + step_m;
            let wide_m = half_m + Vec3::splat(cone.spread * to_m);
            let (near_m, far_m) = (
                panel.centre_m + from_m * cone.axis,
                panel.centre_m + to_m * cone.axis,
            );
            let (low_m, high_m) = (near_m.min(far_m) - wide_m, near_m.max(far_m) + wide_m);
            if self.is_left_behind(low_m, high_m, cone) {
                return;
            }
            for row in self.row(low_m.y)..=self.row(high_m.y) {
                for column in self.column(low_m.x)..=self.column(high_m.x) {
                    let cell = (row * self.columns + column) as usize;
                    if low_m.z <= self.top_m[cell] && high_m.z >= self.bottom_m[cell] {
                        visit(
                            &self.members[self.first[cell] as usize..self.first[cell + 1] as usize],
                        );
                    }
                }
            }
            from_m = to_m;
        }
    }

    /// Is what a step covers above or below all panels for good?
    fn is_left_behind(&self, low_m: Vec3, high_m: Vec3, cone: &Cone) -> bool {
        let climbs = cone.axis.z > cone.spread && low_m.z > self.highest_m;
        let sinks = cone.axis.z < -cone.spread && high_m.z < self.lowest_m;
        climbs || sinks
    }
}

impl Frame {
    fn new(panel: &Panel, cone: &Cone) -> Self {
        let level = Vec3::Z.cross(cone.axis).try_normalize();
        let aside = level.unwrap_or_else(|| square_to(cone.axis)[0]);
        let axes = [cone.axis, aside, cone.axis.cross(aside)];
        Self {
            axes,
            half_m: axes.map(|axis| panel.half_along_m(axis) + cone.sag_m),
        }
    }

    /// May rays of the cone meet `other`, whose centre lies at `to_m` from the panel's?
    fn may_meet(&self, other: &Panel, to_m: Vec3, cone: &Cone) -> bool {
        let reaches_m =
            [0, 1, 2].map(|axis| self.half_m[axis] + other.half_along_m(self.axes[axis]));
        let ahead_m = to_m.dot(self.axes[0]);
        let wide_m = cone.spread * (ahead_m + reaches_m[0]);
        ahead_m + reaches_m[0] > 0.0
            && to_m.dot(self.axes[1]).abs() <= reaches_m[1] + wide_m
            && to_m.dot(self.axes[2]).abs() <= reaches_m[2] + wide_m
    }
}

#[cfg(test)]
mod tests {
    use geometry::lane::columns;
    use geometry::{LANES, direction};
    use proptest::prelude::*;

    use super::*;
    use crate::panel::{Barrier, Rays, Sights};

    fn unit(azimuth_rad: f64, elevation_rad: f64) -> Vec3 {
        direction::from_azimuth_elevation(azimuth_rad, elevation_rad)
    }

    prop_compose! {
        fn panel()(
            x in -20.0..20.0_f64, y in -20.0..20.0_f64, z in 0.5..4.0_f64,
            azimuth in 0.0..6.3_f64, elevation in 0.2..1.5_f64, spin in 0.0..6.3_f64, half in 0.2..1.5_f64,
        ) -> Panel {
            let normal = unit(azimuth, elevation);
            let [a, b] = square_to(normal);
            let edge = libm::cos(spin) * a + libm::sin(spin) * b;
            Panel::new(Vec3::new(x, y, z), normal, edge, [half, 0.7 * half])
        }
    }

    /// Does a ray meet the panel?
    fn is_met(panel: &Panel, origin_m: Vec3, direction: Vec3) -> bool {
        let rays = Rays {
            origin_m: columns(&[origin_m; LANES]),
            direction: columns(&[direction; LANES]),
        };
        let mut open = [1.0; LANES];
        let barrier = Barrier::new(panel, panel.centre_m);
        barrier.close(&Sights::along(&rays), &[f32::INFINITY; LANES], &mut open);
        open[0] == 0.0
    }

    proptest! {
        /// Whatever a ray of the cone meets, from any corner or place between, up or down, is found.
        #[test]
        fn nothing_in_the_way_is_missed(
            panels in prop::collection::vec(panel(), 1..40),
            azimuth in 0.0..6.3_f64, elevation in -0.4..1.5_f64,
            spread in 0.0..0.2_f64, turn in 0.0..6.3_f64, share in -1.0..1.0_f64, other_share in -1.0..1.0_f64,
        ) {
            let grid = Grid::new(&panels);
            let axis = unit(azimuth, elevation);
            let [a, b] = square_to(axis);
            let direction = (axis + spread * (libm::cos(turn) * a + libm::sin(turn) * b)).normalize();
            let mut found = Vec::new();
            for (own, panel) in panels.iter().enumerate() {
                let cone = Cone { axis, spread: spread + 1e-9, sag_m: 0.0 };
                grid.in_the_way(&panels, own, &cone, &mut found);
                let origin_m = panel.centre_m
                    + share * panel.half_m[0] * panel.across
                    + other_share * panel.half_m[1] * panel.along;
                for (other, other_panel) in panels.iter().enumerate() {
                    let is_met = other != own && is_met(other_panel, origin_m, direction);
                    prop_assert!(!is_met || found.contains(&(other as u32)));
                }
                prop_assert!(found.is_sorted() && !found.contains(&(own as u32)));
            }
        }
    }

    /// Rows of panels under a sun at 30°: a dozen of ten thousand may stand in the way.
    #[test]
    fn few_are_found() {
        let panels: Vec<Panel> = (0..10_000)
            .map(|index| {
                Vec3::new(
                    1.2 * f64::from(index % 100),
                    2.2 * f64::from(index / 100),
                    1.0,
                )
            })
            .map(|centre_m| Panel::new(centre_m, Vec3::Z, Vec3::X, [0.475, 0.475]))
            .collect();
        let cone = Cone {
            axis: unit(3.0, 0.5),
            spread: 0.02,
            sag_m: 0.0,
        };
        let mut found = Vec::new();
        Grid::new(&panels).in_the_way(&panels, 5050, &cone, &mut found);
        assert!(found.len() <= 12, "{found:?}");
    }
}
