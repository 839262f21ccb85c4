//! What an evaluation gives, and how it is judged.

/// A design: one index per axis of the space.
pub type Key = Vec<u32>;

/// Cost per unit delivered, capital, carbon per unit delivered; smaller is better.
pub type Objectives = [f64; 3];

/// Fidelity tag: quick, what a search asks for.
pub const SEARCH: u8 = 0;
/// Fidelity tag: complete, what the front is made of.
pub const EVERY: u8 = 1;

/// How an evaluation ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Status {
    /// The design can be built and keeps every limit.
    Feasible,
    /// The design breaks a limit; the numbers say by how much.
    Infeasible,
    /// The evaluation gave no numbers.
    Failed,
}

/// The outcome of one evaluation.
#[derive(Debug, Clone, PartialEq)]
pub struct Outcome {
    /// How it ended.
    pub status: Status,
    /// Quantities and signed margins, a fixed number of them for an evaluator.
    pub numbers: Vec<f64>,
    /// Why it is infeasible or failed; empty if feasible.
    pub reason: String,
}

/// Turns keys into outcomes. The same key and fidelity must give the same
/// outcome, bit by bit, whatever the scratch was used for before.
pub trait Evaluator: Sync {
    /// Buffers that are kept from one evaluation to the next.
    type Scratch: Default + Send;

    /// Evaluates one design.
    fn evaluate(&self, key: &[u32], fidelity: u8, scratch: &mut Self::Scratch) -> Outcome;
}

/// Turns outcomes into objectives. Pure, so that other prices need no new
/// evaluation.
pub trait Pricing {
    /// The objectives of an outcome; nothing if it has no price.
    fn objectives(&self, outcome: &Outcome) -> Option<Objectives>;

    /// How far an outcome is from keeping every limit, from 0; any scale that
    /// grows with the distance.
    fn violation(&self, outcome: &Outcome) -> f64;

    /// How far a design that keeps its own limits falls short of what is asked of
    /// every design, as a share of that; 0 where it does not.
    fn shortfall(&self, _outcome: &Outcome) -> f64 {
        0.0
    }

    /// Whether what a design lacks can be thought of as bought, so that designs that fall short may lead the
    /// search to those that do not.
    fn is_lack_bought(&self) -> bool {
        false
    }
}

/// Falling short by everything: any design that breaks limits of its own is farther off still, as nobody
/// knows what it would give.
const WHOLE_SHORTFALL: f64 = 1.0;

/// A judged outcome.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Verdict {
    /// Feasible, with finite objectives.
    Feasible(Objectives),
    /// Infeasible, but only by falling short by this share, above 0, and what is lacking can be thought of as
    /// bought; what it costs without.
    Short(Objectives, f64),
    /// Infeasible, with a finite violation from 0.
    Infeasible(f64),
    /// Failed, or without finite numbers to judge it by.
    Failed,
}

impl Verdict {
    /// Judges an outcome; numbers that are not finite make it [`Verdict::Failed`].
    pub fn of(outcome: &Outcome, pricing: &impl Pricing) -> Self {
        match outcome.status {
            Status::Feasible => Self::of_kept(outcome, pricing),
            Status::Infeasible => Self::beyond(WHOLE_SHORTFALL + pricing.violation(outcome)),
            Status::Failed => Self::Failed,
        }
    }

    /// Whether a design is worth nothing; one that only falls short leads on.
    pub(crate) const fn breaks_a_limit(&self) -> bool {
        matches!(self, Self::Infeasible(_) | Self::Failed)
    }

    /// A design that keeps its own limits.
    fn of_kept(outcome: &Outcome, pricing: &impl Pricing) -> Self {
        let is_finite = |values: &Objectives| values.iter().all(|value| value.is_finite());
        let values = pricing.objectives(outcome).filter(is_finite);
        let lack = pricing.shortfall(outcome);
        if lack > 0.0 {
            return match (Self::beyond(lack), values) {
                (Self::Infeasible(lack), Some(values)) if pricing.is_lack_bought() => {
                    Self::Short(values, lack)
                }
                (beyond, _) => beyond,
            };
        }
        values.map_or(Self::Failed, Self::Feasible)
    }

    /// So far beyond a limit.
    fn beyond(violation: f64) -> Self {
        if violation.is_finite() {
            Self::Infeasible(violation.max(0.0))
        } else {
            Self::Failed
        }
    }

    /// The objectives, if feasible.
    #[must_use]
    pub fn objectives(self) -> Option<Objectives> {
        match self {
            Self::Feasible(values) => Some(values),
            _ => None,
        }
    }
}

impl Outcome {
    /// The bytes kept in the journal: status (u8), number count (u32), the
    /// numbers' bits (u64 each), reason (UTF-8); little endian.
    pub(crate) fn to_bytes(&self) -> Vec<u8> {
        let status = match self.status {
            Status::Feasible => 0,
            Status::Infeasible => 1,
            Status::Failed => 2,
        };
        let mut bytes = vec![status];
        bytes.extend((self.numbers.len() as u32).to_le_bytes());
        for number in &self.numbers {
            bytes.extend(number.to_bits().to_le_bytes());
        }
        bytes.extend(self.reason.as_bytes());
        bytes
    }

