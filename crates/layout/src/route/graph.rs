//! Places of the duct on its way, and the steps between them.
//!
//! Two kinds of places: *turned*, where a fitting ends and a straight leg begins, and *ready*, where a straight leg has become
//! long enough that a given fitting may begin with its corner at a stop. From turned the duct runs straight to the first stop
//! at which it is ready for a fitting, from ready to the next stop or into the fitting. So all lengths that fittings need are
//! kept, and a line with many stops has steps in proportion to them, not to their square. Steps are made when they are asked
//! for.

use std::collections::BTreeSet;

use dewpath_units::sort;
use rustc_hash::FxHashMap;

use super::bound::Least;
use super::cost::Cost;
use super::free::{ACROSS, Corner, Free, Tube, step};
use super::region::in_order;
use super::stops::{Density, Stops};
use super::turn::{is_half, least_slant, tangent_m};
use super::ways::{Bend, Duct, Exit, Heading, MayBore, Ways};
use crate::error::{BadGeometry, Of};
use crate::geometry::{Axis, Point, TOUCH_M};

/// Most places of one search.
pub(super) const PLACES_MOST: usize = 200_000;

/// A slanted leg leads to one of so many next lines, or to the window of an exit: to try all takes far longer.
const SLANTS_MOST: usize = 3;

/// A place of the duct on its way.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Place {
    /// At the collar, or where a fitting with its corner at `at` has turned the duct along a tube.
    Turned { tube: u32, at: f64, ahead: bool, bend: Option<u8>, held: u8 },
    /// Where a fitting with its corner at `at` may begin.
    Ready { tube: u32, at: f64, ahead: bool, bend: u8, held: u8 },
    /// Outdoors.
    Out { exit: usize },
}

type Key = (u32, i64, u8, u8, u8);

/// A step to a place.
#[derive(Debug, Clone, Copy)]
pub(super) struct Step {
    pub(super) to: u32,
    pub(super) cost: Cost,
}

pub(super) struct Graph<'a> {
    pub(super) free: Free<'a>,
    pub(super) duct: &'a Duct,
    pub(super) places: Vec<Place>,
    tangents: Vec<f64>,
    steps: Vec<Step>,
    made: Vec<Option<(u32, u32)>>,
    most: usize,
    /// Whether a step was asked for that the limit forbade.
    pub(super) was_cut: bool,
    index: FxHashMap<Key, u32>,
    out: Vec<Option<u32>>,
    /// Least, middle and greatest coordinates of the windows of exits, across their directions out.
    exit_marks: [Vec<f64>; 3],
    least: Least,
}

impl<'a> Graph<'a> {
    pub(super) fn new(
        ways: &Ways<'a>,
        duct: &'a Duct,
        may_bore: &'a MayBore<'a>,
        density: Density,
    ) -> Self {
        let mut free = Free::new(ways, duct, may_bore, density);
        let axis = ways.towards.axis.index();
        let tube = free.tube(axis, ways.from);
        let start = Place::Turned {
            tube,
            at: ways.from[axis],
            ahead: ways.towards.ahead,
            bend: None,
            held: 0,
        };
        Self {
            free,
            duct,
            places: vec![start],
            tangents: duct.bends.iter().map(tangent_m).collect(),
            steps: Vec::new(),
            made: vec![None],
            most: PLACES_MOST,
            was_cut: false,
            index: FxHashMap::default(),
            out: vec![None; ways.exits.len()],
            exit_marks: exit_marks(ways.exits),
            least: Least::of(duct),
        }
    }

    /// Lets the duct pass all obstacles, before anything was searched.
    pub(super) fn let_obstacles_go(&mut self) {
        self.free.let_obstacles_go();
        let ways = self.free.ways;
        self.free.tube(ways.towards.axis.index(), ways.from);
    }

    /// Obstacles that kept the duct from going on anywhere that was looked at.
    pub(super) fn met(&self) -> BTreeSet<usize> {
        self.free.met(self.places.iter().filter_map(|place| match *place {
            Place::Turned { tube, at, .. } | Place::Ready { tube, at, .. } => Some((tube, at)),
            Place::Out { .. } => None,
        }))
    }

