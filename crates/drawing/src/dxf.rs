//! A scene as DXF of release 12, the oldest and widest read ASCII form: layers, lines, polylines, arcs, circles, texts.
//!
//! Coordinates are true millimetres: paper times the scale of the drawing, y upwards. Source: the published DXF
//! reference of release 12 (group codes by entity); audited by an independent reader in `reference/test_dxf.py`.

use std::fmt::Write as _;

use crate::pen::{Layer, Pen};
use crate::scene::{Anchor, Scene, Shape, Spot, Text};

/// Writes a scene.
pub fn write(scene: &Scene) -> String {
    let page = Page { height: scene.height, scale: scene.denominator };
    let mut out = Out(String::new());
    out.header(page.at([0.0, scene.height]), page.at([scene.width, 0.0]));
    out.tables(page.scale);
    out.pair(0, "SECTION");
    out.pair(2, "ENTITIES");
    for item in &scene.items {
        // A CAD program has a paper of its own.
        if item.layer != Layer::Sheet {
            page.entity(&mut out, item.layer.pen().name, &item.shape);
        }
    }
    out.pair(0, "ENDSEC");
    out.pair(0, "EOF");
    out.0
}

/// From paper to true size.
struct Page {
    height: f64,
    scale: f64,
}

impl Page {
    fn at(&self, [x, y]: Spot) -> Spot {
        [x * self.scale, (self.height - y) * self.scale]
    }

    fn entity(&self, out: &mut Out, layer: &str, shape: &Shape) {
        match shape {
            Shape::Line(a, b) => {
                out.start("LINE", layer);
                out.point(10, self.at(*a));
                out.point(11, self.at(*b));
            }
            Shape::Path { points, closed } => {
                out.start("POLYLINE", layer);
                out.pair(66, "1");
                out.point(10, [0.0, 0.0]);
                out.pair(70, if *closed { "1" } else { "0" });
                for point in points {
                    out.start("VERTEX", layer);
                    out.point(10, self.at(*point));
                }
                out.start("SEQEND", layer);
            }
            Shape::Arc { centre, radius, from_deg, to_deg } => {
                out.start("ARC", layer);
                out.point(10, self.at(*centre));
                out.number(40, radius * self.scale);
                out.number(50, *from_deg);
                out.number(51, *to_deg);
            }
            Shape::Circle { centre, radius } => {
                out.start("CIRCLE", layer);
                out.point(10, self.at(*centre));
                out.number(40, radius * self.scale);
            }
            Shape::Text(text) => self.text(out, layer, text),
        }
    }

    fn text(&self, out: &mut Out, layer: &str, text: &Text) {
        out.start("TEXT", layer);
        out.point(10, self.at(text.at));
        // CAD programs take the height of a capital for the size of a text.
        out.number(40, text.size * crate::font::CAPITAL * self.scale);
        out.pair(1, &plain(&text.text));
        if text.upright {
            out.number(50, 90.0);
        }
        let align = match text.anchor {
            Anchor::Start => return,
            Anchor::Middle => "1",
            Anchor::End => "2",
        };
        out.pair(72, align);
        out.point(11, self.at(text.at));
    }
}

struct Out(String);

impl Out {
    fn pair(&mut self, code: u32, value: &str) {
        let _ = write!(self.0, "{code}\r\n{value}\r\n");
    }

    fn number(&mut self, code: u32, value: f64) {
        // A value that rounds to nothing has no sign.
        let value = if (value * 1e4).round() == 0.0 { 0.0 } else { value };
        let _ = write!(self.0, "{code}\r\n{value:.4}\r\n");
    }

    fn point(&mut self, code: u32, [x, y]: Spot) {
        self.number(code, x);
        self.number(code + 10, y);
        self.number(code + 20, 0.0);
    }

    fn start(&mut self, kind: &str, layer: &str) {
        self.pair(0, kind);
        self.pair(8, layer);
    }

    fn header(&mut self, min: Spot, max: Spot) {
        self.pair(0, "SECTION");
        self.pair(2, "HEADER");
        self.pair(9, "$ACADVER");
        self.pair(1, "AC1009");
        for (name, at) in [("$EXTMIN", min), ("$EXTMAX", max)] {
            self.pair(9, name);
            self.point(10, at);
        }
        self.pair(0, "ENDSEC");
    }

    fn tables(&mut self, scale: f64) {
        self.pair(0, "SECTION");
        self.pair(2, "TABLES");
        self.table("LTYPE", Layer::ALL.len() + 1);
        self.line_type("CONTINUOUS", "Solid line", &[], scale);
        for layer in Layer::ALL {
            let pen = layer.pen();
            if !pen.dashes.is_empty() {
                self.line_type(&line_type_name(&pen), "Dashes", pen.dashes, scale);
            }
        }
        self.pair(0, "ENDTAB");
        self.table("LAYER", Layer::ALL.len());
        for layer in Layer::ALL {
            let pen = layer.pen();
            self.pair(0, "LAYER");
            self.pair(2, pen.name);
            self.pair(70, "0");
            self.pair(62, &colour(&pen).to_string());
            self.pair(6, &line_type_name(&pen));
        }
        self.pair(0, "ENDTAB");
        self.table("STYLE", 1);
        self.pair(0, "STYLE");
        self.pair(2, "STANDARD");
        self.pair(70, "0");
        self.number(40, 0.0);
        self.number(41, 1.0);
        self.number(50, 0.0);
        self.pair(71, "0");
        self.number(42, 2.5);
        self.pair(3, "txt");
        self.pair(4, "");
        self.pair(0, "ENDTAB");
        self.pair(0, "ENDSEC");
    }

    fn table(&mut self, name: &str, most: usize) {
        self.pair(0, "TABLE");
        self.pair(2, name);
        self.pair(70, &most.to_string());
    }

    fn line_type(&mut self, name: &str, about: &str, dashes: &[f64], scale: f64) {
        self.pair(0, "LTYPE");
        self.pair(2, name);
        self.pair(70, "0");
        self.pair(3, about);
        self.pair(72, "65");
        self.pair(73, &dashes.len().to_string());
        self.number(40, scale * dashes.iter().sum::<f64>());
        for (place, dash) in dashes.iter().enumerate() {
            self.number(49, scale * if place % 2 == 0 { *dash } else { -dash });
        }
    }
}

fn line_type_name(pen: &Pen) -> String {
    if pen.dashes.is_empty() { "CONTINUOUS".to_owned() } else { format!("DW-{}", pen.name) }
}

/// The one of the first seven colours of CAD programs nearest in hue; 7 is black or white, as the screen needs.
fn colour(pen: &Pen) -> u8 {
    let [r, g, b] = pen.light;
    let (most, least) = (r.max(g).max(b), r.min(g).min(b));
    if most - least < 48 {
        return 7;
    }
    if r == most {
        if g > b.saturating_add(40) { 2 } else { 1 }
    } else if g == most {
        3
    } else if r > g {
        6
    } else {
        5
    }
}

/// Text in the characters of the release: signs by their control codes, others by their number.
fn plain(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '°' => out.push_str("%%d"),
            '±' => out.push_str("%%p"),
            'Ø' => out.push_str("%%c"),
            '%' => out.push_str("%%%"),
            '–' | '−' => out.push('-'),
            '…' => out.push_str("..."),
            '×' => out.push('x'),
            ' '..='~' => out.push(c),
            c if c.is_control() => out.push(' '),
            c => {
                let _ = write!(out, "\\U+{:04X}", c as u32);
            }
        }
    }
    out
}
