//! The scenario's sections in SI, one struct each: everything that no design changes.

/// Where the field stands (`[site]`).
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Site {
    /// Latitude, north positive [rad].
    pub latitude_rad: f64,
    /// Longitude, east positive [rad].
    pub longitude_rad: f64,
    /// Height above the sea [m].
    pub altitude_m: f64,
    /// Local standard time less universal time [h].
    pub utc_offset_h: f64,
    /// Rise ÷ run of the ground towards north.
    pub ground_slope_north: f64,
    /// Rise ÷ run of the ground towards east.
    pub ground_slope_east: f64,
}

/// What the sky gives (`[weather]`).
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Weather {
    /// An hourly file, or monthly sums from which a year is made.
    pub source: WeatherSource,
    /// Standard deviation of a year's DNI from year to year ÷ its mean; for a single year [-].
    pub yearly_spread: f64,
    /// Linke turbidity of the clear sky.
    pub linke_turbidity: f64,
    /// The field works while the sun stands higher than this [rad].
    pub min_sun_elevation_rad: f64,
    /// Clearness of the air between mirrors and receiver.
    pub visibility: Visibility,
    /// How the sun's light is spread about its middle.
    pub sun_shape: SunShape,
    /// Share of the sun's light that comes from beyond its disc; for [`SunShape::Circumsolar`].
    pub circumsolar_ratio: f64,
    /// Angles from the sun's middle, rising from 0; for [`SunShape::Table`], else none [rad].
    pub sun_angles_rad: Vec<f64>,
    /// Brightness at each of these angles, in any unit.
    pub sun_brightness: Vec<f64>,
}

/// Where the hours come from.
#[derive(Clone, Debug, PartialEq)]
pub enum WeatherSource {
    /// Hourly weather files.
    File(WeatherFile),
    /// A year made from monthly sums.
    Monthly(MonthlyWeather),
}

impl Default for WeatherSource {
    fn default() -> Self {
        Self::Monthly(MonthlyWeather::default())
    }
}

/// One hourly weather file or several.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct WeatherFile {
    /// Paths as written, relative to the scenario file.
    pub paths: Vec<String>,
    /// How the file is laid out.
    pub format: WeatherFormat,
    /// Longest run of missing or impossible values that is bridged; 0 refuses any [s].
    pub bridged_gap_s: f64,
}

/// How a weather file is laid out.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum WeatherFormat {
    /// Whichever the first lines of the file show.
    #[default]
    Auto,
    /// EnergyPlus weather.
    Epw,
    /// Typical meteorological year, version 3.
    Tmy3,
    /// PVGIS typical year, or hourly data on a plane that follows the sun.
    Pvgis,
    /// National solar radiation data base of the United States.
    Nsrdb,
    /// Plain columns as text.
    Csv,
    /// Plain columns in a Parquet file.
    Parquet,
}

/// Twelve months from which an hourly year is made.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct MonthlyWeather {
    /// Sum of direct normal irradiation in each month [J/m²].
    pub dni_j_m2: [f64; 12],
    /// Mean air temperature of each month [K].
    pub air_temperature_k: [f64; 12],
    /// Daily highest less daily lowest air temperature [K].
    pub daily_swing_k: f64,
    /// Mean wind speed at 10 m [m/s].
    pub wind_speed_m_s: f64,
    /// Seed of the runs of clear and dull days.
    pub seed: u32,
}

/// How the sun's light is spread about its middle.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum SunShape {
    /// Evenly bright disc.
    Disc,
    /// Disc darker towards its limb, no light from beyond.
    Limb,
    /// Disc darker towards its limb, and circumsolar light.
    #[default]
    Circumsolar,
    /// As bright at each angle as a table says.
    Table,
}

/// Clearness of the air between mirrors and receiver.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Visibility {
    /// About 40 km.
    VeryClear,
    /// About 23 km.
    #[default]
    Clear,
    /// About 5 km.
    Hazy,
}

