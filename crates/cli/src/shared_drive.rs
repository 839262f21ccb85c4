//! Charts of what sharing a drive costs: misses under every sun, misses at every length, and cost.

use geometry::{Vec3, direction};
use ledger::{Group, Item, J_PER_KWH};
use model::shared_drive::{LightLost, Mounting, SharedDrive, light_lost};
use model::{Detail, Fidelity, Scratch, Summary};
use report::chart::{LengthChart, LengthGroup, LengthLine, SunMiss, SunMisses, Sweep, SweepPoint};
use scenario::{Design, Scenario};

use crate::evaluated::Evaluated;
use crate::inputs::Inputs;
use crate::plan_file::first_axis_text;
use crate::problem::Prices;
use crate::product::Product;
use crate::sweep;

const MRAD_PER_RAD: f64 = 1e3;
/// Steps of declination from one solstice to the other, and of solar time.
const DAYS: usize = 24;
const QUARTERS: std::ops::RangeInclusive<u32> = 16..=80;
const HOURS_PER_QUARTER: f64 = 0.25;
/// Obliquity of the ecliptic.
const SOLSTICE_DEG: f64 = 23.44;
const DEG_PER_H: f64 = 15.0;

/// Lengths of string that are looked at.
const LENGTHS: [u32; 6] = [3, 5, 9, 15, 21, 31];

/// Points of the cost chart, at most about.
const POINTS: usize = 8;

type Best<'a> = Option<(&'a Evaluated, &'a Detail)>;

fn shared<'a>(inputs: &'a Inputs, best: Best) -> Option<SharedDrive<'a>> {
    let (best, detail) = best?;
    best.design.field.strings()?;
    Some(SharedDrive::of(&inputs.case, detail))
}

/// Beam errors of the best design over the sun's paths.
pub fn sun_misses(inputs: &Inputs, best: Best) -> SunMisses {
    let hours: Vec<f64> = QUARTERS
        .map(|step| HOURS_PER_QUARTER * f64::from(step))
        .collect();
    let declination_deg = |day: usize| SOLSTICE_DEG * (2.0 * day as f64 / DAYS as f64 - 1.0);
    let latitude_rad = inputs.scenario.site.latitude_rad;
    let drive = shared(inputs, best);
    let days: Vec<Vec<SunMiss>> = drive.as_ref().map_or_else(Vec::new, |drive| {
        let day = |day: usize| {
            let declination_rad = declination_deg(day).to_radians();
            let suns = hours
                .iter()
                .map(|hour| sun(latitude_rad, declination_rad, *hour));
            points(drive, &suns.collect::<Vec<_>>(), latitude_rad)
        };
        (0..=DAYS).map(day).collect()
    });
    let suns = drive.as_ref().map(SharedDrive::alignment_suns);
    let alignments = suns.unwrap_or_default().into_iter();
    let travel = drive.map(|drive| drive.travel()).unwrap_or_default();
    let mirrors = best.map_or(0, |(_, detail)| detail.plan.mirror_count());
    SunMisses {
        days,
        hours,
        named_days: vec![
            (0, "December".to_owned()),
            (DAYS / 2, "equinox".to_owned()),
            (DAYS, "June".to_owned()),
        ],
        alignments_deg: alignments
            .map(|sun| angles_deg(sun, latitude_rad))
            .collect(),
        lowest_deg: inputs.scenario.weather.min_sun_elevation_rad.to_degrees(),
        bound_mrad: best.map_or(0.0, |(best, _)| best.summary.bound_rad * MRAD_PER_RAD),
        yearly_mrad: best.map_or(0.0, |(best, _)| best.summary.residual_rad * MRAD_PER_RAD),
        stopped_mirror_h: travel.lost_h * mirrors as f64,
        stopped_share: travel.lost_share,
    }
}

/// The sun at a declination and an hour of solar time.
fn sun(latitude_rad: f64, declination_rad: f64, hour: f64) -> Vec3 {
    let angle_rad = (DEG_PER_H * (hour - 12.0)).to_radians();
    let (sin_declination, cos_declination) = libm::sincos(declination_rad);
    let (sin_latitude, cos_latitude) = libm::sincos(latitude_rad);
    let (sin_hour, cos_hour) = libm::sincos(angle_rad);
    Vec3::new(
        -cos_declination * sin_hour,
        sin_declination * cos_latitude - cos_declination * cos_hour * sin_latitude,
        sin_declination * sin_latitude + cos_declination * cos_hour * cos_latitude,
    )
}

