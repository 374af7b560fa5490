//! Every sheet of every example job, and of invented views: no label on another, everything on the paper, readable
//! by an independent SVG reader (resvg), the same bytes each time.
//!
//! With `DEWPATH_PICTURES=folder` the pictures are written there, to be looked at; `DEWPATH_PICTURES_OF="fc- hall"` says of
//! which jobs.
#![allow(clippy::unwrap_used, reason = "tests")]

mod common;

use std::path::PathBuf;
use std::sync::{Arc, OnceLock};

use dewpath_drawing::pen::Layer;
use dewpath_drawing::scene::{Rect, Shape};
use dewpath_drawing::{Page, Sheet, Voice, font};
use resvg::{tiny_skia, usvg};

const PAGES: [(Page, &str); 2] = [(Page::Paper, "paper"), (Page::Phone, "phone")];

/// All sheets, each with a name for messages.
fn all() -> &'static [(String, Sheet)] {
    static ALL: OnceLock<Vec<(String, Sheet)>> = OnceLock::new();
    ALL.get_or_init(|| {
        let reports = common::reports(32);
        let mut all = Vec::new();
        for (page, width) in PAGES {
            for found in &reports {
                for sheet in dewpath_drawing::sheets(&found.subject(), page) {
                    all.push((format!("{} {} {width}", found.name, sheet.name), sheet));
                }
            }
            for show in ["us", "metric"] {
                for sheet in common::invented(Voice::for_show(show), page) {
                    all.push((format!("invented {} {show} {width}", sheet.name), sheet));
                }
            }
        }
        assert!(all.len() > 300, "too few sheets: {}", all.len());
        all
    })
}

