//! The built-in rates: US dollars of 2024, one entry per item with price range, carbon and sources.
//!
//! Older prices are brought to 2024 with the US consumer price index (2007: 207.3, 2010: 218.1, 2020:
//! 258.8, 2024: 313.7; from memory) and euros at 1.08 USD (2024 mean, from memory).

use std::borrow::Cow;

use crate::{Item, Rate};

/// Year in whose money the built-in rates are.
pub const PRICE_YEAR: u16 = 2024;
const PRACTICE: &str = "common practice, no source";
const ICE: &str = "Jones, Inventory of Carbon and Energy v3.0 (2019), single value, from memory";
const STEEL_PARTS: &str = "mostly steel at 2-3 kg/kg, from memory";
const NO_CARBON: &str = "counted in other items";
const FUEL: &str = "fuel of crew and tools, from memory";

/// Crude steel in a kilogram of sections, plates and tubes: a tenth is cut off on the way (from
/// memory) [g]. In grams, since products with 1.1 would be printed with sixteen digits.
const CRUDE_G: f64 = 1100.0;

/// Years after which controls are bought again: electronics outdoors (common practice, no source).
const CONTROLS_YEARS: f64 = 15.0;

/// An item with price (value, low, high) and source, carbon and source, crude steel, life.
struct Entry {
    item: Item,
    price: [f64; 3],
    source: &'static str,
    carbon_kg: f64,
    carbon_source: &'static str,
    steel_kg: f64,
    life_years: Option<f64>,
}

const fn entry(
    item: Item,
    price: [f64; 3],
    source: &'static str,
    carbon_kg: f64,
    carbon_source: &'static str,
) -> Entry {
    Entry {
        item,
        price,
        source,
        carbon_kg,
        carbon_source,
        steel_kg: 0.0,
        life_years: None,
    }
}

impl Entry {
    const fn steel(self, product_kg: f64) -> Self {
        Self {
            steel_kg: CRUDE_G * product_kg / 1e3,
            ..self
        }
    }

    const fn lasting(self, years: f64) -> Self {
        Self {
            life_years: Some(years),
            ..self
        }
    }
}

/// Fabricated sections, whatever they become.
const fn sections(item: Item) -> Entry {
    entry(item, [2.6, 1.2, 3.8], "fabricated and galvanised light structure 2.0-4.0 EUR/kg (2022-2025, Europe), 1.2-2 USD/kg (China), from memory, less galvanising", 2.5, "sections 1.55, plate 2.46, welded tube 2.78 kg/kg: Jones, Inventory of Carbon and Energy v3.0 (2019), from memory; near tube").steel(1.0)
}

