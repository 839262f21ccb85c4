//! Lanes in single precision, and the vector algebra of the kernel: half the work of double
//! precision, and lengths of up to a kilometre to a tenth of a millimetre.

use geometry::{LANES, Lane, LaneVec3, Vec3};

/// One number for each of eight suns, to seven digits.
pub(crate) type Coarse = [f32; LANES];
/// One vector for each of eight suns, as columns.
pub(crate) type CoarseVec3 = [Coarse; 3];

/// Adding and taking away this number rounds to the nearest whole one (1.5·2^23).
const ROUNDER: f32 = 12_582_912.0;
/// Below this the result is taken as exp(−80) ≈ 2e-35.
const LOWEST: f32 = -80.0;

/// A lane in single precision.
#[inline(always)]
pub(crate) fn coarse(lane: &Lane) -> Coarse {
    let mut short = [0.0; LANES];
    for sun in 0..LANES {
        short[sun] = lane[sun] as f32;
    }
    short
}

/// Vectors in single precision.
#[inline(always)]
pub(crate) fn coarse_vectors(vectors: &LaneVec3) -> CoarseVec3 {
    [
        coarse(&vectors[0]),
        coarse(&vectors[1]),
        coarse(&vectors[2]),
    ]
}

/// A lane in double precision.
#[inline(always)]
pub(crate) fn fine(lane: &Coarse) -> Lane {
    let mut long = [0.0; LANES];
    for sun in 0..LANES {
        long[sun] = f64::from(lane[sun]);
    }
    long
}

/// A bit for each lane that is so.
#[inline(always)]
pub(crate) fn lanes_where(is_so: &[bool; LANES]) -> u32 {
    // One multiplication gathers the lowest bits of eight bytes in the highest byte.
    const GATHER: u64 = 0x0102_0408_1020_4080;
    let bytes = u64::from_le_bytes(is_so.map(u8::from));
    (bytes.wrapping_mul(GATHER) >> 56) as u32
}

/// `vector` as an array.
#[inline(always)]
pub(crate) fn array(vector: Vec3) -> [f32; 3] {
    [vector.x as f32, vector.y as f32, vector.z as f32]
}

/// The vector that column `lane` of `vectors` holds.
#[inline(always)]
pub(crate) fn column(vectors: &CoarseVec3, lane: usize) -> [f32; 3] {
    [vectors[0][lane], vectors[1][lane], vectors[2][lane]]
}

#[inline(always)]
pub(crate) fn dot(a: [f32; 3], b: [f32; 3]) -> f32 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

#[inline(always)]
pub(crate) fn cross(a: [f32; 3], b: [f32; 3]) -> [f32; 3] {
    [
        a[1] * b[2] - a[2] * b[1],
        a[2] * b[0] - a[0] * b[2],
        a[0] * b[1] - a[1] * b[0],
    ]
}

#[inline(always)]
pub(crate) fn sum(a: [f32; 3], b: [f32; 3]) -> [f32; 3] {
    [a[0] + b[0], a[1] + b[1], a[2] + b[2]]
}

/// exp(x) for x ≤ 0, within 1e-5 relative: x = k·ln 2 + r with |r| ≤ ½·ln 2, 2^k set in the exponent,
/// exp(r) as its Taylor series to r^5.
#[inline(always)]
pub(crate) fn exp(x: f32) -> f32 {
    let x = if x > LOWEST { x } else { LOWEST };
    let shifted = x * std::f32::consts::LOG2_E + ROUNDER;
    let r = x - (shifted - ROUNDER) * std::f32::consts::LN_2;
    let series =
        1.0 + r * (1.0 + r * (1.0 / 2.0 + r * (1.0 / 6.0 + r * (1.0 / 24.0 + r * (1.0 / 120.0)))));
    let power_of_two = f32::from_bits((shifted.to_bits() << 23).wrapping_add(1.0_f32.to_bits()));
    series * power_of_two
}

// Plain comparisons: `f32::max` and `f32::min` also sort out NaN, which costs three times as much.

#[inline(always)]
pub(crate) fn greater(a: f32, b: f32) -> f32 {
    if a > b { a } else { b }
}

#[inline(always)]
pub(crate) fn lesser(a: f32, b: f32) -> f32 {
    if a < b { a } else { b }
}

/// The least of a lane.
#[inline(always)]
pub(crate) fn least(mut lane: Coarse) -> f32 {
    for half in [4, 2, 1] {
        for at in 0..half {
            lane[at] = lesser(lane[at], lane[at + half]);
        }
    }
    lane[0]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bits_stand_for_lanes() {
        for bits in 0..256_u32 {
            let is_so = std::array::from_fn(|lane| bits >> lane & 1 == 1);
            assert_eq!(lanes_where(&is_so), bits);
        }
    }

    #[test]
    fn agrees_with_libm() {
        for step in 0..=8_000_u16 {
            let x = -0.01 * f32::from(step);
            let exact = libm::exp(f64::from(x.max(LOWEST))) as f32;
            assert!((exp(x) - exact).abs() <= 1e-5 * exact, "exp({x})");
        }
        assert!(exp(-1e9) < 1e-34);
    }
}
