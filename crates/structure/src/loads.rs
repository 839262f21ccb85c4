//! Wind loads on one mirror, alone or among others.

use crate::Wind;

/// Force and moment coefficients of a mirror about as wide as high: force = c·q·area, moment =
/// c·q·area·height, with the mean dynamic pressure q at the mirror's centre.
///
/// Peterka & Derickson 1992, SAND92-7009 (isolated mirror, open terrain, turbulence up to 18 %;
/// values from memory). Peak values contain the gusts. The method was laid down for large mirrors.
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

    /// Mirror horizontal, mean.
    pub const STOW_MEAN: Self = Self {
        drag: 0.1,
        lift: 0.1,
        hinge: 0.02,
        azimuth: 0.0,
    };

    /// Turbulence at which the peak values were measured.
    const MEASURED_TURBULENCE: f64 = 0.18;

    /// Loads at a mean dynamic pressure on a mirror of this area and height.
    #[must_use]
    pub fn load(&self, pressure_pa: f64, face: Face) -> MirrorLoad {
        let force_n = pressure_pa * face.area_m2;
        MirrorLoad {
            drag_n: self.drag * force_n,
            lift_n: self.lift * force_n,
            hinge_n_m: self.hinge * force_n * face.chord_m,
            azimuth_n_m: self.azimuth * force_n * face.chord_m,
            normal_pa: self.drag.max(self.lift) * pressure_pa,
        }
    }

    fn each(&self, other: &Self, of: impl Fn(f64, f64) -> f64) -> Self {
        Self {
            drag: of(self.drag, other.drag),
            lift: of(self.lift, other.lift),
            hinge: of(self.hinge, other.hinge),
            azimuth: of(self.azimuth, other.azimuth),
        }
    }

    /// All coefficients times a factor.
    #[must_use]
    pub fn scaled(&self, factor: f64) -> Self {
        self.each(self, |own, _| own * factor)
    }

    /// Coefficients of a mirror left tilted by an angle in stow: between stow and operating with the
    /// sine of the tilt (our interpolation, no source).
    fn tilted(&self, operating: &Self, tilt_rad: f64) -> Self {
        let share = libm::sin(tilt_rad.abs());
        self.each(operating, |stow, upright| stow + (upright - stow) * share)
    }

    /// Peaks of many mirrors together, of which they share the mean wholly and this share of what
    /// stands above it.
    fn together(&self, mean: &Self, share: f64) -> Self {
        self.each(mean, |peak, mean| mean + (peak - mean) * share)
    }
}

/// What a mirror turns to the wind: its area, and its height square to the horizontal axis.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Face {
    /// Area.
    pub area_m2: f64,
    /// Height.
    pub chord_m: f64,
}

impl Face {
    /// A square.
    #[must_use]
    pub const fn square(side_m: f64) -> Self {
        Self {
            area_m2: side_m * side_m,
            chord_m: side_m,
        }
    }
}

/// Rise of stow loads as mirrors become smaller than the gusts, √(3 m/height) between 1 and a limit.
/// Measured peaks grow as the chord shrinks against the gusts' length, about doubling for half the
/// chord in one reading (after Emes, second-hand); the law is ours, no source.
///
/// Where a gust covers the whole mirror, theory ends the rise: a square plate lifts by π/2 for each
/// radian of incidence (slender wing), gusts stand 3.5 × I/2 aslant, so the lift is at most
/// 2.75·I·(1 + 7I) times the mean pressure: 1.12 at a turbulence of 0.18 against the 0.9 measured
/// there, 1.24 times as much.
#[must_use]
pub fn small_chord_rise(chord_m: f64, limit: f64) -> f64 {
    (3.0 / chord_m).sqrt().min(limit).max(1.0)
}

/// What of the wind reaches a mirror, alone or one of many.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Exposed {
    /// Height of its centre.
    pub height_m: f64,
    /// Tilt that it is left with in stow.
    pub stow_tilt_rad: f64,
    /// Greatest rise of stow loads of small mirrors; see [`small_chord_rise`].
    pub small_chord_limit: f64,
    /// Load over that on a lone mirror while neighbours stand upright too; stowed ones give no lee.
    pub shelter: f64,
    /// Share of the scatter about the mean that all mirrors looked at see at once; 1 for one mirror.
    pub together: f64,
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

    /// Peak load on one mirror, or on each of many at once.
    ///
    /// The published peaks stand for gusts at 18 % turbulence. Those of mirrors in any position are
    /// carried over to this height by the ratio of gust pressures; those of stowed mirrors, which a
    /// gust meets aslant, by the ratio of turbulence as well, and they rise for small chords.
    #[must_use]
    pub fn mirror_load(self, wind: &Wind, face: Face, exposed: &Exposed) -> MirrorLoad {
        let gust_pa = wind.gust_pressure_pa(self.speed_m_s(wind), exposed.height_m);
        let pressure_pa = gust_pa / (1.0 + 7.0 * Coefficients::MEASURED_TURBULENCE);
        let (peak, mean) = (Coefficients::OPERATING_PEAK, Coefficients::OPERATING_MEAN);
        match self {
            Self::Operate | Self::DriveToStow => peak
                .together(&mean, exposed.together)
                .load(exposed.shelter * pressure_pa, face),
            Self::Survive => {
                let turbulence = wind.turbulence(exposed.height_m);
                let rise = small_chord_rise(face.chord_m, exposed.small_chord_limit)
                    * (turbulence / Coefficients::MEASURED_TURBULENCE).max(1.0);
                let level = Coefficients::STOW_PEAK.scaled(rise);
                let tilted = level.tilted(&peak, exposed.stow_tilt_rad);
                let mean = Coefficients::STOW_MEAN.tilted(&mean, exposed.stow_tilt_rad);
                tilted
                    .together(&mean, exposed.together)
                    .load(pressure_pa, face)
            }
        }
    }
}

