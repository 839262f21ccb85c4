//! How bright the sun is from its middle outwards, and points drawn from it.

use geometry::{LANES, Lane};

use crate::draw::{MOST_BELL, bell, on_circle, unit};
use crate::error::RaysError;
use crate::philox::Words;

/// Edge of the disc in the model of Buie et al. [rad].
const BUIE_DISC_RAD: f64 = 4.65e-3;
/// Edge of the aureole in the model of Buie et al. [rad].
const BUIE_EDGE_RAD: f64 = 43.6e-3;
/// Bits of a random number that tell the share; the others tell where in it.
const SHARE_BITS: u32 = 12;
/// Equal shares of the light between which points of a drawn sun are tabled.
const SHARES: usize = 1 << SHARE_BITS;
/// Rings in which brightness is added up, inside and outside the disc each.
const RINGS: usize = 8192;

/// How the sun's light is spread about its middle. Angles in rad.
#[derive(Clone, Debug, PartialEq)]
pub enum SunShape {
    /// All light from one point.
    Point,
    /// Evenly bright disc.
    Disc {
        /// Angular radius.
        radius_rad: f64,
    },
    /// Disc that darkens towards its limb, 1 − 0.5138·(θ/radius)^4 (Kuiper's limb darkening as
    /// Vant-Hull uses it, from memory).
    LimbDarkened {
        /// Angular radius.
        radius_rad: f64,
    },
    /// Bell curve about both axes.
    Gaussian {
        /// Standard deviation for each axis.
        per_axis_rad: f64,
    },
    /// Disc and aureole of Buie, Monger and Dey, "Sunshape distributions for terrestrial solar
    /// simulations", Solar Energy 74 (2003) 113–122 (constants from memory), to 43.6 mrad.
    Buie {
        /// The model's χ; the share of light it puts in the aureole differs from χ by up to a
        /// tenth of it and more below 0.05, see [`SunShape::with_circumsolar_ratio`].
        chi: f64,
    },
    /// Measured brightness, joined by straight lines; nothing beyond the last angle.
    Table {
        /// Angles from the middle, rising from 0.
        angle_rad: Vec<f64>,
        /// Brightness at each angle, in any unit.
        brightness: Vec<f64>,
    },
}

impl SunShape {
    /// The shape of Buie et al. whose aureole holds this share of all light, 0.002 … 0.5: χ is
    /// found by halving.
    #[must_use]
    pub fn with_circumsolar_ratio(ratio: f64) -> Self {
        let (mut low, mut high) = (0.01, 0.7);
        for _ in 0..50 {
            let chi = 0.5 * (low + high);
            if (Self::Buie { chi }).circumsolar_ratio() < ratio {
                low = chi;
            } else {
                high = chi;
            }
        }
        Self::Buie { chi: low }
    }

    /// Share of the light that comes from beyond the disc's edge; nothing for other shapes than
    /// that of Buie et al.
    #[must_use]
    pub fn circumsolar_ratio(&self) -> f64 {
        match self {
            Self::Buie { .. } => {
                let disc = self.light_between(0.0, BUIE_DISC_RAD);
                let aureole = self.light_between(BUIE_DISC_RAD, BUIE_EDGE_RAD);
                aureole / (disc + aureole)
            }
            _ => 0.0,
        }
    }

