//! A uniform grid over points on the ground: who stands near a place.

use std::ops::Range;

/// Points sorted into square cells, built once.
#[derive(Clone, Debug)]
pub struct Cells {
    west_m: f64,
    south_m: f64,
    cell_m: f64,
    columns: usize,
    rows: usize,
    /// Where each cell's points begin in `members`; one more than there are cells.
    first: Vec<u32>,
    members: Vec<u32>,
}

impl Cells {
    /// Sorts the points (`x_m`, `y_m`, equally long) into cells of side `cell_m`, widened where
    /// that would make more cells than four for each point.
    #[must_use]
    pub fn new(x_m: &[f64], y_m: &[f64], cell_m: f64) -> Self {
        let (west_m, east_m) = span(x_m);
        let (south_m, north_m) = span(y_m);
        let area_m2 = (east_m - west_m) * (north_m - south_m);
        let cell_m = cell_m
            .max((area_m2 / (4.0 * x_m.len() as f64 + 1.0)).sqrt())
            .max(1e-6);
        let columns = ((east_m - west_m) / cell_m) as usize + 1;
        let rows = ((north_m - south_m) / cell_m) as usize + 1;
        let mut cells = Self {
            west_m,
            south_m,
            cell_m,
            columns,
            rows,
            first: Vec::new(),
            members: Vec::new(),
        };
        cells.fill(x_m, y_m);
        cells
    }

    /// Counting sort: points of one cell stay in index order.
    fn fill(&mut self, x_m: &[f64], y_m: &[f64]) {
        self.first = vec![0; self.columns * self.rows + 1];
        let cell_of = |point: usize| self.row(y_m[point]) * self.columns + self.column(x_m[point]);
        let homes: Vec<usize> = (0..x_m.len()).map(cell_of).collect();
        for &home in &homes {
            self.first[home + 1] += 1;
        }
        for cell in 0..self.columns * self.rows {
            self.first[cell + 1] += self.first[cell];
        }
        let mut next = self.first.clone();
        self.members = vec![0; homes.len()];
        for (point, &home) in homes.iter().enumerate() {
            self.members[next[home] as usize] = point as u32;
            next[home] += 1;
        }
    }

    /// What lies before the first cell counts as in it, since a negative number is cut to 0.
    fn column(&self, x_m: f64) -> usize {
        (((x_m - self.west_m) / self.cell_m) as usize).min(self.columns - 1)
    }

    fn row(&self, y_m: f64) -> usize {
        (((y_m - self.south_m) / self.cell_m) as usize).min(self.rows - 1)
    }

    /// The points, cell by cell.
    #[must_use]
    pub fn members(&self) -> &[u32] {
        &self.members
    }

    /// All points within `radius_m` of a place, and some beyond it, as runs of [`Cells::members`].
    #[inline(always)]
    pub fn near(
        &self,
        x_m: f64,
        y_m: f64,
        radius_m: f64,
    ) -> impl Iterator<Item = Range<usize>> + use<'_> {
        let (west, east) = (self.column(x_m - radius_m), self.column(x_m + radius_m));
        let rows = self.row(y_m - radius_m)..=self.row(y_m + radius_m);
        rows.map(move |row| {
            let cells = row * self.columns;
            self.first[cells + west] as usize..self.first[cells + east + 1] as usize
        })
    }
}

/// Least and most of some numbers; nothing of none.
fn span(values: &[f64]) -> (f64, f64) {
    let first = values.first().copied().unwrap_or(0.0);
    let (mut least, mut most) = (first, first);
    for &value in values {
        least = if value < least { value } else { least };
        most = if value > most { value } else { most };
    }
    (least, most)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn no_points_no_neighbours() {
        assert_eq!(
            Cells::new(&[], &[], 1.0)
                .near(0.0, 0.0, 10.0)
                .flatten()
                .count(),
            0
        );
    }

    proptest! {
        #[test]
        fn finds_all_within_the_radius(
            points in prop::collection::vec((-30.0..30.0_f64, -30.0..30.0_f64), 1..60),
            place in (-40.0..40.0_f64, -40.0..40.0_f64),
            radius_m in 0.1..25.0_f64,
            cell_m in 0.1..20.0_f64,
        ) {
            let (x_m, y_m): (Vec<f64>, Vec<f64>) = points.iter().copied().unzip();
            let cells = Cells::new(&x_m, &y_m, cell_m);
            let runs = cells.near(place.0, place.1, radius_m);
            let mut found: Vec<usize> = runs.flat_map(|run| &cells.members()[run]).map(|point| *point as usize).collect();
            let distinct = found.len();
            found.sort_unstable();
            found.dedup();
            prop_assert_eq!(found.len(), distinct);
            for (index, point) in points.iter().enumerate() {
                let (east, north) = (point.0 - place.0, point.1 - place.1);
                if east * east + north * north <= radius_m * radius_m {
                    prop_assert!(found.binary_search(&index).is_ok());
                }
            }
        }
    }
}
