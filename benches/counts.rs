//! Counts and ratios: what hardly depends on the machine. With a fidelity and a field as
//! arguments it runs that one evaluation and nothing else, for a profiler.

// A bench prints, stops and reads the clock.
#![allow(clippy::print_stdout, clippy::panic, clippy::disallowed_methods)]

use std::num::NonZero;
use std::thread;
use std::time::Instant;

use geometry::LANES;
use model::Fidelity::{self, Every, Hours, Search};
use model::{Margins, Scratch, Summary};
use sky::NODES;
use tautfield_benches::{Laid, evaluate_once, field_named};
use tautfield_tests::Works;

/// A time is the best of so many.
const TRIALS: usize = 5;
/// So many times a bill is priced again.
const PRICES: usize = 200_000;
/// At least so many prices take no longer than a search evaluation: 100,000 a second against 20 ms.
const LEAST_PRICES: f64 = 2_000.0;
/// Rays from each mirror on each core.
const ROUNDS: u64 = 256;
/// The most memory for 200,000 mirrors.
const MOST_MB: f64 = 500.0;
/// What a cheaper fidelity may say more or less of the year's light.
const MOST_OFF_PERCENT: f64 = 0.3;
/// A mirror of the largest field may take so many times as long as one of a twentieth of its size.
const MOST_GROWTH: f64 = 1.5;

fn main() {
    let words: Vec<String> = std::env::args()
        .skip(1)
        .filter(|word| !word.starts_with("--"))
        .collect();
    match words.as_slice() {
        [fidelity, field] => {
            let works = field_named(field);
            let summary = evaluate_once(&works, fidelity_named(fidelity), &mut Scratch::default());
            println!(
                "optical efficiency {:.5}, heat {:.4} GWh, highest flux {:.1} kW/m²",
                summary.optical_efficiency(),
                summary.delivered_j / 3.6e12,
                summary.peak_flux_w_m2 / 1e3
            );
        }
        [word] if word == "growth" => print_growth(),
        [word] if word == "rays" => print_rays(),
        _ => {
            for name in ["demo", "hundred", "thousand"] {
                print_counts(name, &field_named(name));
            }
        }
    }
}

fn fidelity_named(name: &str) -> Fidelity {
    [Search, Every, Hours]
        .into_iter()
        .find(|fidelity| fidelity.word() == name)
        .unwrap_or_else(|| panic!("no fidelity {name}: search, every or hours"))
}

fn print_counts(name: &str, works: &Works) {
    let strings = works.strings();
    let mirrors = (strings.count * strings.mirrors) as usize;
    println!("{name}: {} strings, {mirrors} mirrors", strings.count);
    print_neighbours(works, mirrors);
    let [search, every, hours] = [Search, Every, Hours].map(|fidelity| timed(works, fidelity));
    let every_suns = mirrors * NODES;
    let hours_suns = mirrors * suns_of_hours(works);
    println!(
        "  places looked through   {:>10.0}",
        places(works, &search.0)
    );
    println!("  mirror-suns at every    {every_suns:>10}");
    println!("  mirror-suns in hours    {hours_suns:>10}");
    println!("  time of every ÷ search  {:>10.2}", every.1 / search.1);
    println!("  time of hours ÷ every   {:>10.2}", hours.1 / every.1);
    let prices = search.1 / price_s(works, &search.0);
    println!("  prices in a search      {prices:>10.0}");
    assert!(prices > LEAST_PRICES, "{prices}");
    print_differences("search against every", &search.0, &every.0);
    print_differences("every against hours", &every.0, &hours.0);
    let nanoseconds = |time_s: f64, suns: usize| 1e9 * time_s / suns as f64;
    println!(
        "  here: search {:.1} ms, every {:.1} ms ({:.0} ns a mirror-sun), hours {:.0} ms ({:.0} ns)",
        1e3 * search.1,
        1e3 * every.1,
        nanoseconds(every.1, every_suns),
        1e3 * hours.1,
        nanoseconds(hours.1, hours_suns),
    );
}

/// Whole fields from 1,000 to 200,000 mirrors: time for each mirror and memory, both held to what is promised.
fn print_growth() {
    let names = ["hundred", "thousand", "ten-thousand", "twenty-thousand"];
    let mirror_s = names.map(|name| {
        let works = field_named(name);
        let mirrors = f64::from(works.strings().count * works.strings().mirrors);
        let start = Instant::now();
        std::hint::black_box(evaluate_once(&works, Every, &mut Scratch::default()));
        let taken_s = start.elapsed().as_secs_f64();
        let peak_mb = peak_memory_mb();
        println!("{mirrors:>7.0} mirrors: {taken_s:.2} s, at most {peak_mb:.0} MB");
        assert!(peak_mb < MOST_MB, "{peak_mb} MB");
        taken_s / mirrors
    });
    let growth = mirror_s[3] / mirror_s[1];
    println!("a mirror of 200,000 takes {growth:.2} times as long as one of 10,000");
    assert!(growth < MOST_GROWTH, "{growth}");
}

