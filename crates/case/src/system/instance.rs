//! One draw of a system: numbers are put into the items, the network is solved.

use std::f64::consts::FRAC_PI_4;

use dewpath_air::element::{Element, JunctionLoss, PowerLaw, SplitLaw};
use dewpath_air::friction::DuctKernel;
use dewpath_air::moist_air::MoistAir;
use dewpath_air::network::{EdgeId, Network, NetworkBuilder, NodeId, SolveError, Solver};
use dewpath_air::terminal::TerminalKernel;
use dewpath_air::{atmosphere, duct_leakage, flex, wind};
use dewpath_job::model::{DuctKind, Job, JunctionKind, Screen, Section};
use dewpath_report::Crossing;
use dewpath_units::{Density, Humidity, Length, Ratio, Temperature, Velocity};

use super::graph::System;
use super::parts;
use super::spec::{
    Conditions, DoorSpec, DuctSpec, FanSpec, Item, JointsSpec, Owner, Spec, TerminalSpec,
};
use crate::given;
use crate::inputs::{CategoryInput, Draw, InputId, Inputs};
use crate::section;
use crate::system::fan;

/// Open area of an open door, m²: far more than any fan can use.
const OPEN_DOOR_M2: f64 = 1.5;
/// Loss of a joint that nothing is known to resist, Pa s²/m6: small beside anything else.
const HARDLY_ANY: f64 = 100.0;
/// Exponent of leaks of a dwelling. Source: 0.65, the usual exponent where it is not measured.
pub const LEAK_EXPONENT: f64 = 0.65;

/// Resistance of a fan at rest of which nothing is known, Pa s²/m6: that of a small centrifugal fan,
/// shut-off pressure over free flow squared. Judgement, no source.
const UNKNOWN_FAN_AT_REST: f64 = 6e4;

/// Why a draw has no answer.
#[derive(Debug, Clone, PartialEq)]
pub enum Trouble {
    /// The network has no balance, or a value in it is impossible.
    Unsolved {
        /// What the solver says.
        why: String,
    },
}

impl Trouble {
    /// From what the solver says.
    pub fn of(error: &impl std::fmt::Display) -> Self {
        Self::Unsolved { why: error.to_string() }
    }
}

/// Air of one draw.
#[derive(Debug, Clone, Copy)]
struct Air {
    rho: f64,
    mu: f64,
}

/// A network whose numbers change from draw to draw.
pub struct Instance<'a> {
    job: &'a Job,
    system: &'a System,
    inputs: &'a Inputs,
    conditions: &'a Conditions,
    network: Network,
    solver: Solver,
    /// First element of each item, per edge.
    first_elements: Vec<Vec<usize>>,
    air: Air,
    flows: Vec<f64>,
    losses: Vec<Vec<f64>>,
    /// Candidate in place of a fan of the job, with the steps at its outlet left out.
    replaced: Option<(usize, Replacement)>,
}

/// What stands in for a fan of the job while candidates are judged.
#[derive(Debug, Clone)]
pub enum Replacement {
    /// So much pressure whatever the flow.
    Pressure(f64),
}

