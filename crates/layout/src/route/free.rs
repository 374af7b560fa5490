//! Where a duct may lie: bays and other spaces less members and obstacles.
//!
//! A straight leg along an axis sweeps a tube with a rectangular section, a fitting a row of boxes round its arc, a slanted
//! leg a box at 45 degrees. All of them hold the duct, so what is free by them is free for the duct.

use std::cell::{OnceCell, RefCell};
use std::collections::BTreeSet;

use dewpath_units::sort;
use rustc_hash::FxHashMap;

use super::bores;
use super::region::{Region, in_order};
use super::stops::{Density, Sources, Stops};
use super::turn::{is_half, least_slant, tangent_m};
use super::ways::{Bend, Bore, Duct, MayBore, Ways};
use crate::bore::Opening;
use crate::framing::Member;
use crate::geometry::{Axis, Block, Point, TOUCH_M};

/// The two axes across one.
pub(super) const ACROSS: [[usize; 2]; 3] = [[1, 2], [2, 0], [0, 1]];

/// Index of up.
const UP: usize = 2;

/// Steps of a metre in which coordinates are told apart: a micrometre.
const STEPS_PER_M: f64 = 1e6;

/// Parts into which an arc of 90 degrees is cut to be boxed in.
const ARC_PARTS: usize = 6;

/// A coordinate as a key.
pub(super) fn step(at: f64) -> i64 {
    libm::round(at * STEPS_PER_M) as i64
}

/// A member that a tube passes through a bore.
#[derive(Debug, Clone, Copy)]
pub(super) struct Cross {
    pub(super) member: usize,
    pub(super) from: f64,
    pub(super) to: f64,
}

/// All places of a straight leg along one axis on one line.
#[derive(Debug, Clone)]
pub(super) struct Tube {
    pub(super) axis: usize,
    /// A point of the line; its coordinate along the axis says no more than where it was first asked for.
    pub(super) line: Point,
    /// From where to where it was looked at: to the first member on either side that may not be passed.
    pub(super) reach: [f64; 2],
    /// Where the duct may lie, in order along the axis.
    pub(super) spans: Vec<[f64; 2]>,
    /// Bored members in order along the axis.
    pub(super) crossings: Vec<Cross>,
    /// Obstacles that shut it, by number.
    shut_by: Vec<([f64; 2], usize)>,
    /// Where fittings of 90 degrees may have their corner, and those of 45 degrees.
    pub(super) stops: [Vec<f64>; 2],
}

impl Tube {
    /// The span that holds a coordinate.
    pub(super) fn span(&self, at: f64) -> Option<[f64; 2]> {
        self.spans.iter().copied().find(|[a, b]| at >= a - TOUCH_M && at <= b + TOUCH_M)
    }

    /// The point of the line at a coordinate.
    pub(super) fn point(&self, at: f64) -> Point {
        let mut point = self.line;
        point[self.axis] = at;
        point
    }

    /// Members that are bored between two coordinates.
    pub(super) fn bored(&self, a: f64, b: f64) -> impl Iterator<Item = &Cross> {
        let (low, high) = if a <= b { (a, b) } else { (b, a) };
        self.crossings.iter().filter(move |c| {
            let middle = 0.5 * (c.from + c.to);
            low < middle && middle <= high
        })
    }
}

/// A turn at a corner: the directions before and after, and half the room it takes along either.
#[derive(Debug, Clone, Copy)]
pub(super) struct Corner {
    pub(super) at: Point,
    /// Axis and sign of the straight leg along an axis, away from which the arc turns.
    pub(super) along: (usize, f64),
    /// Axis and sign towards which it turns.
    pub(super) towards: (usize, f64),
}

pub(super) struct Free<'a> {
    pub(super) ways: Ways<'a>,
    pub(super) regions: Vec<Region<'a>>,
    pub(super) tubes: Vec<Tube>,
    /// Why bores were forbidden.
    pub(super) forbidden: BTreeSet<String>,
    may_bore: &'a MayBore<'a>,
    hole: Opening,
    wide: f64,
    flat: f64,
    sources: Sources,
    stops: Vec<OnceCell<Stops>>,
    slant_stops: Vec<OnceCell<Stops>>,
    /// Least length of the sides of a slanted leg along each axis, for each fitting of 45 degrees.
    slants: Vec<f64>,
    index: FxHashMap<(u8, i64, i64), Vec<u32>>,
    members: Vec<Block>,
    obstacles: Vec<Block>,
    /// Obstacles that a fitting or a slanted leg met.
    met: RefCell<BTreeSet<usize>>,
    density: Density,
}

