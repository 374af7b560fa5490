//! A change to a job, made once: to the model. What the text has to be told follows from it.

use std::collections::BTreeMap;

use dewpath_units::System;

use crate::keys::Keys as _;
use crate::model::{Job, Show};
use crate::patch::{self, Patch, Set};
use crate::write::{Entry, Writer};

/// A changed job, with the patch that changes its text likewise.
#[derive(Debug, Clone, PartialEq)]
pub struct Edit {
    /// The job with the change.
    pub job: Job,
    /// What makes the text of the one job that of the other.
    pub patch: Patch,
}

impl Edit {
    /// Changes a job whose text is `written`, path by path, as [`crate::diff::values`] tells it: what a library or a run lays under an
    /// element stands elsewhere, and is not taken away where it is not.
    ///
    /// Elements that stay keep their order, and new ones, with ids of their own, come behind them.
    ///
    /// ```
    /// use dewpath_job::{diff, edit::Edit, patch};
    /// use dewpath_job::model::{Day, Work};
    ///
    /// let text = "format = 1\nshow = \"us\"\ndate = 2026-03-14 # told by phone\n[room]\nkind = \"bathroom\"\n";
    /// let job = dewpath_job::read("job.toml", text)?.job;
    /// let edit = Edit::of(&job, &diff::values("job.toml", text)?, |job| {
    ///     job.date = Day::new(2026, 3, 16);
    ///     job.work = Work::Swap;
    /// });
    /// let text = patch::apply(text, &edit.patch).unwrap();
    /// assert!(text.contains("date = 2026-03-16 # told by phone"));
    /// assert_eq!(dewpath_job::read("job.toml", &text)?.job, edit.job);
    /// # Ok::<(), dewpath_job::Diagnostics>(())
    /// ```
    pub fn of(
        job: &Job,
        written: &BTreeMap<String, String>,
        change: impl FnOnce(&mut Job),
    ) -> Self {
        let mut changed = job.clone();
        change(&mut changed);
        let mut writer = Writer::new(match changed.show {
            Show::Us => System::Us,
            Show::Metric => System::Metric,
        });
        changed.write(Some(job), &mut writer);
        let Writer { set, mut remove, .. } = writer;
        remove.retain(|path| is_written(written, path));
        Self { job: changed, patch: Patch { set: set.into_iter().map(told).collect(), remove } }
    }
}

/// Whether a text writes a value at a path, or one below it.
fn is_written(written: &BTreeMap<String, String>, path: &str) -> bool {
    let below = format!("{path}.");
    let next = written.range(below.clone()..).next();
    written.contains_key(path) || next.is_some_and(|(found, _)| found.starts_with(&below))
}

/// Measured values and words go without quotes, where that reads as the same.
fn told(Entry { at, value, is_text }: Entry) -> Set {
    let bare = value.as_str().filter(|text| !is_text && patch::is_bare(text));
    let value = bare.map_or_else(|| value.to_string(), str::to_owned);
    Set { at, value }
}
