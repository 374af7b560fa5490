//! What a fit tells, and how its residuals count.

/// A rate of decay and how well it is known.
///
/// The half-widths are 95 % two-sided (Student's t): what scatter alone explains. Wrong backgrounds, sensor lag, imperfect
/// mixing and drying walls come on top.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fit {
    /// n = Q/V, 1/h; negative where the humidity rises.
    pub rate_per_h: f64,
    /// 95 % half-width of the rate, 1/h, widened for residuals that follow each other.
    pub half_width_per_h: f64,
    /// The same if every residual were independent of its neighbours, 1/h.
    pub half_width_independent_per_h: f64,
    /// Lag-one autocorrelation of the residuals.
    pub autocorrelation_ratio: f64,
    /// Excess over the background at the first point, kg/kg.
    pub excess: f64,
    /// Humidity ratio that the record falls to, kg/kg: the mean of what was given, or what was fitted.
    pub background: f64,
    /// Share of the variance explained, in the variable that was fitted (ln of the excess, or W).
    pub r_squared_ratio: f64,
    /// Points that were used.
    pub points: usize,
}

/// Residuals that follow each other hold less than their number: half-widths grow by √((1 + r₁)/(1 − r₁)).
///
/// Source: effective sample size of a first-order autoregressive series (von Storch & Zwiers 1999, Statistical Analysis in
/// Climate Research, sect. 6.6; from memory). Departs from it: residuals that alternate (r₁ < 0) do not narrow the answer, and r₁
/// is held at 0.95 at most.
pub(super) fn inflation(autocorrelation: f64) -> f64 {
    let r = autocorrelation.clamp(0.0, 0.95);
    ((1.0 + r) / (1.0 - r)).sqrt()
}

/// Lag-one autocorrelation of residuals; 0 for a fit without residuals.
pub(super) fn autocorrelation(residuals: &[f64]) -> f64 {
    let mean = residuals.iter().sum::<f64>() / residuals.len() as f64;
    let spread: f64 = residuals.iter().map(|r| (r - mean) * (r - mean)).sum();
    let follow: f64 = residuals.windows(2).map(|pair| (pair[0] - mean) * (pair[1] - mean)).sum();
    if spread > 0.0 { follow / spread } else { 0.0 }
}
