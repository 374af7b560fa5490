//! A run drawn out straight, from the fan to outdoors.

use dewpath_engine::report::{Figure, Message, Triple};
use dewpath_job::model::{Given, Job, PartKind, Run, RunShape, SlopeTo};
use dewpath_units::{Category as _, Length};

use crate::board::{BODY, Board, SMALL, text_at};
use crate::font;
use crate::pen::Layer;
use crate::scale;
use crate::scene::{Anchor, Rect, Spot};
use crate::sheet::water::place_word;
use crate::{Page, Sheet, Voice};

/// Height of the duct on paper, mm.
const DUCT: f64 = 8.0;
/// Thickness of the insulation on paper, mm.
const JACKET: f64 = 2.6;
/// Width of a fitting on paper, mm.
const FITTING: f64 = 6.0;
/// Least length of a piece on paper, mm.
const LEAST: f64 = 5.0;
/// Width of the fan on paper, mm.
const FAN: f64 = 12.0;
/// Most that a piece falls on paper, mm.
const FALL: f64 = 4.0;
/// Most strokes for supports in one piece.
const MOST_SUPPORTS: usize = 60;

/// Which way a stretch of duct falls.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Fall {
    /// To outdoors.
    Out,
    /// Back to the fan.
    Back,
    /// Neither.
    Level,
    /// To a low point between its ends.
    Low,
    /// Nobody says.
    #[default]
    Unknown,
}

/// What is known of insulation.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub enum Jacket {
    /// Nobody says.
    #[default]
    Unknown,
    /// None.
    Bare,
    /// That much.
    Rsi(f64),
}

/// A stretch of a run between two joints.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Stretch {
    /// Part, by its id.
    pub part: String,
    /// What it is, in words.
    pub what: String,
    /// Whether it is a straight piece of duct; else a fitting.
    pub is_duct: bool,
    /// Length, m, where it is known.
    pub length_m: Option<Triple>,
    /// Which way it falls.
    pub fall: Fall,
    /// Its insulation.
    pub jacket: Jacket,
    /// What surrounds it, by key; none when nobody says.
    pub surroundings: Option<String>,
    /// Distance between supports, m.
    pub supports_m: Option<f64>,
}

/// A run from its beginning to outdoors.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct SectionView {
    /// Run, by its id.
    pub run: String,
    /// Where it begins.
    pub from: String,
    /// Where it ends.
    pub to: String,
    /// Whether it ends outdoors.
    pub to_outdoors: bool,
    /// Its stretches in the direction of the air.
    pub stretches: Vec<Stretch>,
    /// Places of supports along it, m from its beginning, where they are known one by one.
    pub supports_m: Vec<f64>,
    /// Fall from its highest point to its end, m.
    pub fall_m: Option<f64>,
    /// Members it goes through, and where, m from its beginning.
    pub bores: Vec<(f64, String)>,
    /// Whether all of it was seen.
    pub seen: Option<bool>,
}

impl SectionView {
    /// What a job says of a run.
    pub fn of_job(voice: Voice, job: &Job, run: &Run) -> Self {
        let stretches = match &run.shape {
            RunShape::Parts(parts) => {
                parts.iter().map(|part| stretch(voice, &part.id, &part.kind)).collect()
            }
            RunShape::Sum(sum) => {
                let kind = PartKind::Piece { duct: sum.duct.clone(), length: sum.length.clone() };
                vec![Stretch { part: run.id.clone(), ..stretch(voice, &run.id, &kind) }]
            }
        };
        Self {
            run: run.id.clone(),
            from: run.from.clone(),
            to: run.to.clone(),
            to_outdoors: job.terminals.iter().any(|terminal| terminal.id == run.to),
            stretches,
            seen: run.seen.as_ref().and_then(|seen| match seen.value {
                dewpath_units::YesNo::Yes => Some(true),
                dewpath_units::YesNo::No => Some(false),
                dewpath_units::YesNo::Unknown => None,
            }),
            ..Self::default()
        }
    }
}

