//! Puts the results of the stages together into the report.

use dewpath_case::Case;
use dewpath_case::World;
use dewpath_case::flow::Flows;
use dewpath_case::given;
use dewpath_case::inputs::{Draw, Inputs};
use dewpath_case::require;
use dewpath_case::sample::Sample;
use dewpath_case::section;
use dewpath_case::system::System;
use dewpath_case::system::instance::{Instance, Trouble};
use dewpath_case::system::spec::{Conditions, Owner, Spec};
use dewpath_case::system::{fan, loss_name};
use dewpath_job::category::Category as _;
use dewpath_job::model::{DoorState, Job, Scenario};
use dewpath_judge::look_next::share;
use dewpath_message::slot::{Count, Name, PressurePa, Reference, Word};
use dewpath_report::say::{
    EngineDrawsUnsolved, EngineUnsolved, Equation, EvidencePressure, EvidenceRunNotSeen,
    EvidenceSymptom, FanData, FanDataKey, Judgement, OverrideUnused, ScenarioLeftOut, Todo, What,
};
use dewpath_report::{
    Answer, BookHash, Brief, Candidate, CandidateRoom, Check, Delivered, FanResult, Finding,
    LookNext, Loss, Message, OperatingPoint, Provenance, REPORT_FORMAT, Report, RoomResult,
    RunResult, ScenarioResult, Source, Step, Triple, Verdict, WorkingInput, WorldHash,
};

use crate::caution;

/// Adds findings, each in place of one on the same point that a stage told before it that saw less.
pub(crate) fn told_over(findings: &mut Vec<Finding>, later: &mut Vec<Finding>) {
    findings.retain(|known| {
        !later.iter().any(|told| told.id == known.id && told.subject == known.subject)
    });
    findings.append(later);
}

/// The whole report.
pub(crate) fn report(
    case: &Case<'_>,
    brief: Brief,
    findings: Vec<Finding>,
    look_next: Vec<LookNext>,
    candidates: Vec<Candidate>,
    scenarios: Vec<ScenarioResult>,
) -> Report {
    let job = case.job;
    Report {
        format: REPORT_FORMAT,
        engine: env!("CARGO_PKG_VERSION").to_owned(),
        name: job.name.clone(),
        show: job.show.word().to_owned(),
        draws_count: case.inputs.draws(),
        world: world_hash(case.world),
        answer: Answer { verdict: brief.verdict, messages: delivered(&findings) },
        brief,
        requirement: case.required.list.clone(),
        rooms: rooms(case),
        fans: fans(case),
        runs: runs(case),
        dwelling: None,
        placements: Vec::new(),
        routes: Vec::new(),
        bores: Vec::new(),
        penetrations: Vec::new(),
        clearances: Vec::new(),
        scenarios,
        candidates,
        cautions: caution::cautions(case),
        evidence: evidence(job),
        not_seen: job.not_seen.clone(),
        notes: job.notes.clone(),
        assumptions: case.inputs.assumptions.clone(),
        look_next,
        findings,
    }
}

fn world_hash(world: &World) -> WorldHash {
    let hash = |text: &str| blake3::hash(text.as_bytes()).to_hex().to_string();
    WorldHash {
        job: hash(&world.job_text),
        rule_book: world.rule_book.as_ref().map(|book| BookHash {
            id: book.id().to_owned(),
            title: book.title().to_owned(),
            amendments: book.amendments().to_vec(),
            hash: hash(&book.hash_text()),
        }),
        library: hash(&world.products_text),
        weather: None,
    }
}

/// What was found on each room's air.
fn delivered(findings: &[Finding]) -> Vec<Message> {
    let of_air = findings.iter().filter(|finding| finding.id == Check::AirflowDelivered);
    of_air.map(|finding| finding.message.clone()).collect()
}

/// Checks whose figure stands in the job as it is.
const AS_WRITTEN: [Check; 9] = [
    Check::DryerLength,
    Check::DuctGauge,
    Check::DuctSupport,
    Check::SoundLimit,
    Check::TerminalClearance,
    Check::TerminalClearanceGrade,
    Check::TerminalClearanceIntake,
    Check::TerminalClearanceLine,
    Check::TerminalClearanceOpening,
];

