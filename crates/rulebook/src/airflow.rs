//! How much air a room and a dwelling must be rid of, by every method a book offers.

use dewpath_units::{AirChange50, Airflow, Area, Duration, Pressure, Ratio, Volume};

use crate::answer::{Answer, Ruled};
use crate::book::Book;

/// Kind of room, as rule books tell them apart.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum RoomKind {
    /// With a shower or tub.
    Bathroom,
    /// With a toilet, without shower or tub.
    ToiletRoom,
    /// Kitchen.
    Kitchen,
    /// Laundry or utility room.
    Laundry,
    /// Enclosed steam shower.
    SteamShower,
    /// Anything else; no book gives a rate.
    Other,
}

impl RoomKind {
    const fn key(self) -> Option<&'static str> {
        match self {
            Self::Bathroom => Some("bathroom"),
            Self::ToiletRoom => Some("toilet_room"),
            Self::Kitchen => Some("kitchen"),
            Self::Laundry => Some("laundry"),
            Self::SteamShower => Some("steam_shower"),
            Self::Other => None,
        }
    }
}

/// When an exhaust runs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Operation {
    /// On demand.
    Intermittent,
    /// All the time.
    Continuous,
}

/// How a kitchen is exhausted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum KitchenExhaust {
    /// By a hood over the range.
    Hood,
    /// By anything else, downdraft included.
    Other,
}

/// How a kitchen cooks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cooker {
    /// Burns nothing.
    Electric,
    /// Gas or other fuel.
    Combustion,
}

/// Fixtures of a room; `None` where the number is not known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub struct Fixtures {
    /// Toilets.
    pub toilets: Option<u32>,
    /// Showers.
    pub showers: Option<u32>,
    /// Tubs without jets.
    pub tubs: Option<u32>,
    /// Jetted tubs.
    pub jetted_tubs: Option<u32>,
}

/// What a book must know of a room; `None` is "not known", never a default.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RoomUse {
    /// Kind of room.
    pub kind: RoomKind,
    /// When the exhaust runs.
    pub operation: Option<Operation>,
    /// Floor area.
    pub floor_area: Option<Area>,
    /// Volume.
    pub volume: Option<Volume>,
    /// Fixtures.
    pub fixtures: Fixtures,
    /// Hood or other exhaust; matters in kitchens only.
    pub kitchen_exhaust: Option<KitchenExhaust>,
    /// Cooker; matters in kitchens only.
    pub cooker: Option<Cooker>,
    /// Whether the room is closed off from the others; matters in kitchens only.
    pub enclosed: Option<bool>,
}

impl RoomUse {
    /// A room of which only its kind is known.
    pub const fn new(kind: RoomKind) -> Self {
        Self {
            kind,
            operation: None,
            floor_area: None,
            volume: None,
            fixtures: Fixtures { toilets: None, showers: None, tubs: None, jetted_tubs: None },
            kitchen_exhaust: None,
            cooker: None,
            enclosed: None,
        }
    }
}

/// How a rate is found.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum AirflowMethod {
    /// One printed rate.
    FixedRate,
    /// So much for each unit of floor area, with a least value.
    PerArea,
    /// So much for each fixture.
    PerFixture,
    /// Air changes of the room's volume.
    AirChanges,
}

/// A fact of the room that decides.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum RoomFact {
    /// When the exhaust runs.
    Operation,
    /// Floor area.
    FloorArea,
    /// Volume.
    Volume,
    /// Number of each fixture.
    Fixtures,
    /// Hood or other kitchen exhaust.
    KitchenExhaust,
    /// Electric or combustion cooker.
    Cooker,
    /// Whether the kitchen is closed off.
    Enclosed,
}

/// Whether a method is the one for this room.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Applies {
    /// It is.
    Yes,
    /// The requirement may also be met this way; shown beside, never governs.
    Instead,
    /// Nobody can say before this fact is known.
    Unless(RoomFact),
}

