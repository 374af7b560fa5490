//! The outlet seen from outside: the wall to scale, with how high the outlet is and what it must keep away from.
//!
//! What lies on the wall is drawn where it is. What lies elsewhere, or nobody knows where, is told in words: no line on the
//! wall could be measured for it.

use dewpath_report::{Message, Verdict};

use crate::board::{BODY, Board, EDGE, text_at};
use crate::font;
use crate::paper::{Page, Sheet};
use crate::pen::Layer;
use crate::scale;
use crate::scene::{Anchor, Rect, Spot};
use crate::voice::Voice;

/// Paper round what is drawn, mm.
const SIDE: f64 = 12.0;
/// Half the side of an outlet whose size nobody knows, mm of paper: a symbol.
const SYMBOL: f64 = 2.0;
/// Most that a distance on the sheet may be off what it says, m; else it is told in words alone.
const TRUE_M: f64 = 0.003;
/// What is drawn of the wall where nothing near the outlet has a place, m.
const LEAST_M: f64 = 0.6;
/// A width or height less than this is a line, m.
const LINE_M: f64 = 1e-3;

/// Something near an outlet.
#[derive(Debug, Clone, PartialEq)]
pub struct Near {
    /// What it is, in words.
    pub what: String,
    /// Distance from the edge of the outlet, m.
    pub distance_m: f64,
    /// Least distance, m; none when no book says.
    pub least_m: Option<f64>,
    /// Whether it is far enough.
    pub verdict: Verdict,
    /// Where it lies on the wall as one sees it from outside: least and greatest place to the right of and above the middle of the
    /// outlet, m. None where it is not on the wall, or nobody says where it is.
    pub on_wall_m: Option<[[f64; 2]; 2]>,
    /// Whether it is the ground or the snow, which are drawn as levels.
    pub is_level: bool,
}

/// An outlet and what is near it.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct OutsideView {
    /// Outlet, by its id.
    pub outlet: String,
    /// Width and height of the outlet, m, where its size is known.
    pub size_m: Option<f64>,
    /// What is near.
    pub near: Vec<Near>,
    /// Height of its lower edge above the ground, m, where it is known.
    pub above_ground_m: Option<f64>,
    /// Height of its lower edge above the snow that is usual, m, where that is known; below nought the snow covers it.
    pub above_snow_m: Option<f64>,
    /// Whether only the window is known in which it may lie: distances are then the least from anywhere in it.
    pub is_anywhere: bool,
}

/// The wall on paper: metres to the right of and above the middle of the outlet.
struct Wall {
    origin: Spot,
    mm: f64,
}

impl Wall {
    fn at(&self, [x, y]: [f64; 2]) -> Spot {
        [self.origin[0] + x * self.mm, self.origin[1] - y * self.mm]
    }

    fn rect(&self, [a, b]: [[f64; 2]; 2]) -> Option<Rect> {
        Rect::round([self.at(a), self.at(b)])
    }
}

