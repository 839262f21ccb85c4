//! Driven units of one make as the bill counts them, whatever their concept: one law for all.

use ledger::Item;
use scenario::{Class, Defocus, Sensing, SetBy};

use crate::make::Make;
use crate::makes::{HeliostatMake, Makes};

/// Work over that of the common class, coarse, common and fine, all common practice, no source: to set
/// a post by eye, by level, by level and wedges until it is right; to set a mirror on target.
const POST_WORK: [f64; 3] = [0.6, 1.0, 2.5];
const SETTING_WORK: [f64; 3] = [0.5, 1.0, 2.25];
/// At night nobody waits for the sun to come out, but every mirror has a mark of its own.
const BY_LASER: f64 = 1.25;
/// Minutes to machine a mirror's axes, joints and levers, by class: as cast and drilled; reamed; bored
/// in one setting and adjusted.
const MINUTES_FOR_AXES: [f64; 3] = [0.0, 1.0, 5.0];
const MINUTES_FOR_JOINTS: [f64; 3] = [0.0, 1.0, 4.0];
const MINUTES_FOR_LEVERS: [f64; 3] = [0.0, 1.0, 3.0];

const fn of(class: Class, by_class: [f64; 3]) -> f64 {
    by_class[class as usize]
}

/// Driven units that are built alike; amounts are those of one unit.
pub struct Lot {
    /// How many units.
    pub count: f64,
    /// Panels.
    pub panels: f64,
    /// Side of a square panel.
    pub panel_side_m: f64,
    /// Glass.
    pub glass_kg: f64,
    /// Mirror area.
    pub glass_area_m2: f64,
    /// Length of panel edges.
    pub glass_edge_m: f64,
    /// Steel of each part.
    pub steel_kg: Vec<(Item, f64)>,
    /// What of it is galvanised.
    pub galvanised_kg: f64,
    /// Castings.
    pub castings_kg: f64,
    /// Strands that hand motion on.
    pub lines_kg: f64,
    /// What wears while it hands motion on.
    pub wearing_kg: f64,
    /// Torque that each drive must hold.
    pub torques_n_m: [f64; 2],
    /// Power of each drive on the way to stow.
    pub motor_power_w: f64,
    /// From one end to the other and over to the next.
    pub reach_m: f64,
    /// Work to set its posts, in posts of the common class.
    pub posts_set: f64,
    /// Joints to be fitted beyond those of a panel's mount.
    pub joints: f64,
    /// Length in the ground.
    pub embedded_m: f64,
    /// Concrete.
    pub concrete_m3: f64,
    /// Machining to the classes of workmanship.
    pub machined_min: f64,
    /// Work to set its panels, in panels of the common class.
    pub panels_set: f64,
    /// Whether panels are set by a laser.
    pub is_set_at_night: bool,
    /// How its drives know where it points.
    pub sensing: Sensing,
    /// Whether cameras must see its light, to steer or to calibrate it.
    pub is_watched: bool,
    /// What turns it away when the grid fails.
    pub defocus: Defocus,
}

impl Lot {
    /// The units of a field.
    #[must_use]
    pub fn all(makes: &Makes) -> Vec<Self> {
        match makes {
            Makes::Strings(makes) => makes.iter().map(Self::of_strings).collect(),
            Makes::Heliostats(makes) => makes.iter().map(Self::of_heliostats).collect(),
        }
    }

    fn of_strings(make: &Make) -> Self {
        let (parts, strings) = (&make.parts, &make.strings);
        let (masses, drive) = (&parts.masses, &strings.drive);
        let (work, panels) = (&drive.workmanship, f64::from(strings.mirrors));
        let by = match drive.set_by {
            SetBy::Sun => 1.0,
            SetBy::Laser => BY_LASER,
        };
        let machined_min = of(work.axes, MINUTES_FOR_AXES)
            + of(work.joints, MINUTES_FOR_JOINTS)
            + of(work.levers, MINUTES_FOR_LEVERS);
        let row_spacing_m = strings.row_spacing_ratio * strings.side_m;
        Self {
            count: make.count(),
            panels,
            panel_side_m: strings.side_m,
            glass_kg: masses.glass_kg,
            glass_area_m2: parts.glass_area_m2,
            glass_edge_m: parts.glass_edge_m,
            steel_kg: vec![
                (Item::StarSteel, masses.stars_kg),
                (Item::LeverSteel, masses.levers_kg),
                (Item::PostSteel, masses.posts_kg),
                (Item::RailSteel, masses.rail_kg),
                (Item::BarSteel, masses.bars_kg),
                (Item::FrameSteel, masses.frames_kg),
            ],
            galvanised_kg: masses.sections_kg(),
            castings_kg: masses.mounts_kg,
            lines_kg: masses.lines_kg,
            wearing_kg: parts.wearing_kg,
            torques_n_m: [parts.drive_torque_n_m; 2],
            motor_power_w: parts.motor_power_w,
            reach_m: panels * make.pitch_m() + row_spacing_m,
            posts_set: of(work.posts, POST_WORK) * parts.posts as f64,
            joints: parts.more_joints,
            embedded_m: parts.embedded_m,
            concrete_m3: parts.concrete_m3,
            machined_min: machined_min * panels,
            panels_set: by * of(work.offsets, SETTING_WORK) * panels,
            is_set_at_night: drive.set_by == SetBy::Laser,
            sensing: drive.sensing,
            is_watched: drive.sensing == Sensing::Camera,
            defocus: drive.defocus,
        }
    }

    /// A heliostat's trusses and tube are joined panel column by panel column; its panels are set on
    /// their frame, a single one's stand is calibrated. From one to the next it is as far as the side
    /// of a square of its land.
    fn of_heliostats(make: &HeliostatMake) -> Self {
        let (parts, heliostats) = (&make.parts, &make.heliostats);
        let masses = &parts.masses;
        let facets = crate::inputs::facets(heliostats);
        let panels = facets.count() as f64;
        let is_framed = facets.count() > 1;
        let framed = |amount: f64| if is_framed { amount } else { 0.0 };
        Self {
            count: make.count(),
            panels,
            panel_side_m: facets.side_m,
            glass_kg: masses.glass_kg,
            glass_area_m2: parts.glass_area_m2,
            glass_edge_m: parts.glass_edge_m,
            steel_kg: vec![
                (Item::StarSteel, masses.stars_kg),
                (Item::PostSteel, masses.pedestal_kg + masses.bars_kg),
                (Item::TrussSteel, masses.trusses_kg),
                (Item::TubeSteel, masses.tube_kg),
            ],
            galvanised_kg: masses.sections_kg(),
            castings_kg: masses.mount_kg,
            lines_kg: 0.0,
            wearing_kg: 0.0,
            torques_n_m: [parts.azimuth_torque_n_m, parts.elevation_torque_n_m],
            motor_power_w: make.motor_power_w(),
            reach_m: make.land_m2.sqrt(),
            posts_set: 1.0,
            joints: framed(facets.columns as f64 + 1.0),
            embedded_m: parts.embedded_m,
            concrete_m3: parts.concrete_m3,
            machined_min: 0.0,
            panels_set: framed(panels),
            is_set_at_night: false,
            sensing: heliostats.sensing,
            is_watched: true,
            defocus: heliostats.defocus,
        }
    }

    /// Steel with castings and lines.
    #[must_use]
    pub fn all_steel_kg(&self) -> f64 {
        let sections_kg: f64 = self.steel_kg.iter().map(|(_, kg)| kg).sum();
        sections_kg + self.castings_kg + self.lines_kg
    }
}
