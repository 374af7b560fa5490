//! One room through the hours of its weather, at the likely values.

use dewpath_case::Case;
use dewpath_case::given;
use dewpath_case::inputs::Draw;
use dewpath_job::model::{Finish, SurfaceKind};
use dewpath_moisture::duct::legs::Pace;
use dewpath_moisture::mould::{DeclineClass, MouldIndex, RunningMean, SensitivityClass, Substrate};
use dewpath_moisture::room::{
    AIR_J_KG_K, Boundary, Care, DAYS, LATENT_J_KG, Level, Model, SETTLE_DAYS, Simulation, Step,
    Watch, Year, YearPlan, follow_year,
};
use dewpath_moisture::saturation::Saturation;
use dewpath_moisture::weather::Weather;
use dewpath_report::YearHour;
use dewpath_units::Temperature;

use super::conditions::{Conditions, with_weather};
use super::duct::{DuctYear, RunYear};
use super::habits::{Habits, habits};
use crate::dry::duct::follow::{Climate, Scene};
use crate::dry::model::{Built, build, standing_heat};
use crate::dry::plan::{Plan, RoomPlan, SurfacePlan};

/// How fast mould goes back on building materials in dry times. Judgement within the published classes.
const DECLINE: DeclineClass = DeclineClass::RelativelyLow;

/// A surface on which mould is followed.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Watched {
    /// Its place among the surfaces of the room.
    pub surface: usize,
    /// Its id in the job, or what it is.
    pub id: String,
    /// Class of its face.
    pub class: SensitivityClass,
}

/// A year of a room.
pub(super) struct Followed {
    /// What the room did.
    pub year: Year,
    /// Heat that heating had to make up for the air the fan drew off, by month, J.
    pub heat_j: [f64; 12],
    /// Heat and vapour that cooling had to take out for it, by month, J.
    pub cold_j: [f64; 12],
    /// Highest mould index of any surface, each by its own class, at the end of each month.
    pub mould: [f64; 12],
    /// Surfaces on which mould was followed.
    pub watched: Vec<Watched>,
    /// What was seen on each of them.
    pub growth: Vec<Growth>,
    /// Mean natural infiltration of the dwelling, m³/s.
    pub infiltration_m3_s: f64,
    /// What happened every day.
    pub habits: Habits,
    /// Power of the room's fans at full flow, W; none where it is not known of all of them.
    pub fan_w: Option<f64>,
    /// Full flow of the room's fans, m³/s.
    pub exhaust_m3_s: f64,
    /// The hours, where they were asked for.
    pub hours: Vec<YearHour>,
    /// Water in the runs behind the room, where their pieces and surroundings are known and it was asked for.
    pub runs: Vec<RunYear>,
}

/// The runs behind a room that are followed along with it, and how long their steps are.
#[derive(Clone, Copy)]
pub(super) struct Along<'a> {
    pub scene: Scene<'a>,
    pub pace: Pace,
}

/// What is wanted on the way through the year, beside its end.
#[derive(Clone, Copy)]
pub(super) struct Wanted<'a> {
    /// Every hour is kept.
    pub hours: bool,
    /// Hears how many months are over, 1 to 12.
    pub months: &'a dyn Fn(usize),
}

impl Wanted<'_> {
    /// Nothing but the end.
    pub(super) const END: Self = Self { hours: false, months: &|_| {} };
}

