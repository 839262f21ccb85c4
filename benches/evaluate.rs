//! Whole evaluations at each fidelity, and pricing again what has been evaluated.

use divan::Bencher;
use divan::counter::ItemsCount;
use model::Fidelity::{self, Every, Hours, Search};
use model::Scratch;
use tautfield_benches::{
    demo, evaluate_once, hundred_strings, ten_thousand_strings, thousand_strings,
};
use tautfield_tests::Works;

fn main() {
    divan::main();
}

fn bench(bencher: Bencher, works: &Works, fidelity: Fidelity) {
    let mut scratch = Scratch::default();
    let mirrors = works.strings().count * works.strings().mirrors;
    bencher
        .counter(ItemsCount::new(mirrors))
        .bench_local(|| evaluate_once(works, fidelity, &mut scratch));
}

#[divan::bench]
fn search_demo(bencher: Bencher) {
    bench(bencher, &demo(), Search);
}

#[divan::bench]
fn search_1000_strings(bencher: Bencher) {
    bench(bencher, &thousand_strings(), Search);
}

#[divan::bench]
fn search_100_strings(bencher: Bencher) {
    bench(bencher, &hundred_strings(), Search);
}

#[divan::bench(sample_count = 5, sample_size = 1)]
fn search_10000_strings(bencher: Bencher) {
    bench(bencher, &ten_thousand_strings(), Search);
}

#[divan::bench]
fn every_100_strings(bencher: Bencher) {
    bench(bencher, &hundred_strings(), Every);
}

#[divan::bench(sample_count = 3, sample_size = 1)]
fn every_10000_strings(bencher: Bencher) {
    bench(bencher, &ten_thousand_strings(), Every);
}

#[divan::bench]
fn every_demo(bencher: Bencher) {
    bench(bencher, &demo(), Every);
}

#[divan::bench(sample_count = 20)]
fn every_1000_strings(bencher: Bencher) {
    bench(bencher, &thousand_strings(), Every);
}

#[divan::bench(sample_count = 5, sample_size = 1)]
fn hours_1000_mirrors(bencher: Bencher) {
    bench(bencher, &hundred_strings(), Hours);
}

#[divan::bench(sample_count = 3, sample_size = 1)]
fn hours_10000_mirrors(bencher: Bencher) {
    bench(bencher, &thousand_strings(), Hours);
}

#[divan::bench]
fn price_again(bencher: Bencher) {
    let works = demo();
    let summary = evaluate_once(&works, Search, &mut Scratch::default());
    let scenario = &works.case.scenario;
    bencher.counter(ItemsCount::new(1_usize)).bench_local(|| {
        ledger::price(
            divan::black_box(&summary.quantities),
            summary.delivered_j,
            divan::black_box(&scenario.rates),
            &scenario.finance,
        )
    });
}
