//! Fall towards the outdoors, low points and supports of a route.
//!
//! Water that condenses in a duct should run outdoors. Sources: US DOE Building America, Standard Work Specifications
//! 6.6002.4 (exhaust ducts pitch down toward the outlet); how much is common practice, no source.

use super::free::Free;
use super::trace::{apart, only_axis};
use super::ways::{Duct, Leg, MayBore, Route, Ways};
use crate::error::{BadGeometry, Of};
use crate::geometry::{Point, TOUCH_M};

/// Greatest slope that is taken for one: beyond it a leg is no longer level.
const STEEPEST: f64 = 0.25;

/// How far a level leg is lowered when the duct slopes outdoors.
#[derive(Debug, Clone, PartialEq)]
pub struct Fall {
    /// Number of the leg, from 0.
    pub leg: usize,
    /// How far its beginning lies below where the route shows it, m.
    pub from_m: f64,
    /// How far its end does, m.
    pub to_m: f64,
    /// Whether the lowered leg still lies free, its end in the window of the exit where it leads there, and every bore on it
    /// still allowed at its new height.
    pub fits: bool,
}

/// A place from which water can't run outdoors.
#[derive(Debug, Clone, PartialEq)]
pub struct LowPoint {
    /// Number of the leg that begins there, from 0.
    pub leg: usize,
    /// Where.
    pub at: Point,
    /// Whether it is the housing, into which the water then runs.
    pub is_housing: bool,
}

/// The fall of the level legs from the last rise to the exit: each lowered by the slope times the length of duct since then.
/// Legs before it can't shed water outdoors; see [`low_points`].
///
/// # Errors
/// When the slope is no number from 0 to 0.25, or as [`super::search`].
pub fn falls(
    route: &Route,
    ways: &Ways<'_>,
    duct: &Duct,
    may_bore: &MayBore<'_>,
    slope: f64,
) -> Result<Vec<Fall>, BadGeometry> {
    if !(0.0..=STEEPEST).contains(&slope) {
        return Err(Of(&route.exit).bad(
            "slope",
            slope,
            "m/m",
            "a level duct slopes by less than a quarter of its length",
            "write how far it falls on a length, such as 1/8 in on a foot",
        ));
    }
    super::check::ways(ways)?;
    super::check::duct(duct)?;
    let mut free = Free::new(ways, duct, may_bore, super::stops::Density::Held);
    let first = route.legs.iter().rposition(|leg| leg.to[2] > leg.from[2] + TOUCH_M);
    let first = first.map_or(0, |k| k + 1);
    let mut lowered = 0.0;
    let mut falls = Vec::new();
    for (number, leg) in route.legs.iter().enumerate().skip(first) {
        if (leg.to[2] - leg.from[2]).abs() > TOUCH_M {
            continue;
        }
        let to = lowered + slope * apart(leg.from, leg.to);
        let is_last = number + 1 == route.legs.len();
        let in_window = !is_last
            || ways.exits.iter().filter(|e| e.id == route.exit).any(|e| {
                e.outward.axis.index() == 2 || leg.to[2] - to >= e.window.min[2] - TOUCH_M
            });
        let fits = in_window && lowered_fits(&mut free, leg, lowered, to);
        falls.push(Fall { leg: number, from_m: lowered, to_m: to, fits });
        lowered = to;
    }
    Ok(falls)
}

/// Whether a level leg that is lowered by so much at its beginning and its end lies free, its bores allowed.
fn lowered_fits(free: &mut Free<'_>, leg: &Leg, from: f64, to: f64) -> bool {
    let [a, b] = leg.straight;
    if apart(a, b) <= TOUCH_M {
        return true;
    }
    // Limits on bores leave one stretch of heights, and the duct at each of these heights overlaps that at the next, so what
    // is free at all of them is free in between.
    let steps = libm::ceil((to - from) / (0.5 * free.height_m())).max(1.0) as usize;
    let fits_at = |free: &mut Free<'_>, by: f64| {
        let [a, b] = [a, b].map(|p| [p[0], p[1], p[2] - by]);
        let Some(axis) = only_axis(a, b) else { return free.slant_is_free(a, b, [0, 1]) };
        let tube = free.tube(axis, a);
        let span = free.tubes[tube as usize].span(0.5 * (a[axis] + b[axis]));
        span.is_some_and(|[first, last]| {
            first <= a[axis].min(b[axis]) + TOUCH_M && a[axis].max(b[axis]) <= last + TOUCH_M
        })
    };
    (0..=steps).all(|k| fits_at(free, from + (to - from) * k as f64 / steps as f64))
}

/// Places where the duct first comes down, or lies level from the housing on, and then rises.
pub fn low_points(route: &Route) -> Vec<LowPoint> {
    let mut found = Vec::new();
    // Whether something before drains here: true at the housing, which is where a first rise drains to.
    let (mut is_low, mut has_fallen) = (true, false);
    for (number, leg) in route.legs.iter().enumerate() {
        let rise = leg.to[2] - leg.from[2];
        if rise > TOUCH_M && is_low {
            found.push(LowPoint { leg: number, at: leg.from, is_housing: !has_fallen });
            is_low = false;
        } else if rise < -TOUCH_M {
            (is_low, has_fallen) = (true, true);
        }
    }
    found
}

/// Where a leg is hung: evenly, nowhere further apart than the spacing, half a space from either end.
///
/// # Errors
/// When the spacing is no length of 5 cm or more.
pub fn supports(from: Point, to: Point, spacing_m: f64) -> Result<Vec<Point>, BadGeometry> {
    let spacing = Of("supports").length("spacing", spacing_m, 0.05)?;
    let length = apart(from, to);
    if length <= TOUCH_M {
        return Ok(Vec::new());
    }
    let count = libm::ceil((length - TOUCH_M) / spacing).max(1.0) as usize;
    let at = |k: usize| {
        let part = (k as f64 + 0.5) / count as f64;
        std::array::from_fn(|i| from[i] + (to[i] - from[i]) * part)
    };
    Ok((0..count).map(at).collect())
}
