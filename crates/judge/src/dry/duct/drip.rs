//! What was seen dripping: room air round the housing, and which of the look-alikes it is.

use dewpath_air::leakage::ORIFICE;
use dewpath_air::wind::GRAVITY_M_S2;
use dewpath_case::Case;
use dewpath_case::given;
use dewpath_case::inputs::Draw;
use dewpath_case::sample::litres;
use dewpath_job::model::{Season as Told, Surroundings, Symptom, SymptomKind, WetSide};
use dewpath_message::slot::{AirflowLS, AreaM2, Word};
use dewpath_moisture::duct::causes::{
    Cause, Clue, Evidence, FanUse, Question, Season, Suspect, WetPlace, look_next, rank,
};
use dewpath_report::say::{
    DripCause, DripCauseAlike, DripCauseKey, DripCauseUnknown, DripClue, EquationDripPoints,
    HousingLeak, HousingLeakKey, HousingLeakSuspected, Judgement, Todo, TodoInsulate,
    TodoWrapVapourTight, What,
};
use dewpath_report::{
    Check, Figure, Finding, LookNext, Message, Provenance, Source, Step, Triple, Verdict,
    WorkingInput,
};
use dewpath_units::Temperature;

use super::findings::is_water;
use super::idle::Idle;
use super::plan::{celsius, ducts};
use crate::law;

/// Gap from which room air counts as leaking round a housing, m². Judgement: two square centimetres.
const OPEN_M2: f64 = 2e-4;
/// Flow coefficient of a gap; sharp-edged (common practice, no source).
const GAP: f64 = 0.6;
/// Pressure of a leakage test, Pa.
const TEST_PA: f64 = 50.0;
/// Outdoor temperature where nobody wrote it, °C. Judgement: a winter day.
const WINTER_C: f64 = -4.0;
/// Height of a storey, m. Common practice, no source.
const STOREY_M: f64 = 2.5;
/// What is known of a run in the cold, for the questions about a drip.
#[derive(Debug, Clone, Copy)]
pub(super) struct Seen {
    pub coldest_c: f64,
    pub room_dew_c: f64,
}

/// The gap round the housing.
#[derive(Default)]
pub(super) struct Housing {
    pub findings: Vec<Finding>,
    /// Whether it is sealed, where anything is known of it.
    pub sealed: Option<bool>,
}

/// Whether the space over the room of a fan is cold: what surrounds the first piece of its run.
fn cold_above(case: &Case<'_>, fan: usize) -> bool {
    let id = &case.job.fans[fan].id;
    let first = case.job.runs.iter().find(|run| run.from == *id);
    let Some((_, duct)) = first.and_then(|run| ducts(run).into_iter().next()) else { return false };
    given::options(&duct.place).iter().any(|place| {
        matches!(place, Surroundings::Attic | Surroundings::Buried | Surroundings::Outdoors)
    })
}

/// Room air that leaks round the housing of a fan into a cold space: from the opening and the housing where both are
/// written, else from joints that are said to be open where the outside was found wet.
pub(super) fn housing(case: &Case<'_>) -> Housing {
    let mut housing = Housing::default();
    let job = case.job;
    for fan in (0..job.fans.len()).filter(|&fan| cold_above(case, fan)) {
        let open = job
            .runs
            .iter()
            .any(|run| run.from == job.fans[fan].id && given::yes(&run.sealed) == Some(false));
        let sealed = job
            .runs
            .iter()
            .any(|run| run.from == job.fans[fan].id && given::yes(&run.sealed) == Some(true));
        let gap = job.existing.opening.zip(job.fans[fan].data.housing).map(|(opening, housing)| {
            (opening[0].m() * opening[1].m() - housing[0].m() * housing[1].m()).max(0.0)
        });
        let wet_outside = job.symptoms.iter().any(|symptom| {
            is_water(symptom.kind)
                && given::member(&symptom.season) != Some(Told::Summer)
                && (given::member(&symptom.wet) == Some(WetSide::Outside)
                    || symptom.kind == SymptomKind::Frost)
        });
        let id = &job.fans[fan].id;
        match gap {
            Some(gap) => {
                housing.sealed = Some(gap <= OPEN_M2 && housing.sealed != Some(false));
                housing.findings.push(gap_finding(case, id, gap));
            }
            None if open => {
                housing.sealed = Some(false);
                if wet_outside {
                    housing.findings.push(suspected(id));
                }
            }
            None if sealed => housing.sealed = housing.sealed.or(Some(true)),
            None => {}
        }
    }
    housing
}

