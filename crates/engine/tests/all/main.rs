//! What the engine answers, in one program: it is linked once.

mod common;

mod building;
mod candidates;
mod controls;
mod curves;
mod drag;
mod dry;
mod duct;
mod house;
mod in_millimetres;
mod length_table;
mod networks;
mod properties;
mod year;