fn stretch(voice: Voice, id: &str, kind: &PartKind) -> Stretch {
    let what = match kind {
        PartKind::Piece { .. } => "loss.piece",
        PartKind::Elbow { .. } => "loss.elbow",
        PartKind::Transition { .. } => "loss.transition",
        PartKind::Damper { .. } => "loss.damper",
        PartKind::Crush { .. } => "loss.crush",
        PartKind::Trap => "draw.section.trap",
        PartKind::Other { .. } => "loss.other",
    };
    let mut found = Stretch { part: id.to_owned(), what: voice.word(what), ..Stretch::default() };
    match kind {
        PartKind::Piece { duct, length } => {
            found.is_duct = true;
            found.length_m = triple(length);
            found.fall = duct.slope.as_ref().and_then(|s| s.value.clone().known()).map_or(
                Fall::Unknown,
                |slope| match slope {
                    SlopeTo::Out => Fall::Out,
                    SlopeTo::Back => Fall::Back,
                    SlopeTo::Level => Fall::Level,
                    SlopeTo::Low => Fall::Low,
                },
            );
            found.jacket = duct.insulation.as_ref().and_then(|given| given.value.likely()).map_or(
                Jacket::Unknown,
                |r| {
                    if r.rsi() > 0.0 { Jacket::Rsi(r.rsi()) } else { Jacket::Bare }
                },
            );
            found.surroundings = duct
                .place
                .as_ref()
                .and_then(|s| s.value.clone().known())
                .map(|place| place.word().to_owned());
            found.supports_m =
                duct.support_spacing.as_ref().and_then(|s| s.value.likely()).map(Length::m);
        }
        PartKind::Elbow { angle, .. } => {
            if let Some(angle) = angle.as_ref().and_then(|a| a.value.likely()) {
                let text = voice.likely(Figure::AngleDeg(Triple::exact(angle.deg())));
                found.what = format!("{} {text}", found.what);
            }
        }
        PartKind::Other { name, .. } if !name.is_empty() => found.what.clone_from(name),
        _ => {}
    }
    found
}

fn triple(length: &Given<Length>) -> Option<Triple> {
    let value = length.as_ref()?.value;
    let (low, high) = value.bounds()?;
    Some(Triple { low: low.m(), likely: value.likely()?.m(), high: high.m() })
}

/// A stretch with its place on the paper.
struct Laid<'a> {
    stretch: &'a Stretch,
    left: f64,
    right: f64,
    /// Height of its centre line at both ends, and how much it sags between.
    ends: [f64; 2],
    sag: f64,
    /// Whether it is shorter or longer on paper than its scale says.
    off_scale: bool,
}

impl Laid<'_> {
    fn centre(&self) -> Vec<Spot> {
        let middle =
            [0.5 * (self.left + self.right), 0.5 * (self.ends[0] + self.ends[1]) + self.sag];
        let [a, b] = self.ends;
        if self.sag > 0.0 {
            vec![[self.left, a], middle, [self.right, b]]
        } else {
            vec![[self.left, a], [self.right, b]]
        }
    }

    fn outline(&self, half: f64) -> Vec<Spot> {
        let centre = self.centre();
        let top = centre.iter().map(|[x, y]| [*x, y - half]);
        let bottom = centre.iter().rev().map(|[x, y]| [*x, y + half]);
        top.chain(bottom).collect()
    }

    /// Height of the centre line at some x.
    fn height(&self, x: f64) -> f64 {
        let share = ((x - self.left) / (self.right - self.left).max(1e-9)).clamp(0.0, 1.0);
        let straight = self.ends[0] + share * (self.ends[1] - self.ends[0]);
        straight + self.sag * (1.0 - (2.0 * share - 1.0).abs())
    }
}