/// A figure that is only compared shows that: what is written or comes from elsewhere, and the limit it stands against.
pub(crate) fn comparisons(findings: &mut [Finding]) {
    for finding in findings.iter_mut().filter(|finding| finding.working.is_empty()) {
        let Some(figure) = finding.figure else { continue };
        let input = WorkingInput::new;
        let is_written = AS_WRITTEN.contains(&finding.id);
        let from = if is_written { Provenance::Written } else { Provenance::Computed };
        let mut inputs = vec![input("x", What::AsWritten, figure, from)];
        inputs.extend(
            finding.limit.map(|limit| input("limit", What::Limit, limit, Provenance::RuleBook)),
        );
        finding.working.push(Step {
            equation: Equation::AgainstLimit.into(),
            inputs,
            result: None,
            source: finding.source.clone(),
        });
    }
}

/// The user's reasons go onto the findings they are meant for.
pub(crate) fn overrides(job: &Job, findings: &mut Vec<Finding>) {
    for over in &job.overrides {
        let mut met = false;
        for finding in findings.iter_mut() {
            // Findings are shown as `id/subject`, and may be named so.
            let (id, of) = match over.finding.split_once('/') {
                Some((id, subject)) => (id, Some(subject)),
                None => (over.finding.as_str(), over.subject.as_deref()),
            };
            let meant = finding.id == id && of.is_none_or(|subject| subject == finding.subject);
            if meant {
                finding.overridden = Some(over.reason.clone());
                met = true;
            }
        }
        if !met {
            findings.push(Finding::new(
                Check::OverrideUnused,
                &over.finding,
                Verdict::Caution,
                OverrideUnused { finding: Name::new(&over.finding) },
                Source::judgement(Judgement::OverrideUnanswered),
            ));
        }
    }
}

/// What went wrong in the arithmetic is a finding, never silence.
pub(crate) fn trouble(job: &Job, flows: &Result<Flows, Trouble>) -> Vec<Finding> {
    let source = || Source::judgement(Judgement::BalanceOfFans);
    match flows {
        Err(Trouble::Unsolved { why }) => vec![Finding::new(
            Check::EngineUnsolved,
            "system",
            Verdict::Unknown,
            EngineUnsolved { why: Reference::new(why) },
            source(),
        )],
        Ok(flows) if flows.failed > 0 => {
            let mut findings = unusable_fans(job, flows);
            let why = match &flows.trouble {
                Some(Trouble::Unsolved { why }) => why.clone(),
                _ => String::new(),
            };
            findings.push(Finding::new(
                Check::EngineUnsolved,
                "draws",
                Verdict::Unknown,
                EngineDrawsUnsolved {
                    count: Count(Triple::exact(f64::from(flows.failed))),
                    why: Reference::new(why),
                },
                source(),
            ));
            findings
        }
        Ok(flows) => unusable_fans(job, flows),
    }
}

/// Fans without a usable curve.
fn unusable_fans(job: &Job, flows: &Flows) -> Vec<Finding> {
    let source = || Source::judgement(Judgement::BalanceOfFans);
    let one = |(fan, why): (usize, &Option<String>)| {
        let why = why.as_ref()?;
        let id = &job.fans[fan].id;
        let key = if why.is_empty() { FanDataKey::None } else { FanDataKey::Contradicts };
        let message = FanData { key, fan: Name::new(id), why: Reference::new(why) };
        Some(
            Finding::new(Check::FanData, id, Verdict::Unknown, message, source())
                .todo(Todo::ReadLabel),
        )
    };
    flows.unusable.iter().enumerate().filter_map(one).collect()
}

fn litres(sample: &Sample) -> Triple {
    sample.litres()
}

fn rooms(case: &Case<'_>) -> Vec<RoomResult> {
    case.job
        .rooms
        .iter()
        .enumerate()
        .map(|(index, room)| {
            let need = &case.required.rooms[index];
            let flow = case.flows.and_then(|flows| flows.rooms[index].as_ref());
            RoomResult {
                id: room.id.clone(),
                name: require::name(room),
                floor_m2: need.area.as_ref().map(Sample::triple),
                room_m3: need.volume.as_ref().map(Sample::triple),
                delivered: flow.zip(case.flows).map(|(flow, flows)| Delivered {
                    airflow_l_s: litres(flow),
                    mass_kg_s: flow.with(&flows.density, |q, rho| q * rho).triple(),
                    chance_enough: need
                        .flow
                        .as_ref()
                        .filter(|_| case.inputs.tells_chance())
                        .map(|required| share(&dewpath_judge::checks::air::passes(flow, required))),
                    changes_per_h: need
                        .volume
                        .as_ref()
                        .map(|volume| flow.with(volume, |q, v| q * 3600.0 / v).triple()),
                    clearing_h: need
                        .volume
                        .as_ref()
                        .filter(|_| flow.triple().low > 0.0)
                        .map(|volume| flow.with(volume, |q, v| 3.0 * v / q / 3600.0).triple()),
                }),
                pressure_pa: case
                    .flows
                    .and_then(|flows| flows.room_pressure[index].as_ref())
                    .map(Sample::triple),
                clearing: None,
                year: None,
                control: None,
            }
        })
        .collect()
}

