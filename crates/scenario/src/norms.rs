//! Norms of building and of upkeep: what work takes, and what wears.

/// Work to build (`[labour]`).
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Labour {
    /// To mount a panel with its frame and ties [s].
    pub panel_s: f64,
    /// To set a post [s].
    pub post_s: f64,
    /// To fit one more joint: a clamp, a post head, a sleeve, a crank's bearing [s].
    pub joint_s: f64,
    /// To connect the lines and drives of one driven unit [s].
    pub driven_unit_s: f64,
    /// To set one mirror on target and check it [s].
    pub alignment_s: f64,
    /// Steel of tower and receiver that a crane lifts [kg/s].
    pub lifted_kg_s: f64,
    /// To test and start one driven unit [s].
    pub commissioning_unit_s: f64,
    /// To test and start the plant [s].
    pub commissioning_plant_s: f64,
}

/// What keeps the plant running (`[upkeep]`), beside the washing interval.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Upkeep {
    /// Water on a square metre in one wash [m].
    pub wash_water_m: f64,
    /// People beside those whom a works has anyway.
    pub staff: f64,
    /// Mirrors for which one more person is needed.
    pub mirrors_per_person: f64,
    /// Share of the drives replaced in a second [1/s].
    pub drives_replaced_per_s: f64,
    /// Share of lines and sliding parts replaced in a second [1/s].
    pub lines_replaced_per_s: f64,
    /// Share of the glass replaced in a second [1/s].
    pub glass_replaced_per_s: f64,
}
