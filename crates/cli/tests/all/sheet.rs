//! The survey sheet as it is printed.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on must fail")]

use std::process::{Command, Output};

fn sheet(job: &[&str]) -> Output {
    let jobs = concat!(env!("CARGO_MANIFEST_DIR"), "/../../jobs");
    Command::new(env!("CARGO_BIN_EXE_dewpath"))
        .current_dir(jobs)
        .args(["new", "--sheet"])
        .args(job)
        .output()
        .unwrap()
}

fn text(job: &[&str]) -> String {
    let output = sheet(job);
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    String::from_utf8(output.stdout).unwrap()
}

#[test]
fn it_fits_a_page_and_asks_for_what_is_not_known() {
    for job in ["hall-bath.toml", "basement-shower.toml", "call-back.toml", "swap-hidden-duct.toml"]
    {
        let sheet = text(&[job]);
        for line in sheet.lines() {
            assert!(line.chars().count() <= 80, "{job}: {line}");
        }
        for part in ["Before anything", "To photograph", "Not seen on this visit", "\"unknown\""] {
            assert!(sheet.contains(part), "{job}: {part}");
        }
        assert!(!sheet.contains("spread between elbow tables"), "no tape measures a model");
    }
    // What no visit finds stands apart, below what one does; what is work to do is on no survey.
    let hall = text(&["hall-bath.toml"]);
    let (visit, apart) = hall.split_at(hall.find("To look up").unwrap());
    assert!(apart.contains("blower door") && !visit.contains("blower door"), "{hall}");
    assert!(apart.contains("dwelling.leakage") && !visit.contains("dwelling.leakage"), "{hall}");
    assert!(visit.contains("over-joists.compression"), "{hall}");
    assert!(visit.contains("! Keep a carbon monoxide alarm"), "{hall}");
    assert!(!hall.contains("Plan make-up air") && !hall.contains(".band)"), "{hall}");
    let call_back = text(&["call-back.toml"]);
    let (visit, apart) = call_back.split_at(call_back.find("To look up").unwrap());
    for on_visit in ["run.run.size", "room.room.door.gap", "terminal.terminal.kind"] {
        assert!(visit.contains(on_visit) && !apart.contains(on_visit), "{on_visit}");
    }
    for looked_up in ["fan.fan.curve", "site.altitude", "site.outdoor"] {
        assert!(apart.contains(looked_up) && !visit.contains(looked_up), "{looked_up}");
    }
    // What this job says that it does not know, and what nobody saw.
    let basement = text(&["basement-shower.toml"]);
    assert!(basement.contains("listed_wet") && basement.contains("way_out.far-rim.layers"));
    assert!(text(&["hall-bath.toml"]).contains("Last four feet before the gable"));
}

/// What is written since is asked for no longer.
#[test]
fn it_is_made_from_what_the_job_still_lacks() {
    let jobs = concat!(env!("CARGO_MANIFEST_DIR"), "/../../jobs");
    let before = std::fs::read_to_string(format!("{jobs}/basement-shower.toml")).unwrap();
    let known = before.replace("listed_wet = \"unknown\" ", "listed_wet = true ");
    assert_ne!(before, known);
    let library = format!("library = [\"{jobs}/library/demo.toml\"]");
    let known = known.replace("library = [\"library/demo.toml\"]", &library);
    let path = std::env::temp_dir().join(format!("dewpath-sheet-{}.toml", std::process::id()));
    std::fs::write(&path, known).unwrap();
    let sheet = text(&[path.to_str().unwrap()]);
    std::fs::remove_file(&path).unwrap();
    assert!(!sheet.contains("listed_wet"), "{sheet}");
}

/// Of a key, if a word of a line is one: `what.surface-area`.
fn key(sheet: &str) -> Option<&str> {
    let begins = ["sheet.", "what.", "todo.", "missing.", "cli."];
    let words = sheet.split(|c: char| !(c.is_ascii_alphanumeric() || ".-_".contains(c)));
    words.into_iter().find(|word| begins.iter().any(|begin| word.starts_with(begin)))
}

#[test]
fn in_spanish_it_says_in_english_what_has_no_spanish_yet_and_shows_no_key() {
    let jobs = [&["hall-bath.toml"][..], &["basement-shower.toml"], &["call-back.toml"], &[]];
    for job in jobs {
        let spanish = text(&[job, &["--language", "es"]].concat());
        for part in ["Hoja de visita: ", "Antes de nada", "Fotografiar", "Sin ver en esta visita"] {
            assert!(spanish.contains(part), "{job:?}: {part}");
        }
        assert!(!spanish.contains("Before anything"), "{job:?}");
        assert_eq!(key(&spanish), None, "{job:?}");
        assert_eq!(spanish.lines().filter(|line| line.chars().count() > 80).count(), 0, "{job:?}");
    }
    let hall = text(&["hall-bath.toml", "--language", "es"]);
    assert!(
        hall.contains("[ ] área de la superficie (room.hall-bath.surface.tile.area)"),
        "{hall}"
    );
    // What nobody translates, such as what was not seen, and what has no Spanish yet stands as in English.
    let english = text(&["hall-bath.toml"]);
    let same = english.lines().filter(|line| hall.contains(*line) && line.contains("[ ] "));
    assert!(same.count() > 0, "{hall}");
    assert_eq!(key(&english), None);
}

/// What goes wrong is told in the language that was asked for.
#[test]
fn a_trouble_is_told_in_the_language_asked_for() {
    let told = |language: &str| {
        String::from_utf8(sheet(&["no-such-job.toml", "--language", language]).stderr).unwrap()
    };
    assert!(told("en").contains("`no-such-job.toml` cannot be read: there is no such file"));
    assert!(told("es").contains("`no-such-job.toml` no se puede leer: no existe ese archivo"));
}

#[test]
fn without_a_job_it_is_that_of_the_starter() {
    assert!(text(&[]).contains("On the visit"));
    assert_eq!(sheet(&["no-such-job.toml"]).status.code(), Some(2));
}
