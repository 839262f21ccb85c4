//! Amounts of a small invented field, worked by hand.

use std::f64::consts::PI;

use field::{FirstAxis, Linkage, Plan, StringRow};
use ledger::Item;
use plant::{Cooling, Fluid, PlantParts, YearTotals};
use scenario::{
    Class, Defocus, DriveDesign, HeliostatsDesign, Sensing, SetBy, StringsDesign, Workmanship,
};
use structure::{
    Footing, Gear, Glass, Masses, Panel, PedestalInputs, Rules, StringInputs, StringParts, Terrain,
    TowerParts, Wind, WindCode, size_pedestal, size_string,
};

use super::*;
use crate::make::Make;
use crate::makes::HeliostatMake;

/// Two strings of two mirrors of 1 m, 10 m long, at 30 and 40 m north of the tower.
fn plan() -> Plan {
    let row = |row: usize| StringRow {
        first_mirror: 2 * row,
        mirror_count: 2,
        bearing_rad: 0.5 * PI,
        first_axis: FirstAxis::Along,
        linkage: Linkage::EqualAngle,
        row,
    };
    Plan {
        x_m: vec![-5.0, 5.0, -5.0, 5.0],
        y_m: vec![30.0, 30.0, 40.0, 40.0],
        z_m: vec![1.0; 4],
        width_m: vec![1.0; 4],
        height_m: vec![1.0; 4],
        focal_length_m: vec![50.0; 4],
        strings: vec![row(0), row(1)],
        ..Plan::default()
    }
}

fn strings() -> StringsDesign {
    StringsDesign {
        count: 2,
        mirrors: 2,
        side_m: 1.0,
        pitch_ratio: 10.0,
        row_spacing_ratio: 4.0,
        ..StringsDesign::default()
    }
}

fn wind() -> Wind {
    Wind {
        code: WindCode::En1991,
        terrain: Terrain::OPEN,
        air_density_kg_m3: 1.2,
        operate_m_s: 12.0,
        drive_to_stow_m_s: 16.0,
        survive_m_s: 27.0,
        rms_operating_m_s: 5.0,
    }
}

/// A string with round figures for all that the bill reads.
fn string() -> StringParts {
    let inputs = StringInputs {
        panel: Panel {
            glass: Glass::ANNEALED,
            side_m: 1.0,
            thickness_m: 0.004,
            shortest_focal_length_m: 50.0,
        },
        mirrors: 2,
        pitch_m: 10.0,
        mount_height_m: 1.0,
        stagger_m: 0.0,
        rail_slope_rad: 0.0,
        lever_m: 0.4,
        driven_from_middle: false,
        on_rail: true,
        gear: Gear::CUSTOMARY,
        wind: wind(),
        rules: Rules::customary(),
    };
    StringParts {
        masses: Masses {
            glass_kg: 20.0,
            stars_kg: 10.0,
            mounts_kg: 5.0,
            levers_kg: 3.0,
            lines_kg: 4.0,
            posts_kg: 15.0,
            rail_kg: 25.0,
            bars_kg: 5.0,
            frames_kg: 12.0,
        },
        posts: 6,
        embedded_m: 6.6,
        concrete_m3: 0.25,
        drive_torque_n_m: 950.0,
        motor_power_w: 15.0,
        wearing_kg: 4.0,
        ..size_string(&inputs).unwrap()
    }
}

const TOWER: TowerParts = TowerParts {
    steel_kg: 6000.0,
    foundation_m3: 60.0,
    base_moment_n_m: 3e6,
    head_shift_m: 0.01,
};

fn plant() -> PlantParts {
    PlantParts {
        receiver_panel_area_m2: 10.0,
        receiver_mass_kg: 1500.0,
        pipe_length_m: 100.0,
        pipe_diameter_m: 0.12,
        pipe_mass_kg: 1200.0,
        storage_volume_m3: 20.0,
        storage_steel_kg: 14_000.0,
        pump_power_w: 12e3,
        exchanger_area_m2: 80.0,
        fluid: Fluid::Water,
        storage_mass_kg: 15_000.0,
        exchanger_power_w: 3e6,
        turbine_w: 0.0,
        cooling: None,
    }
}

/// The same plant with salt and a turbine set of 1 MW.
fn power_plant() -> PlantParts {
    PlantParts {
        fluid: Fluid::Salt,
        exchanger_area_m2: 0.0,
        turbine_w: 1e6,
        cooling: Some(Cooling::Dry),
        ..plant()
    }
}