/// Draws an outlet from outside. None when neither its height nor anything near it is known.
pub fn outside(voice: &Voice, page: Page, view: &OutsideView) -> Option<Sheet> {
    let near: Vec<&Near> =
        view.near.iter().filter(|n| n.distance_m.is_finite() && n.distance_m >= 0.0).collect();
    let height = |m: &f64| m.is_finite() && m.abs() < 300.0;
    let ground = view.above_ground_m.filter(height);
    let snow = view.above_snow_m.filter(height);
    if near.is_empty() && ground.is_none() && snow.is_none() {
        return None;
    }
    let half = view.size_m.filter(|m| m.is_finite() && *m > 0.0 && *m < 5.0).map(|m| 0.5 * m);
    let edge = half.unwrap_or(0.0);
    let name = format!("outside-{}", view.outlet);
    let mut board = Board::new(voice, page, &name, &voice.word("draw.outside.title"), &view.outlet);
    board.describe(
        voice.say(&Message::new("draw.outside.about").name("outlet", view.outlet.as_str())),
    );
    let levels = [ground, snow].map(|level| level.map(|m| -edge - m));
    let boxes = near.iter().filter_map(|n| on_wall(n));
    let corners = boxes.flatten().chain(levels.into_iter().flatten().map(|y| [0.0, y]));
    let least = edge.max(0.5 * LEAST_M);
    let extent = Rect::round(corners.chain([[-least, -edge], [least, edge.max(0.5 * least)]]))?;
    let paper = [board.inner_width() - 2.0 * SIDE, 120.0];
    let scale = scale::fitting(voice.system(), [extent.width(), extent.height()], paper)?;
    board.use_scale(scale);
    let mm = 1000.0 / scale.denominator;
    let foot = if ground.is_none() { 10.0 } else { 2.0 };
    let area = board.area(extent.height() * mm + 2.0 * SIDE + foot);
    let spare = area.width() - extent.width() * mm;
    let wall = Wall {
        origin: [
            area.min[0] + 0.5 * spare - extent.min[0] * mm,
            area.min[1] + SIDE + extent.max[1] * mm,
        ],
        mm,
    };
    let hood = Rect { min: wall.origin, max: wall.origin }.grown(half.map_or(SYMBOL, |m| m * mm));
    board.places.take(hood);
    for n in &near {
        thing(&mut board, n, &wall);
    }
    board.polygon(Layer::Duct, &hood.corners());
    board.scene.circle(Layer::Duct, wall.origin, 0.6 * 0.5 * hood.width());
    board.scene.line(Layer::Duct, [hood.min[0], wall.origin[1]], [hood.max[0], wall.origin[1]]);
    let foot = wall.at([0.0, -edge])[1];
    level(&mut board, area, [hood.middle()[0], foot], [levels[0], ground], &wall);
    snow_line(&mut board, area, [hood.min[0], foot], [levels[1], snow], &wall);
    for n in &near {
        distance(&mut board, n, &wall, edge);
    }
    for (place, n) in near.iter().enumerate() {
        if let Some(rect) = on_wall(n).and_then(|on_wall| wall.rect(on_wall)) {
            board.label(&format!("{} {}", place + 1, n.what), corner_nearest(&rect, wall.origin));
        }
    }
    if view.is_anywhere && !near.is_empty() {
        board.note(voice.word("draw.outside.anywhere"));
    }
    notes(&mut board, view, &near, [ground, snow]);
    Some(board.finish())
}

fn on_wall(near: &Near) -> Option<[[f64; 2]; 2]> {
    near.on_wall_m.filter(|places| places.iter().flatten().all(|v| v.is_finite() && v.abs() < 60.0))
}

/// The ground with the height above it; where nobody knows it, the wall breaks off and the sheet says so.
fn level(board: &mut Board, area: Rect, from: Spot, ground: [Option<f64>; 2], wall: &Wall) {
    let voice = board.voice.clone();
    if let [Some(place), Some(above)] = ground {
        let y = wall.at([0.0, place])[1];
        board.line(Layer::Ground, [area.min[0], y], [area.max[0], y]);
        let strip = Rect { min: [area.min[0], y], max: [area.max[0], y + 1.8] };
        board.scene.hatch(Layer::Hatch, &strip.corners(), 1.4, true);
        board.dimension(from, [from[0], y], [0.0, 0.0], &voice.tape(above));
        let text = voice.word("draw.outside.ground");
        let at = [area.max[0] - 1.0, y - 1.2];
        board.put_if_free(text_at(at, &text, BODY, Anchor::End));
        return;
    }
    let (x, y) = (from[0], area.max[1] - 7.0);
    board.path(
        Layer::Axis,
        &[
            [area.min[0], y],
            [x - 2.0, y],
            [x - 1.0, y - 1.6],
            [x + 1.0, y + 1.6],
            [x + 2.0, y],
            [area.max[0], y],
        ],
    );
    let base = y + 2.6 + font::CAPITAL * BODY;
    let text = voice.word("draw.outside.ground-unknown");
    for (k, line) in font::wrap(&text, BODY, area.width()).iter().take(1).enumerate() {
        let at = [EDGE, base + k as f64 * font::LEADING * BODY];
        board.put_if_free(text_at(at, line, BODY, Anchor::Start));
    }
}

