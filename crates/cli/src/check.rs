//! `check`: every value with its unit and origin, and the facts of the weather.

use std::path::Path;

use quantity::Measure;
use report::text::{Align, TextTable};
use report::{Section, figures};
use scenario::Origin;

use crate::args::CheckArgs;
use crate::exit::Exit;
use crate::failure::Failure;
use crate::inputs::Inputs;
use crate::text::{energy, page, pairs};
use crate::units;
use crate::{check_weather, json, output};

/// Checks a scenario and prints how it was understood.
pub fn check(asked: &CheckArgs) -> Result<Exit, Failure> {
    let inputs = Inputs::read(&asked.file, &asked.settings.overrides())?;
    let facts = check_weather::facts(&inputs)?;
    let written = match &asked.out {
        Some(folder) => check_weather::draw(&facts, &inputs, folder)?,
        None => Vec::new(),
    };
    if asked.json {
        let mut document = json::checked(&inputs);
        document["weather"]["year"] = check_weather::as_json(&facts);
        document["files"] = written.into();
        return json::print(&document);
    }
    let mut sections = vec![
        values(&inputs),
        weather(&inputs),
        check_weather::months(&facts),
        check_weather::hours(&facts, &inputs),
    ];
    sections.extend(tower(&inputs));
    if !written.is_empty() {
        sections.push(Section::new("Drawn", written));
    }
    output::data(&page(&sections))
}

/// Every value with where it was set.
pub fn values(inputs: &Inputs) -> Section {
    let mut table = TextTable::new(&[
        ("key", Align::Left),
        ("value", Align::Left),
        ("from", Align::Left),
    ]);
    for value in inputs.scenario.resolved() {
        table.row([value.key, value.text, short(&value.origin)]);
    }
    Section::new("Values", table)
}

/// Where a value came from, a file by its name alone.
fn short(origin: &Origin) -> String {
    match origin {
        Origin::File { file, line } => {
            let name = Path::new(file).file_name().unwrap_or_default();
            format!("{}:{line}", name.to_string_lossy())
        }
        other => other.to_string(),
    }
}

fn weather(inputs: &Inputs) -> Section {
    let windy = inputs.windy_hours();
    let mut rows = vec![
        ("weather", inputs.weather.origin.clone()),
        ("direct sun (DNI)", energy::dni(inputs)),
        ("hours too windy to work", figures::grouped(windy as f64, 0)),
        (
            "wind while light is collected",
            format!(
                "{} rms",
                units::measured(inputs.case.collecting_wind_m_s, Measure::Speed, 2)
            ),
        ),
    ];
    let notes = inputs.weather.year.notes.iter();
    rows.extend(notes.map(|note| ("note", note.clone())));
    Section::new("Weather", pairs(rows))
}

/// What must be known of a tower so tall.
fn tower(inputs: &Inputs) -> Option<Section> {
    let note = inputs.tower_note()?;
    Some(Section::new("Tower", pairs([("note", note)])))
}
