//! Every mechanism against rotations written out.

use field::FirstAxis::{self, Across, Along, Fixed, Polar, RollFree, Vertical};
use field::Linkage::{self, EqualAngle, EqualTravel, Graded, SlidingLever};
use field::Plan;
use geometry::{Vec3, lane};
use proptest::prelude::*;

use super::rotations::{Matrix, angles_rad, apply, rotation, undo};
use super::{Place, exact_mechanism, lanes_of, one_string, sun_at};
use crate::OffsetPlace::{self, Lever, Post, Shim};
use crate::frame::Frame;
use crate::reflection::normal_between;
use crate::{Control, Drives, Mechanism, MechanismError};

const FREE: FirstAxis = Fixed {
    azimuth_rad: 2.6,
    elevation_rad: 0.5,
};

/// All that goes together.
pub(super) const KINDS: [(FirstAxis, Linkage, OffsetPlace); 19] = [
    (Across, EqualAngle, Shim),
    (Polar, EqualAngle, Shim),
    (Along, EqualAngle, Shim),
    (Vertical, EqualAngle, Shim),
    (FREE, EqualAngle, Shim),
    (RollFree, EqualAngle, Shim),
    (Across, EqualAngle, Post),
    (RollFree, EqualAngle, Post),
    (Across, EqualAngle, Lever),
    (Along, EqualAngle, Lever),
    (Vertical, EqualAngle, Lever),
    (Polar, EqualAngle, Lever),
    (Along, EqualTravel, Lever),
    (Polar, EqualTravel, Lever),
    (Along, Graded, Lever),
    (Polar, Graded, Lever),
    (Along, SlidingLever, Lever),
    (Vertical, SlidingLever, Lever),
    (RollFree, SlidingLever, Lever),
];

const LATITUDE_DEG: f64 = 35.0;

pub(super) fn place(azimuth_deg: f64, bearing_deg: f64, mirrors: usize) -> Place {
    Place {
        azimuth_deg,
        distance_m: 60.0,
        bearing_deg,
        mirrors,
        pitch_m: 1.1,
        height_m: 1.2,
        aim_m: 35.0,
    }
}

pub(super) fn aligned() -> Vec3 {
    sun_at(180.0, 55.0)
}

pub(super) fn built(
    place: &Place,
    (axis, linkage, offset): (FirstAxis, Linkage, OffsetPlace),
) -> (Plan, Mechanism) {
    let mut plan = one_string(place, axis);
    plan.strings[0].linkage = linkage;
    let mechanism = Mechanism {
        offset,
        ..exact_mechanism(LATITUDE_DEG, aligned())
    };
    assert_eq!(mechanism.check(axis, linkage), Ok(()));
    (plan, mechanism)
}

pub(super) fn rms_rad(plan: &Plan, mechanism: &Mechanism, sun: Vec3) -> f64 {
    Drives::prepare(plan, mechanism).rms_residual_rad(plan, 0, sun)
}

/// The needed normals of a string's mirrors under one sun, and that of its reference.
fn needed(plan: &Plan, sun: Vec3) -> (Vec<Vec3>, Vec3) {
    let normal = |mirror| normal_between(sun, plan.target(mirror));
    let all = plan.strings[0].mirrors().map(normal).collect();
    (all, normal(plan.strings[0].reference_mirror()))
}

/// The rotation about both ends' common normal that takes one unit vector onto another.
fn smallest_rotation(from: Vec3, onto: Vec3) -> Matrix {
    let axis = from.cross(onto);
    rotation(axis.normalize(), libm::atan2(axis.length(), from.dot(onto)))
}

/// The resting normal turned by both angles.
fn turned(rest: &Frame, [alpha_rad, beta_rad]: [f64; 2]) -> Vec3 {
    let second = apply(&rotation(rest.second, beta_rad), rest.normal);
    apply(&rotation(rest.first, alpha_rad), second)
}

