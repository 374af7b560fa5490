//! Ventilation of the whole dwelling: the rate asked for, what is provided, and how long or how low
//! the job's fans would have to run to provide it.

use dewpath_air::leakage::{
    DEFAULT_EXPONENT, Envelope, Shelter, Storeys, basic_infiltration, infiltration_credit,
};
use dewpath_job::model::{Control, Operation, VentilationKind};
use dewpath_rulebook::{Book, DwellingTrigger};
use dewpath_units::{Airflow, Density, Leakage50, Temperature, Velocity};

use super::ask::Asked;
use crate::checks::Look;
use crate::finding::by_chance;
use crate::given;
use crate::inputs::Draw;
use crate::look_next::share;
use crate::report::{
    Figure, Finding, Message, Provenance, Requirement, Source, Standing, Step, Triple, Verdict,
    WholeVentilation, WorkingInput,
};
use crate::sample::Sample;
use crate::system::instance::leak_flow_50;

const SECONDS_A_DAY: f64 = 86_400.0;
/// Steps of the search for the least share of run time; the share is then good to a few seconds a day.
const HALVINGS: usize = 24;
/// Shares at which a printed table of run-time factors is looked at before the search: its least
/// share is not asked for by name.
const LOOKS: usize = 100;

/// The ventilation of the dwelling, with its finding where a book asks for a rate.
pub(crate) fn ventilation(
    look: &Look<'_>,
    asked: Option<&Asked>,
) -> (Option<WholeVentilation>, Option<Finding>) {
    let rule = look.required.list.iter().find(|one| one.room.is_empty() && one.governs);
    let required = rule.and_then(|one| Some(one.airflow_l_s?.likely / 1000.0));
    let provided = provided(look);
    let fans = fans_of_job(look);
    if required.is_none() && provided.is_none() {
        return (None, None);
    }
    let credit = required.and_then(|required| credit(look, asked?, required));
    let hours = required.zip(fans.as_ref()).and_then(|(required, fans)| {
        let hours = |flow: f64| least_share(look, flow, required).map_or(f64::NAN, |s| 24.0 * s);
        let sample = fans.map(hours);
        sample.likely.is_finite().then(|| sample.triple())
    });
    let result = WholeVentilation {
        required_l_s: required.map(litres),
        infiltration_credit_l_s: credit.map(litres),
        provided_l_s: provided.as_ref().map(|flow| flow.equivalent.map(litres).triple()),
        hours_a_day_h: hours,
        continuous_l_s: required.map(litres),
    };
    let finding = rule.zip(required).map(|(rule, required)| {
        let facts = Facts { rule, required, provided: provided.as_ref(), credit, hours };
        finding(look, &facts)
    });
    (Some(result), finding)
}

fn litres(m3_s: f64) -> f64 {
    m3_s * 1000.0
}

/// What a book says of running for a share of the time: the factor on the continuous rate; plain
/// time where it has no table. `None` where the table does not go so far down.
fn factor(look: &Look<'_>, share: f64) -> Option<f64> {
    match look.rule(|book: &Book| book.run_time_factor(share)) {
        Some(ruled) => ruled.value,
        None => (share > 0.0).then(|| 1.0 / share),
    }
}

/// Least share of the time in which a flow gives a continuous rate, m³/s.
fn least_share(look: &Look<'_>, flow_m3_s: f64, required_m3_s: f64) -> Option<f64> {
    let enough =
        |share: f64| factor(look, share).is_some_and(|f| flow_m3_s >= required_m3_s * f - 1e-9);
    if !enough(1.0) {
        return None;
    }
    let step = |i: usize| i as f64 / LOOKS as f64;
    let first = (1..=LOOKS).find(|&i| enough(step(i)))?;
    let (mut low, mut high) = (step(first - 1), step(first));
    for _ in 0..HALVINGS {
        let middle = 0.5 * (low + high);
        if enough(middle) { high = middle } else { low = middle }
    }
    Some(high)
}

/// What is written to ventilate the dwelling.
struct Provided {
    /// Flow while it runs, m³/s.
    flow: Sample,
    /// Share of the time.
    share: f64,
    /// Continuous flow that it is worth, m³/s.
    equivalent: Sample,
}

