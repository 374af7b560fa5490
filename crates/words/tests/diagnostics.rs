//! What is told of a file that is not right, in a language: its texts where it has them, English where it has none, never a key.
#![allow(clippy::unwrap_used, reason = "tests")]

use std::sync::Arc;

use dewpath_message::Speak as _;
use dewpath_units::Kind;
use dewpath_words::{Catalogue, Speaker};

fn spanish() -> Speaker {
    Speaker::new(Arc::new(Catalogue::built_in("es").unwrap()), "metric")
}

/// Two mistakes that Spanish has words for, and one that it has none for.
const WRONG: &str = r#"format = 1
show = "us"
[room]
kind = "bathroom"
widht = "5 ft"
length = 9
[fan]
rotation = "80 deg"
curve = ["80 cfm at 3 Pa"]
"#;

#[test]
fn a_wrong_job_is_told_in_spanish_where_there_are_words_and_else_in_english() {
    let told = dewpath_job::read("bath.toml", WRONG).unwrap_err();
    let text = told.render(&spanish(), 100, false);
    for part in [
        "`widht` no es una clave de [[room]]",
        "¿quería decir `width`?",
        "`room.room.length` es una longitud: a `9` le falta la unidad",
        "ayuda: por ejemplo: length = ",
        "`fan.fan.curve` needs at least two points",
    ] {
        assert!(text.contains(part), "`{part}` is missing:\n{text}");
    }
    assert!(!text.contains("job."), "a key is told:\n{text}");
}

#[test]
fn a_wrong_book_is_told_in_english_where_there_are_no_other_words() {
    let error = dewpath_rulebook::load("us-irc-2012").unwrap_err();
    let text = error.told(&spanish());
    assert_eq!(text, error.told(&Speaker::us()));
    assert!(
        text.starts_with("rule book `us-irc-2012`: there is no such book; did you mean `us-irc-20"),
        "{text}"
    );
}

#[test]
fn every_kind_of_quantity_has_the_name_that_units_gives_it() {
    for kind in Kind::ALL {
        let key = format!("kind.{}", kind.name().replace(' ', "-"));
        assert_eq!(Speaker::us().word(&key), kind.article_name());
    }
}

#[test]
fn what_is_told_begins_small() {
    let told = dewpath_job::read("bath.toml", "[[ro").unwrap_err();
    let first = Speaker::us().say(&told.list[0].message);
    assert_eq!(first.chars().next().map(char::is_lowercase), Some(true), "{first}");
}
