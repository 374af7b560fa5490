//! What cannot be, or does not go together, of where things are.
//!
//! Only what is wrong for certain is an error: what a place leaves open is never held against it.

use std::collections::{BTreeMap, BTreeSet};

use dewpath_message::Message;
use dewpath_message::slot::{Name, Reference};
use dewpath_units::{Angle, Choice, Length, Quantity, Uncertain};

use crate::diagnostic::Diagnostic;
use crate::model::{
    Along, Fan, FixtureKind, Framing, FramingKind, GivenChoice, GivenPlace, Job, NearKind, Outward,
    Room, WayOut, WayOutKind, Wish, outline_known, place_known,
};
use crate::read::Context;
use crate::say::{self, Do, Label};
use crate::value::span_si;

/// Lengths below this are none, m.
const TOUCH_M: f64 = 1e-4;
/// By so much a spot that is rounded on a tape may lie beyond an edge, m: 1/16 in.
const ROUND_M: f64 = 0.0016;
/// Most corners of a room: more have been typed by nobody.
const CORNERS_MOST: usize = 200;

type Spot = [f64; 2];

/// Checks everything that is said of where things are.
pub(crate) fn whole(context: &mut Context<'_>, job: &Job) {
    for room in &job.rooms {
        plan(context, room);
        walls(context, room);
        inside(context, room);
        wish(context, room);
    }
    let by_id: BTreeMap<&str, &Room> =
        job.rooms.iter().map(|room| (room.id.as_str(), room)).collect();
    for fan in &job.fans {
        let room = fan.room.as_deref().and_then(|id| by_id.get(id).copied());
        housing(context, fan, room);
    }
    for framing in &job.framing {
        zone(context, framing);
        members(context, framing);
    }
    for space in &job.spaces {
        solid(context, &format!("space.{}.size", space.id), &space.size);
    }
    for obstacle in &job.obstacles {
        solid(context, &format!("obstacle.{}.size", obstacle.id), &obstacle.size);
    }
    for way in &job.ways_out {
        window(context, way);
        terminal_at(context, way);
        roof(context, way);
        masonry(context, way);
        near(context, way);
    }
}

fn wrong(
    context: &mut Context<'_>,
    path: &str,
    message: impl Into<Message>,
    label: Label,
    help: impl Into<Message>,
) {
    let span = context.place(path);
    context.tell(Diagnostic::error(path, span, message).label(label).help(help));
}

fn doubt(
    context: &mut Context<'_>,
    path: &str,
    message: impl Into<Message>,
    label: Label,
    help: impl Into<Message>,
) {
    let span = context.place(path);
    context.tell(Diagnostic::warning(path, span, message).label(label).help(help));
}

fn known<C: Copy>(given: &GivenChoice<C>) -> Option<C> {
    match given.as_ref().map(|stated| &stated.value) {
        Some(Choice::Known(member)) => Some(*member),
        _ => None,
    }
}

fn metres<const N: usize>(given: &GivenPlace<N>) -> Option<[f64; N]> {
    place_known(given).map(|place| place.map(Length::m))
}

/// Corners of a room that are known for certain, m.
fn corners(room: &Room) -> Option<Vec<Spot>> {
    if let Some(outline) = outline_known(&room.plan.outline) {
        let mut spots: Vec<Spot> = outline.iter().map(|spot| spot.map(Length::m)).collect();
        if spots.len() > 3 && spots.first() == spots.last() {
            spots.pop();
        }
        return Some(spots);
    }
    let [x, y] = metres(&room.plan.at)?;
    let (_, length) = span_si(room.length.as_ref())?;
    let (_, width) = span_si(room.width.as_ref())?;
    let (dx, dy) = match known(&room.plan.length_along) {
        Some(Along::Y) => (width, length),
        _ => (length, width),
    };
    Some(vec![[x, y], [x + dx, y], [x + dx, y + dy], [x, y + dy]])
}

