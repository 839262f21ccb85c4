//! What stands behind the answer, matter by matter.

use model::Workings;
use model::setout::set_out;
use report::Section;
use report::page::{Block, Chapter};

use crate::evaluated::Evaluated;
use crate::inputs::Inputs;
use crate::product::Product;
use crate::sensitivity::charts::NAMES as SENSITIVITY;
use crate::text::{
    self, bill, design, drives, energy, failures, heliostats, limits, money, steel, years,
};
use crate::{lean_year, setout};

/// A chart by its name, if the run has it.
type Drawn<'a> = &'a dyn Fn(&str) -> Option<Block>;

/// Every chapter on the best design.
pub fn of_best(best: &Evaluated, inputs: &Inputs, drawn: Drawn<'_>) -> Vec<Chapter> {
    let mut chapters = vec![
        field(best, inputs, drawn),
        energy(best, inputs, drawn),
        drives_of(best, inputs, drawn),
        money(best, inputs, drawn),
        carbon(best, inputs),
        sensitivity(drawn),
        strength(best, inputs),
    ];
    chapters.extend(setting_out(best, inputs));
    chapters.push(upkeep(best, inputs));
    chapters
}

fn drives_of(best: &Evaluated, inputs: &Inputs, drawn: Drawn<'_>) -> Chapter {
    let workings = Workings::of_design(&inputs.case, &best.design);
    let workings = workings.as_ref().ok();
    let stopped = workings
        .map(|workings| drives::escape(workings, best.units(), &inputs.scenario))
        .and_then(told);
    match best.design.field.strings() {
        Some(_) => shared_drives(workings, [drawn("walk_off"), stopped], drawn),
        None => chapter(
            "Drives",
            "Every mirror has two drives of its own.",
            vec![
                told(heliostats::drives(best, inputs)),
                drawn("walk_off"),
                stopped,
            ],
        ),
    }
}

fn chapter(heading: &str, lead: &str, blocks: Vec<Option<Block>>) -> Chapter {
    Chapter {
        heading: heading.to_owned(),
        lead: lead.to_owned(),
        blocks: blocks.into_iter().flatten().collect(),
    }
}

fn told(section: Section) -> Option<Block> {
    Some(Block::Told(section))
}

fn field(best: &Evaluated, inputs: &Inputs, drawn: Drawn<'_>) -> Chapter {
    chapter(
        "The field",
        "Every driven unit drawn to scale where it stands; the tower is at the origin.",
        vec![
            drawn("field"),
            told(design::design(best, &inputs.scenario)),
            told(design::built(best)),
        ],
    )
}

fn energy(best: &Evaluated, inputs: &Inputs, drawn: Drawn<'_>) -> Chapter {
    let spread = lean_year::spread(best, inputs, None);
    chapter(
        "Energy",
        "From the direct sun on the glass to what crosses the fence, each step a ratio of the step \
         before.",
        vec![
            drawn("light"),
            drawn("flux"),
            told(energy::energy(best)),
            told(energy::delivered(best, inputs)),
            spread.as_ref().map(years::years).and_then(told),
            drawn(Product::of(&inputs.scenario).chart),
        ],
    )
}

fn shared_drives(
    workings: Option<&Workings>,
    stopped: [Option<Block>; 2],
    drawn: Drawn<'_>,
) -> Chapter {
    let mut blocks = vec![
        drawn("mirrors_per_string"),
        drawn("shared_drive"),
        drawn("string_lengths"),
        drawn("sun_misses"),
    ];
    blocks.extend(workings.into_iter().flat_map(|workings| {
        let shared = workings.shared.iter();
        shared.flat_map(|shared| {
            [
                told(drives::drives(shared, workings.motor_power_w)),
                told(drives::alignment(shared)),
            ]
        })
    }));
    blocks.extend(stopped);
    chapter(
        "Shared drives",
        "More mirrors on a drive save drives and spill light: one mirror of a string is exactly on \
         target, the others nearly.",
        blocks,
    )
}

fn money(best: &Evaluated, inputs: &Inputs, drawn: Drawn<'_>) -> Chapter {
    let scenario = &inputs.scenario;
    chapter(
        "Money",
        "Quantities are computed from loads and sizes; each is multiplied by a rate of its own.",
        vec![
            told(money::cost_of_product(best, scenario)),
            told(money::value(best, scenario)),
            drawn("money"),
            told(bill::bill(best, scenario)),
            told(money::capital(best, scenario)),
            told(money::yearly(best, scenario)),
        ],
    )
}

fn carbon(best: &Evaluated, inputs: &Inputs) -> Chapter {
    chapter(
        "Carbon",
        "",
        vec![told(money::carbon(best, &inputs.scenario))],
    )
}

fn sensitivity(drawn: Drawn<'_>) -> Chapter {
    chapter(
        "Sensitivity",
        "The design held, its prices, finance and yearly yield taken through their ranges: all together, \
         one at a time, by what each causes, and two of them against one another.",
        SENSITIVITY.iter().map(|name| drawn(name)).collect(),
    )
}

fn strength(best: &Evaluated, inputs: &Inputs) -> Chapter {
    let parts = steel::units(best, inputs).unwrap_or_default();
    let mut blocks = vec![told(limits::margins(&best.summary.margins))];
    blocks.extend(parts.into_iter().map(told));
    chapter(
        "Strength",
        "How far the design keeps from each limit, and what sizes each part; a negative distance \
         would break it.",
        blocks,
    )
}

/// An extract of what a crew and a purchaser need; nothing of a field that is not set out here.
fn setting_out(best: &Evaluated, inputs: &Inputs) -> Option<Chapter> {
    let set_out = set_out(&inputs.case, &best.design).ok()?;
    let times = setout::times(&set_out, inputs).ok()?;
    let extract = text::setout::extract(&set_out, &times);
    Some(chapter(
        "Setting out",
        "An extract: the verb setout writes every post, panel, line and purchase of this design.",
        extract.into_iter().map(told).collect(),
    ))
}

fn upkeep(best: &Evaluated, inputs: &Inputs) -> Chapter {
    chapter(
        "Failures",
        "What goes dark when a part fails, for how long, and how often that is reckoned with.",
        vec![told(failures::failures(best, &inputs.scenario))],
    )
}
