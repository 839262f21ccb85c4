//! Every chart with made-up data, good and degenerate: texts inside the sheet and clear
//! of one another, units named, no NaN, same bytes twice.
//!
//! With `CHART_DIR` set, the pictures are written there to be looked at.

mod samples;

use std::io::Write;
use std::sync::OnceLock;

use resvg::{tiny_skia, usvg};

use super::*;
use samples::*;

/// The finding of a chart, its first lines of text put together.
fn head(chart: &Chart) -> String {
    let (_, texts) = text_boxes(&chart.svg);
    let lines = texts.iter().take(2).map(|(text, _)| text.trim());
    lines.collect::<Vec<_>>().join(" ")
}

/// The distribution is read both ways: a third of an even spread lies below its first third.
#[test]
fn shares_below_others_are_read_off_the_spread() {
    let even = CostSpread {
        quantiles_per_kwh: (0..=100)
            .map(|place| 0.02 + 0.0003 * f64::from(place))
            .collect(),
        ..cost_spread(0.02, 0.03)
    };
    let found = head(&even.draw().unwrap());
    assert!(found.contains("from 0.0230 to 0.0470 USD/kWh"), "{found}");
    assert!(
        found.contains("27 % of all cost less than the gas boiler's 0.0280"),
        "{found}"
    );
}

#[test]
fn more_flux_than_is_borne_is_told_as_what_is_turned_away() {
    let borne = head(&flux().draw().unwrap());
    assert!(!borne.contains("turned away"), "{borne}");
    let too_much = FluxChart {
        limit_w_m2: 1e3,
        ..flux()
    };
    let told = head(&too_much.draw().unwrap());
    assert!(told.contains("were no mirror turned away"), "{told}");
}

#[test]
fn what_a_new_choice_saves_is_told() {
    let found = head(&price_grid(5, 0.0).draw().unwrap());
    assert!(found.contains("anew saves nothing"), "{found}");
    let mut grid = price_grid(5, 0.0);
    grid.found_again_per_kwh[7] *= 0.95;
    let found = head(&grid.draw().unwrap());
    assert!(found.contains("saves up to 5.0 %"), "{found}");
}

/// Every chart by name, drawn once for all tests.
fn all() -> &'static [(&'static str, Chart)] {
    static CHARTS: OnceLock<Vec<(&str, Chart)>> = OnceLock::new();
    CHARTS.get_or_init(draw_all)
}

fn draw_all() -> Vec<(&'static str, Chart)> {
    let no_light = LightChain {
        delivered: "delivered heat".into(),
        incoming_j: 0.0,
        steps: Vec::new(),
    };
    let left_out = Sweep {
        left_out: 1,
        ..sweep(3..=30)
    };
    let no_sun = SunMisses {
        days: Vec::new(),
        ..sun_misses()
    };
    let nothing_leaves = WalkOff {
        course: Vec::new(),
        ..walk_off(true)
    };
    let no_hours = DurationChart {
        dni_w_m2: vec![0.0; 8760],
        clear_w_m2: Vec::new(),
    };
    let no_bill = MoneyChart {
        items: Vec::new(),
        ..bill()
    };
    vec![
        ("front", front(3000).draw().unwrap()),
        ("front-one", one_design().draw().unwrap()),
        ("front-none", all_infeasible().draw().unwrap()),
        ("front-nan", not_a_number().draw().unwrap()),
        ("plan", plan(28, 1.047).draw().unwrap()),
        ("plan-wide", plan(60, 0.4).draw().unwrap()),
        (
            "plan-around",
            plan(12, std::f64::consts::PI).draw().unwrap(),
        ),
        ("plan-one", plan(1, 0.3).draw().unwrap()),
        ("plan-hole", plan_with_a_hole().draw().unwrap()),
        ("plan-large", plan(150, 1.2).draw().unwrap()),
        ("plan-none", plan(0, 1.0).draw().unwrap()),
        ("chain", chain().draw().unwrap()),
        ("chain-none", no_light.draw().unwrap()),
        ("money", bill().draw().unwrap()),
        ("money-none", no_bill.draw().unwrap()),
        ("sweep", sweep(3..=30).draw().unwrap()),
        ("sweep-one", sweep([7]).draw().unwrap()),
        ("sweep-none", sweep([]).draw().unwrap()),
        ("sweep-left-out", left_out.draw().unwrap()),
        ("calendar", calendar().draw().unwrap()),
        ("flux", flux().draw().unwrap()),
        ("sun-misses", sun_misses().draw().unwrap()),
        ("sun-misses-none", no_sun.draw().unwrap()),
        ("walk-off", walk_off(true).draw().unwrap()),
        ("walk-off-stays", walk_off(false).draw().unwrap()),
        ("walk-off-none", nothing_leaves.draw().unwrap()),
        ("lengths", lengths(&[3, 5, 9, 15, 21, 31]).draw().unwrap()),
        ("lengths-none", lengths(&[]).draw().unwrap()),
        ("spots", spots(27, Some(150.0)).draw().unwrap()),
        ("spots-many", spots(400, None).draw().unwrap()),
        ("tornado", tornado(22).draw().unwrap()),
        ("tornado-one", tornado(1).draw().unwrap()),
        ("tornado-none", tornado(0).draw().unwrap()),
        ("price-grid", price_grid(5, 0.03).draw().unwrap()),
        ("price-grid-none", price_grid(0, 0.0).draw().unwrap()),
        ("cost-spread", cost_spread(0.024, 0.09).draw().unwrap()),
        ("cost-spread-dear", cost_spread(0.2, 0.01).draw().unwrap()),
        (
            "cost-spread-none",
            cost_spread(f64::NAN, 0.0).draw().unwrap(),
        ),
        ("influences", influences(30).draw().unwrap()),
        ("influences-one", influences(1).draw().unwrap()),
        ("influences-none", influences(0).draw().unwrap()),
        ("spots-none", spots(0, None).draw().unwrap()),
        ("months", months(1.0).draw().unwrap()),
        ("months-none", months(0.0).draw().unwrap()),
        ("duration", duration().draw().unwrap()),
        ("duration-none", no_hours.draw().unwrap()),
        ("sun-path", sun_path(12.0, false).draw().unwrap()),
        ("sun-path-south", sun_path(12.0, true).draw().unwrap()),
        ("sun-path-none", sun_path(0.0, false).draw().unwrap()),
    ]
}

