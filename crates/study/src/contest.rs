//! Which of some new designs promises the front most.

use crate::front::{Extent, Front, View};
use crate::guess::Outlook;
use crate::hypervolume::hypervolume;
use crate::inquiry::Row;
use crate::outcome::{Key, Objectives};

/// What fronts are measured by, where their best is 0 and their worst 1: so far beyond that their ends count, too.
const REFERENCE: Objectives = [2.0; 3];
/// How much of what was learnt is still held a generation later.
const MEMORY: f64 = 0.9;
/// Every kind is tried again, as if so many of its designs had been kept.
const LEAST_KEPT: f64 = 0.05;

/// A front, and a guess of what new designs add to it.
pub(crate) struct Contest<'a> {
    outlook: &'a Outlook<'a>,
    extent: Extent,
    /// In units of the front's extent: its members, and what was chosen.
    members: Vec<Objectives>,
}

impl<'a> Contest<'a> {
    /// For a place on the front of the rows `on_front`.
    pub(crate) fn of(rows: &[Row], on_front: &[usize], outlook: &'a Outlook<'a>) -> Self {
        let values = on_front
            .iter()
            .filter_map(|row| Some((*row, rows[*row].verdict.objectives()?)));
        let front = Front::of(View::All, values);
        Self {
            outlook,
            extent: front.extent(),
            members: front.unit_values(),
        }
    }

    /// The one of some designs that is guessed to add most, or to lie least behind where none adds anything. It counts as
    /// a member from then on, so that the next are sought elsewhere.
    pub(crate) fn choose(&mut self, bred: Vec<Key>) -> Option<Key> {
        let told = |key: Key| (self.extent.unit(&self.outlook.objectives(&key)), key);
        let told: Vec<(Objectives, Key)> = bred.into_iter().map(told).collect();
        let volume = hypervolume(&self.members, &REFERENCE);
        let promise = |(values, key): &(Objectives, Key)| self.promise(values, key, volume);
        let promise: Vec<f64> = told.iter().map(promise).collect();
        let best =
            (0..told.len()).max_by(|one, other| promise[*one].total_cmp(&promise[*other]))?;
        let (values, key) = told.into_iter().nth(best)?;
        self.members.push(values);
        Some(key)
    }

    /// The chance that a design keeps its limits times what it then adds to the front's volume; if nothing, how far it lies
    /// behind the front, negative, over that chance.
    fn promise(&self, values: &Objectives, key: &Key, volume: f64) -> f64 {
        let chance = self.outlook.chance(key);
        let mut points = self.members.clone();
        points.push(*values);
        let gain = hypervolume(&points, &REFERENCE) - volume;
        if gain > 0.0 {
            chance * gain
        } else {
            self.lead(values).min(0.0) / chance
        }
    }

    /// By how much a design beats every member in something that differs among them.
    fn lead(&self, values: &Objectives) -> f64 {
        let over = |member: &Objectives| {
            let differing = (0..3).filter(|at| self.extent.differs(*at));
            let differences = differing.map(|at| member[at] - values[at]);
            differences.fold(f64::NEG_INFINITY, f64::max)
        };
        let leads = self.members.iter().map(over);
        leads.fold(f64::INFINITY, f64::min)
    }
}

/// How often designs came to the front lately: those that won a contest, and those that were in none.
pub(crate) struct Trust {
    contested: Tally,
    others: Tally,
}

#[derive(Clone, Copy)]
struct Tally {
    asked: f64,
    kept: f64,
}

impl Trust {
    /// Both kinds alike.
    pub(crate) const fn new() -> Self {
        let even = Tally {
            asked: 2.0,
            kept: 1.0,
        };
        Self {
            contested: even,
            others: even,
        }
    }

    /// Share of the designs that should win a contest: as often as these come to the front.
    pub(crate) fn share(&self) -> f64 {
        let (contested, others) = (self.contested.rate(), self.others.rate());
        contested / (contested + others)
    }

    /// Takes in a generation: of each design whether it won a contest, and whether it is on the front.
    pub(crate) fn learn(&mut self, told: &[(bool, bool)]) {
        for (is_contested, tally) in [(true, &mut self.contested), (false, &mut self.others)] {
            let of_kind = told.iter().filter(|(kind, _)| *kind == is_contested);
            let kept: Vec<bool> = of_kind.map(|(_, is_kept)| *is_kept).collect();
            tally.add(&kept);
        }
    }
}

impl Tally {
    fn rate(self) -> f64 {
        (self.kept / self.asked).max(LEAST_KEPT)
    }

    fn add(&mut self, kept: &[bool]) {
        if kept.is_empty() {
            return;
        }
        self.asked = MEMORY * self.asked + kept.len() as f64;
        self.kept = MEMORY * self.kept + kept.iter().filter(|is_kept| **is_kept).count() as f64;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::outcome::Verdict;
    use crate::space::Space;
    use crate::toys::{priced, steps};

    /// Cost is the first index, capital the second, and the front lies where their sum is 100, without a middle: what is
    /// short of it wins over what lies behind, then the wide gap over the narrow ones, then what lies least behind.
    #[test]
    fn what_adds_most_is_chosen_once() {
        let space = Space::new(vec![steps(101); 2], vec![0; 2]).unwrap();
        let row = |key: Key| {
            let values = [f64::from(key[0]), f64::from(key[1]), 1.0];
            Row {
                key,
                search: priced(values),
                every: None,
                verdict: Verdict::Feasible(values),
            }
        };
        let on_line = |at: u32| vec![at, 100 - at];
        let firsts = (0..=30).chain(70..=100).step_by(5);
        let rows: Vec<Row> = firsts.map(|at| row(on_line(at))).collect();
        let behind = (0..20).map(|at| row(vec![60 + at, 60 + at]));
        let rows: Vec<Row> = rows.into_iter().chain(behind).collect();
        let front: Vec<usize> = (0..rows.len() - 20).collect();
        let outlook = Outlook::of(&rows, &space).unwrap();
        let mut contest = Contest::of(&rows, &front, &outlook);
        let mut chosen =
            |keys: &[[u32; 2]]| contest.choose(keys.iter().map(|key| key.to_vec()).collect());
        assert_eq!(chosen(&[[80, 60], [12, 88], [50, 50]]), Some(vec![50, 50]));
        assert_eq!(chosen(&[[51, 50], [40, 60], [60, 60]]), Some(vec![40, 60]));
        assert_eq!(chosen(&[[90, 90], [60, 60], [70, 70]]), Some(vec![60, 60]));
        assert_eq!(chosen(&[]), None);
    }

    /// By hand: three of four, against one of eight, on top of one of two each.
    #[test]
    fn who_comes_to_the_front_breeds_more() {
        let mut trust = Trust::new();
        assert_eq!(trust.share(), 0.5);
        let told = [
            vec![(true, true); 3],
            vec![(true, false)],
            vec![(false, true)],
            vec![(false, false); 7],
        ];
        trust.learn(&told.concat());
        let (contested, others) = (3.9 / 5.8, 1.9 / 9.8);
        assert!((trust.share() - contested / (contested + others)).abs() < 1e-12);
        for _ in 0..100 {
            trust.learn(&[(true, false); 5]);
        }
        assert!(trust.share() > 0.1 && trust.share() < 0.25);
    }
}
