//! What one search for a way outdoors is about.

use dewpath_case::Case;
use dewpath_case::given;
use dewpath_job::model::{Above, Job, Run};
use dewpath_message::slot::LengthM;
use dewpath_report::Triple;

use crate::floor::Floor;
use crate::place::Start;

/// Everything that one search is about.
pub(super) struct Task<'a> {
    pub case: &'a Case<'a>,
    pub start: &'a Start,
    pub run: usize,
    pub flow_m3_s: f64,
    pub jacket_m: f64,
    /// Share of the thickness of the insulation that is left where it is tight.
    pub left: f64,
}

/// The run of a task.
pub(super) fn run_of<'a>(task: &Task<'a>) -> &'a Run {
    &task.case.job.runs[task.run]
}

/// What surrounds a duct in a bay below this.
pub(super) fn below(job: &Job, floor: &Floor, bay: &str) -> Option<Above> {
    let bay = floor.bays.iter().find(|b| b.id == bay)?;
    let (framing, _) = floor.zones.get(bay.zone)?;
    given::member(&job.framing.get(*framing)?.above)
}

pub(super) fn apart(a: [f64; 3], b: [f64; 3]) -> f64 {
    let d: [f64; 3] = std::array::from_fn(|i| b[i] - a[i]);
    (d[0] * d[0] + d[1] * d[1] + d[2] * d[2]).sqrt()
}

pub(super) fn length(value: f64) -> LengthM {
    LengthM(Triple::exact(value))
}
