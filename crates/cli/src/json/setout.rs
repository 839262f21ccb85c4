//! A field that was set out, as JSON.

use geometry::{Vec3, direction};
use model::setout::{Purchase, SetHeliostats, Standing, SunTime};
use quantity::Units;
use serde_json::{Value, json};

use crate::cautions::CAUTIONS;
use crate::day_time::{hour_and_minute, month_and_day};
use crate::goods;
use crate::handout::Handout;
use crate::inputs::Inputs;
use crate::manifest::FORMAT_VERSION;
use crate::setout::{Times, Told};

/// Counts, alignment and purchases; the tables hold the rest.
pub fn setout(told: &Told) -> Value {
    let set_out = told.set_out;
    let posts = set_out.posts.iter();
    let frames = posts.filter(|post| matches!(post.standing, Standing::Frame { .. }));
    let frames = frames.count();
    let files = told.handout.files();
    json!({
        "format_version": FORMAT_VERSION,
        "title": told.inputs.scenario.title,
        "hash": told.inputs.hash_text(),
        "strings": set_out.strings.len(),
        "mirrors": set_out.panels.len(),
        "posts": set_out.posts.len() - frames,
        "frames": frames,
        "alignments": told.alignments.iter().map(alignment).collect::<Vec<_>>(),
        "purchases": set_out.purchases.iter().map(purchase).collect::<Vec<_>>(),
        "files": files.iter().map(|file| file.display().to_string()).collect::<Vec<_>>(),
        "cautions": CAUTIONS,
    })
}

/// Counts and purchases of heliostats; the tables hold the rest.
pub fn set_heliostats(inputs: &Inputs, set: &SetHeliostats, handout: &Handout) -> Value {
    let files = handout.files();
    json!({
        "format_version": FORMAT_VERSION,
        "title": inputs.scenario.title,
        "hash": inputs.hash_text(),
        "heliostats": set.plan.mirror_count(),
        "canted_panels": set.panels.len(),
        "purchases": set.purchases.iter().map(purchase).collect::<Vec<_>>(),
        "files": files.iter().map(|file| file.display().to_string()).collect::<Vec<_>>(),
        "cautions": CAUTIONS,
    })
}

fn alignment(of: &Times) -> Value {
    let (azimuth_rad, elevation_rad) = direction::azimuth_elevation(of.under.sun);
    let moments = of.moments.iter();
    json!({
        "sun_azimuth_deg": azimuth_rad.to_degrees(),
        "sun_elevation_deg": elevation_rad.to_degrees(),
        "strings": of.under.strings,
        "times": moments.map(|at| time(at, of.under.sun)).collect::<Vec<_>>(),
    })
}

fn time(time: &SunTime, wanted: Vec3) -> Value {
    json!({
        "day": month_and_day(time.month_and_day),
        "local_time": hour_and_minute(time.hour),
        "off_deg": time.off_rad(wanted).to_degrees(),
    })
}

fn purchase(bought: &Purchase) -> Value {
    let stock = goods::stock_count(bought);
    json!({
        "item": goods::item(&bought.goods),
        "size": goods::size(&bought.goods, Units::Si),
        "quantity": goods::amount(&bought.goods, bought.needed, Units::Si),
        "spares": goods::amount(&bought.goods, bought.spares, Units::Si),
        "unit": goods::unit(&bought.goods),
        "stock": goods::stock(bought, Units::Si),
        "stock_count": stock.map(|(count, _)| count),
        "used_share": stock.map(|(_, share)| share),
        "mass_kg": bought.mass_kg,
    })
}