fn suspected(fan: &str) -> Finding {
    let source = Source::judgement(Judgement::JointsOpenInCold);
    let message = HousingLeakSuspected {};
    Finding::new(Check::HousingLeak, fan, Verdict::Caution, message, source).todo(Todo::SealHousing)
}

/// Air through a gap at the stack of a winter day, and at the pressure of a leakage test.
fn gap_finding(case: &Case<'_>, fan: &str, gap_m2: f64) -> Finding {
    let indoor_c = case.inputs.value(case.system.air.indoor, Draw::Likely) - 273.15;
    let outdoor_c = celsius(&case.job.site.outdoor).unwrap_or(WINTER_C).min(indoor_c);
    let storeys = given::count_bounds(&case.job.dwelling.storeys).map_or(1, |(low, _)| low.max(1));
    let height = 0.5 * STOREY_M * f64::from(storeys);
    let density = 353.0 / (outdoor_c + 273.15);
    let stack_pa = density * GRAVITY_M_S2 * height * (indoor_c - outdoor_c) / (indoor_c + 273.15);
    let flow = |pa: f64| GAP * gap_m2 * (2.0 * pa / 1.2).sqrt();
    let told = |pa: f64| AirflowLS(Triple::exact(litres(flow(pa))));
    let (at_stack, at_test) = (told(stack_pa), told(TEST_PA));
    let open = gap_m2 > OPEN_M2;
    let (verdict, key) = if open {
        (Verdict::Caution, HousingLeakKey::Found)
    } else {
        (Verdict::Holds, HousingLeakKey::Holds)
    };
    let area = AreaM2(Triple::exact(gap_m2));
    let message = HousingLeak { key, gap: area, flow: at_stack, test: at_test };
    let input = |symbol: &str, what: What, figure: Figure, from: Provenance| {
        WorkingInput::new(symbol, what, figure, from)
    };
    let step = |what: What, pa: f64, result: Figure| {
        let inputs = vec![
            input("A", What::HousingGap, area.into(), Provenance::Written),
            input("p", what, Figure::PressurePa(Triple::exact(pa)), Provenance::Computed),
        ];
        law::step(&ORIFICE, inputs, Some(result))
    };
    let source = Source::judgement(Judgement::GapIntoCold);
    let made = Finding::new(Check::HousingLeak, fan, verdict, message, source)
        .figure(at_stack)
        .limit(area)
        .step(step(What::Stack, stack_pa, at_stack.into()))
        .step(step(What::TestPressure, TEST_PA, at_test.into()));
    if open { made.todo(Todo::SealHousing) } else { made }
}

/// Causes of every drip that was seen, and what to look at next.
pub(super) fn drips(
    case: &Case<'_>,
    seen: &[Seen],
    idle: &Idle,
    housing: &Housing,
) -> (Vec<Finding>, Vec<LookNext>) {
    let mut findings = Vec::new();
    let mut next = Vec::new();
    for symptom in case.job.symptoms.iter().filter(|symptom| is_water(symptom.kind)) {
        let evidence = evidence(symptom, seen, idle, housing);
        let suspects = rank(&evidence);
        let question = question(&evidence, &suspects);
        findings.push(finding(symptom, &evidence, &suspects, question));
        next.extend(question.map(|question| asked(symptom, question)));
    }
    (findings, next)
}

