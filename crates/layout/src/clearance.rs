//! Distances from a terminal to openings, intakes and lines.
//!
//! Boxes and lines lie in the frame of the dwelling; a window or a terminal on a wall is a thin box. The distance is the
//! shortest one in a straight line from edge to edge, also round a corner, where it is never longer than the way along the
//! walls. Least distances come from a rule book and are handed in.

use crate::bore::ROUND_OFF_M;
use crate::error::{BadGeometry, Of};
use crate::geometry::{Axis, Block, Point};

/// Something near a terminal.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Near {
    /// A box: an opening, a meter, a walkway. One of its sizes may be nought.
    Box(Block),
    /// A straight line between two points, such as a property line or the edge of a walk.
    Line(Point, Point),
    /// Everything below a height: grade, or the snow line.
    Below {
        /// Height, m.
        z_m: f64,
    },
}

/// A least distance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limit {
    /// Least distance, m.
    pub least_m: f64,
    /// Height of the terminal over the top of the other from which no distance is asked for, m; none where the book has no such
    /// ease.
    pub free_above_m: Option<f64>,
}

/// Whether a terminal is far enough.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Enough {
    /// It is.
    Yes,
    /// It is nearer, but so high above that no distance is asked for.
    Above,
    /// It is too near.
    No,
    /// No least distance was handed in.
    NoLimit,
}

/// A measured distance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Distance {
    /// Shortest, edge to edge, m; nought where they meet.
    pub distance_m: f64,
    /// Level part of it, m.
    pub level_m: f64,
    /// Underside of the terminal over the top of the other, m; below zero where it lies lower.
    pub above_m: f64,
    /// Whether it is enough.
    pub enough: Enough,
    /// What is missing to the least distance, m; nought where it is enough.
    pub short_m: f64,
}

/// Distance from a terminal to something near.
///
/// # Errors
/// When a place or the limit can't be worked with.
pub fn measure(
    name: &str,
    terminal: &Block,
    near: &Near,
    limit: Option<&Limit>,
) -> Result<Distance, BadGeometry> {
    let of = Of(name);
    check_thin(of, terminal)?;
    let (gap, top) = match near {
        Near::Box(other) => {
            check_thin(of, other)?;
            (gap(terminal, other), other.max[2])
        }
        Near::Line(from, to) => {
            for value in from.iter().chain(to) {
                of.position("end of a line", *value)?;
            }
            (gap_to_line(terminal, *from, *to), from[2].max(to[2]))
        }
        Near::Below { z_m } => {
            let z = of.position("height", *z_m)?;
            ([0.0, 0.0, (terminal.min[2] - z).max(0.0)], z)
        }
    };
    let level_m = libm::hypot(gap[0], gap[1]);
    let distance_m = libm::hypot(level_m, gap[2]);
    let above_m = terminal.min[2] - top;
    let (enough, short_m) = match limit {
        None => (Enough::NoLimit, 0.0),
        Some(limit) => {
            let least = of.length("least distance", limit.least_m, 0.0)?;
            let free =
                limit.free_above_m.map(|h| of.length("height that frees", h, 0.0)).transpose()?;
            let short = least - distance_m;
            if short <= ROUND_OFF_M {
                (Enough::Yes, 0.0)
            } else if free.is_some_and(|height| above_m >= height - ROUND_OFF_M) {
                (Enough::Above, 0.0)
            } else {
                (Enough::No, short)
            }
        }
    };
    Ok(Distance { distance_m, level_m, above_m, enough, short_m })
}

/// A box whose sizes may be nought but not below.
fn check_thin(of: Of<'_>, block: &Block) -> Result<(), BadGeometry> {
    for (least, most) in block.min.into_iter().zip(block.max) {
        of.position("corner", least)?;
        of.position("corner", most)?;
        of.length("size", most - least, 0.0)?;
    }
    Ok(())
}

/// Gap between two boxes along each axis.
fn gap(a: &Block, b: &Block) -> [f64; 3] {
    std::array::from_fn(|i| (b.min[i] - a.max[i]).max(a.min[i] - b.max[i]).max(0.0))
}

/// Gap along each axis from a box to the nearest place on a line.
///
/// The square of the distance along the line is made of parabolas that join where the line passes the planes of the faces; its
/// least lies at the foot of one of them or where two join.
fn gap_to_line(block: &Block, from: Point, to: Point) -> [f64; 3] {
    let step: Point = std::array::from_fn(|i| to[i] - from[i]);
    let mut joins = vec![0.0, 1.0];
    for i in 0..3 {
        let shares = [block.min[i], block.max[i]].map(|face| (face - from[i]) / step[i]);
        joins.extend(shares.into_iter().filter(|t| (0.0..=1.0).contains(t)));
    }
    joins.sort_by(f64::total_cmp);
    let gap_at = |t: f64| -> [f64; 3] {
        std::array::from_fn(|i| {
            let at = from[i] + t * step[i];
            (block.min[i] - at).max(at - block.max[i]).max(0.0)
        })
    };
    let square = |t: f64| gap_at(t).iter().map(|g| g * g).sum::<f64>();
    let feet: Vec<f64> =
        joins.windows(2).map(|pair| foot(block, from, step, pair[0], pair[1])).collect();
    let best = joins.into_iter().chain(feet).min_by(|a, b| square(*a).total_cmp(&square(*b)));
    gap_at(best.unwrap_or(0.0))
}

/// Least of the parabola between two joins, as a share of the line.
fn foot(block: &Block, from: Point, step: Point, low: f64, high: f64) -> f64 {
    let middle = 0.5 * (low + high);
    // Slope and curvature of half the square of the distance: sums over the axes that are outside of the box there.
    let (mut slope, mut curve) = (0.0, 0.0);
    for i in 0..3 {
        let at = from[i] + middle * step[i];
        let out = if at < block.min[i] {
            at - block.min[i]
        } else if at > block.max[i] {
            at - block.max[i]
        } else {
            continue;
        };
        slope += out * step[i];
        curve += step[i] * step[i];
    }
    if curve > 0.0 { (middle - slope / curve).clamp(low, high) } else { middle }
}

/// A terminal on a wall as a thin box: its middle, its size along the wall and up, and the direction in which the wall faces.
///
/// # Errors
/// When a size or a place can't be worked with, or the wall faces up.
pub fn on_wall(
    name: &str,
    middle: Point,
    size_m: [f64; 2],
    faces: Axis,
) -> Result<Block, BadGeometry> {
    let of = Of(name);
    for value in middle {
        of.position("middle", value)?;
    }
    let [wide, high] = [of.length("width", size_m[0], 0.0)?, of.length("height", size_m[1], 0.0)?];
    if faces == Axis::Z {
        return Err(of.bad(
            "direction of the wall",
            90.0,
            "degrees from level",
            "a wall stands upright",
            "write a roof terminal as a box",
        ));
    }
    let mut half = [0.0, 0.0, 0.5 * high];
    half[faces.across().index()] = 0.5 * wide;
    Ok(Block {
        min: std::array::from_fn(|i| middle[i] - half[i]),
        max: std::array::from_fn(|i| middle[i] + half[i]),
    })
}