    /// Sets how many places are made at most.
    pub(super) fn limit(&mut self, most: usize) {
        self.most = most;
    }

    /// The place of an exit, once a step to it was made.
    pub(super) fn out(&self, exit: usize) -> Option<u32> {
        self.out[exit]
    }

    /// Whether any straight leg leads out by an exit: where none does, no search has to find out.
    pub(super) fn is_open(&mut self, number: usize) -> bool {
        let exit: &Exit = &self.free.ways.exits[number];
        let axis = exit.outward.axis.index();
        let [j, k] = ACROSS[axis];
        let (plane, last) = (exit.window.min[axis], self.duct.last_straight_m);
        let beside = exit.window.grown(2.0 * TOUCH_M);
        let ahead = exit.outward.ahead;
        (0..self.free.regions.len()).any(|region| {
            if !self.free.regions[region].clear.overlaps(&beside) {
                return false;
            }
            let stops = self.free.stops(region);
            let in_range = |i: usize| {
                let range = [exit.window.min[i], exit.window.max[i]];
                stops[i].iter().copied().filter(|at| within(range, *at)).collect::<Vec<f64>>()
            };
            let (first, second) = (in_range(j), in_range(k));
            first.iter().any(|a| {
                second.iter().any(|b| {
                    let mut line = [plane; 3];
                    (line[j], line[k]) = (*a, *b);
                    let tube = self.free.tube(axis, line);
                    self.free.tubes[tube as usize].span(plane).is_some_and(|[from, to]| {
                        let before = if ahead { plane - from } else { to - plane };
                        before > TOUCH_M && before >= last - TOUCH_M
                    })
                })
            })
        })
    }

    /// Steps from a place.
    pub(super) fn steps(&mut self, from: u32) -> Result<&[Step], BadGeometry> {
        let k = from as usize;
        if let Some((first, last)) = self.made[k] {
            return Ok(&self.steps[first as usize..last as usize]);
        }
        if self.places.len() > self.most {
            self.was_cut = true;
            return Err(Of("the floor").bad(
                "number of places of the duct",
                self.places.len() as f64,
                "in all",
                "a search through so many takes too long",
                "leave out spaces, obstacles or exits far from the way",
            ));
        }
        let first = self.steps.len();
        match self.places[k] {
            Place::Turned { tube, at, ahead, bend, held } => {
                self.run_on(tube, at, ahead, bend, held);
            }
            Place::Ready { tube, at, ahead, bend, held } => {
                self.pass_by(tube, at, ahead, bend, held);
                self.turn(tube, at, ahead, bend, held);
            }
            Place::Out { .. } => {}
        }
        self.made[k] = Some((first as u32, self.steps.len() as u32));
        Ok(&self.steps[first..])
    }

    /// From the end of a fitting or the collar: to the first stops at which other fittings can begin, and outdoors.
    fn run_on(&mut self, tube: u32, at: f64, ahead: bool, bend: Option<u8>, held: u8) {
        let sign = if ahead { 1.0 } else { -1.0 };
        let used = bend.map_or(0.0, |b| self.tangents[usize::from(b)]);
        let straight = bend.map_or(self.duct.first_straight_m, |_| self.duct.min_straight_m);
        let end = at + sign * used;
        let Some(span) = self.free.tubes[tube as usize].span(end) else { return };
        for next in 0..self.tangents.len() {
            let needed = used + straight + self.tangents[next];
            // After a turn alone: one after the other they would lead to ever new coordinates.
            if bend.is_none_or(|b| !is_half(&self.duct.bends[usize::from(b)])) {
                self.ready_at_once(tube, [end, at + sign * needed], ahead, next, held);
            }
            if let Some(stop) = self.stop_after(tube, at + sign * needed, ahead, next, true) {
                let from = stop - sign * self.tangents[next];
                if within(span, from) {
                    self.ready(tube, [end, from], stop, ahead, next as u8, held);
                }
            }
        }
        for exit in 0..self.free.ways.exits.len() {
            self.leave(exit, tube, at, ahead, used);
        }
    }

