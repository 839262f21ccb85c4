//! Wind loads on one square mirror.

use crate::Wind;

/// Force and moment coefficients of a square mirror: force = c·q·side², moment = c·q·side³, with the
/// mean dynamic pressure q at the mirror's centre.
///
/// Peterka & Derickson 1992, SAND92-7009 (isolated mirror, open terrain, turbulence up to 18 %;
/// values from memory). Peak values contain the gusts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Coefficients {
    /// Horizontal force.
    pub drag: f64,
    /// Vertical force, up or down.
    pub lift: f64,
    /// Moment about the horizontal hinge.
    pub hinge: f64,
    /// Moment about the vertical.
    pub azimuth: f64,
}

impl Coefficients {
    /// Any position, mean.
    pub const OPERATING_MEAN: Self = Self {
        drag: 2.0,
        lift: 1.35,
        hinge: 0.25,
        azimuth: 0.25,
    };
    /// Any position, peak.
    pub const OPERATING_PEAK: Self = Self {
        drag: 4.0,
        lift: 2.8,
        hinge: 0.6,
        azimuth: 0.7,
    };
    /// Mirror horizontal, peak.
    pub const STOW_PEAK: Self = Self {
        drag: 0.6,
        lift: 0.9,
        hinge: 0.2,
        azimuth: 0.02,
    };

    /// Turbulence at which the peak values were measured.
    const MEASURED_TURBULENCE: f64 = 0.18;

    /// Loads at a mean dynamic pressure.
    #[must_use]
    pub fn load(&self, pressure_pa: f64, side_m: f64) -> MirrorLoad {
        let force_n = pressure_pa * side_m * side_m;
        MirrorLoad {
            drag_n: self.drag * force_n,
            lift_n: self.lift * force_n,
            hinge_n_m: self.hinge * force_n * side_m,
            azimuth_n_m: self.azimuth * force_n * side_m,
            normal_pa: self.drag.max(self.lift) * pressure_pa,
        }
    }

    /// All coefficients times a factor.
    #[must_use]
    pub fn scaled(&self, factor: f64) -> Self {
        Self {
            drag: self.drag * factor,
            lift: self.lift * factor,
            hinge: self.hinge * factor,
            azimuth: self.azimuth * factor,
        }
    }

    /// Stow coefficients of a mirror left tilted by an angle: between stow and operating with the
    /// sine of the tilt (our interpolation, no source).
    #[must_use]
    pub fn stow_tilted(tilt_rad: f64) -> Self {
        let share = libm::sin(tilt_rad.abs());
        let mix = |stow: f64, operating: f64| stow + (operating - stow) * share;
        let (stow, operating) = (Self::STOW_PEAK, Self::OPERATING_PEAK);
        Self {
            drag: mix(stow.drag, operating.drag),
            lift: mix(stow.lift, operating.lift),
            hinge: mix(stow.hinge, operating.hinge),
            azimuth: mix(stow.azimuth, operating.azimuth),
        }
    }
}

/// Caution on stow peaks of small mirrors, √(3 m/side) within 1 and 2. Measured peaks grow as the
/// chord shrinks against the gusts' length, about doubling for half the chord in one reading (after
/// Emes, second-hand); the law is ours, no source.
#[must_use]
pub fn small_chord_caution(side_m: f64) -> f64 {
    (3.0 / side_m).sqrt().clamp(1.0, 2.0)
}

/// When a load acts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum LoadCase {
    /// Tracking in the strongest operating wind.
    Operate,
    /// On the way to stow, in any position.
    DriveToStow,
    /// In stow, in the strongest wind.
    Survive,
}

impl LoadCase {
    /// Every case.
    pub const ALL: [Self; 3] = [Self::Operate, Self::DriveToStow, Self::Survive];

    /// Mean wind at 10 m of the case.
    #[must_use]
    pub const fn speed_m_s(self, wind: &Wind) -> f64 {
        match self {
            Self::Operate => wind.operate_m_s,
            Self::DriveToStow => wind.drive_to_stow_m_s,
            Self::Survive => wind.survive_m_s,
        }
    }

    /// Peak coefficients of a mirror of this side, with its tilt left over in stow.
    #[must_use]
    pub fn coefficients(self, side_m: f64, stow_misfit_rad: f64) -> Coefficients {
        match self {
            Self::Operate | Self::DriveToStow => Coefficients::OPERATING_PEAK,
            Self::Survive => {
                Coefficients::stow_tilted(stow_misfit_rad).scaled(small_chord_caution(side_m))
            }
        }
    }

    /// Peak load on one mirror. The published peaks stand for gusts at 18 % turbulence, so they are
    /// carried over to this height by the ratio of gust pressures.
    #[must_use]
    pub fn mirror_load(
        self,
        wind: &Wind,
        side_m: f64,
        height_m: f64,
        stow_misfit_rad: f64,
    ) -> MirrorLoad {
        let gust_pa = wind.gust_pressure_pa(self.speed_m_s(wind), height_m);
        let pressure_pa = gust_pa / (1.0 + 7.0 * Coefficients::MEASURED_TURBULENCE);
        self.coefficients(side_m, stow_misfit_rad)
            .load(pressure_pa, side_m)
    }
}