/// Follows a room; none where its size or its air is not known, or nothing real follows from what is written.
pub(super) fn follow(
    plan: &Plan,
    room: &RoomPlan,
    case: &Case<'_>,
    weather: &Weather,
    wanted: Wanted<'_>,
    care: Care,
    along: Option<Along<'_>>,
) -> Option<Followed> {
    let built = build(plan, room, case, Draw::Likely)?;
    let Conditions { mut model, hours, leaks_m3_s } = with_weather(plan, &built, case, weather);
    let habits = habits(plan, room, case, model.shower.vapour_kg_s);
    let (people_kg_s, people_w) = habits.people;
    model.shower.vapour_kg_s += people_kg_s;
    model.shower.heat_w += people_w;
    model.vapour_kg_s += habits.drying_kg_s;
    model.heat_w = heating(plan, room, &model, &hours);
    let fan_w = fan_power(room, case);
    let full = fan_w.unwrap_or(0.0);
    model.fan_w = [0.0, full * built.air.low_share * built.air.low_share, full];
    let watched = watched(plan, room, case);
    let first = *hours.first()?;
    let begin = || {
        let mut sim = Simulation::new(&model, built.control, &habits.events, first, care).ok()?;
        sim.start_at(built.start_w, built.start_w);
        Some(sim)
    };
    let duct = along.and_then(|along| settled_duct(along, &built, &hours, begin));
    let mut sim = begin()?;
    let year_plan = YearPlan {
        hours: &hours,
        mirror: built.judge.mirror,
        clear_kg_m2: built.judge.clear_kg_m2,
        // Mould is followed below, with neighbouring classes on the same hours.
        watched: &[],
    };
    let heated_c = heated_c(case, &built);
    let mut eye = Eye::new(&model, &hours, &watched, heated_c, built.judge.mirror, wanted);
    eye.duct = duct;
    let year = follow_year(&mut sim, &year_plan, &mut eye);
    let Eye { heat_j, cold_j, mould, growth, hours: kept, mut duct, time_s, .. } = eye;
    if let Some(duct) = &mut duct {
        duct.end_month(month_at(time_s - 1.0));
    }
    (wanted.months)(DAYS.len());
    let leaks = hours.iter().map(|hour| leaks_m3_s.get(hour.class).copied().unwrap_or(0.0));
    Some(Followed {
        year,
        heat_j,
        cold_j,
        mould,
        watched,
        growth,
        infiltration_m3_s: leaks.sum::<f64>() / hours.len().max(1) as f64,
        habits,
        fan_w,
        exhaust_m3_s: built.air.exhaust_m3_s,
        hours: kept,
        runs: duct.map_or_else(Vec::new, DuctYear::finish),
    })
}

