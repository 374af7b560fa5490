//! Dewpath units.