fn snow_line(board: &mut Board, area: Rect, from: Spot, snow: [Option<f64>; 2], wall: &Wall) {
    let [Some(place), Some(above)] = snow else { return };
    let y = wall.at([0.0, place])[1];
    board.line(Layer::Limit, [area.min[0], y], [area.max[0], y]);
    let text = board.voice.word("draw.outside.snow");
    let at = [area.max[0] - 1.0, y - 1.2];
    board.put_if_free(text_at(at, &text, BODY, Anchor::End));
    let text = board.voice.tape(above.abs());
    board.dimension(from, [from[0], y], [-9.0, 0.0], &text);
}

/// What lies on the wall.
fn thing(board: &mut Board, near: &Near, wall: &Wall) {
    let Some(places) = on_wall(near) else { return };
    let Some(rect) = wall.rect(places) else { return };
    let fails = near.verdict == Verdict::Fails;
    let layer = if fails { Layer::Alarm } else { Layer::Opening };
    let [a, b, c, d] = rect.corners();
    if rect.width() < LINE_M * wall.mm || rect.height() < LINE_M * wall.mm {
        board.line(layer, a, c);
    } else {
        board.polygon(layer, &[a, b, c, d]);
        if fails {
            board.line(layer, a, c);
            board.line(layer, b, d);
        }
    }
}

/// How far it is to what lies on the wall, where that can be measured on the sheet.
fn distance(board: &mut Board, near: &Near, wall: &Wall, edge: f64) {
    let Some(places) = on_wall(near) else { return };
    let nearest = |[lo, hi]: [[f64; 2]; 2], to: [f64; 2]| {
        [0, 1].map(|i| to[i].clamp(lo[i].min(hi[i]), hi[i].max(lo[i])))
    };
    let to = nearest(places, [0.0, 0.0]);
    let from = nearest([[-edge; 2], [edge; 2]], to);
    let drawn = libm::hypot(to[0] - from[0], to[1] - from[1]);
    if (drawn - near.distance_m).abs() <= TRUE_M && drawn > TRUE_M {
        let text = board.voice.tape(near.distance_m);
        board.dimension(wall.at(from), wall.at(to), [0.0, 0.0], &text);
    }
}

fn corner_nearest(rect: &Rect, to: Spot) -> Spot {
    [0, 1].map(|i| to[i].clamp(rect.min[i], rect.max[i]))
}

fn notes(board: &mut Board, view: &OutsideView, near: &[&Near], levels: [Option<f64>; 2]) {
    let voice = board.voice.clone();
    for (place, n) in near.iter().enumerate() {
        let mut text = format!("{}  {}: {}", place + 1, n.what, in_words(&voice, n));
        if on_wall(n).is_none() && !n.is_level && !view.is_anywhere {
            text = format!("{text}; {}", voice.word("draw.outside.elsewhere"));
        }
        board.note(text);
    }
    let [ground, snow] = levels;
    board.note(match ground {
        Some(above) => {
            voice.say(&Message::new("draw.outside.height").reference("height", voice.tape(above)))
        }
        None => voice.word("draw.outside.height-unknown"),
    });
    board.note(match snow {
        Some(above) if above < 0.0 => voice.word("draw.outside.buried"),
        Some(above) => voice
            .say(&Message::new("draw.outside.snow-height").reference("height", voice.tape(above))),
        None => voice.word("draw.outside.snow-unknown"),
    });
    if view.size_m.is_none() {
        board.note(voice.word("draw.outside.symbol"));
    }
    board.note(voice.word("draw.outside.ladder"));
    board.note(voice.word("draw.measured"));
}

fn in_words(voice: &Voice, near: &Near) -> String {
    let key = match (near.least_m, near.verdict) {
        (None, _) => "draw.outside.free",
        (_, Verdict::Fails) => "draw.outside.short",
        (_, Verdict::Unknown) => "draw.outside.unknown",
        _ => "draw.outside.asked",
    };
    let message = Message::new(key).reference("distance", voice.tape(near.distance_m));
    voice.say(&match near.least_m {
        Some(least) => message.reference("least", voice.tape(least)),
        None => message,
    })
}
