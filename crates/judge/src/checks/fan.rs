//! Checks on fans: rating at pressure, sound, listing, control, several crossings.

use dewpath_case::Case;
use dewpath_case::given;
use dewpath_case::source;
use dewpath_case::system::fan;
use dewpath_job::model::{Control, Fan, Operation, RoomKind};
use dewpath_report::{
    Figure, Finding, Message, Provenance, Source, Standing, Step, Triple, Verdict, WorkingInput,
};
use dewpath_rulebook::{Book, ControlKind, Operation as BookOperation};

use crate::verdict::confirm_source;
use crate::verdict::{by_chance, chance_at_least, chance_at_most, judged};

/// Findings on every fan.
pub fn fans(case: &Case<'_>) -> Vec<Finding> {
    let mut findings = Vec::new();
    for (index, fan) in case.job.fans.iter().enumerate() {
        findings.extend(rating(case, index, fan));
        findings.extend(sound(case, index, fan));
        findings.extend(listing(case, fan));
        findings.extend(rating_mark(case, fan));
        findings.extend(continuous_duty(case, index, fan));
        findings.extend(control(case, fan));
        findings.extend(stall(case, index, fan));
    }
    findings
}

/// Rooms that a fan serves, by index.
fn rooms(case: &Case<'_>, fan: usize) -> Vec<usize> {
    dewpath_case::system::rooms_of_fan(case.job, fan)
}

/// The listed flow at the rating pressure must reach the rate.
fn rating(case: &Case<'_>, index: usize, fan: &Fan) -> Option<Finding> {
    let rule = case.rule(Book::rating_pressure)?;
    let source = source::ruled(&rule);
    let needs: f64 = rooms(case, index)
        .iter()
        .map(|&room| case.required.rooms[room].flow.as_ref().map(|flow| flow.likely))
        .sum::<Option<f64>>()
        .filter(|sum| *sum > 0.0)?;
    let pressure = Figure::PressurePa(Triple::exact(rule.value.pa()));
    let limit = Figure::AirflowLS(Triple::exact(needs * 1000.0));
    let rated = fan::rated_bounds_m3_s(&fan.data, rule.value.pa());
    // A box number below the rate is short even at less pressure.
    let judged_flow = rated
        .or_else(|| fan::box_flow_m3_s(&fan.data).filter(|q| *q < needs - 1e-6).map(|q| (q, q)));
    let verdict = judged_flow.map_or(Verdict::Unknown, |bounds| {
        let chance = chance_at_least(bounds, needs);
        by_chance(chance, Verdict::Fails, &source, &case.job.settings)
    });
    let key = match (verdict, judged_flow) {
        (Verdict::Holds, _) => "airflow.rating.holds",
        (Verdict::Unknown, None) => "airflow.rating.unknown",
        (Verdict::Unknown, Some(_)) => "airflow.rating.near",
        _ => "airflow.rating.short",
    };
    let figure = judged_flow.map(|bounds| Figure::AirflowLS(spread(bounds).map(|q| q * 1000.0)));
    let mut message = Message::new(key).figure("pressure", pressure).figure("required", limit);
    if let Some(figure) = figure {
        message = message.figure("rated", figure);
    }
    let mut finding =
        Finding::new("airflow.rating", &fan.id, verdict, message, source.clone()).limit(limit);
    finding.figure = figure;
    if let (Some(figure), true) = (figure, fan.data.curve.len() >= 2) {
        finding = finding.step(Step {
            equation: "q = curve at the rating pressure, or the rating printed for it".to_owned(),
            inputs: vec![WorkingInput {
                symbol: "p".to_owned(),
                what: Message::new("what.rated-at"),
                figure: pressure,
                from: Provenance::RuleBook,
            }],
            result: Some(figure),
            source: Source::confirmed(
                "fan curve of the job or library",
                "monotone cubic, Fritsch & Carlson 1980",
            ),
        });
    }
    if verdict == Verdict::Unknown {
        finding = finding.todo(Message::new("todo.rating-at-pressure"));
    }
    finding.todo.extend(confirm_source(&source, verdict));
    Some(finding)
}

/// The rated loudness against the book's limit, at the book's rating pressure.
fn sound(case: &Case<'_>, index: usize, fan: &Fan) -> Option<Finding> {
    let continuous = rooms(case, index)
        .iter()
        .any(|&room| given::options(&case.job.rooms[room].operation) == [Operation::Continuous]);
    let operation =
        if continuous { BookOperation::Continuous } else { BookOperation::Intermittent };
    let rule = case.rule(|book| book.sound_limit(operation))?;
    let source = source::ruled(&rule);
    let limit = Figure::LoudnessSone(Triple::exact(rule.value.sone()));
    let Some((low, high)) = given::bounds(&fan.data.loudness) else {
        return Some(
            Finding::new(
                "sound.limit",
                &fan.id,
                Verdict::Unknown,
                Message::new("sound.limit.unknown").figure("limit", limit),
                source,
            )
            .limit(limit)
            .todo(Message::new("todo.read-label")),
        );
    };
    let chance = chance_at_most((low.sone(), high.sone()), rule.value.sone());
    let verdict = by_chance(chance, Verdict::Fails, &source, &case.job.settings);
    let figure = Figure::LoudnessSone(spread((low.sone(), high.sone())));
    let key = match verdict {
        Verdict::Holds => "sound.limit.holds",
        Verdict::Unknown => "sound.limit.near",
        Verdict::Caution | Verdict::Fails => "sound.limit.loud",
    };
    let message = Message::new(key).figure("loudness", figure).figure("limit", limit);
    Some(
        Finding::new("sound.limit", &fan.id, verdict, message, source)
            .figure(figure)
            .limit(limit)
            .chance(chance),
    )
}

