//! Bays and spaces with what reaches into them, and coordinates in order.

use crate::geometry::{Block, TOUCH_M};

/// A bay or a space.
#[derive(Debug, Clone)]
pub(super) struct Region<'a> {
    pub(super) id: &'a str,
    pub(super) clear: Block,
    pub(super) is_bay: bool,
    /// Members, and obstacles by their number, that reach into it.
    pub(super) blockers: Vec<(Block, Option<usize>)>,
}

/// Coordinates in order, those that fall together once.
pub(super) fn in_order(mut all: Vec<f64>) -> Vec<f64> {
    all.sort_by(f64::total_cmp);
    all.dedup_by(|next, kept| *next - *kept <= TOUCH_M);
    all
}
