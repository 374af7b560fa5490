//! From a job to a report: what is required, what really leaves the house, whether that is enough,
//! what is unknown, and why.
//!
//! [`evaluate`] is a pure function of the job and the [`World`] (rule books, library): it opens no
//! file, reads no clock, keeps no state, and gives the same bytes on every machine. It holds no
//! sentence and formats no figure: findings carry a message key and typed values, which the `words`
//! crate turns into text.
//!
//! **Must never know**: files, clocks, threads, screens, languages.
//!
//! The order of the stages stands in [`evaluate`]; each stage is a module with one public function.

mod assemble;
mod caution;
mod checks;
mod curves;
mod defaults;
mod draws;
mod dry;
mod fan;
mod finding;
mod floor;
mod flow;
mod frame;
mod given;
pub mod hand;
mod house;
mod inputs;
mod look_next;
mod place;
mod require;
mod route;
mod sample;
mod section;
mod select;
mod source;
mod system;
mod working;

use dewpath_job::model::{Job, Library};
use dewpath_moisture::weather::Weather;
use dewpath_report::{Courses, FanCurves, Outlet, Report};
use dewpath_rulebook::Book;

use checks::Basis;
use inputs::Inputs;
use system::System;

/// What the job is judged against.
#[derive(Debug, Clone, Default)]
pub struct World {
    /// The rule book in force, with local amendments laid over it.
    pub rule_book: Option<Book>,
    /// Books shown beside it.
    pub also_show: Vec<Book>,
    /// The user's library; its fans are judged on every run.
    pub products: Library,
    /// Hourly weather of the file that the job names, where it names one.
    pub weather: Option<Weather>,
    /// Text of the job, for its hash in the report.
    pub job_text: String,
    /// Texts of the library, in order, for their hash in the report.
    pub products_text: String,
}

/// Draws used to judge each fan of the library.
pub const SELECT_DRAWS: u32 = 256;

/// Judges a job.
///
/// `draws` is the number of draws over what is not known; 0 takes the likely values alone, and every
/// triple of the report is then one value three times.
pub fn evaluate(job: &Job, world: &World, draws: u32) -> Report {
    stages(job, world, draws, Span::Day)
}

/// Judges a job as [`evaluate`] does, and follows each room that is showered in, with the dwelling around it, through
/// the year of the job's weather: at the likely values, whatever `draws` is.
pub fn evaluate_through_year(job: &Job, world: &World, draws: u32) -> Report {
    evaluate_through_year_telling(job, world, draws, &|_| {})
}

/// Judges a job as [`evaluate_through_year`] does. `told` hears how much of the year is over, a growing share above 0 to 1, after each
/// month of each room; never where no room can be followed.
pub fn evaluate_through_year_telling(
    job: &Job,
    world: &World,
    draws: u32,
    told: &dyn Fn(f64),
) -> Report {
    stages(job, world, draws, Span::Year(told))
}

/// The courses of rooms through their design shower and, `through_year`, through the year of the job's weather; at the
/// likely values. Rooms that cannot be followed are left out; the report says why.
pub fn courses(job: &Job, world: &World, through_year: bool) -> Courses {
    let basis = Basis::of(job, world, 0);
    let flows = basis.flows(job).ok();
    let look = basis.look(job, world, flows.as_ref());
    let years = if through_year { dry::year::courses(&look) } else { Vec::new() };
    Courses { showers: dry::course::courses(&look), years }
}

/// The curve of each fan that runs, and of what it blows through, with their bands.
pub fn fan_curves(job: &Job, world: &World, draws: u32) -> Vec<FanCurves> {
    let mut inputs = Inputs::new(draws);
    let _ = require::require(job, world, &mut inputs);
    let system = System::of(job, &mut inputs);
    curves::curves(job, &system, &inputs)
}

/// The spot in the window of a way out, x and y in metres, nearest to a hand at which its terminal keeps its distances; without a
/// hand, from where the job has it, or the middle of the window. `level_m` is the height of its middle where it is known, such as
/// that of the end of a way. None where window, duct or way out are not known.
pub fn near_outlet(
    job: &Job,
    world: &World,
    way_out: &str,
    hand: Option<[f64; 2]>,
    level_m: Option<f64>,
) -> Option<Outlet> {
    let way = job.ways_out.iter().find(|known| known.id == way_out)?;
    let basis = Basis::of(job, world, 0);
    let look = basis.look(job, world, None);
    frame::outlet(&look, way, hand, level_m)
}

/// How far rooms are followed.
#[derive(Clone, Copy)]
enum Span<'a> {
    /// Through the design day.
    Day,
    /// And through a year; hears how much of it is over.
    Year(&'a dyn Fn(f64)),
}

fn stages(job: &Job, world: &World, draws: u32, span: Span<'_>) -> Report {
    let basis = Basis::of(job, world, draws);
    let flows = basis.flows(job);
    let look = basis.look(job, world, flows.as_ref().ok());
    let (delivered, mut look_next) = checks::air::delivered(&look);
    let mut findings = delivered;
    findings.extend(basis.required.findings.iter().cloned());
    findings.extend(checks::evidence::evidence(&look));
    findings.extend(checks::fan::fans(&look));
    findings.extend(checks::duct::duct(&look));
    findings.extend(checks::terminal::terminal(&look));
    findings.extend(checks::room::rooms(&look));
    findings.extend(checks::swap::swap(&look));
    let mut house = house::house(&look);
    findings.append(&mut house.findings);
    look_next.append(&mut house.look_next);
    let mut dry = dry::dry(&look);
    findings.append(&mut dry.findings);
    let mut year = match span {
        Span::Day => dry::year::Stage::default(),
        Span::Year(told) => dry::year::year(&look, told),
    };
    findings.append(&mut year.findings);
    let mut floor = floor::Floor::of(job);
    let mut places = place::place(job, &mut floor);
    findings.append(&mut places.findings);
    let mut ways = route::route(&look, &mut floor, &places.starts);
    findings.append(&mut ways.findings);
    let mut frame = frame::frame(&look, &floor, &ways.routes);
    findings.append(&mut frame.findings);
    findings.extend(assemble::trouble(job, &flows));
    assemble::comparisons(&mut findings);
    assemble::overrides(job, &mut findings);
    look_next.extend(look_next::single_looks(&findings));
    let candidates = select::select(&look, &house);
    let scenarios = assemble::scenarios(job, &basis.system, &basis.inputs);
    let mut report = assemble::report(&look, findings, look_next, candidates, scenarios);
    house.put_into(&mut report);
    dry.put_into(&mut report);
    year.put_into(&mut report);
    report.placements = places.placements;
    report.routes = ways.routes;
    report.bores = frame.bores;
    report.penetrations = frame.penetrations;
    report.clearances = frame.clearances;
    report.assumptions.append(&mut floor.assumptions);
    report
}
