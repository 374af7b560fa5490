//! Flow and pressure in a network of ducts, fans and openings.
//!
//! Nodes are places with one pressure: a room, outdoors at a terminal, a junction. Edges are runs from one node
//! to another, each a row of [`Element`]s. At a fixed node the pressure is given; at a free node it follows from
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

use thiserror::Error;

use crate::element::Element;
use crate::fan::{FanCurve, root_between};

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
    /// The start has another length than the network has edges.
    #[error("the start has {given} flows, the network {edges} edges")]
    StartLength {
        /// Flows given.
        given: usize,
        /// Edges of the network.
        edges: usize,
    },
}

#[derive(Clone, Copy, Debug, PartialEq)]
enum Node {
    Fixed { pressure: f64 },
    Free { extraction: f64, unknown: usize },
}

#[derive(Clone, Copy, Debug, PartialEq)]
struct Edge {
    from: usize,
    to: usize,
    first: usize,
    end: usize,
}

/// Puts a network together.
///
/// # Examples
/// ```
/// use dewpath_air::element::Element;
/// use dewpath_air::fan::FanCurve;
/// use dewpath_air::network::{NetworkBuilder, Solver};
///
/// let fan = FanCurve::from_si_points(&[(0.0, 120.0), (0.03, 78.0), (0.05, 0.0)], 1.2)?;
/// let mut builder = NetworkBuilder::new();
/// let room = builder.fixed_node(0.0);
/// let outdoors = builder.fixed_node(0.0);
/// let run = builder.edge(room, outdoors, [Element::Fan(fan), Element::Quadratic { k: 78.0 / 0.0009 }]);
/// let network = builder.build()?;
///
/// let mut solver = Solver::new();
/// let solution = solver.solve(&network, None)?;
/// assert!((solution.flow_m3_s(run) - 0.03).abs() < 1e-9);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Clone, Debug, Default)]
pub struct NetworkBuilder {
    nodes: Vec<Node>,
    edges: Vec<Edge>,
    elements: Vec<Element>,
    free_count: usize,
}

impl NetworkBuilder {
    /// An empty network.
    pub fn new() -> Self {
        Self::default()
    }

    /// A place of known pressure (Pa): a room, outdoors at a terminal.
    pub fn fixed_node(&mut self, pressure_pa: f64) -> NodeId {
        self.node(Node::Fixed { pressure: pressure_pa })
    }

    /// A place whose pressure follows from the flows: a junction, a leaky room.
    pub fn free_node(&mut self) -> NodeId {
        let unknown = self.free_count;
        self.free_count += 1;
        self.node(Node::Free { extraction: 0.0, unknown })
    }

    fn node(&mut self, node: Node) -> NodeId {
        self.nodes.push(node);
        NodeId::from_index(self.nodes.len() - 1)
    }

    /// A run of elements from one node to another; flow is positive in that direction.
    pub fn edge(
        &mut self,
        from: NodeId,
        to: NodeId,
        elements: impl IntoIterator<Item = Element>,
    ) -> EdgeId {
        let first = self.elements.len();
        self.elements.extend(elements);
        let end = self.elements.len();
        self.edges.push(Edge { from: from.index(), to: to.index(), first, end });
        EdgeId::from_index(self.edges.len() - 1)
    }

    /// Checks that the network hangs together.
    ///
    /// # Errors
    /// Each variant of [`NetworkError`] that concerns structure.
    pub fn build(self) -> Result<Network, NetworkError> {
        self.check_edges()?;
        self.check_connected()?;
        let is_tee = |element: &Element| matches!(element, Element::Junction(_));
        Ok(Network {
            has_tees: self.elements.iter().any(is_tee),
            nodes: self.nodes,
            edges: self.edges,
            elements: self.elements,
            free_count: self.free_count,
        })
    }

    fn check_edges(&self) -> Result<(), NetworkError> {
        for (index, edge) in self.edges.iter().enumerate() {
            let id = EdgeId::from_index(index);
            for end in [edge.from, edge.to] {
                if end >= self.nodes.len() {
                    return Err(NetworkError::UnknownNode {
                        edge: id,
                        node: NodeId::from_index(end),
                    });
                }
            }
            if edge.from == edge.to {
                return Err(NetworkError::Loop { edge: id, node: NodeId::from_index(edge.from) });
            }
            let elements = &self.elements[edge.first..edge.end];
            let drives_only = |element: &Element| {
                matches!(element, Element::Source { .. } | Element::Junction(_))
            };
            if elements.iter().all(drives_only) {
                return Err(NetworkError::NoResistance { edge: id });
            }
            for element in elements {
                if let Element::Junction(tee) = element
                    && (tee.common == id || tee.common.index() >= self.edges.len())
                {
                    return Err(NetworkError::UnknownCommonEdge { edge: id, common: tee.common });
                }
            }
        }
        Ok(())
    }

