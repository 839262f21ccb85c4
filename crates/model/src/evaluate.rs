//! One design, from case to summary: plan → drive → light → heat, beside structure → bill.

use drive::Drives;
use field::{Plan, Stance, StringField};
use plant::{HourIn, HourOut, PlantInputs, PlantParts, YearTotals};
use scenario::{Design, FieldDesign, StringsDesign};
use structure::{StringParts, TowerParts, size_string, size_tower};

use crate::bill::{DRIVES_PER_STRING, Sized};
use crate::case::Case;
use crate::fidelity::Fidelity;
use crate::infeasible::Infeasible;
use crate::inputs;
use crate::light::{self, Chain, Field, HourLight, NodeLight, Spoken};
use crate::margins::Margins;
use crate::motion::{Motion, motion};
use crate::summary::Summary;

/// Strings whose motion is looked at.
const MOTION_STRINGS: usize = 12;

/// Buffers kept from one evaluation to the next.
#[derive(Debug, Default)]
pub struct Scratch {
    stance: Stance,
}

/// Evaluates one design. Pure: the same case, design and fidelity give the same bits.
///
/// # Errors
/// [`Infeasible`] with the margins known by then when the design breaks a limit.
pub fn evaluate(
    case: &Case,
    design: &Design,
    fidelity: Fidelity,
    scratch: &mut Scratch,
) -> Result<Summary, Infeasible> {
    let FieldDesign::Strings(strings) = &design.field;
    let mut margins = Margins::unknown();
    let string = build(case, design, strings, &mut margins)?;
    let site = place(case, design, strings, &string, &mut margins, scratch)?;
    let light = shine(case, &site, fidelity, scratch);
    let plant = inputs::plant_inputs(case, design, DRIVES_PER_STRING * f64::from(strings.count));
    let heat = run(case, &plant, &light, |_, _| ());
    let (parts, tower) = size_plant(case, design, &plant)?;
    let sized = Sized {
        strings,
        plan: &site.plan,
        string: &string,
        tower: &tower,
        plant: &parts,
        housing_m2: inputs::housing_area_m2(case, design),
        year: &heat.totals,
    };
    Ok(summarise(
        &sized,
        light.chain_j(case),
        &heat,
        &site.motion,
        margins,
    ))
}

/// Sizes one string; stops when a part does not hold.
pub(crate) fn build(
    case: &Case,
    design: &Design,
    strings: &StringsDesign,
    margins: &mut Margins,
) -> Result<StringParts, Infeasible> {
    let parts = size_string(&inputs::string_inputs(case, design, strings))
        .map_err(|error| Infeasible::unbuildable(error.to_string(), *margins))?;
    margins.set_structure(&parts.margins);
    Infeasible::check(margins)?;
    Ok(parts)
}

/// A field on its site, ready for light.
pub(crate) struct Sited {
    pub plan: Plan,
    pub drives: Drives,
    pub motion: Motion,
    pub mirrors: optics::Mirrors,
    pub aperture: optics::Aperture,
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
    let mut places = candidates(&layout, strings.count, margins)?;
    let aperture = inputs::aperture(case, design);
    let aims = inputs::aim_spread(case, strings, &aperture);
    field::spread_aims(&mut places.plan, &aims);
    let mechanism = inputs::mechanism(case, strings, parts);
    let mirrors = inputs::mirrors(case, strings, parts);
    let all = Field {
        plan: &places.plan,
        drives: &Drives::prepare(&places.plan, &mechanism),
        mirrors: &mirrors,
        aperture: &aperture,
    };
    let spoken = light::spokesmen(&all, &case.sun, &mut scratch.stance);
    let earned: Vec<f64> = spoken.iter().map(Spoken::earned_j).collect();
    let chosen = field::best_places(&earned, strings.count as usize);
    let plan = field::take(&places, &chosen);
    let drives = Drives::prepare(&plan, &mechanism);
    let looked_at = light::even_sample(plan.strings.len(), MOTION_STRINGS);
    let motion = motion(&plan, &drives, &case.sun, &looked_at, &mut scratch.stance);
    margins.set_panel_clash(motion.clash_margin.min(1.0));
    Infeasible::check(margins)?;
    Ok(Sited {
        plan,
        drives,
        motion,
        mirrors,
        aperture,
        spoken: chosen.iter().map(|&string| spoken[string]).collect(),
    })
}

