//! What the stage asks of the job: how a room is used, what is in it, how its fan is switched.

use dewpath_case::defaults;
use dewpath_case::given;
use dewpath_case::inputs::{Ask, CategoryInput, Draw, Fallback, InputId, Inputs};
use dewpath_case::sample::airflow;
use dewpath_job::model::{
    Control, DoorHabit, Fan, FanHabit, Finish, Given, GivenCount, Glazing, Job, Room, RoomKind,
    SensorPlace, SurfaceKind, Surroundings, Usage,
};
use dewpath_message::Citation;
use dewpath_moisture::weather::Weather;
use dewpath_report::say::{Judgement, SourceText, What};
use dewpath_report::{Figure, Message, Source, Triple};
use dewpath_units::{
    Area, Duration, Humidity, Length, Mass, MassFlow, Origin, Power, Quantity, Ratio, Stated,
    Temperature, Uncertain, Volume, sort,
};

use super::winter;

/// A shower whose length nobody wrote, min: the middle of its default.
const DESIGN_SHOWER_MIN: f64 = 10.0;
/// Temperature of a dwelling whose own nobody wrote, °C: the middle of its default.
const HOUSE_C: f64 = 22.5;

/// Minutes to look at or ask about a thing. Judgement.
mod minutes {
    pub(super) const ASK: f64 = 2.0;
    pub(super) const LOOK: f64 = 3.0;
    pub(super) const TAPE: f64 = 2.0;
    pub(super) const LABEL: f64 = 5.0;
    pub(super) const NOT_ON_SITE: f64 = 60.0;
}

/// How a room that is showered in is used and built.
#[derive(Debug, Clone)]
pub(crate) struct RoomPlan {
    /// Index in the job.
    pub room: usize,
    /// Fans that draw from it.
    pub fans: Vec<usize>,
    /// Showers one after the other in the design day.
    pub showers: InputId,
    /// Length of each, s.
    pub length: InputId,
    /// Pause between them, s.
    pub gap: InputId,
    /// Water of the head, m³/s.
    pub water: InputId,
    /// Its temperature, K.
    pub water_k: InputId,
    /// Vapour while it runs where it is written, kg/s.
    pub vapour: Option<InputId>,
    /// Place in the published spread of the source, 0 to 1.
    pub source_band: InputId,
    /// Heater of the room that is on while somebody showers, where it is written, W.
    pub heater: Option<InputId>,
    /// Temperature of the room when nobody showers, K; none where it is that of the dwelling.
    pub room_k: Option<InputId>,
    /// Humidity of the exhaust over that of the room.
    pub mixing: InputId,
    /// What happens with the door, and how long after a shower it opens where it does, s.
    pub door: CategoryInput<DoorHabit>,
    pub door_after: InputId,
    /// The other habit, told beside this one: a scenario, and no lack of knowledge.
    pub other_door: Option<CategoryInput<DoorHabit>>,
    /// Surfaces, the lining first.
    pub surfaces: Vec<SurfacePlan>,
    /// What lines walls and ceiling.
    pub finish: CategoryInput<Finish>,
    /// Area of the lining where it is written, m².
    pub lining: Option<InputId>,
    /// Dry towels and mats, kg.
    pub textiles: InputId,
    /// How the fan is switched.
    pub control: ControlPlan,
    /// Film at which a mirror counts as clear, place in its band.
    pub clear_band: InputId,
    /// Height of the room, m.
    pub height: InputId,
}

/// A surface of a room.
#[derive(Debug, Clone)]
pub(crate) struct SurfacePlan {
    /// What it is; none for the lining.
    pub kind: Option<SurfaceKind>,
    /// Area, m²; none for the lining, which follows from the room.
    pub area: Option<InputId>,
    /// Resistance from its face to the other side, m²K/W.
    pub resistance: InputId,
    /// Whether the other side is outdoors (or an unheated space).
    pub outdoors: CategoryInput<bool>,
    /// Electric heat in it, W.
    pub heated: Option<InputId>,
}

