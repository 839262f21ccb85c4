//! From sized parts to the bill of quantities: amounts per item, no prices.

mod drive;
mod lot;
mod to_fence;

use field::{Plan, land_area_m2};
use ledger::{Item, Quantities, counted_gears};
use plant::{PlantParts, YearTotals};
use scenario::{Labour, Stock, Upkeep};
use structure::{Sheet, TowerParts};

use crate::makes::Makes;
use lot::Lot;

/// Drives of a driven unit: one for each axis.
pub const DRIVES_PER_UNIT: f64 = 2.0;

/// Cable in the field over the length of units and the spacing that it crosses (common
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
    /// Its driven units, make by make.
    pub makes: &'a Makes,
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
        let lots = Lot::all(self.makes);
        let mut bill = Quantities::default();
        for lot in &lots {
            add_mirrors(lot, &self.sheet, &mut bill);
            add_drives(lot, &mut bill);
            drive::add(lot, self.norms.labour, &mut bill);
            add_spares(lot, self.norms.stock, &mut bill);
            add_setting_up(lot, self.norms.labour, &mut bill);
        }
        drive::add_shared(&lots, &mut bill);
        self.add_ground(&lots, &mut bill);
        self.add_tower(&mut bill);
        to_fence::add_to_fence(self.plant, &mut bill);
        self.add_building(&lots, &mut bill);
        self.add_upkeep(&lots, &mut bill);
        bill
    }

    /// Land of the field [m²].
    #[must_use]
    pub fn land_m2(&self) -> f64 {
        land_area_m2(self.plan)
    }

    fn add_ground(&self, lots: &[Lot], bill: &mut Quantities) {
        let land_m2 = self.land_m2();
        let fence_m = 4.0 * land_m2.sqrt();
        bill.add(Item::SiteWorks, land_m2);
        bill.add(Item::Land, land_m2);
        bill.add(Item::Fence, fence_m);
        let rows_m = sum(lots, |lot| lot.count * lot.reach_m);
        let tower_m = TOWER_EARTHING * self.tower_height_m;
        bill.add(Item::Earthing, rows_m + fence_m + tower_m);
    }

    fn add_tower(&self, bill: &mut Quantities) {
        bill.add(Item::TowerSteel, self.tower.steel_kg);
        bill.add(Item::TowerFoundation, self.tower.foundation_m3);
        to_fence::add_receiver(self.plant, bill);
        bill.add(Item::CavityHousing, self.housing_m2);
    }

    fn add_building(&self, lots: &[Lot], bill: &mut Quantities) {
        let labour = self.norms.labour;
        let lifted_kg = self.tower.steel_kg + self.plant.receiver_mass_kg;
        bill.add(
            Item::Crane,
            lifted_kg / labour.lifted_kg_s / SECONDS_PER_DAY,
        );
        let units_s = labour.commissioning_unit_s * sum(lots, |lot| lot.count);
        let commissioning_s = units_s + labour.commissioning_plant_s;
        bill.add(Item::Commissioning, commissioning_s / SECONDS_PER_HOUR);
        bill.add(Item::Freight, bill.mass_kg() / KG_PER_T);
    }

    fn add_upkeep(&self, lots: &[Lot], bill: &mut Quantities) {
        let (area_m2, upkeep) = (self.plan.total_area_m2(), self.norms.upkeep);
        let washed_m2 = area_m2 * SECONDS_PER_YEAR / self.norms.wash_interval_s;
        bill.add(Item::Washing, washed_m2);
        bill.add(Item::Water, upkeep.wash_water_m * washed_m2);
        let per_mirror = 1.0 / upkeep.mirrors_per_person;
        bill.add(
            Item::Staff,
            upkeep.staff + per_mirror * sum(lots, |lot| lot.count * lot.panels),
        );
        bill.add(Item::Electricity, self.year.bought_electric_j() / J_PER_KWH);
        to_fence::add_upkeep(self.plant, self.year, bill);
        let in_year = |share_per_s: f64| share_per_s * SECONDS_PER_YEAR;
        let drives = sum(lots, counted_drives);
        bill.add(
            Item::DriveReplacement,
            in_year(upkeep.drives_replaced_per_s) * drives,
        );
        let wearing_kg = sum(lots, |lot| lot.count * lot.wearing_kg);
        bill.add(
            Item::LineReplacement,
            in_year(upkeep.lines_replaced_per_s) * wearing_kg,
        );
        bill.add(
            Item::GlassReplacement,
            in_year(upkeep.glass_replaced_per_s) * area_m2,
        );
    }

    /// Glass of the mirrors [kg].
    #[must_use]
    pub fn glass_kg(&self) -> f64 {
        sum(&Lot::all(self.makes), |lot| lot.count * lot.glass_kg)
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
        let units_kg = sum(&Lot::all(self.makes), |lot| lot.count * lot.all_steel_kg());
        units_kg + self.plant_steel_kg()
    }
}

/// Sum of an amount over all lots.
fn sum(lots: &[Lot], amount: impl Fn(&Lot) -> f64) -> f64 {
    lots.iter().map(amount).sum()
}

fn add_mirrors(lot: &Lot, sheet: &Sheet, bill: &mut Quantities) {
    let count = lot.count;
    let bought = count / sheet.share(lot.panel_side_m);
    bill.add(Item::Glass, bought * lot.glass_kg);
    bill.add(Item::Silvering, bought * lot.glass_area_m2);
    bill.add(Item::EdgeCutting, count * lot.glass_edge_m);
    bill.add(Item::PanelTie, count * lot.panels);
    for &(item, kg) in &lot.steel_kg {
        bill.add(item, count * kg);
    }
    bill.add(Item::Galvanising, count * lot.galvanised_kg);
    bill.add(Item::Castings, count * lot.castings_kg);
    bill.add(Item::Line, count * lot.lines_kg);
}

/// All drives of a lot, in drives of 1 kN·m.
fn counted_drives(lot: &Lot) -> f64 {
    let gears: f64 = lot.torques_n_m.into_iter().map(counted_gears).sum();
    lot.count * gears
}

fn add_drives(lot: &Lot, bill: &mut Quantities) {
    bill.add(Item::DriveUnit, DRIVES_PER_UNIT * lot.count);
    bill.add(Item::DriveGear, counted_drives(lot));
    bill.add(Item::Controller, lot.count);
    bill.add(Item::FieldWiring, WIRING_DETOUR * lot.count * lot.reach_m);
}

fn add_spares(lot: &Lot, stock: &Stock, bill: &mut Quantities) {
    let glass_m2 = lot.count * lot.glass_area_m2;
    bill.add(Item::SparePanel, stock.spare_panels * glass_m2);
    bill.add(Item::SpareDrive, stock.spare_parts * counted_drives(lot));
}

fn add_setting_up(lot: &Lot, labour: &Labour, bill: &mut Quantities) {
    bill.add(Item::GroundPost, lot.count * lot.embedded_m);
    bill.add(Item::Concrete, lot.count * lot.concrete_m3);
    let unit_s = labour.panel_s * lot.panels
        + labour.post_s * lot.posts_set
        + labour.joint_s * lot.joints
        + labour.driven_unit_s;
    bill.add(Item::Assembly, lot.count * unit_s / SECONDS_PER_HOUR);
}

pub use drive::defocus_parts;

#[cfg(test)]
mod tests;
