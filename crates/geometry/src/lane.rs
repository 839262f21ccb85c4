//! Eight suns side by side: the width in which light is computed.

use crate::Vec3;

/// How many suns one lane holds.
pub const LANES: usize = 8;

/// One number for each of eight suns.
pub type Lane = [f64; LANES];

/// One vector for each of eight suns, as columns `[x, y, z]`.
pub type LaneVec3 = [Lane; 3];

/// The vector that column `lane` of `vectors` holds.
#[must_use]
pub fn vector(vectors: &LaneVec3, lane: usize) -> Vec3 {
    Vec3::new(vectors[0][lane], vectors[1][lane], vectors[2][lane])
}

/// Writes `value` into column `lane` of `vectors`.
pub fn set_vector(vectors: &mut LaneVec3, lane: usize, value: Vec3) {
    vectors[0][lane] = value.x;
    vectors[1][lane] = value.y;
    vectors[2][lane] = value.z;
}

/// Eight vectors as columns.
#[must_use]
pub fn columns(vectors: &[Vec3; LANES]) -> LaneVec3 {
    [
        vectors.map(|vector| vector.x),
        vectors.map(|vector| vector.y),
        vectors.map(|vector| vector.z),
    ]
}

/// Does `work` with the widest vectors that the processor at hand has: loops over lanes that come into it
/// inline then take half the instructions where it has vectors of 256 bits. The result is the same to the last
/// bit on any processor: products and sums are never joined.
#[inline(always)]
pub fn abreast<R>(work: impl FnOnce() -> R) -> R {
    pulp::Arch::new().dispatch(work)
}
