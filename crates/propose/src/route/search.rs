//! The search of the layout, asked for one duct: exits that may be taken, members that may be bored.

use dewpath_case::Case;
use dewpath_case::given;
use dewpath_case::inputs::Draw;
use dewpath_case::system::rooms_of_fan;
use dewpath_job::model::{LayerMaterial, RoofCover, Separation, WayOut, WayOutKind, place_known};
use dewpath_layout::bore::{Opening, Ruling, judge_hole};
use dewpath_layout::framing::Member;
use dewpath_layout::geometry::{Axis, Point, TOUCH_M};
use dewpath_layout::route::{Bore, Exit, Found, Heading, MayBore, Route, Ways, search_through};
use dewpath_message::slot::Reference;
use dewpath_report::say::{RouteSeparation, RouteSeparationKey, Todo};
use dewpath_report::{Check, Finding, Message, Source, Verdict};

use super::bores::{hole, hole_rule, joist, refusal_key};
use super::ducts::{self, Choice};
use super::task::Task;
use crate::clearance::{
    breach, clear_spot, duct_through, half_m, middle_outside, outside, terminal,
};
use crate::floor::{Floor, Gate};

/// Ways that are judged for each fan.
pub(super) const KEPT: usize = 5;

/// Shares of the thickness to which insulation is pressed where there is no room for all of it, most first. Judgement; what
/// that costs in heat is said, and the run as built says how much is squeezed (`compressed`).
pub(super) const LEFT: [f64; 4] = [1.0, 0.5, 0.25, 0.1];

/// Flow that the rooms of a fan require together, at the likely values.
pub(super) fn required_m3_s(case: &Case<'_>, fan: usize) -> Option<f64> {
    let rooms = rooms_of_fan(case.job, fan);
    let needs = rooms
        .iter()
        .map(|&room| case.required.rooms[room].flow.as_ref().map(|flow| flow.at(Draw::Likely)));
    needs.sum::<Option<f64>>().filter(|flow| *flow > 0.0)
}

/// Walls that no duct may pass are left out and named.
pub(super) fn is_admitted(way: &WayOut, findings: &mut Vec<Finding>, fan: &str) -> bool {
    let stop = match given::member(&way.separation) {
        Some(Separation::Townhouse) => Some((RouteSeparationKey::Townhouse, true)),
        Some(Separation::Garage) => Some((RouteSeparationKey::Garage, true)),
        Some(Separation::Dwelling) => Some((RouteSeparationKey::Dwelling, false)),
        Some(Separation::Rated) => Some((RouteSeparationKey::Rated, false)),
        Some(Separation::None) | None => None,
    };
    let Some((key, closed)) = stop else { return true };
    let verdict = if closed { Verdict::Caution } else { Verdict::Unknown };
    let message = Message::from(RouteSeparation { key, way: Reference::new(&way.id) });
    let source = Source::confirmed(
        "International Residential Code",
        match given::member(&way.separation) {
            Some(Separation::Townhouse) => "R302.2.2",
            Some(Separation::Garage) => "R302.5.2",
            _ => "R302.4",
        },
    );
    findings.push(
        Finding::new(
            Check::RouteSeparation,
            &format!("{fan}/{}", way.id),
            verdict,
            message,
            source,
        )
        .todo(Todo::FirestopSystem),
    );
    !closed
}

/// Ways by one duct. A way out whose terminal would sit too near to something there is searched once more, beyond the nearest
/// spot that keeps every distance; where no way leads there the first one stays, and its distance is told as it is.
pub(super) fn routes(
    task: &Task<'_>,
    floor: &Floor,
    gates: &[(usize, Gate)],
    choice: &Choice,
) -> Result<Found, String> {
    let mut found = searched(task, floor, gates, choice)?;
    for (index, gate) in gates {
        let Some(beyond) = beyond_what_is_near(task, (*index, gate), &found.routes) else {
            continue;
        };
        let more = searched(task, floor, &[(*index, beyond)], choice)?;
        let exit = &task.case.job.ways_out[*index].id;
        let is_short = |route: &Route| breach_of(task, gates, route) > Verdict::Holds;
        found.routes.extend(more.routes.into_iter().filter(|route| !is_short(route)));
        let keeps = |route: &Route| route.exit == *exit && !is_short(route);
        if found.routes.iter().any(keeps) {
            found.routes.retain(|route| route.exit != *exit || !is_short(route));
        }
    }
    Ok(found)
}

