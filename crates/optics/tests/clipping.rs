//! Shading and blocking of each mirror against polygon clipping by a general-purpose library, in which
//! every neighbour keeps its own orientation and every point of a panel sends its light to the focus.

// Not only the tests themselves may stop and print here.
#![allow(clippy::expect_used, clippy::print_stdout)]

mod support;

use field::{BearingRule, FirstAxis, Linkage, Plan, Stance, StringField, candidates};
use geometry::{LANES, Vec3, direction, lane};
use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::float::single::SingleFloatOverlay;
use optics::{Scene, Sunlit, Surroundings};
use support::standing::Standing;

/// Fields laid, and strings looked at in each.
const FIELDS: u64 = 60;
/// Lowest sun [rad].
const LOWEST_SUN_RAD: f64 = 0.14;

type Contour = Vec<[f64; 2]>;

impl Standing {
    fn corners(&self) -> [Vec3; 4] {
        [[-1.0, -1.0], [1.0, -1.0], [1.0, 1.0], [-1.0, 1.0]]
            .map(|[x, y]| self.centre + self.half_m * (x * self.across + y * self.along))
    }

    fn own(&self) -> Contour {
        let half_m = self.half_m;
        vec![
            [-half_m, -half_m],
            [half_m, -half_m],
            [half_m, half_m],
            [-half_m, half_m],
        ]
    }

    /// What another panel, or what of it lies before this one's plane, covers on that plane along lines
    /// through its corners; `line` gives each corner's direction.
    fn covered(&self, other: &Self, line: impl Fn(Vec3) -> Vec3) -> Option<Contour> {
        let mut contour = Contour::new();
        for corner in self.ahead(&other.corners()) {
            let ahead_m = (corner - self.centre).dot(self.normal);
            let line = line(corner);
            let spot = corner - ahead_m / line.dot(self.normal) * line - self.centre;
            contour.push([spot.dot(self.across), spot.dot(self.along)]);
        }
        if area_m2(&contour) < 0.0 {
            contour.reverse();
        }
        (contour.len() > 2).then_some(contour)
    }

    /// The part of an outline that lies before this panel's plane.
    fn ahead(&self, corners: &[Vec3]) -> Vec<Vec3> {
        let ahead_m = |corner: &Vec3| (*corner - self.centre).dot(self.normal);
        let mut kept = vec![];
        for (index, to) in corners.iter().enumerate() {
            let from = corners[(index + corners.len() - 1) % corners.len()];
            let (before_m, after_m) = (ahead_m(&from), ahead_m(to));
            if (before_m < 0.0) != (after_m < 0.0) {
                kept.push(from + before_m / (before_m - after_m) * (*to - from));
            }
            if after_m >= 0.0 {
                kept.push(*to);
            }
        }
        kept
    }

    /// Shares of this panel that are lit, and lit and not blocked.
    fn open_shares(&self, aim_m: Vec3, sun: Vec3, others: &[&Self]) -> [f64; 2] {
        let mut covers: Vec<Contour> = others
            .iter()
            .filter_map(|other| self.covered(other, |_| sun))
            .collect();
        let lit = self.left(&covers);
        covers.extend(
            others
                .iter()
                .filter_map(|other| self.covered(other, |corner| aim_m - corner)),
        );
        [lit, self.left(&covers)]
    }

    fn left(&self, covers: &Vec<Contour>) -> f64 {
        let own = self.own();
        let shapes = own.overlay(covers, OverlayRule::Difference, FillRule::NonZero);
        let open_m2: f64 = shapes
            .iter()
            .flatten()
            .map(|contour| area_m2(contour))
            .sum();
        open_m2 / area_m2(&own)
    }
}

/// Area within a contour, negative if it goes round with the clock.
fn area_m2(contour: &[[f64; 2]]) -> f64 {
    let next = contour.iter().cycle().skip(1);
    let twice: f64 = contour
        .iter()
        .zip(next)
        .map(|(a, b)| a[0] * b[1] - b[0] * a[1])
        .sum();
    0.5 * twice
}

/// Even numbers in 0 … 1 of which none falls into step with another (fractions of square roots of
/// primes, Weyl).
fn drawn(field: u64, which: usize) -> f64 {
    const PRIMES: [f64; 16] = [
        2.0, 3.0, 5.0, 7.0, 11.0, 13.0, 17.0, 19.0, 23.0, 29.0, 31.0, 37.0, 41.0, 43.0, 47.0, 53.0,
    ];
    ((field + 1) as f64 * PRIMES[which].sqrt()).fract()
}

