//! One module for each kind of drawing.

pub(crate) mod fan;
pub(crate) mod pressure;
pub(crate) mod room;
pub(crate) mod water;
