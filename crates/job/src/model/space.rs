//! Spaces that a duct may pass through, and what is in the way.

use crate::category::category;
use crate::keys::Keys;
use crate::value::{GivenChoice, GivenPlace};

/// A space that a duct may pass through, beside the bays between members.
#[derive(Debug, Clone, PartialEq, Keys)]
#[table(name = "space", written = "[[space]]")]
pub struct Space {
    /// Stable id; may be left out when there is only one.
    #[key(id, example = "attic-space")]
    pub id: String,
    /// What it is.
    #[key(example = "attic")]
    pub kind: GivenChoice<SpaceKind>,
    /// Its corner with the least x, y and z.
    #[key(example = ["0 ft", "0 ft", "8 ft 9-1/4 in"])]
    pub at: GivenPlace<3>,
    /// Its extent along x, y and z.
    #[key(example = ["30 ft", "24 ft", "5 ft"], extent)]
    pub size: GivenPlace<3>,
}

category! {
    /// Kind of a space.
    pub enum SpaceKind {
        /// Attic.
        Attic = "attic",
        /// A boxed-in drop below a ceiling.
        Soffit = "soffit" | "soffit drop",
        /// Chase.
        Chase = "chase",
        /// Crawl space.
        Crawl = "crawl" | "crawl space",
    }
}

/// Something that is in the way, as a box.
#[derive(Debug, Clone, PartialEq, Keys)]
#[table(name = "obstacle", written = "[[obstacle]]")]
pub struct Obstacle {
    /// Stable id; may be left out when there is only one.
    #[key(id, example = "ceiling-light")]
    pub id: String,
    /// What it is.
    #[key(example = "light")]
    pub kind: GivenChoice<ObstacleKind>,
    /// Its corner with the least x, y and z.
    #[key(example = ["4 ft", "2 ft", "8 ft"])]
    pub at: GivenPlace<3>,
    /// Its extent along x, y and z.
    #[key(example = ["8 in", "8 in", "6 in"], extent)]
    pub size: GivenPlace<3>,
}

category! {
    /// Kind of something that is in the way.
    pub enum ObstacleKind {
        /// Light.
        Light = "light",
        /// Pipe.
        Pipe = "pipe",
        /// Another duct.
        Duct = "duct",
        /// Beam.
        Beam = "beam",
        /// Outlet or junction box.
        Outlet = "outlet" | "junction box",
        /// Anything else.
        Other = "other",
    }
}
