//! Make-up air: when a book asks for it, and how large a passive opening would be.

use dewpath_air::leakage::SHARP_EDGE;
use dewpath_case::Case;
use dewpath_case::given;
use dewpath_case::source;
use dewpath_job::model::{Draft, ExhaustKind, OtherExhaust};
use dewpath_message::slot::{AirflowLS, AreaM2, Name, PressurePa};
use dewpath_report::say::{
    DwellingMakeupAir, DwellingMakeupAirInterference, DwellingMakeupAirKey,
    DwellingMakeupAirSpillage, DwellingMakeupAirUnrated, Todo, TodoMakeUpOpening, What,
};
use dewpath_report::{
    Check, Figure, Finding, Message, Provenance, Source, Step, Triple, Verdict, WorkingInput,
};
use dewpath_rulebook::{Book, MakeUpRule};

use super::pressure;
use crate::verdict::judged;

/// Density of the air in an opening where no balance tells it, kg/m³: dry air at 20 °C, sea level.
const USUAL_DENSITY: f64 = 1.2;

/// Findings on make-up air. `pressures` are those on appliances that were drawn down too far.
pub(crate) fn make_up(case: &Case<'_>, pressures: &[Finding]) -> Vec<Finding> {
    let mut findings: Vec<Finding> = by_size(case).into_iter().collect();
    findings.extend(unrated(case));
    findings.extend(by_interference(case, pressures));
    findings.extend(by_appliance(case));
    findings
}

/// An exhaust able to move more than the book's threshold.
struct Large<'a> {
    id: &'a str,
    /// What it moves at most, m³/s.
    flow_m3_s: f64,
    /// Whether it moves more for sure.
    certain: bool,
}

/// The exhaust that is most surely above the threshold, and of these the largest.
fn large<'a>(case: &'a Case<'_>, above_m3_s: f64) -> Option<Large<'a>> {
    let exhausts = case.job.dwelling.exhausts.iter().filter(|one| takes_from_house(one));
    let exhausts = exhausts.filter_map(|exhaust| {
        let (low, high) = given::bounds(&exhaust.airflow)?;
        let certain = low.m3_s() > above_m3_s;
        Some(Large { id: &exhaust.id, flow_m3_s: high.m3_s(), certain })
    });
    let fans = case.job.fans.iter().filter_map(|fan| {
        let flow_m3_s = dewpath_case::system::fan::box_flow_m3_s(&fan.data)?;
        Some(Large { id: &fan.id, flow_m3_s, certain: true })
    });
    let above = exhausts.chain(fans).filter(|one| one.flow_m3_s > above_m3_s);
    above.max_by(|a, b| a.certain.cmp(&b.certain).then_with(|| a.flow_m3_s.total_cmp(&b.flow_m3_s)))
}

/// A garage lies outside the air barrier.
fn takes_from_house(exhaust: &OtherExhaust) -> bool {
    given::options(&exhaust.kind) != [ExhaustKind::Garage]
}

/// A hood of which nobody wrote how much it can move, where the book has a threshold for it: hoods on
/// both sides of it are sold.
fn unrated(case: &Case<'_>) -> Option<Finding> {
    let rule = case.rule(Book::make_up)?;
    let open = if rule.value.only_with_open_draft { open_draft(case) } else { Some(true) };
    let hoods = case.job.dwelling.exhausts.iter();
    let mut unrated = hoods.filter(|hood| {
        given::options(&hood.kind).contains(&ExhaustKind::RangeHood)
            && given::bounds(&hood.airflow).is_none()
    });
    let hood = unrated.next().filter(|_| open != Some(false))?;
    let limit = AirflowLS(Triple::exact(rule.value.above.m3_s() * 1000.0));
    let message = DwellingMakeupAirUnrated { exhaust: Name::new(&hood.id), limit };
    let source = source::ruled(&rule);
    Some(
        Finding::new(Check::DwellingMakeUpAir, &hood.id, Verdict::Unknown, message, source)
            .limit(limit)
            .todo(Todo::ReadLabel),
    )
}

/// Whether an appliance that is neither direct-vent nor mechanical-draft stands inside.
fn open_draft(case: &Case<'_>) -> Option<bool> {
    let appliances = &case.job.dwelling.appliances;
    if appliances.is_empty() {
        return None;
    }
    let mut any = Some(false);
    for appliance in appliances {
        let open = given::member(&appliance.draft).map(|draft| draft == Draft::Natural);
        any = match (any, open) {
            (Some(true), _) | (_, Some(true)) => Some(true),
            (None, _) | (_, None) => None,
            _ => Some(false),
        };
    }
    any
}

