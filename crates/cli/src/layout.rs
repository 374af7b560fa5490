//! Lays a report out for a terminal: the answer first, then what is wrong, then what is not known.
//!
//! Colour is never the only carrier: every verdict is a word.

use std::fmt::Write as _;

use anstyle::{AnsiColor, Style};
use dewpath_engine::report::{
    Assumption, Candidate, Figure, Finding, LookNext, Loss, Report, Requirement, Step, Triple,
    Verdict,
};
use dewpath_words::Speaker;

const HEADING: Style = Style::new().bold();
const QUIET: Style = Style::new().dimmed();

/// Where and how wide to print.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Layout {
    speaker: Speaker,
    width: usize,
    all: bool,
}

impl Layout {
    pub(crate) fn new(speaker: Speaker, width: usize, all: bool) -> Self {
        Self { speaker, width: width.clamp(40, 100), all }
    }

    /// The whole report.
    pub(crate) fn report(&self, report: &Report) -> String {
        let mut out = String::new();
        self.answer(&mut out, report);
        self.findings(&mut out, report);
        self.runs(&mut out, report);
        self.candidates(&mut out, &report.candidates);
        self.scenarios(&mut out, report);
        self.look_next(&mut out, &report.look_next);
        self.assumptions(&mut out, &report.assumptions);
        self.cautions(&mut out, report);
        out
    }

    fn answer(&self, out: &mut String, report: &Report) {
        line(out, &paint(HEADING, &report.name));
        line(out, "");
        let verdict = report.answer.verdict;
        for message in &report.answer.messages {
            self.wrapped(out, &message.text, 2, 2);
        }
        let word = self.speaker.word(verdict_key(verdict));
        line(out, "");
        self.wrapped(
            out,
            &format!("{} {}", paint(style_of(verdict), &word), self.speaker.word(sum_key(verdict))),
            2,
            2,
        );
        for requirement in report.requirement.iter().filter(|r| self.all || r.governs) {
            self.requirement(out, requirement);
        }
    }

    fn requirement(&self, out: &mut String, requirement: &Requirement) {
        let method = self.speaker.word(&requirement.method);
        let rate = requirement.airflow_l_s.map_or_else(
            || requirement.missing.as_ref().map_or_else(String::new, |m| m.text.clone()),
            |flow| self.speaker.figure(Figure::AirflowLS(flow)),
        );
        let subject = if requirement.room.is_empty() {
            self.speaker.word("the-dwelling")
        } else {
            requirement.room.clone()
        };
        let source = self.source(&requirement.source);
        self.wrapped(out, &format!("{subject}: {method} {rate} [{source}]"), 2, 4);
    }

    fn findings(&self, out: &mut String, report: &Report) {
        let mut order: Vec<&Finding> = report.findings.iter().collect();
        order.sort_by_key(|finding| (finding.overridden.is_some(), rank(finding.verdict)));
        self.heading(out, "heading.findings");
        for finding in &order {
            if self.all || finding.verdict != Verdict::Holds || finding.overridden.is_some() {
                self.finding(out, finding);
            }
        }
        let held: Vec<String> = order
            .iter()
            .filter(|f| f.verdict == Verdict::Holds && f.overridden.is_none())
            .map(|f| format!("{}/{}", f.id, f.subject))
            .collect();
        if !self.all && !held.is_empty() {
            let text = format!("{} {}", self.speaker.word("heading.holding"), held.join(", "));
            self.wrapped(out, &text, 2, 4);
        }
    }

    fn finding(&self, out: &mut String, finding: &Finding) {
        let word = self.speaker.word(verdict_key(finding.verdict));
        let head = format!(
            "{} {}/{}",
            paint(style_of(finding.verdict), &format!("{word:<8}")),
            finding.id,
            finding.subject
        );
        line(out, &format!("  {head}"));
        self.wrapped(out, &finding.message.text, 11, 11);
        if let Some(reason) = &finding.overridden {
            self.wrapped(out, &format!("{} {reason}", self.speaker.word("overridden")), 11, 11);
        }
        for todo in &finding.todo {
            self.wrapped(out, &format!("- {}", todo.text), 11, 13);
        }
        self.wrapped(out, &paint(QUIET, &format!("[{}]", self.source(&finding.source))), 11, 11);
    }

