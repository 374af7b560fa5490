//! Steps towards the root of one equation.

use super::solve::NOMINAL_FLOW;
use crate::fan::{FanCurve, root_between};

/// What one more Newton step leaves of a residual, told from how far the last step brought it.
///
/// Near the answer a step that shrank the residual by a factor shrinks it by more the next time. Only a thousandfold
/// fall counts, and it counts a hundredfold less than it promises; else the residual as it is.
#[inline]
pub(super) fn left_after_step(residual: f64, before: f64) -> f64 {
    let fall = residual / before;
    if fall > 0.0 && fall < 1e-3 { residual * (100.0 * fall).min(1.0) } else { residual }
}

/// A function at one flow.
#[derive(Clone, Copy, Debug)]
pub(super) struct Sample {
    pub(super) q: f64,
    pub(super) value: f64,
    pub(super) slope: f64,
}

/// The next flow to try: by the inverse cubic through the last two samples, which needs a step less than Newton, by
/// Newton where there is one sample, or the middle of the bracket, or further out while one side is open.
#[inline]
pub(super) fn next_flow(here: Sample, last: Option<Sample>, low: f64, high: f64) -> f64 {
    let inside = |q: f64| q > low && q < high;
    if here.slope > 0.0 {
        // A nearly level curve would throw the step out of sight.
        let reach = 4.0 * here.q.abs().max(NOMINAL_FLOW);
        if let Some(cubic) = last.and_then(|last| inverse_cubic(last, here))
            && inside(cubic)
            && (cubic - here.q).abs() <= reach
        {
            return cubic;
        }
        let newton = here.q - here.value / here.slope;
        if inside(newton) {
            return newton.clamp(here.q - reach, here.q + reach);
        }
    }
    if low.is_finite() && high.is_finite() {
        return 0.5 * (low + high);
    }
    let reach = here.q.abs().max(NOMINAL_FLOW);
    if here.value < 0.0 { here.q + reach } else { here.q - reach }
}

/// Where the cubic of flow over value through two samples, with their slopes, has the value zero.
///
/// Trusted only where the value shrank at least tenfold, so that the samples lie close to the root.
#[inline]
fn inverse_cubic(a: Sample, b: Sample) -> Option<f64> {
    if a.slope <= 0.0 || b.value.abs() > 0.1 * a.value.abs() {
        return None;
    }
    let width = b.value - a.value;
    let t = -a.value / width;
    let left = 1.0 - t;
    let by_value = (1.0 + 2.0 * t) * left * left * a.q + t * t * (3.0 - 2.0 * t) * b.q;
    let by_slope = t * left * width * (left / a.slope - t / b.slope);
    Some(by_value + by_slope)
}

/// The highest flow at which the excess of loss over drive turns positive.
pub(super) fn highest_stable<'fan>(
    excess: &impl Fn(f64) -> (f64, f64),
    fans: impl Iterator<Item = &'fan FanCurve>,
) -> Option<f64> {
    let mut flows: Vec<f64> = fans.flat_map(FanCurve::scan_flows).collect();
    flows.sort_by(f64::total_cmp);
    let pair =
        flows.windows(2).rev().find(|pair| excess(pair[0]).0 < 0.0 && excess(pair[1]).0 >= 0.0)?;
    Some(root_between(excess, pair[0], pair[1]))
}
