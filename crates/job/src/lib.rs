//! The job file: what the contractor writes down about a dwelling, its rooms, fans and ducts.
//!
//! A file is read in two steps: what was typed, with its places, and from it the checked job
//! ([`model::Job`]), in which ids are unique, references resolve and values are possible. Everything that
//! is wrong is told in one go, each with its line, a caret and a way out ([`Diagnostics`]); what is told is a message
//! ([`say`]), which a speaker of a language puts into words.
//!
//! Start at [`read`]; [`Read::resolve`] lays library models under the job. This crate opens no file,
//! knows no rule book and judges nothing.
//!
//! ```
//! use dewpath_words::Speaker;
//!
//! let text = r#"
//! format = 1
//! show = "us"
//! [room]
//! kind = "bathroom"
//! length = "9 ft 4 in"
//! width = "5 ft"
//! height = "8 ft"
//! [fan]
//! rated = "80 cfm at 0.1 inWC"
//! [run]
//! duct = "flex"
//! size = "4 in"
//! length = "8..10 ft"
//! [terminal]
//! kind = "unknown"
//! "#;
//! let read = dewpath_job::read("bath.toml", text)?;
//! assert_eq!(read.job.runs[0].from, "fan");
//!
//! let wrong = text.replace("\"5 ft\"", "\"80 cfm\"");
//! let told = dewpath_job::read("bath.toml", &wrong).unwrap_err().render(&Speaker::us(), 100, false);
//! assert!(told.contains("`room.room.width`: `80 cfm` is an airflow"));
//! # Ok::<(), dewpath_job::Diagnostics>(())
//! ```

pub mod category;
mod check;
mod diagnostic;
pub mod diff;
pub mod edit;
mod file;
mod graph;
mod ground;
mod keys;
mod lay_under;
pub mod library;
mod limits;
pub mod model;
mod nearest;
mod node;
pub mod outline;
pub mod patch;
mod read;
pub mod say;
mod schema;
mod sense;
mod spec;
mod stated;
mod value;
mod write;

pub use diagnostic::{Diagnostic, Diagnostics, Severity};
pub use file::{Read, decode, read, read_as_built};
pub use node::LARGEST_DOCUMENT;
pub use schema::{library_schema, reference_page, schema};

/// A commented job to start from. It asks for little and reads without an error.
pub const fn starter() -> &'static str {
    include_str!("starter.toml")
}
