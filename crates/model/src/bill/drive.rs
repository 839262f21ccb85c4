//! What workmanship, sensing, alignment and defocus of driven units come to.

use ledger::{Item, Quantities};
use scenario::{Defocus, Labour, Sensing};

use super::lot::Lot;
use super::{DRIVES_PER_UNIT, SECONDS_PER_HOUR, W_PER_KW};

const MINUTES_PER_HOUR: f64 = 60.0;

/// Units that one camera on the target watches in turn, and that one laser crew sets.
const UNITS_PER_CAMERA: f64 = 150.0;
const UNITS_PER_LASER: f64 = 400.0;

pub fn add(lot: &Lot, labour: &Labour, bill: &mut Quantities) {
    bill.add(
        Item::Machining,
        lot.machined_min * lot.count / MINUTES_PER_HOUR,
    );
    bill.add(
        Item::Alignment,
        lot.panels_set * labour.alignment_s * lot.count / SECONDS_PER_HOUR,
    );
    if lot.sensing == Sensing::Sensor {
        bill.add(Item::StringSensor, lot.count);
    }
    if let Some((item, amount)) = defocus_parts(lot.defocus, lot.count, lot.motor_power_w) {
        bill.add(item, amount);
    }
}

/// What all makes of a field share: cameras on the target, and lasers.
pub fn add_shared(lots: &[Lot], bill: &mut Quantities) {
    let units = |wanted: fn(&Lot) -> bool| -> f64 {
        let chosen = lots.iter().filter(|lot| wanted(lot));
        chosen.map(|lot| lot.count).sum()
    };
    let watched = units(|lot| lot.is_watched);
    bill.add(Item::TargetCamera, (watched / UNITS_PER_CAMERA).ceil());
    let set_at_night = units(|lot| lot.is_set_at_night);
    bill.add(Item::LaserSet, (set_at_night / UNITS_PER_LASER).ceil());
}

/// What turns so many driven units away when the grid fails, as an item of the bill: batteries by the
/// power of the drives, or a spring for each unit.
#[must_use]
pub fn defocus_parts(defocus: Defocus, units: f64, motor_power_w: f64) -> Option<(Item, f64)> {
    match defocus {
        Defocus::None => None,
        Defocus::StoredEnergy => Some((
            Item::EmergencyPower,
            DRIVES_PER_UNIT * units * motor_power_w / W_PER_KW,
        )),
        Defocus::Spring => Some((Item::DefocusSpring, units)),
    }
}
