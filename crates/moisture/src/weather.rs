//! Hourly weather of a typical year.
