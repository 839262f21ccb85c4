//! Cost of what is delivered against mirrors per string: the drive shared by few or by many.

use std::collections::BTreeSet;

use model::{Fidelity, Infeasible, Scratch};
use report::chart::{Sweep, SweepPoint};
use scenario::{Design, FieldDesign, StringsDesign};

use crate::cost_parts::{self, other_heat};
use crate::evaluated::Evaluated;
use crate::inputs::Inputs;
use crate::problem::Prices;
use crate::product::Product;

const KEY: &str = "strings.mirrors";

/// Points of the sweep, at most about.
const POINTS: usize = 20;

/// The best design with other numbers of mirrors on each string, and as many strings as keep the
/// number of mirrors about equal. Designs that break a limit are left out and told.
pub fn mirrors_per_string(inputs: &Inputs, best: Option<&Evaluated>) -> Sweep {
    let mut points = Vec::new();
    let mut broken = Vec::new();
    if let Some(best) = best {
        for (mirrors, design) in with_other_lengths(inputs, &best.design, POINTS) {
            match point(inputs, &design, mirrors) {
                Ok(point) => points.push(point),
                Err(infeasible) => broken.push((mirrors, infeasible)),
            }
        }
    }
    Sweep {
        currency: inputs.scenario.currency.clone(),
        product: Product::of(&inputs.scenario).name.to_owned(),
        variable: "mirrors per string".to_owned(),
        unit: String::new(),
        held: "the number of mirrors and all else held".to_owned() + &told(&broken),
        parts: cost_parts::names(),
        left_out: 0,
        points,
        others: other_heat(&inputs.scenario),
    }
}

/// Which numbers break a limit, and which limits.
fn told(broken: &[(u32, Infeasible)]) -> String {
    let (Some((first, _)), Some((last, _))) = (broken.first(), broken.last()) else {
        return String::new();
    };
    let limits: BTreeSet<String> = broken
        .iter()
        .filter_map(|(_, infeasible)| infeasible.margins.most_broken())
        .map(|(limit, _)| limit.replace('_', " "))
        .collect();
    let limits: Vec<String> = limits.into_iter().collect();
    let limits = limits.join(", ");
    if broken.len() == 1 {
        return format!("; {first} breaks a limit ({limits})");
    }
    format!(
        "; {} from {first} to {last} break a limit ({limits})",
        broken.len()
    )
}

/// The opened numbers of mirrors, thinned out, and the best one.
fn numbers_to_try(inputs: &Inputs, best: u32, points: usize) -> Vec<u32> {
    let variables = inputs.scenario.space.variables();
    let mut numbers = vec![best];
    if let Some(variable) = variables.iter().find(|variable| variable.path() == KEY) {
        let stride = (variable.count() as usize).div_ceil(points);
        let opened = (0..variable.count()).step_by(stride);
        numbers.extend(opened.filter_map(|index| Some(variable.si(index)? as u32)));
    }
    numbers.sort_unstable();
    numbers.dedup();
    numbers
}

/// A design with other numbers of mirrors on each string, about so many of them, and as many strings as
/// keep the number of mirrors about equal; none of heliostats.
pub fn with_other_lengths(inputs: &Inputs, best: &Design, points: usize) -> Vec<(u32, Design)> {
    let Some(strings) = best.field.strings() else {
        return Vec::new();
    };
    let total = best.field.mirrors();
    let with_mirrors = |mirrors: u32| {
        let field = FieldDesign::Strings(StringsDesign {
            count: (total / f64::from(mirrors)).round().max(1.0) as u32,
            mirrors,
            ..strings.clone()
        });
        let design = Design {
            field,
            ..best.clone()
        };
        (mirrors, design)
    };
    let numbers = numbers_to_try(inputs, strings.mirrors, points).into_iter();
    numbers.map(with_mirrors).collect()
}

fn point(inputs: &Inputs, design: &Design, mirrors: u32) -> Result<SweepPoint, Infeasible> {
    let summary = model::evaluate(
        &inputs.case,
        design,
        Fidelity::Every,
        &mut Scratch::default(),
    )?;
    Infeasible::check(&summary.margins)?;
    let money = Prices::of(&inputs.scenario).money(&summary);
    let parts_per_kwh = cost_parts::per_kwh(&money, &inputs.scenario.finance);
    Ok(SweepPoint {
        value: f64::from(mirrors),
        parts_per_kwh,
    })
}
