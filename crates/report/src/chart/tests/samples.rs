//! Made-up data of every chart, good and degenerate.

use super::super::*;

/// Number from 0 to 1 that looks random, the same each time (SplitMix64; from memory).
pub fn spread(place: usize, salt: u64) -> f64 {
    let mut bits = (place as u64 + (salt << 32)).wrapping_mul(0x9E37_79B9_7F4A_7C15);
    bits = (bits ^ (bits >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
    bits = (bits ^ (bits >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
    (bits ^ (bits >> 31)) as f64 / u64::MAX as f64
}

pub fn front(designs: usize) -> FrontChart {
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
pub fn others() -> Vec<OtherHeat> {
    [("gas boiler", 0.028), ("electric boiler", 0.105)]
        .map(|(name, cost_per_kwh)| OtherHeat {
            name: name.into(),
            cost_per_kwh,
        })
        .into()
}

pub fn plan(rings: usize, half_rad: f64) -> FieldPlan {
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
        mirrors_per_string: Some(15),
        panel_width_m: side_m,
        sector: Sector {
            centre_azimuth_rad: 0.0,
            half_rad,
        },
    }
}

pub fn chain() -> LightChain {
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

pub fn bill() -> MoneyChart {
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

pub fn sweep(values: impl IntoIterator<Item = u32>) -> Sweep {
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

pub fn calendar() -> Calendar {
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

pub fn flux() -> FluxChart {
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

pub fn months(share: f64) -> MonthsChart {
    let clear =
        |month: usize| 250.0 - 60.0 * libm::cos(month as f64 * std::f64::consts::TAU / 12.0);
    MonthsChart {
        dni_j_m2: std::array::from_fn(|month| share * 0.7 * clear(month) * 3.6e6),
        clear_j_m2: std::array::from_fn(|month| clear(month) * 3.6e6),
        sky: "turbidity 3".into(),
    }
}

pub fn duration() -> DurationChart {
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
pub fn sun_path(day_h: f64, is_southern: bool) -> SunPath {
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

pub fn one_design() -> FrontChart {
    let mut chart = front(1);
    chart.designs[0].on_front = true;
    chart
}

pub fn all_infeasible() -> FrontChart {
    let mut chart = front(0);
    chart.not_feasible = 5000;
    chart
}

pub fn not_a_number() -> FrontChart {
    let mut chart = front(40);
    chart.designs[3].cost_per_kwh = f64::NAN;
    chart.designs[4].capital = f64::INFINITY;
    chart
}

pub fn plan_with_a_hole() -> FieldPlan {
    let mut plan = plan(8, 1.0);
    plan.strings[3].ends_m[0][0] = f64::INFINITY;
    plan.strings[4].light_kwh_m2 = f64::NAN;
    plan
}

/// Sun paths at 37° north with a miss that grows away from noon.
pub fn sun_misses() -> SunMisses {
    let hours: Vec<f64> = (0..=64).map(|step| 4.0 + 0.25 * f64::from(step)).collect();
    let latitude = 37f64.to_radians();
    let day = |step: usize| -> Vec<SunMiss> {
        let declination = (-23.44 + 2.344 * step as f64).to_radians();
        let point = |hour: &f64| {
            let angle = (hour - 12.0) * std::f64::consts::PI / 12.0;
            let (cos_d, sin_d) = (libm::cos(declination), libm::sin(declination));
            let east = -cos_d * libm::sin(angle);
            let north =
                sin_d * libm::cos(latitude) - cos_d * libm::cos(angle) * libm::sin(latitude);
            let up = sin_d * libm::sin(latitude) + cos_d * libm::cos(angle) * libm::cos(latitude);
            let azimuth = libm::atan2(east, north).to_degrees();
            SunMiss {
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
    SunMisses {
        days: (0..=20).map(day).collect(),
        named_days: vec![
            (0, "December".into()),
            (10, "equinox".into()),
            (20, "June".into()),
        ],
        hours,
        alignments_deg: vec![[150.0, 45.0], [195.0, 50.0]],
        lowest_deg: 8.0,
        yearly_mrad: 3.1,
        bound_mrad: 2.4,
        stopped_mirror_h: 18_430.0,
        stopped_share: 0.012,
    }
}

/// Light that leaves within minutes, none left after the sixth; or stays.
pub fn walk_off(leaves: bool) -> WalkOff {
    let step = |minutes: f64| {
        let entering = if leaves {
            libm::exp(-0.12 * minutes * minutes)
        } else {
            1.0
        };
        WalkStep {
            time_s: 60.0 * minutes,
            entering,
            hottest_w_m2: 620e3 * entering,
            beside_w_m2: 30e3 + 420e3 * entering * (1.0 - entering),
        }
    };
    WalkOff {
        course: [0.0, 1.0, 2.0, 4.0, 6.0, 10.0, 15.0, 25.0].map(step).to_vec(),
        moment: "21 March, 13:23".into(),
        left_s: if leaves { [144.0, 262.0] } else { [f64::INFINITY; 2] },
        caution: "Concentrated light blinds, burns and sets fire, also away from the receiver: after-images as far as \
                  397 m beyond the aim."
            .into(),
    }
}

pub fn lengths(mirrors: &[u32]) -> LengthChart {
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

pub fn spots(mirrors: usize, within_mm: Option<f64>) -> SpotChart {
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

pub fn tornado(inputs: usize) -> Tornado {
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

pub fn price_grid(prices: usize, saved: f64) -> PriceGrid {
    let side = |name: &str, low: f64, step: f64| GridSide {
        name: name.into(),
        prices: (0..prices).map(|place| low + step * place as f64).collect(),
        now: Some(low + 1.4 * step),
    };
    let held =
        |place: usize| 0.051 + 0.0017 * (place / prices) as f64 + 0.0008 * (place % prices) as f64;
    let costs = (0..prices * prices).map(held);
    PriceGrid {
        currency: "USD".into(),
        product: "heat".into(),
        sides: [
            side("steel [USD/kg]", 1.6, 0.45),
            side("glass [USD/kg]", 0.8, 0.2),
        ],
        found_again_per_kwh: costs
            .clone()
            .map(|cost| cost * (1.0 - saved * spread(3, 2)))
            .collect(),
        held_per_kwh: costs.collect(),
    }
}

pub fn cost_spread(least: f64, width: f64) -> CostSpread {
    let quantile = |place: u32| {
        let share = f64::from(place) / 100.0;
        least
            + width
                * (share + 0.3 * (2.0 * share - 1.0) * (2.0 * share - 1.0) * (2.0 * share - 1.0))
    };
    CostSpread {
        currency: "USD".into(),
        product: "heat".into(),
        quantiles_per_kwh: (0..=100).map(quantile).collect(),
        others: others(),
    }
}

pub fn influences(inputs: usize) -> Influences {
    let input = |place: usize| {
        let alone_share = 0.4 / (1.0 + place as f64 * place as f64) - 0.001;
        InputInfluence {
            label: format!("rates.item_number_{place}"),
            alone_share,
            with_others_share: alone_share + 0.02 * spread(place, 5),
        }
    };
    Influences {
        product: "heat".into(),
        inputs: (0..inputs).map(input).collect(),
    }
}
