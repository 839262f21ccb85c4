//! The loss chain of one string under eight suns.

use std::ops::Range;

use field::{Plan, Stance};
use geometry::{LANES, Lane, LaneVec3};

use crate::aperture::Aperture;
use crate::cover::Cover;
use crate::image::Image;
use crate::intercept;
use crate::mirrors::Mirrors;
use crate::neighbours::{Neighbourhood, SunSpread};
use crate::panel::{Panel, array, dot};

/// The sums of the loss chain, in order.
pub const STEPS: usize = 7;

/// Names of the steps: what each sum has been multiplied by last.
pub const STEP_NAMES: [&str; STEPS] = [
    "glass area",
    "cosine",
    "shading",
    "blocking",
    "reflectance",
    "attenuation",
    "intercept",
];

/// Light of some mirrors under eight suns. Each sum takes the product of every mirror's own
/// factors up to that step, so the ratio of two successive sums is the field's factor, and the
/// last sum times DNI is the power through the aperture.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct LightSums {
    /// Glass area; × cosine; × shading; × blocking; × reflectance; × attenuation; × intercept.
    pub steps_m2: [Lane; STEPS],
    /// Flux at the aperture's centre ÷ DNI.
    pub peak_suns: Lane,
}

impl LightSums {
    /// Adds the light of one mirror of area `area_m2`.
    fn add(&mut self, area_m2: f64, light: &MirrorLight) {
        for lane in 0..LANES {
            let cosine = area_m2 * light.cosine[lane];
            let shading = cosine * light.lit[lane];
            let blocking = shading * light.unblocked[lane];
            let reflectance = blocking * light.reflectance[lane];
            let attenuation = reflectance * light.transmittance;
            let intercept = attenuation * light.intercept[lane];
            self.steps_m2[0][lane] += area_m2;
            self.steps_m2[1][lane] += cosine;
            self.steps_m2[2][lane] += shading;
            self.steps_m2[3][lane] += blocking;
            self.steps_m2[4][lane] += reflectance;
            self.steps_m2[5][lane] += attenuation;
            self.steps_m2[6][lane] += intercept;
            self.peak_suns[lane] += attenuation * light.centre_density_per_m2[lane];
        }
    }
}

/// The factors of one mirror under eight suns, each in 0 … 1.
#[derive(Clone, Copy, Debug)]
pub struct MirrorLight {
    /// Cosine of the incidence angle.
    pub cosine: Lane,
    /// Share of the panel that no other panel shades.
    pub lit: Lane,
    /// Share of the lit part whose reflected light no other panel blocks.
    pub unblocked: Lane,
    /// Reflectance.
    pub reflectance: Lane,
    /// Transmittance of the air to the aperture.
    pub transmittance: f64,
    /// Share of the image inside the aperture.
    pub intercept: Lane,
    /// Where the image's centre falls, from the aperture's centre, to the right.
    pub right_m: Lane,
    /// Where the image's centre falls, from the aperture's centre, upwards.
    pub up_m: Lane,
    /// Density of the image at the aperture's centre: share of the light for each square metre.
    pub centre_density_per_m2: Lane,
}

/// Adds up the light of the mirrors `which` (places within the string, 0 the first) of string
/// `string` under eight suns, in mirror order.
///
/// Neighbours are taken as parallel to the mirror that they shade or block, edges too, so that
/// their shadows are rectangles on it; the area covered by several is that of their union, exactly.
/// Blocked light runs towards the mirror's own focus. `stance` is that of the whole string.
#[allow(clippy::too_many_arguments)]
pub fn light_of_string(
    plan: &Plan,
    hood: &Neighbourhood,
    mirrors: &Mirrors,
    aperture: &Aperture,
    string: usize,
    which: Range<usize>,
    suns: &LaneVec3,
    stance: &Stance,
    sums: &mut LightSums,
) {
    each_mirror(
        plan,
        hood,
        mirrors,
        aperture,
        string,
        which,
        suns,
        stance,
        |place, light| {
            let mirror = plan.strings[string].first_mirror + place;
            sums.add(plan.area_m2(mirror), light);
        },
    );
}

/// Hands the factors of each mirror of `which` to `each`, with its place within the string; as
/// [`light_of_string`] computes them.
#[allow(clippy::too_many_arguments)]
pub fn each_mirror(
    plan: &Plan,
    hood: &Neighbourhood,
    mirrors: &Mirrors,
    aperture: &Aperture,
    string: usize,
    which: Range<usize>,
    suns: &LaneVec3,
    stance: &Stance,
    mut each: impl FnMut(usize, &MirrorLight),
) {
    let spread = SunSpread::new(suns);
    let mut cover = Cover::new();
    let half_m = [0.5 * aperture.width_m, 0.5 * aperture.height_m];
    for place in which {
        let mirror = plan.strings[string].first_mirror + place;
        let panel = Panel::new(&stance.normals[place], &stance.width_edge, suns);
        let (lit, unblocked) = open_shares(plan, hood, &spread, mirror, &panel, &mut cover);
        let image = Image::new(plan, mirror, mirrors, aperture, suns, &panel, stance, place);
        let slant_m = aperture.centre_m.distance(plan.centre_m(mirror));
        let light = MirrorLight {
            cosine: panel.cosine,
            lit,
            unblocked,
            reflectance: reflectances(mirrors, &panel),
            transmittance: mirrors.attenuation.transmittance(slant_m),
            intercept: intercept::share_inside(&image, half_m),
            right_m: image.offset_m[0],
            up_m: image.offset_m[1],
            centre_density_per_m2: intercept::density_at_centre(&image),
        };
        each(place, &light);
    }
}

