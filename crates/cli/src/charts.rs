//! Results as charts and as the page of the run folder.

use ledger::J_PER_KWH;
use model::Detail;
use report::chart::{
    Calendar, ChainStep, Chart, DesignPoint, FieldPlan, FluxChart, FrontChart, LightChain,
    MoneyChart, MoneyItem, PlanString, Sector,
};
use report::{Data, ReportError, Table};
use scenario::{Concept, Scenario};

use crate::chain;
use crate::cost_parts::other_heat;
use crate::day_time;
use crate::evaluated::Evaluated;
use crate::failure::Failure;
use crate::inputs::Inputs;
use crate::product::Product;
use crate::run::Run;
use crate::sensitivity::charts::Varied;
use crate::walk_off::walk_off;
use crate::{page, sensitivity, shared_drive, sweep};

/// What the charts are drawn from.
pub struct Shown<'a> {
    /// Scenario and weather.
    pub inputs: &'a Inputs,
    /// Every design asked for.
    pub designs: &'a Table,
    /// The front.
    pub front: &'a Table,
    /// What the cost of the best design rests on.
    pub varied: Varied<'a>,
    /// Row of the best design, if any is feasible.
    pub best_row: Option<usize>,
    /// The best design and its hours and mirrors.
    pub best: Option<(&'a Evaluated, &'a Detail)>,
}

/// Draws every chart, and the page that holds them, into the run folder.
pub fn write(run: &mut Run, shown: &Shown<'_>) -> Result<(), Failure> {
    let charts = draw(shown)?;
    for (name, chart) in &charts {
        run.write_chart(name, chart)?;
    }
    let page = page::page(run.path(), shown, &charts)?;
    run.write_page(page::NAME, &page)
}

/// Every chart with its name.
fn draw(shown: &Shown<'_>) -> Result<Vec<(&'static str, Chart)>, ReportError> {
    let scenario = &shown.inputs.scenario;
    let best = shown.best.map(|(best, _)| best);
    let detail = shown.best.map(|(_, detail)| detail);
    let mut charts = vec![
        ("front", front(shown).draw()?),
        ("field", field(scenario, shown.best).draw()?),
        ("light", light(scenario, best).draw()?),
        ("money", money(scenario, best).draw()?),
        (
            Product::of(scenario).chart,
            delivered(scenario, detail).draw()?,
        ),
        ("flux", flux(scenario, detail).draw()?),
        ("walk_off", walk_off(shown.inputs, best).draw()?),
    ];
    if scenario.concept() == Concept::Strings {
        charts.extend(draw_shared_drive(shown)?);
    }
    let cost_per_kwh = best.map_or(f64::NAN, |best| best.money.levelised_per_kwh());
    charts.extend(sensitivity::charts::draw(
        &shown.varied,
        scenario,
        cost_per_kwh,
    )?);
    Ok(charts)
}

/// What sharing a drive does; of strings only.
fn draw_shared_drive(shown: &Shown<'_>) -> Result<[(&'static str, Chart); 4], ReportError> {
    let best = shown.best.map(|(best, _)| best);
    Ok([
        (
            "mirrors_per_string",
            sweep::mirrors_per_string(shown.inputs, best).draw()?,
        ),
        (
            "sun_misses",
            shared_drive::sun_misses(shown.inputs, shown.best).draw()?,
        ),
        (
            "string_lengths",
            shared_drive::lengths(shown.inputs, shown.best).draw()?,
        ),
        (
            "shared_drive",
            shared_drive::cost(shown.inputs, shown.best).draw()?,
        ),
    ])
}

fn front(shown: &Shown<'_>) -> FrontChart {
    let rows = shown.designs.column("row").map_or(0, Data::len);
    let number = |name: &str, row: usize| match shown.designs.column(name) {
        Some(Data::Number(values)) => values[row],
        _ => None,
    };
    let on_front = match shown.front.column("row") {
        Some(Data::Count(rows)) => rows.as_slice(),
        _ => &[],
    };
    let point = |row: usize| {
        Some(DesignPoint {
            cost_per_kwh: number("cost_per_kwh", row)?,
            capital: number("capital", row)?,
            carbon_g_kwh: number("carbon_g_kwh", row)?,
            on_front: on_front.contains(&Some(row as u32)),
        })
    };
    let designs: Vec<DesignPoint> = (0..rows).filter_map(point).collect();
    FrontChart {
        currency: shown.inputs.scenario.currency.clone(),
        product: Product::of(&shown.inputs.scenario).name.to_owned(),
        not_feasible: rows - designs.len(),
        designs,
        others: other_heat(&shown.inputs.scenario),
    }
}

