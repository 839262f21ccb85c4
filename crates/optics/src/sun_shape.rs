//! How bright the sun is from its middle outwards, made ready for the kernel.

use thiserror::Error;

/// Edge of the sun's disc, seen from the mean distance [rad]: asin(695,700 km ÷ 1 au).
pub const DISC_RAD: f64 = 4.65e-3;
/// Brightness of shapes without closed form is added up over rings of this width [rad]; the disc's
/// edge lies between two of them.
const RING_RAD: f64 = 5e-5;
/// How many rings the disc has.
const DISC_RINGS: usize = 93;
/// How many rings are added up altogether: 60 mrad, of which a measured table may fill all.
const RINGS: usize = 1200;
/// Edge of the aureole in the model of Buie et al. [mrad].
const BUIE_EDGE_MRAD: f64 = 43.6;
/// Light of the disc in the model of Buie et al., ∫ φ·θ dθ [mrad²], by quadrature.
const BUIE_DISC_MRAD2: f64 = 57.960_750 / std::f64::consts::TAU;
/// Largest share of light in the aureole for which that model is used.
const MOST_CIRCUMSOLAR: f64 = 0.4;
/// Spread, for each axis, of the two bell curves that stand for an aureole [rad]. Of all pairs
/// these come closest to the light enclosed by circles of 6 to 60 mrad, for aureoles that hold 2 to 30 % of all light:
/// within 1.1 % of the aureole's light root mean square, at most 4.5 % of it, at 6 mrad. A third
/// bell curve would halve that.
const GLOW_RAD: [f64; 2] = [6.5e-3, 17.5e-3];
/// Rings whose outer edges the fit of an aureole looks at: 6 mrad and outwards, each 4 % further.
const FIT_FROM_RING: f64 = 120.0;
const FIT_STEP: f64 = 1.04;

/// How the sun's light is spread about its middle. Angles in rad.
#[derive(Clone, Debug, PartialEq)]
pub enum SunShape {
    /// Evenly bright disc.
    Disc {
        /// Angular radius.
        radius_rad: f64,
    },
    /// Disc that darkens towards its limb, 1 − 0.5138·(θ/radius)⁴ (Kuiper's limb darkening as
    /// Vant-Hull uses it; from memory).
    LimbDarkened {
        /// Angular radius.
        radius_rad: f64,
    },
    /// Bell curve about both axes.
    Gaussian {
        /// Standard deviation for each axis.
        rms_rad: f64,
    },
    /// Disc and aureole of Buie, Monger and Dey, "Sunshape distributions for terrestrial solar
    /// simulations", Solar Energy 74 (2003) 113–122 (constants from memory), to 43.6 mrad.
    Buie {
        /// Share of all light that the aureole then holds, 0 … 0.4; the model's own parameter χ,
        /// which differs from it, is found from this.
        circumsolar_ratio: f64,
    },
    /// Measured brightness, joined by straight lines; nothing beyond the last angle. What comes
    /// from beyond 4.65 mrad is taken for aureole.
    Table {
        /// Angles from the middle, rising from 0 to at most 0.06.
        angle_rad: Vec<f64>,
        /// Brightness at each angle, in any unit.
        brightness: Vec<f64>,
    },
}

/// A sun shape from which nothing can be computed.
#[derive(Clone, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum SunShapeError {
    /// A radius or spread that is not positive.
    #[error("a sun of {0} rad has no size; give a positive angle")]
    NoSize(f64),
    /// A share of circumsolar light out of range.
    #[error("circumsolar light is {0} of all light; the model holds from 0 to {MOST_CIRCUMSOLAR}")]
    Circumsolar(f64),
    /// Columns of different length, or too short.
    #[error(
        "the table has {angles} angles and {values} values; give as many of both, at least two"
    )]
    TableLength {
        /// How many angles.
        angles: usize,
        /// How many values of brightness.
        values: usize,
    },
    /// An angle out of order or out of range.
    #[error("the table's angle {0} rad must be above the one before, from 0 to 0.06 rad")]
    TableAngle(f64),
    /// A brightness that cannot be, or none at all.
    #[error("the table's brightness {0} must not be negative, and not all may be 0")]
    TableBrightness(f64),
}

