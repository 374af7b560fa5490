//! A run drawn out straight, from the fan to outdoors, to scale.
//!
//! To the right goes what the run goes level, up what it rises. Both are to one scale where the duct can be read at it, else
//! heights are so many times larger, as the sheet says, and have a scale bar of their own. Fan, fittings, insulation, supports
//! and the wall are symbols; a fitting takes no length, so that distances along the run hold from end to end.

use dewpath_job::model::{
    DuctGiven, Given, Job, PartKind, Run, RunShape, Section, SlopeTo, TerminalKind,
};
use dewpath_report::{Figure, Message, Triple};
use dewpath_units::{Category as _, Length};

use crate::board::{BODY, Board, SMALL, text_at};
use crate::font;
use crate::paper::{Page, Sheet};
use crate::pen::Layer;
use crate::scale;
use crate::scene::{Anchor, Rect, Spot};
use crate::sheet::water::place_word;
use crate::voice::Voice;

/// From the duct to the line that stands for its insulation on paper, mm: a symbol, since a jacket is known by what it
/// keeps in and not by its thickness.
const JACKET: f64 = 1.8;
/// Half the width of the mark of a fitting on paper, mm: a symbol; lengths are measured through it.
const FITTING: f64 = 0.9;
/// Length on paper of a piece whose length nobody knows, mm; it carries a break.
const BROKEN: f64 = 14.0;
/// Width of the fan on paper, mm: a symbol.
const FAN: f64 = 10.0;
/// Paper for the wall and the hood at the end, mm: symbols.
const OUTLET: f64 = 14.0;
/// A duct narrower than this on paper cannot be read, mm: heights are then drawn larger than lengths.
const READABLE: f64 = 2.6;
/// How many times larger than lengths heights may be drawn.
const FACTORS: [f64; 5] = [1.0, 2.0, 5.0, 10.0, 20.0];
/// Most paper for the heights of a run, mm.
const TALLEST: f64 = 110.0;
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

impl Jacket {
    /// What is written of a duct.
    fn of_duct(duct: &DuctGiven) -> Self {
        let likely = duct.insulation.as_ref().and_then(|given| given.value.likely());
        likely.map_or(
            Self::Unknown,
            |r| {
                if r.rsi() > 0.0 { Self::Rsi(r.rsi()) } else { Self::Bare }
            },
        )
    }

    /// What is written of the first duct of a run.
    pub(crate) fn of_run(run: &Run) -> Self {
        match &run.shape {
            RunShape::Sum(sum) => Self::of_duct(&sum.duct),
            RunShape::Parts(parts) => {
                let mut ducts = parts.iter().filter_map(|part| match &part.kind {
                    PartKind::Piece { duct, .. } => Some(duct),
                    _ => None,
                });
                ducts.next().map_or(Self::Unknown, Self::of_duct)
            }
        }
    }
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
    /// Of a length from centre to centre of two fittings: the piece to cut for it, m.
    pub cut_m: Option<f64>,
    /// How much higher its end is than its beginning, m; negative where it goes down. None where nobody says: it is then
    /// drawn level.
    pub rise_m: Option<f64>,
    /// Diameter, m, of a round duct where it is known.
    pub diameter_m: Option<f64>,
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
    /// Members it goes through, and where, m from its beginning.
    pub bores: Vec<(f64, String)>,
    /// Whether all of it was seen.
    pub seen: Option<bool>,
    /// Whether it is a way outdoors that is proposed, rather than a run of the job.
    pub is_proposed: bool,
}

