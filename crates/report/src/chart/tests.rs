//! Every chart with made-up data, good and degenerate: texts inside the sheet and clear
//! of one another, units named, no NaN, same bytes twice.
//!
//! With `CHART_DIR` set, the pictures are written there to be looked at.

use std::io::Write;
use std::sync::OnceLock;

use resvg::{tiny_skia, usvg};

use super::*;

/// Number from 0 to 1 that looks random, the same each time (SplitMix64; from memory).
fn spread(place: usize, salt: u64) -> f64 {
    let mut bits = (place as u64 + (salt << 32)).wrapping_mul(0x9E37_79B9_7F4A_7C15);
    bits = (bits ^ (bits >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
    bits = (bits ^ (bits >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
    (bits ^ (bits >> 31)) as f64 / u64::MAX as f64
}

fn front(designs: usize) -> FrontChart {
    let mut points: Vec<DesignPoint> = (0..designs)
        .map(|i| {
            let size = 4.0 + 11.0 * spread(i, 1);
            let waste = spread(i, 2) * spread(i, 3);
            DesignPoint {
                cost_per_kwh: 0.024 + 0.001 * (size - 9.0) * (size - 9.0) / 4.0 + 0.05 * waste,
                capital: size * 1e6 * (1.0 + 0.3 * waste),
                carbon_g_kwh: 8.0 + 0.7 * (12.0 - size).abs() + 12.0 * waste * spread(i, 4),
                on_front: false,
            }
        })
        .collect();
    let copy = points.clone();
    for point in &mut points {
        point.on_front = !copy.iter().any(|other| {
            other.cost_per_kwh < point.cost_per_kwh
                && other.capital < point.capital
                && other.carbon_g_kwh < point.carbon_g_kwh
        });
    }
    FrontChart {
        product: "heat".into(),
        currency: "USD".into(),
        designs: points,
        not_feasible: 214,
        others: others(),
    }
}

/// A line amid the costs, and one above them.
fn others() -> Vec<OtherHeat> {
    [("gas boiler", 0.028), ("electric boiler", 0.105)]
        .map(|(name, cost_per_kwh)| OtherHeat {
            name: name.into(),
            cost_per_kwh,
        })
        .into()
}

fn plan(rings: usize, half_rad: f64) -> FieldPlan {
    let (side_m, length_m) = (0.95, 16.0);
    let mut strings = Vec::new();
    for ring in 0..rings {
        let radius = 30.0 + 5.0 * ring as f64;
        let count = (2.0 * half_rad * radius / (length_m + 1.0)).floor() as usize;
        for place in 0..count {
            let azimuth = -half_rad + 2.0 * half_rad * (place as f64 + 0.5) / count as f64;
            let (sin, cos) = (libm::sin(azimuth), libm::cos(azimuth));
            let end = |along: f64| [radius * sin + along * cos, radius * cos - along * sin];
            strings.push(PlanString {
                ends_m: [end(-length_m / 2.0), end(length_m / 2.0)],
                light_kwh_m2: 1900.0 - 1.8 * radius - 180.0 * azimuth * azimuth,
            });
        }
    }
    FieldPlan {
        strings,
        mirrors_per_string: 15,
        panel_width_m: side_m,
        sector: Sector {
            centre_azimuth_rad: 0.0,
            half_rad,
        },
    }
}

fn chain() -> LightChain {
    let steps = [
        ("cosine", 0.83),
        ("shading", 0.97),
        ("blocking", 0.975),
        ("reflectance and dust", 0.9),
        ("air on the way", 0.985),
        ("light past the aperture", 0.94),
        ("light turned away", 0.99),
        ("receiver", 0.88),
        ("pipes", 0.98),
        ("heat not wanted", 0.95),
    ];
    let mut left_j = 4.3e13;
    LightChain {
        delivered: "delivered heat".into(),
        incoming_j: left_j,
        steps: steps
            .into_iter()
            .map(|(label, share)| {
                left_j *= share;
                ChainStep {
                    label: label.into(),
                    left_j,
                    is_heat: ["receiver", "pipes", "heat not wanted"].contains(&label),
                }
            })
            .collect(),
    }
}

fn bill() -> MoneyChart {
    let items = [
        ("strings", "steel of posts and rails", 1.31e6),
        ("strings", "drives", 0.92e6),
        ("strings", "mirror glass", 0.61e6),
        ("strings", "foundations", 0.33e6),
        ("strings", "assembly and alignment", 0.41e6),
        ("tower", "tower shaft", 0.74e6),
        ("tower", "foundation of the tower", 0.12e6),
        ("receiver", "receiver", 0.83e6),
        ("heat", "piping and pumps", 0.55e6),
        ("heat", "hot water store", 0.36e6),
        ("site", "land", 0.08e6),
        (
            "site",
            "cables, control and lightning protection of the field",
            0.22e6,
        ),
        ("owner", "engineering", 0.45e6),
        ("owner", "contingency", 0.6e6),
    ];
    MoneyChart {
        currency: "USD".into(),
        what: "capital".into(),
        items: items
            .into_iter()
            .map(|(group, label, amount)| MoneyItem {
                group: group.into(),
                label: label.into(),
                amount,
            })
            .collect(),
    }
}

fn sweep(values: impl IntoIterator<Item = u32>) -> Sweep {
    let parts = [
        "mirrors and steel",
        "drives",
        "rest of plant",
        "yearly costs",
    ];
    let point = |mirrors: u32| {
        let n = f64::from(mirrors);
        let light = 1.0 / (1.0 - 0.0009 * n * n / 4.0);
        SweepPoint {
            value: n,
            parts_per_kwh: vec![
                light * 0.0082,
                light * 0.03 / n,
                light * 0.0091,
                light * (0.005 + 0.004 / n),
            ],
        }
    };
    Sweep {
        product: "heat".into(),
        currency: "USD".into(),
        variable: "mirrors per string".into(),
        unit: String::new(),
        held: "number of mirrors held".into(),
        parts: parts.map(String::from).to_vec(),
        left_out: 0,
        points: values.into_iter().map(point).collect(),
        others: others(),
    }
}

fn calendar() -> Calendar {
    let power = |hour: usize| {
        let season = libm::cos((hour as f64 / 24.0 - 172.0) * std::f64::consts::TAU / 365.0);
        let half_day = 6.0 + 1.6 * season;
        let from_noon = ((hour % 24) as f64 + 0.5 - 12.0) / half_day;
        let cloud = 0.6 + 0.4 * spread(hour / 24, 5);
        (1.0 - from_noon * from_noon).max(0.0).sqrt() * cloud * (4.0 + season) * 1e6
    };
    Calendar {
        what: "delivered heat".into(),
        power_w: (0..8760).map(power).collect(),
    }
}

fn flux() -> FluxChart {
    let (columns, rows) = (25, 25);
    let part = |place: usize| {
        let x = (place % columns) as f64 / 24.0 - 0.45;
        let y = (place / columns) as f64 / 24.0 - 0.55;
        520e3 * libm::exp(-4.0 * x * x - 6.0 * y * y)
    };
    FluxChart {
        when: "20 June, 12 h".into(),
        width_m: 5.1,
        height_m: 3.4,
        columns,
        flux_w_m2: (0..columns * rows).map(part).collect(),
        limit_w_m2: 600e3,
        spreading: Some((0.013, 1_160e3)),
    }
}

fn months(share: f64) -> MonthsChart {
    let clear =
        |month: usize| 250.0 - 60.0 * libm::cos(month as f64 * std::f64::consts::TAU / 12.0);
    MonthsChart {
        dni_j_m2: std::array::from_fn(|month| share * 0.7 * clear(month) * 3.6e6),
        clear_j_m2: std::array::from_fn(|month| clear(month) * 3.6e6),
        sky: "turbidity 3".into(),
    }
}

fn duration() -> DurationChart {
    let clear_w_m2: Vec<f64> = calendar().power_w.iter().map(|power| power / 5e3).collect();
    DurationChart {
        dni_w_m2: clear_w_m2
            .iter()
            .map(|dni| (dni - 150.0).max(0.0))
            .collect(),
        clear_w_m2,
    }
}

/// A made-up sun that is up for about so many hours a day.
fn sun_path(day_h: f64, is_southern: bool) -> SunPath {
    let spot = |month: usize, hour: usize| {
        let season = -libm::cos((month as f64 + 0.8) * std::f64::consts::TAU / 12.0);
        let season = if is_southern { -season } else { season };
        let half_h = 0.5 * day_h + 1.5 * season;
        let from_noon = (hour as f64 + 0.5 - 12.3) / half_h;
        let noon = if is_southern {
            0.0
        } else {
            std::f64::consts::PI
        };
        let turn = if is_southern { -1.0 } else { 1.0 };
        (from_noon.abs() < 1.0 && day_h > 0.0).then_some(SunSpot {
            month,
            hour,
            azimuth_rad: noon + turn * (1.6 + 0.4 * season) * from_noon,
            elevation_rad: (0.9 + 0.4 * season) * (1.0 - from_noon * from_noon),
            dni_w_m2: 700.0 * (1.0 - from_noon * from_noon),
        })
    };
    let hours = (0..12).flat_map(|month| (0..24).map(move |hour| (month, hour)));
    SunPath {
        spots: hours
            .filter_map(|(month, hour)| spot(month, hour))
            .collect(),
        is_southern,
    }
}

fn one_design() -> FrontChart {
    let mut chart = front(1);
    chart.designs[0].on_front = true;
    chart
}

fn all_infeasible() -> FrontChart {
    let mut chart = front(0);
    chart.not_feasible = 5000;
    chart
}

fn not_a_number() -> FrontChart {
    let mut chart = front(40);
    chart.designs[3].cost_per_kwh = f64::NAN;
    chart.designs[4].capital = f64::INFINITY;
    chart
}

fn plan_with_a_hole() -> FieldPlan {
    let mut plan = plan(8, 1.0);
    plan.strings[3].ends_m[0][0] = f64::INFINITY;
    plan.strings[4].light_kwh_m2 = f64::NAN;
    plan
}

/// Sun paths at 37° north with a miss that grows away from noon.
fn sun_paths() -> SunPaths {
    let hours: Vec<f64> = (0..=64).map(|step| 4.0 + 0.25 * f64::from(step)).collect();
    let latitude = 37f64.to_radians();
    let day = |step: usize| -> Vec<SunPoint> {
        let declination = (-23.44 + 2.344 * step as f64).to_radians();
        let point = |hour: &f64| {
            let angle = (hour - 12.0) * std::f64::consts::PI / 12.0;
            let (cos_d, sin_d) = (libm::cos(declination), libm::sin(declination));
            let east = -cos_d * libm::sin(angle);
            let north =
                sin_d * libm::cos(latitude) - cos_d * libm::cos(angle) * libm::sin(latitude);
            let up = sin_d * libm::sin(latitude) + cos_d * libm::cos(angle) * libm::cos(latitude);
            let azimuth = libm::atan2(east, north).to_degrees();
            SunPoint {
                azimuth_deg: if azimuth < 0.0 {
                    azimuth + 360.0
                } else {
                    azimuth
                },
                elevation_deg: libm::asin(up).to_degrees(),
                miss_mrad: 4.0 * angle.abs() + 2.0 * (declination + 0.05).abs(),
            }
        };
        hours.iter().map(point).collect()
    };
    SunPaths {
        days: (0..=20).map(day).collect(),
        named_days: vec![
            (0, "December".into()),
            (10, "equinox".into()),
            (20, "June".into()),
        ],
        hours,
        alignment_deg: [180.0, 50.0],
        lowest_deg: 8.0,
        yearly_mrad: 3.1,
    }
}

fn lengths(mirrors: &[u32]) -> LengthChart {
    let line = |name: &str, slope: f64| LengthLine {
        name: name.into(),
        miss_mrad: mirrors.iter().map(|n| slope * f64::from(*n)).collect(),
    };
    LengthChart {
        mirrors: mirrors.to_vec(),
        groups: vec![
            LengthGroup {
                title: "First axis".into(),
                lines: vec![
                    line("along", 0.4),
                    line("across", 0.6),
                    line("vertical", 1.7),
                    line("polar", 0.55),
                    line("roll-free", 0.25),
                ],
            },
            LengthGroup {
                title: "Linkage, first axis along".into(),
                lines: vec![
                    line("equal angle, shims", 0.4),
                    line("equal travel", 0.42),
                    line("graded levers", 0.21),
                    line("sliding levers", 0.0),
                ],
            },
        ],
        bound_mrad: mirrors.iter().map(|n| 0.19 * f64::from(*n)).collect(),
        chosen: 15,
    }
}

fn spots(mirrors: usize, within_mm: Option<f64>) -> SpotChart {
    let track = |mirror: usize| SpotTrack {
        name: format!("string {} mirror {}", mirror / 9 + 1, mirror % 9 + 1),
        runs_mm: (0..3)
            .map(|day| {
                let spot = |hour: usize| {
                    let size = 40.0 + 25.0 * spread(mirror, 7) * (mirror % 9) as f64;
                    let turn = hour as f64 / 9.0 - 0.5 + day as f64 + 6.0 * spread(mirror, 8);
                    [size * libm::sin(turn), 0.7 * size * libm::cos(turn)]
                };
                (0..10).map(spot).collect()
            })
            .collect(),
    };
    SpotChart {
        tracks: (0..mirrors).map(track).collect(),
        within_mm,
        moments: "hours of 03-21, 06-21 and 12-21".into(),
    }
}

fn tornado(inputs: usize) -> Tornado {
    let input = |place: usize| {
        let half = 0.02 / (1.0 + place as f64);
        let rises = spread(place, 9) > 0.3;
        let (low, high) = if rises {
            (-0.6 * half, half)
        } else {
            (half, -0.4 * half)
        };
        TornadoInput {
            label: format!("rates.item_number_{place}"),
            ends: ["0.7".into(), "1,250".into()],
            costs_per_kwh: [0.05 + low, 0.05 + high],
        }
    };
    Tornado {
        currency: "USD".into(),
        product: "heat".into(),
        cost_per_kwh: 0.05,
        inputs: (0..inputs).map(input).collect(),
    }
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
    let no_sun = SunPaths {
        days: Vec::new(),
        ..sun_paths()
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
        ("sun-paths", sun_paths().draw().unwrap()),
        ("sun-paths-none", no_sun.draw().unwrap()),
        ("lengths", lengths(&[3, 5, 9, 15, 21, 31]).draw().unwrap()),
        ("lengths-none", lengths(&[]).draw().unwrap()),
        ("spots", spots(27, Some(150.0)).draw().unwrap()),
        ("spots-many", spots(400, None).draw().unwrap()),
        ("tornado", tornado(22).draw().unwrap()),
        ("tornado-one", tornado(1).draw().unwrap()),
        ("tornado-none", tornado(0).draw().unwrap()),
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

fn save(name: &str, chart: &Chart) {
    if let Ok(folder) = std::env::var("CHART_DIR") {
        let path = std::path::Path::new(&folder).join(format!("{name}.png"));
        std::fs::File::create(path)
            .unwrap()
            .write_all(&chart.png)
            .unwrap();
    }
}
