//! What the year says: findings with their figures, workings and what to do.

use dewpath_case::Case;
use dewpath_case::inputs::{Draw, InputId};
use dewpath_message::Citation;
use dewpath_message::slot::{
    Count, EnergyKwh, HumidityRatio, MassG, MouldRatio, Name, ShareRatio, TimeH,
};
use dewpath_moisture::mould::RUNNING_MEAN;
use dewpath_moisture::room::{DWELLING_YEAR, Month, ROOM_YEAR};
use dewpath_report::say::{
    DuctYear, DuctYearKey, DwellingHumid, DwellingHumidKey, DwellingHumidNeverStops,
    EngineResidual, Equation, Judgement, RoomHumidityRunningMean, RoomHumidityRunningMeanKey,
    RoomMould, RoomMouldKey, RoomYearEnergy, RoomYearEnergyKey, RoomYearMirror, RoomYearMirrorKey,
    RoomYearMirrorNone, RoomYearMissing, RoomYearWetHours, RoomYearWetHoursKey, SourceText, Todo,
    TodoInsulate, What,
};
use dewpath_report::{
    Check, Figure, Finding, Message, Provenance, Source, Step, Triple, Verdict, WorkingInput,
};

use super::duct::RunYear;
use super::follow::Followed;
use super::results::{self, J_PER_KWH, cold_kwh, energy_kwh, heat_kwh, worst};
use crate::dry::control::set_to;
use crate::dry::months::{self, hours_of, stretch};
use crate::dry::plan::{Plan, RoomPlan};
use crate::law;

/// Mould index below which nothing grows that a microscope would show (Hukka & Viitanen 1999, scale of the index).
const FIRST_GROWTH: f64 = 1.0;
/// Humidity at a surface as a mean of 30 days.
const RUNNING_LIMIT: f64 = 0.8;
/// Hours above 80 % in a room. Judgement: two a day.
const WET_LIMIT_H: f64 = 730.0;
/// Hours above 60 % in a dwelling. Judgement: a quarter of the year.
const DAMP_LIMIT_H: f64 = 2190.0;
/// A humidity control that runs its fan for more than this share of a month has hardly stopped in it. Judgement: half of it.
const KEPT_ON: f64 = 0.5;
/// A mirror is to be clear half an hour after the shower, in so many of the showers of a year. Judgement.
const CLEAR_SHARE: f64 = 0.9;
/// Balances must close to this share of what is put through.
const RESIDUAL: f64 = 1e-9;

/// Water that a month may leave in a run or lead back, g. Judgement: that of a winter day, thirty times.
const MONTHLY_LIMIT_G: f64 = 750.0;

/// Less than this in every month is nothing, g. Judgement: ten drops.
const NOTHING_G: f64 = 0.5;

fn hours(h: f64) -> TimeH {
    TimeH(Triple::exact(h))
}

fn balance() -> Source {
    law::source(&ROOM_YEAR)
}

fn along() -> Source {
    Source::confirmed(
        SourceText::AlongADuct,
        Citation(
            "docs/physics.md, a duct through time; Incropera ch. 6 and 8, ASHRAE Fundamentals ch. 6",
        ),
    )
}

fn computed(symbol: &str, what: What, figure: Figure) -> WorkingInput {
    WorkingInput::new(symbol, what, figure, Provenance::Computed)
}

fn unknown(case: &Case<'_>, room: &RoomPlan, message: RoomYearMissing, todo: Todo) -> Finding {
    Finding::new(
        Check::RoomMould,
        &case.job.rooms[room.room].id,
        Verdict::Unknown,
        message,
        balance(),
    )
    .todo(todo)
}

/// There is no weather to follow the room through.
pub(super) fn no_weather(case: &Case<'_>, room: &RoomPlan) -> Finding {
    unknown(case, room, RoomYearMissing::NoWeather, Todo::NameWeather)
}

/// Size or air of the room are not known.
pub(super) fn not_followed(case: &Case<'_>, room: &RoomPlan) -> Finding {
    unknown(case, room, RoomYearMissing::NotFollowed, Todo::SizeAndFan)
}

/// Everything that is said of one room.
pub(super) fn room(case: &Case<'_>, plan: &Plan, room: &RoomPlan, of: &Followed) -> Vec<Finding> {
    let id = case.job.rooms[room.room].id.as_str();
    let mut list = vec![wet_hours(id, plan, room, of), mirror(id, of), energy(case, id, of)];
    list.extend(mould(id, of));
    list.extend(running_mean(id, of));
    list.extend(residual(id, of));
    list
}

