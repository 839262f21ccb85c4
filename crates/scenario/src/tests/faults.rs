//! Every class of problem, told at the right line and column.

use super::{DEMO, load_text, no_base};
use crate::load;

/// Puts `new` in the demo's line that starts with `old`, and gives that line's number.
fn with_line(old: &str, new: &str) -> (String, usize) {
    let at = DEMO.lines().position(|line| line.starts_with(old)).unwrap();
    let lines: Vec<_> = DEMO
        .lines()
        .enumerate()
        .map(|(line, text)| if line == at { new } else { text })
        .collect();
    (lines.join("\n"), at + 1)
}

/// What is told of the demo's line that starts so, from the column on.
fn at(start: &str, rest: &str) -> String {
    below(start, 0, rest)
}

/// What is told of a line so many below the one of the demo that starts so.
fn below(start: &str, lines: usize, rest: &str) -> String {
    let line = DEMO
        .lines()
        .position(|line| line.starts_with(start))
        .unwrap()
        + 1
        + lines;
    format!("a.toml:{line}:{rest}")
}

/// Checks that the demo with one line changed has exactly these problems, "L" standing for the
/// changed line's number.
#[track_caller]
fn check(old: &str, new: &str, expected: &[&str]) {
    let (text, line) = with_line(old, new);
    let told = load_text(&text).expect_err(new).to_string();
    let expected: Vec<_> = expected
        .iter()
        .map(|one| one.replace(":L:", &format!(":{line}:")))
        .collect();
    assert_eq!(told, expected.join("\n"));
}

#[test]
fn a_bare_number() {
    check(
        "lever",
        "lever = 0.4",
        &["a.toml:L:9: strings.lever: 0.4 has no unit; write one of m, mm, cm, km, in, ft"],
    );
}

#[test]
fn an_unknown_unit() {
    check(
        "lever",
        "lever = \"0.4 mtr\"",
        &[
            "a.toml:L:9: strings.lever: unknown unit \"mtr\", did you mean \"metre\"?; write one of m, mm, cm, km, in, ft",
        ],
    );
}

#[test]
fn a_unit_of_something_else() {
    check(
        "lever",
        "lever = \"0.4 kg\"",
        &[
            "a.toml:L:9: strings.lever: \"kg\" does not measure length; write one of m, mm, cm, km, in, ft",
        ],
    );
}

#[test]
fn out_of_range_with_a_unit_that_fits() {
    check(
        "lever",
        "lever = \"400 m\"",
        &["a.toml:L:9: strings.lever: 400 m is outside 0.05 m … 2 m; did you mean 400 mm?"],
    );
    check(
        "aim_height",
        "aim_height = \"1500 m\"",
        &["a.toml:L:14: tower.aim_height: 1500 m is outside 10 m … 250 m; did you mean 1500 cm?"],
    );
    check(
        "pipe_run",
        "pipe_run = \"-1 m\"",
        &["a.toml:L:12: heat.pipe_run: -1 m is outside 0 m … 10000 m"],
    );
}

#[test]
fn an_unknown_key() {
    check(
        "lever",
        "levr = \"0.4 m\"",
        &["a.toml:L:1: strings.levr: unknown key; did you mean strings.lever?"],
    );
    check(
        "lever",
        "zzz = 1",
        &["a.toml:L:1: strings.zzz: unknown key"],
    );
    check(
        "[storage]",
        "[stor]",
        &["a.toml:L:2: stor: unknown key; did you mean storage?"],
    );
}

#[test]
fn missing_keys_are_told_at_their_section() {
    check(
        "delivery_pressure",
        "",
        &[&at(
            "[heat]",
            "2: heat.delivery_pressure: missing; write for example delivery_pressure = \"16 bar\"",
        )],
    );
    check(
        "power",
        "",
        &[&at(
            "[heat.demand]",
            "7: heat.demand.power: missing; write for example power = \"3 MW\"",
        )],
    );
}

#[test]
fn a_missing_section_is_told_at_the_top() {
    let told = load_text("title = \"x\"")
        .expect_err("nearly empty")
        .to_string();
    assert!(
        told.contains(
            "a.toml:1:1: site.latitude: missing; write for example latitude = \"37 deg\""
        ),
        "{told}"
    );
    assert!(
        told.contains("a.toml:1:1: strings.count: missing; write for example count = 400"),
        "{told}"
    );
    assert!(told.contains("weather.monthly_dni: missing"), "{told}");
}

