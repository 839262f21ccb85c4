//! Stretch of the line (rope or push-rod) that hands the motion along a string.

/// A line that moves the lever end of every mount of a string.
///
/// There is one such line for each of the two turns; both are taken alike. Under wind every mirror
/// loads the line by its hinge moment over the lever, and the line gives way by what it carries.
/// Seen over a year wind comes from all sides, so the mean twist is zero and its rms is a blur. All
/// moments of one string are taken to act together, which is on the safe side.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Line {
    /// Root mean square over the year of the wind moment of one mirror about its hinge [N·m].
    pub wind_moment_rms_n_m: f64,
    /// Distance between neighbouring mounts [m].
    pub pitch_m: f64,
    /// Young's modulus times cross-section [N]; infinite for a line that does not stretch.
    pub axial_stiffness_n: f64,
    /// Length of the levers [m].
    pub lever_m: f64,
    /// Driven from the middle of the string rather than from its first mirror.
    pub driven_from_middle: bool,
    /// Root mean square turn that temperature gives a mirror, for each metre between it and the drive
    /// [rad/m]: [`loop_warmth_rad_m`] or [`rod_warmth_rad_m`].
    pub warmth_rad_m: f64,
    /// Root mean square free play of each coupling between two levers [m]; none in lines that are
    /// kept tight.
    pub coupling_play_m: f64,
}

/// Expansion of steel [1/K]; EN 1993-1-1, 3.2.6 (from memory).
const STEEL_EXPANSION_PER_K: f64 = 12e-6;

/// Turn of a lever for each metre from the drive [rad/m] when one strand of a loop is warmer than the
/// other: α·ΔT/2h. What both strands grow alike turns no lever; it only takes off their pretension.
#[must_use]
pub fn loop_warmth_rad_m(difference_k: f64, lever_m: f64) -> f64 {
    0.5 * STEEL_EXPANSION_PER_K * difference_k / lever_m
}

/// Turn of a lever for each metre from the drive [rad/m] when a push-rod is warmer than when mirrors
/// were set: α·ΔT/h. On posts of their own that is the whole change of temperature; on a continuous
/// rail, anchored where the rod is driven, only by how much it differs from that of the rail.
#[must_use]
pub fn rod_warmth_rad_m(difference_k: f64, lever_m: f64) -> f64 {
    STEEL_EXPANSION_PER_K * difference_k / lever_m
}

impl Line {
    /// Root mean square twist [rad of mount] of mirror `index` (from 0) of a string of `count`: by
    /// wind, temperature and play, independent of one another.
    ///
    /// With N mirrors hanging on one run of line, the mirror that is i-th from the drive turns under
    /// wind by M·p/(EA·h²)·(N·i − i²/2): the sum of the forces beyond each span, the usual bar in
    /// tension under an even load (any text on strength of materials). Its end turns by N²/2 such
    /// units; a line driven from its middle has two runs of N/2 and a quarter of that. Temperature
    /// turns it in proportion to its distance, play to the root of the couplings between.
    #[must_use]
    pub fn twist_rms_rad(&self, index: usize, count: usize) -> f64 {
        let (place, run) = if self.driven_from_middle {
            let off_middle = (index as f64 - 0.5 * (count as f64 - 1.0)).abs();
            (off_middle + 0.5, 0.5 * count as f64)
        } else {
            (index as f64 + 1.0, count as f64)
        };
        let stretch_rad = self.unit_twist_rad() * (run * place - 0.5 * place * place);
        let warmth_rad = self.warmth_rad_m * place * self.pitch_m;
        let play_rad = self.coupling_play_m * place.sqrt() / self.lever_m;
        libm::hypot(stretch_rad, libm::hypot(warmth_rad, play_rad))
    }

    /// Squares of these twists of all mirrors of a string [rad²].
    pub(crate) fn twists_rad2(&self, count: usize) -> Vec<f64> {
        let twists_rad = (0..count).map(|index| self.twist_rms_rad(index, count));
        twists_rad.map(|twist_rad| twist_rad * twist_rad).collect()
    }

    fn unit_twist_rad(&self) -> f64 {
        self.wind_moment_rms_n_m * self.pitch_m
            / (self.axial_stiffness_n * self.lever_m * self.lever_m)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn line(driven_from_middle: bool) -> Line {
        Line {
            wind_moment_rms_n_m: 6.0,
            pitch_m: 1.2,
            axial_stiffness_n: 4e6,
            lever_m: 0.35,
            driven_from_middle,
            warmth_rad_m: 0.0,
            coupling_play_m: 0.0,
        }
    }

    /// A strand 3 K warmer than its twin turns the lever 8 m away by 12e-6·3·8/(2·0.3) = 0.48 mrad; a
    /// push-rod on posts of their own, 15 K warmer than at alignment, by 4.8 mrad.
    #[test]
    fn warmth_turns_far_levers() {
        assert!((8.0 * loop_warmth_rad_m(3.0, 0.3) - 0.48e-3).abs() < 1e-12);
        assert!((8.0 * rod_warmth_rad_m(15.0, 0.3) - 4.8e-3).abs() < 1e-12);
        let warm = Line {
            wind_moment_rms_n_m: 0.0,
            warmth_rad_m: loop_warmth_rad_m(3.0, 0.3),
            ..line(false)
        };
        let ratio = warm.twist_rms_rad(7, 8) / warm.twist_rms_rad(1, 8);
        assert!((ratio - 4.0).abs() < 1e-12);
    }

    #[test]
    fn the_far_end_follows_the_closed_form() {
        let unit_rad = 6.0 * 1.2 / (4e6 * 0.35 * 0.35);
        for count in [1, 2, 9, 30] {
            let closed_rad = unit_rad * (count * count) as f64 / 2.0;
            let end_rad = line(false).twist_rms_rad(count - 1, count);
            let middle_rad = line(true).twist_rms_rad(count - 1, count);
            assert!((end_rad / closed_rad - 1.0).abs() < 1e-12);
            assert!((middle_rad / closed_rad - 0.25).abs() < 1e-12);
        }
    }

    #[test]
    fn spans_added_one_by_one_approach_the_closed_form() {
        let count = 200;
        let unit_rad = line(false).unit_twist_rad();
        let summed_rad: f64 = (0..count)
            .map(|span| unit_rad * f64::from(count - span))
            .sum();
        let closed_rad = line(false).twist_rms_rad(199, 200);
        assert!((summed_rad / closed_rad - 1.0).abs() < 0.006);
    }

    #[test]
    fn a_middle_drive_is_symmetric_and_a_stiff_line_still() {
        let middle = line(true);
        assert_eq!(middle.twist_rms_rad(0, 9), middle.twist_rms_rad(8, 9));
        let stiff = Line {
            axial_stiffness_n: f64::INFINITY,
            ..middle
        };
        assert_eq!(stiff.twist_rms_rad(0, 9), 0.0);
    }
}
