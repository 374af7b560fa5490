//! Whether the humidity that is written of a dwelling can be kept up by those who live in it.

use dewpath_case::Case;
use dewpath_case::given;
use dewpath_case::inputs::Draw;
use dewpath_message::Citation;
use dewpath_message::slot::{HumidityRatio, MassKg};
use dewpath_moisture::room::House;
use dewpath_report::say::{DwellingHumidity, Equation, Judgement, SourceText, Todo, What};
use dewpath_report::{Check, Finding, Provenance, Source, Step, Triple, Verdict, WorkingInput};

use super::model::Built;
use super::plan::Plan;
use super::winter::SUPPLY_WITHIN_G_M3;

/// A household that gives off more than so many times what it is taken to is no household. Judgement.
const ABSURD: f64 = 2.0;
const SECONDS_A_DAY: f64 = 86_400.0;

/// What the air of a dwelling carries beyond that outdoors, g/m³.
fn supply_g_m3(built: &Built) -> f64 {
    1000.0 * built.dry_density * (built.boundary.house_w - built.boundary.outdoor_w)
}

/// A written humidity that no household could keep up on a cold day through the leaks that are likely.
pub(super) fn beyond_household(
    case: &Case<'_>,
    plan: &Plan,
    built: impl Fn(Draw) -> Option<Built>,
) -> Option<Finding> {
    if !given::is_known(&case.job.dwelling.humidity) {
        return None;
    }
    let count = plan.inputs.draws() as usize;
    let needed = |draw| {
        let House::Zone { vapour_kg_s, .. } = built(draw)?.model.house else { return None };
        Some(vapour_kg_s * SECONDS_A_DAY)
    };
    let of_people = |draw| plan.inputs.value(plan.dwelling.moisture, draw);
    // Leaks that nobody measured may be smaller than they are taken to be: the air itself must carry more than that of houses does.
    let is_rich =
        |draw| built(draw).is_some_and(|built| supply_g_m3(&built) > SUPPLY_WITHIN_G_M3.1);
    let is_absurd =
        |draw| needed(draw).is_some_and(|kg| kg > ABSURD * of_people(draw)) && is_rich(draw);
    let likely = needed(Draw::Likely)?;
    let beyond = (0..count).filter(|&draw| is_absurd(Draw::At(draw))).count();
    if !is_absurd(Draw::Likely) || 2 * beyond < count {
        return None;
    }
    let people = of_people(Draw::Likely);
    let kg = |value: f64| MassKg(Triple::exact(value));
    let humidity = plan.inputs.value(plan.dwelling.humidity, Draw::Likely);
    let message = DwellingHumidity {
        humidity: HumidityRatio(Triple::exact(humidity)),
        needed: kg(likely),
        people: kg(people),
    };
    let step = Step {
        equation: Equation::MoistureSupply.into(),
        inputs: vec![
            plan.inputs.in_working("RH_house", plan.dwelling.humidity),
            plan.inputs.in_working("RH_e", plan.dwelling.outdoor_rh),
            plan.inputs.in_working("T_e", plan.dwelling.outdoor),
            WorkingInput::new(
                "G_people",
                What::DwellingMoisture,
                kg(people).into(),
                Provenance::Computed,
            ),
        ],
        result: Some(kg(likely).into()),
        source: Source::memory(Citation("ISO 13788"), SourceText::PeopleOverLeaks),
    };
    let source = Source::judgement(Judgement::TwiceTheHousehold);
    let found =
        Finding::new(Check::DwellingHumidity, "dwelling", Verdict::Caution, message, source);
    Some(
        found
            .figure(kg(likely))
            .limit(kg(ABSURD * people))
            .step(step)
            .todo(Todo::HygrometerOnColdDay),
    )
}
