//! What holds many facets: trusses up and down from a torque tube.

use super::PedestalInputs;
use crate::demand::Demand;
use crate::glass::GRAVITY_M_S2;
use crate::members::StringLoads;
use crate::section::Series;
use crate::{Chs, LoadCase, MirrorLoad, Pieces, STEEL_MODULUS_PA, Stock};

/// Root mean square slope along an evenly loaded cantilever over that at its tip, wL³/(6EI): the root
/// of the integral of (3u − 3u² + u³)² is √(9/14).
const CANTILEVER_RMS: f64 = 0.801_78;
/// Depth of a truss over its length from the torque tube to its end; common practice, no source.
const TRUSS_DEPTH_SHARE: f64 = 0.2;
/// Diagonals of a truss, of the same tube as its two chords, and the length of each over that of the truss:
/// they leave a tenth of it to the brackets on the torque tube; common practice, no source.
const DIAGONALS: usize = 8;
const DIAGONAL_SHARE: f64 = 0.15;
/// Mass of a truss with its web over that of its two chords.
const WEB_MASS: f64 = 1.0 + 0.5 * DIAGONAL_SHARE * DIAGONALS as f64;
/// Deflection of a truss over that of its chords alone; common practice, no source.
const WEB_GIVE: f64 = 1.2;
/// Bracing between trusses, brackets and bolts over trusses and tube; common practice, no source.
pub const CONNECTIONS: f64 = 1.15;
/// From the torque tube's middle to the trusses beside what they are deep; common practice, no source.
const BRACKET_M: f64 = 0.05;

/// Trusses and torque tube.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Frame {
    /// All trusses, with connections.
    pub trusses_kg: f64,
    /// Torque tube, with connections.
    pub tube_kg: f64,
    /// What lies behind each column of facets.
    pub truss: Truss,
    /// Torque tube.
    pub tube: Stock,
    /// From the elevation axis to the middle of what swings about it.
    pub reach_m: f64,
    /// Root mean square turn of facets by weight, between upright and level.
    pub droop_rad: f64,
    /// The same by root mean square wind.
    pub wind_rad: f64,
}

/// What lies behind a column of facets, from the lower edge to the upper: a plain tube, or a truss of two
/// chords and a web.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Truss {
    /// The tube, or each chord.
    pub tube: Stock,
    /// From chord to chord; none of a plain tube.
    pub depth_m: Option<f64>,
}

impl Truss {
    fn kg_m(&self) -> f64 {
        let tube_kg_m = self.tube.section.kg_m();
        self.depth_m.map_or(tube_kg_m, |_| chords_kg_m(tube_kg_m))
    }

    fn stiffness_n_m2(&self) -> f64 {
        let section = &self.tube.section;
        self.depth_m.map_or_else(
            || section.bending_stiffness_n_m2(),
            |depth_m| chords_n_m2(section, depth_m),
        )
    }

    /// From its front to its back.
    fn thickness_m(&self) -> f64 {
        self.depth_m.unwrap_or(self.tube.section.diameter_m)
    }

    /// Lengths and numbers of its tubes, along it and across it, if it is so long.
    pub fn pieces(&self, length_m: f64) -> [Pieces; 2] {
        let (chords, diagonals) = self.depth_m.map_or((1, 0), |_| (2, DIAGONALS));
        [(length_m, chords), (DIAGONAL_SHARE * length_m, diagonals)]
            .map(|(length_m, count)| Pieces { length_m, count })
    }
}

/// Mass of two chords with their web.
fn chords_kg_m(tube_kg_m: f64) -> f64 {
    WEB_MASS * 2.0 * tube_kg_m
}

/// Stiffness of two chords with their web.
fn chords_n_m2(section: &Chs, depth_m: f64) -> f64 {
    STEEL_MODULUS_PA * section.area_m2() * depth_m * depth_m / (2.0 * WEB_GIVE)
}

impl Frame {
    pub fn size(inputs: &PedestalInputs, loads: &StringLoads, facet_kg: f64) -> Self {
        let facets = &inputs.facets;
        let (width_m, height_m) = (facets.width_m(), facets.height_m());
        let step_m = facets.side_m + facets.gap_m;
        let (up_m, out_m) = (0.5 * height_m, 0.5 * width_m);
        let hung_n_m = facet_kg * GRAVITY_M_S2 / step_m;
        let truss = lighter(inputs, loads, up_m, step_m, hung_n_m);
        let truss_kg = truss.kg_m() * height_m;
        let trusses_n = facets.columns as f64 * truss_kg * GRAVITY_M_S2;
        let weight_n = facets.count() as f64 * facet_kg * GRAVITY_M_S2 + trusses_n;
        let tube = tube(inputs, loads, weight_n, out_m);
        let stiffness_n_m2 = tube.section.bending_stiffness_n_m2();
        let hung_n_m = hung_n_m + truss.kg_m() * GRAVITY_M_S2;
        let tube_n_m = weight_n / width_m + tube.section.kg_m() * GRAVITY_M_S2;
        Self {
            trusses_kg: CONNECTIONS * facets.columns as f64 * truss_kg,
            tube_kg: CONNECTIONS * tube.section.kg_m() * width_m,
            reach_m: 0.5 * (tube.section.diameter_m + truss.thickness_m()) + BRACKET_M,
            droop_rad: libm::hypot(
                sag_rad(hung_n_m, up_m, truss.stiffness_n_m2()),
                sag_rad(tube_n_m, out_m, stiffness_n_m2),
            ),
            wind_rad: libm::hypot(
                sag_rad(loads.rms.normal_pa * step_m, up_m, truss.stiffness_n_m2()),
                tube_rad(
                    &tube.section,
                    &loads.rms,
                    loads.rms.normal_pa * height_m,
                    out_m,
                ),
            ),
            truss,
            tube,
        }
    }
}

