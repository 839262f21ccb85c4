//! Random numbers by counting: the generator Philox4x32-10.
//!
//! Salmon, Moraes, Dror and Shaw, "Parallel random numbers: as easy as 1, 2, 3", SC11 (2011),
//! section 3.3. Any counter gives its four numbers on its own, so order and threads do not matter.

const ROUNDS: usize = 10;
const MULTIPLIERS: [u32; 2] = [0xD251_1F53, 0xCD9E_8D57];
/// Added to the key from round to round: golden ratio and √3 − 1, as fractions of 2^32.
const KEY_STEPS: [u32; 2] = [0x9E37_79B9, 0xBB67_AE85];

/// Four random 32-bit numbers for a counter under a key.
#[inline]
pub(crate) fn philox(counter: [u32; 4], key: [u32; 2]) -> [u32; 4] {
    let [mut c0, mut c1, mut c2, mut c3] = counter;
    let [mut k0, mut k1] = key;
    for _ in 0..ROUNDS {
        let (high0, low0) = product(MULTIPLIERS[0], c0);
        let (high1, low1) = product(MULTIPLIERS[1], c2);
        (c0, c1, c2, c3) = (high1 ^ c1 ^ k0, low1, high0 ^ c3 ^ k1, low0);
        k0 = k0.wrapping_add(KEY_STEPS[0]);
        k1 = k1.wrapping_add(KEY_STEPS[1]);
    }
    [c0, c1, c2, c3]
}

#[inline]
fn product(a: u32, b: u32) -> (u32, u32) {
    let whole = u64::from(a) * u64::from(b);
    ((whole >> 32) as u32, whole as u32)
}

/// The two halves of a seed.
pub(crate) fn key(seed: u64) -> [u32; 2] {
    [seed as u32, (seed >> 32) as u32]
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Known answers published with Salmon et al. 2011 (from memory; three answers of 128 bits
    /// that agree cannot agree by chance).
    #[test]
    fn known_answers() {
        let pi_digits = [0x243f_6a88, 0x85a3_08d3, 0x1319_8a2e, 0x0370_7344];
        assert_eq!(
            philox([0; 4], [0; 2]),
            [0x6627_e8d5, 0xe169_c58d, 0xbc57_ac4c, 0x9b00_dbd8]
        );
        assert_eq!(
            philox([u32::MAX; 4], [u32::MAX; 2]),
            [0x408f_276d, 0x41c8_3b0e, 0xa20b_c7c6, 0x6d54_51fd]
        );
        assert_eq!(
            philox(pi_digits, [0xa409_3822, 0x299f_31d0]),
            [0xd16c_fe09, 0x94fd_cceb, 0x5001_e420, 0x2412_6ea1]
        );
    }
}