fn text_boxes(svg: &str) -> (usvg::Size, Vec<(String, usvg::Rect)>) {
    let tree = usvg::Tree::from_str(svg, &fonts::options()).unwrap();
    let mut boxes = Vec::new();
    collect(tree.root(), &mut boxes);
    (tree.size(), boxes)
}

fn collect(group: &usvg::Group, boxes: &mut Vec<(String, usvg::Rect)>) {
    for node in group.children() {
        match node {
            usvg::Node::Group(inner) => collect(inner, boxes),
            usvg::Node::Text(text) => {
                let letters: String = text.chunks().iter().map(|c| c.text()).collect();
                boxes.push((letters, text.abs_bounding_box()));
            }
            _ => {}
        }
    }
}

fn overlap(a: &usvg::Rect, b: &usvg::Rect) -> bool {
    a.left() < b.right() && b.left() < a.right() && a.top() < b.bottom() && b.top() < a.bottom()
}

#[test]
fn texts_lie_inside_the_sheet_and_clear_of_one_another() {
    for (name, chart) in all() {
        let (size, boxes) = text_boxes(&chart.svg);
        assert!(boxes.len() >= 2, "{name}");
        for (place, (text, area)) in boxes.iter().enumerate() {
            let inside = area.left() >= 8.0
                && area.top() >= 8.0
                && area.right() <= size.width() - 8.0
                && area.bottom() <= size.height() - 8.0;
            assert!(inside, "{name}: `{text}` at {area:?} leaves the sheet");
            for (other, taken) in &boxes[place + 1..] {
                assert!(!overlap(area, taken), "{name}: `{text}` hides `{other}`");
            }
        }
    }
}

#[test]
fn axes_name_their_units() {
    for (chart, units) in [
        (
            front(300).draw().unwrap(),
            &["[USD/kWh]", "[million USD]", "[g CO₂e/kWh]"][..],
        ),
        (
            plan(20, 1.0).draw().unwrap(),
            &["[kWh/m² of mirror a year]", "100 m"],
        ),
        (chain().draw().unwrap(), &["[%]", "GWh"]),
        (bill().draw().unwrap(), &["[million USD]", " %"]),
        (sweep(3..=30).draw().unwrap(), &["[USD/kWh]", "[number]"]),
        (calendar().draw().unwrap(), &["[h]", "[MW]"]),
        (flux().draw().unwrap(), &["[m]", "[kW/m²]"]),
        (tornado(9).draw().unwrap(), &["[USD/kWh]"]),
        (
            price_grid(5, 0.01).draw().unwrap(),
            &["[USD/kg]", "[USD/kWh]"],
        ),
        (
            cost_spread(0.03, 0.1).draw().unwrap(),
            &["[%]", "[USD/kWh]"],
        ),
        (influences(5).draw().unwrap(), &["[%]"]),
        (walk_off(true).draw().unwrap(), &["[kW/m²]", "[min]"]),
    ] {
        for unit in units {
            assert!(chart.svg.contains(unit), "{unit}");
        }
    }
}

