//! Where the year's energy goes, step by step, from sun on the glass to what is
//! delivered.

use model::Summary;

/// What one cause of loss leaves.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Step {
    /// The cause, for people.
    pub label: &'static str,
    /// The cause, for files.
    pub key: &'static str,
    /// Energy left after it in the year [J].
    pub left_j: f64,
    /// Whether what is left is heat or electricity, no longer light.
    pub is_heat: bool,
}

/// Causes of loss on the light's way, in the order of the model's chain.
const LIGHT: [(&str, &str); 6] = [
    ("cosine", "cosine"),
    ("shading", "shading"),
    ("blocking", "blocking"),
    ("reflectance and dust", "reflectance"),
    ("air on the way", "attenuation"),
    ("past the aperture", "intercept"),
];

/// The losses of a year; the last one leaves what is delivered.
pub fn steps(summary: &Summary) -> Vec<Step> {
    let light = LIGHT.into_iter().zip(&summary.chain_j[1..]);
    let mut steps: Vec<Step> = light
        .map(|((label, key), &left_j)| Step {
            label,
            key,
            left_j,
            is_heat: false,
        })
        .collect();
    let entering_j = steps.last().map_or(0.0, |step| step.left_j);
    steps.push(Step {
        label: "turned away at limits",
        key: "defocused",
        left_j: entering_j - summary.defocused_j,
        is_heat: false,
    });
    let heat = [
        ("receiver and outages", "receiver", summary.receiver_out_j),
        (
            "pipes and store",
            "pipes_and_store",
            summary.used_j + summary.dumped_j,
        ),
        ("not wanted", "dumped", summary.used_j),
    ];
    let gross_j = summary.used_j - summary.rejected_j;
    let turbine = [
        ("turbine and condenser", "turbine", gross_j),
        ("own use", "own_use", summary.delivered_j),
    ];
    let turbine = turbine.into_iter().filter(|_| summary.rejected_j > 0.0);
    steps.extend(
        heat.into_iter()
            .chain(turbine)
            .map(|(label, key, left_j)| Step {
                label,
                key,
                left_j,
                is_heat: true,
            }),
    );
    steps
}
