//! How far the exhausts draw the house down at each appliance, against its limit.
//!
//! What is judged is what the exhausts change: indoors minus outdoors with every exhaust on, less the
//! same with all of them off, each from a balance of flows in the same weather. That is what a
//! worst-case test reads, whose baseline is taken with the exhausts off; a chimney that is warm stands
//! in the same stack as the house.

use dewpath_air::curve::MonotoneCubic;
use dewpath_air::leakage::BALANCE;
use dewpath_case::Case;
use dewpath_case::given;
use dewpath_case::inputs::Draw;
use dewpath_case::sample::Sample;
use dewpath_case::source;
use dewpath_case::system::instance::{LEAK_EXPONENT, Trouble};
use dewpath_case::system::rooms_of_fan;
use dewpath_job::model::{Appliance, ApplianceKind, BuildState, Draft, Job, SpillageResult};
use dewpath_message::Citation;
use dewpath_message::slot::{AirflowLS, AreaM2, ChanceRatio, Name, PressurePa, Word};
use dewpath_report::say::{
    Equation, HousePressure, HousePressureKey, HouseSpillage, HouseSpillageKey, SourceText, Todo,
    TodoMakeUpOpening, What,
};
use dewpath_report::{
    Check, Figure, Finding, LookNext, Message, PressureResult, Provenance, Source, Standing, Step,
    Triple, Verdict, WorkingInput,
};
use dewpath_rulebook::{Book, Ruled, Venting};
use dewpath_units::{Pressure, sort};

use super::ask::Asked;
use super::make_up;
use super::network::{House, Running, WEATHERS, Weather};
use crate::law;
use crate::look_next;
use crate::look_next::{Open, share};
use crate::verdict::{REMEMBERED, by_chance_at, settled};

/// Draws that the house is balanced in.
pub(crate) const HOUSE_DRAWS: u32 = 256;

/// A published table of limits for houses with every exhaust on, Pa: an energy auditor's page, as in
/// the guidance book `trade-guideline`. It stands in where no named book has a limit: an appliance
/// that spills into the house is a physical need broken, whatever book is in force.
const PUBLISHED: [(Venting, f64); 5] = [
    (Venting::NaturalWaterHeater, 2.0),
    (Venting::NaturalSharedVent, 3.0),
    (Venting::NaturalOrInducedHeater, 5.0),
    (Venting::PowerVented, 15.0),
    (Venting::Sealed, 25.0),
];

/// Where an appliance stands: in the dwelling, or in a served room by index.
type Place = Option<usize>;

/// Limit of one appliance.
pub struct Limit {
    /// Appliance id.
    pub appliance: String,
    /// Where it stands.
    pub(crate) place: Place,
    /// Limit for each way of venting that is possible, strictest first, Pa below outdoors.
    options: Vec<f64>,
    source: Source,
    /// Limit by book or table alone.
    by_book: f64,
    /// What somebody asks for in the job.
    asked: Option<f64>,
    /// Whether flue gas may come back into the house there.
    may_spill: bool,
}

impl Limit {
    /// Strictest limit, Pa below outdoors.
    pub fn strictest(&self) -> f64 {
        self.options.first().copied().unwrap_or(f64::INFINITY)
    }

    /// Chance that a depression of these draws is within it, over the ways of venting too.
    fn chance(&self, drawn_down: &[f64]) -> f64 {
        self.chance_at(drawn_down, 1.0)
    }

    /// Whether it stands more than a natural flue does: there, what holds at half the limit rests on no leak that nobody measured.
    fn is_no_natural_draft(&self) -> bool {
        self.strictest() > NATURAL_DRAFT_PA
    }

    /// What drawing it down too far amounts to: a vent that is fan-driven or closed to the room gives no flue gas back.
    fn broken(&self) -> Verdict {
        if self.may_spill { Verdict::Fails } else { Verdict::Caution }
    }

    /// The same where the limit is so many times as strict.
    fn chance_at(&self, drawn_down: &[f64], strict: f64) -> f64 {
        let of = |limit: &f64| share(&within(drawn_down, *limit / strict));
        self.options.iter().map(of).sum::<f64>() / self.options.len().max(1) as f64
    }
}

