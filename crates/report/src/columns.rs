//! The one declaration of every column of every table: name, unit, type, meaning.

use TableKind::{Bill, Designs, Front, Hours, Mirrors};

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
}

impl TableKind {
    /// Every table, in the order of the run folder.
    pub const ALL: [TableKind; 5] = [Designs, Front, Hours, Mirrors, Bill];

    /// Name of the table, also the stem of its file.
    pub fn name(self) -> &'static str {
        match self {
            Designs => "designs",
            Front => "front",
            Hours => "hours",
            Mirrors => "mirrors",
            Bill => "bill",
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

/// Every column, table by table, in file order.
#[rustfmt::skip]
pub const COLUMNS: &[Column] = &[
    // Designs and front.
    count(DESIGN, "row", "", "Place of the design in the order in which designs were asked for, from 0."),
    text(DESIGN, "fidelity", "How finely the year was computed for this row."),
    text(DESIGN, "status", "Whether the design is feasible, infeasible or failed."),
    text(DESIGN, "reason", "Why the design is infeasible or failed; null otherwise."),
    number(DESIGN, "design_*", "", "Value of one design variable."),
    number(DESIGN, "cost_per_kwh", "{currency}/kWh", "Levelised cost of delivered heat."),
    number(DESIGN, "capital", "{currency}", "Money spent until the plant runs."),
    number(DESIGN, "yearly_cost", "{currency}/a", "Money spent each year to run and keep the plant."),
    number(DESIGN, "carbon_g_kwh", "g/kWh", "Carbon dioxide equivalent embodied in the plant, per delivered heat over its life."),
    number(DESIGN, "delivered_kwh", "kWh/a", "Heat delivered to the user in a year."),
    number(DESIGN, "steam_t", "t/a", "Steam delivered to the user in a year."),
    number(DESIGN, "land_m2", "m2", "Land taken by the field and the tower."),
    number(DESIGN, "mirror_area_m2", "m2", "Area of all mirrors."),
    number(DESIGN, "steel_kg", "kg", "Mass of steel of the whole plant."),
    number(DESIGN, "glass_kg", "kg", "Mass of mirror glass."),
    number(DESIGN, "cosine", "1", "Share of the light kept by the mirrors' tilt to the sun, over the year."),
    number(DESIGN, "shading", "1", "Share of the light left after mirrors shade one another, over the year."),
    number(DESIGN, "blocking", "1", "Share of the light left after mirrors block one another's beams, over the year."),
    number(DESIGN, "reflectance", "1", "Share of the light that the glass, silver and dust leave."),
    number(DESIGN, "attenuation", "1", "Share of the light that the air between mirror and aperture leaves, over the year."),
    number(DESIGN, "intercept", "1", "Share of the arriving light that falls inside the aperture, over the year."),
    number(DESIGN, "optical", "1", "Light in the aperture divided by direct sunlight times mirror area, over the year."),
    number(DESIGN, "receiver", "1", "Heat leaving the receiver divided by light in the aperture, over the year."),
    number(DESIGN, "peak_flux_w_m2", "W/m2", "Highest flux in the year at the nine watched spots of the aperture."),
    number(DESIGN, "defocused_share", "1", "Share of the aperture's light turned away to keep within limits, over the year."),
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
    number(&[Hours], "delivered_w", "W", "Heat delivered to the user."),
    number(&[Hours], "dumped_w", "W", "Heat that neither the user nor the store could take."),
    number(&[Hours], "store_j", "J", "Heat in the store at the end of the hour."),
    number(&[Hours], "steam_kg_s", "kg/s", "Steam delivered to the user."),
    number(&[Hours], "own_use_electric_w", "W", "Electric power of pumps, tracking and controls."),
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
    number(&[Mirrors], "residual_mrad", "mrad", "Beam error left by the shared drive, root mean square over the year."),
    number(&[Mirrors], "yearly_kwh", "kWh/a", "Light of the mirror inside the aperture in a year."),
    // Bill.
    text(&[Bill], "item", "What is bought or done."),
    text(&[Bill], "group", "Part of the plant that the item belongs to."),
    number(&[Bill], "quantity", "", "How much of it, in the row's unit."),
    text(&[Bill], "unit", "Unit of the quantity."),
    number(&[Bill], "rate", "{currency}/unit", "Price of one unit."),
    number(&[Bill], "low", "{currency}/unit", "Low end of the price of one unit."),
    number(&[Bill], "high", "{currency}/unit", "High end of the price of one unit."),
    number(&[Bill], "amount", "{currency}", "Quantity times rate."),
    number(&[Bill], "carbon_kg", "kg", "Carbon dioxide equivalent embodied in the quantity."),
    count(&[Bill], "price_year", "a", "Year of the money of the price."),
    text(&[Bill], "source", "Where the price comes from."),
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
            ("_g_kwh", "g/kWh"),
            ("_per_kwh", "{currency}/kWh"),
            ("_m_s", "m/s"),
            ("_kg_s", "kg/s"),
            ("_mrad", "mrad"),
            ("_m2", "m2"),
            ("_kwh", "kWh/a"),
            ("_kg", "kg"),
            ("_t", "t/a"),
            ("_m", "m"),
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

    #[test]
    fn numbers_have_a_unit_unless_the_row_or_the_table_gives_it() {
        for column in COLUMNS.iter().filter(|c| c.kind == Kind::Number) {
            let elsewhere = column.family_prefix().is_some() || column.name == "quantity";
            assert_eq!(column.unit.is_empty(), elsewhere, "{}", column.name);
        }
    }
}
