//! What does not go together of the weather, the house, its rooms' use and the dials of its controls.
//!
//! Nothing here is impossible by itself, so nearly all of it is a warning: it says which of two values
//! counts, or that one of them has no meaning beside the other.

use std::collections::BTreeSet;

use dewpath_message::Message;
use dewpath_message::slot::{Name, Reference};
use dewpath_units::{Choice, Quantity, Stated, Uncertain, YesNo};

use crate::diagnostic::Diagnostic;
use crate::model::{
    ClockTime, Control, Dwelling, Fan, FanHabit, GivenChoice, GivenCount, Job, Months, PartKind,
    Room, Run, RunShape, Site, SlopeTo, SurfaceKind, Surroundings, VentilationKind,
};
use crate::read::Context;
use crate::say::{self, Do, Label};
use crate::value::span_si;

/// Checks everything that is said of weather, house, habits and controls.
pub(crate) fn whole(context: &mut Context<'_>, job: &Job) {
    weather(context, &job.site);
    house(context, &job.dwelling);
    for room in &job.rooms {
        habits(context, room);
        surfaces(context, room);
    }
    for fan in &job.fans {
        dials(context, fan);
    }
    for run in &job.runs {
        ducts(context, run);
    }
}

/// A warning at a value that is written.
fn warn(
    context: &mut Context<'_>,
    path: &str,
    message: impl Into<Message>,
    label: Label,
    help: impl Into<Message>,
) {
    let span = context.place(path);
    context.tell(Diagnostic::warning(path, span, message).label(label).help(help));
}

/// The one member that is meant, if it is only one.
fn known<C: Copy>(given: &GivenChoice<C>) -> Option<C> {
    match given.as_ref().map(|stated| &stated.value) {
        Some(Choice::Known(member)) => Some(*member),
        _ => None,
    }
}

/// A count that is exact.
fn exact(given: &GivenCount) -> Option<u32> {
    match given.as_ref().map(|stated| stated.value) {
        Some(Uncertain::Exact(count)) => Some(count),
        _ => None,
    }
}

/// Whether one value lies above another for certain.
fn above<Q: Quantity>(
    one: Option<&Stated<Uncertain<Q>>>,
    other: Option<&Stated<Uncertain<Q>>>,
) -> bool {
    matches!((span_si(one), span_si(other)), (Some((low, _)), Some((_, high))) if low > high)
}

fn weather(context: &mut Context<'_>, site: &Site) {
    if site.weather.as_ref().is_some_and(|file| file.trim().is_empty()) {
        let span = context.place("site.weather");
        context.tell(
            Diagnostic::error("site.weather", span, say::House::WeatherEmpty)
                .label(Label::FileNameBelongs)
                .help(Do::NameWeather),
        );
    }
    if site.weather.is_some() && site.months.is_some() {
        warn(
            context,
            "site.months",
            say::House::MonthsBesideWeather,
            Label::NotUsed,
            Do::LeaveOneOut,
        );
    }
    if let Some(months) = &site.months {
        dew_points(context, months);
    }
}

fn dew_points(context: &mut Context<'_>, months: &Months) {
    let path = "site.months.dew_point";
    let Some(dew_points) = &months.dew_point else { return };
    if months.humidity.is_some() {
        warn(context, path, say::House::MoistureTwice, Label::Used, Do::LeaveOneOut);
    }
    let pairs = dew_points.iter().zip(&months.temperature);
    let wrong = pairs.enumerate().find(|(_, (dew_point, air))| dew_point > air);
    if let Some((month, _)) = wrong {
        let span = context.place(path);
        let number = month + 1;
        context.tell(
            Diagnostic::error(path, span, say::DewPointAboveAir { month: say::count(number) })
                .label(Label::AirCannotHold)
                .help(Do::LookAtMonths),
        );
    }
}