/// A sun shape made ready for the kernel: a compact core, known by its cumulants, and two bell
/// curves for what light the aureole spreads.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SunBlur {
    /// Share of the light that the core holds.
    pub(crate) core_share: f32,
    /// Variance of the core for each axis.
    pub(crate) core_rad2: f32,
    /// Fourth cumulant of the core along an axis ÷ its variance²: −1 for an even disc, 0 for a
    /// bell curve.
    pub(crate) core_excess: f32,
    pub(crate) aureole: [Glow; GLOW_RAD.len()],
}

/// A round bell curve of light.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Glow {
    /// Share of all light; may be a little below nothing, to take some of the other's away.
    pub share: f32,
    /// Variance for each axis.
    pub rad2: f32,
}

impl Glow {
    const fn none(rms_rad: f64) -> Self {
        Self {
            share: 0.0,
            rad2: (rms_rad * rms_rad) as f32,
        }
    }
}

impl SunShape {
    /// Makes the shape ready for the kernel.
    ///
    /// # Errors
    /// [`SunShapeError`] if the shape has no size or no light or breaks the limits of its model.
    pub fn blur(&self) -> Result<SunBlur, SunShapeError> {
        match self {
            Self::Disc { radius_rad } => {
                Ok(SunBlur::compact(limbed_moments(sized(*radius_rad)?, 0.0)))
            }
            Self::LimbDarkened { radius_rad } => Ok(SunBlur::compact(limbed_moments(
                sized(*radius_rad)?,
                0.5138,
            ))),
            Self::Gaussian { rms_rad } => {
                let rad2 = sized(*rms_rad)? * rms_rad;
                Ok(SunBlur::compact([2.0 * rad2, 8.0 * rad2 * rad2]))
            }
            Self::Buie { circumsolar_ratio } => {
                let aureole = BuieAureole::new(*circumsolar_ratio)?;
                let brightness = |angle_rad: f64| aureole.brightness(1e3 * angle_rad);
                Ok(SunBlur::with_aureole(&Rings::new(brightness)))
            }
            Self::Table {
                angle_rad,
                brightness,
            } => {
                check_table(angle_rad, brightness)?;
                let rings = Rings::new(|angle| interpolated(angle_rad, brightness, angle));
                Ok(SunBlur::with_aureole(&rings))
            }
        }
    }
}

fn sized(angle_rad: f64) -> Result<f64, SunShapeError> {
    if angle_rad > 0.0 && angle_rad.is_finite() {
        Ok(angle_rad)
    } else {
        Err(SunShapeError::NoSize(angle_rad))
    }
}

/// Means of r² and r⁴ over a disc as bright as 1 − `darkening`·(r/radius)⁴.
fn limbed_moments(radius_rad: f64, darkening: f64) -> [f64; 2] {
    let radius2 = radius_rad * radius_rad;
    let light = 1.0 / 2.0 - darkening / 6.0;
    [
        radius2 * (1.0 / 4.0 - darkening / 8.0) / light,
        radius2 * radius2 * (1.0 / 6.0 - darkening / 10.0) / light,
    ]
}

impl SunBlur {
    /// An even disc of 4.65 mrad: half the radius for each axis.
    pub const EVEN_DISC: Self = Self {
        core_share: 1.0,
        core_rad2: (0.25 * DISC_RAD * DISC_RAD) as f32,
        core_excess: -1.0,
        aureole: [Glow::none(GLOW_RAD[0]), Glow::none(GLOW_RAD[1])],
    };

    /// All light in the core; means of r² and r⁴ given. Along one axis of a round spread the mean
    /// of x² is half that of r², of x⁴ three eighths that of r⁴.
    fn compact([radius2, radius4]: [f64; 2]) -> Self {
        let core_rad2 = 0.5 * radius2;
        Self {
            core_share: 1.0,
            core_rad2: core_rad2 as f32,
            core_excess: (0.375 * radius4 / (core_rad2 * core_rad2) - 3.0) as f32,
            aureole: GLOW_RAD.map(Glow::none),
        }
    }