/// Means of the year, with which a reader can follow what came out.
fn means(of: &Followed) -> Vec<WorkingInput> {
    let total: f64 = (0..12).map(hours_of).sum();
    let mean = |value: fn(&Month) -> f64| {
        let sum: f64 = of.year.months.iter().enumerate().map(|(i, m)| hours_of(i) * value(m)).sum();
        sum / total.max(1.0)
    };
    let carried: f64 = of.year.months.iter().map(|m| m.exhausted_kg).sum();
    let fan_h = fan_h(of);
    vec![
        computed(
            "T_out",
            What::Outdoor,
            Figure::TemperatureC(Triple::exact(mean(|m| m.outdoor_c))),
        ),
        computed(
            "RH_room",
            What::MeanHumidity,
            Figure::HumidityRatio(Triple::exact(mean(|m| m.humidity))),
        ),
        computed(
            "RH_house",
            What::MeanDwellingHumidity,
            Figure::HumidityRatio(Triple::exact(mean(|m| m.house_humidity))),
        ),
        computed(
            "n",
            What::ShowersADay,
            Figure::Count(Triple::exact(of.habits.showers.len() as f64)),
        ),
        computed("Q", What::Delivered, Figure::AirflowLS(Triple::exact(1000.0 * of.exhaust_m3_s))),
        computed("t_fan", What::FanHours, hours(fan_h).into()),
        computed("m_out", What::CarriedOff, Figure::MassKg(Triple::exact(carried))),
    ]
}

fn followed(of: &Followed, result: Figure) -> Step {
    law::step(&ROOM_YEAR, means(of), Some(result))
}

fn wet_hours(id: &str, plan: &Plan, room: &RoomPlan, of: &Followed) -> Finding {
    let wet_h: f64 = of.year.months.iter().map(|m| m.wet_s).sum::<f64>() / 3600.0;
    let (figure, limit) = (hours(wet_h), hours(WET_LIMIT_H));
    let holds = wet_h <= WET_LIMIT_H;
    let key = if holds { RoomYearWetHoursKey::Holds } else { RoomYearWetHoursKey::Found };
    let message = Message::from(RoomYearWetHours { key, time: figure, limit });
    let source = Source::judgement(Judgement::DriesBetweenShowers);
    let mut found = Finding::new(Check::RoomYearWetHours, id, judged(holds), message, source)
        .figure(figure)
        .limit(limit)
        .step(followed(of, figure.into()));
    if let Some(step) = found.working.first_mut() {
        let length = plan.inputs.in_working("t_shower", room.length);
        step.inputs.push(length);
    }
    if !holds {
        found = found.todo(Todo::MoreAirOrLonger);
    }
    found
}

fn judged(holds: bool) -> Verdict {
    if holds { Verdict::Holds } else { Verdict::Caution }
}

fn mirror(id: &str, of: &Followed) -> Finding {
    let showers: u32 = of.year.months.iter().map(|m| m.showers).sum();
    let soon: u32 = of.year.months.iter().map(|m| m.clear_soon).sum();
    let source = Source::judgement(Judgement::ClearWhenDressed);
    let new = |verdict, message| Finding::new(Check::RoomYearMirror, id, verdict, message, source);
    if showers == 0 {
        return new(Verdict::Unknown, Message::from(RoomYearMirrorNone {}));
    }
    let share = f64::from(soon) / f64::from(showers);
    let figure = ShareRatio(Triple::exact(share));
    let holds = share >= CLEAR_SHARE;
    let key = if holds { RoomYearMirrorKey::Holds } else { RoomYearMirrorKey::Found };
    let mut found = new(judged(holds), Message::from(RoomYearMirror { key, share: figure }))
        .figure(figure)
        .limit(Figure::ShareRatio(Triple::exact(CLEAR_SHARE)))
        .step(Step {
            equation: "share = n_clear / n_showers".into(),
            inputs: vec![
                computed(
                    "n_clear",
                    What::ShowersClear,
                    Figure::Count(Triple::exact(f64::from(soon))),
                ),
                computed(
                    "n_showers",
                    What::ShowersSeen,
                    Figure::Count(Triple::exact(f64::from(showers))),
                ),
            ],
            result: Some(figure.into()),
            source: balance(),
        });
    if !holds {
        found = found.todo(Todo::MoreAirOrLonger);
    }
    found
}