impl<'a> Instance<'a> {
    /// The network of a system under some conditions; its numbers are those of no draw yet.
    ///
    /// # Errors
    /// When the graph is no network.
    pub fn new(
        job: &'a Job,
        system: &'a System,
        inputs: &'a Inputs,
        conditions: &'a Conditions,
    ) -> Result<Self, Trouble> {
        let mut builder = NetworkBuilder::new();
        let outdoors_in = builder.fixed_node(0.0);
        let outdoors_out = builder.fixed_node(0.0);
        let free: Vec<NodeId> = (1..system.nodes).map(|_| builder.free_node()).collect();
        let mut first_elements = Vec::with_capacity(system.edges.len());
        for edge in &system.edges {
            let from = if edge.from == 0 { outdoors_in } else { free[edge.from - 1] };
            let to = if edge.to == 0 { outdoors_out } else { free[edge.to - 1] };
            // An edge needs something that resists; one without any item is a wide open joint.
            let bare = edge.items.iter().all(|item| matches!(item.spec, Spec::Meeting { .. }));
            let mut elements =
                if bare { vec![Element::Quadratic { k: HARDLY_ANY }] } else { Vec::new() };
            let mut first = Vec::with_capacity(edge.items.len());
            for item in &edge.items {
                first.push(elements.len());
                match common_edge(system, &item.owner, job) {
                    // A tee is known by its place from the start; its numbers come with each draw.
                    Some(common) if matches!(item.spec, Spec::Meeting { .. }) => {
                        elements.push(Element::Junction(JunctionLoss {
                            common: EdgeId::from_index(common),
                            runs_along: true,
                            k_common: 0.0,
                            forward: SplitLaw::Polynomial([0.0; 4]),
                            backward: SplitLaw::Polynomial([0.0; 4]),
                        }));
                    }
                    _ => elements.extend(
                        (0..elements_of(&item.spec)).map(|_| Element::Quadratic { k: 0.0 }),
                    ),
                }
            }
            first_elements.push(first);
            builder.edge(from, to, elements);
        }
        let network = builder.build().map_err(|error| Trouble::of(&error))?;
        let losses = system.edges.iter().map(|edge| vec![0.0; edge.items.len()]).collect();
        Ok(Self {
            job,
            system,
            inputs,
            conditions,
            network,
            solver: Solver::new(),
            first_elements,
            air: Air { rho: 1.2, mu: 1.8e-5 },
            flows: vec![0.0; system.edges.len()],
            losses,
            replaced: None,
        })
    }

    /// Puts a constant pressure in the place of a fan, for the curve of the system.
    pub fn replace(&mut self, fan: usize, by: Replacement) {
        self.replaced = Some((fan, by));
    }

    /// Puts the numbers of a draw in and solves.
    ///
    /// # Errors
    /// When the draw has no balance, or a value in it is impossible.
    pub fn solve(&mut self, draw: Draw) -> Result<(), Trouble> {
        self.load(draw)?;
        self.balance()
    }

    /// Puts the numbers of a draw into the network.
    ///
    /// # Errors
    /// When a value of the draw is impossible.
    pub fn load(&mut self, draw: Draw) -> Result<(), Trouble> {
        self.air = self.air_of(draw)?;
        for e in 0..self.system.edges.len() {
            for item in 0..self.system.edges[e].items.len() {
                self.put(e, item, draw)?;
            }
        }
        Ok(())
    }

    /// Changes the pressure that stands in for a fan, and solves again.
    ///
    /// # Errors
    /// When there is no balance at that pressure.
    pub fn balance_at(&mut self, pressure_pa: f64) -> Result<(), Trouble> {
        if let Some((fan, by)) = &mut self.replaced {
            *by = Replacement::Pressure(pressure_pa);
            let fan = *fan;
            if let Some((e, item)) = self.system.find(|o| *o == Owner::Fan { fan }) {
                let at = self.first_elements[e][item];
                self.network.elements_mut(EdgeId::from_index(e))[at] =
                    Element::Source { pa: pressure_pa };
            }
        }
        self.balance()
    }

    fn balance(&mut self) -> Result<(), Trouble> {
        let start = self.flows.iter().any(|q| *q != 0.0).then_some(self.flows.as_slice());
        let solved = match self.solver.solve(&self.network, start) {
            Ok(solution) => Ok(solution),
            // A start from the last draw may mislead; the solver's own start does not.
            Err(SolveError::NotConverged { .. }) => self.solver.solve(&self.network, None),
            Err(other) => Err(other),
        };
        let solution = solved.map_err(|error| Trouble::of(&error))?;
        for (e, flow) in self.flows.iter_mut().enumerate() {
            *flow = solution.flow_m3_s(EdgeId::from_index(e));
        }
        Ok(())
    }

    /// Works out the loss of every item at the last solution.
    pub(crate) fn weigh(&mut self) {
        for e in 0..self.system.edges.len() {
            let elements = self.network.element_losses_pa(EdgeId::from_index(e), &self.flows);
            let firsts = &self.first_elements[e];
            for (index, loss) in self.losses[e].iter_mut().enumerate() {
                let end = firsts.get(index + 1).copied().unwrap_or(elements.len());
                *loss = elements[firsts[index]..end].iter().sum();
            }
        }
    }

    /// Elements of an edge as the last draw put them in.
    pub fn elements(&self, edge: usize) -> &[Element] {
        self.network.elements(EdgeId::from_index(edge))
    }

