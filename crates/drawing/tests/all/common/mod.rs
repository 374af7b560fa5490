//! Sheets of all example jobs and of invented views, for tests.
#![allow(clippy::unwrap_used, reason = "tests")]
#![allow(dead_code, reason = "each test uses its part")]

use std::path::{Path, PathBuf};

use dewpath_drawing::{Page, Sheet, Subject, Voice};
use dewpath_folder::{Folder, Options, Trouble};
use dewpath_job::model::Job;
use dewpath_report::{
    Bore, Courses, Crossing, FanCurves, OperatingPoint, Report, Source, Triple, Verdict,
};

struct Disk;

impl Folder for Disk {
    fn bytes(&self, name: &str) -> Result<Vec<u8>, Trouble> {
        std::fs::read(name).map_err(|error| Trouble::Other {
            message: format!("{name}: {error}").into(),
            hint: "".into(),
        })
    }

    fn beside(&self, file: &str, named: &str) -> String {
        Path::new(file).parent().unwrap().join(named).display().to_string()
    }
}

pub(crate) fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

/// A job that was read and judged.
pub(crate) struct Found {
    pub name: String,
    job: Job,
    report: Report,
    courses: Courses,
    curves: Vec<FanCurves>,
}

impl Found {
    pub(crate) fn report(&self) -> &Report {
        &self.report
    }

    pub(crate) fn subject(&self) -> Subject<'_> {
        Subject {
            report: &self.report,
            job: Some(&self.job),
            courses: Some(&self.courses),
            curves: &self.curves,
        }
    }
}

/// Every job of the folder `jobs` that can be read, with its report.
pub(crate) fn reports(draws: u32) -> Vec<Found> {
    let mut paths: Vec<PathBuf> = ["jobs", "jobs/cases"]
        .iter()
        .flat_map(|folder| std::fs::read_dir(root().join(folder)).unwrap())
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|ending| ending == "toml"))
        .collect();
    paths.sort();
    let found: Vec<Found> = paths.iter().filter_map(|path| judged(path, draws)).collect();
    assert!(found.len() > 60, "too few jobs were read: {}", found.len());
    found
}

/// Some jobs of the folder `jobs` by name.
pub(crate) fn reports_of(names: &[&str], draws: u32) -> Vec<Found> {
    let path = |name: &&str| root().join("jobs").join(format!("{name}.toml"));
    names.iter().map(|name| judged(&path(name), draws).unwrap()).collect()
}

fn judged(path: &Path, draws: u32) -> Option<Found> {
    let name = path.display().to_string();
    let opened = dewpath_folder::open(&Disk, &name, &Options::default()).ok()?;
    let courses = dewpath_engine::courses(&opened.job, &opened.world, false);
    let curves = dewpath_engine::fan_curves(&opened.job, &opened.world, draws);
    let mut report = dewpath_engine::evaluate(&opened.job, &opened.world, draws);
    dewpath_words::Speaker::for_show(&report.show).put_into_words(&mut report);
    let name = path.file_stem().unwrap().to_string_lossy().into_owned();
    Some(Found { name, job: opened.job, report, courses, curves })
}

/// Views of invented jobs, one for each kind of drawing that needs more than a report of today.
pub(crate) fn invented(voice: &Voice, page: Page) -> Vec<Sheet> {
    [plan_view(voice, page), fan_view(voice, page), room_view(voice, page), way_view(voice, page)]
        .into_iter()
        .chain(outside_views(voice, page))
        .chain(bore_views(voice, page))
        .map(|sheet| sheet.expect("an invented view can be drawn"))
        .collect()
}

use dewpath_drawing::{
    Fall, FanView, Jacket, Near, OutsideView, PlanBlock, PlanHousing, PlanView, PlanWay, RoomTrace,
    SectionView, Stretch,
};

fn plan_view(voice: &Voice, page: Page) -> Option<Sheet> {
    let inch = 0.0254;
    let members = (0..7)
        .map(|k| {
            let x = f64::from(k) * 16.0 * inch;
            (format!("J {}", k + 1), [[x, -1.0], [x + 1.5 * inch, 4.2]])
        })
        .collect();
    let view = PlanView {
        id: "loft-bath".to_owned(),
        room: "Loft bath".to_owned(),
        polygon: vec![[0.1, 0.1], [2.3, 0.1], [2.3, 1.9], [1.4, 1.9], [1.4, 2.6], [0.1, 2.6]],
        members,
        housings: vec![PlanHousing {
            fan: "ceiling-fan".to_owned(),
            body: [[0.86, 0.9], [1.14, 1.17]],
            outlet: Some([1.0, 1.17]),
        }],
        blocks: vec![
            PlanBlock { body: [[0.851, 0.862], [1.2192, 0.9]], length_m: 14.5 * inch },
            PlanBlock { body: [[0.851, 1.17], [1.2192, 1.208]], length_m: 14.5 * inch },
        ],
        ways: vec![PlanWay {
            name: "north-rim".to_owned(),
            line: vec![[1.0, 1.17], [1.0, 2.9], [1.05, 3.2]],
            diameter_m: Some(0.11),
            length_m: 2.03,
            goes_on: false,
        }],
        exits: vec![("north-rim".to_owned(), [1.05, 3.2]), ("west-gable".to_owned(), [0.0, 1.4])],
        obstacles: vec![
            ("downlight".to_owned(), [[1.6, 0.6], [1.75, 0.75]]),
            ("stack".to_owned(), [[0.3, 2.2], [0.42, 2.32]]),
        ],
    };
    dewpath_drawing::plan(voice, page, &view)
}

