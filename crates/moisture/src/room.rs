//! A room and the dwelling around it through time.
