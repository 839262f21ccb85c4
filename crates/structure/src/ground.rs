//! Posts in the ground: how deep, and how far they give way.

use std::f64::consts::PI;

/// A granular soil.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ground {
    /// Unit weight, N/m³.
    pub unit_weight_n_m3: f64,
    /// Passive earth pressure coefficient, tan²(45° + φ/2).
    pub passive_coefficient: f64,
    /// Friction along a shaft.
    pub shaft_friction_pa: f64,
    /// Growth with depth of the horizontal stiffness per length of post, N/m³.
    pub subgrade_n_m3: f64,
}

impl Ground {
    /// Medium dense sand: 17 kN/m³, friction angle 30°, 15 kPa, 6.6 MN/m³ (Terzaghi's medium sand);
    /// from memory.
    pub const MEDIUM_SAND: Self = Self {
        unit_weight_n_m3: 17e3,
        passive_coefficient: 3.0,
        shaft_friction_pa: 15e3,
        subgrade_n_m3: 6.6e6,
    };

    /// Loose sand: 15 kN/m³, 28°, 10 kPa, 2.2 MN/m³ (Terzaghi's loose sand); from memory.
    pub const LOOSE_SAND: Self = Self {
        unit_weight_n_m3: 15e3,
        passive_coefficient: 2.77,
        shaft_friction_pa: 10e3,
        subgrade_n_m3: 2.2e6,
    };
    /// Dense sand: 19 kN/m³, 38°, 25 kPa, 17.6 MN/m³ (Terzaghi's dense sand); from memory.
    pub const DENSE_SAND: Self = Self {
        unit_weight_n_m3: 19e3,
        passive_coefficient: 4.20,
        shaft_friction_pa: 25e3,
        subgrade_n_m3: 17.6e6,
    };

    /// Embedded length at which a rigid free-headed post of this width just stands against a push at
    /// a height above ground: ½·γ·b·L³·K_p = H(e + L) (Broms 1964, J. Soil Mech. Found. Div. 90,
    /// cohesionless soil; from memory).
    #[must_use]
    pub fn standing_depth_m(&self, width_m: f64, push_n: f64, height_m: f64) -> f64 {
        let ratio = 2.0 * push_n / (self.unit_weight_n_m3 * width_m * self.passive_coefficient);
        let start_m = ratio.sqrt() + libm::cbrt(ratio * height_m);
        newton_from_above(start_m, |depth_m| {
            let square = depth_m * depth_m;
            (
                depth_m * square - ratio * (depth_m + height_m),
                3.0 * square - ratio,
            )
        })
    }

    /// Embedded length at which shaft friction holds an uplift.
    #[must_use]
    pub fn holding_depth_m(&self, width_m: f64, uplift_n: f64) -> f64 {
        uplift_n.max(0.0) / (PI * width_m * self.shaft_friction_pa)
    }

    /// Turn of a rigid post's head under a push at a height, 24H(L + 1.5e)/(n·L⁴), in a soil whose
    /// stiffness grows with depth (Broms 1964; from equilibrium).
    #[must_use]
    pub fn turn_rad(&self, depth_m: f64, push_n: f64, height_m: f64) -> f64 {
        let square = depth_m * depth_m;
        24.0 * push_n * (depth_m + 1.5 * height_m) / (self.subgrade_n_m3 * square * square)
    }

    /// Embedded length at which that turn is a given one.
    #[must_use]
    pub fn stiff_depth_m(&self, turn_rad: f64, push_n: f64, height_m: f64) -> f64 {
        let ratio = 24.0 * push_n / (self.subgrade_n_m3 * turn_rad);
        let start_m = libm::cbrt(ratio) + (1.5 * ratio * height_m).sqrt().sqrt();
        newton_from_above(start_m, |depth_m| {
            let cube = depth_m * depth_m * depth_m;
            (
                depth_m * cube - ratio * (depth_m + 1.5 * height_m),
                4.0 * cube - ratio,
            )
        })
    }
}

/// Root of a function that is convex and rising from its greatest root to the start; from there
/// every step of Newton's method stays above the root. Zero when the start is.
fn newton_from_above(start: f64, value_and_slope: impl Fn(f64) -> (f64, f64)) -> f64 {
    const STEPS: usize = 12;
    if start == 0.0 {
        return 0.0;
    }
    (0..STEPS).fold(start, |guess, _| {
        let (value, slope) = value_and_slope(guess);
        guess - value / slope
    })
}

/// How posts are set.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Footing {
    /// Driven; soil bears on the post itself.
    Driven,
    /// Set in a drilled hole filled with concrete.
    Augered {
        /// Diameter of the hole.
        hole_diameter_m: f64,
    },
}

impl Footing {
    /// Width on which the soil bears.
    #[must_use]
    pub const fn width_m(self, post_diameter_m: f64) -> f64 {
        match self {
            Self::Driven => post_diameter_m,
            Self::Augered { hole_diameter_m } => hole_diameter_m,
        }
    }

    /// Concrete per metre of embedded length.
    #[must_use]
    pub fn concrete_m2(self) -> f64 {
        match self {
            Self::Driven => 0.0,
            Self::Augered { hole_diameter_m } => PI / 4.0 * hole_diameter_m * hole_diameter_m,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn depths_fulfil_their_own_equations() {
        let ground = Ground::MEDIUM_SAND;
        for (push_n, height_m) in [(50.0, 0.5), (1000.0, 1.2), (20_000.0, 3.0)] {
            let depth_m = ground.standing_depth_m(0.06, push_n, height_m);
            let resistance = 0.5 * 17e3 * 0.06 * depth_m * depth_m * depth_m * 3.0;
            assert!((resistance / (push_n * (height_m + depth_m)) - 1.0).abs() < 1e-9);
            let stiff_m = ground.stiff_depth_m(0.2e-3, push_n, height_m);
            assert!((ground.turn_rad(stiff_m, push_n, height_m) / 0.2e-3 - 1.0).abs() < 1e-9);
        }
        assert_eq!(ground.standing_depth_m(0.06, 0.0, 1.0), 0.0);
    }

    /// Rigid post in a soil of stiffness n·z: force and moment of the reaction n·z·(y − θz), added up
    /// over thin slices, balance the push that the closed form was given.
    #[test]
    fn turn_is_in_equilibrium() {
        let ground = Ground::MEDIUM_SAND;
        let (depth_m, push_n, height_m) = (1.3, 400.0, 1.1);
        let turn = ground.turn_rad(depth_m, push_n, height_m);
        let head_m = 2.0 * push_n / (6.6e6 * depth_m * depth_m) + 2.0 * turn * depth_m / 3.0;
        let (mut force_n, mut moment_n_m) = (0.0, 0.0);
        let slice_m = depth_m / 10_000.0;
        for i in 0..10_000 {
            let z = (f64::from(i) + 0.5) * slice_m;
            let reaction = 6.6e6 * z * (head_m - turn * z) * slice_m;
            force_n += reaction;
            moment_n_m += reaction * z;
        }
        assert!((force_n / push_n - 1.0).abs() < 1e-6);
        assert!((moment_n_m / (-push_n * height_m) - 1.0).abs() < 1e-6);
    }
}