/// Draws whose depression is within a limit; one without an answer is not.
fn within(drawn_down: &[f64], limit: f64) -> Vec<bool> {
    drawn_down.iter().map(|&pa| pa <= limit + 1e-9).collect()
}

/// The most that an appliance with a natural or induced draft stands, Pa. Source: limits of depressurisation by appliance (from memory).
const NATURAL_DRAFT_PA: f64 = 5.0;

/// Everything the house stage knows of pressures.
pub(crate) struct Pressures {
    /// For the report.
    pub results: Vec<PressureResult>,
    /// Findings on appliances.
    pub findings: Vec<Finding>,
    /// What would settle those that are open.
    pub look_next: Vec<LookNext>,
    /// Limits, for candidates.
    pub limits: Vec<Limit>,
    /// Weather that is worst in the dwelling.
    pub worst: Weather,
}

/// Pressures at one place.
struct AtPlace {
    worst: Weather,
    on: Sample,
    off: Sample,
    calm_on: Sample,
    calm_off: Sample,
    taken: Sample,
}

impl AtPlace {
    /// How far the exhausts draw the place down, Pa.
    fn drawn_down(&self) -> Sample {
        self.off.with(&self.on, |off, on| off - on)
    }
}

/// The house with the doors of the served rooms as they are worst for an appliance: open, where it
/// stands in the dwelling, since the fans then draw more from there; shut, where it stands in a served
/// room, which is then drawn down further than the rest.
pub(crate) struct Houses<'a> {
    /// Doors open.
    pub open: House<'a>,
    /// Doors shut, where an appliance stands in a served room.
    pub shut: Option<House<'a>>,
}

impl<'a> Houses<'a> {
    fn of(&mut self, place: Place) -> &mut House<'a> {
        match (place, &mut self.shut) {
            (Some(_), Some(shut)) => shut,
            _ => &mut self.open,
        }
    }

    /// The one in which candidates are judged: doors shut, where any appliance asks for that.
    pub(crate) fn for_candidates(&mut self) -> &mut House<'a> {
        self.of(Some(0))
    }
}

/// Balances the house and judges every appliance.
pub(crate) fn pressures(
    case: &Case<'_>,
    asked: &Asked,
    houses: &mut Houses<'_>,
) -> Result<Pressures, Trouble> {
    let limits = limits(case);
    let mut rooms: Vec<Place> = Vec::new();
    for limit in &limits {
        if limit.place.is_some() && !rooms.contains(&limit.place) {
            rooms.push(limit.place);
        }
    }
    let mut places: Vec<Place> = vec![None];
    let mut at = balance_all(case, &mut houses.open, &places)?;
    if !rooms.is_empty() {
        at.extend(balance_all(case, houses.of(rooms[0]), &rooms)?);
        places.extend(rooms);
    }
    let mut found = Pressures {
        results: Vec::new(),
        findings: Vec::new(),
        look_next: Vec::new(),
        worst: at[0].worst,
        limits: Vec::new(),
    };
    for limit in &limits {
        let index = places.iter().position(|place| *place == limit.place).unwrap_or(0);
        found.results.push(result(&limit.appliance, Some(limit), &at[index]));
        let (finding, looks) = judge(case, asked, houses.of(limit.place), limit, &at[index]);
        if let Some(tested) = tested(case.job, &limit.appliance, &finding) {
            found.findings.push(tested);
        } else {
            found.findings.push(finding);
            found.look_next.extend(looks);
        }
    }
    if limits.is_empty() {
        found.results.push(result("dwelling", None, &at[0]));
    }
    found.limits = limits;
    Ok(found)
}

