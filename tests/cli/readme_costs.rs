//! What README says of strings against other concepts, found again from the designs that it tells of.

use std::fs;

use ledger::{Item, Rates};
use serde_json::Value;

use crate::readme_designs::{file, laid, names};
use crate::support::{folder, json, number, ran, run, tautfield, top};

fn readme() -> String {
    fs::read_to_string(top().join("README.md")).unwrap()
}

/// Rows of the table whose head holds these words, cell by cell, the head first.
fn table<'a>(readme: &'a str, head: &str) -> Vec<Vec<&'a str>> {
    let lines = readme.lines().skip_while(|line| !line.contains(head));
    let rows = lines.take_while(|line| line.starts_with('|'));
    let cells = |row: &'a str| {
        let cells = row.trim_matches('|').split('|');
        cells.map(|cell| cell.trim().trim_matches('*')).collect()
    };
    rows.filter(|row| !row.contains("---")).map(cells).collect()
}

/// A whole number with commas between thousands.
fn whole(number: f64) -> String {
    let digits = format!("{number:.0}");
    let mut told = String::new();
    for (at, digit) in digits.chars().enumerate() {
        if at > 0 && (digits.len() - at).is_multiple_of(3) {
            told.push(',');
        }
        told.push(digit);
    }
    told
}

