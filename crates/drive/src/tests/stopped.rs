//! Drives at their stops, sensed, stalled, and turned where no sun asks them to.

use field::FirstAxis::{Across, Along, RollFree};
use field::Linkage::{EqualAngle, SlidingLever};
use field::Stance;
use geometry::{LANES, Vec3, lane};
use proptest::prelude::*;

use super::mechanisms::{aligned, built, kinds, place, rms_rad};
use super::{exact_mechanism, lanes_of, one_string, sun_at};
use crate::OffsetPlace::{Lever, Shim};
use crate::reflection::{angle_between_rad, reflected};
use crate::{
    Drives, Mechanism, Screen, Sensing, Tolerances, Travel, any_common_rotation_rms_rad, sun_after,
};

const LATITUDE_DEG: f64 = 35.0;

/// Before the aperture, looking north.
const SCREEN: Screen = Screen {
    centre_m: Vec3::new(0.0, 0.0, 35.0),
    right: Vec3::new(-1.0, 0.0, 0.0),
    up: Vec3::Z,
};

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// A drive that stands at no stop turns as if there were none; beyond it its beams miss.
    #[test]
    fn stops_are_felt_beyond_them_only(
        kind in kinds(), azimuth_deg in -60.0..60.0f64, bearing_deg in 0.0..180.0f64,
        sun_azimuth_deg in 90.0..270.0f64, sun_elevation_deg in 10.0..80.0f64,
    ) {
        let (plan, free) = built(&place(azimuth_deg, bearing_deg, 7), kind);
        let sun = sun_at(sun_azimuth_deg, sun_elevation_deg);
        let drives = Drives::prepare(&plan, &free);
        let [first_rad, second_rad] = drives.turns_asked_rad(&plan, 0, sun);
        let most_rad = first_rad.abs().max(second_rad.abs());
        prop_assume!(most_rad > 0.05 && kind.1 != SlidingLever);
        let stopped = |stop_rad: f64| {
            let travel = Travel { axes_rad: stop_rad, ball_rad: stop_rad };
            Drives::prepare(&plan, &Mechanism { travel, ..free })
        };
        let reference = plan.strings[0].reference_mirror();
        let turned = |drives: &Drives| drives.normal(&plan, reference, sun);
        let beyond = stopped(most_rad + 0.01);
        prop_assert!((turned(&beyond) - turned(&drives)).length() < 1e-12);
        let short = stopped(most_rad - 0.04);
        prop_assert!(short.residual_rad(&plan, reference, sun) > 1e-3 * second_cosine(second_rad));
    }

    /// However the reference mirror is turned, the drive comes where it is told.
    #[test]
    fn a_drive_faces_where_it_is_told(
        azimuth_deg in -60.0..60.0f64, tilt_deg in 5.0..80.0f64, facing_deg in 90.0..270.0f64,
    ) {
        let (plan, mechanism) = built(&place(azimuth_deg, 90.0, 5), (Along, EqualAngle, Shim));
        let drives = Drives::prepare(&plan, &mechanism);
        let facing = sun_at(facing_deg, tilt_deg);
        let mut stance = Stance::default();
        drives.stand_facing(&plan, 0, 0..plan.strings[0].mirror_count, &[facing; LANES], &mut stance);
        let reference = plan.strings[0].reference_mirror();
        prop_assert!((lane::vector(&stance.normals[reference], 5) - facing).length() < 1e-12);
    }

    /// Any mechanism that turns all mounts alike, led exactly, does worse than the best common turn,
    /// however the suns of its alignment are chosen.
    #[test]
    fn no_alignment_beats_the_bound(
        set_azimuth_deg in 110.0..250.0f64, set_elevation_deg in 20.0..75.0f64,
        azimuth_deg in -60.0..60.0f64, sun_azimuth_deg in 100.0..260.0f64,
    ) {
        let (plan, mechanism) = built(&place(azimuth_deg, 90.0, 9), (RollFree, EqualAngle, Shim));
        let alignment_sun = sun_at(set_azimuth_deg, set_elevation_deg);
        let sun = sun_at(sun_azimuth_deg, 30.0);
        let mechanism = Mechanism { alignment_sun, ..mechanism };
        let bound_rad = any_common_rotation_rms_rad(&plan, 0, alignment_sun, sun);
        prop_assert!(bound_rad <= rms_rad(&plan, &mechanism, sun) + 1e-12);
    }

    /// The sun goes on by 72.7 µrad/s times the cosine of its declination, and comes back in a day.
    #[test]
    fn the_sun_goes_on_about_the_pole(
        azimuth_deg in 90.0..270.0f64, elevation_deg in 10.0..80.0f64, latitude_deg in -60.0..60.0f64,
    ) {
        let (sun, latitude_rad) = (sun_at(azimuth_deg, elevation_deg), latitude_deg.to_radians());
        let pole = sun_at(0.0, latitude_deg);
        let rate_rad_s = angle_between_rad(sun, sun_after(sun, latitude_rad, 1.0));
        let wanted_rad_s = 72.72e-6 * pole.cross(sun).length();
        prop_assert!((rate_rad_s - wanted_rad_s).abs() < 1e-8);
        prop_assert!((sun_after(sun, latitude_rad, 86_400.0) - sun).length() < 1e-9);
        let later = sun_after(sun, latitude_rad, 900.0);
        prop_assert!((later.dot(pole) - sun.dot(pole)).abs() < 1e-12);
    }
}

