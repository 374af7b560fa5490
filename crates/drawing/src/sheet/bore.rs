//! A hole through a member, with what is left above and below it.

use dewpath_report::{Bore, Message, Verdict};

use crate::board::{BODY, Board, EDGE, text_at};
use crate::paper::{Page, Sheet};
use crate::pen::Layer;
use crate::scale;
use crate::scene::{Anchor, Rect, Spot};
use crate::voice::Voice;

/// Draws a hole through a member; where it may not be cut, the place without a hole, crossed out. None when the hole has no
/// size.
pub fn bore(voice: &Voice, page: Page, bore: &Bore) -> Option<Sheet> {
    if !(bore.diameter_m.is_finite() && bore.diameter_m > 0.0) {
        return None;
    }
    let stop = why_not(voice, bore);
    let (title, about) = match stop {
        None => ("draw.bore.title", "draw.bore.about"),
        Some(_) => ("draw.bore.none", "draw.bore.about-none"),
    };
    let name = format!("bore-{}", bore.member);
    let mut board = Board::new(voice, page, &name, &voice.word(title), &bore.member);
    board.describe(voice.say(&Message::new(about).name("member", bore.member.as_str())));
    let known = bore.depth_m.filter(|depth| depth.is_finite() && *depth > 0.0);
    if let Some(stop) = &stop {
        board.stop(stop);
    }
    // A member whose depth nobody knows is drawn twice as deep as the hole, and broken off.
    let depth = known.unwrap_or(2.0 * bore.diameter_m);
    let drawn = if stop.is_some() { depth } else { depth.max(bore.diameter_m) };
    let width = board.inner_width();
    let scale = scale::fitting(voice.system(), [1.5 * drawn, drawn], [width - 36.0, 90.0])?;
    let mm = |m: f64| m * 1000.0 / scale.denominator;
    board.use_scale(scale);
    let area = board.area(mm(drawn) + 32.0);
    let top = area.min[1] + 14.0;
    let length = (1.8 * mm(drawn)).max(40.0).min(width - 36.0);
    let member = Rect::new(EDGE + 20.0, top, length, mm(drawn));
    board.polygon(Layer::Member, &member.corners());
    broken_ends(&mut board, member);
    if known.is_none() {
        broken_edge(&mut board, member);
    }
    match stop {
        Some(_) => crossed_out(&mut board, member, known),
        None => hole(&mut board, bore, member, drawn, known),
    }
    notes(&mut board, bore, known.is_some(), stop.is_some());
    Some(board.finish())
}

/// Why nothing may be cut; none where the hole is allowed.
fn why_not(voice: &Voice, bore: &Bore) -> Option<String> {
    let length = |m: f64| voice.small_tape(m);
    let diameter = bore.diameter_m;
    let too_near = bore.edge_m.zip(bore.edge_least_m).filter(|(edge, least)| edge < least);
    let message = match (bore.verdict, bore.allowed_m) {
        (Verdict::Holds, Some(_)) => return None,
        (Verdict::Fails, Some(allowed)) if allowed < diameter => {
            Message::new("draw.bore.too-large")
                .reference("allowed", length(allowed))
                .reference("diameter", length(diameter))
        }
        (Verdict::Fails, Some(_)) if too_near.is_some() => {
            let (edge, least) = too_near.unwrap_or_default();
            Message::new("draw.bore.too-near")
                .reference("edge", length(edge.max(0.0)))
                .reference("least", length(least))
        }
        (Verdict::Fails, _) => {
            Message::new("draw.bore.forbidden").reference("source", source_of(bore))
        }
        (_, None) => Message::new("draw.bore.chart"),
        _ => Message::new("draw.bore.unsettled"),
    };
    Some(voice.say(&message))
}

fn source_of(bore: &Bore) -> String {
    let source = [bore.source.book.text.as_str(), bore.source.section.text.as_str()].join(" ");
    source.trim().to_owned()
}

