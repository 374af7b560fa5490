//! A way as the report tells it: judged, laid, with what it takes.

use dewpath_job::category::Category as _;
use dewpath_job::model::Job;
use dewpath_layout::route::Route;
use dewpath_message::slot::{DiameterMm, ShareRatio};
use dewpath_report::say::{RouteNoteOutside, RouteNotePressed};
use dewpath_report::{Bore, Elbow, Message, RouteResult, Triple};

use super::bores::{across_m, bore, hole, hole_rule};
use super::ducts::Choice;
use super::laying::{self, Laid};
use super::search::{exits, with_ways};
use super::task::Task;
use super::{materials, working, written};
use crate::edit;
use crate::floor::{Floor, Gate};

/// A way with the job that takes it.
pub(super) struct Way {
    pub result: RouteResult,
    pub job: Job,
    /// Whether its duct is the one that is written for the run.
    pub is_written: bool,
}

pub(super) fn result(
    task: &Task<'_>,
    floor: &Floor,
    gates: &[(usize, Gate)],
    route: &Route,
    choice: &Choice,
) -> Option<Way> {
    let job = task.case.job;
    let (way, gate) = gates.iter().find(|(way, _)| job.ways_out[*way].id == route.exit)?;
    let built = written::written(task, floor, &job.ways_out[*way], gate, route, choice);
    let (delivered, verdict) = written::judged(task, &built.job);
    let rule = hole_rule(task.case);
    let bores: Vec<Bore> = route
        .crossings
        .iter()
        .filter_map(|crossing| {
            let member = floor.members.iter().find(|member| member.id == crossing.member)?;
            let hole = hole(crossing.opening, crossing.along_m, crossing.height_m);
            let judged = bore(member, &hole, across_m(crossing.opening), rule.as_ref())?;
            Some(Bore { at_m: Some(crossing.at), ..judged })
        })
        .collect();
    let mut line: Vec<[f64; 3]> = route.legs.iter().map(|leg| leg.from).collect();
    line.extend(route.legs.last().map(|leg| leg.to));
    let exits = exits(task, gates, choice);
    let laid = laying::lay(task, route, choice, gate.depth_m, |slope| {
        with_ways(task, floor, &exits, |ways, may_bore| {
            laying::falls_of(route, ways, choice, may_bore, slope)
        })
    });
    let result = RouteResult {
        fan: job.fans[task.start.fan].id.clone(),
        rank: 0,
        way_out: route.exit.clone(),
        duct: route.duct.clone(),
        size_m: choice.inside_m,
        through: route.through.clone(),
        line_m: line,
        length_m: laid.straight_m(),
        elbows: route
            .bends
            .iter()
            .map(|bend| Elbow {
                turn_deg: bend.turn_deg,
                radius_m: bend.radius_m,
                at_m: bend.corner,
            })
            .collect(),
        bores,
        loss_pa: route.pressure_pa,
        delivered,
        stays_g: None,
        labour_h: route.labour_h,
        notes: notes(choice, task, &laid),
        materials: materials::materials(task, route, choice, &laid, written::cap(gate.kind).word()),
        legs: laid.legs,
        slope_ratio: laid.slope_ratio,
        slope_source: laid.slope_source,
        fall_m: laid.fall_m,
        low_points: laid.low_points,
        supports: laid.supports,
        supports_m: laid.supports_m,
        jointing: laid.jointing,
        working: exits
            .iter()
            .find(|exit| exit.id == route.exit)
            .map(|exit| working::working(route, choice, exit))
            .unwrap_or_default(),
        verdict,
        patch: edit::told(built.patch),
    };
    Some(Way { result, job: built.job, is_written: choice.is_written })
}

fn notes(choice: &Choice, task: &Task<'_>, laid: &Laid) -> Vec<Message> {
    let mut notes = laying::notes(laid);
    if task.left < 1.0 {
        let left = ShareRatio(Triple::exact(task.left));
        notes.push(Message::from(RouteNotePressed { left }));
    }
    if task.jacket_m > 0.0 {
        let outside = DiameterMm(Triple::exact(1000.0 * choice.duct.outside_m));
        notes.push(Message::from(RouteNoteOutside { outside }));
    }
    notes
}
