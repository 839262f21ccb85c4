//! Quantiles and Sobol' indices held against general-purpose libraries.

use core::f64::consts::PI;
use std::path::Path;
use std::process::Command;

use book::Check;
use study::{Span, draw, quantile};
use tautfield_tests::outside;

/// Draws twice over, and once more for each input; the library draws as many by its own sequence.
const DRAWS: u32 = 4096;

/// What a script of the libraries prints: a list of numbers a line.
fn told(python: &Path, script: &str, given: &str) -> Vec<Vec<f64>> {
    let output = Command::new(python)
        .args(["-c", script, given])
        .output()
        .expect("Python starts");
    let errors = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success(), "{errors}");
    serde_json::from_slice(&output.stdout).expect("lists of numbers")
}

/// Ishigami and Homma (1990) with a = 7 and b = 0.1, of shares.
fn ishigami(shares: &[f64]) -> f64 {
    let x: Vec<f64> = shares
        .iter()
        .map(|share| PI * (2.0 * share - 1.0))
        .collect();
    let (first, second) = (libm::sin(x[0]), libm::sin(x[1]));
    first + 7.0 * second * second + 0.1 * x[2] * x[2] * x[2] * x[2] * first
}

/// Indices as one library finds them, quantiles as another does of as many even draws.
const ISHIGAMI: &str = r#"
import json, sys
import numpy
from SALib.analyze import sobol as analyse
from SALib.sample import sobol as sample
from SALib.test_functions import Ishigami
draws = int(sys.argv[1])
problem = {"num_vars": 3, "names": ["x", "y", "z"], "bounds": [[-numpy.pi, numpy.pi]] * 3}
points = sample.sample(problem, draws, calc_second_order=False, seed=1)
found = analyse.analyze(problem, Ishigami.evaluate(points), calc_second_order=False, seed=1)
even = numpy.random.default_rng(1).uniform(-numpy.pi, numpy.pi, (2_000_000, 3))
quantiles = numpy.quantile(Ishigami.evaluate(even), [0.1, 0.5, 0.9])
print(json.dumps([list(found["S1"]), list(found["ST"]), list(quantiles)]))
"#;

/// Each of the two errs by about half of a hundredth with so many draws.
#[test]
fn indices_and_quantiles_of_a_known_function_are_those_of_the_libraries() {
    let Some(python) = outside::python(&["SALib", "numpy"]) else {
        return;
    };
    let theirs = told(&python, ISHIGAMI, &DRAWS.to_string());
    let ours = draw(3, DRAWS, 1, ishigami);
    let pairs = ours
        .influences
        .iter()
        .enumerate()
        .flat_map(|(input, found)| {
            let (first, total) = (theirs[0][input], theirs[1][input]);
            [(first, found.first), (total, found.total)]
        });
    Check {
        id: "study.influence_by_a_library",
        model: "Share of the spread that one input causes",
        equation: "S = Var(E(y | x)) ÷ Var(y), alone and with all it takes part in",
        source: "Saltelli et al. 2010, table 2 b, for what acts alone; Jansen 1999 for all together",
        validity: "independent inputs",
        against: "SALib 1.6.0, a general-purpose library: the function of Ishigami & Homma 1990, 4,096 draws of its own",
        unit: "",
    }
    .within(0.01, pairs);
    let quantiles = [0.1, 0.5, 0.9].map(|share| quantile(&ours.results, share));
    Check {
        id: "study.quantiles_by_a_library",
        model: "Low, middle and high of what is drawn",
        equation: "scrambled Sobol points, the results sorted, between neighbours a straight line",
        source: "Joe & Kuo 2008; Matoušek 1998, for the scrambling",
        validity: "independent inputs, up to as many as there are direction numbers for",
        against: "numpy, a general-purpose library: two million even draws of the same function, 10, 50 and 90 %",
        unit: "",
    }
    .within(0.02, theirs[2].iter().copied().zip(quantiles));
}

const QUANTILES: &str = r#"
import json, sys
import numpy
values = json.loads(sys.argv[1])
print(json.dumps([list(numpy.quantile(values, numpy.linspace(0.0, 1.0, 41)))]))
"#;

/// Of the same values the same quantiles, to rounding.
#[test]
fn quantiles_of_given_values_are_those_of_a_library() {
    let Some(python) = outside::python(&["numpy"]) else {
        return;
    };
    let span = Span {
        low: 1.0,
        likely: 2.0,
        high: 7.0,
    };
    let values = draw(2, 50, 3, |shares| span.at(shares[0]) * span.at(shares[1])).results;
    let given = serde_json::to_string(&values).expect("numbers");
    let theirs = told(&python, QUANTILES, &given);
    for (place, wanted) in theirs[0].iter().enumerate() {
        let found = quantile(&values, place as f64 / 40.0);
        assert!((found - wanted).abs() < 1e-12, "{place}: {found} {wanted}");
    }
}

const TRIANGLES: &str = r#"
import json, sys
import numpy
shares = numpy.linspace(0.005, 0.995, 100)
from scipy.stats import triang
rows = []
for low, likely, high in json.loads(sys.argv[1]):
    width = high - low
    rows.append(list(triang.ppf(shares, (likely - low) / width, low, width)))
print(json.dumps(rows))
"#;

/// Skewed ones too, and those whose most likely value is an end.
#[test]
fn triangular_spans_are_those_of_a_library() {
    let Some(python) = outside::python(&["scipy"]) else {
        return;
    };
    let spans = [[1.0, 2.0, 4.0], [0.0, 0.0, 1.0], [-3.0, 5.0, 5.0]];
    let given = serde_json::to_string(&spans).expect("numbers");
    let theirs = told(&python, TRIANGLES, &given);
    for ([low, likely, high], wanted) in spans.into_iter().zip(theirs) {
        let span = Span { low, likely, high };
        for (place, wanted) in wanted.into_iter().enumerate() {
            let found = span.at(0.005 + 0.01 * place as f64);
            assert!((found - wanted).abs() < 1e-9, "{span:?}: {found} {wanted}");
        }
    }
}
