//! Nodes and edges by their number.

/// A node of a network.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct NodeId(pub(super) u32);

/// An edge of a network.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct EdgeId(pub(super) u32);

impl NodeId {
    /// The node made as number `index`, counted from 0.
    pub const fn from_index(index: usize) -> Self {
        Self(index as u32)
    }

    /// Its place in [`super::Solution::pressures_pa`].
    pub const fn index(self) -> usize {
        self.0 as usize
    }
}

impl EdgeId {
    /// The edge made as number `index`, counted from 0: a tee may name an edge that is added later.
    pub const fn from_index(index: usize) -> Self {
        Self(index as u32)
    }

    /// Its place in [`super::Solution::flows_m3_s`].
    pub const fn index(self) -> usize {
        self.0 as usize
    }
}