/// The ends of the travel that some suns ask for: each end is asked for by one of them in each motion, and no
/// end asks for more than they do.
#[test]
fn travel_ends_where_the_suns_end() {
    for kind in [
        (Along, EqualAngle, Shim),
        (Across, EqualAngle, Shim),
        (RollFree, EqualAngle, Shim),
    ] {
        let (plan, mechanism) = built(&place(25.0, 90.0, 7), kind);
        let drives = Drives::prepare(&plan, &mechanism);
        let suns = [(110.0, 15.0), (180.0, 60.0), (250.0, 20.0)].map(|(a, e)| sun_at(a, e));
        let asked = suns.map(|sun| drives.turns_asked_rad(&plan, 0, sun));
        let most = |axis: usize| {
            asked
                .iter()
                .fold(0.0_f64, |most, turns| most.max(turns[axis].abs()))
        };
        let facings = suns.map(|sun| drives.facing(&plan, 0, sun));
        let ends = drives.ends_of_travel(0, facings.into_iter());
        let served =
            ends.map(|end| reflected(plan.target(plan.strings[0].reference_mirror()), end));
        let found = served.map(|sun| drives.turns_asked_rad(&plan, 0, sun));
        for axis in [0, 1] {
            let farthest = found
                .iter()
                .fold(0.0_f64, |most, turns| most.max(turns[axis].abs()));
            assert!(
                (farthest - most(axis)).abs() < 1e-9,
                "{kind:?} {axis}: {found:?} {asked:?}"
            );
        }
    }
}

/// A turn about the first axis moves the normal by the cosine of the second only.
fn second_cosine(second_rad: f64) -> f64 {
    libm::cos(second_rad).abs()
}

/// In the north the sun moves from east to west.
#[test]
fn after_noon_the_sun_is_in_the_west() {
    let later = sun_after(sun_at(180.0, 50.0), LATITUDE_DEG.to_radians(), 3600.0);
    assert!(later.x < -0.1);
}

/// A mirror set on its target reaches that one point only, so a group that loses track spreads (common
/// practice, no source): it starts together and is farther apart the longer it walks.
#[test]
fn a_stalled_group_spreads_while_it_walks() {
    let (plan, mechanism) = built(&place(25.0, 90.0, 15), (Along, EqualAngle, Shim));
    let drives = Drives::prepare(&plan, &mechanism);
    let stalled = aligned();
    let group = |time_s: f64| {
        let sun = sun_after(stalled, LATITUDE_DEG.to_radians(), time_s);
        drives.walk_off(&plan, 0, &SCREEN, stalled, sun)
    };
    let [start, soon, late] = [0.0, 600.0, 1800.0].map(group);
    assert!(start.spread_m < 1e-9 && start.middle_m[0].abs() < 1e-9);
    assert!(soon.spread_m > 0.02, "{soon:?}");
    assert!(late.spread_m > 2.5 * soon.spread_m, "{late:?}");
    assert_eq!(late.lost, 0.0);
}

/// Beams leave at the sun's rate: 60 m away and 35 m up, 72.7 µrad/s × 69 m are 0.30 m a minute square
/// to the beam, with the equinox sun all but square to the pole.
#[test]
fn a_stalled_beam_leaves_at_the_rate_of_the_sun() {
    let (plan, mechanism) = built(&place(0.0, 90.0, 1), (Along, EqualAngle, Shim));
    let drives = Drives::prepare(&plan, &mechanism);
    let later = sun_after(aligned(), LATITUDE_DEG.to_radians(), 60.0);
    let walked = drives
        .walk_off(&plan, 0, &SCREEN, aligned(), later)
        .middle_m;
    let distance_m = libm::hypot(60.0, 33.8);
    assert!(
        (libm::hypot(walked[0], walked[1]) / (60.0 * 72.72e-6 * distance_m) - 1.0).abs() < 0.01
    );
    assert!(walked[0].abs() > 20.0 * walked[1].abs(), "{walked:?}");
}

