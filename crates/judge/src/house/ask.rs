//! What the balance of the house needs to know besides the system itself.
//!
//! These inputs stand apart from those of the duct system: a storey height must not show up among
//! the things that may settle a duct. A value that both need has the same path, and so the same draws.

use dewpath_case::defaults;
use dewpath_case::given;
use dewpath_case::inputs::{Ask, Draw, Fallback, InputId, Inputs};
use dewpath_case::sample::airflow;
use dewpath_case::system::leak;
use dewpath_case::system::spec::Spec;
use dewpath_job::model::{DwellingKind, ExhaustKind, Given, Job, VentilationKind};
use dewpath_report::say::{Judgement, What};
use dewpath_report::{Figure, Message, Source};
use dewpath_units::{Temperature, Velocity};

/// Minutes to find out, about. Judgement.
const BY_EYE: f64 = 1.0;
const BY_METER: f64 = 20.0;
const NOT_ON_SITE: f64 = 60.0;

/// The dwelling as the balance needs it.
pub(crate) struct Asked {
    /// Its own inputs.
    pub inputs: Inputs,
    /// Leaks of the shell.
    pub leak: Spec,
    storeys: InputId,
    storey_height: InputId,
    walls: InputId,
    outdoor: InputId,
    wind: InputId,
    /// Other exhausts that take air out of the dwelling.
    pub exhausts: Vec<Exhaust>,
}

/// Another exhaust: its index in the job (none for the ventilation of the dwelling) and its air.
pub(crate) struct Exhaust {
    pub id: String,
    pub kind: Option<ExhaustKind>,
    pub flow: InputId,
}

/// Whether anything written asks for the balance.
pub(crate) fn is_asked(job: &Job) -> bool {
    let dwelling = &job.dwelling;
    !dwelling.appliances.is_empty()
        || !dwelling.exhausts.is_empty()
        || given::is_known(&dwelling.air_changes)
        || given::is_known(&dwelling.leakage)
        || given::is_known(&dwelling.ventilation.airflow)
}

impl Asked {
    pub(crate) fn of(job: &Job, mut inputs: Inputs) -> Self {
        let dwelling = &job.dwelling;
        let leak = leak(job, &mut inputs);
        let flat = given::options(&dwelling.kind) == [DwellingKind::Flat];
        let storeys = inputs.count(
            &ask("dwelling.storeys", What::Storeys, BY_EYE),
            &dwelling.storeys,
            &Fallback::even(
                1.0,
                if flat { 1.0 } else { 2.0 },
                Source::judgement(Judgement::Storeys),
            ),
        );
        let storey_height = inputs.quantity(
            &ask("dwelling.storey_height", What::Storey, BY_EYE),
            &dwelling.storey_height,
            Figure::LengthM,
            &defaults::storey_height_m(),
        );
        let walls = inputs.band(
            &ask("dwelling.leakage_in_walls", What::LeakWalls, NOT_ON_SITE),
            &Source::judgement(Judgement::LeaksInWalls),
        );
        let outdoor = inputs.quantity(
            &ask("site.outdoor", What::Outdoor, BY_EYE),
            &outdoor(job),
            |t| Figure::TemperatureC(t.map(|k| k - 273.15)),
            &Fallback::even(263.15, 283.15, Source::judgement(Judgement::HeatingSeasonDay)),
        );
        let wind = inputs.quantity(
            &ask("scenario.wind", What::Wind, NOT_ON_SITE),
            &strongest_wind(job),
            Figure::VelocityMS,
            &Fallback::even(3.0, 6.0, Source::judgement(Judgement::WindyDay)),
        );
        let mut exhausts = others(job, &mut inputs);
        exhausts.extend(ventilation(job, &mut inputs));
        Self { inputs, leak, storeys, storey_height, walls, outdoor, wind, exhausts }
    }

    /// From the lowest floor to the topmost ceiling, m.
    pub(crate) fn height_m(&self, draw: Draw) -> f64 {
        self.inputs.value(self.storeys, draw).max(1.0) * self.inputs.value(self.storey_height, draw)
    }

