//! Drive lines: rope or rod between the mirrors' levers.
//!
//! Each of the two motions has a loop of two strands on the two ends of double-ended levers. Both
//! strands work as long as neither goes slack, so the loop is twice as stiff as a strand.

use std::f64::consts::PI;

use crate::demand::{Demand, Governing};
use crate::glass::GRAVITY_M_S2;
use crate::{STEEL_DENSITY_KG_M3, STEEL_MODULUS_PA};

/// What a strand is made of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LineKind {
    /// Galvanised 1×19 wire rope, prestretched.
    Rope,
    /// Round steel rod with threaded ends.
    Rod,
}

/// Properties of a strand per square of its diameter.
#[derive(Clone, Copy, Debug, PartialEq)]
struct PerSquare {
    stiffness_n_m2: f64,
    resistance_n_m2: f64,
    kg_m3: f64,
}

/// A manufacturer's stretch factor of galvanised 1×19 rope: stretch in per cent = pounds × factor ÷
/// inch² of diameter (Strand Core and Loos, read).
const ROPE_STRETCH_FACTOR: f64 = 6.98e-6;
/// Pounds per square inch in pascals.
const PASCAL_PER_PSI: f64 = 6_894.757;
/// Breaking force of 1×19 rope of 1570 MPa wire, per diameter², and the factor kept from it; from
/// memory.
const ROPE_BREAKING_N_M2: f64 = 0.8e9;
const ROPE_SAFETY: f64 = 2.0;
/// Yield of rod in S355 on its threaded area, 0.78 of the full one; from memory.
const ROD_RESISTANCE_PA: f64 = 355e6 * 0.78;
/// Steel in 1×19 rope over its round area; from memory.
const ROPE_FILL: f64 = 0.77;

/// Diameters in stock, m; common practice, no source.
const STOCK_M: [f64; 12] = [
    0.004, 0.005, 0.006, 0.008, 0.010, 0.012, 0.014, 0.016, 0.020, 0.024, 0.030, 0.036,
];

impl LineKind {
    fn per_square(self) -> PerSquare {
        match self {
            Self::Rope => PerSquare {
                stiffness_n_m2: 100.0 * PASCAL_PER_PSI / ROPE_STRETCH_FACTOR,
                resistance_n_m2: ROPE_BREAKING_N_M2 / ROPE_SAFETY,
                kg_m3: PI / 4.0 * ROPE_FILL * STEEL_DENSITY_KG_M3,
            },
            Self::Rod => PerSquare {
                stiffness_n_m2: PI / 4.0 * STEEL_MODULUS_PA,
                resistance_n_m2: PI / 4.0 * ROD_RESISTANCE_PA,
                kg_m3: PI / 4.0 * STEEL_DENSITY_KG_M3,
            },
        }
    }
}

/// Expansion of steel [1/K]; EN 1993-1-1, 3.2.6 (from memory).
const EXPANSION_PER_K: f64 = 12e-6;

/// Stiffness that sag between levers takes off a strand at most, as a share of what is left; common
/// practice, no source.
const SAG_SHARE: f64 = 0.05;

/// Pull [N] at which a strand of weight `weight_n` between two supports and stiffness EA gives by that
/// share more than when straight: (w·L)²·EA ÷ 12·T³ (Ernst, Der Bauingenieur 40 (1965) 52, from
/// memory).
fn sag_pull_n(weight_n: f64, stiffness_n: f64) -> f64 {
    libm::cbrt(weight_n * weight_n * stiffness_n / (12.0 * SAG_SHARE))
}

/// What one run of a loop, from the drive to its far end, has to do.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Run {
    /// Mirrors on the run: all of a string driven from its end, half of one driven from its middle.
    pub mirrors: f64,
    /// Distance between levers.
    pub pitch_m: f64,
    /// Half the length of a double-ended lever.
    pub lever_m: f64,
    /// Sum over the run of the moments in the strongest operating gust.
    pub operating_moment_n_m: f64,
    /// Greatest sum over the run of the moments in any load case.
    pub greatest_moment_n_m: f64,
    /// Root mean square moment of one mirror while tracking.
    pub rms_moment_n_m: f64,
    /// Partial factor on wind.
    pub wind_factor: f64,
    /// Turn of the farthest mirror that the root mean square moment may cause.
    pub twist_limit_rad: f64,
    /// Pretension of a strand over what gust and warmth take off it.
    pub pretension_ratio: f64,
    /// How much warmer strands get than their rail.
    pub warmth_k: f64,
}