/// How the fan of a room is switched.
#[derive(Debug, Clone)]
pub(crate) struct ControlPlan {
    /// Kind of control.
    pub kind: CategoryInput<Control>,
    /// Habit with the switch.
    pub habit: CategoryInput<FanHabit>,
    /// How long it is left on, s.
    pub leave_on: InputId,
    /// Run-on, s.
    pub run_on: InputId,
    /// Set-point, share; none where only a rise is set.
    pub on_at: Option<InputId>,
    /// Dead band, share.
    pub band: InputId,
    /// Rise, share.
    pub rise: Option<InputId>,
    /// Sampling, s.
    pub sampling: InputId,
    /// Lag, s.
    pub lag: InputId,
    /// Where the sensor is.
    pub sensor: CategoryInput<SensorPlace>,
    /// Longest run, s.
    pub max_run: Option<InputId>,
    /// Trickle, share.
    pub low_flow: Option<InputId>,
    /// Occupancy off-delay, s.
    pub off_delay: InputId,
    /// Fan power, W, where it is written.
    pub power_w: Option<f64>,
}

/// The dwelling around the rooms.
#[derive(Debug, Clone)]
pub(crate) struct DwellingPlan {
    /// Outdoor temperature of the design day, K.
    pub outdoor: InputId,
    /// Outdoor relative humidity of the design day.
    pub outdoor_rh: InputId,
    /// Relative humidity in the dwelling on the design day.
    pub humidity: InputId,
    /// Volume, m³.
    pub volume: InputId,
    /// Air leakage of the dwelling.
    pub leak: dewpath_case::system::spec::Spec,
    /// Moisture given off in it in a day apart from showers, kg.
    pub moisture: InputId,
    /// Two-way exchange through a shut door while the fan rests, m³/s.
    pub idle_door: InputId,
    /// Two-way exchange through an open door, m³/s.
    pub open_door: InputId,
    /// Air that drifts up an idle duct, m³/s.
    pub idle_duct: InputId,
    /// Cold water, K.
    pub cold_water: InputId,
}

/// Everything the stage asks for.
#[derive(Debug, Clone)]
pub(crate) struct Plan {
    /// Rooms that are showered or bathed in.
    pub rooms: Vec<RoomPlan>,
    /// The dwelling.
    pub dwelling: DwellingPlan,
    /// Everything that was asked, with its draws.
    pub inputs: Inputs,
}

impl Plan {
    /// Asks for everything, where any room is showered in, and puts it with what `inputs` hold.
    pub(crate) fn of(job: &Job, weather: Option<&Weather>, mut inputs: Inputs) -> Option<Self> {
        let wet: Vec<usize> =
            (0..job.rooms.len()).filter(|&room| is_showered_in(&job.rooms[room])).collect();
        if wet.is_empty() {
            return None;
        }
        let rooms = wet.into_iter().map(|room| room_plan(job, room, &mut inputs)).collect();
        let dwelling = dwelling_plan(job, weather, &mut inputs);
        Some(Self { rooms, dwelling, inputs })
    }
}

/// Whether somebody showers or bathes in a room: by its use, its fixtures, or its kind where nobody said.
fn is_showered_in(room: &Room) -> bool {
    let some = |count: &GivenCount| given::count_bounds(count).map(|(_, most)| most > 0);
    let known = [
        some(&room.usage.showers),
        some(&room.usage.baths),
        some(&room.fixtures.showers),
        some(&room.fixtures.tubs),
        some(&room.fixtures.jetted_tubs),
    ];
    // Whoever writes that nobody showers means it, whatever fixtures there are.
    if known[0] == Some(false) && known[1] != Some(true) {
        return false;
    }
    if known.contains(&Some(true)) {
        return true;
    }
    let unknown = known.contains(&None);
    unknown && matches!(room.kind, RoomKind::Bathroom | RoomKind::SteamShower)
}

fn ask(at: String, what: What, minutes: f64) -> Ask<'static> {
    Ask { at, stream: None, what: Message::from(what), minutes }
}

fn range(low: f64, high: f64, source: Source) -> Fallback {
    Fallback::even(low, high, source)
}

fn time(t: Triple) -> Figure {
    Figure::TimeH(t.map(|s| s / 3600.0))
}

fn celsius(t: Triple) -> Figure {
    Figure::TemperatureC(t.map(|k| k - 273.15))
}

/// Nothing is written: for what a job cannot say yet.
fn nothing<Q: Quantity>() -> Given<Q> {
    None
}

