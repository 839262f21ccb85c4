//! The mounts of one string: how its joint stands when the reference mirror's normal is given.

use field::{Plan, StringRow};
use geometry::Vec3;

use crate::frame::{Frame, Turn};
use crate::mechanism::Mechanism;
use crate::reflection::{Incidence, normal_between};
use crate::tolerances::{Alignment, Posture, Tolerances, arc_cosine_rad};

/// Below this a ball has not turned since alignment.
const LEAST_TURN: f64 = 1e-12;

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
}

/// A mount turned until its normal points where it is wanted.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Turned {
    pub frame: Frame,
    /// Turns about both axes; none for a ball.
    turn: Turn,
}

impl Mount {
    pub fn new(plan: &Plan, row: &StringRow, mechanism: &Mechanism) -> Self {
        let target = plan.target(row.reference_mirror());
        let normal = normal_between(mechanism.alignment_sun, target);
        let (joint, alignment) =
            match Frame::at_rest(row.first_axis, row.bearing_rad, mechanism.latitude_rad) {
                Some(rest) => {
                    let turn = rest.turn_onto(normal);
                    let alignment = Alignment {
                        turn,
                        arm: rest.arm(turn),
                        frame: rest.turned(turn),
                    };
                    (Joint::Axes(rest), alignment)
                }
                None => {
                    let alignment = Alignment {
                        turn: Turn::NONE,
                        arm: Vec3::ZERO,
                        frame: Frame::on_ball(normal, row.bearing_rad),
                    };
                    (Joint::Ball, alignment)
                }
            };
        Self {
            joint,
            target,
            alignment,
            tolerances: mechanism.tolerances.through(row.linkage),
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

    #[inline(always)]
    pub fn turned(&self, normal: Vec3) -> Turned {
        match &self.joint {
            Joint::Axes(rest) => {
                let turn = rest.turn_onto(normal);
                Turned {
                    frame: rest.turned(turn),
                    turn,
                }
            }
            Joint::Ball => {
                let then = &self.alignment.frame;
                Turned {
                    frame: then.turned_onto(then.normal, normal),
                    turn: Turn::NONE,
                }
            }
        }
    }

    /// Turns since alignment.
    #[inline(always)]
    pub fn since(&self, turned: &Turned) -> Turn {
        turned.turn.less(&self.alignment.turn)
    }

    #[inline(always)]
    pub fn posture(&self, turned: &Turned, sun: Vec3) -> Posture {
        let frame = turned.frame;
        let incidence = Incidence::new(sun, frame.normal, frame.second);
        match &self.joint {
            Joint::Axes(rest) => {
                let since = self.since(turned);
                Posture {
                    axes: [rest.first, frame.second],
                    turned_rad: [
                        arc_cosine_rad(since.cos_first),
                        arc_cosine_rad(since.cos_second),
                    ],
                    arm: rest.arm(turned.turn),
                    frame,
                    incidence,
                }
            }
            Joint::Ball => Posture {
                axes: [frame.first, frame.second],
                turned_rad: self.ball_turns_rad(frame.normal),
                arm: Vec3::ZERO,
                frame,
                incidence,
            },
        }
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
