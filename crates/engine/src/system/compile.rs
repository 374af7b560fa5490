//! From the job to the graph.

use std::collections::BTreeMap;

use dewpath_job::category::Category;
use dewpath_job::model::{
    DamperKind, DuctGiven, DuctKind, ElbowMake, Fan, FanKind, GivenChoice, Grille, Job, Part,
    PartKind, Run, RunShape, Screen, Section, Terminal, TerminalKind, TransitionShape,
};
use dewpath_units::{Choice, Length, Origin, Stated, Uncertain, YesNo};

use super::spec::{DoorSpec, DuctSpec, Edge, FanSpec, Item, Owner, Spec, Storey, TerminalSpec};
use super::{AirInputs, System};
use crate::defaults;
use crate::given;
use crate::inputs::{Ask, CategoryInput, Draw, Fallback, InputId, Inputs};
use crate::report::{Figure, Message, Source};
use crate::section;

const OUTDOORS: usize = 0;
const HOUSE: usize = 1;

/// Minutes to look at or measure a thing, about. Judgement; a ladder or an attic is included.
mod minutes {
    pub(super) const LABEL: f64 = 2.0;
    pub(super) const TAPE: f64 = 1.0;
    pub(super) const DOOR: f64 = 1.0;
    pub(super) const COUNT_HIDDEN: f64 = 15.0;
    pub(super) const LOOK_OUTSIDE: f64 = 10.0;
    pub(super) const HIDDEN: f64 = 20.0;
    pub(super) const PULL_GRILLE: f64 = 5.0;
    pub(super) const NOT_ON_SITE: f64 = 60.0;
    pub(super) const DATA_SHEET: f64 = 10.0;
    pub(super) const BLOWER_DOOR: f64 = 90.0;
}

fn ask(at: String, what: &str, minutes: f64) -> Ask<'static> {
    Ask { at, stream: None, what: Message::new(what), minutes }
}