/// Each place in the weather that is worst for it at the likely values, and in calm air.
fn balance_all(
    case: &Case<'_>,
    house: &mut House<'_>,
    places: &[Place],
) -> Result<Vec<AtPlace>, Trouble> {
    house.load(Draw::Likely)?;
    let mut by_weather = Vec::with_capacity(WEATHERS.len());
    for weather in WEATHERS {
        by_weather.push(both(house, weather, places)?);
    }
    let empty = |likely: f64| Sample { likely, draws: Vec::new() };
    let calm = WEATHERS.iter().position(|weather| *weather == Weather::Calm).unwrap_or(0);
    let mut at = Vec::with_capacity(places.len());
    for index in 0..places.len() {
        let down = |w: &usize| by_weather[*w].off[index] - by_weather[*w].on[index];
        let worst = (0..WEATHERS.len()).max_by(|a, b| down(a).total_cmp(&down(b))).unwrap_or(calm);
        let (at_worst, at_calm) = (&by_weather[worst], &by_weather[calm]);
        at.push(AtPlace {
            worst: WEATHERS[worst],
            on: empty(at_worst.on[index]),
            off: empty(at_worst.off[index]),
            calm_on: empty(at_calm.on[index]),
            calm_off: empty(at_calm.off[index]),
            taken: empty(at_worst.taken),
        });
    }
    for i in 0..case.inputs.draws().min(HOUSE_DRAWS) as usize {
        one_draw(house, Draw::At(i), places, &mut at);
    }
    Ok(at)
}

/// Pressures of every place with exhausts on and off, and the air they take with them on.
struct Both {
    on: Vec<f64>,
    off: Vec<f64>,
    taken: f64,
}

fn both(house: &mut House<'_>, weather: Weather, places: &[Place]) -> Result<Both, Trouble> {
    let pressures = |house: &House<'_>, whole: f64| -> Vec<f64> {
        places.iter().map(|place| place.map_or(whole, |room| house.room_pa(room))).collect()
    };
    let whole = house.balance(Running::All, weather)?;
    let on = pressures(house, whole);
    let taken = house.taken_m3_s();
    let whole = house.balance(Running::Nothing, weather)?;
    Ok(Both { on, off: pressures(house, whole), taken })
}

/// A draw without an answer is kept as not a number and counts as not within any limit.
fn one_draw(house: &mut House<'_>, draw: Draw, places: &[Place], at: &mut [AtPlace]) {
    let loaded = house.load(draw).is_ok();
    let solved: Vec<Option<Both>> = WEATHERS
        .iter()
        .map(|&weather| {
            let used = weather == Weather::Calm || at.iter().any(|one| one.worst == weather);
            (loaded && used).then(|| both(house, weather, places).ok()).flatten()
        })
        .collect();
    let of = |weather: Weather| {
        WEATHERS.iter().position(|w| *w == weather).and_then(|w| solved[w].as_ref())
    };
    for (index, one) in at.iter_mut().enumerate() {
        let (worst, calm) = (of(one.worst), of(Weather::Calm));
        let value = |both: Option<&Both>, pick: fn(&Both, usize) -> f64| {
            both.map_or(f64::NAN, |both| pick(both, index))
        };
        one.on.draws.push(value(worst, |both, index| both.on[index]));
        one.off.draws.push(value(worst, |both, index| both.off[index]));
        one.calm_on.draws.push(value(calm, |both, index| both.on[index]));
        one.calm_off.draws.push(value(calm, |both, index| both.off[index]));
        one.taken.draws.push(value(worst, |both, _| both.taken));
    }
}

fn result(appliance: &str, limit: Option<&Limit>, at: &AtPlace) -> PressureResult {
    PressureResult {
        appliance: appliance.to_owned(),
        indoor_minus_outdoor_pa: at.on.triple(),
        by_exhausts_pa: at.drawn_down().map(|pa| 0.0 - pa).triple(),
        calm_pa: at.calm_on.triple(),
        exhausts_off_pa: at.calm_off.triple(),
        limit_pa: limit.map(Limit::strictest).filter(|pa| pa.is_finite()).map(|pa| -pa),
        source: limit.map(|limit| limit.source.clone()),
        exhaust_l_s: at.taken.litres(),
        worst: at.worst.key().to_owned(),
    }
}

/// Limits of all appliances that burn something.
pub(crate) fn limits(case: &Case<'_>) -> Vec<Limit> {
    case.job.dwelling.appliances.iter().filter_map(|appliance| limit(case, appliance)).collect()
}