fn provided(look: &Look<'_>) -> Option<Provided> {
    let ventilation = &look.job.dwelling.ventilation;
    let none = given::options(&ventilation.kind) == [VentilationKind::None];
    let continuous = continuous_fans(look);
    let written = given::bounds(&ventilation.airflow).filter(|_| !none).map(|(low, high)| {
        let hours = given::likely(&ventilation.hours_per_day);
        let share = hours.map_or(1.0, |time| (time.s() / SECONDS_A_DAY).clamp(0.0, 1.0));
        let value = |u: f64| low.m3_s() + u * (high.m3_s() - low.m3_s());
        let stream = crate::draws::unit_draws("dwelling.ventilation.airflow", look.inputs.draws());
        let draws = if low.m3_s() < high.m3_s() {
            stream.into_iter().map(value).collect()
        } else {
            Vec::new()
        };
        (Sample { likely: value(0.5), draws }, share)
    });
    match (written, continuous) {
        (Some((flow, share)), continuous) => {
            let worth =
                if share > 0.0 { factor(look, share).map_or(0.0, |f| 1.0 / f) } else { 0.0 };
            let own = flow.map(|q| q * worth);
            let equivalent = match continuous {
                Some(more) => own.with(&more, |a, b| a + b),
                None => own,
            };
            Some(Provided { flow, share, equivalent })
        }
        (None, Some(flow)) => Some(Provided { equivalent: flow.clone(), flow, share: 1.0 }),
        (None, None) => none.then(|| Provided {
            flow: Sample::exact(0.0),
            share: 0.0,
            equivalent: Sample::exact(0.0),
        }),
    }
}

/// Air of the fans that are said to run all the time, at their low setting where they have one.
fn continuous_fans(look: &Look<'_>) -> Option<Sample> {
    let flows = look.flows?;
    let mut sum: Option<Sample> = None;
    for (index, fan) in look.job.fans.iter().enumerate() {
        let Some((flow, _)) = &flows.fans[index] else { continue };
        let low = given::likely(&fan.settings.low_flow).map(dewpath_units::Ratio::ratio);
        let always = given::member(&fan.control) == Some(Control::Continuous)
            || look.job.rooms.iter().any(|room| {
                fan.room.as_ref() == Some(&room.id)
                    && given::member(&room.operation) == Some(Operation::Continuous)
            });
        let part = match (low, always) {
            (Some(low), _) => low,
            (None, true) => 1.0,
            (None, false) => continue,
        };
        let flow = flow.map(|q| q * part);
        sum = Some(match sum {
            Some(before) => before.with(&flow, |a, b| a + b),
            None => flow,
        });
    }
    sum
}

/// Air of all fans of the job.
fn fans_of_job(look: &Look<'_>) -> Option<Sample> {
    let flows = look.flows?;
    let known = flows.fans.iter().flatten().map(|(flow, _)| flow.clone());
    known.reduce(|sum, flow| sum.with(&flow, |a, b| a + b))
}

/// What the book lets natural infiltration count for, where the leakage was measured, m³/s.
fn credit(look: &Look<'_>, asked: &Asked, required_m3_s: f64) -> Option<f64> {
    let most = look.rule(Book::infiltration_credit_most)?;
    let dwelling = &look.job.dwelling;
    if !given::is_known(&dwelling.air_changes) && !given::is_known(&dwelling.leakage) {
        return None;
    }
    let flow_50 = leak_flow_50(&asked.leak, &asked.inputs, Draw::Likely)?;
    let envelope =
        Envelope::from_leakage50(Leakage50::from_m3_s(flow_50), DEFAULT_EXPONENT).ok()?;
    let density = look.flows.map_or(1.2, |flows| flows.density.likely);
    let area = envelope.effective_leakage_area(Density::from_kg_m3(density)).ok()?;
    let indoor = look.inputs.value(look.system.air.indoor, Draw::Likely);
    let difference = (indoor - asked.outdoor_k(Draw::Likely)).abs();
    let storeys = if asked.storeys(Draw::Likely) > 1.5 { Storeys::Two } else { Storeys::One };
    let natural = basic_infiltration(
        area,
        storeys,
        Shelter::Heavy,
        Temperature::from_k(difference),
        Velocity::from_m_s(asked.wind_m_s(Draw::Likely)),
    )
    .ok()?;
    // The fan has to bring the rest; what counts depends on it in turn, so take it at the whole rate.
    let counted = infiltration_credit(natural, Airflow::from_m3_s(required_m3_s)).m3_s();
    Some(counted.min(most.value * required_m3_s))
}

struct Facts<'a> {
    rule: &'a Requirement,
    required: f64,
    provided: Option<&'a Provided>,
    credit: Option<f64>,
    hours: Option<Triple>,
}

/// What a miss amounts to: a rule only where the book asks every dwelling, or this one, for it.
fn broken(look: &Look<'_>) -> Verdict {
    let dwelling = &look.job.dwelling;
    match look.rule(Book::dwelling_trigger).map(|rule| rule.value) {
        Some(DwellingTrigger::Always) => Verdict::Fails,
        Some(DwellingTrigger::TestedUpTo(most)) => {
            let tested = given::bounds(&dwelling.air_changes);
            let tight = tested.is_some_and(|(_, high)| high.per_h() <= most.per_h());
            if tight { Verdict::Fails } else { Verdict::Caution }
        }
        None => Verdict::Caution,
    }
}

