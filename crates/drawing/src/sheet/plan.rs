//! The ceiling as it lies above the floor: members, housing, blocking, duct, and the distances to measure.

use dewpath_report::{Message, Placement, RouteResult};

use crate::board::Board;
use crate::paper::{Ground, Page, Sheet};
use crate::pen::Layer;
use crate::scale;
use crate::scene::{Rect, Spot};
use crate::voice::Voice;

/// Thickness of blocking, m: 1-1/2 in, the dressed thickness of 2-by lumber (PS 20, American Softwood Lumber
/// Standard, table 3).
const BLOCK_M: f64 = 0.0381;
/// Paper for dimension lines on the left and below, mm.
const CHAINS: f64 = 17.0;
/// Paper for labels on the other sides, mm.
const SIDE: f64 = 10.0;

/// How far from everything else a way out is still on the sheet, m.
const NEAR_M: f64 = 1.5;

/// How far a way goes on beyond room and housing on a narrow sheet, m.
const BEYOND_M: f64 = 0.5;

/// A box in plan, m: least x and y, greatest x and y.
pub type Plan = [[f64; 2]; 2];

/// The housing of a fan.
#[derive(Debug, Clone, PartialEq)]
pub struct PlanHousing {
    /// Fan, by its id.
    pub fan: String,
    /// Its body.
    pub body: Plan,
    /// Where the duct leaves it.
    pub outlet: Option<[f64; 2]>,
}

/// A piece of blocking.
#[derive(Debug, Clone, PartialEq)]
pub struct PlanBlock {
    /// What it fills.
    pub body: Plan,
    /// Length to cut, m.
    pub length_m: f64,
}

/// A way outdoors that is proposed for a duct.
#[derive(Debug, Clone, PartialEq)]
pub struct PlanWay {
    /// Name of its way out.
    pub name: String,
    /// Corners of its centre line.
    pub line: Vec<[f64; 2]>,
    /// Inside diameter, m, where it is known.
    pub diameter_m: Option<f64>,
    /// Straight duct to cut, m.
    pub length_m: f64,
    /// Whether it goes on beyond the last corner, where there is no room for it.
    pub goes_on: bool,
}

/// A ceiling in the frame of the dwelling, metres, x to the right and y upwards on the sheet.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct PlanView {
    /// Name of the sheet.
    pub id: String,
    /// Room, by its name.
    pub room: String,
    /// Corners of the room.
    pub polygon: Vec<[f64; 2]>,
    /// Members above, each with its name.
    pub members: Vec<(String, Plan)>,
    /// Housings.
    pub housings: Vec<PlanHousing>,
    /// Blocking.
    pub blocks: Vec<PlanBlock>,
    /// Ways outdoors that are proposed.
    pub ways: Vec<PlanWay>,
    /// Ways out, each with its name.
    pub exits: Vec<(String, [f64; 2])>,
    /// What is in the way, each with its name.
    pub obstacles: Vec<(String, Plan)>,
}

impl PlanView {
    /// Puts the place of a housing into the plan.
    pub fn add_placement(&mut self, placement: &Placement) {
        let along_x = self.members_run_along_y();
        for block in &placement.blocks {
            let [x, y] = block.at_m;
            let (half, thick) = (0.5 * block.length_m, BLOCK_M);
            // The face towards the housing is given; the block lies on the other side of it.
            let body = if along_x {
                let away = if y < placement.y_m { -thick } else { thick };
                [[x - half, y.min(y + away)], [x + half, y.max(y + away)]]
            } else {
                let away = if x < placement.x_m { -thick } else { thick };
                [[x.min(x + away), y - half], [x.max(x + away), y + half]]
            };
            self.blocks.push(PlanBlock { body, length_m: block.length_m });
        }
        let [x, y, _] = placement.outlet_m;
        self.housings.push(PlanHousing {
            fan: placement.fan.clone(),
            body: placement.body_m,
            outlet: Some([x, y]),
        });
    }

