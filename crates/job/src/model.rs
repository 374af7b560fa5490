//! The checked job: everything the contractor wrote down, parsed into quantities, with its origin.
//!
//! Nothing here is compulsory beyond what the types say: a value that was left out is `None`, one
//! that was written as `"unknown"` is `Some` of an unknown. The two are kept apart so that the
//! assumptions list can say "not written" or "said to be unknown".

use dewpath_units::{
    AirChange50, Airflow, Angle, Area, Choice, Conductor, Duration, Humidity, Leakage50, Length,
    Loudness, Mass, MassFlow, Power, Pressure, Ratio, Stated, Temperature, TemperatureDifference,
    ThermalResistance, Uncertain, Velocity, Volume, WaterFlow, YesNo,
};

use crate::category::category;

mod geometry;
pub use geometry::*;

/// A quantity that may be left out, unknown, exact, a range or "about", with its origin.
pub type Given<Q> = Option<Stated<Uncertain<Q>>>;
/// A category that may be left out, unknown, one of several, or known.
pub type GivenChoice<C> = Option<Stated<Choice<C>>>;
/// A yes/no that may be left out or unknown.
pub type GivenYesNo = Option<Stated<YesNo>>;
/// A count that may be left out, unknown or a range.
pub type GivenCount = Option<Stated<Uncertain<u32>>>;

/// A whole job, checked: ids are unique, references resolve, values are possible.
#[derive(Debug, Clone, PartialEq)]
pub struct Job {
    /// Version of the job-file format (1).
    pub format: u32,
    /// What the contractor calls the job.
    pub name: String,
    /// The day of the job as it stands on drawings; never taken from a clock.
    pub date: Option<Day>,
    /// Units of the output.
    pub show: Show,
    /// New build, swap or call-back.
    pub work: Work,
    /// Id of the rule book in force, if named.
    pub rule_book: Option<String>,
    /// Further books whose answers are shown beside (guidance, a second edition).
    pub also_show: Vec<String>,
    /// Local amendment files, as written, in order.
    pub amendments: Vec<String>,
    /// Library files of the user's own, as written, in order.
    pub libraries: Vec<String>,
    /// Free notes; never interpreted.
    pub notes: Vec<String>,
    /// What could not be seen at the survey; printed, never interpreted.
    pub not_seen: Vec<String>,
    /// Where the job is.
    pub site: Site,
    /// The dwelling around the rooms.
    pub dwelling: Dwelling,
    /// The rooms that are served.
    pub rooms: Vec<Room>,
    /// Grilles of fans that sit elsewhere.
    pub grilles: Vec<Grille>,
    /// The fans.
    pub fans: Vec<Fan>,
    /// Points where runs meet.
    pub junctions: Vec<Junction>,
    /// The runs.
    pub runs: Vec<Run>,
    /// Where air leaves.
    pub terminals: Vec<Terminal>,
    /// Floors and ceilings, zone by zone.
    pub framing: Vec<Framing>,
    /// Spaces that a duct may pass through.
    pub spaces: Vec<Space>,
    /// What is in the way.
    pub obstacles: Vec<Obstacle>,
    /// Ways outdoors.
    pub ways_out: Vec<WayOut>,
    /// Measured flows and pressures.
    pub readings: Vec<Reading>,
    /// What was seen or told: drips, fog, noise. Evidence for later stages; listed in the report.
    pub symptoms: Vec<Symptom>,
    /// What must stay when an old fan is swapped.
    pub existing: Existing,
    /// Weather and use other than the reference case (calm, door shut, fans on).
    pub scenarios: Vec<Scenario>,
    /// Findings the user overrides, each with a reason.
    pub overrides: Vec<Override>,
    /// Values found different when built, laid over the design (already applied to the fields above
    /// when the job was read with the as-built basis).
    pub built: Vec<Built>,
    /// How verdicts are drawn.
    pub settings: Settings,
}

impl Job {
    /// The whole job as bytes for a hash: equal jobs give equal bytes, on every machine, whatever the
    /// comments and layout of their files. Two different jobs give different bytes. The form is that of
    /// `Debug` and means nothing by itself.
    pub fn bytes_for_hash(&self) -> Vec<u8> {
        format!("{self:?}").into_bytes()
    }
}

category! {
    /// Unit system of the output.
    pub enum Show {
        /// Feet, inches, cfm, in. w.c.
        Us = "us",
        /// Metres, L/s, Pa.
        Metric = "metric",
    }
}

category! {
    /// What kind of work this is.
    pub enum Work {
        /// Everything is new.
        New = "new",
        /// An old fan is replaced; opening, duct, wire and access may have to stay.
        Swap = "swap",
        /// Something built does not work and the reason is sought.
        CallBack = "call-back",
    }
}

/// Where the job is.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Site {
    /// Height above sea level.
    pub altitude: Given<Length>,
    /// Air temperature in the dwelling.
    pub indoor: Given<Temperature>,
    /// Outdoor air temperature of the reference case.
    pub outdoor: Given<Temperature>,
    /// Relative humidity in the room while the fan is judged.
    pub humidity: Given<Humidity>,
    /// File with the weather of a year, as written, relative to the job file.
    pub weather: Option<String>,
    /// Sort of climate, where there is neither a weather file nor monthly means.
    pub climate: GivenChoice<Climate>,
    /// Means of each month, where there is no weather file.
    pub months: Option<Months>,
    /// What the wind comes over before it reaches the house.
    pub terrain: GivenChoice<Terrain>,
}

