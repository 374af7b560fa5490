//! Checks on rooms: window instead of a fan, air in at the door, own exhaust point.

use dewpath_air::leakage::undercut_height;
use dewpath_job::model::Room;
use dewpath_report::{
    Figure, Finding, Message, Provenance, Source, Step, Triple, Verdict, WorkingInput,
};
use dewpath_rulebook::{Book, RoomKind};
use dewpath_units::{Airflow, Density, Length, Pressure};

use super::Look;
use crate::finding::judged;
use crate::given;
use crate::house::{ALLOWED_PA, LEAST_CUT_M};
use crate::inputs::Draw;
use crate::source;
use crate::system::spec::{Owner, Spec};

/// Findings on every room.
pub(crate) fn rooms(look: &Look<'_>) -> Vec<Finding> {
    let mut findings = Vec::new();
    for (index, room) in look.job.rooms.iter().enumerate() {
        findings.extend(window(look, room));
        findings.extend(replacement_air(look, index, room));
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
fn window(look: &Look<'_>, room: &Room) -> Option<Finding> {
    let present = given::yes(&room.window.present);
    let openable = given::likely(&room.window.openable);
    let glazed = given::likely(&room.window.glazed);
    let written = present == Some(true) || openable.is_some() || glazed.is_some();
    let served = is_served(look, room);
    if served && !written {
        return None;
    }
    let broken = if served { Verdict::Caution } else { Verdict::Fails };
    let Some(rule) = look.rule(|book| book.window_alternative(book_kind(room))) else {
        let book = look.world.rule_book.as_ref()?;
        let message =
            Message::new("window.alternative.not-in-book").reference("book", book.title());
        let source = Source::confirmed(book.title(), "");
        return Some(
            Finding::new("window.alternative", &room.id, Verdict::Unknown, message, source)
                .todo(Message::new("todo.ask-authority")),
        );
    };
    let source = source::ruled(&rule);
    let needs_glazed = rule.value.glazed.m2();
    let needs_open = rule.value.openable.m2();
    let limit = Figure::AreaM2(Triple::exact(needs_open));
    let (key, verdict) = match (present, glazed, openable) {
        (Some(false), ..) => ("window.alternative.none", judged(false, broken, &source)),
        (_, Some(glazed), Some(open)) => {
            let holds = glazed.m2() >= needs_glazed - 1e-6 && open.m2() >= needs_open - 1e-6;
            let key = if holds { "window.alternative.holds" } else { "window.alternative.small" };
            (key, judged(holds, broken, &source))
        }
        _ if served => ("window.alternative.unknown", Verdict::Caution),
        _ => ("window.alternative.unknown", Verdict::Unknown),
    };
    let message = Message::new(key)
        .figure("glazed", Figure::AreaM2(Triple::exact(needs_glazed)))
        .figure("openable", limit);
    Some(Finding::new("window.alternative", &room.id, verdict, message, source).limit(limit))
}

/// Whether a fan or a grille draws on the room.
fn is_served(look: &Look<'_>, room: &Room) -> bool {
    look.job.fans.iter().any(|fan| fan.room.as_ref() == Some(&room.id))
        || look.job.grilles.iter().any(|grille| grille.room == room.id)
        || look.job.runs.iter().any(|run| run.from == room.id)
}

/// Air in at the door: what the gap costs, and the gap that would do.
fn replacement_air(look: &Look<'_>, index: usize, room: &Room) -> Option<Finding> {
    let flows = look.flows?;
    let flow = flows.rooms[index].as_ref()?;
    let (edge, place) = look.system.find(|o| *o == Owner::Door { room: index })?;
    let loss = &flows.items[edge][place];
    let Spec::Door(door) = &look.system.edges[edge].items[place].spec else { return None };
    if flow.likely <= 0.0 {
        return None;
    }
    let figure = Figure::PressurePa(loss.triple());
    let limit = Figure::PressurePa(Triple::exact(ALLOWED_PA));
    let written = given::is_known(&room.door.gap);
    let width = look.inputs.value(door.width, Draw::Likely);
    let needed = undercut_height(
        Airflow::from_m3_s(flow.likely),
        Length::from_m(width),
        Pressure::from_pa(ALLOWED_PA),
        look.inputs.value(door.coefficient, Draw::Likely),
        Density::from_kg_m3(flows.density.likely),
    )
    .ok()?;
    // The joints and a transfer grille pass their share of the air already.
    let other = look.inputs.value(door.joints, Draw::Likely)
        + door.transfer.map_or(0.0, |id| look.inputs.value(id, Draw::Likely));
    let height_m = (needed.m() - other / width).max(0.0);
    let short_m = height_m - look.inputs.value(door.gap, Draw::Likely);
    let holds = loss.likely <= ALLOWED_PA || (written && short_m < LEAST_CUT_M);
    let (key, verdict) = match (holds, written) {
        (true, _) => ("replacement.air.holds", Verdict::Holds),
        (false, true) => ("replacement.air.tight", Verdict::Caution),
        (false, false) => ("replacement.air.unknown", Verdict::Caution),
    };
    let gap = Figure::GapMm(Triple::exact(height_m * 1000.0));
    let message = Message::new(key)
        .figure("loss", figure)
        .figure("gap", gap)
        .figure("flow", Figure::AirflowLS(flow.map(|q| q * 1000.0).triple()));
    let rule = look.rule(|book: &Book| book.transfer().free_area);
    let source = Source::confirmed(
        "sharp-edged opening, ISO 5167 form; transfer air at 2.5 to 3 Pa",
        "building-science practice",
    );
    let step = Step {
        equation: "h = q / (C_d * sqrt(2 dp / rho) * w) - A_j / w".to_owned(),
        inputs: vec![
            WorkingInput::new(
                "q",
                "what.delivered",
                Figure::AirflowLS(Triple::exact(flow.likely * 1000.0)),
                Provenance::Computed,
            ),
            look.inputs.in_working("C_d", door.coefficient),
            WorkingInput::new("dp", "what.gap-pressure", limit, Provenance::Default),
            look.inputs.in_working("w", door.width),
            look.inputs.in_working("A_j", door.joints),
        ],
        result: Some(gap),
        source: source.clone(),
    };
    let mut finding = Finding::new("replacement.air", &room.id, verdict, message, source)
        .figure(figure)
        .limit(limit)
        .step(step);
    // Where the gap is written, `transfer.gap` says what to saw off.
    if verdict == Verdict::Caution && !written {
        finding = finding.todo(Message::new("todo.undercut").figure("gap", gap));
    }
    if let Some(rule) = rule {
        let area = Figure::AreaM2(Triple::exact(rule.value.m2()));
        finding = finding.todo(
            Message::new("todo.transfer-rule")
                .figure("area", area)
                .reference("section", &rule.section),
        );
    }
    Some(finding)
}
