//! What was set out: counts, alignment, settings, loads, purchases.

use model::setout::{Mark, PostDuty, Purchase, SetHeliostats, SetOut, Standing};
use quantity::Measure;
use report::text::{Align, TextTable};
use report::{Part, Section, figures};

use super::{cautions, page, pairs};
use crate::day_time::{hour_and_minute, month_and_day};
use crate::goods;
use crate::handout::Handout;
use crate::setout::{Times, Told};
use crate::units;

const MRAD_PER_RAD: f64 = 1e3;

/// Everything that is told of a field that was set out.
pub fn setout(told: &Told) -> String {
    let head = format!("{}. {}.", told.inputs.scenario.title, told.origin);
    let mut sections = vec![Section::opening(head)];
    sections.extend(extract(told.set_out, told.alignments));
    sections.extend([files(told.handout), cautions()]);
    page(&sections)
}

/// What a crew and a purchaser want to know first.
pub fn extract(set_out: &SetOut, alignments: &[Times]) -> [Section; 5] {
    [
        Section::new("Set out", pairs(counts(set_out))),
        alignment(alignments),
        Section::new("Settings", pairs(settings(set_out))),
        Section::new("Loads at the ground", loads(set_out)),
        Section::new("To buy for the strings", purchases(&set_out.purchases)),
    ]
}

/// Everything that is told of heliostats that were set out.
pub fn heliostats(head: String, set: &SetHeliostats, handout: &Handout) -> String {
    let spared = "A heliostat is set on its target by its own drives and calibrated there: nothing is set \
                  under a sun. Panels of one that has several are canted on their frame, each as the \
                  mirror's focal length wants it at its place.";
    page(&[
        Section::opening(head),
        Section::new("Set out", pairs(heliostat_counts(set))).and(spared.to_owned()),
        Section::new("To buy for the heliostats", purchases(&set.purchases)),
        files(handout),
        cautions(),
    ])
}

fn heliostat_counts(set: &SetHeliostats) -> Vec<(&'static str, String)> {
    let glass = units::in_both(set.plan.total_area_m2(), Measure::Area, 4);
    let mut counts = vec![
        (
            "heliostats",
            figures::grouped(set.plan.mirror_count() as f64, 0),
        ),
        ("glass", glass),
    ];
    if !set.panels.is_empty() {
        let leans = set.panels.iter().flat_map(|panel| panel.cant_rad);
        let most_rad = leans.map(f64::abs).fold(0.0, f64::max);
        counts.extend([
            (
                "panels to cant",
                figures::grouped(set.panels.len() as f64, 0),
            ),
            (
                "largest cant",
                format!("{:.1} mrad", most_rad * MRAD_PER_RAD),
            ),
        ]);
    }
    let depths_m = range(set.makes.iter().map(|make| make.parts.embedded_m));
    counts.push(("in the ground", units::span(depths_m, Measure::Length, 2)));
    counts
}

fn counts(set_out: &SetOut) -> Vec<(&'static str, String)> {
    let frames = set_out.posts.iter();
    let frames = frames.filter(|post| matches!(post.standing, Standing::Frame { .. }));
    let frames = frames.count();
    let count = |number: usize| figures::grouped(number as f64, 0);
    vec![
        ("strings", count(set_out.strings.len())),
        ("mirrors", count(set_out.panels.len())),
        ("posts", count(set_out.posts.len() - frames)),
        ("frames, each on two legs", count(frames)),
        (
            "glass",
            units::in_both(set_out.plan.total_area_m2(), Measure::Area, 4),
        ),
    ]
}

fn alignment(alignments: &[Times]) -> Section {
    let mut table = TextTable::new(&[
        ("sun", Align::Left),
        ("strings", Align::Right),
        ("day", Align::Left),
        ("local standard time", Align::Left),
        ("off by", Align::Right),
    ]);
    for Times { under, moments } in alignments {
        let (azimuth_rad, elevation_rad) = geometry::direction::azimuth_elevation(under.sun);
        let sun = format!(
            "at {:.1} deg, {:.1} deg high",
            azimuth_rad.to_degrees(),
            elevation_rad.to_degrees()
        );
        for time in moments {
            table.row([
                sun.clone(),
                figures::grouped(under.strings as f64, 0),
                month_and_day(time.month_and_day),
                hour_and_minute(time.hour),
                format!("{:.2} deg", time.off_rad(under.sun).to_degrees()),
            ]);
        }
    }
    Section::new("Settings hold for these suns", table)
}

