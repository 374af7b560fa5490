//! What a person reads first: short, whole, and never at odds with what stands below it.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on must fail")]

use std::path::{Path, PathBuf};

use serde_json::Value;

use crate::common::{dewpath, jobs, run};

/// Job files of a folder.
fn of(folder: &Path) -> Vec<PathBuf> {
    let entries = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    let mut found: Vec<PathBuf> = entries
        .filter(|path| path.extension().is_some_and(|end| end == "toml"))
        .filter(|path| std::fs::read_to_string(path).unwrap().contains("format = 1"))
        .collect();
    found.sort();
    found
}

fn practice() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/practice")
}

#[test]
fn an_example_is_answered_on_one_screen() {
    for job in of(&jobs()).iter().chain(&of(&practice())) {
        let ran = run(dewpath().env("COLUMNS", "80").arg("check").arg(job).args(["--draws", "64"]));
        let lines: Vec<&str> = ran.out.lines().collect();
        assert!(lines.len() <= 25, "{}: {} lines\n{}", job.display(), lines.len(), ran.out);
        let wide = lines.iter().find(|line| line.chars().count() > 80);
        assert!(wide.is_none(), "{}: {wide:?}", job.display());
        for question in ["Air", "Mirror", "Dry", "House", "Rules", "Place"] {
            let told =
                lines.iter().take(12).filter(|line| line.starts_with(&format!("  {question} ")));
            assert_eq!(told.count(), 1, "{}: {question}\n{}", job.display(), ran.out);
        }
    }
}

/// How each question comes out with so many draws, and whether it says that it may turn.
fn outcomes(job: &Path, draws: &str) -> Vec<(String, String, bool)> {
    let ran = run(dewpath().arg("check").arg(job).args(["--json", "--draws", draws]));
    let report: Value = serde_json::from_str(&ran.out).unwrap();
    let answers = report["brief"]["answers"].as_array().unwrap().iter();
    let told = answers.map(|answer| {
        let is_close = answer["says"].as_array().unwrap().iter();
        let is_close =
            is_close.map(|said| word(&said["key"])).any(|key| key == "brief.chance.close");
        let of = |key: &str| word(&answer[key]).to_owned();
        (of("question"), of("outcome"), is_close)
    });
    told.collect()
}

/// More draws turn no answer, unless it said that they may.
#[test]
fn four_times_the_draws_turn_no_answer_unless_it_said_so() {
    for job in of(&jobs()).iter().chain(&of(&practice())) {
        let (few, many) = (outcomes(job, "1024"), outcomes(job, "4096"));
        for (few, many) in few.iter().zip(&many) {
            let is_said = few.2 || many.2;
            assert!(few.1 == many.1 || is_said, "{}: {few:?} {many:?}", job.display());
        }
    }
}

fn word(value: &Value) -> &str {
    value.as_str().unwrap_or_else(|| panic!("no word: {value}"))
}

/// How bad an outcome is.
fn rank(outcome: &Value) -> usize {
    let order = ["not_asked", "holds", "caution", "unknown", "fails"];
    order.iter().position(|known| *known == word(outcome)).unwrap()
}

/// What is wrong with a brief beside the findings it comes from.
fn faults(code: i32, report: &Value) -> Vec<String> {
    let brief = &report["brief"];
    let list = |value: &Value| value.as_array().cloned().unwrap_or_default();
    let answers = list(&brief["answers"]);
    let findings = list(&report["findings"]);
    let mut faults = Vec::new();
    let mut want = |holds: bool, what: String| {
        if !holds {
            faults.push(what);
        }
    };
    let questions: Vec<&str> = answers.iter().map(|answer| word(&answer["question"])).collect();
    want(
        questions == ["air", "mirror", "dry", "house", "rules", "place"],
        format!("{questions:?}"),
    );
    let worst = answers.iter().map(|answer| rank(&answer["outcome"])).max().unwrap();
    let headline = match worst {
        4 => ("fails", 1),
        1 | 2 => ("holds", 0),
        _ => ("unknown", 3),
    };
    want((word(&brief["verdict"]), code) == headline, format!("{headline:?}, but exit {code}"));
    want(brief["verdict"] == report["answer"]["verdict"], "two headlines".to_owned());
    for answer in &answers {
        for point in list(&answer["decided_by"]) {
            let same = |finding: &&Value| {
                finding["id"] == point["id"] && finding["subject"] == point["subject"]
            };
            let found = findings.iter().find(same);
            let is_as_bad = found.is_some_and(|finding| finding["verdict"] == answer["outcome"]);
            want(is_as_bad, format!("{} is decided by {point}", answer["question"]));
        }
        want(
            !word(&answer["word"]["text"]).is_empty(),
            format!("{} has no word", answer["question"]),
        );
    }
    // A point that fails and is not passed over decides an answer.
    for finding in findings.iter().filter(|f| f["verdict"] == "fails" && f["overridden"].is_null())
    {
        let decides = |answer: &Value| {
            list(&answer["decided_by"]).iter().any(|point| point["id"] == finding["id"])
        };
        want(answers.iter().any(decides), format!("{} is in no answer", finding["id"]));
    }
    let tasks = list(&brief["do"]);
    want(tasks.len() <= 3, format!("{} things to do", tasks.len()));
    let kinds = ["stop", "mend", "change", "look"];
    let order: Vec<usize> = tasks
        .iter()
        .map(|task| kinds.iter().position(|kind| *kind == word(&task["kind"])).unwrap())
        .collect();
    let stops_first = order.iter().skip(1).all(|kind| *kind != 0);
    want(stops_first, format!("a stop stands below: {order:?}"));
    faults
}

