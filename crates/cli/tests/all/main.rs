//! The program as it is run, in one program of tests: it is linked once.

mod cases;
mod draw;
mod program;
mod sheet;
mod year;
