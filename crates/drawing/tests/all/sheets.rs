//! Every sheet of every example job, and of invented views: no label on another, everything on the paper, readable
//! by an independent SVG reader (resvg), the same bytes each time.
//!
//! With `DEWPATH_PICTURES=folder` the pictures are written there, to be looked at; `DEWPATH_PICTURES_OF="fc- hall"` says of
//! which jobs.
#![allow(clippy::unwrap_used, clippy::panic, reason = "tests")]

use std::path::PathBuf;
use std::sync::{Arc, OnceLock};

use crate::common;
use dewpath_drawing::pen::Layer;
use dewpath_drawing::scene::{Rect, Shape};
use dewpath_drawing::{Page, Sheet, Voice, font};
use dewpath_units::{Length, Quantity as _, Style};
use dewpath_words::Speaker;
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
                for sheet in dewpath_drawing::sheets(
                    &Speaker::for_show(&found.report().show),
                    &found.subject(),
                    page,
                ) {
                    all.push((format!("{} {} {width}", found.name, sheet.name), sheet));
                }
            }
            for show in ["us", "metric"] {
                for sheet in common::invented(&Voice::new(&Speaker::for_show(show)), page) {
                    all.push((format!("invented {} {show} {width}", sheet.name), sheet));
                }
            }
        }
        assert!(all.len() > 300, "too few sheets: {}", all.len());
        all
    })
}

/// All that is asked of the sheets of all jobs, in one test: judging the jobs takes longer than asking.
#[test]
fn every_sheet_of_every_job() {
    no_label_lies_on_another();
    no_text_lies_on_a_wall_or_another_heavy_line();
    everything_lies_on_the_paper();
    an_independent_reader_draws_every_sheet();
    nothing_that_is_no_number_is_written();
    the_plan_of_the_hall_bath_is_to_scale_and_dimensioned();
    the_chart_of_a_run_names_every_part_of_it_in_order();
    a_proposed_way_is_drawn_with_its_fall();
    sheets_of_a_way_agree();
    a_member_that_must_not_be_cut_shows_no_hole();
    the_title_block_has_job_date_and_number();
}

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

/// Straight parts of everything that is drawn with a heavy line.
fn heavy_lines(sheet: &Sheet) -> Vec<([f64; 2], [f64; 2])> {
    let mut lines = Vec::new();
    for item in sheet.scene.items.iter().filter(|item| item.layer.is_heavy()) {
        match &item.shape {
            Shape::Line(a, b) => lines.push((*a, *b)),
            Shape::Path { points, closed } => {
                lines.extend(points.windows(2).map(|pair| (pair[0], pair[1])));
                if *closed {
                    lines.push((points[points.len() - 1], points[0]));
                }
            }
            _ => {}
        }
    }
    lines
}

/// Whether a line has a part inside a box: the test's own way to find out, by points along it.
fn touches(rect: &Rect, (from, to): ([f64; 2], [f64; 2])) -> bool {
    let steps = (libm::hypot(to[0] - from[0], to[1] - from[1]) / 0.1).ceil().max(1.0) as usize;
    (0..=steps).any(|k| {
        let share = k as f64 / steps as f64;
        let at = [0, 1].map(|i| from[i] + share * (to[i] - from[i]));
        (0..2).all(|i| rect.min[i] < at[i] && at[i] < rect.max[i])
    })
}

fn no_text_lies_on_a_wall_or_another_heavy_line() {
    let mut wrong = Vec::new();
    for (name, sheet) in all() {
        let lines = heavy_lines(sheet);
        for (text, rect) in sheet.scene.texts() {
            if lines.iter().any(|line| touches(&rect, *line)) {
                wrong.push(format!("{name}: {:?}", text.text));
            }
        }
    }
    assert!(wrong.is_empty(), "{}: {:#?}", wrong.len(), &wrong[..wrong.len().min(40)]);
}

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
    let one = common::invented(&Voice::new(&Speaker::for_show("us")), page);
    let other = common::invented(&Voice::new(&Speaker::for_show("us")), page);
    for (a, b) in one.iter().zip(&other) {
        assert_eq!(a.svg(), b.svg());
        assert_eq!(a.dxf(), b.dxf());
    }
}

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

