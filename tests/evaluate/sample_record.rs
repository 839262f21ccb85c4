//! How far samples are off whole fields, over many designs of every scenario: a table for the record. Its first
//! argument says how many of each (40), its second from which seed they are drawn (1). And how far the peak that
//! watched spots tell is off a map's, over a few of them.

#![allow(clippy::expect_used, clippy::print_stdout)]

mod held_out;

use crate::held_out::{Off, SPACES, drawn, watched};

/// Designs whose flux is mapped at most.
const FEW: usize = 12;

fn main() {
    let mut numbers = std::env::args()
        .skip(1)
        .filter_map(|text| text.parse().ok());
    let (count, seed) = (numbers.next().unwrap_or(40), numbers.next().unwrap_or(1));
    println!(
        "| designs of | light: off by % (root mean square, worst) | highest flux | peak told over a map's, % |"
    );
    println!("|---|---|---|---|");
    for space in SPACES {
        let found = drawn(space, seed, count as usize);
        let told = |of: fn(&Off) -> f64| {
            let square: f64 = found.iter().map(|off| of(off) * of(off)).sum();
            let worst = found
                .iter()
                .map(of)
                .max_by(|a, b| a.abs().total_cmp(&b.abs()));
            let rms = (square / found.len() as f64).sqrt();
            format!(
                "{:.3}, {:+.3}",
                100.0 * rms,
                100.0 * worst.unwrap_or_default()
            )
        };
        let peaks = watched(space, seed, (count as usize).min(FEW));
        let (least, most) = { peaks.iter() }
            .fold((f64::INFINITY, f64::NEG_INFINITY), |ends, peak| {
                (ends.0.min(*peak), ends.1.max(*peak))
            });
        println!(
            "| {} {} | {} | {} | {:+.1} … {:+.1} |",
            space.0,
            space.1,
            told(|off| off.light),
            told(|off| off.flux),
            100.0 * least,
            100.0 * most
        );
    }
}
