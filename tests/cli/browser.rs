//! The page of a run in a real browser: no errors, nothing fetched, designs told under the pointer
//! and under the keyboard, nothing wider than a phone or a desk, or than paper.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use crate::support::reference;
use tautfield_tests::outside;

/// Tries the page's designs as a pointer and a keyboard would and writes what it saw into the page.
const TRIES: &str = r#"<script>
addEventListener("load", () => {
  const saw = {};
  const line = document.querySelector("figure.map output");
  const dots = [...document.querySelectorAll(".design")];
  const last = dots[dots.length - 1];
  const before = line.textContent;
  last.dispatchEvent(new PointerEvent("pointerenter"));
  saw.pointer = line.textContent === last.getAttribute("aria-label");
  last.dispatchEvent(new PointerEvent("pointerleave"));
  saw.left = line.textContent === before;
  last.focus();
  saw.focus = document.activeElement === last && line.textContent === last.getAttribute("aria-label");
  saw.marked = document.querySelectorAll(".designs .shown").length;
  dispatchEvent(new Event("beforeprint"));
  saw.unfolded = [...document.querySelectorAll("details")].every((folded) => folded.open);
  const rgb = (text) => text.match(/\d+/g).slice(0, 3).map(Number);
  const light = (text) => rgb(text).map((v) => v / 255)
    .map((v) => (v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4))
    .reduce((sum, v, i) => sum + v * [0.2126, 0.7152, 0.0722][i], 0);
  const ground = (element) => {
    for (let at = element; at; at = at.parentElement) {
      const colour = getComputedStyle(at).backgroundColor;
      if (colour !== "rgba(0, 0, 0, 0)") return light(colour);
    }
    return 1;
  };
  saw.contrast = Math.min(...[...document.querySelectorAll("h1, h2, h3, p, dt, dd, th, td, a, li, summary")]
    .map((e) => (ground(e) + 0.05) / (light(getComputedStyle(e).color) + 0.05)));
  document.title = "saw " + JSON.stringify(saw);
});
</script>"#;

/// A page that holds another at a width and tells how wide that one grew, and how wide it may be.
const FRAME: &str = r#"<!DOCTYPE html><title></title><iframe style="border:0" width="WIDTH" height="900" srcdoc="PAGE"></iframe>
<script>addEventListener("load", () => {
  const page = document.querySelector("iframe").contentDocument.documentElement;
  document.title = `saw ${page.scrollWidth} in ${page.clientWidth}`;
});</script>"#;

/// Times that a browser on a busy machine may give up before a page is loaded.
const TRIES_TO_LOAD: usize = 5;

/// What the page saw of itself in the browser, and what the browser complained of.
fn opened(browser: &Path, folder: &Path, html: &str) -> (String, String) {
    let page = folder.join("tried.html");
    fs::write(&page, html).unwrap();
    for _ in 0..TRIES_TO_LOAD {
        let (title, complaints) = loaded(browser, folder, &page);
        if let Some(saw) = title.strip_prefix("saw ") {
            return (saw.to_owned(), complaints);
        }
    }
    panic!("the page was not loaded in {TRIES_TO_LOAD} tries");
}

/// The browser with a page to open, without a window and without the network.
fn at_page(browser: &Path, folder: &Path, page: &Path) -> Command {
    let mut command = Command::new(browser);
    command
        .args([
            "--headless",
            "--no-sandbox",
            "--disable-gpu",
            "--disable-quic",
            "--no-first-run",
            "--disable-background-networking",
            "--disable-component-update",
            "--disable-sync",
            "--enable-logging=stderr",
            "--virtual-time-budget=20000",
        ])
        .arg(format!(
            "--user-data-dir={}",
            folder.join("profile").display()
        ))
        .arg(format!("file://{}", page.display()));
    command
}

/// Title of a page and what the browser complained of.
fn loaded(browser: &Path, folder: &Path, page: &Path) -> (String, String) {
    let output = at_page(browser, folder, page)
        .arg("--dump-dom")
        .output()
        .expect("the browser starts");
    let dom = String::from_utf8(output.stdout).unwrap();
    let title = dom.split_once("<title>").expect("a title").1;
    let title = title.split_once("</title>").expect("a title").0;
    let errors = String::from_utf8_lossy(&output.stderr);
    let complaints = errors.lines().filter(|line| line.contains("CONSOLE"));
    (title.to_owned(), complaints.collect::<Vec<_>>().join("\n"))
}

fn page() -> String {
    String::from_utf8(reference().results["report.html"].clone()).unwrap()
}

