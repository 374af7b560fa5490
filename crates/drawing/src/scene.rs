//! What a sheet shows: lines, arcs, fillings and texts on layers, in millimetres of paper, y downwards.
//!
//! The same scene is written as SVG and as DXF. It knows neither.

use crate::pen::Layer;
pub use crate::rect::{Rect, Spot};
use crate::{font, hatch};

/// Which end of a text stands at its place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Anchor {
    /// Its beginning.
    Start,
    /// Its middle.
    Middle,
    /// Its end.
    End,
}

/// A line of text.
#[derive(Debug, Clone, PartialEq)]
pub struct Text {
    /// Place of the anchor on the base line.
    pub at: Spot,
    /// The text.
    pub text: String,
    /// Size, mm.
    pub size: f64,
    /// Which end stands there.
    pub anchor: Anchor,
    /// Whether it is turned to be read from the right side of the sheet, upwards.
    pub upright: bool,
}

impl Text {
    /// The box its letters may fill.
    pub fn box_of(&self) -> Rect {
        let width = font::width(&self.text, self.size);
        let before = match self.anchor {
            Anchor::Start => 0.0,
            Anchor::Middle => 0.5 * width,
            Anchor::End => width,
        };
        let (up, down) = (font::CAPITAL * self.size, font::DESCENT * self.size);
        let [x, y] = self.at;
        if self.upright {
            Rect { min: [x - up, y + before - width], max: [x + down, y + before] }
        } else {
            Rect { min: [x - before, y - up], max: [x - before + width, y + down] }
        }
    }
}

/// A figure on a layer.
#[derive(Debug, Clone, PartialEq)]
pub enum Shape {
    /// A straight line.
    Line(Spot, Spot),
    /// Straight lines from place to place; closed ones are filled where their layer says so.
    Path {
        /// The places.
        points: Vec<Spot>,
        /// Whether the last is joined to the first.
        closed: bool,
    },
    /// Part of a circle, counter-clockwise as it is seen.
    Arc {
        /// Centre.
        centre: Spot,
        /// Radius.
        radius: f64,
        /// From this angle, degrees, 0 to the right, 90 upwards.
        from_deg: f64,
        /// To this angle.
        to_deg: f64,
    },
    /// A circle.
    Circle {
        /// Centre.
        centre: Spot,
        /// Radius.
        radius: f64,
    },
    /// A text.
    Text(Text),
}

impl Shape {
    fn numbers(&self) -> Vec<f64> {
        match self {
            Self::Line(a, b) => vec![a[0], a[1], b[0], b[1]],
            Self::Path { points, .. } => points.iter().flatten().copied().collect(),
            Self::Arc { centre, radius, from_deg, to_deg } => {
                vec![centre[0], centre[1], *radius, *from_deg, *to_deg]
            }
            Self::Circle { centre, radius } => vec![centre[0], centre[1], *radius],
            Self::Text(text) => vec![text.at[0], text.at[1], text.size],
        }
    }

    fn is_drawable(&self) -> bool {
        let finite = self.numbers().iter().all(|number| number.is_finite());
        finite && !matches!(self, Self::Path { points, .. } if points.len() < 2)
    }
}

/// A shape and its layer.
#[derive(Debug, Clone, PartialEq)]
pub struct Item {
    /// Layer.
    pub layer: Layer,
    /// Shape.
    pub shape: Shape,
}

/// Everything on a sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct Scene {
    /// Width of the paper, mm.
    pub width: f64,
    /// Height of the paper, mm.
    pub height: f64,
    /// How many times larger than on paper things are; 1 for charts.
    pub denominator: f64,
    /// What is drawn, from the bottom up.
    pub items: Vec<Item>,
}

impl Scene {
    /// An empty sheet.
    pub fn new(width: f64, height: f64) -> Self {
        Self { width, height, denominator: 1.0, items: Vec::new() }
    }

    /// Adds a shape. What has no place, since a number of it is not finite, is left out.
    pub fn add(&mut self, layer: Layer, shape: Shape) {
        if shape.is_drawable() {
            self.items.push(Item { layer, shape });
        }
    }

    /// Adds a line.
    pub fn line(&mut self, layer: Layer, from: Spot, to: Spot) {
        self.add(layer, Shape::Line(from, to));
    }

    /// Adds an open path.
    pub fn path(&mut self, layer: Layer, points: impl Into<Vec<Spot>>) {
        self.add(layer, Shape::Path { points: points.into(), closed: false });
    }

    /// Adds a closed path.
    pub fn polygon(&mut self, layer: Layer, points: impl Into<Vec<Spot>>) {
        self.add(layer, Shape::Path { points: points.into(), closed: true });
    }

    /// Adds a circle.
    pub fn circle(&mut self, layer: Layer, centre: Spot, radius: f64) {
        self.add(layer, Shape::Circle { centre, radius });
    }

    /// Adds an arc, counter-clockwise.
    pub fn arc(&mut self, layer: Layer, centre: Spot, radius: f64, angles_deg: [f64; 2]) {
        let [from_deg, to_deg] = angles_deg;
        self.add(layer, Shape::Arc { centre, radius, from_deg, to_deg });
    }

    /// Fills a polygon with parallel lines, as drawings do that must be read without colour.
    pub fn hatch(&mut self, layer: Layer, polygon: &[Spot], spacing: f64, rising: bool) {
        for (from, to) in hatch::lines(polygon, spacing, rising) {
            self.line(layer, from, to);
        }
    }

    /// The texts and the boxes that their letters may fill.
    pub fn texts(&self) -> impl Iterator<Item = (&Text, Rect)> {
        self.items.iter().filter_map(|item| match &item.shape {
            Shape::Text(text) => Some((text, text.box_of())),
            _ => None,
        })
    }
}
