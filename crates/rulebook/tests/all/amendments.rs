//! Local amendments over a book, and what is said of files that cannot be read.

use std::sync::LazyLock;

use dewpath_message::{Message, Speak as _};
use dewpath_rulebook::{
    Amendment, Answer, Book, BookError, ClearOf, DuctKind, Limit, Operation, RoomKind, RoomUse,
    Standing, load,
};
use dewpath_units::{Airflow, Length};
use dewpath_words::Speaker;
use proptest::prelude::*;

static ENGLISH: LazyLock<Speaker> = LazyLock::new(Speaker::us);

fn english(message: &Message) -> String {
    ENGLISH.say(message)
}

const LOCAL: &str = r#"
format = 1
amends = "us-irc-2021"
name = "Harlow Falls ordinance 14"

[airflow.bathroom]
intermittent = { value = "80 cfm", section = "14-3(b)", standing = "confirmed" }

[sound]
intermittent = { value = "2 sone", section = "14-4", standing = "confirmed", note = "At the speed that is used." }

[terminal]
to_property_line = { removed = true, section = "14-6" }

[[duct_table_cell]]
duct = "smooth"
diameter = "4 in"
airflow = "80 cfm"
limit = "25 ft"
section = "14-5"
standing = "confirmed"
"#;

fn intermittent_bath() -> RoomUse {
    RoomUse { operation: Some(Operation::Intermittent), ..RoomUse::new(RoomKind::Bathroom) }
}

fn smooth_4_in(book: &Book, cfm: f64) -> Answer<Limit> {
    let length = Length::from_inches(4.0);
    book.duct_length(DuctKind::Smooth, length, Airflow::from_cfm(cfm), 0).map(|found| found.limit)
}

fn most_feet(answer: &Answer<Limit>) -> f64 {
    match answer.value() {
        Some(Limit::Max(most)) => most.feet(),
        other => panic!("{other:?}"),
    }
}

#[test]
fn an_amendment_replaces_adds_and_removes_single_values() {
    let model = load("us-irc-2021").unwrap();
    let local = model.amended_by(&Amendment::parse(LOCAL).unwrap()).unwrap();

    let bath = local.governing_airflow(&intermittent_bath());
    let ruled = bath.known().unwrap();
    assert!((ruled.value.cfm() - 80.0).abs() < 1e-9);
    assert_eq!(ruled.section, "14-3(b)");
    assert!(ruled.book.ends_with("amended by Harlow Falls ordinance 14"), "{}", ruled.book);

    let sound = local.sound_limit(Operation::Intermittent);
    assert!((sound.value().unwrap().sone() - 2.0).abs() < 1e-12);
    assert_eq!(model.sound_limit(Operation::Intermittent).value(), None);

    assert_eq!(local.clearance(ClearOf::PropertyLine).value(), None);
    assert!(model.clearance(ClearOf::PropertyLine).value().is_some());

    // One cell changed, with its own section; its neighbour kept.
    let cell = smooth_4_in(&local, 80.0);
    assert!((most_feet(&cell) - 25.0).abs() < 1e-9);
    assert_eq!(cell.known().unwrap().section, "14-5");
    let neighbour = smooth_4_in(&local, 50.0);
    assert!((most_feet(&neighbour) - 114.0).abs() < 1e-9);
    let kept = neighbour.known().unwrap();
    assert_eq!((kept.section.as_str(), kept.book.as_str()), ("Table M1504.2", model.title()));

    assert_eq!(local.amendments(), ["Harlow Falls ordinance 14"]);
    assert!(model.amendments().is_empty());
}

#[test]
fn the_hash_text_changes_with_every_amendment_and_only_then() {
    let model = load("us-irc-2021").unwrap();
    assert_eq!(model.hash_text(), load("us-irc-2021").unwrap().hash_text());
    assert_ne!(model.hash_text(), load("us-irc-2024").unwrap().hash_text());
    let amendment = Amendment::parse(LOCAL).unwrap();
    assert_eq!(
        (amendment.name(), amendment.amends()),
        ("Harlow Falls ordinance 14", "us-irc-2021")
    );
    let local = model.amended_by(&amendment).unwrap();
    assert_ne!(model.hash_text(), local.hash_text());
    let longer = LOCAL.replace("25 ft", "26 ft");
    let other = model.amended_by(&Amendment::parse(&longer).unwrap()).unwrap();
    assert_ne!(local.hash_text(), other.hash_text());
}