fn by_size(case: &Case<'_>) -> Option<Finding> {
    let rule = case.rule(Book::make_up)?;
    let source = source::ruled(&rule);
    let above = rule.value.above.m3_s();
    let large = large(case, above)?;
    let open = if rule.value.only_with_open_draft { open_draft(case) } else { Some(true) };
    let (key, verdict) = match open {
        Some(true) if large.certain => {
            (DwellingMakeupAirKey::Asked, judged(false, Verdict::Fails, &source))
        }
        Some(true) => (DwellingMakeupAirKey::Perhaps, Verdict::Unknown),
        Some(false) => (DwellingMakeupAirKey::NotAsked, Verdict::Holds),
        None => (DwellingMakeupAirKey::Unknown, Verdict::Unknown),
    };
    let limit = AirflowLS(Triple::exact(above * 1000.0));
    let flow = AirflowLS(Triple::exact(large.flow_m3_s * 1000.0));
    let message = DwellingMakeupAir { key, exhaust: Name::new(large.id), flow, limit };
    let mut finding =
        Finding::new(Check::DwellingMakeUpAir, large.id, verdict, message, source.clone())
            .figure(flow)
            .limit(limit);
    if verdict != Verdict::Holds {
        finding = with_opening(case, finding, &rule.value, large.flow_m3_s, &source);
        finding = finding.todo(Todo::MakeUpAir);
    }
    Some(finding)
}

/// The passive opening that brings in as much as goes out, at the pressure the book gives its damper.
fn with_opening(
    case: &Case<'_>,
    finding: Finding,
    rule: &MakeUpRule,
    flow_m3_s: f64,
    source: &Source,
) -> Finding {
    let Some(pressure) = rule.damper_pressure else { return finding };
    let density = case.flows.map_or(USUAL_DENSITY, |flows| flows.density.likely);
    let area = opening_m2(flow_m3_s, pressure.pa(), density);
    let area = AreaM2(Triple::exact(area));
    let at = PressurePa(Triple::exact(pressure.pa()));
    let flow = AirflowLS(Triple::exact(flow_m3_s * 1000.0));
    let step = Step {
        equation: "A = q / (C_d sqrt(2 dp / rho))".into(),
        inputs: vec![
            WorkingInput::new("q", What::ExhaustFlow, flow.into(), Provenance::Written),
            WorkingInput::new(
                "C_d",
                What::GapCoefficient,
                Figure::FactorRatio(Triple::exact(SHARP_EDGE)),
                Provenance::Default,
            ),
            WorkingInput::new("dp", What::DamperPressure, at.into(), Provenance::RuleBook),
        ],
        result: Some(area.into()),
        source: source.clone(),
    };
    let todo = Message::from(TodoMakeUpOpening { area, flow, pressure: at });
    finding.step(step).todo(todo)
}

/// Free area of a sharp-edged opening that passes a flow at a pressure, m².
pub(crate) fn opening_m2(flow_m3_s: f64, pressure_pa: f64, density: f64) -> f64 {
    flow_m3_s.max(0.0) / (SHARP_EDGE * (2.0 * pressure_pa / density).sqrt())
}

/// Make-up air at any size, where exhaust disturbs an appliance.
fn by_interference(case: &Case<'_>, pressures: &[Finding]) -> Option<Finding> {
    let rule = case.rule(Book::make_up_if_interfering).filter(|rule| rule.value)?;
    let disturbed = pressures.iter().find(|finding| finding.verdict == Verdict::Fails)?;
    let source = source::ruled(&rule);
    let verdict = judged(false, Verdict::Fails, &source);
    let message = DwellingMakeupAirInterference { appliance: Name::new(&disturbed.subject) };
    Some(
        Finding::new(Check::DwellingMakeUpAir, &disturbed.subject, verdict, message, source)
            .todo(Todo::MakeUpAir),
    )
}

/// Make-up air beside supplemental exhaust, where an appliance can spill.
fn by_appliance(case: &Case<'_>) -> Option<Finding> {
    let rule = case.rule(Book::make_up_if_spillage_prone).filter(|rule| rule.value)?;
    let appliance = case.job.dwelling.appliances.iter().find(|one| pressure::may_spill(one))?;
    let source = source::ruled(&rule);
    let message = DwellingMakeupAirSpillage { appliance: Name::new(&appliance.id) };
    Some(
        Finding::new(Check::DwellingMakeUpAir, &appliance.id, Verdict::Caution, message, source)
            .todo(Todo::MakeUpAir),
    )
}
