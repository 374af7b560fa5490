//! Temperatures of inside surfaces.
