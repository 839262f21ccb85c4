//! A sheet to draw on in points, made into SVG by plotters and into PNG by resvg.

use plotters::coord::Shift;
use plotters::element::{Drawable, PointCollection};
use plotters::prelude::{
    Circle, DrawingArea, IntoDrawingArea, IntoFont, PathElement, Polygon, RGBAColor, Rectangle,
    SVGBackend, ShapeStyle, Text,
};
use plotters::style::text_anchor::{HPos, Pos, VPos};
use plotters::style::{FontStyle, TextStyle};
use resvg::{tiny_skia, usvg};

use super::fonts;
use super::palette::{Colour, INK, PAPER, SLATE};
use crate::error::ReportError;

/// Steps of the drawing per point: plotters draws on whole steps, so fine steps keep
/// slanted lines smooth.
const STEPS_PER_POINT: f64 = 4.0;
/// Size of the PNG, pixels per point.
pub(super) const PIXELS_PER_POINT: f32 = 2.0;
/// Size of plain text, points.
pub(super) const TEXT: f64 = 14.0;
/// Size of figures on axes and of notes, points.
pub(super) const SMALL: f64 = 12.5;
/// Size of the headline, points.
const HEADLINE: f64 = 20.0;
/// White border around everything, points.
pub(super) const BORDER: f64 = 32.0;
/// Distance between lines of text, relative to the size of the text.
const LEADING: f64 = 1.35;
/// Plotters writes a font size divided by this.
const PLOTTERS_FONT_RATIO: f64 = 1.24;

/// A finished chart.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Chart {
    /// The chart as an SVG document.
    pub svg: String,
    /// The same as a PNG picture with two pixels per SVG user unit.
    pub png: Vec<u8>,
}

/// A place on the sheet in points from its top left corner.
pub(super) type Place = (f64, f64);

/// How a text is set and where its place lies in it.
#[derive(Clone, Copy)]
pub(super) struct Lettering {
    pub size: f64,
    pub bold: bool,
    pub colour: Colour,
    side: HPos,
    level: VPos,
}

impl Lettering {
    /// Text that starts at its place, centred in height.
    pub fn new(size: f64, colour: Colour) -> Self {
        Lettering {
            size,
            bold: false,
            colour,
            side: HPos::Left,
            level: VPos::Center,
        }
    }

    /// In bold letters.
    pub fn bold(self) -> Self {
        Lettering { bold: true, ..self }
    }

    /// Ends at its place.
    pub fn ending(self) -> Self {
        Lettering {
            side: HPos::Right,
            ..self
        }
    }

    /// Centred about its place.
    pub fn centred(self) -> Self {
        Lettering {
            side: HPos::Center,
            ..self
        }
    }

    /// Hangs below its place.
    pub fn hanging(self) -> Self {
        Lettering {
            level: VPos::Top,
            ..self
        }
    }

    /// Width of a text set like this, points.
    pub fn width(&self, text: &str) -> f64 {
        fonts::text_width(text, self.size, self.bold)
    }

    /// The text, or as much of its start as fits `width` with an ellipsis behind.
    pub fn fitting(&self, text: &str, width: f64) -> String {
        if self.width(text) <= width {
            return text.to_owned();
        }
        let mut letters: Vec<char> = text.chars().collect();
        while letters.pop().is_some() {
            let start: String = letters.iter().collect();
            let cut = format!("{}…", start.trim_end());
            if self.width(&cut) <= width {
                return cut;
            }
        }
        String::new()
    }
}

/// The sheet being drawn on. The first failure is kept and reported by [`draw`].
pub(super) struct Canvas<'a> {
    area: DrawingArea<SVGBackend<'a>, Shift>,
    pub width: f64,
    pub height: f64,
    failure: Option<String>,
}

