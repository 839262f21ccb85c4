//! Plans written down: what is taken and what is refused.

use super::*;
use crate::layout::{candidates, tests::steam_field};

const AIM_M: Vec3 = Vec3::new(0.0, 0.0, 30.0);

fn row(string_id: &str, mirror_id: &str, x_m: f64) -> PlanRow {
    PlanRow {
        string_id: string_id.to_owned(),
        mirror_id: mirror_id.to_owned(),
        centre_m: Vec3::new(x_m, 50.0, 1.2),
        width_m: 0.8,
        height_m: 0.6,
        focal_length_m: 60.0,
        aim_m: None,
        coupling: (!string_id.is_empty()).then_some(Coupling {
            first_axis: FirstAxis::Along,
            bearing_rad: std::f64::consts::FRAC_PI_2,
            linkage: Linkage::EqualAngle,
        }),
    }
}

/// Two strings with a mirror alone between them.
fn rows() -> Vec<PlanRow> {
    vec![
        row("a", "1", -3.0),
        row("a", "2", -2.0),
        row("", "x", 0.0),
        row("b", "1", 1.0),
        row("b", "2", 2.0),
        row("b", "3", 3.0),
    ]
}

/// The only problem of the rows, which stands in `at`.
fn problem(rows: &[PlanRow], at: usize) -> RowProblem {
    let mut errors = Plan::from_rows(rows, AIM_M).unwrap_err();
    assert_eq!(errors.len(), 1, "{errors:?}");
    let error = errors.remove(0);
    assert_eq!(error.row, at, "{error:?}");
    error.problem
}

#[test]
fn rows_become_strings_and_lone_mirrors_strings_of_one() {
    let plan = Plan::from_rows(&rows(), AIM_M).unwrap();
    let counts: Vec<usize> = plan.strings.iter().map(|row| row.mirror_count).collect();
    assert_eq!(counts, [2, 1, 3]);
    assert_eq!(plan.strings[1].reference_mirror(), 2);
    assert_eq!(plan.strings[1].first_axis, FirstAxis::Vertical);
    assert_eq!((plan.width_m[5], plan.height_m[5]), (0.8, 0.6));
    assert_eq!(plan.centre_m(4), Vec3::new(2.0, 50.0, 1.2));
    assert_eq!(plan.aim_of_m(4), AIM_M);
}

#[test]
fn mirrors_may_have_aims_of_their_own() {
    let mut rows = rows();
    rows[3].aim_m = Some(AIM_M + Vec3::X);
    let plan = Plan::from_rows(&rows, AIM_M).unwrap();
    assert_eq!(plan.aim_of_m(3), AIM_M + Vec3::X);
    assert_eq!(plan.aim_of_m(4), AIM_M);
}

#[test]
fn a_laid_plan_comes_back_from_its_rows() {
    let laid = candidates(&steam_field()).unwrap().plan;
    let back = Plan::from_rows(&laid.to_rows(), laid.aim_m).unwrap();
    assert_eq!(back.x_m, laid.x_m);
    assert_eq!(back.focal_length_m, laid.focal_length_m);
    assert!(back.aim_shift_m.iter().all(|shift| *shift == Vec3::ZERO));
    for (one, other) in back.strings.iter().zip(&laid.strings) {
        assert_eq!(one.mirrors(), other.mirrors());
        assert_eq!(one.bearing_rad, other.bearing_rad);
    }
}

#[test]
fn a_string_begins_at_its_most_negative_end() {
    let mut rows = rows();
    rows.swap(4, 5);
    let RowProblem::OutOfOrder { back_m, .. } = problem(&rows, 5) else {
        panic!("another problem");
    };
    assert!((back_m - 1.0).abs() < 1e-9);
}

#[test]
fn a_string_turns_as_one() {
    let mut rows = rows();
    if let Some(coupling) = &mut rows[4].coupling {
        coupling.first_axis = FirstAxis::Polar;
    }
    let told = problem(&rows, 4).to_string();
    assert!(
        told.contains("string \"b\"; take the same first_axis"),
        "{told}"
    );
}

#[test]
fn strings_and_lone_mirrors_are_told_apart() {
    let mut coupled = rows();
    coupled[2].coupling = coupled[0].coupling;
    assert_eq!(problem(&coupled, 2), RowProblem::CoupledAlone);
    let mut uncoupled = rows();
    uncoupled[1].coupling = None;
    assert_eq!(problem(&uncoupled, 1), RowProblem::Uncoupled);
}

#[test]
fn nothing_stands_or_is_named_twice() {
    let mut named = rows();
    named[5].mirror_id = "1".to_owned();
    assert!(matches!(problem(&named, 5), RowProblem::SameName { .. }));
    named[5].mirror_id.clear();
    assert_eq!(problem(&named, 5), RowProblem::NoName);
    let mut placed = rows();
    placed[2].centre_m.x = 1.0;
    assert!(matches!(problem(&placed, 3), RowProblem::SamePlace { .. }));
    let mut apart = rows();
    apart.push(row("a", "3", 4.0));
    assert!(matches!(
        problem(&apart, 6),
        RowProblem::TakenUpAgain { .. }
    ));
}

#[test]
fn what_holds_for_every_plan_holds_for_rows() {
    let mut thin = rows();
    thin[4].width_m = 0.0;
    let RowProblem::Plan(PlanError::Size { mirror: 4, .. }) = problem(&thin, 4) else {
        panic!("another problem");
    };
    let mut bright = rows();
    bright[3].aim_m = Some(bright[3].centre_m);
    let RowProblem::Plan(PlanError::Place { mirror: 3, .. }) = problem(&bright, 3) else {
        panic!("another problem");
    };
    let nothing = Plan::from_rows(&[], AIM_M).unwrap_err();
    assert_eq!(nothing[0].problem, RowProblem::Plan(PlanError::Empty));
}
