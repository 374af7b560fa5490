//! Lays a report out for a terminal: the answer first, then what is wrong, then what is not known.
//!
//! Colour is never the only carrier: every verdict is a word. The short view shows what bears on the
//! answer and counts the rest; `--all` shows everything.

use anstyle::{AnsiColor, Style};
use dewpath_report::{
    Answered, Assumption, Candidate, CandidateRoom, Delivered, Figure, Finding, LookNext, Loss,
    Provenance, Report, Requirement, RoomResult, RunResult, Source, Standing, Step, Triple,
    Verdict,
};
use dewpath_words::Speaker;

use crate::page::{Page, bold, columns, dim, paint};

mod brief;

/// Indent under a verdict word.
const UNDER: usize = 11;
/// Losses of one run in the short view.
const LOSSES: usize = 6;
/// Losses of each run in the short view when there are several runs.
const LOSSES_OF_MANY: usize = 2;
/// Candidates in the short view.
const CANDIDATES: usize = 3;
/// Things to look at in the short view.
const LOOKS: usize = 5;
/// Least share of the draws that a look must settle to be told as a share.
const SETTLES: f64 = 0.01;

/// How to print.
#[derive(Debug, Clone)]
pub(crate) struct Layout {
    speaker: Speaker,
    width: usize,
    all: bool,
}

impl Layout {
    pub(crate) fn new(speaker: Speaker, width: usize, all: bool) -> Self {
        Self { speaker, width, all }
    }

    /// The brief and what bears on it; everything with `--all`.
    pub(crate) fn report(&self, report: &Report) -> String {
        let mut page = Page::new(self.width);
        self.brief(&mut page, report);
        if !self.all {
            let mut below = Page::new(self.width);
            self.mind(&mut below, report);
            self.points(&mut page, report, below.lines());
            self.noted(&mut page, report, below.lines());
            page.add(&below);
            return page.into_text();
        }
        self.answer(&mut page, report);
        self.findings(&mut page, report);
        self.runs(&mut page, &report.runs);
        self.candidates(&mut page, report);
        self.scenarios(&mut page, report);
        self.look_next(&mut page, &report.look_next);
        self.assumptions(&mut page, report);
        self.told_and_not_seen(&mut page, report);
        self.cautions(&mut page, report);
        page.into_text()
    }

    fn answer(&self, page: &mut Page, report: &Report) {
        page.blank();
        for message in &report.answer.messages {
            page.wrapped(&message.text, 2, 4);
        }
        if !report.findings.is_empty() {
            let sum = self.speaker.word(sum_key(report.answer.verdict));
            page.wrapped(&format!("{sum} {}", self.counts(&report.findings)), 2, 4);
        }
        let shown =
            |r: &&Requirement| self.all || (r.governs && !(r.guidance && r.missing.is_some()));
        for requirement in report.requirement.iter().filter(shown) {
            self.requirement(page, requirement);
        }
    }

    /// `Failing 1, unknown 2, holding 12.`
    fn counts(&self, findings: &[Finding]) -> String {
        let of = |verdict| {
            findings.iter().filter(|f| f.verdict == verdict && f.overridden.is_none()).count()
        };
        let counts = [
            ("count.fails", of(Verdict::Fails)),
            ("count.unknown", of(Verdict::Unknown)),
            ("count.caution", of(Verdict::Caution)),
            ("count.holds", of(Verdict::Holds)),
            ("count.overridden", findings.iter().filter(|f| f.overridden.is_some()).count()),
        ];
        let told: Vec<String> = counts
            .iter()
            .filter(|(_, count)| *count > 0)
            .map(|(key, count)| format!("{} {count}", self.speaker.word(key)))
            .collect();
        format!("({})", told.join(", "))
    }

    fn requirement(&self, page: &mut Page, requirement: &Requirement) {
        let of = if requirement.room.is_empty() {
            self.speaker.word("the-dwelling")
        } else {
            requirement.room.clone()
        };
        let rate = match (requirement.airflow_l_s, &requirement.missing) {
            (Some(flow), _) => self.speaker.figure(Figure::AirflowLS(flow)),
            (None, Some(missing)) => missing.text.clone(),
            (None, None) => self.speaker.word("unknown-value"),
        };
        let method = self.speaker.word(&requirement.method);
        let advice = if requirement.guidance {
            format!(" {}", self.speaker.word("guidance"))
        } else {
            String::new()
        };
        let source = self.source(&requirement.source);
        let required = self.speaker.word("required-of");
        page.wrapped(&format!("{required} {of}: {rate}, {method}{advice} [{source}]"), 2, 4);
    }

