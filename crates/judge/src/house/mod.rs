//! Stage `house`: what the exhausts do to the dwelling, and what the dwelling does to the air of the
//! rooms. Pressure at appliances, make-up air, ways in, ventilation of the whole dwelling.
//!
//! [decision 0021](../../../../docs/decisions/0021-the-house-as-a-network.md) says what is balanced
//! and what is compared with a limit.

mod ask;
mod dryer;
mod inlet;
mod make_up;
mod network;
mod pressure;
mod transfer;
mod ventilation;

use dewpath_case::Case;
use dewpath_case::given;
use dewpath_case::inputs::{Draw, Inputs};
use dewpath_case::system::fan;
use dewpath_case::system::instance::{LEAK_EXPONENT, leak_flow_50};
use dewpath_case::system::spec::Conditions;
use dewpath_job::model::LibraryFan;
use dewpath_message::slot::{Reference, Word};
use dewpath_report::say::{
    DwellingAirflowRequiredWaiting, EngineUnsolved, Judgement, Missing, SourceText,
};
use dewpath_report::{
    Assumption, Check, DwellingResult, Finding, LookNext, Report, Source, Verdict,
};
use dewpath_rulebook::DwellingUse;
use dewpath_units::Area;

use ask::Asked;
use network::{House, Weather};
use pressure::Houses;
pub use pressure::{CandidateVerdict, FanCurves, Limit, judge_candidate};

/// What the stage hands on.
#[derive(Default)]
pub struct Stage {
    /// Findings, in the order of the report.
    pub findings: Vec<Finding>,
    /// What would settle open pressures.
    pub look_next: Vec<LookNext>,
    /// Limits at appliances that burn something.
    pub limits: Vec<Limit>,
    result: Option<DwellingResult>,
    assumptions: Vec<Assumption>,
    /// Depression over the flow of each fan of the job; empty without a library or appliances.
    curves: Vec<Option<FanCurves>>,
}

impl Stage {
    /// Depression of the house over the flow of a fan, where an appliance asks for it.
    pub fn curves(&self, fan: usize) -> Option<&FanCurves> {
        self.curves.get(fan)?.as_ref()
    }

    /// Puts the results into the report.
    pub fn put_into(self, report: &mut Report) {
        report.dwelling = self.result;
        for assumption in self.assumptions {
            if !report.assumptions.iter().any(|known| known.at == assumption.at) {
                report.assumptions.push(assumption);
            }
        }
    }
}

/// Looks at the dwelling.
pub fn house(case: &Case<'_>) -> Stage {
    let mut stage = Stage::default();
    let asked = ask::is_asked(case.job)
        .then(|| Asked::of(case.job, case.inputs.beside(case.inputs.draws())));
    let mut pressure = Vec::new();
    if let Some(asked) = &asked {
        stage.assumptions.clone_from(&asked.inputs.assumptions);
        pressure = balance(case, asked, &mut stage);
    }
    let (transfer, cuts) = transfer::transfers(case);
    let (ventilation, rates) = ventilation::ventilation(case, asked.as_ref());
    stage.findings.extend(make_up::make_up(case, &stage.findings));
    stage.findings.extend(dryer::dryer(case));
    stage.findings.extend(dwelling_rate(case));
    stage.findings.extend(rates);
    stage.findings.extend(cuts);
    let nothing = pressure.is_empty() && transfer.is_empty() && ventilation.is_none();
    stage.result =
        (!nothing).then_some(DwellingResult { pressure, transfer, ventilation, year: None });
    stage
}

/// Whether the fans of a job draw so much that a natural flue would be in doubt, where nobody said what burns: that needs a question, no
/// balance. By the likely leakage of such a house.
pub fn may_pull_on_a_flue(case: &Case<'_>) -> bool {
    let dwelling = &case.job.dwelling;
    if !dwelling.appliances.is_empty() || given::yes(&dwelling.burns_fuel) == Some(false) {
        return false;
    }
    let flows = case.flows.map(|flows| flows.rooms.iter().flatten().map(|flow| flow.likely));
    let drawn: f64 = flows.into_iter().flatten().filter(|flow| flow.is_finite()).sum();
    let mut inputs = Inputs::new(0);
    let leak = dewpath_case::system::leak(case.job, &mut inputs);
    let Some(leak) = leak_flow_50(&leak, &inputs, Draw::Likely) else { return false };
    // q = q50 (p / 50)^0.65
    drawn > leak * libm::pow(NATURAL_FLUE_PA / 50.0, LEAK_EXPONENT)
}

