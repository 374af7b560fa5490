//! The way in for the air of each room: gap under the door, saw cut, transfer grille.

use dewpath_air::leakage::{UNDERCUT, undercut_height};
use dewpath_case::Case;
use dewpath_case::given;
use dewpath_case::inputs::Draw;
use dewpath_case::sample::Sample;
use dewpath_case::source;
use dewpath_case::system::spec::{DoorSpec, Owner, Spec};
use dewpath_message::slot::{AirflowLS, AreaM2, GapMm, PressurePa, Reference};
use dewpath_report::say::{
    ReplacementAir, ReplacementAirKey, ReplacementAirSealed, Todo, TodoTransferRule, TodoUndercut,
    TodoUndercutKey, TransferArea, TransferAreaKey, What,
};
use dewpath_report::{
    Check, Figure, Finding, Message, Provenance, Standing, Step, TransferResult, Triple, Verdict,
    WorkingInput,
};
use dewpath_rulebook::Ruled;
use dewpath_units::{Airflow, Area, Density, Length, Pressure};

use crate::law;
use crate::verdict::{by_chance_at, chance_at_least};

/// Pressure that air in may cost at a shut door where nobody asks for another, Pa. Source: handbook practice of 2.5 to 3 Pa for
/// transfer air (building-science pages on door undercuts).
const ALLOWED_PA: f64 = 3.0;

/// A cut below this is not worth taking a door off its hinges, m. Judgement.
const LEAST_CUT_M: f64 = 0.0015;

/// Sizes of every room that air is drawn from, each with its finding.
pub(crate) fn transfers(case: &Case<'_>) -> (Vec<TransferResult>, Vec<Finding>) {
    let mut results = Vec::new();
    let mut findings = Vec::new();
    for room in 0..case.job.rooms.len() {
        let Some(sizes) = Sizes::of(case, room) else { continue };
        findings.push(finding(case, room, &sizes));
        results.push(TransferResult {
            room: case.job.rooms[room].id.clone(),
            gap_m: sizes.gap.triple(),
            saw_cut_m: sizes.cut.as_ref().map(Sample::triple),
            grille_m2: sizes.grille.triple(),
            allowed_pa: sizes.allowed_pa,
            airflow_l_s: sizes.flow.litres(),
        });
    }
    (results, findings)
}

/// What one door needs.
struct Sizes<'a> {
    door: &'a DoorSpec,
    /// What is required, else what is delivered, m³/s: a stronger fan is no reason to cut a door.
    flow: Sample,
    /// What air may cost at the shut door, Pa, and where that comes from.
    allowed_pa: f64,
    allowed_from: Provenance,
    /// What that flow costs at the shut door, Pa.
    cost: Sample,
    /// Gap that would do, m.
    gap: Sample,
    /// What to saw off; none where the gap there is was not written.
    cut: Option<Sample>,
    /// Free area of a grille in place of the gap, m².
    grille: Sample,
}

impl<'a> Sizes<'a> {
    fn of(case: &Case<'a>, room: usize) -> Option<Self> {
        let flows = case.flows?;
        let delivered = flows.rooms[room].as_ref()?;
        if delivered.likely.is_nan() || delivered.likely <= 0.0 {
            return None;
        }
        let flow = case.required.rooms[room].flow.clone().unwrap_or_else(|| delivered.clone());
        let (edge, item) = case.system.find(|o| *o == Owner::Door { room })?;
        let Spec::Door(door) = &case.system.edges[edge].items[item].spec else { return None };
        let (allowed_pa, allowed_from) = match given::likely(&case.job.rooms[room].door.pressure) {
            Some(asked) => (asked.pa(), Provenance::Written),
            None => (ALLOWED_PA, Provenance::Default),
        };
        let value = |id, draw| case.inputs.value(id, draw);
        let height = |draw: Draw| {
            undercut_height(
                Airflow::from_m3_s(flow.at(draw).max(0.0)),
                Length::from_m(value(door.width, draw)),
                Pressure::from_pa(allowed_pa),
                value(door.coefficient, draw),
                Density::from_kg_m3(flows.density.at(draw)),
            )
            .map_or(f64::NAN, Length::m)
        };
        let needed = Sample::of(case.inputs, height);
        // The joints, and a transfer grille there is, pass their share already.
        let other =
            |draw: Draw| value(door.joints, draw) + door.transfer.map_or(0.0, |id| value(id, draw));
        let cost = Sample::of(case.inputs, |draw| {
            let area = value(door.gap, draw) * value(door.width, draw) + other(draw);
            let speed = flow.at(draw).max(0.0) / (value(door.coefficient, draw) * area);
            0.5 * flows.density.at(draw) * speed * speed
        });
        let gap = Sample::of(case.inputs, |draw| {
            (needed.at(draw) - other(draw) / value(door.width, draw)).max(0.0)
        });
        let grille = Sample::of(case.inputs, |draw| {
            (needed.at(draw) * value(door.width, draw) - other(draw)).max(0.0)
        });
        let written = given::is_known(&case.job.rooms[room].door.gap);
        let cut = written.then(|| {
            Sample::of(case.inputs, |draw| (gap.at(draw) - value(door.gap, draw)).max(0.0))
        });
        Some(Self { door, flow, allowed_pa, allowed_from, cost, gap, cut, grille })
    }
}