fn written<Q: Quantity>(value: Q) -> Stated<Uncertain<Q>> {
    Stated {
        value: Uncertain::Exact(value),
        origin: Origin::Assumed,
        date: None,
        photo: None,
        note: None,
    }
}

fn room_plan(job: &Job, index: usize, inputs: &mut Inputs) -> RoomPlan {
    let room = &job.rooms[index];
    let usage = &room.usage;
    let at = |key: &str| format!("room.{}.use.{key}", room.id);
    let fans = (0..job.fans.len())
        .filter(|&fan| dewpath_case::system::rooms_of_fan(job, fan).contains(&index))
        .collect::<Vec<_>>();
    let showers = showers_input(room, inputs);
    let length = inputs.quantity(
        &ask(at("minutes"), What::ShowerLength, minutes::ASK),
        &usage.minutes,
        time,
        &range(480.0, 720.0, Source::judgement(Judgement::DesignShower)),
    );
    let gap = inputs.quantity(
        &ask(at("gap"), What::ShowerGap, minutes::ASK),
        &gap_of(usage),
        time,
        &range(300.0, 900.0, Source::judgement(Judgement::BetweenShowers)),
    );
    let litre = |q: f64| q / 60_000.0;
    let water = inputs.quantity(
        &ask(at("water"), What::ShowerWater, minutes::LOOK),
        &usage.water,
        |t| Figure::WaterLS(t.map(|q| q * 1000.0)),
        &range(litre(7.0), litre(10.0), Source::practice()),
    );
    let water_k = inputs.quantity(
        &ask(at("water_temperature"), What::ShowerTemperature, minutes::LOOK),
        &usage.water_temperature,
        celsius,
        &range(311.15, 315.15, Source::judgement(Judgement::ShowerWarmth)),
    );
    let vapour = inputs.where_written::<MassFlow>(
        &ask(at("vapour"), What::ShowerVapour, minutes::NOT_ON_SITE),
        &usage.vapour,
        Figure::MassKgS,
    );
    let source_band = inputs.band(
        &ask(at("source"), What::ShowerSourceBand, minutes::NOT_ON_SITE),
        &Source::confirmed(Citation("IEA SHC solar housing handbook"), SourceText::ShowerRow),
    );
    let heater = inputs.where_written::<Power>(
        &ask(format!("room.{}.heater", room.id), What::RoomHeater, minutes::LABEL),
        &room.heater,
        Figure::PowerW,
    );
    let room_k = inputs.where_written::<Temperature>(
        &ask(format!("room.{}.temperature", room.id), What::RoomTemperature, minutes::LOOK),
        &room.temperature,
        celsius,
    );
    let mixing = inputs.quantity(
        &ask(format!("room.{}.mixing", room.id), What::Mixing, minutes::NOT_ON_SITE),
        &room.mixing,
        Figure::FactorRatio,
        &range(1.0, 1.0, Source::judgement(Judgement::WellMixed)),
    );
    let door = inputs.category(
        &ask(at("door"), What::DoorHabit, minutes::ASK),
        &usage.door,
        &[DoorHabit::OpenAfter],
        &Source::judgement(Judgement::DoorOpened),
    );
    let other_door = match door.known() {
        Some(DoorHabit::OpenAfter) => Some(CategoryInput::settled(inputs, DoorHabit::Shut)),
        Some(DoorHabit::Shut) => Some(CategoryInput::settled(inputs, DoorHabit::OpenAfter)),
        Some(DoorHabit::Open) | None => None,
    };
    let door_after = inputs.quantity(
        &ask(at("door_after"), What::DoorAfter, minutes::ASK),
        &usage.door_after,
        time,
        &range(120.0, 1200.0, Source::judgement(Judgement::DriesAndDresses)),
    );
    let finish = inputs.category(
        &ask(format!("room.{}.finish", room.id), What::Finish, minutes::LOOK),
        &room.finish,
        &[Finish::Latex],
        &Source::practice(),
    );
    let lining = inputs.where_written::<Area>(
        &ask(format!("room.{}.finish_area", room.id), What::FinishArea, minutes::TAPE),
        &room.finish_area,
        Figure::AreaM2,
    );
    let textiles = inputs.quantity::<Mass>(
        &ask(format!("room.{}.textiles", room.id), What::Textiles, minutes::LOOK),
        &room.textiles,
        Figure::MassKg,
        &range(0.5, 2.0, Source::judgement(Judgement::TowelsAndMat)),
    );
    let height = inputs.quantity::<Length>(
        &ask(format!("room.{}.height", room.id), What::RoomHeight, minutes::TAPE),
        &room.height,
        Figure::LengthM,
        &defaults::storey_height_m(),
    );
    let clear_band = inputs.band(
        &ask(format!("room.{}.mirror-clear", room.id), What::ClearFilm, minutes::NOT_ON_SITE),
        &Source::judgement(Judgement::MirrorHaze),
    );
    RoomPlan {
        room: index,
        control: control_plan(job, room, &fans, inputs),
        fans,
        showers,
        length,
        gap,
        water,
        water_k,
        vapour,
        source_band,
        heater,
        room_k,
        mixing,
        door,
        door_after,
        other_door,
        surfaces: surface_plans(room, inputs),
        finish,
        lining,
        textiles,
        clear_band,
        height,
    }
}