/// What a natural flue stands, Pa. Source: limits of depressurisation by appliance, 2 Pa for a water heater alone (from memory).
const NATURAL_FLUE_PA: f64 = 2.0;

/// Balances the house: pressures, inlets, and curves for candidates.
fn balance(
    case: &Case<'_>,
    asked: &Asked,
    stage: &mut Stage,
) -> Vec<dewpath_report::PressureResult> {
    let limits = pressure::limits(case);
    let open = Conditions { doors_open: true, ..Conditions::default() };
    let shut = Conditions { doors_open: false, ..Conditions::default() };
    let house = |conditions| House::new(case.job, case.system, case.inputs, asked, conditions);
    let any_room = limits.iter().any(|limit| limit.place.is_some());
    let solved = house(&open).and_then(|open| {
        let shut = if any_room { Some(house(&shut)?) } else { None };
        let mut houses = Houses { open, shut };
        Ok((pressure::pressures(case, asked, &mut houses)?, houses))
    });
    match solved {
        Ok((found, mut houses)) => {
            let house = houses.for_candidates();
            stage.findings.extend(found.findings);
            stage.look_next.extend(found.look_next);
            stage.findings.extend(inlet::inlets(case, asked, house));
            if !found.limits.is_empty() && !case.world.products.fans.is_empty() {
                stage.curves = curves(case, house, found.worst);
            }
            stage.limits = found.limits;
            found.results
        }
        Err(trouble) => {
            let dewpath_case::system::instance::Trouble::Unsolved { why } = trouble;
            let message = EngineUnsolved { why: Reference::new(why) };
            let source = Source::judgement(Judgement::BalanceOfHouse);
            stage.findings.push(Finding::new(
                Check::EngineUnsolved,
                "dwelling",
                Verdict::Unknown,
                message,
                source,
            ));
            Vec::new()
        }
    }
}

fn curves(case: &Case<'_>, house: &mut House<'_>, weather: Weather) -> Vec<Option<FanCurves>> {
    let highest = case.world.products.fans.iter().map(most_m3_s).fold(0.0, f64::max);
    (0..case.job.fans.len())
        .map(|fan| {
            (highest > 0.0)
                .then(|| pressure::fan_curves(case, house, fan, weather, highest))
                .flatten()
        })
        .collect()
}

/// The most a fan of the library may move, m³/s: the end of its curve, or half again what is rated.
fn most_m3_s(fan: &LibraryFan) -> f64 {
    let by_curve = fan.data.curve.iter().map(|(flow, _)| flow.m3_s()).fold(0.0, f64::max);
    let rated = fan.data.rated.iter().filter_map(|point| point.airflow.value.bounds());
    let by_rating = rated.map(|(_, high)| 1.5 * high.m3_s()).fold(0.0, f64::max);
    let by_box = fan::box_flow_m3_s(&fan.data).unwrap_or(0.0);
    by_curve.max(by_rating).max(by_box)
}

/// A whole-dwelling rate that the book has and a missing fact holds back.
fn dwelling_rate(case: &Case<'_>) -> Option<Finding> {
    let book = case.world.rule_book.as_ref()?;
    let dwelling = &case.job.dwelling;
    let area = given::likely(&dwelling.floor_area);
    let bedrooms = given::count_bounds(&dwelling.bedrooms);
    // With both at hand the rates stand in the requirement list; with neither nobody asked.
    let (known, missing) = match (area, bedrooms) {
        (Some(_), None) => ("floor area", Missing::Bedrooms),
        (None, Some(_)) => ("bedrooms", Missing::DwellingArea),
        _ => return None,
    };
    let full = DwellingUse {
        floor_area: Some(area.unwrap_or(Area::from_m2(100.0))),
        bedrooms: Some(bedrooms.map_or(2, |(count, _)| count)),
        ..DwellingUse::default()
    };
    let now = DwellingUse {
        floor_area: area,
        bedrooms: bedrooms.map(|(count, _)| count),
        ..DwellingUse::default()
    };
    let held_back = book.dwelling_airflow(&full).len() > book.dwelling_airflow(&now).len();
    held_back.then(|| {
        let source = Source::confirmed(book.title(), SourceText::WholeDwellingRate);
        let message = DwellingAirflowRequiredWaiting { known: Word::new(known) };
        Finding::new(Check::DwellingAirflowRequired, "dwelling", Verdict::Unknown, message, source)
            .todo(missing)
    })
}
