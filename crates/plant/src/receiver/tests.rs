//! The receiver against tables and independent orientation.

use book::Check;

use super::*;
use crate::samples::{at_temperature, billboard, cavity, steam_process};

const SEA_LEVEL_PA: f64 = 101_325.0;

fn near(value: f64, wanted: f64, relative: f64) {
    assert!(
        (value / wanted - 1.0).abs() < relative,
        "{value} instead of {wanted}"
    );
}

fn calm(air_temperature_k: f64) -> Surroundings {
    Surroundings {
        air_temperature_k,
        wind_speed_m_s: 0.0,
    }
}

#[test]
fn radiation_at_five_wall_temperatures() {
    let facing_k4 = fourth_power(293.15);
    let table = [
        (600.0, 6_029.134),
        (800.0, 19_842.17),
        (900.0, 32_002.57),
        (1000.0, 48_967.93),
        (1200.0, 101_931.04),
    ];
    Check {
        id: "plant.radiation",
        model: "Heat radiated by a wall",
        equation: "q = ε σ (T_w⁴ − T₀⁴)",
        source: "Stefan and Boltzmann's law",
        validity: "grey walls",
        against: "the same law evaluated independently, ε 0.87, at five wall temperatures",
        unit: "W/m²",
    }
    .within_share(
        1e-6,
        table.map(|(wall_k, wanted_w_m2)| (wanted_w_m2, radiated_w_m2(0.87, wall_k, facing_k4))),
    );
}

#[test]
fn cavity_looks_blacker_than_its_wall() {
    Check {
        id: "plant.cavity_absorptance",
        model: "Absorptance of a cavity's opening",
        equation: "α_c = α ÷ (α + (1 − α) A_opening ÷ A_wall)",
        source: "radiosity of a closed grey diffuse box",
        validity: "light spread evenly over grey diffuse walls",
        against: "the same law evaluated independently, at four pairs of wall and opening",
        unit: "",
    }
    .within_share(
        1e-6,
        [
            (0.989_691, apparent(0.96, 0.25)),
            (0.979_592, apparent(0.96, 0.5)),
            (0.963_989, apparent(0.87, 0.25)),
            (0.930_481, apparent(0.87, 0.5)),
        ],
    );
    near(apparent(0.87, 1.0), 0.87, 1e-15);
}

#[test]
fn efficiency_of_a_flat_external_panel() {
    // Wall 873.15 K, h 15 W/(m² K), α 0.96, ε 0.87, air and surroundings 293.15 K, evaluated
    // independently: the net share of the incident flux.
    let radiated = radiated_w_m2(0.87, 873.15, fourth_power(293.15));
    let lost_w_m2 = radiated + 15.0 * (873.15 - 293.15);
    for (flux_w_m2, wanted) in [
        (250e3, 0.811_962),
        (500e3, 0.885_981),
        (800e3, 0.913_738),
        (1000e3, 0.922_990),
    ] {
        near(0.96 - lost_w_m2 / flux_w_m2, wanted, 2e-6);
    }
}

#[test]
fn wall_temperature_balances() {
    for kind in [ReceiverKind::Billboard, ReceiverKind::Cylinder, cavity()] {
        for (fluid_k, absorbed_w_m2, film) in [
            (480.0, 300e3, 2e-4),
            (1150.0, 700e3, 1e-3),
            (480.0, 0.0, 1e-3),
            (1150.0, 50e3, 3e-3),
        ] {
            let receiver = Receiver {
                kind,
                film_resistance_m2_k_w: film,
                ..billboard()
            };
            let hot = HotReceiver::new(&receiver, &at_temperature(fluid_k), SEA_LEVEL_PA);
            let around = Surroundings {
                air_temperature_k: 300.0,
                wind_speed_m_s: 6.0,
            };
            let outside = hot.outside(&around);
            let wall_losing_k =
                |losses: Losses| hot.hottest_wall_k(absorbed_w_m2 - losses.sum_w_m2());
            let found = hot.losses_before(fluid_k, absorbed_w_m2, &outside, Losses::default());
            let wall_k = wall_losing_k(found);
            assert!((wall_losing_k(hot.losses(wall_k, &outside)) - wall_k).abs() < 1e-6);
        }
    }
}

