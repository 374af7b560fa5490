//! Dewpath engine.
