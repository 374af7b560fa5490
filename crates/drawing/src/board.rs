//! A sheet in the making: title, drawing, dimensions, labels, notes, scale bar.

use dewpath_report::Message;

use crate::font;
use crate::paper::{Ground, Page, Sheet};
use crate::pen::Layer;
use crate::place::Places;
use crate::scale::{self, Scale};
use crate::scene::{Anchor, Rect, Scene, Spot, Text};
use crate::voice::Voice;

/// Size of the title, mm.
const TITLE: f64 = 4.6;
/// Size of labels and notes, mm.
pub(crate) const BODY: f64 = 3.0;
/// Size of figures on axes, mm.
pub(crate) const SMALL: f64 = 2.7;
/// White edge of the sheet, mm.
pub(crate) const EDGE: f64 = 5.0;
/// Distances at which a label is tried from what it names, mm.
const RINGS: [f64; 9] = [1.2, 3.5, 6.0, 9.0, 13.0, 18.0, 25.0, 34.0, 46.0];
/// From here on a line leads from a label to what it names, mm.
const LEADER_FROM: f64 = 3.0;
/// Length of the slashes at the ends of a dimension line, mm.
const SLASH: f64 = 1.8;
/// Gap between a place and the line that leads from it to its dimension, mm.
const GAP: f64 = 0.8;

pub(crate) struct Board {
    pub scene: Scene,
    pub places: Places,
    pub voice: Voice,
    name: String,
    title: String,
    describes: String,
    /// Where the next thing goes, mm from the top.
    y: f64,
    notes: Vec<String>,
    scale: Option<Scale>,
    /// How many times larger than lengths heights are drawn, where they are.
    heights: Option<f64>,
    ground: Option<Ground>,
}

impl Board {
    /// A sheet with its title; `subject` stands below it, `describes` is for who can't see it.
    pub(crate) fn new(voice: &Voice, page: Page, name: &str, title: &str, subject: &str) -> Self {
        let width = page.width_mm();
        let mut board = Self {
            scene: Scene::new(width, 0.0),
            places: Places::new(Rect::new(0.0, 0.0, width, f64::INFINITY)),
            voice: voice.clone(),
            name: file_name(name),
            title: if subject.is_empty() {
                title.to_owned()
            } else {
                format!("{title}: {subject}")
            },
            describes: title.to_owned(),
            y: EDGE,
            notes: Vec::new(),
            scale: None,
            heights: None,
            ground: None,
        };
        board.paragraph(title, TITLE);
        if !subject.is_empty() {
            board.paragraph(subject, BODY);
        }
        board.y += 2.0;
        board
    }

    /// Width between the edges.
    pub(crate) fn inner_width(&self) -> f64 {
        self.scene.width - 2.0 * EDGE
    }

    /// Says what the sheet shows, for who can't see it.
    pub(crate) fn describe(&mut self, text: impl Into<String>) {
        self.describes = text.into();
    }

    /// A warning that stands above everything else, framed.
    pub(crate) fn stop(&mut self, text: &str) {
        let top = self.y;
        self.y += 1.5;
        for line in font::wrap(text, BODY, self.inner_width() - 6.0) {
            self.y += font::CAPITAL * BODY + 0.5;
            self.put(text_at([EDGE + 3.0, self.y], &line, BODY, Anchor::Start));
            self.y += (font::LEADING - font::CAPITAL) * BODY;
        }
        self.y += 1.0;
        let frame = Rect::new(EDGE, top, self.inner_width(), self.y - top);
        self.scene.polygon(Layer::Alarm, frame.corners());
        self.places.take(frame);
        self.y += 3.0;
    }

    /// A note below the drawing.
    pub(crate) fn note(&mut self, text: impl Into<String>) {
        let text = text.into();
        if !text.is_empty() && !self.notes.contains(&text) {
            self.notes.push(text);
        }
    }

    /// A note by its key.
    pub(crate) fn note_of(&mut self, message: &Message) {
        let text = self.voice.say(message);
        self.note(text);
    }

