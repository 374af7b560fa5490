//! Student's t: how wide a 95 % interval is when the scatter itself is estimated from few points.

/// The 97.5 % quantile of Student's t with `freedom` ≥ 1 degrees of freedom, to about 1e-12.
///
/// Root of I_x(ν/2, 1/2) = 0.05 with x = ν/(ν + t²), I the regularised incomplete beta function.
/// Source: Abramowitz & Stegun 1964, Handbook of Mathematical Functions, 26.7.1 and 26.5.
pub(super) fn quantile_975(freedom: usize) -> f64 {
    let nu = freedom.max(1) as f64;
    let outside = |t: f64| incomplete_beta(nu / 2.0, 0.5, nu / (nu + t * t));
    // 1.95996 for many degrees, 12.706 for one.
    let (mut low, mut high) = (1.9, 13.0);
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        if outside(middle) > 0.05 {
            low = middle;
        } else {
            high = middle;
        }
    }
    f64::midpoint(low, high)
}

/// Regularised incomplete beta function I_x(a, b), by its continued fraction (Abramowitz & Stegun 26.5.8), evaluated from
/// the front (Lentz 1976, Applied Optics 15(3), with Thompson & Barnett's guard against zeros).
fn incomplete_beta(a: f64, b: f64, x: f64) -> f64 {
    if x <= 0.0 {
        return 0.0;
    }
    if x >= 1.0 {
        return 1.0;
    }
    let log_front = libm::lgamma(a + b) - libm::lgamma(a) - libm::lgamma(b)
        + a * libm::log(x)
        + b * libm::log1p(-x);
    let front = libm::exp(log_front);
    if x < (a + 1.0) / (a + b + 2.0) {
        front * fraction(a, b, x) / a
    } else {
        1.0 - front * fraction(b, a, 1.0 - x) / b
    }
}

fn fraction(a: f64, b: f64, x: f64) -> f64 {
    const TINY: f64 = 1e-300;
    let guarded = |value: f64| if value.abs() < TINY { TINY } else { value };
    let mut c = 1.0;
    let mut d = 1.0 / guarded(1.0 - (a + b) * x / (a + 1.0));
    let mut result = d;
    for step in 1..=500 {
        let m = f64::from(step);
        let even = m * (b - m) * x / ((a + 2.0 * m - 1.0) * (a + 2.0 * m));
        d = 1.0 / guarded(1.0 + even * d);
        c = guarded(1.0 + even / c);
        result *= d * c;
        let odd = -(a + m) * (a + b + m) * x / ((a + 2.0 * m) * (a + 2.0 * m + 1.0));
        d = 1.0 / guarded(1.0 + odd * d);
        c = guarded(1.0 + odd / c);
        let change = d * c;
        result *= change;
        if (change - 1.0).abs() < 1e-15 {
            break;
        }
    }
    result
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Table of critical values of Student's t, NIST/SEMATECH e-Handbook of Statistical Methods, sect. 1.3.6.7.2 (three decimals,
    /// from memory).
    #[test]
    fn quantiles_are_those_of_the_handbook() {
        for (freedom, want) in [
            (1, 12.706),
            (2, 4.303),
            (3, 3.182),
            (4, 2.776),
            (5, 2.571),
            (10, 2.228),
            (20, 2.086),
            (30, 2.042),
            (60, 2.000),
            (100, 1.984),
        ] {
            let got = quantile_975(freedom);
            assert!((got - want).abs() < 6e-4, "{freedom}: {got}, {want}");
        }
        // The normal distribution in the limit.
        assert!((quantile_975(10_000_000) - 1.959964).abs() < 1e-5);
    }

    /// Closed form: with two degrees of freedom t = 2·0.475·√(2/(1 − (2·0.475)²)) = 4.30265….
    #[test]
    fn two_degrees_have_a_closed_form() {
        let p: f64 = 0.95;
        assert!((quantile_975(2) - p * (2.0 / (1.0 - p * p)).sqrt()).abs() < 1e-11);
        // One degree: tan(π·0.475).
        assert!((quantile_975(1) - libm::tan(std::f64::consts::PI * 0.475)).abs() < 1e-9);
    }
}
