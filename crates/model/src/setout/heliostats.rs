//! Heliostats as a crew and a purchaser need them: where each stands and on what, how its panels are
//! canted, what is bought.
//!
//! A heliostat is set on its target by its own drives; nothing is set under a sun. Only panels are, on
//! their frame: each lies as the paraboloid of the mirror's focal length does at its middle.

use field::Plan;
use ledger::torque_class_n_m;
use scenario::Design;
use structure::{PedestalParts, StructureError, heliostat_cut_list};

use super::purchases::{Goods, Purchase, Shop};
use crate::bill::DRIVES_PER_UNIT;
use crate::case::Case;
use crate::evaluate::Scratch;
use crate::infeasible::Infeasible;
use crate::inputs::{self, Lee};
use crate::lay::lay;
use crate::make::stands;
use crate::makes::{HeliostatMake, Makes};
use crate::margins::Margins;
use crate::stand::{Stood, stand};

/// A field of heliostats to be built.
pub struct SetHeliostats {
    /// Where every mirror stands.
    pub plan: Plan,
    /// Its heliostats, make by make.
    pub makes: Vec<HeliostatMake>,
    /// Which make each heliostat is of, in plan order.
    pub make_of: Vec<usize>,
    /// Height of the ground at each above the tower's foot, in plan order [m].
    pub ground_m: Vec<f64>,
    /// Every panel of a heliostat of more than one, heliostat by heliostat.
    pub panels: Vec<CantedPanel>,
    /// What is bought for them.
    pub purchases: Vec<Purchase>,
    /// How far the field keeps from its limits, as far as it was looked at.
    pub margins: Margins,
}

/// One panel on the frame of a heliostat, seen by someone who stands before the upright mirror.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CantedPanel {
    /// Which heliostat, in plan order.
    pub heliostat: usize,
    /// Its column from the left and its row from below, from 1.
    pub place: [usize; 2],
    /// Its middle, to the right of and above the mirror's middle [m].
    pub middle_m: [f64; 2],
    /// How far it is turned towards the mirror's middle, sideways and up or down: positive where its
    /// normal leans to the right or up [rad].
    pub cant_rad: [f64; 2],
}

/// Sets out the heliostats that a design lays.
///
/// # Errors
/// [`Infeasible`] when it breaks a limit before it stands, or lays strings.
pub fn set_out_heliostats(case: &Case, design: &Design) -> Result<SetHeliostats, Infeasible> {
    let mut margins = Margins::unknown();
    let stood = lay(case, design, &mut margins, &mut Scratch::default())?;
    of_stood(case, design, stood, margins)
}

/// Sets out a given plan of heliostats, with all else as a design has it.
///
/// # Errors
/// [`Infeasible`] when a heliostat's inputs make no sense together, or the design has strings.
pub fn set_out_heliostat_plan(
    case: &Case,
    design: &Design,
    plan: Plan,
) -> Result<SetHeliostats, Infeasible> {
    let mut margins = Margins::unknown();
    let stood = stand(case, design, plan, &mut margins, &mut Scratch::default())?;
    of_stood(case, design, stood, margins)
}

fn of_stood(
    case: &Case,
    design: &Design,
    stood: Stood,
    margins: Margins,
) -> Result<SetHeliostats, Infeasible> {
    let Makes::Heliostats(makes) = stood.makes else {
        let reason = "strings have no heliostats to be set out".to_owned();
        return Err(Infeasible::unbuildable(reason, margins));
    };
    let plan = stood.site.plan;
    let site = &case.scenario.site;
    let lees = stands(case, &plan).into_iter().enumerate();
    let make_of: Vec<usize> = lees
        .map(|(heliostat, lee)| make_of(&plan, heliostat, lee, &makes))
        .collect();
    let ground_m = (0..plan.mirror_count()).map(|mirror| {
        site.ground_slope_east * plan.x_m[mirror] + site.ground_slope_north * plan.y_m[mirror]
    });
    let panels = make_of.iter().enumerate();
    Ok(SetHeliostats {
        ground_m: ground_m.collect(),
        panels: panels
            .flat_map(|(heliostat, make)| canted(&plan, heliostat, &makes[*make]))
            .collect(),
        purchases: purchases(case, design, &makes)
            .map_err(|error| Infeasible::unbuildable(error.to_string(), margins))?,
        make_of,
        makes,
        margins,
        plan,
    })
}

