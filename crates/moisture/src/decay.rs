//! What the record of a humidity logger tells.