/// Showers in a day, as many as have a time where nobody counts them; a bath alone counts as one with a source of its own.
fn showers_input(room: &Room, inputs: &mut Inputs) -> InputId {
    let timed = room.usage.at.len().max(1) as f64;
    inputs.count(
        &ask(format!("room.{}.use.showers", room.id), What::Showers, minutes::ASK),
        &room.usage.showers,
        &range(timed, timed, Source::judgement(Judgement::OneShower)),
    )
}

/// The pause between two showers: as written, else the shortest that the times of the showers leave.
fn gap_of(usage: &Usage) -> Given<Duration> {
    if given::is_known(&usage.gap) {
        return usage.gap.clone();
    }
    let mut starts: Vec<f64> = usage.at.iter().map(|at| f64::from(at.minutes())).collect();
    sort::by(&mut starts, f64::total_cmp);
    let length = given::likely(&usage.minutes).map_or(DESIGN_SHOWER_MIN, |time| time.s() / 60.0);
    let pauses = starts.windows(2).map(|pair| pair[1] - pair[0] - length);
    let shortest = pauses.fold(f64::INFINITY, f64::min);
    let is_timed = shortest.is_finite();
    let pause = Duration::from_s(60.0 * shortest.max(0.0));
    if is_timed { Some(written(pause)) } else { usage.gap.clone() }
}

fn surface_plans(room: &Room, inputs: &mut Inputs) -> Vec<SurfacePlan> {
    let mut plans = vec![lining(room, inputs)];
    for surface in &room.surfaces {
        let at = |key: &str| format!("room.{}.surface.{}.{key}", room.id, surface.id);
        let (area, resistance, usual_side) = usual(surface.kind, given::member(&surface.glazing));
        let other_side = given::options(&surface.other_side);
        let outdoors = if other_side.is_empty() {
            vec![usual_side]
        } else {
            let mut sides: Vec<bool> = other_side
                .iter()
                .map(|s| !matches!(s, Surroundings::Heated | Surroundings::JoistBay))
                .collect();
            sides.dedup();
            sides
        };
        // What is usually inside has the wall behind it where it hangs outside.
        let resistance =
            if !usual_side && outdoors.contains(&true) { outside_wall() } else { resistance };
        plans.push(SurfacePlan {
            kind: Some(surface.kind),
            area: Some(inputs.quantity::<Area>(
                &ask(at("area"), What::SurfaceArea, minutes::TAPE),
                &surface.area,
                Figure::AreaM2,
                &area,
            )),
            resistance: inputs.quantity(
                &ask(at("insulation"), What::SurfaceInsulation, minutes::LOOK),
                &surface.insulation,
                Figure::InsulationRsi,
                &resistance,
            ),
            outdoors: sides(&at("other_side"), &outdoors, inputs),
            heated: inputs.where_written(
                &ask(at("heated"), What::SurfaceHeated, minutes::LABEL),
                &surface.heated,
                Figure::PowerW,
            ),
        });
    }
    let has = |kind| room.surfaces.iter().any(|surface| surface.kind == kind);
    if !has(SurfaceKind::Mirror) {
        plans.push(assumed(room, SurfaceKind::Mirror, "mirror", inputs));
    }
    if !has(SurfaceKind::Tile) {
        plans.push(assumed(room, SurfaceKind::Tile, "tile", inputs));
    }
    if !has(SurfaceKind::Window) && given::yes(&room.window.present) == Some(true) {
        plans.push(assumed(room, SurfaceKind::Window, "window", inputs));
    }
    // A room with more than can be followed keeps what is written, lining and mirror first.
    plans.truncate(dewpath_moisture::room::SURFACES);
    plans
}