fn settings(set_out: &SetOut) -> Vec<(&'static str, String)> {
    let panels = || set_out.panels.iter();
    let largest = |values: &mut dyn Iterator<Item = f64>| values.fold(0.0, f64::max);
    let turn_rad = largest(&mut panels().flat_map(|panel| panel.setting.turns_rad.map(f64::abs)));
    let raise_m = largest(&mut panels().flat_map(|panel| panel.raised_m.map(f64::abs)));
    let corners_m = range(panels().map(|panel| panel.corner_deflection_m));
    let pulls_n = range(panels().map(|panel| panel.corner_pull_n));
    let levers_m = range(panels().flat_map(|panel| panel.lever_m));
    let mut rows = vec![
        (
            "largest turn against the reference mirror",
            format!("{:.2} mrad", turn_rad * MRAD_PER_RAD),
        ),
        (
            "as a raise of the panel's edge",
            units::measured(raise_m, Measure::Thickness, 3),
        ),
        (
            "corners before the centre",
            units::span(corners_m, Measure::Thickness, units::fine(2)),
        ),
        (
            "pull at each corner",
            units::span(pulls_n, Measure::Force, 1),
        ),
        ("levers", units::span(levers_m, Measure::Length, 4)),
    ];
    rows.extend(marks(set_out));
    rows
}

/// Where the marks of a laser stand, which is in the middle of the aperture; nothing where mirrors are set by the
/// sun.
fn marks(set_out: &SetOut) -> Vec<(&'static str, String)> {
    let marks: Vec<Mark> = set_out
        .panels
        .iter()
        .filter_map(|panel| panel.mark)
        .collect();
    if marks.is_empty() {
        return Vec::new();
    }
    let met: Vec<[f64; 2]> = marks.iter().filter_map(|mark| mark.at_m).collect();
    let reach = |axis: usize| {
        let ends_m = range(met.iter().map(|at| at[axis]));
        units::span(ends_m, Measure::Length, 2)
    };
    let mut rows = Vec::new();
    if !met.is_empty() {
        rows.push(("marks right of the aperture's middle", reach(0)));
        rows.push(("marks above the aperture's middle", reach(1)));
    }
    let lost = marks.len() - met.len();
    if lost > 0 {
        let told = figures::counted(lost, "mirror");
        rows.push(("laser comes back nowhere near the tower from", told));
    }
    let parallax_rad = marks
        .iter()
        .map(|mark| mark.parallax_rad)
        .fold(0.0, f64::max);
    let told = format!("{:.2} mrad", parallax_rad * MRAD_PER_RAD);
    rows.push(("parallax of the laser, taken out of the marks", told));
    rows
}

fn range(values: impl Iterator<Item = f64>) -> [f64; 2] {
    values.fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], value| {
        [low.min(value), high.max(value)]
    })
}

fn loads(set_out: &SetOut) -> TextTable {
    let duties = || {
        set_out.posts.iter().filter_map(|post| match post.standing {
            Standing::Post { duty, .. } => Some(duty),
            Standing::Frame { .. } => None,
        })
    };
    let worst = duties().max_by(|one, other| one.overturning_n_m.total_cmp(&other.overturning_n_m));
    let Some(worst) = worst else {
        return pairs::<&str>([]);
    };
    let told = |of: fn(&PostDuty) -> f64, measure| {
        units::span(range(duties().map(|duty| of(&duty))), measure, 2)
    };
    let depths_m = range(set_out.posts.iter().map(|post| post.depth_m));
    pairs([
        (
            "wind case that overturns most",
            goods::wind_case(worst.case).to_owned(),
        ),
        (
            "overturning moment",
            told(|duty| duty.overturning_n_m, Measure::Moment),
        ),
        (
            "shear in that case",
            told(|duty| duty.shear_n, Measure::Load),
        ),
        (
            "uplift, worst case",
            told(|duty| duty.uplift_n, Measure::Load),
        ),
        ("in the ground", units::span(depths_m, Measure::Length, 2)),
    ])
}

fn purchases(purchases: &[Purchase]) -> TextTable {
    let mut table = TextTable::new(&[
        ("item", Align::Left),
        ("quantity", Align::Right),
        ("spares", Align::Right),
        ("stock", Align::Left),
        ("used", Align::Right),
    ]);
    for bought in purchases {
        let measure = goods::measure(&bought.goods);
        let decimals = usize::from(measure == Some(Measure::Mass));
        let amount = |amount: f64| {
            let told = goods::amount(&bought.goods, amount, units::first());
            figures::grouped(told, decimals)
        };
        let item = format!(
            "{} {}",
            goods::item(&bought.goods),
            goods::size(&bought.goods, units::first())
        );
        let stock = goods::stock_count(bought);
        table.row([
            item.trim_end().to_owned(),
            format!(
                "{} {}",
                amount(bought.needed),
                measure.map_or("", units::unit)
            )
            .trim_end()
            .to_owned(),
            amount(bought.spares),
            stock.map_or_else(String::new, |(count, _)| {
                let of = goods::stock(bought, units::first()).unwrap_or_default();
                format!("{} x {of}", figures::grouped(count as f64, 0))
            }),
            stock.map_or_else(String::new, |(_, share)| figures::percent(share, 1)),
        ]);
    }
    table
}

fn files(handout: &Handout) -> Section {
    let files = handout.files();
    let lines: String = files
        .iter()
        .map(|file| format!("{}\n", file.display()))
        .collect();
    Section::new("Files", Part::Lines(lines))
}
