//! The program as a contractor runs it: exit codes, messages about bad input, and what is printed.
#![allow(clippy::unwrap_used, reason = "tests")]

use std::path::Path;
use std::process::{Command as Process, Stdio};

use serde_json::Value;
use tempfile::TempDir;

use crate::common::{Ran, dewpath, example, run};

const EXAMPLES: &[&str] = &[
    "hall-bath",
    "basement-shower",
    "two-baths-inline",
    "swap-hidden-duct",
    "shared-riser-flat",
    "call-back",
    "guest-bath-joist-bay",
    "gable-prairie-winter",
    "wall-fan-terrace",
    "call-back-july-drip",
];

fn check(path: &Path) -> Ran {
    run(dewpath().arg("check").arg(path).args(["--draws", "64"]))
}

fn check_text(text: impl AsRef<[u8]>) -> Ran {
    let folder = TempDir::new().unwrap();
    let path = folder.path().join("job.toml");
    std::fs::write(&path, text).unwrap();
    check(&path)
}

/// A job in which everything that is checked holds.
const HOLDING: &str = r#"
format = 1
name = "All is written"
show = "us"
[room]
kind = "bathroom"
asked = "40 cfm"
length = "9 ft"
width = "5 ft"
height = "8 ft"
door = { gap = "2 in", width = "30 in" }
[fan]
kind = "centrifugal"
rated = ["110 cfm at 0.1 inWC", "95 cfm at 0.25 inWC"]
damper = true
outlet = "4 in"
[run]
duct = "smooth metal"
size = "4 in"
length = "6 ft"
elbows = 1
[terminal]
kind = "wall cap"
flap = true
flap_opens = true
"#;

#[test]
fn exit_codes_tell_how_it_went() {
    let holds = check_text(HOLDING);
    assert_eq!(holds.code, 0, "{}\n{}", holds.out, holds.err);
    assert!(holds.out.starts_with("HOLDS"), "{}", holds.out);
    let fails = check(&example("two-baths-inline"));
    assert_eq!(fails.code, 1, "{}", fails.err);
    assert!(fails.out.starts_with("FAILS"));
    let unknown = check(&example("call-back"));
    assert_eq!(unknown.code, 3, "{}", unknown.err);
    assert!(unknown.out.starts_with("UNKNOWN"));
    let bad = check_text("format = 1\n[room\n");
    assert_eq!((bad.code, bad.out.as_str()), (2, ""));
}

/// Every complaint names the file and the line, points with a caret and shows a way out.
fn complains(about: &str, text: impl AsRef<[u8]>, line: usize, words: &str) {
    let ran = check_text(text);
    assert_eq!(ran.code, 2, "{about}: {}{}", ran.out, ran.err);
    assert!(ran.out.is_empty(), "{about}: nothing is judged");
    assert!(ran.err.contains("error"), "{about}: {}", ran.err);
    let error = ran.err.split("error").nth(1).unwrap();
    assert!(error.contains(&format!("job.toml:{line}:")), "{about}: {}", ran.err);
    assert!(error.contains('^') || error.contains("___"), "{about}: {}", ran.err);
    assert!(error.contains("help: "), "{about}: {}", ran.err);
    assert!(ran.err.contains(words), "{about}: `{words}` is not in {}", ran.err);
    assert!(!ran.err.contains("panicked"), "{about}: {}", ran.err);
}

/// A job with one line in its room that is not right.
fn room(line: &str) -> String {
    format!("format = 1\nshow = \"us\"\n[room]\nkind = \"bathroom\"\n{line}\n")
}

#[test]
fn bad_input_is_pointed_at_with_a_way_out() {
    complains("syntax", "format = 1\nname = \"half\nshow = \"us\"\n", 2, "name");
    complains("unknown key", room("lenght = \"9 ft\""), 5, "length");
    complains("wrong kind of unit", room("length = \"80 cfm\""), 5, "airflow");
    complains("negative", room("length = \"-9 ft\""), 5, "-9 ft");
    complains("not a number", room("length = \"NaN ft\""), 5, "NaN");
    complains("endless", room("length = inf"), 5, "inf");
    complains("wrong word", room("window = { glass = \"many\" }"), 5, "many");
    complains("no unit", room("length = 9"), 5, "9");
    complains("newer format", "format = 9\n", 1, "newer");
    complains("not UTF-8", b"format = 1\nname = \"\xff\xfe\"\n", 2, "UTF-8");
    complains("a zero byte", b"format = 1\nname = \"\0\"\n", 2, "name");
    complains("twice", room("kind = \"toilet room\""), 5, "kind");
}

