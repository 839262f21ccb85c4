//! Wind, steel, ground and the strength of glass in SI.

/// Wind, steel and ground (`[structure]`).
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Structure {
    /// Highest mean wind at 10 m in which the field stays on target [m/s].
    pub operating_wind_m_s: f64,
    /// Highest mean wind at 10 m in which a string still drives to stow [m/s].
    pub drive_wind_m_s: f64,
    /// Mean wind at 10 m that the stowed field survives [m/s].
    pub survival_wind_m_s: f64,
    /// Roughness length of the ground [m].
    pub roughness_m: f64,
    /// Whose profile of the wind near the ground holds.
    pub wind_code: WindCode,
    /// Partial factor on wind for steel and ground.
    pub wind_factor: f64,
    /// Wind load inside the field ÷ that on a lone mirror, in any position but stow.
    pub shelter: f64,
    /// Mirrors that must stand in each eighth of the horizon before one counts as sheltered.
    pub lee_mirrors: u32,
    /// Distance along a row over which gusts grow apart to 1/e [m].
    pub gust_width_m: f64,
    /// Greatest rise of stow loads of small mirrors over those measured on large ones.
    pub small_mirror_rise: f64,
    /// Tilt left in stow beyond what the offsets leave [rad].
    pub stow_misfit_rad: f64,
    /// Time to reach stow [s].
    pub stow_time_s: f64,
    /// Yield stress of the steel [Pa].
    pub steel_yield_pa: f64,
    /// The soil.
    pub soil: Soil,
    /// How posts are set.
    pub footing: Footing,
    /// Diameter of drilled holes [m].
    pub hole_diameter_m: f64,
}

/// Whose profile of the wind near the ground holds.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum WindCode {
    /// EN 1991-1-4.
    #[default]
    En1991,
    /// ASCE 7.
    Asce7,
}

/// How posts are set.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Footing {
    /// Driven into the ground.
    #[default]
    Driven,
    /// Set in concrete in a drilled hole.
    Drilled,
}

/// The soil.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Soil {
    /// Loose sand.
    Loose,
    /// Medium dense sand.
    #[default]
    Medium,
    /// Dense sand.
    Dense,
}

/// Strength of the glass (`[glass]`).
#[derive(Clone, Debug, Default, PartialEq)]
pub struct GlassStrength {
    /// Characteristic bending strength [Pa].
    pub strength_pa: f64,
    /// Partial factor on wind.
    pub wind_factor: f64,
}