fn points(drive: &SharedDrive, suns: &[Vec3], latitude_rad: f64) -> Vec<SunMiss> {
    let up: Vec<Vec3> = suns.iter().copied().filter(|sun| sun.z > 0.0).collect();
    let mut misses_rad = drive.miss_rad(&up).into_iter();
    let point = |sun: &Vec3| {
        let miss_rad = if sun.z > 0.0 { misses_rad.next() } else { None };
        let [azimuth_deg, elevation_deg] = angles_deg(*sun, latitude_rad);
        SunMiss {
            azimuth_deg,
            elevation_deg,
            miss_mrad: miss_rad.map_or(f64::NAN, |miss_rad| miss_rad * MRAD_PER_RAD),
        }
    };
    suns.iter().map(point).collect()
}

/// Azimuth and elevation; south of the equator, where days run through the north, azimuths west of it
/// are told below zero.
fn angles_deg(sun: Vec3, latitude_rad: f64) -> [f64; 2] {
    let (azimuth_rad, elevation_rad) = direction::azimuth_elevation(sun);
    let azimuth_deg = azimuth_rad.to_degrees();
    let is_west_of_north = latitude_rad < 0.0 && azimuth_deg > 180.0;
    let azimuth_deg = if is_west_of_north {
        azimuth_deg - 360.0
    } else {
        azimuth_deg
    };
    [azimuth_deg, elevation_rad.to_degrees()]
}

/// Beam errors against the length of a string, for every first axis and every linkage.
pub fn lengths(inputs: &Inputs, best: Best) -> LengthChart {
    let strings = best.and_then(|(best, _)| best.design.field.strings());
    let chosen = strings.map_or(0, |strings| strings.mirrors);
    let drive = shared(inputs, best);
    let Some((drive, own)) = drive
        .as_ref()
        .and_then(|drive| Some((drive, drive.mounting()?)))
    else {
        return LengthChart {
            mirrors: Vec::new(),
            groups: Vec::new(),
            bound_mrad: Vec::new(),
            chosen,
        };
    };
    let groups = vec![
        LengthGroup {
            title: "First axis; equal angles, shims".to_owned(),
            lines: lines(drive, &first_axes()),
        },
        LengthGroup {
            title: format!("Linkage; first axis {}", first_axis_text(own.first_axis)),
            lines: lines(drive, &linkages(own.first_axis)),
        },
    ];
    let bound = |mirrors: u32| drive.bound_at_length_rad(mirrors as usize) * MRAD_PER_RAD;
    LengthChart {
        mirrors: LENGTHS.to_vec(),
        groups,
        bound_mrad: LENGTHS.map(bound).to_vec(),
        chosen,
    }
}

fn lines(drive: &SharedDrive, mountings: &[(&str, Mounting)]) -> Vec<LengthLine> {
    let line = |(name, mounting): &(&str, Mounting)| {
        let miss = |mirrors: u32| drive.miss_at_length_rad(mirrors as usize, *mounting);
        let misses_rad: Option<Vec<f64>> = LENGTHS.into_iter().map(miss).collect();
        let misses_rad = misses_rad?.into_iter();
        Some(LengthLine {
            name: (*name).to_owned(),
            miss_mrad: misses_rad.map(|miss_rad| miss_rad * MRAD_PER_RAD).collect(),
        })
    };
    mountings.iter().filter_map(line).collect()
}

fn first_axes() -> Vec<(&'static str, Mounting)> {
    use field::FirstAxis::{Across, Along, Polar, RollFree, Vertical};
    let shimmed = |first_axis| Mounting {
        first_axis,
        linkage: field::Linkage::EqualAngle,
        offset: model::shared_drive::OffsetPlace::Shim,
    };
    [
        ("along", Along),
        ("across", Across),
        ("vertical", Vertical),
        ("polar", Polar),
        ("roll-free", RollFree),
    ]
    .map(|(name, axis)| (name, shimmed(axis)))
    .to_vec()
}

