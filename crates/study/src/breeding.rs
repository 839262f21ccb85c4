//! New designs from old ones: from the cheapest, and from those on the front.

use std::collections::BTreeSet;

use rand::Rng;

use crate::cohort::{self, Cohort};
use crate::contest::{Contest, Trust};
use crate::crowd::Crowd;
use crate::guess::Outlook;
use crate::inquiry::{Halt, Inquiry};
use crate::nearest::nearest;
use crate::outcome::{Evaluator, Key, Pricing};
use crate::random::Random;
use crate::space::{AxisKind, Space};

/// Designs of one generation, and those among them that come from the cohort of the cheapest.
const GENERATION: usize = 32;
const OF_COHORT: usize = 20;
/// The same where the cohort made nothing better the last time.
const OF_COHORT_AT_REST: usize = 2;
/// Tries for one new design before a generation is given up as complete.
const TRIES: usize = 40;
/// New designs of which the last is asked for although the nearest known one breaks a limit.
const DOUBTED: usize = 6;
/// New designs of which a contest chooses one.
const CONTESTANTS: usize = 12;
/// Share of the front's children that are made from a difference of two others.
const DIFFERED: f64 = 0.1;
/// How close crossed children stay to their parents, and how short steps are: the exponents of the
/// distributions. Longer steps miss round fronts, shorter ones stay in dips.
const CROSSED_CLOSENESS: f64 = 20.0;
const STEP_CLOSENESS: f64 = 25.0;

/// Breeds until only `kept` of the room is left (gives true), or until no new
/// design can be bred (gives false).
pub(crate) fn breed<E: Evaluator, P: Pricing>(
    inquiry: &mut Inquiry<'_, E, P>,
    kept: usize,
    space: &Space,
    random: &mut Random,
) -> Result<bool, Halt> {
    let mut crowd = Crowd::default();
    crowd.take_in(inquiry.rows(), 0..inquiry.rows().len());
    let mut trust = Trust::new();
    let mut cohort = Cohort::of(space, inquiry.rows());
    while inquiry.room() > kept {
        let size = GENERATION.min(inquiry.room() - kept);
        let mut met = BTreeSet::new();
        let outlook = Outlook::of(inquiry.rows(), space);
        let outlook = outlook.as_ref();
        let mut of_cohort = cohort_children(&mut cohort, size, space, outlook, random);
        of_cohort.retain(|child| !inquiry.has_asked(&child.key) && met.insert(child.key.clone()));
        let parents = Parents {
            inquiry,
            crowd: &crowd,
            space,
            outlook,
        };
        let of_front = parents.children(size, trust.share(), &mut met, random);
        if of_cohort.is_empty() && of_front.is_empty() {
            return Ok(false);
        }
        let mut keys: Vec<Key> = of_cohort.iter().map(|child| child.key.clone()).collect();
        keys.extend(of_front.iter().map(|child| child.key.clone()));
        let first = inquiry.rows().len();
        let first_of_front = first + of_cohort.len();
        let verdicts = inquiry.ask(&keys)?;
        cohort.select(of_cohort, &verdicts);
        crowd.take_in(inquiry.rows(), first..inquiry.rows().len());
        let front = crowd.front();
        let told = (first_of_front..).zip(&of_front);
        let told = told.map(|(row, child)| (child.is_contested, front.contains(&row)));
        trust.learn(&told.collect::<Vec<_>>());
    }
    Ok(true)
}

/// The cohort's part of a generation of `size`: less where it made nothing better the last time.
fn cohort_children(
    cohort: &mut Cohort,
    size: usize,
    space: &Space,
    outlook: Option<&Outlook>,
    random: &mut Random,
) -> Vec<cohort::Child> {
    if space.movable().is_empty() {
        return Vec::new();
    }
    let part = if cohort.is_at_rest() {
        OF_COHORT_AT_REST
    } else {
        OF_COHORT
    };
    cohort.children(part.min(size), space, outlook, random)
}

/// A new design from the front.
struct Child {
    key: Key,
    /// Whether it won a contest.
    is_contested: bool,
}

/// What the front's children are bred from, and what they are held against.
struct Parents<'a, 'q, E, P> {
    inquiry: &'a Inquiry<'q, E, P>,
    crowd: &'a Crowd,
    space: &'a Space,
    outlook: Option<&'a Outlook<'a>>,
}

