//! The report: the contract that faces, other programs and tests rely on.
//!
//! Plain numbers carry their SI unit as a suffix from one closed list (`docs/nomenclature.md`). A
//! field is always a plain number or always a [`Triple`], never either. Sentences are carried as
//! a [`Message`] (key and typed values); `text` beside it is filled in by the `words` crate.

mod building;

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

pub use building::{
    BlockPiece, Bore, ClearanceResult, Coursing, Elbow, Joint, Jointing, LowPoint, Penetration,
    Placement, RouteLeg, RouteResult, Supports,
};

/// Version of the report format.
pub const REPORT_FORMAT: u32 = 1;

/// Low, likely and high: 5th percentile, median and 95th percentile of the draws.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Triple {
    /// 5th percentile.
    pub low: f64,
    /// Median.
    pub likely: f64,
    /// 95th percentile.
    pub high: f64,
}

impl Triple {
    /// The same value three times.
    pub fn exact(value: f64) -> Self {
        Self { low: value, likely: value, high: value }
    }

    /// Percentiles of a set of draws; `None` when there are none.
    ///
    /// The percentile is the order statistic nearest below the rank, so that a result is always a
    /// value that was really drawn.
    pub fn of_draws(draws: &[f64]) -> Option<Self> {
        let mut sorted = draws.to_vec();
        let last = sorted.len().checked_sub(1)?;
        let mut rank = |share: f64| {
            let k = (share * last as f64).round() as usize;
            *sorted.select_nth_unstable_by(k, f64::total_cmp).1
        };
        Some(Self { low: rank(0.05), likely: rank(0.5), high: rank(0.95) })
    }

    /// The triple with each value mapped; the map must be increasing.
    #[must_use]
    pub fn map(self, f: impl Fn(f64) -> f64) -> Self {
        Self { low: f(self.low), likely: f(self.likely), high: f(self.high) }
    }

    /// Whether low and high are the same value.
    pub fn is_exact(self) -> bool {
        self.low.total_cmp(&self.high).is_eq()
    }
}

/// A figure with its kind and unit.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Figure {
    /// Air flow, litres per second.
    AirflowLS(Triple),
    /// Pressure, pascals.
    PressurePa(Triple),
    /// Length, metres.
    LengthM(Triple),
    /// Diameter or other small length, millimetres.
    DiameterMm(Triple),
    /// Gap, thickness or other small length, millimetres.
    GapMm(Triple),
    /// Area, square metres.
    AreaM2(Triple),
    /// Volume, cubic metres.
    VolumeM3(Triple),
    /// Velocity, metres per second.
    VelocityMS(Triple),
    /// Temperature, degrees Celsius.
    TemperatureC(Triple),
    /// Angle, degrees.
    AngleDeg(Triple),
    /// A plain number: a coefficient, a radius over a diameter.
    FactorRatio(Triple),
    /// Share, 0 to 1.
    ShareRatio(Triple),
    /// Chance, 0 to 1.
    ChanceRatio(Triple),
    /// Number of things.
    Count(Triple),
    /// Loudness, sone.
    LoudnessSone(Triple),
    /// Power, watts.
    PowerW(Triple),
    /// Thermal resistance, m²K/W.
    InsulationRsi(Triple),
    /// Air changes per hour.
    AirChangesPerH(Triple),
    /// Time, hours.
    TimeH(Triple),
    /// Flow of water, litres per second.
    WaterLS(Triple),
    /// Relative humidity, 0 to 1.
    HumidityRatio(Triple),
    /// Mass, grams.
    MassG(Triple),
    /// Mass, kilograms.
    MassKg(Triple),
    /// Mass flow, kilograms per second.
    MassKgS(Triple),
    /// Energy, kilowatt hours.
    EnergyKwh(Triple),
    /// Mould index, 0 to 6.
    MouldRatio(Triple),
    /// Temperature difference, kelvin.
    DifferenceK(Triple),
}