/// One way in which a book asks for airflow in a room.
#[derive(Clone, Debug, PartialEq)]
pub struct RequiredAirflow {
    /// How the rate is found.
    pub method: AirflowMethod,
    /// The operation the rate is for; `None` if it holds for either.
    pub operation: Option<Operation>,
    /// Whether it is the method for this room.
    pub applies: Applies,
    /// The rate with its place; `None` while a fact of the room is missing to compute it.
    pub airflow: Option<Ruled<Airflow>>,
    /// Whether this is the strictest of the methods that apply.
    pub governs: bool,
}

/// Whether one condition of a rate is met in a room.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Condition {
    Met,
    NotMet,
    Missing(RoomFact),
}

fn condition<T: Copy + PartialEq>(have: Option<T>, want: Option<T>, fact: RoomFact) -> Condition {
    match (have, want) {
        (_, None) => Condition::Met,
        (None, Some(_)) => Condition::Missing(fact),
        (Some(have), Some(want)) if have == want => Condition::Met,
        (Some(_), Some(_)) => Condition::NotMet,
    }
}

/// `None` if a condition is not met; otherwise the first fact that is missing decides.
fn applies(conditions: &[Condition]) -> Option<Applies> {
    if conditions.contains(&Condition::NotMet) {
        return None;
    }
    let missing = conditions.iter().find_map(|condition| match condition {
        Condition::Missing(fact) => Some(*fact),
        Condition::Met | Condition::NotMet => None,
    });
    Some(missing.map_or(Applies::Yes, Applies::Unless))
}

/// A printed rate and the conditions under which it is the one.
struct FixedRate {
    what: &'static str,
    operation: Option<Operation>,
    exhaust: Option<KitchenExhaust>,
    cooker: Option<Cooker>,
}

const fn fixed(
    what: &'static str,
    operation: Option<Operation>,
    exhaust: Option<KitchenExhaust>,
    cooker: Option<Cooker>,
) -> FixedRate {
    FixedRate { what, operation, exhaust, cooker }
}

const FIXED_RATES: [FixedRate; 9] = {
    const ON_DEMAND: Option<Operation> = Some(Operation::Intermittent);
    const HOOD: Option<KitchenExhaust> = Some(KitchenExhaust::Hood);
    const ELECTRIC: Option<Cooker> = Some(Cooker::Electric);
    const COMBUSTION: Option<Cooker> = Some(Cooker::Combustion);
    [
        fixed("intermittent", ON_DEMAND, None, None),
        fixed("intermittent_hood", ON_DEMAND, HOOD, None),
        fixed("intermittent_hood_electric", ON_DEMAND, HOOD, ELECTRIC),
        fixed("intermittent_hood_combustion", ON_DEMAND, HOOD, COMBUSTION),
        fixed("intermittent_other", ON_DEMAND, Some(KitchenExhaust::Other), None),
        fixed("continuous", Some(Operation::Continuous), None, None),
        fixed("either", None, None, None),
        fixed("either_electric", None, None, ELECTRIC),
        fixed("either_combustion", None, None, COMBUSTION),
    ]
};

impl Book {
    /// Every method by which the book asks for airflow in this room. Empty if the book holds no rate
    /// for such a room.
    ///
    /// Methods for the other operation are left out; while the operation is not known both are listed
    /// and none of them governs. Of the methods that apply the largest rate governs.
    pub fn required_airflow(&self, room: &RoomUse) -> Vec<RequiredAirflow> {
        let Some(kind) = room.kind.key() else { return Vec::new() };
        let mut found = Vec::new();
        self.fixed_rates(kind, room, &mut found);
        self.rates_by_size(kind, room, &mut found);
        self.rates_by_air_changes(kind, room, &mut found);
        mark_governing(&mut found);
        found
    }

    /// The rate that governs this room, if the book has one and the facts suffice.
    pub fn governing_airflow(&self, room: &RoomUse) -> Answer<Airflow> {
        let governing = self.required_airflow(room).into_iter().find(|rate| rate.governs);
        let question = || format!("airflow.{}", room.kind.key().unwrap_or("other"));
        governing
            .and_then(|rate| rate.airflow)
            .map_or_else(|| Answer::missing(question()), Answer::Known)
    }

