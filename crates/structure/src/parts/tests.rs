//! Whole strings: steel per mirror area, margins, and what rises with what.

use proptest::prelude::*;

use super::*;
use crate::{
    Footing, Gear, Glass, Handing, Joint, LineKind, Panel, Rules, Setting, Terrain, Wind, WindCode,
};

pub fn string() -> StringInputs {
    StringInputs {
        panel: Panel {
            glass: Glass::ANNEALED,
            side_m: 0.95,
            thickness_m: 0.005,
            shortest_focal_length_m: 45.0,
        },
        mirrors: 15,
        pitch_m: 1.2,
        mount_height_m: 1.1,
        stagger_m: 0.0,
        rail_slope_rad: 0.0,
        lever_m: 0.35,
        driven_from_middle: true,
        on_rail: true,
        gear: Gear::CUSTOMARY,
        wind: Wind {
            code: WindCode::En1991,
            terrain: Terrain::OPEN,
            air_density_kg_m3: 1.2,
            operate_m_s: 12.0,
            drive_to_stow_m_s: 20.0,
            survive_m_s: 30.0,
            rms_operating_m_s: 5.0,
        },
        rules: Rules::customary(),
    }
}

fn sized(change: impl FnOnce(&mut StringInputs)) -> StringParts {
    let mut inputs = string();
    change(&mut inputs);
    size_string(&inputs).unwrap()
}

/// Small units weigh 18–45 kg per square metre of mirror with their glass, steel 25–40 of it (bands
/// from memory).
#[test]
fn a_customary_string_holds_and_weighs_what_such_strings_weigh() {
    let parts = sized(|_| ());
    assert!(parts.margins.hold(), "{:?}", parts.margins.worst());
    let steel_kg_m2 = (parts.masses.total_kg() - parts.masses.glass_kg) / parts.glass_area_m2;
    assert!((20.0..40.0).contains(&steel_kg_m2), "{steel_kg_m2}");
    assert!((parts.masses.glass_kg / parts.glass_area_m2 - 12.5).abs() < 1e-9);
    assert_eq!(parts.posts, 15 + 2);
    assert!(parts.slope.together_rad() < 1.5e-3);
}

/// The four-corner and centre sag law, and its growth with side³/thickness².
#[test]
fn level_sag_grows_with_side_cubed_over_thickness_squared() {
    let at = |side_m, thickness_m| {
        let parts = sized(|inputs| {
            inputs.panel.side_m = side_m;
            inputs.panel.thickness_m = thickness_m;
        });
        parts.slope.gravity_rad
    };
    assert!((at(1.0, 0.004) / 1.30e-3 - 1.0).abs() < 0.01);
    assert!((at(1.2, 0.005) / at(0.6, 0.005) - 8.0).abs() < 1e-9);
    assert!((at(0.9, 0.003) / at(0.9, 0.006) - 4.0).abs() < 1e-9);
}

#[test]
fn what_cannot_hold_says_by_how_much() {
    let thin = sized(|inputs| {
        inputs.panel.side_m = 1.5;
        inputs.panel.thickness_m = 0.002;
    });
    assert!(thin.margins.get(Check::GlassDriveToStow) < -1.0);
    assert!(!thin.margins.hold());
    let sharp = sized(|inputs| inputs.panel.shortest_focal_length_m = 15.0);
    assert!(sharp.margins.get(Check::GlassFocusing) < 0.0);
    let storm = sized(|inputs| inputs.wind.survive_m_s = 5000.0);
    assert!(storm.margins.get(Check::Post) < 0.0 && storm.margins.get(Check::Footing) < 0.0);
    assert!(storm.margins.get(Check::Line) < 0.0 && storm.margins.get(Check::GlassSurvival) < 0.0);
}

