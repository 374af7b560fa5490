//! The dewpath program.
fn main() {}