    /// Brightness at an angle from the middle [rad], up to a common factor; nothing for a point.
    fn brightness(&self) -> Box<dyn Fn(f64) -> f64 + '_> {
        match self {
            Self::Point => Box::new(|_| 0.0),
            Self::Disc { radius_rad } => {
                Box::new(move |angle_rad| f64::from(angle_rad <= *radius_rad))
            }
            Self::LimbDarkened { radius_rad } => {
                Box::new(move |angle_rad| limb(angle_rad / radius_rad))
            }
            Self::Gaussian { per_axis_rad } => Box::new(move |angle_rad| {
                let share = angle_rad / per_axis_rad;
                libm::exp(-0.5 * share * share)
            }),
            Self::Buie { chi } => Box::new(buie(*chi)),
            Self::Table {
                angle_rad: tabled_rad,
                brightness,
            } => Box::new(move |angle_rad| on_lines(tabled_rad, brightness, angle_rad)),
        }
    }

    /// Refuses a table from which no point can be drawn.
    pub(crate) fn check(&self) -> Result<(), RaysError> {
        let Self::Table {
            angle_rad,
            brightness,
        } = self
        else {
            return Ok(());
        };
        let (angles, values) = (angle_rad.len(), brightness.len());
        let rises =
            angle_rad.first() == Some(&0.0) && angle_rad.windows(2).all(|pair| pair[0] < pair[1]);
        let shines = brightness
            .iter()
            .all(|value| (0.0..f64::INFINITY).contains(value))
            && brightness.iter().any(|value| *value > 0.0);
        if angles >= 2 && angles == values && rises && shines {
            Ok(())
        } else {
            Err(RaysError::SunTable { angles, values })
        }
    }

    /// Angles between which brightness has no jump, from 0 to the last light.
    fn edges(&self) -> Vec<f64> {
        match self {
            Self::Point | Self::Gaussian { .. } => vec![],
            Self::Disc { radius_rad } | Self::LimbDarkened { radius_rad } => vec![0.0, *radius_rad],
            Self::Buie { .. } => vec![0.0, BUIE_DISC_RAD, BUIE_EDGE_RAD],
            Self::Table { angle_rad, .. } => {
                vec![0.0, angle_rad.last().copied().unwrap_or_default()]
            }
        }
    }

    /// Light from each of [`RINGS`] rings of equal width, up to a common factor.
    fn rings(&self, from_rad: f64, to_rad: f64) -> Vec<f64> {
        let brightness = self.brightness();
        let step_rad = (to_rad - from_rad) / RINGS as f64;
        (0..RINGS)
            .map(|ring| from_rad + ring as f64 * step_rad)
            .map(|from_rad| {
                let to_rad = from_rad + step_rad;
                let area = to_rad * to_rad - from_rad * from_rad;
                brightness(0.5 * (from_rad + to_rad)) * area
            })
            .collect()
    }

    fn light_between(&self, from_rad: f64, to_rad: f64) -> f64 {
        self.rings(from_rad, to_rad).iter().sum()
    }
}

/// Straight lines between points; beyond the last nothing.
fn on_lines(at: &[f64], values: &[f64], x: f64) -> f64 {
    at.windows(2)
        .zip(values.windows(2))
        .find(|(span, _)| x <= span[1])
        .map_or(0.0, |(span, ends)| {
            ends[0] + (ends[1] - ends[0]) * (x - span[0]) / (span[1] - span[0])
        })
}

fn limb(share: f64) -> f64 {
    let squared = share * share;
    if squared <= 1.0 {
        1.0 - 0.5138 * squared * squared
    } else {
        0.0
    }
}

/// Brightness of the sun of Buie et al. at an angle; in mrad inside.
fn buie(chi: f64) -> impl Fn(f64) -> f64 {
    let kappa = 0.9 * libm::log(13.5 * chi) * libm::pow(chi, -0.3);
    let gamma = 2.2 * libm::log(0.52 * chi) * libm::pow(chi, 0.43) - 0.1;
    let edge = libm::exp(kappa);
    move |angle_rad| {
        let angle_mrad = 1e3 * angle_rad;
        if angle_rad <= BUIE_DISC_RAD {
            libm::cos(0.326 * angle_mrad) / libm::cos(0.308 * angle_mrad)
        } else if angle_rad <= BUIE_EDGE_RAD {
            edge * libm::pow(angle_mrad, gamma)
        } else {
            0.0
        }
    }
}

/// A sun shape made ready for drawing.
#[derive(Clone, Debug)]
pub(crate) enum SunPoints {
    Point,
    Gaussian(f64),
    /// Square of the angle within which each equal share of the light lies [rad²].
    Table(Box<[f64; SHARES + 1]>),
}