    /// First element of an item on its edge.
    pub fn first_element(&self, edge: usize, item: usize) -> usize {
        self.first_elements[edge][item]
    }

    /// Density of the indoor air of the last draw, kg/m³.
    pub fn density_kg_m3(&self) -> f64 {
        self.air.rho
    }

    /// Flow of an edge, m³/s.
    pub fn flow_m3_s(&self, edge: usize) -> f64 {
        self.flows[edge]
    }

    /// Loss of an item, Pa, as last weighed.
    pub fn loss_pa(&self, edge: usize, item: usize) -> f64 {
        self.losses[edge][item]
    }

    fn value(&self, id: InputId, draw: Draw) -> f64 {
        self.inputs.value(id, draw)
    }

    fn air_of(&self, draw: Draw) -> Result<Air, Trouble> {
        let inputs = &self.system.air;
        let altitude = Length::from_m(self.value(inputs.altitude, draw));
        let pressure =
            atmosphere::standard_pressure(altitude).map_err(|error| Trouble::of(&error))?;
        let indoor = Temperature::from_k(self.value(inputs.indoor, draw));
        let humidity = Humidity::from_ratio(self.value(inputs.humidity, draw));
        let air = MoistAir::from_relative_humidity(indoor, humidity, pressure)
            .map_err(|error| Trouble::of(&error))?;
        Ok(Air { rho: air.density().kg_m3(), mu: air.viscosity_pa_s() })
    }

    fn put(&mut self, e: usize, item: usize, draw: Draw) -> Result<(), Trouble> {
        let system = self.system;
        let Item { owner, spec } = &system.edges[e].items[item];
        let at = self.first_elements[e][item];
        let made = self.make(owner, spec, draw)?;
        let elements = self.network.elements_mut(EdgeId::from_index(e));
        for (slot, element) in elements[at..].iter_mut().zip(made.into_iter().flatten()) {
            *slot = element;
        }
        Ok(())
    }

    fn make(
        &self,
        owner: &Owner,
        spec: &Spec,
        draw: Draw,
    ) -> Result<[Option<Element>; 3], Trouble> {
        let Air { rho, mu } = self.air;
        let one = |element| [Some(element), None, None];
        let size = |category: &CategoryInput<Section>| {
            let section = category.value(self.inputs, draw);
            (section::hydraulic_m(section), section::area_m2(section))
        };
        let loss = |c: f64, area: f64| Element::coefficient(c, area, rho);
        Ok(match spec {
            Spec::Leak { .. } => one(self.leak(spec, draw)?),
            Spec::Joints(joints) => one(self.joints(joints, draw)?),
            Spec::Door(door) => one(self.door(door, draw)),
            Spec::Fan(fan) => self.fan(fan, draw)?,
            Spec::Piece { duct, length } => {
                let length = self.value(*length, draw);
                one(Element::Duct(self.duct(duct, length, draw)?))
            }
            Spec::Elbow { make, angle, radius, count, size: section, band } => {
                let (d, area) = size(section);
                let count = count.map_or(1.0, |id| self.value(id, draw));
                let (angle, radius) = (self.value(*angle, draw), self.value(*radius, draw));
                let elbow = parts::elbow(make.value(self.inputs, draw), d, radius, angle)
                    .map_err(|error| Trouble::of(&error))?
                    .times(count);
                one(Element::Loss(elbow.kernel(self.value(*band, draw), d, area, rho, mu)))
            }
            Spec::Transition { from, to, shape, angle } => {
                let (before, after) = (size(from), size(to));
                let shape = shape.value(self.inputs, draw);
                one(parts::transition(before.1, after.1, shape, self.value(*angle, draw), rho)
                    .map_err(|error| Trouble::of(&error))?)
            }
            Spec::Backdraft { size: section, band } => {
                one(parts::backdraft(size(section).1, self.value(*band, draw), rho))
            }
            Spec::Balancing { size: section, angle } => {
                let c = parts::balancing(self.value(*angle, draw))
                    .map_err(|error| Trouble::of(&error))?;
                one(loss(c, size(section).1))
            }
            Spec::Crush { size: section, open } => {
                let open = self.value(*open, draw).clamp(0.02, 1.0);
                one(loss(parts::crush(open), size(section).1))
            }
            Spec::Point { airflow, pressure } => {
                let (q, p) = (self.value(*airflow, draw), self.value(*pressure, draw));
                one(Element::Quadratic { k: p.max(0.0) / (q * q).max(1e-9) })
            }
            Spec::SystemEffect { size: section, share } => {
                one(loss(self.value(*share, draw), size(section).1))
            }
            Spec::Grille { free_area, share, size: section, band } => {
                let collar = size(section).1;
                let area = match free_area {
                    Some(id) => self.value(*id, draw),
                    None => collar * self.value(*share, draw),
                };
                // Loss on the velocity through the free area: 2 to 4, handbook range for grilles.
                one(loss(2.0 + 2.0 * self.value(*band, draw), area))
            }
            Spec::Terminal(terminal) => self.terminal(terminal, draw)?,
            Spec::Meeting { kind, straight, size: section, branch, common } => one(self.meeting(
                owner,
                kind.value(self.inputs, draw),
                *straight,
                [size(section).1, size(branch).1, size(common).1],
            )),
        })
    }

