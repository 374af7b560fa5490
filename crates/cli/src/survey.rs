//! The survey sheet: a page to print and take along, of what to measure and photograph, made from what a job still lacks.
//!
//! It says nothing that the report does not say; it only puts it in the order in which one goes through a house.

use std::collections::BTreeSet;
use std::fmt::Write as _;

use dewpath_job::model::Job;
use dewpath_job::outline::Form;
use dewpath_message::slot::Name;
use dewpath_report::{Message, Report, Verdict};
use dewpath_words::Speaker;

use crate::say::{Sheet, SheetTitle};

/// Columns that fit a printed page.
const WIDTH: usize = 80;
/// Looks that are told at most.
const LOOKS: usize = 12;
/// Room to write an answer.
const BLANK: &str = "____________";

/// How something is found out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum How {
    /// On the visit: by tape, by a label, by eye or with the camera.
    Visit,
    /// From those who live there.
    Ask,
    /// Nowhere in the house: in a data sheet, a climate table or a book, or by someone with an instrument.
    LookUp,
    /// Before work begins, to be safe.
    Safety,
    /// Not at all: it is work to do, or advice.
    Work,
}

/// Keys that say what no visit finds: where nothing in the house shows it.
const LOOKED_UP: &[&str] = &[
    "air_changes",
    "altitude",
    "attic",
    "climate",
    "coefficient",
    "cold_water",
    "curve",
    "cooling_per_kwh",
    "crawl-space",
    "electricity",
    "garage",
    "heat",
    "lag",
    "leakage",
    "leakage_in_walls",
    "mixing",
    "months",
    "outdoor",
    "outdoor_humidity",
    "prices",
    "riser_pressure",
    "roughness",
    "sampling",
    "wall_temperature",
    "weather",
    "wind",
    "point",
];
/// Keys that those who live there know best.
const ASKED: &[&str] = &[
    "bedrooms",
    "cooling",
    "dehumidifier",
    "drying",
    "fan_on",
    "heating",
    "humidity",
    "moisture",
    "occupants",
    "rain",
    "season",
    "textiles",
    "thaw",
    "when",
    "year_built",
];
/// What is to be done about open points, by the key of the sentence.
const TODOS: &[(&str, How)] = &[
    ("todo.carpet", How::Visit),
    ("todo.size-and-fan", How::Visit),
    ("missing.bedrooms", How::Ask),
    ("todo.riser-owner", How::LookUp),
    ("todo.rating-at-pressure", How::LookUp),
    ("todo.measure-leakage", How::LookUp),
    ("todo.worst-case-test", How::LookUp),
    ("todo.firestop-system", How::LookUp),
    ("todo.co-alarm", How::Safety),
    ("todo.gfci", How::Safety),
    ("todo.look-next", How::Work),
];
/// The same by how the key begins, for those that are not named.
const TODOS_LIKE: &[(&str, How)] = &[
    ("todo.look", How::Visit),
    ("todo.measure", How::Visit),
    ("todo.read", How::Visit),
    ("todo.see", How::Visit),
    ("todo.ask", How::LookUp),
    ("todo.confirm", How::LookUp),
    ("todo.name", How::LookUp),
];

/// How the value of a key is found out.
fn how(at: &str) -> How {
    let parts: Vec<&str> = at.split('.').collect();
    let key = parts.last().copied().unwrap_or_default();
    let within = |name: &str| parts.iter().rev().skip(1).any(|part| *part == name);
    // What layers are made of is asked or looked up; the room itself is measured with the tape.
    let is_layer = key == "insulation" && (within("surface") || within("lining"));
    let is_habit = within("use") && key != "water";
    let is_told = is_habit || (ASKED.contains(&key) && parts.first() != Some(&"site"));
    if is_layer || LOOKED_UP.contains(&key) {
        How::LookUp
    } else if is_told {
        How::Ask
    } else {
        How::Visit
    }
}

fn how_done(todo: &Message) -> How {
    let named = TODOS.iter().find(|(key, _)| *key == todo.key);
    let like = || TODOS_LIKE.iter().find(|(start, _)| todo.key.starts_with(start));
    named.or_else(like).map_or(How::Work, |(_, how)| *how)
}

