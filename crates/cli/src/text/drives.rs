//! How shared drives work out, and what becomes of the light when drives stop.

use ledger::J_PER_KWH;
use model::setout::Mover;
use model::{CLASSES, Escape, Sharing, Workings, YearBeams, defocus_parts};
use quantity::Measure;
use report::text::{Align, TextTable};
use report::{Section, figures};
use scenario::{Defocus, Scenario};

use super::pairs;
use crate::calendar::moment;
use crate::goods::{line_kind, thin, tube};
use crate::units;

const MRAD: f64 = 1e3;
const MINUTE_S: f64 = 60.0;

/// What drives miss by and why, and what that costs in light.
pub fn drives(of: &Sharing, motor_power_w: f64) -> Section {
    let mut table = TextTable::new(&[
        ("beam error, root mean square", Align::Left),
        ("mrad", Align::Right),
        ("light lost, were it alone", Align::Right),
    ]);
    let mut row = |name: &str, error_rad: f64, lost: String| {
        table.row([name.to_owned(), format!("{:.2}", error_rad * MRAD), lost]);
    };
    row(
        "of the shared motion, where drives follow",
        of.residual_rad,
        String::new(),
    );
    row(
        "of the best common turn there is",
        of.bound_rad,
        String::new(),
    );
    for part in &of.blur {
        let lost = figures::percent(part.lost_share.max(0.0), 2);
        row(part.name, part.rms_rad, lost);
    }
    let lost = of.lost.iter().map(|part| {
        let name = format!("light lost by {}", part.name);
        (name, figures::percent(part.share.max(0.0), 2))
    });
    Section::new("Shared drives", table)
        .and(pairs(lost))
        .and(classes(of))
        .and(pairs(gear(of, motor_power_w)))
}

/// What other classes of workmanship would do to the light.
fn classes(of: &Sharing) -> TextTable {
    let mut table = TextTable::new(&[
        ("the year's light by class of workmanship", Align::Left),
        ("coarse", Align::Right),
        ("common", Align::Right),
        ("fine", Align::Right),
    ]);
    for trade in &of.classes {
        let [coarse, common, fine] = std::array::from_fn(|class| {
            if CLASSES[class] == trade.now {
                "as now".to_owned()
            } else {
                format!("{:+.2} %", 100.0 * trade.change[class])
            }
        });
        table.row([trade.name.to_owned(), coarse, common, fine]);
    }
    table
}

fn gear(of: &Sharing, motor_power_w: f64) -> Vec<(String, String)> {
    let (gear, used) = (&of.gear, &of.travel);
    let degrees = |angle_rad: f64| format!("{:.0} deg", angle_rad.to_degrees());
    let turns = used.asked_rad.map(degrees);
    let mut rows = vec![
        (
            "mounts turn either way by".to_owned(),
            format!(
                "{} and {}, stops at {}",
                turns[0],
                turns[1],
                degrees(used.stop_rad)
            ),
        ),
        (
            "sunny hours at the stops".to_owned(),
            format!(
                "{:.0} h, {} of the direct sun",
                used.lost_h,
                figures::percent(used.lost_share, 2)
            ),
        ),
        (
            "drives are faster than the sun".to_owned(),
            format!(
                "{:.0} times",
                used.drive_rad_s / used.fastest_rad_s.max(f64::MIN_POSITIVE)
            ),
        ),
        (
            "drives of a string".to_owned(),
            format!(
                "{}, {:.0} W and {:.0} min to stow, {:.1} Wh there and back",
                units::measured(gear.torque_n_m, Measure::Torque, 3),
                motor_power_w.max(1.0),
                gear.stow_time_s / MINUTE_S,
                gear.stow_energy_j / J_PER_KWH * 1e3
            ),
        ),
        (
            "last mirrors are stowed at".to_owned(),
            format!("{:.1} deg", gear.stow_misfit_rad.to_degrees()),
        ),
    ];
    rows.push(match &gear.mover {
        Mover::Loops(line) => (
            "strands of the lines".to_owned(),
            format!(
                "{} of {}, tightened to {}",
                line_kind(line.kind),
                thin(line.diameter_m, units::first()),
                units::measured(gear.pretension_n, Measure::Force, 3)
            ),
        ),
        Mover::PushRods(rod) => ("push-rods".to_owned(), tube(&rod.section, units::first())),
        Mover::Bar(_) => ("levers slide by".to_owned(), units::length(used.slide_m)),
    });
    rows
}

