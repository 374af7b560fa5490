//! The search of the layout, asked for one duct: exits that may be taken, members that may be bored.

use dewpath_case::Case;
use dewpath_case::given;
use dewpath_case::inputs::Draw;
use dewpath_case::system::rooms_of_fan;
use dewpath_job::model::{LayerMaterial, RoofCover, Separation, WayOut, WayOutKind};
use dewpath_layout::bore::{Opening, Ruling, judge_hole};
use dewpath_layout::framing::Member;
use dewpath_layout::geometry::Axis;
use dewpath_layout::route::{Bore, Exit, Found, Heading, MayBore, Ways, search_through};
use dewpath_message::slot::Reference;
use dewpath_report::say::{RouteSeparation, RouteSeparationKey, Todo};
use dewpath_report::{Check, Finding, Message, Source, Verdict};

use super::bores::{hole, hole_rule, joist, refusal_key};
use super::ducts::{self, Choice};
use super::task::Task;
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

pub(super) fn routes(
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
