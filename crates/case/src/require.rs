//! Stage `require`: how much air each room and the dwelling must be rid of, by every method of the
//! book in force, of the books shown beside it, and by what somebody asked for.

use dewpath_job::model::{Given, Job, Operation, Room, RoomKind};
use dewpath_message::slot::{Name, Reference};
use dewpath_report::say::{
    AirflowRequired, AirflowRequiredKey, Equation, Judgement, Missing, SourceText, Todo, What,
};
use dewpath_report::{
    Check, Figure, Finding, Message, Provenance, Requirement, Source, Step, Triple, Verdict,
    WorkingInput,
};
use dewpath_rulebook::{
    AirflowMethod, Applies, Book, BookKind, DwellingAirflow, DwellingMethod, DwellingUse,
    RequiredAirflow, RoomFact, RoomUse, Ruled,
};
use dewpath_units::{Area, Length, Quantity, Stated, Uncertain, Volume};

use crate::given;
use crate::inputs::{Ask, Draw, Fallback, Inputs};
use crate::sample::{Sample, airflow};
use crate::source;
use crate::world::World;

/// What the stage hands on.
#[derive(Debug)]
pub struct Required {
    /// Every method, for the report.
    pub list: Vec<Requirement>,
    /// What governs each room, in the order of the job.
    pub rooms: Vec<RoomNeed>,
    /// Findings of this stage.
    pub findings: Vec<Finding>,
}

/// Size and need of one room.
#[derive(Debug)]
pub struct RoomNeed {
    /// Floor area, m².
    pub area: Option<Sample>,
    /// Volume, m³.
    pub volume: Option<Sample>,
    /// Flow that governs, m³/s.
    pub flow: Option<Sample>,
    /// Where it comes from.
    pub source: Source,
    /// Working of the flow.
    pub working: Vec<Step>,
}

/// Works out what is required.
pub fn require(job: &Job, world: &World, inputs: &mut Inputs) -> Required {
    let mut list = Vec::new();
    let mut findings = Vec::new();
    let rooms = job
        .rooms
        .iter()
        .map(|room| one_room(room, world, inputs, &mut list, &mut findings))
        .collect();
    dwelling(job, world, &mut list);
    Required { list, rooms, findings }
}

fn one_room(
    room: &Room,
    world: &World,
    inputs: &mut Inputs,
    list: &mut Vec<Requirement>,
    findings: &mut Vec<Finding>,
) -> RoomNeed {
    let (area, volume) = size(room, inputs);
    let operation = inputs.category(
        &ask(format!("room.{}.operation", room.id), What::Operation),
        &room.operation,
        &[Operation::Intermittent],
        &Source::practice(),
    );
    let size = Size {
        area: area.as_ref(),
        volume: volume.as_ref(),
        operation: operation.value(inputs, Draw::Likely),
    };
    let mut need = RoomNeed {
        flow: None,
        source: Source::judgement(Judgement::NothingRequired),
        working: Vec::new(),
        area: None,
        volume: None,
    };
    let books = world.rule_book.iter().chain(&world.also_show);
    for (index, book) in books.enumerate() {
        let in_force = index == 0 && world.rule_book.is_some();
        let guidance = book.kind() == BookKind::Guidance || !in_force;
        for method in book.required_airflow(&use_of(room, &size, Draw::Likely)) {
            let sample = flow_of(book, room, &size, &method, inputs);
            let working = working(room, &method, &size, sample.as_ref());
            let governs = !guidance && method.governs;
            let requirement = Requirement {
                room: room.id.clone(),
                method: method_key(method.method).to_owned(),
                airflow_l_s: sample.as_ref().map(Sample::litres),
                governs,
                guidance,
                source: source_of(book, method.airflow.as_ref()),
                working: working.clone(),
                missing: missing(&method),
            };
            if governs {
                need.flow = sample;
                need.source = requirement.source.clone();
                need.working = working;
            }
            list.push(requirement);
        }
    }
    asked(room, inputs, list, &mut need);
    if need.flow.is_none() {
        findings.push(nothing_required(room, world, list));
    }
    RoomNeed { area, volume, ..need }
}

