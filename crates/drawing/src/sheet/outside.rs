//! The outlet seen from outside, with what it must keep away from.

use dewpath_engine::report::{Message, Verdict};

use crate::board::Board;
use crate::pen::Layer;
use crate::scale;
use crate::scene::{Rect, Spot};
use crate::svg::on_circle;
use crate::{Page, Sheet, Voice};

/// Half the side of the hood on paper, mm.
const HOOD: f64 = 3.0;
/// Paper round the farthest thing, mm.
const SIDE: f64 = 9.0;

/// Something near an outlet.
#[derive(Debug, Clone, PartialEq)]
pub struct Near {
    /// What it is, in words.
    pub what: String,
    /// Distance, m.
    pub distance_m: f64,
    /// Least distance, m; none when no book says.
    pub least_m: Option<f64>,
    /// Whether it is far enough.
    pub verdict: Verdict,
    /// Direction as it is seen on the wall, degrees: 0 to the right, 90 upwards. None when nobody says: it is then
    /// drawn where there is room.
    pub direction_deg: Option<f64>,
}

/// An outlet and what is near it.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct OutsideView {
    /// Outlet, by its id.
    pub outlet: String,
    /// What is near.
    pub near: Vec<Near>,
    /// Height above the ground, m, where it is known.
    pub above_ground_m: Option<f64>,
}

/// Draws an outlet from outside. None when nothing is near it.
pub fn outside(voice: Voice, page: Page, view: &OutsideView) -> Option<Sheet> {
    let near: Vec<&Near> =
        view.near.iter().filter(|n| n.distance_m.is_finite() && n.distance_m >= 0.0).collect();
    let ground = view.above_ground_m.filter(|m| m.is_finite() && *m >= 0.0);
    if near.is_empty() && ground.is_none() {
        return None;
    }
    let name = format!("outside-{}", view.outlet);
    let mut board = Board::new(voice, page, &name, &voice.word("draw.outside.title"), &view.outlet);
    board.describe(
        voice.say(&Message::new("draw.outside.about").name("outlet", view.outlet.as_str())),
    );
    let directions = directions(&near);
    let ends: Vec<Spot> = near
        .iter()
        .zip(&directions)
        .map(|(n, deg)| on_circle([0.0, 0.0], n.distance_m, *deg))
        .chain(ground.map(|m| [0.0, m]))
        .collect();
    let extent = Rect::round(ends.iter().copied().chain([[0.0, 0.0]]))?;
    let paper = [board.inner_width() - 2.0 * SIDE, 120.0];
    let scale = scale::fitting(
        voice.system(),
        [extent.width().max(0.05), extent.height().max(0.05)],
        paper,
    )?;
    board.use_scale(scale);
    let mm = 1000.0 / scale.denominator;
    let area = board.area(extent.height() * mm + 2.0 * SIDE);
    let spare = area.width() - extent.width() * mm;
    let origin =
        [area.min[0] + 0.5 * spare - extent.min[0] * mm, area.min[1] + SIDE - extent.min[1] * mm];
    let at = |[x, y]: Spot| [origin[0] + x * mm, origin[1] + y * mm];
    let hood = Rect { min: origin, max: origin }.grown(HOOD);
    board.places.take(hood);
    if let Some(m) = ground {
        let y = at([0.0, m])[1];
        board.line(Layer::Ground, [area.min[0], y], [area.max[0], y]);
        board.dimension(origin, [origin[0], y], [0.0, 0.0], &voice.tape(m));
    }
    for (n, end) in near.iter().zip(&ends) {
        arm(&mut board, n, origin, at(*end));
    }
    board.polygon(Layer::Duct, &hood.corners());
    board.scene.circle(Layer::Duct, origin, 0.6 * HOOD);
    board.scene.line(Layer::Duct, [hood.min[0], origin[1]], [hood.max[0], origin[1]]);
    for (place, (n, end)) in near.iter().zip(&ends).enumerate() {
        board.label_from(&format!("{} {}", place + 1, n.what), at(*end), 2.2);
    }
    for (place, n) in near.iter().enumerate() {
        board.note(format!("{}  {}: {}", place + 1, n.what, in_words(voice, n)));
    }
    board.note(voice.word("draw.outside.ladder"));
    board.note(voice.word("draw.measured"));
    Some(board.finish())
}

/// Directions as given; what has none is spread over the widest gaps.
fn directions(near: &[&Near]) -> Vec<f64> {
    let given: Vec<f64> = near.iter().filter_map(|n| n.direction_deg).collect();
    let mut taken = given;
    near.iter()
        .map(|n| {
            n.direction_deg.unwrap_or_else(|| {
                let free = widest_gap(&taken);
                taken.push(free);
                free
            })
        })
        .collect()
}

/// Middle of the widest gap between directions, of 13 in the upper half.
fn widest_gap(taken: &[f64]) -> f64 {
    let gap = |deg: f64| {
        taken
            .iter()
            .map(|t| {
                let turn = (deg - t).rem_euclid(360.0);
                turn.min(360.0 - turn)
            })
            .fold(f64::INFINITY, f64::min)
    };
    // Beginning at the right; what has no direction is not drawn below, where the ground is.
    (0..=12)
        .map(|k| f64::from(k) * 15.0)
        .fold(0.0, |best, deg| if gap(deg) > gap(best) { deg } else { best })
}

fn arm(board: &mut Board, near: &Near, origin: Spot, end: Spot) {
    let layer = if near.verdict == Verdict::Fails { Layer::Alarm } else { Layer::Opening };
    let mark = Rect { min: end, max: end }.grown(1.8);
    board.polygon(layer, &mark.corners());
    if near.verdict == Verdict::Fails {
        let [a, b, c, d] = mark.corners();
        board.line(layer, a, c);
        board.line(layer, b, d);
    }
    board.places.take(mark);
    let text = board.voice.tape(near.distance_m);
    board.dimension(origin, end, [0.0, 0.0], &text);
}

fn in_words(voice: Voice, near: &Near) -> String {
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
