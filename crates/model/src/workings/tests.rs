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
    Workings::of_design(&case, &design(&case)).unwrap()
}

#[test]
fn print_it() {
    println!("{:#?}", workings(&[]));
}