impl SunPoints {
    pub fn new(shape: &SunShape) -> Self {
        match shape {
            SunShape::Point => Self::Point,
            SunShape::Gaussian { per_axis_rad } => Self::Gaussian(*per_axis_rad),
            _ => Self::Table(squared_angles(shape, &shape.edges())),
        }
    }

    /// How far from its middle the sun gives light [rad].
    pub fn most_rad(&self) -> f64 {
        match self {
            Self::Point => 0.0,
            Self::Gaussian(per_axis_rad) => MOST_BELL * per_axis_rad,
            Self::Table(squares) => squares[SHARES].sqrt(),
        }
    }

    /// A point of the sun for each lane, as angles [rad] from its middle along two axes.
    #[inline(always)]
    pub fn draw(&self, radii: &Words, turns: &Words) -> [Lane; 2] {
        let mut points = [[0.0; LANES]; 2];
        match self {
            Self::Point => {}
            Self::Gaussian(per_axis_rad) => {
                for lane in 0..LANES {
                    let [a, b] = bell([radii[lane], turns[lane]]);
                    points[0][lane] = per_axis_rad * a;
                    points[1][lane] = per_axis_rad * b;
                }
            }
            Self::Table(squares) => {
                let mut ends = [[0.0; LANES]; 2];
                for lane in 0..LANES {
                    let below = (radii[lane] >> (u32::BITS - SHARE_BITS)) as usize % SHARES;
                    ends[0][lane] = squares[below];
                    ends[1][lane] = squares[below + 1];
                }
                for lane in 0..LANES {
                    let rest = unit(radii[lane] << SHARE_BITS & u64::from(u32::MAX));
                    let squared = ends[0][lane] + rest * (ends[1][lane] - ends[0][lane]);
                    let radius = squared.sqrt();
                    let [a, b] = on_circle(turns[lane]);
                    points[0][lane] = radius * a;
                    points[1][lane] = radius * b;
                }
            }
        }
        points
    }
}