fn house(context: &mut Context<'_>, dwelling: &Dwelling) {
    if above(dwelling.heating.as_ref(), dwelling.cooling.as_ref()) {
        warn(
            context,
            "dwelling.heating",
            say::House::HeatedAboveCooled,
            Label::AboveCooling,
            Do::WriteSetPoints,
        );
    }
    let uncooled =
        matches!(dwelling.air_conditioning.as_ref().map(|stated| stated.value), Some(YesNo::No));
    if uncooled && dwelling.cooling.is_some() {
        warn(
            context,
            "dwelling.cooling",
            say::House::SetPointWithoutCooling,
            Label::NotUsed,
            Do::LeaveSetPointOut,
        );
    }
    let ventilation = &dwelling.ventilation;
    let kind = known(&ventilation.kind);
    let flows = span_si(ventilation.airflow.as_ref()).is_some_and(|(low, _)| low > 0.0);
    if kind == Some(VentilationKind::None) && flows {
        warn(
            context,
            "dwelling.ventilation.airflow",
            say::House::AirflowWithoutVentilation,
            Label::NotUsed,
            Do::WriteVentilation,
        );
    }
    let one_way = matches!(kind, Some(VentilationKind::Exhaust | VentilationKind::Supply));
    for (key, share) in
        [("recovery", &ventilation.recovery), ("moisture_recovery", &ventilation.moisture_recovery)]
    {
        if one_way && span_si(share.as_ref()).is_some_and(|(low, _)| low > 0.0) {
            warn(
                context,
                &format!("dwelling.ventilation.{key}"),
                say::House::RecoveryOneWay,
                Label::NotUsed,
                Do::WriteBalanced,
            );
        }
    }
}

fn habits(context: &mut Context<'_>, room: &Room) {
    let usage = &room.usage;
    let path = |key: &str| format!("room.{}.use.{key}", room.id);
    let times = usage.at.len();
    let washes = match (exact(&usage.showers), exact(&usage.baths)) {
        (Some(showers), None | Some(0)) => Some((showers, showers)),
        (Some(showers), Some(baths)) => Some((showers, showers.saturating_add(baths))),
        _ => None,
    };
    if let Some((least, most)) = washes
        && times > 0
        && !(least as usize..=most as usize).contains(&times)
    {
        warn(
            context,
            &path("at"),
            say::ShowersAndTimes {
                room: Name::new(&room.id),
                showers: say::count(least as usize),
                times: say::count(times),
            },
            Label::OneTimeEach,
            Do::WriteEachTime,
        );
    }
    let mut seen: BTreeSet<ClockTime> = BTreeSet::new();
    if let Some(twice) = usage.at.iter().find(|time| !seen.insert(**time)) {
        warn(
            context,
            &path("at"),
            say::ShowersTogether { time: Reference::new(twice.to_string()) },
            Label::OneTimeTwice,
            Do::WriteSecondTime,
        );
    }
    if times > 1 && usage.gap.is_some() {
        warn(context, &path("gap"), say::House::PauseBesideTimes, Label::NotUsed, Do::LeaveOneOut);
    }
    let leaves_on = span_si(usage.leave_on.as_ref()).is_some_and(|(low, _)| low > 0.0);
    if leaves_on && known(&usage.fan) == Some(FanHabit::Forgotten) {
        warn(
            context,
            &path("leave_on"),
            say::House::LeftOnNeverOn,
            Label::NotUsed,
            Do::WriteFanHabit,
        );
    }
    let fixtures = &room.fixtures;
    let dry = [&fixtures.showers, &fixtures.tubs, &fixtures.jetted_tubs]
        .into_iter()
        .all(|count| exact(count) == Some(0));
    if dry && exact(&usage.showers).is_some_and(|showers| showers > 0) {
        warn(
            context,
            &path("showers"),
            say::OfRoomKey::ShowersWithoutShower.of(&room.id),
            Label::Where,
            Do::LookAtFixtures,
        );
    }
}

