//! The engine as WebAssembly: built, bound, and held byte for byte against the native one.

use std::path::{Path, PathBuf};
use std::process::Command;

use crate::metadata::cargo;
use crate::workspace::Result;
use crate::{programs, tools};

const TARGET: &str = "wasm32-unknown-unknown";
/// Debian's compiler with the source of its standard library, for machines where rustup has no target to hand out.
const DEBIAN_PACKAGES: [&str; 4] = ["rustc-web", "cargo-web", "rust-web-src", "lld-22"];
const DEBIAN_RUSTC: &str = "/usr/bin/rustc";
const DEBIAN_CARGO: &str = "/usr/bin/cargo";

/// Builds the module and gives its path.
///
/// # Errors
/// When no toolchain for the target can be had, or the build fails.
pub fn module(root: &Path) -> Result<PathBuf> {
    let mut build = if rustup_has_target() { with_rustup() } else { with_debian()? };
    // As a module alone: with a library beside it, cargo optimises each crate by itself.
    build
        .args(["rustc", "--locked", "--package", "dewpath-wasm", "--lib", "--crate-type", "cdylib"])
        .args(["--profile", "wasm"])
        .args(["--target", TARGET, "--target-dir", "target/wasm"])
        .current_dir(root);
    if build.get_program() == DEBIAN_CARGO {
        build.args(["-Z", "build-std=std,panic_abort"]);
    }
    tools::run(&mut build)?;
    Ok(root.join("target/wasm").join(TARGET).join("wasm/dewpath_wasm.wasm"))
}

/// Whether the standard library for the target is there, or rustup can fetch it.
fn rustup_has_target() -> bool {
    let has = || {
        let folder =
            tools::ask(Path::new("rustc"), &["--print", "target-libdir", "--target", TARGET]);
        folder.is_some_and(|folder| Path::new(folder.trim()).is_dir())
    };
    has() || (tools::ask(Path::new("rustup"), &["target", "add", TARGET]).is_some() && has())
}

fn with_rustup() -> Command {
    Command::new(cargo())
}

fn with_debian() -> Result<Command> {
    let source = || {
        let sysroot = tools::ask(Path::new(DEBIAN_RUSTC), &["--print", "sysroot"]);
        sysroot.is_some_and(|root| {
            Path::new(root.trim()).join("lib/rustlib/src/rust/library").is_dir()
        })
    };
    if !(source() && Path::new(DEBIAN_CARGO).is_file()) {
        for package in DEBIAN_PACKAGES {
            tools::apt_install(package)?;
        }
    }
    let mut command = Command::new(DEBIAN_CARGO);
    command
        .env("RUSTC", DEBIAN_RUSTC)
        .env("RUSTC_BOOTSTRAP", "1")
        .env("CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_LINKER", "wasm-ld-22")
        .env_remove("RUSTUP_TOOLCHAIN")
        .env_remove("CARGO");
    Ok(command)
}

/// Writes the bindings of a module for the `page` or for `node` into a folder.
///
/// # Errors
/// When they cannot be made.
pub fn bind(root: &Path, module: &Path, kind: &str, out: &Path) -> Result<()> {
    tools::run(
        Command::new(cargo())
            .args(["run", "--quiet", "--locked", "--package", "xtask-bindgen", "--"])
            .arg(module)
            .arg(out)
            .arg(kind)
            .current_dir(root),
    )
}

/// Every example job judged natively and as WebAssembly: the answers must be the same bytes.
///
/// # Errors
/// When they differ, or one of both cannot be built.
pub fn same(root: &Path) -> Result<()> {
    let module = module(root)?;
    let bound = root.join("target/wasm/node");
    bind(root, &module, "node", &bound)?;
    let native = programs::shipped(root)?.ask;
    tools::run(
        Command::new("node")
            .arg("xtask/same.mjs")
            .arg(bound.join("dewpath_wasm.js"))
            .arg(native)
            .current_dir(root),
    )
}
