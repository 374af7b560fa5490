//! The least insulation that keeps the water of a winter day under a limit, in products of the library first.
//!
//! What rises into the duct at rest is left out here: a flap that shuts is what helps most against it.

use dewpath_air::domain::OutOfDomain;
use dewpath_case::given;
use dewpath_case::inputs::Draw;
use dewpath_job::model::SlopeTo;
use dewpath_moisture::duct::choice::least_insulation;
use dewpath_report::say::Todo;
use dewpath_report::{InsulationNeed, Message};
use dewpath_units::ThermalResistance;

use super::super::day::Day;
use super::follow::Scene;
use super::plan::unheated;

/// Water of a winter day that may stay in a duct or come back to the fan, g. Judgement: 20 to 30 g; less is drunk by dust and
/// joints and dries on the next mild day.
pub(super) const DAILY_LIMIT_G: f64 = 25.0;

/// Insulation that is sold for a round duct, h·ft²·°F/Btu as labelled: jackets of flexible duct and wraps. Common practice, no
/// source. What more would do is no product but burial.
const LABELS_R_IP: [f64; 4] = [2.1, 4.2, 6.0, 8.0];

/// What a run needs, zero where it may be bare; none where none of it lies in the cold.
pub(super) fn need(scene: &Scene<'_>, index: usize, day: &Day) -> Option<InsulationNeed> {
    let plan = &scene.path.runs[index];
    let own = &scene.plan.inputs;
    if !plan.pieces.iter().any(|piece| unheated(piece.place.value(own, Draw::Likely))) {
        return None;
    }
    let limit_kg = 0.001 * DAILY_LIMIT_G;
    let stays_kg = |tried: ThermalResistance| -> Result<f64, OutOfDomain> {
        let runs = scene.in_use(day, tried);
        // What cannot be followed does not suffice.
        Ok(runs.and_then(|runs| Some(runs.get(index)?.stays_kg())).unwrap_or(f64::INFINITY))
    };
    let (ids, products): (Vec<&str>, Vec<ThermalResistance>) = scene
        .case
        .world
        .products
        .ducts
        .iter()
        .filter_map(|duct| Some((duct.id.as_str(), given::likely(&duct.duct.insulation)?)))
        .unzip();
    let labels = LABELS_R_IP.map(ThermalResistance::from_r_ip);
    let (needed_rsi, product) = if stays_kg(ThermalResistance::from_rsi(0.0)).ok()? <= limit_kg {
        (Some(0.0), None)
    } else if let Some(found) = least_insulation(&products, limit_kg, stays_kg).ok()? {
        (Some(products[found].rsi()), Some(ids[found].to_owned()))
    } else {
        let found = least_insulation(&labels, limit_kg, stays_kg).ok()?;
        (found.map(|found| labels[found].rsi()), None)
    };
    let instead = if needed_rsi.is_none() { instead(scene, index) } else { Vec::new() };
    Some(InsulationNeed { needed_rsi, product, limit_g: DAILY_LIMIT_G, instead })
}

/// What helps where no insulation suffices.
fn instead(scene: &Scene<'_>, index: usize) -> Vec<Message> {
    let plan = &scene.path.runs[index];
    let own = &scene.plan.inputs;
    let falls_out =
        |piece: &super::plan::PiecePlan| piece.slope.value(own, Draw::Likely) == SlopeTo::Out;
    let mut list = Vec::new();
    if !plan.slope_unknown && !plan.pieces.iter().all(falls_out) {
        list.push(Message::from(Todo::SlopeOut));
    }
    list.push(Message::from(Todo::RunOn));
    list.push(Message::from(Todo::Bury));
    if !plan.trap {
        list.push(Message::from(Todo::Trap));
    }
    list
}