/// A line of ten thousand characters is not shown, so there is no caret either.
#[test]
fn deep_nesting_is_named_with_its_place() {
    let deep = format!("format = 1\nnotes = {}{}\n", "[".repeat(5_000), "]".repeat(5_000));
    let ran = check_text(deep);
    assert_eq!(ran.code, 2);
    assert!(
        ran.err.contains("nested too deeply") && ran.err.contains("job.toml:2:"),
        "{}",
        ran.err
    );
    assert!(ran.err.contains("help: "), "{}", ran.err);
}

#[test]
fn references_that_lead_nowhere_are_pointed_at() {
    let dangling = HOLDING.replace("[run]\n", "[run]\nto = \"roof\"\n");
    let ran = check_text(dangling);
    assert_eq!(ran.code, 2, "{}{}", ran.out, ran.err);
    assert!(ran.err.contains("roof") && ran.err.contains('^'), "{}", ran.err);
    let model = HOLDING.replace("[fan]\n", "[fan]\nmodel = \"not-kept\"\n");
    let ran = check_text(model);
    assert_eq!(ran.code, 2, "{}{}", ran.out, ran.err);
    assert!(ran.err.contains("not-kept") && ran.err.contains("help"), "{}", ran.err);
}

#[test]
fn runs_in_a_circle_are_pointed_at() {
    let circle = r#"
format = 1
show = "us"
[room]
kind = "bathroom"
[[fan]]
id = "fan"
rated = "80 cfm"
[[junction]]
id = "a"
[[junction]]
id = "b"
[[run]]
id = "one"
from = "a"
to = "b"
length = "3 ft"
[[run]]
id = "two"
from = "b"
to = "a"
length = "3 ft"
"#;
    let ran = check_text(circle);
    assert_eq!(ran.code, 2, "{}{}", ran.out, ran.err);
    assert!(ran.err.contains("job.toml:") && ran.err.contains('^'), "{}", ran.err);
}

#[test]
fn ten_megabytes_of_noise_are_refused_or_read_without_falling_over() {
    let noise = "[[room]]\nkind = 1\n".repeat(10_000_000 / 18);
    let ran = check_text(format!("format = 1\n{noise}"));
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains("error") && !ran.err.contains("panicked"));
    assert!(ran.err.len() < 1_000_000, "the complaint is {} bytes long", ran.err.len());
}

#[test]
fn files_that_cannot_be_read_are_named() {
    let folder = TempDir::new().unwrap();
    let ran = check(folder.path());
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains("it is a folder") && ran.err.contains("help"), "{}", ran.err);
    let ran = check(&folder.path().join("none.toml"));
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains("none.toml") && ran.err.contains("dewpath new"), "{}", ran.err);
    let job = format!("library = [\"none.toml\"]\n{}", HOLDING.trim_start());
    let ran = check_text(job);
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains("none.toml"), "{}", ran.err);
    let ran = run(dewpath().args(["check", "--library", "none.csv"]).arg(example("hall-bath")));
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains("none.csv"), "{}", ran.err);
}

#[test]
fn an_unknown_rule_book_is_answered_with_those_there_are() {
    let ran = check_text(HOLDING.replace("show =", "rule_book = \"moon\"\nshow ="));
    assert_eq!(ran.code, 2, "{}", ran.out);
    assert!(ran.err.contains("moon") && ran.err.contains("us-irc-2021"), "{}", ran.err);
}

#[test]
fn an_empty_file_is_not_said_to_hold() {
    let ran = check_text("");
    assert!(ran.out.contains("Nothing was checked"), "{}", ran.out);
    assert!(ran.err.contains("nothing to check yet"), "{}", ran.err);
}

#[test]
fn options_that_make_no_sense_are_refused() {
    let job = example("hall-bath");
    for arguments in [
        &["--draws", "-1"][..],
        &["--draws", "15"],
        &["--draws", "65537"],
        &["--draws", "many"],
        &["--loud"],
    ] {
        let ran = run(dewpath().arg("check").arg(&job).args(arguments));
        assert_eq!(ran.code, 2, "{arguments:?}");
        assert!(ran.err.contains("error"), "{}", ran.err);
    }
    assert_eq!(run(&mut dewpath()).code, 2);
    let ran = run(dewpath().args(["schema", "report", "--markdown"]));
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains("help: "), "{}", ran.err);
}