#[test]
fn process_steam_panel_loses_five_to_six_kilowatts_a_square_metre() {
    // Independent orientation: a loop for process steam, 230 °C at its hot end, loses 5 … 6 kW/m²
    // of aperture.
    let hot = HotReceiver::new(&billboard(), &steam_process().carrier, SEA_LEVEL_PA);
    let around = Surroundings {
        air_temperature_k: 293.15,
        wind_speed_m_s: 3.0,
    };
    let lost_w_m2 = hot.losses_at(285e3, &around).sum_w_m2();
    assert!((5e3..6e3).contains(&lost_w_m2), "{lost_w_m2} W/m²");
}

#[test]
fn hot_air_receiver_loses_about_130_kilowatts_a_square_metre() {
    // Independent orientation: 600 … 900 °C fluid loses about 130 kW/m² of aperture.
    let receiver = Receiver {
        kind: cavity(),
        aperture_area_m2: 4.0,
        aperture_width_m: 2.0,
        aperture_height_m: 2.0,
        centre_height_m: 32.0,
        film_resistance_m2_k_w: 1.5e-3,
        ..billboard()
    };
    let air = Carrier::air(873.15, 1173.15, SEA_LEVEL_PA).unwrap();
    let hot = HotReceiver::new(&receiver, &air, SEA_LEVEL_PA);
    let around = Surroundings {
        air_temperature_k: 293.15,
        wind_speed_m_s: 3.0,
    };
    let lost_w_m2 = hot.losses_at(600e3, &around).sum_w_m2();
    assert!((100e3..170e3).contains(&lost_w_m2), "{lost_w_m2} W/m²");
}

#[test]
fn losses_grow_with_wall_wind_and_cold() {
    let hot = HotReceiver::new(&billboard(), &at_temperature(500.0), SEA_LEVEL_PA);
    let base = hot.losses(520.0, &hot.outside(&calm(293.15))).sum_w_m2();
    assert!(hot.losses(560.0, &hot.outside(&calm(293.15))).sum_w_m2() > base);
    assert!(hot.losses(520.0, &hot.outside(&calm(263.15))).sum_w_m2() > base);
    let windy = Surroundings {
        air_temperature_k: 293.15,
        wind_speed_m_s: 10.0,
    };
    assert!(hot.losses(520.0, &hot.outside(&windy)).sum_w_m2() > base);
}

#[test]
fn a_receiver_at_air_temperature_loses_only_to_the_sky() {
    let level = Receiver {
        tilt_rad: FRAC_PI_2,
        ..billboard()
    };
    let hot = HotReceiver::new(&level, &at_temperature(293.15), SEA_LEVEL_PA);
    let losses = hot.losses(293.15, &hot.outside(&calm(293.15)));
    assert!(
        losses.sum_w_m2().abs() < 1e-6,
        "looking straight down it sees no sky"
    );
    let upright = Receiver {
        tilt_rad: 0.0,
        ..billboard()
    };
    let hot = HotReceiver::new(&upright, &at_temperature(293.15), SEA_LEVEL_PA);
    let losses = hot.losses(293.15, &hot.outside(&calm(293.15)));
    assert!((10.0..80.0).contains(&losses.radiated_w_m2));
    assert!(losses.convected_w_m2.abs() < 1e-9 && losses.conducted_w_m2.abs() < 1e-9);
}

/// The receiver of the 10 MW test plant of 1996–99: a cylinder of 5.1 × 6.2 m at some 76 m, salt from 290 to
/// 565 °C, rated 42.2 MW. Its paint was black to 0.95 and emitted 0.83 to 0.88 (from memory).
///
/// Film, by hand: salt at 3.2 m/s in tubes of 21 by 1.2 mm has Re 72,000 and Pr 5.6, so Nu 352 after Dittus and
/// Boelter and 0.114 m² K/kW of outside; the wall adds 0.059; a half-round tube lit from one side is, weighed by
/// what it shows, π/4 as much warmer than the salt as at its crest: 0.13 to 0.14 m² K/kW.
fn test_plant() -> HotReceiver {
    let cylinder = Receiver {
        kind: ReceiverKind::Cylinder,
        aperture_area_m2: 99.34,
        aperture_width_m: 5.1,
        aperture_height_m: 6.2,
        centre_height_m: 76.0,
        absorptance: 0.95,
        emittance: 0.87,
        film_resistance_m2_k_w: 1.3e-4,
        ..billboard()
    };
    HotReceiver::new(
        &cylinder,
        &Carrier::salt(563.15, 838.15, 92e3).unwrap(),
        92e3,
    )
}

