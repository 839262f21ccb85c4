//! Shading and blocking: the share of a panel that other panels leave open.

use field::Plan;
use geometry::{LANES, Lane, LaneVec3};

use crate::cover::Cover;
use crate::neighbours::{Neighbourhood, SunSpread};
use crate::panel::{Panel, array, column, dot, greater, lesser};
use crate::tower::{Parallelogram, Pillar, silhouette};

/// A beam is never taken as narrowed to less than this share on its way to a neighbour.
const LEAST_SHRINK: f64 = 0.1;
/// A shadow is never taken as more stretched than this by the turn between two panels.
const MOST_STRETCH: f64 = 1.25;

/// Share of the panel that is lit, and share of the lit part that is not blocked.
pub(crate) fn open_shares(
    plan: &Plan,
    hood: &Neighbourhood,
    spread: &SunSpread,
    mirror: usize,
    panel: &Panel,
    suns: &LaneVec3,
    cover: &mut Cover,
) -> (Lane, Lane) {
    cover.clear(plan.width_m[mirror], plan.height_m[mirror]);
    let centre_m = plan.centre_m(mirror);
    let sunward = Casting::new(panel, 1.0);
    spread.choose(hood.shaders(mirror), |other| {
        let shader = Shader::new(plan, mirror, other);
        let near = shader.near(&sunward);
        if near.any {
            let aim_turn = array(hood.to_aim(other) - hood.to_aim(mirror));
            shader.shade(&near, &sunward, panel, aim_turn, cover);
        }
    });
    let towered = TowerShade {
        pillars: hood.tower_before(mirror, spread),
        sunward: &sunward,
        centre_m: array(centre_m),
        suns,
    };
    let mut shaded_m2 = cover.area_m2;
    towered.add_uncovered(cover, &mut shaded_m2);
    let blockers = hood.blockers(mirror);
    if !blockers.is_empty() {
        let aimward = Aimward::new(panel, 1.0 / plan.focal_length_m[mirror]);
        for &other in blockers {
            let other = other as usize;
            let away_m = array(plan.centre_m(other) - centre_m);
            let half_m = [0.5 * plan.width_m[other], 0.5 * plan.height_m[other]];
            aimward.block(panel, away_m, half_m, cover);
        }
    }
    let mut covered_m2 = cover.area_m2;
    towered.add_uncovered(cover, &mut covered_m2);
    shares(plan.area_m2(mirror), &shaded_m2, &covered_m2)
}

fn shares(area_m2: f64, shaded_m2: &Lane, covered_m2: &Lane) -> (Lane, Lane) {
    let (mut lit, mut unblocked) = ([0.0; LANES], [0.0; LANES]);
    for lane in 0..LANES {
        let lit_m2 = greater(area_m2 - shaded_m2[lane], 0.0);
        let open_m2 = greater(area_m2 - covered_m2[lane], 0.0);
        lit[lane] = lit_m2 / area_m2;
        unblocked[lane] = lesser(open_m2 / greater(lit_m2, 1e-12 * area_m2), 1.0);
    }
    (lit, unblocked)
}

/// Casts neighbours onto a panel's plane along parallel rays.
struct Casting {
    /// Takes a neighbour's place to the panel's `across`, along the rays.
    across: LaneVec3,
    /// The same for `along`.
    along: LaneVec3,
    /// 1 ÷ (2·cos²θ).
    sensitivity: Lane,
}

impl Casting {
    /// `towards_sun` is 1 for rays from the sun, −1 for reflected ones: both make the same angle
    /// with the normal and differ in the sign of their run along the panel.
    fn new(panel: &Panel, towards_sun: f64) -> Self {
        let mut casting = Self {
            across: [[0.0; LANES]; 3],
            along: [[0.0; LANES]; 3],
            sensitivity: [0.0; LANES],
        };
        for lane in 0..LANES {
            let inverse = 1.0 / greater(panel.cosine[lane], 1e-6);
            let slant = towards_sun * inverse;
            casting.sensitivity[lane] = 0.5 * inverse * inverse;
            let run_across = slant * panel.sun_across[lane];
            let run_along = slant * panel.sun_along[lane];
            for axis in 0..3 {
                let normal = panel.normal[axis][lane];
                casting.across[axis][lane] = panel.across[axis][lane] - run_across * normal;
                casting.along[axis][lane] = panel.along[axis][lane] - run_along * normal;
            }
        }
        casting
    }
}