fn sides(at: &str, sides: &[bool], inputs: &mut Inputs) -> CategoryInput<bool> {
    if let [one] = sides {
        return CategoryInput::settled(inputs, *one);
    }
    inputs.options(
        &ask(at.to_owned(), What::OtherSide, minutes::LOOK),
        &None,
        sides,
        &Source::judgement(Judgement::EitherSide),
        |options| {
            let word = |out: &bool| if *out { "outdoors" } else { "heated" };
            options.iter().map(|side| word(side).to_owned()).collect()
        },
    )
}

/// Resistance of an outside wall, m²K/W.
fn outside_wall() -> Fallback {
    range(1.0, 3.5, Source::judgement(Judgement::OldToRecentWalls))
}

/// Area, resistance and other side of a surface of which nothing is written.
fn usual(kind: SurfaceKind, glazing: Option<Glazing>) -> (Fallback, Fallback, bool) {
    let practice = || Source::practice();
    let glass = |glazing: Option<Glazing>| match glazing {
        Some(Glazing::Single) => (0.005, 0.01),
        Some(Glazing::Double) => (0.14, 0.18),
        Some(Glazing::LowE) => (0.35, 0.50),
        Some(Glazing::Triple) => (0.70, 1.00),
        None => (0.005, 0.50),
    };
    match kind {
        SurfaceKind::Mirror => (
            range(0.4, 1.0, practice()),
            range(0.15, 0.4, Source::judgement(Judgement::GlassInside)),
            false,
        ),
        SurfaceKind::Window => {
            let (low, high) = glass(glazing);
            (
                range(0.3, 0.8, practice()),
                range(
                    low,
                    high,
                    Source::memory(
                        Citation("ISO 10077-1 and window tables"),
                        SourceText::WithoutFilms,
                    ),
                ),
                true,
            )
        }
        SurfaceKind::OutsideWall => (range(3.0, 8.0, practice()), outside_wall(), true),
        SurfaceKind::Tile => (
            range(3.0, 7.0, practice()),
            range(0.3, 0.6, Source::judgement(Judgement::TileInside)),
            false,
        ),
        SurfaceKind::Cistern => (
            range(0.2, 0.35, practice()),
            range(0.005, 0.02, Source::judgement(Judgement::UnlinedCeramic)),
            false,
        ),
        SurfaceKind::Ceiling => (
            range(3.0, 6.0, practice()),
            range(2.0, 7.0, Source::judgement(Judgement::CeilingBelowAttic)),
            true,
        ),
        SurfaceKind::Floor => (
            range(2.0, 5.0, practice()),
            range(0.5, 2.0, Source::judgement(Judgement::FloorAboveHeated)),
            false,
        ),
    }
}

fn lining(room: &Room, inputs: &mut Inputs) -> SurfacePlan {
    SurfacePlan {
        kind: None,
        area: None,
        resistance: inputs.quantity(
            &ask(
                format!("room.{}.lining.insulation", room.id),
                What::LiningInsulation,
                minutes::NOT_ON_SITE,
            ),
            &nothing::<dewpath_units::ThermalResistance>(),
            Figure::InsulationRsi,
            &range(0.3, 0.6, Source::judgement(Judgement::BoardOnStuds)),
        ),
        outdoors: CategoryInput::settled(inputs, false),
        heated: None,
    }
}

/// A surface that nobody wrote down and every bathroom has.
fn assumed(room: &Room, kind: SurfaceKind, id: &str, inputs: &mut Inputs) -> SurfacePlan {
    let (area, resistance, outdoors) = usual(kind, None);
    let at = |key: &str| format!("room.{}.surface.{id}.{key}", room.id);
    let window_area = match kind {
        SurfaceKind::Window => room.window.glazed.clone(),
        _ => nothing::<Area>(),
    };
    SurfacePlan {
        kind: Some(kind),
        area: Some(inputs.quantity(
            &ask(at("area"), What::SurfaceArea, minutes::TAPE),
            &window_area,
            Figure::AreaM2,
            &area,
        )),
        resistance: inputs.quantity(
            &ask(at("insulation"), What::SurfaceInsulation, minutes::LOOK),
            &nothing::<dewpath_units::ThermalResistance>(),
            Figure::InsulationRsi,
            &resistance,
        ),
        outdoors: CategoryInput::settled(inputs, outdoors),
        heated: None,
    }
}

