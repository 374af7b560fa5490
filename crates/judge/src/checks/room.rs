//! Checks on rooms: window instead of a fan, air in at the door, own exhaust point.

use dewpath_air::leakage::{UNDERCUT, undercut_height};
use dewpath_case::Case;
use dewpath_case::given;
use dewpath_case::inputs::Draw;
use dewpath_case::source;
use dewpath_case::system::spec::{Owner, Spec};
use dewpath_job::model::Room;
use dewpath_message::slot::{AirflowLS, AreaM2, GapMm, PressurePa, Reference};
use dewpath_report::say::{
    ReplacementAir, ReplacementAirKey, Todo, TodoTransferRule, TodoUndercut, What,
    WindowAlternative, WindowAlternativeKey, WindowAlternativeNotInBook,
};
use dewpath_report::{
    Check, Figure, Finding, Message, Provenance, Source, Step, Triple, Verdict, WorkingInput,
};
use dewpath_rulebook::{Book, RoomKind};
use dewpath_units::{Airflow, Density, Length, Pressure};

use crate::law;
use crate::verdict::judged;

/// Pressure that air in may cost at a shut door, Pa. Source: handbook practice of 2.5 to 3 Pa for
/// transfer air (building-science pages on door undercuts).
pub(crate) const ALLOWED_PA: f64 = 3.0;

/// A cut below this is not worth taking a door off its hinges, m. Judgement.
pub(crate) const LEAST_CUT_M: f64 = 0.0015;

/// Findings on every room.
pub fn rooms(case: &Case<'_>) -> Vec<Finding> {
    let mut findings = Vec::new();
    for (index, room) in case.job.rooms.iter().enumerate() {
        findings.extend(window(case, room));
        findings.extend(replacement_air(case, index, room));
    }
    findings
}

fn book_kind(room: &Room) -> RoomKind {
    use dewpath_job::model::RoomKind as K;
    match room.kind {
        K::Bathroom => RoomKind::Bathroom,
        K::ToiletRoom => RoomKind::ToiletRoom,
        K::Kitchen => RoomKind::Kitchen,
        K::Laundry => RoomKind::Laundry,
        K::SteamShower => RoomKind::SteamShower,
        K::Other => RoomKind::Other,
    }
}

/// Whether a window may stand in for the fan. Where there is a fan, a small window breaks nothing.
fn window(case: &Case<'_>, room: &Room) -> Option<Finding> {
    let present = given::yes(&room.window.present);
    let openable = given::likely(&room.window.openable);
    let glazed = given::likely(&room.window.glazed);
    let written = present == Some(true) || openable.is_some() || glazed.is_some();
    let served = is_served(case, room);
    if served && !written {
        return None;
    }
    let broken = if served { Verdict::Caution } else { Verdict::Fails };
    let Some(rule) = case.rule(|book| book.window_alternative(book_kind(room))) else {
        let book = case.world.rule_book.as_ref()?;
        let message =
            Message::from(WindowAlternativeNotInBook { book: Reference::new(book.title()) });
        let source = Source::confirmed(book.title(), "");
        return Some(
            Finding::new(Check::WindowAlternative, &room.id, Verdict::Unknown, message, source)
                .todo(Todo::AskAuthority),
        );
    };
    let source = source::ruled(&rule);
    let needs_glazed = rule.value.glazed.m2();
    let needs_open = rule.value.openable.m2();
    let limit = AreaM2(Triple::exact(needs_open));
    let (key, verdict) = match (present, glazed, openable) {
        (Some(false), ..) => (WindowAlternativeKey::None, judged(false, broken, &source)),
        (_, Some(glazed), Some(open)) => {
            let holds = glazed.m2() >= needs_glazed - 1e-6 && open.m2() >= needs_open - 1e-6;
            let key = if holds { WindowAlternativeKey::Holds } else { WindowAlternativeKey::Small };
            (key, judged(holds, broken, &source))
        }
        _ if served => (WindowAlternativeKey::Unknown, Verdict::Caution),
        _ => (WindowAlternativeKey::Unknown, Verdict::Unknown),
    };
    let message =
        WindowAlternative { key, glazed: AreaM2(Triple::exact(needs_glazed)), openable: limit };
    Some(Finding::new(Check::WindowAlternative, &room.id, verdict, message, source).limit(limit))
}

