//! Every built-in book reads, is in canonical order and rests on nothing from memory unsaid.

use std::fmt::Write as _;

use dewpath_rulebook::{Book, BookKind, Standing, builtin_ids, load};

fn data(id: &str) -> String {
    let path = format!("{}/data/{id}.toml", env!("CARGO_MANIFEST_DIR"));
    std::fs::read_to_string(path).unwrap()
}

#[test]
fn every_book_loads_under_its_own_id() {
    let mut failures = String::new();
    for id in builtin_ids() {
        match load(id) {
            Ok(book) => assert_eq!(book.id(), *id),
            Err(error) => writeln!(failures, "{error}").unwrap(),
        }
    }
    assert!(failures.is_empty(), "{failures}");
}