    fn runs(&self, out: &mut String, report: &Report) {
        for run in &report.runs {
            if run.losses.is_empty() {
                continue;
            }
            self.heading_text(out, &format!("{} {}", self.speaker.word("heading.losses"), run.id));
            let widest = run.losses.iter().map(|loss| self.loss_name(loss).chars().count()).max();
            let width = widest.unwrap_or(0).min(self.width / 2);
            for loss in &run.losses {
                let name = self.loss_name(loss);
                let pressure = self.speaker.figure(Figure::PressurePa(loss.pressure_pa));
                line(out, &format!("  {name:<width$}  {pressure}"));
            }
            if let Some(total) = run.total_pa {
                let name = self.speaker.word("total");
                let pressure = self.speaker.figure(Figure::PressurePa(total));
                line(out, &format!("  {name:<width$}  {pressure}"));
            }
        }
    }

    fn loss_name(&self, loss: &Loss) -> String {
        format!("{} ({})", loss.part, self.speaker.word(&loss.what))
    }

    fn candidates(&self, out: &mut String, candidates: &[Candidate]) {
        let shown = if self.all { candidates.len() } else { 3 };
        if candidates.is_empty() {
            return;
        }
        self.heading(out, "heading.candidates");
        for candidate in candidates.iter().take(shown) {
            let rooms: Vec<String> = candidate
                .delivered
                .iter()
                .map(|room| {
                    format!(
                        "{} {}",
                        room.room,
                        self.speaker.figure(Figure::AirflowLS(room.airflow_l_s))
                    )
                })
                .collect();
            let chance = candidate.chance_enough.map_or_else(String::new, |chance| {
                let percent = self.speaker.figure(Figure::ChanceRatio(Triple::exact(chance)));
                format!(", {} {percent}", self.speaker.word("chance-enough"))
            });
            let loudness = candidate.loudness_sone.map_or_else(String::new, |sone| {
                format!(", {}", self.speaker.figure(Figure::LoudnessSone(sone)))
            });
            let text = format!(
                "{}. {} ({}): {}{chance}{loudness}",
                candidate.rank,
                candidate.name,
                candidate.model,
                rooms.join(", ")
            );
            self.wrapped(out, &text, 2, 5);
            for note in &candidate.notes {
                let word = self.speaker.word(verdict_key(note.verdict));
                self.wrapped(out, &format!("- {word}: {}", note.message.text), 5, 7);
            }
            for set in &candidate.patch.set {
                let text =
                    format!("{} {} = {}", self.speaker.word("to-take-it"), set.at, set.value);
                self.wrapped(out, &paint(QUIET, &text), 5, 7);
            }
        }
        if candidates.len() > shown {
            let more = candidates.len() - shown;
            line(out, &format!("  +{more} {}", self.speaker.word("more-with-all")));
        }
    }

    fn scenarios(&self, out: &mut String, report: &Report) {
        if report.scenarios.is_empty() {
            return;
        }
        self.heading(out, "heading.scenarios");
        for scenario in &report.scenarios {
            let rooms: Vec<String> = scenario
                .delivered
                .iter()
                .map(|room| {
                    let flow = self.speaker.likely(Figure::AirflowLS(room.airflow_l_s));
                    format!("{} {flow}", room.room)
                })
                .collect();
            self.wrapped(out, &format!("{}: {}", scenario.id, rooms.join(", ")), 2, 4);
        }
    }

