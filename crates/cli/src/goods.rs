//! Words for what is bought, what sets a size and which wind asks most of it.

use model::setout::{Chs, FromStock, Goods, Governing, LineKind, LoadCase, Purchase, TubeUse};
use report::figures;

const MM_PER_M: f64 = 1e3;

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
    }
}

/// Which size of it.
pub fn size(goods: &Goods) -> String {
    match goods {
        Goods::Panel {
            side_m,
            thickness_m,
        } => format!("{}, {} thick", figures::length(*side_m), mm(*thickness_m)),
        Goods::Tube { section, .. } => tube(section),
        Goods::Strand { kind, diameter_m } => format!("{} {}", line_kind(*kind), mm(*diameter_m)),
        Goods::Drive { torque_n_m } => {
            format!("for {} N m", figures::significant(*torque_n_m, 3))
        }
        Goods::Mount | Goods::Levers | Goods::Controller | Goods::Concrete => String::new(),
    }
}

/// Diameter and wall of a tube.
pub fn tube(section: &Chs) -> String {
    format!("{} x {}", mm_number(section.diameter_m), mm(section.wall_m))
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
        Goods::Concrete => "around posts".to_owned(),
    }
}

/// Unit of quantity and spares.
pub const fn unit(goods: &Goods) -> &'static str {
    match goods {
        Goods::Tube { .. } | Goods::Strand { .. } => "m",
        Goods::Concrete => "m3",
        Goods::Panel { .. }
        | Goods::Mount
        | Goods::Levers
        | Goods::Drive { .. }
        | Goods::Controller => "piece",
    }
}

/// The sheet or bar that it is cut from.
pub fn stock(bought: &Purchase) -> Option<String> {
    Some(match bought.stock? {
        FromStock::Sheets { sheet, .. } => {
            format!("sheet {:.2} x {:.2} m", sheet.length_m, sheet.width_m)
        }
        FromStock::Bars(cut) => format!("bar {} m", figures::significant(cut.bar_m, 3)),
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

/// Millimetres.
pub fn mm(length_m: f64) -> String {
    mm_number(length_m) + " mm"
}

fn mm_number(length_m: f64) -> String {
    figures::grouped(length_m * MM_PER_M, 1)
}