    /// Paper of that height for the drawing, from edge to edge; labels stay in it.
    pub(crate) fn area(&mut self, height: f64) -> Rect {
        let area = Rect::new(EDGE, self.y, self.inner_width(), height);
        self.places.bounds = area;
        self.y += height + 2.0;
        area
    }

    /// The scale that the drawing is made to; its bar is drawn below.
    pub(crate) fn use_scale(&mut self, scale: Scale) {
        self.scale = Some(scale);
        self.scene.denominator = scale.denominator;
    }

    /// Heights are drawn so many times larger than lengths: they get a bar of their own.
    pub(crate) fn use_heights(&mut self, factor: f64) {
        self.heights = Some(factor);
    }

    /// Where the dwelling lies on the paper.
    pub(crate) fn lies_on(&mut self, ground: Ground) {
        self.ground = Some(ground);
    }

    fn paragraph(&mut self, text: &str, size: f64) {
        for line in font::wrap(text, size, self.inner_width()) {
            self.y += font::CAPITAL * size + 0.5;
            self.put(text_at([EDGE, self.y], &line, size, Anchor::Start));
            self.y += (font::LEADING - font::CAPITAL) * size;
        }
    }

    /// Puts a text where it is said, come what may; the paper below it is taken.
    pub(crate) fn put(&mut self, text: Text) {
        if text.text.is_empty() {
            return;
        }
        self.places.take(text.box_of());
        self.scene.add(Layer::Text, crate::scene::Shape::Text(text));
    }

    /// Puts a text where it is said if that paper is free.
    pub(crate) fn put_if_free(&mut self, text: Text) -> bool {
        let free = self.places.is_free(&text.box_of());
        if free {
            self.put(text);
        }
        free
    }

    /// A line that labels should not cross, and must not when it is heavy.
    pub(crate) fn line(&mut self, layer: Layer, from: Spot, to: Spot) {
        self.scene.line(layer, from, to);
        self.spare(layer, from, to);
    }

    fn spare(&mut self, layer: Layer, from: Spot, to: Spot) {
        if layer.is_heavy() {
            self.places.keep_off(from, to);
        } else {
            self.places.spare(from, to);
        }
    }

    /// A path that labels should not cross, and must not when it is heavy.
    pub(crate) fn path(&mut self, layer: Layer, points: &[Spot]) {
        for pair in points.windows(2) {
            self.spare(layer, pair[0], pair[1]);
        }
        self.scene.path(layer, points);
    }

    /// A closed path that labels should not cross, and must not when it is heavy.
    pub(crate) fn polygon(&mut self, layer: Layer, points: &[Spot]) {
        for (from, to) in points.iter().zip(points.iter().skip(1).chain(points.first())) {
            self.spare(layer, *from, *to);
        }
        self.scene.polygon(layer, points);
    }

    /// Names what is at a place: as near as is free, with a leader where it is not right beside it. Where the
    /// drawing has no room left the label becomes a note, so that nothing is lost.
    pub(crate) fn label(&mut self, text: &str, at: Spot) {
        self.label_from(text, at, 0.0);
    }

    /// The same for a thing of that radius.
    pub(crate) fn label_from(&mut self, text: &str, at: Spot, radius: f64) {
        let text = font::shortened(text.trim(), BODY, 0.7 * self.places.bounds.width());
        if text.is_empty() || !at.iter().all(|v| v.is_finite()) {
            return;
        }
        let mut best: Option<(usize, Text, bool)> = None;
        for (ring, gap) in RINGS.iter().enumerate() {
            for (place, candidate) in around(&text, at, radius + gap).into_iter().enumerate() {
                let rect = candidate.box_of();
                if !self.places.is_free(&rect) {
                    continue;
                }
                let leads = *gap > LEADER_FROM;
                let cost = 25 * self.places.crossed(&rect)
                    + if leads { 200 * self.places.covered(at, nearest(&rect, at)) } else { 0 }
                    + 12 * ring * ring
                    + place;
                if best.as_ref().is_none_or(|(least, ..)| cost < *least) {
                    best = Some((cost, candidate, leads));
                }
            }
        }
        match best {
            Some((_, found, leads)) => {
                if leads {
                    let to = nearest(&found.box_of(), at);
                    self.line(Layer::Leader, at, to);
                }
                self.put(found);
            }
            None => self.note(text),
        }
    }