    /// Puts a way outdoors into the plan.
    pub fn add_route(&mut self, route: &RouteResult) {
        let line: Vec<[f64; 2]> = route.line_m.iter().map(|[x, y, _]| [*x, *y]).collect();
        if let Some(end) = line.last() {
            self.exits.push((route.way_out.clone(), *end));
        }
        self.ways.push(PlanWay {
            name: route.way_out.clone(),
            line,
            diameter_m: Some(route.size_m),
            length_m: route.length_m,
            goes_on: false,
        });
    }

    /// The same with ways that end soon after they leave room and housing, so that these are large enough for a narrow sheet.
    fn without_far_ways(&self) -> Self {
        let boxes = self.housings.iter().map(|h| &h.body);
        let boxes = boxes.chain(self.blocks.iter().map(|b| &b.body));
        let corners = boxes.flat_map(|body| body.iter());
        let Some(rect) = Rect::round(self.polygon.iter().chain(corners).copied()) else {
            return self.clone();
        };
        let near = rect.grown(BEYOND_M);
        let cut = |way: &PlanWay| {
            let line = until_it_leaves(&way.line, &near);
            let goes_on = line.last() != way.line.last();
            PlanWay { line, goes_on, ..way.clone() }
        };
        Self { ways: self.ways.iter().map(cut).collect(), ..self.clone() }
    }

    fn members_run_along_y(&self) -> bool {
        let along_y = |(_, [min, max]): &&(String, Plan)| max[1] - min[1] >= max[0] - min[0];
        2 * self.members.iter().filter(along_y).count() >= self.members.len()
    }

    /// What the sheet is made large enough for. Members and obstacles go on beyond it, and so do ways out that are far
    /// from everything else.
    fn places(&self) -> Vec<Spot> {
        let boxes = self.housings.iter().map(|h| &h.body);
        let boxes = boxes.chain(self.blocks.iter().map(|b| &b.body));
        let lines = self.ways.iter().flat_map(|way| &way.line);
        let corners = boxes.flat_map(|body| body.iter());
        let finite = |p: &Spot| p.iter().all(|v| v.is_finite());
        let points = self.polygon.iter().chain(lines).chain(corners);
        let mut all: Vec<Spot> = points.copied().filter(finite).collect();
        if let Some(rect) = Rect::round(all.iter().copied()) {
            let near = rect.grown(NEAR_M);
            let exits = self.exits.iter().map(|(_, at)| *at);
            all.extend(exits.filter(|at| near.holds(&Rect { min: *at, max: *at })));
        }
        all
    }
}

/// A line up to where it leaves a box; all of it when it stays.
fn until_it_leaves(line: &[Spot], near: &Rect) -> Vec<Spot> {
    let mut kept: Vec<Spot> = Vec::new();
    for point in line {
        let inside = near.holds(&Rect { min: *point, max: *point });
        if let (false, Some(last)) = (inside, kept.last()) {
            let share = (0..2).fold(1.0_f64, |share, i| {
                let way = point[i] - last[i];
                let room = if way > 0.0 { near.max[i] - last[i] } else { near.min[i] - last[i] };
                if way.abs() > 1e-9 { share.min(room / way) } else { share }
            });
            let share = share.clamp(0.0, 1.0);
            kept.push([0, 1].map(|i| last[i] + share * (point[i] - last[i])));
            break;
        }
        kept.push(*point);
    }
    kept
}

/// From the frame of the dwelling to the paper.
struct Frame {
    left: f64,
    bottom: f64,
    min: Spot,
    mm_per_m: f64,
    window: Rect,
}

impl Frame {
    fn at(&self, [x, y]: [f64; 2]) -> Spot {
        [
            self.left + (x - self.min[0]) * self.mm_per_m,
            self.bottom - (y - self.min[1]) * self.mm_per_m,
        ]
    }

    fn shows(&self, at: [f64; 2]) -> bool {
        let at = self.at(at);
        self.window.holds(&Rect { min: at, max: at })
    }

    /// A box, cut off at the edge of the drawing.
    fn rect(&self, [a, b]: Plan) -> Option<Rect> {
        let whole = Rect::round([self.at(a), self.at(b)])?;
        let cut = Rect {
            min: [0, 1].map(|i| whole.min[i].max(self.window.min[i])),
            max: [0, 1].map(|i| whole.max[i].min(self.window.max[i])),
        };
        (cut.width() > 0.0 && cut.height() > 0.0).then_some(cut)
    }
}