fn evidence(symptom: &Symptom, seen: &[Seen], idle: &Idle, housing: &Housing) -> Evidence {
    let season = match given::member(&symptom.season) {
        Some(Told::Winter) => Some(Season::Cold),
        Some(Told::Summer) => Some(Season::Warm),
        Some(Told::Any) | None => None,
    };
    let wet = given::member(&symptom.wet).map(|side| match side {
        WetSide::Inside => WetPlace::InsideDuct,
        WetSide::Outside => WetPlace::OutsideDuct,
    });
    let warm = season == Some(Season::Warm);
    // What was seen beats what was computed: an outside that is wet is no warmer than the dew point around it.
    let outside = idle
        .outside_c
        .zip(idle.around_dew_c)
        .filter(|(outside, dew)| warm && (wet != Some(WetPlace::OutsideDuct) || outside < dew));
    let coldest = seen.iter().min_by(|a, b| a.coldest_c.total_cmp(&b.coldest_c));
    let celsius = |t: Option<f64>| t.map(Temperature::from_c);
    Evidence {
        season,
        comes_with_thaw: given::yes(&symptom.thaw),
        comes_with_rain: given::yes(&symptom.rain),
        fan_use: given::yes(&symptom.fan_on)
            .map(|on| if on { FanUse::DuringOrAfter } else { FanUse::Idle }),
        wet,
        flap_leaks: idle.flap_leaks,
        housing_sealed: housing.sealed,
        inner_wall: celsius(if warm { idle.wall_c } else { coldest.map(|run| run.coldest_c) }),
        outer_surface: celsius(outside.map(|(outside, _)| outside)),
        room_dew_point: celsius(coldest.map(|run| run.room_dew_c).filter(|_| !warm)),
        outdoor_dew_point: celsius(idle.outdoor_dew_c.filter(|_| warm)),
        around_dew_point: celsius(outside.map(|(_, dew)| dew)),
    }
}

/// What is asked next. Thaw and rain cost a question and part most: in winter first whether frost melted, where there can be any,
/// then whether the roof leaks.
fn question(evidence: &Evidence, suspects: &[Suspect]) -> Option<Question> {
    let may_be_frost = suspects.iter().any(|suspect| suspect.cause == Cause::MeltingFrost);
    if evidence.season == Some(Season::Cold) && evidence.comes_with_thaw.is_none() && may_be_frost {
        return Some(Question::Thaw);
    }
    // Of two that fit alike, and neither is the roof, what parts them is asked before rain.
    let are_alike = matches!(suspects, [first, second, ..]
        if first.points == second.points && ![first.cause, second.cause].contains(&Cause::RoofLeak));
    if let Some(parts) = look_next(evidence).filter(|_| are_alike) {
        return Some(parts);
    }
    if evidence.comes_with_rain.is_none() {
        return Some(Question::Rain);
    }
    if suspects.is_empty() && evidence.season.is_none() {
        return Some(Question::Season);
    }
    look_next(evidence)
}

fn sentence(cause: Cause) -> DripCauseKey {
    match cause {
        Cause::RoofLeak => DripCauseKey::Roof,
        Cause::ShowerVapour => DripCauseKey::ShowerInDuct,
        Cause::DriftingVapour => DripCauseKey::DriftInDuct,
        Cause::HousingLeak => DripCauseKey::Housing,
        Cause::HumidBackflow => DripCauseKey::OutdoorAir,
        Cause::OutsideSweating => DripCauseKey::SweatingOutdoorAir,
        Cause::MeltingFrost => DripCauseKey::FrostInDuct,
    }
}