/// Ways of venting that what is written leaves open; none for what burns nothing. A fireplace or stove
/// stands in no printed table and is taken as a heater on natural draft.
fn ventings(appliance: &Appliance) -> Vec<Venting> {
    let or = |given: &[Draft], all: &[Draft]| {
        if given.is_empty() { all.to_vec() } else { given.to_vec() }
    };
    let drafts = or(
        given::options(&appliance.draft),
        &[Draft::Natural, Draft::Induced, Draft::PowerVented, Draft::Sealed],
    );
    let kinds = match given::options(&appliance.kind) {
        [] => vec![ApplianceKind::WaterHeater, ApplianceKind::Furnace],
        some => some.to_vec(),
    };
    let mut list = Vec::new();
    for draft in drafts {
        for kind in &kinds {
            let venting = match (draft, kind) {
                (Draft::Electric, _) => continue,
                (Draft::Sealed, _) => Venting::Sealed,
                (Draft::PowerVented, _) => Venting::PowerVented,
                (Draft::Natural, ApplianceKind::WaterHeater) => Venting::NaturalWaterHeater,
                (Draft::Natural | Draft::Induced, _) => Venting::NaturalOrInducedHeater,
            };
            if !list.contains(&venting) {
                list.push(venting);
            }
        }
    }
    list
}

/// Whether an appliance may draw its flue gas back into the house.
pub(crate) fn may_spill(appliance: &Appliance) -> bool {
    let calm = |venting: &Venting| matches!(venting, Venting::Sealed | Venting::PowerVented);
    ventings(appliance).iter().any(|venting| !calm(venting))
}

fn limit(case: &Case<'_>, appliance: &Appliance) -> Option<Limit> {
    let ventings = ventings(appliance);
    let mut found: Vec<(f64, Source)> =
        ventings.iter().map(|&venting| of_venting(case, venting)).collect();
    sort::by(&mut found, |a, b| a.0.total_cmp(&b.0));
    let (by_book, book_source) = found.first()?.clone();
    let asked = given::bounds(&appliance.limit).map(|(low, _)| low.pa().abs());
    let stricter = asked.filter(|pa| *pa < by_book);
    let options = match stricter {
        Some(pa) => vec![pa],
        None => found.iter().map(|(pa, _)| *pa).collect(),
    };
    let source = match stricter {
        Some(_) => Source::confirmed(SourceText::AskedInJob, ""),
        None => book_source,
    };
    let place = appliance.place.as_ref();
    let place = place.and_then(|id| case.job.rooms.iter().position(|room| room.id == *id));
    let may_spill = may_spill(appliance);
    Some(Limit {
        appliance: appliance.id.clone(),
        place,
        options,
        source,
        by_book,
        asked,
        may_spill,
    })
}

/// The strictest limit of the named books that was read in print; then the published table; then
/// what is remembered.
fn of_venting(case: &Case<'_>, venting: Venting) -> (f64, Source) {
    let general = match venting {
        Venting::PowerVented | Venting::Sealed | Venting::NotSpillageProne => {
            Venting::NotSpillageProne
        }
        _ => Venting::SpillageProne,
    };
    let ruled = |book: &Book| -> Option<Ruled<Pressure>> {
        let own = book.house_depressurisation(venting).into_known();
        own.or_else(|| book.house_depressurisation(general).into_known())
    };
    let books = case.world.rule_book.iter().chain(&case.world.also_show);
    let by_book: Vec<(f64, Source)> =
        books.filter_map(ruled).map(|rule| (rule.value.pa().abs(), source::ruled(&rule))).collect();
    let strictest = |confirmed: bool| {
        by_book
            .iter()
            .filter(|(_, source)| (source.standing == Standing::Confirmed) == confirmed)
            .min_by(|a, b| a.0.total_cmp(&b.0))
            .cloned()
    };
    let printed = || {
        let row = PUBLISHED.iter().find(|(kind, _)| *kind == venting)?;
        let table = SourceText::PressureLimits;
        Some((row.1, Source::confirmed(table, SourceText::AuditorsPage)))
    };
    strictest(true).or_else(printed).or_else(|| strictest(false)).unwrap_or_else(|| {
        (5.0, Source::memory(Citation("CSA F326, CSA F300"), SourceText::SpillProne))
    })
}

