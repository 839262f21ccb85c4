//! Opened ranges: from one value to another by exact decimal steps.

use quantity::{Decimal, Reading, Unit};

use crate::key::{Key, Kind};
use crate::opening::{Fault, Parts, opening};
use crate::problem::{ProblemKind, Problems};
use crate::raw::{Raw, Spot};
use crate::space::{Levels, Variable};
use crate::value::{self, Value};

/// The most places a range may be divided into.
const MOST_PLACES: u32 = 1_000_001;

/// A range without a step is divided into this power of ten.
const DEFAULT_DIVISION_TENS: i32 = 3;

/// Significant digits that survive a change of unit through doubles.
const CONVERTED_DIGITS: usize = 15;

/// A part of a range in the unit of its lower end, with what was written.
struct Mark<'a> {
    number: Decimal,
    text: String,
    spot: &'a Spot,
}

struct Range<'a> {
    key: &'static Key,
    spot: &'a Spot,
    /// None for whole numbers.
    unit: Option<Unit>,
    from: Mark<'a>,
    to: Mark<'a>,
    step: Option<Mark<'a>>,
    start: Option<Mark<'a>>,
}

/// Reads a range; `None` if one of its parts is wrong for itself, which is told.
pub(crate) fn read<'a>(
    key: &'static Key,
    ends: [&'a Spot; 2],
    parts: &Parts<'a>,
    spot: &'a Spot,
    problems: &mut Problems,
) -> Option<Result<Variable, Fault<'a>>> {
    let read = [Some(ends[0]), Some(ends[1]), parts.start]
        .map(|part| part.map(|spot| (spot, value::read(key, spot, problems))));
    let [from, to, start] = read;
    let ((from_spot, from), (to_spot, to)) = (from?, to?);
    let (from, to) = (from?, to?);
    let unit = match &from {
        Value::Quantity(reading) => Some(reading.unit.clone()),
        _ => None,
    };
    let step = parts.step.map(|spot| read_step(key, spot, unit.as_ref()));
    let range = match (step.transpose(), start) {
        (Err(fault), _) => Err(fault),
        (Ok(_), Some((_, None))) => return None,
        (Ok(step), start) => Ok(Range {
            from: mark(from_spot, &from, unit.as_ref()),
            to: mark(to_spot, &to, unit.as_ref()),
            start: start.and_then(|(spot, value)| Some(mark(spot, &value?, unit.as_ref()))),
            key,
            spot,
            unit,
            step,
        }),
    };
    Some(range.and_then(Range::variable))
}

fn mark<'a>(spot: &'a Spot, value: &Value, unit: Option<&Unit>) -> Mark<'a> {
    let number = match (value, unit) {
        (Value::Quantity(reading), Some(unit)) => in_unit(reading, unit),
        (Value::Whole(number), _) => Decimal::new(i128::from(*number), 0),
        _ => Decimal::default(),
    };
    Mark {
        number,
        text: value.text(),
        spot,
    }
}

fn in_unit(reading: &Reading, unit: &Unit) -> Decimal {
    if reading.unit == *unit {
        reading.number
    } else {
        unit.from_si_rounded(reading.si, CONVERTED_DIGITS)
    }
}

/// A step has the unit of its range but not its bounds.
fn read_step<'a>(key: &Key, spot: &'a Spot, unit: Option<&Unit>) -> Result<Mark<'a>, Fault<'a>> {
    let fault = |kind| Fault { spot, kind };
    let (Raw::Text(text) | Raw::Number(text)) = &spot.raw else {
        return Err(fault(opening("step is a number with a unit")));
    };
    let number = match (&key.kind, unit) {
        (Kind::Quantity(measure, _), Some(unit)) => {
            quantity::read(text, measure.dimension).map(|reading| in_unit(&reading, unit))
        }
        _ => Decimal::parse(text),
    };
    let number = number.map_err(|flaw| fault(flaw.into()))?;
    let whole = number
        .divided_by(Decimal::new(1, 0))
        .is_some_and(|(_, whole)| whole);
    if unit.is_none() && !whole {
        return Err(fault(opening(format!("step {text} is no whole number"))));
    }
    Ok(Mark {
        number,
        text: text.clone(),
        spot,
    })
}

impl<'a> Range<'a> {
    fn variable(self) -> Result<Variable, Fault<'a>> {
        let (step, count) = self.steps()?;
        let (from, unit) = (self.from.number, self.unit.clone());
        let levels = Levels::Steps {
            from,
            step,
            count,
            unit,
        };
        let mut variable = Variable {
            key: self.key,
            levels,
            start: (count - 1) / 2,
        };
        if let Some(start) = &self.start {
            let index = self.start_index(start, step, &variable);
            variable.start = index.map_err(|kind| Fault {
                spot: start.spot,
                kind,
            })?;
        }
        Ok(variable)
    }

    /// The step and the number of places.
    fn steps(&self) -> Result<(Decimal, u32), Fault<'a>> {
        let (from, to) = (self.from.text.clone(), self.to.text.clone());
        let span = self.to.number.minus(self.from.number);
        if span.is_some_and(|span| span.is_negative() || span.is_zero()) {
            return Err(Fault {
                spot: self.spot,
                kind: ProblemKind::RangeBackwards { from, to },
            });
        }
        let step = self.step.as_ref();
        let number = step.map_or_else(|| self.default_step(span), |step| Some(step.number));
        let count = || u32::try_from(span?.divided_by(number?)?.0 + 1).ok();
        match (
            number,
            count().filter(|count| (2..=MOST_PLACES).contains(count)),
        ) {
            (Some(step), Some(count)) => Ok((step, count)),
            _ => {
                let spot = step.map_or(self.spot, |step| step.spot);
                let step = step.map_or_else(String::new, |step| step.text.clone());
                let kind = ProblemKind::BadStep {
                    step,
                    from,
                    to,
                    most: MOST_PLACES,
                };
                Err(Fault { spot, kind })
            }
        }
    }

    /// A thousandth of the range; for whole numbers at least 1.
    fn default_step(&self, span: Option<Decimal>) -> Option<Decimal> {
        if self.unit.is_some() {
            return span.map(|span| span.shifted(-DEFAULT_DIVISION_TENS));
        }
        let (thousandth, _) = span?.divided_by(Decimal::new(1, DEFAULT_DIVISION_TENS))?;
        Some(Decimal::new(thousandth.max(1), 0))
    }

    /// The index of the start. Off a given step it is refused; off the default one it is set on
    /// the step below.
    fn start_index(
        &self,
        start: &Mark<'_>,
        step: Decimal,
        variable: &Variable,
    ) -> Result<u32, ProblemKind> {
        let last = variable.count() - 1;
        let place = || {
            let rise = start.number.minus(self.from.number)?;
            let (index, on_step) = rise.divided_by(step)?;
            Some((
                u32::try_from(index).ok().filter(|index| *index <= last)?,
                on_step,
            ))
        };
        let beyond = place().filter(|(index, on_step)| *on_step || *index < last);
        let Some((index, on_step)) = beyond else {
            let (from, to) = (variable.text(0), variable.text(last));
            return Err(ProblemKind::StartOutside {
                start: start.text.clone(),
                from,
                to,
            });
        };
        if on_step || self.step.is_none() {
            return Ok(index);
        }
        let (below, above) = (variable.text(index), variable.text(index + 1));
        Err(ProblemKind::StartOffStep {
            start: start.text.clone(),
            below,
            above,
        })
    }
}