impl<E: Evaluator, P: Pricing> Parents<'_, '_, E, P> {
    /// New designs, as many as bring those met to `size`, about a `share` of which won a contest.
    fn children(
        &self,
        size: usize,
        share: f64,
        met: &mut BTreeSet<Key>,
        random: &mut Random,
    ) -> Vec<Child> {
        let (rows, front) = (self.inquiry.rows(), self.crowd.front());
        let contest = |outlook| Contest::of(rows, &front, outlook);
        let mut contest = self.outlook.map(contest);
        let mut children = Vec::new();
        for _ in met.len()..size {
            let contest = contest.as_mut().filter(|_| random.random_bool(share));
            let is_contested = contest.is_some();
            let bred = match contest {
                Some(contest) => {
                    let bred = (0..CONTESTANTS).filter_map(|_| self.fresh(met, random));
                    contest.choose(bred.collect())
                }
                None => self.fresh(met, random),
            };
            if let Some(key) = bred {
                met.insert(key.clone());
                children.push(Child { key, is_contested });
            }
        }
        children
    }

    /// One that was not met; if a few tries find it, one whose nearest known design breaks no limit of its own.
    fn fresh(&self, met: &BTreeSet<Key>, random: &mut Random) -> Option<Key> {
        let fresh = (0..TRIES)
            .map(|_| child(self.crowd, self.space, random))
            .filter(|child| !self.inquiry.has_asked(child) && !met.contains(child));
        let mut last = None;
        for child in fresh.take(DOUBTED) {
            let near = nearest(self.inquiry.rows(), self.space, &child);
            let is_doubted = near.is_some_and(|row| row.verdict.breaks_a_limit());
            last = Some(child);
            if !is_doubted {
                break;
            }
        }
        last
    }
}

/// A parent, on about half of the axes crossed with another or moved along a difference, and on about
/// one axis by a step.
fn child(crowd: &Crowd, space: &Space, random: &mut Random) -> Key {
    let mut key = crowd.chosen(random).clone();
    let mix = Mix::of(crowd, random);
    let step_chance = 1.0 / space.movable().len().max(1) as f64;
    for &axis in space.movable() {
        let crosses = random.random_bool(0.5);
        let steps = random.random_bool(step_chance);
        let count = space.axes()[axis].count;
        match space.axes()[axis].kind {
            AxisKind::Choice => {
                if crosses {
                    key[axis] = mix.name(axis);
                }
                if steps {
                    key[axis] = random.random_range(0..count);
                }
            }
            AxisKind::Steps => {
                let mut index = f64::from(key[axis]);
                if crosses {
                    index = mix.crossed(axis, index, random);
                }
                if steps {
                    index += f64::from(count - 1) * any_step(random);
                }
                key[axis] = index.round().clamp(0.0, f64::from(count - 1)) as u32;
            }
        }
    }
    key
}

/// What a parent is mixed with.
enum Mix<'a> {
    /// Another parent.
    Crossed(&'a Key),
    /// So much of the way from one to another (Storn and Price 1997).
    Differed(f64, &'a Key, &'a Key),
}

impl<'a> Mix<'a> {
    fn of(crowd: &'a Crowd, random: &mut Random) -> Self {
        if random.random_bool(DIFFERED) {
            let stretch = random.random_range(0.3..0.9);
            Self::Differed(stretch, crowd.any(random), crowd.any(random))
        } else {
            Self::Crossed(crowd.chosen(random))
        }
    }

    fn name(&self, axis: usize) -> u32 {
        match self {
            Self::Crossed(other) | Self::Differed(_, _, other) => other[axis],
        }
    }

    fn crossed(&self, axis: usize, index: f64, random: &mut Random) -> f64 {
        match self {
            Self::Crossed(other) => bred_between(index, f64::from(other[axis]), random),
            Self::Differed(stretch, from, to) => {
                index + stretch * (f64::from(to[axis]) - f64::from(from[axis]))
            }
        }
    }
}

/// Near one of two indices, the nearer the closer they are ("simulated binary crossover", Deb and
/// Agrawal 1995).
fn bred_between(one: f64, other: f64, random: &mut Random) -> f64 {
    let share: f64 = random.random();
    let part = if share < 0.5 {
        2.0 * share
    } else {
        0.5 / (1.0 - share)
    };
    let apart = libm::pow(part, 1.0 / (CROSSED_CLOSENESS + 1.0));
    let side = if random.random_bool(0.5) { 0.5 } else { -0.5 };
    f64::midpoint(one, other) + side * apart * (other - one)
}

/// A step of up to the whole axis, mostly short, as a share of it ("polynomial mutation", Deb and
/// Goyal 1996).
fn any_step(random: &mut Random) -> f64 {
    let share = random.random_range(-1.0..1.0_f64);
    let length = 1.0 - libm::pow(1.0 - share.abs(), 1.0 / (STEP_CLOSENESS + 1.0));
    length.copysign(share)
}
