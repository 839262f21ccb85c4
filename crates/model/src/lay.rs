//! The field that a design lays: the one place where concepts part.

use scenario::{Design, FieldDesign};

use crate::case::Case;
use crate::evaluate::Scratch;
use crate::infeasible::Infeasible;
use crate::make::ByLee;
use crate::makes::{HeliostatsByLee, Makes};
use crate::margins::Margins;
use crate::site::{place, place_heliostats};
use crate::stand::Stood;

/// Sizes the driven units of a design and places them.
pub(crate) fn lay(
    case: &Case,
    design: &Design,
    margins: &mut Margins,
    scratch: &mut Scratch,
) -> Result<Stood, Infeasible> {
    match &design.field {
        FieldDesign::Strings(strings) => {
            let both = ByLee::of(case, design, strings, margins)?;
            let site = place(case, design, strings, &both.inside, margins, scratch)?;
            let makes = Makes::Strings(both.makes(case, &site.plan, strings));
            Ok(Stood { site, makes })
        }
        FieldDesign::Pedestals(heliostats) | FieldDesign::Singles(heliostats) => {
            let both = HeliostatsByLee::of(case, design, heliostats, margins)?;
            let site = place_heliostats(case, design, heliostats, &both.inside, margins, scratch)?;
            let makes = Makes::Heliostats(both.makes(case, &site.plan, heliostats));
            Ok(Stood { site, makes })
        }
    }
}