    fn look_next(&self, out: &mut String, looks: &[LookNext]) {
        if looks.is_empty() {
            return;
        }
        self.heading(out, "heading.look-next");
        for (place, look) in looks.iter().enumerate().take(if self.all { looks.len() } else { 5 }) {
            let share = self.speaker.figure(Figure::ShareRatio(Triple::exact(look.settles_ratio)));
            let time = self.speaker.figure(Figure::TimeH(Triple::exact(look.effort_h)));
            let text = format!(
                "{}. {} ({}): {} {}/{} {} {share}, {} {time}",
                place + 1,
                look.what.text,
                look.at,
                self.speaker.word("would-settle"),
                look.finding,
                look.subject,
                self.speaker.word("in"),
                self.speaker.word("about"),
            );
            self.wrapped(out, &text, 2, 5);
        }
    }

    fn assumptions(&self, out: &mut String, assumptions: &[Assumption]) {
        if assumptions.is_empty() {
            return;
        }
        self.heading(out, "heading.assumptions");
        for assumption in assumptions {
            let value = match assumption.figure {
                Some(figure) => self.speaker.range(figure),
                None => assumption.words.join(&format!(" {} ", self.speaker.word("or"))),
            };
            let text = format!(
                "{} = {value} ({}) [{}]",
                assumption.at,
                assumption.what.text,
                self.source(&assumption.source)
            );
            self.wrapped(out, &text, 2, 4);
        }
    }

    fn cautions(&self, out: &mut String, report: &Report) {
        if !report.not_seen.is_empty() {
            self.heading(out, "heading.not-seen");
            for item in &report.not_seen {
                self.wrapped(out, &format!("- {item}"), 2, 4);
            }
        }
        self.heading(out, "heading.cautions");
        for caution in &report.cautions {
            self.wrapped(out, &format!("- {}", caution.message.text), 2, 4);
        }
    }

    /// The working of one finding.
    pub(crate) fn working(&self, finding: &Finding) -> String {
        let mut out = String::new();
        self.finding(&mut out, finding);
        for (place, step) in finding.working.iter().enumerate() {
            line(&mut out, "");
            self.step(&mut out, place + 1, step);
        }
        if finding.working.is_empty() {
            line(&mut out, "");
            self.wrapped(&mut out, &self.speaker.word("no-arithmetic"), 2, 2);
        }
        out
    }

    fn step(&self, out: &mut String, place: usize, step: &Step) {
        line(out, &format!("  {place}. {}", paint(HEADING, &step.equation)));
        for input in &step.inputs {
            let text = format!(
                "{} = {}  {} ({})",
                input.symbol,
                self.speaker.figure(input.figure),
                input.what.text,
                self.speaker.word(provenance_key(input.from))
            );
            self.wrapped(out, &text, 5, 9);
        }
        if let Some(result) = step.result {
            self.wrapped(out, &format!("= {}", self.speaker.figure(result)), 5, 7);
        }
        self.wrapped(out, &paint(QUIET, &format!("[{}]", self.source(&step.source))), 5, 7);
    }

    fn source(&self, source: &dewpath_engine::report::Source) -> String {
        let standing = self.speaker.word(standing_key(source.standing));
        let place = [source.book.as_str(), source.section.as_str()]
            .into_iter()
            .filter(|part| !part.is_empty())
            .collect::<Vec<_>>()
            .join(", ");
        if standing.is_empty() { place } else { format!("{place}; {standing}") }
    }

    fn heading(&self, out: &mut String, key: &str) {
        self.heading_text(out, &self.speaker.word(key));
    }

    fn heading_text(&self, out: &mut String, text: &str) {
        line(out, "");
        line(out, &paint(HEADING, text));
    }

    fn wrapped(&self, out: &mut String, text: &str, first: usize, rest: usize) {
        let options = textwrap::Options::new(self.width)
            .initial_indent(&SPACES[..first])
            .subsequent_indent(&SPACES[..rest])
            .break_words(false);
        for wrapped in textwrap::wrap(text, options) {
            line(out, &wrapped);
        }
    }

