//! How one key of the file is declared: what it measures, its range, default, help and where its
//! value goes.

use ledger::Finance;
use quantity::{Decimal, Dimension, Unit};

use crate::choices::{Named, names};
use crate::scenario::Draft;
use crate::{BearingRule, Concept, Design, Duty, FirstAxis};

/// One key of the file.
pub(crate) struct Key {
    /// Sections and name, joined by points.
    pub path: &'static str,
    /// One sentence for people.
    pub help: &'static str,
    pub kind: Kind,
    pub need: Need,
    pub role: Role,
}

/// What a key holds, and where it goes.
pub(crate) enum Kind {
    Quantity(Measure, Put<f64>),
    Monthly(Measure, fn(&mut Draft, [f64; 12])),
    Column(Measure, fn(&mut Draft, Vec<f64>)),
    Whole {
        range: (u32, u32),
        put: Put<u32>,
    },
    Choice {
        names: fn() -> Vec<&'static str>,
        put: Put<usize>,
    },
    Bearing(Put<BearingRule>),
    FirstAxis(Put<FirstAxis>),
    Duty(fn(&mut Draft, Duty)),
    Text(fn(&mut Draft, String)),
    Texts(fn(&mut Draft, Vec<String>)),
}

/// What a quantity is, in which unit it is printed, and its range in that unit.
#[derive(Clone, Copy)]
pub(crate) struct Measure {
    pub dimension: Dimension,
    pub unit: &'static str,
    pub range: (f64, f64),
}

/// Where a value goes. What goes into the design may be opened for search.
#[derive(Clone, Copy)]
pub(crate) enum Put<T> {
    Case(fn(&mut Draft, T)),
    Design(fn(&mut Design, T)),
}

/// What stands in for a key that is not in the file.
#[derive(Clone, Copy)]
pub(crate) enum Need {
    /// Nothing: the key must be given, for instance like this.
    Required(&'static str),
    /// Nothing: the key may be left out; for instance like this.
    Optional(&'static str),
    /// This text.
    Default(&'static str),
    /// One text north of the equator, another south of it.
    ByHemisphere {
        north: &'static str,
        south: &'static str,
    },
    /// The ledger's own starting point, in SI.
    Ledger(fn(&Finance) -> f64),
}

/// What a value has a say in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Role {
    /// Light, heat, masses.
    Physical,
    /// Money and carbon.
    Price,
    /// Neither: titles, file names, effort.
    Aside,
}

impl Key {
    /// The key must be given.
    pub const fn required(self, example: &'static str) -> Self {
        Self {
            need: Need::Required(example),
            ..self
        }
    }

    /// The key may be left out.
    pub const fn optional(self, example: &'static str) -> Self {
        Self {
            need: Need::Optional(example),
            ..self
        }
    }

    /// The key's text where it is not given.
    pub const fn or(self, default: &'static str) -> Self {
        Self {
            need: Need::Default(default),
            ..self
        }
    }

    /// The key's text where it is not given, by hemisphere.
    pub const fn or_by_hemisphere(self, north: &'static str, south: &'static str) -> Self {
        Self {
            need: Need::ByHemisphere { north, south },
            ..self
        }
    }

    /// Where it is not given, what the ledger starts from.
    pub const fn or_ledger(self, value: fn(&Finance) -> f64) -> Self {
        Self {
            need: Need::Ledger(value),
            role: Role::Price,
            ..self
        }
    }

    /// The value touches neither physics nor prices.
    pub const fn aside(self) -> Self {
        Self {
            role: Role::Aside,
            ..self
        }
    }

    /// The value touches only money.
    pub const fn price(self) -> Self {
        Self {
            role: Role::Price,
            ..self
        }
    }

    /// Whether the value may be opened for search.
    pub const fn is_openable(&self) -> bool {
        matches!(
            self.kind,
            Kind::Quantity(_, Put::Design(_))
                | Kind::Whole {
                    put: Put::Design(_),
                    ..
                }
                | Kind::Choice {
                    put: Put::Design(_),
                    ..
                }
                | Kind::Bearing(Put::Design(_))
                | Kind::FirstAxis(Put::Design(_))
        )
    }

    /// The concept whose key it is; none if it holds for all.
    pub fn concept(&self) -> Option<Concept> {
        Concept::of_key(self.path)
    }

    /// The section the key stands in, "" at the top.
    pub fn section(&self) -> &'static str {
        self.path
            .rsplit_once('.')
            .map_or("", |(section, _)| section)
    }

    /// The key without its sections.
    pub fn name(&self) -> &'static str {
        self.path
            .rsplit_once('.')
            .map_or(self.path, |(_, name)| name)
    }

