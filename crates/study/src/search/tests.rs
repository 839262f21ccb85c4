//! The whole search on small problems with known answers.

use super::*;
use crate::hypervolume::hypervolume;
use crate::outcome::{Outcome, Status};
use crate::toys::{
    AsIs, Toy, bowl, broken, choice, names, priced, small_field, steps, trade, valley,
};
use crate::{Verdict, late_gain};
use std::sync::Arc;
use std::sync::atomic::Ordering;
use store::{NoHooks, RunFolder};

fn settings(seed: u64, total: u32) -> Settings {
    Settings {
        seed,
        total,
        front_size: 64,
    }
}

fn run(space: &Space, cost: impl Fn(&[u32]) -> Outcome + Sync, settings: Settings) -> Findings {
    let toy = Toy(cost);
    let oracle = Oracle::new(&toy);
    search(
        space,
        &settings,
        oracle,
        &AsIs,
        &AtomicBool::new(false),
        &mut |_| {},
    )
    .unwrap()
}

/// Objectives at search fidelity of every feasible design asked for.
fn asked_values(findings: &Findings) -> Vec<Objectives> {
    let feasible = |row: &&Row| row.search.status == Status::Feasible;
    let rows = findings.rows.iter().filter(feasible);
    rows.filter_map(|row| AsIs.objectives(&row.search))
        .collect()
}

#[test]
fn the_bottom_of_a_bowl_is_met_exactly() {
    let (space, cost) = bowl();
    for seed in 0..3 {
        let findings = run(&space, &cost, settings(seed, 3000));
        let best = findings.best.unwrap();
        assert_eq!(findings.rows[best].key, [70; 8], "seed {seed}");
        assert_eq!(findings.stop, StopReason::BudgetSpent);
    }
}

/// The true fronts lie at x₁ to xₙ = 0 (Zitzler, Deb and Thiele 2000, eq. 7 and
/// 8), so the largest volume on the grid is known.
#[test]
fn bent_and_hollow_fronts_are_met() {
    let reference = [1.1, 1.1, 1.0];
    for is_hollow in [false, true] {
        let (space, cost) = trade(is_hollow);
        let truth = (0..101).filter_map(|index| {
            let mut key = vec![0; 10];
            key[0] = index;
            AsIs.objectives(&cost(&key))
        });
        let largest = hypervolume(&truth.collect::<Vec<_>>(), &reference);
        let findings = run(&space, &cost, settings(1, 3000));
        let found = hypervolume(&asked_values(&findings), &reference);
        assert!(found > 0.999 * largest, "{found} of {largest}");
    }
}

/// Median volumes of NSGA-II (Deb et al. 2002) in a general-purpose library on
/// the same problem with as many evaluations, the better of populations of 50
/// and 100, 7 seeds, all designs counted (computed).
#[test]
fn a_small_field_is_searched_better_than_by_an_evolutionary_library() {
    let (space, cost) = small_field();
    for (total, theirs) in [(500, 5.568_59e8), (2000, 6.501_93e8)] {
        let mut ours: Vec<f64> = (0..5)
            .map(|seed| {
                let findings = run(&space, &cost, settings(seed, total));
                hypervolume(&asked_values(&findings), &[100.0, 1e6, 20.0])
            })
            .collect();
        ours.sort_by(f64::total_cmp);
        assert!(
            ours[2] > theirs,
            "{} against {theirs}, total {total}",
            ours[2]
        );
    }
}

/// Of the sixty sets the best four lie within 0.5 %.
#[test]
fn one_of_the_best_of_sixty_sets_of_names_is_found() {
    let (space, cost, lowest) = names();
    for seed in 0..3 {
        let findings = run(&space, &cost, settings(seed, 5000));
        let costs = asked_values(&findings).into_iter().map(|values| values[0]);
        let found = costs.fold(f64::MAX, f64::min);
        assert!(found < 1.005 * lowest, "{found} of {lowest}, seed {seed}");
    }
}