category! {
    /// Sort of climate.
    pub enum Climate {
        /// Mild and damp all year, by the sea.
        CoolCoastal = "cool coastal",
        /// Cold winters, warm and humid summers.
        MixedHumid = "mixed humid",
        /// Warm and humid most of the year.
        HotHumid = "hot humid",
    }
}

category! {
    /// What the wind comes over before it reaches the house.
    pub enum Terrain {
        /// Fields, water, a few single trees.
        Open = "open",
        /// Houses, trees, hedges.
        Suburb = "suburb",
        /// Tall buildings close by.
        City = "city",
    }
}

/// Means of each month outdoors, from January to December.
#[derive(Debug, Clone, PartialEq)]
pub struct Months {
    /// Mean air temperature.
    pub temperature: [Temperature; 12],
    /// Mean relative humidity.
    pub humidity: Option<[Humidity; 12]>,
    /// Mean dew point.
    pub dew_point: Option<[Temperature; 12]>,
    /// From the coldest to the warmest hour of a mean day.
    pub swing: Option<[TemperatureDifference; 12]>,
    /// Mean wind speed at the station.
    pub wind: Option<[Velocity; 12]>,
}

/// The dwelling around the rooms.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Dwelling {
    /// House, flat, …
    pub kind: GivenChoice<DwellingKind>,
    /// Conditioned floor area.
    pub floor_area: Given<Area>,
    /// Conditioned volume.
    pub volume: Given<Volume>,
    /// Bedrooms.
    pub bedrooms: GivenCount,
    /// Year built (for cautions: lead paint before 1978, asbestos).
    pub year_built: GivenCount,
    /// Envelope leakage by blower door, as air changes at 50 Pa.
    pub air_changes: Given<AirChange50>,
    /// Envelope leakage by blower door, as flow at 50 Pa.
    pub leakage: Given<Leakage50>,
    /// Storeys above grade.
    pub storeys: GivenCount,
    /// People who live in it.
    pub occupants: GivenCount,
    /// Set-point of the heating.
    pub heating: Given<Temperature>,
    /// Whether it is cooled in summer.
    pub air_conditioning: GivenYesNo,
    /// Set-point of the cooling.
    pub cooling: Given<Temperature>,
    /// Set-point of a dehumidifier; none when there is none or nobody said.
    pub dehumidifier: Given<Humidity>,
    /// Moisture given off in a day, apart from showers and baths.
    pub moisture: Given<Mass>,
    /// Ventilation of the whole dwelling.
    pub ventilation: Ventilation,
    /// What energy costs.
    pub prices: Prices,
    /// Fuel-burning appliances inside the dwelling.
    pub appliances: Vec<Appliance>,
    /// Other things that blow air out of the dwelling.
    pub exhausts: Vec<OtherExhaust>,
}

/// Ventilation of the whole dwelling.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Ventilation {
    /// Balanced, exhaust or supply; `None` is the word for a dwelling without any.
    pub kind: GivenChoice<VentilationKind>,
    /// Outdoor air while it runs.
    pub airflow: Given<Airflow>,
    /// Share of the heat that is recovered.
    pub recovery: Given<Ratio>,
    /// Share of the moisture that is recovered.
    pub moisture_recovery: Given<Ratio>,
    /// How long it runs in a day.
    pub hours_per_day: Given<Duration>,
}

category! {
    /// How the whole dwelling is ventilated.
    pub enum VentilationKind {
        /// As much in as out.
        Balanced = "balanced",
        /// Air is taken out and leaks in.
        Exhaust = "exhaust",
        /// Air is blown in and leaks out.
        Supply = "supply",
        /// By leaks and windows alone.
        None = "none",
    }
}

/// What energy costs, for each kWh.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Prices {
    /// A kWh of electricity.
    pub electricity: Option<f64>,
    /// A kWh of heat given to the rooms.
    pub heat: Option<f64>,
    /// A kWh of heat taken out of the rooms.
    pub cooling: Option<f64>,
    /// Sign of the currency, for print.
    pub currency: Option<String>,
}

category! {
    /// Kind of dwelling.
    pub enum DwellingKind {
        /// One-family house.
        House = "house",
        /// Half of a two-family house.
        Duplex = "duplex",
        /// Townhouse.
        Townhouse = "townhouse",
        /// Flat in a block.
        Flat = "flat",
        /// Mobile or manufactured home.
        MobileHome = "mobile home",
    }
}

/// A fuel-burning appliance.
#[derive(Debug, Clone, PartialEq)]
pub struct Appliance {
    /// Stable id.
    pub id: String,
    /// Water heater, boiler, …
    pub kind: GivenChoice<ApplianceKind>,
    /// How its flue gas leaves.
    pub draft: GivenChoice<Draft>,
    /// Most negative pressure it may stand in, as a positive number, where somebody asks for it.
    pub limit: Given<Pressure>,
    /// Id of the room it stands in, when that is a room of this job.
    pub place: Option<String>,
}

category! {
    /// Kind of appliance.
    pub enum ApplianceKind {
        /// Water heater.
        WaterHeater = "water heater",
        /// Furnace or boiler.
        Furnace = "furnace" | "boiler",
        /// Fireplace or wood stove.
        Fireplace = "fireplace" | "wood stove" | "stove",
    }
}

category! {
    /// How flue gas leaves an appliance.
    pub enum Draft {
        /// Rises by its own warmth: spills when the house is in negative pressure.
        Natural = "natural",
        /// A fan in the appliance helps it into a chimney.
        Induced = "induced",
        /// A fan blows it outdoors.
        PowerVented = "power vented",
        /// Takes its air from outdoors and is closed to the room.
        Sealed = "sealed",
        /// Burns nothing.
        Electric = "electric",
    }
}

