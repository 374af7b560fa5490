//! Stage `frame`: what may be cut, the sheet of each hole through wall or roof, distances at the terminal.

use dewpath_job::model::{
    Layer as JobLayer, LayerMaterial, NearKind, NearThing, Section, Separation as JobSeparation,
    WayOut, WayOutKind, place_known,
};
use dewpath_layout::bore::{Hole, Opening};
use dewpath_layout::clearance::{Enough, Limit, Near, measure, nearest_clear};
use dewpath_layout::geometry::Block;
use dewpath_layout::penetration::{
    Action, Courses, CoverAfter, Crossing, Laps, Layer, Material, Separation, Step as SheetStep,
    on_courses, roof_hole, wall_sheet,
};
use dewpath_report::{
    Bore, ClearanceResult, Coursing, Figure, Finding, Message, Outlet, PatchText, Penetration,
    RouteResult, SetText, Source, Triple, Verdict,
};
use dewpath_rulebook::{Book, ClearOf};
use dewpath_units::Length;

use crate::checks::Look;
use crate::floor::{Floor, block, window};
use crate::given;
use crate::place::mm;
use crate::route::{bore, first_duct, hole_rule};

/// Clear gap round a sleeve, m: 1/8 in, so that a 4 in sleeve takes a hole of 4-1/4 in (trade practice).
const GAP_M: f64 = 0.003175;
/// Fall across the wall, m a metre: 1/4 in. a foot. Common practice, no source.
const FALL: f64 = 0.0208;
/// Sleeve past the inner and the outer face, m. Common practice, no source.
const PAST_M: [f64; 2] = [0.025, 0.012];
/// A fall of less than half of 1/16 in. can't be measured on site.
const LEAST_FALL_M: f64 = 0.000_79;
/// Share of the gap that foam fills. Judgement.
const FILLED: f64 = 0.8;
/// Flashing past the hole: sides, up, down, m. The flashing's maker says it; judgement.
const LAPS: Laps = Laps { side_m: 0.15, up_m: 0.20, down_m: 0.10 };
/// A terminal is a box of so many duct diameters across. Judgement.
const TERMINAL_DIAMETERS: f64 = 1.5;

/// What the stage found.
#[derive(Debug, Default)]
pub(crate) struct Stage {
    /// One for each zone of members: whether the run's duct could cross there.
    pub bores: Vec<Bore>,
    /// Sheets.
    pub penetrations: Vec<Penetration>,
    /// Distances.
    pub clearances: Vec<ClearanceResult>,
    /// Findings.
    pub findings: Vec<Finding>,
}

/// Judges members, walls and surroundings of the ways out.
pub(crate) fn frame(look: &Look<'_>, floor: &Floor, routes: &[RouteResult]) -> Stage {
    let mut stage = Stage::default();
    members(look, floor, &mut stage);
    for way in &look.job.ways_out {
        if let Some(duct_m) = duct_through(look, way) {
            penetration(way, duct_m, &mut stage);
            clearances(look, floor, way, duct_m, routes, &mut stage);
        }
    }
    stage
}

/// Outside diameter of what goes through a way out: the duct of the run that ends there, else of the first run.
fn duct_through(look: &Look<'_>, way: &WayOut) -> Option<f64> {
    let job = look.job;
    let ends_there = job.runs.iter().find(|run| way.terminal.as_ref() == Some(&run.to));
    let run = ends_there.or(job.runs.first())?;
    match given::member(&first_duct(run)?.size) {
        Some(Section::Round(d)) => Some(d.m() + 0.002),
        _ => None,
    }
}

/// Whether the duct of the first run could cross the members of each zone in the middle of their depth and span.
fn members(look: &Look<'_>, floor: &Floor, stage: &mut Stage) {
    let Some(run) = look.job.runs.first() else { return };
    let size = first_duct(run).and_then(|duct| given::member(&duct.size));
    let Some(size) = size else { return };
    let (opening, diameter_m) = opening(size);
    let rule = hole_rule(look);
    for (_, zone) in &floor.zones {
        let Some(member) = floor.members.iter().find(|member| is_of(&member.id, &zone.id)) else {
            continue;
        };
        let middle = Hole {
            id: "bore".to_owned(),
            opening,
            along_m: Some(0.5 * (member.span[1] - member.span[0])),
            up_m: Some(0.5 * member.depth_m()),
        };
        let Some(judged) = bore(member, &middle, diameter_m, rule.as_ref()) else { continue };
        stage.findings.push(crossing(&zone.id, &judged));
        stage.bores.push(judged);
    }
}

