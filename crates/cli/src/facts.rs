//! A design as facts: key, name, value in SI, and how people read it.

use model::{HeliostatMake, Lee, Make, Makes};
use quantity::Measure;
use report::figures;
use scenario::{
    BearingRule, Class, Control, Defocus, Design, DriveDesign, DrivenFrom, FieldDesign, FirstAxis,
    Footing, HeliostatsDesign, Line, Linkage, OffsetPlace, PanelShape, Rail, ReceiverKind, Sensing,
    SetBy, StringsDesign, Workmanship,
};
use serde_json::{Value, json};

use crate::evaluated::GivenPlan;
use crate::goods::thin;
use crate::units;

/// One fact of a design.
pub struct Fact {
    /// Key for files, with the unit behind it.
    pub key: &'static str,
    /// Name for people.
    pub name: &'static str,
    /// Value in SI, or a word.
    pub value: Value,
    /// The value as people read it, lengths also in feet and inches.
    pub shown: String,
}

/// Every fact of a design before a receiver of this kind.
pub fn facts(design: &Design, receiver: ReceiverKind) -> Vec<Fact> {
    let concept = design.field.concept().word().to_owned();
    let mut facts = vec![word("concept", "concept", concept)];
    facts.extend(match &design.field {
        FieldDesign::Strings(strings) => string_facts(strings),
        FieldDesign::Pedestals(heliostats) | FieldDesign::Singles(heliostats) => {
            heliostat_facts(heliostats)
        }
    });
    facts.push(length("aim_height_m", "aim height", design.aim_height_m));
    facts.extend(aperture(design, receiver));
    facts.push(Fact {
        key: "storage_j",
        name: "heat store",
        value: json!(design.storage_j),
        shown: figures::energy(design.storage_j),
    });
    facts
}

/// The aperture: a cylinder's is as wide as its diameter and looks all around.
fn aperture(design: &Design, receiver: ReceiverKind) -> Vec<Fact> {
    let (width_m, height_m) = (design.aperture_width_m, design.aperture_height_m);
    if receiver == ReceiverKind::Cylinder {
        return vec![
            length("aperture_width_m", "receiver diameter", width_m),
            length("aperture_height_m", "receiver height", height_m),
        ];
    }
    vec![
        length("aperture_width_m", "aperture width", width_m),
        length("aperture_height_m", "aperture height", height_m),
        angle(
            "aperture_tilt_rad",
            "aperture looks down by",
            design.aperture_tilt_rad,
        ),
    ]
}

/// Facts of a design that a given plan decides instead.
const OF_PLAN: [&str; 13] = [
    "count",
    "mirrors",
    "side_m",
    "pitch_ratio",
    "bearing",
    "first_axis",
    "linkage",
    "row_growth",
    "aim_spread",
    "area_m2",
    "width_over_height",
    "ring_spacing_ratio",
    "side_spacing_ratio",
];

/// Facts of a given plan, and those of the design that it leaves.
pub fn plan_facts(design: &Design, receiver: ReceiverKind, plan: &GivenPlan) -> Vec<Fact> {
    let (name, makes, shown): (_, Vec<Value>, Vec<String>) = match &plan.makes {
        Makes::Strings(makes) => (
            "strings",
            makes.iter().map(make_value).collect(),
            makes.iter().map(make_text).collect(),
        ),
        Makes::Heliostats(makes) => (
            "heliostats",
            makes.iter().map(heliostat_value).collect(),
            makes.iter().map(heliostat_text).collect(),
        ),
    };
    let mut all = vec![
        word("plan", "plan", plan.path.display().to_string()),
        Fact {
            key: "makes",
            name,
            value: json!(makes),
            shown: shown.join("; "),
        },
    ];
    let left = facts(design, receiver).into_iter();
    all.extend(left.filter(|fact| !OF_PLAN.contains(&fact.key)));
    all
}

fn make_value(make: &Make) -> Value {
    json!({
        "count": make.strings.count,
        "mirrors": make.strings.mirrors,
        "side_m": make.strings.side_m,
        "pitch_m": make.pitch_m(),
        "open_to_the_wind": make.lee == Lee::Edge,
    })
}