/// Pulleys geared to a quarter turn a minute keep up with the sun with much to spare (common practice,
/// no source): a pulley of 25 mm moves levers of 0.3 m by 2.2 mrad/s, the fastest mount of a string
/// before the tower turns by less than a tenth of a mrad/s.
#[test]
fn a_quarter_turn_of_a_pulley_a_minute_outruns_the_sun() {
    let lever_rad_s = 0.025 * std::f64::consts::FRAC_PI_2 / 60.0 / 0.3;
    for axis in [Across, Along] {
        let (plan, mechanism) = built(&place(30.0, 90.0, 15), (axis, EqualAngle, Shim));
        let drives = Drives::prepare(&plan, &mechanism);
        let mut fastest_rad_s: f64 = 0.0;
        for step in 0..120 {
            let sun = |at: i32| {
                sun_after(
                    sun_at(180.0, 55.0),
                    LATITUDE_DEG.to_radians(),
                    f64::from(at) * 240.0,
                )
            };
            let (one, other) = (sun(step - 60), sun(step - 59));
            if one.z.min(other.z) < 0.17 {
                continue;
            }
            let [before, after] = [one, other].map(|sun| drives.turns_asked_rad(&plan, 0, sun));
            for turn in 0..2 {
                fastest_rad_s = fastest_rad_s.max((after[turn] - before[turn]).abs() / 240.0);
            }
        }
        assert!(
            fastest_rad_s > 3e-5 && fastest_rad_s < 1e-4,
            "{fastest_rad_s}"
        );
        assert!(lever_rad_s > 20.0 * fastest_rad_s);
    }
}

/// A sensor takes the encoders' error out and puts its own in; a camera takes the string's mean of all
/// the rest out: of one mirror everything, of nine a ninth of the variance.
#[test]
fn what_is_sensed_is_taken_out() {
    let tolerances = Tolerances {
        offset_setting_rad: 1e-3,
        encoder_rad: 2e-3,
        ..Tolerances::default()
    };
    let blur_rad2 = |mirrors: usize, sensing: Sensing, tolerances: Tolerances| {
        let plan = one_string(&place(20.0, 90.0, mirrors), Along);
        let mechanism = Mechanism {
            tolerances,
            sensing,
            ..exact_mechanism(LATITUDE_DEG, aligned())
        };
        let mut stance = Stance::default();
        let drives = Drives::prepare(&plan, &mechanism);
        drives.stand(&plan, 0, &lanes_of(sun_at(230.0, 30.0)), &mut stance);
        stance.blur_in_plane_rad2[0][0]
    };
    let blind = blur_rad2(9, Sensing::OpenLoop, tolerances);
    let sensor = Sensing::AtReference { error_rad: 2e-3 };
    assert!((blur_rad2(9, sensor, tolerances) / blind - 1.0).abs() < 1e-12);
    let camera = Sensing::OnTarget { error_rad: 0.0 };
    assert!(blur_rad2(1, camera, tolerances) < 1e-18);
    let setting_alone = Tolerances {
        encoder_rad: 0.0,
        ..tolerances
    };
    let whole = blur_rad2(9, Sensing::OpenLoop, setting_alone);
    assert!((blur_rad2(9, camera, tolerances) / whole - 8.0 / 9.0).abs() < 1e-12);
}

/// Tips move by the change of the sun alone, so a bar needs a slide of twice the change of cosθ.
#[test]
fn sliding_levers_slide_by_twice_the_change_of_the_cosine() {
    let (plan, mechanism) = built(&place(10.0, 90.0, 1), (Along, SlidingLever, Lever));
    let drives = Drives::prepare(&plan, &mechanism);
    let suns = [sun_at(120.0, 20.0), sun_at(180.0, 60.0)];
    let [least, most] = drives.tip_reach(&plan, 0, &suns);
    let cosines = suns.map(|sun| drives.normal(&plan, 0, sun).dot(sun));
    assert!((most - 2.0 * cosines[0].max(cosines[1])).abs() < 1e-12);
    assert!((least - 2.0 * cosines[0].min(cosines[1])).abs() < 1e-12);
}
