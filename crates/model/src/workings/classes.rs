//! The year's light in each class of workmanship, trade by trade.

use scenario::{Class, StringsDesign, Workmanship};

/// The classes, coarsest first.
pub const CLASSES: [Class; 3] = [Class::Coarse, Class::Common, Class::Fine];

/// What the classes of one trade do to the year's light.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ClassLight {
    /// Stable key for files.
    pub key: &'static str,
    /// What is made, for people.
    pub name: &'static str,
    /// The class that it is made in.
    pub now: Class,
    /// Change of the year's light through the aperture in each of [`CLASSES`] against now, as a share of
    /// it; all else as it is.
    pub change: [f64; 3],
}

/// A trade with its key and name, and where its class is kept.
type Trade = (
    &'static str,
    &'static str,
    fn(&mut Workmanship) -> &mut Class,
);

const TRADES: [Trade; 5] = [
    ("posts", "posts", |work| &mut work.posts),
    ("axes", "axes", |work| &mut work.axes),
    ("joints", "joints", |work| &mut work.joints),
    ("levers", "levers", |work| &mut work.levers),
    ("offsets", "mirrors set on target", |work| &mut work.offsets),
];

/// Every trade in every class, by the light of strings made so.
pub fn classes(
    strings: &StringsDesign,
    light_j: impl Fn(&StringsDesign) -> f64,
) -> Vec<ClassLight> {
    let now_j = light_j(strings);
    let of_trade = |(key, name, class): Trade| {
        let mut made = strings.clone();
        let now = *class(&mut made.drive.workmanship);
        ClassLight {
            key,
            name,
            now,
            change: CLASSES.map(|other| {
                if other == now {
                    return 0.0;
                }
                *class(&mut made.drive.workmanship) = other;
                light_j(&made) / now_j - 1.0
            }),
        }
    };
    TRADES.map(of_trade).to_vec()
}
