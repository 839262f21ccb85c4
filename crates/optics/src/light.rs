//! The loss chain of one string under eight suns.

use field::{Plan, Stance};
use geometry::{LANES, Lane, LaneVec3, Vec3, abreast};

use crate::aperture::Aperture;
use crate::coarse::{Coarse, CoarseVec3, coarse_vectors, fine};
use crate::cover::Cover;
use crate::flux::Density;
use crate::flux_sums::FluxSums;
use crate::image::{Image, Optic};
use crate::intercept;
use crate::mirrors::{Glass, Mirrors};
use crate::neighbours::{Neighbourhood, SunSpread};
use crate::panel::Panel;
use crate::shading::open_shares;
use crate::spots::{Spots, Watched};
use crate::tower::TowerShadows;
use crate::windows::Windows;

/// The sums of the loss chain, in order.
pub const STEPS: usize = 7;

/// Light of some mirrors under eight suns. Each sum takes the product of every mirror's own
/// factors up to that step, so the ratio of two successive sums is the field's factor, and the
/// last sum times DNI is the power through the aperture.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct LightSums {
    /// Glass area; × cosine; × shading; × blocking; × reflectance; × attenuation; × intercept.
    pub steps_m2: [Lane; STEPS],
    /// Flux ÷ DNI at the aperture's watched spots; empty if it is not asked for. The flux of a field is the
    /// sum over its strings at each spot; only then does [`Watched::peak`] tell its peak.
    pub flux_suns: FluxSums,
    watched: Watched,
}

impl LightSums {
    /// Sums that ask for the flux at these spots too.
    #[must_use]
    pub fn watching(watched: Watched) -> Self {
        Self {
            flux_suns: FluxSums::none(&watched.spots),
            watched,
            ..Self::default()
        }
    }

    /// Puts all light out again.
    pub fn clear(&mut self) {
        self.steps_m2 = [[0.0; LANES]; STEPS];
        self.flux_suns.clear();
    }

    /// The largest flux ÷ DNI, as the watched spots tell it; nothing if flux is not asked for.
    #[must_use]
    pub fn peak_suns(&self) -> Lane {
        if self.flux_suns.is_empty() {
            return [0.0; LANES];
        }
        let flux_suns: Vec<Lane> = self.flux_suns.lanes().collect();
        std::array::from_fn(|lane| self.watched.peak(|spot| flux_suns[spot][lane]))
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

/// For how many others the mirrors speak that are looked at.
#[derive(Clone, Copy)]
pub struct Speaking<'a> {
    /// For so many each of them at each aim.
    pub times: f64,
    /// The same for the flux of the first, the second and so on; flux is not asked of one that speaks for none.
    pub flux_times: &'a dyn Fn(usize) -> f64,
    /// From its own aim to those of the others for whom it speaks [m].
    pub others_m: &'a [Vec3],
}

impl Speaking<'_> {
    /// For itself.
    pub const FOR_ITSELF: Speaking<'static> = Speaking {
        times: 1.0,
        flux_times: &|_| 1.0,
        others_m: &[],
    };
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
    fn sent_m2(&self, area_m2: f64) -> Coarse {
        let mut sent_m2 = [0.0; LANES];
        for lane in 0..LANES {
            let sent = area_m2
                * self.cosine[lane]
                * self.lit[lane]
                * self.unblocked[lane]
                * self.reflectance[lane]
                * self.transmittance;
            sent_m2[lane] = sent as f32;
        }
        sent_m2
    }
}

/// A field as its light sees it.
#[derive(Clone, Copy)]
pub struct Scene<'a> {
    /// Where the mirrors stand.
    pub plan: &'a Plan,
    /// Who may shade or block whom.
    pub hood: &'a Neighbourhood<'a>,
    /// The panels.
    pub mirrors: &'a Mirrors,
    /// Where the light goes.
    pub aperture: &'a Aperture,
}

