//! Categories and yes/no questions that may be open.

use std::fmt;
use std::str::FromStr;

use crate::error::{ErrorKind, ParseError};
use crate::read;
use crate::uncertain::is_unknown_word;

/// A closed list of categories with the words people write for them.
///
/// ```
/// use dewpath_units::{Category, Choice};
///
/// #[derive(Clone, Copy, Debug, PartialEq)]
/// enum Wall { Smooth, Flex }
///
/// impl Category for Wall {
///     const NAME: &'static str = "duct wall";
///     const ALL: &'static [Self] = &[Self::Smooth, Self::Flex];
///     fn word(self) -> &'static str {
///         match self { Self::Smooth => "smooth", Self::Flex => "flex" }
///     }
/// }
///
/// assert_eq!("flex or smooth".parse(), Ok(Choice::OneOf(vec![Wall::Flex, Wall::Smooth])));
/// assert_eq!("felx".parse::<Choice<Wall>>().unwrap_err().hint, "write `smooth`, `flex` or `unknown`");
/// ```
pub trait Category: Copy + PartialEq + fmt::Debug + 'static {
    /// What is chosen, such as `duct wall`.
    const NAME: &'static str;
    /// All of them.
    const ALL: &'static [Self];
    /// The word that is printed; lower case, and never `unknown` or with ` or ` in it.
    fn word(self) -> &'static str;
    /// Other words that are read for it.
    fn also(self) -> &'static [&'static str] {
        &[]
    }

    /// Reads one word. Upper and lower case, blanks, hyphens and underscores do not matter.
    ///
    /// # Errors
    /// When it is none of the words; the hint lists them.
    fn parse_word(text: &str) -> Result<Self, ParseError> {
        let span =
            read::bounded(text, &format!("the {} is missing", Self::NAME), words_hint::<Self>)?;
        named(&text[span.clone()]).ok_or_else(|| no_such_word::<Self>(text, span))
    }
}

/// A category as well as it is known: `flex`, `flex or smooth`, `unknown`.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub enum Choice<C> {
    /// This one.
    Known(C),
    /// One of these, equally likely.
    OneOf(Vec<C>),
    /// Any.
    #[default]
    Unknown,
}

impl<C> Choice<C> {
    /// Whether nothing is known.
    pub const fn is_unknown(&self) -> bool {
        matches!(self, Self::Unknown)
    }

    /// The category, when it is known.
    pub fn known(self) -> Option<C> {
        match self {
            Self::Known(category) => Some(category),
            _ => None,
        }
    }
}

impl<C: Copy> Choice<C> {
    /// The options that are written down: one, several, or none when unknown.
    pub fn options(&self) -> &[C] {
        match self {
            Self::Known(category) => std::slice::from_ref(category),
            Self::OneOf(options) => options,
            Self::Unknown => &[],
        }
    }

    /// The option of a draw `u` from 0 to 1, all being equally likely; `None` when unknown or NaN.
    pub fn quantile(&self, u: f64) -> Option<C> {
        let options = self.options();
        if u.is_nan() || options.is_empty() {
            return None;
        }
        let index = (u.clamp(0.0, 1.0) * options.len() as f64).floor() as usize;
        options.get(index.min(options.len() - 1)).copied()
    }
}

impl<C: Category> Choice<C> {
    /// Reads one word, several joined by `or`, or `unknown`.
    ///
    /// # Errors
    /// When a word is none of the category's.
    pub fn parse(text: &str) -> Result<Self, ParseError> {
        let span = read::bounded(text, &format!("the {} is missing", C::NAME), words_hint::<C>)?;
        if is_unknown_word(&text[span.clone()]) {
            return Ok(Self::Unknown);
        }
        let mut options: Vec<C> = Vec::new();
        for (at, word) in or_parts(&text[span.clone()]) {
            let from = span.start + at;
            let option =
                named(word).ok_or_else(|| no_such_word::<C>(text, from..from + word.len()))?;
            if !options.contains(&option) {
                options.push(option);
            }
        }
        Ok(match options.as_slice() {
            [only] => Self::Known(*only),
            _ => Self::OneOf(options),
        })
    }

    /// Writes it so that it can be read back.
    pub fn print(&self) -> String {
        match self {
            Self::Unknown => "unknown".to_owned(),
            _ => self.options().iter().map(|c| c.word()).collect::<Vec<_>>().join(" or "),
        }
    }
}