/// The runs behind a room as the last weeks of the year leave them, so that January does not begin with dry walls.
fn settled_duct<'s>(
    along: Along<'_>,
    built: &Built,
    hours: &[Boundary],
    begin: impl FnOnce() -> Option<Simulation<'s>>,
) -> Option<DuctYear> {
    let films = films(built, hours)?;
    let mut duct = DuctYear::new(&along.scene, &films, along.pace)?;
    let mut sim = begin()?;
    for hour in &hours[hours.len().saturating_sub(24 * SETTLE_DAYS)..] {
        sim.set_boundary(*hour);
        sim.run(3600, &mut |step: &Step<'_>| duct.step(step));
    }
    duct.begin_year();
    Some(duct)
}

/// The weather at which the films around ducts are taken: the month in which outdoors is coldest against the dwelling, for water
/// is left in the cold. They change by the fourth root of a difference in temperature, so that one figure does for the year.
fn films(built: &Built, hours: &[Boundary]) -> Option<Climate> {
    let mean = |of: fn(&Boundary) -> f64, part: &[Boundary]| {
        part.iter().map(of).sum::<f64>() / part.len().max(1) as f64
    };
    let coldest =
        hours.chunks(730).max_by(|a, b| mean(colder_k, a).total_cmp(&mean(colder_k, b)))?;
    Some(Climate {
        house_c: mean(|b| b.house_c, coldest),
        house_w: built.start_w,
        outdoor_c: mean(|b| b.outdoor_c, coldest),
        outdoor_w: mean(|b| b.outdoor_w, coldest),
        pressure_pa: built.model.pressure_pa,
        vented: false,
    })
}

fn colder_k(b: &Boundary) -> f64 {
    b.house_c - b.outdoor_c
}

/// Heat that holds the room at its own temperature, mean of the hours in which it loses any, W. One figure for the year: a
/// room with a cold outside wall is somewhat too warm in summer and too cool in winter.
fn heating(plan: &Plan, room: &RoomPlan, model: &Model, hours: &[Boundary]) -> f64 {
    let own_c = room.room_k.map(|id| plan.inputs.value(id, Draw::Likely) - 273.15);
    let of_hour = |b: &Boundary| {
        let room_c = own_c.unwrap_or(b.house_c);
        standing_heat(&model.surfaces, room_c, b.house_c, b.outdoor_c, b.water_c)
    };
    hours.iter().map(of_hour).sum::<f64>() / hours.len().max(1) as f64
}

/// Power of all fans of a room at full flow, W.
fn fan_power(room: &RoomPlan, case: &Case<'_>) -> Option<f64> {
    let of_fan =
        |&fan: &usize| given::likely(&case.job.fans[fan].data.power).map(dewpath_units::Power::w);
    room.fans.iter().map(of_fan).sum()
}

/// Surfaces that mould may grow on: all but mirror and cistern, whose faces are glass and glaze.
fn watched(plan: &Plan, room: &RoomPlan, case: &Case<'_>) -> Vec<Watched> {
    let written = &case.job.rooms[room.room].surfaces;
    let finish = room.finish.value(&plan.inputs, Draw::Likely);
    let of = |(surface, plan): (usize, &SurfacePlan)| {
        let class = class_of(plan.kind, finish)?;
        let id = match (surface.checked_sub(1).and_then(|i| written.get(i)), plan.kind) {
            (Some(written), _) => written.id.clone(),
            (None, None) => "lining".to_owned(),
            (None, Some(kind)) => dewpath_job::category::Category::word(kind).to_owned(),
        };
        Some(Watched { surface, id, class })
    };
    room.surfaces.iter().enumerate().filter_map(of).collect()
}

/// Class of a face. Judgement along the list of materials of Ojanen et al. 2010: paper-faced board and wood as painted are
/// sensitive; plaster, gloss paint, the joints of tiles and the frames of windows medium resistant.
fn class_of(kind: Option<SurfaceKind>, finish: Finish) -> Option<SensitivityClass> {
    match kind {
        Some(SurfaceKind::Mirror | SurfaceKind::Cistern) => None,
        Some(SurfaceKind::Window | SurfaceKind::Tile | SurfaceKind::Floor) => {
            Some(SensitivityClass::MediumResistant)
        }
        None | Some(SurfaceKind::Ceiling | SurfaceKind::OutsideWall) => Some(match finish {
            Finish::BareGypsum | Finish::Latex | Finish::Wood => SensitivityClass::Sensitive,
            Finish::Plaster | Finish::Gloss | Finish::Tile => SensitivityClass::MediumResistant,
        }),
    }
}

/// Mould on one surface.
#[derive(Debug, Clone)]
pub(super) struct Growth {
    /// Its index by its own class, by the more sensitive one, by the more resistant one.
    index: [MouldIndex; 3],
    running: RunningMean,
    /// Highest mean of 30 days of its humidity, 0 to 1.
    pub running_peak: f64,
    /// Its temperature times time in the open hour.
    warmth: f64,
}

impl Growth {
    fn new(watched: &Watched) -> Self {
        let [sensitive, resistant] = watched.class.band();
        let of = |class| MouldIndex::new(Substrate::Class(class, DECLINE));
        Self {
            index: [watched.class, sensitive, resistant].map(of),
            running: RunningMean::new(),
            running_peak: 0.0,
            warmth: 0.0,
        }
    }

    /// Highest index by its own class, by the more sensitive one, by the more resistant one.
    pub(super) fn peaks(&self) -> [f64; 3] {
        self.index.map(|index| index.peak())
    }

    /// An hour, with the surface's mean temperature and the humidity there in per cent.
    fn advance(&mut self, t_c: f64, rh_percent: f64, hours: f64) {
        for index in &mut self.index {
            index.advance(t_c, rh_percent, hours);
        }
        self.running.advance(t_c, rh_percent, hours);
        if let Some((_, humidity)) = self.running.mean() {
            self.running_peak = self.running_peak.max(humidity / 100.0);
        }
    }
}

/// Sees what the year does not keep: what heating and cooling make up, and the hours themselves.
struct Eye<'a> {
    pressure_pa: f64,
    plan: &'a [Boundary],
    watched: &'a [Watched],
    /// Mould on each of the watched.
    growth: Vec<Growth>,
    mould: [f64; 12],
    heated_c: f64,
    mirror: Option<(usize, f64)>,
    wanted: Wanted<'a>,
    time_s: f64,
    heat_j: [f64; 12],
    cold_j: [f64; 12],
    hours: Vec<YearHour>,
    /// The open hour: its sums times time.
    sums: Sums,
    /// The runs behind the room.
    duct: Option<DuctYear>,
}

#[derive(Default, Clone, Copy)]
struct Sums {
    time_s: f64,
    room_c: f64,
    room_w: f64,
    house_w: f64,
    fan_s: f64,
    mirror_most_kg_m2: f64,
}

/// What heating and cooling make up for the air that the fan drew off in a step.
#[derive(Default)]
pub(super) struct MadeUp {
    pub heat_j: f64,
    pub cold_j: f64,
}

/// What a step costs where the house, heated to so much, is heated or cooled at the time.
pub(super) fn made_up(step: &Step<'_>, heated_c: f64) -> MadeUp {
    let b = step.boundary;
    let air = step.exhaust_kg_s * step.length_s;
    let sensible = AIR_J_KG_K * (b.house_c - b.outdoor_c);
    if b.cooled_kg_s > 0.0 {
        let latent = LATENT_J_KG * (b.outdoor_w - step.mean_house_w).max(0.0);
        MadeUp { cold_j: air * (latent - sensible).max(0.0), heat_j: 0.0 }
    } else if b.house_c <= heated_c + 1e-9 {
        MadeUp { heat_j: air * sensible.max(0.0), cold_j: 0.0 }
    } else {
        MadeUp::default()
    }
}

/// What the house is heated to, °C.
pub(super) fn heated_c(case: &Case<'_>, built: &Built) -> f64 {
    given::likely(&case.job.dwelling.heating).map_or(built.boundary.house_c, Temperature::c)
}

