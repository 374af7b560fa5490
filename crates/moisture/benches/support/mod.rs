//! Rooms that the benches follow: those of the example programs.
#![allow(dead_code, reason = "each bench uses a part")]

use dewpath_moisture::duct::legs::{Leg, Legs, Pace};
use dewpath_moisture::duct::line::{Around, DuctLine, Inlet, Piece, STEEL_J_M2_K, Slope};
use dewpath_moisture::mould::{DeclineClass, SensitivityClass, Substrate};
use dewpath_moisture::room::{
    Boundary, Care, Control, Event, Judge, Model, Shower, Simulation, Step, Year, YearPlan,
    follow_shower, follow_year,
};
use dewpath_units::{Length, Pressure, ThermalResistance};
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
    watched_year(case, &mut |_: &Step<'_>| {})
}

/// Seven metres of steel under an attic's wrap, in eight cells that fall to the outside.
fn duct() -> DuctLine {
    let piece = Piece {
        length: Length::from_m(7.0),
        diameter: Length::from_mm(125.0),
        roughness: Length::from_mm(0.09),
        wall_j_m2_k: STEEL_J_M2_K,
        outward: ThermalResistance::from_rsi(0.6),
        outside_film: ThermalResistance::from_rsi(0.1),
        slope: Slope::DrainsOut,
        cells: 8,
    };
    let around = Around { t_c: 5.0, w: 0.004 };
    DuctLine::new(&[piece], &[around], Pressure::from_pa(99_800.0)).expect("the duct is possible")
}

/// The year with the wall of the duct followed along: the room's, and the water that settled in the duct, kg.
pub(crate) fn year_with_duct(case: &Case) -> (Year, f64) {
    let (mut line, mut legs) = (duct(), Legs::new(Pace::year()));
    let mut pass = |leg: &Leg| {
        let t_c = leg.house_c + 0.95 * (leg.outdoor_c - leg.house_c);
        line.set_around(0, Around { t_c, w: 0.004 }).expect("the air is possible");
        let inlet = Inlet { dry_air_kg_s: leg.flow_kg_s, t_c: leg.t_c, w: leg.w };
        line.step(leg.seconds, inlet).expect("the step is possible");
    };
    let year = watched_year(case, &mut |step: &Step<'_>| legs.step(step, &mut pass));
    legs.close(&mut pass);
    (year, line.totals().condensed_kg)
}

fn watched_year(case: &Case, watch: &mut impl FnMut(&Step<'_>)) -> Year {
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
    follow_year(&mut sim, &plan, watch)
}