impl<'a> Free<'a> {
    pub(super) fn new(
        ways: &Ways<'a>,
        duct: &Duct,
        may_bore: &'a MayBore<'a>,
        density: Density,
    ) -> Self {
        let (wide, flat) = (0.5 * duct.outside_m, 0.5 * duct.height_m.unwrap_or(duct.outside_m));
        let members: Vec<Block> = ways.members.iter().map(|m| m.solid).collect();
        let obstacles: Vec<Block> = ways.obstacles.iter().map(|o| o.solid).collect();
        let bays = ways.bays.iter().map(|b| (b.id.as_str(), b.space, true));
        let spaces = ways.spaces.iter().map(|s| (s.id.as_str(), s.clear, false));
        let regions: Vec<Region<'a>> = bays
            .chain(spaces)
            .map(|(id, clear, is_bay)| {
                let obstacles = obstacles.iter().enumerate().map(|(k, b)| (*b, Some(k)));
                let all = members.iter().map(|b| (*b, None)).chain(obstacles);
                let blockers = all.filter(|(b, _)| b.overlaps(&clear)).collect();
                Region { id, clear, is_bay, blockers }
            })
            .collect();
        let ends = bores::ends(ways, duct.opening(), may_bore);
        let sources = Sources::new(ways, duct, &regions, [wide, flat], ends, density);
        let stops = regions.iter().map(|_| OnceCell::new()).collect();
        let slant_stops = regions.iter().map(|_| OnceCell::new()).collect();
        Self {
            ways: *ways,
            regions,
            tubes: Vec::new(),
            forbidden: BTreeSet::new(),
            may_bore,
            hole: duct.opening(),
            wide,
            flat,
            sources,
            stops,
            slant_stops,
            slants: slants(duct),
            index: FxHashMap::default(),
            members,
            obstacles,
            met: RefCell::default(),
            density,
        }
    }

    /// Half the section of a straight leg along one axis, measured along another.
    pub(super) const fn half(&self, along: usize, measured: usize) -> f64 {
        // An oval duct that stands up may be turned either way round: it gets room for both.
        if measured == UP && along != UP { self.flat } else { self.wide }
    }

    /// Height of a leg that lies level, m.
    pub(super) const fn height_m(&self) -> f64 {
        2.0 * self.flat
    }

    /// Stops of a region.
    pub(super) fn stops(&self, region: usize) -> &Stops {
        let make = || self.sources.of(&self.ways, &self.regions, &self.regions[region]);
        self.stops[region].get_or_init(make)
    }

    /// Where fittings of 45 degrees may have their corner in a region: at its stops and a shortest slanted leg away from them.
    fn slant_stops(&self, region: usize) -> &Stops {
        let make = || {
            // In a wide space there are far too many to begin at each in the second run too.
            let (is_bay, is_held) = (self.regions[region].is_bay, self.density == Density::Held);
            if self.slants.is_empty() || !(is_bay || is_held) {
                return Stops::default();
            }
            self.stops(region).each_ref().map(|stops| {
                let mut all = stops.clone();
                for by in self.slants.iter().filter(|_| is_bay) {
                    all.extend(stops.iter().map(|at| at - by));
                    all.extend(stops.iter().map(|at| at + by));
                }
                in_order(all)
            })
        };
        self.slant_stops[region].get_or_init(make)
    }

    /// Regions that hold a point.
    pub(super) fn regions_at(&self, point: Point) -> impl Iterator<Item = usize> {
        (0..self.regions.len()).filter(move |k| self.regions[*k].clear.has(point))
    }

    /// Whether a point lies in a space that is no bay.
    pub(super) fn is_wide_at(&self, point: Point) -> bool {
        self.regions.iter().any(|region| !region.is_bay && region.clear.has(point))
    }

    /// The tube along an axis through a point, as far as no member ends it on either side.
    pub(super) fn tube(&mut self, axis: usize, point: Point) -> u32 {
        let [j, k] = ACROSS[axis];
        let key = (axis as u8, step(point[j]), step(point[k]));
        let at = point[axis];
        let reaches = |tube: &u32| {
            let [from, to] = self.tubes[*tube as usize].reach;
            at >= from - TOUCH_M && at <= to + TOUCH_M
        };
        if let Some(found) = self.index.get(&key).and_then(|all| all.iter().find(|t| reaches(t))) {
            return *found;
        }
        let number = self.tubes.len() as u32;
        let tube = self.bored_tube(axis, point);
        self.tubes.push(tube);
        self.index.entry(key).or_default().push(number);
        number
    }