/// Bounds as a triple with the middle between.
fn spread((low, high): (f64, f64)) -> Triple {
    Triple { low, likely: 0.5 * (low + high), high }
}

/// Over a tub or shower only a fan that is listed for it, on a protected circuit.
fn listing(case: &Case<'_>, fan: &Fan) -> Option<Finding> {
    let over = fan.over_tub_or_shower.as_ref()?.value.known();
    if over == Some(false) {
        return None;
    }
    let listed = given::yes(&fan.data.listed_wet);
    let source = Source::confirmed("NEC (NFPA 70)", "110.3(B), with the fan's instructions");
    let (key, verdict) = match (over, listed) {
        (Some(true), Some(true)) => ("fan.listing.holds", Verdict::Holds),
        (Some(true), Some(false)) => ("fan.listing.not", Verdict::Fails),
        _ => ("fan.listing.unknown", Verdict::Unknown),
    };
    let _ = case;
    Some(
        Finding::new("fan.listing", &fan.id, verdict, Message::new(key), source)
            .todo(Message::new("todo.gfci")),
    )
}

/// A rating that no listing body's test stands behind, where the book asks for one.
fn rating_mark(case: &Case<'_>, fan: &Fan) -> Option<Finding> {
    let rule = case.rule(Book::listing_required).filter(|rule| rule.value)?;
    let source = source::ruled(&rule);
    let (key, verdict) = match fan.data.listed_rating.as_ref()?.value.known() {
        Some(true) => ("fan.rating-mark.holds", judged(true, Verdict::Fails, &source)),
        Some(false) => ("fan.rating-mark.none", judged(false, Verdict::Fails, &source)),
        None => ("fan.rating-mark.unknown", Verdict::Unknown),
    };
    let finding = Finding::new("fan.rating-mark", &fan.id, verdict, Message::new(key), source);
    Some(if verdict == Verdict::Holds {
        finding
    } else {
        finding.todo(Message::new("todo.read-label"))
    })
}

/// A fan that runs all the time is listed for that.
fn continuous_duty(case: &Case<'_>, index: usize, fan: &Fan) -> Option<Finding> {
    let always = rooms(case, index)
        .iter()
        .any(|&room| given::member(&case.job.rooms[room].operation) == Some(Operation::Continuous));
    let listed = fan.data.listed_continuous.as_ref()?.value.known();
    if !always {
        return None;
    }
    let source = Source::confirmed("NEC (NFPA 70)", "110.3(B), with the fan's instructions");
    let (key, verdict) = match listed {
        Some(true) => ("fan.continuous.holds", Verdict::Holds),
        Some(false) => ("fan.continuous.not", Verdict::Fails),
        None => ("fan.continuous.unknown", Verdict::Unknown),
    };
    let finding = Finding::new("fan.continuous", &fan.id, verdict, Message::new(key), source);
    Some(if verdict == Verdict::Holds {
        finding
    } else {
        finding.todo(Message::new("todo.read-label"))
    })
}

/// What must switch the fan, where the book says so.
fn control(case: &Case<'_>, fan: &Fan) -> Option<Finding> {
    let bath = fan.room.as_ref().is_none_or(|id| {
        case.job.rooms.iter().any(|room| {
            room.id == *id && matches!(room.kind, RoomKind::Bathroom | RoomKind::ToiletRoom)
        })
    });
    let continuous = fan.room.as_ref().is_some_and(|id| {
        case.job.rooms.iter().any(|room| {
            room.id == *id && given::options(&room.operation) == [Operation::Continuous]
        })
    });
    if !bath || continuous {
        return None;
    }
    let rule = case.rule(Book::controls_required)?;
    let source = source::ruled(&rule);
    let control = given::member(&fan.control);
    let allowed = |control: Control| {
        let kind = match control {
            Control::Timer => ControlKind::Timer,
            Control::Humidity => ControlKind::Humidity,
            Control::Occupancy => ControlKind::OccupantSensor,
            Control::Contaminant => ControlKind::Contaminant,
            Control::LightSwitch => ControlKind::LightSwitch,
            Control::Continuous => ControlKind::Continuous,
            Control::Switch => return false,
        };
        rule.value.one_of.contains(&kind)
    };
    let words: Vec<&str> = rule.value.one_of.iter().map(|kind| kind.word()).collect();
    let (key, verdict) = match control {
        Some(control) if allowed(control) => {
            ("control.required.holds", judged(true, Verdict::Fails, &source))
        }
        Some(_) => ("control.required.fails", judged(false, Verdict::Fails, &source)),
        None => ("control.required.unknown", Verdict::Unknown),
    };
    let message = Message::new(key).reference("allowed", words.join(", "));
    let mut finding = Finding::new("control.required", &fan.id, verdict, message, source.clone());
    if verdict != Verdict::Holds {
        finding = finding.todo(Message::new("todo.choose-control"));
    }
    finding.todo.extend(confirm_source(&source, verdict));
    Some(finding)
}

/// A curve with a hump can settle where nobody wants it.
fn stall(case: &Case<'_>, index: usize, fan: &Fan) -> Option<Finding> {
    let others = &case.flows?.crossings[index];
    if others.is_empty() {
        return None;
    }
    let lowest = others.iter().map(|c| c.airflow_l_s).fold(f64::INFINITY, f64::min);
    let source = Source {
        book: "fan curve of the job".to_owned(),
        section: String::new(),
        standing: Standing::Judgement,
    };
    let message = Message::new("fan.stall")
        .figure("flow", Figure::AirflowLS(Triple::exact(lowest)))
        .figure("count", Figure::Count(Triple::exact(others.len() as f64)));
    Some(
        Finding::new("fan.stall", &fan.id, Verdict::Caution, message, source)
            .todo(Message::new("todo.less-pressure")),
    )
}