    fn with_aureole(rings: &Rings) -> Self {
        let disc = rings.sums(0, DISC_RINGS);
        let aureole = rings.sums(DISC_RINGS, RINGS);
        let all = disc.light + aureole.light;
        let light = disc.light.max(f64::MIN_POSITIVE);
        let mut blur = Self::compact([disc.radius2 / light, disc.radius4 / light]);
        blur.core_share = (disc.light / all) as f32;
        let narrow = rings.narrow_share(aureole.light) / all;
        blur.aureole[0].share = narrow as f32;
        blur.aureole[1].share = (aureole.light / all - narrow) as f32;
        blur
    }

    pub(crate) fn has_aureole(&self) -> bool {
        self.core_share < 1.0
    }
}

/// Light of each ring about the sun's middle.
struct Rings {
    light: Vec<f64>,
}

/// Light of some rings, and its sums with r² and r⁴.
#[derive(Default)]
struct RingSums {
    light: f64,
    radius2: f64,
    radius4: f64,
}

impl Rings {
    fn new(brightness: impl Fn(f64) -> f64) -> Self {
        let middle_rad = |ring: usize| (ring as f64 + 0.5) * RING_RAD;
        Self {
            light: (0..RINGS)
                .map(|ring| brightness(middle_rad(ring)) * middle_rad(ring))
                .collect(),
        }
    }

    fn sums(&self, from: usize, to: usize) -> RingSums {
        let mut sums = RingSums::default();
        for (ring, light) in self.light.iter().enumerate().take(to).skip(from) {
            let middle_rad = (ring as f64 + 0.5) * RING_RAD;
            let radius2 = middle_rad * middle_rad;
            sums.light += light;
            sums.radius2 += light * radius2;
            sums.radius4 += light * radius2 * radius2;
        }
        sums
    }

    /// How much of the aureole's light the narrower bell curve takes, by least squares of the light
    /// that circles enclose; the wider one takes the rest.
    fn narrow_share(&self, aureole_light: f64) -> f64 {
        let (mut upper, mut lower) = (0.0, 0.0);
        let (mut enclosed, mut ring, mut looked_at) = (0.0, DISC_RINGS, FIT_FROM_RING);
        while ring < RINGS {
            enclosed += self.light[ring];
            ring += 1;
            if ring as f64 >= looked_at {
                looked_at *= FIT_STEP;
                let [narrow, wide] = GLOW_RAD.map(|rms_rad| {
                    let reach = ring as f64 * RING_RAD / rms_rad;
                    1.0 - libm::exp(-0.5 * reach * reach)
                });
                upper += (narrow - wide) * (enclosed - aureole_light * wide);
                lower += (narrow - wide) * (narrow - wide);
            }
        }
        upper / lower
    }
}

/// The law of Buie et al. beyond the disc, exp(κ)·θ^γ with θ in mrad.
struct BuieAureole {
    kappa: f64,
    gamma: f64,
}

impl BuieAureole {
    /// The one that holds `ratio` of all light: χ by halving.
    fn new(ratio: f64) -> Result<Self, SunShapeError> {
        if !(0.0..=MOST_CIRCUMSOLAR).contains(&ratio) {
            return Err(SunShapeError::Circumsolar(ratio));
        }
        let (mut low, mut high) = (1e-3, 0.7);
        for _ in 0..60 {
            let chi = 0.5 * (low + high);
            let light = Self::of(chi).light_mrad2();
            if light < ratio * (light + BUIE_DISC_MRAD2) {
                low = chi;
            } else {
                high = chi;
            }
        }
        Ok(Self::of(low))
    }

    fn of(chi: f64) -> Self {
        Self {
            kappa: 0.9 * libm::log(13.5 * chi) * libm::pow(chi, -0.3),
            gamma: 2.2 * libm::log(0.52 * chi) * libm::pow(chi, 0.43) - 0.1,
        }
    }

