//! `draw`: the charts and the page of a finished run folder again.

use report::TableKind;

use crate::args::DrawArgs;
use crate::charts::{self, Shown};
use crate::evaluated::Evaluated;
use crate::exit::Exit;
use crate::failure::Failure;
use crate::inputs::Inputs;
use crate::problem::fidelity_of;
use crate::run::{self, Run};
use crate::sensitivity::charts::Varied;
use crate::tables::designs::key_of_row;
use crate::{json, lean_year, text};

/// Draws the charts and the page again.
pub fn draw(asked: &DrawArgs) -> Result<Exit, Failure> {
    let (mut run, mut inputs) = Run::again(&asked.run)?;
    again(&mut run, &mut inputs)?;
    json::or_text(
        asked.json,
        || json::drawn(&run),
        || text::search::files(&run).render(),
    )
}

/// Draws the charts and the page from a run's tables; the best design is evaluated again for it.
pub fn again(run: &mut Run, inputs: &mut Inputs) -> Result<(), Failure> {
    let path = run.path().to_path_buf();
    let table = |kind| run::read_table(&path, kind);
    let (designs, front) = (table(TableKind::Designs)?, table(TableKind::Front)?);
    let best = match run.best_row() {
        Some(row) => {
            let key = key_of_row(&path, &designs, row, &inputs.scenario)?;
            let design = inputs.scenario.space.design(&key);
            let detail = model::detail(&inputs.case, &design).ok();
            let priced = Evaluated::new(inputs, design, fidelity_of(study::EVERY)).ok();
            priced.zip(detail)
        }
        None => None,
    };
    if let Some((priced, _)) = &best {
        let years = lean_year::spread(priced, inputs, None);
        lean_year::cover(years.as_ref(), inputs);
    }
    let shown = Shown {
        inputs,
        designs: &designs,
        front: &front,
        varied: Varied {
            inputs: &table(TableKind::Inputs)?,
            price_grid: &table(TableKind::PriceGrid)?,
            draws: &table(TableKind::Draws)?,
        },
        best_row: run.best_row().map(|row| row as usize),
        best: best.as_ref().map(|(priced, detail)| (priced, detail)),
    };
    charts::write(run, &shown)
}
