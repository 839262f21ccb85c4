//! Rivals side by side, and what drives the difference.

use ledger::{Item, J_PER_KWH};
use quantity::Measure;
use report::text::{Align, TextTable};
use report::{Section, figures};

use crate::chain;
use crate::text::money::cost;
use crate::text::search::duty_words;
use crate::units;
use crate::versus::{Contest, Crossing, PRICES, Reach, Standing};

const G_PER_KG: f64 = 1000.0;

/// In what the comparison is fair, and in what not.
pub const FAIR: &str = "Every rival was searched with the same total and seed for the same duty, under \
                        the same weather, prices and rules; each took its own tower, aperture and sizes.";

/// All of it, the answer first.
pub fn sections(of: &Contest) -> Vec<Section> {
    let mut sections = vec![Section::opening(answer_words(of))];
    let Some(first) = of.standings.first() else {
        return sections;
    };
    let currency = &first.inputs.scenario.currency;
    sections.extend([side_by_side(of, currency), chains(of), terms(of, first)]);
    if of.standings.len() > 1 {
        sections.extend([crossings(of), chances(of)]);
    }
    sections.push(budget(of));
    sections
}

/// The answer in a few words.
pub fn answer_words(of: &Contest) -> String {
    let lost = match of.lost.join(", ") {
        none if none.is_empty() => String::new(),
        names => format!(" No design of {names} keeps every limit and serves it."),
    };
    let Some((place, winner)) = of.winner() else {
        return format!("No rival serves the duty.{lost}");
    };
    let scenario = &winner.inputs.scenario;
    let currency = &scenario.currency;
    let others = of.standings.iter().enumerate();
    let others = others
        .filter(|(other, _)| *other != place)
        .map(|(_, other)| {
            let dearer = other.cost_per_kwh / winner.cost_per_kwh - 1.0;
            format!("{} {} more", other.name, figures::percent(dearer, 1))
        });
    let others: Vec<String> = others.collect();
    let beside = match others.join(", ") {
        none if none.is_empty() => String::new(),
        others => format!("; {others}"),
    };
    let duty = of.duty.map_or_else(String::new, duty_words);
    format!(
        "Cheapest for {duty}: {}, at {} {currency}/kWh{beside}.{lost}",
        winner.name,
        cost(winner.cost_per_kwh),
    )
}

/// A table with a column for each rival.
fn table(of: &Contest, heading: &str) -> TextTable {
    let mut headings = vec![(heading, Align::Left)];
    let names = of.standings.iter();
    headings.extend(names.map(|standing| (standing.name.as_str(), Align::Right)));
    TextTable::new(&headings)
}

fn row(table: &mut TextTable, of: &Contest, name: &str, value: impl Fn(&Standing) -> String) {
    let values = of.standings.iter().map(value);
    table.row([name.to_owned()].into_iter().chain(values));
}

/// How one row tells of a rival.
type Told = fn(&Standing) -> String;

/// What is told side by side; `{currency}` stands for its code.
const ROWS: [(&str, Told); 17] = [
    ("cost of a kilowatt-hour, {currency}", |of| {
        cost(of.cost_per_kwh)
    }),
    ("whole demand, the rest bought, {currency}", |of| {
        let whole_per_j = of
            .priced
            .money
            .whole_demand_per_j(of.priced.summary.demand_j);
        cost(whole_per_j * J_PER_KWH)
    }),
    ("capital, million {currency}", |of| {
        figures::grouped(of.priced.money.capital.total / 1e6, 3)
    }),
    ("yearly cost, {currency}", |of| {
        figures::grouped(of.priced.money.yearly_cost, 0)
    }),
    ("delivered in a year, MWh", |of| {
        figures::grouped(of.priced.summary.delivered_j / J_PER_KWH / 1e3, 0)
    }),
    ("mirrors", |of| {
        units::measured(of.priced.summary.mirror_area_m2, Measure::Area, 4)
    }),
    ("mirrors' share of direct capital", |of| {
        figures::percent(of.mirrors_share(), 1)
    }),
    ("steel", |of| mass(of.priced.summary.steel_kg)),
    ("glass", |of| mass(of.priced.summary.glass_kg)),
    ("concrete", |of| {
        units::measured(of.priced.summary.concrete_m3, Measure::Volume, 3)
    }),
    ("drives", |of| amount(of, Item::DriveUnit)),
    ("controllers", |of| amount(of, Item::Controller)),
    ("land", |of| {
        units::measured(of.priced.summary.land_m2, Measure::Land, 3)
    }),
    ("aim height", |of| {
        units::measured(of.priced.design.aim_height_m, Measure::Length, 3)
    }),
    ("aperture width", |of| {
        units::measured(of.priced.design.aperture_width_m, Measure::Length, 3)
    }),
    ("aperture height", |of| {
        units::measured(of.priced.design.aperture_height_m, Measure::Length, 3)
    }),
    ("carbon, g/kWh", |of| {
        let g_kwh = of.priced.money.carbon_kg_per_j * J_PER_KWH * G_PER_KG;
        figures::significant(g_kwh, 3)
    }),
];

fn side_by_side(of: &Contest, currency: &str) -> Section {
    let mut table = table(of, "");
    for (name, value) in ROWS {
        row(&mut table, of, &name.replace("{currency}", currency), value);
    }
    Section::new("Side by side", table)
}

fn mass(mass_kg: f64) -> String {
    units::measured(mass_kg, Measure::Mass, 3)
}

