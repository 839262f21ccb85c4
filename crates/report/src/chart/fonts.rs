//! The embedded typeface and the measure of texts set in it.

use std::sync::{Arc, OnceLock};

use resvg::usvg::{self, fontdb};

/// Family list written into SVG files; the first is the embedded one.
pub(super) const FAMILY: &str = "DejaVu Sans, Verdana, sans-serif";

/// Options for reading SVG with the embedded fonts and no others.
pub(super) fn options() -> usvg::Options<'static> {
    static FONTS: OnceLock<Arc<fontdb::Database>> = OnceLock::new();
    let fontdb = FONTS.get_or_init(|| {
        let mut fonts = fontdb::Database::new();
        fonts.load_font_data(dejavu::sans::regular().to_vec());
        fonts.load_font_data(dejavu::sans::bold().to_vec());
        fonts.set_sans_serif_family("DejaVu Sans");
        Arc::new(fonts)
    });
    usvg::Options {
        font_family: "DejaVu Sans".to_owned(),
        fontdb: Arc::clone(fontdb),
        ..usvg::Options::default()
    }
}

/// Width of one line of text in the unit of `size`, as the PNG renderer sets it.
pub(super) fn text_width(text: &str, size: f64, bold: bool) -> f64 {
    let mut escaped = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '<' => escaped.push_str("&lt;"),
            '&' => escaped.push_str("&amp;"),
            other => escaped.push(other),
        }
    }
    let weight = if bold { "bold" } else { "normal" };
    let svg = format!(
        "<svg xmlns='http://www.w3.org/2000/svg' width='1' height='1'>\
         <text font-size='100' font-weight='{weight}' font-family='{FAMILY}'>{escaped}</text></svg>"
    );
    let width = usvg::Tree::from_str(&svg, &options())
        .ok()
        .and_then(|tree| match tree.root().children().first() {
            Some(usvg::Node::Text(text)) => Some(f64::from(text.bounding_box().width())),
            _ => None,
        });
    // Averaged over plain text a letter of this face is 0.6 of its size wide.
    let guessed = || text.chars().count() as f64 * 60.0;
    width.unwrap_or_else(guessed) * size / 100.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn width_grows_with_size_weight_and_letters() {
        let plain = text_width("capital", 10.0, false);
        assert!(plain > 25.0 && plain < 60.0, "{plain}");
        assert!((text_width("capital", 20.0, false) / plain - 2.0).abs() < 1e-9);
        assert!(text_width("capital", 10.0, true) > plain);
        assert!(text_width("capital < & >", 10.0, false) > plain);
    }
}
