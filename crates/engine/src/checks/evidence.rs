//! Readings against what is required and against what the model says.

use dewpath_air::meters::Hood;
use dewpath_job::model::{Job, Method, Reading};
use dewpath_report::{
    Figure, Finding, Message, Provenance, Source, Standing, Step, Triple, Verdict, WorkingInput,
};
use dewpath_rulebook::Book;
use dewpath_units::Airflow;

use super::Look;
use crate::finding::{by_chance, chance_at_least};
use crate::given;
use crate::source;

/// Rooms whose air goes through a fan, by index.
pub(crate) fn rooms_of_fan(job: &Job, fan: usize) -> Vec<usize> {
    let id = &job.fans[fan].id;
    let mut rooms: Vec<usize> = job
        .rooms
        .iter()
        .enumerate()
        .filter(|(_, room)| job.fans[fan].room.as_ref() == Some(&room.id))
        .map(|(index, _)| index)
        .collect();
    // Upstream along the runs: grilles of other rooms.
    let mut ends = vec![id.as_str()];
    let mut place = 0;
    while place < ends.len() {
        let end = ends[place];
        for run in job.runs.iter().filter(|run| run.to == end) {
            if let Some(grille) = job.grilles.iter().find(|grille| grille.id == run.from) {
                rooms.extend(job.rooms.iter().position(|room| room.id == grille.room));
            } else if let Some(room) = job.rooms.iter().position(|room| room.id == run.from) {
                rooms.push(room);
            } else if !ends.contains(&run.from.as_str()) {
                ends.push(&run.from);
            }
        }
        place += 1;
    }
    rooms.sort_unstable();
    rooms.dedup();
    rooms
}

/// Share of the reading that is one standard deviation, by method.
///
/// Flow hoods from the `air` crate (Stratton, Walker & Wray 2012); box, traverse, anemometer and bag
/// from handbook practice. A method that nobody wrote is taken as the widest of them.
fn deviation(method: Option<Method>) -> f64 {
    let hood = |hood: Hood| {
        let unit = Airflow::from_l_s(100.0);
        // The expanded uncertainty is two standard deviations.
        hood.measured(unit).map_or(0.25, |read| 0.5 * (read.expanded_uncertainty / unit))
    };
    match method {
        Some(Method::PoweredHood) => hood(Hood::Powered),
        Some(Method::PassiveHood) => hood(Hood::Passive),
        Some(Method::OrificeBox | Method::Traverse) => 0.08,
        Some(Method::Bag) => 0.20,
        Some(Method::Anemometer) | None => 0.25,
        Some(Method::Paper) => f64::INFINITY,
    }
}

fn method(reading: &Reading) -> Option<Method> {
    given::member(&reading.method)
}

/// Room that a reading tells of.
fn room_of(look: &Look<'_>, reading: &Reading) -> Option<usize> {
    let job = look.job;
    if let Some(room) = job.rooms.iter().position(|room| room.id == reading.at) {
        return Some(room);
    }
    if let Some(grille) = job.grilles.iter().find(|grille| grille.id == reading.at) {
        return job.rooms.iter().position(|room| room.id == grille.room);
    }
    let fan = job.fans.iter().position(|fan| fan.id == reading.at).or_else(|| {
        let run = job.runs.iter().find(|run| run.to == reading.at)?;
        look.fans_of(run).first().copied()
    })?;
    match rooms_of_fan(job, fan).as_slice() {
        [one] => Some(*one),
        _ => None,
    }
}

/// Whether the last flow measured in a room is at least what is required, as read.
pub(crate) fn measured_enough(look: &Look<'_>, room: usize) -> bool {
    let Some(need) = &look.required.rooms[room].flow else { return false };
    look.job
        .readings
        .iter()
        .filter(|reading| {
            super::air::is_current(look, reading) && room_of(look, reading) == Some(room)
        })
        .filter(|reading| method(reading) != Some(Method::Paper))
        .filter_map(|reading| reading.airflow.as_ref()?.value.bounds())
        .next_back()
        .is_some_and(|(low, _)| low.m3_s() >= need.likely - 1e-6)
}