    /// The outcome in journal bytes; nothing if they are of another making.
    pub(crate) fn from_bytes(bytes: &[u8]) -> Option<Self> {
        let (status, rest) = bytes.split_first()?;
        let status = match status {
            0 => Status::Feasible,
            1 => Status::Infeasible,
            2 => Status::Failed,
            _ => return None,
        };
        let (count, rest) = rest.split_first_chunk::<4>()?;
        let length = (u32::from_le_bytes(*count) as usize).checked_mul(8)?;
        let (numbers, reason) = rest.split_at_checked(length)?;
        let (numbers, _) = numbers.as_chunks::<8>();
        Some(Self {
            status,
            numbers: numbers
                .iter()
                .map(|bits| f64::from_bits(u64::from_le_bytes(*bits)))
                .collect(),
            reason: String::from_utf8(reason.to_vec()).ok()?,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn an_outcome_comes_back_from_its_bytes(
            status in prop::sample::select(vec![Status::Feasible, Status::Infeasible, Status::Failed]),
            bits in prop::collection::vec(any::<u64>(), 0..20),
            reason in ".{0,30}",
        ) {
            let numbers = bits.iter().map(|bits| f64::from_bits(*bits)).collect();
            let outcome = Outcome { status, numbers, reason };
            let back = Outcome::from_bytes(&outcome.to_bytes()).unwrap();
            let back_bits: Vec<u64> = back.numbers.iter().map(|number| number.to_bits()).collect();
            prop_assert_eq!(back_bits, bits);
            prop_assert_eq!(back.status, outcome.status);
            prop_assert_eq!(back.reason, outcome.reason);
        }

        #[test]
        fn any_bytes_are_read_without_panic(bytes in prop::collection::vec(any::<u8>(), 0..60)) {
            let _ = Outcome::from_bytes(&bytes);
        }
    }

    struct Plain;

    impl Pricing for Plain {
        fn objectives(&self, outcome: &Outcome) -> Option<Objectives> {
            let cost = *outcome.numbers.first()?;
            Some([cost, 1.0, 1.0])
        }

        fn violation(&self, outcome: &Outcome) -> f64 {
            outcome.numbers.iter().sum()
        }

        fn shortfall(&self, outcome: &Outcome) -> f64 {
            outcome.numbers.get(1).map_or(0.0, |given| 1.0 - given)
        }
    }

    fn judged(status: Status, numbers: &[f64]) -> Verdict {
        let outcome = Outcome {
            status,
            numbers: numbers.to_vec(),
            reason: String::new(),
        };
        Verdict::of(&outcome, &Plain)
    }

    #[test]
    fn what_falls_short_of_what_is_asked_is_infeasible_by_as_much() {
        let enough = judged(Status::Feasible, &[2.0, 1.0]);
        assert_eq!(enough, Verdict::Feasible([2.0, 1.0, 1.0]));
        let short = judged(Status::Feasible, &[2.0, 0.75]);
        assert_eq!(short, Verdict::Infeasible(0.25));
        assert_eq!(
            judged(Status::Feasible, &[2.0, f64::NEG_INFINITY]),
            Verdict::Failed
        );
    }

    /// Even one that gives nothing may be led to what is asked; what a broken one would give, nobody knows.
    #[test]
    fn a_design_that_breaks_a_limit_is_farther_off_than_any_that_falls_short() {
        let merit = |status, numbers: &[f64]| crate::merit::merit(judged(status, numbers));
        let idle = merit(Status::Feasible, &[2.0, 0.0]);
        assert!(idle < merit(Status::Infeasible, &[1e-9]));
    }

    /// As [`Plain`], but what is lacking could be bought.
    struct Bought;

    impl Pricing for Bought {
        fn objectives(&self, outcome: &Outcome) -> Option<Objectives> {
            Plain.objectives(outcome)
        }

        fn violation(&self, outcome: &Outcome) -> f64 {
            Plain.violation(outcome)
        }

        fn shortfall(&self, outcome: &Outcome) -> f64 {
            Plain.shortfall(outcome)
        }

        fn is_lack_bought(&self) -> bool {
            true
        }
    }

    /// It has no objectives to be told or to lie on a front by.
    #[test]
    fn what_lacks_only_what_could_be_bought_is_no_feasible_design() {
        let outcome = |numbers: &[f64]| Outcome {
            status: Status::Feasible,
            numbers: numbers.to_vec(),
            reason: String::new(),
        };
        let short = Verdict::of(&outcome(&[2.0, 0.75]), &Bought);
        assert_eq!(short, Verdict::Short([2.0, 1.0, 1.0], 0.25));
        assert_eq!(short.objectives(), None);
        for (numbers, verdict) in [
            ([2.0, 1.0], Verdict::Feasible([2.0, 1.0, 1.0])),
            ([f64::NAN, 0.75], Verdict::Infeasible(0.25)),
            ([2.0, f64::NEG_INFINITY], Verdict::Failed),
        ] {
            assert_eq!(Verdict::of(&outcome(&numbers), &Bought), verdict);
        }
    }

    #[test]
    fn only_finite_numbers_are_believed() {
        assert_eq!(
            judged(Status::Feasible, &[2.0]),
            Verdict::Feasible([2.0, 1.0, 1.0])
        );
        assert_eq!(judged(Status::Feasible, &[f64::NAN]), Verdict::Failed);
        assert_eq!(judged(Status::Feasible, &[]), Verdict::Failed);
        assert_eq!(judged(Status::Infeasible, &[3.0]), Verdict::Infeasible(4.0));
        assert_eq!(
            judged(Status::Infeasible, &[f64::INFINITY]),
            Verdict::Failed
        );
        assert_eq!(judged(Status::Failed, &[2.0]), Verdict::Failed);
    }
}
