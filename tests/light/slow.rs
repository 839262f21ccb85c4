//! What rays say.

use field::{Plan, Stance};
use geometry::{Vec3, lane};
use optics::Mirrors;
use rays::{Aperture, Judge, Outline, Pillar, Posture, Shape, SunShape, Surface};

use crate::compare::{Losses, PARTS};
use crate::fields::Trial;

const ROUNDS_A_CALL: u64 = 100;
const SEED: u64 = 1;

/// The losses that rays find, the standard error of their product, and the flux ÷ DNI in each part of
/// the aperture.
pub struct Judged {
    pub losses: Losses,
    pub product_error: f64,
    pub flux_suns: Vec<f64>,
}

/// The losses of the whole field under one sun, `rounds` rays from each mirror.
#[allow(clippy::too_many_arguments)]
pub fn losses(
    trial: &Trial,
    plan: &Plan,
    mirrors: &Mirrors,
    sun_shape: &SunShape,
    sun: Vec3,
    stands: &[Stance],
    lane: usize,
    rounds: u64,
) -> Judged {
    let posture = posture(sun, stands, lane);
    let surface = Surface {
        facets: [mirrors.facets.columns, mirrors.facets.rows],
        shape: Shape::CornerPulled,
        slope_error_rad: mirrors.slope_error_rad,
        scatter_rad: mirrors.scatter_rad,
        reflectance: &|cosine| mirrors.reflectance.at(cosine),
        transmittance: &|way_m| mirrors.attenuation.transmittance(way_m),
    };
    let judge = Judge::new(plan, &posture, surface, sun_shape.clone(), aperture(trial))
        .expect("the trial can be traced")
        .with_tower(&tower(trial));
    let mut tally = judge.trace(0..ROUNDS_A_CALL, SEED);
    for call in 1..rounds / ROUNDS_A_CALL {
        tally.add(&judge.trace(call * ROUNDS_A_CALL..(call + 1) * ROUNDS_A_CALL, SEED));
    }
    let verdict = tally.verdict();
    let estimates = [
        verdict.cosine,
        verdict.shading,
        verdict.blocking,
        verdict.reflectance,
        verdict.attenuation,
        verdict.intercept,
        verdict.product,
    ];
    Judged {
        losses: estimates.map(|estimate| estimate.value),
        product_error: verdict.product.standard_error,
        flux_suns: (0..PARTS * PARTS)
            .map(|part| tally.flux_suns(part % PARTS, part / PARTS).value)
            .collect(),
    }
}

/// Every mirror as it stands under sun `lane`.
fn posture(sun: Vec3, stands: &[Stance], lane: usize) -> Posture {
    let edges =
        |stance: &Stance| vec![lane::vector(&stance.width_edge, lane); stance.normals.len()];
    Posture {
        sun,
        normals: stands
            .iter()
            .flat_map(|stance| &stance.normals)
            .map(|normal| lane::vector(normal, lane))
            .collect(),
        width_edges: stands.iter().flat_map(edges).collect(),
        blur_in_plane_rad2: stands
            .iter()
            .flat_map(|stance| &stance.blur_in_plane_rad2)
            .map(|blur| blur[lane])
            .collect(),
        blur_across_rad2: stands
            .iter()
            .flat_map(|stance| &stance.blur_across_rad2)
            .map(|blur| blur[lane])
            .collect(),
    }
}

fn tower(trial: &Trial) -> Vec<Pillar> {
    let pillars = trial.tower.iter().map(|pillar| Pillar {
        width_m: pillar.width_m,
        from_m: pillar.from_m,
        to_m: pillar.to_m,
    });
    pillars.collect()
}

fn aperture(trial: &Trial) -> Aperture {
    let aperture = trial.aperture();
    Aperture {
        centre_m: aperture.centre_m,
        normal: aperture.normal,
        right: aperture.right,
        up: aperture.up,
        outline: match aperture.outline {
            optics::Outline::Rectangle { .. } => Outline::Rectangle,
            optics::Outline::Circle { .. } => Outline::Disc,
            optics::Outline::Cylinder { .. } => Outline::Cylinder,
        },
        width_m: aperture.width_m(),
        height_m: aperture.height_m(),
        columns: PARTS,
        rows: PARTS,
    }
}
