//! One module for each kind of drawing.

pub(crate) mod bore;
pub(crate) mod fan;
pub(crate) mod outside;
pub(crate) mod plan;
pub(crate) mod pressure;
pub(crate) mod room;
pub(crate) mod section;
pub(crate) mod water;
