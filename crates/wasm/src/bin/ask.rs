//! Reads questions from standard input, one a line, and prints the answers: the native twin of what the page's worker calls.

use std::io::{BufRead, Write};

fn main() -> std::io::Result<()> {
    let mut out = std::io::stdout();
    for question in std::io::stdin().lock().lines() {
        writeln!(out, "{}", dewpath_wasm::ask(&question?))?;
    }
    Ok(())
}
