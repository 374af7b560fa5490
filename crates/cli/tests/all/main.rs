//! The program as it is run, in one program of tests: it is linked once.

mod common;

mod brief;
mod calibration;
mod cases;
mod draw;
mod measured;
mod practice;
mod program;
mod reports;
mod sheet;
mod year;
