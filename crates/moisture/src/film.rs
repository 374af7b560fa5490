//! Water that condenses on a surface and evaporates from it.
