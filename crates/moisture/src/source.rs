//! Sources of moisture.
