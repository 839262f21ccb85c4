//! `spot`: where the beams of surveyed strings fall, hour by hour, and which mirrors pass.

use field::PlanRow;
use geometry::{Vec3, direction};
use model::setout::suns_of_day;
use model::spot::{Found, Spot, Surveyed};
use report::chart::{SpotChart, SpotTrack};

use crate::args::SpotArgs;
use crate::day_time::{hour_and_minute, month_and_day};
use crate::exit::Exit;
use crate::failure::Failure;
use crate::handout::Handout;
use crate::inputs::Inputs;
use crate::tables::spots;
use crate::text::limits;
use crate::{instants, json, output, plan_file, survey, text};

const MM_PER_M: f64 = 1e3;

/// A sun under which spots are told.
pub struct Moment {
    /// Day and local standard time; none for an instant from a file.
    pub label: Option<String>,
    /// Moments of one day belong to one run.
    pub run: usize,
    /// Unit vector to the sun.
    pub sun: Vec3,
}

/// What was found of every mirror.
pub struct Spots<'a> {
    /// Scenario and weather.
    pub inputs: &'a Inputs,
    /// The plan's rows.
    pub rows: &'a [PlanRow],
    /// The suns.
    pub moments: &'a [Moment],
    /// Under each sun the spot of each mirror, if its beam meets the target plane.
    pub spots: Vec<Vec<Option<Spot>>>,
    /// The same, were all built as planned.
    pub planned: Vec<Vec<Option<Spot>>>,
    /// Each string under the sun that it was set under.
    pub aligned: Vec<Option<Spot>>,
    /// Distance from the aim point that is allowed [m].
    pub within_m: Option<f64>,
}

/// Tells where the beams of surveyed strings fall.
pub fn spot(asked: &SpotArgs) -> Result<Exit, Failure> {
    let inputs = Inputs::read(&asked.file, &asked.settings.overrides())?;
    let design = inputs.scenario.space.design(&inputs.scenario.space.start());
    let given = plan_file::read(&asked.plan, &design)?;
    let moments = moments(asked, &inputs)?;
    inputs.say_notes();
    let surveyed = match Surveyed::of_plan(&inputs.case, &design, given.plan.clone()) {
        Ok(surveyed) => surveyed,
        Err(broken) => {
            output::data(&limits::infeasible(&broken))?;
            return Ok(Exit::NothingFeasible);
        }
    };
    let found = survey::read(&asked.survey, &given.rows, &surveyed.turns_rad())?;
    let suns: Vec<Vec3> = moments.iter().map(|moment| moment.sun).collect();
    let told = Spots {
        inputs: &inputs,
        rows: &given.rows,
        moments: &moments,
        spots: surveyed.spots(&found, &suns),
        planned: surveyed.spots(&vec![Found::default(); found.len()], &suns),
        aligned: surveyed.spots_as_set(&found),
        within_m: asked.within,
    };
    let files = match &asked.out {
        Some(out) => {
            let mut handout = Handout::open(out, &inputs)?;
            handout.table(&spots::spots(&told))?;
            handout.chart("spots", &told.chart().draw()?)?;
            handout.files()
        }
        None => Vec::new(),
    };
    if asked.json {
        json::print(&json::spot(&told, &files))
    } else {
        output::data(&text::spot::spot(&told, &files))
    }
}

/// The instants of a file, or the hours of some days.
fn moments(asked: &SpotArgs, inputs: &Inputs) -> Result<Vec<Moment>, Failure> {
    if let Some(path) = &asked.instants {
        let read = instants::read(path)?.into_iter();
        let moment = |instant: instants::Instant| Moment {
            label: None,
            run: 0,
            sun: instant.moment().sun,
        };
        return Ok(read.map(moment).collect());
    }
    let mut moments = Vec::new();
    for (run, (month, day)) in asked.days.iter().enumerate() {
        for time in suns_of_day(&inputs.case, *month, *day)? {
            let day = month_and_day(time.month_and_day);
            moments.push(Moment {
                label: Some(format!("{day} {}", hour_and_minute(time.hour))),
                run,
                sun: time.sun,
            });
        }
    }
    Ok(moments)
}

impl Moment {
    /// Azimuth and elevation of the sun [deg].
    pub fn angles_deg(&self) -> [f64; 2] {
        let (azimuth_rad, elevation_rad) = direction::azimuth_elevation(self.sun);
        [azimuth_rad.to_degrees(), elevation_rad.to_degrees()]
    }

    /// The moment for people.
    pub fn told(&self) -> String {
        let [azimuth_deg, elevation_deg] = self.angles_deg();
        let sun = || format!("sun at {azimuth_deg:.1} deg, {elevation_deg:.1} deg high");
        self.label.clone().unwrap_or_else(sun)
    }
}

impl Spots<'_> {
    /// Where a mirror strays farthest: which moment and how far [m]; infinitely far where its beam
    /// misses the plane.
    pub fn farthest(&self, mirror: usize) -> Option<(&Moment, f64)> {
        let of_mirror = self.moments.iter().zip(&self.spots);
        let off_m = of_mirror.map(|(moment, spots)| {
            (
                moment,
                spots[mirror].map_or(f64::INFINITY, |spot| spot.off_m()),
            )
        });
        off_m.max_by(|one, other| one.1.total_cmp(&other.1))
    }

    /// How far a spot lies from where it would be if all were built as planned [m].
    pub fn off_plan_m(&self, moment: usize, mirror: usize) -> Option<f64> {
        let (found, planned) = (self.spots[moment][mirror]?, self.planned[moment][mirror]?);
        Some(found.apart_m(&planned))
    }

    /// Whether a mirror stays within the tolerance at every moment; none if there is no tolerance.
    pub fn passes(&self, mirror: usize) -> Option<bool> {
        let (_, off_m) = self.farthest(mirror)?;
        Some(off_m <= self.within_m?)
    }

    fn chart(&self) -> SpotChart {
        let tracks = self.rows.iter().enumerate().map(|(mirror, row)| SpotTrack {
            name: survey::name(&row.string_id, &row.mirror_id),
            runs_mm: self.runs_mm(mirror),
        });
        let labels = self
            .moments
            .iter()
            .filter_map(|moment| moment.label.as_ref());
        let mut days: Vec<&str> = labels.filter_map(|label| label.split(' ').next()).collect();
        days.dedup();
        SpotChart {
            tracks: tracks.collect(),
            within_mm: self.within_m.map(|within_m| within_m * MM_PER_M),
            moments: if days.is_empty() {
                report::figures::counted(self.moments.len(), "instant")
            } else {
                format!("hours of {}", days.join(", "))
            },
        }
    }

    fn runs_mm(&self, mirror: usize) -> Vec<Vec<[f64; 2]>> {
        let moments: Vec<(usize, &Vec<Option<Spot>>)> = self
            .moments
            .iter()
            .map(|moment| moment.run)
            .zip(&self.spots)
            .collect();
        let runs = moments.chunk_by(|one, other| one.0 == other.0);
        let place = |spot: Spot| [spot.right_m * MM_PER_M, spot.up_m * MM_PER_M];
        runs.map(|run| {
            run.iter()
                .filter_map(|(_, spots)| spots[mirror].map(place))
                .collect()
        })
        .collect()
    }
}
