//! Distances from the terminal of a way out to what is near it, against those that a book asks for.

use dewpath_case::Case;
use dewpath_case::given;
use dewpath_case::source;
use dewpath_job::model::{
    DuctGiven, NearKind, NearThing, PartKind, Run, RunShape, Section, WayOut, place_known,
};
use dewpath_layout::clearance::{Enough, Limit, Near, measure, nearest_clear};
use dewpath_layout::geometry::{Block, Point};
use dewpath_message::slot::{LengthM, Reference, Word};
use dewpath_report::say::{FrameClearance, FrameClearanceKey};
use dewpath_report::{Check, ClearanceResult, Finding, Source, Standing, Triple, Verdict};
use dewpath_rulebook::{Book, ClearOf, Ruled};
use dewpath_units::Length;

use crate::floor::{Gate, block};

/// A terminal is a box of so many duct diameters across. Judgement.
const TERMINAL_DIAMETERS: f64 = 1.5;
/// A property line stands upright: it is drawn on the ground and reaches so far up and down, m, farther than any dwelling.
const UPRIGHT_M: f64 = 100.0;

/// What the first piece of a run is made of.
pub(crate) fn first_duct(run: &Run) -> Option<&DuctGiven> {
    match &run.shape {
        RunShape::Sum(sum) => Some(&sum.duct),
        RunShape::Parts(parts) => parts.iter().find_map(|part| match &part.kind {
            PartKind::Piece { duct, .. } => Some(duct),
            _ => None,
        }),
    }
}

/// Outside diameter of what goes through a way out: the duct of the run that ends there, else of the first run.
pub(crate) fn duct_through(case: &Case<'_>, way: &WayOut) -> Option<f64> {
    let job = case.job;
    let ends_there = job.runs.iter().find(|run| way.terminal.as_ref() == Some(&run.to));
    let run = ends_there.or(job.runs.first())?;
    match given::member(&first_duct(run)?.size) {
        Some(Section::Round(d)) => Some(d.m() + 0.002),
        _ => None,
    }
}

/// The window of a way out as it is written: where the middle of its terminal may lie, in the plane of its outside.
pub(crate) fn outside(way: &WayOut) -> Option<Block> {
    Some(block(place_known(&way.at)?.map(Length::m), place_known(&way.size)?.map(Length::m)))
}

/// Half of what a terminal on such a duct is across, m.
pub(crate) fn half_m(duct_m: f64) -> f64 {
    0.5 * TERMINAL_DIAMETERS * duct_m
}

/// A terminal round its middle.
pub(crate) fn terminal(middle: Point, half_m: f64) -> Block {
    Block { min: middle.map(|v| v - half_m), max: middle.map(|v| v + half_m) }
}

/// Middle of the terminal of a way that ends at the inner face of a gate.
pub(crate) fn middle_outside(gate: &Gate, end: Point) -> Point {
    let mut middle = end;
    let out = if gate.outward.ahead { gate.depth_m } else { -gate.depth_m };
    middle[gate.outward.axis.index()] += out;
    middle
}

/// A spot is chosen so much farther away than is asked for, m: a quarter of an inch, since the outlet rises and falls by millimetres
/// with the slope of the duct that leads to it. Judgement.
const LEEWAY_M: f64 = 0.00635;

/// The least distances that the terminal of a way out has to keep where its spot is chosen, each with what it is from.
pub(crate) fn limits(case: &Case<'_>, way: &WayOut) -> Vec<(Near, Limit)> {
    let limits = way.near.iter().filter_map(|near| {
        let (kind, thing) = thing(near)?;
        let limit = limit(case, kind, near).0?;
        Some((thing, Limit { least_m: limit.least_m + LEEWAY_M, ..limit }))
    });
    limits.collect()
}

/// The middle of a terminal, nearest to a wish and at its height, that keeps every distance; none where no spot in the window does.
pub(crate) fn clear_spot(
    case: &Case<'_>,
    way: &WayOut,
    window: &Block,
    half_m: f64,
    wish: Point,
) -> Option<Point> {
    nearest_clear(&way.id, window, [half_m; 3], wish, &limits(case, way)).ok().flatten()
}

/// What a terminal amounts to by the distances that it does not keep.
pub(crate) fn breach(case: &Case<'_>, way: &WayOut, terminal: &Block) -> Verdict {
    let results = way.near.iter().filter_map(|near| clearance(case, way, terminal, near));
    let short = results.map(|result| result.verdict).filter(|verdict| is_short(*verdict));
    short.max().unwrap_or(Verdict::Holds)
}

/// Whether a distance is less than is asked for.
pub(crate) const fn is_short(verdict: Verdict) -> bool {
    matches!(verdict, Verdict::Fails | Verdict::Caution)
}

/// What is near, as a shape.
pub(crate) fn thing(near: &NearThing) -> Option<(NearKind, Near)> {
    let kind = given::member(&near.kind)?;
    let corner = place_known(&near.at)?.map(Length::m);
    let size = place_known(&near.size).map_or([0.0; 3], |size| size.map(Length::m));
    let mut solid = block(corner, size.map(|length| length.max(1e-3)));
    let thing = match kind {
        NearKind::Grade | NearKind::SnowLine => Near::Below { z_m: corner[2] + size[2] },
        NearKind::PropertyLine => {
            solid.min[2] -= UPRIGHT_M;
            solid.max[2] += UPRIGHT_M;
            Near::Box(solid)
        }
        _ => Near::Box(solid),
    };
    Some((kind, thing))
}