/// What somebody asks for beyond the book.
fn asked(room: &Room, inputs: &mut Inputs, list: &mut Vec<Requirement>, need: &mut RoomNeed) {
    let Some(stated) = room.asked.as_ref().filter(|s| !s.value.is_unknown()) else { return };
    let id = inputs.quantity(
        &ask(format!("room.{}.asked", room.id), What::Asked),
        &Some(stated.clone()),
        airflow,
        &unused(),
    );
    let flow = Sample::of(inputs, |draw| inputs.value(id, draw));
    let source = Source::confirmed(SourceText::AskedInJob, "");
    let stricter = need.flow.as_ref().is_none_or(|by_book| flow.likely >= by_book.likely);
    if stricter {
        for other in list.iter_mut().filter(|other| other.room == room.id) {
            other.governs = false;
        }
        need.flow = Some(flow.clone());
        need.source = source.clone();
    }
    list.push(Requirement {
        room: room.id.clone(),
        method: "method.asked".to_owned(),
        airflow_l_s: Some(flow.litres()),
        governs: stricter,
        guidance: false,
        source,
        working: Vec::new(),
        missing: None,
    });
}

fn nothing_required(room: &Room, world: &World, list: &[Requirement]) -> Finding {
    let waiting =
        list.iter().filter(|r| r.room == room.id && !r.guidance).find_map(|r| r.missing.clone());
    let (key, todo) = match (&world.rule_book, waiting) {
        (None, _) => (AirflowRequiredKey::NoBook, vec![Message::from(Todo::NameBook)]),
        (Some(_), Some(missing)) => (AirflowRequiredKey::Waiting, vec![missing]),
        (Some(book), None) if book.kind() == BookKind::Guidance => {
            (AirflowRequiredKey::GuidanceOnly, vec![Message::from(Todo::NameBook)])
        }
        (Some(_), None) => (AirflowRequiredKey::NotInBook, vec![Message::from(Todo::AskAuthority)]),
    };
    let book = world.rule_book.as_ref().map_or("", |book| book.title());
    Finding {
        id: Check::AirflowRequired,
        subject: room.id.clone(),
        verdict: Verdict::Unknown,
        message: Message::from(AirflowRequired {
            key,
            room: Name::new(name(room)),
            book: Reference::new(book),
        }),
        figure: None,
        limit: None,
        chance: None,
        source: Source::confirmed(book, ""),
        working: Vec::new(),
        todo,
        overridden: None,
    }
}

/// Name of a room for people.
pub fn name(room: &Room) -> String {
    room.name.clone().unwrap_or_else(|| room.id.clone())
}

struct Size<'a> {
    operation: Operation,
    area: Option<&'a Sample>,
    volume: Option<&'a Sample>,
}

/// Floor area and volume as far as they are written; nothing is assumed.
fn size(room: &Room, inputs: &mut Inputs) -> (Option<Sample>, Option<Sample>) {
    let mut length = |key: &str, what: What, given: &Given<Length>| {
        let stated = given.as_ref().filter(|s| !s.value.is_unknown())?;
        Some(inputs.quantity(
            &ask(format!("room.{}.{key}", room.id), what),
            &Some(stated.clone()),
            Figure::LengthM,
            &unused(),
        ))
    };
    let sides = length("length", What::RoomLength, &room.length).zip(length(
        "width",
        What::RoomWidth,
        &room.width,
    ));
    let height = length("height", What::RoomHeight, &room.height);
    let area_id = known::<Area>(&room.floor_area).map(|stated| {
        inputs.quantity(
            &ask(format!("room.{}.floor_area", room.id), What::RoomArea),
            &Some(stated),
            Figure::AreaM2,
            &unused(),
        )
    });
    let volume_id = known::<Volume>(&room.volume).map(|stated| {
        inputs.quantity(
            &ask(format!("room.{}.volume", room.id), What::RoomVolume),
            &Some(stated),
            Figure::VolumeM3,
            &unused(),
        )
    });
    let area = match (area_id, sides) {
        (Some(id), _) => Some(Sample::of(inputs, |draw| inputs.value(id, draw))),
        (None, Some((a, b))) => {
            Some(Sample::of(inputs, |draw| inputs.value(a, draw) * inputs.value(b, draw)))
        }
        (None, None) => None,
    };
    let volume = match (volume_id, &area, height) {
        (Some(id), ..) => Some(Sample::of(inputs, |draw| inputs.value(id, draw))),
        (None, Some(area), Some(height)) => {
            Some(Sample::of(inputs, |draw| area.at(draw) * inputs.value(height, draw)))
        }
        _ => None,
    };
    (area, volume)
}

fn known<Q: Quantity>(given: &Given<Q>) -> Option<Stated<Uncertain<Q>>> {
    given.clone().filter(|stated| !stated.value.is_unknown())
}

fn ask(at: String, what: What) -> Ask<'static> {
    Ask { at, stream: None, what: Message::from(what), minutes: 2.0 }
}

/// A default that is never reached because the value is known to be written.
fn unused() -> Fallback {
    Fallback::even(0.0, 0.0, Source::practice())
}

