//! Checks on where a run ends: outdoors, clear of openings, damper, screen.

use dewpath_case::Case;
use dewpath_case::given;
use dewpath_case::source;
use dewpath_job::category::Category as _;
use dewpath_job::model::{Given, Screen, Terminal, TerminalKind, is_none_within};
use dewpath_message::slot::{Count, GapMm, LengthM, Word};
use dewpath_report::say::{
    TerminalClearance, TerminalClearanceGrade, TerminalClearanceGradeKey, TerminalClearanceKey,
    TerminalClearances, TerminalDamper, TerminalFlap, TerminalPlace, TerminalPlaceIndoors,
    TerminalScreen, TerminalScreenKey, TerminalSoffit, TerminalSoffitKey, TerminalWalkway,
    TerminalWalkwayUnknown, Todo, TodoLookRound,
};
use dewpath_report::{Check, Finding, Source, Triple, Verdict};
use dewpath_rulebook::{Book, ClearOf, Clearance, End, Ruled};
use dewpath_units::Length;

use crate::verdict::confirm_source;
use crate::verdict::{by_chance, by_chance_at, chance_at_least, judged};

/// Findings on every terminal, and on fans without any.
pub fn terminal(case: &Case<'_>) -> Vec<Finding> {
    let mut findings = Vec::new();
    for terminal in &case.job.terminals {
        findings.push(place(case, terminal));
        if ends_outdoors(terminal) != Some(false) {
            findings.extend(clearances(case, terminal));
            findings.extend(walkway(case, terminal));
            findings.extend(soffit_vents(case, terminal));
            findings.extend(above_grade(case, terminal));
            findings.extend(damper(case, terminal));
            findings.extend(screen(case, terminal));
            findings.extend(flap(terminal));
        }
    }
    for fan in &case.job.fans {
        if !case.job.runs.iter().any(|run| run.from == fan.id) {
            findings.push(no_duct(case, &fan.id));
        }
    }
    findings
}

fn kinds(terminal: &Terminal) -> &[TerminalKind] {
    terminal.kind.as_ref().map_or(&[], |stated| stated.value.options())
}

fn is_outdoors(kind: TerminalKind) -> bool {
    use TerminalKind::{GableCap, OpenEnd, RoofCap, SharedRiser, SoffitCap, WallCap};
    matches!(kind, WallCap | RoofCap | GableCap | SoffitCap | OpenEnd | SharedRiser)
}

fn ends_outdoors(terminal: &Terminal) -> Option<bool> {
    match kinds(terminal) {
        [] => None,
        kinds if kinds.iter().all(|kind| is_outdoors(*kind)) => Some(true),
        kinds if kinds.iter().all(|kind| !is_outdoors(*kind)) => Some(false),
        _ => None,
    }
}

fn end_of(kind: TerminalKind) -> End {
    match kind {
        TerminalKind::Attic => End::Attic,
        TerminalKind::SoffitVoid => End::Soffit,
        TerminalKind::RidgeVent => End::RidgeVent,
        TerminalKind::CrawlSpace => End::CrawlSpace,
        _ => End::Indoors,
    }
}

/// Into the open, or into a place where the moisture does harm.
fn place(case: &Case<'_>, terminal: &Terminal) -> Finding {
    let outdoors = case.rule(Book::must_end_outdoors);
    let source = outdoors.as_ref().map_or_else(Source::practice, source::ruled);
    match (ends_outdoors(terminal), kinds(terminal)) {
        (Some(true), _) => Finding::new(
            Check::TerminalPlace,
            &terminal.id,
            Verdict::Holds,
            TerminalPlace::Holds,
            source,
        ),
        (Some(false), kinds) => {
            let kind = kinds.first().copied().unwrap_or(TerminalKind::Nowhere);
            let rule = case.ask(|book| book.end_allowed(end_of(kind)));
            let forbidden = rule.as_ref().is_some_and(|rule| !rule.value);
            let source = rule.as_ref().map_or(source, source::ruled);
            // Even where no book is named, moisture left in a building is a physical need broken.
            let verdict = if forbidden || rule.is_none() {
                Verdict::Fails
            } else {
                judged(true, Verdict::Fails, &source)
            };
            Finding::new(
                Check::TerminalPlace,
                &terminal.id,
                verdict,
                TerminalPlaceIndoors { kind: Word::new(kind.word()) },
                source,
            )
            .todo(Todo::LeadOutdoors)
        }
        (None, _) => Finding::new(
            Check::TerminalPlace,
            &terminal.id,
            Verdict::Unknown,
            TerminalPlace::Unknown,
            source,
        )
        .todo(Todo::SeeOutlet),
    }
}

