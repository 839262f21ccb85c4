//! Rings of strings that lie along rays from the tower.

use std::f64::consts::{PI, TAU};

use crate::layout::Spot;
use crate::site::Site;
use crate::string_field::StringField;

/// Lays ring after ring; neighbours in a ring stand the row spacing apart at their inner ends, and
/// rings alternate between a string and a gap on the sector's centre line.
pub(crate) fn lay(field: &StringField, spots: &mut Vec<Spot>) {
    let (site, length_m) = (field.site(), longest_m(field));
    let mut inner_end_m = field.inner_radius_m;
    let mut ring = 0_usize;
    while inner_end_m + length_m <= field.outer_radius_m {
        let slot_rad = site.slot_rad(field.spacing_m(inner_end_m), inner_end_m);
        let azimuths = RingAzimuths::new(&site, slot_rad, !ring.is_multiple_of(2));
        spots.extend(azimuths.all().map(|azimuth_rad| Spot {
            azimuth_rad,
            distance_m: inner_end_m + 0.5 * length_m,
            bearing_rad: azimuth_rad,
            seam: None,
            row: ring,
        }));
        inner_end_m += length_m + field.pitch_m + field.end_gap_m + site.lane_behind_m(ring);
        ring += 1;
    }
}

/// Horizontal length of the string that rises least: where the ground falls away from the tower.
fn longest_m(field: &StringField) -> f64 {
    let rise = (libm::tan(field.rail_slope_rad) - field.site().ground_slope()).max(0.0);
    field.string_length_m() / (1.0 + rise * rise).sqrt()
}

/// Evenly spaced azimuths of one ring.
pub(crate) struct RingAzimuths {
    first_rad: f64,
    step_rad: f64,
    count: usize,
}

impl RingAzimuths {
    /// As many slots as the sector holds, one of them on its centre line unless the ring is shifted
    /// by half a slot.
    pub fn new(site: &Site, slot_rad: f64, is_shifted: bool) -> Self {
        let shift = if is_shifted { 0.5 } else { 0.0 };
        let centre_rad = site.sector_centre_azimuth_rad;
        if site.sector_half_rad >= PI {
            return Self {
                first_rad: centre_rad + shift * slot_rad,
                step_rad: slot_rad,
                count: (TAU / slot_rad).round() as usize,
            };
        }
        let edge_rad = site.sector_half_rad.min(PI - 0.5 * slot_rad);
        let each_side = (edge_rad / slot_rad - shift).floor();
        let first = shift + each_side;
        Self {
            first_rad: centre_rad - first * slot_rad,
            step_rad: slot_rad,
            count: (2.0 * first + 1.0).max(0.0) as usize,
        }
    }

    /// Clockwise.
    pub fn all(self) -> impl Iterator<Item = f64> {
        (0..self.count).map(move |index| self.first_rad + index as f64 * self.step_rad)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::layout::tests::steam_field;

    #[test]
    fn rings_are_symmetric_about_the_centre_line() {
        let mut field = steam_field();
        field.sector_centre_azimuth_rad = 0.4;
        for ring in 0..4 {
            let (site, is_shifted) = (field.site(), ring % 2 == 1);
            let slot_rad = site.slot_rad(field.row_spacing_m, 33.0);
            let azimuths = RingAzimuths::new(&site, slot_rad, is_shifted).all();
            let azimuths: Vec<f64> = azimuths.collect();
            let mean_rad = azimuths.iter().sum::<f64>() / azimuths.len() as f64;
            assert!((mean_rad - 0.4).abs() < 1e-12);
            assert!(
                azimuths
                    .iter()
                    .all(|azimuth_rad| (azimuth_rad - 0.4).abs() <= field.sector_half_rad)
            );
            assert_eq!(azimuths.len() % 2, 1 - ring % 2);
        }
    }

    #[test]
    fn a_full_ring_closes() {
        let mut field = steam_field();
        field.sector_half_rad = PI;
        let slot_rad = field.site().slot_rad(field.row_spacing_m, 33.0);
        let azimuths = RingAzimuths::new(&field.site(), slot_rad, false).all();
        let azimuths: Vec<f64> = azimuths.collect();
        let step_rad = azimuths[1] - azimuths[0];
        assert!((azimuths.len() as f64 * step_rad - TAU).abs() < 1e-12);
        assert!(2.0 * 33.0 * libm::sin(0.5 * step_rad) >= field.row_spacing_m - 1e-9);
    }
}
