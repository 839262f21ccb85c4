//! What the page holds and never holds.

use super::*;
use crate::text::{Align, TextTable};

fn page() -> Page {
    let mut table = TextTable::new(&[("item", Align::Left), ("USD", Align::Right)]);
    table.row(["steel <hot> & \"cold\"", "12"]);
    let points = vec![
        MapPoint {
            name: "design 3".to_owned(),
            place: (1.0e6, 0.05),
            texts: vec!["0.050".to_owned()],
            in_table: true,
        },
        MapPoint {
            name: "design 1".to_owned(),
            place: (0.8e6, 0.06),
            texts: vec!["0.060".to_owned()],
            in_table: false,
        },
    ];
    Page {
        title: "Heat for a <mill>".to_owned(),
        answer: "It costs little.".to_owned(),
        figures: vec![KeyFigure {
            name: "cost".to_owned(),
            value: "0.05 USD/kWh".to_owned(),
            beside: "gas 0.06".to_owned(),
        }],
        chapters: vec![Chapter {
            heading: "Money".to_owned(),
            lead: String::new(),
            blocks: vec![
                Block::Told(Section::new("Bill", table)),
                Block::Folded(Section::new("Sources", "From a book.".to_owned())),
                Block::Map(DesignMap {
                    level: "capital [USD]".to_owned(),
                    upright: "cost [USD/kWh]".to_owned(),
                    background: vec![(1.5e6, 0.07)],
                    points,
                    names: vec!["cost".to_owned()],
                }),
            ],
        }],
        origin: "made by a test".to_owned(),
    }
}

#[test]
fn texts_are_escaped() {
    let html = page().html();
    assert!(html.contains("<h1>Heat for a &lt;mill&gt;</h1>"));
    assert!(html.contains("steel &lt;hot&gt; &amp; &quot;cold&quot;"));
}

#[test]
fn what_is_typed_is_set_apart_and_sentences_have_room() {
    let mut table = TextTable::new(&[("model", Align::Left), ("held to", Align::Left)]);
    let sentence = "the table of the standard at six altitudes, and what `table <a>` says of all";
    table.row(["air", sentence]);
    table.row(["glass", "a table"]);
    let html = told::open(&Section::new("Models", table)).into_string();
    assert!(html.contains("<td class=\"sentence\">the table"), "{html}");
    assert!(
        html.contains("what <code>table &lt;a&gt;</code> says"),
        "{html}"
    );
    assert!(html.contains("<td>a table</td>"), "{html}");
}

#[test]
fn nothing_is_fetched() {
    let html = page().html();
    for reach in ["http:", "https:", "src=", "@import", "url("] {
        assert!(!html.contains(reach), "{reach}");
    }
}

#[test]
fn every_design_is_a_point_and_chosen_ones_are_columns() {
    let html = page().html();
    assert_eq!(html.matches("class=\"design\"").count(), 2);
    assert_eq!(
        html.matches("<td class=\"number\" data-design=\"0\"")
            .count(),
        1
    );
    assert_eq!(
        html.matches("<td class=\"number\" data-design=\"1\"")
            .count(),
        0
    );
    let best = html.find("design 3: cost 0.050").unwrap();
    let second = html.find("design 1: cost 0.060").unwrap();
    assert!(best < second);
}

#[test]
fn each_chapter_can_be_gone_to() {
    let html = page().html();
    assert!(html.contains("<a href=\"#chapter-1\">Money</a>"));
    assert!(html.contains("<section class=\"chapter\" id=\"chapter-1\">"));
}
