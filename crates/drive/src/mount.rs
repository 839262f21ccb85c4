//! The mounts of one string: how its joint stands when the reference mirror's normal is given.

use std::f64::consts::PI;

use field::{Plan, StringRow};
use geometry::{LANES, Lane, LaneVec3, Vec3, lane};

use crate::frame::{Frame, Turn};
use crate::mechanism::Mechanism;
use crate::offsets::Motion;
use crate::reflection::{Incidence, angle_between_rad, normal_between};
use crate::tolerances::{Alignment, BeamVariance, Posture, Tolerances, arc_cosine_rad};

/// Below this a ball has not turned since alignment.
const LEAST_TURN: f64 = 1e-12;

/// Corners of a square and halfway between them, as shares of its sides.
const RIM: [[f64; 2]; LANES] = [
    [0.0, 0.0],
    [0.5, 0.0],
    [1.0, 0.0],
    [1.0, 0.5],
    [1.0, 1.0],
    [0.5, 1.0],
    [0.0, 1.0],
    [0.0, 0.5],
];

/// What the mounts of a string turn on.
#[derive(Clone, Copy, Debug)]
enum Joint {
    /// A first axis fixed to the ground and a second one that it carries, as they rest.
    Axes(Frame),
    /// A ball that does not roll.
    Ball,
}

/// One string's mounts: their joint, target of the reference mirror and posture at alignment.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Mount {
    joint: Joint,
    /// From the reference mirror to its aim point.
    pub target: Vec3,
    pub alignment: Alignment,
    /// The errors that reach the mirrors through this linkage.
    pub tolerances: Tolerances,
    /// Cosine and sine of the farthest turn from alignment.
    stop: [f64; 2],
}

/// Random beam error that all mirrors of a string have alike under eight suns.
#[derive(Default)]
pub(crate) struct Blur {
    pub in_plane_rad2: Lane,
    pub across_rad2: Lane,
    pub in_plane_per_twist: Lane,
    pub across_per_twist: Lane,
}

impl Blur {
    #[inline(always)]
    fn set(&mut self, column: usize, spread: BeamVariance, per_twist: BeamVariance) {
        self.in_plane_rad2[column] = spread.in_plane_rad2;
        self.across_rad2[column] = spread.across_rad2;
        self.in_plane_per_twist[column] = per_twist.in_plane_rad2;
        self.across_per_twist[column] = per_twist.across_rad2;
    }
}

impl Mount {
    pub fn new(plan: &Plan, row: &StringRow, mechanism: &Mechanism) -> Self {
        let target = plan.target(row.reference_mirror());
        let normal = normal_between(mechanism.alignment_sun, target);
        let travel = &mechanism.travel;
        let (joint, alignment) =
            match Frame::at_rest(row.first_axis, row.bearing_rad, mechanism.latitude_rad) {
                Some(rest) => {
                    let turn = rest.turn_onto(normal);
                    let alignment = Alignment {
                        turn,
                        arm: arm_along_first(turn.sin_second),
                        frame: rest.turned(turn),
                    };
                    (Joint::Axes(rest), alignment)
                }
                None => {
                    let alignment = Alignment {
                        turn: Turn::NONE,
                        arm: 0.0,
                        frame: Frame::on_ball(normal, row.bearing_rad),
                    };
                    (Joint::Ball, alignment)
                }
            };
        let farthest_rad = match joint {
            Joint::Axes(_) => travel.axes_rad,
            Joint::Ball => travel.ball_rad,
        };
        let (sine, cosine) = libm::sincos(farthest_rad.clamp(0.0, PI));
        Self {
            joint,
            target,
            alignment,
            tolerances: mechanism
                .tolerances
                .through(row.linkage)
                .sensed(mechanism.sensing, row.mirror_count),
            stop: [cosine, sine],
        }
    }

    /// The frame in which the turns of levers are counted: the axes at rest, or the ball when it was
    /// aligned.
    pub const fn base(&self) -> &Frame {
        match &self.joint {
            Joint::Axes(rest) => rest,
            Joint::Ball => &self.alignment.frame,
        }
    }

