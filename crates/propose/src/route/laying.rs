//! How a way is put up: the fall of each leg, supports, joints.
//!
//! Level legs from the last rise on fall to the outdoors, each by the slope times its length; those before it can't shed water
//! there, and where it stands or runs back to is named. Pieces are laid from the housing on, those of the last leg from the
//! outside in, so that no joint lies in the wall.

use dewpath_case::Case;
use dewpath_case::given;
use dewpath_job::model::{DuctKind, Run};
use dewpath_layout::route::{Fall, Leg, Route, falls, low_points, supports};
use dewpath_message::slot::{Count, DiameterMm, LengthM, Name, Reference};
use dewpath_report::say::{
    RouteJoints, RouteJointsKey, RouteNote, RouteNoteKey, RouteNoteNoRoomToFall, RouteSlope,
    RouteSlopeKey, Todo, What,
};
use dewpath_report::{
    Check, Figure, Finding, Joint, Jointing, LowPoint, Message, Provenance, RouteLeg, RouteResult,
    Source, Step, Supports, Triple, Verdict, WorkingInput,
};
use dewpath_rulebook::{Book, DuctKind as TableDuct};
use dewpath_units::{Length, Ratio};

use super::ducts::{Choice, first_duct};
use super::findings::source;
use super::task::{Task, apart, run_of};
use super::written::LEVEL_M;

/// Fall of a duct towards outdoors where no book in use says, m a metre: 1/8 in. a foot. Common practice, no source.
const SLOPE: f64 = 0.125 / 12.0;
/// Distance between supports where nobody says, m: 4 ft, less than books ask of metal. Common practice, no source.
const SUPPORT_M: f64 = 1.2192;
/// Screws or rivets in a round metal joint where no book in use says.
const SCREWS: u32 = 3;
/// What building a way takes.
pub(super) struct Laid {
    pub legs: Vec<RouteLeg>,
    pub low_points: Vec<LowPoint>,
    pub supports: Supports,
    pub supports_m: Vec<f64>,
    pub jointing: Jointing,
    pub slope_ratio: f64,
    pub slope_source: Source,
    pub fall_m: f64,
}

impl Laid {
    /// Straight duct to cut, m: the length of a way. That along the centre line is nobody's to measure: its arcs come with the
    /// elbows, and a run in a job file is as long as its pieces, too.
    pub(super) fn straight_m(&self) -> f64 {
        self.legs.iter().map(|leg| leg.straight_m).sum()
    }
}

/// Works out how a way is put up; `sloped` asks the layout for the fall of its legs.
pub(super) fn lay(
    task: &Task<'_>,
    route: &Route,
    choice: &Choice,
    depth_m: f64,
    sloped: impl FnOnce(f64) -> Vec<Fall>,
) -> Laid {
    let (slope_ratio, slope_source) = slope(task.case);
    let falls = sloped(slope_ratio);
    let legs = legs(task, route, &falls, depth_m);
    let supports = spacing(task.case, run_of(task));
    Laid {
        supports_m: support_places(route, supports.spacing_m),
        fall_m: falls.last().map_or(0.0, |fall| fall.to_m),
        low_points: lows(route),
        jointing: jointing(task.case, route, choice, depth_m),
        legs,
        supports,
        slope_ratio,
        slope_source,
    }
}

/// The fall of the legs of a way; none where the layout can't work with it, which the search would have told.
pub(super) fn falls_of(
    route: &Route,
    ways: &dewpath_layout::route::Ways<'_>,
    choice: &Choice,
    may_bore: &dewpath_layout::route::MayBore<'_>,
    slope: f64,
) -> Vec<Fall> {
    falls(route, ways, &choice.duct, may_bore, slope).unwrap_or_default()
}

/// Least fall by the book, as common practice where none says.
fn slope(case: &Case<'_>) -> (f64, Source) {
    match case.ask(Book::fall) {
        Some(rule) => (Ratio::ratio(rule.value), dewpath_case::source::ruled(&rule)),
        None => (SLOPE, Source::practice()),
    }
}