/// Another exhaust of the dwelling.
#[derive(Debug, Clone, PartialEq)]
pub struct OtherExhaust {
    /// Stable id.
    pub id: String,
    /// Dryer, range hood, …
    pub kind: GivenChoice<ExhaustKind>,
    /// Air it takes out.
    pub airflow: Given<Airflow>,
    /// Length of its duct (dryers have a limit of their own).
    pub length: Given<Length>,
    /// 90 degree elbows of its duct.
    pub elbows: GivenCount,
    /// Id of a run of this job that it is joined to, if any.
    pub joined_to: Option<String>,
}

category! {
    /// Kind of other exhaust.
    pub enum ExhaustKind {
        /// Clothes dryer.
        Dryer = "dryer",
        /// Range hood.
        RangeHood = "range hood",
        /// Central vacuum or workshop extract.
        Other = "other",
        /// Garage exhaust.
        Garage = "garage",
    }
}

/// A room that is served.
#[derive(Debug, Clone, PartialEq)]
pub struct Room {
    /// Stable id.
    pub id: String,
    /// Name for people; the id when left out.
    pub name: Option<String>,
    /// Bathroom, toilet room, …
    pub kind: RoomKind,
    /// Inside length.
    pub length: Given<Length>,
    /// Inside width.
    pub width: Given<Length>,
    /// Ceiling height.
    pub height: Given<Length>,
    /// Floor area, where length and width are not given.
    pub floor_area: Given<Area>,
    /// Volume, where the height is not given or the ceiling slopes.
    pub volume: Given<Volume>,
    /// Intermittent (by switch or control) or continuous.
    pub operation: GivenChoice<Operation>,
    /// Airflow somebody asks for beyond the rule book (a programme, a contract).
    pub asked: Given<Airflow>,
    /// Fixtures in the room.
    pub fixtures: Fixtures,
    /// The window.
    pub window: Window,
    /// The door and what air can pass at it.
    pub door: Door,
    /// Air temperature in the room.
    pub temperature: Given<Temperature>,
    /// A heater in the room, beside that of the house.
    pub heater: Given<Power>,
    /// Humidity of the air at the exhaust over that of the room's mean, both above the air that comes in.
    pub mixing: Given<Ratio>,
    /// What walls and ceiling show to the air.
    pub finish: GivenChoice<Finish>,
    /// Area of wall and ceiling that takes up moisture.
    pub finish_area: Given<Area>,
    /// Dry mass of towels, mats and curtains.
    pub textiles: Given<Mass>,
    /// How it is used in a day.
    pub usage: Usage,
    /// Surfaces where moisture may settle.
    pub surfaces: Vec<Surface>,
    /// Where it is, what its walls are, and where its housing should be.
    pub plan: RoomPlan,
}

category! {
    /// What walls and ceiling show to the air.
    pub enum Finish {
        /// Gypsum board without paint.
        BareGypsum = "bare gypsum board",
        /// Gypsum board with latex paint.
        Latex = "latex paint",
        /// Gloss or oil paint: takes up little.
        Gloss = "gloss or oil paint",
        /// Tile.
        Tile = "tile",
        /// Plaster.
        Plaster = "plaster",
        /// Bare wood.
        Wood = "wood",
    }
}

/// How a room is used in a day.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Usage {
    /// Showers in a day.
    pub showers: GivenCount,
    /// Length of each shower.
    pub minutes: Given<Duration>,
    /// Water of the shower head.
    pub water: Given<WaterFlow>,
    /// Temperature of that water.
    pub water_temperature: Given<Temperature>,
    /// Vapour given off while the shower runs, where it was measured or is asked to be taken.
    pub vapour: Given<MassFlow>,
    /// Baths in a day.
    pub baths: GivenCount,
    /// People in the room at once.
    pub people: GivenCount,
    /// Pause between one shower and the next.
    pub gap: Given<Duration>,
    /// When showers begin, in the order of the file.
    pub at: Vec<ClockTime>,
    /// What happens with the door.
    pub door: GivenChoice<DoorHabit>,
    /// Dry mass of laundry that is hung up to dry in a day.
    pub drying: Given<Mass>,
    /// When the fan is switched on, by habit.
    pub fan: GivenChoice<FanHabit>,
    /// How long it is left on after the shower, by habit.
    pub leave_on: Given<Duration>,
}

/// A day of the calendar.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Day {
    year: u16,
    month: u8,
    of_month: u8,
}

impl Day {
    /// First and last year that a job can be of. No source: nothing that is worked on today lies outside.
    pub const YEARS: [u16; 2] = [1950, 2199];

    /// Year 1950 to 2199, month 1 to 12 and a day that the month has (Gregorian calendar, ISO 8601-1:2019);
    /// `None` outside of these.
    ///
    /// ```
    /// use dewpath_job::model::Day;
    /// assert_eq!(Day::new(2028, 2, 29).map(|day| day.to_string()).as_deref(), Some("2028-02-29"));
    /// assert_eq!(Day::new(2026, 2, 29), None);
    /// ```
    pub fn new(year: u16, month: u8, day: u8) -> Option<Self> {
        let [first, last] = Self::YEARS;
        let leap =
            year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400));
        let days = match month {
            2 if leap => 29,
            2 => 28,
            4 | 6 | 9 | 11 => 30,
            1..=12 => 31,
            _ => return None,
        };
        let exists = (first..=last).contains(&year) && (1..=days).contains(&day);
        exists.then_some(Self { year, month, of_month: day })
    }
}

/// Year, month and day, as ISO 8601 writes them.
impl std::fmt::Display for Day {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{:04}-{:02}-{:02}", self.year, self.month, self.of_month)
    }
}

