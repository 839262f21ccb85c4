//! Makes of strings: strings built alike are sized once.

use std::collections::BTreeMap;

use field::{Plan, StringRow, exposed_strings};
use scenario::{Design, FirstAxis, Linkage, StringsDesign};
use structure::StringParts;

use crate::case::Case;
use crate::evaluate::size;
use crate::infeasible::Infeasible;
use crate::inputs::{self, Lee};
use crate::margins::Margins;

/// Strings that are built alike, as if they were all of a design, and the parts of one.
#[derive(Clone, Debug)]
pub struct Make {
    /// Where they stand to the wind.
    pub lee: Lee,
    /// How many strings, of how many mirrors, how large and how far apart; all else as the
    /// scenario has it.
    pub strings: StringsDesign,
    /// The parts of one string.
    pub parts: StringParts,
}

impl Make {
    /// Mirrors in all its strings.
    #[must_use]
    pub fn mirrors(&self) -> f64 {
        self.count() * f64::from(self.strings.mirrors)
    }

    /// How many strings.
    #[must_use]
    pub fn count(&self) -> f64 {
        f64::from(self.strings.count)
    }

    /// Distance between neighbouring mirrors [m].
    #[must_use]
    pub fn pitch_m(&self) -> f64 {
        self.strings.pitch_ratio * self.strings.side_m
    }
}

/// The strings of a design, built for the lee of others and for the open wind.
pub(crate) struct ByLee {
    pub inside: StringParts,
    edge: StringParts,
}

impl ByLee {
    /// Sizes both; stops when a part does not hold.
    pub fn of(
        case: &Case,
        design: &Design,
        strings: &StringsDesign,
        margins: &mut Margins,
    ) -> Result<Self, Infeasible> {
        let mut sized = |lee| size(&inputs::string_inputs(case, design, strings, lee), margins);
        let both = Self {
            inside: sized(Lee::Inside)?,
            edge: sized(Lee::Edge)?,
        };
        Infeasible::check(margins)?;
        Ok(both)
    }

    /// Those of each that stand in a plan.
    pub fn makes(&self, case: &Case, plan: &Plan, strings: &StringsDesign) -> Vec<Make> {
        let stands = stands(case, plan);
        let make = |lee| Make {
            lee,
            strings: StringsDesign {
                count: stands.iter().filter(|stand| **stand == lee).count() as u32,
                ..strings.clone()
            },
            parts: match lee {
                Lee::Inside => self.inside,
                Lee::Edge => self.edge,
            },
        };
        let mut makes = Lee::BOTH.map(make).to_vec();
        makes.retain(|make| make.strings.count > 0);
        makes
    }
}

/// The parts of one string of a design, in the lee of others and open to the wind.
///
/// # Errors
/// [`Infeasible`] when a part does not hold.
pub fn string_parts(
    case: &Case,
    design: &Design,
    strings: &StringsDesign,
) -> Result<[(Lee, StringParts); 2], Infeasible> {
    let both = ByLee::of(case, design, strings, &mut Margins::unknown())?;
    Ok([(Lee::Inside, both.inside), (Lee::Edge, both.edge)])
}

/// Where every string of a plan stands to the wind.
pub(crate) fn stands(case: &Case, plan: &Plan) -> Vec<Lee> {
    let lee_mirrors = case.scenario.structure.lee_mirrors as usize;
    let exposed = exposed_strings(plan, lee_mirrors).into_iter();
    exposed
        .map(|open| if open { Lee::Edge } else { Lee::Inside })
        .collect()
}

/// What is alike in strings of one make: lengths to the millimetre.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Likeness {
    lee: Lee,
    mirrors: usize,
    side_mm: u64,
    pitch_mm: u64,
    is_on_balls: bool,
    linkage: u8,
}

/// Strings of a plan that are alike.
struct Alike {
    strings: StringsDesign,
    shortest_focal_length_m: f64,
}