/// Legs with their height over the finished ceiling at the housing, once the duct falls.
fn legs(task: &Task<'_>, route: &Route, falls: &[Fall], depth_m: f64) -> Vec<RouteLeg> {
    let ceiling = task.start.ceiling_m;
    let last = route.legs.len().saturating_sub(1);
    let mut lowered = 0.0;
    let mut made = Vec::new();
    for (number, leg) in route.legs.iter().enumerate() {
        let fall = falls.iter().find(|fall| fall.leg == number);
        let (from, to) = fall.map_or((lowered, lowered), |fall| (fall.from_m, fall.to_m));
        lowered = to;
        // What stands before a rise is not lowered, and what rises ends where the next begins.
        let (from_z, to_z) = (leg.from[2] - from, leg.to[2] - to);
        let through_wall = if number == last { depth_m } else { 0.0 };
        made.push(RouteLeg {
            through: leg.through.clone(),
            length_m: apart(leg.from, leg.to),
            straight_m: apart(leg.straight[0], leg.straight[1]) + through_wall,
            fall_m: from_z - to_z,
            runs: runs(leg, fall.is_some()).to_owned(),
            from_over_ceiling_m: from_z - ceiling,
            to_over_ceiling_m: to_z - ceiling,
            fits: fall.map(|fall| fall.fits),
        });
    }
    made
}

/// Which way water runs in a leg, by key.
fn runs(leg: &Leg, is_sloped: bool) -> &'static str {
    let rise = leg.to[2] - leg.from[2];
    if rise > LEVEL_M {
        "runs-back"
    } else if rise < -LEVEL_M || is_sloped {
        "runs-out"
    } else {
        "runs-level"
    }
}

/// Places from which water can't run outdoors.
fn lows(route: &Route) -> Vec<LowPoint> {
    let before = |leg: usize| route.legs[..leg].iter().map(|leg| apart(leg.from, leg.to)).sum();
    let found = low_points(route).into_iter();
    found
        .map(|low| LowPoint {
            at_m: low.at,
            along_m: before(low.leg),
            within: route.legs[low.leg].through.first().cloned().unwrap_or_default(),
            is_housing: low.is_housing,
        })
        .collect()
}

/// Distance between supports: as the run has it, else as common practice, never more than the book allows.
fn spacing(case: &Case<'_>, run: &Run) -> Supports {
    let rule = case.ask(|book| book.supports(TableDuct::Smooth).spacing);
    let written = first_duct(run).and_then(|duct| given::likely(&duct.support_spacing));
    let wanted = written.map_or(SUPPORT_M, Length::m);
    match rule {
        Some(rule) => Supports {
            spacing_m: wanted.min(rule.value.m()),
            most_m: Some(rule.value.m()),
            source: dewpath_case::source::ruled(&rule),
        },
        None => Supports { spacing_m: wanted, most_m: None, source: Source::practice() },
    }
}

/// Distances of supports along the line; what stands up hangs by its elbows.
fn support_places(route: &Route, spacing_m: f64) -> Vec<f64> {
    let mut places = Vec::new();
    let mut before = 0.0;
    for leg in &route.legs {
        if (leg.to[2] - leg.from[2]).abs() < LEVEL_M {
            let found = supports(leg.from, leg.to, spacing_m).unwrap_or_default();
            places.extend(found.iter().map(|at| before + apart(leg.from, *at)));
        }
        before += apart(leg.from, leg.to);
    }
    places
}

/// Length of the pieces in which a duct is sold, m.
const fn sold_m(kind: DuctKind) -> f64 {
    match kind {
        // Round pipe of 5 ft, plastic and spiral pipe of 10 ft: from memory.
        DuctKind::SpiralMetal | DuctKind::Plastic => 3.048,
        _ => 1.524,
    }
}

