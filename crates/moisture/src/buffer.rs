//! Sorption of moisture in gypsum, paint and textiles.
