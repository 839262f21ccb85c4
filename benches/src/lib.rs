//! Shared set-up of the benches, and how to run them.
//!
//! ```text
//! cargo bench -p tautfield-benches --bench evaluate    whole evaluations, re-pricing
//! cargo bench -p tautfield-benches --bench parts       what an evaluation consists of
//! cargo bench -p tautfield-benches --bench counts      counts and ratios instead of times
//! ```
//!
//! Times depend on the machine and on who else uses it; instructions hardly do. Valgrind counts
//! those of one evaluation, its preparation left out, and tells where they went:
//!
//! ```text
//! cargo bench -p tautfield-benches --bench counts --no-run
//! valgrind --tool=callgrind --toggle-collect='*evaluate_once*' \
//!     target/release/deps/counts-* search thousand
//! callgrind_annotate callgrind.out.* | head -40
//! ```
//!
//! The words are a fidelity (`search`, `every`, `hours`) and a field (`demo`, `hundred`,
//! `thousand`, `ten-thousand`, `twenty-thousand` strings); the word `growth` alone holds time and memory of ever
//! larger fields against the number of mirrors, the word `rays` the judge's pace on all cores. What `memset` and `memcpy` take is counted too high there: a block filled by one
//! repeated instruction counts as one for each byte.

#![allow(clippy::expect_used, clippy::panic)]

mod laid;
mod sizes;

use model::{Fidelity, Scratch, Summary};
use tautfield_tests::Works;

pub use laid::Laid;
pub use sizes::{hours, plant_inputs, string_inputs};

/// The demo as it stands.
#[must_use]
pub fn demo() -> Works {
    Works::new(&[])
}

/// 100 strings of 10 mirrors.
#[must_use]
pub fn hundred_strings() -> Works {
    Works::new(&[
        ("strings.count", "100"),
        ("strings.mirrors", "10"),
        ("heat.demand.power", "800 kW"),
    ])
}

/// 1,000 strings of 10 mirrors around a higher tower.
#[must_use]
pub fn thousand_strings() -> Works {
    Works::new(&[
        ("strings.count", "1000"),
        ("strings.mirrors", "10"),
        ("tower.aim_height", "60 m"),
        ("receiver.aperture_width", "6 m"),
        ("receiver.aperture_height", "6 m"),
        ("heat.demand.power", "8 MW"),
    ])
}

/// 10,000 strings of 10 mirrors around a tall tower.
#[must_use]
pub fn ten_thousand_strings() -> Works {
    Works::new(&[
        ("strings.count", "10000"),
        ("strings.mirrors", "10"),
        ("field.outer_radius", "6"),
        ("tower.aim_height", "150 m"),
        ("receiver.aperture_width", "14 m"),
        ("receiver.aperture_height", "14 m"),
        ("heat.demand.power", "80 MW"),
        ("heat.demand.serve_at_least", "0 %"),
    ])
}

/// 20,000 strings of 10 mirrors around a taller one: as large as a field may grow.
#[must_use]
pub fn twenty_thousand_strings() -> Works {
    Works::new(&[
        ("strings.count", "20000"),
        ("strings.mirrors", "10"),
        ("field.outer_radius", "8"),
        ("tower.aim_height", "210 m"),
        ("receiver.aperture_width", "20 m"),
        ("receiver.aperture_height", "20 m"),
        ("heat.demand.power", "160 MW"),
        ("heat.demand.serve_at_least", "0 %"),
    ])
}

/// Strings in the fields that times are told for, by name: 1,000, 10,000 and 100,000 mirrors.
pub const SIZES: [&str; 3] = ["hundred", "thousand", "ten-thousand"];

/// A field by its name.
///
/// # Panics
/// When there is none of that name.
#[must_use]
pub fn field_named(name: &str) -> Works {
    match name {
        "demo" => demo(),
        "hundred" => hundred_strings(),
        "thousand" => thousand_strings(),
        "ten-thousand" => ten_thousand_strings(),
        "twenty-thousand" => twenty_thousand_strings(),
        _ => panic!("no field {name}: demo, hundred, thousand, ten-thousand or twenty-thousand"),
    }
}

/// The same works with sun in every `step`th hour only: hours without direct sun take no time.
#[must_use]
pub fn with_fewer_hours(mut works: Works, step: usize) -> Works {
    let hours = works.case.weather.dni_w_m2.iter_mut().enumerate();
    hours
        .filter(|(hour, _)| hour % step != 0)
        .for_each(|(_, dni_w_m2)| *dni_w_m2 = 0.0);
    works
}

/// One evaluation, never inlined, so that a profiler can tell it from its preparation.
///
/// # Panics
/// When the design breaks a limit.
#[inline(never)]
#[must_use]
pub fn evaluate_once(works: &Works, fidelity: Fidelity, scratch: &mut Scratch) -> Summary {
    model::evaluate(&works.case, &works.design, fidelity, scratch).expect("a sound design")
}