impl<'a> Scene<'a> {
    /// The field under eight suns.
    #[must_use]
    pub fn under(self, suns: &LaneVec3) -> Sunlit<'a> {
        let coarse_suns = coarse_vectors(suns);
        Sunlit {
            tower: TowerShadows::new(self.hood.tower(), &coarse_suns),
            suns: coarse_suns,
            spread: SunSpread::new(suns),
            windows: Windows::new(self.aperture),
            glass: Glass::new(&self.mirrors.reflectance),
            cover: Cover::new(),
            scene: self,
        }
    }
}

/// A field under eight suns, ready for one string after another.
///
/// Neighbours are taken as aimed at their own aim points. What they cover of a mirror is clipped corner by
/// corner, and the area covered by several is that of their union: against polygon clipping by a
/// general-purpose library every mirror's open share is off by less than 0.001
/// (`crates/optics/tests/clipping.rs`). Blocked light runs towards the mirror's own focus.
pub struct Sunlit<'a> {
    scene: Scene<'a>,
    suns: CoarseVec3,
    spread: SunSpread,
    tower: TowerShadows,
    windows: Windows,
    glass: Glass,
    cover: Cover,
}

impl Sunlit<'_> {
    /// Takes sides of neighbours that lean by up to a tenth as straight: a mirror's open share is then off
    /// by up to a hundredth, their mean by less than 0.0001 (`crates/optics/tests/clipping.rs`).
    #[must_use]
    pub fn quickly(mut self) -> Self {
        self.cover.look_quickly();
        self
    }

    /// Adds up the light of the mirrors `which` (places within the string, 0 the first) of string
    /// `string`, in mirror order. `stance` is that of the whole string.
    pub fn add_light(
        &mut self,
        string: usize,
        which: impl IntoIterator<Item = usize>,
        stance: &Stance,
        sums: &mut LightSums,
    ) {
        self.add_light_for(string, which, &Speaking::FOR_ITSELF, stance, sums);
    }

    /// The same of mirrors that speak for others.
    pub fn add_light_for(
        &mut self,
        string: usize,
        which: impl IntoIterator<Item = usize>,
        speaking: &Speaking,
        stance: &Stance,
        sums: &mut LightSums,
    ) {
        let Scene { plan, aperture, .. } = self.scene;
        let (first, watched) = (plan.strings[string].first_mirror, sums.watched);
        let Speaking {
            times, others_m, ..
        } = *speaking;
        let many = times * (1 + others_m.len()) as f64;
        let mut index = 0;
        self.visit(
            string,
            which,
            others_m,
            stance,
            |place, light, optic, image| {
                let area_m2 = plan.area_m2(first + place);
                sums.add(many * area_m2, light);
                let flux_suns = &mut sums.flux_suns;
                let watched_m2 = (speaking.flux_times)(index) * area_m2;
                index += 1;
                if watched_m2 > 0.0 && !flux_suns.is_empty() {
                    let sent_m2 = light.sent_m2(watched_m2);
                    abreast(
                        #[inline(always)]
                        || {
                            let spots = &watched.spots;
                            let density = Density::new(image, &sent_m2);
                            density.add(aperture, optic, spots, flux_suns.next_image());
                            for aim_m in others_m {
                                let density = density.moved(optic, *aim_m);
                                density.add(aperture, optic, spots, flux_suns.next_image());
                            }
                        },
                    );
                }
            },
        );
    }

    /// Hands the factors of each mirror of `which` to `each`, with its place within the string; as
    /// [`Sunlit::add_light`] computes them.
    pub fn each_mirror(
        &mut self,
        string: usize,
        which: impl IntoIterator<Item = usize>,
        stance: &Stance,
        mut each: impl FnMut(usize, &MirrorLight),
    ) {
        self.visit(string, which, &[], stance, |place, light, _, _| {
            each(place, light);
        });
    }

    /// Adds the flux ÷ DNI of a whole string at `spots` of the aperture to `flux_suns`, which has as many.
    pub fn add_flux(
        &mut self,
        string: usize,
        stance: &Stance,
        spots: &Spots,
        flux_suns: &mut FluxSums,
    ) {
        let Scene { plan, aperture, .. } = self.scene;
        let row = &plan.strings[string];
        let all = 0..row.mirror_count;
        self.visit(string, all, &[], stance, |place, light, optic, image| {
            let sent_m2 = light.sent_m2(plan.area_m2(row.first_mirror + place));
            abreast(
                #[inline(always)]
                || {
                    let density = Density::new(image, &sent_m2);
                    density.add(aperture, optic, spots, flux_suns.next_image());
                },
            );
        });
    }

    /// Goes through the mirrors `which` of a string: the place of each, its factors, and its image. Its intercept is
    /// the mean over its own aim and those of others.
    #[inline(always)]
    fn visit(
        &mut self,
        string: usize,
        which: impl IntoIterator<Item = usize>,
        others_m: &[Vec3],
        stance: &Stance,
        mut each: impl FnMut(usize, &MirrorLight, &Optic, &Image),
    ) {
        let width_edge = coarse_vectors(&stance.width_edge);
        for place in which {
            let (light, optic, image) = abreast(
                #[inline(always)]
                || self.look_at(string, place, others_m, stance, &width_edge),
            );
            each(place, &light, &optic, &image);
        }
    }

    /// The factors of one mirror and its image.
    #[inline(always)]
    fn look_at(
        &mut self,
        string: usize,
        place: usize,
        others_m: &[Vec3],
        stance: &Stance,
        width_edge: &CoarseVec3,
    ) -> (MirrorLight, Optic, Image) {
        let Scene {
            plan,
            hood,
            mirrors,
            aperture,
        } = self.scene;
        let mirror = plan.strings[string].first_mirror + place;
        let normal = coarse_vectors(&stance.normals[place]);
        let panel = Panel::new(&normal, width_edge, &self.suns);
        let optic = Optic::new(plan, mirror, mirrors, aperture);
        let (lit, unblocked) = open_shares(
            hood,
            &self.spread,
            &self.tower,
            mirror,
            &panel,
            optic.power_per_m,
            &mut self.cover,
        );
        let opening = self.cover.opening();
        let image = Image::new(&optic, &panel, &opening, &self.suns, stance, place);
        let slant_m = aperture.centre_m.distance(plan.centre_m(mirror));
        let light = MirrorLight {
            cosine: fine(&panel.cosine),
            lit: fine(&lit),
            unblocked: fine(&unblocked),
            reflectance: fine(&reflectances(&self.glass, &panel)),
            transmittance: mirrors.attenuation.transmittance(slant_m),
            intercept: fine(&self.mean_intercept(&image, &optic, others_m)),
            right_m: fine(&image.right.offset_m),
            up_m: fine(&image.up.offset_m),
        };
        (light, optic, image)
    }

    /// In the mean over its own aim and those of others.
    #[inline(always)]
    fn mean_intercept(&self, image: &Image, optic: &Optic, others_m: &[Vec3]) -> Coarse {
        let mut mean = intercept::share_inside(image, &self.windows);
        if others_m.is_empty() {
            return mean;
        }
        for aim_m in others_m {
            let inside = intercept::share_inside(&image.moved(optic, *aim_m), &self.windows);
            for lane in 0..LANES {
                mean[lane] += inside[lane];
            }
        }
        let share = 1.0 / (1 + others_m.len()) as f32;
        mean.map(|sum| share * sum)
    }
}

#[inline(always)]
fn reflectances(glass: &Glass, panel: &Panel) -> Coarse {
    let mut shares = [0.0; LANES];
    for lane in 0..LANES {
        shares[lane] = glass.at(panel.cosine[lane]);
    }
    shares
}
