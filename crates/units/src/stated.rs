//! Where a value comes from.

use std::fmt;
use std::str::FromStr;

use crate::choice::Category;
use crate::error::ParseError;

/// Who vouches for a value. Written `measured`, `label`, `assumed`, `written`, `rule book`,
/// `default`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Origin {
    /// Read off a tape, a meter or the thing itself.
    Measured,
    /// Printed on a label or in a data sheet.
    Label,
    /// Thought likely by the person who wrote it down.
    Assumed,
    /// Written down without a word on how it was found.
    Written,
    /// Laid down by a rule book.
    RuleBook,
    /// Filled in because nothing was said.
    Default,
}

impl Category for Origin {
    const NAME: &'static str = "origin";
    const ALL: &'static [Self] =
        &[Self::Measured, Self::Label, Self::Assumed, Self::Written, Self::RuleBook, Self::Default];

    fn word(self) -> &'static str {
        match self {
            Self::Measured => "measured",
            Self::Label => "label",
            Self::Assumed => "assumed",
            Self::Written => "written",
            Self::RuleBook => "rule book",
            Self::Default => "default",
        }
    }
}

impl FromStr for Origin {
    type Err = ParseError;
    fn from_str(text: &str) -> Result<Self, ParseError> {
        Self::parse_word(text)
    }
}

impl fmt::Display for Origin {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.word())
    }
}

/// A value with what is known about it.
#[derive(Clone, Debug, PartialEq)]
pub struct Stated<T> {
    /// The value.
    pub value: T,
    /// Who vouches for it.
    pub origin: Origin,
    /// When it was read, as written (`2026-03-14`).
    pub date: Option<String>,
    /// The name of a photo that shows it.
    pub photo: Option<String>,
    /// Anything else worth keeping.
    pub note: Option<String>,
}

impl<T> Stated<T> {
    /// A value with its origin and nothing more.
    pub const fn new(value: T, origin: Origin) -> Self {
        Self { value, origin, date: None, photo: None, note: None }
    }

    /// The same statement about a value made from this one.
    pub fn map<U>(self, change: impl FnOnce(T) -> U) -> Stated<U> {
        let Self { value, origin, date, photo, note } = self;
        Stated { value: change(value), origin, date, photo, note }
    }

    /// The same statement, with the value borrowed.
    pub fn as_ref(&self) -> Stated<&T> {
        Stated {
            value: &self.value,
            origin: self.origin,
            date: self.date.clone(),
            photo: self.photo.clone(),
            note: self.note.clone(),
        }
    }
}
