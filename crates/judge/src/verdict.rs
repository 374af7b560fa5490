//! From a chance or a comparison to a verdict.

use dewpath_job::model::Settings;
use dewpath_report::say::TodoConfirmInBook;
use dewpath_report::{Message, Source, Standing, Verdict};

/// A check that is met or not, by a source that may be too weak to say so on its own.
pub fn judged(holds: bool, broken: Verdict, source: &Source) -> Verdict {
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

/// Whether a check is met, where its chance says so one way or the other.
pub fn settled(chance: f64, s: &Settings) -> Option<bool> {
    if chance >= s.holds_at {
        Some(true)
    } else if chance <= s.fails_at {
        Some(false)
    } else {
        None
    }
}

/// A check by the chance that it is met.
pub(crate) fn by_chance(chance: f64, broken: Verdict, source: &Source, s: &Settings) -> Verdict {
    settled(chance, s).map_or(Verdict::Unknown, |holds| judged(holds, broken, source))
}

/// A figure that is only remembered is known within this factor. Judgement.
pub(crate) const REMEMBERED: f64 = 2.0;

/// A check against a figure, by the chance that it is met where that figure is so many times as strict. What is met by far holds although the
/// figure is only remembered; that something is broken is never told by memory.
pub(crate) fn by_chance_at(
    chance: impl Fn(f64) -> f64,
    broken: Verdict,
    source: &Source,
    s: &Settings,
) -> Verdict {
    let is_remembered = source.standing == Standing::FromMemory;
    if is_remembered && settled(chance(REMEMBERED), s) == Some(true) {
        return Verdict::Holds;
    }
    by_chance(chance(1.0), broken, source, s)
}

/// A point that the book leaves open because it is only recorded from memory.
pub(crate) fn confirm_source(source: &Source, verdict: Verdict) -> Option<Message> {
    (verdict == Verdict::Unknown && source.standing == Standing::FromMemory).then(|| {
        Message::from(TodoConfirmInBook {
            section: source.section.clone(),
            book: source.book.clone(),
        })
    })
}