/// A time of day, to the minute.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ClockTime {
    minutes: u16,
}

impl ClockTime {
    /// Hours 0 to 23 and minutes 0 to 59; `None` outside of these.
    pub const fn new(hours: u16, minutes: u16) -> Option<Self> {
        if hours < 24 && minutes < 60 { Some(Self { minutes: hours * 60 + minutes }) } else { None }
    }

    /// Minutes after midnight, 0 to 1439.
    pub const fn minutes(self) -> u16 {
        self.minutes
    }

    /// Time after midnight.
    pub fn after_midnight(self) -> Duration {
        Duration::from_min(f64::from(self.minutes))
    }
}

impl std::fmt::Display for ClockTime {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{:02}:{:02}", self.minutes / 60, self.minutes % 60)
    }
}

category! {
    /// What happens with the door of a room that is showered in.
    pub enum DoorHabit {
        /// Shut during and after the shower.
        Shut = "shut",
        /// Shut during the shower, opened after it.
        OpenAfter = "opened after",
        /// Open all the time.
        Open = "open",
    }
}

category! {
    /// When somebody switches a fan on.
    pub enum FanHabit {
        /// While the shower runs.
        WithShower = "during the shower",
        /// As long as the light is on.
        WithLight = "with the light",
        /// Never.
        Forgotten = "never" | "forgotten",
        /// While the shower runs, and for some time after it.
        After = "during and after" | "and after",
    }
}

/// A surface where moisture may settle.
#[derive(Debug, Clone, PartialEq)]
pub struct Surface {
    /// Stable id within the room.
    pub id: String,
    /// What it is.
    pub kind: SurfaceKind,
    /// Its area.
    pub area: Given<Area>,
    /// Thermal resistance from its face to what is on the other side.
    pub insulation: Given<ThermalResistance>,
    /// What is on the other side.
    pub other_side: GivenChoice<Surroundings>,
    /// Power of a heater behind it.
    pub heated: Given<Power>,
    /// Glazing of a window.
    pub glazing: GivenChoice<Glazing>,
}

category! {
    /// A surface where moisture may settle.
    pub enum SurfaceKind {
        /// Mirror.
        Mirror = "mirror",
        /// Window.
        Window = "window",
        /// Wall to outdoors or to an unheated space.
        OutsideWall = "outside wall",
        /// Tile.
        Tile = "tile",
        /// Cistern of a toilet, as cold as the water in it.
        Cistern = "cistern",
        /// Ceiling.
        Ceiling = "ceiling",
        /// Floor.
        Floor = "floor",
    }
}

category! {
    /// Glazing of a window.
    pub enum Glazing {
        /// One pane.
        Single = "single",
        /// Two panes.
        Double = "double",
        /// Two panes with a coating that holds heat back.
        LowE = "low-e double",
        /// Three panes.
        Triple = "triple",
    }
}

category! {
    /// Kind of room.
    pub enum RoomKind {
        /// Room with a shower or tub.
        Bathroom = "bathroom" | "bath" | "shower room",
        /// Room with a toilet, without shower or tub.
        ToiletRoom = "toilet room" | "wc" | "powder room",
        /// Kitchen.
        Kitchen = "kitchen",
        /// Laundry or utility room.
        Laundry = "laundry" | "utility room",
        /// Enclosed steam shower.
        SteamShower = "steam shower",
        /// Any other room with an exhaust.
        Other = "other",
    }
}

category! {
    /// When a fan runs.
    pub enum Operation {
        /// On demand.
        Intermittent = "intermittent",
        /// All the time.
        Continuous = "continuous",
    }
}

/// Fixtures in a room.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Fixtures {
    /// Toilets.
    pub toilets: GivenCount,
    /// Showers.
    pub showers: GivenCount,
    /// Tubs without jets.
    pub tubs: GivenCount,
    /// Jetted tubs.
    pub jetted_tubs: GivenCount,
}

/// The window of a room.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Window {
    /// Whether there is one.
    pub present: GivenYesNo,
    /// Glazed area.
    pub glazed: Given<Area>,
    /// Area that opens.
    pub openable: Given<Area>,
}

/// The door of a room.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Door {
    /// Width of the leaf.
    pub width: Given<Length>,
    /// Gap under the leaf above the finished floor.
    pub gap: Given<Length>,
    /// Free area of a transfer grille.
    pub transfer: Given<Area>,
    /// Flow coefficient of the gap, where measured.
    pub coefficient: Given<Ratio>,
}

/// A grille that is connected by a run to a fan elsewhere.
#[derive(Debug, Clone, PartialEq)]
pub struct Grille {
    /// Stable id.
    pub id: String,
    /// Id of the room.
    pub room: String,
    /// Free area.
    pub free_area: Given<Area>,
    /// Size of the collar behind it.
    pub collar: GivenChoice<Section>,
    /// A measured or maker's point: pressure at a flow.
    pub point: Option<LossPoint>,
}

/// A point of a loss: so many pascals at so much flow.
#[derive(Debug, Clone, PartialEq)]
pub struct LossPoint {
    /// Flow.
    pub airflow: Stated<Uncertain<Airflow>>,
    /// Pressure at that flow.
    pub pressure: Stated<Uncertain<Pressure>>,
}

