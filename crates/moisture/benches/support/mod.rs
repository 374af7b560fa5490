//! Rooms that the benches follow: those of the example programs.
#![allow(dead_code, reason = "each bench uses a part")]

use dewpath_moisture::mould::{DeclineClass, SensitivityClass, Substrate};
use dewpath_moisture::room::{
    Boundary, Care, Control, Event, Judge, Model, Shower, Simulation, Step, Year, YearPlan,
    follow_shower, follow_year,
};
use example::{Case, START_W};

#[path = "../../examples/support/mod.rs"]
mod example;

/// Hours of a year.
const HOURS: usize = 8760;
/// The design shower: from seven in the morning, s.
const ON_S: u32 = 7 * 3600;
/// How long it is, s.
const LENGTH_S: u32 = 600;
/// The mirror among the surfaces of the bathroom.
const MIRROR: usize = 1;

/// A bathroom on a winter's day.
pub(crate) struct Day {
    model: Model,
    events: Vec<Event>,
    boundary: Boundary,
}

/// The design shower of a bathroom, at a place of its ranges from 0 to 1.
pub(crate) fn design_shower(place: f64) -> Day {
    let mut model = example::bathroom();
    model.shower.vapour_kg_s *= 0.8 + 0.4 * place;
    model.dry_air_kg *= 1.1 - 0.2 * place;
    let boundary = Boundary {
        outdoor_c: -8.0 + 10.0 * place,
        outdoor_w: 0.002,
        house_c: 20.0,
        house_w: 0.0065,
        water_c: 9.0,
        class: 0,
        cooled_kg_s: 0.0,
    };
    Day { model, events: example::showers(&[(ON_S / 60, LENGTH_S / 60)]), boundary }
}

/// From midnight until mirror and room are as before, with a fan on a timer.
pub(crate) fn shower(day: &Day) -> Shower {
    let control = Control::Switch { run_on_s: 1200 };
    let care = Care { longest_s: 600, ..Care::default() };
    let mut sim = Simulation::new(&day.model, control, &day.events, day.boundary, care)
        .expect("the room is possible");
    sim.start_at(START_W, START_W);
    sim.run(ON_S - 300, &mut |_: &Step<'_>| {});
    let judge = Judge { mirror: Some(MIRROR), ..Judge::default() };
    follow_shower(&mut sim, &judge, 300, 300 + LENGTH_S, &mut |_: &Step<'_>| {})
        .expect("it can be followed")
}

/// A year of one zone and one surface, and one of two zones and four surfaces.
pub(crate) fn years() -> [Case; 2] {
    let hours = example::waves(HOURS);
    [example::one_zone(&hours), example::dwelling(&hours)]
}

/// The year with mould on every surface, after the weeks in which it settles.
pub(crate) fn year(case: &Case) -> Year {
    let substrate = Substrate::Class(SensitivityClass::Sensitive, DeclineClass::RelativelyLow);
    let surfaces = case.model.surfaces.len();
    let watched: Vec<_> = (0..surfaces).map(|surface| (surface, substrate)).collect();
    let plan = YearPlan {
        hours: &case.hours,
        mirror: Some(MIRROR.min(surfaces - 1)),
        clear_kg_m2: Judge::default().clear_kg_m2,
        watched: &watched,
    };
    let mut sim =
        Simulation::new(&case.model, case.control, &case.events, case.hours[0], Care::year())
            .expect("the room is possible");
    sim.start_at(START_W, START_W);
    follow_year(&mut sim, &plan, &mut |_: &Step<'_>| {})
}
