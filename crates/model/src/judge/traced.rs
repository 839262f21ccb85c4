//! What rays say.

use geometry::Vec3;
use optics::{Aperture, CORNER_PULLED_SQUARE, Mirrors, Outline};
use rayon::prelude::*;
use rays::{Judge, Pillar, Posture, RaysError, Shape, SunShape, Surface, Tally};

use super::{Block, Care};
use crate::light::Field;

/// Rounds handed to one thread at a time.
const ROUNDS_PER_CHUNK: u64 = 32;

/// How far a panel's sides may differ to count as equal, as a share.
const SQUARE: f64 = 1e-3;
/// How far a bending residual may be from that of the corner-pulled square to count as its own.
const SAME_RESIDUAL: f64 = 1e-3;

/// Rays under each sun of a block, of which `first_sun` is the first.
pub(super) fn under(
    block: &Block,
    sun_shape: &SunShape,
    parts: usize,
    care: Care,
    first_sun: usize,
) -> Result<Vec<Tally>, RaysError> {
    let field = &block.field;
    let shape = shape(field);
    let postures: Vec<Posture> = (0..block.suns.len())
        .map(|lane| posture(block, lane, shape))
        .collect();
    let reflectance = |cosine| field.mirrors.reflectance.at(cosine);
    let transmittance = |way_m| field.mirrors.attenuation.transmittance(way_m);
    let surface = Surface {
        facets: [field.mirrors.facets.columns, field.mirrors.facets.rows],
        shape,
        slope_error_rad: field.mirrors.slope_error_rad,
        scatter_rad: field.mirrors.scatter_rad,
        reflectance: &reflectance,
        transmittance: &transmittance,
    };
    let aperture = aperture(field.aperture, parts);
    let judges: Result<Vec<Judge>, RaysError> = postures
        .par_iter()
        .map(|posture| {
            let judge = Judge::new(field.plan, posture, surface, sun_shape.clone(), aperture)?;
            Ok(judge.with_tower(&tower(field)))
        })
        .collect();
    Ok(trace(&judges?, care, first_sun))
}

/// All rounds of all suns. Tallies are whole numbers: the order of adding does not matter.
fn trace(judges: &[Judge], care: Care, first_sun: usize) -> Vec<Tally> {
    let chunks = care.rounds.div_ceil(ROUNDS_PER_CHUNK);
    let empty = || judges.iter().map(|judge| judge.trace(0..0, 0)).collect();
    let traced = (0..judges.len() as u64 * chunks)
        .into_par_iter()
        .map(|task| {
            let (sun, first) = ((task / chunks) as usize, task % chunks * ROUNDS_PER_CHUNK);
            let rounds = first..(first + ROUNDS_PER_CHUNK).min(care.rounds);
            // Every sun has rays of its own, so that their errors are independent.
            let seed = (first_sun + sun) as u64 * (1 << 32) + u64::from(care.seed);
            (sun, judges[sun].trace(rounds, seed))
        });
    traced
        .fold(empty, |mut sums: Vec<Tally>, (sun, tally)| {
            sums[sun].add(&tally);
            sums
        })
        .reduce(empty, |mut sums, more| {
            sums.iter_mut()
                .zip(&more)
                .for_each(|(sum, one)| sum.add(one));
            sums
        })
}

/// The surface facets are bent to: the corner-pulled square if that is what they are; a paraboloid
/// otherwise, whose residual slope is then drawn at random.
fn shape(field: &Field) -> Shape {
    if field.mirrors.facets.are_flat {
        return Shape::Flat;
    }
    let mut facets_m = (0..field.plan.mirror_count()).map(|mirror| facet_m(field, mirror));
    let all_square = facets_m.all(|[width_m, height_m]| (width_m / height_m - 1.0).abs() < SQUARE);
    let off = field.mirrors.bending_residual - CORNER_PULLED_SQUARE;
    if all_square && off.abs() < SAME_RESIDUAL {
        Shape::CornerPulled
    } else {
        Shape::Paraboloid
    }
}

/// Every mirror as it stands under sun `lane`.
fn posture(block: &Block, lane: usize, shape: Shape) -> Posture {
    let (sun, mirrors) = (block.suns[lane], block.field.mirrors);
    let mut posture = Posture::under(sun);
    for stance in &block.stances {
        posture.add(stance, lane);
    }
    for (mirror, &normal) in posture.normals.iter().enumerate() {
        let bending_rad2 = match shape {
            Shape::CornerPulled | Shape::Flat => 0.0,
            _ => bending_rad2(&block.field, mirror),
        };
        let slope_rad2 = bending_rad2 + gravity_rad2(mirrors, normal);
        let cosine = sun.dot(normal);
        posture.blur_in_plane_rad2[mirror] += 4.0 * slope_rad2;
        posture.blur_across_rad2[mirror] += 4.0 * cosine * cosine * slope_rad2;
    }
    posture
}

/// Variance about each axis of the slope that bending leaves: the mean square slope of the paraboloid
/// over a rectangle is (width² + height²) ÷ (48·focal length²), both axes together [rad²].
fn bending_rad2(field: &Field, mirror: usize) -> f64 {
    let [width_m, height_m] = facet_m(field, mirror);
    let focal_length_m = field.plan.focal_length_m[mirror];
    let ideal_rad2 =
        (width_m * width_m + height_m * height_m) / (48.0 * focal_length_m * focal_length_m);
    let residual = field.mirrors.bending_residual;
    0.5 * residual * residual * ideal_rad2
}

/// Width and height of the facets of mirror `mirror` [m].
fn facet_m(field: &Field, mirror: usize) -> [f64; 2] {
    let facets = field.mirrors.facets;
    [
        field.plan.width_m[mirror] / facets.columns as f64,
        field.plan.height_m[mirror] / facets.rows as f64,
    ]
}

/// Variance about each axis of the slope by the panel's weight, which falls with its tilt [rad²].
fn gravity_rad2(mirrors: &Mirrors, normal: Vec3) -> f64 {
    let slope_rad = mirrors.gravity_slope_rad * normal.z;
    0.5 * slope_rad * slope_rad
}

fn tower(field: &Field) -> Vec<Pillar> {
    let pillars = field.tower.iter().map(|pillar| Pillar {
        width_m: pillar.width_m,
        from_m: pillar.from_m,
        to_m: pillar.to_m,
    });
    pillars.collect()
}

fn aperture(aperture: &Aperture, parts: usize) -> rays::Aperture {
    rays::Aperture {
        centre_m: aperture.centre_m,
        normal: aperture.normal,
        right: aperture.right,
        up: aperture.up,
        outline: match aperture.outline {
            Outline::Rectangle { .. } => rays::Outline::Rectangle,
            Outline::Circle { .. } => rays::Outline::Disc,
            Outline::Cylinder { .. } => rays::Outline::Cylinder,
        },
        width_m: aperture.width_m(),
        height_m: aperture.height_m(),
        columns: parts,
        rows: parts,
    }
}