fn amount(of: &Standing, item: Item) -> String {
    figures::grouped(of.priced.summary.quantities.get(item), 0)
}

fn chains(of: &Contest) -> Section {
    let mut table = table(of, "left of the step before");
    let names = of.standings.first().map_or_else(Vec::new, |first| {
        chain::steps(&first.priced.summary)
            .into_iter()
            .map(|step| step.label)
            .collect()
    });
    for (place, name) in names.into_iter().enumerate() {
        row(&mut table, of, name, |of| {
            let year = &of.priced.summary;
            let steps = chain::steps(year);
            let before = place
                .checked_sub(1)
                .map_or(year.chain_j[0], |at| steps[at].left_j);
            figures::percent(steps[place].left_j / before, 1)
        });
    }
    row(&mut table, of, "delivered, of the sun on the glass", |of| {
        figures::percent(of.priced.summary.delivered_share(), 1)
    });
    Section::new("Losses of a year", table)
}

fn terms(of: &Contest, first: &Standing) -> Section {
    let currency = &first.inputs.scenario.currency;
    let mut table = table(of, &format!("{currency}/MWh"));
    let per_mwh = |per_kwh: f64| figures::grouped(per_kwh * 1e3, 2);
    for (place, term) in first.terms.iter().enumerate() {
        let name = term.name.to_lowercase();
        row(&mut table, of, &name, |of| per_mwh(of.terms[place].per_kwh));
    }
    row(&mut table, of, "all of it", |of| per_mwh(of.cost_per_kwh));
    let section = Section::new("What the cost is made of", table);
    match of.standings.len() {
        1 => section,
        _ => section.and(drivers(of, &first.name)),
    }
}

/// The largest terms of each difference, as points.
fn drivers(of: &Contest, first: &str) -> Vec<String> {
    const TOLD: usize = 3;
    let rivals = of.standings.iter().skip(1);
    rivals
        .map(|rival| {
            let mut terms = of.differences(rival);
            terms.sort_by(|a, b| b.1.abs().total_cmp(&a.1.abs()));
            let signed = |per_kwh: f64| {
                let sign = if per_kwh < 0.0 { "-" } else { "+" };
                format!("{sign}{}", figures::grouped(per_kwh.abs() * 1e3, 2))
            };
            let told: Vec<String> = terms
                .iter()
                .take(TOLD)
                .map(|(name, per_kwh)| format!("{} {}", name.to_lowercase(), signed(*per_kwh)))
                .collect();
            let whole: f64 = terms.iter().map(|(_, per_kwh)| per_kwh).sum();
            format!(
                "{} against {first}: {} in all, the largest terms {}",
                rival.name,
                signed(whole),
                told.join(", ")
            )
        })
        .collect()
}

fn crossings(of: &Contest) -> Section {
    let mut table = TextTable::new(&[
        ("price", Align::Left),
        ("rival", Align::Left),
        ("now", Align::Right),
        ("equal if down to", Align::Right),
        ("or up to", Align::Right),
    ]);
    for Crossing {
        price,
        rival,
        times,
    } in &of.crossings
    {
        let (price, rival) = (&PRICES[*price], &of.standings[*rival]);
        let now = price.now(rival);
        let shown = |times: &Option<f64>| {
            times.map_or_else(
                || "none".to_owned(),
                |times| figures::significant(times * now, 3),
            )
        };
        let [below, above] = times;
        let unit = format!(
            "{} [{}/{}]",
            price.name,
            rival.inputs.scenario.currency,
            price.unit()
        );
        table.row([
            unit,
            rival.name.clone(),
            figures::significant(now, 3),
            shown(below),
            shown(above),
        ]);
    }
    let first = of.standings.first().map_or("", |first| &first.name);
    Section::new(&format!("Prices at which {first} and a rival cost the same"), table).and(
        "Looked for from a twentieth to twenty times today's price, all else held; each rival takes \
         its cheapest confirmed design again at every price. All drives, and all steel by mass, grow \
         dearer together."
            .to_owned(),
    )
}

fn chances(of: &Contest) -> Section {
    let mut table = TextTable::new(&[
        ("rival", Align::Left),
        ("cheapest in", Align::Right),
        ("search may still gain", Align::Right),
    ]);
    for (standing, chance) in of.standings.iter().zip(&of.chances) {
        table.row([
            standing.name.clone(),
            figures::percent(*chance, 1),
            figures::percent(standing.late_gain, 1),
        ]);
    }
    Section::new("How likely each is cheapest", table).and(format!(
        "Of {} with every price, finance, weather and dust drawn once for all, and mechanism, \
         availability, light and contingency of unproven parts for each by itself; designs held, but each \
         may turn out cheaper by what the second half of its search took off, at most by twice that.",
        figures::counted(of.draws as usize, "draw")
    ))
}

fn budget(of: &Contest) -> Section {
    let mut table = table(of, "heat against the design's");
    let lines = of.standings.first().map_or(&[][..], |first| &first.budget);
    let mut points = Vec::new();
    for (place, line) in lines.iter().enumerate() {
        row(&mut table, of, line.name, |of| {
            let heat = of.budget[place].heat;
            let from = figures::percent(heat.low - 1.0, 1);
            format!("{from} … +{}", figures::percent(heat.high - 1.0, 1))
        });
        let reach = match line.reach {
            Reach::Shared => "drawn for all",
            Reach::Own => "drawn for each",
        };
        points.push(format!("{}: {}; {reach}", line.name, line.source));
    }
    Section::new("What heat is uncertain by", table).and(points)
}