impl Figure {
    /// The three numbers.
    pub fn triple(self) -> Triple {
        match self {
            Self::AirflowLS(t)
            | Self::PressurePa(t)
            | Self::LengthM(t)
            | Self::DiameterMm(t)
            | Self::GapMm(t)
            | Self::AreaM2(t)
            | Self::VolumeM3(t)
            | Self::VelocityMS(t)
            | Self::TemperatureC(t)
            | Self::AngleDeg(t)
            | Self::FactorRatio(t)
            | Self::ShareRatio(t)
            | Self::ChanceRatio(t)
            | Self::Count(t)
            | Self::LoudnessSone(t)
            | Self::PowerW(t)
            | Self::InsulationRsi(t)
            | Self::AirChangesPerH(t)
            | Self::TimeH(t)
            | Self::WaterLS(t)
            | Self::HumidityRatio(t)
            | Self::MassG(t)
            | Self::MassKg(t)
            | Self::MassKgS(t)
            | Self::EnergyKwh(t)
            | Self::MouldRatio(t)
            | Self::DifferenceK(t) => t,
        }
    }
}

/// A value inside a message.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Value {
    /// A figure, printed in the unit system of the reader.
    Figure(Figure),
    /// An id or name as the user wrote it.
    Name(String),
    /// A word of ours, by key; translated.
    Word(String),
    /// A reference such as a section number; never translated.
    Reference(String),
}

/// A sentence by key, with its values.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Message {
    /// Key of the sentence.
    pub key: String,
    /// Values by the name they have in the sentence.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub values: BTreeMap<String, Value>,
    /// The sentence in the language and units asked for; empty until it is put into words.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub text: String,
}

impl Message {
    /// A message without values.
    pub fn new(key: &str) -> Self {
        Self { key: key.to_owned(), values: BTreeMap::new(), text: String::new() }
    }

    /// The same with a figure.
    #[must_use]
    pub fn figure(mut self, name: &str, figure: Figure) -> Self {
        self.values.insert(name.to_owned(), Value::Figure(figure));
        self
    }

    /// The same with a name as the user wrote it.
    #[must_use]
    pub fn name(mut self, name: &str, value: impl Into<String>) -> Self {
        self.values.insert(name.to_owned(), Value::Name(value.into()));
        self
    }

    /// The same with a word of ours.
    #[must_use]
    pub fn word(mut self, name: &str, key: impl Into<String>) -> Self {
        self.values.insert(name.to_owned(), Value::Word(key.into()));
        self
    }

    /// The same with a reference.
    #[must_use]
    pub fn reference(mut self, name: &str, value: impl Into<String>) -> Self {
        self.values.insert(name.to_owned(), Value::Reference(value.into()));
        self
    }
}

/// What a check found.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema,
)]
#[serde(rename_all = "snake_case")]
pub enum Verdict {
    /// The rule or physical need is met.
    Holds,
    /// Advice: not broken, but worth knowing.
    Caution,
    /// Not known; the finding names what is missing.
    Unknown,
    /// A rule or a physical need is broken.
    Fails,
}

/// Where a limit or a formula comes from.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Source {
    /// Book, paper or standard.
    pub book: String,
    /// Section, table or equation.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub section: String,
    /// How sure the value is.
    pub standing: Standing,
}

/// How sure a value is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Standing {
    /// Read in the published text.
    Confirmed,
    /// Recalled, not read; never yields holds or fails on its own.
    FromMemory,
    /// Common practice, no source.
    CommonPractice,
    /// Our own judgement, said openly.
    Judgement,
}

impl Source {
    /// A confirmed source.
    pub fn confirmed(book: &str, section: &str) -> Self {
        Self { book: book.to_owned(), section: section.to_owned(), standing: Standing::Confirmed }
    }

    /// A value from memory.
    pub fn memory(book: &str, section: &str) -> Self {
        Self { book: book.to_owned(), section: section.to_owned(), standing: Standing::FromMemory }
    }

    /// Common practice without a source.
    pub fn practice() -> Self {
        Self {
            book: "common practice, no source".to_owned(),
            section: String::new(),
            standing: Standing::CommonPractice,
        }
    }

    /// Our own judgement.
    pub fn judgement(why: &str) -> Self {
        Self {
            book: format!("judgement: {why}"),
            section: String::new(),
            standing: Standing::Judgement,
        }
    }
}

/// Where a value comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Provenance {
    /// Written in the job.
    Written,
    /// Measured.
    Measured,
    /// From a label or data sheet.
    Label,
    /// Assumed by the user.
    Assumed,
    /// From the rule book.
    RuleBook,
    /// A default of the program, listed among the assumptions.
    Default,
    /// Worked out in an earlier step.
    Computed,
}

/// One input of a step of a working.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct WorkingInput {
    /// Symbol in the equation.
    pub symbol: String,
    /// What it is.
    pub what: Message,
    /// Its value.
    pub figure: Figure,
    /// Where it comes from.
    pub from: Provenance,
}

