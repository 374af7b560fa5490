//! Distances on the plane of an outside wall.
