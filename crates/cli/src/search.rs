//! `search`: looks for the cheapest design, writes tables and charts, tells what was found.

use std::path::Path;

use model::{Detail, Summary, YearsSpread};
use report::{Table, TableKind};
use scenario::DesignKey;
use study::{Findings, Oracle, Settings, StopReason, Verdict};

use crate::args::SearchArgs;
use crate::charts::{self, Shown};
use crate::evaluated::Evaluated;
use crate::exit::{Exit, MOST_FAILED_SHARE};
use crate::failure::Failure;
use crate::inputs::Inputs;
use crate::interrupt::Interrupt;
use crate::manifest::stop_word;
use crate::problem::{Prices, Problem, fidelity_of, study_space, summary_of};
use crate::progress::Progress;
use crate::run::{Run, file_meta};
use crate::sensitivity::charts::Varied;
use crate::sensitivity::{Asked, Sensitivity};
use crate::tables::{self, bill, designs, detail};
use crate::{clock, json, lean_year, output, text};

/// Members of each front that are looked at closely, at most.
const FRONT_SIZE: u32 = 48;

/// Searches, writes the run folder and prints what was found.
pub fn search(asked: &SearchArgs) -> Result<Exit, Failure> {
    let inputs = Inputs::read(&asked.file, &asked.overrides())?;
    inputs.say_notes();
    let interrupt = Interrupt::listen().map_err(Failure::Signals)?;
    let Some(done) = Searched::into_folder(inputs, &asked.out, &interrupt)? else {
        return Ok(interrupt.exit());
    };
    let exit = done.exit();
    let Searched {
        inputs,
        run,
        findings,
        best,
    } = done;
    if asked.json {
        let best = best.as_ref().map(|best| &best.priced);
        json::print(&json::search(&findings, best, &inputs))?;
    } else {
        output::data(&told(&findings, best.as_ref(), &inputs, &run))?;
    }
    Ok(exit)
}

/// A search that has ended, with its run folder written.
pub struct Searched {
    /// Scenario and weather.
    pub inputs: Inputs,
    /// The run folder.
    pub run: Run,
    /// What was found.
    pub findings: Findings,
    /// The best design, if any keeps every limit.
    pub best: Option<Best>,
}

impl Searched {
    /// Searches and writes the run folder. If it is interrupted it gives nothing, and has told how to
    /// go on.
    pub fn into_folder(
        mut inputs: Inputs,
        out: &Path,
        interrupt: &Interrupt,
    ) -> Result<Option<Self>, Failure> {
        let mut run = Run::begin(out, &inputs)?;
        let findings = explore(&inputs, &run, interrupt)?;
        if findings.stop == StopReason::Interrupted {
            stopped(&mut run, &findings)?;
            return Ok(None);
        }
        let best = Best::of(&findings, &inputs);
        let years = best.as_ref().and_then(|best| best.years.as_ref());
        lean_year::cover(years, &mut inputs);
        write_all(&mut run, &findings, best.as_ref(), &inputs)?;
        end(&mut run, &findings)?;
        Ok(Some(Self {
            inputs,
            run,
            findings,
            best,
        }))
    }

    /// How a process that did nothing else ends.
    pub fn exit(&self) -> Exit {
        exit(&self.findings)
    }
}

fn explore(inputs: &Inputs, run: &Run, interrupt: &Interrupt) -> Result<Findings, Failure> {
    let scenario = &inputs.scenario;
    let problem = Problem {
        scenario,
        case: &inputs.case,
    };
    let (journal, opened) = run.journal(inputs)?;
    let settings = Settings {
        seed: u64::from(scenario.search.seed),
        total: scenario.search.total,
        front_size: FRONT_SIZE,
    };
    let mut progress = Progress::new(settings.total, &scenario.currency);
    let findings = study::search(
        &study_space(scenario)?,
        &settings,
        Oracle::with_journal(&problem, journal, opened),
        &Prices::of(scenario),
        &interrupt.stop,
        &mut |event| progress.tell(&event),
    )?;
    progress.finish();
    Ok(findings)
}

/// Tells how to go on, and notes it in the manifest.
fn stopped(run: &mut Run, findings: &Findings) -> Result<(), Failure> {
    end(run, findings)?;
    output::say(&format!(
        "stopped after {} designs, all kept; to go on:\n  {}",
        findings.rows.len(),
        command_line()
    ));
    Ok(())
}

/// This command as it would be typed again.
fn command_line() -> String {
    let words = std::env::args().map(|word| quoted(&word));
    words.collect::<Vec<_>>().join(" ")
}

fn quoted(word: &str) -> String {
    let is_plain = |letter: char| letter.is_ascii_alphanumeric() || "-_./=:+,".contains(letter);
    if !word.is_empty() && word.chars().all(is_plain) {
        return word.to_owned();
    }
    format!("'{}'", word.replace('\'', r"'\''"))
}

/// The best design with everything about it.
pub struct Best {
    /// Its row.
    pub row: usize,
    /// The design with its year and its money.
    pub priced: Evaluated,
    detail: Detail,
    /// How its year differs from others; none if another year breaks it.
    years: Option<YearsSpread>,
}

impl Best {
    fn of(findings: &Findings, inputs: &Inputs) -> Option<Self> {
        let row = findings.best?;
        let found = &findings.rows[row];
        let summary = summary_of(found.every.as_ref()?)?;
        let design = inputs.scenario.space.design(&DesignKey(found.key.clone()));
        let detail = model::detail(&inputs.case, &design).ok()?;
        let priced = Evaluated::priced(inputs, design, fidelity_of(study::EVERY), summary);
        let years = lean_year::spread(&priced, inputs, None);
        Some(Self {
            row,
            priced,
            detail,
            years,
        })
    }
}