    fn bored_tube(&mut self, axis: usize, line: Point) -> Tube {
        let [j, k] = ACROSS[axis];
        let (hj, hk) = (self.half(axis, j), self.half(axis, k));
        let section = [[line[j] - hj, line[j] + hj], [line[k] - hk, line[k] + hk]];
        let meets = |b: &Block| {
            section[0][0] < b.max[j] - TOUCH_M
                && b.min[j] < section[0][1] - TOUCH_M
                && section[1][0] < b.max[k] - TOUCH_M
                && b.min[k] < section[1][1] - TOUCH_M
        };
        let at = line[axis];
        let mut passed: Vec<Cross> = (self.members.iter().enumerate())
            .filter(|(_, b)| meets(b))
            .map(|(member, b)| Cross { member, from: b.min[axis], to: b.max[axis] })
            .collect();
        let away = |c: &Cross| (c.from - at).max(at - c.to).max(0.0);
        sort::by(&mut passed, |a, b| away(a).total_cmp(&away(b)));
        // From the point outwards: behind the first member on either side that may not be passed nothing is reached.
        let mut reach = [f64::NEG_INFINITY, f64::INFINITY];
        let mut crossings = Vec::new();
        for cross in passed {
            if cross.to <= reach[0] + TOUCH_M || cross.from >= reach[1] - TOUCH_M {
                continue;
            }
            match self.bore(cross.member, axis, line) {
                Bore::Allowed => crossings.push(cross),
                Bore::Forbidden(why) => {
                    self.forbidden.insert(why);
                    if cross.from >= at - TOUCH_M {
                        reach[1] = reach[1].min(cross.from);
                    } else if cross.to <= at + TOUCH_M {
                        reach[0] = reach[0].max(cross.to);
                    } else {
                        reach = [at, at];
                    }
                }
            }
        }
        let within = |b: &&Block| {
            meets(b) && b.min[axis] < reach[1] + TOUCH_M && b.max[axis] > reach[0] - TOUCH_M
        };
        let met: Vec<&Block> = self.regions.iter().map(|r| &r.clear).filter(within).collect();
        let mut shut = vec![[f64::NEG_INFINITY, reach[0]], [reach[1], f64::INFINITY]];
        let in_the_way = self.obstacles.iter().enumerate().filter(|(_, b)| within(b));
        let shut_by: Vec<([f64; 2], usize)> =
            in_the_way.map(|(k, b)| ([b.min[axis], b.max[axis]], k)).collect();
        shut.extend(shut_by.iter().map(|(range, _)| *range));
        let bored: Vec<[f64; 2]> = crossings.iter().map(|c| [c.from, c.to]).collect();
        let open = cells(section, &met, [j, k]).into_iter().map(|cell| {
            let holding = met.iter().filter(|b| holds_cell(b, [j, k], cell));
            union(holding.map(|b| [b.min[axis], b.max[axis]]).chain(bored.iter().copied()))
        });
        let spans = open.reduce(|a, b| both(&a, &b)).unwrap_or_default();
        let spans = without(spans, &shut);
        let is_on = |b: &Block| {
            let inside = |i: usize| line[i] >= b.min[i] - TOUCH_M && line[i] <= b.max[i] + TOUCH_M;
            inside(j)
                && inside(k)
                && b.min[axis] < reach[1] + TOUCH_M
                && b.max[axis] > reach[0] - TOUCH_M
        };
        let here = (0..self.regions.len()).filter(|r| is_on(&self.regions[*r].clear));
        let inside = |at: &f64| spans.iter().any(|[a, b]| at >= a && at <= b);
        let (mut square, mut slanted): (Vec<f64>, Vec<f64>) = (Vec::new(), Vec::new());
        for region in here {
            square.extend(self.stops(region)[axis].iter().filter(|at| inside(at)));
            slanted.extend(self.slant_stops(region)[axis].iter().filter(|at| inside(at)));
        }
        let stops = [square, slanted].map(in_order);
        sort::by(&mut crossings, |a, b| a.from.total_cmp(&b.from));
        Tube { axis, line, reach, spans, crossings, shut_by, stops }
    }

