//! What becomes of the light when drives stop: one stalled string, the whole field when the grid
//! fails, and how far away it still harms the eye.

use drive::{Glint, Screen, sun_after};
use field::Stance;
use geometry::{LANES, Lane, LaneVec3, Vec3, lane};
use optics::{Aperture, FluxSums, Neighbourhood, STEPS, Scene, Spots};
use scenario::Design;

use crate::case::Case;
use crate::evaluate::Scratch;
use crate::fidelity::Fidelity;
use crate::infeasible::Infeasible;
use crate::lay::lay;
use crate::light::{Field, even_sample};
use crate::margins::Margins;
use crate::site::Sited;
use crate::year_light::shine;

/// When the stalled field is looked at [s].
const TIMES_S: [f64; LANES] = [0.0, 60.0, 120.0, 240.0, 360.0, 600.0, 900.0, 1500.0];

/// The plane around the aperture that is watched, over the aperture's own size, and the spots on it
/// each way.
const WIDER: f64 = 7.0;
const SPOTS: usize = 35;

/// Strings that are stalled one by one, and the steps in which they are followed [s].
const STALLED: usize = 24;
const STEP_S: f64 = 2.0;
const LONGEST_S: f64 = 3600.0;

/// Half-angle of the sun and of usual slope errors behind a panel's beam [rad]; common practice, no
/// source.
const IMAGE_HALF_RAD: f64 = 6e-3;

/// A string whose drive has stopped under the year's brightest sun, over strings that speak for the
/// field.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Stall {
    /// Until the middle of its light has left the aperture: shortest, middle one and longest [s].
    pub leaves_s: [f64; 3],
    /// Where it goes, of the middle one: metres to the right and up for each minute, seen from the
    /// field.
    pub path_m_min: [f64; 2],
    /// How far its mirrors' light has spread when it leaves, root mean square, and what that was at
    /// the start [m].
    pub spread_m: [f64; 2],
}

/// The light of the whole field some time after the grid failed.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Later {
    /// Time since [s].
    pub time_s: f64,
    /// Light that still enters the aperture, as a share of what did at the start.
    pub entering: f64,
    /// Irradiance of the spot of the aperture that was the brightest at the start [W/m²].
    pub hottest_w_m2: f64,
    /// Highest irradiance beside the aperture [W/m²].
    pub beside_w_m2: f64,
}

/// What becomes of the light when the grid fails under the year's brightest sun and nothing turns the
/// mirrors away but the sun's own motion.
#[derive(Clone, Debug, PartialEq)]
pub struct Escape {
    /// Hour of the year, local standard time, in which the most light enters.
    pub hour: f64,
    /// Direct normal irradiance then [W/m²].
    pub dni_w_m2: f64,
    /// One string alone.
    pub stall: Stall,
    /// The light from the start until it has gone.
    pub course: Vec<Later>,
    /// Until half of the field's light has left the aperture [s]; infinite if that is longer than 25
    /// minutes.
    pub halved_s: f64,
    /// Until nine tenths of it have.
    pub gone_s: f64,
    /// Heat that falls on the brightest watched spot of the aperture until then, with nothing to cool
    /// it [J/m²].
    pub dose_j_m2: f64,
    /// Highest irradiance beside the aperture on the way [W/m²].
    pub beside_w_m2: f64,
    /// When [s].
    pub beside_s: f64,
    /// Where: to the right and up from the aperture's middle [m].
    pub beside_m: [f64; 2],
    /// Distance beyond the aim point within which the light of one string leaves an after-image [m].
    pub string_after_image_m: f64,
    /// The same of the whole field.
    pub field_after_image_m: f64,
    /// Distance beyond the aim point within which the whole field's light burns the eye [m].
    pub field_burn_m: f64,
}

/// The field while it walks off.
struct Walk<'a> {
    field: Field<'a>,
    hood: &'a Neighbourhood<'a>,
    stalled: Vec3,
    suns: LaneVec3,
}

impl Escape {
    /// Of the field that a design lays.
    ///
    /// # Errors
    /// [`Infeasible`] when it breaks a limit before it stands.
    pub fn of_design(case: &Case, design: &Design) -> Result<Self, Infeasible> {
        let mut margins = Margins::unknown();
        let stood = lay(case, design, &mut margins, &mut Scratch::default())?;
        Ok(Self::of(case, &stood.site))
    }