    /// In a wide space, a fitting of 45 degrees as early as it may be: the longer the slanted leg, the shorter the way.
    fn ready_at_once(
        &mut self,
        tube: u32,
        [end, corner]: [f64; 2],
        ahead: bool,
        next: usize,
        held: u8,
    ) {
        let t = &self.free.tubes[tube as usize];
        if !is_half(&self.duct.bends[next]) || !self.free.is_wide_at(t.point(corner)) {
            return;
        }
        let from = if ahead { corner - self.tangents[next] } else { corner + self.tangents[next] };
        if t.span(end).is_some_and(|span| within(span, from)) {
            self.ready(tube, [end, from], corner, ahead, next as u8, held);
        }
    }

    /// Outdoors from a straight leg.
    fn leave(&mut self, number: usize, tube: u32, at: f64, ahead: bool, used: f64) {
        let exit: &Exit = &self.free.ways.exits[number];
        let t = &self.free.tubes[tube as usize];
        let sign = if ahead { 1.0 } else { -1.0 };
        if exit.outward.axis.index() != t.axis || exit.outward.ahead != ahead {
            return;
        }
        let (end, plane) = (at + sign * used, exit.window.min[t.axis]);
        let length = sign * (plane - end);
        if length < self.duct.last_straight_m - TOUCH_M
            || !in_window(exit, t.line)
            || !t.span(end).is_some_and(|span| within(span, plane))
        {
            return;
        }
        let run = length.max(0.0) + exit.depth_m;
        let bored = t.bored(end, plane).count() as f64;
        let cost = Cost::up(
            run * self.duct.straight_pa_per_m + exit.pressure_pa,
            run * self.duct.straight_h_per_m + bored * self.duct.bore_h + exit.labour_h,
        );
        let to = self.out[number].unwrap_or_else(|| {
            let to = self.add(Place::Out { exit: number });
            self.out[number] = Some(to);
            to
        });
        self.steps.push(Step { to, cost });
    }

    /// The first stop of a tube for a fitting, at a coordinate or beyond it.
    fn stop_after(
        &self,
        tube: u32,
        from: f64,
        ahead: bool,
        bend: usize,
        or_at: bool,
    ) -> Option<f64> {
        let stops =
            &self.free.tubes[tube as usize].stops[usize::from(is_half(&self.duct.bends[bend]))];
        // A stop that lies a hair too near is far enough: lengths of fittings are not known to a tenth of a millimetre.
        let hair = if or_at { -0.1 * TOUCH_M } else { 0.1 * TOUCH_M };
        if ahead {
            stops.get(stops.partition_point(|s| *s < from + hair)).copied()
        } else {
            let count = stops.partition_point(|s| *s <= from - hair);
            count.checked_sub(1).map(|k| stops[k])
        }
    }

    /// A step along a straight leg to where a fitting can begin.
    fn ready(&mut self, tube: u32, run: [f64; 2], stop: f64, ahead: bool, bend: u8, held: u8) {
        let bored = self.free.tubes[tube as usize].bored(run[0], run[1]).count() as f64;
        let length = (run[1] - run[0]).abs();
        let cost = Cost::up(
            length * self.duct.straight_pa_per_m,
            length * self.duct.straight_h_per_m + bored * self.duct.bore_h,
        );
        let key = (tube, step(stop), u8::from(ahead), bend, held);
        let to = self.keyed(key, Place::Ready { tube, at: stop, ahead, bend, held });
        self.steps.push(Step { to, cost });
    }

    /// Straight on to the next stop.
    fn pass_by(&mut self, tube: u32, at: f64, ahead: bool, bend: u8, held: u8) {
        let sign = if ahead { 1.0 } else { -1.0 };
        let used = self.tangents[usize::from(bend)];
        let from = at - sign * used;
        if let Some(next) = self.stop_after(tube, at, ahead, usize::from(bend), false) {
            let to = next - sign * used;
            let span = self.free.tubes[tube as usize].span(from);
            if span.is_some_and(|span| within(span, to)) {
                self.ready(tube, [from, to], next, ahead, bend, held);
            }
        }
    }

