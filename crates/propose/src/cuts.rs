//! Stage `cuts`: what may be cut, the sheet of each hole through wall or roof, distances at the terminal.

mod distances;

use dewpath_case::Case;
use dewpath_case::given;
use dewpath_job::model::{
    Layer as JobLayer, LayerMaterial, Section, Separation as JobSeparation, WayOut, WayOutKind,
    place_known,
};
use dewpath_layout::bore::{Hole, Opening};
use dewpath_layout::penetration::{
    Action, Courses, CoverAfter, Crossing, Laps, Layer, Material, Separation, Step as SheetStep,
    on_courses, roof_hole, wall_sheet,
};
use dewpath_message::slot::{Count, DiameterMm, Name, Reference, Word};
use dewpath_report::say::{
    Cover, FrameBore, FrameBoreIf, FrameBoreIfKey, FrameBoreKey, HoleStep, HoleStepKey,
    PenetrationBad, PenetrationLayersUnknown, PenetrationSheet, PenetrationSheetKey, Todo,
    TodoWrite,
};
use dewpath_report::{
    Bore, Check, ClearanceResult, Coursing, Finding, Message, Penetration, RouteResult, Source,
    Standing, Triple, Verdict,
};
use dewpath_units::Length;

use crate::clearance::{duct_through, first_duct};
use crate::floor::Floor;
use crate::route::{bore, hole_rule};
use distances::distances;

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
/// What the stage found.
#[derive(Debug, Default)]
pub struct Stage {
    /// One for each zone of members that the best ways cross; where no way is known, one for each zone.
    pub bores: Vec<Bore>,
    /// Sheets.
    pub penetrations: Vec<Penetration>,
    /// Distances.
    pub clearances: Vec<ClearanceResult>,
    /// Findings.
    pub findings: Vec<Finding>,
}

/// Judges members, walls and surroundings of the ways out.
pub fn cuts(case: &Case<'_>, floor: &Floor, routes: &[RouteResult]) -> Stage {
    let mut stage = Stage::default();
    members(case, floor, routes, &mut stage);
    for way in &case.job.ways_out {
        if let Some(duct_m) = duct_through(case, way) {
            penetration(way, duct_m, &mut stage);
            let found = distances(case, floor, way, duct_m, routes);
            stage.findings.extend(found.findings);
            stage.clearances.extend(found.clearances);
        }
    }
    stage
}

/// The worst hole in each zone of members that the best ways bore. Where no way is known, whether the duct of the first run could
/// cross at all.
fn members(case: &Case<'_>, floor: &Floor, routes: &[RouteResult], stage: &mut Stage) {
    if routes.is_empty() {
        supposed(case, floor, stage);
        return;
    }
    let bored: Vec<&Bore> =
        routes.iter().filter(|route| route.rank == 1).flat_map(|route| &route.bores).collect();
    for (_, zone) in &floor.zones {
        let of_zone = bored.iter().filter(|bore| is_of(&bore.member, &zone.id));
        let Some(worst) = of_zone.copied().max_by_key(|bore| bore.verdict) else { continue };
        stage.findings.push(crossing(&zone.id, worst));
        stage.bores.push(worst.clone());
    }
}

