//! What is asked of a run before the water in it can be followed: pieces, what surrounds them, which way they fall.

use dewpath_case::Case;
use dewpath_case::flow::ways_out;
use dewpath_case::given;
use dewpath_case::inputs::{Ask, CategoryInput, Fallback, InputId, Inputs};
use dewpath_case::system::spec::{DuctSpec, Owner, Spec};
use dewpath_job::model::{
    DuctGiven, DuctKind, Given, Jacket, Job, PartKind, Run, RunShape, SlopeTo, Surroundings,
};
use dewpath_message::Citation;
use dewpath_report::say::{Judgement, SourceText, What};
use dewpath_report::{Figure, Message, Source};
use dewpath_units::{Length, Quantity, Ratio, Temperature, ThermalResistance};

use super::super::plan::{Plan, RoomPlan};

/// Runs that the air of one room passes, in the order of the air.
#[derive(Debug, Clone)]
pub(crate) struct Path {
    /// Index among the rooms of the stage.
    pub room: usize,
    /// The runs.
    pub runs: Vec<RunPlan>,
}

/// One run.
#[derive(Debug, Clone)]
pub(crate) struct RunPlan {
    /// Index in the job.
    pub run: usize,
    /// Its edge in the system.
    pub edge: usize,
    /// Whether air of the room enters it directly; else it comes from runs before.
    pub from_room: bool,
    /// Runs of the path that lead into it, by their place in the path.
    pub feeds: Vec<usize>,
    /// Its pieces of duct.
    pub pieces: Vec<PiecePlan>,
    /// Whether a trap or drain is written.
    pub trap: bool,
    /// Whether nobody wrote which way some piece falls.
    pub slope_unknown: bool,
}

/// One piece of duct.
#[derive(Debug, Clone)]
pub(crate) struct PiecePlan {
    /// Part id.
    pub part: String,
    /// Kind and section, among the inputs of the air.
    pub duct: DuctSpec,
    /// Length, m, among the inputs of the air.
    pub length: InputId,
    /// What surrounds it.
    pub place: CategoryInput<Surroundings>,
    /// Where the temperature of its surroundings lies between dwelling (0) and outdoors (1), for each of [`PLACES`] that
    /// is possible.
    pub shares: Vec<(Surroundings, InputId)>,
    /// Insulation as labelled, m²K/W.
    pub insulation: InputId,
    /// Whether somebody wrote the insulation.
    pub insulation_known: bool,
    /// Share of the length where it is squeezed.
    pub squeezed: InputId,
    /// Outside of it.
    pub jacket: CategoryInput<Jacket>,
    /// Loose fill over it, m.
    pub cover: InputId,
    /// Sheet thickness, m, where written.
    pub sheet: Option<InputId>,
    /// Which way it falls.
    pub slope: CategoryInput<SlopeTo>,
    /// Depth of a low point over the diameter.
    pub sag: InputId,
}

/// Minutes to look at or ask about a thing. Judgement.
mod minutes {
    pub(super) const HIDDEN: f64 = 30.0;
    pub(super) const NOT_ON_SITE: f64 = 60.0;
}

fn ask(at: String, what: What, minutes: f64) -> Ask<'static> {
    Ask { at, stream: None, what: Message::from(what), minutes }
}

fn range(low: f64, high: f64, source: Source) -> Fallback {
    Fallback::even(low, high, source)
}

fn nothing<Q: Quantity>() -> Given<Q> {
    None
}

/// The paths of all rooms that are followed. A run whose surroundings nobody wrote is left out, and so are the
/// runs behind it; a run that several rooms share goes with the first of them.
pub(crate) fn paths(case: &Case<'_>, plan: &mut Plan) -> Vec<Path> {
    let mut taken = vec![false; case.job.runs.len()];
    let rooms = plan.rooms.clone();
    rooms
        .iter()
        .enumerate()
        .filter_map(|(room, room_plan)| {
            let runs = runs_of(case, room_plan, &mut taken, &mut plan.inputs);
            (!runs.is_empty()).then_some(Path { room, runs })
        })
        .collect()
}

fn runs_of(
    case: &Case<'_>,
    room: &RoomPlan,
    taken: &mut [bool],
    inputs: &mut Inputs,
) -> Vec<RunPlan> {
    let ways = ways_out(case.job, case.system, room.room);
    let mut found: Vec<RunPlan> = Vec::new();
    // Each turn finds the runs that start where those found before end; the job crate has refused circles.
    loop {
        let before = found.len();
        for (index, run) in case.job.runs.iter().enumerate() {
            if taken[index] || found.iter().any(|known| known.run == index) {
                continue;
            }
            let Some((edge, _)) = edge_of(case, index) else { continue };
            let from_room = ways.contains(&edge);
            let feeds: Vec<usize> = (0..before)
                .filter(|&earlier| case.job.runs[found[earlier].run].to == run.from)
                .collect();
            if !from_room && feeds.is_empty() {
                continue;
            }
            if let Some(plan) = run_plan(case, index, edge, from_room, feeds, inputs) {
                found.push(plan);
            }
        }
        if found.len() == before {
            break;
        }
    }
    for run in &found {
        taken[run.run] = true;
    }
    found
}

