//! A field that is set out, as tables for a crew and a purchaser.

use field::PlanRow;
use geometry::{Vec3, direction};
use model::setout::{
    FromStock, Mover, Purchase, SetOut, SetPanel, SetPost, SetString, SetUnder, Standing, SunTime,
};
use quantity::Units;
use report::{Data, Table, TableKind};

use crate::day_time::hour_and_minute;
use crate::goods;
use crate::plan_file::{first_axis_text, linkage_text};
use crate::setout::Times;

const MM_PER_M: f64 = 1e3;
const MRAD_PER_RAD: f64 = 1e3;
const STRANDS: u32 = 4;
const DRIVES: u32 = 2;

/// A value of a post, if it has one.
type OfPost = fn(&SetPost) -> Option<f64>;
/// A value of a panel.
type OfPanel = fn(&SetPanel) -> f64;

/// Adds a column of numbers, one for each of `of`.
fn numbers<T>(table: &mut Table, name: &str, of: &[T], value: impl Fn(&T) -> Option<f64>) {
    let finite = |one: &T| value(one).filter(|value| value.is_finite());
    table.push(name, Data::Number(of.iter().map(finite).collect()));
}

/// Adds columns east, north and up with this prefix.
fn places<T>(table: &mut Table, prefix: &str, of: &[T], place_m: impl Fn(&T) -> Vec3) {
    for (axis, name) in ["x_m", "y_m", "z_m"].into_iter().enumerate() {
        let value = |one: &T| Some(place_m(one).to_array()[axis]);
        numbers(table, &format!("{prefix}{name}"), of, value);
    }
}

fn texts<T>(table: &mut Table, name: &str, of: &[T], text: impl Fn(&T) -> Option<String>) {
    table.push(name, Data::Text(of.iter().map(text).collect()));
}

fn counts<T>(table: &mut Table, name: &str, of: &[T], count: impl Fn(&T) -> Option<u32>) {
    table.push(name, Data::Count(of.iter().map(count).collect()));
}

/// Name of each string: that of its first mirror's row.
fn string_name(set_out: &SetOut, rows: &[PlanRow], string: usize) -> String {
    rows[set_out.plan.strings[string].first_mirror]
        .string_id
        .clone()
}

/// Posts and frames with what they bear.
pub fn posts(set_out: &SetOut, rows: &[PlanRow]) -> Table {
    let mut table = Table::new(TableKind::Posts);
    let posts = &set_out.posts;
    texts(&mut table, "string_id", posts, |post| {
        Some(string_name(set_out, rows, post.string))
    });
    texts(&mut table, "mirror_id", posts, |post| match post.standing {
        Standing::Post { mirror, .. } => Some(rows[mirror].mirror_id.clone()),
        Standing::Frame { .. } => None,
    });
    texts(&mut table, "part", posts, |post| {
        let part = match post.standing {
            Standing::Post { .. } => "post",
            Standing::Frame { .. } => "frame",
        };
        Some(part.to_owned())
    });
    counts(&mut table, "legs", posts, |post| match post.standing {
        Standing::Post { .. } => Some(1),
        Standing::Frame { legs } => Some(legs as u32),
    });
    let columns: [(&str, OfPost); 8] = [
        ("x_m", |post| Some(post.place_m[0])),
        ("y_m", |post| Some(post.place_m[1])),
        ("ground_m", |post| Some(post.ground_m)),
        ("head_m", |post| Some(post.head_m)),
        ("depth_m", |post| Some(post.depth_m)),
        ("diameter_mm", |post| {
            Some(post.section.diameter_m * MM_PER_M)
        }),
        ("wall_mm", |post| Some(post.section.wall_m * MM_PER_M)),
        ("hole_mm", |post| Some(post.hole_m? * MM_PER_M)),
    ];
    for (name, value) in columns {
        numbers(&mut table, name, posts, value);
    }
    texts(&mut table, "set_by", posts, |post| {
        Some(goods::set_by(post.governed_by))
    });
    push_duties(&mut table, posts);
    table
}

fn push_duties(table: &mut Table, posts: &[SetPost]) {
    let duty = |post: &SetPost| match post.standing {
        Standing::Post { duty, .. } => Some(duty),
        Standing::Frame { .. } => None,
    };
    texts(table, "wind_case", posts, |post| {
        Some(goods::wind_case(duty(post)?.case).to_owned())
    });
    numbers(table, "overturning_n_m", posts, |post| {
        Some(duty(post)?.overturning_n_m)
    });
    numbers(table, "shear_n", posts, |post| Some(duty(post)?.shear_n));
    numbers(table, "uplift_n", posts, |post| Some(duty(post)?.uplift_n));
    numbers(table, "weight_n", posts, |post| Some(duty(post)?.weight_n));
}

