//! Loss and work as whole numbers.

/// Counts of a pascal and of an hour: sums of whole numbers compare the same on every machine.
const PER_UNIT: f64 = 1e9;

/// Loss and work, in billionths of a pascal and of an hour.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub(super) struct Cost {
    pub(super) loss: u64,
    pub(super) work: u64,
}

impl Cost {
    /// Rounded up, so that bounds that are rounded down stay below.
    pub(super) fn up(loss: f64, work: f64) -> Self {
        let count = |v: f64| libm::ceil(v.max(0.0) * PER_UNIT) as u64;
        Self { loss: count(loss), work: count(work) }
    }

    /// Rounded down, for bounds.
    pub(super) fn down(loss: f64, work: f64) -> Self {
        let count = |v: f64| libm::floor(v.max(0.0) * PER_UNIT) as u64;
        Self { loss: count(loss), work: count(work) }
    }

    pub(super) const fn plus(self, other: Self) -> Self {
        Self { loss: self.loss + other.loss, work: self.work + other.work }
    }

    /// Both in one number that orders by one of them, then by the other.
    pub(super) fn packed(self, first: First) -> u128 {
        let [high, low] = match first {
            First::Loss => [self.loss, self.work],
            First::Work => [self.work, self.loss],
        };
        (u128::from(high) << 64) + u128::from(low)
    }
}

/// Which of the two costs counts before the other.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum First {
    Loss,
    Work,
}