    /// Share of the leaks that is in the walls.
    pub(crate) fn wall_share(&self, draw: Draw) -> f64 {
        0.4 + 0.3 * self.inputs.value(self.walls, draw)
    }

    /// Outdoor temperature, K.
    pub(crate) fn outdoor_k(&self, draw: Draw) -> f64 {
        self.inputs.value(self.outdoor, draw)
    }

    /// Wind of the windy case, m/s.
    pub(crate) fn wind_m_s(&self, draw: Draw) -> f64 {
        self.inputs.value(self.wind, draw)
    }

    /// Storeys.
    pub(crate) fn storeys(&self, draw: Draw) -> f64 {
        self.inputs.value(self.storeys, draw)
    }

    /// Air that the other exhausts take out, m³/s.
    pub(crate) fn exhaust_m3_s(&self, draw: Draw) -> f64 {
        self.exhausts.iter().map(|one| self.inputs.value(one.flow, draw)).sum()
    }

    /// Handles of what shapes the weather, for the working: outdoor temperature, storeys, height.
    pub(crate) fn shape(&self) -> [(&'static str, InputId); 3] {
        [("T_o", self.outdoor), ("N", self.storeys), ("h_s", self.storey_height)]
    }
}

pub(super) fn ask(at: &str, what: What, minutes: f64) -> Ask<'static> {
    Ask { at: at.to_owned(), stream: None, what: Message::from(what), minutes }
}

/// The coldest outdoor temperature that is written, of the site or of a scenario.
fn outdoor(job: &Job) -> Given<Temperature> {
    let scenarios = job.scenarios.iter().map(|scenario| &scenario.outdoor);
    std::iter::once(&job.site.outdoor)
        .chain(scenarios)
        .filter_map(|given| Some((given::likely(given)?.k(), given)))
        .min_by(|a, b| a.0.total_cmp(&b.0))
        .and_then(|(_, given)| given.clone())
}

/// The strongest wind that is written.
fn strongest_wind(job: &Job) -> Given<Velocity> {
    job.scenarios
        .iter()
        .filter_map(|scenario| Some((given::likely(&scenario.wind)?.m_s(), &scenario.wind)))
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .and_then(|(_, given)| given.clone())
}

/// Flow of an exhaust that nobody wrote, m³/s.
fn usual(kind: Option<ExhaustKind>) -> Fallback {
    let (low, high, source) = match kind {
        Some(ExhaustKind::Dryer) => (
            0.060,
            0.071,
            Source::practice(), // 125 to 150 cfm
        ),
        Some(ExhaustKind::RangeHood) => (0.047, 0.189, Source::judgement(Judgement::HoodFlow)),
        _ => (0.020, 0.070, Source::judgement(Judgement::OtherExhaustFlow)),
    };
    Fallback::even(low, high, source)
}

/// Dryer, hood and the like. A garage lies outside the air barrier.
fn others(job: &Job, inputs: &mut Inputs) -> Vec<Exhaust> {
    let exhausts = job.dwelling.exhausts.iter();
    exhausts
        .filter(|exhaust| given::options(&exhaust.kind) != [ExhaustKind::Garage])
        .map(|exhaust| {
            let kind = given::member(&exhaust.kind);
            let at = format!("dwelling.exhaust.{}.airflow", exhaust.id);
            let flow = inputs.quantity(
                &ask(&at, What::ExhaustFlow, BY_METER),
                &exhaust.airflow,
                airflow,
                &usual(kind),
            );
            Exhaust { id: exhaust.id.clone(), kind, flow }
        })
        .collect()
}

/// Ventilation of the dwelling that takes out more than it brings in.
fn ventilation(job: &Job, inputs: &mut Inputs) -> Option<Exhaust> {
    let ventilation = &job.dwelling.ventilation;
    let takes_out = given::options(&ventilation.kind).contains(&VentilationKind::Exhaust);
    let flow = takes_out.then(|| {
        inputs.where_written(
            &ask("dwelling.ventilation.airflow", What::VentilationFlow, BY_METER),
            &ventilation.airflow,
            airflow,
        )
    })??;
    Some(Exhaust { id: "ventilation".to_owned(), kind: None, flow })
}
