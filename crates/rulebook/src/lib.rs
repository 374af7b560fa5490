//! Dewpath rulebook.
