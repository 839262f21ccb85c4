//! The one place that reads a clock: for progress and for the manifest, never for results.

use std::time::{Duration, Instant, SystemTime, UNIX_EPOCH};

/// A watch that runs from when it was made.
#[derive(Clone, Copy, Debug)]
pub struct Watch(Instant);

impl Watch {
    /// Starts now.
    #[expect(
        clippy::disallowed_methods,
        reason = "progress needs a clock, and results never see it"
    )]
    pub fn start() -> Self {
        Self(Instant::now())
    }

    /// Time since the start.
    pub fn elapsed(&self) -> Duration {
        self.0.elapsed()
    }
}

/// Seconds since the beginning of 1970 in universal time.
#[expect(
    clippy::disallowed_methods,
    reason = "the manifest tells when a run was made, and results never see it"
)]
pub fn unix_seconds() -> u64 {
    let since = SystemTime::now().duration_since(UNIX_EPOCH);
    since.map_or(0, |since| since.as_secs())
}