fn field(scenario: &Scenario, best: Option<(&Evaluated, &Detail)>) -> FieldPlan {
    let area = &scenario.field;
    let strings = best.and_then(|(best, _)| best.design.field.strings());
    let panel_width_m = best.map_or(1.0, |(_, detail)| detail.plan.width_m[0]);
    FieldPlan {
        strings: best.map_or_else(Vec::new, |(_, detail)| plan_strings(detail)),
        mirrors_per_string: strings.map(|strings| strings.mirrors),
        panel_width_m,
        sector: Sector {
            centre_azimuth_rad: area.sector_centre_rad,
            half_rad: area.sector_half_rad,
        },
    }
}

fn plan_strings(detail: &Detail) -> Vec<PlanString> {
    let plan = &detail.plan;
    let string = |row: usize| {
        let mirrors = plan.strings[row].mirrors();
        let bearing_rad = plan.strings[row].bearing_rad;
        let along = [libm::sin(bearing_rad), libm::cos(bearing_rad)];
        let edge = |mirror: usize, side: f64| {
            let half_m = side * plan.width_m[mirror] / 2.0;
            [
                plan.x_m[mirror] + half_m * along[0],
                plan.y_m[mirror] + half_m * along[1],
            ]
        };
        let area_m2: f64 = mirrors.clone().map(|mirror| plan.area_m2(mirror)).sum();
        let light_j: f64 = detail.mirrors[mirrors.clone()]
            .iter()
            .map(|mirror| mirror.aperture_j)
            .sum();
        PlanString {
            ends_m: [edge(mirrors.start, -1.0), edge(mirrors.end - 1, 1.0)],
            light_kwh_m2: light_j / J_PER_KWH / area_m2,
        }
    };
    (0..plan.strings.len()).map(string).collect()
}

fn light(scenario: &Scenario, best: Option<&Evaluated>) -> LightChain {
    let steps = best.map_or_else(Vec::new, |best| chain::steps(&best.summary));
    LightChain {
        delivered: format!("delivered {}", Product::of(scenario).name),
        incoming_j: best.map_or(0.0, |best| best.summary.chain_j[0]),
        steps: steps
            .into_iter()
            .map(|step| ChainStep {
                label: step.label.to_owned(),
                left_j: step.left_j,
                is_heat: step.is_heat,
            })
            .collect(),
    }
}

/// The capital, each item with its share of contingency, engineering and the like.
fn money(scenario: &Scenario, best: Option<&Evaluated>) -> MoneyChart {
    let lines = best.map_or_else(Vec::new, |best| {
        ledger::bill(&best.summary.quantities, &scenario.rates).collect()
    });
    let items = lines
        .iter()
        .filter(|line| !line.item.group().is_yearly())
        .map(|line| MoneyItem {
            group: line.item.group().title().to_lowercase(),
            label: line.item.key().replace('_', " "),
            amount: line.cost * scenario.finance.multiplier(line.item.group()).capital,
        });
    MoneyChart {
        currency: scenario.currency.clone(),
        what: "capital".to_owned(),
        items: items.collect(),
    }
}

fn delivered(scenario: &Scenario, detail: Option<&Detail>) -> Calendar {
    let hours = detail.map_or(&[][..], |detail| &detail.hours);
    Calendar {
        what: format!("delivered {}", Product::of(scenario).name),
        power_w: hours.iter().map(|hour| hour.delivered_w).collect(),
    }
}

fn flux(scenario: &Scenario, detail: Option<&Detail>) -> FluxChart {
    let map = detail.map(|detail| &detail.flux);
    let spreading = map.and_then(|map| map.spreading);
    FluxChart {
        when: map.map_or_else(String::new, |map| day_time::day_and_hour(map.hour)),
        width_m: map.map_or(1.0, |map| map.width_m),
        height_m: map.map_or(1.0, |map| map.height_m),
        columns: map.map_or(0, |map| map.columns),
        flux_w_m2: map.map_or_else(Vec::new, |map| map.flux_w_m2.clone()),
        limit_w_m2: scenario.receiver.flux_limit_w_m2,
        spreading: spreading.map(|cost| (cost.lost_share, cost.middle_flux_w_m2)),
    }
}
