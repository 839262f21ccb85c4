//! How far a design keeps from each limit.

use model::{Infeasible, Margins};
use report::{Section, figures};

use super::{page, pairs};

/// Every known margin, the tightest first.
pub fn margins(margins: &Margins) -> Section {
    let mut known: Vec<(&str, f64)> = Margins::keys()
        .into_iter()
        .zip(margins.values())
        .filter(|(_, margin)| margin.is_finite())
        .collect();
    known.sort_by(|a, b| a.1.total_cmp(&b.1));
    let rows = known.into_iter().map(|(key, margin)| {
        let broken = if margin < 0.0 { ", broken" } else { "" };
        let shown = format!("{}{broken}", figures::percent(margin, 1));
        (key.replace('_', " "), shown)
    });
    Section::new("Distance to each limit", pairs(rows))
}

/// Why a design cannot be built.
pub fn infeasible(broken: &Infeasible) -> String {
    let reason = format!("This design cannot be built: {}.\n", broken.reason);
    if broken
        .margins
        .values()
        .iter()
        .any(|margin| margin.is_finite())
    {
        reason + "\n" + &page(&[margins(&broken.margins)])
    } else {
        reason
    }
}
