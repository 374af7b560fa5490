//! Heat through the wall of a duct.
