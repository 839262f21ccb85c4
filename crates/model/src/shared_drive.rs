//! What sharing a drive costs in light: how far beams miss under every sun and at every length of
//! string, and what of the year's light the sharing loses.

use drive::{Drives, Line, Mechanism, Tolerances};
use field::{FirstAxis, Linkage, Plan, Stance, StringRow};
use geometry::{LANES, LaneVec3, Vec3, direction, lane};
use optics::STEPS;
use rayon::prelude::*;
use scenario::Design;

use crate::case::Case;
use crate::detail::Detail;
use crate::evaluate::Scratch;
use crate::fidelity::Fidelity;
use crate::infeasible::Infeasible;
use crate::lay::lay;
use crate::light::even_sample;
use crate::margins::Margins;
use crate::motion::{MOTION_STRINGS, beam_miss_rad2, motion};
use crate::site::Sited;
use crate::workings::TravelUse;
use crate::year_light::shine;

pub use drive::OffsetPlace;

/// The strings of a field with the drive that they share.
pub struct SharedDrive<'a> {
    case: &'a Case,
    plan: Plan,
    /// Unit vector to the sun under which each of these strings is set.
    alignment_suns: Vec<Vec3>,
    mechanism: Mechanism,
}

/// A mechanism by its parts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mounting {
    /// The axis fixed to the ground.
    pub first_axis: FirstAxis,
    /// How motion reaches the mirrors.
    pub linkage: Linkage,
    /// Where mirrors are set.
    pub offset: OffsetPlace,
}

impl<'a> SharedDrive<'a> {
    /// Some strings of a design, set as they are there, with the mechanism that turns them.
    #[must_use]
    pub fn of(case: &'a Case, detail: &Detail) -> Self {
        let sample = even_sample(detail.plan.strings.len(), MOTION_STRINGS);
        let count = |row: &StringRow| row.mirror_count;
        let suns = sample.iter().map(|&string| detail.alignment_suns[string]);
        Self {
            case,
            plan: strings_of(&detail.plan, &sample, count),
            alignment_suns: suns.collect(),
            mechanism: detail.mechanism,
        }
    }

    fn drives(&self, plan: &Plan, mechanism: &Mechanism) -> Drives {
        Drives::prepare_each(plan, mechanism, self.alignment_suns.clone())
    }

    /// The suns under which strings are set, each once.
    #[must_use]
    pub fn alignment_suns(&self) -> Vec<Vec3> {
        let mut suns: Vec<Vec3> = Vec::new();
        for sun in &self.alignment_suns {
            if !suns.contains(sun) {
                suns.push(*sun);
            }
        }
        suns
    }

    /// How far the mounts turn over the year, and what their stops cost.
    #[must_use]
    pub fn travel(&self) -> TravelUse {
        let drives = self.drives(&self.plan, &self.mechanism);
        TravelUse::of(self.case, &self.plan, &drives, &self.mechanism)
    }

    /// Beam error under each sun, root mean square over the mirrors whose drives follow it [rad]; NaN where
    /// none does.
    #[must_use]
    pub fn miss_rad(&self, suns: &[Vec3]) -> Vec<f64> {
        let drives = self.drives(&self.plan, &self.mechanism);
        let mut stance = Stance::default();
        let mut miss_rad = Vec::with_capacity(suns.len());
        for block in suns.chunks(LANES) {
            let last = block[block.len() - 1];
            let lanes = lane::columns(&std::array::from_fn(|at| *block.get(at).unwrap_or(&last)));
            let (mut squares, mut counts) = ([0.0; LANES], [0.0; LANES]);
            for string in 0..self.plan.strings.len() {
                drives.stand(&self.plan, string, &lanes, &mut stance);
                let of_string = squares_of(&self.plan, string, &lanes, &stance);
                for (at, &sun) in block.iter().enumerate() {
                    if drives.follows(&self.plan, string, sun) {
                        squares[at] += of_string[at];
                        counts[at] += self.plan.strings[string].mirror_count as f64;
                    }
                }
            }
            let of_block = squares.iter().zip(counts).take(block.len());
            miss_rad.extend(of_block.map(|(square, count)| (square / count).sqrt()));
        }
        miss_rad
    }

    /// Beam error with so many mirrors on each string, moved by a mechanism; root mean square over the
    /// mirrors and the year's sun [rad]. `None` if its parts do not go together.
    #[must_use]
    pub fn miss_at_length_rad(&self, mirrors: usize, mounting: Mounting) -> Option<f64> {
        let mechanism = Mechanism {
            offset: mounting.offset,
            ..self.mechanism
        };
        mechanism
            .check(mounting.first_axis, mounting.linkage)
            .ok()?;
        let mut plan = self.lengthened(mirrors);
        for row in &mut plan.strings {
            row.first_axis = mounting.first_axis;
            row.linkage = mounting.linkage;
        }
        let drives = self.drives(&plan, &mechanism);
        let all: Vec<usize> = (0..plan.strings.len()).collect();
        let stance = &mut Stance::default();
        Some(motion(&plan, &drives, &self.case.sun, &all, stance).residual_rad)
    }

