//! What was measured, seen or told.

use dewpath_units::{Airflow, Duration, Pressure, Volume};

use crate::category::category;
use crate::keys::Keys;
use crate::value::{Given, GivenChoice, GivenYesNo};

/// A measured flow or pressure.
#[derive(Debug, Clone, PartialEq, Keys)]
#[table(name = "reading", written = "[[reading]]")]
pub struct Reading {
    /// Stable id; may be left out when there is only one reading.
    #[key(id, example = "r1")]
    pub id: String,
    /// Id of the room, grille, fan or terminal.
    #[key(required, example = "fan", refers = "room, grille, fan or terminal")]
    pub at: String,
    /// Measured flow.
    #[key(example = "42 cfm", possible(0.0, 3.0), usual(0.0, 0.5))]
    pub airflow: Given<Airflow>,
    /// Measured static pressure of the duct against the room.
    #[key(example = "18 Pa", possible(-3000.0, 3000.0), usual(-500.0, 500.0))]
    pub pressure: Given<Pressure>,
    /// A bag that the air filled; the flow is worked out from it.
    #[key(example = { volume = "13 gal", time = "4.2 s" })]
    pub bag: Bag,
    /// How it was measured; a bag that is written says so itself.
    #[key(example = "orifice box")]
    pub method: GivenChoice<Method>,
    /// Measured before or after the work.
    #[key(example = "before")]
    pub state: GivenChoice<BuildState>,
}

/// A bag of known volume, held over a grille or outlet until it is full or empty.
#[derive(Debug, Clone, PartialEq, Default, Keys)]
#[table(name = "bag", written = "[reading.bag]")]
pub struct Bag {
    /// What it holds.
    #[key(example = "13 gal", possible(0.001, 5.0), usual(0.01, 0.5))]
    pub volume: Given<Volume>,
    /// How long it took.
    #[key(example = "4.2 s", possible(0.1, 3600.0), usual(1.0, 120.0))]
    pub time: Given<Duration>,
}

category! {
    /// How a flow was measured.
    pub enum Method {
        /// Powered flow hood.
        PoweredHood = "powered hood",
        /// Passive flow hood.
        PassiveHood = "passive hood" | "hood" | "flow hood" | "unpowered hood",
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
#[derive(Debug, Clone, PartialEq, Keys)]
#[table(name = "symptom", written = "[[symptom]]")]
pub struct Symptom {
    /// Stable id; may be left out when there is only one symptom.
    #[key(id, example = "s1")]
    pub id: String,
    /// What was seen or told.
    #[key(required, or = SymptomKind::Fog, example = "drip")]
    pub kind: SymptomKind,
    /// When it happens, in your words.
    #[key(example = "at the first thaw")]
    pub when: Option<String>,
    /// In which season it happens; `any` for all year.
    #[key(example = "winter")]
    pub season: GivenChoice<Season>,
    /// Whether it happens only with rain or in the hours after it.
    #[key(example = false)]
    pub rain: GivenYesNo,
    /// Whether it happens on the first mild days after frost.
    #[key(example = true)]
    pub thaw: GivenYesNo,
    /// Whether it goes with the use of the fan.
    #[key(example = true)]
    pub fan_on: GivenYesNo,
    /// On which side the duct is wet.
    #[key(example = "inside")]
    pub wet: GivenChoice<WetSide>,
    /// Free note.
    #[key(example = "stain is as large as a plate")]
    pub note: Option<String>,
    /// Photo by name.
    #[key(example = "IMG_0012.jpg")]
    pub photo: Option<String>,
}

category! {
    /// What was seen or told.
    pub enum SymptomKind {
        /// Mirror stays fogged.
        Fog = "fog" | "fogged mirror" | "mirror fogs" | "foggy mirror",
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