/// How every mirror is set and bent.
pub fn panels(set_out: &SetOut, rows: &[PlanRow]) -> Table {
    let mut table = Table::new(TableKind::Panels);
    let panels = &set_out.panels;
    let names = |name: fn(&PlanRow) -> &str| Data::texts(rows.iter().map(name));
    table.push("string_id", names(|row| &row.string_id));
    table.push("mirror_id", names(|row| &row.mirror_id));
    places(&mut table, "", panels, |panel| panel.centre_m);
    places(&mut table, "aim_", panels, |panel| panel.aim_m);
    let columns: [(&str, OfPanel); 11] = [
        ("first_turn_mrad", |panel| {
            panel.setting.turns_rad[0] * MRAD_PER_RAD
        }),
        ("second_turn_mrad", |panel| {
            panel.setting.turns_rad[1] * MRAD_PER_RAD
        }),
        ("second_edge_raise_mm", |panel| panel.raised_m[0] * MM_PER_M),
        ("first_edge_raise_mm", |panel| panel.raised_m[1] * MM_PER_M),
        ("first_lever_m", |panel| panel.lever_m[0]),
        ("second_lever_m", |panel| panel.lever_m[1]),
        ("first_gain", |panel| panel.setting.lever_ratio[0].recip()),
        ("second_gain", |panel| panel.setting.lever_ratio[1].recip()),
        ("focal_length_m", |panel| panel.focal_length_m),
        ("corner_deflection_mm", |panel| {
            panel.corner_deflection_m * MM_PER_M
        }),
        ("corner_pull_n", |panel| panel.corner_pull_n),
    ];
    for (name, value) in columns {
        numbers(&mut table, name, panels, |panel| Some(value(panel)));
    }
    for (axis, name) in ["mark_right_m", "mark_up_m"].into_iter().enumerate() {
        let at = |panel: &SetPanel| Some(panel.mark?.at_m?[axis]);
        numbers(&mut table, name, panels, at);
    }
    numbers(&mut table, "parallax_mrad", panels, |panel| {
        Some(panel.mark?.parallax_rad * MRAD_PER_RAD)
    });
    table
}

/// Adds the sun under which mirrors are set.
fn push_sun<T>(table: &mut Table, of: &[T], sun: impl Fn(&T) -> Vec3) {
    let angles_deg = |one: &T| {
        let (azimuth_rad, elevation_rad) = direction::azimuth_elevation(sun(one));
        [azimuth_rad.to_degrees(), elevation_rad.to_degrees()]
    };
    numbers(table, "alignment_sun_azimuth_deg", of, |one| {
        Some(angles_deg(one)[0])
    });
    numbers(table, "alignment_sun_elevation_deg", of, |one| {
        Some(angles_deg(one)[1])
    });
}

/// Axes, rails, lines and drives, string by string.
pub fn strings(set_out: &SetOut, rows: &[PlanRow]) -> Table {
    let mut table = Table::new(TableKind::Strings);
    let (plan, strings) = (&set_out.plan, &set_out.strings);
    let row_of = |set: &SetString| &plan.strings[set.string];
    texts(&mut table, "string_id", strings, |set| {
        Some(rows[set.reference_mirror].string_id.clone())
    });
    counts(&mut table, "mirrors", strings, |set| {
        Some(row_of(set).mirror_count as u32)
    });
    texts(&mut table, "reference_mirror_id", strings, |set| {
        Some(rows[set.reference_mirror].mirror_id.clone())
    });
    numbers(&mut table, "bearing_deg", strings, |set| {
        Some(row_of(set).bearing_rad.to_degrees())
    });
    texts(&mut table, "first_axis", strings, |set| {
        Some(first_axis_text(row_of(set).first_axis))
    });
    texts(&mut table, "linkage", strings, |set| {
        Some(linkage_text(row_of(set).linkage).to_owned())
    });
    push_sun(&mut table, strings, |set| set.alignment_sun);
    push_axis(&mut table, "first_axis", strings, |set| set.axes.first);
    push_axis(&mut table, "second_axis", strings, |set| set.axes.second);
    places(&mut table, "string_start_", strings, |set| set.ends_m[0]);
    places(&mut table, "string_end_", strings, |set| set.ends_m[1]);
    push_parts(&mut table, set_out);
    table
}

fn push_axis(table: &mut Table, name: &str, strings: &[SetString], axis: fn(&SetString) -> Vec3) {
    let angles = |set: &SetString| direction::azimuth_elevation(axis(set));
    numbers(table, &format!("{name}_azimuth_deg"), strings, |set| {
        Some(angles(set).0.to_degrees())
    });
    numbers(table, &format!("{name}_elevation_deg"), strings, |set| {
        Some(angles(set).1.to_degrees())
    });
}

