//! Of which mirrors flux is asked where all are looked at.

use field::{Plan, Stance};
use optics::{LightSums, Speaking, Sunlit};

use super::Look;
use super::sample::GOLDEN;

/// So many mirrors tell the map of flux of any field.
const ENOUGH_WATCHED: usize = 2000;

/// Mirrors whose flux is asked for: as many of every string, since aim points go on from string to string.
/// A share of the strings would not do: of 4,500 mirrors each with a drive and an aim of its own 2,000 told a peak
/// 1.1 to 1.6 % too low.
#[derive(Clone, Copy, Debug)]
pub(super) struct Watch {
    /// Mirrors of each string, at most.
    of_each: usize,
}

impl Watch {
    /// All that is looked at.
    pub const ALL: Self = Self {
        of_each: usize::MAX,
    };

    /// As many as are enough where all are looked at.
    pub fn enough(plan: &Plan) -> Self {
        Self {
            of_each: ENOUGH_WATCHED.div_ceil(plan.strings.len().max(1)),
        }
    }

    /// Adds the light of what is looked at, and the flux of what is watched of it.
    pub fn add_light(
        self,
        look: &Look,
        stance: &Stance,
        sunlit: &mut Sunlit,
        sums: &mut LightSums,
    ) {
        let (times, mirrors) = (look.times, look.places.len());
        let speaking = Speaking {
            times,
            flux_times: &|index| times * self.stands_for(look.string, mirrors, index),
            others_m: &look.others_m,
        };
        let places = look.places.iter().copied();
        sunlit.add_light_for(look.string, places, &speaking, stance, sums);
    }

    /// For how many mirrors the flux of one stands, by its place among so many that are looked at of a string: for none
    /// if it is not watched. Places go on from string to string by the golden ratio.
    fn stands_for(self, string: usize, mirrors: usize, place: usize) -> f64 {
        if self.of_each >= mirrors {
            return 1.0;
        }
        let turn = (0.5 + GOLDEN * string as f64).fract();
        let (place, stretch) = (place as f64, mirrors as f64 / self.of_each as f64);
        let next = ((place / stretch - turn).ceil() + turn) * stretch;
        if next < place + 1.0 { stretch } else { 0.0 }
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Hoods, whole_field};
    use super::*;
    use crate::case::Case;
    use crate::evaluate::Scratch;
    use crate::inputs::tests::{demo, design};
    use crate::lay::lay;
    use crate::margins::Margins;

    /// Every string has as many places watched, which stand for all of it.
    #[test]
    fn watched_places_stand_for_their_string() {
        for (places, mirrors) in [(1, 10), (2, 10), (7, 15), (3, 7), (9, 9), (12, 5)] {
            for string in 0..1000 {
                let times = (0..mirrors)
                    .map(|place| Watch { of_each: places }.stands_for(string, mirrors, place));
                let watched: Vec<f64> = times.filter(|times| *times > 0.0).collect();
                assert_eq!(
                    watched.len(),
                    places.min(mirrors),
                    "{places} {mirrors} {string}"
                );
                let all: f64 = watched.iter().sum();
                assert!((all / mirrors as f64 - 1.0).abs() < 1e-12);
            }
        }
    }

    /// Peaks of 4,500 and of 6,000 mirrors under suns of mornings and afternoons, told by some 2,000 of them.
    #[test]
    fn some_mirrors_tell_the_peak_of_all() {
        let far = [("field.outer_radius", "5"), ("tower.aim_height", "60 m")];
        for (count, mirrors) in [("300", "15"), ("600", "10")] {
            let strings = [("strings.count", count), ("strings.mirrors", mirrors)];
            let off = worst_off(&demo(&[strings, far].concat()));
            assert!(off < 0.01, "{off}");
        }
    }

    fn worst_off(case: &Case) -> f64 {
        let (margins, scratch) = (&mut Margins::unknown(), &mut Scratch::default());
        let stood = lay(case, &design(case), margins, scratch).unwrap();
        let field = stood.site.field();
        let around = field.surroundings(case.sun.min_elevation_rad);
        let (hoods, watched) = (Hoods::new(&field, &around), field.watched());
        let mut worst: f64 = 0.0;
        for suns in [&case.sun.direction[1], &case.sun.direction[6]] {
            let peaks = [Watch::ALL, Watch::enough(field.plan)]
                .map(|watch| whole_field(&field, &hoods, suns, watched, watch).peak_suns());
            for (all, some) in peaks[0].iter().zip(peaks[1]) {
                println!("all {all:.1}, some {:+.2} %", 100.0 * (some / all - 1.0));
                worst = worst.max((some / all - 1.0).abs());
            }
        }
        worst
    }
}
