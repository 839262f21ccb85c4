//! The same problem searched by ours and by an evolutionary library, each asking the same oracle.

use std::io::{BufRead, BufReader, Write};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::sync::atomic::AtomicBool;

use serde_json::json;
use study::{
    Evaluator, Key, Objectives, Oracle, Pricing, SEARCH, Settings, Space, Verdict, hypervolume,
    search,
};

/// An algorithm of the library, and how many members live in a generation.
pub type Rival = (&'static str, u32);

/// What is searched, and what its fronts are measured by.
pub struct Match<'a, E, P> {
    pub space: &'a Space,
    pub evaluator: &'a E,
    pub pricing: &'a P,
    /// Whether the library is told the start of ours.
    pub knows_start: bool,
    /// How many of the three objectives count; the others are constant.
    pub objectives: usize,
    /// Worse than all that counts.
    pub reference: Objectives,
    /// Different designs each may ask for.
    pub total: u32,
}

impl<E: Evaluator, P: Pricing> Match<'_, E, P> {
    /// Volume that all designs asked for by our search beat.
    pub fn ours(&self, seed: u64) -> f64 {
        let settings = Settings {
            seed,
            total: self.total,
            front_size: 1,
        };
        let found = search(
            self.space,
            &settings,
            Oracle::new(self.evaluator),
            self.pricing,
            &AtomicBool::new(false),
            &mut |_| {},
        );
        let rows = found.expect("no journal, no fault").rows;
        let verdicts = rows
            .iter()
            .map(|row| Verdict::of(&row.search, self.pricing));
        self.volume(verdicts)
    }

    /// The same of an algorithm of the library.
    pub fn theirs(&self, python: &Path, rival: Rival, seed: u64) -> f64 {
        let mut child = self.library(python, rival, seed);
        let lines = BufReader::new(child.stdout.take().expect("a pipe")).lines();
        let mut answers = child.stdin.take().expect("a pipe");
        let mut oracle = Oracle::new(self.evaluator);
        let mut verdicts = Vec::new();
        for line in lines {
            let line = line.expect("the library speaks on");
            let keys: Vec<Key> = serde_json::from_str(&line).expect("designs");
            let outcomes = oracle.ask(&keys, SEARCH).expect("no journal, no fault");
            let judged: Vec<Verdict> = outcomes
                .iter()
                .map(|outcome| Verdict::of(outcome, self.pricing))
                .collect();
            let mut worth: Vec<Vec<f64>> =
                judged.iter().map(|verdict| self.worth(*verdict)).collect();
            verdicts.extend(judged);
            if oracle.counts().evaluated >= u64::from(self.total) {
                worth.clear();
            }
            writeln!(answers, "{}", json!(worth)).expect("the library listens");
        }
        assert!(child.wait().expect("it ends").success());
        self.volume(verdicts.into_iter())
    }

    fn library(&self, python: &Path, (algorithm, members): Rival, seed: u64) -> Child {
        let counts: Vec<u32> = self.space.axes().iter().map(|axis| axis.count).collect();
        let asked = json!({
            "counts": counts,
            "start": self.knows_start.then_some(self.space.start()),
            "objectives": self.objectives,
            "algorithm": algorithm,
            "members": members,
            "seed": seed,
        });
        Command::new(python)
            .arg(Path::new(env!("CARGO_MANIFEST_DIR")).join("study/library.py"))
            .arg(asked.to_string())
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .expect("Python starts")
    }

    /// Objectives, then the violation, as the library takes them.
    fn worth(&self, verdict: Verdict) -> Vec<f64> {
        let mut worth = vec![0.0; self.objectives + 1];
        match verdict {
            Verdict::Feasible(values) => {
                worth[..self.objectives].copy_from_slice(&values[..self.objectives]);
            }
            Verdict::Infeasible(violation) | Verdict::Short(_, violation) => {
                worth[self.objectives] = 1.0 + violation;
            }
            Verdict::Failed => worth[self.objectives] = 1e9,
        }
        worth
    }

    fn volume(&self, verdicts: impl Iterator<Item = Verdict>) -> f64 {
        let values: Vec<Objectives> = verdicts.filter_map(Verdict::objectives).collect();
        hypervolume(&values, &self.reference)
    }
}

/// The middle one of an odd number of values.
pub fn median(mut values: Vec<f64>) -> f64 {
    values.sort_by(f64::total_cmp);
    values[values.len() / 2]
}
