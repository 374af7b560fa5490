//! What a humidity control reads and wants.

use super::control::{Control, HumidityControl};
use super::linear::LENGTHS;
use super::state::State;

/// Whether a humidity control wants the fan.
pub(super) fn wants(h: &HumidityControl, s: &State) -> bool {
    let over = s.reading - s.baseline;
    if s.calls {
        let by_rise = h.rise.is_some_and(|rise| over > 0.5 * rise);
        s.reading > h.off_at || by_rise
    } else {
        s.reading > h.on_at || h.rise.is_some_and(|rise| over > rise)
    }
}

/// Seconds until the control next looks at its sensor; a whole period at the moment of a look.
pub(super) fn until_look(h: &HumidityControl, time_s: u64) -> u32 {
    let period = u64::from(h.sampling_s.max(1));
    (period - time_s % period) as u32
}

/// Share of a step of `length_s` after which the reading crosses what switches the control, as if it moved along a straight
/// line; the whole step where that cannot be told.
pub(super) fn share_until_switch(h: &HumidityControl, before: &State, after: &State) -> f64 {
    let (a, b) = (before.reading, after.reading);
    let limit = if before.calls { h.off_at } else { h.on_at };
    let share = (limit - a) / (b - a);
    if (0.0..=1.0).contains(&share) { share } else { 1.0 }
}

/// `(1 - e⁻ˣ)/x`, to rounding.
pub(super) fn mean_decay(x: f64) -> f64 {
    if x < 0.02 {
        1.0 - x * (0.5 - x * (1.0 / 6.0 - x * (1.0 / 24.0 - x / 120.0)))
    } else {
        -libm::expm1(-x) / x
    }
}

/// What a lag makes of a bulge `s(1 - s)` of its input over a step of `x` time constants: `(x - 2 + (x + 2) e⁻ˣ)/x²`.
fn of_bulge(x: f64) -> f64 {
    if x < 0.05 {
        x * (1.0 / 6.0 - x * (1.0 / 12.0 - x * (1.0 / 40.0 - x * (1.0 / 180.0 - x / 1008.0))))
    } else {
        (x - 2.0 + (x + 2.0) * libm::exp(-x)) / (x * x)
    }
}

/// How a value moves over a step: from, to, and its mean on the way. Taken as a parabola.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Course {
    pub(super) from: f64,
    pub(super) to: f64,
    pub(super) mean: f64,
}

/// A first-order lag over a step of known length.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct Lag {
    /// What is left of the difference at its start.
    left: f64,
    /// Share that it stays behind an input that moves along a straight line.
    behind: f64,
    /// What it makes of a bulge.
    bulged: f64,
    /// Time constant over length.
    times: f64,
}

impl Lag {
    fn new(tau_s: f64, length_s: u32) -> Self {
        if tau_s > 0.0 {
            let x = f64::from(length_s) / tau_s;
            Self { left: libm::exp(-x), behind: mean_decay(x), bulged: of_bulge(x), times: 1.0 / x }
        } else {
            Self::default()
        }
    }

    /// How the lagging value moves behind its input.
    pub(super) fn follow(self, value: f64, input: Course) -> Course {
        let Course { from, to, mean } = input;
        let bulge = 6.0 * (mean - f64::midpoint(from, to));
        let end = to - (to - from) * self.behind + (value - from) * self.left + bulge * self.bulged;
        // τ dy/dt = u - y, summed over the step.
        Course { from: value, to: end, mean: mean - (end - value) * self.times }
    }
}

/// Lags of the sensor with the fan off and on, and of its slow mean, over each length of step.
pub(super) fn lags(control: &Control) -> [[Lag; LENGTHS.len()]; 3] {
    let Control::Humidity(h) = control else { return [[Lag::default(); LENGTHS.len()]; 3] };
    [h.lag_off_s, h.lag_on_s, h.baseline_s].map(|tau| LENGTHS.map(|length| Lag::new(tau, length)))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Against the lag's own equation in 100,000 steps of the classical kind.
    #[test]
    fn a_lag_follows_a_parabola() {
        for tau in [2.0, 60.0, 5e3] {
            let length = 6;
            let h = f64::from(LENGTHS[length]);
            let (from, to, bulge) = (0.4, 0.7, 0.2);
            let input = |t: f64| {
                let s = t / h;
                from + (to - from) * s + bulge * s * (1.0 - s)
            };
            let (mut y, mut mean, n) = (0.55, 0.0, 100_000_u32);
            let dt = h / f64::from(n);
            for i in 0..n {
                let t = dt * f64::from(i);
                let first = (input(t) - y) / tau;
                let middle = (input(t + 0.5 * dt) - (y + 0.5 * dt * first)) / tau;
                mean += (y + 0.5 * dt * first) / f64::from(n);
                y += dt * middle;
            }
            let course = Course { from, to, mean: f64::midpoint(from, to) + bulge / 6.0 };
            let ours = Lag::new(tau, LENGTHS[length]).follow(0.55, course);
            assert!((ours.to - y).abs() < 1e-8, "{tau}: {} against {y}", ours.to);
            assert!((ours.mean - mean).abs() < 1e-7, "{tau}: {} against {mean}", ours.mean);
        }
    }

    #[test]
    fn the_series_of_a_bulge_meets_its_formula() {
        let formula = |x: f64| (x - 2.0 + (x + 2.0) * libm::exp(-x)) / (x * x);
        assert!((of_bulge(0.049_999) - formula(0.049_999)).abs() < 1e-11);
    }
}
