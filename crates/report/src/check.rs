//! What is checked, and which question of a person each check answers.

use std::borrow::Cow;
use std::fmt::{self, Display, Formatter};

use dewpath_message::{Declared, Said};
use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::de::Error as _;
use serde::{Deserialize, Deserializer, Serialize, Serializer};

use crate::question::Question;

/// Declares the checks with their ids and the question that each answers.
macro_rules! checks {
    ($(#[$about:meta] $home:ident { $($(#[$what:meta])* $check:ident = $id:literal),+ $(,)? })+) => {
        /// A check: what a finding is about. Its id is what a person, an override and other programs name it by.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
        pub enum Check {
            $($(
                #[doc = concat!("`", $id, "`:")]
                #[$about]
                $(#[$what])*
                $check,
            )+)+
        }

        impl Check {
            /// Every check, question by question.
            pub const ALL: &'static [Self] = &[$($(Self::$check),+),+];

            /// Its id, for example `duct.length.table`.
            pub const fn as_str(self) -> &'static str {
                match self {
                    $($(Self::$check => $id,)+)+
                }
            }

            /// Key of its name for people, two to five words.
            pub const fn title(self) -> &'static str {
                match self {
                    $($(Self::$check => concat!("check.", $id),)+)+
                }
            }

            /// The question it answers.
            const fn home(self) -> Home {
                match self {
                    $($(Self::$check => Home::$home,)+)+
                }
            }
        }

        impl Said for Check {
            const DECLARED: &'static [Declared] = &[$($(Declared {
                name: concat!("Check::", stringify!($check)),
                key: concat!("check.", $id),
                slots: &[],
            }),+),+];
        }
    };
}

/// Where the answer of a check belongs.
enum Home {
    Air,
    Mirror,
    Dry,
    House,
    Rules,
    /// Rules where a book speaks, else the place.
    RulesOrPlace,
    Place,
    /// Rules where a book speaks, else the air.
    RulesOrAir,
}

checks! {
    /// Air that leaves, and what keeps it from leaving.
    Air {
        AirflowDelivered = "airflow.delivered",
        AirflowModel = "airflow.model",
        DuctBend = "duct.bend",
        DuctCrushed = "duct.crushed",
        DuctFlex = "duct.flex",
        DuctLengthEquivalent = "duct.length.equivalent",
        DuctSizeOutlet = "duct.size.outlet",
        DuctVelocity = "duct.velocity",
        EngineUnsolved = "engine.unsolved",
        EvidenceMethod = "evidence.method",
        FanData = "fan.data",
        FanStall = "fan.stall",
        FlowVerification = "flow.verification",
    }
    /// What keeps air from leaving or coming in, or lets it go astray; what a book asks of that.
    RulesOrAir {
        DuctJoined = "duct.joined",
        ReplacementAir = "replacement.air",
        TerminalFlap = "terminal.flap",
        TerminalScreen = "terminal.screen",
    }
    /// Time until a mirror is clear.
    Mirror {
        RoomClearingMirror = "room.clearing.mirror",
        RoomYearMirror = "room.year.mirror",
    }
    /// What gets wet, freezes, drips or grows mould, and the control that keeps it dry.
    Dry {
        DripCause = "drip.cause",
        DuctCondensateNet = "duct.condensate.net",
        DuctDrain = "duct.drain",
        DuctFrost = "duct.frost",
        DuctIdleBackflow = "duct.idle-backflow",
        DuctSweating = "duct.sweating",
        DuctYear = "duct.year",
        DwellingHumid = "dwelling.humid",
        DwellingHumidity = "dwelling.humidity",
        EngineResidual = "engine.residual",
        HousingLeak = "housing.leak",
        RoomClearingBackToNormal = "room.clearing.back-to-normal",
        RoomControlLate = "room.control.late",
        RoomControlMissedShower = "room.control.missed-shower",
        RoomControlNeverStarts = "room.control.never-starts",
        RoomControlNeverStops = "room.control.never-stops",
        RoomControlReachable = "room.control.reachable",
        RoomHumidityRunningMean = "room.humidity.running-mean",
        RoomMould = "room.mould",
        RoomYearEnergy = "room.year.energy",
        RoomYearWetHours = "room.year.wet-hours",
        WeatherUnusable = "weather.unusable",
    }
    /// What pulls on the house, and on what burns in it.
    House {
        DwellingMakeUpAir = "dwelling.makeup_air",
        HouseInletThroughFan = "house.inlet-through-fan",
        HousePressure = "house.pressure",
    }
    /// What a book asks.
    Rules {
        AirflowRating = "airflow.rating",
        AirflowRequired = "airflow.required",
        ControlRequired = "control.required",
        DryerLength = "dryer.length",
        DuctInsulation = "duct.insulation",
        DuctLengthLongest = "duct.length.longest",
        DuctLengthTable = "duct.length.table",
        DwellingAirflowRequired = "dwelling.airflow.required",
        DwellingVentilation = "dwelling.ventilation",
        OverrideUnused = "override.unused",
        SoundLimit = "sound.limit",
        TerminalClearance = "terminal.clearance",
        TerminalClearanceGrade = "terminal.clearance.grade",
        TerminalClearanceIntake = "terminal.clearance.intake",
        TerminalClearanceLine = "terminal.clearance.line",
        TerminalClearanceOpening = "terminal.clearance.opening",
        TerminalClearanceWalkway = "terminal.clearance.walkway",
        WindowAlternative = "window.alternative",
    }
    /// What a book asks, or the trade where no book does.
    RulesOrPlace {
        DuctGarage = "duct.garage",
        DuctGauge = "duct.gauge",
        DuctMaterial = "duct.material",
        DuctRiser = "duct.riser",
        DuctSealing = "duct.sealing",
        DuctSupport = "duct.support",
        FanContinuous = "fan.continuous",
        FanListing = "fan.listing",
        FanRatingMark = "fan.rating-mark",
        FrameBore = "frame.bore",
        FrameClearance = "frame.clearance",
        TerminalDamper = "terminal.damper",
        TerminalPlace = "terminal.place",
        TerminalSoffit = "terminal.soffit",
    }
    /// Where things go, and how they get there.
    Place {
        PenetrationSheet = "penetration.sheet",
        PlaceEdge = "place.edge",
        PlaceHousing = "place.housing",
        RouteJoints = "route.joints",
        RouteOut = "route.out",
        RouteSeparation = "route.separation",
        RouteSlope = "route.slope",
        SwapAccess = "swap.access",
        SwapCollar = "swap.collar",
        SwapDepth = "swap.depth",
        SwapNeutral = "swap.neutral",
        SwapOpening = "swap.opening",
        SwapWire = "swap.wire",
    }
}