impl SectionView {
    /// What a job says of a run.
    pub fn of_job(voice: &Voice, job: &Job, run: &Run) -> Self {
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
            to_outdoors: job.terminals.iter().any(|terminal| {
                let kind = terminal.kind.as_ref().and_then(|kind| kind.value.clone().known());
                let inside = [
                    TerminalKind::Attic,
                    TerminalKind::SoffitVoid,
                    TerminalKind::CrawlSpace,
                    TerminalKind::Indoors,
                    TerminalKind::PlumbingVent,
                    TerminalKind::SharedRiser,
                    TerminalKind::Nowhere,
                ];
                terminal.id == run.to && !kind.is_some_and(|kind| inside.contains(&kind))
            }),
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

fn stretch(voice: &Voice, id: &str, kind: &PartKind) -> Stretch {
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
            found.jacket = Jacket::of_duct(duct);
            let size = duct.size.as_ref().and_then(|given| given.value.clone().known());
            found.diameter_m = size.and_then(|section| match section {
                Section::Round(diameter) => Some(diameter.m()),
                Section::Rectangular(..) | Section::Oval(..) => None,
            });
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

/// Millimetres of paper for a metre: of length, of height.
#[derive(Debug, Clone, Copy)]
struct Paper {
    along: f64,
    up: f64,
}

/// A stretch with its place on the paper.
struct Laid<'a> {
    stretch: &'a Stretch,
    /// Its centre line.
    ends: [Spot; 2],
    /// The duct round it; only the line where the diameter is not known.
    outline: Vec<Spot>,
    /// Whether it is drawn as long as there was room, and not to scale.
    is_broken: bool,
}

impl Laid<'_> {
    fn along(&self, share: f64) -> Spot {
        let [a, b] = self.ends;
        [0, 1].map(|i| a[i] + share * (b[i] - a[i]))
    }

    fn box_of(&self) -> Rect {
        let spots = self.outline.iter().chain(&self.ends).copied();
        Rect::round(spots).unwrap_or(Rect { min: self.ends[0], max: self.ends[0] })
    }

    /// Highest paper of the duct at some share of its length.
    fn top(&self, share: f64) -> Spot {
        let [x, y] = self.along(share);
        let above = crossings(&self.outline, x).into_iter().fold(y, f64::min);
        [x, above]
    }

    fn shifted(mut self, by: Spot) -> Self {
        let shift = |[x, y]: Spot| [x + by[0], y + by[1]];
        self.ends = self.ends.map(shift);
        self.outline = self.outline.into_iter().map(shift).collect();
        self
    }

    /// Whether nothing of it has a length on paper.
    fn is_point(&self) -> bool {
        (0..2).all(|i| (self.ends[0][i] - self.ends[1][i]).abs() < 1e-9)
    }

    fn is_fitting(&self) -> bool {
        !self.stretch.is_duct
    }
}

/// Heights at which the edges of a polygon cross an upright line.
fn crossings(polygon: &[Spot], x: f64) -> Vec<f64> {
    let next = polygon.iter().skip(1).chain(polygon.first());
    let pairs = polygon.iter().zip(next);
    let within = pairs.filter(|(a, b)| (a[0] <= x) != (b[0] <= x));
    within.map(|(a, b)| a[1] + (b[1] - a[1]) * (x - a[0]) / (b[0] - a[0])).collect()
}

/// Draws a run. None when it has no part.
pub fn section(voice: &Voice, page: Page, view: &SectionView) -> Option<Sheet> {
    if view.stretches.is_empty() {
        return None;
    }
    let (kind, title) = if view.is_proposed {
        ("way", "draw.section.proposed")
    } else {
        ("section", "draw.section.title")
    };
    let name = format!("{kind}-{}", view.run);
    let mut board = Board::new(voice, page, &name, &voice.word(title), &view.run);
    board.describe(voice.say(&Message::new("draw.section.about").name("run", view.run.as_str())));
    let room = board.inner_width() - FAN - OUTLET;
    let fits = |denominator: f64| {
        let along = 1000.0 / denominator;
        let extent = extent(&lay(view, Paper { along, up: along }));
        extent.width() <= room && extent.height() <= TALLEST
    };
    let known = view.stretches.iter().any(|s| length_of(s).is_some());
    let scale = if known { scale::largest(voice.system(), fits) } else { None };
    let paper = match scale {
        Some(scale) => {
            let along = 1000.0 / scale.denominator;
            let factor = factor(view, along);
            board.use_scale(scale);
            if factor > 1.0 {
                board.use_heights(factor);
            }
            Paper { along, up: along * factor }
        }
        // Every piece is as long as there is room for it, and carries a break: no length is to scale.
        None => Paper { along: 0.0, up: 0.0 },
    };
    let laid = match scale {
        Some(_) => lay(view, paper),
        None => unscaled(view, room),
    };
    let extent = extent(&laid);
    let lift = if view.supports_m.is_empty() { 0.0 } else { 3.0 };
    let above = 36.0 + lift;
    let area = board.area(above + extent.height() + 36.0);
    let by = [area.min[0] + FAN - extent.min[0], area.min[1] + above - extent.min[1]];
    let laid: Vec<Laid<'_>> = laid.into_iter().map(|piece| piece.shifted(by)).collect();
    ends(&mut board, view, &laid, area);
    for piece in laid.iter().filter(|piece| !piece.is_fitting()) {
        duct(&mut board, piece);
    }
    for piece in laid.iter().filter(|piece| piece.is_fitting()) {
        fitting(&mut board, piece, &laid);
    }
    supports(&mut board, view, &laid);
    surroundings(&mut board, &laid, area);
    chain(&mut board, &laid, area);
    tags(&mut board, &laid);
    for (at, member) in &view.bores {
        bore(&mut board, &laid, *at, member);
    }
    legend(&mut board, view, &laid, scale.is_some());
    Some(board.finish())
}

fn length_of(stretch: &Stretch) -> Option<f64> {
    stretch.length_m.map(|t| t.likely).filter(|m| stretch.is_duct && m.is_finite() && *m >= 0.0)
}

fn diameter_of(stretch: &Stretch) -> Option<f64> {
    stretch.diameter_m.filter(|m| stretch.is_duct && m.is_finite() && *m > 0.0 && *m < 2.0)
}

/// Step of a piece: level and up, m.
fn step(stretch: &Stretch) -> Option<[f64; 2]> {
    let length = length_of(stretch)?;
    let rise = stretch.rise_m.filter(|m| m.is_finite()).unwrap_or(0.0).clamp(-length, length);
    Some([(length * length - rise * rise).max(0.0).sqrt(), rise])
}

/// The least factor at which the narrowest known duct can be read and the run still stands on the paper.
fn factor(view: &SectionView, along: f64) -> f64 {
    let narrowest = view.stretches.iter().filter_map(diameter_of).fold(f64::INFINITY, f64::min);
    if !narrowest.is_finite() {
        return 1.0;
    }
    let stands = |factor: &&f64| {
        extent(&lay(view, Paper { along, up: along * **factor })).height() <= TALLEST
    };
    let standing: Vec<f64> = FACTORS.iter().filter(stands).copied().collect();
    let readable = standing.iter().find(|factor| narrowest * along * **factor >= READABLE);
    readable.or(standing.last()).copied().unwrap_or(1.0)
}

/// Lays a run beginning at nought: to the right and, on paper, down.
fn lay(view: &SectionView, paper: Paper) -> Vec<Laid<'_>> {
    let mut at: Spot = [0.0, 0.0];
    let mut laid = Vec::new();
    for stretch in &view.stretches {
        let from = at;
        let is_broken = stretch.is_duct && length_of(stretch).is_none();
        let half = diameter_of(stretch).map(|m| 0.5 * m);
        let mut outline = Vec::new();
        if is_broken {
            at = [from[0] + BROKEN, from[1]];
            if let Some(half) = half {
                outline = level_box([from, at], half * paper.up);
            }
        } else if let Some([level, rise]) = step(stretch) {
            at = [from[0] + level * paper.along, from[1] - rise * paper.up];
            let length = libm::hypot(level, rise);
            if let Some(half) = half.filter(|_| length > 0.0) {
                // The rectangle as it is, laid on a paper whose heights may have a scale of their own.
                let across = [-rise / length * half, level / length * half];
                let shift = |[x, y]: Spot, s: f64| {
                    [x + s * across[0] * paper.along, y - s * across[1] * paper.up]
                };
                outline =
                    vec![shift(from, 1.0), shift(at, 1.0), shift(at, -1.0), shift(from, -1.0)];
            }
        }
        laid.push(Laid { stretch, ends: [from, at], outline, is_broken });
    }
    laid
}