#[test]
fn the_front_is_confirmed_and_nothing_asked_for_beats_it() {
    let (space, cost) = small_field();
    let findings = run(&space, &cost, settings(5, 1500));
    assert!(findings.front.len() > 20);
    let values = |row: usize| findings.rows[row].verdict.objectives().unwrap();
    for &row in &findings.front {
        assert!(findings.rows[row].every.is_some());
        for (other, theirs) in feasible(&findings.rows) {
            let beats = (0..3).all(|at| theirs[at] <= values(row)[at]) && theirs != values(row);
            assert!(!beats, "row {other} beats row {row} of the front");
        }
    }
    let cheapest = feasible(&findings.rows).map(|(_, values)| values[0]);
    assert_eq!(
        values(findings.best.unwrap())[0],
        cheapest.fold(f64::MAX, f64::min)
    );
    let near = findings.near_best.unwrap();
    let best = &findings.rows[findings.best.unwrap()].key;
    assert!(near.low.iter().zip(best).all(|(low, index)| low <= index));
    assert!(
        near.high
            .iter()
            .zip(best)
            .all(|(high, index)| high >= index)
    );
}

#[test]
fn the_total_is_asked_for_and_no_more() {
    let (space, cost) = bowl();
    for total in [0, 1, 2, 3, 17, 200] {
        let findings = run(&space, &cost, settings(1, total));
        assert_eq!(findings.rows.len(), total as usize);
    }
}

#[test]
fn a_small_space_is_asked_for_whole() {
    let space = Space::new(vec![steps(5), choice(3), steps(1)], vec![0, 1, 0]).unwrap();
    let cost = |key: &[u32]| priced([1.0 + f64::from(key[0] + key[1]), 1.0, 1.0]);
    let findings = run(&space, cost, settings(1, 1000));
    assert_eq!(findings.rows.len(), 15);
    assert_eq!(findings.stop, StopReason::Exhausted);
}

#[test]
fn a_space_without_open_variables_has_one_design() {
    let space = Space::new(vec![steps(1); 2], vec![0, 0]).unwrap();
    let findings = run(&space, |_| priced([1.0; 3]), settings(1, 1000));
    assert_eq!(findings.best, Some(0));
    assert_eq!(findings.rows.len(), 1);
}

#[test]
fn a_small_feasible_corner_is_found_from_outside() {
    let space = Space::new(vec![steps(101); 6], vec![90; 6]).unwrap();
    let cost = |key: &[u32]| {
        let sum = f64::from(key.iter().sum::<u32>());
        if sum > 60.0 {
            return broken(sum / 60.0 - 1.0);
        }
        priced([200.0 - sum, 1.0, 1.0])
    };
    let findings = run(&space, cost, settings(1, 2000));
    let best = &findings.rows[findings.best.unwrap()].key;
    assert_eq!(best.iter().sum::<u32>(), 60);
}

/// A ridge on which two quantities go together: a child that takes one of them from either parent breaks the limit,
/// and many who would are bred anew: 41 % of what is asked for lies beside it, 52 % if none are.
#[test]
fn few_designs_are_asked_for_beside_a_known_ridge() {
    let space = Space::new(vec![steps(101); 3], vec![50; 3]).unwrap();
    let is_off = |key: &[u32]| key[0].abs_diff(key[1]) > 5;
    let ridge = |key: &[u32]| {
        let [along, beside, dearer] = [key[0], key[1], key[2]].map(f64::from);
        if is_off(key) {
            broken(1.0)
        } else {
            priced([1.0 + along, 102.0 - beside, 1.0 + dearer])
        }
    };
    let shares = (0..4).map(|seed| {
        let rows = run(&space, ridge, settings(seed, 1000)).rows;
        let bred = &rows[100..];
        bred.iter().filter(|row| is_off(&row.key)).count() as f64 / bred.len() as f64
    });
    let share = shares.sum::<f64>() / 4.0;
    println!("share {share}");
    assert!(share < 0.42, "{share}");
}

#[test]
fn a_search_without_a_feasible_design_says_so_and_keeps_the_reasons() {
    let (space, _) = bowl();
    let findings = run(&space, |key| broken(f64::from(key[0])), settings(1, 300));
    assert_eq!(findings.stop, StopReason::NoFeasible);
    assert_eq!(findings.rows.len(), 300);
    assert!(
        findings
            .rows
            .iter()
            .all(|row| row.search.reason == "too large")
    );
    assert_eq!((findings.best, findings.front), (None, vec![]));
    // It went towards the limit all the same.
    assert!(findings.rows.iter().any(|row| row.key[0] == 0));
}

#[test]
fn failures_and_numbers_that_are_none_are_rows_like_others() {
    let (space, cost) = bowl();
    let ragged = |key: &[u32]| match key[0] % 5 {
        0 => priced([f64::NAN, 1.0, 1.0]),
        1 => priced([f64::INFINITY, 1.0, 1.0]),
        2 => Outcome {
            status: Status::Failed,
            numbers: vec![],
            reason: "no balance".to_owned(),
        },
        _ => cost(key),
    };
    let findings = run(&space, ragged, settings(1, 2000));
    assert_eq!(findings.rows.len(), 2000);
    let best = &findings.rows[findings.best.unwrap()].key;
    assert!(best[0] == 69 || best[0] == 73 || best[0] == 68, "{best:?}");
    assert!(
        findings
            .rows
            .iter()
            .any(|row| row.search.reason == "no balance")
    );
}

