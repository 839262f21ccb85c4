//! The field on its site: candidates laid, the best places kept, drives set.

use drive::{Drives, Mechanism};
use field::{Alternatives, FieldError, Places, Plan, StringField};
use optics::{Aperture, Mirrors, Pillar, STEPS};
use scenario::{BearingRule, Design, StringsDesign};
use structure::StringParts;

use crate::alignment::Alignment;
use crate::case::Case;
use crate::evaluate::Scratch;
use crate::infeasible::Infeasible;
use crate::inputs;
use crate::light::{self, Earning, Field, Spoken};
use crate::margins::Margins;
use crate::motion::{MOTION_STRINGS, Motion, motion};

/// Candidate places looked at closely, for each one wanted.
const PLACES_PER_STRING: f64 = 1.4;

/// A field on its site, ready for light.
pub(crate) struct Sited {
    pub plan: Plan,
    pub drives: Drives,
    pub mechanism: Mechanism,
    pub alignment: Alignment,
    pub motion: Motion,
    pub mirrors: Mirrors,
    pub aperture: Aperture,
    pub tower: [Pillar; 2],
    /// What each string would earn by its spokesmen, among all candidates.
    pub spoken: Vec<Spoken>,
}

impl Sited {
    pub fn field(&self) -> Field<'_> {
        Field {
            plan: &self.plan,
            drives: &self.drives,
            mirrors: &self.mirrors,
            aperture: &self.aperture,
            tower: &self.tower,
        }
    }
}

/// Lays candidates, keeps the places that earn most and looks at their motion.
pub(crate) fn place(
    case: &Case,
    design: &Design,
    strings: &StringsDesign,
    parts: &StringParts,
    margins: &mut Margins,
    scratch: &mut Scratch,
) -> Result<Sited, Infeasible> {
    let layout = inputs::string_field(case, design, strings);
    let mechanism = inputs::mechanism(case, design, strings, parts);
    mechanism
        .check(layout.first_axis, layout.linkage)
        .map_err(|error| Infeasible::unbuildable(error.to_string(), *margins))?;
    let aperture = inputs::aperture(case, design);
    let mirrors = inputs::mirrors(case, design, strings, parts);
    margins.set_line_slack(strings.drive.pretension_ratio - 1.0);
    Infeasible::check(margins)?;
    let mut lit = Lit {
        case,
        mechanism: &mechanism,
        alignment: Alignment::given(case),
        mirrors: &mirrors,
        aperture: &aperture,
        tower: inputs::pillars(design),
    };
    let laid = match strings.bearing {
        BearingRule::Best => lit.best_of_all_ways(&layout, strings, scratch),
        _ => field::candidates(&layout),
    };
    let mut places = enough(laid, strings.count, margins)?;
    let aims = inputs::aim_spread(case, strings, &aperture);
    field::spread_aims(&mut places.plan, &aims);
    field::stock_focal_lengths(&mut places.plan, strings.focal_steps as usize);
    let instants = strings.drive.alignment_instants;
    lit.alignment = Alignment::found(case, &places.plan, &mechanism, instants);
    let wanted = strings.count as usize;
    let places = lit.promising(places, wanted, scratch);
    let spoken = lit.ask(&places.plan, scratch);
    let earnings: Vec<Earning> = spoken.iter().map(Spoken::earning).collect();
    let earned = Earning::without_luck(&earnings);
    let chosen = field::best_places(&earned, wanted);
    let plan = field::take(&places, &chosen);
    // The strings that are built say when they are set, and say so again when the plan is read back.
    lit.alignment = Alignment::found(case, &plan, &mechanism, instants);
    let drives = lit.alignment.drives(&plan, &mechanism);
    let looked_at = light::even_sample(plan.strings.len(), MOTION_STRINGS);
    let motion = motion(&plan, &drives, &case.sun, &looked_at, &mut scratch.stance);
    margins.set_panel_clash(motion.clash_margin.min(1.0));
    Infeasible::check(margins)?;
    Ok(Sited {
        plan,
        drives,
        mechanism,
        alignment: lit.alignment,
        motion,
        tower: lit.tower,
        mirrors,
        aperture,
        spoken: chosen.iter().map(|&string| spoken[string]).collect(),
    })
}

/// What the light of any plan of a design depends on.
struct Lit<'a> {
    case: &'a Case,
    mechanism: &'a Mechanism,
    alignment: Alignment,
    mirrors: &'a Mirrors,
    aperture: &'a Aperture,
    tower: [Pillar; 2],
}

impl Lit<'_> {
    fn look<T>(&self, plan: &Plan, look: impl FnOnce(&Field) -> T) -> T {
        look(&Field {
            plan,
            drives: &self.alignment.drives(plan, self.mechanism),
            mirrors: self.mirrors,
            aperture: self.aperture,
            tower: &self.tower,
        })
    }

    /// Strings laid in every way with every axis, and the best kept wherever some lie over one
    /// another: by what each earns among its like, with all aims in the middle.
    fn best_of_all_ways(
        &self,
        layout: &StringField,
        strings: &StringsDesign,
        scratch: &mut Scratch,
    ) -> Result<Places, FieldError> {
        let all = Alternatives::lay(layout, &inputs::first_axes_alike(strings))?;
        let mut earned_j = Vec::new();
        for places in &all.laid {
            let spoken = self.ask(&places.plan, scratch);
            earned_j.extend(spoken.iter().map(|one| one.chain_j[STEPS - 1]));
        }
        Ok(all.best_apart(&earned_j))
    }

    /// Leaves out the places that a first glance finds hopeless.
    fn promising(&self, places: Places, wanted: usize, scratch: &mut Scratch) -> Places {
        let kept = (PLACES_PER_STRING * wanted as f64) as usize;
        if places.plan.strings.len() <= kept {
            return places;
        }
        let glance = self.look(&places.plan, |field| {
            light::first_glance(field, &self.case.sun, &mut scratch.stance)
        });
        Places {
            plan: field::take(
                &places,
                &field::best_places(&Earning::without_luck(&glance), kept),
            ),
        }
    }

    fn ask(&self, plan: &Plan, scratch: &mut Scratch) -> Vec<Spoken> {
        self.look(plan, |field| {
            light::spokesmen(field, &self.case.sun, &mut scratch.stance)
        })
    }
}

/// The places laid, if they are as many as wanted.
fn enough(
    laid: Result<Places, FieldError>,
    wanted: u32,
    margins: &mut Margins,
) -> Result<Places, Infeasible> {
    let places = laid.map_err(|error| Infeasible::unbuildable(error.to_string(), *margins))?;
    let found = places.plan.strings.len();
    margins.set_places(found as f64 / f64::from(wanted) - 1.0);
    Infeasible::check(margins)?;
    Ok(places)
}
