//! The drawings, in one program: it is linked once.

mod common;

mod growth;
mod odd;
mod reading;
mod sheets;