fn make_text(make: &Make) -> String {
    let strings = &make.strings;
    let mirrors = figures::counted(strings.mirrors as usize, "mirror");
    let side = units::length(strings.side_m);
    let pitch = if strings.mirrors > 1 {
        format!(", {} apart", units::length(make.pitch_m()))
    } else {
        String::new()
    };
    let lee = lee_text(make.lee);
    format!("{} of {mirrors} of {side}{pitch}{lee}", strings.count)
}

const fn lee_text(lee: Lee) -> &'static str {
    match lee {
        Lee::Inside => "",
        Lee::Edge => ", open to the wind",
    }
}

fn heliostat_value(make: &HeliostatMake) -> Value {
    json!({
        "count": make.heliostats.count,
        "area_m2": make.heliostats.area_m2,
        "open_to_the_wind": make.lee == Lee::Edge,
    })
}

fn heliostat_text(make: &HeliostatMake) -> String {
    let area = units::in_both(make.heliostats.area_m2, Measure::Area, 3);
    format!("{} of {area}{}", make.heliostats.count, lee_text(make.lee))
}

fn heliostat_facts(heliostats: &HeliostatsDesign) -> Vec<Fact> {
    let footing = match heliostats.footing {
        Footing::Driven => "their driven ends",
        Footing::Drilled => "drilled piers",
    };
    vec![
        count("count", "heliostats", heliostats.count),
        Fact {
            key: "area_m2",
            name: "glass of each",
            value: json!(heliostats.area_m2),
            shown: units::in_both(heliostats.area_m2, Measure::Area, 3),
        },
        ratio(
            "width_over_height",
            "width ÷ height",
            heliostats.width_over_height,
        ),
        length(
            "largest_panel_m",
            "largest panel",
            heliostats.largest_panel_m,
        ),
        panel_shape(heliostats.panel_shape),
        thickness(
            "glass_thickness_m",
            "glass thickness",
            heliostats.glass_thickness_m,
        ),
        length("clearance_m", "clear of the ground", heliostats.clearance_m),
        ratio(
            "ring_spacing_ratio",
            "ring spacing ÷ that without blocking",
            heliostats.ring_spacing_ratio,
        ),
        ratio(
            "side_spacing_ratio",
            "spacing in a ring ÷ diagonal",
            heliostats.side_spacing_ratio,
        ),
        aim_spread(heliostats.aim_spread),
        focal_lengths(heliostats.focal_steps),
        give(heliostats.give_rad),
        word("footing", "standing on", footing.to_owned()),
        word(
            "sensing",
            "drive knows its aim by",
            sensing(heliostats.sensing),
        ),
        word(
            "defocus",
            "when the grid fails",
            defocus(heliostats.defocus),
        ),
    ]
}

fn string_facts(strings: &StringsDesign) -> Vec<Fact> {
    vec![
        count("count", "strings", strings.count),
        count("mirrors", "mirrors per string", strings.mirrors),
        length("side_m", "mirror side", strings.side_m),
        thickness(
            "glass_thickness_m",
            "glass thickness",
            strings.glass_thickness_m,
        ),
        panel_shape(strings.panel_shape),
        ratio("pitch_ratio", "mirror pitch ÷ side", strings.pitch_ratio),
        word("bearing", "strings lie", bearing(strings.bearing)),
        word("first_axis", "first axis", first_axis(strings.first_axis)),
        word("linkage", "linkage", linkage(strings.linkage)),
        word("offset", "mirrors set", offset(strings.offset)),
        word("control", "drive holds", control(strings.control)),
        angle("rail_slope_rad", "rail slope", strings.rail_slope_rad),
        length("mount_height_m", "mount height", strings.mount_height_m),
        length("stagger_m", "stagger", strings.stagger_m),
        ratio(
            "row_spacing_ratio",
            "row spacing ÷ side",
            strings.row_spacing_ratio,
        ),
        ratio(
            "row_growth",
            "row growth per metre outwards",
            strings.row_growth,
        ),
        aim_spread(strings.aim_spread),
        length("lever_m", "levers", strings.lever_m),
        give(strings.give_rad),
        word(
            "driven_from",
            "driven from",
            driven_from(strings.driven_from),
        ),
        word("line", "motion handed on by", line(&strings.drive)),
        word("rail", "posts tied by", rail(strings.drive.rail)),
        count(
            "alignment_instants",
            "suns that mirrors are set under",
            strings.drive.alignment_instants.max(1),
        ),
        word("set_by", "set by", set_by(strings.drive.set_by)),
        word(
            "sensing",
            "drive knows its aim by",
            sensing(strings.drive.sensing),
        ),
        ratio(
            "pretension_ratio",
            "pretension ÷ what is taken off",
            strings.drive.pretension_ratio,
        ),
        word(
            "defocus",
            "when the grid fails",
            defocus(strings.drive.defocus),
        ),
        word(
            "workmanship",
            "workmanship",
            workmanship(&strings.drive.workmanship),
        ),
    ]
}

