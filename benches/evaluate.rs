//! Whole evaluations at each fidelity, and pricing again what has been evaluated.

use divan::Bencher;
use divan::counter::ItemsCount;
use geometry::LANES;
use model::Fidelity::{self, Every, Hours, Search};
use model::Scratch;
use tautfield_benches::{Laid, SIZES, demo, evaluate_once, field_named, with_fewer_hours};
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
fn every_demo(bencher: Bencher) {
    bench(bencher, &demo(), Every);
}

#[divan::bench(args = SIZES, sample_count = 5, sample_size = 1)]
fn search(bencher: Bencher, field: &str) {
    bench(bencher, &field_named(field), Search);
}

#[divan::bench(args = SIZES, sample_count = 3, sample_size = 1)]
fn every(bencher: Bencher, field: &str) {
    bench(bencher, &field_named(field), Every);
}

#[divan::bench(args = [SIZES[0], SIZES[1]], sample_count = 3, sample_size = 1)]
fn hours(bencher: Bencher, field: &str) {
    bench(bencher, &field_named(field), Hours);
}

/// All hours of 100,000 mirrors take minutes: every fortieth stands for them.
#[divan::bench(args = [SIZES[2]], sample_count = 1, sample_size = 1)]
fn every_fortieth_hour(bencher: Bencher, field: &str) {
    bench(bencher, &with_fewer_hours(field_named(field), 40), Hours);
}

/// Neighbours listed, mirrors turned and light summed under eight suns.
#[divan::bench(args = SIZES, sample_count = 3, sample_size = 1)]
fn eight_suns(bencher: Bencher, field: &str) {
    let laid = Laid::new(&field_named(field));
    bencher
        .counter(ItemsCount::new(laid.plan.mirror_count() * LANES))
        .bench_local(|| laid.light_of_all());
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
