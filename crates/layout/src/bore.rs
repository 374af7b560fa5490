//! Holes through joists, studs and plates.
