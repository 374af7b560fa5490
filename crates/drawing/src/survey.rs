//! What a job says of where things are, as plans, outlets and ways are drawn from it.

use dewpath_engine::report::{ClearanceResult, Report, RouteResult, Triple};
use dewpath_job::model::{
    Along, Framing, Job, NearThing, Outward, Room, WayOut, outline_known, place_known,
};
use dewpath_units::{Category as _, Choice, Length};

use crate::sheet::outside::{Near, OutsideView};
use crate::sheet::plan::{Plan, PlanView};
use crate::sheet::section::{SectionView, Stretch};
use crate::voice::Voice;

/// Most members of one zone that are drawn; more than that is no ceiling.
const MOST_MEMBERS: usize = 300;

/// Plans of the rooms whose outline is known, with what the report places in them.
pub(crate) fn plans(job: &Job, report: &Report) -> Vec<PlanView> {
    job.rooms.iter().filter_map(|room| plan(job, room, report)).collect()
}

fn plan(job: &Job, room: &Room, report: &Report) -> Option<PlanView> {
    let polygon = outline(room)?;
    let mut view = PlanView {
        id: room.id.clone(),
        room: room.name.clone().unwrap_or_else(|| room.id.clone()),
        polygon,
        ..PlanView::default()
    };
    let inside = bounds(&view.polygon)?;
    let level = |lengths: [Length; 3]| lengths.map(Length::m);
    let box_of = |at: &Option<_>, size: &Option<_>| -> Option<Plan> {
        let (at, size) = (level(place_known(at)?), level(place_known(size)?));
        Some([[at[0], at[1]], [at[0] + size[0], at[1] + size[1]]])
    };
    for zone in &job.framing {
        view.members.extend(members(zone).into_iter().filter(|(_, body)| meet(body, &inside)));
    }
    for obstacle in &job.obstacles {
        if let Some(body) = box_of(&obstacle.at, &obstacle.size).filter(|body| meet(body, &inside))
        {
            view.obstacles.push((obstacle.id.clone(), body));
        }
    }
    let fans: Vec<&str> = job
        .fans
        .iter()
        .filter(|fan| fan.room.as_ref() == Some(&room.id))
        .map(|fan| fan.id.as_str())
        .collect();
    for fan in &fans {
        // The place that is written goes before the one that is proposed.
        let of_fan = report.placements.iter().filter(|placement| placement.fan == *fan);
        if let Some(placement) = of_fan.min_by_key(|placement| placement.rank) {
            view.add_placement(placement);
        }
    }
    for route in &report.routes {
        if route.rank == 1 && fans.contains(&route.fan.as_str()) {
            let through = report.penetrations.iter().find(|hole| hole.at == route.way_out);
            view.add_route(route, through.map(|hole| hole.duct_m));
        }
    }
    for way in &job.ways_out {
        let taken = view.exits.iter().any(|(name, _)| *name == way.id);
        if let Some([a, b]) = box_of(&way.at, &way.size).filter(|_| !taken) {
            view.exits.push((way.id.clone(), [0.5 * (a[0] + b[0]), 0.5 * (a[1] + b[1])]));
        }
    }
    Some(view)
}

/// Corners of a room: as written, or of the rectangle it is.
fn outline(room: &Room) -> Option<Vec<[f64; 2]>> {
    if let Some(corners) = outline_known(&room.plan.outline) {
        return (corners.len() > 2)
            .then(|| corners.iter().map(|corner| corner.map(Length::m)).collect());
    }
    let [x, y] = place_known(&room.plan.at)?.map(Length::m);
    let length = room.length.as_ref()?.value.likely()?.m();
    let width = room.width.as_ref()?.value.likely()?.m();
    let along_y = matches!(
        room.plan.length_along.as_ref().map(|given| &given.value),
        Some(Choice::Known(Along::Y))
    );
    let [dx, dy] = if along_y { [width, length] } else { [length, width] };
    Some(vec![[x, y], [x + dx, y], [x + dx, y + dy], [x, y + dy]])
}

fn bounds(polygon: &[[f64; 2]]) -> Option<Plan> {
    let rect = crate::scene::Rect::round(polygon.iter().copied())?;
    Some([rect.min, rect.max])
}

fn meet(one: &Plan, other: &Plan) -> bool {
    (0..2).all(|i| one[0][i] < other[1][i] && other[0][i] < one[1][i])
}

/// Members of a zone, by the name of the zone and their number; none where the zone is not known well enough.
fn members(zone: &Framing) -> Vec<(String, Plan)> {
    let laid = || -> Option<Vec<(String, Plan)>> {
        let at = place_known(&zone.at)?.map(Length::m);
        let extent = place_known(&zone.extent)?.map(Length::m);
        let width = zone.actual_size()?[0].m();
        let spacing = zone.spacing.as_ref()?.value.likely()?.m();
        let first = zone.first.as_ref()?.value.likely()?.m();
        let along = zone.direction.as_ref()?.value.clone().known()?;
        let (run, across) = if along == Along::X { (0, 1) } else { (1, 0) };
        if spacing <= 0.0 || !spacing.is_finite() || !extent[across].is_finite() {
            return None;
        }
        let count = (((extent[across] - first) / spacing).floor().max(-1.0) + 1.0) as usize;
        let member = |k: usize| {
            let centre = at[across] + first + k as f64 * spacing;
            let (mut min, mut max) = (at, at);
            max[run] += extent[run];
            min[across] = centre - 0.5 * width;
            max[across] = centre + 0.5 * width;
            (format!("{} {}", zone.id, k + 1), [min, max])
        };
        Some((0..count.min(MOST_MEMBERS)).map(member).collect())
    };
    laid().unwrap_or_default()
}