    /// Whether a leg along an axis may pass a member by a bore.
    fn bore(&self, number: usize, axis: usize, line: Point) -> Bore {
        let member: &Member = &self.ways.members[number];
        let along = member.along.index();
        let is_square = axis == member.along.across().index() && axis != UP && along != UP;
        let inside = |i: usize| {
            let half = self.half(axis, i);
            line[i] - half >= member.solid.min[i] - TOUCH_M
                && line[i] + half <= member.solid.max[i] + TOUCH_M
        };
        if !is_square || !inside(along) || !inside(UP) {
            return Bore::Forbidden(format!("{} is in the way", member.id));
        }
        let from_bearing = line[along] - member.span[0];
        (self.may_bore)(member, from_bearing, line[UP] - member.solid.min[UP], self.hole)
    }

    /// Whether a box lies in free space, away from every member.
    pub(super) fn open(&self, block: &Block) -> bool {
        if let Some(region) = self.regions.iter().find(|r| r.clear.holds(block)) {
            return self.is_clear(region, |b| b.overlaps(block));
        }
        if !self.is_clear_anywhere(|b| b.overlaps(block)) {
            return false;
        }
        let near: Vec<Block> =
            self.regions.iter().map(|r| r.clear).filter(|r| r.overlaps(block)).collect();
        covered(*block, &near)
    }

    /// Whether nothing of a region is met; an obstacle that is met is noted.
    fn is_clear(&self, region: &Region<'_>, meets: impl Fn(&Block) -> bool) -> bool {
        let met = region.blockers.iter().find(|(block, _)| meets(block));
        if let Some((_, Some(obstacle))) = met {
            self.met.borrow_mut().insert(*obstacle);
        }
        met.is_none()
    }

    /// The same of all members and obstacles.
    fn is_clear_anywhere(&self, meets: impl Fn(&Block) -> bool) -> bool {
        if self.members.iter().any(&meets) {
            return false;
        }
        let met = self.obstacles.iter().position(meets);
        self.met.borrow_mut().extend(met);
        met.is_none()
    }

    /// Lets a duct pass all obstacles; what holds it stays where it was.
    pub(super) fn let_obstacles_go(&mut self) {
        self.obstacles.clear();
        for region in &mut self.regions {
            region.blockers.retain(|(_, obstacle)| obstacle.is_none());
        }
        self.tubes.clear();
        self.index.clear();
    }

    /// Obstacles that ended a leg which passes a point of a tube, or that a fitting or a slanted leg met.
    pub(super) fn met(&self, legs: impl Iterator<Item = (u32, f64)>) -> BTreeSet<usize> {
        let mut met = self.met.borrow().clone();
        for (tube, at) in legs {
            let tube = &self.tubes[tube as usize];
            let Some([from, to]) = tube.span(at) else { continue };
            let ends = tube.shut_by.iter().filter(|([first, last], _)| {
                (first - to).abs() <= TOUCH_M || (last - from).abs() <= TOUCH_M
            });
            met.extend(ends.map(|(_, obstacle)| *obstacle));
        }
        met
    }

    /// Whether a fitting has room at a corner: boxes round its arc from the end of the straight leg on.
    pub(super) fn bend_fits(&self, corner: &Corner, bend: &Bend) -> bool {
        let Corner { at, along: (i, si), towards: (j, sj) } = *corner;
        let lateral = 3 - i - j;
        let turn = bend.turn_deg.to_radians();
        let tangent = tangent_m(bend);
        let radial = if i == UP || j == UP { self.flat } else { self.wide };
        let aside = if lateral == UP { self.flat } else { self.wide };
        let radii = [bend.radius_m - radial, bend.radius_m + radial];
        // From the end of the straight leg along it, and from the centre of the arc against the turn.
        let (start, centre) = (at[i] - si * tangent, at[j] + sj * bend.radius_m);
        let part = |from: f64, to: f64| {
            let reach = |f: fn(f64) -> f64| {
                let ends = radii.map(|r| [r * f(from), r * f(to)]);
                let all = ends.as_flattened().iter();
                let (least, most) = (f64::INFINITY, f64::NEG_INFINITY);
                all.fold((least, most), |(a, b), v| (a.min(*v), b.max(*v)))
            };
            let (along, against) = (reach(libm::sin), reach(libm::cos));
            let mut block = Block { min: [0.0; 3], max: [0.0; 3] };
            (block.min[i], block.max[i]) = ordered(start + si * along.0, start + si * along.1);
            (block.min[j], block.max[j]) =
                ordered(centre - sj * against.0, centre - sj * against.1);
            (block.min[lateral], block.max[lateral]) = (at[lateral] - aside, at[lateral] + aside);
            block
        };
        if self.open(&part(0.0, turn)) {
            return true;
        }
        let parts = if bend.turn_deg > 60.0 { ARC_PARTS } else { ARC_PARTS.div_ceil(2) };
        let angle = |k: usize| turn * k as f64 / parts as f64;
        (0..parts).all(|k| self.open(&part(angle(k), angle(k + 1))))
    }

