//! What a reading of air tells: of which room, how it was read, and how far that may be off.

use dewpath_air::meters::{self, Hood};
use dewpath_job::model::{BuildState, Job, Method, Reading, Work};
use dewpath_units::Airflow;

use crate::flow::Flows;
use crate::given;
use crate::system::{fans_of_run, rooms_of_fan};

/// A meter shows no less than this, m³/s. Judgement.
const FINEST_M3_S: f64 = 0.0003;

/// Share of the reading that is one standard deviation, by method; that of a method that nobody wrote is the widest of them.
/// Infinite where it tells no figure.
pub fn deviation(method: Option<Method>) -> f64 {
    match method {
        Some(Method::PoweredHood) => Hood::Powered.relative_uncertainty(),
        Some(Method::PassiveHood) | None => Hood::Passive.relative_uncertainty(),
        Some(Method::OrificeBox | Method::Traverse) => meters::BOX_OR_TRAVERSE,
        Some(Method::Bag) => meters::BAG,
        Some(Method::Anemometer) => meters::GRILLE_SWEEP,
        Some(Method::Paper) => f64::INFINITY,
    }
}

/// How a flow was measured: by the bag where one is written.
pub fn method(reading: &Reading) -> Option<Method> {
    let by_bag = reading.bag.volume.is_some().then_some(Method::Bag);
    by_bag.or_else(|| given::member(&reading.method))
}

/// Whether a reading can settle something: a sheet of paper gives no figure.
pub fn settles(reading: &Reading) -> bool {
    method(reading) != Some(Method::Paper)
}

/// Least and most of the flow that was read: as written, or the volume of the bag over its time.
pub fn flow(reading: &Reading) -> Option<(Airflow, Airflow)> {
    let of_bag = || {
        let (small, large) = given::bounds(&reading.bag.volume)?;
        let (quick, slow) = given::bounds(&reading.bag.time)?;
        let flow = |volume, time| meters::bag(volume, time).ok().map(|read| read.airflow);
        Some((flow(small, slow)?, flow(large, quick)?))
    };
    given::bounds(&reading.airflow).or_else(of_bag)
}

/// A flow as it was read, m³/s: the middle and one standard deviation, of the method and of the bounds together. None where it
/// tells no figure.
pub fn spread(reading: &Reading) -> Option<(f64, f64)> {
    let (low, high) = flow(reading)?;
    let (low, high) = (low.m3_s(), high.m3_s());
    let read = 0.5 * (low + high);
    let of_method = deviation(method(reading)) * read;
    let width = high - low;
    let spread = (of_method * of_method + width * width / 12.0).sqrt();
    spread.is_finite().then_some((read, spread))
}

/// Whether a reading tells of what stands now. On a call-back that is what was found, too.
pub fn is_current(job: &Job, reading: &Reading) -> bool {
    match given::member(&reading.state) {
        Some(BuildState::Before) => job.work == Work::CallBack,
        Some(BuildState::After) | None => true,
    }
}

/// Room that a reading tells of, by index.
pub fn room(job: &Job, reading: &Reading) -> Option<usize> {
    if let Some(room) = job.rooms.iter().position(|room| room.id == reading.at) {
        return Some(room);
    }
    if let Some(grille) = job.grilles.iter().find(|grille| grille.id == reading.at) {
        return job.rooms.iter().position(|room| room.id == grille.room);
    }
    let fan = job.fans.iter().position(|fan| fan.id == reading.at).or_else(|| {
        let run = job.runs.iter().find(|run| run.to == reading.at)?;
        fans_of_run(job, run).first().copied()
    })?;
    match rooms_of_fan(job, fan).as_slice() {
        [one] => Some(*one),
        _ => None,
    }
}

/// The last reading of the flow of a room as it is now, by a method that can settle something.
pub fn last(job: &Job, of_room: usize) -> Option<&Reading> {
    let counts = |reading: &&Reading| {
        is_current(job, reading)
            && room(job, reading) == Some(of_room)
            && settles(reading)
            && flow(reading).is_some()
    };
    job.readings.iter().rfind(counts)
}

/// Whether any reading weighs the draws of a job.
pub(crate) fn is_read(job: &Job) -> bool {
    (0..job.rooms.len()).any(|room| read(job, room).is_some())
}

/// Flow of a room as read, by a method that somebody wrote, and its standard deviation, m³/s.
fn read(job: &Job, room: usize) -> Option<(f64, f64)> {
    let reading = last(job, room).filter(|known| method(known).is_some())?;
    spread(reading)
}

/// How far each draw is from what was read: half the sum of squares, in standard deviations. None where nothing was read or no
/// room that was has a flow.
pub(crate) fn misfits(job: &Job, flows: &Flows) -> Option<Vec<f64>> {
    let mut sums: Option<Vec<f64>> = None;
    for (room, flow) in flows.rooms.iter().enumerate() {
        let (Some((read, spread)), Some(flow)) = (read(job, room), flow) else { continue };
        let count = flow.draws.len();
        let sums = sums.get_or_insert_with(|| vec![0.0; count]);
        // A flow that is the same in every draw tells nothing of them.
        for (sum, drawn) in sums.iter_mut().zip(&flow.draws) {
            let off = (drawn - read) / spread.max(FINEST_M3_S);
            *sum += 0.5 * off * off;
        }
    }
    sums.filter(|sums| !sums.is_empty())
}