    fn check_connected(&self) -> Result<(), NetworkError> {
        // Every node carries the lowest number that reaches it; fixed nodes count as one place.
        let ground = self.nodes.len();
        let mut group: Vec<usize> = (0..=ground).collect();
        for (index, node) in self.nodes.iter().enumerate() {
            if matches!(node, Node::Fixed { .. }) {
                join(&mut group, index, ground);
            }
        }
        for edge in &self.edges {
            join(&mut group, edge.from, edge.to);
        }
        let grounded = root(&group, ground);
        let Some(lost) = (0..ground).map(|node| root(&group, node)).find(|&top| top != grounded)
        else {
            return Ok(());
        };
        let nodes = (0..ground)
            .filter(|&node| root(&group, node) == lost)
            .map(NodeId::from_index)
            .collect();
        Err(NetworkError::Disconnected { nodes })
    }
}

fn root(group: &[usize], mut node: usize) -> usize {
    while group[node] != node {
        node = group[node];
    }
    node
}

fn join(group: &mut [usize], a: usize, b: usize) {
    let (a, b) = (root(group, a), root(group, b));
    group[a.max(b)] = a.min(b);
}

/// A network whose structure stands; its elements and given pressures may change between solves.
#[derive(Clone, Debug, PartialEq)]
pub struct Network {
    nodes: Vec<Node>,
    edges: Vec<Edge>,
    elements: Vec<Element>,
    free_count: usize,
    has_tees: bool,
}

impl Network {
    /// Number of nodes.
    pub fn node_count(&self) -> usize {
        self.nodes.len()
    }

    /// Number of edges.
    pub fn edge_count(&self) -> usize {
        self.edges.len()
    }

    /// The two ends of an edge, or `None` if there is no such edge.
    pub fn ends(&self, edge: EdgeId) -> Option<(NodeId, NodeId)> {
        let edge = self.edges.get(edge.index())?;
        Some((NodeId::from_index(edge.from), NodeId::from_index(edge.to)))
    }

    /// The elements of an edge in order; none if there is no such edge.
    pub fn elements(&self, edge: EdgeId) -> &[Element] {
        self.edges.get(edge.index()).map_or(&[], |edge| &self.elements[edge.first..edge.end])
    }

    /// The elements of an edge, to be replaced by others between solves.
    ///
    /// A tee is known by its place: don't put one where none was, nor refer it to another edge.
    pub fn elements_mut(&mut self, edge: EdgeId) -> &mut [Element] {
        match self.edges.get(edge.index()) {
            Some(edge) => &mut self.elements[edge.first..edge.end],
            None => &mut [],
        }
    }

    /// Sets the pressure (Pa) of a fixed node.
    ///
    /// # Errors
    /// [`NetworkError::BadNodeValue`] if the node isn't a fixed one or the value isn't finite.
    pub fn set_pressure(&mut self, node: NodeId, pressure_pa: f64) -> Result<(), NetworkError> {
        match self.nodes.get_mut(node.index()) {
            Some(Node::Fixed { pressure }) if pressure_pa.is_finite() => {
                *pressure = pressure_pa;
                Ok(())
            }
            _ => Err(NetworkError::BadNodeValue { node, what: "the pressure", value: pressure_pa }),
        }
    }

    /// Sets the flow (m3/s) that something outside the network takes out of a free node.
    ///
    /// # Errors
    /// [`NetworkError::BadNodeValue`] if the node isn't a free one or the value isn't finite.
    pub fn set_extraction(&mut self, node: NodeId, flow_m3_s: f64) -> Result<(), NetworkError> {
        match self.nodes.get_mut(node.index()) {
            Some(Node::Free { extraction, .. }) if flow_m3_s.is_finite() => {
                *extraction = flow_m3_s;
                Ok(())
            }
            _ => Err(NetworkError::BadNodeValue { node, what: "the extraction", value: flow_m3_s }),
        }
    }

    /// Loss (Pa) along an edge at its own flow (m3/s) and its slope, without tees.
    #[inline]
    fn own_loss(&self, edge: &Edge, q: f64) -> (f64, f64) {
        let mut total = 0.0;
        let mut slope = 0.0;
        for element in &self.elements[edge.first..edge.end] {
            let (dp, by_flow) = element.loss(q);
            total += dp;
            slope += by_flow;
        }
        (total, slope)
    }

