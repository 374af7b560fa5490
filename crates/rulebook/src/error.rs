//! What is wrong with a book or an amendment, where, and how to go on.

use std::fmt;
use std::ops::Range;

use dewpath_message::slot::{Count, Name, Reference};
use dewpath_message::{Message, Speak, Triple};

use crate::say::InBook;

/// A mistake in the text of a book or an amendment.
#[derive(Clone, Debug, PartialEq)]
pub struct BookError {
    /// Id of the book or name of the amendment, as far as it is known.
    pub book: String,
    /// Line, counted from 1; 0 where the mistake is not in a text (an id that no book has).
    pub line: usize,
    /// Column in characters, counted from 1; 0 as for the line.
    pub column: usize,
    /// The bytes that are wrong.
    pub span: Range<usize>,
    /// What is wrong.
    pub message: Box<Message>,
    /// What to do about it.
    pub hint: Box<Message>,
}

/// For developers; people are told what [`BookError::told`] gives.
impl fmt::Display for BookError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { book, line, column, message, hint, .. } = self;
        write!(f, "{book}:{line}:{column}: {message}; {hint}")
    }
}

impl std::error::Error for BookError {}

impl BookError {
    /// The whole in one line, in the language of a speaker.
    pub fn told(&self, speaker: &dyn Speak) -> String {
        let place = |number: usize| {
            let count = Count(Triple::exact(number as f64));
            (self.line > 0).then_some(count)
        };
        let whole = InBook {
            book: Name::new(&self.book),
            line: place(self.line),
            column: place(self.column),
            message: Reference::new(speaker.say(&self.message)),
            hint: Reference::new(speaker.say(&self.hint)),
        };
        speaker.say(&whole.into())
    }

    pub(crate) fn nowhere(
        book: &str,
        message: impl Into<Message>,
        hint: impl Into<Message>,
    ) -> Self {
        let (message, hint) = (Box::new(message.into()), Box::new(hint.into()));
        Self { book: book.to_owned(), line: 0, column: 0, span: 0..0, message, hint }
    }

    pub(crate) fn at(
        book: &str,
        text: &str,
        span: Range<usize>,
        message: impl Into<Message>,
        hint: impl Into<Message>,
    ) -> Self {
        let before = text.get(..span.start).unwrap_or(text);
        let line = before.matches('\n').count() + 1;
        let column = before.rsplit('\n').next().unwrap_or_default().chars().count() + 1;
        Self {
            book: book.to_owned(),
            line,
            column,
            span,
            message: Box::new(message.into()),
            hint: Box::new(hint.into()),
        }
    }
}
