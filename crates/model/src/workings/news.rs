//! When mirrors are set, and what other instants cost.

use crate::alignment::{Alignment, Instant, residuals_rad, sampled, year_suns};
use crate::case::Case;
use crate::site::Sited;

/// Sectors that the field is parted into when it is asked what instants of their own would bring.
const PARTS: u32 = 4;

/// Strings that speak for the field.
const SAMPLE_STRINGS: usize = 96;

/// An hour off by so much is looked at [h].
const HOURS_OFF: i64 = 2;

/// When mirrors are set, and what other instants cost; all root mean square beam errors over the
/// year [rad], for strings that speak for the field.
#[derive(Clone, Debug, PartialEq)]
pub struct AlignmentNews {
    /// As the design has it.
    pub now_rad: f64,
    /// When each sector is set, clockwise; none where the scenario gives the sun.
    pub now: Vec<Option<Instant>>,
    /// The best instant for the whole field, and what it leaves.
    pub best: Option<(Instant, f64)>,
    /// Two hours from it on the same day, whichever is worse.
    pub hours_off_rad: f64,
    /// The same hour at the solstice farther away.
    pub season_off_rad: f64,
    /// The worst instant of daylight.
    pub worst_rad: f64,
    /// Four sectors, each at its own best instant.
    pub parted_rad: f64,
}

impl AlignmentNews {
    pub(super) fn of(case: &Case, site: &Sited) -> Self {
        let all: Vec<usize> = (0..site.plan.strings.len()).collect();
        let sample = sampled(&site.plan, &all, SAMPLE_STRINGS);
        let sample_strings: Vec<usize> = (0..sample.strings.len()).collect();
        let mechanism = &site.mechanism;
        let residuals_rad = residuals_rad(case, &sample, mechanism);
        let ranked = residuals_rad.iter().copied().enumerate();
        let best = ranked.min_by(|(_, one), (_, other)| one.total_cmp(other));
        let left_rad = |alignment: &Alignment| {
            let drives = alignment.drives(&sample, mechanism);
            let year = year_suns(case);
            year.beams(&sample, &drives, &sample_strings).residual_rad
        };
        let parted = Alignment::found(case, &site.plan, mechanism, PARTS);
        let near = |wanted: &dyn Fn(&Instant, &Instant) -> bool| {
            worst(case, &residuals_rad, best.map(|(at, _)| at), wanted)
        };
        Self {
            now_rad: left_rad(&site.alignment),
            now: site
                .alignment
                .instants
                .iter()
                .map(|at| at.map(|at| case.instants[at]))
                .collect(),
            best: best.map(|(at, left_rad)| (case.instants[at], left_rad)),
            hours_off_rad: near(&|best, other| {
                day(best) == day(other) && ((best.hour - other.hour) as i64).abs() == HOURS_OFF
            }),
            season_off_rad: near(&|best, other| {
                clock_h(best) == clock_h(other) && is_solstice(other)
            }),
            worst_rad: residuals_rad.iter().copied().fold(0.0, f64::max),
            parted_rad: left_rad(&parted),
        }
    }
}

/// The worst residual among the instants that `wanted` picks beside the best.
fn worst(
    case: &Case,
    residuals_rad: &[f64],
    best: Option<usize>,
    wanted: &dyn Fn(&Instant, &Instant) -> bool,
) -> f64 {
    let Some(best) = best else { return 0.0 };
    case.instants
        .iter()
        .zip(residuals_rad)
        .filter(|(other, _)| wanted(&case.instants[best], other))
        .map(|(_, left_rad)| *left_rad)
        .fold(residuals_rad[best], f64::max)
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
