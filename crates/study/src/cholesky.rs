//! Equations with a symmetric positive matrix, solved by Cholesky's triangles.
//!
//! Written out, since libraries choose their instructions by the processor, and with them the last digits.

/// The lower triangle whose product with its mirror image is the matrix, row by row.
pub(crate) struct Cholesky {
    rows: Vec<Vec<f64>>,
}

impl Cholesky {
    /// Of a matrix of `size` rows, which is positive: its entries on and below the diagonal are asked for.
    pub(crate) fn of(size: usize, entry: impl Fn(usize, usize) -> f64) -> Self {
        let mut rows: Vec<Vec<f64>> = Vec::with_capacity(size);
        for row in 0..size {
            let mut own = Vec::with_capacity(row + 1);
            for (column, other) in rows.iter().enumerate() {
                let left = entry(row, column) - dot(&own, other);
                own.push(left / other[column]);
            }
            own.push((entry(row, row) - dot(&own, &own)).sqrt());
            rows.push(own);
        }
        Self { rows }
    }

    /// What the matrix turns into `right`.
    pub(crate) fn solve(&self, right: &[f64]) -> Vec<f64> {
        let mut solution = Vec::with_capacity(right.len());
        for (row, right) in self.rows.iter().zip(right) {
            let left = right - dot(&solution, row);
            solution.push(left / row[solution.len()]);
        }
        for (at, row) in self.rows.iter().enumerate().rev() {
            solution[at] /= row[at];
            let known = solution[at];
            for (value, entry) in solution[..at].iter_mut().zip(row) {
                *value -= entry * known;
            }
        }
        solution
    }
}

/// Sum of products as far as the first goes.
fn dot(one: &[f64], other: &[f64]) -> f64 {
    one.iter().zip(other).map(|(a, b)| a * b).sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: the triangle of rows 2; 6, 1; -8, 5, 3, its matrix, and the matrix times 1, 2 and 3.
    #[test]
    fn equations_are_solved() {
        let matrix = [
            [4.0, 12.0, -16.0],
            [12.0, 37.0, -43.0],
            [-16.0, -43.0, 98.0],
        ];
        let cholesky = Cholesky::of(3, |row, column| matrix[row][column]);
        assert_eq!(
            cholesky.rows,
            [vec![2.0], vec![6.0, 1.0], vec![-8.0, 5.0, 3.0]]
        );
        let found = cholesky.solve(&[-20.0, -43.0, 192.0]);
        for (found, asked) in found.into_iter().zip([1.0, 2.0, 3.0]) {
            assert!((found - asked).abs() < 1e-9, "{found}");
        }
    }
}
