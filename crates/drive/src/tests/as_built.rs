//! Strings as found: settings that put mirrors on target, and beams of posts that lean.

use field::{FirstAxis, Linkage, Plan};
use geometry::Vec3;
use proptest::prelude::*;

use super::{AXES, Place, exact_mechanism, one_string, sun_at};
use crate::{AsBuilt, Drives, Found, Mechanism, OffsetPlace};

const PLACE: Place = Place {
    azimuth_deg: 40.0,
    distance_m: 70.0,
    bearing_deg: 100.0,
    mirrors: 9,
    pitch_m: 1.1,
    height_m: 1.0,
    aim_m: 32.0,
};

/// Every offset place and linkage that go together, on any axis.
const SETS: [(OffsetPlace, Linkage); 6] = [
    (OffsetPlace::Shim, Linkage::EqualAngle),
    (OffsetPlace::Post, Linkage::EqualAngle),
    (OffsetPlace::Lever, Linkage::EqualAngle),
    (OffsetPlace::Lever, Linkage::EqualTravel),
    (OffsetPlace::Lever, Linkage::Graded),
    (OffsetPlace::Lever, Linkage::SlidingLever),
];

fn string(axis: FirstAxis, set: (OffsetPlace, Linkage)) -> (Plan, Mechanism) {
    let mut plan = one_string(&PLACE, axis);
    plan.strings[0].linkage = set.1;
    let mechanism = Mechanism {
        offset: set.0,
        ..exact_mechanism(36.0, sun_at(190.0, 48.0))
    };
    (plan, mechanism)
}

/// `vector` turned right-handed about a unit `axis` (Rodrigues' formula, written out here apart from
/// the crate's own).
fn turned(vector: Vec3, axis: Vec3, angle_rad: f64) -> Vec3 {
    let (sin, cos) = libm::sincos(angle_rad);
    vector * cos + axis.cross(vector) * sin + axis * (axis.dot(vector) * (1.0 - cos))
}

/// The sum of all beams' angles from their targets.
fn misses_rad(built: &AsBuilt, sun: Vec3) -> Vec<f64> {
    let rays = built.rays(0, sun);
    let plan = built.plan();
    rays.iter()
        .enumerate()
        .map(|(mirror, ray)| ray.cross(plan.target(mirror)).length())
        .collect()
}

/// Turning the reference mirror's mount by a setting gives the normal that the mirror needs under the
/// alignment sun: exactly where the turns go about the mount's own axes.
#[test]
fn settings_put_every_mirror_on_target() {
    for axis in AXES {
        for set in SETS {
            let (plan, mechanism) = string(axis, set);
            let drives = Drives::prepare(&plan, &mechanism);
            let settings = drives.settings(&plan, 0);
            let mount = drives.mount_axes(0);
            assert_eq!(settings.len(), 9);
            for (mirror, setting) in settings.iter().enumerate() {
                let wanted = (mechanism.alignment_sun + plan.target(mirror)).normalize();
                let [first_rad, second_rad] = setting.turns_rad;
                // Clamps turn about the fixed axis; shims and heads about the mount as it stands.
                let about = match set.0 {
                    OffsetPlace::Lever if set.1 != Linkage::SlidingLever => mount.first,
                    _ => mount.second.cross(mount.normal),
                };
                let tilted = turned(mount.normal, mount.second, second_rad);
                let found = turned(tilted, about, first_rad);
                assert!(
                    (found - wanted).length() < 1e-12,
                    "{axis:?} {set:?} {mirror}: {found} {wanted}"
                );
            }
            assert!(settings[4].turns_rad.iter().all(|turn| turn.abs() < 1e-12));
            let graded = set.1 == Linkage::Graded;
            assert_eq!(settings[0].lever_ratio != [1.0, 1.0], graded);
        }
    }
}

