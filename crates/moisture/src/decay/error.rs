//! Why a record tells no rate.

use dewpath_air::domain::OutOfDomain;

/// Why a record tells no rate.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum DecayError {
    /// Too few points are left to fit.
    #[error(
        "{found} usable points, {needed} are needed: log at shorter intervals, or take a longer part of the record"
    )]
    TooFewPoints {
        /// Points that can be used.
        found: usize,
        /// Points that the fit needs.
        needed: usize,
    },
    /// A time or a humidity is not a number, or a humidity is negative.
    #[error("point {index} of the record is not a usable number: leave it out")]
    NotANumber {
        /// Number of the point, from 0.
        index: usize,
    },
    /// A point is not later than the one before.
    #[error(
        "point {index} of the record is not later than the one before: sort by time and drop repeats"
    )]
    TimeNotRising {
        /// Number of the point, from 0.
        index: usize,
    },
    /// Two series that belong together are not of one length.
    #[error(
        "{readings} readings but {others} values beside them: they must belong together one by one"
    )]
    LengthsDiffer {
        /// Length of the record.
        readings: usize,
        /// Length of the series beside it.
        others: usize,
    },
    /// No curve of the kind asked for fits better than its neighbours, or its parts cannot be told apart.
    #[error(
        "the record does not determine {what}: take a longer part of it, or measure the background beside it"
    )]
    Undetermined {
        /// What cannot be told.
        what: &'static str,
    },
    /// A value is outside the range where it means anything.
    #[error(transparent)]
    OutOfDomain(#[from] OutOfDomain),
}
