//! What can only be seen when the whole job is read: references, the graph of runs, values that
//! contradict each other.

use std::collections::BTreeSet;

use dewpath_message::Triple;
use dewpath_message::slot::{FactorRatio, Name, Reference};
use dewpath_units::{Choice, Uncertain};

use crate::diagnostic::Diagnostic;
use crate::graph;
use crate::model::{Bag, Given, Job, Method, PartKind, Reading, Run, RunShape, Terminal, Work};
use crate::nearest::nearest;
use crate::read::Context;
use crate::say::{self, Do, Label};
use crate::value::span_si;

/// How many ids are listed as a choice.
const SHOWN: usize = 12;
/// Up to so many references that lead nowhere are told with the nearest id: looking for it in a large
/// job takes time, and nobody mends more in one go.
const MOST_DANGLING: usize = 50;

/// Checks what single elements say of themselves.
pub(crate) fn each(context: &mut Context<'_>, job: &Job) {
    for reading in &job.readings {
        measured(context, reading);
    }
    for (index, entry) in job.overrides.iter().enumerate() {
        let path = format!("override.{}.reason", index + 1);
        if context.places.contains_key(&path) && entry.reason.trim().is_empty() {
            let span = context.place(&path);
            context.tell(
                Diagnostic::error(&path, span, say::Whole::OverrideWithoutReason)
                    .label(Label::SayWhy)
                    .help(Do::GiveReason),
            );
        }
    }
    if job.settings.fails_at >= job.settings.holds_at {
        let span = context.place("settings.fails_at");
        context.tell(
            Diagnostic::error("settings.fails_at", span, say::Whole::LimitsCrossed)
                .label(Label::AtOrAboveHoldsAt)
                .help(Do::WriteLimits),
        );
    }
}

/// A reading measures something, unless a sheet of paper was held.
fn measured(context: &mut Context<'_>, reading: &Reading) {
    let by_paper =
        matches!(reading.method.as_ref().map(|m| &m.value), Some(Choice::Known(Method::Paper)));
    let path = format!("reading.{}", reading.id);
    if reading.bag != Bag::default() {
        bag(context, reading, &path);
        return;
    }
    if reading.airflow.is_some() || reading.pressure.is_some() || by_paper {
        return;
    }
    let span = context.place(&path);
    context.tell(
        Diagnostic::error(&path, span, say::AtPathKey::HoldsNothing.of(&path))
            .label(Label::WhatMeasured)
            .help(Do::WriteReading),
    );
}

/// A bag gives a flow where its volume and its time are both written, and nothing else does.
fn bag(context: &mut Context<'_>, reading: &Reading, path: &str) {
    let bag = format!("{path}.bag");
    let parts = [("volume", reading.bag.volume.is_none()), ("time", reading.bag.time.is_none())];
    for (key, _) in parts.into_iter().filter(|(_, is_missing)| *is_missing) {
        let span = context.place(&bag);
        let missing = Reference::new(key);
        let message = say::Lacks { key: say::LacksKey::Alone, path: Name::new(&bag), missing };
        context.tell(
            Diagnostic::error(&bag, span, message)
                .label(Label::FlowFromBag)
                .help(say::example("bag = { volume = \"13 gal\", time = \"4.2 s\" }")),
        );
    }
    if reading.airflow.is_some() {
        let airflow = format!("{path}.airflow");
        let span = context.place(&airflow);
        context.tell(
            Diagnostic::error(&airflow, span, say::AtPathKey::BesideBag.of(&airflow))
                .label(Label::FlowFromBag)
                .help(Do::LeaveOneOut),
        );
    }
}