    /// Loss of each element of an edge at the flows of all edges (m3/s), Pa.
    ///
    /// Empty if there is no such edge or the flows are too few.
    pub fn element_losses_pa(&self, edge: EdgeId, flows_m3_s: &[f64]) -> Vec<f64> {
        if flows_m3_s.len() < self.edges.len() {
            return Vec::new();
        }
        let elements = self.elements(edge).iter();
        elements
            .map(|element| match element {
                Element::Junction(tee) => {
                    tee.loss(flows_m3_s[edge.index()], flows_m3_s[tee.common.index()]).0
                }
                other => other.loss(flows_m3_s[edge.index()]).0,
            })
            .collect()
    }

    /// Given pressure of a node, or zero for a free one.
    #[inline]
    fn given_pressure(&self, node: usize) -> f64 {
        match self.nodes[node] {
            Node::Fixed { pressure } => pressure,
            Node::Free { .. } => 0.0,
        }
    }

    #[inline]
    fn unknown(&self, node: usize) -> Option<usize> {
        match self.nodes[node] {
            Node::Fixed { .. } => None,
            Node::Free { unknown, .. } => Some(unknown),
        }
    }

    fn fans(&self, edge: &Edge) -> impl Iterator<Item = &FanCurve> {
        self.elements[edge.first..edge.end].iter().filter_map(|element| match element {
            Element::Fan(fan) | Element::FanReversed(fan) => Some(fan),
            _ => None,
        })
    }

    fn has_hump(&self, edge: &Edge) -> bool {
        self.fans(edge).any(FanCurve::has_hump)
    }
}

/// How close a solve must come.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tolerance {
    /// Largest pressure residual of an edge, Pa.
    pub pressure_pa: f64,
    /// Largest mass residual of a node, m3/s.
    pub mass_m3_s: f64,
    /// Most Newton steps.
    pub iterations: usize,
}

impl Default for Tolerance {
    fn default() -> Self {
        Self { pressure_pa: 1e-7, mass_m3_s: 1e-9, iterations: 200 }
    }
}

/// Flows and pressures that balance.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Solution {
    /// Flow of every edge, m3/s, in the order the edges were made.
    pub flows_m3_s: Vec<f64>,
    /// Pressure of every node, Pa, in the order the nodes were made.
    pub pressures_pa: Vec<f64>,
    /// Newton steps taken.
    pub iterations: usize,
    /// Largest pressure residual of an edge, Pa, measured before the last step or, where convergence is fast, what
    /// that step leaves of it by a cautious estimate.
    pub pressure_residual_pa: f64,
    /// Largest mass residual of any free node, m3/s.
    pub mass_residual_m3_s: f64,
    /// Whether the flows return here after a small disturbance.
    pub stable: bool,
}

impl Solution {
    /// Flow of an edge, m3/s; not a number if there is no such edge.
    pub fn flow_m3_s(&self, edge: EdgeId) -> f64 {
        self.flows_m3_s.get(edge.index()).copied().unwrap_or(f64::NAN)
    }

    /// Pressure of a node, Pa; not a number if there is no such node.
    pub fn pressure_pa(&self, node: NodeId) -> f64 {
        self.pressures_pa.get(node.index()).copied().unwrap_or(f64::NAN)
    }
}

/// Smallest slope a step is taken with, Pa s/m3: an opening so wide that its loss can't be measured.
const LEAST_SLOPE: f64 = 1e-4;

/// Flow at which losses are first looked at, m3/s, where no fan tells a better one.
const NOMINAL_FLOW: f64 = 0.02;

/// Share of a fan's last flow at which it is first looked at.
const NOMINAL_FAN_SHARE: f64 = 0.7;

/// Steps after which no step may overshoot at all.
const PATIENCE: usize = 15;

/// Slope of a tee's loss by the flow of its common edge.
#[derive(Clone, Copy, Debug)]
struct Cross {
    edge: usize,
    common: usize,
    slope: f64,
}

/// Solves networks one after the other without asking for memory again.
#[derive(Clone, Debug, Default)]
pub struct Solver {
    tolerance: Tolerance,
    solution: Solution,
    loss: Vec<f64>,
    slope: Vec<f64>,
    step: Vec<f64>,
    before: Vec<f64>,
    pressures_before: Vec<f64>,
    pressures_after: Vec<f64>,
    cross: Vec<Cross>,
    matrix: Vec<f64>,
    right: Vec<f64>,
}

impl Solver {
    /// A solver with the usual tolerance.
    pub fn new() -> Self {
        Self::default()
    }

    /// A solver with another tolerance.
    pub fn with_tolerance(tolerance: Tolerance) -> Self {
        Self { tolerance, ..Self::default() }
    }

