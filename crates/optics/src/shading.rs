//! Shading and blocking: the share of a panel that other panels leave open.

use geometry::LANES;

use crate::coarse::{Coarse, CoarseVec3, column, dot, greater, lanes_where, lesser};
use crate::cover::{Cover, Outline};
use crate::neighbours::{Neighbourhood, Post, SunSpread};
use crate::panel::Panel;
use crate::tower::TowerShadows;

/// A beam is never taken as narrowed to less than this share on its way to a neighbour.
const LEAST_SHRINK: f32 = 0.1;
/// A shadow is never taken as more stretched than this by the turn between two panels.
const MOST_STRETCH: f32 = 1.25;
/// A first axis this near to the normal leaves the panel's edge undetermined: sin².
const LEAST_PLANAR2: f32 = 1e-2;

/// Share of a mirror's panel that is lit, and share of the lit part that is not blocked, under the
/// suns that `spread` and `tower` were made for. `power_per_m` is 1 ÷ focal length.
pub(crate) fn open_shares(
    hood: &Neighbourhood,
    spread: &SunSpread,
    tower: &TowerShadows,
    mirror: usize,
    panel: &Panel,
    power_per_m: f32,
    cover: &mut Cover,
) -> (Coarse, Coarse) {
    let own = hood.post(mirror);
    cover.clear(own.half_m);
    let sunward = Casting::new(panel, own.first_axis, 1.0);
    spread.choose(hood.shaders(mirror), |other| {
        let shader = Neighbour::new(own, hood.post(other));
        shader.shade(&sunward, panel, cover);
    });
    let is_towered = hood.is_towered(mirror, spread);
    let mut shaded_m2 = cover.area_m2;
    if is_towered {
        tower.add_uncovered(own, panel, &sunward, cover, &mut shaded_m2);
    }
    let blockers = hood.blockers(mirror);
    if !blockers.is_empty() {
        let aimward = Aimward::new(panel, own.first_axis, power_per_m);
        for &other in blockers {
            let blocker = Neighbour::new(own, hood.post(other as usize));
            blocker.block(&aimward, panel, cover);
        }
    }
    let mut covered_m2 = cover.area_m2;
    if is_towered {
        tower.add_uncovered(own, panel, &sunward, cover, &mut covered_m2);
    }
    shares(own.area_m2(), &shaded_m2, &covered_m2)
}

fn shares(area_m2: f32, shaded_m2: &Coarse, covered_m2: &Coarse) -> (Coarse, Coarse) {
    let (mut lit, mut unblocked) = ([0.0; LANES], [0.0; LANES]);
    for lane in 0..LANES {
        let lit_m2 = greater(area_m2 - shaded_m2[lane], 0.0);
        let open_m2 = greater(area_m2 - covered_m2[lane], 0.0);
        lit[lane] = lit_m2 / area_m2;
        unblocked[lane] = lesser(open_m2 / greater(lit_m2, 1e-12 * area_m2), 1.0);
    }
    (lit, unblocked)
}

/// Casts what stands before a panel onto its plane along parallel rays.
pub(crate) struct Casting {
    /// Takes a place to the panel's `across`, along the rays.
    pub across: CoarseVec3,
    /// The same for `along`.
    pub along: CoarseVec3,
    /// How far a step along the normal is cast against `across` and `along`.
    slant: [Coarse; 2],
    /// 1 ÷ (2·cos θ): turn of the normal for each turn of the way to the aim point.
    turn_per_aim: Coarse,
    /// Turn about the normal for each turn of the first axis.
    about_per_axis: Coarse,
    /// Turn about the normal for each turn of the normal along `across`.
    about_per_turn: Coarse,
}

impl Casting {
    /// `towards_sun` is 1 for rays from the sun, −1 for reflected ones: both make the same angle
    /// with the normal and differ in the sign of their run along the panel.
    fn new(panel: &Panel, first_axis: [f32; 3], towards_sun: f32) -> Self {
        let none = [0.0; LANES];
        let mut casting = Self {
            across: [none; 3],
            along: [none; 3],
            slant: [none; 2],
            turn_per_aim: none,
            about_per_axis: none,
            about_per_turn: none,
        };
        for lane in 0..LANES {
            let inverse = 1.0 / greater(panel.cosine[lane], 1e-6);
            let slant = towards_sun * inverse;
            casting.turn_per_aim[lane] = 0.5 * inverse;
            let axis_out = dot(first_axis, column(&panel.normal, lane));
            let planar = greater(1.0 - axis_out * axis_out, LEAST_PLANAR2).sqrt();
            casting.about_per_axis[lane] = -1.0 / planar;
            casting.about_per_turn[lane] = axis_out / planar;
            casting.slant[0][lane] = slant * panel.sun_across[lane];
            casting.slant[1][lane] = slant * panel.sun_along[lane];
            for axis in 0..3 {
                let normal = panel.normal[axis][lane];
                casting.across[axis][lane] =
                    panel.across[axis][lane] - casting.slant[0][lane] * normal;
                casting.along[axis][lane] =
                    panel.along[axis][lane] - casting.slant[1][lane] * normal;
            }
        }
        casting
    }
}

/// Another panel that may stand in the way of a panel's light.
struct Neighbour<'a> {
    own: &'a Post,
    other: &'a Post,
    away_m: [f32; 3],
}

/// Where a neighbour's middle falls on a panel's plane under the eight suns.
struct Cast {
    centre_m: [Coarse; 2],
    /// How many times as large as it is.
    scale: Coarse,
    /// A bit for each lane in which it may meet the panel.
    near: u32,
}

