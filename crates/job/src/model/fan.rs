//! Fans with their housings and controls, and grilles of fans that sit elsewhere.

use dewpath_units::{
    Airflow, Angle, Area, Duration, Humidity, Length, Loudness, Power, Pressure, Ratio,
};

use crate::category::category;
use crate::keys::Keys;
use crate::lay_under::LayUnder;
use crate::limits::{FAN_FLOW, POINTS};
use crate::value::{Given, GivenChoice, GivenPlace, GivenYesNo, LossPoint, RatedPoint, Section};

/// A grille in a room that is connected by a run to a fan elsewhere. The grille of an ordinary ceiling fan
/// belongs to the fan and is not written.
#[derive(Debug, Clone, PartialEq, Keys)]
#[table(name = "grille", written = "[[grille]]")]
pub struct Grille {
    /// Stable id; may be left out when there is only one grille.
    #[key(id, example = "hall-grille")]
    pub id: String,
    /// Id of the room; may be left out when there is only one room.
    #[key(example = "hall-bath", refers = "room")]
    pub room: String,
    /// Free area.
    #[key(example = "28 in2", possible(0.0001, 2.0), usual(0.003, 0.2))]
    pub free_area: Given<Area>,
    /// Size of the collar behind it.
    #[key(example = "4 in")]
    pub collar: GivenChoice<Section>,
    /// A measured or maker's point: flow at pressure loss.
    #[key(example = "25 L/s at 12 Pa")]
    pub point: Option<LossPoint>,
}

