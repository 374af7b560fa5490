//! The runs behind a room, followed along with it through the year, at the likely values.

use dewpath_case::inputs::Draw;
use dewpath_moisture::duct::legs::{Leg, Legs, Pace};
use dewpath_moisture::duct::line::{Around, DuctLine, Inlet, Outlet, Piece, Snapshot};
use dewpath_moisture::room::Step;
use dewpath_units::Pressure;

use crate::dry::duct::follow::{Climate, Scene, Stream};
use crate::dry::duct::plan::unheated;

/// Water in one run, month by month.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct RunYear {
    /// Index of the run in the job.
    pub run: usize,
    /// Left in each month or run back, less what dried of what was left before, kg; what runs out at the terminal does no harm.
    pub months_kg: [f64; 12],
    /// Settled in the year and dried again, kg.
    pub condensed_kg: f64,
    pub evaporated_kg: f64,
    /// Ran back to the fan and out at the terminal, kg.
    pub back_kg: f64,
    pub out_kg: f64,
    /// More (or less) water and frost in it at the end of the year than at its beginning, kg.
    pub more_kg: f64,
    /// What does not add up, as a share of what was moved; the sum of the months is held against the year.
    pub residual: f64,
}

/// Air around a piece by the hour.
#[derive(Debug, Clone, Copy)]
struct Place {
    /// Where it lies between dwelling (0) and outdoors (1) in the cold.
    share: f64,
    unheated: bool,
    /// Humidity around it; nothing inside hangs on it.
    w: f64,
}

impl Place {
    /// By the rules of the design day: in the cold by its share, in the heat as warm as outdoors where nothing cools it.
    fn around(self, leg: &Leg) -> Around {
        let heat = leg.outdoor_c > leg.house_c;
        let share = if heat && self.unheated { 1.0 } else { self.share };
        Around { t_c: leg.house_c + share * (leg.outdoor_c - leg.house_c), w: self.w }
    }
}

struct Run {
    /// Its index in the job.
    index: usize,
    line: DuctLine,
    places: Vec<Place>,
    /// Its flow over that of the room.
    share: f64,
    from_room: bool,
    feeds: Vec<usize>,
    /// Dry air that left in the last leg, kg/s, and its state.
    leaves: (f64, Outlet),
    begin: Snapshot,
    month: Snapshot,
    months_kg: [f64; 12],
}

impl Run {
    fn new(scene: &Scene<'_>, index: usize, films: &Climate) -> Option<Self> {
        let plan = &scene.path.runs[index];
        let now = scene.pieces(index, Draw::Likely, films, films.house_c, None)?;
        let pieces: Vec<Piece> = now.iter().map(|piece| piece.piece).collect();
        let around: Vec<Around> = now.iter().map(|piece| piece.around).collect();
        let line = DuctLine::new(&pieces, &around, Pressure::from_pa(films.pressure_pa)).ok()?;
        let difference = films.outdoor_c - films.house_c;
        let places = now
            .iter()
            .map(|piece| Place {
                share: if difference == 0.0 {
                    0.0
                } else {
                    (piece.around.t_c - films.house_c) / difference
                },
                unheated: unheated(piece.place),
                w: piece.around.w,
            })
            .collect();
        let start = line.snapshot();
        Some(Self {
            index: plan.run,
            line,
            places,
            share: scene.share(index, Draw::Likely)?,
            from_room: plan.from_room,
            feeds: plan.feeds.clone(),
            leaves: (0.0, Outlet { t_c: films.house_c, w: films.house_w }),
            begin: start,
            month: start,
            months_kg: [0.0; 12],
        })
    }

    fn step(&mut self, leg: &Leg, flow: f64, air: Outlet) -> Option<()> {
        for (piece, place) in self.places.iter().enumerate() {
            self.line.set_around(piece, place.around(leg)).ok()?;
        }
        let inlet = Inlet { dry_air_kg_s: flow, t_c: air.t_c, w: air.w };
        self.leaves = (flow, self.line.step(leg.seconds, inlet).ok()?);
        Some(())
    }