/// Root mean square slope of an evenly loaded cantilever.
fn sag_rad(load_n_m: f64, length_m: f64, stiffness_n_m2: f64) -> f64 {
    CANTILEVER_RMS * load_n_m * length_m * length_m * length_m / (6.0 * stiffness_n_m2)
}

/// Root mean square turn of facets on one half of the tube: bending by an even load, and twist by half
/// the hinge's moment, which at an even spread turns the end by T·L/(2·GI).
fn tube_rad(section: &Chs, load: &MirrorLoad, load_n_m: f64, out_m: f64) -> f64 {
    let twist_rad = 0.5 * load.hinge_n_m * out_m / (2.0 * section.torsion_stiffness_n_m2());
    libm::hypot(
        sag_rad(load_n_m, out_m, section.bending_stiffness_n_m2()),
        CANTILEVER_RMS * twist_rad,
    )
}

/// A plain tube or a truss of two tubes, whichever is lighter.
fn lighter(
    inputs: &PedestalInputs,
    loads: &StringLoads,
    up_m: f64,
    step_m: f64,
    hung_n_m: f64,
) -> Truss {
    let rules = &inputs.rules;
    let moment_n_m = |case: LoadCase| {
        let wind_n_m = rules.wind_factor * loads.peak(case).normal_pa * step_m;
        0.5 * (wind_n_m + hung_n_m) * up_m * up_m
    };
    let give = |kg_m: f64, stiffness_n_m2: f64| {
        let weight_n_m = hung_n_m + kg_m * GRAVITY_M_S2;
        let greater_n_m = weight_n_m.max(loads.rms.normal_pa * step_m);
        Demand::stiffness(sag_rad(greater_n_m, up_m, stiffness_n_m2) / rules.twist_limit_rad)
    };
    let plain = Series::Air.lightest(|section| {
        Demand::hardest_case(|case| {
            moment_n_m(case) / section.bending_resistance_n_m(rules.steel_yield_pa)
        })
        .or(give(section.kg_m(), section.bending_stiffness_n_m2()))
    });
    let depth_m = TRUSS_DEPTH_SHARE * up_m;
    let chord = Series::Air.lightest(|section| {
        Demand::hardest_case(|case| {
            let resistance_n = section.buckling_resistance_n(depth_m, rules.steel_yield_pa);
            moment_n_m(case) / depth_m / resistance_n
        })
        .or(give(
            chords_kg_m(section.kg_m()),
            chords_n_m2(section, depth_m),
        ))
    });
    let is_plain = plain.demand.utilisation <= 1.0
        && plain.section.kg_m() <= chords_kg_m(chord.section.kg_m());
    Truss {
        tube: if is_plain { plain } else { chord },
        depth_m: (!is_plain).then_some(depth_m),
    }
}

/// The torque tube: bending by wind and weight and twist by half the hinge's moment in every case, and
/// stiff enough against weight and against wind.
fn tube(inputs: &PedestalInputs, loads: &StringLoads, weight_n: f64, out_m: f64) -> Stock {
    let (facets, rules) = (&inputs.facets, &inputs.rules);
    let yield_pa = rules.steel_yield_pa;
    let hung_n_m = weight_n / facets.width_m();
    Series::Air.lightest(|section| {
        let own_n_m = hung_n_m + section.kg_m() * GRAVITY_M_S2;
        let strength = Demand::hardest_case(|case| {
            let load = loads.peak(case);
            let wind_n_m = rules.wind_factor * load.normal_pa * facets.height_m();
            let bent_n_m = 0.5 * (wind_n_m + own_n_m) * out_m * out_m;
            let twisted_n_m = 0.5 * rules.wind_factor * load.hinge_n_m;
            libm::hypot(
                bent_n_m / section.bending_resistance_n_m(yield_pa),
                twisted_n_m / section.torsion_resistance_n_m(yield_pa),
            )
        });
        let wind_n_m = loads.rms.normal_pa * facets.height_m();
        let droop_rad = sag_rad(own_n_m, out_m, section.bending_stiffness_n_m2());
        let turn_rad = tube_rad(section, &loads.rms, wind_n_m, out_m);
        strength.or(Demand::stiffness(
            droop_rad.max(turn_rad) / rules.twist_limit_rad,
        ))
    })
}
