//! Heliostats beside strings: on their targets exactly, by the same bits on any number of threads, and
//! at what each costs.

use ledger::Item;
use model::Fidelity::{Every, Search};
use model::Summary;
use tautfield_tests::Works;

use crate::{apart, bits, fields, summary};

const PEDESTALS: fields::Settings = &[
    ("concept", "pedestals"),
    ("pedestals.count", "40"),
    ("pedestals.area", "30 m2"),
];
const SINGLES: fields::Settings = &[
    ("concept", "singles"),
    ("singles.count", "300"),
    ("singles.side", "1.2 m"),
    ("singles.glass", "5 mm"),
];

/// A calibrated mirror with two drives of its own misses nothing, and none is nearer than another could
/// touch; a few percent at most is blocked at the spacing without blocking.
#[test]
fn heliostats_follow_their_sun_exactly() {
    for (settings, area_m2) in [(PEDESTALS, 1200.0), (SINGLES, 432.0)] {
        let year = summary(&Works::new(settings), Every);
        assert!(year.residual_rad < 1e-9, "{}", year.residual_rad);
        assert!(apart(year.mirror_area_m2, area_m2) < 1e-9);
        assert!(year.margins.violation() == 0.0);
        let [.., shaded_j, unblocked_j, _, _, _] = year.chain_j;
        assert!(unblocked_j / shaded_j > 0.95, "{}", unblocked_j / shaded_j);
        let back = Summary::from_numbers(&year.to_numbers()).expect("as many as were given");
        assert_eq!(bits(&back), bits(&year));
    }
}

#[test]
fn heliostats_give_the_same_bits_on_any_number_of_threads() {
    let works = Works::new(PEDESTALS);
    let on = |threads: usize| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads);
        let pool = pool.build().expect("threads can be had");
        pool.install(|| bits(&summary(&works, Search)))
    };
    assert_eq!(on(1), on(5));
}

/// Two drives and one controller for each, no line and no rail; cameras that calibrate; glass with its
/// offcuts.
#[test]
fn heliostats_are_billed_for_what_they_are_made_of() {
    let pedestals = summary(&Works::new(PEDESTALS), Search).quantities;
    for (item, amount) in [
        (Item::DriveUnit, 80.0),
        (Item::Controller, 40.0),
        (Item::TargetCamera, 1.0),
        (Item::PanelTie, 1200.0),
        (Item::Line, 0.0),
        (Item::RailSteel, 0.0),
        (Item::LeverSteel, 0.0),
    ] {
        assert_eq!(pedestals.get(item), amount, "{}", item.key());
    }
    assert!(pedestals.get(Item::TubeSteel) > 0.0 && pedestals.get(Item::Concrete) > 0.0);
    let singles = summary(&Works::new(SINGLES), Search).quantities;
    assert_eq!(singles.get(Item::TubeSteel), 0.0);
    assert_eq!(singles.get(Item::Concrete), 0.0, "driven posts");
}

/// Flat panels, canted, cast an image no smaller than one of them, and so lose light through an aperture
/// that is not much larger.
#[test]
fn flat_panels_spill_more_than_focused_ones() {
    let with = |shape: &'static str| {
        let settings = [
            PEDESTALS,
            &[
                ("pedestals.panel_shape", shape),
                ("receiver.aperture_width", "2.5 m"),
                ("receiver.aperture_height", "2.5 m"),
            ],
        ];
        let year = summary(&Works::new(&settings.concat()), Search);
        let [.., arriving_j, inside_j] = year.chain_j;
        inside_j / arriving_j
    };
    let (focused, flat) = (with("focused"), with("flat"));
    assert!(flat < focused - 0.02, "{flat} {focused}");
}