    /// The least beam error that any rotation common to a string's mirrors allows, with so many mirrors
    /// on it [rad].
    #[must_use]
    pub fn bound_at_length_rad(&self, mirrors: usize) -> f64 {
        let plan = self.lengthened(mirrors);
        let all: Vec<usize> = (0..plan.strings.len()).collect();
        let drives = self.drives(&plan, &self.mechanism);
        motion(&plan, &drives, &self.case.sun, &all, &mut Stance::default()).bound_rad
    }

    /// How the strings are mounted.
    #[must_use]
    pub fn mounting(&self) -> Option<Mounting> {
        let row = self.plan.strings.first()?;
        Some(Mounting {
            first_axis: row.first_axis,
            linkage: row.linkage,
            offset: self.mechanism.offset,
        })
    }

    fn lengthened(&self, mirrors: usize) -> Plan {
        let all: Vec<usize> = (0..self.plan.strings.len()).collect();
        strings_of(&self.plan, &all, |_| mirrors)
    }
}

/// Sums of the squares of what the mirrors of a string miss by under eight suns.
fn squares_of(plan: &Plan, string: usize, suns: &LaneVec3, stance: &Stance) -> [f64; LANES] {
    let mut squares = [0.0; LANES];
    for (mirror, normals) in plan.strings[string].mirrors().zip(&stance.normals) {
        let target = plan.target(mirror);
        for (at, square) in squares.iter_mut().enumerate() {
            *square += beam_miss_rad2(lane::vector(suns, at), lane::vector(normals, at), target);
        }
    }
    squares
}

/// Some strings of a plan with as many mirrors as `count` says, about their reference mirrors, at their
/// pitch and on their aim points.
fn strings_of(plan: &Plan, strings: &[usize], count: impl Fn(&StringRow) -> usize) -> Plan {
    let mut out = Plan {
        aim_m: plan.aim_m,
        ..Plan::default()
    };
    for &string in strings {
        let row = &plan.strings[string];
        let reference = row.reference_mirror();
        let step_m = step_m(plan, row);
        let set = StringRow {
            first_mirror: out.mirror_count(),
            mirror_count: count(row),
            ..row.clone()
        };
        for place in 0..set.mirror_count {
            let steps = place as f64 - (set.mirror_count / 2) as f64;
            let centre_m = plan.centre_m(reference) + step_m * steps;
            out.x_m.push(centre_m.x);
            out.y_m.push(centre_m.y);
            out.z_m.push(centre_m.z);
            out.width_m.push(plan.width_m[reference]);
            out.height_m.push(plan.height_m[reference]);
            out.focal_length_m.push(plan.focal_length_m[reference]);
            out.aim_shift_m.push(plan.aim_of_m(reference) - plan.aim_m);
        }
        out.strings.push(set);
    }
    out
}

fn step_m(plan: &Plan, row: &StringRow) -> Vec3 {
    match row.mirror_count.saturating_sub(1) {
        0 => direction::along_bearing(row.bearing_rad) * plan.width_m[row.first_mirror],
        steps => {
            let (first, last) = (row.first_mirror, row.first_mirror + steps);
            (plan.centre_m(last) - plan.centre_m(first)) / steps as f64
        }
    }
}

/// Light through the aperture in the year as one cause after another is let act [J].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LightLost {
    /// Every mirror exactly on target, nothing gives way or is built wrong.
    pub exact_j: f64,
    /// Mirrors turned as the shared drive turns them.
    pub shared_j: f64,
    /// And lines that stretch.
    pub stretched_j: f64,
    /// And posts, axes, joints, levers and offsets within their tolerances: the light as it is.
    pub built_j: f64,
}

/// What each of these designs loses by sharing drives, from some of its strings.
#[must_use]
pub fn light_lost(case: &Case, designs: &[Design]) -> Vec<Result<LightLost, Infeasible>> {
    designs
        .par_iter()
        .map(|design| lost_by(case, design))
        .collect()
}

fn lost_by(case: &Case, design: &Design) -> Result<LightLost, Infeasible> {
    let mut margins = Margins::unknown();
    let scratch = &mut Scratch::default();
    let mut site = lay(case, design, &mut margins, scratch)?.site;
    let built = site.mechanism;
    let true_to_size = Mechanism {
        tolerances: Tolerances::default(),
        ..built
    };
    let stiff = Mechanism {
        line: Line {
            wind_moment_rms_n_m: 0.0,
            warmth_rad_m: 0.0,
            coupling_play_m: 0.0,
            ..built.line
        },
        ..true_to_size
    };
    let own = site.plan.strings.first();
    let own = own.map_or(Linkage::EqualAngle, |row| row.linkage);
    let mut light_j = |mechanism: &Mechanism, linkage: Linkage| {
        for row in &mut site.plan.strings {
            row.linkage = linkage;
        }
        site.drives = site.alignment.drives(&site.plan, mechanism);
        aperture_j(case, &site, scratch)
    };
    // Levers that slide keep every mirror on its target.
    let exact = Mechanism {
        offset: OffsetPlace::Lever,
        ..stiff
    };
    Ok(LightLost {
        exact_j: light_j(&exact, Linkage::SlidingLever),
        shared_j: light_j(&stiff, own),
        stretched_j: light_j(&true_to_size, own),
        built_j: light_j(&built, own),
    })
}

