//! `xtask-bindgen WASM OUT KIND`: writes the bindings of a WebAssembly module; KIND is `page` or `node`.
//!
//! A program of its own, so that the other tasks need not wait for it to be built. The version of the bindings is that of
//! the lock file: module and bindings cannot drift apart.
#![allow(clippy::print_stderr, reason = "a task speaks to the person at the terminal")]

use std::process::ExitCode;

use wasm_bindgen_cli_support::Bindgen;

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let [module, out, kind] = arguments.as_slice() else {
        eprintln!("xtask-bindgen WASM OUT page|node");
        return ExitCode::FAILURE;
    };
    match write(module, out, kind) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("xtask-bindgen: {error}");
            ExitCode::FAILURE
        }
    }
}

fn write(module: &str, out: &str, kind: &str) -> Result<(), String> {
    let mut bindgen = Bindgen::new();
    bindgen.input_path(module).typescript(true);
    let said = match kind {
        "page" => bindgen.bundler(true),
        "node" => bindgen.nodejs(true),
        _ => return Err(format!("no kind `{kind}`: page or node")),
    };
    said.and_then(|bindgen| bindgen.generate(out)).map_err(|error| format!("{error:#}"))
}