fn control_plan(job: &Job, room: &Room, fans: &[usize], inputs: &mut Inputs) -> ControlPlan {
    let fan: Option<&Fan> = fans.first().map(|&fan| &job.fans[fan]);
    let id = fan.map_or("none", |fan| fan.id.as_str()).to_owned();
    let at = |key: &str| format!("fan.{id}.settings.{key}");
    let empty = dewpath_job::model::FanSettings::default();
    let settings = fan.map_or(&empty, |fan| &fan.settings);
    let none = None;
    let kind = inputs.category(
        &ask(format!("fan.{id}.control"), What::Control, minutes::LOOK),
        fan.map_or(&none, |fan| &fan.control),
        &[Control::Switch],
        &Source::judgement(Judgement::WallSwitch),
    );
    let known = kind.known();
    let by_humidity = kind.options().contains(&Control::Humidity);
    let habit = inputs.category(
        &ask(format!("room.{}.use.fan", room.id), What::FanHabit, minutes::ASK),
        &room.usage.fan,
        if matches!(known, Some(Control::LightSwitch)) {
            &[FanHabit::WithLight]
        } else {
            &[FanHabit::After]
        },
        &Source::judgement(Judgement::LeftOnAWhile),
    );
    let leave_on = inputs.quantity(
        &ask(format!("room.{}.use.leave_on", room.id), What::LeaveOn, minutes::ASK),
        &room.usage.leave_on,
        time,
        &range(300.0, 1200.0, Source::judgement(Judgement::AfterTheShower)),
    );
    let run_on_usual = match known {
        Some(Control::Timer) => range(900.0, 1800.0, Source::judgement(Judgement::Timers)),
        Some(Control::Humidity) => range(0.0, 900.0, Source::judgement(Judgement::UpToQuarterHour)),
        _ => range(0.0, 0.0, Source::practice()),
    };
    let run_on = inputs.quantity(
        &ask(at("run_on"), What::RunOn, minutes::LOOK),
        &settings.run_on,
        time,
        &run_on_usual,
    );
    let rise = inputs.where_written::<Humidity>(
        &ask(at("rise"), What::Rise, minutes::LABEL),
        &settings.rise,
        Figure::HumidityRatio,
    );
    let on_at = if by_humidity && rise.is_none() {
        Some(inputs.quantity(
            &ask(at("on_at"), What::SetPoint, minutes::LOOK),
            &settings.on_at,
            Figure::HumidityRatio,
            &range(0.5, 0.8, Source::judgement(Judgement::Dials)),
        ))
    } else {
        inputs.where_written::<Humidity>(
            &ask(at("on_at"), What::SetPoint, minutes::LOOK),
            &settings.on_at,
            Figure::HumidityRatio,
        )
    };
    let only_if = |low: f64, high: f64, why: Judgement| {
        if by_humidity {
            range(low, high, Source::judgement(why))
        } else {
            let middle = 0.5 * (low + high);
            range(middle, middle, Source::judgement(why))
        }
    };
    // What a control without a humidity sensor has no use for is not asked, and not listed.
    let mut quiet = |at: String, what: What, given: &Given<Duration>, usual: &Fallback| {
        if by_humidity {
            inputs.quantity(&ask(at, what, minutes::LABEL), given, time, usual)
        } else {
            inputs.constant(0.5 * (usual.low + usual.high), time)
        }
    };
    let sampling = quiet(
        at("sampling"),
        What::Sampling,
        &settings.sampling,
        &only_if(30.0, 60.0, Judgement::Sampling),
    );
    let lag = quiet(
        at("lag"),
        What::SensorLag,
        &settings.lag,
        &only_if(60.0, 300.0, Judgement::SensorLag),
    );
    let band = if by_humidity {
        inputs.quantity(
            &ask(at("band"), What::DeadBand, minutes::LABEL),
            &settings.band,
            Figure::HumidityRatio,
            &range(0.03, 0.06, Source::judgement(Judgement::DeadBands)),
        )
    } else {
        inputs.constant(0.05, Figure::HumidityRatio)
    };
    let sensor = if by_humidity {
        inputs.category(
            &ask(at("sensor"), What::SensorPlace, minutes::LOOK),
            &settings.sensor,
            &[SensorPlace::Wall],
            &Source::practice(),
        )
    } else {
        CategoryInput::settled(inputs, SensorPlace::Wall)
    };
    let off_delay = if kind.options().contains(&Control::Occupancy) {
        inputs.quantity(
            &ask(at("off_delay"), What::OffDelay, minutes::LABEL),
            &settings.off_delay,
            time,
            &range(300.0, 1200.0, Source::judgement(Judgement::FiveToTwenty)),
        )
    } else {
        inputs.constant(600.0, time)
    };
    ControlPlan {
        kind,
        habit,
        leave_on,
        run_on,
        on_at,
        band,
        rise,
        sampling,
        lag,
        sensor,
        max_run: inputs.where_written::<Duration>(
            &ask(at("max_run"), What::LongestRun, minutes::LABEL),
            &settings.max_run,
            time,
        ),
        low_flow: inputs.where_written::<Ratio>(
            &ask(at("low_flow"), What::LowFlow, minutes::LABEL),
            &settings.low_flow,
            Figure::ShareRatio,
        ),
        off_delay,
        power_w: fan.and_then(|fan| given::likely(&fan.data.power)).map(Power::w),
    }
}

