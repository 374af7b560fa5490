//! Stage `flow`: how much air moves, draw by draw, with the fan on its real run.

use dewpath_job::model::Job;
use dewpath_report::Crossing;

use crate::inputs::{Draw, Inputs};
use crate::sample::Sample;
use crate::system::System;
use crate::system::instance::{Instance, Trouble};
use crate::system::spec::{Conditions, Owner, Spec};
use crate::system::{fans_joined, rooms_of_fan};

/// What moves.
#[derive(Debug, Clone)]
pub struct Flows {
    /// Flow of each edge, m³/s.
    pub edges: Vec<Sample>,
    /// Loss of each item of each edge, Pa; a running fan's is negative.
    pub items: Vec<Vec<Sample>>,
    /// Air that leaves each room for outdoors, m³/s; none for a room without an exhaust.
    pub rooms: Vec<Option<Sample>>,
    /// Pressure of each room against outdoors, Pa.
    pub room_pressure: Vec<Option<Sample>>,
    /// Flow and static pressure of each fan.
    pub fans: Vec<Option<(Sample, Sample)>>,
    /// Further crossings of each fan at the likely values.
    pub crossings: Vec<Vec<Crossing>>,
    /// Density of the indoor air, kg/m³.
    pub density: Sample,
    /// Fans of which nothing usable is known, and why; their rooms have no flow.
    pub unusable: Vec<Option<String>>,
    /// Runs that hang together with fans of which nothing is known, and with no other.
    pub undriven: Vec<bool>,
    /// Draws without an answer, and why the first of them has none.
    pub failed: u32,
    /// Why the first draw without an answer has none.
    pub trouble: Option<Trouble>,
}

/// Solves every draw.
///
/// # Errors
/// When the likely values have no balance.
pub fn flow(job: &Job, system: &System, inputs: &Inputs) -> Result<Flows, Trouble> {
    let reference = Conditions::default();
    let mut instance = Instance::new(job, system, inputs, &reference)?;
    let count = inputs.draws() as usize;
    let mut record = Record::new(system, count);
    let mut failed = 0;
    let mut trouble = None;
    instance.solve(Draw::Likely)?;
    instance.weigh();
    record.likely(&instance);
    let crossings = (0..job.fans.len()).map(|fan| instance.other_crossings(fan)).collect();
    for i in 0..count {
        match instance.solve(Draw::At(i)) {
            Ok(()) => {
                instance.weigh();
                record.draw(&instance);
            }
            Err(why) => {
                record.nothing();
                failed += 1;
                trouble.get_or_insert(why);
            }
        }
    }
    let Record { edges, items, density } = record;
    let unusable: Vec<Option<String>> = (0..job.fans.len())
        .map(|fan| {
            let spec = system.items().find_map(|(_, item)| match &item.spec {
                Spec::Fan(spec) if spec.fan == fan => Some(spec),
                _ => None,
            })?;
            crate::system::fan::unusable(&job.fans[fan].data, spec, inputs)
        })
        .collect();
    let lost = |room: usize| {
        (0..job.fans.len())
            .any(|fan| unusable[fan].is_some() && rooms_of_fan(job, fan).contains(&room))
    };
    let rooms = (0..job.rooms.len())
        .map(|room| if lost(room) { None } else { room_flow(job, system, &edges, room) })
        .collect();
    let room_pressure = (0..job.rooms.len())
        .map(|room| if lost(room) { None } else { room_pressure(system, &items, room) })
        .collect();
    let undriven = (0..job.runs.len()).map(|run| undriven(job, run, &unusable)).collect();
    let fans = (0..job.fans.len())
        .map(|fan| {
            if unusable[fan].is_some() {
                return None;
            }
            let (edge, item) = system.find(|o| *o == Owner::Fan { fan })?;
            Some((edges[edge].clone(), items[edge][item].map(|loss| -loss)))
        })
        .collect();
    Ok(Flows {
        edges,
        items,
        rooms,
        room_pressure,
        fans,
        crossings,
        density,
        unusable,
        undriven,
        failed,
        trouble,
    })
}

