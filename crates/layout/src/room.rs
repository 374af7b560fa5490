//! The plan of a room: its outline, its walls, what lies inside.
