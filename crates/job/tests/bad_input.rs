//! What somebody sees who made a mistake: every mistake as it would be typed, with the whole text that
//! is shown for it. Read the snapshots as the contractor would: is it clear what to do?

use std::sync::LazyLock;

use dewpath_job::{Diagnostics, read};
use dewpath_words::Speaker;

static ENGLISH: LazyLock<Speaker> = LazyLock::new(Speaker::us);

/// A good job; each case replaces one line of it or adds to it.
const GOOD: &str = r#"format = 1
name = "Hall bath"
show = "us"
rule_book = "us-irc-2021"

[[room]]
id = "hall-bath"
kind = "bathroom"
length = "9 ft 4 in"
width = "5 ft"
height = "8 ft"

[[fan]]
id = "ceiling-fan"
room = "hall-bath"
rated = "80 cfm at 0.1 inWC"
outlet = "4 in"

[[run]]
id = "attic"
from = "ceiling-fan"
to = "gable"
duct = "flex"
size = "4 in"
length = "12 ft"
elbows = 2

[[terminal]]
id = "gable"
kind = "wall cap"
"#;

fn told(text: &str) -> String {
    match read("hall-bath.toml", text) {
        Ok(read) => read.warnings.render(&*ENGLISH, 100, false),
        Err(diagnostics) => {
            assert!(diagnostics.has_errors(), "an Err holds at least one error");
            diagnostics.render(&*ENGLISH, 100, false)
        }
    }
}

/// The good job with one text in place of another.
fn with(old: &str, new: &str) -> String {
    assert!(GOOD.contains(old), "the good job holds `{old}`");
    told(&GOOD.replacen(old, new, 1))
}

fn and(more: &str) -> String {
    told(&format!("{GOOD}{more}"))
}

#[test]
fn the_good_job_is_good() {
    let read = read("hall-bath.toml", GOOD).unwrap();
    assert!(read.warnings.is_empty(), "{}", read.warnings.render(&*ENGLISH, 100, false));
    assert_eq!(read.job.rooms[0].id, "hall-bath");
    assert_eq!(read.job.runs[0].to, "gable");
}

