//! Eight suns side by side: the width in which light is computed.

/// How many suns one lane holds.
pub const LANES: usize = 8;

/// One number for each of eight suns.
pub type Lane = [f64; LANES];

/// One vector for each of eight suns, as columns `[x, y, z]`.
pub type LaneVec3 = [Lane; 3];
