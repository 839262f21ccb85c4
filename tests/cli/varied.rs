//! What the cheapest design rests on, from a run folder and without new light.

use std::fs;

use report::Data;
use serde_json::Value;

use crate::support::{
    assert_same_results, folder, json, number, ran, reference, results, run, search,
};

/// Pairs of draws; each input is exchanged between the two by itself as well.
const MANY_DRAWS: usize = 4096;

fn rows(document: &Value, pointer: &str) -> Vec<Vec<f64>> {
    let rows = document.pointer(pointer).unwrap().as_array().unwrap();
    rows.iter()
        .map(|row| {
            row.as_array()
                .unwrap()
                .iter()
                .map(|cost| cost.as_f64().unwrap())
                .collect()
        })
        .collect()
}

#[test]
fn prices_vary_without_new_light_and_agree_with_price() {
    let folder = folder();
    let searched = ran(&mut search(folder.path()));
    assert_eq!(searched.code, Some(0), "{}", searched.err);
    let out = folder.path().to_str().unwrap();
    let varied = run(&["vary", out, "--draws", "64", "--json"]);
    assert_eq!(varied.code, Some(0), "{}", varied.err);
    let varied = json(&varied);
    let cost = number(&varied, "/cost_per_kwh");
    assert!(number(&varied, "/p10") < number(&varied, "/p50"));
    assert!(number(&varied, "/p50") < number(&varied, "/p90"));

    // One end of a rate, priced the ordinary way.
    let inputs = varied["inputs"].as_array().unwrap();
    let rate = inputs.iter().find(|input| input["input"] == "rates.steel");
    let high = rate.unwrap()["high"].as_f64().unwrap();
    let design = format!("{out}#{}", varied["design"]);
    let set = format!("rates.steel={high} USD/kg");
    let priced = json(&run(&[
        "price", "--design", &design, "--json", "--set", &set,
    ]));
    let wanted = number(&priced, "/money/cost_per_kwh");
    let found = rate.unwrap()["cost_at_high"].as_f64().unwrap();
    assert!((found / wanted - 1.0).abs() < 1e-9, "{found} {wanted}");

    // The tables hold the same.
    let table = |name: &str| {
        let bytes = fs::read(folder.path().join(name)).unwrap();
        report::read_parquet(&bytes).unwrap().0
    };
    let written = table("inputs.parquet");
    let Some(Data::Number(costs)) = written.column("at_highest_per_kwh") else {
        panic!("no costs");
    };
    assert_eq!(costs.len(), inputs.len());
    for (written, input) in costs.iter().zip(inputs) {
        let ratio = written.unwrap() / number(input, "/cost_at_high");
        assert!((ratio - 1.0).abs() < 1e-12, "{input}");
    }
    let written = table("draws.parquet");
    let Some(Data::Number(costs)) = written.column("cost_per_kwh") else {
        panic!("no costs");
    };
    let ratio = costs[50].unwrap() / number(&varied, "/p50");
    assert!((ratio - 1.0).abs() < 1e-12, "{ratio}");
    // So do the charts and the page, which are drawn again; a search writes its own back.
    let page = fs::read_to_string(folder.path().join("report.html")).unwrap();
    for (share, key) in [(0.1, "/p10"), (0.9, "/p90")] {
        let told = report::figures::significant(number(&varied, key), 3);
        assert!(page.contains(&told), "{share}: {told}");
    }
    assert_ne!(
        results(folder.path())["draws.parquet"],
        reference().results["draws.parquet"]
    );

    // The design found again under other prices is never dearer than the one held.
    let (held, again) = (
        rows(&varied, "/grid/held"),
        rows(&varied, "/grid/found_again"),
    );
    for (held, again) in held.iter().flatten().zip(again.iter().flatten()) {
        assert!(again <= held && *again > 0.2 * cost);
    }

    // Steps of design values are remembered: a second look evaluates nothing, whatever it prices.
    let journal = fs::read(folder.path().join("journal")).unwrap();
    assert!(MANY_DRAWS * (inputs.len() + 2) > 100_000);
    let told = run(&["vary", out, "--draws", &MANY_DRAWS.to_string()]);
    assert_eq!(told.code, Some(0), "{}", told.err);
    assert!(told.out.contains("What causes the spread"), "{}", told.out);
    assert_eq!(fs::read(folder.path().join("journal")).unwrap(), journal);

    // The search taken up again leaves what it left before.
    assert_eq!(ran(&mut search(folder.path())).code, Some(0));
    assert_same_results(folder.path(), "searched again after vary");
}