    /// Whether a slanted leg between the corners of two fittings of 45 degrees lies free.
    pub(super) fn slant_fits(
        &self,
        from: Point,
        to: Point,
        axes: [usize; 2],
        tangent: f64,
    ) -> bool {
        let trim = tangent * 0.5_f64.sqrt();
        let (mut a, mut b) = (from, to);
        for i in axes {
            let sign = (to[i] - from[i]).signum();
            (a[i], b[i]) = (from[i] + trim * sign, to[i] - trim * sign);
        }
        self.slant_is_free(a, b, axes)
    }

    /// Whether a straight piece at 45 degrees between two axes lies free, whichever bays and spaces it passes.
    pub(super) fn slant_is_free(&self, a: Point, b: Point, axes: [usize; 2]) -> bool {
        let [i, j] = axes;
        let lateral = 3 - i - j;
        let radial = if i == UP || j == UP { self.flat } else { self.wide };
        let aside = if lateral == UP { self.flat } else { self.wide };
        let slant = Slant::new(a, b, axes, radial, aside);
        if let Some(region) = self.regions.iter().find(|r| r.clear.holds(&slant.hull)) {
            return self.is_clear(region, |block| slant.meets(block));
        }
        if !self.is_clear_anywhere(|block| slant.meets(block)) {
            return false;
        }
        let near: Vec<Block> =
            self.regions.iter().map(|r| r.clear).filter(|r| r.overlaps(&slant.hull)).collect();
        !any_left(slant.hull, &near, &|piece| slant.meets(piece))
    }
}

/// A straight piece of duct at 45 degrees between two axes, boxed in.
struct Slant {
    axes: [usize; 2],
    signs: [f64; 2],
    hull: Block,
    /// From where to where it lies along itself, and across in the plane of both axes.
    along: [f64; 2],
    across: [f64; 2],
}

impl Slant {
    fn new(a: Point, b: Point, axes: [usize; 2], radial: f64, aside: f64) -> Self {
        let [i, j] = axes;
        let lateral = 3 - i - j;
        let reach = radial * 0.5_f64.sqrt();
        let mut hull = Block { min: [0.0; 3], max: [0.0; 3] };
        for axis in axes {
            let (low, high) = ordered(a[axis], b[axis]);
            (hull.min[axis], hull.max[axis]) = (low - reach, high + reach);
        }
        (hull.min[lateral], hull.max[lateral]) = (a[lateral] - aside, a[lateral] + aside);
        let signs = [(b[i] - a[i]).signum(), (b[j] - a[j]).signum()];
        let mut made = Self { axes, signs, hull, along: [0.0; 2], across: [0.0; 2] };
        let ends = [a, b].map(|p| made.on([p[i], p[j]], 1.0));
        let middle = made.on([a[i], a[j]], -1.0);
        made.along = ends;
        made.across = [middle - radial, middle + radial];
        made
    }

    /// Coordinate along the piece, or across it where the sign is below nought.
    fn on(&self, p: [f64; 2], sign: f64) -> f64 {
        0.5_f64.sqrt() * (self.signs[0] * p[0] + sign * self.signs[1] * p[1])
    }

    /// Whether its inside meets that of a box.
    fn meets(&self, block: &Block) -> bool {
        let [i, j] = self.axes;
        let spread = |sign: f64| {
            let corners = [block.min[i], block.max[i]]
                .into_iter()
                .flat_map(|x| [block.min[j], block.max[j]].map(|y| self.on([x, y], sign)));
            corners.fold([f64::INFINITY, f64::NEG_INFINITY], |[p, q], v| [p.min(v), q.max(v)])
        };
        let share = |a: [f64; 2], b: [f64; 2]| a[0] < b[1] - TOUCH_M && b[0] < a[1] - TOUCH_M;
        block.overlaps(&self.hull)
            && share(spread(1.0), self.along)
            && share(spread(-1.0), self.across)
    }
}

