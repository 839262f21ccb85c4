//! Where the sun stands in each month and hour, and how much it brings from there.

use super::canvas::{BORDER, Canvas, Chart, Lettering, SMALL, draw};
use super::months::MONTHS;
use super::palette::{INK, MIST, SLATE};
use super::scale::Scale;
use super::shade::Shade;
use crate::error::ReportError;
use crate::figures;

const WIDTH: f64 = 960.0;
const HEIGHT: f64 = 600.0;
const LEFT: f64 = BORDER + 44.0;
const RIGHT: f64 = WIDTH - BORDER - 150.0;

/// Hours with a lower sun bear no name, which would stand in the axis.
const LOWEST_NAMED_DEG: f64 = 6.0;

/// One hour of the day in one month.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SunSpot {
    /// Month, 0 for January.
    pub month: usize,
    /// Hour of the day in local standard time; the sun is that of its middle.
    pub hour: usize,
    /// Clockwise from north, in the middle of the month [rad].
    pub azimuth_rad: f64,
    /// Above the horizon [rad].
    pub elevation_rad: f64,
    /// Mean of the month at this hour [W/m²].
    pub dni_w_m2: f64,
}

/// The sun's way through the months, its hours marked and coloured by what they bring.
#[derive(Debug, Clone, PartialEq)]
pub struct SunPath {
    /// Hours with the sun up.
    pub spots: Vec<SunSpot>,
    /// Whether the sun stands in the north at noon.
    pub is_southern: bool,
}

impl SunPath {
    /// Draws the chart.
    ///
    /// # Errors
    /// If the drawing library fails.
    pub fn draw(&self) -> Result<Chart, ReportError> {
        draw(WIDTH, HEIGHT, |canvas| self.paint(canvas))
    }

    fn paint(&self, canvas: &mut Canvas<'_>) {
        let shown = "The sun in the middle of each month, a disc for each hour of local standard \
                     time; its colour is the month's mean direct normal irradiance at that hour";
        let best = self.spots.iter();
        let Some(best) = best.max_by(|one, other| one.dni_w_m2.total_cmp(&other.dni_w_m2)) else {
            canvas.headline("The sun never rises", shown);
            return canvas.empty("There is no hour with the sun up.");
        };
        let finding = format!(
            "Strongest in {} from {} to {} h: {} W/m² in the mean",
            MONTHS[best.month % 12],
            best.hour,
            best.hour + 1,
            figures::grouped(best.dni_w_m2, 0)
        );
        let top = canvas.headline(&finding, shown) + 32.0;
        let bottom = HEIGHT - BORDER - 52.0;
        let bearings = self.spots.iter().map(|spot| self.bearing_deg(spot));
        let far = bearings.clone().fold(f64::INFINITY, f64::min);
        let near = bearings.fold(f64::NEG_INFINITY, f64::max);
        let height = Scale::exact(0.0, 90.0, 9.0, (bottom, top));
        let width = Scale::round(far - 5.0, near + 5.0, 10.0, (LEFT, RIGHT));
        height.draw_upright(canvas, LEFT, RIGHT, "elevation of the sun [°]");
        let name = if self.is_southern {
            "azimuth of the sun, west of north negative [°]"
        } else {
            "azimuth of the sun, clockwise from north [°]"
        };
        width.draw_level(canvas, top, bottom, name);
        let place = |spot: &SunSpot| {
            let elevation_deg = spot.elevation_rad.to_degrees();
            (width.at(self.bearing_deg(spot)), height.at(elevation_deg))
        };
        self.paint_months(canvas, &place);
        let shade = Shade::of(self.spots.iter().map(|spot| spot.dni_w_m2));
        for spot in &self.spots {
            canvas.disc(place(spot), 8.0, shade.colour(spot.dni_w_m2), 1.0);
            let is_outermost = spot.month == 5 || spot.month == 11;
            if is_outermost && spot.elevation_rad.to_degrees() > LOWEST_NAMED_DEG {
                let (x, y) = place(spot);
                let hour = format!("{} h", spot.hour);
                let hour_at = (x, y + self.outwards(spot.month) * 17.0);
                canvas.text(hour_at, &hour, Lettering::new(SMALL, INK).centred());
            }
        }
        for month in [5, 11] {
            let spots = self.spots.iter().filter(|spot| spot.month == month);
            let highest = spots.max_by(|a, b| a.elevation_rad.total_cmp(&b.elevation_rad));
            if let Some((x, y)) = highest.map(place) {
                let name = Lettering::new(SMALL, SLATE).bold().centred();
                let name_at = (x, y + self.outwards(month) * 34.0);
                canvas.text(name_at, MONTHS[month], name);
            }
        }
        shade.draw_bar(canvas, (RIGHT + 34.0, top), 200.0, ["mean DNI", "[W/m²]"]);
    }

    /// A line through each month's hours.
    fn paint_months(&self, canvas: &mut Canvas<'_>, place: &impl Fn(&SunSpot) -> (f64, f64)) {
        for month in 0..12 {
            let spots = self.spots.iter().filter(|spot| spot.month == month);
            let mut spots: Vec<&SunSpot> = spots.collect();
            spots.sort_by_key(|spot| spot.hour);
            let way: Vec<(f64, f64)> = spots.iter().map(|spot| place(spot)).collect();
            for pair in way.windows(2) {
                // the way over the edge of the chart is not drawn across it
                if (pair[1].0 - pair[0].0).abs() < 0.5 * (RIGHT - LEFT) {
                    canvas.line(pair, MIST, 1.5);
                }
            }
        }
    }

    /// Down the sheet from a month's way to where no other month is: -1 above, 1 below.
    fn outwards(&self, month: usize) -> f64 {
        if (month == 5) == self.is_southern {
            1.0
        } else {
            -1.0
        }
    }

    /// Azimuth about the noon sun: 0 … 360 with it in the south, -180 … 180 in the north [deg].
    fn bearing_deg(&self, spot: &SunSpot) -> f64 {
        let bearing_deg = spot.azimuth_rad.to_degrees().rem_euclid(360.0);
        if self.is_southern && bearing_deg > 180.0 {
            bearing_deg - 360.0
        } else {
            bearing_deg
        }
    }
}