/// A fan. Write what its label says, or name a library model; what is written here wins over the library.
#[derive(Debug, Clone, PartialEq, Keys)]
#[table(name = "fan", written = "[[fan]]")]
pub struct Fan {
    /// Stable id; may be left out when there is only one fan.
    #[key(id, example = "fan")]
    pub id: String,
    /// Id of the room it hangs in. Left out for an inline or remote fan that is reached by a run; with one room
    /// and no run into the fan it is that room.
    #[key(example = "hall-bath", refers = "room", after = "name")]
    pub room: Option<String>,
    /// Id of a fan in a library.
    #[key(model, example = "quiet-80", after = "room")]
    pub model: Option<String>,
    /// Whether it runs in the reference case; an idle second fan is `false`.
    #[key(example = true, after = "notes")]
    pub running: GivenYesNo,
    /// What is known of it.
    #[key(flatten)]
    pub data: FanData,
    /// Whether it hangs over a tub or shower.
    #[key(example = false)]
    pub over_tub_or_shower: GivenYesNo,
    /// What switches it.
    #[key(example = "timer")]
    pub control: GivenChoice<Control>,
    /// How that control is set.
    #[key(example = { on_at = "60 %", band = "5 %", run_on = "20 min" })]
    pub settings: FanSettings,
    /// Where the middle of its housing is, where that is settled.
    #[key(example = ["4 ft 8 in", "2 ft 6 in"])]
    pub at: GivenPlace<2>,
    /// How far its housing is turned against the clock, seen from above; at 0 its length lies along x and the
    /// collar looks to greater x (end) or greater y (flank).
    #[key(example = "90 deg", possible(0.0, 6.3), usual(0.0, 6.3))]
    pub rotation: Given<Angle>,
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

/// How the control of the fan is set. Read the dials; what cannot be read is left out.
#[derive(Debug, Clone, PartialEq, Default, Keys)]
#[table(name = "fan_settings", written = "[fan.settings]")]
pub struct FanSettings {
    /// Humidity at which it switches on.
    #[key(example = "60 %", possible(0.01, 1.0), usual(0.4, 0.9))]
    pub on_at: Given<Humidity>,
    /// How far below that it switches off, in points of humidity.
    #[key(example = "5 %", limits = POINTS)]
    pub band: Given<Humidity>,
    /// Rise above what it was before at which it switches on, in points of humidity.
    #[key(example = "10 %", limits = POINTS)]
    pub rise: Given<Humidity>,
    /// Time between two looks of the sensor.
    #[key(example = "30 s", possible(0.001, 3600.0), usual(0.5, 300.0))]
    pub sampling: Given<Duration>,
    /// Time in which the sensor follows 63 % of a step.
    #[key(example = "90 s", possible(0.0, 7200.0), usual(5.0, 1200.0))]
    pub lag: Given<Duration>,
    /// Where the sensor is.
    #[key(example = "wall")]
    pub sensor: GivenChoice<SensorPlace>,
    /// How long it runs on after what switched it on has ended.
    #[key(example = "20 min", possible(0.0, 86400.0), usual(0.0, 7200.0))]
    pub run_on: Given<Duration>,
    /// Longest time it runs in one go.
    #[key(example = "60 min", possible(1.0, 86400.0), usual(300.0, 43200.0))]
    pub max_run: Given<Duration>,
    /// Flow between uses, as a share of its full flow: always on, with a boost.
    #[key(example = 0.4, possible(0.0, 1.0), usual(0.05, 1.0))]
    pub low_flow: Given<Ratio>,
    /// Time after which an occupancy sensor takes the room as left.
    #[key(example = "15 min", possible(0.0, 86400.0), usual(0.0, 7200.0))]
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
#[derive(Debug, Clone, PartialEq, Default, Keys, LayUnder)]
pub struct FanData {
    /// Name for people.
    #[key(example = "ceiling fan")]
    pub name: Option<String>,
    /// How it moves air.
    #[key(example = "centrifugal")]
    pub kind: GivenChoice<FanKind>,
    /// Rated flow, with the static pressure it was rated at where the label says; one or several.
    #[key(example = ["80 cfm at 0.1 inWC", "62 cfm at 0.25 inWC"])]
    pub rated: Vec<RatedPoint>,
    /// The whole curve: flow at static pressure, at standard air (1.2 kg/m3).
    #[key(example = ["100 cfm at 0 Pa", "80 cfm at 0.1 inWC", "0 cfm at 0.35 inWC"])]
    pub curve: Vec<(Airflow, Pressure)>,
    /// For a motor that holds its flow: the flow it holds, up to its curve.
    #[key(example = "80 cfm", limits = FAN_FLOW)]
    pub holds_flow: Given<Airflow>,
    /// Speed setting as a share of full speed.
    #[key(example = 0.7, possible(0.05, 1.5), usual(0.2, 1.0))]
    pub speed: Given<Ratio>,
    /// Rated loudness.
    #[key(example = "0.8 sones", possible(0.0, 50.0), usual(0.1, 10.0))]
    pub loudness: Given<Loudness>,
    /// Static pressure the loudness was rated at.
    #[key(example = "0.1 inWC", possible(0.0, 2000.0), usual(0.0, 150.0))]
    pub loudness_at: Given<Pressure>,
    /// Electric power of the fan motor.
    #[key(example = "24 W", possible(0.1, 5000.0), usual(1.0, 400.0))]
    pub power: Given<Power>,
    /// Outlet (collar).
    #[key(example = "4 in")]
    pub outlet: GivenChoice<Section>,
    /// Housing: length, width, height above the ceiling face.
    #[key(example = "9 in x 9 in x 7-1/2 in")]
    pub housing: Option<[Length; 3]>,
    /// Collar and flange of that housing.
    #[key(flatten)]
    pub body: HousingGiven,
    /// Backdraft damper in the outlet.
    #[key(example = true)]
    pub damper: GivenYesNo,
    /// Longest equivalent duct length its maker allows.
    #[key(example = "100 ft", possible(0.5, 500.0), usual(3.0, 100.0))]
    pub max_equivalent_length: Given<Length>,
    /// Listed for the space over a tub or shower.
    #[key(example = true)]
    pub listed_wet: GivenYesNo,
    /// Listed for continuous running.
    #[key(example = true)]
    pub listed_continuous: GivenYesNo,
    /// The rating on the label is a tested one, at a stated pressure.
    #[key(example = true)]
    pub listed_rating: GivenYesNo,
    /// Power of a heater in the same housing.
    #[key(example = "1300 W", possible(0.0, 6000.0), usual(100.0, 3000.0))]
    pub heater: Given<Power>,
    /// Free note.
    #[key(example = "label is painted over")]
    pub notes: Option<String>,
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

/// How a housing is made and hung.
#[derive(Debug, Clone, PartialEq, Default, Keys, LayUnder)]
pub struct HousingGiven {
    /// On which side of the housing the collar is: at an end of its length, on its flank, or on top.
    #[key(example = "end")]
    pub outlet_side: GivenChoice<OutletSide>,
    /// From the middle of that side to the centre of the collar; seen from above with the side turned to you, to
    /// the right is more than 0.
    #[key(example = "0 in", signed, possible(-2.0, 2.0), usual(-0.3, 0.3))]
    pub outlet_offset: Given<Length>,
    /// Centre of the collar above the ceiling face.
    #[key(example = "4 in", possible(0.0, 2.0), usual(0.02, 0.5))]
    pub outlet_height: Given<Length>,
    /// How far the collar stands out from the housing.
    #[key(example = "1-1/2 in", possible(0.0, 1.0), usual(0.01, 0.2))]
    pub collar: Given<Length>,
    /// How far the flange of the housing reaches beyond its body, all round.
    #[key(example = "1 in", possible(0.0, 0.5), usual(0.0, 0.08))]
    pub flange: Given<Length>,
}

category! {
    /// Side of a housing on which its collar is.
    pub enum OutletSide {
        /// An end: the side at the end of its length.
        End = "end",
        /// A flank: the side along its length.
        Flank = "flank",
        /// The top.
        Top = "top",
    }
}