    /// Finds flows and pressures; `start` may give flows near the answer (m3/s), such as the last draw's.
    ///
    /// # Errors
    /// [`SolveError::NotConverged`] with the residuals, [`SolveError::NotFinite`], [`SolveError::StartLength`].
    pub fn solve(
        &mut self,
        network: &Network,
        start: Option<&[f64]>,
    ) -> Result<&Solution, SolveError> {
        if let Some(start) = start
            && start.len() != network.edges.len()
        {
            return Err(SolveError::StartLength { given: start.len(), edges: network.edges.len() });
        }
        self.prepare(network);
        if network.free_count == 0 && !network.has_tees {
            self.solve_alone(network, start)?;
        } else {
            self.solve_together(network, start)?;
        }
        Ok(&self.solution)
    }

    fn prepare(&mut self, network: &Network) {
        let edges = network.edges.len();
        let unknowns = if network.has_tees { edges } else { 0 } + network.free_count;
        for list in [
            &mut self.loss,
            &mut self.slope,
            &mut self.step,
            &mut self.before,
            &mut self.solution.flows_m3_s,
        ] {
            list.resize(edges, 0.0);
        }
        self.matrix.resize(unknowns * unknowns, 0.0);
        self.right.resize(unknowns, 0.0);
        for list in
            [&mut self.solution.pressures_pa, &mut self.pressures_before, &mut self.pressures_after]
        {
            list.resize(network.nodes.len(), 0.0);
        }
        for (node, pressure) in self.solution.pressures_pa.iter_mut().enumerate() {
            *pressure = network.given_pressure(node);
        }
        self.solution.iterations = 0;
        self.solution.pressure_residual_pa = 0.0;
        self.solution.mass_residual_m3_s = 0.0;
        self.solution.stable = true;
    }

    // ---- Edges between fixed nodes --------------------------------------------------------------------

    fn solve_alone(&mut self, network: &Network, start: Option<&[f64]>) -> Result<(), SolveError> {
        for (index, edge) in network.edges.iter().enumerate() {
            let drive = network.given_pressure(edge.from) - network.given_pressure(edge.to);
            let excess = |q: f64| {
                let (loss, slope) = network.own_loss(edge, q);
                (loss - drive, slope)
            };
            let found = if network.has_hump(edge) {
                highest_stable(&excess, network.fans(edge))
            } else {
                None
            };
            let first = found.unwrap_or_else(|| {
                start.map_or_else(|| first_flow(network, edge), |start| start[index])
            });
            let root = self.root_alone(EdgeId::from_index(index), &excess, first)?;
            self.solution.flows_m3_s[index] = root;
        }
        Ok(())
    }

    /// Newton from `q`, kept between the closest flows of either sign.
    fn root_alone(
        &mut self,
        edge: EdgeId,
        excess: &impl Fn(f64) -> (f64, f64),
        mut q: f64,
    ) -> Result<f64, SolveError> {
        let mut low = f64::NEG_INFINITY;
        let mut high = f64::INFINITY;
        let mut value = f64::NAN;
        let mut last = None;
        for iteration in 1..=self.tolerance.iterations {
            let slope;
            (value, slope) = excess(q);
            if !value.is_finite() || !slope.is_finite() {
                return Err(SolveError::NotFinite { edge, flow_m3_s: q });
            }
            let before = last.map_or(f64::INFINITY, |last: Sample| last.value.abs());
            let left = left_after_step(value.abs(), before);
            if left <= self.tolerance.pressure_pa {
                self.solution.iterations = self.solution.iterations.max(iteration);
                self.solution.pressure_residual_pa = self.solution.pressure_residual_pa.max(left);
                self.solution.stable &= slope >= 0.0;
                return Ok(if slope > LEAST_SLOPE { q - value / slope } else { q });
            }
            if value < 0.0 {
                low = low.max(q);
            } else {
                high = high.min(q);
            }
            let here = Sample { q, value, slope };
            q = next_flow(here, last, low, high);
            last = Some(here);
        }
        Err(SolveError::NotConverged {
            iterations: self.tolerance.iterations,
            pressure_residual_pa: value.abs(),
            mass_residual_m3_s: 0.0,
            worst_edge: edge,
        })
    }

    // ---- Networks --------------------------------------------------------------------------------------