impl<C: Category> FromStr for Choice<C> {
    type Err = ParseError;
    fn from_str(text: &str) -> Result<Self, ParseError> {
        Self::parse(text)
    }
}

impl<C: Category> fmt::Display for Choice<C> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.print())
    }
}

impl<C> From<C> for Choice<C> {
    fn from(category: C) -> Self {
        Self::Known(category)
    }
}

/// The parts between ` or `, without blanks, with the byte at which each starts.
fn or_parts(text: &str) -> Vec<(usize, &str)> {
    let mut parts = Vec::new();
    let mut from = 0;
    for (at, _) in text.match_indices(" or ") {
        // Overlapping blanks such as "a or  or b" leave an empty part, which is no word.
        if at >= from {
            parts.push(tight(text, from, at));
            from = at + " or ".len();
        }
    }
    parts.push(tight(text, from, text.len()));
    parts
}

fn tight(text: &str, from: usize, to: usize) -> (usize, &str) {
    let part = &text[from..to];
    (from + part.len() - part.trim_start().len(), part.trim())
}

fn named<C: Category>(text: &str) -> Option<C> {
    C::ALL
        .iter()
        .copied()
        .find(|c| same_word(c.word(), text) || c.also().iter().any(|w| same_word(w, text)))
}

/// Equal but for case, blanks, hyphens and underscores.
fn same_word(one: &str, other: &str) -> bool {
    let letters = |text: &str| -> String {
        text.chars()
            .filter(|c| !c.is_whitespace() && !matches!(c, '-' | '_'))
            .map(|c| c.to_ascii_lowercase())
            .collect()
    };
    letters(one) == letters(other)
}

fn no_such_word<C: Category>(text: &str, span: std::ops::Range<usize>) -> ParseError {
    let message = format!("`{}` is no {}", &text[span.clone()], C::NAME);
    ParseError::new(ErrorKind::UnknownWord, span, message, words_hint::<C>())
}

fn words_hint<C: Category>() -> String {
    let words = C::ALL.iter().map(|c| format!("`{}`", c.word())).collect::<Vec<_>>().join(", ");
    format!("write {words} or `unknown`")
}

/// The answer to a question that may be open. Written `yes`, `no` or `unknown`; `true` and `false`
/// are read too.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default)]
pub enum YesNo {
    /// Yes.
    Yes,
    /// No.
    No,
    /// Nobody has looked.
    #[default]
    Unknown,
}

impl YesNo {
    /// Whether nothing is known.
    pub const fn is_unknown(self) -> bool {
        matches!(self, Self::Unknown)
    }

    /// The answer, when it is known.
    pub const fn known(self) -> Option<bool> {
        match self {
            Self::Yes => Some(true),
            Self::No => Some(false),
            Self::Unknown => None,
        }
    }

    /// The word that is printed.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Yes => "yes",
            Self::No => "no",
            Self::Unknown => "unknown",
        }
    }

    /// Reads `yes`, `no`, `true`, `false` or `unknown`, in upper or lower case.
    ///
    /// # Errors
    /// For any other word.
    pub fn parse(text: &str) -> Result<Self, ParseError> {
        const HINT: &str = "write `yes`, `no` or `unknown`";
        let span = read::bounded(text, "an answer is missing", || HINT.to_owned())?;
        let word = &text[span.clone()];
        let is = |known: &str| word.eq_ignore_ascii_case(known);
        match () {
            () if is("yes") || is("true") => Ok(Self::Yes),
            () if is("no") || is("false") => Ok(Self::No),
            () if is_unknown_word(word) => Ok(Self::Unknown),
            () => Err(ParseError::new(
                ErrorKind::UnknownWord,
                span.clone(),
                format!("`{word}` is neither yes nor no"),
                HINT,
            )),
        }
    }
}

impl From<bool> for YesNo {
    fn from(answer: bool) -> Self {
        if answer { Self::Yes } else { Self::No }
    }
}

impl FromStr for YesNo {
    type Err = ParseError;
    fn from_str(text: &str) -> Result<Self, ParseError> {
        Self::parse(text)
    }
}

impl fmt::Display for YesNo {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.word())
    }
}
