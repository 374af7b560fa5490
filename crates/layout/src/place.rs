//! Where a housing fits between members.