pub(crate) fn compile(job: &Job, inputs: &mut Inputs) -> System {
    let air = AirInputs {
        altitude: inputs.quantity(
            &ask("site.altitude".to_owned(), "what.altitude", minutes::TAPE),
            &job.site.altitude,
            Figure::LengthM,
            &defaults::altitude_m(),
        ),
        indoor: inputs.quantity(
            &ask("site.indoor".to_owned(), "what.indoor", minutes::TAPE),
            &job.site.indoor,
            |t| Figure::TemperatureC(t.map(|k| k - 273.15)),
            &defaults::indoor_k(),
        ),
        humidity: inputs.quantity(
            &ask("site.humidity".to_owned(), "what.humidity", minutes::TAPE),
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
                let joints = joints(run, index, &items, inputs);
                self.edge(OUTDOORS, to, vec![joints]);
            }
            self.edge(from, to, items);
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
        if let Some((place, grille)) =
            job.grilles.iter().enumerate().find(|(_, grille)| grille.id == run.from)
        {
            items.push(Item {
                owner: Owner::Grille { grille: place },
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

fn leak(job: &Job, inputs: &mut Inputs) -> Spec {
    let dwelling = &job.dwelling;
    let known = |given: &dewpath_job::model::Given<_>| {
        given
            .as_ref()
            .is_some_and(|s: &Stated<Uncertain<dewpath_units::Leakage50>>| !s.value.is_unknown())
    };
    let flow = known(&dwelling.leakage).then(|| {
        inputs.quantity(
            &ask("dwelling.leakage".to_owned(), "what.leakage", minutes::BLOWER_DOOR),
            &dwelling.leakage,
            |t| Figure::AirflowLS(t.map(|q| q * 1000.0)),
            &defaults::air_changes_50(),
        )
    });
    let air_changes = if flow.is_some() {
        inputs.constant(0.0, Figure::AirChangesPerH)
    } else {
        inputs.quantity(
            &ask("dwelling.air_changes".to_owned(), "what.air-changes", minutes::BLOWER_DOOR),
            &dwelling.air_changes,
            Figure::AirChangesPerH,
            &defaults::air_changes_50(),
        )
    };
    let has_volume = given::is_known(&dwelling.volume);
    let has_area = given::is_known(&dwelling.floor_area);
    let area = (flow.is_none() && !has_volume && has_area).then(|| Storey {
        area: inputs.quantity(
            &ask("dwelling.floor_area".to_owned(), "what.dwelling-area", minutes::TAPE),
            &dwelling.floor_area,
            Figure::AreaM2,
            &defaults::dwelling_volume_m3(),
        ),
        height: inputs.quantity(
            &ask("dwelling.storey_height".to_owned(), "what.storey", minutes::TAPE),
            &None::<Stated<Uncertain<Length>>>,
            Figure::LengthM,
            &defaults::storey_height_m(),
        ),
    });
    let volume = (flow.is_none() && area.is_none()).then(|| {
        inputs.quantity(
            &ask("dwelling.volume".to_owned(), "what.dwelling-volume", minutes::TAPE),
            &dwelling.volume,
            Figure::VolumeM3,
            &defaults::dwelling_volume_m3(),
        )
    });
    Spec::Leak { air_changes, volume, area, flow }
}

fn door(room: &dewpath_job::model::Room, inputs: &mut Inputs) -> DoorSpec {
    let at = |key: &str| format!("room.{}.door.{key}", room.id);
    let transfer = inputs.where_written(
        &ask(at("transfer"), "what.transfer", minutes::TAPE),
        &room.door.transfer,
        Figure::AreaM2,
    );
    DoorSpec {
        width: inputs.quantity(
            &ask(at("width"), "what.door-width", minutes::DOOR),
            &room.door.width,
            Figure::LengthM,
            &defaults::door_width_m(),
        ),
        gap: inputs.quantity(
            &ask(at("gap"), "what.door-gap", minutes::DOOR),
            &room.door.gap,
            |t| Figure::GapMm(t.map(|m| m * 1000.0)),
            &defaults::door_gap_m(),
        ),
        joints: inputs.quantity(
            &ask(at("joints"), "what.door-joints", minutes::NOT_ON_SITE),
            &None::<Stated<Uncertain<dewpath_units::Area>>>,
            Figure::AreaM2,
            &defaults::door_joints_m2(),
        ),
        transfer,
        coefficient: inputs.quantity(
            &ask(at("coefficient"), "what.gap-coefficient", minutes::NOT_ON_SITE),
            &room.door.coefficient,
            Figure::FactorRatio,
            &defaults::gap_coefficient(),
        ),
    }
}

fn fan_spec(index: usize, fan: &Fan, job: &Job, inputs: &mut Inputs) -> FanSpec {
    // A flap matters only while the fan stands still and another one blows.
    let may_stand_still = given::yes(&fan.running) != Some(true) && fan.running.is_some()
        || job.scenarios.iter().any(|scenario| scenario.off.contains(&fan.id));
    let at = |key: &str| format!("fan.{}.{key}", fan.id);
    let rated = fan
        .data
        .rated
        .iter()
        .enumerate()
        .map(|(place, point)| {
            let flow = inputs.quantity(
                &ask(format!("{}.{place}", at("rated")), "what.rated-flow", minutes::LABEL),
                &Some(point.airflow.clone()),
                |t| Figure::AirflowLS(t.map(|q| q * 1000.0)),
                &never(),
            );
            let pressure = inputs.where_written(
                &ask(format!("{}.{place}.at", at("rated")), "what.rated-at", minutes::LABEL),
                &point.pressure,
                Figure::PressurePa,
            );
            (flow, pressure)
        })
        .collect();
    let fallback_kind: &[FanKind] = if fan.room.is_some() {
        &[FanKind::Centrifugal, FanKind::Axial]
    } else {
        &[FanKind::Inline]
    };
    FanSpec {
        fan: index,
        kind: inputs.category(
            &ask(at("kind"), "what.fan-kind", minutes::PULL_GRILLE),
            &fan.data.kind,
            fallback_kind,
            &Source::judgement("ceiling fans are centrifugal or axial"),
        ),
        shape: if fan.data.curve.len() >= 2 {
            inputs.constant(0.5, Figure::ShareRatio)
        } else {
            inputs.band(
                &ask(at("curve"), "what.fan-curve", minutes::DATA_SHEET),
                &Source::judgement("fan curves that go through what the label says"),
            )
        },
        rated,
        has_curve: fan.data.curve.len() >= 2,
        speed: inputs.where_written(
            &ask(at("speed"), "what.fan-speed", minutes::LABEL),
            &fan.data.speed,
            Figure::ShareRatio,
        ),
        holds: inputs.where_written(
            &ask(at("holds_flow"), "what.holds-flow", minutes::LABEL),
            &fan.data.holds_flow,
            |t| Figure::AirflowLS(t.map(|q| q * 1000.0)),
        ),
        running: inputs.yes_no(
            &ask(at("running"), "what.running", minutes::TAPE),
            &fan.running.clone().or_else(|| Some(Stated::new(YesNo::Yes, Origin::Default))),
            &[true, false],
            &Source::judgement("the reference case lets every fan run"),
        ),
        damper: if may_stand_still {
            inputs.yes_no(
                &ask(at("damper"), "what.fan-damper", minutes::PULL_GRILLE),
                &fan.data.damper,
                &[true, false],
                &Source::judgement("most bath fans have a flap in the outlet"),
            )
        } else {
            CategoryInput::settled(inputs, true)
        },
    }
}

/// An angle in radians as a figure.
fn degrees(t: crate::report::Triple) -> Figure {
    Figure::AngleDeg(t.map(f64::to_degrees))
}

/// A default that is never reached because the caller has checked that the value is written.
fn never() -> Fallback {
    Fallback { low: 0.0, high: 0.0, source: Source::practice() }
}

/// Section of the first duct of a run.
fn run_size(job: &Job, index: usize, run: &Run, inputs: &mut Inputs) -> CategoryInput<Section> {
    let given = match &run.shape {
        RunShape::Sum(sum) => sum.duct.size.clone(),
        RunShape::Parts(parts) => parts.iter().find_map(|part| match &part.kind {
            PartKind::Piece { duct, .. } => duct.size.clone(),
            PartKind::Elbow { size, .. }
            | PartKind::Damper { size, .. }
            | PartKind::Crush { size, .. } => size.clone(),
            _ => None,
        }),
    };
    let given = given.filter(|s| !s.value.is_unknown()).or_else(|| collar_of(job, run));
    size_input(&format!("run.{}.size", job.runs[index].id), &given, inputs)
}

/// Collar of the fan or terminal that a run without a size is joined to.
fn collar_of(job: &Job, run: &Run) -> GivenChoice<Section> {
    let fan = job.fans.iter().find(|fan| fan.id == run.from || fan.id == run.to);
    let fan = fan.and_then(|fan| fan.data.outlet.clone());
    let terminal = job.terminals.iter().find(|terminal| terminal.id == run.to);
    fan.or_else(|| terminal.and_then(|terminal| terminal.size.clone()))
}

/// The element a path starts with: `run.attic` of `run.attic.part.p2.size`. The same hands built the
/// whole of it, so that what may be one thing or the other is the same along it.
fn element_of(at: &str) -> String {
    at.split('.').take(2).collect::<Vec<_>>().join(".")
}

fn size_input(
    at: &str,
    given: &GivenChoice<Section>,
    inputs: &mut Inputs,
) -> CategoryInput<Section> {
    let inches = |d: f64| Section::Round(Length::from_inches(d));
    inputs.options(
        &Ask {
            at: at.to_owned(),
            stream: Some(&format!("{}.size", element_of(at))),
            what: Message::new("what.duct-size"),
            minutes: minutes::PULL_GRILLE,
        },
        given,
        &[inches(4.0), inches(3.0)],
        &Source::judgement("bath ducts are 4 in., old ones 3 in."),
        |options| options.iter().map(section::print_us).collect(),
    )
}

fn duct_spec(
    at: &str,
    duct: &DuctGiven,
    size: &GivenChoice<Section>,
    inputs: &mut Inputs,
) -> DuctSpec {
    let kind = inputs.category(
        &Ask {
            at: format!("{at}.duct"),
            stream: Some(&format!("{}.duct", element_of(at))),
            what: Message::new("what.duct-kind"),
            minutes: minutes::PULL_GRILLE,
        },
        &duct.kind,
        &[DuctKind::SmoothMetal, DuctKind::Flex],
        &Source::judgement("bath ducts are sheet metal or flexible duct"),
    );
    let may_be_flex = kind.options().contains(&DuctKind::Flex);
    let compression = compression(at, duct, may_be_flex, inputs);
    let flex_band = if may_be_flex {
        inputs.band(
            &Ask {
                at: format!("{at}.flex_band"),
                stream: Some("flex compression factor"),
                what: Message::new("what.flex-band"),
                minutes: minutes::NOT_ON_SITE,
            },
            &Source::judgement("spread between the published test campaigns on flexible duct"),
        )
    } else {
        inputs.constant(0.5, Figure::ShareRatio)
    };
    let roughness = inputs.where_written(
        &ask(format!("{at}.roughness"), "what.roughness", minutes::NOT_ON_SITE),
        &duct.roughness,
        |t| Figure::GapMm(t.map(|m| m * 1000.0)),
    );
    let roughness_band = inputs.band(
        &Ask {
            at: format!("{at}.roughness_band"),
            stream: Some("roughness of ducts"),
            what: Message::new("what.roughness-band"),
            minutes: minutes::NOT_ON_SITE,
        },
        &Source::confirmed(
            "ASHRAE Fundamentals 2021, duct roughness table",
            "range of the material",
        ),
    );
    DuctSpec {
        kind,
        size: size_input(&format!("{at}.size"), size, inputs),
        compression,
        flex_band,
        roughness,
        roughness_band,
    }
}

/// Compression of flexible duct: measured, by a word, or from the default band. The same hands
/// pulled all of it, so that all of a job's flexible duct shares the draw.
fn compression(at: &str, duct: &DuctGiven, may_be_flex: bool, inputs: &mut Inputs) -> InputId {
    if !may_be_flex {
        return inputs.constant(0.0, Figure::ShareRatio);
    }
    let ask = Ask {
        at: format!("{at}.compression"),
        stream: Some("compression of flexible duct"),
        what: Message::new("what.compression"),
        minutes: minutes::HIDDEN,
    };
    let written = given::is_known(&duct.compression);
    let by_word = duct.pulled.as_ref().map(|stated| stated.value.options().to_vec());
    match by_word {
        Some(words) if !written && !words.is_empty() => {
            let ranges: Vec<_> = words.iter().map(|&pull| defaults::compression_of(pull)).collect();
            let low = ranges.iter().map(|r| r.0).fold(f64::INFINITY, f64::min);
            let high = ranges.iter().map(|r| r.1).fold(0.0, f64::max);
            let words: Vec<&str> = words.iter().map(|pull| pull.word()).collect();
            let source = Source::judgement(&format!("`{}` as pulled", words.join(" or ")));
            inputs.quantity(
                &ask,
                &None::<Stated<Uncertain<dewpath_units::Ratio>>>,
                Figure::ShareRatio,
                &Fallback { low, high, source },
            )
        }
        _ => inputs.quantity(&ask, &duct.compression, Figure::ShareRatio, &defaults::compression()),
    }
}

/// Whether a fan sucks on a run: at its end, or past the junction it ends in.
fn leads_to_fan(job: &Job, run: &Run) -> bool {
    let mut end = run.to.as_str();
    // Each step leaves one run behind; the job crate has refused circles.
    for _ in 0..=job.runs.len() {
        if job.fans.iter().any(|fan| fan.id == end) {
            return true;
        }
        match job.runs.iter().find(|onward| onward.from == end) {
            Some(onward) => end = &onward.to,
            None => return false,
        }
    }
    false
}

/// Joints on the suction side draw air from the attic that the rooms then do not get. Joints on the
/// pressure side lose air that has left the room already; a finding tells of those.
fn joints(run: &Run, index: usize, items: &[Item], inputs: &mut Inputs) -> Item {
    let sealed = inputs.yes_no(
        &ask(format!("run.{}.sealed", run.id), "what.sealed", minutes::HIDDEN),
        &run.sealed,
        &[true, false],
        &Source::judgement("joints are sealed or not"),
    );
    let pieces = items
        .iter()
        .filter_map(|item| match &item.spec {
            Spec::Piece { duct, length } => Some((duct.size.clone(), *length)),
            _ => None,
        })
        .collect();
    Item { owner: Owner::Joints { run: index }, spec: Spec::Joints { sealed, pieces } }
}

/// What the run says counts for every part that does not say otherwise; the job crate has already
/// carried it into the parts.
fn run_items(job: &Job, index: usize, run: &Run, inputs: &mut Inputs) -> Vec<Item> {
    let mut items = outlet(job, index, run, inputs);
    match &run.shape {
        RunShape::Sum(sum) => items.extend(sum_items(job, index, run, sum, inputs)),
        RunShape::Parts(parts) => items.extend(part_items(job, index, run, parts, inputs)),
    }
    items
}

/// The step from a fan's outlet to the first duct, and what an elbow close behind the fan costs.
fn outlet(job: &Job, index: usize, run: &Run, inputs: &mut Inputs) -> Vec<Item> {
    let Some(fan) = job.fans.iter().find(|fan| fan.id == run.from) else { return Vec::new() };
    let size = run_size(job, index, run, inputs);
    let owner = |part: &str| Owner::Part { run: index, part: part.to_owned() };
    let mut items = Vec::new();
    if let Some(collar) = fan.data.outlet.as_ref().filter(|s| !s.value.is_unknown()) {
        let from = size_input(&format!("fan.{}.outlet", fan.id), &Some(collar.clone()), inputs);
        let same = from.known().is_some() && from.known() == size.known();
        if !same {
            items.push(Item {
                owner: owner("outlet"),
                spec: Spec::Transition {
                    from,
                    to: size.clone(),
                    shape: CategoryInput::settled(inputs, TransitionShape::Abrupt),
                    angle: inputs.constant(0.0, Figure::Count),
                },
            });
        }
    }
    let diameter_m = section::hydraulic_m(size.value(inputs, Draw::Likely));
    if let Some(fallback) = system_effect(run, diameter_m) {
        let share = inputs.quantity(
            &ask(format!("run.{}.first_straight", run.id), "what.first-straight", minutes::HIDDEN),
            &None::<Stated<Uncertain<dewpath_units::Ratio>>>,
            Figure::FactorRatio,
            &fallback,
        );
        items.push(Item { owner: owner("fan-outlet"), spec: Spec::SystemEffect { size, share } });
    }
    items
}

/// Velocity pressures lost where an elbow sits within three diameters of the fan.
fn system_effect(run: &Run, diameter_m: f64) -> Option<Fallback> {
    let source = || {
        Source::memory(
            "AMCA 201, fans and systems",
            "outlet system effect, as a band for small fans",
        )
    };
    match &run.shape {
        RunShape::Sum(sum) => {
            let none = matches!(sum.elbows.as_ref().map(|s| s.value), Some(Uncertain::Exact(0)));
            (!none).then(|| Fallback { low: 0.0, high: 0.75, source: source() })
        }
        RunShape::Parts(parts) => {
            let kinds: Vec<&PartKind> = parts.iter().map(|part| &part.kind).collect();
            let first_straight = match kinds.as_slice() {
                [PartKind::Elbow { .. }, ..] => 0.0,
                [PartKind::Piece { length, .. }, PartKind::Elbow { .. }, ..] => {
                    given::likely(length).map_or(f64::INFINITY, Length::m)
                }
                _ => f64::INFINITY,
            };
            (first_straight < 3.0 * diameter_m).then(|| Fallback {
                low: 0.5,
                high: 1.0,
                source: source(),
            })
        }
    }
}

fn sum_items(
    job: &Job,
    index: usize,
    run: &Run,
    sum: &dewpath_job::model::RunSum,
    inputs: &mut Inputs,
) -> Vec<Item> {
    let at = format!("run.{}", run.id);
    let known = !given::options(&sum.duct.size).is_empty();
    let size = if known { sum.duct.size.clone() } else { collar_of(job, run) };
    let duct = duct_spec(&at, &sum.duct, &size, inputs);
    let length = inputs.quantity(
        &ask(format!("{at}.length"), "what.run-length", minutes::HIDDEN),
        &sum.length,
        Figure::LengthM,
        &defaults::run_length_m(),
    );
    let count = inputs.count(
        &ask(format!("{at}.elbows"), "what.elbow-count", minutes::COUNT_HIDDEN),
        &sum.elbows,
        &defaults::elbows(),
    );
    let elbow = elbow_spec(
        &at,
        &sum.elbow_make,
        &None,
        &None,
        duct.size.clone(),
        duct.kind.options(),
        inputs,
    );
    let owner = |part: &str| Owner::Part { run: index, part: part.to_owned() };
    let counted = match elbow {
        Spec::Elbow { make, angle, radius, size, band, .. } => {
            Spec::Elbow { make, angle, radius, size, band, count: Some(count) }
        }
        other => other,
    };
    vec![
        Item { owner: owner("duct"), spec: Spec::Piece { duct, length } },
        Item { owner: owner("elbows"), spec: counted },
    ]
}

fn elbow_spec(
    at: &str,
    make: &GivenChoice<ElbowMake>,
    angle: &dewpath_job::model::Given<dewpath_units::Angle>,
    radius: &dewpath_job::model::Given<dewpath_units::Ratio>,
    size: CategoryInput<Section>,
    duct: &[DuctKind],
    inputs: &mut Inputs,
) -> Spec {
    let likely: &[ElbowMake] = match duct {
        [DuctKind::Flex] => &[ElbowMake::FlexBend],
        [DuctKind::Plastic] => &[ElbowMake::Stamped],
        _ => &[ElbowMake::Adjustable, ElbowMake::Stamped],
    };
    let made = inputs.category(
        &ask(format!("{at}.elbow_make"), "what.elbow-make", minutes::HIDDEN),
        make,
        likely,
        &Source::judgement("what goes with the duct"),
    );
    Spec::Elbow {
        angle: inputs.quantity(
            &ask(format!("{at}.elbow_angle"), "what.elbow-angle", minutes::HIDDEN),
            angle,
            degrees,
            &defaults::elbow_angle_rad(),
        ),
        radius: if made.options().contains(&ElbowMake::ThreePiece) {
            inputs.quantity(
                &ask(format!("{at}.elbow_radius"), "what.elbow-radius", minutes::HIDDEN),
                radius,
                Figure::FactorRatio,
                &defaults::elbow_radius(),
            )
        } else {
            // The other tables are for one radius, or do not ask for it.
            inputs.constant(1.5, Figure::FactorRatio)
        },
        count: None,
        size,
        make: made,
        band: inputs.band(
            &Ask {
                at: format!("{at}.elbow_band"),
                stream: Some("elbows as made"),
                what: Message::new("what.elbow-band"),
                minutes: minutes::NOT_ON_SITE,
            },
            &Source::judgement("spread between published elbow tables"),
        ),
    }
}

fn part_items(
    job: &Job,
    index: usize,
    run: &Run,
    parts: &[Part],
    inputs: &mut Inputs,
) -> Vec<Item> {
    // Fittings take the size of the duct before them, the first one that of the first duct.
    let mut size = run_size(job, index, run, inputs);
    let mut kinds: Vec<DuctKind> = parts
        .iter()
        .find_map(|part| match &part.kind {
            PartKind::Piece { duct, .. } => {
                duct.kind.as_ref().map(|stated| stated.value.options().to_vec())
            }
            _ => None,
        })
        .unwrap_or_default();
    let mut items = Vec::with_capacity(parts.len());
    for part in parts {
        let at = format!("run.{}.part.{}", run.id, part.id);
        let owner = Owner::Part { run: index, part: part.id.clone() };
        let own = |given: &GivenChoice<Section>, inputs: &mut Inputs| {
            given
                .as_ref()
                .filter(|s| !s.value.is_unknown())
                .map(|s| size_input(&format!("{at}.size"), &Some(s.clone()), inputs))
        };
        let spec = match &part.kind {
            PartKind::Piece { duct, length } => {
                let given = duct.size.clone().filter(|s| !s.value.is_unknown());
                let given = given.or_else(|| Some(as_stated(&size)));
                let before = size.clone();
                let spec = duct_spec(&at, duct, &given, inputs);
                size = spec.size.clone();
                kinds = spec.kind.options().to_vec();
                if let Some(step) = step_between(&before, &size, inputs) {
                    let owner = Owner::Part { run: index, part: format!("into {}", part.id) };
                    items.push(Item { owner, spec: step });
                }
                let length = inputs.quantity(
                    &ask(format!("{at}.length"), "what.piece-length", minutes::HIDDEN),
                    length,
                    Figure::LengthM,
                    &defaults::run_length_m(),
                );
                Spec::Piece { duct: spec, length }
            }
            PartKind::Elbow { make, angle, radius, size: own_size } => {
                let own_size = own(own_size, inputs).unwrap_or_else(|| size.clone());
                elbow_spec(&at, make, angle, radius, own_size, &kinds, inputs)
            }
            PartKind::Transition { to, angle, shape } => {
                let to = own(to, inputs).unwrap_or_else(|| size.clone());
                let from = std::mem::replace(&mut size, to.clone());
                Spec::Transition {
                    from,
                    to,
                    shape: inputs.category(
                        &ask(format!("{at}.shape"), "what.transition", minutes::HIDDEN),
                        shape,
                        &[TransitionShape::Cone, TransitionShape::Abrupt],
                        &Source::judgement("reducers are cones or steps"),
                    ),
                    angle: inputs.quantity(
                        &ask(format!("{at}.angle"), "what.transition-angle", minutes::HIDDEN),
                        angle,
                        degrees,
                        &Fallback {
                            low: 30f64.to_radians(),
                            high: 60f64.to_radians(),
                            source: Source::practice(),
                        },
                    ),
                }
            }
            PartKind::Damper { kind, angle, size: own_size } => {
                let size = own(own_size, inputs).unwrap_or_else(|| size.clone());
                damper_spec(&at, kind, angle, size, inputs)
            }
            PartKind::Crush { open, size: own_size } => Spec::Crush {
                size: own(own_size, inputs).unwrap_or_else(|| size.clone()),
                open: inputs.quantity(
                    &ask(format!("{at}.open"), "what.crush", minutes::HIDDEN),
                    open,
                    Figure::ShareRatio,
                    &Fallback {
                        low: 0.4,
                        high: 0.9,
                        source: Source::judgement("a kink that is seen but not measured"),
                    },
                ),
            },
            PartKind::Other { point, .. } => point_spec(&at, point, inputs),
        };
        items.push(Item { owner, spec });
    }
    items
}

/// A step where two pieces of different size follow each other without a reducer.
fn step_between(
    before: &CategoryInput<Section>,
    after: &CategoryInput<Section>,
    inputs: &mut Inputs,
) -> Option<Spec> {
    let (from, to) = (before.known()?, after.known()?);
    (from != to).then(|| Spec::Transition {
        from: before.clone(),
        to: after.clone(),
        shape: CategoryInput::settled(inputs, TransitionShape::Abrupt),
        angle: inputs.constant(0.0, Figure::Count),
    })
}

fn as_stated(size: &CategoryInput<Section>) -> Stated<Choice<Section>> {
    let value = match size.options() {
        [one] => Choice::Known(*one),
        several => Choice::OneOf(several.to_vec()),
    };
    Stated::new(value, Origin::Assumed)
}

fn damper_spec(
    at: &str,
    kind: &GivenChoice<DamperKind>,
    angle: &dewpath_job::model::Given<dewpath_units::Angle>,
    size: CategoryInput<Section>,
    inputs: &mut Inputs,
) -> Spec {
    let kind = inputs.category(
        &ask(format!("{at}.kind"), "what.damper-kind", minutes::HIDDEN),
        kind,
        &[DamperKind::Backdraft],
        &Source::practice(),
    );
    if kind.value(inputs, Draw::Likely) == DamperKind::Balancing {
        let angle = inputs.quantity(
            &ask(format!("{at}.angle"), "what.damper-angle", minutes::HIDDEN),
            angle,
            degrees,
            &Fallback {
                low: 0.0,
                high: 20f64.to_radians(),
                source: Source::judgement("a blade somebody left nearly open"),
            },
        );
        return Spec::Balancing { size, angle };
    }
    let band = inputs.band(
        &ask(format!("{at}.band"), "what.damper-band", minutes::NOT_ON_SITE),
        &Source::judgement("spread between light and heavy flaps"),
    );
    Spec::Backdraft { size, band }
}

fn point_spec(at: &str, point: &dewpath_job::model::LossPoint, inputs: &mut Inputs) -> Spec {
    Spec::Point {
        airflow: inputs.quantity(
            &ask(format!("{at}.point.airflow"), "what.point-flow", minutes::DATA_SHEET),
            &Some(point.airflow.clone()),
            |t| Figure::AirflowLS(t.map(|q| q * 1000.0)),
            &never(),
        ),
        pressure: inputs.quantity(
            &ask(format!("{at}.point.pressure"), "what.point-pressure", minutes::DATA_SHEET),
            &Some(point.pressure.clone()),
            Figure::PressurePa,
            &never(),
        ),
    }
}

fn meeting(job: &Job, index: usize, run: &Run, junction: usize, inputs: &mut Inputs) -> Item {
    let joint = &job.junctions[junction];
    let straight = job.runs.iter().position(|other| other.to == joint.id) == Some(index);
    let onward = job.runs.iter().enumerate().find(|(_, other)| other.from == joint.id);
    let size = run_size(job, index, run, inputs);
    let common = match onward {
        Some((place, other)) => run_size(job, place, other, inputs),
        None => size.clone(),
    };
    // The form for the straight way asks for the area of the branch that joins it.
    let branch = job
        .runs
        .iter()
        .enumerate()
        .filter(|(place, other)| other.to == joint.id && (*place != index) == straight)
        .map(|(place, other)| run_size(job, place, other, inputs))
        .next()
        .unwrap_or_else(|| size.clone());
    if straight {
        inputs.note(
            &ask(format!("junction.{}.straight", joint.id), "what.straight-way", minutes::HIDDEN),
            vec![run.id.clone()],
            &Source::judgement("the run that is written first goes straight through"),
        );
    }
    let spec = Spec::Meeting {
        kind: inputs.category(
            &ask(format!("junction.{}.kind", joint.id), "what.junction", minutes::HIDDEN),
            &joint.kind,
            &[dewpath_job::model::JunctionKind::Wye, dewpath_job::model::JunctionKind::Tee],
            &Source::judgement("ducts are joined with a wye or a tee"),
        ),
        straight,
        size,
        branch,
        common,
    };
    Item { owner: Owner::Meeting { run: index, junction }, spec }
}

fn grille_spec(grille: &Grille, size: &CategoryInput<Section>, inputs: &mut Inputs) -> Spec {
    let at = |key: &str| format!("grille.{}.{key}", grille.id);
    if let Some(point) = &grille.point {
        return point_spec(&format!("grille.{}", grille.id), point, inputs);
    }
    let collar = grille.collar.as_ref().filter(|s| !s.value.is_unknown());
    let size = match collar {
        Some(collar) => size_input(&at("collar"), &Some(collar.clone()), inputs),
        None => size.clone(),
    };
    Spec::Grille {
        free_area: inputs.where_written(
            &ask(at("free_area"), "what.grille-area", minutes::TAPE),
            &grille.free_area,
            Figure::AreaM2,
        ),
        share: inputs.quantity(
            &ask(at("free_area"), "what.grille-area", minutes::TAPE),
            &None::<Stated<Uncertain<dewpath_units::Ratio>>>,
            Figure::ShareRatio,
            &defaults::grille_free_share(),
        ),
        size,
        band: inputs.band(
            &ask(at("band"), "what.grille-band", minutes::NOT_ON_SITE),
            &Source::judgement("spread between small exhaust grilles"),
        ),
    }
}

fn terminal_spec(
    index: usize,
    terminal: &Terminal,
    run_size: &CategoryInput<Section>,
    inputs: &mut Inputs,
) -> TerminalSpec {
    let at = |key: &str| format!("terminal.{}.{key}", terminal.id);
    let kind = inputs.category(
        &ask(at("kind"), "what.terminal-kind", minutes::LOOK_OUTSIDE),
        &terminal.kind,
        &[TerminalKind::WallCap, TerminalKind::RoofCap],
        &Source::judgement("bath ducts end in a wall cap or a roof cap"),
    );
    let shared = kind.options().contains(&TerminalKind::SharedRiser);
    let capped = kind.options().iter().any(|kind| {
        use TerminalKind::{GableCap, RoofCap, SoffitCap, WallCap};
        matches!(kind, WallCap | RoofCap | GableCap | SoffitCap)
    });
    let size = match terminal.size.as_ref().filter(|s| !s.value.is_unknown()) {
        Some(size) => size_input(&at("size"), &Some(size.clone()), inputs),
        None => run_size.clone(),
    };
    let point = terminal.point.as_ref().map(|point| {
        match point_spec(&format!("terminal.{}", terminal.id), point, inputs) {
            Spec::Point { airflow, pressure } => (airflow, pressure),
            // `point_spec` gives nothing else.
            _ => {
                (inputs.constant(0.0, Figure::AirflowLS), inputs.constant(0.0, Figure::PressurePa))
            }
        }
    });
    let likely_flap: &[bool] = if capped { &[true, false] } else { &[false] };
    let likely_screen: &[Screen] =
        if capped { &[Screen::None, Screen::Insect] } else { &[Screen::None] };
    let screen = inputs.category(
        &ask(at("screen"), "what.screen", minutes::LOOK_OUTSIDE),
        &terminal.screen,
        likely_screen,
        &Source::judgement("caps come with or without a screen"),
    );
    let may_clog = screen.options().iter().any(|screen| *screen != Screen::None);
    TerminalSpec {
        terminal: index,
        kind,
        size,
        flap: inputs.yes_no(
            &ask(at("flap"), "what.flap", minutes::LOOK_OUTSIDE),
            &terminal.flap,
            likely_flap,
            &Source::judgement("most caps have a flap"),
        ),
        screen,
        clogged: if may_clog {
            inputs.quantity(
                &ask(at("clogged"), "what.clogged", minutes::LOOK_OUTSIDE),
                &terminal.clogged,
                Figure::ShareRatio,
                &defaults::clogged(),
            )
        } else {
            inputs.constant(0.0, Figure::ShareRatio)
        },
        band: if point.is_some() {
            inputs.constant(0.5, Figure::ShareRatio)
        } else {
            inputs.band(
                &ask(at("band"), "what.terminal-band", minutes::NOT_ON_SITE),
                &Source::judgement("spread between small terminals; a measured point replaces it"),
            )
        },
        point,
        stuck: (given::yes(&terminal.flap_opens) == Some(false)).then(|| {
            inputs.quantity(
                &ask(at("flap_opens"), "what.stuck", minutes::LOOK_OUTSIDE),
                &None::<Stated<Uncertain<dewpath_units::Ratio>>>,
                Figure::ShareRatio,
                &Fallback {
                    low: 0.1,
                    high: 0.5,
                    source: Source::judgement("what a flap that does not open fully leaves open"),
                },
            )
        }),
        riser: shared.then(|| {
            inputs.quantity(
                &ask(at("riser_pressure"), "what.riser", minutes::HIDDEN),
                &None::<Stated<Uncertain<dewpath_units::Pressure>>>,
                Figure::PressurePa,
                &Fallback {
                    low: 0.0,
                    high: 20.0,
                    source: Source::judgement(
                        "other fans on the riser; measure it with the others on",
                    ),
                },
            )
        }),
    }
}
