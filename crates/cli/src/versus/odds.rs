//! How often each rival is cheapest when all that is uncertain is drawn.

use std::collections::BTreeMap;

use model::Summary;

use super::budget::Reach;
use super::contest::Standing;
use crate::sensitivity::{Input, Setting, price_inputs};

/// Chooses the draws; the same for all rivals.
const SEED: u64 = 1;
/// A search misses about what its second half took off, and at most so many times that in most
/// (tried on the valley of `study`, whose floor is known).
const MOST_LATE_GAINS: f64 = 2.0;

/// An uncertain input of a rival, and which of the drawn shares it takes.
enum Place {
    Shared(usize),
    Own(usize),
}

/// A rival as draws need it.
struct Player<'a> {
    summary: &'a Summary,
    as_is: Setting,
    prices: Vec<(Input, Place)>,
    heat: Vec<(study::Span, Place)>,
    /// Its cost against that found, if it had been searched for longer.
    searched: (study::Span, Place),
}

/// Share of the draws in which each rival is cheapest, its best design held. Prices, money, weather and
/// dust are drawn once for all; what a rival's own mechanism and its contingency turn out to be, and what
/// its search may still gain, for each by itself.
pub fn chances(standings: &[Standing], draws: u32) -> Vec<f64> {
    let mut shared = BTreeMap::new();
    let players: Vec<Player<'_>> = standings
        .iter()
        .map(|standing| Player::of(standing, &mut shared))
        .collect();
    let own = players.iter().map(Player::own).max().unwrap_or(0);
    study::cheapest_shares(
        players.len(),
        shared.len(),
        own,
        draws,
        SEED,
        |rival, common, own| players[rival].cost(common, own),
    )
}

impl<'a> Player<'a> {
    fn of(standing: &'a Standing, shared: &mut BTreeMap<String, usize>) -> Self {
        let mut own = 0;
        let mut place = |name: &str, reach: Reach| match reach {
            Reach::Shared => {
                let next = shared.len();
                Place::Shared(*shared.entry(name.to_owned()).or_insert(next))
            }
            Reach::Own => {
                own += 1;
                Place::Own(own - 1)
            }
        };
        let summary = &standing.priced.summary;
        let prices = price_inputs(&standing.inputs, summary).into_iter();
        let prices = prices.map(|input| {
            let reach = if input.is_unproven() {
                Reach::Own
            } else {
                Reach::Shared
            };
            let place = place(&input.name, reach);
            (input, place)
        });
        let prices = prices.collect();
        let heat = standing.budget.iter();
        let heat = heat.map(|line| (line.heat, place(line.name, line.reach)));
        let heat = heat.collect();
        let further = study::Span {
            low: 1.0 - MOST_LATE_GAINS * standing.late_gain,
            likely: 1.0 - standing.late_gain,
            high: 1.0,
        };
        Self {
            heat,
            searched: (further, place("search", Reach::Own)),
            prices,
            as_is: Setting::of(&standing.inputs),
            summary,
        }
    }

    /// How many shares of its own it takes.
    fn own(&self) -> usize {
        let prices = self.prices.iter().map(|(_, place)| place);
        let heat = self.heat.iter().map(|(_, place)| place);
        let places = prices.chain(heat).chain([&self.searched.1]);
        places
            .filter(|place| matches!(place, Place::Own(_)))
            .count()
    }

    fn cost(&self, common: &[f64], own: &[f64]) -> f64 {
        let share = |place: &Place| match place {
            Place::Shared(at) => common[*at],
            Place::Own(at) => own[*at],
        };
        let mut setting = self.as_is.clone();
        for (input, place) in &self.prices {
            input.set(&mut setting, input.span.at(share(place)));
        }
        for (span, place) in &self.heat {
            setting.heat *= span.at(share(place));
        }
        let (further, place) = &self.searched;
        setting.cost(self.summary) * further.at(share(place))
    }
}
