//! From a document as typed to values: a walk that keeps places and tells everything that is wrong in one go.

mod context;
mod ids;
mod places;
mod points;
mod quantities;
mod reader;
mod sizes;
mod stated;
mod text;
mod times;
mod words;

pub(crate) use context::Context;
pub(crate) use quantities::NONE_WITHIN;
pub(crate) use reader::Reader;
