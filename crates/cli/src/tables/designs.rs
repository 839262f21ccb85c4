//! Designs and front: a row for each design that was asked for.

use std::path::Path;

use ledger::{J_PER_KWH, Money};
use model::{Margins, Summary};
use report::{Data, Table, TableKind};
use scenario::{DesignKey, Scenario, Variable};
use study::{Row, Status, Verdict};

use crate::failure::Failure;
use crate::problem::{Prices, fidelity_of, summary_of};

const G_PER_KG: f64 = 1000.0;
const MRAD_PER_RAD: f64 = 1000.0;
const KG_PER_T: f64 = 1000.0;

/// Names of the model's loss factors, in its order.
const FACTORS: [&str; 6] = [
    "cosine",
    "shading",
    "blocking",
    "reflectance",
    "attenuation",
    "intercept",
];

/// A design that was asked for, with its place and, if it is feasible, its year and money.
struct Line<'a> {
    place: usize,
    row: &'a Row,
    margins: Margins,
    priced: Option<Priced>,
}

/// A year with its money and the cost that it is judged by.
#[derive(Clone, Copy)]
pub struct Priced {
    pub year: Summary,
    pub money: Money,
    pub cost_per_kwh: f64,
}

impl<'a> Line<'a> {
    fn new(place: usize, row: &'a Row, prices: Prices<'_>) -> Self {
        let outcome = row.every.as_ref().unwrap_or(&row.search);
        let is_feasible = matches!(row.verdict, Verdict::Feasible(_));
        let year = summary_of(outcome).filter(|_| is_feasible);
        Self {
            place,
            row,
            margins: prices.margins(outcome),
            priced: year.map(|year| {
                let money = prices.money(&year);
                Priced {
                    cost_per_kwh: prices.cost_per_kwh(&year, &money),
                    year,
                    money,
                }
            }),
        }
    }

    fn fidelity(&self) -> &'static str {
        let tag = if self.row.every.is_some() {
            study::EVERY
        } else {
            study::SEARCH
        };
        fidelity_of(tag).word()
    }

    fn status(&self) -> &'static str {
        match self.row.verdict {
            Verdict::Feasible(_) => "feasible",
            Verdict::Short(..) | Verdict::Infeasible(_) => "infeasible",
            Verdict::Failed => "failed",
        }
    }

    fn reason(&self) -> Option<String> {
        let outcome = self.row.every.as_ref().unwrap_or(&self.row.search);
        match self.row.verdict {
            Verdict::Feasible(_) => None,
            Verdict::Failed if outcome.reason.is_empty() => {
                Some("gave numbers that are not finite".to_owned())
            }
            Verdict::Short(..) | Verdict::Infeasible(_) if outcome.status == Status::Feasible => {
                Some("delivers less than it must".to_owned())
            }
            _ => Some(outcome.reason.clone()),
        }
    }
}

/// The table of these rows of a search, in the order given.
pub fn table(kind: TableKind, scenario: &Scenario, rows: &[Row], places: &[usize]) -> Table {
    let prices = Prices::of(scenario);
    let lines: Vec<Line<'_>> = places
        .iter()
        .map(|&place| Line::new(place, &rows[place], prices))
        .collect();
    let mut table = Table::new(kind);
    let places = lines.iter().map(|line| line.place as u32);
    table.push("row", Data::counts(places));
    table.push("fidelity", Data::texts(lines.iter().map(Line::fidelity)));
    table.push("status", Data::texts(lines.iter().map(Line::status)));
    table.push(
        "reason",
        Data::Text(lines.iter().map(Line::reason).collect()),
    );
    push_design(&mut table, scenario, &lines);
    let priced: Vec<Option<Priced>> = lines.iter().map(|line| line.priced).collect();
    push_results(&mut table, &priced);
    push_margins(&mut table, &lines);
    table
}