fn judge(
    case: &Case<'_>,
    asked: &Asked,
    house: &House<'_>,
    limit: &Limit,
    at: &AtPlace,
) -> (Finding, Vec<LookNext>) {
    let down = at.drawn_down();
    let drawn: Vec<f64> =
        if down.draws.is_empty() { vec![down.likely] } else { down.draws.clone() };
    let chance = limit.chance(&drawn);
    let stricter = |strict| limit.chance_at(&drawn, strict);
    let mut verdict = by_chance_at(stricter, limit.broken(), &limit.source, &case.job.settings);
    let unknown_fan = house.unknown_fans() || waits_for_a_fan(case.job);
    // What is not in the balance yet leaves no chance to tell.
    let tells_chance = case.inputs.tells_chance() && !unknown_fan;
    let is_far_within = settled(stricter(REMEMBERED), &case.job.settings) == Some(true);
    let is_blind = is_blind(case.job) && !(limit.is_no_natural_draft() && is_far_within);
    if verdict == Verdict::Holds && (unknown_fan || is_blind) {
        verdict = Verdict::Unknown;
    }
    // Draws without an answer may lie on either side.
    let unsolved = drawn.iter().filter(|pa| pa.is_nan()).count() as f64 / drawn.len() as f64;
    if verdict == limit.broken() && chance + unsolved > case.job.settings.fails_at {
        verdict = Verdict::Unknown;
    }
    let figure = PressurePa(down.triple());
    let strictest = PressurePa(Triple::exact(limit.strictest()));
    let below = Figure::PressurePa(down.map(|pa| 0.0 - pa).triple());
    let key = match verdict {
        Verdict::Holds => HousePressureKey::Holds,
        Verdict::Fails => HousePressureKey::Fails,
        Verdict::Caution => HousePressureKey::Beyond,
        Verdict::Unknown => HousePressureKey::Unknown,
    };
    let told = tells_chance.then_some(chance);
    let mut message = HousePressure {
        key,
        appliance: Name::new(&limit.appliance),
        down: figure,
        limit: strictest,
        taken: AirflowLS(at.taken.map(|q| q * 1000.0).triple()),
        pressure: PressurePa(at.on.triple()),
        weather: Word::new(at.worst.key()),
        chance: told.map(|chance| ChanceRatio(Triple::exact(chance))),
        asked: None,
        book: None,
    };
    if let Some(asked_pa) = limit.asked {
        message.asked = Some(PressurePa(Triple::exact(asked_pa)));
        message.book = Some(PressurePa(Triple::exact(limit.by_book)));
    }
    let mut finding = Finding::new(
        Check::HousePressure,
        &limit.appliance,
        verdict,
        message,
        limit.source.clone(),
    )
    .figure(below)
    .limit(Figure::PressurePa(Triple::exact(-limit.strictest())));
    finding.chance = told;
    finding.working = working(case, asked, house, at);
    finding.todo = todo(case.job, limit, verdict, unknown_fan);
    if verdict == limit.broken() {
        finding.todo.extend(opening(house, limit, at));
    }
    let open = verdict == Verdict::Unknown && !down.draws.is_empty();
    let passes = within(&drawn, limit.strictest());
    let looks = if open { looks(case, asked, &finding, &passes) } else { Vec::new() };
    (finding, looks)
}

/// Whether air is asked for in a room that no fan draws on yet: what will pull on the house is then not in the balance.
fn waits_for_a_fan(job: &Job) -> bool {
    let is_served =
        |room: usize| (0..job.fans.len()).any(|fan| rooms_of_fan(job, fan).contains(&room));
    job.rooms
        .iter()
        .enumerate()
        .any(|(index, room)| given::is_known(&room.asked) && !is_served(index))
}

