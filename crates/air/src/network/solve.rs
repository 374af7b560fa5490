//! Newton's method over a whole network.

use dewpath_units::{Airflow, Pressure};

use super::build::{Edge, Network, Node};
use super::error::SolveError;
use super::id::{EdgeId, NodeId};
use super::linear::{eliminate, factorise, substitute};
use crate::element::Element;
use crate::fan::FanCurve;
use crate::root::{
    LEAST_SLOPE, NOMINAL_FLOW, Stuck, Tolerance, find_root, left_after_step, root_between,
};

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
    /// Flow of an edge, or `None` if there is no such edge.
    pub fn flow(&self, edge: EdgeId) -> Option<Airflow> {
        self.flows_m3_s.get(edge.index()).map(|&flow| Airflow::from_m3_s(flow))
    }

    /// Pressure of a node, or `None` if there is no such node.
    pub fn pressure(&self, node: NodeId) -> Option<Pressure> {
        self.pressures_pa.get(node.index()).map(|&pressure| Pressure::from_pa(pressure))
    }

    /// Flow of an edge, m3/s; not a number if there is no such edge.
    pub fn flow_m3_s(&self, edge: EdgeId) -> f64 {
        self.flows_m3_s.get(edge.index()).copied().unwrap_or(f64::NAN)
    }

    /// Pressure of a node, Pa; not a number if there is no such node.
    pub fn pressure_pa(&self, node: NodeId) -> f64 {
        self.pressures_pa.get(node.index()).copied().unwrap_or(f64::NAN)
    }
}

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
///
/// Only a fan with a stall hump on an edge between fixed nodes does: its crossings are searched first.
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
        if let Some(common) = network.stray_tee() {
            return Err(SolveError::StrayTee { common });
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

    /// The root of one edge's equation, from `first`.
    fn root_alone(
        &mut self,
        edge: EdgeId,
        excess: &impl Fn(f64) -> (f64, f64),
        first: f64,
    ) -> Result<f64, SolveError> {
        match find_root(excess, first, &self.tolerance) {
            Ok(root) => {
                let solution = &mut self.solution;
                solution.iterations = solution.iterations.max(root.steps);
                solution.pressure_residual_pa = solution.pressure_residual_pa.max(root.left);
                solution.stable &= root.slope >= 0.0;
                Ok(root.q)
            }
            Err(Stuck::NotFinite { q }) => Err(SolveError::NotFinite { edge, flow_m3_s: q }),
            Err(Stuck::Unfinished { value }) => Err(SolveError::NotConverged {
                iterations: self.tolerance.iterations,
                pressure_residual_pa: value.abs(),
                mass_residual_m3_s: 0.0,
                worst_edge: edge,
            }),
        }
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
