//! Checks on fans: rating at pressure, sound, listing, control, several crossings.

use dewpath_case::Case;
use dewpath_case::given;
use dewpath_case::source;
use dewpath_case::system::fan;
use dewpath_job::model::{Control, Fan, Operation, RoomKind};
use dewpath_message::slot::{AirflowLS, Count, LoudnessSone, PressurePa, Reference};
use dewpath_message::{Citation, Text};
use dewpath_report::say::{
    AirflowRating, AirflowRatingKey, ControlRequired, ControlRequiredKey, Equation, FanContinuous,
    FanListing, FanRatingMark, FanStall, SoundLimit, SoundLimitKey, SoundLimitUnknown,
    SourceSection, SourceSectionKey, SourceText, Todo, What,
};
use dewpath_report::{
    Check, Figure, Finding, Message, Provenance, Source, Standing, Step, Triple, Verdict,
    WorkingInput,
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
    let pressure = PressurePa(Triple::exact(rule.value.pa()));
    let limit = AirflowLS(Triple::exact(needs * 1000.0));
    let rated = fan::rated_bounds_m3_s(&fan.data, rule.value.pa());
    // A box number below the rate is short even at less pressure.
    let judged_flow = rated
        .or_else(|| fan::box_flow_m3_s(&fan.data).filter(|q| *q < needs - 1e-6).map(|q| (q, q)));
    let verdict = judged_flow.map_or(Verdict::Unknown, |bounds| {
        let chance = chance_at_least(bounds, needs);
        by_chance(chance, Verdict::Fails, &source, &case.job.settings)
    });
    let key = match (verdict, judged_flow) {
        (Verdict::Holds, _) => AirflowRatingKey::Holds,
        (Verdict::Unknown, None) => AirflowRatingKey::Unknown,
        (Verdict::Unknown, Some(_)) => AirflowRatingKey::Near,
        _ => AirflowRatingKey::Short,
    };
    let rated = judged_flow.map(|bounds| AirflowLS(spread(bounds).map(|q| q * 1000.0)));
    let message = AirflowRating { key, pressure, required: limit, rated };
    let mut finding =
        Finding::new(Check::AirflowRating, &fan.id, verdict, message, source.clone()).limit(limit);
    finding.figure = rated.map(Figure::from);
    if let (Some(figure), true) = (finding.figure, fan.data.curve.len() >= 2) {
        finding = finding.step(Step {
            equation: Equation::CurveAtRating.into(),
            inputs: vec![WorkingInput {
                symbol: "p".into(),
                what: Message::from(What::RatedAt),
                figure: pressure.into(),
                from: Provenance::RuleBook,
            }],
            result: Some(figure),
            source: Source::confirmed(
                SourceText::CurveOfJobOrLibrary,
                Citation("monotone cubic, Fritsch & Carlson 1980"),
            ),
        });
    }
    if verdict == Verdict::Unknown {
        finding = finding.todo(Todo::RatingAtPressure);
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
    let limit = LoudnessSone(Triple::exact(rule.value.sone()));
    let Some((low, high)) = given::bounds(&fan.data.loudness) else {
        return Some(
            Finding::new(
                Check::SoundLimit,
                &fan.id,
                Verdict::Unknown,
                SoundLimitUnknown { limit },
                source,
            )
            .limit(limit)
            .todo(Todo::ReadLabel),
        );
    };
    let chance = chance_at_most((low.sone(), high.sone()), rule.value.sone());
    let verdict = by_chance(chance, Verdict::Fails, &source, &case.job.settings);
    let figure = LoudnessSone(spread((low.sone(), high.sone())));
    let key = match verdict {
        Verdict::Holds => SoundLimitKey::Holds,
        Verdict::Unknown => SoundLimitKey::Near,
        Verdict::Caution | Verdict::Fails => SoundLimitKey::Loud,
    };
    let message = SoundLimit { key, loudness: figure, limit };
    Some(
        Finding::new(Check::SoundLimit, &fan.id, verdict, message, source)
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
    let source = Source::confirmed(
        Citation("NEC (NFPA 70)"),
        SourceSection {
            key: SourceSectionKey::WithInstructions,
            section: Reference::new("110.3(B)"),
        },
    );
    let (key, verdict) = match (over, listed) {
        (Some(true), Some(true)) => (FanListing::Holds, Verdict::Holds),
        (Some(true), Some(false)) => (FanListing::Not, Verdict::Fails),
        _ => (FanListing::Unknown, Verdict::Unknown),
    };
    let _ = case;
    Some(Finding::new(Check::FanListing, &fan.id, verdict, key, source).todo(Todo::Gfci))
}

/// A rating that no listing body's test stands behind, where the book asks for one.
fn rating_mark(case: &Case<'_>, fan: &Fan) -> Option<Finding> {
    let rule = case.rule(Book::listing_required).filter(|rule| rule.value)?;
    let source = source::ruled(&rule);
    let (key, verdict) = match fan.data.listed_rating.as_ref()?.value.known() {
        Some(true) => (FanRatingMark::Holds, judged(true, Verdict::Fails, &source)),
        Some(false) => (FanRatingMark::None, judged(false, Verdict::Fails, &source)),
        None => (FanRatingMark::Unknown, Verdict::Unknown),
    };
    let finding = Finding::new(Check::FanRatingMark, &fan.id, verdict, key, source);
    Some(if verdict == Verdict::Holds { finding } else { finding.todo(Todo::ReadLabel) })
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
    let source = Source::confirmed(
        Citation("NEC (NFPA 70)"),
        SourceSection {
            key: SourceSectionKey::WithInstructions,
            section: Reference::new("110.3(B)"),
        },
    );
    let (key, verdict) = match listed {
        Some(true) => (FanContinuous::Holds, Verdict::Holds),
        Some(false) => (FanContinuous::Not, Verdict::Fails),
        None => (FanContinuous::Unknown, Verdict::Unknown),
    };
    let finding = Finding::new(Check::FanContinuous, &fan.id, verdict, key, source);
    Some(if verdict == Verdict::Holds { finding } else { finding.todo(Todo::ReadLabel) })
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
            (ControlRequiredKey::Holds, judged(true, Verdict::Fails, &source))
        }
        Some(_) => (ControlRequiredKey::Fails, judged(false, Verdict::Fails, &source)),
        None => (ControlRequiredKey::Unknown, Verdict::Unknown),
    };
    let message = ControlRequired { key, allowed: Reference::new(words.join(", ")) };
    let mut finding =
        Finding::new(Check::ControlRequired, &fan.id, verdict, message, source.clone());
    if verdict != Verdict::Holds {
        finding = finding.todo(Todo::ChooseControl);
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
        book: SourceText::CurveOfJob.into(),
        section: Text::default(),
        standing: Standing::Judgement,
    };
    let message = FanStall {
        flow: AirflowLS(Triple::exact(lowest)),
        count: Count(Triple::exact(others.len() as f64)),
    };
    Some(
        Finding::new(Check::FanStall, &fan.id, Verdict::Caution, message, source)
            .todo(Todo::LessPressure),
    )
}
