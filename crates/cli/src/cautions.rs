//! What every reader of a result must be told, in one place.

/// What has to be said of concentrated light wherever it is shown.
pub const OF_LIGHT: &str = "Concentrated light blinds, burns and sets fire, also away from the receiver and with \
                            mirrors off target: plan safe aims, stow and walkways.";

/// The cautions, a sentence or two each.
pub const CAUTIONS: [&str; 8] = [
    "This is an early-study estimate: expect the true cost to lie 30 to 50 % below or above it, \
     and have it checked before money or safety hangs on it.",
    OF_LIGHT,
    "Wind loads on mirrors, posts and tower are sized by simple rules: a licensed engineer must \
     design steel at height and foundations for the local code.",
    "Hot pressurised water and steam can kill: vessels, pipes and relief devices need design, \
     inspection and operation under the local pressure-equipment code.",
    "Molten salt burns on touch, feeds fires and freezes in pipes; air at several hundred degrees and \
     what it has passed burn and set fire unseen: drains, heat tracing, ducts, insulation and doors \
     need design and training.",
    "Turbine sets and electric plant can kill by overspeed, steam and voltage: protection, the tie to \
     a grid and earthing need licensed engineers and the grid's own code.",
    "Electric drives, controls and lightning protection need a qualified electrician and the local \
     code.",
    "Local codes, permits, aviation, glare, land and water rules are not looked at here.",
];
