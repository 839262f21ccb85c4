//! A field as a crew and a purchaser need it: where everything stands, how it is set, what is bought.

mod heliostats;
mod panels;
mod posts;
mod purchases;
mod sun_times;

use field::Plan;
use geometry::{Vec3, direction};
use scenario::{Design, DrivenFrom, FieldDesign};
use structure::StringInputs;

use crate::case::Case;
use crate::evaluate::Scratch;
use crate::infeasible::Infeasible;
use crate::inputs::{self, Lee};
use crate::make::{ByLee, FLAT_FOCAL_LENGTH_M, Make, stands};
use crate::makes::Makes;
use crate::margins::Margins;
use crate::site::{Sited, place};
use crate::stand::{Stood, stand};

pub use drive::MountAxes;
pub use heliostats::{CantedPanel, SetHeliostats, set_out_heliostat_plan, set_out_heliostats};
pub use panels::{Mark, SetPanel};
pub use posts::{SetPost, Standing};
pub use purchases::{FromStock, Goods, Purchase};
pub use structure::{Chs, Governing, LineKind, LoadCase, Mover, PostDuty, Stock, TubeUse};
pub use sun_times::{SunTime, sun_times, suns_of_day};

/// A field to be built.
pub struct SetOut {
    /// Where every mirror stands.
    pub plan: Plan,
    /// Its strings, make by make.
    pub makes: Vec<Make>,
    /// Posts and frames, string by string.
    pub posts: Vec<SetPost>,
    /// Mirrors, in plan order.
    pub panels: Vec<SetPanel>,
    /// Strings, in plan order.
    pub strings: Vec<SetString>,
    /// What is bought for the strings.
    pub purchases: Vec<Purchase>,
    /// Suns under which mirrors are set on their targets, in the order of their first strings.
    pub alignments: Vec<SetUnder>,
    /// How far the field keeps from its limits, as far as it was looked at.
    pub margins: Margins,
}

/// A sun under which strings are set.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SetUnder {
    /// Unit vector to the sun.
    pub sun: Vec3,
    /// How many strings are set under it.
    pub strings: usize,
}

/// What is shared by the mirrors of one string.
#[derive(Clone, Debug, PartialEq)]
pub struct SetString {
    /// Which string it is, in plan order.
    pub string: usize,
    /// Which make it is of, as a place in [`SetOut::makes`].
    pub make: usize,
    /// The mirror kept on target, as a place in the plan's columns.
    pub reference_mirror: usize,
    /// Unit vector to the sun under which its mirrors are set.
    pub alignment_sun: Vec3,
    /// How its mounts stand at alignment.
    pub axes: MountAxes,
    /// Ends of the string, half a pitch beyond the first and the last mirror: those of its rail where posts
    /// have one.
    pub ends_m: [Vec3; 2],
    /// Where the drives stand.
    pub drive_m: Vec3,
}

/// A make with what it was sized from.
struct Built {
    make: Make,
    inputs: StringInputs,
}

/// Sets out the field that a design lays.
///
/// # Errors
/// [`Infeasible`] when it breaks a limit before it stands.
pub fn set_out(case: &Case, design: &Design) -> Result<SetOut, Infeasible> {
    let FieldDesign::Strings(strings) = &design.field else {
        return Err(not_strings());
    };
    let mut margins = Margins::unknown();
    let both = ByLee::of(case, design, strings, &mut margins)?;
    let scratch = &mut Scratch::default();
    let site = place(case, design, strings, &both.inside, &mut margins, scratch)?;
    let makes = both.makes(case, &site.plan, strings).into_iter();
    let built = makes.map(|make| Built {
        inputs: inputs::string_inputs(case, design, &make.strings, make.lee),
        make,
    });
    let built: Vec<Built> = built.collect();
    of_site(case, site, built, margins)
}

/// Sets out a given plan, with all else as a design has it; it may break limits.
///
/// # Errors
/// [`Infeasible`] when a string's inputs make no sense together.
pub fn set_out_plan(case: &Case, design: &Design, plan: Plan) -> Result<SetOut, Infeasible> {
    let mut margins = Margins::unknown();
    let scratch = &mut Scratch::default();
    let Stood { site, makes } = stand(case, design, plan, &mut margins, scratch)?;
    let Makes::Strings(makes) = makes else {
        return Err(not_strings());
    };
    let inputs = |make: &Make| inputs::string_inputs(case, design, &make.strings, make.lee);
    let built = makes.into_iter().map(|make| Built {
        inputs: inputs(&make),
        make,
    });
    let mut built: Vec<Built> = built.collect();
    bend_for_the_nearest(&site.plan, &stands(case, &site.plan), &mut built);
    of_site(case, site, built, margins)
}

/// Heliostats are set out by [`set_out_heliostats`].
fn not_strings() -> Infeasible {
    let reason = "heliostats have no strings to be set out".to_owned();
    Infeasible::unbuildable(reason, Margins::unknown())
}