/// The make that a heliostat is of: as open to the wind, and nearest in size.
fn make_of(plan: &Plan, heliostat: usize, lee: Lee, makes: &[HeliostatMake]) -> usize {
    let area_m2 = plan.area_m2(heliostat);
    let unlike = |make: &HeliostatMake| (make.heliostats.area_m2 - area_m2).abs();
    let places = (0..makes.len()).filter(|place| makes[*place].lee == lee);
    places
        .min_by(|one, other| unlike(&makes[*one]).total_cmp(&unlike(&makes[*other])))
        .unwrap_or(0)
}

/// The panels of one heliostat; none of a single one. Where a paraboloid of focal length f is x from
/// its middle, it leans by x/2f.
fn canted(plan: &Plan, heliostat: usize, make: &HeliostatMake) -> Vec<CantedPanel> {
    let facets = inputs::facets(&make.heliostats);
    if facets.count() == 1 {
        return Vec::new();
    }
    let step_m = facets.side_m + facets.gap_m;
    let off_m = |place: usize, count: usize| (place as f64 - 0.5 * (count as f64 - 1.0)) * step_m;
    let lean_rad = |off_m: f64| -libm::atan(off_m / (2.0 * plan.focal_length_m[heliostat]));
    let panel = |row: usize, column: usize| {
        let middle_m = [off_m(column, facets.columns), off_m(row, facets.rows)];
        CantedPanel {
            heliostat,
            place: [column + 1, row + 1],
            middle_m,
            cant_rad: middle_m.map(lean_rad),
        }
    };
    let rows = 0..facets.rows;
    rows.flat_map(|row| (0..facets.columns).map(move |column| panel(row, column)))
        .collect()
}

/// Panels from sheets, tubes from bars, drives by their torque class, and what comes by piece, mass or
/// volume.
fn purchases(
    case: &Case,
    design: &Design,
    makes: &[HeliostatMake],
) -> Result<Vec<Purchase>, StructureError> {
    let shop = Shop::of(case);
    let mut bought = panels(&shop, makes);
    bought.extend(tubes(case, design, &shop, makes)?);
    bought.extend(drives(&shop, makes));
    let all = |amount: fn(&HeliostatMake) -> f64| makes.iter().map(amount).sum::<f64>();
    let of_parts = |amount: fn(&PedestalParts) -> f64| {
        let parts = makes.iter().map(|make| make.count() * amount(&make.parts));
        parts.sum::<f64>()
    };
    bought.push(shop.pieces(Goods::Controller, all(HeliostatMake::count), None));
    let mounts_kg = of_parts(|parts| parts.masses.mount_kg);
    if mounts_kg > 0.0 {
        bought.push(shop.pieces(Goods::Mount, all(HeliostatMake::count), Some(mounts_kg)));
    }
    let brackets_kg = of_parts(|parts| parts.masses.brackets_kg());
    bought.extend(Shop::by_mass(Goods::Brackets, brackets_kg));
    let bars_kg = of_parts(|parts| parts.masses.bars_kg);
    bought.extend(Shop::by_mass(Goods::ReinforcingBars, bars_kg));
    bought.extend(Shop::concrete(of_parts(|parts| parts.concrete_m3)));
    Ok(bought)
}

/// The panels of all makes.
fn panels(shop: &Shop, makes: &[HeliostatMake]) -> Vec<Purchase> {
    let mut bought = Vec::new();
    for make in makes {
        let facets = inputs::facets(&make.heliostats);
        let panels = make.count() * facets.count() as f64;
        let panel_kg = make.parts.masses.glass_kg / facets.count() as f64;
        let size = [facets.side_m, make.heliostats.glass_thickness_m];
        add(&mut bought, shop.panel(size, panels, panel_kg), |needed| {
            shop.panel(size, needed, panel_kg)
        });
    }
    bought
}

/// The tubes of all makes.
fn tubes(
    case: &Case,
    design: &Design,
    shop: &Shop,
    makes: &[HeliostatMake],
) -> Result<Vec<Purchase>, StructureError> {
    let mut all = Vec::new();
    for make in makes {
        let sized_from = inputs::pedestal_inputs(case, design, &make.heliostats, make.lee);
        let (cut, count) = (
            heliostat_cut_list(&sized_from)?,
            make.heliostats.count as usize,
        );
        all.extend(cut.into_iter().map(|one| one.times(count)));
    }
    Ok(shop.sections(all))
}

/// The drives of all makes.
fn drives(shop: &Shop, makes: &[HeliostatMake]) -> Vec<Purchase> {
    let mut bought = Vec::new();
    for make in makes {
        let parts = &make.parts;
        for torque_n_m in [parts.azimuth_torque_n_m, parts.elevation_torque_n_m] {
            let goods = Goods::Drive {
                torque_n_m: torque_class_n_m(torque_n_m),
            };
            let count = 0.5 * DRIVES_PER_UNIT * make.count();
            let drives = |needed| shop.pieces(goods.clone(), needed, None);
            add(&mut bought, drives(count), drives);
        }
    }
    bought
}