fn candidates(
    layout: &StringField,
    wanted: u32,
    margins: &mut Margins,
) -> Result<field::Places, Infeasible> {
    let places = field::candidates(layout)
        .map_err(|error| Infeasible::unbuildable(error.to_string(), *margins))?;
    let found = places.plan.strings.len();
    margins.set_places(found as f64 / f64::from(wanted) - 1.0);
    Infeasible::check(margins)?;
    Ok(places)
}

/// Light of the year, as closely as asked for.
pub(crate) enum YearLight {
    /// At the node suns, with hours in between.
    Nodes(Box<NodeLight>),
    /// In every hour.
    Hours(Vec<HourLight>),
}

pub(crate) fn shine(
    case: &Case,
    site: &Sited,
    fidelity: Fidelity,
    scratch: &mut Scratch,
) -> YearLight {
    let field = site.field();
    match fidelity {
        Fidelity::Search => {
            let light = light::sampled(&field, &case.sun, &site.spoken, &mut scratch.stance);
            YearLight::Nodes(Box::new(light))
        }
        Fidelity::Every => {
            let each = light::each_string(&field, &case.sun);
            YearLight::Nodes(Box::new(light::whole(&each)))
        }
        Fidelity::Hours => YearLight::Hours(light::every_hour(&field, &case.sun)),
    }
}

const SECONDS_PER_HOUR: f64 = 3600.0;

impl YearLight {
    /// Year's energy after each step of the chain [J].
    pub fn chain_j(&self, case: &Case) -> Chain {
        match self {
            Self::Nodes(light) => light.chain_j(&case.sun),
            Self::Hours(hours) => {
                let mut chain = Chain::default();
                for (hour, dni_w_m2) in hours.iter().zip(&case.weather.dni_w_m2) {
                    for (sum, area_m2) in chain.iter_mut().zip(hour.steps_m2) {
                        *sum += area_m2 * dni_w_m2 * SECONDS_PER_HOUR;
                    }
                }
                chain
            }
        }
    }

    /// What hour `hour` brings to the receiver.
    fn hour(&self, case: &Case, hour: usize) -> HourIn {
        let dni_w_m2 = case.weather.dni_w_m2[hour];
        let (area_m2, peak_suns) = match self {
            _ if dni_w_m2 <= 0.0 => (0.0, 0.0),
            Self::Nodes(light) => (
                case.sun.at_hour(hour, light.last_step_m2()),
                case.sun.at_hour(hour, &light.peak_suns),
            ),
            Self::Hours(hours) => (hours[hour].last_step_m2(), hours[hour].peak_suns),
        };
        HourIn {
            aperture_power_w: area_m2.max(0.0) * dni_w_m2,
            peak_flux_w_m2: peak_suns.max(0.0) * dni_w_m2,
            air_temperature_k: case.weather.air_temperature_k[hour],
            wind_speed_m_s: case.weather.wind_speed_m_s[hour],
        }
    }
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
        delivered_j: totals.delivered_j,
        demand_j: totals.demand_j,
        steam_kg: totals.steam_kg,
        own_use_j: totals.own_use_electric_j,
        peak_flux_w_m2: heat.peak_flux_w_m2,
        residual_rad: motion.residual_rad,
        mirror_area_m2: sized.plan.total_area_m2(),
        land_m2: sized.land_m2(),
        steel_kg: sized.steel_kg(),
        glass_kg: quantities.get(ledger::Item::Glass),
        concrete_m3: quantities.get(ledger::Item::Concrete)
            + quantities.get(ledger::Item::TowerFoundation),
        margins,
    }
}