/// What a mechanism does to each mirror, written out with angles; `None` where a rotation would not
/// say it.
fn written_out(plan: &Plan, mechanism: &Mechanism, sun: Vec3) -> Option<Vec<Vec3>> {
    let row = &plan.strings[0];
    let (then, then_led) = needed(plan, mechanism.alignment_sun);
    let (_, led) = needed(plan, sun);
    if mechanism.offset == Post {
        let head = |normal: &Vec3| apply(&smallest_rotation(then_led, *normal), led);
        let reference = row.reference_mirror();
        let each = then.iter().enumerate();
        return Some(
            each.map(|(mirror, normal)| {
                if mirror == reference {
                    led
                } else {
                    head(normal)
                }
            })
            .collect(),
        );
    }
    if row.first_axis == RollFree && row.linkage == EqualAngle {
        let turn = smallest_rotation(then_led, led);
        return Some(then.iter().map(|normal| apply(&turn, *normal)).collect());
    }
    let rest = Frame::at_rest(row.first_axis, row.bearing_rad, LATITUDE_DEG.to_radians())?;
    let (then_led_rad, led_rad) = (angles_rad(&rest, then_led), angles_rad(&rest, led));
    let since_rad = |axis: usize| led_rad[axis] - then_led_rad[axis];
    let law = |normal: &Vec3| {
        let start_rad = angles_rad(&rest, *normal);
        let end_rad = |axis: usize| match row.linkage {
            EqualAngle => start_rad[axis] + since_rad(axis),
            _ => {
                let askew_rad = start_rad[axis] - then_led_rad[axis];
                let travel = libm::sin(since_rad(axis));
                then_led_rad[axis] + libm::asin(libm::sin(askew_rad) + travel)
            }
        };
        turned(&rest, [end_rad(0), end_rad(1)])
    };
    match (row.linkage, mechanism.offset) {
        (EqualAngle | EqualTravel, Lever) => Some(then.iter().map(law).collect()),
        (EqualAngle, Shim) => {
            let turn = |normal: Vec3, [alpha_rad, beta_rad]: [f64; 2]| {
                let (first, second) = (rest.first, rest.second);
                apply(
                    &rotation(first, alpha_rad),
                    apply(&rotation(second, beta_rad), normal),
                )
            };
            let back = |normal: Vec3, [alpha_rad, beta_rad]: [f64; 2]| {
                let (first, second) = (rest.first, rest.second);
                undo(
                    &rotation(second, beta_rad),
                    undo(&rotation(first, alpha_rad), normal),
                )
            };
            let each = then.iter().map(|normal| back(*normal, then_led_rad));
            Some(each.map(|shim| turn(shim, led_rad)).collect())
        }
        _ => None,
    }
}

pub(super) fn kinds() -> impl Strategy<Value = (FirstAxis, Linkage, OffsetPlace)> {
    kinds_where(|_| true)
}

pub(super) fn kinds_where(
    wanted: fn((FirstAxis, Linkage, OffsetPlace)) -> bool,
) -> impl Strategy<Value = (FirstAxis, Linkage, OffsetPlace)> {
    let kinds = KINDS.into_iter().filter(|kind| wanted(*kind));
    proptest::sample::select(kinds.collect::<Vec<_>>())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(128))]

    #[test]
    fn mirrors_do_what_the_rotations_say(
        kind in kinds(), azimuth_deg in -80.0..80.0f64, bearing_deg in 0.0..180.0f64,
        mirrors in 1usize..16, sun_azimuth_deg in 100.0..260.0f64, sun_elevation_deg in 15.0..75.0f64,
    ) {
        let (plan, mechanism) = built(&place(azimuth_deg, bearing_deg, mirrors), kind);
        let sun = sun_at(sun_azimuth_deg, sun_elevation_deg);
        let drives = Drives::prepare(&plan, &mechanism);
        let mut stance = field::Stance::default();
        drives.stand(&plan, 0, &lanes_of(sun), &mut stance);
        if let Some(expected) = written_out(&plan, &mechanism, sun) {
            for (mirror, expected) in expected.into_iter().enumerate().filter(|(_, n)| n.is_finite()) {
                let got = lane::vector(&stance.normals[mirror], 5);
                prop_assert!((got - expected).length() < 1e-7, "{kind:?} {mirror}: {got} {expected}");
            }
        }
        for mirror in 0..mirrors {
            let got = lane::vector(&stance.normals[mirror], 5);
            prop_assert!((got.length() - 1.0).abs() < 1e-12);
            prop_assert_eq!(got, drives.normal(&plan, mirror, sun));
        }
        let edge = lane::vector(&stance.width_edge, 5);
        let reference = lane::vector(&stance.normals[plan.strings[0].reference_mirror()], 5);
        prop_assert!(edge.dot(reference).abs() < 1e-12 && (edge.length() - 1.0).abs() < 1e-12);
    }
}

