//! Drawings can be read: on white, on dark, in black and white, aloud; every word of them is one that is known.
#![allow(clippy::unwrap_used, reason = "tests")]

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use dewpath_drawing::pen::{Colour, DARK_PAPER, Layer, PAPER};
use dewpath_drawing::{font, svg};

/// Relative luminance and contrast ratio (W3C, Web Content Accessibility Guidelines 2.2, definitions).
fn luminance(colour: Colour) -> f64 {
    let [r, g, b] = colour.map(|c| {
        let c = f64::from(c) / 255.0;
        if c <= 0.04045 { c / 12.92 } else { libm::pow((c + 0.055) / 1.055, 2.4) }
    });
    0.2126 * r + 0.7152 * g + 0.0722 * b
}

fn contrast(one: Colour, other: Colour) -> f64 {
    let (a, b) = (luminance(one), luminance(other));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

#[test]
fn contrast_is_worked_out_as_the_guidelines_do() {
    // WCAG 2.2: black on white is 21:1, a colour on itself 1:1.
    assert!((contrast([0, 0, 0], [255, 255, 255]) - 21.0).abs() < 1e-9);
    assert!((contrast([12, 92, 134], [12, 92, 134]) - 1.0).abs() < 1e-12);
}

#[test]
fn what_carries_meaning_stands_out_from_paper_and_fillings() {
    // WCAG 2.2, success criteria 1.4.3 (text: 4.5) and 1.4.11 (graphics: 3).
    for layer in Layer::ALL {
        let pen = layer.pen();
        if !pen.carries {
            continue;
        }
        let least = if layer == Layer::Text { 4.5 } else { 3.0 };
        assert!(contrast(pen.light, PAPER) >= least, "{} on white", pen.name);
        assert!(contrast(pen.dark, DARK_PAPER) >= least, "{} on dark", pen.name);
        if let Some((light, dark)) = pen.fill {
            assert!(contrast(pen.light, light) >= 3.0, "{} on its filling", pen.name);
            assert!(contrast(pen.dark, dark) >= 3.0, "{} on its dark filling", pen.name);
            let text = Layer::Text.pen();
            assert!(contrast(text.light, light) >= 4.5, "text on {}", pen.name);
            assert!(contrast(text.dark, dark) >= 4.5, "text on dark {}", pen.name);
        }
    }
}

#[test]
fn lines_that_meet_differ_by_more_than_colour() {
    // Layers that stand for different things in one drawing, group by group.
    let groups: [&[Layer]; 4] = [
        &[Layer::Curve, Layer::Against, Layer::Limit, Layer::Axis, Layer::Band],
        &[
            Layer::Room,
            Layer::Member,
            Layer::Block,
            Layer::Obstacle,
            Layer::Centre,
            Layer::Dimension,
        ],
        &[Layer::Duct, Layer::Insulation, Layer::Centre, Layer::Dimension],
        &[Layer::Opening, Layer::Alarm, Layer::Ground, Layer::Dimension],
    ];
    for group in groups {
        for (place, one) in group.iter().enumerate() {
            for other in &group[place + 1..] {
                let (a, b) = (one.pen(), other.pen());
                let differ = a.dashes != b.dashes || (a.width / b.width - 1.0).abs() > 0.15;
                assert!(differ, "{} and {} look alike in black", a.name, b.name);
            }
        }
    }
}

#[test]
fn layers_have_names_of_their_own_and_a_place_in_the_style_sheet() {
    let names: BTreeSet<&str> = Layer::ALL.iter().map(|layer| layer.pen().name).collect();
    assert_eq!(names.len(), Layer::ALL.len());
    let css = svg::style_sheet();
    for name in names {
        // Light, dark and width.
        assert!(css.matches(&format!(".dw-{name}{{")).count() >= 3, "{name}");
    }
    assert!(css.contains("prefers-color-scheme:dark") && css.contains("@media print"));
}

#[test]
fn the_font_has_every_character_of_every_text() {
    let english = dewpath_words::Catalogue::english();
    for key in english.keys().filter(|key| key.starts_with("draw.")) {
        for c in english.text(key).unwrap().chars() {
            assert!(font::has(c), "{key}: no glyph for {c:?}");
        }
    }
    for c in ('0'..='9').chain("ft in. /-'\"°×±½".chars()) {
        assert!(font::has(c), "{c:?}");
    }
}

#[test]
fn the_measures_of_the_font_are_those_in_its_tables() {
    let face = ttf_parser::Face::parse(font::TRUETYPE, 0).unwrap();
    let em = f64::from(face.units_per_em());
    let capital = f64::from(face.capital_height().unwrap()) / em;
    assert!((capital - font::CAPITAL).abs() < 0.005, "{capital}");
    for c in ['g', 'j', 'p', 'q', 'y', ',', '(', 'Q'] {
        let glyph = face.glyph_index(c).unwrap();
        let below = f64::from(face.glyph_bounding_box(glyph).unwrap().y_min) / em;
        assert!(-below <= font::DESCENT, "{c} goes {below} below the line");
    }
    assert!(font::TRUETYPE.len() + font::WOFF2.len() < 80_000);
}

#[test]
fn text_breaks_where_it_must_and_is_never_wider() {
    let text = "Stop and let it be seen: the housing level and fastened before the duct goes on";
    for widest in [10.0, 25.0, 60.0] {
        let lines = font::wrap(text, 3.0, widest);
        assert!(lines.iter().all(|line| font::width(line, 3.0) <= widest + 1e-9), "{lines:?}");
    }
    assert_eq!(font::wrap(text, 3.0, 1e3), [text]);
    assert!(font::wrap("", 3.0, 10.0).is_empty());
}

fn sources(folder: &Path, found: &mut Vec<PathBuf>) {
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            sources(&path, found);
        } else {
            found.push(path);
        }
    }
}

#[test]
fn every_text_of_a_drawing_is_known_and_none_is_left_over() {
    let mut paths = Vec::new();
    sources(&Path::new(env!("CARGO_MANIFEST_DIR")).join("src"), &mut paths);
    let used: BTreeSet<String> = paths
        .iter()
        .flat_map(|path| {
            let source = std::fs::read_to_string(path).unwrap();
            let quoted: Vec<String> = source.split('"').map(str::to_owned).collect();
            quoted
                .into_iter()
                .filter(|part| part.starts_with("draw.") && part.len() > 5 && !part.contains(' '))
        })
        .collect();
    let english = dewpath_words::Catalogue::english();
    let known = english.keys().filter(|key| key.starts_with("draw."));
    let known: BTreeSet<String> = known.map(str::to_owned).collect();
    let missing: Vec<_> =
        used.iter().filter(|key| !key.contains('{') && !known.contains(*key)).collect();
    assert!(missing.is_empty(), "no text for {missing:?}");
    // Places are put together from the words of the job.
    let left: Vec<_> = known
        .iter()
        .filter(|key| !used.contains(*key) && !key.starts_with("draw.place."))
        .collect();
    assert!(left.is_empty(), "no drawing says {left:?}");
}
