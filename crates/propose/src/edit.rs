//! What is proposed, as a change to the job.

use dewpath_job::patch::Patch;
use dewpath_report::{PatchText, SetText};
use dewpath_units::{Choice, Length, Origin, Stated, Uncertain};

/// A length as a proposal says it: to a tenth of a millimetre, which is exact for tape and metre alike.
pub(crate) fn length(metres: f64) -> Length {
    Length::from_mm((metres * 1e4).round() / 10.0)
}

/// A value that is proposed, as a job states it.
pub(crate) fn exact<T>(value: T) -> Stated<Uncertain<T>> {
    Stated::new(Uncertain::Exact(value), Origin::Written)
}

/// A word, a size or a place that is proposed, as a job states it.
pub(crate) fn known<C>(value: C) -> Stated<Choice<C>> {
    Stated::new(Choice::Known(value), Origin::Written)
}

/// A patch as a report tells it.
pub(crate) fn told(Patch { set, remove }: Patch) -> PatchText {
    let set = set.into_iter().map(|set| SetText { at: set.at, value: set.value });
    PatchText { set: set.collect(), remove }
}
