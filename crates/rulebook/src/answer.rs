//! What a book answers with: a value and where it is written, or that the book does not say.

/// How sure the recorded value is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Standing {
    /// Recorded without the published text at hand; a verdict must not rest on it alone.
    FromMemory,
    /// Read in a published text.
    Confirmed,
}

impl Standing {
    /// The words used in the data files.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Confirmed => "confirmed",
            Self::FromMemory => "from memory",
        }
    }

    /// The standing of something that rests on both: the weaker one.
    #[must_use]
    pub fn and(self, other: Self) -> Self {
        self.min(other)
    }

    pub(crate) fn from_word(word: &str) -> Option<Self> {
        [Self::Confirmed, Self::FromMemory].into_iter().find(|standing| standing.word() == word)
    }
}

/// Where a value stands.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Source {
    pub(crate) section: String,
    pub(crate) standing: Standing,
    pub(crate) note: Option<String>,
    /// The amendment that put it there, if any.
    pub(crate) amendment: Option<String>,
}

/// A value with the place it stands in.
#[derive(Clone, Debug, PartialEq)]
pub struct Ruled<T> {
    /// The value.
    pub value: T,
    /// Section, table or equation of the book.
    pub section: String,
    /// How sure the recorded value is.
    pub standing: Standing,
    /// Title of the book; an amended value names the amendment too.
    pub book: String,
    /// What a reader should know beside the number.
    pub note: Option<String>,
}

impl<T> Ruled<T> {
    /// The same place with another value.
    pub fn with<U>(&self, value: U) -> Ruled<U> {
        Ruled {
            value,
            section: self.section.clone(),
            standing: self.standing,
            book: self.book.clone(),
            note: self.note.clone(),
        }
    }

    /// The value changed, the place kept.
    pub fn map<U>(self, change: impl FnOnce(T) -> U) -> Ruled<U> {
        Ruled {
            value: change(self.value),
            section: self.section,
            standing: self.standing,
            book: self.book,
            note: self.note,
        }
    }

    /// Whether a verdict may rest on it alone.
    pub fn is_confirmed(&self) -> bool {
        self.standing == Standing::Confirmed
    }
}

/// What a book says to one question.
#[derive(Clone, Debug, PartialEq)]
pub enum Answer<T> {
    /// The book says so.
    Known(Ruled<T>),
    /// The book holds no value for the question; nothing is taken from elsewhere.
    NotInBook {
        /// Key of the question, such as `sound.intermittent`.
        question: String,
    },
}

impl<T> Answer<T> {
    /// The value with its place, if the book has one.
    pub fn known(&self) -> Option<&Ruled<T>> {
        match self {
            Self::Known(ruled) => Some(ruled),
            Self::NotInBook { .. } => None,
        }
    }

    /// The bare value, if the book has one.
    pub fn value(&self) -> Option<&T> {
        self.known().map(|ruled| &ruled.value)
    }

    /// As [`Answer::known`], by value.
    pub fn into_known(self) -> Option<Ruled<T>> {
        match self {
            Self::Known(ruled) => Some(ruled),
            Self::NotInBook { .. } => None,
        }
    }

    /// The value changed, the place kept.
    pub fn map<U>(self, change: impl FnOnce(T) -> U) -> Answer<U> {
        match self {
            Self::Known(ruled) => Answer::Known(ruled.map(change)),
            Self::NotInBook { question } => Answer::NotInBook { question },
        }
    }

    pub(crate) fn missing(question: impl Into<String>) -> Self {
        Self::NotInBook { question: question.into() }
    }
}