fn aim_spread(share: f64) -> Fact {
    Fact {
        key: "aim_spread",
        name: "aim points spread over aperture",
        value: json!(share),
        shown: figures::percent(share, 0),
    }
}

fn give(give_rad: f64) -> Fact {
    Fact {
        key: "give_rad",
        name: "steel may give",
        value: json!(give_rad),
        shown: format!("{} mrad", figures::significant(give_rad * 1e3, 2)),
    }
}

fn set_by(by: SetBy) -> String {
    match by {
        SetBy::Sun => "the sun",
        SetBy::Laser => "a laser at night",
    }
    .to_owned()
}

fn sensing(sensing: Sensing) -> String {
    match sensing {
        Sensing::OpenLoop => "counting turns",
        Sensing::Sensor => "a sensor at every reference mirror",
        Sensing::Camera => "cameras that see the target",
    }
    .to_owned()
}

fn defocus(defocus: Defocus) -> String {
    match defocus {
        Defocus::None => "only the sun's motion turns the light away",
        Defocus::StoredEnergy => "stored electricity turns the mirrors away",
        Defocus::Spring => "springs turn the mirrors away",
    }
    .to_owned()
}

/// What is not common in it.
fn workmanship(work: &Workmanship) -> String {
    let classes = [
        ("posts", work.posts),
        ("axes", work.axes),
        ("joints", work.joints),
        ("levers", work.levers),
        ("offsets", work.offsets),
    ];
    let uncommon: Vec<String> = classes
        .into_iter()
        .filter_map(|(part, class)| match class {
            Class::Coarse => Some(format!("coarse {part}")),
            Class::Common => None,
            Class::Fine => Some(format!("fine {part}")),
        })
        .collect();
    if uncommon.is_empty() {
        "common".to_owned()
    } else {
        uncommon.join(", ")
    }
}

fn count(key: &'static str, name: &'static str, value: u32) -> Fact {
    Fact {
        key,
        name,
        value: json!(value),
        shown: figures::grouped(f64::from(value), 0),
    }
}

fn length(key: &'static str, name: &'static str, value_m: f64) -> Fact {
    Fact {
        key,
        name,
        value: json!(value_m),
        shown: units::length(value_m),
    }
}

/// A length of some millimetres.
fn thickness(key: &'static str, name: &'static str, value_m: f64) -> Fact {
    Fact {
        key,
        name,
        value: json!(value_m),
        shown: thin_in_both(value_m),
    }
}

fn thin_in_both(value_m: f64) -> String {
    let first = units::first();
    let [shown, beside] = [first, first.other()].map(|units| thin(value_m, units));
    format!("{shown} ({beside})")
}

fn angle(key: &'static str, name: &'static str, value_rad: f64) -> Fact {
    Fact {
        key,
        name,
        value: json!(value_rad),
        shown: format!("{:.1} deg", value_rad.to_degrees()),
    }
}

fn ratio(key: &'static str, name: &'static str, value: f64) -> Fact {
    Fact {
        key,
        name,
        value: json!(value),
        shown: figures::significant(value, 3),
    }
}

fn word(key: &'static str, name: &'static str, shown: String) -> Fact {
    Fact {
        key,
        name,
        value: json!(shown),
        shown,
    }
}

fn focal_lengths(stocked: u32) -> Fact {
    let fact = count("focal_steps", "focal lengths stocked", stocked);
    if stocked > 0 {
        return fact;
    }
    Fact {
        shown: "none".to_owned(),
        ..fact
    }
}