    /// The axis fixed to the ground; of a ball the first direction in which it is moved at alignment.
    pub const fn first_axis(&self) -> Vec3 {
        match &self.joint {
            Joint::Axes(rest) => rest.first,
            Joint::Ball => self.alignment.frame.first,
        }
    }

    /// Turned until the normals point along `normals`, or as far as the stops let them. No branch in either loop: the
    /// compiler then takes several suns abreast.
    #[inline(always)]
    pub fn motion(&self, normals: &LaneVec3) -> Motion {
        let mut motion = Motion::default();
        match &self.joint {
            Joint::Axes(rest) => {
                for column in 0..LANES {
                    let turn = self.stopped(rest.turn_onto(lane::vector(normals, column)));
                    motion.set(column, &rest.turned(turn), &turn.less(&self.alignment.turn));
                }
            }
            Joint::Ball => {
                let then = &self.alignment.frame;
                for column in 0..LANES {
                    let normal = self.bent(lane::vector(normals, column));
                    let frame = then.turned_onto(then.normal, normal);
                    motion.set(column, &frame, &Turn::NONE);
                }
            }
        }
        motion
    }

    /// Random beam error as the mount stands under eight suns.
    #[inline(always)]
    pub fn blur(&self, motion: &Motion, suns: &LaneVec3) -> Blur {
        let mut blur = Blur::default();
        let (tolerances, then) = (&self.tolerances, &self.alignment);
        match &self.joint {
            Joint::Axes(rest) => {
                for column in 0..LANES {
                    let frame = motion.frame(column);
                    let posture = Posture {
                        axis: rest.first.dot(frame.first),
                        turned_rad: motion.cosines(column).map(arc_cosine_rad),
                        arm: arm_along_first(rest.first.dot(frame.normal)),
                        incidence: Incidence::new(lane::vector(suns, column), &frame),
                        frame,
                    };
                    let spread = tolerances.beam_variance(then, &posture);
                    blur.set(column, spread, posture.per_twist());
                }
            }
            Joint::Ball => {
                for column in 0..LANES {
                    let frame = motion.frame(column);
                    let posture = Posture {
                        axis: 1.0,
                        turned_rad: self.ball_turns_rad(frame.normal),
                        arm: 0.0,
                        incidence: Incidence::new(lane::vector(suns, column), &frame),
                        frame,
                    };
                    let spread = tolerances.beam_variance(then, &posture);
                    blur.set(column, spread, posture.per_twist());
                }
            }
        }
        blur
    }

    /// Whether no stop keeps the mount from this normal.
    #[inline(always)]
    pub fn reaches(&self, normal: Vec3) -> bool {
        let [cosine, _] = self.stop;
        match &self.joint {
            Joint::Axes(rest) => {
                let since = rest.turn_onto(normal).less(&self.alignment.turn);
                since.cos_first >= cosine && since.cos_second >= cosine
            }
            Joint::Ball => self.alignment.frame.normal.dot(normal) >= cosine,
        }
    }

    /// A turn about both axes, each held back at its stop.
    #[inline(always)]
    fn stopped(&self, turn: Turn) -> Turn {
        let [least, sine] = self.stop;
        let then = &self.alignment.turn;
        let since = turn.less(then);
        let held = Turn {
            cos_first: since.cos_first.max(least),
            sin_first: chosen(
                since.cos_first < least,
                sine.copysign(since.sin_first),
                since.sin_first,
            ),
            cos_second: since.cos_second.max(least),
            sin_second: chosen(
                since.cos_second < least,
                sine.copysign(since.sin_second),
                since.sin_second,
            ),
        };
        held.plus(then)
    }

    /// A normal, bent from that of alignment no farther than a ball's stop.
    #[inline(always)]
    fn bent(&self, normal: Vec3) -> Vec3 {
        let [cosine, sine] = self.stop;
        let then = self.alignment.frame.normal;
        let along = then.dot(normal);
        let sideways = normal - then * along;
        let held = then * cosine + sideways * (sine / sideways.length().max(LEAST_TURN));
        let is_held = along < cosine;
        Vec3::new(
            chosen(is_held, held.x, normal.x),
            chosen(is_held, held.y, normal.y),
            chosen(is_held, held.z, normal.z),
        )
    }