/// What a test of spillage settles: flue gas in the room breaks it in whatever state, none of it after the work holds it. One
/// before the work knows nothing of what the work changes. The pressure that was worked out stands beside it.
fn tested(job: &Job, appliance: &str, worked_out: &Finding) -> Option<Finding> {
    let test = &job.dwelling.appliances.iter().find(|one| one.id == appliance)?.spillage;
    let (key, verdict, todo) = match (given::member(&test.result)?, given::member(&test.state)) {
        (SpillageResult::Spills, _) => {
            let todo = [Todo::FlueGasInRoom, Todo::CoAlarm, Todo::MakeUpAir];
            (HouseSpillageKey::Spills, Verdict::Fails, todo.to_vec())
        }
        (SpillageResult::None, Some(BuildState::After)) => {
            (HouseSpillageKey::None, Verdict::Holds, vec![Todo::TestAgainWhenTighter])
        }
        (SpillageResult::None, Some(BuildState::Before) | None) => return None,
    };
    let message = HouseSpillage {
        key,
        appliance: Name::new(appliance),
        date: test.date.map(|day| Name::new(day.to_string())),
    };
    let source = Source::confirmed(Citation("ANSI/BPI-1200"), SourceText::SpillageDecides);
    let mut finding = Finding::new(Check::HousePressure, appliance, verdict, message, source);
    finding.working.clone_from(&worked_out.working);
    finding.todo = todo.into_iter().map(Message::from).collect();
    Some(finding)
}

/// Whether what a safe answer rests on is not written: a default for the leaks of a house, or for its
/// size, is no ground to call it safe; nor is ventilation of which nobody says which way it blows.
fn is_blind(job: &Job) -> bool {
    let dwelling = &job.dwelling;
    let sized = given::is_known(&dwelling.volume) || given::is_known(&dwelling.floor_area);
    let by_changes = given::is_known(&dwelling.air_changes) && sized;
    let ventilation = &dwelling.ventilation;
    let vague =
        given::is_known(&ventilation.airflow) && given::options(&ventilation.kind).is_empty();
    vague || !(given::is_known(&dwelling.leakage) || by_changes)
}

fn todo(job: &Job, limit: &Limit, verdict: Verdict, unknown_fan: bool) -> Vec<Message> {
    let mut list = Vec::new();
    let ventilation = &job.dwelling.ventilation;
    if given::is_known(&ventilation.airflow) && given::options(&ventilation.kind).is_empty() {
        list.push(Message::from(Todo::WriteVentilation));
    }
    if unknown_fan {
        list.push(Message::from(Todo::ReadLabel));
    }
    if verdict == Verdict::Holds {
        list.extend(limit.may_spill.then(|| Message::from(Todo::WorstCaseAfter)));
        return list;
    }
    if verdict == Verdict::Unknown {
        list.push(Message::from(Todo::MeasureLeakage));
    }
    if limit.may_spill {
        list.extend([Todo::CoAlarm, Todo::WorstCaseTest].map(Message::from));
    }
    list.push(Message::from(Todo::MakeUpAir));
    list.extend(crate::verdict::confirm_source(&limit.source, verdict));
    list
}

/// The passive opening with which the exhausts alone would stay within the limit, at the likely values:
/// what the leaks do not pass at that pressure.
fn opening(house: &House<'_>, limit: &Limit, at: &AtPlace) -> Option<Message> {
    let pressure = limit.strictest();
    let by_leaks = house.leak_coefficient(Draw::Likely) * libm::pow(pressure, LEAK_EXPONENT);
    let flow = at.taken.likely - by_leaks;
    let area = make_up::opening_m2(flow, pressure, house.density_kg_m3());
    (pressure > 0.0 && flow > 0.0).then(|| {
        Message::from(TodoMakeUpOpening {
            area: AreaM2(Triple::exact(area)),
            flow: AirflowLS(Triple::exact(flow * 1000.0)),
            pressure: PressurePa(Triple::exact(pressure)),
        })
    })
}