/// Whether enough air comes in at the shut door: by the free area that the book asks for where what is there is written, else
/// by what it costs. One point for gap, joints and grille, and for what would do.
fn finding(case: &Case<'_>, room: usize, sizes: &Sizes<'_>) -> Finding {
    let asked = case.rule(|book| book.transfer().free_area);
    let made = asked.as_ref().and_then(|asked| by_rule(case, room, sizes, asked));
    // A rule that is only remembered and not met by far leaves it to what the air costs.
    let made = made.filter(|made| made.verdict != Verdict::Unknown || !is_remembered(made));
    let is_by_rule = made.is_some();
    let made = made.unwrap_or_else(|| by_cost(case, room, sizes));
    if made.verdict == Verdict::Holds {
        return made;
    }
    let by_area = asked.map(|asked| TodoTransferRule {
        area: AreaM2(Triple::exact(asked.value.m2())),
        section: Reference::new(&asked.section),
    });
    // The gap that would do for the air is not the one that a book asks for.
    // A gap that nobody measured is measured before it is cut.
    let key = if sizes.cut.is_some() { TodoUndercutKey::Cut } else { TodoUndercutKey::Measure };
    let by_air = (!is_by_rule).then(|| TodoUndercut { key, gap: millimetres(&sizes.gap) });
    let todo = by_air.map(Message::from).into_iter().chain(by_area.map(Message::from));
    todo.fold(made, Finding::todo).todo(Todo::Carpet)
}

/// The opening that is there against the one that is asked for; none where gap and width are not both written.
fn by_rule(
    case: &Case<'_>,
    room: usize,
    sizes: &Sizes<'_>,
    asked: &Ruled<Area>,
) -> Option<Finding> {
    let door = &case.job.rooms[room].door;
    let (low, high) = given::bounds(&door.gap)?;
    let (narrow, wide) = given::bounds(&door.width)?;
    let grille = given::bounds(&door.transfer).map_or((0.0, 0.0), |(a, b)| (a.m2(), b.m2()));
    let least = low.m() * narrow.m() + grille.0;
    let most = high.m() * wide.m() + grille.1;
    let needed = asked.value.m2();
    let source = source::ruled(asked);
    let broken = case.weight(|book| book.transfer().free_area);
    let at = |strict: f64| chance_at_least((least, most), strict * needed);
    let verdict = by_chance_at(at, broken, &source, &case.job.settings);
    let key = match verdict {
        Verdict::Holds => TransferAreaKey::Holds,
        Verdict::Unknown => TransferAreaKey::Open,
        Verdict::Caution | Verdict::Fails => TransferAreaKey::Small,
    };
    let figure = AreaM2(Triple { low: least, likely: f64::midpoint(least, most), high: most });
    let limit = AreaM2(Triple::exact(needed));
    let message = TransferArea { key, area: figure, asked: limit };
    let subject = &case.job.rooms[room].id;
    Some(
        Finding::new(Check::ReplacementAir, subject, verdict, message, source)
            .figure(figure)
            .limit(limit)
            .step(height(case, sizes)),
    )
}

