//! `judge`: the fast model of light against rays, on the start design or a given plan.

use std::path::{Path, PathBuf};

use model::{Care, Infeasible, Judgement, MirrorMoment, Moment, Trial, YearJudgement};
use store::{NoHooks, write_atomic};

use crate::args::JudgeArgs;
use crate::exit::Exit;
use crate::failure::Failure;
use crate::inputs::Inputs;
use crate::instants::{self, Instant};
use crate::plan_file::{self, Given};
use crate::text::{judged, limits};
use crate::{json, output};

/// Fewest rays from each mirror, so that their scatter tells the error.
const FEWEST_ROUNDS: u64 = 8;

/// What was judged, and what came out.
pub struct Judged {
    /// The plan's file; none for the scenario's start design.
    pub plan: Option<PathBuf>,
    /// Strings and mirrors, and their glass [m²].
    pub strings: usize,
    pub mirrors: usize,
    pub mirror_area_m2: f64,
    /// Rays from each mirror under each sun.
    pub care: Care,
    /// Each instant with what both models say of it.
    pub instants: Vec<(Instant, Judgement)>,
    /// The year, if it was asked for.
    pub year: Option<YearJudgement>,
}

/// Judges and prints it.
pub fn judge(asked: &JudgeArgs) -> Result<Exit, Failure> {
    let inputs = Inputs::read(&asked.file, &asked.settings.overrides())?;
    let design = inputs.scenario.space.design(&inputs.scenario.space.start());
    let instants = asked.instants.as_deref().map(instants::read).transpose()?;
    let given = asked
        .plan
        .as_deref()
        .map(|path| plan_file::read(path, &design))
        .transpose()?;
    inputs.say_notes();
    let trial = match &given {
        Some(given) => Trial::of_plan(&inputs.case, &design, given.plan.clone()),
        None => Trial::of_design(&inputs.case, &design),
    };
    let trial = match trial {
        Ok(trial) => trial,
        Err(broken) => return cannot_stand(&broken, asked, &inputs),
    };
    if let Some(broken) = trial.margins().what_breaks() {
        output::say(&format!("note: {broken}"));
    }
    let found = found(
        asked,
        &inputs,
        &trial,
        &instants.unwrap_or_default(),
        &given,
    )?;
    if asked.json {
        json::print(&json::judged(&found, &inputs))
    } else {
        output::data(&judged::judged(&found, &inputs))
    }
}

fn cannot_stand(broken: &Infeasible, asked: &JudgeArgs, inputs: &Inputs) -> Result<Exit, Failure> {
    if asked.json {
        json::print(&json::infeasible(broken, inputs))?;
    } else {
        output::data(&limits::infeasible(broken))?;
    }
    Ok(Exit::NothingFeasible)
}

fn found(
    asked: &JudgeArgs,
    inputs: &Inputs,
    trial: &Trial,
    instants: &[Instant],
    given: &Option<Given>,
) -> Result<Judged, Failure> {
    let plan = trial.plan();
    let care = Care {
        rounds: asked
            .rays
            .div_ceil(plan.mirror_count() as u64)
            .max(FEWEST_ROUNDS),
        seed: asked.seed,
    };
    let moments: Vec<Moment> = instants.iter().map(Instant::moment).collect();
    let judgements = trial.judge(&moments, care)?;
    let year = if asked.year || instants.is_empty() {
        Some(trial.judge_year(&inputs.case, care)?)
    } else {
        None
    };
    if let Some(path) = &asked.per_mirror {
        write_mirrors(path, trial, instants, &moments, given)?;
    }
    Ok(Judged {
        plan: given.as_ref().map(|given| given.path.clone()),
        strings: plan.strings.len(),
        mirrors: plan.mirror_count(),
        mirror_area_m2: plan.total_area_m2(),
        care,
        instants: instants.iter().copied().zip(judgements).collect(),
        year,
    })
}

/// Writes every mirror at every instant as CSV.
fn write_mirrors(
    path: &Path,
    trial: &Trial,
    instants: &[Instant],
    moments: &[Moment],
    given: &Option<Given>,
) -> Result<(), Failure> {
    let laid;
    let rows = match given {
        Some(given) => &given.rows,
        None => {
            laid = trial.plan().to_rows();
            &laid
        }
    };
    let mut text = "sun_azimuth_deg,sun_elevation_deg,string_id,mirror_id,incidence_deg,lit_share,\
                    unblocked_share,intercept,drive_error_mrad\n"
        .to_owned();
    for (instant, mirrors) in instants.iter().zip(trial.mirror_moments(moments)) {
        for (row, mirror) in rows.iter().zip(&mirrors) {
            text += &format!(
                "{},{},{},{},{}\n",
                instant.sun_azimuth_deg,
                instant.sun_elevation_deg,
                row.string_id,
                row.mirror_id,
                mirror_cells(mirror)
            );
        }
    }
    Ok(write_atomic(path, text.as_bytes(), &NoHooks)?)
}

fn mirror_cells(mirror: &MirrorMoment) -> String {
    format!(
        "{:.5},{:.6},{:.6},{:.6},{:.6}",
        mirror.incidence_rad.to_degrees(),
        mirror.lit_share,
        mirror.unblocked_share,
        mirror.intercept,
        mirror.drive_error_rad * 1e3
    )
}