/// The sheet for a job, as plain text.
pub(crate) fn sheet(job: &Job, report: &Report, speaker: &Speaker) -> String {
    let mut text = String::new();
    let say = |sentence: Sheet| speaker.message(&sentence.into());
    title(&mut text, &speaker.message(&SheetTitle { job: Name::new(&job.name) }.into()));
    wrapped(&mut text, &say(Sheet::Head), "");
    let lacks = lacks(report);
    let of = |how: How| lacks.iter().filter(move |lack| lack.how == how);
    let lines = |how: How| -> Vec<String> { of(how).map(|lack| lack.line.clone()).collect() };
    part(&mut text, &say(Sheet::Before));
    for caution in [Sheet::SwitchOff, Sheet::Ladder] {
        wrapped(&mut text, &say(caution), "  ! ");
    }
    for line in lines(How::Safety) {
        wrapped(&mut text, &line, "  ! ");
    }
    let on_visit = |is_first: bool| -> Vec<String> {
        of(How::Visit).filter(|l| l.is_first == is_first).map(|l| l.line.clone()).collect()
    };
    list(&mut text, &say(Sheet::First), &on_visit(true));
    list(&mut text, &say(Sheet::Visit), &on_visit(false));
    list(&mut text, &say(Sheet::Photograph), &photographs(job, &say));
    list(&mut text, &say(Sheet::Ask), &lines(How::Ask));
    let not_seen: Vec<String> = job.not_seen.clone();
    list(&mut text, &say(Sheet::NotSeenSoFar), &not_seen);
    part(&mut text, &say(Sheet::NotSeen));
    for _ in 0..3 {
        wrapped(&mut text, "________________________________________________________", "  [ ] ");
    }
    list(&mut text, &say(Sheet::LookUp), &lines(How::LookUp));
    text.push('\n');
    wrapped(&mut text, &say(Sheet::Unknown), "");
    text
}

/// Something that the job lacks.
struct Lack {
    how: How,
    line: String,
    /// Whether it is among what would settle most.
    is_first: bool,
}

/// What would settle most, what findings that are not settled ask for, and what was taken as usual because nobody wrote it;
/// each once.
fn lacks(report: &Report) -> Vec<Lack> {
    let mut seen = BTreeSet::new();
    let mut lacks = Vec::new();
    for look in report.look_next.iter().take(LOOKS) {
        if seen.insert(look.at.clone()) {
            let line = format!("{} ({}): {BLANK}", said(&look.what), look.at);
            lacks.push(Lack { how: how(&look.at), line, is_first: true });
        }
    }
    for finding in report.findings.iter().filter(|f| f.verdict == Verdict::Unknown) {
        for todo in &finding.todo {
            let line = format!("{}  [{}]", said(todo), finding.subject);
            if seen.insert(line.clone()) {
                lacks.push(Lack { how: how_done(todo), line, is_first: false });
            }
        }
    }
    let forms = dewpath_job::outline::forms();
    for taken in report.assumptions.iter().filter(|taken| is_key(&forms, &taken.at)) {
        if seen.insert(taken.at.clone()) {
            let line = format!("{} ({}): {BLANK}", said(&taken.what), taken.at);
            lacks.push(Lack { how: how(&taken.at), line, is_first: false });
        }
    }
    lacks
}

/// Whether a job file has a key for it: what was taken as usual and has none is a figure of a model, and nobody finds it.
fn is_key(forms: &[Form], at: &str) -> bool {
    let mut parts: Vec<&str> = at.split('.').collect();
    let Some(key) = parts.pop() else { return false };
    // The innermost table on the way there is the one the key stands in, or one within it, such as the piece of a part.
    let table = |name: &str| forms.iter().find(|form| form.table == name);
    let Some(form) = parts.iter().rev().find_map(|name| table(name)) else { return false };
    let within = form.fields.iter().filter_map(|field| table(field.below?));
    let mut fields = form.fields.iter().chain(within.flat_map(|form| &form.fields));
    fields.any(|field| field.key == key)
}

/// The sentence of a message; its key where it was not put into words.
fn said(message: &Message) -> &str {
    if message.text.is_empty() { &message.key } else { &message.text }
}

/// What a photograph keeps for later, by what the job is about.
fn photographs(job: &Job, say: &impl Fn(Sheet) -> String) -> Vec<String> {
    let mut lines = Vec::new();
    let mut of = |ids: Vec<&str>, what: Sheet| {
        let what = say(what);
        lines.extend(ids.into_iter().map(|id| format!("{id}: {what}")));
    };
    of(job.fans.iter().map(|f| f.id.as_str()).collect(), Sheet::Fan);
    of(job.runs.iter().map(|r| r.id.as_str()).collect(), Sheet::Run);
    of(job.terminals.iter().map(|t| t.id.as_str()).collect(), Sheet::Terminal);
    of(job.framing.iter().map(|f| f.id.as_str()).collect(), Sheet::Framing);
    of(job.ways_out.iter().map(|w| w.id.as_str()).collect(), Sheet::WayOut);
    of(job.rooms.iter().map(|r| r.id.as_str()).collect(), Sheet::Room);
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
