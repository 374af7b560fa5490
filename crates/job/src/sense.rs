//! What does not go together of the weather, the house, its rooms' use and the dials of its controls.
//!
//! Nothing here is impossible by itself, so nearly all of it is a warning: it says which of two values
//! counts, or that one of them has no meaning beside the other.

use std::collections::BTreeSet;

use dewpath_units::{Choice, Quantity, Stated, Uncertain, YesNo};

use crate::diagnostic::Diagnostic;
use crate::model::{
    ClockTime, Control, Dwelling, Fan, FanHabit, GivenChoice, GivenCount, Job, Months, PartKind,
    Room, Run, RunShape, Site, SlopeTo, SurfaceKind, Surroundings, VentilationKind,
};
use crate::read::Context;
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
fn warn(context: &mut Context<'_>, path: &str, message: String, label: &str, help: &str) {
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
            Diagnostic::error("site.weather", span, "`site.weather` names no file")
                .label("a file name belongs here")
                .help("for example: weather = \"weather/town.csv\"; leave the key out where there is no such file"),
        );
    }
    if site.weather.is_some() && site.months.is_some() {
        warn(
            context,
            "site.months",
            "monthly means are written beside a weather file, which goes before them".to_owned(),
            "not used",
            "leave one of the two out",
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
        warn(
            context,
            path,
            "the moisture outdoors is written twice, as relative humidity and as dew point"
                .to_owned(),
            "this one is used",
            "leave one of the two out",
        );
    }
    let pairs = dew_points.iter().zip(&months.temperature);
    let wrong = pairs.enumerate().find(|(_, (dew_point, air))| dew_point > air);
    if let Some((month, _)) = wrong {
        let span = context.place(path);
        let number = month + 1;
        context.tell(
            Diagnostic::error(
                path,
                span,
                format!("the dew point of month {number} lies above the air temperature"),
            )
            .label("air cannot hold that")
            .help("look at the order of the months, and at the units"),
        );
    }
}

fn house(context: &mut Context<'_>, dwelling: &Dwelling) {
    if above(dwelling.heating.as_ref(), dwelling.cooling.as_ref()) {
        warn(
            context,
            "dwelling.heating",
            "the house is heated to more than it is cooled to: is that meant?".to_owned(),
            "above `cooling`",
            "for example: heating = \"70 F\" and cooling = \"76 F\"",
        );
    }
    let uncooled =
        matches!(dwelling.air_conditioning.as_ref().map(|stated| stated.value), Some(YesNo::No));
    if uncooled && dwelling.cooling.is_some() {
        warn(
            context,
            "dwelling.cooling",
            "a set-point of the cooling is written, but `air_conditioning` says that there is none"
                .to_owned(),
            "not used",
            "leave the set-point out, or write air_conditioning = true",
        );
    }
    let ventilation = &dwelling.ventilation;
    let kind = known(&ventilation.kind);
    let flows = span_si(ventilation.airflow.as_ref()).is_some_and(|(low, _)| low > 0.0);
    if kind == Some(VentilationKind::None) && flows {
        warn(
            context,
            "dwelling.ventilation.airflow",
            "an airflow is written for a house without ventilation".to_owned(),
            "not used",
            "write kind = \"balanced\", \"exhaust\" or \"supply\", or leave the airflow out",
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
                "only ventilation with air both ways hands heat or moisture over".to_owned(),
                "not used",
                "write kind = \"balanced\", or leave the share out",
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
            format!(
                "showers in room `{}`: {least} in a day, but {times} of the times at which they begin",
                room.id
            ),
            "one time for each",
            "write as many times as showers, or leave the times out",
        );
    }
    let mut seen: BTreeSet<ClockTime> = BTreeSet::new();
    if let Some(twice) = usage.at.iter().find(|time| !seen.insert(**time)) {
        warn(
            context,
            &path("at"),
            format!("two showers begin at {twice}: is that meant?"),
            "one time twice",
            "where one follows the other, write when the second begins",
        );
    }
    if times > 1 && usage.gap.is_some() {
        warn(
            context,
            &path("gap"),
            "the pause between showers is written beside the times at which they begin".to_owned(),
            "not used",
            "leave one of the two out",
        );
    }
    let leaves_on = span_si(usage.leave_on.as_ref()).is_some_and(|(low, _)| low > 0.0);
    if leaves_on && known(&usage.fan) == Some(FanHabit::Forgotten) {
        warn(
            context,
            &path("leave_on"),
            "the fan is never switched on, but left on after the shower".to_owned(),
            "not used",
            "write fan = \"during and after\", or leave the time out",
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
            format!("showers are taken in room `{}`, which has neither shower nor tub", room.id),
            "where?",
            "look at the fixtures of the room",
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
                format!("`{}` is no window, but has glazing", surface.id),
                "not used",
                "write kind = \"window\", or leave the glazing out",
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
                format!("`{}` is heated from behind: is that meant?", surface.id),
                "usual behind a mirror, under tile or in a floor",
                "a heater that warms the whole room is the room's `heater`",
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
            format!("the control of `{}` feels no humidity, but is set to one", fan.id),
            "not used",
            "write control = \"humidity control\", or leave the setting out",
        );
    }
    if settings.off_delay.is_some() && control.is_some_and(|control| control != Control::Occupancy)
    {
        warn(
            context,
            &path("off_delay"),
            format!("the control of `{}` does not feel people", fan.id),
            "not used",
            "write control = \"occupancy sensor\", or `run_on` for the time it runs on",
        );
    }
    let dead = span_si(settings.band.as_ref()).zip(span_si(settings.on_at.as_ref()));
    if dead.is_some_and(|((band, _), (_, on_at))| band >= on_at) {
        warn(
            context,
            &path("band"),
            "the control would only switch off in air without any moisture".to_owned(),
            "as large as `on_at`",
            "the band is the distance from switching on to switching off, such as \"5 %\"",
        );
    }
    if above(settings.run_on.as_ref(), settings.max_run.as_ref()) {
        warn(
            context,
            &path("run_on"),
            "the fan runs on for longer than it may run in one go".to_owned(),
            "longer than `max_run`",
            "look at the two dials again",
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
                    format!("run `{}` ends higher than it begins, but falls to outdoors", run.id),
                    "water runs down, so it would run to the fan",
                    "look at the sign of `rise`; a run that goes up and then falls is written in parts",
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
    warn(
        context,
        path,
        "loose fill is written above a duct that is not buried".to_owned(),
        "not used",
        "write place = \"buried in insulation\", or leave the cover out",
    );
}
