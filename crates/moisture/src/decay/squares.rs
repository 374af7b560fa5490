//! Least squares for curves: Levenberg–Marquardt with analytic slopes, for the few parameters of a decay.

use super::error::DecayError;

/// A fitted curve.
pub(super) struct Solution<const P: usize> {
    /// The parameters.
    pub(super) parameters: [f64; P],
    /// Diagonal of the inverse of JᵀJ: times the variance of the noise, the variance of each parameter.
    pub(super) spread: [f64; P],
    /// What is left of each point.
    pub(super) residuals: Vec<f64>,
}

impl<const P: usize> Solution<P> {
    /// Sum of squares that is left.
    pub(super) fn squares(&self) -> f64 {
        self.residuals.iter().map(|r| r * r).sum()
    }
}

/// Parameters that bring `model(time, parameters)`, which also tells its slopes, closest to `values`.
///
/// Source: Marquardt 1963, SIAM J. Appl. Math. 11(2), with steps scaled by the diagonal of JᵀJ.
pub(super) fn fit<const P: usize>(
    times: &[f64],
    values: &[f64],
    start: [f64; P],
    what: &'static str,
    model: impl Fn(f64, &[f64; P]) -> (f64, [f64; P]),
) -> Result<Solution<P>, DecayError> {
    let undetermined = DecayError::Undetermined { what };
    let residuals = |p: &[f64; P]| -> Vec<f64> {
        times.iter().zip(values).map(|(t, y)| y - model(*t, p).0).collect()
    };
    let squares = |r: &[f64]| r.iter().map(|r| r * r).sum::<f64>();
    let mut parameters = start;
    let mut left = residuals(&parameters);
    let mut damping = 1e-3;
    for _ in 0..500 {
        let (normal, gradient) = normal_equations(times, &left, &parameters, &model);
        let mut damped = normal;
        for (index, row) in damped.iter_mut().enumerate() {
            row[index] *= 1.0 + damping;
        }
        let Some(inverse) = invert(&damped) else {
            damping *= 10.0;
            if damping > 1e12 {
                return Err(undetermined);
            }
            continue;
        };
        let step = times_vector(&inverse, &gradient);
        let mut next = parameters;
        for (value, change) in next.iter_mut().zip(step) {
            *value += change;
        }
        let next_left = residuals(&next);
        let (before, after) = (squares(&left), squares(&next_left));
        let is_small =
            step.iter().zip(next).all(|(change, value)| change.abs() <= 1e-13 * value.abs());
        if after.is_finite() && after <= before {
            (parameters, left) = (next, next_left);
            damping = (damping / 10.0).max(1e-15);
        } else {
            damping *= 10.0;
        }
        // A step that no longer moves anything, or damping against rounding only: this is the bottom.
        if is_small || damping > 1e12 {
            break;
        }
    }
    let (normal, _) = normal_equations(times, &left, &parameters, &model);
    let inverse = invert(&normal).ok_or(undetermined)?;
    let mut spread = [0.0; P];
    for (index, value) in spread.iter_mut().enumerate() {
        *value = inverse[index][index];
    }
    let is_known = |value: &f64| value.is_finite();
    if parameters.iter().all(is_known) && spread.iter().all(|v| v.is_finite() && *v >= 0.0) {
        Ok(Solution { parameters, spread, residuals: left })
    } else {
        Err(undetermined)
    }
}

/// JᵀJ and Jᵀr.
fn normal_equations<const P: usize>(
    times: &[f64],
    residuals: &[f64],
    parameters: &[f64; P],
    model: impl Fn(f64, &[f64; P]) -> (f64, [f64; P]),
) -> ([[f64; P]; P], [f64; P]) {
    let mut normal = [[0.0; P]; P];
    let mut gradient = [0.0; P];
    for (t, r) in times.iter().zip(residuals) {
        let slopes = model(*t, parameters).1;
        for i in 0..P {
            gradient[i] += slopes[i] * r;
            for j in 0..P {
                normal[i][j] += slopes[i] * slopes[j];
            }
        }
    }
    (normal, gradient)
}

fn times_vector<const P: usize>(matrix: &[[f64; P]; P], vector: &[f64; P]) -> [f64; P] {
    let mut product = [0.0; P];
    for (value, row) in product.iter_mut().zip(matrix) {
        *value = row.iter().zip(vector).map(|(a, b)| a * b).sum();
    }
    product
}

/// Inverse of a symmetric positive matrix, scaled to a diagonal of ones first; `None` if it has none within rounding.
fn invert<const P: usize>(matrix: &[[f64; P]; P]) -> Option<[[f64; P]; P]> {
    let mut scale = [0.0; P];
    for (index, value) in scale.iter_mut().enumerate() {
        let diagonal = matrix[index][index];
        if !(diagonal > 0.0 && diagonal.is_finite()) {
            return None;
        }
        *value = 1.0 / diagonal.sqrt();
    }
    let mut left = *matrix;
    let mut right = [[0.0; P]; P];
    for i in 0..P {
        right[i][i] = 1.0;
        for j in 0..P {
            left[i][j] *= scale[i] * scale[j];
        }
    }
    // Gauss–Jordan; a positive matrix needs no exchange of rows.
    for pivot in 0..P {
        let divisor = left[pivot][pivot];
        // Of the ones on the diagonal nothing but rounding is left: two parameters do the same.
        if divisor.is_nan() || divisor <= 1e-14 {
            return None;
        }
        for column in 0..P {
            left[pivot][column] /= divisor;
            right[pivot][column] /= divisor;
        }
        for row in (0..P).filter(|row| *row != pivot) {
            let factor = left[row][pivot];
            for column in 0..P {
                left[row][column] -= factor * left[pivot][column];
                right[row][column] -= factor * right[pivot][column];
            }
        }
    }
    for i in 0..P {
        for j in 0..P {
            right[i][j] *= scale[i] * scale[j];
        }
    }
    Some(right)
}