/// Columns of months below nought hang from the line of nought, and the axis has their numbers.
#[test]
fn months_below_nought_hang_from_the_line_of_nought() {
    let reports = common::reports_of(&["hall-bath"], 16);
    let mut run = reports[0].report().runs[0].clone();
    let condensate = run.condensate.as_mut().unwrap();
    condensate.months_g =
        vec![30.0, 20.0, 5.0, 0.0, -10.0, -20.0, -20.0, -20.0, -10.0, 0.0, 10.0, 25.0];
    let months = condensate.months_g.clone();
    for (page, _) in PAGES {
        let sheet =
            dewpath_drawing::water(&Voice::new(&Speaker::for_show("metric")), page, &run).unwrap();
        let bars: Vec<Rect> = sheet
            .scene
            .items
            .iter()
            .filter_map(|item| match &item.shape {
                Shape::Path { points, closed: true } if item.layer == Layer::Bar => {
                    Rect::round(points.iter().copied())
                }
                _ => None,
            })
            .collect();
        let bars = &bars[bars.len() - 12..];
        let nought = bars[0].max[1];
        let mm_per_g = bars[0].height() / months[0];
        for (bar, value) in bars.iter().zip(&months) {
            let from = if *value < 0.0 { bar.min[1] } else { bar.max[1] };
            assert!((from - nought).abs() < 1e-9, "{value}: {bar:?}");
            assert!((bar.height() - mm_per_g * value.abs()).abs() < 1e-9, "{value}: {bar:?}");
        }
        // A line there from side to side, and numbers on both sides of it.
        let line = |item: &dewpath_drawing::scene::Item| {
            matches!(&item.shape, Shape::Line(a, b) if item.layer == Layer::Axis
                && (a[1] - nought).abs() < 1e-9 && (b[1] - nought).abs() < 1e-9 && b[0] - a[0] > 50.0)
        };
        assert!(sheet.scene.items.iter().any(line));
        let texts: Vec<&str> = sheet.scene.texts().map(|(text, _)| text.text.as_str()).collect();
        for number in ["-20", "0", "20", "1", "12"] {
            assert!(texts.contains(&number), "{number}: {texts:?}");
        }
        assert!(!texts.contains(&"13"), "there is no thirteenth month");
    }
}

/// What a sheet says to be to scale is: a section of known lengths, measured on the paper with its own two scales.
#[test]
fn lengths_and_heights_of_a_section_can_be_taken_off() {
    use dewpath_drawing::{SectionView, Stretch};
    use dewpath_report::Triple;
    let piece = |length, rise| Stretch {
        part: "p".to_owned(),
        what: "duct".to_owned(),
        is_duct: true,
        length_m: Some(Triple::exact(length)),
        rise_m: Some(rise),
        diameter_m: Some(0.1),
        ..Stretch::default()
    };
    let elbow = Stretch { what: "elbow".to_owned(), ..Stretch::default() };
    let view = SectionView {
        run: "r".to_owned(),
        stretches: vec![piece(0.2, 0.0), elbow.clone(), piece(0.5, 0.5), elbow, piece(7.0, 0.0)],
        ..SectionView::default()
    };
    for (page, _) in PAGES {
        for show in ["us", "metric"] {
            let sheet =
                dewpath_drawing::section(&Voice::new(&Speaker::for_show(show)), page, &view)
                    .unwrap();
            let factor: f64 = sheet
                .scene
                .texts()
                .find_map(|(text, _)| {
                    text.text.strip_prefix("Heights ")?.split(' ').next()?.parse().ok()
                })
                .unwrap_or(1.0);
            let ducts: Vec<Rect> = sheet
                .scene
                .items
                .iter()
                .filter_map(|item| match &item.shape {
                    Shape::Path { points, closed: true } if item.layer == Layer::Duct => {
                        Rect::round(points.iter().copied())
                    }
                    _ => None,
                })
                .collect();
            let m = sheet.scene.denominator / 1000.0;
            let near = |paper: f64, true_m: f64| (paper - true_m).abs() < 1e-6;
            // Level pieces are as long as they are and as high as they are wide; the upright one the other way round.
            assert!(near(ducts[0].width() * m, 0.2) && near(ducts[2].width() * m, 7.0), "{show}");
            assert!(near(ducts[0].height() * m / factor, 0.1), "{show}: {factor}");
            assert!(near(ducts[1].height() * m / factor, 0.5), "{show}: {factor}");
            assert!(near(ducts[1].width() * m, 0.1), "{show}");
            // The last begins where the first ends: fittings take no length.
            assert!(near((ducts[2].min[0] - ducts[0].max[0]) * m, 0.0), "{show}");
        }
    }
}