fn push_parts(table: &mut Table, set_out: &SetOut) {
    let strings = &set_out.strings;
    let parts = |set: &SetString| &set_out.makes[set.make].parts;
    let is_loops = |set: &SetString| matches!(parts(set).sizes.mover, Mover::Loops(_));
    let rail = |set: &SetString| parts(set).sizes.rail.map(|rail| rail.section);
    numbers(table, "rail_length_m", strings, |set| {
        rail(set).map(|_| set.ends_m[0].distance(set.ends_m[1]))
    });
    numbers(table, "rail_diameter_mm", strings, |set| {
        rail(set).map(|rail| rail.diameter_m * MM_PER_M)
    });
    numbers(table, "rail_wall_mm", strings, |set| {
        rail(set).map(|rail| rail.wall_m * MM_PER_M)
    });
    texts(table, "line", strings, |set| {
        let word = match parts(set).sizes.mover {
            Mover::Loops(_) => "loops",
            Mover::PushRods(_) => "push-rods",
            Mover::Bar(_) => "bar",
        };
        Some(word.to_owned())
    });
    numbers(table, "line_diameter_mm", strings, |set| {
        Some(
            MM_PER_M
                * match &parts(set).sizes.mover {
                    Mover::Loops(line) => line.diameter_m,
                    Mover::PushRods(bar) | Mover::Bar(bar) => bar.section.diameter_m,
                },
        )
    });
    counts(table, "strands", strings, |set| {
        Some(if is_loops(set) { STRANDS } else { 0 })
    });
    numbers(table, "pretension_n", strings, |set| {
        is_loops(set).then(|| parts(set).line_pretension_n)
    });
    numbers(table, "drive_x_m", strings, |set| Some(set.drive_m.x));
    numbers(table, "drive_y_m", strings, |set| Some(set.drive_m.y));
    counts(table, "drives", strings, |_| Some(DRIVES));
    numbers(table, "drive_torque_n_m", strings, |set| {
        Some(parts(set).drive_torque_n_m)
    });
    numbers(table, "motor_w", strings, |set| {
        Some(parts(set).motor_power_w)
    });
}

/// What is bought.
pub fn purchases(purchases: &[Purchase]) -> Table {
    let mut table = Table::new(TableKind::Purchases);
    texts(&mut table, "item", purchases, |bought| {
        Some(goods::item(&bought.goods).to_owned())
    });
    texts(&mut table, "size", purchases, |bought| {
        Some(goods::size(&bought.goods, Units::Si)).filter(|size| !size.is_empty())
    });
    texts(&mut table, "used_for", purchases, |bought| {
        Some(goods::used_for(&bought.goods))
    });
    numbers(&mut table, "quantity", purchases, |bought| {
        Some(goods::amount(&bought.goods, bought.needed, Units::Si))
    });
    numbers(&mut table, "spares", purchases, |bought| {
        Some(goods::amount(&bought.goods, bought.spares, Units::Si))
    });
    texts(&mut table, "unit", purchases, |bought| {
        Some(goods::unit(&bought.goods).to_owned())
    });
    texts(&mut table, "stock", purchases, |bought| {
        goods::stock(bought, Units::Si)
    });
    counts(&mut table, "stock_count", purchases, |bought| {
        Some(goods::stock_count(bought)?.0 as u32)
    });
    counts(
        &mut table,
        "pieces_per_stock",
        purchases,
        |bought| match bought.stock? {
            FromStock::Sheets { panels, .. } => Some(panels as u32),
            FromStock::Bars(_) => None,
        },
    );
    numbers(&mut table, "used_share", purchases, |bought| {
        Some(goods::stock_count(bought)?.1)
    });
    counts(&mut table, "splices", purchases, |bought| {
        match bought.stock? {
            FromStock::Sheets { .. } => None,
            FromStock::Bars(cut) => Some(cut.splices as u32),
        }
    });
    numbers(&mut table, "mass_kg", purchases, |bought| bought.mass_kg);
    table
}

/// When mirrors can be set under their suns.
pub fn alignment(alignments: &[Times]) -> Table {
    let mut table = Table::new(TableKind::Alignment);
    let each = alignments.iter().flat_map(|of| {
        let moments = of.moments.iter();
        moments.map(|time| (&of.under, time))
    });
    let times: &[(&SetUnder, &SunTime)] = &each.collect::<Vec<_>>();
    push_sun(&mut table, times, |(under, _)| under.sun);
    counts(&mut table, "strings", times, |(under, _)| {
        Some(under.strings as u32)
    });
    let sun = |time: &SunTime| direction::azimuth_elevation(time.sun);
    counts(&mut table, "month", times, |(_, time)| {
        Some(time.month_and_day.0)
    });
    counts(&mut table, "day", times, |(_, time)| {
        Some(time.month_and_day.1)
    });
    texts(&mut table, "local_time", times, |(_, time)| {
        Some(hour_and_minute(time.hour))
    });
    numbers(&mut table, "sun_azimuth_deg", times, |(_, time)| {
        Some(sun(time).0.to_degrees())
    });
    numbers(&mut table, "sun_elevation_deg", times, |(_, time)| {
        Some(sun(time).1.to_degrees())
    });
    numbers(&mut table, "off_deg", times, |(under, time)| {
        Some(time.off_rad(under.sun).to_degrees())
    });
    table
}