/// The gate of a way out, from the spot nearest to the end of a way that is too near to something on to the end of the window; none
/// where every way keeps its distances, no spot does, or the spot is written.
fn beyond_what_is_near(
    task: &Task<'_>,
    (index, gate): (usize, &Gate),
    routes: &[Route],
) -> Option<Gate> {
    let case = task.case;
    let way = &case.job.ways_out[index];
    if place_known(&way.terminal_at).is_some() {
        return None;
    }
    let half_m = half_m(duct_through(case, way)?);
    let is_short = |middle: Point| breach(case, way, &terminal(middle, half_m)) > Verdict::Holds;
    let ends = routes.iter().filter(|route| route.exit == way.id).filter_map(end);
    let end = ends.map(|end| middle_outside(gate, end)).find(|middle| is_short(*middle))?;
    let spot = clear_spot(case, way, &outside(way)?, half_m, end)?;
    let mut beyond = *gate;
    for i in (0..3).filter(|i| *i != gate.outward.axis.index()) {
        let gone = spot[i] - end[i];
        // Farther on there may be a bay that a spot between two lies beside; where it did not move it stays, so that the
        // distances stay too.
        if gone <= TOUCH_M {
            beyond.window.max[i] = spot[i];
        }
        if gone >= -TOUCH_M {
            beyond.window.min[i] = spot[i];
        }
    }
    Some(beyond)
}

/// What the terminal at the end of a way amounts to by the distances that it does not keep.
pub(super) fn breach_at(
    task: &Task<'_>,
    gates: &[(usize, Gate)],
    exit: &str,
    end: Point,
) -> Verdict {
    let case = task.case;
    let of = |(index, gate): &(usize, Gate)| {
        let way = &case.job.ways_out[*index];
        if way.id != exit {
            return None;
        }
        let half_m = half_m(duct_through(case, way)?);
        Some(breach(case, way, &terminal(middle_outside(gate, end), half_m)))
    };
    gates.iter().find_map(of).unwrap_or(Verdict::Holds)
}

fn breach_of(task: &Task<'_>, gates: &[(usize, Gate)], route: &Route) -> Verdict {
    end(route).map_or(Verdict::Holds, |end| breach_at(task, gates, &route.exit, end))
}

fn end(route: &Route) -> Option<Point> {
    route.legs.last().map(|leg| leg.to)
}

fn searched(
    task: &Task<'_>,
    floor: &Floor,
    gates: &[(usize, Gate)],
    choice: &Choice,
) -> Result<Found, String> {
    let exits = exits(task, gates, choice);
    with_ways(task, floor, &exits, |ways, may_bore| {
        search_through(ways, &choice.duct, may_bore, KEPT).map_err(|wrong| wrong.to_string())
    })
}

/// Hands the ways and the rule on bores to a search.
pub(super) fn with_ways<T>(
    task: &Task<'_>,
    floor: &Floor,
    exits: &[Exit],
    then: impl FnOnce(&Ways<'_>, &MayBore<'_>) -> T,
) -> T {
    let rule = hole_rule(task.case);
    let may_bore = |member: &Member, along: f64, up: f64, opening: Opening| {
        let rule = rule.as_ref().map(|(rule, _)| rule);
        match judge_hole(&joist(member), &hole(opening, along, up), &[], rule) {
            Ok(answer) if answer.ruling == Ruling::Allowed => Bore::Allowed,
            Ok(answer) => Bore::Forbidden(refusal_key(&answer).to_owned()),
            Err(wrong) => Bore::Forbidden(wrong.to_string()),
        }
    };
    let start = task.start;
    let from: [f64; 3] =
        std::array::from_fn(|i| start.outlet[i] + start.collar_m * start.towards[i]);
    let towards = Heading::of(start.towards).unwrap_or(Heading { axis: Axis::X, ahead: true });
    let ways = Ways {
        from,
        towards,
        bays: &floor.bays,
        members: &floor.members,
        spaces: &floor.spaces,
        obstacles: &floor.obstacles,
        exits,
    };
    then(&ways, &may_bore)
}

pub(super) fn exits(task: &Task<'_>, gates: &[(usize, Gate)], choice: &Choice) -> Vec<Exit> {
    let exit = |(way, gate): &(usize, Gate)| {
        let way = &task.case.job.ways_out[*way];
        Exit {
            id: way.id.clone(),
            kind: gate.kind,
            window: gate.window,
            outward: gate.outward,
            depth_m: gate.depth_m,
            pressure_pa: ducts::terminal_pa(gate.kind, task.flow_m3_s, choice.inside_m),
            labour_h: way_out_h(way),
        }
    };
    gates.iter().map(exit).collect()
}

/// Work to pass a wall or roof and to set its terminal, h. Judgement within the ranges that published guides and owners' logs
/// tell: brick 1.5 to 3, roof cap in shingles 1 to 2, in metal 2 to 3, through a rim with its hood about 1.5.
fn way_out_h(way: &WayOut) -> f64 {
    let hard = way.layers.iter().any(|layer| {
        matches!(
            given::member(&layer.material),
            Some(
                LayerMaterial::Brick
                    | LayerMaterial::Block
                    | LayerMaterial::Concrete
                    | LayerMaterial::Stone
            )
        )
    });
    let base = match given::member(&way.kind) {
        Some(WayOutKind::Existing) => 0.75,
        Some(WayOutKind::Soffit) => 1.0,
        Some(WayOutKind::Roof) => match given::member(&way.cover) {
            Some(RoofCover::Metal | RoofCover::Tile | RoofCover::Slate) => 2.5,
            _ => 1.5,
        },
        _ => 1.5,
    };
    if hard && given::member(&way.kind) != Some(WayOutKind::Existing) { base + 1.5 } else { base }
}
