//! The residuals of twelve strings from an independent calculation, to five decimals.

use book::Check;
use field::FirstAxis;
use field::FirstAxis::{Across, Along, Polar, Vertical};

use super::{Place, exact_mechanism, one_string, sun_at};
use crate::Drives;

/// Latitude [deg], place, first axis, alignment sun and sun as azimuth and elevation [deg], then
/// the beam error of the first mirror, the last one and the rms over the string [mrad].
type Row = (f64, Place, FirstAxis, [f64; 2], [f64; 2], [f64; 3]);

const fn place(polar: [f64; 3], mirrors: usize, lengths_m: [f64; 3]) -> Place {
    Place {
        azimuth_deg: polar[0],
        distance_m: polar[1],
        bearing_deg: polar[2],
        mirrors,
        pitch_m: lengths_m[0],
        height_m: lengths_m[1],
        aim_m: lengths_m[2],
    }
}

// Independent calculation.
#[rustfmt::skip]
const ROWS: [Row; 12] = [
    (35.0, place([0.0, 60.0, 0.0], 9, [0.9, 1.2, 30.0]), Across, [180.0, 55.0], [110.0, 25.0], [3.77487, 3.5597, 2.36754]),
    (35.0, place([0.0, 60.0, 0.0], 9, [0.9, 1.2, 30.0]), Along, [180.0, 55.0], [110.0, 25.0], [17.12719, 15.68056, 10.59162]),
    (35.0, place([0.0, 60.0, 0.0], 9, [0.9, 1.2, 30.0]), Vertical, [180.0, 55.0], [110.0, 25.0], [7.71027, 6.77446, 4.67755]),
    (35.0, place([0.0, 60.0, 0.0], 9, [0.9, 1.2, 30.0]), Polar, [180.0, 55.0], [110.0, 25.0], [7.12277, 6.66686, 4.45166]),
    (35.0, place([0.0, 60.0, 0.0], 9, [0.9, 1.2, 30.0]), Across, [180.0, 55.0], [180.0, 31.0], [0.0, 0.0, 0.0]),
    (35.0, place([45.0, 90.0, 45.0], 15, [0.9, 1.5, 40.0]), Across, [180.0, 55.0], [245.0, 20.0], [1.92372, 1.96187, 1.20097]),
    (35.0, place([45.0, 90.0, 135.0], 15, [0.9, 1.5, 40.0]), Along, [180.0, 55.0], [245.0, 20.0], [3.83571, 3.94756, 2.38872]),
    (35.0, place([90.0, 120.0, 0.0], 11, [1.2, 1.5, 40.0]), Across, [180.0, 55.0], [150.0, 45.0], [5.51099, 5.23014, 3.39792]),
    (-23.0, place([180.0, 80.0, 180.0], 9, [0.9, 1.2, 30.0]), Across, [0.0, 60.0], [60.0, 30.0], [1.85666, 1.76946, 1.17046]),
    (-23.0, place([180.0, 80.0, 180.0], 9, [0.9, 1.2, 30.0]), Polar, [0.0, 60.0], [60.0, 30.0], [5.76025, 5.38187, 3.59667]),
    (-23.0, place([180.0, 160.0, 180.0], 19, [0.9, 1.2, 50.0]), Across, [0.0, 60.0], [280.0, 15.0], [3.30925, 3.06489, 1.93959]),
    (35.0, place([180.0, 50.0, 180.0], 9, [0.9, 1.2, 30.0]), Along, [180.0, 55.0], [100.0, 30.0], [19.95604, 18.18569, 12.3147]),
];

#[test]
fn residuals_agree_with_the_independent_calculation() {
    let mut pairs = Vec::new();
    for (latitude_deg, place, axis, aligned, sun, [first, last, rms]) in ROWS {
        let plan = one_string(&place, axis);
        let alignment_sun = sun_at(aligned[0], aligned[1]);
        let drives = Drives::prepare(&plan, &exact_mechanism(latitude_deg, alignment_sun));
        let sun = sun_at(sun[0], sun[1]);
        let last_rad = drives.residual_rad(&plan, place.mirrors - 1, sun);
        pairs.extend([
            (first, 1e3 * drives.residual_rad(&plan, 0, sun)),
            (last, 1e3 * last_rad),
            (rms, 1e3 * drives.rms_residual_rad(&plan, 0, sun)),
        ]);
    }
    Check {
        id: "drive.residual",
        model: "Miss of mirrors that share a drive",
        equation: "two rotations bring the reference mirror's normal onto the bisector of sun and aim; every other \
                   normal takes the same rotations from its own offset",
        source: "rigid rotations and the law of reflection",
        validity: "any first axis, place and sun; steel that gives is added apart",
        against: "an independent calculation of twelve strings in both hemispheres: first mirror, last mirror and \
                  root mean square",
        unit: "mrad",
    }
    .within(1e-5, pairs);
}
