//! Checks that reach beyond the room: combustion appliances, make-up air, dryer and hood.

use dewpath_job::model::{Draft, ExhaustKind};
use dewpath_rulebook::{Book, DryerElbow, DwellingUse};
use dewpath_units::Area;

use super::Look;
use crate::finding::judged;
use crate::given;
use crate::report::{Figure, Finding, Message, Source, Standing, Triple, Verdict};
use crate::source;

/// Findings on the dwelling.
pub(crate) fn house(look: &Look<'_>) -> Vec<Finding> {
    let mut findings = Vec::new();
    findings.extend(pressure(look));
    findings.extend(make_up(look));
    findings.extend(dryer(look));
    findings.extend(dwelling_rate(look));
    findings
}

/// What the stage that balances the house would say is not known yet; it is never left out.
fn pressure(look: &Look<'_>) -> Option<Finding> {
    let prone = |draft: Option<Draft>| !matches!(draft, Some(Draft::Sealed | Draft::Electric));
    let appliances = &look.job.dwelling.appliances;
    let risky: Vec<&str> = appliances
        .iter()
        .filter(|appliance| prone(given::member(&appliance.draft)))
        .map(|appliance| appliance.id.as_str())
        .collect();
    if risky.is_empty() {
        return None;
    }
    let source = Source {
        book: "worst-case depressurisation test".to_owned(),
        section: "ASTM E1998; house balance not worked out".to_owned(),
        standing: Standing::Confirmed,
    };
    Some(
        Finding::new(
            "house.pressure",
            "dwelling",
            Verdict::Unknown,
            Message::new("house.pressure.unknown").name("appliances", risky.join(", ")),
            source,
        )
        .todo(Message::new("todo.worst-case-test")),
    )
}

fn make_up(look: &Look<'_>) -> Option<Finding> {
    let rule = look.rule(Book::make_up)?;
    let source = source::ruled(&rule);
    let above = rule.value.above.m3_s();
    let by_exhaust = look.job.dwelling.exhausts.iter().find(|exhaust| {
        given::bounds(&exhaust.airflow).is_some_and(|(_, high)| high.m3_s() > above)
    });
    let by_fan = look
        .job
        .fans
        .iter()
        .find(|fan| crate::fan::box_flow_m3_s(&fan.data).is_some_and(|flow| flow > above));
    let id = by_exhaust.map(|exhaust| &exhaust.id).or_else(|| by_fan.map(|fan| &fan.id))?;
    let open_draft = look
        .job
        .dwelling
        .appliances
        .iter()
        .map(|appliance| given::member(&appliance.draft).map(|d| matches!(d, Draft::Natural)));
    let mut any = Some(false);
    for open in open_draft {
        any = match (any, open) {
            (Some(true), _) | (_, Some(true)) => Some(true),
            (None, _) | (_, None) => None,
            _ => Some(false),
        };
    }
    if look.job.dwelling.appliances.is_empty() {
        any = None;
    }
    let caught = if rule.value.only_with_open_draft { any } else { Some(true) };
    let (key, verdict) = match caught {
        Some(true) => ("dwelling.makeup_air.asked", judged(false, Verdict::Fails, &source)),
        Some(false) => ("dwelling.makeup_air.not-asked", Verdict::Holds),
        None => ("dwelling.makeup_air.unknown", Verdict::Unknown),
    };
    let limit = Figure::AirflowLS(Triple::exact(above * 1000.0));
    let message = Message::new(key).name("exhaust", id).figure("limit", limit);
    Some(
        Finding::new("dwelling.makeup_air", id, verdict, message, source)
            .limit(limit)
            .todo(Message::new("todo.make-up-air")),
    )
}

fn dryer(look: &Look<'_>) -> Vec<Finding> {
    let mut findings = Vec::new();
    for exhaust in &look.job.dwelling.exhausts {
        if exhaust.kind.as_ref().is_none_or(|s| s.value.options() != [ExhaustKind::Dryer]) {
            continue;
        }
        let (Some((_, elbows)), Some(length)) =
            (given::count_bounds(&exhaust.elbows), given::bounds(&exhaust.length))
        else {
            findings.push(dryer_unknown(look, &exhaust.id));
            continue;
        };
        let elbow =
            DryerElbow { radius: dewpath_rulebook::DryerElbowRadius::Mitred4In, is_45: false };
        let turns = vec![elbow; elbows as usize];
        let Some(rule) = look.rule(|book| book.dryer_run_limit(&turns)) else { continue };
        let source = source::ruled(&rule);
        let limit = Figure::LengthM(Triple::exact(rule.value.m()));
        let holds = length.1.m() <= rule.value.m() + 1e-6;
        let figure = Figure::LengthM(Triple {
            low: length.0.m(),
            likely: 0.5 * (length.0.m() + length.1.m()),
            high: length.1.m(),
        });
        let key = if holds { "dryer.length.holds" } else { "dryer.length.long" };
        let message = Message::new(key).figure("length", figure).figure("limit", limit);
        findings.push(
            Finding::new(
                "dryer.length",
                &exhaust.id,
                judged(holds, Verdict::Fails, &source),
                message,
                source,
            )
            .figure(figure)
            .limit(limit),
        );
    }
    findings
}

/// A dryer on the job whose run nobody wrote down.
fn dryer_unknown(look: &Look<'_>, id: &str) -> Finding {
    let rule = look.rule(|book| book.dryer_run_limit(&[]));
    let source = rule.as_ref().map_or_else(Source::practice, source::ruled);
    Finding::new("dryer.length", id, Verdict::Caution, Message::new("dryer.length.unknown"), source)
        .todo(Message::new("todo.measure-dryer"))
}

/// A whole-dwelling rate that the book has and a missing fact holds back.
fn dwelling_rate(look: &Look<'_>) -> Option<Finding> {
    let book = look.world.rule_book.as_ref()?;
    let dwelling = &look.job.dwelling;
    let area = given::likely(&dwelling.floor_area);
    let bedrooms = given::count_bounds(&dwelling.bedrooms).filter(|(low, high)| low == high);
    // With both at hand the rates stand in the requirement list; with neither nobody asked.
    let (known, missing) = match (area, bedrooms) {
        (Some(_), None) => ("floor area", "missing.bedrooms"),
        (None, Some(_)) => ("bedrooms", "missing.dwelling-area"),
        _ => return None,
    };
    let full = DwellingUse {
        floor_area: Some(area.unwrap_or(Area::from_m2(100.0))),
        bedrooms: Some(bedrooms.map_or(2, |(count, _)| count)),
        ..DwellingUse::default()
    };
    let now = DwellingUse {
        floor_area: area,
        bedrooms: bedrooms.map(|(count, _)| count),
        ..DwellingUse::default()
    };
    let held_back = book.dwelling_airflow(&full).len() > book.dwelling_airflow(&now).len();
    held_back.then(|| {
        let source = Source::confirmed(book.title(), "whole-dwelling rate");
        let message = Message::new("dwelling.airflow.required.waiting").word("known", known);
        Finding::new("dwelling.airflow.required", "dwelling", Verdict::Unknown, message, source)
            .todo(Message::new(missing))
    })
}