/// One step of a working: an equation with its inputs and its result.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Step {
    /// The equation, in symbols.
    pub equation: String,
    /// The inputs, in the order of the equation.
    pub inputs: Vec<WorkingInput>,
    /// What the step gives.
    pub result: Option<Figure>,
    /// Published source of the equation.
    pub source: Source,
}

/// One checked point.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Finding {
    /// Id of the check, for example `duct.length.table`.
    pub id: String,
    /// Id of the room, fan, run, part or terminal that is checked.
    pub subject: String,
    /// What was found.
    pub verdict: Verdict,
    /// The finding in a sentence.
    pub message: Message,
    /// The figure that was compared.
    pub figure: Option<Figure>,
    /// The limit it was compared with.
    pub limit: Option<Figure>,
    /// Chance that the check holds, where it was judged from draws.
    pub chance: Option<f64>,
    /// Source of the limit.
    pub source: Source,
    /// How the figure was worked out.
    pub working: Vec<Step>,
    /// What to do, cheapest first.
    pub todo: Vec<Message>,
    /// The user's reason for going on in spite of it.
    pub overridden: Option<String>,
}

/// A rate of air a room must get, by one method of one book.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Requirement {
    /// Room id; empty for the whole dwelling.
    pub room: String,
    /// The method, by key.
    pub method: String,
    /// Required flow; none when the book does not say or an input is missing.
    pub airflow_l_s: Option<Triple>,
    /// Whether this is the one that governs the room.
    pub governs: bool,
    /// Whether the book calls for it or only advises it.
    pub guidance: bool,
    /// Source.
    pub source: Source,
    /// How it was worked out.
    pub working: Vec<Step>,
    /// What is missing, when there is no figure.
    pub missing: Option<Message>,
}

/// What a room gets.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct RoomResult {
    /// Room id.
    pub id: String,
    /// Name for people.
    pub name: String,
    /// Floor area.
    pub floor_m2: Option<Triple>,
    /// Volume.
    pub room_m3: Option<Triple>,
    /// Air that leaves the room for outdoors.
    pub delivered: Option<Delivered>,
    /// Pressure of the room against outdoors.
    pub pressure_pa: Option<Triple>,
    /// The room through a design shower; none when the air or the size of the room is not known.
    pub clearing: Option<Clearing>,
    /// The room through a year, where it was asked for and the weather is known.
    pub year: Option<RoomYear>,
    /// What its humidity control can do, where it has one.
    pub control: Option<ControlResult>,
}

/// A room through a design shower, and through showers back to back where the job has more than one.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Clearing {
    /// Highest relative humidity.
    pub peak_humidity_ratio: Triple,
    /// From the end of the last shower until the mirror is clear; 0 when it never fogs.
    pub mirror_time_s: Triple,
    /// From the end of the last shower until the room is back within its band of the humidity before.
    pub back_to_normal_time_s: Triple,
    /// Longest time that was followed after the shower: a time as long as this means "not within it".
    pub followed_s: f64,
    /// Chance that the mirror clears within the time followed.
    pub mirror_clears_ratio: f64,
    /// Chance that the room is back within the time followed.
    pub back_to_normal_ratio: f64,
    /// Water still on mirror, window, walls and fixtures at the end of the time followed.
    pub left_on_surfaces_g: Triple,
    /// Vapour the fan carried off.
    pub carried_off_g: Triple,
    /// Time the fan ran.
    pub fan_h: Triple,
    /// Electricity of the fan and of a heated mirror.
    pub energy_kwh: Triple,
    /// Heat in the air that was drawn off and must be made up.
    pub air_heat_kwh: Triple,
    /// Minutes after the end of the last of several showers back to back; none for one shower.
    pub back_to_back_mirror_time_s: Option<Triple>,
    /// Residual of the water balance over what was put through; the worst of all draws.
    pub water_residual_ratio: f64,
    /// Residual of the energy balance over what was put through; the worst of all draws.
    pub energy_residual_ratio: f64,
}

/// An amount of money, in the currency the job names.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Money {
    /// Amount.
    pub amount: f64,
    /// Currency as the job writes it; none where it names none.
    pub currency: Option<String>,
}

