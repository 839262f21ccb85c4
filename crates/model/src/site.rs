//! The field on its site: candidates laid, the best places kept, drives set.

mod ways;

use drive::{Drives, Mechanism};
use field::{FieldError, Places, Plan};
use optics::{Aperture, Mirrors, Pillar};
use scenario::{BearingRule, Design, HeliostatsDesign, PanelShape, StringsDesign};
use sky::FewSuns;
use structure::{PedestalParts, StringParts};

use crate::alignment::Alignment;
use crate::case::Case;
use crate::evaluate::Scratch;
use crate::infeasible::Infeasible;
use crate::inputs::{self, Panels};
use crate::light::{self, Earning, Field};
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
    margins.set_line_slack(parts, strings.drive.pretension_ratio);
    Infeasible::check(margins)?;
    let panels = inputs::string_panels(strings, parts);
    let lit = Lit::of(case, design, mechanism, &panels, &case.sun.two_days);
    let wanted = Wanted {
        count: strings.count,
        aim_spread: strings.aim_spread,
        focal_steps: strings.focal_steps,
        panes_are_flat: strings.panel_shape == PanelShape::Flat,
        instants: strings.drive.alignment_instants,
    };
    match strings.bearing {
        BearingRule::Best => lit.best_way(design, &layout, &wanted, margins, scratch),
        _ => lit.settle(field::candidates(&layout), &wanted, margins, scratch),
    }
}

/// The same of heliostats.
pub(crate) fn place_heliostats(
    case: &Case,
    design: &Design,
    heliostats: &HeliostatsDesign,
    parts: &PedestalParts,
    margins: &mut Margins,
    scratch: &mut Scratch,
) -> Result<Sited, Infeasible> {
    let layout = inputs::heliostat_field(case, design, heliostats);
    let mechanism = inputs::heliostat_mechanism(case, heliostats);
    let panels = inputs::heliostat_panels(case, heliostats, parts);
    let lit = Lit::of(case, design, mechanism, &panels, &case.sun.three_days);
    let wanted = Wanted {
        count: heliostats.count,
        aim_spread: heliostats.aim_spread,
        focal_steps: heliostats.focal_steps,
        // Many panels keep the focal length that they are canted to.
        panes_are_flat: panels.facets.are_flat && inputs::facets(heliostats).count() == 1,
        instants: 0,
    };
    let laid = field::heliostat_candidates(&layout);
    lit.settle(laid, &wanted, margins, scratch)
}

/// What is wanted of the places, whatever stands in them.
struct Wanted {
    count: u32,
    aim_spread: f64,
    focal_steps: u32,
    panes_are_flat: bool,
    instants: u32,
}

/// What the light of any plan of a design depends on.
#[derive(Clone)]
struct Lit<'a> {
    case: &'a Case,
    /// Suns under which places are compared.
    compared_under: &'a FewSuns,
    mechanism: Mechanism,
    alignment: Alignment,
    mirrors: Mirrors,
    aperture: Aperture,
    tower: [Pillar; 2],
}

impl<'a> Lit<'a> {
    fn of(
        case: &'a Case,
        design: &Design,
        mechanism: Mechanism,
        panels: &Panels,
        compared_under: &'a FewSuns,
    ) -> Self {
        Self {
            case,
            compared_under,
            mechanism,
            alignment: Alignment::given(case),
            mirrors: inputs::mirrors(case, design, panels),
            aperture: inputs::aperture(case, design),
            tower: inputs::pillars(design),
        }
    }

    /// Keeps the places that earn most and looks at their motion.
    fn settle(
        mut self,
        laid: Result<Places, FieldError>,
        wanted: &Wanted,
        margins: &mut Margins,
        scratch: &mut Scratch,
    ) -> Result<Sited, Infeasible> {
        let mut places = enough(laid, wanted.count, margins)?;
        let case = self.case;
        let aims = inputs::aim_spread(case, wanted.aim_spread, &self.aperture);
        field::spread_aims(&mut places.plan, &aims);
        if wanted.panes_are_flat {
            places.plan.focal_length_m.fill(f64::INFINITY);
        }
        field::stock_focal_lengths(&mut places.plan, wanted.focal_steps as usize);
        self.set_under(&places.plan, wanted);
        let count = wanted.count as usize;
        let places = self.promising(places, count, scratch);
        let earnings = self.ask(&places.plan, scratch);
        let chosen = field::best_places(&Earning::without_luck(&earnings), count);
        let plan = field::take(&places, &chosen);
        // The strings that are built say when they are set, and say so again when the plan is read back.
        self.set_under(&plan, wanted);
        let drives = self.alignment.drives(&plan, &self.mechanism);
        let looked_at = light::even_sample(plan.strings.len(), MOTION_STRINGS);
        let motion = motion(&plan, &drives, &case.sun, &looked_at, &mut scratch.stance);
        margins.set_panel_clash(motion.clash_margin.min(1.0));
        Infeasible::check(margins)?;
        Ok(Sited {
            plan,
            drives,
            mechanism: self.mechanism,
            alignment: self.alignment,
            motion,
            tower: self.tower,
            mirrors: self.mirrors,
            aperture: self.aperture,
        })
    }

    fn set_under(&mut self, plan: &Plan, wanted: &Wanted) {
        self.alignment = Alignment::found(self.case, plan, &self.mechanism, wanted.instants);
    }

    fn look<T>(&self, plan: &Plan, look: impl FnOnce(&Field) -> T) -> T {
        look(&Field {
            plan,
            drives: &self.alignment.drives(plan, &self.mechanism),
            mirrors: &self.mirrors,
            aperture: &self.aperture,
            tower: &self.tower,
        })
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

    fn ask(&self, plan: &Plan, scratch: &mut Scratch) -> Vec<Earning> {
        self.look(plan, |field| {
            light::earnings(field, self.compared_under, &mut scratch.stance)
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
