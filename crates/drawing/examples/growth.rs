//! How the searches of `dewpath-layout` grow with the floor: a chart for `docs/performance.md`.
//!
//! Bench first, with nothing beside it: `cargo bench -p dewpath-layout`. Then, in the root of the repository,
//! `cargo run -p dewpath-drawing --example growth take` puts what the benches measured into `docs/growth.csv`, and
//! `cargo run -p dewpath-drawing --example growth draw` draws `docs/growth.svg` from it.

use std::fmt::Write as _;
use std::path::Path;

use dewpath_drawing::pen::Layer;
use dewpath_drawing::scene::{Anchor, Rect, Scene, Shape, Spot, Text};
use dewpath_drawing::svg;

/// Area and time of one search.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Measured {
    /// Which search.
    pub(crate) what: String,
    /// Area of the floor, m².
    pub(crate) area_m2: f64,
    /// Time, ms.
    pub(crate) ms: f64,
}

const CSV: &str = "docs/growth.csv";
const SVG: &str = "docs/growth.svg";
/// Floors of the bench of places are 40 ft long, its inputs are their widths in feet.
const FOOT2_M2: f64 = 0.092_903_04;
/// Paper, mm.
const SIZE: [f64; 2] = [180.0, 128.0];
/// The chart on the paper, mm.
const AREA: Rect = Rect { min: [16.0, 24.0], max: [174.0, 110.0] };
/// Ends of the axes: areas in m², times in ms.
const AREAS: [f64; 2] = [20.0, 1000.0];
const TIMES: [f64; 2] = [0.5, 100.0];
/// So far lines of slope go, m²: beyond it stand the names of the curves.
const SLOPES_TO_M2: f64 = 300.0;

#[allow(dead_code, reason = "the test of this example uses only the rest of it")]
fn main() -> Result<(), Box<dyn std::error::Error>> {
    match std::env::args().nth(1).as_deref() {
        Some("take") => {
            let old = std::fs::read_to_string(CSV)?;
            std::fs::write(CSV, table(&old, &taken(Path::new("target/criterion"))?))?;
        }
        Some("draw") => std::fs::write(SVG, draw(&read(&std::fs::read_to_string(CSV)?)?))?,
        _ => return Err("say `take` (from target/criterion to docs/growth.csv) or `draw`".into()),
    }
    Ok(())
}

/// Means that criterion keeps, in the order of their areas.
fn taken(folder: &Path) -> Result<Vec<Measured>, Box<dyn std::error::Error>> {
    let groups = [
        ("ways outdoors", "route/m2", 1.0),
        ("three places", "place/three places", 40.0 * FOOT2_M2),
    ];
    let mut all = Vec::new();
    for (what, group, m2) in groups {
        let entries = std::fs::read_dir(folder.join(group)).map_err(|_| {
            format!("no {group} in {}: bench dewpath-layout first", folder.display())
        })?;
        let mut found = Vec::new();
        for entry in entries {
            let entry = entry?;
            let input = entry.file_name().to_string_lossy().parse::<f64>();
            let file = entry.path().join("new/estimates.json");
            let (Ok(input), Ok(text)) = (input, std::fs::read_to_string(file)) else { continue };
            let estimates: serde_json::Value = serde_json::from_str(&text)?;
            let nanoseconds = estimates["mean"]["point_estimate"].as_f64();
            let ms = nanoseconds.ok_or("criterion wrote no mean")? / 1e6;
            found.push(Measured { what: what.to_owned(), area_m2: input * m2, ms });
        }
        found.sort_by(|a, b| a.area_m2.total_cmp(&b.area_m2));
        all.extend(found);
    }
    Ok(all)
}

/// The table, with the remarks of the old one.
fn table(old: &str, all: &[Measured]) -> String {
    let mut text = String::new();
    // Writing to a string cannot fail.
    for remark in old.lines().filter(|line| line.starts_with('#')) {
        let _ = writeln!(text, "{remark}");
    }
    text.push_str("what,area_m2,ms\n");
    for m in all {
        let _ = writeln!(text, "{},{:.1},{:.2}", m.what, m.area_m2, m.ms);
    }
    text
}

/// What a table holds.
///
/// # Errors
/// For a line that is no measurement.
pub(crate) fn read(text: &str) -> Result<Vec<Measured>, String> {
    let lines = text.lines().filter(|line| !line.starts_with('#')).skip(1);
    lines
        .map(|line| {
            let parts: Vec<&str> = line.split(',').collect();
            let number = |at: usize| parts.get(at)?.trim().parse::<f64>().ok();
            let (Some(area_m2), Some(ms)) = (number(1), number(2)) else {
                return Err(format!("no measurement: {line}"));
            };
            Ok(Measured { what: parts[0].to_owned(), area_m2, ms })
        })
        .collect()
}