/// Draws a chart of the given size in points, rounded to whole ones.
pub(super) fn draw(
    width: f64,
    height: f64,
    paint: impl FnOnce(&mut Canvas<'_>),
) -> Result<Chart, ReportError> {
    let (width, height) = (width.round(), height.round());
    let mut svg = String::new();
    let size = (steps(width) as u32, steps(height) as u32);
    let failure = {
        let mut canvas = Canvas {
            area: SVGBackend::with_string(&mut svg, size).into_drawing_area(),
            width,
            height,
            failure: None,
        };
        canvas.fill_box((0.0, 0.0), (width, height), PAPER);
        paint(&mut canvas);
        if let Err(error) = canvas.area.present() {
            canvas.failure.get_or_insert(error.to_string());
        }
        canvas.failure
    };
    match failure {
        Some(problem) => Err(ReportError::Drawing(problem)),
        None => finished(in_points(&svg, width, height)),
    }
}

impl Canvas<'_> {
    fn put<'e, E>(&mut self, element: &'e E)
    where
        &'e E: PointCollection<'e, (i32, i32)>,
        E: for<'b> Drawable<SVGBackend<'b>>,
    {
        if let Err(error) = self.area.draw(element) {
            self.failure.get_or_insert(error.to_string());
        }
    }

    /// Filled box between two corners.
    pub fn fill_box(&mut self, corner: Place, opposite: Place, colour: Colour) {
        let style = ShapeStyle::from(rgba(colour, 1.0)).filled();
        self.put(&Rectangle::new(
            [on_steps(corner), on_steps(opposite)],
            style,
        ));
    }

    /// Filled polygon.
    pub fn fill(&mut self, corners: &[Place], colour: Colour) {
        let corners: Vec<_> = corners.iter().copied().map(on_steps).collect();
        self.put(&Polygon::new(corners, rgba(colour, 1.0)));
    }

    /// Line through places, `width` in points.
    pub fn line(&mut self, places: &[Place], colour: Colour, width: f64) {
        let places: Vec<_> = places.iter().copied().map(on_steps).collect();
        let style = stroke(colour, width);
        self.put(&PathElement::new(places, style));
    }

    /// Filled disc with some transparency; `opacity` from 0 to 1.
    pub fn disc(&mut self, centre: Place, radius: f64, colour: Colour, opacity: f64) {
        let style = ShapeStyle::from(rgba(colour, opacity)).filled();
        self.put(&Circle::new(on_steps(centre), steps(radius), style));
    }

    /// Ring.
    pub fn ring(&mut self, centre: Place, radius: f64, colour: Colour, width: f64) {
        self.put(&Circle::new(
            on_steps(centre),
            steps(radius),
            stroke(colour, width),
        ));
    }

    /// One line of text.
    pub fn text(&mut self, place: Place, text: &str, lettering: Lettering) {
        let size = lettering.size * STEPS_PER_POINT * PLOTTERS_FONT_RATIO;
        let weight = if lettering.bold {
            FontStyle::Bold
        } else {
            FontStyle::Normal
        };
        let colour = rgba(lettering.colour, 1.0);
        let style = TextStyle::from((fonts::FAMILY, size, weight).into_font())
            .color(&colour)
            .pos(Pos::new(lettering.side, lettering.level));
        self.put(&Text::new(text.to_owned(), on_steps(place), style));
    }

    /// One line of text, centred in height, on a patch of paper that hides what lies below it.
    pub fn label(&mut self, place: Place, text: &str, lettering: Lettering) {
        let (x, y) = place;
        let half = lettering.size * 0.6;
        let width = lettering.width(text);
        let start = match lettering.side {
            HPos::Left => x,
            HPos::Center => x - 0.5 * width,
            HPos::Right => x - width,
        };
        let end = start + width + 2.0;
        self.fill_box((start - 2.0, y - half), (end, y + half), PAPER);
        self.text(place, text, lettering);
    }

    /// The finding in large letters and what is shown below it; gives the height at which
    /// the chart itself may begin, [`headline_height`].
    pub fn headline(&mut self, finding: &str, shown: &str) -> f64 {
        let mut y = BORDER;
        for (lines, lettering, gap) in headline_lines(self.width, finding, shown) {
            for line in lines {
                self.text((BORDER, y), &line, lettering);
                y += lettering.size * LEADING;
            }
            y += gap;
        }
        y
    }

    /// A note at the foot of the sheet; gives the height at which the chart must end.
    pub fn foot(&mut self, note: &str) -> f64 {
        let lettering = Lettering::new(SMALL, SLATE);
        let width = self.width - 2.0 * BORDER;
        let lines = broken(note, width, &lettering);
        let Some(below_first) = lines.len().checked_sub(1) else {
            return self.height - BORDER;
        };
        let top = self.height - BORDER - (below_first as f64 + 0.5) * SMALL * LEADING;
        for (row, line) in lines.iter().enumerate() {
            let y = top + row as f64 * SMALL * LEADING;
            self.text((BORDER, y), line, lettering);
        }
        top - 18.0
    }

    /// Says in the middle of an otherwise empty sheet why it is empty.
    pub fn empty(&mut self, why: &str) {
        let middle = (self.width / 2.0, self.height / 2.0);
        self.text(middle, why, Lettering::new(TEXT, SLATE).centred());
    }
}