#[test]
fn broken_toml() {
    let (text, line) = with_line("lever", "lever = \"0.4 m");
    let errors = load_text(&text).expect_err("no closing quote");
    let first = &errors.problems[0];
    assert_eq!(
        (first.place.line, first.key.as_str()),
        (line, ""),
        "{errors}"
    );
    let twice = DEMO.replace("lever =", "side = \"1 m\"\nlever =");
    let errors = load_text(&twice).expect_err("a key twice");
    assert!(errors.to_string().contains("duplicate key"), "{errors}");
}

#[test]
fn wrong_types() {
    check(
        "lever",
        "lever = true",
        &["a.toml:L:9: strings.lever: is a truth value, but text with a unit such as m is wanted"],
    );
    check(
        "mirrors",
        "mirrors = \"15\"",
        &["a.toml:L:11: strings.mirrors: is text, but a whole number is wanted"],
    );
    check(
        "title",
        "title = 5",
        &["a.toml:L:9: title: is a bare number, but text is wanted"],
    );
    check(
        "mirrors",
        "mirrors = 15.5",
        &["a.toml:L:11: strings.mirrors: is 15.5, but a whole number is wanted"],
    );
    let told = load_text("tower = 5").expect_err("no section").to_string();
    let expected =
        "a.toml:1:9: tower: is a bare number, but a section with keys of its own is wanted";
    assert!(told.lines().any(|line| line == expected), "{told}");
}

#[test]
fn words_to_choose_from() {
    check(
        "driven_from",
        "driven_from = \"midle\"",
        &[
            "a.toml:L:15: strings.driven_from: \"midle\" is none of middle, end; did you mean \"middle\"?",
        ],
    );
    check(
        "bearing",
        "bearing = \"sideways\"",
        &["a.toml:L:11: strings.bearing: \"sideways\" is none of radial, cross, fan, best"],
    );
    check(
        "bearing",
        "bearing = \"fan 1.2\"",
        &["a.toml:L:11: strings.bearing: fan 1.2 is outside fan 0 … fan 0.95"],
    );
}

#[test]
fn lists_of_months() {
    let (text, _) = with_line("  \"258", "  \"258 kWh/m2\",");
    let told = load_text(&text).expect_err("seven months").to_string();
    assert_eq!(
        told,
        at(
            "monthly_dni",
            "15: weather.monthly_dni: has 7 values, but 12 are wanted, January first"
        )
    );
    let text = DEMO
        .replace("\"258 kWh/m2\"", "\"258\"")
        .replace("\"122 kWh/m2\"", "\"-1 kWh/m2\"");
    let told = load_text(&text).expect_err("two broken months").to_string();
    assert_eq!(
        told,
        "a.toml:18:3: weather.monthly_dni: 258 has no unit; write one of kWh/m2, MJ/m2, J/m2\n\
         a.toml:18:66: weather.monthly_dni: -1 kWh/m2 is outside 0 kWh/m2 … 450 kWh/m2"
    );
}

#[test]
fn what_cannot_be_opened() {
    check(
        "sector",
        "sector = { from = \"30 deg\", to = \"60 deg\" }",
        &["a.toml:L:10: field.sector: cannot be opened for search; give one value"],
    );
}

#[test]
fn opened_values_that_are_not_laid_out_as_such() {
    for (value, column, fault) in [
        ("{ from = 5 }", 11, "give from and to, or any"),
        (
            "{ frm = 5, to = 9 }",
            13,
            "\"frm\" is no part of it; did you mean from?",
        ),
        ("{ any = 5 }", 19, "any is a list"),
        ("{ any = [] }", 19, "any is empty"),
        (
            "{ from = 5, to = 9, step = 0.5 }",
            38,
            "step 0.5 is no whole number",
        ),
    ] {
        let told = format!(
            "a.toml:L:{column}: strings.mirrors: an opened value is {{ from, to, step, start }} or {{ any, start }}: {fault}"
        );
        check("mirrors", &format!("mirrors = {value}"), &[&told]);
    }
}

