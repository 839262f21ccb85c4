//! When mirrors are set on their targets: the best date and hour of the field or of parts of it.
//!
//! A mirror misses by what the sun has moved since the one under which it was set. So there is a best
//! sun for that, which the calendar meets at some date and hour; strings to the east and west of the
//! tower want other hours. Nothing here knows of light or prices: the best is the least mean square
//! beam error over the year's direct sun, what drives at their stops miss by counted as well, so that no
//! instant is chosen that leaves them there where another does not.

use std::f64::consts::TAU;

use drive::{Drives, Mechanism, YearBeams, YearSuns};
use field::{Places, Plan};
use geometry::Vec3;
use sky::{Air, Moment, sun_direction};

use crate::case::Case;
use crate::inputs;
use crate::light::even_sample;

/// Strings that speak for a sector when its best instant is looked for.
const SAMPLE_STRINGS: usize = 8;

/// Days of the year, 0 the first, between solstice and solstice: declination comes back in the
/// other half of the year.
const DAYS: [u32; 7] = [354, 20, 50, 79, 110, 140, 171];
/// Hours of the day, local standard time.
const HOURS: std::ops::RangeInclusive<u32> = 5..=19;
/// Lower than this the sun's image is too weak to set mirrors by (common practice, no source).
const LEAST_SINE: f64 = 0.17;

/// A moment of the year at which mirrors can be set by the sun.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Instant {
    /// Hours since the year began, local standard time.
    pub hour: f64,
    /// Unit vector to the sun.
    pub sun: Vec3,
}

/// The instants among which the best is looked for: every hour of seven days, in the air of a mild
/// day.
pub(crate) fn instants(scenario: &scenario::Scenario, year: i32) -> Vec<Instant> {
    let site = inputs::site(&scenario.site);
    let air = Air::at_altitude(site.altitude_m, MILD_K);
    let at = |hour: f64| {
        let moment = Moment::in_year(year, hour, scenario.site.utc_offset_h).ok()?;
        let sun = sun_direction(&site, &moment, &air).ok()?;
        (sun.z > LEAST_SINE).then_some(Instant { hour, sun })
    };
    let hours = DAYS
        .iter()
        .flat_map(|day| HOURS.map(move |hour| f64::from(24 * day + hour)));
    hours.filter_map(at).collect()
}

/// Air for refraction, 15 degC [K].
const MILD_K: f64 = 288.15;

/// Under which suns the strings of a field are set.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Alignment {
    /// Middle of the first sector and width of each, by azimuth clockwise [rad].
    first_rad: f64,
    step_rad: f64,
    /// The sun of each sector.
    suns: Vec<Vec3>,
    /// Which of the case's instants each is; none where the scenario gives the sun.
    pub instants: Vec<Option<usize>>,
}

impl Alignment {
    /// The one sun that the scenario gives.
    pub fn given(case: &Case) -> Self {
        Self {
            first_rad: 0.0,
            step_rad: TAU,
            suns: vec![case.alignment_sun],
            instants: vec![None],
        }
    }

    /// The best instant of each of `parts` sectors of `plan`; the scenario's own sun for none, and
    /// where a sector holds no string.
    pub fn found(case: &Case, plan: &Plan, mechanism: &Mechanism, parts: u32) -> Self {
        if parts == 0 {
            return Self::given(case);
        }
        let common = &case.scenario.field;
        let step_rad = 2.0 * common.sector_half_rad / f64::from(parts);
        let mut found = Self {
            first_rad: common.sector_centre_rad - common.sector_half_rad + 0.5 * step_rad,
            step_rad,
            suns: vec![case.alignment_sun; parts as usize],
            instants: vec![None; parts as usize],
        };
        for sector in 0..parts as usize {
            let strings = found.strings_of(plan, sector);
            let sample = sampled(plan, &strings, SAMPLE_STRINGS);
            if let Some(best) = best_instant(case, &sample, mechanism) {
                found.suns[sector] = case.instants[best].sun;
                found.instants[sector] = Some(best);
            }
        }
        found
    }

    /// The sun of each string of a plan.
    pub fn suns(&self, plan: &Plan) -> Vec<Vec3> {
        (0..plan.strings.len())
            .map(|string| self.suns[self.sector_of(plan, string)])
            .collect()
    }

    /// Drives of a plan whose strings are set under these suns.
    pub fn drives(&self, plan: &Plan, mechanism: &Mechanism) -> Drives {
        Drives::prepare_each(plan, mechanism, self.suns(plan))
    }

    fn strings_of(&self, plan: &Plan, sector: usize) -> Vec<usize> {
        (0..plan.strings.len())
            .filter(|&string| self.sector_of(plan, string) == sector)
            .collect()
    }

