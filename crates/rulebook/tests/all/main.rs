//! Rule books, tested from outside against the printed books.

#![allow(clippy::panic, clippy::unwrap_used, reason = "a test that cannot go on must fail")]

mod airflow;
mod amendments;
mod books;
mod duct_table;
mod framing;
mod rules;
