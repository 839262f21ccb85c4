//! Progress of a search on stderr: a bar on a terminal, ever rarer lines elsewhere.

use std::io::{IsTerminal, stderr};
use std::time::Duration;

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};
use report::figures;
use study::{Counts, Event, Stage};

use crate::clock::Watch;
use crate::output;

/// Drawings of the bar a second, at most.
const DRAWN_HZ: u8 = 4;
/// The first line comes after so long, each further one after twice the time of the one before …
const FIRST_LINE: Duration = Duration::from_secs(5);
/// … but at least this often.
const LONGEST_WAIT: Duration = Duration::from_secs(600);

/// Tells how a search goes.
pub struct Progress {
    currency: String,
    watch: Watch,
    shown: Shown,
    counts: Counts,
}

enum Shown {
    Bar(ProgressBar),
    Lines { next: Duration },
}

impl Progress {
    /// Progress towards `total` designs.
    pub fn new(total: u32, currency: &str) -> Self {
        let shown = if stderr().is_terminal() {
            Shown::Bar(bar(u64::from(total)))
        } else {
            Shown::Lines { next: FIRST_LINE }
        };
        Self {
            currency: currency.to_owned(),
            watch: Watch::start(),
            shown,
            counts: Counts::default(),
        }
    }

    /// Takes in what has happened.
    pub fn tell(&mut self, event: &Event) {
        let Event::Batch {
            stage,
            asked,
            total,
            counts,
            failed,
            best_cost,
        } = event
        else {
            return;
        };
        self.counts = *counts;
        let elapsed = self.watch.elapsed();
        let pace = Pace {
            elapsed,
            evaluated: counts.evaluated,
            left: total - asked,
        };
        let news = format!(
            "{}, {pace}, {}{}",
            cost(*best_cost, &self.currency),
            stage_name(*stage),
            failures(*failed)
        );
        match &mut self.shown {
            Shown::Bar(bar) => {
                bar.set_position(*asked);
                bar.set_message(news);
            }
            Shown::Lines { next } => {
                if elapsed >= *next {
                    *next = elapsed + elapsed.min(LONGEST_WAIT);
                    let asked = figures::grouped(*asked as f64, 0);
                    let total = figures::grouped(*total as f64, 0);
                    output::say(&format!("{asked} of {total} designs: {news}"));
                }
            }
        }
    }

    /// Takes the bar away and tells the sum of it.
    pub fn finish(self) {
        let Counts {
            evaluated,
            remembered,
        } = self.counts;
        if let Shown::Bar(bar) = &self.shown {
            bar.finish_and_clear();
        }
        let seconds = self.watch.elapsed().as_secs_f64();
        let kept = if remembered > 0 {
            format!(
                ", {} kept from before",
                figures::grouped(remembered as f64, 0)
            )
        } else {
            String::new()
        };
        output::say(&format!(
            "{} in {seconds:.1} s ({:.1} a second){kept}",
            figures::counted(evaluated as usize, "evaluation"),
            evaluated as f64 / seconds.max(1e-9),
        ));
    }
}

fn bar(total: u64) -> ProgressBar {
    let bar =
        ProgressBar::with_draw_target(Some(total), ProgressDrawTarget::stderr_with_hz(DRAWN_HZ));
    // The template is fixed and known to be sound; without it the bar has its plain look.
    if let Ok(style) = ProgressStyle::with_template("{bar:12} {pos}/{len} {wide_msg}") {
        bar.set_style(style.progress_chars("=> "));
    }
    bar
}

fn cost(best: Option<f64>, currency: &str) -> String {
    best.map_or_else(
        || "nothing feasible yet".to_owned(),
        |cost| format!("best {} {currency}/kWh", figures::significant(cost, 3)),
    )
}

/// How many could not be evaluated; empty if all could.
fn failures(failed: u64) -> String {
    match failed {
        0 => String::new(),
        _ => format!(", {} failed", figures::grouped(failed as f64, 0)),
    }
}

const fn stage_name(stage: Stage) -> &'static str {
    match stage {
        Stage::Scatter => "scatter",
        Stage::Breeding => "breeding",
        Stage::Polish => "polish",
        Stage::Confirmation => "front",
    }
}

/// How fast it goes and how long it will take.
struct Pace {
    elapsed: Duration,
    evaluated: u64,
    left: u64,
}

impl std::fmt::Display for Pace {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let rate = self.evaluated as f64 / self.elapsed.as_secs_f64().max(1e-9);
        if self.evaluated == 0 {
            return write!(out, "reading what is kept");
        }
        let left_s = (self.left as f64 / rate).ceil() as u64;
        let left = match (left_s / 3600, left_s / 60 % 60, left_s % 60) {
            (0, 0, seconds) => format!("{seconds} s"),
            (0, minutes, seconds) => format!("{minutes} min {seconds} s"),
            (hours, minutes, _) => format!("{hours} h {minutes} min"),
        };
        write!(out, "{}/s, {left} left", figures::significant(rate, 2))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn pace(seconds: u64, evaluated: u64, left: u64) -> String {
        let elapsed = Duration::from_secs(seconds);
        Pace {
            elapsed,
            evaluated,
            left,
        }
        .to_string()
    }

    #[test]
    fn time_left_follows_from_the_rate() {
        assert_eq!(pace(10, 200, 400), "20/s, 20 s left");
        assert_eq!(pace(10, 100, 900), "10/s, 1 min 30 s left");
        assert_eq!(pace(60, 60, 7300), "1.0/s, 2 h 1 min left");
        assert_eq!(pace(1, 0, 400), "reading what is kept");
    }

    #[test]
    fn failures_are_told_once_there_are_some() {
        assert_eq!(failures(0), "");
        assert_eq!(failures(1_234), ", 1,234 failed");
    }
}
