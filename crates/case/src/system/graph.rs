//! The graph itself, and where things sit on it.

use super::spec::{Edge, Item, Owner, Spec};
use crate::inputs::{Draw, InputId, Inputs};

/// The graph, with series parts merged into one edge.
#[derive(Debug, Clone)]
pub struct System {
    /// Number of nodes; node 0 is outdoors.
    pub nodes: usize,
    /// Edges.
    pub edges: Vec<Edge>,
    /// Air of the reference case.
    pub air: AirInputs,
}

/// Inputs that set the density and viscosity of the air.
#[derive(Debug, Clone, Copy)]
pub struct AirInputs {
    /// Altitude, m.
    pub altitude: InputId,
    /// Indoor temperature, K.
    pub indoor: InputId,
    /// Relative humidity in the room, share.
    pub humidity: InputId,
}

impl System {
    /// Where an item sits, by index: its edge, and the item on it.
    pub fn find(&self, wanted: impl Fn(&Owner) -> bool) -> Option<(usize, usize)> {
        self.edges.iter().enumerate().find_map(|(e, edge)| {
            let item = edge.items.iter().position(|item| wanted(&item.owner))?;
            Some((e, item))
        })
    }

    /// Every item, with its edge.
    pub fn items(&self) -> impl Iterator<Item = (usize, &Item)> {
        self.edges.iter().enumerate().flat_map(|(e, edge)| edge.items.iter().map(move |i| (e, i)))
    }

    /// Straight length of a run in a draw, m.
    pub fn straight_m(&self, run: usize, inputs: &Inputs, draw: Draw) -> f64 {
        self.items()
            .filter_map(|(_, item)| match (&item.owner, &item.spec) {
                (Owner::Part { run: r, .. }, Spec::Piece { length, .. }) if *r == run => {
                    Some(inputs.value(*length, draw))
                }
                _ => None,
            })
            .sum()
    }
}