/// Hole for a duct, with its clearance, and the longest side of it. A flat duct lies flat.
fn opening(size: Section) -> (Opening, f64) {
    match size {
        Section::Round(d) => {
            let diameter_m = d.m() + 2.0 * GAP_M;
            (Opening::Round { diameter_m }, diameter_m)
        }
        Section::Rectangular(a, b) | Section::Oval(a, b) => {
            let [a, b] = [a, b].map(|side| side.m() + 2.0 * GAP_M);
            let (width_m, height_m) = (a.max(b), a.min(b));
            (Opening::Rectangle { width_m, height_m }, width_m)
        }
    }
}

/// Whether a member is one of a zone: it is named by the zone and its number.
fn is_of(member: &str, zone: &str) -> bool {
    let number = member.strip_prefix(zone).and_then(|rest| rest.strip_prefix(' '));
    number.is_some_and(|number| number.bytes().all(|digit| digit.is_ascii_digit()))
}

fn diameter(metres: f64) -> Figure {
    Figure::DiameterMm(Triple::exact(1000.0 * metres))
}

fn distance(metres: f64) -> Figure {
    Figure::LengthM(Triple::exact(metres))
}

fn crossing(zone: &str, judged: &Bore) -> Finding {
    let key = match (judged.verdict, judged.allowed_m) {
        (Verdict::Holds, _) => "frame.bore.allowed",
        (_, Some(allowed)) if allowed <= 0.0 => "frame.bore.none",
        (Verdict::Fails, Some(_)) => "frame.bore.smaller",
        (Verdict::Unknown, Some(_)) => "frame.bore.memory",
        _ if judged.kind == "member-truss" => "frame.bore.designer",
        _ if judged.source.standing == dewpath_report::Standing::Judgement
            && judged.kind.ends_with("sawn") =>
        {
            "frame.bore.no-rule"
        }
        _ => "frame.bore.chart",
    };
    let mut message = Message::new(key)
        .reference("zone", zone)
        .word("kind", &judged.kind)
        .figure("hole", diameter(judged.diameter_m));
    if let Some(allowed) = judged.allowed_m {
        message = message.figure("allowed", diameter(allowed));
    }
    // Nothing is cut yet: what may not be bored is a caution to go another way, and not a broken rule.
    let verdict = match judged.verdict {
        Verdict::Holds => Verdict::Holds,
        _ => Verdict::Caution,
    };
    let mut made = Finding::new("frame.bore", zone, verdict, message, judged.source.clone())
        .figure(diameter(judged.diameter_m));
    if let Some(allowed) = judged.allowed_m {
        made = made.limit(diameter(allowed));
    }
    if verdict == Verdict::Caution {
        made = made.todo(Message::new("todo.run-with-members"));
    }
    made
}

const fn material(layer: LayerMaterial) -> Material {
    match layer {
        LayerMaterial::Drywall | LayerMaterial::Plaster => Material::Lining,
        LayerMaterial::Tile => Material::Tile,
        LayerMaterial::Studs => Material::SoftInsulation,
        LayerMaterial::Timber => Material::Rim,
        LayerMaterial::Sheathing => Material::Timber,
        LayerMaterial::RigidInsulation => Material::RigidInsulation,
        LayerMaterial::Membrane => Material::Membrane,
        LayerMaterial::AirGap => Material::Cavity,
        LayerMaterial::Brick
        | LayerMaterial::Block
        | LayerMaterial::Concrete
        | LayerMaterial::Stone => Material::Masonry,
        LayerMaterial::Stucco => Material::Render,
        LayerMaterial::WoodSiding | LayerMaterial::FibreCement | LayerMaterial::Vinyl => {
            Material::Siding
        }
        LayerMaterial::Metal => Material::Metal,
        LayerMaterial::RoofCover => Material::RoofCover,
        LayerMaterial::Other => Material::Unknown,
    }
}

fn layer(layer: &JobLayer) -> Layer {
    Layer {
        material: given::member(&layer.material).map_or(Material::Unknown, material),
        thickness_m: given::likely(&layer.thickness).map(Length::m),
    }
}

