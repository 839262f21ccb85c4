//! Random numbers by counting: the generator Philox4x32-10, eight counters abreast.
//!
//! Salmon, Moraes, Dror and Shaw, "Parallel random numbers: as easy as 1, 2, 3", SC11 (2011),
//! section 3.3. Any counter gives its four numbers on its own, so order and threads do not matter.

use geometry::LANES;

const ROUNDS: usize = 10;
const MULTIPLIERS: [u64; 2] = [0xD251_1F53, 0xCD9E_8D57];
/// Added to the key from round to round: golden ratio and √3 − 1, as fractions of 2^32.
const KEY_STEPS: [u32; 2] = [0x9E37_79B9, 0xBB67_AE85];
const WORD: u64 = 0xFFFF_FFFF;

/// A 32-bit number for each lane.
pub(crate) type Words = [u64; LANES];

/// Four random numbers for each lane's counter under a key.
#[inline(always)]
pub(crate) fn philox(counters: &[Words; 4], key: [u32; 2]) -> [Words; 4] {
    let mut words = [[0; LANES]; 4];
    for lane in 0..LANES {
        let [mut c0, mut c1, mut c2, mut c3] = [0, 1, 2, 3].map(|word| counters[word][lane]);
        let [mut k0, mut k1] = key;
        for _ in 0..ROUNDS {
            // What stands above the 32 bits of a word is left there until it is multiplied.
            let (product0, product1) = (MULTIPLIERS[0] * (c0 & WORD), MULTIPLIERS[1] * (c2 & WORD));
            let high0 = product0 >> 32;
            let high1 = product1 >> 32;
            (c0, c1, c2, c3) = (
                high1 ^ c1 ^ u64::from(k0),
                product1,
                high0 ^ c3 ^ u64::from(k1),
                product0,
            );
            k0 = k0.wrapping_add(KEY_STEPS[0]);
            k1 = k1.wrapping_add(KEY_STEPS[1]);
        }
        for (word, value) in words.iter_mut().zip([c0, c1, c2, c3]) {
            word[lane] = value & WORD;
        }
    }
    words
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
        let of_all_lanes = |counter: [u64; 4], key: [u32; 2]| {
            let words = philox(&counter.map(|word| [word; LANES]), key);
            words.map(|word| {
                assert!(word.iter().all(|value| *value == word[0]));
                word[0]
            })
        };
        let answers = [
            (
                of_all_lanes([0; 4], [0; 2]),
                [0x6627_e8d5, 0xe169_c58d, 0xbc57_ac4c, 0x9b00_dbd8],
            ),
            (
                of_all_lanes([WORD; 4], [u32::MAX; 2]),
                [0x408f_276d, 0x41c8_3b0e, 0xa20b_c7c6, 0x6d54_51fd],
            ),
            (
                of_all_lanes(pi_digits, [0xa409_3822, 0x299f_31d0]),
                [0xd16c_fe09, 0x94fd_cceb, 0x5001_e420, 0x2412_6ea1],
            ),
        ];
        let words = answers.iter().flat_map(|(found, known)| {
            let pairs = known.iter().zip(found);
            pairs.map(|(known, found): (&u64, &u64)| (*known as f64, *found as f64))
        });
        book::Check {
            id: "rays.random_numbers",
            model: "Random numbers of a ray",
            equation: "Philox 4×32, ten rounds: products of counter words by constants, keyed by seed and mirror",
            source: "Salmon et al. 2011, Parallel random numbers: as easy as 1, 2, 3",
            validity: "any counter and key",
            against: "the three known answers published with it (from memory), word by word",
            unit: "",
        }
        .within(0.0, words);
    }
}
