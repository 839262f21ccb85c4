//! The things a field is paid for: one declaration of key, unit, group and description.

/// Where an item stands in the bill.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Group {
    /// Glass, silver, edges and what bends the panels.
    Mirrors,
    /// Posts, rails, mounts, levers and lines.
    StringSteel,
    /// Motors, gears, controls and their wiring.
    StringDrives,
    /// Foundations, ground, fence.
    FieldGroundWorks,
    /// The tower and what stands on it.
    TowerAndReceiver,
    /// Pipes, pumps, exchanger, storage and control room, up to the fence.
    PlantToFence,
    /// Labour and freight.
    GettingItBuilt,
    /// What is paid every year.
    KeepingItRunning,
}

impl Group {
    /// Every group in bill order.
    pub const ALL: [Self; 8] = [
        Self::Mirrors,
        Self::StringSteel,
        Self::StringDrives,
        Self::FieldGroundWorks,
        Self::TowerAndReceiver,
        Self::PlantToFence,
        Self::GettingItBuilt,
        Self::KeepingItRunning,
    ];

    /// How many groups there are.
    pub const COUNT: usize = Self::ALL.len();

    /// Stable key for files.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::Mirrors => "mirrors",
            Self::StringSteel => "string_steel",
            Self::StringDrives => "string_drives",
            Self::FieldGroundWorks => "field_ground_works",
            Self::TowerAndReceiver => "tower_and_receiver",
            Self::PlantToFence => "plant_to_fence",
            Self::GettingItBuilt => "getting_it_built",
            Self::KeepingItRunning => "keeping_it_running",
        }
    }

    /// Heading for people.
    #[must_use]
    pub const fn title(self) -> &'static str {
        match self {
            Self::Mirrors => "Mirrors",
            Self::StringSteel => "String steel",
            Self::StringDrives => "String drives",
            Self::FieldGroundWorks => "Field ground works",
            Self::TowerAndReceiver => "Tower and receiver",
            Self::PlantToFence => "Plant to the fence",
            Self::GettingItBuilt => "Getting it built",
            Self::KeepingItRunning => "Keeping it running",
        }
    }

    /// Whether amounts in this group recur every year instead of being bought once.
    #[must_use]
    pub const fn is_yearly(self) -> bool {
        matches!(self, Self::KeepingItRunning)
    }

    /// Whether nobody has yet built these parts in number, so that they carry the wider
    /// contingency.
    #[must_use]
    pub const fn is_unproven(self) -> bool {
        matches!(self, Self::StringSteel | Self::StringDrives)
    }
}

/// What is said once about an item.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ItemFacts {
    /// Stable key for files.
    pub key: &'static str,
    /// Unit an amount is counted in.
    pub unit: &'static str,
    /// Place in the bill.
    pub group: Group,
    /// What is bought, in words.
    pub description: &'static str,
}

macro_rules! items {
    ($($variant:ident: $key:literal, $unit:literal, $group:ident, $description:literal;)+) => {
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
                group: Group::$group,
                description: $description,
            },)+];
        }
    };
}

items! {
    Glass: "glass", "kg", Mirrors, "Low-iron float glass, offcuts included";
    Silvering: "silvering", "m2", Mirrors, "Silver coat and back paint, offcuts included";
    EdgeCutting: "edge_cutting", "m", Mirrors, "Cutting and seaming of panel edges";
    PanelTie: "panel_tie", "each", Mirrors, "Corner pulls and centre pad that bend and hold one panel";

    Steel: "steel", "kg", StringSteel, "Fabricated steel sections of the strings";
    Galvanising: "galvanising", "kg", StringSteel, "Hot-dip galvanising, by mass of steel";
    Castings: "castings", "kg", StringSteel, "Joints, mounts and bearings";
    Line: "line", "kg", StringSteel, "Wire rope or rod of the drive lines with end fittings";

    DriveUnit: "drive_unit", "each", StringDrives, "Motor, gear, encoder and housing of one driven axis, before torque";
    DriveTorque: "drive_torque", "N.m", StringDrives, "What a drive costs more for each newton-metre it must hold";
    Controller: "controller", "each", StringDrives, "Controls of one driven unit";
    FieldWiring: "field_wiring", "m", StringDrives, "Power and signal wiring in the field, laid";

    GroundPost: "ground_post", "m", FieldGroundWorks, "Driving or augering of posts, by embedded length";
    Concrete: "concrete", "m3", FieldGroundWorks, "Concrete of the strings' footings, placed";
    SiteWorks: "site_works", "m2", FieldGroundWorks, "Clearing, levelling, drainage and lanes, by land";
    Land: "land", "m2", FieldGroundWorks, "Land bought";
    Fence: "fence", "m", FieldGroundWorks, "Fence, erected";

    TowerSteel: "tower_steel", "kg", TowerAndReceiver, "Tower steel, erected";
    TowerFoundation: "tower_foundation", "m3", TowerAndReceiver, "Reinforced concrete under the tower, placed";
    ReceiverPanel: "receiver_panel", "m2", TowerAndReceiver, "Absorber panels with coating and instruments, by lit area";
    ReceiverSteel: "receiver_steel", "kg", TowerAndReceiver, "Receiver tubes, headers and frame, erected";
    CavityHousing: "cavity_housing", "m2", TowerAndReceiver, "Insulated cavity housing, by area";

    Piping: "piping", "kg", PlantToFence, "Pipes, valves and supports, installed";
    Insulation: "insulation", "m2", PlantToFence, "Insulation and cladding, by surface";
    Pump: "pump", "kW", PlantToFence, "Pumps with motors, by electric power";
    Exchanger: "exchanger", "m2", PlantToFence, "Heat exchangers, by surface";
    StorageVessel: "storage_vessel", "kg", PlantToFence, "Storage vessels, by steel mass, erected";
    StorageVolume: "storage_volume", "m3", PlantToFence, "Storage base, fill, valves and insulation, by volume";
    ControlRoom: "control_room", "each", PlantToFence, "Control room, weather station and grid connection of one plant";

    Assembly: "assembly", "h", GettingItBuilt, "Assembly and erection labour in the field";
    Alignment: "alignment", "h", GettingItBuilt, "Labour to set mirrors on target";
    Freight: "freight", "t", GettingItBuilt, "Freight to the site";

    Washing: "washing", "m2", KeepingItRunning, "Mirror area washed in a year, each wash counted";
    Water: "water", "m3", KeepingItRunning, "Water used in a year";
    Staff: "staff", "person", KeepingItRunning, "People employed";
    Electricity: "electricity", "kWh", KeepingItRunning, "Electricity bought in a year";
    DriveReplacement: "drive_replacement", "each", KeepingItRunning, "Drives replaced in a year, with labour";
    LineReplacement: "line_replacement", "kg", KeepingItRunning, "Drive lines replaced in a year, with labour";
    GlassReplacement: "glass_replacement", "m2", KeepingItRunning, "Broken mirror replaced and aligned in a year";
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
