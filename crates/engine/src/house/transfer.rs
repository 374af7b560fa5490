//! The way in for the air of each room: gap under the door, saw cut, transfer grille.

use dewpath_air::leakage::undercut_height;
use dewpath_report::{
    Figure, Finding, Message, Provenance, Source, Step, TransferResult, Triple, Verdict,
    WorkingInput,
};
use dewpath_units::{Airflow, Density, Length, Pressure};

use crate::checks::Look;
use crate::given;
use crate::inputs::Draw;
use crate::look_next::share;
use crate::require;
use crate::sample::Sample;
use crate::system::spec::{DoorSpec, Owner, Spec};

/// Pressure that air in may cost at a shut door, Pa. Source: handbook practice of 2.5 to 3 Pa for
/// transfer air (building-science pages on door undercuts).
pub(crate) const ALLOWED_PA: f64 = 3.0;

/// A cut below this is not worth taking a door off its hinges, m. Judgement.
pub(crate) const LEAST_CUT_M: f64 = 0.0015;

/// Sizes of every room that air is drawn from, with findings where a door is to be cut.
pub(crate) fn transfers(look: &Look<'_>) -> (Vec<TransferResult>, Vec<Finding>) {
    let mut results = Vec::new();
    let mut findings = Vec::new();
    for room in 0..look.job.rooms.len() {
        let Some(sizes) = Sizes::of(look, room) else { continue };
        findings.extend(finding(look, room, &sizes));
        results.push(TransferResult {
            room: look.job.rooms[room].id.clone(),
            gap_m: sizes.gap.triple(),
            saw_cut_m: sizes.cut.as_ref().map(Sample::triple),
            grille_m2: sizes.grille.triple(),
            allowed_pa: ALLOWED_PA,
            airflow_l_s: sizes.flow.map(|q| q * 1000.0).triple(),
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
    fn of(look: &Look<'a>, room: usize) -> Option<Self> {
        let flows = look.flows?;
        let delivered = flows.rooms[room].as_ref()?;
        if delivered.likely.is_nan() || delivered.likely <= 0.0 {
            return None;
        }
        let flow = match &look.required.rooms[room].flow {
            Some(required) => delivered.with(required, f64::max),
            None => delivered.clone(),
        };
        let (edge, place) = look.system.find(|o| *o == Owner::Door { room })?;
        let Spec::Door(door) = &look.system.edges[edge].items[place].spec else { return None };
        let value = |id, draw| look.inputs.value(id, draw);
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
        let needed = Sample::of(look.inputs, height);
        // The joints, and a transfer grille there is, pass their share already.
        let other =
            |draw: Draw| value(door.joints, draw) + door.transfer.map_or(0.0, |id| value(id, draw));
        let gap = Sample::of(look.inputs, |draw| {
            (needed.at(draw) - other(draw) / value(door.width, draw)).max(0.0)
        });
        let grille = Sample::of(look.inputs, |draw| {
            (needed.at(draw) * value(door.width, draw) - other(draw)).max(0.0)
        });
        let written = given::is_known(&look.job.rooms[room].door.gap);
        let cut = written.then(|| {
            Sample::of(look.inputs, |draw| (gap.at(draw) - value(door.gap, draw)).max(0.0))
        });
        Some(Self { door, flow, gap, cut, grille })
    }
}

/// Whether the gap that is there suffices, and how much to saw off where not. Nothing where it was
/// not written: what air in costs with the usual gaps is said elsewhere.
fn finding(look: &Look<'_>, room: usize, sizes: &Sizes<'_>) -> Option<Finding> {
    let cut = sizes.cut.as_ref()?;
    let passes: Vec<bool> = if cut.draws.is_empty() {
        vec![cut.likely < LEAST_CUT_M]
    } else {
        cut.draws.iter().map(|cut| *cut < LEAST_CUT_M).collect()
    };
    let settings = &look.job.settings;
    let chance = share(&passes);
    // Advice: no printed limit says how much air in may cost.
    let (key, verdict) = if chance >= settings.holds_at {
        ("transfer.gap.holds", Verdict::Holds)
    } else if chance <= settings.fails_at {
        ("transfer.gap.cut", Verdict::Caution)
    } else {
        ("transfer.gap.open", Verdict::Unknown)
    };
    let door = sizes.door;
    let millimetres = |sample: &Sample| Figure::GapMm(sample.map(|m| m * 1000.0).triple());
    let message = Message::new(key)
        .name("room", require::name(&look.job.rooms[room]))
        .figure("cut", millimetres(cut))
        .figure("gap", millimetres(&sizes.gap))
        .figure("grille", Figure::AreaM2(sizes.grille.triple()))
        .figure("flow", Figure::AirflowLS(sizes.flow.map(|q| q * 1000.0).triple()))
        .figure("allowed", Figure::PressurePa(Triple::exact(ALLOWED_PA)));
    let source = Source::confirmed(
        "sharp-edged opening, ISO 5167 form; transfer air at 2.5 to 3 Pa",
        "building-science practice",
    );
    let computed = |symbol: &str, what: &str, figure: Figure| {
        WorkingInput::new(symbol, what, figure, Provenance::Computed)
    };
    let height = Step {
        equation: "h = q / (C_d sqrt(2 dp / rho) w) - A_j / w".to_owned(),
        inputs: vec![
            computed(
                "q",
                "what.governing-flow",
                Figure::AirflowLS(sizes.flow.map(|q| q * 1000.0).triple()),
            ),
            look.inputs.in_working("C_d", door.coefficient),
            WorkingInput::new(
                "dp",
                "what.gap-pressure",
                Figure::PressurePa(Triple::exact(ALLOWED_PA)),
                Provenance::Default,
            ),
            look.inputs.in_working("w", door.width),
            look.inputs.in_working("A_j", door.joints),
        ],
        result: Some(millimetres(&sizes.gap)),
        source: source.clone(),
    };
    let saw = Step {
        equation: "cut = h - h_now".to_owned(),
        inputs: vec![
            computed("h", "what.gap-needed", millimetres(&sizes.gap)),
            look.inputs.in_working("h_now", door.gap),
        ],
        result: Some(millimetres(cut)),
        source: source.clone(),
    };
    let subject = &look.job.rooms[room].id;
    let finding = Finding::new("transfer.gap", subject, verdict, message, source)
        .figure(millimetres(&sizes.gap))
        .step(height)
        .step(saw);
    let drawn = look.inputs.draws() > 0;
    let finding = if drawn { finding.chance(chance) } else { finding };
    let holds = verdict == Verdict::Holds;
    Some(if holds { finding } else { finding.todo(Message::new("todo.carpet")) })
}