/// Findings on readings, and on whether one is asked for.
pub(crate) fn evidence(look: &Look<'_>) -> Vec<Finding> {
    let mut findings = Vec::new();
    for reading in &look.job.readings {
        findings.extend(against_required(look, reading));
        findings.extend(against_model(look, reading));
        findings.extend(too_weak(reading));
    }
    findings.extend(asked_for(look));
    findings
}

/// Chance that the true flow is enough, from the reading and the spread of its method.
fn against_required(look: &Look<'_>, reading: &Reading) -> Option<Finding> {
    let room = room_of(look, reading)?;
    let need = look.required.rooms[room].flow.as_ref()?;
    let (low, high) = reading.airflow.as_ref()?.value.bounds()?;
    let read = 0.5 * (low.m3_s() + high.m3_s());
    let sd = deviation(method(reading));
    if !sd.is_finite() {
        return None;
    }
    let spread = ((sd * read) * (sd * read) + (high.m3_s() - low.m3_s()).powi_2() / 12.0).sqrt();
    let chance = normal_share((read - need.likely) / spread.max(1e-9));
    let source = &look.required.rooms[room].source;
    if !super::air::is_current(look, reading) {
        return Some(before(look, reading, room, read));
    }
    // The verdict follows the figure as read, as books take it; the chance stands beside it.
    let as_read = chance_at_least((low.m3_s(), high.m3_s()), need.likely);
    let verdict = by_chance(as_read, Verdict::Fails, source, &look.job.settings);
    let figure = Figure::AirflowLS(Triple {
        low: (read - 1.645 * spread).max(0.0) * 1e3,
        likely: read * 1e3,
        high: (read + 1.645 * spread) * 1e3,
    });
    let limit = Figure::AirflowLS(need.map(|q| q * 1e3).triple());
    let key = match (
        verdict,
        chance >= look.job.settings.holds_at || chance <= look.job.settings.fails_at,
    ) {
        (Verdict::Holds, true) => "airflow.measured.holds",
        (Verdict::Holds, false) => "airflow.measured.holds-narrowly",
        (Verdict::Fails, true) => "airflow.measured.fails",
        (Verdict::Fails, false) => "airflow.measured.fails-narrowly",
        _ if source.standing == Standing::FromMemory => "airflow.measured.memory",
        _ => "airflow.measured.near",
    };
    let message = Message::new(key)
        .figure("flow", figure)
        .figure("required", limit)
        .figure("chance", Figure::ChanceRatio(Triple::exact(chance)));
    let step = Step {
        equation: "P = Phi((q_read - q_required) / u), u = s * q_read".to_owned(),
        inputs: vec![
            WorkingInput::new(
                "q_read",
                "what.reading",
                Figure::AirflowLS(Triple::exact(read * 1e3)),
                Provenance::Measured,
            ),
            WorkingInput::new(
                "s",
                "what.method-spread",
                Figure::ShareRatio(Triple::exact(sd)),
                Provenance::Default,
            ),
            WorkingInput::new("q_required", "what.required", limit, Provenance::RuleBook),
        ],
        result: Some(Figure::ChanceRatio(Triple::exact(chance))),
        source: Source::confirmed(
            "Stratton, Walker & Wray 2012, field evaluation of air flow meters; GUM",
            "",
        ),
    };
    Some(
        Finding::new("flow.verification", &reading.id, verdict, message, source.clone())
            .figure(figure)
            .limit(limit)
            .chance(chance)
            .step(step),
    )
}

