//! What is wrong with a book or an amendment, where, and how to go on.

use std::fmt;
use std::ops::Range;

/// A mistake in the text of a book or an amendment.
#[derive(Clone, Debug, PartialEq, Eq)]
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
    pub message: String,
    /// What to do about it.
    pub hint: String,
}

impl fmt::Display for BookError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.line == 0 {
            write!(f, "rule book `{}`: {}; {}", self.book, self.message, self.hint)
        } else {
            write!(
                f,
                "rule book `{}`, line {}, column {}: {}; {}",
                self.book, self.line, self.column, self.message, self.hint
            )
        }
    }
}

impl std::error::Error for BookError {}

impl BookError {
    pub(crate) fn nowhere(book: &str, message: String, hint: String) -> Self {
        Self { book: book.to_owned(), line: 0, column: 0, span: 0..0, message, hint }
    }

    pub(crate) fn at(
        book: &str,
        text: &str,
        span: Range<usize>,
        message: impl Into<String>,
        hint: impl Into<String>,
    ) -> Self {
        let before = text.get(..span.start).unwrap_or(text);
        let line = before.matches('\n').count() + 1;
        let column = before.rsplit('\n').next().unwrap_or_default().chars().count() + 1;
        Self {
            book: book.to_owned(),
            line,
            column,
            span,
            message: message.into(),
            hint: hint.into(),
        }
    }
}
