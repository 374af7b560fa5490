//! The one error of geometry that can't be worked with.

/// A dimension or a shape that can't be worked with: what it is, where it stands, its value, and the way out.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[error("{what} of {place} is {value} {unit}: {reason}; {way_out}")]
pub struct BadGeometry {
    /// What is wrong, such as "spacing".
    pub what: &'static str,
    /// Whose it is: the name of a zone, a member, a room, a housing.
    pub place: String,
    /// The value that was given.
    pub value: f64,
    /// Unit of the value.
    pub unit: &'static str,
    /// Why it can't be worked with.
    pub reason: &'static str,
    /// How to go on.
    pub way_out: &'static str,
}
