//! Files that are written by a program and committed: `cargo xtask codegen` writes them, `--check` compares.

use std::path::Path;
use std::process::Command;

use crate::workspace::{Result, read};
use crate::{checks, endings, programs};

/// What `dewpath schema` prints, and where it is kept.
const SCHEMAS: &[(&str, &str)] =
    &[("job", "docs/schema/job.schema.json"), ("report", "docs/schema/report.schema.json")];
/// What a page asks its engine and hears, and where it is kept.
const OF_PAGE: &[(&str, &str)] = &[
    ("question", "docs/schema/question.schema.json"),
    ("answer", "docs/schema/answer.schema.json"),
];

/// A generated file.
struct Generated {
    /// Path below the root.
    path: &'static str,
    /// What it should hold.
    text: String,
    /// What is still wrong with its sources; empty when nothing is.
    complaint: String,
}

/// Writes every generated file.
///
/// # Errors
/// When a source cannot be read or a file cannot be written.
pub fn write(root: &Path) -> Result<()> {
    for file in generate(root)? {
        let path = root.join(file.path);
        let complain = |error| format!("cannot write {}: {error}", path.display());
        if let Some(folder) = path.parent() {
            std::fs::create_dir_all(folder).map_err(complain)?;
        }
        std::fs::write(&path, &file.text).map_err(complain)?;
        println!("wrote {}", file.path);
        if !file.complaint.is_empty() {
            println!("  {}", file.complaint);
        }
    }
    Ok(())
}

/// Compares every generated file with what would be written.
///
/// # Errors
/// Lists the files that differ and what is wrong with their sources.
pub fn check(root: &Path) -> Result<()> {
    let mut complaints = Vec::new();
    for file in generate(root)? {
        let kept = std::fs::read_to_string(root.join(file.path)).unwrap_or_default();
        if kept != file.text {
            complaints.push(format!(
                "{} is not current ({}); run `cargo xtask codegen` and commit it",
                file.path,
                first_difference(&kept, &file.text)
            ));
        }
        if !file.complaint.is_empty() {
            complaints.push(file.complaint);
        }
    }
    if complaints.is_empty() {
        Ok(())
    } else {
        Err(format!("generated files:\n  {}", complaints.join("\n  ")))
    }
}

fn generate(root: &Path) -> Result<Vec<Generated>> {
    let mut files = vec![checks_page(root)?];
    let programs = programs::shipped(root)?;
    for (name, path) in SCHEMAS {
        let mut print = Command::new(&programs.dewpath);
        files.push(schema(root, print.args(["schema", name]), name, path)?);
    }
    for (name, path) in OF_PAGE {
        files.push(schema(root, Command::new(&programs.schema).arg(name), name, path)?);
    }
    Ok(files)
}

fn checks_page(root: &Path) -> Result<Generated> {
    let values = dewpath_checkvalues::read(&read(&root.join(checks::VALUES))?)?;
    let claims = checks::claims(&values, &checks::claimants(root)?)?;
    let (text, missing) = checks::page(&values, &claims)?;
    let complaint = if missing.is_empty() {
        String::new()
    } else {
        format!(
            "{} checks of built topics are in no test: {}; let a test read them with `check(\"ID\")`",
            missing.len(),
            checks::in_ranges(&values, &missing)
        )
    };
    Ok(Generated { path: "docs/checks.md", text, complaint })
}

/// What is printed as the schema of that name, kept at `path`; fields of the report must name their units.
fn schema(root: &Path, print: &mut Command, name: &str, path: &'static str) -> Result<Generated> {
    let output = print
        .output()
        .map_err(|error| format!("cannot start {}: {error}", print.get_program().display()))?;
    let said = String::from_utf8_lossy(&output.stderr);
    if !output.status.success() {
        return Err(format!("the schema of the {name} cannot be printed:\n{said}"));
    }
    let text = String::from_utf8_lossy(&output.stdout).into_owned();
    let schema: serde_json::Value = serde_json::from_str(&text)
        .map_err(|error| format!("the schema of the {name} is no JSON: {error}"))?;
    let complaint = match name {
        "report" => {
            let listed = endings::listed(&read(&root.join(endings::PAGE))?);
            endings::complaints(&schema, &listed).join("\n  ")
        }
        _ => String::new(),
    };
    Ok(Generated { path, text, complaint })
}

/// Where two texts part, for the person who has to look.
fn first_difference(kept: &str, wanted: &str) -> String {
    let same = kept.lines().zip(wanted.lines()).take_while(|(kept, wanted)| kept == wanted).count();
    format!("first difference in line {}", same + 1)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_first_difference_is_named() {
        assert_eq!(first_difference("a\nb\n", "a\nc\n"), "first difference in line 2");
        assert_eq!(first_difference("", "a\n"), "first difference in line 1");
    }

    #[test]
    fn every_generated_file_is_below_docs() {
        assert!(SCHEMAS.iter().chain(OF_PAGE).all(|(_, path)| path.starts_with("docs/")));
    }
}
