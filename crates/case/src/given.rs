//! What is written of a value, in one word: its likely value, its bounds, the one member, yes or no.

use dewpath_job::model::{Given, GivenChoice, GivenCount, GivenYesNo, Terminal};
use dewpath_units::Quantity;

/// The likely value; none when it is not written or unknown.
pub fn likely<Q: Quantity>(given: &Given<Q>) -> Option<Q> {
    given.as_ref()?.value.likely()
}

/// Lowest and highest value that is meant.
pub fn bounds<Q: Quantity>(given: &Given<Q>) -> Option<(Q, Q)> {
    given.as_ref()?.value.bounds()
}

/// Least and most of a count.
pub fn count_bounds(given: &GivenCount) -> Option<(u32, u32)> {
    given.as_ref()?.value.bounds()
}

/// Whether anything is known of the value.
pub fn is_known<Q: Quantity>(given: &Given<Q>) -> bool {
    given.as_ref().is_some_and(|stated| !stated.value.is_unknown())
}

/// The one member that is meant; none when it is not written, unknown or one of several.
pub fn member<C: Copy>(given: &GivenChoice<C>) -> Option<C> {
    match options(given) {
        [one] => Some(*one),
        _ => None,
    }
}

/// Every member that may be meant; none when it is not written or unknown.
pub fn options<C: Copy>(given: &GivenChoice<C>) -> &[C] {
    given.as_ref().map_or(&[], |stated| stated.value.options())
}

/// Whether a terminal has a flap: by what is written of it, or since somebody saw it open or stick.
pub fn has_flap(terminal: &Terminal) -> Option<bool> {
    yes(&terminal.flap).or_else(|| yes(&terminal.flap_opens).map(|_| true))
}

/// Yes or no, where it is known.
pub fn yes(given: &GivenYesNo) -> Option<bool> {
    given.as_ref()?.value.known()
}
