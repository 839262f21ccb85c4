//! The field from above, to scale: strings as strings, coloured by the light they collect.

use quantity::Units;

use super::canvas::{BORDER, Canvas, Chart, Lettering, Place, SMALL, draw};
use super::palette::{GRID, INK, MIST, PAPER, SLATE};
use super::shade::Shade;
use crate::error::ReportError;
use crate::figures;

/// One string of mirrors; the tower stands at the origin.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PlanString {
    /// Outer edges of its first and last mirror, metres east and north of the tower.
    pub ends_m: [[f64; 2]; 2],
    /// Light it brings into the aperture in a year per mirror area, kWh/m².
    pub light_kwh_m2: f64,
}

impl PlanString {
    fn is_finite(&self) -> bool {
        let places = self.ends_m.iter().flatten();
        places
            .chain([&self.light_kwh_m2])
            .all(|value| value.is_finite())
    }
}

/// Part of the circle around the tower that the field fills.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sector {
    /// Middle, clockwise from north, radians.
    pub centre_azimuth_rad: f64,
    /// Half of the opening angle, radians; π for a full circle.
    pub half_rad: f64,
}

/// Plan of a field.
#[derive(Debug, Clone, PartialEq)]
pub struct FieldPlan {
    /// Strings.
    pub strings: Vec<PlanString>,
    /// Mirrors on each string; none of mirrors that have drives of their own.
    pub mirrors_per_string: Option<u32>,
    /// Width of a mirror across the string, metres.
    pub panel_width_m: f64,
    /// Sector of the field.
    pub sector: Sector,
}

const WIDTH: f64 = 960.0;
const SIDE_COLUMN: f64 = 190.0;
const MAP_WIDTH: f64 = WIDTH - 2.0 * BORDER - SIDE_COLUMN;
const MAP_HEIGHT: f64 = 640.0;
/// Room for figures around the field, points.
const MAP_RIM: f64 = 30.0;
/// Strings are drawn at least this wide, points.
const THINNEST: f64 = 1.0;

/// The way from metres to places on the sheet.
#[derive(Clone, Copy)]
struct Map {
    west_m: f64,
    north_m: f64,
    points_per_metre: f64,
    corner: Place,
    size: (f64, f64),
}

impl Map {
    fn at(&self, east_m: f64, north_m: f64) -> Place {
        (
            self.corner.0 + MAP_RIM + (east_m - self.west_m) * self.points_per_metre,
            self.corner.1 + MAP_RIM + (self.north_m - north_m) * self.points_per_metre,
        )
    }
}

impl FieldPlan {
    /// Draws the plan.
    ///
    /// # Errors
    /// If the drawing library fails.
    pub fn draw(&self) -> Result<Chart, ReportError> {
        let [west, south, east, north] = self.extent_m();
        let (wide, high) = (MAP_WIDTH - 2.0 * MAP_RIM, MAP_HEIGHT - 2.0 * MAP_RIM);
        let points_per_metre = (wide / (east - west)).min(high / (north - south));
        let spare = wide - (east - west) * points_per_metre;
        let map = Map {
            west_m: west,
            north_m: north,
            points_per_metre,
            corner: (BORDER + spare / 2.0, 104.0),
            size: (
                MAP_WIDTH,
                2.0 * MAP_RIM + (north - south) * points_per_metre,
            ),
        };
        let height = map.corner.1 + map.size.1.max(430.0) + 44.0 + BORDER;
        draw(WIDTH, height, |canvas| self.paint(canvas, map))
    }

