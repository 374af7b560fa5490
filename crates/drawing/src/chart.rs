//! Axes and curves.

use crate::board::{BODY, Board, SMALL, text_at};
use crate::font;
use crate::pen::Layer;
use crate::place;
use crate::scene::{Anchor, Rect, Spot};

/// Numbers along an edge of a chart.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Axis {
    pub low: f64,
    pub high: f64,
    pub step: f64,
}

impl Axis {
    /// Round numbers that hold all of these, about so many steps; 0 to 1 where there is no number.
    pub(crate) fn over(values: impl IntoIterator<Item = f64>, steps: f64) -> Self {
        let finite = values.into_iter().filter(|value| value.is_finite());
        let (low, high) = finite.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| {
            (low.min(value), high.max(value))
        });
        if low > high {
            return Self { low: 0.0, high: 1.0, step: 0.2 };
        }
        let span =
            if high - low > 1e-12 * high.abs().max(1.0) { high - low } else { high.abs().max(1.0) };
        let step = round_step(span / steps.max(1.0));
        let first = (low / step + 1e-9).floor() * step;
        let last = (high / step - 1e-9).ceil() * step;
        Self { low: first, high: if last > first { last } else { first + step }, step }
    }

    /// Twelve months with room for a column round each.
    pub(crate) const fn months() -> Self {
        Self { low: 0.4, high: 12.6, step: 1.0 }
    }

    /// The numbers, each with its text.
    pub(crate) fn ticks(self) -> Vec<(f64, String)> {
        let decimals = (-libm::floor(libm::log10(self.step) + 1e-9)).clamp(0.0, 9.0) as usize;
        // Steps of 2.5 need one more.
        let tenths = self.step * libm::pow(10.0, decimals as f64);
        let decimals = decimals + usize::from((tenths - tenths.round()).abs() > 1e-6);
        let first = (self.low / self.step - 1e-9).ceil() * self.step;
        let count = ((self.high - first) / self.step + 1e-9).floor().max(0.0) as usize;
        (0..=count.min(100))
            .map(|k| {
                let value = first + k as f64 * self.step;
                let value = if value.abs() < 1e-9 * self.step { 0.0 } else { value };
                (value, format!("{value:.decimals$}"))
            })
            .collect()
    }

    pub(crate) fn share(self, value: f64) -> f64 {
        (value - self.low) / (self.high - self.low)
    }
}

/// 1, 2, 2.5 or 5 times a power of ten, at least that.
fn round_step(least: f64) -> f64 {
    let power = libm::pow(10.0, libm::floor(libm::log10(least.max(1e-300))));
    let mantissa = least / power;
    let rounded = [1.0, 2.0, 2.5, 5.0].into_iter().find(|round| mantissa <= round * (1.0 + 1e-9));
    power * rounded.unwrap_or(10.0)
}

/// A chart with its axes on a sheet.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Plot {
    pub area: Rect,
    pub x: Axis,
    pub y: Axis,
}

impl Plot {
    /// Draws grid and axes in an area of the sheet.
    pub(crate) fn new(board: &mut Board, height: f64, x: (Axis, &str), y: (Axis, &str)) -> Self {
        let ((x, x_title), (y, y_title)) = (x, y);
        let whole = board.area(height);
        let y_ticks = y.ticks();
        let widest = y_ticks.iter().map(|(_, text)| font::width(text, SMALL)).fold(0.0, f64::max);
        let top = whole.min[1] + BODY + 3.0;
        let bottom = whole.max[1] - 2.0 * SMALL - 4.0;
        let left = whole.min[0] + widest + 2.0;
        let area = Rect { min: [left, top], max: [whole.max[0] - 4.0, bottom] };
        let plot = Self { area, x, y };
        board.put(text_at([whole.min[0], top - 2.6], y_title, BODY, Anchor::Start));
        for (value, text) in y_ticks {
            let at = plot.at([x.low, value]);
            board.scene.line(Layer::Grid, at, [area.max[0], at[1]]);
            let middle = at[1] + 0.5 * font::CAPITAL * SMALL;
            board.put_if_free(text_at([left - 1.2, middle], &text, SMALL, Anchor::End));
        }
        plot.x_ticks(board, x.ticks(), x_title);
        board.line(Layer::Axis, [left, top], [left, bottom]);
        // Where values go below nought the line they start from is that of nought.
        let foot = if y.low < 0.0 && y.high > 0.0 { plot.at([x.low, 0.0])[1] } else { bottom };
        board.line(Layer::Axis, [left, foot], [area.max[0], foot]);
        // Labels stay among the curves.
        board.places.bounds = area;
        plot
    }

    fn x_ticks(&self, board: &mut Board, ticks: Vec<(f64, String)>, title: &str) {
        let [_, bottom] = self.area.max;
        for (value, text) in ticks {
            let at = self.at([value, self.y.low]);
            board.scene.line(Layer::Grid, [at[0], self.area.min[1]], at);
            let below = [at[0], bottom + 1.2 + font::CAPITAL * SMALL];
            board.put_if_free(text_at(below, &text, SMALL, Anchor::Middle));
        }
        let below = [self.area.max[0], bottom + 3.0 + 2.2 * SMALL];
        board.put(text_at(below, title, BODY, Anchor::End));
    }

    /// Paper place of a pair of numbers.
    pub(crate) fn at(&self, [x, y]: Spot) -> Spot {
        [
            self.area.min[0] + self.x.share(x) * self.area.width(),
            self.area.max[1] - self.y.share(y) * self.area.height(),
        ]
    }

    /// A curve through pairs of numbers; what lies outside the axes is cut off.
    pub(crate) fn curve(&self, board: &mut Board, layer: Layer, points: &[Spot]) {
        let paper: Vec<Spot> = points.iter().map(|point| self.at(*point)).collect();
        let mut part: Vec<Spot> = Vec::new();
        for pair in paper.windows(2) {
            let clipped = place::clip(&self.area, pair[0], pair[1]);
            let joins = clipped.is_some_and(|(from, _)| part.last() == Some(&from));
            if !joins && !part.is_empty() {
                board.path(layer, &part);
                part.clear();
            }
            if let Some((from, to)) = clipped {
                if !joins {
                    part.push(from);
                }
                part.push(to);
            }
        }
        if part.len() > 1 {
            board.path(layer, &part);
        }
    }

    /// The area between two curves, hatched.
    pub(crate) fn band(&self, board: &mut Board, low: &[Spot], high: &[Spot], rising: bool) {
        let inside = |point: &Spot| {
            let [x, y] = self.at(*point);
            [
                x.clamp(self.area.min[0], self.area.max[0]),
                y.clamp(self.area.min[1], self.area.max[1]),
            ]
        };
        let outline: Vec<Spot> = low.iter().chain(high.iter().rev()).map(inside).collect();
        board.scene.polygon(Layer::Band, outline.clone());
        board.scene.hatch(Layer::Hatch, &outline, if rising { 1.6 } else { 2.2 }, rising);
    }
}
