//! A job as a case: what is written, what it is judged against, and what follows before anything is judged.

use std::cell::OnceCell;
use std::sync::Arc;

use dewpath_job::model::{Job, Run};
use dewpath_moisture::weather::Weather;
use dewpath_report::Verdict;
use dewpath_rulebook::{Answer, Book, BookKind, Ruled};

use crate::flow::{self, Flows};
use crate::inputs::Inputs;
use crate::reading;
use crate::require::{self, Required};
use crate::sample::Sample;
use crate::system::instance::Trouble;
use crate::system::{System, fans_of_run};
use crate::weighted::{self, Weighted};
use crate::world::World;

/// What judges and proposals are handed.
pub struct Case<'a> {
    /// The job.
    pub job: &'a Job,
    /// What it is judged against.
    pub world: &'a World,
    /// Its values, with their draws.
    pub inputs: &'a Inputs,
    /// Its ventilation system.
    pub system: &'a System,
    /// Air that is required.
    pub required: &'a Required,
    /// None when no air flow could be worked out.
    pub flows: Option<&'a Flows>,
    /// Air of each room that was expected before anything was read, m³/s; empty where nothing was.
    pub expected: &'a [Option<Sample>],
    /// Weather of the job, made when it is first asked for.
    pub weather: &'a WeatherOnce,
}

/// What is asked and put together of a job before anything flows.
#[derive(Debug)]
pub struct Basis {
    /// Its values, with their draws.
    pub inputs: Inputs,
    /// Air that is required.
    pub required: Required,
    /// Its ventilation system.
    pub system: System,
    expected: Vec<Option<Sample>>,
    weather: WeatherOnce,
}

impl Basis {
    /// Asks a job for what its requirement and its system need. Where air was measured as it is now, the draws are weighted by
    /// that: those that lead to the reading count.
    pub fn of(job: &Job, world: &World, draws: u32) -> Self {
        Self::weighted(job, world, draws)
            .unwrap_or_else(|| Self::with(job, world, Inputs::new(draws)))
    }

    /// As [`Basis::of`], for a job that differs from that of a case: what was read there tells here too of all that both have in
    /// common.
    pub fn beside(case: &Case<'_>, job: &Job, draws: u32) -> Self {
        Self::with(job, case.world, case.inputs.beside(draws))
    }

    fn with(job: &Job, world: &World, mut inputs: Inputs) -> Self {
        let required = require::require(job, world, &mut inputs);
        let system = System::of(job, &mut inputs);
        Self { inputs, required, system, expected: Vec::new(), weather: WeatherOnce::new() }
    }

    fn weighted(job: &Job, world: &World, draws: u32) -> Option<Self> {
        if !reading::is_read(job) {
            return None;
        }
        let before = Self::with(job, world, Inputs::new(weighted::drawn(draws)));
        let flows = before.flows(job).ok()?;
        let weighted = Weighted::by(&reading::misfits(job, &flows)?)?;
        let inputs = Inputs::chosen(draws, Some(Arc::new(weighted)));
        // Without draws a figure is told as one value.
        let told = |flow: Sample| if draws > 0 { flow } else { Sample::exact(flow.likely) };
        let expected = flows.rooms.into_iter().map(|flow| flow.map(told)).collect();
        Some(Self { expected, ..Self::with(job, world, inputs) })
    }

    /// Air flow of the job it was made of.
    ///
    /// # Errors
    /// When the balance has no answer at the likely values.
    pub fn flows(&self, job: &Job) -> Result<Flows, Trouble> {
        flow::flow(job, &self.system, &self.inputs)
    }

    /// The case of the job it was made of.
    pub fn case<'a>(
        &'a self,
        job: &'a Job,
        world: &'a World,
        flows: Option<&'a Flows>,
    ) -> Case<'a> {
        let Self { inputs, required, system, expected, weather } = self;
        Case { job, world, inputs, system, required, flows, expected, weather }
    }
}

/// The hours of a job's weather, which take longer to make than all else is judged; or why they can't be.
pub type WeatherOnce = OnceCell<Result<Option<Weather>, String>>;

impl Case<'_> {
    /// Air of a room as the job leads one to expect it, m³/s, whatever was read there.
    pub fn expected(&self, room: usize) -> Option<&Sample> {
        match self.expected.get(room) {
            Some(before) => before.as_ref(),
            None => self.flows?.rooms[room].as_ref(),
        }
    }

    /// Hours of the job's weather; none where none is named.
    ///
    /// # Errors
    /// Why they can't be used.
    pub fn weather(&self) -> Result<Option<&Weather>, &str> {
        let hours = self.weather.get_or_init(|| crate::weather::resolve(self.job, self.world));
        hours.as_ref().map(Option::as_ref).map_err(String::as_str)
    }

    /// Answer of the book in force; where it is silent, of the guidance shown beside it.
    pub fn ask<T>(&self, question: impl Fn(&Book) -> Answer<T>) -> Option<Ruled<T>> {
        let mut books = self.world.rule_book.iter().chain(&self.world.also_show);
        books.find_map(|book| question(book).into_known())
    }

    /// What breaking an answer amounts to: a rule where the book in force has it, advice otherwise.
    pub fn weight<T>(&self, question: impl Fn(&Book) -> Answer<T>) -> Verdict {
        let in_force = self.world.rule_book.as_ref().filter(|book| book.kind() == BookKind::Rule);
        match in_force.and_then(|book| question(book).into_known()) {
            Some(_) => Verdict::Fails,
            None => Verdict::Caution,
        }
    }

    /// Answer of the book in force alone.
    pub fn rule<T>(&self, question: impl Fn(&Book) -> Answer<T>) -> Option<Ruled<T>> {
        self.world.rule_book.as_ref().and_then(|book| question(book).into_known())
    }

    /// Fans whose air goes through a run, by index.
    pub fn fans_of(&self, run: &Run) -> Vec<usize> {
        fans_of_run(self.job, run)
    }
}
