//! Members of a ceiling and the bays between them.

use crate::error::{BadGeometry, Of};
use crate::geometry::{Axis, Block, TOUCH_M};

/// Most members of one zone: beyond it the spacing was typed in another unit.
pub const MEMBERS_MOST: usize = 10_000;

/// Least thickness of a member, m.
pub const THINNEST_M: f64 = 0.001;

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
    /// Thickness of a member, m: of both parts together where all are doubled.
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

/// On which side of a member its double stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Beside {
    /// Towards the first member.
    Before,
    /// Away from the first member.
    After,
}

/// A member that has another of the same size beside it, as under a wall or at an opening.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Double {
    /// Number of the member, from 1.
    pub number: usize,
    /// Where the other stands.
    pub side: Beside,
}

impl Zone {
    /// Direction in which positions of members are counted.
    pub const fn across(&self) -> Axis {
        self.along.across()
    }

    /// Whether the zone can be worked with.
    ///
    /// # Errors
    /// When the space has no size, the members stand rather than lie, are thinner than a millimetre, touch each other, are
    /// too many to be real, or the first one stands outside the space.
    pub fn check(&self) -> Result<(), BadGeometry> {
        let of = Of(&self.id);
        check_block(of, &self.space)?;
        if self.along == Axis::Z {
            return Err(of.bad(
                "direction of members",
                90.0,
                "degrees from level",
                "members of a ceiling lie level",
                "say along which wall they run",
            ));
        }
        let width = of.length("thickness of a member", self.width_m, THINNEST_M)?;
        let spacing = of.length("spacing", self.spacing_m, 0.0)?;
        if spacing - width <= TOUCH_M {
            return Err(of.bad(
                "spacing",
                spacing,
                "m",
                "it leaves nothing clear between members",
                "measure from centre to centre",
            ));
        }
        let extent = self.space.size(self.across());
        if self.first_m.is_nan() || self.first_m < -TOUCH_M || self.first_m > extent + TOUCH_M {
            return Err(of.bad(
                "first member",
                self.first_m,
                "m",
                "its centre lies outside the framing",
                "measure it from the edge of the framing",
            ));
        }
        if extent / spacing > MEMBERS_MOST as f64 {
            return Err(of.bad(
                "spacing",
                spacing,
                "m",
                "it gives more members than any ceiling has",
                "check its unit",
            ));
        }
        Ok(())
    }

    /// Members of the zone in order, named by the zone and their number from 1. One that stands on the edge fills only what
    /// lies inside the space; its bearings stand at both ends of the space.
    ///
    /// # Errors
    /// As [`Zone::check`].
    pub fn members(&self) -> Result<Vec<Member>, BadGeometry> {
        self.members_with(&[])
    }

    /// As [`Zone::members`], some of them doubled.
    ///
    /// # Errors
    /// As [`Zone::check`], and when a double has no member or no room beside it.
    pub fn members_with(&self, doubles: &[Double]) -> Result<Vec<Member>, BadGeometry> {
        self.check()?;
        let mut members: Vec<Member> =
            self.centres().enumerate().filter_map(|(k, at)| self.member(k + 1, at)).collect();
        for double in doubles {
            self.double(&mut members, *double)?;
        }
        Ok(members)
    }

    /// Bays of the zone in order, named by the zone and their number from 1: between the edge and the first member, between
    /// neighbours, and between the last member and the other edge, which may be narrow. Where nothing is clear there is none.
    ///
    /// # Errors
    /// As [`Zone::check`].
    pub fn bays(&self, zone: usize) -> Result<Vec<Bay>, BadGeometry> {
        Ok(self.bays_between(zone, &self.members()?))
    }

