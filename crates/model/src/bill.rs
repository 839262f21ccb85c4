//! From sized parts to the bill of quantities: amounts per item, no prices.
//!
//! Task times and upkeep amounts are norms of the trade (common practice, no source) until a
//! scenario can give its own.

use std::f64::consts::PI;

use field::{Plan, land_area_m2};
use ledger::{Item, Quantities};
use plant::{PlantParts, YearTotals};
use structure::{Sheet, TowerParts};

use crate::make::Make;

/// Drives of a string: one for each axis.
pub const DRIVES_PER_STRING: f64 = 2.0;

/// Minutes to mount a panel with its star, lever and ties, and to set a post.
const MINUTES_PER_PANEL: f64 = 20.0;
const MINUTES_PER_POST: f64 = 10.0;
/// Minutes to fit one more joint: a clamp, a post head, a sleeve, a crank's bearing.
const MINUTES_PER_JOINT: f64 = 6.0;
/// Hours to string lines and connect drives of one string.
const HOURS_PER_STRING: f64 = 6.0;
/// Minutes to set one mirror on target and check it.
const ALIGNMENT_MINUTES_PER_PANEL: f64 = 8.0;

/// Cable in the field over the length of strings and the row spacing that it crosses.
const WIRING_DETOUR: f64 = 1.3;
/// Thickness of insulation on pipes and vessels, for their cladding surface.
const PIPE_INSULATION_M: f64 = 0.1;

/// Washes a year, and water for each square metre washed.
const WASHES_PER_YEAR: f64 = 26.0;
const WASH_WATER_M3_M2: f64 = 0.6e-3;
/// People who run and mend a plant beside those whom a works has anyway, plus one for each 10,000
/// mirrors.
const STAFF_PER_PLANT: f64 = 0.5;
const STAFF_PER_MIRROR: f64 = 1.0 / 10_000.0;
/// Shares replaced in a year: of drives, of lines and sliding parts, of glass.
const DRIVES_REPLACED: f64 = 0.03;
const LINES_REPLACED: f64 = 0.02;
const GLASS_REPLACED: f64 = 0.003;

const MINUTES_PER_HOUR: f64 = 60.0;
const J_PER_KWH: f64 = 3.6e6;
const KG_PER_T: f64 = 1000.0;
const W_PER_KW: f64 = 1000.0;

/// Everything that was sized for one design.
pub struct Sized<'a> {
    /// Its strings, make by make.
    pub makes: &'a [Make],
    /// What panels are cut from.
    pub sheet: Sheet,
    /// Where they stand.
    pub plan: &'a Plan,
    /// The tower.
    pub tower: &'a TowerParts,
    /// Receiver, pipes, store and generator.
    pub plant: &'a PlantParts,
    /// Housing of a cavity [m²].
    pub housing_m2: f64,
    /// The year.
    pub year: &'a YearTotals,
}

