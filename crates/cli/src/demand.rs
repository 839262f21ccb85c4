//! The hourly demand of a scenario, if a file tells it.

use std::fs;
use std::path::Path;

use scenario::Scenario;

use crate::failure::Failure;

/// An hourly demand and the text it was read from.
pub struct HourlyDemand {
    /// Power of each hour of the year [W].
    pub power_w: Vec<f64>,
    /// The text of the file.
    pub text: String,
}

/// Reads the file that a scenario standing in `folder` names; nothing if it names none.
pub fn read(scenario: &Scenario, folder: &Path) -> Result<Option<HourlyDemand>, Failure> {
    let file = &scenario.heat.demand.file;
    if file.is_empty() {
        return Ok(None);
    }
    let path = folder.join(file);
    let text = fs::read_to_string(&path).map_err(|source| Failure::Unreadable {
        path: path.clone(),
        source,
    })?;
    let power_w = model::read_demand(&text).map_err(|source| Failure::Demand { path, source })?;
    Ok(Some(HourlyDemand { power_w, text }))
}
