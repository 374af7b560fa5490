//! Readings against what is required and against what the model says.

use dewpath_case::Case;
use dewpath_case::reading;
use dewpath_case::sample::litres;
use dewpath_case::source;
use dewpath_job::model::{Method, Reading};
use dewpath_message::Citation;
use dewpath_message::slot::{AirflowLS, ChanceRatio, Name};
use dewpath_report::say::{
    AirflowDeliveredMeasured, AirflowDeliveredMeasuredAlone, AirflowMeasured,
    AirflowMeasuredBefore, AirflowMeasuredKey, AirflowModel, AirflowModelKey, EvidenceMethodPaper,
    FlowVerification, Judgement, Todo, What,
};
use dewpath_report::{
    Check, Figure, Finding, Provenance, Source, Standing, Step, Triple, Verdict, WorkingInput,
};
use dewpath_rulebook::Book;

use crate::verdict::{by_chance, chance_at_least, confirm_source, settled};

/// Whether the flow of some room was measured as it is now.
pub fn is_measured(case: &Case<'_>) -> bool {
    let by_a_method = |reading: &Reading| reading::method(reading).is_some();
    (0..case.job.rooms.len()).any(|room| reading::last(case.job, room).is_some_and(by_a_method))
}

/// Whether the last flow measured in a room is at least what is required, as read.
pub(crate) fn measured_enough(case: &Case<'_>, room: usize) -> bool {
    let Some(need) = &case.required.rooms[room].flow else { return false };
    reading::last(case.job, room)
        .and_then(reading::flow)
        .is_some_and(|(low, _)| low.m3_s() >= need.likely - 1e-6)
}

/// The air of a room by what was measured there, where it was measured as it is now: the figure as read, with the spread of its method,
/// decides; what the model expected stands beside it.
pub(crate) fn measured(case: &Case<'_>, room: usize) -> Option<Finding> {
    let reading = reading::last(case.job, room)?;
    let expected = case.expected(room)?;
    let required = against_required(case, reading)?;
    // One that nobody says how it was read may break a figure; to settle a good one its method has to be known.
    if required.verdict == Verdict::Holds && reading::method(reading).is_none() {
        return None;
    }
    let (Some(Figure::AirflowLS(flow)), Some(Figure::AirflowLS(limit))) =
        (required.figure, required.limit)
    else {
        return None;
    };
    let message = AirflowDeliveredMeasured {
        room: Name::new(dewpath_case::require::name(&case.job.rooms[room])),
        flow: AirflowLS(flow),
        required: AirflowLS(limit),
        expected: AirflowLS(expected.litres()),
    };
    let subject = &case.job.rooms[room].id;
    let source = required.source.clone();
    let made =
        Finding::new(Check::AirflowDelivered, subject, required.verdict, message, source.clone());
    let mut made = Finding { working: required.working, ..made };
    made.figure = required.figure;
    made.limit = required.limit;
    made.chance = required.chance;
    made.todo.extend(confirm_source(&source, made.verdict));
    Some(made)
}

/// The air of a room as it was measured where nothing is known to be required: a figure beside the one that was expected.
pub(crate) fn measured_alone(case: &Case<'_>, room: usize) -> Option<Finding> {
    let reading =
        reading::last(case.job, room).filter(|reading| reading::method(reading).is_some())?;
    let expected = case.expected(room)?;
    let flow = AirflowLS(as_read(reading)?);
    let message = AirflowDeliveredMeasuredAlone {
        room: Name::new(dewpath_case::require::name(&case.job.rooms[room])),
        flow,
        expected: AirflowLS(expected.litres()),
    };
    let subject = &case.job.rooms[room].id;
    let source = Source::judgement(Judgement::NoRequirement);
    let made = Finding::new(Check::AirflowDelivered, subject, Verdict::Unknown, message, source);
    Some(made.figure(flow).todo(Todo::NameBook))
}

/// A reading with the spread of its method, L/s.
fn as_read(reading: &Reading) -> Option<Triple> {
    let (read, spread) = reading::spread(reading)?;
    let bounds = (read - 1.645 * spread).max(0.0)..read + 1.645 * spread;
    Some(Triple { low: bounds.start, likely: read, high: bounds.end }.map(litres))
}

/// Findings on readings, and on whether one is asked for.
pub fn evidence(case: &Case<'_>) -> Vec<Finding> {
    let mut findings = Vec::new();
    for reading in &case.job.readings {
        findings.extend(against_required(case, reading));
        findings.extend(against_model(case, reading));
        findings.extend(too_weak(reading));
    }
    findings.extend(asked_for(case));
    findings
}