#[test]
fn ranges_and_starts() {
    for (value, column, fault) in [
        (
            "{ from = \"1 m\", to = \"0.8 m\" }",
            8,
            "from 1 m is not below to 0.8 m",
        ),
        (
            "{ from = \"0.8 m\", to = \"1 m\", step = \"0 m\" }",
            45,
            "step 0 m does not divide 0.8 m … 1 m into 2 to 1000001 places",
        ),
        (
            "{ from = \"0.8 m\", to = \"1 m\", step = \"1 m\" }",
            45,
            "step 1 m does not divide 0.8 m … 1 m into 2 to 1000001 places",
        ),
        (
            "{ from = \"0.8 m\", to = \"1 m\", start = \"1.2 m\" }",
            46,
            "start 1.2 m is outside 0.8 m … 1 m",
        ),
        (
            "{ from = \"0.8 m\", to = \"1 m\", step = \"2 cm\", start = \"95 cm\" }",
            61,
            "start 95 cm is on no step; the nearest are 0.94 m and 0.96 m",
        ),
        (
            "{ from = \"0.8 m\", to = \"1 m\", step = \"1e-40 m\" }",
            45,
            "step 1e-40 m does not divide 0.8 m … 1 m into 2 to 1000001 places",
        ),
        (
            "{ any = [\"0.8 m\", \"1 m\"], start = \"0.9 m\" }",
            42,
            "start 0.9 m is none of 0.8 m, 1 m",
        ),
        (
            "{ any = [\"0.8 m\", \"800 mm\"] }",
            26,
            "800 mm is listed twice",
        ),
        (
            "{ from = \"0.1 m\", to = \"1 m\" }",
            17,
            "0.1 m is outside 0.2 m … 2.5 m",
        ),
    ] {
        let told = format!("a.toml:L:{column}: strings.side: {fault}");
        check("side", &format!("side = {value}"), &[&told]);
    }
}

/// Numbers whose difference has more digits than can be held are told, not dropped.
#[test]
fn a_range_too_wide_for_exact_digits() {
    check(
        "row_growth",
        "row_growth = { from = 1e-99, to = 0.06, step = 0.001 }",
        &[
            "a.toml:L:48: strings.row_growth: step 0.001 does not divide 1e-99 … 0.06 into 2 to 1000001 places",
        ],
    );
}

#[test]
fn zero_mirrors_and_a_pitch_below_the_side() {
    check(
        "mirrors",
        "mirrors = 0",
        &["a.toml:L:11: strings.mirrors: 0 is outside 1 … 200"],
    );
    check(
        "count",
        "count = -3",
        &["a.toml:L:9: strings.count: -3 is outside 1 … 200000"],
    );
    check(
        "pitch_ratio",
        "pitch_ratio = 0.98",
        &["a.toml:L:15: strings.pitch_ratio: 0.98 is outside 1 … 5"],
    );
}

#[test]
fn values_that_do_not_go_together() {
    check(
        "inner_radius",
        "inner_radius = 5",
        &[&at(
            "outer_radius",
            "16: field.outer_radius: an outer edge at 4 is not beyond the inner edge at 5 aim heights",
        )],
    );
    check(
        "mount_height",
        "mount_height = \"0.4 m\"",
        &[
            "a.toml:L:16: strings.mount_height: mirrors of 0.95 m standing on a corner reach the ground from 0.4 m; raise them above 0.71 of the side",
        ],
    );
    let low = DEMO.replace(
        "30 m\", to = \"60 m\", step = \"0.5 m\", start = \"40 m",
        "10 m\", to = \"60 m\", step = \"0.5 m\", start = \"10 m",
    );
    let tall = low.replace(
        "aperture_height = { from = \"2 m\", to = \"5 m\", step = \"50 mm\", start = \"3.4 m\" }",
        "aperture_height = \"12 m\"",
    );
    let told = load_text(&tall).expect_err("too tall").to_string();
    assert_eq!(
        told,
        at(
            "aperture_height",
            "19: receiver.aperture_height: an aperture 12 m high does not fit an aim height of 10 m"
        )
    );
}

#[test]
fn tables_of_the_sun_that_give_no_sun() {
    let angles = "sun_angles = [\"0 mrad\", \"4 mrad\", \"5 mrad\"]";
    let with = |shape: &str, angles: &str, brightness: &str, told: &str| {
        let given = format!("{shape}\n{angles}\n{brightness}");
        let (text, line) = with_line("daily_swing", &given);
        let found = load_text(&text).expect_err(told).to_string();
        let place = format!("a.toml:{}", line + 1);
        assert_eq!(found, format!("{place}:14: weather.sun_angles: {told}"));
    };
    let table = "sun_shape = \"table\"";
    with(
        table,
        angles,
        "sun_brightness = [1, 0.5]",
        "the table of the sun's brightness has 3 angles and 2 values; give as many in sun_angles \
         as in sun_brightness, at least two",
    );
    with(
        table,
        "sun_angles = [\"1 mrad\", \"4 mrad\", \"5 mrad\"]",
        "sun_brightness = [1, 0.5, 0]",
        "the table starts 1 mrad off the sun's middle; let it start at 0",
    );
    with(
        table,
        "sun_angles = [\"0 mrad\", \"5 mrad\", \"4 mrad\"]",
        "sun_brightness = [1, 0.5, 0]",
        "angles must rise; 4 mrad follows 5 mrad",
    );
    with(
        table,
        angles,
        "sun_brightness = [0, 0, 0]",
        "a sun that is dark at every angle gives no light",
    );
    with(
        "sun_shape = \"disc\"",
        angles,
        "sun_brightness = [1, 0.5, 0]",
        "the sun's brightness is tabled; set sun_shape = \"table\" or take it out",
    );
    with(
        table,
        "sun_angles = [\"0 mrad\"]",
        "sun_brightness = [1, 0.5, 0]",
        "is a list, but a list of two or more is wanted",
    );
}

