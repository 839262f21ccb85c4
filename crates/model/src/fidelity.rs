//! How closely light is looked at.

/// How closely light is looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[repr(u8)]
pub enum Fidelity {
    /// Some whole strings, with all their real neighbours, at the node suns.
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
