//! Prices at which another rival becomes the cheaper one of two.

use ledger::Item;

use super::contest::Standing;
use crate::sensitivity::Setting;

/// Lowest and highest price looked at, as a multiple of today's.
const REACH: (f64, f64) = (0.05, 20.0);

/// A price that is looked at: items that grow dearer together.
pub struct Price {
    /// Its name.
    pub name: &'static str,
    /// The items, the one first whose price is told; those that take the rate of one of them grow with it.
    named: &'static [Item],
}

impl Price {
    /// Today's price of its first item.
    pub fn now(&self, of: &Standing) -> f64 {
        let rates = &of.inputs.scenario.rates;
        self.named
            .first()
            .map_or(f64::NAN, |item| rates.get(*item).value)
    }

    /// What its first item is counted in.
    pub fn unit(&self) -> &'static str {
        self.named.first().map_or("", |item| item.unit())
    }

    /// All that grows dearer.
    fn items(&self) -> impl Iterator<Item = Item> {
        let grows = |item: &Item| {
            let common = item.common().unwrap_or(*item);
            self.named.contains(item) || self.named.contains(&common)
        };
        Item::ALL.iter().copied().filter(grows)
    }
}

/// The prices looked at.
pub const PRICES: [Price; 4] = [
    Price {
        name: "steel",
        named: &[Item::Steel],
    },
    Price {
        name: "glass",
        named: &[Item::Glass],
    },
    Price {
        name: "drives",
        named: &[
            Item::DriveUnit,
            Item::DriveGear,
            Item::SpareDrive,
            Item::DriveReplacement,
        ],
    },
    Price {
        name: "controls",
        named: &[Item::Controller],
    },
];

/// Where the first rival and another cost the same.
pub struct Crossing {
    /// The price, a place in [`PRICES`].
    pub price: usize,
    /// The other rival, a place among the standings.
    pub rival: usize,
    /// The nearest prices below and above today's, as multiples of it; nothing where none is in reach.
    pub times: [Option<f64>; 2],
}

/// Every price against every rival but the first, each taking its cheapest confirmed design again at
/// every price. Only prices are reckoned anew.
pub fn crossings(standings: &[Standing]) -> Vec<Crossing> {
    let Some((first, others)) = standings.split_first() else {
        return Vec::new();
    };
    let mut found = Vec::new();
    for (price, looked_at) in PRICES.iter().enumerate() {
        let items: Vec<Item> = looked_at.items().collect();
        for (rival, other) in others.iter().enumerate() {
            let difference =
                |times| cheapest(other, &items, times) - cheapest(first, &items, times);
            let (low, high) = REACH;
            found.push(Crossing {
                price,
                rival: rival + 1,
                times: [
                    study::crossover(low, 1.0, difference),
                    study::crossover(1.0, high, difference),
                ],
            });
        }
    }
    found
}

/// Cost of the confirmed design that is cheapest with these items at so many times their price.
fn cheapest(of: &Standing, items: &[Item], times: f64) -> f64 {
    let as_is = Setting::of(&of.inputs);
    let mut setting = as_is.clone();
    for item in items {
        setting.set_rate(*item, as_is.rates.get(*item).value * times);
    }
    let costs = of.confirmed.iter().map(|summary| setting.cost(summary));
    costs.fold(setting.cost(&of.priced.summary), f64::min)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Steel under the mirrors is one price, be it in strings or in heliostats.
    #[test]
    fn all_steel_under_the_mirrors_grows_dearer_together() {
        let [steel, .., controls] = &PRICES;
        let items: Vec<Item> = steel.items().collect();
        for item in [
            Item::RailSteel,
            Item::FrameSteel,
            Item::TrussSteel,
            Item::TubeSteel,
        ] {
            assert!(items.contains(&item), "{}", item.key());
        }
        assert!(!items.contains(&Item::TowerSteel));
        assert_eq!(controls.items().collect::<Vec<_>>(), [Item::Controller]);
    }
}
