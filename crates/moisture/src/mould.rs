//! The mould index.