/// Whether a fan or a grille draws on the room.
fn is_served(case: &Case<'_>, room: &Room) -> bool {
    case.job.fans.iter().any(|fan| fan.room.as_ref() == Some(&room.id))
        || case.job.grilles.iter().any(|grille| grille.room == room.id)
        || case.job.runs.iter().any(|run| run.from == room.id)
}

/// Air in at the door: what the gap costs, and the gap that would do.
fn replacement_air(case: &Case<'_>, index: usize, room: &Room) -> Option<Finding> {
    let flows = case.flows?;
    let flow = flows.rooms[index].as_ref()?;
    let (edge, item) = case.system.find(|o| *o == Owner::Door { room: index })?;
    let loss = &flows.items[edge][item];
    let Spec::Door(door) = &case.system.edges[edge].items[item].spec else { return None };
    if flow.likely <= 0.0 {
        return None;
    }
    let figure = PressurePa(loss.triple());
    let limit = Figure::PressurePa(Triple::exact(ALLOWED_PA));
    let written = given::is_known(&room.door.gap);
    let width = case.inputs.value(door.width, Draw::Likely);
    let needed = undercut_height(
        Airflow::from_m3_s(flow.likely),
        Length::from_m(width),
        Pressure::from_pa(ALLOWED_PA),
        case.inputs.value(door.coefficient, Draw::Likely),
        Density::from_kg_m3(flows.density.likely),
    )
    .ok()?;
    // The joints and a transfer grille pass their share of the air already.
    let other = case.inputs.value(door.joints, Draw::Likely)
        + door.transfer.map_or(0.0, |id| case.inputs.value(id, Draw::Likely));
    let height_m = (needed.m() - other / width).max(0.0);
    let short_m = height_m - case.inputs.value(door.gap, Draw::Likely);
    let holds = loss.likely <= ALLOWED_PA || (written && short_m < LEAST_CUT_M);
    let (key, verdict) = match (holds, written) {
        (true, _) => (ReplacementAirKey::Holds, Verdict::Holds),
        (false, true) => (ReplacementAirKey::Tight, Verdict::Caution),
        (false, false) => (ReplacementAirKey::Unknown, Verdict::Caution),
    };
    let gap = GapMm(Triple::exact(height_m * 1000.0));
    let message = ReplacementAir {
        key,
        loss: figure,
        gap,
        flow: AirflowLS(flow.map(|q| q * 1000.0).triple()),
    };
    let rule = case.rule(|book: &Book| book.transfer().free_area);
    let source = law::source(&UNDERCUT);
    let step = Step {
        equation: "h = q / (C_d * sqrt(2 dp / rho) * w) - A_j / w".into(),
        inputs: vec![
            WorkingInput::new(
                "q",
                What::Delivered,
                Figure::AirflowLS(Triple::exact(flow.likely * 1000.0)),
                Provenance::Computed,
            ),
            case.inputs.in_working("C_d", door.coefficient),
            WorkingInput::new("dp", What::GapPressure, limit, Provenance::Default),
            case.inputs.in_working("w", door.width),
            case.inputs.in_working("A_j", door.joints),
        ],
        result: Some(gap.into()),
        source: source.clone(),
    };
    let mut finding = Finding::new(Check::ReplacementAir, &room.id, verdict, message, source)
        .figure(figure)
        .limit(limit)
        .step(step);
    // Where the gap is written, `transfer.gap` says what to saw off.
    if verdict == Verdict::Caution && !written {
        finding = finding.todo(TodoUndercut { gap });
    }
    if let Some(rule) = rule {
        let area = AreaM2(Triple::exact(rule.value.m2()));
        finding = finding.todo(TodoTransferRule { area, section: Reference::new(&rule.section) });
    }
    Some(finding)
}