    fn solve_together(
        &mut self,
        network: &Network,
        start: Option<&[f64]>,
    ) -> Result<(), SolveError> {
        let mut balanced = false;
        if let Some(flows) = start {
            self.solution.flows_m3_s.copy_from_slice(flows);
            self.evaluate(network)?;
            balanced = mass_residual(network, flows) <= self.tolerance.mass_m3_s;
        } else {
            self.linearise_from_rest(network)?;
        }
        let mut residual = f64::INFINITY;
        for iteration in 1..=self.tolerance.iterations {
            let before = if balanced { residual } else { f64::INFINITY };
            self.pressures_before.copy_from_slice(&self.solution.pressures_pa);
            residual = self.newton_step(network);
            let left = left_after_step(residual, before);
            self.before.copy_from_slice(&self.solution.flows_m3_s);
            if balanced && left <= self.tolerance.pressure_pa {
                self.take_share(1.0);
                return self.finish(network, iteration, left);
            }
            if balanced {
                self.search(network, iteration)?;
            } else {
                self.take_share(1.0);
                self.evaluate(network)?;
                balanced = true;
            }
        }
        Err(self.not_converged(network, residual))
    }

    fn finish(
        &mut self,
        network: &Network,
        iteration: usize,
        residual: f64,
    ) -> Result<(), SolveError> {
        let mass = mass_residual(network, &self.solution.flows_m3_s);
        if mass.is_nan() || mass > self.tolerance.mass_m3_s {
            return Err(self.not_converged(network, residual));
        }
        self.solution.iterations = iteration;
        self.solution.pressure_residual_pa = residual;
        self.solution.mass_residual_m3_s = mass;
        self.solution.stable = self.is_stable(network);
        Ok(())
    }

    fn not_converged(&self, network: &Network, residual: f64) -> SolveError {
        let worst = (0..self.step.len()).max_by(|&a, &b| {
            self.edge_residual(network, a).total_cmp(&self.edge_residual(network, b))
        });
        SolveError::NotConverged {
            iterations: self.tolerance.iterations,
            pressure_residual_pa: residual,
            mass_residual_m3_s: mass_residual(network, &self.solution.flows_m3_s),
            worst_edge: EdgeId::from_index(worst.unwrap_or(0)),
        }
    }

    fn edge_residual(&self, network: &Network, index: usize) -> f64 {
        (self.drive(network, index) - self.loss[index]).abs()
    }

    /// Pressure difference along an edge at the present node pressures.
    #[inline]
    fn drive(&self, network: &Network, index: usize) -> f64 {
        let edge = &network.edges[index];
        self.solution.pressures_pa[edge.from] - self.solution.pressures_pa[edge.to]
    }

    /// Straight lines from rest through a nominal flow stand for the losses: a start that knows no direction.
    fn linearise_from_rest(&mut self, network: &Network) -> Result<(), SolveError> {
        self.cross.clear();
        for (index, edge) in network.edges.iter().enumerate() {
            let nominal = first_flow(network, edge);
            let (at_rest, _) = network.own_loss(edge, 0.0);
            let (at_nominal, _) = network.own_loss(edge, nominal);
            if !at_rest.is_finite() || !at_nominal.is_finite() {
                return Err(SolveError::NotFinite {
                    edge: EdgeId::from_index(index),
                    flow_m3_s: nominal,
                });
            }
            self.solution.flows_m3_s[index] = 0.0;
            self.loss[index] = at_rest;
            self.slope[index] = (at_nominal - at_rest) / nominal;
        }
        Ok(())
    }

    /// Loss and slope of every edge at the present flows.
    fn evaluate(&mut self, network: &Network) -> Result<(), SolveError> {
        let flows = &self.solution.flows_m3_s;
        for (index, edge) in network.edges.iter().enumerate() {
            (self.loss[index], self.slope[index]) = network.own_loss(edge, flows[index]);
        }
        if network.has_tees {
            self.cross.clear();
            for (index, edge) in network.edges.iter().enumerate() {
                for element in &network.elements[edge.first..edge.end] {
                    if let Element::Junction(tee) = element {
                        let common = tee.common.index();
                        let (dp, by_own, by_common) = tee.loss(flows[index], flows[common]);
                        self.loss[index] += dp;
                        self.slope[index] += by_own;
                        self.cross.push(Cross { edge: index, common, slope: by_common });
                    }
                }
            }
        }
        for (index, (loss, slope)) in self.loss.iter().zip(&self.slope).enumerate() {
            if !loss.is_finite() || !slope.is_finite() {
                return Err(SolveError::NotFinite {
                    edge: EdgeId::from_index(index),
                    flow_m3_s: flows[index],
                });
            }
        }
        Ok(())
    }

    /// New node pressures and the step of every flow; returns the largest pressure residual at the present flows.
    fn newton_step(&mut self, network: &Network) -> f64 {
        if network.has_tees && !self.cross.is_empty() && self.full_step(network) {
            return (0..self.step.len())
                .map(|index| self.edge_residual(network, index))
                .fold(0.0, f64::max);
        }
        self.gradient_step(network)
    }

