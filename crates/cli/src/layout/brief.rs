//! What a person reads first: each question with its answer, what to do next, the points that decide.

use dewpath_case::draws::TELLS_CHANCE;
use dewpath_message::Value;
use dewpath_message::slot::Count;
use dewpath_report::say::{BriefPoints, BriefPointsKey};
use dewpath_report::{
    Answered, Figure, Finding, Outcome, Question, Report, Task, TaskKind, Triple, Verdict,
};

use super::{Layout, is_of_year, pad, rank, verdict_key};
use crate::page::{Page, bold, columns, dim};

/// Points of the short view, a line each, and lines in all that they may fill.
const POINTS: usize = 6;
const LINES: usize = 25;
/// Lines of one answer, of one thing to do, of what was not seen, of what to mind.
const EACH: usize = 2;

impl Layout {
    /// Each question with its answer, then what to do.
    pub(super) fn brief(&self, page: &mut Page, report: &Report) {
        let brief = &report.brief;
        let watched = brief.answers.iter().filter(|a| a.outcome == Outcome::Caution).count();
        let watched = match (brief.verdict, watched) {
            (Verdict::Holds, 1..) => format!(", {}", self.to_watch(watched)),
            _ => String::new(),
        };
        let verdict = self.verdict(brief.verdict);
        page.wrapped(&format!("{verdict}{watched}  {}", bold(&report.name)), 0, 2);
        // What can kill is said before any answer.
        for task in brief.tasks.iter().filter(|task| task.kind == TaskKind::Stop) {
            let lead = format!("  {}  ", bold(&self.speaker.word("heading.stop")));
            page.hanging(self.each(), &lead, &self.task(task));
        }
        for symptom in &brief.symptoms {
            page.wrapped(&symptom.text, 2, 4);
        }
        let words = brief.answers.iter().map(|answer| columns(&answer.word.text));
        let names = brief.answers.iter().map(|answer| columns(&self.question(answer)));
        let (name, word) = (names.max().unwrap_or(0) + 2, words.max().unwrap_or(0) + 2);
        for answer in &brief.answers {
            let lead =
                format!("  {}{}", pad(&self.question(answer), name), pad(&answer.word.text, word));
            let says: Vec<&str> = answer.says.iter().map(|said| said.text.as_str()).collect();
            page.hanging(self.each(), &lead, &says.join("; "));
            let is_told = self.all || answer.question == Question::Air;
            for room in answer.rooms.iter().filter(|_| is_told) {
                page.quiet(
                    &format!("{}: {}", room.room, room.says.text),
                    2 + name + word,
                    4 + name + word,
                );
            }
        }
        if report.findings.is_empty() {
            page.wrapped(&self.speaker.word("sum.nothing"), 2, 4);
        }
        match report.draws_count {
            0 => page.quiet(&self.speaker.word("draws.none"), 2, 4),
            1..TELLS_CHANCE => page.quiet(&self.speaker.word("draws.few"), 2, 4),
            _ => {}
        }
        if !report.not_seen.is_empty() {
            let not_seen = self.speaker.word("heading.not-seen");
            page.at_most(EACH, &format!("{not_seen}: {}", report.not_seen.join("; ")), 2, 4);
        }
        let next = || brief.tasks.iter().filter(|task| task.kind != TaskKind::Stop);
        if next().next().is_some() {
            page.heading(&self.speaker.word("heading.do-next"));
            for (place, task) in next().enumerate() {
                page.hanging(self.each(), &format!("  {}. ", place + 1), &self.task(task));
            }
        }
    }

    /// That a job holds is not all there is to say of it where something is to be watched.
    fn to_watch(&self, count: usize) -> String {
        let count = Count(Triple::exact(count as f64));
        self.speaker.message(&BriefPoints { key: BriefPointsKey::ToWatch, count }.into())
    }

    /// Lines that one answer or one thing to do may take.
    fn each(&self) -> usize {
        if self.all { usize::MAX } else { EACH }
    }

    pub(super) fn question(&self, answer: &Answered) -> String {
        self.speaker.word(answer.question.title())
    }