/// Whether nothing is known of any fan that a run hangs together with.
fn undriven(job: &Job, run: usize, unusable: &[Option<String>]) -> bool {
    let fans = fans_joined(job, &job.runs[run]);
    !fans.is_empty() && fans.into_iter().all(|fan| unusable[fan].is_some())
}

/// Collects the results of the draws, column by column.
struct Record {
    edges: Vec<Sample>,
    items: Vec<Vec<Sample>>,
    density: Sample,
}

impl Record {
    fn new(system: &System, count: usize) -> Self {
        let empty = || Sample { likely: f64::NAN, draws: Vec::with_capacity(count) };
        Self {
            edges: system.edges.iter().map(|_| empty()).collect(),
            items: system
                .edges
                .iter()
                .map(|edge| edge.items.iter().map(|_| empty()).collect())
                .collect(),
            density: empty(),
        }
    }

    fn likely(&mut self, instance: &Instance<'_>) {
        self.write(instance, |sample, value| sample.likely = value);
    }

    fn draw(&mut self, instance: &Instance<'_>) {
        self.write(instance, |sample, value| sample.draws.push(value));
    }

    fn nothing(&mut self) {
        let samples = self.items.iter_mut().flatten().chain(&mut self.edges);
        samples.chain(std::iter::once(&mut self.density)).for_each(|s| s.draws.push(f64::NAN));
    }

    fn write(&mut self, instance: &Instance<'_>, put: impl Fn(&mut Sample, f64)) {
        put(&mut self.density, instance.density_kg_m3());
        for (e, sample) in self.edges.iter_mut().enumerate() {
            put(sample, instance.flow_m3_s(e));
            for (index, item) in self.items[e].iter_mut().enumerate() {
                put(item, instance.loss_pa(e, index));
            }
        }
    }
}

/// Edges on which air leaves a room: through the fans that hang in it, the grilles and open runs.
pub fn ways_out(job: &Job, system: &System, room: usize) -> Vec<usize> {
    let id = &job.rooms[room].id;
    (0..job.fans.len())
        .filter(|&fan| job.fans[fan].room.as_ref() == Some(id))
        .filter(|&fan| !job.runs.iter().any(|run| run.to == job.fans[fan].id))
        .filter_map(|fan| system.find(|o| *o == Owner::Fan { fan }))
        .chain(
            (0..job.grilles.len())
                .filter(|&grille| job.grilles[grille].room == *id)
                .filter_map(|grille| system.find(|o| *o == Owner::Grille { grille })),
        )
        .chain(job.runs.iter().enumerate().filter(|(_, run)| run.from == *id).filter_map(
            |(index, _)| system.find(|o| matches!(o, Owner::Part { run, .. } if *run == index)),
        ))
        .map(|(edge, _)| edge)
        .collect()
}

/// Air that leaves a room.
pub fn room_flow(job: &Job, system: &System, edges: &[Sample], room: usize) -> Option<Sample> {
    let ways = ways_out(job, system, room);
    let (first, rest) = ways.split_first()?;
    Some(rest.iter().fold(edges[*first].clone(), |sum, &way| sum.with(&edges[way], |a, b| a + b)))
}

/// Pressure of a room against outdoors: what is lost on the way in.
fn room_pressure(system: &System, items: &[Vec<Sample>], room: usize) -> Option<Sample> {
    let (door_edge, door_item) = system.find(|o| *o == Owner::Door { room })?;
    let (shell_edge, _) = system.find(|o| *o == Owner::Shell)?;
    let way = &items[door_edge][..=door_item];
    let mut lost = Sample::exact(0.0);
    for item in way {
        lost = lost.with(item, |a, b| a + b);
    }
    if shell_edge != door_edge {
        for item in &items[shell_edge] {
            lost = lost.with(item, |a, b| a + b);
        }
    }
    Some(lost.map(|loss| -loss))
}
