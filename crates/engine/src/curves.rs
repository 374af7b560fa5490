//! The curve of each fan and of what it blows through.

use dewpath_air::element::Element;
use dewpath_case::inputs::{Draw, Inputs};
use dewpath_case::sample::Sample;
use dewpath_case::system::System;
use dewpath_case::system::instance::{Instance, Replacement};
use dewpath_case::system::spec::{Conditions, Owner};
use dewpath_job::model::Job;
use dewpath_report::{FanCurves, FanPoint, SystemPoint, Triple};

/// Steps along each curve.
const STEPS: usize = 30;
/// How far beyond its ends a curve is followed.
const BEYOND: f64 = 1.1;

/// Curves of every fan that runs and of which something is known.
pub(crate) fn curves(job: &Job, system: &System, inputs: &Inputs) -> Vec<FanCurves> {
    (0..job.fans.len()).filter_map(|fan| of_fan(job, system, inputs, fan)).collect()
}

fn of_fan(job: &Job, system: &System, inputs: &Inputs, fan: usize) -> Option<FanCurves> {
    let (edge, item) = system.find(|o| *o == Owner::Fan { fan })?;
    let conditions = Conditions::default();
    let mut instance = Instance::new(job, system, inputs, &conditions).ok()?;
    let (free_m3_s, shut_off_pa) = {
        instance.load(Draw::Likely).ok()?;
        match instance.elements(edge).get(instance.first_element(edge, item)) {
            Some(Element::Fan(curve)) => (curve.last_flow_m3_s(), curve.shut_off_pa()),
            _ => return None,
        }
    };
    let flow = |step: usize| BEYOND * free_m3_s * step as f64 / STEPS as f64;
    let curve = sweep(inputs, |draw| {
        instance.load(draw).ok()?;
        let at = instance.first_element(edge, item);
        let Some(Element::Fan(curve)) = instance.elements(edge).get(at) else { return None };
        Some((0..=STEPS).map(|step| curve.rise(flow(step)).0).collect())
    })?;
    instance.replace(fan, Replacement::Pressure(1.0));
    // Even steps of its root: the flow then goes up in nearly even steps.
    let pressure = |step: usize| {
        let share = step as f64 / STEPS as f64;
        BEYOND * shut_off_pa.max(1.0) * share * share
    };
    let through = sweep(inputs, |draw| {
        instance.load(draw).ok()?;
        let mut flows = Vec::with_capacity(STEPS + 1);
        for step in 0..=STEPS {
            instance.balance_at(pressure(step)).ok()?;
            flows.push(instance.flow_m3_s(edge) * 1000.0);
        }
        Some(flows)
    })?;
    let points = |step: usize, pressure_pa: &Triple| FanPoint {
        airflow_l_s: flow(step) * 1000.0,
        pressure_pa: *pressure_pa,
    };
    let system_points = |step: usize, airflow_l_s: &Triple| SystemPoint {
        pressure_pa: pressure(step),
        airflow_l_s: *airflow_l_s,
    };
    Some(FanCurves {
        fan: job.fans[fan].id.clone(),
        curve: curve.iter().enumerate().map(|(step, t)| points(step, t)).collect(),
        system: through.iter().enumerate().map(|(step, t)| system_points(step, t)).collect(),
    })
}

/// Low, likely and high at every step, over the draws that have an answer. None when the likely values have none.
fn sweep(inputs: &Inputs, mut line: impl FnMut(Draw) -> Option<Vec<f64>>) -> Option<Vec<Triple>> {
    let likely = line(Draw::Likely)?;
    let draws: Vec<Vec<f64>> =
        (0..inputs.draws() as usize).filter_map(|i| line(Draw::At(i))).collect();
    let at = |step: usize| Sample {
        likely: likely[step],
        draws: draws.iter().map(|draw| draw[step]).collect(),
    };
    Some((0..likely.len()).map(|step| at(step).triple()).collect())
}
