//! The points that are checked against the rule book and against physical needs, by what they
//! concern. Each module has one public function that gives its findings.

pub(crate) mod air;
pub(crate) mod duct;
pub(crate) mod evidence;
pub(crate) mod fan;
pub(crate) mod room;
pub(crate) mod swap;
pub(crate) mod terminal;

use std::cell::OnceCell;

use dewpath_job::model::{Job, Run};
use dewpath_moisture::weather::Weather;
use dewpath_report::{Message, Source, Verdict};
use dewpath_rulebook::{Answer, Book, BookKind, Ruled};

use crate::World;
use crate::flow::{self, Flows};
use crate::inputs::Inputs;
use crate::require::{self, Required};
use crate::system::System;
use crate::system::instance::Trouble;

/// What the checks look at.
pub(crate) struct Look<'a> {
    pub job: &'a Job,
    pub world: &'a World,
    pub inputs: &'a Inputs,
    pub system: &'a System,
    pub required: &'a Required,
    /// None when no air flow could be worked out.
    pub flows: Option<&'a Flows>,
    /// Weather of the job, made when it is first asked for.
    pub sky: &'a Sky,
}

/// What is asked and put together of a job before anything is looked at.
#[derive(Debug)]
pub(crate) struct Basis {
    pub inputs: Inputs,
    pub required: Required,
    pub system: System,
    sky: Sky,
}

impl Basis {
    pub(crate) fn of(job: &Job, world: &World, draws: u32) -> Self {
        let mut inputs = Inputs::new(draws);
        let required = require::require(job, world, &mut inputs);
        let system = System::of(job, &mut inputs);
        Self { inputs, required, system, sky: Sky::new() }
    }

    /// Air flow of the job it was made of.
    pub(crate) fn flows(&self, job: &Job) -> Result<Flows, Trouble> {
        flow::flow(job, &self.system, &self.inputs)
    }

    /// Looks at the job it was made of.
    pub(crate) fn look<'a>(
        &'a self,
        job: &'a Job,
        world: &'a World,
        flows: Option<&'a Flows>,
    ) -> Look<'a> {
        let Self { inputs, required, system, sky } = self;
        Look { job, world, inputs, system, required, flows, sky }
    }
}

/// The hours of a job's weather, which take longer to make than all else is judged; or why they can't be.
pub(crate) type Sky = OnceCell<Result<Option<Weather>, String>>;

impl Look<'_> {
    /// Hours of the job's weather; none where none is named. `Err` tells why they can't be used.
    pub(crate) fn weather(&self) -> Result<Option<&Weather>, &str> {
        let hours = self.sky.get_or_init(|| crate::dry::resolve(self.job, self.world));
        hours.as_ref().map(Option::as_ref).map_err(String::as_str)
    }

    /// Answer of the book in force; where it is silent, of the guidance shown beside it.
    pub(crate) fn ask<T>(&self, question: impl Fn(&Book) -> Answer<T>) -> Option<Ruled<T>> {
        let mut books = self.world.rule_book.iter().chain(&self.world.also_show);
        books.find_map(|book| question(book).into_known())
    }

    /// What breaking an answer amounts to: a rule where the book in force has it, advice otherwise.
    pub(crate) fn weight<T>(&self, question: impl Fn(&Book) -> Answer<T>) -> Verdict {
        let in_force = self.world.rule_book.as_ref().filter(|book| book.kind() == BookKind::Rule);
        match in_force.and_then(|book| question(book).into_known()) {
            Some(_) => Verdict::Fails,
            None => Verdict::Caution,
        }
    }

    /// Answer of the book in force alone.
    pub(crate) fn rule<T>(&self, question: impl Fn(&Book) -> Answer<T>) -> Option<Ruled<T>> {
        self.world.rule_book.as_ref().and_then(|book| question(book).into_known())
    }

    /// Fans whose air goes through a run, by index.
    pub(crate) fn fans_of(&self, run: &Run) -> Vec<usize> {
        let mut found = Vec::new();
        let mut seen = vec![run.from.as_str()];
        let mut place = 0;
        while place < seen.len() {
            let from = seen[place];
            if let Some(fan) = self.job.fans.iter().position(|fan| fan.id == from) {
                if !found.contains(&fan) {
                    found.push(fan);
                }
            } else {
                for other in self.job.runs.iter().filter(|other| other.to == from) {
                    if !seen.contains(&other.from.as_str()) {
                        seen.push(&other.from);
                    }
                }
            }
            place += 1;
        }
        // A run that leads into a fan is that fan's as well.
        if found.is_empty()
            && let Some(fan) = self.job.fans.iter().position(|fan| fan.id == run.to)
        {
            found.push(fan);
        }
        found
    }
}

/// A point that the book leaves open because it is only recorded from memory.
pub(crate) fn confirm_source(source: &Source, verdict: Verdict) -> Option<Message> {
    (verdict == Verdict::Unknown && source.standing == dewpath_report::Standing::FromMemory).then(
        || {
            Message::new("todo.confirm-in-book")
                .reference("section", &source.section)
                .reference("book", &source.book)
        },
    )
}