/// Where the air of a fan goes is not written; that there is no duct is written as a run to a terminal indoors.
fn no_duct(case: &Case<'_>, fan: &str) -> Finding {
    let rule = case.rule(Book::must_end_outdoors);
    let source = rule.as_ref().map_or_else(Source::practice, source::ruled);
    Finding::new(Check::TerminalPlace, fan, Verdict::Unknown, TerminalPlace::NoDuct, source)
        .todo(Todo::WriteRun)
}

/// Something to keep clear of, with what is said of it.
struct Near {
    id: Check,
    from: ClearOf,
    waived: TerminalClearanceKey,
    holds: TerminalClearanceKey,
    loose: TerminalClearanceKey,
    fails: TerminalClearanceKey,
}

const OPENING: Near = Near {
    id: Check::TerminalClearanceOpening,
    from: ClearOf::Opening,
    waived: TerminalClearanceKey::OpeningWaived,
    holds: TerminalClearanceKey::OpeningHolds,
    loose: TerminalClearanceKey::OpeningNear,
    fails: TerminalClearanceKey::OpeningNearFails,
};

const INTAKE: Near = Near {
    id: Check::TerminalClearanceIntake,
    from: ClearOf::MechanicalIntake,
    waived: TerminalClearanceKey::IntakeWaived,
    holds: TerminalClearanceKey::IntakeHolds,
    loose: TerminalClearanceKey::IntakeNear,
    fails: TerminalClearanceKey::IntakeNearFails,
};

const LINE: Near = Near {
    id: Check::TerminalClearanceLine,
    from: ClearOf::PropertyLine,
    waived: TerminalClearanceKey::LineWaived,
    holds: TerminalClearanceKey::LineHolds,
    loose: TerminalClearanceKey::LineNear,
    fails: TerminalClearanceKey::LineNearFails,
};

/// Distances that the book asks for: each that was measured, and one point for those that were not.
fn clearances(case: &Case<'_>, terminal: &Terminal) -> Vec<Finding> {
    let clear = &terminal.clear;
    let none = None;
    let asked = [
        (OPENING, &clear.opening, &clear.above_opening),
        (INTAKE, &clear.intake, &clear.above_intake),
        (LINE, &clear.property_line, &none),
    ];
    let mut findings = Vec::new();
    let mut open = Open::default();
    for (near, distance, above) in asked {
        // A book that is silent on a distance asks for none.
        let Some(rule) = case.rule(|book| book.clearance(near.from)) else { continue };
        let needed = rule.value.distance;
        match kept(distance, &clear.seen, needed) {
            Some(kept) => findings.push(clearance(case, terminal, &near, &rule, kept, above)),
            None => open.add(near.from, needed, source::ruled(&rule)),
        }
    }
    findings.extend(open.finding(terminal));
    findings
}

/// What is known of a distance: where nothing is nearer than a length that is too short to tell, nothing.
fn kept(
    distance: &Given<Length>,
    seen: &Given<Length>,
    needed: Length,
) -> Option<(Length, Length)> {
    let nothing = distance.as_ref().map(|stated| is_none_within(&stated.value));
    match nothing {
        Some(Some(nearer)) => (nearer >= needed).then_some((nearer, nearer)),
        _ => given::bounds(distance).or_else(|| {
            let (nearer, _) = given::bounds(seen)?;
            (nearer >= needed).then_some((nearer, nearer))
        }),
    }
}

/// Distances that nobody measured, told as one: they are seen in one look round the outlet.
#[derive(Default)]
struct Open {
    count: usize,
    opening: Option<LengthM>,
    intake: Option<LengthM>,
    line: Option<LengthM>,
    source: Option<Source>,
}

impl Open {
    fn add(&mut self, from: ClearOf, needed: Length, source: Source) {
        let needed = Some(LengthM(Triple::exact(needed.m())));
        match from {
            ClearOf::Opening => self.opening = needed,
            ClearOf::MechanicalIntake => self.intake = needed,
            ClearOf::PropertyLine => self.line = needed,
        }
        self.count += 1;
        self.source.get_or_insert(source);
    }

    fn finding(self, terminal: &Terminal) -> Option<Finding> {
        let Self { count, opening, intake, line, source } = self;
        let needed =
            [opening, intake, line].into_iter().flatten().map(|LengthM(needed)| needed.likely);
        let furthest = LengthM(Triple::exact(needed.fold(0.0, f64::max)));
        let count = Count(Triple::exact(count as f64));
        let message = TerminalClearances { count, opening, intake, line };
        Some(
            Finding::new(
                Check::TerminalClearance,
                &terminal.id,
                Verdict::Unknown,
                message,
                source?,
            )
            .todo(TodoLookRound { furthest }),
        )
    }
}

