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
mod error;
pub(crate) mod id;
mod linear;
mod solve;

pub use build::{Network, NetworkBuilder};
pub use error::{NetworkError, SolveError};
pub use id::{EdgeId, NodeId};
pub use solve::{Solution, Solver};

pub use crate::root::Tolerance;
