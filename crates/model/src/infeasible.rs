//! Why a design can't be built or run.

use crate::margins::Margins;

/// A design that breaks a limit.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[error("{reason}")]
pub struct Infeasible {
    /// What is wrong, with numbers.
    pub reason: String,
    /// The margins known when it was found out.
    pub margins: Box<Margins>,
}

/// Violation of a design whose inputs make no sense together, beyond any broken limit.
const UNBUILDABLE: f64 = 10.0;

impl Infeasible {
    /// A design whose inputs make no sense together.
    #[must_use]
    pub fn unbuildable(reason: String, margins: Margins) -> Self {
        Self {
            reason,
            margins: Box::new(margins),
        }
    }

    /// Fails when a known margin is negative.
    ///
    /// # Errors
    /// The limit most broken.
    pub fn check(margins: &Margins) -> Result<(), Self> {
        match margins.what_breaks() {
            None => Ok(()),
            Some(reason) => Err(Self {
                reason,
                margins: Box::new(*margins),
            }),
        }
    }

    /// How far the design is from keeping every limit; positive.
    #[must_use]
    pub fn violation(&self) -> f64 {
        let broken = self.margins.violation();
        if broken > 0.0 { broken } else { UNBUILDABLE }
    }
}
