//! A given plan on its site: nothing is laid or chosen, only drives are set.

use drive::{Mechanism, MechanismError};
use field::Plan;
use scenario::{Design, FieldDesign};

use crate::alignment::Alignment;
use crate::case::Case;
use crate::evaluate::Scratch;
use crate::infeasible::Infeasible;
use crate::inputs::{self, Panels};
use crate::make::makes_of_plan;
use crate::makes::{Makes, heliostats_of_plan};
use crate::margins::Margins;
use crate::motion::motion;
use crate::site::Sited;

/// A plan on its site, with the makes of its driven units.
pub(crate) struct Stood {
    pub site: Sited,
    pub makes: Makes,
}

/// A string of a plan whose parts do not go together.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum Misfit {
    /// Linkage, offsets and first axis.
    #[error("{error}")]
    Mechanism {
        /// Which string, from 0.
        string: usize,
        /// What does not go together.
        error: MechanismError,
    },
    /// Mirrors that share a drive in a field of heliostats.
    #[error(
        "{mirrors} mirrors share a drive, but the scenario's heliostats have their own; leave string_id empty, or take concept = \"strings\""
    )]
    Shared {
        /// Which string, from 0.
        string: usize,
        /// How many mirrors share its drive.
        mirrors: usize,
    },
    /// A mirror that no pane of glass is as large as, where each is one.
    #[error(
        "a mirror of {width_m:.2} x {height_m:.2} m is larger than one pane, which the scenario's concept makes it of ({LARGEST_PANE_M} m at most); take concept = \"pedestals\" (--concept pedestals), which makes it of many"
    )]
    Large {
        /// Which string, from 0.
        string: usize,
        /// Its width [m].
        width_m: f64,
        /// Its height [m].
        height_m: f64,
    },
}

/// Side of the largest pane that a scenario may ask for [m].
const LARGEST_PANE_M: f64 = 2.5;
/// What a size may lose when it is written down.
const ROUNDING: f64 = 1e-9;

impl Misfit {
    /// Which string, from 0.
    #[must_use]
    pub const fn string(&self) -> usize {
        match self {
            Self::Mechanism { string, .. }
            | Self::Shared { string, .. }
            | Self::Large { string, .. } => *string,
        }
    }
}

/// Whether every string of a plan can be moved by the mechanism of a design.
///
/// # Errors
/// The first string that can't, and why.
pub fn check_plan(design: &Design, plan: &Plan) -> Result<(), Misfit> {
    match &design.field {
        FieldDesign::Strings(common) => {
            check_panes(plan)?;
            let offset = inputs::offset(common.offset);
            plan.strings
                .iter()
                .enumerate()
                .try_for_each(|(string, row)| {
                    offset
                        .check(row.first_axis, row.linkage)
                        .map_err(|error| Misfit::Mechanism { string, error })
                })
        }
        FieldDesign::Pedestals(_) => check_alone(plan),
        FieldDesign::Singles(_) => check_alone(plan).and_then(|()| check_panes(plan)),
    }
}

/// Whether every mirror has a drive of its own.
fn check_alone(plan: &Plan) -> Result<(), Misfit> {
    let mut strings = plan.strings.iter().enumerate();
    let shared = strings.find(|(_, row)| row.mirror_count > 1);
    shared.map_or(Ok(()), |(string, row)| {
        Err(Misfit::Shared {
            string,
            mirrors: row.mirror_count,
        })
    })
}

/// Whether every mirror can be one pane of glass.
fn check_panes(plan: &Plan) -> Result<(), Misfit> {
    for (string, row) in plan.strings.iter().enumerate() {
        for mirror in row.mirrors() {
            let (width_m, height_m) = (plan.width_m[mirror], plan.height_m[mirror]);
            if width_m.max(height_m) > LARGEST_PANE_M * (1.0 + ROUNDING) {
                return Err(Misfit::Large {
                    string,
                    width_m,
                    height_m,
                });
            }
        }
    }
    Ok(())
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
    let Usual {
        makes,
        mechanism,
        panels,
        instants,
    } = usual(case, design, &plan, margins)?;
    let mirrors = inputs::mirrors(case, design, &panels);
    let alignment = Alignment::found(case, &plan, &mechanism, instants);
    let drives = alignment.drives(&plan, &mechanism);
    let aperture = inputs::aperture(case, design);
    let tower = inputs::pillars(design);
    let all: Vec<usize> = (0..plan.strings.len()).collect();
    let motion = motion(&plan, &drives, &case.sun, &all, &mut scratch.stance);
    margins.set_panel_clash(motion.clash_margin.min(1.0));
    let site = Sited {
        plan,
        drives,
        mechanism,
        alignment,
        motion,
        mirrors,
        aperture,
        tower,
    };
    Ok(Stood { site, makes })
}

/// The makes of a plan, and what its first make lends to all.
pub(crate) struct Usual {
    pub makes: Makes,
    pub mechanism: Mechanism,
    pub panels: Panels,
    pub instants: u32,
}

/// Sizes what stands in a plan; what breaks a limit shows in the margins.
pub(crate) fn usual(
    case: &Case,
    design: &Design,
    plan: &Plan,
    margins: &mut Margins,
) -> Result<Usual, Infeasible> {
    let found = match &design.field {
        FieldDesign::Strings(common) => {
            let makes = makes_of_plan(case, design, common, plan, margins)?;
            makes.first().cloned().map(|first| {
                margins.set_line_slack(&first.parts, first.strings.drive.pretension_ratio);
                Usual {
                    mechanism: inputs::mechanism(case, design, &first.strings, &first.parts),
                    panels: inputs::string_panels(&first.strings, &first.parts),
                    instants: first.strings.drive.alignment_instants,
                    makes: Makes::Strings(makes),
                }
            })
        }
        FieldDesign::Pedestals(common) | FieldDesign::Singles(common) => {
            let makes = heliostats_of_plan(case, design, common, plan, margins)?;
            makes.first().cloned().map(|first| Usual {
                mechanism: inputs::heliostat_mechanism(case, common),
                panels: inputs::heliostat_panels(case, &first.heliostats, &first.parts),
                instants: 0,
                makes: Makes::Heliostats(makes),
            })
        }
    };
    let none = || Infeasible::unbuildable("the plan holds no mirror".to_owned(), *margins);
    found.ok_or_else(none)
}