fn penetration(way: &WayOut, duct_m: f64, stage: &mut Stage) {
    let layers: Vec<Layer> = way.layers.iter().map(layer).collect();
    if layers.is_empty() {
        let message = Message::new("penetration.layers-unknown").reference("way", &way.id);
        let source = Source::judgement("the layers of the wall tell tools, order and length");
        stage.findings.push(
            Finding::new("penetration.sheet", &way.id, Verdict::Unknown, message, source).todo(
                Message::new("todo.write").reference("at", format!("way_out.{}.layers", way.id)),
            ),
        );
        return;
    }
    let crossing = Crossing {
        outside_m: duct_m,
        clearance_m: GAP_M,
        fall_ratio: FALL,
        past_m: PAST_M,
        fill_ratio: FILLED,
        separation: match given::member(&way.separation) {
            Some(JobSeparation::None) => Some(Separation::None),
            Some(JobSeparation::Garage) => Some(Separation::Garage),
            Some(JobSeparation::Dwelling | JobSeparation::Townhouse | JobSeparation::Rated) => {
                Some(Separation::Rated)
            }
            None => None,
        },
    };
    let is_roof = given::member(&way.kind) == Some(WayOutKind::Roof);
    let made = if is_roof { roof(way, &layers, &crossing) } else { wall(way, &layers, &crossing) };
    match made {
        Ok(sheet) => {
            let key = match (is_roof, sheet.fall_m < LEAST_FALL_M) {
                (true, _) => "penetration.sheet.roof",
                (false, true) => "penetration.sheet.thin",
                (false, false) => "penetration.sheet",
            };
            let message = Message::new(key)
                .reference("way", &way.id)
                .figure("hole", diameter(sheet.diameter_m))
                .figure("duct", diameter(sheet.duct_m))
                .figure("fall", diameter(sheet.fall_m));
            let source = Source::practice();
            let mut finding =
                Finding::new("penetration.sheet", &way.id, to_be_cut(way), message, source)
                    .figure(diameter(sheet.diameter_m));
            finding.todo.clone_from(&sheet.steps);
            stage.findings.push(finding);
            stage.penetrations.push(sheet);
        }
        Err(told) => {
            let message = Message::new("penetration.bad").name("told", told);
            let source = Source::judgement("geometry of what is written");
            stage.findings.push(Finding::new(
                "penetration.sheet",
                &way.id,
                Verdict::Unknown,
                message,
                source,
            ));
        }
    }
}

/// What keeps something apart is not cut before that is settled; a sheet for it is no leave to cut.
fn to_be_cut(way: &WayOut) -> Verdict {
    match given::member(&way.separation) {
        Some(JobSeparation::None) | None => Verdict::Holds,
        Some(
            JobSeparation::Garage
            | JobSeparation::Dwelling
            | JobSeparation::Townhouse
            | JobSeparation::Rated,
        ) => Verdict::Caution,
    }
}

fn wall(way: &WayOut, layers: &[Layer], crossing: &Crossing) -> Result<Penetration, String> {
    let sheet = wall_sheet(&way.id, layers, crossing).map_err(|wrong| wrong.to_string())?;
    Ok(Penetration {
        at: way.id.clone(),
        diameter_m: sheet.hole_m,
        duct_m: crossing.outside_m,
        thickness_m: sheet.thickness_m,
        fall_m: sheet.fall_m.unwrap_or(0.0),
        courses: coursing(way, sheet.hole_m),
        foam_m3: sheet.foam_m3.unwrap_or(0.0),
        steps: steps(&sheet.steps, &sheet.cover_after),
    })
}

fn roof(way: &WayOut, layers: &[Layer], crossing: &Crossing) -> Result<Penetration, String> {
    let pitch = given::likely(&way.slope).map(|angle| libm::tan(angle.rad()));
    let pitch = pitch.or_else(|| given::likely(&way.pitch).map(dewpath_units::Ratio::ratio));
    let pitch = pitch.ok_or_else(|| format!("way_out.{}.slope", way.id))?;
    let hole = roof_hole(&way.id, layers, crossing, pitch, &LAPS).map_err(|w| w.to_string())?;
    let thickness_m = layers.iter().map(|layer| layer.thickness_m).sum();
    Ok(Penetration {
        at: way.id.clone(),
        diameter_m: hole.across_m,
        duct_m: crossing.outside_m,
        thickness_m,
        fall_m: 0.0,
        courses: None,
        foam_m3: 0.0,
        steps: steps(&hole.steps, &hole.cover_after),
    })
}

