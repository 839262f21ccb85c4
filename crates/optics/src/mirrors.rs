//! What all mirrors of a field have in common: reflectance, the ways they blur light, the air.

use geometry::exp;

use crate::sun_shape::SunBlur;

/// Refractive index of soda-lime glass for sunlight (common practice, no source).
const GLASS_INDEX: f64 = 1.52;

/// Light left after one mirror silvered on the back of its glass.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reflectance {
    /// Share reflected if the glass took nothing.
    pub silver: f64,
    /// Thickness of the glass.
    pub glass_thickness_m: f64,
    /// Extinction in the glass; grows with its iron content.
    pub extinction_per_m: f64,
    /// Share that dust leaves.
    pub cleanliness: f64,
}

impl Reflectance {
    /// Share of the light reflected at an incidence angle with cosine `incidence_cosine`: the
    /// light passes the glass twice along the refracted ray,
    /// ρ = silver·exp(−2·k·t/cos θ_glass)·cleanliness, sin θ = 1.52·sin θ_glass.
    #[inline]
    #[must_use]
    pub fn at(&self, incidence_cosine: f64) -> f64 {
        let sine2_in_glass =
            (1.0 - incidence_cosine * incidence_cosine) / (GLASS_INDEX * GLASS_INDEX);
        let path_m = 2.0 * self.glass_thickness_m / (1.0 - sine2_in_glass).sqrt();
        self.silver * exp::exp(-self.extinction_per_m * path_m) * self.cleanliness
    }
}

/// Reflectance of one kind of glass, ready for many incidence angles.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Glass {
    square_on: f32,
    /// Optical depth of the way through the glass and back, square on.
    depth: f32,
}

impl Glass {
    pub fn new(reflectance: &Reflectance) -> Self {
        Self {
            square_on: reflectance.at(1.0) as f32,
            depth: (2.0 * reflectance.extinction_per_m * reflectance.glass_thickness_m) as f32,
        }
    }

    /// [`Reflectance::at`], within 1e-6 for an optical depth up to 0.5: the exponential of the
    /// longer way on a slant, which is at most 0.33 times the depth, as its series.
    #[inline(always)]
    pub fn at(&self, incidence_cosine: f32) -> f32 {
        const PER_INDEX2: f32 = (1.0 / (GLASS_INDEX * GLASS_INDEX)) as f32;
        let sine2_in_glass = (1.0 - incidence_cosine * incidence_cosine) * PER_INDEX2;
        let longer = self.depth * (1.0 / (1.0 - sine2_in_glass).sqrt() - 1.0);
        let rest = 1.0 - longer * (1.0 / 3.0) * (1.0 - 0.25 * longer);
        self.square_on * (1.0 - longer * (1.0 - 0.5 * longer * rest))
    }
}

/// The air between mirror and aperture. The polynomials give less than 1 even at no distance:
/// 0.7 to 1.3 % is lost at any range.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Attenuation {
    /// Visibility about 40 km (form used by Schmitz et al., Solar Energy 80 (2006) 111–120; from
    /// memory).
    VeryClear,
    /// Visibility 23 km (cubic as in Stine & Geyer, Power From The Sun, eq. 10.6; from memory).
    ClearAir,
    /// Visibility 5 km (from memory).
    Hazy,
}

impl Attenuation {
    /// Share of the light that passes `slant_m` metres of air, for slant ranges up to about 2 km.
    #[must_use]
    pub fn transmittance(self, slant_m: f64) -> f64 {
        let slant_km = 1e-3 * slant_m;
        let share = match self {
            Self::VeryClear if slant_m <= 1000.0 => {
                0.993_21 - 0.1176 * slant_km + 0.0197 * slant_km * slant_km
            }
            Self::VeryClear => libm::exp(-0.1106 * slant_km),
            Self::ClearAir => {
                0.993_26 + slant_km * (-0.1046 + slant_km * (0.0170 - 0.002_845 * slant_km))
            }
            Self::Hazy => 0.987_07 + slant_km * (-0.2748 + 0.033_94 * slant_km),
        };
        share.clamp(0.0, 1.0)
    }
}

/// The panes that a mirror is made of, in even columns along its width and rows along its height,
/// without gaps. Each is canted as the paraboloid of the mirror's focal length lies at its middle.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Facets {
    /// How many side by side, 1 or more.
    pub columns: usize,
    /// How many one above the other, 1 or more.
    pub rows: usize,
    /// Not bent: the image of such a facet is no smaller than the facet. Else each is bent to the
    /// mirror's focal length, and all of them together are one paraboloid.
    pub are_flat: bool,
}

impl Facets {
    /// A mirror of one bent pane.
    pub const ONE_BENT: Self = Self {
        columns: 1,
        rows: 1,
        are_flat: false,
    };

    /// Share of the mirror's width and height that one facet has.
    pub(crate) fn share(self) -> [f32; 2] {
        [self.columns, self.rows].map(|count| 1.0 / count as f32)
    }
}

