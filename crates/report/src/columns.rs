//! The one declaration of every column of every table: name, unit, type, meaning.

use TableKind::{
    Alignment, Bill, CantedPanels, Designs, Draws, Flux, Front, Heliostats, Hours, Inputs, Mirrors,
    Panels, Posts, PriceGrid, Purchases, Spots, Strings, Versus,
};

/// One of the tables of a run folder.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TableKind {
    /// Every design asked for, in the order asked.
    Designs,
    /// The designs that no other design beats in every aim at once.
    Front,
    /// The hours of the year of one design.
    Hours,
    /// The mirrors of one design.
    Mirrors,
    /// What one design is made of and what that costs.
    Bill,
    /// Where on the aperture the light of one design falls.
    Flux,
    /// The posts and frames of a field that is set out, with what they bear.
    Posts,
    /// How the mirrors of a field that is set out are set and bent.
    Panels,
    /// Axes, rails, lines and drives of a field that is set out.
    Strings,
    /// What is bought for its strings.
    Purchases,
    /// When its mirrors can be set under the sun.
    Alignment,
    /// The heliostats of a field that is set out.
    Heliostats,
    /// How the panels of heliostats are canted.
    CantedPanels,
    /// Where the beams of mirrors as surveyed fall.
    Spots,
    /// What the cost rests on, one uncertain input at a time and all together.
    Inputs,
    /// Costs over two prices.
    PriceGrid,
    /// How the cost spreads with every input drawn from its range.
    Draws,
    /// Rivals at their best for the same duty.
    Versus,
}

impl TableKind {
    /// Every table: those of a run folder, of a set-out, of a survey, of what was varied and of
    /// rivals.
    pub const ALL: [TableKind; 18] = [
        Designs,
        Front,
        Hours,
        Mirrors,
        Bill,
        Flux,
        Posts,
        Panels,
        Strings,
        Purchases,
        Alignment,
        Heliostats,
        CantedPanels,
        Spots,
        Inputs,
        PriceGrid,
        Draws,
        Versus,
    ];

    /// Name of the table, also the stem of its file.
    pub fn name(self) -> &'static str {
        match self {
            Designs => "designs",
            Front => "front",
            Hours => "hours",
            Mirrors => "mirrors",
            Bill => "bill",
            Flux => "flux",
            Posts => "posts",
            Panels => "panels",
            Strings => "strings",
            Purchases => "purchases",
            Alignment => "alignment",
            Heliostats => "heliostats",
            CantedPanels => "canted_panels",
            Spots => "spots",
            Inputs => "inputs",
            PriceGrid => "price_grid",
            Draws => "draws",
            Versus => "versus",
        }
    }

    /// Columns declared for this table, in file order.
    pub fn columns(self) -> impl Iterator<Item = &'static Column> {
        COLUMNS
            .iter()
            .filter(move |column| column.tables.contains(&self))
    }
}

/// Type of a column's values. Every value may be missing (null).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// 64-bit floating number, finite.
    Number,
    /// Unsigned 32-bit whole number.
    Count,
    /// UTF-8 text.
    Text,
    /// True or false.
    Flag,
}

impl Kind {
    /// Name of the type as written into the file.
    pub fn name(self) -> &'static str {
        match self {
            Kind::Number => "f64",
            Kind::Count => "u32",
            Kind::Text => "text",
            Kind::Flag => "bool",
        }
    }
}

/// Declaration of one column, or of a family of columns that share a prefix.
#[derive(Debug, Clone, Copy)]
pub struct Column {
    /// Tables that hold the column.
    pub tables: &'static [TableKind],
    /// Name with its unit suffix. A name that ends in `*` declares a family: the table
    /// supplies any number of columns with this prefix, each with its own unit.
    pub name: &'static str,
    /// Unit of the values; `1` for a share or ratio, empty for text, flags and labels.
    /// `{currency}` stands for the currency code of the file.
    pub unit: &'static str,
    /// Type of the values. Columns of a family may have any type.
    pub kind: Kind,
    /// What the value means, one sentence.
    pub description: &'static str,
}

impl Column {
    /// Prefix shared by the family's columns, if this declares a family.
    pub fn family_prefix(&self) -> Option<&'static str> {
        self.name.strip_suffix('*')
    }
}

const DESIGN: &[TableKind] = &[Designs, Front];
const RESULT: &[TableKind] = &[Designs, Front, Versus];
const NAMED: &[TableKind] = &[Posts, Panels, Strings, Spots];