impl Check {
    /// The check of an id.
    pub fn named(id: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|check| check.as_str() == id)
    }

    /// The question that it answers; `by_book`: whether its limit stands in a rule book.
    pub const fn question(self, by_book: bool) -> Question {
        match self.home() {
            Home::RulesOrPlace | Home::RulesOrAir if by_book => Question::Rules,
            Home::Air | Home::RulesOrAir => Question::Air,
            Home::Mirror => Question::Mirror,
            Home::Dry => Question::Dry,
            Home::House => Question::House,
            Home::Rules => Question::Rules,
            Home::RulesOrPlace | Home::Place => Question::Place,
        }
    }
}

impl Display for Check {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        f.pad(self.as_str())
    }
}

impl PartialEq<str> for Check {
    fn eq(&self, id: &str) -> bool {
        self.as_str() == id
    }
}

impl PartialEq<&str> for Check {
    fn eq(&self, id: &&str) -> bool {
        self.as_str() == *id
    }
}

impl Serialize for Check {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.serialize_str(self.as_str())
    }
}

impl<'de> Deserialize<'de> for Check {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        let id = Cow::<'de, str>::deserialize(from)?;
        Self::named(&id).ok_or_else(|| D::Error::custom(format!("unknown check `{id}`")))
    }
}

impl JsonSchema for Check {
    fn schema_name() -> Cow<'static, str> {
        "Check".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        let ids: Vec<&str> = Self::ALL.iter().map(|check| check.as_str()).collect();
        json_schema!({ "description": "Check id.", "type": "string", "enum": ids })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ids_differ_and_lead_back() {
        for &check in Check::ALL {
            assert_eq!(Check::named(check.as_str()), Some(check));
        }
        assert_eq!(Check::named("no.such"), None);
    }

    #[test]
    fn a_book_takes_a_point_of_the_trade_to_the_rules() {
        assert_eq!(Check::TerminalDamper.question(true), Question::Rules);
        assert_eq!(Check::TerminalDamper.question(false), Question::Place);
        assert_eq!(Check::PlaceHousing.question(true), Question::Place);
        assert_eq!(Check::AirflowDelivered.question(true), Question::Air);
    }
}