#[test]
fn pictures_have_two_pixels_per_unit_and_no_hole() {
    for (name, chart) in all() {
        save(name, chart);
        assert!(
            !chart.svg.contains("NaN") && !chart.svg.contains("inf "),
            "{name}"
        );
        let picture = tiny_skia::Pixmap::decode_png(&chart.png).unwrap();
        let (size, _) = text_boxes(&chart.svg);
        assert_eq!(
            picture.width() as f32,
            size.width() * canvas::PIXELS_PER_POINT
        );
        assert_eq!(
            picture.height() as f32,
            size.height() * canvas::PIXELS_PER_POINT
        );
        assert!(
            picture.pixels().iter().all(|pixel| pixel.is_opaque()),
            "{name}"
        );
    }
}

#[test]
fn same_data_same_bytes() {
    assert_eq!(front(200).draw(), front(200).draw());
    assert_eq!(plan(5, 1.0).draw(), plan(5, 1.0).draw());
}

#[test]
fn headlines_say_the_finding() {
    let chart = sweep(3..=30).draw().unwrap();
    let (_, texts) = text_boxes(&chart.svg);
    let head: String = texts.iter().take(2).map(|(text, _)| text.trim()).collect();
    let best = (3..=30)
        .min_by(|a, b| {
            let total = |n: &u32| sweep([*n]).points[0].parts_per_kwh.iter().sum::<f64>();
            total(a).total_cmp(&total(b))
        })
        .unwrap();
    assert!(
        head.contains(&format!("lowest at {best} mirrors per string")),
        "{head}"
    );
}

/// What misses by how much stands beside the least that any common turn misses by, and what is left out below.
#[test]
fn misses_stand_beside_their_bound_and_tell_what_they_leave_out() {
    let (_, texts) = text_boxes(&sun_misses().draw().unwrap().svg);
    let lines: Vec<&str> = texts.iter().map(|(text, _)| text.trim()).collect();
    let words = lines.join(" ");
    for told in [
        "miss by 3.1 mrad over the year, by 7.7 mrad under the worst sun",
        "by the best common turn there is they would by 2.4",
        "about 18,430 mirror-hours in the year, with 1.20 % of its direct sun",
    ] {
        assert!(words.contains(told), "{words}");
    }
    let free = SunMisses {
        stopped_mirror_h: 0.0,
        ..sun_misses()
    };
    let (_, texts) = text_boxes(&free.draw().unwrap().svg);
    let is_told = |(text, _): &(String, _)| text.contains("No mirror comes to the stops");
    assert!(texts.iter().any(is_told));
}

/// How long the light stays, how strong it is beside the aperture and what it does to people stand on one sheet.
#[test]
fn light_that_walks_off_is_told_with_its_caution() {
    let chart = walk_off(true).draw().unwrap();
    let found = head(&chart);
    assert!(
        found.contains("nine tenths of the light have left after 4.4 minutes"),
        "{found}"
    );
    let (_, texts) = text_boxes(&chart.svg);
    let words = |text: &str| texts.iter().any(|(told, _)| told.contains(text));
    assert!(words("blinds, burns and sets fire") && words("half of the light has left"));
    let stays = head(&walk_off(false).draw().unwrap());
    assert!(stays.contains("stays longer"), "{stays}");
}

/// What misses by nothing is told beside the best of those that miss.
#[test]
fn no_mechanism_is_left_out_of_what_misses_least() {
    let chart = lengths(&[3, 9, 20]).draw().unwrap();
    let (_, texts) = text_boxes(&chart.svg);
    let words: Vec<&str> = texts
        .iter()
        .flat_map(|(text, _)| text.split_whitespace())
        .collect();
    let head = words.join(" ");
    for told in [
        "by nothing (sliding levers) or by 4.2 mrad at best (graded levers)",
        "any common turn misses by 3.8 or more",
    ] {
        assert!(head.contains(told), "{head}");
    }
}

fn save(name: &str, chart: &Chart) {
    if let Ok(folder) = std::env::var("CHART_DIR") {
        let path = std::path::Path::new(&folder).join(format!("{name}.png"));
        std::fs::File::create(path)
            .unwrap()
            .write_all(&chart.png)
            .unwrap();
    }
}
