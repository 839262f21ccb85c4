//! A given plan on its site: nothing is laid or chosen, only drives are set.

use drive::MechanismError;
use field::Plan;
use scenario::{Design, FieldDesign};

use crate::alignment::Alignment;
use crate::case::Case;
use crate::evaluate::Scratch;
use crate::infeasible::Infeasible;
use crate::inputs;
use crate::light::{self, Field};
use crate::make::{Make, makes_of_plan};
use crate::margins::Margins;
use crate::motion::motion;
use crate::site::Sited;

/// A plan on its site, with the makes of its strings.
pub(crate) struct Stood {
    pub site: Sited,
    pub makes: Vec<Make>,
}

/// A string of a plan whose parts do not go together.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[error("{error}")]
pub struct Misfit {
    /// Which string, from 0.
    pub string: usize,
    /// What does not go together.
    pub error: MechanismError,
}

/// Whether every string of a plan can be moved by the mechanism of a design.
///
/// # Errors
/// The first string that can't, and why.
pub fn check_plan(design: &Design, plan: &Plan) -> Result<(), Misfit> {
    let FieldDesign::Strings(common) = &design.field;
    let offset = inputs::offset(common.offset);
    let mut strings = plan.strings.iter().enumerate();
    strings.try_for_each(|(string, row)| {
        offset
            .check(row.first_axis, row.linkage)
            .map_err(|error| Misfit { string, error })
    })
}

/// Stands a plan on its site. Strings of several makes share one drive line and one slope error: those
/// of the first make. What breaks a limit shows in the margins.
pub(crate) fn stand(
    case: &Case,
    design: &Design,
    plan: Plan,
    margins: &mut Margins,
    scratch: &mut Scratch,
) -> Result<Stood, Infeasible> {
    check_plan(design, &plan)
        .map_err(|misfit| Infeasible::unbuildable(misfit.to_string(), *margins))?;
    let makes = makes_of_plan(case, design, &plan, margins)?;
    let Some(usual) = makes.first() else {
        let reason = "the plan holds no string".to_owned();
        return Err(Infeasible::unbuildable(reason, *margins));
    };
    let mechanism = inputs::mechanism(case, design, &usual.strings, &usual.parts);
    let mirrors = inputs::mirrors(case, design, &usual.strings, &usual.parts);
    let parts = usual.strings.drive.alignment_instants;
    let alignment = Alignment::found(case, &plan, &mechanism, parts);
    let drives = alignment.drives(&plan, &mechanism);
    let aperture = inputs::aperture(case, design);
    let tower = inputs::pillars(design);
    let field = Field {
        plan: &plan,
        drives: &drives,
        mirrors: &mirrors,
        aperture: &aperture,
        tower: &tower,
    };
    let spoken = light::spokesmen(&field, &case.sun, &mut scratch.stance);
    let all: Vec<usize> = (0..plan.strings.len()).collect();
    let motion = motion(&plan, &drives, &case.sun, &all, &mut scratch.stance);
    margins.set_panel_clash(motion.clash_margin.min(1.0));
    margins.set_line_slack(usual.strings.drive.pretension_ratio - 1.0);
    let site = Sited {
        plan,
        drives,
        mechanism,
        alignment,
        motion,
        mirrors,
        aperture,
        tower,
        spoken,
    };
    Ok(Stood { site, makes })
}