fn is_remembered(made: &Finding) -> bool {
    made.source.standing == Standing::FromMemory
}

/// What the air that the room needs costs at the shut door. Advice: no printed limit says how much it may, and nobody knows the
/// joints of a door, so the likely values decide.
fn by_cost(case: &Case<'_>, room: usize, sizes: &Sizes<'_>) -> Finding {
    if !sizes.cost.triple().high.is_finite() {
        return sealed(case, room, sizes);
    }
    let written = sizes.cut.is_some();
    // Judged by the figure that is shown.
    let cuts_little = sizes.cut.as_ref().is_some_and(|cut| cut.triple().likely < LEAST_CUT_M);
    let holds = sizes.cost.triple().likely <= sizes.allowed_pa || cuts_little;
    let (key, verdict) = match (holds, written) {
        (true, _) => (ReplacementAirKey::Holds, Verdict::Holds),
        (false, true) => (ReplacementAirKey::Tight, Verdict::Caution),
        (false, false) => (ReplacementAirKey::Unknown, Verdict::Caution),
    };
    let loss = PressurePa(sizes.cost.triple());
    let allowed = PressurePa(Triple::exact(sizes.allowed_pa));
    let message = ReplacementAir {
        key,
        flow: AirflowLS(sizes.flow.litres()),
        loss,
        allowed,
        gap: millimetres(&sizes.gap),
        cut: sizes.cut.as_ref().map(millimetres),
        grille: AreaM2(sizes.grille.triple()),
    };
    let subject = &case.job.rooms[room].id;
    let made =
        Finding::new(Check::ReplacementAir, subject, verdict, message, law::source(&UNDERCUT))
            .figure(loss)
            .limit(allowed)
            .step(height(case, sizes));
    match &sizes.cut {
        Some(cut) => made.step(saw(case, sizes, cut)),
        None => made,
    }
}

/// A door through which nothing comes: no pressure is enough, so that none is told.
fn sealed(case: &Case<'_>, room: usize, sizes: &Sizes<'_>) -> Finding {
    let message = ReplacementAirSealed {
        flow: AirflowLS(sizes.flow.litres()),
        gap: millimetres(&sizes.gap),
        grille: AreaM2(sizes.grille.triple()),
    };
    let subject = &case.job.rooms[room].id;
    let source = law::source(&UNDERCUT);
    Finding::new(Check::ReplacementAir, subject, Verdict::Caution, message, source)
        .step(height(case, sizes))
}

fn millimetres(sample: &Sample) -> GapMm {
    GapMm(sample.map(|m| m * 1000.0).triple())
}

fn computed(symbol: &str, what: What, figure: Figure) -> WorkingInput {
    WorkingInput::new(symbol, what, figure, Provenance::Computed)
}

/// The gap that would do.
fn height(case: &Case<'_>, sizes: &Sizes<'_>) -> Step {
    let allowed = Figure::PressurePa(Triple::exact(sizes.allowed_pa));
    Step {
        equation: "h = q / (C_d * sqrt(2 dp / rho) * w) - A_j / w".into(),
        inputs: vec![
            computed("q", What::GoverningFlow, Figure::AirflowLS(sizes.flow.litres())),
            case.inputs.in_working("C_d", sizes.door.coefficient),
            WorkingInput::new("dp", What::GapPressure, allowed, sizes.allowed_from),
            case.inputs.in_working("w", sizes.door.width),
            case.inputs.in_working("A_j", sizes.door.joints),
        ],
        result: Some(millimetres(&sizes.gap).into()),
        source: law::source(&UNDERCUT),
    }
}

/// What of it is missing.
fn saw(case: &Case<'_>, sizes: &Sizes<'_>, cut: &Sample) -> Step {
    Step {
        equation: "cut = h - h_now".into(),
        inputs: vec![
            computed("h", What::GapNeeded, millimetres(&sizes.gap).into()),
            case.inputs.in_working("h_now", sizes.door.gap),
        ],
        result: Some(millimetres(cut).into()),
        source: law::source(&UNDERCUT),
    }
}