/// Height at which a chart may begin below its headline, on a sheet of this width.
pub(super) fn headline_height(width: f64, finding: &str, shown: &str) -> f64 {
    headline_lines(width, finding, shown)
        .iter()
        .map(|(lines, lettering, gap)| lines.len() as f64 * lettering.size * LEADING + gap)
        .sum::<f64>()
        + BORDER
}

/// Lines of the finding and of what is shown, each with its lettering and the gap below.
fn headline_lines(width: f64, finding: &str, shown: &str) -> [(Vec<String>, Lettering, f64); 2] {
    let width = width - 2.0 * BORDER;
    let large = Lettering::new(HEADLINE, INK).bold().hanging();
    let small = Lettering::new(TEXT, SLATE).hanging();
    [
        (balanced(finding, width, &large), large, 2.0),
        (broken(shown, width, &small), small, 14.0),
    ]
}

/// Words broken into as few lines as fit `width`, of nearly equal length.
fn balanced(text: &str, width: f64, lettering: &Lettering) -> Vec<String> {
    let fewest = broken(text, width, lettering).len();
    let narrowest = width / fewest.max(1) as f64;
    let widths = (0..=10).map(|i| narrowest + (width - narrowest) * f64::from(i) / 10.0);
    widths
        .map(|narrower| broken(text, narrower, lettering))
        .find(|lines| lines.len() == fewest)
        .unwrap_or_default()
}

/// Words broken into lines no wider than `width`; a per cent sign stays with its figure.
fn broken(text: &str, width: f64, lettering: &Lettering) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    let held = text.replace(" %", "\u{a0}%");
    for word in held.split(' ').filter(|word| !word.is_empty()) {
        match lines.last_mut() {
            Some(line) if lettering.width(&format!("{line} {word}")) <= width => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    for line in &mut lines {
        *line = line.replace('\u{a0}', " ");
    }
    lines
}

fn steps(points: f64) -> i32 {
    (points * STEPS_PER_POINT).round() as i32
}

fn on_steps(place: Place) -> (i32, i32) {
    (steps(place.0), steps(place.1))
}

fn stroke(colour: Colour, width: f64) -> ShapeStyle {
    ShapeStyle::from(rgba(colour, 1.0)).stroke_width(steps(width).max(1) as u32)
}

fn rgba(colour: Colour, opacity: f64) -> RGBAColor {
    RGBAColor(colour.0, colour.1, colour.2, opacity)
}

/// Keeps the fine steps as the inner measure and gives the document its size in points.
fn in_points(svg: &str, width: f64, height: f64) -> String {
    let body = svg.split_once('>').map_or("", |(_, body)| body);
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}\" height=\"{height}\" \
         viewBox=\"0 0 {} {}\">{body}",
        steps(width),
        steps(height)
    )
}

fn finished(svg: String) -> Result<Chart, ReportError> {
    let problem = |text: String| ReportError::Drawing(text);
    let tree = usvg::Tree::from_str(&svg, &fonts::options()).map_err(|e| problem(e.to_string()))?;
    let pixels = tree.size().to_int_size().scale_by(PIXELS_PER_POINT);
    let mut picture = pixels
        .and_then(|size| tiny_skia::Pixmap::new(size.width(), size.height()))
        .ok_or_else(|| problem("a chart needs a width and a height above 0".to_owned()))?;
    let enlarge = tiny_skia::Transform::from_scale(PIXELS_PER_POINT, PIXELS_PER_POINT);
    resvg::render(&tree, enlarge, &mut picture.as_mut());
    let png = picture.encode_png().map_err(|e| problem(e.to_string()))?;
    Ok(Chart { svg, png })
}