/// A room through a year at the likely values.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct RoomYear {
    /// Month by month, January first.
    pub months: Vec<RoomMonth>,
    /// Hours in which the room stood above 80 % relative humidity.
    pub hours_above_80_h: f64,
    /// Highest mould index of the year on the worst surface (0 to 6), with the sensitivity class one step
    /// more resistant and one step more sensitive as low and high.
    pub mould_peak_ratio: Triple,
    /// Surface on which it is highest.
    pub mould_surface: String,
    /// Highest 30-day running mean of surface humidity.
    pub running_humidity_ratio: f64,
    /// Time the fan ran.
    pub fan_h: f64,
    /// Electricity of fan and heated mirror; none where the power of a fan is not known.
    pub energy_kwh: Option<f64>,
    /// Heat (and cold) in the air that was drawn off and had to be made up.
    pub air_heat_kwh: f64,
    /// What both cost at the job's prices; none where a price of something that is used is not written.
    pub cost: Option<Money>,
    /// Showers after which the mirror was clear within half an hour, over all showers; none without a mirror.
    pub clear_in_half_an_hour_ratio: Option<f64>,
    /// Residual of the water balance over what was put through.
    pub water_residual_ratio: f64,
    /// Residual of the energy balance over what was put through.
    pub energy_residual_ratio: f64,
}

/// One month of a room's year.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct RoomMonth {
    /// 1 is January.
    pub month: u32,
    /// Mean outdoor temperature.
    pub outdoor_c: f64,
    /// Mean relative humidity of the room.
    pub humidity_ratio: f64,
    /// Mean relative humidity of the rest of the dwelling.
    pub dwelling_humidity_ratio: f64,
    /// Hours above 80 % in the room.
    pub hours_above_80_h: f64,
    /// Time the fan ran.
    pub fan_h: f64,
    /// Electricity of fan and heated mirror; none where the power of a fan is not known.
    pub energy_kwh: Option<f64>,
    /// Heat (and cold) in the air drawn off.
    pub air_heat_kwh: f64,
    /// Mould index of the worst surface at the end of the month.
    pub mould_ratio: f64,
    /// Mean time until the mirror is clear.
    pub mirror_time_s: Option<f64>,
    /// Vapour the fan carried off.
    pub carried_off_kg: f64,
}

/// What a humidity control can do in this dwelling.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct ControlResult {
    /// Set-point that was judged.
    pub set_point_ratio: Option<f64>,
    /// Whether the set-point can be reached between showers, month by month, January first; empty
    /// without weather.
    pub reachable: Vec<bool>,
    /// Lowest relative humidity that the room comes down to with the fan on, month by month.
    pub lowest_humidity_ratio: Vec<f64>,
    /// Set-point that would do all year, if any.
    pub would_do_ratio: Option<f64>,
    /// Time from the start of the shower until the control starts the fan; none if it never does.
    pub starts_after_s: Option<f64>,
    /// Time the fan goes on after the shower; none if it does not stop within the time followed.
    pub stops_after_s: Option<f64>,
}

/// Air that leaves a room.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Delivered {
    /// Actual flow at the grille.
    pub airflow_l_s: Triple,
    /// Mass flow of moist air.
    pub mass_kg_s: Triple,
    /// Chance that the flow is at least what governs; none when nothing is required.
    pub chance_enough: Option<f64>,
    /// Air changes of the room.
    pub changes_per_h: Option<Triple>,
    /// First-order time for three volumes of the room to pass, in hours.
    pub clearing_h: Option<Triple>,
}

/// What a fan does on its system.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct FanResult {
    /// Fan id.
    pub id: String,
    /// Model, if from a library.
    pub model: Option<String>,
    /// Where curve and system meet.
    pub operating_point: Option<OperatingPoint>,
    /// Further crossings at the likely values, when the curve has a stall hump.
    pub other_crossings: Vec<Crossing>,
    /// Loudness at the operating point, with a one-sided band away from its rating.
    pub loudness_sone: Option<Triple>,
    /// Where the loudness comes from: the label, or a band without a source away from its rating.
    pub loudness_source: Option<Source>,
    /// Electric power.
    pub power_w: Option<Triple>,
    /// How the curve was come by.
    pub curve: CurveOrigin,
}

/// Flow and pressure of a fan.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct OperatingPoint {
    /// Flow through the fan.
    pub airflow_l_s: Triple,
    /// Static pressure the fan makes.
    pub pressure_pa: Triple,
}

