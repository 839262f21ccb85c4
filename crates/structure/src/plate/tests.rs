//! Published and computed values of the plate, and an independent solution of it.

use book::Check;
use ritz::{Deflection, Held, Load, solve, solve_on_pad};

use super::*;

mod pad;
mod ritz;

const GLASS_PA: f64 = 70e9;
const POISSON: f64 = 0.22;

/// Stress of a plate bent to a sphere by moments D·(1 + ν)/(2f) along its edges.
fn sphere_stress_pa(thickness_m: f64, focal_m: f64) -> f64 {
    let stiffness = bending_stiffness_n_m(GLASS_PA, POISSON, thickness_m);
    moment_stress_pa(stiffness * (1.0 + POISSON) / (2.0 * focal_m), thickness_m)
}

/// E·t/(4f·(1 − ν)) at 70 GPa and 0.22 (computed): 1.795, 0.897 and 1.346 MPa; 5.8 MPa at 4 mm is
/// reached at 15.5 m. Pulling at the corners strains the glass at its pad seven tenths more.
#[test]
fn pure_bending_stress() {
    for (thickness_m, focal_m, expected_pa) in [
        (0.004, 50.0, 1.795e6),
        (0.004, 100.0, 0.897e6),
        (0.003, 50.0, 1.346e6),
        (0.004, 15.5, 5.8e6),
    ] {
        let stress_pa = sphere_stress_pa(thickness_m, focal_m);
        assert!((stress_pa / expected_pa - 1.0).abs() < 2e-3, "{stress_pa}");
        let pull_n = focusing_force_n(
            bending_stiffness_n_m(GLASS_PA, POISSON, thickness_m),
            focal_m,
        );
        near(
            focusing_pad_stress_pa(pull_n, thickness_m) / stress_pa,
            1.72,
            1e-2,
        );
    }
}

/// Two numerical solutions: F = 3.69·D/f; 28.9 N for 4 mm and 12.2 N for 3 mm at 50 m; the centre
/// support carries 0.646 and each corner 0.088 of a uniform load.
#[test]
fn pull_and_shares() {
    let four_mm = bending_stiffness_n_m(GLASS_PA, POISSON, 0.004);
    assert!((four_mm - 392.3).abs() < 0.1, "{four_mm}");
    assert!((focusing_force_n(1.0, 1.0) / 3.69 - 1.0).abs() < 1e-3);
    assert!((focusing_force_n(four_mm, 50.0) / 28.9 - 1.0).abs() < 5e-3);
    let three_mm = bending_stiffness_n_m(GLASS_PA, POISSON, 0.003);
    assert!((focusing_force_n(three_mm, 50.0) / 12.2 - 1.0).abs() < 5e-3);
    assert!((CENTRE_SHARE / 0.646 - 1.0).abs() < 1e-3);
    assert!(((1.0 - CENTRE_SHARE) / 4.0 / 0.088 - 1.0).abs() < 1e-2);
}

/// The corners of a panel of 1 m at 50 m stand 2.95 mm before its centre, as the pull that focuses it
/// bends them; those of a paraboloid 2.5 mm.
#[test]
fn corners_stand_where_their_pull_bends_them() {
    let deflection_m = corner_deflection_m(1.0, 50.0);
    let stiffness = bending_stiffness_n_m(GLASS_PA, POISSON, 0.004);
    let pulled_m = CORNER_PULL_DEFLECTION * focusing_force_n(stiffness, 50.0) / stiffness;
    assert!((deflection_m / pulled_m - 1.0).abs() < 1e-12);
    Check {
        id: "structure.corner_pull",
        model: "Corners of a panel pulled to focus",
        equation: "w = 0.03995 F a² ÷ D, F = 3.69 D ÷ f",
        source: "Kirchhoff's plate, solved twice numerically",
        validity: "square panels held at centre and corners, bent little against their thickness",
        against: "a panel of 1 m focused at 50 m, by another solution",
        unit: "m",
    }
    .within(1e-6, [(2.948e-3, deflection_m)]);
}