fn clearance(
    case: &Case<'_>,
    terminal: &Terminal,
    near: &Near,
    rule: &Ruled<Clearance>,
    (low, high): (Length, Length),
    above: &Given<Length>,
) -> Finding {
    let source = source::ruled(rule);
    let limit = LengthM(Triple::exact(rule.value.distance.m()));
    let over = given::bounds(above);
    let waived = match (rule.value.waived_above, over) {
        (Some(needed), Some((over, _))) => over.m() >= needed.m() - 1e-6,
        _ => false,
    };
    let at = |strict: f64| {
        if waived {
            return 1.0;
        }
        chance_at_least((low.m(), high.m()), strict * rule.value.distance.m())
    };
    let verdict = by_chance_at(at, Verdict::Fails, &source, &case.job.settings);
    let figure =
        LengthM(Triple { low: low.m(), likely: 0.5 * (low.m() + high.m()), high: high.m() });
    let key = match (verdict, waived) {
        (_, true) => near.waived,
        (Verdict::Holds, _) => near.holds,
        (Verdict::Unknown, _) => near.loose,
        _ => near.fails,
    };
    let message = TerminalClearance { key, distance: figure, limit };
    let mut finding = Finding::new(near.id, &terminal.id, verdict, message, source.clone())
        .figure(figure)
        .limit(limit);
    if verdict == Verdict::Fails {
        finding = finding.todo(Todo::MoveTerminal);
    }
    finding.todo.extend(confirm_source(&source, verdict));
    finding
}

fn walkway(case: &Case<'_>, terminal: &Terminal) -> Option<Finding> {
    let onto = terminal.clear.onto_walkway.as_ref()?.value.known();
    let rule = case.ask(Book::onto_walkway_allowed)?;
    let source = source::ruled(&rule);
    let Some(onto) = onto else {
        return Some(
            Finding::new(
                Check::TerminalClearanceWalkway,
                &terminal.id,
                Verdict::Unknown,
                TerminalWalkwayUnknown {},
                source,
            )
            .todo(Todo::SeeOutlet),
        );
    };
    let holds = !onto || rule.value;
    let key = if holds { TerminalWalkway::Holds } else { TerminalWalkway::Fails };
    Some(Finding::new(
        Check::TerminalClearanceWalkway,
        &terminal.id,
        judged(holds, case.weight(Book::onto_walkway_allowed), &source),
        key,
        source,
    ))
}

/// A soffit outlet beside vented soffit blows the moisture into the attic.
fn soffit_vents(case: &Case<'_>, terminal: &Terminal) -> Option<Finding> {
    if kinds(terminal) != [TerminalKind::SoffitCap] && terminal.clear.soffit_vent.is_none() {
        return None;
    }
    let rule = case.ask(Book::soffit_vents_clear);
    let source = rule.as_ref().map_or_else(Source::practice, source::ruled);
    let limit = rule.as_ref().map_or(1.8288, |rule| rule.value.m());
    let figure = LengthM(Triple::exact(limit));
    let distance = kept(&terminal.clear.soffit_vent, &terminal.clear.seen, Length::from_m(limit));
    let (key, verdict) = match distance {
        Some((low, _)) if low.m() >= limit - 1e-6 => (TerminalSoffitKey::Holds, Verdict::Holds),
        Some(_) => (TerminalSoffitKey::Near, Verdict::Caution),
        None => (TerminalSoffitKey::Unknown, Verdict::Caution),
    };
    let message = TerminalSoffit { key, limit: figure };
    Some(
        Finding::new(Check::TerminalSoffit, &terminal.id, verdict, message, source)
            .limit(figure)
            .todo(Todo::CloseSoffitVents),
    )
}

