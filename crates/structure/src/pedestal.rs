//! A heliostat on its own pedestal: many facets or one mirror, its frame, drives and foundation.

mod cut_list;
mod frame;
mod pier;

use crate::demand::Demand;
use crate::error::require_positive;
use crate::glass::GRAVITY_M_S2;
use crate::loads::greatest_case;
use crate::members::{MOUNT_REACH_M, Star, StringLoads, mount_kg};
use crate::posts::bend_rad;
use crate::section::Series;
use crate::transmission::GEAR_EFFICIENCY;
use crate::{
    Check, Face, LoadCase, Margins, Panel, Rules, SlopeErrors, Stock, StructureError, Wind,
};
use frame::{CONNECTIONS, Frame};
use pier::Pier;

pub use cut_list::heliostat_cut_list;
pub use frame::Truss;

/// Square facets in columns and rows; one of each is a single mirror.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Facets {
    /// Beside one another.
    pub columns: usize,
    /// Above one another.
    pub rows: usize,
    /// Side of each.
    pub side_m: f64,
    /// Gap between neighbours.
    pub gap_m: f64,
}

impl Facets {
    /// The fewest square facets no larger than a side that fill an area about as many times wider
    /// than high as asked.
    #[must_use]
    pub fn filling(area_m2: f64, width_over_height: f64, largest_m: f64, gap_m: f64) -> Self {
        let rows = ((area_m2 / width_over_height).sqrt() / largest_m)
            .ceil()
            .max(1.0);
        let widest = area_m2 / (rows * largest_m * largest_m);
        let alike = rows * width_over_height;
        let columns = alike.round().max(widest.ceil()).max(1.0);
        Self {
            columns: columns as usize,
            rows: rows as usize,
            side_m: (area_m2 / (rows * columns)).sqrt(),
            gap_m,
        }
    }

    /// How many.
    #[must_use]
    pub const fn count(&self) -> usize {
        self.columns * self.rows
    }

    /// Glass.
    #[must_use]
    pub const fn area_m2(&self) -> f64 {
        self.count() as f64 * self.side_m * self.side_m
    }

    /// From the outer edge of the first column to that of the last.
    #[must_use]
    pub const fn width_m(&self) -> f64 {
        self.columns as f64 * (self.side_m + self.gap_m) - self.gap_m
    }

    /// From the lower edge of the first row to the upper edge of the last.
    #[must_use]
    pub const fn height_m(&self) -> f64 {
        self.rows as f64 * (self.side_m + self.gap_m) - self.gap_m
    }
}

/// A heliostat to be sized.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PedestalInputs {
    /// Its facets; their side is that of the panel.
    pub facets: Facets,
    /// One facet, with the shortest focal length that any is bent to.
    pub panel: Panel,
    /// Lowest edge of the upright mirror above the ground.
    pub clearance_m: f64,
    /// The wind.
    pub wind: Wind,
    /// What holds for all: `twist_limit_rad` bounds the turn of facets by weight and wind in trusses
    /// and torque tube, each; `sway_limit_rad` that of the pedestal's head; a hole of
    /// [`crate::Footing::Augered`] is the narrowest of those drilled.
    pub rules: Rules,
}

/// Masses of a heliostat by part.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PedestalMasses {
    /// Glass.
    pub glass_kg: f64,
    /// Stars behind the facets.
    pub stars_kg: f64,
    /// Trusses with bracing.
    pub trusses_kg: f64,
    /// Torque tube.
    pub tube_kg: f64,
    /// Mount of a single mirror.
    pub mount_kg: f64,
    /// Both drives.
    pub drives_kg: f64,
    /// Pedestal, above and below ground.
    pub pedestal_kg: f64,
    /// Reinforcement of the pier.
    pub bars_kg: f64,
}

impl PedestalMasses {
    /// Fabricated steel sections.
    #[must_use]
    pub const fn sections_kg(&self) -> f64 {
        self.stars_kg + self.trusses_kg + self.tube_kg + self.pedestal_kg
    }

    /// Of trusses and torque tube, what is no tube: bracing between trusses, brackets and bolts.
    #[must_use]
    pub const fn brackets_kg(&self) -> f64 {
        (self.trusses_kg + self.tube_kg) * (1.0 - 1.0 / CONNECTIONS)
    }

    /// Everything above the foundation's concrete, its bars left out.
    #[must_use]
    pub const fn total_kg(&self) -> f64 {
        self.glass_kg + self.mount_kg + self.drives_kg + self.sections_kg()
    }
}

/// Sections of a heliostat by part.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PedestalSizes {
    /// Arms of the stars.
    pub star: Stock,
    /// What lies behind each column of facets; not of a single mirror.
    pub truss: Option<Truss>,
    /// Torque tube; not of a single mirror.
    pub tube: Option<Stock>,
    /// Pedestal.
    pub pedestal: Stock,
}