fn write_all(
    run: &mut Run,
    findings: &Findings,
    best: Option<&Best>,
    inputs: &Inputs,
) -> Result<(), Failure> {
    let scenario = &inputs.scenario;
    let every_row: Vec<usize> = (0..findings.rows.len()).collect();
    let table = |kind, places: &[usize]| designs::table(kind, scenario, &findings.rows, places);
    let sensitivity = best.map(|best| sensitivity(findings, best, inputs));
    let [inputs_table, price_grid, draws] = tables::sensitivity::tables(sensitivity.as_ref());
    let tables: [Table; 9] = [
        table(TableKind::Designs, &every_row),
        table(TableKind::Front, &findings.front),
        detail::hours(best.map(|best| &best.detail), &inputs.weather.year),
        detail::mirrors(best.map(|best| &best.detail)),
        bill::bill(best.map(|best| &best.priced), scenario),
        detail::flux(best.map(|best| &best.detail)),
        inputs_table,
        price_grid,
        draws,
    ];
    let meta = file_meta(inputs);
    for table in &tables {
        run.write_table(table, &meta)?;
    }
    let [designs, front, .., varied, price_grid, draws] = &tables;
    let shown = Shown {
        inputs,
        designs,
        front,
        varied: Varied {
            inputs: varied,
            price_grid,
            draws,
        },
        best_row: best.map(|best| best.row),
        best: best.map(|best| (&best.priced, &best.detail)),
    };
    charts::write(run, &shown)
}

/// What the cost of the best design rests on; the front's designs may take its place.
fn sensitivity(findings: &Findings, best: &Best, inputs: &Inputs) -> Sensitivity {
    let feasible = findings.rows.iter();
    let feasible = feasible.filter(|row| matches!(row.verdict, Verdict::Feasible(_)));
    let confirmed = feasible.filter_map(|row| row.every.as_ref());
    let confirmed: Vec<Summary> = confirmed.filter_map(summary_of).collect();
    Sensitivity::of(inputs, &best.priced.summary, &confirmed, Asked::BY_SEARCH)
}

fn end(run: &mut Run, findings: &Findings) -> Result<(), Failure> {
    run.end(|ended| {
        ended.stop_reason = stop_word(findings.stop).to_owned();
        ended.ended_unix_s = Some(clock::unix_seconds());
        ended.designs = findings.rows.len();
        ended.failed = failed(findings);
        ended.best_row = findings.best.map(|row| row as u32);
        ended.front = findings.front.len();
    })
}

fn failed(findings: &Findings) -> usize {
    let rows = findings.rows.iter();
    rows.filter(|row| row.verdict == Verdict::Failed).count()
}

fn exit(findings: &Findings) -> Exit {
    let most_failed = MOST_FAILED_SHARE * findings.rows.len() as f64;
    if failed(findings) as f64 > most_failed {
        Exit::TooManyFailed
    } else if findings.best.is_none() {
        Exit::NothingFeasible
    } else {
        Exit::Done
    }
}

fn told(findings: &Findings, best: Option<&Best>, inputs: &Inputs, run: &Run) -> String {
    let scenario = &inputs.scenario;
    let Some(best) = best else {
        return text::page(&[
            text::search::nothing_feasible(findings, scenario),
            text::search::designs(findings),
            text::search::files(run),
        ]);
    };
    let Best { row, priced, .. } = best;
    let mut sections = vec![
        text::search::answer(priced, *row, scenario),
        text::design::design(priced, scenario),
        text::energy::energy(priced),
        text::energy::delivered(priced, inputs),
        text::design::built(priced),
        text::money::capital(priced, scenario),
        text::money::cost_of_product(priced, scenario),
        text::money::value(priced, scenario),
        text::money::carbon(priced, scenario),
    ];
    sections.extend(best.years.as_ref().map(text::years::years));
    sections.push(text::search::designs(findings));
    sections.extend(text::search::knee(findings, scenario));
    if let Some(near) = &findings.near_best {
        let key = &findings.rows[*row].key;
        sections.push(text::search::near_best(near, key, &scenario.space));
    }
    sections.extend([text::search::files(run), text::cautions()]);
    text::page(&sections)
}

#[cfg(test)]
mod tests {
    use super::*;
    use study::{Outcome, Row, Status};

    #[test]
    fn a_search_is_not_trusted_when_evaluations_fail() {
        let row = |verdict| Row {
            key: vec![],
            search: Outcome {
                status: Status::Failed,
                numbers: vec![],
                reason: String::new(),
            },
            every: None,
            verdict,
        };
        let with_failed = |count: usize| {
            let mut rows = vec![row(Verdict::Feasible([1.0; 3])); 200 - count];
            rows.extend(vec![row(Verdict::Failed); count]);
            let findings = Findings {
                rows,
                front: vec![0],
                cost_capital: vec![0],
                cost_carbon: vec![0],
                best: Some(0),
                knee: None,
                near_best: None,
                stop: StopReason::BudgetSpent,
            };
            exit(&findings)
        };
        assert_eq!(with_failed(2), Exit::Done);
        assert_eq!(with_failed(3), Exit::TooManyFailed);
    }

    #[test]
    fn a_command_can_be_typed_again() {
        assert_eq!(quoted("--out=runs/first"), "--out=runs/first");
        assert_eq!(quoted("strings.side=30 in"), "'strings.side=30 in'");
        assert_eq!(quoted("it's"), r"'it'\''s'");
        assert_eq!(quoted(""), "''");
    }
}