/// The last leg of a proposed way falls on paper by what the report says, in the scale of heights, and a bored member is named.
fn a_proposed_way_is_drawn_with_its_fall() {
    let reports = common::reports_of(&["hall-bath"], 16);
    let report = reports[0].report();
    let route = report.routes.iter().find(|route| route.rank == 1).unwrap();
    let leg = route.legs.last().unwrap();
    assert!(leg.fall_m > 0.02, "there is a fall to draw: {leg:?}");
    for (page, tag) in PAGES {
        let name = format!("hall-bath way-{}-{} {tag}", route.fan, route.way_out);
        let (_, sheet) = all().iter().find(|(known, _)| *known == name).unwrap();
        let duct = sheet.scene.items.iter().filter_map(|item| match &item.shape {
            Shape::Path { points, closed: true }
                if item.layer == Layer::Duct && points.len() == 4 =>
            {
                Some(points.clone())
            }
            _ => None,
        });
        // The longest of the ducts is the last leg; its upper edge runs with the air.
        let width = |points: &[[f64; 2]]| points[1][0] - points[0][0];
        let longest = duct.max_by(|a, b| width(a).total_cmp(&width(b))).unwrap();
        let [from, to] = [longest[0], longest[1]];
        let slope = (to[1] - from[1]) / (to[0] - from[0]);
        let told = leg.fall_m / (leg.length_m * leg.length_m - leg.fall_m * leg.fall_m).sqrt();
        let heights = (slope / told).round();
        assert!([1.0, 2.0, 5.0, 10.0, 20.0].contains(&heights), "{page:?}: {slope} of {told}");
        assert!((slope / told - heights).abs() < 1e-6, "{page:?}: {slope} of {told}");
        let texts: Vec<&str> = sheet.scene.texts().map(|(text, _)| text.text.as_str()).collect();
        let said = texts.join(" ");
        assert!(said.contains("drops") && said.contains("falls to outdoors"), "{said}");
        assert!(said.contains("cut ") && said.contains("from centre to centre"), "{said}");
        assert!(!said.contains("fall not known"), "{said}");
    }
}

/// Plan and way sheet tell the same size and the same length of a way as the report, and that it is proposed.
fn sheets_of_a_way_agree() {
    let reports = common::reports_of(&["hall-bath"], 16);
    let route = reports[0].report().routes.iter().find(|route| route.rank == 1).unwrap();
    let straight = Length::from_m(route.length_m).print(&Style::US);
    let size = Length::from_m(route.size_m).print(&Style::US.inches_only());
    for (name, words) in [
        (
            format!("way-{}-{}", route.fan, route.way_out),
            vec!["proposed", "dia.", &straight, &size],
        ),
        ("plan-hall-bath".to_owned(), vec!["proposed", &straight, &size]),
    ] {
        let name = format!("hall-bath {name} {}", PAGES[0].1);
        let (_, sheet) = all().iter().find(|(known, _)| *known == name).unwrap();
        let texts: Vec<&str> = sheet.scene.texts().map(|(text, _)| text.text.as_str()).collect();
        let said = texts.join(" ");
        assert!(words.iter().all(|word| said.contains(word)), "{name}: {words:?} in {said}");
    }
}

