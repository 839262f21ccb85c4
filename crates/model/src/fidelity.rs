//! How closely light is looked at.

/// How closely light is looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[repr(u8)]
pub enum Fidelity {
    /// Some whole strings, with all their real neighbours, at the node suns. Over designs drawn at random from
    /// the spaces of two scenarios (`cargo run --release -p tautfield-tests --example sample_record 100`) the
    /// year's light is off [`Fidelity::Every`] by 0.35 % of it in root mean square for strings, 0.04 % for
    /// heliostats; by 2.3 % at worst, where long strings turn about axes across them and miss widely.
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