/// A fan in the job.
#[derive(Debug, Clone, PartialEq)]
pub struct Fan {
    /// Stable id.
    pub id: String,
    /// Id of the room it hangs in; none for an inline or remote fan.
    pub room: Option<String>,
    /// Library model, if any; the fields of `data` that are written in the job win over it.
    pub model: Option<String>,
    /// Whether it is installed and running in the reference case (an idle second fan is `no`).
    pub running: GivenYesNo,
    /// What is known of it.
    pub data: FanData,
    /// What it must be listed for at its place.
    pub over_tub_or_shower: GivenYesNo,
    /// Which control runs it.
    pub control: GivenChoice<Control>,
    /// How that control is set.
    pub settings: FanSettings,
    /// Where the middle of its housing is.
    pub at: GivenPlace<2>,
    /// How far its housing is turned against the clock, seen from above: 0 has its length along x.
    pub rotation: Given<Angle>,
}

/// How the control of a fan is set.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct FanSettings {
    /// Humidity at which it switches on.
    pub on_at: Given<Humidity>,
    /// How far below that humidity it switches off: points of humidity.
    pub band: Given<Humidity>,
    /// Rise of the humidity above what it was before, at which it switches on: points of humidity.
    pub rise: Given<Humidity>,
    /// Time between two looks of the sensor.
    pub sampling: Given<Duration>,
    /// Time in which the sensor follows 63 % of a step.
    pub lag: Given<Duration>,
    /// Where the sensor is.
    pub sensor: GivenChoice<SensorPlace>,
    /// How long it runs on after what switched it on has ended.
    pub run_on: Given<Duration>,
    /// Longest time it runs in one go.
    pub max_run: Given<Duration>,
    /// Flow between uses, as a share of its full flow.
    pub low_flow: Given<Ratio>,
    /// Time after which a sensor of people takes the room as left.
    pub off_delay: Given<Duration>,
}

category! {
    /// Where the sensor of a control is.
    pub enum SensorPlace {
        /// On the wall, as in a switch.
        Wall = "wall",
        /// On the ceiling.
        Ceiling = "ceiling",
        /// Behind the grille of the fan.
        Fan = "in the fan",
        /// In the duct.
        Duct = "in the duct",
        /// In another room.
        OtherRoom = "other room",
    }
}

/// What is known of a fan, from its label, a data sheet or a library.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct FanData {
    /// Name for people.
    pub name: Option<String>,
    /// Axial, centrifugal, inline, …
    pub kind: GivenChoice<FanKind>,
    /// Rated points: flow, and the static pressure it was rated at where the label says.
    pub rated: Vec<RatedPoint>,
    /// Whole curve, static pressure against flow, at standard air (1.2 kg/m3).
    pub curve: Vec<(Airflow, Pressure)>,
    /// Constant-flow motor: the flow it holds up to its limit curve.
    pub holds_flow: Given<Airflow>,
    /// Speed setting as a share of full speed.
    pub speed: Given<Ratio>,
    /// Rated loudness.
    pub loudness: Given<Loudness>,
    /// Static pressure the loudness was rated at.
    pub loudness_at: Given<Pressure>,
    /// Electric power.
    pub power: Given<Power>,
    /// Outlet (collar).
    pub outlet: GivenChoice<Section>,
    /// Housing: length, width, height above the ceiling face.
    pub housing: Option<[Length; 3]>,
    /// Collar and flange of that housing.
    pub body: HousingGiven,
    /// Backdraft damper in the outlet.
    pub damper: GivenYesNo,
    /// Longest equivalent length its maker allows.
    pub max_equivalent_length: Given<Length>,
    /// Listed for use over a tub or shower on a GFCI circuit.
    pub listed_wet: GivenYesNo,
    /// Listed for continuous use.
    pub listed_continuous: GivenYesNo,
    /// Rated by a listing body's test at pressure (the mark on the label).
    pub listed_rating: GivenYesNo,
    /// Power of a heater in the same housing.
    pub heater: Given<Power>,
    /// Free note.
    pub notes: Option<String>,
}

/// A rated point of a fan.
#[derive(Debug, Clone, PartialEq)]
pub struct RatedPoint {
    /// Rated flow.
    pub airflow: Stated<Uncertain<Airflow>>,
    /// Static pressure of the rating; none when the box does not say.
    pub pressure: Given<Pressure>,
}

category! {
    /// Kind of fan.
    pub enum FanKind {
        /// Propeller: cheap, weak against pressure.
        Axial = "axial",
        /// Squirrel cage.
        Centrifugal = "centrifugal",
        /// In the duct.
        Inline = "inline",
        /// With light, heater or both.
        Combination = "combination",
    }
}

category! {
    /// What switches a fan.
    pub enum Control {
        /// Wall switch only.
        Switch = "switch",
        /// Switch together with the light.
        LightSwitch = "light switch",
        /// Run-on timer.
        Timer = "timer",
        /// Humidity control.
        Humidity = "humidity control",
        /// Occupancy sensor.
        Occupancy = "occupancy sensor",
        /// Contaminant sensor.
        Contaminant = "contaminant sensor",
        /// Always on.
        Continuous = "continuous",
    }
}

/// A point where runs meet.
#[derive(Debug, Clone, PartialEq)]
pub struct Junction {
    /// Stable id.
    pub id: String,
    /// Wye, tee or box.
    pub kind: GivenChoice<JunctionKind>,
}

category! {
    /// Kind of junction.
    pub enum JunctionKind {
        /// 45 degree wye.
        Wye = "wye",
        /// 90 degree tee.
        Tee = "tee",
        /// Plenum or box: every stream loses its velocity pressure.
        Box = "box",
    }
}

/// A run of duct.
#[derive(Debug, Clone, PartialEq)]
pub struct Run {
    /// Stable id.
    pub id: String,
    /// Id of the grille, fan or junction where air enters.
    pub from: String,
    /// Id of the fan, junction or terminal where air leaves.
    pub to: String,
    /// Whether the whole run was seen.
    pub seen: GivenYesNo,
    /// Rise from start to end (falls are negative); for buoyancy.
    pub rise: Given<Length>,
    /// Duct class of leakage, where known: share of flow lost at 25 Pa is worked out from it.
    pub sealed: GivenYesNo,
    /// How it is described.
    pub shape: RunShape,
}

