//! A job as a case: what is written, what it is judged against, and what follows before anything is judged.

use std::cell::OnceCell;

use dewpath_job::model::{Job, Run};
use dewpath_moisture::weather::Weather;
use dewpath_report::Verdict;
use dewpath_rulebook::{Answer, Book, BookKind, Ruled};

use crate::flow::{self, Flows};
use crate::inputs::Inputs;
use crate::require::{self, Required};
use crate::system::instance::Trouble;
use crate::system::{System, fans_of_run};
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
    weather: WeatherOnce,
}

impl Basis {
    /// Asks a job for what its requirement and its system need.
    pub fn of(job: &Job, world: &World, draws: u32) -> Self {
        let mut inputs = Inputs::new(draws);
        let required = require::require(job, world, &mut inputs);
        let system = System::of(job, &mut inputs);
        Self { inputs, required, system, weather: WeatherOnce::new() }
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
        let Self { inputs, required, system, weather } = self;
        Case { job, world, inputs, system, required, flows, weather }
    }
}

/// The hours of a job's weather, which take longer to make than all else is judged; or why they can't be.
pub type WeatherOnce = OnceCell<Result<Option<Weather>, String>>;

impl Case<'_> {
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