/// Chance that the true flow is enough, from the reading and the spread of its method.
fn against_required(case: &Case<'_>, reading: &Reading) -> Option<Finding> {
    let room = reading::room(case.job, reading)?;
    let need = case.required.rooms[room].flow.as_ref()?;
    let (low, high) = reading::flow(reading)?;
    let (read, spread) = reading::spread(reading)?;
    let sd = reading::deviation(reading::method(reading));
    let chance = normal_share((read - need.likely) / spread.max(1e-9));
    let source = &case.required.rooms[room].source;
    if !reading::is_current(case.job, reading) {
        return Some(before(case, reading, room, read));
    }
    // The verdict follows the figure as read, as books take it; the chance stands beside it.
    let is_enough = chance_at_least((low.m3_s(), high.m3_s()), need.likely);
    let verdict = by_chance(is_enough, Verdict::Fails, source, &case.job.settings);
    let figure = AirflowLS(as_read(reading)?);
    let limit = AirflowLS(need.map(|q| q * 1e3).triple());
    let key = match (verdict, settled(chance, &case.job.settings).is_some()) {
        (Verdict::Holds, true) => AirflowMeasuredKey::Holds,
        (Verdict::Holds, false) => AirflowMeasuredKey::HoldsNarrowly,
        (Verdict::Fails, true) => AirflowMeasuredKey::Fails,
        (Verdict::Fails, false) => AirflowMeasuredKey::FailsNarrowly,
        _ if source.standing == Standing::FromMemory => AirflowMeasuredKey::Memory,
        _ => AirflowMeasuredKey::Near,
    };
    let message = AirflowMeasured {
        key,
        flow: figure,
        required: limit,
        chance: ChanceRatio(Triple::exact(chance)),
    };
    let step = Step {
        equation: "P = Phi((q_read - q_required) / u), u = s * q_read".into(),
        inputs: vec![
            WorkingInput::new(
                "q_read",
                What::Reading,
                Figure::AirflowLS(Triple::exact(read * 1e3)),
                Provenance::Measured,
            ),
            WorkingInput::new(
                "s",
                What::MethodSpread,
                Figure::ShareRatio(Triple::exact(sd)),
                Provenance::Default,
            ),
            WorkingInput::new("q_required", What::Required, limit.into(), Provenance::RuleBook),
        ],
        result: Some(Figure::ChanceRatio(Triple::exact(chance))),
        source: Source::confirmed(
            Citation("Stratton, Walker & Wray 2012, field evaluation of air flow meters; GUM"),
            "",
        ),
    };
    let made = Finding::new(Check::FlowVerification, &reading.id, verdict, message, source.clone())
        .figure(figure)
        .limit(limit)
        .chance(chance)
        .step(step);
    // It is judged with the widest spread; a better method may settle what that leaves open.
    Some(if reading::method(reading).is_some() { made } else { made.todo(Todo::WriteMethod) })
}

/// A reading of what was there before the work: kept, but no verdict on the new.
fn before(case: &Case<'_>, reading: &Reading, room: usize, read: f64) -> Finding {
    let figure = AirflowLS(Triple::exact(read * 1e3));
    let message = AirflowMeasuredBefore {
        flow: figure,
        room: Name::new(dewpath_case::require::name(&case.job.rooms[room])),
    };
    let source = Source::judgement(Judgement::BeforeTheWork);
    Finding::new(Check::FlowVerification, &reading.id, Verdict::Caution, message, source)
        .figure(figure)
        .todo(Todo::MeasureFlow)
}

/// A reading far from the model is evidence about the run.
fn against_model(case: &Case<'_>, reading: &Reading) -> Option<Finding> {
    if !reading::is_current(case.job, reading) {
        return None;
    }
    let room = reading::room(case.job, reading)?;
    let model = case.expected(room)?.litres();
    let (low, high) = reading::flow(reading)?;
    let sd = reading::deviation(reading::method(reading));
    if !sd.is_finite() {
        return None;
    }
    let read = 0.5 * (low.l_s() + high.l_s());
    let (least, most) = (read * (1.0 - 2.0 * sd), read * (1.0 + 2.0 * sd));
    let (key, verdict) = if most < model.low {
        (AirflowModelKey::Less, Verdict::Caution)
    } else if least > model.high {
        (AirflowModelKey::More, Verdict::Caution)
    } else {
        (AirflowModelKey::Agrees, Verdict::Holds)
    };
    let figure = AirflowLS(Triple::exact(read));
    let message = AirflowModel { key, flow: figure, model: AirflowLS(model) };
    let source = Source::judgement(Judgement::TwoDeviations);
    let finding = Finding::new(Check::AirflowModel, &reading.id, verdict, message, source)
        .figure(figure)
        .limit(Figure::AirflowLS(model));
    Some(match key {
        AirflowModelKey::Less => finding.todo(Todo::OutletFirst).todo(Todo::LookHidden),
        _ => finding,
    })
}

fn too_weak(reading: &Reading) -> Option<Finding> {
    (reading::method(reading) == Some(Method::Paper)).then(|| {
        Finding::new(
            Check::EvidenceMethod,
            &reading.id,
            Verdict::Caution,
            EvidenceMethodPaper {},
            Source::practice(),
        )
        .todo(Todo::MeasureFlow)
    })
}

/// Whether the book asks for a measurement on this job.
fn asked_for(case: &Case<'_>) -> Vec<Finding> {
    let Some(rule) = case.rule(Book::local_airflow_measured).filter(|rule| rule.value.required)
    else {
        return Vec::new();
    };
    let source = source::ruled(&rule);
    case.job
        .rooms
        .iter()
        .enumerate()
        .filter(|(index, _)| case.flows.is_some_and(|flows| flows.rooms[*index].is_some()))
        .map(|(index, room)| {
            let done = case.job.readings.iter().any(|reading| {
                reading::is_current(case.job, reading)
                    && reading::room(case.job, reading) == Some(index)
                    && reading::settles(reading)
            });
            let (key, verdict) = match (done, rule.value.exempt_if_rated_at) {
                (true, _) => (FlowVerification::Done, Verdict::Holds),
                (false, Some(_)) => (FlowVerification::UnlessTable, Verdict::Caution),
                (false, None) => (FlowVerification::Asked, Verdict::Caution),
            };
            let finding =
                Finding::new(Check::FlowVerification, &room.id, verdict, key, source.clone());
            if done { finding } else { finding.todo(Todo::MeasureFlow) }
        })
        .collect()
}

/// Share of a normal distribution below `z`.
fn normal_share(z: f64) -> f64 {
    0.5 * libm::erfc(-z / std::f64::consts::SQRT_2)
}
