//! What a humidity control can reach, and what to set it to.

use dewpath_message::slot::HumidityRatio;
use dewpath_moisture::room::{Boundary, Care, Control, Simulation, Step};
use dewpath_report::say::{Todo, TodoSetPoint};
use dewpath_report::{Message, Triple};

use super::model::Built;
use super::months::stretch;

/// How long the fan is held on to see how far it brings the humidity down, s: two days.
const HELD_S: u32 = 2 * 86_400;
/// A set-point that would do stands so far above where the fan would stop. Judgement: no sensor is good to less.
const SPARE: f64 = 0.02;
/// No dial goes as high as this.
const HIGHEST: f64 = 0.95;

/// A room with its fan held on through a month.
pub(crate) struct Held {
    /// Relative humidity that it comes down to, nobody showering.
    pub humidity: f64,
    /// Heating and cooling that make up for the air drawn off, W.
    pub made_up_w: f64,
}

/// Holds the fan on with nobody showering, from a humidity ratio of room and dwelling; none where the room cannot be followed. `made_up_j`
/// tells what a step costs.
pub(crate) fn held_on(
    built: &Built,
    boundary: &Boundary,
    start_w: f64,
    made_up_j: impl Fn(&Step<'_>) -> f64,
) -> Option<Held> {
    let fan = if built.full_kg_s > 0.0 { Control::Always } else { Control::Never };
    let mut sim = Simulation::new(&built.model, fan, &[], *boundary, Care::default()).ok()?;
    sim.start_at(start_w, start_w);
    let mut sum_j = 0.0;
    sim.run(HELD_S, &mut |step: &Step<'_>| sum_j += made_up_j(step));
    Some(Held { humidity: sim.room_humidity(), made_up_w: sum_j / f64::from(HELD_S) })
}

/// Set-point with which a control stops its fan in every month; none where no dial goes so high, or nothing is known of the months.
pub(crate) fn would_do(lowest: impl Iterator<Item = f64>, band: f64) -> Option<f64> {
    // The fan stops a band below the dial.
    lowest.reduce(f64::max).map(|most| most + band + SPARE).filter(|at| *at < HIGHEST)
}

/// What to set a control to that stands at a set-point and keeps its fan on in some months.
pub(crate) fn set_to(would_do: Option<f64>, set_point: f64, months: &[bool]) -> Message {
    let Some(at) = would_do else { return Todo::ControlByRise.into() };
    if at <= set_point {
        return Todo::RaiseSetPoint.into();
    }
    // Up to what a dial can be set to.
    let set_point = HumidityRatio(Triple::exact((100.0 * at - 1e-9).ceil() / 100.0));
    let (first, last) = stretch(months);
    TodoSetPoint { set_point, first, last }.into()
}