#[test]
fn no_brief_is_at_odds_with_its_report() {
    let cases = of(&jobs().join("cases"));
    let mut all = of(&jobs());
    all.extend(of(&practice()));
    // One case in four, so that a change of any stage is seen soon; all of them with large counts.
    let step = if std::env::var_os("DEWPATH_FULL").is_some() { 1 } else { 4 };
    all.extend(cases.into_iter().step_by(step));
    for job in all {
        let ran = run(dewpath().arg("check").arg(&job).args(["--json", "--draws", "32"]));
        let report: Value = serde_json::from_str(&ran.out)
            .unwrap_or_else(|wrong| panic!("{}: {wrong}", job.display()));
        let faults = faults(ran.code, &report);
        assert!(faults.is_empty(), "{}: {faults:#?}", job.display());
    }
}

/// Air that nobody asks for keeps no job from holding, and is told all the same.
#[test]
fn air_without_a_book_is_not_asked_for() {
    let job = practice().join("good-01-cold-house-6in-wall-cap.toml");
    let text = std::fs::read_to_string(&job).unwrap();
    let kept = |line: &&str| !line.starts_with("rule_book") && !line.starts_with("required");
    let without = text.lines().filter(kept).collect::<Vec<_>>().join("\n");
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("job.toml");
    std::fs::write(&path, without).unwrap();
    let ran = run(dewpath().arg("check").arg(&path).args(["--json", "--draws", "64"]));
    let report: Value = serde_json::from_str(&ran.out).unwrap();
    let air = &report["brief"]["answers"][0];
    assert_eq!(word(&air["question"]), "air");
    assert!(rank(&air["outcome"]) <= 2, "{air}");
    assert!(air["figure"].is_object(), "{air}");
}

/// What can kill stands below the title, before any answer, and is not said again below.
#[test]
fn a_stop_stands_above_every_answer() {
    let hall = jobs().join("hall-bath.toml");
    let ran = run(dewpath().env("COLUMNS", "80").arg("check").arg(hall));
    let lines: Vec<&str> = ran.out.lines().collect();
    assert!(lines[1].starts_with("  STOP  Have a licensed trade test for spillage"), "{}", ran.out);
    assert_eq!(ran.out.matches("test for spillage").count(), 1, "{}", ran.out);
}

/// A fan that its owner measured: the reading with its error and what was expected, then the outlet, the flex, and a new reading.
#[test]
fn a_reading_is_told_beside_what_was_expected_and_the_cheapest_look_comes_first() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("job.toml");
    let text = "format = 1\nname = \"31 of 80\"\nshow = \"us\"\nrule_book = \"us-irc-2021\"\nwork = \"call-back\"\n\
                [room]\nkind = \"bathroom\"\n[fan]\nrated = \"80 cfm\"\n\
                [run]\nduct = \"flex\"\nlength = \"12 ft\"\nplace = \"attic\"\n[terminal]\nkind = \"roof\"\n\
                [[reading]]\nid = \"r\"\nat = \"fan\"\nairflow = \"31 cfm\"\nmethod = \"unpowered hood\"\n\
                [[symptom]]\nid = \"s\"\nkind = \"fogged mirror\"\n";
    std::fs::write(&path, text).unwrap();
    let ran = run(dewpath().env("COLUMNS", "80").arg("check").arg(path));
    let at = |part: &str| ran.out.find(part).unwrap_or_else(|| panic!("no `{part}`\n{}", ran.out));
    let order = ["31 cfm (18 to 44)", "expected here", "The size of the room is not written"];
    let order = order.map(at);
    assert!(order.is_sorted(), "{}", ran.out);
    let todo = ["1. Look at the outlet first", "2. Pull flexible duct taut", "3. Measure"].map(at);
    assert!(todo.is_sorted(), "{}", ran.out);
}
