//! Values that each are in range but do not go together. Designs are judged at their start.

use std::f64::consts::FRAC_1_SQRT_2;

use crate::design::StringsDesign;
use crate::problem::{Place, ProblemKind, Problems};
use crate::scenario::{Draft, Scenario};
use crate::{
    Carrier, Delivers, Design, Door, FirstAxis, Linkage, OffsetPlace, ReceiverKind, SunShape,
    Weather,
};

/// A rule over several keys, told at the first of them.
struct Check {
    keys: &'static [&'static str],
    fault: fn(&Scenario, &Design) -> Option<String>,
}

const CHECKS: &[Check] = &[
    Check {
        keys: &["receiver.aperture_height", "tower.aim_height"],
        fault: |_, design| {
            let (height_m, aim_m) = (design.aperture_height_m, design.aim_height_m);
            let fault =
                format!("an aperture {height_m} m high does not fit an aim height of {aim_m} m");
            (height_m > aim_m).then_some(fault)
        },
    },
    Check {
        keys: &["receiver.aperture_width", "tower.aim_height"],
        fault: |_, design| {
            let (width_m, aim_m) = (design.aperture_width_m, design.aim_height_m);
            let fault =
                format!("an aperture {width_m} m wide does not fit an aim height of {aim_m} m");
            (width_m > aim_m).then_some(fault)
        },
    },
    Check {
        keys: &["field.outer_radius", "field.inner_radius"],
        fault: |scenario, _| {
            let inner = scenario.field.inner_radius_ratio;
            let outer = scenario.field.outer_radius_ratio;
            let fault = format!(
                "an outer edge at {outer} is not beyond the inner edge at {inner} aim heights"
            );
            (outer <= inner).then_some(fault)
        },
    },
    Check {
        keys: &["strings.linkage", "strings.offset", "strings.first_axis"],
        fault: |_, design| mechanism_fault(design.field.strings()?).map(str::to_owned),
    },
    Check {
        keys: &["strings.mount_height", "strings.side"],
        fault: |_, design| {
            let strings = design.field.strings()?;
            let (mount_m, side_m) = (strings.mount_height_m, strings.side_m);
            let fault = format!(
                "mirrors of {side_m} m standing on a corner reach the ground from {mount_m} m; raise them above 0.71 of the side"
            );
            (mount_m < FRAC_1_SQRT_2 * side_m).then_some(fault)
        },
    },
    Check {
        keys: &["strings.mount_height", "tower.aim_height"],
        fault: |_, design| {
            let strings = design.field.strings()?;
            let (mount_m, aim_m) = (strings.mount_height_m, design.aim_height_m);
            let fault =
                format!("mirrors at {mount_m} m stand too near the aim height of {aim_m} m");
            (mount_m + strings.stagger_m > 0.25 * aim_m).then_some(fault)
        },
    },
    Check {
        keys: &[
            "receiver.cavity_lower_lip",
            "receiver.cavity_above_upper_lip",
        ],
        fault: |scenario, _| {
            let receiver = &scenario.receiver;
            let share = receiver.cavity_lower_lip + receiver.cavity_above_upper_lip;
            let fault = format!("lips of together {share} leave nothing of the inner surface");
            (share >= 1.0).then_some(fault)
        },
    },
    Check {
        keys: &["mirror.cleanliness", "upkeep.wash_interval"],
        fault: |scenario, _| {
            let is_opened = |path| {
                scenario
                    .space
                    .variables()
                    .iter()
                    .any(|one| one.path() == path)
            };
            let fault =
                "washing is opened for search but would change no light; take the cleanliness out";
            (scenario.mirror.cleanliness.is_some() && is_opened("upkeep.wash_interval"))
                .then(|| fault.to_owned())
        },
    },
    Check {
        keys: &[
            "weather.sun_angles",
            "weather.sun_brightness",
            "weather.sun_shape",
        ],
        fault: |scenario, _| sun_table_fault(&scenario.weather),
    },
    Check {
        keys: &["receiver.door", "receiver.kind"],
        fault: |scenario, _| {
            let receiver = &scenario.receiver;
            let is_lost = receiver.door != Door::None && receiver.kind != ReceiverKind::Cavity;
            is_lost.then(|| "only a cavity can be closed by a door".to_owned())
        },
    },
    Check {
        keys: &["heat.carrier", "heat.delivers"],
        fault: |scenario, _| {
            let fault = match (scenario.heat.carrier, scenario.heat.delivers) {
                (Carrier::Water, Delivers::Electricity) => {
                    "pressurised water is too cool for a turbine set; let it be salt or air"
                }
                (Carrier::Water | Carrier::Salt, Delivers::HotAir) => {
                    "hot air is delivered as it leaves the receiver; let the carrier be air"
                }
                _ => return None,
            };
            Some(fault.to_owned())
        },
    },
    Check {
        keys: &["heat.hot_temperature", "heat.cold_temperature"],
        fault: |scenario, _| {
            let heat = &scenario.heat;
            let is_flat =
                heat.carrier != Carrier::Water && heat.hot_temperature_k <= heat.cold_temperature_k;
            is_flat.then(|| "what leaves the receiver must be hotter than what enters".to_owned())
        },
    },
    Check {
        keys: &["heat.demand.min_power", "heat.demand.power"],
        fault: |scenario, _| {
            let demand = &scenario.heat.demand;
            let fault = "the least power that can be used is above the demand".to_owned();
            (demand.min_power_w > demand.power_w).then_some(fault)
        },
    },
    Check {
        keys: &["structure.drive_wind", "structure.operating_wind"],
        fault: |scenario, _| {
            let wind = &scenario.structure;
            let fault = "a string must still drive in the wind up to which it operates".to_owned();
            (wind.drive_wind_m_s < wind.operating_wind_m_s).then_some(fault)
        },
    },
    Check {
        keys: &["structure.survival_wind", "structure.drive_wind"],
        fault: |scenario, _| {
            let wind = &scenario.structure;
            let fault =
                "what is stowed must outlive the wind in which it drives to stow".to_owned();
            (wind.survival_wind_m_s < wind.drive_wind_m_s).then_some(fault)
        },
    },
];

