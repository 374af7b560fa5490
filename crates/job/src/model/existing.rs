//! What is there and may have to stay in a swap.

use dewpath_units::{Conductor, Length};

use crate::keys::Keys;
use crate::value::{Given, GivenChoice, GivenYesNo, Section};

/// What is there and may have to stay when an old fan is swapped. Wiring is checked with the circuit dead; leave
/// it to a licensed electrician where the local rules say so.
#[derive(Debug, Clone, PartialEq, Default, Keys)]
#[table(name = "existing", written = "[existing]")]
pub struct Existing {
    /// Opening in the ceiling: two sides.
    #[key(example = "8 in x 8-1/4 in")]
    pub opening: Option<[Length; 2]>,
    /// Room above the ceiling face.
    #[key(example = "7-1/2 in", possible(0.01, 10.0), usual(0.08, 2.0))]
    pub depth: Given<Length>,
    /// Collar or duct that stays.
    #[key(example = "3 in")]
    pub collar: GivenChoice<Section>,
    /// Wire that is there.
    #[key(example = "14 AWG", possible(0.05, 200.0), usual(0.75, 10.0))]
    pub wire: Given<Conductor>,
    /// Whether the box has a neutral.
    #[key(example = true)]
    pub neutral: GivenYesNo,
    /// Whether one can get at it from above.
    #[key(example = false)]
    pub access_above: GivenYesNo,
    /// Whether the hidden duct has to stay.
    #[key(example = true)]
    pub duct_stays: GivenYesNo,
}