/// Joints from the collar to the terminal, and how they are made.
fn jointing(case: &Case<'_>, route: &Route, choice: &Choice, depth_m: f64) -> Jointing {
    let sold = sold_m(choice.kind);
    let is_plastic = choice.kind == DuctKind::Plastic;
    let mut joints = vec![joint(0.0, "joint-collar", false)];
    let mut pieces = 0;
    let mut before = 0.0;
    let last = route.legs.len().saturating_sub(1);
    for (number, leg) in route.legs.iter().enumerate() {
        let (start, end) = (apart(leg.from, leg.straight[0]), apart(leg.from, leg.straight[1]));
        let length = end - start + if number == last { depth_m } else { 0.0 };
        if number > 0 {
            joints.push(joint(before + start, "joint-elbow", is_plastic));
        }
        let count = piece_count(length, sold);
        pieces += count;
        let cuts = (1..count).map(|k| {
            let k = k as f64;
            // The last leg is laid from the outside in, so that what goes through the wall is one piece.
            let at = if number == last { length - (count as f64 - k) * sold } else { k * sold };
            joint(before + start + at, "joint-piece", is_plastic)
        });
        joints.extend(cuts);
        // Where two fittings follow each other without a piece they are put into each other once.
        if number < last && length > LEVEL_M {
            joints.push(joint(before + end, "joint-elbow", is_plastic));
        }
        if number == last {
            joints.push(joint(before + start + length, "joint-terminal", false));
        }
        before += apart(leg.from, leg.to);
    }
    let screws = case.ask(Book::joint_screws);
    let source = screws.as_ref().map_or_else(
        || Source::confirmed("Standard Work Specifications", "5.0105"),
        dewpath_case::source::ruled,
    );
    let seals = case.ask(Book::seals).map_or_else(
        || vec!["mastic".to_owned(), "listed tape".to_owned()],
        |rule| rule.value.iter().map(|seal| seal.word().to_owned()).collect(),
    );
    Jointing {
        joints,
        piece_count: pieces as u32,
        sold_m: sold,
        sold_source: Source::memory("lengths in which round pipe is sold", ""),
        screw_count: screws.as_ref().map_or(SCREWS, |rule| rule.value),
        lap_m: case.ask(Book::crimp_lap).map(|rule| rule.value.m()),
        seals,
        source,
    }
}

/// Pieces for a length; none where fittings meet.
fn piece_count(length: f64, sold: f64) -> usize {
    if length <= LEVEL_M { 0 } else { libm::ceil((length - LEVEL_M) / sold).max(1.0) as usize }
}

fn joint(along_m: f64, kind: &str, is_cemented: bool) -> Joint {
    let made = if is_cemented { "made-cemented" } else { "made-screwed" };
    Joint { along_m, kind: kind.to_owned(), made: made.to_owned() }
}

/// Notes on how a way is put up.
pub(super) fn notes(laid: &Laid) -> Vec<Message> {
    let mut notes = Vec::new();
    for low in &laid.low_points {
        let key = if low.is_housing { RouteNoteKey::DrainsBack } else { RouteNoteKey::LowPoint };
        notes.push(Message::from(RouteNote {
            key,
            along: length(low.along_m),
            within: Reference::new(low.within.as_str()),
        }));
    }
    for (number, leg) in (1..).zip(&laid.legs).filter(|(_, leg)| leg.fits == Some(false)) {
        notes.push(Message::from(RouteNoteNoRoomToFall {
            leg: Count(Triple::exact(f64::from(number))),
            fall: small(leg.fall_m),
        }));
    }
    notes
}

fn length(metres: f64) -> LengthM {
    LengthM(Triple::exact(metres))
}

fn small(metres: f64) -> DiameterMm {
    DiameterMm(Triple::exact(1000.0 * metres))
}

/// The fall of the recommended way, leg by leg, and its joints.
pub(super) fn findings(route: &RouteResult) -> [Finding; 2] {
    [falling(route), joined(route)]
}

