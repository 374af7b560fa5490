//! Flow and pressure in a network of ducts, fans and openings.
//!
//! Nodes are places with one pressure: a room, outdoors at a terminal, a junction. Edges are runs from one node
//! to another, each a row of [`Element`](crate::element::Element)s. At a fixed node the pressure is given; at a free node it follows from
//! the flows, which balance there. Pressures are relative to one common reference; density is the same all
//! through (a duct 20 K warmer than the house changes it by 7 %: give each element the density of its air).
//!
//! # Method
//!
//! Unknown are all edge flows and all free pressures. Newton's method on the energy law of every edge and the
//! mass law of every free node; eliminating the flows leaves one symmetric positive definite system in the
//! pressures (the global gradient method: E. Todini and S. Pilati, "A gradient algorithm for the analysis of pipe
//! networks", in Computer Applications in Water Supply vol. 1, Research Studies Press 1988, 1-20). After the
//! first step every iterate balances mass exactly, so each further step goes downhill in the content function
//! sum of integrals of loss over flow (M. Collins, L. Cooper, R. Helgason, J. Kennington and L. LeBlanc, "Solving
//! the pipe network analysis problem using optimization techniques", Management Science 24 (1978) 747-760). A step that overshoots that function's
//! lowest point along its direction is shortened, which makes convergence certain while every loss rises with flow.
//!
//! An edge between two fixed nodes is one equation for itself: Newton kept within a bracket that halves when
//! Newton leaves it. A network without free nodes, such as one fan on one duct, is only that.
//!
//! Tees whose loss depends on another edge's flow make the system unsymmetric: those networks take the full
//! Newton step from one dense elimination, shortened until the residual falls.
//!
//! # Several answers
//!
//! A fan with a stall hump can meet its system more than once. On an edge between fixed nodes the stable point of
//! the highest flow is taken, the one a fan reaches that starts up on an open duct. In a branched network
//! the answer is a stable one (the content function has a lowest point there, which [`Solution::stable`]
//! confirms), reached from the high-flow side; another stable one may exist.
//!
//! # Failure
//!
//! A solve that doesn't reach its tolerance is an error that carries the residuals, never an answer.

mod build;
mod linear;
mod solve;

use thiserror::Error;

pub use build::{Network, NetworkBuilder};
pub use solve::{Solution, Solver};

pub use crate::root::Tolerance;

/// A node of a network.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct NodeId(u32);

/// An edge of a network.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct EdgeId(u32);

impl NodeId {
    /// The node made as number `index`, counted from 0.
    pub const fn from_index(index: usize) -> Self {
        Self(index as u32)
    }

    /// Its place in [`Solution::pressures_pa`].
    pub const fn index(self) -> usize {
        self.0 as usize
    }
}

impl EdgeId {
    /// The edge made as number `index`, counted from 0: a tee may name an edge that is added later.
    pub const fn from_index(index: usize) -> Self {
        Self(index as u32)
    }

    /// Its place in [`Solution::flows_m3_s`].
    pub const fn index(self) -> usize {
        self.0 as usize
    }
}

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