    fn leak(&self, spec: &Spec, draw: Draw) -> Result<Element, Trouble> {
        let Some(flow_50) = leak_flow_50(spec, self.inputs, draw) else {
            return Ok(Element::Quadratic { k: 0.0 });
        };
        let coefficient = flow_50.max(1e-4) / libm::pow(50.0, LEAK_EXPONENT);
        PowerLaw::new(coefficient, LEAK_EXPONENT)
            .map(Element::PowerLaw)
            .map_err(|error| Trouble::of(&error))
    }

    fn joints(&self, joints: &[JointsSpec], draw: Draw) -> Result<Element, Trouble> {
        let of_run = |joints: &JointsSpec| {
            let surface: f64 = joints
                .pieces
                .iter()
                .map(|(size, length)| {
                    let size = size.value(self.inputs, draw);
                    section::perimeter_m(size) * self.value(*length, draw)
                })
                .sum();
            parts::tightness(joints.sealed.value(self.inputs, draw)).coefficient() * surface
        };
        let coefficient = joints.iter().map(of_run).sum::<f64>().max(1e-9);
        PowerLaw::new(coefficient, duct_leakage::EXPONENT)
            .map(Element::PowerLaw)
            .map_err(|error| Trouble::of(&error))
    }

    fn door(&self, door: &DoorSpec, draw: Draw) -> Element {
        let closed = self.value(door.width, draw) * self.value(door.gap, draw)
            + self.value(door.joints, draw)
            + door.transfer.map_or(0.0, |id| self.value(id, draw));
        let area = if self.conditions.doors_open { OPEN_DOOR_M2 } else { closed };
        Element::orifice(area.max(1e-6), self.value(door.coefficient, draw), self.air.rho)
    }

    fn fan(&self, spec: &FanSpec, draw: Draw) -> Result<[Option<Element>; 3], Trouble> {
        if let Some((fan, Replacement::Pressure(pa))) = &self.replaced
            && *fan == spec.fan
        {
            return Ok([
                Some(Element::Source { pa: *pa }),
                Some(Element::Quadratic { k: 0.0 }),
                None,
            ]);
        }
        let data = &self.job.fans[spec.fan].data;
        let Some(Ok(curve)) = fan::curve_of_draw(data, spec, self.inputs, draw) else {
            // Nothing usable is known of it: it stands still here, and a finding says so.
            let at_rest = Element::idle_fan(UNKNOWN_FAN_AT_REST);
            return Ok([Some(at_rest), parts::idle_flap(), None]);
        };
        let curve = curve
            .at_density(Density::from_kg_m3(self.air.rho))
            .map_err(|error| Trouble::of(&error))?;
        let runs =
            spec.running.value(self.inputs, draw) && !self.conditions.off.contains(&spec.fan);
        if runs {
            return Ok([Some(Element::Fan(curve)), Some(Element::Quadratic { k: 0.0 }), None]);
        }
        let flap = spec.damper.value(self.inputs, draw).then(parts::idle_flap).flatten();
        let flap = flap.unwrap_or(Element::Quadratic { k: 0.0 });
        Ok([Some(Element::idle_fan(curve.idle_resistance())), Some(flap), None])
    }

