//! Who may shade or block whom: short lists for every mirror, made once for a plan.

use field::{FirstAxis, Plan, StringRow};
use geometry::{Cells, LANES, LaneVec3, Vec3, direction};

use crate::coarse::{CoarseVec3, array, coarse_vectors, column, cross, dot, sum};
use crate::near::{Near, leave_rays_free};
use crate::tower::Pillar;

/// Compass sectors in which a neighbour may stand before the sun.
const SECTORS: i64 = 32;
/// So many shaders of a mirror are listed as a rule.
const USUAL_SHADERS: usize = 16;
const FOR_EACH_QUARTER: f64 = SECTORS as f64 / 4.0;

/// A neighbour that may shade a mirror.
#[derive(Clone, Copy, Debug)]
pub(crate) struct ListedShader {
    pub mirror: u32,
    /// One bit for each compass sector of the sun in which it may.
    pub sectors: u32,
    /// Sine of the highest elevation of the sun at which it may.
    pub highest_sine: f32,
}

/// Who stands where: what neighbours see of one another, whatever the sun.
#[derive(Clone, Debug)]
pub struct Surroundings {
    posts: Vec<Post>,
    cells: Cells,
    lowest_sine: f64,
    /// Largest sum of two panels' half diagonals, plus the height a string climbs: how far off a
    /// ray a neighbour's centre may be, measured from the mirror's level.
    clearance_m: f64,
    tower: Vec<Pillar>,
}

/// For a run of mirrors their possible shaders, those for the highest suns first, their possible
/// blockers, and when the tower may shade them. Each panel is taken as the sphere around it, so no one is missed
/// however the panels turn; the light kernel then looks closely.
#[derive(Clone, Debug)]
pub struct Neighbourhood<'a> {
    around: &'a Surroundings,
    /// The first mirror of the run.
    first_mirror: usize,
    /// Where the shaders and blockers of each mirror begin; one more than there are mirrors.
    first: Vec<[u32; 2]>,
    shaders: Vec<ListedShader>,
    blockers: Vec<u32>,
    /// One for each mirror of the run.
    tower_shades: Vec<Option<ListedShader>>,
}

/// What its neighbours see of a mirror, whatever the sun.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Post {
    pub centre_m: Vec3,
    /// Unit vector to its aim point.
    to_aim: [f32; 3],
    /// Unit vector along the first axis; the panel's width is square to it and to the normal.
    first_axis: [f32; 3],
    /// Unit vector from the string's middle mirror to its aim point.
    middle_to_aim: [f32; 3],
    /// Half its width and height.
    pub half_m: [f32; 2],
    half_diagonal_m: f64,
    /// From the mirror to its aim point.
    aim_distance_m: f64,
}

impl Post {
    fn new(plan: &Plan, mirror: usize, first_axis: Vec3, middle_to_aim: Vec3) -> Self {
        let centre_m = plan.centre_m(mirror);
        let (width_m, height_m) = (plan.width_m[mirror], plan.height_m[mirror]);
        let (to_aim, aim_distance_m) = (plan.aim_of_m(mirror) - centre_m).normalize_and_length();
        Self {
            centre_m,
            to_aim: array(to_aim),
            first_axis: array(first_axis),
            middle_to_aim: array(middle_to_aim),
            half_m: [width_m, height_m].map(|side_m| 0.5 * side_m as f32),
            half_diagonal_m: 0.5 * (width_m * width_m + height_m * height_m).sqrt(),
            aim_distance_m,
        }
    }

    fn all(plan: &Plan) -> Vec<Self> {
        let mut posts = Vec::with_capacity(plan.mirror_count());
        for row in &plan.strings {
            let (first, middle) = (first_axis(row), plan.target(row.reference_mirror()));
            let string = row.mirrors();
            posts.extend(string.map(|mirror| Self::new(plan, mirror, first, middle)));
        }
        posts
    }

    /// The way to another.
    #[inline(always)]
    pub fn away_m(&self, other: &Self) -> [f32; 3] {
        array(other.centre_m - self.centre_m)
    }