/// The tower before the sun, seen from one panel.
struct TowerShade<'a> {
    pillars: &'a [Pillar],
    sunward: &'a Casting,
    centre_m: [f64; 3],
    suns: &'a LaneVec3,
}

impl TowerShade<'_> {
    /// Adds what the tower shades to areas that are covered already.
    fn add_uncovered(&self, cover: &Cover, covered_m2: &mut Lane) {
        for index in 0..self.pillars.len() {
            for lane in 0..LANES {
                if let Some(shadow) = self.shadow(index, lane) {
                    covered_m2[lane] += cover.uncovered_m2(lane, &shadow);
                }
            }
        }
    }

    /// The shadow of pillar `index` on the panel's plane, if it stands sunward.
    fn shadow(&self, index: usize, lane: usize) -> Option<Parallelogram> {
        let sun = column(self.suns, lane);
        let level = (sun[0] * sun[0] + sun[1] * sun[1]).sqrt();
        let sunward_m = -(self.centre_m[0] * sun[0] + self.centre_m[1] * sun[1]);
        if level <= 0.0 || sunward_m <= 0.0 {
            return None;
        }
        let seen = silhouette(self.pillars, index, sun[2] / level);
        let aside_m = seen.half_width_m / level;
        let [x_m, y_m, z_m] = self.centre_m;
        let [side_x_m, side_y_m] = [-aside_m * sun[1], aside_m * sun[0]];
        let cast = |[x, y, z]: [f64; 3]| {
            [
                dot([x, y, z], column(&self.sunward.across, lane)),
                dot([x, y, z], column(&self.sunward.along, lane)),
            ]
        };
        Some(Parallelogram {
            corner: cast([-x_m - side_x_m, -y_m - side_y_m, seen.from_m - z_m]),
            sides: [
                cast([2.0 * side_x_m, 2.0 * side_y_m, 0.0]),
                cast([0.0, 0.0, seen.to_m - seen.from_m]),
            ],
        })
    }
}

/// A neighbour that may stand before the sun.
struct Shader {
    away_m: [f64; 3],
    half_m: [f64; 2],
    /// Centres further apart than this on the panel's plane do not meet.
    reach_m: [f64; 2],
}

/// Where a neighbour's centre falls on a panel's plane, and the suns under which it may meet the
/// panel.
struct Near {
    x_m: Lane,
    y_m: Lane,
    is_near: [u64; LANES],
    any: bool,
}

impl Shader {
    #[inline(always)]
    fn new(plan: &Plan, mirror: usize, other: usize) -> Self {
        let half_m = [0.5 * plan.width_m[other], 0.5 * plan.height_m[other]];
        Self {
            away_m: array(plan.centre_m(other) - plan.centre_m(mirror)),
            half_m,
            reach_m: [
                MOST_STRETCH * half_m[0] + 0.5 * plan.width_m[mirror],
                MOST_STRETCH * half_m[1] + 0.5 * plan.height_m[mirror],
            ],
        }
    }

    #[inline(always)]
    fn near(&self, sunward: &Casting) -> Near {
        let (mut x_m, mut y_m, mut is_near) = ([0.0; LANES], [0.0; LANES], [0; LANES]);
        let mut any = 0;
        for lane in 0..LANES {
            x_m[lane] = dot(self.away_m, column(&sunward.across, lane));
            y_m[lane] = dot(self.away_m, column(&sunward.along, lane));
            is_near[lane] = u64::from(x_m[lane].abs() < self.reach_m[0])
                & u64::from(y_m[lane].abs() < self.reach_m[1]);
            any |= is_near[lane];
        }
        Near {
            x_m,
            y_m,
            is_near,
            any: any != 0,
        }
    }