/// Least and greatest x and y.
fn bounds(spots: &[Spot]) -> Option<(Spot, Spot)> {
    let first = *spots.first()?;
    Some(spots.iter().fold((first, first), |(low, high), spot| {
        (
            std::array::from_fn(|i| low[i].min(spot[i])),
            std::array::from_fn(|i| high[i].max(spot[i])),
        )
    }))
}

fn plan(context: &mut Context<'_>, room: &Room) {
    let place = &room.plan;
    let path = |key: &str| format!("room.{}.{key}", room.id);
    if outline_known(&place.outline).is_some() {
        let spots = corners(room).unwrap_or_default();
        outline(context, &path("plan"), &room.id, &spots);
        if place.at.is_some() {
            doubt(
                context,
                &path("at"),
                say::OfRoomKey::CornerBesidePlan.of(&room.id),
                Label::NotUsed,
                Do::LeaveOneOut,
            );
        }
    } else if place_known(&place.at).is_some()
        && (span_si(room.length.as_ref()).is_none() || span_si(room.width.as_ref()).is_none())
    {
        doubt(
            context,
            &path("at"),
            say::OfRoomKey::CornerWithoutSize.of(&room.id),
            Label::CornerAlone,
            Do::WriteSizeOrPlan,
        );
    }
    if place.length_along.is_some() && place.at.is_none() {
        doubt(
            context,
            &path("length_along"),
            say::OfRoomKey::AxisWithoutCorner.of(&room.id),
            Label::NotUsed,
            Do::WriteCorner,
        );
    }
}

/// An outline that is no room.
fn outline(context: &mut Context<'_>, path: &str, id: &str, spots: &[Spot]) {
    let count = spots.len();
    if !(3..=CORNERS_MOST).contains(&count) {
        wrong(
            context,
            path,
            say::CornersOfRoom { room: Name::new(id), count: say::count(count) },
            Label::ThreeCorners,
            Do::WriteCornersInOrder,
        );
        return;
    }
    let edge = |k: usize| (spots[k % count], spots[(k + 1) % count]);
    if let Some(k) = (0..count).find(|&k| apart(edge(k).0, edge(k).1) <= TOUCH_M) {
        wrong(
            context,
            path,
            say::Pair {
                key: say::PairKey::CornersTogether,
                one: say::count(k + 1),
                other: say::count((k + 1) % count + 1),
                room: Name::new(id),
            },
            Label::WallWithoutLength,
            Do::WriteCornersOnce,
        );
        return;
    }
    let pairs = (0..count).flat_map(|j| (j + 1..count).map(move |k| (j, k)));
    let crossing = pairs.into_iter().find(|&(j, k)| {
        let neighbours = k == j + 1 || (j == 0 && k == count - 1);
        if neighbours { folded(edge(j), edge(k)) } else { meet(edge(j), edge(k)) }
    });
    if let Some((j, k)) = crossing {
        wrong(
            context,
            path,
            say::Pair {
                key: say::PairKey::WallsCross,
                one: say::count(j + 1),
                other: say::count(k + 1),
                room: Name::new(id),
            },
            Label::NoRoomHasIt,
            Do::WriteCornersRound,
        );
    }
}

fn apart(a: Spot, b: Spot) -> f64 {
    let (dx, dy) = (a[0] - b[0], a[1] - b[1]);
    (dx * dx + dy * dy).sqrt()
}

/// Distance of a point from a straight piece.
fn off(point: Spot, (from, to): (Spot, Spot)) -> f64 {
    let along = [to[0] - from[0], to[1] - from[1]];
    let length2 = along[0] * along[0] + along[1] * along[1];
    let dot = (point[0] - from[0]) * along[0] + (point[1] - from[1]) * along[1];
    let t = if length2 > 0.0 { (dot / length2).clamp(0.0, 1.0) } else { 0.0 };
    apart(point, [from[0] + t * along[0], from[1] + t * along[1]])
}