#[test]
fn later_amendments_win() {
    let model = load("us-irc-2021").unwrap();
    let second = LOCAL.replace("80 cfm\", section = \"14-3(b)\"", "70 cfm\", section = \"15-1\"");
    let second = second.replace("ordinance 14", "ordinance 15");
    let both = model
        .amended_by(&Amendment::parse(LOCAL).unwrap())
        .unwrap()
        .amended_by(&Amendment::parse(&second).unwrap())
        .unwrap();
    let bath = both.governing_airflow(&intermittent_bath());
    assert!((bath.value().unwrap().cfm() - 70.0).abs() < 1e-9);
    assert_eq!(both.amendments().len(), 2);
}

#[test]
fn a_table_can_be_removed_or_replaced_whole() {
    let model = load("us-irc-2021").unwrap();
    let without = "format = 1\namends = \"us-irc-2021\"\nname = \"a\"\n[duct_table]\nremoved = true\nsection = \"M1504.2\"\n";
    let book = model.amended_by(&Amendment::parse(without).unwrap()).unwrap();
    assert_eq!(smooth_4_in(&book, 80.0).value(), None);
    let whole = r#"
format = 1
amends = "us-irc-2021"
name = "b"
[duct_table]
section = "9-1"
standing = "from memory"
rated_at = "0.2 inWC"
airflows = ["80 cfm"]
elbow_deduction = "12 ft"
elbows_free = 1
flex = { "4 in" = ["not allowed"] }
smooth = { "4 in" = ["20 ft"] }
"#;
    let falling = whole.replace("[\"80 cfm\"]", "[\"80 cfm\", \"50 cfm\"]");
    let error = Amendment::parse(&falling).unwrap_err();
    assert!(english(&error.message).contains("must rise"), "{error}");
    let short = whole.replace("[\"80 cfm\"]", "[\"80 cfm\", \"90 cfm\"]");
    let error = Amendment::parse(&short).unwrap_err();
    assert!(english(&error.message).contains("has 1 cells, the table 2 airflows"), "{error}");
    let book = model.amended_by(&Amendment::parse(whole).unwrap()).unwrap();
    let limit = smooth_4_in(&book, 80.0);
    assert!((most_feet(&limit) - 20.0).abs() < 1e-9);
    assert_eq!(limit.known().unwrap().standing, Standing::FromMemory);
}

#[test]
fn an_amendment_fits_its_own_book_only() {
    let amendment = Amendment::parse(LOCAL).unwrap();
    let error = load("us-irc-2024").unwrap().amended_by(&amendment).unwrap_err();
    assert!(english(&error.message).contains("amends `us-irc-2021`"), "{error}");
    assert_eq!((error.line, error.column), (3, 10));
}

fn broken(from: &str, to: &str) -> BookError {
    let text = LOCAL.replacen(from, to, 1);
    assert_ne!(text, LOCAL, "`{from}` is not in the text");
    Amendment::parse(&text).unwrap_err()
}