impl<'a> Eye<'a> {
    fn new(
        model: &Model,
        plan: &'a [Boundary],
        watched: &'a [Watched],
        heated_c: f64,
        mirror: Option<usize>,
        wanted: Wanted<'a>,
    ) -> Self {
        let area = |index: usize| model.surfaces.get(index).map(|s| (index, s.area_m2));
        Self {
            pressure_pa: model.pressure_pa,
            plan,
            watched,
            growth: watched.iter().map(Growth::new).collect(),
            mould: [0.0; 12],
            heated_c,
            mirror: mirror.and_then(area),
            wanted,
            time_s: 0.0,
            heat_j: [0.0; 12],
            cold_j: [0.0; 12],
            hours: Vec::with_capacity(if wanted.hours { plan.len() } else { 0 }),
            sums: Sums::default(),
            duct: None,
        }
    }

    /// What the air that the fan drew off costs, where the house is heated or cooled at the time.
    fn air_heat(&mut self, step: &Step<'_>) {
        if step.before.level() == Level::Off {
            return;
        }
        let month = month_at(self.time_s);
        let made_up = made_up(step, self.heated_c);
        self.cold_j[month] += made_up.cold_j;
        self.heat_j[month] += made_up.heat_j;
    }

    fn close_hour(&mut self, step: &Step<'_>) {
        let s = std::mem::take(&mut self.sums);
        if s.time_s <= 0.0 {
            return;
        }
        let table = Saturation::shared();
        let p = self.pressure_pa;
        let rh = |w: f64, t: f64| table.relative_humidity(w, t, p).clamp(0.0, 1.0);
        for growth in &mut self.growth {
            let t_c = std::mem::take(&mut growth.warmth) / s.time_s;
            growth.advance(t_c, 100.0 * rh(s.room_w / s.time_s, t_c), s.time_s / 3600.0);
        }
        // The hour that ends belongs to the month it began in; the last of a month is what stands.
        let month = month_at(self.time_s - 1.0);
        self.mould[month] = self.growth.iter().map(|g| g.index[0].index()).fold(0.0, f64::max);
        if month_at(self.time_s + 1.0) != month {
            if let Some(duct) = &mut self.duct {
                duct.end_month(month);
            }
            (self.wanted.months)(month + 1);
        }
        if !self.wanted.hours {
            return;
        }
        let [room_c, room_w, house_w] = [s.room_c, s.room_w, s.house_w].map(|sum| sum / s.time_s);
        let b = step.boundary;
        let surfaces = self.watched.iter().map(|w| step.after.surface_c(w.surface));
        self.hours.push(YearHour {
            outdoor_c: b.outdoor_c,
            outdoor_humidity_ratio: rh(b.outdoor_w, b.outdoor_c),
            dwelling_c: b.house_c,
            dwelling_humidity_ratio: rh(house_w, b.house_c),
            room_c,
            humidity_ratio: rh(room_w, room_c),
            coldest_surface_c: surfaces.fold(room_c, f64::min),
            mirror_most_g_m2: 1000.0 * s.mirror_most_kg_m2,
            fan_s: s.fan_s,
        });
    }
}

impl Watch for Eye<'_> {
    fn step(&mut self, step: &Step<'_>) {
        self.air_heat(step);
        if let Some(duct) = &mut self.duct {
            duct.step(step);
        }
        let dt = step.length_s;
        self.sums.time_s += dt;
        self.sums.room_c += dt * step.mean_room_c;
        self.sums.room_w += dt * step.mean_room_w;
        self.sums.house_w += dt * step.mean_house_w;
        for (growth, w) in self.growth.iter_mut().zip(self.watched) {
            growth.warmth += dt * step.mean_surface_c(w.surface);
        }
        if step.before.level() != Level::Off {
            self.sums.fan_s += dt;
        }
        if let Some((mirror, area)) = self.mirror {
            let film = step.after.water_kg(mirror) / area;
            self.sums.mirror_most_kg_m2 = self.sums.mirror_most_kg_m2.max(film);
        }
        self.time_s += dt;
        let hour = (self.time_s / 3600.0).round();
        if (self.time_s - 3600.0 * hour).abs() < 0.5 && hour as usize <= self.plan.len() {
            self.close_hour(step);
        }
    }
}

/// Month of so many seconds after New Year, January 0.
fn month_at(time_s: f64) -> usize {
    let day = (time_s.max(0.0) / 86_400.0) as u32;
    let ends = DAYS.iter().scan(0, |end, days| {
        *end += days;
        Some(*end)
    });
    ends.take_while(|end| *end <= day).count().min(11)
}
