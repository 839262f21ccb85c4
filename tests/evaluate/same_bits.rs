//! The same case, design and fidelity give the same bits, whatever ran before and on how many
//! threads; and numbers taken apart give the summary back.

use model::Fidelity::{self, Every, Hours, Search};
use model::{MARGINS, Margins, Scratch, Summary, evaluate};
use tautfield_tests::Works;

use crate::{bits, fields, summary};

fn on_threads(threads: usize, works: &Works, fidelity: Fidelity) -> Vec<u64> {
    let pool = rayon::ThreadPoolBuilder::new()
        .num_threads(threads)
        .build()
        .expect("threads can be had");
    pool.install(|| bits(&summary(works, fidelity)))
}

#[test]
fn on_any_number_of_threads() {
    let works = Works::new(fields::CROSS_AND_UPRIGHT);
    for fidelity in [Search, Every, Hours] {
        let alone = on_threads(1, &works, fidelity);
        for threads in [2, 7] {
            assert_eq!(on_threads(threads, &works, fidelity), alone, "{threads}");
        }
    }
}

#[test]
fn with_a_scratch_that_another_design_has_used() {
    let (large, small) = (
        Works::new(fields::DEMO),
        Works::new(fields::CROSS_AND_UPRIGHT),
    );
    let mut scratch = Scratch::default();
    for works in [&large, &small, &large] {
        let used = evaluate(&works.case, &works.design, Search, &mut scratch);
        let used = used.unwrap_or_else(|infeasible| panic!("{infeasible}"));
        assert_eq!(bits(&used), bits(&summary(works, Search)));
    }
}

/// Limits of parts that only heliostats have.
const NOT_OF_STRINGS: [&str; 2] = ["truss", "torque_tube"];

#[test]
fn numbers_give_the_summary_back() {
    for settings in fields::ALL {
        let whole = summary(&Works::new(settings), Search);
        let numbers = whole.to_numbers();
        assert_eq!(numbers.len(), Summary::WIDTH);
        let (found, margins) = numbers.split_at(Summary::WIDTH - MARGINS);
        assert!(found.iter().all(|number| number.is_finite()));
        for (key, margin) in Margins::keys().iter().zip(margins) {
            assert_eq!(margin.is_finite(), !NOT_OF_STRINGS.contains(key), "{key}");
        }
        let back = Summary::from_numbers(&numbers).expect("as many as were given");
        assert_eq!(bits(&back), bits(&whole));
        assert_eq!(Summary::from_numbers(&numbers[1..]), None);
    }
}
