//! Suns that are looked at beside the nodes, in the lanes which these leave over.

use geometry::{LANES, LaneVec3, Vec3};

use super::{NODES, NodeGrid, SunTable};
use crate::stencil::{DECLINATIONS, HOUR_ANGLES};

/// As many as nodes leave lanes over.
pub const GUESTS: usize = NODES - DECLINATIONS * HOUR_ANGLES;

/// Closer than this, suns are the same one: square of the distance of their unit vectors.
const SAME: f64 = 1e-12;

/// Suns about which something bends too sharply for the nodes to tell, such as flux about that under which mirrors were
/// set. An hour takes over what nodes miss there, the more the nearer its sun stands to one of them than to any node:
/// all of it under that very sun, nothing under a node. Each counts by the inverse square of its distance (Shepard 1968,
/// "A two-dimensional interpolation function for irregularly-spaced data", from memory).
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Guests {
    guests: Vec<Guest>,
}

#[derive(Debug, Clone, PartialEq)]
struct Guest {
    sun: Vec3,
    /// Its place in the table.
    place: usize,
    /// How nodes tell what it sees.
    weight: [f64; NODES],
}

impl Guests {
    /// The first of `suns` (unit vectors) that are high enough for light, at most [`GUESTS`], at places of a table.
    #[must_use]
    pub fn of(table: &SunTable, suns: impl Iterator<Item = Vec3>) -> Self {
        let lowest = libm::sin(table.min_elevation_rad);
        let high = suns.filter(|sun| sun.z >= lowest);
        let guest = |(place, sun): (usize, Vec3)| {
            let mut weight = [0.0; NODES];
            table.grid.lean(sun, 1.0, &mut weight);
            Guest { sun, place, weight }
        };
        Self {
            guests: NodeGrid::left_over().zip(high).map(guest).collect(),
        }
    }

    /// What nodes miss of what has these values in the table, at each guest.
    #[must_use]
    pub fn misses(&self, values: &[f64; NODES]) -> [f64; GUESTS] {
        let mut misses = [0.0; GUESTS];
        for (miss, guest) in misses.iter_mut().zip(&self.guests) {
            let nodes = guest.weight.iter().zip(values);
            let told: f64 = nodes.map(|(weight, value)| weight * value).sum();
            *miss = values[guest.place] - told;
        }
        misses
    }
}

impl SunTable {
    /// The suns of the table with guests among them, eight to a block.
    #[must_use]
    pub fn direction_with(&self, guests: &Guests) -> [LaneVec3; NODES / LANES] {
        let mut blocks = self.direction;
        for guest in &guests.guests {
            let block = &mut blocks[guest.place / LANES];
            for (axis, value) in guest.sun.to_array().into_iter().enumerate() {
                block[axis][guest.place % LANES] = value;
            }
        }
        blocks
    }

    /// What guests add in an hour to the value by nodes alone, as [`SunTable::at_hour`] gives it; 0 when the hour does not
    /// exist.
    #[must_use]
    pub fn by_guests(&self, hour: usize, guests: &Guests, misses: &[f64; GUESTS]) -> f64 {
        let of_hour = self.instants.get(hour).zip(self.to_node.get(hour));
        let instants = of_hour
            .into_iter()
            .flat_map(|(instants, to_node)| instants.iter().zip(to_node));
        let of_instant = instants.map(|(instant, to_node)| {
            let pull = |from: Vec3| 1.0 / (instant.sun - from).length_squared().max(SAME);
            let (mut pulls, mut sum) = (1.0 / to_node.max(SAME), 0.0);
            for (guest, miss) in guests.guests.iter().zip(misses) {
                pulls += pull(guest.sun);
                sum += pull(guest.sun) * miss;
            }
            instant.share * sum / pulls
        });
        of_instant.sum()
    }
}

#[cfg(test)]
mod tests {
    use super::super::tests::{node_directions_of, table};
    use super::*;