    fn duct(&self, duct: &DuctSpec, length: f64, draw: Draw) -> Result<DuctKernel, Trouble> {
        let section = duct.size.value(self.inputs, draw);
        let kind = duct.kind.value(self.inputs, draw);
        let (d, area) = (section::hydraulic_m(section), section::area_m2(section));
        let eps = match duct.roughness {
            Some(id) => self.value(id, draw),
            None => parts::roughness_m(kind, self.value(duct.roughness_band, draw)),
        };
        let multiplier = if kind == DuctKind::Flex {
            let compression = self.value(duct.compression, draw).clamp(0.0, 0.9);
            let band = self.value(duct.flex_band, draw);
            flex::compression_factor(Ratio::from_ratio(compression), Length::from_m(d))
                .map_err(|error| Trouble::of(&error))?
                .at(band)
        } else {
            1.0
        };
        let (rho, mu) = (self.air.rho, self.air.mu);
        Ok(DuctKernel::new(d, area, length.max(0.0), eps, multiplier, rho, mu))
    }

    fn terminal(&self, spec: &TerminalSpec, draw: Draw) -> Result<[Option<Element>; 3], Trouble> {
        let rho = self.air.rho;
        let area = section::area_m2(spec.size.value(self.inputs, draw));
        let kind = spec.kind.value(self.inputs, draw);
        let width = Length::from_m((area / FRAC_PI_4).sqrt());
        let mut band = parts::terminal_kind(kind).band().of_width(width);
        let place = self.value(spec.band, draw);
        if let Some((q, p)) = spec.point {
            let (q, p) = (self.value(q, draw), self.value(p, draw));
            band = band.through(q, p, area, rho).map_err(|error| Trouble::of(&error))?;
        }
        let flap = band.flap && spec.flap.value(self.inputs, draw);
        let mut set = band.at(place);
        if !flap {
            set.flap_pa = 0.0;
        }
        let screen = match spec.screen.value(self.inputs, draw) {
            // A measured point holds the screen too.
            _ if spec.point.is_some() => 0.0,
            Screen::None => 0.0,
            Screen::Coarse => self.screen(0.75, spec, draw)?,
            Screen::Insect => self.screen(0.55, spec, draw)?,
        };
        let stuck =
            spec.stuck.map_or(0.0, |id| parts::crush(self.value(id, draw).clamp(0.02, 1.0)));
        let outside = self.outside_pa(spec, draw);
        Ok([
            Some(Element::Terminal(TerminalKernel::new(set, flap, area, rho))),
            Some(Element::coefficient(screen + stuck, area, rho)),
            Some(Element::Source { pa: -outside }),
        ])
    }

    fn screen(&self, free: f64, spec: &TerminalSpec, draw: Draw) -> Result<f64, Trouble> {
        parts::screen(free, self.value(spec.clogged, draw)).map_err(|error| Trouble::of(&error))
    }

    /// Pressure outside a terminal against that at the leaks of the dwelling, Pa.
    fn outside_pa(&self, spec: &TerminalSpec, draw: Draw) -> f64 {
        let riser = spec.riser.map_or(0.0, |id| self.value(id, draw));
        let wind = self.conditions.facing.map_or(0.0, |facing| {
            let speed = Velocity::from_m_s(self.conditions.wind_m_s);
            // Outdoor air is as much denser as it is colder.
            let warmer = self.value(self.system.air.indoor, draw)
                / self.conditions.outdoor_k.unwrap_or(self.value(self.system.air.indoor, draw));
            let outdoors = Density::from_kg_m3(self.air.rho * warmer);
            parts::wind_coefficient(facing) * wind::velocity_pressure(outdoors, speed).pa()
        });
        riser + wind + self.stack_pa(spec, draw)
    }

    /// Buoyancy of the warm air on the way to the terminal: negative (it helps) in a riser in winter.
    fn stack_pa(&self, spec: &TerminalSpec, draw: Draw) -> f64 {
        let Some(outdoor) = self.conditions.outdoor_k else { return 0.0 };
        let rise = self.rise_m(&self.job.terminals[spec.terminal].id);
        let indoor = self.value(self.system.air.indoor, draw);
        let inside = Density::from_kg_m3(self.air.rho);
        let outside = inside * (indoor / outdoor);
        -wind::stack_pressure(inside, outside, Length::from_m(rise)).pa()
    }