    /// Unit vectors along its width and height under eight suns: it faces halfway between the sun and its
    /// aim point, its width square to the first axis of its string as the middle mirror there turns it.
    /// `nearby` is the width of a panel near by, which stands for its own where no first axis tells of it, and
    /// says which way round.
    #[inline(always)]
    pub fn sides(&self, suns: &CoarseVec3, nearby: &CoarseVec3) -> [CoarseVec3; 2] {
        let [mut widths, mut heights] = [[[0.0; LANES]; 3]; 2];
        let is_carried = f32::from(u8::from(self.first_axis != [0.0; 3]));
        for lane in 0..LANES {
            let (sun, nearby) = (column(suns, lane), column(nearby, lane));
            let [x, y, z] = sum(sun, self.to_aim);
            let shrink = 1.0 / (x * x + y * y + z * z).sqrt();
            let normal = [shrink * x, shrink * y, shrink * z];
            let [x, y, z] = cross(self.first_axis, sum(sun, self.middle_to_aim));
            let rest = 1.0 - is_carried;
            let edge = [
                x + rest * nearby[0],
                y + rest * nearby[1],
                z + rest * nearby[2],
            ];
            let out = dot(edge, normal);
            let [x, y, z] = [
                edge[0] - out * normal[0],
                edge[1] - out * normal[1],
                edge[2] - out * normal[2],
            ];
            let turned = 1.0 / (x * x + y * y + z * z).sqrt();
            let is_turned = x * nearby[0] + y * nearby[1] + z * nearby[2] < 0.0;
            let turned = if is_turned { -turned } else { turned };
            let width = [turned * x, turned * y, turned * z];
            let height = cross(normal, width);
            for axis in 0..3 {
                widths[axis][lane] = width[axis];
                heights[axis][lane] = height[axis];
            }
        }
        [widths, heights]
    }

    pub fn area_m2(&self) -> f32 {
        4.0 * self.half_m[0] * self.half_m[1]
    }
}

/// The first axis of a string's mounts. A ball has none; a polar axis is the same for all strings, and
/// counts as none.
fn first_axis(row: &StringRow) -> Vec3 {
    let along = direction::along_bearing(row.bearing_rad);
    match row.first_axis {
        FirstAxis::Along => along,
        FirstAxis::Across => Vec3::Z.cross(along),
        FirstAxis::Vertical => Vec3::Z,
        FirstAxis::Fixed {
            azimuth_rad,
            elevation_rad,
        } => direction::from_azimuth_elevation(azimuth_rad, elevation_rad),
        FirstAxis::Polar | FirstAxis::RollFree => Vec3::ZERO,
    }
}

impl Surroundings {
    /// Those of a plan. A neighbour that could shade only while the sun is lower than
    /// `lowest_sun_rad` (more than 0) will not be listed.
    #[must_use]
    pub fn new(plan: &Plan, lowest_sun_rad: f64) -> Self {
        let posts = Post::all(plan);
        let diagonals_m = posts.iter().map(|post| 2.0 * post.half_diagonal_m);
        let diagonal_m = diagonals_m.fold(0.0, f64::max);
        let climb_m = plan
            .strings
            .iter()
            .map(|string| climb_m(&plan.z_m[string.mirrors()]));
        Self {
            posts,
            cells: Cells::new(&plan.x_m, &plan.y_m, 2.0 * diagonal_m),
            lowest_sine: libm::sin(lowest_sun_rad),
            clearance_m: diagonal_m + climb_m.fold(0.0, f64::max),
            tower: Vec::new(),
        }
    }

    /// Lets a tower shade the field: pillars from the ground upwards, each standing on the one
    /// before. It does not stand in the way of reflected light.
    #[must_use]
    pub fn with_tower(mut self, pillars: &[Pillar]) -> Self {
        self.tower = pillars.to_vec();
        self
    }

