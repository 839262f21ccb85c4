//! Random numbers by counting: the generator Philox4x32-7, eight counters abreast.
//!
//! Salmon, Moraes, Dror and Shaw, "Parallel random numbers: as easy as 1, 2, 3", SC11 (2011),
//! section 3.3: seven rounds are the fewest that pass every test there. Any counter gives its four numbers on
//! its own, so order and threads do not matter.

use geometry::LANES;

const ROUNDS: usize = 7;
const MULTIPLIERS: [u64; 2] = [0xD251_1F53, 0xCD9E_8D57];
/// Added to the key from round to round: golden ratio and √3 − 1, as fractions of 2^32.
const KEY_STEPS: [u32; 2] = [0x9E37_79B9, 0xBB67_AE85];
const WORD: u64 = 0xFFFF_FFFF;

/// A 32-bit number for each lane.
pub(crate) type Words = [u64; LANES];

/// Four random numbers for each lane's counter under a key.
#[inline(always)]
pub(crate) fn philox(counters: &[Words; 4], key: [u32; 2]) -> [Words; 4] {
    let (mut words, [mut k0, mut k1]) = (*counters, key);
    for _ in 0..ROUNDS {
        stir(&mut words, [k0, k1]);
        k0 = k0.wrapping_add(KEY_STEPS[0]);
        k1 = k1.wrapping_add(KEY_STEPS[1]);
    }
    for word in &mut words {
        for lane in 0..LANES {
            word[lane] &= WORD;
        }
    }
    words
}

/// One round. What stands above the 32 bits of a word is left there until it is multiplied.
#[inline(always)]
fn stir(words: &mut [Words; 4], key: [u32; 2]) {
    for lane in 0..LANES {
        let product0 = MULTIPLIERS[0] * (words[0][lane] & WORD);
        let product1 = MULTIPLIERS[1] * (words[2][lane] & WORD);
        words[0][lane] = (product1 >> 32) ^ words[1][lane] ^ u64::from(key[0]);
        words[1][lane] = product1;
        words[2][lane] = (product0 >> 32) ^ words[3][lane] ^ u64::from(key[1]);
        words[3][lane] = product0;
    }
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
                [0x5f6f_b709, 0x0d89_3f64, 0x4f12_1f81, 0x4f73_0a48],
            ),
            (
                of_all_lanes([WORD; 4], [u32::MAX; 2]),
                [0x5207_ddc2, 0x4516_5e59, 0x4d8e_e751, 0x8c52_f662],
            ),
            (
                of_all_lanes(pi_digits, [0xa409_3822, 0x299f_31d0]),
                [0x4dfc_caba, 0x190a_87f0, 0xc473_62ba, 0xb6b5_242a],
            ),
        ];
        let words = answers.iter().flat_map(|(found, known)| {
            let pairs = known.iter().zip(found);
            pairs.map(|(known, found): (&u64, &u64)| (*known as f64, *found as f64))
        });
        book::Check {
            id: "rays.random_numbers",
            model: "Random numbers of a ray",
            equation: "Philox 4×32, seven rounds: products of counter words by constants, keyed by seed and mirror",
            source: "Salmon et al. 2011, Parallel random numbers: as easy as 1, 2, 3",
            validity: "any counter and key",
            against: "the three known answers published with it (from memory), word by word",
            unit: "",
        }
        .within(0.0, words);
    }
}
