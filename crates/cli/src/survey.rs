//! The survey sheet: a page to print and take along, of what to measure and photograph, made from what a job still lacks.
//!
//! It says nothing that the report does not say; it only puts it in the order in which one goes through a house.

use std::collections::BTreeSet;
use std::fmt::Write as _;

use dewpath_engine::report::{Message, Report, Verdict};
use dewpath_job::model::Job;

/// Columns that fit a printed page.
const WIDTH: usize = 80;
/// Looks that are told at most.
const LOOKS: usize = 12;

/// The sheet for a job, as plain text.
pub(crate) fn sheet(job: &Job, report: &Report) -> String {
    let mut text = String::new();
    title(&mut text, &format!("Survey sheet: {}", job.name));
    wrapped(
        &mut text,
        "Site ______________________  Date ____________  Measured by ______________",
        "",
    );
    part(&mut text, "Before anything");
    for line in [
        "Switch the circuit off and test it dead before a cover is opened; wiring is a matter for a licensed trade where rules say so.",
        "Ladder and roof: only for those who are equipped. In an attic step on members alone. Old insulation, paint and board may hold asbestos or lead: have them tested before they are cut.",
    ] {
        wrapped(&mut text, line, "  ! ");
    }
    let looks: Vec<String> = report
        .look_next
        .iter()
        .take(LOOKS)
        .map(|look| format!("{}  [{}]", said(&look.what), look.at))
        .collect();
    list(&mut text, "First, what would settle most", &looks);
    list(&mut text, "To measure or to find out", &measures(report));
    list(&mut text, "To photograph", &photographs(job));
    let not_seen: Vec<String> = job.not_seen.clone();
    list(&mut text, "Not seen so far: look, or leave it on the list", &not_seen);
    part(&mut text, "Not seen on this visit");
    for _ in 0..3 {
        wrapped(&mut text, "________________________________________________________", "  [ ] ");
    }
    text.push('\n');
    wrapped(
        &mut text,
        "Write what was not found as \"unknown\": that is an answer. Lengths to 1/16 in or 1 mm, from studs where walls are open.",
        "",
    );
    text
}

/// What findings that are not settled ask for, and what was taken as usual because nobody wrote it; each once.
fn measures(report: &Report) -> Vec<String> {
    let mut seen = BTreeSet::new();
    let mut lines = Vec::new();
    let mut say = |line: String| {
        if seen.insert(line.clone()) {
            lines.push(line);
        }
    };
    for finding in report.findings.iter().filter(|f| f.verdict == Verdict::Unknown) {
        for todo in &finding.todo {
            say(format!("{}  [{}]", said(todo), finding.subject));
        }
    }
    let keys = job_keys();
    let is_key = |at: &str| at.rsplit('.').next().is_some_and(|key| keys.contains(key));
    for taken in report.assumptions.iter().filter(|taken| is_key(&taken.at)) {
        say(format!("{} ({}): ____________", said(&taken.what), taken.at));
    }
    lines
}

/// Keys that a job file knows: what was taken as usual and has no key is a figure of a model, and no tape finds it.
fn job_keys() -> BTreeSet<String> {
    fn walk(value: &serde_json::Value, keys: &mut BTreeSet<String>) {
        match value {
            serde_json::Value::Object(entries) => {
                if let Some(serde_json::Value::Object(properties)) = entries.get("properties") {
                    keys.extend(properties.keys().cloned());
                }
                entries.values().for_each(|inner| walk(inner, keys));
            }
            serde_json::Value::Array(items) => items.iter().for_each(|inner| walk(inner, keys)),
            _ => {}
        }
    }
    let mut keys = BTreeSet::new();
    walk(&dewpath_job::schema(), &mut keys);
    keys
}

/// The sentence of a message; its key where it was not put into words.
fn said(message: &Message) -> &str {
    if message.text.is_empty() { &message.key } else { &message.text }
}

/// What a photograph keeps for later, by what the job is about.
fn photographs(job: &Job) -> Vec<String> {
    let mut lines = Vec::new();
    let mut of = |ids: Vec<&str>, what: &str| {
        lines.extend(ids.into_iter().map(|id| format!("{id}: {what}")));
    };
    of(
        job.fans.iter().map(|f| f.id.as_str()).collect(),
        "label, with every number readable; collar; how it hangs",
    );
    of(
        job.runs.iter().map(|r| r.id.as_str()).collect(),
        "both ends and every turn, with a tape in the picture",
    );
    of(
        job.terminals.iter().map(|t| t.id.as_str()).collect(),
        "from outside: flap, screen, and what is near it",
    );
    of(
        job.framing.iter().map(|f| f.id.as_str()).collect(),
        "members with a tape across two of them, and their depth",
    );
    of(
        job.ways_out.iter().map(|w| w.id.as_str()).collect(),
        "both sides of the wall or roof, with a mark that is seen from both",
    );
    of(
        job.rooms.iter().map(|r| r.id.as_str()).collect(),
        "each wall, the ceiling, the gap under the door with a tape",
    );
    lines
}

fn title(text: &mut String, title: &str) {
    wrapped(text, title, "");
    let _ = writeln!(text, "{}", "=".repeat(WIDTH.min(title.chars().count())));
    text.push('\n');
}

fn part(text: &mut String, title: &str) {
    let _ = writeln!(text, "\n{title}\n{}", "-".repeat(title.chars().count()));
}

fn list(text: &mut String, title: &str, lines: &[String]) {
    if lines.is_empty() {
        return;
    }
    part(text, title);
    for line in lines {
        wrapped(text, line, "  [ ] ");
    }
}

/// Words in lines of the page's width; the first begins with a mark, the others are set in by as much.
fn wrapped(text: &mut String, line: &str, mark: &str) {
    let inset = " ".repeat(mark.chars().count());
    let mut row = mark.to_owned();
    let mut is_empty = true;
    for word in line.split_whitespace() {
        let fits = row.chars().count() + usize::from(!is_empty) + word.chars().count() <= WIDTH;
        if !is_empty && !fits {
            let _ = writeln!(text, "{row}");
            row.clone_from(&inset);
            is_empty = true;
        }
        if !is_empty {
            row.push(' ');
        }
        row.push_str(word);
        is_empty = false;
    }
    let _ = writeln!(text, "{row}");
}