fn reflectances(mirrors: &Mirrors, panel: &Panel) -> Lane {
    let mut shares = [0.0; LANES];
    for lane in 0..LANES {
        shares[lane] = mirrors.reflectance.at(panel.cosine[lane]);
    }
    shares
}

/// Share of the panel that is lit, and share of the lit part that is not blocked.
fn open_shares(
    plan: &Plan,
    hood: &Neighbourhood,
    spread: &SunSpread,
    mirror: usize,
    panel: &Panel,
    cover: &mut Cover,
) -> (Lane, Lane) {
    cover.clear(plan.width_m[mirror], plan.height_m[mirror]);
    let sunward = Casting::new(panel, 1.0, 0.0);
    for other in spread.choose(hood.shaders(mirror)) {
        sunward.cast(plan, mirror, other, panel, cover);
    }
    let shaded_m2 = cover.area_m2();
    let blockers = hood.blockers(mirror);
    if !blockers.is_empty() {
        let aimward = Casting::new(panel, -1.0, 1.0 / plan.focal_length_m[mirror]);
        for &other in blockers {
            aimward.cast(plan, mirror, other as usize, panel, cover);
        }
    }
    let covered_m2 = if blockers.is_empty() {
        shaded_m2
    } else {
        cover.area_m2()
    };
    let area_m2 = plan.area_m2(mirror);
    let (mut lit, mut unblocked) = ([0.0; LANES], [0.0; LANES]);
    for lane in 0..LANES {
        let lit_m2 = area_m2 - shaded_m2[lane];
        lit[lane] = (lit_m2 / area_m2).clamp(0.0, 1.0);
        let open = (area_m2 - covered_m2[lane]) / lit_m2.max(1e-12 * area_m2);
        unblocked[lane] = open.clamp(0.0, 1.0);
    }
    (lit, unblocked)
}

/// Casts neighbours onto a panel's plane along rays from the sun, or along its own reflected rays
/// that run together in its focus.
struct Casting {
    /// Takes a neighbour's place to the panel's `across`, along the rays.
    across: LaneVec3,
    /// The same for `along`.
    along: LaneVec3,
    /// 1 ÷ height of the focus above the panel's plane.
    convergence_per_m: Lane,
}

impl Casting {
    /// `towards_sun` is 1 for rays from the sun, −1 for reflected ones: both make the same angle
    /// with the normal and differ in the sign of their run along the panel.
    fn new(panel: &Panel, towards_sun: f64, power_per_m: f64) -> Self {
        let none = [0.0; LANES];
        let mut casting = Self {
            across: [none; 3],
            along: [none; 3],
            convergence_per_m: none,
        };
        for lane in 0..LANES {
            let cosine = panel.cosine[lane];
            let inverse = 1.0 / if cosine > 1e-6 { cosine } else { 1e-6 };
            let run_across = towards_sun * inverse * panel.sun_across[lane];
            let run_along = towards_sun * inverse * panel.sun_along[lane];
            for axis in 0..3 {
                let normal = panel.normal[axis][lane];
                casting.across[axis][lane] = panel.across[axis][lane] - run_across * normal;
                casting.along[axis][lane] = panel.along[axis][lane] - run_along * normal;
            }
            casting.convergence_per_m[lane] = power_per_m * inverse;
        }
        casting
    }

    /// Adds the rectangle that panel `other`, taken as parallel, covers of panel `mirror`.
    fn cast(&self, plan: &Plan, mirror: usize, other: usize, panel: &Panel, cover: &mut Cover) {
        let away_m = array(plan.centre_m(other) - plan.centre_m(mirror));
        let half_m = [0.5 * plan.width_m[other], 0.5 * plan.height_m[other]];
        let own_m = [cover.half_width_m(), cover.half_height_m()];
        let (mut x_m, mut y_m, mut scale) = ([0.0; LANES], [0.0; LANES], [0.0; LANES]);
        let mut overlap_m = [0.0; LANES];
        let mut most_m = 0.0;
        for lane in 0..LANES {
            let ahead_m = dot(away_m, column(&panel.normal, lane));
            let shrink = 1.0 - ahead_m * self.convergence_per_m[lane];
            scale[lane] = 1.0 / if shrink > 0.1 { shrink } else { 0.1 };
            x_m[lane] = scale[lane] * dot(away_m, column(&self.across, lane));
            y_m[lane] = scale[lane] * dot(away_m, column(&self.along, lane));
            let x_overlap_m = own_m[0] + scale[lane] * half_m[0] - x_m[lane].abs();
            let y_overlap_m = own_m[1] + scale[lane] * half_m[1] - y_m[lane].abs();
            let least = if x_overlap_m < y_overlap_m {
                x_overlap_m
            } else {
                y_overlap_m
            };
            overlap_m[lane] = if ahead_m > 0.0 { least } else { 0.0 };
            most_m = if overlap_m[lane] > most_m {
                overlap_m[lane]
            } else {
                most_m
            };
        }
        if most_m <= 0.0 {
            return;
        }
        for lane in 0..LANES {
            if overlap_m[lane] > 0.0 {
                let half_m = [scale[lane] * half_m[0], scale[lane] * half_m[1]];
                cover.add(lane, [x_m[lane], y_m[lane]], half_m);
            }
        }
    }
}

#[inline(always)]
fn column(vectors: &LaneVec3, lane: usize) -> [f64; 3] {
    [vectors[0][lane], vectors[1][lane], vectors[2][lane]]
}