/// Edge of a run, and the place of its first part.
fn edge_of(case: &Case<'_>, index: usize) -> Option<(usize, usize)> {
    case.system.find(|owner| matches!(owner, Owner::Part { run, .. } if *run == index))
}

/// Pieces of duct of a run with what is written of them, by part.
pub(crate) fn ducts(run: &Run) -> Vec<(&str, &DuctGiven)> {
    match &run.shape {
        RunShape::Sum(sum) => vec![("duct", &sum.duct)],
        RunShape::Parts(parts) => parts
            .iter()
            .filter_map(|part| match &part.kind {
                PartKind::Piece { duct, .. } => Some((part.id.as_str(), duct)),
                _ => None,
            })
            .collect(),
    }
}

/// Whether a run has a trap.
pub(crate) fn has_trap(run: &Run) -> bool {
    matches!(&run.shape, RunShape::Parts(parts)
        if parts.iter().any(|part| matches!(part.kind, PartKind::Trap)))
}

/// A run, where every piece has known surroundings.
fn run_plan(
    case: &Case<'_>,
    index: usize,
    edge: usize,
    from_room: bool,
    feeds: Vec<usize>,
    inputs: &mut Inputs,
) -> Option<RunPlan> {
    let run = &case.job.runs[index];
    let given = ducts(run);
    if given.is_empty() || given.iter().any(|(_, duct)| given::options(&duct.place).is_empty()) {
        return None;
    }
    let pieces: Vec<PiecePlan> = given
        .iter()
        .filter_map(|(part, duct)| piece_plan(case, index, part, duct, inputs))
        .collect();
    (pieces.len() == given.len()).then(|| RunPlan {
        run: index,
        edge,
        from_room,
        feeds,
        pieces,
        trap: has_trap(run),
        slope_unknown: given.iter().any(|(_, duct)| given::options(&duct.slope).is_empty()),
    })
}

fn piece_plan(
    case: &Case<'_>,
    run: usize,
    part: &str,
    given: &DuctGiven,
    inputs: &mut Inputs,
) -> Option<PiecePlan> {
    let (duct, length) =
        case.system.items().find_map(|(_, item)| match (&item.owner, &item.spec) {
            (Owner::Part { run: owner, part: id }, Spec::Piece { duct, length })
                if *owner == run && id == part =>
            {
                Some((duct.clone(), *length))
            }
            _ => None,
        })?;
    let id = &case.job.runs[run].id;
    let whole = matches!(case.job.runs[run].shape, RunShape::Sum(_));
    let at = |key: &str| {
        if whole { format!("run.{id}.{key}") } else { format!("run.{id}.part.{part}.piece.{key}") }
    };
    let place = inputs.category(
        &ask(at("place"), What::DuctPlace, minutes::HIDDEN),
        &given.place,
        &[Surroundings::Attic],
        &Source::practice(),
    );
    let shares = place.options().to_vec();
    let shares = shares.into_iter().map(|p| (p, share_of(p, inputs))).collect();
    let buried = place.options().contains(&Surroundings::Buried);
    let slope = slope(&at("slope"), given, inputs);
    let low = slope.options().contains(&SlopeTo::Low);
    Some(PiecePlan {
        part: part.to_owned(),
        duct,
        length,
        place,
        shares,
        insulation: inputs.quantity::<ThermalResistance>(
            &ask(at("insulation"), What::DuctInsulation, minutes::HIDDEN),
            &given.insulation,
            Figure::InsulationRsi,
            &range(0.0, 1.41, Source::judgement(Judgement::BareToJacket)),
        ),
        insulation_known: given::is_known(&given.insulation),
        squeezed: inputs.quantity::<Ratio>(
            &ask(at("compressed"), What::DuctSqueezed, minutes::HIDDEN),
            &given.compressed,
            Figure::ShareRatio,
            &range(0.0, 0.0, Source::judgement(Judgement::HangsFree)),
        ),
        jacket: inputs.category(
            &ask(at("jacket"), What::DuctJacket, minutes::HIDDEN),
            &given.jacket,
            &[Jacket::Plain],
            &Source::judgement(Judgement::PlainJacket),
        ),
        cover: if buried {
            inputs.quantity::<Length>(
                &ask(at("cover"), What::DuctCover, minutes::HIDDEN),
                &given.cover,
                Figure::LengthM,
                &range(0.05, 0.20, Source::judgement(Judgement::LooseFill)),
            )
        } else {
            inputs.constant(0.0, Figure::LengthM)
        },
        sheet: inputs.where_written::<Length>(
            &ask(at("wall"), What::DuctWall, minutes::HIDDEN),
            &given.wall,
            |t| Figure::GapMm(t.map(|m| m * 1000.0)),
        ),
        slope,
        sag: if low {
            inputs.quantity::<Ratio>(
                &ask(at("sag"), What::DuctSag, minutes::HIDDEN),
                &nothing(),
                Figure::FactorRatio,
                &range(0.25, 1.25, Source::judgement(Judgement::SagDepth)),
            )
        } else {
            inputs.constant(0.0, Figure::FactorRatio)
        },
    })
}

