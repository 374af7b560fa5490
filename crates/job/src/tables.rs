//! The tables of the job file and of library files.
//!
//! Limits marked "possible" are hard: nothing real lies outside. Limits marked "usual" give a warning.
//! They are common practice without a source, chosen wide enough that a real job never meets the hard
//! ones; where physics sets a limit (a share is at most 1, a clearance is never negative) it is that.

use dewpath_units::{
    AirChange50, Airflow, Angle, Area, Conductor, Duration, Humidity, Leakage50, Length, Loudness,
    Mass, MassFlow, Power, Pressure, Ratio, Temperature, TemperatureDifference, ThermalResistance,
    Velocity, Volume, WaterFlow,
};

use crate::model::{
    Along, ApplianceKind, BuildState, Climate, Control, DamperKind, DoorHabit, DoorState, Draft,
    DuctKind, DwellingKind, ElbowMake, ExhaustKind, Facing, FanHabit, FanKind, Finish, Glazing,
    Jacket, JunctionKind, MeasuredTo, Method, Operation, OutletSide, Pull, RoomKind, Screen,
    Season, SensorPlace, Show, SlopeTo, SurfaceKind, Surroundings, SymptomKind, TerminalKind,
    Terrain, TransitionShape, VentilationKind, WetSide, Work,
};
use crate::spec::{Key, Limits, Shape, Table, key, months, must, quantity, words_of};

mod geometry;
use geometry::{BOARD, FIXTURE_AT, FRAMING, LEVEL, OBSTACLE, ROOM_WALL, SPACE, WAY_OUT, WET};

/// Extents of rooms: 4 in to 330 ft possible, 2 ft to 40 ft usual.
const ROOM_SIDE: Shape = quantity::<Length>(0.1, 100.0, 0.6, 12.0);
/// Runs: nothing to 1000 ft possible; beyond 100 ft somebody should look again.
const RUN_LENGTH: Shape = quantity::<Length>(0.0, 300.0, 0.0, 30.0);
/// Airflow of a fan or grille: 0.2 to 4000 cfm possible, 4 to 800 cfm usual.
const FAN_FLOW: Shape = quantity::<Airflow>(0.0001, 2.0, 0.002, 0.4);
/// A share of something.
const SHARE: Shape = quantity::<Ratio>(0.0, 1.0, 0.0, 1.0);
/// Air temperature in rooms: -50 to 60 °C possible, 5 to 40 °C usual.
const INDOORS: Shape = quantity::<Temperature>(223.15, 333.15, 278.15, 313.15);
/// Set-points of heating and cooling: 0 to 45 °C possible, 10 to 32 °C usual.
const SET_POINT: Shape = quantity::<Temperature>(273.15, 318.15, 283.15, 305.15);
/// Points of humidity, as a difference of two humidities.
const POINTS: Shape = quantity::<Humidity>(0.001, 1.0, 0.01, 0.4);
/// Free area past a closed flap: nothing to 1000 cm2 possible, up to 50 cm2 usual.
const FLAP_LEAK: Shape = quantity::<Area>(0.0, 0.1, 0.0, 0.005);
/// Distances outdoors: nothing to 330 ft.
const DISTANCE: Shape = quantity::<Length>(0.0, 100.0, 0.0, 60.0);