#[test]
fn inputs_that_cannot_be_are_refused_by_name() {
    let refused = |change: fn(&mut StringInputs)| {
        let mut inputs = string();
        change(&mut inputs);
        size_string(&inputs).unwrap_err().to_string()
    };
    assert!(refused(|inputs| inputs.lever_m = 0.0).starts_with("lever_m is 0"));
    assert!(refused(|inputs| inputs.pitch_m = f64::NAN).starts_with("pitch_m is NaN"));
    assert_eq!(
        refused(|inputs| inputs.mirrors = 0),
        "a string needs at least one mirror"
    );
}

#[test]
fn driving_from_the_middle_and_longer_levers_ease_the_lines() {
    // What warmth takes off grows with the strand, not with the mirrors on it.
    let cold = |change: fn(&mut StringInputs)| {
        sized(|inputs| {
            inputs.rules.strand_warmth_k = 0.0;
            change(inputs);
        })
    };
    let end = cold(|inputs| inputs.driven_from_middle = false);
    let middle = cold(|_| ());
    // Twice the mirrors, which share less of a gust.
    let ratio = end.line_pretension_n / middle.line_pretension_n;
    assert!((1.6..2.0).contains(&ratio), "{ratio}");
    let long = cold(|inputs| inputs.lever_m = 0.5);
    assert!(long.line_pretension_n < middle.line_pretension_n);
    assert!((long.drive_torque_n_m / middle.drive_torque_n_m - 1.0).abs() < 0.01);
}

/// Line and rail together keep the farthest mirror's turn within its limit, M·n²·p/(2·EA·h²).
#[test]
fn stretch_stays_within_its_limit() {
    for driven_from_middle in [false, true] {
        let parts = sized(|inputs| {
            inputs.mirrors = 31;
            inputs.driven_from_middle = driven_from_middle;
        });
        let run = if driven_from_middle { 15.5 } else { 31.0 };
        let twist_rad = parts.rms_line_moment_n_m * run * run * 1.2
            / (2.0 * parts.line_axial_stiffness_n * 0.35 * 0.35);
        assert!(
            twist_rad <= Rules::customary().twist_limit_rad,
            "{twist_rad}"
        );
        assert!(parts.rms_line_moment_n_m > parts.rms_wind_moment_n_m);
    }
}

/// A rising rail needs taller posts at its high end only.
#[test]
fn a_rising_rail_grows_posts_class_by_class() {
    let level = sized(|_| ());
    let rising = sized(|inputs| inputs.rail_slope_rad = 0.1);
    let all_tall = sized(|inputs| inputs.mount_height_m += 14.0 * 1.2 * libm::sin(0.1));
    assert!(level.masses.posts_kg < rising.masses.posts_kg);
    assert!(rising.masses.posts_kg < all_tall.masses.posts_kg);
    let lone = sized(|inputs| {
        inputs.mirrors = 1;
        inputs.rail_slope_rad = 0.1;
    });
    assert_eq!(lone.posts, 1 + 2);
}

#[test]
fn drilled_holes_want_concrete_and_less_depth() {
    let driven = sized(|_| ());
    let drilled = sized(|inputs| {
        inputs.rules.footing = Footing::Augered {
            hole_diameter_m: 0.25,
        };
    });
    assert_eq!(driven.concrete_m3, 0.0);
    assert!(drilled.concrete_m3 > 0.0 && drilled.embedded_m < driven.embedded_m);
}

#[test]
fn rope_stretches_more_than_rod() {
    let rope = sized(|inputs| inputs.gear.handing = Handing::Loops(LineKind::Rope));
    let rod = sized(|_| ());
    let per_square = |parts: &StringParts| {
        let Mover::Loops(line) = parts.sizes.mover else {
            panic!("a customary string has loops");
        };
        parts.line_axial_stiffness_n / (line.diameter_m * line.diameter_m)
    };
    assert!(per_square(&rope) < per_square(&rod));
}

