//! A scene as SVG 1.1 with one style sheet for light and dark screens and for print.
//!
//! Sources: W3C Scalable Vector Graphics (SVG) 1.1, second edition, 2011; for the title and description that are read
//! aloud, W3C Accessible Rich Internet Applications 1.2, role `img`.

use std::fmt::Write as _;

use crate::font;
use crate::pen::{Colour, DARK_PAPER, Layer, PAPER};
use crate::scene::{Anchor, Scene, Shape, Spot, Text};

/// Who carries the style sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Carries {
    /// The drawing: style sheet and font are in it, it stands alone.
    All,
    /// The page around it, which has [`style_sheet`] once for all drawings.
    Nothing,
}

/// What is said of a drawing besides what it shows.
#[derive(Debug, Clone, Copy)]
pub struct About<'a> {
    /// Name; letters, figures and hyphens.
    pub name: &'a str,
    /// Title.
    pub title: &'a str,
    /// What it shows, for who can't see it.
    pub describes: &'a str,
}

/// Writes a scene.
pub fn write(scene: &Scene, about: About<'_>, carries: Carries) -> String {
    let (w, h) = (number(scene.width), number(scene.height));
    let name = about.name;
    let mut out = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"dw\" width=\"{w}mm\" height=\"{h}mm\" viewBox=\"0 0 {w} {h}\" role=\"img\" aria-labelledby=\"{name}-title {name}-desc\">\n\
         <title id=\"{name}-title\">{}</title>\n<desc id=\"{name}-desc\">{}</desc>\n",
        escaped(about.title),
        escaped(about.describes)
    );
    if carries == Carries::All {
        let _ = writeln!(out, "<style>{}</style>", style_sheet());
    }
    let mut open: Option<Layer> = None;
    for item in &scene.items {
        if open != Some(item.layer) {
            if open.is_some() {
                out.push_str("</g>\n");
            }
            let _ = writeln!(out, "<g class=\"dw-{}\">", item.layer.pen().name);
            open = Some(item.layer);
        }
        shape(&mut out, &item.shape);
    }
    if open.is_some() {
        out.push_str("</g>\n");
    }
    out.push_str("</svg>\n");
    out
}

fn shape(out: &mut String, shape: &Shape) {
    // Writing to a string cannot fail.
    let _ = match shape {
        Shape::Line(a, b) => writeln!(out, "<path d=\"M{}L{}\"/>", spot(*a), spot(*b)),
        Shape::Path { points, closed } => {
            let mut d = String::new();
            for (place, point) in points.iter().enumerate() {
                d.push(if place == 0 { 'M' } else { 'L' });
                d.push_str(&spot(*point));
            }
            let (class, end) = if *closed { (" class=\"dw-shut\"", "Z") } else { ("", "") };
            writeln!(out, "<path{class} d=\"{d}{end}\"/>")
        }
        Shape::Arc { centre, radius, from_deg, to_deg } => {
            let turn = (to_deg - from_deg).rem_euclid(360.0);
            let (from, to) =
                (on_circle(*centre, *radius, *from_deg), on_circle(*centre, *radius, *to_deg));
            let r = number(*radius);
            let large = u8::from(turn > 180.0);
            writeln!(out, "<path d=\"M{}A{r} {r} 0 {large} 0 {}\"/>", spot(from), spot(to))
        }
        Shape::Circle { centre, radius } => writeln!(
            out,
            "<circle class=\"dw-shut\" cx=\"{}\" cy=\"{}\" r=\"{}\"/>",
            number(centre[0]),
            number(centre[1]),
            number(*radius)
        ),
        Shape::Text(text) => self::text(out, text),
    };
}

fn text(out: &mut String, text: &Text) -> std::fmt::Result {
    let [x, y] = text.at;
    let (x, y) = (number(x), number(y));
    let anchor = match text.anchor {
        Anchor::Start => "",
        Anchor::Middle => " text-anchor=\"middle\"",
        Anchor::End => " text-anchor=\"end\"",
    };
    let turn =
        if text.upright { format!(" transform=\"rotate(-90 {x} {y})\"") } else { String::new() };
    writeln!(
        out,
        "<text x=\"{x}\" y=\"{y}\" font-size=\"{}\"{anchor}{turn}>{}</text>",
        number(text.size),
        escaped(&text.text)
    )
}