    fn findings(&self, page: &mut Page, report: &Report) {
        let mut order: Vec<&Finding> = report.findings.iter().collect();
        order.sort_by_key(|finding| (finding.overridden.is_some(), rank(finding.verdict)));
        let (held, open): (Vec<&Finding>, Vec<&Finding>) =
            order.into_iter().partition(|f| f.verdict == Verdict::Holds && f.overridden.is_none());
        if report.findings.is_empty() {
            return;
        }
        page.heading(&self.speaker.word("heading.findings"));
        // What the answer says is not said again below it.
        let mut told: Vec<&str> =
            report.answer.messages.iter().map(|message| message.text.as_str()).collect();
        for finding in &open {
            self.finding(page, finding, &mut told);
        }
        if self.all {
            for finding in &held {
                self.finding(page, finding, &mut told);
            }
        } else if !held.is_empty() {
            let holding = self.speaker.word("heading.holding");
            page.wrapped(&format!("{holding} {}", by_id(&held)), 2, 4);
        }
        page.quiet(&self.speaker.word("hint.why"), 2, 4);
    }

    /// One finding; in the short view what was said above is not said again.
    fn finding<'a>(&self, page: &mut Page, finding: &'a Finding, told: &mut Vec<&'a str>) {
        let name = format!("{}/{}", finding.id, finding.subject);
        let source = format!("[{}]", self.source(&finding.source));
        let verdict = self.verdict(finding.verdict);
        let gap = " ".repeat((UNDER - 2).saturating_sub(columns(&verdict)));
        let fits = UNDER + columns(&name) + 2 + columns(&source) <= page.width();
        if fits {
            page.line(&format!("  {verdict}{gap}{name}  {}", dim(&source)));
        } else {
            page.line(&format!("  {verdict}{gap}{name}"));
        }
        if self.all || !told.contains(&finding.message.text.as_str()) {
            page.wrapped(&finding.message.text, UNDER, UNDER);
        }
        if let Some(reason) = &finding.overridden {
            page.wrapped(&format!("{} {reason}", self.speaker.word("overridden")), UNDER, UNDER);
        }
        for todo in &finding.todo {
            let known = told.contains(&todo.text.as_str());
            if self.all || !known {
                page.wrapped(&format!("- {}", todo.text), UNDER, UNDER + 2);
                told.push(&todo.text);
            }
        }
        // Advice breaks no rule; `why` and `--all` give its source where there is no room beside it.
        if !fits && (self.all || finding.verdict != Verdict::Caution) {
            page.quiet(&source, UNDER, UNDER);
        }
    }

    fn runs(&self, page: &mut Page, runs: &[RunResult]) {
        let solved: Vec<&RunResult> = runs.iter().filter(|run| !run.losses.is_empty()).collect();
        let most = match (self.all, solved.len()) {
            (true, _) => usize::MAX,
            (false, 1) => LOSSES,
            (false, _) => LOSSES_OF_MANY,
        };
        if solved.is_empty() {
            return;
        }
        page.heading(&self.speaker.word("heading.losses"));
        let name = |loss: &Loss| self.loss_name(loss);
        let names = solved.iter().flat_map(|run| &run.losses).map(|loss| columns(&name(loss)));
        let table = Table { names: names.max().unwrap_or(0).min(page.width() / 2) + 2 };
        for run in solved {
            let pressure = |t| self.speaker.figure(Figure::PressurePa(t));
            table.row(page, 2, &run.id, &run.total_pa.map_or_else(String::new, pressure));
            let shown = largest(&run.losses, most);
            for loss in &shown {
                table.row(page, 4, &name(loss), &pressure(loss.pressure_pa));
            }
            let rest = run.losses.len() - shown.len();
            if rest > 0 {
                page.quiet(&format!("+{rest} {}", self.speaker.word("smaller-with-all")), 4, 4);
            }
        }
    }

    fn loss_name(&self, loss: &Loss) -> String {
        let what = self.speaker.word(&loss.what);
        if loss.part == what { what } else { format!("{} ({what})", loss.part) }
    }

    /// Candidates in full where the air is not yet known to be enough; otherwise how many there are.
    fn candidates(&self, page: &mut Page, report: &Report) {
        let candidates = &report.candidates;
        if candidates.is_empty() {
            return;
        }
        let enough = report
            .findings
            .iter()
            .filter(|f| f.id == "airflow.delivered")
            .all(|f| f.verdict == Verdict::Holds);
        page.heading(&self.speaker.word("heading.candidates"));
        let shown = match (self.all, enough) {
            (true, _) => candidates.len(),
            (false, true) => 0,
            (false, false) => CANDIDATES,
        };
        let mut told = Vec::new();
        for candidate in candidates.iter().take(shown) {
            self.candidate(page, candidate, &mut told);
        }
        let more = candidates.len().saturating_sub(shown);
        if more > 0 {
            page.quiet(&format!("+{more} {}", self.speaker.word("judged-with-all")), 2, 4);
        }
    }

    fn candidate<'a>(&self, page: &mut Page, candidate: &'a Candidate, told: &mut Vec<&'a str>) {
        let rooms = self.rooms(&candidate.delivered, Speaker::figure);
        let chance = candidate.chance_enough.map_or_else(String::new, |chance| {
            let chance = self.speaker.figure(Figure::ChanceRatio(Triple::exact(chance)));
            format!(", {} {chance}", self.speaker.word("chance-enough"))
        });
        let loudness = candidate.loudness_sone.map_or_else(String::new, |sone| {
            format!(", {}", self.speaker.figure(Figure::LoudnessSone(sone)))
        });
        let Candidate { rank, name, .. } = candidate;
        page.wrapped(&format!("{rank}. {name}: {rooms}{chance}{loudness}"), 2, 5);
        self.notes(page, candidate, told);
        for set in &candidate.patch.set {
            let take = self.speaker.word("to-take-it");
            page.quiet(&format!("{take} {} = {}", set.at, set.value), 5, 7);
        }
        if !candidate.patch.remove.is_empty() {
            let out = self.speaker.word("take-out");
            page.quiet(&format!("{out} {}", candidate.patch.remove.join(", ")), 5, 7);
        }
    }

    /// Notes on a candidate; the short view gives cautions by their id, and the rest in full only once.
    fn notes<'a>(&self, page: &mut Page, candidate: &'a Candidate, told: &mut Vec<&'a str>) {
        let mut cautions = Vec::new();
        for note in &candidate.notes {
            let verdict = self.speaker.word(verdict_key(note.verdict));
            let text = note.message.text.as_str();
            if self.all || (note.verdict != Verdict::Caution && !told.contains(&text)) {
                page.wrapped(&format!("- {verdict}: {text}"), 5, 7);
                told.push(text);
            } else if note.verdict == Verdict::Caution {
                cautions.push(note.id.as_str());
            } else {
                let as_above = self.speaker.word("as-above");
                page.wrapped(&format!("- {verdict}: {}, {as_above}", note.id), 5, 7);
            }
        }
        if !cautions.is_empty() {
            let verdict = self.speaker.word(verdict_key(Verdict::Caution));
            page.wrapped(&format!("- {verdict}: {}", cautions.join(", ")), 5, 7);
        }
    }

    fn rooms(&self, rooms: &[CandidateRoom], tell: fn(&Speaker, Figure) -> String) -> String {
        let told: Vec<String> = rooms
            .iter()
            .map(|r| {
                format!("{} {}", r.room, tell(&self.speaker, Figure::AirflowLS(r.airflow_l_s)))
            })
            .collect();
        told.join(", ")
    }

    fn scenarios(&self, page: &mut Page, report: &Report) {
        if report.scenarios.is_empty() {
            return;
        }
        page.heading(&self.speaker.word("heading.scenarios"));
        for scenario in &report.scenarios {
            let rooms = self.rooms(&scenario.delivered, Speaker::likely);
            let calm = self.rooms(&scenario.calm, Speaker::likely);
            let reference = self.speaker.word("reference-case");
            page.wrapped(&format!("{}: {rooms} ({reference}: {calm})", scenario.id), 2, 4);
            for message in &scenario.left_out {
                page.wrapped(&format!("- {}", message.text), 4, 6);
            }
        }
    }

    fn look_next(&self, page: &mut Page, looks: &[LookNext]) {
        if looks.is_empty() {
            return;
        }
        page.heading(&self.speaker.word("heading.look-next"));
        let shown = if self.all { looks.len() } else { LOOKS };
        for (place, look) in looks.iter().enumerate().take(shown) {
            let time = self.speaker.figure(Figure::TimeH(Triple::exact(look.effort_h)));
            let gain = self.gain(look);
            let (about, at) = (self.speaker.word("about"), self.speaker.word("write-it-at"));
            let what = format!("{} ({about} {time}; {at} {})", look.what.text, look.at);
            page.wrapped(&format!("{}. {what}", place + 1), 2, 5);
            page.wrapped(&gain, 5, 7);
        }
        if looks.len() > shown {
            let more = looks.len() - shown;
            page.quiet(&format!("+{more} {}", self.speaker.word("more-with-all")), 2, 4);
        }
    }

    /// What a look would bring: settles it, settles it in so many cases, or only narrows it.
    fn gain(&self, look: &LookNext) -> String {
        let finding = format!("{}/{}", look.finding, look.subject);
        let share = Figure::ChanceRatio(Triple::exact(look.settles_ratio));
        match look.settles_ratio {
            share if share < SETTLES => format!("{} {finding}", self.speaker.word("narrows")),
            share if share > 1.0 - SETTLES => {
                format!("{} {finding}", self.speaker.word("would-settle"))
            }
            _ => format!(
                "{} {finding} {} {} {}",
                self.speaker.word("would-settle"),
                self.speaker.word("in"),
                self.speaker.figure(share),
                self.speaker.word("of-cases")
            ),
        }
    }

    /// Defaults that were used: in the short view those that a look would settle, and how many others.
    fn assumptions(&self, page: &mut Page, report: &Report) {
        if report.assumptions.is_empty() {
            return;
        }
        page.heading(&self.speaker.word("heading.assumptions"));
        let matters = |a: &&Assumption| self.all || report.look_next.iter().any(|l| l.at == a.at);
        let shown: Vec<&Assumption> = report.assumptions.iter().filter(matters).collect();
        for group in alike(&shown, |a| self.assumed(a)) {
            let (text, places) = group;
            page.wrapped(&text, 2, 4);
            page.quiet(&places.join(", "), 4, 4);
        }
        let rest = report.assumptions.len() - shown.len();
        if rest > 0 {
            page.quiet(&format!("+{rest} {}", self.speaker.word("assumed-with-all")), 2, 4);
        }
    }

    fn assumed(&self, assumption: &Assumption) -> String {
        let value = match assumption.figure {
            Some(figure) => self.speaker.range(figure),
            None => assumption
                .words
                .iter()
                .map(|word| self.speaker.word(word))
                .collect::<Vec<_>>()
                .join(&format!(" {} ", self.speaker.word("or"))),
        };
        format!("{}: {value} [{}]", assumption.what.text, self.source(&assumption.source))
    }

    fn told_and_not_seen(&self, page: &mut Page, report: &Report) {
        if !report.evidence.is_empty() {
            page.heading(&self.speaker.word("heading.evidence"));
            report.evidence.iter().for_each(|told| page.wrapped(&format!("- {}", told.text), 2, 4));
        }
        for (heading, items) in
            [("heading.not-seen", &report.not_seen), ("heading.noted", &report.notes)]
        {
            if !items.is_empty() {
                page.heading(&self.speaker.word(heading));
                for item in items {
                    page.wrapped(&format!("- {item}"), 2, 4);
                }
            }
        }
    }

    fn cautions(&self, page: &mut Page, report: &Report) {
        page.heading(&self.speaker.word("heading.cautions"));
        for caution in &report.cautions {
            page.wrapped(&format!("- {}", caution.message.text), 2, 4);
        }
    }

    /// The year: its weather, each room month by month, what was found.
    pub(crate) fn year(&self, report: &Report) -> String {
        let mut page = Page::new(self.width);
        self.courses(&mut page, report);
        let is_followed = report.rooms.iter().any(|room| room.year.is_some());
        let mut found: Vec<&Finding> = report.findings.iter().filter(|f| is_of_year(f)).collect();
        if found.is_empty() && !is_followed {
            page.wrapped(&self.speaker.word("year.no-room"), 2, 4);
            return page.into_text();
        }
        page.heading(&self.speaker.word("heading.findings"));
        found.sort_by_key(|finding| rank(finding.verdict));
        for finding in found {
            self.finding(&mut page, finding, &mut Vec::new());
        }
        page.into_text()
    }

    /// The year below a report that tells its findings already.
    pub(crate) fn year_alone(&self, report: &Report) -> String {
        let mut page = Page::new(self.width);
        page.blank();
        self.courses(&mut page, report);
        page.into_text()
    }

    /// The weather of the year, and each room month by month.
    fn courses(&self, page: &mut Page, report: &Report) {
        page.line(&bold(&format!("{}: {}", self.speaker.word("heading.year"), report.name)));
        let followed: Vec<&RoomResult> = report.rooms.iter().filter(|r| r.year.is_some()).collect();
        if let Some(year) = report.dwelling.as_ref().and_then(|dwelling| dwelling.year.as_ref()) {
            let weather = self.speaker.word("heading.weather");
            page.wrapped(&format!("{weather}: {}", year.weather.text), 2, 4);
            for note in &year.weather_notes {
                page.quiet(&format!("- {}", note.text), 4, 6);
            }
        }
        for room in &followed {
            if let Some(year) = &room.year {
                page.heading(&room.name);
                Self::months(page, &self.speaker.year_table(year));
                if let Some(money) = &year.cost {
                    let cost = self.speaker.word("year.cost");
                    page.wrapped(&format!("{cost} {}.", self.speaker.money(money)), 2, 4);
                }
            }
        }
        if !followed.is_empty() {
            page.quiet(&self.speaker.word("year.legend"), 2, 4);
        }
        if let Some(ducts) = self.speaker.duct_table(&report.runs) {
            page.heading(&self.speaker.word("heading.duct-year"));
            Self::months(page, &ducts);
            page.quiet(&self.speaker.word("year.duct-legend"), 2, 4);
        }
    }

    /// A table of months, each column as wide as its widest cell.
    fn months(page: &mut Page, table: &dewpath_words::Table) {
        let width = |column: usize| {
            let cells = table.rows.iter().filter_map(|row| row.get(column));
            let heads = table.head.get(column).into_iter().flatten();
            cells.chain(heads).map(|cell| columns(cell)).max().unwrap_or(0)
        };
        let widths: Vec<usize> = (0..table.head.len()).map(width).collect();
        let line = |cells: &[&str]| {
            let set: Vec<String> = cells
                .iter()
                .zip(&widths)
                .enumerate()
                .map(
                    |(column, (cell, &width))| {
                        if column == 0 { pad(cell, width) } else { before(cell, width) }
                    },
                )
                .collect();
            format!("  {}", set.join("  "))
        };
        for part in 0..2 {
            let heads: Vec<&str> = table.head.iter().map(|head| head[part].as_str()).collect();
            page.line(&dim(&line(&heads)));
        }
        for row in &table.rows {
            let cells: Vec<&str> = row.iter().map(String::as_str).collect();
            page.line(&line(&cells));
        }
    }

    /// The working of one finding.
    pub(crate) fn working(&self, finding: &Finding) -> String {
        let mut page = Page::new(self.width);
        self.finding(&mut page, finding, &mut Vec::new());
        for (place, step) in finding.working.iter().enumerate() {
            page.blank();
            self.step(&mut page, place + 1, step);
        }
        if finding.working.is_empty() {
            page.blank();
            page.wrapped(&self.speaker.word("no-arithmetic"), 2, 2);
        }
        page.into_text()
    }

    fn step(&self, page: &mut Page, place: usize, step: &Step) {
        page.strong(&format!("{place}. {}", step.equation), 2, 5);
        let figures: Vec<String> =
            step.inputs.iter().map(|input| self.speaker.figure(input.figure)).collect();
        let symbols =
            step.inputs.iter().map(|input| columns(&input.symbol.text)).max().unwrap_or(0);
        let values = figures.iter().map(|figure| columns(figure)).max().unwrap_or(0);
        let what = 5 + symbols + 3 + values + 2;
        // Three columns need room for the third; without it, what a value is goes below it.
        let beside = what + 24 <= page.width();
        for (input, figure) in step.inputs.iter().zip(&figures) {
            let from = self.speaker.word(provenance_key(input.from));
            let meaning = format!("{} ({from})", input.what.text);
            if beside {
                let (symbol, value) = (pad(&input.symbol.text, symbols), pad(figure, values));
                page.hanging(usize::MAX, &format!("     {symbol} = {value}  "), &meaning);
            } else {
                page.wrapped(&format!("{} = {figure}", input.symbol), 5, 9);
                page.wrapped(&meaning, 9, 9);
            }
        }
        if let Some(result) = step.result {
            let indent = if beside && symbols > 0 { 5 + symbols + 1 } else { 5 };
            page.wrapped(&format!("= {}", self.speaker.figure(result)), indent, indent + 2);
        }
        page.quiet(&format!("[{}]", self.source(&step.source)), 5, 6);
    }

    fn source(&self, source: &Source) -> String {
        let standing = self.speaker.word(standing_key(source.standing));
        let place = if source.section.is_empty() || source.section == source.book {
            source.book.text.clone()
        } else {
            format!("{}, {}", source.book, source.section)
        };
        if standing.is_empty() { place } else { format!("{place}; {standing}") }
    }

    fn verdict(&self, verdict: Verdict) -> String {
        paint(style_of(verdict), &self.speaker.word(verdict_key(verdict)))
    }

    /// What is written differently in two jobs.
    pub(crate) fn changes(&self, changes: &[dewpath_job::diff::Change]) -> String {
        let mut page = Page::new(self.width);
        page.line(&bold(&self.speaker.word("heading.changes")));
        for change in changes {
            let what = match (&change.old, &change.new) {
                (Some(old), Some(new)) => format!("{old} -> {new}"),
                (None, Some(new)) => self.came_or_went("added", new),
                (Some(old), None) => self.came_or_went("removed", old),
                (None, None) => String::new(),
            };
            page.wrapped(&format!("{}: {what}", change.at), 2, 4);
        }
        if changes.is_empty() {
            page.wrapped(&self.speaker.word("no-changes"), 2, 2);
        }
        page.into_text()
    }

    /// A thing as a whole has no value of its own: it is only `written`.
    fn came_or_went(&self, key: &str, value: &str) -> String {
        let word = self.speaker.word(key);
        if value == "written" { word } else { format!("{word} {value}") }
    }

    /// What the changes do to the answer.
    pub(crate) fn comparison(&self, before: &Report, after: &Report) -> String {
        let mut page = Page::new(self.width);
        page.heading(&self.speaker.word("heading.effect"));
        let (old, new) = (before.answer.verdict, after.answer.verdict);
        let answer = self.speaker.word("answer");
        page.wrapped(&format!("{answer}: {} -> {}", self.verdict(old), self.verdict(new)), 2, 4);
        for now in &after.brief.answers {
            let then = before.brief.answers.iter().find(|then| then.question == now.question);
            let (then, said) = (then.map(Self::said), Self::said(now));
            if then.as_ref() != Some(&said) {
                let then = then.unwrap_or_else(|| self.speaker.word("new"));
                page.wrapped(&format!("{}: {then} -> {said}", self.question(now)), 2, 4);
            }
        }
        for room in &after.rooms {
            let old = before.rooms.iter().find(|r| r.id == room.id);
            let old =
                old.map_or_else(|| self.speaker.word("new"), |room| self.flow(room.delivered));
            page.wrapped(&format!("{}: {old} -> {}", room.name, self.flow(room.delivered)), 2, 4);
        }
        for room in &before.rooms {
            if !after.rooms.iter().any(|r| r.id == room.id) {
                let (old, gone) = (self.flow(room.delivered), self.speaker.word("gone"));
                page.wrapped(&format!("{}: {old} -> {gone}", room.name), 2, 4);
            }
        }
        for (old, new) in moved(before, after) {
            let Some(named) = new.or(old) else { continue };
            let word = |finding: Option<&Finding>, none: &str| match finding {
                Some(finding) => self.verdict_and_figure(finding),
                None => self.speaker.word(none),
            };
            let (old, new) = (word(old, "new"), word(new, "gone"));
            page.wrapped(&format!("{}/{}: {old} -> {new}", named.id, named.subject), 2, 4);
        }
        page.into_text()
    }

    /// One answer of the brief, on one line.
    fn said(answer: &Answered) -> String {
        let says = answer.says.iter().map(|said| said.text.as_str());
        std::iter::once(answer.word.text.as_str()).chain(says).collect::<Vec<_>>().join(", ")
    }

    fn verdict_and_figure(&self, finding: &Finding) -> String {
        let verdict = self.verdict(finding.verdict);
        match finding.figure {
            Some(figure) => format!("{verdict}, {}", self.speaker.figure(figure)),
            None => verdict,
        }
    }

    fn flow(&self, flow: Option<Delivered>) -> String {
        flow.map_or_else(
            || self.speaker.word("unknown-value"),
            |flow| self.speaker.figure(Figure::AirflowLS(flow.airflow_l_s)),
        )
    }
}