    /// Lists for all mirrors.
    #[must_use]
    pub fn of_all(&self) -> Neighbourhood<'_> {
        self.of_mirrors(0..self.posts.len())
    }

    /// Lists for some mirrors only, with all their neighbours, the mirrors in rising order; for those
    /// between them the lists are empty, as if they stood alone.
    #[must_use]
    pub fn of_mirrors(&self, mirrors: impl IntoIterator<Item = usize>) -> Neighbourhood<'_> {
        self.of_mirrors_shaded(mirrors, self.lowest_sine, |_| ())
    }

    /// The same, good for the suns of these blocks only.
    #[must_use]
    pub fn of_mirrors_under<'b>(
        &self,
        mirrors: impl IntoIterator<Item = usize>,
        blocks: impl IntoIterator<Item = &'b LaneVec3>,
    ) -> Neighbourhood<'_> {
        let blocks: Vec<CoarseVec3> = blocks.into_iter().map(coarse_vectors).collect();
        let sines = blocks.iter().flat_map(|suns| suns[2]);
        let lowest_sine = self.lowest_sine.max(f64::from(sines.fold(1.0, f32::min)));
        self.of_mirrors_shaded(mirrors, lowest_sine, |near| leave_rays_free(near, &blocks))
    }

    /// The same, good for suns that stand no lower than where the sine of their elevation is `lowest_sine`; `thin_out`
    /// may leave out those that shade under none.
    fn of_mirrors_shaded(
        &self,
        mirrors: impl IntoIterator<Item = usize>,
        lowest_sine: f64,
        thin_out: impl Fn(&mut Vec<Near>),
    ) -> Neighbourhood<'_> {
        let mut near = Vec::new();
        self.listed(mirrors, |mirror, hood| {
            near.clear();
            self.look_around(mirror, lowest_sine, &mut near, &mut hood.blockers);
            thin_out(&mut near);
            let first = hood.shaders.len();
            let shaders = near.iter().filter_map(shader);
            let is_high = |shader: &ListedShader| f64::from(shader.highest_sine) >= lowest_sine;
            hood.shaders.extend(shaders.filter(is_high));
            hood.shaders[first..].sort_unstable_by_key(ListedShader::rank);
        })
    }

    /// For mirrors, in rising order, that have no neighbours: only the tower may shade them.
    #[must_use]
    pub fn of_mirrors_alone(&self, mirrors: impl IntoIterator<Item = usize>) -> Neighbourhood<'_> {
        self.listed(mirrors, |_, _| ())
    }

    /// Lists of the tower and of what `list` adds for each mirror.
    fn listed<'a>(
        &'a self,
        mirrors: impl IntoIterator<Item = usize>,
        mut list: impl FnMut(usize, &mut Neighbourhood<'a>),
    ) -> Neighbourhood<'a> {
        let mirrors: Vec<usize> = mirrors.into_iter().collect();
        let first_mirror = mirrors.first().copied().unwrap_or(0);
        let run = mirrors.last().map_or(0, |last| last + 1 - first_mirror);
        let mut hood = Neighbourhood {
            around: self,
            first_mirror,
            first: Vec::with_capacity(run + 1),
            shaders: Vec::with_capacity(USUAL_SHADERS * mirrors.len()),
            blockers: Vec::with_capacity(mirrors.len()),
            tower_shades: Vec::with_capacity(run),
        };
        hood.first.push([0; 2]);
        for mirror in mirrors {
            hood.skip_to(mirror);
            list(mirror, &mut hood);
            let tower_shade = tower_shade(mirror, &self.posts[mirror], &self.tower);
            hood.tower_shades.push(tower_shade);
            hood.skip_to(mirror + 1);
        }
        hood
    }

    /// Finds the neighbours that stand high enough to shade a mirror, and lists those that may block it.
    fn look_around(
        &self,
        mirror: usize,
        lowest_sine: f64,
        near: &mut Vec<Near>,
        blockers: &mut Vec<u32>,
    ) {
        let own = &self.posts[mirror];
        let to_aim = Vec3::from_array(own.to_aim.map(f64::from));
        let reach_m = self.clearance_m / lowest_sine.min(to_aim.z.max(0.02));
        for run in self.cells.near(own.centre_m.x, own.centre_m.y, reach_m) {
            let others = self.cells.members()[run].iter();
            for &other in others.filter(|other| **other as usize != mirror) {
                let post = &self.posts[other as usize];
                let one = Near {
                    mirror: other,
                    away_m: post.centre_m - own.centre_m,
                    clearance_m: own.half_diagonal_m + post.half_diagonal_m,
                };
                if one.stands_high(lowest_sine) {
                    near.push(one);
                }
                if one.may_block(to_aim, own.aim_distance_m) {
                    blockers.push(other);
                }
            }
        }
    }
}

impl ListedShader {
    /// Those for the highest suns first, then by mirror: positive numbers rank as their bits do.
    const fn rank(&self) -> u64 {
        (!self.highest_sine.to_bits() as u64) << 32 | self.mirror as u64
    }
}