/// Every cost of the table of concepts is that of a committed design, and every such design is told.
#[test]
fn every_cost_of_the_table_of_concepts_is_found() {
    let readme = readme();
    let rows = table(&readme, "| cost of heat or electricity, USD/kWh |");
    let (head, rows) = rows.split_first().unwrap();
    let mut wrong = Vec::new();
    let mut untold = names();
    untold.retain(|name| !name.ends_with("-duty") && !name.contains("-singles-"));
    for row in rows {
        let (heat, seeds) = row[0].split_once(", ").unwrap();
        let heat = heat
            .replace("hot air", "air")
            .replace("electricity", "power");
        let seeds: Vec<&str> = seeds
            .split(|letter: char| !letter.is_ascii_digit())
            .filter(|seed| !seed.is_empty())
            .collect();
        for (concept, costs) in head.iter().zip(row).skip(1) {
            let told: Vec<&str> = costs.split(", ").collect();
            assert_eq!(told.len(), seeds.len(), "{row:?}");
            for (told, seed) in told.into_iter().zip(&seeds) {
                let name = format!("{heat}-{concept}-{seed}");
                untold.retain(|untold| *untold != name);
                let priced = json(&run(&["price", &file(&name), "--json"]));
                let digits = told.split_once('.').unwrap().1.len();
                let found = format!("{:.digits$}", number(&priced, "/money/cost_per_kwh"));
                if found != told {
                    wrong.push(format!("{name} costs {found}, not {told}"));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
    assert!(untold.is_empty(), "README does not tell of {untold:?}");
}

/// Strings held against pedestals, each by the one design that README tells of.
struct Duel {
    found: Value,
}

impl Duel {
    /// The designs found for one duty.
    fn of(scenario: &str, heat: &str, duty: &str) -> Self {
        let rivals = ["strings", "pedestals"].map(|rival| (rival, format!("{heat}-{rival}-duty")));
        let out = folder();
        let mut versus = tautfield();
        versus.args([
            "versus", scenario, "--json", "--total", "1", "--draws", "16",
        ]);
        versus.args(["--duty", duty, "--out"]).arg(out.path());
        for (rival, name) in rivals {
            let concept = ("concept".to_owned(), rival.to_owned());
            for (key, value) in laid(&name).into_iter().chain([concept]) {
                versus.args(["--rival", &format!("{rival}:{key}={value}")]);
            }
        }
        let done = ran(&mut versus);
        assert_eq!(done.code, Some(0), "{}", done.err);
        let found = json(&done);
        assert_eq!(found["rivals"].as_array().unwrap().len(), 2, "{}", done.err);
        Self { found }
    }

    /// A number of each, strings first.
    fn both(&self, pointer: &str) -> [f64; 2] {
        [0, 1].map(|rival| number(&self.found, &format!("/rivals/{rival}{pointer}")))
    }

    /// What each pays for some terms of the cost [per kWh].
    fn terms(&self, names: &[&str]) -> [f64; 2] {
        let each = names
            .iter()
            .map(|name| self.both(&format!("/terms_per_kwh/{name}")));
        each.fold([0.0; 2], |sum, term| [sum[0] + term[0], sum[1] + term[1]])
    }

    /// How much more strings pay for a term than pedestals [USD/MWh].
    fn more(&self, term: &str) -> f64 {
        let [strings, pedestals] = self.terms(&[term]);
        1e3 * (strings - pedestals)
    }

    /// The price at which both cost the same, below today's or above; nothing where there is none.
    fn equal(&self, price: &str, side: &str) -> Option<f64> {
        let crossings = self.found["crossings"].as_array().unwrap();
        let found = crossings.iter().find(|crossing| crossing["price"] == price);
        found.unwrap()[side].as_f64()
    }

    /// Prices at which both cost the same, in all.
    fn crossings(&self) -> usize {
        let sides = ["steel", "glass", "drives", "controls"].into_iter();
        let ends = sides.flat_map(|price| ["equal_below", "equal_above"].map(|end| (price, end)));
        ends.filter(|(price, end)| self.equal(price, end).is_some())
            .count()
    }
}

/// Asserts that README says all this.
fn tells(all: &[String]) {
    let told = readme();
    let told = told.split_whitespace().collect::<Vec<_>>().join(" ");
    let missing: Vec<&String> = all.iter().filter(|words| !told.contains(*words)).collect();
    assert!(missing.is_empty(), "README does not say: {missing:#?}");
}

const STEAM: &str = "scenarios/process-steam.toml";
const AIR: &str = "scenarios/hot-air.toml";

/// Rows of the table of one duty: their names, and what stands under strings and pedestals.
fn rows_of(duel: &Duel) -> [(&'static str, [String; 2]); 7] {
    let year = |of: &str| duel.both(&format!("/best/year/{of}"));
    let [steel, glass] = ["steel_kg", "glass_kg"].map(year);
    let (count, area) = (duel.both("/best/design/count"), year("mirror_area_m2"));
    let left = |step: &str| duel.both(&format!("/best/energy_kwh/after_{step}"));
    let steps = ["blocking", "cosine", "intercept", "attenuation"].map(left);
    let light = |of: usize| steps[0][of] / steps[1][of] * steps[2][of] / steps[3][of];
    let field = |of: usize| {
        let (unit, what) = [("strings", " of mirror"), ("heliostats", "")][of];
        let area = whole((area[of] / 10.0).round() * 10.0);
        format!("{} {unit}, {area} m²{what}", whole(count[of]))
    };
    let masses = |of: usize| format!("{:.0} t, {:.0} t", steel[of] / 1e3, glass[of] / 1e3);
    let per_mwh = |terms: &[&str]| {
        let each = duel.terms(terms);
        each.map(|per_kwh| format!("{:.1} USD/MWh", 1e3 * per_kwh))
    };
    [
        (
            "cost of heat",
            duel.both("/cost_per_kwh")
                .map(|of| format!("{of:.4} USD/kWh")),
        ),
        ("field", [0, 1].map(field)),
        (
            "light past shading, blocking and aperture",
            [0, 1].map(|of| format!("{:.1} %", 100.0 * light(of))),
        ),
        ("steel, glass", [0, 1].map(masses)),
        ("drives", per_mwh(&["Drives"])),
        (
            "field steel, mirrors, ground works",
            per_mwh(&["Field steel", "Mirrors", "Field ground works"]),
        ),
        ("upkeep", per_mwh(&["Keeping it running"])),
    ]
}

/// The table of one duty, and what is said of it.
#[test]
fn strings_and_pedestals_of_one_duty_differ_as_told() {
    let duel = Duel::of(STEAM, "steam", "6.28 GWh");
    let readme = readme();
    let rows = table(&readme, "| | strings | pedestals |");
    for (name, found) in rows_of(&duel) {
        let row = rows.iter().find(|row| row[0] == name).unwrap();
        assert_eq!(row[1..], found, "{name}");
    }
    let more = |term: &str| format!("{:.1}", duel.more(term));
    let less = |term: &str| format!("{:.1}", -duel.more(term));
    let [of_strings, of_pedestals] = duel.both("/mirrors_share");
    tells(&[
        "at one duty, 6.28 GWh of steam a year".to_owned(),
        format!(
            "Strings save on drives ({} USD/MWh) and upkeep ({}), and pay more for ground works ({}), steel ({}), labour ({}), tower and receiver ({}) and site ({}):",
            less("Drives"),
            less("Keeping it running"),
            more("Field ground works"),
            more("Field steel"),
            more("Labour and freight"),
            more("Tower and receiver"),
            more("Site"),
        ),
        format!(
            "the two cost the same where drives cost {:.0} USD each instead of 90, or steel {:.2} USD/kg instead of 2.60; no price of glass or controllers makes them equal",
            duel.equal("drives", "equal_above").unwrap(),
            duel.equal("steel", "equal_above").unwrap(),
        ),
        format!(
            "take {:.0} % (strings) and {:.0} % (pedestals) of what these plants for steam cost to build",
            100.0 * of_strings,
            100.0 * of_pedestals,
        ),
    ]);
    assert_eq!(duel.crossings(), 2);
}

#[test]
fn strings_and_pedestals_for_hot_air_differ_as_told() {
    let duel = Duel::of(AIR, "air", "3.7 GWh");
    let [strings, pedestals] = duel.both("/cost_per_kwh");
    let [of_strings, of_pedestals] = duel.both("/mirrors_share").map(|share| 100.0 * share);
    tells(&[
        format!(
            "For 3.7 GWh of hot air ({strings:.4} against {pedestals:.4} USD/kWh) only drives at {} USD each would make them equal.",
            whole(duel.equal("drives", "equal_above").unwrap()),
        ),
        format!(
            "{of_strings:.0} % (strings) and {of_pedestals:.0} % (pedestals) of those for hot air"
        ),
    ]);
    assert_eq!(duel.crossings(), 1);
}

/// What README calls prices, and what grows dearer together with the first.
const PRICES: [(&str, &[Item]); 4] = [
    (
        "drives",
        &[
            Item::DriveUnit,
            Item::DriveGear,
            Item::SpareDrive,
            Item::DriveReplacement,
        ],
    ),
    ("steel", &[Item::Steel]),
    ("glass", &[Item::Glass]),
    ("controllers", &[Item::Controller]),
];

/// How many times their price some items cost where two designs deliver a kilowatt-hour for the same: costs are even
/// in every price, so that two prices of each tell. Nothing where that is further than twenty times away.
fn equal_at(items: &[Item], designs: [&str; 2]) -> Option<f64> {
    let rates = Rates::default_usd();
    let costs = |times: f64| {
        designs.map(|design| {
            let sets = items.iter().map(|&item| {
                let rate = times * rates.get(item).value;
                format!("rates.{}={rate} USD/{}", item.key(), item.unit())
            });
            let sets: Vec<String> = sets.flat_map(|set| ["--set".to_owned(), set]).collect();
            let design = file(design);
            let sets = sets.iter().map(String::as_str);
            let typed: Vec<&str> = ["price", &design, "--json"]
                .into_iter()
                .chain(sets)
                .collect();
            number(&json(&run(&typed)), "/money/cost_per_kwh")
        })
    };
    let [now, then] = [1.0, 2.0].map(|times| {
        let [strings, pedestals] = costs(times);
        strings - pedestals
    });
    let times = 1.0 + now / (now - then);
    (0.05..20.0).contains(&times).then_some(times)
}

/// Designs of one search each: what stands there, and the prices at which strings and pedestals cost the same.
#[test]
fn strings_and_pedestals_for_electricity_differ_as_told() {
    let designs = ["power-strings-1", "power-pedestals-1"];
    let [strings, pedestals] =
        designs.map(|design| json(&run(&["price", &file(design), "--json"])));
    let count = |of: &Value| whole(number(of, "/design/count"));
    let gwh = |of: &Value| number(of, "/year/delivered_kwh") / 1e6;
    let mut told = vec![format!(
        "{} strings of {} mirrors of {:.2} m deliver {:.1} GWh, and {} heliostats of {:.0} m² {:.1} GWh",
        count(&strings),
        number(&strings, "/design/mirrors"),
        number(&strings, "/design/side_m"),
        gwh(&strings),
        count(&pedestals),
        number(&pedestals, "/design/area_m2"),
        gwh(&pedestals),
    )];
    for (name, items) in PRICES {
        if let Some(times) = equal_at(items, designs) {
            let usd = times * Rates::default_usd().get(items[0]).value;
            told.push(format!("{name} at {usd:.0} USD"));
        }
    }
    assert_eq!(told.len(), 3, "a price more or less: {told:?}");
    tells(&told);
}

/// Single mirrors are searched less, and told in a sentence.
#[test]
fn single_mirrors_cost_what_is_told() {
    let [steam, air] = ["steam", "air"].map(|heat| {
        let priced = run(&["price", &file(&format!("{heat}-singles-1")), "--json"]);
        number(&json(&priced), "/money/cost_per_kwh")
    });
    tells(&[format!(
        "Single mirrors with two drives each cost far more: {steam:.4} USD/kWh of steam, {air:.4} of hot air"
    )]);
}

/// Searches with other seeds end at other designs that cost about the same.
#[test]
fn other_seeds_end_as_told() {
    let seeds = [1, 2, 3].map(|seed| {
        let values = laid(&format!("steam-strings-{seed}"));
        let value = |key: &str| {
            let found = values.iter().find(|(of, _)| of == key);
            found.unwrap().1.clone()
        };
        let cost = json(&run(&[
            "price",
            &file(&format!("steam-strings-{seed}")),
            "--json",
        ]));
        let mirrors: u32 = value("strings.mirrors").parse().unwrap();
        (number(&cost, "/money/cost_per_kwh"), mirrors)
    });
    let [first, second, third] = seeds.map(|(cost, _)| format!("{cost:.4}"));
    let mirrors = seeds.map(|(_, mirrors)| mirrors);
    tells(&[format!(
        "Seeds 1, 2 and 3 end at {first}, {second} and {third} USD/kWh by different ways: {} to {} mirrors,",
        mirrors.iter().min().unwrap(),
        mirrors.iter().max().unwrap(),
    )]);
}