/// How far a terminal is from one thing, and whether that is enough.
pub(crate) fn clearance(
    case: &Case<'_>,
    way: &WayOut,
    terminal: &Block,
    near: &NearThing,
) -> Option<ClearanceResult> {
    let (kind, thing) = thing(near)?;
    let (limit, source) = limit(case, kind, near);
    let found = measure(&near.id, terminal, &thing, limit.as_ref()).ok()?;
    let verdict = match (found.enough, source.as_ref().map(|source| source.standing)) {
        (Enough::NoLimit, _) | (_, Some(Standing::FromMemory)) => Verdict::Unknown,
        (Enough::Yes | Enough::Above, _) => Verdict::Holds,
        (Enough::No, _) => weight(case, kind),
    };
    Some(ClearanceResult {
        at: way.id.clone(),
        near: near.id.clone(),
        kind: near_key(kind).to_owned(),
        distance_m: found.distance_m,
        least_m: limit.map(|limit| limit.least_m),
        verdict,
        source,
    })
}

/// What too short a distance amounts to: a broken rule where the book in force asks for it, advice otherwise.
fn weight(case: &Case<'_>, kind: NearKind) -> Verdict {
    match kind {
        NearKind::Window | NearKind::Door | NearKind::Inlet => {
            case.weight(|book| book.clearance(ClearOf::Opening))
        }
        NearKind::Intake => case.weight(|book| book.clearance(ClearOf::MechanicalIntake)),
        NearKind::PropertyLine => case.weight(|book| book.clearance(ClearOf::PropertyLine)),
        NearKind::SoffitVent => case.weight(Book::soffit_vents_clear),
        NearKind::Grade => case.weight(Book::above_grade),
        NearKind::Meter | NearKind::Walkway | NearKind::SnowLine => Verdict::Caution,
    }
}

/// Least distance by the book; none where it says none.
fn limit(case: &Case<'_>, kind: NearKind, near: &NearThing) -> (Option<Limit>, Option<Source>) {
    let of = |from: ClearOf| {
        let ruled = case.ask(|book| book.clearance(from))?;
        let limit = Limit {
            least_m: ruled.value.distance.m(),
            free_above_m: ruled.value.waived_above.map(Length::m),
        };
        Some((limit, source::ruled(&ruled)))
    };
    let plain = |ruled: Ruled<Length>| {
        let limit = Limit { least_m: ruled.value.m(), free_above_m: None };
        (limit, source::ruled(&ruled))
    };
    let found = match kind {
        NearKind::Window | NearKind::Door if given::yes(&near.opens) == Some(false) => None,
        NearKind::Window | NearKind::Door | NearKind::Inlet => of(ClearOf::Opening),
        NearKind::Intake => of(ClearOf::MechanicalIntake),
        NearKind::PropertyLine => of(ClearOf::PropertyLine),
        NearKind::SoffitVent => case.ask(Book::soffit_vents_clear).map(plain),
        NearKind::Grade => case.ask(Book::above_grade).map(plain),
        NearKind::Meter | NearKind::Walkway | NearKind::SnowLine => None,
    };
    match found {
        Some((limit, source)) => (Some(limit), Some(source)),
        None => (None, None),
    }
}

const fn near_key(kind: NearKind) -> &'static str {
    match kind {
        NearKind::Window => "near-window",
        NearKind::Door => "near-door",
        NearKind::Intake => "near-intake",
        NearKind::Inlet => "near-inlet",
        NearKind::SoffitVent => "near-soffit-vent",
        NearKind::PropertyLine => "near-property-line",
        NearKind::Meter => "near-meter",
        NearKind::Walkway => "near-walkway",
        NearKind::Grade => "near-grade",
        NearKind::SnowLine => "near-snow-line",
    }
}

/// Which spot a distance is told of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Spot {
    /// That of the terminal: it is written, or a way that leads there is all that is known of it.
    Known,
    /// The end of a way that is proposed, beside a terminal of which the distances are written.
    Proposed,
    /// Where the terminal will sit is open: the nearest spot that keeps every distance, else the middle of the window.
    Open,
}

/// The finding on a distance. `is_taken`: the air leaves here; a way out that is only thought of breaks no rule yet.
pub(crate) fn finding(
    way: &WayOut,
    result: &ClearanceResult,
    spot: Spot,
    is_taken: bool,
) -> Finding {
    let key = match (result.verdict, spot) {
        (Verdict::Holds, Spot::Open) => FrameClearanceKey::Spot,
        (Verdict::Holds, _) => FrameClearanceKey::Holds,
        (Verdict::Fails | Verdict::Caution, Spot::Known) => FrameClearanceKey::Short,
        (Verdict::Fails | Verdict::Caution, Spot::Proposed) => FrameClearanceKey::Proposed,
        (Verdict::Fails | Verdict::Caution, Spot::Open) => FrameClearanceKey::NoSpot,
        (Verdict::Unknown, _) => FrameClearanceKey::NoLimit,
    };
    let message = FrameClearance {
        key,
        near: Reference::new(&result.near),
        kind: Word::new(&result.kind),
        way: Reference::new(&way.id),
        distance: distance(result.distance_m),
        least: result.least_m.map(distance),
    };
    // What no book speaks of is told, and is no open point.
    let verdict = match result.verdict {
        Verdict::Unknown => Verdict::Caution,
        Verdict::Fails if !is_taken => Verdict::Caution,
        verdict => verdict,
    };
    let source = result
        .source
        .clone()
        .unwrap_or_else(|| Source::judgement("no rule book in use gives a least distance"));
    let subject = format!("{}/{}", way.id, result.near);
    let made = Finding::new(Check::FrameClearance, &subject, verdict, message, source)
        .figure(distance(result.distance_m));
    match result.least_m {
        Some(least) => made.limit(distance(least)),
        None => made,
    }
}

pub(crate) fn distance(metres: f64) -> LengthM {
    LengthM(Triple::exact(metres))
}
