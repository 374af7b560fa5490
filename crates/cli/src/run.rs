//! What each command does.

use std::fs::OpenOptions;
use std::io::{IsTerminal as _, Write as _};
use std::path::Path;
use std::process::ExitCode;

use anstyle::{AnsiColor, Color, Style};
use clap::CommandFactory as _;
use dewpath_message::Text;
use dewpath_message::slot::{List, Name, Reference};
use dewpath_report::{Finding, Report, Verdict};
use dewpath_words::Speaker;

use crate::args::{
    Arguments, Check, Command, Diff, Draw, Judge, New, Schema, SchemaOf, Spoken, Why, Year,
};
use crate::csv;
use crate::files::{self, Loaded, Trouble};
use crate::layout::Layout;
use crate::page::paint;
use crate::say::{
    CannotKey, Findings, FindingsKey, Hint, NoFinding, NotAsJson, Told, Working, Wrote, WroteKey,
};

const ERROR: Style = Style::new().bold().fg_color(Some(Color::Ansi(AnsiColor::Red)));
const HELP: Style = Style::new().bold();

/// What is told of a file names values as they are written, so that it is the same in all units.
const NO_UNITS: &str = "";

/// Bad input.
const BAD_INPUT: u8 = 2;

/// Runs a command; the exit code says how it went.
pub(crate) fn run(arguments: &Arguments) -> ExitCode {
    let spoken = arguments.command.spoken();
    let done = match &arguments.command {
        Command::Check(check) => self::check(check),
        Command::Year(year) => self::year(year),
        Command::Why(why) => self::why(why),
        Command::New(new) => self::new(new),
        Command::Schema(schema) => self::schema(schema),
        Command::Draw(draw) => self::draw(draw),
        Command::Diff(diff) => self::diff(diff),
        #[cfg(feature = "office")]
        Command::Serve(serve) => crate::serve::serve(serve, &spoken.speaker(NO_UNITS))
            .map(|()| Done::Text(String::new())),
        Command::Completions(completions) => {
            let mut text = Vec::new();
            let shell = completions.shell;
            clap_complete::generate(shell, &mut Arguments::command(), "dewpath", &mut text);
            Ok(Done::Text(String::from_utf8_lossy(&text).into_owned()))
        }
        Command::Manual => manual(),
    };
    match done {
        Ok(Done::Text(text)) => print(&text, ExitCode::SUCCESS),
        Ok(Done::Judged(text, verdict)) => print(&text, code(verdict)),
        Err(trouble) => tell(&trouble, &spoken),
    }
}

pub(crate) enum Done {
    Text(String),
    Judged(String, Verdict),
}

fn code(verdict: Verdict) -> ExitCode {
    ExitCode::from(match verdict {
        Verdict::Holds | Verdict::Caution => 0,
        Verdict::Fails => 1,
        Verdict::Unknown => 3,
    })
}

/// Prints; a reader that went away (`| head`) is not an error.
fn print(text: &str, code: ExitCode) -> ExitCode {
    let mut out = anstream::stdout();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Ok(()) => code,
        Err(error) if error.kind() == std::io::ErrorKind::BrokenPipe => code,
        Err(_) => ExitCode::from(BAD_INPUT),
    }
}

fn tell(trouble: &Trouble, spoken: &Spoken) -> ExitCode {
    let speaker = spoken.speaker(NO_UNITS);
    let mut err = anstream::stderr();
    let text = if let Trouble::Input(diagnostics) = trouble {
        diagnostics.render(&speaker, width(), true)
    } else {
        let (message, hint) = trouble.told(&speaker).unwrap_or_default();
        let (error, help) = (paint(ERROR, "error"), paint(HELP, "help"));
        format!("{error}: {message}\n  {help}: {hint}\n")
    };
    // Nothing is left to do when the error channel itself is closed.
    let _ = err.write_all(text.as_bytes());
    ExitCode::from(BAD_INPUT)
}

/// Columns to print in: what `COLUMNS` says, else the terminal, else 100.
fn width() -> usize {
    let said = std::env::var("COLUMNS").ok().and_then(|columns| columns.trim().parse().ok());
    let terminal = || terminal_size::terminal_size().map(|(width, _)| usize::from(width.0));
    said.or_else(terminal).unwrap_or(100)
}

fn judge(path: &Path, judge: &Judge, span: Span) -> Result<(Loaded, Report), Trouble> {
    let loaded = files::load(path, judge)?;
    if let Some(warnings) = &loaded.warnings {
        let told = warnings.render(&judge.spoken.speaker(NO_UNITS), width(), true);
        let _ = anstream::stderr().write_all(told.as_bytes());
    }
    let report = evaluate(&loaded, judge, span);
    Ok((loaded, report))
}

