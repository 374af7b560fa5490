//! Distances at the terminal of a way out: those that are drawn, beside those that are written of it.

use dewpath_case::Case;
use dewpath_case::given;
use dewpath_job::model::{NearKind, NearThing, Outward, Terminal, WayOut, place_known};
use dewpath_layout::clearance::{Near, measure};
use dewpath_layout::error::LONGEST_M;
use dewpath_layout::geometry::{Block, Point};
use dewpath_message::slot::LengthM;
use dewpath_report::say::{
    TerminalClash, TerminalClashKey, TodoMoveOutlet, TodoMoveOutletKey, TodoOutlet,
};
use dewpath_report::{
    Check, ClearanceResult, Finding, Message, RouteResult, Source, Triple, Verdict,
};

use crate::clearance::{
    Spot, clear_spot, clearance, distance, finding, half_m, is_short, middle_outside, outside,
    terminal, thing,
};
use crate::floor::{Floor, window};

/// A distance that is written and one that is drawn may differ by so much, m and as a share: a tape that is held to the edge of a
/// hood or to its middle. Judgement.
const SLIP_M: f64 = 0.0762;
const SLIP_RATIO: f64 = 0.05;

/// What was found at one way out.
#[derive(Debug, Default)]
pub(super) struct Found {
    pub findings: Vec<Finding>,
    pub clearances: Vec<ClearanceResult>,
}

/// Where the terminal of a way out is, as far as that is known.
struct Outlet {
    middle: Point,
    half_m: f64,
    spot: Spot,
    /// Where its middle may lie as the job is written.
    window: Block,
}

impl Outlet {
    /// Where the best way meets the wall; where none does, the nearest spot to the middle of the window that keeps every distance.
    fn of(
        case: &Case<'_>,
        floor: &Floor,
        way: &WayOut,
        duct_m: f64,
        routes: &[RouteResult],
    ) -> Option<Self> {
        let half_m = half_m(duct_m);
        let window = window(way, outside(way)?);
        let is_written = place_known(&way.terminal_at).is_some();
        let routed = routes.iter().find(|route| route.way_out == way.id);
        if let Some(end) = routed.and_then(|route| route.line_m.last()) {
            let index = case.job.ways_out.iter().position(|known| known.id == way.id)?;
            let (_, gate) = floor.ways_out.iter().find(|(known, _)| *known == index)?;
            let spot = if is_written { Spot::Known } else { Spot::Proposed };
            return Some(Self { middle: middle_outside(gate, *end), half_m, spot, window });
        }
        let [x, y, z] = window.middle();
        let levels = [z, window.max[2], window.min[2]];
        let clear =
            levels.iter().find_map(|level| clear_spot(case, way, &window, half_m, [x, y, *level]));
        let spot = if is_written { Spot::Known } else { Spot::Open };
        Some(Self { middle: clear.unwrap_or([x, y, z]), half_m, spot, window })
    }

    fn terminal(&self) -> Block {
        terminal(self.middle, self.half_m)
    }

    /// Least and greatest distance to the nearest of some things, over all spots that the job leaves open, m.
    ///
    /// A distance to a box is convex, so that it is greatest at a corner of the window.
    fn span_m(&self, things: &[Near]) -> Option<[f64; 2]> {
        let distance = |terminal: &Block, thing: &Near| {
            measure("terminal", terminal, thing, None).ok().map(|found| found.distance_m)
        };
        let everywhere = self.window.grown(self.half_m);
        let corners = (0..8_usize).map(|corner| {
            let at = |i: usize| [self.window.min[i], self.window.max[i]][(corner >> i) & 1];
            terminal([at(0), at(1), at(2)], self.half_m)
        });
        let corners: Vec<Block> = corners.collect();
        let least = things.iter().filter_map(|thing| distance(&everywhere, thing));
        let most = things.iter().filter_map(|thing| {
            corners.iter().filter_map(|corner| distance(corner, thing)).reduce(f64::max)
        });
        Some([least.reduce(f64::min)?, most.reduce(f64::min)?])
    }
}