/// A day of the coldest month of the weather, or a usual winter day.
fn design_outdoor(job: &Job, weather: Option<&Weather>, inputs: &mut Inputs) -> (InputId, InputId) {
    let coldest = weather.and_then(dewpath_case::weather::coldest_month);
    let at = || ask("site.outdoor".to_owned(), What::Outdoor, minutes::ASK);
    let humidity =
        || ask("site.outdoor_humidity".to_owned(), What::OutdoorHumidity, minutes::NOT_ON_SITE);
    if given::is_known(&job.site.outdoor) {
        let t = inputs.quantity::<Temperature>(
            &at(),
            &job.site.outdoor,
            celsius,
            &defaults::indoor_k(),
        );
        let rh = inputs.quantity::<Humidity>(
            &humidity(),
            &nothing(),
            Figure::HumidityRatio,
            &range(0.7, 0.95, Source::judgement(Judgement::ColdSeasonAir)),
        );
        return (t, rh);
    }
    let (t, rh, source) = match coldest {
        Some((t_k, rh)) => ((t_k, t_k), (rh, rh), Source::judgement(Judgement::ColdestMonth)),
        None => ((263.15, 278.15), (0.7, 0.95), Source::judgement(Judgement::WinterDay)),
    };
    let outdoor = inputs.quantity::<Temperature>(
        &at(),
        &nothing(),
        celsius,
        &range(t.0, t.1, source.clone()),
    );
    let outdoor_rh = inputs.quantity::<Humidity>(
        &humidity(),
        &nothing(),
        Figure::HumidityRatio,
        &range(rh.0, rh.1, source),
    );
    (outdoor, outdoor_rh)
}