fn surfaces(context: &mut Context<'_>, room: &Room) {
    for surface in &room.surfaces {
        let path = |key: &str| format!("room.{}.surface.{}.{key}", room.id, surface.id);
        if surface.glazing.is_some() && surface.kind != SurfaceKind::Window {
            warn(
                context,
                &path("glazing"),
                say::OfThingKey::GlazingWithoutWindow.of(&surface.id),
                Label::NotUsed,
                Do::WriteWindow,
            );
        }
        let warm = matches!(
            surface.kind,
            SurfaceKind::Window | SurfaceKind::OutsideWall | SurfaceKind::Cistern
        );
        if warm && surface.heated.is_some() {
            warn(
                context,
                &path("heated"),
                say::OfThingKey::HeatedFromBehind.of(&surface.id),
                Label::UsualBehindMirror,
                Do::WriteHeater,
            );
        }
    }
}

fn dials(context: &mut Context<'_>, fan: &Fan) {
    let settings = &fan.settings;
    let path = |key: &str| format!("fan.{}.settings.{key}", fan.id);
    let control = known(&fan.control);
    let feels = [
        ("on_at", settings.on_at.is_some()),
        ("band", settings.band.is_some()),
        ("rise", settings.rise.is_some()),
    ];
    // A fan that always runs may be boosted by a sensor, so only controls without one are looked at.
    let blind = matches!(
        control,
        Some(Control::Switch | Control::LightSwitch | Control::Timer | Control::Occupancy)
    );
    let first = feels.into_iter().find(|(_, written)| *written);
    if let (true, Some((key, _))) = (blind, first) {
        warn(
            context,
            &path(key),
            say::OfFanKey::FeelsNoHumidity.of(&fan.id),
            Label::NotUsed,
            Do::WriteHumidityControl,
        );
    }
    if settings.off_delay.is_some() && control.is_some_and(|control| control != Control::Occupancy)
    {
        warn(
            context,
            &path("off_delay"),
            say::OfFanKey::FeelsNoPeople.of(&fan.id),
            Label::NotUsed,
            Do::WriteOccupancy,
        );
    }
    let dead = span_si(settings.band.as_ref()).zip(span_si(settings.on_at.as_ref()));
    if dead.is_some_and(|((band, _), (_, on_at))| band >= on_at) {
        warn(context, &path("band"), say::House::BandTooWide, Label::AsLargeAsOnAt, Do::LookAtBand);
    }
    if above(settings.run_on.as_ref(), settings.max_run.as_ref()) {
        warn(
            context,
            &path("run_on"),
            say::House::RunOnBeyondMost,
            Label::LongerThanMaxRun,
            Do::LookAtDials,
        );
    }
}

fn ducts(context: &mut Context<'_>, run: &Run) {
    let buried = |place: &GivenChoice<Surroundings>| {
        known(place).is_none_or(|place| place == Surroundings::Buried)
    };
    let path = format!("run.{}", run.id);
    match &run.shape {
        RunShape::Sum(sum) => {
            if sum.duct.cover.is_some() && !buried(&sum.duct.place) {
                cover(context, &format!("{path}.cover"));
            }
            let rises = span_si(run.rise.as_ref()).is_some_and(|(low, _)| low > 0.0);
            if rises && known(&sum.duct.slope) == Some(SlopeTo::Out) {
                warn(
                    context,
                    &format!("{path}.slope"),
                    say::RisesButFalls { run: Name::new(&run.id) },
                    Label::WaterRunsDown,
                    Do::LookAtRise,
                );
            }
        }
        RunShape::Parts(parts) => {
            for part in parts {
                let PartKind::Piece { duct, .. } = &part.kind else { continue };
                let own = format!("{path}.part.{}.piece.cover", part.id);
                // The cover of the run holds for those of its pieces that are buried.
                if duct.cover.is_some() && !buried(&duct.place) && context.places.contains_key(&own)
                {
                    cover(context, &own);
                }
            }
        }
    }
}

fn cover(context: &mut Context<'_>, path: &str) {
    warn(context, path, say::House::CoverWithoutBuried, Label::NotUsed, Do::WriteBuried);
}