/// What is looked at and mended for a cause, the cheapest first.
fn cures(cause: Cause, evidence: &Evidence) -> Vec<Message> {
    let flap = |look: Todo| match evidence.flap_leaks {
        None => Some(look),
        Some(true) => Some(Todo::TightFlap),
        Some(false) => None,
    };
    let seal = (evidence.housing_sealed != Some(true)).then_some(Todo::SealHousing);
    let (first, then, last): (Option<Todo>, Option<Todo>, Option<Message>) = match cause {
        Cause::RoofLeak => (Some(Todo::LookRoof), None, None),
        Cause::ShowerVapour => (None, None, Some(TodoInsulate { needed: None }.into())),
        Cause::MeltingFrost => {
            (flap(Todo::LookFlapAndWrap), None, Some(TodoInsulate { needed: None }.into()))
        }
        Cause::DriftingVapour | Cause::HumidBackflow => (Some(Todo::TightFlap), None, None),
        Cause::HousingLeak => (Some(Todo::SealHousing), None, None),
        Cause::OutsideSweating => {
            (flap(Todo::LookFlapAndSeal), seal, Some(TodoWrapVapourTight { needed: None }.into()))
        }
    };
    [first.map(Message::from), then.map(Message::from), last].into_iter().flatten().collect()
}

fn word(cause: Cause) -> &'static str {
    match cause {
        Cause::RoofLeak => "cause-roof",
        Cause::ShowerVapour => "cause-shower",
        Cause::DriftingVapour => "cause-drift",
        Cause::HousingLeak => "cause-housing",
        Cause::HumidBackflow => "cause-backflow",
        Cause::OutsideSweating => "cause-sweating",
        Cause::MeltingFrost => "cause-frost",
    }
}

/// What fits best and what comes next; two that fit alike are told as alike, and nothing is mended before they are parted.
fn finding(
    symptom: &Symptom,
    evidence: &Evidence,
    suspects: &[Suspect],
    question: Option<Question>,
) -> Finding {
    let source = Source::judgement(Judgement::CluesWeighed);
    let Some(first) = suspects.first() else {
        let message = Message::from(DripCauseUnknown {});
        let made = Finding::new(Check::DripCause, &symptom.id, Verdict::Unknown, message, source);
        return made.todo(Todo::TellTheDrip);
    };
    let named = |suspect: &Suspect| Word::new(word(suspect.cause));
    let alike = suspects.get(1).filter(|second| second.points == first.points);
    let message: Message = match alike {
        Some(second) => DripCauseAlike {
            first: named(first),
            next: named(second),
            parts: look_next(evidence).map(|question| Word::new(what(question).key())),
        }
        .into(),
        None => DripCause { key: sentence(first.cause), next: suspects.get(1).map(named) }.into(),
    };
    let mut made =
        Finding::new(Check::DripCause, &symptom.id, Verdict::Caution, message, source.clone());
    made.working = suspects
        .iter()
        .zip(["points-of-first", "points-of-second"])
        .map(|(suspect, of)| weighed(suspect, of, &source))
        .collect();
    made.todo.extend(match question {
        Some(Question::Thaw) => Some(Message::from(Todo::AskThaw)),
        Some(Question::Rain) => Some(Message::from(Todo::AskRain)),
        _ => None,
    });
    if alike.is_none() || question.is_none() {
        made.todo.extend(cures(first.cause, evidence));
    }
    made
}

/// What speaks for a suspect and against it.
fn weighed(suspect: &Suspect, of: &str, source: &Source) -> Step {
    let one = |&(clue, weight): &(Clue, i32), symbol: &str| {
        let weight = Figure::Count(Triple::exact(f64::from(weight)));
        WorkingInput::new(symbol, clue_key(clue), weight, provenance(clue))
    };
    let inputs = suspect
        .speaks_for
        .iter()
        .map(|clue| one(clue, "for"))
        .chain(suspect.speaks_against.iter().map(|clue| one(clue, "against")))
        .collect();
    Step {
        equation: EquationDripPoints { of: Word::new(of) }.into(),
        inputs,
        result: Some(Figure::Count(Triple::exact(f64::from(suspect.points)))),
        source: source.clone(),
    }
}