/// Grows with side³/thickness².
#[test]
fn gravity_slope_of_a_metre_panel() {
    let stiffness = bending_stiffness_n_m(GLASS_PA, POISSON, 0.004);
    let slope_rad = gravity_slope_rad(2500.0 * 9.81 * 0.004, 1.0, stiffness);
    Check {
        id: "structure.gravity_slope",
        model: "Slope of a level panel under its weight",
        equation: "rms slope = 0.00519 p a³ ÷ D",
        source: "Kirchhoff's plate, solved twice numerically",
        validity: "square panels held at centre and corners",
        against: "a level panel of 1 m and 4 mm, computed independently",
        unit: "rad",
    }
    .within_share(1e-2, [(1.30e-3, slope_rad)]);
}

/// A paraboloid's corner sag is a²/(8f) and its slope a·κ/√6: 4.08 mrad for 1 m at 50 m.
#[test]
fn sag_and_slope_of_a_paraboloid() {
    assert!((corner_sag_slope_rad(1.0 / 400.0, 1.0) - 4.08e-3).abs() < 5e-6);
}

fn pressed() -> Deflection {
    solve(Held::Corners, Load::Pressure, POISSON)
}

/// Pulled at the corners by 1 in total, against a point in the centre.
fn pulled() -> Deflection {
    on_pad(0.0)
}

/// The same against a pad of a side.
fn on_pad(side: f64) -> Deflection {
    solve_on_pad(side, &[(1.0, CORNER)], POISSON)
}

const CORNER: [f64; 2] = [1.0, 1.0];

fn near(found: f64, expected: f64, tolerance: f64) {
    assert!(
        (found / expected - 1.0).abs() < tolerance,
        "{found} {expected}"
    );
}

/// The solver against handbooks. Supported all round at 0.3: centre 0.00406235 and moment 0.0479
/// (Timoshenko & Woinowsky-Krieger, table 8, second-hand), 0.0116 under a centre force (Roark, read).
/// Clamped: centre 0.00126532, moments 0.0229051 and −0.0513338 at the edge (Taylor & Govindjee 2004,
/// second-hand), 0.0056 under a centre force.
#[test]
fn the_solver_finds_what_handbooks_print() {
    let supported = solve(Held::Supported, Load::Pressure, 0.3);
    let clamped = solve(Held::Clamped, Load::Pressure, 0.3);
    Check {
        id: "structure.plate_solver",
        model: "The plate solver, deflection of a square plate under pressure",
        equation: "D ∇⁴w = p, least energy among polynomials",
        source: "Kirchhoff's plate, Ritz's method",
        validity: "thin plates, small deflections",
        against: "handbooks: supported all round (Timoshenko & Woinowsky-Krieger, table 8, second-hand) and \
                  clamped (Taylor & Govindjee 2004, second-hand), in p a⁴ ÷ D",
        unit: "",
    }
    .within_share(
        1e-3,
        [
            (0.004_062_35, supported.at(0.0, 0.0)),
            (0.001_265_32, clamped.at(0.0, 0.0)),
        ],
    );
    near(supported.moment(0.0, 0.0), 0.0479, 5e-3);
    near(clamped.moment(0.0, 0.0), 0.022_905_1, 5e-3);
    near(clamped.moment(1.0, 0.0), -0.051_333_8, 5e-3);
    let pushed = |held| solve(held, Load::CentreForce, 0.3).at(0.0, 0.0);
    near(pushed(Held::Supported), 0.0116, 1e-2);
    near(pushed(Held::Clamped), 0.0056, 2e-2);
}

/// On four corners: deflection of centre and of the middle of an edge, moments there (Timoshenko &
/// Woinowsky-Krieger print 0.0257 and 0.1109 at a Poisson's ratio of 0.25; all computed twice).
#[test]
fn pressure_on_four_corners_is_solved_again() {
    for (poisson, centre, edge, centre_moment, edge_moment) in [
        (0.0, 0.028_20, 0.017_43, 0.1058, 0.1594),
        (0.22, 0.025_82, 0.017_33, 0.1102, 0.1530),
        (0.25, 0.025_67, 0.017_46, 0.1107, 0.1521),
        (0.30, 0.025_51, 0.017_75, 0.1117, 0.1505),
    ] {
        let plate = solve(Held::Corners, Load::Pressure, poisson);
        near(plate.at(0.0, 0.0), centre, 5e-3);
        near(plate.at(0.0, 1.0), edge, 5e-3);
        near(plate.moment(0.0, 0.0), centre_moment, 5e-3);
        near(plate.moment(0.0, 1.0), edge_moment, 2e-2);
    }
    near(pressed().at(0.0, 0.0), FOUR_CORNER_DEFLECTION, 5e-3);
    near(pressed().moment(0.0, 0.0), FOUR_CORNER_MOMENT, 5e-3);
}