    /// ∫ φ·θ dθ from the disc's edge to the aureole's. γ + 2 is nothing nowhere below χ = 0.7 that
    /// a halving could meet exactly.
    fn light_mrad2(&self) -> f64 {
        let power = self.gamma + 2.0;
        let reach = libm::pow(BUIE_EDGE_MRAD, power) - libm::pow(1e3 * DISC_RAD, power);
        libm::exp(self.kappa) * reach / power
    }

    /// Brightness of disc and aureole.
    fn brightness(&self, angle_mrad: f64) -> f64 {
        if angle_mrad <= 1e3 * DISC_RAD {
            libm::cos(0.326 * angle_mrad) / libm::cos(0.308 * angle_mrad)
        } else if angle_mrad <= BUIE_EDGE_MRAD {
            libm::exp(self.kappa) * libm::pow(angle_mrad, self.gamma)
        } else {
            0.0
        }
    }
}

fn check_table(angle_rad: &[f64], brightness: &[f64]) -> Result<(), SunShapeError> {
    let (angles, values) = (angle_rad.len(), brightness.len());
    if angles != values || angles < 2 {
        return Err(SunShapeError::TableLength { angles, values });
    }
    let farthest_rad = RINGS as f64 * RING_RAD;
    let mut before = -f64::MIN_POSITIVE;
    for &angle in angle_rad {
        if !(angle > before && angle <= farthest_rad) {
            return Err(SunShapeError::TableAngle(angle));
        }
        before = angle;
    }
    if let Some(&wrong) = brightness
        .iter()
        .find(|value| !(**value >= 0.0 && value.is_finite()))
    {
        return Err(SunShapeError::TableBrightness(wrong));
    }
    if brightness.iter().all(|&value| value == 0.0) {
        return Err(SunShapeError::TableBrightness(0.0));
    }
    Ok(())
}

/// Straight lines between points; before the first its own brightness, beyond the last nothing.
fn interpolated(angle_rad: &[f64], brightness: &[f64], angle: f64) -> f64 {
    let above = angle_rad.partition_point(|&tabled| tabled < angle);
    if above == 0 {
        return brightness[0];
    }
    if above == angle_rad.len() {
        return 0.0;
    }
    let share = (angle - angle_rad[above - 1]) / (angle_rad[above] - angle_rad[above - 1]);
    brightness[above - 1] + share * (brightness[above] - brightness[above - 1])
}

#[cfg(test)]
mod tests {
    use book::Check;

    use super::*;

    fn blur(shape: &SunShape) -> SunBlur {
        shape.blur().unwrap()
    }

    #[test]
    fn cores_spread_as_their_second_moments_say() {
        let even = SunShape::Disc {
            radius_rad: DISC_RAD,
        };
        let limb = SunShape::LimbDarkened {
            radius_rad: DISC_RAD,
        };
        assert_eq!(blur(&even), SunBlur::EVEN_DISC);
        let buie = SunShape::Buie {
            circumsolar_ratio: 0.05,
        };
        let table = [
            (even, 2.325),
            (limb, 2.2016),
            (buie, 2.220_353),
            (SunShape::Gaussian { rms_rad: 2.5e-3 }, 2.5),
        ];
        Check {
            id: "optics.sun_spread",
            model: "Spread of the sun's disc",
            equation: "σ² = ∫ θ³ B dθ ÷ (2 ∫ θ B dθ), B its brightness",
            source: "second moment; Buie et al. 2003, Solar Energy 74, for one of the discs (constants from memory)",
            validity: "even, limb-darkened, tabled and Buie's discs of 4.65 mrad, bell curves",
            against: "closed forms and quadratures of the same laws, four discs",
            unit: "mrad",
        }
        .within(
            1e-4,
            table.map(|(shape, spread_mrad)| {
                (spread_mrad, 1e3 * f64::from(blur(&shape).core_rad2).sqrt())
            }),
        );
        assert!(
            blur(&SunShape::Gaussian { rms_rad: 1e-3 })
                .core_excess
                .abs()
                < 1e-6
        );
    }

