//! Small helpers to write findings.

use dewpath_job::model::Settings;

use crate::report::{
    Figure, Finding, Message, Provenance, Source, Standing, Step, Verdict, WorkingInput,
};

impl Finding {
    /// A finding with its sentence; everything else is added by the methods below.
    pub(crate) fn new(
        id: &str,
        subject: &str,
        verdict: Verdict,
        message: Message,
        source: Source,
    ) -> Self {
        Self {
            id: id.to_owned(),
            subject: subject.to_owned(),
            verdict,
            message,
            figure: None,
            limit: None,
            chance: None,
            source,
            working: Vec::new(),
            todo: Vec::new(),
            overridden: None,
        }
    }

    pub(crate) fn figure(mut self, figure: Figure) -> Self {
        self.figure = Some(figure);
        self
    }

    pub(crate) fn limit(mut self, limit: Figure) -> Self {
        self.limit = Some(limit);
        self
    }

    pub(crate) fn chance(mut self, chance: f64) -> Self {
        self.chance = Some(chance);
        self
    }

    pub(crate) fn step(mut self, step: Step) -> Self {
        self.working.push(step);
        self
    }

    pub(crate) fn todo(mut self, todo: Message) -> Self {
        self.todo.push(todo);
        self
    }
}

impl WorkingInput {
    /// An input of a working by its symbol.
    pub(crate) fn new(symbol: &str, what: &str, figure: Figure, from: Provenance) -> Self {
        Self { symbol: symbol.to_owned(), what: Message::new(what), figure, from }
    }
}

/// A check that is met or not, by a source that may be too weak to say so on its own.
pub(crate) fn judged(holds: bool, broken: Verdict, source: &Source) -> Verdict {
    match (source.standing, holds) {
        (Standing::FromMemory, _) => Verdict::Unknown,
        (_, true) => Verdict::Holds,
        (Standing::Confirmed, false) => broken,
        // Practice and judgement break no rule.
        (Standing::CommonPractice | Standing::Judgement, false) => Verdict::Caution,
    }
}

/// Chance that a value spread evenly over its bounds is at least a limit.
pub(crate) fn chance_at_least((low, high): (f64, f64), limit: f64) -> f64 {
    let slack = 1e-6 * limit.abs();
    if low >= limit - slack {
        1.0
    } else if high < limit - slack {
        0.0
    } else {
        (high - limit) / (high - low)
    }
}

/// Chance that a value spread evenly over its bounds is at most a limit.
pub(crate) fn chance_at_most(bounds: (f64, f64), limit: f64) -> f64 {
    chance_at_least((-bounds.1, -bounds.0), -limit)
}

/// A check by the chance that it is met.
pub(crate) fn by_chance(chance: f64, broken: Verdict, source: &Source, s: &Settings) -> Verdict {
    if chance >= s.holds_at {
        judged(true, broken, source)
    } else if chance <= s.fails_at {
        judged(false, broken, source)
    } else {
        Verdict::Unknown
    }
}
