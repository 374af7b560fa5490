//! The programs of the project, each compiled one way only: what one step has built, the next one uses.
//!
//! Cargo compiles a crate again for each set of features of its dependencies, and these depend on which packages are
//! asked for together, and on whether tests, examples or benchmarks are. So the programs that are shipped are asked for in one
//! command, and so is all that only tests need.

use std::path::{Path, PathBuf};
use std::process::Command;

use crate::metadata::cargo;
use crate::tools;
use crate::workspace::Result;

/// Every package that is tested. What writes the bindings has no tests, and is built by itself.
pub const TESTED: [&str; 3] = ["--workspace", "--exclude", "xtask-bindgen"];

/// What is shipped, and the engine that the page's is held against.
pub struct Shipped {
    /// `dewpath`, with what hands out the page. Without that it is built for the tests, and checked by the documentation.
    pub dewpath: PathBuf,
    /// Answers the questions of a page.
    pub ask: PathBuf,
    /// Prints the schemas of questions and answers.
    pub schema: PathBuf,
}

/// Cargo in the workspace.
pub fn cargo_command(root: &Path, arguments: &[&str]) -> Command {
    let mut command = Command::new(cargo());
    command.args(arguments).current_dir(root).env("INSTA_UPDATE", "no");
    command
}

/// Builds the programs as they are shipped.
///
/// # Errors
/// When one does not build.
pub fn shipped(root: &Path) -> Result<Shipped> {
    let build = ["build", "--locked", "--release", "--bins"];
    let features = ["--features", "dewpath-cli/office,dewpath-wasm/schema"];
    let packages = ["--package", "dewpath-cli", "--package", "dewpath-wasm"];
    tools::run(cargo_command(root, &build).args(features).args(packages))?;
    let folder = root.join("target/release");
    let [dewpath, ask, schema] = ["dewpath", "ask", "schema"].map(|name| folder.join(name));
    Ok(Shipped { dewpath, ask, schema })
}

/// Builds the example programs as the tests do, and gives their folder.
///
/// # Errors
/// When one does not build.
pub fn examples(root: &Path) -> Result<PathBuf> {
    tools::run(cargo_command(root, &["build", "--locked", "--examples"]).args(TESTED))?;
    Ok(root.join("target/debug/examples"))
}