    fn left_kg(&self, since: &Snapshot) -> f64 {
        let story = self.line.story_since(since);
        story.water_more_kg + story.frost_more_kg + story.drained_back_kg
    }

    fn end_month(&mut self, month: usize) {
        self.months_kg[month] = self.left_kg(&self.month);
        self.month = self.line.snapshot();
    }

    fn finish(&self) -> RunYear {
        let story = self.line.story_since(&self.begin);
        let (settled, dried) = (story.condensed_kg, story.evaporated_kg);
        let own = self.line.residual();
        // The months against what settled less what dried: two ways to the same water.
        let months = self.months_kg.iter().sum::<f64>() + story.drained_out_kg - (settled - dried);
        let moved = settled + dried;
        let months = if moved > 0.0 { months / moved } else { months };
        RunYear {
            run: self.index,
            months_kg: self.months_kg,
            condensed_kg: settled,
            evaporated_kg: dried,
            back_kg: story.drained_back_kg,
            out_kg: story.drained_out_kg,
            more_kg: story.water_more_kg + story.frost_more_kg,
            residual: [own.water, own.vapour, own.heat, months]
                .into_iter()
                .fold(0.0, |worst, part| worst.max(part.abs())),
        }
    }
}

/// All runs behind a room.
pub(super) struct DuctYear {
    legs: Legs,
    runs: Runs,
}

struct Runs {
    list: Vec<Run>,
    /// Whether something could not be followed.
    lost: bool,
}

impl DuctYear {
    /// The runs of a scene; `films` is the weather that the films around them are taken at, and one in which outdoors is colder than
    /// the dwelling. None where a flow or a wall is not known.
    pub(super) fn new(scene: &Scene<'_>, films: &Climate, pace: Pace) -> Option<Self> {
        let list = (0..scene.path.runs.len())
            .map(|index| Run::new(scene, index, films))
            .collect::<Option<Vec<_>>>()?;
        Some(Self { legs: Legs::new(pace), runs: Runs { list, lost: false } })
    }

    /// A step of the room.
    pub(super) fn step(&mut self, step: &Step<'_>) {
        let runs = &mut self.runs;
        self.legs.step(step, |leg| runs.take(leg));
    }

    /// What came before was settling.
    pub(super) fn begin_year(&mut self) {
        self.close();
        for run in &mut self.runs.list {
            run.begin = run.line.snapshot();
            run.month = run.begin;
        }
    }

    pub(super) fn end_month(&mut self, month: usize) {
        self.close();
        for run in &mut self.runs.list {
            run.end_month(month);
        }
    }

    fn close(&mut self) {
        let runs = &mut self.runs;
        self.legs.close(|leg| runs.take(leg));
    }

    /// The year of each run; none where something could not be followed.
    pub(super) fn finish(self) -> Vec<RunYear> {
        if self.runs.lost { Vec::new() } else { self.runs.list.iter().map(Run::finish).collect() }
    }
}

impl Runs {
    fn take(&mut self, leg: &Leg) {
        self.lost = self.lost || self.pass(leg).is_none();
    }

    /// Leads the air of one leg through all runs, in the order of the air.
    fn pass(&mut self, leg: &Leg) -> Option<()> {
        for index in 0..self.list.len() {
            let run = &self.list[index];
            let flow = leg.flow_kg_s * run.share;
            let mut stream = Stream::default();
            if run.from_room {
                stream.add(leg.flow_kg_s.min(flow), leg.t_c, leg.w);
            }
            for &feed in &run.feeds {
                let (passed, out) = self.list[feed].leaves;
                stream.add(passed, out.t_c, out.w);
            }
            // What else is drawn in comes from the rest of the dwelling.
            stream.add((flow - stream.kg_s).max(0.0), leg.house_c, leg.house_w);
            let air = stream.mixed(Outlet { t_c: leg.t_c, w: leg.w });
            self.list[index].step(leg, flow, air)?;
        }
        Some(())
    }
}
