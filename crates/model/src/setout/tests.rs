//! Set-outs against the plan they come from, counts by hand and the sun of an almanac.

use super::*;
use crate::detail;
use crate::inputs::tests::{demo, design};

const SMALL: [(&str, &str); 3] = [
    ("strings.count", "30"),
    ("strings.mirrors", "7"),
    ("heat.demand.serve_at_least", "0 %"),
];

fn small() -> (Case, Design, SetOut) {
    let case = demo(&SMALL);
    let design = design(&case);
    let set_out = set_out(&case, &design).unwrap();
    (case, design, set_out)
}

/// Seven posts and a frame for each string, every post under its mirror; rails end half a pitch
/// beyond; drives stand in the middle.
#[test]
fn posts_stand_under_their_mirrors() {
    let (case, design, set_out) = small();
    assert_eq!(set_out.plan, detail(&case, &design).unwrap().plan);
    assert_eq!(set_out.posts.len(), 30 * (7 + 1));
    let pitch_m = set_out.makes[0].pitch_m();
    for (string, posts) in set_out.posts.chunks(8).enumerate() {
        for (place, post) in posts[..7].iter().enumerate() {
            let Standing::Post { mirror, duty } = post.standing else {
                panic!("a frame among the posts");
            };
            assert_eq!((post.string, mirror), (string, 7 * string + place));
            let centre_m = set_out.plan.centre_m(mirror);
            assert_eq!(post.place_m, [centre_m.x, centre_m.y]);
            assert!((post.ground_m + post.head_m - centre_m.z).abs() < 1e-12);
            // Drag at the height of the mirror, and the hinge's moment on top.
            assert!(duty.overturning_n_m > duty.shear_n * duty.height_m);
            assert!(post.depth_m >= 0.8);
        }
        let set = &set_out.strings[string];
        let rail_m = set.ends_m[0].distance(set.ends_m[1]);
        assert!((rail_m - 7.0 * pitch_m).abs() < 1e-9);
        let middle = set_out.plan.centre_m(set.reference_mirror);
        assert!(set.drive_m.distance(middle) < 1e-9);
        assert!(
            posts[7..]
                .iter()
                .all(|frame| frame.standing == Standing::Frame { legs: 2 })
        );
    }
}

/// A laser at the point that all mirrors are set on comes back from each of them along the sun under which they are
/// set: so marks lie apart as mirrors do, moved along that sun onto the aperture's plane. Forgotten parallax is half
/// of what a string looks long by from the laser.
#[test]
fn marks_of_a_laser_lie_apart_as_mirrors_do() {
    let at_night = [
        SMALL.as_slice(),
        &[
            ("strings.alignment.by", "laser"),
            ("strings.aim_spread", "0 %"),
            ("receiver.tilt", "0 deg"),
        ],
    ]
    .concat();
    let case = demo(&at_night);
    let set_out = set_out(&case, &design(&case)).unwrap();
    let (aim_m, sun) = (set_out.plan.aim_m, case.alignment_sun);
    for panel in &set_out.panels {
        let mark = panel.mark.unwrap();
        let [right_m, up_m] = mark.at_m.unwrap();
        // The aperture is upright and looks north, so that east lies to the left.
        let from_m = panel.centre_m - aim_m;
        let met_m = from_m - sun * (from_m.y / sun.y);
        assert!((right_m + met_m.x).abs() < 1e-6, "{right_m} {met_m}");
        assert!((up_m - met_m.z).abs() < 1e-6, "{up_m} {met_m}");
        let reference = set_out.strings[panel.string].reference_mirror;
        let to = |mirror_m: Vec3| (aim_m - mirror_m).normalize();
        let cosine = to(panel.centre_m).dot(to(set_out.plan.centre_m(reference)));
        let wanted_rad = 0.5 * libm::acos(cosine.min(1.0));
        assert!((mark.parallax_rad - wanted_rad).abs() < 1e-7);
    }
    let (_, _, by_the_sun) = small();
    assert!(by_the_sun.panels.iter().all(|panel| panel.mark.is_none()));
}

/// 5 mm of glass: D = 70 GPa·(5 mm)³/(12·(1 − 0.22²)) = 766.3 N·m, and each corner is pulled by a quarter
/// of 3.69·D/f; corners stand 0.1474·a²/f before the centre.
#[test]
fn panels_are_set_and_bent_as_by_hand() {
    let (_, _, set_out) = small();
    for panel in &set_out.panels {
        let focal_m = panel.focal_length_m;
        let pull_n = 3.69 * 766.3 / focal_m / 4.0;
        assert!((panel.corner_pull_n / pull_n - 1.0).abs() < 1e-3);
        let deflection_m = 0.1474 * 0.95 * 0.95 / focal_m;
        assert!((panel.corner_deflection_m / deflection_m - 1.0).abs() < 1e-3);
        let [first_rad, second_rad] = panel.setting.turns_rad;
        // Half of the angle under which the aim point sees half a string, at most.
        assert!(first_rad.abs() < 0.1 && second_rad.abs() < 0.1);
        assert!((panel.raised_m[0] - 0.475 * libm::tan(first_rad)).abs() < 1e-12);
        assert!((panel.raised_m[1] + 0.475 * libm::tan(second_rad)).abs() < 1e-12);
        assert_eq!(panel.lever_m, [0.4, 0.4]);
    }
    for string in &set_out.strings {
        let setting = set_out.panels[string.reference_mirror].setting;
        assert!(setting.turns_rad.iter().all(|turn| turn.abs() < 1e-12));
    }
}