fn push_design(table: &mut Table, scenario: &Scenario, lines: &[Line<'_>]) {
    for (at, variable) in scenario.space.variables().iter().enumerate() {
        let indices = lines.iter().map(|line| line.row.key[at]);
        let description = format!("Value of {} in the scenario file.", variable.path());
        table.push_family(
            &column_name(variable),
            variable.si_unit().unwrap_or_default(),
            &description,
            values(variable, indices),
        );
    }
}

/// Values of an opened key in SI; whole numbers and words as they are.
fn values(variable: &Variable, indices: impl Iterator<Item = u32>) -> Data {
    let is_number = variable.si(0).is_some();
    match (is_number, variable.si_unit()) {
        (true, Some(_)) => Data::Number(indices.map(|index| variable.si(index)).collect()),
        (true, None) => {
            let whole = |index| variable.si(index).map(|value| value as u32);
            Data::Count(indices.map(whole).collect())
        }
        (false, _) => Data::texts(indices.map(|index| variable.text(index))),
    }
}

/// `strings.side` in metres is `design_strings_side_m`.
fn column_name(variable: &Variable) -> String {
    let path = variable.path().replace('.', "_");
    match variable.si_unit() {
        None | Some("1") => format!("design_{path}"),
        Some(unit) => format!("design_{path}_{}", unit.to_lowercase().replace('/', "_")),
    }
}

/// Adds what comes out of designs; nothing for those without a price.
pub fn push_results(table: &mut Table, designs: &[Option<Priced>]) {
    let mut push = |name: &str, value: &dyn Fn(&Summary, &Money) -> f64| {
        let of = |priced: &Priced| value(&priced.year, &priced.money);
        table.push(name, numbers(designs, &of));
    };
    push("capital", &|_, money| money.capital.total);
    push("yearly_cost", &|_, money| money.yearly_cost);
    push("carbon_g_kwh", &|_, money| {
        money.carbon_kg_per_j * J_PER_KWH * G_PER_KG
    });
    push("delivered_kwh", &|year, _| year.delivered_j / J_PER_KWH);
    push("steam_t", &|year, _| year.steam_kg / KG_PER_T);
    push("land_m2", &|year, _| year.land_m2);
    push("mirror_area_m2", &|year, _| year.mirror_area_m2);
    push("steel_kg", &|year, _| year.steel_kg);
    push("glass_kg", &|year, _| year.glass_kg);
    for (at, name) in FACTORS.into_iter().enumerate() {
        push(name, &move |year, _| year.factors()[at]);
    }
    push("optical", &|year, _| year.optical_efficiency());
    push("receiver", &|year, _| {
        year.receiver_out_j / aperture_j(year)
    });
    push("peak_flux_w_m2", &|year, _| year.peak_flux_w_m2);
    push("drive_residual_mrad", &|year, _| {
        year.residual_rad * MRAD_PER_RAD
    });
    push("common_turn_bound_mrad", &|year, _| {
        year.bound_rad * MRAD_PER_RAD
    });
    push("defocused_share", &|year, _| {
        year.defocused_j / aperture_j(year)
    });
    let costs = numbers(designs, &|priced| priced.cost_per_kwh);
    table.push("cost_per_kwh", costs);
}

fn aperture_j(year: &Summary) -> f64 {
    year.chain_j[year.chain_j.len() - 1]
}

fn numbers(designs: &[Option<Priced>], value: &dyn Fn(&Priced) -> f64) -> Data {
    let of_design = |design: &Option<Priced>| {
        let value = value(design.as_ref()?);
        Some(value).filter(|value| value.is_finite())
    };
    Data::Number(designs.iter().map(of_design).collect())
}

fn push_margins(table: &mut Table, lines: &[Line<'_>]) {
    for (at, key) in Margins::keys().into_iter().enumerate() {
        let margin = |line: &Line<'_>| Some(line.margins.values()[at]).filter(|m| m.is_finite());
        table.push_family(
            &format!("margin_{key}"),
            "1",
            &format!("Distance to the limit {key} as a share of it; negative is broken."),
            Data::Number(lines.iter().map(margin).collect()),
        );
    }
}

/// The design of one row of `designs`, as a point of the scenario's space. What the scenario has
/// since fixed keeps the fixed value.
pub fn key_of_row(
    run: &Path,
    designs: &Table,
    row: u32,
    scenario: &Scenario,
) -> Result<DesignKey, Failure> {
    let rows = designs.column("row").map_or(0, Data::len);
    let place = row as usize;
    if place >= rows {
        return Err(Failure::NoSuchRow {
            run: run.to_path_buf(),
            row,
            last: rows.saturating_sub(1),
        });
    }
    let index = |variable: &Variable| {
        let Some(data) = designs.column(&column_name(variable)) else {
            return Ok(variable.start());
        };
        index_of(variable, data, place).ok_or(Failure::OffSpace {
            row,
            key: variable.path(),
        })
    };
    let variables = scenario.space.variables();
    Ok(DesignKey(
        variables.iter().map(index).collect::<Result<_, _>>()?,
    ))
}

fn index_of(variable: &Variable, data: &Data, place: usize) -> Option<u32> {
    let is_value = |index: &u32| match data {
        Data::Number(values) => values[place].is_some() && variable.si(*index) == values[place],
        Data::Count(values) => {
            values[place].is_some_and(|value| variable.si(*index) == Some(f64::from(value)))
        }
        Data::Text(values) => values[place].as_deref() == Some(variable.text(*index).as_str()),
        Data::Flag(_) => false,
    };
    (0..variable.count()).find(is_value)
}
