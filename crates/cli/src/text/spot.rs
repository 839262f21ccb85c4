//! Where the beams of surveyed strings fall: an alignment sheet and a verdict.

use std::path::PathBuf;

use quantity::Measure;
use report::text::{Align, TextTable};
use report::{Part, Section, figures};

use super::{cautions, page};
use crate::spot::Spots;
use crate::units;

/// Mirrors told one by one, those that stray farthest.
const MOST: usize = 24;

/// Everything that is told of a survey.
pub fn spot(of: &Spots, files: &[PathBuf]) -> String {
    let unit = units::unit(Measure::Thickness);
    let head = format!(
        "{}. {} as surveyed under {}. Spots are told in {unit} right and up of each mirror's aim point, \
         along the target plane, as seen from the field. Off plan tells how far they lie from where \
         they would if all were built as planned: the rest is what the shared drive leaves.",
        of.inputs.scenario.title,
        figures::counted(of.rows.len(), "mirror"),
        figures::counted(of.moments.len(), "sun"),
    );
    let mut sections = vec![Section::opening(head), mirrors(of)];
    if let Some(within_m) = of.within_m {
        sections.push(verdict(of, within_m));
    }
    if !files.is_empty() {
        let lines: String = files
            .iter()
            .map(|file| format!("{}\n", file.display()))
            .collect();
        sections.push(Section::new("Files", Part::Lines(lines)));
    }
    sections.push(cautions());
    page(&sections)
}

fn mirrors(of: &Spots) -> Section {
    let mut order: Vec<usize> = (0..of.rows.len()).collect();
    let off_m = |mirror: usize| of.farthest(mirror).map_or(0.0, |(_, off_m)| off_m);
    order.sort_by(|one, other| off_m(*other).total_cmp(&off_m(*one)));
    let mut table = TextTable::new(&[
        ("string", Align::Left),
        ("mirror", Align::Left),
        ("right", Align::Right),
        ("up", Align::Right),
        ("farthest", Align::Right),
        ("off plan", Align::Right),
        ("at", Align::Left),
        ("", Align::Left),
    ]);
    for &mirror in order.iter().take(MOST) {
        let row = &of.rows[mirror];
        let aligned = |part: fn(&model::spot::Spot) -> f64| {
            of.aligned[mirror]
                .as_ref()
                .map_or_else(|| "misses".to_owned(), |spot| thin(part(spot)))
        };
        let farthest = of.farthest(mirror);
        table.row([
            row.string_id.clone(),
            row.mirror_id.clone(),
            aligned(|spot| spot.right_m),
            aligned(|spot| spot.up_m),
            farthest.map_or_else(String::new, |(_, off_m)| thin(off_m)),
            thin(off_plan_m(of, mirror)),
            farthest.map_or_else(String::new, |(moment, _)| moment.told()),
            match of.passes(mirror) {
                Some(true) => "within",
                Some(false) => "beyond",
                None => "",
            }
            .to_owned(),
        ]);
    }
    let unit = units::unit(Measure::Thickness);
    let heading = if order.len() > MOST {
        format!(
            "The {MOST} mirrors that stray farthest; right and up under the alignment sun, {unit}"
        )
    } else {
        format!("Mirror by mirror; right and up under the alignment sun, {unit}")
    };
    Section::new(&heading, table)
}

/// The farthest that a mirror strays from where it would if all were built as planned [m].
fn off_plan_m(of: &Spots, mirror: usize) -> f64 {
    let moments = 0..of.moments.len();
    let off_m = moments.filter_map(|moment| of.off_plan_m(moment, mirror));
    off_m.fold(0.0, f64::max)
}

fn verdict(of: &Spots, within_m: f64) -> Section {
    let mirrors = 0..of.rows.len();
    let inside = mirrors
        .filter(|mirror| of.passes(*mirror) == Some(true))
        .count();
    let words = format!(
        "{} of {} stay within {} {} of their aim points under every sun.",
        figures::grouped(inside as f64, 0),
        figures::counted(of.rows.len(), "mirror"),
        thin(within_m),
        units::unit(Measure::Thickness)
    );
    Section::new("Acceptance", words)
}

fn thin(length_m: f64) -> String {
    if length_m.is_finite() {
        figures::grouped(units::number(length_m, Measure::Thickness), units::fine(1))
    } else {
        "misses".to_owned()
    }
}