fn use_of(room: &Room, size: &Size<'_>, draw: Draw) -> RoomUse {
    let count = |given: &dewpath_job::model::GivenCount| {
        given.as_ref().and_then(|stated| stated.value.exact())
    };
    let kind = match room.kind {
        RoomKind::Bathroom => dewpath_rulebook::RoomKind::Bathroom,
        RoomKind::ToiletRoom => dewpath_rulebook::RoomKind::ToiletRoom,
        RoomKind::Kitchen => dewpath_rulebook::RoomKind::Kitchen,
        RoomKind::Laundry => dewpath_rulebook::RoomKind::Laundry,
        RoomKind::SteamShower => dewpath_rulebook::RoomKind::SteamShower,
        RoomKind::Other => dewpath_rulebook::RoomKind::Other,
    };
    RoomUse {
        operation: Some(match size.operation {
            Operation::Intermittent => dewpath_rulebook::Operation::Intermittent,
            Operation::Continuous => dewpath_rulebook::Operation::Continuous,
        }),
        floor_area: size.area.map(|area| Area::from_m2(area.at(draw))),
        volume: size.volume.map(|volume| Volume::from_m3(volume.at(draw))),
        fixtures: dewpath_rulebook::Fixtures {
            toilets: count(&room.fixtures.toilets),
            showers: count(&room.fixtures.showers),
            tubs: count(&room.fixtures.tubs),
            jetted_tubs: count(&room.fixtures.jetted_tubs),
        },
        ..RoomUse::new(kind)
    }
}

/// Flow of one method, draw by draw where the room's size has a spread that matters to it.
fn flow_of(
    book: &Book,
    room: &Room,
    size: &Size<'_>,
    method: &RequiredAirflow,
    inputs: &Inputs,
) -> Option<Sample> {
    let likely = method.airflow.as_ref()?.value.m3_s();
    let by_size = matches!(method.method, AirflowMethod::PerArea | AirflowMethod::AirChanges);
    let spread = |sample: Option<&Sample>| sample.is_some_and(|s| !s.draws.is_empty());
    if !by_size || !(spread(size.area) || spread(size.volume)) {
        return Some(Sample::exact(likely));
    }
    Some(Sample::of(inputs, |draw| {
        book.required_airflow(&use_of(room, size, draw))
            .into_iter()
            .find(|other| other.method == method.method && other.operation == method.operation)
            .and_then(|other| other.airflow)
            .map_or(likely, |flow| flow.value.m3_s())
    }))
}

fn method_key(method: AirflowMethod) -> &'static str {
    match method {
        AirflowMethod::FixedRate => "method.fixed",
        AirflowMethod::PerArea => "method.per-area",
        AirflowMethod::PerFixture => "method.per-fixture",
        AirflowMethod::AirChanges => "method.air-changes",
    }
}

fn source_of<T>(book: &Book, ruled: Option<&Ruled<T>>) -> Source {
    ruled.map_or_else(|| Source::confirmed(book.title(), ""), source::ruled)
}

/// Where the area or volume of a room comes from: written as such, or worked out from its sides.
pub fn size_from<Q: Quantity>(written: &Given<Q>) -> Provenance {
    if given::is_known(written) { Provenance::Written } else { Provenance::Computed }
}

fn missing(method: &RequiredAirflow) -> Option<Message> {
    match method.applies {
        Applies::Unless(fact) => Some(Message::from(match fact {
            RoomFact::Operation => Missing::Operation,
            RoomFact::FloorArea => Missing::FloorArea,
            RoomFact::Volume => Missing::Volume,
            RoomFact::Fixtures => Missing::Fixtures,
            RoomFact::KitchenExhaust => Missing::KitchenExhaust,
            RoomFact::Cooker => Missing::Cooker,
            RoomFact::Enclosed => Missing::Enclosed,
        })),
        Applies::Yes | Applies::Instead => None,
    }
}