impl Run {
    /// Pretension of each strand of stiffness EA, so many times what is taken off it: ΣM/(2h) by the
    /// strongest operating gust, EA·α·ΔT by warmth; at least what keeps its sag small.
    pub fn pretension_n(&self, kind: LineKind, strand_n: f64) -> f64 {
        let properties = kind.per_square();
        let weight_n_m = GRAVITY_M_S2 * properties.kg_m3 * strand_n / properties.stiffness_n_m2;
        let gust_n = self.operating_moment_n_m / (2.0 * self.lever_m);
        let taken_off_n = gust_n + self.warmth_n(strand_n);
        let tight_n = sag_pull_n(weight_n_m * self.pitch_m, strand_n);
        tight_n.max(self.pretension_ratio * taken_off_n)
    }

    /// What warmth takes off a strand whose ends are held, and cold adds: EA·α·ΔT.
    fn warmth_n(&self, strand_n: f64) -> f64 {
        strand_n * EXPANSION_PER_K * self.warmth_k
    }

    /// The force that holds all moments of the run at its levers.
    pub fn whole_force_n(&self) -> f64 {
        self.greatest_moment_n_m / self.lever_m
    }

    /// Greatest force in a strand: pretension, what cold adds and its half of the moment, or the whole
    /// moment once the other strand is slack.
    pub fn greatest_force_n(&self, kind: LineKind, strand_n: f64) -> f64 {
        let tight_n = self.pretension_n(kind, strand_n) + self.warmth_n(strand_n);
        let whole_n = self.whole_force_n();
        whole_n.max(tight_n + 0.5 * whole_n)
    }

    /// Turn of the farthest mirror, M·n²·p/(2·EA·h²).
    pub fn far_twist_rad(&self, stiffness_n: f64) -> f64 {
        self.rms_moment_n_m * self.mirrors * self.mirrors * self.pitch_m
            / (2.0 * stiffness_n * self.lever_m * self.lever_m)
    }

    /// Sizes the loop for strength in the `governing` case and for half the twist allowed: the other
    /// half is left to the rail or the frames, through which its forces return. So a stiffer rail never
    /// lets the line be thinner.
    pub fn size(&self, kind: LineKind, governing: Governing) -> Loop {
        let properties = kind.per_square();
        let try_size = |diameter_m: f64| {
            let square_m2 = diameter_m * diameter_m;
            let strand_n = properties.stiffness_n_m2 * square_m2;
            let strand_kg_m = properties.kg_m3 * square_m2;
            let pair_n = 2.0 * strand_n / (1.0 + SAG_SHARE);
            let strength = Demand {
                utilisation: self.wind_factor * self.greatest_force_n(kind, strand_n)
                    / (properties.resistance_n_m2 * square_m2),
                governed_by: governing,
            };
            let twist = self.far_twist_rad(pair_n) / (0.5 * self.twist_limit_rad);
            Loop {
                kind,
                diameter_m,
                strand_kg_m,
                strand_n,
                pair_n,
                demand: strength.or(Demand::stiffness(twist)),
            }
        };
        STOCK_M
            .into_iter()
            .map(try_size)
            .find(|tried| tried.demand.utilisation <= 1.0)
            .unwrap_or_else(|| try_size(STOCK_M[STOCK_M.len() - 1]))
    }
}

/// A sized loop.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Loop {
    /// What its strands are made of.
    pub kind: LineKind,
    /// Diameter of its strands.
    pub diameter_m: f64,
    /// Mass per metre of one strand.
    pub strand_kg_m: f64,
    /// Axial stiffness EA of a straight strand.
    pub strand_n: f64,
    /// Axial stiffness of both strands together, softened by their sag.
    pub pair_n: f64,
    /// How hard it is used.
    pub demand: Demand,
}

