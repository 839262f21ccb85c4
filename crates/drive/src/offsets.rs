//! What each mirror of a string has of its own, and the normal that follows from the shared motion.

use field::{Linkage, Plan, StringRow};
use geometry::{LANES, Lane, LaneVec3, Vec3, lane};

use crate::frame::{Frame, Turn};
use crate::gains::Gains;
use crate::mechanism::{Mechanism, OffsetPlace};
use crate::mount::Mount;
use crate::reflection::{normal_between, reflected};

/// Offsets of a string's mirrors, in their order.
#[derive(Clone, Debug)]
pub(crate) enum Offsets {
    /// Normals in the turning frame of the mount.
    Shims(Vec<Vec3>),
    /// The tilt of each post's head: images of the ground axes.
    Heads(Vec<Frame>),
    /// The posture of each mount when all levers stand square to their lines; all turn alike.
    Parallel(Vec<Turn>),
    /// Levers that turn unalike.
    Levers(Vec<Lever>),
    /// Targets: the tips of sliding levers stand towards sun plus target.
    Tips(Vec<Vec3>),
}

/// The two levers of a mount.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Lever {
    /// The mount's turns when both stand square to their lines.
    square: Turn,
    /// Travel of each end from square, at alignment, over the lever's length.
    start: [f64; 2],
    /// Length of the reference mirror's lever over this one's, for each axis.
    gain: [f64; 2],
}

/// What all mirrors of a string have alike under eight suns.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Motion {
    pub first: LaneVec3,
    pub second: LaneVec3,
    pub normal: LaneVec3,
    /// Sine and cosine of the turn about each axis since alignment.
    sine: [Lane; 2],
    cosine: [Lane; 2],
}

impl Motion {
    /// Writes the mount of one sun.
    #[inline(always)]
    pub fn set(&mut self, column: usize, frame: &Frame, since: &Turn) {
        lane::set_vector(&mut self.first, column, frame.first);
        lane::set_vector(&mut self.second, column, frame.second);
        lane::set_vector(&mut self.normal, column, frame.normal);
        self.sine[0][column] = since.sin_first;
        self.sine[1][column] = since.sin_second;
        self.cosine[0][column] = since.cos_first;
        self.cosine[1][column] = since.cos_second;
    }

    /// The mount under one sun.
    #[inline(always)]
    pub fn frame(&self, column: usize) -> Frame {
        Frame {
            first: lane::vector(&self.first, column),
            second: lane::vector(&self.second, column),
            normal: lane::vector(&self.normal, column),
        }
    }

    /// Cosines of its turns since alignment.
    #[inline(always)]
    pub const fn cosines(&self, column: usize) -> [f64; 2] {
        [self.cosine[0][column], self.cosine[1][column]]
    }
}

impl Offsets {
    /// Sets every mirror of a string on its target under the alignment sun. What
    /// [`Mechanism::check`] refuses is taken as equal angles with shims.
    pub fn set(
        plan: &Plan,
        row: &StringRow,
        mount: &Mount,
        mechanism: &Mechanism,
        gains: &Gains,
    ) -> Self {
        let targets = row.mirrors().map(|mirror| plan.target(mirror));
        let exact = |target| normal_between(mechanism.alignment_sun, target);
        let aligned = &mount.alignment.frame;
        let turn = |target| mount.base().turn_onto(exact(target));
        let sound = mechanism.check(row.first_axis, row.linkage).is_ok();
        let parts = if sound {
            (row.linkage, mechanism.offset)
        } else {
            (Linkage::EqualAngle, OffsetPlace::Shim)
        };
        match parts {
            (Linkage::SlidingLever, _) => Self::Tips(targets.collect()),
            (Linkage::EqualTravel, _) => {
                let then = mount.alignment.turn;
                let lever = |target| Lever::clamped_askew(turn(target), then);
                Self::Levers(targets.map(lever).collect())
            }
            (Linkage::Graded, _) => {
                let gains = gains.along(plan, row, mount, mechanism.alignment_sun);
                let lever = |(target, gain)| Lever::graded(turn(target), gain);
                Self::Levers(targets.zip(gains).map(lever).collect())
            }
            (Linkage::EqualAngle, OffsetPlace::Shim) => Self::Shims(
                targets
                    .map(|target| aligned.components(exact(target)))
                    .collect(),
            ),
            (Linkage::EqualAngle, OffsetPlace::Post) => Self::Heads(
                targets
                    .map(|target| Frame::GROUND.turned_onto(aligned.normal, exact(target)))
                    .collect(),
            ),
            (Linkage::EqualAngle, OffsetPlace::Lever) => {
                Self::Parallel(targets.map(turn).collect())
            }
        }
    }