/// Rows, fronts and all, as bytes: any difference in a bit or in order shows.
fn bytes(findings: &Findings) -> Vec<u8> {
    let mut bytes = format!(
        "{:?} {:?} {:?} {:?} {:?} {:?} {:?}",
        findings.front,
        findings.cost_capital,
        findings.cost_carbon,
        findings.best,
        findings.knee,
        findings.near_best,
        findings.stop
    )
    .into_bytes();
    for row in &findings.rows {
        bytes.extend(row.key.iter().flat_map(|index| index.to_le_bytes()));
        bytes.extend(row.search.to_bytes());
        bytes.extend(row.every.iter().flat_map(Outcome::to_bytes));
    }
    bytes
}

/// The same bytes and the same news from 1, 2 and 7 threads, also where all
/// designs are equal and only the order of ties could differ.
#[test]
fn the_number_of_threads_changes_nothing() {
    let (space, cost) = small_field();
    let flat = |_: &[u32]| priced([2.0, 1.0, 1.0]);
    let outcomes: Vec<_> = [1, 2, 7]
        .into_iter()
        .map(|threads| {
            let pool = rayon::ThreadPoolBuilder::new()
                .num_threads(threads)
                .build()
                .unwrap();
            pool.install(|| {
                let toy = Toy(&cost);
                let mut news = Vec::new();
                let found = search(
                    &space,
                    &settings(9, 700),
                    Oracle::new(&toy),
                    &AsIs,
                    &AtomicBool::new(false),
                    &mut |event| news.push(event),
                );
                let ties = run(&space, flat, settings(9, 300));
                (bytes(&found.unwrap()), news, bytes(&ties))
            })
        })
        .collect();
    assert!(outcomes[0] == outcomes[1] && outcomes[0] == outcomes[2]);
}

#[test]
fn another_seed_asks_for_other_designs() {
    let (space, cost) = small_field();
    let one = run(&space, &cost, settings(1, 200));
    let two = run(&space, &cost, settings(2, 200));
    assert_ne!(one.rows[1].key, two.rows[1].key);
}

/// Stopped after every few batches and run again, a search ends with the bytes
/// of one that was never stopped, and evaluates nothing twice.
#[test]
fn stopped_and_resumed_it_ends_with_the_same_bytes() {
    let (space, cost) = small_field();
    let settings = settings(3, 600);
    let whole = run(&space, &cost, settings);
    let parent = tempfile::tempdir().unwrap();
    let folder = RunFolder::open(parent.path(), Arc::new(NoHooks)).unwrap();
    let toy = Toy(&cost);
    let mut evaluated = 0;
    let resumed = loop {
        let (journal, opened) = folder.journal(&[3; 32]).unwrap();
        let interrupt = AtomicBool::new(false);
        let mut fresh = 0;
        let findings = search(
            &space,
            &settings,
            Oracle::with_journal(&toy, journal, opened),
            &AsIs,
            &interrupt,
            &mut |event| {
                let Event::Batch { counts, .. } = event;
                fresh = counts.evaluated;
                interrupt.store(fresh > 90, Ordering::SeqCst);
            },
        )
        .unwrap();
        evaluated += fresh;
        if findings.stop != StopReason::Interrupted {
            break findings;
        }
    };
    assert!(bytes(&resumed) == bytes(&whole));
    let confirmed = whole.rows.iter().filter(|row| row.every.is_some()).count();
    assert_eq!(evaluated, 600 + confirmed as u64);
}

/// A larger total asks first for what a smaller one would ask for last: the
/// journal is shared, the designs are not the same. What matters is that it
/// ends well from any journal of the same inputs.
#[test]
fn a_journal_of_another_total_does_not_change_the_search() {
    let (space, cost) = small_field();
    let parent = tempfile::tempdir().unwrap();
    let folder = RunFolder::open(parent.path(), Arc::new(NoHooks)).unwrap();
    let toy = Toy(&cost);
    let mut last = None;
    for total in [300, 700] {
        let (journal, opened) = folder.journal(&[3; 32]).unwrap();
        let oracle = Oracle::with_journal(&toy, journal, opened);
        let never = AtomicBool::new(false);
        last = search(
            &space,
            &settings(4, total),
            oracle,
            &AsIs,
            &never,
            &mut |_| {},
        )
        .ok();
    }
    let fresh = run(&space, &cost, settings(4, 700));
    assert!(bytes(&last.unwrap()) == bytes(&fresh));
}