/// 210 panels and 2 % are 215; a sheet of 6.00 × 3.21 m gives 6 × 3 of 0.95 m, so 12 sheets.
#[test]
fn panels_and_tubes_are_counted_as_by_hand() {
    let (_, _, set_out) = small();
    let panels = &set_out.purchases[0];
    assert_eq!((panels.needed, panels.spares), (210.0, 5.0));
    let Some(FromStock::Sheets {
        panels: each,
        count,
        share,
        ..
    }) = panels.stock
    else {
        panic!("panels come from sheets");
    };
    assert_eq!((each, count), (18, 12));
    assert!((share - 215.0 * 0.9025 / (12.0 * 19.26)).abs() < 1e-12);
    let tubes_kg: f64 = set_out
        .purchases
        .iter()
        .filter(|bought| matches!(bought.goods, Goods::Tube { .. }))
        .filter_map(|bought| bought.mass_kg)
        .sum();
    let tubes_of = |make: &Make| {
        let masses = &make.parts.masses;
        make.count() * (masses.sections_kg() - masses.levers_kg)
    };
    let wanted_kg: f64 = set_out.makes.iter().map(tubes_of).sum();
    assert!((tubes_kg / wanted_kg - 1.0).abs() < 1e-9);
    for bought in &set_out.purchases {
        if let Some(FromStock::Bars(cut)) = bought.stock {
            assert!((0.5..=1.0).contains(&cut.share()), "{bought:?}");
        }
    }
}

/// A plan given back as if it had been written down is set out alike.
#[test]
fn a_given_plan_is_set_out_like_the_laid_one() {
    let (case, design, laid) = small();
    let given = set_out_plan(&case, &design, laid.plan.clone()).unwrap();
    assert_eq!(given.panels.len(), laid.panels.len());
    for (one, other) in given.panels.iter().zip(&laid.panels) {
        assert_eq!(one.setting, other.setting);
        assert_eq!(one.corner_pull_n, other.corner_pull_n);
    }
    for (one, other) in given.posts.iter().zip(&laid.posts) {
        assert_eq!(one.place_m, other.place_m);
        assert_eq!(one.section, other.section);
    }
    assert_eq!(given.purchases[0], laid.purchases[0]);
}

/// Three sectors have three suns of daylight, each string one of them; a plan read back is set under the
/// same, by the same turns.
#[test]
fn every_string_is_set_out_under_the_sun_found_for_it() {
    let mut changes = SMALL.to_vec();
    changes.push(("strings.alignment.instants", "3"));
    let case = demo(&changes);
    let design = design(&case);
    let laid = set_out(&case, &design).unwrap();
    let counts: Vec<usize> = laid.alignments.iter().map(|under| under.strings).collect();
    assert!(counts.len() > 1 && counts.len() <= 3, "{counts:?}");
    assert_eq!(counts.iter().sum::<usize>(), 30);
    let given = set_out_plan(&case, &design, laid.plan.clone()).unwrap();
    assert_eq!(given.alignments, laid.alignments);
    for (one, other) in given.panels.iter().zip(&laid.panels) {
        assert_eq!(one.setting, other.setting);
    }
    for under in &laid.alignments {
        let times = sun_times(&case, under.sun).unwrap();
        assert!(times[0].off_rad(under.sun).to_degrees() < 0.3, "{times:?}");
    }
}

/// The sun stands 50° high in the south of 37.1° N when its declination is −2.9°: on 13 March and 30
/// September (almanac, from memory), at solar noon: 13:18 less the equation of time, −9.4 and +9.9
/// minutes, 4.4° west of Greenwich and an hour ahead of it.
#[test]
fn the_alignment_sun_is_found_in_the_year() {
    let case = demo(&[]);
    let times = sun_times(&case, case.alignment_sun).unwrap();
    assert_eq!(times.len(), 2, "{times:?}");
    let mut found: Vec<((u32, u32), f64)> = times
        .iter()
        .map(|time| (time.month_and_day, time.hour))
        .collect();
    found.sort_by_key(|(day, _)| *day);
    for ((day, hour), (wanted, wanted_h)) in
        found.into_iter().zip([((3, 13), 13.45), ((9, 30), 13.13)])
    {
        assert_eq!(day.0, wanted.0);
        assert!(day.1.abs_diff(wanted.1) <= 1, "{day:?}");
        assert!((hour - wanted_h).abs() < 0.05, "{hour}");
    }
    assert!(
        times
            .iter()
            .all(|time| time.off_rad(case.alignment_sun) < 0.2f64.to_radians())
    );
    // Higher than the sun ever climbs there: nearest at the solstice.
    let zenith = sun_times(&case, Vec3::Z).unwrap();
    assert_eq!(zenith.len(), 1);
    let (month, day) = zenith[0].month_and_day;
    assert!(month == 6 && day.abs_diff(21) <= 1, "{zenith:?}");
    assert!((zenith[0].off_rad(Vec3::Z).to_degrees() - (37.1 - 23.44)).abs() < 0.02);
}
