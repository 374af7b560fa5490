//! Exponentials fitted to the humidity ratio itself.

use super::error::DecayError;
use super::fit::{Fit, autocorrelation, inflation};
use super::line::log_linear;
use super::squares::{Solution, fit};
use super::student::quantile_975;
use super::trace::{Background, Excess, Trace, mean_background};

/// Rates that a search starts from, per decade.
const STARTS_PER_DECADE: usize = 8;

/// Least squares on W: W = W_m + A·e^(−n·t), the background known. All points count the same.
///
/// Half-widths from the linearised model at the solution, as is usual for non-linear regression (Bates & Watts 1988,
/// Nonlinear Regression Analysis and Its Applications, ch. 2; from memory).
/// Valid: three points or more; points below the background are used too.
///
/// # Errors
/// [`DecayError::TooFewPoints`], [`DecayError::Undetermined`], [`DecayError::LengthsDiffer`], [`DecayError::NotANumber`].
pub fn exponential(trace: &Trace, background: Background<'_>) -> Result<Fit, DecayError> {
    one_exponential(&trace.excess(background)?).map(|(fit, _)| fit)
}

/// Least squares on W: W = W∞ + A·e^(−n·t), the background unknown and fitted.
///
/// The record must last longer than about 1.5 time constants: over less, background and rate do the same to the curve and the
/// half-width grows several times (12 minutes at 6 per hour: ±1.5 per hour).
/// Valid: four points or more.
///
/// # Errors
/// As [`exponential`].
pub fn exponential_above_unknown(trace: &Trace) -> Result<Fit, DecayError> {
    let points = trace.excess(Background::Constant(0.0))?;
    let (times, values, scale) = scaled(&points, 4)?;
    let mut best: Option<(f64, [f64; 3])> = None;
    for rate in starts(&times) {
        let shape: Vec<f64> = times.iter().map(|t| libm::exp(-rate * t)).collect();
        if let Some((offset, factor)) = straight(&shape, &values) {
            let left = values.iter().zip(&shape).map(|(y, x)| y - offset - factor * x);
            keep_better(&mut best, left.map(|r| r * r).sum(), [offset, factor, rate]);
        }
    }
    let what = "a rate and a background apart from each other";
    let (_, start) = best.ok_or(DecayError::Undetermined { what })?;
    let solution = fit(&times, &values, start, what, |t, [offset, factor, rate]| {
        let shape = libm::exp(-rate * t);
        (offset + factor * shape, [1.0, shape, -factor * t * shape])
    })?;
    let [offset, factor, _] = solution.parameters;
    Ok(told(&solution, 2, &values, factor * scale, offset * scale))
}

/// One decay or two: the air that is exchanged, and the tail of walls and towels that dry.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FastAndSlow {
    /// One exponential through all points.
    pub single: Fit,
    /// Straight line through the logarithm over the first time constant only (until the excess has fallen to 1/e of its
    /// first value); `None` where that holds fewer than three points. It still holds some of the tail.
    pub first_time_constant: Option<Fit>,
    /// Rate of the fast part of two exponentials, 1/h.
    pub fast_per_h: f64,
    /// Its 95 % half-width, 1/h, widened for residuals that follow each other.
    pub fast_half_width_per_h: f64,
    /// Rate of the slow part, 1/h: no ventilation can be claimed from it.
    pub slow_per_h: f64,
    /// Share of the slow part in the excess at the first point, 0 to 1.
    pub tail_ratio: f64,
    /// Akaike's criterion of one exponential, corrected for few points.
    pub aicc_single: f64,
    /// The same of two.
    pub aicc_double: f64,
}

impl FastAndSlow {
    /// Whether two exponentials describe the record clearly better: their criterion is lower by more than 2 (below that,
    /// both models have substantial support; Burnham & Anderson 2002, Model Selection and Multimodel Inference, sect. 2.6;
    /// from memory).
    pub fn has_tail(&self) -> bool {
        self.aicc_single - self.aicc_double > 2.0
    }
}

