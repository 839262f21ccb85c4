//! The chart of light that walks off when the grid fails.

use model::Escape;
use report::chart::{WalkOff, WalkStep};
use report::figures;

use crate::calendar::moment;
use crate::cautions::OF_LIGHT;
use crate::evaluated::Evaluated;
use crate::inputs::Inputs;

/// What becomes of the light of the best design, with how far it harms the eye.
pub fn walk_off(inputs: &Inputs, best: Option<&Evaluated>) -> WalkOff {
    let escape = best.and_then(|best| Escape::of_design(&inputs.case, &best.design).ok());
    let Some(escape) = escape else {
        return WalkOff {
            course: Vec::new(),
            moment: String::new(),
            left_s: [f64::INFINITY; 2],
            caution: OF_LIGHT.to_owned(),
        };
    };
    let course = escape.course.iter().map(|later| WalkStep {
        time_s: later.time_s,
        entering: later.entering,
        hottest_w_m2: later.hottest_w_m2,
        beside_w_m2: later.beside_w_m2,
    });
    WalkOff {
        course: course.collect(),
        moment: moment(escape.hour),
        left_s: [escape.halved_s, escape.gone_s],
        caution: format!(
            "{OF_LIGHT} Here it leaves after-images as far as {} m beyond the aim and burns the eye as far as {} m.",
            figures::grouped(escape.field_after_image_m, 0),
            figures::grouped(escape.field_burn_m, 0)
        ),
    }
}
