//! What workmanship, sensing, alignment and defocus of the strings' drives come to.

use ledger::{Item, Quantities};
use scenario::{Class, Defocus, DriveDesign, Labour, Sensing, SetBy};

use super::{DRIVES_PER_STRING, SECONDS_PER_HOUR, W_PER_KW};
use crate::make::Make;

/// Work over that of the common class, coarse, common and fine, all common practice, no source: to set
/// a post by eye, by level, by level and wedges until it is right; to set a mirror on target.
const POST_WORK: [f64; 3] = [0.6, 1.0, 2.5];
const SETTING_WORK: [f64; 3] = [0.5, 1.0, 2.25];
/// At night nobody waits for the sun to come out, but every mirror has a mark of its own.
const BY_LASER: f64 = 1.25;
/// Minutes to machine a mirror's axes, joints and levers, by class: as cast and drilled; reamed; bored
/// in one setting and adjusted.
const MINUTES_FOR_AXES: [f64; 3] = [0.0, 1.0, 5.0];
const MINUTES_FOR_JOINTS: [f64; 3] = [0.0, 1.0, 4.0];
const MINUTES_FOR_LEVERS: [f64; 3] = [0.0, 1.0, 3.0];
const MINUTES_PER_HOUR: f64 = 60.0;

/// Strings that one camera on the target watches in turn, and that one laser crew sets.
const STRINGS_PER_CAMERA: f64 = 150.0;
const STRINGS_PER_LASER: f64 = 400.0;

const fn of(class: Class, by_class: [f64; 3]) -> f64 {
    by_class[class as usize]
}

/// Time to set the posts of one string [s].
pub fn post_s(make: &Make, labour: &Labour) -> f64 {
    let class = make.strings.drive.workmanship.posts;
    of(class, POST_WORK) * labour.post_s * make.parts.posts as f64
}

pub fn add(make: &Make, labour: &Labour, bill: &mut Quantities) {
    let drive = &make.strings.drive;
    let work = &drive.workmanship;
    let machined_min = of(work.axes, MINUTES_FOR_AXES)
        + of(work.joints, MINUTES_FOR_JOINTS)
        + of(work.levers, MINUTES_FOR_LEVERS);
    bill.add(
        Item::Machining,
        machined_min * make.mirrors() / MINUTES_PER_HOUR,
    );
    let by = match drive.set_by {
        SetBy::Sun => 1.0,
        SetBy::Laser => BY_LASER,
    };
    let setting_s = by * of(work.offsets, SETTING_WORK) * labour.alignment_s;
    bill.add(
        Item::Alignment,
        setting_s * make.mirrors() / SECONDS_PER_HOUR,
    );
    if drive.sensing == Sensing::Sensor {
        bill.add(Item::StringSensor, make.count());
    }
    if let Some((item, amount)) =
        defocus_parts(drive.defocus, make.count(), make.parts.motor_power_w)
    {
        bill.add(item, amount);
    }
}

/// What all makes of a field share: cameras on the target, and lasers.
pub fn add_shared(makes: &[Make], bill: &mut Quantities) {
    let strings = |wanted: fn(&DriveDesign) -> bool| -> f64 {
        let chosen = makes.iter().filter(|make| wanted(&make.strings.drive));
        chosen.map(Make::count).sum()
    };
    let watched = strings(|drive| drive.sensing == Sensing::Camera);
    bill.add(Item::TargetCamera, (watched / STRINGS_PER_CAMERA).ceil());
    let set_at_night = strings(|drive| drive.set_by == SetBy::Laser);
    bill.add(Item::LaserSet, (set_at_night / STRINGS_PER_LASER).ceil());
}

/// What turns so many strings away when the grid fails, as an item of the bill: batteries by the power
/// of the drives, or a spring for each string.
#[must_use]
pub fn defocus_parts(defocus: Defocus, strings: f64, motor_power_w: f64) -> Option<(Item, f64)> {
    match defocus {
        Defocus::None => None,
        Defocus::StoredEnergy => Some((
            Item::EmergencyPower,
            DRIVES_PER_STRING * strings * motor_power_w / W_PER_KW,
        )),
        Defocus::Spring => Some((Item::DefocusSpring, strings)),
    }
}
