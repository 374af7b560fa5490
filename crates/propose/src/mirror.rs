//! What clears a fogged mirror sooner: the few changes a contractor would make, each made to the job and followed through the
//! design shower at the likely values.

use std::collections::BTreeMap;

use dewpath_case::{Basis, Case, given};
use dewpath_job::diff;
use dewpath_job::edit::Edit;
use dewpath_job::model::{Control, DuctKind, FanHabit, Job, RunShape, SymptomKind};
use dewpath_judge::dry;
use dewpath_report::say::{MirrorSooner, MirrorSoonerKey};
use dewpath_report::{Check, Figure, Finding, Message, PatchText, Triple, Verdict};
use dewpath_units::{Duration, Length};

use crate::edit;

/// A cut under the door that is wide enough for most fans, m: 3/4 in. Common practice.
const GAP_M: f64 = 0.019;
/// How long a fan runs on, s. Common practice.
const RUN_ON_S: f64 = 1800.0;
/// A change that gains less is not worth naming: minutes, and share of the time. Judgement.
const GAINS_S: f64 = 120.0;
const GAINS_RATIO: f64 = 0.2;

/// A change that clears the mirror of a room sooner.
pub struct Sooner {
    /// Room.
    pub room: String,
    /// What it is, with minutes as it stands and with the change.
    pub what: Message,
    /// The change.
    pub patch: PatchText,
}

/// The change that clears the mirror soonest, for each room whose mirror is slow, unsure or complained of.
pub fn sooner(case: &Case<'_>, findings: &[Finding]) -> Vec<Sooner> {
    let written = diff::values("", &case.world.job_text).unwrap_or_default();
    let is_complained_of = case.job.symptoms.iter().any(|one| one.kind == SymptomKind::Fog);
    let of_mirror = findings.iter().filter(|finding| finding.id == Check::RoomClearingMirror);
    let is_asked = |finding: &&Finding| finding.verdict != Verdict::Holds || is_complained_of;
    of_mirror.filter(is_asked).filter_map(|finding| soonest(case, finding, &written)).collect()
}

fn soonest(
    case: &Case<'_>,
    finding: &Finding,
    written: &BTreeMap<String, String>,
) -> Option<Sooner> {
    let room = finding.subject.as_str();
    let index = case.job.rooms.iter().position(|known| known.id == room)?;
    let likely_s = minutes_after(case.job, case, index)?;
    // What is told of the mirror stands over all draws: a change takes its share of that.
    let now_s = finding.figure.map_or(likely_s, |figure| figure.triple().likely * 3600.0);
    let tried = changes(case.job, index).into_iter().filter_map(|(key, changed)| {
        let with_s = now_s * minutes_after(&changed, case, index)? / likely_s;
        let is_worth_it = now_s - with_s > GAINS_S.max(GAINS_RATIO * now_s);
        is_worth_it.then_some((key, changed, with_s))
    });
    let (key, changed, with_s) = tried.min_by(|a, b| a.2.total_cmp(&b.2))?;
    let edit = Edit::of(case.job, written, |job| *job = changed);
    let time = |s: f64| Figure::TimeH(Triple::exact(s / 3600.0));
    let what = MirrorSooner { key, now: time(now_s), then: time(with_s) }.into();
    Some(Sooner { room: room.to_owned(), what, patch: edit::told(edit.patch) })
}

/// Seconds after the shower until the mirror of a room is clear, at the likely values.
fn minutes_after(job: &Job, before: &Case<'_>, room: usize) -> Option<f64> {
    let basis = Basis::beside(before, job, 0);
    let flows = basis.flows(job).ok()?;
    let case = Case { weather: before.weather, ..basis.case(job, before.world, Some(&flows)) };
    Some(dry::likely_day(&case, room)?.clearing.mirror_time_s.likely)
}

/// Jobs with one change each.
fn changes(job: &Job, room: usize) -> Vec<(MirrorSoonerKey, Job)> {
    [wider_gap(job, room), pipe(job, room), longer(job, room)].into_iter().flatten().collect()
}

fn wider_gap(job: &Job, room: usize) -> Option<(MirrorSoonerKey, Job)> {
    let gap = given::likely(&job.rooms[room].door.gap)?;
    (gap.m() < GAP_M - 1e-3).then(|| {
        let mut job = job.clone();
        job.rooms[room].door.gap = Some(edit::exact(Length::from_m(GAP_M)));
        (MirrorSoonerKey::Gap, job)
    })
}

/// Pipe in place of flex in the runs that draw on the room.
fn pipe(job: &Job, room: usize) -> Option<(MirrorSoonerKey, Job)> {
    let fans = fans_of(job, room);
    let mut changed = job.clone();
    let mut any = false;
    for run in changed.runs.iter_mut().filter(|run| fans.contains(&run.from)) {
        let RunShape::Sum(sum) = &mut run.shape else { continue };
        if given::options(&sum.duct.kind) == [DuctKind::Flex] {
            sum.duct.kind = Some(edit::known(DuctKind::SmoothMetal));
            sum.duct.pulled = None;
            sum.duct.compression = None;
            any = true;
        }
    }
    any.then_some((MirrorSoonerKey::Pipe, changed))
}

/// The fan left on after the shower, by its timer or by hand.
fn longer(job: &Job, room: usize) -> Option<(MirrorSoonerKey, Job)> {
    let fans = fans_of(job, room);
    let fan = job.fans.iter().position(|fan| fans.contains(&fan.id))?;
    let is_short = |given: &dewpath_job::model::Given<Duration>| {
        given::likely(given).is_none_or(|time| time.s() < RUN_ON_S - 60.0)
    };
    let on = Some(edit::exact(Duration::from_s(RUN_ON_S)));
    let mut changed = job.clone();
    match given::member(&job.fans[fan].control)? {
        Control::Timer if is_short(&job.fans[fan].settings.run_on) => {
            changed.fans[fan].settings.run_on = on;
        }
        Control::Switch | Control::LightSwitch if is_short(&job.rooms[room].usage.leave_on) => {
            changed.rooms[room].usage.fan = Some(edit::known(FanHabit::After));
            changed.rooms[room].usage.leave_on = on;
        }
        _ => return None,
    }
    Some((MirrorSoonerKey::Longer, changed))
}

fn fans_of(job: &Job, room: usize) -> Vec<String> {
    let serves = |fan: &usize| dewpath_case::system::rooms_of_fan(job, *fan).contains(&room);
    (0..job.fans.len()).filter(serves).map(|fan| job.fans[fan].id.clone()).collect()
}
