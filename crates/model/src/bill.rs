//! From sized parts to the bill of quantities: amounts per item, no prices.

mod drive;
mod to_fence;

use field::{Plan, land_area_m2};
use ledger::{Item, Quantities, counted_gears};
use plant::{PlantParts, YearTotals};
use scenario::{Labour, Stock, Upkeep};
use structure::{Sheet, TowerParts};

use crate::make::Make;

/// Drives of a string: one for each axis.
pub const DRIVES_PER_STRING: f64 = 2.0;

/// Cable in the field over the length of strings and the row spacing that it crosses (common
/// practice, no source).
const WIRING_DETOUR: f64 = 1.3;
/// Earth conductor on the tower over its height: two down conductors and a ring (common practice, no
/// source).
const TOWER_EARTHING: f64 = 3.0;

const SECONDS_PER_HOUR: f64 = 3600.0;
const SECONDS_PER_DAY: f64 = 86_400.0;
const SECONDS_PER_YEAR: f64 = 365.0 * SECONDS_PER_DAY;
const J_PER_KWH: f64 = 3.6e6;
const KG_PER_T: f64 = 1000.0;
const W_PER_KW: f64 = 1000.0;

/// Norms of building and upkeep, as the scenario has them.
#[derive(Clone, Copy)]
pub struct Norms<'a> {
    /// What is bought from stock, and spares.
    pub stock: &'a Stock,
    /// Work to build.
    pub labour: &'a Labour,
    /// What keeps the plant running.
    pub upkeep: &'a Upkeep,
    /// Time from one wash of a mirror to the next.
    pub wash_interval_s: f64,
}

/// Everything that was sized for one design.
pub struct Sized<'a> {
    /// Its strings, make by make.
    pub makes: &'a [Make],
    /// What panels are cut from.
    pub sheet: Sheet,
    /// Norms of building and upkeep.
    pub norms: Norms<'a>,
    /// Where they stand.
    pub plan: &'a Plan,
    /// The tower.
    pub tower: &'a TowerParts,
    /// Height of the aim point.
    pub tower_height_m: f64,
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
            drive::add(make, self.norms.labour, &mut bill);
            add_spares(make, self.norms.stock, &mut bill);
            add_setting_up(make, self.norms.labour, &mut bill);
        }
        drive::add_shared(self.makes, &mut bill);
        self.add_ground(&mut bill);
        self.add_tower(&mut bill);
        to_fence::add_to_fence(self.plant, &mut bill);
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
        let fence_m = 4.0 * land_m2.sqrt();
        bill.add(Item::SiteWorks, land_m2);
        bill.add(Item::Land, land_m2);
        bill.add(Item::Fence, fence_m);
        let rows_m = self.sum(|make| make.count() * reach_m(make));
        let tower_m = TOWER_EARTHING * self.tower_height_m;
        bill.add(Item::Earthing, rows_m + fence_m + tower_m);
    }

    fn add_tower(&self, bill: &mut Quantities) {
        bill.add(Item::TowerSteel, self.tower.steel_kg);
        bill.add(Item::TowerFoundation, self.tower.foundation_m3);
        to_fence::add_receiver(self.plant, bill);
        bill.add(Item::CavityHousing, self.housing_m2);
    }

    fn add_building(&self, bill: &mut Quantities) {
        let labour = self.norms.labour;
        let lifted_kg = self.tower.steel_kg + self.plant.receiver_mass_kg;
        bill.add(
            Item::Crane,
            lifted_kg / labour.lifted_kg_s / SECONDS_PER_DAY,
        );
        let units_s = labour.commissioning_unit_s * self.sum(Make::count);
        let commissioning_s = units_s + labour.commissioning_plant_s;
        bill.add(Item::Commissioning, commissioning_s / SECONDS_PER_HOUR);
        bill.add(Item::Freight, bill.mass_kg() / KG_PER_T);
    }

    fn add_upkeep(&self, bill: &mut Quantities) {
        let (area_m2, upkeep) = (self.plan.total_area_m2(), self.norms.upkeep);
        let washed_m2 = area_m2 * SECONDS_PER_YEAR / self.norms.wash_interval_s;
        bill.add(Item::Washing, washed_m2);
        bill.add(Item::Water, upkeep.wash_water_m * washed_m2);
        let per_mirror = 1.0 / upkeep.mirrors_per_person;
        bill.add(
            Item::Staff,
            upkeep.staff + per_mirror * self.sum(Make::mirrors),
        );
        bill.add(Item::Electricity, self.year.bought_electric_j() / J_PER_KWH);
        to_fence::add_upkeep(self.plant, self.year, bill);
        let in_year = |share_per_s: f64| share_per_s * SECONDS_PER_YEAR;
        let drives = self.sum(counted_drives);
        bill.add(
            Item::DriveReplacement,
            in_year(upkeep.drives_replaced_per_s) * drives,
        );
        let wearing_kg = self.sum(|make| make.count() * make.parts.wearing_kg);
        bill.add(
            Item::LineReplacement,
            in_year(upkeep.lines_replaced_per_s) * wearing_kg,
        );
        bill.add(
            Item::GlassReplacement,
            in_year(upkeep.glass_replaced_per_s) * area_m2,
        );
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
    bill.add(Item::StarSteel, count * masses.stars_kg);
    bill.add(Item::LeverSteel, count * masses.levers_kg);
    bill.add(Item::PostSteel, count * masses.posts_kg);
    bill.add(Item::RailSteel, count * masses.rail_kg);
    bill.add(Item::FrameSteel, count * masses.frames_kg);
    bill.add(Item::Galvanising, count * masses.sections_kg());
    bill.add(Item::Castings, count * masses.mounts_kg);
    bill.add(Item::Line, count * masses.lines_kg);
}

/// All drives of a make, in drives of 1 kN·m.
fn counted_drives(make: &Make) -> f64 {
    DRIVES_PER_STRING * make.count() * counted_gears(make.parts.drive_torque_n_m)
}

/// From one end of a string to the other and over to the next row.
fn reach_m(make: &Make) -> f64 {
    let row_spacing_m = make.strings.row_spacing_ratio * make.strings.side_m;
    f64::from(make.strings.mirrors) * make.pitch_m() + row_spacing_m
}

fn add_drives(make: &Make, bill: &mut Quantities) {
    let drives = DRIVES_PER_STRING * make.count();
    bill.add(Item::DriveUnit, drives);
    bill.add(Item::DriveGear, counted_drives(make));
    bill.add(Item::Controller, make.count());
    bill.add(
        Item::FieldWiring,
        WIRING_DETOUR * make.count() * reach_m(make),
    );
}

fn add_spares(make: &Make, stock: &Stock, bill: &mut Quantities) {
    let glass_m2 = make.count() * make.parts.glass_area_m2;
    bill.add(Item::SparePanel, stock.spare_panels * glass_m2);
    bill.add(Item::SpareDrive, stock.spare_parts * counted_drives(make));
}

fn add_setting_up(make: &Make, labour: &Labour, bill: &mut Quantities) {
    let (parts, count) = (&make.parts, make.count());
    bill.add(Item::GroundPost, count * parts.embedded_m);
    bill.add(Item::Concrete, count * parts.concrete_m3);
    let assembly_s = labour.panel_s * make.mirrors()
        + count * drive::post_s(make, labour)
        + labour.joint_s * count * parts.more_joints
        + labour.driven_unit_s * count;
    bill.add(Item::Assembly, assembly_s / SECONDS_PER_HOUR);
}

pub use drive::defocus_parts;

#[cfg(test)]
mod tests;
