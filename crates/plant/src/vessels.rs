//! What holds the stored heat: pressure vessels of water, two tanks of salt, a bed of stones for air.

use std::f64::consts::PI;

use crate::store::WallLoss;
use crate::{Carrier, Fluid};

/// Density of steel [kg/m³] (EN 1993-1-1, from memory).
const STEEL_KG_M3: f64 = 7850.0;

/// Allowed stress of boiler steel at 250 °C, Pa: proof stress about 170 MPa ÷ 1.5 (P235GH, from
/// memory); also that of stainless steel for hot salt at 565 °C, within 10 % (from memory).
pub(crate) const ALLOWED_STRESS_PA: f64 = 110e6;

/// Standard gravity, m/s².
const GRAVITY_M_S2: f64 = 9.806_65;

/// Share of the content that is of use: hot and cold water mix in one vessel, tanks of salt keep a
/// heel for their pumps, a bed of stones has a long slope between hot and cold (common practice, no
/// source).
const WATER_USABLE: f64 = 0.9;
const SALT_USABLE: f64 = 0.94;
const BED_USABLE: f64 = 0.75;

/// Largest pressure vessel that goes by road [m³], and its length ÷ bore (common practice, no
/// source).
const LARGEST_VESSEL_M3: f64 = 100.0;
const VESSEL_SLENDERNESS: f64 = 4.0;

/// Highest salt tank [m]; smaller ones are half as high as wide (common practice, no source).
const HIGHEST_TANK_M: f64 = 12.0;
const TANK_SLENDERNESS: f64 = 0.5;
/// Thinnest plate of a tank [m] (common practice, no source).
const LEAST_PLATE_M: f64 = 6e-3;

/// Basalt in a bed: density of the stone [kg/m³], its specific heat at some 500 °C [J/(kg K)], share of
/// the bed that is void (textbook values, from memory).
const STONE_KG_M3: f64 = 2800.0;
const STONE_J_KG_K: f64 = 1000.0;
const BED_VOID: f64 = 0.4;
/// Shell of a bed and the steel that stiffens it, as a plate [m]; insulated inside, so that it stays
/// cool (common practice, no source).
const BED_SHELL_M: f64 = 10e-3;

/// What holds a store's heat.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct Vessels {
    /// Water, salt or stones [kg].
    pub fill_kg: f64,
    /// All vessels together [m³].
    pub volume_m3: f64,
    /// Their outside; of salt both tanks [m²].
    pub surface_m2: f64,
    /// Steel [kg].
    pub steel_kg: f64,
}

impl Vessels {
    /// What holds a usable heat [J] of a carrier.
    pub fn holding(carrier: &Carrier, capacity_j: f64) -> Self {
        if capacity_j <= 0.0 {
            return Self::default();
        }
        match carrier.fluid {
            Fluid::Water => Self::of_water(carrier, capacity_j),
            Fluid::Salt => Self::of_salt(carrier, capacity_j),
            Fluid::Air => Self::of_stones(carrier, capacity_j),
        }
    }

    /// Long upright cylinders with a hot and a cold layer; steel of a thin shell, 2 p V ρ/σ.
    fn of_water(carrier: &Carrier, capacity_j: f64) -> Self {
        let fill_kg = capacity_j / carrier.gain_j_kg / WATER_USABLE;
        let volume_m3 = fill_kg / carrier.hot_density_kg_m3;
        let vessels = (volume_m3 / LARGEST_VESSEL_M3).ceil();
        let one_m2 = Cylinder::of_volume(volume_m3 / vessels, VESSEL_SLENDERNESS).surface_m2();
        Self {
            fill_kg,
            volume_m3,
            surface_m2: vessels * one_m2,
            steel_kg: 2.0 * carrier.pressure_pa * volume_m3 * STEEL_KG_M3 / ALLOWED_STRESS_PA,
        }
    }

