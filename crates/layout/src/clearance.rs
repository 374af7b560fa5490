//! Distances from a terminal to openings, intakes and lines.
//!
//! Boxes and lines lie in the frame of the dwelling; a window or a terminal on a wall is a thin box. The distance is the
//! shortest one in a straight line from edge to edge, also round a corner, where it is never longer than the way along the
//! walls. Least distances come from a rule book and are handed in.

use crate::bore::ROUND_OFF_M;
use crate::error::{BadGeometry, Of};
use crate::geometry::{Axis, Block, Point, TOUCH_M};

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

/// Headings tried in plan on a roof: every 5 degrees, then
const HEADINGS: usize = 72;
/// so many times closer about the best: every quarter of a degree, which at 1 m is 4 mm.
const FINER: usize = 20;
/// Halvings of a way in the window: a mile comes down to less than a tenth of a millimetre.
const HALVINGS: usize = 26;

/// The spot nearest to a wish, in plan, at which a terminal keeps its least distances; none where no spot does.
///
/// The terminal is a box of `half` sizes that moves in plan within a window for its middle and keeps its height. Along a straight
/// line its distance to a thing is a convex function of how far it went, so that what is too near to one thing is one stretch:
/// from the wish the terminal goes on to the end of the stretch, and so on until nothing is too near. Where the window has an
/// extent along one axis the answer is exact; where it has two it is the nearest along headings a quarter of a degree apart.
///
/// # Errors
/// When a place or a limit can't be worked with.
pub fn nearest_clear(
    name: &str,
    window: &Block,
    half: Point,
    wish: Point,
    nears: &[(Near, Limit)],
) -> Result<Option<Point>, BadGeometry> {
    let of = Of(name);
    for value in wish.into_iter().chain(window.min).chain(window.max) {
        of.position("window", value)?;
    }
    let mut start = wish;
    for (i, at) in start.iter_mut().enumerate().take(2) {
        *at = at.max(window.min[i]).min(window.max[i].max(window.min[i]));
    }
    let too_near = |at: Point, (near, limit): &(Near, Limit)| -> Result<bool, BadGeometry> {
        let terminal = Block {
            min: std::array::from_fn(|i| at[i] - half[i]),
            max: std::array::from_fn(|i| at[i] + half[i]),
        };
        Ok(measure(name, &terminal, near, Some(limit))?.enough == Enough::No)
    };
    let along = |heading: [f64; 2]| -> Result<Option<f64>, BadGeometry> {
        let most = reach(window, start, heading);
        let at = |t: f64| [start[0] + t * heading[0], start[1] + t * heading[1], start[2]];
        let mut gone = 0.0;
        // Each thing holds the terminal up once at most.
        for _ in 0..=nears.len() {
            let Some(held) = first_near(nears, |near| too_near(at(gone), near))? else {
                return Ok(Some(gone));
            };
            if too_near(at(most), held)? {
                return Ok(None);
            }
            let (mut low, mut high) = (gone, most);
            for _ in 0..HALVINGS {
                let middle = 0.5 * (low + high);
                if too_near(at(middle), held)? { low = middle } else { high = middle }
            }
            gone = high;
        }
        Ok(None)
    };
    let mut best: Option<(f64, [f64; 2])> = None;
    let mut tried = headings(window);
    for round in 0..2 {
        for heading in &tried {
            if let Some(gone) = along(*heading)?
                && best.is_none_or(|(least, _)| gone < least)
            {
                best = Some((gone, *heading));
            }
        }
        // Once more between the best heading and its neighbours.
        match best {
            Some((gone, heading)) if round == 0 && gone > 0.0 && tried.len() == HEADINGS => {
                tried = between(heading);
            }
            _ => break,
        }
    }
    Ok(best.map(|(gone, [x, y])| [start[0] + gone * x, start[1] + gone * y, start[2]]))
}

/// The first thing for which the question is answered with yes.
fn first_near(
    nears: &[(Near, Limit)],
    question: impl Fn(&(Near, Limit)) -> Result<bool, BadGeometry>,
) -> Result<Option<&(Near, Limit)>, BadGeometry> {
    for near in nears {
        if question(near)? {
            return Ok(Some(near));
        }
    }
    Ok(None)
}

/// Headings in plan along which a terminal can move in a window.
fn headings(window: &Block) -> Vec<[f64; 2]> {
    let long = |axis: Axis| window.size(axis) > TOUCH_M;
    match (long(Axis::X), long(Axis::Y)) {
        (true, true) => (0..HEADINGS)
            .map(|k| {
                let turn = std::f64::consts::TAU * k as f64 / HEADINGS as f64;
                [libm::cos(turn), libm::sin(turn)]
            })
            .collect(),
        (true, false) => vec![[1.0, 0.0], [-1.0, 0.0]],
        (false, true) => vec![[0.0, 1.0], [0.0, -1.0]],
        (false, false) => vec![[1.0, 0.0]],
    }
}

/// Headings between a heading and its neighbours.
fn between([x, y]: [f64; 2]) -> Vec<[f64; 2]> {
    let step = std::f64::consts::TAU / (HEADINGS * FINER) as f64;
    let turned = |k: usize| {
        let turn = (k as f64 - FINER as f64) * step;
        let (sin, cos) = (libm::sin(turn), libm::cos(turn));
        [x * cos - y * sin, x * sin + y * cos]
    };
    (0..=2 * FINER).map(turned).collect()
}

/// How far it is from a spot in a window to its edge.
fn reach(window: &Block, from: Point, heading: [f64; 2]) -> f64 {
    let ahead = |i: usize| {
        if heading[i] > 1e-12 {
            (window.max[i] - from[i]) / heading[i]
        } else if heading[i] < -1e-12 {
            (window.min[i] - from[i]) / heading[i]
        } else {
            f64::INFINITY
        }
    };
    let most = ahead(0).min(ahead(1)).max(0.0);
    if most.is_finite() { most } else { 0.0 }
}