const ENTRIES: [Entry; Item::COUNT] = [
    entry(Item::Glass, [1.1, 0.6, 1.6], "float 3-6 EUR/m2 at 4 mm and 2-5 USD/m2 more for low iron, from memory, to 2024 and per kg", 1.44, ICE),
    entry(Item::Silvering, [6.0, 3.0, 9.0], "flat silvered mirror 8-15 USD/m2 in bulk (2007-2020, from memory) to 2024, less its glass and edges", 2.0, "silvered mirror 1-3 kg/m2 above its glass, from memory"),
    entry(Item::EdgeCutting, [0.4, 0.2, 0.8], PRACTICE, 0.0, NO_CARBON),
    entry(Item::PanelTie, [2.5, 1.2, 5.0], PRACTICE, 2.0, STEEL_PARTS).steel(0.8),
    entry(Item::SparePanel, [30.0, 15.0, 50.0], "glass, silver, edges and ties of the panels installed, at their sources", 16.0, "silvered mirror of 4 mm 12-16 kg/m2, from memory"),
    sections(Item::Steel),
    sections(Item::StarSteel),
    sections(Item::LeverSteel),
    sections(Item::PostSteel),
    sections(Item::RailSteel),
    sections(Item::BarSteel),
    sections(Item::FrameSteel),
    sections(Item::TrussSteel),
    sections(Item::TubeSteel),
    entry(Item::Galvanising, [0.6, 0.3, 0.9], "0.3-0.8 EUR/kg of steel, from memory", 0.3, "hot-dip galvanised 2.76 less plate 2.46 kg/kg: Jones, Inventory of Carbon and Energy v3.0 (2019), from memory"),
    // 4.0 with machining to the common class.
    entry(Item::Castings, [3.0, 1.8, 5.5], PRACTICE, 2.3, "machined iron and steel 2-2.5 kg/kg, from memory").steel(1.0),
    entry(Item::Machining, [60.0, 30.0, 95.0], PRACTICE, 2.0, "power of machine tools, from memory"),
    entry(Item::Line, [5.5, 3.0, 9.0], PRACTICE, 3.0, "drawn and galvanised wire 2.8-3.2 kg/kg, from memory").steel(1.0),
    entry(Item::DriveUnit, [90.0, 40.0, 180.0], "worm or planetary gearmotor 15-100 USD, linear actuator 40-150 USD, from memory; with encoder and housing", 45.0, "motor, copper and electronics, from memory").steel(5.0),
    entry(Item::DriveGear, [220.0, 90.0, 440.0], "slew drives for the sun 150-500 USD at 0.5-2 kN.m, from memory, less motor and housing; other sizes by the root of torque", 60.0, STEEL_PARTS).steel(15.0),
    entry(Item::SpareDrive, [310.0, 130.0, 620.0], "a drive unit with its gear, at their sources", 105.0, "a drive unit with its gear, at their sources").steel(20.0),
    entry(Item::Controller, [60.0, 30.0, 150.0], PRACTICE, 25.0, "electronics and housing, from memory").lasting(CONTROLS_YEARS),
    entry(Item::StringSensor, [120.0, 50.0, 300.0], PRACTICE, 12.0, "electronics and housing, from memory").lasting(CONTROLS_YEARS),
    entry(Item::TargetCamera, [4000.0, 1500.0, 10000.0], PRACTICE, 300.0, "electronics and housing, from memory").lasting(CONTROLS_YEARS),
    entry(Item::DefocusSpring, [55.0, 25.0, 120.0], PRACTICE, 20.0, STEEL_PARTS).steel(6.0),
    entry(Item::FieldWiring, [2.5, 1.2, 5.0], PRACTICE, 1.2, "copper 2.7-3.8 kg/kg with its cover, from memory"),
    entry(Item::EmergencyPower, [600.0, 300.0, 1200.0], PRACTICE, 60.0, "lead-acid cells and inverter, from memory").lasting(CONTROLS_YEARS),
    entry(Item::GroundPost, [18.0, 10.0, 35.0], PRACTICE, 1.5, FUEL),
    entry(Item::Concrete, [220.0, 120.0, 400.0], "placed 120-250 USD/m3, small footings up to 400, from memory", 300.0, "C25-C35 240-360 kg/m3, from memory"),
    entry(Item::Earthing, [4.0, 2.0, 8.0], PRACTICE, 1.5, "half a kilogram of galvanised strip at 2.76 kg/kg: Jones, Inventory of Carbon and Energy v3.0 (2019), from memory").steel(0.5),
    entry(Item::TowerSteel, [4.5, 3.0, 7.0], PRACTICE, 2.78, ICE).steel(1.0),
    entry(Item::TowerFoundation, [380.0, 250.0, 600.0], PRACTICE, 500.0, "concrete 300 kg/m3 with 100 kg/m3 of bar at 1.99 kg/kg, from memory").steel(100.0),
    entry(Item::ReceiverPanel, [8000.0, 3000.0, 16000.0], "salt receivers with their towers 170-200 USD of 2010 per kW (Kolb et al. 2011, SAND2011-2419, from memory); carbon steel for water at 250 degC and some 300 kW/m2 taken at a tenth (our judgement)", 150.0, "coating, welding and instruments beside the steel, from memory"),
    entry(Item::SaltPanel, [60e3, 30e3, 90e3], "salt receivers with their towers 170-200 USD of 2010 per kW (Kolb et al. 2011, SAND2011-2419, from memory), to 2024 and at 400 kW/m2 100,000 USD/m2, less tower, pipes and pumps (our judgement)", 400.0, "nickel alloy, coating and instruments beside the steel, from memory"),
    entry(Item::AirAbsorber, [12e3, 5e3, 30e3], "common practice, no source; few have been built", 250.0, "ceramics or heat-resisting steel, from memory"),
    entry(Item::ReceiverSteel, [12.0, 7.0, 20.0], PRACTICE, 3.0, "boiler tube, bent and welded 2.8-3.2 kg/kg, from memory").steel(1.0),
    entry(Item::CavityHousing, [800.0, 400.0, 1500.0], PRACTICE, 90.0, "sheet steel and mineral wool, from memory").steel(25.0),
    entry(Item::Piping, [14.0, 8.0, 25.0], PRACTICE, 2.8, ICE).steel(1.0),
    entry(Item::HotDuct, [900.0, 500.0, 1800.0], PRACTICE, 120.0, STEEL_PARTS).steel(40.0),
    entry(Item::Insulation, [110.0, 60.0, 180.0], PRACTICE, 18.0, "mineral wool and sheet metal, from memory"),
    entry(Item::FreezeProtection, [55.0, 25.0, 110.0], PRACTICE, 3.0, "heating cable and controls, from memory"),
    entry(Item::Pump, [900.0, 450.0, 1800.0], PRACTICE, 60.0, STEEL_PARTS).steel(12.0),
    entry(Item::Pressuriser, [14000.0, 7000.0, 28000.0], PRACTICE, 4500.0, "1.5 t of vessel steel for each m3 at 3 kg/kg, from memory").steel(1500.0),
    entry(Item::Blower, [1200.0, 600.0, 2400.0], PRACTICE, 80.0, STEEL_PARTS).steel(15.0),
    entry(Item::Exchanger, [700.0, 350.0, 1400.0], PRACTICE, 80.0, STEEL_PARTS).steel(30.0),
    entry(Item::StorageVessel, [6.0, 4.0, 9.0], PRACTICE, 2.8, ICE).steel(1.0),
    entry(Item::StorageVolume, [250.0, 100.0, 500.0], PRACTICE, 120.0, "concrete base, wool and valves, from memory"),
    entry(Item::Salt, [1.2, 0.7, 1.8], PRACTICE, 0.7, "mined 0.3-0.7, synthetic 1.5-3 kg/kg, from memory"),
    entry(Item::SaltTank, [14.0, 8.0, 22.0], "common practice, no source; with its salt a large store stays within 30 USD of 2010 per kWh (Kolb et al. 2011, SAND2011-2419, from memory)", 5.0, "stainless and carbon steel with foundation, from memory").steel(1.0),
    entry(Item::PackedBed, [0.25, 0.1, 0.6], PRACTICE, 0.05, FUEL),
    entry(Item::SteamGenerator, [210.0, 140.0, 320.0], "350 USD of 2010 per kW of electricity at 41 % (Kolb et al. 2011, SAND2011-2419, from memory), to 2024", 15.0, STEEL_PARTS).steel(6.0),
    entry(Item::TurbineSet, [2800.0, 1800.0, 4200.0], "power block 1,000 USD of 2010 per kW at 100 MW (Kolb et al. 2011, SAND2011-2419, from memory), to 2024 and by the six-tenths rule (Williams 1947) to some 10-20 MW", 180.0, "steel, copper and concrete, from memory").steel(20.0),
    entry(Item::DryCooler, [50.0, 30.0, 90.0], PRACTICE, 9.0, STEEL_PARTS).steel(3.0),
    entry(Item::ControlRoom, [250000.0, 100000.0, 500000.0], PRACTICE, 60000.0, "building, transformer and cable, from memory"),
    entry(Item::SiteWorks, [4.0, 1.5, 8.0], "site preparation 10-25 USD per m2 of mirror, from memory, at a mirror to land ratio of 0.2-0.35", 2.0, FUEL),
    entry(Item::Land, [1.0, 0.1, 2.5], "desert land 0.1-2.5 USD/m2, from memory", 0.0, "not counted: land"),
    entry(Item::Fence, [45.0, 25.0, 80.0], PRACTICE, 18.0, "galvanised wire, posts and footings, from memory").steel(6.0),
    entry(Item::Assembly, [45.0, 20.0, 75.0], PRACTICE, 1.0, FUEL),
    entry(Item::Alignment, [55.0, 25.0, 90.0], PRACTICE, 1.0, FUEL),
    entry(Item::LaserSet, [9000.0, 4000.0, 20000.0], PRACTICE, 200.0, "electronics and housing, from memory"),
    entry(Item::Crane, [2600.0, 1500.0, 5000.0], PRACTICE, 250.0, "some 90 l of diesel a day at 2.7 kg/l, from memory"),
    entry(Item::Commissioning, [70.0, 35.0, 110.0], PRACTICE, 1.0, FUEL),
    entry(Item::Freight, [180.0, 80.0, 350.0], PRACTICE, 90.0, "some 1,000 km by lorry at 0.09 kg/t/km, from memory"),
    entry(Item::Washing, [0.04, 0.02, 0.08], "cleaning 0.5-1.5 USD per m2 and year, from memory, at 26 washes a year (a two-week interval: ASTRI)", 0.002, FUEL),
    entry(Item::Water, [3.0, 1.0, 8.0], PRACTICE, 0.5, "treatment and lorry, from memory"),
    entry(Item::Staff, [60000.0, 25000.0, 95000.0], PRACTICE, 0.0, "not counted: people"),
    entry(Item::Electricity, [0.12, 0.06, 0.25], PRACTICE, 0.3, "a grid of 0.30 kg/kWh, common practice, no source"),
    entry(Item::DriveReplacement, [360.0, 180.0, 700.0], "a drive unit with its gear at their sources, and an hour of work", 105.0, "a drive unit with its gear, at their sources").steel(20.0),
    entry(Item::LineReplacement, [12.0, 7.0, 20.0], PRACTICE, 3.0, "drawn and galvanised wire 2.8-3.2 kg/kg, from memory").steel(1.0),
    entry(Item::GlassReplacement, [55.0, 30.0, 90.0], PRACTICE, 18.0, "silvered mirror of 4-5 mm 12-16 kg/m2 and its way there, from memory"),
];