/// When mirrors are set, and what another date or hour costs: misses while drives follow the sun, and the sun
/// that finds them at their stops.
pub fn alignment(of: &Sharing) -> Section {
    let news = &of.alignment;
    let mut table = TextTable::new(&[
        ("mirrors set", Align::Left),
        ("miss by", Align::Right),
        ("sun at stops", Align::Right),
    ]);
    let mut row = |name: String, left: &YearBeams| {
        let miss = format!("{:.2} mrad", left.residual_rad * MRAD);
        table.row([name, miss, figures::percent(left.stopped_share, 2)]);
    };
    let now: Vec<String> = news
        .instants
        .iter()
        .map(|at| {
            at.as_ref()
                .map_or_else(|| "under the sun given".to_owned(), |at| moment(at.hour))
        })
        .collect();
    row(format!("as now: {}", now.join("; ")), &news.now);
    if let Some((best, left)) = &news.best {
        row(format!("at the field's best, {}", moment(best.hour)), left);
        row("two hours from that".to_owned(), &news.hours_off);
        let farther = "at that hour at the farther solstice";
        row(farther.to_owned(), &news.season_off);
        row("at the worst hour of daylight".to_owned(), &news.worst);
    }
    row(
        "in four sectors, each at its own best".to_owned(),
        &news.parted,
    );
    Section::new("Setting mirrors on target", table)
}

/// What becomes of the light when drives stop, with what defocus of so many driven units would cost.
pub fn escape(of: &Workings, units: f64, scenario: &Scenario) -> Section {
    let unit = if of.shared.is_some() {
        "string"
    } else {
        "heliostat"
    };
    let cost = |defocus| {
        let parts = defocus_parts(defocus, units, of.motor_power_w);
        let cost = parts.map_or(0.0, |(item, amount)| {
            amount * scenario.rates.get(item).value
        });
        format!(
            "{} {}, before contingency and fees",
            figures::grouped(cost, 0),
            scenario.currency
        )
    };
    let mut rows = stalled(of, unit);
    rows.extend(without_grid(&of.escape));
    rows.extend(glare(&of.escape, unit));
    rows.extend([
        (
            "defocus by stored electricity costs".to_owned(),
            cost(Defocus::StoredEnergy),
        ),
        ("by springs".to_owned(), cost(Defocus::Spring)),
    ]);
    let note = if of.shared.is_some() {
        "No one second point serves all mirrors of a string: each is set on the aim by itself, so light that \
         leaves spreads, and a standby aim has to be free of people and things for as far as it spreads."
    } else {
        "Every mirror can be held on a standby aim beside the aperture by drives of its own, as long as they \
         have power; that aim has to be free of people and things."
    };
    Section::new("When drives stop", pairs(rows)).and(note.to_owned())
}

/// One driven unit that stalls.
fn stalled(of: &Workings, unit: &str) -> Vec<(String, String)> {
    let escape = &of.escape;
    let way = format!("{} a minute", walked(escape.stall.path_m_min));
    let apart = units::length(escape.stall.spread_m[1]);
    let walks = if of.shared.is_some() {
        format!("{way}, its mirrors {apart} apart when it leaves")
    } else {
        way
    };
    vec![
        (
            format!("a {unit} stalls: its light leaves in"),
            leaving(escape),
        ),
        ("and walks".to_owned(), walks),
    ]
}

/// The whole field when the grid fails.
fn without_grid(escape: &Escape) -> Vec<(String, String)> {
    let rows = [
        ("the grid fails at the brightest hour", moment(escape.hour)),
        ("half of the light has left after", minutes(escape.halved_s)),
        ("nine tenths have left after", minutes(escape.gone_s)),
        (
            "heat on the hottest spot meanwhile",
            format!(
                "{:.0} MJ/m2, with no flow to cool it",
                escape.dose_j_m2 / 1e6
            ),
        ),
        (
            "highest irradiance beside the aperture",
            format!(
                "{:.0} kW/m2 after {}, {} from the middle",
                escape.beside_w_m2 / 1e3,
                minutes(escape.beside_s),
                walked(escape.beside_m)
            ),
        ),
    ];
    rows.map(|(name, told)| (name.to_owned(), told)).to_vec()
}

/// How far the light harms the eye.
fn glare(escape: &Escape, unit: &str) -> [(String, String); 2] {
    [
        (
            "after-images as far beyond the aim as".to_owned(),
            format!(
                "{} by one {unit}, {} by the field",
                units::length(escape.string_after_image_m),
                units::length(escape.field_after_image_m)
            ),
        ),
        (
            "burns of the eye as far as".to_owned(),
            format!("{}, by the field", units::length(escape.field_burn_m)),
        ),
    ]
}

fn leaving(escape: &Escape) -> String {
    let [first_s, usual_s, last_s] = escape.stall.leaves_s;
    format!("{usual_s:.0} s ({first_s:.0} to {last_s:.0} s)")
}

fn minutes(time_s: f64) -> String {
    if time_s.is_finite() {
        format!("{:.1} min", time_s / MINUTE_S)
    } else {
        "more than 25 min".to_owned()
    }
}

/// How far to the right or left and up or down, as seen from the field.
fn walked([right_m, up_m]: [f64; 2]) -> String {
    let sideways = if right_m < 0.0 { "left" } else { "right" };
    let upwards = if up_m < 0.0 { "down" } else { "up" };
    format!(
        "{} {sideways} and {} {upwards}",
        units::measured(right_m.abs(), Measure::Length, 3),
        units::measured(up_m.abs(), Measure::Length, 3)
    )
}