/// The recommended ways outdoors, drawn out straight.
pub(crate) fn ways(voice: Voice, report: &Report) -> Vec<SectionView> {
    report.routes.iter().filter(|route| route.rank == 1).map(|route| way(voice, route)).collect()
}

fn way(voice: Voice, route: &RouteResult) -> SectionView {
    let mut stretches = Vec::new();
    for (place, pair) in route.line_m.windows(2).enumerate() {
        let length = distance(pair[0], pair[1]);
        stretches.push(Stretch {
            part: route.through.get(place).cloned().unwrap_or_default(),
            what: voice.word("loss.piece"),
            is_duct: true,
            length_m: Some(Triple::exact(length)),
            ..Stretch::default()
        });
        if let Some(elbow) = route.elbows.iter().find(|e| distance(e.at_m, pair[1]) < 1e-3) {
            let turn = dewpath_engine::report::Figure::AngleDeg(Triple::exact(elbow.turn_deg));
            stretches.push(Stretch {
                what: format!("{} {}", voice.word("loss.elbow"), voice.likely(turn)),
                ..Stretch::default()
            });
        }
    }
    SectionView {
        run: format!("{} - {}", route.fan, route.way_out),
        from: route.fan.clone(),
        to: route.way_out.clone(),
        to_outdoors: true,
        stretches,
        supports_m: route.supports_m.clone(),
        fall_m: Some(route.fall_m),
        bores: Vec::new(),
        seen: None,
    }
}

fn distance(a: [f64; 3], b: [f64; 3]) -> f64 {
    let square = |i: usize| (a[i] - b[i]) * (a[i] - b[i]);
    (square(0) + square(1) + square(2)).sqrt()
}

/// Outlets of a report, with the directions that the job gives.
pub(crate) fn outlets(voice: Voice, job: Option<&Job>, report: &Report) -> Vec<OutsideView> {
    let mut ids: Vec<&str> = Vec::new();
    for clearance in &report.clearances {
        if !ids.contains(&clearance.at.as_str()) {
            ids.push(&clearance.at);
        }
    }
    ids.into_iter()
        .map(|id| {
            let way = job.and_then(|job| {
                job.ways_out.iter().find(|w| w.id == id || w.terminal.as_deref() == Some(id))
            });
            let mine: Vec<&ClearanceResult> =
                report.clearances.iter().filter(|c| c.at == id).collect();
            let near = mine.iter().map(|clearance| near(voice, clearance, way)).collect();
            OutsideView { outlet: id.to_owned(), near, above_ground_m: None }
        })
        .collect()
}

fn near(voice: Voice, clearance: &ClearanceResult, way: Option<&WayOut>) -> Near {
    let thing = way.and_then(|way| way.near.iter().find(|near| near.id == clearance.near));
    let kind = thing
        .and_then(|thing| thing.kind.as_ref()?.value.clone().known())
        .map_or_else(|| voice.word(&clearance.kind), |kind| kind.word().to_owned());
    let named = clearance.near.is_empty() || clearance.near == kind;
    Near {
        what: if named { kind } else { format!("{kind} {}", clearance.near) },
        distance_m: clearance.distance_m,
        least_m: clearance.least_m,
        verdict: clearance.verdict,
        direction_deg: way.zip(thing).and_then(|(way, thing)| direction(way, thing)),
    }
}

/// Direction from the middle of a way out to a thing, as one sees it who stands outside and looks at the wall.
fn direction(way: &WayOut, thing: &NearThing) -> Option<f64> {
    let middle = |at: &_, size: &_| -> Option<[f64; 3]> {
        let (at, size) = (place_known(at)?, place_known(size)?);
        Some([0, 1, 2].map(|i| at[i].m() + 0.5 * size[i].m()))
    };
    let (from, to) = (middle(&way.at, &way.size)?, middle(&thing.at, &thing.size)?);
    let step = [0, 1, 2].map(|i| to[i] - from[i]);
    let right = match way.facing.as_ref()?.value.clone().known()? {
        Outward::PlusX => step[1],
        Outward::MinusX => -step[1],
        Outward::PlusY => -step[0],
        Outward::MinusY => step[0],
        Outward::Up | Outward::Down => return None,
    };
    let angle = libm::atan2(step[2], right).to_degrees();
    (angle.is_finite() && (right != 0.0 || step[2] != 0.0)).then_some(angle.rem_euclid(360.0))
}
