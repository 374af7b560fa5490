//! Dewpath air.
