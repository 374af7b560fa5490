//! Reads one question from standard input and prints the answer: the native twin of what the page's worker calls.

use std::io::{Read, Write};

fn main() -> std::io::Result<()> {
    let mut question = String::new();
    std::io::stdin().read_to_string(&mut question)?;
    std::io::stdout().write_all(dewpath_wasm::ask(&question).as_bytes())
}