/// The same plant for hot air.
fn air_plant() -> PlantParts {
    PlantParts {
        fluid: Fluid::Air,
        exchanger_area_m2: 0.0,
        ..plant()
    }
}

const MINUTE_S: f64 = 60.0;
const HOUR_S: f64 = 3600.0;
const DAY_S: f64 = 86_400.0;
const YEAR_S: f64 = 365.0 * DAY_S;

const STOCK: Stock = Stock {
    sheet_length_m: 6.0,
    sheet_width_m: 3.21,
    bar_m: 6.0,
    long_bar_m: 12.0,
    saw_cut_m: 0.003,
    spare_panels: 0.02,
    spare_parts: 0.03,
};

const LABOUR: Labour = Labour {
    panel_s: 20.0 * MINUTE_S,
    post_s: 10.0 * MINUTE_S,
    joint_s: 6.0 * MINUTE_S,
    driven_unit_s: 6.0 * HOUR_S,
    alignment_s: 8.0 * MINUTE_S,
    lifted_kg_s: 2500.0 / DAY_S,
    commissioning_unit_s: 0.5 * HOUR_S,
    commissioning_plant_s: 600.0 * HOUR_S,
};

const UPKEEP: Upkeep = Upkeep {
    wash_water_m: 0.6e-3,
    staff: 0.5,
    mirrors_per_person: 10_000.0,
    drives_replaced_per_s: 0.03 / YEAR_S,
    lines_replaced_per_s: 0.02 / YEAR_S,
    glass_replaced_per_s: 0.003 / YEAR_S,
};