/// Judges what is near the terminal of a way out.
pub(super) fn distances(
    case: &Case<'_>,
    floor: &Floor,
    way: &WayOut,
    duct_m: f64,
    routes: &[RouteResult],
) -> Found {
    let mut found = Found::default();
    let Some(outlet) = Outlet::of(case, floor, way, duct_m, routes) else { return found };
    let written = case.job.terminals.iter().find(|known| way.terminal.as_ref() == Some(&known.id));
    let results: Vec<(&NearThing, ClearanceResult)> = way
        .near
        .iter()
        .filter_map(|near| Some((near, clearance(case, way, &outlet.terminal(), near)?)))
        .collect();
    let clashes: Vec<(Measured, Finding)> = written
        .into_iter()
        .flat_map(|terminal| Measured::ALL.map(|measured| (terminal, measured)))
        .filter_map(|(terminal, measured)| {
            Some((measured, clash(terminal, measured, &outlet, &results)?))
        })
        .collect();
    let is_taken = is_taken(case, way, routes);
    for (near, result) in &results {
        let measured = Measured::of(near);
        let is_written = measured.zip(written).is_some_and(|(measured, terminal)| {
            measured.written(terminal, result.least_m).is_some()
        });
        let is_clash = clashes.iter().any(|(clash, _)| Some(*clash) == measured);
        if is_clash || !is_told(result, outlet.spot, is_written) {
            continue;
        }
        let (spot, is_taken) = match (outlet.spot, is_written) {
            (Spot::Proposed, true) => (Spot::Proposed, false),
            (Spot::Proposed, false) => (Spot::Known, is_taken),
            (spot, _) => (spot, is_taken),
        };
        let mut told = finding(way, result, spot, is_taken);
        told.todo.extend(aside(case, way, &outlet, result).map(Message::from));
        found.findings.push(told);
    }
    found.findings.extend(clashes.into_iter().map(|(_, clash)| clash));
    found.clearances.extend(results.into_iter().map(|(_, result)| result));
    found
}

/// Whether a distance that is drawn is told beside one that may be written.
fn is_told(result: &ClearanceResult, spot: Spot, is_written: bool) -> bool {
    match spot {
        // What was measured at the terminal speaks for its spot. The one that a way is proposed to is another.
        Spot::Proposed if is_written => is_short(result.verdict),
        _ if is_written => false,
        // What no book asks for of a spot that nobody knows is nothing to tell.
        Spot::Open => result.least_m.is_some(),
        Spot::Known | Spot::Proposed => true,
    }
}

/// How far beside a terminal that is too near to something a spot lies that keeps every distance, as one who stands outside sees it.
fn aside(
    case: &Case<'_>,
    way: &WayOut,
    outlet: &Outlet,
    result: &ClearanceResult,
) -> Option<TodoMoveOutlet> {
    if outlet.spot == Spot::Open || !is_short(result.verdict) {
        return None;
    }
    let spot = clear_spot(case, way, &outside(way)?, outlet.half_m, outlet.middle)?;
    let [x, y] = [0, 1].map(|i| spot[i] - outlet.middle[i]);
    // The right hand of one who faces the wall.
    let right = match given::member(&way.facing)? {
        Outward::PlusX => Some(y),
        Outward::MinusX => Some(-y),
        Outward::PlusY => Some(-x),
        Outward::MinusY => Some(x),
        Outward::Up | Outward::Down => None,
    };
    let (key, offset_m) = match right {
        Some(right) if right < 0.0 => (TodoMoveOutletKey::Left, -right),
        Some(right) => (TodoMoveOutletKey::Right, right),
        None => (TodoMoveOutletKey::Away, libm::hypot(x, y)),
    };
    Some(TodoMoveOutlet { key, offset: distance(offset_m), least: distance(result.least_m?) })
}

/// What can be written as the distance of a terminal, whatever of it is nearest.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Measured {
    Opening,
    Intake,
    PropertyLine,
    SoffitVent,
    Grade,
}

impl Measured {
    const ALL: [Self; 5] =
        [Self::Opening, Self::Intake, Self::PropertyLine, Self::SoffitVent, Self::Grade];

    fn of(near: &NearThing) -> Option<Self> {
        match given::member(&near.kind)? {
            NearKind::Window | NearKind::Door if given::yes(&near.opens) == Some(false) => None,
            NearKind::Window | NearKind::Door | NearKind::Inlet => Some(Self::Opening),
            NearKind::Intake => Some(Self::Intake),
            NearKind::PropertyLine => Some(Self::PropertyLine),
            NearKind::SoffitVent => Some(Self::SoffitVent),
            NearKind::Grade => Some(Self::Grade),
            NearKind::Meter | NearKind::Walkway | NearKind::SnowLine => None,
        }
    }

