//! How one string stands under eight suns: what drive hands to optics.

use geometry::{LANES, Lane, LaneVec3};

/// The posture of every mirror of one string under eight suns. Reused from string to string, so
/// that nothing is allocated while light is computed.
#[derive(Clone, Debug, Default)]
pub struct Stance {
    /// Unit normal of each mirror.
    pub normals: Vec<LaneVec3>,
    /// Unit vector along the panels' width: the carried second axis, one for the string.
    pub width_edge: LaneVec3,
    /// Variance of the random beam error in the plane of incidence, for each mirror [rad²].
    pub blur_in_plane_rad2: Vec<Lane>,
    /// Variance of the random beam error across the plane of incidence, for each mirror [rad²].
    pub blur_across_rad2: Vec<Lane>,
}

impl Stance {
    /// Makes room for a string of `mirror_count` mirrors.
    pub fn resize(&mut self, mirror_count: usize) {
        self.normals.resize(mirror_count, [[0.0; LANES]; 3]);
        self.blur_in_plane_rad2.resize(mirror_count, [0.0; LANES]);
        self.blur_across_rad2.resize(mirror_count, [0.0; LANES]);
    }
}
