//! Whatever stands in a file: no panic, spans that fit the text, diagnostics that can be rendered, and
//! a large file in reasonable time.

use std::sync::LazyLock;
use std::time::{Duration, Instant};

use dewpath_job::{Diagnostics, decode, diff, library, patch, read, read_as_built};
use dewpath_words::Speaker;
use proptest::prelude::*;

static ENGLISH: LazyLock<Speaker> = LazyLock::new(Speaker::us);

const SAMPLES: [&str; 4] = [
    include_str!("../../../jobs/hall-bath.toml"),
    include_str!("../../../jobs/two-baths-inline.toml"),
    include_str!("../../../jobs/shared-riser-flat.toml"),
    include_str!("../../../jobs/call-back.toml"),
];

/// Reads a text in every way there is and looks at what comes back.
fn read_all(text: &str) {
    let told = |told: &Diagnostics| {
        for d in &told.list {
            assert!(d.span.start <= d.span.end && d.span.end <= told.text.len(), "{d:?}");
        }
        assert!(!told.render(&*ENGLISH, 100, false).is_empty() || told.is_empty());
    };
    match read("any.toml", text) {
        Ok(read) => {
            assert!(!read.warnings.has_errors());
            told(&read.warnings);
            assert!(!read.job.bytes_for_hash().is_empty());
            if let Err(t) = read.resolve(&dewpath_job::model::Library::default()) {
                told(&t);
            }
        }
        Err(t) => {
            assert!(t.has_errors());
            told(&t);
        }
    }
    if let Err(t) = read_as_built("any.toml", text) {
        told(&t);
    }
    if let Err(t) = library::read("any.toml", text) {
        told(&t);
    }
    if let Err(t) = library::read_csv("any.csv", text) {
        told(&t);
    }
    if let Ok(values) = diff::values("any.toml", text) {
        assert_eq!(diff::changes(("a", text), ("b", text)), Ok(Vec::new()));
        // Every value that is written can be named by a patch, or is told about, without a panic.
        for at in values.keys().take(12) {
            let set = patch::Set { at: at.clone(), value: "\"1 ft\"".into() };
            let _: Result<String, _> =
                patch::apply(text, &patch::Patch { set: vec![set], remove: vec![at.clone()] });
        }
    }
}

#[test]
fn any_bytes() {
    bolero::check!().with_type::<Vec<u8>>().for_each(|bytes| match decode("any.toml", bytes) {
        Ok(text) => read_all(text),
        Err(told) => assert!(told.render(&*ENGLISH, 80, false).contains("UTF-8")),
    });
}

