//! Every mirror at a moment.

use geometry::{LANES, lane};
use rayon::prelude::*;

use super::Block;
use crate::light::Hoods;
use crate::motion::beam_miss_rad2;

/// One mirror at one moment, by the fast model.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct MirrorMoment {
    /// Angle between its normal and the sun [rad].
    pub incidence_rad: f64,
    /// Share of it that nothing shades.
    pub lit_share: f64,
    /// Share of its lit part whose light no other panel blocks.
    pub unblocked_share: f64,
    /// Share of the light on the way to the aperture that enters it.
    pub intercept: f64,
    /// Beam error of the shared drive: the angle between the reflected central ray and the way to the
    /// aim point [rad].
    pub drive_error_rad: f64,
}

/// Every mirror under every sun of a block.
pub(super) fn mirror_moments(block: &Block, hoods: &Hoods) -> Vec<Vec<MirrorMoment>> {
    let strings: Vec<usize> = (0..block.stances.len()).collect();
    let lanes: Vec<[MirrorMoment; LANES]> = strings
        .par_iter()
        .flat_map_iter(|&string| of_string(block, hoods, string))
        .collect();
    (0..block.suns.len())
        .map(|lane| lanes.iter().map(|mirror| mirror[lane]).collect())
        .collect()
}

fn of_string(block: &Block, hoods: &Hoods, string: usize) -> Vec<[MirrorMoment; LANES]> {
    let field = &block.field;
    let (row, stance) = (&field.plan.strings[string], &block.stances[string]);
    let mut mirrors = Vec::with_capacity(row.mirror_count);
    field
        .scene(hoods.of(string))
        .under(&block.lanes)
        .each_mirror(string, 0..row.mirror_count, stance, |place, light| {
            let target = field.plan.target(row.first_mirror + place);
            mirrors.push(std::array::from_fn(|lane| {
                let sun = lane::vector(&block.lanes, lane);
                let normal = lane::vector(&stance.normals[place], lane);
                let chord = beam_miss_rad2(sun, normal, target).sqrt();
                MirrorMoment {
                    incidence_rad: libm::acos(sun.dot(normal).clamp(0.0, 1.0)),
                    lit_share: light.lit[lane],
                    unblocked_share: light.unblocked[lane],
                    intercept: light.intercept[lane],
                    drive_error_rad: 2.0 * libm::asin((0.5 * chord).min(1.0)),
                }
            }));
        });
    mirrors
}
