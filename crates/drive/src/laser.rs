//! Setting mirrors at night by a laser, which does not stand at infinity as the sun does.
//!
//! The drive holds the posture of some sun, and each mirror is turned until the laser's beam comes
//! back from it onto a mark. Seen from the mirrors of a string the laser stands in directions that
//! differ by far more than beams may miss, so every mirror has a mark of its own.

use geometry::Vec3;

use crate::reflection::{angle_between_rad, normal_between, reflected};

/// Unit vector along which a laser that stands at `laser_m` comes back from a mirror whose centre is
/// `centre_m` and which is to send a sun (unit vector `alignment_sun`) along `target`: its mark lies
/// on that line. With the laser far away in the sun's direction it is `target` itself.
#[must_use]
pub fn laser_return(laser_m: Vec3, centre_m: Vec3, alignment_sun: Vec3, target: Vec3) -> Vec3 {
    let normal = normal_between(alignment_sun, target);
    reflected((laser_m - centre_m).normalize(), normal)
}

/// What it costs to forget parallax: the turn of the normal [rad] by which a mirror at `centre_m` is
/// set wrong when its laser is taken to stand in the direction in which a mirror at `reference_m`
/// sees it, half of what those directions differ by.
#[must_use]
pub fn parallax_rad(laser_m: Vec3, centre_m: Vec3, reference_m: Vec3) -> f64 {
    0.5 * angle_between_rad(
        (laser_m - centre_m).normalize(),
        (laser_m - reference_m).normalize(),
    )
}

/// Turn of the normal [rad] that an error in the places of laser and mark, `survey_m` each in one
/// direction, leaves at a mirror that is `distance_m` away from both: half of each, together.
#[must_use]
pub fn survey_error_rad(survey_m: f64, distance_m: f64) -> f64 {
    std::f64::consts::FRAC_1_SQRT_2 * survey_m / distance_m
}

#[cfg(test)]
mod tests {
    use super::*;

    const TOWER_M: Vec3 = Vec3::new(0.0, 0.0, 40.0);

    #[test]
    fn a_laser_far_away_is_a_sun() {
        let (sun, centre_m) = (
            Vec3::new(0.2, -0.6, 0.7).normalize(),
            Vec3::new(10.0, 60.0, 1.0),
        );
        let target = (TOWER_M - centre_m).normalize();
        let back = laser_return(centre_m + sun * 1e9, centre_m, sun, target);
        assert!((back - target).length() < 1e-8);
    }

    /// Laser and mark change places: light goes both ways.
    #[test]
    fn a_laser_on_the_mark_comes_back_to_where_it_stood() {
        let (sun, centre_m) = (
            Vec3::new(-0.3, -0.5, 0.8).normalize(),
            Vec3::new(-20.0, 50.0, 1.0),
        );
        let target = (TOWER_M - centre_m).normalize();
        let laser_m = Vec3::new(1.5, 0.0, 38.0);
        let back = laser_return(laser_m, centre_m, sun, target);
        let again = laser_return(centre_m + back * 60.0, centre_m, sun, target);
        assert!((again - (laser_m - centre_m).normalize()).length() < 1e-14);
    }

    /// A mirror 5 m off the reference, square to the laser's beam 50 m away: atan(5/50)/2.
    #[test]
    fn forgotten_parallax_is_half_the_angle_between_the_mirrors() {
        let laser_m = Vec3::new(0.0, 0.0, 50.0);
        let off_rad = parallax_rad(laser_m, Vec3::new(5.0, 0.0, 0.0), Vec3::ZERO);
        assert!((off_rad - 0.5 * libm::atan(0.1)).abs() < 1e-15);
    }

    /// A mark 5 mm off at 50 m turns the beam by 0.1 mrad and the normal by half of that, and so does
    /// the laser: 0.0707 mrad together.
    #[test]
    fn marks_are_surveyed_well_enough() {
        assert!((survey_error_rad(5e-3, 50.0) - 70.7e-6).abs() < 0.1e-6);
    }
}