/// A crossing of fan curve and system curve.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Crossing {
    /// Flow.
    pub airflow_l_s: f64,
    /// Pressure.
    pub pressure_pa: f64,
    /// Whether the fan stays there after a small push.
    pub stable: bool,
}

/// How a fan curve was come by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum CurveOrigin {
    /// Points of a data sheet.
    Points,
    /// Two or more rated points, the rest a band.
    TwoRatings,
    /// One rated point with its pressure, the rest a band.
    OneRating,
    /// Only the number on the box.
    BoxNumber,
    /// Nothing is known.
    None,
}

/// What a run does.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct RunResult {
    /// Run id.
    pub id: String,
    /// Flow in the run.
    pub airflow_l_s: Option<Triple>,
    /// Losses, part by part in the direction of flow.
    pub losses: Vec<Loss>,
    /// Sum of the losses.
    pub total_pa: Option<Triple>,
    /// Straight length.
    pub straight_m: Option<Triple>,
    /// Water in the run; none when the air, the duct or its surroundings are not known.
    pub condensate: Option<Condensate>,
    /// Insulation the run would need; none when the water in it is not known.
    pub insulation: Option<InsulationNeed>,
}

/// Water in a run.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Condensate {
    /// Condensed inside in one design shower on a winter day, run-on included.
    pub per_shower_g: Triple,
    /// Left in the duct or run out of it over a winter day, after re-evaporation, once such days are alike; with what
    /// rises into the duct while the fan rests.
    pub net_winter_g: Triple,
    /// Frost at the end of the first such day.
    pub frost_g: Triple,
    /// Of the net water what runs back to the fan, once the walls carry what they can.
    pub back_to_fan_g: Triple,
    /// Of the net water what runs out at the terminal, once the walls carry what they can.
    pub out_at_terminal_g: Triple,
    /// Coldest inner surface while air of the shower passes, the cold start included; of the day where none does.
    pub coldest_inside_c: Triple,
    /// Residual of the balances of water, vapour and heat over what was put through; the worst of all draws.
    pub water_residual_ratio: f64,
    /// The winter day it was worked out for.
    pub outdoor_c: f64,
    /// Piece by piece, in the direction of flow.
    pub pieces: Vec<PieceWater>,
    /// Month by month over the year, where it was asked for: net grams, January first.
    pub months_g: Vec<f64>,
}

/// Water in one piece of a run, at the likely values.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct PieceWater {
    /// Part id.
    pub part: String,
    /// What surrounds it, by key.
    pub surroundings: String,
    /// Temperature of the surroundings on that day.
    pub surroundings_c: f64,
    /// Resistance from its inner wall to the surroundings, referred to the inner area.
    pub resistance_rsi: f64,
    /// Coldest inner surface.
    pub coldest_inside_c: f64,
    /// Condensed in one shower.
    pub condensed_g: f64,
    /// Coldest outer surface in summer and the dew point of the surroundings, where the duct can be cold.
    pub outside_summer_c: Option<f64>,
    /// Dew point of the surroundings in summer.
    pub dew_point_summer_c: Option<f64>,
}

/// Insulation that a run would need.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct InsulationNeed {
    /// Least insulation that keeps the net daily water of the fan's use under the limit, 0 where the duct may be bare; none
    /// when none suffices. What rises into the duct at rest is not counted: no insulation helps against it.
    pub needed_rsi: Option<f64>,
    /// Product of the library with at least that, by its id.
    pub product: Option<String>,
    /// Limit of net daily water.
    pub limit_g: f64,
    /// What helps where no insulation suffices: run-on, slope or trap.
    pub instead: Vec<Message>,
}

/// The dwelling around the rooms.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct DwellingResult {
    /// Pressure at each appliance with every exhaust on, worst case.
    pub pressure: Vec<PressureResult>,
    /// Way in for the air of each room.
    pub transfer: Vec<TransferResult>,
    /// Ventilation of the whole dwelling; none when nothing is known of it.
    pub ventilation: Option<WholeVentilation>,
    /// The rest of the dwelling through a year, where it was asked for and the weather is known.
    pub year: Option<DwellingYear>,
}

/// The rest of the dwelling through a year.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct DwellingYear {
    /// Where the weather comes from.
    pub weather: Message,
    /// What was noticed and put right in the weather file.
    pub weather_notes: Vec<Message>,
    /// Mean relative humidity, January first.
    pub humidity_ratio: Vec<f64>,
    /// Hours above 60 %.
    pub hours_above_60_h: f64,
    /// Mean infiltration.
    pub infiltration_l_s: f64,
    /// Water taken out by the air conditioner and the dehumidifier.
    pub dried_kg: f64,
    /// Residual of its water balance over what was put through.
    pub water_residual_ratio: f64,
}

