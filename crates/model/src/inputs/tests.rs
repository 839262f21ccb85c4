//! The demo scenario as the physics sees it.

use scenario::{Scenario, StringsDesign, WeatherSource};

use super::*;
use crate::case::Case;

const DEMO: &str = include_str!("../../../scenario/src/tests/steam.toml");

pub fn demo(changes: &[(&str, &str)]) -> Case {
    let changes: Vec<(String, String)> = changes
        .iter()
        .map(|(key, value)| ((*key).to_owned(), (*value).to_owned()))
        .collect();
    let none = |_: &str| Err("no other file".into());
    let scenario = scenario::load("process-steam.toml", DEMO, &none, &changes).unwrap();
    let weather = weather(&scenario);
    Case::prepare(&scenario, weather).unwrap()
}

fn weather(scenario: &Scenario) -> sky::WeatherYear {
    let WeatherSource::Monthly(months) = &scenario.weather.source else {
        panic!("the demo comes with monthly sums");
    };
    let climate = sky::MonthlyClimate {
        dni_j_m2: months.dni_j_m2,
        air_temperature_k: months.air_temperature_k,
        daily_temperature_swing_k: months.daily_swing_k,
        wind_speed_m_s: months.wind_speed_m_s,
    };
    sky::synthetic_year(
        &site(&scenario.site),
        scenario.site.utc_offset_h,
        &climate,
        scenario.weather.linke_turbidity,
        u64::from(months.seed),
    )
    .unwrap()
}

pub fn design(case: &Case) -> scenario::Design {
    let space = &case.scenario.space;
    space.design(&space.start())
}

pub fn strings(design: &scenario::Design) -> &StringsDesign {
    design.field.strings().unwrap()
}

/// 3 MW from 6 to 22 h on every day of the year.
#[test]
fn demand_is_two_shifts_of_three_megawatts() {
    let case = demo(&[]);
    let sum_w: f64 = case.demand.power_w.iter().sum();
    assert!((sum_w - 3e6 * 16.0 * 365.0).abs() < 1.0);
    assert_eq!(case.demand.power_w[5], 0.0);
    assert_eq!(case.demand.power_w[6], 3e6);
    assert_eq!(case.demand.power_w[22], 0.0);
}

/// 1 MWh filled in two hours, nothing lost beside its walls; rated at 1.3 × 3 MW; 500 drives at 4 W.
#[test]
fn the_plant_is_the_one_written_down() {
    let case = demo(&[]);
    let plant = plant_inputs(&case, &design(&case), 500.0, 9e6);
    assert!((plant.store.capacity_j - 3.6e9).abs() < 1.0);
    assert!((plant.store.max_charge_w - 0.5e6).abs() < 1e-3);
    assert_eq!(plant.store.loss_per_hour, 0.0);
    assert_eq!(plant.store.wall_w_m2_k, 0.35);
    assert!((plant.receiver.rated_output_w - 3.9e6).abs() < 1e-3);
    assert!((plant.receiver.aperture_area_m2 - 11.56).abs() < 1e-9);
    assert!((plant.tracking_power_w - 2000.0).abs() < 1e-9);
    assert_eq!(plant.piping.riser_height_m, 40.0);
    assert_eq!(plant.piping.ground_run_m, 120.0);
}

/// A field that never brings more than 2 MW, 96 % of it at work, gets no loop for 3.9 MW.
#[test]
fn the_loop_is_not_made_for_more_than_the_field_brings() {
    let case = demo(&[]);
    let plant = plant_inputs(&case, &design(&case), 500.0, 2e6);
    assert!((plant.receiver.rated_output_w - 1.92e6).abs() < 1e-3);
}

/// Fields of ratios become metres: 0.7 × 40 m and 4 × 40 m of radius, 1.28 × 0.95 m of pitch,
/// 2 × 0.95 m of row spacing.
#[test]
fn ratios_become_metres() {
    let case = demo(&[]);
    let design = design(&case);
    let field = string_field(&case, &design, strings(&design));
    for (found_m, wanted_m) in [
        (field.inner_radius_m, 28.0),
        (field.outer_radius_m, 160.0),
        (field.pitch_m, 1.216),
        (field.row_spacing_m, 1.9),
        (field.aim_height_m, 40.0),
    ] {
        assert!((found_m - wanted_m).abs() < 1e-9, "{found_m} {wanted_m}");
    }
}

/// The shortest focal length is that of the inner edge: √(28² + 39.1²) = 48.09 m. What may give
/// counts alike for post, star and line.
#[test]
fn a_string_is_sized_for_the_nearest_place() {
    let case = demo(&[("strings.give", "1.2 mrad")]);
    let design = design(&case);
    let inputs = string_inputs(&case, &design, strings(&design), Lee::Inside);
    assert!((inputs.panel.shortest_focal_length_m - 48.09).abs() < 0.01);
    let rules = &inputs.rules;
    for limit_rad in [
        rules.sway_limit_rad,
        rules.twist_limit_rad,
        rules.star_droop_limit_rad,
    ] {
        assert!((limit_rad - 1.2e-3).abs() < 1e-12);
    }
    assert_eq!(inputs.wind.survive_m_s, 27.0);
}

