//! The dwelling around the rooms.

use dewpath_units::{
    AirChange50, Airflow, Area, Duration, Humidity, Leakage50, Length, Mass, Pressure, Ratio,
    Temperature, Volume,
};

use crate::category::category;
use crate::keys::Keys;
use crate::limits::{RUN_LENGTH, SET_POINT, SHARE};
use crate::model::evidence::BuildState;
use crate::value::{Day, Given, GivenChoice, GivenCount, GivenYesNo};

/// The dwelling around the rooms: what counts for whole-house rates, make-up air and combustion safety.
#[derive(Debug, Clone, PartialEq, Default, Keys)]
#[table(name = "dwelling", written = "[dwelling]")]
pub struct Dwelling {
    /// Kind of dwelling.
    #[key(example = "house")]
    pub kind: GivenChoice<DwellingKind>,
    /// Conditioned floor area.
    #[key(example = "1450 ft2", possible(5.0, 5000.0), usual(20.0, 800.0))]
    pub floor_area: Given<Area>,
    /// Conditioned volume.
    #[key(example = "11600 ft3", possible(10.0, 20000.0), usual(50.0, 3000.0))]
    pub volume: Given<Volume>,
    /// Bedrooms.
    #[key(example = 3, possible(50), usual(10))]
    pub bedrooms: GivenCount,
    /// Year built; older houses bring lead paint and asbestos into play.
    #[key(example = 1968, possible(2200), usual(2100))]
    pub year_built: GivenCount,
    /// How tight the envelope is, by what is known of it; a blower door says more.
    #[key(example = "tight")]
    pub tightness: GivenChoice<Tightness>,
    /// Leakage of the envelope by a blower door, as air changes at 50 Pa.
    #[key(example = "5 ACH50", possible(0.01, 100.0), usual(0.2, 40.0))]
    pub air_changes: Given<AirChange50>,
    /// Leakage of the envelope by a blower door, as a flow at 50 Pa.
    #[key(example = "1200 cfm50", possible(0.001, 20.0), usual(0.02, 5.0))]
    pub leakage: Given<Leakage50>,
    /// Whether anything in it burns fuel: gas, oil, wood. What burns is written as an appliance.
    #[key(example = false)]
    pub burns_fuel: GivenYesNo,
    /// Storeys above grade.
    #[key(example = 2, possible(20), usual(4))]
    pub storeys: GivenCount,
    /// Height from one floor to the next.
    #[key(example = "8 ft 6 in", possible(1.5, 10.0), usual(2.2, 4.0))]
    pub storey_height: Given<Length>,
    /// People who live in it.
    #[key(example = 4, possible(100), usual(12))]
    pub occupants: GivenCount,
    /// Set-point of the heating.
    #[key(example = "70 F", limits = SET_POINT)]
    pub heating: Given<Temperature>,
    /// Whether the dwelling is cooled in summer.
    #[key(example = true)]
    pub air_conditioning: GivenYesNo,
    /// Set-point of the cooling; where it is written, the dwelling counts as cooled.
    #[key(example = "76 F", limits = SET_POINT)]
    pub cooling: Given<Temperature>,
    /// Set-point of a dehumidifier; leave it out where there is none.
    #[key(example = "55 %", possible(0.05, 1.0), usual(0.35, 0.7))]
    pub dehumidifier: Given<Humidity>,
    /// Relative humidity of its air on a winter day, away from the bath.
    #[key(example = "35 %", possible(0.0, 1.0), usual(0.15, 0.65))]
    pub humidity: Given<Humidity>,
    /// Moisture that people, cooking, plants and washing give off in a day, apart from showers and baths.
    #[key(example = "10 kg", possible(0.0, 100.0), usual(2.0, 25.0))]
    pub moisture: Given<Mass>,
    /// Ventilation of the whole dwelling.
    #[key(example = { kind = "balanced", airflow = "90 cfm", recovery = 0.7 })]
    pub ventilation: Ventilation,
    /// What energy costs.
    #[key(example = { electricity = 0.18, heat = 0.09, currency = "$" })]
    pub prices: Prices,
    /// A fuel-burning appliance inside the dwelling.
    #[key(
        name = "appliance",
        example = { id = "heater", kind = "water heater", draft = "natural" },
    )]
    pub appliances: Vec<Appliance>,
    /// Something else that blows air out of the dwelling.
    #[key(name = "exhaust", example = { id = "dryer", kind = "dryer" })]
    pub exhausts: Vec<OtherExhaust>,
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

/// Ventilation of the whole dwelling, beside the fans of this job.
#[derive(Debug, Clone, PartialEq, Default, Keys)]
#[table(name = "ventilation", written = "[dwelling.ventilation]")]
pub struct Ventilation {
    /// How it is ventilated; `none` where only leaks and windows do it.
    #[key(example = "balanced")]
    pub kind: GivenChoice<VentilationKind>,
    /// Outdoor air while it runs.
    #[key(example = "90 cfm", possible(0.0, 3.0), usual(0.005, 0.25))]
    pub airflow: Given<Airflow>,
    /// Share of the heat that is recovered.
    #[key(example = 0.7, limits = SHARE)]
    pub recovery: Given<Ratio>,
    /// Share of the moisture that is recovered.
    #[key(example = 0.45, limits = SHARE)]
    pub moisture_recovery: Given<Ratio>,
    /// How long it runs in a day.
    #[key(example = "24 h", possible(0.0, 86400.0), usual(0.0, 86400.0))]
    pub hours_per_day: Given<Duration>,
}