/// What all strings have in common (`[strings]`), beside the design values.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Strings {
    /// Gap between string ends in one row [m].
    pub end_gap_m: f64,
    /// The sun under which all mirrors are set on target.
    pub alignment: Alignment,
    /// Standard deviations of what is built and set.
    pub tolerances: Tolerances,
    /// How far mounts can turn.
    pub travel: Travel,
}

/// The sun under which all mirrors are set on target.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Alignment {
    /// Azimuth of that sun [rad].
    pub azimuth_rad: f64,
    /// Elevation of that sun [rad].
    pub elevation_rad: f64,
    /// Error in the place of a laser and of a mark, in each direction [m].
    pub survey_m: f64,
}

/// How far mounts can turn from where mirrors were set.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Travel {
    /// About each axis, either way [rad].
    pub axes_rad: f64,
    /// Bend of a roll-free joint [rad].
    pub ball_rad: f64,
}

/// Standard deviations of what is built and set (`[strings.tolerances]`).
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Tolerances {
    /// Tilt of a post about each of two horizontal directions [rad].
    pub post_tilt_rad: f64,
    /// Departure of the second axis from square to the first [rad].
    pub axis_squareness_rad: f64,
    /// Play in the joints, as a turn of the normal [rad].
    pub joint_play_rad: f64,
    /// Error left by setting the shims, as a turn of the normal [rad].
    pub offset_setting_rad: f64,
    /// Relative error of the lever lengths.
    pub lever_ratio: f64,
    /// Error of each encoder, common to a string [rad].
    pub encoder_rad: f64,
    /// Warmth of one strand over the other and of both over the rail, root mean square [K].
    pub line_warmth_k: f64,
    /// Warmth of lines over that when mirrors were set, root mean square [K].
    pub air_warmth_k: f64,
    /// Error of a sensor at the reference mirror, as a turn of it [rad].
    pub sensor_rad: f64,
    /// Error of what a camera makes of a string's light, as a turn of its mirrors [rad].
    pub camera_rad: f64,
}

/// The panels (`[mirror]`).
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Mirror {
    /// Solar reflectance of the silver behind clear glass of no thickness.
    pub reflectance: f64,
    /// Extinction of sunlight in the glass [1/m].
    pub extinction_per_m: f64,
    /// Mean reflectance over the year ÷ clean reflectance; if not given, it follows from soiling and
    /// washing.
    pub cleanliness: Option<f64>,
    /// Share of the reflectance lost in a second by mirrors that follow the sun and lie level at
    /// night [1/s].
    pub soiling_per_s: f64,
    /// Reflectance right after a wash ÷ clean reflectance.
    pub washed: f64,
    /// How mirrors stand at night.
    pub night: NightPosture,
    /// Slope error of the surface along one axis, as a turn of the normal [rad].
    pub slope_error_rad: f64,
    /// Spread of the beam by scatter along one axis [rad].
    pub scatter_rad: f64,
    /// Slope left over by bending ÷ slope of the ideal shape, both rms.
    pub bending_residual: f64,
}

/// How mirrors stand at night.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum NightPosture {
    /// Glass up.
    #[default]
    Level,
    /// On edge.
    Upright,
    /// Glass down.
    FaceDown,
}

