//! What holds many facets: trusses up and down from a torque tube.

use super::PedestalInputs;
use crate::demand::Demand;
use crate::glass::GRAVITY_M_S2;
use crate::members::StringLoads;
use crate::section::Series;
use crate::{Chs, LoadCase, MirrorLoad, STEEL_MODULUS_PA, Stock};

/// Root mean square slope along an evenly loaded cantilever over that at its tip, wL³/(6EI): the root
/// of the integral of (3u − 3u² + u³)² is √(9/14).
const CANTILEVER_RMS: f64 = 0.801_78;
/// Depth of a truss over its length from the torque tube to its end; common practice, no source.
const TRUSS_DEPTH_SHARE: f64 = 0.2;
/// Mass of a truss with its web over that of its two chords, and deflection over that of the chords
/// alone; common practice, no source.
const WEB_MASS: f64 = 1.6;
const WEB_GIVE: f64 = 1.2;
/// Bracing between trusses, brackets and bolts over trusses and tube; common practice, no source.
const CONNECTIONS: f64 = 1.15;
/// From the torque tube's middle to the trusses beside what they are deep; common practice, no source.
const BRACKET_M: f64 = 0.05;

/// Trusses and torque tube.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Frame {
    /// All trusses, with connections.
    pub trusses_kg: f64,
    /// Torque tube, with connections.
    pub tube_kg: f64,
    /// How hard the trusses are used.
    pub truss: Demand,
    /// Torque tube.
    pub tube: Stock,
    /// From the elevation axis to the middle of what swings about it.
    pub reach_m: f64,
    /// Root mean square turn of facets by weight, between upright and level.
    pub droop_rad: f64,
    /// The same by root mean square wind.
    pub wind_rad: f64,
}

/// One way of making the cantilevers above and below the tube.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Cantilever {
    kg_m: f64,
    stiffness_n_m2: f64,
    depth_m: f64,
    demand: Demand,
}

impl Frame {
    pub fn size(inputs: &PedestalInputs, loads: &StringLoads, facet_kg: f64) -> Self {
        let facets = &inputs.facets;
        let (width_m, height_m) = (facets.width_m(), facets.height_m());
        let step_m = facets.side_m + facets.gap_m;
        let (up_m, out_m) = (0.5 * height_m, 0.5 * width_m);
        let hung_n_m = facet_kg * GRAVITY_M_S2 / step_m;
        let truss = lighter(inputs, loads, up_m, step_m, hung_n_m);
        let truss_kg = truss.kg_m * height_m;
        let trusses_n = facets.columns as f64 * truss_kg * GRAVITY_M_S2;
        let weight_n = facets.count() as f64 * facet_kg * GRAVITY_M_S2 + trusses_n;
        let tube = tube(inputs, loads, weight_n, out_m);
        let stiffness_n_m2 = tube.section.bending_stiffness_n_m2();
        let hung_n_m = hung_n_m + truss.kg_m * GRAVITY_M_S2;
        let tube_n_m = weight_n / width_m + tube.section.kg_m() * GRAVITY_M_S2;
        Self {
            trusses_kg: CONNECTIONS * facets.columns as f64 * truss_kg,
            tube_kg: CONNECTIONS * tube.section.kg_m() * width_m,
            truss: truss.demand,
            reach_m: 0.5 * (tube.section.diameter_m + truss.depth_m) + BRACKET_M,
            droop_rad: libm::hypot(
                sag_rad(hung_n_m, up_m, truss.stiffness_n_m2),
                sag_rad(tube_n_m, out_m, stiffness_n_m2),
            ),
            wind_rad: libm::hypot(
                sag_rad(loads.rms.normal_pa * step_m, up_m, truss.stiffness_n_m2),
                tube_rad(
                    &tube.section,
                    &loads.rms,
                    loads.rms.normal_pa * height_m,
                    out_m,
                ),
            ),
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
) -> Cantilever {
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
    let chords_kg_m = |section: &Chs| WEB_MASS * 2.0 * section.kg_m();
    let chords_n_m2 =
        |section: &Chs| STEEL_MODULUS_PA * section.area_m2() * depth_m * depth_m / (2.0 * WEB_GIVE);
    let chord = Series::Air.lightest(|section| {
        Demand::hardest_case(|case| {
            let resistance_n = section.buckling_resistance_n(depth_m, rules.steel_yield_pa);
            moment_n_m(case) / depth_m / resistance_n
        })
        .or(give(chords_kg_m(section), chords_n_m2(section)))
    });
    if plain.demand.utilisation <= 1.0 && plain.section.kg_m() <= chords_kg_m(&chord.section) {
        Cantilever {
            kg_m: plain.section.kg_m(),
            stiffness_n_m2: plain.section.bending_stiffness_n_m2(),
            depth_m: plain.section.diameter_m,
            demand: plain.demand,
        }
    } else {
        Cantilever {
            kg_m: chords_kg_m(&chord.section),
            stiffness_n_m2: chords_n_m2(&chord.section),
            depth_m,
            demand: chord.demand,
        }
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
