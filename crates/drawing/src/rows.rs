//! Bars one below the other, each under its own line of text: readable on a phone, however long the names are.

use crate::board::{BODY, Board, SMALL, text_at};
use crate::chart::Axis;
use crate::font;
use crate::pen::Layer;
use crate::scene::{Anchor, Rect};

/// Height of a bar, mm.
const BAR: f64 = 2.6;
/// From row to row, mm.
const ROW: f64 = 9.0;

/// A bar with its texts.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Row {
    pub label: String,
    pub value: String,
    /// Where the bar begins and ends, as numbers on the axis.
    pub from: f64,
    pub to: f64,
    /// Low and high of the end.
    pub spread: Option<[f64; 2]>,
    /// Whether it stands out: hatched.
    pub strong: bool,
}

/// Bars on a common axis.
pub(crate) struct Rows<'a> {
    pub rows: &'a [Row],
    pub title: &'a str,
}

impl Rows<'_> {
    pub(crate) fn draw(&self, board: &mut Board) {
        let numbers = self.rows.iter().flat_map(|row| {
            [0.0, row.from, row.to].into_iter().chain(row.spread.into_iter().flatten())
        });
        let axis = Axis::over(numbers, if board.inner_width() > 120.0 { 8.0 } else { 5.0 });
        let height = self.rows.len() as f64 * ROW;
        let area = board.area(height + 3.0 + 2.4 * SMALL + 3.0);
        let (left, right) = (area.min[0] + 2.5, area.max[0] - 4.0);
        let x = |value: f64| left + axis.share(value) * (right - left);
        let bottom = area.min[1] + height + 1.0;
        for (value, text) in axis.ticks() {
            board.scene.line(Layer::Grid, [x(value), area.min[1]], [x(value), bottom]);
            let below = [x(value), bottom + 1.2 + font::CAPITAL * SMALL];
            board.put_if_free(text_at(below, &text, SMALL, Anchor::Middle));
        }
        let below = [right, bottom + 3.0 + 2.2 * SMALL];
        board.put(text_at(below, self.title, BODY, Anchor::End));
        board.scene.line(Layer::Axis, [left, bottom], [right, bottom]);
        board.scene.line(Layer::Axis, [x(0.0), area.min[1]], [x(0.0), bottom]);
        for (place, row) in self.rows.iter().enumerate() {
            let top = area.min[1] + place as f64 * ROW;
            row_of(board, row, [left, right], top, &x);
        }
    }
}

fn row_of(board: &mut Board, row: &Row, sides: [f64; 2], top: f64, x: &impl Fn(f64) -> f64) {
    let [left, right] = sides;
    let base = top + font::CAPITAL * BODY + 0.6;
    let value = font::width(&row.value, BODY);
    let label = font::shortened(&row.label, BODY, right - left - value - 4.0);
    board.put(text_at([left + 0.8, base], &label, BODY, Anchor::Start));
    board.put(text_at([right, base], &row.value, BODY, Anchor::End));
    let (from, to) = (x(row.from).min(x(row.to)), x(row.from).max(x(row.to)));
    let bar = Rect::new(from, base + 1.2, (to - from).max(0.3), BAR);
    board.scene.polygon(Layer::Bar, bar.corners());
    if row.strong {
        board.scene.hatch(Layer::Bar, &bar.corners(), 1.0, true);
    }
    if let Some([low, high]) = row.spread {
        let y = bar.middle()[1];
        let (low, high) = (x(low), x(high));
        board.scene.line(Layer::Spread, [low, y], [high, y]);
        for end in [low, high] {
            board.scene.line(Layer::Spread, [end, y - 1.0], [end, y + 1.0]);
        }
    }
}