/// Root mean square slope errors that the structure leaves, both axes together for glass and stars,
/// one axis for frame and pedestal.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PedestalErrors {
    /// Sag of the glass between its supports, lying level.
    pub gravity_rad: f64,
    /// Droop of the stars' arms between upright and level.
    pub star_droop_rad: f64,
    /// Turn of facets by the weight that trusses and tube carry, between upright and level.
    pub frame_droop_rad: f64,
    /// Glass, stars and frame under root mean square wind.
    pub wind_rad: f64,
    /// Turn of the pedestal's head under root mean square wind: it moves the image as a whole.
    pub sway_rad: f64,
}

impl PedestalErrors {
    /// The same as those of a string: what one part of the frame turns, and the pedestal, is all there
    /// is in both axes together.
    #[must_use]
    pub fn slope(&self) -> SlopeErrors {
        SlopeErrors {
            gravity_rad: self.gravity_rad,
            star_droop_rad: libm::hypot(self.star_droop_rad, self.frame_droop_rad),
            wind_rad: self.wind_rad,
            sway_rad: self.sway_rad,
        }
    }
}

/// A check that a heliostat must pass.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum PedestalCheck {
    /// Lasting glass stress of focusing and gravity.
    GlassFocusing,
    /// Glass in the wind, with its lasting stress.
    GlassWind,
    /// Star behind a facet.
    Star,
    /// Trusses; not of a single mirror.
    Truss,
    /// Torque tube; not of a single mirror.
    Tube,
    /// Pedestal.
    Pedestal,
    /// Foundation.
    Footing,
}

impl PedestalCheck {
    /// Every check.
    pub const ALL: [Self; 7] = [
        Self::GlassFocusing,
        Self::GlassWind,
        Self::Star,
        Self::Truss,
        Self::Tube,
        Self::Pedestal,
        Self::Footing,
    ];
}

/// A heliostat that has been sized.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PedestalParts {
    /// Masses by part.
    pub masses: PedestalMasses,
    /// Sections by part.
    pub sizes: PedestalSizes,
    /// Mirror area.
    pub glass_area_m2: f64,
    /// Length of facet edges.
    pub glass_edge_m: f64,
    /// Height of the elevation axis.
    pub axis_height_m: f64,
    /// Torque that the azimuth drive must hold.
    pub azimuth_torque_n_m: f64,
    /// Torque that the elevation drive must hold.
    pub elevation_torque_n_m: f64,
    /// Power of both motors together on the way to stow.
    pub motor_power_w: f64,
    /// Length of the foundation in the ground.
    pub embedded_m: f64,
    /// Concrete of the foundation.
    pub concrete_m3: f64,
    /// Diameter of the pier; none for a driven pedestal.
    pub pier_m: Option<f64>,
    /// Errors the structure leaves.
    pub errors: PedestalErrors,
    /// How far every check is from its limit.
    pub margins: Margins,
    demands: [Demand; PedestalCheck::ALL.len()],
}

impl PedestalParts {
    /// How hard a part is used and what sets it.
    #[must_use]
    pub const fn demand(&self, check: PedestalCheck) -> &Demand {
        &self.demands[check as usize]
    }

    /// The check with the least margin, 1 − utilisation; below zero where a limit is passed.
    #[must_use]
    pub fn worst(&self) -> (PedestalCheck, f64) {
        PedestalCheck::ALL
            .into_iter()
            .map(|check| (check, 1.0 - self.demand(check).utilisation))
            .fold(
                (PedestalCheck::GlassFocusing, f64::INFINITY),
                |least, next| {
                    if next.1 < least.1 { next } else { least }
                },
            )
    }

    /// Whether everything holds.
    #[must_use]
    pub fn holds(&self) -> bool {
        self.worst().1 >= 0.0
    }
}

/// Sizes all parts of a heliostat for its own area, wind and limits.
///
/// # Errors
/// [`StructureError`] when an input is not a finite number above zero. A part that stock cannot carry
/// is not an error but a margin below zero.
pub fn size_pedestal(inputs: &PedestalInputs) -> Result<PedestalParts, StructureError> {
    inputs.check()?;
    Ok(Sized::of(inputs).parts())
}

impl PedestalInputs {
    fn check(&self) -> Result<(), StructureError> {
        if self.facets.count() == 0 {
            return Err(StructureError::NoMirrors);
        }
        require_positive(&[
            ("facet side_m", self.facets.side_m),
            ("panel side_m", self.panel.side_m),
            ("panel thickness_m", self.panel.thickness_m),
            (
                "shortest_focal_length_m",
                self.panel.shortest_focal_length_m,
            ),
            ("clearance_m", self.clearance_m),
        ])?;
        crate::error::require_not_negative(&[("facet gap_m", self.facets.gap_m)])?;
        self.wind.check()?;
        self.rules.check()
    }