    /// χ, κ, γ and realised share in the aureole, computed once by quadrature from the law of Buie
    /// et al. 2003 (constants from memory); brightness of its disc at 2, 4, 4.5 and 4.65 mrad.
    #[test]
    fn law_of_disc_and_aureole() {
        for (chi, kappa, gamma, ratio) in [
            (0.01, -7.174_817, -1.697_106, 0.000_42),
            (0.02, -3.810_515, -1.968_085, 0.005_81),
            (0.03, -2.329_224, -2.126_417, 0.016_66),
            (0.05, -0.868_943, -2.314_277, 0.043_13),
            (0.10, 0.538_909, -2.516_586, 0.100_27),
            (0.20, 1.448_748, -2.592_413, 0.187_14),
            (0.30, 1.806_492, -2.535_606, 0.274_26),
            (0.40, 1.997_951, -2.429_529, 0.372_65),
        ] {
            let aureole = BuieAureole::of(chi);
            let light = aureole.light_mrad2();
            assert!((aureole.kappa - kappa).abs() < 1e-6, "{chi}");
            assert!((aureole.gamma - gamma).abs() < 1e-6, "{chi}");
            let found = light / (light + BUIE_DISC_MRAD2);
            assert!((found - ratio).abs() < 6e-6, "{chi}: {found}");
        }
        let law = BuieAureole::of(0.05);
        for (angle_mrad, brightness) in [
            (2.0, 0.973_874),
            (4.0, 0.793_263),
            (4.5, 0.563_875),
            (4.65, 0.397_159),
        ] {
            let found = law.brightness(f64::min(angle_mrad, 1e3 * DISC_RAD));
            assert!((found - brightness).abs() < 1e-6, "{angle_mrad}");
        }
    }

    /// Spread for each axis of two more laws of the limb, tabled: 0.36 + 0.84·μ − 0.20·μ² (Jose,
    /// 1957, from memory) 2.21066 mrad, and 0.4 + 0.6·μ 2.20569 mrad, with μ = √(1 − (θ/4.65 mrad)²),
    /// by quadrature. Nearest to the edge, where brightness falls steeply, lines lie close together;
    /// rings of 0.05 mrad are good to 0.0003 there.
    #[test]
    fn tabled_limbs_spread_as_their_second_moments_say() {
        let shares: Vec<f64> = (0..=400)
            .map(|step| {
                let left = 1.0 - f64::from(step) / 400.0;
                1.0 - left * left
            })
            .collect();
        let tabled = |law: &dyn Fn(f64) -> f64| SunShape::Table {
            angle_rad: shares.iter().map(|share| DISC_RAD * share).collect(),
            brightness: shares
                .iter()
                .map(|share| law((1.0 - share * share).sqrt()))
                .collect(),
        };
        let jose = tabled(&|mu| 0.36 + mu * (0.84 - 0.20 * mu));
        let linear = tabled(&|mu| 0.4 + 0.6 * mu);
        for (shape, spread_mrad) in [(jose, 2.210_66), (linear, 2.205_69)] {
            let blur = blur(&shape);
            let found_mrad = 1e3 * f64::from(blur.core_rad2).sqrt();
            assert!((found_mrad - spread_mrad).abs() < 3e-4, "{found_mrad}");
            assert!(!blur.has_aureole());
        }
    }

    #[test]
    fn chi_for_a_wanted_circumsolar_ratio() {
        let table = [
            (0.02, 0.03263),
            (0.05, 0.05527),
            (0.10, 0.09973),
            (0.20, 0.21538),
            (0.30, 0.32737),
        ];
        Check {
            id: "optics.aureole_fall",
            model: "Fall of the aureole's brightness with angle",
            equation: "B = e^κ θ^γ, γ = 2.2 ln(0.52 χ) χ^0.43 − 0.1",
            source: "Buie et al. 2003, Solar Energy 74 (constants from memory)",
            validity: "4.65 to 43.6 mrad, 1 to 40 % of the light in the aureole",
            against: "χ for five wanted shares of light, by quadrature of the same law",
            unit: "",
        }
        .within(
            2e-4,
            table.map(|(ratio, chi)| {
                let found = BuieAureole::new(ratio).unwrap();
                (BuieAureole::of(chi).gamma, found.gamma)
            }),
        );
    }