/// Adds a purchase, or more of the same goods.
fn add(bought: &mut Vec<Purchase>, new: Purchase, again: impl Fn(f64) -> Purchase) {
    match bought.iter_mut().find(|known| known.goods == new.goods) {
        Some(known) => *known = again(known.needed + new.needed),
        None => bought.push(new),
    }
}

#[cfg(test)]
mod tests {
    use ledger::Item;

    use super::*;
    use crate::evaluate::evaluate;
    use crate::fidelity::Fidelity;
    use crate::inputs::tests::{demo, design};

    const PEDESTALS: [(&str, &str); 5] = [
        ("concept", "pedestals"),
        ("pedestals.count", "30"),
        ("pedestals.area", "30 m2"),
        ("site.ground_slope_north", "2 %"),
        ("heat.demand.serve_at_least", "0 %"),
    ];

    /// Five rows of six panels of 1 m, 1.02 m apart: the outermost middle lies 2.55 m to the side and
    /// 2.04 m up, and leans back by those over twice the focal length.
    #[test]
    fn panels_are_canted_as_by_hand() {
        let case = demo(&PEDESTALS);
        let set = set_out_heliostats(&case, &design(&case)).unwrap();
        assert_eq!(set.panels.len(), 30 * 30);
        for panel in set.panels.iter().filter(|panel| panel.place == [6, 5]) {
            let focal_m = set.plan.focal_length_m[panel.heliostat];
            assert!((panel.middle_m[0] - 2.55).abs() < 1e-9);
            assert!((panel.middle_m[1] - 2.04).abs() < 1e-9);
            let lean = [2.55, 2.04].map(|off_m| -off_m / 2.0 / focal_m);
            for (found, wanted) in panel.cant_rad.into_iter().zip(lean) {
                assert!((found / wanted - 1.0).abs() < 1e-3);
            }
        }
        let sum_rad: f64 = set.panels.iter().map(|panel| panel.cant_rad[0]).sum();
        assert!(sum_rad.abs() < 1e-9, "as many lean left as right");
        for (mirror, ground_m) in set.ground_m.iter().enumerate() {
            assert!((ground_m - 0.02 * set.plan.y_m[mirror]).abs() < 1e-9);
        }
    }

    /// 900 panels and 2 %, 60 drives, 30 controllers; strings give none of it. Tubes, brackets and bars weigh
    /// what the bill of the same field pays for as steel.
    #[test]
    fn heliostats_are_bought_as_by_hand() {
        let case = demo(&PEDESTALS);
        let set = set_out_heliostats(&case, &design(&case)).unwrap();
        let of = |wanted: fn(&Goods) -> bool| -> f64 {
            let bought = set.purchases.iter().filter(|bought| wanted(&bought.goods));
            bought.map(|bought| bought.needed).sum()
        };
        assert_eq!(of(|goods| matches!(goods, Goods::Panel { .. })), 900.0);
        assert_eq!(set.purchases[0].spares, 18.0);
        assert_eq!(of(|goods| matches!(goods, Goods::Drive { .. })), 60.0);
        assert_eq!(of(|goods| matches!(goods, Goods::Controller)), 30.0);
        assert!(of(|goods| matches!(goods, Goods::Concrete)) > 0.0);
        assert_eq!(of(|goods| matches!(goods, Goods::Mount)), 0.0);
        let is_steel = |goods: &Goods| {
            matches!(
                goods,
                Goods::Tube { .. } | Goods::Brackets | Goods::ReinforcingBars
            )
        };
        let steel = set
            .purchases
            .iter()
            .filter(|bought| is_steel(&bought.goods));
        let bought_kg: f64 = steel.map(|bought| bought.mass_kg.unwrap()).sum();
        let year = evaluate(
            &case,
            &design(&case),
            Fidelity::Search,
            &mut Scratch::default(),
        );
        let billed = year.unwrap().quantities;
        let parts = [
            Item::StarSteel,
            Item::PostSteel,
            Item::TrussSteel,
            Item::TubeSteel,
        ];
        let billed_kg: f64 = parts.map(|item| billed.get(item)).iter().sum();
        assert!(
            (bought_kg / billed_kg - 1.0).abs() < 1e-9,
            "{bought_kg} {billed_kg}"
        );
        let again = set_out_heliostat_plan(&case, &design(&case), set.plan.clone());
        assert_eq!(again.unwrap().panels, set.panels);
        let strings = demo(&[("heat.demand.serve_at_least", "0 %")]);
        assert!(set_out_heliostats(&strings, &design(&strings)).is_err());
    }
}