/// What the fan takes: electricity, heat, and what both cost.
fn energy(case: &Case<'_>, id: &str, of: &Followed) -> Finding {
    let fan_h = fan_h(of);
    let (heat, cold) = (heat_kwh(of), cold_kwh(of));
    let kwh = |value: f64| EnergyKwh(Triple::exact(value));
    let electricity = energy_kwh(of);
    let key =
        if electricity.is_some() { RoomYearEnergyKey::Plain } else { RoomYearEnergyKey::NoWatts };
    let mut message =
        RoomYearEnergy { key, time: hours(fan_h), heat: kwh(heat + cold), electricity: None };
    if let Some(electricity) = electricity {
        message.electricity = Some(kwh(electricity));
    }
    let mut found = Finding::new(Check::RoomYearEnergy, id, Verdict::Holds, message, balance())
        .figure(kwh(electricity.unwrap_or(0.0) + heat + cold));
    if let Some(watts) = of.fan_w {
        found = found.step(Step {
            equation: Equation::Electricity.into(),
            inputs: vec![
                WorkingInput::new(
                    "P",
                    What::FanPower,
                    Figure::PowerW(Triple::exact(watts)),
                    Provenance::Written,
                ),
                computed("t_fan", What::FanHours, hours(fan_h).into()),
            ],
            result: electricity.map(|value| kwh(value).into()),
            source: Source::confirmed(SourceText::PowerTimesTime, ""),
        });
    }
    let made_up = |equation: Equation, result: f64| Step {
        equation: equation.into(),
        inputs: vec![
            computed(
                "Q",
                What::Delivered,
                Figure::AirflowLS(Triple::exact(1000.0 * of.exhaust_m3_s)),
            ),
            computed("t_fan", What::FanHours, hours(fan_h).into()),
        ],
        result: Some(kwh(result).into()),
        source: balance(),
    };
    found = found.step(made_up(Equation::HeatMadeUp, heat));
    if cold > 0.0 {
        found = found.step(made_up(Equation::ColdMadeUp, cold));
    }
    found.working.extend(cost(case, of));
    if electricity.is_none() {
        found = found.todo(Todo::ReadLabel);
    }
    found
}

/// What electricity, heat and cold cost, where the prices of what is used are written.
fn cost(case: &Case<'_>, of: &Followed) -> Option<Step> {
    let amount = results::cost(case, of)?.amount;
    let prices = &case.job.dwelling.prices;
    let energy = |kwh: f64| Figure::EnergyKwh(Triple::exact(kwh));
    let parts = [
        ("E", "p_E", What::Electricity, energy_kwh(of).unwrap_or(0.0), prices.electricity),
        ("Q_heat", "p_heat", What::HeatMadeUp, heat_kwh(of), prices.heat),
        ("Q_cool", "p_cool", What::ColdMadeUp, cold_kwh(of), prices.cooling),
    ];
    let inputs = parts.into_iter().filter_map(|(symbol, rate, what, kwh, price)| {
        let price = Figure::FactorRatio(Triple::exact(price?));
        let price = WorkingInput::new(rate, What::Price, price, Provenance::Written);
        Some([computed(symbol, what, energy(kwh)), price])
    });
    Some(Step {
        equation: "cost = E p_E + Q_heat p_heat + Q_cool p_cool".into(),
        inputs: inputs.flatten().collect(),
        result: Some(Figure::FactorRatio(Triple::exact(amount))),
        source: Source::confirmed(SourceText::PricesOfJob, "dwelling.prices"),
    })
}

fn mould(id: &str, of: &Followed) -> Option<Finding> {
    let worst = worst(of)?;
    let figure = MouldRatio(worst.peak);
    let limit = Figure::MouldRatio(Triple::exact(FIRST_GROWTH));
    let (verdict, key) = if worst.peak.likely >= FIRST_GROWTH {
        (Verdict::Caution, RoomMouldKey::Found)
    } else if worst.peak.high >= FIRST_GROWTH {
        (Verdict::Caution, RoomMouldKey::Band)
    } else {
        (Verdict::Holds, RoomMouldKey::Holds)
    };
    let message = RoomMould {
        key,
        index: figure,
        own: MouldRatio(Triple::exact(worst.peak.likely)),
        surface: Name::new(worst.watched.id.clone()),
    };
    let source = Source::confirmed(
        Citation("Hukka & Viitanen 1999; Ojanen, Viitanen et al. 2010"),
        SourceText::MouldIndex,
    );
    let humidity = Figure::HumidityRatio(Triple::exact(worst.running));
    let mut found = Finding::new(Check::RoomMould, id, verdict, message, source.clone())
        .figure(figure)
        .limit(limit)
        .step(followed(of, humidity))
        .step(Step {
            equation: Equation::MouldGrowth.into(),
            inputs: vec![computed("RH_30d", What::SurfaceHumidity, humidity)],
            result: Some(figure.into()),
            source,
        });
    if verdict == Verdict::Caution {
        found = found.todo(Todo::MoreAirOrLonger).todo(Todo::WarmerSurface);
    }
    Some(found)
}