/// Pressure at an appliance with every exhaust on, in the worst case.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct PressureResult {
    /// Appliance id; `dwelling` when the job has none.
    pub appliance: String,
    /// Indoors minus outdoors at the appliance; negative when the house is drawn down. Stack and wind of
    /// the worst case are in it.
    pub indoor_minus_outdoor_pa: Triple,
    /// What the exhausts change in that: with all of them on less with all of them off, in the same
    /// weather. This is what stands against the limit.
    pub by_exhausts_pa: Triple,
    /// The same with calm air.
    pub calm_pa: Triple,
    /// The same without any exhaust: stack alone.
    pub exhausts_off_pa: Triple,
    /// Limit, as a pressure below outdoors (negative); none when no book says.
    pub limit_pa: Option<f64>,
    /// Source of the limit.
    pub source: Option<Source>,
    /// Air that all exhausts take out.
    pub exhaust_l_s: Triple,
    /// Case that is worst, by key.
    pub worst: String,
}

/// Way in for the air of a room.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct TransferResult {
    /// Room id.
    pub room: String,
    /// Gap under the door that would do.
    pub gap_m: Triple,
    /// What to saw off the leaf; none when the present gap is not known.
    pub saw_cut_m: Option<Triple>,
    /// Free area of a transfer grille that would do in place of the gap.
    pub grille_m2: Triple,
    /// Pressure allowed between room and dwelling.
    pub allowed_pa: f64,
    /// Flow it is sized for.
    pub airflow_l_s: Triple,
}

/// Ventilation of the whole dwelling.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct WholeVentilation {
    /// Continuous rate asked for; none when the book does not say.
    pub required_l_s: Option<f64>,
    /// Credit for infiltration.
    pub infiltration_credit_l_s: Option<f64>,
    /// Continuous rate that what is written gives, intermittent running counted by its share of time.
    pub provided_l_s: Option<Triple>,
    /// Hours a day the job's fans would have to run at their delivered flow to give it.
    pub hours_a_day_h: Option<Triple>,
    /// Continuous flow that would give it.
    pub continuous_l_s: Option<f64>,
}

/// Loss of one part.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Loss {
    /// Part id; `terminal`, `outlet` and the like for what is not a part.
    pub part: String,
    /// What it is, by key.
    pub what: String,
    /// Pressure lost.
    pub pressure_pa: Triple,
    /// Mean velocity in it.
    pub velocity_m_s: Option<Triple>,
}

/// A change to the job that would be worth taking.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Candidate {
    /// Rank, 1 is best.
    pub rank: u32,
    /// Fan of the job that would be replaced.
    pub fan: String,
    /// Library model.
    pub model: String,
    /// Name for people.
    pub name: String,
    /// Air delivered to each served room, by room id.
    pub delivered: Vec<CandidateRoom>,
    /// Chance that every served room gets enough.
    pub chance_enough: Option<f64>,
    /// Loudness on this run.
    pub loudness_sone: Option<Triple>,
    /// Electric power.
    pub power_w: Option<f64>,
    /// Findings that go with it: outlet and duct, opening, listing, house pressure.
    pub notes: Vec<CandidateNote>,
    /// The change.
    pub patch: PatchText,
}

/// Air a candidate would deliver to a room.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct CandidateRoom {
    /// Room id.
    pub room: String,
    /// Flow at the grille.
    pub airflow_l_s: Triple,
}

/// A note on a candidate.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct CandidateNote {
    /// Id of the check.
    pub id: String,
    /// Verdict.
    pub verdict: Verdict,
    /// In a sentence.
    pub message: Message,
}

/// A change to a job file: values by path.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct PatchText {
    /// Values to set, in order.
    pub set: Vec<SetText>,
    /// Values to take out, by path: what the job says of the fan that goes.
    pub remove: Vec<String>,
}

/// One value to set.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct SetText {
    /// Path, for example `fan.fan.model`.
    pub at: String,
    /// Value as it is written in the file.
    pub value: String,
}

