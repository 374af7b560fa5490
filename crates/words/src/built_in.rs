//! The languages that are built in.

use crate::catalogue::Catalogue;

/// Files of a language, joined.
macro_rules! files {
    ($language:literal: $($topic:literal)+) => {
        concat!($(include_str!(concat!("../catalogue/", $language, "/", $topic, ".txt")), "\n"),+)
    };
}

/// English, which has a text for every key.
const ENGLISH: &str = files!("en":
    "language" "air" "duct" "terminal" "fan" "room" "house" "year" "dry" "place" "way" "cut"
    "evidence" "todo" "working" "equation" "source" "caution" "brief" "check" "words" "drawing" "page"
    "sheet" "cli" "job" "help" "rulebook" "folder" "question");

/// Spanish, as far as it goes.
const SPANISH: &str = files!("es":
    "language" "air" "duct" "terminal" "fan" "room" "house" "year" "dry" "place" "way" "cut"
    "evidence" "todo" "working" "source" "caution" "brief" "check" "words" "page"
    "sheet" "cli" "job" "help" "folder" "question");

/// Every language that is built in, by its code.
pub const LANGUAGES: [&str; 2] = ["en", "es"];

impl Catalogue {
    /// English.
    pub fn english() -> Self {
        Self::read(ENGLISH)
    }

    /// The language of a code, over English; none where it is not built in.
    pub fn built_in(code: &str) -> Option<Self> {
        match code {
            "en" => Some(Self::english()),
            "es" => Some(Self::read(SPANISH).over(&Self::english())),
            _ => None,
        }
    }
}