/// What takes the light (`[receiver]`), beside the design values.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Receiver {
    /// Flat panel, cavity or cylinder.
    pub kind: ReceiverKind,
    /// What bounds a flat aperture.
    pub outline: Outline,
    /// What closes a cavity at rest.
    pub door: Door,
    /// Inner surface of a cavity ÷ aperture area.
    pub cavity_inside_ratio: f64,
    /// Share of that surface that is the lower lip.
    pub cavity_lower_lip: f64,
    /// Share of that surface above the aperture's upper edge.
    pub cavity_above_upper_lip: f64,
    /// Solar absorptance of the surface.
    pub absorptance: f64,
    /// Thermal emittance of the surface.
    pub emittance: f64,
    /// Highest flux that the surface may see [W/m²].
    pub flux_limit_w_m2: f64,
    /// Thermal resistance from the wall's outside to the fluid [m²·K/W].
    pub film_resistance_m2_k_w: f64,
    /// Thickness of the insulation behind the panels [m].
    pub insulation_thickness_m: f64,
    /// Conductivity of the insulation [W/(m·K)].
    pub insulation_conductivity_w_m_k: f64,
    /// Heat that warms the cold receiver up, per panel area [J/m²].
    pub start_energy_j_m2: f64,
    /// Time without sun after which the receiver is fully cold [s].
    pub cooling_time_s: f64,
    /// Largest heat flow to the fluid ÷ largest demand: what loop and pumps are made for.
    pub rating_ratio: f64,
    /// Lowest heat flow to the fluid at which the loop is run ÷ rated heat flow.
    pub min_load: f64,
}

/// Flat panel, cavity or cylinder.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum ReceiverKind {
    /// A flat panel.
    #[default]
    Billboard,
    /// A cavity behind the aperture.
    Cavity,
    /// An upright cylinder, lit all around.
    Cylinder,
}

/// What bounds a flat aperture.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Outline {
    /// Its width and height.
    #[default]
    Rectangle,
    /// Its width as diameter.
    Circle,
}

/// What closes a cavity at rest.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Door {
    /// Nothing.
    #[default]
    None,
    /// An insulated door whenever no light is taken.
    ClosedAtRest,
}

/// What flows through the receiver.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Carrier {
    /// Water under pressure.
    #[default]
    Water,
    /// Solar salt.
    Salt,
    /// Air.
    Air,
}

/// What crosses the fence.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Delivers {
    /// Saturated steam.
    #[default]
    Steam,
    /// Hot air.
    HotAir,
    /// Electricity.
    Electricity,
}

/// What the works takes and how heat gets there (`[heat]`).
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Heat {
    /// What crosses the fence.
    pub delivers: Delivers,
    /// What flows through the receiver.
    pub carrier: Carrier,
    /// Temperature of salt or air entering the receiver [K].
    pub cold_temperature_k: f64,
    /// Temperature of salt or air leaving it [K].
    pub hot_temperature_k: f64,
    /// Absolute pressure of the saturated steam at the fence [Pa].
    pub delivery_pressure_pa: f64,
    /// Temperature of what comes back, or of make-up water [K].
    pub condensate_temperature_k: f64,
    /// How much warmer than the steam the loop water leaves the generator [K].
    pub approach_k: f64,
    /// Temperature rise of the loop water through the receiver [K].
    pub loop_rise_k: f64,
    /// Loop pressure ÷ saturation pressure at the hottest point.
    pub pressure_margin: f64,
    /// Heat wanted over the year.
    pub demand: Demand,
    /// On the ground between tower and use [m].
    pub pipe_run_m: f64,
    /// Pressure drop around the loop at rated flow [Pa].
    pub pipe_pressure_drop_pa: f64,
    /// Heat lost by pipes while the loop runs ÷ rated heat flow of the receiver.
    pub pipe_loss: f64,
    /// Hydraulic ÷ electric power of the pumps.
    pub pump_efficiency: f64,
    /// Electric power of one string's drive while it follows the sun [W].
    pub drive_power_w: f64,
    /// Electric power of controls at all hours [W].
    pub standby_power_w: f64,
    /// Share of the sunlight that finds field and plant in working order.
    pub availability: f64,
}

/// Heat wanted by the works (`[heat.demand]`), in local standard time.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Demand {
    /// Power during shifts [W].
    pub power_w: f64,
    /// Least power that the works can use [W].
    pub min_power_w: f64,
    /// Days with shifts.
    pub days: WorkDays,
    /// When the first shift starts [s after midnight].
    pub from_s: f64,
    /// When the last shift ends [s after midnight]; not after `from_s` means on the next day.
    pub to_s: f64,
    /// Share of the year's demand that a design must serve.
    pub least_served: f64,
    /// Power of each month ÷ `power_w`.
    pub monthly_share: [f64; 12],
    /// A file that tells the power of every hour instead; empty for none.
    pub file: String,
}

