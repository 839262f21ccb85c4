//! A sun an hour, between which the instants of every hour are read.

use geometry::Vec3;

use super::instants::{INSTANTS, Instant, SunnyYear};
use crate::stencil;

/// Suns that an instant leans on.
const NEAREST: usize = 4;
/// Suns that an hour leans on at most: its instants may lie on either side of one.
const MOST: usize = NEAREST + 1;
/// None stands closer to a rise or set of the sun [h].
const LEAST_STEP_H: f64 = 1.0 / 3.0;
/// Golden ratio less 1: its multiples fall into step with nothing.
const GOLDEN: f64 = 0.618_033_988_749_895;
const DAY_H: f64 = 24.0;
/// Moments no farther apart are the same one [h].
const SAME_H: f64 = 1e-6;

/// The suns of a moment in every hour and of the moments at which the sun passes the lowest elevation: about one for
/// each hour of the day, where the hour's own instants are [`INSTANTS`]. The moment goes on from day to day, or what
/// comes at the same time of many days would always be met alike.
///
/// What light does at an instant is read off the cubic through the four suns nearest in time;
/// [`super::SunTable`] tells how far that is from every minute.
#[derive(Debug, Clone, PartialEq)]
pub struct HourlySuns {
    /// Unit vectors (east, north, up), in the order of time.
    pub suns: Vec<Vec3>,
    /// What each hour leans on; None in one without a high enough sun.
    pub hours: Vec<Option<Lean>>,
}

/// How an hour's value follows from those of successive suns.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lean {
    /// The first of the suns.
    pub first: usize,
    /// Weights of that one and those that follow; together they are the share of the hour's beam that comes while
    /// the sun is high enough.
    weights: [f64; MOST],
}

impl Lean {
    /// On the suns of these times, of an hour that begins at `start_h`.
    fn on(times_h: &[f64], start_h: f64, instants: &[Instant; INSTANTS]) -> Self {
        let near = instants.map(|instant| nearest(times_h, start_h + instant.after_h));
        // Instants follow in time.
        let first = near[0].0;
        let mut weights = [0.0; MOST];
        for (instant, (start, of_nearest)) in instants.iter().zip(near) {
            for (weight, more) in weights[start - first..].iter_mut().zip(of_nearest) {
                *weight += instant.share * more;
            }
        }
        Self { first, weights }
    }

    /// The suns leant on, each with its weight.
    pub fn terms(&self) -> impl Iterator<Item = (usize, f64)> {
        let weights = self.weights.into_iter().enumerate();
        let from_first = weights.map(|(step, weight)| (self.first + step, weight));
        from_first.filter(|(_, weight)| *weight != 0.0)
    }
}

impl HourlySuns {
    /// What each hour leans on whose direct sun, `dni_w_m2`, is not nothing.
    pub fn sunny<'a>(&'a self, dni_w_m2: &'a [f64]) -> impl Iterator<Item = Option<&'a Lean>> {
        let hours = self.hours.iter().zip(dni_w_m2);
        hours.map(|(lean, dni_w_m2)| lean.as_ref().filter(|_| *dni_w_m2 > 0.0))
    }

    /// The suns that these hours lean on, in the order of time.
    #[must_use]
    pub fn wanted(&self, dni_w_m2: &[f64]) -> Vec<usize> {
        let leans = self.sunny(dni_w_m2).flatten();
        let mut wanted: Vec<usize> = leans.flat_map(Lean::terms).map(|(sun, _)| sun).collect();
        wanted.sort_unstable();
        wanted.dedup();
        wanted
    }

    pub(super) fn new(year: &SunnyYear, instants: &[[Instant; INSTANTS]]) -> Self {
        let mut hourly = Self {
            suns: Vec::new(),
            hours: vec![None; instants.len()],
        };
        let mut hour = 0;
        while hour < instants.len() {
            let day = Daylight::from_hour(instants, hour);
            if let Some(day) = &day {
                hourly.add(year, instants, day);
            }
            hour = day.map_or(hour + 1, |day| day.last_hour + 1);
        }
        hourly
    }

    fn add(&mut self, year: &SunnyYear, instants: &[[Instant; INSTANTS]], day: &Daylight) {
        let times_h = day.times_h();
        let hours = day.first_hour..=day.last_hour;
        for (hour, instants) in hours.clone().zip(&instants[hours]) {
            let mut lean = Lean::on(&times_h, hour as f64, instants);
            lean.first += self.suns.len();
            self.hours[hour] = Some(lean);
        }
        self.suns
            .extend(times_h.iter().map(|time_h| year.sun(*time_h)));
    }
}

/// Successive hours with a high enough sun.
struct Daylight {
    first_hour: usize,
    last_hour: usize,
    /// From when to when, since the year began [h].
    span_h: [f64; 2],
}

impl Daylight {
    /// That which begins in an hour.
    fn from_hour(instants: &[[Instant; INSTANTS]], first_hour: usize) -> Option<Self> {
        let [from_h, mut to_h] = Instant::span_h(&instants[first_hour])?;
        let mut last_hour = first_hour;
        while let Some(next_h) = instants.get(last_hour + 1).and_then(Instant::span_h)
            && next_h[0] + 1.0 - to_h < SAME_H
        {
            last_hour += 1;
            to_h = next_h[1];
        }
        Some(Self {
            first_hour,
            last_hour,
            span_h: [first_hour as f64 + from_h, last_hour as f64 + to_h],
        })
    }

    /// Its ends and a moment of every hour between them, but for those close to an end.
    fn times_h(&self) -> Vec<f64> {
        let [from_h, to_h] = self.span_h;
        let after_h = (GOLDEN * (from_h / DAY_H).floor()).fract();
        let moments = (self.first_hour..=self.last_hour).map(|hour| hour as f64 + after_h);
        let inner = from_h + LEAST_STEP_H..=to_h - LEAST_STEP_H;
        let moments = moments.filter(|time_h| inner.contains(time_h));
        std::iter::once(from_h)
            .chain(moments)
            .chain([to_h])
            .collect()
    }
}

/// The first of the four times nearest to one, and the weights of Lagrange's polynomial through them.
fn nearest(times_h: &[f64], time_h: f64) -> (usize, [f64; NEAREST]) {
    let after = times_h.partition_point(|other_h| *other_h <= time_h);
    let used = times_h.len().min(NEAREST);
    let first = after.saturating_sub(NEAREST / 2).min(times_h.len() - used);
    let mut weights = [0.0; NEAREST];
    let near = &times_h[first..first + used];
    for (node, weight) in weights.iter_mut().take(used).enumerate() {
        *weight = stencil::lagrange_weight(near, node, time_h);
    }
    (first, weights)
}
