//! Why a network gives no answer.

use thiserror::Error;

use super::id::{EdgeId, NodeId};

/// Why a network can't be solved, seen from how it is put together.
#[derive(Clone, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum NetworkError {
    /// An edge ends at a node that doesn't exist.
    #[error("edge {} ends at node {}, which doesn't exist; add the node first", edge.0, node.0)]
    UnknownNode {
        /// The edge.
        edge: EdgeId,
        /// The node it names.
        node: NodeId,
    },
    /// An edge starts and ends at the same node.
    #[error("edge {} starts and ends at node {}; air doesn't flow from a place to itself", edge.0, node.0)]
    Loop {
        /// The edge.
        edge: EdgeId,
        /// The node.
        node: NodeId,
    },
    /// An edge has nothing that resists flow.
    #[error(
        "edge {} has no duct, fitting, opening or fan, so nothing limits its flow; add one, or make its two nodes one",
        edge.0
    )]
    NoResistance {
        /// The edge.
        edge: EdgeId,
    },
    /// Free nodes without any way to a fixed pressure.
    #[error(
        "node {} has no way to a place of known pressure ({} nodes hang together with it); connect them to a room or outdoors",
        .nodes[0].0, .nodes.len()
    )]
    Disconnected {
        /// The nodes that hang together.
        nodes: Vec<NodeId>,
    },
    /// A tee refers to an edge that doesn't exist, or to its own edge.
    #[error("the tee in edge {} refers to edge {} as its common leg, which isn't another edge", edge.0, common.0)]
    UnknownCommonEdge {
        /// The edge the tee stands in.
        edge: EdgeId,
        /// The edge it names.
        common: EdgeId,
    },
    /// A pressure or an extraction is set where there is none, or isn't a number.
    #[error("node {} can't take {what} {value}", node.0)]
    BadNodeValue {
        /// The node.
        node: NodeId,
        /// What was to be set.
        what: &'static str,
        /// The value as given.
        value: f64,
    },
}

/// Why a solve ended without an answer.
#[derive(Clone, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum SolveError {
    /// The iterations ran out.
    #[error(
        "no flow found that balances: after {iterations} steps edge {} is still {pressure_residual_pa:.3e} Pa off and a node {mass_residual_m3_s:.3e} m3/s; look at that edge's sizes and curves",
        worst_edge.0
    )]
    NotConverged {
        /// Steps taken.
        iterations: usize,
        /// Largest pressure residual, Pa.
        pressure_residual_pa: f64,
        /// Largest mass residual, m3/s.
        mass_residual_m3_s: f64,
        /// The edge with the largest pressure residual.
        worst_edge: EdgeId,
    },
    /// An element's loss isn't a finite number.
    #[error("the loss of edge {} isn't a finite number at {flow_m3_s} m3/s; check its sizes", edge.0)]
    NotFinite {
        /// The edge.
        edge: EdgeId,
        /// The flow at which it happened, m3/s.
        flow_m3_s: f64,
    },
    /// A tee put in between solves names a common edge that doesn't exist, or stands where none was when the network
    /// was built.
    #[error("a tee refers to edge {} as its common leg and can't be followed; build the network with it", common.0)]
    StrayTee {
        /// The edge the tee names.
        common: EdgeId,
    },
    /// The start has another length than the network has edges.
    #[error("the start has {given} flows, the network {edges} edges")]
    StartLength {
        /// Flows given.
        given: usize,
        /// Edges of the network.
        edges: usize,
    },
}
