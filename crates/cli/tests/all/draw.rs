//! `dewpath draw`: the files it writes, and what it says when it can't.
#![allow(clippy::unwrap_used, reason = "tests")]

use std::path::Path;

use assert_cmd::Command;
use tempfile::TempDir;

fn job(name: &str) -> std::path::PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../jobs").join(name)
}

fn draw() -> Command {
    let mut command = Command::cargo_bin("dewpath").unwrap();
    command.arg("draw");
    command
}

fn files(folder: &Path, ending: &str) -> Vec<String> {
    let mut found: Vec<String> = std::fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .filter(|name| name.ends_with(ending))
        .collect();
    found.sort();
    found
}

#[test]
fn sheets_are_written_and_named() {
    let folder = TempDir::new().unwrap();
    let out = folder.path().join("new/sheets");
    let run = || {
        let mut command = draw();
        command.arg(job("hall-bath.toml")).arg("--out").arg(&out).args(["--dxf", "--draws", "32"]);
        String::from_utf8(command.assert().success().get_output().stdout.clone()).unwrap()
    };
    let said = run();
    let svgs = files(&out, ".svg");
    assert!(svgs.contains(&"section-attic-run.svg".to_owned()), "{svgs:?}");
    assert!(svgs.contains(&"pressure-attic-run.svg".to_owned()), "{svgs:?}");
    assert_eq!(files(&out, ".dxf").len(), svgs.len());
    assert!(svgs.iter().all(|name| said.contains(name.as_str())), "{said}");
    let read = || std::fs::read_to_string(out.join("section-attic-run.svg")).unwrap();
    let first = read();
    assert!(first.starts_with("<svg ") && first.contains("role=\"img\""));
    // A second time replaces them with the same bytes.
    run();
    assert_eq!(first, read());
}

#[test]
fn a_job_with_nothing_to_draw_says_what_is_missing() {
    let folder = TempDir::new().unwrap();
    let path = folder.path().join("job.toml");
    std::fs::write(&path, "format = 1\nname = \"Bare\"\n").unwrap();
    let out = folder.path().join("sheets");
    let done = draw().arg(&path).arg("--out").arg(&out).assert().success();
    let said = String::from_utf8(done.get_output().stdout.clone()).unwrap();
    assert!(said.contains("nothing can be drawn yet"), "{said}");
    assert!(!out.exists());
}

#[test]
fn a_folder_that_cannot_be_made_is_bad_input() {
    let folder = TempDir::new().unwrap();
    let file = folder.path().join("a-file");
    std::fs::write(&file, "").unwrap();
    let mut command = draw();
    command.arg(job("hall-bath.toml")).arg("--out").arg(file.join("below")).args(["--draws", "0"]);
    let done = command.assert().code(2);
    let said = String::from_utf8(done.get_output().stderr.clone()).unwrap();
    assert!(said.contains("cannot be written") && said.contains("--out"), "{said}");
}