fn fan_view(voice: &Voice, page: Page) -> Option<Sheet> {
    let curve = (0..=20).map(|k| {
        let q = f64::from(k) * 2.5;
        let p = 90.0 * (1.0 - q * q / 2500.0);
        (q, Triple { low: 0.85 * p, likely: p, high: 1.1 * p })
    });
    let run = (0..=20).map(|k| {
        let p = f64::from(k) * 5.0;
        let q = 4.2 * p.sqrt();
        (p, Triple { low: 0.8 * q, likely: q, high: 1.15 * q })
    });
    let view = FanView {
        fan: "loft-fan".to_owned(),
        curve: curve.collect(),
        run: run.collect(),
        point: Some(OperatingPoint {
            airflow_l_s: Triple { low: 27.0, likely: 30.5, high: 33.0 },
            pressure_pa: Triple { low: 49.0, likely: 54.0, high: 62.0 },
        }),
        others: vec![Crossing { airflow_l_s: 12.0, pressure_pa: 80.0, stable: false }],
        required_l_s: Some(23.6),
    };
    dewpath_drawing::fan(voice, page, &view)
}

fn room_view(voice: &Voice, page: Page) -> Option<Sheet> {
    let humidity: Vec<(f64, f64)> = (0..=90)
        .map(|minute| {
            let t = f64::from(minute);
            let rise = 1.0 - libm::exp(-t.min(12.0) / 5.0);
            let fall = libm::exp(-(t - 12.0).max(0.0) / 18.0);
            (t, 0.45 + 0.5 * rise * fall)
        })
        .collect();
    let spread = humidity.iter().map(|(t, phi)| (*t, phi - 0.04, (phi + 0.05).min(1.0))).collect();
    let view = RoomTrace {
        id: "loft-bath".to_owned(),
        room: "Loft bath".to_owned(),
        humidity,
        spread,
        showers: vec![(0.0, 12.0)],
        mirror_clear: Some(31.0),
    };
    dewpath_drawing::trace(voice, page, &view)
}

fn way_view(voice: &Voice, page: Page) -> Option<Sheet> {
    let duct = |part: &str, length: Option<f64>, fall, place: &str| Stretch {
        part: part.to_owned(),
        what: "duct".to_owned(),
        is_duct: true,
        length_m: length.map(Triple::exact),
        cut_m: None,
        rise_m: None,
        diameter_m: Some(0.102),
        fall,
        jacket: Jacket::Rsi(1.4),
        surroundings: Some(place.to_owned()),
        supports_m: Some(1.2),
    };
    let elbow = |part: &str| Stretch {
        part: part.to_owned(),
        what: "elbow 90°".to_owned(),
        ..Stretch::default()
    };
    let view = SectionView {
        run: "loft-run".to_owned(),
        from: "ceiling-fan".to_owned(),
        to: "north-rim".to_owned(),
        to_outdoors: true,
        stretches: vec![
            elbow("first"),
            duct("collar", Some(0.2), Fall::Out, "attic"),
            duct("over-joists", Some(3.1), Fall::Low, "attic"),
            elbow("turn"),
            duct("in-bay", Some(1.6), Fall::Back, "joist bay"),
            duct("last", None, Fall::Out, "joist bay"),
        ],
        supports_m: Vec::new(),
        bores: vec![(4.0, "J7".to_owned())],
        seen: Some(false),
        is_proposed: false,
    };
    dewpath_drawing::section(voice, page, &view)
}

fn outside_views(voice: &Voice, page: Page) -> Vec<Option<Sheet>> {
    let near = |what: &str, distance_m, least_m, verdict, on_wall_m| Near {
        what: what.to_owned(),
        distance_m,
        least_m,
        verdict,
        on_wall_m,
        is_level: false,
    };
    // The outlet is 0.16 m wide.
    let view = OutsideView {
        outlet: "north-rim".to_owned(),
        size_m: Some(0.16),
        near: vec![
            near("window", 1.1, Some(0.914), Verdict::Holds, Some([[1.18, -0.4], [2.1, 0.9]])),
            near(
                "air intake",
                2.4,
                Some(3.048),
                Verdict::Fails,
                Some([[-2.78, -0.1], [-2.48, 0.1]]),
            ),
            near("property line", 3.6, Some(0.914), Verdict::Unknown, None),
            near("meter", 1.9, None, Verdict::Caution, None),
        ],
        above_ground_m: Some(2.6),
        above_snow_m: Some(2.2),
        is_anywhere: false,
    };
    let unknown = OutsideView {
        outlet: "south-rim".to_owned(),
        near: vec![near("window", 1.1, Some(0.914), Verdict::Holds, None)],
        ..OutsideView::default()
    };
    vec![
        dewpath_drawing::outside(voice, page, &view),
        dewpath_drawing::outside(voice, page, &unknown),
    ]
}

fn bore_views(voice: &Voice, page: Page) -> Vec<Option<Sheet>> {
    let sawn = Bore {
        member: "J7".to_owned(),
        at_m: None,
        kind: "sawn".to_owned(),
        depth_m: Some(0.23495),
        diameter_m: 0.0762,
        allowed_m: Some(0.0783),
        edge_m: Some(0.0508),
        edge_least_m: Some(0.0508),
        verdict: Verdict::Holds,
        source: Source::confirmed("IRC 2021", "R502.8.1"),
    };
    let made = Bore {
        member: "I3".to_owned(),
        depth_m: None,
        diameter_m: 0.127,
        allowed_m: None,
        edge_m: None,
        edge_least_m: None,
        verdict: Verdict::Fails,
        ..sawn.clone()
    };
    [sawn, made].iter().map(|hole| dewpath_drawing::bore(voice, page, hole)).collect()
}