/// Days on which the works runs.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum WorkDays {
    /// Seven days.
    #[default]
    All,
    /// Monday to Saturday.
    MondayToSaturday,
    /// Monday to Friday.
    MondayToFriday,
}

impl WorkDays {
    /// Whether each day of the week is worked, Monday first.
    #[must_use]
    pub const fn worked(self) -> [bool; 7] {
        match self {
            Self::All => [true; 7],
            Self::MondayToSaturday => [true, true, true, true, true, true, false],
            Self::MondayToFriday => [true, true, true, true, true, false, false],
        }
    }
}

/// The store (`[storage]`), beside its capacity.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Storage {
    /// Heat that passes the insulated walls [W/(m²·K)].
    pub wall_w_m2_k: f64,
    /// Share of the stored heat lost in a second beside that [1/s].
    pub loss_per_s: f64,
    /// Time to fill it at full charging power [s].
    pub fill_time_s: f64,
    /// Time to empty it at full discharging power [s].
    pub empty_time_s: f64,
}

/// The turbine set (`[power]`), where electricity is delivered.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PowerSet {
    /// Gross electricity ÷ heat at full load and rated condensing temperature.
    pub efficiency: f64,
    /// Heat that runs the set without load ÷ heat at full load.
    pub no_load_heat: f64,
    /// Least gross electricity at which it is run ÷ rated.
    pub min_load: f64,
    /// Own use of feed pumps and cooling ÷ gross electricity.
    pub own_use: f64,
    /// How steam is condensed.
    pub cooling: Cooling,
    /// Condensing steam above air with dry cooling [K].
    pub dry_approach_k: f64,
    /// Condensing steam above wet bulb with wet cooling [K].
    pub wet_approach_k: f64,
    /// Air above its wet bulb [K].
    pub wet_bulb_depression_k: f64,
    /// Condensing temperature for which efficiency is told [K].
    pub rated_condensing_k: f64,
    /// Heat of a start ÷ heat at full load [s].
    pub start_time_s: f64,
}

/// How a turbine set condenses its steam.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Cooling {
    /// By air.
    #[default]
    Dry,
    /// By a tower in which water evaporates.
    Wet,
}

/// How far to look (`[search]`).
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Search {
    /// Seed of the search.
    pub seed: u32,
    /// Evaluations in all.
    pub total: u32,
    /// What every design must deliver; if not given, each delivers what is cheapest for it.
    pub duty: Option<Duty>,
}

/// What every design must deliver in a year; what it delivers beyond that earns nothing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Duty {
    /// So much energy [J].
    Energy {
        /// In a year [J].
        year_j: f64,
    },
    /// A share of the year's demand.
    Share {
        /// Of the demand.
        of_demand: f64,
    },
    /// All of the demand: what a design leaves is bought from whom it takes the place of, an auxiliary
    /// boiler or the grid.
    WholeDemand,
}

/// What is bought from stock and cut, and spares (`[stock]`).
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Stock {
    /// Longer side of the sheets of glass [m].
    pub sheet_length_m: f64,
    /// Shorter side of the sheets of glass [m].
    pub sheet_width_m: f64,
    /// Length of the shorter bars [m].
    pub bar_m: f64,
    /// Length of the longer bars [m].
    pub long_bar_m: f64,
    /// Width lost by each cut of the saw [m].
    pub saw_cut_m: f64,
    /// Spare panels ÷ panels in the field.
    pub spare_panels: f64,
    /// Spare mounts, levers, lines, drives and controllers ÷ those in the field.
    pub spare_parts: f64,
}