/// Rays a second on all cores, and how many take as long as the fast model for a mirror: 10,000 mirrors,
/// each with its neighbours in the way.
fn print_rays() {
    let laid = Laid::new(&field_named("thousand"));
    let (postures, cores) = (
        laid.postures(),
        thread::available_parallelism().map_or(1, NonZero::get),
    );
    let start = Instant::now();
    std::hint::black_box(laid.light_of_all());
    let mirror_sun_s = start.elapsed().as_secs_f64() / (laid.plan.mirror_count() * LANES) as f64;
    for (sun, posture) in postures.iter().enumerate() {
        let judge = laid.judge(posture);
        let start = Instant::now();
        let rounds = |core: usize| core as u64 * ROUNDS..(core as u64 + 1) * ROUNDS;
        thread::scope(|scope| {
            let judge = &judge;
            let traced: Vec<_> = (0..cores)
                .map(|core| scope.spawn(move || judge.trace(rounds(core), 1)))
                .collect();
            traced.into_iter().for_each(|traced| drop(traced.join()));
        });
        let rays = cores as f64 * ROUNDS as f64 * laid.plan.mirror_count() as f64;
        let rays_s = rays / start.elapsed().as_secs_f64();
        println!(
            "sun {sun} at {:.0}°: {:.1} million rays a second on {cores} cores; the fast model takes as long for a mirror as {:.1} rays",
            libm::asin(posture.sun.z).to_degrees(),
            1e-6 * rays_s,
            rays_s / cores as f64 * mirror_sun_s,
        );
    }
}

/// The most memory that this process has held, as Linux tells it.
fn peak_memory_mb() -> f64 {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"));
    let kib = line.and_then(|line| line.split_whitespace().next()?.parse::<f64>().ok());
    kib.unwrap_or_else(|| panic!("the system does not tell")) / 1024.0
}

fn print_neighbours(works: &Works, mirrors: usize) {
    let (shaders, blockers) = Laid::new(works).around.of_all().entries();
    let each = |entries: usize| entries as f64 / mirrors as f64;
    println!(
        "  shaders listed          {shaders:>10} ({:.1} a mirror)",
        each(shaders)
    );
    println!(
        "  blockers listed         {blockers:>10} ({:.1} a mirror)",
        each(blockers)
    );
}

fn print_differences(name: &str, one: &Summary, other: &Summary) {
    let percent = |one: f64, other: f64| 100.0 * (one / other - 1.0);
    let light_percent = percent(one.optical_efficiency(), other.optical_efficiency());
    println!(
        "  {name}: light {light_percent:+.3} %, heat {:+.3} %",
        percent(one.delivered_j, other.delivered_j)
    );
    assert!(light_percent.abs() < MOST_OFF_PERCENT, "{light_percent}");
}

/// The summary and the best time.
fn timed(works: &Works, fidelity: Fidelity) -> (Summary, f64) {
    let mut scratch = Scratch::default();
    let summary = evaluate_once(works, fidelity, &mut scratch);
    let trials = if fidelity == Hours { 1 } else { TRIALS };
    let best_s = (0..trials)
        .map(|_| {
            let start = Instant::now();
            std::hint::black_box(evaluate_once(works, fidelity, &mut scratch));
            start.elapsed().as_secs_f64()
        })
        .fold(f64::INFINITY, f64::min);
    (summary, best_s)
}

/// Time to price a bill again.
fn price_s(works: &Works, summary: &Summary) -> f64 {
    let scenario = &works.case.scenario;
    let start = Instant::now();
    for _ in 0..PRICES {
        std::hint::black_box(ledger::price(
            std::hint::black_box(&summary.quantities),
            summary.delivered_j,
            &scenario.rates,
            &scenario.finance,
        ));
    }
    start.elapsed().as_secs_f64() / PRICES as f64
}

/// Places that were laid before the best were chosen.
fn places(works: &Works, summary: &Summary) -> f64 {
    let place = Margins::keys().iter().position(|key| *key == "places");
    let margin = place.map_or(0.0, |place| summary.margins.values()[place]);
    f64::from(works.strings().count) * (margin + 1.0)
}

fn suns_of_hours(works: &Works) -> usize {
    let case = &works.case;
    case.sun.hourly.wanted(&case.weather.dni_w_m2).len()
}
