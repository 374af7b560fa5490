//! Dewpath words.
