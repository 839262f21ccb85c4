//! Runs of missing values in a year, which is a circle, and straight lines over them.

/// What to do about values that are missing or impossible.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub enum Gaps {
    /// Report every one and refuse the file.
    #[default]
    Refuse,
    /// Bridge runs of at most this many hours by a straight line between the neighbouring values
    /// (December joins January), take beam at night as 0 and count all of it in the notes; refuse
    /// the file for longer runs.
    Bridge {
        /// Longest run bridged, hours.
        max_hours: f64,
    },
}

/// Start and length of every run of `true`.
pub fn runs(flags: &[bool]) -> Vec<(usize, usize)> {
    let mut found: Vec<(usize, usize)> = Vec::new();
    for (index, _) in flags.iter().enumerate().filter(|(_, flag)| **flag) {
        match found.last_mut() {
            Some((start, length)) if *start + *length == index => *length += 1,
            _ => found.push((index, 1)),
        }
    }
    found
}

/// As [`runs`], a run at the end of the year joining one at its beginning.
pub fn circular_runs(flags: &[bool]) -> Vec<(usize, usize)> {
    let mut found = runs(flags);
    if let (Some(&(0, head)), Some(&(start, tail))) = (found.first(), found.last())
        && found.len() > 1
        && start + tail == flags.len()
    {
        found.pop();
        found[0] = (start, tail + head);
    }
    found
}

/// Fills a run of a circular year with a straight line between its neighbours.
pub fn bridge_run(values: &mut [Option<f64>], start: usize, length: usize) {
    let count = values.len();
    let before = values[(start + count - 1) % count];
    let after = values[(start + length) % count];
    if let (Some(before), Some(after)) = (before, after) {
        for step in 1..=length {
            let share = step as f64 / (length + 1) as f64;
            values[(start + step - 1) % count] = Some(before + share * (after - before));
        }
    }
}
