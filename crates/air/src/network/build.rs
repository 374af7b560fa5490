//! Putting a network together, and what may change in it afterwards.

use super::error::NetworkError;
use super::id::{EdgeId, NodeId};
use crate::element::Element;
use crate::fan::FanCurve;

#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Node {
    Fixed { pressure: f64 },
    Free { extraction: f64, unknown: usize },
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Edge {
    pub(super) from: usize,
    pub(super) to: usize,
    pub(super) first: usize,
    pub(super) end: usize,
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
    pub(super) nodes: Vec<Node>,
    pub(super) edges: Vec<Edge>,
    pub(super) elements: Vec<Element>,
    pub(super) free_count: usize,
    pub(super) has_tees: bool,
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
    pub(super) fn own_loss(&self, edge: &Edge, q: f64) -> (f64, f64) {
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
                Element::Junction(tee) => flows_m3_s
                    .get(tee.common.index())
                    .map_or(f64::NAN, |&common| tee.loss(flows_m3_s[edge.index()], common).0),
                other => other.loss(flows_m3_s[edge.index()]).0,
            })
            .collect()
    }

    /// The first tee that the solver couldn't follow.
    pub(super) fn stray_tee(&self) -> Option<EdgeId> {
        self.elements.iter().find_map(|element| match element {
            Element::Junction(tee) if !self.has_tees || tee.common.index() >= self.edges.len() => {
                Some(tee.common)
            }
            _ => None,
        })
    }

    /// Given pressure of a node, or zero for a free one.
    #[inline]
    pub(super) fn given_pressure(&self, node: usize) -> f64 {
        match self.nodes[node] {
            Node::Fixed { pressure } => pressure,
            Node::Free { .. } => 0.0,
        }
    }

    #[inline]
    pub(super) fn unknown(&self, node: usize) -> Option<usize> {
        match self.nodes[node] {
            Node::Fixed { .. } => None,
            Node::Free { unknown, .. } => Some(unknown),
        }
    }

    pub(super) fn fans(&self, edge: &Edge) -> impl Iterator<Item = &FanCurve> {
        self.elements[edge.first..edge.end].iter().filter_map(|element| match element {
            Element::Fan(fan) | Element::FanReversed(fan) => Some(fan),
            _ => None,
        })
    }

    pub(super) fn has_hump(&self, edge: &Edge) -> bool {
        self.fans(edge).any(FanCurve::has_hump)
    }
}
