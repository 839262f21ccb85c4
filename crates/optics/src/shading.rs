//! Shading and blocking: the share of a panel that other panels leave open.

use field::Plan;
use geometry::{LANES, Lane, LaneVec3};

use crate::cover::Cover;
use crate::neighbours::{Neighbourhood, SunSpread};
use crate::panel::{Panel, array, column, dot, greater, lesser};

/// A beam is never taken as narrowed to less than this share on its way to a neighbour.
const LEAST_SHRINK: f64 = 0.1;

/// Share of the panel that is lit, and share of the lit part that is not blocked.
pub(crate) fn open_shares(
    plan: &Plan,
    hood: &Neighbourhood,
    spread: &SunSpread,
    mirror: usize,
    panel: &Panel,
    cover: &mut Cover,
) -> (Lane, Lane) {
    cover.clear(plan.width_m[mirror], plan.height_m[mirror]);
    let centre_m = plan.centre_m(mirror);
    let sunward = Casting::new(panel, 1.0);
    spread.choose(hood.shaders(mirror), |other| {
        let shadow = sunward.cast(panel, array(plan.centre_m(other) - centre_m));
        let half_m = [0.5 * plan.width_m[other], 0.5 * plan.height_m[other]];
        shadow.cover(cover, &half_m.map(|half_m| [half_m; LANES]));
    });
    let shaded_m2 = cover.area_m2;
    let blockers = hood.blockers(mirror);
    if !blockers.is_empty() {
        let aimward = Casting::new(panel, -1.0);
        let power_per_m = 1.0 / plan.focal_length_m[mirror];
        for &other in blockers {
            let other = other as usize;
            let mut shadow = aimward.cast(panel, array(plan.centre_m(other) - centre_m));
            let half_m = [0.5 * plan.width_m[other], 0.5 * plan.height_m[other]];
            let half_m = shadow.spread_from_focus(panel, power_per_m, half_m);
            shadow.cover(cover, &half_m);
        }
    }
    shares(plan.area_m2(mirror), &shaded_m2, &cover.area_m2)
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
}

impl Casting {
    /// `towards_sun` is 1 for rays from the sun, −1 for reflected ones: both make the same angle
    /// with the normal and differ in the sign of their run along the panel.
    fn new(panel: &Panel, towards_sun: f64) -> Self {
        let mut casting = Self {
            across: [[0.0; LANES]; 3],
            along: [[0.0; LANES]; 3],
        };
        for lane in 0..LANES {
            let slant = towards_sun / greater(panel.cosine[lane], 1e-6);
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

    /// The shadow of a parallel neighbour whose centre lies `away_m` from the panel's.
    #[inline(always)]
    fn cast(&self, panel: &Panel, away_m: [f64; 3]) -> Shadow {
        let none = [0.0; LANES];
        let mut shadow = Shadow {
            x_m: none,
            y_m: none,
            ahead_m: none,
        };
        for lane in 0..LANES {
            shadow.x_m[lane] = dot(away_m, column(&self.across, lane));
            shadow.y_m[lane] = dot(away_m, column(&self.along, lane));
            shadow.ahead_m[lane] = dot(away_m, column(&panel.normal, lane));
        }
        shadow
    }
}

/// Where a neighbour lies on a panel's plane, seen along the rays.
struct Shadow {
    x_m: Lane,
    y_m: Lane,
    /// Height of the neighbour above the panel's plane.
    ahead_m: Lane,
}

impl Shadow {
    /// Reflected rays run together in the focus (`power_per_m` is 1 ÷ focal length): from there a
    /// neighbour covers more of the panel than along parallel rays. Gives its half sides there.
    #[inline(always)]
    fn spread_from_focus(
        &mut self,
        panel: &Panel,
        power_per_m: f64,
        half_m: [f64; 2],
    ) -> [Lane; 2] {
        let mut spread_m = [[0.0; LANES]; 2];
        for lane in 0..LANES {
            let focus_per_m = power_per_m / greater(panel.cosine[lane], 1e-6);
            let scale = 1.0 / greater(1.0 - self.ahead_m[lane] * focus_per_m, LEAST_SHRINK);
            self.x_m[lane] *= scale;
            self.y_m[lane] *= scale;
            spread_m[0][lane] = scale * half_m[0];
            spread_m[1][lane] = scale * half_m[1];
        }
        spread_m
    }

    /// Covers the panel with the neighbour of the given half sides where it lies ahead and
    /// overlaps.
    #[inline(always)]
    fn cover(&self, cover: &mut Cover, half_m: &[Lane; 2]) {
        let own_m = cover.half_m();
        let mut overlap_m = [0.0; LANES];
        let mut any = 0;
        for lane in 0..LANES {
            let x_m = own_m[0] + half_m[0][lane] - self.x_m[lane].abs();
            let y_m = own_m[1] + half_m[1][lane] - self.y_m[lane].abs();
            overlap_m[lane] = lesser(lesser(x_m, y_m), self.ahead_m[lane]);
            any |= u64::from(overlap_m[lane] > 0.0);
        }
        if any == 0 {
            return;
        }
        for lane in 0..LANES {
            if overlap_m[lane] > 0.0 {
                let half_m = [half_m[0][lane], half_m[1][lane]];
                cover.add(lane, [self.x_m[lane], self.y_m[lane]], half_m);
            }
        }
    }
}