fn aperture_j(case: &Case, site: &Sited, scratch: &mut Scratch) -> f64 {
    let light = shine(case, site, Fidelity::Search, scratch);
    light.chain_j(case)[STEPS - 1]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::inputs::tests::{demo, design};
    use crate::{Fidelity, detail, evaluate};

    const SMALL: [(&str, &str); 3] = [
        ("strings.count", "30"),
        ("strings.mirrors", "7"),
        ("heat.demand.serve_at_least", "0 %"),
    ];

    fn shared(case: &Case) -> SharedDrive<'_> {
        let design = design(case);
        let detail = detail(case, &design).unwrap();
        SharedDrive::of(case, &detail)
    }

    /// Over the year's suns strings of their own length miss by what the evaluation says.
    fn assert_misses_as_evaluated(case: &Case, drive: &SharedDrive<'_>) {
        let own = drive
            .miss_at_length_rad(7, drive.mounting().unwrap())
            .unwrap();
        let scratch = &mut Scratch::default();
        let summary = evaluate(case, &design(case), Fidelity::Every, scratch).unwrap();
        assert!((own / summary.residual_rad - 1.0).abs() < 1e-9, "{own}");
    }

    /// No miss under the alignment sun, and over the year's suns what the evaluation says.
    #[test]
    fn misses_are_those_of_the_evaluation() {
        let case = demo(&SMALL);
        let drive = shared(&case);
        let aligned = drive.miss_rad(&[case.alignment_sun, Vec3::Z]);
        assert!(aligned[0] < 1e-12 && aligned[1] > 1e-4, "{aligned:?}");
        assert_misses_as_evaluated(&case, &drive);
    }

    /// Strings of every sector are set under a sun of their own, and what is shown of them is what they do so.
    #[test]
    fn strings_are_shown_as_they_are_set() {
        let sectors = [("strings.count", "90"), ("strings.alignment.instants", "3")];
        let apart = [SMALL.as_slice(), &sectors].concat();
        let case = demo(&apart);
        let drive = shared(&case);
        let suns = drive.alignment_suns();
        assert_eq!(suns.len(), 3, "{suns:?}");
        assert!(suns.iter().all(|sun| drive.miss_rad(&[*sun])[0] > 1e-4));
        assert_misses_as_evaluated(&case, &drive);
        assert_eq!(drive.travel().lost_h, 0.0);
    }

    /// To first order a miss grows in proportion to a string's length (the root mean square of evenly
    /// spaced places about the middle goes with √(n² − 1)); no common turn beats the bound, sliding
    /// levers do.
    #[test]
    fn misses_grow_with_length_and_keep_the_bound() {
        let case = demo(&SMALL);
        let drive = shared(&case);
        for first_axis in [
            FirstAxis::Along,
            FirstAxis::Across,
            FirstAxis::Polar,
            FirstAxis::RollFree,
        ] {
            let shimmed = Mounting {
                first_axis,
                linkage: Linkage::EqualAngle,
                offset: OffsetPlace::Shim,
            };
            let miss = |mirrors| drive.miss_at_length_rad(mirrors, shimmed).unwrap();
            let grown = miss(15) / miss(5);
            let wanted = (224.0f64 / 24.0).sqrt();
            assert!(
                (grown / wanted - 1.0).abs() < 0.05,
                "{first_axis:?} {grown}"
            );
            assert!(miss(15) > drive.bound_at_length_rad(15), "{first_axis:?}");
        }
        let sliding = Mounting {
            first_axis: FirstAxis::Along,
            linkage: Linkage::SlidingLever,
            offset: OffsetPlace::Lever,
        };
        assert!(drive.miss_at_length_rad(15, sliding).unwrap() < 1e-9);
        let impossible = Mounting {
            offset: OffsetPlace::Shim,
            ..sliding
        };
        assert_eq!(drive.miss_at_length_rad(15, impossible), None);
    }

    /// Each cause takes light; the last light is the evaluation's own.
    #[test]
    fn every_cause_takes_light() {
        let case = demo(&SMALL);
        let design = design(&case);
        let lost = light_lost(&case, std::slice::from_ref(&design))
            .remove(0)
            .unwrap();
        assert!(lost.exact_j > lost.shared_j && lost.shared_j >= lost.stretched_j);
        assert!(lost.stretched_j > lost.built_j, "{lost:?}");
        let scratch = &mut Scratch::default();
        let summary = evaluate(&case, &design, Fidelity::Search, scratch).unwrap();
        assert!((lost.built_j / summary.chain_j[STEPS - 1] - 1.0).abs() < 1e-12);
    }
}
