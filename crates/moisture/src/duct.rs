//! A duct through time: condensation, drying, frost.
