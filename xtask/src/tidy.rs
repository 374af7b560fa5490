//! Small things that rot: unfinished marks, paths of one machine, modules without a head comment.

use std::path::Path;

use crate::{Result, read, source};

/// Folders that are searched, and the endings of text files in them.
const FOLDERS: &[&str] = &["crates", "docs", "jobs", "reference", "xtask", ".ci", ".config"];
const ENDINGS: &[&str] = &[".rs", ".toml", ".md", ".py", ".json", ".csv", ".txt", "run"];

/// Marks of unfinished work. Written apart so that this file does not find itself.
const UNFINISHED: &[&str] = &[
    concat!("TO", "DO"),
    concat!("FIX", "ME"),
    concat!("X", "XX"),
    concat!("to", "do!("),
    concat!("unimpl", "emented!("),
];

/// Starts of paths that mean something on one machine only.
const MACHINE_PATHS: &[&str] = &[
    concat!("/ho", "me/"),
    concat!("/ro", "ot/"),
    concat!("/Us", "ers/"),
    concat!("/t", "mp/"),
    concat!("C:", "\\"),
];

/// Checks the text files of the project.
///
/// # Errors
/// Lists every complaint with its place.
pub fn check(root: &Path) -> Result<()> {
    let mut complaints = Vec::new();
    for folder in FOLDERS {
        for path in source::files(&root.join(folder), ENDINGS)? {
            let shown = path.strip_prefix(root).unwrap_or(&path).display().to_string();
            complaints.extend(file_complaints(&shown, &read(&path)?));
        }
    }
    if complaints.is_empty() {
        Ok(())
    } else {
        Err(format!("tidy:\n  {}", complaints.join("\n  ")))
    }
}

/// What is wrong with one file.
pub fn file_complaints(path: &str, text: &str) -> Vec<String> {
    let mut complaints = Vec::new();
    for (number, line) in (1..).zip(text.lines()) {
        for mark in UNFINISHED.iter().filter(|mark| stands_alone(line, mark)) {
            complaints.push(format!(
                "{path}:{number}: `{mark}`: finish it, or say in docs what is missing"
            ));
        }
        for start in MACHINE_PATHS.iter().filter(|start| line.contains(**start)) {
            complaints.push(format!("{path}:{number}: `{start}` is a path of one machine"));
        }
    }
    if source::is_kind(path, "rs") && !text.starts_with("//!") {
        complaints.push(format!("{path}:1: begin the file with `//!` and what it is for"));
    }
    if source::is_kind(path, "rs") && text.contains("bolero::check!") && !text.contains("fn fuzz") {
        complaints.push(format!(
            "{path}: name functions with `bolero::check!` `fuzz…`: the step `fuzz` finds them by that"
        ));
    }
    if !text.is_empty() && !text.ends_with('\n') {
        complaints.push(format!("{path}: end the file with a line end"));
    }
    complaints
}

fn stands_alone(line: &str, mark: &str) -> bool {
    !source::word_places(line, mark).is_empty()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn leftovers_are_found() {
        let finished = "//! Head.\nfn f() {}\n";
        assert!(file_complaints("a.rs", finished).is_empty());
        for text in [
            format!("//! Head.\n// {}: later\n", UNFINISHED[0]),
            format!("//! Head.\nconst P: &str = \"{}me\";\n", MACHINE_PATHS[0]),
            "fn f() {}\n".to_string(),
            "//! Head.\nfn f() {}".to_string(),
            "//! Head.\n#[test]\nfn parse() { bolero::check!() }\n".to_string(),
        ] {
            assert_eq!(file_complaints("a.rs", &text).len(), 1, "{text}");
        }
    }

    #[test]
    fn a_mark_inside_a_name_is_fine() {
        assert!(file_complaints("a.md", "a field `todo`, and AXXXB\n").is_empty());
    }
}
