//! Panels sorted into square columns over the ground, and rays that walk from column to column.

use geometry::Vec3;

use crate::panel::Panel;

/// At most so many cells for each panel; larger fields get wider cells.
const CELLS_PER_PANEL: f64 = 8.0;

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
}

/// Where a ray crosses the sides of cells of one direction: cell, step, next crossing and the way
/// between two crossings.
#[derive(Clone, Copy)]
struct Crossings {
    cell: i64,
    step: i64,
    next_m: f64,
    between_m: f64,
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

    /// Does a ray from a panel meet any other panel within `reach_m`? `own` is left out.
    #[inline]
    pub fn is_met(
        &self,
        panels: &[Panel],
        own: usize,
        origin_m: Vec3,
        direction: Vec3,
        reach_m: f64,
    ) -> bool {
        let mut east = self.crossings(
            self.column(origin_m.x),
            self.west_m,
            origin_m.x,
            direction.x,
        );
        let mut north = self.crossings(self.row(origin_m.y), self.south_m, origin_m.y, direction.y);
        let mut from_m = 0.0;
        loop {
            let to_m = east.next_m.min(north.next_m);
            let height_from_m = origin_m.z + from_m * direction.z;
            let rising = direction.z >= 0.0;
            let gone = if rising {
                height_from_m > self.highest_m
            } else {
                height_from_m < self.lowest_m
            };
            if gone || from_m > reach_m {
                return false;
            }
            let cell = (north.cell * self.columns + east.cell) as usize;
            let above = if rising {
                height_from_m > self.top_m[cell]
            } else {
                height_from_m < self.bottom_m[cell]
            };
            if !above && self.cell_is_met(cell, panels, own, origin_m, direction, reach_m) {
                return true;
            }
            let crossed = if east.next_m < north.next_m {
                (&mut east, self.columns)
            } else {
                (&mut north, self.rows)
            };
            if !crossed.0.go_on(crossed.1) {
                return false;
            }
            from_m = to_m;
        }
    }

    #[inline]
    fn cell_is_met(
        &self,
        cell: usize,
        panels: &[Panel],
        own: usize,
        origin_m: Vec3,
        direction: Vec3,
        reach_m: f64,
    ) -> bool {
        let members = &self.members[self.first[cell] as usize..self.first[cell + 1] as usize];
        members
            .iter()
            .map(|&member| member as usize)
            .any(|other| other != own && panels[other].is_met(origin_m, direction, reach_m))
    }

    fn crossings(&self, cell: i64, origin_m: f64, start_m: f64, direction: f64) -> Crossings {
        let step = if direction < 0.0 { -1 } else { 1 };
        if direction == 0.0 {
            let never = f64::INFINITY;
            return Crossings {
                cell,
                step,
                next_m: never,
                between_m: never,
            };
        }
        let per_direction = 1.0 / direction;
        let cell_m = 1.0 / self.cells_per_m;
        let side_m = origin_m + (cell + step.max(0)) as f64 * cell_m;
        Crossings {
            cell,
            step,
            next_m: (side_m - start_m) * per_direction,
            between_m: cell_m * per_direction.abs(),
        }
    }
}

impl Crossings {
    /// Moves to the next cell; says whether it is still one of `count`.
    #[inline]
    fn go_on(&mut self, count: i64) -> bool {
        self.cell += self.step;
        self.next_m += self.between_m;
        (0..count).contains(&self.cell)
    }
}

#[cfg(test)]
mod tests {
    use geometry::direction;
    use proptest::prelude::*;

    use super::*;

    fn unit(azimuth_rad: f64, elevation_rad: f64) -> Vec3 {
        direction::from_azimuth_elevation(azimuth_rad, elevation_rad)
    }

    prop_compose! {
        fn panel()(
            x in -20.0..20.0_f64, y in -20.0..20.0_f64, z in 0.5..4.0_f64,
            azimuth in 0.0..6.3_f64, elevation in 0.2..1.5_f64, spin in 0.0..6.3_f64, half in 0.2..1.5_f64,
        ) -> Panel {
            let normal = unit(azimuth, elevation);
            let [a, b] = crate::panel::square_to(normal);
            let edge = libm::cos(spin) * a + libm::sin(spin) * b;
            Panel::new(Vec3::new(x, y, z), normal, edge, [half, 0.7 * half])
        }
    }

    proptest! {
        /// Walking the cells finds exactly what testing every panel finds, up and down.
        #[test]
        fn walking_misses_nothing(
            panels in prop::collection::vec(panel(), 1..40),
            azimuth in 0.0..6.3_f64, elevation in -0.4..1.5_f64,
        ) {
            let grid = Grid::new(&panels);
            let direction = unit(azimuth, elevation);
            for (own, panel) in panels.iter().enumerate() {
                let origin_m = panel.centre_m + 0.3 * panel.half_m[0] * panel.across;
                for reach_m in [5.0, f64::INFINITY] {
                    let every = panels
                        .iter()
                        .enumerate()
                        .any(|(other, panel)| other != own && panel.is_met(origin_m, direction, reach_m));
                    prop_assert_eq!(grid.is_met(&panels, own, origin_m, direction, reach_m), every);
                }
            }
        }
    }
}