/// Draws a ceiling. None when nothing in it has a place.
pub fn plan(voice: &Voice, page: Page, view: &PlanView) -> Option<Sheet> {
    let narrow = (page == Page::Phone).then(|| view.without_far_ways());
    let view = narrow.as_ref().unwrap_or(view);
    let extent = Rect::round(view.places())?;
    let size = [extent.width().max(0.1), extent.height().max(0.1)];
    let name = format!("plan-{}", view.id);
    let mut board = Board::new(voice, page, &name, &voice.word("draw.plan.title"), &view.room);
    board.describe(voice.say(&Message::new("draw.plan.about").name("room", view.room.as_str())));
    let room = [
        board.inner_width() - CHAINS - SIDE - 6.0,
        if page == Page::Paper { 175.0 } else { 130.0 },
    ];
    let scale = scale::fitting(voice.system(), size, room)?;
    board.use_scale(scale);
    let mm_per_m = 1000.0 / scale.denominator;
    let drawn = [size[0] * mm_per_m, size[1] * mm_per_m];
    let area = board.area(drawn[1] + CHAINS + SIDE + 8.0);
    let window =
        Rect::new(area.min[0] + CHAINS, area.min[1] + SIDE - 3.0, drawn[0] + 6.0, drawn[1] + 6.0);
    let frame = Frame {
        left: window.min[0] + 3.0,
        bottom: window.max[1] - 3.0,
        min: extent.min,
        mm_per_m,
        window,
    };
    board.lies_on(Ground { origin_mm: frame.at([0.0, 0.0]), mm_per_m });
    members(&mut board, view, &frame);
    obstacles(&mut board, view, &frame);
    ways(&mut board, view, &frame);
    blocks(&mut board, view, &frame);
    housings(&mut board, view, &frame);
    let corners: Vec<Spot> = view.polygon.iter().map(|p| frame.at(*p)).collect();
    if corners.len() > 2 {
        board.polygon(Layer::Room, &corners);
    }
    dimensions(&mut board, view, &frame);
    labels(&mut board, view, &frame);
    for key in [
        "draw.plan.mirror",
        "draw.plan.obstacles",
        "draw.plan.level",
        "draw.plan.cable",
        "draw.measured",
    ] {
        board.note(voice.word(key));
    }
    Some(board.finish())
}

fn members(board: &mut Board, view: &PlanView, frame: &Frame) {
    for (_, body) in &view.members {
        if let Some(rect) = frame.rect(*body) {
            board.polygon(Layer::Member, &rect.corners());
            // Members are timber from end to end: a line along the middle tells them from gaps.
            let middle = rect.middle();
            let ends = if rect.height() >= rect.width() {
                [[middle[0], rect.min[1]], [middle[0], rect.max[1]]]
            } else {
                [[rect.min[0], middle[1]], [rect.max[0], middle[1]]]
            };
            board.scene.line(Layer::Hatch, ends[0], ends[1]);
        }
    }
}

fn obstacles(board: &mut Board, view: &PlanView, frame: &Frame) {
    for rect in view.obstacles.iter().filter_map(|(_, body)| frame.rect(*body)) {
        board.polygon(Layer::Obstacle, &rect.corners());
        let [a, b, c, d] = rect.corners();
        board.scene.line(Layer::Leader, a, c);
        board.scene.line(Layer::Leader, b, d);
    }
}

fn blocks(board: &mut Board, view: &PlanView, frame: &Frame) {
    for rect in view.blocks.iter().filter_map(|block| frame.rect(block.body)) {
        board.polygon(Layer::Block, &rect.corners());
        board.scene.hatch(Layer::Block, &rect.corners(), 0.9, true);
    }
}

fn housings(board: &mut Board, view: &PlanView, frame: &Frame) {
    for housing in &view.housings {
        let Some(rect) = frame.rect(housing.body) else { continue };
        board.polygon(Layer::Housing, &rect.corners());
        let [a, b, c, d] = rect.corners();
        board.line(Layer::Housing, a, c);
        board.line(Layer::Housing, b, d);
        if let Some(outlet) = housing.outlet {
            board.scene.circle(Layer::Duct, frame.at(outlet), 1.0);
        }
    }
}

