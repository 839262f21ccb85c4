//! `setout`: a field as a crew and a purchaser need it.

use field::{Plan, PlanRow};
use model::setout::{self, SetOut, SetUnder, SunTime, set_out, set_out_plan, sun_times};
use model::{Infeasible, Margins};
use scenario::Concept;
use serde_json::Value;

use crate::args::SetoutArgs;
use crate::exit::Exit;
use crate::failure::Failure;
use crate::handout::Handout;
use crate::inputs::Inputs;
use crate::subject::Subject;
use crate::tables::{heliostats, setout as tables};
use crate::text::limits;
use crate::{geojson, json, output, plan_file, text};

/// A field that was set out, and where from.
pub struct Told<'a> {
    /// Scenario and weather.
    pub inputs: &'a Inputs,
    /// Where the design comes from, for people.
    pub origin: &'a str,
    /// The field.
    pub set_out: &'a SetOut,
    /// When strings can be set under their sun.
    pub alignments: &'a [Times],
    /// What was written.
    pub handout: &'a Handout,
}

/// A sun under which strings are set, and when it stands there.
pub struct Times {
    /// The sun, and how many strings are set under it.
    pub under: SetUnder,
    /// Moments at which it stands there, or nearest to it.
    pub moments: Vec<SunTime>,
}

/// Sets a field out, writes its tables and prints a summary.
pub fn setout(asked: &SetoutArgs) -> Result<Exit, Failure> {
    let subject = Subject::of(&asked.subject)?;
    subject.inputs.say_notes();
    match subject.inputs.scenario.concept() {
        Concept::Strings => set_out_strings(asked, &subject),
        Concept::Pedestals | Concept::Singles => set_out_heliostats(asked, &subject),
    }
}

fn set_out_strings(asked: &SetoutArgs, subject: &Subject) -> Result<Exit, Failure> {
    let inputs = &subject.inputs;
    let set_out = match of_subject(subject) {
        Ok(set_out) => set_out,
        Err(broken) => return cannot_stand(&broken, asked, inputs),
    };
    say_broken(&set_out.margins);
    let rows = rows(subject, &set_out.plan);
    let alignments = times(&set_out, inputs)?;
    let mut handout = Handout::open(&asked.out, inputs)?;
    write_all(&mut handout, inputs, &set_out, &rows, &alignments)?;
    let told = Told {
        inputs,
        origin: &subject.origin,
        set_out: &set_out,
        alignments: &alignments,
        handout: &handout,
    };
    if asked.json {
        json::print(&json::setout(&told))
    } else {
        output::data(&text::setout::setout(&told))
    }
}

/// When the suns stand under which strings are set.
pub fn times(set_out: &SetOut, inputs: &Inputs) -> Result<Vec<Times>, Failure> {
    let times = set_out.alignments.iter().map(|under| {
        let moments = sun_times(&inputs.case, under.sun)?;
        Ok(Times {
            under: *under,
            moments,
        })
    });
    times.collect()
}

fn set_out_heliostats(asked: &SetoutArgs, subject: &Subject) -> Result<Exit, Failure> {
    let inputs = &subject.inputs;
    let design = inputs.scenario.space.design(&subject.key);
    let set = match &subject.given {
        Some(given) => setout::set_out_heliostat_plan(&inputs.case, &design, given.plan.clone()),
        None => setout::set_out_heliostats(&inputs.case, &design),
    };
    let set = match set {
        Ok(set) => set,
        Err(broken) => return cannot_stand(&broken, asked, inputs),
    };
    say_broken(&set.margins);
    let rows = rows(subject, &set.plan);
    let mut handout = Handout::open(&asked.out, inputs)?;
    handout.table(&heliostats::heliostats(&set, &rows))?;
    if !set.panels.is_empty() {
        handout.table(&heliostats::canted_panels(&set, &rows))?;
    }
    handout.table(&tables::purchases(&set.purchases))?;
    let map = geojson::heliostats(&inputs.scenario.site, &set, &rows);
    write_plan(&mut handout, &rows, &map)?;
    if asked.json {
        json::print(&json::set_heliostats(inputs, &set, &handout))
    } else {
        let head = format!("{}. {}.", inputs.scenario.title, subject.origin);
        output::data(&text::setout::heliostats(head, &set, &handout))
    }
}

fn say_broken(margins: &Margins) {
    if let Some(broken) = margins.what_breaks() {
        output::say(&format!("note: {broken}"));
    }
}

/// The plan's lines as they were given, or as they are laid.
fn rows(subject: &Subject, plan: &Plan) -> Vec<PlanRow> {
    match &subject.given {
        Some(given) => given.rows.clone(),
        None => plan.to_rows(),
    }
}

fn of_subject(subject: &Subject) -> Result<SetOut, Infeasible> {
    let case = &subject.inputs.case;
    let design = subject.inputs.scenario.space.design(&subject.key);
    match &subject.given {
        Some(given) => set_out_plan(case, &design, given.plan.clone()),
        None => set_out(case, &design),
    }
}

fn cannot_stand(broken: &Infeasible, asked: &SetoutArgs, inputs: &Inputs) -> Result<Exit, Failure> {
    if asked.json {
        json::print(&json::infeasible(broken, inputs))?;
    } else {
        output::data(&limits::infeasible(broken))?;
    }
    Ok(Exit::NothingFeasible)
}

fn write_all(
    handout: &mut Handout,
    inputs: &Inputs,
    set_out: &SetOut,
    rows: &[PlanRow],
    alignments: &[Times],
) -> Result<(), Failure> {
    for table in [
        tables::posts(set_out, rows),
        tables::panels(set_out, rows),
        tables::strings(set_out, rows),
        tables::purchases(&set_out.purchases),
        tables::alignment(alignments),
    ] {
        handout.table(&table)?;
    }
    write_plan(
        handout,
        rows,
        &geojson::strings(&inputs.scenario.site, set_out, rows),
    )
}

/// Writes the plan as a list and as a map.
fn write_plan(handout: &mut Handout, rows: &[PlanRow], map: &Value) -> Result<(), Failure> {
    handout.file("plan.csv", plan_file::written(rows).as_bytes())?;
    handout.file("plan.geojson", format!("{map}\n").as_bytes())
}