    /// Into a fitting.
    fn turn(&mut self, tube: u32, at: f64, ahead: bool, number: u8, held: u8) {
        let duct = self.duct;
        let bend: &Bend = &duct.bends[usize::from(number)];
        let (axis, corner) = {
            let t: &Tube = &self.free.tubes[tube as usize];
            (t.axis, t.point(at))
        };
        let along = (axis, if ahead { 1.0 } else { -1.0 });
        for side in ACROSS[axis] {
            if held != 0 && usize::from(held) != side + 1 {
                continue;
            }
            for sign in [1.0, -1.0] {
                let turn = Corner { at: corner, along, towards: (side, sign) };
                if is_half(bend) {
                    self.slanted(&turn, number, held);
                } else if self.free.bend_fits(&turn, bend) {
                    let cost = Cost::up(bend.pressure_pa, bend.labour_h);
                    self.turned(corner, (side, sign), axis, number, cost);
                }
            }
        }
    }

    /// A pair of fittings of 45 degrees with a slanted leg between them: aside and on, or a wide turn.
    fn slanted(&mut self, first: &Corner, number: u8, held: u8) {
        let duct = self.duct;
        let bend: &Bend = &duct.bends[usize::from(number)];
        if !self.free.bend_fits(first, bend) {
            return;
        }
        let Corner { at, along: (i, si), towards: (j, sj) } = *first;
        let tangent = self.tangents[usize::from(number)];
        let least = least_slant(bend, duct.min_straight_m);
        for (by, is_aside) in self.slant_sizes(first, least) {
            let mut end = at;
            end[i] += si * by;
            end[j] += sj * by;
            if !self.free.slant_fits(at, end, [i, j], tangent) {
                return;
            }
            // The second arc, seen from its far end.
            let after = if is_aside { (i, si) } else { (j, sj) };
            let back = if is_aside { (j, -sj) } else { (i, -si) };
            let second = Corner { at: end, along: (after.0, -after.1), towards: back };
            if self.free.bend_fits(&second, bend) {
                let length = by * 2.0_f64.sqrt() - 2.0 * tangent;
                let cost = Cost::up(
                    2.0 * bend.pressure_pa + length * duct.straight_pa_per_m,
                    2.0 * bend.labour_h + length * duct.straight_h_per_m,
                );
                let before = if is_aside && held != 0 { usize::from(held) - 1 } else { i };
                let before = if is_aside && held == 0 { j } else { before };
                self.turned(end, after, before, number, cost);
            }
        }
    }

