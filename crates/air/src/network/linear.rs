//! Small dense systems, row by row in one slice.

/// L D L^T of a symmetric matrix given by its lower half; L without its unit diagonal, D on the diagonal.
pub(super) fn factorise(matrix: &mut [f64], size: usize) {
    for column in 0..size {
        for row in column..size {
            let mut value = matrix[row * size + column];
            for k in 0..column {
                value -= matrix[row * size + k] * matrix[column * size + k] * matrix[k * size + k];
            }
            let pivot = matrix[column * size + column];
            matrix[row * size + column] = if row == column { value } else { value / pivot };
        }
    }
}

/// Solves with the factors of [`factorise`], in place.
pub(super) fn substitute(matrix: &[f64], right: &mut [f64], size: usize) {
    for row in 0..size {
        for k in 0..row {
            right[row] -= matrix[row * size + k] * right[k];
        }
    }
    for row in 0..size {
        right[row] /= matrix[row * size + row];
    }
    for row in (0..size).rev() {
        for k in row + 1..size {
            right[row] -= matrix[k * size + row] * right[k];
        }
    }
}

/// Gaussian elimination with row exchange, in place; false if the matrix is singular.
pub(super) fn eliminate(matrix: &mut [f64], right: &mut [f64], size: usize) -> bool {
    for column in 0..size {
        let mut best = column;
        for row in column + 1..size {
            if matrix[row * size + column].abs() > matrix[best * size + column].abs() {
                best = row;
            }
        }
        let pivot = matrix[best * size + column];
        if pivot == 0.0 || !pivot.is_finite() {
            return false;
        }
        if best != column {
            for k in column..size {
                matrix.swap(best * size + k, column * size + k);
            }
            right.swap(best, column);
        }
        for row in column + 1..size {
            let factor = matrix[row * size + column] / pivot;
            if factor != 0.0 {
                for k in column + 1..size {
                    matrix[row * size + k] -= factor * matrix[column * size + k];
                }
                right[row] -= factor * right[column];
            }
        }
    }
    for row in (0..size).rev() {
        for k in row + 1..size {
            right[row] -= matrix[row * size + k] * right[k];
        }
        right[row] /= matrix[row * size + row];
    }
    true
}