/// The centre of the hole on the course lines nearest to the middle of the window; none without masonry or its courses.
fn coursing(way: &WayOut, hole_m: f64) -> Option<Coursing> {
    let course = given::likely(&way.coursing.course)?.m();
    let joint = given::likely(&way.coursing.joint)?.m();
    let bed = given::likely(&way.coursing.bed)?.m();
    let corner = place_known(&way.at)?;
    let size = place_known(&way.size)?;
    // The job counts from the middle of a bed joint, the courses from the brick that lies on it.
    let wanted = corner[2].m() + 0.5 * size[2].m() - bed - 0.5 * joint;
    let courses = Courses { brick_m: course - joint, joint_m: joint };
    let [nearer, _] = on_courses(&way.id, &courses, wanted, hole_m).ok()?;
    Some(Coursing {
        course_m: course,
        below_count: f64::from(nearer.full_courses),
        centre_m: nearer.centre_m + 0.5 * joint,
        offset_m: nearer.offset_m,
    })
}

fn steps(steps: &[SheetStep], after: &[CoverAfter]) -> Vec<Message> {
    steps.iter().map(step).chain(after.iter().map(|after| cover(*after))).collect()
}

fn step(step: &SheetStep) -> Message {
    let message = Message::new(match step.action {
        Action::StopForFire => "hole.stop-for-fire",
        Action::LookAtLayer => "hole.look-at-layer",
        Action::FindServices => "hole.find-services",
        Action::AskRim => "hole.ask-rim",
        Action::MarkCentre => "hole.mark-centre",
        Action::PilotFromInside => "hole.pilot",
        Action::CheckPilot => "hole.check-pilot",
        Action::ControlDust => "hole.dust",
        Action::CutFromOutside => "hole.cut-outside",
        Action::CoreFromOutside => "hole.core",
        Action::CutFromInside => "hole.cut-inside",
        Action::OpenMembrane => "hole.membrane",
        Action::PartInsulation => "hole.part-insulation",
        Action::BridgeCavity => "hole.cavity",
        Action::LiftRoofCover => "hole.lift-cover",
        Action::SetSleeve => "hole.sleeve",
        Action::Flash => "hole.flash",
        Action::FastenTerminal => "hole.fasten",
        Action::SealGap => "hole.seal-gap",
        Action::SealInside => "hole.seal-inside",
        Action::Photograph => "hole.photograph",
        Action::GuardRoof => "hole.guard-roof",
    });
    let message = match step.diameter_m {
        Some(d) => message.figure("diameter", diameter(d)),
        None => message,
    };
    // One pass is no number worth telling.
    match step.passes.filter(|passes| *passes > 1) {
        Some(passes) => message.figure("passes", Figure::Count(Triple::exact(f64::from(passes)))),
        None => message,
    }
}

fn cover(after: CoverAfter) -> Message {
    Message::new(match after {
        CoverAfter::FoamCut => "cover.foam-cut",
        CoverAfter::FirePapers => "cover.fire-papers",
        CoverAfter::Seen => "cover.seen",
        CoverAfter::Photographed => "cover.photographed",
        CoverAfter::FlowSeen => "cover.flow-seen",
    })
}

