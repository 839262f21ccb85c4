//! Which design is meant, and what is laid over its scenario.

use std::path::PathBuf;

use clap::Args;

/// What a plan holds.
pub(super) const PLAN_HELP: &str = "A plan instead of the field that the scenario lays; all else is that of the \
start design. CSV, a line for each mirror: mirror_id, its centre x_m (east), y_m (north) and z_m (up) \
from the tower's foot, width_m, height_m and focal_length_m (inf for a flat one). Mirrors of a string \
also have string_id, first_axis, bearing_deg and linkage, one below the other from the most negative \
along the bearing; a mirror without them has a drive of its own. aim_x_m, aim_y_m and aim_z_m may \
give it another aim point than the aperture's middle.";

/// Values laid over the scenario.
#[derive(Clone, Debug, Args)]
pub struct Settings {
    /// Lay a value over the scenario, such as strings.side="30 in"; may be repeated.
    #[arg(long = "set", value_name = "KEY=VALUE", value_parser = setting)]
    pub set: Vec<(String, String)>,
    /// Which of the scenario's concepts of field to take: strings, pedestals or singles; the same as
    /// --set concept=WORD.
    #[arg(long, value_name = "WORD")]
    pub concept: Option<String>,
}

impl Settings {
    /// Every value laid over the scenario; what has a flag of its own comes last and wins.
    pub fn overrides(&self) -> Vec<(String, String)> {
        let concept = self.concept.iter();
        let concept = concept.map(|word| ("concept".to_owned(), word.clone()));
        self.set.iter().cloned().chain(concept).collect()
    }
}

/// Which design is meant.
#[derive(Debug, Args)]
#[group(id = "subject", required = true, multiple = false, args = ["file", "design"])]
pub struct SubjectArgs {
    /// The scenario file; opened values take their start.
    pub file: Option<PathBuf>,
    /// A design of a finished search instead: its run folder and its row in designs.parquet.
    #[arg(long, value_name = "RUN#ROW", value_parser = run_and_row)]
    pub design: Option<(PathBuf, u32)>,
    /// A plan instead of the field that the scenario lays: CSV, a line for each mirror.
    #[arg(long, value_name = "CSV", long_help = PLAN_HELP, conflicts_with = "design")]
    pub plan: Option<PathBuf>,
    #[command(flatten)]
    pub settings: Settings,
}

pub(super) fn setting(text: &str) -> Result<(String, String), String> {
    let (key, value) = text
        .split_once('=')
        .filter(|(key, _)| !key.trim().is_empty())
        .ok_or_else(|| "write KEY=VALUE, such as strings.side=\"30 in\"".to_owned())?;
    Ok((key.trim().to_owned(), value.trim().to_owned()))
}

fn run_and_row(text: &str) -> Result<(PathBuf, u32), String> {
    let wrong = || "write RUN#ROW, such as runs/first#137".to_owned();
    let (run, row) = text.rsplit_once('#').ok_or_else(wrong)?;
    Ok((PathBuf::from(run), row.parse().map_err(|_| wrong())?))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_setting_is_split_at_the_first_equals_sign() {
        let opened = r#"strings.side={ from = "1 m", to = "2 m" }"#;
        let (key, value) = setting(opened).unwrap();
        assert_eq!(key, "strings.side");
        assert_eq!(value, r#"{ from = "1 m", to = "2 m" }"#);
        assert!(setting("strings.side").is_err());
        assert!(setting(" = 30 in").is_err());
    }

    #[test]
    fn a_row_is_what_follows_the_last_hash() {
        assert_eq!(run_and_row("a#b#7"), Ok((PathBuf::from("a#b"), 7)));
        assert!(run_and_row("runs/first").is_err());
        assert!(run_and_row("runs/first#best").is_err());
    }
}