fn running_mean(id: &str, of: &Followed) -> Option<Finding> {
    let watched = of.watched.iter().zip(of.growth.iter().map(|growth| growth.running_peak));
    let (surface, highest) = watched.max_by(|a, b| a.1.total_cmp(&b.1))?;
    let (figure, limit) =
        (HumidityRatio(Triple::exact(highest)), HumidityRatio(Triple::exact(RUNNING_LIMIT)));
    let holds = highest < RUNNING_LIMIT;
    let key =
        if holds { RoomHumidityRunningMeanKey::Holds } else { RoomHumidityRunningMeanKey::Found };
    let message = Message::from(RoomHumidityRunningMean {
        key,
        humidity: figure,
        limit,
        surface: Name::new(surface.id.clone()),
    });
    // From memory, so that it alone would not say: it is advice here, and its source says so.
    let source = Source::judgement(Judgement::MonthMean);
    let mut found =
        Finding::new(Check::RoomHumidityRunningMean, id, judged(holds), message, source)
            .figure(figure)
            .limit(limit)
            .step(followed(of, figure.into()))
            .step(law::step(
                &RUNNING_MEAN,
                vec![computed("RH_30d", What::SurfaceHumidity, figure.into())],
                Some(figure.into()),
            ));
    if !holds {
        found = found.todo(Todo::MoreAirOrLonger).todo(Todo::WarmerSurface);
    }
    Some(found)
}

/// The rest of the dwelling, and whether a control that looks at humidity could ever stop in it; `would_do` is the set-point with which it
/// does.
pub(super) fn dwelling(
    case: &Case<'_>,
    plan: &Plan,
    room: &RoomPlan,
    of: &Followed,
    would_do: impl FnOnce() -> Option<f64>,
) -> Finding {
    let damp_h = of.year.damp_s / 3600.0;
    let holds = damp_h <= DAMP_LIMIT_H;
    let mean = HumidityRatio(Triple::exact(results::mean_house_humidity(of)));
    let (figure, limit) = (hours(damp_h), hours(DAMP_LIMIT_H));
    let kept_on = room.control.on_at.and_then(|on_at| KeptOn::of(of, plan, on_at));
    let plain = || {
        let key = if holds { DwellingHumidKey::Holds } else { DwellingHumidKey::Found };
        DwellingHumid { key, time: figure, mean, limit }.into()
    };
    let message = kept_on.as_ref().map_or_else(plain, |kept_on| kept_on.message(case, room, of));
    let why = if kept_on.is_some() { Judgement::CanStop } else { Judgement::HumidQuarter };
    let leak = Figure::AirflowLS(Triple::exact(1000.0 * of.infiltration_m3_s));
    let step = law::step(
        &DWELLING_YEAR,
        vec![
            plan.inputs.in_working("G", plan.dwelling.moisture),
            computed("f_leak", What::Infiltration, leak),
            computed("m_dried", What::Dried, Figure::MassKg(Triple::exact(of.year.dried_kg))),
            computed("RH_house", What::MeanDwellingHumidity, mean.into()),
        ],
        Some(figure.into()),
    );
    let verdict = judged(holds && kept_on.is_none());
    let source = Source::judgement(why);
    let mut found =
        Finding::new(Check::DwellingHumid, "dwelling", verdict, message, source).step(step);
    found = match kept_on {
        Some(_) => found.figure(hours(fan_h(of))),
        None => found.figure(figure).limit(limit),
    };
    if let Some(kept_on) = &kept_on {
        found = found.todo(set_to(would_do(), kept_on.set_point, &kept_on.months));
    }
    if verdict == Verdict::Caution {
        found = found.todo(Todo::DryTheHouse);
    }
    found
}

/// Hours that the fan runs in the year.
fn fan_h(of: &Followed) -> f64 {
    of.year.months.iter().map(|m| m.fan_s).sum::<f64>() / 3600.0
}

/// Months in which a humidity control keeps its fan on.
struct KeptOn {
    months: Vec<bool>,
    set_point: f64,
}