/// Where no hole is allowed none is drawn.
fn a_member_that_must_not_be_cut_shows_no_hole() {
    let mut seen = [0, 0];
    for (name, sheet) in all() {
        if !sheet.name.starts_with("bore-") {
            continue;
        }
        let on = |layer| sheet.scene.items.iter().filter(|item| item.layer == layer).count();
        let stopped = sheet.scene.texts().any(|(text, _)| text.text.starts_with("DO NOT CUT"));
        seen[usize::from(stopped)] += 1;
        assert_eq!(on(Layer::Bore) > 0, !stopped, "{name}");
        assert_eq!(on(Layer::Alarm) > 0, stopped, "{name}");
        let sized = sheet.scene.texts().any(|(text, _)| text.text.starts_with("hole "));
        assert_eq!(sized, !stopped, "{name}");
    }
    assert!(seen[0] > 0 && seen[1] > 0, "{seen:?}");
}

/// Each sheet of a job says of which day it is; a job without a day says so.
fn the_title_block_has_job_date_and_number() {
    for (name, sheet) in all() {
        if name.starts_with("invented") {
            continue;
        }
        let texts: Vec<&str> = sheet.scene.texts().map(|(text, _)| text.text.as_str()).collect();
        let date = if name.starts_with("hall-bath ") { "Date: 2026-03-14" } else { "Date: " };
        assert!(texts.iter().any(|text| text.starts_with(date)), "{name}: {texts:?}");
        assert!(texts.iter().any(|text| text.starts_with("Sheet ")), "{name}: {texts:?}");
        if name.starts_with("fc-001 ") {
            assert!(texts.contains(&"Date: not written"), "{name}");
        }
    }
}

/// The wall is to scale: the ground lies as far below the outlet as is said, and what nobody knows is said to be unknown.
#[test]
fn an_outlet_stands_as_high_above_the_ground_as_is_said() {
    for (page, _) in PAGES {
        let sheets = common::invented(&Voice::new(&Speaker::for_show("metric")), page);
        let find = |name: &str| sheets.iter().find(|sheet| sheet.name == name).unwrap();
        let known = find("outside-north-rim");
        let ground = known.scene.items.iter().find_map(|item| match item.shape {
            Shape::Line(a, b) if item.layer == Layer::Ground => Some((a[1], b[1])),
            _ => None,
        });
        let outlet = known.scene.items.iter().find_map(|item| match &item.shape {
            Shape::Path { points, closed: true } if item.layer == Layer::Duct => {
                Rect::round(points.iter().copied())
            }
            _ => None,
        });
        let ((y, _), outlet) = (ground.unwrap(), outlet.unwrap());
        let m = known.scene.denominator / 1000.0;
        assert!(((y - outlet.max[1]) * m - 2.6).abs() < 1e-6);
        assert!((outlet.width() * m - 0.16).abs() < 1e-6);
        let says = |sheet: &Sheet, start: &str| {
            sheet.scene.texts().any(|(text, _)| text.text.starts_with(start))
        };
        assert!(says(known, "Lower edge of the outlet 2.6 m above the ground"));
        let unknown = find("outside-south-rim");
        assert!(says(unknown, "Height above the ground not known"));
        assert!(says(unknown, "Depth of the usual snow not known"));
        let has_ground = unknown.scene.items.iter().any(|item| item.layer == Layer::Ground);
        assert!(!has_ground && !says(unknown, "Lower edge"));
    }
}