/// Least length of a slanted leg along either axis, for each fitting of 45 degrees.
fn slants(duct: &Duct) -> Vec<f64> {
    let half = duct.bends.iter().filter(|b| is_half(b));
    half.map(|b| least_slant(b, duct.min_straight_m)).collect()
}

/// Two values in order.
fn ordered(a: f64, b: f64) -> (f64, f64) {
    if a <= b { (a, b) } else { (b, a) }
}

/// Parts of a section between the faces of boxes.
fn cells(section: [[f64; 2]; 2], met: &[&Block], axes: [usize; 2]) -> Vec<[[f64; 2]; 2]> {
    let cuts = |side: usize| {
        let ([from, to], axis) = (section[side], axes[side]);
        let mut cuts = vec![from, to];
        let faces = met.iter().flat_map(|b| [b.min[axis], b.max[axis]]);
        cuts.extend(faces.filter(|v| *v > from + TOUCH_M && *v < to - TOUCH_M));
        in_order(cuts)
    };
    let (first, second) = (cuts(0), cuts(1));
    let pairs = |cuts: &[f64]| cuts.windows(2).map(|w| [w[0], w[1]]).collect::<Vec<_>>();
    let second = pairs(&second);
    pairs(&first).into_iter().flat_map(|a| second.iter().map(move |b| [a, *b])).collect()
}

/// Whether a box covers a part of a section.
fn holds_cell(block: &Block, axes: [usize; 2], cell: [[f64; 2]; 2]) -> bool {
    axes.iter().zip(cell).all(|(axis, [from, to])| {
        block.min[*axis] <= from + TOUCH_M && to - TOUCH_M <= block.max[*axis]
    })
}

/// All of these ranges, those that touch joined.
fn union(ranges: impl Iterator<Item = [f64; 2]>) -> Vec<[f64; 2]> {
    let mut all: Vec<[f64; 2]> = ranges.collect();
    sort::by(&mut all, |a, b| a[0].total_cmp(&b[0]));
    let mut joined: Vec<[f64; 2]> = Vec::new();
    for [from, to] in all {
        match joined.last_mut() {
            Some(last) if from <= last[1] + TOUCH_M => last[1] = last[1].max(to),
            _ => joined.push([from, to]),
        }
    }
    joined
}

/// What two lists of ranges share.
fn both(a: &[[f64; 2]], b: &[[f64; 2]]) -> Vec<[f64; 2]> {
    let pairs = a.iter().flat_map(|x| b.iter().map(move |y| [x[0].max(y[0]), x[1].min(y[1])]));
    pairs.filter(|[from, to]| to - from > TOUCH_M).collect()
}

/// Ranges less others.
fn without(ranges: Vec<[f64; 2]>, shut: &[[f64; 2]]) -> Vec<[f64; 2]> {
    shut.iter().fold(ranges, |left, [from, to]| {
        let parts = left.into_iter().flat_map(|[a, b]| {
            if *to <= a + TOUCH_M || *from >= b - TOUCH_M {
                [[a, b], [a, a]]
            } else {
                [[a, *from], [*to, b]]
            }
        });
        parts.filter(|[a, b]| b - a > TOUCH_M).collect()
    })
}

/// Whether boxes together cover another one.
fn covered(block: Block, by: &[Block]) -> bool {
    !any_left(block, by, &|_| true)
}

/// Whether any piece that is left of a box where others are taken away is one that is asked for.
fn any_left(block: Block, by: &[Block], asked: &dyn Fn(&Block) -> bool) -> bool {
    let Some((first, rest)) = by.split_first() else { return asked(&block) };
    let Some(shared) = first.shared(&block) else { return any_left(block, rest, asked) };
    let mut left = block;
    for axis in [Axis::X, Axis::Y, Axis::Z] {
        let i = axis.index();
        let (mut below, mut above) = (left, left);
        below.max[i] = shared.min[i];
        above.min[i] = shared.max[i];
        let is_left = |part: &Block| part.size(axis) > TOUCH_M && any_left(*part, rest, asked);
        if is_left(&below) || is_left(&above) {
            return true;
        }
        (left.min[i], left.max[i]) = (shared.min[i], shared.max[i]);
    }
    false
}
