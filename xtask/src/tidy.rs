//! Small things that rot: unfinished marks, paths of one machine, modules without a head comment, dead links.

use std::path::Path;

use crate::source;
use crate::workspace::{Result, read};

/// Folders that are searched, and the endings of text files in them.
const FOLDERS: &[&str] = &[
    "crates",
    "docs",
    "jobs",
    "reference",
    "xtask",
    "page/src",
    "page/tests",
    "page/tools",
    ".ci",
    ".config",
];
const ENDINGS: &[&str] = &[
    ".rs", ".toml", ".md", ".py", ".json", ".csv", ".txt", "run", ".ts", ".svelte", ".mjs", ".css",
];

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
    let mut pages = source::files(&root.join("docs"), &[".md"])?;
    pages.extend(source::files(&root.join("reference"), &[".md"])?);
    pages.extend(["README.md", "CHANGELOG.md"].map(|name| root.join(name)));
    for page in pages {
        let shown = page.strip_prefix(root).unwrap_or(&page).display().to_string();
        let folder = page.parent().unwrap_or(root);
        let is_dead = |target: &str| !folder.join(target).exists();
        complaints.extend(
            links(&read(&page)?).into_iter().filter(|(_, target)| is_dead(target)).map(
                |(number, target)| {
                    format!("{shown}:{number}: `{target}` is not there: a dead link")
                },
            ),
        );
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
    if !text.is_empty() && !text.ends_with('\n') {
        complaints.push(format!("{path}: end the file with a line end"));
    }
    complaints
}

/// Links of a Markdown page to files of the project, each with its line.
fn links(page: &str) -> Vec<(usize, String)> {
    let mut found = Vec::new();
    for (number, line) in (1..).zip(page.lines()) {
        for (at, opening) in line.match_indices("](") {
            let Some((target, _)) = line[at + opening.len()..].split_once(')') else { continue };
            let path = target.split('#').next().unwrap_or_default();
            if !path.is_empty() && !path.contains(':') {
                found.push((number, path.to_string()));
            }
        }
    }
    found
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
        ] {
            assert_eq!(file_complaints("a.rs", &text).len(), 1, "{text}");
        }
    }

    #[test]
    fn links_to_files_are_read_and_others_are_not() {
        let page =
            "See [a](a.md#part), [web](https://example.org/) and\n[here](#part), [b](docs/b.md).\n";
        assert_eq!(links(page), [(1, "a.md".to_string()), (2, "docs/b.md".to_string())]);
    }

    #[test]
    fn a_mark_inside_a_name_is_fine() {
        assert!(file_complaints("a.md", "a field `todo`, and AXXXB\n").is_empty());
    }
}