/// The same with every piece as long as there is room, where no scale can be had.
fn unscaled(view: &SectionView, room: f64) -> Vec<Laid<'_>> {
    let pieces = view.stretches.iter().filter(|s| s.is_duct).count().max(1);
    let each = room / pieces as f64;
    let mut x = 0.0;
    let mut laid = Vec::new();
    for stretch in &view.stretches {
        let from = [x, 0.0];
        x += if stretch.is_duct { each } else { 0.0 };
        let ends = [from, [x, 0.0]];
        let outline = if stretch.is_duct { level_box(ends, 0.5 * READABLE) } else { Vec::new() };
        laid.push(Laid { stretch, ends, outline, is_broken: stretch.is_duct });
    }
    laid
}

fn level_box([a, b]: [Spot; 2], half: f64) -> Vec<Spot> {
    vec![[a[0], a[1] - half], [b[0], b[1] - half], [b[0], b[1] + half], [a[0], a[1] + half]]
}

fn extent(laid: &[Laid<'_>]) -> Rect {
    let spots = laid.iter().flat_map(|piece| piece.outline.iter().chain(&piece.ends)).copied();
    Rect::round(spots).unwrap_or(Rect::new(0.0, 0.0, 0.0, 0.0))
}

/// Half the height of the duct on paper beside a joint; what a symbol there needs where nobody knows it.
fn half_at(laid: &[Laid<'_>], spot: Spot) -> f64 {
    let touches = |piece: &&Laid<'_>| piece.ends.contains(&spot) && !piece.outline.is_empty();
    let halves = laid.iter().filter(touches).map(|piece| {
        let [a, b] = [piece.outline[0], piece.outline[piece.outline.len() - 1]];
        0.5 * libm::hypot(a[0] - b[0], a[1] - b[1])
    });
    halves.fold(0.5 * READABLE, f64::max)
}

/// Where the run begins, and the wall it goes out through.
fn ends(board: &mut Board, view: &SectionView, laid: &[Laid<'_>], area: Rect) {
    let (Some(first), Some(last)) = (laid.first(), laid.last()) else { return };
    let start = first.ends[0];
    let half = (half_at(laid, start) + 2.0).max(5.0);
    let fan = Rect::new(start[0] - FAN, start[1] - half, FAN, 2.0 * half);
    board.polygon(Layer::Housing, &fan.corners());
    let [a, b, c, d] = fan.corners();
    board.scene.line(Layer::Leader, a, c);
    board.scene.line(Layer::Leader, b, d);
    board.places.take(fan);
    let base = fan.max[1] + 1.5 + font::CAPITAL * SMALL;
    let text = font::shortened(&view.from, SMALL, 0.4 * area.width());
    board.put_if_free(text_at([fan.min[0], base], &text, SMALL, Anchor::Start));
    let [x, y] = last.ends[1];
    let half = half_at(laid, [x, y]);
    let ducts = laid.iter().rev().filter(|piece| !piece.is_fitting() && !piece.is_point());
    let step = ducts.map(|piece| [0, 1].map(|i| piece.ends[1][i] - piece.ends[0][i])).next();
    let upright = step.filter(|[dx, dy]| dy.abs() > 2.0 * dx.abs()).map(|[_, dy]| dy.signum());
    match (view.to_outdoors, upright) {
        (true, Some(down)) => through_ceiling(board, [x, y], last_width(laid), down),
        (true, None) => through_wall(board, [x, y], half),
        (false, _) => {}
    }
    let outdoors = board.voice.word("draw.section.outdoors");
    let mut beside = |text: &str, y: f64| {
        let text = font::shortened(text, SMALL, 0.4 * area.width());
        let left = (x + 4.2).min(area.max[0] - font::width(&text, SMALL));
        board.put_if_free(text_at([left, y], &text, SMALL, Anchor::Start));
    };
    beside(&view.to, y + half + 4.0);
    if view.to_outdoors {
        beside(&outdoors, y - half - 3.0);
    }
}

/// The wall that a run goes out through, and a hood: symbols.
fn through_wall(board: &mut Board, [x, y]: Spot, half: f64) {
    for side in [-1.0, 1.0] {
        let wall = Rect::round([[x, y + side * half], [x + 3.0, y + side * (half + 9.0)]]);
        wall_part(board, wall, side > 0.0);
    }
    let lip = x + 3.0;
    let hood =
        [[x, y - half], [lip + 1.0, y - half], [lip + 5.0, y + 0.5 * half], [lip + 5.0, y + half]];
    board.path(Layer::Duct, &hood);
    board.path(Layer::Duct, &[[x, y + half], [lip, y + half]]);
    board.places.take(Rect { min: [x, y - half], max: [lip + 5.0, y + half] });
}

/// The roof or soffit that an upright run goes out through, `down` the paper or up: a symbol.
fn through_ceiling(board: &mut Board, [x, y]: Spot, half: f64, down: f64) {
    for side in [-1.0, 1.0] {
        let part = Rect::round([[x + side * half, y], [x + side * (half + 9.0), y + down * 3.0]]);
        wall_part(board, part, side > 0.0);
    }
    board.places.take(Rect {
        min: [x - half, y.min(y + down * 3.0)],
        max: [x + half, y.max(y + down * 3.0)],
    });
}

fn wall_part(board: &mut Board, part: Option<Rect>, rising: bool) {
    if let Some(part) = part {
        board.polygon(Layer::Wall, &part.corners());
        board.scene.hatch(Layer::Hatch, &part.corners(), 1.1, rising);
        board.places.take(part);
    }
}

/// Half the width on paper of the last piece that has one.
fn last_width(laid: &[Laid<'_>]) -> f64 {
    let last = laid.iter().rev().find(|piece| !piece.outline.is_empty());
    last.map_or(0.5 * READABLE, |piece| 0.5 * piece.box_of().width())
}

fn duct(board: &mut Board, piece: &Laid<'_>) {
    let rect = piece.box_of();
    if let Jacket::Rsi(_) = piece.stretch.jacket {
        for side in jacket(piece) {
            board.path(Layer::Insulation, &side);
        }
        board.places.take(rect.grown(JACKET));
    }
    if piece.outline.is_empty() {
        board.path(Layer::Centre, &piece.ends);
    } else {
        board.polygon(Layer::Duct, &piece.outline);
    }
    if piece.is_broken {
        let [x, y] = piece.along(0.5);
        let half = 0.5 * rect.height() + 1.6;
        let at = |dx: f64, share: f64| [x + dx, y + share * half];
        board.path(Layer::Axis, &[at(-0.8, 1.0), at(0.5, 0.3), at(-0.5, -0.3), at(0.8, -1.0)]);
    }
    board.places.take(rect);
    fall(board, piece);
}

/// The two long sides of the insulation.
fn jacket(piece: &Laid<'_>) -> Vec<Vec<Spot>> {
    let [a, b] = piece.ends;
    let length = libm::hypot(b[0] - a[0], b[1] - a[1]);
    if length < 1e-6 {
        return Vec::new();
    }
    let normal = [-(b[1] - a[1]) / length, (b[0] - a[0]) / length];
    let reach = |p: Spot| (p[0] - a[0]) * normal[0] + (p[1] - a[1]) * normal[1];
    let half = piece.outline.iter().copied().map(reach).fold(0.0, f64::max) + JACKET;
    [-half, half]
        .map(|off| [a, b].map(|p| [p[0] + off * normal[0], p[1] + off * normal[1]]).to_vec())
        .to_vec()
}

/// Which way a piece falls: an arrow below it where the job says which way but not by how much, `?` where it says nothing.
fn fall(board: &mut Board, piece: &Laid<'_>) {
    let [x, _] = piece.along(0.5);
    let y = piece.box_of().max[1] + JACKET + 2.0;
    let reach = (0.5 * (piece.ends[1][0] - piece.ends[0][0]) - 0.8).min(5.0);
    let mut arrow = |from: f64, to: f64| {
        let back = if to > from { -1.4 } else { 1.4 };
        board.path(Layer::Dimension, &[[from, y], [to, y]]);
        board.polygon(Layer::Axis, &[[to, y], [to + back, y - 0.7], [to + back, y + 0.7]]);
    };
    match piece.stretch.fall {
        // What is known by how much is drawn so.
        _ if reach < 1.2 || piece.stretch.rise_m.is_some() => return,
        Fall::Out => arrow(x - reach, x + reach),
        Fall::Back => arrow(x + reach, x - reach),
        Fall::Low => {
            arrow(x - reach, x - 0.2);
            arrow(x + reach, x + 0.2);
        }
        Fall::Level => return,
        Fall::Unknown => {
            let at = [x, y + 0.5 * font::CAPITAL * BODY];
            board.put_if_free(text_at(at, "?", BODY, Anchor::Middle));
            return;
        }
    }
    board.places.take(Rect { min: [x - reach, y - 0.7], max: [x + reach, y + 0.7] });
}

/// A mark across the duct; a fitting has no length of its own.
fn fitting(board: &mut Board, piece: &Laid<'_>, laid: &[Laid<'_>]) {
    let [x, y] = piece.ends[0];
    let half = half_at(laid, [x, y]) + 0.8;
    let mark = Rect { min: [x - FITTING, y - half], max: [x + FITTING, y + half] };
    board.polygon(Layer::Duct, &mark.corners());
    board.scene.hatch(Layer::Hatch, &mark.corners(), 0.7, false);
    board.places.take(mark);
}

fn supports(board: &mut Board, view: &SectionView, laid: &[Laid<'_>]) {
    let mut stroke = |[x, y]: Spot| {
        board.scene.line(Layer::Support, [x, y], [x, y - 5.0]);
        board.scene.line(Layer::Support, [x - 1.1, y - 5.0], [x + 1.1, y - 5.0]);
        board.places.take(Rect { min: [x - 1.1, y - 5.0], max: [x + 1.1, y] });
    };
    for at in view.supports_m.iter().take(MOST_SUPPORTS) {
        if let Some((share, piece)) = at_length(laid, *at) {
            stroke(piece.top(share));
        }
    }
    if !view.supports_m.is_empty() {
        return;
    }
    for piece in laid {
        let (Some(spacing), Some(length)) = (piece.stretch.supports_m, length_of(piece.stretch))
        else {
            continue;
        };
        if spacing <= 0.0 || !spacing.is_finite() {
            continue;
        }
        let count = ((length / spacing).floor() as usize).min(MOST_SUPPORTS);
        for k in 0..=count {
            // Half of what is over stands at each end.
            let at = 0.5 * (length - count as f64 * spacing).max(0.0) + k as f64 * spacing;
            stroke(piece.top((at / length.max(1e-9)).clamp(0.0, 1.0)));
        }
    }
}

/// In which piece a place so far along the ducts lies, and at what share of it; none beyond what is known.
fn at_length<'a, 'b>(laid: &'a [Laid<'b>], mut along: f64) -> Option<(f64, &'a Laid<'b>)> {
    for piece in laid.iter().filter(|piece| !piece.is_fitting()) {
        let length = length_of(piece.stretch)?;
        if along <= length + 1e-6 && length > 0.0 {
            return Some(((along / length).clamp(0.0, 1.0), piece));
        }
        along -= length;
    }
    None
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
            let (left, right) = (laid[from].ends[0][0] + 0.4, last.ends[1][0] - 0.4);
            if right > left {
                board.path(
                    Layer::Dimension,
                    &[[left, y + 2.0], [left, y], [right, y], [right, y + 2.0]],
                );
            }
            let text = place_word(&board.voice, key);
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
fn tags(board: &mut Board, laid: &[Laid<'_>]) {
    let r = 2.3;
    for (place, piece) in laid.iter().enumerate() {
        let text = (place + 1).to_string();
        let foot = if piece.is_fitting() {
            let [x, y] = piece.ends[0];
            [x, y - half_at(laid, [x, y]) - 0.8]
        } else {
            piece.top(0.5)
        };
        let rows = (0..4).flat_map(|row| [0.0, 5.0, -5.0, 10.0, -10.0].map(|dx| (row, dx)));
        let spots = rows.map(|(row, dx)| [foot[0] + dx, foot[1] - 9.5 - 5.2 * f64::from(row)]);
        let free = |[x, y]: &Spot| board.places.is_free(&Rect::new(x - r, y - r, 2.0 * r, 2.0 * r));
        let Some([x, y]) = spots.into_iter().find(free) else { continue };
        let base = y + 0.5 * font::CAPITAL * SMALL;
        board.put(text_at([x, base], &text, SMALL, Anchor::Middle));
        board.scene.circle(Layer::Dimension, [x, y], r);
        board.places.take(Rect::new(x - r, y - r, 2.0 * r, 2.0 * r));
        board.line(Layer::Leader, [x, y + r], [foot[0], foot[1] - 0.4]);
    }
}

/// Lengths, one behind the other, as they are measured; heights beside what rises.
fn chain(board: &mut Board, laid: &[Laid<'_>], area: Rect) {
    let y = area.max[1] - 8.0;
    for piece in laid.iter().filter(|piece| !piece.is_fitting()) {
        let (Some([level, rise]), [a, b]) = (step(piece.stretch), piece.ends) else { continue };
        let low = piece.box_of().max[1];
        if b[0] - a[0] > 0.2 {
            let text = board.voice.tape(level);
            let start = (low + JACKET + 4.5).min(y - 2.0);
            board.dimension([a[0], start], [b[0], start], [0.0, y - start], &text);
        }
        if (b[1] - a[1]).abs() > 0.2 {
            let text = board.voice.tape(rise.abs());
            let right = piece.box_of().max[0].max(a[0]);
            board.dimension([right, a[1]], [right, b[1]], [5.0, 0.0], &text);
            board.places.take(Rect {
                min: [right + 4.6, a[1].min(b[1])],
                max: [right + 5.4, a[1].max(b[1])],
            });
        }
    }
}

fn bore(board: &mut Board, laid: &[Laid<'_>], along: f64, member: &str) {
    let text = Message::new("draw.section.bore").name("member", member);
    let text = board.voice.say(&text);
    let Some((share, piece)) = at_length(laid, along) else {
        return board.note(text);
    };
    let [x, y] = piece.along(share);
    let half = 0.5 * piece.box_of().height();
    for side in [-1.0, 1.0] {
        let ends = [[x - 0.9, y + side * half], [x + 0.9, y + side * (half + 4.0)]];
        if let Some(rect) = Rect::round(ends) {
            board.polygon(Layer::Member, &rect.corners());
        }
    }
    board.label(&text, [x, y + half + 4.0]);
}

fn legend(board: &mut Board, view: &SectionView, laid: &[Laid<'_>], is_scaled: bool) {
    let voice = board.voice.clone();
    let scale = if is_scaled { "draw.section.symbols" } else { "draw.section.no-scale" };
    board.note(voice.word(scale));
    for (place, piece) in laid.iter().enumerate() {
        board.note(format!("{}  {}", place + 1, in_words(&voice, piece.stretch)));
    }
    let ducts: Vec<&Laid<'_>> = laid.iter().filter(|piece| !piece.is_fitting()).collect();
    if is_scaled && ducts.iter().any(|piece| piece.outline.is_empty() && !piece.is_point()) {
        board.note(voice.word("draw.section.diameter-unknown"));
    }
    let arrows = [Fall::Out, Fall::Back, Fall::Low];
    let has_arrow = |stretch: &Stretch| stretch.rise_m.is_none() && arrows.contains(&stretch.fall);
    if ducts.iter().any(|piece| has_arrow(piece.stretch)) {
        board.note(voice.word("draw.section.arrows"));
    }
    // Lengths from centre to centre fix where fittings stand; what is bought, cut and written as the length of a run is shorter.
    let cut: Vec<f64> = view.stretches.iter().filter_map(|stretch| stretch.cut_m).collect();
    if !cut.is_empty() {
        let cut = voice.tape(cut.iter().sum());
        board.note_of(&Message::new("draw.section.centres").reference("cut", cut));
    }
    if !view.supports_m.is_empty() {
        board.note(voice.word("draw.section.support-at"));
    } else if let Some(spacing) = view.stretches.iter().find_map(|s| s.supports_m) {
        let message =
            Message::new("draw.section.support").reference("spacing", voice.tape(spacing));
        board.note_of(&message);
    }
    if is_scaled && laid.iter().any(|piece| piece.is_broken) {
        board.note(voice.word("draw.section.break"));
    }
    if view.seen == Some(false) {
        board.note(voice.word("draw.section.seen"));
    }
    board.note(voice.word("draw.measured"));
}

/// A stretch in one line.
fn in_words(voice: &Voice, stretch: &Stretch) -> String {
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
        words.extend(stretch.cut_m.map(|cut| {
            voice.say(&Message::new("draw.section.cut").reference("cut", voice.tape(cut)))
        }));
        words.extend(stretch.diameter_m.map(|diameter| {
            let text = voice.small_tape(diameter);
            voice.say(&Message::new("draw.section.diameter").reference("diameter", text))
        }));
        words.extend(stretch.rise_m.filter(|rise| rise.abs() > 5e-4).map(|rise| {
            let key = if rise > 0.0 { "draw.section.rises" } else { "draw.section.drops" };
            voice.say(&Message::new(key).reference("rise", voice.small_tape(rise.abs())))
        }));
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