/// Draws times against areas, both logarithmic, with lines for what grows as the area and as its square root.
pub(crate) fn draw(all: &[Measured]) -> String {
    let mut scene = Scene::new(SIZE[0], SIZE[1]);
    let edge = Rect::new(0.2, 0.2, SIZE[0] - 0.4, SIZE[1] - 0.4);
    scene.polygon(Layer::Sheet, edge.corners());
    axes(&mut scene);
    for (what, layer, mark) in
        [("ways outdoors", Layer::Curve, true), ("three places", Layer::Against, false)]
    {
        let points: Vec<&Measured> = all.iter().filter(|m| m.what == what).collect();
        let spots: Vec<Spot> = points.iter().map(|m| spot(m.area_m2, m.ms)).collect();
        scene.path(layer, spots.clone());
        for at in &spots {
            // Round marks for one, square ones for the other: they are told apart without colour.
            if mark {
                scene.circle(Layer::Axis, *at, 1.1);
            } else {
                scene.polygon(Layer::Axis, Rect { min: *at, max: *at }.grown(1.0).corners());
            }
        }
        if let (Some([x, y]), Some(last)) = (spots.last(), points.last()) {
            let text = format!("{what}: {} ms", last.ms);
            write(&mut scene, [x - 2.0, y - 3.0], &text, Anchor::End);
        }
    }
    slopes(&mut scene, all);
    write(&mut scene, [5.0, 9.5], "Time of a search against the area of the floor", Anchor::Start);
    write(&mut scene, [5.0, 20.0], "Time, ms", Anchor::Start);
    write(
        &mut scene,
        [AREA.max[0], 121.0],
        "Area, m² (obstacles in proportion to it)",
        Anchor::End,
    );
    svg::write(
        &scene,
        svg::About {
            name: "growth",
            title: "Growth of the searches with the floor",
            describes: "Times of the search for ways outdoors and for places of a housing against the area of the floor, both axes logarithmic.",
        },
        svg::Carries::All,
    )
}

/// Grid and numbers: 1, 2 and 5 of every power of ten.
fn axes(scene: &mut Scene) {
    let round = |ends: [f64; 2]| {
        let all = [0.1, 1.0, 10.0, 100.0, 1000.0].into_iter();
        let all = all.flat_map(|power| [1.0, 2.0, 5.0].map(|k| k * power));
        all.filter(move |v| (ends[0] * 0.999..=ends[1] * 1.001).contains(v))
    };
    for area in round(AREAS) {
        let [x, _] = spot(area, 1.0);
        scene.line(Layer::Grid, [x, AREA.min[1]], [x, AREA.max[1]]);
        write(scene, [x, AREA.max[1] + 4.5], &area.to_string(), Anchor::Middle);
    }
    for ms in round(TIMES) {
        let [_, y] = spot(100.0, ms);
        scene.line(Layer::Grid, [AREA.min[0], y], [AREA.max[0], y]);
        write(scene, [AREA.min[0] - 1.5, y + 1.0], &ms.to_string(), Anchor::End);
    }
    scene.line(Layer::Axis, [AREA.min[0], AREA.min[1]], [AREA.min[0], AREA.max[1]]);
    scene.line(Layer::Axis, [AREA.min[0], AREA.max[1]], AREA.max);
}

/// Lines through the first time of each search: as the area, and as its square root.
fn slopes(scene: &mut Scene, all: &[Measured]) {
    let Some(first) = all.first() else { return };
    for (power, text) in [(1.0, "as the area"), (0.5, "as its square root")] {
        let at = |area: f64| first.ms * libm::pow(area / first.area_m2, power);
        let end = SLOPES_TO_M2;
        let to = spot(end, at(end));
        scene.line(Layer::Limit, spot(first.area_m2, at(first.area_m2)), to);
        let below =
            if power > 0.7 { [to[0] - 6.0, to[1] + 1.0] } else { [to[0] + 1.5, to[1] + 1.0] };
        let anchor = if power > 0.7 { Anchor::End } else { Anchor::Start };
        write(scene, below, text, anchor);
    }
}

fn spot(area_m2: f64, ms: f64) -> Spot {
    let share = |value: f64, [low, high]: [f64; 2]| libm::log(value / low) / libm::log(high / low);
    [
        AREA.min[0] + share(area_m2, AREAS) * AREA.width(),
        AREA.max[1] - share(ms, TIMES) * AREA.height(),
    ]
}

fn write(scene: &mut Scene, at: Spot, text: &str, anchor: Anchor) {
    let text = Text { at, text: text.to_owned(), size: 3.0, anchor, upright: false };
    scene.add(Layer::Text, Shape::Text(text));
}