fn of_site(
    case: &Case,
    site: Sited,
    built: Vec<Built>,
    margins: Margins,
) -> Result<SetOut, Infeasible> {
    let plan = &site.plan;
    let lees = stands(case, plan);
    let strings: Vec<SetString> = (0..plan.strings.len())
        .map(|string| {
            let make = make_of(plan, string, lees[string], &built);
            set_string(&site, string, make, &built[make])
        })
        .collect();
    let unbuildable =
        |error: structure::StructureError| Infeasible::unbuildable(error.to_string(), margins);
    Ok(SetOut {
        posts: posts::posts(case, plan, &strings, &built).map_err(unbuildable)?,
        panels: panels::panels(&site, &strings, &built),
        purchases: purchases::purchases(case, &built).map_err(unbuildable)?,
        alignments: alignments(&strings),
        strings,
        makes: built.into_iter().map(|built| built.make).collect(),
        margins,
        plan: site.plan,
    })
}

fn alignments(strings: &[SetString]) -> Vec<SetUnder> {
    let mut suns: Vec<SetUnder> = Vec::new();
    for string in strings {
        match suns
            .iter_mut()
            .find(|under| under.sun == string.alignment_sun)
        {
            Some(under) => under.strings += 1,
            None => suns.push(SetUnder {
                sun: string.alignment_sun,
                strings: 1,
            }),
        }
    }
    suns
}

/// The make that a string is of: as open to the wind, as many mirrors, and nearest in side and pitch.
fn make_of(plan: &Plan, string: usize, lee: Lee, built: &[Built]) -> usize {
    let row = &plan.strings[string];
    let side_m = row
        .mirrors()
        .map(|mirror| plan.area_m2(mirror))
        .fold(0.0, f64::max)
        .sqrt();
    let pitch_m = pitch_m(plan, string);
    let unlike = |built: &Built| {
        let count = row
            .mirror_count
            .abs_diff(built.make.strings.mirrors as usize) as f64;
        let pitch = pitch_m.map_or(0.0, |pitch_m| (pitch_m - built.make.pitch_m()).abs());
        count + (side_m - built.make.strings.side_m).abs() + pitch
    };
    let places = (0..built.len()).filter(|place| built[*place].make.lee == lee);
    places
        .min_by(|one, other| unlike(&built[*one]).total_cmp(&unlike(&built[*other])))
        .unwrap_or(0)
}

/// Mean distance between neighbours; none of a single mirror.
fn pitch_m(plan: &Plan, string: usize) -> Option<f64> {
    let row = &plan.strings[string];
    let steps = row.mirrors().skip(1);
    let length_m: f64 = steps
        .map(|mirror| plan.centre_m(mirror).distance(plan.centre_m(mirror - 1)))
        .sum();
    (row.mirror_count > 1).then(|| length_m / (row.mirror_count as f64 - 1.0))
}

/// The glass of each make of a plan is bent for the nearest of its mirrors.
fn bend_for_the_nearest(plan: &Plan, lees: &[Lee], built: &mut [Built]) {
    let mut nearest_m = vec![FLAT_FOCAL_LENGTH_M; built.len()];
    for (string, row) in plan.strings.iter().enumerate() {
        let make = make_of(plan, string, lees[string], built);
        let focal_lengths_m = plan.focal_length_m[row.mirrors()].iter().copied();
        nearest_m[make] = focal_lengths_m.fold(nearest_m[make], f64::min);
    }
    for (built, nearest_m) in built.iter_mut().zip(nearest_m) {
        built.inputs.panel.shortest_focal_length_m = nearest_m;
    }
}

fn set_string(site: &Sited, string: usize, make: usize, built: &Built) -> SetString {
    let plan = &site.plan;
    let row = &plan.strings[string];
    let step_m = step_m(plan, string, built);
    let first_m = plan.centre_m(row.first_mirror);
    let whole_m = step_m * row.mirror_count as f64;
    let start_m = first_m - step_m * 0.5;
    let drive_m = match built.make.strings.driven_from {
        DrivenFrom::Middle => start_m + whole_m * 0.5,
        DrivenFrom::End => start_m,
    };
    SetString {
        string,
        make,
        reference_mirror: row.reference_mirror(),
        alignment_sun: site.drives.alignment_sun(string),
        axes: site.drives.mount_axes(string),
        ends_m: [start_m, start_m + whole_m],
        drive_m,
    }
}

/// From one post to the next along the rail, which runs under the mirrors that no stagger raises.
fn step_m(plan: &Plan, string: usize, built: &Built) -> Vec3 {
    let row = &plan.strings[string];
    let steps = (row.mirror_count.saturating_sub(1) / 2) * 2;
    match steps {
        0 => direction::along_bearing(row.bearing_rad) * built.make.pitch_m(),
        _ => {
            let last = plan.centre_m(row.first_mirror + steps);
            (last - plan.centre_m(row.first_mirror)) / steps as f64
        }
    }
}

#[cfg(test)]
mod tests;
