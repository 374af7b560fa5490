//! Laws of air and moisture in a working: the equation and its source stand beside the law.

use dewpath_air::law::{Grounds, Law};
use dewpath_report::{Figure, Source, Step, WorkingInput};

/// A step of a working by a law.
pub(crate) fn step(law: &Law, inputs: Vec<WorkingInput>, result: Option<Figure>) -> Step {
    Step { equation: law.equation.into(), inputs, result, source: source(law) }
}

/// Where a law stands.
pub(crate) fn source(law: &Law) -> Source {
    match law.grounds {
        Grounds::Confirmed => Source::confirmed(law.book, law.section),
        Grounds::Memory => Source::memory(law.book, law.section),
        Grounds::Judgement => Source::judgement(law.book),
    }
}
