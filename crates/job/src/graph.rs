//! What does not go together of runs and what they join: circles, and things that nothing leads to.

use std::collections::{BTreeMap, BTreeSet};

use dewpath_message::slot::{Name, Reference};

use crate::diagnostic::Diagnostic;
use crate::model::{Job, Run};
use crate::read::Context;
use crate::say::{self, Do, Label};

/// How many runs of a circle are named.
const SHOWN: usize = 12;

/// Checks the graph of runs.
pub(crate) fn whole(context: &mut Context<'_>, job: &Job) {
    circles(context, job);
    ends(context, job);
}

/// Air cannot go in circles: takes away, again and again, every run that nothing leads into.
fn circles(context: &mut Context<'_>, job: &Job) {
    let mut into: BTreeMap<&str, usize> = BTreeMap::new();
    let mut from: BTreeMap<&str, Vec<&Run>> = BTreeMap::new();
    let complete = job.runs.iter().filter(|run| !run.from.is_empty() && !run.to.is_empty());
    for run in complete {
        *into.entry(&run.to).or_default() += 1;
        into.entry(&run.from).or_default();
        from.entry(&run.from).or_default().push(run);
    }
    let mut free: Vec<&str> =
        into.iter().filter(|(_, count)| **count == 0).map(|(node, _)| *node).collect();
    while let Some(node) = free.pop() {
        for run in from.remove(node).unwrap_or_default() {
            if let Some(count) = into.get_mut(run.to.as_str()) {
                *count -= 1;
                if *count == 0 {
                    free.push(&run.to);
                }
            }
        }
    }
    let Some(start) = from.values().flatten().next() else { return };
    // Whatever is left is a circle or hangs on one; walking on must come round.
    let mut way: Vec<&Run> = Vec::new();
    let mut passed: BTreeSet<&str> = BTreeSet::new();
    let mut next = *start;
    while passed.insert(&next.id) {
        way.push(next);
        match from.get(next.to.as_str()).and_then(|runs| runs.first()) {
            Some(run) => next = run,
            // A branch that leads out of the circle: the circle is still behind us.
            None => break,
        }
    }
    let first = way.iter().position(|run| run.id == next.id).unwrap_or(0);
    let circle = way.get(first..).unwrap_or_default();
    let Some(head) = circle.first() else { return };
    let names: Vec<String> =
        circle.iter().take(SHOWN).map(|run| format!("{} -> {}", run.from, run.to)).collect();
    let path = format!("run.{}", head.id);
    let span =
        context.places.get(&format!("{path}.to")).cloned().unwrap_or_else(|| context.place(&path));
    context.tell(
        Diagnostic::error(&path, span, say::Circle { circle: Reference::new(names.join(", ")) })
            .label(Label::LeadsBack)
            .help(Do::LookForTurned),
    );
}

/// Nodes that more runs meet at than they have openings for.
fn ends(context: &mut Context<'_>, job: &Job) {
    // With an error in a run, what it leads to is not known for sure: no advice on top of it.
    let sure = !context.has_errors();
    let mut leaving: BTreeMap<&str, usize> = BTreeMap::new();
    let mut leading: BTreeMap<&str, usize> = BTreeMap::new();
    for run in &job.runs {
        *leaving.entry(&run.from).or_default() += 1;
        *leading.entry(&run.to).or_default() += 1;
    }
    let from = |id: &str| leaving.get(id).copied().unwrap_or_default();
    let to = |id: &str| leading.get(id).copied().unwrap_or_default();
    for fan in &job.fans {
        let out = from(&fan.id);
        if out > 1 && sure {
            let path = format!("fan.{}", fan.id);
            let span = context.place(&path);
            context.tell(
                Diagnostic::warning(
                    &path,
                    span,
                    say::RunsLeaveFan { count: say::count(out), fan: Name::new(&fan.id) },
                )
                .label(Label::OneRunLeaves)
                .help(say::InSectionKey::JunctionBehindFan.of("[[junction]]")),
            );
        }
        if job.runs.is_empty() && sure {
            let path = format!("fan.{}", fan.id);
            let span = context.place(&path);
            context.tell(
                Diagnostic::warning(&path, span, say::OfFanKey::NoRunLeaves.of(&fan.id))
                    .label(Label::NoRun)
                    .help(say::InSectionKey::WriteRun.of("[run]")),
            );
        }
    }
    for terminal in &job.terminals {
        let into = to(&terminal.id);
        let path = format!("terminal.{}", terminal.id);
        let span = context.place(&path);
        if into == 0 && sure {
            context.tell(
                Diagnostic::warning(&path, span, say::OfTerminalKey::NoRunLeads.of(&terminal.id))
                    .label(Label::NotUsed)
                    .help(say::OfTerminalKey::WriteTo.of(&terminal.id)),
            );
        } else if into > 1 && sure {
            context.tell(
                Diagnostic::warning(
                    &path,
                    span,
                    say::RunsLeadToTerminal {
                        count: say::count(into),
                        terminal: Name::new(&terminal.id),
                    },
                )
                .label(Label::OneCollar)
                .help(say::InSectionKey::JunctionWhereMeet.of("[[junction]]")),
            );
        }
    }
    for junction in &job.junctions {
        let (into, out) = (to(&junction.id), from(&junction.id));
        if into == 0 || out == 0 {
            let missing = if into == 0 {
                say::OfJunctionKey::NoRunInto
            } else {
                say::OfJunctionKey::NoRunOut
            };
            let path = format!("junction.{}", junction.id);
            let span = context.place(&path);
            context.tell(
                Diagnostic::error(&path, span, missing.of(&junction.id))
                    .label(Label::CannotPass)
                    .help(Do::WriteMissingRun),
            );
        }
    }
    for grille in &job.grilles {
        if from(&grille.id) == 0 {
            let path = format!("grille.{}", grille.id);
            let span = context.place(&path);
            context.tell(
                Diagnostic::error(&path, span, say::NoRunStarts { grille: Name::new(&grille.id) })
                    .label(Label::NotConnected)
                    .help(say::WriteRunFrom {
                        section: Reference::new("[[run]]"),
                        grille: Name::new(&grille.id),
                    }),
            );
        }
    }
}
