//! The file's JSON schema (draft 7), for editors.

use ledger::Item;
use quantity::accepted_units;
use serde_json::{Map, Value as Json, json};

use crate::key::{Key, Kind, Measure, Need};
use crate::table::{self, RATES};

/// The JSON schema of a scenario file, generated from the declaration of its keys.
#[must_use]
pub fn schema() -> Json {
    let mut root = section_schema("");
    if let Some(root) = root.as_object_mut() {
        root.insert(
            "$schema".into(),
            json!("http://json-schema.org/draft-07/schema#"),
        );
        root.insert("title".into(), json!("Scenario"));
    }
    root
}

/// A section: its keys, and the sections in it.
fn section_schema(section: &str) -> Json {
    let mut properties = Map::new();
    for key in table::keys() {
        if key.section() == section {
            properties.insert(key.name().to_owned(), key_schema(key));
        } else if let Some(name) = section_below(section, key.section()) {
            let path = if section.is_empty() {
                name.to_owned()
            } else {
                format!("{section}.{name}")
            };
            properties
                .entry(name)
                .or_insert_with(|| section_schema(&path));
        }
    }
    if section.is_empty() {
        properties.insert(RATES.to_owned(), rates_schema());
    }
    json!({ "type": "object", "additionalProperties": false, "properties": properties })
}

/// The name of the section right below `section` on the way to `inner`.
fn section_below<'a>(section: &str, inner: &'a str) -> Option<&'a str> {
    let rest = match section {
        "" => inner,
        section => inner.strip_prefix(section)?.strip_prefix('.')?,
    };
    rest.split('.').next().filter(|name| !name.is_empty())
}

fn rates_schema() -> Json {
    let mut properties: Map<String, Json> = Item::ALL.iter().map(rate_schema).collect();
    for key in table::keys().filter(|key| key.section() == RATES) {
        properties.insert(key.name().to_owned(), key_schema(key));
    }
    properties.insert("index".to_owned(), index_schema());
    json!({
        "type": "object",
        "additionalProperties": false,
        "description": "Prices in place of the built-in ones.",
        "properties": properties,
    })
}

/// A price alone, or a table of all that is known of a rate.
fn rate_schema(item: &Item) -> (String, Json) {
    let (facts, text) = (
        item.facts(),
        |words: &str| json!({ "type": "string", "description": words }),
    );
    let words = format!(
        "{}. Price per {}, such as \"2.5 USD/{}\".",
        facts.description, facts.unit, facts.unit
    );
    let table = json!({
        "type": "object",
        "description": "All that is known of the rate.",
        "additionalProperties": false,
        "properties": {
            "rate": text("Price of one unit."),
            "low": text("Low end of the price."),
            "high": text("High end of the price."),
            "year": { "type": "integer", "description": "Year in whose money the price is; finance.price_year if not given." },
            "source": text("Where the price is from; needed beside a rate."),
            "carbon": text("Carbon embodied in one unit, such as \"2.5 kg/kg\"."),
            "carbon_source": text("Where the carbon is from; needed beside it."),
            "steel": text("Crude steel in one unit, whose carbon follows carbon.steel."),
            "life": text("Time until it is bought again, such as \"15 yr\"."),
        },
    });
    let schema = json!({ "description": words, "anyOf": [text(&words), table] });
    (facts.key.to_owned(), schema)
}

fn index_schema() -> Json {
    json!({
        "type": "object",
        "description": "A price index in place of the built-in one.",
        "required": ["source"],
        "properties": { "source": { "type": "string", "description": "Which index, and where it is published." } },
        "additionalProperties": { "type": "number", "description": "Level of the index in a year." },
    })
}

fn key_schema(key: &Key) -> Json {
    let value = value_schema(key);
    let words = words(key);
    if !key.is_openable() {
        return described(value, &words);
    }
    let mut forms = vec![described(value.clone(), &words), list_schema(&value)];
    if matches!(key.kind, Kind::Quantity(..) | Kind::Whole { .. }) {
        forms.push(range_schema(&value));
    }
    json!({ "description": words, "anyOf": forms })
}

fn described(mut schema: Json, words: &str) -> Json {
    if let Some(schema) = schema.as_object_mut() {
        schema.insert("description".into(), json!(words));
    }
    schema
}

fn range_schema(value: &Json) -> Json {
    let part = |words: &str| described(value.clone(), words);
    json!({
        "type": "object",
        "description": "Open for search: a range with a step.",
        "additionalProperties": false,
        "required": ["from", "to"],
        "properties": {
            "from": part("Lower end."),
            "to": part("Upper end."),
            "step": part("Step; a thousandth of the range if not given."),
            "start": part("Where the search starts, and the value of a single evaluation."),
        },
    })
}

fn list_schema(value: &Json) -> Json {
    json!({
        "type": "object",
        "description": "Open for search: a list to choose from.",
        "additionalProperties": false,
        "required": ["any"],
        "properties": {
            "any": { "type": "array", "minItems": 1, "items": described(value.clone(), "One of the values."), "description": "The values." },
            "start": described(value.clone(), "Where the search starts, and the value of a single evaluation."),
        },
    })
}

fn value_schema(key: &Key) -> Json {
    match &key.kind {
        Kind::Quantity(measure, _) => quantity_schema(measure),
        Kind::Monthly(measure, _) => {
            let month = described(quantity_schema(measure), "One month.");
            json!({ "type": "array", "minItems": 12, "maxItems": 12, "items": month })
        }
        Kind::Column(measure, _) => {
            let line = described(quantity_schema(measure), "One line of the table.");
            json!({ "type": "array", "minItems": 2, "items": line })
        }
        Kind::Whole { range, .. } => {
            json!({ "type": "integer", "minimum": range.0, "maximum": range.1 })
        }
        Kind::Choice { names, .. } => json!({ "type": "string", "enum": names() }),
        Kind::Texts(_) => {
            let item = json!({ "type": "string", "description": "One of them." });
            json!({ "type": "array", "minItems": 1, "items": item })
        }
        Kind::Bearing(_) | Kind::FirstAxis(_) | Kind::Duty(_) | Kind::Text(_) => {
            json!({ "type": "string" })
        }
    }
}

fn quantity_schema(measure: &Measure) -> Json {
    if measure.dimension.is_plain() {
        json!({ "type": ["number", "string"] })
    } else {
        json!({ "type": "string" })
    }
}

/// Help, units, range and default in words.
fn words(key: &Key) -> String {
    let mut words = key.help.to_owned();
    if let Kind::Quantity(measure, _) | Kind::Monthly(measure, _) | Kind::Column(measure, _) =
        &key.kind
        && !measure.dimension.is_plain()
    {
        words += &format!(" Units: {}.", accepted_units(measure.dimension).join(", "));
    }
    if let Some(range) = key.range_text() {
        words += &format!(" Range: {range}.");
    }
    match key.need {
        Need::Default(text) => words += &format!(" Default: {text}."),
        Need::ByHemisphere { north, south } => {
            words += &format!(" Default: {north} north of the equator, {south} south of it.");
        }
        Need::Required(example) => words += &format!(" Needed; for example {example}."),
        Need::Optional(_) | Need::Ledger(_) => {}
    }
    words
}