/// The member from edge to edge, crossed out: no hole, no size of a hole, nothing that could be laid out and cut.
fn crossed_out(board: &mut Board, member: Rect, known: Option<f64>) {
    let half = (0.5 * member.height()).min(0.3 * member.width());
    let x = member.middle()[0];
    let place = Rect { min: [x - half, member.min[1]], max: [x + half, member.max[1]] };
    for (from, to) in [
        ([place.min[0], place.min[1]], [place.max[0], place.max[1]]),
        ([place.min[0], place.max[1]], [place.max[0], place.min[1]]),
    ] {
        board.line(Layer::Alarm, from, to);
    }
    depth_of(board, member, known);
    let text = board.voice.word("draw.bore.crossing");
    board.put(text_at([x, member.min[1] - 4.0], &text, BODY, Anchor::Middle));
}

fn depth_of(board: &mut Board, member: Rect, depth: Option<f64>) {
    let ([_, top], [right, bottom]) = (member.min, member.max);
    if let Some(depth) = depth {
        let text = board.voice.small_tape(depth);
        board.dimension([right, top], [right, bottom], [8.0, 0.0], &text);
    }
}

/// A hole that may be cut, with what is left on both sides of it.
fn hole(board: &mut Board, bore: &Bore, member: Rect, depth: f64, known: Option<f64>) {
    let mm = member.height() / depth;
    let edge = bore
        .edge_m
        .unwrap_or(0.5 * (depth - bore.diameter_m))
        .clamp(0.0, (depth - bore.diameter_m).max(0.0));
    let centre = [member.middle()[0], member.max[1] - (edge + 0.5 * bore.diameter_m) * mm];
    if let Some(least) = bore.edge_least_m.filter(|least| *least < 0.5 * depth) {
        for y in [member.min[1] + least * mm, member.max[1] - least * mm] {
            board.line(Layer::Limit, [member.min[0], y], [member.max[0], y]);
        }
    }
    let radius = 0.5 * bore.diameter_m * mm;
    board.scene.circle(Layer::Bore, centre, radius);
    cross(board, centre, radius + 2.0);
    dimensions(board, bore, member, [centre, [radius, 0.0]], known);
}

/// The lower edge of a member whose depth nobody knows: it goes on.
fn broken_edge(board: &mut Board, member: Rect) {
    let ([left, _], [right, y]) = (member.min, member.max);
    let x = 0.5 * (left + right);
    let at = |dx: f64, dy: f64| [x + dx, y + dy];
    board.path(
        Layer::Axis,
        &[[left, y], at(-1.2, 0.0), at(-0.6, -1.5), at(0.6, 1.5), at(1.2, 0.0), [right, y]],
    );
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
    let voice = board.voice.clone();
    let [centre, [radius, _]] = hole;
    let ([left, top], [_, bottom]) = (member.min, member.max);
    depth_of(board, member, depth);
    if let Some(depth) = depth {
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

fn notes(board: &mut Board, bore: &Bore, depth_known: bool, is_stopped: bool) {
    let voice = board.voice.clone();
    let length = |m: f64| voice.small_tape(m);
    if is_stopped {
        let diameter = length(bore.diameter_m);
        board.note_of(&Message::new("draw.bore.wanted").reference("diameter", diameter));
    }
    match bore.allowed_m {
        Some(allowed) => {
            board.note_of(&Message::new("draw.bore.allowed").reference("allowed", length(allowed)));
        }
        None if bore.verdict != Verdict::Fails => board.note(voice.word("draw.bore.chart")),
        None => {}
    }
    if let Some(least) = bore.edge_least_m {
        board.note_of(&Message::new("draw.bore.edge").reference("least", length(least)));
    }
    if !depth_known {
        board.note(voice.word("draw.bore.depth"));
    }
    board.note_of(&Message::new("draw.bore.source").reference("source", source_of(bore)));
    if !is_stopped {
        board.note(voice.word("draw.bore.hidden"));
        board.note(voice.word("draw.measured"));
    }
}