    fn paint(&self, canvas: &mut Canvas<'_>, map: Map) {
        canvas.headline(&self.finding(), &self.shown());
        if self.strings.is_empty() {
            canvas.empty("There is no string to draw.");
            return;
        }
        self.draw_sector(canvas, map);
        let shade = Shade::of(self.strings.iter().map(|string| string.light_kwh_m2));
        for string in self.strings.iter().filter(|string| string.is_finite()) {
            let colour = shade.colour(string.light_kwh_m2);
            canvas.fill(&self.corners(string, map), colour);
        }
        self.name_distances(canvas, map);
        draw_tower(canvas, map.at(0.0, 0.0));
        let column = WIDTH - BORDER - SIDE_COLUMN + 24.0;
        draw_north_arrow(canvas, (column + 7.0, map.corner.1 + 14.0));
        let bar = (column, map.corner.1 + 96.0);
        let name = ["light in the aperture", "[kWh/m² of mirror a year]"];
        shade.draw_bar(canvas, bar, 180.0, name);
        draw_scale_bar(canvas, (column, map.corner.1 + 376.0), map);
        canvas.foot(&self.note(map));
    }

    fn finding(&self) -> String {
        if self.strings.is_empty() {
            return "The field holds no string".to_owned();
        }
        let (low, high) = Shade::of(self.strings.iter().map(|s| s.light_kwh_m2)).range();
        let low = figures::significant(low, 3);
        let high = figures::significant(high, 3);
        let range = if low == high {
            low
        } else {
            format!("{low} to {high}")
        };
        format!("A square metre of mirror brings {range} kWh a year into the aperture")
    }

    fn shown(&self) -> String {
        let units = match self.mirrors_per_string {
            Some(mirrors) => format!(
                "{} of {}",
                figures::counted(self.strings.len(), "string"),
                figures::counted(mirrors as usize, "mirror")
            ),
            None => figures::counted(self.strings.len(), "heliostat"),
        };
        format!(
            "{units}, farthest {} from the tower; seen from above, to scale",
            figures::length(self.farthest_m(), Units::Si),
        )
    }

    fn note(&self, map: Map) -> String {
        let is_drawn_true = self.panel_width_m * map.points_per_metre >= THINNEST;
        if self.mirrors_per_string.is_none() {
            format!(
                "Each square is one heliostat, {} wide{}.",
                figures::length(self.panel_width_m, Units::Si),
                if is_drawn_true { "" } else { ", drawn larger" }
            )
        } else if is_drawn_true {
            format!(
                "Each bar is one string, as long and as wide as its mirrors, {}.",
                figures::length(self.panel_width_m, Units::Si)
            )
        } else {
            "Each bar is one string at its true length, drawn wider than its mirrors.".to_owned()
        }
    }

    /// Outer ends of the sector's edges, metres east and north.
    fn sector_ends_m(&self) -> [[f64; 2]; 2] {
        let half = self.drawn_half_rad();
        [-half, half].map(|turn| self.place_m(self.farthest_m(), turn))
    }

    fn farthest_m(&self) -> f64 {
        self.strings.iter().flat_map(|s| s.ends_m).fold(0.0, reach)
    }

    /// Half of the opening angle with a little margin beside the strings.
    fn drawn_half_rad(&self) -> f64 {
        const MARGIN_RAD: f64 = 0.05;
        (self.sector.half_rad + MARGIN_RAD).min(std::f64::consts::PI)
    }

    fn place_m(&self, distance_m: f64, turn_rad: f64) -> [f64; 2] {
        let azimuth = self.sector.centre_azimuth_rad + turn_rad;
        [
            distance_m * libm::sin(azimuth),
            distance_m * libm::cos(azimuth),
        ]
    }

    /// West, south, east and north end of all that is drawn, never narrower than 2 m.
    fn extent_m(&self) -> [f64; 4] {
        let start = [-1.0, -1.0, 1.0, 1.0];
        self.strings
            .iter()
            .flat_map(|string| string.ends_m)
            .chain(self.sector_ends_m())
            .filter(|end| end[0].is_finite() && end[1].is_finite())
            .fold(start, |[west, south, east, north], [x, y]| {
                [west.min(x), south.min(y), east.max(x), north.max(y)]
            })
    }

