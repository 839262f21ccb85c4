//! How hard something is used, and what uses it hardest.

use crate::LoadCase;
use crate::loads::greatest_case;

/// What sets a size.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Governing {
    /// Strength in a load case.
    Strength(LoadCase),
    /// Stiffness: the slope error that mirrors may be left with.
    Stiffness,
    /// A person standing or climbing on it.
    Person,
    /// What the drive's lines pull.
    Lines,
}

/// Demand over capacity, and what sets it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Demand {
    /// Demand over capacity.
    pub utilisation: f64,
    /// What sets it.
    pub governed_by: Governing,
}

impl Demand {
    /// Slope error over the slope error allowed.
    pub const fn stiffness(utilisation: f64) -> Self {
        Self {
            utilisation,
            governed_by: Governing::Stiffness,
        }
    }

    /// The greater of two demands; the first when they are equal.
    #[must_use]
    pub fn or(self, other: Self) -> Self {
        if other.utilisation > self.utilisation {
            other
        } else {
            self
        }
    }

    /// The load case that asks most of a capacity.
    pub fn hardest_case(utilisation: impl Fn(LoadCase) -> f64) -> Self {
        let (case, utilisation) = greatest_case(utilisation);
        Self {
            utilisation,
            governed_by: Governing::Strength(case),
        }
    }
}
