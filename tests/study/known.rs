//! Volumes of fronts at equal budgets: on known problems.

use std::path::Path;

use rayon::prelude::*;
use study::{Evaluator, Pricing};
use tautfield_tests::outside;

use crate::problems::KNOWN;
use crate::rival::{Match, median};

/// Seeds of which the middle result counts.
const SEEDS: [u64; 9] = [1, 2, 3, 4, 5, 6, 7, 8, 9];

/// Algorithms of the library for so many objectives.
const fn algorithms(objectives: usize) -> &'static [&'static str] {
    match objectives {
        2 => &["NSGA-II"],
        _ => &["NSGA-II", "NSGA-III"],
    }
}

/// The middle volume of ours, and those of the library's algorithms; and what to tell of them.
fn held<E: Evaluator, P: Pricing + Sync>(
    name: &str,
    one: &Match<'_, E, P>,
    python: &Path,
    seeds: &[u64],
) -> (bool, String) {
    let ours = median(seeds.iter().map(|seed| one.ours(*seed)).collect());
    let mut told = format!("{name}: {ours:.5}");
    let mut is_best = true;
    for algorithm in algorithms(one.objectives) {
        let theirs = seeds
            .iter()
            .map(|seed| one.theirs(python, algorithm, *seed));
        let theirs = median(theirs.collect());
        told += &format!(", {:.4} of {algorithm}'s {theirs:.5}", ours / theirs);
        is_best &= ours >= theirs;
    }
    println!("{told}");
    (is_best, told)
}

#[test]
fn known_fronts_are_met_as_well_as_by_an_evolutionary_library() {
    let Some(python) = outside::python(&["pymoo"]) else {
        return;
    };
    let results: Vec<(bool, String)> = KNOWN
        .par_iter()
        .with_max_len(1)
        .map(|known| {
            let one = Match {
                space: &known.space(),
                evaluator: known,
                pricing: known,
                objectives: known.objectives,
                reference: known.reference,
                total: known.total,
            };
            held(known.name, &one, &python, &SEEDS)
        })
        .collect();
    assert!(results.iter().all(|(is_best, _)| *is_best), "{results:#?}");
}