/// How a run is described: by its sum, or part by part.
#[expect(
    clippy::large_enum_variant,
    reason = "a job has a handful of these; a box would only be in the way"
)]
#[derive(Debug, Clone, PartialEq)]
pub enum RunShape {
    /// One kind of duct, a total length and a number of elbows.
    Sum(RunSum),
    /// Part by part, in the direction of flow.
    Parts(Vec<Part>),
}

/// A run described by its sum.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct RunSum {
    /// The duct.
    pub duct: DuctGiven,
    /// Total straight length.
    pub length: Given<Length>,
    /// 90 degree elbows.
    pub elbows: GivenCount,
    /// Make of the elbows.
    pub elbow_make: GivenChoice<ElbowMake>,
}

/// What is known of a duct.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct DuctGiven {
    /// Kind of duct.
    pub kind: GivenChoice<DuctKind>,
    /// Library duct, if any.
    pub model: Option<String>,
    /// Inside size.
    pub size: GivenChoice<Section>,
    /// How flexible duct was pulled.
    pub pulled: GivenChoice<Pull>,
    /// Longitudinal compression of flexible duct, where measured.
    pub compression: Given<Ratio>,
    /// Wall roughness, where measured or stated.
    pub roughness: Given<Length>,
    /// What surrounds it.
    pub place: GivenChoice<Surroundings>,
    /// Insulation.
    pub insulation: Given<ThermalResistance>,
    /// Distance between supports.
    pub support_spacing: Given<Length>,
    /// Metal thickness.
    pub wall: Given<Length>,
    /// Which way it falls: where water that settles in it runs to.
    pub slope: GivenChoice<SlopeTo>,
    /// Loose fill above the top of a buried duct.
    pub cover: Given<Length>,
    /// Outside of the insulation.
    pub jacket: GivenChoice<Jacket>,
    /// Share of its length where the insulation is squeezed flat.
    pub compressed: Given<Ratio>,
}

category! {
    /// Which way a duct falls.
    pub enum SlopeTo {
        /// To the terminal: water runs outdoors.
        Out = "to outdoors",
        /// To the fan: water runs back.
        Back = "to the fan",
        /// Level: water stands.
        Level = "level",
        /// Sags, or falls to a low point between its ends: water collects there.
        Low = "low point between",
    }
}

category! {
    /// Outside of a duct's insulation.
    pub enum Jacket {
        /// Foil: keeps vapour out and shines heat back.
        Foil = "foil",
        /// Plain plastic: keeps vapour out.
        Plain = "plain",
    }
}

/// Inside section of a duct.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Section {
    /// Round, by diameter.
    Round(Length),
    /// Rectangular, width and height.
    Rectangular(Length, Length),
    /// Flat oval, long and short side.
    Oval(Length, Length),
}

category! {
    /// Kind of duct.
    pub enum DuctKind {
        /// Smooth sheet metal, longitudinal seam.
        SmoothMetal = "smooth metal" | "rigid metal" | "metal",
        /// Spiral-seam metal.
        SpiralMetal = "spiral metal",
        /// Plastic pipe.
        Plastic = "plastic pipe" | "pvc",
        /// Wire-helix flexible duct.
        Flex = "flex" | "flexible",
        /// Corrugated aluminium that keeps its shape.
        SemiRigid = "semi-rigid",
        /// Masonry or concrete shaft.
        Masonry = "masonry shaft" | "concrete shaft",
    }
}

category! {
    /// How a flexible duct was pulled.
    pub enum Pull {
        /// Stretched to its full length.
        Tight = "tight",
        /// As usually found.
        Normal = "normal",
        /// Slack.
        Slack = "slack",
    }
}

category! {
    /// What surrounds a duct.
    pub enum Surroundings {
        /// Heated space.
        Heated = "heated",
        /// Attic outside the insulation.
        Attic = "attic",
        /// Crawl space or unheated basement.
        CrawlSpace = "crawl space",
        /// Joist bay between heated floors.
        JoistBay = "joist bay",
        /// Buried in loose fill.
        Buried = "buried in insulation",
        /// Outdoors.
        Outdoors = "outdoors",
        /// Garage.
        Garage = "garage",
    }
}

/// One part of a run.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// Stable id within the run.
    pub id: String,
    /// What it is.
    pub kind: PartKind,
}

/// What a part of a run is.
#[expect(
    clippy::large_enum_variant,
    reason = "a job has a handful of these; a box would only be in the way"
)]
#[derive(Debug, Clone, PartialEq)]
pub enum PartKind {
    /// A straight piece (or a length of flexible duct).
    Piece {
        /// The duct; what is not written here is taken from the run.
        duct: DuctGiven,
        /// Length along the axis.
        length: Given<Length>,
    },
    /// An elbow.
    Elbow {
        /// How it is made.
        make: GivenChoice<ElbowMake>,
        /// Angle.
        angle: Given<Angle>,
        /// Centre-line radius over diameter.
        radius: Given<Ratio>,
        /// Inside size.
        size: GivenChoice<Section>,
    },
    /// A change of section.
    Transition {
        /// Section it goes to.
        to: GivenChoice<Section>,
        /// Included angle; none means abrupt is possible.
        angle: Given<Angle>,
        /// Abrupt step or cone.
        shape: GivenChoice<TransitionShape>,
    },
    /// A damper in the run.
    Damper {
        /// What kind.
        kind: GivenChoice<DamperKind>,
        /// Blade angle of a balancing damper, 0 is open.
        angle: Given<Angle>,
        /// Inside size.
        size: GivenChoice<Section>,
    },
    /// A crushed or kinked place.
    Crush {
        /// Share of the area that is left.
        open: Given<Ratio>,
        /// Inside size.
        size: GivenChoice<Section>,
    },
    /// A trap or drain for the water that settles in the duct.
    Trap,
    /// Anything else with a known loss.
    Other {
        /// What it is, for people.
        name: String,
        /// Pressure at a flow.
        point: LossPoint,
    },
}