    /// The step by the symmetric system in the node pressures.
    fn gradient_step(&mut self, network: &Network) -> f64 {
        let size = network.free_count;
        let matrix = &mut self.matrix[..size * size];
        let right = &mut self.right[..size];
        matrix.fill(0.0);
        right.fill(0.0);
        for node in &network.nodes {
            if let Node::Free { extraction, unknown } = node {
                right[*unknown] = -extraction;
            }
        }
        for (index, edge) in network.edges.iter().enumerate() {
            // Downhill also where a fan's hump makes the loss fall with flow.
            let conductance = 1.0 / self.slope[index].abs().max(LEAST_SLOPE);
            let given = network.given_pressure(edge.from) - network.given_pressure(edge.to);
            let flow = self.solution.flows_m3_s[index] + conductance * (given - self.loss[index]);
            let (from, to) = (network.unknown(edge.from), network.unknown(edge.to));
            if let Some(from) = from {
                matrix[from * size + from] += conductance;
                right[from] -= flow;
            }
            if let Some(to) = to {
                matrix[to * size + to] += conductance;
                right[to] += flow;
            }
            if let (Some(from), Some(to)) = (from, to) {
                let (row, column) = (from.max(to), from.min(to));
                matrix[row * size + column] -= conductance;
            }
        }
        factorise(matrix, size);
        substitute(matrix, right, size);
        for (node, pressure) in self.solution.pressures_pa.iter_mut().enumerate() {
            if let Some(unknown) = network.unknown(node) {
                *pressure = self.right[unknown];
            }
        }
        let mut largest = 0.0_f64;
        for index in 0..network.edges.len() {
            let residual = self.drive(network, index) - self.loss[index];
            self.step[index] = residual / self.slope[index].abs().max(LEAST_SLOPE);
            largest = largest.max(residual.abs());
        }
        largest
    }

    /// The step by dense elimination over flows and pressures; false if that system is singular.
    fn full_step(&mut self, network: &Network) -> bool {
        let edges = network.edges.len();
        let size = edges + network.free_count;
        self.matrix.fill(0.0);
        for (index, edge) in network.edges.iter().enumerate() {
            let slope = self.slope[index];
            let kept = if slope.abs() < LEAST_SLOPE { LEAST_SLOPE } else { slope };
            self.matrix[index * size + index] += kept;
            let given = network.given_pressure(edge.from) - network.given_pressure(edge.to);
            self.right[index] = given - self.loss[index];
            for (end, sign) in [(edge.from, 1.0), (edge.to, -1.0)] {
                if let Some(unknown) = network.unknown(end) {
                    self.matrix[index * size + edges + unknown] -= sign;
                    self.matrix[(edges + unknown) * size + index] += sign;
                }
            }
        }
        for cross in &self.cross {
            self.matrix[cross.edge * size + cross.common] += cross.slope;
        }
        for node in &network.nodes {
            if let Node::Free { extraction, unknown } = node {
                self.right[edges + unknown] = -extraction;
            }
        }
        for (index, edge) in network.edges.iter().enumerate() {
            let flow = self.solution.flows_m3_s[index];
            if let Some(unknown) = network.unknown(edge.from) {
                self.right[edges + unknown] -= flow;
            }
            if let Some(unknown) = network.unknown(edge.to) {
                self.right[edges + unknown] += flow;
            }
        }
        if !eliminate(&mut self.matrix, &mut self.right, size) {
            return false;
        }
        self.step.copy_from_slice(&self.right[..edges]);
        for (node, pressure) in self.solution.pressures_pa.iter_mut().enumerate() {
            if let Some(unknown) = network.unknown(node) {
                *pressure = self.right[edges + unknown];
            }
        }
        true
    }

    fn take_share(&mut self, share: f64) {
        for ((flow, before), step) in
            self.solution.flows_m3_s.iter_mut().zip(&self.before).zip(&self.step)
        {
            *flow = before + share * step;
        }
    }

    /// Takes the step, or a share of it that doesn't overshoot.
    fn search(&mut self, network: &Network, iteration: usize) -> Result<(), SolveError> {
        if network.has_tees && !self.cross.is_empty() {
            return self.search_by_residual(network);
        }
        // Slope of the content function along the step; below zero means further down. A whole step may overshoot
        // a little, for Newton does near the answer; where that goes round in circles at a kink, none may.
        let at_start = self.content_slope(network);
        let mut allowed = if iteration < PATIENCE { 0.1 * at_start.abs() } else { 0.0 };
        let mut share = 1.0;
        for _ in 0..60 {
            self.take_share(share);
            self.evaluate(network)?;
            let here = self.content_slope(network);
            if here <= allowed {
                return Ok(());
            }
            allowed = 0.0;
            let secant = share * at_start / (at_start - here);
            share = (0.95 * secant).clamp(0.1 * share, 0.7 * share);
        }
        Ok(())
    }

