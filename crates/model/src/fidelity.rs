//! How closely light is looked at.

/// How closely light is looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[repr(u8)]
pub enum Fidelity {
    /// Some mirrors of every string, with all their real neighbours, at the node suns. Over 30 designs drawn at random
    /// from each space of two scenarios (`cargo run --release -p tautfield-tests --example sample_record 30`) the year's
    /// light is off [`Fidelity::Every`] by 0.07 % of it in root mean square for strings, by 0.2 % at worst, and the
    /// highest flux by 0.3 and 0.7 %; of heliostats light by 0.01 %.
    Search = 0,
    /// Every string at the node suns.
    Every = 1,
    /// Every string in every hour: the reference.
    Hours = 2,
}

impl Fidelity {
    /// Word for tables.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Search => "search",
            Self::Every => "every",
            Self::Hours => "hours",
        }
    }
}