    /// A dimension from one place to another, its line shifted by `off` to the side.
    pub(crate) fn dimension(&mut self, from: Spot, to: Spot, off: Spot, text: &str) {
        let shifted = |[x, y]: Spot, share: f64| [x + share * off[0], y + share * off[1]];
        let distance = libm::hypot(off[0], off[1]);
        let (a, b) = (shifted(from, 1.0), shifted(to, 1.0));
        if distance > GAP {
            let over = 1.0 + 1.0 / distance;
            for place in [from, to] {
                self.line(Layer::Dimension, shifted(place, GAP / distance), shifted(place, over));
            }
        }
        self.scene.line(Layer::Dimension, a, b);
        for [x, y] in [a, b] {
            let h = 0.5 * SLASH;
            self.scene.line(Layer::Axis, [x - h, y + h], [x + h, y - h]);
        }
        self.dimension_text(a, b, text);
        // A text on the line of another dimension would be taken for that one.
        self.places.keep_off(a, b);
    }

    /// The text of a dimension: on its own line where it fits between the ends, else beside it with a line that leads
    /// there; never where it could be taken for the dimension next to it.
    fn dimension_text(&mut self, a: Spot, b: Spot, text: &str) {
        let upright = (a[1] - b[1]).abs() > (a[0] - b[0]).abs();
        let along = usize::from(upright);
        let middle = [0, 1].map(|i| 0.5 * (a[i] + b[i]));
        let slack = (a[along] - b[along]).abs() - font::width(text, BODY) - 2.0;
        let rise = font::CAPITAL * BODY;
        let at = |row: f64, shift: f64| {
            let mut at = middle;
            at[along] += shift;
            at[1 - along] += row;
            Text { at, text: text.to_owned(), size: BODY, anchor: Anchor::Middle, upright }
        };
        let mut candidates: Vec<Text> = Vec::new();
        if slack >= 0.0 {
            for row in [-0.9, 0.9 + rise] {
                candidates.extend([0.0, 0.5, -0.5].map(|share| at(row, share * slack)));
            }
        }
        let beside = candidates.len();
        for step in 1..=4 {
            let off = 1.6 + f64::from(step - 1) * (rise + 1.6);
            candidates.extend([at(off + rise, 0.0), at(-off, 0.0)]);
        }
        let end = |rect: &Rect| nearest(rect, middle);
        // Led there across another dimension or a wall, it would be taken for theirs.
        let (numbers, boxes): (Vec<usize>, Vec<Rect>) = (candidates.iter().enumerate())
            .map(|(number, candidate)| (number, candidate.box_of()))
            .filter(|(_, rect)| self.places.is_free(rect))
            .filter(|(number, rect)| *number < beside || !self.places.is_barred(middle, end(rect)))
            .unzip();
        let Some(place) = self.places.best(&boxes) else {
            return self.label(text, middle);
        };
        if numbers[place] >= beside {
            self.line(Layer::Dimension, middle, end(&boxes[place]));
        }
        self.put(candidates.swap_remove(numbers[place]));
    }

    /// Scale bar, notes and the frame; the sheet is as high as it needs.
    pub(crate) fn finish(mut self) -> Sheet {
        self.places.bounds = Rect::new(0.0, 0.0, self.scene.width, f64::INFINITY);
        if let Some(scale) = self.scale {
            self.scale_bar(scale);
        }
        let notes = std::mem::take(&mut self.notes);
        for note in notes {
            self.paragraph(&note, BODY);
            self.y += 0.6;
        }
        self.scene.height = self.y + EDGE;
        let (w, h) = (self.scene.width, self.scene.height);
        let mut scene = Scene { items: Vec::new(), ..self.scene.clone() };
        scene.polygon(Layer::Sheet, Rect::new(0.2, 0.2, w - 0.4, h - 0.4).corners());
        scene.items.append(&mut self.scene.items);
        Sheet {
            name: self.name,
            title: self.title,
            describes: self.describes,
            scene,
            ground: self.ground,
        }
    }

