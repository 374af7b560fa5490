//! The language of the answers.

use std::cell::RefCell;
use std::sync::Arc;

use dewpath_words::{Catalogue, Speaker};

thread_local! {
    /// The texts that answers are put into; keys stand for them until some are handed over.
    static LANGUAGE: RefCell<Arc<Catalogue>> = RefCell::default();
}

/// Takes the texts of a language, and gives its name. Of several catalogues a later one is laid over those before it.
pub(crate) fn speak(catalogues: &[String]) -> String {
    let over = |below: Catalogue, text: &String| Catalogue::read(text).over(&below);
    let language = catalogues.iter().fold(Catalogue::default(), over);
    let name = language.text("language.name").unwrap_or_default().to_owned();
    LANGUAGE.set(Arc::new(language));
    name
}

/// Tells what is wrong of a file, which names values as they are written: the same in all units.
pub(crate) fn told() -> Speaker {
    speaker("")
}

/// Speaks in the units of `show = "us"` or `"metric"`.
pub(crate) fn speaker(show: &str) -> Speaker {
    Speaker::new(LANGUAGE.with_borrow(Arc::clone), show)
}
