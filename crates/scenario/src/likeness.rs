//! What was probably meant by a mistyped word.

/// Words less like than this (Jaro–Winkler, 0 … 1) are no help.
pub(crate) const ALIKE: f64 = 0.8;

/// The known word that looks most like `word`, if any does.
pub(crate) fn nearest<'a>(word: &str, known: &[&'a str]) -> Option<&'a str> {
    known
        .iter()
        .map(|known| (strsim::jaro_winkler(word, known), *known))
        .filter(|(likeness, _)| *likeness > ALIKE)
        .max_by(|left, right| left.0.total_cmp(&right.0))
        .map(|(_, known)| known)
}