    fn corners(&self, string: &PlanString, map: Map) -> [Place; 4] {
        let [a, b] = string.ends_m.map(|[east, north]| map.at(east, north));
        let along = (b.0 - a.0, b.1 - a.1);
        let length = (along.0 * along.0 + along.1 * along.1).sqrt().max(1e-9);
        let half = (self.panel_width_m * map.points_per_metre).max(THINNEST) / 2.0;
        let across = (-along.1 / length * half, along.0 / length * half);
        [
            (a.0 + across.0, a.1 + across.1),
            (b.0 + across.0, b.1 + across.1),
            (b.0 - across.0, b.1 - across.1),
            (a.0 - across.0, a.1 - across.1),
        ]
    }

    /// Round distances up to the farthest string, metres.
    fn distances_m(&self) -> Vec<f64> {
        let farthest = self.farthest_m();
        let step = figures::round_at_least(farthest / 4.5);
        let count = (farthest * 1.02 / step).floor() as u32;
        (1..=count).map(|place| step * f64::from(place)).collect()
    }

    /// Edges of the sector, and arcs at round distances.
    fn draw_sector(&self, canvas: &mut Canvas<'_>, map: Map) {
        let half = self.drawn_half_rad();
        for edge in self.sector_ends_m() {
            canvas.line(&[map.at(0.0, 0.0), map.at(edge[0], edge[1])], MIST, 1.0);
        }
        for distance_m in self.distances_m() {
            let arc: Vec<Place> = (0..=90)
                .map(|i| -half + half * f64::from(i) / 45.0)
                .map(|turn| self.place(map, distance_m, turn))
                .collect();
            canvas.line(&arc, MIST, 1.0);
        }
    }

    /// Names the arcs at the clockwise end of the sector.
    fn name_distances(&self, canvas: &mut Canvas<'_>, map: Map) {
        let lettering = Lettering::new(SMALL, SLATE);
        for distance_m in self.distances_m() {
            let (x, y) = self.place(map, distance_m, self.drawn_half_rad());
            let name = format!("{} m", figures::grouped(distance_m, 0));
            canvas.label((x + 5.0, y + 10.0), &name, lettering);
        }
    }

    fn place(&self, map: Map, distance_m: f64, turn_rad: f64) -> Place {
        let [east, north] = self.place_m(distance_m, turn_rad);
        map.at(east, north)
    }
}

fn reach(farthest: f64, end: [f64; 2]) -> f64 {
    let distance = (end[0] * end[0] + end[1] * end[1]).sqrt();
    if distance.is_finite() {
        farthest.max(distance)
    } else {
        farthest
    }
}

fn draw_tower(canvas: &mut Canvas<'_>, at: Place) {
    canvas.disc(at, 7.0, PAPER, 1.0);
    canvas.disc(at, 5.0, INK, 1.0);
    canvas.ring(at, 9.0, INK, 1.5);
    let lettering = Lettering::new(SMALL, INK).bold();
    canvas.label((at.0 + 16.0, at.1 + 4.0), "tower", lettering);
}

fn draw_north_arrow(canvas: &mut Canvas<'_>, top: Place) {
    let (x, y) = top;
    canvas.text((x, y), "N", Lettering::new(SMALL, INK).bold().centred());
    canvas.line(&[(x, y + 30.0), (x, y + 54.0)], INK, 1.5);
    canvas.fill(
        &[(x - 6.0, y + 30.0), (x, y + 12.0), (x + 6.0, y + 30.0)],
        INK,
    );
}

fn draw_scale_bar(canvas: &mut Canvas<'_>, left: Place, map: Map) {
    let longest_m = 130.0 / map.points_per_metre;
    let length_m = figures::round_at_least(longest_m / 2.5);
    let end = left.0 + length_m * map.points_per_metre;
    let middle = (left.0 + end) / 2.0;
    let y = left.1;
    canvas.fill_box((left.0, y), (end, y + 5.0), GRID);
    canvas.fill_box((left.0, y), (middle, y + 5.0), INK);
    canvas.line(
        &[
            (left.0, y),
            (end, y),
            (end, y + 5.0),
            (left.0, y + 5.0),
            (left.0, y),
        ],
        INK,
        0.75,
    );
    let lettering = Lettering::new(SMALL, SLATE);
    canvas.text(
        (left.0, y + 18.0),
        &figures::length(length_m, Units::Si),
        lettering,
    );
}