fn billed(check: impl Fn(&Sized<'_>, &Quantities)) {
    billed_with(&plant(), check);
}

fn billed_with(plant: &PlantParts, check: impl Fn(&Sized<'_>, &Quantities)) {
    let plan = plan();
    let make = Make {
        lee: crate::inputs::Lee::Inside,
        strings: strings(),
        parts: string(),
    };
    let sized = Sized {
        makes: &Makes::Strings(vec![make]),
        sheet: Sheet::LARGE,
        norms: Norms {
            stock: &STOCK,
            labour: &LABOUR,
            upkeep: &UPKEEP,
            wash_interval_s: 14.6 * DAY_S,
        },
        plan: &plan,
        tower: &TOWER,
        tower_height_m: 30.0,
        plant,
        housing_m2: 7.0,
        year: &YearTotals {
            own_use_electric_j: 4.6e10,
            own_supplied_j: 1e10,
            delivered_j: 3.6e12,
            ..YearTotals::default()
        },
    };
    check(&sized, &sized.quantities());
}

fn expect(bill: &Quantities, amounts: &[(Item, f64)]) {
    for &(item, amount) in amounts {
        let found = bill.get(item);
        assert!(
            (found - amount).abs() <= 1e-9 * amount.abs(),
            "{}: {found} instead of {amount}",
            item.key()
        );
    }
}

/// Panels of 1 m leave 18 of 19.26 m² of a 6.00 × 3.21 m sheet; edges are counted on the panels.
#[test]
fn strings_are_counted_once_for_each() {
    billed(|_, bill| {
        expect(
            bill,
            &[
                (Item::Glass, 2.0 * 20.0 * 19.26 / 18.0),
                (Item::Silvering, 4.0 * 19.26 / 18.0),
                (Item::EdgeCutting, 16.0),
                (Item::PanelTie, 4.0),
                (Item::Steel, 0.0),
                (Item::StarSteel, 20.0),
                (Item::LeverSteel, 6.0),
                (Item::PostSteel, 30.0),
                (Item::RailSteel, 50.0),
                (Item::BarSteel, 10.0),
                (Item::FrameSteel, 24.0),
                (Item::Galvanising, 140.0),
                (Item::Castings, 10.0),
                (Item::Line, 8.0),
            ],
        );
    });
}

/// Two drives a string, each in the class of 1 kN·m; wire runs along a string of 2 × 10 m and over to
/// the next row 4 m away, a third longer than straight; 4 motors of 15 W. Of 4 drives and 4 m² of
/// panels, 3 and 2 % more on the shelf.
#[test]
fn drives_are_two_a_string_and_controls_one() {
    billed(|_, bill| {
        expect(
            bill,
            &[
                (Item::DriveUnit, 4.0),
                (Item::DriveGear, 4.0),
                (Item::SpareDrive, 0.12),
                (Item::SparePanel, 0.08),
                (Item::Controller, 2.0),
                (Item::FieldWiring, 1.3 * 2.0 * 24.0),
                (Item::EmergencyPower, 0.06),
            ],
        );
    });
}

/// The hull of field and tower is a square of 10 m on a triangle of 10 × 30 m, 250 m² and 90.83 m
/// around, with a strip of 8 m.
#[test]
fn land_is_the_hull_and_its_strip() {
    let around_m = 30.0 + 2.0 * (25.0_f64 + 900.0).sqrt();
    let land_m2 = 250.0 + 8.0 * around_m + PI * 64.0;
    billed(|_, bill| {
        expect(
            bill,
            &[
                (Item::Land, land_m2),
                (Item::SiteWorks, land_m2),
                (Item::Fence, 4.0 * land_m2.sqrt()),
                (Item::Earthing, 48.0 + 4.0 * land_m2.sqrt() + 90.0),
                (Item::GroundPost, 13.2),
                (Item::Concrete, 0.5),
            ],
        );
    });
}

/// Cladding goes around pipe and insulation: a diameter of 0.12 + 2 × 0.10 m over 100 m. The loop holds
/// π/4 × 0.12² × 100 m³ and the store's 20 m³ of water.
#[test]
fn tower_and_plant_are_taken_over_as_sized() {
    billed(|_, bill| {
        expect(
            bill,
            &[
                (Item::TowerSteel, 6000.0),
                (Item::TowerFoundation, 60.0),
                (Item::ReceiverPanel, 10.0),
                (Item::ReceiverSteel, 1500.0),
                (Item::CavityHousing, 7.0),
                (Item::Piping, 1200.0),
                (Item::Insulation, PI * 32.0),
                (Item::FreezeProtection, 100.0),
                (Item::Pressuriser, 0.4 * (PI * 0.36 + 20.0)),
                (Item::Pump, 12.0),
                (Item::Exchanger, 80.0),
                (Item::StorageVessel, 14_000.0),
                (Item::StorageVolume, 20.0),
                (Item::ControlRoom, 1.0),
            ],
        );
    });
}

/// 4 panels × 20 min + 12 posts × 10 min are 200 min, and 6 h for each of two strings. 7.5 t of tower and
/// receiver are three days for a crane that lifts 2.5 t a day; two strings are tested in half an hour
/// each.
#[test]
fn building_counts_panels_posts_and_strings() {
    billed(|_, bill| {
        expect(
            bill,
            &[
                (Item::Assembly, 200.0 / 60.0 + 12.0),
                (Item::Alignment, 32.0 / 60.0),
                (Item::Crane, 3.0),
                (Item::Commissioning, 601.0),
            ],
        );
    });
}

/// Freight is the mass of all lines of the bill: here 22.7 t of tower, receiver, pipes and store, 8 t of
/// control room, 12.7 t of pressuriser, 2.8 t of exchanger and 1.2 t of insulation are nearly all of it.
#[test]
fn freight_is_what_the_bill_weighs() {
    billed(|_, bill| {
        let freight_t = bill.get(Item::Freight);
        assert!((freight_t - bill.mass_kg() / 1000.0).abs() < 1e-12);
        let heavy_t = 22.7 + 8.0 + 1.5 * 0.4 * (PI * 0.36 + 20.0) + 2.8 + 1.2;
        assert!((heavy_t..heavy_t + 3.0).contains(&freight_t), "{freight_t}");
    });
}

/// 4 m² washed every 14.6 days, 25 times a year, with 0.6 l/m²; 36 GJ of electricity are 10 MWh.
#[test]
fn a_year_of_upkeep() {
    billed(|_, bill| {
        expect(
            bill,
            &[
                (Item::Washing, 100.0),
                (Item::Water, 0.06),
                (Item::Staff, 0.5004),
                (Item::Electricity, 10_000.0),
                (Item::DriveReplacement, 0.12),
                (Item::LineReplacement, 0.16),
                (Item::GlassReplacement, 0.012),
            ],
        );
    });
}

/// What is bought only when a design asks for it.
const ASKED_FOR: [Item; 4] = [
    Item::StringSensor,
    Item::TargetCamera,
    Item::DefocusSpring,
    Item::LaserSet,
];

/// Salt of 15 t, a set of 1 MW on 3 MW of heat whose condenser gives 2 MW to the air, eight people more; 1,000
/// MWh take 98 m³ of water at 26 gal/MWh.
#[test]
fn a_turbine_set_is_billed_with_its_salt() {
    billed_with(&power_plant(), |_, bill| {
        expect(
            bill,
            &[
                (Item::SaltPanel, 10.0),
                (Item::Salt, 15_000.0),
                (Item::SaltTank, 14_000.0),
                (Item::StorageVolume, 20.0),
                (Item::SteamGenerator, 3000.0),
                (Item::TurbineSet, 1000.0),
                (Item::DryCooler, 2000.0),
                (Item::Pump, 12.0),
                (Item::Staff, 8.5004),
                (Item::Exchanger, 0.0),
                (Item::ReceiverPanel, 0.0),
            ],
        );
        assert!((bill.get(Item::Water) - 98.48).abs() < 0.01);
    });
}

/// A duct of 0.12 m bore over 100 m, and a bed of 15 t.
#[test]
fn hot_air_is_billed_with_ducts_blower_and_stones() {
    billed_with(&air_plant(), |_, bill| {
        expect(
            bill,
            &[
                (Item::AirAbsorber, 10.0),
                (Item::HotDuct, PI * 12.0),
                (Item::Blower, 12.0),
                (Item::PackedBed, 15_000.0),
                (Item::StorageVessel, 14_000.0),
                (Item::Piping, 0.0),
            ],
        );
    });
}

#[test]
fn no_item_is_forgotten() {
    let rates = ledger::Rates::default_usd();
    let amount = |item: Item| {
        let sum = std::cell::Cell::new(0.0);
        for plant in [plant(), power_plant(), air_plant()] {
            billed_with(&plant, |_, bill| {
                let billed = rates.amount_under(item, bill).max(bill.get(item));
                sum.set(sum.get() + billed);
            });
        }
        sum.get()
    };
    let of_heliostats = heliostats(30.0);
    for &item in Item::ALL {
        let is_framed = matches!(item, Item::TrussSteel | Item::TubeSteel);
        assert!(
            !is_framed || of_heliostats.get(item) > 0.0,
            "{}",
            item.key()
        );
        let is_billed = is_framed || amount(item) > 0.0;
        assert_eq!(is_billed, !ASKED_FOR.contains(&item), "{}", item.key());
    }
}

/// Four mirrors on twelve posts: 3 minutes of machining each, 12 when all is fine; posts take 25
/// minutes instead of 10, setting by laser a quarter more than 18 minutes. One sensor and one spring a
/// string, one laser and one camera for all.
#[test]
fn workmanship_sensing_and_defocus_are_billed_when_asked_for() {
    let with = |drive: DriveDesign| {
        let mut bill = Quantities::default();
        let make = Make {
            lee: crate::inputs::Lee::Inside,
            strings: StringsDesign { drive, ..strings() },
            parts: string(),
        };
        let lots = Lot::all(&Makes::Strings(vec![make]));
        drive::add(&lots[0], &LABOUR, &mut bill);
        add_setting_up(&lots[0], &LABOUR, &mut bill);
        drive::add_shared(&lots, &mut bill);
        bill
    };
    let common = with(DriveDesign::default());
    expect(&common, &[(Item::Machining, 4.0 * 3.0 / 60.0)]);
    let fine = with(DriveDesign {
        workmanship: Workmanship {
            posts: Class::Fine,
            axes: Class::Fine,
            joints: Class::Fine,
            levers: Class::Fine,
            offsets: Class::Fine,
        },
        set_by: SetBy::Laser,
        sensing: Sensing::Sensor,
        defocus: Defocus::Spring,
        ..DriveDesign::default()
    });
    expect(
        &fine,
        &[
            (Item::Machining, 4.0 * 12.0 / 60.0),
            (Item::Assembly, (80.0 + 12.0 * 25.0) / 60.0 + 12.0),
            (Item::Alignment, 4.0 * 1.25 * 18.0 / 60.0),
            (Item::LaserSet, 1.0),
            (Item::StringSensor, 2.0),
            (Item::DefocusSpring, 2.0),
        ],
    );
    let watched = with(DriveDesign {
        sensing: Sensing::Camera,
        defocus: Defocus::StoredEnergy,
        ..DriveDesign::default()
    });
    expect(&watched, &[(Item::TargetCamera, 1.0)]);
    assert!(watched.get(Item::EmergencyPower) > 0.0 && fine.get(Item::EmergencyPower) == 0.0);
}

/// 2 × (99 − 20) kg of strings and 22.7 t of tower and plant.
#[test]
fn steel_and_glass_are_what_stands_there() {
    billed(|sized, _| {
        assert!((sized.steel_kg() - 22_858.0).abs() < 1e-9);
        assert!((sized.glass_kg() - 40.0).abs() < 1e-12);
    });
}

/// Ten heliostats alike, by their own structure, on 400 m² each.
fn heliostat_make(area_m2: f64) -> HeliostatMake {
    let design = HeliostatsDesign {
        count: 10,
        area_m2,
        width_over_height: 1.2,
        largest_panel_m: 1.0,
        ..HeliostatsDesign::default()
    };
    let facets = crate::inputs::facets(&design);
    let inputs = PedestalInputs {
        facets,
        panel: Panel {
            glass: Glass::ANNEALED,
            side_m: facets.side_m,
            thickness_m: 0.004,
            shortest_focal_length_m: 50.0,
        },
        clearance_m: 0.3,
        wind: wind(),
        rules: Rules {
            footing: Footing::Augered {
                hole_diameter_m: 0.25,
            },
            ..Rules::customary()
        },
    };
    HeliostatMake {
        lee: crate::inputs::Lee::Inside,
        parts: size_pedestal(&inputs).unwrap(),
        heliostats: design,
        land_m2: 400.0,
    }
}

fn heliostats(area_m2: f64) -> Quantities {
    let lots = Lot::all(&Makes::Heliostats(vec![heliostat_make(area_m2)]));
    let mut bill = Quantities::default();
    for lot in &lots {
        add_mirrors(lot, &Sheet::LARGE, &mut bill);
        add_drives(lot, &mut bill);
        drive::add(lot, &LABOUR, &mut bill);
        add_setting_up(lot, &LABOUR, &mut bill);
    }
    drive::add_shared(&lots, &mut bill);
    bill
}

/// 30 m² at 1.2 of width to height are five rows of six panels of 1 m: of each heliostat 120 m of
/// edges, 30 panels of 20 minutes and 30 settings of 8, seven joints of 6 minutes, one post of 10 and
/// six hours to connect; 1.3 × 20 m of cable; one camera calibrates all.
#[test]
fn heliostats_are_billed_by_the_same_law() {
    let parts = heliostat_make(30.0).parts;
    let bill = heliostats(30.0);
    let gears = counted_gears(parts.azimuth_torque_n_m) + counted_gears(parts.elevation_torque_n_m);
    let masses = &parts.masses;
    expect(
        &bill,
        &[
            (Item::EdgeCutting, 1200.0),
            (Item::PanelTie, 300.0),
            (Item::DriveUnit, 20.0),
            (Item::DriveGear, 10.0 * gears),
            (Item::Controller, 10.0),
            (Item::FieldWiring, 260.0),
            (Item::TargetCamera, 1.0),
            (Item::Alignment, 10.0 * 30.0 * 8.0 / 60.0),
            (
                Item::Assembly,
                10.0 * ((30.0 * 20.0 + 10.0 + 7.0 * 6.0) / 60.0 + 6.0),
            ),
            (Item::TrussSteel, 10.0 * masses.trusses_kg),
            (Item::TubeSteel, 10.0 * masses.tube_kg),
            (
                Item::PostSteel,
                10.0 * (masses.pedestal_kg + masses.bars_kg),
            ),
            (Item::Concrete, 10.0 * parts.concrete_m3),
            (Item::Line, 0.0),
            (Item::RailSteel, 0.0),
        ],
    );
}

/// A single panel has neither frame nor anything to be set on it.
#[test]
fn a_single_panel_is_not_set_but_calibrated() {
    let bill = heliostats(0.81);
    expect(
        &bill,
        &[
            (Item::PanelTie, 10.0),
            (Item::Alignment, 0.0),
            (Item::TrussSteel, 0.0),
            (Item::TubeSteel, 0.0),
            (Item::TargetCamera, 1.0),
            (Item::Assembly, 10.0 * ((20.0 + 10.0) / 60.0 + 6.0)),
        ],
    );
    assert!(bill.get(Item::Castings) > 0.0);
}
