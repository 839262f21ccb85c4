//! The heat store: a vessel of pressurised water with a hot and a cold layer.

use crate::hour::SECONDS_PER_HOUR;

/// A heat store; a capacity of zero means none.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Store {
    /// Usable heat between the loop's hot and cold temperature [J].
    pub capacity_j: f64,
    /// Share of the stored heat lost in an hour, 0 … 1.
    pub loss_per_hour: f64,
    /// Largest flow of heat in [W].
    pub max_charge_w: f64,
    /// Largest flow of heat out [W].
    pub max_discharge_w: f64,
}

impl Store {
    /// Heat that an hour's standing takes from a content [J], in W.
    pub(crate) fn standing_loss_w(&self, content_j: f64) -> f64 {
        content_j * self.loss_per_hour / SECONDS_PER_HOUR
    }

    /// Largest flow that an hour can take out of a content [J], in W.
    pub(crate) fn can_give_w(&self, content_j: f64) -> f64 {
        (content_j / SECONDS_PER_HOUR).min(self.max_discharge_w)
    }

    /// Largest flow that an hour can put on top of a content [J], in W.
    pub(crate) fn can_take_w(&self, content_j: f64) -> f64 {
        ((self.capacity_j - content_j).max(0.0) / SECONDS_PER_HOUR).min(self.max_charge_w)
    }
}
