//! The steel of one driven unit: sizes, masses and what sets each.

use model::setout::Mover;
use model::{Infeasible, Lee, Makes, StringParts, string_parts};
use quantity::Measure;
use report::text::{Align, TextTable};
use report::{Section, figures};
use scenario::{FieldDesign, StringsDesign};

use crate::evaluated::Evaluated;
use crate::goods::{set_by, thin, tube};
use crate::inputs::Inputs;
use crate::units;

/// A part: name, size, how hard it is used, what sets it, mass in a driven unit.
pub(super) struct Part {
    pub name: &'static str,
    pub size: String,
    pub used: f64,
    pub set_by: String,
    pub mass_kg: f64,
}

/// Sizes of the parts of one driven unit and what sets each.
///
/// # Errors
/// [`Infeasible`] when a part does not hold.
pub fn units(of: &Evaluated, inputs: &Inputs) -> Result<Vec<Section>, Infeasible> {
    match &of.design.field {
        FieldDesign::Strings(design) => strings(of, design, inputs),
        FieldDesign::Pedestals(design) | FieldDesign::Singles(design) => {
            super::heliostats::steel(of, design, inputs)
        }
    }
}

/// Sizes of the parts of one string and what sets each: once for a string in the lee of others, once for
/// one at the field's edge.
///
/// # Errors
/// [`Infeasible`] when a part does not hold.
fn strings(
    of: &Evaluated,
    strings: &StringsDesign,
    inputs: &Inputs,
) -> Result<Vec<Section>, Infeasible> {
    let sized: Vec<(Lee, StringParts)> = match of.plan.as_ref().map(|plan| &plan.makes) {
        Some(Makes::Strings(makes)) => makes.iter().map(|make| (make.lee, make.parts)).collect(),
        _ => string_parts(&inputs.case, &of.design, strings)?.to_vec(),
    };
    let of_lee = |lee| sized.iter().find(|(known, _)| *known == lee);
    let both = Lee::BOTH.into_iter().filter_map(of_lee);
    Ok(both
        .map(|(lee, parts)| section("string", *lee, parts.glass_area_m2, all(parts)))
        .collect())
}

/// The parts of a driven unit that stands in the lee of others or open to the wind.
pub(super) fn section(unit: &str, lee: Lee, glass_area_m2: f64, parts: Vec<Part>) -> Section {
    let place = match lee {
        Lee::Inside => "in the lee of others",
        Lee::Edge => "open to the wind",
    };
    let mut table = TextTable::new(&[
        ("part", Align::Left),
        ("size", Align::Left),
        (units::unit(Measure::MassPerArea), Align::Right),
        ("used", Align::Right),
        ("set by", Align::Left),
    ]);
    for part in parts {
        let mass = units::number(part.mass_kg / glass_area_m2, Measure::MassPerArea);
        table.row([
            part.name.to_owned(),
            part.size,
            figures::significant(mass, 2),
            figures::percent(part.used, 0),
            part.set_by,
        ]);
    }
    Section::new(&format!("Steel of a {unit} {place}"), table)
}

fn all(parts: &StringParts) -> Vec<Part> {
    let (sizes, masses) = (&parts.sizes, &parts.masses);
    let of_tube = |name, stock: &model::setout::Stock, mass_kg| Part {
        name,
        size: tube(&stock.section, units::first()),
        used: stock.demand.utilisation,
        set_by: set_by(stock.demand.governed_by),
        mass_kg,
    };
    let mover = match &sizes.mover {
        Mover::Loops(line) => Part {
            name: "drive lines",
            size: thin(line.diameter_m, units::first()),
            used: line.demand.utilisation,
            set_by: set_by(line.demand.governed_by),
            mass_kg: masses.lines_kg,
        },
        Mover::PushRods(rod) => of_tube("push-rods", rod, masses.bars_kg),
        Mover::Bar(bar) => of_tube("bar", bar, masses.bars_kg),
    };
    let rail = sizes
        .rail
        .map(|rail| of_tube("rail", &rail, masses.rail_kg));
    [
        Some(of_tube("star arms", &sizes.star, masses.stars_kg)),
        Some(of_tube("posts", &sizes.post, masses.posts_kg)),
        rail,
        Some(of_tube(
            "frames and arms",
            &sizes.frame_arm,
            masses.frames_kg,
        )),
        Some(mover),
    ]
    .into_iter()
    .flatten()
    .collect()
}