/// Findings whose verdict is not the same in two reports, as they were and as they are.
fn moved<'a>(
    before: &'a Report,
    after: &'a Report,
) -> Vec<(Option<&'a Finding>, Option<&'a Finding>)> {
    let same = |a: &Finding, b: &Finding| a.id == b.id && a.subject == b.subject;
    let find = |report: &'a Report, finding: &Finding| {
        report.findings.iter().find(|other| same(other, finding))
    };
    let now = after.findings.iter().map(|finding| (find(before, finding), Some(finding)));
    let gone = before.findings.iter().filter(|finding| find(after, finding).is_none());
    let verdict = |finding: Option<&Finding>| finding.map(|finding| finding.verdict);
    now.chain(gone.map(|finding| (Some(finding), None)))
        .filter(|(old, new)| verdict(*old) != verdict(*new))
        .collect()
}

/// Names and their values, the values below one another.
struct Table {
    /// Columns of the longest name and its indent.
    names: usize,
}

impl Table {
    /// One row; where the value has no room beside the name, it goes below.
    fn row(&self, page: &mut Page, indent: usize, name: &str, value: &str) {
        let lead = format!("{}{}  ", " ".repeat(indent), pad(name, self.names + 2 - indent));
        if columns(&lead) + columns(value) <= page.width() {
            page.line(&format!("{lead}{value}"));
        } else {
            page.wrapped(name, indent, indent + 2);
            page.wrapped(value, indent + 2, indent + 2);
        }
    }
}