    /// Bays between given members of the zone, in order across it.
    pub fn bays_between(&self, zone: usize, members: &[Member]) -> Vec<Bay> {
        let a = self.across().index();
        let starts =
            std::iter::once(self.space.min[a]).chain(members.iter().map(|m| m.solid.max[a]));
        let ends = members.iter().map(|m| m.solid.min[a]).chain(std::iter::once(self.space.max[a]));
        let clear = starts.zip(ends).map(|(from, to)| {
            let mut space = self.space;
            space.min[a] = from;
            space.max[a] = to;
            space
        });
        let along = self.along;
        clear
            .filter(Block::is_sound)
            .enumerate()
            .map(|(k, space)| Bay { id: format!("{} {}", self.id, k + 1), zone, along, space })
            .collect()
    }

    /// Centre lines of members that reach into the space, across it in the frame.
    fn centres(&self) -> impl Iterator<Item = f64> {
        let a = self.across().index();
        let (least, most) = (self.space.min[a], self.space.max[a]);
        let (first, spacing, half) = (self.first_m, self.spacing_m, 0.5 * self.width_m);
        (0..=MEMBERS_MOST)
            .map(move |k| least + first + spacing * k as f64)
            .take_while(move |at| at - half < most - TOUCH_M)
    }

    /// The member at a centre line, as far as it lies in the space.
    fn member(&self, number: usize, at: f64) -> Option<Member> {
        let (a, l) = (self.across().index(), self.along.index());
        let mut solid = self.space;
        solid.min[a] = at - 0.5 * self.width_m;
        solid.max[a] = at + 0.5 * self.width_m;
        let solid = solid.shared(&self.space)?;
        Some(Member {
            id: format!("{} {number}", self.id),
            kind: self.kind,
            along: self.along,
            solid,
            span: [solid.min[l], solid.max[l]],
        })
    }

    /// Makes one member twice as thick to one side.
    fn double(&self, members: &mut [Member], double: Double) -> Result<(), BadGeometry> {
        let a = self.across().index();
        let of = Of(&self.id);
        let number = double.number as f64;
        let Some(k) = double.number.checked_sub(1).filter(|k| *k < members.len()) else {
            return Err(of.bad(
                "doubled member",
                number,
                "in order",
                "there is no such member",
                "count members from the first, from 1",
            ));
        };
        let (before, after) = (
            k.checked_sub(1).map_or(self.space.min[a], |j| members[j].solid.max[a]),
            members.get(k + 1).map_or(self.space.max[a], |next| next.solid.min[a]),
        );
        let solid = &mut members[k].solid;
        match double.side {
            Beside::Before => solid.min[a] -= self.width_m,
            Beside::After => solid.max[a] += self.width_m,
        }
        if solid.min[a] < before - TOUCH_M || solid.max[a] > after + TOUCH_M {
            return Err(of.bad(
                "doubled member",
                number,
                "in order",
                "its double has no room beside it",
                "check on which side it stands",
            ));
        }
        if members[k].kind == MemberKind::Sawn {
            members[k].kind = MemberKind::Doubled;
        }
        Ok(())
    }
}

impl Member {
    /// Height from underside to top, m.
    pub fn depth_m(&self) -> f64 {
        self.solid.size(Axis::Z)
    }

    /// Whether the member can be worked with: a member outside every zone is allowed, one without size is not.
    ///
    /// # Errors
    /// When it has no size or a place beyond any dwelling, or its bearings stand in the wrong order or outside of it.
    pub fn check(&self) -> Result<(), BadGeometry> {
        let of = Of(&self.id);
        check_block(of, &self.solid)?;
        let l = self.along.index();
        let [from, to] = self.span;
        let inside = from >= self.solid.min[l] - TOUCH_M && to <= self.solid.max[l] + TOUCH_M;
        if inside && to - from > TOUCH_M {
            Ok(())
        } else {
            Err(of.bad(
                "span",
                to - from,
                "m",
                "its bearings do not both stand under it",
                "measure them from the same corner as the member",
            ))
        }
    }
}

/// Whether a box has a size and lies where a dwelling can.
pub(crate) fn check_block(of: Of<'_>, block: &Block) -> Result<(), BadGeometry> {
    for (least, most) in block.min.into_iter().zip(block.max) {
        of.position("corner", least)?;
        of.position("corner", most)?;
        of.length("size", most - least, TOUCH_M)?;
    }
    Ok(())
}
