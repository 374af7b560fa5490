//! The engine for a page: one question in, one answer out, both JSON.
//!
//! The page runs [`ask`] in a worker, so that a long answer never holds up a finger. The same function runs natively, where a
//! test holds the two byte for byte against each other. The shapes are [`Question`] and [`Answer`].
//!
//! ```
//! let answer = dewpath_wasm::ask(r#"{"change":{"text":"format = 1\n","patch":{"set":[{"at":"name","value":"Attic bath"}]}}}"#);
//! assert_eq!(answer, r#"{"changed":{"text":"format = 1\nname = \"Attic bath\"\n"}}"#);
//! ```

mod ceiling;
mod language;
mod question;
mod say;
#[cfg(target_arch = "wasm32")]
mod worker;
mod year;

pub use ceiling::{Drawing, Followed, Paper, Seat, Spot};
pub use question::{Answer, Problem, Question, ask, ask_telling};
pub use year::{RoomTable, Table, Year};
