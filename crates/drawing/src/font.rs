//! The one font of all drawings, carried along and measured.
//!
//! It is a subset without kerning and with figures of one width (`font/subset.py`), so that the width of a text is
//! the sum of its advances, here as in a browser, in print and in a CAD program that is given the file.

use std::sync::OnceLock;

use ttf_parser::Face;

/// Name of the font in a style sheet.
pub const FAMILY: &str = "Dewpath Drawing";

/// The font as TrueType, for typesetters and for measuring.
pub const TRUETYPE: &[u8] = include_bytes!("../font/drawing.ttf");

/// The font as WOFF2, for style sheets.
pub const WOFF2: &[u8] = include_bytes!("../font/drawing.woff2");

/// Share of the size from the base line to the top of a capital; measured from the font by its test.
pub const CAPITAL: f64 = 0.668;

/// Share of the size that descends below the base line, in letters such as `g`.
pub const DESCENT: f64 = 0.24;

/// From base line to base line, in sizes.
pub const LEADING: f64 = 1.35;

/// Advance taken for a character the font has no glyph for, in sizes: the widest the font has.
const WITHOUT_GLYPH: f64 = 1.0;

/// Advances of the characters up to U+2FFF that the font has, in sizes.
struct Advances(Vec<(char, f64)>);

fn advances() -> &'static Advances {
    static ADVANCES: OnceLock<Advances> = OnceLock::new();
    ADVANCES.get_or_init(|| {
        let Ok(face) = Face::parse(TRUETYPE, 0) else { return Advances(Vec::new()) };
        let em = f64::from(face.units_per_em());
        let known = (' '..'\u{3000}').filter_map(|c| {
            let glyph = face.glyph_index(c)?;
            Some((c, f64::from(face.glyph_hor_advance(glyph)?) / em))
        });
        Advances(known.collect())
    })
}

fn advance(c: char) -> f64 {
    let known = &advances().0;
    known
        .binary_search_by_key(&c, |(known, _)| *known)
        .ok()
        .and_then(|at| known.get(at))
        .map_or(WITHOUT_GLYPH, |(_, advance)| *advance)
}

/// Whether the font has a glyph for the character.
pub fn has(c: char) -> bool {
    advances().0.binary_search_by_key(&c, |(known, _)| *known).is_ok()
}

/// Width of a line of text at a size, in the unit of the size.
///
/// ```
/// use dewpath_drawing::font;
///
/// // Figures are of one width.
/// assert_eq!(font::width("1111", 3.0), font::width("9090", 3.0));
/// ```
pub fn width(text: &str, size: f64) -> f64 {
    size * text.chars().map(advance).sum::<f64>()
}

/// Breaks a text into lines no wider than that; a single word that is wider stands alone and is cut.
pub fn wrap(text: &str, size: f64, widest: f64) -> Vec<String> {
    let mut lines = Vec::new();
    let mut line = String::new();
    for word in text.split_whitespace() {
        let longer = if line.is_empty() { word.to_owned() } else { format!("{line} {word}") };
        if width(&longer, size) <= widest {
            line = longer;
            continue;
        }
        if !line.is_empty() {
            lines.push(std::mem::take(&mut line));
        }
        line = shortened(word, size, widest);
    }
    if !line.is_empty() {
        lines.push(line);
    }
    lines
}

/// The text, cut with an ellipsis where it is wider than that.
pub fn shortened(text: &str, size: f64, widest: f64) -> String {
    if width(text, size) <= widest {
        return text.to_owned();
    }
    let mut short = String::new();
    let mut taken = width("…", size);
    for c in text.chars() {
        taken += width(c.encode_utf8(&mut [0; 4]), size);
        if taken > widest {
            break;
        }
        short.push(c);
    }
    short.push('…');
    short
}