/// The case in which something is greatest, and how great.
pub fn greatest_case(of: impl Fn(LoadCase) -> f64) -> (LoadCase, f64) {
    LoadCase::ALL.into_iter().map(|case| (case, of(case))).fold(
        (LoadCase::Operate, 0.0),
        |greatest, next| {
            if next.1 > greatest.1 { next } else { greatest }
        },
    )
}

/// Load on one mirror.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MirrorLoad {
    /// Horizontal force.
    pub drag_n: f64,
    /// Vertical force.
    pub lift_n: f64,
    /// Moment about the horizontal hinge.
    pub hinge_n_m: f64,
    /// Moment about the vertical.
    pub azimuth_n_m: f64,
    /// Mean pressure on the face.
    pub normal_pa: f64,
}

impl MirrorLoad {
    /// The greater of the two moments a drive may have to hold.
    #[must_use]
    pub const fn drive_moment_n_m(&self) -> f64 {
        self.hinge_n_m.max(self.azimuth_n_m)
    }

    /// All loads times a factor.
    #[must_use]
    pub fn scaled(&self, factor: f64) -> Self {
        Self {
            drag_n: self.drag_n * factor,
            lift_n: self.lift_n * factor,
            hinge_n_m: self.hinge_n_m * factor,
            azimuth_n_m: self.azimuth_n_m * factor,
            normal_pa: self.normal_pa * factor,
        }
    }

    /// Overturning moment at a depth below the mirror's centre.
    #[must_use]
    pub const fn overturning_n_m(&self, depth_m: f64) -> f64 {
        self.drag_n * depth_m + self.hinge_n_m
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Mean pressure at 1.5 m by the power law U = U10(z/10)^0.15 at 1.225 kg/m3.
    fn power_law_pressure_pa(speed_m_s: f64, height_m: f64) -> f64 {
        let local_m_s = speed_m_s * libm::pow(height_m / 10.0, 0.15);
        0.5 * 1.225 * local_m_s * local_m_s
    }

    /// Power law, exponent 0.15 (from memory): 0.752, 0.786, 0.835, 0.901 at 1.5, 2, 3, 5 m; then a
    /// 2 × 2 m mirror with its axis at 1.5 m (computed from the coefficients).
    #[test]
    fn loads_on_a_two_metre_mirror() {
        for (height_m, ratio) in [(1.5, 0.752), (2.0, 0.786), (3.0, 0.835), (5.0, 0.901)] {
            assert!((libm::pow(height_m / 10.0, 0.15) / ratio - 1.0).abs() < 1e-3);
        }
        let peak = Coefficients::OPERATING_PEAK;
        for (coefficients, speed_m_s, expected) in [
            (peak, 12.0, [49.9, 799.0, 559.0, 240.0, 280.0]),
            (peak, 22.0, [167.8, 2685.0, 1879.0, 805.0, 940.0]),
            (
                Coefficients::STOW_PEAK,
                40.0,
                [554.7, 1331.0, 1997.0, 888.0, 89.0],
            ),
        ] {
            let pressure_pa = power_law_pressure_pa(speed_m_s, 1.5);
            let load = coefficients.load(pressure_pa, 2.0);
            let found = [
                pressure_pa,
                load.drag_n,
                load.lift_n,
                load.hinge_n_m,
                load.azimuth_n_m,
            ];
            for (value, table) in found.iter().zip(expected) {
                assert!((value / table - 1.0).abs() < 4e-3, "{value} {table}");
            }
        }
    }

    /// Wind-tunnel pressure tests (Emes et al., abstract): the operating hinge moment stays below the
    /// stow moment at 40 m/s up to gusts of 29–33 m/s.
    #[test]
    fn moments_in_operation_stay_below_those_in_stow() {
        let stow = Coefficients::STOW_PEAK.load(power_law_pressure_pa(40.0, 1.5), 2.0);
        let gust_m_s = 29.0;
        let operating = Coefficients::OPERATING_PEAK;
        let mean_m_s = gust_m_s / 1.6;
        let load = operating.load(power_law_pressure_pa(mean_m_s, 1.5), 2.0);
        assert!(load.hinge_n_m < stow.hinge_n_m);
    }

    #[test]
    fn caution_rises_as_mirrors_shrink_and_tilt_raises_stow_loads() {
        assert_eq!(small_chord_caution(4.0), 1.0);
        assert!(small_chord_caution(0.9) > small_chord_caution(1.5));
        assert_eq!(small_chord_caution(0.3), 2.0);
        assert_eq!(Coefficients::stow_tilted(0.0), Coefficients::STOW_PEAK);
        assert!(Coefficients::stow_tilted(0.1).hinge > Coefficients::STOW_PEAK.hinge);
    }
}