const fn number(
    tables: &'static [TableKind],
    name: &'static str,
    unit: &'static str,
    description: &'static str,
) -> Column {
    Column {
        tables,
        name,
        unit,
        kind: Kind::Number,
        description,
    }
}

const fn count(
    tables: &'static [TableKind],
    name: &'static str,
    unit: &'static str,
    description: &'static str,
) -> Column {
    Column {
        tables,
        name,
        unit,
        kind: Kind::Count,
        description,
    }
}

const fn text(
    tables: &'static [TableKind],
    name: &'static str,
    description: &'static str,
) -> Column {
    Column {
        tables,
        name,
        unit: "",
        kind: Kind::Text,
        description,
    }
}

const fn flag(
    tables: &'static [TableKind],
    name: &'static str,
    description: &'static str,
) -> Column {
    Column {
        tables,
        name,
        unit: "",
        kind: Kind::Flag,
        description,
    }
}

/// Every column, table by table, in file order.
#[rustfmt::skip]
pub const COLUMNS: &[Column] = &[
    // Designs and front.
    text(&[Versus], "rival", "Name of the rival and of its run folder."),
    count(RESULT, "row", "", "Place of the design in the order in which designs were asked for, from 0."),
    text(DESIGN, "fidelity", "How finely the year was computed for this row. In \"search\" some mirrors of every string, or of one among a few where strings are many, speak for all: the light is then off by up to 0.2 % in root mean square over designs, 1 % at worst; in \"every\" all are looked at."),
    text(DESIGN, "status", "Whether the design is feasible, infeasible or failed."),
    text(DESIGN, "reason", "Why the design is infeasible or failed; null otherwise."),
    number(DESIGN, "design_*", "", "Value of one design variable."),
    number(RESULT, "cost_per_kwh", "{currency}/kWh", "Levelised cost of a delivered kilowatt-hour, of heat or electricity; of those that search.duty lets count."),
    number(RESULT, "capital", "{currency}", "Money spent until the plant runs."),
    number(RESULT, "yearly_cost", "{currency}/a", "Money spent each year to run and keep the plant."),
    number(RESULT, "carbon_g_kwh", "g/kWh", "Carbon dioxide equivalent embodied in the plant, per delivered energy over its life."),
    number(RESULT, "delivered_kwh", "kWh/a", "Heat or electricity delivered to the user in a year."),
    number(RESULT, "steam_t", "t/a", "Steam delivered to the user in a year."),
    number(RESULT, "land_m2", "m2", "Land taken by the field and the tower."),
    number(RESULT, "mirror_area_m2", "m2", "Area of all mirrors."),
    number(RESULT, "steel_kg", "kg", "Mass of steel of the whole plant."),
    number(RESULT, "glass_kg", "kg", "Mass of mirror glass."),
    number(RESULT, "cosine", "1", "Share of the light kept by the mirrors' tilt to the sun, over the year."),
    number(RESULT, "shading", "1", "Share of the light left after mirrors shade one another, over the year."),
    number(RESULT, "blocking", "1", "Share of the light left after mirrors block one another's beams, over the year."),
    number(RESULT, "reflectance", "1", "Share of the light that the glass, silver and dust leave."),
    number(RESULT, "attenuation", "1", "Share of the light that the air between mirror and aperture leaves, over the year."),
    number(RESULT, "intercept", "1", "Share of the arriving light that falls inside the aperture, over the year."),
    number(RESULT, "optical", "1", "Light in the aperture divided by direct sunlight times mirror area, over the year."),
    number(RESULT, "receiver", "1", "Heat leaving the receiver divided by light in the aperture, over the year."),
    number(RESULT, "peak_flux_w_m2", "W/m2", "Highest flux in the year on the aperture, between watched spots as a bell curve through the brightest tells it."),
    number(RESULT, "drive_residual_mrad", "mrad", "Beam error left by the shared drives, root mean square over mirrors and the year while drives follow the sun and stand at no stop."),
    number(RESULT, "common_turn_bound_mrad", "mrad", "The same if all mirrors of a string made the best common turn under every sun."),
    number(RESULT, "defocused_share", "1", "Share of the aperture's light turned away to keep within limits, over the year."),
    number(&[Versus], "concrete_m3", "m3", "Concrete of the whole plant."),
    number(&[Versus], "drives", "each", "Driven axes."),
    number(&[Versus], "controllers", "each", "Controllers of driven units."),
    number(&[Versus], "aim_height_m", "m", "Height of the middle of the aperture."),
    number(&[Versus], "aperture_width_m", "m", "Width of the aperture."),
    number(&[Versus], "aperture_height_m", "m", "Height of the aperture."),
    number(&[Versus], "mirrors_share", "1", "Direct cost of mirrors with steel, drives and footings, assembled and set, as a share of the direct capital."),
    number(&[Versus], "demand_kwh", "kWh/a", "Heat or electricity wanted in a year."),
    number(&[Versus], "cheapest_share", "1", "Share of the draws in which the rival is the cheapest."),
    number(&[Versus], "search_may_gain", "1", "What the search may still gain, as a share of the cost: as much as its second half took off."),
    number(&[Versus], "term_*", "", "One part of the cost."),
    number(&[Versus], "heat_*", "", "Delivered heat with one matter at one end, against the design's."),
    number(&[Versus], "equal_*", "", "Price at which the rival and the first one cost the same."),
    number(DESIGN, "margin_*", "", "Signed distance to one limit, as a share of the limit; negative is broken."),
    // Hours.
    count(&[Hours], "hour", "h", "Hour of the year in local standard time, from 0; covers hour to hour + 1."),
    number(&[Hours], "dni_w_m2", "W/m2", "Mean direct normal irradiance of the hour."),
    number(&[Hours], "air_temperature_k", "K", "Mean air temperature of the hour."),
    number(&[Hours], "wind_speed_m_s", "m/s", "Mean wind speed of the hour at 10 m."),
    number(&[Hours], "aperture_power_w", "W", "Light that could fall into the aperture."),
    number(&[Hours], "unavailable_w", "W", "Light lost because field or plant is out of order."),
    number(&[Hours], "defocused_w", "W", "Light turned away to keep within limits."),
    number(&[Hours], "idle_w", "W", "Light turned away because the receiver would run below its least load."),
    number(&[Hours], "reflected_w", "W", "Light that the receiver throws back."),
    number(&[Hours], "radiated_w", "W", "Heat radiated from the aperture."),
    number(&[Hours], "convected_w", "W", "Heat carried from the aperture by air."),
    number(&[Hours], "conducted_w", "W", "Heat lost through the receiver's insulation."),
    number(&[Hours], "start_w", "W", "Heat spent on warming the receiver up."),
    number(&[Hours], "receiver_out_w", "W", "Heat that leaves the receiver."),
    number(&[Hours], "pipe_loss_w", "W", "Heat lost by the pipes."),
    number(&[Hours], "to_store_w", "W", "Heat put into the store."),
    number(&[Hours], "from_store_w", "W", "Heat taken out of the store."),
    number(&[Hours], "store_loss_w", "W", "Heat that the store loses, out of its content."),
    number(&[Hours], "used_w", "W", "Heat that goes to its use: the user's, or a turbine set."),
    number(&[Hours], "rejected_w", "W", "Heat that a turbine set gives to the surroundings."),
    number(&[Hours], "own_supplied_w", "W", "Electricity of a turbine set that the plant uses itself."),
    number(&[Hours], "wall_temperature_k", "K", "Hottest wall of the running receiver; 0 at rest."),
    number(&[Hours], "delivered_w", "W", "Heat or electricity delivered to the user."),
    number(&[Hours], "dumped_w", "W", "Heat that neither the user nor the store could take."),
    number(&[Hours], "store_j", "J", "Heat in the store at the end of the hour."),
    number(&[Hours], "steam_kg_s", "kg/s", "Steam delivered to the user."),
    number(&[Hours], "own_use_electric_w", "W", "Electric power of pumps, tracking, controls and cooling, wherever it comes from."),
    // Mirrors.
    count(&[Mirrors], "string_id", "", "String that carries the mirror, from 0."),
    count(&[Mirrors], "mirror_id", "", "Place of the mirror in its string, from 0."),
    number(&[Mirrors], "x_m", "m", "Mirror centre east of the tower."),
    number(&[Mirrors], "y_m", "m", "Mirror centre north of the tower."),
    number(&[Mirrors], "z_m", "m", "Mirror centre above the ground at the tower."),
    number(&[Mirrors], "width_m", "m", "Width of the mirror."),
    number(&[Mirrors], "height_m", "m", "Height of the mirror."),
    number(&[Mirrors], "focal_length_m", "m", "Focal length the mirror is bent to."),
    number(&[Mirrors], "lit_share", "1", "Share of the mirror neither shaded nor blocked, over the year."),
    number(&[Mirrors], "intercept", "1", "Share of the mirror's arriving light inside the aperture, over the year."),
    number(&[Mirrors], "residual_mrad", "mrad", "Beam error left by the shared drive, root mean square over the year while the drive follows the sun."),
    number(&[Mirrors], "yearly_kwh", "kWh/a", "Light of the mirror inside the aperture in a year."),
    // Flux.
    number(&[Flux], "right_m", "m", "Middle of a part of the aperture, right of its middle seen from the field; round the mantle of a cylinder."),
    number(&[Flux], "up_m", "m", "The same, above its middle."),
    number(&[Flux], "flux_w_m2", "W/m2", "Flux there in the hour of the highest."),
    number(&[Flux], "yearly_kwh_m2", "kWh/m2/a", "Light there in a year."),
    // Bill.
    text(&[Bill], "item", "What is bought or done."),
    text(&[Bill], "group", "Part of the plant that the item belongs to."),
    text(&[Bill], "chapter", "Chapter that the group is rolled up into."),
    number(&[Bill], "quantity", "", "How much of it, in the row's unit."),
    text(&[Bill], "unit", "Unit of the quantity."),
    number(&[Bill], "mass_kg", "kg", "Mass that comes to the site by road."),
    number(&[Bill], "rate", "{currency}/unit", "Price of one unit."),
    number(&[Bill], "low", "{currency}/unit", "Low end of the price of one unit."),
    number(&[Bill], "high", "{currency}/unit", "High end of the price of one unit."),
    number(&[Bill], "amount", "{currency}", "Quantity times rate."),
    number(&[Bill], "carbon_kg", "kg", "Carbon dioxide equivalent embodied in the quantity."),
    count(&[Bill], "price_year", "a", "Year in whose money the price was quoted."),
    number(&[Bill], "rate_over_quoted", "1", "Price over the price quoted: what the price index and the makers' output have made of it."),
    text(&[Bill], "source", "Where the price comes from."),
    text(&[Bill], "carbon_source", "Where the carbon figure comes from."),
    // A field that is set out: names as in the plan.
    text(NAMED, "string_id", "Name of the string in the plan; empty for a mirror with a drive of its own."),
    text(&[Posts, Panels, Spots, Heliostats, CantedPanels], "mirror_id", "Name of the mirror in the plan; null for a frame."),
    // Heliostats that are set out.
    number(&[Heliostats], "pedestal_x_m", "m", "Place of the pedestal east of the tower."),
    number(&[Heliostats], "pedestal_y_m", "m", "Place of the pedestal north of the tower."),
    number(&[Heliostats], "ground_level_m", "m", "Height of the ground there above the tower's foot."),
    number(&[Heliostats], "axis_height_m", "m", "Height of the elevation axis above the ground."),
    flag(&[Heliostats], "open_to_the_wind", "Whether it stands where no other shelters it."),
    number(&[Heliostats], "embedded_m", "m", "Length of its foundation in the ground."),
    number(&[Heliostats], "pier_m", "m", "Diameter of the drilled pier of concrete; null for a driven pedestal."),
    number(&[Heliostats], "concrete_m3", "m3", "Concrete of the foundation."),
    number(&[Heliostats], "steel_kg", "kg", "Steel of stars, frame, mount and pedestal."),
    number(&[Heliostats], "azimuth_torque_n_m", "N m", "Torque that the azimuth drive must hold."),
    number(&[Heliostats], "elevation_torque_n_m", "N m", "Torque that the elevation drive must hold."),
    number(&[Heliostats], "bent_to_m", "m", "Focal length that its panels are canted and bent to; null for a flat mirror."),
    number(&[Heliostats], "aims_at_x_m", "m", "Its aim point, east of the tower."),
    number(&[Heliostats], "aims_at_y_m", "m", "Its aim point, north of the tower."),
    number(&[Heliostats], "aims_at_z_m", "m", "Its aim point, above the tower's foot."),
    count(&[CantedPanels], "column", "", "Column from the left, as seen before the upright mirror, from 1."),
    count(&[CantedPanels], "row_from_below", "", "Row from below, from 1."),
    number(&[CantedPanels], "right_m", "m", "Its middle, right of the mirror's middle."),
    number(&[CantedPanels], "above_m", "m", "Its middle, above the mirror's middle."),
    number(&[CantedPanels], "leans_right_mrad", "mrad", "Turn of its normal to the right against the mirror's."),
    number(&[CantedPanels], "leans_up_mrad", "mrad", "Turn of its normal upwards against the mirror's."),
    // Posts and frames.
    text(&[Posts], "part", "Post of a mirror, or frame that ends or drives the lines."),
    count(&[Posts], "legs", "", "How many legs stand there; those of a frame astride."),
    number(&[Posts], "x_m", "m", "Place east of the tower."),
    number(&[Posts], "y_m", "m", "Place north of the tower."),
    number(&[Posts], "ground_m", "m", "Height of the ground above the tower's foot."),
    number(&[Posts], "head_m", "m", "Height of the head, the mirror's centre or the rail, above the ground."),
    number(&[Posts], "depth_m", "m", "Length in the ground."),
    number(&[Posts], "diameter_mm", "mm", "Outer diameter of the tube."),
    number(&[Posts], "wall_mm", "mm", "Wall of the tube."),
    number(&[Posts], "hole_mm", "mm", "Diameter of the drilled hole that is filled with concrete; null for a driven post."),
    text(&[Posts], "set_by", "What sets the tube."),
    text(&[Posts], "wind_case", "The wind case that overturns it most; null for a frame, as lines pull on the rail."),
    number(&[Posts], "overturning_n_m", "N m", "Moment about the ground in that case, gusts included, no partial factor."),
    number(&[Posts], "shear_n", "N", "Horizontal force in that case."),
    number(&[Posts], "uplift_n", "N", "Greatest upward pull of the wind in any case."),
    number(&[Posts], "weight_n", "N", "Weight of what stands on it."),
    // Panels.
    number(&[Panels], "x_m", "m", "Mirror centre east of the tower."),
    number(&[Panels], "y_m", "m", "Mirror centre north of the tower."),
    number(&[Panels], "z_m", "m", "Mirror centre above the tower's foot."),
    number(&[Panels], "aim_x_m", "m", "Aim point east of the tower."),
    number(&[Panels], "aim_y_m", "m", "Aim point north of the tower."),
    number(&[Panels], "aim_z_m", "m", "Aim point above the tower's foot."),
    number(&[Panels], "first_turn_mrad", "mrad", "Turn about the first axis, right-handed, against the string's reference mirror, by shims, clamps or post head."),
    number(&[Panels], "second_turn_mrad", "mrad", "The same about the second axis."),
    number(&[Panels], "second_edge_raise_mm", "mm", "What the turn about the first axis raises the panel's edge on the side that the second axis points to, over half the width."),
    number(&[Panels], "first_edge_raise_mm", "mm", "What the turn about the second axis raises the panel's edge on the side that the first axis points to, over half the height."),
    number(&[Panels], "first_lever_m", "m", "Length of the lever that turns it about the first axis."),
    number(&[Panels], "second_lever_m", "m", "Length of the lever that turns it about the second axis."),
    number(&[Panels], "first_gain", "1", "Lever of the reference mirror over this one's, for the first axis."),
    number(&[Panels], "second_gain", "1", "The same for the second axis."),
    number(&[Panels], "focal_length_m", "m", "Focal length it is bent to; null for a flat one."),
    number(&[Panels], "corner_deflection_mm", "mm", "How far the corners then stand before the centre."),
    number(&[Panels], "corner_pull_n", "N", "Pull at each corner that bends it so."),
    number(&[Panels], "mark_right_m", "m", "Mark onto which the beam of a laser in the middle of the aperture comes back at night, right of that middle on the aperture's plane; null where mirrors are set by the sun or the beam leads away from that plane."),
    number(&[Panels], "mark_up_m", "m", "The same mark, up from the middle of the aperture."),
    number(&[Panels], "parallax_mrad", "mrad", "Turn by which the mirror would be set wrong with the laser taken to stand where the reference mirror sees it; null where mirrors are set by the sun."),
    // Strings.
    count(&[Strings], "mirrors", "", "How many mirrors."),
    text(&[Strings], "reference_mirror_id", "The mirror against which the others are set."),
    number(&[Strings], "bearing_deg", "deg", "Bearing of the string, clockwise from north."),
    text(&[Strings], "first_axis", "The axis fixed to the ground."),
    text(&[Strings], "linkage", "How motion reaches the mirrors."),
    number(&[Strings], "alignment_sun_azimuth_deg", "deg", "Azimuth of the sun under which its mirrors are set, clockwise from north."),
    number(&[Strings], "alignment_sun_elevation_deg", "deg", "Elevation of that sun."),
    number(&[Strings], "first_axis_azimuth_deg", "deg", "Where the first axis points, clockwise from north."),
    number(&[Strings], "first_axis_elevation_deg", "deg", "Where the first axis points, above the horizon."),
    number(&[Strings], "second_axis_azimuth_deg", "deg", "Where the second axis points under the alignment sun, clockwise from north."),
    number(&[Strings], "second_axis_elevation_deg", "deg", "Where the second axis points under the alignment sun, above the horizon."),
    number(&[Strings], "string_start_x_m", "m", "First end of the string, and of its rail if it has one, east of the tower."),
    number(&[Strings], "string_start_y_m", "m", "First end of the string, and of its rail if it has one, north of the tower."),
    number(&[Strings], "string_start_z_m", "m", "First end of the string, and of its rail if it has one, above the tower's foot."),
    number(&[Strings], "string_end_x_m", "m", "Other end of the string, and of its rail if it has one, east of the tower."),
    number(&[Strings], "string_end_y_m", "m", "Other end of the string, and of its rail if it has one, north of the tower."),
    number(&[Strings], "string_end_z_m", "m", "Other end of the string, and of its rail if it has one, above the tower's foot."),
    number(&[Strings], "rail_length_m", "m", "Length of the rail; null where there is none."),
    number(&[Strings], "rail_diameter_mm", "mm", "Outer diameter of the rail; null where there is none."),
    number(&[Strings], "rail_wall_mm", "mm", "Wall of the rail; null where there is none."),
    text(&[Strings], "line", "What hands motion along the string."),
    number(&[Strings], "line_diameter_mm", "mm", "Diameter of each strand, push-rod or of the bar."),
    count(&[Strings], "strands", "", "How many strands run along the string; none beside push-rods or a bar."),
    number(&[Strings], "pretension_n", "N", "Pretension of each strand; null for push-rods and bars."),
    number(&[Strings], "drive_x_m", "m", "Place of the drives east of the tower."),
    number(&[Strings], "drive_y_m", "m", "Place of the drives north of the tower."),
    count(&[Strings], "drives", "", "How many drives."),
    number(&[Strings], "drive_torque_n_m", "N m", "Torque that each drive must hold."),
    number(&[Strings], "motor_w", "W", "Power of each drive's motor on the way to stow."),
    // Purchases.
    text(&[Purchases], "item", "What is bought."),
    text(&[Purchases], "size", "Which size."),
    text(&[Purchases], "used_for", "What it is used for."),
    number(&[Purchases], "quantity", "", "How much stands in the field, in the row's unit."),
    number(&[Purchases], "spares", "", "How much more is bought as spares, in the row's unit."),
    text(&[Purchases], "unit", "Unit of quantity and spares."),
    text(&[Purchases], "stock", "Sheet or bar that it is cut from; null if it is bought as it is."),
    count(&[Purchases], "stock_count", "", "How many of those are bought."),
    count(&[Purchases], "pieces_per_stock", "", "Panels that a sheet gives; null for bars."),
    number(&[Purchases], "used_share", "1", "Share of the stock that is used; the rest is offcut."),
    count(&[Purchases], "splices", "", "Joints in pieces longer than a bar."),
    number(&[Purchases], "mass_kg", "kg", "Mass of quantity and spares; null where it is not known."),
    // Alignment.
    number(&[Alignment], "alignment_sun_azimuth_deg", "deg", "Azimuth of the sun for which settings hold, clockwise from north."),
    number(&[Alignment], "alignment_sun_elevation_deg", "deg", "Elevation of that sun."),
    count(&[Alignment], "strings", "", "How many strings are set under it."),
    count(&[Alignment], "month", "", "Month of the year."),
    count(&[Alignment], "day", "", "Day of the month."),
    text(&[Alignment], "local_time", "Hour and minute in local standard time."),
    number(&[Alignment], "sun_azimuth_deg", "deg", "Azimuth of the sun then, clockwise from north."),
    number(&[Alignment], "sun_elevation_deg", "deg", "Elevation of the sun then."),
    number(&[Alignment], "off_deg", "deg", "Angle between it and the sun for which settings hold."),
    // Spots.
    text(&[Spots], "moment", "Day and local standard time of the sun; null for instants from a file."),
    number(&[Spots], "sun_azimuth_deg", "deg", "Azimuth of the sun, clockwise from north."),
    number(&[Spots], "sun_elevation_deg", "deg", "Elevation of the sun."),
    number(&[Spots], "right_mm", "mm", "Where the central ray meets the target plane, right of the mirror's aim point as seen from the field."),
    number(&[Spots], "up_mm", "mm", "The same, up along the target plane."),
    number(&[Spots], "off_mm", "mm", "Distance from the aim point."),
    number(&[Spots], "off_plan_mm", "mm", "Distance from where the beam would fall if all were built as planned."),
    flag(&[Spots], "within", "Whether off_mm is within the tolerance asked for; null if none was."),
    // What the cost rests on.
    text(&[Inputs], "input", "Key of the uncertain input."),
    number(&[Inputs], "lowest", "", "Low end of its range, in the input's own unit."),
    number(&[Inputs], "likely", "", "Its value as the scenario has it."),
    number(&[Inputs], "highest", "", "High end of its range."),
    number(&[Inputs], "at_lowest_per_kwh", "{currency}/kWh", "Cost with this input alone at its low end."),
    number(&[Inputs], "at_highest_per_kwh", "{currency}/kWh", "Cost with this input alone at its high end."),
    number(&[Inputs], "alone_share", "1", "Share of the variance of the cost that this input causes alone (first-order Sobol' index)."),
    number(&[Inputs], "with_others_share", "1", "Share that it causes alone and together with others (total Sobol' index)."),
    // Two prices against one another.
    text(&[PriceGrid], "first_rate", "Key of the first rate."),
    text(&[PriceGrid], "second_rate", "Key of the second rate."),
    number(&[PriceGrid], "first_price", "", "Price of the first, in the unit of its rate."),
    number(&[PriceGrid], "second_price", "", "Price of the second, in the unit of its rate."),
    number(&[PriceGrid], "held_per_kwh", "{currency}/kWh", "Cost of the design that is best as things are."),
    number(&[PriceGrid], "found_again_per_kwh", "{currency}/kWh", "Cost of the confirmed design that is cheapest at these prices."),
    // Draws.
    number(&[Draws], "below_share", "1", "Share of the draws whose cost is not above this row's."),
    number(&[Draws], "cost_per_kwh", "{currency}/kWh", "Cost with every input drawn from its range."),
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_unique_within_each_table() {
        for table in TableKind::ALL {
            let mut names: Vec<_> = table.columns().map(|c| c.name).collect();
            let all = names.len();
            names.sort_unstable();
            names.dedup();
            assert_eq!(names.len(), all, "{}", table.name());
        }
    }

    #[test]
    fn every_unit_suffix_agrees_with_the_unit() {
        let suffixes = [
            ("_w_m2", "W/m2"),
            ("_kwh_m2", "kWh/m2/a"),
            ("_g_kwh", "g/kWh"),
            ("_per_kwh", "{currency}/kWh"),
            ("_n_m", "N m"),
            ("_m_s", "m/s"),
            ("_kg_s", "kg/s"),
            ("_mrad", "mrad"),
            ("_m2", "m2"),
            ("_kwh", "kWh/a"),
            ("_kg", "kg"),
            ("_t", "t/a"),
            ("_mm", "mm"),
            ("_deg", "deg"),
            ("_m", "m"),
            ("_n", "N"),
            ("_w", "W"),
            ("_j", "J"),
            ("_k", "K"),
        ];
        for column in COLUMNS {
            let unit = suffixes
                .iter()
                .find(|(suffix, _)| column.name.ends_with(suffix))
                .map(|(_, unit)| *unit);
            if let Some(unit) = unit {
                assert_eq!(column.unit, unit, "{}", column.name);
            }
        }
    }

    const NOT_OF_ONE_UNIT: [&str; 7] = [
        "quantity",
        "spares",
        "lowest",
        "likely",
        "highest",
        "first_price",
        "second_price",
    ];

    #[test]
    fn numbers_have_a_unit_unless_the_row_or_the_table_gives_it() {
        for column in COLUMNS.iter().filter(|c| c.kind == Kind::Number) {
            let elsewhere =
                column.family_prefix().is_some() || NOT_OF_ONE_UNIT.contains(&column.name);
            assert_eq!(column.unit.is_empty(), elsewhere, "{}", column.name);
        }
    }
}