fn finding(look: &Look<'_>, facts: &Facts<'_>) -> Finding {
    let limit = Figure::AirflowLS(Triple::exact(litres(facts.required)));
    let source = facts.rule.source.clone();
    let Some(provided) = facts.provided else {
        return option(facts, limit, source);
    };
    let enough = provided.equivalent.map(|q| q - facts.required);
    let passes: Vec<bool> = if enough.draws.is_empty() {
        vec![enough.likely >= -1e-7]
    } else {
        enough.draws.iter().map(|over| *over >= -1e-7).collect()
    };
    let chance = share(&passes);
    let broken = broken(look);
    let mut verdict = by_chance(chance, broken, &source, &look.job.settings);
    let with_credit = facts.credit.is_some_and(|credit| enough.likely + credit >= 0.0);
    if matches!(verdict, Verdict::Fails | Verdict::Caution) && with_credit {
        verdict = Verdict::Unknown;
    }
    let figure = Figure::AirflowLS(provided.equivalent.map(litres).triple());
    let key = match verdict {
        Verdict::Holds => "dwelling.ventilation.holds",
        Verdict::Unknown => "dwelling.ventilation.unknown",
        Verdict::Fails | Verdict::Caution => "dwelling.ventilation.short",
    };
    let mut message = Message::new(key)
        .figure("worth", figure)
        .figure("flow", Figure::AirflowLS(provided.flow.map(litres).triple()))
        .figure("share", Figure::ShareRatio(Triple::exact(provided.share)))
        .figure("required", limit);
    if let Some(factor) = factor(look, provided.share).filter(|_| provided.share < 1.0) {
        let needed = Triple::exact(litres(facts.required * factor));
        message = message.figure("needed", Figure::AirflowLS(needed));
    }
    if let Some(credit) = facts.credit {
        message = message.figure("credit", Figure::AirflowLS(Triple::exact(litres(credit))));
    }
    let mut finding =
        Finding::new("dwelling.ventilation", "dwelling", verdict, message, source.clone())
            .figure(figure)
            .limit(limit);
    finding.chance = (look.inputs.draws() > 0).then_some(chance);
    finding.working = working(look, facts, provided, figure);
    if verdict != Verdict::Holds {
        let least = least_share(look, provided.flow.likely, facts.required);
        finding = match least {
            Some(least) => finding.todo(
                Message::new("todo.run-longer")
                    .figure("minutes", Figure::TimeH(Triple::exact(least))),
            ),
            None => finding.todo(Message::new("todo.more-ventilation").figure("flow", limit)),
        };
    }
    finding.todo.extend(crate::checks::confirm_source(&source, verdict));
    finding
}

/// Nothing is written to give the rate: what the job's fans could do.
fn option(facts: &Facts<'_>, limit: Figure, source: Source) -> Finding {
    let key = match facts.hours {
        Some(_) => "dwelling.ventilation.option",
        None => "dwelling.ventilation.not-written",
    };
    let mut message = Message::new(key).figure("required", limit);
    if let Some(hours) = facts.hours {
        message = message.figure("hours", Figure::TimeH(hours));
    }
    let verdict =
        if source.standing == Standing::FromMemory { Verdict::Unknown } else { Verdict::Caution };
    Finding::new("dwelling.ventilation", "dwelling", verdict, message, source)
        .limit(limit)
        .todo(Message::new("todo.write-ventilation"))
}

fn working(look: &Look<'_>, facts: &Facts<'_>, provided: &Provided, worth: Figure) -> Vec<Step> {
    let input = |symbol: &str, what: &str, figure: Figure| {
        WorkingInput::new(symbol, what, figure, Provenance::Written)
    };
    let table = look.rule(|book: &Book| book.run_time_factor(provided.share));
    let mut steps = facts.rule.working.clone();
    steps.push(Step {
        equation: if table.is_some() { "q_c = q / f(s)" } else { "q_c = q s" }.to_owned(),
        inputs: vec![
            input(
                "q",
                "what.ventilation-flow",
                Figure::AirflowLS(provided.flow.map(litres).triple()),
            ),
            input("s", "what.run-share", Figure::ShareRatio(Triple::exact(provided.share))),
        ],
        result: Some(worth),
        source: table.as_ref().map_or_else(
            || Source::confirmed("share of the time", "plain mean of the flow"),
            crate::source::ruled,
        ),
    });
    if let Some(credit) = facts.credit {
        steps.push(Step {
            equation: "q_i = min(c_max q_tot, phi Q_n), phi = Q_n / (Q_n + q_tot)".to_owned(),
            inputs: Vec::new(),
            result: Some(Figure::AirflowLS(Triple::exact(litres(credit)))),
            source: Source::memory(
                "ASHRAE 62.2-2016; ASHRAE Fundamentals 2017, ch. 16, basic model",
                "at the weather assumed here, not a year's",
            ),
        });
    }
    steps
}