/// Surfaces and dew points are computed; all else is told or seen.
fn provenance(clue: Clue) -> Provenance {
    match clue {
        Clue::InnerBelowRoomDew
        | Clue::InnerAboveRoomDew
        | Clue::InnerFrosts
        | Clue::InnerFrostless
        | Clue::InnerBelowOutdoorDew
        | Clue::InnerAboveOutdoorDew
        | Clue::OuterBelowDew
        | Clue::OuterAboveDew => Provenance::Computed,
        _ => Provenance::Written,
    }
}

fn clue_key(clue: Clue) -> DripClue {
    match clue {
        Clue::Cold => DripClue::Cold,
        Clue::Mild => DripClue::Mild,
        Clue::Warm => DripClue::Warm,
        Clue::Thaw => DripClue::Thaw,
        Clue::NoThaw => DripClue::NoThaw,
        Clue::Rain => DripClue::Rain,
        Clue::NoRain => DripClue::NoRain,
        Clue::InUse => DripClue::InUse,
        Clue::Idle => DripClue::Idle,
        Clue::WetInside => DripClue::WetInside,
        Clue::WetOutside => DripClue::WetOutside,
        Clue::WetHousing => DripClue::WetHousing,
        Clue::WetRoof => DripClue::WetRoof,
        Clue::FlapLeaks => DripClue::FlapLeaks,
        Clue::FlapTight => DripClue::FlapTight,
        Clue::HousingOpen => DripClue::HousingOpen,
        Clue::HousingSealed => DripClue::HousingSealed,
        Clue::InnerBelowRoomDew => DripClue::InnerBelowRoomDew,
        Clue::InnerAboveRoomDew => DripClue::InnerAboveRoomDew,
        Clue::InnerFrosts => DripClue::InnerFrosts,
        Clue::InnerFrostless => DripClue::InnerFrostless,
        Clue::InnerBelowOutdoorDew => DripClue::InnerBelowOutdoorDew,
        Clue::InnerAboveOutdoorDew => DripClue::InnerAboveOutdoorDew,
        Clue::OuterBelowDew => DripClue::OuterBelowDew,
        Clue::OuterAboveDew => DripClue::OuterAboveDew,
    }
}

fn what(question: Question) -> What {
    match question {
        Question::Season => What::DripSeason,
        Question::Thaw => What::DripThaw,
        Question::Rain => What::DripRain,
        Question::FanUse => What::DripFan,
        Question::WetPlace => What::DripWet,
        Question::Flap => What::FlapLeak,
        Question::Housing => What::HousingGap,
        Question::InnerWallAndRoom | Question::InnerWallAndOutdoors => What::InnerWall,
        Question::OuterSurface => What::OuterSurface,
    }
}

/// Where the answer to a question is written, and how long it takes.
fn asked(symptom: &Symptom, question: Question) -> LookNext {
    let at = |key: &str| format!("symptom.{}.{key}", symptom.id);
    let (at, minutes) = match question {
        Question::Season => (at("season"), 2.0),
        Question::Thaw => (at("thaw"), 2.0),
        Question::Rain => (at("rain"), 2.0),
        Question::FanUse => (at("fan_on"), 2.0),
        Question::WetPlace => (at("wet"), 15.0),
        Question::Flap => ("terminal".to_owned(), 15.0),
        Question::Housing => ("existing.opening".to_owned(), 15.0),
        Question::InnerWallAndRoom | Question::InnerWallAndOutdoors | Question::OuterSurface => {
            ("run".to_owned(), 30.0)
        }
    };
    LookNext {
        at,
        what: Message::from(what(question)),
        settles_ratio: 1.0,
        effort_h: minutes / 60.0,
        finding: Check::DripCause,
        subject: symptom.id.clone(),
    }
}
