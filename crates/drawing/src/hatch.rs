//! Parallel lines inside a polygon.

use crate::rect::{Rect, Spot};

/// Most lines in one polygon; wider apart where that would not do.
const MOST: f64 = 400.0;

/// Lines at 45 degrees, `spacing` apart, inside a polygon. Empty where it has no inside.
///
/// Lines of neighbouring polygons meet, since they are counted from the corner of the sheet.
pub(crate) fn lines(polygon: &[Spot], spacing: f64, rising: bool) -> Vec<(Spot, Spot)> {
    let Some(rect) = Rect::round(polygon.iter().copied()) else { return Vec::new() };
    let extent = rect.width() + rect.height();
    if polygon.len() < 3
        || !extent.is_finite()
        || spacing.partial_cmp(&0.0).is_none_or(std::cmp::Ordering::is_le)
    {
        return Vec::new();
    }
    // Along a line u = x ± y is the same everywhere; v goes along it.
    let turned = |[x, y]: Spot| if rising { [x + y, x - y] } else { [x - y, x + y] };
    let back = |u: f64, v: f64| {
        if rising { [0.5 * (u + v), 0.5 * (u - v)] } else { [0.5 * (u + v), 0.5 * (v - u)] }
    };
    let corners: Vec<Spot> = polygon.iter().copied().map(turned).collect();
    let Some(span) = Rect::round(corners.iter().copied()) else { return Vec::new() };
    let mut step = spacing * std::f64::consts::SQRT_2;
    while span.width() / step > MOST {
        step *= 2.0;
    }
    let first = (span.min[0] / step).ceil() as i64;
    let last = (span.max[0] / step).floor() as i64;
    let mut found = Vec::new();
    for k in first..=last {
        let u = k as f64 * step;
        let mut crossings = crossings(&corners, u);
        crossings.sort_by(f64::total_cmp);
        for pair in crossings.chunks_exact(2) {
            if pair[1] - pair[0] > 0.2 {
                found.push((back(u, pair[0]), back(u, pair[1])));
            }
        }
    }
    found
}

/// Where the line of this `u` crosses the edges of a polygon in `u` and `v`.
fn crossings(corners: &[Spot], u: f64) -> Vec<f64> {
    let next = corners.iter().skip(1).chain(corners.first());
    corners
        .iter()
        .zip(next)
        .filter(|(a, b)| (a[0] <= u) != (b[0] <= u))
        .map(|(a, b)| a[1] + (b[1] - a[1]) * (u - a[0]) / (b[0] - a[0]))
        .collect()
}
