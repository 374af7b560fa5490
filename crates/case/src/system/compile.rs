//! From the job to the graph.

use dewpath_report::say::What;
use std::collections::BTreeMap;

use dewpath_job::model::{Job, Run, Section};
use dewpath_report::Figure;

use super::ask::{ask, minutes};
use super::graph::{AirInputs, System};
use super::reach::leads_to_fan;
use super::runs::{joints, meeting, run_items, run_size};
use super::spec::{Edge, Item, JointsSpec, Owner, Spec};
use super::things::{door, fan_spec, grille_spec, leak, terminal_spec};
use crate::defaults;
use crate::inputs::{CategoryInput, Inputs};

const OUTDOORS: usize = 0;
const HOUSE: usize = 1;

impl System {
    /// Reads the job into a graph.
    pub fn of(job: &Job, inputs: &mut Inputs) -> Self {
        let air = AirInputs {
            altitude: inputs.quantity(
                &ask("site.altitude".to_owned(), What::Altitude, minutes::TAPE),
                &job.site.altitude,
                Figure::LengthM,
                &defaults::altitude_m(),
            ),
            indoor: inputs.quantity(
                &ask("site.indoor".to_owned(), What::Indoor, minutes::TAPE),
                &job.site.indoor,
                |t| Figure::TemperatureC(t.map(|k| k - 273.15)),
                &defaults::indoor_k(),
            ),
            humidity: inputs.quantity(
                &ask("site.humidity".to_owned(), What::Humidity, minutes::TAPE),
                &job.site.humidity,
                Figure::ShareRatio,
                &defaults::humidity(),
            ),
        };
        let mut graph = Graph::new(job);
        graph.shell(job, inputs);
        graph.fans(job, inputs);
        graph.runs(job, inputs);
        graph.terminals(job, inputs);
        graph.finish(air)
    }
}

/// Nodes by name while the graph grows.
struct Graph {
    nodes: BTreeMap<String, usize>,
    edges: Vec<Edge>,
    /// Nodes that must not be merged away (none at present besides outdoors).
    next: usize,
}

impl Graph {
    fn new(_job: &Job) -> Self {
        Self { nodes: BTreeMap::new(), edges: Vec::new(), next: HOUSE + 1 }
    }

    fn node(&mut self, name: String) -> usize {
        let next = &mut self.next;
        *self.nodes.entry(name).or_insert_with(|| {
            *next += 1;
            *next - 1
        })
    }

    fn edge(&mut self, from: usize, to: usize, items: Vec<Item>) {
        self.edges.push(Edge { from, to, items });
    }

    /// The dwelling's leaks and the doors of the served rooms.
    fn shell(&mut self, job: &Job, inputs: &mut Inputs) {
        self.edge(OUTDOORS, HOUSE, vec![Item { owner: Owner::Shell, spec: leak(job, inputs) }]);
        for (index, room) in job.rooms.iter().enumerate() {
            let node = self.node(format!("room {}", room.id));
            let door = Spec::Door(door(room, inputs));
            self.edge(HOUSE, node, vec![Item { owner: Owner::Door { room: index }, spec: door }]);
        }
    }

    fn fans(&mut self, job: &Job, inputs: &mut Inputs) {
        for (index, fan) in job.fans.iter().enumerate() {
            let outlet = self.node(format!("out {}", fan.id));
            let fed_by_run = job.runs.iter().any(|run| run.to == fan.id);
            let inlet = match &fan.room {
                Some(room) if !fed_by_run => self.node(format!("room {room}")),
                _ if fed_by_run => self.node(format!("in {}", fan.id)),
                // An inline fan that nothing leads to draws from the dwelling.
                _ => HOUSE,
            };
            let mut items = Vec::new();
            if let (true, Some(room)) = (fed_by_run, &fan.room) {
                // A fan with a room and a run into it: the room is joined to the inlet directly.
                let room = self.node(format!("room {room}"));
                self.edge(room, inlet, Vec::new());
            }
            items.push(Item {
                owner: Owner::Fan { fan: index },
                spec: Spec::Fan(fan_spec(index, fan, job, inputs)),
            });
            self.edge(inlet, outlet, items);
            if !job.runs.iter().any(|run| run.from == fan.id) {
                // No duct: the fan blows into whatever is behind it.
                self.edge(outlet, OUTDOORS, Vec::new());
            }
        }
    }

    fn runs(&mut self, job: &Job, inputs: &mut Inputs) {
        for (index, run) in job.runs.iter().enumerate() {
            let mut items = Vec::new();
            let from = self.start(job, run, index, inputs, &mut items);
            items.extend(run_items(job, index, run, inputs));
            if let Some(junction) = job.junctions.iter().position(|j| j.id == run.to) {
                items.push(meeting(job, index, run, junction, inputs));
            }
            let to = self.end(job, run);
            if leads_to_fan(job, run) {
                let joints = joints(run, &items, inputs);
                self.draw_in(index, to, joints);
            }
            self.edge(from, to, items);
        }
    }