    fn fixed_rates(&self, kind: &str, room: &RoomUse, found: &mut Vec<RequiredAirflow>) {
        for rate in &FIXED_RATES {
            let Some(airflow) = self.room_rate(kind, rate.what) else { continue };
            let conditions = [
                condition(room.operation, rate.operation, RoomFact::Operation),
                condition(room.kitchen_exhaust, rate.exhaust, RoomFact::KitchenExhaust),
                condition(room.cooker, rate.cooker, RoomFact::Cooker),
            ];
            let Some(applies) = applies(&conditions) else { continue };
            found.push(RequiredAirflow {
                method: AirflowMethod::FixedRate,
                operation: rate.operation,
                applies,
                airflow: Some(airflow),
                governs: false,
            });
        }
    }

    /// Rates by floor area up to a limit, by fixture above it.
    fn rates_by_size(&self, kind: &str, room: &RoomUse, found: &mut Vec<RequiredAirflow>) {
        let Some(per_area) = self.number(&format!("airflow.{kind}.per_area")).into_known() else {
            return;
        };
        let limit = self.quantity::<Area>(&format!("airflow.{kind}.area_limit")).into_known();
        let rate =
            |method, airflow: Option<Ruled<Airflow>>, missing: Option<RoomFact>| RequiredAirflow {
                method,
                operation: None,
                applies: missing.map_or(Applies::Yes, Applies::Unless),
                airflow,
                governs: false,
            };
        let is_large = |area: Area| {
            limit.as_ref().is_some_and(|limit| area.m2() > limit.value.m2() * (1.0 + 1e-9))
        };
        match room.floor_area {
            Some(area) if is_large(area) => {
                let sum = self.by_fixture(kind, &room.fixtures);
                let missing = sum.is_none().then_some(RoomFact::Fixtures);
                found.push(rate(AirflowMethod::PerFixture, sum, missing));
            }
            Some(area) => {
                let by_area = self.by_area(kind, &per_area, area);
                found.push(rate(AirflowMethod::PerArea, Some(by_area), None));
            }
            None => {
                let missing = Some(RoomFact::FloorArea);
                found.push(rate(AirflowMethod::PerArea, None, missing));
                if limit.is_some() {
                    let sum = self.by_fixture(kind, &room.fixtures);
                    found.push(rate(AirflowMethod::PerFixture, sum, missing));
                }
            }
        }
    }

    fn by_area(&self, kind: &str, per_area: &Ruled<f64>, area: Area) -> Ruled<Airflow> {
        let by_area = per_area.with(Airflow::from_m3_s(per_area.value * area.m2()));
        match self.room_rate(kind, "least") {
            Some(least) if least.value.m3_s() > by_area.value.m3_s() => least,
            _ => by_area,
        }
    }

    /// Sum over the fixtures; `None` while the count of a fixture that has a rate is not known.
    fn by_fixture(&self, kind: &str, fixtures: &Fixtures) -> Option<Ruled<Airflow>> {
        let counted = [
            ("per_toilet", fixtures.toilets),
            ("per_shower", fixtures.showers),
            ("per_tub", fixtures.tubs),
            ("per_jetted_tub", fixtures.jetted_tubs),
        ];
        let mut sum: Option<Ruled<Airflow>> = None;
        for (what, count) in counted {
            let Some(rate) = self.room_rate(kind, what) else { continue };
            let part = rate.value * f64::from(count?);
            sum = Some(match sum {
                None => rate.with(part),
                Some(so_far) => Ruled {
                    value: so_far.value + part,
                    standing: so_far.standing.and(rate.standing),
                    ..so_far
                },
            });
        }
        // A bath without any fixture is a room not yet counted.
        sum.filter(|sum| sum.value.m3_s() > 0.0)
    }

