//! Members of a ceiling and the bays between them.

use crate::geometry::{Axis, Block};

/// Kind of a member.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MemberKind {
    /// Sawn joist or rafter.
    Sawn,
    /// Two sawn members side by side.
    Doubled,
    /// I-joist: its maker says what may be cut.
    IJoist,
    /// Truss: nothing may be cut.
    Truss,
    /// Laminated or otherwise engineered: its maker says what may be cut.
    Engineered,
    /// Steel joist: its maker says what may be cut; factory openings may be used.
    Steel,
}

/// A member.
#[derive(Debug, Clone, PartialEq)]
pub struct Member {
    /// Name, unique in the job.
    pub id: String,
    /// Kind.
    pub kind: MemberKind,
    /// Direction in which it runs.
    pub along: Axis,
    /// What it fills.
    pub solid: Block,
    /// Where along it the bearings stand, from and to, m in the frame.
    pub span: [f64; 2],
}

/// A part of a ceiling in which members run one way at one spacing.
#[derive(Debug, Clone, PartialEq)]
pub struct Zone {
    /// Name, unique in the job.
    pub id: String,
    /// Kind of its members.
    pub kind: MemberKind,
    /// Direction in which they run.
    pub along: Axis,
    /// The ceiling space: from the underside of the members to their top.
    pub space: Block,
    /// Thickness of a member, m.
    pub width_m: f64,
    /// From centre to centre, m.
    pub spacing_m: f64,
    /// Centre of the first member, measured across from the least face of the space, m.
    pub first_m: f64,
}

/// Space between two neighbouring members, or between a member and the edge of its zone.
#[derive(Debug, Clone, PartialEq)]
pub struct Bay {
    /// Name: that of the zone and its number, from 1.
    pub id: String,
    /// Index of the zone.
    pub zone: usize,
    /// Direction in which its members run.
    pub along: Axis,
    /// The clear space.
    pub space: Block,
}