#[test]
fn mistakes_are_named_with_their_place_and_a_way_out() {
    let table = [
        (
            "intermittent = { value = \"80 cfm\"",
            "intermitent = { value = \"80 cfm\"",
            "intermitent",
            7,
            "airflow.bathroom.intermittent",
        ),
        ("\"80 cfm\", section", "\"80 ft\", section", "cannot be read", 7, "80 cfm"),
        ("[sound]", "[sonud]", "sonud", 9, ""),
        ("section = \"14-4\", ", "", "`section` is missing", 10, "section"),
        ("standing = \"confirmed\" }", "standing = \"sure\" }", "no standing", 7, "from memory"),
        ("format = 1", "format = 2", "format number", 2, "format = 1"),
        ("format = 1", "", "format number is missing", 1, "format = 1"),
        ("note = \"At", "remark = \"At", "remark", 10, "note"),
        ("removed = true", "removed = false", "can only be true", 13, "leave it out"),
        (
            "removed = true",
            "removed = true, value = \"3 ft\"",
            "removed and has a value",
            13,
            "one of the two",
        ),
        ("duct = \"smooth\"", "duct = \"smoth\"", "smoth", 16, "smooth"),
        ("limit = \"25 ft\"", "limit = \"long\"", "cell", 19, "not allowed"),
        ("name =", "nmae =", "nmae", 4, "name"),
        ("[terminal]", "[terminal", "", 12, "TOML"),
        ("amends = \"us-irc-2021\"", "", "`amends` is missing", 1, "amends"),
    ];
    for (from, to, message, line, hint) in table {
        let error = broken(from, to);
        assert!(english(&error.message).contains(message), "{from} -> {to}: {error}");
        assert!(english(&error.hint).contains(hint), "{from} -> {to}: {error}");
        assert_eq!(error.line, line, "{from} -> {to}: {error}");
    }
}

#[test]
fn cells_that_the_table_does_not_have_are_refused() {
    let model = load("us-irc-2021").unwrap();
    let text = LOCAL.replace("airflow = \"80 cfm\"", "airflow = \"85 cfm\"");
    let error = model.amended_by(&Amendment::parse(&text).unwrap()).unwrap_err();
    assert!(english(&error.message).contains("no such row or column"), "{error}");
    assert!(error.line > 1, "{error}");
}

#[test]
fn a_book_of_the_users_own() {
    let text = r#"
format = 1
id = "own"
title = "Programme specification"
place = "Harlow Falls"
edition = "3"
kind = "guidance"
based_on = "us-irc-2021"
inherited = "from memory"
[airflow.laundry]
intermittent = { value = "100 cfm", section = "2.1", standing = "confirmed" }
"#;
    let book = Book::parse(text).unwrap();
    let laundry = RoomUse { kind: RoomKind::Laundry, ..intermittent_bath() };
    assert!((book.governing_airflow(&laundry).value().unwrap().cfm() - 100.0).abs() < 1e-9);
    // What it takes over is no surer than it says.
    let bath = book.governing_airflow(&intermittent_bath());
    assert_eq!(bath.known().unwrap().standing, Standing::FromMemory);
    assert_eq!(bath.known().unwrap().book, "Programme specification");

    let error = Book::parse(&text.replace("us-irc-2021", "us-irc-1999")).unwrap_err();
    assert!(english(&error.message).contains("no book `us-irc-1999`"), "{error}");
    assert_eq!(error.line, 8);
    let error = Book::parse(&text.replace("kind = \"guidance\"", "kind = \"law\"")).unwrap_err();
    assert!(english(&error.hint).contains("guidance"), "{error}");
}

#[test]
fn an_unknown_id_names_the_nearest() {
    let error = load("us-irc-2012").unwrap_err();
    assert!(english(&error.hint).contains("us-irc-20"), "{error}");
    assert_eq!(error.line, 0);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(512))]

    /// Whatever stands in a file, reading it ends with a book or an error that points into the text.
    #[test]
    fn no_text_panics(
        start in 0..LOCAL.len(),
        length in 0..40_usize,
        put in "[ -~\\n\u{e9}\u{4e2d}]{0,12}",
    ) {
        let end = (start + length).min(LOCAL.len());
        let text = format!("{}{put}{}", &LOCAL[..start], &LOCAL[end..]);
        match Amendment::parse(&text) {
            Ok(amendment) => {
                let _ = load("us-irc-2021").unwrap().amended_by(&amendment);
            }
            Err(error) => {
                prop_assert!(error.span.start <= text.len());
                prop_assert!(text.is_char_boundary(error.span.start.min(text.len())));
                prop_assert!(!english(&error.message).is_empty() && !english(&error.hint).is_empty());
            }
        }
        let _ = Book::parse(&text);
    }

    #[test]
    fn no_noise_panics(text in "\\PC{0,200}") {
        let _ = Amendment::parse(&text);
        let _ = Book::parse(&text);
    }
}