fn dwelling_plan(job: &Job, weather: Option<&Weather>, inputs: &mut Inputs) -> DwellingPlan {
    let dwelling = &job.dwelling;
    let (outdoor, outdoor_rh) = design_outdoor(job, weather, inputs);
    let judged = |why: Judgement| Source::judgement(why);
    let leak = dewpath_case::system::leak(job, inputs);
    let indoor = given::likely(&job.site.indoor).map_or(HOUSE_C, Temperature::c);
    let cold = winter::Cold {
        house_c: indoor,
        outdoor_c: inputs.value(outdoor, Draw::Likely) - 273.15,
        outdoor_rh: inputs.value(outdoor_rh, Draw::Likely),
    };
    let moisture = moisture_of(job);
    let given_off = given::bounds(&dwelling.moisture).map_or_else(
        || moisture.clone(),
        |(low, high)| range(low.kg(), high.kg(), Source::practice()),
    );
    let likely_humidity = winter::humidity(job, &cold, &leak, &given_off, inputs);
    let humidity = inputs.quantity::<Humidity>(
        &ask("dwelling.humidity".to_owned(), What::DwellingHumidity, minutes::LOOK),
        &dwelling.humidity,
        Figure::HumidityRatio,
        &likely_humidity,
    );
    let from_area =
        given::likely(&dwelling.floor_area).map(|area| Volume::from_m3(area.m2() * 2.5));
    let volume_given = match (&dwelling.volume, from_area) {
        (Some(stated), _) if !stated.value.is_unknown() => dwelling.volume.clone(),
        (_, Some(volume)) => Some(written(volume)),
        _ => nothing(),
    };
    let volume = inputs.quantity::<Volume>(
        &ask("dwelling.volume".to_owned(), What::DwellingVolume, minutes::TAPE),
        &volume_given,
        Figure::VolumeM3,
        &defaults::dwelling_volume_m3(),
    );
    DwellingPlan {
        outdoor,
        outdoor_rh,
        humidity,
        volume,
        leak,
        moisture: inputs.quantity::<Mass>(
            &ask("dwelling.moisture".to_owned(), What::DwellingMoisture, minutes::ASK),
            &dwelling.moisture,
            Figure::MassKg,
            &moisture,
        ),
        idle_door: inputs.quantity::<dewpath_units::Airflow>(
            &ask("dwelling.idle_door".to_owned(), What::IdleDoor, minutes::NOT_ON_SITE),
            &nothing(),
            airflow,
            &range(0.001, 0.004, judged(Judgement::ShutDoorExchange)),
        ),
        open_door: inputs.quantity::<dewpath_units::Airflow>(
            &ask("dwelling.open_door".to_owned(), What::OpenDoor, minutes::NOT_ON_SITE),
            &nothing(),
            airflow,
            &range(0.04, 0.12, judged(Judgement::OpenDoorExchange)),
        ),
        idle_duct: inputs.quantity::<dewpath_units::Airflow>(
            &ask("dwelling.idle_duct".to_owned(), What::IdleDuct, minutes::NOT_ON_SITE),
            &nothing(),
            airflow,
            &drift(job),
        ),
        cold_water: inputs.quantity::<Temperature>(
            &ask("site.cold_water".to_owned(), What::ColdWater, minutes::NOT_ON_SITE),
            &nothing(),
            celsius,
            &range(279.15, 287.15, judged(Judgement::MainsWater)),
        ),
    }
}

/// Air that rises through a fan at rest, m³/s: past a flap that is said to shut next to none, past a gap that is written what
/// a pascal or two drive through it.
fn drift(job: &Job) -> Fallback {
    let judged = |why: Judgement| Source::judgement(why);
    let leak = job
        .terminals
        .iter()
        .filter_map(|terminal| given::likely(&terminal.leak))
        .map(Area::m2)
        .reduce(f64::max);
    if let Some(area) = leak {
        // C A sqrt(2 p / rho) with C 0.6, air of 1.2 kg/m³.
        let through = |pa: f64| (0.6 * area * (2.0 * pa / 1.2).sqrt()).clamp(1e-6, 0.01);
        return range(through(0.5), through(2.0), judged(Judgement::PastFlapGap));
    }
    let flap = job.terminals.iter().any(|terminal| given::has_flap(terminal) == Some(true))
        || job.fans.iter().any(|fan| given::yes(&fan.data.damper) == Some(true));
    if flap {
        return range(5e-5, 2.5e-4, judged(Judgement::PastShutFlap));
    }
    range(5e-5, 5e-4, judged(Judgement::ThroughFanAtRest))
}

/// Daily moisture of a household without its showers, kg.
fn moisture_of(job: &Job) -> Fallback {
    // ASHRAE 160 (from memory): 8, 12, 14, 15 L a day for 1 to 4 bedrooms, showers included. Measured data since
    // then lie below older tables; half to the whole of it less a third for bathing.
    let whole = match given::count_bounds(&job.dwelling.bedrooms).map(|(_, most)| most) {
        Some(0 | 1) => 8.0,
        Some(3) => 14.0,
        Some(n) if n >= 4 => 15.0,
        _ => 12.0,
    };
    range(
        0.4 * whole,
        0.75 * whole,
        Source::memory(Citation("ASHRAE 160"), SourceText::MoistureByBedrooms),
    )
}