/// Mirrors left tilted in stow catch more wind; a drive holds the mean of a string's tilts, half of
/// the ends'.
#[test]
fn offsets_that_tilt_mirrors_in_stow_load_panels_and_drives() {
    let at = |misfit_rad| {
        sized(|inputs| {
            inputs.rules.stow_misfit_rad = misfit_rad;
            inputs.wind.drive_to_stow_m_s = 13.0;
        })
    };
    let (flat, tilted) = (at(0.0), at(0.2));
    let survival = |parts: &StringParts| parts.margins.get(Check::GlassSurvival);
    assert!(survival(&tilted) < survival(&flat));
    let ratio = tilted.drive_torque_n_m / flat.drive_torque_n_m;
    assert!((1.1..1.4).contains(&ratio), "{ratio}");
}

/// Clamps, heads and balls are cast; they change nothing else, but that a heavier mount may want a
/// heavier post.
#[test]
fn every_place_of_offsets_and_joint_has_its_castings() {
    let with = |joint, setting| {
        sized(|inputs| {
            inputs.gear = Gear {
                joint,
                setting,
                ..Gear::CUSTOMARY
            }
        })
    };
    let usual = sized(|_| ());
    let castings = |parts: &StringParts| parts.masses.mounts_kg / usual.masses.mounts_kg;
    assert!(castings(&with(Joint::Axes, Setting::Lever)) > 1.01);
    assert!((castings(&with(Joint::Axes, Setting::Post)) - 1.5).abs() < 1e-12);
    let ball = with(Joint::Ball, Setting::Shim);
    assert!(castings(&ball) > 1.25);
    // A stick and a bell-crank in place of three levers.
    assert!((ball.masses.levers_kg / usual.masses.levers_kg - 0.8).abs() < 1e-12);
    // 0.05 mm at 0.35 m, beside the bend of the levers.
    let square = |parts: &StringParts| parts.gear_error_rad * parts.gear_error_rad;
    let play_rad = (square(&ball) - square(&usual)).sqrt();
    assert!((play_rad - 0.143e-3).abs() < 1e-5, "{play_rad}");
    assert_eq!(ball.masses.lines_kg, usual.masses.lines_kg);
    assert_eq!((usual.more_joints, ball.more_joints), (0.0, 15.0));
    assert_eq!(with(Joint::Axes, Setting::Lever).more_joints, 30.0);
    assert_eq!(usual.wearing_kg, usual.masses.lines_kg);
}

/// A bar does without strands and end frames, but wants forks, cranks, sleeves and clearance: 0.15 mm
/// at 1.5 × 0.35 m is 0.29 mrad, to which its sag is added.
#[test]
fn sliding_levers_trade_lines_for_bar_forks_and_play() {
    let bar = sized(|inputs| inputs.gear.handing = Handing::Bar);
    let loops = sized(|_| ());
    assert!(bar.margins.hold(), "{:?}", bar.margins.worst());
    assert_eq!((bar.masses.lines_kg, bar.line_pretension_n), (0.0, 0.0));
    assert!(bar.more_joints > 60.0 && bar.wearing_kg > 0.0);
    assert!(bar.masses.bars_kg > 0.0 && loops.masses.bars_kg == 0.0);
    assert!(bar.masses.posts_kg > loops.masses.posts_kg);
    assert!(bar.masses.mounts_kg > loops.masses.mounts_kg);
    assert_eq!((bar.posts, loops.posts), (15 + 2, 15 + 2));
    assert!(bar.masses.frames_kg < loops.masses.frames_kg);
    let limit_rad = Rules::customary().twist_limit_rad;
    assert!((0.29e-3..0.29e-3 + limit_rad).contains(&bar.gear_error_rad));
    let longer = sized(|inputs| {
        inputs.gear.handing = Handing::Bar;
        inputs.lever_m = 0.5;
    });
    assert!(longer.gear_error_rad < bar.gear_error_rad);
    let mut low = string();
    low.gear.handing = Handing::Bar;
    low.mount_height_m = 0.69;
    let error = size_string(&low).unwrap_err();
    assert!(error.to_string().contains("shorten the levers"), "{error}");
}

