//! Every key of the scenario file, in the order of the file: the one place where keys, units,
//! ranges, defaults and help are told. A default with no source beside it is common practice, no
//! source.

mod area;
mod drive;
mod field;
mod heliostats;
mod place;
mod plant;
mod power;
mod stock;
mod strength;
mod terms;
mod upkeep;

use crate::key::Key;
use crate::likeness::ALIKE;

/// The section whose keys are the bill's items.
pub(crate) const RATES: &str = "rates";

/// Every key; latitude stands before all that depends on the hemisphere.
pub(crate) fn keys() -> impl Iterator<Item = &'static Key> {
    [
        place::KEYS,
        area::KEYS,
        field::KEYS,
        drive::KEYS,
        heliostats::PEDESTALS,
        heliostats::SINGLES,
        plant::KEYS,
        power::KEYS,
        stock::KEYS,
        strength::KEYS,
        upkeep::KEYS,
        terms::KEYS,
    ]
    .into_iter()
    .flatten()
}

/// The key with this path.
pub(crate) fn find(path: &str) -> Option<&'static Key> {
    keys().find(|key| key.path == path)
}

/// Whether keys or sections stand under this path.
pub(crate) fn is_section(path: &str) -> bool {
    let inside = |key: &Key| {
        key.path
            .strip_prefix(path)
            .is_some_and(|rest| rest.starts_with('.'))
    };
    path == RATES || keys().any(inside)
}

/// What became of a key of earlier versions.
pub(crate) fn gone(path: &str) -> Option<&'static str> {
    const FOR_ALL: &str = "it holds for every concept of field and stands under [field] now";
    const GONE: [(&str, &str); 10] = [
        ("search.islands", "the search needs no islands"),
        (
            "glass.edge",
            "edges are seamed, and then the centre pad is always used harder",
        ),
        ("structure.line", "the search may choose it: strings.line"),
        ("strings.sector", FOR_ALL),
        ("strings.sector_centre", FOR_ALL),
        ("strings.inner_radius", FOR_ALL),
        ("strings.outer_radius", FOR_ALL),
        ("strings.lane_every", FOR_ALL),
        ("strings.lane_width", FOR_ALL),
        ("strings.aim_clearance", FOR_ALL),
    ];
    let found = GONE.iter().find(|(known, _)| *known == path);
    found.map(|(_, why)| *why)
}

/// The known path that looks most like `path`, if any does.
pub(crate) fn nearest(path: &str) -> Option<String> {
    let rates = ledger::Item::ALL
        .iter()
        .map(|item| format!("{RATES}.{}", item.key()));
    let sections = keys().map(|key| key.section().to_owned());
    let sections = sections.filter(|section| !section.is_empty());
    let known = keys().map(|key| key.path.to_owned());
    known
        .chain(sections)
        .chain(rates)
        .map(|known| (likeness(path, &known), known))
        .filter(|(likeness, _)| *likeness > ALIKE)
        .max_by(|left, right| left.0.total_cmp(&right.0))
        .map(|(_, known)| known)
}

/// Likeness of two paths: of their names, less a little for standing in different sections, and half
/// of that if these are parts of the same one.
fn likeness(path: &str, known: &str) -> f64 {
    let (section, name) = path.rsplit_once('.').unwrap_or(("", path));
    let (known_section, known_name) = known.rsplit_once('.').unwrap_or(("", known));
    let away = if section == known_section {
        0.0
    } else if section.split('.').next() == known_section.split('.').next() {
        0.05
    } else {
        0.1
    };
    strsim::jaro_winkler(name, known_name) - away
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;
    use crate::key::{Kind, Need};

    #[test]
    fn paths_differ_and_no_key_is_a_section() {
        let paths: BTreeSet<_> = keys().map(|key| key.path).collect();
        assert_eq!(paths.len(), keys().count());
        assert!(paths.iter().all(|path| !is_section(path)));
    }

    #[test]
    fn every_key_has_a_unit_a_range_a_sentence_and_something_to_show() {
        for key in keys() {
            assert!(key.help.ends_with('.'), "{}: {}", key.path, key.help);
            assert!(
                !matches!(key.need, Need::Required("") | Need::Default("")),
                "{}",
                key.path
            );
            if let Kind::Quantity(measure, _)
            | Kind::Monthly(measure, _)
            | Kind::Column(measure, _) = &key.kind
            {
                assert!(measure.print_unit().is_some(), "{}", key.path);
                assert!(measure.range.0 < measure.range.1, "{}", key.path);
            }
        }
    }

    #[test]
    fn the_nearest_key_is_found() {
        assert_eq!(nearest("site.lattitude").as_deref(), Some("site.latitude"));
        assert_eq!(nearest("tower.hight").as_deref(), None);
        assert_eq!(
            nearest("tower.aim_hight").as_deref(),
            Some("tower.aim_height")
        );
        assert_eq!(
            nearest("strings.aim_height").as_deref(),
            Some("tower.aim_height")
        );
        assert_eq!(nearest(""), None);
        assert_eq!(nearest("strings."), None);
        assert_eq!(nearest("stor").as_deref(), Some("storage"));
        assert_eq!(nearest("rates.steal").as_deref(), Some("rates.steel"));
    }
}
