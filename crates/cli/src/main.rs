//! Command line of tautfield: from a scenario file to what a delivered kilowatt-hour costs.
//!
//! ```text
//! file + overrides + weather ─> Inputs ─┬─> check: every value and where it came from
//!                                       ├─> price: one design, its energy, bill and money
//!                                       ├─> judge: the fast model of light against rays
//!                                       ├─> setout: what a crew and a purchaser need
//!                                       ├─> spot: where the beams of surveyed strings fall
//!                                       ├─> search ─> run folder ─> tables, charts, summary
//!                                       └─> versus: a search for each rival, side by side
//! ```

mod args;
mod calendar;
mod cautions;
mod chain;
mod charts;
mod check;
mod check_weather;
mod clock;
mod cost_parts;
mod day_time;
mod demand;
mod draw;
mod evaluated;
mod exit;
mod facts;
mod failure;
mod geojson;
mod goods;
mod handout;
mod inputs;
mod instants;
mod interrupt;
mod json;
mod judge;
mod lean_year;
mod lines;
mod manifest;
mod manual;
mod method;
mod output;
mod page;
mod plan_file;
mod price;
mod problem;
mod product;
mod progress;
mod run;
mod search;
mod sensitivity;
mod setout;
mod shared_drive;
mod spot;
mod subject;
mod survey;
mod sweep;
mod tables;
mod text;
mod units;
mod vary;
mod versus;
mod walk_off;
mod weather;

use clap::Parser;

use crate::args::{Arguments, Verb};
use crate::exit::Exit;
use crate::failure::Failure;

fn main() -> std::process::ExitCode {
    let ended = carry_out(&Arguments::parse());
    output::conclude(ended).into()
}

fn carry_out(arguments: &Arguments) -> Result<Exit, Failure> {
    arguments.limit_threads()?;
    units::choose(arguments.units.into());
    match &arguments.verb {
        Verb::New => output::data(&scenario::starter()),
        Verb::Rates(asked) => json::or_text(asked.json, json::rates, scenario::rates_file),
        Verb::Glossary(asked) => {
            json::or_text(asked.json, json::glossary, text::glossary::glossary)
        }
        Verb::Method(asked) => json::or_text(asked.json, json::method, text::method::book),
        Verb::Schema => output::data(&format!("{:#}\n", scenario::schema())),
        Verb::Completions { shell } => manual::completions(*shell),
        Verb::Man { verb } => manual::manual(verb.as_deref()),
        Verb::Check(asked) => check::check(asked),
        Verb::Price(asked) => price::price(asked),
        Verb::Search(asked) => search::search(asked),
        Verb::Versus(asked) => versus::versus(asked),
        Verb::Judge(asked) => judge::judge(asked),
        Verb::Setout(asked) => setout::setout(asked),
        Verb::Spot(asked) => spot::spot(asked),
        Verb::Vary(asked) => vary::vary(asked),
        Verb::Draw(asked) => draw::draw(asked),
    }
}
