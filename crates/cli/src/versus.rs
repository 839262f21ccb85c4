//! `versus`: rivals searched with equal effort for the same duty, then held against one another.
//!
//! ```text
//! rivals ─> a search each, the first one's duty for all ─> Contest ─┬─> table, chart, page
//!                                                                   └─> what is told
//! ```

mod budget;
mod contest;
mod crossing;
mod odds;

use std::path::Path;
use std::sync::Arc;

use ledger::J_PER_KWH;
use report::page::{Block, Chapter, KeyFigure, Page};
use report::{Section, parquet_bytes};
use store::{NoHooks, RunFolder};

use crate::args::{Rival, VersusArgs};
use crate::exit::Exit;
use crate::failure::Failure;
use crate::inputs::Inputs;
use crate::interrupt::Interrupt;
use crate::run::file_meta;
use crate::search::Searched;
use crate::{json, output, page, tables, text};

pub use budget::Reach;
pub use contest::{Contest, Standing};
pub use crossing::{Crossing, PRICES};

/// Name of the chart of differences.
const DIFFERENCE: &str = "difference";

/// Searches every rival, compares them, writes and prints what came out.
pub fn versus(asked: &VersusArgs) -> Result<Exit, Failure> {
    let interrupt = Interrupt::listen().map_err(Failure::Signals)?;
    let Some(searched) = search_all(asked, &interrupt)? else {
        return Ok(interrupt.exit());
    };
    let exit = searched
        .iter()
        .map(|(_, searched)| searched.exit())
        .max_by_key(|exit| exit.code())
        .unwrap_or(Exit::Done);
    let contest = Contest::of(searched, asked.draws)?;
    let told = text::versus::sections(&contest);
    let files = write(&asked.out, &contest, &told)?;
    if asked.json {
        json::print(&json::versus(&contest))?;
    } else {
        let mut told = told;
        told.extend([files, text::cautions()]);
        output::data(&text::page(&told))?;
    }
    Ok(exit)
}

/// Every rival with what its search found; nothing if one was interrupted. Without a duty, all take on
/// what the cheapest design of the first one that has any delivers.
fn search_all(
    asked: &VersusArgs,
    interrupt: &Interrupt,
) -> Result<Option<Vec<(String, Searched)>>, Failure> {
    let read = |rival: &Rival, duty: Option<&str>| {
        Inputs::read(&asked.file, &asked.overrides(rival, duty))
    };
    let rivals = asked.rivals();
    let mut duty = asked.duty.clone();
    // All are read before any is searched, so that a fault ends the run before it has cost anything.
    for rival in &rivals {
        read(rival, duty.as_deref())?;
    }
    let mut all: Vec<(String, Searched)> = Vec::new();
    for rival in rivals {
        let inputs = read(&rival, duty.as_deref())?;
        if all.is_empty() {
            inputs.say_notes();
        }
        say_begin(&rival.name, &inputs);
        let out = asked.out.join(&rival.name);
        let Some(searched) = Searched::into_folder(inputs, &out, interrupt)? else {
            return Ok(None);
        };
        if searched.inputs.scenario.search.duty.is_none() {
            let served = searched.best.as_ref().map(|best| &best.priced.summary);
            duty = served.map(|year| format!("{:.0} kWh", (year.delivered_j / J_PER_KWH).floor()));
        }
        all.push((rival.name, searched));
    }
    Ok(Some(all))
}

fn say_begin(name: &str, inputs: &Inputs) {
    let duty = inputs.scenario.search.duty.map(text::search::duty_words);
    let duty = duty.map_or_else(String::new, |duty| format!(" for {duty}"));
    output::say(&format!("{name}: searching{duty}"));
}

/// Writes the table, the chart and the page; tells where everything is.
fn write(out: &Path, contest: &Contest, told: &[Section]) -> Result<Section, Failure> {
    let folder = RunFolder::open(out, Arc::new(NoHooks))?;
    let mut written: Vec<String> = contest.names().map(|name| format!("{name}/")).collect();
    let mut write = |name: String, bytes: &[u8]| {
        folder.write(&name, bytes)?;
        written.push(name);
        Ok::<(), Failure>(())
    };
    if let Some(first) = contest.standings.first() {
        let table = tables::versus::table(contest);
        let bytes = parquet_bytes(&table, &file_meta(&first.inputs))?;
        write(format!("{}.parquet", table.kind.name()), &bytes)?;
        let chart = contest.difference().draw()?;
        write(format!("charts/{DIFFERENCE}.svg"), chart.svg.as_bytes())?;
        write(format!("charts/{DIFFERENCE}.png"), &chart.png)?;
        let page = whole_page(contest, first, told, Block::Chart(chart));
        write(page::NAME.to_owned(), page.html().as_bytes())?;
    }
    let lines = written
        .iter()
        .map(|name| format!("{}/{name}\n", out.display()));
    Ok(Section::new(
        "Files",
        report::Part::Lines(lines.collect::<String>()),
    ))
}

/// The comparison as a page: the answer, then the chart, then every section.
fn whole_page(contest: &Contest, first: &Standing, told: &[Section], chart: Block) -> Page {
    let mut blocks = vec![chart];
    blocks.extend(told.iter().skip(1).cloned().map(Block::Told));
    Page {
        title: first.inputs.scenario.title.clone(),
        answer: text::versus::answer_words(contest),
        figures: contest.standings.iter().map(key_figure).collect(),
        chapters: vec![
            Chapter {
                heading: "Side by side".to_owned(),
                lead: text::versus::FAIR.to_owned(),
                blocks,
            },
            page::trust(),
        ],
        origin: page::origin(&first.inputs),
    }
}

fn key_figure(standing: &Standing) -> KeyFigure {
    let currency = &standing.inputs.scenario.currency;
    KeyFigure {
        name: standing.name.clone(),
        value: format!(
            "{} {currency}/kWh",
            text::money::cost(standing.cost_per_kwh)
        ),
        beside: format!(
            "{} of capital",
            report::figures::money(standing.priced.money.capital.total, currency)
        ),
    }
}
