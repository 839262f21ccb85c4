//! The posts under a string, in a few classes of height.

use crate::demand::Demand;
use crate::glass::GRAVITY_M_S2;
use crate::members::StringLoads;
use crate::section::Series;
use crate::string::StringInputs;
use crate::{Chs, LoadCase, MirrorLoad, Rules, Stock};

/// Least embedded length of any post; common practice, no source.
const LEAST_DEPTH_M: f64 = 0.8;
/// Deepest a post is set with light equipment; common practice, no source.
const GREATEST_DEPTH_M: f64 = 3.0;
/// Classes of height that the posts of a rising string are bought in; common practice, no source.
const CLASSES: usize = 4;

/// Posts of one class, all sized for the tallest of them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PostClass {
    /// How many.
    pub count: usize,
    /// Mean height.
    pub mean_m: f64,
    /// Section and how hard it is used.
    pub stock: Stock,
    /// Embedded length.
    pub depth_m: f64,
    /// Root mean square turn of the heads while tracking.
    pub sway_rad: f64,
}

/// The posts of a string. A level string has a single class.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Posts {
    /// The class of the tallest posts.
    pub tallest: PostClass,
    lower: [Option<PostClass>; CLASSES - 1],
}

impl Posts {
    /// Sizes the posts of a string; each carries a mass.
    pub fn size(inputs: &StringInputs, carried_kg: f64) -> Self {
        let class_count = if inputs.rise_m() > 0.0 { CLASSES } else { 1 };
        let mirrors = |class: usize| {
            class * inputs.mirrors / class_count..(class + 1) * inputs.mirrors / class_count
        };
        let size = |class| PostClass::size(inputs, mirrors(class), carried_kg);
        let lower = std::array::from_fn(|class| {
            (class + 1 < class_count && !mirrors(class).is_empty()).then(|| size(class))
        });
        Self {
            tallest: size(class_count - 1),
            lower,
        }
    }

    /// The class of a mirror's post, counted from the string's low end.
    pub fn class_of(&self, mirror: usize) -> &PostClass {
        let mut upto = 0;
        let mut classes = self.iter();
        let found = classes.find(|class| {
            upto += class.count;
            mirror < upto
        });
        found.unwrap_or(&self.tallest)
    }

    fn iter(&self) -> impl Iterator<Item = &PostClass> {
        self.lower
            .iter()
            .flatten()
            .chain(std::iter::once(&self.tallest))
    }

    fn sum(&self, of: impl Fn(&PostClass) -> f64) -> f64 {
        self.iter()
            .map(|class| class.count as f64 * of(class))
            .sum()
    }

    /// Mass above and below ground.
    pub fn kg(&self) -> f64 {
        self.sum(|class| (class.mean_m + class.depth_m) * class.stock.section.kg_m())
    }

    /// Embedded length of all.
    pub fn embedded_m(&self) -> f64 {
        self.sum(|class| class.depth_m)
    }

    /// Root mean square sway over the mirrors.
    pub fn sway_rad(&self) -> f64 {
        (self.sum(|class| class.sway_rad * class.sway_rad) / self.sum(|_| 1.0)).sqrt()
    }

    /// Section of the class that uses it hardest.
    pub fn hardest_used(&self) -> Stock {
        self.iter().fold(self.tallest.stock, |hardest, class| {
            let harder = class.stock.demand.utilisation > hardest.demand.utilisation;
            if harder { class.stock } else { hardest }
        })
    }

    /// Greatest embedded length over the deepest that can be set.
    pub fn footing_utilisation(&self) -> f64 {
        self.iter()
            .map(|class| class.depth_m / GREATEST_DEPTH_M)
            .fold(0.0, f64::max)
    }
}

impl PostClass {
    /// Sizes the posts under a range of mirrors for the tallest; half the sway allowed goes to the
    /// post and half to the ground.
    fn size(inputs: &StringInputs, mirrors: std::ops::Range<usize>, carried_kg: f64) -> Self {
        let rules = &inputs.rules;
        let count = mirrors.len();
        let heights_m = || mirrors.clone().map(|mirror| inputs.height_m(mirror));
        let top_m = heights_m().fold(0.0, f64::max);
        let mean_m = heights_m().sum::<f64>() / count as f64;
        let loads = StringLoads::on_post(inputs, top_m);
        let stock = Series::Ground.lightest(|section| {
            let strength = Demand::hardest_case(|case| {
                rules.wind_factor * loads.peak(case).overturning_n_m(top_m)
                    / section.bending_resistance_n_m(rules.steel_yield_pa)
            });
            let bend_rad = bend_rad(section, &loads.rms, top_m);
            strength.or(Demand::stiffness(bend_rad / (0.5 * rules.sway_limit_rad)))
        });
        let width_m = rules.footing.width_m(stock.section.diameter_m);
        let depth_m = depth_m(rules, &loads, width_m, top_m, carried_kg);
        let arm_m = loads.rms.overturning_n_m(mean_m) / loads.rms.drag_n;
        let sway_rad = bend_rad(&stock.section, &loads.rms, mean_m)
            + rules.ground.turn_rad(depth_m, loads.rms.drag_n, arm_m);
        Self {
            count,
            mean_m,
            stock,
            depth_m,
            sway_rad,
        }
    }
}

/// Turn of a post's head by bending, FL²/(2EI) + ML/(EI).
pub fn bend_rad(section: &Chs, load: &MirrorLoad, height_m: f64) -> f64 {
    let moment_n_m = 0.5 * load.drag_n * height_m + load.hinge_n_m;
    moment_n_m * height_m / section.bending_stiffness_n_m2()
}

/// Embedded length of a post on which the soil bears over a width: standing in every case, holding
/// the uplift, stiff enough, and the least.
pub fn depth_m(
    rules: &Rules,
    loads: &StringLoads,
    width_m: f64,
    top_m: f64,
    carried_kg: f64,
) -> f64 {
    let in_case = |case| {
        let load = loads.peak(case);
        let push_n = rules.wind_factor * load.drag_n;
        let arm_m = load.overturning_n_m(top_m) / load.drag_n;
        let uplift_n = rules.wind_factor * load.lift_n - carried_kg * GRAVITY_M_S2;
        let standing_m = rules.ground.standing_depth_m(width_m, push_n, arm_m);
        standing_m.max(rules.ground.holding_depth_m(width_m, uplift_n))
    };
    let rms = &loads.rms;
    let arm_m = rms.overturning_n_m(top_m) / rms.drag_n;
    let stiff_m = rules
        .ground
        .stiff_depth_m(0.5 * rules.sway_limit_rad, rms.drag_n, arm_m);
    LoadCase::ALL
        .into_iter()
        .map(in_case)
        .fold(stiff_m.max(LEAST_DEPTH_M), f64::max)
}
