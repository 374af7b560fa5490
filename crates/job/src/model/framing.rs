//! Members of floors and ceilings.

use dewpath_units::{Choice, Length};

use crate::category::category;
use crate::keys::Keys;
use crate::limits::LEVEL;
use crate::model::plan::{Along, Separation};
use crate::value::{Given, GivenChoice, GivenCount, GivenPlace, place_known};

/// A part of a floor or ceiling in which members run one way at one spacing. Where they change direction, as over
/// a bearing wall, write one for each part.
#[derive(Debug, Clone, PartialEq, Keys)]
#[table(name = "framing", written = "[[framing]]")]
pub struct Framing {
    /// Stable id; may be left out when there is only one.
    #[key(id, example = "joists")]
    pub id: String,
    /// Kind of its members. Trusses, I-joists and other engineered members are never cut without their maker's
    /// chart.
    #[key(example = "sawn joist")]
    pub kind: GivenChoice<FramingKind>,
    /// Nominal size of sawn members; the actual one follows (PS 20).
    #[key(example = "2x10")]
    pub size: GivenChoice<LumberSize>,
    /// Actual width and depth of a member, measured; it goes before `size`.
    #[key(example = ["1-1/2 in", "9-1/4 in"], extent)]
    pub actual: GivenPlace<2>,
    /// From centre to centre.
    #[key(example = "16 in", possible(0.03, 5.0), usual(0.25, 0.7))]
    pub spacing: Given<Length>,
    /// Direction in which the members run.
    #[key(example = "y")]
    pub direction: GivenChoice<Along>,
    /// Centre of the first member from the edge of this part with the least x or y, measured across the members.
    #[key(example = "15-1/4 in", possible(0.0, 5.0), usual(0.0, 0.7))]
    pub first: Given<Length>,
    /// Its corner with the least x and y.
    #[key(example = ["0 ft", "0 ft"])]
    pub at: GivenPlace<2>,
    /// Its extent along x and y.
    #[key(example = ["12 ft", "14 ft"], extent)]
    pub extent: GivenPlace<2>,
    /// Level of the underside of its members; when left out they lie on the boards of the ceiling of the room
    /// below.
    #[key(example = "8 ft", signed, limits = LEVEL)]
    pub bottom: Given<Length>,
    /// Where the two bearings of a member stand, along it: along x where the members run along x, else along y.
    #[key(example = ["0 ft", "14 ft"])]
    pub bearings: GivenPlace<2>,
    /// Clear span of a member, where the bearings are not written.
    #[key(example = "13 ft 5 in", possible(0.1, 60.0), usual(0.6, 8.0))]
    pub span: Given<Length>,
    /// What is above.
    #[key(example = "heated")]
    pub above: GivenChoice<Above>,
    /// What it must keep apart by a rule, if anything: a garage, another dwelling, a townhouse; local rules
    /// decide.
    #[key(example = "none")]
    pub separation: GivenChoice<Separation>,
    /// A member with another one of its size beside it, as under a wall or at an opening.
    #[key(name = "double", example = { member = 3, side = "after" })]
    pub doubles: Vec<DoubledMember>,
}

impl Framing {
    /// Actual width and depth of a member: as written, else that of its nominal size where it is known.
    pub fn actual_size(&self) -> Option<[Length; 2]> {
        if self.actual.is_some() {
            return place_known(&self.actual);
        }
        match self.size.as_ref().map(|stated| &stated.value) {
            Some(Choice::Known(size)) => Some(size.actual()),
            _ => None,
        }
    }
}

category! {
    /// Kind of members.
    pub enum FramingKind {
        /// Sawn joists or rafters.
        Sawn = "sawn joist" | "sawn" | "rafter",
        /// Sawn joists, each of them doubled.
        Doubled = "doubled" | "doubled joist",
        /// I-joists.
        IJoist = "i-joist",
        /// Trusses.
        Truss = "truss",
        /// Laminated or otherwise engineered timber.
        Engineered = "engineered",
        /// Steel joists.
        Steel = "steel",
    }
}

category! {
    /// What lies above a ceiling.
    pub enum Above {
        /// A heated floor of the same dwelling.
        Heated = "heated" | "heated floor",
        /// An attic outside the insulation.
        Attic = "attic",
        /// A flat roof.
        FlatRoof = "flat roof",
        /// Another dwelling.
        Dwelling = "dwelling" | "another dwelling",
    }
}

category! {
    /// Nominal size of softwood lumber.
    pub enum LumberSize {
        /// 2x4.
        TwoByFour = "2x4" | "2 x 4",
        /// 2x6.
        TwoBySix = "2x6" | "2 x 6",
        /// 2x8.
        TwoByEight = "2x8" | "2 x 8",
        /// 2x10.
        TwoByTen = "2x10" | "2 x 10",
        /// 2x12.
        TwoByTwelve = "2x12" | "2 x 12",
    }
}

impl LumberSize {
    /// Actual width and depth of dry, dressed lumber (PS 20: 1-1/2 in by 3-1/2, 5-1/2, 7-1/4, 9-1/4 or 11-1/4 in).
    pub fn actual(self) -> [Length; 2] {
        let depth_in = match self {
            Self::TwoByFour => 3.5,
            Self::TwoBySix => 5.5,
            Self::TwoByEight => 7.25,
            Self::TwoByTen => 9.25,
            Self::TwoByTwelve => 11.25,
        };
        [Length::from_inches(1.5), Length::from_inches(depth_in)]
    }
}

/// A member with another one of its size beside it.
#[derive(Debug, Clone, PartialEq, Keys)]
#[table(name = "double", written = "[[framing.double]]")]
pub struct DoubledMember {
    /// Number of the member from the first, from 1.
    #[key(example = 3, possible(10_000), usual(60))]
    pub member: GivenCount,
    /// On which side of it the other one stands: towards the first member is before.
    #[key(example = "after")]
    pub side: GivenChoice<DoubleSide>,
}

category! {
    /// On which side of a member its double stands.
    pub enum DoubleSide {
        /// Towards the first member.
        Before = "before",
        /// Away from the first member.
        After = "after",
    }
}