category! {
    /// How an elbow is made.
    pub enum ElbowMake {
        /// Pressed smooth.
        Stamped = "stamped" | "smooth",
        /// Adjustable (swivel gores) or pleated.
        Adjustable = "adjustable" | "pleated",
        /// Three-piece.
        ThreePiece = "3-piece",
        /// Five-piece.
        FivePiece = "5-piece",
        /// Mitred, sharp.
        Mitred = "mitred",
        /// Bend of the flexible duct itself.
        FlexBend = "flex bend",
    }
}

category! {
    /// Shape of a change of section.
    pub enum TransitionShape {
        /// A step.
        Abrupt = "abrupt",
        /// A cone.
        Cone = "cone",
    }
}

category! {
    /// Kind of damper.
    pub enum DamperKind {
        /// Closes by gravity or spring against backflow.
        Backdraft = "backdraft",
        /// Hand-set blade.
        Balancing = "balancing",
    }
}

/// Where a run ends.
#[derive(Debug, Clone, PartialEq)]
pub struct Terminal {
    /// Stable id.
    pub id: String,
    /// What it is.
    pub kind: GivenChoice<TerminalKind>,
    /// Library terminal, if any.
    pub model: Option<String>,
    /// Size of its collar.
    pub size: GivenChoice<Section>,
    /// Whether it has a flap.
    pub flap: GivenYesNo,
    /// Whether the flap was seen to open fully.
    pub flap_opens: GivenYesNo,
    /// Screen.
    pub screen: GivenChoice<Screen>,
    /// Share of the screen that is clogged.
    pub clogged: Given<Ratio>,
    /// A measured or maker's point.
    pub point: Option<LossPoint>,
    /// Free area past the closed flap.
    pub leak: Given<Area>,
    /// Distances to what it must keep away from.
    pub clear: Clearances,
}

category! {
    /// Where a run ends.
    pub enum TerminalKind {
        /// Wall cap.
        WallCap = "wall cap",
        /// Roof cap.
        RoofCap = "roof cap",
        /// Cap in a gable.
        GableCap = "gable cap",
        /// Fitting in a soffit that blows outdoors.
        SoffitCap = "soffit cap",
        /// Bare end outdoors.
        OpenEnd = "open end",
        /// Into the attic.
        Attic = "attic",
        /// Into the space behind a soffit.
        SoffitVoid = "soffit void",
        /// At a ridge vent.
        RidgeVent = "ridge vent",
        /// Into a crawl space.
        CrawlSpace = "crawl space",
        /// Into a room, garage or wall cavity.
        Indoors = "indoors",
        /// Into a plumbing vent stack.
        PlumbingVent = "plumbing vent",
        /// Into a riser shared with other dwellings.
        SharedRiser = "shared riser",
        /// Nobody knows.
        Nowhere = "nowhere",
    }
}

category! {
    /// Screen at a terminal.
    pub enum Screen {
        /// None.
        None = "none",
        /// Openings of 1/4 to 1/2 in.
        Coarse = "coarse",
        /// Insect screen.
        Insect = "insect",
    }
}

/// Distances of a terminal.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Clearances {
    /// To the nearest window or door that opens, or gravity air inlet.
    pub opening: Given<Length>,
    /// How far above that opening the terminal is.
    pub above_opening: Given<Length>,
    /// To the nearest mechanical air intake.
    pub intake: Given<Length>,
    /// How far above that intake the terminal is.
    pub above_intake: Given<Length>,
    /// To the property line.
    pub property_line: Given<Length>,
    /// Whether it blows onto a walkway.
    pub onto_walkway: GivenYesNo,
    /// Above grade.
    pub above_grade: Given<Length>,
    /// To the nearest vented soffit opening.
    pub soffit_vent: Given<Length>,
}

/// A measurement.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    /// Stable id.
    pub id: String,
    /// Id of the room, grille, fan or terminal.
    pub at: String,
    /// Measured flow.
    pub airflow: Given<Airflow>,
    /// Measured static pressure (of the duct against the room).
    pub pressure: Given<Pressure>,
    /// How.
    pub method: GivenChoice<Method>,
    /// Measured on the state before or after the work.
    pub state: GivenChoice<BuildState>,
}

category! {
    /// How a flow was measured.
    pub enum Method {
        /// Powered flow hood.
        PoweredHood = "powered hood",
        /// Passive flow hood.
        PassiveHood = "passive hood",
        /// Box with an orifice and a manometer.
        OrificeBox = "orifice box",
        /// Traverse of velocities in the duct.
        Traverse = "traverse",
        /// Anemometer at the grille face.
        Anemometer = "anemometer",
        /// Time to fill a bag.
        Bag = "bag",
        /// A sheet of paper: says only that it pulls.
        Paper = "paper",
    }
}

category! {
    /// State of the building that evidence belongs to.
    pub enum BuildState {
        /// As found.
        Before = "before",
        /// As built now.
        After = "after",
    }
}