    fn content_slope(&self, network: &Network) -> f64 {
        (0..self.step.len())
            .map(|index| (self.loss[index] - self.drive(network, index)) * self.step[index])
            .sum()
    }

    /// Goes along the step in flows and pressures together until the sum of squared residuals falls.
    fn search_by_residual(&mut self, network: &Network) -> Result<(), SolveError> {
        self.pressures_after.copy_from_slice(&self.solution.pressures_pa);
        self.take_pressure_share(0.0);
        let at_start = self.squared_residuals(network);
        let mut share = 1.0;
        for _ in 0..20 {
            self.take_share(share);
            self.take_pressure_share(share);
            self.evaluate(network)?;
            if self.squared_residuals(network) <= (1.0 - 1e-4 * share) * at_start {
                return Ok(());
            }
            share *= 0.5;
        }
        // No share falls: a fold of a tee's law. A fair step along leads out of it.
        self.take_share(0.3);
        self.take_pressure_share(0.3);
        self.evaluate(network)
    }

    fn squared_residuals(&self, network: &Network) -> f64 {
        (0..self.step.len())
            .map(|index| self.edge_residual(network, index))
            .map(|residual| residual * residual)
            .sum()
    }

    fn take_pressure_share(&mut self, share: f64) {
        for ((pressure, before), after) in self
            .solution
            .pressures_pa
            .iter_mut()
            .zip(&self.pressures_before)
            .zip(&self.pressures_after)
        {
            *pressure = before + share * (after - before);
        }
    }

    /// Whether the content function has a lowest point here: the mass-balanced directions see rising losses only.
    ///
    /// By inertia: with as many falling losses among the edges as negative pivots among the nodes.
    fn is_stable(&mut self, network: &Network) -> bool {
        let falling = self.slope.iter().filter(|&&slope| slope < 0.0).count();
        if falling == 0 {
            return true;
        }
        let size = network.free_count;
        let matrix = &mut self.matrix[..size * size];
        matrix.fill(0.0);
        for (index, edge) in network.edges.iter().enumerate() {
            let slope = self.slope[index];
            let conductance =
                if slope.abs() < LEAST_SLOPE { 1.0 / LEAST_SLOPE } else { 1.0 / slope };
            let (from, to) = (network.unknown(edge.from), network.unknown(edge.to));
            for end in [from, to].into_iter().flatten() {
                matrix[end * size + end] += conductance;
            }
            if let (Some(from), Some(to)) = (from, to) {
                matrix[from.max(to) * size + from.min(to)] -= conductance;
            }
        }
        factorise(matrix, size);
        let negative = (0..size).filter(|&row| matrix[row * size + row] < 0.0).count();
        negative == falling
    }
}

/// Where an edge is first looked at.
fn first_flow(network: &Network, edge: &Edge) -> f64 {
    let by_fan = network.elements[edge.first..edge.end].iter().find_map(|element| match element {
        Element::Fan(fan) => Some(NOMINAL_FAN_SHARE * fan.last_flow_m3_s()),
        Element::FanReversed(fan) => Some(-NOMINAL_FAN_SHARE * fan.last_flow_m3_s()),
        _ => None,
    });
    by_fan.unwrap_or(NOMINAL_FLOW)
}

/// What one more Newton step leaves of a residual, told from how far the last step brought it.
///
/// Near the answer a step that shrank the residual by a factor shrinks it by more the next time. Only a thousandfold
/// fall counts, and it counts a hundredfold less than it promises; else the residual as it is.
#[inline]
fn left_after_step(residual: f64, before: f64) -> f64 {
    let fall = residual / before;
    if fall > 0.0 && fall < 1e-3 { residual * (100.0 * fall).min(1.0) } else { residual }
}

/// A function at one flow.
#[derive(Clone, Copy, Debug)]
struct Sample {
    q: f64,
    value: f64,
    slope: f64,
}