    pub(super) fn of(case: &Case, site: &Sited) -> Self {
        let (hour, dni_w_m2, stalled) = brightest(case, site);
        let latitude_rad = case.scenario.site.latitude_rad;
        let later = TIMES_S.map(|time_s| sun_after(stalled, latitude_rad, time_s));
        let field = site.field();
        let around = field.surroundings(case.sun.min_elevation_rad);
        let walk = Walk {
            hood: &around.of_all(),
            field,
            stalled,
            suns: lane::columns(&later),
        };
        let (inside, hottest) = walk.inside();
        let (beside, beside_at, beside_m) = walk.beside();
        let later = |at: usize| Later {
            time_s: TIMES_S[at],
            entering: inside[at] / inside[0].max(f64::MIN_POSITIVE),
            hottest_w_m2: dni_w_m2 * hottest[at],
            beside_w_m2: dni_w_m2 * beside[at],
        };
        let gone_s = left_at_s(&inside, 0.1);
        let sun_w_m2 =
            dni_w_m2 * site.mirrors.reflectance.silver * site.mirrors.reflectance.cleanliness;
        let all: Vec<usize> = (0..site.plan.strings.len()).collect();
        let field_glint = glint(&walk, sun_w_m2, &all);
        let middle = even_sample(site.plan.strings.len(), 1);
        Self {
            hour,
            dni_w_m2,
            stall: stall(&walk, latitude_rad),
            course: (0..LANES).map(later).collect(),
            halved_s: left_at_s(&inside, 0.5),
            gone_s,
            dose_j_m2: dni_w_m2 * dose_s(&hottest),
            beside_w_m2: dni_w_m2 * beside[beside_at],
            beside_s: TIMES_S[beside_at],
            beside_m,
            string_after_image_m: glint(&walk, sun_w_m2, &middle).after_image_m(),
            field_after_image_m: field_glint.after_image_m(),
            field_burn_m: field_glint.burn_m(),
        }
    }
}

/// Hour, DNI and sun of the year's most light.
fn brightest(case: &Case, site: &Sited) -> (f64, f64, Vec3) {
    let light = shine(case, site, Fidelity::Search, &mut Scratch::default());
    let powers =
        (0..case.weather.dni_w_m2.len()).map(|hour| light.hour(case, hour).aperture_power_w);
    let best = powers.enumerate().fold(
        (0, 0.0),
        |best, next| if next.1 > best.1 { next } else { best },
    );
    let [first, last] = &case.sun.instants[best.0];
    let instant = if last.share > first.share {
        last
    } else {
        first
    };
    let hour = best.0 as f64 + instant.after_h;
    (hour, case.weather.dni_w_m2[best.0], instant.sun)
}

impl Walk<'_> {
    /// Every string's stance under the stalled sun, one after the other.
    fn each(&self, mut each: impl FnMut(usize, &Stance)) {
        let stopped = lane::columns(&[self.stalled; LANES]);
        let mut stance = Stance::default();
        for string in 0..self.field.plan.strings.len() {
            self.field
                .drives
                .stand(self.field.plan, string, &stopped, &mut stance);
            each(string, &stance);
        }
    }

    /// Light through the aperture [m²], and flux of its brightest watched spot at the start ÷ DNI, at
    /// every time.
    fn inside(&self) -> (Lane, Lane) {
        let mut sums = self.field.watching();
        let mut lit = self.field.scene(self.hood).under(&self.suns);
        self.each(|string, stance| {
            let places = 0..self.field.plan.strings[string].mirror_count;
            lit.add_light(string, places, stance, &mut sums);
        });
        let spots = sums.flux_suns.lanes();
        let hottest = spots.fold(
            [0.0; LANES],
            |most, spot| if spot[0] > most[0] { spot } else { most },
        );
        (sums.steps_m2[STEPS - 1], hottest)
    }

    /// Highest flux ÷ DNI beside the aperture at every time, the time at which it is highest, and where
    /// then [m].
    fn beside(&self) -> (Lane, usize, [f64; 2]) {
        let small = self.field.aperture;
        let size_m = [WIDER * small.width_m(), WIDER * small.height_m()];
        let wide = Aperture {
            outline: optics::Outline::Rectangle {
                width_m: size_m[0],
                height_m: size_m[1],
            },
            ..*small
        };
        let spots = Spots::middles(SPOTS);
        let mut flux = FluxSums::none(&spots);
        let scene = Scene {
            aperture: &wide,
            ..self.field.scene(self.hood)
        };
        let mut lit = scene.under(&self.suns);
        self.each(|string, stance| lit.add_flux(string, stance, &spots, &mut flux));
        let (mut most, mut highest, mut place_m) = ([0.0; LANES], 0, [0.0; 2]);
        for (at, lanes) in flux.lanes().enumerate() {
            let share = spots.place(at);
            let is_inside = share.iter().all(|share| share.abs() < 0.5 / WIDER);
            for (time, &suns) in lanes.iter().enumerate() {
                if !is_inside && suns > most[time] {
                    most[time] = suns;
                    if suns >= most[highest] {
                        highest = time;
                        place_m = [share[0] * size_m[0], share[1] * size_m[1]];
                    }
                }
            }
        }
        (most, highest, place_m)
    }
}