const _: () = {
    let mut place = 0;
    while place < Item::COUNT {
        assert!(
            ENTRIES[place].item as usize == place,
            "entries stand in bill order"
        );
        place += 1;
    }
};

/// The built-in rates in bill order.
pub fn usd_2024() -> [Rate; Item::COUNT] {
    ENTRIES.map(|entry| {
        let [value, low, high] = entry.price;
        Rate {
            value,
            low,
            high,
            price_year: PRICE_YEAR,
            raised: 1.0,
            source: Cow::Borrowed(entry.source),
            carbon_kg_per_unit: entry.carbon_kg,
            carbon_source: Cow::Borrowed(entry.carbon_source),
            steel_kg_per_unit: entry.steel_kg,
            life_years: entry.life_years,
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_price_lies_in_its_range_and_says_where_it_is_from() {
        for (rate, item) in usd_2024().iter().zip(Item::ALL) {
            assert!(
                0.0 < rate.low && rate.low <= rate.value && rate.value <= rate.high,
                "{item:?}"
            );
            assert!(rate.carbon_kg_per_unit >= 0.0, "{item:?}");
            for words in [&rate.source, &rate.carbon_source] {
                let is_said = [
                    "from memory",
                    "no source",
                    "counted",
                    "at their sources",
                    "(20",
                ];
                assert!(is_said.iter().any(|said| words.contains(said)), "{item:?}");
            }
        }
    }
}