    fn rates_by_air_changes(&self, kind: &str, room: &RoomUse, found: &mut Vec<RequiredAirflow>) {
        use Operation::{Continuous, Intermittent};
        let table = [
            ("air_changes", None, false),
            ("enclosed_air_changes_intermittent", Some(Intermittent), true),
            ("enclosed_air_changes_continuous", Some(Continuous), true),
        ];
        for (what, operation, enclosed) in table {
            let Some(changes) = self.number(&format!("airflow.{kind}.{what}")).into_known() else {
                continue;
            };
            let volume =
                room.volume.map_or(Condition::Missing(RoomFact::Volume), |_| Condition::Met);
            let conditions = [
                condition(room.operation, operation, RoomFact::Operation),
                condition(room.enclosed, enclosed.then_some(true), RoomFact::Enclosed),
                volume,
            ];
            let Some(applies) = applies(&conditions) else { continue };
            let is_alternative = found.iter().any(|rate| {
                rate.operation == operation && rate.method != AirflowMethod::AirChanges
            });
            let applies = if is_alternative { Applies::Instead } else { applies };
            let airflow = room
                .volume
                .map(|volume| changes.with(Airflow::from_m3_s(changes.value * volume.m3())));
            found.push(RequiredAirflow {
                method: AirflowMethod::AirChanges,
                operation,
                applies,
                airflow,
                governs: false,
            });
        }
    }

    fn room_rate(&self, kind: &str, what: &str) -> Option<Ruled<Airflow>> {
        self.quantity(&format!("airflow.{kind}.{what}")).into_known()
    }

    /// Whether such a room needs an exhaust point (or window) of its own.
    pub fn own_exhaust_point(&self, kind: RoomKind) -> Answer<bool> {
        match kind.key() {
            Some(key) => self.yes_no(&format!("airflow.{key}.own_point")),
            None => Answer::missing("airflow.other.own_point"),
        }
    }

    /// The pressure at which a fan's listed airflow must reach the rate.
    pub fn rating_pressure(&self) -> Answer<Pressure> {
        self.quantity("rating.pressure")
    }

    /// Rated airflow to buy so that a bath's rate is likely reached in place.
    pub fn rated_airflow_to_buy(&self, operation: Operation) -> Answer<Airflow> {
        self.quantity(match operation {
            Operation::Intermittent => "rating.buy_for_intermittent",
            Operation::Continuous => "rating.buy_for_continuous",
        })
    }

    /// Whether the fan's airflow must be rated and listed.
    pub fn listing_required(&self) -> Answer<bool> {
        self.yes_no("rating.listed")
    }
}

fn mark_governing(found: &mut [RequiredAirflow]) {
    let flow =
        |rate: &RequiredAirflow| rate.airflow.as_ref().map_or(0.0, |ruled| ruled.value.m3_s());
    // While another method may turn out to be the one for this room, none is said to govern.
    if found.iter().any(|rate| matches!(rate.applies, Applies::Unless(_))) {
        return;
    }
    let strictest = found
        .iter_mut()
        .filter(|rate| rate.applies == Applies::Yes && rate.airflow.is_some())
        .max_by(|a, b| flow(a).total_cmp(&flow(b)));
    if let Some(rate) = strictest {
        rate.governs = true;
    }
}

/// A window that may stand in for an exhaust.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WindowAlternative {
    /// Least glazed area.
    pub glazed: Area,
    /// Least area that opens.
    pub openable: Area,
}

impl Book {
    /// The window that stands in for an exhaust in such a room.
    pub fn window_alternative(&self, kind: RoomKind) -> Answer<WindowAlternative> {
        let question = "window.glazed_area";
        let is_bath = matches!(kind, RoomKind::Bathroom | RoomKind::ToiletRoom);
        let glazed = self.quantity::<Area>(question).into_known();
        let share = self.quantity::<Ratio>("window.openable_share").into_known();
        match (glazed, share) {
            (Some(glazed), Some(share)) if is_bath => {
                let openable = glazed.value * share.value.ratio();
                Answer::Known(glazed.map(|glazed| WindowAlternative { glazed, openable }))
            }
            _ => Answer::missing(question),
        }
    }

    /// Whether airing by a window (of no stated size) is accepted in place of an exhaust there.
    pub fn window_airing_accepted(&self, kind: RoomKind) -> Answer<bool> {
        self.yes_no("window.toilet_room_only").map(|only| only && kind == RoomKind::ToiletRoom)
    }
}

/// What a book must know of a dwelling; `None` is "not known".
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct DwellingUse {
    /// Conditioned floor area.
    pub floor_area: Option<Area>,
    /// Bedrooms.
    pub bedrooms: Option<u32>,
    /// Rooms that count once.
    pub rooms: Option<u32>,
    /// Rooms that count at the larger rate (principal bedroom, large basement).
    pub principal_rooms: Option<u32>,
}