/// Held at the centre alone: corners droop by 0.01413, edge middles by 0.00876, rms slope 0.0209; at a
/// Poisson's ratio of 0.30 corners by 0.01363 and edges by 0.00847 (computed twice).
#[test]
fn a_plate_on_its_centre_droops_as_computed() {
    let of = |poisson| {
        let pulled = solve_on_pad(0.0, &[(1.0, CORNER)], poisson);
        solve(Held::Corners, Load::Pressure, poisson).and(-1.0, &pulled)
    };
    let below_centre = |plate: &Deflection, u, v| plate.at(u, v) - plate.at(0.0, 0.0);
    let plate = of(POISSON);
    near(below_centre(&plate, 1.0, 1.0), 0.014_13, 5e-3);
    near(below_centre(&plate, 0.0, 1.0), 0.008_76, 5e-3);
    near(plate.slope(), 0.0209, 5e-3);
    let other = of(0.3);
    near(below_centre(&other, 1.0, 1.0), 0.013_63, 5e-3);
    near(below_centre(&other, 0.0, 1.0), 0.008_47, 5e-3);
}

/// F = 3.69·D/f, corners by 0.03995, edges by 0.432 of the corners (a paraboloid: half), and 22.3 % of
/// the paraboloid's slope is left over.
#[test]
fn corner_pull_is_solved_again() {
    let plate = pulled();
    near(plate.at(0.0, 0.0), CORNER_PULL_DEFLECTION, 5e-3);
    near(plate.curvature(), CORNER_PULL_CURVATURE, 5e-3);
    near(0.5 / plate.curvature(), 3.69, 5e-3);
    let edge = 1.0 - plate.at(0.0, 1.0) / plate.at(0.0, 0.0);
    near(edge, 0.432, 1e-2);
    near(plate.residual(), 0.223, 1e-2);
}

/// Curvature over that of the best fit at quarters of the way out, along the diagonal 0.98, 0.85, 0.96 and
/// 1.18, along the mid axis 1.05, 0.47, 0.03 and −0.45 (computed by others; of these 1.03 and −0.36 here). A
/// free edge bends across itself by −ν times its curvature lengthwise: the wrong way, and by no other amount.
#[test]
fn edges_of_a_pulled_plate_bend_the_wrong_way() {
    let plate = pulled();
    let ratio = |u, v| plate.curvature_at(u, v) / plate.curvature();
    for (out, axis, diagonal) in [
        (0.25, 1.03, 0.98),
        (0.5, 0.47, 0.85),
        (0.75, 0.03, 0.96),
        (1.0, -0.36, 1.18),
    ] {
        assert!((ratio(out, 0.0) - axis).abs() < 0.02, "{}", ratio(out, 0.0));
        let twisted = plate.diagonal_curvature_at(out) / plate.curvature();
        assert!((twisted - diagonal).abs() < 0.02, "{out}: {twisted}");
    }
    let lengthwise = ratio(0.0, 1.0);
    assert!(lengthwise > 1.0 && (ratio(1.0, 0.0) + POISSON * lengthwise).abs() < 0.02);
}

/// Slopes are farthest from the best paraboloid's near the middles of edges, by 0.39 of what it has there,
/// where the plate has 0.61 of it; at a corner by 0.115 (computed twice).
#[test]
fn slopes_err_most_at_the_middles_of_edges() {
    let plate = pulled();
    let off = |u: f64, v: f64| {
        let [along, across] = plate.slopes_over_best(u, v);
        libm::hypot(along - u, across - v)
    };
    let steps = || (0..=20).map(|step| f64::from(step) / 20.0);
    let everywhere = steps().flat_map(|u| steps().map(move |v| (u, v)));
    let worst = everywhere.map(|(u, v)| off(u, v)).fold(0.0, f64::max);
    near(worst, 0.39, 2e-2);
    near(off(1.0, 0.0), 0.39, 2e-2);
    near(plate.slopes_over_best(1.0, 0.0)[0], 0.61, 1e-2);
    near(off(1.0, 1.0), 0.115, 3e-2);
}

