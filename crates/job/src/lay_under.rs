//! What one thing leaves open is taken from another one that stands for more than it.

pub(crate) use dewpath_job_derive::LayUnder;

/// Takes what is left open from another value.
pub(crate) trait LayUnder {
    /// Fills what `self` leaves open.
    fn lay_under(&mut self, under: &Self);
}

impl<T: Clone> LayUnder for Option<T> {
    fn lay_under(&mut self, under: &Self) {
        if self.is_none() {
            self.clone_from(under);
        }
    }
}

impl<T: Clone> LayUnder for Vec<T> {
    fn lay_under(&mut self, under: &Self) {
        if self.is_empty() {
            self.clone_from(under);
        }
    }
}
