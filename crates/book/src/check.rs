//! A check: declared in one place, held and recorded in the same breath.

use std::fs::File;
use std::io::{Read, Seek, Write};

use crate::figures::{shown, with_unit};
use crate::record::{Chapters, Record, read, written};

/// The file of records.
const FILE: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/checks.toml");
/// Set to `renew`, checks write their records instead of being held to them.
const SWITCH: &str = "METHOD_BOOK";

/// Digits of values, and of how far off they are.
const DIGITS: usize = 6;
const DIGITS_OFF: usize = 2;

/// Share of a value below which a difference is that of the computer's arithmetic.
const ARITHMETIC: f64 = 1e-9;

/// What a model is held to.
#[derive(Clone, Copy, Debug)]
pub struct Check {
    /// Its place in the book: the crate that owns the model, a dot and a name.
    pub id: &'static str,
    /// What is modelled.
    pub model: &'static str,
    /// The law, in words of mathematics.
    pub equation: &'static str,
    /// Where the law is from.
    pub source: &'static str,
    /// Where the law holds.
    pub validity: &'static str,
    /// What it is held to: a table, a worked example, a library, with its source.
    pub against: &'static str,
    /// Unit of the values; empty for a ratio.
    pub unit: &'static str,
}

/// A value expected, the value found, and how far that is off: a difference, or a share of what is
/// expected.
#[derive(Clone, Copy)]
struct Compared {
    expected: f64,
    found: f64,
    off: f64,
}

impl Check {
    /// Holds pairs of an expected value and a found one to a difference in the check's unit, and the
    /// worst of them to the record.
    ///
    /// # Panics
    /// When one is farther off, when there are none, or when the record says something else.
    pub fn within(&self, allowed: f64, pairs: impl IntoIterator<Item = (f64, f64)>) {
        let off = |expected: f64, found: f64| found - expected;
        self.hold(allowed, pairs, off, |value| {
            with_unit(value, DIGITS_OFF, self.unit)
        });
    }

    /// The same with differences as shares of what is expected.
    ///
    /// # Panics
    /// As [`Check::within`].
    pub fn within_share(&self, allowed: f64, pairs: impl IntoIterator<Item = (f64, f64)>) {
        let off = |expected: f64, found: f64| found / expected - 1.0;
        self.hold(allowed, pairs, off, |share| {
            format!("{} %", shown(100.0 * share, DIGITS_OFF))
        });
    }

    fn hold(
        &self,
        allowed: f64,
        pairs: impl IntoIterator<Item = (f64, f64)>,
        off: impl Fn(f64, f64) -> f64,
        told: impl Fn(f64) -> String,
    ) {
        let compared: Vec<Compared> = pairs
            .into_iter()
            .map(|(expected, found)| Compared {
                expected,
                found,
                off: off(expected, found),
            })
            .collect();
        for one in &compared {
            let (expected, found) = (one.expected, one.found);
            assert!(
                one.off.abs() <= allowed,
                "{}: {found} where {expected} is expected: {} of {allowed}",
                self.id,
                one.off
            );
        }
        let worst = compared
            .iter()
            .max_by(|one, other| one.off.abs().total_cmp(&other.off.abs()))
            .expect("something is compared");
        let is_exact = (worst.found - worst.expected).abs() <= ARITHMETIC * worst.expected.abs();
        let worst_off = if is_exact { 0.0 } else { worst.off };
        self.keep(&Record {
            model: self.model.to_owned(),
            equation: self.equation.to_owned(),
            source: self.source.to_owned(),
            validity: self.validity.to_owned(),
            against: self.against.to_owned(),
            values: compared.len(),
            expected: with_unit(worst.expected, DIGITS, self.unit),
            found: with_unit(worst.found, DIGITS, self.unit),
            off: told(worst_off),
            allowed: told(allowed),
        });
    }

    /// Holds what was found to the record, or records it.
    fn keep(&self, found: &Record) {
        let (owner, name) = self.id.split_once('.').expect("an id is CRATE.NAME");
        if std::env::var_os(SWITCH).is_some_and(|value| value == "renew") {
            changed(|chapters| {
                let chapter = chapters.entry(owner.to_owned()).or_default();
                chapter.insert(name.to_owned(), found.clone());
            });
            return;
        }
        let text = std::fs::read_to_string(FILE).expect("the file of records can be read");
        let chapters = read(&text).expect("the file of records is sound");
        let kept = chapters.get(owner).and_then(|chapter| chapter.get(name));
        assert_eq!(
            kept,
            Some(found),
            "{}: {FILE} says something else; {SWITCH}=renew writes it anew",
            self.id
        );
    }
}

/// Changes the file of records while no other test does.
fn changed(change: impl Fn(&mut Chapters)) {
    let mut file = File::options()
        .read(true)
        .write(true)
        .create(true)
        .truncate(false)
        .open(FILE)
        .expect("the file of records can be opened");
    file.lock().expect("the file of records can be held");
    let mut text = String::new();
    file.read_to_string(&mut text).expect("it is text");
    let mut chapters = read(&text).expect("the file of records is sound");
    change(&mut chapters);
    file.set_len(0).expect("it can be emptied");
    file.rewind().expect("it can be rewound");
    file.write_all(written(&chapters).as_bytes())
        .expect("it can be written");
}

#[cfg(test)]
mod tests {
    use super::*;

    const CHECK: Check = Check {
        id: "book.nothing",
        model: "",
        equation: "",
        source: "",
        validity: "",
        against: "",
        unit: "m",
    };

    #[test]
    #[should_panic(expected = "book.nothing: 1.2 where 1 is expected")]
    fn what_is_too_far_off_fails() {
        CHECK.within(0.1, [(1.0, 1.05), (1.0, 1.2)]);
    }

    #[test]
    #[should_panic(expected = "NaN where 1 is expected")]
    fn no_number_is_too_far_off() {
        CHECK.within_share(0.1, [(1.0, f64::NAN)]);
    }

    #[test]
    #[should_panic(expected = "something is compared")]
    fn nothing_compared_fails() {
        CHECK.within(0.1, []);
    }

    #[test]
    #[should_panic(expected = "METHOD_BOOK=renew writes it anew")]
    fn what_no_record_says_fails() {
        CHECK.within(0.1, [(1.0, 1.05)]);
    }
}
