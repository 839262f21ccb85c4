//! The parts that an evaluation consists of, one by one.

use divan::Bencher;
use divan::counter::ItemsCount;
use field::{BearingRule, FirstAxis, Linkage, Stance, StringField};
use geometry::LANES;
use optics::Surroundings;
use tautfield_benches::{Laid, demo, hours, plant_inputs, string_inputs, thousand_strings};

fn main() {
    divan::main();
}

/// All places of the demo's sector out to this radius [m]: for about 100, 1,000 and 10,000 strings.
#[divan::bench(args = [65.0, 190.0, 600.0])]
fn lay_candidates(bencher: Bencher, outer_radius_m: f64) {
    let field = StringField {
        mirrors_per_string: 15,
        side_m: 0.95,
        pitch_m: 1.22,
        bearing: BearingRule::Fan { share: 0.33 },
        first_axis: FirstAxis::Along,
        linkage: Linkage::EqualAngle,
        rail_slope_rad: 0.0,
        mount_height_m: 0.9,
        stagger_m: 0.0,
        row_spacing_m: 1.9,
        row_growth: 0.01,
        end_gap_m: 0.5,
        lane_every_rows: 10,
        lane_width_m: 3.0,
        inner_radius_m: 28.0,
        outer_radius_m,
        sector_half_rad: 1.05,
        sector_centre_azimuth_rad: 0.0,
        ground_slope_east: 0.0,
        ground_slope_north: 0.0,
        aim_height_m: 40.0,
    };
    bencher.bench_local(|| field::candidates(divan::black_box(&field)));
}

/// Rays of 10,000 mirrors on one core, 64 of each.
#[divan::bench(sample_count = 10, sample_size = 1)]
fn trace_rays(bencher: Bencher) {
    const ROUNDS: u64 = 64;
    let laid = Laid::new(&thousand_strings());
    let postures = laid.postures();
    let judge = laid.judge(&postures[LANES / 2]);
    bencher
        .counter(ItemsCount::new(laid.plan.mirror_count() * ROUNDS as usize))
        .bench_local(|| judge.trace(divan::black_box(0..ROUNDS), 1));
}

/// Neighbours of 10,000 mirrors.
#[divan::bench(sample_count = 20)]
fn list_neighbours(bencher: Bencher) {
    let works = thousand_strings();
    let plan = Laid::new(&works).plan;
    let lowest_rad = works.case.sun.min_elevation_rad;
    bencher.bench_local(|| {
        let around = Surroundings::new(divan::black_box(&plan), lowest_rad);
        around.of_all().entries()
    });
}

/// How one string stands under eight suns.
#[divan::bench]
fn stand_one_string(bencher: Bencher) {
    let laid = Laid::new(&demo());
    let middle = laid.plan.strings.len() / 2;
    let mut stance = Stance::default();
    let mirrors = laid.plan.strings[middle].mirror_count;
    bencher
        .counter(ItemsCount::new(mirrors * LANES))
        .bench_local(|| {
            let suns = divan::black_box(&laid.suns);
            laid.drives.stand(&laid.plan, middle, suns, &mut stance);
        });
}

/// Light of one string under eight suns.
#[divan::bench]
fn light_of_one_string(bencher: Bencher) {
    let laid = Laid::new(&demo());
    let middle = laid.plan.strings.len() / 2;
    let mut stance = Stance::default();
    laid.drives
        .stand(&laid.plan, middle, &laid.suns, &mut stance);
    let mirrors = laid.plan.strings[middle].mirror_count;
    bencher
        .counter(ItemsCount::new(mirrors * LANES))
        .bench_local(|| laid.light(middle, divan::black_box(&stance)));
}

/// A year of plant hours.
#[divan::bench]
fn run_year(bencher: Bencher) {
    let works = demo();
    let (inputs, hours) = (plant_inputs(&works), hours(&works));
    bencher
        .counter(ItemsCount::new(hours.len()))
        .bench_local(|| {
            plant::run_year(divan::black_box(&inputs), hours.iter().copied(), |_, _| ())
        });
}

#[divan::bench]
fn size_string(bencher: Bencher) {
    let inputs = string_inputs();
    assert!(structure::size_string(&inputs).is_ok_and(|parts| parts.margins.hold()));
    bencher.bench_local(|| structure::size_string(divan::black_box(&inputs)));
}