    fn scale_bar(&mut self, scale: Scale) {
        self.bar(scale.denominator);
        let text = self.voice.say(&Message::new("draw.scale").reference("scale", scale.text));
        self.paragraph(&text, BODY);
        self.y += 0.6;
        if let Some(factor) = self.heights {
            self.bar(scale.denominator / factor);
            let message = Message::new("draw.heights").reference("factor", format!("{factor:.0}"));
            let text = self.voice.say(&message);
            self.paragraph(&text, BODY);
            self.y += 0.6;
        }
    }

    /// A bar with round lengths at so many times larger than on paper.
    fn bar(&mut self, denominator: f64) {
        let voice = self.voice.clone();
        let part_m = scale::bar_part_m(voice.system(), denominator);
        let part = part_m * 1000.0 / denominator;
        let count = ((0.6 * self.inner_width() / part).floor() as usize).clamp(1, 4);
        let top = self.y + 1.0;
        for k in 0..count {
            let cell = Rect::new(EDGE + k as f64 * part, top, part, 1.6);
            self.scene.polygon(Layer::Axis, cell.corners());
            if k % 2 == 0 {
                self.scene.hatch(Layer::Axis, &cell.corners(), 0.4, true);
            }
        }
        self.y = top + 1.6 + 1.0 + font::CAPITAL * SMALL;
        for k in 0..=count {
            let x = EDGE + k as f64 * part;
            let (text, anchor) = match k {
                0 => ("0".to_owned(), Anchor::Start),
                _ => (voice.tape(k as f64 * part_m), Anchor::Middle),
            };
            self.put_if_free(text_at([x, self.y], &text, SMALL, anchor));
        }
        self.y += 2.0;
    }
}

/// A level text.
pub(crate) fn text_at(at: Spot, text: &str, size: f64, anchor: Anchor) -> Text {
    Text { at, text: text.to_owned(), size, anchor, upright: false }
}

/// A label on eight sides of a place, best first.
fn around(text: &str, [x, y]: Spot, gap: f64) -> Vec<Text> {
    let rise = font::CAPITAL * BODY;
    let fall = font::DESCENT * BODY;
    let slant = 0.7 * gap;
    let level = y + 0.5 * (rise - fall);
    let place = |x, y, anchor| text_at([x, y], text, BODY, anchor);
    vec![
        place(x + gap, level, Anchor::Start),
        place(x + slant, y - slant - fall, Anchor::Start),
        place(x, y - gap - fall, Anchor::Middle),
        place(x, y + gap + rise, Anchor::Middle),
        place(x + slant, y + slant + rise, Anchor::Start),
        place(x - gap, level, Anchor::End),
        place(x - slant, y - slant - fall, Anchor::End),
        place(x - slant, y + slant + rise, Anchor::End),
    ]
}

/// Place of a box nearest to another.
fn nearest(rect: &Rect, at: Spot) -> Spot {
    [0, 1].map(|i| at[i].clamp(rect.min[i], rect.max[i].max(rect.min[i])))
}

/// A name that is good for a file and for an id: small letters, figures and hyphens.
pub(crate) fn file_name(name: &str) -> String {
    let mut out = String::new();
    for c in name.chars() {
        if c.is_ascii_alphanumeric() {
            out.push(c.to_ascii_lowercase());
        } else if !out.is_empty() && !out.ends_with('-') {
            out.push('-');
        }
    }
    let out = out.trim_end_matches('-');
    if out.is_empty() { "sheet".to_owned() } else { out.to_owned() }
}