#[test]
fn no_label_lies_on_another() {
    let mut wrong = Vec::new();
    for (name, sheet) in all() {
        let texts: Vec<_> = sheet.scene.texts().collect();
        for (place, (text, rect)) in texts.iter().enumerate() {
            for (other, other_rect) in &texts[place + 1..] {
                if rect.overlaps(other_rect) {
                    wrong.push(format!("{name}: {:?} on {:?}", text.text, other.text));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{}: {:#?}", wrong.len(), &wrong[..wrong.len().min(20)]);
}

#[test]
fn everything_lies_on_the_paper() {
    for (name, sheet) in all() {
        let paper = Rect::new(0.0, 0.0, sheet.scene.width, sheet.scene.height);
        for (text, rect) in sheet.scene.texts() {
            assert!(paper.holds(&rect), "{name}: {:?} leaves the sheet", text.text);
        }
        for item in &sheet.scene.items {
            let spots = match &item.shape {
                Shape::Line(a, b) => vec![*a, *b],
                Shape::Path { points, .. } => points.clone(),
                Shape::Circle { centre, radius } | Shape::Arc { centre, radius, .. } => vec![
                    [centre[0] - radius, centre[1] - radius],
                    [centre[0] + radius, centre[1] + radius],
                ],
                Shape::Text(_) => Vec::new(),
            };
            for spot in spots {
                let place = Rect { min: spot, max: spot };
                assert!(paper.holds(&place), "{name}: {:?} at {spot:?}", item.layer);
            }
        }
    }
}

/// The font of the drawings alone: what an independent reader shows is then what was measured.
fn options() -> usvg::Options<'static> {
    let mut fonts = usvg::fontdb::Database::new();
    fonts.load_font_data(font::TRUETYPE.to_vec());
    let mut options = usvg::Options { font_family: font::FAMILY.to_owned(), ..Default::default() };
    options.fontdb = Arc::new(fonts);
    options
}

#[test]
fn an_independent_reader_draws_every_sheet() {
    let options = options();
    let folder = std::env::var_os("DEWPATH_PICTURES").map(PathBuf::from);
    let which = std::env::var("DEWPATH_PICTURES_OF").unwrap_or("invented hall-bath".to_owned());
    for (name, sheet) in all() {
        // Every sheet must be sound XML; drawing all of them to the last dot would take minutes.
        let page = sheet.svg_for_page();
        usvg::roxmltree::Document::parse(&page).unwrap_or_else(|e| panic!("{name}: {e}"));
        if !which.split(' ').any(|start| name.starts_with(start)) {
            continue;
        }
        let svg = sheet.svg();
        let tree = usvg::Tree::from_str(&svg, &options).unwrap_or_else(|e| panic!("{name}: {e}"));
        let phone = name.ends_with("phone");
        let pixels_per_mm = if phone { 360.0 / 96.0 } else { 6.0 };
        let (w, h) = (tree.size().width(), tree.size().height());
        let zoom = pixels_per_mm * sheet.scene.width as f32 / w;
        let size = ((w * zoom).ceil() as u32, (h * zoom).ceil() as u32);
        let mut picture = tiny_skia::Pixmap::new(size.0, size.1).unwrap();
        resvg::render(&tree, tiny_skia::Transform::from_scale(zoom, zoom), &mut picture.as_mut());
        let dark = picture.pixels().iter().filter(|p| p.alpha() > 0 && p.green() < 128).count();
        let share = dark as f64 / picture.pixels().len() as f64;
        assert!((0.002..0.5).contains(&share), "{name}: {share} of it is dark");
        if let Some(folder) = &folder {
            let file = folder.join(format!("{}.png", name.replace(' ', "_")));
            std::fs::write(file, picture.encode_png().unwrap()).unwrap();
        }
    }
}

#[test]
fn widths_are_those_that_an_independent_typesetter_gives() {
    // resvg shapes text with a reader of its own; compared is the width of a text's box.
    let options = options();
    for text in ["9 ft 4-1/2 in", "Ceiling plan", "1111 0000", "WAVE AVAV To", "Größe 80 % ± 2 °C"]
    {
        let svg = format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"300\" height=\"20\"><text x=\"0\" y=\"15\" font-family=\"{}\" font-size=\"10\">{text}</text></svg>",
            font::FAMILY
        );
        let tree = usvg::Tree::from_str(&svg, &options).unwrap();
        let mut theirs = 0.0;
        for node in tree.root().children() {
            if let usvg::Node::Text(text) = node {
                theirs = f64::from(text.bounding_box().width());
            }
        }
        let ours = font::width(text, 10.0);
        assert!((theirs - ours).abs() < 0.02 * ours, "{text}: {theirs} against {ours}");
    }
}

#[test]
fn sheets_are_the_same_bytes_each_time() {
    let (page, _) = PAGES[0];
    let one = common::invented(Voice::for_show("us"), page);
    let other = common::invented(Voice::for_show("us"), page);
    for (a, b) in one.iter().zip(&other) {
        assert_eq!(a.svg(), b.svg());
        assert_eq!(a.dxf(), b.dxf());
    }
}

#[test]
fn nothing_that_is_no_number_is_written() {
    for (name, sheet) in all() {
        for text in [sheet.svg_for_page(), sheet.dxf()] {
            assert!(!text.contains("NaN") && !text.contains("inf\""), "{name}");
        }
        for (text, _) in sheet.scene.texts() {
            assert!(
                !text.text.contains("NaN") && !text.text.contains('{'),
                "{name}: {}",
                text.text
            );
            assert!(!text.text.starts_with("draw."), "{name}: no text for {}", text.text);
        }
    }
}

/// The hall bath is 9 ft 4-1/2 in by 5 ft (its job file).
#[test]
fn the_plan_of_the_hall_bath_is_to_scale_and_dimensioned() {
    for (page, name) in
        [("paper", "hall-bath plan-hall-bath paper"), ("phone", "hall-bath plan-hall-bath phone")]
    {
        let (_, sheet) = all().iter().find(|(known, _)| known == name).unwrap();
        let texts: Vec<&str> = sheet.scene.texts().map(|(text, _)| text.text.as_str()).collect();
        assert!(texts.contains(&"9 ft 4-1/2 in") && texts.contains(&"5 ft"), "{page}: {texts:?}");
        let walls = sheet.scene.items.iter().find_map(|item| match &item.shape {
            Shape::Path { points, closed: true } if item.layer == Layer::Room => {
                Some(points.clone())
            }
            _ => None,
        });
        let rect = Rect::round(walls.unwrap()).unwrap();
        let true_mm = |paper: f64| paper * sheet.scene.denominator;
        assert!((true_mm(rect.width()) - 112.5 * 25.4).abs() < 0.01, "{page}");
        assert!((true_mm(rect.height()) - 60.0 * 25.4).abs() < 0.01, "{page}");
    }
}

/// The parts of the hall bath's run, in the direction of the air, are the rows of its chart.
#[test]
fn the_chart_of_a_run_names_every_part_of_it_in_order() {
    let name = "hall-bath pressure-attic-run paper";
    let (_, sheet) = all().iter().find(|(known, _)| known == name).unwrap();
    let texts: Vec<&str> = sheet.scene.texts().map(|(text, _)| text.text.as_str()).collect();
    let parts = [
        "first-elbow, elbow",
        "over-joists, duct",
        "along-truss, duct",
        "to-gable, elbow",
        "last-piece, duct",
        "gable, outlet",
    ];
    let places: Vec<Option<usize>> =
        parts.iter().map(|part| texts.iter().position(|text| text == part)).collect();
    assert!(places.iter().all(Option::is_some), "{texts:?}");
    assert!(places.is_sorted(), "{places:?}");
}