/// How a whole-dwelling rate is found.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum DwellingMethod {
    /// From floor area and bedrooms by formula.
    Formula,
    /// From a table of floor area and bedrooms.
    Table,
    /// From floor area alone.
    PerArea,
    /// From bedrooms alone.
    ByBedrooms,
    /// Sum over rooms.
    PerRoom,
}

/// A whole-dwelling rate.
#[derive(Clone, Debug, PartialEq)]
pub struct DwellingAirflow {
    /// How it was found.
    pub method: DwellingMethod,
    /// Least continuous rate, with its place.
    pub least: Ruled<Airflow>,
    /// Greatest rate of the fan's normal setting, where the book gives one.
    pub most: Option<Ruled<Airflow>>,
    /// Whether this is the strictest of the methods.
    pub governs: bool,
}

/// When a dwelling needs whole-dwelling ventilation.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum DwellingTrigger {
    /// Every dwelling built to the book.
    Always,
    /// Where the envelope is tested at no more than this.
    TestedUpTo(AirChange50),
}

/// Flow rate by the path for existing dwellings: what a continuous fan adds for weak local exhaust.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ExistingPath {
    /// Share of the sum of the local deficits that is added to the whole-dwelling rate.
    pub deficit_share: f64,
}

impl Book {
    /// Every method by which the book finds a whole-dwelling rate with the facts at hand. Empty if the
    /// book has none, or none that these facts suffice for.
    pub fn dwelling_airflow(&self, dwelling: &DwellingUse) -> Vec<DwellingAirflow> {
        let single = |method, least| DwellingAirflow { method, least, most: None, governs: false };
        let mut found: Vec<DwellingAirflow> = Vec::new();
        found.extend(
            self.dwelling_formula(dwelling).map(|rate| single(DwellingMethod::Formula, rate)),
        );
        found.extend(
            self.dwelling_from_table(dwelling).map(|rate| single(DwellingMethod::Table, rate)),
        );
        if let (Some(area), Some(rate)) =
            (dwelling.floor_area, self.number("dwelling.least_per_area").into_known())
        {
            let least = rate.with(Airflow::from_m3_s(rate.value * area.m2()));
            found.push(single(DwellingMethod::PerArea, least));
        }
        found.extend(self.dwelling_by_bedrooms(dwelling));
        found.extend(
            self.dwelling_per_room(dwelling).map(|rate| single(DwellingMethod::PerRoom, rate)),
        );
        let strictest =
            found.iter_mut().max_by(|a, b| a.least.value.m3_s().total_cmp(&b.least.value.m3_s()));
        if let Some(rate) = strictest {
            rate.governs = true;
        }
        found
    }

    /// When a dwelling needs whole-dwelling ventilation.
    pub fn dwelling_trigger(&self) -> Answer<DwellingTrigger> {
        match self.yes_no("dwelling.required") {
            Answer::Known(ruled) if ruled.value => {
                Answer::Known(ruled.with(DwellingTrigger::Always))
            }
            _ => self.quantity("dwelling.required_up_to").map(DwellingTrigger::TestedUpTo),
        }
    }

    fn dwelling_formula(&self, dwelling: &DwellingUse) -> Option<Ruled<Airflow>> {
        let per_area = self.number("dwelling.per_area").into_known()?;
        let per_bedroom = self.quantity::<Airflow>("dwelling.per_bedroom").into_known()?;
        let added = self.count("dwelling.bedrooms_added").into_known()?;
        let bedrooms = f64::from(dwelling.bedrooms?) + f64::from(added.value);
        let rate = per_area.value * dwelling.floor_area?.m2() + per_bedroom.value.m3_s() * bedrooms;
        Some(per_area.with(Airflow::from_m3_s(rate)))
    }

    fn dwelling_from_table(&self, dwelling: &DwellingUse) -> Option<Ruled<Airflow>> {
        let table = self.dwelling_table.as_ref()?;
        let rate = table.rate(dwelling.floor_area?, dwelling.bedrooms?)?;
        Some(self.ruled(&table.source, rate))
    }