/// Two mirrors share what one of them alone would miss by: the rms falls by √2 when the motion can
/// be split between them.
#[test]
fn least_squares_split_the_miss_of_two_mirrors() {
    let (plan, mechanism) = built(&place(20.0, 90.0, 2), (Along, EqualAngle, Shim));
    let fitted = Mechanism {
        control: Control::LeastSquares,
        ..mechanism
    };
    let sun = sun_at(240.0, 25.0);
    let ratio = rms_rad(&plan, &mechanism, sun) / rms_rad(&plan, &fitted, sun);
    assert!((ratio - std::f64::consts::SQRT_2).abs() < 0.01, "{ratio}");
}

/// 2·cosθ over the year: a lever on cranks of 0.3 m slides by 0.3 m × the difference.
#[test]
fn a_sliding_lever_reaches_twice_the_cosine() {
    let (plan, mechanism) = built(&place(0.0, 90.0, 1), (Along, SlidingLever, Lever));
    let drives = Drives::prepare(&plan, &mechanism);
    let suns = [sun_at(180.0, 75.0), sun_at(110.0, 15.0)];
    let [least, most] = drives.tip_reach(&plan, 0, &suns);
    let cosine = |sun: Vec3| sun.dot(normal_between(sun, plan.target(0)));
    let [high, low] = suns.map(cosine);
    assert!((most - 2.0 * high.max(low)).abs() < 1e-12);
    assert!((least - 2.0 * high.min(low)).abs() < 1e-12);
}

#[test]
fn what_does_not_go_together_is_refused_with_a_way_out() {
    let refused = |axis, linkage, offset| {
        let mechanism = Mechanism {
            offset,
            ..exact_mechanism(LATITUDE_DEG, aligned())
        };
        mechanism.check(axis, linkage)
    };
    for (axis, linkage, offset, error) in [
        (
            Along,
            EqualTravel,
            Shim,
            MechanismError::TravelOfParallelLevers,
        ),
        (
            Along,
            EqualTravel,
            Post,
            MechanismError::TravelOfParallelLevers,
        ),
        (Along, Graded, Shim, MechanismError::OffsetOutsideLevers),
        (
            Along,
            SlidingLever,
            Post,
            MechanismError::OffsetOutsideLevers,
        ),
        (RollFree, EqualAngle, Lever, MechanismError::BallWithLevers),
        (RollFree, Graded, Lever, MechanismError::BallWithLevers),
    ] {
        assert_eq!(refused(axis, linkage, offset), Err(error));
        assert!(error.to_string().contains("offsets") || error.to_string().contains("take"));
    }
}

/// A line that travels turns parallel levers alike; levers that are clamped askew by their mirrors' offsets turn
/// by as much more or less as they stand askew.
#[test]
fn equal_travel_of_parallel_levers_is_equal_angles() {
    let apart_rad = |axis: FirstAxis, pitch_m: f64| {
        let string = Place {
            pitch_m,
            ..place(20.0, 90.0, 9)
        };
        let [travels, turns] = [EqualTravel, EqualAngle].map(|linkage| {
            let (plan, mechanism) = built(&string, (axis, linkage, Lever));
            Drives::prepare(&plan, &mechanism).normal(&plan, 0, sun_at(235.0, 30.0))
        });
        travels.distance(turns)
    };
    for axis in [Across, Along, Vertical] {
        assert!(apart_rad(axis, 1e-9) < 1e-10, "{axis:?}");
        let [near, far] = [0.1, 0.2].map(|pitch_m| apart_rad(axis, pitch_m));
        assert!(near > 1e-6, "{axis:?} {near}");
        assert!((far / near - 2.0).abs() < 0.05, "{axis:?} {near} {far}");
    }
}

/// A free axis that must turn by more than 90° after alignment leaves its levers at their dead point.
#[test]
fn a_lever_does_not_pass_its_dead_point() {
    let (plan, mechanism) = built(&place(-64.0, 0.0, 1), (FREE, Graded, Lever));
    let sun = sun_at(209.0, 15.0);
    assert!(rms_rad(&plan, &mechanism, sun) > 0.01);
    let (plan, mechanism) = built(&place(-64.0, 0.0, 1), (FREE, EqualAngle, Lever));
    assert!(rms_rad(&plan, &mechanism, sun) < 1e-13);
}