impl KeptOn {
    /// None where it stops in every month.
    fn of(of: &Followed, plan: &Plan, on_at: InputId) -> Option<Self> {
        let runs = |(month, m): (usize, &Month)| m.fan_s > KEPT_ON * 3600.0 * hours_of(month);
        let months: Vec<bool> = of.year.months.iter().enumerate().map(runs).collect();
        let set_point = plan.inputs.value(on_at, Draw::Likely);
        months.contains(&true).then_some(Self { months, set_point })
    }

    /// Sum over its months.
    fn sum(&self, of: impl Fn(usize) -> f64) -> f64 {
        (0..self.months.len()).filter(|month| self.months[*month]).map(of).sum()
    }

    fn message(&self, case: &Case<'_>, room: &RoomPlan, of: &Followed) -> Message {
        let months = &of.year.months;
        let damp = self.sum(|month| hours_of(month) * months[month].house_humidity);
        let kwh = |joule: f64| EnergyKwh(Triple::exact(joule / J_PER_KWH));
        let (first, last) = stretch(&self.months);
        DwellingHumidNeverStops {
            room: Name::new(case.job.rooms[room.room].id.clone()),
            fan: hours(fan_h(of)),
            months: Count(Triple::exact(self.sum(|_| 1.0))),
            first,
            last,
            set_point: HumidityRatio(Triple::exact(self.set_point)),
            mean: HumidityRatio(Triple::exact(damp / self.sum(hours_of).max(1.0))),
            made_up: kwh(self.sum(|month| of.heat_j[month] + of.cold_j[month])),
            electricity: of.fan_w.map(|_| kwh(self.sum(|month| months[month].electric_j))),
        }
        .into()
    }
}

/// Water left in a run, in its worst month; and where it went.
pub(super) fn run(case: &Case<'_>, of: &RunYear) -> Vec<Finding> {
    let id = case.job.runs[of.run].id.as_str();
    let grams = |kg: f64| MassG(Triple::exact(1000.0 * kg));
    let worst = (0..12).max_by(|a, b| of.months_kg[*a].total_cmp(&of.months_kg[*b])).unwrap_or(0);
    let most_kg = of.months_kg[worst];
    let limit_kg = 0.001 * MONTHLY_LIMIT_G;
    let holds = most_kg <= limit_kg;
    let key = if most_kg < 0.001 * NOTHING_G {
        DuctYearKey::Dry
    } else if holds {
        DuctYearKey::Holds
    } else {
        DuctYearKey::Found
    };
    let (figure, limit) = (grams(most_kg), grams(limit_kg));
    let message = Message::from(DuctYear {
        key,
        water: figure,
        limit,
        back: grams(of.back_kg),
        out: grams(of.out_kg),
        month: months::word(worst),
    });
    let source = Source::judgement(Judgement::WaterOfMonth);
    let water = |symbol: &str, what: What, kg: f64| computed(symbol, what, grams(kg).into());
    let months = Step {
        equation: Equation::MonthByMonth.into(),
        inputs: vec![
            water("settled", What::DuctSettled, of.condensed_kg),
            water("dried", What::DuctDried, of.evaporated_kg),
            water("back", What::WaterBack, of.back_kg),
            water("out", What::WaterOut, of.out_kg),
            water("more", What::DuctMore, of.more_kg),
        ],
        result: Some(grams(of.months_kg.iter().sum()).into()),
        source: along(),
    };
    let worst = Step {
        equation: "max(m_1, ..., m_12)".into(),
        inputs: (1..)
            .zip(of.months_kg)
            .map(|(month, kg)| water(&format!("m_{month}"), What::DuctMonth, kg))
            .collect(),
        result: Some(figure.into()),
        source: along(),
    };
    let mut made = Finding::new(Check::DuctYear, id, judged(holds), message, source)
        .figure(figure)
        .limit(limit)
        .step(months)
        .step(worst);
    if !holds {
        made = made.todo(TodoInsulate { needed: None }).todo(Todo::RunOn);
    }
    let mut list = vec![made];
    list.extend(astray(id, of.residual));
    list
}

/// Water or energy that went astray: a fault of the program, said openly.
fn residual(id: &str, of: &Followed) -> Option<Finding> {
    astray(id, of.year.water_residual.max(of.year.energy_residual))
}

fn astray(id: &str, worst: f64) -> Option<Finding> {
    (worst.is_nan() || worst > RESIDUAL).then(|| {
        Finding::new(
            Check::EngineResidual,
            id,
            Verdict::Unknown,
            EngineResidual {},
            Source::judgement(Judgement::BalancesClose),
        )
        .figure(Figure::ShareRatio(Triple::exact(if worst.is_finite() {
            worst
        } else {
            1.0
        })))
    })
}
