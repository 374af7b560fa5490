//! The books that come with the program; each is read only when it is asked for.

use crate::book::Book;
use crate::error::BookError;

macro_rules! books {
    ($($id:literal),+ $(,)?) => {
        const IDS: &[&str] = &[$($id),+];
        const TEXTS: &[&str] = &[$(include_str!(concat!("../data/", $id, ".toml"))),+];
    };
}

books![
    "au-ncc-2022",
    "ca-nbc",
    "ca-on",
    "de-din-18017-3",
    "dk-br18",
    "gb-eng-adf-2021",
    "nl",
    "nz-g4",
    "pl",
    "trade-guideline",
    "us-ashrae-62.2",
    "us-irc-2018",
    "us-irc-2021",
    "us-irc-2024",
    "us-or-2021",
    "us-wa-2021",
];

/// Ids of the built-in books, in alphabetical order.
pub fn builtin_ids() -> &'static [&'static str] {
    IDS
}

pub(crate) fn text(id: &str) -> Option<&'static str> {
    let at = IDS.iter().position(|known| *known == id)?;
    TEXTS.get(at).copied()
}

/// Loads a built-in book, with everything it is based on.
///
/// # Errors
/// A [`BookError`] if there is no such book; its hint names the nearest one.
pub fn load(id: &str) -> Result<Book, BookError> {
    let Some(text) = text(id) else {
        let near = IDS.iter().max_by(|a, b| {
            let score = |known: &str| strsim::jaro_winkler(id, known);
            score(a).total_cmp(&score(b))
        });
        let hint =
            format!("did you mean `{}`? The books are {}", near.unwrap_or(&""), IDS.join(", "));
        return Err(BookError::nowhere(id, "there is no such book".to_owned(), hint));
    };
    Book::parse(text)
}