    /// Height of the elevation axis: the upright mirror clears the ground.
    #[must_use]
    pub const fn axis_height_m(&self) -> f64 {
        0.5 * self.facets.height_m() + self.clearance_m
    }

    const fn star(&self) -> Star<'_> {
        Star {
            panel: &self.panel,
            rules: &self.rules,
        }
    }
}

/// Mass of a drive without its torque, and more for each newton-metre that it holds (slewing drives:
/// some 7 kg at 1 kN·m, 50 kg at 20 kN·m; from memory).
const DRIVE_KG: f64 = 4.0;
const DRIVE_KG_N_M: f64 = 2.5e-3;

/// Everything that was sized, before it is summed up.
struct Sized<'a> {
    inputs: &'a PedestalInputs,
    /// On the whole mirror, and on one facet.
    loads: StringLoads,
    facet_loads: StringLoads,
    star: Stock,
    frame: Option<Frame>,
    mount_kg: f64,
    azimuth_torque_n_m: f64,
    elevation_torque_n_m: f64,
    pedestal: Stock,
    pier: Pier,
}

impl<'a> Sized<'a> {
    fn of(inputs: &'a PedestalInputs) -> Self {
        let (facets, rules) = (&inputs.facets, &inputs.rules);
        let face = Face {
            area_m2: facets.area_m2(),
            chord_m: facets.height_m(),
        };
        let exposed = rules.exposed(inputs.axis_height_m(), rules.stow_misfit_rad);
        let loads = StringLoads::on(&inputs.wind, face, &exposed);
        let facet_loads = StringLoads::on(&inputs.wind, Face::square(facets.side_m), &exposed);
        let star = inputs.star().size(&facet_loads);
        let facet_kg = inputs.panel.kg() + inputs.star().kg(&star.section);
        let (frame, mount_kg) = if facets.count() == 1 {
            (None, mount_kg(facets.side_m, rules, &loads))
        } else {
            (Some(Frame::size(inputs, &loads, facet_kg)), 0.0)
        };
        let glass_side_kg = facets.count() as f64 * facet_kg;
        let (frame_kg, reach_m) = frame.as_ref().map_or((0.0, MOUNT_REACH_M), |frame| {
            (frame.trusses_kg, frame.reach_m)
        });
        let unbalance_n_m = (glass_side_kg + frame_kg) * GRAVITY_M_S2 * reach_m;
        let azimuth_torque_n_m = greatest_case(|case| loads.peak(case).azimuth_n_m).1;
        let elevation_torque_n_m =
            greatest_case(|case| loads.peak(case).hinge_n_m).1 + unbalance_n_m;
        let tube_kg = frame.as_ref().map_or(0.0, |frame| frame.tube_kg);
        let carried_kg = glass_side_kg + frame_kg + tube_kg + mount_kg;
        let pedestal = pedestal(inputs, &loads);
        Self {
            pier: Pier::under(inputs, &loads, &pedestal.section, carried_kg),
            inputs,
            loads,
            facet_loads,
            star,
            frame,
            mount_kg,
            azimuth_torque_n_m,
            elevation_torque_n_m,
            pedestal,
        }
    }

    fn parts(&self) -> PedestalParts {
        let facets = &self.inputs.facets;
        PedestalParts {
            masses: self.masses(),
            sizes: PedestalSizes {
                star: self.star,
                truss: self.frame.map(|frame| frame.truss),
                tube: self.frame.map(|frame| frame.tube),
                pedestal: self.pedestal,
            },
            glass_area_m2: facets.area_m2(),
            glass_edge_m: facets.count() as f64 * 4.0 * facets.side_m,
            axis_height_m: self.inputs.axis_height_m(),
            azimuth_torque_n_m: self.azimuth_torque_n_m,
            elevation_torque_n_m: self.elevation_torque_n_m,
            motor_power_w: self.motor_power_w(),
            embedded_m: self.pier.depth_m,
            concrete_m3: self.pier.concrete_m3,
            pier_m: self.pier.diameter_m,
            errors: self.errors(),
            margins: self.margins(),
            demands: PedestalCheck::ALL.map(|check| self.demand(check)),
        }
    }

    fn masses(&self) -> PedestalMasses {
        let (inputs, count) = (self.inputs, self.inputs.facets.count() as f64);
        let frame = self.frame.as_ref();
        let torque_n_m = self.azimuth_torque_n_m + self.elevation_torque_n_m;
        PedestalMasses {
            glass_kg: count * inputs.panel.kg(),
            stars_kg: count * inputs.star().kg(&self.star.section),
            trusses_kg: frame.map_or(0.0, |frame| frame.trusses_kg),
            tube_kg: frame.map_or(0.0, |frame| frame.tube_kg),
            mount_kg: self.mount_kg,
            drives_kg: 2.0 * DRIVE_KG + DRIVE_KG_N_M * torque_n_m,
            pedestal_kg: self.pedestal_m() * self.pedestal.section.kg_m(),
            bars_kg: self.pier.bars_kg,
        }
    }

