//! Shading and blocking: the share of a panel that other panels leave open.

use geometry::LANES;

use crate::coarse::{Coarse, CoarseVec3, column, dot, greater, lanes_where, lesser};
use crate::cover::{Cover, Outline};
use crate::neighbours::{Neighbourhood, Post, SunSpread};
use crate::panel::Panel;
use crate::tower::TowerShadows;

/// A beam is never taken as narrowed to less than this share on its way to a neighbour.
const LEAST_SHRINK: f32 = 0.1;
/// A shadow hardly ever is more stretched than this by the turn between two panels.
const MOST_STRETCH: f32 = 1.25;
/// Corners of a neighbour may come before a panel's plane where its middle lies behind by up to this share
/// of its half sides.
const MOST_TURN: f32 = 0.2;

/// Share of a mirror's panel that is lit, and share of the lit part that is not blocked, under the
/// suns that `spread` and `tower` were made for; `cover` then tells which part other panels leave open.
/// `power_per_m` is 1 ÷ focal length.
#[inline(always)]
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
    let sunward = Casting::new(panel, 1.0);
    spread.choose(
        hood.shaders(mirror),
        #[inline(always)]
        |other| {
            let shader = Neighbour::new(own, hood.post(other));
            shader.shade(&sunward, panel, cover);
        },
    );
    let is_towered = hood.is_towered(mirror, spread);
    let mut shaded_m2 = cover.area_m2();
    if is_towered {
        tower.add_uncovered(own, panel, &sunward, cover, &mut shaded_m2);
    }
    let blockers = hood.blockers(mirror);
    if !blockers.is_empty() {
        let aimward = Aimward::new(panel, power_per_m);
        for &other in blockers {
            let blocker = Neighbour::new(own, hood.post(other as usize));
            blocker.block(&aimward, panel, cover);
        }
    }
    let mut covered_m2 = cover.area_m2();
    if is_towered {
        tower.add_uncovered(own, panel, &sunward, cover, &mut covered_m2);
    }
    shares(own.area_m2(), &shaded_m2, &covered_m2)
}

#[inline(always)]
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
    /// Directions of the suns.
    suns: CoarseVec3,
}

impl Casting {
    /// `towards_sun` is 1 for rays from the sun, −1 for reflected ones: both make the same angle
    /// with the normal and differ in the sign of their run along the panel.
    #[inline(always)]
    fn new(panel: &Panel, towards_sun: f32) -> Self {
        let none = [0.0; LANES];
        let mut casting = Self {
            across: [none; 3],
            along: [none; 3],
            suns: [none; 3],
        };
        for lane in 0..LANES {
            let inverse = 1.0 / greater(panel.cosine[lane], 1e-6);
            let slant = towards_sun * inverse;
            let slant_across = slant * panel.sun_across[lane];
            let slant_along = slant * panel.sun_along[lane];
            for axis in 0..3 {
                let normal = panel.normal[axis][lane];
                casting.across[axis][lane] = panel.across[axis][lane] - slant_across * normal;
                casting.along[axis][lane] = panel.along[axis][lane] - slant_along * normal;
                casting.suns[axis][lane] = panel.cosine[lane] * normal
                    + panel.sun_across[lane] * panel.across[axis][lane]
                    + panel.sun_along[lane] * panel.along[axis][lane];
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
    /// How far it lies before the panel's plane.
    ahead_m: Coarse,
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

    /// Its middle lies so far before the panel's plane at least if any of it does.
    #[inline(always)]
    fn most_behind_m(&self) -> f32 {
        -MOST_TURN * (self.other.half_m[0] + self.other.half_m[1])
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
            let (mut is_ahead, behind_m) = ([false; LANES], self.most_behind_m());
            for lane in 0..LANES {
                cast.ahead_m[lane] = dot(self.away_m, column(&panel.normal, lane));
                is_ahead[lane] = cast.ahead_m[lane] > behind_m;
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
        let behind_m = self.most_behind_m();
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
            cast.ahead_m[lane] = ahead_m;
            is_near[lane] = lesser(lesser(x_room_m, y_room_m), ahead_m - behind_m) > 0.0;
        }
        cast.near = lanes_where(&is_near);
        if cast.near != 0 {
            cover.add(&self.outline(&cast, casting, panel), cast.near);
        }
    }

    /// Where the neighbour's sides fall.
    #[inline(always)]
    fn outline(&self, cast: &Cast, casting: &Casting, panel: &Panel) -> Outline {
        let none = [0.0; LANES];
        let mut outline = Outline {
            centre_m: cast.centre_m,
            width_m: [none; 2],
            height_m: [none; 2],
            ahead_m: [cast.ahead_m, none, none],
        };
        let sides = self.other.sides(&casting.suns, &panel.across);
        let [half_width_m, half_height_m] = self.other.half_m;
        for lane in 0..LANES {
            let normal = column(&panel.normal, lane);
            let (right, up) = (column(&casting.across, lane), column(&casting.along, lane));
            let [width, height] = [column(&sides[0], lane), column(&sides[1], lane)];
            let scale = cast.scale[lane];
            outline.width_m[0][lane] = scale * half_width_m * dot(width, right);
            outline.width_m[1][lane] = scale * half_width_m * dot(width, up);
            outline.height_m[0][lane] = scale * half_height_m * dot(height, right);
            outline.height_m[1][lane] = scale * half_height_m * dot(height, up);
            outline.ahead_m[1][lane] = half_width_m * dot(width, normal);
            outline.ahead_m[2][lane] = half_height_m * dot(height, normal);
        }
        outline
    }
}

impl Cast {
    const fn none() -> Self {
        Self {
            centre_m: [[0.0; LANES]; 2],
            scale: [1.0; LANES],
            ahead_m: [0.0; LANES],
            near: 0,
        }
    }
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
    #[inline(always)]
    fn new(panel: &Panel, power_per_m: f32) -> Self {
        let mut focus_per_m = [0.0; LANES];
        for lane in 0..LANES {
            focus_per_m[lane] = power_per_m / greater(panel.cosine[lane], 1e-6);
        }
        Self {
            casting: Casting::new(panel, -1.0),
            focus_per_m,
        }
    }
}
