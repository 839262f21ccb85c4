//! The plan as a map: GeoJSON (RFC 7946), longitude, latitude and height above the ellipsoid in WGS 84.

use std::f64::consts::FRAC_PI_2;

use field::{Plan, PlanRow};
use geometry::Vec3;
use model::setout::{SetHeliostats, SetOut, SetString, Standing};
use scenario::Site;
use serde_json::{Value, json};

use crate::plan_file::{first_axis_text, linkage_text};

/// Equatorial radius and flattening of the WGS 84 ellipsoid (NIMA TR8350.2; from memory).
const EQUATOR_M: f64 = 6_378_137.0;
const FLATTENING: f64 = 1.0 / 298.257_223_563;
/// Decimals of degrees: a tenth of a millimetre.
const DEGREE_STEPS: f64 = 1e9;
const MILLIMETRES: f64 = 1e3;

/// The tower, every string as a line along its rail, every post as a point.
pub fn strings(site: &Site, set_out: &SetOut, rows: &[PlanRow]) -> Value {
    let earth = Earth::at(site);
    let strings = set_out
        .strings
        .iter()
        .map(|set| string(&earth, set_out, set, rows));
    let posts = set_out.posts.iter().filter_map(|post| {
        let Standing::Post { mirror, .. } = post.standing else {
            return None;
        };
        let [x_m, y_m] = post.place_m;
        Some(earth.point(
            Vec3::new(x_m, y_m, post.ground_m),
            &json!({
                "part": "post",
                "string_id": rows[mirror].string_id,
                "mirror_id": rows[mirror].mirror_id,
                "head_m": post.head_m,
                "depth_m": post.depth_m,
            }),
        ))
    });
    earth.map(&set_out.plan, strings.chain(posts))
}

/// The tower, and every heliostat as a point at the foot of its pedestal.
pub fn heliostats(site: &Site, set: &SetHeliostats, rows: &[PlanRow]) -> Value {
    let (earth, plan) = (Earth::at(site), &set.plan);
    let pedestals = (0..plan.mirror_count()).map(|mirror| {
        let parts = &set.makes[set.make_of[mirror]].parts;
        let foot_m = Vec3::new(plan.x_m[mirror], plan.y_m[mirror], set.ground_m[mirror]);
        earth.point(
            foot_m,
            &json!({
                "part": "pedestal",
                "mirror_id": rows[mirror].mirror_id,
                "axis_height_m": parts.axis_height_m,
                "depth_m": parts.embedded_m,
                "pier_m": parts.pier_m,
                "width_m": plan.width_m[mirror],
                "height_m": plan.height_m[mirror],
            }),
        )
    });
    earth.map(plan, pedestals)
}

fn string(earth: &Earth, set_out: &SetOut, set: &SetString, rows: &[PlanRow]) -> Value {
    let row = &set_out.plan.strings[set.string];
    feature(
        json!({
            "type": "LineString",
            "coordinates": set.ends_m.map(|end_m| earth.position(end_m)),
        }),
        &json!({
            "part": "string",
            "string_id": rows[set.reference_mirror].string_id,
            "mirrors": row.mirror_count,
            "first_axis": first_axis_text(row.first_axis),
            "linkage": linkage_text(row.linkage),
        }),
    )
}

fn feature(geometry: Value, properties: &Value) -> Value {
    json!({ "type": "Feature", "geometry": geometry, "properties": properties })
}

/// The earth around the tower's foot, near enough to be flat: 300 m away that is wrong by less than
/// 3 cm below 60° of latitude (x·y·tan φ/R).
struct Earth {
    latitude_rad: f64,
    longitude_rad: f64,
    altitude_m: f64,
    /// Radius of curvature along the meridian and length of the axis-to-place line.
    north_m_rad: f64,
    east_m_rad: f64,
}

impl Earth {
    fn at(site: &Site) -> Self {
        let square = FLATTENING * (2.0 - FLATTENING);
        let (sin, cos) = libm::sincos(site.latitude_rad);
        let bulge = 1.0 - square * sin * sin;
        let across_m = EQUATOR_M / bulge.sqrt();
        Self {
            latitude_rad: site.latitude_rad,
            longitude_rad: site.longitude_rad,
            altitude_m: site.altitude_m,
            north_m_rad: across_m * (1.0 - square) / bulge + site.altitude_m,
            east_m_rad: (across_m + site.altitude_m) * cos,
        }
    }

    /// A map of the tower of a plan and what stands around it.
    fn map(&self, plan: &Plan, around: impl Iterator<Item = Value>) -> Value {
        let tower = self.point(
            Vec3::ZERO,
            &json!({ "part": "tower", "aim_height_m": plan.aim_m.z }),
        );
        let features: Vec<Value> = std::iter::once(tower).chain(around).collect();
        json!({ "type": "FeatureCollection", "features": features })
    }

    fn point(&self, place_m: Vec3, properties: &Value) -> Value {
        let position = self.position(place_m);
        feature(
            json!({ "type": "Point", "coordinates": position }),
            properties,
        )
    }

    /// Longitude and latitude in degrees, height in metres.
    fn position(&self, place_m: Vec3) -> [f64; 3] {
        let latitude_rad = self.latitude_rad + place_m.y / self.north_m_rad;
        let longitude_rad = self.longitude_rad + place_m.x / self.east_m_rad;
        let degrees =
            |angle_rad: f64| (angle_rad.to_degrees() * DEGREE_STEPS).round() / DEGREE_STEPS;
        [
            degrees(longitude_rad),
            degrees(latitude_rad.clamp(-FRAC_PI_2, FRAC_PI_2)),
            ((self.altitude_m + place_m.z) * MILLIMETRES).round() / MILLIMETRES,
        ]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// WGS 84 at 45° (published tables, from memory): a degree of latitude is 111 132 m long, one of
    /// longitude 78 847 m; at the equator 110 574 m and 111 320 m.
    #[test]
    fn degrees_are_as_long_as_in_tables() {
        for (latitude_deg, north_m, east_m) in
            [(45.0f64, 111_132.0, 78_847.0), (0.0, 110_574.0, 111_320.0)]
        {
            let site = Site {
                latitude_rad: latitude_deg.to_radians(),
                longitude_rad: 0.2,
                ..Site::default()
            };
            let earth = Earth::at(&site);
            assert!((earth.north_m_rad.to_radians() - north_m).abs() < 1.0);
            assert!((earth.east_m_rad.to_radians() - east_m).abs() < 1.0);
            let there = earth.position(Vec3::new(east_m / 1e3, north_m / 1e3, 12.5));
            let home = earth.position(Vec3::ZERO);
            assert!((there[0] - home[0] - 1e-3).abs() < 1e-7);
            assert!((there[1] - home[1] - 1e-3).abs() < 1e-7);
            assert!((there[2] - 12.5).abs() < 1e-9);
        }
    }
}
