//! How every panel is set and bent, and its levers.

use drive::{Screen, Setting, laser_return, parallax_rad};
use geometry::Vec3;
use scenario::SetBy;
use structure::{corner_deflection_m, focusing_force_n};

use super::{Built, SetString};
use crate::site::Sited;

/// Corners that pull a panel into shape.
const CORNERS: f64 = 4.0;

/// One mirror as it is set.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SetPanel {
    /// Which string it belongs to, in plan order.
    pub string: usize,
    /// Its centre.
    pub centre_m: Vec3,
    /// The point that it is set on.
    pub aim_m: Vec3,
    /// Focal length that it is bent to; infinite for a flat one.
    pub focal_length_m: f64,
    /// Turns about first and second axis and the lengths of its levers.
    pub setting: Setting,
    /// How far the edge towards the second axis and the edge towards the first axis stand above a
    /// panel without those turns, over half the panel's width and height.
    pub raised_m: [f64; 2],
    /// How far its corners stand before its centre when it has its focal length.
    pub corner_deflection_m: f64,
    /// Pull at each corner that bends it so.
    pub corner_pull_n: f64,
    /// Lengths of its levers for the first and the second axis.
    pub lever_m: [f64; 2],
    /// Its mark, where mirrors are set at night.
    pub mark: Option<Mark>,
}

/// The mark of a mirror that is set at night, while its drive stands as under the alignment sun: the mirror is
/// right when the beam of a laser in the middle of the aperture comes back onto it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mark {
    /// On the plane of the aperture, to the right and up from its middle, seen from the field; none where the
    /// beam leads away from that plane.
    pub at_m: Option<[f64; 2]>,
    /// Turn by which the mirror would be set wrong with the laser taken to stand where the string's reference
    /// mirror sees it.
    pub parallax_rad: f64,
}

/// Every mirror, in plan order.
pub fn panels(site: &Sited, strings: &[SetString], built: &[Built]) -> Vec<SetPanel> {
    let strings = strings.iter().enumerate();
    strings
        .flat_map(|(number, string)| of_string(site, number, &built[string.make]))
        .collect()
}

fn of_string(site: &Sited, string: usize, built: &Built) -> Vec<SetPanel> {
    let plan = &site.plan;
    let settings = site.drives.settings(plan, string);
    let stiffness_n_m = built.inputs.panel.stiffness_n_m();
    let panel = |(mirror, setting): (usize, Setting)| {
        let focal_length_m = plan.focal_length_m[mirror];
        let side_m = plan.area_m2(mirror).sqrt();
        SetPanel {
            mark: match built.make.strings.drive.set_by {
                SetBy::Sun => None,
                SetBy::Laser => Some(mark(site, string, mirror)),
            },
            string,
            centre_m: plan.centre_m(mirror),
            aim_m: plan.aim_of_m(mirror),
            focal_length_m,
            setting,
            raised_m: raised_m(&setting, plan.width_m[mirror], plan.height_m[mirror]),
            corner_deflection_m: corner_deflection_m(side_m, focal_length_m),
            corner_pull_n: focusing_force_n(stiffness_n_m, focal_length_m) / CORNERS,
            lever_m: setting
                .lever_ratio
                .map(|ratio| ratio * built.inputs.lever_m),
        }
    };
    let mirrors = plan.strings[string].mirrors();
    mirrors.zip(settings).map(panel).collect()
}

fn mark(site: &Sited, string: usize, mirror: usize) -> Mark {
    let (plan, aperture) = (&site.plan, &site.aperture);
    let screen = Screen {
        centre_m: aperture.centre_m,
        right: aperture.right,
        up: aperture.up,
    };
    let centre_m = plan.centre_m(mirror);
    let reference_m = plan.centre_m(plan.strings[string].reference_mirror());
    let sun = site.drives.alignment_sun(string);
    let back = laser_return(screen.centre_m, centre_m, sun, plan.target(mirror));
    Mark {
        at_m: screen.met_at_m(centre_m, back),
        parallax_rad: parallax_rad(screen.centre_m, centre_m, reference_m),
    }
}

/// A turn about the first axis raises the edge that lies towards the second; one about the second
/// lowers the edge that lies towards the first.
fn raised_m(setting: &Setting, width_m: f64, height_m: f64) -> [f64; 2] {
    let [first_rad, second_rad] = setting.turns_rad;
    [
        0.5 * width_m * libm::tan(first_rad),
        -0.5 * height_m * libm::tan(second_rad),
    ]
}
