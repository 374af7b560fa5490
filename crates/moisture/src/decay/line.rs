//! Straight lines through the logarithm of the excess.

use super::error::DecayError;
use super::fit::{Fit, autocorrelation, inflation};
use super::student::quantile_975;
use super::trace::{Background, Excess, Trace, mean_background};

/// Least squares on ln(W − W_m), every point counting the same.
///
/// Points are used from the first on until the excess is `least_excess` or less (kg/kg): further on, noise decides which points
/// have a logarithm at all. Since ln blows noise up where little excess is left, [`log_linear_weighted`] or [`exponential`](super::exponential)
/// are better where the noise of W is even; this form is the one that tracer-gas decays are commonly evaluated with.
///
/// Source: ASTM E741 (regression of the logarithm, confidence of its slope; from memory).
/// Valid: three points or more.
///
/// # Errors
/// [`DecayError::TooFewPoints`], [`DecayError::LengthsDiffer`], [`DecayError::NotANumber`].
pub fn log_linear(
    trace: &Trace,
    background: Background<'_>,
    least_excess: f64,
) -> Result<Fit, DecayError> {
    line(&used(trace, background, least_excess)?, |_| 1.0)
}

/// Least squares on ln(W − W_m), each point weighted by (W − W_m)²: right where the noise of W is the same throughout, since the
/// variance of the logarithm is then σ²/(W − W_m)².
///
/// Points and errors as [`log_linear`].
///
/// # Errors
/// As [`log_linear`].
pub fn log_linear_weighted(
    trace: &Trace,
    background: Background<'_>,
    least_excess: f64,
) -> Result<Fit, DecayError> {
    line(&used(trace, background, least_excess)?, |excess| excess * excess)
}

fn used(
    trace: &Trace,
    background: Background<'_>,
    least_excess: f64,
) -> Result<Vec<Excess>, DecayError> {
    let least = least_excess.max(0.0);
    let all = trace.excess(background)?;
    Ok(all.into_iter().take_while(|point| point.above > least).collect())
}

fn line(points: &[Excess], weight: impl Fn(f64) -> f64) -> Result<Fit, DecayError> {
    const NEEDED: usize = 3;
    let count = points.len();
    if count < NEEDED {
        return Err(DecayError::TooFewPoints { found: count, needed: NEEDED });
    }
    let rows: Vec<[f64; 3]> = points
        .iter()
        .map(|point| [weight(point.above), point.time_h, libm::log(point.above)])
        .collect();
    let mean = |column: usize| {
        let total: f64 = rows.iter().map(|row| row[0]).sum();
        rows.iter().map(|row| row[0] * row[column]).sum::<f64>() / total
    };
    let (x_mean, y_mean) = (mean(1), mean(2));
    let moment = |a: usize, b: usize| -> f64 {
        let middle = [0.0, x_mean, y_mean];
        rows.iter().map(|row| row[0] * (row[a] - middle[a]) * (row[b] - middle[b])).sum()
    };
    let (xx, xy, yy) = (moment(1, 1), moment(1, 2), moment(2, 2));
    let slope = xy / xx;
    let start = y_mean - slope * x_mean;
    if !slope.is_finite() || !start.is_finite() {
        return Err(DecayError::Undetermined { what: "a slope" });
    }
    let residuals: Vec<f64> =
        rows.iter().map(|row| row[0].sqrt() * (row[2] - start - slope * row[1])).collect();
    let squares: f64 = residuals.iter().map(|r| r * r).sum();
    let freedom = count - 2;
    let half_width = quantile_975(freedom) * (squares / freedom as f64 / xx).sqrt();
    let autocorrelation_ratio = autocorrelation(&residuals);
    Ok(Fit {
        rate_per_h: -slope,
        half_width_per_h: half_width * inflation(autocorrelation_ratio),
        half_width_independent_per_h: half_width,
        autocorrelation_ratio,
        excess: libm::exp(start),
        background: mean_background(points),
        r_squared_ratio: if yy > 0.0 { 1.0 - squares / yy } else { 1.0 },
        points: count,
    })
}