/// Share of the wind's scatter that mirrors in a row see at once: the root of the mean of
/// e^(−distance/gust width) over all pairs.
#[must_use]
pub fn gust_share(mirrors: usize, pitch_m: f64, gust_width_m: f64) -> f64 {
    let count = mirrors as f64;
    let fall = libm::exp(-pitch_m / gust_width_m);
    let (pairs, _) = (1..mirrors).fold((0.0, fall), |(sum, reach), apart| {
        (sum + (count - apart as f64) * reach, reach * fall)
    });
    (count + 2.0 * pairs).sqrt() / count
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
    use crate::{Terrain, WindCode};

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
            let load = coefficients.load(pressure_pa, Face::square(2.0));
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
        let face = Face::square(2.0);
        let stow = Coefficients::STOW_PEAK.load(power_law_pressure_pa(40.0, 1.5), face);
        let gust_m_s = 29.0;
        let operating = Coefficients::OPERATING_PEAK;
        let mean_m_s = gust_m_s / 1.6;
        let load = operating.load(power_law_pressure_pa(mean_m_s, 1.5), face);
        assert!(load.hinge_n_m < stow.hinge_n_m);
    }

    const LONE: Exposed = Exposed {
        height_m: 1.5,
        stow_tilt_rad: 0.0,
        small_chord_limit: 1.24,
        shelter: 1.0,
        together: 1.0,
    };

    const WIND: Wind = Wind {
        code: WindCode::En1991,
        terrain: Terrain::OPEN,
        air_density_kg_m3: 1.2,
        operate_m_s: 12.0,
        drive_to_stow_m_s: 20.0,
        survive_m_s: 30.0,
        rms_operating_m_s: 5.0,
    };

    fn load(case: LoadCase, side_m: f64, exposed: Exposed) -> MirrorLoad {
        case.mirror_load(&WIND, Face::square(side_m), &exposed)
    }

    /// Slender-wing theory with gusts of 3.5 standard deviations, half as strong upwards as along:
    /// π/2·3.5·I/2·(1 + 7I) is 1.12 at 18 %, and is what the limit leaves of any small mirror's lift.
    #[test]
    fn stow_lift_never_passes_that_of_a_plate_in_one_gust() {
        let bound = |turbulence: f64| {
            std::f64::consts::PI / 4.0 * 3.5 * turbulence * (1.0 + 7.0 * turbulence)
        };
        assert!((bound(0.18) - 1.12).abs() < 5e-3);
        let turbulence = WIND.turbulence(1.5);
        let mean_pa = WIND.mean_pressure_pa(30.0, 1.5);
        let lift = load(LoadCase::Survive, 0.5, LONE).lift_n / (0.25 * mean_pa);
        assert!((lift / bound(turbulence) - 1.0).abs() < 0.01, "{lift}");
    }

    #[test]
    fn stow_loads_rise_as_mirrors_shrink_and_with_tilt() {
        assert_eq!(small_chord_rise(4.0, 2.0), 1.0);
        assert!(small_chord_rise(0.9, 2.0) > small_chord_rise(1.5, 2.0));
        assert_eq!(small_chord_rise(0.3, 2.0), 2.0);
        let tilted = Exposed {
            stow_tilt_rad: 0.1,
            ..LONE
        };
        let hinge = |exposed| load(LoadCase::Survive, 1.0, exposed).hinge_n_m;
        assert!(hinge(tilted) > hinge(LONE));
    }

    /// Neighbours shelter one another while they stand upright, not when they lie in stow.
    #[test]
    fn lee_counts_only_while_mirrors_stand() {
        let inner = Exposed {
            shelter: 0.6,
            ..LONE
        };
        for case in [LoadCase::Operate, LoadCase::DriveToStow] {
            let ratio = load(case, 1.0, inner).drag_n / load(case, 1.0, LONE).drag_n;
            assert!((ratio - 0.6).abs() < 1e-12);
        }
        assert_eq!(
            load(LoadCase::Survive, 1.0, inner),
            load(LoadCase::Survive, 1.0, LONE)
        );
    }

    /// One mirror sees all; two far apart scatter independently (1/√2); fifteen 1.2 m apart under
    /// gusts 5 m wide see √(2L/D·(1 − L/D·(1 − e^(−D/L)))) of them, the integral over a row 18 m long:
    /// 0.635.
    #[test]
    fn long_rows_share_less_of_a_gust() {
        assert_eq!(gust_share(1, 1.2, 5.0), 1.0);
        assert!((gust_share(2, 1e3, 5.0) - 0.5f64.sqrt()).abs() < 1e-12);
        assert!((gust_share(9, 1e-9, 5.0) - 1.0).abs() < 1e-9);
        assert!((gust_share(15, 1.2, 5.0) - 0.635).abs() < 0.01);
        let many = Exposed {
            together: 0.5,
            ..LONE
        };
        // Peaks 0.6 and means 0.25 of the hinge.
        let ratio = load(LoadCase::Operate, 1.0, many).hinge_n_m
            / load(LoadCase::Operate, 1.0, LONE).hinge_n_m;
        assert!((ratio - (0.25 + 0.5 * 0.35) / 0.6).abs() < 1e-12);
    }
}