    fn sector_of(&self, plan: &Plan, string: usize) -> usize {
        let middle_m = plan.centre_m(plan.strings[string].reference_mirror());
        let azimuth_rad = libm::atan2(middle_m.x, middle_m.y);
        let turned_rad = (azimuth_rad - self.first_rad + 0.5 * self.step_rad).rem_euclid(TAU);
        let sector = (turned_rad / self.step_rad) as usize;
        sector.min(self.suns.len() - 1)
    }
}

/// An even sample of some strings, as a plan of its own.
pub(crate) fn sampled(plan: &Plan, strings: &[usize], wanted: usize) -> Plan {
    if strings.is_empty() {
        return Plan::default();
    }
    let chosen: Vec<usize> = even_sample(strings.len(), wanted)
        .into_iter()
        .map(|index| strings[index])
        .collect();
    field::take(&Places { plan: plan.clone() }, &chosen)
}

/// What the strings of `plan` do over the year when they are set at each of the case's instants.
pub(crate) fn beams_by_instant(case: &Case, plan: &Plan, mechanism: &Mechanism) -> Vec<YearBeams> {
    let suns: Vec<Vec3> = case.instants.iter().map(|instant| instant.sun).collect();
    year_suns(case).beams_by_alignment(plan, mechanism, &suns)
}

/// The best of them; none of none.
pub(crate) fn best_of(beams: &[YearBeams]) -> Option<usize> {
    let each = beams.iter().enumerate();
    each.min_by(|(_, one), (_, other)| one.missed_rad.total_cmp(&other.missed_rad))
        .map(|(at, _)| at)
}

/// The instant at which the strings of `plan` are set best; none without strings or instants.
fn best_instant(case: &Case, plan: &Plan, mechanism: &Mechanism) -> Option<usize> {
    if plan.strings.is_empty() {
        return None;
    }
    best_of(&beams_by_instant(case, plan, mechanism))
}

/// The node suns as the drive takes them.
pub(crate) const fn year_suns(case: &Case) -> YearSuns<'_> {
    YearSuns {
        directions: &case.sun.direction,
        weights: &case.sun.dni_j_m2,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::detail;
    use crate::inputs::tests::{demo, design};

    /// About noon misses least over the year, for the whole field and for each of three parts of it: then the sun stands
    /// in the middle of all that a string follows.
    #[test]
    fn a_field_is_set_best_about_noon_and_so_are_its_parts() {
        let case = demo(&[
            ("strings.first_axis", "roll-free"),
            ("strings.count", "120"),
            ("field.outer_radius", "2.2"),
            ("field.sector", "90 deg"),
            ("heat.demand.serve_at_least", "0 %"),
        ]);
        let design = design(&case);
        let detail = detail(&case, &design).unwrap();
        let mechanism = detail.mechanism;
        let apart = Alignment::found(&case, &detail.plan, &mechanism, 3);
        let is_noon = |sun: &Vec3| sun.x.abs() < 0.13 && sun.y < 0.0;
        assert!(
            apart.suns.len() == 3 && apart.suns.iter().all(is_noon),
            "{:?}",
            apart.suns
        );
        let year = year_suns(&case);
        let all: Vec<usize> = (0..detail.plan.strings.len()).collect();
        let missed_rad = |parts: u32| {
            let alignment = Alignment::found(&case, &detail.plan, &mechanism, parts);
            let drives = alignment.drives(&detail.plan, &mechanism);
            year.beams(&detail.plan, &drives, &all).missed_rad
        };
        let [given_rad, one_rad, three_rad] = [0, 1, 3].map(missed_rad);
        assert!(one_rad <= 1.001 * given_rad, "{one_rad} {given_rad}");
        // What few strings say of a sector is not quite what all of it needs.
        assert!(three_rad < 1.005 * one_rad, "{three_rad} {one_rad}");
    }

    #[test]
    fn instants_are_daylight_of_both_solstices() {
        let case = demo(&[]);
        let hours: Vec<f64> = case.instants.iter().map(|instant| instant.hour).collect();
        assert!(hours.iter().any(|hour| *hour > 24.0 * 353.0));
        assert!(
            case.instants
                .iter()
                .all(|instant| instant.sun.z > LEAST_SINE)
        );
        let highest = case
            .instants
            .iter()
            .map(|instant| instant.sun.z)
            .fold(0.0, f64::max);
        // 90° − 37.1° + 23.44° at the summer solstice, within the half hour to its noon.
        assert!((libm::asin(highest).to_degrees() - 76.3).abs() < 1.0);
    }
}
