//! Words for what is bought, what sets a size and which wind asks most of it.

use model::setout::{Chs, FromStock, Goods, Governing, LineKind, LoadCase, Purchase, TubeUse};
use quantity::{Measure, Units};
use report::figures;

/// What is bought.
pub const fn item(goods: &Goods) -> &'static str {
    match goods {
        Goods::Panel { .. } => "mirror panels",
        Goods::Tube { .. } => "steel tube",
        Goods::Strand { .. } => "line strands",
        Goods::Mount => "mounts with joints",
        Goods::Levers => "lever sets",
        Goods::Drive { .. } => "drives",
        Goods::Controller => "controllers",
        Goods::Concrete => "concrete",
        Goods::Brackets => "brackets and bracing",
        Goods::ReinforcingBars => "reinforcing bars",
    }
}

/// Which size of it.
pub fn size(goods: &Goods, units: Units) -> String {
    match goods {
        Goods::Panel {
            side_m,
            thickness_m,
        } => {
            let side = figures::length(*side_m, units);
            format!("{side}, {} thick", thin(*thickness_m, units))
        }
        Goods::Tube { section, .. } => tube(section, units),
        Goods::Strand { kind, diameter_m } => {
            format!("{} {}", line_kind(*kind), thin(*diameter_m, units))
        }
        Goods::Drive { torque_n_m } => {
            let torque = figures::measured(*torque_n_m, Measure::Torque, units, 3);
            format!("for {torque}")
        }
        Goods::Mount
        | Goods::Levers
        | Goods::Controller
        | Goods::Concrete
        | Goods::Brackets
        | Goods::ReinforcingBars => String::new(),
    }
}

/// Diameter and wall of a tube.
pub fn tube(section: &Chs, units: Units) -> String {
    let diameter = thin_number(section.diameter_m, units);
    format!("{diameter} x {}", thin(section.wall_m, units))
}

/// What it is used for.
pub fn used_for(goods: &Goods) -> String {
    match goods {
        Goods::Panel { .. } => "mirrors".to_owned(),
        Goods::Tube { uses, .. } => {
            let words: Vec<&str> = uses.iter().map(|used_for| tube_use(*used_for)).collect();
            words.join(", ")
        }
        Goods::Strand { .. } => "two loops along each string".to_owned(),
        Goods::Mount | Goods::Levers => "one for each mirror".to_owned(),
        Goods::Drive { .. } => "one for each axis of a driven unit".to_owned(),
        Goods::Controller => "one for each driven unit".to_owned(),
        Goods::Concrete => "around posts and pedestals".to_owned(),
        Goods::Brackets => "between trusses and torque tubes, with bolts".to_owned(),
        Goods::ReinforcingBars => "piers".to_owned(),
    }
}

/// What quantity and spares measure; nothing of pieces.
pub const fn measure(goods: &Goods) -> Option<Measure> {
    match goods {
        Goods::Tube { .. } | Goods::Strand { .. } => Some(Measure::Length),
        Goods::Concrete => Some(Measure::Volume),
        Goods::Brackets | Goods::ReinforcingBars => Some(Measure::Mass),
        Goods::Panel { .. }
        | Goods::Mount
        | Goods::Levers
        | Goods::Drive { .. }
        | Goods::Controller => None,
    }
}

/// An amount of it in the unit that it is told in.
pub fn amount(goods: &Goods, amount: f64, units: Units) -> f64 {
    measure(goods).map_or(amount, |measure| measure.number(amount, units))
}

/// SI unit of quantity and spares.
pub const fn unit(goods: &Goods) -> &'static str {
    match measure(goods) {
        Some(measure) => measure.unit(Units::Si),
        None => "piece",
    }
}

/// The sheet or bar that it is cut from.
pub fn stock(bought: &Purchase, units: Units) -> Option<String> {
    Some(match bought.stock? {
        FromStock::Sheets { sheet, .. } => {
            let [length, width] = [sheet.length_m, sheet.width_m]
                .map(|side_m| figures::grouped(Measure::Length.number(side_m, units), 2));
            format!("sheet {length} x {width} {}", Measure::Length.unit(units))
        }
        FromStock::Bars(cut) => format!(
            "bar {}",
            figures::measured(cut.bar_m, Measure::Length, units, 3)
        ),
    })
}

/// How many sheets or bars are bought, and the share of them that is used.
pub fn stock_count(bought: &Purchase) -> Option<(usize, f64)> {
    Some(match bought.stock? {
        FromStock::Sheets { count, share, .. } => (count, share),
        FromStock::Bars(cut) => (cut.bars, cut.share()),
    })
}

/// Rope or rod.
pub const fn line_kind(kind: LineKind) -> &'static str {
    match kind {
        LineKind::Rope => "rope",
        LineKind::Rod => "rod",
    }
}

const fn tube_use(used_for: TubeUse) -> &'static str {
    match used_for {
        TubeUse::StarArm => "star arms",
        TubeUse::Post => "posts",
        TubeUse::ForkTine => "fork tines",
        TubeUse::FrameLeg => "frame legs",
        TubeUse::FrameArm => "frame arms",
        TubeUse::Rail => "rails",
        TubeUse::Bar => "bars of sliding levers",
        TubeUse::PushRod => "push-rods",
        TubeUse::Pedestal => "pedestals",
        TubeUse::TorqueTube => "torque tubes",
        TubeUse::Truss => "trusses",
        TubeUse::Web => "webs of trusses",
    }
}

/// A wind case.
pub const fn wind_case(case: LoadCase) -> &'static str {
    match case {
        LoadCase::Operate => "tracking",
        LoadCase::DriveToStow => "driving to stow",
        LoadCase::Survive => "stowed in the storm",
    }
}

/// What sets a size.
pub fn set_by(governed_by: Governing) -> String {
    match governed_by {
        Governing::Strength(case) => format!("strength, {}", wind_case(case)),
        Governing::Stiffness => "stiffness".to_owned(),
        Governing::Person => "a person standing on it".to_owned(),
        Governing::Lines => "what the lines pull".to_owned(),
    }
}

/// Millimetres, or inches.
pub fn thin(length_m: f64, units: Units) -> String {
    let unit = Measure::Thickness.unit(units);
    format!("{} {unit}", thin_number(length_m, units))
}

fn thin_number(length_m: f64, units: Units) -> String {
    let decimals = match units {
        Units::Si => 1,
        Units::Us => 3,
    };
    figures::grouped(Measure::Thickness.number(length_m, units), decimals)
}