fn evaluate(loaded: &Loaded, judge: &Judge, span: Span) -> Report {
    let draws = judge.draws.unwrap_or(loaded.job.settings.draws);
    let progress = Progress::start(draws, &judge.spoken);
    let (job, world) = (&loaded.job, &loaded.world);
    let mut report = match span {
        Span::Day => dewpath_engine::evaluate(job, world, draws),
        Span::Year => dewpath_engine::evaluate_through_year(job, world, draws),
    };
    progress.stop();
    judge.spoken.speaker(&report.show).put_into_words(&mut report);
    report
}

/// How far rooms are followed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Span {
    Day,
    Year,
}

/// Says on a terminal's error channel that it will take a while, and takes it back when done.
struct Progress {
    /// Who says it; none where nothing is said.
    speaker: Option<Speaker>,
}

/// Draws that take more than about a second on a slow machine.
const LONG: u32 = 30_000;

impl Progress {
    fn start(draws: u32, spoken: &Spoken) -> Self {
        let shown = draws > LONG && std::io::stderr().is_terminal();
        let speaker = shown.then(|| spoken.speaker("us"));
        if let Some(speaker) = &speaker {
            let working = Working { draws: Reference::new(draws.to_string()) };
            let _ = write!(std::io::stderr(), "{}", speaker.message(&working.into()));
        }
        Self { speaker }
    }

    fn stop(&self) {
        if let Some(speaker) = &self.speaker {
            let _ = writeln!(std::io::stderr(), " {}", speaker.message(&Told::Done.into()));
        }
    }
}

fn check(check: &Check) -> Result<Done, Trouble> {
    let span = if check.year { Span::Year } else { Span::Day };
    let (loaded, report) = judge(&check.job, &check.judge, span)?;
    write_courses(check.csv.as_deref(), &loaded, &check.judge, span)?;
    let verdict = report.answer.verdict;
    let layout = Layout::new(check.judge.spoken.speaker(&report.show), width(), check.all);
    let text = match (check.json, span) {
        (true, _) => as_json(&report)?,
        (false, Span::Day) => layout.report(&report),
        (false, Span::Year) if check.all => layout.report(&report) + &layout.year_alone(&report),
        (false, Span::Year) => layout.report(&report) + "\n" + &layout.year(&report),
    };
    Ok(Done::Judged(text, verdict))
}

fn as_json(report: &Report) -> Result<String, Trouble> {
    let text = serde_json::to_string_pretty(report).map_err(|error| Trouble::Other {
        message: NotAsJson { why: Reference::new(error.to_string()) }.into(),
        hint: Hint::Fault.into(),
    })?;
    Ok(text + "\n")
}

/// Writes the courses where a folder for them is named, and says on the error channel what was written.
fn write_courses(
    folder: Option<&Path>,
    loaded: &Loaded,
    judge: &Judge,
    span: Span,
) -> Result<(), Trouble> {
    let Some(folder) = folder else { return Ok(()) };
    let courses = dewpath_engine::courses(&loaded.job, &loaded.world, span == Span::Year);
    let written = csv::write(folder, &courses)?;
    let speaker = judge.spoken.speaker("us");
    let mut err = anstream::stderr();
    let mut tell = |key, path: &Path| {
        let wrote = Wrote { key, path: files::name(path) };
        let _ = writeln!(err, "{}", speaker.message(&wrote.into()));
    };
    for path in &written {
        tell(WroteKey::File, path);
    }
    if written.is_empty() {
        tell(WroteKey::NoRoom, folder);
    }
    Ok(())
}

fn year(year: &Year) -> Result<Done, Trouble> {
    let (loaded, report) = judge(&year.job, &year.judge, Span::Year)?;
    write_courses(year.csv.as_deref(), &loaded, &year.judge, Span::Year)?;
    let followed = report.rooms.iter().any(|room| room.year.is_some());
    let text = if year.json {
        as_json(&report)?
    } else {
        Layout::new(year.judge.spoken.speaker(&report.show), width(), true).year(&report)
    };
    Ok(Done::Judged(text, if followed { Verdict::Holds } else { Verdict::Unknown }))
}

fn why(why: &Why) -> Result<Done, Trouble> {
    let (loaded, mut report) = judge(&why.job, &why.judge, Span::Day)?;
    let asked = asked(&why.finding);
    let is = |f: &&Finding| f.id == asked.0 && asked.1.is_none_or(|subject| f.subject == subject);
    // The year takes its time: it is followed only for what is found nowhere else.
    if !report.findings.iter().any(|f| is(&f)) {
        report = evaluate(&loaded, &why.judge, Span::Year);
    }
    let found: Vec<_> = report.findings.iter().filter(is).collect();
    if found.is_empty() {
        let mut all: Vec<String> =
            report.findings.iter().map(|f| format!("{}/{}", f.id, f.subject)).collect();
        all.sort();
        let message = NoFinding { finding: Name::new(&why.finding) }.into();
        return Err(Trouble::Other { message, hint: nearest(&why.finding, &all) });
    }
    let layout = Layout::new(why.judge.spoken.speaker(&report.show), width(), true);
    let text: Vec<String> = found.into_iter().map(|finding| layout.working(finding)).collect();
    Ok(Done::Text(text.join("\n")))
}