impl Neighbourhood<'_> {
    /// Leaves the lists empty from where they end to `mirror`.
    fn skip_to(&mut self, mirror: usize) {
        let length = mirror - self.first_mirror + 1;
        let ends = [self.shaders.len(), self.blockers.len()].map(|end| end as u32);
        self.first.resize(length, ends);
        self.tower_shades.resize(length - 1, None);
    }

    /// The tower, from the ground upwards.
    pub(crate) fn tower(&self) -> &[Pillar] {
        &self.around.tower
    }

    /// Whether the tower may shade a mirror under any of these suns.
    pub(crate) fn is_towered(&self, mirror: usize, spread: &SunSpread) -> bool {
        let place = mirror.wrapping_sub(self.first_mirror);
        let mut may = false;
        if let Some(Some(shader)) = self.tower_shades.get(place) {
            spread.choose(std::slice::from_ref(shader), |_| may = true);
        }
        may
    }

    pub(crate) fn post(&self, mirror: usize) -> &Post {
        &self.around.posts[mirror]
    }

    pub(crate) fn shaders(&self, mirror: usize) -> &[ListedShader] {
        self.listed(mirror, &self.shaders, 0)
    }

    pub(crate) fn blockers(&self, mirror: usize) -> &[u32] {
        self.listed(mirror, &self.blockers, 1)
    }

    /// What is listed for a mirror, shaders 0 or blockers 1; nothing for one outside the run.
    fn listed<'b, T>(&self, mirror: usize, entries: &'b [T], which: usize) -> &'b [T] {
        let place = mirror.wrapping_sub(self.first_mirror);
        match (self.first.get(place), self.first.get(place.wrapping_add(1))) {
            (Some(from), Some(to)) => &entries[from[which] as usize..to[which] as usize],
            _ => &[],
        }
    }

    /// Entries in all lists together: possible shaders, possible blockers.
    #[must_use]
    pub fn entries(&self) -> (usize, usize) {
        (self.shaders.len(), self.blockers.len())
    }
}

/// Where eight suns stand, as far as choosing shaders goes.
#[derive(Clone, Copy, Debug)]
pub(crate) struct SunSpread {
    /// Sines of the elevations, rising.
    sines: [f32; LANES],
    /// Sectors of each sun and all lower ones.
    sectors: [u32; LANES],
}

impl SunSpread {
    pub fn new(suns: &LaneVec3) -> Self {
        let mut order: [usize; LANES] = std::array::from_fn(|lane| lane);
        order.sort_unstable_by(|&a, &b| suns[2][a].total_cmp(&suns[2][b]));
        let mut sectors = 0;
        Self {
            sines: order.map(|lane| suns[2][lane] as f32),
            sectors: order.map(|lane| {
                sectors |= sector_of(suns[0][lane], suns[1][lane]);
                sectors
            }),
        }
    }

    /// Hands on those of `shaders` (for the highest suns first) that may shade under one of these
    /// suns.
    #[inline(always)]
    pub fn choose(&self, shaders: &[ListedShader], mut each: impl FnMut(usize)) {
        let mut highest = LANES - 1;
        for shader in shaders {
            while shader.highest_sine < self.sines[highest] {
                if highest == 0 {
                    return;
                }
                highest -= 1;
            }
            if shader.sectors & self.sectors[highest] != 0 {
                each(shader.mirror as usize);
            }
        }
    }
}

/// The sun must stand within the cone about the neighbour's direction that its clearance opens.
fn shader(near: &Near) -> Option<ListedShader> {
    let Near {
        mirror,
        away_m,
        clearance_m,
    } = *near;
    let level2_m2 = away_m.x * away_m.x + away_m.y * away_m.y;
    let distance_m = away_m.length();
    if distance_m <= clearance_m {
        return Some(ListedShader {
            mirror,
            sectors: u32::MAX,
            highest_sine: 1.0,
        });
    }
    let level_m = level2_m2.sqrt();
    let opening_sine = clearance_m / distance_m;
    let opening_cosine = (1.0 - opening_sine * opening_sine).sqrt();
    let (sine, cosine) = (away_m.z / distance_m, level_m / distance_m);
    let overhead = sine > opening_cosine;
    let highest_sine = if overhead {
        1.0
    } else {
        sine * opening_cosine + cosine * opening_sine
    };
    (highest_sine > 0.0).then(|| ListedShader {
        mirror,
        sectors: sectors_around(away_m.x, away_m.y, clearance_m / level_m),
        highest_sine: highest_sine as f32 + f32::EPSILON,
    })
}