/// What the slope that is left over would be otherwise: pulled at 0.9 and 0.8 of the half-diagonal 23.1 and
/// 25.7 %, at corners and middles of edges at best, 57 % of it at corners, 19.7 %; on pads of 0.1, 0.2 and
/// 0.3 of the side 22.3, 22.1 and 22.0 % (computed twice).
#[test]
fn other_pulls_and_pads_leave_what_was_computed() {
    let pulled_at = |pulls: &[(f64, [f64; 2])]| solve_on_pad(0.0, pulls, POISSON).residual();
    near(pulled_at(&[(1.0, [0.9, 0.9])]), 0.231, 1e-2);
    near(pulled_at(&[(1.0, [0.8, 0.8])]), 0.257, 1e-2);
    let mixed = |share: f64| pulled_at(&[(share, CORNER), (1.0 - share, [1.0, 0.0])]);
    near(mixed(0.57), 0.197, 1e-2);
    assert!(mixed(0.57) < mixed(0.5).min(mixed(0.64)));
    for (side, left) in [(0.1, 0.223), (0.2, 0.221), (0.3, 0.220)] {
        near(on_pad(side).residual(), left, 1e-2);
    }
}

/// Moment in the middle of a pad that presses evenly: 0.421, 0.351 and 0.284 F for pads of 0.05, 0.1 and
/// 0.2 of the side (computed twice, of which the first is 0.419 here).
#[test]
fn pads_bend_the_glass_as_computed() {
    for (side, moment) in [(0.05, 0.421), (0.1, 0.351), (0.2, PAD_MOMENT)] {
        near(on_pad(side).moment(0.0, 0.0), moment, 6e-3);
    }
}

/// On centre and corners: the centre carries 0.646, rms slope 0.00519, greatest sag 0.002657 in the middle of
/// an edge (computed twice). The moment there is the difference of two ten times as large: 0.0199 by another
/// solution; ours goes 0.0180, 0.0179, 0.0178, 0.0176, 0.0177 from five orders to nine and stays. Nothing rests
/// on it: the pad's moment is four times as large.
#[test]
fn sag_on_centre_and_corners_is_solved_again() {
    let share = pressed().at(0.0, 0.0) / pulled().at(0.0, 0.0);
    near(share, CENTRE_SHARE, 5e-3);
    near(share, 0.646, 5e-3);
    let plate = pressed().and(-share, &pulled());
    near(plate.slope(), PRESSURE_SLOPE, 1e-2);
    near(plate.at(0.0, 1.0), 0.002_657, 1e-2);
    near(plate.moment(0.0, 1.0), 0.0177, 1e-2);
}

/// Seamed edges, as the bill has them, bear 18.3/23.3 = 0.785 of what the face bears (ASTM E1300, from
/// memory; 0.9 by EN 16612, second-hand). Even so they are never used as hard as the pad, neither by the pull
/// that focuses nor by pressure: the greatest moment anywhere along an edge, raised by that, stays below
/// the pad's, so that no mixture of both can turn it. Edges left as cut would just do by EN 16612 (0.8) and
/// not by ASTM E1300 (16.6/23.3).
#[test]
fn seamed_edges_are_used_less_than_the_pad() {
    const SEAMED: f64 = 18.3 / 23.3;
    const CUT: std::ops::Range<f64> = 16.6 / 23.3..0.8;
    let along_edge = |plate: &Deflection| {
        let moments = (0..=100).map(|step| plate.moment(f64::from(step) / 100.0, 1.0).abs());
        moments.fold(0.0, f64::max)
    };
    let by_pull = along_edge(&pulled()) / PAD_MOMENT;
    let by_pressure = along_edge(&pressed().and(-CENTRE_SHARE, &pulled())) / CENTRE_MOMENT;
    println!("edges over pad: {by_pull:.2} by pull, {by_pressure:.2} by pressure");
    assert!(by_pull < SEAMED && by_pressure < SEAMED);
    assert!(CUT.contains(&by_pull), "{by_pull}");
}