#[test]
fn without_draws_the_likely_values_are_told_and_said_to_be_alone() {
    let ran = run(dewpath().arg("check").arg(example("hall-bath")).args(["--draws", "0"]));
    assert!(ran.out.contains("The likely values alone"), "{}", ran.out);
}

#[test]
fn few_draws_judge_and_are_said_to_tell_no_chance() {
    let few = "Fewer than 64 draws: no chance is told.";
    let told = |draws: &str| {
        let ran =
            run(dewpath().arg("check").arg(example("hall-bath")).args(["--draws", draws, "--all"]));
        (ran.out.matches(few).count(), ran.out.contains("chance that"))
    };
    assert_eq!(told("16"), (1, false));
    assert_eq!(told("64"), (0, true));
}

#[test]
fn the_report_is_what_its_schema_says() {
    let schema: Value =
        serde_json::from_str(&run(dewpath().args(["schema", "report"])).out).unwrap();
    let validator = jsonschema::validator_for(&schema).unwrap();
    for name in EXAMPLES {
        let ran = run(dewpath().arg("check").arg(example(name)).args(["--json", "--draws", "64"]));
        let report: Value = serde_json::from_str(&ran.out).unwrap();
        let wrong: Vec<String> = validator.iter_errors(&report).map(|e| e.to_string()).collect();
        assert!(wrong.is_empty(), "{name}: {wrong:?}");
        assert_eq!(report["format"], 1, "{name}");
        assert!(!ran.out.contains('\u{1b}'), "{name}: no colour in JSON");
    }
}

#[test]
fn a_report_that_lacks_a_field_is_refused_by_the_schema() {
    let schema: Value =
        serde_json::from_str(&run(dewpath().args(["schema", "report"])).out).unwrap();
    let validator = jsonschema::validator_for(&schema).unwrap();
    let ran =
        run(dewpath().arg("check").arg(example("hall-bath")).args(["--json", "--draws", "0"]));
    let mut report: Value = serde_json::from_str(&ran.out).unwrap();
    report.as_object_mut().unwrap().remove("findings");
    assert!(!validator.is_valid(&report));
}

#[test]
fn the_same_job_gives_the_same_bytes() {
    for name in EXAMPLES {
        let once =
            || run(dewpath().arg("check").arg(example(name)).args(["--json", "--draws", "64"]));
        assert_eq!(once().out, once().out, "{name}");
    }
}

#[test]
fn the_working_of_every_finding_can_be_shown() {
    for name in EXAMPLES {
        let ran = run(dewpath().arg("check").arg(example(name)).args(["--json", "--draws", "16"]));
        let report: Value = serde_json::from_str(&ran.out).unwrap();
        let ids: std::collections::BTreeSet<&str> = report["findings"]
            .as_array()
            .unwrap()
            .iter()
            .map(|f| f["id"].as_str().unwrap())
            .collect();
        for id in ids {
            let why = run(dewpath().arg("why").arg(example(name)).args([id, "--draws", "16"]));
            assert_eq!(why.code, 0, "{name} {id}: {}", why.err);
            assert!(why.out.contains(id) && why.out.contains('['), "{name} {id}: {}", why.out);
            assert!(!why.out.contains('?') && !why.out.contains("NaN"), "{name} {id}: {}", why.out);
        }
    }
}

#[test]
fn the_working_of_a_figure_is_shown_by_its_place_in_the_report() {
    for (name, place, finding) in [
        ("hall-bath", "rooms.hall-bath.clearing.mirror_time_s", "room.clearing.mirror/hall-bath"),
        ("hall-bath", "rooms.hall-bath.clearing.back_to_normal_time_s", "room.clearing.back-to"),
        ("hall-bath", "runs.attic-run.condensate.per_shower_g", "duct.condensate.net/attic-run"),
        ("hall-bath", "runs.attic-run.condensate.net_winter_g", "duct.condensate.net/attic-run"),
        ("hall-bath", "runs.attic-run.condensate.frost_g", "duct.condensate.net/attic-run"),
        ("hall-bath", "runs.attic-run.insulation.needed_rsi", "duct.condensate.net/attic-run"),
        ("hall-bath", "dwelling.pressure", "house.pressure/"),
        ("hall-bath", "dwelling.transfer", "replacement.air/"),
        ("hall-bath", "placements", "place.housing/"),
        ("hall-bath", "routes", "route.out/"),
        ("basement-shower", "bores", "frame.bore/"),
        ("hall-bath", "penetrations", "penetration.sheet/"),
        ("basement-shower", "clearances", "frame.clearance/"),
        ("basement-shower", "rooms.shower-room.control.reachable", "room.control.reachable/"),
    ] {
        let ran = run(dewpath().arg("why").arg(example(name)).args([place, "--draws", "0"]));
        assert_eq!(ran.code, 0, "{place}: {}", ran.err);
        assert!(ran.out.contains(finding), "{place}: {}", ran.out);
    }
}

