//! What spreads the beams of shared drives, and what each part costs in light.

use drive::{Drives, Mechanism, OffsetPlace, Tolerances, Travel};
use field::{Linkage, Plan, Stance};
use optics::STEPS;

use crate::alignment::year_suns;
use crate::case::Case;
use crate::light::{self, Field};
use crate::motion::MOTION_STRINGS;
use crate::site::Sited;

/// One cause of random beam error.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BlurPart {
    /// Stable key for files.
    pub key: &'static str,
    /// What errs, for people.
    pub name: &'static str,
    /// Beam error, root mean square over mirrors and the year's sun, in the plane of incidence and
    /// across it together [rad].
    pub rms_rad: f64,
    /// Light that it would keep out of the aperture in a year were it the only random error, as a share
    /// of what enters without any; the least bit may be below zero.
    pub lost_share: f64,
}

/// One cause for which light stays out of the aperture.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LightShare {
    /// Stable key for files.
    pub key: &'static str,
    /// What takes it, for people.
    pub name: &'static str,
    /// Share of what would enter if every mirror followed its sun exactly; the least bit may be
    /// below zero where light is hardly spilled at all.
    pub share: f64,
}

/// A tolerance with its key and name, and how to keep it alone.
type Kept = (&'static str, &'static str, fn(&Tolerances) -> Tolerances);

const TOLERANCES: [Kept; 6] = [
    ("post_tilt", "tilt of the posts", |all| Tolerances {
        post_tilt_rad: all.post_tilt_rad,
        ..Tolerances::default()
    }),
    ("axis_squareness", "axes off square", |all| Tolerances {
        axis_squareness_rad: all.axis_squareness_rad,
        ..Tolerances::default()
    }),
    ("joint_play", "play of joints and gear", |all| Tolerances {
        joint_play_rad: all.joint_play_rad,
        ..Tolerances::default()
    }),
    ("lever_ratio", "length of levers", |all| Tolerances {
        lever_ratio: all.lever_ratio,
        ..Tolerances::default()
    }),
    ("offset_setting", "setting on target", |all| Tolerances {
        offset_setting_rad: all.offset_setting_rad,
        ..Tolerances::default()
    }),
    ("sensing", "encoders, or what senses instead", |all| {
        Tolerances {
            encoder_rad: all.encoder_rad,
            ..Tolerances::default()
        }
    }),
];

/// Each tolerance alone, then the lines alone.
pub fn blur_parts(case: &Case, site: &Sited) -> Vec<BlurPart> {
    let exact = exact(&site.mechanism);
    let stiff_j = entering_j(case, site, &exact);
    let part = |key, name, mechanism: &Mechanism| BlurPart {
        key,
        name,
        rms_rad: blur_rad(case, site, mechanism),
        lost_share: 1.0 - entering_j(case, site, mechanism) / stiff_j,
    };
    let mut parts: Vec<BlurPart> = TOLERANCES
        .into_iter()
        .map(|(key, name, kept)| {
            let tolerances = kept(&site.mechanism.tolerances);
            // Of the sensing's own error only its own line may tell.
            let sensing = if key == "sensing" {
                site.mechanism.sensing
            } else {
                without_error(site.mechanism.sensing)
            };
            let mechanism = Mechanism {
                tolerances,
                sensing,
                ..exact
            };
            part(key, name, &mechanism)
        })
        .collect();
    let mechanism = Mechanism {
        line: site.mechanism.line,
        ..exact
    };
    parts.push(part("line", "stretch and warmth of the lines", &mechanism));
    parts
}

const fn without_error(sensing: drive::Sensing) -> drive::Sensing {
    use drive::Sensing;
    match sensing {
        Sensing::OpenLoop => Sensing::OpenLoop,
        Sensing::AtReference { .. } => Sensing::AtReference { error_rad: 0.0 },
        Sensing::OnTarget { .. } => Sensing::OnTarget { error_rad: 0.0 },
    }
}

fn blur_rad(case: &Case, site: &Sited, mechanism: &Mechanism) -> f64 {
    let drives = site.alignment.drives(&site.plan, mechanism);
    let sample = light::even_sample(site.plan.strings.len(), MOTION_STRINGS);
    year_suns(case).beams(&site.plan, &drives, &sample).blur_rad
}

/// The same mechanism without random errors.
fn exact(mechanism: &Mechanism) -> Mechanism {
    Mechanism {
        tolerances: Tolerances::default(),
        sensing: drive::Sensing::OpenLoop,
        line: drive::Line {
            wind_moment_rms_n_m: 0.0,
            warmth_rad_m: 0.0,
            coupling_play_m: 0.0,
            ..mechanism.line
        },
        ..*mechanism
    }
}

/// What tolerances, lines, stops and the shared motion each keep out of the aperture: taken away one after
/// the other, until every mirror follows its sun exactly.
pub fn lost(case: &Case, site: &Sited) -> Vec<LightShare> {
    let exact = exact(&site.mechanism);
    let with_line = Mechanism {
        line: site.mechanism.line,
        ..exact
    };
    let as_is_j = entering_j(case, site, &site.mechanism);
    let no_tolerance_j = entering_j(case, site, &with_line);
    let stiff_j = entering_j(case, site, &exact);
    let without_stops = Mechanism {
        travel: Travel::FREE,
        ..exact
    };
    let free_j = entering_j(case, site, &without_stops);
    let (plan, mechanism) = each_exact(&site.plan, &exact);
    let drives = site.alignment.drives(&plan, &mechanism);
    let whole_j = light_inside_j(case, site, &plan, &drives);
    let share = |key, name, before_j: f64, after_j: f64| LightShare {
        key,
        name,
        share: (after_j - before_j) / whole_j,
    };
    vec![
        share("residual", "shared motion", free_j, whole_j),
        share("stops", "stops of the mounts", stiff_j, free_j),
        share("tolerance", "tolerances", as_is_j, no_tolerance_j),
        share(
            "line",
            "stretch and warmth of lines",
            no_tolerance_j,
            stiff_j,
        ),
    ]
}

/// The same places with mirrors that all follow the sun exactly and have no stops: a bar that moves
/// the tips of sliding levers does that.
fn each_exact(plan: &Plan, mechanism: &Mechanism) -> (Plan, Mechanism) {
    let mut plan = plan.clone();
    for row in &mut plan.strings {
        row.linkage = Linkage::SlidingLever;
    }
    let mechanism = Mechanism {
        offset: OffsetPlace::Lever,
        travel: Travel::FREE,
        ..*mechanism
    };
    (plan, mechanism)
}

/// Light through the aperture in a year with the plan's strings moved like this [J].
pub(super) fn entering_j(case: &Case, site: &Sited, mechanism: &Mechanism) -> f64 {
    let drives = site.alignment.drives(&site.plan, mechanism);
    light_inside_j(case, site, &site.plan, &drives)
}

/// Light through the aperture in a year, by the sampled pass [J].
fn light_inside_j(case: &Case, site: &Sited, plan: &Plan, drives: &Drives) -> f64 {
    let field = Field {
        plan,
        drives,
        ..site.field()
    };
    let mut stance = Stance::default();
    let light = light::sampled(&field, &case.sun, &mut stance);
    light.chain_j(&case.sun)[STEPS - 1]
}