/// High enough above the ground, where somebody asks for it.
fn above_grade(case: &Case<'_>, terminal: &Terminal) -> Option<Finding> {
    let (low, high) = given::bounds(&terminal.clear.above_grade)?;
    let rule = case.ask(Book::above_grade)?;
    let source = source::ruled(&rule);
    let chance = chance_at_least((low.m(), high.m()), rule.value.m());
    let verdict = by_chance(chance, case.weight(Book::above_grade), &source, &case.job.settings);
    let triple = Triple { low: low.m(), likely: 0.5 * (low.m() + high.m()), high: high.m() };
    let figure = LengthM(triple);
    let limit = LengthM(Triple::exact(rule.value.m()));
    let key = match verdict {
        Verdict::Holds => TerminalClearanceGradeKey::Holds,
        Verdict::Unknown => TerminalClearanceGradeKey::Near,
        Verdict::Caution | Verdict::Fails => TerminalClearanceGradeKey::Low,
    };
    let message = TerminalClearanceGrade { key, height: figure, limit };
    let mut finding =
        Finding::new(Check::TerminalClearanceGrade, &terminal.id, verdict, message, source.clone())
            .figure(figure)
            .limit(limit);
    finding.todo.extend(confirm_source(&source, verdict));
    Some(finding)
}

/// Something that shuts when the fan is off, at the terminal or in the fan.
fn damper(case: &Case<'_>, terminal: &Terminal) -> Option<Finding> {
    let rule = case.ask(Book::damper_required)?;
    if !rule.value {
        return None;
    }
    let source = source::ruled(&rule);
    let run = case.job.runs.iter().find(|run| run.to == terminal.id)?;
    let in_fan = case
        .fans_of(run)
        .iter()
        .any(|&fan| given::yes(&case.job.fans[fan].data.damper) == Some(true));
    let in_run = match &run.shape {
        dewpath_job::model::RunShape::Parts(parts) => parts
            .iter()
            .any(|part| matches!(part.kind, dewpath_job::model::PartKind::Damper { .. })),
        dewpath_job::model::RunShape::Sum(_) => false,
    };
    let at_cap = given::has_flap(terminal);
    let (key, verdict) = if in_fan || in_run || at_cap == Some(true) {
        (TerminalDamper::Holds, judged(true, Verdict::Fails, &source))
    } else if at_cap == Some(false)
        && case
            .fans_of(run)
            .iter()
            .all(|&fan| given::yes(&case.job.fans[fan].data.damper) == Some(false))
    {
        (TerminalDamper::None, judged(false, case.weight(Book::damper_required), &source))
    } else {
        (TerminalDamper::Unknown, Verdict::Unknown)
    };
    let finding = Finding::new(Check::TerminalDamper, &terminal.id, verdict, key, source);
    Some(if verdict == Verdict::Unknown { finding.todo(Todo::SeeOutlet) } else { finding })
}

/// Insect screens clog with lint; the mesh a book asks for is coarser.
fn screen(case: &Case<'_>, terminal: &Terminal) -> Option<Finding> {
    let screen = terminal.screen.as_ref()?.value.clone().known()?;
    let rule = case.ask(Book::screen_mesh);
    let source = rule.as_ref().map_or_else(Source::practice, source::ruled);
    let clogged = given::likely(&terminal.clogged).map_or(0.0, dewpath_units::Ratio::ratio);
    let (key, verdict) = match screen {
        _ if clogged > 0.3 => (TerminalScreenKey::Clogged, Verdict::Caution),
        Screen::Insect if rule.is_some() => {
            (TerminalScreenKey::Fine, judged(false, case.weight(Book::screen_mesh), &source))
        }
        Screen::Insect => (TerminalScreenKey::FinePractice, Verdict::Caution),
        Screen::Coarse => (TerminalScreenKey::Holds, judged(true, Verdict::Caution, &source)),
        Screen::None => return None,
    };
    let gap = |length: Length| GapMm(Triple::exact(length.mm()));
    let message = TerminalScreen {
        key,
        least: rule.as_ref().map(|rule| gap(rule.value.least)),
        most: rule.as_ref().map(|rule| gap(rule.value.most)),
    };
    let finding = Finding::new(Check::TerminalScreen, &terminal.id, verdict, message, source);
    Some(if verdict == Verdict::Holds { finding } else { finding.todo(Todo::CleanScreen) })
}

/// A flap that was seen not to open is the cheapest thing to mend.
fn flap(terminal: &Terminal) -> Option<Finding> {
    let opens = terminal.flap_opens.as_ref()?.value.known();
    let (key, verdict) = match opens {
        Some(true) => (TerminalFlap::Opens, Verdict::Holds),
        Some(false) => (TerminalFlap::Stuck, Verdict::Fails),
        None => (TerminalFlap::Unknown, Verdict::Unknown),
    };
    let finding = Finding::new(Check::TerminalFlap, &terminal.id, verdict, key, Source::practice());
    Some(match opens {
        Some(true) => finding,
        Some(false) => finding.todo(Todo::FreeFlap),
        None => finding.todo(Todo::SeeOutlet),
    })
}
