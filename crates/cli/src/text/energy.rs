//! Where the year's energy goes.

use ledger::J_PER_KWH;
use report::text::{Align, TextTable};
use report::{Section, figures};
use scenario::Concept;

use super::pairs;
use crate::chain;
use crate::evaluated::Evaluated;
use crate::inputs::Inputs;
use crate::product::Product;

/// The chain from sun on the glass to what is delivered.
pub fn energy(of: &Evaluated) -> Section {
    let sun_j = of.summary.chain_j[0];
    let mut table = TextTable::new(&[
        ("left after", Align::Left),
        ("a year", Align::Right),
        ("of the step before", Align::Right),
        ("of the sun", Align::Right),
    ]);
    let all = figures::percent(1.0, 1);
    table.row([
        "direct sun on the glass".to_owned(),
        figures::energy(sun_j),
        String::new(),
        all,
    ]);
    let mut before_j = sun_j;
    for step in chain::steps(&of.summary) {
        table.row([
            step.label.to_owned(),
            figures::energy(step.left_j),
            figures::percent(step.left_j / before_j, 1),
            figures::percent(step.left_j / sun_j, 1),
        ]);
        before_j = step.left_j;
    }
    Section::new("Energy of a year", table)
}

/// What is delivered, and how hard the sun shines and is concentrated.
pub fn delivered(of: &Evaluated, inputs: &Inputs) -> Section {
    let (year, scenario) = (&of.summary, &inputs.scenario);
    let product = Product::of(scenario);
    let delivered = format!("delivered {}", product.name);
    let mut rows = vec![
        (
            delivered.as_str(),
            format!(
                "{}, {} of the demand",
                figures::energy(year.delivered_j),
                figures::percent(year.served_share(), 1)
            ),
        ),
        ("rest of the demand takes", {
            let energy = figures::energy(product.auxiliary_j(year, scenario));
            format!("{energy} of {}", product.auxiliary_energy())
        }),
    ];
    rows.extend(product.rows(year, inputs));
    rows.extend([
        (
            "electricity used",
            format!(
                "{}, {} of it bought",
                figures::energy(year.own_use_j),
                figures::energy(year.bought_j)
            ),
        ),
        ("direct sun (DNI)", dni(inputs)),
        (
            "highest flux on the aperture",
            format!("{:.0} kW/m2", year.peak_flux_w_m2 / 1e3),
        ),
    ]);
    if scenario.concept() == Concept::Strings {
        rows.push((
            "beam error of the shared drives",
            format!(
                "{:.2} mrad rms; {:.2} by the best common turn there is",
                year.residual_rad * 1e3,
                year.bound_rad * 1e3
            ),
        ));
    }
    Section::new(product.heading, pairs(rows))
}

/// Sums of the direct sun.
pub fn dni(inputs: &Inputs) -> String {
    format!(
        "{} kWh/m2, {} of it in operation",
        figures::grouped(inputs.case.whole_dni_j_m2 / J_PER_KWH, 0),
        figures::grouped(inputs.case.sun.year_j_m2() / J_PER_KWH, 0)
    )
}