    fn dwelling_by_bedrooms(&self, dwelling: &DwellingUse) -> Option<DwellingAirflow> {
        let least = self.numbers("dwelling.least_by_bedrooms").into_known()?;
        let most = self.numbers("dwelling.most_by_bedrooms").into_known();
        let more = self.quantity::<Airflow>("dwelling.each_more_bedroom").into_known();
        let bedrooms = usize::try_from(dwelling.bedrooms?).ok()?;
        let row = |list: &Ruled<Vec<f64>>| {
            let printed = list.value.get(bedrooms.checked_sub(1)?).copied();
            let beyond = || {
                let more = more.as_ref()?.value.m3_s();
                let last = list.value.last()?;
                Some(last + more * bedrooms.saturating_sub(list.value.len()) as f64)
            };
            let rate = Airflow::from_m3_s(printed.or_else(beyond)?);
            Some(list.with(rate))
        };
        Some(DwellingAirflow {
            method: DwellingMethod::ByBedrooms,
            least: row(&least)?,
            most: most.as_ref().and_then(row),
            governs: false,
        })
    }

    fn dwelling_per_room(&self, dwelling: &DwellingUse) -> Option<Ruled<Airflow>> {
        let each = self.quantity::<Airflow>("dwelling.per_room").into_known()?;
        let larger = self.quantity::<Airflow>("dwelling.per_principal_room").into_known()?;
        let sum = each.value * f64::from(dwelling.rooms?)
            + larger.value * f64::from(dwelling.principal_rooms?);
        Some(Ruled { standing: each.standing.and(larger.standing), ..each.with(sum) })
    }

    /// Factor on the continuous rate for a fan that runs this share (0 to 1) of each period. Between
    /// the printed shares it is interpolated; `None` outside them, where the book allows no run.
    pub fn run_time_factor(&self, share: f64) -> Answer<Option<f64>> {
        match &self.run_time {
            Some(table) => Answer::Known(self.ruled(&table.source, table.factor(share))),
            None => Answer::missing("run_time_table"),
        }
    }

    /// The period over which the share of run time is counted.
    pub fn run_time_period(&self) -> Answer<Duration> {
        match &self.run_time {
            Some(table) => Answer::Known(self.ruled(&table.source, Duration::from_s(table.period))),
            None => Answer::missing("run_time_table"),
        }
    }

    /// Share taken off the whole-dwelling rate for balanced ventilation with ducted supply to every
    /// bedroom and at least one living space.
    pub fn balanced_credit(&self) -> Answer<f64> {
        self.quantity::<Ratio>("dwelling.balanced_credit").map(Ratio::ratio)
    }

    /// Greatest share of the whole-dwelling rate that infiltration may cover in new work.
    pub fn infiltration_credit_most(&self) -> Answer<f64> {
        self.quantity::<Ratio>("dwelling.infiltration_credit_most").map(Ratio::ratio)
    }

    /// How far above the least rate the fan's normal setting may lie, as a share.
    pub fn dwelling_rate_above_least(&self) -> Answer<f64> {
        self.quantity::<Ratio>("dwelling.above_least").map(Ratio::ratio)
    }

    /// The path for existing dwellings with weak local exhaust.
    pub fn existing_path(&self) -> Answer<ExistingPath> {
        self.quantity::<Ratio>("dwelling.existing_deficit_share")
            .map(|share| ExistingPath { deficit_share: share.ratio() })
    }

    /// What a window that opens takes off a room's deficit on the path for existing dwellings.
    pub fn existing_window_credit(&self) -> Answer<Airflow> {
        self.quantity("dwelling.existing_window_credit")
    }
}

impl ExistingPath {
    /// What is added to the continuous whole-dwelling rate for rooms whose local exhaust falls short.
    /// Each pair is the required and the measured intermittent flow of a room; a window that opens
    /// lowers a room's deficit by `credit` beforehand, at the caller's choice.
    pub fn addition(&self, rooms: &[(Airflow, Airflow)]) -> Airflow {
        let deficits =
            rooms.iter().map(|(required, measured)| (required.m3_s() - measured.m3_s()).max(0.0));
        Airflow::from_m3_s(self.deficit_share * deficits.sum::<f64>())
    }
}
