//! The space of designs: opened values as whole numbers of steps.

use quantity::{Decimal, Reading, Unit, accepted_units};

use crate::Design;
use crate::key::{Key, Kind, Put};
use crate::value::Value;

/// One point of the space: for each opened value the index of its step or list entry.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct DesignKey(pub Vec<u32>);

/// The space of designs of a scenario.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Space {
    pub(crate) fixed: Design,
    pub(crate) variables: Vec<Variable>,
}

/// One opened value.
#[derive(Clone)]
pub struct Variable {
    pub(crate) key: &'static Key,
    pub(crate) levels: Levels,
    pub(crate) start: u32,
}

/// The values a variable can take.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Levels {
    /// `from + index · step`, in `unit`; whole numbers without one.
    Steps {
        from: Decimal,
        step: Decimal,
        count: u32,
        unit: Option<Unit>,
    },
    /// Never empty.
    Any(Vec<Value>),
}

impl Space {
    /// The opened values, in the order of a [`DesignKey`].
    #[must_use]
    pub fn variables(&self) -> &[Variable] {
        &self.variables
    }

    /// The design that a single evaluation takes.
    #[must_use]
    pub fn start(&self) -> DesignKey {
        DesignKey(
            self.variables
                .iter()
                .map(|variable| variable.start)
                .collect(),
        )
    }

    /// The design at a point. An index beyond its last is taken as the last; one that is left out,
    /// as the start.
    #[must_use]
    pub fn design(&self, key: &DesignKey) -> Design {
        let mut design = self.fixed.clone();
        for (variable, index) in self.indexed(key) {
            put(variable.key, &mut design, &variable.value(index));
        }
        design
    }

    /// Path and text of each opened value at a point, as they would stand in the file.
    #[must_use]
    pub fn text(&self, key: &DesignKey) -> Vec<(&'static str, String)> {
        let told = |(variable, index): (&Variable, u32)| (variable.path(), variable.text(index));
        self.indexed(key).map(told).collect()
    }

    /// The point with these texts, as [`Space::text`] gives them; `None` if one is missing or is
    /// none of its variable's values.
    #[must_use]
    pub fn key_of(&self, texts: &[(&str, &str)]) -> Option<DesignKey> {
        let index_of = |variable: &Variable| {
            let (_, text) = texts.iter().find(|(path, _)| *path == variable.path())?;
            (0..variable.count()).find(|index| variable.text(*index) == *text)
        };
        self.variables
            .iter()
            .map(index_of)
            .collect::<Option<_>>()
            .map(DesignKey)
    }

    fn indexed(&self, key: &DesignKey) -> impl Iterator<Item = (&Variable, u32)> {
        self.variables.iter().enumerate().map(|(at, variable)| {
            let index = key.0.get(at).copied().unwrap_or(variable.start);
            (variable, index.min(variable.count() - 1))
        })
    }
}

impl Variable {
    /// The key's path.
    #[must_use]
    pub const fn path(&self) -> &'static str {
        self.key.path
    }

    /// How many values it can take; at least one.
    #[must_use]
    pub fn count(&self) -> u32 {
        match &self.levels {
            Levels::Steps { count, .. } => *count,
            Levels::Any(values) => u32::try_from(values.len()).unwrap_or(u32::MAX).max(1),
        }
    }

    /// The index that a single evaluation takes.
    #[must_use]
    pub const fn start(&self) -> u32 {
        self.start
    }

    /// Whether neighbouring indices are neighbouring sizes (a range), not entries of a list.
    #[must_use]
    pub const fn is_range(&self) -> bool {
        matches!(self.levels, Levels::Steps { .. })
    }

    /// The value at an index, as it would stand in the file.
    #[must_use]
    pub fn text(&self, index: u32) -> String {
        self.value(index).text()
    }

    /// The value at an index in SI, if it is a number.
    #[must_use]
    pub fn si(&self, index: u32) -> Option<f64> {
        match self.value(index) {
            Value::Quantity(reading) => Some(reading.si),
            Value::Whole(number) => Some(f64::from(number)),
            _ => None,
        }
    }

    /// The unit of [`Variable::si`], "1" for shares; `None` for whole numbers and words.
    #[must_use]
    pub fn si_unit(&self) -> Option<&'static str> {
        let Kind::Quantity(measure, _) = &self.key.kind else {
            return None;
        };
        let one = Decimal::parse("1").ok()?;
        let is_si = |unit: &&&str| {
            Unit::parse(unit, measure.dimension).is_ok_and(|unit| unit.to_si(one) == 1.0)
        };
        accepted_units(measure.dimension)
            .iter()
            .find(is_si)
            .copied()
    }

    pub(crate) fn value(&self, index: u32) -> Value {
        match &self.levels {
            Levels::Any(values) => {
                let last = values.len() - 1;
                values[usize::try_from(index).unwrap_or(last).min(last)].clone()
            }
            Levels::Steps {
                from, step, unit, ..
            } => {
                let number = step
                    .times(i128::from(index))
                    .and_then(|rise| from.plus(rise));
                let number = number.unwrap_or(*from);
                match unit {
                    None => Value::Whole(number.to_f64() as u32),
                    Some(unit) => {
                        let si = unit.to_si(number);
                        Value::Quantity(Reading {
                            number,
                            unit: unit.clone(),
                            si,
                        })
                    }
                }
            }
        }
    }

    /// What is opened, as people read it.
    pub(crate) fn range_text(&self) -> String {
        match &self.levels {
            Levels::Steps { step, unit, .. } => {
                let step = unit
                    .as_ref()
                    .map_or_else(|| step.to_string(), |unit| unit.show(*step));
                let (from, to) = (self.text(0), self.text(self.count() - 1));
                format!("{from} … {to} by {step}")
            }
            Levels::Any(values) => {
                let shown: Vec<_> = values.iter().map(Value::text).collect();
                format!("any of {}", shown.join(", "))
            }
        }
    }

    /// The same text for the same values, however they are written.
    pub(crate) fn canonical(&self) -> String {
        let start = self.value(self.start).canonical();
        match &self.levels {
            Levels::Steps { count, .. } => {
                let (from, next) = (self.value(0).canonical(), self.value(1).canonical());
                format!("from {from} next {next} count {count} start {start}")
            }
            Levels::Any(values) => {
                let shown: Vec<_> = values.iter().map(Value::canonical).collect();
                format!("any {} start {start}", shown.join(" | "))
            }
        }
    }
}

impl PartialEq for Variable {
    fn eq(&self, other: &Self) -> bool {
        self.key.path == other.key.path && self.levels == other.levels && self.start == other.start
    }
}

impl std::fmt::Debug for Variable {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let start = self.text(self.start);
        write!(
            out,
            "{} = {start}, open {}",
            self.key.path,
            self.range_text()
        )
    }
}

/// Puts a design value where its key says; values of other keys are left alone.
pub(crate) fn put(key: &Key, design: &mut Design, value: &Value) {
    match (&key.kind, value) {
        (Kind::Quantity(_, Put::Design(put)), Value::Quantity(reading)) => put(design, reading.si),
        (
            Kind::Whole {
                put: Put::Design(put),
                ..
            },
            Value::Whole(number),
        ) => put(design, *number),
        (
            Kind::Choice {
                put: Put::Design(put),
                ..
            },
            Value::Choice(index, _),
        ) => {
            put(design, *index);
        }
        (Kind::Bearing(Put::Design(put)), Value::Bearing(rule, _)) => put(design, *rule),
        (Kind::FirstAxis(Put::Design(put)), Value::FirstAxis(axis, _)) => put(design, *axis),
        _ => {}
    }
}