impl<'a> Neighbour<'a> {
    #[inline(always)]
    fn new(own: &'a Post, other: &'a Post) -> Self {
        Self {
            own,
            other,
            away_m: own.away_m(other),
        }
    }

    /// Shades the panel where this neighbour stands before the sun.
    #[inline(always)]
    fn shade(&self, sunward: &Casting, panel: &Panel, cover: &mut Cover) {
        let reach_m: [f32; 2] = std::array::from_fn(|side| {
            MOST_STRETCH * self.other.half_m[side] + self.own.half_m[side]
        });
        let (mut cast, mut is_near) = (Cast::none(), [false; LANES]);
        for lane in 0..LANES {
            let x_m = dot(self.away_m, column(&sunward.across, lane));
            let y_m = dot(self.away_m, column(&sunward.along, lane));
            cast.centre_m[0][lane] = x_m;
            cast.centre_m[1][lane] = y_m;
            is_near[lane] = (x_m.abs() < reach_m[0]) & (y_m.abs() < reach_m[1]);
        }
        cast.near = lanes_where(&is_near);
        if cast.near != 0 {
            let mut is_ahead = [false; LANES];
            for lane in 0..LANES {
                is_ahead[lane] = dot(self.away_m, column(&panel.normal, lane)) > 0.0;
            }
            cast.near &= lanes_where(&is_ahead);
        }
        if cast.near != 0 {
            cover.add(&self.outline(&cast, sunward, panel), cast.near);
        }
    }

    /// Covers what this neighbour blocks.
    #[inline(always)]
    fn block(&self, aimward: &Aimward, panel: &Panel, cover: &mut Cover) {
        let casting = &aimward.casting;
        let (mut cast, mut is_near) = (Cast::none(), [false; LANES]);
        let half_m = self.other.half_m.map(|half_m| MOST_STRETCH * half_m);
        for lane in 0..LANES {
            let ahead_m = dot(self.away_m, column(&panel.normal, lane));
            let x_m = dot(self.away_m, column(&casting.across, lane));
            let y_m = dot(self.away_m, column(&casting.along, lane));
            let shrink = greater(1.0 - ahead_m * aimward.focus_per_m[lane], LEAST_SHRINK);
            let x_room_m = self.own.half_m[0] * shrink + half_m[0] - x_m.abs();
            let y_room_m = self.own.half_m[1] * shrink + half_m[1] - y_m.abs();
            cast.scale[lane] = 1.0 / shrink;
            cast.centre_m[0][lane] = x_m / shrink;
            cast.centre_m[1][lane] = y_m / shrink;
            is_near[lane] = lesser(lesser(x_room_m, y_room_m), ahead_m) > 0.0;
        }
        cast.near = lanes_where(&is_near);
        if cast.near != 0 {
            cover.add(&self.outline(&cast, casting, panel), cast.near);
        }
    }

    /// The two normals differ by `turn` = (difference of the ways to the aim points) ÷ (2·cos θ), as
    /// far as it is square to the normal; the two panels are also turned about their normals, by what
    /// the first axes and that turn make of the edges (second axis ∝ first axis × normal). To first
    /// order this stretches the outline along either side by turn × slant and lets its sides lean.
    #[inline(always)]
    fn outline(&self, cast: &Cast, casting: &Casting, panel: &Panel) -> Outline {
        let aim_turn = difference(self.other.to_aim, self.own.to_aim);
        let axis_turn = difference(self.other.first_axis, self.own.first_axis);
        let none = [0.0; LANES];
        let mut outline = Outline {
            centre_m: cast.centre_m,
            half_m: [none; 2],
            leans: [none; 2],
        };
        for lane in 0..LANES {
            let (across, along) = (column(&panel.across, lane), column(&panel.along, lane));
            let per_aim = casting.turn_per_aim[lane];
            let turn_across = per_aim * dot(aim_turn, across);
            let turn_along = per_aim * dot(aim_turn, along);
            let about_normal = casting.about_per_turn[lane] * turn_across
                + casting.about_per_axis[lane] * dot(axis_turn, across);
            let (slant_x, slant_y) = (casting.slant[0][lane], casting.slant[1][lane]);
            let scale = cast.scale[lane];
            outline.half_m[0][lane] =
                scale * self.other.half_m[0] * lesser(1.0 + turn_across * slant_x, MOST_STRETCH);
            outline.half_m[1][lane] =
                scale * self.other.half_m[1] * lesser(1.0 + turn_along * slant_y, MOST_STRETCH);
            outline.leans[0][lane] = turn_along * slant_x - about_normal;
            outline.leans[1][lane] = turn_across * slant_y + about_normal;
        }
        outline
    }
}

impl Cast {
    const fn none() -> Self {
        Self {
            centre_m: [[0.0; LANES]; 2],
            scale: [1.0; LANES],
            near: 0,
        }
    }
}

fn difference(a: [f32; 3], b: [f32; 3]) -> [f32; 3] {
    [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
}

/// Casts what stands in the way of reflected light onto a panel's plane. The rays run together in
/// the focus: from there a neighbour covers more of the panel than along parallel rays.
struct Aimward {
    casting: Casting,
    /// 1 ÷ distance of the focus from the panel's plane.
    focus_per_m: Coarse,
}

impl Aimward {
    /// `power_per_m` is 1 ÷ focal length.
    fn new(panel: &Panel, first_axis: [f32; 3], power_per_m: f32) -> Self {
        let mut focus_per_m = [0.0; LANES];
        for lane in 0..LANES {
            focus_per_m[lane] = power_per_m / greater(panel.cosine[lane], 1e-6);
        }
        Self {
            casting: Casting::new(panel, first_axis, -1.0),
            focus_per_m,
        }
    }
}