/// A place on a circle, angles counter-clockwise as they are seen.
pub(crate) fn on_circle(centre: Spot, radius: f64, angle_deg: f64) -> Spot {
    let angle = angle_deg.to_radians();
    [centre[0] + radius * libm::cos(angle), centre[1] - radius * libm::sin(angle)]
}

fn spot([x, y]: Spot) -> String {
    format!("{} {}", number(x), number(y))
}

/// Hundredths of a millimetre, without zeros that say nothing.
pub(crate) fn number(value: f64) -> String {
    let hundredths = (value * 100.0).round();
    // A value that rounds to nothing has no sign.
    let text = format!("{:.2}", if hundredths == 0.0 { 0.0 } else { hundredths / 100.0 });
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// Text as it may stand between tags and in attributes. Characters that XML 1.0 (section 2.2) has no place for become U+FFFD.
pub(crate) fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            '\t' | '\n' | '\r' => out.push(' '),
            '\u{0}'..='\u{1f}' | '\u{fffe}' | '\u{ffff}' => out.push('\u{fffd}'),
            _ => out.push(c),
        }
    }
    out
}

fn hex([r, g, b]: Colour) -> String {
    format!("#{r:02x}{g:02x}{b:02x}")
}

/// The style sheet of all drawings, with the font in it.
pub fn style_sheet() -> String {
    let mut css = format!(
        "@font-face{{font-family:\"{f}\";src:url(\"data:font/woff2;base64,{data}\") format(\"woff2\")}}\n\
         .dw{{background:{paper};fill:none;stroke-linecap:butt;stroke-linejoin:round}}\n\
         .dw text{{font-family:\"{f}\",sans-serif;stroke:{paper};stroke-width:.6;stroke-linejoin:round;paint-order:stroke;font-kerning:none}}\n",
        f = font::FAMILY,
        data = base64(font::WOFF2),
        paper = hex(PAPER),
    );
    colours(&mut css, "", |pen| (pen.light, pen.fill.map(|fill| fill.0)));
    for layer in Layer::ALL {
        let pen = layer.pen();
        let _ = write!(css, ".dw-{}{{stroke-width:{}", pen.name, number(pen.width));
        if !pen.dashes.is_empty() {
            let dashes: Vec<String> = pen.dashes.iter().map(|dash| number(*dash)).collect();
            let _ = write!(css, ";stroke-dasharray:{}", dashes.join(" "));
        }
        css.push_str("}\n");
    }
    css.push_str("@media screen and (prefers-color-scheme:dark){\n");
    let paper = hex(DARK_PAPER);
    let _ = writeln!(css, ".dw{{background:{paper}}}\n.dw text{{stroke:{paper}}}");
    colours(&mut css, "", |pen| (pen.dark, pen.fill.map(|fill| fill.1)));
    css.push_str("}\n@media print{\n.dw g{stroke:#000}\n.dw .dw-grid,.dw .dw-hatch{stroke:#777}\n");
    css.push_str(".dw .dw-text{stroke:none;fill:#000}\n}\n");
    css
}

fn colours(
    css: &mut String,
    of: &str,
    pick: impl Fn(&crate::pen::Pen) -> (Colour, Option<Colour>),
) {
    for layer in Layer::ALL {
        let pen = layer.pen();
        let (stroke, fill) = pick(&pen);
        if layer == Layer::Text {
            let _ = writeln!(css, "{of}.dw-text{{stroke:none;fill:{}}}", hex(stroke));
            continue;
        }
        let _ = writeln!(css, "{of}.dw-{}{{stroke:{}}}", pen.name, hex(stroke));
        if let Some(fill) = fill {
            let _ = writeln!(css, "{of}.dw-{} .dw-shut{{fill:{}}}", pen.name, hex(fill));
        }
    }
}

/// Base 64 with padding (RFC 4648, section 4).
pub(crate) fn base64(bytes: &[u8]) -> String {
    const LETTERS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut out = String::with_capacity(bytes.len().div_ceil(3) * 4);
    for group in bytes.chunks(3) {
        let at = |place: usize| u32::from(group.get(place).copied().unwrap_or(0));
        let bits = (at(0) << 16) | (at(1) << 8) | at(2);
        for place in 0..4 {
            if place <= group.len() {
                out.push(char::from(LETTERS[(bits >> (18 - 6 * place)) as usize & 63]));
            } else {
                out.push('=');
            }
        }
    }
    out
}
