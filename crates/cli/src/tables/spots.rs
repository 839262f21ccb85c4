//! Spots as a table: mirror by mirror, moment by moment.

use model::spot::Spot;
use report::{Data, Table, TableKind};

use crate::spot::{Moment, Spots};

const MM_PER_M: f64 = 1e3;

/// Every mirror at every moment.
pub fn spots(of: &Spots) -> Table {
    let mut table = Table::new(TableKind::Spots);
    let places: Vec<(usize, usize)> = (0..of.rows.len())
        .flat_map(|mirror| (0..of.moments.len()).map(move |moment| (mirror, moment)))
        .collect();
    let rows = || places.iter().map(|(mirror, _)| &of.rows[*mirror]);
    table.push(
        "string_id",
        Data::texts(rows().map(|row| row.string_id.as_str())),
    );
    table.push(
        "mirror_id",
        Data::texts(rows().map(|row| row.mirror_id.as_str())),
    );
    let moments = || places.iter().map(|(_, moment)| &of.moments[*moment]);
    table.push(
        "moment",
        Data::Text(moments().map(|moment| moment.label.clone()).collect()),
    );
    let angle =
        |axis: usize| Data::numbers(moments().map(|moment: &Moment| moment.angles_deg()[axis]));
    table.push("sun_azimuth_deg", angle(0));
    table.push("sun_elevation_deg", angle(1));
    let spots: Vec<Option<Spot>> = places
        .iter()
        .map(|(mirror, moment)| of.spots[*moment][*mirror])
        .collect();
    let number = |value: fn(&Spot) -> f64| {
        let values = spots
            .iter()
            .map(|spot| Some(value(spot.as_ref()?) * MM_PER_M));
        Data::Number(values.collect())
    };
    table.push("right_mm", number(|spot| spot.right_m));
    table.push("up_mm", number(|spot| spot.up_m));
    table.push("off_mm", number(Spot::off_m));
    let from_plan = places
        .iter()
        .map(|(mirror, moment)| Some(of.off_plan_m(*moment, *mirror)? * MM_PER_M));
    table.push("off_plan_mm", Data::Number(from_plan.collect()));
    let within = |spot: &Option<Spot>| {
        let within_m = of.within_m?;
        Some(spot.is_some_and(|spot| spot.off_m() <= within_m))
    };
    table.push("within", Data::Flag(spots.iter().map(within).collect()));
    table
}
