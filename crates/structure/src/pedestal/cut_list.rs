//! The tubes of one heliostat, piece by piece.

use super::{PedestalInputs, Sized};
use crate::parts::tubes;
use crate::{Pieces, StructureError, TubeUse, Tubes};

/// Arms of a star.
const ARMS: usize = 4;

/// All tubes of a heliostat, as they are cut. Brackets, bracing and the bars of a pier are none.
///
/// # Errors
/// [`StructureError`] as [`crate::size_pedestal`] has it.
pub fn heliostat_cut_list(inputs: &PedestalInputs) -> Result<Vec<Tubes>, StructureError> {
    inputs.check()?;
    let mut tubes = Sized::of(inputs).tubes();
    tubes.retain(|tubes| tubes.pieces.count > 0);
    Ok(tubes)
}

impl Sized<'_> {
    fn tubes(&self) -> Vec<Tubes> {
        let facets = &self.inputs.facets;
        let (arm_m, arms) = (self.inputs.star().arm_m(), ARMS * facets.count());
        let mut all = vec![
            tubes(TubeUse::StarArm, self.star.section, arm_m, arms),
            tubes(
                TubeUse::Pedestal,
                self.pedestal.section,
                self.pedestal_m(),
                1,
            ),
        ];
        if let Some(frame) = &self.frame {
            let section = frame.truss.tube.section;
            let behind = |used_for, each: Pieces| {
                tubes(
                    used_for,
                    section,
                    each.length_m,
                    facets.columns * each.count,
                )
            };
            let [along, across] = frame.truss.pieces(facets.height_m());
            all.extend([
                behind(TubeUse::Truss, along),
                behind(TubeUse::Web, across),
                tubes(TubeUse::TorqueTube, frame.tube.section, facets.width_m(), 1),
            ]);
        }
        all
    }
}