/// Light on it when it gives 42.2 MW at 88 %, W/m².
const TEST_PLANT_LIGHT_W_M2: f64 = 42.2e6 / 0.88 / 99.34;

fn test_plant_losses(wind_speed_m_s: f64) -> Losses {
    let hot = test_plant();
    let around = Surroundings {
        air_temperature_k: 293.15,
        wind_speed_m_s,
    };
    hot.losses_at(hot.absorptance * TEST_PLANT_LIGHT_W_M2, &around)
}

/// Measured: 88 % of the light in low wind and 86 % in the winds it was allowed (Ortega et al. 2008, J. Sol.
/// Energy Eng.). The two points between the winds are convection alone and come out as 1.6. The rest stands two
/// points above the measured in either wind: as much as paint of 0.93 instead of 0.95 would take. Light through
/// the panels' gaps, soiled paint and the error of a field's power are not in the model.
#[test]
fn a_salt_cylinder_is_as_efficient_as_the_test_plant_measured() {
    let efficiency = |wind_speed_m_s: f64| {
        let lost_w_m2 = test_plant_losses(wind_speed_m_s).sum_w_m2();
        test_plant().absorptance - lost_w_m2 / TEST_PLANT_LIGHT_W_M2
    };
    let (calm, windy) = (efficiency(1.5), efficiency(9.0));
    Check {
        id: "plant.salt_receiver_efficiency",
        model: "Efficiency of a salt receiver",
        equation: "η = α − (radiated + convected + conducted) ÷ light, at the wall that balances them",
        source: "wall balance with the laws of radiation and convection above",
        validity: "external cylinders; no gaps between panels, no soiled paint",
        against: "measured on a 10 MW test plant of 1996–99 in low wind and in the winds it was allowed (Ortega \
                  et al. 2008, J. Sol. Energy Eng.)",
        unit: "",
    }
    .within(0.026, [(0.88, calm), (0.86, windy)]);
    assert!((0.01..0.03).contains(&(calm - windy)), "{}", calm - windy);
}

/// Each loss of that receiver by the same published formulas, written down and evaluated apart in another
/// language: 16.85 kW/m² radiated; 6.30, 14.04 and 17.99 kW/m² convected at 1.5, 9 and 12 m/s.
#[test]
fn each_loss_of_the_test_plant_as_evaluated_apart() {
    for (wind_speed_m_s, convected_w_m2) in [(1.5, 6301.3), (9.0, 14_044.5), (12.0, 17_986.0)] {
        let losses = test_plant_losses(wind_speed_m_s);
        // There the net flow was taken as 88 % of the light.
        near(losses.radiated_w_m2, 16_845.7, 0.01);
        near(losses.convected_w_m2, convected_w_m2, 0.01);
    }
}

/// Mean over the wall of the fourth power of temperature: exact for a temperature that rises evenly, (T₂⁵
/// − T₁⁵)/(5 (T₂ − T₁)) (by hand).
#[test]
fn three_places_along_the_fluid_give_the_mean_radiation() {
    let salt = Carrier::salt(563.15, 838.15, SEA_LEVEL_PA).unwrap();
    let still = Receiver {
        film_resistance_m2_k_w: 0.0,
        tilt_rad: FRAC_PI_2,
        ..billboard()
    };
    let hot = HotReceiver::new(&still, &salt, SEA_LEVEL_PA);
    let radiated = hot.losses_at(400e3, &calm(293.15)).radiated_w_m2;
    let fifth = |t: f64| fourth_power(t) * t;
    let mean_k4 = (fifth(838.15) - fifth(563.15)) / (5.0 * 275.0);
    let wanted = hot.emittance * STEFAN_BOLTZMANN_W_M2_K4 * (mean_k4 - fourth_power(293.15));
    near(radiated, wanted, 1e-12);
}

/// By hand: a door as well insulated as the rest passes, with 100 mm of 0.06 W/(m K) and the casing's film,
/// about 0.5 W/(m² K); a cavity of 11.56 m² with four times as much inside holds 2.8 GJ and loses some 6 kW at
/// 210 °C: cold after five days instead of ten hours.
#[test]
fn a_door_keeps_a_cavity_warm_through_the_night() {
    let deep = Receiver {
        kind: cavity(),
        has_door: true,
        ..billboard()
    };
    let hot = HotReceiver::new(&deep, &steam_process().carrier, SEA_LEVEL_PA);
    let days = hot.closed_cooling_time_s(&deep) / 86_400.0;
    assert!((4.0..7.0).contains(&days), "{days}");
}
