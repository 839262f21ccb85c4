//! Where items stand in the bill: groups, rolled up into chapters.

/// Where an item stands in the bill.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Group {
    /// Glass, silver, edges and what bends the panels.
    Mirrors,
    /// Posts, rails, mounts, levers and lines.
    FieldSteel,
    /// Motors, gears, controls and their wiring.
    Drives,
    /// Foundations and earthing in the field.
    FieldGroundWorks,
    /// The tower and what stands on it.
    TowerAndReceiver,
    /// Pipes, pumps, exchanger, storage and control room, up to the fence.
    PlantToFence,
    /// Land, its preparation and its fence.
    Site,
    /// Labour, cranes and freight.
    GettingItBuilt,
    /// What is paid every year.
    KeepingItRunning,
}

/// The bill in five lines, the way the light goes and the plant grows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Chapter {
    /// Mirrors with all that holds and turns them.
    Mirrors,
    /// Tower and receiver.
    TowerTop,
    /// From the tower's foot to the fence.
    ToTheFence,
    /// Land, labour, cranes and freight.
    GettingItBuilt,
    /// What is paid every year.
    KeepingItRunning,
}

impl Group {
    /// Every group in bill order.
    pub const ALL: [Self; 9] = [
        Self::Mirrors,
        Self::FieldSteel,
        Self::Drives,
        Self::FieldGroundWorks,
        Self::TowerAndReceiver,
        Self::PlantToFence,
        Self::Site,
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
            Self::FieldSteel => "field_steel",
            Self::Drives => "drives",
            Self::FieldGroundWorks => "field_ground_works",
            Self::TowerAndReceiver => "tower_and_receiver",
            Self::PlantToFence => "plant_to_fence",
            Self::Site => "site",
            Self::GettingItBuilt => "getting_it_built",
            Self::KeepingItRunning => "keeping_it_running",
        }
    }

    /// Heading for people.
    #[must_use]
    pub const fn title(self) -> &'static str {
        match self {
            Self::Mirrors => "Mirrors",
            Self::FieldSteel => "Field steel",
            Self::Drives => "Drives",
            Self::FieldGroundWorks => "Field ground works",
            Self::TowerAndReceiver => "Tower and receiver",
            Self::PlantToFence => "Plant to the fence",
            Self::Site => "Site",
            Self::GettingItBuilt => "Labour and freight",
            Self::KeepingItRunning => "Keeping it running",
        }
    }

    /// The chapter that it belongs to.
    #[must_use]
    pub const fn chapter(self) -> Chapter {
        match self {
            Self::Mirrors | Self::FieldSteel | Self::Drives | Self::FieldGroundWorks => {
                Chapter::Mirrors
            }
            Self::TowerAndReceiver => Chapter::TowerTop,
            Self::PlantToFence => Chapter::ToTheFence,
            Self::Site | Self::GettingItBuilt => Chapter::GettingItBuilt,
            Self::KeepingItRunning => Chapter::KeepingItRunning,
        }
    }

    /// Whether amounts in this group recur every year instead of being bought once.
    #[must_use]
    pub const fn is_yearly(self) -> bool {
        matches!(self, Self::KeepingItRunning)
    }

    /// Whether nobody has yet built these parts in number, so that they carry the wider
    /// contingency: the steel of strings, by part, and the drives that their mirrors share. Glass, tower,
    /// receiver and plant have been built before.
    #[must_use]
    pub const fn is_unproven(self) -> bool {
        matches!(self, Self::FieldSteel | Self::Drives)
    }
}

impl Chapter {
    /// Every chapter in order.
    pub const ALL: [Self; 5] = [
        Self::Mirrors,
        Self::TowerTop,
        Self::ToTheFence,
        Self::GettingItBuilt,
        Self::KeepingItRunning,
    ];

    /// How many chapters there are.
    pub const COUNT: usize = Self::ALL.len();

    /// Stable key for files.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::Mirrors => "mirrors",
            Self::TowerTop => "tower_top",
            Self::ToTheFence => "to_the_fence",
            Self::GettingItBuilt => "getting_it_built",
            Self::KeepingItRunning => "keeping_it_running",
        }
    }

    /// Heading for people.
    #[must_use]
    pub const fn title(self) -> &'static str {
        match self {
            Self::Mirrors => "Mirrors with steel, drives and footings",
            Self::TowerTop => "Tower top",
            Self::ToTheFence => "To the fence",
            Self::GettingItBuilt => "Getting it built",
            Self::KeepingItRunning => "Keeping it running",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_chapter_holds_a_group_and_years_are_a_chapter_of_their_own() {
        for chapter in Chapter::ALL {
            let mut groups = Group::ALL
                .into_iter()
                .filter(|group| group.chapter() == chapter);
            let is_yearly = chapter == Chapter::KeepingItRunning;
            assert!(groups.clone().count() > 0, "{chapter:?}");
            assert!(groups.all(|group| group.is_yearly() == is_yearly));
        }
    }
}