/// Fits two exponentials above a known background, W = W_m + A·e^(−a·t) + B·e^(−b·t) with a > b, and compares them with one.
///
/// The criterion is AICc = N·ln(SS/N) + 2k + 2k(k + 1)/(N − k − 1), k counting the variance too (Hurvich & Tsai 1989, Biometrika
/// 76(2); from memory).
/// Valid: seven points or more; both parts positive.
///
/// # Errors
/// As [`exponential`]; [`DecayError::Undetermined`] where the record is not the sum of two positive decays.
pub fn fast_and_slow(trace: &Trace, background: Background<'_>) -> Result<FastAndSlow, DecayError> {
    const WHAT: &str = "a fast and a slow decay apart from each other";
    let points = trace.excess(background)?;
    let (times, values, _) = scaled(&points, 7)?;
    let (single, single_squares) = one_exponential(&points)?;
    let mut best: Option<(f64, [f64; 4])> = None;
    let rates = starts(&times);
    let shapes: Vec<Vec<f64>> =
        rates.iter().map(|rate| times.iter().map(|t| libm::exp(-rate * t)).collect()).collect();
    for slow in 0..rates.len() {
        for fast in slow + 1..rates.len() {
            let Some((a, b)) = two_parts(&shapes[fast], &shapes[slow], &values) else { continue };
            if a > 0.0 && b > 0.0 {
                let parts = shapes[fast].iter().zip(&shapes[slow]).zip(&values);
                let left: f64 = parts.map(|((x, z), y)| y - a * x - b * z).map(|r| r * r).sum();
                keep_better(&mut best, left, [a, rates[fast], b, rates[slow]]);
            }
        }
    }
    let (_, start) = best.ok_or(DecayError::Undetermined { what: WHAT })?;
    let solution = fit(&times, &values, start, WHAT, |t, [a, fast, b, slow]| {
        let (x, z) = (libm::exp(-fast * t), libm::exp(-slow * t));
        (a * x + b * z, [x, -a * t * x, z, -b * t * z])
    })?;
    let [a, one, b, other] = solution.parameters;
    if a <= 0.0 || b <= 0.0 {
        return Err(DecayError::Undetermined { what: WHAT });
    }
    let (fast, slow, tail, fast_spread) = if one >= other {
        (one, other, b, solution.spread[1])
    } else {
        (other, one, a, solution.spread[3])
    };
    let freedom = values.len() - 4;
    let error = (solution.squares() / freedom as f64 * fast_spread).sqrt();
    let wide = inflation(autocorrelation(&solution.residuals));
    Ok(FastAndSlow {
        single,
        first_time_constant: over_first_time_constant(trace, background, &points),
        fast_per_h: fast,
        fast_half_width_per_h: quantile_975(freedom) * error * wide,
        slow_per_h: slow,
        tail_ratio: tail / (a + b),
        aicc_single: aicc(single_squares, values.len(), 3),
        aicc_double: aicc(solution.squares(), values.len(), 5),
    })
}

fn over_first_time_constant(
    trace: &Trace,
    background: Background<'_>,
    points: &[Excess],
) -> Option<Fit> {
    let first = points.first()?.above;
    log_linear(trace, background, first / std::f64::consts::E).ok()
}

/// The fit, and the sum of squares that is left of the scaled values.
fn one_exponential(points: &[Excess]) -> Result<(Fit, f64), DecayError> {
    let (times, values, scale) = scaled(points, 3)?;
    let mut best: Option<(f64, [f64; 2])> = None;
    for rate in starts(&times) {
        let shape = times.iter().map(|t| libm::exp(-rate * t));
        let (mut xx, mut xy) = (0.0, 0.0);
        for (x, y) in shape.clone().zip(&values) {
            xx += x * x;
            xy += x * y;
        }
        let factor = xy / xx;
        let left = shape.zip(&values).map(|(x, y)| y - factor * x).map(|r| r * r).sum();
        keep_better(&mut best, left, [factor, rate]);
    }
    let what = "a rate";
    let (_, start) = best.ok_or(DecayError::Undetermined { what })?;
    let solution = fit(&times, &values, start, what, |t, [factor, rate]| {
        let shape = libm::exp(-rate * t);
        (factor * shape, [shape, -factor * t * shape])
    })?;
    let fit = told(&solution, 1, &values, solution.parameters[0] * scale, mean_background(points));
    Ok((fit, solution.squares()))
}

