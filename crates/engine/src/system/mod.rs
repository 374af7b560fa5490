//! The ventilation system of a job as a graph: what is joined to what, and what is known of it.
//!
//! [`System::of`] reads the job once: every value that the air has to pass becomes an input, every
//! piece of the way an item on an edge. [`instance`] turns one draw of the inputs into a duct
//! network of the `air` crate. Edges point the way the air should go.

mod ask;
pub(crate) mod compile;
pub(crate) mod instance;
pub(crate) mod parts;
mod runs;
pub(crate) mod spec;
mod things;

use dewpath_job::model::Job;

use crate::inputs::{Draw, InputId, Inputs};
use spec::{Edge, Item, Owner};

pub(crate) use parts::roughness_m;
pub(crate) use things::leak;

/// The graph, with series parts merged into one edge.
#[derive(Debug, Clone)]
pub(crate) struct System {
    /// Number of nodes; node 0 is outdoors.
    pub nodes: usize,
    /// Edges.
    pub edges: Vec<Edge>,
    /// Air of the reference case.
    pub air: AirInputs,
}

/// Inputs that set the density and viscosity of the air.
#[derive(Debug, Clone, Copy)]
pub(crate) struct AirInputs {
    /// Altitude, m.
    pub altitude: InputId,
    /// Indoor temperature, K.
    pub indoor: InputId,
    /// Relative humidity in the room, share.
    pub humidity: InputId,
}

impl System {
    /// Reads the job into a graph.
    pub(crate) fn of(job: &Job, inputs: &mut Inputs) -> Self {
        compile::compile(job, inputs)
    }

    /// Where an item sits: edge and place on it.
    pub(crate) fn find(&self, wanted: impl Fn(&Owner) -> bool) -> Option<(usize, usize)> {
        self.edges.iter().enumerate().find_map(|(e, edge)| {
            let place = edge.items.iter().position(|item| wanted(&item.owner))?;
            Some((e, place))
        })
    }

    /// Every item, with its edge.
    pub(crate) fn items(&self) -> impl Iterator<Item = (usize, &Item)> {
        self.edges.iter().enumerate().flat_map(|(e, edge)| edge.items.iter().map(move |i| (e, i)))
    }

    /// Straight length of a run in a draw, m.
    pub(crate) fn straight_m(&self, run: usize, inputs: &Inputs, draw: Draw) -> f64 {
        self.items()
            .filter_map(|(_, item)| match (&item.owner, &item.spec) {
                (Owner::Part { run: r, .. }, spec::Spec::Piece { length, .. }) if *r == run => {
                    Some(inputs.value(*length, draw))
                }
                _ => None,
            })
            .sum()
    }
}
