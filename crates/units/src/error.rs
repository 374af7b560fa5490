//! What went wrong while reading a written quantity, where, and how to go on.

use std::fmt;
use std::ops::Range;

/// The sort of mistake, for callers that react to it; people read the message and the hint.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum ErrorKind {
    /// Nothing but blanks.
    Empty,
    /// Longer than any quantity is ever written.
    TooLong,
    /// A number should stand here and does not.
    NoNumber,
    /// Something that starts like a number but is none, such as `4/0` or `1,25,000`.
    BadNumber,
    /// A comma where a decimal point may have been meant.
    DecimalComma,
    /// A number without its unit.
    MissingUnit,
    /// A word after the number that is no unit.
    UnknownUnit,
    /// A good quantity of another kind, such as an airflow where a length belongs.
    WrongKind,
    /// Two units together that do not make one quantity, such as `5 ft 14 in`.
    BadCompound,
    /// Words after the end of a complete quantity.
    Trailing,
    /// A value that cannot be, such as a negative length or 120 % humidity.
    OutOfRange,
    /// A number too large to be meant.
    TooLarge,
    /// A range that starts above its end.
    ReversedRange,
    /// A length that does not fall on a whole nanometre.
    NotExact,
    /// A word that is none of the choices.
    UnknownWord,
}

/// A reading error that points at bytes of the text.
///
/// `span` always lies on character boundaries of the text that was read, so that slicing with it
/// cannot panic; it may be empty (at the end of the text) when something is missing.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ParseError {
    /// The sort of mistake.
    pub kind: ErrorKind,
    /// The bytes of the text that are wrong.
    pub span: Range<usize>,
    /// What is wrong.
    pub message: String,
    /// What to write instead.
    pub hint: String,
}

impl ParseError {
    pub(crate) fn new(
        kind: ErrorKind,
        span: Range<usize>,
        message: impl Into<String>,
        hint: impl Into<String>,
    ) -> Self {
        Self { kind, span, message: message.into(), hint: hint.into() }
    }
}

impl fmt::Display for ParseError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}; {}", self.message, self.hint)
    }
}

impl std::error::Error for ParseError {}
