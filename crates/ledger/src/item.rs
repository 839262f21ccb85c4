//! The things a field is paid for: one declaration of key, unit, mass, group and description.

use crate::group::Group;

/// What is said once about an item.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ItemFacts {
    /// Stable key for files.
    pub key: &'static str,
    /// Unit an amount is counted in.
    pub unit: &'static str,
    /// Mass of one unit that comes to the site by road [kg]; zero for work and for what is counted in
    /// other items. Where the unit is no mass: common practice, no source.
    pub kg_per_unit: f64,
    /// Place in the bill.
    pub group: Group,
    /// What is bought, in words.
    pub description: &'static str,
}

macro_rules! items {
    ($($variant:ident: $key:literal, $unit:literal, $kg:literal, $group:ident, $description:literal;)+) => {
        /// Something that is paid for, in bill order.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
        pub enum Item {
            $(#[doc = concat!($description, ", in `", $unit, "`.")] $variant,)+
        }

        impl Item {
            /// Every item in bill order.
            pub const ALL: &'static [Self] = &[$(Self::$variant,)+];

            const FACTS: [ItemFacts; Self::COUNT] = [$(ItemFacts {
                key: $key,
                unit: $unit,
                kg_per_unit: $kg,
                group: Group::$group,
                description: $description,
            },)+];
        }
    };
}

items! {
    Glass: "glass", "kg", 1.0, Mirrors, "Low-iron float glass, offcuts included";
    Silvering: "silvering", "m2", 0.3, Mirrors, "Silver coat and back paint, offcuts included";
    EdgeCutting: "edge_cutting", "m", 0.0, Mirrors, "Cutting and seaming of panel edges";
    PanelTie: "panel_tie", "each", 0.8, Mirrors, "Corner pulls and centre pad that bend and hold one panel";
    SparePanel: "spare_panel", "m2", 11.0, Mirrors, "Mirror panels on the shelf from the first day";

    Steel: "steel", "kg", 1.0, FieldSteel, "Fabricated steel sections under the mirrors: the rate of every part that has none of its own";
    StarSteel: "star_steel", "kg", 1.0, FieldSteel, "Stars behind the panels";
    LeverSteel: "lever_steel", "kg", 1.0, FieldSteel, "Levers and bell-cranks";
    PostSteel: "post_steel", "kg", 1.0, FieldSteel, "Posts with forks and pedestals, above and below ground, with bars of piers";
    RailSteel: "rail_steel", "kg", 1.0, FieldSteel, "Rail along the post heads";
    BarSteel: "bar_steel", "kg", 1.0, FieldSteel, "Push-rods, or the bar of sliding levers";
    FrameSteel: "frame_steel", "kg", 1.0, FieldSteel, "Legs of frames, and arms that hold the lines";
    TrussSteel: "truss_steel", "kg", 1.0, FieldSteel, "Trusses behind the panels of a heliostat, with bracing";
    TubeSteel: "tube_steel", "kg", 1.0, FieldSteel, "Torque tubes of heliostats";
    Galvanising: "galvanising", "kg", 0.06, FieldSteel, "Hot-dip galvanising, by mass of steel";
    Castings: "castings", "kg", 1.0, FieldSteel, "Joints, mounts and bearings, before machining to class";
    Machining: "machining", "h", 0.0, FieldSteel, "Machining of axes, joints and levers to their class of tolerance";
    Line: "line", "kg", 1.0, FieldSteel, "Wire rope or rod of the drive lines with end fittings";

    DriveUnit: "drive_unit", "each", 6.0, Drives, "Motor, encoder and housing of one driven axis, before its gear";
    DriveGear: "drive_gear", "each", 15.0, Drives, "Gears of driven axes, counted in gears of 1 kN.m by the root of their torque class";
    SpareDrive: "spare_drive", "each", 21.0, Drives, "Drives on the shelf from the first day, counted in drives of 1 kN.m";
    Controller: "controller", "each", 2.0, Drives, "Controls of one driven unit";
    StringSensor: "string_sensor", "each", 1.0, Drives, "Sensor at a reference mirror that sees sun and target, with its wiring";
    TargetCamera: "target_camera", "each", 20.0, Drives, "Camera that watches the strings' light on the target, with its computer";
    DefocusSpring: "defocus_spring", "each", 8.0, Drives, "Spring, brake and damper that turn one string away when the grid fails";
    FieldWiring: "field_wiring", "m", 0.4, Drives, "Power and signal wiring in the field, laid";
    EmergencyPower: "emergency_power", "kW", 15.0, Drives, "Batteries that take all mirrors off target when the grid fails, by power of the drives";

    GroundPost: "ground_post", "m", 0.0, FieldGroundWorks, "Driving or augering of posts, by embedded length";
    Concrete: "concrete", "m3", 0.0, FieldGroundWorks, "Concrete of footings in the field, placed";
    Earthing: "earthing", "m", 0.5, FieldGroundWorks, "Lightning protection: earth conductor along rows, fence and tower, with arresters";

    TowerSteel: "tower_steel", "kg", 1.0, TowerAndReceiver, "Tower steel, erected";
    TowerFoundation: "tower_foundation", "m3", 0.0, TowerAndReceiver, "Reinforced concrete under the tower, placed";
    ReceiverPanel: "receiver_panel", "m2", 0.0, TowerAndReceiver, "Absorber panels with coating and instruments, by lit area";
    SaltPanel: "salt_panel", "m2", 0.0, TowerAndReceiver, "Absorber panels of nickel alloy for hot salt, with coating and instruments, by lit area";
    AirAbsorber: "air_absorber", "m2", 30.0, TowerAndReceiver, "Absorber modules for hot air, by lit area";
    ReceiverSteel: "receiver_steel", "kg", 1.0, TowerAndReceiver, "Receiver tubes, headers and frame, erected";
    CavityHousing: "cavity_housing", "m2", 40.0, TowerAndReceiver, "Insulated cavity housing, by area";

    Piping: "piping", "kg", 1.0, PlantToFence, "Pipes, valves and supports, installed";
    HotDuct: "hot_duct", "m2", 100.0, PlantToFence, "Ducts for hot air with their lining, by inner surface, erected";
    Insulation: "insulation", "m2", 12.0, PlantToFence, "Insulation and cladding, by surface";
    FreezeProtection: "freeze_protection", "m", 0.5, PlantToFence, "Trace heating, drains and their controls, by length of pipe";
    Pump: "pump", "kW", 12.0, PlantToFence, "Pumps with motors, by electric power";
    Pressuriser: "pressuriser", "m3", 1500.0, PlantToFence, "Pressuriser: vessel that takes up the swelling of the loop's water, with nitrogen and relief";
    Blower: "blower", "kW", 15.0, PlantToFence, "Blowers for hot air with motors, by electric power";
    Exchanger: "exchanger", "m2", 35.0, PlantToFence, "Heat exchangers, by surface";
    StorageVessel: "storage_vessel", "kg", 1.0, PlantToFence, "Storage vessels, by steel mass, erected";
    StorageVolume: "storage_volume", "m3", 0.0, PlantToFence, "Storage base, fill, valves and insulation, by volume";
    Salt: "salt", "kg", 1.0, PlantToFence, "Nitrate salt, filled and melted";
    SaltTank: "salt_tank", "kg", 1.0, PlantToFence, "Salt tanks with foundation, heaters and pumps, by steel mass, erected";
    PackedBed: "packed_bed", "kg", 1.0, PlantToFence, "Stones of a heat store with their lining, by mass, placed";
    SteamGenerator: "steam_generator", "kW", 6.0, PlantToFence, "Steam generator of a turbine set, by heat flow";
    TurbineSet: "turbine_set", "kW", 20.0, PlantToFence, "Turbine, generator, condenser, water treatment and building, by gross power";
    DryCooler: "dry_cooler", "kW", 4.0, PlantToFence, "What an air-cooled condenser costs beyond a wet one, by heat rejected";
    ControlRoom: "control_room", "each", 8000.0, PlantToFence, "Control room, weather station and grid connection of one plant";

    SiteWorks: "site_works", "m2", 0.0, Site, "Clearing, levelling, drainage and lanes, by land";
    Land: "land", "m2", 0.0, Site, "Land bought";
    Fence: "fence", "m", 8.0, Site, "Fence, erected";

    Assembly: "assembly", "h", 0.0, GettingItBuilt, "Assembly and erection labour in the field";
    Alignment: "alignment", "h", 0.0, GettingItBuilt, "Labour to set mirrors on target";
    LaserSet: "laser_set", "each", 50.0, GettingItBuilt, "Laser, marks and survey to set mirrors at night";
    Crane: "crane", "d", 0.0, GettingItBuilt, "Crane days with crew for tower and receiver";
    Commissioning: "commissioning", "h", 0.0, GettingItBuilt, "Labour to test and start field and plant";
    Freight: "freight", "t", 0.0, GettingItBuilt, "Freight to the site";

    Washing: "washing", "m2", 0.0, KeepingItRunning, "Mirror area washed in a year, each wash counted";
    Water: "water", "m3", 0.0, KeepingItRunning, "Water used in a year";
    Staff: "staff", "person", 0.0, KeepingItRunning, "People employed";
    Electricity: "electricity", "kWh", 0.0, KeepingItRunning, "Electricity bought in a year";
    DriveReplacement: "drive_replacement", "each", 0.0, KeepingItRunning, "Drives replaced in a year with labour, counted in drives of 1 kN.m";
    LineReplacement: "line_replacement", "kg", 0.0, KeepingItRunning, "Drive lines replaced in a year, with labour";
    GlassReplacement: "glass_replacement", "m2", 0.0, KeepingItRunning, "Broken mirror replaced and aligned in a year";
}

impl Item {
    /// How many items there are.
    pub const COUNT: usize = Self::ALL.len();

    /// Key, unit, group and description.
    #[must_use]
    pub const fn facts(self) -> &'static ItemFacts {
        &Self::FACTS[self as usize]
    }

    /// Stable key for files.
    #[must_use]
    pub const fn key(self) -> &'static str {
        self.facts().key
    }

    /// Unit an amount is counted in.
    #[must_use]
    pub const fn unit(self) -> &'static str {
        self.facts().unit
    }

    /// Mass of one unit that comes to the site by road [kg].
    #[must_use]
    pub const fn kg_per_unit(self) -> f64 {
        self.facts().kg_per_unit
    }

    /// Whether it is made in series by machine, so that its price falls as more of it is made.
    #[must_use]
    pub const fn is_made_in_series(self) -> bool {
        matches!(
            self,
            Self::PanelTie
                | Self::SparePanel
                | Self::Castings
                | Self::DriveUnit
                | Self::DriveGear
                | Self::SpareDrive
                | Self::Controller
                | Self::DriveReplacement
        )
    }

    /// The item whose rate it takes as long as it is given none of its own.
    #[must_use]
    pub const fn common(self) -> Option<Self> {
        match self {
            Self::StarSteel
            | Self::LeverSteel
            | Self::PostSteel
            | Self::RailSteel
            | Self::BarSteel
            | Self::FrameSteel
            | Self::TrussSteel
            | Self::TubeSteel => Some(Self::Steel),
            _ => None,
        }
    }

    /// Place in the bill.
    #[must_use]
    pub const fn group(self) -> Group {
        self.facts().group
    }

    /// The item of a key, if there is one.
    #[must_use]
    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|item| item.key() == key)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn keys_come_back_and_differ() {
        for &item in Item::ALL {
            assert_eq!(Item::from_key(item.key()), Some(item));
        }
        assert_eq!(Item::from_key("gold"), None);
    }

    #[test]
    fn what_is_counted_by_mass_weighs_its_mass() {
        for &item in Item::ALL.iter().filter(|item| item.unit() == "kg") {
            let weighs = !item.group().is_yearly() && item != Item::Galvanising;
            assert!(!weighs || item.kg_per_unit() == 1.0, "{item:?}");
        }
    }

    #[test]
    fn the_bill_runs_through_the_groups_in_order() {
        for pair in Item::ALL.windows(2) {
            assert!(pair[0].group() <= pair[1].group(), "{:?}", pair[1]);
        }
        for group in Group::ALL {
            assert!(
                Item::ALL.iter().any(|item| item.group() == group),
                "{group:?} is empty"
            );
        }
    }
}
