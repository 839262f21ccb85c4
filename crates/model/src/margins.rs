//! Signed margins: how far a design keeps from each limit.

use structure::{Check, Mover, StringParts};

/// Limits of the structure, then panels that must not touch, places that must be found, demand that
/// must be served, lines that must stay tight.
pub const MARGINS: usize = Check::COUNT + 4;

const PANEL_CLASH: usize = Check::COUNT;
const PLACES: usize = Check::COUNT + 1;
const SERVED: usize = Check::COUNT + 2;
const LINE_SLACK: usize = Check::COUNT + 3;

/// One margin per limit: capacity ÷ demand in the sense of each, less one, or one less
/// utilisation; negative where the limit is broken, not a number where it was not reached.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Margins {
    values: [f64; MARGINS],
}

impl Margins {
    /// Nothing looked at yet.
    #[must_use]
    pub const fn unknown() -> Self {
        Self {
            values: [f64::NAN; MARGINS],
        }
    }

    /// Takes the structure's margins over where they are smaller than those known.
    pub fn add_structure(&mut self, margins: &structure::Margins) {
        for check in Check::ALL {
            let known = &mut self.values[check as usize];
            *known = known.min(margins.get(check));
        }
    }

    /// Room between neighbouring panels of a string over what they need, less one.
    pub const fn set_panel_clash(&mut self, margin: f64) {
        self.values[PANEL_CLASH] = margin;
    }

    /// Places found over places wanted, less one.
    pub const fn set_places(&mut self, margin: f64) {
        self.values[PLACES] = margin;
    }

    /// Share of the demand served over the share that must be, less one.
    pub const fn set_served(&mut self, margin: f64) {
        self.values[SERVED] = margin;
    }

    /// Share of the demand served over the share that must be, less one.
    #[must_use]
    pub const fn served(&self) -> f64 {
        self.values[SERVED]
    }

    /// Pretension of loops over what gust and warmth take off it, less one; nothing else can go slack.
    pub fn set_line_slack(&mut self, parts: &StringParts, pretension_ratio: f64) {
        if matches!(parts.sizes.mover, Mover::Loops(_)) {
            self.values[LINE_SLACK] = pretension_ratio - 1.0;
        }
    }

    /// The margins in order.
    #[must_use]
    pub const fn values(&self) -> [f64; MARGINS] {
        self.values
    }

    /// The margins that [`Margins::values`] gave.
    #[must_use]
    pub const fn from_values(values: [f64; MARGINS]) -> Self {
        Self { values }
    }

    /// Key of each margin, in order.
    #[must_use]
    pub fn keys() -> [&'static str; MARGINS] {
        std::array::from_fn(|index| match index {
            PANEL_CLASH => "panel_clash",
            PLACES => "places",
            SERVED => "served",
            LINE_SLACK => "line_slack",
            check => Check::ALL[check].key(),
        })
    }

    /// How much the broken limits are broken in sum; zero when all known ones hold.
    #[must_use]
    pub fn violation(&self) -> f64 {
        self.values
            .iter()
            .filter(|margin| **margin < 0.0)
            .map(|margin| -margin)
            .sum()
    }

    /// The limit most broken, with its margin; `None` when all known ones hold.
    #[must_use]
    pub fn most_broken(&self) -> Option<(&'static str, f64)> {
        let (limit, margin) = self.worst()?;
        Some((Self::keys()[limit], margin))
    }

    /// The place of the limit most broken, with its margin.
    fn worst(&self) -> Option<(usize, f64)> {
        let broken = self.values.into_iter().enumerate();
        broken
            .filter(|(_, margin)| *margin < 0.0)
            .min_by(|(_, one), (_, other)| one.total_cmp(other))
    }

    /// What it means that the limit most broken is broken, in words; `None` when all known ones hold.
    #[must_use]
    pub fn what_breaks(&self) -> Option<String> {
        let (limit, margin) = self.worst()?;
        let by = format!("{:.1} %", -100.0 * margin);
        Some(match limit {
            PLACES => format!("the site has {by} fewer places than are asked for"),
            SERVED => format!("it serves {by} less than it must"),
            PANEL_CLASH => format!("neighbouring panels have {by} less room than they need"),
            LINE_SLACK => {
                format!("drive lines go slack: {by} of the tension they need is missing")
            }
            check => {
                let part = Check::ALL[check].key().replace('_', " ");
                format!("{part} is over its limit by {by}")
            }
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn broken_limits_add_up_and_the_worst_is_named() {
        let mut margins = Margins::unknown();
        assert_eq!(margins.violation(), 0.0);
        assert_eq!(margins.most_broken(), None);
        margins.set_panel_clash(-0.1);
        margins.set_places(-0.4);
        assert!((margins.violation() - 0.5).abs() < 1e-12);
        assert_eq!(margins.most_broken(), Some(("places", -0.4)));
        assert_eq!(
            margins.what_breaks().unwrap(),
            "the site has 40.0 % fewer places than are asked for"
        );
    }

    #[test]
    fn every_margin_has_its_own_key() {
        let keys: std::collections::BTreeSet<_> = Margins::keys().into_iter().collect();
        assert_eq!(keys.len(), MARGINS);
    }
}