/// Fills in what only one thing can be meant by: the room of a fan, the ends of a lone run.
pub(crate) fn complete(context: &mut Context<'_>, job: &mut Job) {
    let lone_room = match job.rooms.as_slice() {
        [room] => Some(room.id.clone()),
        _ => None,
    };
    for grille in &mut job.grilles {
        if grille.room.is_empty() {
            if let Some(room) = &lone_room {
                grille.room.clone_from(room);
            } else {
                missing(
                    context,
                    &format!("grille.{}", grille.id),
                    "room",
                    say::LacksKey::RoomOfGrille,
                    &ids_of(&job.rooms, |r| &r.id),
                );
            }
        }
    }
    let lone_run = job.runs.len() == 1;
    for run in &mut job.runs {
        if run.from.is_empty() {
            match (job.fans.as_slice(), job.grilles.is_empty()) {
                ([fan], true) if lone_run => run.from.clone_from(&fan.id),
                _ => {
                    let mut ids = ids_of(&job.fans, |f| &f.id);
                    ids.extend(ids_of(&job.grilles, |g| &g.id));
                    ids.extend(ids_of(&job.junctions, |j| &j.id));
                    missing(context, &format!("run.{}", run.id), "from", say::LacksKey::From, &ids);
                }
            }
        }
        if run.to.is_empty() {
            match job.terminals.as_slice() {
                [terminal] if lone_run => run.to.clone_from(&terminal.id),
                [] if lone_run && !context.ids.contains_key("terminal") => {
                    let span = context.place(&format!("run.{}", run.id));
                    context.tell(
                        Diagnostic::warning(
                            &format!("run.{}.to", run.id),
                            span,
                            say::Whole::NoTerminal,
                        )
                        .label(Label::WhereEnds)
                        .help(say::InSectionKey::LookAtOutlet.of("[terminal]")),
                    );
                    context.ids.insert("terminal".to_owned(), ("terminal", 0..0));
                    job.terminals
                        .push(Terminal { id: "terminal".to_owned(), ..Terminal::default() });
                    "terminal".clone_into(&mut run.to);
                }
                _ => {
                    let mut ids = ids_of(&job.terminals, |t| &t.id);
                    ids.extend(ids_of(&job.fans, |f| &f.id));
                    ids.extend(ids_of(&job.junctions, |j| &j.id));
                    missing(context, &format!("run.{}", run.id), "to", say::LacksKey::To, &ids);
                }
            }
        }
    }
    let fed: BTreeSet<&str> = job.runs.iter().map(|run| run.to.as_str()).collect();
    for fan in &mut job.fans {
        if fan.room.is_some() || fed.contains(fan.id.as_str()) {
            continue;
        }
        match (&lone_room, job.rooms.is_empty()) {
            (Some(room), _) => fan.room = Some(room.clone()),
            (None, true) => {}
            (None, false) => {
                let mut ids = ids_of(&job.rooms, |r| &r.id);
                ids.truncate(8);
                missing(
                    context,
                    &format!("fan.{}", fan.id),
                    "room",
                    say::LacksKey::RoomOfFan,
                    &ids,
                );
            }
        }
    }
}

fn ids_of<T>(list: &[T], id: impl Fn(&T) -> &String) -> Vec<String> {
    list.iter().take(SHOWN).map(|item| id(item).clone()).collect()
}

fn missing(context: &mut Context<'_>, path: &str, key: &str, lacks: say::LacksKey, ids: &[String]) {
    let span = context.place(path);
    let example = ids.first().map_or("…", String::as_str);
    let known: Vec<&str> = ids.iter().take(SHOWN).map(String::as_str).collect();
    let lacks = say::Lacks { key: lacks, path: Name::new(path), missing: Reference::new(key) };
    let diagnostic = Diagnostic::error(path, span, lacks)
        .label(say::MustBeWritten { key: Reference::new(key) })
        .help(say::example(format!("{key} = \"{example}\"")));
    context.tell(if known.is_empty() {
        diagnostic.help(Do::WriteItFirst)
    } else {
        diagnostic.help(say::one_of(say::OneOfKey::KnownHere, &known))
    });
}

/// Checks the job as a whole.
pub(crate) fn whole(context: &mut Context<'_>, job: &Job) {
    mentions(context);
    graph::whole(context, job);
    rooms(context, job);
    for run in &job.runs {
        parts(context, run);
    }
    crate::sense::whole(context, job);
    crate::ground::whole(context, job);
    if job.rooms.is_empty() && job.fans.is_empty() && !context.has_errors() {
        context.tell(
            Diagnostic::warning("", 0..0, say::Whole::NothingToCheck)
                .help(say::Start { room: Reference::new("[room]"), fan: Reference::new("[fan]") }),
        );
    }
    let existing = &job.existing;
    let has_existing = existing != &crate::model::Existing::default();
    if has_existing && job.work == Work::New {
        let span = context.place("existing");
        context.tell(
            Diagnostic::warning(
                "existing",
                span,
                say::InSectionKey::ExistingInNewWork.of("[existing]"),
            )
            .label(Label::OnlyInSwap)
            .help(Do::WriteSwap),
        );
    }
    if job.dwelling.leakage.is_some() && job.dwelling.air_changes.is_some() {
        let span = context.place("dwelling.leakage");
        context.tell(
            Diagnostic::warning("dwelling.leakage", span, say::Whole::LeakageTwice)
                .label(Label::Used)
                .help(Do::KeepReadOff),
        );
    }
}

