//! The standard normal distribution, backwards.
#![expect(clippy::excessive_precision, reason = "coefficients are typed as published")]

/// 95th percentile of the standard normal distribution: half the width of its middle 90 %.
pub(crate) const NORMAL_95: f64 = 1.6448536269514722;

/// How many standard deviations above the middle a share `u` of all draws lies below.
///
/// `u` is kept away from 0 and 1 by 1e-12, so that the tails end at seven standard deviations.
///
/// Source: M. J. Wichura, Algorithm AS 241 (PPND16), Applied Statistics 37 (1988) 477–484,
/// doi:10.2307/2347330; about 16 figures.
pub(crate) fn normal_quantile(u: f64) -> f64 {
    let u = u.clamp(1e-12, 1.0 - 1e-12);
    let from_middle = u - 0.5;
    if from_middle.abs() <= 0.425 {
        let r = 0.180625 - from_middle * from_middle;
        return from_middle * polynomial(&CENTRE_OVER, r) / polynomial(&CENTRE_UNDER, r);
    }
    let r = (-libm::log(u.min(1.0 - u))).sqrt();
    let size = if r <= 5.0 {
        polynomial(&MIDDLE_OVER, r - 1.6) / polynomial(&MIDDLE_UNDER, r - 1.6)
    } else {
        polynomial(&FAR_OVER, r - 5.0) / polynomial(&FAR_UNDER, r - 5.0)
    };
    size.copysign(from_middle)
}

/// Coefficients from the constant upwards.
fn polynomial([lower @ .., highest]: &[f64; 8], x: f64) -> f64 {
    lower.iter().rev().fold(*highest, |sum, coefficient| sum * x + coefficient)
}

const CENTRE_OVER: [f64; 8] = [
    3.3871328727963666080,
    1.3314166789178437745e2,
    1.9715909503065514427e3,
    1.3731693765509461125e4,
    4.5921953931549871457e4,
    6.7265770927008700853e4,
    3.3430575583588128105e4,
    2.5090809287301226727e3,
];
const CENTRE_UNDER: [f64; 8] = [
    1.0,
    4.2313330701600911252e1,
    6.8718700749205790830e2,
    5.3941960214247511077e3,
    2.1213794301586595867e4,
    3.9307895800092710610e4,
    2.8729085735721942674e4,
    5.2264952788528545610e3,
];
const MIDDLE_OVER: [f64; 8] = [
    1.42343711074968357734,
    4.63033784615654529590,
    5.76949722146069140550,
    3.64784832476320460504,
    1.27045825245236838258,
    2.41780725177450611770e-1,
    2.27238449892691845833e-2,
    7.74545014278341407640e-4,
];
const MIDDLE_UNDER: [f64; 8] = [
    1.0,
    2.05319162663775882187,
    1.67638483018380384940,
    6.89767334985100004550e-1,
    1.48103976427480074590e-1,
    1.51986665636164571966e-2,
    5.47593808499534494600e-4,
    1.05075007164441684324e-9,
];
const FAR_OVER: [f64; 8] = [
    6.65790464350110377720,
    5.46378491116411436990,
    1.78482653991729133580,
    2.96560571828504891230e-1,
    2.65321895265761230930e-2,
    1.24266094738807843860e-3,
    2.71155556874348757815e-5,
    2.01033439929228813265e-7,
];
const FAR_UNDER: [f64; 8] = [
    1.0,
    5.99832206555887937690e-1,
    1.36929880922735805310e-1,
    1.48753612908506148525e-2,
    7.86869131145613259100e-4,
    1.84631831751005468180e-5,
    1.42151175831644588870e-7,
    2.04426310338993978564e-15,
];

#[cfg(test)]
mod tests {
    use super::*;

    /// Values of `statistics.NormalDist().inv_cdf` of the Python 3 standard library.
    #[test]
    fn agrees_with_the_python_standard_library() {
        for (u, expected) in [
            (0.5, 0.0),
            (0.95, NORMAL_95),
            (0.05, -1.6448536269514726),
            (0.6, 0.2533471031357998),
            (0.925, 1.439531470938456),
            (0.99, 2.3263478740408408),
            (0.001, -3.090232306167813),
            (1e-8, -5.612001244174788),
            (1e-11, -6.706023155495137),
        ] {
            let found = normal_quantile(u);
            assert!(
                (found - expected).abs() < 2e-15 * (1.0 + expected.abs()),
                "{u}: {found} {expected}"
            );
        }
    }

    #[test]
    fn ends_are_finite() {
        assert!(normal_quantile(0.0).is_finite());
        assert!(normal_quantile(1.0).is_finite());
        assert!((normal_quantile(0.0) + normal_quantile(1.0)).abs() < 1e-3);
    }
}