/// Glass that is bent less than this is flat, as far as its strength goes [m].
pub(crate) const FLAT_FOCAL_LENGTH_M: f64 = 1e4;

/// The makes of a plan's strings: sheltered ones, then open ones, each with the most mirrors first. Mirrors, their size, pitch, first
/// axis and linkage come from the plan, all else from the design.
///
/// # Errors
/// [`Infeasible`] when the inputs of a string make no sense together.
pub(crate) fn makes_of_plan(
    case: &Case,
    design: &Design,
    common: &StringsDesign,
    plan: &Plan,
    margins: &mut Margins,
) -> Result<Vec<Make>, Infeasible> {
    let mut alike: BTreeMap<Likeness, Alike> = BTreeMap::new();
    for (row, lee) in plan.strings.iter().zip(stands(case, plan)) {
        let strings = strings_like(plan, row, common);
        let focal_lengths_m = row.mirrors().map(|mirror| plan.focal_length_m[mirror]);
        let shortest_m = focal_lengths_m.fold(FLAT_FOCAL_LENGTH_M, f64::min);
        let one = alike.entry(likeness(row, &strings, lee)).or_insert(Alike {
            strings,
            shortest_focal_length_m: shortest_m,
        });
        one.strings.count += 1;
        one.shortest_focal_length_m = one.shortest_focal_length_m.min(shortest_m);
    }
    let mut makes = Vec::with_capacity(alike.len());
    for (like, one) in &alike {
        let mut inputs = inputs::string_inputs(case, design, &one.strings, like.lee);
        inputs.panel.shortest_focal_length_m = one.shortest_focal_length_m;
        makes.push(Make {
            lee: like.lee,
            parts: size(&inputs, margins)?,
            strings: one.strings.clone(),
        });
    }
    makes.sort_by(|one, other| {
        let by_mirrors = other.mirrors().total_cmp(&one.mirrors());
        one.lee.cmp(&other.lee).then(by_mirrors)
    });
    Ok(makes)
}

fn likeness(row: &StringRow, strings: &StringsDesign, lee: Lee) -> Likeness {
    let mm = |length_m: f64| (1e3 * length_m).round() as u64;
    Likeness {
        lee,
        mirrors: row.mirror_count,
        side_mm: mm(strings.side_m),
        pitch_mm: mm(strings.pitch_ratio * strings.side_m),
        is_on_balls: row.first_axis == field::FirstAxis::RollFree,
        linkage: row.linkage as u8,
    }
}

/// No strings yet like one of a plan: a square as large as its largest panel, the mean distance
/// between neighbours.
fn strings_like(plan: &Plan, row: &StringRow, common: &StringsDesign) -> StringsDesign {
    let areas_m2 = row.mirrors().map(|mirror| plan.area_m2(mirror));
    let side_m = areas_m2.fold(0.0, f64::max).sqrt();
    let steps = row.mirrors().skip(1);
    let length_m: f64 = steps
        .map(|mirror| plan.centre_m(mirror).distance(plan.centre_m(mirror - 1)))
        .sum();
    let pitch_ratio = if row.mirror_count > 1 {
        length_m / (row.mirror_count as f64 - 1.0) / side_m
    } else {
        common.pitch_ratio
    };
    StringsDesign {
        count: 0,
        mirrors: row.mirror_count as u32,
        side_m,
        pitch_ratio,
        first_axis: first_axis(row.first_axis),
        linkage: linkage(row.linkage),
        ..common.clone()
    }
}

const fn first_axis(axis: field::FirstAxis) -> FirstAxis {
    match axis {
        field::FirstAxis::Across => FirstAxis::Across,
        field::FirstAxis::Along => FirstAxis::Along,
        field::FirstAxis::Vertical => FirstAxis::Vertical,
        field::FirstAxis::Polar => FirstAxis::Polar,
        field::FirstAxis::Fixed {
            azimuth_rad,
            elevation_rad,
        } => FirstAxis::Fixed {
            azimuth_rad,
            elevation_rad,
        },
        field::FirstAxis::RollFree => FirstAxis::RollFree,
    }
}