    /// How far a slanted leg may lead along either axis, in order, each with whether the duct then goes on as before: to the
    /// next few lines of the space it begins in and of the one that it leads into, and in a wide one to the windows of exits.
    fn slant_sizes(&self, first: &Corner, least: f64) -> Vec<(f64, bool)> {
        let Corner { at, along: (i, si), towards: (j, sj) } = *first;
        let mut sizes: Vec<(f64, bool)> = Vec::new();
        let mut to_lines = |stops: &Stops, least: f64| {
            for (axis, sign, is_aside) in [(j, sj, true), (i, si, false)] {
                let from = at[axis] + sign * (least - 0.1 * TOUCH_M);
                let next = beyond(&stops[axis], from, sign);
                sizes.extend(next.map(|stop| (sign * (stop - at[axis]), is_aside)));
            }
        };
        for region in self.free.regions_at(at) {
            to_lines(self.free.stops(region), least);
            // The ray leaves the region through the nearer of two faces.
            let clear = self.free.regions[region].clear;
            let to_face = |axis: usize, sign: f64| {
                if sign > 0.0 { clear.max[axis] - at[axis] } else { at[axis] - clear.min[axis] }
            };
            let leaves = to_face(i, si).min(to_face(j, sj)).max(0.0);
            let mut behind = at;
            behind[i] += si * (leaves + 4.0 * TOUCH_M);
            behind[j] += sj * (leaves + 4.0 * TOUCH_M);
            for next in self.free.regions_at(behind) {
                to_lines(self.free.stops(next), least.max(leaves));
            }
        }
        if self.free.is_wide_at(at) {
            for (axis, sign, is_aside) in [(j, sj, true), (i, si, false)] {
                let marks = self.exit_marks[axis].iter().map(|mark| sign * (mark - at[axis]));
                sizes.extend(marks.filter(|by| *by >= least).map(|by| (by, is_aside)));
            }
        }
        sort::by(&mut sizes, |a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        sizes.dedup_by(|next, kept| next.1 == kept.1 && next.0 - kept.0 <= 0.1 * TOUCH_M);
        sizes
    }

    /// A step into a straight leg in a new direction. An oval duct that now stands up can later turn only in the plane in
    /// which it was turned up.
    fn turned(
        &mut self,
        corner: Point,
        (axis, sign): (usize, f64),
        before: usize,
        bend: u8,
        cost: Cost,
    ) {
        let tube = self.free.tube(axis, corner);
        let at = corner[axis];
        let end = at + sign * self.tangents[usize::from(bend)];
        if self.free.tubes[tube as usize].span(end).is_none() {
            return;
        }
        let is_held = self.duct.height_m.is_some() && axis == 2;
        let held = if is_held { before as u8 + 1 } else { 0 };
        let ahead = sign > 0.0;
        // The two kinds of places share one index: this adds 2 where the other kind adds nothing.
        let key = (tube, step(at), 2 + u8::from(ahead), bend, held);
        let to = self.keyed(key, Place::Turned { tube, at, ahead, bend: Some(bend), held });
        self.steps.push(Step { to, cost });
    }

    fn keyed(&mut self, key: Key, place: Place) -> u32 {
        if let Some(found) = self.index.get(&key) {
            return *found;
        }
        let number = self.add(place);
        self.index.insert(key, number);
        number
    }

    fn add(&mut self, place: Place) -> u32 {
        self.places.push(place);
        self.made.push(None);
        self.places.len() as u32 - 1
    }

    /// Where the straight leg of a place begins or has come to, and its direction.
    pub(super) fn stand(&self, place: Place) -> Option<(Point, usize, bool)> {
        let (tube, at, ahead, by) = match place {
            Place::Turned { tube, at, ahead, bend, .. } => {
                (tube, at, ahead, bend.map_or(0.0, |b| self.tangents[usize::from(b)]))
            }
            Place::Ready { tube, at, ahead, bend, .. } => {
                (tube, at, ahead, -self.tangents[usize::from(bend)])
            }
            Place::Out { .. } => return None,
        };
        let t = &self.free.tubes[tube as usize];
        Some((t.point(if ahead { at + by } else { at - by }), t.axis, ahead))
    }

    /// A cost below which no way from a place to an exit can be.
    pub(super) fn bound(&self, place: u32, exit: usize) -> Cost {
        let Some((point, axis, ahead)) = self.stand(self.places[place as usize]) else {
            return Cost::default();
        };
        let axis = [Axis::X, Axis::Y, Axis::Z][axis];
        let one: &Exit = &self.free.ways.exits[exit];
        self.least.bound(self.duct, one, point, Heading { axis, ahead })
    }
}

/// Least, middle and greatest coordinates of windows, across the directions out.
fn exit_marks(exits: &[Exit]) -> [Vec<f64>; 3] {
    std::array::from_fn(|i| {
        let across = exits.iter().filter(|exit| exit.outward.axis.index() != i);
        let marks = across.flat_map(|exit| {
            let (least, most) = (exit.window.min[i], exit.window.max[i]);
            [least, 0.5 * (least + most), most]
        });
        in_order(marks.collect())
    })
}

/// The next few stops at a coordinate or beyond it in a direction.
fn beyond(stops: &[f64], from: f64, sign: f64) -> impl Iterator<Item = f64> {
    let first = stops.partition_point(|s| *s < from);
    let after = stops.partition_point(|s| *s <= from);
    let (up, down) =
        if sign > 0.0 { (&stops[first..], &[][..]) } else { (&[][..], &stops[..after]) };
    up.iter().copied().chain(down.iter().rev().copied()).take(SLANTS_MOST)
}

/// Whether a coordinate lies in a range.
fn within([from, to]: [f64; 2], at: f64) -> bool {
    at >= from - TOUCH_M && at <= to + TOUCH_M
}

/// Whether a line along the outward direction meets the window.
fn in_window(exit: &Exit, line: Point) -> bool {
    ACROSS[exit.outward.axis.index()]
        .iter()
        .all(|i| within([exit.window.min[*i], exit.window.max[*i]], line[*i]))
}
