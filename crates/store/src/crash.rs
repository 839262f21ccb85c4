//! Named points of every durable write, where a test may end the process.

use std::sync::atomic::{AtomicU32, Ordering};

/// A point passed by every durable write.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Point {
    /// Nothing of the batch has been written to the journal.
    BeforeAppend,
    /// Half of the batch's bytes have been written.
    MidAppend,
    /// The whole batch has been written, but not made durable.
    BeforeSync,
    /// The batch is durable.
    AfterSync,
    /// The new file is durable under its temporary name.
    BeforeRename,
    /// The new file has its final name; the folder is not yet durable.
    AfterRename,
}

impl Point {
    /// All points, in the order they are passed.
    pub const ALL: [Self; 6] = [
        Self::BeforeAppend,
        Self::MidAppend,
        Self::BeforeSync,
        Self::AfterSync,
        Self::BeforeRename,
        Self::AfterRename,
    ];

    /// The name of the point in text.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::BeforeAppend => "before_append",
            Self::MidAppend => "mid_append",
            Self::BeforeSync => "before_sync",
            Self::AfterSync => "after_sync",
            Self::BeforeRename => "before_rename",
            Self::AfterRename => "after_rename",
        }
    }
}

/// Told of every [`Point`] that is passed.
pub trait Hooks: Send + Sync {
    /// Called at `point`, before the write goes on.
    fn reached(&self, point: Point);
}

/// The hooks of an ordinary run: they do nothing.
#[derive(Debug, Clone, Copy, Default)]
pub struct NoHooks;

impl Hooks for NoHooks {
    fn reached(&self, _point: Point) {}
}

/// Hooks that abort the process at the n-th passing of one point.
#[derive(Debug)]
pub struct CrashAt {
    point: Point,
    passings_left: AtomicU32,
}

/// A text that does not name a crash point.
#[derive(Debug, PartialEq, Eq, thiserror::Error)]
#[error(
    "'{text}' is not a crash point; write point:n, n from 1, with one of {}",
    point_names()
)]
pub struct CrashAtError {
    text: String,
}

fn point_names() -> String {
    Point::ALL.map(Point::name).join(", ")
}

impl CrashAt {
    /// Reads `point:n`, for example `mid_append:3`.
    ///
    /// # Errors
    /// When the point is unknown or n is not a whole number from 1.
    pub fn parse(text: &str) -> Result<Self, CrashAtError> {
        let wrong = || CrashAtError {
            text: text.to_owned(),
        };
        let (name, count) = text.split_once(':').ok_or_else(wrong)?;
        let point = Point::ALL.into_iter().find(|point| point.name() == name);
        let count = count.parse().ok().filter(|count| *count > 0);
        match (point, count) {
            (Some(point), Some(count)) => Ok(Self {
                point,
                passings_left: AtomicU32::new(count),
            }),
            _ => Err(wrong()),
        }
    }
}

impl Hooks for CrashAt {
    fn reached(&self, point: Point) {
        if point == self.point && self.passings_left.fetch_sub(1, Ordering::SeqCst) == 1 {
            std::process::abort();
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_point_is_read_back_by_its_name() {
        for point in Point::ALL {
            let crash = CrashAt::parse(&format!("{}:2", point.name())).unwrap();
            assert_eq!(crash.point, point);
        }
    }

    #[test]
    fn a_wrong_text_is_refused_with_the_known_names() {
        for text in ["", "mid_append", "mid_append:0", "mid_append:x", "lunch:1"] {
            let message = CrashAt::parse(text).unwrap_err().to_string();
            assert!(message.contains("before_rename"), "{message}");
        }
    }
}
