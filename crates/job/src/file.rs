//! From a job file as typed to a checked job.

use std::collections::BTreeMap;
use std::ops::Range;

use dewpath_message::slot::Reference;
use dewpath_units::Origin;

use crate::check;
use crate::diagnostic::{Diagnostic, Diagnostics, Severity};
use crate::keys::{InTable as _, Keys as _};
use crate::model::Job;
use crate::node::{Node, Value, parse_toml};
use crate::patch::{self, Set};
use crate::read::{Context, Reader};
use crate::say::{self, Do, Label};

/// A job that was read, with what is worth a second look and the place of every value.
#[derive(Debug, Clone, PartialEq)]
pub struct Read {
    /// The job.
    pub job: Job,
    /// Warnings; never errors.
    pub warnings: Diagnostics,
    /// Bytes of each value by its path, such as `run.attic.length`.
    pub places: BTreeMap<String, Range<usize>>,
}

/// Text of a job file from its bytes.
///
/// # Errors
/// One diagnostic that names the place of the first byte that is not UTF-8.
pub fn decode<'a>(name: &str, bytes: &'a [u8]) -> Result<&'a str, Diagnostics> {
    std::str::from_utf8(bytes).map_err(|error| {
        let at = error.valid_up_to();
        let good = String::from_utf8_lossy(bytes.get(..at).unwrap_or_default()).into_owned();
        let byte = bytes.get(at).copied().unwrap_or_default();
        let help = if bytes.starts_with(&[0xFF, 0xFE]) || bytes.starts_with(&[0xFE, 0xFF]) {
            Do::SaveFromUtf16
        } else {
            Do::SaveAsUtf8
        };
        // The rest of the line is shown with the bad byte replaced.
        let rest: String =
            String::from_utf8_lossy(bytes.get(at..(at + 60).min(bytes.len())).unwrap_or_default())
                .chars()
                .take_while(|&c| c != '\n')
                .collect();
        let text = format!("{good}{rest}");
        let end = rest.chars().next().map_or(at, |c| at + c.len_utf8());
        let diagnostic = Diagnostic::error(
            "",
            at..end,
            say::NotUtf8 { at: say::count(at), byte: Reference::new(format!("{byte:02X}")) },
        )
        .label(Label::CannotBeRead)
        .help(help);
        Diagnostics::new(name, &text, vec![diagnostic])
    })
}

/// Reads a job file as designed.
///
/// `name` is shown in diagnostics and names a job that has no name of its own.
///
/// # Errors
/// Everything that is wrong, in one go.
pub fn read(name: &str, text: &str) -> Result<Read, Diagnostics> {
    read_tree(name, text).map(|(read, _)| read)
}

/// Reads a job file as built: every `[[built]]` value laid over the design.
///
/// # Errors
/// Everything that is wrong; a built value that does not fit is shown at its entry.
pub fn read_as_built(name: &str, text: &str) -> Result<Read, Diagnostics> {
    let design = read(name, text)?;
    if design.job.built.is_empty() {
        return Ok(design);
    }
    let sets: Vec<Set> = design
        .job
        .built
        .iter()
        .map(|built| Set { at: built.at.clone(), value: built.value.clone() })
        .collect();
    let laid_over = patch::apply_each(text, sets.iter()).map_err(|wrong| {
        let told = wrong.into_iter().map(|(number, error)| {
            let path = format!("built.{}.at", number + 1);
            let span = design.places.get(&path).cloned().unwrap_or(0..0);
            Diagnostic::error(&path, span, *error.message)
                .label(Label::CannotBeLaidOver)
                .help(*error.hint)
        });
        Diagnostics::new(name, text, told.collect())
    })?;
    read(&format!("{name} (as built)"), &laid_over)
}

/// What the reader asked for, beside the job: the tests compare it with the tables.
pub(crate) type Asked = std::collections::BTreeSet<(&'static str, &'static str)>;

pub(crate) fn read_tree(name: &str, text: &str) -> Result<(Read, Asked), Diagnostics> {
    let root = parse_toml(text).map_err(|list| Diagnostics::new(name, text, list))?;
    let mut context = Context::new(text, Origin::Written, Job::TABLE);
    let job = read_job(&mut context, name, &root);
    let failed = context.has_errors();
    let asked = std::mem::take(&mut context.asked);
    let (list, dropped, places) = context.finish();
    let mut diagnostics = Diagnostics::new(name, text, list);
    diagnostics.more += dropped;
    match job {
        Some(job) if !failed => Ok((Read { job, warnings: diagnostics, places }, asked)),
        _ => Err(diagnostics),
    }
}

/// The keys that are asked for while a text is read, whether it is a good job or not.
#[cfg(test)]
pub(crate) fn asked(text: &str) -> Asked {
    let root = parse_toml(text).unwrap();
    let mut context = Context::new(text, Origin::Written, Job::TABLE);
    let _: Option<Job> = read_job(&mut context, "job.toml", &root);
    context.asked
}

fn read_job(context: &mut Context<'_>, name: &str, root: &Node) -> Option<Job> {
    let Value::Table(entries) = &root.value else { return None };
    let top = Reader::open(context, Job::TABLE, entries, 0..0, String::new());
    let mut job = Job::read(context, &top)?;
    if !top.has("name") {
        job.name = stem(name);
    }
    check::each(context, &job);
    check::complete(context, &mut job);
    check::whole(context, &job);
    Some(job)
}

/// File name without folders and ending.
fn stem(name: &str) -> String {
    let file = name.rsplit(['/', '\\']).next().unwrap_or(name);
    file.strip_suffix(".toml").unwrap_or(file).to_owned()
}

impl Read {
    /// Whether any warning was given.
    pub fn has_warnings(&self) -> bool {
        self.warnings.list.iter().any(|d| d.severity == Severity::Warning)
    }
}