    /// The aureole holds its share, and its bell curves enclose about what the power law encloses.
    #[test]
    fn bell_curves_stand_for_the_aureole() {
        for ratio in [0.02, 0.05, 0.1, 0.2, 0.3] {
            let shape = SunShape::Buie {
                circumsolar_ratio: ratio,
            };
            let blur = blur(&shape);
            let held: f64 = blur.aureole.iter().map(|glow| f64::from(glow.share)).sum();
            let all = f64::from(blur.core_share) + held;
            assert!((held - ratio).abs() < 1e-4 && (all - 1.0).abs() < 1e-6);
            let power = BuieAureole::new(ratio).unwrap().gamma + 2.0;
            let law = |mrad: f64| libm::pow(mrad, power) - libm::pow(4.65, power);
            for circle_mrad in [7.0, 10.0, 15.0, 20.0, 30.0, 40.0] {
                let enclosed: f64 = blur
                    .aureole
                    .iter()
                    .map(|glow| {
                        let reach2 = 1e-6 * circle_mrad * circle_mrad / f64::from(glow.rad2);
                        f64::from(glow.share) * (1.0 - libm::exp(-0.5 * reach2))
                    })
                    .sum();
                let exact = ratio * law(circle_mrad) / law(43.6);
                assert!(
                    (enclosed - exact).abs() < 0.02 * ratio,
                    "{ratio} {circle_mrad}: {enclosed} {exact}"
                );
            }
        }
    }

    /// A table that follows a law gives what the law gives, but for the disc's edge, which straight
    /// lines soften.
    #[test]
    fn a_table_is_as_good_as_its_law() {
        let shape = SunShape::Buie {
            circumsolar_ratio: 0.1,
        };
        let law = BuieAureole::new(0.1).unwrap();
        let angle_rad: Vec<f64> = (0..=1000).map(|step| f64::from(step) * 5e-5).collect();
        let brightness = angle_rad
            .iter()
            .map(|angle| law.brightness(1e3 * angle))
            .collect();
        let table = SunShape::Table {
            angle_rad,
            brightness,
        };
        let (tabled, exact) = (blur(&table), blur(&shape));
        assert!((tabled.core_share - exact.core_share).abs() < 1e-3);
        assert!((tabled.core_rad2 / exact.core_rad2 - 1.0).abs() < 1e-2);
        assert!((tabled.aureole[0].share - exact.aureole[0].share).abs() < 1e-3);
    }

    #[test]
    fn impossible_suns_are_refused() {
        let table = |angle_rad: &[f64], brightness: &[f64]| {
            SunShape::Table {
                angle_rad: angle_rad.to_vec(),
                brightness: brightness.to_vec(),
            }
            .blur()
        };
        assert_eq!(
            SunShape::Disc { radius_rad: 0.0 }.blur(),
            Err(SunShapeError::NoSize(0.0))
        );
        let hazy = SunShape::Buie {
            circumsolar_ratio: 0.5,
        };
        assert_eq!(hazy.blur(), Err(SunShapeError::Circumsolar(0.5)));
        assert_eq!(
            table(&[0.0], &[1.0]),
            Err(SunShapeError::TableLength {
                angles: 1,
                values: 1
            })
        );
        assert_eq!(
            table(&[0.0, 0.0], &[1.0, 1.0]),
            Err(SunShapeError::TableAngle(0.0))
        );
        assert_eq!(
            table(&[0.0, 0.004], &[1.0, -1.0]),
            Err(SunShapeError::TableBrightness(-1.0))
        );
        assert_eq!(
            table(&[0.0, 0.004], &[0.0, 0.0]),
            Err(SunShapeError::TableBrightness(0.0))
        );
    }
}
