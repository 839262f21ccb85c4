//! The heat store: what it takes, gives and loses in an hour.

use crate::hour::SECONDS_PER_HOUR;

/// A heat store; a capacity of zero means none.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Store {
    /// Usable heat between the carrier's hot and cold temperature [J].
    pub capacity_j: f64,
    /// Heat that passes the insulated walls, per area and kelvin [W/(m² K)].
    pub wall_w_m2_k: f64,
    /// Share of the stored heat lost in an hour beside what passes the walls, 0 … 1.
    pub loss_per_hour: f64,
    /// Largest flow of heat in [W].
    pub max_charge_w: f64,
    /// Largest flow of heat out [W].
    pub max_discharge_w: f64,
}

/// What the walls of a store lose at one air temperature.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct WallLoss {
    /// When full [W].
    pub full_w: f64,
    /// When empty, from what stays cold but warmer than the air [W].
    pub empty_w: f64,
}

/// A store's losses over one hour.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct Stood {
    /// Taken out of the content [W].
    pub lost_w: f64,
    /// Lost by an empty store, beyond its content [W].
    pub beyond_w: f64,
}

impl Store {
    /// What an hour's standing takes from a content [J].
    pub(crate) fn stand(&self, content_j: f64, walls: &WallLoss) -> Stood {
        if self.capacity_j <= 0.0 {
            return Stood::default();
        }
        let full_share = (content_j / self.capacity_j).clamp(0.0, 1.0);
        let walls_w = walls.empty_w + (walls.full_w - walls.empty_w) * full_share;
        let wanted_w = walls_w.max(0.0) + content_j * self.loss_per_hour / SECONDS_PER_HOUR;
        let lost_w = wanted_w.min(content_j / SECONDS_PER_HOUR);
        Stood {
            lost_w,
            beyond_w: wanted_w - lost_w,
        }
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
