//! What a field of any concept is made of: its driven units, those built alike sized once.

use std::collections::BTreeMap;

use field::{Plan, land_area_m2};
use scenario::{Design, HeliostatsDesign, PanelShape};
use structure::{PedestalParts, size_pedestal};

use crate::bill::DRIVES_PER_UNIT;
use crate::case::Case;
use crate::infeasible::Infeasible;
use crate::inputs::{self, Lee};
use crate::make::{FLAT_FOCAL_LENGTH_M, Make, stands};
use crate::margins::Margins;

/// The driven units of a field, make by make.
#[derive(Clone, Debug)]
pub enum Makes {
    /// Strings.
    Strings(Vec<Make>),
    /// Heliostats.
    Heliostats(Vec<HeliostatMake>),
}

/// Heliostats that are built alike, and the parts of one.
#[derive(Clone, Debug)]
pub struct HeliostatMake {
    /// Where they stand to the wind.
    pub lee: Lee,
    /// How many, and how large; all else as the scenario has it.
    pub heliostats: HeliostatsDesign,
    /// The parts of one.
    pub parts: PedestalParts,
    /// Land for each in the whole field [m²].
    pub land_m2: f64,
}

impl Makes {
    /// How many driven units.
    #[must_use]
    pub fn count(&self) -> f64 {
        match self {
            Self::Strings(makes) => makes.iter().map(Make::count).sum(),
            Self::Heliostats(makes) => makes.iter().map(HeliostatMake::count).sum(),
        }
    }

    /// Power of each drive of the commonest make on the way to stow [W].
    pub(crate) fn motor_power_w(&self) -> f64 {
        match self {
            Self::Strings(makes) => makes.first().map_or(0.0, |make| make.parts.motor_power_w),
            Self::Heliostats(makes) => makes.first().map_or(0.0, HeliostatMake::motor_power_w),
        }
    }
}

impl HeliostatMake {
    /// How many.
    #[must_use]
    pub fn count(&self) -> f64 {
        f64::from(self.heliostats.count)
    }

    /// Power of each of the two drives on the way to stow, taken as half of both [W].
    pub(crate) fn motor_power_w(&self) -> f64 {
        self.parts.motor_power_w / DRIVES_PER_UNIT
    }
}

/// The heliostats of a design, built for the lee of others and for the open wind.
pub(crate) struct HeliostatsByLee {
    pub inside: PedestalParts,
    edge: PedestalParts,
}

impl HeliostatsByLee {
    /// Sizes both; stops when a part does not hold.
    pub fn of(
        case: &Case,
        design: &Design,
        heliostats: &HeliostatsDesign,
        margins: &mut Margins,
    ) -> Result<Self, Infeasible> {
        let mut sized = |lee| size(case, design, heliostats, lee, margins);
        let both = Self {
            inside: sized(Lee::Inside)?,
            edge: sized(Lee::Edge)?,
        };
        Infeasible::check(margins)?;
        Ok(both)
    }

    /// Those of each that stand in a plan.
    pub fn makes(
        &self,
        case: &Case,
        plan: &Plan,
        heliostats: &HeliostatsDesign,
    ) -> Vec<HeliostatMake> {
        let stands = stands(case, plan);
        let land_m2 = land_m2(plan);
        let make = |lee| HeliostatMake {
            lee,
            heliostats: HeliostatsDesign {
                count: stands.iter().filter(|stand| **stand == lee).count() as u32,
                ..heliostats.clone()
            },
            parts: match lee {
                Lee::Inside => self.inside,
                Lee::Edge => self.edge,
            },
            land_m2,
        };
        let mut makes = Lee::BOTH.map(make).to_vec();
        makes.retain(|make| make.heliostats.count > 0);
        makes
    }
}

/// The parts of one heliostat of a design, in the lee of others and open to the wind.
///
/// # Errors
/// [`Infeasible`] when a part does not hold.
pub fn heliostat_parts(
    case: &Case,
    design: &Design,
    heliostats: &HeliostatsDesign,
) -> Result<[(Lee, PedestalParts); 2], Infeasible> {
    let both = HeliostatsByLee::of(case, design, heliostats, &mut Margins::unknown())?;
    Ok([(Lee::Inside, both.inside), (Lee::Edge, both.edge)])
}

/// Land for each driven unit.
fn land_m2(plan: &Plan) -> f64 {
    land_area_m2(plan) / plan.strings.len().max(1) as f64
}

fn size(
    case: &Case,
    design: &Design,
    heliostats: &HeliostatsDesign,
    lee: Lee,
    margins: &mut Margins,
) -> Result<PedestalParts, Infeasible> {
    let parts = size_pedestal(&inputs::pedestal_inputs(case, design, heliostats, lee))
        .map_err(|error| Infeasible::unbuildable(error.to_string(), *margins))?;
    margins.add_structure(&parts.margins);
    Ok(parts)
}

/// What is alike in heliostats of one make: lengths to the millimetre.
type Likeness = (Lee, u64, u64, bool);

/// The makes of a given plan's heliostats: sheltered ones, then open ones, each with the most first.
/// Their width and height, and whether they are flat, come from the plan, all else from the design.
///
/// # Errors
/// [`Infeasible`] when the inputs of a heliostat make no sense together.
pub(crate) fn heliostats_of_plan(
    case: &Case,
    design: &Design,
    common: &HeliostatsDesign,
    plan: &Plan,
    margins: &mut Margins,
) -> Result<Vec<HeliostatMake>, Infeasible> {
    let mut alike: BTreeMap<Likeness, HeliostatsDesign> = BTreeMap::new();
    let mm = |length_m: f64| (1e3 * length_m).round() as u64;
    for (row, lee) in plan.strings.iter().zip(stands(case, plan)) {
        let mirror = row.first_mirror;
        let (width_m, height_m) = (plan.width_m[mirror], plan.height_m[mirror]);
        let is_flat = plan.focal_length_m[mirror] > FLAT_FOCAL_LENGTH_M;
        let likeness = (lee, mm(width_m), mm(height_m), is_flat);
        let one = alike.entry(likeness).or_insert_with(|| HeliostatsDesign {
            count: 0,
            area_m2: width_m * height_m,
            width_over_height: width_m / height_m,
            panel_shape: if is_flat {
                PanelShape::Flat
            } else {
                common.panel_shape
            },
            ..common.clone()
        });
        one.count += 1;
    }
    let land_m2 = land_m2(plan);
    let mut makes = Vec::with_capacity(alike.len());
    for ((lee, ..), heliostats) in alike {
        makes.push(HeliostatMake {
            lee,
            parts: size(case, design, &heliostats, lee, margins)?,
            heliostats,
            land_m2,
        });
    }
    makes.sort_by(|one, other| {
        let by_count = other.heliostats.count.cmp(&one.heliostats.count);
        one.lee.cmp(&other.lee).then(by_count)
    });
    Ok(makes)
}