#[cfg(test)]
mod tests {
    use book::Check;

    use super::*;
    use crate::LoadCase;

    const GOVERNING: Governing = Governing::Strength(LoadCase::Survive);

    fn run(mirrors: f64) -> Run {
        Run {
            mirrors,
            pitch_m: 1.2,
            lever_m: 0.35,
            operating_moment_n_m: 25.0 * mirrors,
            greatest_moment_n_m: 180.0 * mirrors,
            rms_moment_n_m: 3.0,
            wind_factor: 1.5,
            twist_limit_rad: 0.3e-3,
            pretension_ratio: 1.1,
            warmth_k: 2.0,
        }
    }

    /// 6 mm of 1×19 rope (3.56 MN, 0.17 kg/m): 10 K more than the rail take 0.43 kN off. On 1.2 m it
    /// gives 5 % more than when straight at a pull of ∛((1.67·1.2)²·3.56e6/0.6) = 288 N.
    #[test]
    fn strands_slacken_with_warmth_and_soften_with_sag() {
        let strand_n = 98.8e9 * 0.006 * 0.006;
        let still = Run {
            operating_moment_n_m: 0.0,
            pretension_ratio: 1.0,
            warmth_k: 10.0,
            ..run(8.0)
        };
        assert!((still.pretension_n(LineKind::Rope, strand_n) - 427.0).abs() < 1.0);
        let pull_n = sag_pull_n(1.67 * 1.2, strand_n);
        assert!((pull_n - 287.0).abs() < 1.0, "{pull_n}");
    }

    /// 1×19 galvanised rope: EA/d² 98.8 kN/mm² (from the manufacturer's factor). One eighth of an
    /// inch of 7×19 stainless (factor 1.62e-5) stretches 0.518 % under 500 lb.
    #[test]
    fn rope_stretches_as_its_maker_says() {
        let stiffness = LineKind::Rope.per_square().stiffness_n_m2;
        assert!((stiffness / 98.8e9 - 1.0).abs() < 1e-3);
        let other_n_m2 = stiffness * ROPE_STRETCH_FACTOR / 1.62e-5;
        let (force_n, diameter_m) = (500.0 * 4.448_222, 0.0254 / 8.0);
        let stretch = force_n / (other_n_m2 * diameter_m * diameter_m);
        Check {
            id: "structure.rope_stretch",
            model: "Stretch of a wire rope",
            equation: "ε = F c ÷ d², c the maker's factor of the construction",
            source: "a maker's catalogue",
            validity: "ropes that are pre-stretched",
            against: "the same catalogue's example: one eighth of an inch of 7×19 stainless under 500 lb",
            unit: "",
        }
        .within_share(2e-3, [(0.00518, stretch)]);
    }

    #[test]
    fn driving_from_the_middle_quarters_the_twist() {
        let end = run(20.0).far_twist_rad(1e7);
        assert!((end / run(10.0).far_twist_rad(1e7) - 4.0).abs() < 1e-12);
    }

    #[test]
    fn strands_stay_tight_in_operation_and_hold_in_the_storm() {
        let run = run(8.0);
        let gust_n = run.operating_moment_n_m / (2.0 * run.lever_m);
        for kind in [LineKind::Rod, LineKind::Rope] {
            let sized = run.size(kind, GOVERNING);
            assert!(run.pretension_n(kind, sized.strand_n) > gust_n);
            assert!(run.greatest_force_n(kind, sized.strand_n) >= run.whole_force_n());
            assert!(sized.demand.utilisation <= 1.0);
        }
    }

    #[test]
    fn too_long_a_run_says_by_how_much() {
        let hopeless = run(4000.0).size(LineKind::Rod, GOVERNING);
        assert_eq!(hopeless.diameter_m, 0.036);
        assert!(hopeless.demand.utilisation > 1.0);
    }
}