fn fans(case: &Case<'_>) -> Vec<FanResult> {
    case.job
        .fans
        .iter()
        .enumerate()
        .map(|(index, fan)| {
            let point = case.flows.and_then(|flows| flows.fans[index].as_ref());
            FanResult {
                id: fan.id.clone(),
                model: fan.model.clone(),
                operating_point: point.map(|(flow, pressure)| OperatingPoint {
                    airflow_l_s: litres(flow),
                    pressure_pa: pressure.triple(),
                }),
                other_crossings: case
                    .flows
                    .map(|flows| flows.crossings[index].clone())
                    .unwrap_or_default(),
                loudness_sone: point.and_then(|(_, p)| fan::loudness(&fan.data, p.likely)),
                loudness_source: point
                    .and_then(|(_, p)| fan::loudness(&fan.data, p.likely))
                    .map(fan::loudness_source),
                power_w: given::likely(&fan.data.power).map(|power| Triple::exact(power.w())),
                curve: fan::origin(&fan.data),
            }
        })
        .collect()
}

fn runs(case: &Case<'_>) -> Vec<RunResult> {
    let job = case.job;
    job.runs
        .iter()
        .enumerate()
        .map(|(index, run)| {
            let edge = case
                .system
                .find(|o| matches!(o, Owner::Part { run, .. } if *run == index))
                .map(|(edge, _)| edge);
            let mine = |owner: &Owner| match owner {
                Owner::Part { run: r, .. } | Owner::Meeting { run: r, .. } => *r == index,
                Owner::Terminal { terminal } => job.terminals[*terminal].id == run.to,
                Owner::Grille { grille } => job.grilles[*grille].id == run.from,
                Owner::Shell | Owner::Door { .. } | Owner::Fan { .. } | Owner::Joints { .. } => {
                    false
                }
            };
            // Behind a fan of which nothing is known, nothing is known of the air either.
            let flows = case.flows.filter(|flows| !flows.undriven[index]);
            let losses: Vec<(Loss, Sample)> =
                flows.map(|flows| losses(case, flows, mine)).unwrap_or_default();
            let total = losses
                .iter()
                .map(|(_, sample)| sample.clone())
                .reduce(|a, b| a.with(&b, |x, y| x + y));
            let straight =
                Sample::of(case.inputs, |draw| case.system.straight_m(index, case.inputs, draw));
            RunResult {
                id: run.id.clone(),
                airflow_l_s: flows.zip(edge).map(|(flows, e)| litres(&flows.edges[e])),
                losses: losses.into_iter().map(|(loss, _)| loss).collect(),
                total_pa: total.map(|sample| sample.triple()),
                straight_m: edge.map(|_| straight.triple()),
                condensate: None,
                insulation: None,
            }
        })
        .collect()
}

fn losses(case: &Case<'_>, flows: &Flows, mine: impl Fn(&Owner) -> bool) -> Vec<(Loss, Sample)> {
    let mut found = Vec::new();
    for (e, edge) in case.system.edges.iter().enumerate() {
        for (item, sample) in edge.items.iter().zip(&flows.items[e]) {
            if !mine(&item.owner) {
                continue;
            }
            let (part, what) = loss_name(case.job, &item.owner, &item.spec);
            let velocity = section_of(&item.spec).map(|size| {
                Sample::of(case.inputs, |draw| {
                    flows.edges[e].at(draw) / section::area_m2(size.value(case.inputs, draw))
                })
                .triple()
            });
            let loss = Loss {
                part,
                what: what.key().to_owned(),
                pressure_pa: sample.triple(),
                velocity_m_s: velocity,
            };
            found.push((loss, sample.clone()));
        }
    }
    found
}