fn browser() -> Option<PathBuf> {
    outside::program("chromium")
}

#[test]
fn designs_are_told_to_pointer_and_keyboard_without_an_error() {
    let Some(browser) = browser() else { return };
    let folder = crate::support::folder();
    let tried = page().replace("</body>", &format!("{TRIES}</body>"));
    let (saw, complaints) = opened(&browser, folder.path(), &tried);
    assert_eq!(complaints, "");
    let saw: serde_json::Value = serde_json::from_str(&saw).expect("what was seen");
    for deed in ["pointer", "left", "focus", "unfolded"] {
        assert_eq!(saw[deed], true, "{deed}: {saw}");
    }
    assert!(saw["marked"].as_u64().unwrap() > 3, "{saw}");
    // WCAG 2.1, success criterion 1.4.3 (from memory).
    assert!(saw["contrast"].as_f64().unwrap() >= 4.5, "{saw}");
}

/// How wide a page grows and how wide it may be, held in a window of this width.
fn widths(browser: &Path, page: &str, width: u32) -> (String, String) {
    let folder = crate::support::folder();
    let quoted = page.replace('&', "&amp;").replace('"', "&quot;");
    let framed = FRAME
        .replace("WIDTH", &width.to_string())
        .replace("PAGE", &quoted);
    let (wide, _) = opened(browser, folder.path(), &framed);
    let (wide, room) = wide.split_once(" in ").expect("both widths");
    (wide.to_owned(), room.to_owned())
}

#[test]
fn nothing_is_wider_than_the_window() {
    let Some(browser) = browser() else { return };
    for width in [360_u32, 768, 1280] {
        let (wide, room) = widths(&browser, &page(), width);
        assert_eq!(wide, room, "in a window of {width}");
    }
}

/// Paper by its name, width and height [mm]: ISO 216, and North American Letter (from memory).
const PAPERS: [(&str, f64, f64); 2] = [("A4", 210.0, 297.0), ("letter", 215.9, 279.4)];
/// Margin of the printed page on either side [mm].
const MARGIN_MM: f64 = 15.0;
const PX_PER_MM: f64 = 96.0 / 25.4;
const POINTS_PER_MM: f64 = 72.0 / 25.4;

/// As it is printed, with everything unfolded, no table and no chart is wider than either paper between its
/// margins: what were, would be cut off.
#[test]
fn nothing_is_wider_than_paper() {
    let Some(browser) = browser() else { return };
    let printed = page()
        .replace("@media print", "@media all")
        .replace("<details", "<details open");
    for (paper, width_mm, _) in PAPERS {
        let width = (width_mm - 2.0 * MARGIN_MM) * PX_PER_MM;
        let (wide, room) = widths(&browser, &printed, width as u32);
        assert_eq!(wide, room, "on {paper}");
    }
}

/// The boxes of a PDF's pages, width and height [points].
fn boxes(pdf: &[u8]) -> Vec<[f64; 2]> {
    let text = String::from_utf8_lossy(pdf);
    let found = text.split("/MediaBox [0 0 ").skip(1);
    let sides = found.filter_map(|rest| {
        let (inside, _) = rest.split_once(']')?;
        let (width, height) = inside.trim().split_once(' ')?;
        Some([width.parse().ok()?, height.parse().ok()?])
    });
    sides.collect()
}

#[test]
fn it_prints_on_either_paper() {
    let Some(browser) = browser() else { return };
    for (paper, width_mm, height_mm) in PAPERS {
        let folder = crate::support::folder();
        let file = folder.path().join("printed.html");
        let style = format!("<style>@page {{ size: {paper} }}</style></head>");
        fs::write(&file, page().replace("</head>", &style)).unwrap();
        let pdf = folder.path().join("printed.pdf");
        let bytes = (0..TRIES_TO_LOAD).find_map(|_| {
            let mut printing = at_page(&browser, folder.path(), &file);
            printing.arg(format!("--print-to-pdf={}", pdf.display()));
            printing.output().expect("the browser starts");
            fs::read(&pdf).ok()
        });
        let boxes = boxes(&bytes.expect("a printed page"));
        assert!(boxes.len() > 3, "{boxes:?}");
        for [width, height] in boxes {
            assert!(
                (width - width_mm * POINTS_PER_MM).abs() < 1.0,
                "{paper}: {width}"
            );
            assert!(
                (height - height_mm * POINTS_PER_MM).abs() < 1.0,
                "{paper}: {height}"
            );
        }
    }
}
