//! Where labels go, so that none lies on another.

use crate::rect::{Rect, Spot};

/// Free paper kept round a label, mm.
const AIR: f64 = 0.5;
/// Free paper between a label and a heavy line, mm: half its width and some white.
const OFF_HEAVY: f64 = 0.5;

/// What is taken, and what is better left free.
#[derive(Debug, Clone)]
pub(crate) struct Places {
    /// Labels must lie inside.
    pub bounds: Rect,
    taken: Vec<Rect>,
    lines: Vec<(Spot, Spot)>,
    heavy: Vec<(Spot, Spot)>,
}

impl Places {
    pub(crate) fn new(bounds: Rect) -> Self {
        Self { bounds, taken: Vec::new(), lines: Vec::new(), heavy: Vec::new() }
    }

    /// Paper that no label may use from now on.
    pub(crate) fn take(&mut self, rect: Rect) {
        self.taken.push(rect);
    }

    /// A line that labels should rather not cross.
    pub(crate) fn spare(&mut self, from: Spot, to: Spot) {
        self.lines.push((from, to));
    }

    /// A heavy line, such as a wall: no label may lie on it.
    pub(crate) fn keep_off(&mut self, from: Spot, to: Spot) {
        self.heavy.push((from, to));
    }

    /// Whether a label may lie there.
    pub(crate) fn is_free(&self, rect: &Rect) -> bool {
        let wide = rect.grown(AIR);
        self.bounds.holds(rect)
            && !self.taken.iter().any(|taken| taken.overlaps(&wide))
            && !self.heavy.iter().any(|(from, to)| crosses(&rect.grown(OFF_HEAVY), *from, *to))
    }

    /// The best of some places: free, over as few lines as can be, early in the list. None when no one is free.
    pub(crate) fn best(&self, candidates: &[Rect]) -> Option<usize> {
        candidates
            .iter()
            .enumerate()
            .filter(|(_, rect)| self.is_free(rect))
            .min_by_key(|(place, rect)| (self.crossed(rect), *place))
            .map(|(place, _)| place)
    }

    /// How many lines that are better left free a label would cross.
    pub(crate) fn crossed(&self, rect: &Rect) -> usize {
        self.lines.iter().filter(|(from, to)| crosses(rect, *from, *to)).count()
    }
}

impl Places {
    /// How many labels a line would cross.
    pub(crate) fn covered(&self, from: Spot, to: Spot) -> usize {
        self.taken.iter().filter(|rect| crosses(rect, from, to)).count()
    }
}

impl Places {
    /// Whether a line would cross a heavy one.
    pub(crate) fn is_barred(&self, from: Spot, to: Spot) -> bool {
        self.heavy.iter().any(|(a, b)| meet([from, to], [*a, *b]))
    }
}

/// Whether two lines cross, each with its ends on either side of the other.
fn meet([a, b]: [Spot; 2], [c, d]: [Spot; 2]) -> bool {
    let side = |p: Spot, q: Spot, of: Spot| {
        (q[0] - p[0]) * (of[1] - p[1]) - (q[1] - p[1]) * (of[0] - p[0])
    };
    side(a, b, c) * side(a, b, d) < 0.0 && side(c, d, a) * side(c, d, b) < 0.0
}

/// Whether a line has a part inside a box. (Liang and Barsky, "A new concept and method for line clipping", ACM
/// Transactions on Graphics 3, 1984.)
pub(crate) fn crosses(rect: &Rect, from: Spot, to: Spot) -> bool {
    clip(rect, from, to).is_some()
}

/// The part of a line inside a box.
pub(crate) fn clip(rect: &Rect, from: Spot, to: Spot) -> Option<(Spot, Spot)> {
    let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
    for i in 0..2 {
        let run = to[i] - from[i];
        for (towards, room) in [(-run, from[i] - rect.min[i]), (run, rect.max[i] - from[i])] {
            if towards == 0.0 {
                if room < 0.0 {
                    return None;
                }
            } else if towards < 0.0 {
                enter = enter.max(room / towards);
            } else {
                leave = leave.min(room / towards);
            }
        }
    }
    let at = |share: f64| [0, 1].map(|i| from[i] + share * (to[i] - from[i]));
    (enter <= leave).then(|| (at(enter), at(leave)))
}