/// Draws a run. None when it has no part.
pub fn section(voice: Voice, page: Page, view: &SectionView) -> Option<Sheet> {
    if view.stretches.is_empty() {
        return None;
    }
    let name = format!("section-{}", view.run);
    let mut board = Board::new(voice, page, &name, &voice.word("draw.section.title"), &view.run);
    board.describe(voice.say(&Message::new("draw.section.about").name("run", view.run.as_str())));
    let room = board.inner_width() - FAN - 12.0 - 1.0;
    let fits = |denominator: f64| {
        view.stretches.iter().map(|s| on_paper(s, denominator)).sum::<f64>() <= room
    };
    let found = scale::largest(voice.system(), fits);
    // Where none does the run is squeezed, and the sheet has no scale.
    let denominator = found.map_or(1000.0, |scale| scale.denominator);
    let area = board.area(64.0);
    let laid = lay(view, area, denominator);
    let squeeze =
        laid.last().map_or(1.0, |last| (room / (last.right - area.min[0] - FAN)).min(1.0));
    let laid = if squeeze < 1.0 { squeezed(laid, area.min[0] + FAN, squeeze) } else { laid };
    if let (Some(scale), true) = (found, squeeze >= 1.0) {
        board.use_scale(scale);
    }
    ends(&mut board, view, &laid, area);
    for piece in &laid {
        draw_stretch(&mut board, piece);
    }
    supports(&mut board, view, &laid, denominator);
    surroundings(&mut board, &laid, area);
    tags(&mut board, &laid, area);
    chain(&mut board, &laid, area);
    for (at, member) in &view.bores {
        bore(&mut board, &laid, area, *at * 1000.0 / denominator, member);
    }
    legend(&mut board, view, &laid);
    // What is drawn is a developed section: heights on paper are no heights.
    Some(board.finish())
}

fn known(stretch: &Stretch) -> Option<f64> {
    stretch.length_m.map(|t| t.likely).filter(|m| stretch.is_duct && m.is_finite() && *m >= 0.0)
}

/// Length on paper.
fn on_paper(stretch: &Stretch, denominator: f64) -> f64 {
    match known(stretch) {
        Some(m) => (m * 1000.0 / denominator).max(LEAST),
        None if stretch.is_duct => 12.0,
        None => FITTING,
    }
}

fn lay(view: &SectionView, area: Rect, denominator: f64) -> Vec<Laid<'_>> {
    let mut x = area.min[0] + FAN;
    let mut y = area.min[1] + 34.0;
    let mut laid = Vec::new();
    for stretch in &view.stretches {
        let true_length = known(stretch).map(|m| m * 1000.0 / denominator);
        let length = on_paper(stretch, denominator);
        let fall = (0.1 * length).min(FALL);
        let (drop, sag) = match stretch.fall {
            Fall::Out => (fall, 0.0),
            Fall::Back => (-fall, 0.0),
            Fall::Low => (0.0, fall.max(2.0)),
            Fall::Level | Fall::Unknown => (0.0, 0.0),
        };
        laid.push(Laid {
            stretch,
            left: x,
            right: x + length,
            ends: [y, y + drop],
            sag,
            off_scale: stretch.is_duct && true_length.is_none_or(|l| l < LEAST),
        });
        x += length;
        y += drop;
    }
    // Long runs that fall all the way stay on the paper.
    let lowest = laid.iter().map(|l| l.ends[1].max(l.ends[0])).fold(f64::MIN, f64::max);
    let highest = laid.iter().map(|l| l.ends[1].min(l.ends[0])).fold(f64::MAX, f64::min);
    let (start, share) = (area.min[1] + 34.0, (10.0 / (lowest - highest).max(1e-9)).min(1.0));
    let top = if lowest - highest > 10.0 { highest } else { start };
    let shift = if lowest - highest > 10.0 { area.min[1] + 29.0 } else { start };
    for piece in &mut laid {
        piece.ends = piece.ends.map(|y| shift + (y - top) * share);
    }
    laid
}