/// The largest losses, in the direction of flow.
fn largest(losses: &[Loss], most: usize) -> Vec<&Loss> {
    let mut places: Vec<usize> = (0..losses.len()).collect();
    places.sort_by(|&a, &b| losses[b].pressure_pa.likely.total_cmp(&losses[a].pressure_pa.likely));
    places.truncate(most);
    places.sort_unstable();
    places.into_iter().map(|place| &losses[place]).collect()
}

/// Assumptions that read alike, with the paths they stand at.
fn alike<'a>(
    assumptions: &[&'a Assumption],
    text: impl Fn(&Assumption) -> String,
) -> Vec<(String, Vec<&'a str>)> {
    let mut groups: Vec<(String, Vec<&str>)> = Vec::new();
    for assumption in assumptions {
        let text = text(assumption);
        match groups.iter_mut().find(|(known, _)| *known == text) {
            Some((_, places)) => places.push(&assumption.at),
            None => groups.push((text, vec![&assumption.at])),
        }
    }
    groups
}

/// `duct.velocity (first, second), terminal.place/cap`.
fn by_id(findings: &[&Finding]) -> String {
    let mut groups: Vec<(&str, Vec<&str>)> = Vec::new();
    for finding in findings {
        match groups.iter_mut().find(|(id, _)| finding.id == *id) {
            Some((_, subjects)) => subjects.push(&finding.subject),
            None => groups.push((finding.id.as_str(), vec![&finding.subject])),
        }
    }
    let told: Vec<String> = groups
        .iter()
        .map(|(id, subjects)| match subjects.as_slice() {
            [one] => format!("{id}/{one}"),
            many => format!("{id} ({})", many.join(", ")),
        })
        .collect();
    told.join(", ")
}

/// Findings that the year brings.
fn is_of_year(finding: &Finding) -> bool {
    const OF_YEAR: [&str; 5] =
        ["room.year.", "room.mould", "room.humidity.running-mean", "dwelling.humid", "duct.year"];
    OF_YEAR.iter().any(|start| finding.id.as_str().starts_with(start))
        || finding.id == "weather.unusable"
}

/// Spaces before a text, so that numbers stand below one another.
fn before(text: &str, width: usize) -> String {
    format!("{}{text}", " ".repeat(width.saturating_sub(columns(text))))
}

fn pad(text: &str, width: usize) -> String {
    format!("{text}{}", " ".repeat(width.saturating_sub(columns(text))))
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

fn standing_key(standing: Standing) -> &'static str {
    match standing {
        Standing::FromMemory => "from-memory",
        Standing::Confirmed | Standing::CommonPractice | Standing::Judgement => "",
    }
}

fn provenance_key(from: Provenance) -> &'static str {
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