/// What would settle an open verdict: the leakage first, if nobody measured it.
fn looks(case: &Case<'_>, asked: &Asked, finding: &Finding, passes: &[bool]) -> Vec<LookNext> {
    let open = Open { finding: finding.id, subject: &finding.subject, passes };
    let settings = &case.job.settings;
    let mut ranked = look_next::rank(&open, &asked.inputs, settings);
    ranked.truncate(4);
    let unmeasured = !given::is_known(&case.job.dwelling.air_changes)
        && !given::is_known(&case.job.dwelling.leakage);
    if unmeasured {
        let settles = ranked.iter().find(|one| one.at == "dwelling.air_changes");
        let settles_ratio = settles.map_or(0.0, |one| one.settles_ratio);
        ranked.retain(|one| one.at != "dwelling.air_changes");
        let leakage = LookNext {
            at: "dwelling.leakage".to_owned(),
            what: Message::from(What::Leakage),
            settles_ratio,
            effort_h: 1.5,
            finding: finding.id,
            subject: finding.subject.clone(),
        };
        ranked.insert(0, leakage);
    }
    ranked
}

/// The steps: what is taken out, how the shell leaks, the balance, what the exhausts change.
fn working(case: &Case<'_>, asked: &Asked, house: &House<'_>, at: &AtPlace) -> Vec<Step> {
    let pressure = |sample: &Sample| Figure::PressurePa(sample.triple());
    let computed = |symbol: &str, what: What, figure: Figure| {
        WorkingInput::new(symbol, what, figure, Provenance::Computed)
    };
    let taken = Figure::AirflowLS(at.taken.litres());
    let others = asked
        .exhausts
        .iter()
        .map(|exhaust| asked.inputs.in_working(format!("q {}", exhaust.id), exhaust.flow));
    let fans = case.job.fans.iter().enumerate().filter_map(|(index, fan)| {
        let (flow, _) = case.flows?.fans[index].as_ref()?;
        let figure = Figure::AirflowLS(flow.litres());
        Some(computed(&format!("q {}", fan.id), What::FanAlone, figure))
    });
    let leak = Sample::exact(house.leak_coefficient(Draw::Likely) * 1000.0);
    let mut shape = vec![computed("C", What::LeakCoefficient, Figure::AirflowLS(leak.triple()))];
    shape.extend(asked.shape().map(|(symbol, id)| asked.inputs.in_working(symbol, id)));
    shape.push(case.inputs.in_working("T_i", case.system.air.indoor));
    debug_assert!((LEAK_EXPONENT - 0.65).abs() < 1e-12);
    vec![
        Step {
            equation: Equation::AllExhausts.into(),
            inputs: others.chain(fans).collect(),
            result: Some(taken),
            source: Source::confirmed(Citation("ASTM E1998"), SourceText::EveryExhaustOn),
        },
        law::step(
            &BALANCE,
            std::iter::once(computed("q_out", What::Taken, taken)).chain(shape).collect(),
            Some(pressure(&at.on)),
        ),
        Step {
            equation: Equation::DrawnDown.into(),
            inputs: vec![
                computed("p(exhausts off)", What::HouseOff, pressure(&at.off)),
                computed("p(exhausts on)", What::HouseOn, pressure(&at.on)),
            ],
            result: Some(pressure(&at.drawn_down())),
            source: Source::memory(SourceText::WorstCaseTest, SourceText::BaselineFirst),
        },
    ]
}

/// Depression of the house over the flow of one fan, draw by draw, for candidates in its place.
pub struct FanCurves {
    draws: Vec<MonotoneCubic>,
    /// Whether nothing usable is known of another fan, whose air is then not in the balance.
    unknown_others: bool,
    /// Resistance of the door of each room the fan serves, draw by draw.
    doors: Vec<(usize, Vec<f64>)>,
}

/// Shares of the highest flow at which the house is balanced for a candidate.
pub(crate) const SHARES: [f64; 5] = [0.0, 0.1, 0.25, 0.55, 1.0];

/// Depression as a curve for candidates holds it: its power by the exponent of the leaks, which is all
/// but a straight line over the flow.
fn straightened(drawn_down_pa: f64) -> f64 {
    libm::pow(drawn_down_pa.max(0.0), LEAK_EXPONENT)
}

/// Depression that a curve for candidates gives at a flow, Pa.
pub(crate) fn read_off(curve: &MonotoneCubic, flow_m3_s: f64) -> f64 {
    libm::pow(curve.value_slope(flow_m3_s).0.max(0.0), 1.0 / LEAK_EXPONENT)
}