const fn linkage(linkage: field::Linkage) -> Linkage {
    match linkage {
        field::Linkage::EqualAngle => Linkage::EqualAngle,
        field::Linkage::EqualTravel => Linkage::EqualTravel,
        field::Linkage::Graded => Linkage::Graded,
        field::Linkage::SlidingLever => Linkage::SlidingLever,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::inputs::tests::{demo, design, strings};
    use crate::{Fidelity, Makes, Scratch, detail, evaluate, evaluate_plan};

    const SMALL: [(&str, &str); 3] = [
        ("strings.count", "30"),
        ("strings.mirrors", "7"),
        ("heat.demand.serve_at_least", "0 %"),
    ];

    /// A laid plan, given back as if it had been written down, is the same field: the same light to
    /// rounding, and parts that differ only because glass is bent for the nearest mirror that
    /// stands, not for the inner edge.
    #[test]
    fn a_given_plan_costs_what_the_same_laid_one_does() {
        let case = demo(&SMALL);
        let design = design(&case);
        let scratch = &mut Scratch::default();
        let laid = evaluate(&case, &design, Fidelity::Every, scratch).unwrap();
        let plan = detail(&case, &design).unwrap().plan;
        let (given, makes) = evaluate_plan(&case, &design, plan, Fidelity::Every, scratch).unwrap();
        let Makes::Strings(makes) = makes else {
            panic!("a field of strings");
        };
        let of = |lee| makes.iter().filter(move |make| make.lee == lee);
        assert_eq!((of(Lee::Inside).count(), of(Lee::Edge).count()), (1, 1));
        assert_eq!(makes.iter().map(Make::count).sum::<f64>(), 30.0);
        assert!((makes[0].pitch_m() - 1.28 * 0.95).abs() < 1e-9);
        for (one, other) in [
            (given.delivered_j, laid.delivered_j),
            (given.glass_kg, laid.glass_kg),
            (given.steel_kg, laid.steel_kg),
            (given.land_m2, laid.land_m2),
        ] {
            assert!((one / other - 1.0).abs() < 2e-3, "{one} {other}");
        }
    }

    /// Every second string loses its last mirror: two makes, and the glass is that of the plan.
    #[test]
    fn strings_of_several_lengths_are_several_makes() {
        let case = demo(&SMALL);
        let design = design(&case);
        let laid = detail(&case, &design).unwrap().plan;
        let mut rows = laid.to_rows();
        rows.retain(|row| {
            let string: usize = row.string_id.parse().unwrap();
            string.is_multiple_of(2) || row.mirror_id != "7"
        });
        let plan = Plan::from_rows(&rows, laid.aim_m).unwrap();
        let mut margins = Margins::unknown();
        let makes = makes_of_plan(&case, &design, strings(&design), &plan, &mut margins).unwrap();
        let count_of = |mirrors| {
            let alike = makes.iter().filter(|make| make.strings.mirrors == mirrors);
            alike.map(|make| make.strings.count).sum::<u32>()
        };
        assert_eq!((count_of(7), count_of(6)), (15, 15));
        let glass_m2: f64 = makes
            .iter()
            .map(|make| make.count() * make.parts.glass_area_m2)
            .sum();
        assert!((glass_m2 / plan.total_area_m2() - 1.0).abs() < 1e-9);
        let kg = |mirrors, lee| {
            let mut alike = makes.iter().filter(|make| make.lee == lee);
            let one = alike.find(|make| make.strings.mirrors == mirrors).unwrap();
            one.parts.masses.total_kg()
        };
        assert!(kg(7, Lee::Inside) > kg(6, Lee::Inside));
        assert!(kg(7, Lee::Edge) > kg(7, Lee::Inside));
        assert_eq!(makes[0].strings.lever_m, strings(&design).lever_m);
    }
}
