//! A thin square plate on its centre and four corners.
//!
//! Coefficients for a Poisson's ratio of 0.22 come from two independent numerical solutions (Ritz
//! series and triangular elements) that agree to four digits; the four-corner case agrees with
//! Timoshenko & Woinowsky-Krieger, Theory of Plates and Shells. Linear theory: deflections up to
//! about half the thickness.

/// Deflection at the centre of a plate on four corners under pressure q, in q·a⁴/D.
const FOUR_CORNER_DEFLECTION: f64 = 0.025_82;
/// Moment at the centre of the same plate, in q·a².
const FOUR_CORNER_MOMENT: f64 = 0.1102;
/// Corner deflection of a plate pulled at its corners by F in total against its centre, in F·a²/D.
const CORNER_PULL_DEFLECTION: f64 = 0.039_95;
/// Best-fit curvature of the same plate, in F/D.
const CORNER_PULL_CURVATURE: f64 = 0.1355;
/// Moment of the same plate in the middle of a pad of a fifth of its side that presses evenly, in F.
const PAD_MOMENT: f64 = 0.284;
/// Root mean square slope, both axes together, on centre and corners under pressure, in q·a³/D.
const PRESSURE_SLOPE: f64 = 0.005_19;

/// Share of a uniform load that the centre support carries; each corner carries a quarter of the
/// rest.
pub const CENTRE_SHARE: f64 = FOUR_CORNER_DEFLECTION / CORNER_PULL_DEFLECTION;

/// Moment in the middle of the pad on centre and corners under pressure, in q·a², by superposition of the
/// plate on its corners and the push of the pad.
pub const CENTRE_MOMENT: f64 = PAD_MOMENT * CENTRE_SHARE - FOUR_CORNER_MOMENT;

/// Bending stiffness D = E·t³/(12(1 − ν²)), N·m.
#[must_use]
pub fn bending_stiffness_n_m(modulus_pa: f64, poisson: f64, thickness_m: f64) -> f64 {
    modulus_pa * thickness_m * thickness_m * thickness_m / (12.0 * (1.0 - poisson * poisson))
}

/// Total pull at the four corners that bends a square panel, held at its centre, to a focal length:
/// 3.69·D/f, whatever its side.
#[must_use]
pub fn focusing_force_n(stiffness_n_m: f64, focal_length_m: f64) -> f64 {
    stiffness_n_m / (2.0 * focal_length_m * CORNER_PULL_CURVATURE)
}

/// How far the corners of a square panel stand before its centre when their pull bends it to a focal
/// length: 0.147·a²/f; those of a paraboloid, a²/(8f).
#[must_use]
pub const fn corner_deflection_m(side_m: f64, focal_length_m: f64) -> f64 {
    CORNER_PULL_DEFLECTION / CORNER_PULL_CURVATURE * side_m * side_m / (2.0 * focal_length_m)
}

/// Stress at the centre pad under the focusing pull, 6·0.284·F/t².
#[must_use]
pub fn focusing_pad_stress_pa(force_n: f64, thickness_m: f64) -> f64 {
    6.0 * PAD_MOMENT * force_n / (thickness_m * thickness_m)
}

/// Stress of a moment per width.
#[must_use]
pub fn moment_stress_pa(moment_n: f64, thickness_m: f64) -> f64 {
    6.0 * moment_n / (thickness_m * thickness_m)
}

/// Root mean square slope of a panel on centre and corners under a pressure, both axes together
/// (divide by √2 for one axis).
#[must_use]
pub fn gravity_slope_rad(pressure_pa: f64, side_m: f64, stiffness_n_m: f64) -> f64 {
    PRESSURE_SLOPE * pressure_pa * side_m * side_m * side_m / stiffness_n_m
}

/// Root mean square slope, both axes together, of a paraboloid whose corners sink by a depth below
/// its centre: 4·sag/(√6·side).
#[must_use]
pub fn corner_sag_slope_rad(sag_m: f64, side_m: f64) -> f64 {
    4.0 * sag_m / (side_m * 6f64.sqrt())
}

#[cfg(test)]
mod tests;
