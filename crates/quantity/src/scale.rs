//! Exact factors between a unit and SI.

/// The factor `top / bottom · 10^tens · π^half_turns`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Scale {
    pub top: i128,
    pub bottom: i128,
    pub tens: i32,
    pub half_turns: i32,
}

impl Scale {
    pub const ONE: Self = Self::new(1, 1, 0);

    pub const fn new(top: i128, bottom: i128, tens: i32) -> Self {
        Self {
            top,
            bottom,
            tens,
            half_turns: 0,
        }
    }

    /// π / `parts`.
    pub const fn half_turns(parts: i128) -> Self {
        Self {
            top: 1,
            bottom: parts,
            tens: 0,
            half_turns: 1,
        }
    }

    /// This factor times `other` to a power; `None` when it grows out of hand.
    pub fn times_power(self, other: Self, exponent: i8) -> Option<Self> {
        let mut product = self;
        for _ in 0..exponent.unsigned_abs() {
            product = if exponent > 0 {
                product.times(other)
            } else {
                product.over(other)
            }?;
        }
        Some(product)
    }

    fn times(self, other: Self) -> Option<Self> {
        Some(
            Self {
                top: self.top.checked_mul(other.top)?,
                bottom: self.bottom.checked_mul(other.bottom)?,
                tens: self.tens + other.tens,
                half_turns: self.half_turns + other.half_turns,
            }
            .reduced(),
        )
    }

    fn over(self, other: Self) -> Option<Self> {
        self.times(Self {
            top: other.bottom,
            bottom: other.top,
            tens: -other.tens,
            half_turns: -other.half_turns,
        })
    }

    fn reduced(self) -> Self {
        let divisor = greatest_common_divisor(self.top, self.bottom);
        Self {
            top: self.top / divisor,
            bottom: self.bottom / divisor,
            ..self
        }
    }

    /// The factor π^half_turns as a double.
    pub fn pi_factor(self) -> f64 {
        let turns =
            (0..self.half_turns.abs()).fold(1.0, |product, _| product * std::f64::consts::PI);
        if self.half_turns < 0 {
            1.0 / turns
        } else {
            turns
        }
    }
}

fn greatest_common_divisor(mut left: i128, mut right: i128) -> i128 {
    while right != 0 {
        (left, right) = (right, left % right);
    }
    left.max(1)
}
