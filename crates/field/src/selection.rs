//! Keeping the best of the candidates.

use crate::error::FieldError;
use crate::layout::Places;
use crate::plan::Plan;

/// The `count` strings with the best scores, in place order. Of equals the earlier place is kept;
/// a score that is not a number is the worst.
///
/// # Errors
/// [`FieldError::ScoreCount`] unless there is one score for each candidate string,
/// [`FieldError::TooFewPlaces`] if fewer than `count` were laid.
pub fn select(places: &Places, scores: &[f64], count: usize) -> Result<Plan, FieldError> {
    let found = places.plan.strings.len();
    if scores.len() != found {
        return Err(FieldError::ScoreCount {
            scores: scores.len(),
            places: found,
        });
    }
    if count > found {
        return Err(FieldError::TooFewPlaces {
            wanted: count,
            found,
        });
    }
    Ok(take(places, &best_places(scores, count)))
}

/// The plan of some of the candidate strings, in the order given.
#[must_use]
pub fn take(places: &Places, strings: &[usize]) -> Plan {
    let mirrors = places
        .plan
        .strings
        .first()
        .map_or(0, |row| row.mirror_count);
    let mut plan = Plan::with_room_for(strings.len(), mirrors);
    plan.aim_m = places.plan.aim_m;
    for &string in strings {
        plan.push_string_of(&places.plan, string);
    }
    plan
}

/// Indices of the `count` best scores (of all, if there are fewer), ascending. Of equals the
/// earlier is kept; a score that is not a number is the worst.
#[must_use]
pub fn best_places(scores: &[f64], count: usize) -> Vec<usize> {
    let worth = |index: usize| {
        if scores[index].is_nan() {
            f64::NEG_INFINITY
        } else {
            scores[index]
        }
    };
    let mut order: Vec<usize> = (0..scores.len()).collect();
    order
        .sort_unstable_by(|&one, &other| worth(other).total_cmp(&worth(one)).then(one.cmp(&other)));
    order.truncate(count);
    order.sort_unstable();
    order
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::layout::{candidates, tests::steam_field};

    #[test]
    fn the_best_are_kept_in_place_order() {
        assert_eq!(
            best_places(&[1.0, 5.0, f64::NAN, 5.0, 2.0, 5.0], 3),
            [1, 3, 5]
        );
        assert_eq!(best_places(&[1.0, 5.0, f64::NAN, 5.0, 2.0, 5.0], 2), [1, 3]);
        assert_eq!(best_places(&[f64::NAN, -1.0], 1), [1]);
    }

    #[test]
    fn selected_strings_keep_their_mirrors() {
        let places = candidates(&steam_field()).unwrap();
        let found = places.plan.strings.len();
        let scores: Vec<f64> = (0..found)
            .map(|string| (string * 37 % 101) as f64)
            .collect();
        let plan = select(&places, &scores, found / 2)
            .unwrap()
            .checked()
            .unwrap();
        assert_eq!(plan.strings.len(), found / 2);
        let first = best_places(&scores, found / 2)[0];
        let row = &places.plan.strings[first];
        assert_eq!(plan.centre_m(0), places.plan.centre_m(row.first_mirror));
        assert_eq!(select(&places, &scores, found).unwrap(), places.plan);
    }

    #[test]
    fn too_few_places_and_scores_are_told() {
        let places = candidates(&steam_field()).unwrap();
        let found = places.plan.strings.len();
        let scores = vec![1.0; found];
        let wanted = found + 1;
        let too_few = FieldError::TooFewPlaces { wanted, found };
        assert_eq!(select(&places, &scores, wanted), Err(too_few));
        let mismatch = FieldError::ScoreCount {
            scores: found - 1,
            places: found,
        };
        assert_eq!(select(&places, &scores[1..], 1), Err(mismatch));
    }
}
