//! The hole through a wall or a roof.