/// A value that was not written and was taken from a default.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Assumption {
    /// Path of the value in the job, where it can be written.
    pub at: String,
    /// What it is.
    pub what: Message,
    /// Value taken.
    pub figure: Option<Figure>,
    /// Words taken, for categories.
    pub words: Vec<String>,
    /// Whether it was said to be unknown (rather than not written).
    pub said_unknown: bool,
    /// Source of the default.
    pub source: Source,
}

/// A thing worth looking at on site.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct LookNext {
    /// Path of the value in the job.
    pub at: String,
    /// What to measure or look at.
    pub what: Message,
    /// Share of the draws in which knowing it would settle the verdict.
    pub settles_ratio: f64,
    /// Time it takes, about (judgement).
    pub effort_h: f64,
    /// Finding it would settle.
    pub finding: String,
    /// Subject of that finding.
    pub subject: String,
}

/// A result under weather or use other than the reference case.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct ScenarioResult {
    /// Scenario id.
    pub id: String,
    /// Air delivered to each served room at the likely values; negative is air coming in.
    pub delivered: Vec<CandidateRoom>,
    /// The same at the likely values of the reference case, to compare with.
    pub calm: Vec<CandidateRoom>,
    /// What the scenario names and could not be taken into account, since something is not written.
    pub left_out: Vec<Message>,
}

/// A safety caution that the job touches.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct SafetyCaution {
    /// Id, for example `combustion`.
    pub id: String,
    /// The caution.
    pub message: Message,
    /// Source.
    pub source: Source,
}

/// What the report was made from.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct WorldHash {
    /// BLAKE3 of the job text.
    pub job: String,
    /// Rule book id and BLAKE3 of its resolved text with amendments.
    pub rule_book: Option<BookHash>,
    /// BLAKE3 of the library texts, in order.
    pub library: String,
    /// BLAKE3 of the hours of weather that the year was followed through, as they were read or made: temperature (°C), humidity
    /// ratio, pressure (Pa) and wind (m/s, -1 where there is none) of each hour in turn, as little-endian 64-bit numbers; absent
    /// where no year was asked for or no weather is known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub weather: Option<String>,
}

/// A rule book and its hash.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct BookHash {
    /// Book id.
    pub id: String,
    /// Title.
    pub title: String,
    /// Names of local amendments laid over it.
    pub amendments: Vec<String>,
    /// BLAKE3 of its resolved text.
    pub hash: String,
}

/// The overall answer.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Answer {
    /// Worst verdict over all findings that are not overridden (cautions do not count).
    pub verdict: Verdict,
    /// One sentence a room: how much leaves, whether it is enough.
    pub messages: Vec<Message>,
}

/// The whole report.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Report {
    /// Version of the format.
    pub format: u32,
    /// Version of the engine.
    pub engine: String,
    /// Name of the job.
    pub name: String,
    /// `us` or `metric`: how texts show figures.
    pub show: String,
    /// Number of draws behind the triples; 0 is the likely values alone.
    pub draws_count: u32,
    /// What it was made from.
    pub world: WorldHash,
    /// The overall answer.
    pub answer: Answer,
    /// Required flows.
    pub requirement: Vec<Requirement>,
    /// Rooms.
    pub rooms: Vec<RoomResult>,
    /// Fans.
    pub fans: Vec<FanResult>,
    /// Runs.
    pub runs: Vec<RunResult>,
    /// The dwelling: pressures, ways in for air, ventilation.
    pub dwelling: Option<DwellingResult>,
    /// Places for each housing, best first.
    pub placements: Vec<Placement>,
    /// Ways outdoors for each fan, best first.
    pub routes: Vec<RouteResult>,
    /// Holes through members that are written or that the run as written needs.
    pub bores: Vec<Bore>,
    /// Holes through walls and roofs.
    pub penetrations: Vec<Penetration>,
    /// Distances at terminals and ways out.
    pub clearances: Vec<ClearanceResult>,
    /// Results under other weather or use.
    pub scenarios: Vec<ScenarioResult>,
    /// Fans of the library on this run.
    pub candidates: Vec<Candidate>,
    /// Checked points.
    pub findings: Vec<Finding>,
    /// Defaults that were used.
    pub assumptions: Vec<Assumption>,
    /// What to look at next, most useful first.
    pub look_next: Vec<LookNext>,
    /// Safety cautions.
    pub cautions: Vec<SafetyCaution>,
    /// Evidence recorded for later stages, by id.
    pub evidence: Vec<Message>,
    /// What could not be seen, as written.
    pub not_seen: Vec<String>,
}