/// Why linkage, place of the offsets and first axis cannot be built together, and what to take.
const fn mechanism_fault(strings: &StringsDesign) -> Option<&'static str> {
    let in_levers = matches!(strings.offset, OffsetPlace::Lever);
    match strings.linkage {
        Linkage::EqualTravel if !in_levers => Some(
            "levers that stand parallel make equal travel the same as equal angles; take linkage = \"equal-angle\", or offset = \"lever\"",
        ),
        Linkage::Graded | Linkage::SlidingLever if !in_levers => Some(
            "graded and sliding levers are set on target where they are clamped; take offset = \"lever\"",
        ),
        Linkage::SlidingLever => None,
        _ if in_levers && matches!(strings.first_axis, FirstAxis::RollFree) => Some(
            "a roll-free joint has no axes for levers to be clamped to; take offset = \"shim\" or \
             \"post\" with linkage = \"equal-angle\", or linkage = \"sliding-lever\"",
        ),
        _ => None,
    }
}

/// Why no sun can be made of the tabled brightness, if one is asked for.
fn sun_table_fault(weather: &Weather) -> Option<String> {
    let (angles_rad, brightness) = (&weather.sun_angles_rad, &weather.sun_brightness);
    let (angles, values) = (angles_rad.len(), brightness.len());
    let is_wanted = weather.sun_shape == SunShape::Table;
    let starts_rad = angles_rad.first().copied().unwrap_or_default();
    let fallen = angles_rad.windows(2).position(|pair| pair[1] <= pair[0]);
    if !is_wanted && angles + values == 0 {
        None
    } else if !is_wanted {
        Some("the sun's brightness is tabled; set sun_shape = \"table\" or take it out".to_owned())
    } else if angles == 0 || angles != values {
        Some(format!(
            "the table of the sun's brightness has {angles} angles and {values} values; give as \
             many in sun_angles as in sun_brightness, at least two"
        ))
    } else if starts_rad != 0.0 {
        let starts_mrad = 1e3 * starts_rad;
        Some(format!(
            "the table starts {starts_mrad} mrad off the sun's middle; let it start at 0"
        ))
    } else if let Some(above) = fallen {
        let [from_mrad, to_mrad] = [above, above + 1].map(|line| 1e3 * angles_rad[line]);
        Some(format!(
            "angles must rise; {to_mrad} mrad follows {from_mrad} mrad"
        ))
    } else {
        let is_dark = brightness.iter().all(|value| *value == 0.0);
        is_dark.then(|| "a sun that is dark at every angle gives no light".to_owned())
    }
}

/// Tells every rule that is broken by keys which are sound each for itself.
pub(crate) fn check(draft: &Draft, place_of: impl Fn(&str) -> Place, problems: &mut Problems) {
    let scenario = &draft.scenario;
    let start = scenario.space.design(&scenario.space.start());
    for Check { keys, fault } in CHECKS {
        if problems.touch(keys) {
            continue;
        }
        if let (Some(fault), Some(first)) = (fault(scenario, &start), keys.first()) {
            problems.add(&place_of(first), first, ProblemKind::Clash(fault));
        }
    }
}