    /// Rise of the runs that lead to a place, along the first way there.
    fn rise_m(&self, to: &str) -> f64 {
        let mut end = to;
        let mut rise = 0.0;
        // Each step leaves one run behind; the job crate has refused circles.
        for _ in 0..self.job.runs.len() {
            let Some(run) = self.job.runs.iter().find(|run| run.to == end) else { break };
            rise += given::likely(&run.rise).map_or(0.0, Length::m);
            end = &run.from;
        }
        rise
    }

    fn meeting(
        &self,
        owner: &Owner,
        kind: JunctionKind,
        straight: bool,
        [own, branch, common]: [f64; 3],
    ) -> Element {
        let rho = self.air.rho;
        let Some(edge) = common_edge(self.system, owner, self.job) else {
            // Nothing leads on: the velocity pressure is lost.
            return Element::coefficient(1.0, own, rho);
        };
        let [forward, backward] = match kind {
            JunctionKind::Box => {
                // Velocity pressure of the own stream, written on that of the common leg.
                let ratio = common / own;
                [SplitLaw::Polynomial([0.0, 0.0, ratio * ratio, 0.0]); 2]
            }
            JunctionKind::Wye | JunctionKind::Tee => parts::meeting(kind, straight, branch, common),
        };
        Element::Junction(JunctionLoss {
            common: EdgeId::from_index(edge),
            runs_along: true,
            k_common: 0.5 * rho / (common * common),
            forward,
            backward,
        })
    }

    /// Crossings of a fan's curve with its system at the likely values, besides the one that is used.
    pub fn other_crossings(&self, fan: usize) -> Vec<Crossing> {
        let Some((e, item)) = self.system.find(|o| *o == Owner::Fan { fan }) else {
            return Vec::new();
        };
        let edge = &self.system.edges[e];
        if edge.from != 0 || edge.to != 0 {
            return Vec::new();
        }
        let elements = self.network.elements(EdgeId::from_index(e));
        let at = self.first_elements[e][item];
        let Some(Element::Fan(curve)) = elements.get(at) else { return Vec::new() };
        let system = |q: f64| {
            elements.iter().enumerate().filter(|(i, _)| *i != at).fold((0.0, 0.0), |sum, (_, x)| {
                let (p, slope) = x.loss(q);
                (sum.0 + p, sum.1 + slope)
            })
        };
        let used = self.flows[e];
        curve
            .crossings(system)
            .into_iter()
            .filter(|c| (c.q_m3_s - used).abs() > 1e-6)
            .map(|c| Crossing {
                airflow_l_s: c.q_m3_s * 1000.0,
                pressure_pa: c.p_pa,
                stable: c.stable,
            })
            .collect()
    }
}

/// Flow through the leaks of the dwelling at 50 Pa in a draw, m³/s; none for what is no leak.
pub fn leak_flow_50(spec: &Spec, inputs: &Inputs, draw: Draw) -> Option<f64> {
    let Spec::Leak { air_changes, volume, area, flow } = spec else { return None };
    let per_second = |id| inputs.value(id, draw) / 3600.0;
    Some(match (flow, volume, area) {
        (Some(id), ..) => inputs.value(*id, draw),
        (None, Some(id), _) => per_second(*air_changes) * inputs.value(*id, draw),
        (None, None, Some(storey)) => {
            let volume = inputs.value(storey.area, draw) * inputs.value(storey.height, draw);
            per_second(*air_changes) * volume
        }
        (None, None, None) => 0.0,
    })
}

fn elements_of(spec: &Spec) -> usize {
    match spec {
        Spec::Fan(_) => 2,
        Spec::Terminal(_) => 3,
        _ => 1,
    }
}

/// Edge that leads on from the junction at the end of a run.
fn common_edge(system: &System, owner: &Owner, job: &Job) -> Option<usize> {
    let Owner::Meeting { junction, .. } = owner else { return None };
    let onward = job.runs.iter().position(|other| other.from == job.junctions[*junction].id)?;
    let (edge, _) = system.find(|o| matches!(o, Owner::Part { run, .. } if *run == onward))?;
    let (own, _) = system.find(|o| o == owner)?;
    (edge != own).then_some(edge)
}