fn panel_shape(shape: PanelShape) -> Fact {
    let shown = match shape {
        PanelShape::Focused => "focused",
        PanelShape::Flat => "flat",
    };
    word("panel_shape", "panels", shown.to_owned())
}

fn bearing(rule: BearingRule) -> String {
    match rule {
        BearingRule::Radial => "radial, pointing at the tower".to_owned(),
        BearingRule::Cross => "cross, square to the sight of the tower".to_owned(),
        BearingRule::Best => "as earns most, place by place, with its axis".to_owned(),
        BearingRule::Fixed { azimuth_rad } => format!("along {:.1} deg", azimuth_rad.to_degrees()),
        BearingRule::Fan { share } => format!("fan {share}"),
    }
}

fn first_axis(axis: FirstAxis) -> String {
    match axis {
        FirstAxis::Across => "across the string".to_owned(),
        FirstAxis::Along => "along the string".to_owned(),
        FirstAxis::Vertical => "vertical".to_owned(),
        FirstAxis::Polar => "polar".to_owned(),
        FirstAxis::Fixed {
            azimuth_rad,
            elevation_rad,
        } => format!(
            "towards {:.1} deg, rising {:.1} deg",
            azimuth_rad.to_degrees(),
            elevation_rad.to_degrees()
        ),
        FirstAxis::RollFree => "none, a ball joint that does not roll".to_owned(),
    }
}

fn linkage(linkage: Linkage) -> String {
    match linkage {
        Linkage::EqualAngle => "parallel levers, equal angles",
        Linkage::EqualTravel => "askew levers, equal travel",
        Linkage::Graded => "levers of graded lengths",
        Linkage::SlidingLever => "sliding levers on a bar",
    }
    .to_owned()
}

fn offset(place: OffsetPlace) -> String {
    match place {
        OffsetPlace::Shim => "by shims under the panels",
        OffsetPlace::Lever => "at the levers' clamps",
        OffsetPlace::Post => "in the post heads",
    }
    .to_owned()
}

fn control(control: Control) -> String {
    match control {
        Control::Reference => "the middle mirror on target",
        Control::LeastSquares => "all mirrors as near as it can",
    }
    .to_owned()
}

fn line(drive: &DriveDesign) -> String {
    match drive.line {
        Line::Rod => "loops of rod".to_owned(),
        Line::Rope => "loops of rope".to_owned(),
        Line::PushRod => format!("push-rods, {} guides between levers", drive.rod_guides),
    }
}

fn rail(rail: Rail) -> String {
    match rail {
        Rail::Continuous => "a continuous rail",
        Rail::None => "nothing",
    }
    .to_owned()
}

fn driven_from(place: DrivenFrom) -> String {
    match place {
        DrivenFrom::Middle => "the middle",
        DrivenFrom::End => "one end",
    }
    .to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_are_told_in_both_systems_and_keys_differ() {
        let mut design = Design {
            aim_height_m: 40.0,
            ..Design::default()
        };
        design.field = FieldDesign::Strings(StringsDesign {
            side_m: 0.762,
            glass_thickness_m: 0.004,
            ..StringsDesign::default()
        });
        let facts = facts(&design, ReceiverKind::Billboard);
        let shown = |key: &str| {
            let fact = facts.iter().find(|fact| fact.key == key).unwrap();
            fact.shown.clone()
        };
        assert_eq!(shown("side_m"), "0.762 m (30 in)");
        assert_eq!(shown("glass_thickness_m"), "4.0 mm (0.157 in)");
        assert_eq!(shown("aim_height_m"), "40.0 m (131 ft)");
        let keys: std::collections::BTreeSet<_> = facts.iter().map(|fact| fact.key).collect();
        assert_eq!(keys.len(), facts.len());
    }

    #[test]
    fn a_cylinder_looks_all_around() {
        let names = |receiver| -> Vec<&str> {
            let facts = facts(&Design::default(), receiver);
            facts.iter().map(|fact| fact.name).collect()
        };
        let flat = names(ReceiverKind::Cavity);
        let round = names(ReceiverKind::Cylinder);
        assert!(flat.contains(&"aperture looks down by"));
        assert!(
            !round.iter().any(|name| name.contains("aperture ")),
            "{round:?}"
        );
        assert!(round.contains(&"receiver diameter"));
    }
}
