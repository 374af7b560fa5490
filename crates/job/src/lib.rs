//! Dewpath job.