/// Finding and subject that are asked for: by their names, or by the place of a figure in the report.
fn asked(typed: &str) -> (&str, Option<&str>) {
    let parts: Vec<&str> = typed.split('.').collect();
    match parts.as_slice() {
        ["rooms", room, "year", figure, ..] => (of_year(figure), Some(room)),
        ["rooms", room, "clearing", "back_to_normal_time_s", ..] => {
            ("room.clearing.back-to-normal", Some(room))
        }
        ["rooms", room, "clearing", ..] => ("room.clearing.mirror", Some(room)),
        // It is told of the fan that the control belongs to.
        ["rooms", _, "control", ..] => ("room.control.reachable", None),
        ["runs", run, "condensate", figure, ..] => (of_condensate(figure), Some(run)),
        ["runs", run, "insulation", ..] => ("duct.condensate.net", Some(run)),
        ["dwelling", "year", ..] => ("dwelling.humid", None),
        ["dwelling", "pressure", ..] => ("house.pressure", None),
        ["dwelling", "transfer", ..] => ("replacement.air", None),
        [list, ..] => of_list(list).map_or_else(|| by_name(typed), |finding| (finding, None)),
        [] => by_name(typed),
    }
}

/// A finding by its name, and by its subject behind a stroke.
fn by_name(typed: &str) -> (&str, Option<&str>) {
    match typed.split_once('/') {
        Some((finding, subject)) => (finding, Some(subject)),
        None => (typed, None),
    }
}

/// The finding that holds the working of a figure of a room's year.
fn of_year(figure: &str) -> &str {
    match figure {
        "hours_above_80_h" | "months" | "water_residual_ratio" | "energy_residual_ratio" => {
            "room.year.wet-hours"
        }
        "mould_peak_ratio" | "mould_surface" => "room.mould",
        "running_humidity_ratio" => "room.humidity.running-mean",
        "fan_h" | "energy_kwh" | "air_heat_kwh" | "cost" => "room.year.energy",
        "clear_in_half_an_hour_ratio" => "room.year.mirror",
        other => other,
    }
}

/// The finding that holds the working of a figure of the water in a duct.
fn of_condensate(figure: &str) -> &str {
    match figure {
        "months_g" => "duct.year",
        _ => "duct.condensate.net",
    }
}

/// The finding that goes with each entry of a list of the report.
fn of_list(list: &str) -> Option<&'static str> {
    Some(match list {
        "placements" => "place.housing",
        "routes" => "route.out",
        "bores" => "frame.bore",
        "penetrations" => "penetration.sheet",
        "clearances" => "frame.clearance",
        _ => return None,
    })
}

/// Names of findings that share a part with what was typed, or all of them.
fn nearest(typed: &str, all: &[String]) -> Text {
    let parts: Vec<&str> = typed.split(['.', '/']).filter(|part| part.len() > 2).collect();
    let near: Vec<String> =
        all.iter().filter(|name| parts.iter().any(|part| name.contains(part))).cloned().collect();
    let (key, findings) = if near.is_empty() {
        (FindingsKey::OfJob, all.to_vec())
    } else {
        (FindingsKey::DidYouMean, near)
    };
    Findings { key, findings: List(findings) }.into()
}

/// The survey sheet of a job; of the starter job where none is named.
fn sheet(new: &New) -> Result<Done, Trouble> {
    let spoken = new.spoken.clone();
    let judge = Judge { draws: None, libraries: Vec::new(), as_designed: false, spoken };
    if let Some(path) = &new.file {
        let (loaded, report) = self::judge(path, &judge, Span::Day)?;
        return Ok(Done::Text(crate::survey::sheet(
            &loaded.job,
            &report,
            &new.spoken.speaker(&report.show),
        )));
    }
    let job =
        dewpath_job::read("starter.toml", dewpath_job::starter()).map_err(Trouble::Input)?.job;
    let book = job.rule_book.as_ref().and_then(|id| dewpath_rulebook::load(id).ok());
    let world = dewpath_case::World { rule_book: book, ..dewpath_case::World::default() };
    let mut report = dewpath_engine::evaluate(&job, &world, job.settings.draws);
    let speaker = judge.spoken.speaker(&report.show);
    speaker.put_into_words(&mut report);
    Ok(Done::Text(crate::survey::sheet(&job, &report, &speaker)))
}