/// The square of the angle within which 0, 1/SHARES, … 1 of the light lies; `edges` part the
/// shape where its brightness jumps. Within a ring light is taken as even.
fn squared_angles(shape: &SunShape, edges: &[f64]) -> Box<[f64; SHARES + 1]> {
    let spans = || edges.windows(2).map(|pair| (pair[0], pair[1]));
    let rings: Vec<Vec<f64>> = spans().map(|(from, to)| shape.rings(from, to)).collect();
    let total: f64 = rings.iter().map(|span| span.iter().sum::<f64>()).sum();
    let last_rad = edges.last().copied().unwrap_or_default();
    let mut squares = Box::new([last_rad * last_rad; SHARES + 1]);
    squares[0] = 0.0;
    let mut next = 1;
    let mut light = 0.0;
    for ((from_rad, to_rad), rings) in spans().zip(&rings) {
        let step_rad = (to_rad - from_rad) / RINGS as f64;
        for (ring, in_ring) in rings.iter().enumerate() {
            let inner_rad = from_rad + ring as f64 * step_rad;
            let outer_rad = inner_rad + step_rad;
            while next <= SHARES {
                let wanted = total * next as f64 / SHARES as f64;
                if wanted > light + in_ring {
                    break;
                }
                let (low, high) = (inner_rad * inner_rad, outer_rad * outer_rad);
                squares[next] = low + (high - low) * (wanted - light) / in_ring;
                next += 1;
            }
            light += in_ring;
        }
    }
    squares
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::Draws;
    use book::Check;

    /// Standard deviation for each axis [mrad] and share beyond 4.65 mrad, from drawn points.
    fn drawn(shape: SunShape) -> (f64, f64) {
        let (points, draws) = (SunPoints::new(&shape), Draws::new(5, 0));
        let count = 400_000_u64;
        let (mut squared, mut outside) = (0.0, 0.0);
        for round in 0..count / LANES as u64 {
            let [a, b, ..] = draws.words(round * LANES as u64);
            let [x, y] = points.draw(&a, &b);
            for radius2 in (0..LANES).map(|lane| x[lane] * x[lane] + y[lane] * y[lane]) {
                assert!(radius2.sqrt() <= points.most_rad() + 1e-15);
                squared += 0.5 * radius2 / count as f64;
                outside += f64::from(radius2 > BUIE_DISC_RAD * BUIE_DISC_RAD) / count as f64;
            }
        }
        (1e3 * squared.sqrt(), outside)
    }

    /// Closed forms and quadratures of the same radial laws: an even disc of 4.65 mrad spreads by
    /// 4.65/2 for each axis, the limb-darkened one by 2.20160.
    #[test]
    fn discs_spread_as_their_second_moments_say() {
        let radius_rad = 4.65e-3;
        let of = |shape| drawn(shape).0;
        Check {
            id: "rays.disc_spread",
            model: "Spread of the sun's disc, as drawn",
            equation: "σ² = ∫ θ³ B dθ ÷ (2 ∫ θ B dθ), B its brightness",
            source: "second moment of the disc",
            validity: "even and limb-darkened discs",
            against: "closed forms for discs of 4.65 mrad: radius ÷ 2, and 2.2016 mrad for 1 − 0.5138 (1 − μ)",
            unit: "mrad",
        }
        .within(
            0.005,
            [
                (2.325, of(SunShape::Disc { radius_rad })),
                (2.2016, of(SunShape::LimbDarkened { radius_rad })),
            ],
        );
        let bell = of(SunShape::Gaussian {
            per_axis_rad: 2.0e-3,
        });
        assert!((bell - 2.0).abs() < 0.008, "{bell}");
        assert_eq!(drawn(SunShape::Point), (0.0, 0.0));
    }

    /// Mean brightness ÷ that of the middle: 1 − 0.5138/3 = 0.82873 (closed form); and, tabled,
    /// 0.82000 for 0.36 + 0.84·μ − 0.20·μ² (Jose, 1957, from memory), 0.80000 for 0.4 + 0.6·μ, which spread by
    /// 2.21066 and 2.20569 mrad for each axis, by quadrature.
    #[test]
    fn limbs_are_as_dark_and_spread_as_their_laws_say() {
        let radius_rad = 4.65e-3;
        let mean = |shape: &SunShape| {
            shape.light_between(0.0, radius_rad)
                / (radius_rad * radius_rad * shape.brightness()(0.0))
        };
        let limb = mean(&SunShape::LimbDarkened { radius_rad });
        assert!((limb - 0.828_73).abs() < 1e-5, "{limb}");
        let shares: Vec<f64> = (0..=400)
            .map(|step| {
                let left = 1.0 - f64::from(step) / 400.0;
                1.0 - left * left
            })
            .collect();
        let tabled = |law: &dyn Fn(f64) -> f64| SunShape::Table {
            angle_rad: shares.iter().map(|share| radius_rad * share).collect(),
            brightness: shares
                .iter()
                .map(|share| law((1.0 - share * share).sqrt()))
                .collect(),
        };
        let jose = tabled(&|mu| 0.36 + mu * (0.84 - 0.20 * mu));
        let linear = tabled(&|mu| 0.4 + 0.6 * mu);
        for (shape, share, spread_mrad) in [(jose, 0.82, 2.210_66), (linear, 0.8, 2.205_69)] {
            assert!((mean(&shape) - share).abs() < 2e-5, "{}", mean(&shape));
            let (found_mrad, outside) = drawn(shape);
            assert!((found_mrad - spread_mrad).abs() < 0.005, "{found_mrad}");
            assert_eq!(outside, 0.0);
        }
    }

    /// Most light, φ·θ, comes from 3.89158 mrad, there 3.18432 mrad (closed form of the disc law).
    #[test]
    fn most_light_comes_from_near_the_edge() {
        let brightness = buie(0.05);
        let light = |angle_mrad: f64| angle_mrad * brightness(1e-3 * angle_mrad);
        let most_mrad = 3.891_58;
        assert!((light(most_mrad) - 3.184_32).abs() < 1e-5);
        assert!(light(most_mrad - 1e-3) < light(most_mrad));
        assert!(light(most_mrad + 1e-3) < light(most_mrad));
    }

    /// Values of the disc law of Buie et al. 2003 (constants from memory), and its light
    /// 2π∫φθdθ = 57.960750 mrad².
    #[test]
    fn buie_disc() {
        let known = [
            (2.0_f64, 0.973_874),
            (4.0, 0.793_263),
            (4.5, 0.563_875),
            (4.65, 0.397_159),
        ];
        let pairs = known.map(|(angle_mrad, expected)| {
            let angle_rad = (1e-3 * angle_mrad).min(BUIE_DISC_RAD);
            (expected, buie(0.05)(angle_rad))
        });
        Check {
            id: "rays.buie_disc",
            model: "Brightness of the sun's disc against its middle",
            equation: "φ = cos(0.326 θ) ÷ cos(0.308 θ), θ in mrad",
            source: "Buie et al. 2003, Solar Energy 74 (constants from memory)",
            validity: "within 4.65 mrad",
            against: "values of the law at four angles, worked out apart",
            unit: "",
        }
        .within(1e-6, pairs);
        let light_mrad2 = 1e6
            * std::f64::consts::PI
            * SunShape::Buie { chi: 0.05 }.light_between(0.0, BUIE_DISC_RAD);
        assert!((light_mrad2 - 57.960_750).abs() < 1e-4, "{light_mrad2}");
    }

    /// χ, share in the aureole and standard deviation for each axis [mrad]: computed once by
    /// quadrature from the law of Buie et al. 2003 (constants from memory).
    const BUIE: [(f64, f64, f64); 8] = [
        (0.01, 0.00042, 2.2438),
        (0.02, 0.00581, 2.4793),
        (0.03, 0.01666, 2.8400),
        (0.05, 0.04313, 3.4690),
        (0.10, 0.10027, 4.3730),
        (0.20, 0.18714, 5.4696),
        (0.30, 0.27426, 6.5720),
        (0.40, 0.37265, 7.8283),
    ];

    #[test]
    fn buie_aureole_holds_its_share() {
        let found = BUIE.map(|(chi, ratio, spread_mrad)| {
            let shape = SunShape::Buie { chi };
            assert!((shape.circumsolar_ratio() - ratio).abs() < 1e-5, "{chi}");
            let (found_mrad, outside) = drawn(shape);
            assert!((outside - ratio).abs() < 0.002, "{chi}: {outside}");
            (spread_mrad, found_mrad)
        });
        Check {
            id: "rays.buie_spread",
            model: "Spread of the sun with its aureole, as drawn",
            equation: "φ = e^κ θ^γ beyond 4.65 mrad, standard deviation for each axis",
            source: "Buie et al. 2003, Solar Energy 74 (constants from memory)",
            validity: "to 43.6 mrad, χ 0.01 to 0.4",
            against: "quadrature of the law for eight χ; 400,000 points drawn for each",
            unit: "mrad",
        }
        .within_share(0.01, found);
    }

    /// χ for a wanted share in the aureole, computed once from the same law.
    #[test]
    fn chi_for_a_wanted_circumsolar_ratio() {
        for (ratio, expected) in [
            (0.02, 0.03263),
            (0.05, 0.05527),
            (0.10, 0.09973),
            (0.20, 0.21538),
            (0.30, 0.32737),
        ] {
            let SunShape::Buie { chi } = SunShape::with_circumsolar_ratio(ratio) else {
                panic!("another shape");
            };
            assert!((chi - expected).abs() < 1e-5, "{ratio}: {chi}");
        }
    }
}
