//! The tubes of one string, piece by piece, and what tubes are cut for.

use super::{ARMS_PER_LOOP, LEG_SLANT, SizedString, star_of};
use crate::gear::{Handing, fork_m};
use crate::string::StringInputs;
use crate::transmission::{MOTIONS, Mover};
use crate::{Chs, Pieces, Stock, StructureError};

/// What a tube is cut for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum TubeUse {
    /// Arms of the stars behind the panels.
    StarArm,
    /// Posts, above and below ground.
    Post,
    /// Second tines of the forks that let sliding levers through.
    ForkTine,
    /// Legs of the frames, above and below ground.
    FrameLeg,
    /// Arms that hold the strands off the rail.
    FrameArm,
    /// The rail.
    Rail,
    /// The bar of sliding levers.
    Bar,
    /// Push-rods.
    PushRod,
    /// Pedestals of heliostats, above and below ground.
    Pedestal,
    /// Torque tubes of heliostats.
    TorqueTube,
    /// Behind each column of facets: plain tubes, or the chords of trusses.
    Truss,
    /// Diagonals of these trusses.
    Web,
}

/// Tubes of one section and length.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tubes {
    /// What they are for.
    pub used_for: TubeUse,
    /// Their section.
    pub section: Chs,
    /// How long and how many.
    pub pieces: Pieces,
}

impl Tubes {
    /// Those of so many alike.
    #[must_use]
    pub const fn times(mut self, count: usize) -> Self {
        self.pieces.count *= count;
        self
    }
}

/// All tubes of a string, as they are cut.
///
/// # Errors
/// [`StructureError`] as [`crate::size_string`] has it.
pub fn cut_list(inputs: &StringInputs) -> Result<Vec<Tubes>, StructureError> {
    inputs.check()?;
    let sized = SizedString::of(inputs);
    let tubes = sized.tubes();
    Ok(tubes.filter(|tubes| tubes.pieces.count > 0).collect())
}

impl SizedString<'_> {
    fn tubes(&self) -> impl Iterator<Item = Tubes> + '_ {
        let inputs = self.inputs;
        let posts = (0..inputs.mirrors).map(|mirror| {
            let class = self.posts.class_of(mirror);
            let length_m = inputs.height_m(mirror) + class.depth_m;
            tubes(TubeUse::Post, class.stock.section, length_m, 1)
        });
        self.at_mirrors()
            .into_iter()
            .chain(posts)
            .chain(self.at_frames())
            .chain(self.along_the_string())
    }

    fn at_mirrors(&self) -> [Tubes; 2] {
        let (inputs, mirrors) = (self.inputs, self.inputs.mirrors);
        let tines = match inputs.gear.handing {
            Handing::Loops(_) | Handing::PushRods { .. } => 0,
            Handing::Bar => mirrors,
        };
        let (star_m, fork_m) = (star_of(inputs).arm_m(), fork_m(inputs));
        [
            tubes(TubeUse::StarArm, self.star.section, star_m, 4 * mirrors),
            tubes(
                TubeUse::ForkTine,
                self.posts.tallest.stock.section,
                fork_m,
                tines,
            ),
        ]
    }

    fn at_frames(&self) -> [Tubes; 2] {
        let inputs = self.inputs;
        let arms = inputs.line_ends() * (MOTIONS * ARMS_PER_LOOP) as usize;
        let leg_m = LEG_SLANT * inputs.mean_height_m() + self.leg_depth_m();
        let arm = self.transmission.arm.section;
        [
            tubes(TubeUse::FrameLeg, self.leg().section, leg_m, self.legs()),
            tubes(TubeUse::FrameArm, arm, inputs.lever_m, arms),
        ]
    }

    fn along_the_string(&self) -> impl Iterator<Item = Tubes> + '_ {
        let length_m = self.inputs.mirrors as f64 * self.inputs.pitch_m;
        let along = |used_for, stock: Stock, count| tubes(used_for, stock.section, length_m, count);
        let rail = self.transmission.rail;
        let bar = match self.transmission.mover {
            Mover::Loops(_) => None,
            Mover::PushRods(rod) => Some(along(TubeUse::PushRod, rod, MOTIONS as usize)),
            Mover::Bar(bar) => Some(along(TubeUse::Bar, bar, 1)),
        };
        rail.map(|rail| along(TubeUse::Rail, rail, 1))
            .into_iter()
            .chain(bar)
    }
}

pub const fn tubes(used_for: TubeUse, section: Chs, length_m: f64, count: usize) -> Tubes {
    Tubes {
        used_for,
        section,
        pieces: Pieces { length_m, count },
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::parts::tests::string;
    use crate::{Gear, Joint, Setting, size_string};

    /// The pieces weigh what the string's sections weigh without its levers, which are solid bars.
    #[test]
    fn the_pieces_weigh_what_the_parts_do() {
        let sliding = Gear {
            joint: Joint::Ball,
            setting: Setting::Lever,
            handing: Handing::Bar,
        };
        let pushed = Gear {
            handing: Handing::PushRods { guides: 1 },
            ..Gear::CUSTOMARY
        };
        for (gear, slope_rad, on_rail) in [
            (Gear::CUSTOMARY, 0.0, true),
            (Gear::CUSTOMARY, 0.2, true),
            (Gear::CUSTOMARY, 0.2, false),
            (sliding, 0.1, true),
            (pushed, 0.1, true),
            (pushed, 0.0, false),
        ] {
            let inputs = StringInputs {
                gear,
                rail_slope_rad: slope_rad,
                on_rail,
                ..string()
            };
            let masses = size_string(&inputs).unwrap().masses;
            let cut_kg: f64 = cut_list(&inputs)
                .unwrap()
                .iter()
                .map(|tubes| {
                    let length_m = tubes.pieces.length_m * tubes.pieces.count as f64;
                    length_m * tubes.section.kg_m()
                })
                .sum();
            let wanted_kg = masses.sections_kg() - masses.levers_kg;
            assert!(
                (cut_kg / wanted_kg - 1.0).abs() < 1e-9,
                "{cut_kg} {wanted_kg}"
            );
        }
    }
}