/// A reading of what was there before the work: kept, but no verdict on the new.
fn before(look: &Look<'_>, reading: &Reading, room: usize, read: f64) -> Finding {
    let figure = Figure::AirflowLS(Triple::exact(read * 1e3));
    let message = Message::new("airflow.measured.before")
        .figure("flow", figure)
        .name("room", crate::require::name(&look.job.rooms[room]));
    let source = Source::judgement("evidence about the state before the work");
    Finding::new("flow.verification", &reading.id, Verdict::Caution, message, source)
        .figure(figure)
        .todo(Message::new("todo.measure-flow"))
}

/// A reading far from the model is evidence about the run.
fn against_model(look: &Look<'_>, reading: &Reading) -> Option<Finding> {
    if !super::air::is_current(look, reading) {
        return None;
    }
    let room = room_of(look, reading)?;
    let model = look.flows?.rooms[room].as_ref()?.map(|q| q * 1e3).triple();
    let (low, high) = reading.airflow.as_ref()?.value.bounds()?;
    let sd = deviation(method(reading));
    if !sd.is_finite() {
        return None;
    }
    let read = 0.5 * (low.l_s() + high.l_s());
    let (least, most) = (read * (1.0 - 2.0 * sd), read * (1.0 + 2.0 * sd));
    let (key, verdict) = if most < model.low {
        ("airflow.model.less", Verdict::Caution)
    } else if least > model.high {
        ("airflow.model.more", Verdict::Caution)
    } else {
        ("airflow.model.agrees", Verdict::Holds)
    };
    let figure = Figure::AirflowLS(Triple::exact(read));
    let message =
        Message::new(key).figure("flow", figure).figure("model", Figure::AirflowLS(model));
    let source = Source::judgement("two standard deviations of the method");
    let finding = Finding::new("airflow.model", &reading.id, verdict, message, source)
        .figure(figure)
        .limit(Figure::AirflowLS(model));
    Some(match key {
        "airflow.model.less" => {
            finding.todo(Message::new("todo.outlet-first")).todo(Message::new("todo.look-hidden"))
        }
        _ => finding,
    })
}

fn too_weak(reading: &Reading) -> Option<Finding> {
    (method(reading) == Some(Method::Paper)).then(|| {
        Finding::new(
            "evidence.method",
            &reading.id,
            Verdict::Caution,
            Message::new("evidence.method.paper"),
            Source::practice(),
        )
        .todo(Message::new("todo.measure-flow"))
    })
}

/// Whether the book asks for a measurement on this job.
fn asked_for(look: &Look<'_>) -> Vec<Finding> {
    let Some(rule) = look.rule(Book::local_airflow_measured).filter(|rule| rule.value.required)
    else {
        return Vec::new();
    };
    let source = source::ruled(&rule);
    look.job
        .rooms
        .iter()
        .enumerate()
        .filter(|(index, _)| look.flows.is_some_and(|flows| flows.rooms[*index].is_some()))
        .map(|(index, room)| {
            let done = look.job.readings.iter().any(|reading| {
                super::air::is_current(look, reading)
                    && room_of(look, reading) == Some(index)
                    && method(reading) != Some(Method::Paper)
            });
            let (key, verdict) = match (done, rule.value.exempt_if_rated_at) {
                (true, _) => ("flow.verification.done", Verdict::Holds),
                (false, Some(_)) => ("flow.verification.unless-table", Verdict::Caution),
                (false, None) => ("flow.verification.asked", Verdict::Caution),
            };
            let finding = Finding::new(
                "flow.verification",
                &room.id,
                verdict,
                Message::new(key),
                source.clone(),
            );
            if done { finding } else { finding.todo(Message::new("todo.measure-flow")) }
        })
        .collect()
}

/// Share of a normal distribution below `z`.
fn normal_share(z: f64) -> f64 {
    0.5 * libm::erfc(-z / std::f64::consts::SQRT_2)
}

/// Square of a number: `powi` is not the same on every machine.
trait Square {
    fn powi_2(self) -> f64;
}

impl Square for f64 {
    fn powi_2(self) -> f64 {
        self * self
    }
}