/// A piece of a job file, good or bad.
fn piece() -> impl Strategy<Value = String> {
    let table = prop::sample::select(vec![
        "[room]",
        "[[room]]",
        "[fan]",
        "[[fan]]",
        "[run]",
        "[[run]]",
        "[[run.part]]",
        "[terminal]",
        "[[terminal]]",
        "[site]",
        "[dwelling]",
        "[[reading]]",
        "[existing]",
        "[[built]]",
        "[settings]",
        "[[scenario]]",
        "[room.door]",
        "[[dwelling.exhaust]]",
        "[[junction]]",
        "[[grille]]",
        "[[override]]",
        "[site.months]",
        "[dwelling.ventilation]",
        "[dwelling.prices]",
        "[room.use]",
        "[[room.surface]]",
        "[fan.settings]",
        "[[symptom]]",
        "[[framing]]",
        "[[framing.double]]",
        "[[space]]",
        "[[obstacle]]",
        "[[way_out]]",
        "[[way_out.near]]",
        "[way_out.coursing]",
        "[[room.wall]]",
        "[room.wet]",
        "[[room.fixture_at]]",
    ]);
    let key = prop::sample::select(vec![
        "id",
        "kind",
        "length",
        "width",
        "height",
        "from",
        "to",
        "size",
        "elbows",
        "rated",
        "curve",
        "model",
        "at",
        "value",
        "piece",
        "elbow",
        "format",
        "show",
        "altitude",
        "rise",
        "housing",
        "opening",
        "flap",
        "off",
        "draws",
        "duct",
        "room",
        "junk",
        "months",
        "temperature",
        "swing",
        "use",
        "showers",
        "gap",
        "surface",
        "settings",
        "on_at",
        "band",
        "heat",
        "trap",
        "slope",
        "cover",
        "season",
        "plan",
        "wish",
        "corner",
        "layers",
        "extent",
        "actual",
        "spacing",
        "first",
        "direction",
        "bearings",
        "facing",
        "member",
        "rotation",
        "pitch",
        "course",
        "joint",
    ]);
    let value = prop::sample::select(vec![
        "\"8..10 ft\"",
        "\"unknown\"",
        "\"\"",
        "\" or \"",
        "\"4 in or 6 in\"",
        "\"3 x 10 in\"",
        "\"oval x in\"",
        "\"x\"",
        "\"-3 ft\"",
        "\"−3 ft\"",
        "2",
        "-7",
        "1e400",
        "nan",
        "inf",
        "true",
        "[]",
        "[[], {}]",
        "{ value = \"8 ft\" }",
        "{ value = { value = 1 } }",
        "\"80 cfm at \"",
        "\"80 cfm at 0.1 inWC\"",
        "[\"80 cfm at 0 Pa\", \"0 cfm at 9 Pa\"]",
        "\"fan\"",
        "\"room\"",
        "\"bathroom\"",
        "2026-03-02",
        "[\"06:45\", \"6:45 pm\"]",
        "06:45:00",
        "[\"25:99\", \":\", \"é:00\"]",
        "[\"9 F\", \"9 F\", \"9 F\", \"9 F\", \"9 F\", \"9 F\", \"9 F\", \"9 F\", \"9 F\", \"9 F\", \"9 F\", \"9 F\"]",
        "\"5 %\"",
        "\"to the fan\"",
        "{}",
        "{ make = \"stamped\" }",
        "[0, \"4 ft\"]",
        "[\"-3 ft\", \"2 in\", 0]",
        "[[0, 0], [\"9 ft\", 0], [\"9 ft\", \"5 ft\"], [0, \"5 ft\"]]",
        "[[0, 0], [\"9 ft\", \"5 ft\"], [\"9 ft\", 0], [0, \"5 ft\"], [0, 0]]",
        "[[0, 0], [0, 0], [0, 0]]",
        "\"over the shower\"",
        "\"2x10\"",
        "\"-x\"",
        "[{ material = \"brick\" }, {}]",
        "\"ärger 🚿 ft\"",
        "'''\n8 ft'''",
        "\"8\\u0020ft\"",
        "1",
    ]);
    prop_oneof![
        table.prop_map(|t| format!("{t}\n")),
        (key, value).prop_map(|(k, v)| format!("{k} = {v}\n")),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_pieces(pieces in prop::collection::vec(piece(), 0..24)) {
        read_all(&pieces.concat());
    }

    #[test]
    fn a_sample_with_a_hole_in_it(sample in 0usize..4, from in 0usize..6000, len in 0usize..40, new in "\\PC{0,12}") {
        let text: Vec<char> = SAMPLES[sample].chars().collect();
        let from = from.min(text.len());
        let to = (from + len).min(text.len());
        let changed: String = text[..from].iter().copied().chain(new.chars()).chain(text[to..].iter().copied()).collect();
        read_all(&changed);
    }

    /// Reading does not depend on the order of lines within a section, nor on remarks and blank lines.
    #[test]
    fn layout_means_nothing(sample in 0usize..4, remark in "[a-z ]{0,20}") {
        let text = SAMPLES[sample];
        let other = text.replace("\n\n", &format!("\n\n# {remark}\n\n"));
        let (one, two) = (read("a.toml", text).unwrap(), read("a.toml", &other).unwrap());
        prop_assert_eq!(one.job.bytes_for_hash(), two.job.bytes_for_hash());
    }
}

/// The limits are generous (a slow machine under load); without them a quadratic step would hide.
#[test]
fn ten_megabytes_are_read_in_reasonable_time() {
    let mut text = String::from("format = 1\nname = \"A whole estate\"\nshow = \"metric\"\n");
    let mut count = 0;
    while text.len() < 10 * 1024 * 1024 {
        count += 1;
        let household = format!(
            "[[room]]\nid = \"room{count}\"\nkind = \"bathroom\"\nlength = \"2.4 m\"\nwidth = \"1.8 m\"\nheight = \"2.5 m\"\n\
             [[fan]]\nid = \"fan{count}\"\nroom = \"room{count}\"\nrated = \"25 L/s at 25 Pa\"\n\
             [[run]]\nid = \"run{count}\"\nfrom = \"fan{count}\"\nto = \"cap{count}\"\nduct = \"flex\"\nsize = \"100 mm\"\nlength = \"3..5 m\"\n\
             [[terminal]]\nid = \"cap{count}\"\nkind = \"wall cap\"\n"
        );
        text.push_str(&household);
    }
    let start = Instant::now();
    let good = read("estate.toml", &text).unwrap_or_else(|told| panic!("{told}"));
    assert_eq!(good.job.rooms.len(), count);
    assert!(start.elapsed() < Duration::from_secs(60), "{:?}", start.elapsed());
    let start = Instant::now();
    let bad = text.replace("width", "widht").replace("3..5 m", "5..3 m");
    let told = read("estate.toml", &bad).unwrap_err();
    assert!(told.more > 1000);
    assert!(told.render(&*ENGLISH, 100, false).contains("more of this kind"));
    assert!(start.elapsed() < Duration::from_secs(60), "{:?}", start.elapsed());
}

#[test]
fn what_is_too_large_is_refused_with_a_way_out() {
    let text = "#".repeat(dewpath_job::LARGEST_DOCUMENT + 1);
    let told = read("huge.toml", &text).unwrap_err();
    assert!(told.render(&*ENGLISH, 100, false).contains("MB are read"));
    let one_line = format!("name = \"{}\"\nlength = 1", "x".repeat(3_000_000));
    let told = read("wide.toml", &one_line).unwrap_err();
    assert!(told.render(&*ENGLISH, 100, false).len() < 20_000);
    let wide_and_wrong = format!("notes = [{}7]", "\"x\", ".repeat(300_000));
    let told = read("wide.toml", &wide_and_wrong).unwrap_err();
    assert!(told.render(&*ENGLISH, 100, false).len() < 20_000);
}

/// Files of a megabyte that are wrong, or odd, all the way through: each would take minutes if a
/// step compared everything with everything.
#[test]
fn no_kind_of_large_file_takes_long() {
    let head = "format = 1\nshow = \"us\"\n";
    let many = |piece: &dyn Fn(usize) -> String| {
        let mut text = String::from(head);
        let mut number = 0;
        while text.len() < 1024 * 1024 {
            text.push_str(&piece(number));
            number += 1;
        }
        text
    };
    let files: [(&str, String); 11] = [
        ("unknown keys", many(&|n| format!("key{n} = \"widht\"\n"))),
        (
            "dangling references",
            many(&|n| format!("[[run]]\nid = \"r{n}\"\nfrom = \"a{n}\"\nto = \"b{n}\"\n")),
        ),
        ("runs without ends", many(&|n| format!("[[run]]\nid = \"r{n}\"\n"))),
        (
            "one long circle",
            many(&|n| {
                format!(
                    "[[junction]]\nid = \"j{n}\"\n[[run]]\nid = \"r{n}\"\nfrom = \"j{n}\"\nto = \"j{}\"\n",
                    n + 1
                )
            }),
        ),
        (
            "fans without rooms",
            many(&|n| {
                format!("[[room]]\nid = \"r{n}\"\nkind = \"bathroom\"\n[[fan]]\nid = \"f{n}\"\n")
            }),
        ),
        ("one id everywhere", many(&|_| "[[fan]]\nid = \"fan\"\n".to_owned())),
        (
            "a run of many parts",
            format!(
                "{head}[run]\n{}",
                many(&|_| "[[run.part]]\nelbow = { make = \"stampd\" }\n".to_owned())
                    .replace(head, "")
            ),
        ),
        (
            "a long list",
            format!("{head}[fan]\ncurve = [{}]\n", "\"80 cfm at 0.1 inWC\", ".repeat(45_000)),
        ),
        (
            "rooms, housings and zones",
            many(&|n| {
                format!(
                    "[[room]]\nid = \"r{n}\"\nkind = \"bathroom\"\nlength = \"9 ft\"\nwidth = \"5 ft\"\nat = [0, 0]\n[[fan]]\nid = \"f{n}\"\nroom = \"r{n}\"\nat = [\"40 ft\", 0]\n[[framing]]\nid = \"z{n}\"\nextent = [0, \"1 ft\"]\n"
                )
            }),
        ),
        (
            "rooms of many corners",
            many(&|n| {
                let corners: Vec<String> =
                    (0..199).map(|k| format!("[\"{k} in\", \"{} in\"], ", k * k % 7)).collect();
                let corners = corners.concat();
                format!(
                    "[[room]]\nid = \"r{n}\"\nkind = \"bathroom\"\nplan = [{corners}[0, \"9 ft\"]]\n"
                )
            }),
        ),
        ("missing models", many(&|n| format!("[[fan]]\nid = \"f{n}\"\nmodel = \"quiet-{n}\"\n"))),
    ];
    for (what, text) in files {
        let start = Instant::now();
        match read("large.toml", &text) {
            Ok(read) => {
                let _: Result<_, Diagnostics> =
                    read.resolve(&dewpath_job::model::Library::default());
            }
            Err(told) => assert!(!told.render(&*ENGLISH, 100, false).is_empty()),
        }
        assert!(start.elapsed() < Duration::from_secs(30), "{what}: {:?}", start.elapsed());
    }
}

#[test]
fn warnings_never_crowd_out_an_error() {
    let mut text = String::from("format = 1\nshow = \"us\"\n");
    for number in 0..2500 {
        let room =
            format!("[[room]]\nid = \"r{number}\"\nkind = \"bathroom\"\nheight = \"22 ft\"\n");
        text.push_str(&room);
    }
    assert!(read("rooms.toml", &text).is_ok_and(|read| read.warnings.more > 2000));
    text.push_str("[[fan]]\nid = \"f\"\nroom = \"r1\"\nrated = \"80 ft\"\n");
    let told = read("rooms.toml", &text).unwrap_err();
    assert!(
        told.has_errors() && told.render(&*ENGLISH, 100, false).contains("`80 ft` is a length")
    );
}