category! {
    /// How tight an envelope is.
    pub enum Tightness {
        /// New or sealed: little draught anywhere.
        Tight = "tight" | "sealed" | "airtight",
        /// As most houses are.
        Usual = "usual" | "average",
        /// Old and unsealed: draughts at windows, floor and attic.
        Leaky = "leaky" | "draughty" | "drafty" | "loose",
    }
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

/// What energy costs, for each kWh, as plain numbers.
#[derive(Debug, Clone, PartialEq, Default, Keys)]
#[table(name = "prices", written = "[dwelling.prices]")]
pub struct Prices {
    /// A kWh of electricity.
    #[key(example = 0.18, possible(0.0, 10_000.0))]
    pub electricity: Option<f64>,
    /// A kWh of heat given to the rooms: the price of the fuel over the efficiency of the heating.
    #[key(example = 0.09, possible(0.0, 10_000.0))]
    pub heat: Option<f64>,
    /// A kWh of heat taken out of the rooms: the price of electricity over the cooling's seasonal performance.
    #[key(example = 0.06, possible(0.0, 10_000.0))]
    pub cooling: Option<f64>,
    /// Sign of the currency, for print.
    #[key(example = "$")]
    pub currency: Option<String>,
}

/// A fuel-burning appliance. A strong fan can pull its flue gas into the room: have combustion safety tested by a
/// licensed trade before exhaust is increased.
#[derive(Debug, Clone, PartialEq, Keys)]
#[table(name = "appliance", written = "[[dwelling.appliance]]")]
pub struct Appliance {
    /// Stable id; may be left out when there is only one.
    #[key(id, example = "heater")]
    pub id: String,
    /// What it is.
    #[key(example = "water heater")]
    pub kind: GivenChoice<ApplianceKind>,
    /// How its flue gas leaves.
    #[key(example = "natural")]
    pub draft: GivenChoice<Draft>,
    /// How far below outdoors the pressure at it may go, as a positive number, where a programme or its maker
    /// sets that.
    #[key(example = "3 Pa", possible(0.0, 100.0), usual(1.0, 15.0))]
    pub limit: Given<Pressure>,
    /// Id of the room it stands in; left out when it stands in none of this job's rooms.
    #[key(example = "laundry", refers = "room")]
    pub place: Option<String>,
    /// What the spillage test at it showed, with every exhaust on and the doors as they are worst.
    #[key(example = { state = "after", result = "no spillage", date = "2026-02-14" })]
    pub spillage: Spillage,
}

/// A test of spillage at a fuel-burning appliance.
#[derive(Debug, Clone, PartialEq, Default, Keys)]
#[table(name = "spillage", written = "[dwelling.appliance.spillage]")]
pub struct Spillage {
    /// Tested before or after the work.
    #[key(example = "after")]
    pub state: GivenChoice<BuildState>,
    /// What mirror or smoke at the draft hood showed once it was warm.
    #[key(example = "no spillage")]
    pub result: GivenChoice<SpillageResult>,
    /// Day of the test.
    #[key(example = "2026-02-14")]
    pub date: Option<Day>,
}

category! {
    /// What a spillage test showed.
    pub enum SpillageResult {
        /// Flue gas went up the flue.
        None = "no spillage" | "passes" | "drafts",
        /// Flue gas came into the room.
        Spills = "spills" | "fails",
    }
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
        Natural = "natural" | "open flue" | "natural draft" | "atmospheric",
        /// A fan in the appliance helps it into a chimney.
        Induced = "induced",
        /// A fan blows it outdoors.
        PowerVented = "power vented",
        /// Takes its air from outdoors and is closed to the room.
        Sealed = "sealed" | "room-sealed" | "direct vent" | "balanced flue",
        /// Burns nothing.
        Electric = "electric",
    }
}

/// Another exhaust of the dwelling, such as a dryer or a range hood.
#[derive(Debug, Clone, PartialEq, Keys)]
#[table(name = "exhaust", written = "[[dwelling.exhaust]]")]
pub struct OtherExhaust {
    /// Stable id; may be left out when there is only one.
    #[key(id, example = "dryer")]
    pub id: String,
    /// What it is.
    #[key(example = "dryer")]
    pub kind: GivenChoice<ExhaustKind>,
    /// Air it takes out.
    #[key(example = "150 cfm", possible(0.0001, 3.0), usual(0.005, 0.8))]
    pub airflow: Given<Airflow>,
    /// Length of its duct.
    #[key(example = "22 ft", limits = RUN_LENGTH)]
    pub length: Given<Length>,
    /// 90 degree elbows of its duct.
    #[key(example = 2, possible(60), usual(12))]
    pub elbows: GivenCount,
    /// Id of a run of this job that it is joined to.
    #[key(example = "run", refers = "run")]
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