/// Something seen or told.
#[derive(Debug, Clone, PartialEq)]
pub struct Symptom {
    /// Stable id.
    pub id: String,
    /// What.
    pub kind: SymptomKind,
    /// When it happens, in the user's words.
    pub when: Option<String>,
    /// In which season it happens.
    pub season: GivenChoice<Season>,
    /// Whether it happens only in rain or in a thaw.
    pub rain: GivenYesNo,
    /// Whether it goes with the use of the fan.
    pub fan_on: GivenYesNo,
    /// On which side the duct is wet.
    pub wet: GivenChoice<WetSide>,
    /// Free note.
    pub note: Option<String>,
    /// Photo by name.
    pub photo: Option<String>,
}

category! {
    /// What was seen or told.
    pub enum SymptomKind {
        /// Mirror stays fogged.
        Fog = "fog",
        /// Water drips.
        Drip = "drip",
        /// Stain.
        Stain = "stain",
        /// Frost.
        Frost = "frost",
        /// Mould.
        Mould = "mould" | "mold",
        /// Noise.
        Noise = "noise",
        /// Smell.
        Smell = "smell",
        /// Cold air comes in.
        ColdAir = "cold air",
        /// Paper is not held.
        NoPull = "no pull",
        /// Never stops.
        NeverStops = "never stops",
        /// Never starts.
        NeverStarts = "never starts",
    }
}

category! {
    /// When in the year something happens.
    pub enum Season {
        /// In the cold months.
        Winter = "winter",
        /// In the warm months.
        Summer = "summer",
        /// All year.
        Any = "any",
    }
}

category! {
    /// On which side a duct is wet.
    pub enum WetSide {
        /// Inside: moist air of the room.
        Inside = "inside",
        /// Outside: air around it, or rain that came in.
        Outside = "outside",
    }
}

/// What must stay in a swap.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Existing {
    /// Opening in the ceiling: two sides.
    pub opening: Option<[Length; 2]>,
    /// Room above the ceiling face.
    pub depth: Given<Length>,
    /// Collar or duct that stays.
    pub collar: GivenChoice<Section>,
    /// Wire that is there.
    pub wire: Given<Conductor>,
    /// Whether the box has a neutral.
    pub neutral: GivenYesNo,
    /// Access from above.
    pub access_above: GivenYesNo,
    /// Whether the hidden duct has to stay.
    pub duct_stays: GivenYesNo,
}

/// Weather and use other than the reference case.
#[derive(Debug, Clone, PartialEq)]
pub struct Scenario {
    /// Stable id.
    pub id: String,
    /// Wind speed at the terminal.
    pub wind: Given<Velocity>,
    /// Which way the terminal faces.
    pub facing: GivenChoice<Facing>,
    /// Outdoor temperature.
    pub outdoor: Given<Temperature>,
    /// Doors of the served rooms.
    pub doors: GivenChoice<DoorState>,
    /// Fans that are off.
    pub off: Vec<String>,
}

category! {
    /// How a terminal faces the wind.
    pub enum Facing {
        /// Into the wind.
        Windward = "windward",
        /// Away from it.
        Leeward = "leeward",
        /// Along it.
        Side = "side",
        /// On a roof.
        Roof = "roof",
    }
}

category! {
    /// Door open or shut.
    pub enum DoorState {
        /// Shut.
        Shut = "shut",
        /// Open.
        Open = "open",
    }
}

/// A finding the user overrides.
#[derive(Debug, Clone, PartialEq)]
pub struct Override {
    /// Finding id.
    pub finding: String,
    /// Subject, when only one of several is meant.
    pub subject: Option<String>,
    /// Why; printed with the finding.
    pub reason: String,
}

/// A value found different when built.
#[derive(Debug, Clone, PartialEq)]
pub struct Built {
    /// Where, as a path: `run.attic.length`, `fan.fan.model`, `run.attic.part.p2.elbow.angle`.
    pub at: String,
    /// The value as typed.
    pub value: String,
    /// Date as typed.
    pub date: Option<String>,
    /// Photo by name.
    pub photo: Option<String>,
}

/// How verdicts are drawn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Settings {
    /// A check holds at this chance or more (0.90).
    pub holds_at: f64,
    /// A check fails at this chance or less (0.10).
    pub fails_at: f64,
    /// How many draws (1024).
    pub draws: u32,
}

impl Default for Settings {
    fn default() -> Self {
        Self { holds_at: 0.90, fails_at: 0.10, draws: 1024 }
    }
}

/// A library of the user's own: fans, terminals, ducts.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Library {
    /// Fans by model id, in file order.
    pub fans: Vec<LibraryFan>,
    /// Terminals by model id, in file order.
    pub terminals: Vec<LibraryTerminal>,
    /// Ducts by model id, in file order.
    pub ducts: Vec<LibraryDuct>,
}

/// A fan in a library.
#[derive(Debug, Clone, PartialEq)]
pub struct LibraryFan {
    /// Model id.
    pub id: String,
    /// What is known of it.
    pub data: FanData,
}

/// A terminal in a library.
#[derive(Debug, Clone, PartialEq)]
pub struct LibraryTerminal {
    /// Model id.
    pub id: String,
    /// Kind.
    pub kind: TerminalKind,
    /// Collar size.
    pub size: GivenChoice<Section>,
    /// Flap.
    pub flap: GivenYesNo,
    /// Screen.
    pub screen: GivenChoice<Screen>,
    /// Measured or maker's point.
    pub point: Option<LossPoint>,
    /// Free area past the closed flap.
    pub leak: Given<Area>,
}

/// A duct in a library.
#[derive(Debug, Clone, PartialEq)]
pub struct LibraryDuct {
    /// Model id.
    pub id: String,
    /// What is known of it.
    pub duct: DuctGiven,
}