/// Where the terminal is: where the best way meets this wall, else anywhere in its window.
fn terminal_at(
    floor: &Floor,
    look: &Look<'_>,
    way: &WayOut,
    duct_m: f64,
    routes: &[RouteResult],
) -> Option<Block> {
    let half = 0.5 * TERMINAL_DIAMETERS * duct_m;
    let routed = routes.iter().find(|route| route.way_out == way.id);
    if let Some(end) = routed.and_then(|route| route.line_m.last()) {
        let index = look.job.ways_out.iter().position(|known| known.id == way.id)?;
        let (_, gate) = floor.ways_out.iter().find(|(known, _)| *known == index)?;
        let axis = gate.outward.axis.index();
        let mut middle = *end;
        let out = gate.depth_m;
        middle[axis] += if gate.outward.ahead { out } else { -out };
        return Some(Block { min: middle.map(|v| v - half), max: middle.map(|v| v + half) });
    }
    let open = block(place_known(&way.at)?.map(Length::m), place_known(&way.size)?.map(Length::m));
    let spot = window(way, open);
    // A spot that is settled along the wall is as wide there as the terminal.
    let settled = |i: usize| open.max[i] > open.min[i] && spot.max[i] <= spot.min[i];
    let half = [0, 1, 2].map(|i| if settled(i) { half } else { 0.0 });
    Some(Block {
        min: [0, 1, 2].map(|i| spot.min[i] - half[i]),
        max: [0, 1, 2].map(|i| (spot.max[i] + half[i]).max(spot.min[i] + 1e-3)),
    })
}

fn clearances(
    look: &Look<'_>,
    floor: &Floor,
    way: &WayOut,
    duct_m: f64,
    routes: &[RouteResult],
    stage: &mut Stage,
) {
    let Some(terminal) = terminal_at(floor, look, way, duct_m, routes) else { return };
    let is_taken = is_taken(look, way, routes);
    for near in &way.near {
        if let Some(result) = clearance(look, way, &terminal, near) {
            stage.findings.push(told(way, &result, is_taken));
            stage.clearances.push(result);
        }
    }
}

/// Whether the air of the job leaves here: by a run as written, or by the way that is recommended for a fan.
fn is_taken(look: &Look<'_>, way: &WayOut, routes: &[RouteResult]) -> bool {
    let written = look.job.runs.iter().any(|run| way.terminal.as_ref() == Some(&run.to));
    written || routes.iter().any(|route| route.rank == 1 && route.way_out == way.id)
}

/// What is near, as a shape.
fn thing(near: &NearThing) -> Option<(NearKind, Near)> {
    let kind = given::member(&near.kind)?;
    let corner = place_known(&near.at)?.map(Length::m);
    let size = place_known(&near.size).map_or([0.0; 3], |size| size.map(Length::m));
    let thing = if matches!(kind, NearKind::Grade | NearKind::SnowLine) {
        Near::Below { z_m: corner[2] + size[2] }
    } else {
        Near::Box(block(corner, size.map(|length| length.max(1e-3))))
    };
    Some((kind, thing))
}

