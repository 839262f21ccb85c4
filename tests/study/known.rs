//! Volumes of fronts at equal budgets: on known problems, on a small field and on the demo.

use std::path::Path;

use rayon::prelude::*;
use study::{Evaluator, Pricing};
use tautfield_tests::outside;

use crate::fields::Designs;
use crate::problems::KNOWN;
use crate::rival::{Match, Rival, median};

/// Seeds of which the middle result counts.
const SEEDS: [u64; 9] = [1, 2, 3, 4, 5, 6, 7, 8, 9];
/// The same for fields, which take longer.
const FIELD_SEEDS: [u64; 3] = [1, 2, 3];

/// The library's algorithms, and as many members as it takes for want of a wish.
const NSGA_II: Rival = ("NSGA-II", 100);
const NSGA_III: Rival = ("NSGA-III", 91);
/// Half as many live through more generations where few designs may be asked for.
const SMALL_NSGA_II: Rival = ("NSGA-II", 50);

/// The middle volume of ours, and those of the library's algorithms; and what to tell of them.
fn held<E: Evaluator, P: Pricing + Sync>(
    name: &str,
    one: &Match<'_, E, P>,
    python: &Path,
    rivals: &[Rival],
    seeds: &[u64],
) -> (bool, String) {
    let ours = median(seeds.iter().map(|seed| one.ours(*seed)).collect());
    let mut told = format!("{name}: {ours:.5}");
    let mut is_best = true;
    for rival in rivals {
        let theirs = seeds.iter().map(|seed| one.theirs(python, *rival, *seed));
        let theirs = median(theirs.collect());
        let (algorithm, members) = rival;
        told += &format!(
            ", {:.4} of {theirs:.5} by {members} of {algorithm}",
            ours / theirs
        );
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
                knows_start: false,
                objectives: known.objectives,
                reference: known.reference,
                total: known.total,
            };
            let rivals: &[Rival] = match known.objectives {
                2 => &[NSGA_II],
                _ => &[NSGA_II, NSGA_III],
            };
            held(known.name, &one, &python, rivals, &SEEDS)
        })
        .collect();
    assert!(results.iter().all(|(is_best, _)| *is_best), "{results:#?}");
}

/// The front of a scenario's designs, cost against capital against carbon.
fn field_is_held(name: &str, designs: &Designs, total: u32, rivals: &[Rival]) {
    let Some(python) = outside::python(&["pymoo"]) else {
        return;
    };
    let one = Match {
        space: &designs.space(),
        evaluator: designs,
        pricing: designs,
        knows_start: true,
        objectives: 3,
        reference: designs.reference(),
        total,
    };
    let (is_best, told) = held(name, &one, &python, rivals, &FIELD_SEEDS);
    assert!(is_best, "{told}");
}

#[test]
fn a_small_fields_front_is_met_as_well_as_by_an_evolutionary_library() {
    let rivals = [NSGA_II, SMALL_NSGA_II];
    field_is_held("small field", &Designs::of_small_field(), 500, &rivals);
}

/// As the scenario asks it: a design that serves less than a fifth of the demand is turned away.
#[test]
fn the_demos_front_is_met_as_well_as_by_an_evolutionary_library() {
    field_is_held(
        "demo",
        &Designs::of_demo(&[("heat.demand.serve_at_least", "20 %")]),
        2000,
        &[NSGA_II, SMALL_NSGA_II],
    );
}
