//! A hole through a member, with what is left above and below it.

use dewpath_engine::report::{Bore, Message, Verdict};

use crate::board::{Board, EDGE};
use crate::pen::Layer;
use crate::scale;
use crate::scene::{Rect, Spot};
use crate::{Page, Sheet, Voice};

/// Draws a hole through a member. None when the hole has no size.
pub fn bore(voice: Voice, page: Page, bore: &Bore) -> Option<Sheet> {
    if !(bore.diameter_m.is_finite() && bore.diameter_m > 0.0) {
        return None;
    }
    let name = format!("bore-{}", bore.member);
    let mut board = Board::new(voice, page, &name, &voice.word("draw.bore.title"), &bore.member);
    board
        .describe(voice.say(&Message::new("draw.bore.about").name("member", bore.member.as_str())));
    let known = bore.depth_m.filter(|depth| depth.is_finite() && *depth > 0.0);
    if bore.verdict == Verdict::Fails {
        board.stop(&voice.word("draw.bore.stop"));
    } else if bore.allowed_m.is_none() {
        board.stop(&voice.word("draw.bore.chart"));
    }
    // A member whose depth nobody knows is drawn twice as deep as the hole.
    let depth = known.unwrap_or(2.0 * bore.diameter_m).max(bore.diameter_m);
    let width = board.inner_width();
    let scale = scale::fitting(voice.system(), [1.5 * depth, depth], [width - 36.0, 90.0])?;
    let mm = |m: f64| m * 1000.0 / scale.denominator;
    board.use_scale(scale);
    let area = board.area(mm(depth) + 32.0);
    let top = area.min[1] + 14.0;
    let length = (1.8 * mm(depth)).max(40.0).min(width - 36.0);
    let member = Rect::new(EDGE + 20.0, top, length, mm(depth));
    board.polygon(Layer::Member, &member.corners());
    broken_ends(&mut board, member);
    let edge = bore
        .edge_m
        .unwrap_or(0.5 * (depth - bore.diameter_m))
        .clamp(0.0, (depth - bore.diameter_m).max(0.0));
    let centre = [member.middle()[0], member.max[1] - mm(edge + 0.5 * bore.diameter_m)];
    if let Some(least) = bore.edge_least_m.filter(|least| *least < 0.5 * depth) {
        for y in [member.min[1] + mm(least), member.max[1] - mm(least)] {
            board.line(Layer::Limit, [member.min[0], y], [member.max[0], y]);
        }
    }
    let radius = 0.5 * mm(bore.diameter_m);
    board.scene.circle(Layer::Bore, centre, radius);
    cross(&mut board, centre, radius + 2.0);
    if bore.verdict == Verdict::Fails || bore.allowed_m.is_none() {
        let h = 0.7 * radius;
        board.line(Layer::Alarm, [centre[0] - h, centre[1] - h], [centre[0] + h, centre[1] + h]);
        board.line(Layer::Alarm, [centre[0] - h, centre[1] + h], [centre[0] + h, centre[1] - h]);
    }
    dimensions(&mut board, bore, member, [centre, [radius, 0.0]], known);
    notes(&mut board, bore, known.is_some());
    Some(board.finish())
}

/// Zigzags where a member goes on.
fn broken_ends(board: &mut Board, member: Rect) {
    let h = member.height();
    for x in [member.min[0], member.max[0]] {
        let at = |dx: f64, share: f64| [x + dx, member.min[1] + share * h];
        board.path(
            Layer::Axis,
            &[
                at(0.0, -0.04),
                at(0.0, 0.42),
                at(-1.5, 0.46),
                at(1.5, 0.54),
                at(0.0, 0.58),
                at(0.0, 1.04),
            ],
        );
    }
}

fn cross(board: &mut Board, [x, y]: Spot, half: f64) {
    board.scene.line(Layer::Centre, [x - half, y], [x + half, y]);
    board.scene.line(Layer::Centre, [x, y - half], [x, y + half]);
}

fn dimensions(board: &mut Board, bore: &Bore, member: Rect, hole: [Spot; 2], depth: Option<f64>) {
    let voice = board.voice;
    let [centre, [radius, _]] = hole;
    let ([left, top], [right, bottom]) = (member.min, member.max);
    if let Some(depth) = depth {
        board.dimension([right, top], [right, bottom], [8.0, 0.0], &voice.small_tape(depth));
        let above = [centre[1] - radius, centre[1] + radius];
        let share = depth / member.height();
        let gaps = [(top, above[0]), (above[1], bottom)];
        for (from, to) in gaps {
            if to - from > 0.3 {
                let text = voice.small_tape((to - from) * share);
                board.dimension([left, from], [left, to], [-8.0, 0.0], &text);
            }
        }
    }
    let message =
        Message::new("draw.bore.hole").reference("diameter", voice.small_tape(bore.diameter_m));
    let text = voice.say(&message);
    board.dimension([centre[0] - radius, bottom], [centre[0] + radius, bottom], [0.0, 8.0], &text);
}

fn notes(board: &mut Board, bore: &Bore, depth_known: bool) {
    let voice = board.voice;
    let length = |m: f64| voice.small_tape(m);
    match bore.allowed_m {
        Some(allowed) => {
            board.note_of(&Message::new("draw.bore.allowed").reference("allowed", length(allowed)));
        }
        None => board.note(voice.word("draw.bore.chart")),
    }
    if let Some(least) = bore.edge_least_m {
        board.note_of(&Message::new("draw.bore.edge").reference("least", length(least)));
    }
    if !depth_known {
        board.note(voice.word("draw.bore.depth"));
    }
    let source = [bore.source.book.as_str(), bore.source.section.as_str()].join(" ");
    board.note_of(&Message::new("draw.bore.source").reference("source", source.trim()));
    board.note(voice.word("draw.bore.hidden"));
    board.note(voice.word("draw.measured"));
}