fn plan(field: u64) -> Plan {
    let within = |which: usize, from: f64, to: f64| from + (to - from) * drawn(field, which);
    let side_m = within(0, 0.6, 1.6);
    let aim_height_m = within(1, 20.0, 60.0);
    let inner_m = aim_height_m * within(2, 0.7, 2.5);
    let laid = StringField {
        mirrors_per_string: 3 + (10.0 * drawn(field, 3)) as usize,
        side_m,
        pitch_m: side_m * within(4, 1.05, 1.9),
        bearing: match field % 4 {
            0 => BearingRule::Radial,
            1 => BearingRule::Cross,
            2 => BearingRule::Fixed {
                azimuth_rad: within(5, 0.0, 3.0),
            },
            _ => BearingRule::Fan {
                share: within(5, 0.0, 0.5),
            },
        },
        first_axis: FirstAxis::Along,
        linkage: Linkage::EqualAngle,
        rail_slope_rad: if field.is_multiple_of(3) {
            within(6, 0.0, 0.25)
        } else {
            0.0
        },
        mount_height_m: 0.75 * side_m + within(7, 0.1, 0.9),
        stagger_m: if field % 5 < 2 {
            within(8, 0.0, 0.5)
        } else {
            0.0
        },
        row_spacing_m: side_m * within(9, 1.45, 3.5),
        row_growth: 0.0,
        end_gap_m: 0.5 * side_m,
        lane_every_rows: 6,
        lane_width_m: 3.0,
        inner_radius_m: inner_m,
        outer_radius_m: inner_m + 25.0,
        sector_half_rad: 0.5,
        sector_centre_azimuth_rad: within(10, 0.0, std::f64::consts::TAU),
        ground_slope_east: within(11, -0.08, 0.08),
        ground_slope_north: within(12, -0.08, 0.08),
        aim_height_m,
    };
    candidates(&laid).expect("the field can be laid").plan
}

/// Eight suns over the sky.
fn suns(field: u64) -> [Vec3; LANES] {
    std::array::from_fn(|sun| {
        let draw = field * LANES as u64 + sun as u64;
        let azimuth_rad = std::f64::consts::TAU * drawn(draw, 13);
        let sine = 0.16 + 0.8 * drawn(draw, 14);
        direction::from_azimuth_elevation(azimuth_rad, libm::asin(sine))
    })
}

/// Differences from the library, of all mirrors under all suns.
#[derive(Default)]
struct Differences {
    lit: Vec<f64>,
    open: Vec<f64>,
}

/// Compares a field of light that `looks` at it.
fn compare(field: u64, looks: fn(Sunlit) -> Sunlit, differences: &mut Differences) {
    let plan = plan(field);
    let suns = suns(field);
    let lanes = lane::columns(&suns);
    let around = Surroundings::new(&plan, LOWEST_SUN_RAD);
    let hood = around.of_all();
    let (mirrors, aperture) = (support::fair_mirrors(), support::aperture_of(&plan, 3.4));
    let standing = suns.map(|sun| Standing::all(&plan, sun));
    let mut stance = Stance::default();
    let string = plan.strings.len() / 2;
    let row = &plan.strings[string];
    support::ideal_stance(&plan, string, &lanes, &mut stance);
    let scene = Scene {
        plan: &plan,
        hood: &hood,
        mirrors: &mirrors,
        aperture: &aperture,
    };
    looks(scene.under(&lanes)).each_mirror(string, 0..row.mirror_count, &stance, |place, light| {
        for index in 0..LANES {
            let panels = &standing[index];
            let own = &panels[row.first_mirror + place];
            if own.normal.dot(suns[index]) < 0.3 {
                continue;
            }
            let others: Vec<&Standing> = panels
                .iter()
                .filter(|other| {
                    let away_m = other.centre.distance(own.centre);
                    away_m > 1e-9 && away_m < 40.0 * own.half_m
                })
                .collect();
            let [lit, open] = own.open_shares(plan.aim_m, suns[index], &others);
            differences.lit.push(light.lit[index] - lit);
            differences
                .open
                .push(light.lit[index] * light.unblocked[index] - open);
        }
    });
}

/// Mean, root mean square, what 99 of 100 keep to, and the worst.
fn told(name: &str, differences: &[f64]) -> [f64; 4] {
    let count = differences.len() as f64;
    let mean = differences.iter().sum::<f64>() / count;
    let rms = (differences.iter().map(|one| one * one).sum::<f64>() / count).sqrt();
    let mut sizes: Vec<f64> = differences.iter().map(|one| one.abs()).collect();
    sizes.sort_by(f64::total_cmp);
    let (usual, worst) = (sizes[(0.99 * count) as usize], sizes[sizes.len() - 1]);
    println!(
        "{name}: {count} shares, mean {mean:+.6}, rms {rms:.6}, 99 % {usual:.5}, worst {worst:.5}"
    );
    [mean, rms, usual, worst]
}

/// Every share of every mirror keeps to 0.001 of the panel, on fields dense and sloped, staggered and on raised
/// rails, where nine mirrors of ten are partly in shadow.
#[test]
fn areas_are_those_of_polygon_clipping() {
    let mut all = Differences::default();
    for field in 0..FIELDS {
        compare(field, |sunlit| sunlit, &mut all);
    }
    for (name, differences) in [("lit", &all.lit), ("lit and not blocked", &all.open)] {
        let [mean, rms, usual, worst] = told(name, differences);
        assert!(mean.abs() < 1e-5 && rms < 1e-4, "{name}");
        assert!(usual < 3e-4 && worst < 1e-3, "{name}");
    }
}

/// What `Sunlit::quickly` says of itself.
#[test]
fn a_quick_look_errs_by_a_hundredth_and_in_the_mean_by_nothing() {
    let mut all = Differences::default();
    for field in 0..FIELDS {
        compare(field, |sunlit| sunlit.quickly(), &mut all);
    }
    for (name, differences) in [("lit", &all.lit), ("lit and not blocked", &all.open)] {
        let [mean, _, _, worst] = told(name, differences);
        assert!(mean.abs() < 1e-4 && worst < 0.01, "{name}");
        assert!(worst > 1e-3, "{name}: as exact as a close look");
    }
}