    /// Length of the pedestal, above the ground and in it.
    const fn pedestal_m(&self) -> f64 {
        self.inputs.axis_height_m() + self.pier.pedestal_inside_m
    }

    /// Both axes at once through a right angle in the time to stow.
    fn motor_power_w(&self) -> f64 {
        let load = self.loads.peak(LoadCase::DriveToStow);
        let speed_rad_s = std::f64::consts::FRAC_PI_2 / self.inputs.rules.stow_time_s;
        (load.hinge_n_m + load.azimuth_n_m) * speed_rad_s / GEAR_EFFICIENCY
    }

    fn errors(&self) -> PedestalErrors {
        let (panel, star) = (&self.inputs.panel, self.inputs.star());
        let wind_pa = self.facet_loads.rms.normal_pa;
        let facet_rad = libm::hypot(
            panel.slope_rad(wind_pa),
            star.pressure_slope_rad(&self.star.section, wind_pa),
        );
        let frame = self.frame.as_ref();
        let frame_rad = frame.map_or(0.0, |frame| frame.wind_rad);
        let bent_rad = bend_rad(
            &self.pedestal.section,
            &self.loads.rms,
            self.inputs.axis_height_m(),
        );
        PedestalErrors {
            gravity_rad: panel.slope_rad(panel.weight_pa()),
            star_droop_rad: star.droop_rad(&self.star.section),
            frame_droop_rad: frame.map_or(0.0, |frame| frame.droop_rad),
            wind_rad: libm::hypot(facet_rad, frame_rad),
            sway_rad: bent_rad + self.pier.turn_rad,
        }
    }

    fn margins(&self) -> Margins {
        let panel = &self.inputs.panel;
        let gust = |case| panel.gust_utilisation(self.facet_loads.peak(case).normal_pa);
        let used = |check| self.demand(check).utilisation;
        let framed = |check| self.frame.as_ref().map_or(f64::NAN, |_| used(check));
        Margins::from_utilisations(|check| match check {
            Check::GlassFocusing => used(PedestalCheck::GlassFocusing),
            Check::GlassOperating => gust(LoadCase::Operate),
            Check::GlassDriveToStow => gust(LoadCase::DriveToStow),
            Check::GlassSurvival => gust(LoadCase::Survive),
            Check::Star => used(PedestalCheck::Star),
            Check::Post => used(PedestalCheck::Pedestal),
            Check::Footing => used(PedestalCheck::Footing),
            Check::Rail | Check::Line | Check::FrameArm => f64::NAN,
            Check::Truss => framed(PedestalCheck::Truss),
            Check::TorqueTube => framed(PedestalCheck::Tube),
        })
    }

    fn demand(&self, check: PedestalCheck) -> Demand {
        let panel = &self.inputs.panel;
        let frame = self.frame.as_ref();
        match check {
            PedestalCheck::GlassFocusing => Demand::stiffness(panel.lasting_utilisation()),
            PedestalCheck::GlassWind => Demand::hardest_case(|case| {
                panel.gust_utilisation(self.facet_loads.peak(case).normal_pa)
            }),
            PedestalCheck::Star => self.star.demand,
            PedestalCheck::Truss => {
                frame.map_or(Demand::stiffness(0.0), |frame| frame.truss.tube.demand)
            }
            PedestalCheck::Tube => frame.map_or(Demand::stiffness(0.0), |frame| frame.tube.demand),
            PedestalCheck::Pedestal => self.pedestal.demand,
            PedestalCheck::Footing => Demand::stiffness(self.pier.utilisation),
        }
    }
}

/// The pedestal: bending and twist at the ground in every case, and half the sway allowed.
fn pedestal(inputs: &PedestalInputs, loads: &StringLoads) -> Stock {
    let (rules, height_m) = (&inputs.rules, inputs.axis_height_m());
    Series::Ground.lightest(|section| {
        let strength = Demand::hardest_case(|case| {
            let load = loads.peak(case);
            let bent = load.overturning_n_m(height_m)
                / section.bending_resistance_n_m(rules.steel_yield_pa);
            let twisted = load.azimuth_n_m / section.torsion_resistance_n_m(rules.steel_yield_pa);
            rules.wind_factor * libm::hypot(bent, twisted)
        });
        let bent_rad = bend_rad(section, &loads.rms, height_m);
        strength.or(Demand::stiffness(bent_rad / (0.5 * rules.sway_limit_rad)))
    })
}

#[cfg(test)]
mod tests;