/// Fifteen quantities and five choices as in the demo. Islands of swarm, simplex and compass before
/// the breeding, as this search once had them, ended 3 to 8 % above the floor.
#[test]
fn most_seeds_end_on_the_floor_of_a_valley() {
    let (space, cost) = valley();
    let mut found: Vec<f64> = (0..7)
        .map(|seed| {
            let findings = run(&space, &cost, settings(seed, 5000));
            let costs = asked_values(&findings).into_iter().map(|values| values[0]);
            costs.fold(f64::MAX, f64::min)
        })
        .collect();
    found.sort_by(f64::total_cmp);
    assert!(found[3] < 1.015, "{found:?}");
    assert!(found[6] < 1.03, "{found:?}");
}

/// How far searches of the valley end above its floor is about what their second half took off, and at
/// most twice that in most.
#[test]
fn what_a_search_may_still_gain_is_what_it_misses() {
    let (space, cost) = valley();
    for total in [1500, 5000] {
        let shares = (0..7).map(|seed| {
            let findings = run(&space, &cost, settings(seed, total));
            let costs = findings.rows.iter().map(|row| match row.verdict {
                Verdict::Feasible([cost, ..]) => Some(cost),
                _ => None,
            });
            let costs: Vec<Option<f64>> = costs.collect();
            let found = costs.iter().flatten().copied().fold(f64::MAX, f64::min);
            (1.0 - 1.0 / found) / late_gain(&costs)
        });
        let mut shares: Vec<f64> = shares.collect();
        shares.sort_by(f64::total_cmp);
        println!("{total}: {shares:.2?}");
        assert!((0.3..1.5).contains(&shares[3]), "{shares:?}");
        assert!(shares[5] < 2.0, "{shares:?}");
    }
}

/// The small field under a duty of so much energy, or free.
struct Due(Option<f64>);

impl Due {
    fn delivered(outcome: &Outcome) -> f64 {
        outcome.numbers[1] / outcome.numbers[0]
    }
}

impl Pricing for Due {
    fn objectives(&self, outcome: &Outcome) -> Option<Objectives> {
        let [_, capital, carbon] = AsIs.objectives(outcome)?;
        Some([
            capital / Self::delivered(outcome).min(self.0.unwrap_or(f64::INFINITY)),
            capital,
            carbon,
        ])
    }

    fn violation(&self, outcome: &Outcome) -> f64 {
        AsIs.violation(outcome)
    }

    fn shortfall(&self, outcome: &Outcome) -> f64 {
        self.0
            .map_or(0.0, |due| 1.0 - Self::delivered(outcome) / due)
    }

    fn is_lack_bought(&self) -> bool {
        self.0.is_some()
    }
}

/// What a free search finds keeps a duty of just what it delivers, so a search under that duty may end no dearer;
/// but what just delivers enough is a ridge. Falling short as one broken limit like others: 2.9 % dearer in the
/// middle, 4.8 % at worst.
#[test]
fn a_duty_of_what_a_free_search_delivers_costs_hardly_more() {
    let (space, cost) = small_field();
    let toy = Toy(cost);
    let found = |seed, pricing: &Due| {
        let never = AtomicBool::new(false);
        let oracle = Oracle::new(&toy);
        let settings = settings(seed, 2000);
        let findings = search(&space, &settings, oracle, pricing, &never, &mut |_| {}).unwrap();
        for (row, _) in feasible(&findings.rows) {
            assert!(pricing.shortfall(&findings.rows[row].search) <= 0.0);
        }
        let best = &findings.rows[findings.best.unwrap()].search;
        let [cost, ..] = pricing.objectives(best).unwrap();
        (cost, Due::delivered(best))
    };
    let dearer = (1..8).map(|seed| {
        let (free, delivered) = found(seed, &Due(None));
        let (held, _) = found(seed + 100, &Due(Some(delivered)));
        held / free
    });
    let mut dearer: Vec<f64> = dearer.collect();
    dearer.sort_by(f64::total_cmp);
    println!("{dearer:.4?}");
    assert!(dearer[3] < 1.018, "{dearer:?}");
    assert!(dearer[6] < 1.028, "{dearer:?}");
}