    /// A hot and a cold tank, each for all the salt.
    fn of_salt(carrier: &Carrier, capacity_j: f64) -> Self {
        let fill_kg = capacity_j / carrier.gain_j_kg / SALT_USABLE;
        let one_m3 = fill_kg / carrier.hot_density_kg_m3;
        let tank = Cylinder::of_volume(one_m3, TANK_SLENDERNESS).no_higher_than(HIGHEST_TANK_M);
        let head_pa = carrier.cold_density_kg_m3 * GRAVITY_M_S2 * tank.height_m;
        Self {
            fill_kg,
            volume_m3: 2.0 * one_m3,
            surface_m2: 2.0 * tank.surface_m2(),
            steel_kg: 2.0 * tank.steel_kg(head_pa),
        }
    }

    /// An upright bed as high as wide, hot air in at its top.
    fn of_stones(carrier: &Carrier, capacity_j: f64) -> Self {
        let swing_k = carrier.hot_k - carrier.cold_k;
        let fill_kg = capacity_j / (STONE_J_KG_K * swing_k) / BED_USABLE;
        let volume_m3 = fill_kg / STONE_KG_M3 / (1.0 - BED_VOID);
        let surface_m2 = Cylinder::of_volume(volume_m3, 1.0).surface_m2();
        Self {
            fill_kg,
            volume_m3,
            surface_m2,
            steel_kg: surface_m2 * BED_SHELL_M * STEEL_KG_M3,
        }
    }

    /// What the walls lose to air of a temperature [K], through `wall_w_m2_k` of insulation.
    ///
    /// Vessels and beds hold a hot and a cold layer that share the surface. Both salt tanks stay at
    /// their temperatures however full they are.
    pub fn wall_loss(&self, carrier: &Carrier, wall_w_m2_k: f64, air_k: f64) -> WallLoss {
        let hot_w = wall_w_m2_k * self.surface_m2 * (carrier.hot_k - air_k);
        let cold_w = wall_w_m2_k * self.surface_m2 * (carrier.cold_k - air_k);
        match carrier.fluid {
            Fluid::Water | Fluid::Air => WallLoss {
                full_w: hot_w,
                empty_w: cold_w,
            },
            Fluid::Salt => WallLoss {
                full_w: 0.5 * (hot_w + cold_w),
                empty_w: 0.5 * (hot_w + cold_w),
            },
        }
    }
}

/// An upright cylinder.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Cylinder {
    bore_m: f64,
    height_m: f64,
}

impl Cylinder {
    /// A cylinder of a volume whose height is `slenderness` times its bore.
    fn of_volume(volume_m3: f64, slenderness: f64) -> Self {
        let bore_m = libm::cbrt(4.0 * volume_m3 / (PI * slenderness));
        Self {
            bore_m,
            height_m: slenderness * bore_m,
        }
    }

    /// The same volume, wider if it would be higher than this.
    fn no_higher_than(self, height_m: f64) -> Self {
        if self.height_m <= height_m {
            return self;
        }
        Self {
            bore_m: self.bore_m * (self.height_m / height_m).sqrt(),
            height_m,
        }
    }

    fn end_m2(&self) -> f64 {
        0.25 * PI * self.bore_m * self.bore_m
    }

    fn shell_m2(&self) -> f64 {
        PI * self.bore_m * self.height_m
    }

    fn surface_m2(&self) -> f64 {
        self.shell_m2() + 2.0 * self.end_m2()
    }

    /// Plates of a flat-bottomed tank under the head of its content [Pa]: courses thinner towards the
    /// top, p d/(4 σ) in the mean, floor and roof of the thinnest plate.
    fn steel_kg(&self, head_pa: f64) -> f64 {
        let course_m = (head_pa * self.bore_m / (4.0 * ALLOWED_STRESS_PA)).max(LEAST_PLATE_M);
        STEEL_KG_M3 * (self.shell_m2() * course_m + 2.0 * self.end_m2() * LEAST_PLATE_M)
    }
}

