//! The way in for the air of each room: gap under the door, saw cut, transfer grille.

use dewpath_air::leakage::{UNDERCUT, undercut_height};
use dewpath_case::Case;
use dewpath_case::given;
use dewpath_case::inputs::Draw;
use dewpath_case::require;
use dewpath_case::sample::Sample;
use dewpath_case::system::spec::{DoorSpec, Owner, Spec};
use dewpath_message::slot::{AirflowLS, AreaM2, GapMm, Name, PressurePa};
use dewpath_report::say::{Todo, TransferGap, TransferGapKey, What};
use dewpath_report::{
    Check, Figure, Finding, Provenance, Step, TransferResult, Triple, Verdict, WorkingInput,
};
use dewpath_units::{Airflow, Density, Length, Pressure};

use crate::checks::room::{ALLOWED_PA, LEAST_CUT_M};
use crate::law;
use crate::look_next::share;
use crate::verdict::settled;

/// Sizes of every room that air is drawn from, with findings where a door is to be cut.
pub(crate) fn transfers(case: &Case<'_>) -> (Vec<TransferResult>, Vec<Finding>) {
    let mut results = Vec::new();
    let mut findings = Vec::new();
    for room in 0..case.job.rooms.len() {
        let Some(sizes) = Sizes::of(case, room) else { continue };
        findings.extend(finding(case, room, &sizes));
        results.push(TransferResult {
            room: case.job.rooms[room].id.clone(),
            gap_m: sizes.gap.triple(),
            saw_cut_m: sizes.cut.as_ref().map(Sample::triple),
            grille_m2: sizes.grille.triple(),
            allowed_pa: ALLOWED_PA,
            airflow_l_s: sizes.flow.litres(),
        });
    }
    (results, findings)
}

/// What one door needs.
struct Sizes<'a> {
    door: &'a DoorSpec,
    /// The larger of what is required and what is delivered, m³/s.
    flow: Sample,
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
        let flow = match &case.required.rooms[room].flow {
            Some(required) => delivered.with(required, f64::max),
            None => delivered.clone(),
        };
        let (edge, item) = case.system.find(|o| *o == Owner::Door { room })?;
        let Spec::Door(door) = &case.system.edges[edge].items[item].spec else { return None };
        let value = |id, draw| case.inputs.value(id, draw);
        let height = |draw: Draw| {
            undercut_height(
                Airflow::from_m3_s(flow.at(draw).max(0.0)),
                Length::from_m(value(door.width, draw)),
                Pressure::from_pa(ALLOWED_PA),
                value(door.coefficient, draw),
                Density::from_kg_m3(flows.density.at(draw)),
            )
            .map_or(f64::NAN, Length::m)
        };
        let needed = Sample::of(case.inputs, height);
        // The joints, and a transfer grille there is, pass their share already.
        let other =
            |draw: Draw| value(door.joints, draw) + door.transfer.map_or(0.0, |id| value(id, draw));
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
        Some(Self { door, flow, gap, cut, grille })
    }
}

/// Whether the gap that is there suffices, and how much to saw off where not. Nothing where it was
/// not written: what air in costs with the usual gaps is said elsewhere.
fn finding(case: &Case<'_>, room: usize, sizes: &Sizes<'_>) -> Option<Finding> {
    let cut = sizes.cut.as_ref()?;
    let passes: Vec<bool> = if cut.draws.is_empty() {
        vec![cut.likely < LEAST_CUT_M]
    } else {
        cut.draws.iter().map(|cut| *cut < LEAST_CUT_M).collect()
    };
    let chance = share(&passes);
    // Advice: no printed limit says how much air in may cost.
    let (key, verdict) = match settled(chance, &case.job.settings) {
        Some(true) => (TransferGapKey::Holds, Verdict::Holds),
        Some(false) => (TransferGapKey::Cut, Verdict::Caution),
        None => (TransferGapKey::Open, Verdict::Unknown),
    };
    let door = sizes.door;
    let millimetres = |sample: &Sample| GapMm(sample.map(|m| m * 1000.0).triple());
    let message = TransferGap {
        key,
        room: Name::new(require::name(&case.job.rooms[room])),
        cut: millimetres(cut),
        gap: millimetres(&sizes.gap),
        grille: AreaM2(sizes.grille.triple()),
        flow: AirflowLS(sizes.flow.litres()),
        allowed: PressurePa(Triple::exact(ALLOWED_PA)),
    };
    let source = law::source(&UNDERCUT);
    let computed = |symbol: &str, what: What, figure: Figure| {
        WorkingInput::new(symbol, what, figure, Provenance::Computed)
    };
    let height = Step {
        equation: UNDERCUT.equation.into(),
        inputs: vec![
            computed("q", What::GoverningFlow, Figure::AirflowLS(sizes.flow.litres())),
            case.inputs.in_working("C_d", door.coefficient),
            WorkingInput::new(
                "dp",
                What::GapPressure,
                Figure::PressurePa(Triple::exact(ALLOWED_PA)),
                Provenance::Default,
            ),
            case.inputs.in_working("w", door.width),
            case.inputs.in_working("A_j", door.joints),
        ],
        result: Some(millimetres(&sizes.gap).into()),
        source: source.clone(),
    };
    let saw = Step {
        equation: "cut = h - h_now".into(),
        inputs: vec![
            computed("h", What::GapNeeded, millimetres(&sizes.gap).into()),
            case.inputs.in_working("h_now", door.gap),
        ],
        result: Some(millimetres(cut).into()),
        source: source.clone(),
    };
    let subject = &case.job.rooms[room].id;
    let finding = Finding::new(Check::TransferGap, subject, verdict, message, source)
        .figure(millimetres(&sizes.gap))
        .step(height)
        .step(saw);
    let drawn = case.inputs.draws() > 0;
    let finding = if drawn { finding.chance(chance) } else { finding };
    let holds = verdict == Verdict::Holds;
    Some(if holds { finding } else { finding.todo(Todo::Carpet) })
}