fn falling(route: &RouteResult) -> Finding {
    let no_room = route.legs.iter().any(|leg| leg.fits == Some(false));
    let stands = route.low_points.iter().any(|low| !low.is_housing);
    let back = route.low_points.iter().any(|low| low.is_housing);
    let (key, verdict) = if stands {
        (RouteSlopeKey::Stands, Verdict::Caution)
    } else if no_room {
        (RouteSlopeKey::NoRoom, Verdict::Caution)
    } else if back {
        (RouteSlopeKey::Back, Verdict::Caution)
    } else {
        (RouteSlopeKey::Holds, Verdict::Holds)
    };
    let first = route.legs.iter().find(|leg| leg.runs == "runs-out");
    let end = route.legs.last();
    let from = first.map_or(0.0, |leg| leg.from_over_ceiling_m);
    let to = end.map_or(0.0, |leg| leg.to_over_ceiling_m);
    let message = RouteSlope {
        key,
        way: Reference::new(&route.way_out),
        fall: small(route.fall_m),
        from: length(from),
        to: length(to),
        low: length(route.low_points.first().map_or(0.0, |low| low.along_m)),
    };
    let made =
        Finding::new(Check::RouteSlope, &route.fan, verdict, message, route.slope_source.clone())
            .figure(small(route.fall_m));
    let made = route.legs.iter().fold(made, |made, leg| made.step(leg_step(route, leg)));
    match (verdict, no_room && !stands) {
        (Verdict::Holds, _) => made,
        (_, true) => made.todo(Todo::RoomToFall),
        (_, false) => made.todo(Todo::DrainOrInsulate),
    }
}

fn leg_step(route: &RouteResult, leg: &RouteLeg) -> Step {
    let slope = if leg.fits.is_some() { route.slope_ratio } else { 0.0 };
    let computed = Provenance::Computed;
    let (equation, fall) = if leg.fits.is_some() {
        ("z_end = z_start - s L", Figure::FactorRatio(Triple::exact(slope)))
    } else {
        ("z_end = z_start - dz", length(leg.fall_m).into())
    };
    let (symbol, what) =
        if leg.fits.is_some() { ("s", What::Slope) } else { ("dz", What::LegDrop) };
    Step {
        equation: equation.into(),
        inputs: vec![
            WorkingInput::new(
                "z_start",
                What::LegStart,
                length(leg.from_over_ceiling_m).into(),
                computed,
            ),
            WorkingInput::new("L", What::LegLength, length(leg.length_m).into(), computed),
            WorkingInput::new(symbol, what, fall, computed),
        ],
        result: Some(length(leg.to_over_ceiling_m).into()),
        source: if leg.fits.is_some() { route.slope_source.clone() } else { source() },
    }
}

fn joined(route: &RouteResult) -> Finding {
    let jointing = &route.jointing;
    let count = |v: usize| Count(Triple::exact(v as f64));
    let joints = count(jointing.joints.len());
    let cemented = jointing.joints.iter().filter(|joint| joint.made == "made-cemented").count();
    let key = if cemented > 0 { RouteJointsKey::Plastic } else { RouteJointsKey::Metal };
    let pieces = Count(Triple::exact(f64::from(jointing.piece_count)));
    let message = RouteJoints {
        key,
        way: Reference::new(&route.way_out),
        joints,
        cemented: count(cemented),
        pieces,
        sold: length(jointing.sold_m),
        screws: Count(Triple::exact(f64::from(jointing.screw_count))),
        seals: Name::new(jointing.seals.join(", ")),
    };
    let straight: f64 = route.legs.iter().map(|leg| leg.straight_m).sum();
    let computed = Provenance::Computed;
    let pieces_step = Step {
        equation: "n = sum(ceil(L / l))".into(),
        inputs: vec![
            WorkingInput::new("L", What::StraightDuct, length(straight).into(), computed),
            WorkingInput::new("l", What::SoldLength, length(jointing.sold_m).into(), computed),
        ],
        result: Some(pieces.into()),
        source: jointing.sold_source.clone(),
    };
    Finding::new(Check::RouteJoints, &route.fan, Verdict::Holds, message, jointing.source.clone())
        .figure(joints)
        .step(pieces_step)
}