#[cfg(test)]
mod tests {
    use book::Check;

    use super::*;
    use crate::Carrier;
    use crate::samples::steam_process;

    const MWH_J: f64 = 3.6e9;

    fn salt() -> Carrier {
        Carrier::salt(563.15, 838.15, 101_325.0).unwrap()
    }

    #[test]
    fn a_vessel_of_ten_cubic_metres_at_33_bar() {
        // Worked apart: bore 2 m, length 3.183 m, wall p r/σ = 30 mm, 4.71 t of shell.
        let carrier = steam_process().carrier;
        let usable_j = 10.0 * carrier.hot_density_kg_m3 * carrier.gain_j_kg * WATER_USABLE;
        let vessels = Vessels::holding(&carrier, usable_j);
        assert!((vessels.volume_m3 - 10.0).abs() < 1e-9);
        let wall_m = carrier.pressure_pa / ALLOWED_STRESS_PA;
        let shell_kg = PI * 2.0 * 3.183_1 * wall_m * STEEL_KG_M3;
        assert!((vessels.steel_kg / shell_kg - 1.0).abs() < 1e-4);
    }

    /// The 10 MW test plant of 1996–99 stored 105 MWh in some 1,400 t of salt, in two tanks of about 11.6 m
    /// bore and 8 m height (Pacheco 2002, SAND2002-0120, from memory): here within a third.
    #[test]
    fn salt_of_the_test_plant() {
        let tanks = Vessels::holding(&salt(), 105.0 * MWH_J);
        assert!(
            (tanks.fill_kg / 1.4e6 - 1.0).abs() < 0.35,
            "{}",
            tanks.fill_kg
        );
        let one = Cylinder::of_volume(0.5 * tanks.volume_m3, TANK_SLENDERNESS);
        assert!((9.0..14.0).contains(&one.bore_m), "{}", one.bore_m);
    }

    /// Its hot tank lost 102 kW and its cold one 44 kW (Pacheco 2002, SAND2002-0120, from memory): the walls
    /// of the starting point lose that within a third, and keep 97 % of a day's heat and more.
    #[test]
    fn walls_lose_what_the_test_plant_measured() {
        let tanks = Vessels::holding(&salt(), 105.0 * MWH_J);
        let lost_w = tanks.wall_loss(&salt(), 0.35, 293.15).full_w;
        Check {
            id: "plant.salt_tank_loss",
            model: "Heat lost by the walls of a store",
            equation: "q = U A (T − T_air), hot and cold tank, U 0.35 W/(m² K)",
            source: "conduction through insulation, common practice",
            validity: "tanks and vessels above ground",
            against: "102 and 44 kW measured on two tanks of 105 MWh (Pacheco 2002, SAND2002-0120, from memory)",
            unit: "W",
        }
        .within_share(0.33, [(146e3, lost_w)]);
        assert!(lost_w * 24.0 * 3600.0 < 0.04 * 105.0 * MWH_J);
    }

    /// Surface grows with the ⅔ power of volume: a thousandth of the store loses ten times its share, up
    /// to where tanks can grow no higher and vessels come in numbers.
    #[test]
    fn small_stores_lose_relatively_more() {
        let bed = Carrier::air(423.15, 1023.15, 101_325.0).unwrap();
        let share = |carrier: &Carrier, capacity_j: f64| {
            let vessels = Vessels::holding(carrier, capacity_j);
            vessels.wall_loss(carrier, 0.35, 293.15).full_w / capacity_j
        };
        let ten = share(&bed, 1e9) / share(&bed, 1e12);
        assert!((ten - 10.0).abs() < 1e-9, "{ten}");
        for carrier in [bed, salt(), steam_process().carrier] {
            assert!(
                share(&carrier, 1e9) > 1.5 * share(&carrier, 1e11),
                "{carrier:?}"
            );
        }
        assert_eq!(Vessels::holding(&salt(), 0.0), Vessels::default());
    }
}