    /// Turns the mirror at `place` by `turn` beyond its setting: its panel on the mount, its levers'
    /// clamps, its post's head, or the tip of its sliding lever under the alignment sun.
    pub fn turn_beyond(&mut self, place: usize, turn: &Turn, mount: &Mount, alignment_sun: Vec3) {
        let aligned = &mount.alignment.frame;
        let on_mount = Frame::GROUND.turned(*turn);
        match self {
            Self::Shims(shims) => shims[place] = on_mount.direction(shims[place]),
            Self::Heads(heads) => {
                let turned = |direction: Vec3| {
                    aligned.direction(on_mount.direction(aligned.components(direction)))
                };
                heads[place] = heads[place].map(turned);
            }
            Self::Parallel(squares) => squares[place] = squares[place].plus(turn),
            Self::Levers(levers) => levers[place] = levers[place].clamped_beyond(turn),
            Self::Tips(targets) => {
                let normal = aligned.components(normal_between(alignment_sun, targets[place]));
                let turned = aligned.direction(on_mount.direction(normal));
                targets[place] = reflected(alignment_sun, turned);
            }
        }
    }

    /// The sun that cranks must stand parallel to, so that the mirror at `place` has this normal; where
    /// there are no cranks, the sun as it is.
    pub fn believed_sun(&self, place: usize, normal: Vec3, sun: Vec3) -> Vec3 {
        match self {
            Self::Tips(targets) => reflected(targets[place], normal),
            _ => sun,
        }
    }

    /// Unit normal of the mirror at `place` in the string.
    #[inline(always)]
    pub fn write_normal(
        &self,
        place: usize,
        base: &Frame,
        motion: &Motion,
        suns: &LaneVec3,
        normal: &mut LaneVec3,
    ) {
        match self {
            Self::Shims(shims) => {
                let axes = [&motion.first, &motion.second, &motion.normal];
                combine(axes, shims[place], normal);
            }
            Self::Heads(heads) => write_image(&heads[place], &motion.normal, normal),
            Self::Parallel(squares) => {
                write_turned(&squares[place], base, &motion.sine, &motion.cosine, normal);
            }
            Self::Levers(levers) => levers[place].write_normal(base, motion, normal),
            Self::Tips(targets) => write_bisector(targets[place], suns, normal),
        }
    }
}

impl Lever {
    /// Levers keyed alike to all mounts, so that they stand askew at alignment by as much as the
    /// mirrors do; those of the reference mirror, whose turn is `reference`, stand square.
    fn clamped_askew(turn: Turn, reference: Turn) -> Self {
        let askew = turn.less(&reference);
        Self {
            square: reference,
            start: [askew.sin_first, askew.sin_second],
            gain: [1.0, 1.0],
        }
    }

    /// Levers that all stand square at alignment, of graded lengths.
    const fn graded(turn: Turn, gain: [f64; 2]) -> Self {
        Self {
            square: turn,
            start: [0.0, 0.0],
            gain,
        }
    }

    /// The mount's turns at alignment.
    pub fn aligned(&self) -> Turn {
        let up = self.start.map(|sine| (1.0 - sine * sine).sqrt());
        self.square.plus(&Turn {
            cos_first: up[0],
            sin_first: self.start[0],
            cos_second: up[1],
            sin_second: self.start[1],
        })
    }

    /// Length of this mirror's lever over the reference mirror's, for each axis.
    pub fn length_ratio(&self) -> [f64; 2] {
        self.gain.map(f64::recip)
    }

