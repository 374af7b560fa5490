//! The `dewpath` program: takes the moisture of a shower out of a house, on paper first.
//!
//! This crate reads files and arguments and prints; it works nothing out and holds no sentence
//! about a job. Exit codes of `check`: 0 everything holds, 1 something fails, 3 nothing fails but
//! something is unknown, 2 bad input.

mod args;
mod csv;
mod draw;
mod files;
mod layout;
mod page;
mod run;
mod say;
#[cfg(feature = "office")]
mod serve;
mod survey;

use std::process::ExitCode;

fn main() -> ExitCode {
    run::run(&args::parse())
}
