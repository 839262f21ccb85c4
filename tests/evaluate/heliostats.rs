//! What heliostats cost for each square metre, from small to large, by the same bill and rates as
//! strings: their best area is not put in but falls out.

use crate::{fields, sharing};

const FIELD_M2: f64 = 10_000.0;

/// Areas with the largest panels that bear the wind: those of tall mirrors stand higher.
const LARGE_PANELS_M2: [f64; 7] = [2.0, 4.0, 8.0, 12.0, 16.0, 20.0, 30.0];
const USUAL_PANELS_M2: [f64; 5] = [40.0, 50.0, 75.0, 100.0, 148.0];

/// Direct cost of each square metre that stands and is set on target, in a field of so many.
fn cost_usd_m2(concept: &str, size: [(&'static str, &str); 2], mirror_m2: f64) -> f64 {
    let count = (FIELD_M2 / mirror_m2).round().to_string();
    let count_key = if concept == "singles" {
        "singles.count"
    } else {
        "pedestals.count"
    };
    let works = fields::with(
        fields::DEMO,
        &[
            ("concept", concept),
            size[0],
            size[1],
            (count_key, &count),
            ("tower.aim_height", "60 m"),
            ("field.outer_radius", "5"),
        ],
    );
    let (money, area_m2) = sharing::money(&works);
    let cost = money.mirrors_on_target() / area_m2;
    println!("{concept} of {mirror_m2} m2: {cost:.1} USD/m2");
    cost
}

fn pedestals(mirror_m2: f64, panel: &str) -> f64 {
    let area = format!("{mirror_m2} m2");
    let size = [
        ("pedestals.area", area.as_str()),
        ("pedestals.panel", panel),
    ];
    cost_usd_m2("pedestals", size, mirror_m2)
}

/// Direct cost falls steeply up to some tens of square metres, is flat there, and rises again. Published
/// direct and installed costs lie between 96 and 200 USD/m²: 92 direct and 126 installed at 148 m² and
/// high volume (Kolb and others 2007, of 2006), 127 at 48 m² and 96 at 27 m² (Kurup and others 2022),
/// 200 as the baseline of 2010 (Blackmon 2013); all but the abstracts from memory. Ours, at the rates of
/// a first small field, end at the upper edge of that band.
#[test]
fn the_best_area_falls_out_and_is_flat() {
    let large = LARGE_PANELS_M2.map(|area_m2| (area_m2, pedestals(area_m2, "1.2 m")));
    let usual = USUAL_PANELS_M2.map(|area_m2| (area_m2, pedestals(area_m2, "1 m")));
    let costs: Vec<(f64, f64)> = large.into_iter().chain(usual).collect();
    let (best_m2, best) = costs
        .iter()
        .copied()
        .fold((0.0, f64::INFINITY), |best, one| {
            if one.1 < best.1 { one } else { best }
        });
    assert!((16.0..=100.0).contains(&best_m2), "{best_m2}");
    assert!((96.0..220.0).contains(&best), "{best}");
    for &(area_m2, cost) in &costs {
        let flat = (16.0..=100.0).contains(&area_m2);
        assert!(!flat || cost < 1.15 * best, "{area_m2} {cost}");
    }
    let (_, largest) = costs[costs.len() - 1];
    assert!(largest > 1.05 * best, "{largest}");
}

/// A square metre with drives and controls of its own costs more than two and a half times the best.
#[test]
fn single_small_mirrors_with_full_drives_are_dear() {
    let size = [("singles.side", "1 m"), ("singles.glass", "4 mm")];
    let single = cost_usd_m2("singles", size, 1.0);
    assert!(single > 2.5 * pedestals(40.0, "1 m"), "{single}");
}
