//! Signed margins: how far every check is from its limit.

/// A check that a string or a heliostat must pass.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Check {
    /// Lasting glass stress of focusing and gravity.
    GlassFocusing,
    /// Glass in the strongest operating wind, with its lasting stress.
    GlassOperating,
    /// Glass on the way to stow, with its lasting stress.
    GlassDriveToStow,
    /// Glass in stow, with its lasting stress.
    GlassSurvival,
    /// Star behind the panel.
    Star,
    /// Post.
    Post,
    /// Embedded length of the posts.
    Footing,
    /// Rail; not of posts of their own.
    Rail,
    /// Drive lines, rods or bar.
    Line,
    /// Arms and legs of the frames.
    FrameArm,
    /// Trusses behind many panels; not of a string.
    Truss,
    /// Tube that turns them; not of a string.
    TorqueTube,
}

impl Check {
    /// Every check.
    pub const ALL: [Self; 12] = [
        Self::GlassFocusing,
        Self::GlassOperating,
        Self::GlassDriveToStow,
        Self::GlassSurvival,
        Self::Star,
        Self::Post,
        Self::Footing,
        Self::Rail,
        Self::Line,
        Self::FrameArm,
        Self::Truss,
        Self::TorqueTube,
    ];

    /// How many checks there are.
    pub const COUNT: usize = Self::ALL.len();

    /// Stable key for files.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::GlassFocusing => "glass_focusing",
            Self::GlassOperating => "glass_operating",
            Self::GlassDriveToStow => "glass_drive_to_stow",
            Self::GlassSurvival => "glass_survival",
            Self::Star => "star",
            Self::Post => "post",
            Self::Footing => "footing",
            Self::Rail => "rail",
            Self::Line => "line",
            Self::FrameArm => "frame_arm",
            Self::Truss => "truss",
            Self::TorqueTube => "torque_tube",
        }
    }
}

/// 1 − utilisation of every check; below zero where a limit is passed, not a number where there is
/// no such part.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Margins {
    margin: [f64; Check::COUNT],
}

impl Margins {
    /// Margins from the utilisation of every check.
    pub fn from_utilisations(utilisation: impl Fn(Check) -> f64) -> Self {
        Self {
            margin: Check::ALL.map(|check| 1.0 - utilisation(check)),
        }
    }

    /// Margin of one check.
    #[must_use]
    pub const fn get(&self, check: Check) -> f64 {
        self.margin[check as usize]
    }

    /// The check with the least margin.
    #[must_use]
    pub fn worst(&self) -> (Check, f64) {
        Check::ALL
            .into_iter()
            .map(|check| (check, self.get(check)))
            .fold((Check::GlassFocusing, f64::INFINITY), |least, next| {
                if next.1 < least.1 { next } else { least }
            })
    }

    /// Whether everything holds.
    #[must_use]
    pub fn hold(&self) -> bool {
        self.worst().1 >= 0.0
    }
}
