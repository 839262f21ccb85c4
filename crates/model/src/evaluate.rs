//! One design, from case to summary: plan → drive → light → heat, beside structure → bill.

use field::{Plan, Stance};
use plant::{HourOut, PlantInputs, PlantParts, YearTotals};
use scenario::Design;
use structure::{StringInputs, StringParts, TowerParts, size_string, size_tower};

use crate::bill::{DRIVES_PER_UNIT, Sized};
use crate::case::Case;
use crate::fidelity::Fidelity;
use crate::infeasible::Infeasible;
use crate::inputs;
use crate::lay::lay;
use crate::light::Chain;
use crate::makes::Makes;
use crate::margins::Margins;
use crate::motion::Motion;
use crate::site::Sited;
use crate::stand::{Stood, stand};
use crate::summary::Summary;
use crate::year_light::{YearLight, shine};

/// Buffers kept from one evaluation to the next.
#[derive(Debug, Default)]
pub struct Scratch {
    pub(crate) stance: Stance,
}

/// Evaluates one design. Pure: the same case, design and fidelity give the same bits. A design that
/// serves less than it must has its year all the same: only its margin tells.
///
/// # Errors
/// [`Infeasible`] with the margins known by then when the design can't be built.
pub fn evaluate(
    case: &Case,
    design: &Design,
    fidelity: Fidelity,
    scratch: &mut Scratch,
) -> Result<Summary, Infeasible> {
    let mut margins = Margins::unknown();
    let Stood { site, makes } = lay(case, design, &mut margins, scratch)?;
    live_through(case, design, &makes, &site, fidelity, margins, scratch)
}

/// Evaluates a plan that was not laid here but given: places, strings and their mirrors come from it,
/// all else from the design. Units of several makes are each sized and billed; see [`Makes`].
///
/// # Errors
/// [`Infeasible`] as [`evaluate`] has it; [`crate::check_plan`] tells beforehand which string cannot
/// be moved.
pub fn evaluate_plan(
    case: &Case,
    design: &Design,
    plan: Plan,
    fidelity: Fidelity,
    scratch: &mut Scratch,
) -> Result<(Summary, Makes), Infeasible> {
    let mut margins = Margins::unknown();
    let Stood { site, makes } = stand(case, design, plan, &mut margins, scratch)?;
    Infeasible::check(&margins)?;
    let summary = live_through(case, design, &makes, &site, fidelity, margins, scratch)?;
    Ok((summary, makes))
}

/// The year of a field on its site, and what it is made of.
fn live_through(
    case: &Case,
    design: &Design,
    makes: &Makes,
    site: &Sited,
    fidelity: Fidelity,
    mut margins: Margins,
    scratch: &mut Scratch,
) -> Result<Summary, Infeasible> {
    let Year { light, plant, heat } = live(case, design, site, fidelity, scratch, |_| ());
    margins.set_served(served_margin(case, &heat.totals));
    let (parts, tower) = size_plant(case, design, &plant)?;
    let sized = Sized {
        makes,
        sheet: inputs::sheet(case),
        norms: inputs::norms(case, design),
        plan: &site.plan,
        tower: &tower,
        tower_height_m: design.aim_height_m,
        plant: &parts,
        housing_m2: inputs::housing_area_m2(case, design),
        year: &heat.totals,
    };
    let chain_j = light.chain_j(case);
    Ok(summarise(&sized, chain_j, &heat, &site.motion, margins))
}

/// Sizes one string; what breaks a limit shows in the margins.
pub(crate) fn size(
    inputs: &StringInputs,
    margins: &mut Margins,
) -> Result<StringParts, Infeasible> {
    let parts = size_string(inputs)
        .map_err(|error| Infeasible::unbuildable(error.to_string(), *margins))?;
    margins.add_structure(&parts.margins);
    Ok(parts)
}

/// The year over the share of the demand that a design must serve, less one.
fn served_margin(case: &Case, totals: &YearTotals) -> f64 {
    let least_j = case.scenario.heat.demand.least_served * totals.demand_j;
    if least_j > 0.0 {
        totals.delivered_j / least_j - 1.0
    } else {
        1.0
    }
}

/// A year's light, and what receiver and all behind it make of it.
pub(crate) struct Year<'a> {
    pub light: YearLight,
    pub plant: PlantInputs<'a>,
    pub heat: Heat,
}

/// Lives through the case's year, and hands every hour to `each`.
pub(crate) fn live<'a>(
    case: &'a Case,
    design: &Design,
    site: &Sited,
    fidelity: Fidelity,
    scratch: &mut Scratch,
    mut each: impl FnMut(&HourOut),
) -> Year<'a> {
    let light = shine(case, site, fidelity, scratch);
    let drives = DRIVES_PER_UNIT * site.plan.strings.len() as f64;
    let plant = inputs::plant_inputs(case, design, drives, light.brightest_w(case));
    let heat = run(case, &plant, &light, |_, hour| each(hour));
    Year { light, plant, heat }
}

/// The year at the receiver and behind it.
pub(crate) struct Heat {
    pub totals: YearTotals,
    pub peak_flux_w_m2: f64,
}

pub(crate) fn run(
    case: &Case,
    plant: &PlantInputs<'_>,
    light: &YearLight,
    each: impl FnMut(usize, &HourOut),
) -> Heat {
    let mut peak_flux_w_m2: f64 = 0.0;
    let hours = (0..case.weather.dni_w_m2.len()).map(|hour| {
        let brought = light.hour(case, hour);
        peak_flux_w_m2 = peak_flux_w_m2.max(brought.peak_flux_w_m2);
        brought
    });
    let totals = plant::run_year(plant, hours, each);
    Heat {
        totals,
        peak_flux_w_m2,
    }
}

pub(crate) fn size_plant(
    case: &Case,
    design: &Design,
    plant: &PlantInputs<'_>,
) -> Result<(PlantParts, TowerParts), Infeasible> {
    let parts = plant::size_plant(plant);
    let tower = size_tower(&inputs::tower_inputs(case, design, &parts))
        .map_err(|error| Infeasible::unbuildable(error.to_string(), Margins::unknown()))?;
    Ok((parts, tower))
}

fn summarise(
    sized: &Sized,
    chain_j: Chain,
    heat: &Heat,
    motion: &Motion,
    margins: Margins,
) -> Summary {
    let quantities = sized.quantities();
    let totals = &heat.totals;
    Summary {
        quantities,
        chain_j,
        receiver_out_j: totals.receiver_out_j,
        defocused_j: totals.defocused_j,
        dumped_j: totals.dumped_j,
        used_j: totals.used_j,
        rejected_j: totals.rejected_j,
        delivered_j: totals.delivered_j,
        demand_j: totals.demand_j,
        steam_kg: totals.steam_kg,
        own_use_j: totals.own_use_electric_j,
        bought_j: totals.bought_electric_j(),
        peak_flux_w_m2: heat.peak_flux_w_m2,
        residual_rad: motion.residual_rad,
        bound_rad: motion.bound_rad,
        mirror_area_m2: sized.plan.total_area_m2(),
        land_m2: sized.land_m2(),
        steel_kg: sized.steel_kg(),
        glass_kg: sized.glass_kg(),
        concrete_m3: quantities.get(ledger::Item::Concrete)
            + quantities.get(ledger::Item::TowerFoundation),
        margins,
    }
}