/// Twice the area of the triangle: above zero where it runs against the clock.
fn turn(a: Spot, b: Spot, c: Spot) -> f64 {
    (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
}

/// Whether two straight pieces cross or touch.
fn meet(a: (Spot, Spot), b: (Spot, Spot)) -> bool {
    let opposite = |p: f64, q: f64| (p > 0.0 && q < 0.0) || (p < 0.0 && q > 0.0);
    let crosses = opposite(turn(a.0, a.1, b.0), turn(a.0, a.1, b.1))
        && opposite(turn(b.0, b.1, a.0), turn(b.0, b.1, a.1));
    let ends = [(b.0, a), (b.1, a), (a.0, b), (a.1, b)];
    crosses || ends.into_iter().any(|(point, piece)| off(point, piece) <= TOUCH_M)
}

/// Whether the second of two pieces that share a corner runs back over the first.
fn folded(a: (Spot, Spot), b: (Spot, Spot)) -> bool {
    // The first and the last wall share the corner at which the outline begins.
    let (a, b) = if apart(a.1, b.0) <= TOUCH_M { (a, b) } else { (b, a) };
    let back = (a.1[0] - a.0[0]) * (b.1[0] - b.0[0]) + (a.1[1] - a.0[1]) * (b.1[1] - b.0[1]) < 0.0;
    back && (off(b.1, a) <= TOUCH_M || off(a.0, b) <= TOUCH_M)
}

fn walls(context: &mut Context<'_>, room: &Room) {
    let count = corners(room).map(|corners| corners.len());
    let mut seen: BTreeSet<u32> = BTreeSet::new();
    for wall in &room.plan.walls {
        let path = format!("room.{}.wall.{}.corner", room.id, wall.id);
        let Some(Uncertain::Exact(corner)) = wall.corner.as_ref().map(|stated| stated.value) else {
            continue;
        };
        let beyond = count.is_some_and(|count| corner as usize > count);
        if corner == 0 || beyond {
            let most = count.map(say::count);
            wrong(
                context,
                &path,
                say::WallWithoutCorner {
                    wall: Name::new(&wall.id),
                    corner: say::count(corner as usize),
                    room: Name::new(&room.id),
                },
                Label::NoSuchCorner,
                say::CornersCounted { most },
            );
        } else if !seen.insert(corner) {
            doubt(
                context,
                &path,
                say::WallsAtCorner {
                    room: Name::new(&room.id),
                    corner: say::count(corner as usize),
                },
                Label::OneWallAtCorner,
                Do::LookAtPlan,
            );
        }
    }
}

/// Places that lie outside of their room.
fn inside(context: &mut Context<'_>, room: &Room) {
    let outer = corners(room).as_deref().and_then(bounds);
    for wet in &room.plan.wet {
        let path = |key: &str| format!("room.{}.wet.{}.{key}", room.id, wet.id);
        solid(context, &path("size"), &wet.size);
        if let (Some(at), Some(size)) = (metres(&wet.at), metres(&wet.size)) {
            let far = std::array::from_fn(|i| at[i] + size[i]);
            if outer.is_some_and(|outer| !holds(outer, at) && !holds(outer, far)) {
                outside(
                    context,
                    &path("at"),
                    outside_of(say::OutsideRoomKey::WetZone, &wet.id, room),
                );
            }
        }
    }
    for fixture in &room.plan.fixtures {
        let path = format!("room.{}.fixture_at.{}.at", room.id, fixture.id);
        if let (Some(at), Some(outer)) = (metres(&fixture.at), outer)
            && !holds(outer, at)
        {
            outside(context, &path, outside_of(say::OutsideRoomKey::Thing, &fixture.id, room));
        }
    }
}

/// Whether a place lies within bounds, give or take the thickness of a wall.
fn holds((low, high): (Spot, Spot), at: Spot) -> bool {
    const WALL_M: f64 = 0.4;
    (0..2).all(|i| at[i] >= low[i] - WALL_M && at[i] <= high[i] + WALL_M)
}

fn outside_of(key: say::OutsideRoomKey, thing: &str, room: &Room) -> say::OutsideRoom {
    say::OutsideRoom { key, thing: Name::new(thing), room: Name::new(&room.id) }
}

fn outside(context: &mut Context<'_>, path: &str, message: impl Into<Message>) {
    doubt(context, path, message, Label::Outside, Do::UseOneFrame);
}

/// Something without an extent along an axis.
fn solid<const N: usize>(context: &mut Context<'_>, path: &str, size: &GivenPlace<N>) {
    if metres(size).is_some_and(|size| size.iter().any(|side| *side <= TOUCH_M)) {
        wrong(
            context,
            path,
            say::AtPathKey::WithoutExtent.of(path),
            Label::MoreThanNoneEach,
            Do::WriteUnknownUnmeasured,
        );
    }
}

fn wish(context: &mut Context<'_>, room: &Room) {
    let path = format!("room.{}.wish", room.id);
    let Some(wish) = room.plan.wish.as_ref().map(|stated| stated.value) else { return };
    let has = |wanted: &[FixtureKind]| {
        room.plan.fixtures.iter().any(|fixture| {
            known(&fixture.kind).is_some_and(|kind| wanted.contains(&kind))
                && place_known(&fixture.at).is_some()
        })
    };
    let wet = room.plan.wet.iter().any(|wet| place_known(&wet.at).is_some());
    let washed = wet || has(&[FixtureKind::Shower, FixtureKind::Tub]);
    match wish {
        Wish::OverShower if !washed => doubt(
            context,
            &path,
            say::OfRoomKey::ShowerNowhere.of(&room.id),
            Label::OverWhat,
            say::WriteShower {
                wet: Reference::new("[[room.wet]]"),
                fixture: Reference::new("[[room.fixture_at]]"),
            },
        ),
        Wish::BetweenFixtureAndDoor
            if !has(&[FixtureKind::Door]) || !(washed || has(&[FixtureKind::Toilet])) =>
        {
            doubt(
                context,
                &path,
                say::OfRoomKey::FixtureAndDoorNowhere.of(&room.id),
                Label::BetweenWhat,
                say::InSectionKey::WriteDoor.of("[[room.fixture_at]]"),
            );
        }
        Wish::At(at) => {
            let at = at.map(Length::m);
            if corners(room).as_deref().and_then(bounds).is_some_and(|outer| !holds(outer, at)) {
                outside(context, &path, say::OfRoomKey::WishOutside.of(&room.id));
            }
        }
        _ => {}
    }
}

fn housing(context: &mut Context<'_>, fan: &Fan, room: Option<&Room>) {
    let path = |key: &str| format!("fan.{}.{key}", fan.id);
    if let Some((low, high)) = span_si::<Angle>(fan.rotation.as_ref()) {
        let quarter = std::f64::consts::FRAC_PI_2;
        let turns = low / quarter;
        if (high - low).abs() < 1e-9 && (turns - turns.round()).abs() > 0.02 {
            doubt(
                context,
                &path("rotation"),
                say::OfFanKey::NotByQuarters.of(&fan.id),
                Label::RightAngles,
                say::example("rotation = \"90 deg\""),
            );
        }
    }
    let Some(room) = room else { return };
    let outer = corners(room).as_deref().and_then(bounds);
    if let (Some(at), Some(outer)) = (metres(&fan.at), outer)
        && !holds(outer, at)
    {
        outside(context, &path("at"), outside_of(say::OutsideRoomKey::Fan, &fan.id, room));
    }
    let sides = [span_si(room.length.as_ref()), span_si(room.width.as_ref())];
    if let (Some([length, width, _]), [Some((_, a)), Some((_, b))]) = (fan.data.housing, sides) {
        let (longer, shorter) = (length.m().max(width.m()), length.m().min(width.m()));
        if longer > a.max(b) || shorter > a.min(b) {
            wrong(
                context,
                &path("housing"),
                say::HousingBeyondRoom { fan: Name::new(&fan.id), room: Name::new(&room.id) },
                Label::LargerThanRoom,
                Do::LookAtHousing,
            );
        }
    }
}

/// Edges, spacing and bearings of a zone.
fn zone(context: &mut Context<'_>, framing: &Framing) {
    let path = |key: &str| format!("framing.{}.{key}", framing.id);
    solid(context, &path("extent"), &framing.extent);
    solid(context, &path("actual"), &framing.actual);
    if metres(&framing.actual).is_some_and(|[width, depth]| width > depth) {
        doubt(
            context,
            &path("actual"),
            say::OfFramingKey::WiderThanDeep.of(&framing.id),
            Label::WidthThenDepth,
            say::example("actual = [\"1-1/2 in\", \"9-1/4 in\"]"),
        );
    }
    let spacing = span_si(framing.spacing.as_ref());
    let width = framing.actual_size().map(|[width, _]| width.m());
    if let (Some((_, spacing)), Some(width)) = (spacing, width)
        && spacing <= width + TOUCH_M
    {
        wrong(
            context,
            &path("spacing"),
            say::OfFramingKey::Touching.of(&framing.id),
            Label::NothingClear,
            Do::MeasureCentres,
        );
    }
    if let (Some((first, _)), Some(across)) = (span_si(framing.first.as_ref()), across(framing))
        && first > across + TOUCH_M
    {
        wrong(
            context,
            &path("first"),
            say::OfFramingKey::FirstBeyondEdge.of(&framing.id),
            Label::OutsideFraming,
            Do::MeasureFromEdge,
        );
    }
    if metres(&framing.bearings).is_some_and(|[from, to]| to - from <= TOUCH_M) {
        wrong(
            context,
            &path("bearings"),
            say::OfFramingKey::BearingsReversed.of(&framing.id),
            Label::LesserToGreater,
            say::example("bearings = [\"0 ft\", \"14 ft\"]"),
        );
    }
}

/// Extent of a zone across its members, m.
fn across(framing: &Framing) -> Option<f64> {
    let [dx, dy] = metres(&framing.extent)?;
    known(&framing.direction).map(|along| match along {
        Along::X => dy,
        Along::Y => dx,
    })
}

/// Kind, size and doubles of the members.
fn members(context: &mut Context<'_>, framing: &Framing) {
    let path = |key: &str| format!("framing.{}.{key}", framing.id);
    let shaped = matches!(
        known(&framing.kind),
        Some(FramingKind::IJoist | FramingKind::Truss | FramingKind::Steel)
    );
    if shaped && framing.size.is_some() {
        doubt(
            context,
            &path("size"),
            say::OfFramingKey::NominalSize.of(&framing.id),
            Label::IsThatMeant,
            Do::WriteActual,
        );
    }
    if framing.span.is_some() && framing.bearings.is_some() {
        doubt(
            context,
            &path("span"),
            say::OfFramingKey::SpanBesideBearings.of(&framing.id),
            Label::NotUsed,
            Do::LeaveOneOut,
        );
    }
    let last = last_member(framing);
    for (number, double) in framing.doubles.iter().enumerate() {
        let Some(Uncertain::Exact(member)) = double.member.as_ref().map(|stated| stated.value)
        else {
            continue;
        };
        if member == 0 || last.is_some_and(|last| f64::from(member) > last) {
            wrong(
                context,
                &path(&format!("double.{}.member", number + 1)),
                say::NoMember {
                    framing: Name::new(&framing.id),
                    member: say::count(member as usize),
                },
                Label::NoSuchMember,
                Do::CountMembers,
            );
        }
    }
}

/// Number of the last member that lies in the zone, where all is known exactly.
fn last_member(framing: &Framing) -> Option<f64> {
    let exact = |given: &crate::model::Given<Length>| match given.as_ref()?.value {
        Uncertain::Exact(length) => Some(length.si()),
        _ => None,
    };
    let (first, spacing) = (exact(&framing.first)?, exact(&framing.spacing)?);
    let [width, _] = framing.actual_size()?;
    let reach = across(framing)? + 0.5 * width.m() - first;
    (spacing > 0.0).then(|| (reach / spacing).floor() + 1.0)
}

/// The spot of a terminal lies in its window.
fn terminal_at(context: &mut Context<'_>, way: &WayOut) {
    let known = (metres(&way.terminal_at), metres(&way.at), metres(&way.size));
    let (Some(spot), Some(at), Some(size)) = known else { return };
    let beyond = |i: usize| spot[i] < at[i] - ROUND_M || spot[i] > at[i] + size[i] + ROUND_M;
    if (0..2).any(beyond) {
        wrong(
            context,
            &format!("way_out.{}.terminal_at", way.id),
            say::OfWayKey::TerminalBeyondWindow.of(&way.id),
            Label::NotBetweenCorners,
            Do::WriteSpotInWindow,
        );
    }
}

/// The window in which a terminal may lie.
fn window(context: &mut Context<'_>, way: &WayOut) {
    let path = |key: &str| format!("way_out.{}.{key}", way.id);
    let facing = known(&way.facing);
    if let Some(size) = metres(&way.size) {
        let axis = facing.map(|facing| match facing {
            Outward::PlusX | Outward::MinusX => 0,
            Outward::PlusY | Outward::MinusY => 1,
            Outward::Up | Outward::Down => 2,
        });
        let flat = size.iter().filter(|side| **side <= TOUCH_M).count();
        let thick = axis.is_some_and(|axis| size[axis] > TOUCH_M);
        // A roof slopes, so that its window has an extent along every axis.
        if flat == 3 {
            wrong(
                context,
                &path("size"),
                say::OfWayKey::WindowWithoutExtent.of(&way.id),
                Label::MoreThanNoneAlong,
                Do::WriteReach,
            );
        } else if thick && known(&way.kind) != Some(WayOutKind::Roof) {
            doubt(
                context,
                &path("size"),
                say::OfWayKey::WindowThick.of(&way.id),
                Label::PlaneFlat,
                Do::WriteNoThickness,
            );
        }
    }
    let upright =
        matches!(known(&way.kind), Some(WayOutKind::Rim | WayOutKind::Wall | WayOutKind::Gable));
    let level = matches!(facing, Some(Outward::Up | Outward::Down));
    if upright && level {
        doubt(
            context,
            &path("facing"),
            say::OfWayKey::UprightLooksUp.of(&way.id),
            Label::WallLooksAside,
            say::example("facing = \"+y\""),
        );
    }
}

fn roof(context: &mut Context<'_>, way: &WayOut) {
    let path = |key: &str| format!("way_out.{}.{key}", way.id);
    if way.slope.is_some() && way.pitch.is_some() {
        doubt(
            context,
            &path("pitch"),
            say::OfWayKey::SlopeTwice.of(&way.id),
            Label::NotUsed,
            Do::LeaveOneOut,
        );
    }
    let upright =
        matches!(known(&way.kind), Some(WayOutKind::Rim | WayOutKind::Wall | WayOutKind::Gable));
    let keys = [
        ("slope", way.slope.is_some()),
        ("pitch", way.pitch.is_some()),
        ("cover", way.cover.is_some()),
    ];
    for (key, _) in keys.into_iter().filter(|(_, written)| upright && *written) {
        doubt(
            context,
            &path(key),
            say::OfWayKey::NoRoof.of(&way.id),
            Label::NotUsed,
            Do::WriteRoof,
        );
    }
}

fn masonry(context: &mut Context<'_>, way: &WayOut) {
    let (joint, course) =
        (span_si(way.coursing.joint.as_ref()), span_si(way.coursing.course.as_ref()));
    if let (Some((joint, _)), Some((_, course))) = (joint, course)
        && joint >= course
    {
        wrong(
            context,
            &format!("way_out.{}.coursing.joint", way.id),
            say::OfWayKey::JointsFillCourses.of(&way.id),
            Label::NothingOfBrick,
            Do::MeasureCourse,
        );
    }
}

fn near(context: &mut Context<'_>, way: &WayOut) {
    for thing in &way.near {
        let path = |key: &str| format!("way_out.{}.near.{}.{key}", way.id, thing.id);
        let kind = known(&thing.kind);
        if thing.opens.is_some()
            && kind.is_some_and(|kind| !matches!(kind, NearKind::Window | NearKind::Door))
        {
            doubt(
                context,
                &path("opens"),
                say::OfThingKey::OpensNowhere.of(&thing.id),
                Label::NotUsed,
                Do::LeaveOut,
            );
        }
    }
}
