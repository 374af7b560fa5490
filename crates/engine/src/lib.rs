//! From a job to a report: what is required, what really leaves the house, whether that is enough,
//! what is unknown, and why.
//!
//! [`evaluate`] is a pure function of the job and the [`World`] (rule books, library): it opens no
//! file, reads no clock, keeps no state, and gives the same bytes on every machine. It holds no
//! sentence and formats no figure: findings carry a message key and typed values, which the `words`
//! crate turns into text.
//!
//! **Must never know**: how a point is judged or a proposal is found; files, clocks, threads, screens, languages.
//!
//! The order of the stages stands in `stages`: what the case is, the judges, the proposals, and the report put together.

mod assemble;
mod brief;
mod caution;
mod curves;

use dewpath_case::inputs::Inputs;
use dewpath_case::system::System;
use dewpath_case::{Basis, World, require};
use dewpath_job::model::Job;
use dewpath_judge::{checks, dry, house, look_next};
use dewpath_propose::{cuts, floor, mirror, place, route, select};
use dewpath_report::{Courses, FanCurves, Report};

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

/// Judges a job as [`evaluate_through_year`] does. `progress` hears how much of the year is over, a growing share above 0 to 1, after each
/// month of each room; never where no room can be followed.
pub fn evaluate_through_year_telling(
    job: &Job,
    world: &World,
    draws: u32,
    progress: &dyn Fn(f64),
) -> Report {
    stages(job, world, draws, Span::Year(progress))
}

/// The courses of rooms through their design shower and, `through_year`, through the year of the job's weather; at the
/// likely values. Rooms that cannot be followed are left out; the report says why.
pub fn courses(job: &Job, world: &World, through_year: bool) -> Courses {
    let basis = Basis::of(job, world, 0);
    let flows = basis.flows(job).ok();
    let case = basis.case(job, world, flows.as_ref());
    let years = if through_year { dry::year::courses(&case) } else { Vec::new() };
    Courses { showers: dry::course::courses(&case), years }
}

/// The curve of each fan that runs, and of what it blows through, with their bands.
pub fn fan_curves(job: &Job, world: &World, draws: u32) -> Vec<FanCurves> {
    let mut inputs = Inputs::new(draws);
    let _ = require::require(job, world, &mut inputs);
    let system = System::of(job, &mut inputs);
    curves::curves(job, &system, &inputs)
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
    let case = basis.case(job, world, flows.as_ref().ok());
    let (delivered, mut look_next) = checks::air::delivered(&case);
    let mut findings = delivered;
    findings.extend(basis.required.findings.iter().cloned());
    findings.extend(checks::evidence::evidence(&case));
    findings.extend(checks::fan::fans(&case));
    findings.extend(checks::duct::duct(&case));
    findings.extend(checks::terminal::terminal(&case));
    findings.extend(checks::room::rooms(&case));
    findings.extend(checks::swap::swap(&case));
    let mut house = house::house(&case);
    findings.append(&mut house.findings);
    look_next.append(&mut house.look_next);
    let mut dry = dry::dry(&case);
    findings.append(&mut dry.findings);
    let mut year = match span {
        Span::Day => dry::year::Stage::default(),
        Span::Year(progress) => dry::year::year(&case, progress),
    };
    findings.append(&mut year.findings);
    let mut floor = floor::Floor::of(job);
    let mut places = place::place(job, &mut floor);
    findings.append(&mut places.findings);
    let mut ways = route::route(&case, &mut floor, &places.starts);
    findings.append(&mut ways.findings);
    let mut cuts = cuts::cuts(&case, &floor, &ways.routes);
    assemble::told_over(&mut findings, &mut cuts.findings);
    findings.extend(assemble::trouble(job, &flows));
    assemble::comparisons(&mut findings);
    assemble::overrides(job, &mut findings);
    look_next.extend(look_next::single_looks(&findings));
    look_next.append(&mut dry.look_next);
    let candidates = select::select(&case, &house);
    let scenarios = assemble::scenarios(job, &basis.system, &basis.inputs);
    let sooner = mirror::sooner(&case, &findings);
    let found = brief::Found {
        findings: &findings,
        look_next: &look_next,
        candidates: &candidates,
        routes: &ways.routes,
        sooner: &sooner,
    };
    let brief = brief::brief(&case, &found);
    let mut report = assemble::report(&case, brief, findings, look_next, candidates, scenarios);
    house.put_into(&mut report);
    dry.put_into(&mut report);
    year.put_into(&mut report);
    report.placements = places.placements;
    report.routes = ways.routes;
    report.bores = cuts.bores;
    report.penetrations = cuts.penetrations;
    report.clearances = cuts.clearances;
    report.assumptions.append(&mut floor.assumptions);
    report
}