    /// Joints that lead to the same place are one opening to the network.
    fn draw_in(&mut self, run: usize, to: usize, joints: JointsSpec) {
        let there = self.edges.iter_mut().filter(|edge| edge.to == to).find_map(|edge| match edge
            .items
            .as_mut_slice()
        {
            [Item { spec: Spec::Joints(list), .. }] => Some(list),
            _ => None,
        });
        if let Some(list) = there {
            list.push(joints);
        } else {
            let spec = Spec::Joints(vec![joints]);
            self.edge(OUTDOORS, to, vec![Item { owner: Owner::Joints { run }, spec }]);
        }
    }

    fn start(
        &mut self,
        job: &Job,
        run: &Run,
        index: usize,
        inputs: &mut Inputs,
        items: &mut Vec<Item>,
    ) -> usize {
        if let Some((at, grille)) =
            job.grilles.iter().enumerate().find(|(_, grille)| grille.id == run.from)
        {
            items.push(Item {
                owner: Owner::Grille { grille: at },
                spec: grille_spec(grille, &run_size(job, index, run, inputs), inputs),
            });
            return self.node(format!("room {}", grille.room));
        }
        if job.fans.iter().any(|fan| fan.id == run.from) {
            return self.node(format!("out {}", run.from));
        }
        if job.rooms.iter().any(|room| room.id == run.from) {
            return self.node(format!("room {}", run.from));
        }
        self.node(format!("junction {}", run.from))
    }

    fn end(&mut self, job: &Job, run: &Run) -> usize {
        if job.fans.iter().any(|fan| fan.id == run.to) {
            return self.node(format!("in {}", run.to));
        }
        if job.terminals.iter().any(|terminal| terminal.id == run.to) {
            return self.node(format!("terminal {}", run.to));
        }
        self.node(format!("junction {}", run.to))
    }

    fn terminals(&mut self, job: &Job, inputs: &mut Inputs) {
        for (index, terminal) in job.terminals.iter().enumerate() {
            let feeding = job.runs.iter().enumerate().find(|(_, run)| run.to == terminal.id);
            let Some((run_index, run)) = feeding else { continue };
            let size = match self.last_size(run_index) {
                Some(size) => size,
                None => run_size(job, run_index, run, inputs),
            };
            let spec = Spec::Terminal(terminal_spec(index, terminal, &size, inputs));
            let node = self.node(format!("terminal {}", terminal.id));
            self.edge(
                node,
                OUTDOORS,
                vec![Item { owner: Owner::Terminal { terminal: index }, spec }],
            );
        }
    }

    /// Section of the last part of a run.
    fn last_size(&self, run: usize) -> Option<CategoryInput<Section>> {
        let mine = |item: &&Item| matches!(&item.owner, Owner::Part { run: r, .. } if *r == run);
        let items = self.edges.iter().flat_map(|edge| &edge.items).filter(mine);
        items.rev().find_map(|item| match &item.spec {
            Spec::Piece { duct, .. } => Some(duct.size.clone()),
            Spec::Transition { to, .. } => Some(to.clone()),
            Spec::Elbow { size, .. } => Some(size.clone()),
            _ => None,
        })
    }

    /// Merges nodes that only pass air on, so that one fan on one run is a single edge.
    fn finish(mut self, air: AirInputs) -> System {
        self.drop_dead_ends();
        self.merge();
        let edges = self.renumber();
        let nodes = edges.iter().map(|e| e.from.max(e.to) + 1).max().unwrap_or(1);
        System { nodes, edges, air }
    }

    fn merge(&mut self) {
        loop {
            let joint = (HOUSE..self.next).find_map(|node| {
                let mut into = self.edges.iter().enumerate().filter(|(_, e)| e.to == node);
                let mut out = self.edges.iter().enumerate().filter(|(_, e)| e.from == node);
                match (into.next(), into.next(), out.next(), out.next()) {
                    (Some((a, _)), None, Some((b, _)), None) if a != b => Some((a, b)),
                    _ => None,
                }
            });
            let Some((first, second)) = joint else { break };
            let tail = self.edges[second].clone();
            self.edges[first].to = tail.to;
            self.edges[first].items.extend(tail.items);
            self.edges.remove(second);
        }
    }

    /// Nodes with a single edge carry no air: a room without an exhaust, a grille to nowhere.
    fn drop_dead_ends(&mut self) {
        loop {
            let dead = (HOUSE..self.next).find_map(|node| {
                let mut touching =
                    self.edges.iter().enumerate().filter(|(_, e)| e.from == node || e.to == node);
                match (touching.next(), touching.next()) {
                    (Some((edge, _)), None) => Some(edge),
                    _ => None,
                }
            });
            let Some(edge) = dead else { return };
            self.edges.remove(edge);
        }
    }

    fn renumber(self) -> Vec<Edge> {
        let mut names = BTreeMap::from([(OUTDOORS, OUTDOORS)]);
        let mut edges = self.edges;
        for edge in &mut edges {
            for node in [&mut edge.from, &mut edge.to] {
                let next = names.len();
                *node = *names.entry(*node).or_insert(next);
            }
        }
        edges
    }
}