/// Rods that push need no strands, pretension, arms nor second arms of levers, but pins: two a mirror, with
/// 0.10 mm of play at 0.35 m, 0.286 mrad. A guide for each rod between two levers has a root and a head.
#[test]
fn push_rods_trade_strands_for_pins_and_play() {
    let pushed = |guides| sized(|inputs| inputs.gear.handing = Handing::PushRods { guides });
    let (loops, rods, guided) = (sized(|_| ()), pushed(0), pushed(1));
    assert!(rods.margins.hold(), "{:?}", rods.margins.worst());
    assert_eq!((rods.masses.lines_kg, rods.line_pretension_n), (0.0, 0.0));
    assert!((rods.masses.levers_kg / loops.masses.levers_kg - 0.5).abs() < 1e-12);
    assert!(rods.masses.frames_kg < loops.masses.frames_kg);
    assert!(rods.masses.bars_kg > 0.0 && rods.wearing_kg > 0.0);
    assert_eq!((rods.more_joints, guided.more_joints), (30.0, 90.0));
    assert!(guided.masses.mounts_kg > rods.masses.mounts_kg);
    let square = |parts: &StringParts| parts.gear_error_rad * parts.gear_error_rad;
    let play_rad = (square(&rods) - square(&loops)).sqrt();
    assert!((play_rad - 0.286e-3).abs() < 1e-6, "{play_rad}");
}

/// Without a rail a loop stretches as itself alone, its pull stands on a frame at each end, and warmth
/// takes EA·12e-6·ΔT off it. A rod pushes every post's head by its mirror's moment over the lever.
#[test]
fn without_a_rail_frames_and_posts_hold_the_lines() {
    let tied = sized(|_| ());
    let apart = sized(|inputs| inputs.on_rail = false);
    let Mover::Loops(line) = apart.sizes.mover else {
        panic!("no loops")
    };
    assert!(apart.sizes.rail.is_none() && apart.masses.rail_kg == 0.0);
    assert!(apart.margins.get(Check::Rail).is_nan());
    assert_eq!(apart.line_axial_stiffness_n, line.pair_n);
    assert_eq!((tied.posts, apart.posts), (15 + 2, 15 + 3 * 2));
    assert_eq!(apart.masses.posts_kg, tied.masses.posts_kg);
    assert!(apart.masses.frames_kg > 2.0 * tied.masses.frames_kg);
    let warm = sized(|inputs| {
        inputs.on_rail = false;
        inputs.rules.strand_warmth_k = 12.0;
    });
    let Mover::Loops(warmed) = warm.sizes.mover else {
        panic!("no loops")
    };
    let taken_n = 1.1 * 12e-6 * (12.0 * warmed.strand_n - 2.0 * line.strand_n);
    let more_n = warm.line_pretension_n - apart.line_pretension_n;
    assert!((more_n / taken_n - 1.0).abs() < 1e-9, "{more_n} {taken_n}");
    let rods = |on_rail| {
        let mut inputs = string();
        inputs.gear.handing = Handing::PushRods { guides: 0 };
        inputs.on_rail = on_rail;
        (
            size_string(&inputs).unwrap(),
            crate::post_schedule(&inputs).unwrap().0[0],
        )
    };
    let ((free, free_post), (held, held_post)) = (rods(false), rods(true));
    assert_eq!(free.posts, 15 + 2);
    assert!(free.masses.posts_kg > held.masses.posts_kg);
    let inputs = string();
    let load = StringLoads::at(&inputs, inputs.height_m(0), inputs.rules.stow_misfit_rad);
    let moment_n_m = load.peak(free_post.case).drive_moment_n_m();
    assert_eq!(free_post.case, held_post.case);
    let pushed_n = free_post.shear_n - held_post.shear_n;
    assert!(
        (pushed_n * 0.35 / moment_n_m - 1.0).abs() < 1e-9,
        "{pushed_n}"
    );
}

fn each_mass_kg(parts: &StringParts) -> [f64; 9] {
    let masses = &parts.masses;
    [
        masses.glass_kg,
        masses.stars_kg,
        masses.mounts_kg,
        masses.levers_kg,
        masses.lines_kg,
        masses.posts_kg,
        masses.rail_kg,
        masses.bars_kg,
        masses.frames_kg,
    ]
}