/// When the light has fallen to a share of what it was [s], on straight lines between the times.
fn left_at_s(light: &Lane, share: f64) -> f64 {
    let wanted = share * light[0];
    for at in 1..LANES {
        if light[at] <= wanted {
            let fall = (light[at - 1] - wanted) / (light[at - 1] - light[at]);
            return TIMES_S[at - 1] + fall * (TIMES_S[at] - TIMES_S[at - 1]);
        }
    }
    f64::INFINITY
}

/// Integral over time of a flux ÷ DNI [s], on straight lines between the times.
fn dose_s(flux: &Lane) -> f64 {
    (1..LANES)
        .map(|at| 0.5 * (flux[at] + flux[at - 1]) * (TIMES_S[at] - TIMES_S[at - 1]))
        .sum()
}

/// One string after the other stalls.
fn stall(walk: &Walk, latitude_rad: f64) -> Stall {
    let aperture = walk.field.aperture;
    let half_m = [0.5 * aperture.width_m(), 0.5 * aperture.height_m()];
    let screen = Screen {
        centre_m: aperture.centre_m,
        right: aperture.right,
        up: aperture.up,
    };
    let (plan, drives) = (walk.field.plan, walk.field.drives);
    let group = |string: usize, time_s: f64| {
        let sun = sun_after(walk.stalled, latitude_rad, time_s);
        drives.walk_off(plan, string, &screen, walk.stalled, sun)
    };
    let mut leaving: Vec<(f64, usize)> = even_sample(plan.strings.len(), STALLED)
        .into_iter()
        .map(|string| {
            let is_inside = |time_s: f64| {
                let middle_m = group(string, time_s).middle_m;
                (0..2).all(|axis| middle_m[axis].abs() <= half_m[axis])
            };
            let mut time_s = 0.0;
            while time_s < LONGEST_S && is_inside(time_s) {
                time_s += STEP_S;
            }
            (time_s, string)
        })
        .collect();
    leaving.sort_by(|one, other| one.0.total_cmp(&other.0).then(one.1.cmp(&other.1)));
    let (Some(first), Some(last)) = (leaving.first(), leaving.last()) else {
        return Stall::default();
    };
    let usual = leaving[leaving.len() / 2];
    let (start, end) = (group(usual.1, 0.0), group(usual.1, usual.0));
    let minutes = usual.0.max(STEP_S) / 60.0;
    Stall {
        leaves_s: [first.0, usual.0, last.0],
        path_m_min: [0, 1].map(|axis| (end.middle_m[axis] - start.middle_m[axis]) / minutes),
        spread_m: [start.spread_m, end.spread_m],
    }
}

/// The light of some strings beyond the aim point: a cone as wide as they look from there, about a
/// waist as wide as their images.
fn glint(walk: &Walk, sun_w_m2: f64, strings: &[usize]) -> Glint {
    let (plan, mut power_w, mut middle, mut slant_m) = (walk.field.plan, 0.0, Vec3::ZERO, 0.0);
    let mut beams: Vec<(Vec3, f64, f64)> = Vec::new();
    for &string in strings {
        for mirror in plan.strings[string].mirrors() {
            let target = plan.target(mirror);
            let cosine = ((1.0 + walk.stalled.dot(target)) / 2.0).sqrt();
            let mirror_w = sun_w_m2 * cosine * plan.area_m2(mirror);
            let far_m = plan.aim_of_m(mirror).distance(plan.centre_m(mirror));
            beams.push((target, mirror_w, plan.area_m2(mirror) / (far_m * far_m)));
            power_w += mirror_w;
            middle += target * mirror_w;
            slant_m += far_m * mirror_w;
        }
    }
    let middle = middle.normalize();
    let spread = |value: &dyn Fn(&(Vec3, f64, f64)) -> f64| {
        beams.iter().map(|beam| beam.1 * value(beam)).sum::<f64>() / power_w
    };
    let off_rad2 = spread(&|beam| (beam.0 - middle).length_squared());
    let own_rad2 = spread(&|beam| beam.2 / std::f64::consts::PI);
    Glint {
        power_w,
        half_angle_rad: (2.0 * off_rad2 + own_rad2).sqrt() + IMAGE_HALF_RAD,
        waist_m: IMAGE_HALF_RAD * slant_m / power_w,
        sun_w_m2,
    }
}
