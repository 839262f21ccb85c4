//! The values of a string's drive: how its mirrors are set, what it senses, how tight its lines are, how
//! carefully it is made and how it lets go of the light.

/// What a string's drive is made of and how it is set.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct DriveDesign {
    /// Under how many suns the field is set, each sector by azimuth under its own; 0 for the one sun
    /// that the scenario gives.
    pub alignment_instants: u32,
    /// What mirrors are set by.
    pub set_by: SetBy,
    /// How the drive knows where its mirrors point.
    pub sensing: Sensing,
    /// What hands motion along a string.
    pub line: Line,
    /// Guides that hold a push-rod between two levers.
    pub rod_guides: u32,
    /// What ties the posts together.
    pub rail: Rail,
    /// Pretension of a strand over what gust and warmth take off it.
    pub pretension_ratio: f64,
    /// What turns the mirrors away when the grid fails.
    pub defocus: Defocus,
    /// How carefully it is made.
    pub workmanship: Workmanship,
}

/// What hands motion along a string, unless its levers slide on a bar.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Line {
    /// Loops of steel rod, kept tight.
    #[default]
    Rod,
    /// Loops of wire rope, kept tight.
    Rope,
    /// Tubes that push and pull.
    PushRod,
}

/// What ties the posts of a string together.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Rail {
    /// One rail along their heads.
    #[default]
    Continuous,
    /// Nothing: each stands for itself.
    None,
}

/// What mirrors are set on their targets by.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum SetBy {
    /// By the sun's image, at instants computed for each mirror.
    #[default]
    Sun,
    /// At night, by a laser whose beam comes back onto a mark of each mirror.
    Laser,
}

/// How a drive knows where its mirrors point.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Sensing {
    /// It counts its turns.
    #[default]
    OpenLoop,
    /// A sensor at each string's reference mirror.
    Sensor,
    /// Cameras that see the strings' light on the target.
    Camera,
}

/// What turns the mirrors away when the grid fails.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Defocus {
    /// Batteries that drive all strings away.
    #[default]
    StoredEnergy,
    /// Nothing but the sun's own motion.
    None,
    /// A spring with a brake that lets go.
    Spring,
}

/// How carefully the parts of a string are made and set, one class for each.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Workmanship {
    /// Posts, by their tilt.
    pub posts: Class,
    /// Axes, by how square they are.
    pub axes: Class,
    /// Joints, by their play.
    pub joints: Class,
    /// Levers, by their length.
    pub levers: Class,
    /// Mirrors, by how near they are set to their targets.
    pub offsets: Class,
}

/// A class of tolerance. The errors under `strings.tolerances` are those of [`Class::Common`].
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Class {
    /// Two and a half times as much.
    Coarse,
    /// What a good workshop and crew do without being asked.
    #[default]
    Common,
    /// Four tenths as much.
    Fine,
}

impl Class {
    /// Errors over those of the common class: each step of a preferred series of numbers with two and
    /// a half to the step (common practice, no source).
    #[must_use]
    pub const fn error_ratio(self) -> f64 {
        match self {
            Self::Coarse => 2.5,
            Self::Common => 1.0,
            Self::Fine => 0.4,
        }
    }
}