/// Wider than any string.
const WIDE_GUST_M: f64 = 1e6;

/// What hands motion on without reaching below its mirrors.
const HANDED: &[Handing] = &[
    Handing::Loops(LineKind::Rod),
    Handing::Loops(LineKind::Rope),
    Handing::PushRods { guides: 0 },
    Handing::PushRods { guides: 2 },
];

proptest! {
    /// No part gets lighter as any of the four winds rises, and no glass check gains margin.
    #[test]
    fn no_mass_falls_as_the_wind_rises(
        which in 0..4_usize,
        from_m_s in 3.0..35.0_f64,
        rise_m_s in 0.0..15.0_f64,
        side_m in 0.5..1.5_f64,
        mirrors in 1..32_usize,
        rail_slope_rad in 0.0..0.3_f64,
        handing in proptest::sample::select(HANDED),
        on_rail in proptest::bool::ANY,
    ) {
        let at = |speed_m_s: f64| {
            sized(|inputs| {
                (inputs.gear.handing, inputs.on_rail) = (handing, on_rail);
                inputs.panel.side_m = side_m;
                inputs.pitch_m = 1.3 * side_m;
                inputs.mirrors = mirrors;
                inputs.rail_slope_rad = rail_slope_rad;
                let wind = &mut inputs.wind;
                *[
                    &mut wind.operate_m_s,
                    &mut wind.drive_to_stow_m_s,
                    &mut wind.survive_m_s,
                    &mut wind.rms_operating_m_s,
                ][which] = speed_m_s;
            })
        };
        let (calm, windy) = (at(from_m_s), at(from_m_s + rise_m_s));
        for (before_kg, after_kg) in each_mass_kg(&calm).iter().zip(each_mass_kg(&windy)) {
            prop_assert!(after_kg >= before_kg - 1e-9, "{before_kg} {after_kg}");
        }
        for check in [Check::GlassOperating, Check::GlassDriveToStow, Check::GlassSurvival] {
            prop_assert!(windy.margins.get(check) <= calm.margins.get(check) + 1e-12);
        }
        prop_assert!(windy.drive_torque_n_m >= calm.drive_torque_n_m - 1e-9);
    }

    /// Nor does any as a string gets more mirrors; nor as they stand farther apart under gusts as wide as the
    /// string. (Narrower gusts press less on each mirror of a wider string, so that its drive and the frame that
    /// holds it are lighter.)
    #[test]
    fn no_mass_falls_as_the_span_rises(
        side_m in 0.5..1.5_f64,
        mirrors in 1..32_usize,
        more in 0..8_usize,
        pitch_ratio in 1.1..1.8_f64,
        wider in 0.0..0.5_f64,
        rail_slope_rad in 0.0..0.3_f64,
        handing in proptest::sample::select(HANDED),
        on_rail in proptest::bool::ANY,
    ) {
        let kg = |mirrors: usize, pitch_ratio: f64, gust_width_m: f64| {
            let parts = sized(|inputs| {
                (inputs.gear.handing, inputs.on_rail) = (handing, on_rail);
                inputs.panel.side_m = side_m;
                inputs.pitch_m = pitch_ratio * side_m;
                inputs.mirrors = mirrors;
                inputs.rail_slope_rad = rail_slope_rad;
                inputs.rules.gust_width_m = gust_width_m;
            });
            parts.masses.total_kg()
        };
        let usual_m = string().rules.gust_width_m;
        for [short_kg, long_kg] in [
            [mirrors, mirrors + more].map(|mirrors| kg(mirrors, pitch_ratio, usual_m)),
            [pitch_ratio, pitch_ratio + wider].map(|pitch_ratio| kg(mirrors, pitch_ratio, WIDE_GUST_M)),
        ] {
            prop_assert!(long_kg >= short_kg - 1e-9, "{short_kg} {long_kg}");
        }
    }
}
