//! The demo's drives, against what is known of it.

use super::*;
use crate::inputs::tests::{demo, design};

fn workings(changes: &[(&str, &str)]) -> Workings {
    let small = [
        ("strings.count", "60"),
        ("heat.demand.serve_at_least", "0 %"),
    ];
    let all: Vec<(&str, &str)> = small.into_iter().chain(changes.iter().copied()).collect();
    let case = demo(&all);
    Workings::of_design(&case, &design(&case)).unwrap().unwrap()
}

/// Coarser work never brings light, finer never takes any, and all errors together lose more than any
/// of them alone.
#[test]
fn finer_work_brings_light() {
    let workings = workings(&[]);
    for trade in &workings.classes {
        let [coarse, common, fine] = trade.change;
        assert_eq!((trade.now, common), (scenario::Class::Common, 0.0));
        assert!(coarse <= 1e-9 && fine >= -1e-9, "{trade:?}");
    }
    let posts = &workings.classes[0];
    assert!(posts.change[0] < -2.0 * posts.change[2], "{posts:?}");
    let tolerances = workings.lost.iter().find(|part| part.key == "tolerance");
    for part in &workings.blur {
        assert!(part.lost_share >= -1e-9, "{part:?}");
        assert!(part.key == "line" || part.lost_share < tolerances.unwrap().share);
    }
}
