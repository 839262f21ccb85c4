//! How the drives work out, as JSON.

use model::setout::Mover;
use model::{ClassLight, Escape, Instant, Sharing, Workings, YearBeams};
use serde_json::{Map, Value, json};

use crate::calendar::moment;

const MRAD: f64 = 1e3;

/// The workings of a field's drives: what is said of shared ones, and what becomes of the light when drives
/// stop.
pub fn drives(of: &Workings) -> Value {
    let shared = of.shared.as_ref();
    let mut told = shared.map_or_else(|| json!({}), |shared| sharing(shared, of.motor_power_w));
    told["stall"] = stall(&of.escape);
    told["grid_failure"] = grid_failure(&of.escape);
    told
}

fn sharing(of: &Sharing, motor_power_w: f64) -> Value {
    let blur: Map<String, Value> = of
        .blur
        .iter()
        .map(|part| (part.key.to_owned(), json!(part.rms_rad * MRAD)))
        .collect();
    let lost_alone: Map<String, Value> = of
        .blur
        .iter()
        .map(|part| (part.key.to_owned(), json!(part.lost_share)))
        .collect();
    let classes: Map<String, Value> = of
        .classes
        .iter()
        .map(|trade| (trade.key.to_owned(), light_by_class(trade)))
        .collect();
    let lost: Map<String, Value> = of
        .lost
        .iter()
        .map(|part| (part.key.to_owned(), json!(part.share)))
        .collect();
    json!({
        "residual_mrad": of.residual_rad * MRAD,
        "common_turn_bound_mrad": of.bound_rad * MRAD,
        "blur_mrad": blur,
        "light_lost": lost,
        "light_lost_alone": lost_alone,
        "light_by_class": classes,
        "alignment": alignment(of),
        "travel": travel(of),
        "gear": gear(of, motor_power_w),
    })
}

fn light_by_class(of: &ClassLight) -> Value {
    let [coarse, common, fine] = of.change;
    json!({ "coarse": coarse, "common": common, "fine": fine })
}

fn instant(at: &Instant) -> Value {
    json!({
        "hour_of_year": at.hour,
        "moment": moment(at.hour),
        "sun": [at.sun.x, at.sun.y, at.sun.z],
    })
}

fn alignment(of: &Sharing) -> Value {
    let news = &of.alignment;
    let left = |beams: &YearBeams| json!({ "miss_mrad": beams.residual_rad * MRAD, "sun_at_stops": beams.stopped_share });
    json!({
        "now": news.instants.iter().map(|at| at.as_ref().map(instant)).collect::<Vec<_>>(),
        "best": news.best.as_ref().map(|(at, _)| instant(at)),
        "left": {
            "now": left(&news.now),
            "best": news.best.as_ref().map(|(_, beams)| left(beams)),
            "two_hours_off": left(&news.hours_off),
            "season_off": left(&news.season_off),
            "worst": left(&news.worst),
            "four_sectors": left(&news.parted),
        },
    })
}

fn travel(of: &Sharing) -> Value {
    let used = &of.travel;
    json!({
        "asked_rad": used.asked_rad,
        "stop_rad": used.stop_rad,
        "lost_hours": used.lost_h,
        "lost_share": used.lost_share,
        "fastest_rad_s": used.fastest_rad_s,
        "drive_rad_s": used.drive_rad_s,
        "slide_m": used.slide_m,
    })
}

fn gear(of: &Sharing, motor_power_w: f64) -> Value {
    let gear = &of.gear;
    let strand_m = match gear.mover {
        Mover::Loops(line) => Some(line.diameter_m),
        Mover::PushRods(_) | Mover::Bar(_) => None,
    };
    json!({
        "torque_n_m": gear.torque_n_m,
        "motor_power_w": motor_power_w,
        "stow_energy_j": gear.stow_energy_j,
        "stow_time_s": gear.stow_time_s,
        "stow_misfit_rad": gear.stow_misfit_rad,
        "strand_m": strand_m,
        "pretension_n": gear.pretension_n,
        "far_twist_mrad": gear.far_twist_rad * MRAD,
    })
}

fn stall(of: &Escape) -> Value {
    json!({
        "leaves_s": of.stall.leaves_s,
        "path_m_min": of.stall.path_m_min,
        "spread_m": of.stall.spread_m,
        "after_image_m": of.string_after_image_m,
    })
}

fn grid_failure(of: &Escape) -> Value {
    // What takes longer than is looked at is null.
    let known = |time_s: f64| time_s.is_finite().then_some(time_s);
    json!({
        "moment": moment(of.hour),
        "dni_w_m2": of.dni_w_m2,
        "halved_s": known(of.halved_s),
        "gone_s": known(of.gone_s),
        "dose_j_m2": of.dose_j_m2,
        "beside_w_m2": of.beside_w_m2,
        "beside_s": of.beside_s,
        "beside_m": of.beside_m,
        "after_image_m": of.field_after_image_m,
        "burn_m": of.field_burn_m,
    })
}
