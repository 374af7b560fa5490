//! Everything that findings, workings and lists of a report say, by topic.
//!
//! A file of this module names the messages of a topic with their values, the file of the same name in a catalogue of
//! `words` their texts.

mod air;
mod brief;
mod caution;
mod cut;
mod dry;
mod duct;
mod equation;
mod evidence;
mod fan;
mod house;
mod place;
mod room;
mod source;
mod terminal;
mod todo;
mod way;
mod working;
mod year;

use dewpath_message::{Declared, Said as _};

use crate::check::Check;

pub use air::*;
pub use brief::*;
pub use caution::*;
pub use cut::*;
pub use dry::*;
pub use duct::*;
pub use equation::*;
pub use evidence::*;
pub use fan::*;
pub use house::*;
pub use place::*;
pub use room::*;
pub use source::*;
pub use terminal::*;
pub use todo::*;
pub use way::*;
pub use working::*;
pub use year::*;

/// Every message, by the topic that has its text.
pub const DECLARED: &[(&str, &[&[Declared]])] = &[
    ("air", air::DECLARED),
    ("brief", brief::DECLARED),
    ("caution", caution::DECLARED),
    ("check", &[Check::DECLARED]),
    ("cut", cut::DECLARED),
    ("dry", dry::DECLARED),
    ("duct", duct::DECLARED),
    ("equation", equation::DECLARED),
    ("evidence", evidence::DECLARED),
    ("fan", fan::DECLARED),
    ("house", house::DECLARED),
    ("place", place::DECLARED),
    ("room", room::DECLARED),
    ("source", source::DECLARED),
    ("terminal", terminal::DECLARED),
    ("todo", todo::DECLARED),
    ("way", way::DECLARED),
    ("working", working::DECLARED),
    ("year", year::DECLARED),
];