/// The next flow to try: by the inverse cubic through the last two samples, which needs a step less than Newton, by
/// Newton where there is one sample, or the middle of the bracket, or further out while one side is open.
#[inline]
fn next_flow(here: Sample, last: Option<Sample>, low: f64, high: f64) -> f64 {
    let inside = |q: f64| q > low && q < high;
    if here.slope > 0.0 {
        // A nearly level curve would throw the step out of sight.
        let reach = 4.0 * here.q.abs().max(NOMINAL_FLOW);
        if let Some(cubic) = last.and_then(|last| inverse_cubic(last, here))
            && inside(cubic)
            && (cubic - here.q).abs() <= reach
        {
            return cubic;
        }
        let newton = here.q - here.value / here.slope;
        if inside(newton) {
            return newton.clamp(here.q - reach, here.q + reach);
        }
    }
    if low.is_finite() && high.is_finite() {
        return 0.5 * (low + high);
    }
    let reach = here.q.abs().max(NOMINAL_FLOW);
    if here.value < 0.0 { here.q + reach } else { here.q - reach }
}

/// Where the cubic of flow over value through two samples, with their slopes, has the value zero.
///
/// Trusted only where the value shrank at least tenfold, so that the samples lie close to the root.
#[inline]
fn inverse_cubic(a: Sample, b: Sample) -> Option<f64> {
    if a.slope <= 0.0 || b.value.abs() > 0.1 * a.value.abs() {
        return None;
    }
    let width = b.value - a.value;
    let t = -a.value / width;
    let left = 1.0 - t;
    let by_value = (1.0 + 2.0 * t) * left * left * a.q + t * t * (3.0 - 2.0 * t) * b.q;
    let by_slope = t * left * width * (left / a.slope - t / b.slope);
    Some(by_value + by_slope)
}

/// The highest flow at which the excess of loss over drive turns positive.
fn highest_stable<'fan>(
    excess: &impl Fn(f64) -> (f64, f64),
    fans: impl Iterator<Item = &'fan FanCurve>,
) -> Option<f64> {
    let mut flows: Vec<f64> = fans.flat_map(FanCurve::scan_flows).collect();
    flows.sort_by(f64::total_cmp);
    let pair =
        flows.windows(2).rev().find(|pair| excess(pair[0]).0 < 0.0 && excess(pair[1]).0 >= 0.0)?;
    Some(root_between(excess, pair[0], pair[1]))
}

/// Largest imbalance of a free node, m3/s.
fn mass_residual(network: &Network, flows: &[f64]) -> f64 {
    let mut largest = 0.0_f64;
    for (node, kind) in network.nodes.iter().enumerate() {
        let Node::Free { extraction, .. } = kind else { continue };
        let mut net = -extraction;
        for (edge, flow) in network.edges.iter().zip(flows) {
            if edge.to == node {
                net += flow;
            } else if edge.from == node {
                net -= flow;
            }
        }
        // `f64::max` would hide what isn't a number.
        if net.is_nan() || net.abs() > largest {
            largest = net.abs();
        }
    }
    largest
}

/// L D L^T of a symmetric matrix given by its lower half; L without its unit diagonal, D on the diagonal.
fn factorise(matrix: &mut [f64], size: usize) {
    for column in 0..size {
        for row in column..size {
            let mut value = matrix[row * size + column];
            for k in 0..column {
                value -= matrix[row * size + k] * matrix[column * size + k] * matrix[k * size + k];
            }
            let pivot = matrix[column * size + column];
            matrix[row * size + column] = if row == column { value } else { value / pivot };
        }
    }
}

/// Solves with the factors of [`factorise`], in place.
fn substitute(matrix: &[f64], right: &mut [f64], size: usize) {
    for row in 0..size {
        for k in 0..row {
            right[row] -= matrix[row * size + k] * right[k];
        }
    }
    for row in 0..size {
        right[row] /= matrix[row * size + row];
    }
    for row in (0..size).rev() {
        for k in row + 1..size {
            right[row] -= matrix[k * size + row] * right[k];
        }
    }
}

/// Gaussian elimination with row exchange, in place; false if the matrix is singular.
fn eliminate(matrix: &mut [f64], right: &mut [f64], size: usize) -> bool {
    for column in 0..size {
        let mut best = column;
        for row in column + 1..size {
            if matrix[row * size + column].abs() > matrix[best * size + column].abs() {
                best = row;
            }
        }
        let pivot = matrix[best * size + column];
        if pivot == 0.0 || !pivot.is_finite() {
            return false;
        }
        if best != column {
            for k in column..size {
                matrix.swap(best * size + k, column * size + k);
            }
            right.swap(best, column);
        }
        for row in column + 1..size {
            let factor = matrix[row * size + column] / pivot;
            if factor != 0.0 {
                for k in column + 1..size {
                    matrix[row * size + k] -= factor * matrix[column * size + k];
                }
                right[row] -= factor * right[column];
            }
        }
    }
    for row in (0..size).rev() {
        for k in row + 1..size {
            right[row] -= matrix[row * size + k] * right[k];
        }
        right[row] /= matrix[row * size + row];
    }
    true
}
