//! Checks on rooms: window instead of a fan, own exhaust point.

use dewpath_case::Case;
use dewpath_case::given;
use dewpath_case::source;
use dewpath_job::model::Room;
use dewpath_message::slot::{AreaM2, Reference};
use dewpath_report::say::{
    Todo, WindowAlternative, WindowAlternativeKey, WindowAlternativeNotInBook,
};
use dewpath_report::{Check, Finding, Message, Source, Triple, Verdict};
use dewpath_rulebook::RoomKind;

use crate::verdict::judged;

/// Findings on every room.
pub fn rooms(case: &Case<'_>) -> Vec<Finding> {
    let mut findings = Vec::new();
    for room in &case.job.rooms {
        findings.extend(window(case, room));
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
        // Beside a fan nothing has to stand in for it.
        if served {
            return None;
        }
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