/// A flat mirror casts an image at least as large as itself, foreshortened, so it needs a target at least its
/// own size, and more for the sun's own disc (common practice, no source): of the light through a square of
/// half its side no more can enter than the areas' ratio, and through one of its own side not nearly all. A
/// focused mirror sends nearly twice as much through the small one.
#[test]
fn a_flat_mirror_needs_a_target_of_its_own_size() {
    let year = |shape: &'static str, aperture: &'static str| {
        summary(
            &Works::new(&[
                ("concept", "singles"),
                ("singles.count", "150"),
                ("singles.side", "1.3 m"),
                ("singles.glass", "5 mm"),
                ("singles.panel_shape", shape),
                ("singles.aim_spread", "0 %"),
                ("tower.aim_height", "46 m"),
                ("receiver.aperture_width", aperture),
                ("receiver.aperture_height", aperture),
            ]),
            Search,
        )
    };
    let inside = |year: &Summary| {
        let [.., arriving_j, inside_j] = year.chain_j;
        inside_j / arriving_j
    };
    let half = year("flat", "0.65 m");
    let [whole_j, facing_j, ..] = half.chain_j;
    let (half_side, its_side, twice) = (
        inside(&half),
        inside(&year("flat", "1.3 m")),
        inside(&year("flat", "2.6 m")),
    );
    let focused = inside(&year("focused", "0.65 m"));
    println!("flat {half_side:.3} {its_side:.3} {twice:.3}, focused {focused:.3}");
    assert!(half_side < 0.25 * whole_j / facing_j, "{half_side}");
    assert!((0.4..0.85).contains(&its_side), "{its_side}");
    assert!(twice > 0.95, "{twice}");
    assert!(focused > 1.6 * half_side, "{focused} {half_side}");
}

/// A search begins with a design that keeps every limit, whatever the concept and whatever is delivered.
#[test]
fn every_concept_starts_from_a_design_that_holds() {
    for (scenario, serve_at_least) in [
        ("process-steam", "20 %"),
        ("hot-air", "20 %"),
        ("power", "25 %"),
    ] {
        for concept in ["strings", "pedestals", "singles"] {
            let settings = [
                ("concept", concept),
                ("heat.demand.serve_at_least", serve_at_least),
            ];
            let year = summary(&Works::of(scenario, &settings), Search);
            let (limit, margin) = (year.margins.most_broken(), year.margins.violation());
            assert_eq!(margin, 0.0, "{scenario} {concept}: {limit:?}");
        }
    }
}

/// Glass too thick to be bent for places near the tower may be left flat, as a string's panels and as a
/// single mirror: it holds, and its image is larger.
#[test]
fn flat_glass_holds_where_bent_glass_breaks() {
    for concept in ["strings", "singles"] {
        let with = |shape: &'static str, aim: &'static str| {
            let shape_key = ["strings.panel_shape", "singles.panel_shape"];
            let [strings, singles] = shape_key.map(|key| (key, shape));
            Works::new(&[
                ("concept", concept),
                strings,
                singles,
                ("strings.count", "20"),
                ("singles.count", "300"),
                ("singles.side", "0.95 m"),
                ("strings.glass", "6 mm"),
                ("singles.glass", "6 mm"),
                ("receiver.aperture_width", "2 m"),
                ("receiver.aperture_height", "2 m"),
                ("tower.aim_height", aim),
            ])
        };
        let near = with("focused", "20 m").evaluate(Search);
        let broken = near.expect_err("glass breaks");
        let (limit, _) = broken.margins.most_broken().expect("a limit is broken");
        assert_eq!(limit, "glass_focusing", "{concept}");
        let inside = |works: &Works| {
            let [.., arriving_j, inside_j] = summary(works, Search).chain_j;
            inside_j / arriving_j
        };
        assert!(inside(&with("flat", "20 m")) > 0.2, "{concept}");
        let (bent, flat) = (
            inside(&with("focused", "40 m")),
            inside(&with("flat", "40 m")),
        );
        assert!(flat < bent - 0.02, "{concept}: {flat} {bent}");
    }
}
