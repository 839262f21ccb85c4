//! What the heat of a design hangs on beside prices: each matter set to its ends, and the year lived
//! again.

use model::{Case, Infeasible, Scratch, years_spread};
use scenario::Scenario;
use study::Span;

use crate::evaluated::Evaluated;
use crate::failure::Failure;
use crate::inputs::Inputs;

/// A triangle as wide as this many of its standard deviations to each side has that deviation.
const TRIANGLE_DEVIATIONS: f64 = 2.449_489_742_783_178;
/// Standard normal deviate that nine in ten exceed, with its sign turned.
const P90_DEVIATIONS: f64 = 1.281_551_565_545;
/// Standard deviation of a file's beam against the mean of many years (common practice, no source: some
/// 2 % where it was measured for years, 5 % from satellites).
const FILE_DEVIATION: f64 = 0.03;
/// Share of the light by which the fast model and rays may differ over a year; `tests/light` holds them
/// to it.
const MODEL_SHARE: f64 = 0.003;

/// Whom an uncertain matter strikes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reach {
    /// All rivals alike.
    Shared,
    /// Each by itself.
    Own,
}

/// One uncertain matter.
pub struct Line {
    /// The matter.
    pub name: &'static str,
    /// What was done to it, and where that is from.
    pub source: &'static str,
    /// Whom it strikes.
    pub reach: Reach,
    /// Delivered heat against that of the design as it is, at both ends.
    pub heat: Span,
}

/// A matter that is a value of the scenario.
struct Matter {
    name: &'static str,
    source: &'static str,
    reach: Reach,
    /// Makes the value worse by its first end, and better by its second.
    ends: [fn(&mut Scenario); 2],
}

const MATTERS: [Matter; 4] = [
    Matter {
        name: "soiling",
        source: "twice and half as fast as the scenario has it, or 2 points of cleanliness down and \
                 1 up where that is given (0.2 to 0.6 %/d in southern Spain, from memory)",
        reach: Reach::Shared,
        ends: [
            |scenario| soil(scenario, 2.0, -0.02),
            |scenario| soil(scenario, 0.5, 0.01),
        ],
    },
    Matter {
        name: "optics",
        source: "slope error of the glass 1.5 and 0.75 times the scenario's (common practice, no \
                 source)",
        reach: Reach::Shared,
        ends: [
            |scenario| scenario.mirror.slope_error_rad *= 1.5,
            |scenario| scenario.mirror.slope_error_rad *= 0.75,
        ],
    },
    Matter {
        name: "availability",
        source: "three points less and one more than the scenario's (common practice, no source)",
        reach: Reach::Own,
        ends: [
            |scenario| scenario.heat.availability -= 0.03,
            |scenario| {
                scenario.heat.availability = (scenario.heat.availability + 0.01).min(1.0);
            },
        ],
    },
    Matter {
        name: "mechanism",
        source: "every tolerance of what turns the mirrors 2 times and 0.75 times the scenario's \
                 (common practice, no source)",
        reach: Reach::Own,
        ends: [
            |scenario| loosen(scenario, 2.0),
            |scenario| loosen(scenario, 0.75),
        ],
    },
];

/// Every uncertain matter of a design.
pub fn lines(of: &Evaluated, inputs: &Inputs) -> Result<Vec<Line>, Failure> {
    let mut lines = vec![weather(of, inputs), model(of)];
    for matter in &MATTERS {
        let mut ends = [1.0; 2];
        for (end, change) in ends.iter_mut().zip(matter.ends) {
            *end = delivered_j(of, &inputs.otherwise(change)?) / of.summary.delivered_j;
        }
        let [worse, better] = ends;
        lines.push(Line {
            name: matter.name,
            source: matter.source,
            reach: matter.reach,
            heat: Span {
                low: worse.min(1.0),
                likely: 1.0,
                high: better.max(1.0),
            },
        });
    }
    Ok(lines)
}

/// What the design delivers in another case; nothing if that breaks it.
fn delivered_j(of: &Evaluated, case: &Case) -> f64 {
    let year: Result<_, Infeasible> =
        model::evaluate(case, &of.design, of.fidelity, &mut Scratch::default());
    year.map_or(0.0, |year| year.delivered_j)
}

/// The mean of the years to come against the year computed: as the file may be wrong, and as the mean of
/// a plant's life still varies.
fn weather(of: &Evaluated, inputs: &Inputs) -> Line {
    let scenario = &inputs.scenario;
    let of_life = scenario.weather.yearly_spread / scenario.finance.life_years.sqrt();
    let deviation = libm::hypot(of_life, FILE_DEVIATION);
    let weaker = deviation * TRIANGLE_DEVIATIONS / P90_DEVIATIONS;
    let (case, design) = (&inputs.case, &of.design);
    let lean = years_spread(case, design, None, &[], weaker, of.fidelity);
    let low = lean.map_or(1.0, |spread| spread.p90_share).min(1.0);
    Line {
        name: "weather",
        source: "deviation of the file's beam 3 % (common practice, no source) and of the mean of the \
                 years of life by weather.yearly_spread; as far up as down",
        reach: Reach::Shared,
        heat: Span {
            low,
            likely: 1.0,
            high: 2.0 - low,
        },
    }
}

/// What the fast model of light may miss.
fn model(of: &Evaluated) -> Line {
    let share = MODEL_SHARE / of.summary.optical_efficiency();
    Line {
        name: "model of light",
        source: "0.3 points of the light, to which tests hold the fast model against rays",
        reach: Reach::Own,
        heat: Span {
            low: 1.0 - share,
            likely: 1.0,
            high: 1.0 + share,
        },
    }
}

fn soil(scenario: &mut Scenario, faster: f64, cleaner: f64) {
    match &mut scenario.mirror.cleanliness {
        Some(cleanliness) => *cleanliness = (*cleanliness + cleaner).min(1.0),
        None => scenario.mirror.soiling_per_s *= faster,
    }
}

/// Every tolerance of strings and of heliostats; a scenario stands for one of them.
fn loosen(scenario: &mut Scenario, times: f64) {
    let (strings, heliostats) = (&mut scenario.strings.tolerances, &mut scenario.heliostats);
    for tolerance in [
        &mut strings.post_tilt_rad,
        &mut strings.axis_squareness_rad,
        &mut strings.joint_play_rad,
        &mut strings.offset_setting_rad,
        &mut strings.lever_ratio,
        &mut strings.encoder_rad,
        &mut strings.line_warmth_k,
        &mut strings.sensor_rad,
        &mut strings.camera_rad,
        &mut heliostats.joint_play_rad,
        &mut heliostats.panel_setting_rad,
        &mut heliostats.encoder_rad,
        &mut heliostats.sensor_rad,
        &mut heliostats.camera_rad,
    ] {
        *tolerance *= times;
    }
}
