//! Which of several years stands for all.

use super::WeatherYear;

/// Index of the year whose DNI is nearest to the median of all, the first of equals; none of no
/// years. The median of an even count lies halfway between the two in the middle.
#[must_use]
pub fn middle_year(years: &[WeatherYear]) -> Option<usize> {
    let sums: Vec<f64> = years
        .iter()
        .map(|year| year.dni_w_m2.iter().sum())
        .collect();
    let mut sorted = sums.clone();
    sorted.sort_by(f64::total_cmp);
    let median =
        0.5 * (sorted.get((sums.len().checked_sub(1)?) / 2)? + sorted.get(sums.len() / 2)?);
    let away = |year: &usize| (sums[*year] - median).abs();
    (0..sums.len()).min_by(|one, other| away(one).total_cmp(&away(other)))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn years(sums: &[f64]) -> Vec<WeatherYear> {
        let year = |sum: &f64| WeatherYear {
            utc_offset_h: 0.0,
            year: 2000,
            dni_w_m2: vec![*sum],
            air_temperature_k: Vec::new(),
            wind_speed_m_s: Vec::new(),
            notes: Vec::new(),
        };
        sums.iter().map(year).collect()
    }

    #[test]
    fn the_year_nearest_to_the_median_stands_for_all() {
        assert_eq!(middle_year(&[]), None);
        assert_eq!(middle_year(&years(&[7.0])), Some(0));
        assert_eq!(middle_year(&years(&[9.0, 1.0, 5.0])), Some(2));
        assert_eq!(middle_year(&years(&[9.0, 4.0, 1.0, 5.0])), Some(1));
    }
}