/// Slopes of both axes together count half for each axis, and the glass's sag goes its own way.
#[test]
fn slope_errors_of_the_structure_join_the_surface() {
    let case = demo(&[]);
    let design = design(&case);
    let strings = strings(&design);
    let mut parts =
        structure::size_string(&string_inputs(&case, &design, strings, Lee::Inside)).unwrap();
    parts.slope.star_droop_rad = 1e-3;
    parts.slope.wind_rad = 0.0;
    parts.slope.sway_rad = 1e-3;
    let seen = mirrors(&case, &design, &string_panels(strings, &parts));
    // √(1.5² + ½(1² + 1²)) = √3.25 mrad.
    assert!((seen.slope_error_rad - 3.25_f64.sqrt() * 1e-3).abs() < 1e-9);
    assert_eq!(seen.gravity_slope_rad, parts.slope.gravity_rad);
    let line = mechanism(&case, &design, strings, &parts).line;
    assert_eq!(line.wind_moment_rms_n_m, parts.rms_line_moment_n_m);
    assert_eq!(line.axial_stiffness_n, parts.line_axial_stiffness_n);
}

/// On posts of their own, 12 K warmer than when mirrors were set and 2 K apart, push-rods turn their levers by
/// 12e-6·12.2/h for each metre; loops feel the 2 K between their strands only, whatever ties the posts.
#[test]
fn warmth_turns_what_pushes_on_posts_of_their_own() {
    let warmth_rad_m = |line, rail| {
        let case = demo(&[
            ("strings.line", line),
            ("strings.rail", rail),
            ("strings.lever", "0.3 m"),
        ]);
        let design = design(&case);
        let inputs = string_inputs(&case, &design, strings(&design), Lee::Inside);
        let parts = structure::size_string(&inputs).unwrap();
        let line = mechanism(&case, &design, strings(&design), &parts).line;
        (line.warmth_rad_m, line.coupling_play_m)
    };
    let expect = |found: (f64, f64), warmth_k: f64, play_m: f64| {
        assert!(
            (found.0 / (12e-6 * warmth_k / 0.3) - 1.0).abs() < 1e-9,
            "{found:?}"
        );
        assert_eq!(found.1, play_m);
    };
    expect(warmth_rad_m("push-rod", "none"), 148.0_f64.sqrt(), 1e-4);
    expect(warmth_rad_m("push-rod", "continuous"), 2.0, 1e-4);
    for rail in ["none", "continuous"] {
        expect(warmth_rad_m("rope", rail), 1.0, 0.0);
    }
}

/// A billboard has no housing; a cavity's is 1.3 times its inside of 2.5 apertures.
#[test]
fn only_a_cavity_is_housed() {
    let flat = demo(&[]);
    assert_eq!(housing_area_m2(&flat, &design(&flat)), 0.0);
    let deep = demo(&[("receiver.kind", "cavity")]);
    let housing_m2 = housing_area_m2(&deep, &design(&deep));
    assert!((housing_m2 - 1.3 * 2.5 * 11.56).abs() < 1e-9);
}

/// A door is insulated like the rest: one aperture more. A round aperture of 3.4 m has π/4 of the square's
/// area. A cylinder has no housing, and all mirrors aim at its axis.
#[test]
fn doors_circles_and_cylinders() {
    let shut = demo(&[
        ("receiver.kind", "cavity"),
        ("receiver.door", "closed at rest"),
    ]);
    let housing_m2 = housing_area_m2(&shut, &design(&shut));
    assert!((housing_m2 - (1.3 * 2.5 + 1.0) * 11.56).abs() < 1e-9);
    let round = demo(&[("receiver.outline", "circle")]);
    let plant = plant_inputs(&round, &design(&round), 500.0, 9e6);
    assert!((plant.receiver.aperture_area_m2 / 11.56 - std::f64::consts::FRAC_PI_4).abs() < 1e-12);
    let pillar = demo(&[("receiver.kind", "cylinder")]);
    let design = design(&pillar);
    assert_eq!(housing_area_m2(&pillar, &design), 0.0);
    let aims = aim_spread(
        &pillar,
        strings(&design).aim_spread,
        &aperture(&pillar, &design),
    );
    assert_eq!((aims.half_width_m, aims.mantle_radius_m), (0.0, 1.7));
    let plant = plant_inputs(&pillar, &design, 500.0, 9e6);
    assert!((plant.receiver.aperture_area_m2 / 11.56 - std::f64::consts::PI).abs() < 1e-12);
}

/// 3 MW of electricity at 34 % gross, 6 % of it for itself, take 9.39 MW of heat; rated at 1.3 times that.
#[test]
fn electricity_rates_the_receiver_by_its_heat() {
    let case = demo(&[
        ("heat.delivers", "electricity"),
        ("heat.carrier", "salt"),
        ("heat.cold_temperature", "290 degC"),
        ("heat.hot_temperature", "565 degC"),
    ]);
    let plant = plant_inputs(&case, &design(&case), 500.0, 90e6);
    let heat_w = 3e6 / 0.94 / 0.34;
    assert!((plant.receiver.rated_output_w / heat_w - 1.3).abs() < 1e-12);
}
