//! The space of designs: integer axes, and their unit cube.

use crate::outcome::Key;

/// Whether neighbouring indices of an axis are alike.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum AxisKind {
    /// Indices are steps along a quantity.
    Steps,
    /// Indices are names without an order.
    Choice,
}

/// One open variable.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Axis {
    /// How many indices it has, from 0.
    pub count: u32,
    /// Whether neighbouring indices are alike.
    pub kind: AxisKind,
}

/// The open variables and the design to start from.
#[derive(Debug, Clone)]
pub struct Space {
    axes: Vec<Axis>,
    movable: Vec<usize>,
    start: Key,
}

/// A space that does not hold together.
#[derive(Debug, PartialEq, Eq, thiserror::Error)]
pub enum SpaceError {
    /// The start does not have one index per axis.
    #[error("the start has {found} indices for {wanted} axes")]
    StartLength {
        /// Indices of the start.
        found: usize,
        /// Axes of the space.
        wanted: usize,
    },
    /// The start lies outside an axis (an axis without an index has no inside).
    #[error("the start has index {index} on axis {axis}, which has {count} indices from 0")]
    StartOutside {
        /// Position of the axis.
        axis: usize,
        /// Index of the start on it.
        index: u32,
        /// Indices the axis has.
        count: u32,
    },
}

impl Space {
    /// A space of `axes`, with a start inside it.
    ///
    /// # Errors
    /// When the start is outside.
    pub fn new(axes: Vec<Axis>, start: Key) -> Result<Self, SpaceError> {
        if start.len() != axes.len() {
            return Err(SpaceError::StartLength {
                found: start.len(),
                wanted: axes.len(),
            });
        }
        for (axis, (Axis { count, .. }, index)) in axes.iter().zip(&start).enumerate() {
            if index >= count {
                return Err(SpaceError::StartOutside {
                    axis,
                    index: *index,
                    count: *count,
                });
            }
        }
        let movable = (0..axes.len())
            .filter(|axis| axes[*axis].count > 1)
            .collect();
        Ok(Self {
            axes,
            movable,
            start,
        })
    }

    /// The axes.
    #[must_use]
    pub fn axes(&self) -> &[Axis] {
        &self.axes
    }

    /// The design to start from.
    #[must_use]
    pub fn start(&self) -> &Key {
        &self.start
    }

    /// Positions of the axes with more than one index: the unit cube's edges.
    pub(crate) fn movable(&self) -> &[usize] {
        &self.movable
    }

    /// The design whose cell holds a point; outside the cube the nearest cell.
    pub(crate) fn key(&self, point: &[f64]) -> Key {
        let mut key = self.start.clone();
        for (axis, share) in self.movable.iter().zip(point) {
            let count = self.axes[*axis].count;
            // A float-to-integer cast saturates, so below 0 gives 0.
            key[*axis] = ((share * f64::from(count)) as u32).min(count - 1);
        }
        key
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn steps(count: u32) -> Axis {
        Axis {
            count,
            kind: AxisKind::Steps,
        }
    }

    #[test]
    fn a_start_outside_is_refused_with_the_axis() {
        let refused = Space::new(vec![steps(3), steps(2)], vec![0, 2]).unwrap_err();
        assert_eq!(
            refused,
            SpaceError::StartOutside {
                axis: 1,
                index: 2,
                count: 2
            }
        );
        assert!(Space::new(vec![steps(3)], vec![0, 0]).is_err());
        assert!(Space::new(vec![steps(0)], vec![0]).is_err());
    }

    proptest! {
        #[test]
        fn a_point_outside_falls_to_the_edge(share in prop::num::f64::ANY) {
            let space = Space::new(vec![steps(7)], vec![3]).unwrap();
            prop_assert!(space.key(&[share])[0] < 7);
        }
    }
}