/// Whether the duct of the first run could cross the members of each zone in the middle of their depth and span, if it had to.
fn supposed(case: &Case<'_>, floor: &Floor, stage: &mut Stage) {
    let Some(run) = case.job.runs.first() else { return };
    let size = first_duct(run).and_then(|duct| given::member(&duct.size));
    let Some(size) = size else { return };
    let (opening, diameter_m) = opening(size);
    let rule = hole_rule(case);
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
        stage.findings.push(if_crossed(&zone.id, &judged));
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

fn diameter(metres: f64) -> DiameterMm {
    DiameterMm(Triple::exact(1000.0 * metres))
}

/// A hole that a way bores. The search bores nothing that the book forbids.
fn crossing(zone: &str, judged: &Bore) -> Finding {
    let key = match judged.verdict {
        Verdict::Holds => FrameBoreKey::Allowed,
        _ => FrameBoreKey::Memory,
    };
    let message = FrameBore {
        key,
        zone: Reference::new(zone),
        kind: Word::new(&judged.kind),
        hole: diameter(judged.diameter_m),
        allowed: judged.allowed_m.map(diameter),
    };
    bored(zone, judged, message)
}

/// A hole that a duct would need, if it had to cross.
fn if_crossed(zone: &str, judged: &Bore) -> Finding {
    let key = match (judged.verdict, judged.allowed_m) {
        (Verdict::Holds, _) => FrameBoreIfKey::Allowed,
        (_, Some(allowed)) if allowed <= 0.0 => FrameBoreIfKey::None,
        (Verdict::Fails, Some(_)) => FrameBoreIfKey::Smaller,
        (Verdict::Unknown, Some(_)) => FrameBoreIfKey::Memory,
        _ if judged.kind == "member-truss" => FrameBoreIfKey::Designer,
        _ if judged.source.standing == Standing::Judgement && judged.kind.ends_with("sawn") => {
            FrameBoreIfKey::NoRule
        }
        _ => FrameBoreIfKey::Chart,
    };
    let message = FrameBoreIf {
        key,
        zone: Reference::new(zone),
        kind: Word::new(&judged.kind),
        hole: diameter(judged.diameter_m),
        allowed: judged.allowed_m.map(diameter),
    };
    bored(zone, judged, message)
}

fn bored(zone: &str, judged: &Bore, message: impl Into<Message>) -> Finding {
    // Nothing is cut yet: what may not be bored is a caution to go another way, and not a broken rule.
    let verdict = match judged.verdict {
        Verdict::Holds => Verdict::Holds,
        _ => Verdict::Caution,
    };
    let made = Finding::new(Check::FrameBore, zone, verdict, message, judged.source.clone())
        .figure(diameter(judged.diameter_m));
    let made = match judged.allowed_m {
        Some(allowed) => made.limit(diameter(allowed)),
        None => made,
    };
    if verdict == Verdict::Caution { made.todo(Todo::RunWithMembers) } else { made }
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
        let message = Message::from(PenetrationLayersUnknown { way: Reference::new(&way.id) });
        let source = Source::judgement("the layers of the wall tell tools, order and length");
        stage.findings.push(
            Finding::new(Check::PenetrationSheet, &way.id, Verdict::Unknown, message, source)
                .todo(TodoWrite { at: Reference::new(format!("way_out.{}.layers", way.id)) }),
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
                (true, _) => PenetrationSheetKey::Roof,
                (false, true) => PenetrationSheetKey::Thin,
                (false, false) => PenetrationSheetKey::Plain,
            };
            let message = Message::from(PenetrationSheet {
                key,
                way: Reference::new(&way.id),
                hole: diameter(sheet.diameter_m),
                duct: diameter(sheet.duct_m),
                fall: diameter(sheet.fall_m),
            });
            let source = Source::practice();
            let mut finding =
                Finding::new(Check::PenetrationSheet, &way.id, to_be_cut(way), message, source)
                    .figure(diameter(sheet.diameter_m));
            finding.todo.clone_from(&sheet.steps);
            stage.findings.push(finding);
            stage.penetrations.push(sheet);
        }
        Err(told) => {
            let message = PenetrationBad { told: Name::new(told) };
            let source = Source::judgement("geometry of what is written");
            stage.findings.push(Finding::new(
                Check::PenetrationSheet,
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
    let key = match step.action {
        Action::StopForFire => HoleStepKey::StopForFire,
        Action::LookAtLayer => HoleStepKey::LookAtLayer,
        Action::FindServices => HoleStepKey::FindServices,
        Action::AskRim => HoleStepKey::AskRim,
        Action::MarkCentre => HoleStepKey::MarkCentre,
        Action::PilotFromInside => HoleStepKey::Pilot,
        Action::CheckPilot => HoleStepKey::CheckPilot,
        Action::ControlDust => HoleStepKey::Dust,
        Action::CutFromOutside => HoleStepKey::CutOutside,
        Action::CoreFromOutside => HoleStepKey::Core,
        Action::CutFromInside => HoleStepKey::CutInside,
        Action::OpenMembrane => HoleStepKey::Membrane,
        Action::PartInsulation => HoleStepKey::PartInsulation,
        Action::BridgeCavity => HoleStepKey::Cavity,
        Action::LiftRoofCover => HoleStepKey::LiftCover,
        Action::SetSleeve => HoleStepKey::Sleeve,
        Action::Flash => HoleStepKey::Flash,
        Action::FastenTerminal => HoleStepKey::Fasten,
        Action::SealGap => HoleStepKey::SealGap,
        Action::SealInside => HoleStepKey::SealInside,
        Action::Photograph => HoleStepKey::Photograph,
        Action::GuardRoof => HoleStepKey::GuardRoof,
    };
    // One pass is no number worth telling.
    let passes = step.passes.filter(|passes| *passes > 1);
    let passes = passes.map(|passes| Count(Triple::exact(f64::from(passes))));
    HoleStep { key, diameter: step.diameter_m.map(diameter), passes }.into()
}

fn cover(after: CoverAfter) -> Message {
    Message::from(match after {
        CoverAfter::FoamCut => Cover::FoamCut,
        CoverAfter::FirePapers => Cover::FirePapers,
        CoverAfter::Seen => Cover::Seen,
        CoverAfter::Photographed => Cover::Photographed,
        CoverAfter::FlowSeen => Cover::FlowSeen,
    })
}
