//! The loss chain of one string under eight suns.

use field::{Plan, Stance};
use geometry::{LANES, Lane, LaneVec3};

use crate::aperture::Aperture;
use crate::cover::Cover;
use crate::flux::Density;
use crate::image::{Image, Optic};
use crate::intercept;
use crate::mirrors::{Glass, Mirrors};
use crate::neighbours::{Neighbourhood, SunSpread};
use crate::panel::{Panel, greater};
use crate::shading::open_shares;
use crate::spots::{Spots, WATCHED};
use crate::windows::Windows;

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
    /// Flux ÷ DNI at the aperture's watched spots ([`Spots::watched`]), if asked for. The flux of
    /// a field is the sum over its strings at each spot; only then is the largest its peak.
    pub flux_suns: Option<[Lane; WATCHED]>,
}

impl LightSums {
    /// Sums that ask for the flux at the watched spots too.
    #[must_use]
    pub fn with_flux() -> Self {
        Self {
            flux_suns: Some([[0.0; LANES]; WATCHED]),
            ..Self::default()
        }
    }

    /// The largest flux of any watched spot ÷ DNI; nothing if flux is not asked for.
    #[must_use]
    pub fn peak_suns(&self) -> Lane {
        let mut peak_suns = [0.0; LANES];
        for flux_suns in self.flux_suns.iter().flatten() {
            for lane in 0..LANES {
                peak_suns[lane] = greater(peak_suns[lane], flux_suns[lane]);
            }
        }
        peak_suns
    }

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
}

impl MirrorLight {
    /// Effective area of the light that comes to the aperture's plane, of a mirror of `area_m2`.
    fn sent_m2(&self, area_m2: f64) -> Lane {
        let mut sent_m2 = [0.0; LANES];
        for lane in 0..LANES {
            sent_m2[lane] = area_m2
                * self.cosine[lane]
                * self.lit[lane]
                * self.unblocked[lane]
                * self.reflectance[lane]
                * self.transmittance;
        }
        sent_m2
    }
}

/// Adds up the light of the mirrors `which` (places within the string, 0 the first) of string
/// `string` under eight suns, in mirror order.
///
/// Neighbours are taken as parallel to the mirror that they shade or block, edges too, and as
/// aimed at the same point, which stretches their shadows a little; so these are rectangles on the
/// mirror, and the area covered by several is that of their union, exactly. Against panels that
/// each keep their own orientation this is off by about 0.01 points of the yearly light and 0.3
/// points at an instant. Blocked light runs towards the mirror's own focus. `stance` is that of the
/// whole string.
#[allow(clippy::too_many_arguments)]
pub fn light_of_string(
    plan: &Plan,
    hood: &Neighbourhood,
    mirrors: &Mirrors,
    aperture: &Aperture,
    string: usize,
    which: impl IntoIterator<Item = usize>,
    suns: &LaneVec3,
    stance: &Stance,
    sums: &mut LightSums,
) {
    let watched = Spots::watched(aperture);
    visit(
        plan,
        hood,
        mirrors,
        aperture,
        string,
        which,
        suns,
        stance,
        |place, light, optic, image| {
            let area_m2 = plan.area_m2(plan.strings[string].first_mirror + place);
            sums.add(area_m2, light);
            if let Some(flux_suns) = &mut sums.flux_suns {
                let sent_m2 = light.sent_m2(area_m2);
                watched.add(aperture, &Density::new(image), optic, &sent_m2, flux_suns);
            }
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
    which: impl IntoIterator<Item = usize>,
    suns: &LaneVec3,
    stance: &Stance,
    mut each: impl FnMut(usize, &MirrorLight),
) {
    visit(
        plan,
        hood,
        mirrors,
        aperture,
        string,
        which,
        suns,
        stance,
        |place, light, _, _| each(place, light),
    );
}

/// Adds the flux ÷ DNI of a whole string at `spots` of the aperture to `flux_suns`, one entry for
/// each spot.
#[allow(clippy::too_many_arguments)]
pub fn flux_of_string(
    plan: &Plan,
    hood: &Neighbourhood,
    mirrors: &Mirrors,
    aperture: &Aperture,
    string: usize,
    suns: &LaneVec3,
    stance: &Stance,
    spots: &Spots,
    flux_suns: &mut [Lane],
) {
    let row = &plan.strings[string];
    visit(
        plan,
        hood,
        mirrors,
        aperture,
        string,
        0..row.mirror_count,
        suns,
        stance,
        |place, light, optic, image| {
            let sent_m2 = light.sent_m2(plan.area_m2(row.first_mirror + place));
            spots.add(aperture, &Density::new(image), optic, &sent_m2, flux_suns);
        },
    );
}

/// Goes through the mirrors `which` of a string: the place of each, its factors, and its image.
#[allow(clippy::too_many_arguments)]
#[inline(always)]
fn visit(
    plan: &Plan,
    hood: &Neighbourhood,
    mirrors: &Mirrors,
    aperture: &Aperture,
    string: usize,
    which: impl IntoIterator<Item = usize>,
    suns: &LaneVec3,
    stance: &Stance,
    mut each: impl FnMut(usize, &MirrorLight, &Optic, &Image),
) {
    let spread = SunSpread::new(suns);
    let mut cover = Cover::new();
    let windows = Windows::new(aperture);
    let glass = Glass::new(&mirrors.reflectance);
    for place in which {
        let mirror = plan.strings[string].first_mirror + place;
        let panel = Panel::new(&stance.normals[place], &stance.width_edge, suns);
        let (lit, unblocked) = open_shares(plan, hood, &spread, mirror, &panel, suns, &mut cover);
        let optic = Optic::new(plan, mirror, mirrors, aperture);
        let image = Image::new(&optic, &panel, suns, stance, place);
        let slant_m = aperture.centre_m.distance(plan.centre_m(mirror));
        let light = MirrorLight {
            cosine: panel.cosine,
            lit,
            unblocked,
            reflectance: reflectances(&glass, &panel),
            transmittance: mirrors.attenuation.transmittance(slant_m),
            intercept: intercept::share_inside(&image, &windows),
            right_m: image.right.offset_m,
            up_m: image.up.offset_m,
        };
        each(place, &light, &optic, &image);
    }
}

fn reflectances(glass: &Glass, panel: &Panel) -> Lane {
    let mut shares = [0.0; LANES];
    for lane in 0..LANES {
        shares[lane] = glass.at(panel.cosine[lane]);
    }
    shares
}
