//! Scratch.
use std::time::Instant;
fn main() {
    let text = std::fs::read_to_string("scenarios/process-steam.toml").unwrap();
    let sets: Vec<(String, String)> = std::env::args()
        .skip(1)
        .map(|a| {
            let (k, v) = a.split_once('=').unwrap();
            (k.into(), v.into())
        })
        .collect();
    let sc = scenario::load(
        "scenarios/process-steam.toml",
        &text,
        &|_| Err("no".into()),
        &sets,
    )
    .map_err(|e| eprintln!("{e}"))
    .unwrap();
    let scenario::WeatherSource::Monthly(m) = &sc.weather.source else {
        panic!()
    };
    let site = sky::Site {
        latitude_rad: sc.site.latitude_rad,
        longitude_rad: sc.site.longitude_rad,
        altitude_m: sc.site.altitude_m,
    };
    let w = sky::synthetic_year(
        &site,
        sc.site.utc_offset_h,
        &sky::MonthlyClimate {
            dni_j_m2: m.dni_j_m2,
            air_temperature_k: m.air_temperature_k,
            daily_temperature_swing_k: m.daily_swing_k,
            wind_speed_m_s: m.wind_speed_m_s,
        },
        sc.weather.linke_turbidity,
        m.seed as u64,
    )
    .unwrap();
    let case = model::Case::prepare(&sc, w).unwrap();
    println!(
        "dni {:.0} in operation {:.0} wind {:.2}",
        case.whole_dni_j_m2 / 3.6e6,
        case.sun.year_j_m2() / 3.6e6,
        case.collecting_wind_m_s
    );
    let d = sc.space.design(&sc.space.start());
    let mut s = model::Scratch::default();
    for f in if std::env::var("QUICK").is_ok() {
        vec![model::Fidelity::Search; 60]
    } else {
        vec![
            model::Fidelity::Search,
            model::Fidelity::Every,
            model::Fidelity::Hours,
        ]
    } {
        let t = Instant::now();
        match model::evaluate(&case, &d, f, &mut s) {
            Ok(x) => {
                let m = ledger::price(&x.quantities, x.delivered_j, &sc.rates, &sc.finance);
                println!(
                    "{f:?} {:.1} ms optical {:.4} factors {:.4?} recv {:.3} deliv {:.0} MWh served {:.3} defoc {:.3} dumped {:.3} peak {:.0} kW/m2 resid {:.2} mrad cost {:.4} cap {:.0} yearly {:.0} carbon {:.1} g/kWh steel {:.1} t glass {:.1} t area {:.0} land {:.0} steam {:.0} t",
                    t.elapsed().as_secs_f64() * 1e3,
                    x.optical_efficiency(),
                    x.factors(),
                    x.receiver_out_j / x.chain_j[6],
                    x.delivered_j / 3.6e9,
                    x.served_share(),
                    x.defocused_j / x.chain_j[6],
                    x.dumped_j / x.chain_j[6],
                    x.peak_flux_w_m2 / 1e3,
                    x.residual_rad * 1e3,
                    m.levelised_per_kwh(),
                    m.capital.total,
                    m.yearly_cost,
                    m.carbon_kg_per_j * 3.6e9,
                    x.steel_kg / 1e3,
                    x.glass_kg / 1e3,
                    x.mirror_area_m2,
                    x.land_m2,
                    x.steam_kg / 1e3
                );
                if f == model::Fidelity::Every {
                    for g in ledger::Group::ALL {
                        println!("  {:20} {:>10.0}", g.title(), m.group(g));
                    }
                    for &i in ledger::Item::ALL {
                        println!(
                            "     {:20} {:>12.1} {:6} {:>12.0}",
                            i.key(),
                            x.quantities.get(i),
                            i.unit(),
                            m.item_cost[i as usize]
                        );
                    }
                    println!(
                        "{:?}",
                        model::Margins::keys()
                            .iter()
                            .zip(x.margins.values())
                            .map(|(a, b)| format!("{a}:{b:.2}"))
                            .collect::<Vec<_>>()
                    );
                }
            }
            Err(e) => println!("{f:?} infeasible {e} {:?}", e.margins),
        }
    }
}
