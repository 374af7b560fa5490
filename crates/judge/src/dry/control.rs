//! What a humidity control can reach.

use dewpath_moisture::room::{Boundary, Care, Control, Simulation, Step};

use super::model::Built;

/// How long the fan is held on to see how far it brings the humidity down, s: two days.
const HELD_S: u32 = 2 * 86_400;

/// Relative humidity that a room comes down to with its fan held on and nobody showering; none where it cannot be
/// followed.
pub(crate) fn lowest_humidity(built: &Built, boundary: &Boundary) -> Option<f64> {
    let fan = if built.full_kg_s > 0.0 { Control::Always } else { Control::Never };
    let mut sim = Simulation::new(&built.model, fan, &[], *boundary, Care::default()).ok()?;
    sim.start_at(boundary.house_w, boundary.house_w);
    sim.run(HELD_S, &mut |_: &Step<'_>| {});
    Some(sim.room_humidity())
}