    const MIN_ELEVATION_DEG: f64 = 10.0;

    fn values(suns: &[Vec3], value: impl Fn(Vec3) -> f64) -> [f64; NODES] {
        std::array::from_fn(|place| value(suns[place]))
    }

    fn seen(table: &SunTable, guests: &Guests) -> Vec<Vec3> {
        let blocks = table.direction_with(guests);
        let sun = |place: usize| geometry::lane::vector(&blocks[place / LANES], place % LANES);
        (0..NODES).map(sun).collect()
    }

    fn high([x, y]: [f64; 2]) -> Vec3 {
        Vec3::new(x, y, (1.0 - x * x - y * y).sqrt())
    }

    /// Half as high ten degrees off a sun.
    fn sharp(about: Vec3) -> impl Fn(Vec3) -> f64 {
        move |sun| 1.0 / (1.0 + (sun - about).length_squared() / 0.0304)
    }

    /// The year's highest value is up to 19 % too low by nodes alone, and within 9 % with a guest at the peak.
    #[test]
    fn the_highest_shows_where_it_is_sharp() {
        let table = table(37.0, MIN_ELEVATION_DEG);
        let mut off = [0.0_f64; 2];
        for about in [[0.0, -0.6], [0.3, -0.75], [-0.5, -0.1], [-0.2, -0.3]] {
            let about = high(about);
            let guests = Guests::of(&table, [about].into_iter());
            let values = values(&seen(&table, &guests), sharp(about));
            let misses = guests.misses(&values);
            let mut highest = [0.0_f64; 3];
            for (hour, instants) in table.instants.iter().enumerate() {
                let terms = { instants.iter() }.map(|at| at.share * sharp(about)(at.sun));
                let alone = table.at_hour(hour, &values);
                let with = alone + table.by_guests(hour, &guests, &misses);
                for (high, value) in highest.iter_mut().zip([terms.sum(), alone, with]) {
                    *high = high.max(value);
                }
            }
            let [exact, alone, with] = highest;
            println!("{about}: {exact:.3}, alone {alone:.3}, with {with:.3}");
            for (off, told) in off.iter_mut().zip([alone, with]) {
                *off = off.max((told / exact - 1.0).abs());
            }
        }
        assert!(off[0] > 0.15 && off[1] < 0.09, "{off:?}");
    }

    /// What nodes tell rightly is left as it is, wherever guests stand and however many they are.
    #[test]
    fn guests_leave_alone_what_is_smooth() {
        let table = table(37.0, MIN_ELEVATION_DEG);
        let suns = [
            [0.2, -0.5],
            [-0.2, -0.5],
            [0.0, -0.3],
            [0.4, 0.1],
            [0.1, 0.1],
        ];
        let guests = Guests::of(&table, suns.map(high).into_iter());
        assert_eq!(guests.guests.len(), GUESTS);
        let values = values(&seen(&table, &guests), |sun| 3.0 + 0.2 * sun.z);
        for hour in 0..table.instants.len() {
            let added = table.by_guests(hour, &guests, &guests.misses(&values));
            assert!(added.abs() < 1e-3, "{hour}: {added}");
        }
    }

    /// No node gives way, and a sun too low for light is none.
    #[test]
    fn guests_take_places_without_weight() {
        let table = table(37.0, MIN_ELEVATION_DEG);
        let low = Vec3::new(0.995, 0.0, 0.0999).normalize();
        assert_eq!(Guests::of(&table, [low].into_iter()), Guests::default());
        let suns = [high([0.1, -0.5]); GUESTS + 1];
        let guests = Guests::of(&table, suns.into_iter());
        let nodes = node_directions_of(&table);
        for (place, (sun, node)) in seen(&table, &guests).iter().zip(&nodes).enumerate() {
            assert_eq!(sun == node, table.dni_j_m2[place] != 0.0, "{place}");
        }
    }
}
