//! `cargo xtask TASK`: test and generate. See `cargo xtask help`.
#![allow(clippy::print_stderr, reason = "a task runner speaks to the person at the terminal")]

use std::process::ExitCode;

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    match xtask::run(&arguments) {
        Ok(()) => ExitCode::SUCCESS,
        Err(message) => {
            eprintln!("\nxtask: {message}");
            ExitCode::FAILURE
        }
    }
}