/// Hours, excess over its largest size, and that size in kg/kg.
fn scaled(points: &[Excess], needed: usize) -> Result<(Vec<f64>, Vec<f64>, f64), DecayError> {
    let found = points.len();
    if found < needed {
        return Err(DecayError::TooFewPoints { found, needed });
    }
    let scale = points.iter().map(|point| point.above.abs()).fold(0.0, f64::max);
    if scale <= 0.0 {
        return Err(DecayError::Undetermined { what: "a decay in air without any excess" });
    }
    let times = points.iter().map(|point| point.time_h).collect();
    let values = points.iter().map(|point| point.above / scale).collect();
    Ok((times, values, scale))
}

/// Rates to start from, 1/h, rising: from a thirtieth of the record's inverse length to three times that of its shortest
/// interval.
fn starts(times: &[f64]) -> Vec<f64> {
    let length = times.last().copied().unwrap_or(1.0);
    let shortest = times.windows(2).map(|pair| pair[1] - pair[0]).fold(length, f64::min);
    let (low, high) = (1.0 / (30.0 * length), 3.0 / shortest);
    let decades = libm::log10(high / low);
    let count = ((decades * STARTS_PER_DECADE as f64) as usize).clamp(2, 120);
    (0..=count).map(|step| low * libm::pow(10.0, decades * step as f64 / count as f64)).collect()
}

fn keep_better<const P: usize>(best: &mut Option<(f64, [f64; P])>, left: f64, start: [f64; P]) {
    if left.is_finite() && best.is_none_or(|(least, _)| left < least) {
        *best = Some((left, start));
    }
}

/// Offset and factor of the straight line y = offset + factor·x.
fn straight(x: &[f64], y: &[f64]) -> Option<(f64, f64)> {
    let ones = vec![1.0; x.len()];
    two_parts(&ones, x, y)
}

/// Factors of the sum y = a·x + b·z closest to y; `None` where x and z cannot be told apart.
fn two_parts(x: &[f64], z: &[f64], y: &[f64]) -> Option<(f64, f64)> {
    let dot = |a: &[f64], b: &[f64]| a.iter().zip(b).map(|(a, b)| a * b).sum::<f64>();
    let (xx, xz, zz) = (dot(x, x), dot(x, z), dot(z, z));
    let (xy, zy) = (dot(x, y), dot(z, y));
    let determinant = xx * zz - xz * xz;
    (determinant > 1e-12 * xx * zz)
        .then(|| ((xy * zz - zy * xz) / determinant, (zy * xx - xy * xz) / determinant))
}

/// What a solution says of its rate, the parameter number `rate`.
fn told<const P: usize>(
    solution: &Solution<P>,
    rate: usize,
    values: &[f64],
    excess: f64,
    background: f64,
) -> Fit {
    let freedom = (values.len() - P).max(1);
    let squares = solution.squares();
    let error = (squares / freedom as f64 * solution.spread[rate]).sqrt();
    // With as many parameters as points there is no scatter to tell a width from; callers ask for more points.
    let half_width = quantile_975(freedom) * error;
    let autocorrelation_ratio = autocorrelation(&solution.residuals);
    let mean = values.iter().sum::<f64>() / values.len() as f64;
    let total: f64 = values.iter().map(|y| (y - mean) * (y - mean)).sum();
    Fit {
        rate_per_h: solution.parameters[rate],
        half_width_per_h: half_width * inflation(autocorrelation_ratio),
        half_width_independent_per_h: half_width,
        autocorrelation_ratio,
        excess,
        background,
        r_squared_ratio: if total > 0.0 { 1.0 - squares / total } else { 1.0 },
        points: values.len(),
    }
}

/// Akaike's criterion for `count` points with `k` parameters; values are scaled to 1, and a fit within their rounding is exact.
fn aicc(squares: f64, count: usize, k: usize) -> f64 {
    let (n, k) = (count as f64, k as f64);
    let variance = (squares / n).max(1e-24);
    n * libm::log(variance) + 2.0 * k + 2.0 * k * (k + 1.0) / (n - k - 1.0)
}
