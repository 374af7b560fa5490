//! The page: built from its source and the engine, served, and used in a browser by its tests.

use std::path::Path;
use std::process::Command;

use crate::workspace::Result;
use crate::{programs, tools, wasm};

/// Builds the page into `page/dist`.
///
/// # Errors
/// When Node, a package or the WebAssembly toolchain is missing, or a check of the page fails.
pub fn build(root: &Path) -> Result<()> {
    let module = wasm::module(root)?;
    wasm::bind(root, &module, "page", &root.join("page/src/engine/pkg"))?;
    packages(root)?;
    node(root, &["tools/types.mjs", "--check"])?;
    node(root, &["tools/catalogues.mjs"])?;
    node(root, &["tools/sentences.mjs"])?;
    node(root, &["tools/squeeze.mjs", "src/engine/pkg/dewpath_wasm_bg.wasm"])?;
    node(root, &["tools/split.mjs", "src/engine/pkg/dewpath_wasm_bg.wasm"])?;
    npm(root, &["run", "--silent", "check"])?;
    npm(root, &["run", "--silent", "build"])?;
    node(root, &["tools/compress.mjs"])
}

/// Builds page and program and hands the page out with the example jobs.
///
/// # Errors
/// When one of both cannot be built.
pub fn serve(root: &Path, arguments: &[&str]) -> Result<()> {
    build(root)?;
    let program = programs::shipped(root)?.dewpath;
    tools::run(Command::new(program).arg("serve").args(arguments).current_dir(root))
}

/// The page used in a browser.
///
/// # Errors
/// When it cannot be built, no browser can be had, or a test fails.
pub fn tests(root: &Path) -> Result<()> {
    build(root)?;
    programs::shipped(root)?;
    if tools::ask(Path::new("chromium"), &["--version"]).is_none() {
        tools::apt_install("chromium")?;
    }
    npm(root, &["test"])
}

/// Installs the packages of the lock file, unless they are there.
fn packages(root: &Path) -> Result<()> {
    if tools::ask(Path::new("npm"), &["--version"]).is_none() {
        return Err("the page needs Node and npm (`node`, `npm` on the path)".into());
    }
    let stamp = root.join("page/node_modules/.installed");
    let wanted = crate::workspace::read(&root.join("page/package-lock.json"))?;
    if std::fs::read_to_string(&stamp).is_ok_and(|installed| installed == wanted) {
        return Ok(());
    }
    npm(root, &["ci", "--no-audit", "--no-fund"])?;
    std::fs::write(&stamp, wanted)
        .map_err(|error| format!("cannot write {}: {error}", stamp.display()))
}

fn npm(root: &Path, arguments: &[&str]) -> Result<()> {
    tools::run(Command::new("npm").args(arguments).current_dir(root.join("page")))
}

fn node(root: &Path, arguments: &[&str]) -> Result<()> {
    tools::run(Command::new("node").args(arguments).current_dir(root.join("page")))
}