fn ways(board: &mut Board, view: &PlanView, frame: &Frame) {
    for way in &view.ways {
        let line: Vec<Spot> = way.line.iter().map(|p| frame.at(*p)).collect();
        if let Some(diameter) = way.diameter_m {
            let half = 0.5 * diameter * frame.mm_per_m;
            for pair in line.windows(2) {
                let (a, b) = (pair[0], pair[1]);
                let length = libm::hypot(b[0] - a[0], b[1] - a[1]);
                if length > 1e-6 {
                    let across = [-(b[1] - a[1]) / length * half, (b[0] - a[0]) / length * half];
                    let shift = |p: Spot, s: f64| [p[0] + s * across[0], p[1] + s * across[1]];
                    let sides = [shift(a, 1.0), shift(b, 1.0), shift(b, -1.0), shift(a, -1.0)];
                    board.polygon(Layer::Duct, &sides);
                }
            }
            for corner in line.iter().skip(1).take(line.len().saturating_sub(2)) {
                board.scene.circle(Layer::Duct, *corner, half);
            }
        }
        board.path(Layer::Centre, &line);
        if let (true, [.., a, b]) = (way.goes_on, line.as_slice()) {
            let half = 0.5 * way.diameter_m.unwrap_or(0.0) * frame.mm_per_m + 1.2;
            break_line(board, *a, *b, half);
        }
    }
    for (_, at) in view.exits.iter().filter(|(_, at)| frame.shows(*at)) {
        let [x, y] = frame.at(*at);
        // An arrow head of its own: a triangle, the same in every direction.
        board.polygon(Layer::Opening, &[[x, y - 1.6], [x + 1.5, y + 1.1], [x - 1.5, y + 1.1]]);
    }
}

/// The stroke of a broken line across the end of a duct that goes on.
fn break_line(board: &mut Board, from: Spot, end: Spot, half: f64) {
    let length = libm::hypot(end[0] - from[0], end[1] - from[1]);
    if length < 1e-6 {
        return;
    }
    let ahead = [(end[0] - from[0]) / length, (end[1] - from[1]) / length];
    let at = |across: f64, along: f64| {
        [
            end[0] - across * half * ahead[1] + along * ahead[0],
            end[1] + across * half * ahead[0] + along * ahead[1],
        ]
    };
    let zigzag =
        [at(-1.0, -0.4), at(-0.2, -0.4), at(-0.1, 0.9), at(0.1, -1.1), at(0.2, 0.4), at(1.0, 0.4)];
    board.path(Layer::Axis, &zigzag);
}

/// Distance from a place to the nearest wall in a direction, by a ray; the edge of the room where it has no wall.
fn wall(polygon: &[[f64; 2]], from: [f64; 2], axis: usize, forward: bool) -> Option<f64> {
    let other = 1 - axis;
    let next = polygon.iter().cycle().skip(1);
    let hits = polygon.iter().zip(next).filter_map(|(a, b)| {
        if (a[other] <= from[other]) == (b[other] <= from[other]) {
            return None;
        }
        let share = (from[other] - a[other]) / (b[other] - a[other]);
        let hit = a[axis] + share * (b[axis] - a[axis]);
        let ahead = if forward { hit >= from[axis] } else { hit <= from[axis] };
        ahead.then_some(hit)
    });
    hits.min_by(|p, q| (p - from[axis]).abs().total_cmp(&(q - from[axis]).abs()))
}