    /// What to do, how long it takes, what it settles.
    fn task(&self, task: &Task) -> String {
        let mut notes = Vec::new();
        if let Some(hours) = task.effort_h {
            notes.push(self.speaker.figure(Figure::TimeH(Triple::exact(hours))));
        }
        let question = self.speaker.word(task.question.title());
        match task.settles_ratio {
            Some(share) if share < 1.0 => {
                let share = self.speaker.figure(Figure::ChanceRatio(Triple::exact(share)));
                notes.push(format!("{question} {share}"));
            }
            _ => notes.push(question),
        }
        let at = match task.at.as_slice() {
            [one] => format!(" [{one}]"),
            several if self.all && !several.is_empty() => format!(" [{}]", several.join(", ")),
            _ => String::new(),
        };
        format!("{} ({}){at}", task.what.text.trim_end_matches('.'), notes.join(", "))
    }

    /// The points that bear on the answers, a line each; the rest is counted. `below`: lines that are to follow.
    pub(super) fn points(&self, page: &mut Page, report: &Report, below: usize) {
        let mut open: Vec<&Finding> = report
            .findings
            .iter()
            // Those of the year are told with it.
            .filter(|point| !is_of_year(point))
            .filter(|point| point.verdict != Verdict::Holds || point.overridden.is_some())
            .collect();
        if open.is_empty() {
            return;
        }
        open.sort_by_key(|point| (point.overridden.is_some(), rank(point.verdict)));
        let most = LINES.saturating_sub(page.lines() + 3 + below).min(POINTS);
        if most > 0 {
            page.heading(&self.speaker.word("heading.findings"));
        }
        let room = |key| columns(&self.speaker.word(verdict_key(key)));
        let widest = [Verdict::Fails, Verdict::Unknown, Verdict::Caution]
            .map(room)
            .into_iter()
            .max()
            .unwrap_or(0);
        for point in open.iter().take(most) {
            self.point(page, point, widest + 2);
        }
        let more = report.findings.len() - open.len().min(most);
        if more > 0 {
            page.quiet(&format!("+{more} {}", self.speaker.word("hint.points")), 2, 4);
        }
    }

    /// What somebody noted, where one screen has room for it; `below`: lines that are to follow.
    pub(super) fn noted(&self, page: &mut Page, report: &Report, below: usize) {
        if report.notes.is_empty() {
            return;
        }
        let mut noted = Page::new(page.width());
        let heading = self.speaker.word("heading.noted");
        noted.blank();
        noted.at_most(EACH, &format!("{heading}: {}", report.notes.join("; ")), 0, 2);
        if page.lines() + noted.lines() + below <= LINES {
            page.add(&noted);
        }
    }

    /// Verdict, what, figure against limit, and the name by which `why` knows it where there is room for it.
    fn point(&self, page: &mut Page, point: &Finding, indent: usize) {
        let verdict = self.verdict(point.verdict);
        let gap = " ".repeat(indent.saturating_sub(columns(&verdict)));
        let likely = |figure| self.speaker.likely(figure);
        let figure =
            point.figure.map_or_else(String::new, |figure| format!(": {}", likely(figure)));
        // A limit may be a word: that no length is allowed.
        let in_words = match point.message.values.get("limit") {
            Some(Value::Word(word)) => format!(", {}", self.speaker.word(word)),
            _ => String::new(),
        };
        let limit = point.limit.map_or(in_words, |limit| {
            format!(", {} {}", self.speaker.word("limit"), likely(limit))
        });
        let said = format!("{}{figure}{limit}", self.speaker.word(point.id.title()));
        let name = format!("{}/{}", point.id, point.subject);
        let taken = 2 + indent + columns(&said);
        let space = page.width().saturating_sub(taken + columns(&name));
        let name =
            if space < 2 { String::new() } else { format!("{}{}", " ".repeat(space), dim(&name)) };
        page.line(&format!("  {verdict}{gap}{said}{name}"));
    }

    /// What can hurt somebody, in a few words each, and who decides.
    pub(super) fn mind(&self, page: &mut Page, report: &Report) {
        let hazards: Vec<String> = report
            .cautions
            .iter()
            .filter_map(|caution| self.speaker.known(&format!("mind.{}", caution.message.key)))
            .collect();
        page.blank();
        let (mind, decide) = (self.speaker.word("mind"), self.speaker.word("mind.who-decides"));
        page.wrapped(&format!("{mind} {}. {decide}", hazards.join(", ")), 0, 2);
    }
}
