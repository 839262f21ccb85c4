//! The built-in rates: US dollars of 2024, one entry per item with price range, carbon and sources.
//!
//! Older prices are brought to 2024 with the US consumer price index (2007: 207.3, 2010: 218.1, 2020:
//! 258.8, 2024: 313.7; from memory) and euros at 1.08 USD (2024 mean, from memory).

use std::borrow::Cow;

use crate::{Item, Rate};

const PRICE_YEAR: u16 = 2024;
const PRACTICE: &str = "common practice, no source";
const MEMORY: &str = "from memory";
const ICE: &str = "Jones, Inventory of Carbon and Energy v3.0 (2019), single value, from memory";
const NO_CARBON: &str = "counted in other items";

/// An item with price (value, low, high) and source, carbon and source.
struct Entry(Item, [f64; 3], &'static str, f64, &'static str);

const ENTRIES: [Entry; Item::COUNT] = [
    Entry(
        Item::Glass,
        [1.10, 0.60, 1.60],
        "float 3-6 EUR/m2 at 4 mm and 2-5 USD/m2 more for low iron, from memory, to 2024 and per kg",
        1.44,
        ICE,
    ),
    Entry(
        Item::Silvering,
        [6.0, 3.0, 9.0],
        "flat silvered mirror 8-15 USD/m2 in bulk (2007-2020, from memory) to 2024, less its glass and edges",
        2.0,
        "silvered mirror 1-3 kg/m2 above its glass, from memory",
    ),
    Entry(
        Item::EdgeCutting,
        [0.40, 0.20, 0.80],
        PRACTICE,
        0.0,
        NO_CARBON,
    ),
    Entry(Item::PanelTie, [2.5, 1.2, 5.0], PRACTICE, 2.0, MEMORY),
    Entry(
        Item::Steel,
        [2.6, 1.2, 3.8],
        "fabricated and galvanised light structure 2.0-4.0 EUR/kg (2022-2025, Europe), 1.2-2 USD/kg (China), from memory, less galvanising",
        2.5,
        "sections 1.55, plate 2.46, welded tube 2.78 kg/kg: Jones, Inventory of Carbon and Energy v3.0 (2019), from memory; near tube",
    ),
    Entry(
        Item::Galvanising,
        [0.60, 0.30, 0.90],
        "0.3-0.8 EUR/kg of steel, from memory",
        0.30,
        "hot-dip galvanised 2.76 less plate 2.46 kg/kg: Jones, Inventory of Carbon and Energy v3.0 (2019), from memory",
    ),
    Entry(Item::Castings, [4.0, 2.5, 7.0], PRACTICE, 2.3, MEMORY),
    Entry(Item::Line, [5.5, 3.0, 9.0], PRACTICE, 3.0, MEMORY),
    Entry(
        Item::DriveUnit,
        [90.0, 40.0, 180.0],
        "worm or planetary gearmotor 15-100 USD, linear actuator 40-150 USD, from memory; with encoder and housing",
        45.0,
        MEMORY,
    ),
    Entry(
        Item::DriveTorque,
        [0.20, 0.08, 0.40],
        "solar slew drive 150-500 USD, from memory, laid over 0.5-2 kN.m",
        0.06,
        MEMORY,
    ),
    Entry(
        Item::Controller,
        [60.0, 30.0, 150.0],
        PRACTICE,
        25.0,
        MEMORY,
    ),
    Entry(Item::FieldWiring, [2.5, 1.2, 5.0], PRACTICE, 1.2, MEMORY),
    Entry(Item::GroundPost, [18.0, 10.0, 35.0], PRACTICE, 1.5, MEMORY),
    Entry(
        Item::Concrete,
        [220.0, 120.0, 400.0],
        "placed 120-250 USD/m3, small footings up to 400, from memory",
        300.0,
        "C25-C35 240-360 kg/m3, from memory",
    ),
    Entry(
        Item::SiteWorks,
        [4.0, 1.5, 8.0],
        "site preparation 10-25 USD per m2 of mirror, from memory, at a mirror to land ratio of 0.2-0.35",
        2.0,
        MEMORY,
    ),
    Entry(
        Item::Land,
        [1.0, 0.1, 2.5],
        "desert land 0.1-2.5 USD/m2, from memory",
        0.0,
        "not counted: land",
    ),
    Entry(Item::Fence, [45.0, 25.0, 80.0], PRACTICE, 18.0, MEMORY),
    Entry(Item::TowerSteel, [4.5, 3.0, 7.0], PRACTICE, 2.78, ICE),
    Entry(
        Item::TowerFoundation,
        [380.0, 250.0, 600.0],
        PRACTICE,
        500.0,
        "concrete 300 kg/m3 with 100 kg/m3 of bar at 1.99 kg/kg, from memory",
    ),
    Entry(
        Item::ReceiverPanel,
        [8000.0, 3000.0, 16_000.0],
        "salt receivers with their towers 170-200 USD of 2010 per kW (Kolb et al. 2011, SAND2011-2419, from memory); carbon steel for water at 250 degC and some 300 kW/m2 taken at a tenth (our judgement)",
        150.0,
        MEMORY,
    ),
    Entry(
        Item::ReceiverSteel,
        [12.0, 7.0, 20.0],
        PRACTICE,
        3.0,
        MEMORY,
    ),
    Entry(
        Item::CavityHousing,
        [800.0, 400.0, 1500.0],
        PRACTICE,
        90.0,
        MEMORY,
    ),
    Entry(Item::Piping, [14.0, 8.0, 25.0], PRACTICE, 2.8, MEMORY),
    Entry(
        Item::Insulation,
        [110.0, 60.0, 180.0],
        PRACTICE,
        18.0,
        MEMORY,
    ),
    Entry(Item::Pump, [900.0, 450.0, 1800.0], PRACTICE, 60.0, MEMORY),
    Entry(
        Item::Exchanger,
        [700.0, 350.0, 1400.0],
        PRACTICE,
        80.0,
        MEMORY,
    ),
    Entry(Item::StorageVessel, [6.0, 4.0, 9.0], PRACTICE, 2.8, MEMORY),
    Entry(
        Item::StorageVolume,
        [250.0, 100.0, 500.0],
        PRACTICE,
        120.0,
        MEMORY,
    ),
    Entry(
        Item::ControlRoom,
        [250e3, 100e3, 500e3],
        PRACTICE,
        60e3,
        MEMORY,
    ),
    Entry(Item::Assembly, [45.0, 20.0, 75.0], PRACTICE, 1.0, MEMORY),
    Entry(Item::Alignment, [55.0, 25.0, 90.0], PRACTICE, 1.0, MEMORY),
    Entry(Item::Freight, [180.0, 80.0, 350.0], PRACTICE, 90.0, MEMORY),
    Entry(
        Item::Washing,
        [0.04, 0.02, 0.08],
        "cleaning 0.5-1.5 USD per m2 and year, from memory, at 26 washes a year (a two-week interval: ASTRI)",
        0.002,
        MEMORY,
    ),
    Entry(Item::Water, [3.0, 1.0, 8.0], PRACTICE, 0.5, MEMORY),
    Entry(
        Item::Staff,
        [60e3, 25e3, 95e3],
        PRACTICE,
        0.0,
        "not counted: people",
    ),
    Entry(
        Item::Electricity,
        [0.12, 0.06, 0.25],
        PRACTICE,
        0.30,
        MEMORY,
    ),
    Entry(
        Item::DriveReplacement,
        [250.0, 120.0, 450.0],
        PRACTICE,
        60.0,
        MEMORY,
    ),
    Entry(
        Item::LineReplacement,
        [12.0, 7.0, 20.0],
        PRACTICE,
        3.0,
        MEMORY,
    ),
    Entry(
        Item::GlassReplacement,
        [55.0, 30.0, 90.0],
        PRACTICE,
        18.0,
        MEMORY,
    ),
];

const _: () = {
    let mut place = 0;
    while place < Item::COUNT {
        assert!(
            ENTRIES[place].0 as usize == place,
            "entries stand in bill order"
        );
        place += 1;
    }
};

/// The built-in rates in bill order.
pub fn usd_2024() -> [Rate; Item::COUNT] {
    ENTRIES.map(
        |Entry(_, [value, low, high], source, carbon_kg_per_unit, carbon_source)| Rate {
            value,
            low,
            high,
            price_year: PRICE_YEAR,
            source: Cow::Borrowed(source),
            carbon_kg_per_unit,
            carbon_source: Cow::Borrowed(carbon_source),
        },
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_price_lies_in_its_range_and_names_its_source() {
        for (rate, item) in usd_2024().iter().zip(Item::ALL) {
            assert!(
                0.0 < rate.low && rate.low <= rate.value && rate.value <= rate.high,
                "{item:?}"
            );
            assert!(rate.carbon_kg_per_unit >= 0.0, "{item:?}");
            assert!(
                !rate.source.is_empty() && !rate.carbon_source.is_empty(),
                "{item:?}"
            );
        }
    }
}
