//! How far samples are off whole fields, over many designs of every scenario: a table for the record. Its first
//! argument says how many of each (40), its second from which seed they are drawn (1).

#![allow(clippy::expect_used, clippy::print_stdout)]

mod held_out;

use crate::held_out::{Off, SPACES, drawn};

fn main() {
    let mut numbers = std::env::args()
        .skip(1)
        .filter_map(|text| text.parse().ok());
    let (count, seed) = (numbers.next().unwrap_or(40), numbers.next().unwrap_or(1));
    println!("| designs of | light: off by % (root mean square, worst) | highest flux |");
    println!("|---|---|---|");
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
        println!(
            "| {} {} | {} | {} |",
            space.0,
            space.1,
            told(|off| off.light),
            told(|off| off.flux)
        );
    }
}