#[test]
fn a_finding_that_is_not_there_is_answered_with_those_that_are() {
    let ran = run(dewpath().arg("why").arg(example("hall-bath")).arg("airflow.deliverd"));
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains("airflow.delivered/hall-bath"), "{}", ran.err);
}

#[test]
fn a_starter_job_is_written_once_and_can_be_checked() {
    let folder = TempDir::new().unwrap();
    let path = folder.path().join("mine.toml");
    let ran = run(dewpath().arg("new").arg(&path));
    assert_eq!(ran.code, 0, "{}", ran.err);
    assert!(ran.out.contains("dewpath check"));
    assert_ne!(check(&path).code, 2);
    std::fs::write(&path, "mine").unwrap();
    let again = run(dewpath().arg("new").arg(&path));
    assert_eq!(again.code, 2);
    assert!(again.err.contains("never overwritten"), "{}", again.err);
    assert_eq!(std::fs::read_to_string(&path).unwrap(), "mine");
    assert!(run(dewpath().arg("new")).out.contains("format = 1"));
}

#[test]
fn diff_tells_the_change_and_what_it_does() {
    let folder = TempDir::new().unwrap();
    let (before, after) = (folder.path().join("a.toml"), folder.path().join("b.toml"));
    std::fs::write(&before, HOLDING).unwrap();
    std::fs::write(&after, HOLDING.replace("length = \"6 ft\"", "length = \"60 ft\"")).unwrap();
    let ran = run(dewpath().arg("diff").args([&before, &after]).args(["--draws", "64"]));
    assert!(ran.out.contains("6 ft -> ") || ran.out.contains("6 ft\" -> "), "{}", ran.out);
    assert!(ran.out.contains("60 ft") && ran.out.contains("Answer: HOLDS -> "), "{}", ran.out);
    let airs =
        |line: &&str| line.trim_start().starts_with("Air: ") && line.matches("cfm").count() >= 2;
    assert!(ran.out.lines().any(|line| airs(&line)), "{}", ran.out);
    let same = run(dewpath().arg("diff").args([&before, &before]).args(["--draws", "64"]));
    assert_eq!(same.code, 0, "{}", same.err);
    assert!(same.out.contains("Nothing that is written differs."), "{}", same.out);
    let none = run(dewpath().arg("diff").arg(&before).arg("none.toml"));
    assert_eq!(none.code, 2);
}

#[test]
fn colour_is_there_only_when_it_is_wanted() {
    let job = example("hall-bath");
    let with = |name: &str, value: &str| {
        run(dewpath().arg("check").arg(&job).args(["--draws", "0"]).env(name, value)).out
    };
    assert!(with("CLICOLOR_FORCE", "1").contains('\u{1b}'));
    assert!(!with("TERM", "xterm").contains('\u{1b}'), "not a terminal");
    let mut both = dewpath();
    both.arg("check").arg(&job).env("CLICOLOR_FORCE", "1").env("NO_COLOR", "1");
    assert!(!run(&mut both).out.contains('\u{1b}'));
    // Without colour nothing is missing.
    let stripped = anstream::adapter::strip_str(&with("CLICOLOR_FORCE", "1")).to_string();
    assert_eq!(stripped, with("NO_COLOR", "1"));
}

#[test]
fn no_line_is_wider_than_asked() {
    for name in EXAMPLES {
        for width in [60usize, 80, 100] {
            let columns = width.to_string();
            let mut check = dewpath();
            check.arg("check").arg(example(name)).args(["--draws", "64", "--all"]);
            let mut why = dewpath();
            why.arg("why").arg(example(name)).args(["airflow.delivered", "--draws", "64"]);
            let ran = [run(check.env("COLUMNS", &columns)), run(why.env("COLUMNS", &columns))];
            for line in ran.iter().flat_map(|ran| ran.out.lines()) {
                let is_word = !line.trim().contains(' ');
                assert!(line.chars().count() <= width || is_word, "{name} at {width}: {line}");
            }
        }
    }
}