impl Sized<'_> {
    /// The bill of quantities.
    #[must_use]
    pub fn quantities(&self) -> Quantities {
        let mut bill = Quantities::default();
        for make in self.makes {
            add_strings(make, &self.sheet, &mut bill);
            add_drives(make, &mut bill);
            add_setting_up(make, &mut bill);
        }
        self.add_ground(&mut bill);
        self.add_tower(&mut bill);
        self.add_plant(&mut bill);
        self.add_building(&mut bill);
        self.add_upkeep(&mut bill);
        bill
    }

    /// Land of the field [m²].
    #[must_use]
    pub fn land_m2(&self) -> f64 {
        land_area_m2(self.plan)
    }

    fn add_ground(&self, bill: &mut Quantities) {
        let land_m2 = self.land_m2();
        bill.add(Item::SiteWorks, land_m2);
        bill.add(Item::Land, land_m2);
        bill.add(Item::Fence, 4.0 * land_m2.sqrt());
    }

    fn add_tower(&self, bill: &mut Quantities) {
        bill.add(Item::TowerSteel, self.tower.steel_kg);
        bill.add(Item::TowerFoundation, self.tower.foundation_m3);
        bill.add(Item::ReceiverPanel, self.plant.receiver_panel_area_m2);
        bill.add(Item::ReceiverSteel, self.plant.receiver_mass_kg);
        bill.add(Item::CavityHousing, self.housing_m2);
    }

    fn add_plant(&self, bill: &mut Quantities) {
        let parts = self.plant;
        let clad_m = parts.pipe_diameter_m + 2.0 * PIPE_INSULATION_M;
        bill.add(Item::Piping, parts.pipe_mass_kg);
        bill.add(Item::Insulation, PI * clad_m * parts.pipe_length_m);
        bill.add(Item::Pump, parts.pump_power_w / W_PER_KW);
        bill.add(Item::Exchanger, parts.exchanger_area_m2);
        bill.add(Item::StorageVessel, parts.storage_steel_kg);
        bill.add(Item::StorageVolume, parts.storage_volume_m3);
        bill.add(Item::ControlRoom, 1.0);
    }

    fn add_building(&self, bill: &mut Quantities) {
        let strings_kg = self.sum(|make| make.count() * make.parts.masses.total_kg());
        let tonnes = (strings_kg + self.plant_steel_kg()) / KG_PER_T;
        bill.add(Item::Freight, tonnes);
    }

    fn add_upkeep(&self, bill: &mut Quantities) {
        let area_m2 = self.plan.total_area_m2();
        let washed_m2 = WASHES_PER_YEAR * area_m2;
        bill.add(Item::Washing, washed_m2);
        bill.add(Item::Water, WASH_WATER_M3_M2 * washed_m2);
        bill.add(
            Item::Staff,
            STAFF_PER_PLANT + STAFF_PER_MIRROR * self.sum(Make::mirrors),
        );
        bill.add(Item::Electricity, self.year.own_use_electric_j / J_PER_KWH);
        let drives = DRIVES_PER_STRING * self.sum(Make::count);
        bill.add(Item::DriveReplacement, DRIVES_REPLACED * drives);
        let wearing_kg = self.sum(|make| make.count() * make.parts.wearing_kg);
        bill.add(Item::LineReplacement, LINES_REPLACED * wearing_kg);
        bill.add(Item::GlassReplacement, GLASS_REPLACED * area_m2);
    }

    /// Sum of an amount over all makes.
    fn sum(&self, amount: impl Fn(&Make) -> f64) -> f64 {
        self.makes.iter().map(amount).sum()
    }

    /// Glass of the mirrors [kg].
    #[must_use]
    pub fn glass_kg(&self) -> f64 {
        self.sum(|make| make.count() * make.parts.masses.glass_kg)
    }

    /// Steel of tower, receiver, pipes and store [kg].
    #[must_use]
    pub fn plant_steel_kg(&self) -> f64 {
        self.tower.steel_kg
            + self.plant.receiver_mass_kg
            + self.plant.pipe_mass_kg
            + self.plant.storage_steel_kg
    }

    /// All steel, castings and lines included [kg].
    #[must_use]
    pub fn steel_kg(&self) -> f64 {
        let strings_kg = self.sum(|make| {
            let masses = &make.parts.masses;
            make.count() * (masses.total_kg() - masses.glass_kg)
        });
        strings_kg + self.plant_steel_kg()
    }
}

fn add_strings(make: &Make, sheet: &Sheet, bill: &mut Quantities) {
    let (masses, count) = (&make.parts.masses, make.count());
    let bought = count / sheet.share(make.strings.side_m);
    bill.add(Item::Glass, bought * masses.glass_kg);
    bill.add(Item::Silvering, bought * make.parts.glass_area_m2);
    bill.add(Item::EdgeCutting, count * make.parts.glass_edge_m);
    bill.add(Item::PanelTie, make.mirrors());
    bill.add(Item::Steel, count * masses.sections_kg());
    bill.add(Item::Galvanising, count * masses.sections_kg());
    bill.add(Item::Castings, count * masses.mounts_kg);
    bill.add(Item::Line, count * masses.lines_kg);
}

fn add_drives(make: &Make, bill: &mut Quantities) {
    let drives = DRIVES_PER_STRING * make.count();
    bill.add(Item::DriveUnit, drives);
    bill.add(Item::DriveTorque, drives * make.parts.drive_torque_n_m);
    bill.add(Item::Controller, make.count());
    let row_spacing_m = make.strings.row_spacing_ratio * make.strings.side_m;
    let reach_m = f64::from(make.strings.mirrors) * make.pitch_m() + row_spacing_m;
    bill.add(Item::FieldWiring, WIRING_DETOUR * make.count() * reach_m);
}

fn add_setting_up(make: &Make, bill: &mut Quantities) {
    let (parts, count) = (&make.parts, make.count());
    bill.add(Item::GroundPost, count * parts.embedded_m);
    bill.add(Item::Concrete, count * parts.concrete_m3);
    let minutes = MINUTES_PER_PANEL * make.mirrors()
        + MINUTES_PER_POST * count * parts.posts as f64
        + MINUTES_PER_JOINT * count * parts.more_joints;
    bill.add(
        Item::Assembly,
        minutes / MINUTES_PER_HOUR + HOURS_PER_STRING * count,
    );
    let alignment_h = ALIGNMENT_MINUTES_PER_PANEL * make.mirrors() / MINUTES_PER_HOUR;
    bill.add(Item::Alignment, alignment_h);
}

#[cfg(test)]
mod tests;
