//! Roots of one equation: flow at which a loss meets what drives it.

/// Smallest slope a step is taken with, Pa s/m3: an opening so wide that its loss can't be measured.
pub(crate) const LEAST_SLOPE: f64 = 1e-4;

/// Flow at which losses are first looked at, m3/s, where no fan tells a better one.
pub(crate) const NOMINAL_FLOW: f64 = 0.02;

/// How close a solve must come.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tolerance {
    /// Largest pressure residual of an edge, Pa.
    pub pressure_pa: f64,
    /// Largest mass residual of a node, m3/s.
    pub mass_m3_s: f64,
    /// Most Newton steps.
    pub iterations: usize,
}

impl Default for Tolerance {
    fn default() -> Self {
        Self { pressure_pa: 1e-7, mass_m3_s: 1e-9, iterations: 200 }
    }
}

/// A root and how it was found.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Root {
    pub(crate) q: f64,
    pub(crate) slope: f64,
    /// What is left of the residual, Pa.
    pub(crate) left: f64,
    pub(crate) steps: usize,
}

/// Why no root was found.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Stuck {
    NotFinite { q: f64 },
    Unfinished { value: f64 },
}

/// The root of a function of flow (m3/s) in Pa, from `q`: Newton, kept between the closest flows of either sign.
#[inline]
pub(crate) fn find_root(
    excess: &impl Fn(f64) -> (f64, f64),
    mut q: f64,
    tolerance: &Tolerance,
) -> Result<Root, Stuck> {
    let mut low = f64::NEG_INFINITY;
    let mut high = f64::INFINITY;
    let mut last: Option<Sample> = None;
    for steps in 1..=tolerance.iterations {
        let (value, slope) = excess(q);
        if !value.is_finite() || !slope.is_finite() {
            return Err(Stuck::NotFinite { q });
        }
        let before = last.map_or(f64::INFINITY, |last| last.value.abs());
        let left = left_after_step(value.abs(), before);
        if left <= tolerance.pressure_pa {
            // One more step costs nothing and squares the error.
            let q = if slope > LEAST_SLOPE { q - value / slope } else { q };
            return Ok(Root { q, slope, left, steps });
        }
        if value < 0.0 {
            low = low.max(q);
        } else {
            high = high.min(q);
        }
        let here = Sample { q, value, slope };
        q = next_flow(here, last, low, high);
        last = Some(here);
    }
    Err(Stuck::Unfinished { value: last.map_or(f64::NAN, |last| last.value) })
}

/// What one more Newton step leaves of a residual, told from how far the last step brought it.
///
/// Near the answer a step that shrank the residual by a factor shrinks it by more the next time. Only a thousandfold
/// fall counts, and it counts a hundredfold less than it promises; else the residual as it is.
#[inline]
pub(crate) fn left_after_step(residual: f64, before: f64) -> f64 {
    let fall = residual / before;
    if fall > 0.0 && fall < 1e-3 { residual * (100.0 * fall).min(1.0) } else { residual }
}

/// A function at one flow.
#[derive(Clone, Copy, Debug)]
struct Sample {
    q: f64,
    value: f64,
    slope: f64,
}

/// The next flow to try: by the inverse cubic through the last two samples, which needs a step less than Newton, by
/// Newton where there is one sample, or the middle of the bracket, or further out while one side is open.
#[inline]
fn next_flow(here: Sample, last: Option<Sample>, low: f64, high: f64) -> f64 {
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

/// The root of a function with opposite signs at `low` and `high`: Newton, kept inside the bracket.
pub(crate) fn root_between(f: &impl Fn(f64) -> (f64, f64), mut low: f64, mut high: f64) -> f64 {
    let low_is_negative = f(low).0 < 0.0;
    let mut x = 0.5 * (low + high);
    for _ in 0..200 {
        let (value, slope) = f(x);
        if value == 0.0 {
            return x;
        }
        if (value < 0.0) == low_is_negative {
            low = x;
        } else {
            high = x;
        }
        let newton = x - value / slope;
        let next = if newton > low.min(high) && newton < low.max(high) {
            newton
        } else {
            0.5 * (low + high)
        };
        // Also true once the bracket has no number left inside.
        if (next - x).abs() <= 1e-15 * x.abs() {
            return next;
        }
        x = next;
    }
    x
}
