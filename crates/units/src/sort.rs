//! Sorting, compiled once for every kind of thing: the copies of the general sort were a tenth of what a page loads.

use std::cmp::Ordering;

/// Sorts as `slice::sort_by` does; equal ones keep their order.
///
/// ```
/// let mut rooms = [("hall", 2), ("bath", 1), ("attic", 2)];
/// dewpath_units::sort::by(&mut rooms, |a, b| b.1.cmp(&a.1));
/// assert_eq!(rooms, [("hall", 2), ("attic", 2), ("bath", 1)]);
/// ```
pub fn by<T>(items: &mut [T], compare: impl Fn(&T, &T) -> Ordering) {
    let mut order = order(items.len(), &|a, b| compare(&items[a], &items[b]));
    // Each ring of places that give to one another is gone round once.
    for start in 0..items.len() {
        let mut to = start;
        while order[to] != start {
            let from = std::mem::replace(&mut order[to], to);
            items.swap(to, from);
            to = from;
        }
        order[to] = to;
    }
}

/// Sorts as `slice::sort_by_key` does; equal ones keep their order.
pub fn by_key<T, K: Ord>(items: &mut [T], key: impl Fn(&T) -> K) {
    by(items, |a, b| key(a).cmp(&key(b)));
}

/// The places 0 to `count` in their order; equal ones keep theirs.
pub fn order(count: usize, compare: &dyn Fn(usize, usize) -> Ordering) -> Vec<usize> {
    let mut order: Vec<usize> = (0..count).collect();
    order.sort_by(|&a, &b| compare(a, b));
    order
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn sorts_as_the_general_sort_does(keys in prop::collection::vec(0..9_u8, 0..90)) {
            let mut ours: Vec<(u8, usize)> = keys.into_iter().zip(0..).collect();
            let mut theirs = ours.clone();
            super::by_key(&mut ours, |one| one.0);
            theirs.sort_by_key(|one| one.0);
            prop_assert_eq!(ours, theirs);
        }
    }
}