#[test]
fn strings_as_planned_send_beams_as_planned() {
    for axis in AXES {
        for set in SETS {
            let (plan, mechanism) = string(axis, set);
            let drives = Drives::prepare(&plan, &mechanism);
            let built = AsBuilt::prepare(
                &plan,
                Drives::prepare(&plan, &mechanism),
                &[Found::default(); 9],
            );
            let aligned = misses_rad(&built, mechanism.alignment_sun);
            assert!(aligned.iter().all(|miss| *miss < 1e-13), "{aligned:?}");
            let sun = sun_at(120.0, 30.0);
            for (mirror, ray) in built.rays(0, sun).into_iter().enumerate() {
                let normal = drives.normal(&plan, mirror, sun);
                let wanted = normal * (2.0 * normal.dot(sun)) - sun;
                assert!((ray - wanted).length() < 1e-13, "{axis:?} {set:?}");
            }
        }
    }
}

/// One post leans north by δ: its mirror's normal is turned by δ about the west, and its beam goes
/// where the turned normal sends it; all other mirrors stay.
#[test]
fn a_leaning_post_turns_its_own_mirror() {
    let lean_rad = 3e-3;
    for set in &SETS[..5] {
        let (plan, mechanism) = string(FirstAxis::Along, *set);
        let drives = Drives::prepare(&plan, &mechanism);
        let mut found = [Found::default(); 9];
        found[1].lean_rad = [0.0, libm::tan(lean_rad)];
        let built = AsBuilt::prepare(&plan, Drives::prepare(&plan, &mechanism), &found);
        let sun = sun_at(150.0, 40.0);
        for (mirror, ray) in built.rays(0, sun).into_iter().enumerate() {
            let straight = drives.normal(&plan, mirror, sun);
            let normal = if mirror == 1 {
                turned(straight, -Vec3::X, lean_rad)
            } else {
                straight
            };
            let wanted = normal * (2.0 * normal.dot(sun)) - sun;
            assert!((ray - wanted).length() < 1e-13, "{set:?} {mirror}");
        }
    }
    let (plan, mechanism) = string(FirstAxis::Along, SETS[5]);
    let mut found = [Found::default(); 9];
    found[1].lean_rad = [0.0, lean_rad];
    let built = AsBuilt::prepare(&plan, Drives::prepare(&plan, &mechanism), &found);
    let misses = misses_rad(&built, sun_at(150.0, 40.0));
    assert!(misses.iter().all(|miss| *miss < 1e-13), "{misses:?}");
}

/// A panel turned by δ in the plane of incidence moves its beam by 2δ.
#[test]
fn a_panel_set_wrong_moves_its_beam_by_twice_as_much() {
    let (plan, mechanism) = string(FirstAxis::Across, SETS[0]);
    let sun = mechanism.alignment_sun;
    for wrong_rad in [[1e-3, 0.0], [0.0, 1e-3]] {
        let mut found = [Found::default(); 9];
        found[7].turned_rad = wrong_rad;
        let built = AsBuilt::prepare(&plan, Drives::prepare(&plan, &mechanism), &found);
        let misses = misses_rad(&built, sun);
        let cosine = (sun + plan.target(7)).length() / 2.0;
        let (least, most) = (2e-3 * cosine, 2e-3);
        assert!(
            (least * 0.999..most * 1.001).contains(&misses[7]),
            "{misses:?}"
        );
        assert!(misses[..7].iter().all(|miss| *miss < 1e-13));
    }
}

fn any_found() -> impl Strategy<Value = Found> {
    let small = || -0.02..0.02f64;
    (
        [small(), small(), small()],
        [small(), small()],
        [small(), small()],
    )
        .prop_map(|(moved_m, lean_rad, turned_rad)| Found {
            moved_m: Vec3::from_array(moved_m),
            lean_rad,
            turned_rad,
        })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    /// Whatever was found, the drive brings the reference mirror's beam onto its target.
    #[test]
    fn the_reference_mirror_never_misses(
        found in proptest::collection::vec(any_found(), 9),
        axis in 0..AXES.len(),
        set in 0..SETS.len(),
        sun in (90.0..270.0f64, 15.0..75.0f64),
    ) {
        let (plan, mechanism) = string(AXES[axis], SETS[set]);
        let built = AsBuilt::prepare(&plan, Drives::prepare(&plan, &mechanism), &found);
        let misses = misses_rad(&built, sun_at(sun.0, sun.1));
        prop_assert!(misses[4] < 1e-12, "{:?}", misses);
    }
}