fn dimensions(board: &mut Board, view: &PlanView, frame: &Frame) {
    let voice = board.voice.clone();
    let Some(room) = Rect::round(view.polygon.iter().copied()) else { return };
    let (low, left) = (frame.window.max[1], frame.window.min[0]);
    // The outer ones first: texts of short inner ones then keep off their lines.
    let (p, q) = (frame.at(room.min), frame.at(room.max));
    board.dimension([p[0], low], [q[0], low], [0.0, 12.0], &voice.tape(room.width()));
    board.dimension([left, p[1]], [left, q[1]], [-12.0, 0.0], &voice.tape(room.height()));
    if let Some(housing) = view.housings.first() {
        let [a, b] = housing.body;
        let middle = [0.5 * (a[0] + b[0]), 0.5 * (a[1] + b[1])];
        let at = frame.at(middle);
        for axis in 0..2 {
            let walls = [false, true].map(|forward| wall(&view.polygon, middle, axis, forward));
            for wall in walls.into_iter().flatten() {
                let mut end = middle;
                end[axis] = wall;
                let end = frame.at(end);
                let text = voice.tape((wall - middle[axis]).abs());
                let (from, to, off) = if axis == 0 {
                    ([at[0], low], [end[0], low], [0.0, 4.5])
                } else {
                    ([left, at[1]], [left, end[1]], [-4.5, 0.0])
                };
                board.dimension(from, to, off, &text);
            }
        }
        // From the dimension lines to the middle of the housing.
        board.scene.line(Layer::Centre, at, [at[0], low + 4.5]);
        board.scene.line(Layer::Centre, at, [left - 4.5, at[1]]);
    }
}

fn labels(board: &mut Board, view: &PlanView, frame: &Frame) {
    let voice = board.voice.clone();
    let window = frame.window;
    board.places.bounds = window.grown(SIDE - 4.0);
    for housing in &view.housings {
        if let Some(rect) = frame.rect(housing.body) {
            let text = Message::new("draw.plan.housing").name("fan", housing.fan.as_str());
            board.label_from(&voice.say(&text), rect.middle(), 0.5 * rect.width());
        }
    }
    for block in &view.blocks {
        if let Some(rect) = frame.rect(block.body) {
            let length = voice.small_tape(block.length_m);
            let text = Message::new("draw.plan.block").reference("length", length);
            board.label(&voice.say(&text), rect.middle());
        }
    }
    for way in &view.ways {
        let longest = way.line.windows(2).max_by(|a, b| span(a).total_cmp(&span(b)));
        if let Some([a, b]) = longest {
            let middle = frame.at([0.5 * (a[0] + b[0]), 0.5 * (a[1] + b[1])]);
            let mut text = Message::new("draw.plan.way").name("way", way.name.as_str());
            if let Some(diameter) = way.diameter_m {
                text = text.reference("size", voice.small_tape(diameter));
            }
            board.label(&voice.say(&text), middle);
            let straight = Message::new("draw.plan.straight")
                .name("way", way.name.as_str())
                .reference("length", voice.tape(way.length_m));
            board.note_of(&straight);
        }
    }
    for (name, at) in &view.exits {
        if !frame.shows(*at) {
            board.note_of(&Message::new("draw.plan.beyond").name("way", name.as_str()));
        } else if !view.ways.iter().any(|way| way.name == *name) {
            board.label(name, frame.at(*at));
        }
    }
    for (name, body) in &view.obstacles {
        if let Some(rect) = frame.rect(*body) {
            board.label(name, rect.middle());
        }
    }
    member_labels(board, view, frame);
}

/// The number of each member on it, and below what the numbers count.
fn member_labels(board: &mut Board, view: &PlanView, frame: &Frame) {
    let mut zones: Vec<&str> = Vec::new();
    for (name, body) in &view.members {
        let Some(rect) = frame.rect(*body) else { continue };
        let (zone, number) = name.rsplit_once(' ').unwrap_or(("", name));
        if !zone.is_empty() && !zones.contains(&zone) {
            zones.push(zone);
        }
        let [x, y] = rect.min;
        let upright = rect.height() >= rect.width();
        let at = if upright { [rect.middle()[0], y + 1.0] } else { [x + 1.0, rect.middle()[1]] };
        board.label(number, at);
    }
    if !zones.is_empty() {
        board.note_of(&Message::new("draw.plan.numbers").name("zones", zones.join(", ")));
    }
}

fn span(pair: &[[f64; 2]]) -> f64 {
    libm::hypot(pair[1][0] - pair[0][0], pair[1][1] - pair[0][1])
}
