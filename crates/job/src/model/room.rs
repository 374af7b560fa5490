//! A room that is served, with its fixtures, window, door and surfaces.

use dewpath_units::{
    Airflow, Area, Length, Mass, Power, Pressure, Ratio, Temperature, ThermalResistance, Volume,
};

use crate::category::category;
use crate::keys::Keys;
use crate::limits::{FAN_FLOW, INDOORS, ROOM_SIDE};
use crate::model::duct::Surroundings;
use crate::model::plan::RoomPlan;
use crate::model::usage::Usage;
use crate::value::{Given, GivenChoice, GivenCount, GivenYesNo};

/// A room that is served.
#[derive(Debug, Clone, PartialEq, Keys)]
#[table(name = "room", written = "[[room]]")]
pub struct Room {
    /// Stable id, kept through edits; may be left out when there is only one room.
    #[key(id, example = "hall-bath")]
    pub id: String,
    /// Name for people.
    #[key(example = "Hall bath")]
    pub name: Option<String>,
    /// What kind of room it is.
    #[key(required, or = RoomKind::Other, example = "bathroom")]
    pub kind: RoomKind,
    /// Inside length.
    #[key(example = "9 ft 4 in", limits = ROOM_SIDE)]
    pub length: Given<Length>,
    /// Inside width.
    #[key(example = "5 ft", limits = ROOM_SIDE)]
    pub width: Given<Length>,
    /// Ceiling height.
    #[key(example = "8 ft", possible(0.5, 30.0), usual(1.9, 5.0))]
    pub height: Given<Length>,
    /// Floor area, where length and width are not given.
    #[key(example = "46 ft2", possible(0.05, 2000.0), usual(0.6, 80.0))]
    pub floor_area: Given<Area>,
    /// Volume, where the height is not given or the ceiling slopes.
    #[key(example = "370 ft3", possible(0.05, 20000.0), usual(1.2, 300.0))]
    pub volume: Given<Volume>,
    /// Whether its exhaust runs on demand or all the time.
    #[key(example = "intermittent")]
    pub operation: GivenChoice<Operation>,
    /// Airflow that somebody asks for beyond the rule book, such as a programme or a contract.
    #[key(example = "80 cfm", limits = FAN_FLOW)]
    pub asked: Given<Airflow>,
    /// Fixtures in the room.
    #[key(example = { toilets = 1, showers = 1 })]
    pub fixtures: Fixtures,
    /// The window.
    #[key(example = { present = false })]
    pub window: Window,
    /// The door, and what air can pass at it.
    #[key(example = { width = "28 in", gap = "3/4 in" })]
    pub door: Door,
    /// Air temperature in the room.
    #[key(example = "72 F", limits = INDOORS)]
    pub temperature: Given<Temperature>,
    /// Power of a heater of the room, beside that of the house, that is on while somebody showers; its warmth goes to the air.
    #[key(example = "1000 W", possible(0.0, 20000.0), usual(50.0, 3000.0))]
    pub heater: Given<Power>,
    /// How much moister the air at the exhaust is than the mean of the room, both above the air that comes in; 1
    /// is well mixed, less is a short cut past the moist air.
    #[key(example = 1.0, possible(0.3, 3.0), usual(0.8, 1.5))]
    pub mixing: Given<Ratio>,
    /// What walls and ceiling show to the air.
    #[key(example = "latex paint")]
    pub finish: GivenChoice<Finish>,
    /// Area of wall and ceiling that takes up moisture.
    #[key(example = "220 ft2", possible(0.0, 5000.0), usual(1.0, 200.0))]
    pub finish_area: Given<Area>,
    /// Dry mass of towels, mats and curtains.
    #[key(example = "2 kg", possible(0.0, 200.0), usual(0.0, 15.0))]
    pub textiles: Given<Mass>,
    /// How the room is used in a day.
    #[key(name = "use", example = { showers = 2, minutes = "8 min", at = ["06:45", "07:05"] })]
    pub usage: Usage,
    /// A surface where moisture may settle.
    #[key(name = "surface", example = { id = "mirror", kind = "mirror", area = "6 ft2" })]
    pub surfaces: Vec<Surface>,
    /// Where it is, what its walls are, and where its housing should be.
    #[key(flatten)]
    pub plan: RoomPlan,
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

category! {
    /// What walls and ceiling show to the air.
    pub enum Finish {
        /// Gypsum board without paint.
        BareGypsum = "bare gypsum board" | "bare drywall" | "unpainted drywall" | "bare plasterboard",
        /// Gypsum board with latex paint.
        Latex = "latex paint" | "emulsion paint" | "eggshell" | "flat paint" | "matt paint",
        /// Gloss or oil paint: takes up little.
        Gloss = "gloss paint" | "gloss" | "oil paint" | "semi-gloss" | "vinyl wallpaper",
        /// Tile.
        Tile = "tile",
        /// Plaster.
        Plaster = "plaster",
        /// Bare wood.
        Wood = "wood",
    }
    unclear {
        // Paper takes up water as the paint on the wall does, vinyl next to none.
        "wallpaper" = Latex | Gloss,
    }
}

/// Fixtures in the room; write 0 for what is not there and leave out what you did not look at.
#[derive(Debug, Clone, PartialEq, Default, Keys)]
#[table(name = "fixtures", written = "[room.fixtures]")]
pub struct Fixtures {
    /// Toilets.
    #[key(example = 1, possible(50), usual(4))]
    pub toilets: GivenCount,
    /// Showers.
    #[key(example = 1, possible(50), usual(4))]
    pub showers: GivenCount,
    /// Tubs without jets.
    #[key(example = 0, possible(50), usual(3))]
    pub tubs: GivenCount,
    /// Jetted tubs.
    #[key(example = 0, possible(50), usual(2))]
    pub jetted_tubs: GivenCount,
}

/// The window of the room.
#[derive(Debug, Clone, PartialEq, Default, Keys)]
#[table(name = "window", written = "[room.window]")]
pub struct Window {
    /// Whether there is one.
    #[key(example = true)]
    pub present: GivenYesNo,
    /// Glazed area.
    #[key(example = "4 ft2", possible(0.0, 100.0), usual(0.05, 10.0))]
    pub glazed: Given<Area>,
    /// Area that opens.
    #[key(example = "2 ft2", possible(0.0, 100.0), usual(0.0, 10.0))]
    pub openable: Given<Area>,
}

/// The door of the room. A fan can only move the air that comes in somewhere.
#[derive(Debug, Clone, PartialEq, Default, Keys)]
#[table(name = "door", written = "[room.door]")]
pub struct Door {
    /// Width of the leaf.
    #[key(example = "28 in", possible(0.2, 6.0), usual(0.5, 2.0))]
    pub width: Given<Length>,
    /// Gap under the leaf above the finished floor.
    #[key(example = "3/4 in", possible(0.0, 0.5), usual(0.0, 0.05))]
    pub gap: Given<Length>,
    /// Free area of the joints round the leaf, the gap under it left out.
    #[key(example = "12 in2", possible(0.0, 0.5), usual(0.0, 0.03))]
    pub joints: Given<Area>,
    /// Free area of a transfer grille.
    #[key(example = "20 in2", possible(0.0, 2.0), usual(0.0, 0.2))]
    pub transfer: Given<Area>,
    /// Pressure that the air of the room may cost at the shut door; 3 Pa where nothing else is asked for.
    #[key(example = "3 Pa", possible(0.1, 100.0), usual(1.0, 10.0))]
    pub pressure: Given<Pressure>,
    /// Flow coefficient of the gap, where measured.
    #[key(example = 0.6, possible(0.1, 1.0), usual(0.4, 0.9))]
    pub coefficient: Given<Ratio>,
}

/// A surface of the room where moisture may settle.
#[derive(Debug, Clone, PartialEq, Keys)]
#[table(name = "surface", written = "[[room.surface]]", ids = Within)]
pub struct Surface {
    /// Stable id within the room; surface-1, surface-2, … when left out.
    #[key(id, example = "mirror")]
    pub id: String,
    /// What it is.
    #[key(required, or = SurfaceKind::Mirror, example = "mirror")]
    pub kind: SurfaceKind,
    /// Its area.
    #[key(example = "6 ft2", possible(0.001, 2000.0), usual(0.05, 60.0))]
    pub area: Given<Area>,
    /// Insulation from its face to what is on the other side.
    #[key(example = "R-13", possible(0.0, 20.0), usual(0.05, 12.0))]
    pub insulation: Given<ThermalResistance>,
    /// What is on the other side.
    #[key(example = "outdoors")]
    pub other_side: GivenChoice<Surroundings>,
    /// Power of a heater behind it, as behind a mirror.
    #[key(example = "60 W", possible(0.0, 5000.0), usual(10.0, 500.0))]
    pub heated: Given<Power>,
    /// Glazing of a window.
    #[key(example = "double")]
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