#[test]
fn a_reader_that_goes_away_is_no_error() {
    let mut child = Process::new(env!("CARGO_BIN_EXE_dewpath"))
        .arg("check")
        .arg(example("hall-bath"))
        .args(["--json", "--draws", "64"])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    drop(child.stdout.take());
    let output = child.wait_with_output().unwrap();
    assert_ne!(output.status.code(), Some(2));
    assert_eq!(String::from_utf8_lossy(&output.stderr), "");
}

#[test]
fn schemas_help_completions_and_manual_are_printed() {
    for arguments in [
        &["schema", "job"][..],
        &["schema", "job", "--markdown"],
        &["schema", "report"],
        &["completions", "bash"],
        &["completions", "zsh"],
        &["completions", "fish"],
        &["manual"],
        &["help"],
        &["help", "check"],
        &["--version"],
    ] {
        let ran = run(dewpath().args(arguments));
        assert_eq!(ran.code, 0, "{arguments:?}: {}", ran.err);
        assert!(!ran.out.trim().is_empty(), "{arguments:?}");
    }
    let help = run(dewpath().arg("--help")).out;
    for word in ["check", "why", "new", "schema", "diff", "completions", "manual", "Exit codes"] {
        assert!(help.contains(word), "{word}: {help}");
    }
    let manual = run(dewpath().arg("manual")).out;
    assert!(manual.starts_with(".ie"), "roff");
    for word in ["COMMAND CHECK", "\\-\\-draws", "\\-\\-as\\-designed", "Exit codes"] {
        assert!(manual.contains(word), "{word}: {manual}");
    }
}

#[test]
fn another_language_speaks_where_it_has_words_and_english_where_it_has_none() {
    let spoken = |language: &str, rest: &[&str]| {
        let hall_bath = example("hall-bath");
        run(dewpath()
            .arg("check")
            .arg(hall_bath)
            .args(["--draws", "64", "--language", language])
            .args(rest))
    };
    let spanish = spoken("es", &[]);
    assert_eq!(spanish.code, 3, "{}", spanish.err);
    assert!(spanish.out.starts_with("NO SE SABE"), "{}", spanish.out);
    assert!(spanish.out.contains("Puntos comprobados"));
    let texts = |language| {
        let report: Value = serde_json::from_str(&spoken(language, &["--json"]).out).unwrap();
        [&report["answer"]["messages"][0], &report["cautions"][0]["message"]]
            .map(|message| message["text"].as_str().unwrap().to_owned())
    };
    let [answer, caution] = texts("es");
    assert!(answer.contains("se exigen"), "{answer}");
    assert_eq!(caution, texts("en")[1]);
    let unknown = spoken("tlh", &[]);
    assert_eq!((unknown.code, unknown.out.as_str()), (2, ""));
    assert!(unknown.err.contains("en, es"), "{}", unknown.err);
}

#[test]
fn what_is_wrong_of_a_job_is_told_in_the_language_asked_for() {
    let folder = TempDir::new().unwrap();
    let job = folder.path().join("bath.toml");
    std::fs::write(
        &job,
        "format = 1\nshow = \"us\"\n[room]\nkind = \"bathroom\"\nwidht = \"5 ft\"\n",
    )
    .unwrap();
    let told =
        |language: &str| run(dewpath().arg("check").arg(&job).args(["--language", language]));
    let (spanish, english) = (told("es"), told("en"));
    assert_eq!((spanish.code, english.code), (2, 2));
    assert!(spanish.err.contains("`widht` no es una clave de [[room]]"), "{}", spanish.err);
    assert!(english.err.contains("`widht` is not a key of [[room]]"), "{}", english.err);
}

#[test]
fn the_starter_takes_the_book_that_is_chosen() {
    for (book, show) in [("us-irc-2018", "us"), ("ca-nbc", "metric"), ("gb-eng-adf-2021", "metric")]
    {
        let ran = run(dewpath().args(["new", "--book", book]));
        let job = dewpath_job::read("new.toml", &ran.out).unwrap().job;
        assert_eq!(job.rule_book.as_deref(), Some(book));
        assert!(ran.out.contains(&format!("show = \"{show}\"")), "{}", ran.out);
    }
    assert_eq!(run(dewpath().args(["new", "--book", "none"])).code, 2);
}