impl FanCurves {
    /// The depression at a place with so much through the fan in a draw, Pa.
    fn at(&self, draw: usize, flow: f64, place: Place) -> f64 {
        let house = read_off(&self.draws[draw], flow);
        let door = place.and_then(|room| self.doors.iter().find(|(other, _)| *other == room));
        // All of the fan's air is taken to pass the one door: on the safe side where it serves more.
        house + door.map_or(0.0, |(_, k)| k[draw] * flow * flow)
    }
}

/// The house over the flow of a fan, in the weather that is worst for it.
pub(crate) fn fan_curves(
    case: &Case<'_>,
    house: &mut House<'_>,
    fan: usize,
    weather: Weather,
    highest_m3_s: f64,
) -> Option<FanCurves> {
    let count = case.inputs.draws().min(HOUSE_DRAWS) as usize;
    let draws: Vec<Draw> =
        if count == 0 { vec![Draw::Likely] } else { (0..count).map(Draw::At).collect() };
    let rooms = rooms_of_fan(case.job, fan);
    let mut doors: Vec<(usize, Vec<f64>)> = rooms.iter().map(|&room| (room, Vec::new())).collect();
    let mut curves = Vec::with_capacity(draws.len());
    for draw in draws {
        house.load(draw).ok()?;
        curves.push(one_curve(house, fan, weather, highest_m3_s)?);
        for (room, list) in &mut doors {
            list.push(house.door_k(*room));
        }
    }
    Some(FanCurves { draws: curves, unknown_others: house.unknown_fans_but(fan), doors })
}

/// Depression over flow in one draw, straightened: a handful of balances, a monotone curve between them.
pub(crate) fn one_curve(
    house: &mut House<'_>,
    fan: usize,
    weather: Weather,
    highest_m3_s: f64,
) -> Option<MonotoneCubic> {
    let off = house.balance(Running::Nothing, weather).ok()?;
    let mut points = Vec::with_capacity(SHARES.len());
    for share in SHARES {
        let flow = share * highest_m3_s;
        let on = house.balance(Running::Instead(fan, flow), weather).ok()?;
        points.push((flow, straightened(off - on)));
    }
    MonotoneCubic::new(&points).ok()
}

/// What a candidate does to the worst-off appliance: depression, limit, chance and verdict.
pub struct CandidateVerdict<'a> {
    /// Limit of that appliance.
    pub limit: &'a Limit,
    /// How far the house is drawn down there, Pa.
    pub down: Triple,
    /// Chance that this is within the limit.
    pub chance: f64,
    /// Verdict.
    pub verdict: Verdict,
}

/// Judges a candidate's flows, draw by draw, at every appliance; the worst of them counts.
pub fn judge_candidate<'a>(
    job: &Job,
    limits: &'a [Limit],
    curves: &FanCurves,
    flows_m3_s: &[f64],
) -> Option<CandidateVerdict<'a>> {
    let one = |limit: &'a Limit| {
        let drawn: Vec<f64> = flows_m3_s
            .iter()
            .take(curves.draws.len())
            .enumerate()
            .map(|(draw, flow)| curves.at(draw, *flow, limit.place))
            .collect();
        let chance = limit.chance(&drawn);
        let stricter = |strict| limit.chance_at(&drawn, strict);
        let mut verdict = by_chance_at(stricter, limit.broken(), &limit.source, &job.settings);
        let is_far_within = settled(stricter(REMEMBERED), &job.settings) == Some(true);
        let is_blind = is_blind(job) && !(limit.is_no_natural_draft() && is_far_within);
        if verdict == Verdict::Holds && (curves.unknown_others || is_blind) {
            verdict = Verdict::Unknown;
        }
        Some(CandidateVerdict { limit, down: Triple::of_draws(&drawn)?, chance, verdict })
    };
    limits
        .iter()
        .filter_map(one)
        .max_by(|a, b| a.verdict.cmp(&b.verdict).then_with(|| b.chance.total_cmp(&a.chance)))
}
