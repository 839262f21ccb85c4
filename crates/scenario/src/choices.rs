//! The words a scenario chooses between.

use ledger::{SteelRoute, TaxedParty, WriteOff};

use crate::{
    Carrier, Class, Concept, Control, Cooling, Defocus, Delivers, Door, DrivenFrom, Footing, Line,
    Linkage, NightPosture, OffsetPlace, Outline, PanelShape, Rail, ReceiverKind, Sensing, SetBy,
    Soil, SunShape, Visibility, WeatherFormat, WindCode, WorkDays,
};

/// A choice between words.
pub(crate) trait Named: Copy + Default + 'static {
    /// Each word with what it stands for.
    const NAMED: &'static [(&'static str, Self)];
}

/// The words of a choice.
pub(crate) fn names<T: Named>() -> Vec<&'static str> {
    T::NAMED.iter().map(|(name, _)| *name).collect()
}

/// What the word at `index` stands for.
pub(crate) fn nth<T: Named>(index: usize) -> T {
    T::NAMED
        .get(index)
        .map_or_else(T::default, |(_, value)| *value)
}

/// Each linkage with its word.
pub const LINKAGES: [(&str, Linkage); 4] = [
    ("equal-angle", Linkage::EqualAngle),
    ("equal-travel", Linkage::EqualTravel),
    ("graded", Linkage::Graded),
    ("sliding-lever", Linkage::SlidingLever),
];

impl Named for Concept {
    const NAMED: &'static [(&'static str, Self)] = &Self::ALL;
}

impl Named for PanelShape {
    const NAMED: &'static [(&'static str, Self)] =
        &[("focused", Self::Focused), ("flat", Self::Flat)];
}

impl Named for Linkage {
    const NAMED: &'static [(&'static str, Self)] = &LINKAGES;
}

impl Named for OffsetPlace {
    const NAMED: &'static [(&'static str, Self)] = &[
        ("shim", Self::Shim),
        ("lever", Self::Lever),
        ("post", Self::Post),
    ];
}

impl Named for Control {
    const NAMED: &'static [(&'static str, Self)] = &[
        ("reference", Self::Reference),
        ("least squares", Self::LeastSquares),
    ];
}

impl Named for DrivenFrom {
    const NAMED: &'static [(&'static str, Self)] = &[("middle", Self::Middle), ("end", Self::End)];
}

impl Named for SetBy {
    const NAMED: &'static [(&'static str, Self)] = &[("sun", Self::Sun), ("laser", Self::Laser)];
}

impl Named for Sensing {
    const NAMED: &'static [(&'static str, Self)] = &[
        ("open loop", Self::OpenLoop),
        ("sensor", Self::Sensor),
        ("camera", Self::Camera),
    ];
}

impl Named for Defocus {
    const NAMED: &'static [(&'static str, Self)] = &[
        ("stored energy", Self::StoredEnergy),
        ("none", Self::None),
        ("spring", Self::Spring),
    ];
}

impl Named for Class {
    const NAMED: &'static [(&'static str, Self)] = &[
        ("coarse", Self::Coarse),
        ("common", Self::Common),
        ("fine", Self::Fine),
    ];
}

impl Named for WeatherFormat {
    const NAMED: &'static [(&'static str, Self)] = &[
        ("auto", Self::Auto),
        ("epw", Self::Epw),
        ("tmy3", Self::Tmy3),
        ("pvgis", Self::Pvgis),
        ("nsrdb", Self::Nsrdb),
        ("csv", Self::Csv),
        ("parquet", Self::Parquet),
    ];
}

impl Named for SunShape {
    const NAMED: &'static [(&'static str, Self)] = &[
        ("disc", Self::Disc),
        ("limb", Self::Limb),
        ("circumsolar", Self::Circumsolar),
        ("table", Self::Table),
    ];
}

impl Named for Visibility {
    const NAMED: &'static [(&'static str, Self)] = &[
        ("very clear", Self::VeryClear),
        ("clear", Self::Clear),
        ("hazy", Self::Hazy),
    ];
}

impl Named for ReceiverKind {
    const NAMED: &'static [(&'static str, Self)] = &[
        ("billboard", Self::Billboard),
        ("cavity", Self::Cavity),
        ("cylinder", Self::Cylinder),
    ];
}

impl Named for Outline {
    const NAMED: &'static [(&'static str, Self)] =
        &[("rectangle", Self::Rectangle), ("circle", Self::Circle)];
}

impl Named for Door {
    const NAMED: &'static [(&'static str, Self)] =
        &[("none", Self::None), ("closed at rest", Self::ClosedAtRest)];
}

impl Named for Carrier {
    const NAMED: &'static [(&'static str, Self)] = &[
        ("water", Self::Water),
        ("salt", Self::Salt),
        ("air", Self::Air),
    ];
}

impl Named for Delivers {
    const NAMED: &'static [(&'static str, Self)] = &[
        ("steam", Self::Steam),
        ("hot air", Self::HotAir),
        ("electricity", Self::Electricity),
    ];
}

impl Named for Cooling {
    const NAMED: &'static [(&'static str, Self)] = &[("dry", Self::Dry), ("wet", Self::Wet)];
}

impl Named for WorkDays {
    const NAMED: &'static [(&'static str, Self)] = &[
        ("all", Self::All),
        ("monday to saturday", Self::MondayToSaturday),
        ("monday to friday", Self::MondayToFriday),
    ];
}

impl Named for WindCode {
    const NAMED: &'static [(&'static str, Self)] =
        &[("EN 1991-1-4", Self::En1991), ("ASCE 7", Self::Asce7)];
}

impl Named for Line {
    const NAMED: &'static [(&'static str, Self)] = &[
        ("rod", Self::Rod),
        ("rope", Self::Rope),
        ("push-rod", Self::PushRod),
    ];
}

impl Named for Rail {
    const NAMED: &'static [(&'static str, Self)] =
        &[("continuous", Self::Continuous), ("none", Self::None)];
}

impl Named for Soil {
    const NAMED: &'static [(&'static str, Self)] = &[
        ("loose sand", Self::Loose),
        ("medium sand", Self::Medium),
        ("dense sand", Self::Dense),
    ];
}

impl Named for Footing {
    const NAMED: &'static [(&'static str, Self)] =
        &[("driven", Self::Driven), ("drilled", Self::Drilled)];
}

impl Named for NightPosture {
    const NAMED: &'static [(&'static str, Self)] = &[
        ("level", Self::Level),
        ("upright", Self::Upright),
        ("face down", Self::FaceDown),
    ];
}

impl Named for TaxedParty {
    const NAMED: &'static [(&'static str, Self)] =
        &[("user", Self::User), ("seller", Self::Seller)];
}

impl Named for WriteOff {
    const NAMED: &'static [(&'static str, Self)] = &[
        ("straight line", Self::StraightLine),
        ("five years accelerated", Self::FiveYearAccelerated),
    ];
}

impl Named for SteelRoute {
    const NAMED: &'static [(&'static str, Self)] = &[
        ("world", Self::World),
        ("primary", Self::Primary),
        ("scrap", Self::Scrap),
    ];
}