/// Which way a piece falls; where nobody says, its water stands.
fn slope(at: &str, given: &DuctGiven, inputs: &mut Inputs) -> CategoryInput<SlopeTo> {
    inputs.category(
        &ask(at.to_owned(), What::DuctSlope, minutes::HIDDEN),
        &given.slope,
        &[SlopeTo::Level],
        &Source::judgement(Judgement::FallUnwritten),
    )
}

/// Where the temperature of a place lies between that of the dwelling (0) and outdoors (1).
fn share_of(place: Surroundings, inputs: &mut Inputs) -> InputId {
    let memory =
        |row: SourceText| Source::memory(Citation("EN 12831, temperature reduction factors"), row);
    let (word, low, high, source) = match place {
        Surroundings::Heated => {
            ("heated", 0.0, 0.0, Source::judgement(Judgement::AsWarmAsDwelling))
        }
        Surroundings::JoistBay => {
            ("joist-bay", 0.0, 0.1, Source::judgement(Judgement::BetweenHeatedFloors))
        }
        Surroundings::Attic => ("attic", 0.9, 1.0, memory(SourceText::RoofSpace)),
        Surroundings::Buried => ("attic", 0.9, 1.0, memory(SourceText::RoofSpaceOverFill)),
        Surroundings::CrawlSpace => {
            ("crawl-space", 0.5, 0.8, memory(SourceText::BasementOrCrawlSpace))
        }
        Surroundings::Garage => ("garage", 0.5, 0.8, memory(SourceText::UnheatedRoom)),
        Surroundings::Outdoors => ("outdoors", 1.0, 1.0, Source::judgement(Judgement::Outdoors)),
    };
    let at =
        ask(format!("site.surroundings.{word}"), What::SurroundingsShare, minutes::NOT_ON_SITE);
    inputs.quantity::<Ratio>(&at, &nothing(), Figure::ShareRatio, &range(low, high, source))
}

/// Whether a place is colder than the dwelling in winter.
pub(crate) fn unheated(place: Surroundings) -> bool {
    !matches!(place, Surroundings::Heated | Surroundings::JoistBay)
}

/// Heat that a square metre of wall takes per kelvin, J/(m²·K).
pub(crate) fn wall_j_m2_k(kind: DuctKind, sheet_m: Option<f64>) -> f64 {
    use dewpath_moisture::duct::line::{FLEXIBLE_J_M2_K, RIGID_PLASTIC_J_M2_K, STEEL_J_M2_K};
    // 7850 kg/m³ · 460 J/(kg·K), 0.55 mm where nobody says (from memory); half a brick, 1800 · 840 · 0.1.
    let steel = sheet_m.map_or(STEEL_J_M2_K, |m| (7850.0 * 460.0 * m).clamp(200.0, 1e5));
    match kind {
        DuctKind::SmoothMetal | DuctKind::SpiralMetal => steel,
        DuctKind::Plastic => RIGID_PLASTIC_J_M2_K,
        DuctKind::Flex | DuctKind::SemiRigid => FLEXIBLE_J_M2_K,
        // 25 mm of 70 kg/m³, 840 J/(kg·K); its inner half follows the air (from memory).
        DuctKind::DuctBoard => 735.0,
        DuctKind::Masonry => 1.5e5,
    }
}

/// Roughness that heat transfer is worked out with, m (from memory; it matters little).
pub(crate) fn roughness_m(kind: DuctKind) -> f64 {
    match kind {
        DuctKind::SmoothMetal => 9e-5,
        DuctKind::SpiralMetal => 1.2e-4,
        DuctKind::Plastic => 1.5e-6,
        DuctKind::Flex | DuctKind::SemiRigid | DuctKind::DuctBoard => 9e-4,
        DuctKind::Masonry => 3e-3,
    }
}

/// Design temperature of a room's air while nobody showers, where written.
pub(crate) fn celsius(t: &Given<Temperature>) -> Option<f64> {
    given::likely(t).map(Temperature::c)
}

/// Runs that end at a terminal, with it.
pub(crate) fn ends(job: &Job) -> impl Iterator<Item = (&Run, &dewpath_job::model::Terminal)> {
    job.runs.iter().filter_map(|run| {
        let terminal = job.terminals.iter().find(|terminal| terminal.id == run.to)?;
        Some((run, terminal))
    })
}