fn working(
    room: &Room,
    method: &RequiredAirflow,
    size: &Size<'_>,
    flow: Option<&Sample>,
) -> Vec<Step> {
    let result = flow.map(|sample| Figure::AirflowLS(sample.litres()));
    let source = method.airflow.as_ref().map_or_else(Source::practice, source::ruled);
    let input = |symbol: &str, what: What, figure: Figure| {
        WorkingInput::new(symbol, what, figure, Provenance::Written)
    };
    let (equation, inputs) = match method.method {
        AirflowMethod::FixedRate => (Equation::PrintedRate, Vec::new()),
        AirflowMethod::PerFixture => {
            let counts = [
                ("toilets", &room.fixtures.toilets),
                ("showers", &room.fixtures.showers),
                ("tubs", &room.fixtures.tubs),
                ("jetted tubs", &room.fixtures.jetted_tubs),
            ];
            let counted = counts.into_iter().filter_map(|(symbol, count)| {
                let (low, high) = given::count_bounds(count)?;
                let (low, high) = (f64::from(low), f64::from(high));
                let figure = Figure::Count(Triple { low, likely: 0.5 * (low + high), high });
                Some(input(symbol, What::Fixtures, figure))
            });
            (Equation::FixtureRates, counted.collect())
        }
        AirflowMethod::PerArea => (
            Equation::RatePerArea,
            size.area
                .map(|area| {
                    let figure = Figure::AreaM2(area.triple());
                    WorkingInput::new("A", What::RoomArea, figure, size_from(&room.floor_area))
                })
                .into_iter()
                .collect(),
        ),
        AirflowMethod::AirChanges => (
            Equation::AirChanges,
            size.volume
                .map(|volume| {
                    let figure = Figure::VolumeM3(volume.triple());
                    WorkingInput::new("V", What::RoomVolume, figure, size_from(&room.volume))
                })
                .into_iter()
                .collect(),
        ),
    };
    vec![Step { equation: equation.into(), inputs, result, source }]
}

fn dwelling(job: &Job, world: &World, list: &mut Vec<Requirement>) {
    let known = dwelling_use(job);
    let books = world.rule_book.iter().chain(&world.also_show);
    for (index, book) in books.enumerate() {
        let in_force = index == 0 && world.rule_book.is_some();
        let [fewest, most] = known.map(|known| book.dwelling_airflow(&known));
        for rate in most {
            let least = fewest.iter().find(|other| other.method == rate.method).unwrap_or(&rate);
            let asked = between(least.least.value.l_s(), rate.least.value.l_s());
            list.push(Requirement {
                room: String::new(),
                method: dwelling_key(rate.method).to_owned(),
                airflow_l_s: Some(asked),
                governs: rate.governs && in_force && book.kind() == BookKind::Rule,
                guidance: !in_force || book.kind() == BookKind::Guidance,
                source: source::ruled(&rate.least),
                working: vec![dwelling_working(&known, &rate, asked)],
                missing: None,
            });
        }
    }
}

/// What is known of the dwelling: at the least and at the most that is written of it.
fn dwelling_use(job: &Job) -> [DwellingUse; 2] {
    let area = given::bounds(&job.dwelling.floor_area).unzip();
    let bedrooms = given::count_bounds(&job.dwelling.bedrooms).unzip();
    [(area.0, bedrooms.0), (area.1, bedrooms.1)].map(|(floor_area, bedrooms)| DwellingUse {
        floor_area,
        bedrooms,
        ..DwellingUse::default()
    })
}

/// From the least to the most, the middle being as likely as any.
fn between(low: f64, high: f64) -> Triple {
    Triple { low, likely: f64::midpoint(low, high), high }
}

fn dwelling_key(method: DwellingMethod) -> &'static str {
    match method {
        DwellingMethod::Formula => "method.dwelling-formula",
        DwellingMethod::Table => "method.dwelling-table",
        DwellingMethod::PerArea => "method.dwelling-area",
        DwellingMethod::ByBedrooms => "method.dwelling-bedrooms",
        DwellingMethod::PerRoom => "method.dwelling-rooms",
    }
}

/// A whole-dwelling rate with the facts it was found from.
fn dwelling_working(known: &[DwellingUse; 2], rate: &DwellingAirflow, asked: Triple) -> Step {
    let input = |symbol: &str, what: What, figure: Figure| {
        WorkingInput::new(symbol, what, figure, Provenance::Written)
    };
    let [low, high] = known;
    let area = low.floor_area.zip(high.floor_area).map(|(low, high)| {
        input("A", What::DwellingArea, Figure::AreaM2(between(low.m2(), high.m2())))
    });
    let bedrooms = low.bedrooms.zip(high.bedrooms).map(|(low, high)| {
        input("N", What::Bedrooms, Figure::Count(between(f64::from(low), f64::from(high))))
    });
    Step {
        equation: match rate.method {
            DwellingMethod::Formula => "q = a A + b (N + 1)".into(),
            DwellingMethod::Table => "q = table(A, N)".into(),
            DwellingMethod::PerArea => "q = a A".into(),
            DwellingMethod::ByBedrooms => "q = row(N)".into(),
            DwellingMethod::PerRoom => Equation::OverRooms.into(),
        },
        inputs: area.into_iter().chain(bedrooms).collect(),
        result: Some(Figure::AirflowLS(asked)),
        source: source::ruled(&rate.least),
    }
}