    /// Shades the panel where the neighbour stands before the sun. Its normal differs by the part
    /// of `aim_turn` ÷ (2·cos θ) that is square to the normal (`aim_turn`: the difference of the
    /// two unit vectors to the aim points), which to first order stretches the shadow's width by
    /// the turn along the width × (s·width) ÷ cos θ, its height likewise.
    #[inline(always)]
    fn shade(
        &self,
        near: &Near,
        sunward: &Casting,
        panel: &Panel,
        aim_turn: [f64; 3],
        cover: &mut Cover,
    ) {
        for lane in 0..LANES {
            if near.is_near[lane] == 0 || dot(self.away_m, column(&panel.normal, lane)) <= 0.0 {
                continue;
            }
            let sensitivity = sunward.sensitivity[lane];
            let turn_across = dot(aim_turn, column(&panel.across, lane)) * panel.sun_across[lane];
            let turn_along = dot(aim_turn, column(&panel.along, lane)) * panel.sun_along[lane];
            let half_m = [
                self.half_m[0] * lesser(1.0 + sensitivity * turn_across, MOST_STRETCH),
                self.half_m[1] * lesser(1.0 + sensitivity * turn_along, MOST_STRETCH),
            ];
            cover.add(lane, [near.x_m[lane], near.y_m[lane]], half_m);
        }
    }
}

/// Casts what stands in the way of reflected light onto a panel's plane. The rays run together in
/// the focus: from there a neighbour covers more of the panel than along parallel rays.
struct Aimward {
    casting: Casting,
    /// 1 ÷ distance of the focus from the panel's plane.
    focus_per_m: Lane,
}

impl Aimward {
    /// `power_per_m` is 1 ÷ focal length.
    fn new(panel: &Panel, power_per_m: f64) -> Self {
        let mut focus_per_m = [0.0; LANES];
        for lane in 0..LANES {
            focus_per_m[lane] = power_per_m / greater(panel.cosine[lane], 1e-6);
        }
        Self {
            casting: Casting::new(panel, -1.0),
            focus_per_m,
        }
    }

    /// Covers what the neighbour at `away_m`, of half sides `half_m`, blocks.
    #[inline(always)]
    fn block(&self, panel: &Panel, away_m: [f64; 3], half_m: [f64; 2], cover: &mut Cover) {
        let own_m = cover.half_m();
        let none = [0.0; LANES];
        let (mut x_m, mut y_m, mut shrink) = (none, none, none);
        let (mut meets, mut any) = ([0_u64; LANES], 0);
        for lane in 0..LANES {
            let ahead_m = dot(away_m, column(&panel.normal, lane));
            x_m[lane] = dot(away_m, column(&self.casting.across, lane));
            y_m[lane] = dot(away_m, column(&self.casting.along, lane));
            shrink[lane] = greater(1.0 - ahead_m * self.focus_per_m[lane], LEAST_SHRINK);
            let x_room_m = own_m[0] * shrink[lane] + half_m[0] - x_m[lane].abs();
            let y_room_m = own_m[1] * shrink[lane] + half_m[1] - y_m[lane].abs();
            let room_m = lesser(lesser(x_room_m, y_room_m), ahead_m);
            meets[lane] = u64::from(room_m > 0.0);
            any |= meets[lane];
        }
        if any == 0 {
            return;
        }
        for lane in 0..LANES {
            if meets[lane] != 0 {
                let scale = 1.0 / shrink[lane];
                let half_m = [scale * half_m[0], scale * half_m[1]];
                cover.add(lane, [scale * x_m[lane], scale * y_m[lane]], half_m);
            }
        }
    }
}