fn clearance(
    look: &Look<'_>,
    way: &WayOut,
    terminal: &Block,
    near: &NearThing,
) -> Option<ClearanceResult> {
    let (kind, thing) = thing(near)?;
    let (limit, source) = limit(look, kind, near);
    let found = measure(&near.id, terminal, &thing, limit.as_ref()).ok()?;
    let verdict = match (found.enough, source.as_ref().map(|source| source.standing)) {
        (Enough::NoLimit, _) | (_, Some(dewpath_report::Standing::FromMemory)) => Verdict::Unknown,
        (Enough::Yes | Enough::Above, _) => Verdict::Holds,
        (Enough::No, _) => weight(look, kind),
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

/// The spot in the window of a way out nearest to a hand at which its terminal keeps every distance; see
/// [`dewpath_report::Outlet`].
pub(crate) fn outlet(
    look: &Look<'_>,
    way: &WayOut,
    hand: Option<[f64; 2]>,
    level_m: Option<f64>,
) -> Option<Outlet> {
    let open = block(place_known(&way.at)?.map(Length::m), place_known(&way.size)?.map(Length::m));
    let half = 0.5 * TERMINAL_DIAMETERS * duct_through(look, way)?;
    let settled = window(way, open).middle();
    // Where its height is not known it may be anywhere in the window.
    let level = level_m.filter(|level| level.is_finite());
    let high = if level.is_some() { half } else { half.max(0.5 * (open.max[2] - open.min[2])) };
    let half = [half, half, high];
    let [x, y] =
        hand.filter(|at| at.iter().all(|v| v.is_finite())).unwrap_or([settled[0], settled[1]]);
    let wish = [x, y, level.unwrap_or(settled[2])];
    let wish =
        [0, 1, 2].map(|i| if i < 2 { wish[i].max(open.min[i]).min(open.max[i]) } else { wish[i] });
    let limits: Vec<(Near, Limit)> = way
        .near
        .iter()
        .filter_map(|near| {
            let (kind, thing) = thing(near)?;
            Some((thing, limit(look, kind, near).0?))
        })
        .collect();
    let clear = nearest_clear(&way.id, &open, half, wish, &limits).ok()?;
    let judged = |at: [f64; 3]| -> Vec<ClearanceResult> {
        let terminal = Block {
            min: [0, 1, 2].map(|i| at[i] - half[i]),
            max: [0, 1, 2].map(|i| at[i] + half[i]),
        };
        way.near.iter().filter_map(|near| clearance(look, way, &terminal, near)).collect()
    };
    let short = judged(wish);
    let short = short.iter().filter(|c| matches!(c.verdict, Verdict::Fails | Verdict::Caution));
    let at_m = clear.unwrap_or(wish);
    Some(Outlet {
        way_out: way.id.clone(),
        is_clear: clear.is_some(),
        at_m,
        hand_m: wish,
        window_m: [open.min, open.max],
        clearances: judged(at_m),
        short: short.map(|result| told(way, result, true)).collect(),
        patch: PatchText {
            set: vec![SetText {
                at: format!("way_out.{}.terminal_at", way.id),
                value: format!("[\"{}\", \"{}\"]", mm(at_m[0]), mm(at_m[1])),
            }],
            remove: Vec::new(),
        },
    })
}

/// What too short a distance amounts to: a broken rule where the book in force asks for it, advice otherwise.
fn weight(look: &Look<'_>, kind: NearKind) -> Verdict {
    match kind {
        NearKind::Window | NearKind::Door | NearKind::Inlet => {
            look.weight(|book| book.clearance(ClearOf::Opening))
        }
        NearKind::Intake => look.weight(|book| book.clearance(ClearOf::MechanicalIntake)),
        NearKind::PropertyLine => look.weight(|book| book.clearance(ClearOf::PropertyLine)),
        NearKind::SoffitVent => look.weight(Book::soffit_vents_clear),
        NearKind::Grade => look.weight(Book::above_grade),
        NearKind::Meter | NearKind::Walkway | NearKind::SnowLine => Verdict::Caution,
    }
}

/// Least distance by the book; none where it says none.
fn limit(look: &Look<'_>, kind: NearKind, near: &NearThing) -> (Option<Limit>, Option<Source>) {
    let of = |from: ClearOf| {
        let ruled = look.ask(|book| book.clearance(from))?;
        let limit = Limit {
            least_m: ruled.value.distance.m(),
            free_above_m: ruled.value.waived_above.map(Length::m),
        };
        Some((limit, crate::source::ruled(&ruled)))
    };
    let plain = |ruled: dewpath_rulebook::Ruled<Length>| {
        let limit = Limit { least_m: ruled.value.m(), free_above_m: None };
        (limit, crate::source::ruled(&ruled))
    };
    let found = match kind {
        NearKind::Window | NearKind::Door if given::yes(&near.opens) == Some(false) => None,
        NearKind::Window | NearKind::Door | NearKind::Inlet => of(ClearOf::Opening),
        NearKind::Intake => of(ClearOf::MechanicalIntake),
        NearKind::PropertyLine => of(ClearOf::PropertyLine),
        NearKind::SoffitVent => look.ask(Book::soffit_vents_clear).map(plain),
        NearKind::Grade => look.ask(Book::above_grade).map(plain),
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

/// `is_taken`: the air leaves here; a way out that is only thought of breaks no rule yet.
fn told(way: &WayOut, result: &ClearanceResult, is_taken: bool) -> Finding {
    let key = match result.verdict {
        Verdict::Holds => "frame.clearance.holds",
        Verdict::Fails | Verdict::Caution => "frame.clearance.short",
        Verdict::Unknown => "frame.clearance.no-limit",
    };
    let mut message = Message::new(key)
        .reference("near", &result.near)
        .word("kind", &result.kind)
        .reference("way", &way.id)
        .figure("distance", distance(result.distance_m));
    if let Some(least) = result.least_m {
        message = message.figure("least", distance(least));
    }
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
    let made = Finding::new("frame.clearance", &subject, verdict, message, source)
        .figure(distance(result.distance_m));
    match result.least_m {
        Some(least) => made.limit(distance(least)),
        None => made,
    }
}