fn new(new: &New) -> Result<Done, Trouble> {
    if new.sheet {
        return sheet(new);
    }
    let text = starter(new.book.as_deref());
    let Some(path) = &new.file else { return Ok(Done::Text(text)) };
    let write = || -> std::io::Result<()> {
        let mut file = OpenOptions::new().write(true).create_new(true).open(path)?;
        file.write_all(text.as_bytes())
    };
    write().map_err(|error| {
        let is_there = error.kind() == std::io::ErrorKind::AlreadyExists;
        let hint = if is_there { Hint::NameAnother } else { Hint::NameInFolder };
        files::cannot(CannotKey::Write, path, &error, hint)
    })?;
    let wrote = Wrote { key: WroteKey::Job, path: files::name(path) };
    Ok(Done::Text(new.spoken.speaker("us").message(&wrote.into()) + "\n"))
}

/// The starter job, with a rule book in force where one was chosen.
fn starter(book: Option<&str>) -> String {
    let text = dewpath_job::starter();
    let Some(book) = book else { return text.to_owned() };
    let text =
        text.replacen("# rule_book = \"us-irc-2021\"", &format!("rule_book = \"{book}\""), 1);
    if book.starts_with("us-") {
        text
    } else {
        text.replacen("show = \"us\" ", "show = \"metric\" ", 1)
    }
}

fn schema(schema: &Schema) -> Result<Done, Trouble> {
    let value = match (schema.of, schema.markdown) {
        (SchemaOf::Job, true) => return Ok(Done::Text(dewpath_job::reference_page())),
        (SchemaOf::Job, false) => dewpath_job::schema(),
        (SchemaOf::Report, false) => dewpath_report::schema().to_value(),
        (SchemaOf::Report, true) => {
            return Err(Trouble::Other {
                message: Told::NoPageOfReport.into(),
                hint: Hint::LeaveMarkdown.into(),
            });
        }
    };
    Ok(Done::Text(format!("{value:#}\n")))
}

fn draw(draw: &Draw) -> Result<Done, Trouble> {
    let span = if draw.year { Span::Year } else { Span::Day };
    let (loaded, report) = judge(&draw.job, &draw.judge, span)?;
    let courses = dewpath_engine::courses(&loaded.job, &loaded.world, false);
    let draws = draw.judge.draws.unwrap_or(loaded.job.settings.draws);
    let draws = draws.min(dewpath_propose::select::SELECT_DRAWS);
    let curves = dewpath_engine::fan_curves(&loaded.job, &loaded.world, draws);
    let subject = dewpath_drawing::Subject {
        report: &report,
        job: Some(&loaded.job),
        courses: Some(&courses),
        curves: &curves,
    };
    crate::draw::draw(draw, &draw.judge.spoken.speaker(&report.show), &subject).map(Done::Text)
}

fn diff(diff: &Diff) -> Result<Done, Trouble> {
    let (before, report_before) = judge(&diff.before, &diff.judge, Span::Day)?;
    let (after, report_after) = judge(&diff.after, &diff.judge, Span::Day)?;
    let (name_a, name_b) = (diff.before.display().to_string(), diff.after.display().to_string());
    let changes = dewpath_job::diff::changes((&name_a, &before.text), (&name_b, &after.text))?;
    let speaker = diff.judge.spoken.speaker(&report_after.show);
    let layout = Layout::new(speaker, width(), false);
    let mut text = layout.changes(&changes);
    text.push_str(&layout.comparison(&report_before, &report_after));
    Ok(Done::Judged(text, report_after.answer.verdict))
}

/// One page for the program and all its commands.
fn manual() -> Result<Done, Trouble> {
    let mut command = Arguments::command();
    command.build();
    let page = manual_page(&command).map_err(|error| Trouble::Other {
        message: error.to_string().into(),
        hint: Hint::Fault.into(),
    })?;
    Ok(Done::Text(String::from_utf8_lossy(&page).into_owned()))
}

fn manual_page(command: &clap::Command) -> std::io::Result<Vec<u8>> {
    let mut page = Vec::new();
    let man = clap_mangen::Man::new(command.clone());
    man.render_title(&mut page)?;
    man.render_name_section(&mut page)?;
    man.render_synopsis_section(&mut page)?;
    man.render_options_section(&mut page)?;
    for part in command.get_subcommands().filter(|part| part.get_name() != "help") {
        writeln!(page, ".SH COMMAND {}", part.get_name().to_uppercase())?;
        let mut text = Vec::new();
        let man = clap_mangen::Man::new(part.clone());
        man.render_description_section(&mut text)?;
        man.render_synopsis_section(&mut text)?;
        man.render_options_section(&mut text)?;
        // What is a section of a page of its own is a subsection here.
        page.extend(String::from_utf8_lossy(&text).replace(".SH ", ".SS ").into_bytes());
    }
    man.render_extra_section(&mut page)?;
    Ok(page)
}
