//! A smooth function of one number, tabled so that eight values are read abreast.

use geometry::{LANES, Lane};

use crate::whole::nearest;

/// Even steps of a table.
const STEPS: usize = 4096;

/// Values between 0 and an upper end, joined by straight lines; beyond it the last one holds.
#[derive(Clone, Debug)]
pub(crate) struct Table {
    per_unit: f64,
    values: Box<[f64; STEPS + 1]>,
}

impl Table {
    pub fn new(upper: f64, function: impl Fn(f64) -> f64) -> Self {
        let step = upper / STEPS as f64;
        Self {
            per_unit: 1.0 / step,
            values: Box::new(std::array::from_fn(|index| function(index as f64 * step))),
        }
    }

    #[inline(always)]
    pub fn at(&self, places: &Lane) -> Lane {
        let mut values = [0.0; LANES];
        for lane in 0..LANES {
            let place = (places[lane] * self.per_unit).clamp(0.0, STEPS as f64);
            let below = place.min(STEPS as f64 - 1.0).floor();
            let index = nearest(below) as usize % STEPS;
            let [low, high] = [self.values[index], self.values[index + 1]];
            values[lane] = low + (place - below) * (high - low);
        }
        values
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A smooth function to a ten-millionth, the ends and what lies beyond them as the nearest end.
    #[test]
    fn tables_tell_what_the_function_says() {
        let function = |x: f64| libm::exp(-1.3 * x);
        let table = Table::new(2.0, function);
        for index in 0..=20_000 {
            let x = f64::from(index) * 1e-4;
            assert!((table.at(&[x; LANES])[3] - function(x)).abs() < 1e-7, "{x}");
        }
        assert_eq!(table.at(&[-1.0; LANES])[0], 1.0);
        assert_eq!(table.at(&[f64::INFINITY; LANES])[0], function(2.0));
    }
}