fn section_of(
    spec: &Spec,
) -> Option<&dewpath_case::inputs::CategoryInput<dewpath_job::model::Section>> {
    match spec {
        Spec::Piece { duct, .. } => Some(&duct.size),
        Spec::Elbow { size, .. }
        | Spec::Backdraft { size, .. }
        | Spec::Balancing { size, .. }
        | Spec::Crush { size, .. }
        | Spec::SystemEffect { size, .. } => Some(size),
        Spec::Terminal(terminal) => Some(&terminal.size),
        Spec::Transition { .. }
        | Spec::Leak { .. }
        | Spec::Joints(_)
        | Spec::Door(_)
        | Spec::Fan(_)
        | Spec::Point { .. }
        | Spec::Grille { .. }
        | Spec::Meeting { .. } => None,
    }
}

/// Delivered air under other weather or use, at the likely values, beside the reference case.
pub(crate) fn scenarios(job: &Job, system: &System, inputs: &Inputs) -> Vec<ScenarioResult> {
    let calm = under(job, system, inputs, &Conditions::default()).unwrap_or_default();
    let one = |scenario: &Scenario| {
        let conditions = Conditions {
            // Wind counts only with the way the outlet faces it; `left_out` says so where it does not.
            wind_m_s: given::likely(&scenario.wind).map_or(0.0, dewpath_units::Velocity::m_s),
            facing: given::member(&scenario.facing),
            outdoor_k: given::likely(&scenario.outdoor).map(dewpath_units::Temperature::k),
            doors_open: given::options(&scenario.doors) == [DoorState::Open],
            off: (0..job.fans.len())
                .filter(|&fan| scenario.off.contains(&job.fans[fan].id))
                .collect(),
        };
        let mut left_out = left_out(job, scenario);
        let delivered = under(job, system, inputs, &conditions).unwrap_or_else(|| {
            left_out.push(Message::from(ScenarioLeftOut::Unsolved));
            Vec::new()
        });
        ScenarioResult { id: scenario.id.clone(), delivered, calm: calm.clone(), left_out }
    };
    job.scenarios.iter().map(one).collect()
}

/// Air delivered to each room under some conditions; none where there is no balance.
fn under(
    job: &Job,
    system: &System,
    inputs: &Inputs,
    conditions: &Conditions,
) -> Option<Vec<CandidateRoom>> {
    let mut instance = Instance::new(job, system, inputs, conditions).ok()?;
    instance.solve(Draw::Likely).ok()?;
    let edges: Vec<Sample> =
        (0..system.edges.len()).map(|e| Sample::exact(instance.flow_m3_s(e))).collect();
    let room = |index: usize| {
        let flow = dewpath_case::flow::room_flow(job, system, &edges, index)?;
        Some(CandidateRoom { room: job.rooms[index].id.clone(), airflow_l_s: litres(&flow) })
    };
    Some((0..job.rooms.len()).filter_map(room).collect())
}

/// Wind needs to know how the outlet faces it, buoyancy how far the run rises.
fn left_out(job: &Job, scenario: &Scenario) -> Vec<Message> {
    let (blows, faces) =
        (given::is_known(&scenario.wind), given::member(&scenario.facing).is_some());
    let stack = given::is_known(&scenario.outdoor)
        && job.runs.iter().any(|run| !given::is_known(&run.rise));
    let mut list = Vec::new();
    if blows && !faces {
        list.push(Message::from(ScenarioLeftOut::NoFacing));
    }
    if !blows && (faces || scenario.wind.is_some()) {
        list.push(Message::from(ScenarioLeftOut::NoWind));
    }
    if stack {
        list.push(Message::from(ScenarioLeftOut::NoRise));
    }
    list
}

/// What is kept with the report and not judged here: symptoms, runs that were not seen as a whole,
/// pressures that were read.
fn evidence(job: &Job) -> Vec<Message> {
    let symptoms = job.symptoms.iter().map(|symptom| {
        Message::from(EvidenceSymptom {
            id: Name::new(&symptom.id),
            kind: Word::new(symptom.kind.word()),
            when: Name::new(symptom.when.clone().unwrap_or_default()),
        })
    });
    let unseen = job
        .runs
        .iter()
        .filter(|run| run.seen.is_some() && given::yes(&run.seen) != Some(true))
        .map(|run| Message::from(EvidenceRunNotSeen { run: Name::new(&run.id) }));
    let pressures = job.readings.iter().filter_map(|reading| {
        let (low, high) = given::bounds(&reading.pressure)?;
        let triple =
            Triple { low: low.pa(), likely: 0.5 * (low.pa() + high.pa()), high: high.pa() };
        Some(Message::from(EvidencePressure {
            id: Name::new(&reading.id),
            pressure: PressurePa(triple),
        }))
    });
    symptoms.chain(unseen).chain(pressures).collect()
}