    /// Bounds of what is written of a terminal, m. That nothing is nearer than a length counts where it settles what is asked for.
    fn written(self, terminal: &Terminal, least_m: Option<f64>) -> Option<[f64; 2]> {
        let clear = &terminal.clear;
        let own = match self {
            Self::Opening => &clear.opening,
            Self::Intake => &clear.intake,
            Self::PropertyLine => &clear.property_line,
            Self::SoffitVent => &clear.soffit_vent,
            Self::Grade => &clear.above_grade,
        };
        let own = given::bounds(own).map(|(low, high)| [low.m(), high.m()]);
        let seen = || Some([given::bounds(&clear.seen)?.0.m(), f64::INFINITY]);
        let known = own.or_else(|| (self != Self::Grade).then(seen)?)?;
        let settles = |nearer: f64| least_m.is_some_and(|least| nearer >= least);
        (!is_bound(known) || settles(known[0])).then_some(known)
    }

    const fn check(self) -> Check {
        match self {
            Self::Opening => Check::TerminalClearanceOpening,
            Self::Intake => Check::TerminalClearanceIntake,
            Self::PropertyLine => Check::TerminalClearanceLine,
            Self::SoffitVent => Check::TerminalSoffit,
            Self::Grade => Check::TerminalClearanceGrade,
        }
    }

    const fn key(self) -> TerminalClashKey {
        match self {
            Self::Opening => TerminalClashKey::Opening,
            Self::Intake => TerminalClashKey::Intake,
            Self::PropertyLine => TerminalClashKey::Line,
            Self::SoffitVent => TerminalClashKey::SoffitVent,
            Self::Grade => TerminalClashKey::Grade,
        }
    }
}

/// Whether it is said that nothing is nearer, and no more.
fn is_bound([_, high]: [f64; 2]) -> bool {
    high > LONGEST_M
}

/// A distance that is written and drawn, and not the same. It stands in place of what would be told of either.
///
/// What is written is of the terminal, wherever in its window that is: of the spot that is settled, else of any. It is held against
/// the nearest and the farthest that the drawing leaves, so that only what no spot can give is a clash. The end of a way that is
/// proposed says nothing of where the terminal is that somebody measured at, and clashes with nothing. What no book asks for is
/// not open.
fn clash(
    terminal: &Terminal,
    measured: Measured,
    outlet: &Outlet,
    results: &[(&NearThing, ClearanceResult)],
) -> Option<Finding> {
    let of_kind = || results.iter().filter(|(near, _)| Measured::of(near) == Some(measured));
    let things: Vec<Near> = of_kind().filter_map(|(near, _)| Some(thing(near)?.1)).collect();
    let (_, nearest) = of_kind().min_by(|(_, a), (_, b)| a.distance_m.total_cmp(&b.distance_m))?;
    let written @ [low, high] = measured.written(terminal, Some(nearest.least_m?))?;
    let [least, most] = outlet.span_m(&things)?;
    let apart = |nearer: f64, farther: f64| farther - nearer > SLIP_M.max(SLIP_RATIO * farther);
    if !apart(most, low) && !apart(high, least) {
        return None;
    }
    let spread = |[low, high]: [f64; 2]| LengthM(Triple { low, likely: 0.5 * (low + high), high });
    let message = TerminalClash {
        key: measured.key(),
        written: (!is_bound(written)).then(|| spread(written)),
        none_within: is_bound(written).then(|| distance(low)),
        drawn: spread([least, most]),
    };
    let source = nearest.source.clone().unwrap_or_else(Source::practice);
    let made = Finding::new(measured.check(), &terminal.id, Verdict::Unknown, message, source);
    Some(made.todo(TodoOutlet::MeasureAgain))
}

/// Whether the air of the job leaves here: by a run as written, or by the way that is recommended for a fan.
fn is_taken(case: &Case<'_>, way: &WayOut, routes: &[RouteResult]) -> bool {
    let written = case.job.runs.iter().any(|run| way.terminal.as_ref() == Some(&run.to));
    written || routes.iter().any(|route| route.rank == 1 && route.way_out == way.id)
}
