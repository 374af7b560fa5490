//! Notches in joists, studs and plates.
