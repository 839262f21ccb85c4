//! What receiver and pipes have cooled down at rest and must be given back before heat flows on.

use crate::hour::SECONDS_PER_HOUR;

/// How receiver and pipes lose warmth at rest.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cooling {
    /// Heat that warms up the fully cold receiver [J].
    pub receiver_j: f64,
    /// Time at rest after which the receiver is fully cold [s]; it cools evenly.
    pub receiver_time_s: f64,
    /// Heat in warm pipes with their water, above the air [J].
    pub pipes_j: f64,
    /// Heat that warm pipes lose [W]; less as they cool.
    pub pipes_w: f64,
}

impl Cooling {
    /// What a fully cold plant lacks.
    pub const fn all_cold(&self) -> Debt {
        Debt {
            receiver_j: self.receiver_j,
            pipes_j: self.pipes_j,
        }
    }

    /// What is lacking after one more hour at rest.
    pub fn rest(&self, debt: Debt) -> Debt {
        let receiver_j = self.receiver_j * SECONDS_PER_HOUR / self.receiver_time_s;
        let lost_share = -libm::expm1(-self.pipes_w * SECONDS_PER_HOUR / self.pipes_j);
        Debt {
            receiver_j: (debt.receiver_j + receiver_j).min(self.receiver_j),
            pipes_j: debt.pipes_j + (self.pipes_j - debt.pipes_j) * lost_share,
        }
    }
}

/// Heat that is missing until receiver and pipes are warm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Debt {
    /// Of the receiver [J].
    pub receiver_j: f64,
    /// Of the pipes [J].
    pub pipes_j: f64,
}

impl Debt {
    /// Pays as much as an hour's heat flow [W] can, the receiver first; gives what it took [W].
    pub fn pay_w(&mut self, heat_w: f64) -> f64 {
        let paid_w = heat_w.min((self.receiver_j + self.pipes_j) / SECONDS_PER_HOUR);
        let paid_j = paid_w * SECONDS_PER_HOUR;
        let to_receiver_j = paid_j.min(self.receiver_j);
        self.receiver_j -= to_receiver_j;
        self.pipes_j = (self.pipes_j - (paid_j - to_receiver_j)).max(0.0);
        paid_w
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const COOLING: Cooling = Cooling {
        receiver_j: 3.6e8,
        receiver_time_s: 36e3,
        pipes_j: 4.3e9,
        pipes_w: 58e3,
    };

    fn rested(hours: usize) -> Debt {
        let warm = Debt {
            receiver_j: 0.0,
            pipes_j: 0.0,
        };
        (0..hours).fold(warm, |debt, _| COOLING.rest(debt))
    }

    /// Pipes that hold 4.3 GJ and lose 58 kW have a time constant of 20.6 h: in 14 h they lose
    /// 1 − e^(−14/20.6) = 49 % of it (worked by hand); the receiver a tenth each hour.
    #[test]
    fn a_night_cools_pipes_half_and_the_receiver_wholly() {
        assert!((rested(14).pipes_j / 4.3e9 - 0.493).abs() < 1e-3);
        assert!((rested(1).receiver_j - 3.6e7).abs() < 1.0);
        assert_eq!(rested(14).receiver_j, 3.6e8);
        assert!(rested(1000).pipes_j <= COOLING.pipes_j);
    }

    #[test]
    fn debts_are_paid_once_and_no_more_than_there_is() {
        let mut debt = rested(14);
        let whole_j = debt.receiver_j + debt.pipes_j;
        let first_w = debt.pay_w(2e5);
        assert_eq!(first_w, 2e5);
        assert_eq!(debt.receiver_j, 0.0);
        let rest_w = debt.pay_w(1e9);
        assert!(((first_w + rest_w) * SECONDS_PER_HOUR / whole_j - 1.0).abs() < 1e-12);
        assert!(debt.pay_w(1e9) < 1e-6);
    }
}