    /// The same lever clamped so that its mount is turned by `turn` beyond.
    const fn clamped_beyond(&self, turn: &Turn) -> Self {
        Self {
            square: self.square.plus(turn),
            ..*self
        }
    }

    /// The line's travel moves each end; a lever, that of the reference mirror too, stays at its dead
    /// point when it would have to go beyond.
    #[inline(always)]
    fn write_normal(&self, base: &Frame, motion: &Motion, normal: &mut LaneVec3) {
        let mut sine = [[0.0; LANES]; 2];
        let mut cosine = [[0.0; LANES]; 2];
        for axis in 0..2 {
            for lane in 0..LANES {
                let (led, up) = (motion.sine[axis][lane], motion.cosine[axis][lane]);
                let led = if up > 0.0 { led } else { 1f64.copysign(led) };
                let end = (self.start[axis] + self.gain[axis] * led).clamp(-1.0, 1.0);
                sine[axis][lane] = end;
                cosine[axis][lane] = (1.0 - end * end).sqrt();
            }
        }
        write_turned(&self.square, base, &sine, &cosine, normal);
    }
}

/// The normal of a mount turned from `square` by the angles with the given sines and cosines.
#[inline(always)]
fn write_turned(
    square: &Turn,
    base: &Frame,
    sine: &[Lane; 2],
    cosine: &[Lane; 2],
    normal: &mut LaneVec3,
) {
    for lane in 0..LANES {
        let turn = square.plus(&Turn {
            cos_first: cosine[0][lane],
            sin_first: sine[0][lane],
            cos_second: cosine[1][lane],
            sin_second: sine[1][lane],
        });
        let along_second = -turn.sin_first * turn.cos_second;
        let along_normal = turn.cos_first * turn.cos_second;
        normal[0][lane] = base.first.x * turn.sin_second
            + base.second.x * along_second
            + base.normal.x * along_normal;
        normal[1][lane] = base.first.y * turn.sin_second
            + base.second.y * along_second
            + base.normal.y * along_normal;
        normal[2][lane] = base.first.z * turn.sin_second
            + base.second.z * along_second
            + base.normal.z * along_normal;
    }
}

/// Square to the line from the pivot to the tip of a sliding lever, which stands towards sun plus
/// target: Pfahl, J. Sol. Energy Eng. 136 (2014) 014501.
#[inline(always)]
fn write_bisector(target: Vec3, suns: &LaneVec3, normal: &mut LaneVec3) {
    for lane in 0..LANES {
        let (x, y, z) = (
            suns[0][lane] + target.x,
            suns[1][lane] + target.y,
            suns[2][lane] + target.z,
        );
        let scale = 1.0 / (x * x + y * y + z * z).sqrt();
        normal[0][lane] = x * scale;
        normal[1][lane] = y * scale;
        normal[2][lane] = z * scale;
    }
}

/// Sum of three lanes of vectors, each by its factor.
#[inline(always)]
fn combine(vectors: [&LaneVec3; 3], factors: Vec3, sum: &mut LaneVec3) {
    for (axis, column) in sum.iter_mut().enumerate() {
        *column = lane_sum(vectors.map(|vector| &vector[axis]), factors);
    }
}

/// Images of `vectors` by the rotation whose images of the ground axes `head` holds.
#[inline(always)]
fn write_image(head: &Frame, vectors: &LaneVec3, images: &mut LaneVec3) {
    let columns = [head.first, head.second, head.normal].map(|column| column.to_array());
    for (axis, image) in images.iter_mut().enumerate() {
        let factors = Vec3::from_array(columns.map(|column| column[axis]));
        *image = lane_sum([&vectors[0], &vectors[1], &vectors[2]], factors);
    }
}

/// Sum of three lanes, each by its factor; put together before it is stored, so that eight are computed abreast.
#[inline(always)]
fn lane_sum(lanes: [&Lane; 3], factors: Vec3) -> Lane {
    let mut sum = [0.0; LANES];
    for lane in 0..LANES {
        sum[lane] =
            lanes[0][lane] * factors.x + lanes[1][lane] * factors.y + lanes[2][lane] * factors.z;
    }
    sum
}