    /// Turns [rad] since alignment that this normal asks for, whatever the stops: about both axes, or
    /// the bend of a ball and none.
    pub fn asked_rad(&self, normal: Vec3) -> [f64; 2] {
        match &self.joint {
            Joint::Axes(rest) => {
                let since = rest.turn_onto(normal).less(&self.alignment.turn);
                [
                    libm::atan2(since.sin_first, since.cos_first),
                    libm::atan2(since.sin_second, since.cos_second),
                ]
            }
            Joint::Ball => [angle_between_rad(self.alignment.frame.normal, normal), 0.0],
        }
    }

    /// Eight normals at the ends of the travel that these normals ask for.
    pub fn ends_of_travel(&self, normals: impl Iterator<Item = Vec3>) -> [Vec3; LANES] {
        match &self.joint {
            Joint::Axes(rest) => {
                let travel_rad = self.travel_rad(rest, normals);
                RIM.map(|shares| {
                    let since_rad = [0, 1].map(|axis| {
                        let [least_rad, most_rad] = travel_rad[axis];
                        least_rad + shares[axis] * (most_rad - least_rad)
                    });
                    let turn = Turn::by(since_rad).plus(&self.alignment.turn);
                    rest.turned(self.stopped(turn)).normal
                })
            }
            Joint::Ball => {
                let Frame {
                    first,
                    second,
                    normal,
                } = self.alignment.frame;
                let cosines = normals.map(|asked| normal.dot(asked));
                let cosine = cosines.fold(1.0, f64::min);
                let sine = (1.0 - cosine * cosine).sqrt();
                RIM.map(|shares| {
                    let sideways = first * (shares[0] - 0.5) + second * (shares[1] - 0.5);
                    self.bent(normal * cosine + sideways * (sine / sideways.length()))
                })
            }
        }
    }

    /// Least and most of the turns since alignment about each axis that these normals ask for [rad].
    fn travel_rad(&self, rest: &Frame, normals: impl Iterator<Item = Vec3>) -> [[f64; 2]; 2] {
        // Least and most by rank, each with sine and cosine.
        let mut ends = [[(0.0, [0.0, 1.0]); 2]; 2];
        for normal in normals {
            let since = rest.turn_onto(normal).less(&self.alignment.turn);
            let asked = [
                [since.sin_first, since.cos_first],
                [since.sin_second, since.cos_second],
            ];
            for ([least, most], [sine, cosine]) in ends.iter_mut().zip(asked) {
                let rank = rank(sine, cosine);
                if rank < least.0 {
                    *least = (rank, [sine, cosine]);
                }
                if rank > most.0 {
                    *most = (rank, [sine, cosine]);
                }
            }
        }
        ends.map(|ends| ends.map(|(_, [sine, cosine])| libm::atan2(sine, cosine)))
    }

    /// The smallest rotation since alignment, split between the two directions that the drive moves
    /// [rad].
    #[inline(always)]
    fn ball_turns_rad(&self, normal: Vec3) -> [f64; 2] {
        let then = &self.alignment.frame;
        let turn = then.normal.cross(normal);
        let angle_rad = arc_cosine_rad(then.normal.dot(normal));
        let scale_rad = angle_rad / turn.length().max(LEAST_TURN);
        [then.first, then.second].map(|axis| scale_rad * turn.dot(axis))
    }
}

/// One of two numbers, without a branch.
#[inline(always)]
const fn chosen(is_first: bool, first: f64, second: f64) -> f64 {
    if is_first { first } else { second }
}

/// Grows with an angle from −π to π as its sine and cosine tell it, and needs no arc.
fn rank(sine: f64, cosine: f64) -> f64 {
    let quarter = sine / (sine.abs() + cosine.abs());
    if cosine < 0.0 {
        2_f64.copysign(sine) - quarter
    } else {
        quarter
    }
}

/// Part along the first direction of the arm that carries the second axis, square to both, from the sine of the turn
/// about that.
#[inline(always)]
const fn arm_along_first(sin_second: f64) -> f64 {
    -sin_second
}
