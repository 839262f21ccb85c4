//! What a unit measures, as powers of base quantities.

/// Powers of length, mass, time, temperature, angle, money and count, in this order.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Shape([i8; 7]);

impl Shape {
    pub const NUMBER: Self = Self([0; 7]);
    pub const LENGTH: Self = Self([1, 0, 0, 0, 0, 0, 0]);
    pub const MASS: Self = Self([0, 1, 0, 0, 0, 0, 0]);
    pub const TIME: Self = Self([0, 0, 1, 0, 0, 0, 0]);
    pub const TEMPERATURE: Self = Self([0, 0, 0, 1, 0, 0, 0]);
    pub const ANGLE: Self = Self([0, 0, 0, 0, 1, 0, 0]);
    pub const MONEY: Self = Self([0, 0, 0, 0, 0, 1, 0]);
    pub const COUNT: Self = Self([0, 0, 0, 0, 0, 0, 1]);

    pub const AREA: Self = Self::LENGTH.power(2);
    pub const VOLUME: Self = Self::LENGTH.power(3);
    pub const SPEED: Self = Self::LENGTH.over(Self::TIME);
    pub const FORCE: Self = Self::MASS.times(Self::SPEED).over(Self::TIME);
    pub const PRESSURE: Self = Self::FORCE.over(Self::AREA);
    pub const ENERGY: Self = Self::FORCE.times(Self::LENGTH);
    pub const POWER: Self = Self::ENERGY.over(Self::TIME);

    pub const fn times(self, other: Self) -> Self {
        self.combined(other, 1)
    }

    pub const fn over(self, other: Self) -> Self {
        self.combined(other, -1)
    }

    pub const fn power(self, exponent: i8) -> Self {
        Self::NUMBER.combined(self, exponent)
    }

    const fn combined(self, other: Self, exponent: i8) -> Self {
        let mut powers = self.0;
        let mut index = 0;
        while index < powers.len() {
            powers[index] = powers[index].saturating_add(other.0[index].saturating_mul(exponent));
            index += 1;
        }
        Self(powers)
    }
}