/// The whole job file.
pub(crate) static JOB: Table = Table {
    name: "",
    written: "the top of the file",
    doc: "The keys at the top stand above the first [section].",
    keys: &[
        key("format", Shape::Format, "1", "Version of the job-file format."),
        key(
            "name",
            Shape::Text,
            r#""Hall bath, new fan""#,
            "What you call the job; the file name when left out.",
        ),
        key(
            "date",
            Shape::Day,
            r#""2026-03-14""#,
            "The day of the job: it stands on every drawing. Year, month, day; with or without quotes. When left out the drawings say that it is not written: today is never taken for it.",
        ),
        key(
            "show",
            Shape::Word(words_of::<Show>),
            r#""us""#,
            "Units of the output. Input may mix both systems freely. When left out, the system of the named rule book's country is used, and that is said in a warning.",
        ),
        key(
            "work",
            Shape::Word(words_of::<Work>),
            r#""new""#,
            "What kind of work this is: everything new, an old fan swapped, or a call-back about something built. New when left out.",
        ),
        key(
            "rule_book",
            Shape::Text,
            r#""us-irc-2021""#,
            "Id of the rule book that is in force. Local rules and the authority on site always go first.",
        ),
        key(
            "also_show",
            Shape::Texts,
            r#"["us-ashrae-62.2"]"#,
            "Further rule books whose answers are shown beside.",
        ),
        key(
            "amendments",
            Shape::Texts,
            r#"["town-amendment.toml"]"#,
            "Files with local amendments, laid over the rule book in this order.",
        ),
        key(
            "library",
            Shape::Texts,
            r#"["library/demo.toml"]"#,
            "Files with your own fans, terminals and ducts, relative to the job file.",
        ),
        key(
            "notes",
            Shape::Texts,
            r#"["key is under the mat"]"#,
            "Free notes; printed, never interpreted.",
        ),
        key(
            "not_seen",
            Shape::Texts,
            r#"["duct above the closet"]"#,
            "What could not be seen at the survey; printed, never interpreted.",
        ),
        key("site", Shape::One(&SITE), r#"{ altitude = "640 ft" }"#, "Where the job is."),
        key(
            "dwelling",
            Shape::One(&DWELLING),
            r#"{ kind = "house" }"#,
            "The dwelling around the rooms.",
        ),
        key("room", Shape::Many(&ROOM), r#"{ kind = "bathroom" }"#, "A room that is served."),
        key(
            "grille",
            Shape::Many(&GRILLE),
            r#"{ id = "hall-grille", room = "hall-bath" }"#,
            "A grille that is connected by a run to a fan elsewhere.",
        ),
        key("fan", Shape::Many(&FAN), r#"{ rated = "80 cfm" }"#, "A fan."),
        key(
            "junction",
            Shape::Many(&JUNCTION),
            r#"{ id = "wye", kind = "wye" }"#,
            "A point where runs meet.",
        ),
        key(
            "run",
            Shape::Many(&RUN),
            r#"{ length = "12 ft" }"#,
            "A run of duct, in the direction of the air.",
        ),
        key("terminal", Shape::Many(&TERMINAL), r#"{ kind = "wall cap" }"#, "Where air leaves."),
        key(
            "framing",
            Shape::Many(&FRAMING),
            r#"{ id = "joists", kind = "sawn joist", size = "2x10", spacing = "16 in", direction = "y" }"#,
            "A part of a floor or ceiling in which members run one way at one spacing.",
        ),
        key(
            "space",
            Shape::Many(&SPACE),
            r#"{ id = "attic-space", kind = "attic" }"#,
            "A space that a duct may pass through.",
        ),
        key(
            "obstacle",
            Shape::Many(&OBSTACLE),
            r#"{ id = "ceiling-light", kind = "light" }"#,
            "Something that is in the way.",
        ),
        key(
            "way_out",
            Shape::Many(&WAY_OUT),
            r#"{ id = "north-wall", kind = "wall", facing = "+y" }"#,
            "A way outdoors: where a terminal may lie, and what is drilled through.",
        ),
        key(
            "reading",
            Shape::Many(&READING),
            r#"{ id = "r1", at = "fan", airflow = "42 cfm" }"#,
            "A measured flow or pressure.",
        ),
        key(
            "symptom",
            Shape::Many(&SYMPTOM),
            r#"{ id = "s1", kind = "drip" }"#,
            "Something seen or told.",
        ),
        key(
            "existing",
            Shape::One(&EXISTING),
            r#"{ collar = "3 in" }"#,
            "What is there and may have to stay when an old fan is swapped.",
        ),
        key(
            "scenario",
            Shape::Many(&SCENARIO),
            r#"{ id = "gale", wind = "25 mph" }"#,
            "Weather and use other than the reference case (calm, doors shut, fans on).",
        ),
        key(
            "override",
            Shape::Many(&OVERRIDE),
            r#"{ finding = "duct.length.table", reason = "maker's duct sheet on file" }"#,
            "A finding that you override, with the reason that is printed beside it.",
        ),
        key(
            "built",
            Shape::Many(&BUILT),
            r#"{ at = "run.run.length", value = "14 ft" }"#,
            "A value that was found different when built; laid over the design when the job is read as built.",
        ),
        key("settings", Shape::One(&SETTINGS), "{ draws = 1024 }", "How verdicts are drawn."),
    ],
};

static SITE: Table = Table {
    name: "site",
    written: "[site]",
    doc: "Where the job is. Thin air at altitude weighs less and cools less; cold ducts sweat.",
    keys: &[
        key(
            "altitude",
            Shape::SignedLength(Limits { possible: [-450.0, 6000.0], usual: [-100.0, 4000.0] }),
            r#""640 ft""#,
            "Height above sea level.",
        ),
        key(
            "indoor",
            quantity::<Temperature>(223.15, 333.15, 278.15, 313.15),
            r#""68 F""#,
            "Air temperature in the dwelling.",
        ),
        key(
            "outdoor",
            quantity::<Temperature>(203.15, 333.15, 228.15, 323.15),
            r#""20 F""#,
            "Outdoor air temperature of the reference case.",
        ),
        key(
            "humidity",
            quantity::<Humidity>(0.0, 1.0, 0.1, 1.0),
            r#""60 %""#,
            "Relative humidity in the room while the fan is judged.",
        ),
        key(
            "weather",
            Shape::Text,
            r#""weather/town.csv""#,
            "File with the hourly weather of a year (a TMY3 file or a plain table), relative to the job file. It goes before `months` and `climate`.",
        ),
        key(
            "climate",
            Shape::Choice(words_of::<Climate>),
            r#""mixed humid""#,
            "Sort of climate, where there is neither a weather file nor monthly means.",
        ),
        key(
            "months",
            Shape::One(&MONTHS),
            r#"{ temperature = ["25 F", "28 F", "37 F", "48 F", "58 F", "67 F", "72 F", "70 F", "63 F", "52 F", "42 F", "31 F"] }"#,
            "Means of each month, where there is no weather file.",
        ),
        key(
            "terrain",
            Shape::Choice(words_of::<Terrain>),
            r#""suburb""#,
            "What the wind comes over before it reaches the house.",
        ),
    ],
};

static MONTHS: Table = Table {
    name: "months",
    written: "months = { … }",
    doc: "Means of each month outdoors: always twelve values, from January to December. A bureau of weather publishes them for the nearest station.",
    keys: &[
        must(
            "temperature",
            months::<Temperature>(193.15, 333.15, 223.15, 313.15),
            r#"["25 F", "28 F", "37 F", "48 F", "58 F", "67 F", "72 F", "70 F", "63 F", "52 F", "42 F", "31 F"]"#,
            "Mean air temperature.",
        ),
        key(
            "humidity",
            months::<Humidity>(0.0, 1.0, 0.15, 0.98),
            r#"["72 %", "70 %", "67 %", "65 %", "68 %", "71 %", "73 %", "75 %", "76 %", "73 %", "73 %", "75 %"]"#,
            "Mean relative humidity; or write `dew_point`.",
        ),
        key(
            "dew_point",
            months::<Temperature>(193.15, 313.15, 223.15, 301.15),
            r#"["17 F", "19 F", "26 F", "36 F", "47 F", "57 F", "62 F", "61 F", "54 F", "43 F", "33 F", "23 F"]"#,
            "Mean dew point; it goes before `humidity`.",
        ),
        key(
            "swing",
            months::<TemperatureDifference>(0.0, 45.0, 2.0, 25.0),
            r#"["15 F", "16 F", "18 F", "20 F", "20 F", "19 F", "18 F", "18 F", "19 F", "19 F", "16 F", "14 F"]"#,
            "From the coldest to the warmest hour of a mean day: a difference, so 18 F are 10 K.",
        ),
        key(
            "wind",
            months::<Velocity>(0.0, 60.0, 0.5, 15.0),
            r#"["9 mph", "9 mph", "10 mph", "10 mph", "8 mph", "7 mph", "7 mph", "6 mph", "7 mph", "8 mph", "9 mph", "9 mph"]"#,
            "Mean wind speed at the station.",
        ),
    ],
};

static DWELLING: Table = Table {
    name: "dwelling",
    written: "[dwelling]",
    doc: "The dwelling around the rooms: what counts for whole-house rates, make-up air and combustion safety.",
    keys: &[
        key("kind", Shape::Choice(words_of::<DwellingKind>), r#""house""#, "Kind of dwelling."),
        key(
            "floor_area",
            quantity::<Area>(5.0, 5000.0, 20.0, 800.0),
            r#""1450 ft2""#,
            "Conditioned floor area.",
        ),
        key(
            "volume",
            quantity::<Volume>(10.0, 20000.0, 50.0, 3000.0),
            r#""11600 ft3""#,
            "Conditioned volume.",
        ),
        key("bedrooms", Shape::Count(50, 10), "3", "Bedrooms."),
        key(
            "year_built",
            Shape::Count(2200, 2100),
            "1968",
            "Year built; older houses bring lead paint and asbestos into play.",
        ),
        key(
            "air_changes",
            quantity::<AirChange50>(0.01, 100.0, 0.2, 40.0),
            r#""5 ACH50""#,
            "Leakage of the envelope by a blower door, as air changes at 50 Pa.",
        ),
        key(
            "leakage",
            quantity::<Leakage50>(0.001, 20.0, 0.02, 5.0),
            r#""1200 cfm50""#,
            "Leakage of the envelope by a blower door, as a flow at 50 Pa.",
        ),
        key("storeys", Shape::Count(20, 4), "2", "Storeys above grade."),
        key("occupants", Shape::Count(100, 12), "4", "People who live in it."),
        key("heating", SET_POINT, r#""70 F""#, "Set-point of the heating."),
        key("air_conditioning", Shape::YesNo, "true", "Whether the dwelling is cooled in summer."),
        key(
            "cooling",
            SET_POINT,
            r#""76 F""#,
            "Set-point of the cooling; where it is written, the dwelling counts as cooled.",
        ),
        key(
            "dehumidifier",
            quantity::<Humidity>(0.05, 1.0, 0.35, 0.7),
            r#""55 %""#,
            "Set-point of a dehumidifier; leave it out where there is none.",
        ),
        key(
            "moisture",
            quantity::<Mass>(0.0, 100.0, 2.0, 25.0),
            r#""10 kg""#,
            "Moisture that people, cooking, plants and washing give off in a day, apart from showers and baths.",
        ),
        key(
            "ventilation",
            Shape::One(&VENTILATION),
            r#"{ kind = "balanced", airflow = "90 cfm", recovery = 0.7 }"#,
            "Ventilation of the whole dwelling.",
        ),
        key(
            "prices",
            Shape::One(&PRICES),
            r#"{ electricity = 0.18, heat = 0.09, currency = "$" }"#,
            "What energy costs.",
        ),
        key(
            "appliance",
            Shape::Many(&APPLIANCE),
            r#"{ id = "heater", kind = "water heater", draft = "natural" }"#,
            "A fuel-burning appliance inside the dwelling.",
        ),
        key(
            "exhaust",
            Shape::Many(&EXHAUST),
            r#"{ id = "dryer", kind = "dryer" }"#,
            "Something else that blows air out of the dwelling.",
        ),
    ],
};

static VENTILATION: Table = Table {
    name: "ventilation",
    written: "[dwelling.ventilation]",
    doc: "Ventilation of the whole dwelling, beside the fans of this job.",
    keys: &[
        key(
            "kind",
            Shape::Choice(words_of::<VentilationKind>),
            r#""balanced""#,
            "How it is ventilated; `none` where only leaks and windows do it.",
        ),
        key(
            "airflow",
            quantity::<Airflow>(0.0, 3.0, 0.005, 0.25),
            r#""90 cfm""#,
            "Outdoor air while it runs.",
        ),
        key("recovery", SHARE, "0.7", "Share of the heat that is recovered."),
        key("moisture_recovery", SHARE, "0.45", "Share of the moisture that is recovered."),
        key(
            "hours_per_day",
            quantity::<Duration>(0.0, 86400.0, 0.0, 86400.0),
            r#""24 h""#,
            "How long it runs in a day.",
        ),
    ],
};

static PRICES: Table = Table {
    name: "prices",
    written: "[dwelling.prices]",
    doc: "What energy costs, for each kWh, as plain numbers.",
    keys: &[
        key("electricity", PRICE, "0.18", "A kWh of electricity."),
        key(
            "heat",
            PRICE,
            "0.09",
            "A kWh of heat given to the rooms: the price of the fuel over the efficiency of the heating.",
        ),
        key(
            "cooling",
            PRICE,
            "0.06",
            "A kWh of heat taken out of the rooms: the price of electricity over the cooling's seasonal performance.",
        ),
        key("currency", Shape::Text, r#""$""#, "Sign of the currency, for print."),
    ],
};

/// A price of one kWh; the currency is the user's, so the bound is wide.
const PRICE: Shape = Shape::Number(0.0, 10_000.0);

static APPLIANCE: Table = Table {
    name: "appliance",
    written: "[[dwelling.appliance]]",
    doc: "A fuel-burning appliance. A strong fan can pull its flue gas into the room: have combustion safety tested by a licensed trade before exhaust is increased.",
    keys: &[
        key("id", Shape::Id, r#""heater""#, "Stable id; may be left out when there is only one."),
        key("kind", Shape::Choice(words_of::<ApplianceKind>), r#""water heater""#, "What it is."),
        key("draft", Shape::Choice(words_of::<Draft>), r#""natural""#, "How its flue gas leaves."),
        key(
            "limit",
            quantity::<Pressure>(0.0, 100.0, 1.0, 15.0),
            r#""3 Pa""#,
            "How far below outdoors the pressure at it may go, as a positive number, where a programme or its maker sets that.",
        ),
        key(
            "place",
            Shape::Reference("room"),
            r#""laundry""#,
            "Id of the room it stands in; left out when it stands in none of this job's rooms.",
        ),
    ],
};

static EXHAUST: Table = Table {
    name: "exhaust",
    written: "[[dwelling.exhaust]]",
    doc: "Another exhaust of the dwelling, such as a dryer or a range hood.",
    keys: &[
        key("id", Shape::Id, r#""dryer""#, "Stable id; may be left out when there is only one."),
        key("kind", Shape::Choice(words_of::<ExhaustKind>), r#""dryer""#, "What it is."),
        key(
            "airflow",
            quantity::<Airflow>(0.0001, 3.0, 0.005, 0.8),
            r#""150 cfm""#,
            "Air it takes out.",
        ),
        key("length", RUN_LENGTH, r#""22 ft""#, "Length of its duct."),
        key("elbows", Shape::Count(60, 12), "2", "90 degree elbows of its duct."),
        key(
            "joined_to",
            Shape::Reference("run"),
            r#""run""#,
            "Id of a run of this job that it is joined to.",
        ),
    ],
};

static ROOM: Table = Table {
    name: "room",
    written: "[[room]]",
    doc: "A room that is served.",
    keys: &[
        key(
            "id",
            Shape::Id,
            r#""hall-bath""#,
            "Stable id, kept through edits; may be left out when there is only one room.",
        ),
        key("name", Shape::Text, r#""Hall bath""#, "Name for people."),
        must(
            "kind",
            Shape::Word(words_of::<RoomKind>),
            r#""bathroom""#,
            "What kind of room it is.",
        ),
        key("length", ROOM_SIDE, r#""9 ft 4 in""#, "Inside length."),
        key("width", ROOM_SIDE, r#""5 ft""#, "Inside width."),
        key("height", quantity::<Length>(0.5, 30.0, 1.9, 5.0), r#""8 ft""#, "Ceiling height."),
        key(
            "floor_area",
            quantity::<Area>(0.05, 2000.0, 0.6, 80.0),
            r#""46 ft2""#,
            "Floor area, where length and width are not given.",
        ),
        key(
            "volume",
            quantity::<Volume>(0.05, 20000.0, 1.2, 300.0),
            r#""370 ft3""#,
            "Volume, where the height is not given or the ceiling slopes.",
        ),
        key(
            "operation",
            Shape::Choice(words_of::<Operation>),
            r#""intermittent""#,
            "Whether its exhaust runs on demand or all the time.",
        ),
        key(
            "asked",
            FAN_FLOW,
            r#""80 cfm""#,
            "Airflow that somebody asks for beyond the rule book, such as a programme or a contract.",
        ),
        key(
            "fixtures",
            Shape::One(&FIXTURES),
            "{ toilets = 1, showers = 1 }",
            "Fixtures in the room.",
        ),
        key("window", Shape::One(&WINDOW), "{ present = false }", "The window."),
        key(
            "door",
            Shape::One(&DOOR),
            r#"{ width = "28 in", gap = "3/4 in" }"#,
            "The door, and what air can pass at it.",
        ),
        key("temperature", INDOORS, r#""72 F""#, "Air temperature in the room."),
        key(
            "heater",
            quantity::<Power>(0.0, 20000.0, 50.0, 3000.0),
            r#""1000 W""#,
            "Power of a heater in the room, beside that of the house.",
        ),
        key(
            "mixing",
            quantity::<Ratio>(0.3, 3.0, 0.8, 1.5),
            "1.0",
            "How much moister the air at the exhaust is than the mean of the room, both above the air that comes in; 1 is well mixed, less is a short cut past the moist air.",
        ),
        key(
            "finish",
            Shape::Choice(words_of::<Finish>),
            r#""latex paint""#,
            "What walls and ceiling show to the air.",
        ),
        key(
            "finish_area",
            quantity::<Area>(0.0, 5000.0, 1.0, 200.0),
            r#""220 ft2""#,
            "Area of wall and ceiling that takes up moisture.",
        ),
        key(
            "textiles",
            quantity::<Mass>(0.0, 200.0, 0.0, 15.0),
            r#""2 kg""#,
            "Dry mass of towels, mats and curtains.",
        ),
        key(
            "use",
            Shape::One(&USE),
            r#"{ showers = 2, minutes = "8 min", at = ["06:45", "07:05"] }"#,
            "How the room is used in a day.",
        ),
        key(
            "surface",
            Shape::Many(&SURFACE),
            r#"{ id = "mirror", kind = "mirror", area = "6 ft2" }"#,
            "A surface where moisture may settle.",
        ),
        key(
            "plan",
            Shape::Outline,
            r#"[["0 ft", "0 ft"], ["9 ft 4 in", "0 ft"], ["9 ft 4 in", "5 ft"], ["0 ft", "5 ft"]]"#,
            "Corners of its outline, in the order in which one walks round it; needed where it is no rectangle. It goes before `at`.",
        ),
        key(
            "at",
            Shape::Place(2),
            r#"["0 ft", "0 ft"]"#,
            "Where a rectangular room is: its corner with the least x and y.",
        ),
        key(
            "length_along",
            Shape::Choice(words_of::<Along>),
            r#""x""#,
            "Along which axis its length lies, beside `at`; along x when left out.",
        ),
        key("floor_level", LEVEL, r#""0 ft""#, "Level of its finished floor."),
        key(
            "measured",
            Shape::Choice(words_of::<MeasuredTo>),
            r#""finished""#,
            "Whether lengths were taken between finished walls or between bare framing.",
        ),
        key("drywall", BOARD, r#""1/2 in""#, "Thickness of the boards on its walls."),
        key(
            "ceiling_drywall",
            BOARD,
            r#""5/8 in""#,
            "Thickness of the boards under its ceiling, where it is another one.",
        ),
        key(
            "wall",
            Shape::Many(&ROOM_WALL),
            r#"{ id = "north", corner = 3, outside = true }"#,
            "A wall of the room.",
        ),
        key(
            "wet",
            Shape::Many(&WET),
            r#"{ id = "shower", at = ["0 ft", "0 ft"], size = ["3 ft", "3 ft"] }"#,
            "A zone that is sprayed or splashed.",
        ),
        key(
            "fixture_at",
            Shape::Many(&FIXTURE_AT),
            r#"{ id = "toilet", kind = "toilet", at = ["8 ft", "2 ft 6 in"] }"#,
            "Where a fixture or the door is.",
        ),
        key(
            "wish",
            Shape::Wish,
            r#""centre""#,
            "Where the housing should be: `centre`, `over the shower`, `between fixture and door`, or a point such as `[\"4 ft\", \"3 ft\"]`.",
        ),
    ],
};

static USE: Table = Table {
    name: "use",
    written: "[room.use]",
    doc: "How the room is used in a day. Ask who showers, how long, and what they do with door and fan: habits decide as much as ducts.",
    keys: &[
        key("showers", Shape::Count(100, 12), "2", "Showers in a day."),
        key(
            "minutes",
            quantity::<Duration>(0.0, 14400.0, 120.0, 2400.0),
            r#""8 min""#,
            "Length of each shower.",
        ),
        key(
            "water",
            quantity::<WaterFlow>(0.000_005, 0.002, 0.000_05, 0.000_35),
            r#""2 gpm""#,
            "Water of the shower head.",
        ),
        key(
            "water_temperature",
            quantity::<Temperature>(273.15, 363.15, 305.15, 321.15),
            r#""105 F""#,
            "Temperature of that water.",
        ),
        key(
            "vapour",
            quantity::<MassFlow>(0.0, 0.02, 0.000_05, 0.002),
            r#""2.5 kg/h""#,
            "Vapour given off while the shower runs, where it was measured or somebody states it; else it follows from the water.",
        ),
        key("baths", Shape::Count(100, 6), "0", "Baths in a day."),
        key("people", Shape::Count(100, 4), "1", "People in the room at once."),
        key(
            "gap",
            quantity::<Duration>(0.0, 86400.0, 0.0, 43200.0),
            r#""10 min""#,
            "Pause between one shower and the next, where `at` is left out.",
        ),
        key(
            "at",
            Shape::Times,
            r#"["06:45", "07:05"]"#,
            "When showers begin, one time for each (24 hours, or with am and pm).",
        ),
        key(
            "door",
            Shape::Choice(words_of::<DoorHabit>),
            r#""opened after""#,
            "What happens with the door.",
        ),
        key(
            "drying",
            quantity::<Mass>(0.0, 200.0, 0.0, 15.0),
            r#""4 kg""#,
            "Dry mass of laundry that is hung up to dry in the room in a day.",
        ),
        key(
            "fan",
            Shape::Choice(words_of::<FanHabit>),
            r#""during the shower""#,
            "When the fan is switched on, by habit.",
        ),
        key(
            "leave_on",
            quantity::<Duration>(0.0, 86400.0, 0.0, 14400.0),
            r#""20 min""#,
            "How long it is left on after the shower, by habit.",
        ),
    ],
};

static SURFACE: Table = Table {
    name: "surface",
    written: "[[room.surface]]",
    doc: "A surface of the room where moisture may settle.",
    keys: &[
        key(
            "id",
            Shape::Id,
            r#""mirror""#,
            "Stable id within the room; surface-1, surface-2, … when left out.",
        ),
        must("kind", Shape::Word(words_of::<SurfaceKind>), r#""mirror""#, "What it is."),
        key("area", quantity::<Area>(0.001, 2000.0, 0.05, 60.0), r#""6 ft2""#, "Its area."),
        key(
            "insulation",
            quantity::<ThermalResistance>(0.0, 20.0, 0.05, 12.0),
            r#""R-13""#,
            "Insulation from its face to what is on the other side.",
        ),
        key(
            "other_side",
            Shape::Choice(words_of::<Surroundings>),
            r#""outdoors""#,
            "What is on the other side.",
        ),
        key(
            "heated",
            quantity::<Power>(0.0, 5000.0, 10.0, 500.0),
            r#""60 W""#,
            "Power of a heater behind it, as behind a mirror.",
        ),
        key("glazing", Shape::Choice(words_of::<Glazing>), r#""double""#, "Glazing of a window."),
    ],
};

static FIXTURES: Table = Table {
    name: "fixtures",
    written: "[room.fixtures]",
    doc: "Fixtures in the room; write 0 for what is not there and leave out what you did not look at.",
    keys: &[
        key("toilets", Shape::Count(50, 4), "1", "Toilets."),
        key("showers", Shape::Count(50, 4), "1", "Showers."),
        key("tubs", Shape::Count(50, 3), "0", "Tubs without jets."),
        key("jetted_tubs", Shape::Count(50, 2), "0", "Jetted tubs."),
    ],
};

static WINDOW: Table = Table {
    name: "window",
    written: "[room.window]",
    doc: "The window of the room.",
    keys: &[
        key("present", Shape::YesNo, "true", "Whether there is one."),
        key("glazed", quantity::<Area>(0.0, 100.0, 0.05, 10.0), r#""4 ft2""#, "Glazed area."),
        key("openable", quantity::<Area>(0.0, 100.0, 0.0, 10.0), r#""2 ft2""#, "Area that opens."),
    ],
};

static DOOR: Table = Table {
    name: "door",
    written: "[room.door]",
    doc: "The door of the room. A fan can only move the air that comes in somewhere.",
    keys: &[
        key("width", quantity::<Length>(0.2, 6.0, 0.5, 2.0), r#""28 in""#, "Width of the leaf."),
        key(
            "gap",
            quantity::<Length>(0.0, 0.5, 0.0, 0.05),
            r#""3/4 in""#,
            "Gap under the leaf above the finished floor.",
        ),
        key(
            "transfer",
            quantity::<Area>(0.0, 2.0, 0.0, 0.2),
            r#""20 in2""#,
            "Free area of a transfer grille.",
        ),
        key(
            "coefficient",
            quantity::<Ratio>(0.1, 1.0, 0.4, 0.9),
            "0.6",
            "Flow coefficient of the gap, where measured.",
        ),
    ],
};

static GRILLE: Table = Table {
    name: "grille",
    written: "[[grille]]",
    doc: "A grille in a room that is connected by a run to a fan elsewhere. The grille of an ordinary ceiling fan belongs to the fan and is not written.",
    keys: &[
        key(
            "id",
            Shape::Id,
            r#""hall-grille""#,
            "Stable id; may be left out when there is only one grille.",
        ),
        key(
            "room",
            Shape::Reference("room"),
            r#""hall-bath""#,
            "Id of the room; may be left out when there is only one room.",
        ),
        key("free_area", quantity::<Area>(0.0001, 2.0, 0.003, 0.2), r#""28 in2""#, "Free area."),
        key("collar", Shape::Size, r#""4 in""#, "Size of the collar behind it."),
        key(
            "point",
            Shape::Point,
            r#""25 L/s at 12 Pa""#,
            "A measured or maker's point: flow at pressure loss.",
        ),
    ],
};

macro_rules! fan_keys {
    ($($first:expr,)*; $($last:expr),* $(,)?) => {
        &[
            $($first,)*
            key("kind", Shape::Choice(words_of::<FanKind>), r#""centrifugal""#, "How it moves air."),
            key("rated", Shape::Ratings, r#"["80 cfm at 0.1 inWC", "62 cfm at 0.25 inWC"]"#, "Rated flow, with the static pressure it was rated at where the label says; one or several."),
            key("curve", Shape::Curve, r#"["100 cfm at 0 Pa", "80 cfm at 0.1 inWC", "0 cfm at 0.35 inWC"]"#, "The whole curve: flow at static pressure, at standard air (1.2 kg/m3)."),
            key("holds_flow", FAN_FLOW, r#""80 cfm""#, "For a motor that holds its flow: the flow it holds, up to its curve."),
            key("speed", quantity::<Ratio>(0.05, 1.5, 0.2, 1.0), "0.7", "Speed setting as a share of full speed."),
            key("loudness", quantity::<Loudness>(0.0, 50.0, 0.1, 10.0), r#""0.8 sones""#, "Rated loudness."),
            key("loudness_at", quantity::<Pressure>(0.0, 2000.0, 0.0, 150.0), r#""0.1 inWC""#, "Static pressure the loudness was rated at."),
            key("power", quantity::<Power>(0.1, 5000.0, 1.0, 400.0), r#""24 W""#, "Electric power of the fan motor."),
            key("outlet", Shape::Size, r#""4 in""#, "Outlet (collar)."),
            key("housing", Shape::Sides(3), r#""9 in x 9 in x 7-1/2 in""#, "Housing: length, width, height above the ceiling face."),
            key("outlet_side", Shape::Choice(words_of::<OutletSide>), r#""end""#, "On which side of the housing the collar is: at an end of its length, on its flank, or on top."),
            key("outlet_offset", Shape::SignedLength(Limits { possible: [-2.0, 2.0], usual: [-0.3, 0.3] }), r#""0 in""#, "From the middle of that side to the centre of the collar; seen from above with the side turned to you, to the right is more than 0."),
            key("outlet_height", quantity::<Length>(0.0, 2.0, 0.02, 0.5), r#""4 in""#, "Centre of the collar above the ceiling face."),
            key("collar", quantity::<Length>(0.0, 1.0, 0.01, 0.2), r#""1-1/2 in""#, "How far the collar stands out from the housing."),
            key("flange", quantity::<Length>(0.0, 0.5, 0.0, 0.08), r#""1 in""#, "How far the flange of the housing reaches beyond its body, all round."),
            key("damper", Shape::YesNo, "true", "Backdraft damper in the outlet."),
            key("max_equivalent_length", quantity::<Length>(0.5, 500.0, 3.0, 100.0), r#""100 ft""#, "Longest equivalent duct length its maker allows."),
            key("listed_wet", Shape::YesNo, "true", "Listed for the space over a tub or shower."),
            key("listed_continuous", Shape::YesNo, "true", "Listed for continuous running."),
            key("listed_rating", Shape::YesNo, "true", "The rating on the label is a tested one, at a stated pressure."),
            key("heater", quantity::<Power>(0.0, 6000.0, 100.0, 3000.0), r#""1300 W""#, "Power of a heater in the same housing."),
            key("notes", Shape::Text, r#""label is painted over""#, "Free note."),
            $($last,)*
        ]
    };
}

static FAN: Table = Table {
    name: "fan",
    written: "[[fan]]",
    doc: "A fan. Write what its label says, or name a library model; what is written here wins over the library.",
    keys: fan_keys![
        key("id", Shape::Id, r#""fan""#, "Stable id; may be left out when there is only one fan."),
        key("name", Shape::Text, r#""ceiling fan""#, "Name for people."),
        key("room", Shape::Reference("room"), r#""hall-bath""#, "Id of the room it hangs in. Left out for an inline or remote fan that is reached by a run; with one room and no run into the fan it is that room."),
        key("model", Shape::Model, r#""quiet-80""#, "Id of a fan in a library.",),
        ;
        key("running", Shape::YesNo, "true", "Whether it runs in the reference case; an idle second fan is `false`."),
        key("over_tub_or_shower", Shape::YesNo, "false", "Whether it hangs over a tub or shower."),
        key("control", Shape::Choice(words_of::<Control>), r#""timer""#, "What switches it."),
        key("settings", Shape::One(&FAN_SETTINGS), r#"{ on_at = "60 %", band = "5 %", run_on = "20 min" }"#, "How that control is set."),
        key("at", Shape::Place(2), r#"["4 ft 8 in", "2 ft 6 in"]"#, "Where the middle of its housing is, where that is settled."),
        key("rotation", quantity::<Angle>(0.0, 6.3, 0.0, 6.3), r#""90 deg""#, "How far its housing is turned against the clock, seen from above; at 0 its length lies along x and the collar looks to greater x (end) or greater y (flank)."),
    ],
};

static FAN_SETTINGS: Table = Table {
    name: "fan_settings",
    written: "[fan.settings]",
    doc: "How the control of the fan is set. Read the dials; what cannot be read is left out.",
    keys: &[
        key(
            "on_at",
            quantity::<Humidity>(0.01, 1.0, 0.4, 0.9),
            r#""60 %""#,
            "Humidity at which it switches on.",
        ),
        key(
            "band",
            POINTS,
            r#""5 %""#,
            "How far below that it switches off, in points of humidity.",
        ),
        key(
            "rise",
            POINTS,
            r#""10 %""#,
            "Rise above what it was before at which it switches on, in points of humidity.",
        ),
        key(
            "sampling",
            quantity::<Duration>(0.001, 3600.0, 0.5, 300.0),
            r#""30 s""#,
            "Time between two looks of the sensor.",
        ),
        key(
            "lag",
            quantity::<Duration>(0.0, 7200.0, 5.0, 1200.0),
            r#""90 s""#,
            "Time in which the sensor follows 63 % of a step.",
        ),
        key("sensor", Shape::Choice(words_of::<SensorPlace>), r#""wall""#, "Where the sensor is."),
        key(
            "run_on",
            quantity::<Duration>(0.0, 86400.0, 0.0, 7200.0),
            r#""20 min""#,
            "How long it runs on after what switched it on has ended.",
        ),
        key(
            "max_run",
            quantity::<Duration>(1.0, 86400.0, 300.0, 43200.0),
            r#""60 min""#,
            "Longest time it runs in one go.",
        ),
        key(
            "low_flow",
            quantity::<Ratio>(0.0, 1.0, 0.05, 1.0),
            "0.4",
            "Flow between uses, as a share of its full flow: always on, with a boost.",
        ),
        key(
            "off_delay",
            quantity::<Duration>(0.0, 86400.0, 0.0, 7200.0),
            r#""15 min""#,
            "Time after which an occupancy sensor takes the room as left.",
        ),
    ],
};

static JUNCTION: Table = Table {
    name: "junction",
    written: "[[junction]]",
    doc: "A point where runs meet.",
    keys: &[
        key(
            "id",
            Shape::Id,
            r#""wye""#,
            "Stable id; may be left out when there is only one junction.",
        ),
        key("kind", Shape::Choice(words_of::<JunctionKind>), r#""wye""#, "What it is."),
    ],
};

/// Keys of a duct, which a run, a piece and a library duct share.
macro_rules! duct_keys {
    ($($first:expr,)*; $($last:expr),* $(,)?) => {
        &[
            $($first,)*
            key("size", Shape::Size, r#""4 in""#, "Inside size: round by its diameter, rectangular `3-1/4 x 10 in`, flat oval `oval 3 x 7 in`, several `3 in or 4 in`, or unknown."),
            key("pulled", Shape::Choice(words_of::<Pull>), r#""normal""#, "How flexible duct was pulled."),
            key("compression", quantity::<Ratio>(0.0, 0.9, 0.0, 0.5), "0.15", "Share of its length that flexible duct is pushed together, where measured."),
            key("roughness", quantity::<Length>(0.0, 0.02, 0.0, 0.01), r#""0.09 mm""#, "Wall roughness, where measured or stated."),
            key("place", Shape::Choice(words_of::<Surroundings>), r#""attic""#, "What surrounds it."),
            key("insulation", quantity::<ThermalResistance>(0.0, 20.0, 0.0, 10.0), r#""R-8""#, "Insulation around it."),
            key("support_spacing", quantity::<Length>(0.05, 20.0, 0.2, 4.0), r#""4 ft""#, "Distance between supports."),
            key("wall", quantity::<Length>(0.00005, 0.5, 0.0001, 0.02), r#""0.4 mm""#, "Wall thickness of metal duct."),
            key("jacket", Shape::Choice(words_of::<Jacket>), r#""foil""#, "Outside of its insulation."),
            $($last,)*
        ]
    };
}

/// Which way a duct falls; known of a duct in place, not of one in a library.
const SLOPE: Key = key(
    "slope",
    Shape::Choice(words_of::<SlopeTo>),
    r#""to outdoors""#,
    "Which way it falls: where water that settles in it runs to.",
);
/// Loose fill above a duct in place.
const COVER: Key = key(
    "cover",
    quantity::<Length>(0.0, 5.0, 0.0, 0.8),
    r#""8 in""#,
    "Loose fill above the top of a buried duct.",
);
/// Squeezed insulation of a duct in place.
const COMPRESSED: Key = key(
    "compressed",
    SHARE,
    "0.2",
    "Share of its length where the insulation is squeezed flat between joists, straps or boards.",
);

static RUN: Table = Table {
    name: "run",
    written: "[[run]]",
    doc: "A run of duct, in the direction of the air. Describe it by its sum (`length`, `elbows`), or part by part with [[run.part]], never both. What is written of the duct here holds for every part that does not say otherwise; pull, compression, roughness and wall go only to parts of the same kind of duct.",
    keys: duct_keys![
        key("id", Shape::Id, r#""attic""#, "Stable id; may be left out when there is only one run."),
        key("from", Shape::Reference("fan, grille or junction"), r#""fan""#, "Id of the fan, grille or junction where air enters; may be left out when there is one run and one fan."),
        key("to", Shape::Reference("terminal, fan or junction"), r#""cap""#, "Id of the terminal, fan or junction where air leaves; may be left out when there is one run and at most one terminal."),
        key("duct", Shape::Choice(words_of::<DuctKind>), r#""flex""#, "Kind of duct."),
        key("duct_model", Shape::Model, r#""flex-4-r8""#, "Id of a duct in a library."),
        ;
        key("length", RUN_LENGTH, r#""12 ft""#, "Total length along the duct."),
        key("elbows", Shape::Count(60, 12), "2", "90 degree elbows."),
        key("elbow_make", Shape::Choice(words_of::<ElbowMake>), r#""adjustable""#, "How the elbows are made."),
        key("rise", Shape::SignedLength(Limits { possible: [-100.0, 100.0], usual: [-30.0, 30.0] }), r#""6 ft""#, "Rise from start to end; a fall is negative."),
        key("seen", Shape::YesNo, "true", "Whether the whole run was seen."),
        key("sealed", Shape::YesNo, "true", "Whether its joints are sealed."),
        SLOPE,
        COVER,
        COMPRESSED,
        key("part", Shape::Many(&PART), r#"{ id = "p1", piece = { length = "6 ft" } }"#, "One part of the run."),
    ],
};

static PART: Table = Table {
    name: "part",
    written: "[[run.part]]",
    doc: "One part of a run, in the direction of the air. Exactly one of the keys beside `id` says what it is.",
    keys: &[
        key(
            "id",
            Shape::Id,
            r#""p1""#,
            "Stable id within the run; part-1, part-2, … when left out.",
        ),
        key(
            "piece",
            Shape::One(&PIECE),
            r#"{ length = "6 ft", duct = "flex" }"#,
            "A straight piece, or a length of flexible duct.",
        ),
        key(
            "elbow",
            Shape::One(&ELBOW),
            r#"{ make = "adjustable", angle = "90 deg" }"#,
            "An elbow.",
        ),
        key(
            "transition",
            Shape::One(&TRANSITION),
            r#"{ to = "6 in", shape = "cone" }"#,
            "A change of section.",
        ),
        key("damper", Shape::One(&DAMPER), r#"{ kind = "backdraft" }"#, "A damper in the run."),
        key("crush", Shape::One(&CRUSH), "{ open = 0.6 }", "A crushed or kinked place."),
        key(
            "trap",
            Shape::One(&TRAP),
            "{}",
            "A trap or drain for the water that settles in the duct; there is nothing more to say of it.",
        ),
        key(
            "other",
            Shape::One(&OTHER),
            r#"{ name = "silencer", point = "80 cfm at 12 Pa" }"#,
            "Anything else with a known loss.",
        ),
    ],
};

static PIECE: Table = Table {
    name: "piece",
    written: "piece = { … }",
    doc: "A straight piece or a length of flexible duct; what is not written is taken from the run.",
    keys: duct_keys![
        key("length", RUN_LENGTH, r#""6 ft""#, "Length along the duct."),
        key("duct", Shape::Choice(words_of::<DuctKind>), r#""flex""#, "Kind of duct."),
        key("duct_model", Shape::Model, r#""flex-4-r8""#, "Id of a duct in a library."),
        ;
        SLOPE,
        COVER,
        COMPRESSED,
    ],
};

static ELBOW: Table = Table {
    name: "elbow",
    written: "elbow = { … }",
    doc: "An elbow.",
    keys: &[
        key("make", Shape::Choice(words_of::<ElbowMake>), r#""adjustable""#, "How it is made."),
        key("angle", quantity::<Angle>(0.0, 3.2, 0.17, 1.75), r#""90 deg""#, "Angle."),
        key(
            "radius",
            quantity::<Ratio>(0.3, 20.0, 0.5, 5.0),
            "1.0",
            "Centre-line radius over diameter.",
        ),
        key("size", Shape::Size, r#""4 in""#, "Inside size."),
    ],
};

static TRANSITION: Table = Table {
    name: "transition",
    written: "transition = { … }",
    doc: "A change of section.",
    keys: &[
        key("to", Shape::Size, r#""6 in""#, "Section it goes to."),
        key(
            "angle",
            quantity::<Angle>(0.0, 3.2, 0.05, 3.2),
            r#""30 deg""#,
            "Included angle of a cone.",
        ),
        key(
            "shape",
            Shape::Choice(words_of::<TransitionShape>),
            r#""cone""#,
            "Abrupt step or cone.",
        ),
    ],
};

static DAMPER: Table = Table {
    name: "damper",
    written: "damper = { … }",
    doc: "A damper in the run.",
    keys: &[
        key("kind", Shape::Choice(words_of::<DamperKind>), r#""backdraft""#, "What kind."),
        key(
            "angle",
            quantity::<Angle>(0.0, 1.6, 0.0, 1.3),
            r#""20 deg""#,
            "Blade angle of a balancing damper; 0 is open.",
        ),
        key("size", Shape::Size, r#""4 in""#, "Inside size."),
    ],
};

static CRUSH: Table = Table {
    name: "crush",
    written: "crush = { … }",
    doc: "A crushed or kinked place.",
    keys: &[
        key(
            "open",
            quantity::<Ratio>(0.01, 1.0, 0.05, 1.0),
            "0.6",
            "Share of the area that is left.",
        ),
        key("size", Shape::Size, r#""4 in""#, "Inside size."),
    ],
};

static TRAP: Table = Table {
    name: "trap",
    written: "trap = {}",
    doc: "A trap or drain for the water that settles in the duct, at its low point. It takes no keys.",
    keys: &[],
};

static OTHER: Table = Table {
    name: "other",
    written: "other = { … }",
    doc: "Anything else with a known loss.",
    keys: &[
        must("name", Shape::Text, r#""silencer""#, "What it is, for people."),
        must("point", Shape::Point, r#""80 cfm at 12 Pa""#, "Flow at pressure loss."),
    ],
};

static TERMINAL: Table = Table {
    name: "terminal",
    written: "[[terminal]]",
    doc: "Where air leaves. Look at it first: a stuck flap or a clogged screen is the cheapest thing to find.",
    keys: &[
        key(
            "id",
            Shape::Id,
            r#""cap""#,
            "Stable id; may be left out when there is only one terminal.",
        ),
        key("kind", Shape::Choice(words_of::<TerminalKind>), r#""wall cap""#, "What it is."),
        key("model", Shape::Model, r#""wall-cap-4""#, "Id of a terminal in a library."),
        key("size", Shape::Size, r#""4 in""#, "Size of its collar."),
        key("flap", Shape::YesNo, "true", "Whether it has a flap."),
        key("flap_opens", Shape::YesNo, "true", "Whether the flap was seen to open fully."),
        key("screen", Shape::Choice(words_of::<Screen>), r#""none""#, "Screen."),
        key("clogged", SHARE, "0.3", "Share of the screen that is clogged."),
        key(
            "point",
            Shape::Point,
            r#""80 cfm at 15 Pa""#,
            "A measured or maker's point: flow at pressure loss.",
        ),
        key("leak", FLAP_LEAK, r#""1 in2""#, "Free area past the closed flap."),
        key(
            "clear",
            Shape::One(&CLEAR),
            r#"{ opening = "5 ft" }"#,
            "Distances to what it must keep away from.",
        ),
    ],
};

static CLEAR: Table = Table {
    name: "clear",
    written: "[terminal.clear]",
    doc: "Distances of the terminal to what it must keep away from.",
    keys: &[
        key(
            "opening",
            DISTANCE,
            r#""5 ft""#,
            "To the nearest window or door that opens, or gravity air inlet.",
        ),
        key(
            "above_opening",
            Shape::SignedLength(Limits { possible: [-100.0, 100.0], usual: [-30.0, 30.0] }),
            r#""2 ft""#,
            "How far above that opening the terminal is; below is negative.",
        ),
        key("intake", DISTANCE, r#""12 ft""#, "To the nearest mechanical air intake."),
        key(
            "above_intake",
            Shape::SignedLength(Limits { possible: [-100.0, 100.0], usual: [-30.0, 30.0] }),
            r#""3 ft""#,
            "How far above that intake the terminal is; below is negative.",
        ),
        key("property_line", DISTANCE, r#""6 ft""#, "To the property line."),
        key("onto_walkway", Shape::YesNo, "false", "Whether it blows onto a walkway."),
        key("above_grade", DISTANCE, r#""8 ft""#, "Above grade."),
        key("soffit_vent", DISTANCE, r#""3 ft""#, "To the nearest vented soffit opening."),
    ],
};

static READING: Table = Table {
    name: "reading",
    written: "[[reading]]",
    doc: "A measured flow or pressure.",
    keys: &[
        key(
            "id",
            Shape::Id,
            r#""r1""#,
            "Stable id; may be left out when there is only one reading.",
        ),
        must(
            "at",
            Shape::Reference("room, grille, fan or terminal"),
            r#""fan""#,
            "Id of the room, grille, fan or terminal.",
        ),
        key("airflow", quantity::<Airflow>(0.0, 3.0, 0.0, 0.5), r#""42 cfm""#, "Measured flow."),
        key(
            "pressure",
            quantity::<Pressure>(-3000.0, 3000.0, -500.0, 500.0),
            r#""18 Pa""#,
            "Measured static pressure of the duct against the room.",
        ),
        key(
            "method",
            Shape::Choice(words_of::<Method>),
            r#""orifice box""#,
            "How it was measured.",
        ),
        key(
            "state",
            Shape::Choice(words_of::<BuildState>),
            r#""before""#,
            "Measured before or after the work.",
        ),
    ],
};

static SYMPTOM: Table = Table {
    name: "symptom",
    written: "[[symptom]]",
    doc: "Something seen or told.",
    keys: &[
        key(
            "id",
            Shape::Id,
            r#""s1""#,
            "Stable id; may be left out when there is only one symptom.",
        ),
        must("kind", Shape::Word(words_of::<SymptomKind>), r#""drip""#, "What was seen or told."),
        key("when", Shape::Text, r#""at the first thaw""#, "When it happens, in your words."),
        key(
            "season",
            Shape::Choice(words_of::<Season>),
            r#""winter""#,
            "In which season it happens; `any` for all year.",
        ),
        key("rain", Shape::YesNo, "false", "Whether it happens only in rain or in a thaw."),
        key("fan_on", Shape::YesNo, "true", "Whether it goes with the use of the fan."),
        key(
            "wet",
            Shape::Choice(words_of::<WetSide>),
            r#""inside""#,
            "On which side the duct is wet.",
        ),
        key("note", Shape::Text, r#""stain is as large as a plate""#, "Free note."),
        key("photo", Shape::Text, r#""IMG_0012.jpg""#, "Photo by name."),
    ],
};

static EXISTING: Table = Table {
    name: "existing",
    written: "[existing]",
    doc: "What is there and may have to stay when an old fan is swapped. Wiring is checked with the circuit dead; leave it to a licensed electrician where the local rules say so.",
    keys: &[
        key(
            "opening",
            Shape::Sides(2),
            r#""8 in x 8-1/4 in""#,
            "Opening in the ceiling: two sides.",
        ),
        key(
            "depth",
            quantity::<Length>(0.01, 10.0, 0.08, 2.0),
            r#""7-1/2 in""#,
            "Room above the ceiling face.",
        ),
        key("collar", Shape::Size, r#""3 in""#, "Collar or duct that stays."),
        key(
            "wire",
            quantity::<Conductor>(0.05, 200.0, 0.75, 10.0),
            r#""14 AWG""#,
            "Wire that is there.",
        ),
        key("neutral", Shape::YesNo, "true", "Whether the box has a neutral."),
        key("access_above", Shape::YesNo, "false", "Whether one can get at it from above."),
        key("duct_stays", Shape::YesNo, "true", "Whether the hidden duct has to stay."),
    ],
};

static SCENARIO: Table = Table {
    name: "scenario",
    written: "[[scenario]]",
    doc: "Weather and use other than the reference case (calm, doors shut, fans on).",
    keys: &[
        key(
            "id",
            Shape::Id,
            r#""gale""#,
            "Stable id; may be left out when there is only one scenario.",
        ),
        key(
            "wind",
            quantity::<Velocity>(0.0, 90.0, 0.0, 35.0),
            r#""25 mph""#,
            "Wind speed at the terminal.",
        ),
        key(
            "facing",
            Shape::Choice(words_of::<Facing>),
            r#""windward""#,
            "Which way the terminal faces.",
        ),
        key(
            "outdoor",
            quantity::<Temperature>(203.15, 333.15, 228.15, 323.15),
            r#""10 F""#,
            "Outdoor temperature.",
        ),
        key(
            "doors",
            Shape::Choice(words_of::<DoorState>),
            r#""shut""#,
            "Doors of the served rooms.",
        ),
        key("off", Shape::References("fan"), r#"["fan"]"#, "Ids of fans that are off."),
    ],
};

static OVERRIDE: Table = Table {
    name: "override",
    written: "[[override]]",
    doc: "A finding that you override. The reason is printed with the finding.",
    keys: &[
        must("finding", Shape::Text, r#""duct.length.table""#, "Id of the finding."),
        key(
            "subject",
            Shape::Text,
            r#""attic""#,
            "Id of the subject, when only one of several is meant.",
        ),
        must(
            "reason",
            Shape::Text,
            r#""the maker's duct sheet allows it; copy on file""#,
            "Why; printed with the finding.",
        ),
    ],
};

static BUILT: Table = Table {
    name: "built",
    written: "[[built]]",
    doc: "A value that was found different when built.",
    keys: &[
        must(
            "at",
            Shape::Text,
            r#""run.attic.length""#,
            "Where, as a path by ids: `run.attic.length`, `fan.fan.model`, `run.attic.part.p2.elbow.angle`.",
        ),
        must("value", Shape::Text, r#""14 ft""#, "The value as it would stand in the file."),
        key("date", Shape::Text, r#""2026-03-02""#, "When it was seen."),
        key("photo", Shape::Text, r#""IMG_0040.jpg""#, "Photo by name."),
    ],
};

static SETTINGS: Table = Table {
    name: "settings",
    written: "[settings]",
    doc: "How verdicts are drawn.",
    keys: &[
        key(
            "holds_at",
            Shape::Number(0.5, 1.0),
            "0.90",
            "A check holds at this chance or more; 0.90 when left out.",
        ),
        key(
            "fails_at",
            Shape::Number(0.0, 0.5),
            "0.10",
            "A check fails at this chance or less; 0.10 when left out.",
        ),
        key("draws", Shape::Number(16.0, 65536.0), "1024", "How many draws; 1024 when left out."),
    ],
};

/// What may stand instead of a plain value, to say where it comes from.
pub(crate) static STATED: Table = Table {
    name: "value",
    written: "{ value = … }",
    doc: "Any value may be a table that says where it comes from.",
    keys: &[
        must("value", Shape::Text, r#""8 ft""#, "The value."),
        key(
            "origin",
            Shape::Text,
            r#""measured""#,
            "`measured`, `label` or `assumed`; a plain value counts as written without saying how it was found.",
        ),
        key("on", Shape::Text, r#""2026-03-02""#, "The day it was found."),
        key("photo", Shape::Text, r#""IMG_0012.jpg""#, "Photo by name."),
        key("note", Shape::Text, r#""at the low end of the slope""#, "Free note."),
    ],
};

/// A library file.
pub(crate) static LIBRARY: Table = Table {
    name: "",
    written: "the top of the library file",
    doc: "Fans, terminals and ducts that you keep.",
    keys: &[
        key("format", Shape::Format, "1", "Version of the library format."),
        key("name", Shape::Text, r#""Van stock""#, "What you call the library."),
        key("notes", Shape::Texts, r#"["prices live elsewhere"]"#, "Free notes."),
        key(
            "fan",
            Shape::Many(&LIBRARY_FAN),
            r#"{ id = "quiet-80", rated = "80 cfm at 0.1 inWC" }"#,
            "A fan.",
        ),
        key(
            "terminal",
            Shape::Many(&LIBRARY_TERMINAL),
            r#"{ id = "wall-cap-4", kind = "wall cap", size = "4 in" }"#,
            "A terminal.",
        ),
        key(
            "duct",
            Shape::Many(&LIBRARY_DUCT),
            r#"{ id = "flex-4-r8", kind = "flex", size = "4 in" }"#,
            "A duct.",
        ),
    ],
};

/// A fan in a library; the columns of a CSV library have the same names.
pub(crate) static LIBRARY_FAN: Table = Table {
    name: "fan",
    written: "[[fan]] of a library",
    doc: "A fan in a library. Values count as read from a label or data sheet.",
    keys: fan_keys![
        must("id", Shape::Id, r#""quiet-80""#, "Model id, by which a job names it."),
        key("name", Shape::Text, r#""Quiet 80""#, "Name for people."),
        ;
    ],
};

static LIBRARY_TERMINAL: Table = Table {
    name: "terminal",
    written: "[[terminal]] of a library",
    doc: "A terminal in a library.",
    keys: &[
        must("id", Shape::Id, r#""wall-cap-4""#, "Model id, by which a job names it."),
        must("kind", Shape::Word(words_of::<TerminalKind>), r#""wall cap""#, "What it is."),
        key("size", Shape::Size, r#""4 in""#, "Size of its collar."),
        key("flap", Shape::YesNo, "true", "Whether it has a flap."),
        key("screen", Shape::Choice(words_of::<Screen>), r#""none""#, "Screen."),
        key("point", Shape::Point, r#""80 cfm at 15 Pa""#, "Flow at pressure loss."),
        key("leak", FLAP_LEAK, r#""1 in2""#, "Free area past the closed flap."),
    ],
};

static LIBRARY_DUCT: Table = Table {
    name: "duct",
    written: "[[duct]] of a library",
    doc: "A duct in a library.",
    keys: duct_keys![
        must("id", Shape::Id, r#""flex-4-r8""#, "Model id, by which a job names it."),
        key("kind", Shape::Choice(words_of::<DuctKind>), r#""flex""#, "Kind of duct."),
        ;
    ],
};