    /// The range in words, where there is one.
    pub fn range_text(&self) -> Option<String> {
        match &self.kind {
            Kind::Quantity(measure, _) | Kind::Monthly(measure, _) | Kind::Column(measure, _) => {
                Some(measure.range_text())
            }
            Kind::Whole { range, .. } => Some(format!("{} … {}", range.0, range.1)),
            Kind::Choice { .. }
            | Kind::Bearing(_)
            | Kind::FirstAxis(_)
            | Kind::Duty(_)
            | Kind::Text(_)
            | Kind::Texts(_) => None,
        }
    }
}

impl Measure {
    /// The unit it is printed in; every one declared is tested to be readable.
    pub fn print_unit(&self) -> Option<Unit> {
        Unit::parse(self.unit, self.dimension).ok()
    }

    /// Whether an SI value lies in the range.
    pub fn holds(&self, si: f64) -> bool {
        let Some(unit) = self.print_unit() else {
            return false;
        };
        let bound = |end: f64| Decimal::parse(&end.to_string()).map(|number| unit.to_si(number));
        match (bound(self.range.0), bound(self.range.1)) {
            (Ok(low), Ok(high)) => (low..=high).contains(&si),
            _ => false,
        }
    }

    /// Such as "10 m … 250 m".
    pub fn range_text(&self) -> String {
        let unit = if self.unit == "1" {
            String::new()
        } else {
            format!(" {}", self.unit)
        };
        format!("{}{unit} … {}{unit}", self.range.0, self.range.1)
    }
}

const fn key(path: &'static str, kind: Kind, help: &'static str) -> Key {
    Key {
        path,
        help,
        kind,
        need: Need::Required(""),
        role: Role::Physical,
    }
}

/// A number with a unit; `range` is in the unit it is printed in.
pub(crate) const fn quantity(
    path: &'static str,
    dimension: Dimension,
    unit: &'static str,
    range: (f64, f64),
    put: Put<f64>,
    help: &'static str,
) -> Key {
    key(
        path,
        Kind::Quantity(
            Measure {
                dimension,
                unit,
                range,
            },
            put,
        ),
        help,
    )
}

/// Twelve numbers with a unit, January first.
pub(crate) const fn monthly(
    path: &'static str,
    dimension: Dimension,
    unit: &'static str,
    range: (f64, f64),
    put: fn(&mut Draft, [f64; 12]),
    help: &'static str,
) -> Key {
    key(
        path,
        Kind::Monthly(
            Measure {
                dimension,
                unit,
                range,
            },
            put,
        ),
        help,
    )
}

/// A column of a table: two numbers with a unit or more.
pub(crate) const fn column(
    path: &'static str,
    dimension: Dimension,
    unit: &'static str,
    range: (f64, f64),
    put: fn(&mut Draft, Vec<f64>),
    help: &'static str,
) -> Key {
    let measure = Measure {
        dimension,
        unit,
        range,
    };
    key(path, Kind::Column(measure, put), help)
}

/// A whole number.
pub(crate) const fn whole(
    path: &'static str,
    range: (u32, u32),
    put: Put<u32>,
    help: &'static str,
) -> Key {
    key(path, Kind::Whole { range, put }, help)
}

/// One word of a few.
pub(crate) const fn choice<T: Named>(
    path: &'static str,
    put: Put<usize>,
    help: &'static str,
) -> Key {
    key(
        path,
        Kind::Choice {
            names: names::<T>,
            put,
        },
        help,
    )
}

/// How strings lie.
pub(crate) const fn bearing(path: &'static str, put: Put<BearingRule>, help: &'static str) -> Key {
    key(path, Kind::Bearing(put), help)
}

/// The axis fixed to the ground.
pub(crate) const fn first_axis(path: &'static str, put: Put<FirstAxis>, help: &'static str) -> Key {
    key(path, Kind::FirstAxis(put), help)
}

/// What every design must deliver.
pub(crate) const fn duty(path: &'static str, put: fn(&mut Draft, Duty), help: &'static str) -> Key {
    key(path, Kind::Duty(put), help)
}

/// Free text.
pub(crate) const fn text(
    path: &'static str,
    put: fn(&mut Draft, String),
    help: &'static str,
) -> Key {
    key(path, Kind::Text(put), help)
}

/// One free text or more.
pub(crate) const fn texts(
    path: &'static str,
    put: fn(&mut Draft, Vec<String>),
    help: &'static str,
) -> Key {
    key(path, Kind::Texts(put), help)
}