fn linkages(first_axis: field::FirstAxis) -> Vec<(&'static str, Mounting)> {
    use field::Linkage::{EqualAngle, EqualTravel, Graded, SlidingLever};
    use model::shared_drive::OffsetPlace::{Lever, Post, Shim};
    [
        ("equal, shims", EqualAngle, Shim),
        ("equal, post heads", EqualAngle, Post),
        ("equal, clamps", EqualAngle, Lever),
        ("equal travel", EqualTravel, Lever),
        ("graded levers", Graded, Lever),
        ("sliding levers", SlidingLever, Lever),
    ]
    .map(|(name, linkage, offset)| {
        let mounting = Mounting {
            first_axis,
            linkage,
            offset,
        };
        (name, mounting)
    })
    .to_vec()
}

/// What one number of mirrors on each string costs.
struct Shared {
    mirrors: u32,
    summary: Summary,
    lost: LightLost,
}

/// Cost of heat against mirrors per string, split into the drive, the light that sharing it spills,
/// tolerances, lines, and all else.
pub fn cost(inputs: &Inputs, best: Best) -> Sweep {
    let designs = best.map_or_else(Vec::new, |(best, _)| {
        sweep::with_other_lengths(inputs, &best.design, POINTS)
    });
    let found = evaluated(inputs, &designs);
    Sweep {
        product: Product::of(&inputs.scenario).name.to_owned(),
        currency: inputs.scenario.currency.clone(),
        variable: "mirrors per string".to_owned(),
        unit: String::new(),
        held:
            "the number of mirrors and all else held; what light lost costs stands with its cause"
                .to_owned(),
        parts: [
            "all else",
            "drives",
            "lines",
            "spilt by sharing",
            "tolerances",
        ]
        .map(str::to_owned)
        .to_vec(),
        left_out: 1,
        others: Vec::new(),
        points: found
            .iter()
            .map(|one| point(&inputs.scenario, one))
            .collect(),
    }
}

fn evaluated(inputs: &Inputs, designs: &[(u32, Design)]) -> Vec<Shared> {
    let plain: Vec<Design> = designs.iter().map(|(_, design)| design.clone()).collect();
    let lost = light_lost(&inputs.case, &plain);
    let scratch = &mut Scratch::default();
    let each = designs.iter().zip(lost);
    each.filter_map(|((mirrors, design), lost)| {
        let lost = lost.ok()?;
        let summary = model::evaluate(&inputs.case, design, Fidelity::Search, scratch).ok()?;
        Some(Shared {
            mirrors: *mirrors,
            summary,
            lost,
        })
    })
    .collect()
}

/// Money spent each kWh, were no light lost, and what each loss then adds: the same money over less
/// light.
fn point(scenario: &Scenario, of: &Shared) -> SweepPoint {
    let money = Prices::of(scenario).money(&of.summary);
    let whole = money.levelised_per_kwh();
    let LightLost {
        exact_j,
        shared_j,
        stretched_j,
        built_j,
    } = of.lost;
    let per_exact = whole * built_j / exact_j;
    let lost = |before_j: f64, after_j: f64| whole * built_j * (1.0 / after_j - 1.0 / before_j);
    let share = |is_part: fn(Item) -> bool| {
        items_per_kwh(scenario, &of.summary, is_part) / whole * per_exact
    };
    let drives = share(|item| item.group() == Group::Drives || item == Item::DriveReplacement);
    let lines = share(|item| matches!(item, Item::Line | Item::LineReplacement));
    SweepPoint {
        value: f64::from(of.mirrors),
        parts_per_kwh: vec![
            per_exact - drives - lines,
            drives,
            lines + lost(shared_j, stretched_j),
            lost(exact_j, shared_j),
            lost(stretched_j, built_j),
        ],
    }
}

/// What some items add to the levelised cost.
fn items_per_kwh(scenario: &Scenario, summary: &Summary, is_part: fn(Item) -> bool) -> f64 {
    let finance = &scenario.finance;
    let levelled_kwh = summary.delivered_j * finance.levelised_yield() / J_PER_KWH;
    let charge = (1.0 - finance.grant) * finance.fixed_charge_rate();
    let lines = ledger::bill(&summary.quantities, &scenario.rates);
    let of_items = lines.filter(|line| is_part(line.item));
    let yearly: f64 = of_items
        .map(|line| {
            let group = line.item.group();
            if group.is_yearly() {
                line.cost * finance.running_charge()
            } else {
                line.cost * finance.multiplier(group).capital * charge
            }
        })
        .sum();
    yearly / levelled_kwh
}