#[test]
fn weather_given_twice_or_in_part() {
    check(
        "daily_swing",
        "file = \"year.epw\"",
        &[&at(
            "monthly_dni",
            "15: weather: give a weather file or monthly sums, not both",
        )],
    );
}

#[test]
fn one_currency_for_all_prices() {
    check(
        "carbon_price",
        "carbon_price = \"40 EUR/t\"",
        &["a.toml:L:16: finance.carbon_price: EUR, but the scenario's currency is USD"],
    );
    let euros = format!("currency = \"EUR\"\n{DEMO}");
    let told = load_text(&euros)
        .expect_err("built-in prices are in dollars")
        .to_string();
    assert!(told.starts_with("a.toml:1:12: currency: built-in prices are in USD; give in EUR: finance.electricity_price, rates.glass, "), "{told}");
    assert!(
        told.contains("finance.gas_price: USD, but the scenario's currency is EUR"),
        "{told}"
    );
    let odd = format!("currency = \"euro\"\n{DEMO}");
    let told = load_text(&odd).expect_err("no currency").to_string();
    assert!(
        told.contains("\"euro\" is not three capital letters such as USD"),
        "{told}"
    );
}

#[test]
fn rates_in_the_wrong_unit_or_of_nothing() {
    check(
        "[search]",
        "[rates]\nsteel = \"2 USD/m\"\nsteal = \"2 USD/kg\"\nglass = 3\nline = \"5\"\n[search]",
        &[
            &below(
                "[search]",
                1,
                "9: rates.steel: \"USD/m\" does not measure what USD/kg does; write one of USD/kg",
            ),
            &below(
                "[search]",
                2,
                "9: rates.steal: unknown key; did you mean rates.steel?",
            ),
            &below(
                "[search]",
                3,
                "9: rates.glass: is a bare number, but text such as \"2.5 USD/kg\" is wanted",
            ),
            &below(
                "[search]",
                4,
                "8: rates.line: 5 has no unit; write one of USD/kg",
            ),
        ],
    );
}

#[test]
fn bases_that_are_not_there_or_go_round() {
    let text = format!("base = \"gone.toml\"\n{DEMO}");
    let told = load_text(&text).expect_err("no base").to_string();
    assert_eq!(
        told,
        "a.toml:1:8: base: cannot read gone.toml: gone.toml is not there"
    );
    let round = format!("base = \"a.toml\"\n{DEMO}");
    let told = load_text(&round).expect_err("itself").to_string();
    assert_eq!(
        told,
        "a.toml:1:8: base: a.toml is already among the files laid under this one"
    );
}

#[test]
fn overrides_are_told_by_their_key() {
    let set = |key: &str, value: &str| {
        let overrides = [(key.to_owned(), value.to_owned())];
        load("a.toml", DEMO, &no_base, &overrides)
            .expect_err(value)
            .to_string()
    };
    assert_eq!(
        set("strings.mirror.side", "30 in"),
        "--set: strings.mirror.side: unknown key; did you mean strings.side?"
    );
    assert_eq!(set("strings.", "30 in"), "--set: strings.: unknown key");
    assert_eq!(
        set("search.islands", "2"),
        "--set: search.islands: is gone, the search needs no islands; take the line away"
    );
    assert_eq!(
        set("strings.side", "30 mm"),
        "--set: strings.side: 30 mm is outside 0.2 m … 2.5 m; did you mean 30 cm?"
    );
}

#[test]
fn all_problems_are_told_at_once() {
    let text = DEMO
        .replace("pipe_run = \"120 m\"", "pipe_run = 120")
        .replace("sector = \"60 deg\"", "sektor = \"60 deg\"")
        .replace("power = \"3 MW\"", "");
    let told = load_text(&text).expect_err("three").to_string();
    assert_eq!(told.lines().count(), 3, "{told}");
}