/// What all mirrors of a field have in common. Angles are root mean squares.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mirrors {
    /// What each is made of.
    pub facets: Facets,
    /// Light left after reflection.
    pub reflectance: Reflectance,
    /// Slope error of the normal, for each axis.
    pub slope_error_rad: f64,
    /// Beam spread by the reflecting layer itself, for each axis.
    pub scatter_rad: f64,
    /// Residual slope of a facet bent at its corners ÷ the slope of the paraboloid it should be
    /// (both root mean square over both axes together): 0.223 for a square pulled at its corners
    /// against its centre.
    pub bending_residual: f64,
    /// Slope that the weight of a panel lying flat adds, root mean square over both axes
    /// together; falls with the cosine of its tilt.
    pub gravity_slope_rad: f64,
    /// Spread of the sun's own rays.
    pub sun: SunBlur,
    /// The air on the way.
    pub attenuation: Attenuation,
}

/// Residual slope of a square pulled at its corners, as a share of the paraboloid's slope
/// (plate calculation, two independent methods within 0.1 %).
pub const CORNER_PULLED_SQUARE: f64 = 0.223;

#[cfg(test)]
mod tests {
    use book::Check;

    use super::*;

    const SLANTS_M: [f64; 10] = [
        50.0, 100.0, 200.0, 300.0, 500.0, 700.0, 1000.0, 1200.0, 1500.0, 2000.0,
    ];

    /// Table computed once from the published polynomials (constants from memory); it fixes the
    /// coefficients against slips of the pen.
    #[test]
    fn attenuation_tables() {
        let tables = [
            (
                Attenuation::VeryClear,
                [
                    0.987379, 0.981647, 0.970478, 0.959703, 0.939335, 0.920543, 0.895310, 0.875710,
                    0.847131, 0.801556,
                ],
            ),
            (
                Attenuation::ClearAir,
                [
                    0.988073, 0.982968, 0.972998, 0.963334, 0.944855, 0.927395, 0.902816, 0.887305,
                    0.865009, 0.829301,
                ],
            ),
            (
                Attenuation::Hazy,
                [
                    0.973415, 0.959929, 0.933468, 0.907685, 0.858155, 0.811341, 0.746210, 0.706184,
                    0.651235, 0.573230,
                ],
            ),
        ];
        let pairs = tables.into_iter().flat_map(|(air, shares)| {
            let found = SLANTS_M.map(|slant_m| air.transmittance(slant_m));
            shares.into_iter().zip(found)
        });
        Check {
            id: "optics.air_on_the_way",
            model: "Light that air lets through to the aperture",
            equation: "cubic in the slant range, one for each of three kinds of air",
            source: "Stine & Geyer, equation 10.6; Schmitz et al. 2006, Solar Energy 80 (from memory)",
            validity: "slant ranges up to about 2 km, visibility 40, 23 or 5 km",
            against: "the same polynomials evaluated independently at ten ranges",
            unit: "",
        }
        .within(2e-6, pairs);
    }

    fn low_iron(glass_thickness_m: f64, extinction_per_m: f64) -> Reflectance {
        Reflectance {
            silver: 0.96,
            glass_thickness_m,
            extinction_per_m,
            cleanliness: 1.0,
        }
    }

    #[test]
    fn no_glass_leaves_the_silver() {
        assert!((low_iron(0.0, 4.0).at(0.3) - 0.96).abs() < 1e-9);
    }

    /// Square to the panel, exp(−2kt); grazing, the ray in the glass leans to asin(1/1.52), so the
    /// path is 2t/0.7531 (Snell).
    #[test]
    fn path_in_the_glass() {
        let glass = low_iron(4e-3, 4.0);
        assert!((glass.at(1.0) - 0.96 * libm::exp(-0.032)).abs() < 1e-8);
        assert!((glass.at(0.0) - 0.96 * libm::exp(-0.032 / 0.753_109)).abs() < 1e-7);
        assert!(glass.at(0.5) < glass.at(1.0));
    }

    #[test]
    fn many_angles_at_once() {
        for (thickness_m, extinction_per_m) in [(3e-3, 4.0), (6e-3, 15.0), (6e-3, 40.0)] {
            let reflectance = low_iron(thickness_m, extinction_per_m);
            let glass = Glass::new(&reflectance);
            for step in 0..=100 {
                let cosine = 0.01 * f64::from(step);
                let found = f64::from(glass.at(cosine as f32));
                assert!((found - reflectance.at(cosine)).abs() < 2e-6);
            }
        }
    }

    /// Solar reflectance of silvered low-iron glass: 0.93–0.94 at 4 mm, ordinary float 0.83–0.88
    /// at 4 mm (common practice, from memory): extinctions of about 4 and 15 per metre give them.
    #[test]
    fn usual_reflectances() {
        assert!((0.925..0.945).contains(&low_iron(4e-3, 4.0).at(1.0)));
        assert!((0.83..0.88).contains(&low_iron(4e-3, 15.0).at(1.0)));
    }
}
