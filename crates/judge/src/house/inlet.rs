//! Air that comes in where it should go out: the duct of a fan at rest while other exhausts run.

use dewpath_case::Case;
use dewpath_case::given;
use dewpath_case::inputs::Draw;
use dewpath_job::model::ExhaustKind;
use dewpath_message::Citation;
use dewpath_message::slot::{AirflowLS, Name, PressurePa};
use dewpath_report::say::{
    Equation, HouseInlet, HouseInletHood, HouseInletKey, SourceText, Todo, What,
};
use dewpath_report::{
    Check, Figure, Finding, Provenance, Source, Step, Triple, Verdict, WorkingInput,
};

use super::ask::Asked;
use super::network::{House, Running, Weather};

/// Inflow that is felt as a draught at the grille, m³/s. Judgement.
const FELT_M3_S: f64 = 0.002;

/// Depression at which a hood without a tight flap is named, Pa. Judgement: the limit that is
/// remembered for appliances that can spill.
const HOOD_PA: f64 = 5.0;

/// Discharge coefficient times area of an open 150 mm hood duct, m². Judgement: a short duct.
const HOOD_M2: f64 = 0.6 * 0.0177;

/// Findings at the likely values in calm air.
pub(crate) fn inlets(case: &Case<'_>, asked: &Asked, house: &mut House<'_>) -> Vec<Finding> {
    let mut findings = Vec::new();
    if house.load(Draw::Likely).is_err() {
        return findings;
    }
    for fan in 0..case.job.fans.len() {
        findings.extend(through_fan(case, asked, house, fan));
    }
    findings.extend(through_hoods(asked, house));
    findings
}

fn source() -> Source {
    Source::confirmed(Citation("ASHRAE Fundamentals 2017, ch. 16"), SourceText::DwellingBalance)
}

fn through_fan(
    case: &Case<'_>,
    asked: &Asked,
    house: &mut House<'_>,
    fan: usize,
) -> Option<Finding> {
    if case.job.fans.len() + asked.exhausts.len() < 2 {
        return None;
    }
    let pressure = house.balance(Running::AllBut(fan), Weather::Calm).ok()?;
    let inward = 0.0 - house.fan_flow_m3_s(fan);
    let felt = inward >= FELT_M3_S;
    // Of a fan that runs, at rest for once, only what is felt is worth a word.
    if !felt && given::yes(&case.job.fans[fan].running) != Some(false) {
        return None;
    }
    let (key, verdict) = if felt {
        (HouseInletKey::Fan, Verdict::Caution)
    } else {
        (HouseInletKey::None, Verdict::Holds)
    };
    let flow = AirflowLS(Triple::exact(inward * 1000.0));
    let pressure = PressurePa(Triple::exact(pressure));
    let id = &case.job.fans[fan].id;
    let message = HouseInlet { key, fan: Name::new(id), flow, pressure };
    let finding = Finding::new(Check::HouseInletThroughFan, id, verdict, message, source())
        .figure(flow)
        .step(step(pressure.into(), flow.into()));
    Some(if felt { with_todo(finding) } else { finding })
}

/// Hoods of which only the flow is known: what an open duct would let in while the fans run.
fn through_hoods(asked: &Asked, house: &mut House<'_>) -> Vec<Finding> {
    let is_hood = |kind: Option<ExhaustKind>| kind == Some(ExhaustKind::RangeHood);
    if !asked.exhausts.iter().any(|exhaust| is_hood(exhaust.kind)) {
        return Vec::new();
    }
    let Ok(pressure) = house.balance(Running::FansAlone, Weather::Mild) else {
        return Vec::new();
    };
    if pressure > -HOOD_PA {
        return Vec::new();
    }
    let inward = HOOD_M2 * (2.0 * pressure.abs() / house.density_kg_m3()).sqrt();
    let flow = AirflowLS(Triple::exact(inward * 1000.0));
    let pressure = PressurePa(Triple::exact(pressure));
    let hoods = asked.exhausts.iter().filter(|exhaust| is_hood(exhaust.kind));
    hoods
        .map(|hood| {
            let message = HouseInletHood { hood: Name::new(&hood.id), flow, pressure };
            let finding = Finding::new(
                Check::HouseInletThroughFan,
                &hood.id,
                Verdict::Caution,
                message,
                source(),
            );
            with_todo(finding.figure(flow).step(step(pressure.into(), flow.into())))
        })
        .collect()
}

fn step(pressure: Figure, flow: Figure) -> Step {
    Step {
        equation: Equation::AirIn.into(),
        inputs: vec![WorkingInput::new("p", What::HouseOn, pressure, Provenance::Computed)],
        result: Some(flow),
        source: source(),
    }
}

fn with_todo(finding: Finding) -> Finding {
    finding.todo(Todo::TightFlap).todo(Todo::WayIn)
}
