//! `cargo xtask test --full`: the same tests with large counts, and a line about it in `docs/full-runs.md`.

use std::path::Path;
use std::process::Command;
use std::time::{Instant, SystemTime, UNIX_EPOCH};

use crate::tools;
use crate::workspace::{Result, read};

/// Where each full run leaves its line.
pub const RECORD: &str = "docs/full-runs.md";

/// What makes the counts large. A test gives its own count as a share of `ProptestConfig::default().cases`, which
/// proptest reads from `PROPTEST_CASES` (256 if nothing is said); what is not in Rust asks for `DEWPATH_FULL`.
const COUNTS: [(&str, &str); 3] =
    [("DEWPATH_FULL", "1"), ("PROPTEST_CASES", "5120"), ("DEWPATH_FUZZ_SECONDS", "60")];

/// What reads the seed: the tests of the project's own, proptest, bolero.
const SEEDED: [&str; 3] = ["DEWPATH_SEED", "PROPTEST_RNG_SEED", "BOLERO_RANDOM_SEED"];

/// Runs the named steps, or all, with large counts, and writes down how it went.
///
/// # Errors
/// When a step fails, or the line cannot be written.
pub fn test(root: &Path, names: &[&str]) -> Result<()> {
    let seed = match std::env::var("DEWPATH_SEED") {
        Ok(text) => {
            text.parse().map_err(|_| format!("DEWPATH_SEED is `{text}`; write a whole number"))?
        }
        Err(_) => new_seed(),
    };
    let commit = tools::ask(Path::new("git"), &["describe", "--always", "--dirty", "--abbrev=12"])
        .ok_or("`git describe` does not say what is tested")?;
    let program =
        std::env::current_exe().map_err(|error| format!("cannot start again: {error}"))?;
    let start = Instant::now();
    let mut command = Command::new(program);
    command.arg("test").args(names).envs(COUNTS).current_dir(root);
    let outcome = tools::run(command.envs(SEEDED.map(|name| (name, format!("{seed}")))));
    let line = line(&commit, seed, names, start.elapsed().as_secs(), outcome.is_ok());
    let path = root.join(RECORD);
    std::fs::write(&path, read(&path)? + &line)
        .map_err(|error| format!("cannot write {}: {error}", path.display()))?;
    print!("\n{RECORD}: {line}");
    outcome
}

/// Another one each time; short enough to type.
fn new_seed() -> u64 {
    SystemTime::now().duration_since(UNIX_EPOCH).map_or(0, |time| u64::from(time.subsec_nanos()))
}

fn line(commit: &str, seed: u64, names: &[&str], seconds: u64, passed: bool) -> String {
    let counts = COUNTS.map(|(name, value)| format!("{name}={value}")).join(" ");
    let steps = if names.is_empty() { "all".to_string() } else { names.join(" ") };
    let outcome = if passed { "passed" } else { "FAILED" };
    format!("| {commit} | {seed} | {counts} | {steps} | {seconds} s | {outcome} |\n")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_says_what_was_run_and_how_it_ended() {
        let all = line("0123abc", 7, &[], 60, true);
        assert!(all.starts_with("| 0123abc | 7 | DEWPATH_FULL=1 PROPTEST_CASES=5120 "), "{all}");
        assert!(all.ends_with(" | all | 60 s | passed |\n"), "{all}");
        let one = line("0123abc", 7, &["fuzz", "page"], 60, false);
        assert!(one.ends_with(" | fuzz page | 60 s | FAILED |\n"), "{one}");
    }

    /// A line has as many cells as the table of the page.
    #[test]
    fn the_page_has_a_row_for_it() {
        let page = read(&crate::workspace::root().join(RECORD)).unwrap();
        let cells = line("0123abc", 7, &[], 60, true).matches('|').count();
        let rows: Vec<&str> = page.lines().filter(|line| line.starts_with('|')).collect();
        assert!(
            rows.len() >= 2 && rows.iter().all(|row| row.matches('|').count() == cells),
            "{page}"
        );
        assert!(page.ends_with("|\n"), "the next line goes below the last row");
    }
}
