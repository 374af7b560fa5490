//! Tasks of the project, run as `cargo xtask TASK`.
//!
//! Errors are plain sentences for the person at the terminal: what went wrong, where, and how to go on.
#![allow(
    clippy::print_stdout,
    clippy::print_stderr,
    reason = "a task runner speaks to the person at the terminal"
)]

pub mod architecture;
pub mod checks;
pub mod codegen;
pub mod counts;
pub mod endings;
pub mod full;
pub mod licences;
pub mod metadata;
pub mod modules;
pub mod page;
pub mod programs;
pub mod sentences;
pub mod source;
pub mod steps;
pub mod tidy;
pub mod tools;
pub mod wasm;

use std::path::{Path, PathBuf};

/// A sentence for the person at the terminal.
pub type Error = String;

/// What a task gives back.
pub type Result<T> = std::result::Result<T, Error>;

const HELP: &str = "\
cargo xtask test [STEP…]     run every test, or only the named steps
cargo xtask test --full [STEP…]  the same with large counts; its line goes to docs/full-runs.md
cargo xtask codegen          write the generated pages and schemas
cargo xtask codegen --check  fail if a generated file is not current
cargo xtask page             build the page with the engine into page/dist
cargo xtask serve [OPTION…]  build page and program, and hand the page out with the example jobs
cargo xtask help             this text

Environment:
  CI                    set: nextest's `ci` profile
  DEWPATH_FUZZ_SECONDS  seconds for each fuzz target in the step `fuzz` (default 2)
  DEWPATH_SEED          the seed of a full run, to draw its cases again (docs/performance.md lists what a full run sets)

Steps of `test`, in order:";

/// Runs the task named by the command line's `arguments`.
///
/// # Errors
/// When the task is not known or fails.
pub fn run(arguments: &[String]) -> Result<()> {
    let words: Vec<&str> = arguments.iter().map(String::as_str).collect();
    match words.as_slice() {
        ["test", "--full", names @ ..] => full::test(&root(), names),
        ["test", names @ ..] => steps::test(names),
        ["codegen"] => codegen::write(&root()),
        ["codegen", "--check"] => codegen::check(&root()),
        ["page"] => page::build(&root()),
        ["serve", options @ ..] => page::serve(&root(), options),
        [] | ["help" | "--help" | "-h"] => {
            println!("{HELP}");
            for step in steps::ALL {
                println!("  {:<13} {}", step.name, step.about);
            }
            Ok(())
        }
        _ => Err(format!("no task `{}`; try `cargo xtask help`", words.join(" "))),
    }
}

/// The folder of the workspace.
pub fn root() -> PathBuf {
    let here = Path::new(env!("CARGO_MANIFEST_DIR"));
    here.parent().unwrap_or(here).to_path_buf()
}

/// Reads a file of the project as text.
///
/// # Errors
/// Names the path.
pub fn read(path: &Path) -> Result<String> {
    std::fs::read_to_string(path)
        .map_err(|error| format!("cannot read {}: {error}", path.display()))
}
