//! When mirrors are set, and what other instants cost.

use drive::YearBeams;

use crate::alignment::{Alignment, Instant, beams_by_instant, best_of, sampled, year_suns};
use crate::case::Case;
use crate::site::Sited;

/// Sectors that the field is parted into when it is asked what instants of their own would bring.
const PARTS: u32 = 4;

/// Strings that speak for the field.
const SAMPLE_STRINGS: usize = 96;

/// An hour off by so much is looked at [h].
const HOURS_OFF: i64 = 2;

/// When mirrors are set, and what other instants cost over the year, for strings that speak for the field.
#[derive(Clone, Debug, PartialEq)]
pub struct AlignmentNews {
    /// As the design has it.
    pub now: YearBeams,
    /// When each sector is set, clockwise; none where the scenario gives the sun.
    pub instants: Vec<Option<Instant>>,
    /// The best instant for the whole field, and what it leaves.
    pub best: Option<(Instant, YearBeams)>,
    /// Two hours from it on the same day, whichever is worse.
    pub hours_off: YearBeams,
    /// The same hour at the solstice farther away.
    pub season_off: YearBeams,
    /// The worst instant of daylight.
    pub worst: YearBeams,
    /// Four sectors, each at its own best instant.
    pub parted: YearBeams,
}

impl AlignmentNews {
    pub(super) fn of(case: &Case, site: &Sited) -> Self {
        let all: Vec<usize> = (0..site.plan.strings.len()).collect();
        let sample = sampled(&site.plan, &all, SAMPLE_STRINGS);
        let sample_strings: Vec<usize> = (0..sample.strings.len()).collect();
        let mechanism = &site.mechanism;
        let each = beams_by_instant(case, &sample, mechanism);
        let best = best_of(&each);
        let left = |alignment: &Alignment| {
            let drives = alignment.drives(&sample, mechanism);
            year_suns(case).beams(&sample, &drives, &sample_strings)
        };
        let parted = Alignment::found(case, &site.plan, mechanism, PARTS);
        let near = |wanted: &dyn Fn(&Instant, &Instant) -> bool| worst(case, &each, best, wanted);
        let instants = site.alignment.instants.iter();
        Self {
            now: left(&site.alignment),
            instants: instants.map(|at| at.map(|at| case.instants[at])).collect(),
            best: best.map(|at| (case.instants[at], each[at])),
            hours_off: near(&|best, other| {
                day(best) == day(other) && ((best.hour - other.hour) as i64).abs() == HOURS_OFF
            }),
            season_off: near(&|best, other| clock_h(best) == clock_h(other) && is_solstice(other)),
            worst: near(&|_, _| true),
            parted: left(&parted),
        }
    }
}

/// The worst among the instants that `wanted` picks beside the best.
fn worst(
    case: &Case,
    each: &[YearBeams],
    best: Option<usize>,
    wanted: &dyn Fn(&Instant, &Instant) -> bool,
) -> YearBeams {
    let Some(best) = best else {
        return YearBeams::default();
    };
    case.instants
        .iter()
        .zip(each)
        .filter(|(other, _)| wanted(&case.instants[best], other))
        .map(|(_, left)| *left)
        .fold(each[best], |worst, next| {
            if next.missed_rad > worst.missed_rad {
                next
            } else {
                worst
            }
        })
}

fn day(instant: &Instant) -> i64 {
    (instant.hour / 24.0) as i64
}

fn clock_h(instant: &Instant) -> f64 {
    instant.hour - 24.0 * day(instant) as f64
}

fn is_solstice(instant: &Instant) -> bool {
    matches!(day(instant), 171 | 354)
}