fn squeezed(laid: Vec<Laid<'_>>, from: f64, by: f64) -> Vec<Laid<'_>> {
    let at = |x: f64| from + (x - from) * by;
    laid.into_iter()
        .map(|piece| Laid {
            left: at(piece.left),
            right: at(piece.right),
            off_scale: true,
            ..piece
        })
        .collect()
}

/// Where the run begins, and the wall it goes out through.
fn ends(board: &mut Board, view: &SectionView, laid: &[Laid<'_>], area: Rect) {
    let (Some(first), Some(last)) = (laid.first(), laid.last()) else { return };
    let fan = Rect::new(area.min[0], first.ends[0] - 6.0, FAN, 12.0);
    board.polygon(Layer::Housing, &fan.corners());
    let [a, b, c, d] = fan.corners();
    board.scene.line(Layer::Leader, a, c);
    board.scene.line(Layer::Leader, b, d);
    board.places.take(fan);
    let base = fan.max[1] + 1.5 + font::CAPITAL * SMALL;
    let text = font::shortened(&view.from, SMALL, 0.45 * area.width());
    board.put_if_free(text_at([area.min[0], base], &text, SMALL, Anchor::Start));
    let (x, y) = (last.right, last.ends[1]);
    if view.to_outdoors {
        for side in [-1.0, 1.0] {
            let wall = Rect::round([[x, y + side * 0.5 * DUCT], [x + 3.0, y + side * 15.0]]);
            if let Some(wall) = wall {
                board.polygon(Layer::Wall, &wall.corners());
                board.scene.hatch(Layer::Hatch, &wall.corners(), 1.1, side > 0.0);
                board.places.take(wall);
            }
        }
        let lip = x + 3.0;
        board.path(
            Layer::Duct,
            &[
                [x, y - 0.5 * DUCT],
                [lip + 1.0, y - 0.5 * DUCT],
                [lip + 5.0, y + 2.0],
                [lip + 5.0, y + 4.0],
            ],
        );
        board.path(Layer::Duct, &[[x, y + 0.5 * DUCT], [lip, y + 0.5 * DUCT]]);
    }
    let beside = |text: String, y: f64, board: &mut Board| {
        let text = font::shortened(&text, SMALL, 0.45 * area.width());
        let left = (x + 5.0).min(area.max[0] - font::width(&text, SMALL));
        board.put_if_free(text_at([left, y], &text, SMALL, Anchor::Start));
    };
    beside(view.to.clone(), y + 12.0, board);
    if view.to_outdoors {
        let text = board.voice.word("draw.section.outdoors");
        beside(text, y - 9.0, board);
    }
}

fn draw_stretch(board: &mut Board, piece: &Laid<'_>) {
    let half = 0.5 * DUCT;
    if let Jacket::Rsi(_) = piece.stretch.jacket {
        let outer = piece.outline(half + JACKET);
        board.polygon(Layer::Insulation, &outer);
        board.scene.hatch(Layer::Hatch, &outer, 1.4, true);
    }
    let outline = piece.outline(half);
    board.polygon(Layer::Duct, &outline);
    if piece.stretch.is_duct {
        if piece.stretch.fall == Fall::Unknown {
            let x = 0.5 * (piece.left + piece.right);
            let at = [x, piece.height(x) + 0.5 * font::CAPITAL * BODY];
            board.put_if_free(text_at(at, "?", BODY, Anchor::Middle));
        } else {
            board.path(Layer::Centre, &piece.centre());
        }
        if piece.off_scale {
            // The stroke of a broken line.
            let x = 0.25 * piece.left + 0.75 * piece.right;
            let y = piece.height(x);
            board.path(
                Layer::Axis,
                &[
                    [x - 0.8, y + half + 1.5],
                    [x + 0.4, y + 0.8],
                    [x - 0.4, y - 0.8],
                    [x + 0.8, y - half - 1.5],
                ],
            );
        }
    } else {
        board.scene.hatch(Layer::Hatch, &outline, 0.9, false);
    }
    if let Some(rect) = Rect::round(outline) {
        board.places.take(rect);
    }
}

fn supports(board: &mut Board, view: &SectionView, laid: &[Laid<'_>], denominator: f64) {
    let mut stroke = |x: f64, piece: &Laid<'_>| {
        let y = piece.height(x) - 0.5 * DUCT;
        board.scene.line(Layer::Support, [x, y], [x, y - 5.5]);
        board.scene.line(Layer::Support, [x - 1.2, y - 5.5], [x + 1.2, y - 5.5]);
    };
    for at in &view.supports_m {
        if let Some((x, piece)) = at_length(laid, at * 1000.0 / denominator) {
            stroke(x, piece);
        }
    }
    if !view.supports_m.is_empty() {
        return;
    }
    for piece in laid {
        let (Some(spacing), Some(length)) = (piece.stretch.supports_m, known(piece.stretch)) else {
            continue;
        };
        if spacing <= 0.0 || !spacing.is_finite() {
            continue;
        }
        let count = ((length / spacing).floor() as usize).min(MOST_SUPPORTS);
        for k in 0..=count {
            // Half of what is over stands at each end.
            let at = 0.5 * (length - count as f64 * spacing).max(0.0) + k as f64 * spacing;
            let share = (at / length.max(1e-9)).clamp(0.0, 1.0);
            stroke(piece.left + share * (piece.right - piece.left), piece);
        }
    }
}

/// Where on paper a place along the ducts lies, and in which piece; fittings have no length of their own.
fn at_length<'a, 'b>(laid: &'a [Laid<'b>], mut along: f64) -> Option<(f64, &'a Laid<'b>)> {
    for piece in laid.iter().filter(|piece| piece.stretch.is_duct) {
        let length = piece.right - piece.left;
        if along <= length {
            return Some((piece.left + along.max(0.0), piece));
        }
        along -= length;
    }
    laid.last().map(|last| (last.right, last))
}

/// What surrounds the run: brackets above it.
fn surroundings(board: &mut Board, laid: &[Laid<'_>], area: Rect) {
    let y = area.min[1] + 7.0;
    let mut from = 0;
    while from < laid.len() {
        let here = surrounds(laid, from);
        let mut to = from + 1;
        while to < laid.len()
            && (surrounds(laid, to).is_none() || surrounds(laid, to) == here || here.is_none())
        {
            if here.is_none() && surrounds(laid, to).is_some() {
                break;
            }
            to += 1;
        }
        if let (Some(key), Some(last)) = (here, laid.get(to - 1)) {
            let (left, right) = (laid[from].left + 0.4, last.right - 0.4);
            board.path(
                Layer::Dimension,
                &[[left, y + 2.0], [left, y], [right, y], [right, y + 2.0]],
            );
            let text = place_word(board.voice, key);
            let rise = font::CAPITAL * BODY;
            let middle = 0.5 * (left + right);
            if font::width(&text, BODY) < right - left
                && board.put_if_free(text_at([middle, y - 1.0], &text, BODY, Anchor::Middle))
            {
                from = to;
                continue;
            }
            board.label(&text, [middle, y + rise * 0.2]);
        }
        from = to;
    }
}

fn surrounds<'a>(laid: &'a [Laid<'_>], at: usize) -> Option<&'a str> {
    laid.get(at).and_then(|piece| piece.stretch.surroundings.as_deref())
}

/// Numbers that the list below takes up.
fn tags(board: &mut Board, laid: &[Laid<'_>], area: Rect) {
    for (place, piece) in laid.iter().enumerate() {
        let text = (place + 1).to_string();
        let x = 0.5 * (piece.left + piece.right);
        let mut y = piece.height(x) - 0.5 * DUCT - JACKET - 7.5;
        let mut tries = 0;
        let r = 2.3;
        while !board.places.is_free(&Rect::new(x - r, y - r, 2.0 * r, 2.0 * r))
            && y > area.min[1] + 14.0
            && tries < 8
        {
            y -= 1.5;
            tries += 1;
        }
        let label = text_at([x, y + 0.5 * font::CAPITAL * SMALL], &text, SMALL, Anchor::Middle);
        if board.put_if_free(label) {
            board.scene.circle(Layer::Dimension, [x, y], r);
        }
    }
}

/// Lengths, one behind the other, as they are measured.
fn chain(board: &mut Board, laid: &[Laid<'_>], area: Rect) {
    let y = area.max[1] - 6.0;
    for piece in laid.iter().filter(|piece| piece.stretch.is_duct) {
        let Some(length) = known(piece.stretch) else { continue };
        let text = board.voice.tape(length);
        let level = piece.ends[0].max(piece.ends[1]) + 0.5 * DUCT + JACKET + 1.0;
        board.dimension([piece.left, level], [piece.right, level], [0.0, y - level], &text);
    }
}

fn bore(board: &mut Board, laid: &[Laid<'_>], area: Rect, along: f64, member: &str) {
    let Some((x, piece)) = at_length(laid, along) else { return };
    let y = piece.height(x);
    for side in [-1.0, 1.0] {
        let edge = y + side * 0.5 * DUCT;
        let far = (y + side * 12.0).clamp(area.min[1], area.max[1]);
        if let Some(rect) = Rect::round([[x - 0.9, edge], [x + 0.9, far]]) {
            board.polygon(Layer::Member, &rect.corners());
        }
    }
    let text = Message::new("draw.section.bore").name("member", member);
    board.label(&board.voice.say(&text), [x, y + 9.0]);
}

fn legend(board: &mut Board, view: &SectionView, laid: &[Laid<'_>]) {
    let voice = board.voice;
    for (place, piece) in laid.iter().enumerate() {
        board.note(format!("{}  {}", place + 1, in_words(voice, piece.stretch)));
    }
    if let Some(fall) = view.fall_m {
        let message = Message::new("draw.section.fall").reference("fall", voice.small_tape(fall));
        board.note_of(&message);
    }
    if !view.supports_m.is_empty() {
        board.note(voice.word("draw.section.support-at"));
    } else if let Some(spacing) = view.stretches.iter().find_map(|s| s.supports_m) {
        let message =
            Message::new("draw.section.support").reference("spacing", voice.tape(spacing));
        board.note_of(&message);
    }
    if laid.iter().any(|piece| piece.off_scale) {
        board.note(voice.word("draw.section.short"));
    }
    board.note(voice.word("draw.section.heights"));
    if view.seen == Some(false) {
        board.note(voice.word("draw.section.seen"));
    }
    board.note(voice.word("draw.measured"));
}

/// A stretch in one line.
fn in_words(voice: Voice, stretch: &Stretch) -> String {
    let mut words = vec![if stretch.part.is_empty() || stretch.part == stretch.what {
        stretch.what.clone()
    } else {
        format!("{}: {}", stretch.part, stretch.what)
    }];
    if stretch.is_duct {
        words.push(match stretch.length_m {
            Some(t) => voice.figure(Figure::LengthM(t)),
            None => voice.word("draw.section.no-length"),
        });
        words.push(match stretch.jacket {
            Jacket::Unknown => voice.word("draw.section.insulation-unknown"),
            Jacket::Bare => voice.word("draw.section.bare"),
            Jacket::Rsi(rsi) => voice.say(
                &Message::new("draw.section.insulated")
                    .figure("value", Figure::InsulationRsi(Triple::exact(rsi))),
            ),
        });
        words.push(voice.word(match stretch.fall {
            Fall::Out => "draw.section.out",
            Fall::Back => "draw.section.back",
            Fall::Level => "draw.section.level",
            Fall::Low => "draw.section.low",
            Fall::Unknown => "draw.section.unknown",
        }));
        if let Some(key) = &stretch.surroundings {
            words.push(place_word(voice, key));
        }
    }
    words.join(", ")
}