    /// What is written differently in two jobs.
    pub(crate) fn changes(&self, changes: &[dewpath_job::diff::Change]) -> String {
        let mut out = String::new();
        self.heading(&mut out, "heading.changes");
        for change in changes {
            let show = |value: &Option<String>| value.clone().unwrap_or_else(|| "-".to_owned());
            let text = format!("{}: {} -> {}", change.at, show(&change.old), show(&change.new));
            self.wrapped(&mut out, &text, 2, 4);
        }
        if changes.is_empty() {
            self.wrapped(&mut out, &self.speaker.word("no-changes"), 2, 2);
        }
        out
    }

    /// What changed between two reports of the same kind of job.
    pub(crate) fn comparison(&self, before: &Report, after: &Report) -> String {
        let mut out = String::new();
        self.heading(&mut out, "heading.effect");
        for room in &after.rooms {
            let old = before.rooms.iter().find(|r| r.id == room.id).and_then(|r| r.delivered);
            let show = |flow: Option<dewpath_engine::report::Delivered>| match flow {
                Some(flow) => self.speaker.figure(Figure::AirflowLS(flow.airflow_l_s)),
                None => self.speaker.word("unknown"),
            };
            let text = format!("{}: {} -> {}", room.name, show(old), show(room.delivered));
            self.wrapped(&mut out, &text, 2, 4);
        }
        let key = |f: &Finding| (f.id.clone(), f.subject.clone());
        for finding in &after.findings {
            let old = before.findings.iter().find(|f| key(f) == key(finding));
            let old_verdict = old.map(|f| f.verdict);
            if old_verdict != Some(finding.verdict) {
                let was = old_verdict.map_or("new", verdict_key);
                let text = format!(
                    "{}/{}: {} -> {}",
                    finding.id,
                    finding.subject,
                    self.speaker.word(was),
                    self.speaker.word(verdict_key(finding.verdict))
                );
                self.wrapped(&mut out, &text, 2, 4);
            }
        }
        for finding in &before.findings {
            if !after.findings.iter().any(|f| key(f) == key(finding)) {
                let text = format!(
                    "{}/{}: {} -> {}",
                    finding.id,
                    finding.subject,
                    self.speaker.word(verdict_key(finding.verdict)),
                    self.speaker.word("gone")
                );
                self.wrapped(&mut out, &text, 2, 4);
            }
        }
        out
    }
}

const SPACES: &str = "                    ";

fn line(out: &mut String, text: &str) {
    // Writing into a String cannot fail.
    let _ = writeln!(out, "{}", text.trim_end());
}

fn paint(style: Style, text: &str) -> String {
    format!("{style}{text}{style:#}")
}

fn style_of(verdict: Verdict) -> Style {
    let colour = match verdict {
        Verdict::Holds => AnsiColor::Green,
        Verdict::Caution => AnsiColor::Yellow,
        Verdict::Unknown => AnsiColor::Cyan,
        Verdict::Fails => AnsiColor::Red,
    };
    Style::new().bold().fg_color(Some(colour.into()))
}

fn rank(verdict: Verdict) -> u8 {
    match verdict {
        Verdict::Fails => 0,
        Verdict::Unknown => 1,
        Verdict::Caution => 2,
        Verdict::Holds => 3,
    }
}

fn verdict_key(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Holds => "holds",
        Verdict::Caution => "caution",
        Verdict::Unknown => "unknown",
        Verdict::Fails => "fails",
    }
}

fn sum_key(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Holds | Verdict::Caution => "sum.holds",
        Verdict::Unknown => "sum.unknown",
        Verdict::Fails => "sum.fails",
    }
}

fn standing_key(standing: dewpath_engine::report::Standing) -> &'static str {
    use dewpath_engine::report::Standing;
    match standing {
        Standing::FromMemory => "from-memory",
        Standing::Confirmed | Standing::CommonPractice | Standing::Judgement => "",
    }
}

fn provenance_key(from: dewpath_engine::report::Provenance) -> &'static str {
    use dewpath_engine::report::Provenance;
    match from {
        Provenance::Written => "written",
        Provenance::Measured => "measured",
        Provenance::Label => "label",
        Provenance::Assumed => "assumed",
        Provenance::RuleBook => "rule book",
        Provenance::Default => "default",
        Provenance::Computed => "computed",
    }
}