macro_rules! cases {
    ($($name:ident: $text:expr;)+) => {
        $(#[test] fn $name() { insta::assert_snapshot!(stringify!($name), $text); })+
    };
}

cases! {
    unknown_key_near: with("width = \"5 ft\"", "widht = \"5 ft\"");
    unknown_key_far: with("width = \"5 ft\"", "colour_of_tiles = \"white\"");
    unknown_key_of_another_table: with("elbows = 2", "outlet = \"4 in\"");
    top_key_below_a_section: and("show_this = true\nwork = \"swap\"\n");
    unknown_section: and("[[duct]]\nid = \"x\"\n");
    unit_missing: with("length = \"9 ft 4 in\"", "length = 9.4");
    unit_missing_in_quotes: with("length = \"12 ft\"", "length = \"12\"");
    wrong_kind_of_unit: with("width = \"5 ft\"", "width = \"80 cfm\"");
    unknown_unit: with("width = \"5 ft\"", "width = \"5 fet\"");
    quotes_missing: with("width = \"5 ft\"", "width = 5 ft");
    inch_mark_in_quotes: with("length = \"9 ft 4 in\"", "length = \"9' 4\"\"");
    bracket_not_closed: with("[[room]]", "[[room]");
    text_not_closed: with("name = \"Hall bath\"", "name = \"Hall bath");
    key_twice: with("width = \"5 ft\"", "width = \"5 ft\"\nwidth = \"6 ft\"");
    negative_length: with("length = \"12 ft\"", "length = \"-12 ft\"");
    room_of_nothing: with("width = \"5 ft\"", "width = \"0 ft\"");
    impossible_ceiling: with("height = \"8 ft\"", "height = \"400 ft\"");
    odd_ceiling: with("height = \"8 ft\"", "height = \"22 ft\"");
    reversed_range: with("length = \"12 ft\"", "length = \"12..8 ft\"");
    range_as_list: with("length = \"12 ft\"", "length = [8, 12]");
    not_a_number: with("elbows = 2", "elbows = nan");
    infinite: with("length = \"12 ft\"", "length = inf");
    half_an_elbow: with("elbows = 2", "elbows = 2.5");
    negative_count: with("elbows = 2", "elbows = -1");
    many_elbows: with("elbows = 2", "elbows = 900");
    unknown_word: with("duct = \"flex\"", "duct = \"flexx\"");
    unknown_word_in_a_choice: with("duct = \"flex\"", "duct = \"flex or smoth metal\"");
    word_without_neighbour: with("kind = \"wall cap\"", "kind = \"chimney pot\"");
    bad_size: with("size = \"4 in\"", "size = \"4 x 5 x 6 in\"");
    size_without_unit: with("size = \"4 in\"", "size = 4");
    huge_size: with("size = \"4 in\"", "size = \"4 m\"");
    rated_without_pressure_unit: with("80 cfm at 0.1 inWC", "80 cfm at 0.1");
    rated_nothing: with("80 cfm at 0.1 inWC", "0 cfm at 0.1 inWC");
    curve_of_one_point: with("outlet = \"4 in\"", "curve = [\"80 cfm at 0.1 inWC\"]");
    curve_twice_a_flow: with("outlet = \"4 in\"", "curve = [\"80 cfm at 0.1 inWC\", \"80 cfm at 0.2 inWC\"]");
    kind_missing: with("kind = \"bathroom\"\n", "");
    dangling_reference: with("to = \"gable\"", "to = \"gabel\"");
    reference_of_wrong_kind: with("room = \"hall-bath\"", "room = \"gable\"");
    id_twice: and("[[terminal]]\nid = \"attic\"\nkind = \"roof cap\"\n");
    id_missing: and("[[room]]\nkind = \"toilet room\"\n");
    id_not_plain: with("id = \"gable\"", "id = \"gable cap, north\"");
    id_reserved: with("id = \"gable\"", "id = \"outdoors\"");
    id_as_number: with("id = \"gable\"", "id = 7");
    circle: and("[[junction]]\nid = \"a\"\n[[junction]]\nid = \"b\"\n[[run]]\nid = \"there\"\nfrom = \"a\"\nto = \"b\"\n[[run]]\nid = \"back\"\nfrom = \"b\"\nto = \"a\"\n");
    run_without_start: and("[[run]]\nid = \"second\"\nto = \"gable\"\n");
    length_beside_parts: with("elbows = 2\n", "[[run.part]]\npiece = { length = \"6 ft\" }\n");
    part_is_two_things: with("length = \"12 ft\"\nelbows = 2\n", "[[run.part]]\npiece = { length = \"6 ft\" }\nelbow = { make = \"adjustable\" }\n");
    part_is_nothing: with("length = \"12 ft\"\nelbows = 2\n", "[[run.part]]\nid = \"p1\"\n");
    newer_format: with("format = 1", "format = 3");
    format_as_text: with("format = 1", "format = \"one\"");
    value_table_without_value: with("width = \"5 ft\"", "width = { origin = \"measured\" }");
    value_table_bad_origin: with("width = \"5 ft\"", "width = { value = \"5 ft\", origin = \"measurd\", on = 2026-03-02 }");
    value_table_bad_value: with("width = \"5 ft\"", "width = { value = \"5 kg\", origin = \"measured\" }");
    override_without_reason: and("[[override]]\nfinding = \"duct.length.table\"\nreason = \"\"\n");
    reading_of_nothing: and("[[reading]]\nat = \"ceiling-fan\"\n");
    list_where_a_table_belongs: and("[site]\naltitude = [\"640 ft\"]\n");
    thresholds_crossed: and("[settings]\nholds_at = 0.5\nfails_at = 0.5\ndraws = 4\n");
    several_at_once: told("format = 1\nshow = \"uss\"\n[room]\nkind = \"bathrom\"\nlength = \"9 ft\"\nwidth = 5\nheight = \"8 cfm\"\n[fan]\nrated = \"80 cfn\"\n[run]\nlenght = \"12 ft\"\n");
    nothing_written: told("");
    contradicting_sizes: with("height = \"8 ft\"", "height = \"8 ft\"\nfloor_area = \"90 ft2\"");
    grille_without_run: and("[[grille]]\nid = \"second\"\nroom = \"hall-bath\"\n");
    existing_in_new_work: and("[existing]\ncollar = \"3 in\"\n");
}

#[test]
fn bytes_that_are_no_text() {
    let mut bytes = b"format = 1\nname = \"Caf".to_vec();
    bytes.extend([0xE9, b'"', b'\n']);
    let told: Diagnostics = dewpath_job::decode("latin.toml", &bytes).unwrap_err();
    insta::assert_snapshot!("bytes_that_are_no_text", told.render(&*ENGLISH, 100, false));
}

#[test]
fn utf_16_is_named() {
    let told = dewpath_job::decode("wide.toml", &[0xFF, 0xFE, b'f', 0, b'o', 0]).unwrap_err();
    assert!(told.render(&*ENGLISH, 100, false).contains("UTF-16"));
}

#[test]
fn a_key_without_a_value_is_told() {
    for line in ["date =", "date = ", "date = # later"] {
        let told = with("show = \"us\"", &format!("show = \"us\"\n{line}"));
        assert!(told.contains("nothing stands behind the equals sign"), "{told}");
        assert!(told.contains("or leave the line out"), "{told}");
    }
}

#[test]
fn a_day_that_is_none_is_told() {
    let date = |written: &str| with("show = \"us\"", &format!("show = \"us\"\ndate = {written}"));
    for wrong in
        ["\"2026-02-29\"", "\"14 March\"", "2026-03-14T08:00:00", "1026-03-14", "\"2026-3-14\""]
    {
        let told = date(wrong);
        assert!(told.contains("is no day from 1950 to 2199"), "{told}");
        assert!(told.contains("for example: 2026-03-14"), "{told}");
    }
    assert!(date("2026").contains("a day such as 2026-03-14"), "{}", date("2026"));
    assert!(date("2026-02-29").contains("error"), "{}", date("2026-02-29"));
}

#[test]
fn colour_and_narrow_terminals_do_not_break_the_text() {
    let text = GOOD.replace("width = \"5 ft\"", "widht = \"5 ft\"");
    let told = read("hall-bath.toml", &text).unwrap_err();
    assert!(told.render(&*ENGLISH, 100, true).contains("\u{1b}["));
    assert!(!told.render(&*ENGLISH, 100, false).contains('\u{1b}'));
    assert!(told.render(&*ENGLISH, 1, false).contains("widht"));
}

#[test]
fn deep_nesting_is_told_not_overflowed() {
    for (open, close) in [("[", "]"), ("{ a = ", " }")] {
        let text = format!("format = 1\nnotes = {}{}", open.repeat(50_000), close.repeat(50_000));
        let told = read("deep.toml", &text).unwrap_err().render(&*ENGLISH, 100, false);
        assert!(told.contains("error"), "{told}");
    }
    let dotted = format!("{}x = 1", "a.".repeat(20_000));
    assert!(read("deep.toml", &dotted).is_err());
}

#[test]
fn byte_order_mark_and_windows_line_ends_are_fine() {
    let text = format!("\u{feff}{}", GOOD.replace('\n', "\r\n"));
    let read = read("windows.toml", &text).unwrap();
    assert_eq!(read.job.name, "Hall bath");
    let wrong = text.replace("width", "widht");
    let told = dewpath_job::read("windows.toml", &wrong).unwrap_err();
    assert!(told.render(&*ENGLISH, 100, false).contains("windows.toml:10:1"), "{told}");
}
