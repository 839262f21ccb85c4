//! `report.html`: a run as one page, the answer first.

mod chapters;
mod front;

use std::path::Path;

use ledger::J_PER_KWH;
use quantity::Measure;
use report::chart::Chart;
use report::page::{Block, Chapter, KeyFigure, Page};
use report::{Part, Section, figures};
use scenario::FieldDesign;

use crate::charts::Shown;
use crate::evaluated::Evaluated;
use crate::failure::Failure;
use crate::inputs::Inputs;
use crate::product::Product;
use crate::text::{self, bill, money, search};
use crate::units;

/// Name of the page in a run folder.
pub const NAME: &str = "report.html";

const G_PER_KG: f64 = 1000.0;

/// The page of a run; `charts` are the run's charts by name.
pub fn page(
    run: &Path,
    shown: &Shown<'_>,
    charts: &[(&'static str, Chart)],
) -> Result<Page, Failure> {
    let inputs = shown.inputs;
    let drawn = |name: &str| {
        let chart = charts.iter().find(|(other, _)| *other == name);
        chart.map(|(_, chart)| Block::Chart(chart.clone()))
    };
    let best = shown.best.map(|(best, _)| best);
    let mut chapters = best.map_or_else(Vec::new, |best| chapters::of_best(best, inputs, &drawn));
    chapters.extend([
        front::compared(run, shown)?,
        assumptions(best, inputs),
        models(),
        trust(),
    ]);
    Ok(Page {
        title: inputs.scenario.title.clone(),
        answer: answer(shown, best),
        figures: best.map_or_else(Vec::new, |best| key_figures(best, shown)),
        chapters,
        origin: origin(inputs),
    })
}

fn answer(shown: &Shown<'_>, best: Option<&Evaluated>) -> String {
    match (best, shown.best_row) {
        (Some(best), Some(row)) => search::answer_words(best, row, &shown.inputs.scenario),
        _ => search::NO_DESIGN.to_owned(),
    }
}

fn key_figures(best: &Evaluated, shown: &Shown<'_>) -> Vec<KeyFigure> {
    let figure = |(name, value, beside): (&str, String, String)| KeyFigure {
        name: name.to_owned(),
        value,
        beside,
    };
    let money = of_money(best, shown).into_iter();
    let plant = of_plant(best).into_iter();
    let all = money.chain(plant).chain([of_carbon(best, shown.inputs)]);
    all.map(figure).collect()
}

/// Cost, how sure it is, and capital: name, figure, and what stands beside it.
fn of_money(best: &Evaluated, shown: &Shown<'_>) -> [(&'static str, String, String); 3] {
    let scenario = &shown.inputs.scenario;
    let (money, currency) = (&best.money, &scenario.currency);
    let cost = |per_j: f64| money::cost(per_j * J_PER_KWH);
    let other = Product::of(scenario).others(money).into_iter().next();
    let per_m2 = money.capital.total / best.summary.mirror_area_m2;
    [
        (
            "a delivered kilowatt-hour costs",
            format!("{} {currency}", cost(money.levelised_per_j)),
            other.map_or_else(String::new, |(other, per_j)| {
                format!("from {other} {}", cost(per_j))
            }),
        ),
        (
            "if prices, finance and yield vary",
            sure(shown),
            format!("{currency}, eight draws in ten (see Sensitivity)"),
        ),
        (
            "capital",
            figures::money(money.capital.total, currency),
            format!(
                "{} {currency} per m² of mirror",
                figures::grouped(per_m2, 0)
            ),
        ),
    ]
}

/// What is delivered, by which field, onto which target.
fn of_plant(best: &Evaluated) -> [(&'static str, String, String); 3] {
    let (year, design) = (&best.summary, &best.design);
    let [field, each] = field_words(&design.field);
    let [aim, width, height] = [
        design.aim_height_m,
        design.aperture_width_m,
        design.aperture_height_m,
    ]
    .map(units::length);
    [
        (
            "delivered in a year",
            figures::energy(year.delivered_j),
            format!("{} of the demand", figures::percent(year.served_share(), 0)),
        ),
        ("field", field, each),
        (
            "target",
            aim,
            format!("high, with an aperture of {width} x {height}"),
        ),
    ]
}

fn of_carbon(best: &Evaluated, inputs: &Inputs) -> (&'static str, String, String) {
    let grams = |per_j: f64| figures::significant(per_j * J_PER_KWH * G_PER_KG, 3);
    let product = Product::of(&inputs.scenario);
    let other = product.others_carbon(&inputs.scenario).into_iter().next();
    (
        "embodied carbon",
        format!("{} g/kWh", grams(best.money.carbon_kg_per_j)),
        other.map_or_else(String::new, |(other, per_j)| {
            format!("{other} gives {}", grams(per_j))
        }),
    )
}

/// How many driven units, and what each of them is.
fn field_words(field: &FieldDesign) -> [String; 2] {
    let unit = match field {
        FieldDesign::Strings(_) => "string",
        FieldDesign::Pedestals(_) | FieldDesign::Singles(_) => "heliostat",
    };
    let each = match field {
        FieldDesign::Strings(strings) => format!(
            "of {}, {} each",
            figures::counted(strings.mirrors as usize, "mirror"),
            units::length(strings.side_m)
        ),
        FieldDesign::Pedestals(heliostats) | FieldDesign::Singles(heliostats) => {
            format!(
                "of {} each",
                units::in_both(heliostats.area_m2, Measure::Area, 3)
            )
        }
    };
    [figures::counted(field.units() as usize, unit), each]
}

/// From where to where the cost of eight draws in ten goes.
fn sure(shown: &Shown<'_>) -> String {
    let ends = [0.1, 0.9].map(|share| shown.varied.quantile(share).map(money::cost));
    match ends {
        [Some(low), Some(high)] => format!("{low} to {high}"),
        _ => String::new(),
    }
}

/// Every value and every rate with where it comes from.
fn assumptions(best: Option<&Evaluated>, inputs: &Inputs) -> Chapter {
    let mut blocks = vec![Block::Folded(crate::check::values(inputs))];
    if let Some(best) = best {
        blocks.push(Block::Folded(bill::items(best, &inputs.scenario)));
    }
    Chapter {
        heading: "Assumptions and their sources".to_owned(),
        lead: "Every value of the scenario with where it was set, and every rate of the bill with \
               its range and source."
            .to_owned(),
        blocks,
    }
}

/// Every model with what it was held to and how far off it was.
pub fn models() -> Chapter {
    Chapter {
        heading: "Models and how far off they are".to_owned(),
        lead: "What the tests of this program found where each model is farthest off; `tautfield method` \
               tells the values."
            .to_owned(),
        blocks: text::method::in_short()
            .into_iter()
            .map(Block::Folded)
            .collect(),
    }
}

/// What every reader must be told.
pub fn trust() -> Chapter {
    Chapter {
        heading: "Cautions".to_owned(),
        lead: String::new(),
        blocks: vec![Block::Told(Section {
            heading: None,
            parts: vec![Part::Points(text::caution_points())],
        })],
    }
}

/// What made the page.
pub fn origin(inputs: &Inputs) -> String {
    format!(
        "tautfield {}, model {}, scenario {}, seed {}",
        env!("CARGO_PKG_VERSION"),
        model::MODEL_VERSION,
        inputs.hash_text(),
        inputs.scenario.search.seed
    )
}