/// When a tower may shade a mirror: while the sun stands behind it and no higher than its top.
fn tower_shade(mirror: usize, post: &Post, pillars: &[Pillar]) -> Option<ListedShader> {
    let Post {
        centre_m,
        half_diagonal_m,
        ..
    } = post;
    let level_m = (centre_m.x * centre_m.x + centre_m.y * centre_m.y).sqrt();
    let width_m = pillars
        .iter()
        .map(|pillar| pillar.width_m)
        .fold(0.0, f64::max);
    let top_m = pillars.iter().map(|pillar| pillar.to_m).fold(0.0, f64::max);
    let clearance_m = half_diagonal_m + 0.5 * width_m;
    let climb_m = top_m - centre_m.z + half_diagonal_m;
    let near_m = level_m - clearance_m;
    let highest_sine = if near_m > 0.0 {
        climb_m / (climb_m * climb_m + near_m * near_m).sqrt()
    } else {
        1.0
    };
    (climb_m > 0.0 && width_m > 0.0).then(|| ListedShader {
        mirror: mirror as u32,
        sectors: sectors_around(-centre_m.x, -centre_m.y, clearance_m / level_m.max(1e-9)),
        highest_sine: highest_sine as f32 + f32::EPSILON,
    })
}

/// How far (x, y) is turned, in quarters: equal steps of y ÷ (|x| + |y|) within each. This grows
/// with the angle, at most as fast, and needs no arc functions.
fn quarters(x: f64, y: f64) -> f64 {
    let quarter = y.abs() / (x.abs() + y.abs());
    match (x >= 0.0, y >= 0.0) {
        (true, true) => quarter,
        (false, true) => 2.0 - quarter,
        (false, false) => 2.0 + quarter,
        (true, false) => 4.0 - quarter,
    }
}

/// The compass sector of (x, y); all of them for no direction.
fn sector_of(x: f64, y: f64) -> u32 {
    if x == 0.0 && y == 0.0 {
        return u32::MAX;
    }
    let sector = (quarters(x, y) * FOR_EACH_QUARTER) as u32;
    1_u32.rotate_left(sector)
}

/// The compass sectors within an angle of (x, y) whose sine is `half_width_sine`.
fn sectors_around(x: f64, y: f64, half_width_sine: f64) -> u32 {
    if half_width_sine >= 1.0 || (x == 0.0 && y == 0.0) {
        return u32::MAX;
    }
    let turn = quarters(x, y);
    let sine3 = half_width_sine * half_width_sine * half_width_sine;
    let half_width = half_width_sine + (std::f64::consts::FRAC_PI_2 - 1.0) * sine3;
    // A whole turn more keeps both ends positive, where cutting digits off rounds down.
    let first = ((turn - half_width + 4.0) * FOR_EACH_QUARTER) as i64;
    let last = ((turn + half_width + 4.0) * FOR_EACH_QUARTER) as i64;
    let bits = (last - first + 1).min(SECTORS);
    let run = ((1_u64 << bits) - 1) as u32;
    run.rotate_left(first.rem_euclid(SECTORS) as u32)
}

fn climb_m(heights_m: &[f64]) -> f64 {
    let lowest_m = heights_m.iter().copied().fold(f64::INFINITY, f64::min);
    heights_m
        .iter()
        .map(|height_m| height_m - lowest_m)
        .fold(0.0, f64::max)
}

#[cfg(test)]
mod tests {
    use geometry::direction;
    use proptest::prelude::*;

    use super::*;

    proptest! {
        /// Any sun that the neighbour's sphere can touch is within its sectors and elevation.
        #[test]
        fn no_shader_is_missed(
            away in (-12.0..12.0_f64, -12.0..12.0_f64, -2.0..2.0_f64),
            azimuth_rad in 0.0..std::f64::consts::TAU,
            elevation_rad in 0.01..1.57_f64,
        ) {
            let away_m = Vec3::new(away.0, away.1, away.2);
            let sun = direction::from_azimuth_elevation(azimuth_rad, elevation_rad);
            let ahead_m = away_m.dot(sun);
            let clearance_m = 1.3;
            let touches = ahead_m > 0.0 && away_m.length_squared() - ahead_m * ahead_m < clearance_m * clearance_m;
            if touches {
                let spread = SunSpread::new(&geometry::lane::columns(&[sun; LANES]));
                let near = Near { mirror: 0, away_m, clearance_m };
                let shader = shader(&near);
                let mut chosen = 0;
                spread.choose(shader.as_slice(), |_| chosen += 1);
                prop_assert_eq!(chosen, 1);
                prop_assert!(near.meets_a_ray(&geometry::lane::columns(&[sun; LANES]).map(|axis| axis.map(|part| part as f32))));
            }
        }
    }
}
