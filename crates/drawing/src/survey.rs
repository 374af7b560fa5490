//! What a job says of where things are, as plans, outlets and ways are drawn from it.

use dewpath_job::model::{
    Along, Framing, Job, NearKind, NearThing, Outward, Room, Terminal, WayOut, outline_known,
    place_known,
};
use dewpath_report::{ClearanceResult, Report, RouteResult, Triple};
use dewpath_units::{Category as _, Choice, Length};

use crate::sheet::outside::{Near, OutsideView};
use crate::sheet::plan::{Plan, PlanView};
use crate::sheet::section::{Fall, Jacket, SectionView, Stretch};
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
            view.add_route(route);
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
pub(crate) fn ways(voice: &Voice, job: Option<&Job>, report: &Report) -> Vec<SectionView> {
    let best = report.routes.iter().filter(|route| route.rank == 1);
    best.map(|route| {
        let run = job.and_then(|job| job.runs.iter().find(|run| run.from == route.fan));
        way(voice, route, run.map_or(Jacket::Unknown, Jacket::of_run))
    })
    .collect()
}

fn way(voice: &Voice, route: &RouteResult, jacket: Jacket) -> SectionView {
    let mut stretches = Vec::new();
    for (pair, leg) in route.line_m.windows(2).zip(&route.legs) {
        stretches.push(Stretch {
            part: leg.through.join(", "),
            what: voice.word("loss.piece"),
            is_duct: true,
            length_m: Some(Triple::exact(leg.length_m)),
            cut_m: Some(leg.straight_m),
            rise_m: Some(-leg.fall_m),
            fall: match leg.runs.as_str() {
                "runs-out" => Fall::Out,
                "runs-back" => Fall::Back,
                _ => Fall::Level,
            },
            diameter_m: Some(route.size_m),
            jacket,
            ..Stretch::default()
        });
        if let Some(elbow) = route.elbows.iter().find(|e| distance(e.at_m, pair[1]) < 1e-3) {
            let turn = dewpath_report::Figure::AngleDeg(Triple::exact(elbow.turn_deg));
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
        bores: bores(route),
        seen: None,
        is_proposed: true,
    }
}

/// Members that a way goes through, and how far along it.
fn bores(route: &RouteResult) -> Vec<(f64, String)> {
    let along = |at: [f64; 3]| {
        let mut before = 0.0;
        for pair in route.line_m.windows(2) {
            let [from, to] = [pair[0], pair[1]];
            let (first, second) = (distance(from, at), distance(at, to));
            if (first + second - distance(from, to)).abs() < 1e-3 {
                return Some(before + first);
            }
            before += distance(from, to);
        }
        None
    };
    let bored = route.bores.iter();
    bored.filter_map(|bore| Some((along(bore.at_m?)?, bore.member.clone()))).collect()
}

fn distance(a: [f64; 3], b: [f64; 3]) -> f64 {
    let square = |i: usize| (a[i] - b[i]) * (a[i] - b[i]);
    (square(0) + square(1) + square(2)).sqrt()
}

/// How many duct diameters an outlet is wide: what distances at outlets are worked out with.
const OUTLET_DIAMETERS: f64 = 1.5;
/// What is no farther than this from the plane of the wall lies on it, m.
const ON_WALL_M: f64 = 0.05;

/// Outlets of a job, with what the report and the job say of what is near them.
pub(crate) fn outlets(voice: &Voice, job: Option<&Job>, report: &Report) -> Vec<OutsideView> {
    let mut ids: Vec<&str> = Vec::new();
    for clearance in &report.clearances {
        if !ids.contains(&clearance.at.as_str()) {
            ids.push(&clearance.at);
        }
    }
    let mut views: Vec<OutsideView> =
        ids.into_iter().map(|id| outlet(voice, job, report, id)).collect();
    // A terminal of which only distances were written.
    let ways = job.map(|job| job.ways_out.as_slice()).unwrap_or_default();
    let terminals = job.map(|job| job.terminals.as_slice()).unwrap_or_default();
    let alone =
        terminals.iter().filter(|t| !ways.iter().any(|w| w.terminal.as_ref() == Some(&t.id)));
    views.extend(alone.map(|terminal| OutsideView {
        outlet: terminal.id.clone(),
        above_ground_m: above_grade(terminal),
        ..OutsideView::default()
    }));
    views
}

fn above_grade(terminal: &Terminal) -> Option<f64> {
    terminal.clear.above_grade.as_ref()?.value.likely().map(Length::m)
}

fn outlet(voice: &Voice, job: Option<&Job>, report: &Report, id: &str) -> OutsideView {
    let way = job.and_then(|job| {
        job.ways_out.iter().find(|w| w.id == id || w.terminal.as_deref() == Some(id))
    });
    let mine: Vec<&ClearanceResult> = report.clearances.iter().filter(|c| c.at == id).collect();
    let hole = report.penetrations.iter().find(|hole| hole.at == id);
    let size_m = hole.map(|hole| OUTLET_DIAMETERS * hole.duct_m);
    let face = way.and_then(|way| Face::of(way, report));
    let near = mine.iter().map(|clearance| near(voice, clearance, way, face.as_ref())).collect();
    let edge = size_m.map_or(0.0, |size| 0.5 * size);
    // Ground and snow are levels: how far below the outlet they are needs no place along the wall.
    let below = |kind: NearKind| {
        let top = face.as_ref()?.middle[2] - edge;
        let things = way?.near.iter().filter(|thing| {
            thing.kind.as_ref().and_then(|k| k.value.clone().known()) == Some(kind)
        });
        let tops = things.filter_map(|thing| {
            let (at, size) = (place_known(&thing.at)?, place_known(&thing.size)?);
            Some(at[2].m() + size[2].m())
        });
        tops.max_by(f64::total_cmp).map(|z| top - z)
    };
    let written = || {
        let terminal = way?.terminal.as_ref()?;
        above_grade(job?.terminals.iter().find(|t| t.id == *terminal)?)
    };
    OutsideView {
        outlet: id.to_owned(),
        size_m,
        near,
        above_ground_m: below(NearKind::Grade).or_else(written),
        above_snow_m: below(NearKind::SnowLine),
        is_anywhere: way.is_some() && !report.routes.iter().any(|route| route.way_out == id),
    }
}

/// A wall as one sees it who stands outside and looks at it.
struct Face {
    /// Middle of the outlet in the frame of the dwelling, m.
    middle: [f64; 3],
    /// The axis along the wall, and whether it goes to the right.
    along: (usize, bool),
    /// The axis across the wall.
    across: usize,
}

impl Face {
    /// None for a roof, and where nobody knows where the outlet is.
    fn of(way: &WayOut, report: &Report) -> Option<Self> {
        let (across, along) = match way.facing.as_ref()?.value.clone().known()? {
            Outward::PlusX => (0, (1, true)),
            Outward::MinusX => (0, (1, false)),
            Outward::PlusY => (1, (0, false)),
            Outward::MinusY => (1, (0, true)),
            Outward::Up | Outward::Down => return None,
        };
        let route = report.routes.iter().find(|route| route.way_out == way.id)?;
        let mut middle = *route.line_m.last()?;
        // The outlet stands on the face of the wall, where distances count from.
        middle[across] = place_known(&way.at)?[across].m();
        Some(Self { middle, along, across })
    }

    /// Where a thing lies on the wall; none where it stands away from it.
    fn place(&self, thing: &NearThing) -> Option<[[f64; 2]; 2]> {
        let (at, size) = (place_known(&thing.at)?, place_known(&thing.size)?);
        let from = [0, 1, 2].map(|i| at[i].m() - self.middle[i]);
        let to = [0, 1, 2].map(|i| from[i] + size[i].m());
        let off = from[self.across].max(-to[self.across]).max(0.0);
        let (axis, to_right) = self.along;
        let [left, right] =
            if to_right { [from[axis], to[axis]] } else { [-to[axis], -from[axis]] };
        (off <= ON_WALL_M).then_some([[left, from[2]], [right, to[2]]])
    }
}

fn near(
    voice: &Voice,
    clearance: &ClearanceResult,
    way: Option<&WayOut>,
    face: Option<&Face>,
) -> Near {
    let thing = way.and_then(|way| way.near.iter().find(|near| near.id == clearance.near));
    let known = thing.and_then(|thing| thing.kind.as_ref()?.value.clone().known());
    let kind = known.map_or_else(|| voice.word(&clearance.kind), |kind| kind.word().to_owned());
    let named = clearance.near.is_empty() || clearance.near == kind;
    // Levels are drawn from side to side, and a property line lies on the ground.
    let is_level = matches!(
        known,
        Some(NearKind::Grade | NearKind::SnowLine | NearKind::PropertyLine | NearKind::Walkway)
    );
    Near {
        what: if named { kind } else { format!("{kind} {}", clearance.near) },
        distance_m: clearance.distance_m,
        least_m: clearance.least_m,
        verdict: clearance.verdict,
        is_level: matches!(known, Some(NearKind::Grade | NearKind::SnowLine)),
        on_wall_m: face
            .zip(thing)
            .filter(|_| !is_level)
            .and_then(|(face, thing)| face.place(thing)),
    }
}