/// Every id that was named has to exist and be of a fitting kind.
fn mentions(context: &mut Context<'_>) {
    let mut dangling = 0;
    for mention in std::mem::take(&mut context.mentions) {
        let kinds: Vec<&str> =
            mention.kinds.split(", ").flat_map(|part| part.split(" or ")).collect();
        if context.ids.get(&mention.id).is_some_and(|(kind, _)| kinds.contains(kind)) {
            continue;
        }
        dangling += 1;
        let (others, last) = say::kinds(mention.kinds);
        if dangling > MOST_DANGLING {
            let message = say::NoSuchId { others, kind: last, id: Name::new(&mention.id) };
            context.tell(Diagnostic::error(&mention.path, mention.span, message));
            continue;
        }
        let fitting: Vec<String> = context
            .ids
            .iter()
            .filter(|(_, (kind, _))| kinds.contains(kind))
            .map(|(id, _)| id.clone())
            .collect();
        let fitting: Vec<&str> = fitting.iter().map(String::as_str).collect();
        let near = nearest(&mention.id, fitting.iter().copied());
        let other = context.ids.get(&mention.id).cloned();
        let diagnostic = match other {
            Some((kind, place)) => Diagnostic::error(
                &mention.path,
                mention.span,
                say::OtherKind {
                    id: Name::new(&mention.id),
                    is: Reference::new(kind),
                    path: Name::new(&mention.path),
                    others: others.clone(),
                    kind: last.clone(),
                },
            )
            .label(Label::WrongKind)
            .also(place, say::OfKindKey::This.of(kind)),
            None => Diagnostic::error(
                &mention.path,
                mention.span,
                say::NoSuchId {
                    others: others.clone(),
                    kind: last.clone(),
                    id: Name::new(&mention.id),
                },
            )
            .label(say::did_you_mean(near, Label::NotInJob)),
        };
        let shown: Vec<&str> = fitting.iter().take(SHOWN).copied().collect();
        context.tell(if shown.is_empty() {
            diagnostic.help(say::NoneInJob { others, kind: last })
        } else {
            diagnostic.help(say::one_of(say::OneOfKey::KnownHere, &shown))
        });
    }
}

/// Sizes of one room that contradict each other.
fn rooms(context: &mut Context<'_>, job: &Job) {
    for room in &job.rooms {
        let product = match (span_si(room.length.as_ref()), span_si(room.width.as_ref())) {
            (Some(length), Some(width)) => Some((length.0 * width.0, length.1 * width.1)),
            _ => None,
        };
        contradiction(
            context,
            &format!("room.{}.floor_area", room.id),
            product,
            span_si(room.floor_area.as_ref()),
            say::OffProductKey::Area,
        );
        let area = span_si(room.floor_area.as_ref()).or(product);
        let volume = match (area, span_si(room.height.as_ref())) {
            (Some(area), Some(height)) => Some((area.0 * height.0, area.1 * height.1)),
            _ => None,
        };
        contradiction(
            context,
            &format!("room.{}.volume", room.id),
            volume,
            span_si(room.volume.as_ref()),
            say::OffProductKey::Volume,
        );
        for (key, part, whole) in [("openable", &room.window.openable, &room.window.glazed)] {
            if let (Some(part), Some(whole)) = (span_si(part.as_ref()), span_si(whole.as_ref()))
                && part.0 > whole.1 * 1.2
            {
                let path = format!("room.{}.window.{key}", room.id);
                let span = context.place(&path);
                context.tell(
                    Diagnostic::warning(&path, span, say::Whole::OpensBeyondGlazed)
                        .label(Label::LargerThanGlazed),
                );
            }
        }
    }
}

/// Warns when what follows from one set of values is more than a quarter away from what is written.
fn contradiction(
    context: &mut Context<'_>,
    path: &str,
    worked_out: Option<(f64, f64)>,
    written: Option<(f64, f64)>,
    key: say::OffProductKey,
) {
    let (Some(worked_out), Some(written)) = (worked_out, written) else { return };
    if written.0 > worked_out.1 * 1.25 || written.1 < worked_out.0 * 0.75 {
        let span = context.place(path);
        let times = if worked_out.1 > 0.0 { written.0 / worked_out.1 } else { 0.0 };
        context.tell(
            Diagnostic::warning(
                path,
                span,
                say::OffProduct {
                    key,
                    path: Name::new(path),
                    times: FactorRatio(Triple::exact(times)),
                },
            )
            .label(Label::DoesNotFit)
            .help(Do::UsedAsWritten),
        );
    }
}

/// Parts that follow each other in a way that cannot be.
fn parts(context: &mut Context<'_>, run: &Run) {
    let RunShape::Parts(parts) = &run.shape else { return };
    for part in parts {
        let PartKind::Transition { to, .. } = &part.kind else { continue };
        if to.is_none() {
            let path = format!("run.{}.part.{}.transition", run.id, part.id);
            let span = context.place(&path);
            context.tell(
                Diagnostic::warning(&path, span, say::Run::TransitionWithoutSize)
                    .label(Label::ToWhichSize)
                    .help(say::ExampleOr {
                        example: Reference::new("transition = { to = \"6 in\" }"),
                        other: Reference::new("to = \"unknown\""),
                    }),
            );
        }
    }
    let empty = parts.is_empty();
    let known_zero = |given: &Given<dewpath_units::Length>| matches!(given.as_ref().map(|s| s.value), Some(Uncertain::Exact(l)) if l.m() == 0.0);
    for part in parts {
        if let PartKind::Piece { length, .. } = &part.kind
            && known_zero(length)
        {
            let path = format!("run.{}.part.{}.piece.length", run.id, part.id);
            let span = context.place(&path);
            context.tell(
                Diagnostic::warning(&path, span, say::Run::PieceWithoutLength)
                    .label(Label::NoLength),
            );
        }
    }
    if empty && !context.has_errors() {
        let path = format!("run.{}", run.id);
        let span = context.place(&path);
        context.tell(Diagnostic::warning(&path, span, say::Run::NoParts).label(Label::NoPart));
    }
}
